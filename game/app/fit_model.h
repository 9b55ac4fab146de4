/* The mock-up as a model: which stiffnesses make the run answer its pulls as the gauge saw it. */
#ifndef GAME_APP_FIT_MODEL_H
#define GAME_APP_FIT_MODEL_H

#include "fit_curve.h"
#include "measured.h"
#include "tautrow/job/setup.h"

typedef enum fit_value { FIT_BASE, FIT_JOINT, FIT_STRAND, FIT_VALUES } fit_value;

/* Readings below this share of the target scatter as if they were it: a gauge does not read a slack cable ever more
 * exactly. Assumption. */
#define FIT_FLOOR 0.05
/* A reading further off than this many deviations of the gauge is named: with a hundred sound readings one fit in
 * twenty names one. */
#define FIT_FAR 3.5
/* A value counts as told where its interval reaches no further than this factor up and down. */
#define FIT_FACTOR 2.0
/* And two values as told apart where their correlation is smaller than this. */
#define FIT_ALIKE 0.95
#define FIT_SHARE 0.95 /* of the confidence intervals */

enum { FIT_MAX_LEFT_OUT = 20 };

/* One reading's place: a row after a pull, or (row = FIT_PULL_ITSELF) what the row was pulled to. */
enum { FIT_PULL_ITSELF = -1 };
typedef struct fit_spot {
    int pull, row;
    double sigmas; /* model less reading, in deviations of the gauge */
} fit_spot;

typedef struct fit_found {
    bool is_asked; /* false: held, or the run has no such thing (no rail, posts that cannot turn) */
    bool is_held;
    bool is_told;
    double start;            /* the scenario's value; INFINITY where nothing gives there */
    double value, low, high; /* SI: N m/rad, N/m, N; low and high only where the spread is known */
    bool has_interval;
} fit_found;

typedef struct fit_report {
    fit_found found[FIT_VALUES];
    bool is_alike[FIT_VALUES][FIT_VALUES]; /* the readings do not tell the two apart */
    double correlation[FIT_VALUES][FIT_VALUES];
    double condition;
    bool converged;
    bool is_too_few;           /* fewer readings than values: nothing was fitted */
    int reading_count;         /* used: readings of rows, without the pulls' own */
    int unused_count;          /* readings of rows before their first pull */
    double reduced_chi_square; /* NAN where there is no freedom left */
    long freedom;
    int far_total; /* readings further off than FIT_FAR */
    int far_count; /* the worst of them, worst first */
    fit_spot far[FIT_MAX_LEFT_OUT];
    int left_out_count; /* in the order they were taken out, with the sigmas they had then */
    fit_spot left_out[FIT_MAX_LEFT_OUT];
    bool is_used[MEASURED_MAX_PULLS][MECH_MAX_ROWS];
    double model_n[MEASURED_MAX_PULLS][MECH_MAX_ROWS]; /* what the gauge would show by the model */
    double sigmas[MEASURED_MAX_PULLS][MECH_MAX_ROWS];
    double pull_sigmas[MEASURED_MAX_PULLS];
} fit_report;

typedef struct fit_choice {
    double scatter;           /* of the gauge, a share of the reading: above 0 */
    bool is_held[FIT_VALUES]; /* keep the scenario's value */
    int leave_out;            /* how many of the worst readings are left out, one after another */
} fit_choice;

/* Fits to what was measured. TR_INVALID with a sentence in why where nothing is left to fit or the model has no answer.
 */
tr_result fit_mock_up(const job_setup *setup, const measured *seen, const fit_choice *choice, fit_report *report,
                      char *why, size_t why_cap);

/* The structure with the fitted values in it: those that were fitted, in both posts and both joints. */
void fit_apply(const fit_report *report, mech_structure *structure);

/* All rows hanging ready, nothing tensioned: where a mock-up starts. */
void fit_fresh_rows(const mech_run *run, mech_rows *rows);

#endif
