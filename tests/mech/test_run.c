/* Building a run: deflections, rail force and moments against beam tables and against finite elements; refusals. */
#include "elements.h"
#include "sample_run.h"

#include <string.h>

static double inches(double metres)
{
    return metres / TR_INCH_M;
}

/* Gives the rows tensions outright, without a solve. */
static mech_rows pulled(const double tension_lbf[], int count)
{
    mech_rows rows = {.is_strung = {false}};
    for (int row = 0; row < count; row++) {
        rows.is_strung[row] = true;
        rows.tension_n[row] = tension_lbf[row] * TR_LBF_N;
    }
    return rows;
}

static mech_rows pulled_evenly(double tension_lbf, int count)
{
    double tension[MECH_MAX_ROWS];
    for (int row = 0; row < count; row++) {
        tension[row] = tension_lbf;
    }
    return pulled(tension, count);
}

/* AISC Table 3-23 cases 21 and 22; 4x4, 200 lbf at 36 in: 0.15546 in, moment 7,200 lbf in. */
static void cantilever_tip_load(void **state)
{
    (void)state;
    mech_structure made = sample_plain(1.8);
    sample_rows(&made, 1, 36.0 * TR_INCH_M, 0.0);
    const mech_run run = sample_build(&made);
    const mech_rows rows = pulled_evenly(200.0, 1);
    double deflection[MECH_MAX_ROWS + 1];
    mech_run_deflection(&run, &rows, MECH_NEAR, deflection);
    assert_near(inches(deflection[0]), 0.15546, 6e-6);
    assert_near(deflection[1], deflection[0], 0.0);
    mech_loads loads;
    mech_run_loads(&run, &rows, &loads);
    assert_near(loads.base_moment_n_m[MECH_NEAR] / (TR_LBF_N * TR_INCH_M), 7200.0, 1e-6);
    assert_near(loads.peak_height_m[MECH_NEAR], 0.0, 0.0);
    assert_near(loads.base_shear_n[MECH_NEAR] / TR_LBF_N, 200.0, 1e-9);
}

/* AISC Table 3-23 case 21 away from the tip: load at 24 of 36 in: 0.04606 there, 0.08061 in at the tip. */
static void cantilever_load_below_tip(void **state)
{
    (void)state;
    mech_structure made = sample_plain(1.8);
    sample_rows(&made, 2, 24.0 * TR_INCH_M, 12.0 * TR_INCH_M);
    const mech_run run = sample_build(&made);
    assert_near(inches(run.shape[MECH_NEAR][0][0]) * 200.0 * TR_LBF_N, 0.04606, 6e-6);
    assert_near(inches(run.shape[MECH_NEAR][1][0]) * 200.0 * TR_LBF_N, 0.08061, 6e-6);
}

/* Shear at G = E/16, Wood Handbook eq. 9-2: +0.00705 in at the tip; share of bending 0.0387 at 39 in. */
static void cantilever_shear(void **state)
{
    (void)state;
    mech_structure made = sample_plain(1.8);
    sample_rows(&made, 2, 36.0 * TR_INCH_M, 3.0 * TR_INCH_M);
    const mech_run stiff = sample_build(&made);
    made.post[MECH_NEAR].shear_pa = made.post[MECH_NEAR].elastic_pa / 16.0;
    const mech_run run = sample_build(&made);
    const double shear = run.shape[MECH_NEAR][0][0] - stiff.shape[MECH_NEAR][0][0];
    assert_near(inches(shear) * 200.0 * TR_LBF_N, 0.00705, 6e-6);
    assert_near(run.shape[MECH_NEAR][1][1] / stiff.shape[MECH_NEAR][1][1] - 1.0, 0.0387, 6e-5);
}

