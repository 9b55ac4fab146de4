/* What grading works with: the attempt as it was, and the ways to measure and to mend it. Private to score.
 * The road of a grade: grade.c replays -> measure_*.c measure -> mend*.c replay with one slip mended -> words.c
 * explains. */
#ifndef SCORE_PARTS_H
#define SCORE_PARTS_H

#include "tautrow/score/score.h"

/* One pull, as the job logs it, with the number of its last turn (counted as job_row.turned_at counts). */
typedef struct score__pull {
    int row;
    int64_t last_at;
    double after_n;
} score__pull;

/* Where the counterfactuals are worked out; on the heap, because a state is large. */
typedef struct score__room {
    job_state turned;    /* the attempt just after the last turn of a body */
    size_t turned_count; /* actions of action[] that lead to it; 0 = no body was ever turned */
    bool has_fitted;
    job_state fitted; /* everything fitted, nothing pulled yet */
    bool has_ordered;
    job_state ordered; /* the attempt with every trip in the rule's order */
    bool has_sheet_end;
    job_state sheet_end; /* the attempt with the pull sheet's readings */
    job_state work;
    size_t count;
    job_action action[]; /* those that were not refused: a refused one changed nothing */
} score__room;

/* One attempt under examination. */
typedef struct score__case {
    const scenario *scenario;
    const job_setup *setup;
    job_state end;
    int order_count; /* the rows that the trainee tensions, in the rule's order */
    int order[MECH_MAX_ROWS];
    int judged_count; /* all rows, or none where there is nothing to tension */
    int judged[MECH_MAX_ROWS];
    mech_rows before_pulls;       /* the rows just before the first pull */
    double off_centre_before_n_m; /* peak of the off-centre load before the first pull */
    int pull_count;
    score__pull pull[JOB_MAX_PULL_LOG];
    double gap_push_n[MECH_MAX_ROWS + 1]; /* at the final tensions; 0 where a row is missing */
    score__room *room;                    /* NULL: no memory */
    int replays;
} score__case;

/* Room for the counterfactuals of so many actions; NULL when there is no memory. Given back by free. */
score__room *score__open_room(size_t count);
/* Replays an attempt into a case of which scenario, setup and room are set, and finds what is judged in it. */
void score__follow(score__case *c, const job_action *actions, size_t count);
/* One action more; what is judged may have changed by it: score__judge. */
job_outcome score__go_on(score__case *c, const job_action *action);
void score__judge(score__case *c);
void score__fill_line(const score__case *c, scenario_criterion criterion, score_line *line);

/* What a measure found. */
typedef struct score__finding {
    bool applies;
    double value;   /* as score_line.measured */
    double reached; /* share of the work that was got to, 0..1 */
    int undone;
    int row_count;
    int row[MECH_MAX_ROWS];
} score__finding;

/* Measures one row. False when the row has not been done. */
typedef bool score__row_measure(const score__case *c, int row, double *value);

typedef struct score__row_rule {
    score__row_measure *measure; /* NULL: the criterion is not judged row by row */
    bool is_share;               /* the value is 1 or 0, and the line shows the share of the rows */
} score__row_rule;

typedef void score__run_measure(const score__case *c, scenario_band band, score__finding *out);

score__row_rule score__row_rule_of(scenario_criterion criterion);
/* NULL for criteria that are judged row by row. */
score__run_measure *score__run_measure_of(scenario_criterion criterion);
score__run_measure *score__tension_measure_of(scenario_criterion criterion);

/* True for a row that the trainee takes through this stage. */
bool score__is_asked(const job_setup *setup, int row, job_stage stage);
int score__asked_rows(const job_setup *setup, job_stage stage);

/* Adds a row to those that lost points, kept rising; twice the same is once, -1 is nobody. */
void score__blame(score__finding *finding, int row);

int score__pulls_of_row(const score__case *c, int row);

/* Lowest and highest tension and (highest - lowest) / mean over the judged rows. */
typedef struct score__levels {
    double lowest_n, highest_n, spread;
} score__levels;
score__levels score__levels_of(const score__case *c, const job_state *state);

/* Push that each gap (0..row_count) resists at the present true tensions in its longest bay; INFINITY where there is no
 * gap (no rail), 0 where a row is missing or the ball falls through. */
void score__gap_pushes(const job_setup *setup, const job_state *state, double push_n[MECH_MAX_ROWS + 1]);
/* True for a gap that has a judged row on one side. */
bool score__is_gap_asked(const score__case *c, int gap);
double score__gap_push(const job_setup *setup, const job_state *state, int gap);

double score__crimp_hold(const job_setup *setup, const job_row *row);
/* Full squeezes of a crimp. */
int score__full_squeezes(const mech_crimp *crimp);
/* The smaller of both studs' engagement over the least safe one, and the turns of that stud. */
double score__engagement(const job_setup *setup, const job_row *row, double *turns);

/* True as well for a question that this job does not ask. */
bool score__is_answered_right(const score__case *c, int question);
/* Faults reported that were never there. */
int score__false_reports(const score__case *c);
bool score__is_reported(const score__case *c, const job_fault *fault);

/* Share 0..1 of the points of an order that is kept as well as it still can be: each pair of rows pulled the wrong way
 * round is lost for good. *tau gets the agreement that it can still come to. */
double score__order_left(const score__case *c, scenario_band band, double *tau);
/* The rows in the order in which the rest of the pulls would come by the rule, those already pulled first. */
void score__order_from_here(const score__case *c, int order[MECH_MAX_ROWS]);
/* Off-centre peak of pulling every row of the order once to the target, from the rows before the first pull. */
double score__off_centre_of(const score__case *c, const int order[]);

bool score__has_stop(const score__case *c, score_stop stop, int row);
unsigned score__stops(const score__case *c, int stop_row[SCORE_STOPS]);

/* What the line's slip did to the work, by replays. Leaves kind NONE where mending it changes nothing that is told. */
void score__mend(score__case *c, score_line *line);

/* Carries out action[index] of the room the way it should have been done. */
typedef void score__step(const score__case *c, job_state *state, size_t index);
typedef struct score__fit_mend {
    score__step *step; /* NULL: this criterion has no mend of its own */
    score_effect_kind kind;
    job_stage until; /* actions of later stages cannot change what is told and are left out */
} score__fit_mend;
score__fit_mend score__fit_mend_of(scenario_criterion criterion);

/* The attempt with all its fitting done and nothing pulled. */
const job_state *score__fitted(score__case *c);

/* What an effect was in words, "" = there is none. form "slip.": said while the work goes on, where such a sentence is. */
void score__effect_text(const char *form, scenario_criterion criterion, const score_effect *effect, const tr_lang *lang,
                        tr_system system, char *out, size_t cap);

/* Final states of the same attempt with one thing of the tensioning mended; NULL where that cannot be done. Valid until
 * the next of them. in_order: each trip in the rule's order, every pull to the reading it had; by_sheet: the pulls of the pull sheet; with_check: a check round more. */
const job_state *score__in_order(score__case *c);
const job_state *score__by_sheet(score__case *c);
const job_state *score__with_check(score__case *c);
const job_state *score__with_stud_held(score__case *c);

#endif
