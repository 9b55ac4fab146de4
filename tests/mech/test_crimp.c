/* The crimp: every slip-up lowers the hold, in the direction a tradesperson expects. All numbers are demo data; there
 * is no published value for hand crimps to compare with, so these are property tests. */
#include "near.h"
#include "tautrow/base/units.h"
#include "tautrow/mech/fittings.h"

#define QUARTER (0.5 * TR_PI)

static const mech_crimp_kind kind = {.efficiency = 0.75,
                                     .bore_m = 36e-3,
                                     .barrel_m = 6.35e-3,
                                     .crimped_m = 5.50e-3,
                                     .die_m = 18e-3,
                                     .best_turn_rad = QUARTER,
                                     .one_squeeze = 0.45,
                                     .no_turn = 0.60,
                                     .gauge_pass_m = 5.60e-3};
static const double breaking_n = 2100.0 * TR_LBF_N; /* 1/8 in 1x19, MIL-DTL-87161 (from memory) */

static mech_crimp good_crimp(void)
{
    return (mech_crimp){
        .seated_m = 36e-3, .squeeze_count = 2, .squeeze = {{9e-3, 0.3, 1.0}, {27e-3, 0.3 + QUARTER, 1.0}}};
}

static mech_crimp_state look(const mech_crimp *crimp)
{
    return mech_crimp_look(&kind, crimp, breaking_n);
}

static void test_good(void **state)
{
    (void)state;
    const mech_crimp crimp = good_crimp();
    const mech_crimp_state s = look(&crimp);
    assert_near(s.seat, 1.0, 0.0);
    assert_near(s.cover, 1.0, 1e-12);
    assert_near(s.form, 1.0, 1e-12);
    assert_near(s.hold_n, 0.75 * breaking_n, 1e-6);
    assert_near(s.gauge_m[0], kind.crimped_m, 1e-12);
    assert_near(s.gauge_m[1], kind.crimped_m, 1e-12);
    assert_true(s.passes_gauge);
}

static void test_untouched(void **state)
{
    (void)state;
    const mech_crimp crimp = {.seated_m = 36e-3};
    const mech_crimp_state s = look(&crimp);
    assert_near(s.hold_n, 0.0, 0.0);
    assert_near(s.gauge_m[0], kind.barrel_m, 1e-12);
    assert_near(s.gauge_m[1], kind.barrel_m, 1e-12);
    assert_false(s.passes_gauge);
}

static void test_one_squeeze(void **state)
{
    (void)state;
    mech_crimp crimp = good_crimp();
    crimp.squeeze_count = 1;
    const mech_crimp_state s = look(&crimp);
    assert_near(s.form, kind.one_squeeze, 1e-12);
    assert_near(s.cover, 0.5, 1e-12);
    assert_near(s.gauge_m[0], kind.crimped_m, 1e-12);
    assert_true(s.gauge_m[1] > kind.barrel_m); /* ears */
    assert_false(s.passes_gauge);
}

/* No turn leaves the ears; form and gauge improve without a break up to 90 degrees, and half a turn is no turn. */
static void test_turn(void **state)
{
    (void)state;
    mech_crimp crimp = good_crimp();
    mech_crimp_state last = {.form = -1.0};
    for (int i = 0; i <= 180; i++) {
        crimp.squeeze[1].angle_rad = 0.3 + TR_PI * i / 360.0;
        const mech_crimp_state s = look(&crimp);
        if (i == 0) {
            assert_near(s.form, kind.no_turn, 1e-12);
            assert_true(s.gauge_m[1] > kind.barrel_m && !s.passes_gauge);
        } else {
            assert_true(s.form > last.form && s.form - last.form < 0.003);
            assert_true(s.gauge_m[1] < last.gauge_m[1] && last.gauge_m[1] - s.gauge_m[1] < 0.02e-3);
        }
        last = s;
    }
    assert_true(last.passes_gauge);
    crimp.squeeze[1].angle_rad = 0.3 + TR_PI;
    assert_near(look(&crimp).form, kind.no_turn, 1e-9);
    crimp.squeeze[1].angle_rad = 0.3 - QUARTER;
    assert_near(look(&crimp).form, 1.0, 1e-9);
    crimp.squeeze[1].angle_rad = 0.3 + QUARTER - 0.2;
    const double under = look(&crimp).form;
    crimp.squeeze[1].angle_rad = 0.3 + QUARTER + 0.2;
    assert_near(look(&crimp).form, under, 1e-9);
}

