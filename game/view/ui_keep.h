/* What the widgets share behind ui.h: private to the ui_*.c files. */
#ifndef VIEW_UI_KEEP_H
#define VIEW_UI_KEEP_H

#include "tautrow/view/ui.h"

enum { VIEW__DEPTH = 32, VIEW__STOPS = 512, VIEW__SLOTS = 1024, VIEW__SEEN = 2048, VIEW__TIP = 384, VIEW__LAYERS = 4 };
enum { VIEW__PRESSES = 64 };

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
    bool is_primary, is_value; /* primary: where a controller starts; value: its cross changes it sideways */
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

    bool has_spot; /* only the lit parts answer */
    view_rect spot[VIEW_MAX_SPOTS];
    int spots;

    int layer, layers, top_layer; /* open now; highest of this frame; highest of the last frame, which alone answers */
    view_id focus_below[VIEW__LAYERS];

    view_id hot_next, pressed; /* pressed: what takes a press of this frame, 0 when it is disabled */
    int active_frames;
    bool focus_is_drawn, focus_is_text;
    bool takes_wheel;
    view_key_press press[VIEW__PRESSES]; /* in order; the first presses_now of them, all of one key, are this frame's */
    size_t presses, presses_now;
    bool key_taken[VIEW__PRESSES];
    const view_pad_key *pad_key;
    size_t pad_keys;
    size_t start_from; /* stop at which a controller starts (view_start_here) */
    bool is_stick_claimed;
    float mouse_y, mouse_dy;
    struct {
        float hit;            /* how far from the finger what it would press is, so far in this frame */
        float from_x, from_y; /* where it was put down */
        double from_s;
        bool has_moved;  /* since then: more than a finger trembles */
        bool is_kept;    /* by a trigger or a value: it does not scroll */
        bool has_told;   /* it was held still and shown something: lifting it presses nothing */
        view_id scrolls; /* the area that it drags, or would drag */
    } finger;
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
/* A spotlight, where there is one, falls on this point. */
bool view__is_lit(const view_ui *ui, float x, float y);
/* The pointer is over rect, not clipped away and not under a dialog. */
bool view__is_over(const view_ui *ui, view_rect rect);
/* Makes rect answer the mouse, or a finger near it. */
view_react view__touch(view_ui *ui, view_id id, view_rect rect, bool is_enabled);
/* A text field under a controller (ui_spell.c): true when the text was changed at its end. how: what the cross does now, to be
 * shown; NULL where there is no controller. */
bool view__spell(view_ui *ui, view_id id, char *text, size_t cap, const char **how);
/* How far the pointer is from rect: 0 = in it, below 0 = not to be counted (ui_touch.c). */
float view__way_of_hit(const view_ui *ui, view_rect rect);
/* Once a frame: what the finger does. */
void view__finger_begin(view_ui *ui);
/* What has the press keeps the finger: dragging it does not scroll. */
void view__keep_finger(view_ui *ui, view_id id);
/* The finger was put down on something that follows it sideways and has not said yet which way it goes. */
bool view__finger_waits(const view_ui *ui);
/* ... and a Tab stop. Returns the stop for its flags; NULL when there are too many. */
view__stop *view__stop_add(view_ui *ui, view_id id, view_rect rect);
/* The stop that was added last, where it is id's. */
view__stop *view__last_stop(view_ui *ui, view_id id);
view_react view__place(view_ui *ui, view_id id, view_rect rect, bool is_enabled);
/* Takes what is pressed in this frame from the queue and from the input; and lets go of it. */
void view__keys_begin(view_ui *ui);
void view__keys_end(view_ui *ui);
/* The focus goes where Tab, arrows and the controller's cross send it (ui_focus.c). */
void view__move_focus(view_ui *ui);
/* The stop of id in the layer that answers, else NULL. */
const view__stop *view__stop_of(const view_ui *ui, view_id id);
/* Where the cross goes from id, key one of VIEW_PAD_LEFT to VIEW_PAD_DOWN; 0 = nowhere. */
view_id view__beside(const view_ui *ui, view_id id, int key);
/* The controller's button that stands for key was pressed, and nobody has taken it yet; takes it. */
bool view__pad_take(view_ui *ui, int key);
/* ... is held. */
bool view__pad_held(const view_ui *ui, int key);
/* Enter or Space pressed anew; only for the focused widget. */
bool view__takes_activation(view_ui *ui);
/* Names the widget drawn last, which was drawn without words because they stand above it. */
void view__name_last(view_ui *ui, const char *label);
/* A widget's own key may be used: Enter and Space belong to whatever shows the ring. */
bool view__key_is_free(const view_ui *ui, int key, view_id id);
/* Steps by the arrow keys on the focused widget: -1, 0 or 1; is_vertical: up and down too, up = 1. */
int view__arrows(view_ui *ui, bool takes_vertical);
/* id has a value that the controller's cross changes to left and right: the steps of this frame. Call it right after the stop
 * was added. */
int view__pad_steps(view_ui *ui, view_id id);
/* A disabled widget's reason, else its tip, as a tooltip. */
void view__explain(view_ui *ui, view_react react, view_rect rect, const char *why_not, const char *tip);
void view__draw_top(view_ui *ui);

/* Ground of something that can be pressed. */
typedef struct view__skin {
    view_color fill, edge, ink;
} view__skin;
view_color view__disabled_ink(const view_theme *theme);
view__skin view__skin_of(const view_ui *ui, view_look look, view_react react, bool is_enabled);
void view__draw_skin(view_ui *ui, view_rect rect, view__skin skin, bool is_raised);
/* Baseline that centres a line in rect. */
float view__baseline(view_rect rect, view_font font);
view_rect view__rect_meet(view_rect a, view_rect b);

#endif
