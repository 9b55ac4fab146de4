/* A run tensioned pull by pull in one order and one way, kept step by step so that it can be shown and compared. Numbers
 * only: no picture, no word. Private to the view layer and its tests. */
#ifndef GAME_VIEW_ORDERS_RUN_H
#define GAME_VIEW_ORDERS_RUN_H

#include "tautrow/mech/pullsheet.h"

typedef enum view__way {
    VIEW__WAY_ONCE,   /* every row once to the target */
    VIEW__WAY_ROUNDS, /* the same twice over */
    VIEW__WAY_SHEET,  /* to the readings of a pull sheet for this order */
    VIEW__WAYS
} view__way;

typedef struct view__plan {
    int order[MECH_MAX_ROWS]; /* rows in the order in which they are pulled */
    int count;
    view__way way;
    double target_n;
    const double *share; /* the sheet's rounds */
    int rounds;
    double row_limit_n;
} view__plan;

/* The run after a pull; the first one stands before any. */
typedef struct view__step {
    int row; /* pulled last, -1 none */
    double reading_n;
    int loser; /* the row that lost most by it, -1 = none lost anything to speak of */
    double lost_n;
    double tension_n[MECH_MAX_ROWS];
    double highest_n[MECH_MAX_ROWS]; /* that each row has carried so far */
    double off_centre_n_m, off_centre_peak_n_m;
    double rail_n;
    double bend_m; /* largest way inward of either post */
} view__step;

typedef struct view__tensioning {
    int row_count;
    mech_sheet_status status; /* of the pull sheet; OK for the other ways */
    int worst_row;            /* row of the highest reading */
    double worst_n;
    int pulls; /* step[0..pulls] */
    view__step step[MECH_MAX_PULLS + 1];
} view__tensioning;

/* A loss under this is nothing that a gauge would show. */
#define VIEW__LOSS_SEEN_N 2.0

/* Pulls the rows of a run from start as planned. Where no sheet is found (or there is no memory) no pull is made and
 * the status is MECH_SHEET_DIVERGED. */
void view__tension(const mech_run *run, const mech_rows *start, const view__plan *plan, view__tensioning *out);

/* Where a tensioning ended. */
typedef struct view__end {
    int in_count; /* rows within tolerance */
    int slackest;
    double slackest_n, tightest_n, off_centre_peak_n_m;
} view__end;
view__end view__end_of(const view__tensioning *done, double target_n, double tolerance);

/* Largest difference of one row's tension between two ends. */
double view__ends_apart(const view__tensioning *a, const view__tensioning *b);

#endif
