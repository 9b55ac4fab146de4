/* Threads against standards and textbook examples. */
#include "near.h"
#include "screw.h"
#include "tautrow/base/units.h"
#include "tautrow/mech/fittings.h"

#define LBF_IN (TR_LBF_N * TR_INCH_M)

static mech_thread inch_thread(double major_in, double per_inch, double friction)
{
    return (mech_thread){.pitch_m = TR_INCH_M / per_inch, .major_m = major_in * TR_INCH_M, .friction = friction};
}

/* Basic dimensions: ASME B1.1 for inch threads, ISO 261/262 and ISO 724 for metric ones, both rounded as printed. */
static void test_geometry(void **state)
{
    (void)state;
    static const struct {
        double major_mm, pitch_mm, pitch_diameter_mm, lead_deg;
    } row[] = {
        {6.350, 25.4 / 28.0, 5.761, 2.87},
        {7.9375, 25.4 / 24.0, 7.250, 2.66},
        {9.525, 25.4 / 24.0, 8.838, 2.18},
        {6.350, 25.4 / 20.0, 5.525, 4.18},
        {7.9375, 25.4 / 18.0, 7.021, 3.66},
        {9.525, 25.4 / 16.0, 8.494, 3.40},
        {5.0, 0.8, 4.480, 3.25},
        {6.0, 1.0, 5.350, 3.40},
        {8.0, 1.25, 7.188, 3.17},
        {8.0, 1.0, 7.350, 2.48},
        {10.0, 1.5, 9.026, 3.03},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        const mech_thread thread = {.pitch_m = row[i].pitch_mm * 1e-3, .major_m = row[i].major_mm * 1e-3};
        assert_near(mech_thread_pitch_diameter(&thread) * 1e3, row[i].pitch_diameter_mm, 0.00051);
        assert_near(mech_thread_lead_angle(&thread) * 180.0 / TR_PI, row[i].lead_deg, 0.0051);
    }
}

/* Shigley's Mechanical Engineering Design, Example 8-1 (10th ed.): square thread, 32 mm, pitch 4 mm, double start,
 * friction 0.08, 6.4 kN; the collar (10.24 N m) is not ours. */
static void test_square_thread_example(void **state)
{
    (void)state;
    const mech__screw screw = {.mean_m = 0.030, .lead_m = 0.008, .friction = 0.08, .half_rad = 0.0};
    const double collar = 0.08 * 6400.0 * 0.040 / 2.0;
    const double raise = mech__screw_raise(&screw, 6400.0);
    assert_near(raise, 15.937, 0.0006);
    assert_near(mech__screw_lower(&screw, 6400.0), -0.466, 0.0006);
    assert_near(raise + collar, 26.177, 0.0006);
    assert_near(mech__screw_lower(&screw, 6400.0) + collar, 9.774, 0.0006);
    assert_near(6400.0 * screw.lead_m / (2.0 * TR_PI * (raise + collar)), 0.3113, 0.00006); /* efficiency */
}

/* A V thread is a square one with friction / cos 30 degrees (Shigley eq. 8-5). */
static void test_v_thread_reduces_to_square(void **state)
{
    (void)state;
    const mech_thread v = inch_thread(0.25, 28.0, 0.15);
    const mech__screw square = {.mean_m = mech_thread_pitch_diameter(&v),
                                .lead_m = v.pitch_m,
                                .friction = 0.15 / cos(TR_PI / 6.0),
                                .half_rad = 0.0};
    assert_near(mech_thread_raise(&v, 1000.0), mech__screw_raise(&square, 1000.0), 1e-12);
    assert_near(mech_thread_lower(&v, 1000.0), mech__screw_lower(&square, 1000.0), 1e-12);
    /* And equals F d2/2 tan(rho' +- lambda). */
    const double lead = mech_thread_lead_angle(&v);
    const double rho = atan(square.friction);
    assert_near(mech_thread_raise(&v, 1000.0), 500.0 * square.mean_m * tan(rho + lead), 1e-12);
    assert_near(mech_thread_lower(&v, 1000.0), 500.0 * square.mean_m * tan(rho - lead), 1e-12);
}

