/* A careful installer's whole work at every scenario that comes with the program has no slip at any of its actions: who
 * does it right is left in peace. */
#include "near.h"

#include <stdlib.h>

#include "scenarios.h"
#include "tautrow/base/rng.h"
#include "tautrow/score/slip.h"

enum { MOST_ACTIONS = 6000 };

static void check_silence(const scenario *task, const char *path, const job_action *actions, size_t count)
{
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
}

static void the_expert_makes_no_slip(void **state)
{
    (void)state;
    job_action *actions = malloc(MOST_ACTIONS * sizeof *actions);
    assert_non_null(actions);
    for (int i = 0; i < SCENARIO_FILES; i++) {
        scenario *task = scenario_of(scenario_files[i]);
        const size_t count = work_through(&task->setup, actions, MOST_ACTIONS);
        check_silence(task, scenario_files[i], actions, count);
        free(task);
    }
    free(actions);
}

/* Off by less than the bands allow, to one side or the other. */
static double miss(uint64_t seed, size_t step, uint64_t place, double most)
{
    return most * fmax(fmin(tr_noise(seed, step, place), 1.0), -1.0);
}

static void be_steady(job_action *action, uint64_t seed, size_t step)
{
    switch ((int)action->verb) {
    case JOB_DO_MARK_ROW:
        action->arg[JOB_MARK_ROW_ERROR] = miss(seed, step, 1, 0.0012);
        break;
    case JOB_DO_DRILL:
        action->arg[JOB_DRILL_DEPTH] += fabs(miss(seed, step, 2, 0.0012));
        action->arg[JOB_DRILL_PITCH] = miss(seed, step, 3, 0.016);
        action->arg[JOB_DRILL_YAW] = miss(seed, step, 4, 0.016);
        break;
    case JOB_DO_DRIVE_INSERT:
        action->arg[JOB_DRIVE_INSERT_PROUD] = miss(seed, step, 5, 0.0006);
        break;
    case JOB_DO_MARK_CABLE:
        action->arg[JOB_MARK_CABLE_ERROR] = miss(seed, step, 6, 0.0018);
        break;
    case JOB_DO_PUSH_HOME:
        action->arg[JOB_PUSH_HOME_DEPTH] -= fabs(miss(seed, step, 7, 0.0008));
        break;
    case JOB_DO_TURN_CRIMPER:
        action->arg[JOB_TURN_CRIMPER_ANGLE] += miss(seed, step, 8, 0.15);
        break;
    case JOB_DO_TURN_BODY: /* in eighths, as the pin is turned */
        action->arg[JOB_TURN_BODY_TURNS] = floor(action->arg[JOB_TURN_BODY_TURNS] * 8.0 + 0.5) / 8.0;
        action->arg[JOB_TURN_BODY_TURNS] += action->arg[JOB_TURN_BODY_TURNS] == 0.0 ? 0.0625 : 0.0;
        break;
    default:
        break;
    }
}

/* A hand that is never exact and never wrong: it works by the expert's advice until the last row has been pulled. */
static void a_steady_hand_makes_no_slip(void **state)
{
    (void)state;
    job_action *actions = malloc(MOST_ACTIONS * sizeof *actions);
    job_state *now = malloc(sizeof *now);
    assert_non_null(actions);
    assert_non_null(now);
    for (int i = 0; i < SCENARIO_FILES; i++) {
        scenario *task = scenario_of(scenario_files[i]);
        size_t count = 0;
        job_start(&task->setup, now);
        while (count < 250 && job_expert_next(&task->setup, now, &actions[count])) {
            be_steady(&actions[count], task->setup.seed + (uint64_t)i, count);
            (void)job_apply(&task->setup, now, &actions[count++]);
        }
        check_silence(task, scenario_files[i], actions, count);
        free(task);
    }
    free(now);
    free(actions);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_expert_makes_no_slip),
                                       cmocka_unit_test(a_steady_hand_makes_no_slip)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
