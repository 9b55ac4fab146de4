/* The program's own hand: it works the job screen through the same input as a person, pointer, buttons and keys, so that
 * the stages themselves make the actions. It sees what is drawn, a moment late, and knows nothing of how the hand drifts.
 *
 * fitter.c      its life, its sight, what it does next
 * fitter_arm.c  wishes of one frame turned into a pointer that travels and keys that go down and up
 * fitter_find.c controls by their words, and pressing, setting and holding them
 * fitter_wood.c, fitter_cable.c, fitter_row.c  a gesture for each action
 * fitter_haste.c what a hasty hand believes it has to do */
#ifndef GAME_VIEW_FITTER_H
#define GAME_VIEW_FITTER_H

#include <stddef.h>

#include "job_screen.h"

/* How a hand goes about it. */
typedef struct view_manner {
    float see_s;      /* from what is drawn to what the fingers do about it */
    float settle_s;   /* how long a hand that came down is left to settle */
    float pace;       /* of the pointer, 1 = unhurried */
    float scatter_px; /* how far beside its aim the pointer comes down */
    float think_s;    /* between two movements */
    float read_s;     /* before each piece of work, so that its sentence can be read by who looks on */
    bool foresees;    /* lets go so early that what happens meanwhile comes out right */
    bool steers;      /* looks at the bubbles, clears chips, sets speeds and the tape */
    bool is_hasty;    /* leaves out what can be left out and looks at nothing twice */
} view_manner;

/* A hand that waits, steers and looks again; and one that does not. Times in seconds: assumptions. */
view_manner view_manner_steady(void);
view_manner view_manner_hasty(void);

/* What the hand wants in one frame; all zero = nothing held, the pointer stays. */
typedef struct fitter_wish {
    bool goes;       /* the pointer, to spot */
    bool is_pushing; /* the pointer, by push a second: steering by a small movement */
    view_point spot, push;
    bool left, right; /* buttons, once it is there */
    bool key[VIEW_KEYS];
    unsigned mods;
    float wheel;
} fitter_wish;

typedef struct fitter_arm {
    view_point at, from, to;
    float gone_s, whole_s, bow;
    bool is_there;
} fitter_arm;

/* What is drawn of the work in one frame. */
typedef struct fitter_sight {
    double time_s;
    int64_t count; /* actions so far: what was seen before the last one is of another picture */
    view_hand hand;
    double shown_n; /* bar of the row in hand (guided) */
} fitter_sight;

enum { FITTER_SIGHTS = 96, FITTER_PLEDGES = 8 };

typedef struct view_fitter {
    view_manner manner;
    bool is_begun;
    bool by_keys;  /* the keyboard alone, else the pointer alone */
    bool is_still; /* reduced motion: the pointer does not travel */
    tr_rng rng;
    view_draw *scratch; /* for asking a picture where its things are */
    view_input in;      /* of the last frame */
    fitter_wish wish;
    fitter_arm arm;
    fitter_sight sight[FITTER_SIGHTS];
    size_t sights;
    double now_s;

    job_action goal;
    int goal_row;
    bool has_goal;
    int goals;                    /* aims so far */
    int64_t goal_count;           /* actions when it was chosen, -1 = none yet */
    bool pulled[MECH_MAX_ROWS];   /* hasty: rows that were tensioned once */
    mech_crimp crimp_asked;       /* hasty: what it believes that its crimps are */
    int step;                     /* of the gesture under way */
    float step_s, rest_s, down_s; /* in this step; until the next movement; button or key has been down */
    float scroll_s;
    int scrolled;
    view_point off;  /* beside its aim, for this movement */
    view_point mark; /* a place that the gesture under way remembers */

    /* of the frame under way */
    const view_ui *ui;
    view_job *job;
    const view_job_model *model;
    float dt_s;
} view_fitter;

/* scratch belongs to the fitter. False when there is no memory. */
bool view_fitter_open(view_fitter *fitter, view_manner manner, bool by_keys, uint64_t seed);
void view_fitter_close(view_fitter *fitter);

/* The input for the next frame of the job screen, which is width by height and was drawn last by ui (of which the targets
 * are read). When is_idle the hand lets go of everything and waits. */
const view_input *view_fitter_frame(view_fitter *fitter, const view_ui *ui, view_job *job, const view_job_model *model,
                                    view_point size, float dt_s, bool is_idle);

