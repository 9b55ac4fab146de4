/* Points: a careful attempt earns all, each slip costs its own line and those that physically follow, nothing earns
 * nothing. */
#include "attempt.h"

/* Rows 2, 5 and 8 from 0: low, middle and high. */
static const unsigned some_rows = 1U << 2 | 1U << 5 | 1U << 8;

static void assert_full(const score_card *card, int criterion)
{
    const score_line *line = &card->line[criterion];
    if (line->applies && line->points < line->weight - 1e-9) {
        fail_msg("%s: %g of %g points, measured %g, %d rows", scenario_criterion_look(line->criterion)->key,
                 line->points, line->weight, line->measured, line->row_count);
    }
}

static void a_careful_attempt_earns_all(void **state)
{
    (void)state;
    const slip none = {0};
    attempt *a = attempt_new(11);
    do_job(a, &none);
    const score_card card = grade_of(a);
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        assert_full(&card, i);
        assert_int_equal(card.line[i].effect.kind, SCORE_EFFECT_NONE);
    }
    assert_near(card.total, 100.0, 1e-9);
    assert_int_equal(card.stops, 0);
    assert_true(card.passed && card.is_signed);
    assert_false(card.line[SCENARIO_FAULTS].applies);
    assert_int_equal(card.replays, 0);
    assert_near(card.lowest_n, a->task.setup.target_n, 0.02 * a->task.setup.target_n);
    free(a);
}

static void an_empty_attempt_earns_nothing(void **state)
{
    (void)state;
    attempt *a = attempt_new(11);
    const score_card card = grade_of(a);
    assert_near(card.total, 0.0, 0.0);
    assert_int_equal(card.stops, 1U << SCORE_STOP_UNFINISHED);
    assert_false(card.passed);
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        assert_true(!card.line[i].applies || card.line[i].is_undone || card.line[i].points == 0.0);
    }
    free(a);
}

/* ---- one slip at a time ----------------------------------------------------------------------------------------- */

enum { MOST_FOLLOW = 5 };

typedef struct slip_case {
    const char *what;
    slip with;
    scenario_criterion lost;
    scenario_criterion follows[MOST_FOLLOW]; /* may lose too; the first entry also stands for "none" */
} slip_case;

static bool may_lose(const slip_case *one, int criterion)
{
    if ((int)one->lost == criterion) {
        return true;
    }
    for (int i = 0; i < MOST_FOLLOW; i++) {
        if (one->follows[i] != SCENARIO_READING && (int)one->follows[i] == criterion) {
            return true;
        }
    }
    return false;
}

static void check_slip(const slip_case *one)
{
    attempt *a = attempt_new(11);
    print_message("slip: %s\n", one->what);
    do_job(a, &one->with);
    const score_card card = grade_of(a);
    const score_line *lost = &card.line[one->lost];
    assert_true(lost->applies && lost->points < lost->weight - 1e-6);
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        if (!may_lose(one, i)) {
            assert_full(&card, i);
        }
    }
    free(a);
}

