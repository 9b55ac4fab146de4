/* What the rows do to posts and rail once their tensions are known: statics, no more unknowns. docs/mechanics.md 3. */
#include <math.h>

#include "ends.h"

/* A row with a bend pulls its two ends unlike. */
static double bent_deflection(const mech_run *run, const mech_rows *rows, mech_end end, int level)
{
    double out_m = 0.0;
    for (int row = 0; row < run->made_of.row_count; row++) {
        for (int pulled = 0; pulled < MECH_ENDS; pulled++) {
            out_m += mech__end_shape(run, end, level, (mech_end)pulled, row) *
                     mech_row_end_tension(run, rows, row, (mech_end)pulled);
        }
    }
    return out_m;
}

void mech_run_deflection(const mech_run *run, const mech_rows *rows, mech_end end, double out_m[MECH_MAX_ROWS + 1])
{
    for (int level = 0; level <= run->made_of.row_count; level++) {
        out_m[level] = rows->crept.post_m[end][level];
        if (run->made_of.bend_count > 0) {
            out_m[level] += bent_deflection(run, rows, end, level);
            continue;
        }
        for (int row = 0; row < run->made_of.row_count; row++) {
            out_m[level] += run->shape[end][level][row] * rows->tension_n[row];
        }
    }
}

/* Bending moment at a height from all that pulls and pushes above it, positive where the rows bend the post inward. */
static double moment_at(const mech_run *run, const mech_rows *rows, mech_end end, double rail_n, double height_m)
{
    double moment = -rail_n * (run->post_height_m - height_m);
    for (int row = 0; row < run->made_of.row_count; row++) {
        const double arm = run->made_of.row_height_m[row] - height_m;
        const double pull_n = end == MECH_NEAR ? rows->tension_n[row] : mech_row_end_tension(run, rows, row, end);
        moment += arm > 0.0 ? pull_n * arm : 0.0;
    }
    return run->cos_slope * moment;
}

/* Between the rows the moment is straight, so the largest stands at the base or at a row. */
static void find_moments(const mech_run *run, const mech_rows *rows, mech_end end, mech_loads *loads)
{
    if (end == MECH_FAR && run->made_of.bend_count == 0) { /* both posts take the same */
        loads->base_moment_n_m[end] = loads->base_moment_n_m[MECH_NEAR];
        loads->peak_moment_n_m[end] = loads->peak_moment_n_m[MECH_NEAR];
        loads->peak_height_m[end] = loads->peak_height_m[MECH_NEAR];
        return;
    }
    const double base = moment_at(run, rows, end, loads->rail_n, 0.0);
    double peak = base;
    double peak_height = 0.0;
    for (int row = 0; row < run->made_of.row_count; row++) {
        const double moment = moment_at(run, rows, end, loads->rail_n, run->made_of.row_height_m[row]);
        if (fabs(moment) > fabs(peak)) {
            peak = moment;
            peak_height = run->made_of.row_height_m[row];
        }
    }
    loads->base_moment_n_m[end] = base;
    loads->peak_moment_n_m[end] = peak;
    loads->peak_height_m[end] = peak_height;
}

static double rail_from(const mech_run *run, const mech_rows *rows, int row)
{
    if (run->made_of.bend_count == 0) {
        return rows->tension_n[row] * run->rail_share[row];
    }
    return rows->tension_n[row] * run->end_rail_share[MECH_NEAR][row] +
           mech_row_end_tension(run, rows, row, MECH_FAR) * run->end_rail_share[MECH_FAR][row];
}

static void find_base(const mech_run *run, const mech_rows *rows, mech_end end, mech_loads *loads)
{
    double pull_n = loads->total_n;
    if (end == MECH_FAR && run->made_of.bend_count > 0) {
        pull_n = 0.0;
        for (int row = 0; row < run->made_of.row_count; row++) {
            pull_n += mech_row_end_tension(run, rows, row, end);
        }
    }
    const double left_n = pull_n - loads->rail_n;
    loads->base_shear_n[end] = run->cos_slope * left_n;
    loads->axial_n[end] =
        (end == run->made_of.upper ? 1.0 : -1.0) * run->sin_slope * left_n + 0.0; /* no -0 on a landing */
}

/* The moment of the second run in the corner post. */
static double across_at(const mech_run *run, double height_m)
{
    const mech_structure *made = &run->made_of;
    double moment = -run->corner_rail_n * fmax(run->post_height_m - height_m, 0.0);
    for (int row = 0; row < made->row_count; row++) {
        const double arm = made->row_height_m[row] + made->corner.raise_m - height_m;
        moment += made->corner.tension_n * fmax(arm, 0.0);
    }
    return moment;
}

/* Both ways of bending meet in an edge of the section. */
static double stress_at(const mech_run *run, const mech_rows *rows, double rail_n, double height_m)
{
    const mech_end end = run->made_of.corner.end;
    const mech_post *post = &run->made_of.post[end];
    const double along = fabs(moment_at(run, rows, end, rail_n, height_m)) / post->depth_m;
    const double across = fabs(across_at(run, height_m)) / post->breadth_m;
    return 6.0 * (along + across) / (post->breadth_m * post->depth_m);
}

/* Between rows both moments are straight, so their sizes add up to most at a row, of ours or of the second run. */
static void find_corner(const mech_run *run, const mech_rows *rows, mech_loads *loads)
{
    const mech_structure *made = &run->made_of;
    loads->across_shear_n = made->corner.tension_n * made->row_count - run->corner_rail_n;
    loads->across_moment_n_m = across_at(run, 0.0);
    if (made->post[made->corner.end].is_rigid) {
        return;
    }
    loads->corner_pa = stress_at(run, rows, loads->rail_n, 0.0);
    for (int row = 0; row < made->row_count; row++) {
        const double ours_m = made->row_height_m[row];
        const double theirs_m = fmax(ours_m + made->corner.raise_m, 0.0);
        loads->corner_pa = fmax(loads->corner_pa, stress_at(run, rows, loads->rail_n, ours_m));
        loads->corner_pa = fmax(loads->corner_pa, stress_at(run, rows, loads->rail_n, theirs_m));
    }
}

void mech_run_loads(const mech_run *run, const mech_rows *rows, mech_loads *loads)
{
    const mech_structure *made = &run->made_of;
    const double middle = 0.5 * (made->row_height_m[0] + made->row_height_m[made->row_count - 1]);
    double off_centre = 0.0;
    *loads = (mech_loads){0};
    for (int row = 0; row < made->row_count; row++) {
        loads->total_n += rows->tension_n[row];
        loads->rail_n += rail_from(run, rows, row);
        off_centre += rows->tension_n[row] * (made->row_height_m[row] - middle);
    }
    loads->rail_n += rows->crept.rail_n;
    loads->off_centre_n_m = fabs(run->cos_slope * off_centre);
    for (int end = 0; end < MECH_ENDS; end++) {
        find_base(run, rows, (mech_end)end, loads);
        find_moments(run, rows, (mech_end)end, loads);
    }
    if (made->corner.is_there) {
        find_corner(run, rows, loads);
    }
}
