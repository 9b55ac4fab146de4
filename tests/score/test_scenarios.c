/* The scenarios that come with the program, worked by the expert: a careful attempt must pass each of them with nearly
 * all. */
#include "scenarios.h"

enum { MOST_ACTIONS = 6000 };

static void check_scenario(const char *path)
{
    scenario *task = scenario_of(path);
    job_action *actions = malloc(MOST_ACTIONS * sizeof *actions);
    assert_non_null(actions);
    const size_t count = work_through(&task->setup, actions, MOST_ACTIONS);
    score_card card;
    score_grade(task, actions, count, &card);
    print_message("%s: %zu actions, %.1f points\n", path, count, card.total);
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        const score_line *line = &card.line[i];
        if (line->applies && line->points < line->weight - 1e-9) {
            print_message("  %s: %.2f of %g, measured %g, %d rows\n", scenario_criterion_look(line->criterion)->key,
                          line->points, line->weight, line->measured, line->row_count);
        }
    }
    assert_int_equal(card.stops, 0);
    assert_true(card.total >= 97.0);
    assert_true(card.passed);
    free(actions);
    free(task);
}

static void the_expert_passes_every_scenario(void **state)
{
    (void)state;
    for (int i = 0; i < SCENARIO_FILES; i++) {
        check_scenario(scenario_files[i]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_expert_passes_every_scenario)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