static const slip_case slip_cases[] = {
    {"answers left out", {.no_answers = true}, SCENARIO_READING, {0}},
    {"a bit too big", {.rows = some_rows, .bit = 1}, SCENARIO_BIT, {0}},
    {"drill far too fast", {.rows = some_rows, .drill_rpm = 1900.0}, SCENARIO_DRILL_SPEED, {0}},
    {"holes too deep", {.rows = some_rows, .depth_m = 0.006}, SCENARIO_HOLE_DEPTH, {0}},
    {"holes too shallow", {.rows = some_rows, .depth_m = -0.008}, SCENARIO_HOLE_DEPTH, {SCENARIO_INSERT_SEAT}},
    {"holes out of square", {.rows = some_rows, .square_rad = 0.07}, SCENARIO_HOLE_SQUARE, {0}},
    {"marks too high", {.rows = some_rows, .mark_m = 0.004}, SCENARIO_MARK_HEIGHT, {SCENARIO_OPENING}},
    {"inserts proud", {.rows = some_rows, .proud_m = 0.002}, SCENARIO_INSERT_SEAT, {SCENARIO_FINISH}},
    {"driver too fast",
     {.rows = some_rows, .driver_rpm = 600.0},
     SCENARIO_DRIVER_SPEED,
     {SCENARIO_INSERT_SEAT, SCENARIO_FINISH}},
    {"stud in the wrong end", {.rows = some_rows, .wrong_hand = true}, SCENARIO_HANDS, {0}},
    {"cables too long", {.rows = some_rows, .cut_m = 0.006}, SCENARIO_CUT_LENGTH, {0}},
    {"cables not home", {.rows = some_rows, .seat_m = 0.004}, SCENARIO_CABLE_SEAT, {0}},
    {"one squeeze", {.rows = some_rows, .one_squeeze = true}, SCENARIO_SQUEEZES, {SCENARIO_SQUEEZE_TURN}},
    {"no quarter turn", {.rows = some_rows, .turn_rad = 0.6}, SCENARIO_SQUEEZE_TURN, {0}},
    {"body not held", {.rows = some_rows, .body_free = true}, SCENARIO_BODY_HELD, {0}},
    {"stud not held",
     {.rows = some_rows, .stud_free = true},
     SCENARIO_STUD_HELD,
     {SCENARIO_TARGET, SCENARIO_EVENNESS, SCENARIO_OPENING}},
    {"from the bottom up", {.bottom_up = true}, SCENARIO_ORDER, {SCENARIO_OFF_CENTRE}},
    {"no check round", {.no_check_round = true}, SCENARIO_ROUNDS, {SCENARIO_TARGET, SCENARIO_EVENNESS}},
    {"rows left slack", {.rows = some_rows, .uneven = 0.4}, SCENARIO_EVENNESS, {SCENARIO_TARGET, SCENARIO_OPENING}},
    {"rows out of tolerance", {.rows = some_rows, .uneven = 0.1}, SCENARIO_TARGET, {0}},
    {"past the limit", {.rows = some_rows, .over_pull = 1.1}, SCENARIO_OVER_TENSION, {SCENARIO_OFF_CENTRE}},
    {"in the line of the row", {.not_clear = true}, SCENARIO_CLEAR, {0}},
    {"no glasses", {.rows = some_rows, .no_glasses_tried = true}, SCENARIO_GLASSES, {0}},
    {"collars left off", {.leave_collars = true}, SCENARIO_FINISH, {0}},
    {"twice the par time", {.slow = 5.0}, SCENARIO_TIME, {0}},
};

static void each_slip_costs_its_own_line(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof slip_cases / sizeof slip_cases[0]; i++) {
        check_slip(&slip_cases[i]);
    }
}

static void the_rows_that_lost_points_are_named(void **state)
{
    (void)state;
    const slip deep = {.rows = some_rows, .depth_m = 0.006};
    attempt *a = attempt_new(11);
    do_job(a, &deep);
    const score_card card = grade_of(a);
    const score_line *line = &card.line[SCENARIO_HOLE_DEPTH];
    assert_int_equal(line->row_count, 3);
    assert_int_equal(line->row[0], 2);
    assert_int_equal(line->row[1], 5);
    assert_int_equal(line->row[2], 8);
    assert_near(line->measured, 0.006, 1e-9);
    /* 8 rows full, 3 rows at the share of 6 mm between 1.5 and 8 mm */
    assert_near(line->points, 4.0 * (8.0 + 3.0 * (0.008 - 0.006) / (0.008 - 0.0015)) / 11.0, 1e-9);
    free(a);
}

/* A worse slip never earns more. */
static void points_fall_as_the_slip_grows(void **state)
{
    (void)state;
    double last_depth = 100.0;
    double last_total = 100.1;
    for (int i = 0; i < 6; i++) {
        const slip deep = {.rows = some_rows, .depth_m = 0.002 * i};
        attempt *a = attempt_new(6);
        do_job(a, &deep);
        const score_card card = grade_of(a);
        assert_true(card.line[SCENARIO_HOLE_DEPTH].points <= last_depth);
        assert_true(card.total <= last_total);
        last_depth = card.line[SCENARIO_HOLE_DEPTH].points;
        last_total = card.total;
        free(a);
    }
    assert_true(last_depth < 4.0);
}

/* ---- unfinished ------------------------------------------------------------------------------------------------- */

/* Every prefix of the careful attempt: points never fall as more is done well, never exceed the weight, and it fails
 * unfinished until it is signed. */
