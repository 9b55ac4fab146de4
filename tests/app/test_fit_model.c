/* The fit of a mock-up against mock-ups whose stiffnesses are known. */
#include "fit_model.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "data.h"
#include "mock_up.h"
#include "near.h"
#include "tautrow/base/text.h"

enum { SEEDS = 240 };

/* A share of 0.95 of 240 is counted with a deviation of sqrt(0.95 * 0.05 / 240) = 0.0141: three of them either way, 218
 * to 238 intervals. Were the pulls taken for exact, about half of the intervals would hold the truth; over 2000
 * seeds 95.3 to 95.6 % do. */
static const double COVER_LEAST = 0.95 - 3 * 0.0141;
static const double COVER_MOST = 0.95 + 3 * 0.0141;

typedef struct fixture {
    app_scenario *scenario;
    measured seen;
    fit_report report;
    char why[TR_TEXT_CAP];
} fixture;

static int set_up(void **state)
{
    fixture *f = calloc(1, sizeof *f);
    tr_diags *diags = calloc(1, sizeof *diags);
    if (f == NULL || diags == NULL) {
        free(f);
        free(diags);
        return -1;
    }
    scenario_catalogue *catalogue = app_catalogue_load(TAUTROW_SOURCE, diags);
    const tr_result result =
        app_scenario_load(TAUTROW_SOURCE "/scenarios/soft-porch.json", catalogue, NULL, &f->scenario, diags);
    scenario_catalogue_close(catalogue);
    free(diags);
    *state = f;
    return result == TR_OK ? 0 : -1;
}

static int tear_down(void **state)
{
    fixture *f = *state;
    app_scenario_free(f->scenario);
    free(f);
    return 0;
}

static void fit(fixture *f, const mock_up *of, const fit_choice *choice)
{
    assert_true(mock_up_measure(&f->scenario->what.setup, of, &f->seen));
    assert_int_equal(fit_mock_up(&f->scenario->what.setup, &f->seen, choice, &f->report, f->why, sizeof f->why), TR_OK);
}

static void truth_of(const mock_up *of, double out[FIT_VALUES])
{
    out[FIT_BASE] = of->base_n_m_rad;
    out[FIT_JOINT] = of->joint_n_m;
    out[FIT_STRAND] = of->ea_n;
}

/* ---- known values ---- */

static void without_scatter_the_truth_comes_back(void **state)
{
    fixture *f = *state;
    mock_up of = mock_up_shipped();
    double truth[FIT_VALUES];
    const fit_choice choice = {.scatter = 0.005};
    of.scatter = 0.0;
    truth_of(&of, truth);
    fit(f, &of, &choice);
    for (int i = 0; i < FIT_VALUES; i++) {
        assert_near(f->report.found[i].value, truth[i], 1e-4 * truth[i]);
    }
    assert_true(f->report.reduced_chi_square < 1e-6);
    assert_int_equal(f->report.far_count, 0);
}

static void intervals_hold_the_truth_as_often_as_they_say(void **state)
{
    fixture *f = *state;
    mock_up of = mock_up_shipped();
    double truth[FIT_VALUES];
    int held[FIT_VALUES] = {0};
    double chi = 0.0;
    const fit_choice choice = {.scatter = of.scatter};
    of.rounds = 2;
    truth_of(&of, truth);
    for (int seed = 1; seed <= SEEDS; seed++) {
        of.seed = (uint64_t)seed;
        fit(f, &of, &choice);
        assert_true(f->report.converged);
        chi += f->report.reduced_chi_square / SEEDS;
        for (int i = 0; i < FIT_VALUES; i++) {
            const fit_found *found = &f->report.found[i];
            assert_true(found->has_interval);
            held[i] += found->low <= truth[i] && truth[i] <= found->high ? 1 : 0;
        }
    }
    for (int i = 0; i < FIT_VALUES; i++) {
        const double share = (double)held[i] / SEEDS;
        print_message("value %d: %d of %d intervals hold the truth\n", i, held[i], SEEDS);
        assert_true(share >= COVER_LEAST && share <= COVER_MOST);
    }
    /* deviation of the mean of 240 reduced chi-squares of 123 degrees of freedom: sqrt(2/123/240) = 0.008 */
    assert_near(chi, 1.0, 0.03);
}

