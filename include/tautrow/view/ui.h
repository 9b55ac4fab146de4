/* The widgets: immediate mode. A screen calls them in reading order, once a frame; each draws itself into the draw list
 * and answers at once ("was I pressed?"). Nothing is kept between frames but small numbers by id (focus, scroll offset,
 * an eased value).
 *
 * Rules that hold for every widget:
 *  - Order of calls = order of Tab. Only what is drawn in this frame can have the focus.
 *  - An id is made of the enclosing view_push ids and the label; equal labels in one frame are told apart by their
 * order, so push an index (view_push) around the items of a list whose items come and go.
 *  - A press is answered when the button is let go over the widget, or by Enter / Space on the one that shows the focus
 * ring. Without a ring Enter and Space are free: a trigger may have Space as its key.
 *  - Everything can be done by mouse alone, by keyboard alone, by a controller alone and by one finger. Every target is at
 * least 24 x 24 units; under a finger a smaller one than 44 x 44 answers so far around it, the nearest of several.
 *  - A finger that is dragged scrolls the area under it, unless it holds a trigger or a value; held still it shows what a mouse
 * shows by pointing, and then presses nothing.
 *  - A disabled widget says why when it is pointed at or focused (why_not).
 *  - Keys go to the focused widget first; a screen that uses keys of its own (view_shortcut) asks after its widgets.
 *  - When ui->wants_frame is set after view_end, something is still moving: draw the next frame without waiting for
 * input. */
#ifndef TAUTROW_VIEW_UI_H
#define TAUTROW_VIEW_UI_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "tautrow/base/lang.h"
#include "tautrow/view/draw.h"
#include "tautrow/view/theme.h"

/* ---- input --------------------------------------------------------------------------------------------------- */

/* Letters and digits are their upper-case ASCII code ('D', '5'); the rest are named here. */
typedef enum view_key {
    VIEW_KEY_NONE = 0,
    VIEW_KEY_TAB = 128,
    VIEW_KEY_ENTER,
    VIEW_KEY_SPACE,
    VIEW_KEY_ESCAPE,
    VIEW_KEY_LEFT,
    VIEW_KEY_RIGHT,
    VIEW_KEY_UP,
    VIEW_KEY_DOWN,
    VIEW_KEY_HOME,
    VIEW_KEY_END,
    VIEW_KEY_PAGE_UP,
    VIEW_KEY_PAGE_DOWN,
    VIEW_KEY_BACKSPACE,
    VIEW_KEY_DELETE,
    VIEW_KEY_F1,
    VIEW_KEY_F5 = VIEW_KEY_F1 + 4,
    VIEW_KEY_F11 = VIEW_KEY_F1 + 10,
    VIEW_KEY_F12,
    /* a game controller; its A is Enter, its B and Back are Escape */
    VIEW_PAD_X,
    VIEW_PAD_Y,
    VIEW_PAD_LB, /* shoulders and, below them, triggers */
    VIEW_PAD_RB,
    VIEW_PAD_LT,
    VIEW_PAD_RT,
    VIEW_PAD_START,
    VIEW_PAD_LEFT, /* the cross: moves the focus to what lies there, changes the value of what has it */
    VIEW_PAD_RIGHT,
    VIEW_PAD_UP,
    VIEW_PAD_DOWN,
    VIEW_STICK_LEFT, /* the left stick as a cross, where no tool takes it (view_stick_claim) */
    VIEW_STICK_RIGHT,
    VIEW_STICK_UP,
    VIEW_STICK_DOWN,
    VIEW_STICK2_LEFT, /* the right stick */
    VIEW_STICK2_RIGHT,
    VIEW_STICK2_UP,
    VIEW_STICK2_DOWN,
    VIEW_KEYS
} view_key;

/* What was used last: the screen shows its hints and makes its targets to suit. */
typedef enum view_device { VIEW_BY_DESK, VIEW_BY_PAD, VIEW_BY_FINGER } view_device; /* desk: keyboard and mouse */

enum { VIEW_SHIFT = 1, VIEW_CTRL = 2, VIEW_ALT = 4 };
enum { VIEW_MOUSE_LEFT, VIEW_MOUSE_RIGHT, VIEW_MOUSE_MIDDLE, VIEW_MOUSE_BUTTONS };
enum { VIEW_INPUT_KEYS = 16, VIEW_INPUT_TEXT = 64 };

typedef struct view_key_press {
    int key; /* a view_key or an upper-case ASCII code */
    unsigned mods;
    bool is_repeat;
} view_key_press;

