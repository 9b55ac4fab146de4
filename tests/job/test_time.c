/* Days that pass: creep of loads that change, weather, the second visit. */
#include "act.h"

static job_state state;

static void wait_for(const job_setup *setup, double days)
{
    assert_int_equal(act(setup, &state, WAIT_DAYS, days).refusal, JOB_REFUSE_NONE);
}

static double phi(const job_setup *setup, double days)
{
    return mech_creep(setup->creep_k_def, setup->creep_exponent, days);
}

static mech_run run_at(const job_setup *setup, double creep)
{
    mech_structure made = setup->structure;
    mech_run run;
    char why[200];
    made.creep = creep;
    assert_int_equal(mech_run_build(&made, &run, why, sizeof why), TR_OK);
    return run;
}

/* With one load from the start, posts are as soft as EN 1995-1-1 has them at that age, and nothing else changes. */
static void the_first_wait_is_a_softer_run(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(5, 0, 0.0889, 3.0, JOB_STAGE_READ);
    job_start(&setup, &state);
    mech_rows expected = state.rows;
    const mech_run soft = run_at(&setup, phi(&setup, 40.0));
    assert_true(mech_run_solve(&soft, &expected).converged);
    wait_for(&setup, 40.0);
    for (int i = 0; i < 5; i++) {
        assert_near(state.rows.tension_n[i], expected.tension_n[i], 1e-5);
        assert_true(state.rows.tension_n[i] < setup.target_n - 10.0);
    }
    double out_m[MECH_MAX_ROWS + 1];
    double soft_m[MECH_MAX_ROWS + 1];
    mech_run_deflection(&state.run, &state.rows, MECH_NEAR, out_m);
    mech_run_deflection(&soft, &expected, MECH_NEAR, soft_m);
    mech_loads loads;
    mech_loads soft_loads;
    mech_run_loads(&state.run, &state.rows, &loads);
    mech_run_loads(&soft, &expected, &soft_loads);
    for (int level = 0; level <= 5; level++) {
        assert_near(out_m[level], soft_m[level], 1e-9);
    }
    assert_near(loads.rail_n, soft_loads.rail_n, 1e-4);
    assert_near(loads.base_moment_n_m[MECH_NEAR], soft_loads.base_moment_n_m[MECH_NEAR], 1e-4);
}

/* One row on a fixed post without a rail is one equation: X = s T + f T + f sum(phi(age) change of T), the
 * superposition of loads by their ages (Boltzmann). Straight law: no sag worth naming, no bedding-in. */
static void loads_creep_by_their_own_age(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(1, 0, 0.0889, 3.0, JOB_STAGE_READ);
    setup.structure.rail.is_fitted = false;
    setup.structure.strand.mass_kg_m = 1e-9;
    setup.structure.strand.bedding_strain = 0.0;
    for (int end = 0; end < MECH_ENDS; end++) {
        setup.structure.post[end].base_n_m_rad = (double)INFINITY;
    }
    job_start(&setup, &state);
    const double f = state.run.flexibility[0][0];
    double s = 0.0;
    (void)mech_row_take_up(&state.run, 1000.0, 1000.0, &s);
    const double first = (s + f) * 1000.0 / (s + f * (1.0 + phi(&setup, 30.0)));
    wait_for(&setup, 30.0);
    assert_near(state.rows.tension_n[0], first, 1e-4);
    act(&setup, &state, PLIERS, 0, 1);
    act(&setup, &state, TURN_BODY, 0, 0.5);
    const double turn_m = setup.turnbuckle.anchor.pitch_m + setup.turnbuckle.cable.pitch_m;
    const double up = first + 0.5 * turn_m / (s + f); /* the posts answer as when new */
    assert_near(state.rows.tension_n[0], up, 1e-4);
    wait_for(&setup, 20.0);
    const double old = phi(&setup, 50.0) - phi(&setup, 30.0); /* what the first load adds in these days */
    const double young = phi(&setup, 20.0);
    const double second = ((s + f) * up + f * (young - old) * first) / (s + f + f * young);
    assert_near(state.rows.tension_n[0], second, 1e-4);
    assert_true(second < up - 1.0);
}

