/* Without memory for the counterfactuals the grade itself is the same; only the effects are missing. Linked with malloc
 * wrapped. */
#include "attempt.h"

void *__real_malloc(size_t size);
void *__wrap_malloc(size_t size);

static bool is_short;

void *__wrap_malloc(size_t size)
{
    return is_short && size > 4096 ? NULL : __real_malloc(size);
}

static void the_grade_stands_without_effects(void **state)
{
    (void)state;
    const slip wide = {.rows = 1U << 2, .bit = 1, .bottom_up = true};
    attempt *a = attempt_new(5);
    do_job(a, &wide);
    const score_card whole = grade_of(a);
    is_short = true;
    const score_card lean = grade_of(a);
    is_short = false;
    assert_true(whole.replays > 0);
    assert_int_equal(lean.replays, 0);
    assert_near(lean.total, whole.total, 0.0);
    assert_int_equal(lean.stops, whole.stops);
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        assert_near(lean.line[i].points, whole.line[i].points, 0.0);
        assert_int_equal(lean.line[i].effect.kind, SCORE_EFFECT_NONE);
    }
    assert_int_equal(whole.line[SCENARIO_BIT].effect.kind, SCORE_EFFECT_GRIP);
    free(a);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_grade_stands_without_effects)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