/* AISC Table 3-23 case 8; 4x4 on 39 in, 250 lbf at 12 in: 0.011211 under the load, 0.012454 in at mid-span. */
static void simple_beam(void **state)
{
    (void)state;
    mech_structure made = sample_plain(1.8);
    sample_rows(&made, 2, 12.0 * TR_INCH_M, 7.5 * TR_INCH_M);
    sample_prop_top(&made, 39.0 * TR_INCH_M, 0.0);
    const mech_run run = sample_build(&made);
    const double load = 250.0 * TR_LBF_N;
    assert_near(inches(run.shape[MECH_NEAR][0][0]) * load, 0.011211, 6e-7);
    assert_near(inches(run.shape[MECH_NEAR][1][0]) * load, 0.012454, 6e-7);
    assert_near(run.rail_share[0], 12.0 / 39.0, 1e-12);
    const double tension[2] = {250.0, 0.0};
    const mech_rows rows = pulled(tension, 2);
    mech_loads loads;
    mech_run_loads(&run, &rows, &loads);
    assert_near(loads.peak_moment_n_m[MECH_NEAR] / (TR_LBF_N * TR_INCH_M), -250.0 * 12.0 * 27.0 / 39.0, 1e-6);
    assert_near(inches(loads.peak_height_m[MECH_NEAR]), 12.0, 1e-9);
    assert_near(loads.base_moment_n_m[MECH_NEAR], 0.0, 1e-9);
}

/* AISC Table 3-23 cases 13 and 14; 4x4 propped 39 in, 250 lbf at 12, 19.5, 30 in from the pin (here: the rail). */
static void propped_cantilever(void **state)
{
    (void)state;
    static const struct {
        double from_pin, rail_lbf, fixed_lbf_in, under_load;
    } table[] = {{12.0, 138.257, 1358.0, 0.006418}, {19.5, 78.125, 1828.1, 0.006756}, {30.0, 18.434, 1531.1, 0.001693}};
    for (int i = 0; i < 3; i++) {
        mech_structure made = sample_plain(1.8);
        sample_rows(&made, 1, (39.0 - table[i].from_pin) * TR_INCH_M, 0.0);
        sample_prop_top(&made, 39.0 * TR_INCH_M, (double)INFINITY);
        const mech_run run = sample_build(&made);
        const mech_rows rows = pulled_evenly(250.0, 1);
        mech_loads loads;
        mech_run_loads(&run, &rows, &loads);
        assert_near(loads.rail_n / TR_LBF_N, table[i].rail_lbf, 6e-4);
        assert_near(loads.base_moment_n_m[MECH_NEAR] / (TR_LBF_N * TR_INCH_M), table[i].fixed_lbf_in, 0.06);
        assert_near(inches(run.shape[MECH_NEAR][0][0]) * 250.0 * TR_LBF_N, table[i].under_load, 6e-7);
        assert_near(run.shape[MECH_NEAR][1][0], 0.0, 1e-18);
    }
}

/* Twelve rows 3 to 36 in up, and between the sixth and the seventh an idle one at mid-height. */
static void put_twelve_and_middle(mech_structure *made)
{
    sample_rows(made, 13, 3.0 * TR_INCH_M, 3.0 * TR_INCH_M);
    made->row_height_m[6] = 19.5 * TR_INCH_M;
    for (int row = 7; row < 13; row++) {
        made->row_height_m[row] = 3.0 * row * TR_INCH_M;
    }
}

/* AISC Table 3-23 case 8 added up: 12 rows of 225 lbf, 3 to 36 in, on a 39 in post: simple, 0.11238 in at mid-height
 * and 14,175 lbf in (negative: it bends the other way than at a fixed base); cantilever, 0.97494 in at 39 in and 52,650
 * lbf in. A rail whose joint does not hold carries nothing, yet the deflection at its height is shown. */
static void twelve_rows_simple_and_free(void **state)
{
    (void)state;
    static const double tension[13] = {225.0, 225.0, 225.0, 225.0, 225.0, 225.0, 0.0,
                                       225.0, 225.0, 225.0, 225.0, 225.0, 225.0};
    const mech_rows rows = pulled(tension, 13);
    double deflection[MECH_MAX_ROWS + 1];
    mech_structure made = sample_plain(1.8);
    put_twelve_and_middle(&made);
    sample_prop_top(&made, 39.0 * TR_INCH_M, 0.0);
    mech_run run = sample_build(&made);
    mech_loads loads;
    mech_run_loads(&run, &rows, &loads);
    mech_run_deflection(&run, &rows, MECH_NEAR, deflection);
    assert_near(loads.peak_moment_n_m[MECH_NEAR] / (TR_LBF_N * TR_INCH_M), -14175.0, 1e-6);
    assert_near(inches(deflection[6]), 0.11238, 6e-6);

    sample_prop_top(&made, 39.0 * TR_INCH_M, (double)INFINITY);
    made.rail.joint_n_m[MECH_FAR] = 0.0;
    run = sample_build(&made);
    mech_run_loads(&run, &rows, &loads);
    mech_run_deflection(&run, &rows, MECH_NEAR, deflection);
    assert_near(loads.rail_n, 0.0, 0.0);
    assert_near(inches(deflection[13]), 0.97494, 6e-6);
    assert_near(loads.base_moment_n_m[MECH_NEAR] / (TR_LBF_N * TR_INCH_M), 52650.0, 1e-6);
}

