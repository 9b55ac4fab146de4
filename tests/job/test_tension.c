/* Tensioning, measuring, checking and waiting: the coupling of the rows, the stud that goes round, the log of pulls,
 * what gives way, and what the books say of it. */
#include "act.h"

#include "internal.h"

static job_state state;

#define done(setup, VERB, ...)                                                                                         \
    assert_string_equal(job_refusal_key(act(setup, &state, VERB, __VA_ARGS__).refusal), "refuse.none")

static job_setup hand_tight_job(int rows)
{
    return made_up_crew(rows, rows, 0.0889, 3.0, JOB_STAGE_TENSION);
}

/* ---- start ------------------------------------------------------------------------------------------------------ */

static void rows_start_with_the_tensions_of_the_scenario(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(7, 3, 0.0889, 3.0, JOB_STAGE_TENSION);
    for (int i = 3; i < 7; i++) {
        setup.start_tension_n[i] = 600.0 + 100.0 * i;
    }
    job_start(&setup, &state);
    for (int i = 0; i < 7; i++) {
        const double wanted = i < 3 ? setup.hand_tight_n : setup.start_tension_n[i];
        assert_near(state.rows.tension_n[i], wanted, 1e-5);
        assert_near(state.rows.take_up_m[i], job_row_take_up(&setup, &state.row[i]), 1e-12);
        assert_near(state.row[i].engaged.anchor_turns, state.row[i].engaged.cable_turns, 1e-9);
        assert_int_equal(job_row_look_of(&setup, &state, i), i < 3 || i == 6 ? (i < 3 ? JOB_LOOK_SLACK : JOB_LOOK_OVER)
                                                             : i == 3        ? JOB_LOOK_SLACK
                                                                             : JOB_LOOK_IN);
    }
}

static void faults_change_the_fitting_and_not_the_tension(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(5, 0, 0.0889, 3.0, JOB_STAGE_READ);
    setup.fault_count = 4;
    setup.fault[0] = (job_fault){JOB_FAULT_FEW_THREADS, 0, 3.0};
    setup.fault[1] = (job_fault){JOB_FAULT_UNSEATED, 1, 0.004};
    setup.fault[2] = (job_fault){JOB_FAULT_TWISTED, 2, 2.5};
    setup.fault[3] = (job_fault){JOB_FAULT_WET_POST, -1, 0.0};
    job_start(&setup, &state);
    assert_near(state.row[0].engaged.cable_turns, 3.0, 0.0);
    assert_near(state.row[1].crimp.seated_m, 0.026, 1e-12);
    assert_near(state.row[2].engaged.twist_turns, 2.5, 0.0);
    for (int i = 0; i < 5; i++) {
        assert_near(state.rows.tension_n[i], 1000.0, 1e-5);
    }
    for (int i = 0; i < 4; i++) {
        assert_true(job_fault_is_present(&setup, &state, &setup.fault[i]));
    }
    const double wet_n = state.row[3].grip.ultimate_n;
    setup.fault_count = 3;
    job_start(&setup, &state);
    assert_near(wet_n, 0.7 * state.row[3].grip.ultimate_n, 1e-9); /* NDS 2018 Table 11.3.3 (from memory) */
}

static void a_crimp_that_cannot_hold_has_slipped_before(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(5, 0, 0.0889, 3.0, JOB_STAGE_READ);
    setup.fault_count = 1;
    setup.fault[0] = (job_fault){JOB_FAULT_UNSEATED, 2, 0.0140};
    job_start(&setup, &state);
    const double hold = job_row_capacity(&setup, &state.row[2]);
    assert_true(hold < 1000.0 && hold > 0.0);
    assert_near(state.rows.tension_n[2], hold, 1e-4 * hold);
    assert_true(state.row[2].slip_m > 0.0);
    assert_int_equal(state.slips_under_load, 0);
}

/* ---- turning ---------------------------------------------------------------------------------------------------- */

static void one_row_up_brings_the_others_down(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(7, 0, 0.0889, 3.0, JOB_STAGE_READ);
    job_start(&setup, &state);
    done(&setup, STAND, 1);
    done(&setup, PLIERS, 3, 1);
    done(&setup, TURN_BODY, 3, 1.0);
    assert_true(state.rows.tension_n[3] > 1100.0);
    for (int i = 0; i < 7; i++) {
        assert_true(i == 3 || state.rows.tension_n[i] < 1000.0 - 0.5);
    }
    assert_true(state.rows.tension_n[2] < state.rows.tension_n[0]); /* the neighbour loses more than the far one */
    done(&setup, TURN_BODY, 3, -1.0);
    for (int i = 0; i < 7; i++) { /* back to where it was, but for the bedding-in of row 3 */
        assert_near(state.rows.tension_n[i], 1000.0, 40.0);
    }
}

