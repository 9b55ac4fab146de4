/* Each action in the right order, in the wrong one, twice, and at its limits. A refusal must leave all but the counters
 * as it was. */
#include "act.h"

#include "internal.h"

static job_state state;

static tr_hash quiet_hash(const job_setup *setup)
{
    static job_state copy;
    copy = state;
    copy.action_count = 0;
    copy.now_ms = 0;
    copy.refusals = 0;
    copy.refused_without_glasses = 0;
    for (int i = 0; i < setup->structure.row_count; i++) {
        copy.row[i].wrong_starts = 0;
    }
    return job_state_hash(setup, &copy);
}

/* An action that must be refused for that reason, and change nothing. */
static void expect_refused(const job_setup *setup, job_refusal reason, job_verb verb, const double *args, int count)
{
    const tr_hash before = quiet_hash(setup);
    const int refusals = state.refusals;
    const int64_t actions = state.action_count;
    const job_outcome tried = made_up_act(setup, &state, verb, args, count);
    const tr_hash after = quiet_hash(setup);
    assert_string_equal(job_refusal_key(tried.refusal), job_refusal_key(reason));
    assert_int_equal(tried.events, 0);
    assert_memory_equal(before.byte, after.byte, TR_HASH_BYTES);
    assert_int_equal(state.refusals, refusals + 1);
    assert_int_equal(state.action_count, actions + 1);
}

static void expect_done(job_outcome outcome)
{
    assert_string_equal(job_refusal_key(outcome.refusal), "refuse.none");
}

#define refused(setup, REASON, VERB, ...)                                                                              \
    expect_refused(setup, JOB_REFUSE_##REASON, JOB_DO_##VERB, (const double[]){0.0, __VA_ARGS__},                      \
                   (int)(sizeof((const double[]){0.0, __VA_ARGS__}) / sizeof(double)) - 1)
#define done(setup, VERB, ...) expect_done(act(setup, &state, VERB, __VA_ARGS__))

/* ---- wood ------------------------------------------------------------------------------------------------------- */

static void marking(void **unused)
{
    (void)unused;
    const job_setup setup = made_up(5, 0.0889, 3.0);
    job_start(&setup, &state);
    done(&setup, SET_POLE, 0.002);
    done(&setup, MARK_ROW, 1, -0.0005);
    assert_near(state.row[1].height_error_m, 0.0015, 1e-15);
    assert_near(state.run.made_of.row_height_m[1], setup.structure.row_height_m[1] + 0.0015, 1e-15);
    assert_near(state.run.made_of.row_height_m[0], setup.structure.row_height_m[0], 0.0);
    done(&setup, MARK_ROW, 1, 0.0); /* a mark may be moved ... */
    refused(&setup, UNSOUND, MARK_ROW, 1, 0.06);
    refused(&setup, UNSOUND, MARK_ROW, 7, 0.0);
    done(&setup, GLASSES, 1);
    done(&setup, TAKE_BIT, 1);
    done(&setup, SET_DRILL_SPEED, 1200);
    done(&setup, DRILL, 1, 0.03, 0, 0, 3, 0);
    refused(&setup, ALREADY_DRILLED, MARK_ROW, 1, 0.0); /* ... until the hole is there */
}

static void marks_so_far_off_that_rows_would_cross(void **unused)
{
    (void)unused;
    const job_setup setup = made_up(20, 0.0889, 3.0); /* 46 mm apart */
    job_start(&setup, &state);
    refused(&setup, UNSOUND, MARK_ROW, 3, 0.05);
    refused(&setup, UNSOUND, MARK_ROW, 3, -0.05);
    refused(&setup, UNSOUND, MARK_ROW, 19, 0.05);
    refused(&setup, UNSOUND, MARK_ROW, 0, -0.05);
    done(&setup, MARK_ROW, 3, 0.04);
}

