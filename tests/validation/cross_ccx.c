/* Whole states against CalculiX, a general finite-element program that shares no formula with ours: random runs, strung
 * and pulled one row after another, then compared row by row. cross_ccx FOLDER; ends with 77 (skipped) without ccx. */
#include <math.h>
#include <stdio.h>

#include "deck.h"
#include "everyday.h"
#include "tautrow/base/assert.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"
#include "tautrow/mech/pullsheet.h"

enum { RUNS = 72, SKIPPED = 77, PASSES = 4 };

/* Share of the target tension that states may differ by. The aim is 1e-3; both programs solve the same equations, so
 * what is left is the seven digits that ccx prints. */
static const double LIMIT = 1e-5;
static const double TOP_LIMIT = 1e-4; /* of the deflection of a top */

/* Largest differences as shares of the target, and where. */
typedef struct worst {
    double row, rail, top;
    int row_run, row_at;
    double least_tension; /* share of the target in the slackest row of all */
} worst;

/* Strings all rows and pulls them to readings about the target until none is nearly slack. */
static bool string_and_pull(tr_rng *rng, const mech_run *run, double target_n, mech_rows *rows)
{
    int order[MECH_MAX_ROWS];
    const int count = run->made_of.row_count;
    mech_order_rows((mech_order)(int)(MECH_ORDER_LIST * tr_rng_uniform(rng)), count, order);
    *rows = (mech_rows){.is_strung = {false}};
    for (int pass = 0; pass < PASSES; pass++) {
        double least = (double)INFINITY;
        for (int turn = 0; turn < count; turn++) {
            const double reading = target_n * everyday_spread(rng, 0.7, 1.4);
            TR_ASSERT(mech_run_pull(run, rows, order[turn], reading).converged);
        }
        for (int row = 0; row < count; row++) {
            least = fmin(least, rows->tension_n[row]);
        }
        if (least > 0.1 * target_n) {
            return true;
        }
    }
    return false;
}

static void compare(const mech_run *run, const mech_rows *rows, const deck_answer *other, double target_n, int number,
                    worst *w)
{
    mech_loads loads;
    double top[MECH_MAX_ROWS + 1];
    mech_run_loads(run, rows, &loads);
    for (int row = 0; row < run->made_of.row_count; row++) {
        const double off = fabs(rows->tension_n[row] - other->tension_n[row]) / target_n;
        if (!(off <= w->row)) {
            w->row = everyday_worse(w->row, off);
            w->row_run = number;
            w->row_at = row;
        }
        w->least_tension = fmin(w->least_tension, rows->tension_n[row] / target_n);
    }
    w->rail = everyday_worse(w->rail, fabs(loads.rail_n - other->rail_n) / target_n);
    for (int end = 0; end < MECH_ENDS; end++) {
        mech_run_deflection(run, rows, (mech_end)end, top);
        const double scale = fmax(1e-4, fabs(top[run->made_of.row_count])); /* a tenth of a millimetre at least */
        w->top = everyday_worse(w->top, fabs(top[run->made_of.row_count] - other->top_m[end]) / scale);
    }
}

/* One random run. The state is solved afresh from its take-ups, as the pulls found them. */
static bool cross(tr_rng *rng, const char *folder, int number, worst *w)
{
    static mech_run run;
    mech_structure made = everyday_linear(everyday_run(rng));
    if (number % 4 == 3) { /* every fourth stands on a stair */
        made.slope_rad = everyday_spread(rng, 0.2, 0.7);
        made.upper = tr_rng_uniform(rng) < 0.5 ? MECH_NEAR : MECH_FAR;
    }
    everyday_build(&made, &run);
    const double target_n = everyday_spread(rng, 500.0, 1800.0);
    mech_rows rows;
    if (!string_and_pull(rng, &run, target_n, &rows)) {
        return false;
    }
    for (int row = 0; row < made.row_count; row++) {
        rows.tension_n[row] = 0.0;
    }
    TR_ASSERT(mech_run_solve(&run, &rows).converged);
    char name[32];
    deck_answer other;
    (void)tr_format(name, sizeof name, "run%02d", number);
    const bool is_answered =
        deck_write(folder, name, &run, &rows, 1) && deck_run(folder, name) && deck_read(folder, name, &run, &other);
    if (!is_answered) {
        (void)printf("run %d: no answer, see %s/%s.inp and ccx.out\n", number, folder, name);
        w->row = (double)INFINITY;
        return true;
    }
    compare(&run, &rows, &other, target_n, number, w);
    return true;
}

int main(int argc, char **argv)
{
    char why[TR_TEXT_CAP] = "";
    if (argc != 2 || tr_folder_make(argv[1], why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "usage: cross_ccx FOLDER\n%s\n", why);
        return 2;
    }
    if (!deck_is_there()) {
        (void)printf("skipped: ccx (Debian package calculix-ccx) is not installed\n");
        return SKIPPED;
    }
    tr_rng rng = tr_rng_seed(20);
    worst w = {.least_tension = (double)INFINITY};
    int compared = 0;
    int drawn = 0;
    while (compared < RUNS && drawn < 4 * RUNS) {
        compared += cross(&rng, argv[1], compared, &w);
        drawn++;
    }
    (void)printf("%d runs compared with CalculiX, %d drawn\n", compared, drawn);
    (void)printf("worst tension: %.6f %% of the target (run %d, row %d; its files are in %s)\n", 100.0 * w.row,
                 w.row_run, w.row_at + 1, argv[1]);
    (void)printf("worst rail force: %.6f %% of the target; worst deflection of a top: %.6f %%\n", 100.0 * w.rail,
                 100.0 * w.top);
    (void)printf("slackest row: %.1f %% of the target\n", 100.0 * w.least_tension);
    return compared == RUNS && w.row <= LIMIT && w.rail <= LIMIT && w.top <= TOP_LIMIT ? 0 : 1;
}
