/* Orders of pulling, the pull sheet and its replay, one pass by the rule of thumb, rounds needed. */
#include "sample_run.h"
#include "tautrow/mech/pullsheet.h"

static const mech_limits NO_LIMITS = {(double)INFINITY, (double)INFINITY};
static const mech_rows IDLE = {.is_strung = {false}};

/* ---- orders ---- */

static void assert_order(mech_order rule, int count, const int expected[])
{
    int order[MECH_MAX_ROWS];
    mech_order_rows(rule, count, order);
    for (int turn = 0; turn < count; turn++) {
        assert_int_equal(order[turn], expected[turn]);
    }
}

/* The rule of the trade: the middle, then above, below, outward (common practice, no source). */
static void orders_are_as_described(void **state)
{
    (void)state;
    assert_order(MECH_MIDDLE_OUT, 5, (const int[]){2, 3, 1, 4, 0});
    assert_order(MECH_MIDDLE_OUT, 4, (const int[]){2, 3, 1, 0});
    assert_order(MECH_MIDDLE_OUT, 1, (const int[]){0});
    assert_order(MECH_TOP_DOWN, 4, (const int[]){3, 2, 1, 0});
    assert_order(MECH_BOTTOM_UP, 4, (const int[]){0, 1, 2, 3});
    assert_order(MECH_OUTSIDE_IN, 5, (const int[]){0, 4, 1, 3, 2});
    assert_order(MECH_OUTSIDE_IN, 4, (const int[]){0, 3, 1, 2});
}

static void orders_name_each_row_once(void **state)
{
    (void)state;
    for (int rule = 0; rule < MECH_ORDER_LIST; rule++) {
        for (int count = 0; count <= MECH_MAX_ROWS; count++) {
            int order[MECH_MAX_ROWS];
            int named[MECH_MAX_ROWS] = {0};
            mech_order_rows((mech_order)rule, count, order);
            for (int turn = 0; turn < count; turn++) {
                assert_in_range(order[turn], 0, count - 1);
                named[order[turn]]++;
            }
            for (int row = 0; row < count; row++) {
                assert_int_equal(named[row], 1);
            }
        }
    }
}

/* ---- the sheet ---- */

/* Overpull schedule of values.md 12 (mechanics, backward recursion): 4 rows on one spring, k/K 0.1. */
static void overpull_schedule(void **state)
{
    (void)state;
    static const double reading[4] = {1.272727, 1.166667, 1.076923, 1.0};
    static const double once[1] = {1.0};
    static mech_sheet sheet;
    mech_structure made = sample_plain(2.0);
    made.post[MECH_NEAR].elastic_pa = 1e20;
    sample_rows(&made, 4, 1.0, 1e-9);
    made.post[MECH_NEAR].base_n_m_rad = made.strand.ea_n / 2.0 / 0.1;
    const mech_run run = sample_build(&made);
    const int order[4] = {0, 1, 2, 3};
    mech_pull_sheet(&run, &IDLE, order, 4, once, 1, 1000.0, NO_LIMITS, &sheet);
    assert_int_equal(sheet.status, MECH_SHEET_OK);
    assert_int_equal(sheet.pull_count, 4);
    for (int turn = 0; turn < 4; turn++) {
        assert_near(sheet.pull[turn].reading_n / 1000.0, reading[turn], 6e-7);
        assert_near(sheet.end.tension_n[turn] / 1000.0, 1.0, 1e-9);
    }
    assert_int_equal(sheet.worst, 0);
    assert_near(sheet.peak_n, sheet.pull[0].reading_n, 0.0);
}

/* Does by hand what the sheet says and looks at what comes of it. */
static void assert_replay_ends_at(const mech_run *run, const mech_rows *start, const mech_sheet *sheet, double target_n)
{
    mech_rows rows = *start;
    double off_centre = 0.0;
    for (int i = 0; i < sheet->pull_count; i++) {
        const mech_pull *pull = &sheet->pull[i];
        assert_true(mech_run_pull(run, &rows, pull->row, pull->reading_n).converged);
        assert_near(rows.take_up_m[pull->row], pull->take_up_m, 1e-8 * (1.0 + fabs(pull->take_up_m)));
        mech_loads loads;
        mech_run_loads(run, &rows, &loads);
        off_centre = fmax(off_centre, loads.off_centre_n_m);
    }
    for (int i = 0; i < sheet->pull_count; i++) {
        assert_near(rows.tension_n[sheet->pull[i].row] / target_n, 1.0, 1e-6);
    }
    assert_near(sheet->off_centre_peak_n_m, off_centre, 1e-5 * (1.0 + off_centre));
}

