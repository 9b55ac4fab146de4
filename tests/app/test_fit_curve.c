/* The statistics by themselves. */
#include "fit_curve.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"

enum { MISRA = 14 };

/* NIST StRD, nonlinear regression, dataset Misra1a (dental research, monomolecular adsorption): data and certified
 * values from memory. A slip in either would show: the fit would then not meet the certified values to the digits asked
 * here. */
static const double misra_y[MISRA] = {10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02,
                                      44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78};
static const double misra_x[MISRA] = {77.6,  114.9, 141.1, 190.8, 239.9, 289.0, 332.8,
                                      378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0};
static const double MISRA_B1 = 2.3894212918e+02;
static const double MISRA_B2 = 5.5015643181e-04;
static const double MISRA_B1_DEVIATION = 2.7070075241e+00;
static const double MISRA_B2_DEVIATION = 7.2668688436e-06;
static const double MISRA_SUM = 1.2455138894e-01;

static bool misra(const double b[], double r[], void *work)
{
    (void)work;
    for (int i = 0; i < MISRA; i++) {
        r[i] = b[0] * (1.0 - exp(-b[1] * misra_x[i])) - misra_y[i];
    }
    return true;
}

static bool misra_slope(const double b[], double slope[], void *work)
{
    (void)work;
    for (int i = 0; i < MISRA; i++) {
        const size_t row = 2 * (size_t)i;
        slope[row] = 1.0 - exp(-b[1] * misra_x[i]);
        slope[row + 1] = b[0] * misra_x[i] * exp(-b[1] * misra_x[i]);
    }
    return true;
}

static void check_misra(double first, double second, bool has_slope)
{
    const fit_task task = {
        .residuals = MISRA, .values = 2, .asked = 2, .misfit = misra, .slope = has_slope ? misra_slope : NULL};
    double b[2] = {first, second};
    fit_answer answer;
    assert_int_equal(fit_curve(&task, b, &answer), FIT_OK);
    assert_true(answer.converged);
    assert_true(answer.is_told[0] && answer.is_told[1]);
    assert_near(b[0], MISRA_B1, 1e-7 * (MISRA_B1));
    assert_near(b[1], MISRA_B2, 1e-7 * (MISRA_B2));
    assert_near(answer.chi_square, MISRA_SUM, 1e-7 * (MISRA_SUM));
    assert_int_equal(answer.freedom, 12);
    const double variance = answer.chi_square / (double)answer.freedom;
    assert_near(sqrt(variance * answer.covariance[0][0]), MISRA_B1_DEVIATION, 1e-4 * (MISRA_B1_DEVIATION));
    assert_near(sqrt(variance * answer.covariance[1][1]), MISRA_B2_DEVIATION, 1e-4 * (MISRA_B2_DEVIATION));
}

/* Both starts that the dataset names. */
static void certified_values_are_met(void **state)
{
    (void)state;
    check_misra(500.0, 0.0001, true);
    check_misra(250.0, 0.0005, true);
    check_misra(250.0, 0.0005, false);
}

/* y = a + b x through (0,1) (1,3) (2,4) (3,8): by hand a = 0.7, b = 2.2, sum of squares 1.8, and the covariance of the
 * normal equations 14/20, 4/20 and -6/20. */
static bool line(const double p[], double r[], void *work)
{
    static const double y[] = {1, 3, 4, 8};
    (void)work;
    for (int i = 0; i < 4; i++) {
        r[i] = p[0] + p[1] * i - y[i];
    }
    return true;
}

static void a_straight_line_is_as_by_hand(void **state)
{
    (void)state;
    const fit_task task = {.residuals = 4, .values = 2, .asked = 2, .misfit = line};
    double p[2] = {5, -5};
    fit_answer answer;
    assert_int_equal(fit_curve(&task, p, &answer), FIT_OK);
    assert_near(p[0], 0.7, 1e-7);
    assert_near(p[1], 2.2, 1e-7);
    assert_near(answer.chi_square, 1.8, 1e-9);
    assert_near(answer.covariance[0][0], 0.7, 1e-6);
    assert_near(answer.covariance[1][1], 0.2, 1e-6);
    assert_near(answer.covariance[0][1], -0.3, 1e-6);
    /* correlation -0.3 / sqrt(0.14); eigenvalues 1 +- 0.8018 */
    assert_near(answer.condition, 1.8017837257 / 0.1982162743, 1e-5 * (1.8017837257 / 0.1982162743));
}

/* Two values that only ever act as their sum, and a third that acts alone. */
static bool sum_of_two(const double p[], double r[], void *work)
{
    (void)work;
    for (int i = 0; i < 5; i++) {
        r[i] = p[0] + p[1] + p[2] * i - (3.0 + 2.0 * i);
    }
    return true;
}

static void what_cannot_be_told_is_said(void **state)
{
    (void)state;
    const fit_task task = {.residuals = 5, .values = 3, .asked = 3, .misfit = sum_of_two};
    double p[3] = {0.5, 0.5, 0.5};
    fit_answer answer;
    assert_int_equal(fit_curve(&task, p, &answer), FIT_OK);
    assert_false(answer.is_told[0]);
    assert_false(answer.is_told[1]);
    assert_true(answer.is_told[2]);
    assert_near(p[2], 2.0, 1e-6);
    assert_near(answer.covariance[2][2], 0.1, 1e-6);
}

static bool nowhere(const double p[], double r[], void *work)
{
    (void)p;
    (void)r;
    (void)work;
    return false;
}

static void hopeless_tasks_are_refused(void **state)
{
    (void)state;
    double p[2] = {1, 1};
    fit_answer answer;
    const fit_task few = {.residuals = 1, .values = 2, .asked = 2, .misfit = line};
    const fit_task blind = {.residuals = 4, .values = 2, .asked = 2, .misfit = nowhere};
    assert_int_equal(fit_curve(&few, p, &answer), FIT_TOO_FEW);
    assert_int_equal(fit_curve(&blind, p, &answer), FIT_NO_MODEL);
}

/* Printed in every table of Student's t: 12.706 at 1, 2.228 at 10, 1.960 without end. */
static void student_is_as_in_the_tables(void **state)
{
    (void)state;
    assert_near(fit_student(0.95, 1), 12.706, 5e-4);
    assert_near(fit_student(0.95, 10), 2.228, 5e-4);
    assert_near(fit_student(0.95, 1000000), 1.960, 5e-4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(certified_values_are_met),    cmocka_unit_test(a_straight_line_is_as_by_hand),
        cmocka_unit_test(what_cannot_be_told_is_said), cmocka_unit_test(hopeless_tasks_are_refused),
        cmocka_unit_test(student_is_as_in_the_tables),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
