/* Hole and insert against the NDS and the Wood Handbook, and the directions in which each slip-up works. */
#include "near.h"
#include "tautrow/base/units.h"
#include "tautrow/mech/fittings.h"

#define LBF_PER_IN (TR_LBF_N / TR_INCH_M)
#define DEGREE     (TR_PI / 180.0)

/* NDS 2018 Table 12.2A (eq. 12.2-1, rounded), lbf per inch, thread diameters 1/4 to 1 in. */
static void test_withdrawal_table(void **state)
{
    (void)state;
    static const double diameter_in[9] = {0.25, 0.3125, 0.375, 0.4375, 0.5, 0.625, 0.75, 0.875, 1.0};
    static const struct {
        double gravity, w[9];
    } row[] = {
        {0.35, {132, 156, 179, 200, 222, 262, 300, 337, 373}},  {0.36, {137, 163, 186, 209, 231, 273, 313, 352, 389}},
        {0.37, {143, 169, 194, 218, 241, 285, 326, 367, 405}},  {0.42, {173, 205, 235, 264, 291, 344, 395, 443, 490}},
        {0.43, {179, 212, 243, 273, 302, 357, 409, 459, 508}},  {0.46, {199, 235, 269, 302, 334, 395, 453, 508, 562}},
        {0.47, {205, 242, 278, 312, 345, 408, 467, 525, 580}},  {0.49, {218, 258, 296, 332, 367, 434, 498, 559, 617}},
        {0.50, {225, 266, 305, 342, 378, 447, 513, 576, 636}},  {0.55, {260, 307, 352, 395, 437, 516, 592, 664, 734}},
        {0.58, {281, 332, 381, 428, 473, 559, 641, 719, 795}},  {0.67, {349, 413, 473, 531, 587, 694, 796, 893, 987}},
        {0.68, {357, 422, 484, 543, 600, 709, 813, 913, 1009}}, {0.73, {397, 469, 538, 604, 668, 789, 905, 1016, 1123}},
    };
    for (size_t g = 0; g < sizeof row / sizeof row[0]; g++) {
        for (size_t d = 0; d < 9; d++) {
            const double w = mech_withdrawal_design(row[g].gravity, diameter_in[d] * TR_INCH_M) / LBF_PER_IN;
            assert_near(w, row[g].w[d], 0.51);
        }
    }
}

/* AWC, Structural Wood Design Solved Example Problems, E2.3: 1/2 in lag in southern pine, 2.1875 in of thread. */
static void test_lag_example(void **state)
{
    (void)state;
    const double w = mech_withdrawal_design(0.55, 0.5 * TR_INCH_M);
    assert_near(w / LBF_PER_IN, 436.6, 0.06);
    assert_near(w * 2.1875 * TR_INCH_M, 4247.94, 0.01);
}

/* The SI forms: 27.861 G^1.5 D^0.75 N/mm (derived from NDS eq. 12.2-1), 125.4 (Wood Handbook eq. 8-14, metric). */
static void test_si_form(void **state)
{
    (void)state;
    for (int d = 5; d <= 25; d++) {
        const double shape = pow(0.5, 1.5) * pow(d, 0.75);
        assert_near(mech_withdrawal_design(0.5, d * 1e-3) * 1e-3 / shape, 27.861, 0.0006);
        assert_near(mech_withdrawal_ultimate(0.5, d * 1e-3) * 1e-3 / shape, 125.4, 0.06);
    }
    assert_near(mech_withdrawal_ultimate(0.4, 0.01) / mech_withdrawal_design(0.4, 0.01), 4.5, 1e-12);
}

/* Demo insert: 11.1 mm outer thread, 9.1 mm root. */
static const mech_insert insert = {.major_m = 11.1e-3, .minor_m = 9.1e-3, .length_m = 32e-3, .flange_m = 1e-3};
static const mech_hole right_hole = {.diameter_m = 9.5e-3, .depth_m = 40e-3};
static const mech_seat flush = {.proud_m = 0.0};
static const mech_wood softwood = {.gravity = 0.50, .wet_factor = 1.0, .duration_factor = 0.9};
static const mech_wood oak = {.gravity = 0.73, .wet_factor = 1.0, .duration_factor = 0.9};
static const double edge_m = 44.45e-3; /* middle of a 3.5 in face */

