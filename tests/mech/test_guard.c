/* Guard loads, post utilisation, reference values, creep. */
#include "plain_run.h"
#include "tautrow/mech/checks.h"

#define LBF_IN (TR_LBF_N * TR_INCH_M)

/* On three rows above the deck, no rail: the lower ones carry strips of one spacing. */
static mech_guard guard_on(const mech_run *run, double tension_n, double spacing_m)
{
    const mech_guard_asked asked = {200.0 * TR_LBF_N, 50.0 * TR_LBF_N, 12.0 * TR_INCH_M};
    mech_run even = *run;
    mech_rows rows = {.is_strung = {true, true, true}};
    even.made_of.row_count = 3;
    for (int row = 0; row < 3; row++) {
        even.made_of.row_height_m[row] = spacing_m * (row + 1);
        rows.tension_n[row] = tension_n;
    }
    return mech_run_guard(&even, &rows, &asked);
}

/* ASCE 7-16 4.5.1: 50 lbf on 12 x 12 in. Rows a foot apart: one row takes it all, 42 in bay, 225 lbf: 28.29 mm, 472.1
 * lbf. Rows 3 in apart: four share it. */
static void test_infill(void **state)
{
    (void)state;
    mech_run run;
    mech_structure made = plain_structure(72.0 * TR_INCH_M, 2);
    made.bay_m[0] = 30.0 * TR_INCH_M;
    made.bay_m[1] = 42.0 * TR_INCH_M; /* the longer one counts */
    plain_build(&made, &run);
    const mech_guard one = guard_on(&run, 225.0 * TR_LBF_N, 12.0 * TR_INCH_M);
    assert_near(one.row_push_n / TR_LBF_N, 50.0, 1e-9);
    assert_near(one.row_sag_m * 1e3, 28.29, 0.006);
    assert_near(one.row_tension_n / TR_LBF_N, 472.1, 0.06);
    const mech_guard four = guard_on(&run, 225.0 * TR_LBF_N, 3.0 * TR_INCH_M);
    assert_near(four.row_push_n / TR_LBF_N, 12.5, 1e-9);
    assert_true(four.row_sag_m < one.row_sag_m && four.row_tension_n < one.row_tension_n);
    assert_near(guard_on(&run, 900.0, 0.5).row_push_n / TR_LBF_N, 50.0, 1e-9); /* wider than the square */
}

/* The same square on a finished run: 42 in bay, 225 lbf, rows 3 in apart under a rail: strips of 3 in share it by four.
 * Where the top row carries a strip of 12 in it takes the whole 50 lbf. On a slope of 60 degrees strips are half as high. */
static void test_infill_of_a_run(void **state)
{
    (void)state;
    const mech_guard_asked asked = {200.0 * TR_LBF_N, 50.0 * TR_LBF_N, 12.0 * TR_INCH_M};
    mech_run run;
    mech_structure made = plain_structure(42.0 * TR_INCH_M, 1);
    made.row_count = 3;
    mech_rows rows = {.is_strung = {true, true, true}};
    for (int row = 0; row < 3; row++) {
        made.row_height_m[row] = 3.0 * TR_INCH_M * (row + 1);
        rows.tension_n[row] = 225.0 * TR_LBF_N;
    }
    made.rail = (mech_rail){true, 12.0 * TR_INCH_M, 1e9, {(double)INFINITY, (double)INFINITY}};
    plain_build(&made, &run);
    const mech_guard four = mech_run_guard(&run, &rows, &asked);
    const mech_guard one_of_four = guard_on(&run, 225.0 * TR_LBF_N, 3.0 * TR_INCH_M);
    assert_near(four.row_push_n / TR_LBF_N, 12.5, 1e-9);
    assert_near(four.row_tension_n, one_of_four.row_tension_n, 1e-9);
    assert_near(four.post_moment_n_m / LBF_IN, 200.0 * 12.0, 1e-6);
    made.rail.height_m = 30.0 * TR_INCH_M; /* 3 in below the top row and 21 in above it */
    plain_build(&made, &run);
    const mech_guard alone = mech_run_guard(&run, &rows, &asked);
    assert_near(alone.row_sag_m * 1e3, 28.29, 0.006);
    assert_near(alone.row_tension_n / TR_LBF_N, 472.1, 0.06);
    rows.tension_n[2] = 300.0 * TR_LBF_N; /* the tightest row decides the tension, the slackest the way */
    const mech_guard uneven = mech_run_guard(&run, &rows, &asked);
    assert_true(uneven.row_tension_n > alone.row_tension_n && uneven.row_sag_m < alone.row_sag_m);
    made.rail.height_m = 12.0 * TR_INCH_M;
    made.slope_rad = TR_PI / 3.0;
    plain_build(&made, &run);
    assert_near(mech_run_guard(&run, &rows, &asked).row_push_n / TR_LBF_N, 6.25, 1e-9);
}

