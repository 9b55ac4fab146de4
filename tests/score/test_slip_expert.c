/* A careful installer's whole work at every scenario that comes with the program has no slip at any of its actions: who
 * does it right is left in peace. */
#include "near.h"

#include <stdlib.h>

#include "scenarios.h"
#include "tautrow/score/slip.h"

enum { MOST_ACTIONS = 6000 };

static void check_scenario(const char *path)
{
    scenario *task = scenario_of(path);
    job_action *actions = malloc(MOST_ACTIONS * sizeof *actions);
    assert_non_null(actions);
    const size_t count = work_through(&task->setup, actions, MOST_ACTIONS);
    print_message("%s: %zu actions\n", path, count);
    for (size_t i = 1; i <= count; i++) {
        score_slip out[SCORE_MAX_SLIPS];
        const int slips = score_slips(task, actions, i, out);
        if (slips > 0) {
            fail_msg("%s: action %zu, %s: %s, row %d, measured %g", path, i, job_verb_look(actions[i - 1].verb)->name,
                     out[0].criterion < SCENARIO_CRITERIA ? scenario_criterion_look(out[0].criterion)->key : "stop",
                     out[0].row + 1, out[0].measured);
        }
    }
    free(actions);
    free(task);
}

static void the_expert_makes_no_slip(void **state)
{
    (void)state;
    for (int i = 0; i < SCENARIO_FILES; i++) {
        check_scenario(scenario_files[i]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_expert_makes_no_slip)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
