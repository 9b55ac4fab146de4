/* Counterfactuals: the replay with the one slip mended must come out like the attempt in which it never happened, and
 * what "was" must be what the attempt really left behind. */
#include "attempt.h"

static const unsigned some_rows = 1U << 2 | 1U << 5 | 1U << 8;

typedef struct pair {
    attempt *slipped, *careful;
    score_card card;
} pair;

/* The same job twice: with the slip and without it. */
static pair pair_of(const slip *one)
{
    slip none = {.wait_days = one->wait_days};
    pair p = {.slipped = attempt_new(11), .careful = attempt_new(11)};
    do_job(p.slipped, one);
    do_job(p.careful, &none);
    p.card = grade_of(p.slipped);
    return p;
}

static void free_pair(pair *p)
{
    free(p->slipped);
    free(p->careful);
}

static double hold_of(const attempt *a, int row)
{
    const job_setup *setup = &a->task.setup;
    return mech_crimp_look(&setup->crimp, &a->state.row[row].crimp, setup->structure.strand.breaking_n).hold_n;
}

static double value_of(const attempt *a, score_effect_kind kind, int row)
{
    if (kind == SCORE_EFFECT_GRIP) {
        return a->state.row[row].grip.ultimate_n;
    }
    if (kind == SCORE_EFFECT_HOLD) {
        return hold_of(a, row);
    }
    return mech_turns_to_bottom(&a->task.setup.turnbuckle, &a->state.row[row].engaged);
}

typedef struct fit_case {
    const char *what;
    slip with;
    scenario_criterion line;
    score_effect_kind kind;
    double tolerance; /* N or turns by which it may miss the careful attempt */
} fit_case;

/* The grip of a hole carries a little seeded wander that depends on the speed and the angle, mended with them. */
static const fit_case fit_cases[] = {
    {"bit", {.rows = some_rows, .bit = 1}, SCENARIO_BIT, SCORE_EFFECT_GRIP, 1e-6},
    {"drill speed", {.rows = some_rows, .drill_rpm = 2400.0}, SCENARIO_DRILL_SPEED, SCORE_EFFECT_GRIP, 1e-6},
    {"depth", {.rows = some_rows, .depth_m = -0.012}, SCENARIO_HOLE_DEPTH, SCORE_EFFECT_GRIP, 1e-6},
    {"square", {.rows = some_rows, .square_rad = 0.09}, SCENARIO_HOLE_SQUARE, SCORE_EFFECT_GRIP, 1e-6},
    {"seat", {.rows = some_rows, .proud_m = 0.004}, SCENARIO_INSERT_SEAT, SCORE_EFFECT_GRIP, 1e-6},
    {"driver speed", {.rows = some_rows, .driver_rpm = 900.0}, SCENARIO_DRIVER_SPEED, SCORE_EFFECT_GRIP, 1e-6},
    {"cable seat", {.rows = some_rows, .seat_m = 0.006}, SCENARIO_CABLE_SEAT, SCORE_EFFECT_HOLD, 1e-6},
    {"squeezes", {.rows = some_rows, .one_squeeze = true}, SCENARIO_SQUEEZES, SCORE_EFFECT_HOLD, 1e-6},
    {"quarter turn", {.rows = some_rows, .turn_rad = 1.0}, SCENARIO_SQUEEZE_TURN, SCORE_EFFECT_HOLD, 1e-6},
    /* the same turns from where the hand-tight row stands: not quite those of the careful attempt */
    {"cut length", {.rows = some_rows, .cut_m = 0.010}, SCENARIO_CUT_LENGTH, SCORE_EFFECT_TRAVEL, 0.5},
};

static void check_fit(const fit_case *one)
{
    print_message("mend: %s\n", one->what);
    pair p = pair_of(&one->with);
    const score_line *line = &p.card.line[one->line];
    const score_effect *effect = &line->effect;
    assert_int_equal(effect->kind, one->kind);
    assert_true(effect->row >= 0 && in(&one->with, effect->row));
    assert_near(effect->was, value_of(p.slipped, one->kind, effect->row), 1e-9);
    assert_near(effect->would_be, value_of(p.careful, one->kind, effect->row), one->tolerance);
    assert_true(effect->would_be > 1.002 * effect->was);
    free_pair(&p);
}