static double design_with(const mech_hole *hole, const mech_seat *seat)
{
    return mech_insert_grip(&insert, hole, seat, &softwood, edge_m).design_n;
}

/* NDS formula with its factors: 1/4 in thread, redcedar, 1.5 in of thread, permanent load, wet: 206.2, 185.6, 129.9
 * lbf. */
static void test_worked_combination(void **state)
{
    (void)state;
    const mech_insert lag = {.major_m = 0.25 * TR_INCH_M, .minor_m = 0.173 * TR_INCH_M, .length_m = 1.5 * TR_INCH_M};
    const mech_hole hole = {.diameter_m = 0.15 * TR_INCH_M, .depth_m = 2.0 * TR_INCH_M};
    mech_wood cedar = {.gravity = 0.36, .wet_factor = 1.0, .duration_factor = 1.0};
    assert_near(mech_insert_grip(&lag, &hole, &flush, &cedar, edge_m).design_n / TR_LBF_N, 206.2, 0.06);
    cedar.duration_factor = 0.9;
    assert_near(mech_insert_grip(&lag, &hole, &flush, &cedar, edge_m).design_n / TR_LBF_N, 185.6, 0.06);
    cedar.wet_factor = 0.7;
    const mech_grip wet = mech_insert_grip(&lag, &hole, &flush, &cedar, edge_m);
    assert_near(wet.design_n / TR_LBF_N, 129.9, 0.06);
    assert_near(wet.ultimate_n / wet.design_n, 4.5 / 0.9, 1e-9); /* duration is a design factor only */
}

static void test_bite(void **state)
{
    (void)state;
    mech_hole hole = right_hole;
    double last = 2.0;
    for (int i = 0; i <= 60; i++) { /* 8 to 14 mm: from under the root to a hole that the thread drops into */
        hole.diameter_m = 8e-3 + i * 0.1e-3;
        const mech_grip grip = mech_insert_grip(&insert, &hole, &flush, &softwood, edge_m);
        assert_true(grip.bite <= last && grip.bite >= 0.0 && grip.bite <= 1.0);
        assert_true(last > 1.5 || last - grip.bite < 0.051); /* continuous */
        last = grip.bite;
    }
    hole.diameter_m = 10.1e-3;
    assert_near(mech_insert_grip(&insert, &hole, &flush, &softwood, edge_m).bite, 0.5, 1e-9);
    hole.diameter_m = 9.1e-3;
    hole.wander_m = 1.0e-3; /* tear-out counts like a bigger bit */
    assert_near(mech_insert_grip(&insert, &hole, &flush, &softwood, edge_m).bite, 0.5, 1e-9);
    hole.diameter_m = 12e-3;
    const mech_grip loose = mech_insert_grip(&insert, &hole, &flush, &softwood, edge_m);
    assert_near(loose.design_n, 0.0, 0.0);
    assert_near(loose.drive_torque_n_m, 0.0, 1e-12);
    assert_near(loose.split_index, 0.0, 1e-12);
}

static void test_depth(void **state)
{
    (void)state;
    mech_hole hole = right_hole;
    assert_near(mech_insert_proud_least(&insert, &hole), 0.0, 0.0);
    hole.depth_m = 27e-3;
    assert_near(mech_insert_proud_least(&insert, &hole), 5e-3, 1e-12);
    const mech_seat proud = {.proud_m = 5e-3};
    assert_near(mech_insert_grip(&insert, &hole, &proud, &softwood, edge_m).penetration_m, 27e-3, 1e-12);
    hole.depth_m = 33e-3;
    const mech_seat sunk = {.proud_m = -2e-3}; /* the tip would be 1 mm below the bottom */
    assert_near(mech_insert_grip(&insert, &hole, &sunk, &softwood, edge_m).penetration_m, 31e-3, 1e-12);
    assert_near(mech_insert_grip(&insert, &right_hole, &sunk, &softwood, edge_m).penetration_m, 32e-3, 1e-12);
    const mech_seat out = {.proud_m = 50e-3};
    assert_near(design_with(&right_hole, &out), 0.0, 0.0);
}

