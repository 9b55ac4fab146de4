/* The tour: six steps over a real job screen. Each lights the parts that it speaks of, says a sentence or two and, where it can,
 * has the person do the thing. The rest of the screen is dimmed and answers nothing.
 *
 *   view_tour_begin(ui, tour, job);           what is lit, which keys pass
 *   view_job_frame(ui, job, ...);             the screen itself
 *   wish = view_tour_end(ui, tour, ...);      the dimming and the bubble
 *
 * After each action that came of it: view_tour_heard. */
#ifndef TAUTROW_VIEW_TOUR_H
#define TAUTROW_VIEW_TOUR_H

#include "tautrow/view/screens.h"

typedef enum view_tour_step {
    VIEW_TOUR_RUN,
    VIEW_TOUR_TRAIL,
    VIEW_TOUR_TURN,
    VIEW_TOUR_COUPLING,
    VIEW_TOUR_PLUCK,
    VIEW_TOUR_MODES,
    VIEW_TOUR_STEPS
} view_tour_step;

/* Zero to start. */
typedef struct view_tour {
    int step;        /* a view_tour_step */
    int row;         /* in hand */
    double turned;   /* turns of the pin in this step */
    bool is_done;    /* what the step asks for was done */
    bool is_skipped; /* Esc in this frame */
    bool is_watched; /* before_n holds the tensions that the turning began with */
    double tone_hz;  /* of the last pluck */
    double before_n[MECH_MAX_ROWS];
} view_tour;

/* Goes to a step; forgets what was done in it. */
void view_tour_go(view_tour *tour, int step);

/* job: the tour's own from its first frame on. */
void view_tour_begin(view_ui *ui, view_tour *tour, view_job *job);

typedef enum view_tour_wish { VIEW_TOUR_STAY, VIEW_TOUR_SKIP, VIEW_TOUR_START } view_tour_wish;

/* first: the exercise that the last step offers. */
view_tour_wish view_tour_end(view_ui *ui, view_tour *tour, const view_job *job, const view_job_model *model,
                             const scenario *first);

/* An action of this frame and what came of it. */
void view_tour_heard(view_tour *tour, const job_action *action, const job_outcome *outcome);

#endif
