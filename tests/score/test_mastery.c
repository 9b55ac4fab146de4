/* Knowledge tracing: runs worked by hand from the published formulas, and how criteria become skills. */
#include "near.h"

#include "tautrow/score/mastery.h"

#include <string.h>

/* ---- the formulas: Corbett and Anderson, UMUAI 4 (1995) 253-278; the numbers are computed from them to six digits - */

static void first_worked_run(void **state)
{
    (void)state;
    const score_tracing tracing = {.known = 0.4, .learn = 0.1, .guess = 0.2, .slip = 0.1};
    const bool answers[] = {true, true, false, true};
    const double right[] = {0.480000, 0.742500, 0.861818, 0.701053};
    const double known[] = {0.775000, 0.945455, 0.715789, 0.927027};
    double l = tracing.known;
    for (int i = 0; i < 4; i++) {
        assert_near(score_trace_right(&tracing, l), right[i], 5e-7);
        l = score_trace(&tracing, l, answers[i]);
        assert_near(l, known[i], 5e-7);
    }
}

static void second_worked_run(void **state)
{
    (void)state;
    const score_tracing tracing = {.known = 0.15, .learn = 0.15, .guess = 0.15, .slip = 0.1};
    const bool answers[] = {true, false, true};
    const double known[] = {0.587143, 0.271831, 0.737642};
    double l = tracing.known;
    for (int i = 0; i < 3; i++) {
        l = score_trace(&tracing, l, answers[i]);
        assert_near(l, known[i], 5e-7);
    }
}

/* Beck and Chang, User Modeling 2007: guess and slip under a half. */
static void guess_and_slip_stay_under_a_half(void **state)
{
    (void)state;
    const score_tracing fine = {0.2, 0.1, 0.49, 0.49};
    const score_tracing guess = {0.2, 0.1, 0.5, 0.1};
    const score_tracing slip = {0.2, 0.1, 0.1, 0.5};
    const score_tracing below = {-0.1, 0.1, 0.1, 0.1};
    const score_tracing above = {0.2, 1.1, 0.1, 0.1};
    assert_true(score_tracing_is_sound(&fine));
    assert_false(score_tracing_is_sound(&guess));
    assert_false(score_tracing_is_sound(&slip));
    assert_false(score_tracing_is_sound(&below));
    assert_false(score_tracing_is_sound(&above));
    /* what the guard is for: doing well never speaks against the skill, doing badly never for it */
    const score_tracing still = {0.0, 0.0, 0.49, 0.49};
    for (int i = 1; i < 20; i++) {
        const double l = 0.05 * i;
        assert_true(score_trace(&still, l, true) > l);
        assert_true(score_trace(&still, l, false) < l);
    }
}

static void what_cannot_happen_leaves_a_number(void **state)
{
    (void)state;
    const score_tracing sure = {.known = 1.0, .learn = 0.0, .guess = 0.0, .slip = 0.0};
    assert_near(score_trace(&sure, 1.0, false), 1.0, 0.0);
    assert_near(score_trace(&sure, 0.0, true), 0.0, 0.0);
}

/* ---- skills ----------------------------------------------------------------------------------------------------- */

static void every_criterion_is_in_exactly_one_skill(void **state)
{
    (void)state;
    static const struct {
        scenario_criterion criterion;
        score_skill skill;
    } entries[] = {
#define SCORE_SKILL_CRITERION(NAME, CRITERION) {SCENARIO_##CRITERION, SCORE_SKILL_##NAME},
#include "tautrow/score/skills.def"
    };
    int times[SCENARIO_CRITERIA] = {0};
    int size[SCORE_SKILLS] = {0};
    for (size_t i = 0; i < sizeof entries / sizeof entries[0]; i++) {
        times[entries[i].criterion]++;
        size[entries[i].skill]++;
        assert_int_equal(score_skill_of(entries[i].criterion), entries[i].skill);
    }
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        if (times[i] != 1) {
            fail_msg("%s stands in %d skills", scenario_criterion_look((scenario_criterion)i)->key, times[i]);
        }
    }
    for (int skill = 0; skill < SCORE_SKILLS; skill++) {
        assert_true(size[skill] > 0);
        for (int other = 0; other < skill; other++) {
            assert_string_not_equal(score_skill_key((score_skill)skill), score_skill_key((score_skill)other));
        }
    }
}

static score_line line_of(scenario_criterion criterion, double weight, double points)
{
    return (score_line){.criterion = criterion, .applies = true, .weight = weight, .points = points};
}

