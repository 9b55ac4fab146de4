/* The expert on made-up jobs: it must come to the end, sign, and leave every row in tolerance, with nothing refused. */
#include "act.h"

#include <stdio.h>
#include <stdlib.h>

static void explain(const job_setup *setup, const job_state *state, const job_action *action,
                    const job_outcome *outcome)
{
    print_error("%4d %-14s", (int)state->action_count, job_verb_look(action->verb)->name);
    for (int i = 0; i < job_verb_look(action->verb)->field_count; i++) {
        print_error(" %.6g", action->arg[i]);
    }
    print_error(" -> %s %x |", job_refusal_key(outcome->refusal), outcome->events);
    for (int i = 0; i < setup->structure.row_count; i++) {
        print_error(" %.0f", state->rows.tension_n[i]);
    }
    print_error("\n");
}

static void run_to_end(const job_setup *setup, const char *name)
{
    static job_state state;
    job_start(setup, &state);
    const bool is_loud = getenv("LOUD") != NULL;
    job_action action;
    int count = 0;
    while (count < 2000 && job_expert_next(setup, &state, &action)) {
        const job_outcome outcome = job_apply(setup, &state, &action);
        if (is_loud || outcome.refusal != JOB_REFUSE_NONE) {
            explain(setup, &state, &action, &outcome);
        }
        assert_int_equal(outcome.refusal, JOB_REFUSE_NONE);
        count++;
    }
    print_message("%s: %d actions, %d pulls\n", name, count, state.pull_count);
    assert_true(state.is_signed);
    assert_true(count < 2000);
    for (int i = 0; i < setup->structure.row_count; i++) {
        assert_near(state.rows.tension_n[i], setup->target_n, setup->tolerance * setup->target_n);
        assert_true(state.peak_n[i] <= setup->row_limit_n);
        assert_true(state.row[i].is_joined);
    }
    for (int i = 0; i < setup->fault_count; i++) {
        const job_fault_kind kind = setup->fault[i].kind;
        const int row = kind == JOB_FAULT_WET_POST ? 0 : setup->fault[i].row;
        assert_true(state.row[row].is_fault_reported[kind]);
        const bool can_be_mended = kind != JOB_FAULT_WET_POST && kind != JOB_FAULT_BIG_BIT;
        assert_int_equal(job_fault_is_present(setup, &state, &setup->fault[i]), !can_be_mended);
    }
    assert_int_equal(state.slips_under_load, 0);
}

static void from_bare_on_yielding_posts(void **unused)
{
    (void)unused;
    const job_setup setup = made_up(11, 0.0889, 3.6576);
    run_to_end(&setup, "yielding, 11 rows");
}

static void from_bare_on_stiff_posts(void **unused)
{
    (void)unused;
    const job_setup setup = made_up(10, 0.1397, 6.096);
    run_to_end(&setup, "stiff, 10 rows");
}

static void one_round_on_rigid_posts(void **unused)
{
    (void)unused;
    job_setup setup = made_up(7, 0.1397, 2.4);
    setup.structure.post[MECH_NEAR].is_rigid = true;
    setup.structure.post[MECH_FAR].is_rigid = true;
    setup.structure.rail.is_fitted = false;
    setup.rounds = 1;
    setup.round_share[0] = 1.0;
    setup.tolerance = 0.05;
    run_to_end(&setup, "rigid, 7 rows");
}

static void most_rows(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(40, 40, 0.1397, 5.0, JOB_STAGE_TENSION);
    setup.target_n = 400.0;
    setup.ball_push_n = 0.0;
    run_to_end(&setup, "40 rows to tension");
}

static void after_a_crew_with_faults(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(11, 3, 0.0889, 4.5, JOB_STAGE_ASSEMBLE);
    const job_fault faults[] = {
        {JOB_FAULT_UNSEATED, 3, 0.009}, {JOB_FAULT_ONE_SQUEEZE, 4, 0.0}, {JOB_FAULT_NO_TURN, 5, 0.0},
        {JOB_FAULT_TWISTED, 6, 4.0},    {JOB_FAULT_FEW_THREADS, 7, 3.0}, {JOB_FAULT_BIG_BIT, 8, 0.001},
        {JOB_FAULT_WET_POST, -1, 0.0},
    };
    setup.fault_count = (int)(sizeof faults / sizeof faults[0]);
    memcpy(setup.fault, faults, sizeof faults);
    run_to_end(&setup, "crew with every fault");
}

static void all_from_hand_tight(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(9, 9, 0.0889, 3.0, JOB_STAGE_TENSION);
    run_to_end(&setup, "from hand tight, 9 rows");
}

/* Posts without a rail give so far that the bodies run out of travel: the expert does what can be done and harms
 * nothing. */
