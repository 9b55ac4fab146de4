/* A run for tests of fittings: 1/8 in 1x19 strand between rigid posts, so that a row behaves like a bar held at both
 * ends. */
#ifndef TESTS_PLAIN_RUN_H
#define TESTS_PLAIN_RUN_H

#include "near.h"
#include "tautrow/base/units.h"
#include "tautrow/mech/run.h"

#define PLAIN_EA_N        782230.0 /* 1/8 in 1x19: 6.017 mm2 (geometry) at 130 GPa (EN 1993-1-11:2006 Table 3.1) */
#define PLAIN_MASS_KG_M   0.0475   /* bare metal at 7.9, geometry */
#define PLAIN_TORSION_NM2 0.07425  /* helix theory of a cross-laid 1x19 strand, docs/mechanics.md */

static inline mech_structure plain_structure(double length_m, int bays)
{
    mech_structure made = {.row_count = 1, .row_height_m = {0.5}, .insert_n_m = (double)INFINITY, .bay_count = bays};
    made.post[MECH_NEAR].is_rigid = true;
    made.post[MECH_FAR].is_rigid = true;
    made.strand = (mech_strand){.ea_n = PLAIN_EA_N,
                                .mass_kg_m = PLAIN_MASS_KG_M,
                                .diameter_m = 0.125 * TR_INCH_M,
                                .breaking_n = 2100.0 * TR_LBF_N,
                                .thermal_1_k = 16e-6,
                                .bedding_half_n = 500.0,
                                .torsion_n_m2 = PLAIN_TORSION_NM2};
    for (int bay = 0; bay < bays; bay++) {
        made.bay_m[bay] = length_m / bays;
    }
    return made;
}

static inline void plain_build(const mech_structure *made, mech_run *run)
{
    char why[256] = "";
    if (mech_run_build(made, run, why, sizeof why) != TR_OK) {
        fail_msg("%s", why);
    }
}

static inline mech_rows plain_rows(const mech_run *run, double tension_n)
{
    mech_rows rows = {.is_strung = {true}};
    assert_true(mech_run_pull(run, &rows, 0, tension_n).converged);
    return rows;
}

#endif
