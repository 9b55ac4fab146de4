/* A plausible job made in code, for tests that must not depend on scenario files: rows of 1/8 in strand 3 in apart, 20
 * ft between 5.5 in square posts, everything the trainee's from the mark on. Numbers are made up where no source is
 * named. */
#ifndef TESTS_SETUP_H
#define TESTS_SETUP_H

#include <math.h>
#include <string.h>

#include "tautrow/base/units.h"
#include "tautrow/job/job.h"

static inline void tests_structure(mech_structure *s, int rows)
{
    const mech_post post = {.depth_m = 5.5 * TR_INCH_M,
                            .breadth_m = 5.5 * TR_INCH_M,
                            .elastic_pa = 1.1 * 12.1e9,
                            .shear_pa = 1.1 * 12.1e9 / 16.0,
                            .base_n_m_rad = 8.0e4};
    s->post[MECH_NEAR] = post;
    s->post[MECH_FAR] = post;
    s->strand = (mech_strand){.ea_n = 6.3e5,
                              .mass_kg_m = 0.0475,
                              .diameter_m = 0.125 * TR_INCH_M,
                              .breaking_n = 2100.0 * TR_LBF_N,
                              .thermal_1_k = 16.0e-6,
                              .bedding_strain = 2.0e-4,
                              .bedding_half_n = 500.0,
                              .torsion_n_m2 = 0.07};
    s->row_count = rows;
    for (int i = 0; i < rows; i++) {
        s->row_height_m[i] = 3.0 * (i + 1) * TR_INCH_M;
    }
    s->rail = (mech_rail){.is_fitted = true, .ea_n = 3.5e7, .joint_n_m = {2.0e7, 2.0e7}};
    s->rail.height_m = s->row_height_m[rows - 1] + 3.0 * TR_INCH_M;
    s->insert_n_m = 5.0e6;
    s->bay_count = 5;
    for (int i = 0; i < s->bay_count; i++) {
        s->bay_m[i] = 4.0 * TR_FOOT_M;
    }
}

static inline void tests_fittings(job_setup *s)
{
    const mech_thread thread = {.pitch_m = TR_INCH_M / 24.0, .major_m = 5.0 / 16.0 * TR_INCH_M, .friction = 0.15};
    s->turnbuckle = (mech_turnbuckle){.anchor = thread,
                                      .cable = thread,
                                      .body_m = 4.5 * TR_INCH_M,
                                      .min_engaged_diameters = 1.0,
                                      .twist_release = 0.5};
    s->nominal = (mech_engaged){.anchor_turns = 12.0, .cable_turns = 12.0};
    s->insert = (mech_insert){.major_m = 0.0127, .minor_m = 0.0100, .length_m = 0.032, .flange_m = 0.003};
    s->wood = (mech_wood){.gravity = 0.49, .wet_factor = 1.0, .duration_factor = 0.9};
    s->wood_gravity_handbook = 0.48;
    s->edge_m = 2.75 * TR_INCH_M;
    s->crimp = (mech_crimp_kind){.efficiency = 0.9,
                                 .bore_m = 0.030,
                                 .barrel_m = 0.0064,
                                 .crimped_m = 0.0056,
                                 .die_m = 0.012,
                                 .best_turn_rad = TR_PI / 2.0,
                                 .one_squeeze = 0.55,
                                 .no_turn = 0.65,
                                 .gauge_pass_m = 0.0058};
    for (int end = 0; end < MECH_ENDS; end++) {
        s->limits[end] =
            (mech_post_limits){.bending_pa = 9.0e6, .rail_joint_n = (double)INFINITY, .base_n_m = (double)INFINITY};
    }
}

static inline void tests_tools(job_setup *s)
{
    s->bit_count = 3;
    s->bit[0].diameter_m = 0.0095;
    s->bit[1].diameter_m = 0.0103;
    s->bit[2].diameter_m = 0.0119;
    s->right_bit = 1;
    s->drill_rpm = (job_band){600.0, 1200.0};
    s->driver_rpm = (job_band){150.0, 450.0};
    s->hole_depth_m = 0.038;
    s->hand_pull_n = 60.0;
    s->hand_tight_n = 40.0;
    s->pin_limit_n_m = 40.0;
    s->cutter_count = 3;
    s->right_cutter = 0;
    s->gauge_bias = 0.01;
    s->gauge_scatter = 0.01;
}

/* rows >= 2 */
static inline void tests_setup(job_setup *s, int rows)
{
    memset(s, 0, sizeof *s);
    s->seed = 7;
    s->mode = JOB_PRACTICE;
    tests_structure(&s->structure, rows);
    tests_fittings(s);
    tests_tools(s);
    s->target_n = 1000.0;
    s->tolerance = 0.08;
    s->row_limit_n = 2000.0;
    s->order_rule = MECH_MIDDLE_OUT;
    mech_order_rows(MECH_MIDDLE_OUT, rows, s->order);
    s->order_count = rows;
    s->rounds = 2;
    s->round_share[0] = 0.5;
    s->round_share[1] = 1.0;
    s->ball_m = 4.0 * TR_INCH_M;
    s->ball_push_n = 25.0;
    s->guard = (mech_guard_asked){200.0 * TR_LBF_N, 50.0 * TR_LBF_N, TR_FOOT_M};
    s->par_time_s = 3600.0;
    for (int i = 0; i < rows; i++) {
        s->is_trainees[i] = true;
        s->start_stage[i] = JOB_STAGE_MARK;
    }
}

#endif