/* ---- between the parts of it ------------------------------------------------------------------------------------ */

/* The pointer and the keys of this frame from the wish. */
void fitter__act(view_fitter *f);

/* The part-th target called label in the last frame. */
bool fitter__find(const view_fitter *f, const char *label, int part, view_rect *rect);
/* The first one called label that is drawn after one called before. */
bool fitter__find_after(const view_fitter *f, const char *label, const char *before, view_rect *rect);
const char *fitter__word(const view_fitter *f, const char *key);

/* Each of these is called frame by frame; the ones that answer say true once, when it is done. */
bool fitter__click_at(view_fitter *f, view_point spot);
bool fitter__click(view_fitter *f, const char *label, int part);
bool fitter__click_after(view_fitter *f, const char *label, const char *before);
bool fitter__tap(view_fitter *f, int key, unsigned mods);
/* A button with a letter: whichever way this hand works. */
bool fitter__press(view_fitter *f, const char *word_key, char letter);
/* Brings the focus to a control by Tab. */
bool fitter__focus(view_fitter *f, const char *label);
/* Presses a control that has no letter. */
bool fitter__choose(view_fitter *f, const char *label, int part);
/* One of a few side by side (or, where there is no room for that, one at a time). True while it is chosen. */
bool fitter__pick(view_fitter *f, const char *label, int now, int wanted);
/* A stepper or slider from where it is seen to be to what is wanted. True while it is there. */
bool fitter__set_steps(view_fitter *f, const char *label, int now, int wanted);
bool fitter__set_slider(view_fitter *f, const char *label, view_range range, float now, float wanted);
/* Holds a button of the bench, or its letter. */
void fitter__hold(view_fitter *f, const char *word_key, char letter);
void fitter__hold_at(view_fitter *f, view_point spot);
void fitter__key(view_fitter *f, int key);
/* The button or key that is wished is down; counts how long it has been. */
bool fitter__is_holding(view_fitter *f);
/* Nothing held, for so long. */
void fitter__rest(view_fitter *f, float seconds);
void fitter__next_step(view_fitter *f);

/* The picture of the stage, and where its things are. */
bool fitter__picture(const view_fitter *f, view_rect *rect);
bool fitter__grip(const view_fitter *f, view_grip *grip);
/* How far from a middle the hand may turn about it and stay in the picture. */
float fitter__reach(const view_fitter *f, view_point around, float most);

/* A number of fitter_sight as it is seen, a moment late; with foresight, as it will be when the fingers have moved. */
double fitter__reads(const view_fitter *f, size_t offset);
double fitter__foresees(const view_fitter *f, size_t offset);
/* It has not changed for so long, as far as can be seen. */
bool fitter__is_quiet(const view_fitter *f, size_t offset, double by, double seconds);
#define FITTER_SEES(f, field)                  fitter__reads((f), offsetof(fitter_sight, field))
#define FITTER_FORESEES(f, field)              fitter__foresees((f), offsetof(fitter_sight, field))
#define FITTER_IS_QUIET(f, field, by, seconds) fitter__is_quiet((f), offsetof(fitter_sight, field), (by), (seconds))

/* The gesture for each verb; called while it is the goal and its stage and row are shown. */
typedef void fitter_gesture(view_fitter *f);
fitter_gesture fitter__open_sheet, fitter__answer, fitter__set_pole, fitter__mark_row, fitter__take_bit, fitter__drill,
    fitter__drive, fitter__screw_stud, fitter__hang, fitter__pull, fitter__mark_cable, fitter__take_cutter,
    fitter__cut_cable, fitter__push_home, fitter__seat_mark, fitter__place_die, fitter__turn_crimper, fitter__squeeze,
    fitter__redo_crimp, fitter__unscrew, fitter__back_off, fitter__thread_in, fitter__hand_tight, fitter__glasses,
    fitter__stand, fitter__pliers, fitter__turn_body, fitter__free_twist, fitter__pluck, fitter__gauge, fitter__ball,
    fitter__sight_post, fitter__gauge_crimp, fitter__report, fitter__collar, fitter__wipe, fitter__wait_days,
    fitter__sign;

/* What a hasty hand wants next; false = it thinks that it is done. */
bool fitter__hasty_goal(view_fitter *f, job_action *goal);

#endif
