/* What was measured on a mock-up: pulls and the gauge's readings after each (docs/formats-fit.md). */
#ifndef GAME_APP_MEASURED_H
#define GAME_APP_MEASURED_H

#include <stdbool.h>
#include <stddef.h>

#include "tautrow/base/result.h"
#include "tautrow/mech/run.h"

enum { MEASURED_MAX_PULLS = 80, MEASURED_MAX_FILE = 262144 };

typedef struct measured_pull {
    int line;                     /* of the file, from 1 */
    int row;                      /* that was pulled, from 0 */
    double reading_n;             /* what the gauge showed when the pull ended */
    bool is_read[MECH_MAX_ROWS];  /* an empty cell is no reading */
    double read_n[MECH_MAX_ROWS]; /* of every row after the pull */
} measured_pull;

typedef struct measured {
    int pull_count;
    measured_pull pull[MEASURED_MAX_PULLS];
} measured;

/* Reads text[size] (UTF-8, ended by NUL) for a run of row_count rows; most_n: a reading above it is a slip. All errors
 * are listed with line, column and the name of the column as path. */
tr_result measured_read(const char *text, size_t size, int row_count, double most_n, measured *out, tr_diags *diags);

#endif