static void a_stud_that_is_not_held_winds_the_cable_up(void **unused)
{
    (void)unused;
    const job_setup setup = hand_tight_job(5);
    job_start(&setup, &state);
    done(&setup, PLIERS, 2, 1);
    const job_outcome held = act(&setup, &state, TURN_BODY, 2, 3.0);
    assert_near(held.value[0], 3.0, 1e-12);
    assert_int_equal(held.events, 0);
    const double with_pliers = state.rows.tension_n[2];
    assert_near(state.row[2].engaged.twist_turns, 0.0, 0.0);
    job_start(&setup, &state);
    const job_outcome loose = act(&setup, &state, TURN_BODY, 2, 3.0);
    assert_true((loose.events & JOB_EVENT_STUD_TURNED) != 0);
    assert_true(loose.value[2] > 0.3);
    assert_near(state.row[2].engaged.twist_turns, loose.value[2], 1e-9);
    assert_true(state.rows.tension_n[2] < with_pliers - 50.0);
    assert_near(state.row[2].turns_free, 3.0, 1e-9);
    assert_near(state.row[2].turns_held, 0.0, 0.0);
    assert_near(state.turns_unclear, 3.0, 1e-9);
}

static void days_let_a_wound_cable_go_and_posts_creep(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(5, 0, 0.0889, 3.0, JOB_STAGE_READ);
    setup.fault_count = 1;
    setup.fault[0] = (job_fault){JOB_FAULT_TWISTED, 2, 6.0};
    job_start(&setup, &state);
    const double anchor = state.row[2].engaged.anchor_turns;
    done(&setup, WAIT_DAYS, 30);
    assert_near(state.days, 30.0, 0.0);
    assert_true(state.row[2].engaged.twist_turns < 6.0);
    assert_near(anchor - state.row[2].engaged.anchor_turns, 6.0 - state.row[2].engaged.twist_turns, 1e-9);
    assert_true(state.rows.tension_n[2] < state.rows.tension_n[1] - 20.0); /* it is the wound row that comes loose */
    setup.fault_count = 0;
    job_start(&setup, &state);
    for (int i = 0; i < 2; i++) {
        const double before[] = {state.rows.tension_n[0], state.rows.tension_n[2]};
        done(&setup, WAIT_DAYS, 30);
        assert_true(state.rows.tension_n[0] < before[0] && state.rows.tension_n[2] < before[1]);
    }
    assert_near(state.days, 60.0, 0.0);
}

static void ear_and_gauge_take_the_bays_before_a_bend(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(3, 0, 0.0889, 3.0, JOB_STAGE_READ);
    setup.structure.bend_count = 1;
    setup.structure.bend[0] = (mech_bend){0, 1.0, 0.3};
    setup.structure.bay_m[1] = 2.0; /* longer, but beyond the bend */
    setup.gauge_bias = setup.gauge_scatter = 0.0;
    job_start(&setup, &state);
    assert_near(state.rows.tension_n[1], setup.target_n, 1e-6);
    assert_near(state.rows.beyond_n[1][0], setup.target_n * exp(-0.3), 1e-6);
    const double tone = act(&setup, &state, PLUCK, 1).value[0];
    assert_near(tone, mech_tone_hz(setup.target_n, setup.structure.strand.mass_kg_m, 1.0), 0.051);
    assert_near(act(&setup, &state, GAUGE, 1).value[0], setup.target_n, 1e-6);
    const double passed_m = state.rows.passed_m[1][0];
    done(&setup, PLIERS, 1, 1);
    done(&setup, TURN_BODY, 1, -0.05); /* let out a little: the hole still holds what is beyond */
    assert_near(state.rows.passed_m[1][0], passed_m, 0.0);
    assert_true(state.rows.tension_n[1] < setup.target_n - 10.0);
    assert_true(state.rows.beyond_n[1][0] > state.rows.tension_n[1] * exp(-0.3) + 5.0);
}

static void freeing_a_twist_needs_a_slack_row(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(5, 0, 0.0889, 3.0, JOB_STAGE_READ);
    setup.fault_count = 1;
    setup.fault[0] = (job_fault){JOB_FAULT_TWISTED, 2, 3.0};
    job_start(&setup, &state);
    assert_int_equal(act(&setup, &state, FREE_TWIST, 2).refusal, JOB_REFUSE_UNDER_TENSION);
    done(&setup, PLIERS, 2, 1);
    done(&setup, TURN_BODY, 2, -5.0);
    const job_outcome freed = act(&setup, &state, FREE_TWIST, 2);
    assert_int_equal(freed.refusal, JOB_REFUSE_NONE);
    assert_near(freed.value[0], 3.0, 1e-9);
    assert_near(state.row[2].engaged.twist_turns, 0.0, 0.0);
    assert_false(job_fault_is_present(&setup, &state, &setup.fault[0]));
}

