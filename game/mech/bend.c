/* Tensions of rows that rub in bends, and of the posts that they pull. docs/mechanics.md 12.
 *
 * As in solve.c the posts are held in a shape, that of some pulls at the ends of the rows; each row then has one state of
 * its own, what its bends do included (chain.c), and the shape is right when its pulls and those of the rows are the
 * same. Damped Newton on the parts that reach a post leads there. */
#include "bend.h"

#include <limits.h>
#include <math.h>

#include "chain.h"
#include "creep.h"
#include "ends.h"
#include "tautrow/base/assert.h"

enum {
    MOST_AT_ENDS = 2 * MECH_MAX_ROWS, /* groups that reach an end */
    MAX_STEPS = 60,
    MAX_CUTS = 8,
    MOST_CHANGES = 3000,
    TRIES_TOGETHER = 4,
    MOST_PIECES = 256
};

static const double TOLERANCE = 1e-9;
static const double FULL_TENSION_N = 1000.0;
static const double NEAR_ENOUGH = 1e-6;

typedef struct work {
    const mech_run *run;
    mech__parts parts;
    int chain_count;
    mech__chain chain[MECH_MAX_ROWS];
    bool bends_stay;                                                    /* do what they do, right or wrong */
    double closing[MECH_ENDS][MECH_MAX_ROWS][MECH_ENDS][MECH_MAX_ROWS]; /* of an end at a row per newton at an end */
} work;

/* ---- what is given --------------------------------------------------------------------------------------------- */

static void condense(work *w)
{
    const int count = w->run->made_of.row_count;
    w->parts = mech__parts_of(w->run);
    for (int place = 0; place < MECH_ENDS * MECH_ENDS * count * count; place++) {
        const int j = place % count;
        const int i = place / count % count;
        const mech_end end = (mech_end)(place / (count * count) % MECH_ENDS);
        const mech_end pulled = (mech_end)(place / (count * count * MECH_ENDS));
        w->closing[end][i][pulled][j] = w->run->cos_slope * mech__end_shape(w->run, end, i, pulled, j);
    }
}

static double crept(const work *w, const mech_rows *rows, int row, mech_end end)
{
    return w->run->cos_slope * rows->crept.post_m[end][row];
}

/* Where to start: as it was, or as if the whole row had one tension. */
static double first_guess(const work *w, const mech__chain *c)
{
    const mech__law law = mech__row_law(w->run);
    return c->is_held ? c->tension_n[0] : mech__law_guess(&law, c->goal_m, law.elastic_m_n);
}

static void read_chain(const work *w, const mech_rows *rows, int row, bool is_held, mech__chain *c)
{
    *c = (mech__chain){.row = row, .is_held = is_held, .goal_m = rows->take_up_m[row]};
    for (int part = 0; part < w->parts.count; part++) {
        c->peak_n[part] = part == 0 ? rows->peak_n[row] : rows->beyond_peak_n[row][part - 1];
        const double found_n = part == 0 ? rows->tension_n[row] : rows->beyond_n[row][part - 1];
        c->tension_n[part] = found_n > 0.0 && isfinite(found_n) ? found_n : 0.0;
    }
    const double guess_n = first_guess(w, c);
    for (int bend = 0; bend + 1 < w->parts.count; bend++) {
        c->was_passed_m[bend] = c->passed_m[bend] = rows->passed_m[row][bend];
        c->does[bend] = mech__likely_slide(&w->parts, c, bend);
    }
    for (int part = 0; part < w->parts.count; part++) {
        c->tension_n[part] = c->tension_n[part] > 0.0 ? c->tension_n[part] : guess_n;
    }
    c->pull_n[MECH_NEAR] = c->tension_n[0];
    c->pull_n[MECH_FAR] = c->tension_n[w->parts.count - 1];
}