/* The scatter that the program is told does not decide the width: the readings do. */
static void intervals_go_by_the_readings(void **state)
{
    fixture *f = *state;
    const mock_up of = mock_up_shipped();
    const fit_choice as_is = {.scatter = of.scatter};
    const fit_choice coarse = {.scatter = 4.0 * of.scatter};
    fit(f, &of, &as_is);
    const fit_found known = f->report.found[FIT_JOINT];
    fit(f, &of, &coarse);
    const fit_found told = f->report.found[FIT_JOINT];
    assert_near(told.value, known.value, 0.01 * known.value);
    assert_near(told.high / told.low, known.high / known.low, 0.1 * (known.high / known.low - 1.0));
    assert_near(f->report.reduced_chi_square, 1.0 / 16.0, 0.02);
}

/* ---- what cannot be told ---- */

static void a_coarse_gauge_does_not_tell_the_base(void **state)
{
    fixture *f = *state;
    mock_up of = mock_up_shipped();
    of.scatter = 0.03;
    of.rounds = 1;
    const fit_choice choice = {.scatter = 0.03};
    fit(f, &of, &choice);
    assert_false(f->report.found[FIT_BASE].is_told);
    const fit_choice held = {.scatter = 0.03, .is_held = {[FIT_BASE] = true}};
    fit(f, &of, &held);
    assert_false(f->report.found[FIT_BASE].is_asked);
    assert_true(f->report.found[FIT_JOINT].is_told);
    assert_true(f->report.found[FIT_STRAND].is_told);
}

/* Readings of the pulled row alone say how far it was pulled and nothing of what gives. */
static void readings_of_the_pulled_row_tell_nothing(void **state)
{
    fixture *f = *state;
    const mock_up of = mock_up_shipped();
    const fit_choice choice = {.scatter = of.scatter};
    assert_true(mock_up_measure(&f->scenario->what.setup, &of, &f->seen));
    for (int k = 0; k < f->seen.pull_count; k++) {
        for (int i = 0; i < MECH_MAX_ROWS; i++) {
            f->seen.pull[k].is_read[i] = f->seen.pull[k].is_read[i] && i == f->seen.pull[k].row;
        }
    }
    assert_int_equal(fit_mock_up(&f->scenario->what.setup, &f->seen, &choice, &f->report, f->why, sizeof f->why),
                     TR_OK);
    for (int i = 0; i < FIT_VALUES; i++) {
        assert_false(f->report.found[i].is_told);
        assert_false(f->report.found[i].has_interval);
    }
    assert_true(f->report.is_alike[FIT_BASE][FIT_JOINT]);
}

static void too_few_readings_are_not_fitted(void **state)
{
    fixture *f = *state;
    const mock_up of = mock_up_shipped();
    const fit_choice choice = {.scatter = of.scatter};
    assert_true(mock_up_measure(&f->scenario->what.setup, &of, &f->seen));
    f->seen.pull_count = 2; /* three readings of pulled rows for three values: nothing is left to judge by */
    assert_int_equal(fit_mock_up(&f->scenario->what.setup, &f->seen, &choice, &f->report, f->why, sizeof f->why),
                     TR_OK);
    assert_true(f->report.is_too_few);
    assert_int_equal(f->report.reading_count, 3);
    for (int i = 0; i < FIT_VALUES; i++) {
        assert_true(f->report.found[i].is_asked);
        assert_false(f->report.found[i].is_told);
    }
}

static void a_held_run_has_nothing_to_fit(void **state)
{
    fixture *f = *state;
    const mock_up of = mock_up_shipped();
    const fit_choice choice = {.scatter = of.scatter, .is_held = {true, true, true}};
    assert_true(mock_up_measure(&f->scenario->what.setup, &of, &f->seen));
    assert_int_equal(fit_mock_up(&f->scenario->what.setup, &f->seen, &choice, &f->report, f->why, sizeof f->why),
                     TR_INVALID);
    assert_non_null(strstr(f->why, "held"));
}

/* ---- readings that are off ---- */