/* What happened since the last frame. Made by the host, or by a test by hand. Coordinates are layout units. Keys stand in
 * the order in which they were pressed; the ui handles one key a frame and asks for the next frame while any are left,
 * so that what the second one means is decided after the first one has done its work. */
typedef struct view_input {
    float width, height; /* of the window */
    double time_s;       /* since some start; only differences count */
    float dt_s;          /* since the last frame, at most 0.1 */
    float mouse_x, mouse_y;
    bool has_mouse; /* the pointer is over the window */
    bool down[VIEW_MOUSE_BUTTONS], pressed[VIEW_MOUSE_BUTTONS], released[VIEW_MOUSE_BUTTONS];
    float wheel; /* notches, away from the user = positive */
    view_key_press key[VIEW_INPUT_KEYS];
    size_t keys;
    bool held[VIEW_KEYS];
    unsigned mods; /* held now */
    char text[VIEW_INPUT_TEXT];
    bool wants_quit; /* the window's close button */
    view_device device;
    float stick_x, stick_y; /* left stick: -1 to 1, y down; 0 within its dead zone */
    float squeeze;          /* right trigger: 0 to 1 */
} view_input;

/* Adds a key press, for hosts and tests; what does not fit is dropped. */
void view_input_key(view_input *input, int key, unsigned mods, bool is_repeat);
/* Forgets what lasts one frame only: presses, keys, text, the wheel, the wish to end. */
void view_input_forget(view_input *input);

/* ---- context ------------------------------------------------------------------------------------------------- */

typedef uint32_t view_id;

/* What the person has chosen in the settings. */
typedef struct view_prefs {
    view_theme_kind theme;
    float text_scale; /* 1 to 2; 0 counts as 1 */
    bool reduced_motion;
    bool left_handed;
} view_prefs;

typedef struct view_ui {
    /* set by view_begin, read by screens */
    view_draw *draw;
    const view_metrics *metrics;
    const view_theme *theme;
    const tr_lang *lang;
    view_rect screen; /* 0, 0, width, height */
    float text_scale;
    bool reduced_motion, left_handed;
    const view_input *input;
    double time_s;

    /* kept from frame to frame */
    view_id focus, hot, active;
    bool keyboard_used; /* the last thing used was the keyboard: show the focus ring */
    bool wants_frame;   /* set by whatever moves */
    bool wants_text;    /* a text field has the focus: the host turns text input on */
    float wake_in_s;    /* after view_end: draw again after this time even without input; < 0 = no need */

    struct view_ui_keep *keep; /* private */
} view_ui;

/* draw, metrics, lang and theme belong to others and must outlive the ui. False when there is no memory. */
bool view_ui_open(view_ui *ui, view_draw *draw, const view_metrics *metrics);
void view_ui_close(view_ui *ui);

/* Starts a frame: clears the draw list and fills the ground. lang may be NULL (keys are shown). input must live until
 * view_end. */
void view_begin(view_ui *ui, const view_input *input, const view_prefs *prefs, const tr_lang *lang);
/* Ends it: moves the focus, draws tooltip, toast and what else lies on top. */
void view_end(view_ui *ui);

/* Where the last frame can be pressed, in draw order: for players that are programs. A choice among few has one entry a part, all
 * with the same label; rect is what can be seen of it. Valid until the next view_begin. */
typedef struct view_target {
    char label[64];
    view_rect rect;
    view_id id;
} view_target;
size_t view_targets(const view_ui *ui, const view_target **out);
/* Label of the widget that had the focus in the last frame, "" where none had. */
const char *view_focus_label(const view_ui *ui);

/* A word of the language in use. */
const char *view_word(const view_ui *ui, const char *key);

/* Ids. view_push / view_pop enclose a part of the screen; index 0 for a single part. */
void view_push(view_ui *ui, const char *label, int index);
void view_pop(view_ui *ui);
/* The id that label has here, for view_anim and view_focus. It does not count as a use of the label. */
view_id view_id_of(const view_ui *ui, const char *label);
/* Moves the focus to a widget drawn in this frame or the next. */
void view_focus(view_ui *ui, view_id id);

/* Asks whether a key was pressed and nobody has taken it yet in this frame; takes it. False while a dialog lies over
 * the caller. */