static void replay_ends_at_target(void **state)
{
    (void)state;
    static const double share[3][3] = {{1.0, 0.0, 0.0}, {0.5, 1.0, 0.0}, {0.5, 0.8, 1.0}};
    static const double lengths[4] = {1.8, 3.6, 6.1, 15.0};
    static mech_sheet sheet;
    for (int i = 0; i < 4; i++) {
        const mech_structure made = sample_run(lengths[i], 0.089);
        const mech_run run = sample_build(&made);
        for (int rule = 0; rule < MECH_ORDER_LIST; rule++) {
            int order[MECH_MAX_ROWS];
            mech_order_rows((mech_order)rule, 11, order);
            for (int rounds = 1; rounds <= 3; rounds++) {
                mech_pull_sheet(&run, &IDLE, order, 11, share[rounds - 1], rounds, 1000.0, NO_LIMITS, &sheet);
                assert_int_equal(sheet.status, MECH_SHEET_OK);
                assert_int_equal(sheet.pull_count, 11 * rounds);
                assert_replay_ends_at(&run, &IDLE, &sheet, 1000.0);
            }
        }
    }
}

/* Random runs that start from random slack rows, some of them left out of the order. */
static void replay_of_random_runs(void **state)
{
    (void)state;
    static const double share[2] = {0.6, 1.0};
    static mech_sheet sheet;
    tr_rng rng = tr_rng_seed(21);
    for (int round = 0; round < 150; round++) {
        const mech_structure made = sample_random(&rng);
        const mech_run run = sample_build(&made);
        mech_rows start = sample_random_rows(&rng, &run, 0.01, 0.0005);
        assert_true(mech_run_solve(&run, &start).converged);
        int order[MECH_MAX_ROWS];
        mech_order_rows((mech_order)(round % MECH_ORDER_LIST), made.row_count, order);
        const int count = made.row_count > 2 ? made.row_count - 2 : made.row_count;
        const double target = sample_spread(&rng, 100.0, 3000.0);
        mech_pull_sheet(&run, &start, order, count, share, 2, target, NO_LIMITS, &sheet);
        assert_int_equal(sheet.status, MECH_SHEET_OK);
        assert_replay_ends_at(&run, &start, &sheet, target);
        for (int turn = count; turn < made.row_count; turn++) {
            assert_near(sheet.end.take_up_m[order[turn]], start.take_up_m[order[turn]], 0.0);
        }
    }
}

/* Whatever the order, the last row's reading is the target and the end is the same but for the bedding-in. */
static void end_does_not_depend_on_order(void **state)
{
    (void)state;
    static const double once[1] = {1.0};
    static mech_sheet sheet[2];
    mech_structure made = sample_run(3.6, 0.089);
    made.strand.bedding_strain = 0.0;
    const mech_run run = sample_build(&made);
    static const mech_order rule[2] = {MECH_MIDDLE_OUT, MECH_TOP_DOWN};
    for (int i = 0; i < 2; i++) {
        int order[MECH_MAX_ROWS];
        mech_order_rows(rule[i], 11, order);
        mech_pull_sheet(&run, &IDLE, order, 11, once, 1, 1000.0, NO_LIMITS, &sheet[i]);
        assert_near(sheet[i].pull[10].reading_n, 1000.0, 1e-5);
    }
    for (int row = 0; row < 11; row++) {
        assert_near(sheet[0].end.take_up_m[row], sheet[1].end.take_up_m[row], 1e-10);
    }
}

/* On ends that do not move every reading is the target. */
static void rigid_ends_need_no_overpull(void **state)
{
    (void)state;
    static const double once[1] = {1.0};
    static mech_sheet sheet;
    mech_structure made = sample_run(3.6, 0.089);
    made.post[MECH_NEAR].is_rigid = made.post[MECH_FAR].is_rigid = true;
    const mech_run run = sample_build(&made);
    int order[MECH_MAX_ROWS];
    mech_order_rows(MECH_MIDDLE_OUT, 11, order);
    mech_pull_sheet(&run, &IDLE, order, 11, once, 1, 1000.0, NO_LIMITS, &sheet);
    for (int turn = 0; turn < 11; turn++) {
        assert_near(sheet.pull[turn].reading_n, 1000.0, 1e-5);
    }
}

