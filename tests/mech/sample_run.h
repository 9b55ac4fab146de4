/* Runs that several tests of the mechanics start from, and random ones. */
#ifndef TESTS_MECH_SAMPLE_RUN_H
#define TESTS_MECH_SAMPLE_RUN_H

#include "near.h"
#include "tautrow/base/rng.h"
#include "tautrow/base/units.h"
#include "tautrow/mech/run.h"

/* 3.5 in square post of E 1.6e6 psi (Douglas Fir-Larch No. 2, NDS Supplement), no shear, near end of the published
 * examples; the far end does not move. Strand without weight worth naming and without bedding-in: values.md's rows are
 * plain springs of EA/L. 1/8 in 1x19: EA 175,852 lbf. */
static inline mech_structure sample_plain(double row_length_m)
{
    return (mech_structure){
        .post = {{.depth_m = 3.5 * TR_INCH_M,
                  .breadth_m = 3.5 * TR_INCH_M,
                  .elastic_pa = 1.6e6 * TR_PSI_PA,
                  .shear_pa = (double)INFINITY,
                  .base_n_m_rad = (double)INFINITY},
                 {.is_rigid = true}},
        .strand = {.ea_n = 175852.0 * TR_LBF_N,
                   .mass_kg_m = 1e-12,
                   .diameter_m = 0.125 * TR_INCH_M,
                   .breaking_n = 9000.0},
        .insert_n_m = (double)INFINITY,
        .bay_count = 1,
        .bay_m = {row_length_m},
    };
}

/* The same post as a simple beam: pinned foot, top held by a tight rail against the far end. */
static inline void sample_prop_top(mech_structure *made, double height_m, double base_n_m_rad)
{
    made->post[MECH_NEAR].base_n_m_rad = base_n_m_rad;
    made->rail = (mech_rail){
        .is_fitted = true, .height_m = height_m, .ea_n = 1e20, .joint_n_m = {(double)INFINITY, (double)INFINITY}};
}

static inline void sample_rows(mech_structure *made, int count, double first_m, double spacing_m)
{
    made->row_count = count;
    for (int row = 0; row < count; row++) {
        made->row_height_m[row] = first_m + spacing_m * row;
    }
}

/* An everyday run: 11 rows 3 in apart, 1/8 in 1x19 strand (EA 782 kN, 0.0475 kg/m), softwood posts with a rail.
 * Stiffness of base, joints and inserts and the bedding-in are demo data. */
static inline mech_structure sample_run(double length_m, double side_m)
{
    mech_structure made = sample_plain(length_m);
    for (int end = 0; end < MECH_ENDS; end++) {
        made.post[end] = (mech_post){
            .depth_m = side_m, .breadth_m = side_m, .elastic_pa = 9e9, .shear_pa = 9e9 / 16.0, .base_n_m_rad = 40e3};
    }
    made.rail = (mech_rail){.is_fitted = true, .height_m = 39.0 * TR_INCH_M, .ea_n = 30e6, .joint_n_m = {5e6, 5e6}};
    made.strand.mass_kg_m = 0.0475;
    made.strand.thermal_1_k = 16e-6;
    made.strand.bedding_strain = 4e-4;
    made.strand.bedding_half_n = 300.0;
    made.insert_n_m = 8e6;
    const int bays = (int)ceil(length_m / 1.3);
    made.bay_count = bays;
    for (int bay = 0; bay < bays; bay++) {
        made.bay_m[bay] = length_m / bays;
    }
    sample_rows(&made, 11, 3.5 * TR_INCH_M, 3.0 * TR_INCH_M);
    return made;
}

static inline mech_run sample_build(const mech_structure *made)
{
    mech_run run;
    char why[200] = "";
    if (mech_run_build(made, &run, why, sizeof why) != TR_OK) {
        fail_msg("refused: %s", why);
    }
    return run;
}

/* A number between low and high, evenly spread on a logarithmic scale. */
static inline double sample_spread(tr_rng *rng, double low, double high)
{
    return low * pow(high / low, tr_rng_uniform(rng));
}

static inline bool sample_chance(tr_rng *rng, double share)
{
    return tr_rng_uniform(rng) < share;
}

