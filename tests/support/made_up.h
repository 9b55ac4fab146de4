/* Made-up jobs for tests that must not depend on scenario files: ordinary sizes, nobody's product. All numbers are
 * demo data. */
#ifndef TESTS_MADE_UP_H
#define TESTS_MADE_UP_H

#include "near.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/units.h"
#include "tautrow/job/job.h"

static inline mech_structure made_up_structure(int rows, double post_m, double length_m)
{
    const double elastic_pa = 1.1 * 9.0e9;
    mech_structure structure = {
        .rail = {.is_fitted = true, .height_m = 0.9652, .ea_n = elastic_pa * 0.0034, .joint_n_m = {2.0e7, 2.0e7}},
        .strand = {.ea_n = 6.7e5,
                   .mass_kg_m = 0.0475,
                   .diameter_m = 0.003175,
                   .breaking_n = 9340.0,
                   .thermal_1_k = 16e-6,
                   .bedding_strain = 2e-4,
                   .bedding_half_n = 800.0,
                   .torsion_n_m2 = 0.07},
        .row_count = rows,
        .insert_n_m = 2.0e7,
        .bay_count = 3,
    };
    for (int end = 0; end < MECH_ENDS; end++) {
        structure.post[end] = (mech_post){.depth_m = post_m,
                                          .breadth_m = post_m,
                                          .elastic_pa = elastic_pa,
                                          .shear_pa = elastic_pa / 16.0,
                                          .base_n_m_rad = 6.0e4};
    }
    for (int i = 0; i < rows; i++) {
        structure.row_height_m[i] = 0.9652 * (double)(i + 1) / (double)(rows + 1);
    }
    for (int i = 0; i < 3; i++) {
        structure.bay_m[i] = length_m / 3.0;
    }
    return structure;
}

static inline void made_up_tools(job_setup *setup)
{
    const mech_thread thread = {.pitch_m = 0.000907, .major_m = 0.00635, .friction = 0.15};
    setup->turnbuckle = (mech_turnbuckle){
        .anchor = thread, .cable = thread, .body_m = 0.070, .min_engaged_diameters = 1.0, .twist_release = 0.3};
    setup->nominal = (mech_engaged){.anchor_turns = 14.0, .cable_turns = 14.0};
    setup->insert = (mech_insert){.major_m = 0.0127, .minor_m = 0.0104, .length_m = 0.025, .flange_m = 0.0010};
    setup->wood = (mech_wood){.gravity = 0.46, .wet_factor = 1.0, .duration_factor = 0.9};
    setup->edge_m = 0.045;
    setup->crimp = (mech_crimp_kind){.efficiency = 0.75,
                                     .bore_m = 0.030,
                                     .barrel_m = 0.00635,
                                     .crimped_m = 0.0053,
                                     .die_m = 0.016,
                                     .best_turn_rad = TR_PI / 2.0,
                                     .one_squeeze = 0.55,
                                     .no_turn = 0.70,
                                     .gauge_pass_m = 0.0055};
    setup->bit_count = 3;
    setup->bit[0].diameter_m = 0.0090;
    setup->bit[1].diameter_m = 0.0107;
    setup->bit[2].diameter_m = 0.0119;
    setup->right_bit = 1;
    setup->drill_rpm = (job_band){800.0, 1500.0};
    setup->driver_rpm = (job_band){100.0, 500.0};
    setup->hole_depth_m = 0.030;
    setup->hand_pull_n = 60.0;
    setup->hand_tight_n = 40.0;
    setup->pin_limit_n_m = 12.0;
    setup->cutter_count = 3;
    setup->right_cutter = 0;
    setup->gauge_bias = 0.01;
    setup->gauge_scatter = 0.01;
}