/* A limit that is passed is reported, and the whole sheet is there to show where. */
static void limits_are_reported(void **state)
{
    (void)state;
    static const double share[2] = {0.5, 1.0};
    static mech_sheet free_sheet;
    static mech_sheet sheet;
    const mech_structure made = sample_run(1.8, 0.089);
    const mech_run run = sample_build(&made);
    int order[MECH_MAX_ROWS];
    mech_order_rows(MECH_MIDDLE_OUT, 11, order);
    mech_pull_sheet(&run, &IDLE, order, 11, share, 2, 1000.0, NO_LIMITS, &free_sheet);
    assert_int_equal(free_sheet.status, MECH_SHEET_OK);
    assert_true(free_sheet.peak_n > 1100.0);

    mech_pull_sheet(&run, &IDLE, order, 11, share, 2, 1000.0, (mech_limits){1100.0, (double)INFINITY}, &sheet);
    assert_int_equal(sheet.status, MECH_SHEET_OVER_TENSION);
    assert_int_equal(sheet.pull_count, 22);
    assert_near(sheet.pull[sheet.worst].reading_n, sheet.peak_n, 0.0);
    assert_near(sheet.peak_n, free_sheet.peak_n, 0.0);

    mech_pull_sheet(&run, &IDLE, order, 11, share, 2, 1000.0, (mech_limits){1e6, 0.001}, &sheet);
    assert_int_equal(sheet.status, MECH_SHEET_NO_TRAVEL);
    for (int i = 0; i < sheet.pull_count; i++) {
        assert_true(sheet.pull[i].take_up_m <= sheet.pull[sheet.worst].take_up_m);
    }
    mech_pull_sheet(&run, &IDLE, order, 11, share, 2, 1000.0,
                    (mech_limits){free_sheet.peak_n, sheet.pull[sheet.worst].take_up_m}, &sheet);
    assert_int_equal(sheet.status, MECH_SHEET_OK);
}

static void no_sheet_for_nonsense(void **state)
{
    (void)state;
    static const double once[1] = {1.0};
    static const double bad[] = {0.0, -1000.0, (double)NAN, (double)INFINITY};
    static mech_sheet sheet;
    const mech_structure made = sample_run(1.8, 0.089);
    const mech_run run = sample_build(&made);
    static const int order[1] = {5};
    for (int i = 0; i < 4; i++) {
        mech_pull_sheet(&run, &IDLE, order, 1, once, 1, bad[i], NO_LIMITS, &sheet);
        assert_int_equal(sheet.status, MECH_SHEET_DIVERGED);
        mech_pull_once(&run, &IDLE, order, 1, bad[i], &sheet);
        assert_int_equal(sheet.status, MECH_SHEET_DIVERGED);
    }
    mech_pull_sheet(&run, &IDLE, order, 0, once, 1, 1000.0, NO_LIMITS, &sheet);
    assert_int_equal(sheet.status, MECH_SHEET_OK);
    assert_int_equal(sheet.pull_count, 0);
}

/* Strand that beds in for a large part of its stretch still gets a sheet that replays. */
static void heavy_bedding_settles(void **state)
{
    (void)state;
    static const double share[2] = {0.5, 1.0};
    static mech_sheet sheet;
    static const double half_n[3] = {10.0, 1000.0, 20000.0};
    for (int i = 0; i < 3; i++) {
        mech_structure made = sample_run(3.6, 0.089);
        made.strand.bedding_strain = 0.02;
        made.strand.bedding_half_n = half_n[i];
        const mech_run run = sample_build(&made);
        int order[MECH_MAX_ROWS];
        mech_order_rows(MECH_MIDDLE_OUT, 11, order);
        mech_pull_sheet(&run, &IDLE, order, 11, share, 2, 1000.0, NO_LIMITS, &sheet);
        assert_int_equal(sheet.status, MECH_SHEET_OK);
        assert_replay_ends_at(&run, &IDLE, &sheet, 1000.0);
    }
}

/* A run that is too tight already is let out to the target. */
static void rows_can_be_let_out(void **state)
{
    (void)state;
    static const double once[1] = {1.0};
    static mech_sheet sheet;
    const mech_structure made = sample_run(3.6, 0.089);
    const mech_run run = sample_build(&made);
    int order[MECH_MAX_ROWS];
    mech_order_rows(MECH_MIDDLE_OUT, 11, order);
    mech_pull_sheet(&run, &IDLE, order, 11, once, 1, 1500.0, NO_LIMITS, &sheet);
    const mech_rows tight = sheet.end;
    mech_pull_sheet(&run, &tight, order, 11, once, 1, 1000.0, NO_LIMITS, &sheet);
    assert_int_equal(sheet.status, MECH_SHEET_OK);
    assert_replay_ends_at(&run, &tight, &sheet, 1000.0);
    assert_true(sheet.pull[0].reading_n < 1000.0);
}