static void drilling(void **unused)
{
    (void)unused;
    const job_setup setup = made_up(5, 0.0889, 3.0);
    job_start(&setup, &state);
    refused(&setup, NO_GLASSES, DRILL, 0, 0.03, 0, 0, 3, 0);
    assert_int_equal(state.refused_without_glasses, 1);
    done(&setup, GLASSES, 1);
    refused(&setup, NOT_MARKED, DRILL, 0, 0.03, 0, 0, 3, 0);
    done(&setup, MARK_ROW, 0, 0);
    refused(&setup, NO_BIT, DRILL, 0, 0.03, 0, 0, 3, 0);
    refused(&setup, NO_SUCH_TOOL, TAKE_BIT, 3);
    done(&setup, TAKE_BIT, 1);
    refused(&setup, NO_SPEED, DRILL, 0, 0.03, 0, 0, 3, 0);
    done(&setup, SET_DRILL_SPEED, 1000);
    refused(&setup, UNSOUND, DRILL, 0, 0.03, 0, (double)NAN, 3, 0);
    done(&setup, DRILL, 0, 0.02, 0.01, -0.02, 3, 0);
    assert_near(state.row[0].hole.diameter_m, setup.bit[1].diameter_m, 0.0);
    assert_near(state.row[0].hole.pitch_rad, 0.01, 0.0);
    refused(&setup, ALREADY_DRILLED, DRILL, 0, 0.02, 0, 0, 3, 0);
    refused(&setup, ALREADY_DRILLED, DRILL, 0, 0.01, 0, 0, 3, 0);
    done(&setup, DRILL, 0, 0.03, 0, 0, 3, 0); /* deeper with the same bit; the hole leads it */
    assert_near(state.row[0].hole.depth_m, 0.03, 0.0);
    assert_near(state.row[0].hole.pitch_rad, 0.01, 0.0);
    done(&setup, TAKE_BIT, 0);
    refused(&setup, ALREADY_DRILLED, DRILL, 0, 0.05, 0, 0, 3, 0);
    done(&setup, TAKE_BIT, 2);
    done(&setup, DRILL, 0, 0.03, 0, 0, 3, 0); /* opened up */
    assert_near(state.row[0].hole.diameter_m, setup.bit[2].diameter_m, 0.0);
}

/* Hole of row 0 drilled on a fresh job with the given care. */
static double wander_of(const job_setup *setup, double rpm, double pitch, double clearings, double hand)
{
    job_start(setup, &state);
    done(setup, GLASSES, 1);
    done(setup, MARK_ROW, 0, 0);
    done(setup, TAKE_BIT, 1);
    done(setup, SET_DRILL_SPEED, rpm);
    done(setup, DRILL, 0, 0.09, pitch, 0, clearings, hand);
    return state.row[0].hole.wander_m;
}

static void careless_drilling_wanders(void **unused)
{
    (void)unused;
    job_setup setup = made_up(5, 0.0889, 3.0);
    const double best = wander_of(&setup, 1000, 0, 4, 0);
    assert_true(best >= 0.0 && best < 0.0001);
    assert_true(wander_of(&setup, 1500, 0, 4, 0) == best); /* the band's edge is in the band */
    assert_true(wander_of(&setup, 3000, 0, 4, 0) > best + 0.0001);
    assert_true(wander_of(&setup, 200, 0, 4, 0) > best + 0.0001);
    assert_true(wander_of(&setup, 1000, 0.1, 4, 0) > best + 0.0001);
    assert_true(wander_of(&setup, 1000, 0, 0, 0) > best + 0.0001);
    assert_near(wander_of(&setup, 1000, 0, 4, 0.001), best + 0.001, 1e-12);
    setup.seed++;
    assert_true(wander_of(&setup, 1000, 0, 4, 0) != best);
}

static void prepare_hole(const job_setup *setup, int bit, double depth_m)
{
    job_start(setup, &state);
    done(setup, GLASSES, 1);
    done(setup, MARK_ROW, 0, 0);
    done(setup, TAKE_BIT, bit);
    done(setup, SET_DRILL_SPEED, 1000);
    done(setup, DRILL, 0, depth_m, 0, 0, 10, 0);
}