static void an_unfinished_attempt_scores_what_is_there(void **state)
{
    (void)state;
    const slip none = {0};
    attempt *a = attempt_new(4);
    do_job(a, &none);
    const size_t whole = a->count;
    double last = 0.0;
    for (size_t count = 0; count < whole; count += 16) {
        a->count = count;
        const score_card card = grade_of(a);
        assert_true(card.total >= last - 3.0); /* a row half pulled may have a peak load that the next pull evens out */
        assert_true(card.stops & 1U << SCORE_STOP_UNFINISHED);
        assert_false(card.passed);
        for (int i = 0; i < SCENARIO_CRITERIA; i++) {
            assert_true(card.line[i].points >= 0.0 && card.line[i].points <= card.line[i].weight);
        }
        last = card.total;
    }
    assert_true(last > 80.0);
    free(a);
}

static void rows_not_done_count_as_nothing(void **state)
{
    (void)state;
    const slip none = {0};
    attempt *a = attempt_new(4);
    must(a, JOB_DO_SET_POLE, 0.0, 0.0, 0.0);
    fit_wood(a, 0, &none);
    const score_card card = grade_of(a);
    assert_near(card.line[SCENARIO_HOLE_DEPTH].points, 1.0, 1e-9); /* a quarter of 4 */
    assert_near(card.line[SCENARIO_BIT].points, 1.0, 1e-9);
    assert_near(card.line[SCENARIO_GLASSES].points, 1.0, 1e-9);
    assert_int_equal(card.line[SCENARIO_BIT].undone, 3);
    assert_true(card.line[SCENARIO_STUD_HELD].is_undone);
    assert_near(card.line[SCENARIO_OFF_CENTRE].points, 0.0, 0.0);
    free(a);
}

/* ---- what does not apply ---------------------------------------------------------------------------------------- */

static void fitted_rows_are_not_judged_for_their_fitting(void **state)
{
    (void)state;
    const slip none = {0};
    attempt *a = attempt_new(5);
    for (int row = 0; row < 5; row++) {
        a->task.setup.start_stage[row] = JOB_STAGE_TENSION;
    }
    job_start(&a->task.setup, &a->state);
    tension(a, &none);
    hand_over(a, &none);
    const score_card card = grade_of(a);
    assert_false(card.line[SCENARIO_BIT].applies);
    assert_near(card.line[SCENARIO_BIT].weight, 0.0, 0.0);
    assert_false(card.line[SCENARIO_GLASSES].applies);
    assert_true(card.line[SCENARIO_TARGET].applies);
    const double lost = card.line[SCENARIO_READING].weight; /* the sheet was not read */
    double weights = 0.0;
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        weights += card.line[i].weight;
    }
    assert_near(card.total, 100.0 * (weights - lost) / weights, 1e-6);
    free(a);
}

static void faults_are_earned_by_finding_and_mending(void **state)
{
    (void)state;
    attempt *a = attempt_new(5);
    job_setup *setup = &a->task.setup;
    for (int row = 0; row < 5; row++) {
        setup->is_trainees[row] = false;
        setup->start_stage[row] = JOB_STAGE_COUNT;
        setup->start_tension_n[row] = setup->target_n;
    }
    setup->order_count = 0;
    setup->fault_count = 2;
    setup->fault[0] = (job_fault){.kind = JOB_FAULT_ONE_SQUEEZE, .row = 1};
    setup->fault[1] = (job_fault){.kind = JOB_FAULT_BIG_BIT, .row = 3, .amount = 0.0006};
    job_start(setup, &a->state);
    assert_near(grade_of(a).line[SCENARIO_FAULTS].points, 0.0, 0.0);
    assert_true(grade_of(a).stops & 1U << SCORE_STOP_WEAK_CRIMP); /* a dangerous fault passed over is a stop */
    must(a, JOB_DO_REPORT_FAULT, 3.0, JOB_FAULT_BIG_BIT, 0.0);
    assert_near(grade_of(a).line[SCENARIO_FAULTS].measured, 0.5, 1e-12);
    must(a, JOB_DO_PLACE_DIE, 1.0, setup->crimp.bore_m - 0.5 * setup->crimp.die_m, 0.0);
    must(a, JOB_DO_TURN_CRIMPER, 1.0, setup->crimp.best_turn_rad, 0.0);
    must(a, JOB_DO_SQUEEZE, 1.0, 1.0, 0.0);
    assert_near(grade_of(a).line[SCENARIO_FAULTS].measured, 0.75, 1e-12);
    assert_false(grade_of(a).stops & 1U << SCORE_STOP_WEAK_CRIMP);
    must(a, JOB_DO_REPORT_FAULT, 1.0, JOB_FAULT_ONE_SQUEEZE, 0.0); /* told after mending: as good as before */
    assert_near(grade_of(a).line[SCENARIO_FAULTS].measured, 1.0, 1e-12);
    must(a, JOB_DO_REPORT_FAULT, 2.0, JOB_FAULT_TWISTED, 0.0); /* never there */
    assert_near(grade_of(a).line[SCENARIO_FAULTS].measured, 0.75, 1e-12);
    free(a);
}