/* ---- by the rule of thumb ---- */

/* The last row loses nothing, every other one has lost, and pulling once in turn is what mech_run_pull does. */
static void pulled_once_the_last_loses_nothing(void **state)
{
    (void)state;
    static mech_sheet sheet;
    const mech_structure made = sample_run(3.6, 0.089);
    const mech_run run = sample_build(&made);
    int order[MECH_MAX_ROWS];
    mech_order_rows(MECH_MIDDLE_OUT, 11, order);
    mech_pull_once(&run, &IDLE, order, 11, 1000.0, &sheet);
    assert_int_equal(sheet.status, MECH_SHEET_OK);
    mech_rows rows = IDLE;
    for (int turn = 0; turn < 11; turn++) {
        assert_true(mech_run_pull(&run, &rows, order[turn], 1000.0).converged);
        assert_near(sheet.pull[turn].reading_n, 1000.0, 0.0);
        assert_near(sheet.pull[turn].take_up_m, rows.take_up_m[order[turn]], 0.0);
    }
    for (int turn = 0; turn < 11; turn++) {
        const double end = sheet.end.tension_n[order[turn]];
        assert_near(end, rows.tension_n[order[turn]], 0.0);
        assert_true(turn == 10 ? end == 1000.0 : end < 1000.0);
    }
}

/* First-order mean loss (N-1) k/(2K) and the exact, smaller one; values.md 12. */
static void mean_loss_of_bundled_springs(void **state)
{
    (void)state;
    static const struct {
        int count;
        double ratio, loss;
    } table[] = {{4, 0.02, 0.028668}, {4, 0.1, 0.122086}, {10, 0.02, 0.080008}};
    static mech_sheet sheet;
    for (int i = 0; i < 3; i++) {
        mech_structure made = sample_plain(2.0);
        made.post[MECH_NEAR].elastic_pa = 1e20;
        sample_rows(&made, table[i].count, 1.0, 1e-9);
        made.post[MECH_NEAR].base_n_m_rad = made.strand.ea_n / 2.0 / table[i].ratio;
        const mech_run run = sample_build(&made);
        int order[MECH_MAX_ROWS];
        mech_order_rows(MECH_BOTTOM_UP, table[i].count, order);
        mech_pull_once(&run, &IDLE, order, table[i].count, 1000.0, &sheet);
        double sum = 0.0;
        for (int row = 0; row < table[i].count; row++) {
            sum += sheet.end.tension_n[row] / 1000.0;
        }
        assert_near(1.0 - sum / table[i].count, table[i].loss, 6e-7);
    }
}

static double middle_after_one_pass(double length_m, double side_m, double base_n_m_rad)
{
    static mech_sheet sheet;
    mech_structure made = sample_run(length_m, side_m);
    made.post[MECH_NEAR].base_n_m_rad = made.post[MECH_FAR].base_n_m_rad = base_n_m_rad;
    const mech_run run = sample_build(&made);
    int order[MECH_MAX_ROWS];
    mech_order_rows(MECH_MIDDLE_OUT, 11, order);
    mech_pull_once(&run, &IDLE, order, 11, 1000.0, &sheet);
    return sheet.end.tension_n[5] / 1000.0;
}

/* The size of the effect, 11 rows pulled once each, middle first, between a soft base (20 kN m/rad, assumption) and a
 * fixed one. Short runs on slim posts lose nearly all of the middle row, long ones on stout posts little. The bounds
 * are wide as the base is not known better than that. */
static void one_pass_by_length(void **state)
{
    (void)state;
    static const double base[2] = {20e3, (double)INFINITY};
    for (int i = 0; i < 2; i++) {
        const double six_ft = middle_after_one_pass(6.0 * TR_FOOT_M, 3.5 * TR_INCH_M, base[i]);
        const double twelve_ft = middle_after_one_pass(12.0 * TR_FOOT_M, 3.5 * TR_INCH_M, base[i]);
        const double twenty_ft = middle_after_one_pass(20.0 * TR_FOOT_M, 5.5 * TR_INCH_M, base[i]);
        print_message("middle row after one pass: %.3f, %.3f, %.3f\n", six_ft, twelve_ft, twenty_ft);
        assert_true(six_ft < 0.3);
        assert_true(twelve_ft > 0.1 && twelve_ft < 0.6);
        assert_true(twenty_ft > 0.65 && twenty_ft < 0.95);
        assert_true(six_ft < twelve_ft && twelve_ft < twenty_ft);
    }
}