static void read_rows(work *w, const mech_rows *rows, const bool is_held[])
{
    w->chain_count = 0;
    for (int row = 0; row < w->run->made_of.row_count; row++) {
        if (rows->is_strung[row]) {
            read_chain(w, rows, row, is_held[row], &w->chain[w->chain_count++]);
        }
    }
}

/* ---- the posts ------------------------------------------------------------------------------------------------- */

static double end_tension(const work *w, const mech__chain *c, mech_end end)
{
    return c->tension_n[end == MECH_NEAR ? 0 : w->parts.count - 1];
}

/* How far a post has come towards a row: by the pulls, or by the tensions as they are. */
static double closing_at(const work *w, int row, mech_end end, bool by_pull)
{
    double sum = 0.0;
    for (int k = 0; k < w->chain_count; k++) {
        const mech__chain *c = &w->chain[k];
        for (int pulled = 0; pulled < MECH_ENDS; pulled++) {
            const double n = by_pull ? c->pull_n[pulled] : end_tension(w, c, (mech_end)pulled);
            sum += w->closing[end][row][pulled][c->row] * n;
        }
    }
    return sum;
}

/* State of every row for the shape of the posts under the pulls; returns how far pulls and tensions are apart. */
static double respond(work *w, const mech_rows *rows)
{
    double apart = 0.0;
    for (int k = 0; k < w->chain_count; k++) {
        mech__chain *c = &w->chain[k];
        double post_m[MECH_ENDS];
        for (int end = 0; end < MECH_ENDS; end++) {
            post_m[end] = crept(w, rows, c->row, (mech_end)end) + closing_at(w, c->row, (mech_end)end, true);
        }
        (w->bends_stay ? mech__chain_answer : mech__chain_settle)(&w->parts, c, post_m);
        for (int end = 0; end < MECH_ENDS; end++) {
            const double gap_n = c->pull_n[end] - end_tension(w, c, (mech_end)end);
            apart += gap_n * gap_n;
        }
    }
    return apart;
}

/* An unknown of Newton's step: a group that reaches an end. */
typedef struct unknown {
    mech__chain *of;
    mech__group *g;
} unknown;

static int list_unknowns(work *w, unknown list[MOST_AT_ENDS])
{
    int count = 0;
    for (int k = 0; k < w->chain_count; k++) {
        mech__chain *c = &w->chain[k];
        for (int i = 0; i < c->group_count; i++) {
            mech__group *g = &c->group[i];
            if (!g->is_given && (mech__reaches(&w->parts, g, MECH_NEAR) || mech__reaches(&w->parts, g, MECH_FAR))) {
                list[count++] = (unknown){c, g};
            }
        }
    }
    return count;
}

static double end_ratio(const mech__group *g, mech_end end)
{
    return end == MECH_NEAR ? 1.0 : g->ratio[g->last];
}

/* How far the ends of group a come together per newton in the first part of group b. */
static double between(const work *w, const unknown *a, const unknown *b)
{
    double sum = 0.0;
    for (int end = 0; end < MECH_ENDS; end++) {
        for (int pulled = 0; pulled < MECH_ENDS && mech__reaches(&w->parts, a->g, (mech_end)end); pulled++) {
            if (mech__reaches(&w->parts, b->g, (mech_end)pulled)) {
                sum += w->closing[end][a->of->row][pulled][b->of->row] * end_ratio(b->g, (mech_end)pulled);
            }
        }
    }
    return sum;
}

