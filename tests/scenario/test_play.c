/* The shipped scenarios can be done: the careful installer of the job layer brings each to a sound end within its par
 * time and limits. A scenario that nobody could pass would make the examiner a liar. */
#include "sample.h"

#include <math.h>

#include "tautrow/job/job.h"

enum { MOST_ACTIONS = 6000 };

typedef struct attempt {
    scenario scenario;
    tr_diags diags;
    job_state state;
} attempt;

static void play(attempt *a, const char *name)
{
    size_t size = 0;
    char *text = sample_file(name, &size);
    scenario_catalogue *catalogue = sample_catalogue();
    assert_int_equal(scenario_read(text, size, catalogue, &a->scenario, &a->diags), TR_OK);
    scenario_catalogue_close(catalogue);
    free(text);
    job_action action;
    int count = 0;
    job_start(&a->scenario.setup, &a->state);
    while (count < MOST_ACTIONS && job_expert_next(&a->scenario.setup, &a->state, &action)) {
        const job_outcome outcome = job_apply(&a->scenario.setup, &a->state, &action);
        if (outcome.refusal != JOB_REFUSE_NONE) {
            print_error("%s: action %d (%s) refused: %s\n", name, count, job_verb_look(action.verb)->name,
                        job_refusal_key(outcome.refusal));
            fail();
        }
        count++;
    }
    assert_true(count < MOST_ACTIONS);
}

static void check_end(const char *name, const attempt *a)
{
    const job_setup *setup = &a->scenario.setup;
    assert_true(a->state.is_signed);
    for (int i = 0; i < setup->structure.row_count; i++) {
        const double off = fabs(a->state.rows.tension_n[i] - setup->target_n) / setup->target_n;
        if (off > setup->tolerance || a->state.peak_n[i] > setup->row_limit_n ||
            job_row_capacity(setup, &a->state.row[i]) < 2 * setup->target_n) {
            print_error("%s row %d: %.0f N of %.0f, peak %.0f of %.0f, holds %.0f\n", name, i + 1,
                        a->state.rows.tension_n[i], setup->target_n, a->state.peak_n[i], setup->row_limit_n,
                        job_row_capacity(setup, &a->state.row[i]));
            fail();
        }
    }
    assert_true(a->state.slips_under_load == 0);
    if (1e-3 * (double)a->state.now_ms > setup->par_time_s) {
        print_error("%s takes %.0f s, par is %.0f s\n", name, 1e-3 * (double)a->state.now_ms, setup->par_time_s);
        fail();
    }
}

static void test_each_can_be_done(void **state)
{
    (void)state;
    for (int i = 0; i < SAMPLE_SCENARIO_COUNT; i++) {
        attempt *a = calloc(1, sizeof *a);
        assert_non_null(a);
        play(a, SAMPLE_SCENARIOS[i]);
        check_end(SAMPLE_SCENARIOS[i], a);
        free(a);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_each_can_be_done)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