bool view_key_take(view_ui *ui, int key, unsigned mods);
/* The same for a letter or function key of a screen; not while a text field has the focus. */
bool view_shortcut(view_ui *ui, int key);
/* The presses of this frame, taken or not: those of one key. */
size_t view_keys_now(const view_ui *ui, const view_key_press **out);
/* What is drawn at rect answers: nothing lies over it, and no spotlight leaves it in the dark. */
bool view_answers(const view_ui *ui, view_rect rect);
/* Whether a key is held, or the controller's button that stands for it; not under a dialog. */
bool view_key_held(const view_ui *ui, int key);

/* What the controller's free buttons stand for on this screen, until the end of the frame: each then works as the key
 * does, and stands as the hint on the button that has the key. keys must outlive the frame. */
typedef struct view_pad_key {
    int pad, key;
} view_pad_key;
void view_pad_keys(view_ui *ui, const view_pad_key *keys, size_t count);
/* The left stick moves a tool in this frame, not the focus. */
void view_stick_claim(view_ui *ui);
/* How a key is written on what was used last: as given on a keyboard, "RT"... on a controller; NULL where it has no such key. */
/* A controller that has the focus nowhere starts with what is drawn next, unless there is a primary button. */
void view_start_here(view_ui *ui);
const char *view_key_hint(const view_ui *ui, int key, const char *given);

/* An eased value: goes to target within seconds; starts at target the first time it is asked for, jumps at reduced
 * motion. */
float view_anim(view_ui *ui, view_id id, float target, float seconds);

/* ---- layout -------------------------------------------------------------------------------------------------- */

/* The spacing scale. */
#define VIEW_GAP_1       4.0F
#define VIEW_GAP_2       8.0F
#define VIEW_GAP_3       12.0F
#define VIEW_GAP_4       16.0F
#define VIEW_GAP_5       24.0F
#define VIEW_RADIUS      6.0F
#define VIEW_RADIUS_CARD 10.0F
#define VIEW_MIN_TARGET  24.0F /* WCAG 2.2, success criterion 2.5.8, Target Size (Minimum) */
#define VIEW_TOUCH       44.0F /* for a finger: 2.5.5, Target Size (Enhanced) */

/* Each cuts a strip off rect and returns it; never more than there is. */
view_rect view_cut_left(view_rect *rect, float width);
view_rect view_cut_right(view_rect *rect, float width);
view_rect view_cut_top(view_rect *rect, float height);
view_rect view_cut_bottom(view_rect *rect, float height);
view_rect view_inset(view_rect rect, float by);
view_rect view_inset_xy(view_rect rect, float by_x, float by_y);
/* A w x h rectangle in the middle of rect. */
view_rect view_centre_in(view_rect rect, float width, float height);
/* Part index of count equal columns with a gap between. */
view_rect view_split_x(view_rect rect, int count, int index, float gap);
bool view_rect_has(view_rect rect, float x, float y);

/* Flow: one thing after another. A row breaks into a new line where the width is used up; a column only goes down. */
typedef struct view_flow {
    view_rect area;
    float gap, line_height;
    float x, y; /* where the next one goes, from the corner of area */
} view_flow;

view_flow view_row(view_rect area, float line_height, float gap);
view_rect view_row_next(view_flow *row, float width);
view_flow view_column(view_rect area, float gap);
view_rect view_column_next(view_flow *column, float height);
float view_flow_height(const view_flow *flow); /* used so far */

/* ---- text ---------------------------------------------------------------------------------------------------- */

typedef enum view_type {
    VIEW_CAPTION, /* 12.5: key hints, axis words */
    VIEW_BODY,    /* 15 */
    VIEW_STRONG,  /* 15 semibold: labels of controls */
    VIEW_TITLE,   /* 18 bold: cards, dialogs */
    VIEW_HEADING, /* 26 bold: one a screen */
    VIEW_DISPLAY, /* 42 bold: the score */
    VIEW_TYPES
} view_type;

view_font view_font_of(const view_ui *ui, view_type type); /* text scale included */
float view_line_of(const view_ui *ui, view_type type);     /* line height */
float view_width_of(const view_ui *ui, view_type type, const char *text);
/* Height of a button, toggle, slider... at the text scale in use (36 at 1). */
float view_control_height(const view_ui *ui);

/* One line, centred in the height of rect, cut by an ellipsis where it does not fit. */
void view_label(view_ui *ui, view_rect rect, view_type type, view_align align, view_color color, const char *text);
/* Title of a screen or card at the top of rect in ink; returns the height used, gap below included. */
float view_heading(view_ui *ui, view_rect rect, view_type type, const char *text);
/* Wrapped text from the top of rect; returns the height used. */
float view_paragraph(view_ui *ui, view_rect rect, view_type type, view_color color, const char *text);
float view_paragraph_height(const view_ui *ui, float width, view_type type, const char *text);