static void studs_meet_and_studs_come_out(void **unused)
{
    (void)unused;
    job_setup setup = hand_tight_job(3);
    setup.pin_limit_n_m = (double)INFINITY;
    setup.crimp.efficiency = 50.0; /* nothing gives way here */
    setup.wood.wet_factor = 50.0;
    job_start(&setup, &state);
    done(&setup, PLIERS, 1, 1);
    const double room = mech_turns_to_bottom(&setup.turnbuckle, &state.row[1].engaged);
    const job_outcome meet = act(&setup, &state, TURN_BODY, 1, 60.0);
    assert_true((meet.events & JOB_EVENT_BOTTOMED) != 0);
    assert_true((meet.events & JOB_EVENT_OVER_LIMIT) != 0);
    assert_near(meet.value[0], room, 1e-6);
    const job_outcome out = act(&setup, &state, TURN_BODY, 1, -60.0);
    assert_true((out.events & JOB_EVENT_CAME_OUT) != 0);
    assert_false(state.row[1].is_joined);
    assert_near(state.rows.tension_n[1], 0.0, 0.0);
    assert_true(state.peak_n[1] > setup.row_limit_n);
}

static void the_pin_gets_too_heavy_for_a_hand(void **unused)
{
    (void)unused;
    job_setup setup = hand_tight_job(3);
    setup.pin_limit_n_m = 1.0;
    job_start(&setup, &state);
    done(&setup, PLIERS, 1, 1);
    const job_outcome heavy = act(&setup, &state, TURN_BODY, 1, 20.0);
    assert_int_equal(heavy.events, JOB_EVENT_TOO_HEAVY);
    assert_true(heavy.value[0] > 0.0 && heavy.value[0] < 10.0);
    const double tension = state.rows.tension_n[1];
    const double both = 2.0 * mech_thread_raise(&setup.turnbuckle.anchor, tension);
    assert_true(both <= 1.0 && both > 0.7);
}

static void overloaded_ends_give_way_to_what_they_hold(void **unused)
{
    (void)unused;
    job_setup setup = hand_tight_job(3);
    setup.crimp.efficiency = 0.12;
    job_start(&setup, &state);
    const double hold = job_row_capacity(&setup, &state.row[1]);
    assert_true(hold < 1500.0);
    done(&setup, PLIERS, 1, 1);
    const job_outcome slip = act(&setup, &state, TURN_BODY, 1, 8.0);
    assert_true((slip.events & JOB_EVENT_CRIMP_SLIP) != 0);
    assert_near(state.rows.tension_n[1], hold, 1e-4 * hold);
    assert_true(state.row[1].slip_m > 0.001);
    assert_int_equal(state.slips_under_load, 1);
    assert_near(state.peak_n[1], hold, 1e-4 * hold); /* it never carried more than that */
    assert_near(state.rows.peak_n[1], hold, 1e-4 * hold);
    setup.crimp.efficiency = 0.75;
    setup.insert.length_m = 0.004; /* hardly any thread in the wood */
    job_start(&setup, &state);
    done(&setup, PLIERS, 1, 1);
    assert_true((act(&setup, &state, TURN_BODY, 1, 8.0).events & JOB_EVENT_PULL_OUT) != 0);
}

static void a_cable_drawn_right_out_of_its_crimp_is_off(void **unused)
{
    (void)unused;
    job_setup setup = hand_tight_job(3);
    setup.crimp.efficiency = 0.02;
    job_start(&setup, &state);
    done(&setup, PLIERS, 1, 1);
    done(&setup, TURN_BODY, 1, 20.0);
    assert_false(state.row[1].is_joined);
    assert_near(state.row[1].crimp.seated_m, 0.0, 0.0);
    assert_near(state.rows.tension_n[1], 0.0, 0.0);
}

/* ---- the books -------------------------------------------------------------------------------------------------- */

