/* The inverse problem: what to pull each row to at its turn so that all end equal. docs/mechanics.md 4. */
#ifndef TAUTROW_MECH_PULLSHEET_H
#define TAUTROW_MECH_PULLSHEET_H

#include <stddef.h>

#include "tautrow/mech/run.h"

enum { MECH_MAX_ROUNDS = 6, MECH_MAX_PULLS = MECH_MAX_ROWS * MECH_MAX_ROUNDS };

/* What a row may not pass, and how far it can be taken up. */
typedef struct mech_limits {
    double tension_n; /* largest reading allowed at any turn */
    double take_up_m; /* largest take-up that the turnbuckle has; INFINITY = not limited */
} mech_limits;

typedef struct mech_pull {
    int row;
    int round;        /* from 0 */
    double reading_n; /* pull the row to this at its turn */
    double take_up_m; /* take-up of the row when it has been pulled */
} mech_pull;

typedef enum mech_sheet_status {
    MECH_SHEET_OK,
    MECH_SHEET_OVER_TENSION, /* pull[worst] needs a reading above the limit */
    MECH_SHEET_NO_TRAVEL,    /* pull[worst] needs more take-up than there is */
    MECH_SHEET_DIVERGED      /* no sheet was found */
} mech_sheet_status;

typedef struct mech_sheet {
    mech_sheet_status status;
    int worst;                  /* index of the pull with the highest reading (or the offending one) */
    double peak_n;              /* highest reading */
    double off_centre_peak_n_m; /* largest off-centre load on the way */
    int pull_count;
    mech_pull pull[MECH_MAX_PULLS];
    mech_rows end; /* the state in which it ends */
} mech_sheet;

/* Computes the sheet for pulling the rows order[0..count) once a round to share[r] of target_n (share[rounds-1] is
 * normally 1), starting from start. Rows strung but not in the order keep their take-ups and get what they get. The whole
 * sheet is computed even when a limit is passed, so that the offending reading can be shown. */
void mech_pull_sheet(const mech_run *run, const mech_rows *start, const int order[], int count, const double share[],
                     int rounds, double target_n, mech_limits limits, mech_sheet *sheet);

/* Same pulls by the rule of thumb: every row once to the target at its turn. sheet->end shows what is left of it. */
void mech_pull_once(const mech_run *run, const mech_rows *start, const int order[], int count, double target_n,
                    mech_sheet *sheet);

/* How many trips through the order, each bringing every row to target_n, until all rows of the order are within
 * tolerance (a share, 0.05 = 5 %) of it; max_rounds + 1 when not reached. */
int mech_rounds_needed(const mech_run *run, const mech_rows *start, const int order[], int count, double target_n,
                       double tolerance, int max_rounds);

/* Rules for the order; writes row indices of 0..row_count-1. The rule of the trade (common practice, no source):
 * the middle row first, then the one above it, the one below, and so on outward. */
typedef enum mech_order { MECH_MIDDLE_OUT, MECH_TOP_DOWN, MECH_BOTTOM_UP, MECH_OUTSIDE_IN, MECH_ORDER_LIST } mech_order;
void mech_order_rows(mech_order rule, int row_count, int order[MECH_MAX_ROWS]);

#endif