static inline void sample_random_posts(tr_rng *rng, mech_structure *made)
{
    for (int end = 0; end < MECH_ENDS; end++) {
        mech_post *post = &made->post[end];
        *post = (mech_post){.is_rigid = sample_chance(rng, 0.15),
                            .depth_m = sample_spread(rng, 0.05, 0.3),
                            .breadth_m = sample_spread(rng, 0.05, 0.3),
                            .elastic_pa = sample_spread(rng, 4e9, 20e9),
                            .base_n_m_rad = sample_spread(rng, 1e3, 1e7)};
        post->shear_pa = post->elastic_pa / sample_spread(rng, 10.0, 20.0);
        post->base_n_m_rad = sample_chance(rng, 0.2) ? (double)INFINITY : post->base_n_m_rad;
    }
    if (made->rail.is_fitted && sample_chance(rng, 0.25)) {
        made->post[MECH_NEAR].base_n_m_rad = 0.0;
    }
}

/* Any structure that can stand: 1 to 40 rows, 1 to 24 bays, every kind of end. */
static inline mech_structure sample_random(tr_rng *rng)
{
    mech_structure made = {.row_count = 1 + (int)(tr_rng_uniform(rng) * MECH_MAX_ROWS),
                           .bay_count = 1 + (int)(tr_rng_uniform(rng) * MECH_MAX_BAYS)};
    double height = 0.0;
    for (int row = 0; row < made.row_count; row++) {
        height += sample_spread(rng, 0.02, 0.2);
        made.row_height_m[row] = height;
    }
    for (int bay = 0; bay < made.bay_count; bay++) {
        made.bay_m[bay] = sample_spread(rng, 0.3, 2.0);
    }
    made.rail = (mech_rail){.is_fitted = sample_chance(rng, 0.7),
                            .height_m = height + sample_spread(rng, 0.01, 0.3),
                            .ea_n = sample_spread(rng, 1e6, 1e8),
                            .joint_n_m = {sample_spread(rng, 1e5, 1e8), sample_spread(rng, 1e5, 1e8)}};
    sample_random_posts(rng, &made);
    made.strand = (mech_strand){.ea_n = sample_spread(rng, 2e5, 5e6),
                                .mass_kg_m = sample_spread(rng, 0.02, 0.3),
                                .diameter_m = 0.003,
                                .breaking_n = 9000.0,
                                .thermal_1_k = 16e-6,
                                .bedding_strain = sample_chance(rng, 0.3) ? 0.0 : sample_spread(rng, 1e-5, 2e-3),
                                .bedding_half_n = sample_spread(rng, 50.0, 2000.0)};
    made.insert_n_m = sample_spread(rng, 1e5, 1e8);
    made.warming_k = 40.0 * (tr_rng_uniform(rng) - 0.5);
    made.creep = sample_chance(rng, 0.5) ? 0.0 : tr_rng_uniform(rng);
    return made;
}

/* Rows of the run with random take-ups from slack_m below 0 to tight_m above. */
static inline mech_rows sample_random_rows(tr_rng *rng, const mech_run *run, double slack_m, double tight_m)
{
    mech_rows rows = {.is_strung = {false}};
    for (int row = 0; row < run->made_of.row_count; row++) {
        rows.is_strung[row] = true;
        rows.take_up_m[row] = -slack_m + (slack_m + tight_m) * tr_rng_uniform(rng);
    }
    return rows;
}

/* Every row strung and taken up so that it stands at tension_n. */
static inline mech_rows sample_all_at(const mech_run *run, double tension_n)
{
    mech_rows rows = {.is_strung = {false}};
    double pull_n[MECH_MAX_ROWS] = {0.0};
    for (int row = 0; row < run->made_of.row_count; row++) {
        rows.is_strung[row] = true;
        pull_n[row] = tension_n;
    }
    for (int row = 0; row < run->made_of.row_count; row++) {
        rows.take_up_m[row] = mech_run_take_up(run, &rows, row, pull_n);
    }
    assert_true(mech_run_solve(run, &rows).converged);
    return rows;
}

#endif
