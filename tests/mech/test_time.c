/* Warmth and creep. */
#include "sample_run.h"
#include "tautrow/mech/checks.h"

/* values.md 9: 1/8 in 1x19, EA 782,230 N, +30 K. */
static const double EA_N = 782230.0;

static mech_structure one_row(double length_m)
{
    mech_structure made = sample_plain(length_m);
    made.post[MECH_NEAR].is_rigid = true;
    made.strand.ea_n = EA_N;
    made.strand.thermal_1_k = 16e-6;
    sample_rows(&made, 1, 0.5, 0.1);
    return made;
}

/* Change of tension when a row pulled to tension_n becomes warmer. */
static double change_by_warmth(mech_structure made, double tension_n, double warming_k)
{
    mech_run run = sample_build(&made);
    mech_rows rows = {.is_strung = {true}};
    assert_true(mech_run_pull(&run, &rows, 0, tension_n).converged);
    made.warming_k = warming_k;
    run = sample_build(&made);
    assert_true(mech_run_solve(&run, &rows).converged);
    return rows.tension_n[0] - tension_n;
}

static void warmth_between_ends_that_stand_still(void **state)
{
    (void)state;
    /* Irvine, Cable Structures, ch. 3: -EA alpha dT; values.md 9 prints 375.5 N and, for 17.3e-6, 406.0 N */
    mech_structure made = one_row(3.0);
    assert_near(change_by_warmth(made, 900.0, 30.0), -375.5, 0.05);
    assert_near(change_by_warmth(made, 900.0, 30.0), -EA_N * 16e-6 * 30.0, 1e-6);
    made.strand.thermal_1_k = 17.3e-6;
    assert_near(change_by_warmth(made, 900.0, 30.0), -406.0, 0.05);
    assert_near(change_by_warmth(made, 900.0, -30.0), 406.0, 0.05);
}

static void wood_that_grows_along_takes_part_of_it_back(void **state)
{
    (void)state;
    /* effective alpha = strand - wood: (16 - 4)e-6 gives -281.6 N (values.md 9) */
    mech_structure made = one_row(3.0);
    made.span_thermal_1_k = 4e-6;
    assert_near(change_by_warmth(made, 900.0, 30.0), -281.6, 0.05);
    made.span_thermal_1_k = made.strand.thermal_1_k;
    assert_near(change_by_warmth(made, 900.0, 30.0), 0.0, 1e-9);
}

static void posts_that_give_take_more(void **state)
{
    (void)state;
    /* -EA alpha dT / (1 + k f), k = EA/L, f of both posts at the row (values.md 9) */
    mech_structure made = one_row(3.0);
    made.post[MECH_NEAR].is_rigid = false;
    const mech_run run = sample_build(&made);
    const double k = EA_N / 3.0;
    const double f = run.flexibility[0][0];
    assert_true(k * f > 0.1);
    assert_near(change_by_warmth(made, 900.0, 30.0), -EA_N * 16e-6 * 30.0 / (1.0 + k * f), 1e-6);
}

/* EN 1995-1-1:2004 2.2.3 (w_fin = w_inst (1 + k_def), permanent load), for a cantilever: after 50 years what has crept
 * in is k_def times what there was at once, in every place of the post. */
static void creep_of_a_standing_load_is_k_def_after_fifty_years(void **state)
{
    (void)state;
    const double k_def = 0.8; /* solid timber, service class 2: Table 3.2 */
    mech_structure made = sample_plain(3.0);
    sample_rows(&made, 3, 0.3, 0.3);
    const mech_run fresh = sample_build(&made);
    made.creep = mech_creep(k_def, 0.2, 50.0 * 365.25);
    const mech_run later = sample_build(&made);
    const double pull_n[MECH_ENDS][MECH_MAX_ROWS] = {{500.0, 700.0, 900.0}, {500.0, 700.0, 900.0}};
    mech_rows rows = {.is_strung = {true, true, true}, .tension_n = {500.0, 700.0, 900.0}};
    double at_once_m[MECH_MAX_ROWS + 1];
    double whole_m[MECH_MAX_ROWS + 1];
    mech_run_deflection(&fresh, &rows, MECH_NEAR, at_once_m);
    mech_crept_add(&fresh, &later, pull_n, &rows.crept);
    mech_run_deflection(&fresh, &rows, MECH_NEAR, whole_m);
    for (int level = 0; level <= 3; level++) {
        assert_near(whole_m[level] / at_once_m[level], 1.0 + k_def, 1e-12);
        assert_near(rows.crept.post_m[MECH_FAR][level], 0.0, 0.0);
    }
}

/* A load that comes and goes leaves what its two changes have crept in by their ages. */
static void changes_of_load_add_up(void **state)
{
    (void)state;
    mech_structure made = sample_run(3.0, 0.0889);
    const mech_run fresh = sample_build(&made);
    made.creep = 0.3;
    const mech_run old = sample_build(&made);
    made.creep = 0.2;
    const mech_run young = sample_build(&made);
    const double on_n[MECH_ENDS][MECH_MAX_ROWS] = {{0.0, 800.0}, {0.0, 800.0}};
    const double off_n[MECH_ENDS][MECH_MAX_ROWS] = {{0.0, -800.0}, {0.0, -800.0}};
    mech_crept left = {.rail_n = 0.0};
    mech_crept_add(&fresh, &old, on_n, &left);
    mech_crept_add(&fresh, &young, off_n, &left);
    for (int level = 0; level <= 11; level++) {
        const double expected = 800.0 * (old.shape[MECH_NEAR][level][1] - young.shape[MECH_NEAR][level][1]);
        assert_near(left.post_m[MECH_NEAR][level], expected, 1e-15);
    }
    assert_near(left.rail_n, 800.0 * (old.rail_share[1] - young.rail_share[1]), 1e-9);
}

static void take_up_for_given_tensions_is_what_a_pull_finds(void **state)
{
    (void)state;
    const mech_structure made = sample_run(3.0, 0.0889);
    const mech_run run = sample_build(&made);
    mech_rows rows = {.is_strung = {false}};
    rows.crept.post_m[MECH_NEAR][4] = 0.0007;
    rows.crept.post_m[MECH_FAR][4] = 0.0004;
    assert_true(mech_run_pull(&run, &rows, 2, 600.0).converged);
    assert_true(mech_run_pull(&run, &rows, 4, 800.0).converged);
    const double take_up_m = mech_run_take_up(&run, &rows, 4, rows.tension_n);
    assert_near(rows.take_up_m[4], take_up_m, 1e-12);
    mech_rows fresh = rows;
    fresh.crept = (mech_crept){.rail_n = 0.0};
    assert_near(take_up_m - mech_run_take_up(&run, &fresh, 4, rows.tension_n), 0.0011, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(warmth_between_ends_that_stand_still),
        cmocka_unit_test(wood_that_grows_along_takes_part_of_it_back),
        cmocka_unit_test(posts_that_give_take_more),
        cmocka_unit_test(creep_of_a_standing_load_is_k_def_after_fifty_years),
        cmocka_unit_test(changes_of_load_add_up),
        cmocka_unit_test(take_up_for_given_tensions_is_what_a_pull_finds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
