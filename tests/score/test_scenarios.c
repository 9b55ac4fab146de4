/* The scenarios that come with the program, worked by the expert: a careful attempt must pass each of them with nearly
 * all. */
#include "near.h"

#include <stdlib.h>

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"
#include "tautrow/score/score.h"

enum { MOST_ACTIONS = 6000 };

static char *text_of(const char *path, size_t *size)
{
    char whole[512];
    char why[TR_TEXT_CAP];
    char *text = NULL;
    tr_format(whole, sizeof whole, "%s/%s", TAUTROW_SOURCE, path);
    if (tr_file_read(whole, SCENARIO_MAX_FILE, &text, size, why, sizeof why) != TR_OK) {
        fail_msg("%s: %s", path, why);
    }
    return text;
}

static scenario *scenario_of(const char *path)
{
    static tr_diags diags;
    size_t size = 0;
    scenario *task = malloc(sizeof *task);
    assert_non_null(task);
    char *text = text_of("assets/catalogue/catalogue.json", &size);
    tr_diags_clear(&diags);
    scenario_catalogue *catalogue = scenario_catalogue_open(text, size, &diags);
    assert_non_null(catalogue);
    free(text);
    text = text_of(path, &size);
    const tr_result result = scenario_read(text, size, catalogue, task, &diags);
    if (result != TR_OK) {
        fail_msg("%s: %s", path, diags.item[0].text);
    }
    free(text);
    scenario_catalogue_close(catalogue);
    return task;
}

static size_t work_through(const job_setup *setup, job_action *actions)
{
    size_t count = 0;
    job_state *state = malloc(sizeof *state);
    assert_non_null(state);
    job_start(setup, state);
    while (count < MOST_ACTIONS && job_expert_next(setup, state, &actions[count])) {
        const job_outcome outcome = job_apply(setup, state, &actions[count]);
        assert_int_equal(outcome.refusal, JOB_REFUSE_NONE);
        count++;
    }
    free(state);
    return count;
}

static void check_scenario(const char *path)
{
    scenario *task = scenario_of(path);
    job_action *actions = malloc(MOST_ACTIONS * sizeof *actions);
    assert_non_null(actions);
    const size_t count = work_through(&task->setup, actions);
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
    static const char *const paths[] = {"scenarios/long-deck.json",      "scenarios/soft-porch.json",
                                        "scenarios/left-half-done.json", "scenarios/thirty-days.json",
                                        "scenarios/stair.json",          "scenarios/bent-gallery.json",
                                        "scenarios/corner-post.json",    "scenarios/first-row.json"};
    for (size_t i = 0; i < sizeof paths / sizeof paths[0]; i++) {
        check_scenario(paths[i]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_expert_passes_every_scenario)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
