/* What the widgets share behind ui.h: private to the ui_*.c files. */
#ifndef VIEW_UI_KEEP_H
#define VIEW_UI_KEEP_H

#include "tautrow/view/ui.h"

enum { VIEW__DEPTH = 32, VIEW__STOPS = 512, VIEW__SLOTS = 1024, VIEW__SEEN = 2048, VIEW__TIP = 384, VIEW__LAYERS = 4 };

/* A few numbers kept for an id: an eased value, a scroll offset, a caret. */
typedef struct view__slot {
    view_id id;
    uint32_t frame; /* last asked for */
    double time_s;
    float v[4];
} view__slot;

/* A place that can have the focus, in draw order. */
typedef struct view__stop {
    view_id id, scroll; /* scroll: slot of the scroll area around it, 0 = none */
    view_rect rect, port;
    int layer, group; /* group 0 = none */
    bool is_preferred, is_text;
} view__stop;

typedef struct view__seen {
    view_id id;
    uint32_t frame, count;
} view__seen;

typedef struct view__scroll {
    view_id id;
    view_rect port;
    size_t stops_before;
} view__scroll;

/* Words that lie on top of all: drawn at view_end. */
typedef struct view__tip {
    view_id id;
    view_rect rect;
    char text[VIEW__TIP];
} view__tip;

typedef struct view__toast {
    char text[VIEW__TIP];
    view_icon icon;
    double from_s;
    bool is_on;
} view__toast;

struct view_ui_keep {
    uint32_t frame;
    view_id stack[VIEW__DEPTH];
    int depth;
    view_rect clip[VIEW__DEPTH];
    int clips;
    view__scroll scroll[VIEW__DEPTH];
    int scrolls;
    view__stop stop[VIEW__STOPS];
    size_t stops;
    const char *label; /* of the widget that is being made, for targets */
    view_target target[VIEW__STOPS];
    size_t targets;
    char focus_label[64];
    int group, groups; /* the open one; how many so far */

    int layer, layers, top_layer; /* open now; highest of this frame; highest of the last frame, which alone answers */
    view_id focus_below[VIEW__LAYERS];

    view_id hot_next, pressed; /* pressed: what takes a press of this frame, 0 when it is disabled */
    int active_frames;
    bool focus_is_drawn, focus_is_text;
    bool takes_wheel;
    bool key_taken[VIEW_INPUT_KEYS];
    float mouse_dx, mouse_dy, mouse_x, mouse_y;
    double hot_since_s, focus_since_s;

    view__tip tip;
    view__toast toast;
    view__slot slot[VIEW__SLOTS];
    view__seen seen[VIEW__SEEN];
};

view_id view__hash(view_id parent, const char *label, int index);
/* The id of a widget called label here; equal labels of one frame get different ones. */
view_id view__id(view_ui *ui, const char *label);
/* The slot of id; fresh (all zero) when it was not asked for lately. */
view__slot *view__slot_of(view_ui *ui, view_id id);
bool view__slot_is_fresh(const view_ui *ui, const view__slot *slot);
/* Asks for a frame within seconds. */
void view__wake(view_ui *ui, float seconds);

/* The caller may be used by mouse and keyboard: nothing lies over it. */
bool view__is_on_top(const view_ui *ui);
/* The pointer is over rect, not clipped away and not under a dialog. */
bool view__is_over(const view_ui *ui, view_rect rect);
/* Makes rect answer the mouse. */
view_react view__touch(view_ui *ui, view_id id, view_rect rect, bool is_enabled);
/* ... and a Tab stop. Returns the stop for its flags; NULL when there are too many. */
view__stop *view__stop_add(view_ui *ui, view_id id, view_rect rect);
view_react view__place(view_ui *ui, view_id id, view_rect rect, bool is_enabled);
/* Enter or Space pressed anew; only for the focused widget. */
bool view__takes_activation(view_ui *ui);
/* Names the widget drawn last, which was drawn without words because they stand above it. */
void view__name_last(view_ui *ui, const char *label);
/* A widget's own key may be used: Enter and Space belong to whatever shows the ring. */
bool view__key_is_free(const view_ui *ui, int key, view_id id);
/* Steps by the arrow keys on the focused widget: -1, 0 or 1; is_vertical: up and down too, up = 1. */
int view__arrows(view_ui *ui, bool takes_vertical);
/* A disabled widget's reason, else its tip, as a tooltip. */
void view__explain(view_ui *ui, view_react react, view_rect rect, const char *why_not, const char *tip);
void view__draw_top(view_ui *ui);

/* Ground of something that can be pressed. */
typedef struct view__skin {
    view_color fill, edge, ink;
} view__skin;
view__skin view__skin_of(const view_ui *ui, view_look look, view_react react, bool is_enabled);
void view__draw_skin(view_ui *ui, view_rect rect, view__skin skin, bool is_raised);
/* Baseline that centres a line in rect. */
float view__baseline(view_rect rect, view_font font);
view_rect view__rect_meet(view_rect a, view_rect b);

#endif