/* The trainee's pulls slacken what the crew has tensioned, and those rows are judged as well. */
static void the_rows_of_the_crew_are_judged_with_the_run(void **state)
{
    (void)state;
    const slip none = {0};
    attempt *a = attempt_new(5);
    job_setup *setup = &a->task.setup;
    setup->structure.post[MECH_NEAR].depth_m = 0.06; /* a post that gives */
    setup->structure.post[MECH_FAR].depth_m = 0.06;
    setup->tolerance = 0.01; /* they lose about one and a half per cent */
    for (int row = 0; row < 5; row++) {
        setup->is_trainees[row] = row == 2;
        setup->start_stage[row] = row == 2 ? JOB_STAGE_TENSION : JOB_STAGE_COUNT;
        setup->start_tension_n[row] = setup->target_n;
    }
    setup->order_count = 1;
    setup->order[0] = 2;
    job_start(setup, &a->state);
    tension(a, &none);
    const score_card left = grade_of(a);
    const score_line *line = &left.line[SCENARIO_TARGET];
    assert_true(line->applies && line->points < line->weight);
    assert_true(line->row_count >= 1 && line->row[0] != 2);
    assert_int_equal(line->effect.kind, SCORE_EFFECT_LOWEST);
    assert_true(line->effect.would_be > line->effect.was);
    assert_false(left.line[SCENARIO_ORDER].applies); /* one row has no order */
    assert_near(left.line[SCENARIO_ROUNDS].measured, 1.0, 0.0);
    for (int pass = 0; pass < 4; pass++) {
        for (int row = 0; row < 5; row++) {
            pull_to(a, row, setup->target_n, &none);
        }
    }
    const score_card brought_up = grade_of(a);
    assert_full(&brought_up, SCENARIO_TARGET);
    free(a);
}

/* ---- stops, one by one ------------------------------------------------------------------------------------------ */

static unsigned stops_after(const slip *one, int *row, score_stop stop)
{
    attempt *a = attempt_new(11);
    do_job(a, one);
    const score_card card = grade_of(a);
    *row = card.stop_row[stop];
    assert_false(card.passed);
    free(a);
    return card.stops;
}

static void each_stop_by_itself(void **state)
{
    (void)state;
    int row = -1;
    const slip crimp = {.rows = some_rows, .one_squeeze = true};
    assert_int_equal(stops_after(&crimp, &row, SCORE_STOP_WEAK_CRIMP), 1U << SCORE_STOP_WEAK_CRIMP);
    assert_int_equal(row, 2);
    const slip over = {.rows = 1U << 5, .over_pull = 1.05};
    assert_int_equal(stops_after(&over, &row, SCORE_STOP_OVER_LIMIT), 1U << SCORE_STOP_OVER_LIMIT);
    assert_int_equal(row, 5);
    const slip open = {.rows = 1U << 4, .uneven = 0.7};
    assert_int_equal(stops_after(&open, &row, SCORE_STOP_OPENING), 1U << SCORE_STOP_OPENING);
    const slip not_signed = {.no_sign = true};
    assert_int_equal(stops_after(&not_signed, &row, SCORE_STOP_UNFINISHED), 1U << SCORE_STOP_UNFINISHED);
    assert_int_equal(row, -1);
}

