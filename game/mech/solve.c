/* Tensions of all rows at once: damped Newton on the potential energy of posts and rows. docs/mechanics.md 3.
 *
 * The posts are held in a shape, that of some pulls of the rows; each row then has a tension by its own law. The shape
 * is right when pulls and tensions are the same. A row that goes slack has hardly any tension in any shape, so nothing
 * here runs into a bound at tension 0, and the energy is convex, so every Newton step leads downhill. */
#include "solve.h"

#include <math.h>

#include "bend.h"
#include "creep.h"
#include "dense.h"
#include "row.h"
#include "tautrow/base/assert.h"

enum { MAX_ITERATIONS = 100, MAX_CUTS = 30 };

/* A tension is found when the last full Newton step moved it by less than this share, of 1 kN at most. */
static const double TOLERANCE = 1e-9;
static const double FULL_TENSION_N = 1000.0;

/* The rows to be found, packed. */
typedef struct problem {
    const mech_run *run;
    mech__law law;
    int count;
    int row[MECH_MAX_ROWS];
    double goal_m[MECH_MAX_ROWS]; /* take-up less what the held rows' pull on the posts has used */
    double peak_n[MECH_MAX_ROWS];
} problem;

/* A shape of the posts and what the rows say to it. */
typedef struct trial {
    double pull_n[MECH_MAX_ROWS];    /* pulls that would hold the posts in this shape; any sign */
    double tension_n[MECH_MAX_ROWS]; /* tensions of the rows in it */
    double slope_m_n[MECH_MAX_ROWS]; /* of the row laws there */
    double misfit_m[MECH_MAX_ROWS];  /* what the tensions use up, posts included, less the goal */
} trial;

static double closing(const problem *p, int i, const double pull_n[])
{
    const double *flexibility = p->run->flexibility[p->row[i]];
    double sum = 0.0;
    for (int j = 0; j < p->count; j++) {
        sum += flexibility[p->row[j]] * pull_n[j];
    }
    return sum;
}

/* Finds the tensions for the shape; those in the trial are where to start looking. */
static void respond(const problem *p, trial *t)
{
    for (int i = 0; i < p->count; i++) {
        const double left = p->goal_m[i] - closing(p, i, t->pull_n);
        t->tension_n[i] = mech__law_tension(&p->law, left, p->peak_n[i], t->tension_n[i]);
    }
}

static void measure(const problem *p, trial *t)
{
    for (int i = 0; i < p->count; i++) {
        t->misfit_m[i] = mech__law_take_up(&p->law, t->tension_n[i], p->peak_n[i], &t->slope_m_n[i]) +
                         closing(p, i, t->tension_n) - p->goal_m[i];
    }
}

static bool factor_tangent(const problem *p, const trial *t, double matrix[][MECH_MAX_ROWS])
{
    for (int i = 0; i < p->count; i++) {
        for (int j = 0; j <= i; j++) {
            matrix[i][j] = p->run->flexibility[p->row[i]][p->row[j]];
        }
        matrix[i][i] += t->slope_m_n[i];
    }
    return mech__factor(matrix, p->count);
}

/* Change of the tensions that would take the misfits away if the laws of the rows were straight. */
static bool newton_step(const problem *p, const trial *t, double step[])
{
    double matrix[MECH_MAX_ROWS][MECH_MAX_ROWS];
    if (!factor_tangent(p, t, matrix)) {
        return false;
    }
    for (int i = 0; i < p->count; i++) {
        step[i] = -t->misfit_m[i];
    }
    mech__back_solve((const double(*)[MECH_MAX_ROWS])matrix, p->count, step);
    return true;
}

static bool is_settled(const problem *p, const trial *t, const double step[])
{
    for (int i = 0; i < p->count; i++) {
        if (!(fabs(step[i]) <= TOLERANCE * fmin(t->tension_n[i], FULL_TENSION_N))) {
            return false;
        }
    }
    return true;
}

/* Slope of the energy along a change of pulls: flexibility times (pull - tension), which is the misfit with its sign
 * turned, as each row's own law holds in every trial. */
static double slope_along(const problem *p, const trial *t, const double change_n[])
{
    double sum = 0.0;
    for (int i = 0; i < p->count; i++) {
        sum -= change_n[i] * t->misfit_m[i];
    }
    return sum;
}

/* Goes towards pulls that equal the stepped tensions. The energy is convex, so its slope along the way can only rise: a
 * point is good unless the slope has turned uphill by more than half of what it was downhill. Comparing slopes instead
 * of energies keeps this exact where energies differ by less than rounding. */
static bool advance(const problem *p, trial *t, const double step[])
{
    double change[MECH_MAX_ROWS];
    for (int i = 0; i < p->count; i++) {
        change[i] = t->tension_n[i] + step[i] - t->pull_n[i];
    }
    const double start = slope_along(p, t, change);
    double share = 1.0;
    trial next;
    for (int cut = 0; cut < MAX_CUTS && start < 0.0; cut++) {
        for (int i = 0; i < p->count; i++) {
            next.pull_n[i] = t->pull_n[i] + share * change[i];
            next.tension_n[i] = t->tension_n[i];
        }
        respond(p, &next);
        measure(p, &next);
        const double here = slope_along(p, &next, change);
        if (here <= -0.5 * start) {
            *t = next;
            return true;
        }
        share *= fmax(0.1, start / (start - here)); /* where the slope would be level if it rose evenly */
    }
    return false;
}