/* ---- grounds ------------------------------------------------------------------------------------------------- */

/* A card: soft shadow, panel ground, hairline. Returns the room inside (16 in from each edge). */
view_rect view_panel(view_ui *ui, view_rect rect);
/* A sunk ground for pictures and lists. */
void view_well(view_ui *ui, view_rect rect);
void view_hairline(view_ui *ui, float x0, float y0, float x1, float y1);
void view_shadow(view_ui *ui, view_rect rect, float radius, float lift);

/* ---- icons --------------------------------------------------------------------------------------------------- */

typedef enum view_icon {
    VIEW_ICON_NONE,
    VIEW_ICON_BACK,
    VIEW_ICON_NEXT,
    VIEW_ICON_GEAR,
    VIEW_ICON_CHECK,
    VIEW_ICON_CROSS,
    VIEW_ICON_WARNING,
    VIEW_ICON_GLASSES,
    VIEW_ICON_PLAY,
    VIEW_ICON_PAUSE,
    VIEW_ICON_LOCK,
    VIEW_ICON_QUESTION,
    VIEW_ICON_CLOCK,
    VIEW_ICON_SOUND,
    VIEW_ICON_EYE,
    VIEW_ICON_PLUS,
    VIEW_ICON_MINUS,
    VIEW_ICON_UNDO,
    VIEW_ICON_PERSON,
    VIEW_ICON_SHEET,
    VIEW_ICONS
} view_icon;

/* size: side of the square it fills, around (x, y). */
void view_icon_draw(view_draw *draw, view_icon icon, float x, float y, float size, view_color color);

/* ---- pressing things ----------------------------------------------------------------------------------------- */

typedef enum view_look { VIEW_SECONDARY, VIEW_PRIMARY, VIEW_QUIET, VIEW_DANGER } view_look;

/* All zero is a plain secondary button. */
typedef struct view_button_spec {
    view_look look;
    view_icon icon;
    int key;              /* a shortcut that presses it, 0 = none */
    const char *key_hint; /* how that key is written, shown small: "D", "Space" */
    const char *why_not;  /* not NULL: disabled, and this is the reason */
    const char *tip;      /* tooltip */
} view_button_spec;

bool view_button(view_ui *ui, view_rect rect, const char *label, view_look look);
bool view_button_with(view_ui *ui, view_rect rect, const char *label, const view_button_spec *spec);
/* The width that its content wants. spec may be NULL. */
float view_button_width(const view_ui *ui, const char *label, const view_button_spec *spec);
/* Only an icon; label is its name (tooltip). */
bool view_icon_button(view_ui *ui, view_rect rect, view_icon icon, const char *label, const char *why_not);

/* What the person does with a place of the screen: for scenes that are pressed directly and for new widgets. */
typedef struct view_react {
    view_id id;
    bool is_hot;      /* pointed at */
    bool is_down;     /* held by mouse or by Space / Enter */
    bool is_focused;  /* has the focus */
    bool shows_ring;  /* ... and the ring is to be drawn */
    bool was_pressed; /* activated in this frame */
} view_react;

view_react view_place(view_ui *ui, view_rect rect, const char *label, const char *why_not);
void view_ring(view_ui *ui, view_rect rect, float radius);
/* Words beside the pointer or the focused widget that is called react. Drawn on top at view_end. */
void view_tooltip(view_ui *ui, view_react react, view_rect rect, const char *text);

/* A trigger: pressed and held by mouse, by Space / Enter when focused, or by spec->key anywhere. */
typedef struct view_hold {
    bool is_down, has_begun, has_ended;
    float held_s; /* since it was pressed; on has_ended the whole time */
} view_hold;
view_hold view_hold_button(view_ui *ui, view_rect rect, const char *label, const view_button_spec *spec);

/* ---- choosing values ----------------------------------------------------------------------------------------- */

/* Each returns true when the value was changed in this frame. Labels are drawn beside or above, as said. */

/* Label left, switch right, over the width of rect. */
bool view_toggle(view_ui *ui, view_rect rect, const char *label, bool *is_on, const char *why_not);
/* Choice among few, side by side; one Tab stop, arrows choose. label names it and is not drawn. */
bool view_segments(view_ui *ui, view_rect rect, const char *label, const char *const options[], int count, int *choice);
/* Tabs over a page; as view_segments, drawn as tabs. */
bool view_tabs(view_ui *ui, view_rect rect, const char *label, const char *const options[], int count, int *choice);