/* Gauss with the largest pivot: friction makes the matrix unsymmetric. */
static bool eliminate(double matrix[][MOST_AT_ENDS], int n, double vector[])
{
    TR_ASSERT(n >= 0 && n <= MOST_AT_ENDS);
    for (int k = 0; k < n; k++) {
        int best = k;
        for (int i = k + 1; i < n; i++) {
            best = fabs(matrix[i][k]) > fabs(matrix[best][k]) ? i : best;
        }
        if (!(fabs(matrix[best][k]) > 0.0) || !isfinite(matrix[best][k])) {
            return false;
        }
        for (int j = k; j < n && best != k; j++) {
            const double kept = matrix[k][j];
            matrix[k][j] = matrix[best][j];
            matrix[best][j] = kept;
        }
        const double kept = vector[k];
        vector[k] = vector[best];
        vector[best] = kept;
        for (int i = k + 1; i < n; i++) {
            const double share = matrix[i][k] / matrix[k][k];
            for (int j = k + 1; j < n; j++) {
                matrix[i][j] -= share * matrix[k][j];
            }
            vector[i] -= share * vector[k];
        }
    }
    for (int i = n - 1; i >= 0; i--) {
        for (int j = i + 1; j < n; j++) {
            vector[i] -= matrix[i][j] * vector[j];
        }
        vector[i] /= matrix[i][i];
    }
    return true;
}

/* Change of the tensions that closes the gap between them and the pulls, all laws taken as straight. */
static bool newton_step(const work *w, const unknown list[], int count, double step_n[])
{
    double matrix[MOST_AT_ENDS][MOST_AT_ENDS];
    for (int i = 0; i < count; i++) {
        step_n[i] = 0.0;
        for (int end = 0; end < MECH_ENDS; end++) {
            const int row = list[i].of->row;
            if (mech__reaches(&w->parts, list[i].g, (mech_end)end)) {
                step_n[i] += closing_at(w, row, (mech_end)end, true) - closing_at(w, row, (mech_end)end, false);
            }
        }
        for (int j = 0; j < count; j++) {
            matrix[i][j] = between(w, &list[i], &list[j]);
        }
        matrix[i][i] += list[i].g->slope_m_n;
    }
    return eliminate(matrix, count, step_n);
}

/* The last step is small, and the rows have been asked what their bends do very near to where it leads. */
static bool is_settled(const work *w, const unknown list[], int count, const double step_n[])
{
    for (int k = 0; k < w->chain_count; k++) {
        for (int end = 0; end < MECH_ENDS; end++) {
            const double now_n = end_tension(w, &w->chain[k], (mech_end)end);
            if (!(fabs(now_n - w->chain[k].pull_n[end]) <= NEAR_ENOUGH * fmax(now_n, 1.0))) {
                return false;
            }
        }
    }
    for (int i = 0; i < count; i++) {
        if (!(fabs(step_n[i]) <= TOLERANCE * fmin(list[i].g->lead_n, FULL_TENSION_N))) {
            return false;
        }
    }
    return true;
}

/* Tensions of all parts with the step added to their groups. */
static void add_step(const unknown list[], int count, const double step_n[])
{
    for (int i = 0; i < count; i++) {
        const mech__group *g = list[i].g;
        for (int part = g->first; part <= g->last; part++) {
            list[i].of->tension_n[part] += g->ratio[part] * step_n[i];
        }
    }
}

/* Where the step would take the pulls: to the stepped tensions, which may be below nothing on the way. */
static void aim(const work *w, const unknown list[], int count, const double step_n[],
                double goal_n[MECH_MAX_ROWS][MECH_ENDS])
{
    for (int k = 0; k < w->chain_count; k++) {
        const mech__chain *c = &w->chain[k];
        for (int end = 0; end < MECH_ENDS; end++) {
            goal_n[k][end] = end_tension(w, c, (mech_end)end);
            for (int i = 0; i < count; i++) {
                const bool is_its = list[i].of == c && mech__reaches(&w->parts, list[i].g, (mech_end)end);
                goal_n[k][end] += is_its ? end_ratio(list[i].g, (mech_end)end) * step_n[i] : 0.0;
            }
        }
    }
}

/* Goes towards pulls that equal the stepped tensions, as far as that brings the two nearer. At the edge between
 * sticking and sliding a short way may have to do without. */
