/* Rows down a stair: posts upright, rows and rail along the slope. */
#include <string.h>

#include "sample_run.h"
#include "tautrow/mech/checks.h"

static const double SLOPE = 34.0 * TR_PI / 180.0;

static mech_structure stair(void)
{
    mech_structure made = sample_run(2.8, 0.14);
    made.slope_rad = SLOPE;
    made.upper = MECH_FAR;
    return made;
}

/* One row between two clamped posts without a rail: AISC Manual Table 3-23 case 21 for the level part of the pull. */
static void a_cantilever_feels_the_level_part(void **state)
{
    (void)state;
    mech_structure made = sample_plain(3.0);
    made.slope_rad = SLOPE;
    made.upper = MECH_NEAR;
    sample_rows(&made, 1, 0.8, 0.1);
    const mech_run run = sample_build(&made);
    const double side = 3.5 * TR_INCH_M;
    const double level = 0.8 * 0.8 * 0.8 / (3.0 * 1.6e6 * TR_PSI_PA * side * side * side * side / 12.0);
    mech_rows rows = {.is_strung = {true}};
    assert_true(mech_run_pull(&run, &rows, 0, 700.0).converged);
    double out_m[MECH_MAX_ROWS + 1];
    mech_run_deflection(&run, &rows, MECH_NEAR, out_m);
    assert_near(out_m[0], 700.0 * cos(SLOPE) * level, 1e-12);
    /* and the row comes together by the part of it along the slope */
    assert_near(run.flexibility[0][0], cos(SLOPE) * cos(SLOPE) * level, 1e-18);
    mech_loads loads;
    mech_run_loads(&run, &rows, &loads);
    assert_near(loads.base_shear_n[MECH_NEAR], 700.0 * cos(SLOPE), 1e-9);
    assert_near(loads.base_moment_n_m[MECH_NEAR], 700.0 * cos(SLOPE) * 0.8, 1e-9);
    assert_near(loads.axial_n[MECH_NEAR], 700.0 * sin(SLOPE), 1e-9); /* the upper end is pulled down */
    assert_near(loads.axial_n[MECH_FAR], -700.0 * sin(SLOPE), 1e-9); /* the lower end up */
}

/* The distance between the two ends of a row after the posts have moved, by Pythagoras. */
static void closing_is_the_change_of_distance(void **state)
{
    (void)state;
    const mech_structure made = stair();
    const mech_run run = sample_build(&made);
    const mech_rows rows = sample_all_at(&run, 900.0);
    double near_m[MECH_MAX_ROWS + 1];
    double far_m[MECH_MAX_ROWS + 1];
    mech_run_deflection(&run, &rows, MECH_NEAR, near_m);
    mech_run_deflection(&run, &rows, MECH_FAR, far_m);
    for (int row = 0; row < made.row_count; row++) {
        const double level_m = run.length_m * cos(SLOPE) - near_m[row] - far_m[row];
        const double rise_m = run.length_m * sin(SLOPE);
        const double closing_m = run.length_m - sqrt(level_m * level_m + rise_m * rise_m);
        const double found_m = rows.take_up_m[row] - mech_row_take_up(&run, 900.0, 900.0, NULL);
        assert_near(found_m / closing_m, 1.0, 1e-3); /* small deflections */
    }
}

/* The level problem with a rail that holds cos^2 as well, loaded by cos T. */
static void it_is_the_level_run_with_a_softer_rail(void **state)
{
    (void)state;
    const mech_structure made = stair();
    const double square = cos(SLOPE) * cos(SLOPE);
    mech_structure level = made;
    level.slope_rad = 0.0;
    level.rail.ea_n *= square;
    level.rail.joint_n_m[MECH_NEAR] *= square;
    level.rail.joint_n_m[MECH_FAR] *= square;
    const mech_run run = sample_build(&made);
    const mech_run flat = sample_build(&level);
    for (int i = 0; i < made.row_count; i++) {
        for (int j = 0; j < made.row_count; j++) {
            assert_near(run.flexibility[i][j] / (square * flat.flexibility[i][j]), 1.0, 1e-12);
            assert_near(run.flexibility[i][j], run.flexibility[j][i], 0.0); /* Maxwell */
        }
        assert_near(run.rail_share[i], flat.rail_share[i], 1e-12);
    }
}