/* Mid-span deflection of the joist below under an even load that rows share out. */
static double joist_deflection_mm(int rows)
{
    const double span = 4.5;
    mech_structure made = sample_plain(1.8);
    made.post[MECH_NEAR] =
        (mech_post){.depth_m = 0.2, .breadth_m = 0.075, .elastic_pa = 11e9, .shear_pa = 0.69e9, .base_n_m_rad = 0.0};
    sample_rows(&made, rows, 0.5 * span / rows, span / rows);
    sample_prop_top(&made, span, 0.0);
    const mech_run run = sample_build(&made);
    double sum = 0.0;
    for (int row = 0; row < rows; row++) {
        sum += run.shape[MECH_NEAR][rows / 2][row] * 750.0 * span / rows;
    }
    return sum * 1e3;
}

/* EN 338 C24 joist: 7.2809 bending + 0.2201 shear = 7.501 mm (Benoit, Legrand, Tastet, Calcul de structures en bois,
 * Example 2.3.1). Point loads instead of an even load err by the square of their spacing: two spacings cancel it. */
static void joist_with_shear(void **state)
{
    (void)state;
    assert_near((9.0 * joist_deflection_mm(39) - joist_deflection_mm(13)) / 8.0, 7.501048, 2e-5);
}

/* Maxwell's law and agreement with finite elements over many random structures. */
static void agrees_with_elements(void **state)
{
    (void)state;
    static elements e;
    tr_rng rng = tr_rng_seed(20240501);
    for (int round = 0; round < 60; round++) {
        const mech_structure made = sample_random(&rng);
        const mech_run run = sample_build(&made);
        const int row = (int)(tr_rng_uniform(&rng) * made.row_count);
        elements_assemble(&e, &made);
        elements_solve(&e, &made, row);
        double scale = 1e-15;
        for (int end = 0; end < MECH_ENDS; end++) {
            for (int level = 0; level < e.levels; level++) {
                scale = fmax(scale, fabs(elements_deflection(&e, end, level)));
            }
        }
        for (int end = 0; end < MECH_ENDS; end++) {
            for (int level = 1; level < e.levels; level++) {
                assert_near(run.shape[end][level - 1][row], elements_deflection(&e, end, level), 1e-8 * scale);
            }
            assert_near(run.shape[end][made.row_count][row], elements_deflection(&e, end, e.levels - 1), 1e-8 * scale);
        }
        const double closing = elements_deflection(&e, 0, e.levels - 1) + elements_deflection(&e, 1, e.levels - 1);
        assert_near(run.rail_share[row], elements_rail(&made) * closing, 1e-8 + 1e-8 * elements_rail(&made) * scale);
    }
}

/* Base moments from statics against the rotation of the base springs, which the elements know by themselves. */
static void base_moment_agrees_with_elements(void **state)
{
    (void)state;
    static elements e;
    mech_structure made = sample_run(3.6, 0.09);
    made.post[MECH_FAR].depth_m = 0.14;
    made.post[MECH_FAR].base_n_m_rad = 15e3;
    const mech_run run = sample_build(&made);
    elements_assemble(&e, &made);
    elements_solve(&e, &made, 6);
    double tension[11] = {0.0};
    tension[6] = 1.0 / TR_LBF_N;
    const mech_rows rows = pulled(tension, 11);
    mech_loads loads;
    mech_run_loads(&run, &rows, &loads);
    for (int end = 0; end < MECH_ENDS; end++) {
        const double turn = e.answer[elements_at(&e, end, 0, 1)];
        assert_near(loads.base_moment_n_m[end], made.post[end].base_n_m_rad * turn, 1e-9);
    }
}

