/* A corner post that carries a second run, square to ours. */
#include <string.h>

#include "sample_run.h"
#include "tautrow/mech/checks.h"

static mech_loads loads_of(const mech_run *run, const mech_rows *rows)
{
    mech_loads loads;
    mech_run_loads(run, rows, &loads);
    return loads;
}

static const mech_post_limits LIMITS[MECH_ENDS] = {{1e7, 1e4, 1e3}, {1e7, 1e4, 1e3}};

/* Two cantilevers in one post: moments T y each way (AISC Manual Table 3-23 case 21), stresses 6 M / (b d^2) added up
 * (NDS 2018 3.9.2 without axial force, from memory), the base's moments as arrows. */
static void a_post_bent_both_ways_by_hand(void **state)
{
    (void)state;
    mech_structure made = sample_plain(3.0);
    made.post[MECH_NEAR].breadth_m = 5.5 * TR_INCH_M;
    sample_rows(&made, 1, 0.6, 0.1);
    made.corner = (mech_corner){true, MECH_NEAR, 500.0, 0.05, 2.5};
    const mech_run run = sample_build(&made);
    const mech_rows rows = sample_all_at(&run, 800.0);
    const mech_loads loads = loads_of(&run, &rows);
    const double d = 3.5 * TR_INCH_M;
    const double b = 5.5 * TR_INCH_M;
    const double along = 800.0 * 0.6;
    const double across = 500.0 * 0.65;
    assert_near(loads.across_shear_n, 500.0, 1e-9);
    assert_near(loads.across_moment_n_m, across, 1e-9);
    assert_near(loads.corner_pa, 6.0 * along / (b * d * d) + 6.0 * across / (d * b * b), 1e-3);
    const mech_utilisation use = mech_post_utilisation(&run, &loads, LIMITS);
    assert_near(use.bending[MECH_NEAR], loads.corner_pa / 1e7, 1e-12);
    assert_near(use.base[MECH_NEAR], hypot(along, across) / 1e3, 1e-12);
    /* the top of a cantilever of the second run's row at 0.65 m: case 22 */
    const double stiff = 1.6e6 * TR_PSI_PA * d * b * b * b / 12.0;
    assert_near(run.corner_out_m, 500.0 * 0.65 * 0.65 * 0.65 / (3.0 * stiff), 1e-9);
}

/* A second run like ours doubles the bending of a square post and changes no tension of ours. */
static void the_same_run_twice_is_twice_the_bending(void **state)
{
    (void)state;
    mech_structure made = sample_run(3.0, 0.14);
    const mech_run alone = sample_build(&made);
    made.corner = (mech_corner){true, MECH_FAR, 900.0, 0.0, 3.0};
    const mech_run both = sample_build(&made);
    const mech_rows before = sample_all_at(&alone, 900.0);
    const mech_rows rows = sample_all_at(&both, 900.0);
    const mech_loads one = loads_of(&alone, &before);
    const mech_loads two = loads_of(&both, &rows);
    for (int row = 0; row < made.row_count; row++) {
        assert_near(rows.take_up_m[row], before.take_up_m[row], 0.0);
        assert_near(rows.tension_n[row], before.tension_n[row], 0.0);
    }
    assert_near(both.corner_rail_n, one.rail_n, 1e-6);
    assert_near(two.across_moment_n_m, one.base_moment_n_m[MECH_FAR], 1e-6);
    const mech_utilisation single = mech_post_utilisation(&alone, &one, LIMITS);
    const mech_utilisation use = mech_post_utilisation(&both, &two, LIMITS);
    assert_near(use.bending[MECH_FAR], 2.0 * single.bending[MECH_FAR], 1e-9);
    assert_near(use.bending[MECH_NEAR], single.bending[MECH_NEAR], 1e-12);
    assert_near(use.base[MECH_FAR], sqrt(2.0) * single.base[MECH_FAR], 1e-9);
}

static void more_of_the_second_run_is_more_of_everything(void **state)
{
    (void)state;
    mech_structure made = sample_run(3.0, 0.14);
    double before = 0.0;
    for (int k = 0; k <= 4; k++) {
        made.corner = (mech_corner){true, MECH_NEAR, 300.0 * k, 0.02, 2.0};
        const mech_run run = sample_build(&made);
        const mech_rows rows = sample_all_at(&run, 900.0);
        const mech_loads loads = loads_of(&run, &rows);
        assert_true(loads.corner_pa > before);
        before = loads.corner_pa;
    }
}

static void a_corner_that_makes_no_sense_is_refused(void **state)
{
    (void)state;
    const mech_corner wrong[] = {{true, MECH_NEAR, -5.0, 0.0, 3.0},
                                 {true, MECH_NEAR, 500.0, 0.0, 0.0},
                                 {true, MECH_NEAR, 500.0, (double)NAN, 3.0},
                                 {true, MECH_NEAR, 500.0, -0.2, 3.0}, /* its lowest row in the ground */
                                 {true, MECH_NEAR, 500.0, 0.5, 3.0}}; /* its top row above the rail */
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        mech_structure made = sample_run(3.0, 0.14);
        mech_run run;
        char why[200] = "";
        made.corner = wrong[i];
        assert_int_equal(mech_run_build(&made, &run, why, sizeof why), TR_INVALID);
        assert_true(strlen(why) > 10);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_post_bent_both_ways_by_hand),
        cmocka_unit_test(the_same_run_twice_is_twice_the_bending),
        cmocka_unit_test(more_of_the_second_run_is_more_of_everything),
        cmocka_unit_test(a_corner_that_makes_no_sense_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