static void driving(void **unused)
{
    (void)unused;
    const job_setup setup = made_up(5, 0.0889, 3.0);
    job_start(&setup, &state);
    refused(&setup, NOT_DRILLED, DRIVE_INSERT, 0, 0, 0, 0);
    refused(&setup, NOT_DRIVEN, COLLAR, 0);
    refused(&setup, NOT_DRIVEN, HANG_CABLE, 0);
    prepare_hole(&setup, 1, 0.030);
    refused(&setup, NO_SPEED, DRIVE_INSERT, 0, 0, 0, 0);
    done(&setup, SET_DRIVER_SPEED, 300);
    const job_outcome flush = act(&setup, &state, DRIVE_INSERT, 0, 0, 0, 0);
    assert_int_equal(flush.refusal, JOB_REFUSE_NONE);
    assert_int_equal(flush.events, 0);
    assert_near(state.row[0].seat.proud_m, 0.0, 0.0);
    assert_near(flush.value[0], state.row[0].grip.drive_torque_n_m, 0.0);
    assert_true(state.row[0].grip.ultimate_n > 2.0 * setup.target_n);
    refused(&setup, ALREADY_DRIVEN, DRIVE_INSERT, 0, 0, 0, 0);
    refused(&setup, ALREADY_DRILLED, DRILL, 0, 0.1, 0, 0, 3, 0);
}

static void a_shallow_hole_leaves_the_insert_proud(void **unused)
{
    (void)unused;
    const job_setup setup = made_up(5, 0.0889, 3.0);
    prepare_hole(&setup, 1, 0.020); /* 5 mm short of the insert */
    done(&setup, SET_DRIVER_SPEED, 300);
    const job_outcome outcome = act(&setup, &state, DRIVE_INSERT, 0, 0, 0, 0);
    assert_int_equal(outcome.events, JOB_EVENT_PROUD);
    assert_near(outcome.value[1], 0.005, 1e-12);
    refused(&setup, COLLAR_CANNOT_SEAT, COLLAR, 0);
}

static void a_fast_driver_overruns_and_strips(void **unused)
{
    (void)unused;
    const job_setup setup = made_up(5, 0.0889, 3.0);
    prepare_hole(&setup, 1, 0.060);
    done(&setup, SET_DRIVER_SPEED, 1000);
    const job_outcome outcome = act(&setup, &state, DRIVE_INSERT, 0, 0, 0, 0);
    assert_int_equal(outcome.events, JOB_EVENT_STRIPPED);
    assert_true(state.row[0].seat.proud_m < -0.0005);
    const double stripped_n = state.row[0].grip.ultimate_n;
    prepare_hole(&setup, 1, 0.060);
    done(&setup, SET_DRIVER_SPEED, 500);
    done(&setup, DRIVE_INSERT, 0, 0, 0, 0);
    assert_true(stripped_n < 0.8 * state.row[0].grip.ultimate_n);
}

static void the_wrong_bit(void **unused)
{
    (void)unused;
    job_setup setup = made_up(5, 0.0889, 3.0);
    prepare_hole(&setup, 2, 0.030);
    done(&setup, SET_DRIVER_SPEED, 300);
    done(&setup, DRIVE_INSERT, 0, 0, 0, 0);
    assert_true(state.row[0].grip.bite < 0.4); /* too big: little bite */
    setup.wood.gravity = 0.68;                 /* an oak */
    prepare_hole(&setup, 0, 0.030);
    done(&setup, SET_DRIVER_SPEED, 300);
    refused(&setup, HOLE_TOO_SMALL, DRIVE_INSERT, 0, 0, 0, 0);
    done(&setup, TAKE_BIT, 1);
    done(&setup, DRILL, 0, 0.030, 0, 0, 10, 0);
    setup.edge_m = 0.004; /* and too near the edge */
    const job_outcome outcome = act(&setup, &state, DRIVE_INSERT, 0, 0, 0, 0);
    assert_int_equal(outcome.events, JOB_EVENT_SPLIT);
    assert_true(state.row[0].is_split);
}

/* ---- turnbuckle and cable --------------------------------------------------------------------------------------- */