static void trips_make_pulls(void **unused)
{
    (void)unused;
    const job_setup setup = hand_tight_job(5);
    job_start(&setup, &state);
    done(&setup, PLIERS, 2, 1);
    done(&setup, TURN_BODY, 2, 0.5);
    done(&setup, GAUGE, 2);
    done(&setup, TURN_BODY, 2, 0.5); /* the same trip */
    assert_int_equal(state.pull_count, 1);
    assert_near(state.pull[0].before_n, setup.hand_tight_n, 1e-5);
    assert_near(state.pull[0].after_n, state.rows.tension_n[2], 0.0);
    const double first = state.row[2].first_reading_n;
    assert_near(first, state.rows.tension_n[2], 0.0);
    done(&setup, PLIERS, 3, 1);
    done(&setup, TURN_BODY, 3, 1.0);
    done(&setup, TURN_BODY, 3, -1.0); /* undone: no pull */
    assert_int_equal(state.pull_count, 1);
    assert_near(state.row[3].first_reading_n, 0.0, 0.0);
    done(&setup, TURN_BODY, 2, -0.25); /* letting out is no pull */
    assert_int_equal(state.pull_count, 1);
    done(&setup, TURN_BODY, 3, 1.0);
    done(&setup, TURN_BODY, 2, 1.0);
    assert_int_equal(state.pull_count, 3);
    assert_int_equal(state.pull[1].row, 3);
    assert_int_equal(state.pull[2].row, 2);
    assert_near(state.row[2].first_reading_n, first, 0.0);
}

static void a_full_log_keeps_counting(void **unused)
{
    (void)unused;
    const job_setup setup = hand_tight_job(3);
    job_start(&setup, &state);
    for (int i = 0; i < JOB_MAX_PULL_LOG + 20; i++) {
        done(&setup, PLIERS, i % 2, 1);
        done(&setup, TURN_BODY, i % 2, 0.001);
    }
    assert_int_equal(state.pull_count, JOB_MAX_PULL_LOG + 20);
    done(&setup, TURN_BODY, (JOB_MAX_PULL_LOG + 19) % 2, -0.001); /* strikes the last, which is past the end */
    assert_int_equal(state.pull_count, JOB_MAX_PULL_LOG + 19);
    assert_int_equal(state.pull[JOB_MAX_PULL_LOG - 1].row, (JOB_MAX_PULL_LOG - 1) % 2);
}

static void one_pair_of_pliers(void **unused)
{
    (void)unused;
    const job_setup setup = hand_tight_job(3);
    job_start(&setup, &state);
    done(&setup, PLIERS, 0, 1);
    done(&setup, PLIERS, 1, 1);
    assert_false(state.row[0].has_pliers);
    assert_true(state.row[1].has_pliers);
    done(&setup, PLIERS, 1, 0);
    assert_false(state.row[1].has_pliers);
}

static double off_centre_of(const job_setup *setup, const int *order, int count)
{
    job_start(setup, &state);
    for (int i = 0; i < count; i++) {
        done(setup, PLIERS, order[i], 1);
        done(setup, TURN_BODY, order[i], 2.0);
    }
    return state.off_centre_peak_n_m;
}

/* docs/mechanics.md 4: middle out keeps the peak to about a third of that of working from one end. */
static void the_order_shows_in_the_off_centre_peak(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(11, 11, 0.1397, 6.0, JOB_STAGE_TENSION);
    int order[MECH_MAX_ROWS];
    mech_order_rows(MECH_MIDDLE_OUT, 11, order);
    const double middle_out = off_centre_of(&setup, order, 11);
    mech_order_rows(MECH_TOP_DOWN, 11, order);
    const double top_down = off_centre_of(&setup, order, 11);
    assert_true(middle_out > 0.0 && middle_out < 0.5 * top_down);
    assert_true(state.bending_peak > 0.0);
}

/* ---- measuring -------------------------------------------------------------------------------------------------- */

static void ear_and_gauge(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(5, 0, 0.0889, 3.0, JOB_STAGE_READ);
    setup.structure.bay_m[0] = 0.8;
    setup.structure.bay_m[1] = 1.2;
    job_start(&setup, &state);
    /* string frequency, f = sqrt(T/m) / (2 l) (Mersenne): 1000 N, 47.5 g/m, longest bay 1.2 m */
    const job_outcome tone = act(&setup, &state, PLUCK, 2);
    assert_near(tone.value[0], 60.5, 0.051);
    assert_near(tone.value[0] * 10.0, floor(tone.value[0] * 10.0 + 0.5), 1e-9);
    assert_int_equal(state.row[2].measured_at, 0);
    double low = 1e9;
    double high = 0.0;
    for (int i = 0; i < 20; i++) {
        const double reading = act(&setup, &state, GAUGE, 2).value[0];
        low = fmin(low, reading);
        high = fmax(high, reading);
    }
    assert_true(low < high && low > 900.0 && high < 1100.0);
    assert_int_equal(state.row[2].measured_at, 20);
    setup.gauge_bias = 0.0;
    setup.gauge_scatter = 0.0;
    assert_near(act(&setup, &state, GAUGE, 2).value[0], state.rows.tension_n[2], 0.0);
}

