/* Reasons in numbers: each against the mechanics called directly, or against the work carried out. */
#include "made_up.h"
#include "near.h"

#include <stdlib.h>

#include "made_up.h"
#include "tautrow/job/reason.h"

static const double quarter_m = 0.25 * TR_INCH_M;

typedef struct bench {
    job_setup setup;
    job_state state;
} bench;

static bench *open_bench(void)
{
    bench *b = calloc(1, sizeof *b);
    assert_non_null(b);
    b->setup = made_up_deck(7);
    job_start(&b->setup, &b->state);
    return b;
}

/* The expert works until this verb is due. */
static job_action bring_to(bench *b, job_verb verb)
{
    job_action action = {.verb = JOB_DO_HINT};
    for (int i = 0; i < 3000 && job_expert_next(&b->setup, &b->state, &action); i++) {
        if (action.verb == verb) {
            return action;
        }
        (void)job_apply(&b->setup, &b->state, &action);
    }
    fail();
    return action;
}

static job_reason reason_at(bench *b, job_verb verb)
{
    const job_action due = bring_to(b, verb);
    return job_reason_for(&b->setup, &b->state, &due, quarter_m);
}

static double grip_of(const job_setup *setup, double diameter_m, double depth_m, double proud_m)
{
    const mech_hole hole = {.diameter_m = diameter_m, .depth_m = depth_m};
    const mech_seat seat = {.proud_m = fmax(proud_m, mech_insert_proud_least(&setup->insert, &hole))};
    return mech_insert_grip(&setup->insert, &hole, &seat, &setup->wood, setup->edge_m).ultimate_n;
}

static void wood_holds_less_when_it_is_done_wrong(void **state)
{
    (void)state;
    bench *b = open_bench();
    const double right_m = b->setup.bit[b->setup.right_bit].diameter_m;
    const double asked_n = grip_of(&b->setup, right_m, b->setup.hole_depth_m, 0.0);
    job_reason why = reason_at(b, JOB_DO_TAKE_BIT);
    assert_int_equal(why.kind, JOB_REASON_BIT);
    assert_true(why.value[0] > right_m);
    assert_near(why.value[1], asked_n, 1e-9);
    assert_near(why.value[2], grip_of(&b->setup, why.value[0], b->setup.hole_depth_m, 0.0), 1e-9);
    why = reason_at(b, JOB_DO_DRILL);
    assert_int_equal(why.kind, JOB_REASON_DEPTH);
    assert_near(why.value[0], b->setup.insert.length_m - quarter_m, 1e-12);
    assert_near(why.value[2], grip_of(&b->setup, right_m, why.value[0], 0.0), 1e-9);
    assert_true(why.value[2] < why.value[1]);
    why = reason_at(b, JOB_DO_DRIVE_INSERT);
    assert_int_equal(why.kind, JOB_REASON_PROUD);
    assert_near(why.value[2], grip_of(&b->setup, right_m, b->setup.hole_depth_m, 0.5 * quarter_m), 1e-9);
    free(b);
}

static void a_mark_too_high_weakens_the_gap_below(void **state)
{
    (void)state;
    bench *b = open_bench();
    const job_reason why = reason_at(b, JOB_DO_MARK_ROW);
    assert_int_equal(why.kind, JOB_REASON_GAP);
    assert_true(why.value[2] < why.value[1]);
    assert_near(why.value[0], quarter_m, 1e-12);
    free(b);
}

static void a_crimp_holds_less_short_of_home_once_squeezed_or_unturned(void **state)
{
    (void)state;
    static const struct {
        job_verb verb;
        job_reason_kind kind;
    } cases[] = {{JOB_DO_PUSH_HOME, JOB_REASON_HOME},
                 {JOB_DO_SQUEEZE, JOB_REASON_SQUEEZE},
                 {JOB_DO_TURN_CRIMPER, JOB_REASON_PLANE}};
    bench *b = open_bench();
    const mech_crimp asked = job_crimp_asked(&b->setup);
    const double asked_n = mech_crimp_look(&b->setup.crimp, &asked, b->setup.structure.strand.breaking_n).hold_n;
    for (size_t i = 0; i < 3; i++) {
        const job_reason why = reason_at(b, cases[i].verb);
        assert_int_equal(why.kind, cases[i].kind);
        assert_near(why.value[1], asked_n, 1e-9);
        assert_true(why.value[2] < 0.95 * asked_n);
    }
    free(b);
}