static void assembling(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(5, 5, 0.0889, 3.0, JOB_STAGE_ASSEMBLE);
    job_start(&setup, &state);
    refused(&setup, NOT_ASSEMBLED, HANG_CABLE, 0);
    refused(&setup, WRONG_HAND, SCREW_STUD, 0, 0, 1, 14);
    refused(&setup, WRONG_HAND, SCREW_STUD, 0, 1, 0, 14);
    assert_int_equal(state.row[0].wrong_starts, 2);
    done(&setup, SCREW_STUD, 0, 0, 0, 10);
    done(&setup, SCREW_STUD, 0, 0, 0, 4); /* adds up */
    assert_near(state.row[0].engaged.anchor_turns, 14.0, 0.0);
    refused(&setup, STUD_NOT_IN, UNSCREW_STUD, 0, 1);
    done(&setup, SCREW_STUD, 0, 1, 1, 14);
    refused(&setup, NO_ROOM, SCREW_STUD, 0, 1, 1, 60); /* 88 turns of 0.907 mm in 70 mm */
    done(&setup, HANG_CABLE, 0);
    refused(&setup, ALREADY_HUNG, HANG_CABLE, 0);
}

static void cutting(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(5, 5, 0.0889, 3.0, JOB_STAGE_CUT);
    job_start(&setup, &state);
    refused(&setup, NOT_HUNG, PULL_CABLE, 0, 60);
    refused(&setup, NOT_HUNG, MARK_CABLE, 0, 0);
    refused(&setup, NO_GLASSES, CUT_CABLE, 0, 0);
    done(&setup, GLASSES, 1);
    refused(&setup, NOT_HUNG, CUT_CABLE, 0, 0);
    done(&setup, HANG_CABLE, 0);
    refused(&setup, NOT_PULLED, MARK_CABLE, 0, 0);
    done(&setup, PULL_CABLE, 0, 60);
    refused(&setup, CABLE_NOT_MARKED, CUT_CABLE, 0, 0);
    done(&setup, MARK_CABLE, 0, 0.002);
    refused(&setup, NO_CUTTER, CUT_CABLE, 0, 0);
    refused(&setup, NOT_CUT, PUSH_HOME, 0, 0.03);
    refused(&setup, NOT_CUT, PLACE_DIE, 0, 0.01);
    done(&setup, TAKE_CUTTER, 0);
    const job_outcome outcome = act(&setup, &state, CUT_CABLE, 0, -0.0005);
    assert_int_equal(outcome.events, 0);
    assert_near(state.row[0].length_error_m, 0.0015, 1e-12);
    refused(&setup, ALREADY_CUT, CUT_CABLE, 0, 0);
    refused(&setup, ALREADY_CUT, PULL_CABLE, 0, 60);
}

/* Length error of row 0 marked under a pull. */
static double cut_under(const job_setup *setup, double pull_n, int cutter)
{
    job_start(setup, &state);
    done(setup, GLASSES, 1);
    done(setup, HANG_CABLE, 0);
    done(setup, PULL_CABLE, 0, pull_n);
    done(setup, MARK_CABLE, 0, 0);
    done(setup, TAKE_CUTTER, cutter);
    done(setup, CUT_CABLE, 0, 0);
    return state.row[0].length_error_m;
}

static void a_weak_pull_cuts_long_and_a_wrong_cutter_frays(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(5, 5, 0.0889, 3.0, JOB_STAGE_CUT);
    assert_near(cut_under(&setup, 60, 0), 0.0, 1e-12);
    assert_true(cut_under(&setup, 10, 0) > 0.0002);
    assert_true(cut_under(&setup, 200, 0) < 0.0);
    for (int cutter = 0; cutter < 3; cutter++) {
        cut_under(&setup, 60, cutter);
        assert_int_equal(state.row[0].is_frayed, cutter != 0);
        done(&setup, PUSH_HOME, 0, 0.2);
        assert_near(state.row[0].crimp.seated_m, cutter == 0 ? 0.030 : 0.018, 1e-12);
    }
    done(&setup, HANG_CABLE, 0); /* the frayed one is given up */
    assert_false(state.row[0].is_cut);
    assert_int_equal(state.row[0].redone, 1);
}

