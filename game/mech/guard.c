/* What the finished guard has to carry, how far its posts are used, and how wood creeps. docs/mechanics.md 9 and 10. */
#include "tautrow/mech/checks.h"

#include <math.h>

#include "ends.h"
#include "post.h"
#include "taut.h"

/* One row at mid-bay, rows_inside of which share the push. */
static mech_guard push_row(const mech_run *run, double tension_n, double bay_m, double rows_inside,
                           const mech_guard_asked *asked)
{
    const double ea_n = run->made_of.strand.ea_n;
    const double push_n = asked->infill_n / fmax(rows_inside, 1.0); /* never less than the one row that is pushed */
    const double sag_m = mech_string_deflection(tension_n, ea_n, bay_m, push_n);
    return (mech_guard){.post_moment_n_m = asked->rail_n * run->post_height_m,
                        .row_push_n = push_n,
                        .row_sag_m = sag_m,
                        .row_tension_n = mech__taut_tension(tension_n, ea_n, bay_m, sag_m)};
}

/* Height of the strip that a row carries, square to the rows. Deck and rail carry their half of the gap beside them;
 * above a top row without a rail there is nothing to push on. */
static double strip_of(const mech_run *run, int row)
{
    return 0.5 * (mech_run_gap(run, row) + mech_run_gap(run, row + 1));
}

mech_guard mech_run_guard(const mech_run *run, const mech_rows *rows, const mech_guard_asked *asked)
{
    mech_guard worst = {.post_moment_n_m = asked->rail_n * run->post_height_m};
    for (int row = 0; row < run->made_of.row_count; row++) {
        for (int part = 0; part <= run->made_of.bend_count && rows->is_strung[row]; part++) {
            const mech__part bays = mech__part_of(run, part);
            const double tension_n = mech_row_bay_tension(run, rows, row, bays.first);
            const double inside = asked->infill_side_m / strip_of(run, row);
            const mech_guard here = push_row(run, tension_n, mech__longest_bay(run, bays), inside, asked);
            worst.row_push_n = fmax(worst.row_push_n, here.row_push_n);
            worst.row_sag_m = fmax(worst.row_sag_m, here.row_sag_m);
            worst.row_tension_n = fmax(worst.row_tension_n, here.row_tension_n);
        }
    }
    return worst;
}

/* Stress over the reference value. In a corner post both ways of bending meet, fb_x/Fb + fb_y/Fb (the interaction of
 * NDS 2018 3.9.2 without axial force and its magnifiers; from memory). */
static double bending_use(const mech_run *run, const mech_loads *loads, int end, double bending_pa)
{
    const mech_post *post = &run->made_of.post[end];
    const double modulus = post->breadth_m * post->depth_m * post->depth_m / 6.0;
    const bool is_corner = run->made_of.corner.is_there && (int)run->made_of.corner.end == end;
    return (is_corner ? loads->corner_pa : fabs(loads->peak_moment_n_m[end]) / modulus) / bending_pa;
}

/* A base is shown against one capacity in any direction: moments square to each other add up as arrows do. */
static double base_use(const mech_run *run, const mech_loads *loads, int end, double base_n_m)
{
    const bool is_corner = run->made_of.corner.is_there && (int)run->made_of.corner.end == end;
    const double along = loads->base_moment_n_m[end];
    const double across = loads->across_moment_n_m;
    return (is_corner ? sqrt(along * along + across * across) : fabs(along)) / base_n_m;
}

/* What the row pulls its bend's post by: the two tensions beside it, put together at the angle by which it turns. */
static double bend_pull(const mech_run *run, const mech_rows *rows, int row, int bend)
{
    const int bay = run->made_of.bend[bend].line_post;
    const double near_n = mech_row_bay_tension(run, rows, row, bay);
    const double far_n = mech_row_bay_tension(run, rows, row, bay + 1);
    const double along_n = near_n - far_n * cos(run->made_of.bend[bend].angle_rad);
    const double across_n = far_n * sin(run->made_of.bend[bend].angle_rad);
    return run->cos_slope * hypot(along_n, across_n);
}

/* Push of the rail that keeps the head of the post where it is. */
static double head_push(const mech_run *run, const mech_post *post, const double pull_n[])
{
    const double height_m = run->post_height_m;
    const double base = mech__post_base_give(post);
    double moves = 0.0;
    double tips = 0.0;
    for (int row = 0; row < run->made_of.row_count; row++) {
        const double at_m = run->made_of.row_height_m[row];
        moves += mech__post_give(post, run->made_of.creep, height_m, at_m) * pull_n[row];
        tips += at_m * pull_n[row];
    }
    if (isinf(base)) { /* pinned: the rail takes what a lever gives it */
        return tips / height_m;
    }
    const double give = mech__post_give(post, run->made_of.creep, height_m, height_m) + base * height_m * height_m;
    return (moves + base * height_m * tips) / give;
}