static void mending_the_hand_gives_the_careful_row(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof fit_cases / sizeof fit_cases[0]; i++) {
        check_fit(&fit_cases[i]);
    }
}

/* Too deep a hole holds as well as a right one: the line loses its points, and no effect is made up. */
static void no_effect_is_told_where_there_is_none(void **state)
{
    (void)state;
    const slip deep = {.rows = some_rows, .depth_m = 0.006};
    pair p = pair_of(&deep);
    assert_true(p.card.line[SCENARIO_HOLE_DEPTH].points < p.card.line[SCENARIO_HOLE_DEPTH].weight);
    assert_int_equal(p.card.line[SCENARIO_HOLE_DEPTH].effect.kind, SCORE_EFFECT_NONE);
    free_pair(&p);
}

static void order_lowers_the_off_centre_load(void **state)
{
    (void)state;
    const slip up = {.bottom_up = true};
    pair p = pair_of(&up);
    const score_effect *effect = &p.card.line[SCENARIO_ORDER].effect;
    assert_int_equal(effect->kind, SCORE_EFFECT_OFF_CENTRE);
    assert_int_equal(effect->row, -1);
    assert_near(effect->was, p.slipped->state.off_centre_peak_n_m, 1e-9);
    assert_near(effect->would_be, p.careful->state.off_centre_peak_n_m, 0.02 * p.careful->state.off_centre_peak_n_m);
    assert_true(effect->would_be < 0.5 * effect->was); /* middle out keeps it to about a third */
    free_pair(&p);
}

static void a_check_round_lifts_the_slackest_row(void **state)
{
    (void)state;
    const slip once = {.no_check_round = true};
    pair p = pair_of(&once);
    const score_effect *effect = &p.card.line[SCENARIO_ROUNDS].effect;
    assert_int_equal(effect->kind, SCORE_EFFECT_LOWEST);
    assert_near(effect->was, p.card.lowest_n, 1e-9);
    assert_true(effect->would_be > effect->was);
    assert_near(effect->would_be, p.slipped->task.setup.target_n, 0.02 * p.slipped->task.setup.target_n);
    free_pair(&p);
}

static void the_sheet_evens_the_rows(void **state)
{
    (void)state;
    const slip slack = {.rows = some_rows, .uneven = 0.4};
    pair p = pair_of(&slack);
    const score_effect *spread = &p.card.line[SCENARIO_EVENNESS].effect;
    const score_effect *lowest = &p.card.line[SCENARIO_TARGET].effect;
    assert_int_equal(spread->kind, SCORE_EFFECT_SPREAD);
    assert_near(spread->was, p.card.spread, 1e-12);
    assert_true(spread->would_be < 0.02);
    assert_int_equal(lowest->kind, SCORE_EFFECT_LOWEST);
    assert_near(lowest->would_be, p.slipped->task.setup.target_n, 0.01 * p.slipped->task.setup.target_n);
    free_pair(&p);
}

/* Turned until they read the same, unheld rows lose nothing at once: they are wound up. */
static void an_unheld_stud_winds_the_cable_up(void **state)
{
    (void)state;
    attempt *a = attempt_new(11);
    const slip none = {0};
    const slip unheld = {.rows = some_rows, .stud_free = true};
    do_job(a, &none); /* for the fitting */
    a->count = 0;
    job_start(&a->task.setup, &a->state);
    for (int row = 0; row < 11; row++) {
        fit_wood(a, row, &none);
        fit_cable(a, row, &none);
        join(a, row, &none);
    }
    for (int pass = 0; pass < 6; pass++) { /* again and again, until the readings are there */
        for (int i = 0; i < 11; i++) {
            pull_to(a, a->task.setup.order[i], a->task.setup.target_n, &unheld);
        }
    }
    const score_card card = grade_of(a);
    const score_effect *effect = &card.line[SCENARIO_STUD_HELD].effect;
    assert_int_equal(effect->kind, SCORE_EFFECT_TWIST);
    assert_true(in(&unheld, effect->row));
    assert_near(effect->was, fabs(a->state.row[effect->row].engaged.twist_turns), 1e-9);
    assert_true(effect->was > 1.0);
    assert_near(effect->would_be, 0.0, 1e-9);
    free(a);
}