static void advance(work *w, const mech_rows *rows, const unknown list[], int count, const double step_n[],
                    double *apart)
{
    double from_n[MECH_MAX_ROWS][MECH_ENDS];
    double goal_n[MECH_MAX_ROWS][MECH_ENDS];
    aim(w, list, count, step_n, goal_n);
    for (int k = 0; k < w->chain_count; k++) {
        for (int end = 0; end < MECH_ENDS; end++) {
            from_n[k][end] = w->chain[k].pull_n[end];
        }
    }
    double share = 1.0;
    for (int cut = 0; cut < MAX_CUTS; cut++) {
        for (int k = 0; k < w->chain_count; k++) {
            for (int end = 0; end < MECH_ENDS; end++) {
                w->chain[k].pull_n[end] = from_n[k][end] + share * (goal_n[k][end] - from_n[k][end]);
            }
        }
        const double now = respond(w, rows);
        if (now < *apart || now == 0.0 || cut + 1 == MAX_CUTS) {
            *apart = now;
            return;
        }
        share *= 0.5;
    }
}

static bool find_tensions(work *w, const mech_rows *rows, int *iterations)
{
    double apart = respond(w, rows);
    for (int step = 0; step < MAX_STEPS; step++) {
        unknown list[MOST_AT_ENDS];
        double step_n[MOST_AT_ENDS] = {0.0};
        const int count = list_unknowns(w, list);
        if (!newton_step(w, list, count, step_n)) {
            return false;
        }
        (*iterations)++;
        if (is_settled(w, list, count, step_n)) {
            add_step(list, count, step_n);
            return true;
        }
        advance(w, rows, list, count, step_n, &apart);
    }
    return false;
}

/* ---- one bend at a time ---------------------------------------------------------------------------------------- */

/* What all bends do being settled, the state is smooth: pulls, tensions and the cable that has passed by it. */
static bool find_with_bends_as_they_are(work *w, const mech_rows *rows, int *iterations)
{
    w->bends_stay = true;
    const bool is_found = find_tensions(w, rows, iterations);
    w->bends_stay = false;
    for (int k = 0; k < w->chain_count; k++) {
        for (int end = 0; end < MECH_ENDS; end++) {
            w->chain[k].pull_n[end] = end_tension(w, &w->chain[k], (mech_end)end);
        }
    }
    for (int k = 0; k < w->chain_count; k++) {
        mech__chain *c = &w->chain[k];
        mech__chain_passed(&w->parts, c, crept(w, rows, c->row, MECH_FAR) + closing_at(w, c->row, MECH_FAR, true));
    }
    return is_found;
}

/* Changes what the first wrong bend does, or all of them; returns how many are wrong. */
static int correct_bends(work *w, bool is_first_only)
{
    int wrong = 0;
    for (int k = 0; k < w->chain_count; k++) {
        mech__chain *c = &w->chain[k];
        for (int bend = 0; bend + 1 < w->parts.count; bend++) {
            const mech__slide right = mech__corrected(&w->parts, c, bend);
            wrong += right != c->does[bend];
            c->does[bend] = is_first_only && wrong > 1 ? c->does[bend] : right;
        }
    }
    return wrong;
}

/* Where posts sway easily with their rail, a little change of shape turns the bends of all rows at once, which turns the
 * posts back again: shape by shape that does not end. Here the bends keep to what they do until the state for it is found.
 * All that are wrong are then changed together as long as they get fewer, else the first alone, which goes round no
 * circles (least-index pivoting of a linear complementarity problem: Murty 1974, from memory; ours is nearly linear). */
static bool find_bend_by_bend(work *w, const mech_rows *rows, int *iterations)
{
    int fewest = INT_MAX;
    int tries = 0; /* since they last got fewer */
    for (int change = 0; change < MOST_CHANGES; change++) {
        if (!find_with_bends_as_they_are(w, rows, iterations)) {
            return false;
        }
        const int wrong = correct_bends(w, tries >= TRIES_TOGETHER);
        if (wrong == 0) {
            return true;
        }
        tries = wrong < fewest ? 0 : tries + 1;
        fewest = wrong < fewest ? wrong : fewest;
    }
    return false;
}