static void crimping(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(5, 5, 0.0889, 3.0, JOB_STAGE_CRIMP);
    job_start(&setup, &state);
    refused(&setup, NOT_SEATED, SEAT_MARK, 0);
    refused(&setup, NOT_SEATED, SQUEEZE, 0, 1);
    refused(&setup, NOT_CRIMPED, GAUGE_CRIMP, 0);
    done(&setup, GLASSES, 1);
    refused(&setup, NOT_CRIMPED, REDO_CRIMP, 0);
    done(&setup, PUSH_HOME, 0, 0.030);
    refused(&setup, DIE_NOT_PLACED, SQUEEZE, 0, 1);
    refused(&setup, DIE_NOT_PLACED, TURN_CRIMPER, 0, 1);
    done(&setup, SEAT_MARK, 0);
    done(&setup, PLACE_DIE, 0, 0.008);
    done(&setup, SQUEEZE, 0, 1);
    refused(&setup, ALREADY_CRIMPED, PUSH_HOME, 0, 0.02);
    job_outcome gauged = act(&setup, &state, GAUGE_CRIMP, 0);
    assert_true(gauged.value[2] == 0.0);
    done(&setup, TURN_CRIMPER, 0, TR_PI / 2.0);
    done(&setup, PLACE_DIE, 0, 0.022);
    done(&setup, SQUEEZE, 0, 1);
    assert_near(state.row[0].crimp.squeeze[1].angle_rad, TR_PI / 2.0, 1e-15);
    assert_near(state.row[0].crimp.squeeze[1].position_m, 0.022, 0.0);
    gauged = act(&setup, &state, GAUGE_CRIMP, 0);
    assert_true(gauged.value[2] == 1.0);
    for (int i = 2; i < MECH_MAX_SQUEEZES; i++) {
        done(&setup, SQUEEZE, 0, 1);
    }
    refused(&setup, NO_MORE_SQUEEZES, SQUEEZE, 0, 1);
}

static void making_a_crimp_again_costs_its_length(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(5, 5, 0.0889, 3.0, JOB_STAGE_TENSION);
    job_start(&setup, &state);
    refused(&setup, NO_GLASSES, REDO_CRIMP, 0);
    done(&setup, GLASSES, 1);
    refused(&setup, NO_CUTTER, REDO_CRIMP, 0);
    done(&setup, TAKE_CUTTER, 0);
    done(&setup, PLIERS, 1, 1);
    done(&setup, TURN_BODY, 1, 2);
    refused(&setup, UNDER_TENSION, REDO_CRIMP, 1);
    refused(&setup, UNDER_TENSION, UNSCREW_STUD, 1, 1);
    done(&setup, REDO_CRIMP, 0);
    assert_near(state.row[0].length_error_m, -setup.crimp.bore_m, 1e-12);
    assert_false(state.row[0].is_joined);
    assert_int_equal(state.row[0].crimp.squeeze_count, 0);
    assert_near(state.rows.tension_n[0], 0.0, 0.0);
}

/* ---- join ------------------------------------------------------------------------------------------------------- */

static void joining(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(5, 5, 0.0889, 3.0, JOB_STAGE_JOIN);
    job_start(&setup, &state);
    refused(&setup, NOT_UNSCREWED, THREAD_IN, 0, 10);
    refused(&setup, STUD_IN, BACK_OFF, 0, 2);
    refused(&setup, NOT_JOINED, HAND_TIGHT, 0, 40);
    refused(&setup, NOT_JOINED, TURN_BODY, 0, 1);
    refused(&setup, NOT_JOINED, PLUCK, 0);
    refused(&setup, NOT_JOINED, GAUGE, 0);
    refused(&setup, NOT_JOINED, FREE_TWIST, 0);
    refused(&setup, NOT_JOINED, BALL, 0);
    refused(&setup, NOT_ALL_JOINED, SIGN, 0);
    done(&setup, UNSCREW_STUD, 0, 1);
    assert_near(state.row[0].engaged.anchor_turns, 14.0, 0.0);
    done(&setup, BACK_OFF, 0, 60);
    refused(&setup, NO_ROOM, THREAD_IN, 0, 20); /* 100 turns of 0.907 mm in 70 mm */
    done(&setup, BACK_OFF, 0, 0.5);
    done(&setup, THREAD_IN, 0, 12);
    assert_near(state.row[0].engaged.cable_turns, 12.0, 0.0);
    assert_near(state.row[0].engaged.anchor_turns, 12.5, 0.0);
    refused(&setup, ALREADY_JOINED, THREAD_IN, 0, 1);
    refused(&setup, ALREADY_JOINED, SCREW_STUD, 0, 0, 0, 1);
    assert_int_equal(job_row_stage(&setup, &state, 0), JOB_STAGE_JOIN);
    const job_outcome tight = act(&setup, &state, HAND_TIGHT, 0, 200);
    assert_near(state.rows.tension_n[0], setup.hand_tight_n, 1e-6); /* fingers reach no further */
    assert_true(tight.value[0] > 1.0);
    const job_outcome again = act(&setup, &state, HAND_TIGHT, 0, 20);
    assert_near(again.value[0], 0.0, 0.0); /* and never turn back */
    assert_int_equal(job_row_stage(&setup, &state, 0), JOB_STAGE_TENSION);
}

