/* Gauge, plucked tone and the pushed string against published and worked examples. */
#include "near.h"
#include "taut.h"
#include "tautrow/base/units.h"
#include "tautrow/mech/checks.h"

#define EA_N 782230.0 /* 1/8 in 1x19, EN 1993-1-11:2006 Table 3.1 modulus on 6.017 mm2 */

/* Statics of the three-point gauge: 10 N on 300 mm, 1.5 mm deep, is 500 N; the short form is 2 d2/L2 low. */
static void test_gauge(void **state)
{
    (void)state;
    assert_near(mech_gauge_tension(10.0, 0.3, 0.0015), 500.0, 1e-9);
    const double exact = mech_gauge_tension_exact(10.0, 0.3, 0.0015);
    assert_near(exact / 500.0 - 1.0, 2.0 * 0.0015 * 0.0015 / (0.3 * 0.3), 1e-8);
    /* The exact form is the triangle of forces: both legs at T carry F. */
    const double t = mech_gauge_tension_exact(40.0, 0.3, 0.02);
    assert_near(2.0 * t * sin(atan(0.02 / 0.15)), 40.0, 1e-9);
}

/* Mersenne; Irvine, Cable Structures (1981) ch. 4: 15 m, 80 kN, 3.4 kg/m; a guitar's top E; 1/8 in 1x19 at 225 lbf. */
static void test_tone(void **state)
{
    (void)state;
    assert_near(mech_tone_hz(80e3, 3.4, 15.0), 5.11310, 0.000006);
    assert_near(mech_tone_tension(329.63, 0.401e-3, 0.65), 73.64, 0.006);
    static const double hz[][2] = {{36.0, 79.37}, {42.0, 68.03}, {48.0, 59.53}, {60.0, 47.62}};
    for (size_t i = 0; i < 4; i++) {
        assert_near(mech_tone_hz(225.0 * TR_LBF_N, 0.0475, hz[i][0] * TR_INCH_M), hz[i][1], 0.0051);
    }
}

/* A semitone is 12.2 % of tension (equal temperament, ISO 16); tension and tone are each other's inverse. */
static void test_tone_inverse(void **state)
{
    (void)state;
    const double f = mech_tone_hz(1000.0, 0.0475, 1.2);
    assert_near(mech_tone_tension(f, 0.0475, 1.2), 1000.0, 1e-9);
    assert_near(mech_tone_tension(f * pow(2.0, 1.0 / 12.0), 0.0475, 1.2) / 1000.0, 1.1225, 0.00005);
    assert_near(mech_tone_hz(0.0, 0.0475, 1.2), 0.0, 0.0);
    assert_near(mech_tone_hz(-5.0, 0.0475, 1.2), 0.0, 0.0); /* a slack row has no tone */
}

/* 1.2 m, 1 kN: force in N at a depth in mm, exact and by the two leading terms of the large-deflection texts. */
static void test_string_push(void **state)
{
    (void)state;
    static const double row[][3] = {{5.0, 17.119, 17.119},
                                    {10.0, 36.949, 36.955},
                                    {20.0, 95.577, 95.638},
                                    {30.0, 197.471, 197.779},
                                    {50.0, 616.426, 619.346}};
    for (size_t i = 0; i < 5; i++) {
        const double push = mech_string_push(1000.0, EA_N, 1.2, row[i][0] * 1e-3);
        assert_near(push, row[i][1], 0.0006);
        assert_near(push, row[i][2], 0.005 * row[i][2]); /* the short form stays within half a percent of it */
    }
}

/* IRC / ASCE 7 infill push of 50 lbf on one row: 42 in bay, 225 lbf, rigid ends: 28.29 mm, 472.1 lbf. */
static void test_infill_on_one_row(void **state)
{
    (void)state;
    const double bay = 42.0 * TR_INCH_M;
    const double d = mech_string_deflection(225.0 * TR_LBF_N, EA_N, bay, 50.0 * TR_LBF_N);
    assert_near(d * 1e3, 28.29, 0.006);
    assert_near(mech__taut_tension(225.0 * TR_LBF_N, EA_N, bay, d) / TR_LBF_N, 472.1, 0.06);
}

static void test_string_is_odd_rising_and_invertible(void **state)
{
    (void)state;
    for (int t = 0; t <= 4; t++) {
        double last = -1e9;
        for (int i = -50; i <= 50; i++) {
            const double d = 0.002 * i;
            const double push = mech_string_push(500.0 * t, EA_N, 1.1, d);
            assert_true(push > last);
            assert_near(push, -mech_string_push(500.0 * t, EA_N, 1.1, -d), 1e-9);
            assert_near(mech_string_deflection(500.0 * t, EA_N, 1.1, push), d, 1e-9);
            last = push;
        }
    }
    assert_true(isinf(mech_string_deflection(100.0, 0.0, 1.0, 250.0))); /* no stretch: never more than 2 T */
}

/* Work done by the push is the energy stored: T e l + EA e2 l / 2 with e the strain of the legs. */
static void test_string_energy(void **state)
{
    (void)state;
    const double l = 1.0;
    const double end = 0.06;
    const int n = 2000;
    double work = 0.0;
    for (int i = 0; i < n; i++) {
        work += mech_string_push(900.0, EA_N, l, end * (i + 0.5) / n) * end / n;
    }
    const double strain = hypot(1.0, 2.0 * end / l) - 1.0;
    assert_near(work, (900.0 * strain + 0.5 * EA_N * strain * strain) * l, 1e-4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_gauge),
        cmocka_unit_test(test_tone),
        cmocka_unit_test(test_tone_inverse),
        cmocka_unit_test(test_string_push),
        cmocka_unit_test(test_infill_on_one_row),
        cmocka_unit_test(test_string_is_odd_rising_and_invertible),
        cmocka_unit_test(test_string_energy),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