/* What the bases bear is what rows and rail leave, along the slope. */
static void bases_bear_what_the_rail_leaves(void **state)
{
    (void)state;
    const mech_structure made = stair();
    const mech_run run = sample_build(&made);
    const mech_rows rows = sample_all_at(&run, 900.0);
    mech_loads loads;
    mech_run_loads(&run, &rows, &loads);
    const double left_n = loads.total_n - loads.rail_n;
    assert_true(left_n > 100.0);
    for (int end = 0; end < MECH_ENDS; end++) {
        const double both = hypot(loads.base_shear_n[end], loads.axial_n[end]);
        assert_near(both, left_n, 1e-9 * left_n);
    }
    assert_near(loads.axial_n[MECH_NEAR] + loads.axial_n[MECH_FAR], 0.0, 1e-9);
    assert_true(loads.axial_n[MECH_FAR] > 0.0);
    mech_structure pinned = made; /* a pinned foot bears no moment: the rail takes y/H of each row, slope or not */
    pinned.post[MECH_NEAR].base_n_m_rad = 0.0;
    const mech_run hinged = sample_build(&pinned);
    for (int row = 0; row < made.row_count; row++) {
        assert_near(hinged.rail_share[row], made.row_height_m[row] / made.rail.height_m, 1e-12);
    }
}

/* The sag of a strand that lies on a slope is that of the part of its weight across it: Ernst's tangent modulus takes
 * the level span (EN 1993-1-11:2006 5.4.2: E / (1 + w^2 l^2 E / (12 sigma^3)), l level). */
static void sag_takes_the_level_span(void **state)
{
    (void)state;
    mech_structure made = sample_plain(6.0);
    made.slope_rad = SLOPE;
    made.post[MECH_NEAR].is_rigid = true;
    made.strand.mass_kg_m = 0.0475;
    sample_rows(&made, 1, 0.5, 0.1);
    const mech_run run = sample_build(&made);
    double rise_m_n = 0.0;
    (void)mech_row_take_up(&run, 80.0, 80.0, &rise_m_n);
    const double w = 0.0475 * TR_GRAVITY_M_S2;
    const double l = 6.0 * cos(SLOPE);
    const double ea = made.strand.ea_n;
    const double ernst_ea = ea / (1.0 + w * w * l * l * ea / (12.0 * 80.0 * 80.0 * 80.0));
    assert_near(6.0 / rise_m_n / ernst_ea, 1.0, 1e-12);
}

/* Spacing is measured upright on the post, the gap square to the rows. */
static void a_gap_is_measured_square_to_the_rows(void **state)
{
    (void)state;
    const mech_structure made = stair();
    const mech_run run = sample_build(&made);
    const double spacing_m = 3.0 * TR_INCH_M;
    assert_near(mech_run_gap(&run, 4), spacing_m * cos(SLOPE), 1e-12);
    assert_near(mech_run_gap(&run, 0), made.row_height_m[0] * cos(SLOPE), 1e-12);
    assert_near(mech_run_gap(&run, made.row_count), (made.rail.height_m - made.row_height_m[10]) * cos(SLOPE), 1e-12);
    const mech_rows rows = sample_all_at(&run, 800.0);
    const double ball_m = 4.375 * TR_INCH_M; /* IRC R312.1.3, exception for stairs */
    const mech_opening here = mech_run_opening(&run, &rows, 4, ball_m);
    const mech_opening plain = mech_ball_opening(ball_m, made.strand.diameter_m, spacing_m * cos(SLOPE), made.bay_m[0],
                                                 800.0, 800.0, made.strand.ea_n);
    assert_near(here.push_n, plain.push_n, 1e-6);
    mech_structure level = made;
    level.slope_rad = 0.0;
    const mech_run flat = sample_build(&level);
    assert_true(here.push_n > mech_run_opening(&flat, &rows, 4, ball_m).push_n);
}

static void more_slope_is_less_bending(void **state)
{
    (void)state;
    mech_structure made = stair();
    double before_n_m = 1e9;
    for (int degrees = 0; degrees <= 60; degrees += 10) {
        made.slope_rad = degrees * TR_PI / 180.0;
        const mech_run run = sample_build(&made);
        const mech_rows rows = sample_all_at(&run, 900.0);
        mech_loads loads;
        mech_run_loads(&run, &rows, &loads);
        assert_true(fabs(loads.peak_moment_n_m[MECH_NEAR]) < before_n_m);
        before_n_m = fabs(loads.peak_moment_n_m[MECH_NEAR]);
        assert_true(degrees > 0 || loads.axial_n[MECH_NEAR] == 0.0);
    }
}

static void what_is_no_slope_is_refused(void **state)
{
    (void)state;
    const double wrong[] = {-0.1, 1.2, (double)NAN};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        mech_structure made = stair();
        mech_run run;
        char why[200] = "";
        made.slope_rad = wrong[i];
        assert_int_equal(mech_run_build(&made, &run, why, sizeof why), TR_INVALID);
        assert_non_null(strstr(why, "slope"));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_cantilever_feels_the_level_part),
        cmocka_unit_test(closing_is_the_change_of_distance),
        cmocka_unit_test(it_is_the_level_run_with_a_softer_rail),
        cmocka_unit_test(bases_bear_what_the_rail_leaves),
        cmocka_unit_test(sag_takes_the_level_span),
        cmocka_unit_test(a_gap_is_measured_square_to_the_rows),
        cmocka_unit_test(more_slope_is_less_bending),
        cmocka_unit_test(what_is_no_slope_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