static void an_unheld_body_winds_off_the_anchor_stud(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(5, 5, 0.0889, 3.0, JOB_STAGE_JOIN);
    setup.nominal.anchor_turns = 16.0;
    job_start(&setup, &state);
    const job_outcome outcome = act(&setup, &state, UNSCREW_STUD, 0, 0);
    assert_int_equal(outcome.events, JOB_EVENT_BODY_TURNED);
    assert_near(state.row[0].engaged.anchor_turns, 2.0, 1e-12);
    assert_false(state.row[0].was_body_held);
    setup.nominal.anchor_turns = 14.0;
    job_start(&setup, &state);
    const job_outcome off = act(&setup, &state, UNSCREW_STUD, 0, 0);
    assert_int_equal(off.events, JOB_EVENT_BODY_TURNED | JOB_EVENT_CAME_OUT);
    assert_false(state.row[0].anchor_in);
    refused(&setup, STUD_NOT_IN, THREAD_IN, 0, 10);
    refused(&setup, STUD_NOT_IN, BACK_OFF, 0, 1);
}

static void a_cable_cut_too_short_does_not_reach(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(5, 5, 0.0889, 3.0, JOB_STAGE_JOIN);
    job_start(&setup, &state);
    done(&setup, UNSCREW_STUD, 0, 1);
    done(&setup, BACK_OFF, 0, 0.5);
    state.row[0].length_error_m = -0.05;
    refused(&setup, UNDER_TENSION, THREAD_IN, 0, 4);
    state.row[0].length_error_m = -0.01; /* reaches, but for a few threads only */
    const job_outcome some = act(&setup, &state, THREAD_IN, 0, 20);
    assert_int_equal(some.refusal, JOB_REFUSE_NONE);
    assert_true(some.value[0] < 14.0 - 0.01 / job__turn_m(&setup) + 1.0);
    state.row[1].length_error_m = 0.06; /* too long: the studs meet before it is tight */
    done(&setup, UNSCREW_STUD, 1, 1);
    done(&setup, BACK_OFF, 1, 0.5);
    done(&setup, THREAD_IN, 1, 20);
    assert_int_equal(act(&setup, &state, HAND_TIGHT, 1, 40).events, JOB_EVENT_BOTTOMED);
    assert_near(mech_turns_to_bottom(&setup.turnbuckle, &state.row[1].engaged), 0.0, 1e-9);
}

/* ---- whose row, and the end ------------------------------------------------------------------------------------- */