/* Middle first keeps the off-centre load well below that of working from one end (design claim: about a third). */
static void middle_first_keeps_the_load_centred(void **state)
{
    (void)state;
    static const double once[1] = {1.0};
    static mech_sheet sheet[2];
    const mech_structure made = sample_run(3.6, 0.089);
    const mech_run run = sample_build(&made);
    static const mech_order rule[2] = {MECH_MIDDLE_OUT, MECH_BOTTOM_UP};
    for (int i = 0; i < 2; i++) {
        int order[MECH_MAX_ROWS];
        mech_order_rows(rule[i], 11, order);
        mech_pull_sheet(&run, &IDLE, order, 11, once, 1, 1000.0, NO_LIMITS, &sheet[i]);
    }
    const double share = sheet[0].off_centre_peak_n_m / sheet[1].off_centre_peak_n_m;
    print_message("off-centre load, middle first against bottom up: %.3f\n", share);
    assert_true(share > 0.2 && share < 0.5);
}

/* ---- rounds needed ---- */

/* values.md 12, twelve rows, bottom to top, least row after each pass: 123.51, 194.94, 217.26, 223.13, 224.55 of 225.
 */
static void rounds_of_the_twelve_row_example(void **state)
{
    (void)state;
    mech_structure made = sample_plain(72.0 * TR_INCH_M);
    sample_rows(&made, 12, 3.0 * TR_INCH_M, 3.0 * TR_INCH_M);
    sample_prop_top(&made, 39.0 * TR_INCH_M, 0.0);
    const mech_run run = sample_build(&made);
    int order[MECH_MAX_ROWS];
    mech_order_rows(MECH_BOTTOM_UP, 12, order);
    const double target = 225.0 * TR_LBF_N;
    static const struct {
        double tolerance;
        int rounds;
    } table[] = {{0.5, 1}, {0.14, 2}, {0.13, 3}, {0.03, 4}, {0.009, 4}, {0.008, 5}, {0.0021, 5}, {1e-9, 11}};
    for (int i = 0; i < 8; i++) {
        assert_int_equal(mech_rounds_needed(&run, &IDLE, order, 12, target, table[i].tolerance, 10), table[i].rounds);
    }
}

static void no_rounds_needed_when_done(void **state)
{
    (void)state;
    static const double once[1] = {1.0};
    static mech_sheet sheet;
    const mech_structure made = sample_run(3.6, 0.089);
    const mech_run run = sample_build(&made);
    int order[MECH_MAX_ROWS];
    mech_order_rows(MECH_MIDDLE_OUT, 11, order);
    mech_pull_sheet(&run, &IDLE, order, 11, once, 1, 1000.0, NO_LIMITS, &sheet);
    assert_int_equal(mech_rounds_needed(&run, &sheet.end, order, 11, 1000.0, 0.05, 10), 0);
    assert_int_equal(mech_rounds_needed(&run, &IDLE, order, 11, 1000.0, 0.05, 0), 1);
    assert_int_equal(mech_rounds_needed(&run, &IDLE, order, 11, 0.0, 0.05, 3), 4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(orders_are_as_described),
        cmocka_unit_test(orders_name_each_row_once),
        cmocka_unit_test(overpull_schedule),
        cmocka_unit_test(replay_ends_at_target),
        cmocka_unit_test(replay_of_random_runs),
        cmocka_unit_test(end_does_not_depend_on_order),
        cmocka_unit_test(rigid_ends_need_no_overpull),
        cmocka_unit_test(limits_are_reported),
        cmocka_unit_test(no_sheet_for_nonsense),
        cmocka_unit_test(heavy_bedding_settles),
        cmocka_unit_test(rows_can_be_let_out),
        cmocka_unit_test(pulled_once_the_last_loses_nothing),
        cmocka_unit_test(mean_loss_of_bundled_springs),
        cmocka_unit_test(one_pass_by_length),
        cmocka_unit_test(middle_first_keeps_the_load_centred),
        cmocka_unit_test(rounds_of_the_twelve_row_example),
        cmocka_unit_test(no_rounds_needed_when_done),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