static void flexibility_is_symmetric(void **state)
{
    (void)state;
    tr_rng rng = tr_rng_seed(7);
    for (int round = 0; round < 200; round++) {
        const mech_structure made = sample_random(&rng);
        const mech_run run = sample_build(&made);
        for (int i = 0; i < made.row_count; i++) {
            for (int j = 0; j < i; j++) {
                const double here = run.shape[MECH_NEAR][i][j] + run.shape[MECH_FAR][i][j];
                const double there = run.shape[MECH_NEAR][j][i] + run.shape[MECH_FAR][j][i];
                assert_near(here, there, 1e-11 * (run.flexibility[i][i] + run.flexibility[j][j]));
                assert_near(run.flexibility[i][j], here, 1e-11 * (run.flexibility[i][i] + run.flexibility[j][j]));
            }
        }
    }
}

/* Whatever is made stiffer, no row closes more under its own pull. */
static void stiffer_closes_less(void **state)
{
    (void)state;
    const mech_structure soft = sample_run(3.6, 0.09);
    mech_structure stiffer[5];
    for (int i = 0; i < 5; i++) {
        stiffer[i] = soft;
    }
    stiffer[0].post[MECH_NEAR].depth_m *= 1.2;
    stiffer[1].post[MECH_FAR].base_n_m_rad *= 2.0;
    stiffer[2].rail.joint_n_m[MECH_NEAR] *= 2.0;
    stiffer[3].post[MECH_FAR].is_rigid = true;
    stiffer[4].post[MECH_NEAR].shear_pa *= 2.0;
    const mech_run run = sample_build(&soft);
    for (int i = 0; i < 5; i++) {
        const mech_run better = sample_build(&stiffer[i]);
        for (int row = 0; row < 11; row++) {
            assert_true(better.flexibility[row][row] < run.flexibility[row][row]);
        }
    }
}

/* Creep makes the wood of the posts softer, not the base or the rail: on a fixed post without a rail it is a factor. */
static void creep_is_a_factor_on_wood(void **state)
{
    (void)state;
    mech_structure made = sample_plain(1.8);
    sample_rows(&made, 3, 0.3, 0.3);
    const mech_run fresh = sample_build(&made);
    made.creep = 0.6;
    const mech_run old = sample_build(&made);
    assert_near(old.flexibility[1][2] / fresh.flexibility[1][2], 1.6, 1e-12);
    made.post[MECH_NEAR].base_n_m_rad = 1e4;
    const mech_run hinged = sample_build(&made);
    assert_near(hinged.flexibility[1][2] - old.flexibility[1][2], 0.6 * 0.9 / 1e4, 1e-15);
}

/* A very soft base tends to a pinned one, a very stiff one to a fixed one, without loss of figures. */
static void base_limits(void **state)
{
    (void)state;
    static const double limit[2] = {0.0, (double)INFINITY};
    static const double nearly[2] = {1e-9, 1e18};
    for (int i = 0; i < 2; i++) {
        mech_structure made = sample_run(3.6, 0.09);
        made.post[MECH_NEAR].base_n_m_rad = limit[i];
        const mech_run exact = sample_build(&made);
        made.post[MECH_NEAR].base_n_m_rad = nearly[i];
        const mech_run close = sample_build(&made);
        for (int row = 0; row < 11; row++) {
            assert_near(close.flexibility[row][5] / exact.flexibility[row][5], 1.0, 1e-12);
        }
    }
}

static void rigid_ends_do_not_move(void **state)
{
    (void)state;
    mech_structure made = sample_run(3.6, 0.09);
    made.post[MECH_NEAR].is_rigid = made.post[MECH_FAR].is_rigid = true;
    const mech_run run = sample_build(&made);
    for (int row = 0; row < 11; row++) {
        assert_near(run.flexibility[row][5], 0.0, 0.0);
        assert_near(run.rail_share[row], 0.0, 0.0);
    }
}

static void assert_refused(const mech_structure *made, const char *named)
{
    static mech_run run;
    char why[200] = "";
    assert_int_equal(mech_run_build(made, &run, why, sizeof why), TR_INVALID);
    if (strstr(why, named) == NULL) {
        fail_msg("\"%s\" does not name \"%s\"", why, named);
    }
    assert_int_equal(mech_run_build(made, &run, NULL, 0), TR_INVALID);
}

static void what_falls_over_is_refused(void **state)
{
    (void)state;
    mech_structure made = sample_run(3.6, 0.09);
    made.post[MECH_FAR].base_n_m_rad = 0.0;
    sample_build(&made); /* held up by the rail and the near post */
    made.rail.is_fitted = false;
    assert_refused(&made, "far post is pinned");
    made.rail.is_fitted = true;
    made.rail.joint_n_m[MECH_NEAR] = 0.0;
    assert_refused(&made, "no rail holds");
    made = sample_run(3.6, 0.09);
    made.post[MECH_NEAR].base_n_m_rad = made.post[MECH_FAR].base_n_m_rad = 0.0;
    assert_refused(&made, "sway");
    made.post[MECH_FAR].is_rigid = true;
    sample_build(&made);
}