/* ---- the whole ------------------------------------------------------------------------------------------------- */

/* With the tensions found: cable passed, take-up of a held row; returns how far the row misses its take-up. */
static double finish_chain(const work *w, const mech_rows *rows, mech__chain *c)
{
    double far_m = crept(w, rows, c->row, MECH_FAR) + closing_at(w, c->row, MECH_FAR, false);
    double needs_m = crept(w, rows, c->row, MECH_NEAR) + closing_at(w, c->row, MECH_NEAR, false);
    mech__chain_passed(&w->parts, c, far_m);
    needs_m += mech__law_take_up(&w->parts.law[0], c->tension_n[0], c->peak_n[0], NULL) + c->passed_m[0];
    c->goal_m = c->is_held ? needs_m : c->goal_m;
    return fabs(needs_m - c->goal_m);
}

static void write_chain(const work *w, const mech__chain *c, mech_rows *rows)
{
    rows->take_up_m[c->row] = c->goal_m;
    rows->tension_n[c->row] = c->tension_n[0];
    rows->peak_n[c->row] = fmax(c->peak_n[0], c->tension_n[0]);
    for (int bend = 0; bend + 1 < w->parts.count; bend++) {
        rows->beyond_n[c->row][bend] = c->tension_n[bend + 1];
        rows->beyond_peak_n[c->row][bend] = fmax(c->peak_n[bend + 1], c->tension_n[bend + 1]);
        rows->passed_m[c->row][bend] = c->passed_m[bend];
    }
}

/* A row that is not strung has no tension, and its next cable has passed nowhere yet. */
static void clear_unstrung(const work *w, mech_rows *rows)
{
    for (int row = 0; row < w->run->made_of.row_count; row++) {
        for (int bend = 0; bend + 1 < w->parts.count && !rows->is_strung[row]; bend++) {
            rows->passed_m[row][bend] = rows->beyond_n[row][bend] = 0.0;
        }
        rows->tension_n[row] = rows->is_strung[row] ? rows->tension_n[row] : 0.0;
    }
}

static mech_solution solve_at_once(const mech_run *run, mech_rows *rows, const bool is_held[])
{
    work w = {.run = run};
    mech_solution solution = {.converged = false};
    condense(&w);
    read_rows(&w, rows, is_held);
    solution.converged = find_tensions(&w, rows, &solution.iterations);
    if (!solution.converged) {
        read_rows(&w, rows, is_held);
        solution.converged = find_bend_by_bend(&w, rows, &solution.iterations);
    }
    for (int k = 0; k < w.chain_count; k++) {
        solution.residual_m = fmax(solution.residual_m, finish_chain(&w, rows, &w.chain[k]));
    }
    if (solution.converged) {
        for (int k = 0; k < w.chain_count; k++) {
            write_chain(&w, &w.chain[k], rows);
        }
        clear_unstrung(&w, rows);
    }
    return solution;
}

/* The take-up that belongs to the state in which a row is found. */
static double take_up_of(const mech_run *run, const mech_rows *rows, int row)
{
    const mech__part bays = mech__part_of(run, 0);
    const mech__law law = mech__bays_law(run, bays.first, bays.last, 0.5);
    double take_up_m = mech__law_take_up(&law, rows->tension_n[row], rows->peak_n[row], NULL) + rows->passed_m[row][0];
    double post_m = rows->crept.post_m[MECH_NEAR][row];
    for (int other = 0; other < run->made_of.row_count; other++) {
        for (int pulled = 0; pulled < MECH_ENDS; pulled++) {
            post_m += mech__end_shape(run, MECH_NEAR, row, (mech_end)pulled, other) *
                      mech_row_end_tension(run, rows, other, (mech_end)pulled);
        }
    }
    return take_up_m + run->cos_slope * post_m;
}

