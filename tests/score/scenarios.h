/* The scenarios that come with the program, and the expert's work at them. Shared by the tests of score. */
#ifndef TESTS_SCENARIOS_H
#define TESTS_SCENARIOS_H

#include "near.h"

#include <stdlib.h>

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"
#include "tautrow/score/score.h"

static const char *const scenario_files[] = {"scenarios/long-deck.json",      "scenarios/soft-porch.json",
                                             "scenarios/left-half-done.json", "scenarios/thirty-days.json",
                                             "scenarios/stair.json",          "scenarios/bent-gallery.json",
                                             "scenarios/corner-post.json",    "scenarios/first-row.json"};
enum { SCENARIO_FILES = sizeof scenario_files / sizeof scenario_files[0] };

static inline char *text_of(const char *path, size_t *size)
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

static inline scenario *scenario_of(const char *path)
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

static inline size_t work_through(const job_setup *setup, job_action *actions, size_t most)
{
    size_t count = 0;
    job_state *state = malloc(sizeof *state);
    assert_non_null(state);
    job_start(setup, state);
    while (count < most && job_expert_next(setup, state, &actions[count])) {
        const job_outcome outcome = job_apply(setup, state, &actions[count]);
        assert_int_equal(outcome.refusal, JOB_REFUSE_NONE);
        count++;
    }
    free(state);
    return count;
}

#endif