/* Rows along the run, push across it: 3, 4, 5. On a corner post the push is added to whichever makes it worse. */
static void test_base_pushed(void **state)
{
    (void)state;
    mech_run run = {.made_of = {.post[MECH_FAR] = {.is_rigid = true}}};
    const mech_guard guard = {.post_moment_n_m = 400.0};
    const mech_post_limits limits = {1e7, (double)INFINITY, 1000.0};
    const mech_loads loads = {.base_moment_n_m = {-300.0, 300.0}, .across_moment_n_m = -500.0};
    assert_near(mech_guard_base_use(&run, &loads, &guard, MECH_NEAR, &limits), 0.5, 1e-12);
    assert_near(mech_guard_base_use(&run, &loads, &guard, MECH_FAR, &limits), 0.0, 0.0); /* rigid */
    run.made_of.corner = (mech_corner){.is_there = true, .end = MECH_NEAR};
    assert_near(mech_guard_base_use(&run, &loads, &guard, MECH_NEAR, &limits), sqrt(0.09 + 0.81), 1e-12);
}

/* A 4x4 (3.5 in square) Douglas fir-larch No. 2 post, fixed at its foot, 200 lbf at 36 in: M 7,200 lbf in, fb 1,007.6
 * psi (AISC Manual Table 3-23 case 22; section from NDS Supplement Table 1B). Fb 900 psi times CF 1.5 (Table 4A). */
static mech_structure cantilever(void)
{
    mech_structure made = plain_structure(1.8, 1);
    made.row_height_m[0] = 36.0 * TR_INCH_M;
    made.post[MECH_NEAR] = (mech_post){.depth_m = 3.5 * TR_INCH_M,
                                       .breadth_m = 3.5 * TR_INCH_M,
                                       .elastic_pa = 1.6e6 * TR_PSI_PA,
                                       .shear_pa = 1.0e5 * TR_PSI_PA,
                                       .base_n_m_rad = (double)INFINITY};
    return made;
}

/* The line post of a bend of 60 degrees without friction: a row of 1000 N pulls it by 2 T sin(a/2) = 1000 N. Without a
 * rail it is a cantilever (AISC Manual Table 3-23 case 22): 7200 lbf in at its foot for 200 lbf at 36 in. Held at its head
 * 39 in up, fixed at its foot: case 14, M = P a b (a + l) / (2 l^2) with a from the head; 250 lbf at 12 in from the
 * propped end: 1358.0 lbf in at the foot, 138.257 lbf * 12 in under the load (shear left out). */
static void test_post_of_a_bend(void **state)
{
    (void)state;
    mech_run run;
    mech_structure made = cantilever();
    const mech_post_limits limits = {1e7, (double)INFINITY, 7200.0 * LBF_IN};
    made.bay_count = 2;
    made.bay_m[1] = made.bay_m[0];
    made.bend_count = 1;
    made.bend[0] = (mech_bend){0, TR_PI / 3.0, 0.0};
    plain_build(&made, &run);
    mech_rows rows = {.is_strung = {true}, .tension_n = {200.0 * TR_LBF_N}, .beyond_n = {{200.0 * TR_LBF_N}}};
    mech_bend_post load = mech_bend_post_load(&run, &rows, 0, &limits);
    assert_near(load.pull_n / TR_LBF_N, 200.0, 1e-9);
    assert_near(load.base_moment_n_m / LBF_IN, 7200.0, 1e-6);
    assert_near(load.base, 1.0, 1e-9);
    assert_near(load.bending * limits.bending_pa / TR_PSI_PA, 1007.6, 0.06);
    rows.beyond_n[0][0] = 100.0 * TR_LBF_N; /* 200, 100 and 60 degrees: a right angle, 100 times the root of 3 */
    assert_near(mech_bend_post_load(&run, &rows, 0, &limits).pull_n / TR_LBF_N, 173.2051, 1e-4);

    rows.tension_n[0] = rows.beyond_n[0][0] = 250.0 * TR_LBF_N;
    made.row_height_m[0] = 27.0 * TR_INCH_M;
    made.rail = (mech_rail){true, 39.0 * TR_INCH_M, 1e9, {(double)INFINITY, (double)INFINITY}};
    made.post[MECH_NEAR].shear_pa = 1e15;
    plain_build(&made, &run);
    load = mech_bend_post_load(&run, &rows, 0, &limits);
    assert_near(load.base_moment_n_m / LBF_IN, 1358.0, 0.06);
    assert_near(load.peak_moment_n_m / LBF_IN, -138.257 * 12.0, 0.01);
    made.post[MECH_NEAR].base_n_m_rad = 0.0; /* pinned: a simple beam, P a b / l (case 8) */
    plain_build(&made, &run);
    load = mech_bend_post_load(&run, &rows, 0, &limits);
    assert_near(load.base_moment_n_m, 0.0, 1e-9);
    assert_near(load.peak_moment_n_m / LBF_IN, -250.0 * 12.0 * 27.0 / 39.0, 1e-6);
    made.post[MECH_NEAR].is_rigid = true;
    plain_build(&made, &run);
    assert_near(mech_bend_post_load(&run, &rows, 0, &limits).bending, 0.0, 0.0);
}