static void rows_of_the_crew(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(5, 2, 0.0889, 3.0, JOB_STAGE_READ);
    setup.fault_count = 1;
    setup.fault[0] = (job_fault){JOB_FAULT_ONE_SQUEEZE, 3, 0.0};
    job_start(&setup, &state);
    done(&setup, GLASSES, 1);
    refused(&setup, NOT_YOURS, MARK_ROW, 2, 0);
    refused(&setup, NOT_YOURS, DRILL, 2, 0.03, 0, 0, 3, 0);
    refused(&setup, NOT_YOURS, DRIVE_INSERT, 3, 0, 0, 0);
    refused(&setup, NOT_YOURS, SQUEEZE, 2, 1);
    refused(&setup, NOT_YOURS, REDO_CRIMP, 2);
    refused(&setup, NOT_YOURS, UNSCREW_STUD, 2, 1);
    refused(&setup, NOT_YOURS, COLLAR, 2);
    done(&setup, PLUCK, 2);
    done(&setup, GAUGE, 2);
    done(&setup, PLIERS, 2, 1);
    done(&setup, TURN_BODY, 2, 0.25); /* the whole run is the trainee's to even out */
    done(&setup, GAUGE_CRIMP, 2);
    assert_true(act(&setup, &state, REPORT_FAULT, 3, JOB_FAULT_ONE_SQUEEZE).value[0] == 1.0);
    assert_true(act(&setup, &state, REPORT_FAULT, 2, JOB_FAULT_ONE_SQUEEZE).value[0] == 0.0);
    refused(&setup, UNSOUND, REPORT_FAULT, 3, JOB_FAULT_KINDS);
    done(&setup, PLACE_DIE, 3, 0.022); /* the row with the fault may be mended */
    done(&setup, TURN_CRIMPER, 3, TR_PI / 2.0);
    done(&setup, SQUEEZE, 3, 1);
    assert_false(job_fault_is_present(&setup, &state, &setup.fault[0]));
    assert_true(act(&setup, &state, REPORT_FAULT, 3, JOB_FAULT_ONE_SQUEEZE).value[0] == 0.0);
}

static void after_the_signature_nothing_goes(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(5, 0, 0.0889, 3.0, JOB_STAGE_READ);
    job_start(&setup, &state);
    done(&setup, SIGN, 0);
    for (int verb = 0; verb < JOB_VERB_COUNT; verb++) {
        const job_verb_info *info = job_verb_look((job_verb)verb);
        job_action action = {.verb = (job_verb)verb, .at_ms = state.now_ms};
        for (int i = 0; i < info->field_count; i++) {
            action.arg[i] = info->field[i].least;
        }
        const tr_hash before = quiet_hash(&setup);
        assert_int_equal(job_apply(&setup, &state, &action).refusal, JOB_REFUSE_SIGNED);
        const tr_hash after = quiet_hash(&setup);
        assert_memory_equal(before.byte, after.byte, TR_HASH_BYTES);
    }
    job_action advice;
    assert_false(job_expert_next(&setup, &state, &advice));
}

static void hints_and_clock(void **unused)
{
    (void)unused;
    job_setup setup = made_up(5, 0.0889, 3.0);
    job_start(&setup, &state);
    done(&setup, HINT, 0);
    assert_int_equal(state.hints, 1);
    setup.mode = JOB_ASSESSMENT;
    refused(&setup, NO_HELP_HERE, HINT, 0);
    const int64_t now = state.now_ms;
    job_action late = job_make(JOB_DO_WIPE, now - 500, NULL, 0);
    job_apply(&setup, &state, &late);
    assert_int_equal(state.now_ms, now); /* the clock never goes back */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(marking),
        cmocka_unit_test(marks_so_far_off_that_rows_would_cross),
        cmocka_unit_test(drilling),
        cmocka_unit_test(careless_drilling_wanders),
        cmocka_unit_test(driving),
        cmocka_unit_test(a_shallow_hole_leaves_the_insert_proud),
        cmocka_unit_test(a_fast_driver_overruns_and_strips),
        cmocka_unit_test(the_wrong_bit),
        cmocka_unit_test(assembling),
        cmocka_unit_test(cutting),
        cmocka_unit_test(a_weak_pull_cuts_long_and_a_wrong_cutter_frays),
        cmocka_unit_test(crimping),
        cmocka_unit_test(making_a_crimp_again_costs_its_length),
        cmocka_unit_test(joining),
        cmocka_unit_test(an_unheld_body_winds_off_the_anchor_stud),
        cmocka_unit_test(a_cable_cut_too_short_does_not_reach),
        cmocka_unit_test(rows_of_the_crew),
        cmocka_unit_test(after_the_signature_nothing_goes),
        cmocka_unit_test(hints_and_clock),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
