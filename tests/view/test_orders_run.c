/* The steps of the orders screen against the mechanics that they are made from, and what they must teach: one pass is
 * not enough on posts that give, the sheet is, and the order decides how far off centre the load gets. */
#include "near.h"

#include "job_desk.h"
#include "orders.h"

typedef struct fixture {
    scenario what;
    job_state state;
    view__tensioning a, b;
    mech_sheet sheet;
} fixture;

static void ready(fixture *f, const char *name)
{
    job_desk_scenario(&f->what, name);
    job_setup *setup = &f->what.setup;
    setup->fault_count = 0;
    for (int i = 0; i < setup->order_count; i++) {
        setup->start_stage[setup->order[i]] = JOB_STAGE_TENSION;
    }
    job_start(setup, &f->state);
}

static void pull(fixture *f, mech_order order, view__way way, view__tensioning *out)
{
    const job_setup *setup = &f->what.setup;
    view__plan plan = {.way = way,
                       .target_n = setup->target_n,
                       .share = setup->round_share,
                       .rounds = setup->rounds,
                       .row_limit_n = setup->row_limit_n};
    plan.count = view__orders_rows(setup, (int)order, plan.order);
    view__tension(&f->state.run, &f->state.rows, &plan, out);
}

static void expect_end(const view__tensioning *done, const mech_sheet *sheet)
{
    const view__step *last = &done->step[done->pulls];
    assert_int_equal(done->pulls, sheet->pull_count);
    for (int i = 0; i < done->row_count; i++) {
        assert_near(last->tension_n[i], sheet->end.tension_n[i], 1e-6 * (1.0 + sheet->end.tension_n[i]));
    }
    assert_near(last->off_centre_peak_n_m, sheet->off_centre_peak_n_m, 1e-6 * (1.0 + sheet->off_centre_peak_n_m));
}

static const char *const names[] = {"soft-porch", "long-deck"};

static void once_is_what_mech_pulls_once(void **context)
{
    (void)context;
    static fixture f;
    for (int i = 0; i < 2; i++) {
        ready(&f, names[i]);
        pull(&f, MECH_BOTTOM_UP, VIEW__WAY_ONCE, &f.a);
        int order[MECH_MAX_ROWS];
        mech_order_rows(MECH_BOTTOM_UP, f.a.row_count, order);
        mech_pull_once(&f.state.run, &f.state.rows, order, f.a.row_count, f.what.setup.target_n, &f.sheet);
        expect_end(&f.a, &f.sheet);
    }
}

static void two_rounds_are_once_and_once_more(void **context)
{
    (void)context;
    static fixture f;
    ready(&f, "soft-porch");
    const job_setup *setup = &f.what.setup;
    pull(&f, MECH_MIDDLE_OUT, VIEW__WAY_ROUNDS, &f.a);
    mech_pull_once(&f.state.run, &f.state.rows, setup->order, setup->order_count, setup->target_n, &f.sheet);
    const double first_peak = f.sheet.off_centre_peak_n_m;
    const mech_rows between = f.sheet.end;
    mech_pull_once(&f.state.run, &between, setup->order, setup->order_count, setup->target_n, &f.sheet);
    assert_int_equal(f.a.pulls, 2 * setup->order_count);
    f.sheet.pull_count = f.a.pulls;
    f.sheet.off_centre_peak_n_m = fmax(first_peak, f.sheet.off_centre_peak_n_m);
    expect_end(&f.a, &f.sheet);
}

static void the_sheet_ends_equal_in_every_order(void **context)
{
    (void)context;
    static fixture f;
    for (int i = 0; i < 2; i++) {
        ready(&f, names[i]);
        const job_setup *setup = &f.what.setup;
        pull(&f, MECH_MIDDLE_OUT, VIEW__WAY_SHEET, &f.a);
        const mech_limits limits = {setup->row_limit_n, (double)INFINITY};
        mech_pull_sheet(&f.state.run, &f.state.rows, setup->order, setup->order_count, setup->round_share,
                        setup->rounds, setup->target_n, limits, &f.sheet);
        expect_end(&f.a, &f.sheet);
        for (int order = MECH_MIDDLE_OUT; order <= MECH_OUTSIDE_IN; order++) {
            pull(&f, (mech_order)order, VIEW__WAY_SHEET, &f.b);
            for (int row = 0; row < f.b.row_count; row++) {
                assert_near(f.b.step[f.b.pulls].tension_n[row], setup->target_n, 1e-4 * setup->target_n);
            }
            assert_true(view__ends_apart(&f.a, &f.b) < 2e-4 * setup->target_n);
            assert_int_equal(view__end_of(&f.b, setup->target_n, setup->tolerance).in_count, f.b.row_count);
        }
    }
}

static void middle_out_stays_nearer_the_centre_than_bottom_up(void **context)
{
    (void)context;
    static fixture f;
    for (int i = 0; i < 2; i++) {
        for (int way = 0; way < VIEW__WAYS; way++) {
            ready(&f, names[i]);
            pull(&f, MECH_MIDDLE_OUT, (view__way)way, &f.a);
            pull(&f, MECH_BOTTOM_UP, (view__way)way, &f.b);
            assert_true(f.a.step[f.a.pulls].off_centre_peak_n_m < f.b.step[f.b.pulls].off_centre_peak_n_m);
        }
    }
}