/* Torques of studs at 300 lbf, lbf in: Shigley eq. 8-1, 8-2, 8-5 worked out to the digits shown. */
static void test_stud_torques(void **state)
{
    (void)state;
    static const double friction[] = {0.11, 0.15, 0.30, 0.50};
    static const struct {
        double major_in, per_inch, raise[4], lower[4];
    } stud[] = {
        {0.2500, 28.0, {6.07, 7.66, 13.73, 21.98}, {2.60, 4.15, 9.91, 17.43}},
        {0.3125, 24.0, {7.47, 9.48, 17.10, 27.45}, {3.43, 5.38, 12.64, 22.14}},
        {0.3750, 24.0, {8.66, 11.10, 20.34, 32.84}, {4.62, 7.00, 15.88, 27.54}},
    };
    for (size_t i = 0; i < 3; i++) {
        for (size_t f = 0; f < 4; f++) {
            const mech_thread thread = inch_thread(stud[i].major_in, stud[i].per_inch, friction[f]);
            assert_near(mech_thread_raise(&thread, 300.0 * TR_LBF_N) / LBF_IN, stud[i].raise[f], 0.0051);
            assert_near(mech_thread_lower(&thread, 300.0 * TR_LBF_N) / LBF_IN, stud[i].lower[f], 0.0051);
        }
    }
    const mech_thread m6 = {.pitch_m = 1e-3, .major_m = 6e-3, .friction = 0.15};
    const mech_thread m8 = {.pitch_m = 1.25e-3, .major_m = 8e-3, .friction = 0.15};
    assert_near(mech_thread_raise(&m6, 1000.0), 0.6290, 0.00006);
    assert_near(mech_thread_lower(&m6, 1000.0), 0.3011, 0.00006);
    assert_near(mech_thread_raise(&m8, 1000.0), 0.8294, 0.00006);
    assert_near(mech_thread_lower(&m8, 1000.0), 0.4195, 0.00006);
}

/* Friction at which a V thread just locks itself: Shigley eq. 8-3. */
static void test_self_locking_limit(void **state)
{
    (void)state;
    static const double limit[][3] = {{0.2500, 28.0, 0.0434}, {0.3125, 24.0, 0.0402}, {0.3750, 24.0, 0.0330}};
    for (size_t i = 0; i < 3; i++) {
        const mech_thread below = inch_thread(limit[i][0], limit[i][1], limit[i][2] - 0.0001);
        const mech_thread above = inch_thread(limit[i][0], limit[i][1], limit[i][2] + 0.0001);
        assert_true(mech_thread_lower(&below, 1000.0) < 0.0);
        assert_true(mech_thread_lower(&above, 1000.0) > 0.0);
    }
}

/* Torque rises with force in proportion and with friction; raising always costs more than lowering. */
static void test_trends(void **state)
{
    (void)state;
    double last = 0.0;
    for (int i = 0; i <= 60; i++) {
        const mech_thread thread = inch_thread(0.25, 28.0, 0.01 * i);
        const double raise = mech_thread_raise(&thread, 800.0);
        assert_true(raise > last);
        assert_true(raise > mech_thread_lower(&thread, 800.0));
        assert_near(mech_thread_raise(&thread, 1600.0), 2.0 * raise, 1e-12);
        last = raise;
    }
    const mech__screw jams = {.mean_m = 0.01, .lead_m = 0.03, .friction = 1.2, .half_rad = 0.0};
    assert_true(isinf(mech__screw_raise(&jams, 1.0)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_geometry),
        cmocka_unit_test(test_square_thread_example),
        cmocka_unit_test(test_v_thread_reduces_to_square),
        cmocka_unit_test(test_stud_torques),
        cmocka_unit_test(test_self_locking_limit),
        cmocka_unit_test(test_trends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
