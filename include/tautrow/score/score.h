/* The examiner: a pure function of scenario, actions and the state that they lead to. Every line has a reason in
 * numbers. */
#ifndef TAUTROW_SCORE_SCORE_H
#define TAUTROW_SCORE_SCORE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "tautrow/job/job.h"
#include "tautrow/scenario/scenario.h"

/* Errors that end in a fail whatever the score. Words under "stop.<name>". */
typedef enum score_stop {
    SCORE_STOP_FEW_THREADS, /* a stud on less than the least safe engagement */
    SCORE_STOP_WEAK_CRIMP,  /* a crimp that holds less than twice the target, or that the gauge rejects */
    SCORE_STOP_WEAK_INSERT, /* an insert whose ultimate withdrawal is under twice the target */
    SCORE_STOP_OVER_LIMIT,  /* a row past its limit */
    SCORE_STOP_GAVE_WAY,    /* a crimp or an insert slipped under load */
    SCORE_STOP_SPLIT,       /* a split post */
    SCORE_STOP_OPENING,     /* a gap that lets the ball through at the set push */
    SCORE_STOP_UNFINISHED,  /* not signed, or a row not joined */
    SCORE_STOPS
} score_stop;
const char *score_stop_key(score_stop stop);

/* What would have come of the same attempt with that one slip mended (a counterfactual replay). */
typedef enum score_effect_kind {
    SCORE_EFFECT_NONE,
    SCORE_EFFECT_TENSION,    /* tension of row `row` at the end, N */
    SCORE_EFFECT_LOWEST,     /* lowest row tension at the end, N */
    SCORE_EFFECT_GRIP,       /* ultimate withdrawal of the insert of row `row`, N */
    SCORE_EFFECT_HOLD,       /* hold of the crimp of row `row`, N */
    SCORE_EFFECT_OFF_CENTRE, /* peak off-centre load, N m */
    SCORE_EFFECT_SPREAD,     /* (highest - lowest) / mean */
    SCORE_EFFECT_OPENING,    /* push that the weakest gap resists, N */
    SCORE_EFFECT_TRAVEL,     /* body turns left on row `row` */
    SCORE_EFFECT_TWIST,      /* turns that the cable of row `row` is wound up */
    SCORE_EFFECT_THREADS,    /* threads engaged, of the stud of row `row` that has fewer */
    SCORE_EFFECT_KINDS
} score_effect_kind;

typedef struct score_effect {
    score_effect_kind kind;
    int row; /* -1: the run */
    double was, would_be;
} score_effect;

typedef struct score_line {
    scenario_criterion criterion;
    bool applies;          /* false: nothing to judge in this scenario; weight 0 then */
    double weight, points; /* points <= weight */
    double measured;       /* worst row, share of the rows, or the run's value; band.none where nothing has been done */
    scenario_band band;
    int row_count; /* rows that lost points */
    int row[MECH_MAX_ROWS];
    bool is_undone; /* nothing has been done yet that this line could judge */
    int undone;     /* how many of row[] have not been done */
    score_effect effect;
} score_line;

typedef struct score_card {
    score_line line[SCENARIO_CRITERIA];
    double total; /* 0..100 */
    double pass_mark;
    bool passed;
    bool is_signed;
    unsigned stops;            /* bit per score_stop */
    int stop_row[SCORE_STOPS]; /* a row concerned, or -1 */
    double final_tension_n[MECH_MAX_ROWS];
    double spread, lowest_n, highest_n; /* over all rows; 0 while all are slack or nothing is to be tensioned */
    int replays;                        /* counterfactual replays made */
} score_card;

/* Grades an attempt. Replays the actions once for the state and once for each slip that has a counterfactual.
 * Allocates for the counterfactuals and frees before it returns; without memory the effects are NONE and all else is
 * right.
 *
 * Weights of lines that do not apply drop out. Rows, gaps and trips that have not been got to earn nothing. Lines that
 * judge what did not happen (no over-tension, no try without glasses ...) earn in step with the rows that the work has
 * reached. */
void score_grade(const scenario *task, const job_action *actions, size_t count, score_card *card);

/* Straight line between full and none, as a share 0..1. full == none: all or nothing, less is better. Not a number: 0.
 */
double score_share(double measured, scenario_band band);

/* Kendall's tau-a between an order and the rule's order over the rows in both; 1 for fewer than two. Kendall 1938. */
double score_kendall(const int *order, int count, const int *rule, int rule_count);

/* Points as they are shown: whole, or with one decimal cut off, so that what is not full never looks full. */
void score_points_text(double points, char *out, size_t cap);

/* One line of the debrief in words: what was measured against what band, in which rows, and what it did. */
void score_reason(const score_line *line, const tr_lang *lang, tr_system system, char *out, size_t cap);

/* The same without the points, for a place that shows them beside it. */
void score_account(const score_line *line, const tr_lang *lang, tr_system system, char *out, size_t cap);

/* Why a stop fault was given, in words. */
void score_stop_reason(const score_card *card, score_stop stop, const tr_lang *lang, char *out, size_t cap);

/* Rows as people write them, from 1: "3, 4 and 7"; more than six: "3, 4, 5 and 6 more". */
void score_rows_text(const int *rows, int count, const tr_lang *lang, char *out, size_t cap);

#endif
