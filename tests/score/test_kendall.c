/* Rank agreement and the straight line of a band. */
#include "tautrow/score/score.h"

#include "near.h"

/* Nine lots ranked by lightness and by a panel: Hollander & Wolfe (1973), Nonparametric Statistical Methods, pp.
 * 185-194 (as quoted in the documentation of R's cor.test): tau = 0.4444, that is 26 pairs of 36 in agreement. */
static void agrees_with_the_textbook(void **state)
{
    (void)state;
    const int by_lightness[9] = {2, 5, 0, 4, 7, 1, 6, 3, 8};
    const int by_panel[9] = {2, 0, 7, 1, 4, 8, 5, 3, 6};
    assert_near(score_kendall(by_lightness, 9, by_panel, 9), (26.0 - 10.0) / 36.0, 1e-12);
    assert_near(score_kendall(by_panel, 9, by_lightness, 9), 0.4444, 5e-5);
}

static void knows_the_ends_of_the_scale(void **state)
{
    (void)state;
    const int rule[5] = {2, 3, 1, 4, 0};
    const int reversed[5] = {0, 4, 1, 3, 2};
    const int one_swap[5] = {3, 2, 1, 4, 0};
    assert_near(score_kendall(rule, 5, rule, 5), 1.0, 0.0);
    assert_near(score_kendall(reversed, 5, rule, 5), -1.0, 0.0);
    assert_near(score_kendall(one_swap, 5, rule, 5), 0.8, 1e-12); /* 9 pairs against 1 */
    assert_near(score_kendall(rule, 1, rule, 5), 1.0, 0.0);
    assert_near(score_kendall(NULL, 0, rule, 5), 1.0, 0.0);
}

static void leaves_out_rows_that_are_not_in_both(void **state)
{
    (void)state;
    const int rule[4] = {1, 2, 3, 4};
    const int order[5] = {9, 4, 1, 7, 2};
    assert_near(score_kendall(order, 5, rule, 4), -1.0 / 3.0, 1e-12); /* 4 before 1 and 2, 1 before 2 */
}

static void shares_by_table(void **state)
{
    (void)state;
    const struct {
        double measured;
        scenario_band band;
        double share;
    } cases[] = {
        {0.001, {4, 0.002, 0.010}, 1.0}, {0.002, {4, 0.002, 0.010}, 1.0}, {0.006, {4, 0.002, 0.010}, 0.5},
        {0.010, {4, 0.002, 0.010}, 0.0}, {0.5, {4, 0.002, 0.010}, 0.0},   {0.95, {6, 0.95, 0.5}, 1.0},
        {1.0, {6, 0.95, 0.5}, 1.0},      {0.725, {6, 0.95, 0.5}, 0.5},    {0.2, {6, 0.95, 0.5}, 0.0},
        {-0.3, {6, 0.95, 0.0}, 0.0},     {0.0, {1, 0.0, 0.0}, 1.0},       {0.1, {1, 0.0, 0.0}, 0.0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_near(score_share(cases[i].measured, cases[i].band), cases[i].share, 1e-12);
    }
    assert_near(score_share((double)NAN, cases[0].band), 0.0, 0.0);
}

/* Better never earns less, whichever way the band runs. */
static void shares_rise_towards_full(void **state)
{
    (void)state;
    const scenario_band bands[2] = {{1, 0.1, 0.9}, {1, 0.9, 0.1}};
    for (int b = 0; b < 2; b++) {
        double last = -1.0;
        for (int i = 0; i <= 40; i++) {
            const double step = 0.05 * i - 0.5;
            const double share = score_share(b == 0 ? 1.0 - step : step, bands[b]);
            assert_true(share >= last && share >= 0.0 && share <= 1.0);
            last = share;
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(agrees_with_the_textbook),
        cmocka_unit_test(knows_the_ends_of_the_scale),
        cmocka_unit_test(leaves_out_rows_that_are_not_in_both),
        cmocka_unit_test(shares_by_table),
        cmocka_unit_test(shares_rise_towards_full),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