/* rows of the trainee's, all bare, on posts of post_m square, length_m apart. */
static inline job_setup made_up(int rows, double post_m, double length_m)
{
    job_setup setup = {.id = "made-up", .seed = 7, .mode = JOB_PRACTICE};
    setup.structure = made_up_structure(rows, post_m, length_m);
    made_up_tools(&setup);
    for (int end = 0; end < MECH_ENDS; end++) {
        setup.limits[end] =
            (mech_post_limits){.bending_pa = 1.2e7, .rail_joint_n = (double)INFINITY, .base_n_m = (double)INFINITY};
    }
    setup.creep_k_def = 0.6;
    setup.creep_exponent = 0.25;
    setup.target_n = 1000.0;
    setup.tolerance = 0.10;
    setup.row_limit_n = 2500.0;
    setup.order_rule = MECH_MIDDLE_OUT;
    mech_order_rows(MECH_MIDDLE_OUT, rows, setup.order);
    setup.order_count = rows;
    setup.rounds = 2;
    setup.round_share[0] = 0.5;
    setup.round_share[1] = 1.0;
    setup.ball_m = 0.1016;
    setup.ball_push_n = 220.0;
    setup.guard = (mech_guard_asked){200.0 * TR_LBF_N, 50.0 * TR_LBF_N, TR_FOOT_M};
    setup.par_time_s = 3600.0;
    for (int i = 0; i < rows; i++) {
        setup.is_trainees[i] = true;
        setup.start_stage[i] = JOB_STAGE_READ;
    }
    return setup;
}

/* A deck with rows 3 in apart, 20 ft between stiffer 5.5 in posts, every row joined to its anchor and ready to be marked;
 * the rows give less, so that a careful hand gets them all within tolerance. rows >= 2. */
static inline job_setup made_up_deck(int rows)
{
    job_setup setup = made_up(rows, 5.5 * TR_INCH_M, 20.0 * TR_FOOT_M);
    mech_structure *made = &setup.structure;
    for (int end = 0; end < MECH_ENDS; end++) {
        made->post[end].elastic_pa = 1.1 * 12.1e9;
        made->post[end].shear_pa = 1.1 * 12.1e9 / 16.0;
        made->post[end].base_n_m_rad = 8.0e4;
    }
    made->strand.ea_n = 6.3e5;
    made->strand.breaking_n = 2100.0 * TR_LBF_N;
    made->strand.bedding_half_n = 500.0;
    made->insert_n_m = 5.0e6;
    made->bay_count = 5;
    for (int i = 0; i < made->bay_count; i++) {
        made->bay_m[i] = 4.0 * TR_FOOT_M;
    }
    for (int i = 0; i < rows; i++) {
        made->row_height_m[i] = 3.0 * (i + 1) * TR_INCH_M;
        setup.start_stage[i] = JOB_STAGE_MARK;
    }
    made->rail.height_m = made->row_height_m[rows - 1] + 3.0 * TR_INCH_M;
    made->rail.ea_n = 3.5e7;
    const mech_thread thread = {.pitch_m = TR_INCH_M / 24.0, .major_m = 5.0 / 16.0 * TR_INCH_M, .friction = 0.15};
    setup.turnbuckle = (mech_turnbuckle){.anchor = thread,
                                         .cable = thread,
                                         .body_m = 4.5 * TR_INCH_M,
                                         .min_engaged_diameters = 1.0,
                                         .twist_release = 0.5};
    setup.nominal = (mech_engaged){.anchor_turns = 12.0, .cable_turns = 12.0};
    setup.insert = (mech_insert){.major_m = 0.0127, .minor_m = 0.0100, .length_m = 0.032, .flange_m = 0.003};
    setup.hole_depth_m = 0.038;
    setup.bit[1].diameter_m = 0.0103;
    setup.bit[0].diameter_m = 0.0095;
    setup.tolerance = 0.08;
    setup.row_limit_n = 2000.0;
    setup.ball_m = 4.0 * TR_INCH_M;
    setup.ball_push_n = 25.0;
    return setup;
}

/* As made_up, with every row the crew's, finished at the target, but for the first mine of them. */
static inline job_setup made_up_crew(int rows, int mine, double post_m, double length_m, job_stage mine_at)
{
    job_setup setup = made_up(rows, post_m, length_m);
    for (int i = 0; i < rows; i++) {
        setup.is_trainees[i] = i < mine;
        setup.start_stage[i] = i < mine ? mine_at : JOB_STAGE_COUNT;
        setup.start_tension_n[i] = setup.target_n;
    }
    mech_order_rows(MECH_MIDDLE_OUT, mine, setup.order);
    setup.order_count = mine;
    return setup;
}

#endif
