/* Condenses a run to what a solve needs: how far each row's two ends come together under a newton in any row.
 *
 * Rows pull both posts with the same force, so the only unknown that statics leaves open is the rail's compression R.
 * It follows from one equation, the closing of the two tops, and no stiffness matrix is needed. docs/mechanics.md 1. */
#include "tautrow/mech/run.h"

#include <math.h>

#include "post.h"
#include "sound.h"

/* The two posts and the rail as seen at rail height; forces and closings are level ones here, also on a slope. */
typedef struct tops {
    double height_m;
    double give_m_n;             /* closing of the tops per newton of R, bases held; INFINITY without a rail */
    double base_give[MECH_ENDS]; /* rotation of each base per newton metre; INFINITY = pinned */
} tops;

/* What one newton in a row does besides bending the clamped posts. */
typedef struct answer {
    double rail_n;
    double base_turn_rad[MECH_ENDS];
} answer;

static double give(const mech_run *run, int end, double at_m, double load_m)
{
    return mech__post_give(&run->made_of.post[end], run->made_of.creep, at_m, load_m);
}

static tops look_at_tops(const mech_run *run)
{
    const double level = run->cos_slope * run->cos_slope; /* a rail on a slope holds level things apart only so far */
    tops top = {.height_m = run->post_height_m, .give_m_n = 1.0 / (mech__rail_stiffness(&run->made_of) * level)};
    for (int end = 0; end < MECH_ENDS; end++) {
        top.give_m_n += give(run, end, top.height_m, top.height_m);
        top.base_give[end] = mech__post_base_give(&run->made_of.post[end]);
    }
    return top;
}

/* A base turns by its give times the moment left for it, y - H R. With the closing of the tops
 *     R give = reach + H (turn of both bases)
 * this is (y give - H reach) / (give + H^2 both), written so that nothing cancels however soft a base is. */
static answer answer_to_row(const mech_run *run, const tops *top, double height_m)
{
    if (isinf(top->give_m_n)) {
        return (answer){0.0, {top->base_give[MECH_NEAR] * height_m, top->base_give[MECH_FAR] * height_m}};
    }
    const double reach = give(run, MECH_NEAR, top->height_m, height_m) + give(run, MECH_FAR, top->height_m, height_m);
    const double left = height_m * top->give_m_n - top->height_m * reach;
    const double square = top->height_m * top->height_m;
    answer found = {0.0, {0.0, 0.0}};
    for (int end = 0; end < MECH_ENDS; end++) {
        if (isinf(top->base_give[end])) { /* a pin takes no moment, so R is statics and this base turns freely */
            found.rail_n = height_m / top->height_m;
            found.base_turn_rad[end] = left / square;
            return found;
        }
    }
    const double both = top->base_give[MECH_NEAR] + top->base_give[MECH_FAR];
    const double whole = top->give_m_n + square * both;
    found.rail_n = (reach + top->height_m * both * height_m) / whole;
    for (int end = 0; end < MECH_ENDS; end++) {
        found.base_turn_rad[end] = top->base_give[end] * left / whole;
    }
    return found;
}

/* The same for one newton at one end alone, the other post being only pushed by the rail:
 *     R (give + H^2 both) = give of the pulled post between the top and the row + H (its base give) y */
static void answer_to_end(mech_run *run, const tops *top, mech_end pulled, int row)
{
    const mech_end other = pulled == MECH_NEAR ? MECH_FAR : MECH_NEAR;
    const double height_m = run->made_of.row_height_m[row];
    const double reach = give(run, (int)pulled, top->height_m, height_m);
    const double square = top->height_m * top->height_m;
    const double here = top->base_give[pulled];
    const double there = top->base_give[other];
    double *rail = &run->end_rail_share[pulled][row];
    double *turn_here = &run->end_turn[pulled][pulled][row];
    double *turn_there = &run->end_turn[pulled][other][row];
    if (isinf(top->give_m_n)) {
        *rail = 0.0;
        *turn_here = here * height_m;
        *turn_there = 0.0;
    } else if (isinf(here)) {
        *rail = height_m / top->height_m;
        *turn_here = (height_m * (top->give_m_n + square * there) - top->height_m * reach) / square;
        *turn_there = -there * height_m;
    } else if (isinf(there)) {
        *rail = 0.0;
        *turn_here = here * height_m;
        *turn_there = -(reach + top->height_m * here * height_m) / top->height_m;
    } else {
        const double whole = top->give_m_n + square * (here + there);
        *rail = (reach + top->height_m * here * height_m) / whole;
        *turn_here = here * (height_m * (top->give_m_n + square * there) - top->height_m * reach) / whole;
        *turn_there = -there * top->height_m * *rail;
    }
}

