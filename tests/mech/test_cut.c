/* Cut length under a hand pull. */
#include "plain_run.h"
#include "tautrow/mech/fittings.h"

static void test_same_pull(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(6.0, 5);
    plain_build(&made, &run);
    assert_near(mech_cut_pull_error(&run, 60.0, 60.0), 0.0, 0.0);
    assert_near(mech_cut_pull_error(&run, 20.0, 60.0), -mech_cut_pull_error(&run, 60.0, 20.0), 1e-15);
}

/* Against the catenary (Irvine, Cable Structures, ch. 1): arc 2a sinh(l/2a), a = H/w; stretch H L/EA. */
static void test_against_catenary(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(6.0, 2);
    plain_build(&made, &run);
    const double weight = PLAIN_MASS_KG_M * TR_GRAVITY_M_S2;
    double unstressed[2];
    const double pull[2] = {25.0, 90.0};
    for (int i = 0; i < 2; i++) {
        const double a = pull[i] / weight;
        const double arc = 2.0 * (2.0 * a * sinh(3.0 / (2.0 * a)));
        unstressed[i] = arc - pull[i] * 6.0 / PLAIN_EA_N;
    }
    const double error = mech_cut_pull_error(&run, pull[0], pull[1]);
    assert_near(error, unstressed[0] - unstressed[1], 0.001 * error);
    assert_true(error > 0.0);
}

/* Bare cable or finished row: where inserts do not give and nothing beds in, it is the same law. */
static void test_agrees_with_row(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(8.0, 3);
    plain_build(&made, &run);
    const double by_row = mech_row_take_up(&run, 80.0, 80.0, NULL) - mech_row_take_up(&run, 30.0, 80.0, NULL);
    assert_near(mech_cut_pull_error(&run, 30.0, 80.0), by_row, 1e-12);
}

static void test_weaker_is_longer(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(6.0, 1);
    plain_build(&made, &run);
    double last = (double)INFINITY;
    for (int i = 1; i <= 40; i++) {
        const double error = mech_cut_pull_error(&run, 5.0 * i, 60.0);
        assert_true(error < last);
        last = error;
    }
    assert_true(last < 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_same_pull),
        cmocka_unit_test(test_against_catenary),
        cmocka_unit_test(test_agrees_with_row),
        cmocka_unit_test(test_weaker_is_longer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