/* A cable a quarter inch too long costs a quarter inch of both threads. */
static void length_costs_turns(void **state)
{
    (void)state;
    bench *b = open_bench();
    const double turn_m = b->setup.turnbuckle.anchor.pitch_m + b->setup.turnbuckle.cable.pitch_m;
    assert_int_equal(reason_at(b, JOB_DO_PULL_CABLE).kind, JOB_REASON_NONE); /* well supported: no tape shows it */
    b->setup.hand_pull_n = 20.0;
    const job_reason pull = reason_at(b, JOB_DO_PULL_CABLE);
    assert_int_equal(pull.kind, JOB_REASON_PULL);
    assert_near(pull.value[1], mech_cut_pull_error(&b->state.run, 0.5 * b->setup.hand_pull_n, b->setup.hand_pull_n),
                1e-12);
    const job_reason cut = reason_at(b, JOB_DO_CUT_CABLE);
    assert_int_equal(cut.kind, JOB_REASON_LENGTH);
    assert_near(cut.value[1] - cut.value[2], quarter_m / turn_m, 1e-9);
    free(b);
}

/* What a row gives up is what it really has lost when the other one is brought to the target. */
static void what_a_row_gives_up_comes_true(void **state)
{
    (void)state;
    bench *b = open_bench();
    job_action due = bring_to(b, JOB_DO_TURN_BODY);
    const int first = job_action_row(&due);
    (void)job_apply(&b->setup, &b->state, &due);
    mech_run_pull(&b->state.run, &b->state.rows, first, 0.9 * b->setup.target_n); /* as turned there */
    do {
        assert_true(job_expert_next(&b->setup, &b->state, &due));
        (void)job_apply(&b->setup, &b->state, &due);
    } while (due.verb != JOB_DO_PLIERS || job_action_row(&due) == first);
    assert_true(job_expert_next(&b->setup, &b->state, &due));
    assert_int_equal(due.verb, JOB_DO_TURN_BODY);
    const job_reason why = job_reason_for(&b->setup, &b->state, &due, quarter_m);
    assert_int_equal(why.kind, JOB_REASON_GIVES_UP);
    assert_true(why.row >= 0 && why.row != job_action_row(&due));
    assert_near(why.value[0], b->setup.target_n, 0.0);
    assert_near(why.value[1], b->state.rows.tension_n[why.row], 0.0);
    mech_rows rows = b->state.rows;
    mech_run_pull(&b->state.run, &rows, job_action_row(&due), b->setup.target_n);
    assert_near(why.value[2], rows.tension_n[why.row], 1e-9);
    assert_true(why.value[2] < why.value[1]);
    free(b);
}

static void an_unheld_stud_gives_less(void **state)
{
    (void)state;
    bench *b = open_bench();
    const job_reason why = reason_at(b, JOB_DO_PLIERS);
    assert_int_equal(why.kind, JOB_REASON_UNHELD);
    assert_true(why.value[2] < why.value[1]);
    free(b);
}

static void rigid_posts_leave_nothing_to_give_up(void **state)
{
    (void)state;
    bench *b = open_bench();
    b->setup.structure.post[MECH_NEAR].is_rigid = b->setup.structure.post[MECH_FAR].is_rigid = true;
    job_start(&b->setup, &b->state);
    assert_int_equal(reason_at(b, JOB_DO_OPEN_SHEET).kind, JOB_REASON_NONE);
    assert_int_equal(reason_at(b, JOB_DO_TURN_BODY).kind, JOB_REASON_NONE);
    free(b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wood_holds_less_when_it_is_done_wrong),
        cmocka_unit_test(a_mark_too_high_weakens_the_gap_below),
        cmocka_unit_test(a_crimp_holds_less_short_of_home_once_squeezed_or_unturned),
        cmocka_unit_test(length_costs_turns),
        cmocka_unit_test(what_a_row_gives_up_comes_true),
        cmocka_unit_test(an_unheld_stud_gives_less),
        cmocka_unit_test(rigid_posts_leave_nothing_to_give_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