static void a_slip_of_the_pen_is_named_and_stays(void **state)
{
    fixture *f = *state;
    const mock_up of = mock_up_shipped();
    fit_choice choice = {.scatter = of.scatter};
    assert_true(mock_up_measure(&f->scenario->what.setup, &of, &f->seen));
    f->seen.pull[20].read_n[4] *= 1.10;
    const job_setup *setup = &f->scenario->what.setup;
    assert_int_equal(fit_mock_up(setup, &f->seen, &choice, &f->report, f->why, sizeof f->why), TR_OK);
    const int all = f->report.reading_count;
    assert_true(f->report.far_count >= 1);
    assert_int_equal(f->report.far[0].pull, 20);
    assert_int_equal(f->report.far[0].row, 4);
    assert_true(f->report.far[0].sigmas < -FIT_FAR); /* model less reading: it reads too much */
    choice.leave_out = 1;
    assert_int_equal(fit_mock_up(setup, &f->seen, &choice, &f->report, f->why, sizeof f->why), TR_OK);
    assert_int_equal(f->report.reading_count, all - 1);
    assert_int_equal(f->report.left_out_count, 1);
    assert_int_equal(f->report.left_out[0].pull, 20);
    assert_int_equal(f->report.far_count, 0);
    assert_false(f->report.is_used[20][4]);
}

static void a_pull_written_down_wrong_is_named(void **state)
{
    fixture *f = *state;
    const mock_up of = mock_up_shipped();
    const fit_choice choice = {.scatter = of.scatter, .leave_out = 1};
    assert_true(mock_up_measure(&f->scenario->what.setup, &of, &f->seen));
    f->seen.pull[10].reading_n *= 1.2;
    assert_int_equal(fit_mock_up(&f->scenario->what.setup, &f->seen, &choice, &f->report, f->why, sizeof f->why),
                     TR_OK);
    assert_int_equal(f->report.left_out[0].pull, 10);
    assert_int_equal(f->report.left_out[0].row, FIT_PULL_ITSELF);
    assert_int_equal(f->report.far_count, 0);
    assert_true(f->report.found[FIT_JOINT].is_told);
}

/* More far readings than the list holds: the worst are in it, in order, and the rest is counted. */
static void the_worst_are_listed_and_all_are_counted(void **state)
{
    fixture *f = *state;
    const mock_up of = mock_up_shipped();
    const fit_choice choice = {.scatter = 0.1 * of.scatter};
    double worst = 0.0;
    int total = 0;
    fit(f, &of, &choice);
    for (int k = 0; k < f->seen.pull_count; k++) {
        total += fabs(f->report.pull_sigmas[k]) > FIT_FAR ? 1 : 0;
        worst = fmax(worst, fabs(f->report.pull_sigmas[k]));
        for (int i = 0; i < MECH_MAX_ROWS; i++) {
            const double sigmas = f->report.is_used[k][i] ? fabs(f->report.sigmas[k][i]) : 0.0;
            total += sigmas > FIT_FAR ? 1 : 0;
            worst = fmax(worst, sigmas);
        }
    }
    assert_int_equal(f->report.far_count, FIT_MAX_LEFT_OUT);
    assert_int_equal(f->report.far_total, total);
    assert_true(total > FIT_MAX_LEFT_OUT);
    assert_near(fabs(f->report.far[0].sigmas), worst, 0.0);
    for (int i = 1; i < f->report.far_count; i++) {
        assert_true(fabs(f->report.far[i].sigmas) <= fabs(f->report.far[i - 1].sigmas));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_scatter_the_truth_comes_back),
        cmocka_unit_test(intervals_hold_the_truth_as_often_as_they_say),
        cmocka_unit_test(intervals_go_by_the_readings),
        cmocka_unit_test(a_coarse_gauge_does_not_tell_the_base),
        cmocka_unit_test(readings_of_the_pulled_row_tell_nothing),
        cmocka_unit_test(too_few_readings_are_not_fitted),
        cmocka_unit_test(a_held_run_has_nothing_to_fit),
        cmocka_unit_test(a_slip_of_the_pen_is_named_and_stays),
        cmocka_unit_test(a_pull_written_down_wrong_is_named),
        cmocka_unit_test(the_worst_are_listed_and_all_are_counted),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