static void one_pass_is_not_enough_on_posts_that_give(void **context)
{
    (void)context;
    static fixture f;
    for (int i = 0; i < 2; i++) {
        for (int order = MECH_MIDDLE_OUT; order <= MECH_OUTSIDE_IN; order++) {
            ready(&f, names[i]);
            pull(&f, (mech_order)order, VIEW__WAY_ONCE, &f.a);
            const view__end end = view__end_of(&f.a, f.what.setup.target_n, f.what.setup.tolerance);
            assert_true(end.in_count < f.a.row_count);
            assert_near(end.slackest_n, f.a.step[f.a.pulls].tension_n[end.slackest], 0.0);
        }
    }
}

/* The control: where the posts stand still no row can take anything from another. */
static void one_pass_is_enough_between_walls(void **context)
{
    (void)context;
    static fixture f;
    job_desk_scenario(&f.what, "soft-porch");
    f.what.setup.structure.post[MECH_NEAR].is_rigid = true;
    f.what.setup.structure.post[MECH_FAR].is_rigid = true;
    f.what.setup.fault_count = 0;
    for (int i = 0; i < f.what.setup.order_count; i++) {
        f.what.setup.start_stage[f.what.setup.order[i]] = JOB_STAGE_TENSION;
    }
    job_start(&f.what.setup, &f.state);
    pull(&f, MECH_TOP_DOWN, VIEW__WAY_ONCE, &f.a);
    for (int k = 1; k <= f.a.pulls; k++) {
        assert_int_equal(f.a.step[k].loser, -1);
        assert_near(f.a.step[k].bend_m, 0.0, 0.0);
    }
    assert_int_equal(view__end_of(&f.a, f.what.setup.target_n, f.what.setup.tolerance).in_count, f.a.row_count);
}

static void every_step_adds_up(void **context)
{
    (void)context;
    static fixture f;
    ready(&f, "soft-porch");
    pull(&f, MECH_OUTSIDE_IN, VIEW__WAY_SHEET, &f.a);
    for (int k = 1; k <= f.a.pulls; k++) {
        const view__step *step = &f.a.step[k];
        const view__step *before = step - 1;
        double rail_n = 0.0;
        double most_lost_n = 0.0;
        for (int i = 0; i < f.a.row_count; i++) {
            rail_n += f.state.run.rail_share[i] * step->tension_n[i];
            most_lost_n = fmax(most_lost_n, before->tension_n[i] - step->tension_n[i]);
            assert_true(step->highest_n[i] >= step->tension_n[i]);
            assert_true(step->highest_n[i] >= before->highest_n[i]);
        }
        assert_near(step->tension_n[step->row], step->reading_n, 1e-6 * step->reading_n);
        assert_near(step->rail_n, rail_n, 1e-6 * rail_n);
        assert_true(step->off_centre_peak_n_m >= step->off_centre_n_m);
        if (step->loser >= 0) {
            assert_near(step->lost_n, most_lost_n, 0.0);
        } else {
            assert_true(most_lost_n <= VIEW__LOSS_SEEN_N);
        }
    }
}

/* What the screen says at the end: take-ups made all at once give what the pulls gave one by one, but for the bedding of
 * the strand. */
static void equal_take_ups_give_equal_tensions(void **context)
{
    (void)context;
    static fixture f;
    ready(&f, "soft-porch");
    const job_setup *setup = &f.what.setup;
    const mech_limits limits = {setup->row_limit_n, (double)INFINITY};
    mech_pull_sheet(&f.state.run, &f.state.rows, setup->order, setup->order_count, setup->round_share, setup->rounds,
                    setup->target_n, limits, &f.sheet);
    mech_rows rows = f.sheet.end; /* the peaks, and with them the bedding, included */
    memset(rows.tension_n, 0, sizeof rows.tension_n);
    assert_true(mech_run_solve(&f.state.run, &rows).converged);
    mech_rows fresh = f.state.rows;
    memcpy(fresh.take_up_m, f.sheet.end.take_up_m, sizeof fresh.take_up_m);
    assert_true(mech_run_solve(&f.state.run, &fresh).converged);
    for (int i = 0; i < setup->structure.row_count; i++) {
        assert_near(rows.tension_n[i], setup->target_n, 1e-4 * setup->target_n);
        assert_near(fresh.tension_n[i], setup->target_n, 0.03 * setup->target_n);
    }
}

static void without_rows_nothing_is_pulled(void **context)
{
    (void)context;
    static fixture f;
    ready(&f, "soft-porch");
    f.what.setup.order_count = 0;
    for (int way = 0; way < VIEW__WAY_SHEET; way++) {
        pull(&f, MECH_TOP_DOWN, (view__way)way, &f.a);
        assert_int_equal(f.a.pulls, 0);
        assert_int_equal(f.a.step[0].row, -1);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(once_is_what_mech_pulls_once),
        cmocka_unit_test(two_rounds_are_once_and_once_more),
        cmocka_unit_test(the_sheet_ends_equal_in_every_order),
        cmocka_unit_test(middle_out_stays_nearer_the_centre_than_bottom_up),
        cmocka_unit_test(one_pass_is_not_enough_on_posts_that_give),
        cmocka_unit_test(one_pass_is_enough_between_walls),
        cmocka_unit_test(every_step_adds_up),
        cmocka_unit_test(equal_take_ups_give_equal_tensions),
        cmocka_unit_test(without_rows_nothing_is_pulled),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