static void condense_column(mech_run *run, const tops *top, int column)
{
    const mech_structure *made = &run->made_of;
    const double load_m = made->row_height_m[column];
    const answer found = answer_to_row(run, top, load_m);
    run->rail_share[column] = found.rail_n;
    for (int end = 0; end < MECH_ENDS; end++) {
        for (int level = 0; level <= made->row_count; level++) {
            const double at_m = level < made->row_count ? made->row_height_m[level] : run->post_height_m;
            const double bend_m_n = give(run, end, at_m, load_m) -
                                    give(run, end, at_m, run->post_height_m) * found.rail_n +
                                    found.base_turn_rad[end] * at_m;
            run->shape[end][level][column] = run->cos_slope * bend_m_n;
        }
    }
}

/* Maxwell: the closing of row i by a newton in row j is that of j by i. Rounding is evened out so that it holds
 * exactly. */
static void add_posts(mech_run *run)
{
    for (int i = 0; i < run->made_of.row_count; i++) {
        for (int j = 0; j <= i; j++) {
            const double here = run->shape[MECH_NEAR][i][j] + run->shape[MECH_FAR][i][j];
            const double there = run->shape[MECH_NEAR][j][i] + run->shape[MECH_FAR][j][i];
            run->flexibility[i][j] = run->flexibility[j][i] = run->cos_slope * (0.5 * (here + there));
        }
    }
}

static void condense(const mech_structure *structure, mech_run *run)
{
    run->made_of = *structure;
    run->cos_slope = cos(structure->slope_rad);
    run->sin_slope = sin(structure->slope_rad);
    run->length_m = 0.0;
    for (int bay = 0; bay < structure->bay_count; bay++) {
        run->length_m += structure->bay_m[bay];
    }
    run->post_height_m =
        structure->rail.is_fitted ? structure->rail.height_m : structure->row_height_m[structure->row_count - 1];
    const tops top = look_at_tops(run);
    for (int column = 0; column < structure->row_count; column++) {
        condense_column(run, &top, column);
        answer_to_end(run, &top, MECH_NEAR, column);
        answer_to_end(run, &top, MECH_FAR, column);
    }
    add_posts(run);
}

/* The second run of a corner as a run of its own: the corner post turned by a quarter, one like it at the other end. */
static mech_structure second_run(const mech_structure *made)
{
    mech_structure other = *made;
    mech_post *post = &other.post[MECH_NEAR];
    *post = made->post[made->corner.end];
    post->depth_m = made->post[made->corner.end].breadth_m;
    post->breadth_m = made->post[made->corner.end].depth_m;
    other.post[MECH_FAR] = *post;
    other.slope_rad = 0.0;
    other.bend_count = 0;
    other.bay_count = 1;
    other.bay_m[0] = made->corner.length_m;
    other.corner.is_there = false;
    for (int row = 0; row < made->row_count; row++) {
        other.row_height_m[row] += made->corner.raise_m;
    }
    return other;
}

static void add_corner(mech_run *run)
{
    run->corner_rail_n = run->corner_out_m = 0.0;
    if (!run->made_of.corner.is_there) {
        return;
    }
    const mech_structure other = second_run(&run->made_of);
    mech_run second;
    condense(&other, &second);
    for (int level = 0; level <= other.row_count; level++) {
        double out_m = 0.0;
        for (int row = 0; row < other.row_count; row++) {
            out_m += second.shape[MECH_NEAR][level][row] * run->made_of.corner.tension_n;
        }
        run->corner_out_m = fmax(run->corner_out_m, fabs(out_m));
    }
    for (int row = 0; row < other.row_count; row++) {
        run->corner_rail_n += second.rail_share[row] * run->made_of.corner.tension_n;
    }
}

tr_result mech_run_build(const mech_structure *structure, mech_run *run, char *why, size_t why_cap)
{
    if (!mech__is_sound(structure, why, why_cap)) {
        return TR_INVALID;
    }
    if (structure->corner.is_there) {
        const mech_structure other = second_run(structure);
        if (!mech__is_sound(&other, why, why_cap)) {
            return TR_INVALID;
        }
    }
    condense(structure, run);
    add_corner(run);
    return TR_OK;
}

double mech_run_gap(const mech_run *run, int gap)
{
    const mech_structure *made = &run->made_of;
    const int top = made->row_count;
    if (gap == top) {
        return made->rail.is_fitted ? run->cos_slope * (made->rail.height_m - made->row_height_m[top - 1]) : 0.0;
    }
    return run->cos_slope * (made->row_height_m[gap] - (gap > 0 ? made->row_height_m[gap - 1] : 0.0));
}
