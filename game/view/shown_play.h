/* Private to the demonstration: what it keeps, and its parts. shown.c plays the copy, shown_show.c draws around it. */
#ifndef GAME_VIEW_SHOWN_PLAY_H
#define GAME_VIEW_SHOWN_PLAY_H

#include "fitter.h"
#include "tautrow/view/shown.h"

enum { SHOWN_STEPS = 1024 };

/* Where the copy starts from. */
typedef enum shown_origin { SHOWN_HERE, SHOWN_BROUGHT, SHOWN_AFRESH } shown_origin;

struct view_shown {
    scenario plan; /* as the hand sees it: with a stage that is about a row, that row's work alone */
    record_about about;
    record_attempt *copy;
    view_job *job;
    view_ui inner; /* the job screen's own, worked by the hand */
    bool has_inner;
    view_fitter fitter;
    bool has_fitter;
    job_stage stage;
    int row, asked_row; /* the row in hand may have nothing to show */
    shown_origin origin;
    size_t start_at[SHOWN_STEPS]; /* actions of the copy when a step began */
    int steps;                    /* begun so far */
    int goals_seen;
    double in_step_s;
    bool is_playing, is_done, uses_keys, wants_next;
    bool has_nothing; /* the exercise asks for nothing of this stage */
    bool was_helped;  /* a step took the hand too long, and was done for it */
    int speed;        /* 0 half, 1 normal, 2 double */
    int64_t start_ms;
    double played_s;
    view_point size; /* of the job screen */
    int cap;         /* key shown last, and until when */
    unsigned cap_mods;
    double cap_until_s;
};

/* The model of the copy; is_plan: with the scenario as the hand sees it. */
view_job_model shown__model(const view_shown *shown, tr_system system, bool is_plan);
/* One frame of the copy's job screen, dt_s later; 0 = as it stands. */
void shown__frame(view_shown *shown, const view_shown_frame *frame, const view_ui *around, float dt_s);
/* Back to a step's beginning; 0 = the first. */
void shown__go_back_to(view_shown *shown, int step);
/* How high the band at the foot is. */
float shown__band_height(view_ui *ui, const view_shown *shown, tr_system system);
/* Pointer, key caps, frame and band; true = back to the work. */
bool shown__around(view_ui *ui, view_shown *shown, view_rect band, tr_system system);

#endif