/* A die with its best turn at 60 degrees: too far is as bad as too little, and 120 degrees is 60 from the other side.
 */
static void test_other_best_turn(void **state)
{
    (void)state;
    mech_crimp_kind hex = kind;
    hex.best_turn_rad = TR_PI / 3.0;
    mech_crimp crimp = good_crimp();
    const double turn[] = {60.0, 120.0, 90.0, 30.0};
    const double form[] = {1.0, 1.0, 0.8, 0.8};
    for (size_t i = 0; i < 4; i++) {
        crimp.squeeze[1].angle_rad = 0.3 + turn[i] * TR_PI / 180.0;
        assert_near(mech_crimp_look(&hex, &crimp, breaking_n).form, form[i], 1e-9);
    }
}

static void test_seat(void **state)
{
    (void)state;
    mech_crimp crimp = good_crimp();
    double last = -1.0;
    double last_hold = -1.0;
    for (int i = 0; i <= 360; i++) {
        crimp.seated_m = 36e-3 * i / 360.0;
        const mech_crimp_state s = look(&crimp);
        assert_true(s.seat >= last && s.hold_n >= last_hold);
        assert_true(last < 0.0 || (s.seat - last < 0.01 && s.hold_n - last_hold < 0.01 * breaking_n));
        if (crimp.seated_m < 0.5 * kind.bore_m) {
            assert_near(s.hold_n, 0.0, 0.0);
        }
        last = s.seat;
        last_hold = s.hold_n;
    }
    assert_near(last, 1.0, 0.0);
}

/* Dies one over the other cover half; side by side all; off the end of the barrel less. */
static void test_cover(void **state)
{
    (void)state;
    mech_crimp crimp = good_crimp();
    double last = 0.0;
    for (int i = 0; i <= 18; i++) {
        crimp.squeeze[1].position_m = (9.0 + i) * 1e-3;
        const double cover = look(&crimp).cover;
        assert_near(cover, 0.5 + i / 36.0, 1e-9);
        assert_true(cover > last);
        last = cover;
    }
    crimp.squeeze[1].position_m = 31.5e-3; /* a quarter of the die beyond the bore */
    assert_near(look(&crimp).cover, 0.875, 1e-9);
    crimp = good_crimp();
    crimp.seated_m = 27e-3; /* the second die is half on an empty barrel */
    assert_near(look(&crimp).cover, 0.75, 1e-9);
}

static void test_closing(void **state)
{
    (void)state;
    for (int which = 0; which < 2; which++) {
        mech_crimp crimp = good_crimp();
        mech_crimp_state last = {.hold_n = -1.0};
        for (int i = 0; i <= 100; i++) {
            crimp.squeeze[which].closing = 0.01 * i;
            const mech_crimp_state s = look(&crimp);
            if (i > 0) {
                assert_true(s.hold_n >= last.hold_n && s.hold_n - last.hold_n < 0.02 * breaking_n);
                assert_true(s.gauge_m[which] < last.gauge_m[which]);
            }
            last = s;
        }
        crimp.squeeze[which].closing = 0.7;
        assert_false(look(&crimp).passes_gauge);
    }
    /* A second squeeze that has not closed at all is no second squeeze. */
    mech_crimp crimp = good_crimp();
    crimp.squeeze[1].closing = 0.0;
    mech_crimp single = good_crimp();
    single.squeeze_count = 1;
    assert_near(look(&crimp).hold_n, look(&single).hold_n, 1e-9);
}

/* Further squeezes mend: a third at the right turn makes up for two in one plane. */
static void test_mending(void **state)
{
    (void)state;
    mech_crimp crimp = good_crimp();
    crimp.squeeze[1].angle_rad = crimp.squeeze[0].angle_rad;
    const mech_crimp_state bad = look(&crimp);
    crimp.squeeze_count = 3;
    crimp.squeeze[2] = (mech_squeeze){27e-3, 0.3 + QUARTER, 1.0};
    const mech_crimp_state mended = look(&crimp);
    assert_true(!bad.passes_gauge && mended.passes_gauge);
    assert_near(mended.form, 1.0, 1e-12);
    assert_true(mended.hold_n > bad.hold_n);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_good),    cmocka_unit_test(test_untouched), cmocka_unit_test(test_one_squeeze),
        cmocka_unit_test(test_turn),    cmocka_unit_test(test_seat),      cmocka_unit_test(test_cover),
        cmocka_unit_test(test_closing), cmocka_unit_test(test_mending),   cmocka_unit_test(test_other_best_turn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
