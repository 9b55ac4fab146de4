/* The solver against the GNU Scientific Library on the same equations, sag and bedding-in included, and both against
 * tensions chosen beforehand: take-ups are worked out from these, so the answer is known. */
#include <math.h>
#include <stdio.h>

#include "everyday.h"
#include "second_solver.h"

enum { RUNS = 200 };

/* Share of a tension that the two may differ by: the tolerance to which docs/mechanics.md 3 solves. */
static const double LIMIT = 1e-9;

typedef struct worst {
    double between;     /* ours and the library's */
    double ours, other; /* each from the tensions chosen */
    int most_steps, most_other_steps;
} worst;

/* Tensions from nearly slack to tight, and the take-ups that belong to them. */
static void choose(tr_rng *rng, const mech_run *run, double chosen_n[], mech_rows *rows)
{
    const int count = run->made_of.row_count;
    *rows = (mech_rows){.is_strung = {false}};
    for (int row = 0; row < count; row++) {
        chosen_n[row] = everyday_spread(rng, 20.0, 3000.0);
    }
    for (int row = 0; row < count; row++) {
        rows->is_strung[row] = true;
        rows->take_up_m[row] = mech_row_take_up(run, chosen_n[row], 0.0, NULL);
        for (int other = 0; other < count; other++) {
            rows->take_up_m[row] += run->flexibility[row][other] * chosen_n[other];
        }
    }
}

static bool cross(tr_rng *rng, worst *w)
{
    static mech_run run;
    const mech_structure made = everyday_run(rng);
    everyday_build(&made, &run);
    double chosen_n[MECH_MAX_ROWS] = {0.0};
    double other_n[MECH_MAX_ROWS];
    mech_rows rows;
    int steps = 0;
    choose(rng, &run, chosen_n, &rows);
    for (int row = 0; row < made.row_count; row++) {
        other_n[row] = 500.0;
    }
    const bool is_found = second_solver_state(&run, rows.take_up_m, other_n, &steps);
    const mech_solution solution = mech_run_solve(&run, &rows);
    if (!is_found || !solution.converged) {
        (void)printf("not solved by %s\n", is_found ? "us" : "the library");
        return false;
    }
    for (int row = 0; row < made.row_count; row++) {
        w->between = everyday_worse(w->between, fabs(rows.tension_n[row] / other_n[row] - 1.0));
        w->ours = everyday_worse(w->ours, fabs(rows.tension_n[row] / chosen_n[row] - 1.0));
        w->other = everyday_worse(w->other, fabs(other_n[row] / chosen_n[row] - 1.0));
    }
    w->most_steps = solution.iterations > w->most_steps ? solution.iterations : w->most_steps;
    w->most_other_steps = steps > w->most_other_steps ? steps : w->most_other_steps;
    return true;
}

int main(void)
{
    tr_rng rng = tr_rng_seed(30);
    worst w = {0.0, 0.0, 0.0, 0, 0};
    int solved = 0;
    for (int round = 0; round < RUNS; round++) {
        solved += cross(&rng, &w);
    }
    (void)printf("%d of %d runs solved by both, from nothing\n", solved, RUNS);
    (void)printf("worst difference: %.2e between the two, %.2e ours and %.2e theirs from the tensions chosen\n",
                 w.between, w.ours, w.other);
    (void)printf("most steps: %d ours, %d theirs\n", w.most_steps, w.most_other_steps);
    return solved == RUNS && w.between <= LIMIT && w.ours <= LIMIT ? 0 : 1;
}