static void only_what_was_judged_counts(void **state)
{
    (void)state;
    static score_card card; /* nothing applies */
    score_shares shares = score_shares_of(&card);
    for (int skill = 0; skill < SCORE_SKILLS; skill++) {
        assert_near(shares.of[skill], SCORE_UNJUDGED, 0.0);
    }
    card.line[SCENARIO_CABLE_SEAT] = line_of(SCENARIO_CABLE_SEAT, 5.0, 5.0);
    card.line[SCENARIO_SQUEEZES] = line_of(SCENARIO_SQUEEZES, 6.0, 3.0);
    card.line[SCENARIO_SQUEEZE_TURN] = line_of(SCENARIO_SQUEEZE_TURN, 4.0, 0.0);
    card.line[SCENARIO_SQUEEZE_TURN].is_undone = true;
    card.line[SCENARIO_CUT_LENGTH] = line_of(SCENARIO_CUT_LENGTH, 4.0, 0.0);
    shares = score_shares_of(&card);
    assert_near(shares.of[SCORE_SKILL_CRIMPING], 8.0 / 11.0, 1e-12);
    assert_near(shares.of[SCORE_SKILL_CUTTING], 0.0, 0.0);
    assert_near(shares.of[SCORE_SKILL_READING], SCORE_UNJUDGED, 0.0);
    assert_true(score_is_right(0.85) && score_is_right(17.0 / 20.0) && !score_is_right(0.849));
}

static score_tracings alike(double known)
{
    score_tracings tracings;
    for (int skill = 0; skill < SCORE_SKILLS; skill++) {
        tracings.of[skill] = (score_tracing){known, 0.1, 0.2, 0.1};
    }
    return tracings;
}

static void an_attempt_moves_what_it_judged(void **state)
{
    (void)state;
    const score_tracings tracings = alike(0.4);
    score_mastery mastery = score_mastery_start(&tracings);
    score_shares shares;
    for (int skill = 0; skill < SCORE_SKILLS; skill++) {
        shares.of[skill] = SCORE_UNJUDGED;
    }
    shares.of[SCORE_SKILL_CRIMPING] = 1.0;
    shares.of[SCORE_SKILL_SAFETY] = 0.5;
    score_mastery_add(&mastery, &tracings, &shares);
    assert_near(mastery.known[SCORE_SKILL_CRIMPING], 0.775, 1e-9);
    assert_true(mastery.known[SCORE_SKILL_SAFETY] < 0.4);
    assert_near(mastery.known[SCORE_SKILL_CUTTING], 0.4, 0.0);
    assert_int_equal(mastery.chances[SCORE_SKILL_CRIMPING], 1);
    assert_int_equal(mastery.chances[SCORE_SKILL_CUTTING], 0);
}

static void the_weakest_come_first(void **state)
{
    (void)state;
    const score_tracings tracings = alike(0.5);
    score_mastery mastery = score_mastery_start(&tracings);
    bool can[SCORE_SKILLS];
    score_skill out[SCORE_SKILLS];
    for (int skill = 0; skill < SCORE_SKILLS; skill++) {
        can[skill] = true;
    }
    mastery.known[SCORE_SKILL_SAFETY] = 0.1;
    mastery.known[SCORE_SKILL_THREADS] = 0.2;
    mastery.known[SCORE_SKILL_READING] = 0.95; /* mastered: not on the list */
    can[SCORE_SKILL_THREADS] = false;
    assert_int_equal(score_weakest(&mastery, can, out, 3), 3);
    assert_int_equal(out[0], SCORE_SKILL_SAFETY);
    assert_int_equal(out[1], SCORE_SKILL_MARKING); /* equally weak: the order of the work */
    assert_int_equal(out[2], SCORE_SKILL_DRILLING);
    assert_int_equal(score_weakest(&mastery, can, out, SCORE_SKILLS), SCORE_SKILLS - 2);
    memset(can, 0, sizeof can);
    assert_int_equal(score_weakest(&mastery, can, out, 3), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(first_worked_run),
        cmocka_unit_test(second_worked_run),
        cmocka_unit_test(guess_and_slip_stay_under_a_half),
        cmocka_unit_test(what_cannot_happen_leaves_a_number),
        cmocka_unit_test(every_criterion_is_in_exactly_one_skill),
        cmocka_unit_test(only_what_was_judged_counts),
        cmocka_unit_test(an_attempt_moves_what_it_judged),
        cmocka_unit_test(the_weakest_come_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
