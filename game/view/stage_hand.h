/* What the hands of the stages from mark to crimp share: holding by mouse, Space or a letter, trembling, leaning,
 * choosing. */
#ifndef GAME_VIEW_STAGE_HAND_H
#define GAME_VIEW_STAGE_HAND_H

#include "job_screen.h"

/* What the person does with the picture in this frame. */
typedef struct view__touch {
    view_id id;
    bool is_mouse;     /* the left button holds the picture */
    bool is_held;      /* ... or Space does, while the picture has the focus */
    bool is_back;      /* the right button was pressed on it */
    view_point at;     /* the pointer */
    view_point moved;  /* by the pointer since the last frame */
    view_point arrows; /* arrow keys held: -1, 0 or 1, Shift makes it a quarter; or the left stick, -1 to 1; y down */
    float squeeze;     /* how hard the trigger is pulled: 1, or less where a controller's is pulled lightly */
    float dt_s;
} view__touch;

/* Makes the picture a thing to hold. Gives a gesture up when the row or the stage has changed under it. */
view__touch view__touch_picture(view_ui *ui, view_job *job, view_rect picture, const char *label);

/* First of all in a frame: while a hand holds something, the row stays, although the screen would follow the advice to
 * another. */
void view__keep_row(view_job *job);

/* A trigger. gesture is its number in the stage, from 1. With is_main, Space and the picture work it too. */
typedef struct view__trigger {
    int gesture;
    const char *word_key;
    char letter;
    bool is_main;
    const char *why_not;
} view__trigger;
view_hold view__trigger_at(view_ui *ui, view_rect rect, view_job *job, const view__touch *touch, view__trigger what);

/* The tools of a stage: controls that scroll, and below them a foot that stays in sight with what the hand does again
 * and again. Where the room is too small for a foot, all of it scrolls. */
typedef struct view__desk {
    view_bench bench;
    view_bench foot;
    bool has_foot;
    const char *help; /* word key of a small line of help */
} view__desk;
view__desk view__desk_begin(view_ui *ui, view_rect tools, int lines, const char *help);
/* What was set out so far scrolls; from here on it stands in the foot. */
view_bench *view__desk_foot(view_ui *ui, view__desk *desk);
void view__desk_end(view_ui *ui, view__desk *desk);
view_rect view__bench_line(const view_ui *ui, view_bench *bench);

/* Places for two controls side by side, one under the other where their words do not fit. */
bool view__are_halves(const view_ui *ui, float width, const char *const word_keys[2]);
void view__bench_halves(view_ui *ui, view_bench *bench, const char *const word_keys[2], view_rect rect[2]);

/* The gesture has come to its end while it is still held: nothing more happens until everything is let go. */
void view__let_go(view_job *job);

/* While a hand is at work the arrow keys are its own: their presses do not change the row. */
void view__take_arrows(view_ui *ui);

/* A hand comes down somewhere about its aim, 0.5 to 1 times size off to either side. */
float view__land(view_job *job, float size);
/* How far off it is after a while: it settles, but never quite. rest: what stays, as a hand trembles. */
float view__settled(const view_job *job, float land, float after_s, float rest);
/* One more frame of steering a hand that came down: by the pointer's movement along the axis, or by the arrow given. */
void view__steer(view_job *job, float moved_m, float arrow, float dt_s);

/* A hand that waits is seen to settle for so long; then the picture rests. */
#define VIEW__STILL_S 2.5F

/* The angle of a tool held free-hand. It squares up by itself while the hand waits and walks off while the tool works.
 */
typedef struct view__lean {
    float rest_pitch, rest_yaw; /* where a hand that waits brings it */
    float walk;                 /* rad/s at the drift's full swing */
    bool is_working;
} view__lean;
void view__lean_step(view_job *job, const view__touch *touch, view__lean how, float *pitch, float *yaw);

/* Choice among few with none chosen at first: buttons side by side or one under the other. The label names them
 * and is not drawn. Returns the one pressed, else -1. */
int view__bench_choice(view_ui *ui, view_bench *bench, const char *label, const char *const words[], int count,
                       int chosen, const char *letters);
/* A button with a letter key, whose hint gives way where the words need the room. */
bool view__button_at(view_ui *ui, view_rect rect, const char *word_key, char letter, const char *why_not);
/* A button that E, and Enter where no other control has the focus, press. */
bool view__done_at(view_ui *ui, view_rect rect, const char *word_key, const view__touch *touch, const char *why_not);
/* Speed of a drill or driver; Page Up and Page Down work it from anywhere. */
void view__bench_speed(view_ui *ui, view_bench *bench, const view_job_model *model, float *rpm);

#endif
