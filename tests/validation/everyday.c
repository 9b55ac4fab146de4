/* Made-up numbers in the range of the trade: demo data. */
#include "everyday.h"

#include <math.h>
#include <stdio.h>

#include "tautrow/base/assert.h"
#include "tautrow/base/units.h"

double everyday_spread(tr_rng *rng, double low, double high)
{
    return low * pow(high / low, tr_rng_uniform(rng));
}

static bool chance(tr_rng *rng, double share)
{
    return tr_rng_uniform(rng) < share;
}

static mech_post post(tr_rng *rng)
{
    mech_post p = {.depth_m = everyday_spread(rng, 0.0889, 0.18),
                   .breadth_m = everyday_spread(rng, 0.0889, 0.18),
                   .elastic_pa = everyday_spread(rng, 6e9, 20e9),
                   .base_n_m_rad = everyday_spread(rng, 15e3, 500e3)};
    p.shear_pa = p.elastic_pa / everyday_spread(rng, 11.0, 20.0);
    if (chance(rng, 0.2)) {
        p.base_n_m_rad = (double)INFINITY;
    }
    return p;
}

static void ends(tr_rng *rng, mech_structure *made)
{
    made->post[MECH_NEAR] = post(rng);
    made->post[MECH_FAR] = post(rng);
    made->post[MECH_FAR].is_rigid = chance(rng, 0.25);
    if (made->rail.is_fitted && chance(rng, 0.25)) {
        made->post[chance(rng, 0.5) ? MECH_NEAR : MECH_FAR].base_n_m_rad = 0.0;
    }
}

static mech_strand strand(tr_rng *rng)
{
    const double diameter_m = everyday_spread(rng, 0.003, 0.005);
    const double area_m2 = 0.76 * TR_PI / 4.0 * diameter_m * diameter_m;
    return (mech_strand){.ea_n = 130e9 * area_m2,
                         .mass_kg_m = 7900.0 * area_m2,
                         .diameter_m = diameter_m,
                         .breaking_n = 1500e6 * area_m2,
                         .thermal_1_k = 16e-6,
                         .bedding_strain = everyday_spread(rng, 5e-5, 1e-3),
                         .bedding_half_n = everyday_spread(rng, 100.0, 1000.0)};
}

mech_structure everyday_run(tr_rng *rng)
{
    mech_structure made = {.row_count = 3 + (int)(13.0 * tr_rng_uniform(rng)), .strand = strand(rng)};
    const double length = everyday_spread(rng, 1.2, 9.0);
    made.bay_count = (int)ceil(length / 1.3);
    for (int bay = 0; bay < made.bay_count; bay++) {
        made.bay_m[bay] = length / made.bay_count;
    }
    double height = 0.02;
    for (int row = 0; row < made.row_count; row++) {
        height += everyday_spread(rng, 0.06, 0.11);
        made.row_height_m[row] = height;
    }
    made.rail = (mech_rail){.is_fitted = chance(rng, 0.7),
                            .height_m = height + everyday_spread(rng, 0.03, 0.12),
                            .ea_n = everyday_spread(rng, 8e6, 80e6),
                            .joint_n_m = {everyday_spread(rng, 1e6, 2e7), everyday_spread(rng, 1e6, 2e7)}};
    ends(rng, &made);
    made.insert_n_m = everyday_spread(rng, 1e6, 3e7);
    made.warming_k = 30.0 * (tr_rng_uniform(rng) - 0.5);
    return made;
}

mech_structure everyday_linear(mech_structure made)
{
    made.strand.mass_kg_m = 1e-12;
    made.strand.bedding_strain = 0.0;
    made.warming_k = 0.0;
    return made;
}

mech_structure everyday_fixed(int row_count)
{
    mech_structure made = {.row_count = row_count, .bay_count = 3, .bay_m = {1.2192, 1.2192, 1.2192}};
    const mech_post six = {
        .depth_m = 0.1397, .breadth_m = 0.1397, .elastic_pa = 11.4e9, .shear_pa = 11.4e9 / 16.0, .base_n_m_rad = 100e3};
    made.post[MECH_NEAR] = made.post[MECH_FAR] = six;
    for (int row = 0; row < row_count; row++) {
        made.row_height_m[row] = 0.0762 + 0.762 * row / (row_count > 1 ? row_count - 1 : 1);
    }
    made.rail = (mech_rail){.is_fitted = true, .height_m = 0.9144, .ea_n = 30e6, .joint_n_m = {5e6, 5e6}};
    made.strand = (mech_strand){.ea_n = 782230.0,
                                .mass_kg_m = 0.0475,
                                .diameter_m = 0.003175,
                                .breaking_n = 9341.0,
                                .thermal_1_k = 16e-6,
                                .bedding_strain = 3e-4,
                                .bedding_half_n = 445.0};
    made.insert_n_m = 5e6;
    return made;
}

void everyday_build(const mech_structure *made, mech_run *run)
{
    char why[256] = "";
    const bool is_built = mech_run_build(made, run, why, sizeof why) == TR_OK;
    if (!is_built) {
        (void)fprintf(stderr, "refused: %s\n", why);
    }
    TR_ASSERT(is_built);
}

double everyday_worse(double worst, double off)
{
    if (isnan(off)) {
        return (double)INFINITY;
    }
    return off > worst ? off : worst;
}