static void ball_and_eye(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(11, 0, 0.0889, 3.6, JOB_STAGE_READ);
    job_start(&setup, &state);
    const job_outcome gap = act(&setup, &state, BALL, 5);
    assert_true(gap.value[0] > 0.0);
    assert_true((gap.value[1] == 1.0) == (gap.value[0] >= setup.ball_push_n));
    assert_true(state.is_gap_tried[5]);
    done(&setup, BALL, 0);
    done(&setup, BALL, 11);
    assert_int_equal(act(&setup, &state, BALL, 12).refusal, JOB_REFUSE_NO_SUCH_GAP);
    done(&setup, PLIERS, 5, 1);
    done(&setup, TURN_BODY, 5, -3.0);
    assert_true(act(&setup, &state, BALL, 5).value[0] < gap.value[0]); /* a slack row gives */
    const job_outcome sight = act(&setup, &state, SIGHT, 0);
    assert_true(sight.value[0] > 0.0005 && sight.value[0] < 0.05);
    assert_true(sight.value[1] == 0.0 && sight.value[2] == 0.0);
}

static void a_wide_gap_lets_the_ball_through(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(5, 0, 0.0889, 3.6, JOB_STAGE_READ); /* 160 mm apart */
    job_start(&setup, &state);
    const job_outcome gap = act(&setup, &state, BALL, 2);
    assert_true(gap.value[0] == 0.0 && gap.value[1] == 0.0);
}

/* ---- replay ----------------------------------------------------------------------------------------------------- */

static void a_replay_tells_the_story(void **unused)
{
    (void)unused;
    static job_action journal[400];
    static job_trace_entry trace[400];
    static job_state again;
    const job_setup setup = made_up(5, 0.0889, 3.0);
    job_start(&setup, &state);
    size_t count = 0;
    while (count < 400 && job_expert_next(&setup, &state, &journal[count])) {
        job_apply(&setup, &state, &journal[count]);
        count++;
    }
    assert_true(state.is_signed);
    job_replay(&setup, journal, count, &again, trace);
    const tr_hash a = job_state_hash(&setup, &state);
    const tr_hash b = job_state_hash(&setup, &again);
    assert_memory_equal(a.byte, b.byte, TR_HASH_BYTES);
    assert_memory_equal(&trace[count - 1].action, &journal[count - 1], sizeof(job_action));
    for (int i = 0; i < 5; i++) {
        assert_near(trace[count - 1].tension_n[i], state.rows.tension_n[i], 0.0);
    }
    assert_true(trace[count - 1].rail_n > 0.0);
    assert_near(trace[0].tension_n[0], 0.0, 0.0);
    for (int i = 0; i < 5; i++) {
        assert_int_equal(job_row_stage(&setup, &state, i), JOB_STAGE_COUNT);
        assert_int_equal(job_row_look_of(&setup, &state, i), JOB_LOOK_IN);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_start_with_the_tensions_of_the_scenario),
        cmocka_unit_test(faults_change_the_fitting_and_not_the_tension),
        cmocka_unit_test(a_crimp_that_cannot_hold_has_slipped_before),
        cmocka_unit_test(one_row_up_brings_the_others_down),
        cmocka_unit_test(a_stud_that_is_not_held_winds_the_cable_up),
        cmocka_unit_test(days_let_a_wound_cable_go_and_posts_creep),
        cmocka_unit_test(ear_and_gauge_take_the_bays_before_a_bend),
        cmocka_unit_test(freeing_a_twist_needs_a_slack_row),
        cmocka_unit_test(studs_meet_and_studs_come_out),
        cmocka_unit_test(the_pin_gets_too_heavy_for_a_hand),
        cmocka_unit_test(overloaded_ends_give_way_to_what_they_hold),
        cmocka_unit_test(a_cable_drawn_right_out_of_its_crimp_is_off),
        cmocka_unit_test(trips_make_pulls),
        cmocka_unit_test(a_full_log_keeps_counting),
        cmocka_unit_test(one_pair_of_pliers),
        cmocka_unit_test(the_order_shows_in_the_off_centre_peak),
        cmocka_unit_test(ear_and_gauge),
        cmocka_unit_test(ball_and_eye),
        cmocka_unit_test(a_wide_gap_lets_the_ball_through),
        cmocka_unit_test(a_replay_tells_the_story),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