static void a_job_that_cannot_be_done(void **unused)
{
    (void)unused;
    static job_state state;
    job_setup setup = made_up(7, 0.0889, 1.8);
    setup.structure.rail.is_fitted = false;
    job_start(&setup, &state);
    assert_true(made_up_expert(&setup, &state, 2000) < 2000);
    assert_true(state.is_signed);
    assert_int_equal(state.refusals, 0);
    int out = 0;
    for (int i = 0; i < 7; i++) {
        assert_true(state.peak_n[i] <= setup.row_limit_n);
        out += fabs(state.rows.tension_n[i] - setup.target_n) > setup.tolerance * setup.target_n ? 1 : 0;
    }
    assert_true(out > 0);
}

/* In the middle of a careless trainee's work: one squeeze, a twisted row, a row with the wrong cutter. */
static void advice_in_the_middle(void **unused)
{
    (void)unused;
    static job_state state;
    const job_setup setup = made_up_crew(5, 5, 0.0889, 3.0, JOB_STAGE_CUT);
    job_start(&setup, &state);
    act(&setup, &state, GLASSES, 1);
    act(&setup, &state, TAKE_CUTTER, 1);
    act(&setup, &state, HANG_CABLE, 0);
    act(&setup, &state, PULL_CABLE, 0, 5);
    act(&setup, &state, MARK_CABLE, 0, -0.05);
    assert_int_equal(act(&setup, &state, CUT_CABLE, 0, 0).events, JOB_EVENT_FRAYED);
    act(&setup, &state, PUSH_HOME, 0, 0.03);
    act(&setup, &state, PLACE_DIE, 0, 0.01);
    assert_int_equal(act(&setup, &state, SQUEEZE, 0, 0.5).refusal, JOB_REFUSE_NONE);
    assert_true(made_up_expert(&setup, &state, 2000) < 2000);
    assert_true(state.is_signed);
    assert_true(state.row[0].redone > 0);
    assert_false(state.row[0].is_frayed);
    assert_near(state.rows.tension_n[0], setup.target_n, setup.tolerance * setup.target_n);
}

/* What a careful hand really does of an action: no pole stands to the hair, and a bore's end in single precision is not
 * quite that in double. */
static job_action by_hand(job_action action)
{
    switch (action.verb) {
    case JOB_DO_SET_POLE:
        action.arg[JOB_SET_POLE_ERROR] = 0.0003;
        break;
    case JOB_DO_PUSH_HOME:
        action.arg[JOB_PUSH_HOME_DEPTH] = (double)(float)action.arg[JOB_PUSH_HOME_DEPTH] - 1e-9;
        break;
    case JOB_DO_TURN_CRIMPER:
        action.arg[JOB_TURN_CRIMPER_ANGLE] -= 0.03;
        break;
    case JOB_DO_BACK_OFF:
        action.arg[JOB_BACK_OFF_LEFT] += 0.25;
        break;
    default:
        break;
    }
    return action;
}

/* Advice that only a machine could follow would be given again and again. */
static void what_a_careful_hand_does_is_enough(void **unused)
{
    (void)unused;
    static job_state state;
    const job_setup setup = made_up(3, 0.0889, 3.0);
    int given[JOB_VERB_COUNT] = {0};
    job_action action;
    job_start(&setup, &state);
    for (int count = 0; count < 600 && job_expert_next(&setup, &state, &action); count++) {
        given[action.verb]++;
        action = by_hand(action);
        (void)job_apply(&setup, &state, &action);
    }
    assert_true(state.is_signed);
    assert_int_equal(given[JOB_DO_SET_POLE], 1);
    assert_int_equal(given[JOB_DO_PUSH_HOME], 3);
    assert_int_equal(given[JOB_DO_TURN_CRIMPER], 3);
    assert_int_equal(given[JOB_DO_BACK_OFF], 3);
}

/* A run on which nothing is to be tensioned first has no right answer to that question, but rows count from 1. */
static void a_question_without_an_answer_is_answered_once(void **unused)
{
    (void)unused;
    static job_state state;
    job_setup setup = made_up(3, 0.0889, 3.0);
    job_action action = {.verb = JOB_DO_OPEN_SHEET};
    setup.order_count = 0;
    job_start(&setup, &state);
    int asked = 0;
    while (asked < 10 && job_expert_next(&setup, &state, &action) &&
           job_verb_look(action.verb)->stage == JOB_STAGE_READ) {
        if (action.verb == JOB_DO_ANSWER) {
            assert_true(action.arg[JOB_ANSWER_QUESTION] != 1.0 || action.arg[JOB_ANSWER_CHOICE] >= 1.0);
            asked++;
        }
        (void)job_apply(&setup, &state, &action);
    }
    assert_int_equal(asked, 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(from_bare_on_yielding_posts),
        cmocka_unit_test(from_bare_on_stiff_posts),
        cmocka_unit_test(one_round_on_rigid_posts),
        cmocka_unit_test(most_rows),
        cmocka_unit_test(after_a_crew_with_faults),
        cmocka_unit_test(all_from_hand_tight),
        cmocka_unit_test(a_job_that_cannot_be_done),
        cmocka_unit_test(advice_in_the_middle),
        cmocka_unit_test(what_a_careful_hand_does_is_enough),
        cmocka_unit_test(a_question_without_an_answer_is_answered_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