static void bad_values_are_refused(void **state)
{
    (void)state;
    const mech_structure good = sample_run(3.6, 0.09);
    static const double bad[] = {-1.0, (double)NAN};
    for (int i = 0; i < 2; i++) {
        mech_structure made[18];
        for (int j = 0; j < 18; j++) {
            made[j] = good;
        }
        made[0].post[MECH_NEAR].depth_m = bad[i];
        made[1].post[MECH_FAR].breadth_m = bad[i];
        made[2].post[MECH_NEAR].elastic_pa = bad[i];
        made[3].post[MECH_NEAR].shear_pa = bad[i];
        made[4].post[MECH_FAR].base_n_m_rad = bad[i];
        made[5].rail.ea_n = bad[i];
        made[6].rail.height_m = bad[i];
        made[7].rail.joint_n_m[MECH_FAR] = bad[i];
        made[8].strand.ea_n = bad[i];
        made[9].strand.mass_kg_m = bad[i];
        made[10].strand.bedding_strain = bad[i];
        made[11].strand.bedding_half_n = bad[i];
        made[12].strand.torsion_n_m2 = bad[i];
        made[13].row_height_m[4] = bad[i];
        made[14].insert_n_m = bad[i];
        made[15].bay_m[1] = bad[i];
        made[16].creep = bad[i];
        made[17].warming_k = (double)NAN;
        static const char *const named[18] = {"near post", "far post", "near post", "near post", "far post", "rail",
                                              "rail",      "far post", "strand",    "strand",    "strand",   "strand",
                                              "strand",    "row 5",    "inserts",   "bay 2",     "creep",    "warming"};
        for (int j = 0; j < 18; j++) {
            assert_refused(&made[j], named[j]);
        }
    }
}

static void bad_rows_are_refused(void **state)
{
    (void)state;
    mech_structure made = sample_run(3.6, 0.09);
    made.row_height_m[4] = made.row_height_m[3];
    assert_refused(&made, "row 5 must be above row 4");
    made = sample_run(3.6, 0.09);
    made.row_height_m[0] = 0.0;
    assert_refused(&made, "row 1 must be above the base");
    made = sample_run(3.6, 0.09);
    made.rail.height_m = made.row_height_m[10];
    assert_refused(&made, "below the rail");
    made.row_count = MECH_MAX_ROWS + 1;
    assert_refused(&made, "1 to 40 rows");
    made.row_count = 0;
    assert_refused(&made, "1 to 40 rows");
    made = sample_run(3.6, 0.09);
    made.bay_count = MECH_MAX_BAYS + 1;
    assert_refused(&made, "1 to 24 bays");
}

/* A message that is too long for its place is cut, not written past it. */
static void refusal_keeps_to_its_room(void **state)
{
    (void)state;
    static mech_run run;
    mech_structure made = sample_run(3.6, 0.09);
    made.row_count = 0;
    char why[12] = "0123456789#";
    assert_int_equal(mech_run_build(&made, &run, why, 10), TR_INVALID);
    assert_string_equal(why, "a run has");
    assert_int_equal(why[10], '#');
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cantilever_tip_load),
        cmocka_unit_test(cantilever_load_below_tip),
        cmocka_unit_test(cantilever_shear),
        cmocka_unit_test(simple_beam),
        cmocka_unit_test(propped_cantilever),
        cmocka_unit_test(twelve_rows_simple_and_free),
        cmocka_unit_test(joist_with_shear),
        cmocka_unit_test(agrees_with_elements),
        cmocka_unit_test(base_moment_agrees_with_elements),
        cmocka_unit_test(flexibility_is_symmetric),
        cmocka_unit_test(stiffer_closes_less),
        cmocka_unit_test(creep_is_a_factor_on_wood),
        cmocka_unit_test(base_limits),
        cmocka_unit_test(rigid_ends_do_not_move),
        cmocka_unit_test(what_falls_over_is_refused),
        cmocka_unit_test(bad_values_are_refused),
        cmocka_unit_test(bad_rows_are_refused),
        cmocka_unit_test(refusal_keeps_to_its_room),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