/* Relaxation within a wait counts from its first day, so that cutting a wait in pieces shifts a little. It must stay
 * little, also where the list of loads is full. */
static void the_way_the_days_are_cut_matters_little(void **unused)
{
    (void)unused;
    const job_setup setup = made_up_crew(5, 0, 0.0889, 3.0, JOB_STAGE_READ);
    double whole[5];
    job_start(&setup, &state);
    wait_for(&setup, 60.0);
    for (int i = 0; i < 5; i++) {
        whole[i] = state.rows.tension_n[i];
    }
    static const int pieces[] = {2, 6, 30};
    for (size_t k = 0; k < sizeof pieces / sizeof pieces[0]; k++) {
        job_start(&setup, &state);
        for (int i = 0; i < pieces[k]; i++) {
            const double before = state.rows.tension_n[2];
            wait_for(&setup, 60.0 / pieces[k]);
            assert_true(state.rows.tension_n[2] < before);
        }
        assert_true(state.load_count <= JOB_MAX_LOADS);
        for (int i = 0; i < 5; i++) {
            assert_near(state.rows.tension_n[i], whole[i], 0.01 * setup.target_n);
        }
    }
}

static void weather_comes_with_the_day_that_is_asked(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(5, 0, 0.0889, 3.0, JOB_STAGE_READ);
    setup.creep_k_def = 0.0;
    setup.after = (job_after){.days = 30.0, .warming_k = 15.0, .coldest_k = 0.0};
    setup.structure.span_thermal_1_k = 4e-6;
    job_start(&setup, &state);
    wait_for(&setup, 10.0);
    assert_near(state.rows.tension_n[2], setup.target_n, 1e-3);
    wait_for(&setup, 20.0);
    assert_near(state.run.made_of.warming_k, 15.0, 0.0);
    const double warm = state.rows.tension_n[2];
    assert_true(warm < setup.target_n - 20.0);
    setup.after.coldest_k = -25.0; /* tighter in the cold, the cable beds in for good */
    job_start(&setup, &state);
    wait_for(&setup, 30.0);
    assert_true(state.rows.peak_n[2] > setup.target_n + 50.0);
    assert_true(state.peak_n[2] > setup.target_n + 50.0);
    assert_true(state.rows.tension_n[2] < warm - 1.0);
}

static void the_expert_comes_back_and_measures_before_turning(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(5, 0, 0.0889, 3.0, JOB_STAGE_READ);
    setup.after = (job_after){.days = 45.0, .warming_k = 3.0, .coldest_k = -10.0};
    job_start(&setup, &state);
    made_up_expert(&setup, &state, 600);
    assert_true(state.is_signed);
    assert_near(state.days, 45.0, 0.0);
    for (int i = 0; i < 5; i++) {
        assert_near(state.rows.tension_n[i], setup.target_n, setup.tolerance * setup.target_n);
        assert_true(state.row[i].measured_at > state.waited_at);
    }
}

static void rows_after_says_what_a_wait_does(void **unused)
{
    (void)unused;
    job_setup setup = made_up_crew(5, 0, 0.0889, 3.0, JOB_STAGE_READ);
    job_start(&setup, &state);
    mech_rows rows = state.rows;
    assert_false(job_rows_after(&setup, &rows));
    setup.after = (job_after){.days = 45.0, .warming_k = 3.0, .coldest_k = -10.0};
    rows = state.rows;
    assert_true(job_rows_after(&setup, &rows));
    wait_for(&setup, 45.0);
    for (int i = 0; i < 5; i++) {
        assert_near(rows.tension_n[i], state.rows.tension_n[i], 1e-4);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_wait_is_a_softer_run),
        cmocka_unit_test(loads_creep_by_their_own_age),
        cmocka_unit_test(the_way_the_days_are_cut_matters_little),
        cmocka_unit_test(weather_comes_with_the_day_that_is_asked),
        cmocka_unit_test(the_expert_comes_back_and_measures_before_turning),
        cmocka_unit_test(rows_after_says_what_a_wait_does),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
