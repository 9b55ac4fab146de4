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

/* Section modulus for bending along the run. */
static double section_modulus(const mech_post *post)
{
    return post->breadth_m * post->depth_m * post->depth_m / 6.0;
}

mech_utilisation mech_post_utilisation(const mech_run *run, const mech_loads *loads,
                                       const mech_post_limits limits[MECH_ENDS])
{
    mech_utilisation use = {.worst = 0.0};
    for (int end = 0; end < MECH_ENDS; end++) {
        const mech_post *post = &run->made_of.post[end];
        use.rail_joint = fmax(use.rail_joint, fabs(loads->rail_n) / limits[end].rail_joint_n);
        if (!post->is_rigid) {
            const double stress_pa = fabs(loads->peak_moment_n_m[end]) / section_modulus(post);
            use.bending[end] = stress_pa / limits[end].bending_pa;
            use.base[end] = fabs(loads->base_moment_n_m[end]) / limits[end].base_n_m;
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