/* Slack from which a row without tension is drawn up, as a share of its length (assumption; any will do). */
static const double HANGING = 0.002;

/* The same move in equal pieces. A row that had no tension yet comes from hanging slack. */
static mech_solution solve_in_pieces(const mech_run *run, mech_rows *rows, const bool is_held[], const mech_rows *from,
                                     int pieces)
{
    mech_rows now = *from;
    mech_solution solution = {.converged = true};
    double start_m[MECH_MAX_ROWS] = {0.0};
    for (int row = 0; row < run->made_of.row_count; row++) {
        start_m[row] = from->tension_n[row] > 0.0 ? take_up_of(run, from, row)
                                                  : fmin(rows->take_up_m[row], -HANGING * run->length_m);
    }
    for (int piece = 1; piece <= pieces && solution.converged; piece++) {
        const double share = (double)piece / pieces;
        for (int row = 0; row < run->made_of.row_count; row++) {
            now.is_strung[row] = rows->is_strung[row];
            now.take_up_m[row] = start_m[row] + share * (rows->take_up_m[row] - start_m[row]);
            if (is_held[row]) {
                now.tension_n[row] = from->tension_n[row] + share * (rows->tension_n[row] - from->tension_n[row]);
            }
        }
        const int before = solution.iterations;
        solution = solve_at_once(run, &now, is_held);
        solution.iterations += before;
    }
    if (solution.converged) {
        *rows = now;
    }
    return solution;
}

/* From where a move starts: the rows as they were found. The tension of a held row has been overwritten, but its
 * take-up has not, so that the state can be found again. */
static mech_rows before_move(const mech_run *run, const mech_rows *rows, const bool is_held[])
{
    static const bool none_held[MECH_MAX_ROWS];
    mech_rows from = *rows;
    for (int row = 0; row < run->made_of.row_count; row++) {
        if (is_held[row]) {
            from.is_strung[row] = rows->beyond_n[row][0] > 0.0; /* it was before */
            from.tension_n[row] = rows->beyond_n[row][0];
        }
    }
    (void)solve_at_once(run, &from, none_held);
    return from;
}

/* Normally one straight step. Where rows change from hanging to tight and back on the way, so that even that is not
 * found (three of a million random moves), smaller ones lead there. */
mech_solution mech__solve_bent(const mech_run *run, mech_rows *rows, const bool is_held[])
{
    mech_solution solution = solve_at_once(run, rows, is_held);
    if (solution.converged) {
        return solution;
    }
    const mech_rows from = before_move(run, rows, is_held);
    for (int pieces = 4; pieces <= MOST_PIECES && !solution.converged; pieces *= 4) {
        const int before = solution.iterations;
        solution = solve_in_pieces(run, rows, is_held, &from, pieces);
        solution.iterations += before;
    }
    return solution;
}

double mech__bent_take_up(const mech_run *run, const mech_rows *rows, int row, const double tension_n[])
{
    const mech__parts parts = mech__parts_of(run);
    double take_up_m = 0.0;
    double ratio = 1.0;
    for (int part = 0; part < parts.count; part++) {
        ratio *= part > 0 ? exp(-parts.grip[part - 1]) : 1.0;
        const double here_n = ratio * tension_n[row];
        const double peak_n = part == 0 ? rows->peak_n[row] : rows->beyond_peak_n[row][part - 1];
        take_up_m += mech__law_take_up(&parts.law[part], here_n, fmax(here_n, peak_n), NULL);
    }
    for (int other = 0; other < run->made_of.row_count; other++) {
        for (int end = 0; end < MECH_ENDS; end++) {
            const double near_m = mech__end_shape(run, (mech_end)end, row, MECH_NEAR, other);
            const double far_m = mech__end_shape(run, (mech_end)end, row, MECH_FAR, other);
            take_up_m += run->cos_slope * (near_m + far_m * ratio) * tension_n[other];
        }
    }
    return take_up_m + mech__crept_closing(run, rows, row);
}
