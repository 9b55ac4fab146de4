/* Slip-ups at the moment they happen, for guided teaching: what the last action lost that going on cannot win back. */
#ifndef TAUTROW_SCORE_SLIP_H
#define TAUTROW_SCORE_SLIP_H

#include "tautrow/score/score.h"

enum { SCORE_MAX_SLIPS = 8 };

typedef struct score_slip {
    scenario_criterion criterion; /* SCENARIO_CRITERIA: a stop fault that no criterion measures */
    score_stop stop;              /* the stop fault that came with it; SCORE_STOPS = none */
    int row;                      /* -1 = the run */
    double measured;              /* of this row, or of the run, against the band */
    scenario_band band;
    double did, low, high; /* the same as a tradesperson would say it: rpm against a range, a depth against a depth ...;
                              low or high infinite = no bound on that side */
    tr_dim dim;            /* of these three */
    int instead;           /* order: the row whose turn it was; -1 else */
    double lost;           /* points that can no longer be earned without undoing or doing over */
    bool is_frayed;        /* a cable that will not go home because its end was splayed just now */
    bool is_open;          /* nothing is lost yet: going on with the same piece of work puts it right */
    score_effect effect;   /* what it does to the work, as the mechanics have it; NONE where there is no number */
} score_slip;

/* What the last of these actions spoiled, the gravest first; 0 for an action without a slip. Compares what could still
 * be earned before it with what can be earned after it, so that work that is merely unfinished is no slip: a shallow
 * hole becomes one when the insert goes into it, a missing squeeze when the crimp is left. Each slip is named once, at
 * the action that makes it final; is_open says beforehand where that can still be avoided.
 *
 * Trifles (less than a tenth of what the row or the run can earn by the line) are let pass, except in the order of the
 * rows. Replays the actions once; only signing has counterfactual replays. Allocates and frees; without memory there
 * are no slips. */
int score_slips(const scenario *task, const job_action *actions, size_t count, score_slip out[SCORE_MAX_SLIPS]);

/* In words: the name of it ("Hole depth", "Split post"), what happened, what it does to the work ("" = no number), how to
 * do it right. */
void score_slip_name(const score_slip *slip, const tr_lang *lang, char *out, size_t cap);
void score_slip_what(const score_slip *slip, const tr_lang *lang, tr_system system, char *out, size_t cap);
void score_slip_effect(const score_slip *slip, const tr_lang *lang, tr_system system, char *out, size_t cap);
void score_slip_right(const score_slip *slip, const tr_lang *lang, char *out, size_t cap);

#endif