static void test_guard_trends(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(3.0, 2);
    plain_build(&made, &run);
    mech_guard last = {.row_sag_m = (double)INFINITY};
    for (int i = 0; i <= 20; i++) {
        const mech_guard guard = guard_on(&run, 100.0 * i, 3.0 * TR_INCH_M);
        assert_true(guard.row_sag_m < last.row_sag_m);
        assert_true(guard.row_tension_n > last.row_tension_n && guard.row_tension_n > 100.0 * i);
        last = guard;
    }
}

static void test_post_utilisation(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = cantilever();
    plain_build(&made, &run);
    const mech_rows rows = plain_rows(&run, 200.0 * TR_LBF_N);
    mech_loads loads;
    mech_run_loads(&run, &rows, &loads);
    assert_near(loads.base_moment_n_m[MECH_NEAR] / LBF_IN, 7200.0, 0.01);

    const mech_post_limits limit = {.bending_pa = mech_bending_adjusted(900.0 * TR_PSI_PA, 1.5, 1.0, 1.0),
                                    .rail_joint_n = (double)INFINITY,
                                    .base_n_m = 14400.0 * LBF_IN};
    const mech_post_limits limits[MECH_ENDS] = {limit, limit};
    const mech_utilisation use = mech_post_utilisation(&run, &loads, limits);
    assert_near(use.bending[MECH_NEAR] * limit.bending_pa / TR_PSI_PA, 1007.6, 0.06);
    assert_near(use.base[MECH_NEAR], 0.5, 1e-6);
    assert_near(use.bending[MECH_FAR], 0.0, 0.0); /* rigid */
    assert_near(use.rail_joint, 0.0, 0.0);
    assert_near(use.worst, use.bending[MECH_NEAR], 0.0);

    const mech_guard guard = guard_on(&run, 200.0 * TR_LBF_N, 3.0 * TR_INCH_M);
    assert_near(guard.post_moment_n_m / LBF_IN, 7200.0, 1e-6); /* 200 lbf at the top of the same post */
}

static void test_worst_is_the_largest(void **state)
{
    (void)state;
    mech_run run;
    mech_structure made = cantilever();
    made.post[MECH_FAR] = made.post[MECH_NEAR];
    plain_build(&made, &run);
    const mech_loads loads = {.rail_n = 900.0, .base_moment_n_m = {-50.0, 80.0}, .peak_moment_n_m = {60.0, -90.0}};
    mech_post_limits limits[MECH_ENDS] = {{1e7, 3000.0, 200.0}, {1e7, 1000.0, 200.0}};
    mech_utilisation use = mech_post_utilisation(&run, &loads, limits);
    assert_near(use.rail_joint, 0.9, 1e-12); /* the weaker joint */
    assert_near(use.base[MECH_NEAR], 0.25, 1e-12);
    assert_near(use.base[MECH_FAR], 0.40, 1e-12);
    assert_near(use.bending[MECH_FAR] / use.bending[MECH_NEAR], 1.5, 1e-12);
    assert_near(use.worst, 0.9, 1e-12);
    limits[MECH_FAR].base_n_m = 40.0;
    use = mech_post_utilisation(&run, &loads, limits);
    assert_near(use.worst, 2.0, 1e-12);
}

/* NDS 2018 4.3: Douglas fir-larch No. 2 4x4, Fb 900, CF 1.5, CM 0.85 (Fb CF above 1150 psi), CD 0.9 for a standing
 * pull. */
static void test_bending_adjusted(void **state)
{
    (void)state;
    assert_near(mech_bending_adjusted(900.0, 1.5, 1.0, 1.0), 1350.0, 1e-9);
    assert_near(mech_bending_adjusted(900.0, 1.5, 0.85, 0.9), 1032.75, 1e-9);
}

/* EN 1995-1-1:2004 Table 3.2: k_def 0.60, 0.80, 2.00 for service classes 1 to 3, reached after 50 years. */
static void test_creep(void **state)
{
    (void)state;
    static const double k_def[] = {0.60, 0.80, 2.00};
    for (size_t i = 0; i < 3; i++) {
        assert_near(mech_creep(k_def[i], 0.2, 18262.5), k_def[i], 1e-12);
        assert_near(mech_creep(k_def[i], 0.2, 0.0), 0.0, 0.0);
        assert_near(mech_creep(k_def[i], 0.2, -3.0), 0.0, 0.0);
    }
    double last = -1.0;
    for (int day = 0; day < 2000; day += 10) {
        const double creep = mech_creep(0.8, 0.2, day);
        assert_true(creep > last && creep < 0.8);
        last = creep;
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_infill),
        cmocka_unit_test(test_infill_of_a_run),
        cmocka_unit_test(test_base_pushed),
        cmocka_unit_test(test_post_of_a_bend),
        cmocka_unit_test(test_guard_trends),
        cmocka_unit_test(test_post_utilisation),
        cmocka_unit_test(test_worst_is_the_largest),
        cmocka_unit_test(test_bending_adjusted),
        cmocka_unit_test(test_creep),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