static void test_square_and_stripped(void **state)
{
    (void)state;
    const double full = design_with(&right_hole, &flush);
    mech_seat seat = {.pitch_rad = 5.0 * DEGREE};
    assert_near(design_with(&right_hole, &seat), full * cos(5.0 * DEGREE), 1e-9);
    const mech_grip up = mech_insert_grip(&insert, &right_hole, &seat, &softwood, edge_m);
    assert_near(up.side_n_per_n, sin(5.0 * DEGREE), 1e-12);
    seat = (mech_seat){.yaw_rad = -5.0 * DEGREE};
    assert_near(mech_insert_grip(&insert, &right_hole, &seat, &softwood, edge_m).side_n_per_n, up.side_n_per_n, 1e-12);
    seat = (mech_seat){.stripped = 0.25};
    assert_near(design_with(&right_hole, &seat), 0.75 * full, 1e-9);
    seat.stripped = 1.0;
    assert_near(design_with(&right_hole, &seat), 0.0, 0.0);
}

/* Assumption bands: right bit in softwood well below 1, undersized in dense wood above 1, and the trends. */
static void test_splitting(void **state)
{
    (void)state;
    mech_hole small = right_hole;
    small.diameter_m = 8.0e-3;
    const mech_grip soft = mech_insert_grip(&insert, &right_hole, &flush, &softwood, edge_m);
    assert_true(soft.split_index > 0.3 && soft.split_index < 0.5);
    assert_true(mech_insert_grip(&insert, &right_hole, &flush, &oak, edge_m).split_index < 1.0);
    assert_true(mech_insert_grip(&insert, &small, &flush, &oak, edge_m).split_index > 1.0);
    assert_true(mech_insert_grip(&insert, &small, &flush, &softwood, edge_m).split_index < 1.0);
    double last = (double)INFINITY;
    for (int i = 0; i <= 40; i++) { /* a bigger hole and a farther edge: less splitting */
        mech_hole hole = right_hole;
        hole.diameter_m = 7.5e-3 + i * 0.1e-3;
        const mech_grip grip = mech_insert_grip(&insert, &hole, &flush, &oak, edge_m);
        const mech_grip farther = mech_insert_grip(&insert, &hole, &flush, &oak, 2.0 * edge_m);
        assert_true(grip.split_index <= last && farther.split_index <= grip.split_index);
        last = grip.split_index;
    }
    assert_true(isinf(mech_insert_grip(&insert, &right_hole, &flush, &softwood, 0.0).split_index));
}

static void test_drive_torque(void **state)
{
    (void)state;
    mech_hole small = right_hole;
    small.diameter_m = 8.0e-3;
    const double soft = mech_insert_grip(&insert, &right_hole, &flush, &softwood, edge_m).drive_torque_n_m;
    assert_true(soft > 0.5 && soft < 10.0); /* a hand driver's range */
    assert_true(mech_insert_grip(&insert, &right_hole, &flush, &oak, edge_m).drive_torque_n_m > soft);
    assert_true(mech_insert_grip(&insert, &small, &flush, &softwood, edge_m).drive_torque_n_m > soft);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_withdrawal_table),
        cmocka_unit_test(test_lag_example),
        cmocka_unit_test(test_si_form),
        cmocka_unit_test(test_worked_combination),
        cmocka_unit_test(test_bite),
        cmocka_unit_test(test_depth),
        cmocka_unit_test(test_square_and_stripped),
        cmocka_unit_test(test_splitting),
        cmocka_unit_test(test_drive_torque),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
