/* What the finished guard has to carry, how far its posts are used, and how wood creeps. docs/mechanics.md 9 and 10. */
#include "tautrow/mech/checks.h"

#include <math.h>

#include "taut.h"

static double longest_bay(const mech_structure *structure)
{
    double longest = 0.0;
    for (int i = 0; i < structure->bay_count; i++) {
        longest = fmax(longest, structure->bay_m[i]);
    }
    return longest;
}

mech_guard mech_guard_load(const mech_run *run, double tension_n, double spacing_m, double rail_push_n,
                           double infill_push_n, double infill_side_m)
{
    const double bay_m = longest_bay(&run->made_of);
    const double ea_n = run->made_of.strand.ea_n;
    const double rows_inside = fmax(infill_side_m / spacing_m, 1.0); /* never less than the one row that is pushed */
    const double push_n = infill_push_n / rows_inside;
    const double sag_m = mech_string_deflection(tension_n, ea_n, bay_m, push_n);
    return (mech_guard){.post_moment_n_m = rail_push_n * run->post_height_m,
                        .row_push_n = push_n,
                        .row_sag_m = sag_m,
                        .row_tension_n = mech__taut_tension(tension_n, ea_n, bay_m, sag_m)};
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
