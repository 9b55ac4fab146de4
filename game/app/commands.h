/* The verbs of the command line. Each returns the exit code. */
#ifndef GAME_APP_COMMANDS_H
#define GAME_APP_COMMANDS_H

#include <stdbool.h>
#include <stdio.h>

#include "data.h"
#include "options.h"
#include "tautrow/base/hash.h"
#include "tautrow/record/attempt.h"

/* What every verb works with. Owned by main. */
typedef struct app_context {
    const app_options *options;
    const char *folder;
    tr_lang *lang;
    scenario_catalogue *catalogue;
} app_context;

/* Writes the debrief of an attempt on paper: a PDF file at path. digest: of its journal (app_digest). */
typedef tr_result app_printer(const app_context *context, const record_attempt *attempt, const score_card *card,
                              const char *digest, const char *path, char *why, size_t why_cap);

int app_check(const app_context *context);
int app_solve(const app_context *context);
int app_plan(const app_context *context);
/* print: handed in, as only the program that has a window can draw. */
int app_replay(const app_context *context, app_printer *print);
/* plan --compare */
int app_compare(const app_context *context);
int app_fit(const app_context *context);

/* ---- shared by the verbs ---------------------------------------------------------------------------------------- */

/* Prints findings as FILE:LINE:COLUMN: error: PATH: TEXT. */
void app_print_diags(const char *file, const tr_diags *diags, FILE *out);

/* The units to show: as asked for, else the scenario's. */
tr_system app_system(const app_context *context, const scenario *what);

/* Loads a scenario; NULL when it could not (already said on stderr). */
app_scenario *app_scenario_of(const app_context *context, const char *path);

/* Loads the one scenario that a verb works on; NULL when it could not (already said on stderr; *code is the exit code).
 */
app_scenario *app_one_scenario(const app_context *context, int *code);

/* The run with every row hanging ready: rows that the crew before has tensioned at their tension, all others joined and
 * straight (take-up 0). Rows are where the sheet asks for them. */
tr_result app_ready_run(const job_setup *setup, mech_run *run, mech_rows *rows, char *why, size_t why_cap);

/* Prints a filled-in text of the language file and a line feed. */
void app_say(const app_context *context, FILE *out, const char *key, const char *const args[], size_t count);

/* Quantity as text in one call; returns out. */
const char *app_quantity(double si, tr_dim dim, tr_system system, char out[48]);

/* What a journal's file is known by on paper: the SHA-256 of its bytes. */
void app_digest(const char *text, size_t size, char out[TR_HASH_TEXT]);

struct cJSON;
/* Prints a JSON value and frees it; the exit code is APP_EXIT_USAGE when memory ran out. */
int app_print_json(struct cJSON *json, int code);

/* Push that forces the gauge ball through the weakest gap as the rows stand, and the gap: 0 is deck to row 1,
 * row_count the top row to the rail. */
double app_weakest_gap(const mech_run *run, const mech_rows *rows, double ball_m, int *gap);

/* Rows outside tolerance, as a share of target: writes low[] and high[], returns how many of all strung rows are
 * within. */
typedef struct app_verdict {
    int strung, within;
    int low_count, high_count;
    int low[MECH_MAX_ROWS], high[MECH_MAX_ROWS];
    int lowest, highest; /* rows, -1 where none is strung */
} app_verdict;
app_verdict app_judge(const mech_rows *rows, int row_count, double target_n, double tolerance);

#endif