/* And once days have shaken the run, they have lost tension that a held row keeps. */
static void a_held_stud_keeps_its_tension(void **state)
{
    (void)state;
    const slip unheld = {.rows = some_rows, .stud_free = true, .wait_days = 30.0};
    pair p = pair_of(&unheld);
    const score_effect *effect = &p.card.line[SCENARIO_STUD_HELD].effect;
    assert_int_equal(effect->kind, SCORE_EFFECT_TENSION);
    assert_true(in(&unheld, effect->row));
    assert_near(effect->was, p.card.final_tension_n[effect->row], 1e-9);
    assert_true(effect->would_be > 1.5 * effect->was);
    assert_true(effect->would_be <= 1.1 * p.slipped->task.setup.target_n);
    free_pair(&p);
}

static void true_marks_strengthen_the_weakest_gap(void **state)
{
    (void)state;
    const slip high = {.rows = some_rows, .mark_m = 0.006};
    pair p = pair_of(&high);
    const score_effect *effect = &p.card.line[SCENARIO_MARK_HEIGHT].effect;
    assert_int_equal(effect->kind, SCORE_EFFECT_OPENING);
    assert_true(effect->would_be > effect->was);
    free_pair(&p);
}

/* The pushes that the score judges are those that the trainee's ball meets. */
static void the_opening_line_agrees_with_the_ball(void **state)
{
    (void)state;
    const slip high = {.rows = some_rows, .mark_m = 0.006, .no_sign = true};
    attempt *a = attempt_new(11);
    do_job(a, &high);
    const score_card card = grade_of(a);
    int holds = 0;
    for (int gap = 0; gap <= 11; gap++) {
        holds += act(a, JOB_DO_BALL, gap, 0.0, 0.0).value[1] > 0.5 ? 1 : 0;
    }
    assert_true(holds < 12);
    assert_near(card.line[SCENARIO_OPENING].measured, holds / 12.0, 1e-12);
    free(a);
}

/* A pure function: graded twice, the card is the same to the last bit. */
static void grading_twice_gives_the_same(void **state)
{
    (void)state;
    const slip several = {.rows = some_rows, .bit = 1, .uneven = 0.3, .bottom_up = true, .stud_free = true};
    attempt *a = attempt_new(7);
    do_job(a, &several);
    const score_card first = grade_of(a);
    const score_card second = grade_of(a);
    assert_near(first.total, second.total, 0.0);
    assert_int_equal(first.stops, second.stops);
    assert_int_equal(first.replays, second.replays);
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        assert_near(first.line[i].points, second.line[i].points, 0.0);
        assert_near(first.line[i].effect.would_be, second.line[i].effect.would_be, 0.0);
    }
    free(a);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mending_the_hand_gives_the_careful_row),
        cmocka_unit_test(no_effect_is_told_where_there_is_none),
        cmocka_unit_test(order_lowers_the_off_centre_load),
        cmocka_unit_test(a_check_round_lifts_the_slackest_row),
        cmocka_unit_test(the_sheet_evens_the_rows),
        cmocka_unit_test(an_unheld_stud_winds_the_cable_up),
        cmocka_unit_test(a_held_stud_keeps_its_tension),
        cmocka_unit_test(true_marks_strengthen_the_weakest_gap),
        cmocka_unit_test(the_opening_line_agrees_with_the_ball),
        cmocka_unit_test(grading_twice_gives_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
