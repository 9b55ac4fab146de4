/* What slip.c shares with slip_effect.c: one action under examination. */
#ifndef GAME_SCORE_SLIP_PARTS_H
#define GAME_SCORE_SLIP_PARTS_H

#include "parts.h"
#include "tautrow/score/slip.h"

typedef struct score__moment {
    score__case c;    /* the attempt, the last action included */
    job_state before; /* without it */
    job_action last;
    job_outcome outcome;
    int row; /* that it worked on, -1 none */
} score__moment;

typedef struct score__standing {
    double share;    /* 0..1, of the row's or the run's part of the weight; all of it while it can still be put right */
    double measured; /* what it comes from */
} score__standing;

/* row: the one in hand. Lines of the whole run look at it, too: was its stud held, did it pass its limit. */
score__standing score__stands(const score__case *c, scenario_criterion criterion, int row);
/* True where going on with this row can no longer change what the line measures of it. */
bool score__is_row_final(const score__case *c, scenario_criterion criterion, int row);
/* Judged row by row, not for the run as a whole. */
bool score__is_of_rows(scenario_criterion criterion);

/* Works out slip->effect for one that is no matter of signing. */
void score__slip_effect(score__moment *m, score_slip *slip);

/* Engagement over the least safe one (*turns: of that stud) that a row will have at the target; more rows pulled later
 * only add to it. */
double score__engagement_to_come(const score__case *c, int row, double *turns);

/* How far the cable of this row goes into its bore; a spoilt end does not go home. */
double score__seat_within_reach(const score__case *c, int row, job_state *work);

#endif