static void a_weak_insert_stops(void **state)
{
    (void)state;
    const slip wide = {.rows = 1U << 3, .bit = 1};
    attempt *a = attempt_new(11);
    a->task.setup.bit[2].diameter_m = 0.01245; /* hardly any bite, yet enough to bear the target */
    do_job(a, &wide);
    const score_card card = grade_of(a);
    const double grip = a->state.row[3].grip.ultimate_n;
    assert_true(grip < 2.0 * a->task.setup.target_n);
    assert_true(card.stops & 1U << SCORE_STOP_WEAK_INSERT);
    assert_int_equal(card.stop_row[SCORE_STOP_WEAK_INSERT], 3);
    free(a);
}

static void a_crimp_that_slips_stops(void **state)
{
    (void)state;
    const slip loose = {.rows = 1U << 3, .seat_m = 0.0125};
    attempt *a = attempt_new(11);
    do_job(a, &loose);
    const score_card card = grade_of(a);
    assert_true(a->state.slips_under_load > 0);
    assert_true(card.stops & 1U << SCORE_STOP_GAVE_WAY);
    assert_int_equal(card.stop_row[SCORE_STOP_GAVE_WAY], 3);
    free(a);
}

static void few_threads_stop(void **state)
{
    (void)state;
    const slip none = {0};
    attempt *a = attempt_new(4);
    for (int row = 0; row < 4; row++) {
        fit_wood(a, row, &none);
        fit_cable(a, row, &none);
        must(a, JOB_DO_UNSCREW_STUD, row, 1.0, 0.0);
        must(a, JOB_DO_BACK_OFF, row, row == 2 ? 0.25 : 4.0, 0.0);
        must(a, JOB_DO_THREAD_IN, row, row == 2 ? 4.0 : 8.0, 0.0); /* row 2: never brought up */
    }
    const score_card card = grade_of(a);
    assert_true(card.stops & 1U << SCORE_STOP_FEW_THREADS);
    assert_int_equal(card.stop_row[SCORE_STOP_FEW_THREADS], 2);
    const score_line *line = &card.line[SCENARIO_THREADS];
    assert_true(line->points < line->weight);
    assert_int_equal(line->effect.kind, SCORE_EFFECT_THREADS);
    assert_int_equal(line->effect.row, 2);
    assert_near(line->effect.was, 4.0, 1e-6);
    assert_true(line->effect.would_be > mech_min_turns(&a->task.setup.turnbuckle, &a->task.setup.turnbuckle.cable));
    free(a);
}

static void a_split_post_stops(void **state)
{
    (void)state;
    const slip tight = {.rows = 1U << 3, .bit = -1};
    attempt *a = attempt_new(11);
    a->task.setup.bit[0].diameter_m = 0.0094; /* a size down */
    a->task.setup.wood.gravity = 0.73;        /* white oak, NDS 2018 Table 12.3.3A */
    a->task.setup.edge_m = 0.015;
    a->task.setup.bit[1].diameter_m = 0.0119;
    job_start(&a->task.setup, &a->state);
    do_job(a, &tight);
    const score_card card = grade_of(a);
    assert_true(a->state.row[3].is_split);
    assert_true(card.stops & 1U << SCORE_STOP_SPLIT);
    assert_int_equal(card.stop_row[SCORE_STOP_SPLIT], 3);
    free(a);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_careful_attempt_earns_all),
        cmocka_unit_test(an_empty_attempt_earns_nothing),
        cmocka_unit_test(each_slip_costs_its_own_line),
        cmocka_unit_test(the_rows_that_lost_points_are_named),
        cmocka_unit_test(points_fall_as_the_slip_grows),
        cmocka_unit_test(an_unfinished_attempt_scores_what_is_there),
        cmocka_unit_test(rows_not_done_count_as_nothing),
        cmocka_unit_test(fitted_rows_are_not_judged_for_their_fitting),
        cmocka_unit_test(faults_are_earned_by_finding_and_mending),
        cmocka_unit_test(the_rows_of_the_crew_are_judged_with_the_run),
        cmocka_unit_test(each_stop_by_itself),
        cmocka_unit_test(a_weak_insert_stops),
        cmocka_unit_test(a_crimp_that_slips_stops),
        cmocka_unit_test(few_threads_stop),
        cmocka_unit_test(a_split_post_stops),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
