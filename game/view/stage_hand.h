/* What the hands of the stages from mark to crimp share: holding by mouse, Space or a letter, trembling, leaning, choosing. */
#ifndef GAME_VIEW_STAGE_HAND_H
#define GAME_VIEW_STAGE_HAND_H

#include "job_screen.h"

/* What the person does with the picture in this frame. */
typedef struct view__touch {
    bool is_mouse;      /* the left button holds the picture */
    bool is_held;       /* ... or Space does, while the picture has the focus */
    bool is_back;       /* the right button was pressed on it */
    view_point at;      /* the pointer */
    view_point moved;   /* by the pointer since the last frame */
    view_point arrows;  /* arrow keys held: -1, 0 or 1; Shift makes it a quarter; y down */
    float dt_s;
} view__touch;

/* Makes the picture a thing to hold. Gives a gesture up when the row or the stage has changed under it. */
view__touch view__touch_picture(view_ui *ui, view_job *job, view_rect picture, const char *label);

/* A trigger of the bench. gesture is its number in the stage, from 1. With is_main, Space and the picture work it too. */
typedef struct view__trigger {
    int gesture;
    const char *word_key;
    char letter;
    bool is_main;
    const char *why_not;
} view__trigger;
view_hold view__bench_trigger(view_ui *ui, view_bench *bench, view_job *job, const view__touch *touch, view__trigger what);

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

/* The angle of a tool held free-hand. It squares up by itself while the hand waits and walks off while the tool works. */
typedef struct view__lean {
    float rest_pitch, rest_yaw; /* where a hand that waits brings it */
    float walk;                 /* rad/s at the drift's full swing */
    bool is_working;
} view__lean;
void view__lean_step(view_job *job, const view__touch *touch, view__lean how, float *pitch, float *yaw);

/* Choice among few with none chosen at first: buttons that fit side by side or one under the other. Returns the one pressed, else -1. */
int view__bench_choice(view_ui *ui, view_bench *bench, const char *label, const char *const words[], int count, int chosen, const char *letters);
/* Enter or its letter ends the work in hand. */
bool view__bench_done(view_ui *ui, view_bench *bench, const char *word_key, char letter, const char *why_not);
/* Speed of a drill or driver; Page Up and Page Down work it from anywhere. */
void view__bench_speed(view_ui *ui, view_bench *bench, const view_job_model *model, float *rpm);
/* A small line of help below the tools. */
void view__bench_help(view_ui *ui, view_bench *bench, const char *word_key);

#endif