static double bend_moment(const mech_run *run, const double pull_n[], double head_n, double height_m)
{
    double moment = -head_n * (run->post_height_m - height_m);
    for (int row = 0; row < run->made_of.row_count; row++) {
        moment += pull_n[row] * fmax(run->made_of.row_height_m[row] - height_m, 0.0);
    }
    return moment;
}

mech_bend_post mech_bend_post_load(const mech_run *run, const mech_rows *rows, int bend, const mech_post_limits *limits)
{
    mech_post post = run->made_of.post[MECH_NEAR];
    mech_bend_post load = {.pull_n = 0.0};
    double pull_n[MECH_MAX_ROWS] = {0.0};
    post.depth_m = run->made_of.post[MECH_NEAR].breadth_m;
    post.breadth_m = run->made_of.post[MECH_NEAR].depth_m;
    for (int row = 0; row < run->made_of.row_count; row++) {
        pull_n[row] = bend_pull(run, rows, row, bend);
        load.pull_n += pull_n[row];
    }
    const double head_n = run->made_of.rail.is_fitted ? head_push(run, &post, pull_n) : 0.0;
    load.base_moment_n_m = load.peak_moment_n_m = bend_moment(run, pull_n, head_n, 0.0);
    for (int row = 0; row < run->made_of.row_count; row++) {
        const double here = bend_moment(run, pull_n, head_n, run->made_of.row_height_m[row]);
        load.peak_moment_n_m = fabs(here) > fabs(load.peak_moment_n_m) ? here : load.peak_moment_n_m;
    }
    const double modulus = post.breadth_m * post.depth_m * post.depth_m / 6.0;
    load.bending = fabs(load.peak_moment_n_m) / modulus / limits->bending_pa;
    load.base = fabs(load.base_moment_n_m) / limits->base_n_m;
    return post.is_rigid ? (mech_bend_post){.pull_n = load.pull_n} : load;
}

double mech_guard_base_use(const mech_run *run, const mech_loads *loads, const mech_guard *guard, mech_end end,
                           const mech_post_limits *limits)
{
    const mech_structure *made = &run->made_of;
    const bool is_corner = made->corner.is_there && made->corner.end == end;
    const double along = fabs(loads->base_moment_n_m[end]);
    const double across = is_corner ? fabs(loads->across_moment_n_m) : 0.0;
    const double push = guard->post_moment_n_m;
    const double outward = hypot(along, across + push);
    const double worst = is_corner ? fmax(outward, hypot(along + push, across)) : outward;
    return made->post[end].is_rigid ? 0.0 : worst / limits->base_n_m;
}

mech_utilisation mech_post_utilisation(const mech_run *run, const mech_loads *loads,
                                       const mech_post_limits limits[MECH_ENDS])
{
    mech_utilisation use = {.worst = 0.0};
    const mech_corner *corner = &run->made_of.corner;
    for (int end = 0; end < MECH_ENDS; end++) {
        const bool is_corner = corner->is_there && (int)corner->end == end;
        const double rail_n = fmax(fabs(loads->rail_n), is_corner ? fabs(run->corner_rail_n) : 0.0);
        use.rail_joint = fmax(use.rail_joint, rail_n / limits[end].rail_joint_n);
        if (!run->made_of.post[end].is_rigid) {
            use.bending[end] = bending_use(run, loads, end, limits[end].bending_pa);
            use.base[end] = base_use(run, loads, end, limits[end].base_n_m);
        }
        use.worst = fmax(use.worst, fmax(use.bending[end], use.base[end]));
    }
    use.worst = fmax(use.worst, use.rail_joint);
    return use;
}

double mech_bending_adjusted(double tabulated_pa, double size_factor, double wet_factor, double duration_factor)
{
    return tabulated_pa * size_factor * wet_factor * duration_factor;
}

double mech_creep(double k_def, double exponent, double days)
{
    /* Eurocode 5 gives k_def for the end of a 50 year life; the power law in between is an assumption. */
    const double design_life_days = 50.0 * 365.25;
    return days > 0.0 ? k_def * pow(days / design_life_days, exponent) : 0.0;
}