typedef struct view_range {
    float least, most, step; /* step 0 = stepless (keys move a fiftieth) */
} view_range;
/* Label left above, value text right above, track below (rect about view_slider_height high). value_text NULL: only the
 * label. In a rect of the track's height alone (view_slider_height less a line) no words are drawn. Arrows step,
 * PageUp/PageDown ten steps, Home/End the ends. */
bool view_slider(view_ui *ui, view_rect rect, const char *label, view_range range, float *value,
                 const char *value_text);
float view_slider_height(const view_ui *ui);
/* Label left; minus, value, plus at the right. */
bool view_stepper(view_ui *ui, view_rect rect, const char *label, int least, int most, int *value,
                  const char *value_text);
/* One line of typing; label above when not empty (then rect is view_field_height high). true when the text changed. */
bool view_text_field(view_ui *ui, view_rect rect, const char *label, char *text, size_t cap, const char *error);
float view_field_height(const view_ui *ui);

/* A selectable row of a list; draws ground and selection and returns the room for its content. Enclose a list's rows in
 * view_group. */
typedef struct view_item {
    view_react react;
    view_rect room;
} view_item;
view_item view_list_row(view_ui *ui, view_rect rect, const char *label, bool is_selected, const char *why_not);

/* The same as a card of its own (home, crew): lifts under the pointer. */
view_item view_card(view_ui *ui, view_rect rect, const char *label, bool is_selected, const char *why_not);

/* Widgets between these are one Tab stop; the arrow keys move inside. */
void view_group_begin(view_ui *ui);
void view_group_end(view_ui *ui);

/* ---- showing ------------------------------------------------------------------------------------------------- */

/* Stages done, current, to come: shape as well as colour. */
void view_progress_dots(view_ui *ui, view_rect rect, int count, int current);
/* A bar from 0 to 1 with a band marked (band_to <= band_from: none). */
void view_meter(view_ui *ui, view_rect rect, float value, float band_from, float band_to, view_color color);
/* A small word on a tinted ground with an icon; returns its width. */
float view_tag(view_ui *ui, float x, float y, view_icon icon, view_color ink, view_color ground, const char *text);
/* Caution: triangle and word on a yellow ground as safety signs have it (ISO 3864), text beside. Returns the height
 * used. */
float view_banner(view_ui *ui, view_rect rect, const char *word, const char *text);
float view_banner_height(const view_ui *ui, float width, const char *word, const char *text);
/* A line that appears at the bottom for a few seconds. The text is copied. */
void view_toast(view_ui *ui, view_icon icon, const char *text);

/* ---- areas --------------------------------------------------------------------------------------------------- */

/* A scroll area. Returns the room for the content: same width less the bar, as far down as needed (its y already
 * moved). view_scroll_end takes the height that the content used. The bar appears from the second frame on. */
view_rect view_scroll_begin(view_ui *ui, view_rect rect, const char *label);
void view_scroll_end(view_ui *ui, float content_height);
/* For what scrolls by itself: how far down a finger drags the content of area, which lies in port, in this frame. Once it does,
 * lifting it presses nothing. Call it after what lies inside. */
float view_finger_drag(view_ui *ui, view_id area, view_rect port, bool has_more);
/* Cuts drawing and pointing to rect. */
void view_clip_begin(view_ui *ui, view_rect rect);
void view_clip_end(view_ui *ui);

/* A dialog over everything drawn so far: the ground is dimmed and answers no more. Call it last. Returns the room
 * inside; view_modal_end returns true when Esc asks to close it. */
view_rect view_modal_begin(view_ui *ui, const char *title, float width, float height);
bool view_modal_end(view_ui *ui);

/* A spotlight: between begin and end only what lies in the lit parts can be pressed, pointed at or focused; what is drawn between
 * them stays as it is until view_spot_dim darkens all around the parts and rings each of them. At most VIEW_MAX_SPOTS. */
enum { VIEW_MAX_SPOTS = 5 };
void view_spot_begin(view_ui *ui, const view_rect lit[], int count);
void view_spot_end(view_ui *ui);
void view_spot_dim(view_ui *ui, const view_rect lit[], int count);

/* A question with two answers, its height as the text needs; cancel may be NULL. */
typedef enum view_answer { VIEW_NO_ANSWER, VIEW_OK, VIEW_CANCEL } view_answer;
view_answer view_dialog(view_ui *ui, const char *title, const char *text, const char *ok, const char *cancel);

#endif