static mech_solution iterate(const problem *p, trial *t)
{
    mech_solution solution = {.converged = p->count == 0};
    respond(p, t);
    measure(p, t);
    while (!solution.converged && solution.iterations < MAX_ITERATIONS) {
        double step[MECH_MAX_ROWS];
        if (!newton_step(p, t, step)) {
            break;
        }
        solution.iterations++;
        solution.converged = is_settled(p, t, step);
        if (solution.converged) {
            for (int i = 0; i < p->count; i++) {
                t->tension_n[i] += step[i];
            }
            measure(p, t);
        } else if (!advance(p, t, step)) {
            break;
        }
    }
    for (int i = 0; i < p->count; i++) {
        solution.residual_m = fmax(solution.residual_m, fabs(t->misfit_m[i]));
    }
    return solution;
}

/* Where to start a row without tension: as if all rows had the same, so that the posts give by their row sum. */
static double first_guess(const problem *p, int i)
{
    double give = p->law.elastic_m_n;
    for (int j = 0; j < p->count; j++) {
        give += fabs(p->run->flexibility[p->row[i]][p->row[j]]);
    }
    return mech__law_guess(&p->law, p->goal_m[i], give);
}

static void pack(const mech_run *run, const mech_rows *rows, const bool is_held[], problem *p, trial *t)
{
    p->run = run;
    p->law = mech__row_law(run);
    p->count = 0;
    for (int row = 0; row < run->made_of.row_count; row++) {
        if (!rows->is_strung[row] || is_held[row]) {
            continue;
        }
        double goal = rows->take_up_m[row] - mech__crept_closing(run, rows, row);
        for (int other = 0; other < run->made_of.row_count; other++) {
            goal -= is_held[other] ? run->flexibility[row][other] * rows->tension_n[other] : 0.0;
        }
        p->row[p->count] = row;
        p->goal_m[p->count] = goal;
        p->peak_n[p->count] = rows->peak_n[row];
        p->count++;
    }
    for (int i = 0; i < p->count; i++) {
        const double found = rows->tension_n[p->row[i]];
        t->tension_n[i] = found > 0.0 && isfinite(found) ? found : first_guess(p, i);
        t->pull_n[i] = t->tension_n[i];
    }
}

static void unpack(const problem *p, const trial *t, const bool is_held[], mech_rows *rows)
{
    const int row_count = p->run->made_of.row_count;
    for (int row = 0; row < row_count; row++) {
        rows->tension_n[row] = is_held[row] ? rows->tension_n[row] : 0.0;
    }
    for (int i = 0; i < p->count; i++) {
        rows->tension_n[p->row[i]] = t->tension_n[i];
    }
    for (int row = 0; row < row_count; row++) {
        if (is_held[row]) {
            double take_up = mech__law_take_up(&p->law, rows->tension_n[row], rows->peak_n[row], NULL);
            for (int other = 0; other < row_count; other++) {
                take_up += p->run->flexibility[row][other] * rows->tension_n[other];
            }
            rows->take_up_m[row] = take_up + mech__crept_closing(p->run, rows, row);
        }
        rows->peak_n[row] = fmax(rows->peak_n[row], rows->tension_n[row]);
    }
}

mech_solution mech__solve(const mech_run *run, mech_rows *rows, const bool is_held[])
{
    if (run->made_of.bend_count > 0) {
        return mech__solve_bent(run, rows, is_held);
    }
    problem p;
    trial t;
    pack(run, rows, is_held, &p, &t);
    const mech_solution solution = iterate(&p, &t);
    if (solution.converged) {
        unpack(&p, &t, is_held, rows);
    }
    return solution;
}

mech_solution mech_run_solve(const mech_run *run, mech_rows *rows)
{
    static const bool none_held[MECH_MAX_ROWS];
    return mech__solve(run, rows, none_held);
}

mech_solution mech_run_pull(const mech_run *run, mech_rows *rows, int row, double tension_n)
{
    TR_ASSERT(row >= 0 && row < run->made_of.row_count);
    TR_ASSERT(tension_n > 0.0 && isfinite(tension_n));
    mech_rows pulled = *rows;
    bool is_held[MECH_MAX_ROWS] = {false};
    is_held[row] = true;
    pulled.is_strung[row] = true;
    pulled.tension_n[row] = tension_n;
    const mech_solution solution = mech__solve(run, &pulled, is_held);
    if (solution.converged) {
        *rows = pulled;
    }
    return solution;
}

double mech_run_take_up(const mech_run *run, const mech_rows *rows, int row, const double tension_n[])
{
    TR_ASSERT(row >= 0 && row < run->made_of.row_count && tension_n[row] > 0.0);
    if (run->made_of.bend_count > 0) {
        return mech__bent_take_up(run, rows, row, tension_n);
    }
    double take_up = mech_row_take_up(run, tension_n[row], fmax(rows->peak_n[row], tension_n[row]), NULL);
    for (int other = 0; other < run->made_of.row_count; other++) {
        take_up += run->flexibility[row][other] * tension_n[other];
    }
    return take_up + mech__crept_closing(run, rows, row);
}
