/* Row law and solver: published row examples, closed forms, uniqueness, trends, limits. */
#include "row.h"
#include "sample_run.h"

static double lbf(double newtons)
{
    return newtons / TR_LBF_N;
}

/* ---- the law of a row ---- */

/* Parabola sag H = w L^2/(8 f): Hibbeler, Statics, ch. 7. A row whose ends come together by d beyond its unstressed
 * length hangs by f with (8/3) f^2/L = d (first term of the series in Irvine, Cable Structures), so H = w L sqrt(L/(24
 * d)). EA without bound, so that only sag is left. */
static void slack_row_is_a_parabola(void **state)
{
    (void)state;
    mech_structure made = sample_plain(2.0);
    sample_rows(&made, 1, 0.5, 0.0);
    made.post[MECH_NEAR].is_rigid = true;
    made.strand.ea_n = 1e15;
    made.strand.mass_kg_m = 0.0475;
    const mech_run run = sample_build(&made);
    mech_rows rows = {.is_strung = {true}, .take_up_m = {-0.05}};
    assert_true(mech_run_solve(&run, &rows).converged);
    const double weight = 0.0475 * 9.80665;
    const double sag = sqrt(3.0 / 8.0 * 0.05 * 2.0);
    assert_near(rows.tension_n[0], weight * 4.0 / (8.0 * sag), 1e-9);
}

/* Horizontal force of the catenary of length L - take_up over span L, a cosh-type closed form (Irvine 1981, ch. 1). */
static double catenary_tension(double span, double length, double weight)
{
    double low = 1e-3 * weight * span;
    double high = 1e4 * weight * span;
    for (int i = 0; i < 200; i++) {
        const double middle = 0.5 * (low + high);
        const double a = middle / weight;
        if (2.0 * a * sinh(span / (2.0 * a)) > length) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return 0.5 * (low + high);
}

/* The parabola is the shallow limit of the catenary: off by about n^2 at a sag ratio n, so a tenth of the slack cuts
 * the difference to a tenth. values.md 7.1: S of parabola and catenary. */
static void parabola_tends_to_catenary(void **state)
{
    (void)state;
    mech_structure made = sample_plain(2.0);
    sample_rows(&made, 1, 0.5, 0.0);
    made.post[MECH_NEAR].is_rigid = true;
    made.strand.ea_n = 1e15;
    made.strand.mass_kg_m = 0.0475;
    const mech_run run = sample_build(&made);
    double miss[3];
    for (int i = 0; i < 3; i++) {
        const double slack = 0.05 / pow(10.0, i);
        mech_rows rows = {.is_strung = {true}, .take_up_m = {-slack}};
        assert_true(mech_run_solve(&run, &rows).converged);
        miss[i] = catenary_tension(2.0, 2.0 + slack, 0.0475 * 9.80665) / rows.tension_n[0] - 1.0;
    }
    assert_true(fabs(miss[0]) < 0.01); /* 5 cm on 2 m hangs 19 cm: still within 1 % */
    assert_near(miss[1] / miss[0], 0.1, 0.005);
    assert_near(miss[2] / miss[1], 0.1, 0.005);
}

/* Ernst 1965, EN 1993-1-11 5.4.2: a sagging cable has the tangent modulus E/(1 + gamma^2 L^2 E/(12 sigma^3)); 100 m at
 * 200 MPa: 177.25 GPa; 100 m at 400: 196.84; 200 m at 400: 187.94. */
static void tangent_is_the_ernst_modulus(void **state)
{
    (void)state;
    static const struct {
        double length_m, stress_pa, modulus_pa;
    } table[] = {{100.0, 200e6, 177.25e9}, {100.0, 400e6, 196.84e9}, {200.0, 400e6, 187.94e9}};
    for (int i = 0; i < 3; i++) {
        mech_structure made = sample_plain(table[i].length_m);
        sample_rows(&made, 1, 0.5, 0.0);
        made.strand.ea_n = 200e9; /* 1 m2, so that tension is stress */
        made.strand.mass_kg_m = 78.5e3 / 9.80665;
        const mech_run run = sample_build(&made);
        double slope;
        mech_row_take_up(&run, table[i].stress_pa, 0.0, &slope);
        assert_near(run.length_m / slope, table[i].modulus_pa, 0.006e9);
    }
}

/* A row between ends that do not move: take-up = T L/EA + T/k, no more, when weight and bedding are nothing. */
static void one_row_is_a_spring(void **state)
{
    (void)state;
    mech_structure made = sample_plain(1.8288);
    sample_rows(&made, 1, 0.5, 0.0);
    made.post[MECH_NEAR].is_rigid = true;
    made.insert_n_m = 4e6;
    const mech_run run = sample_build(&made);
    mech_rows rows = {.is_strung = {true}, .take_up_m = {0.004}};
    const mech_solution solution = mech_run_solve(&run, &rows);
    assert_true(solution.converged);
    assert_true(solution.residual_m < 1e-15);
    assert_near(rows.tension_n[0], 0.004 / (1.8288 / (175852.0 * 4.4482216152605) + 1.0 / 4e6), 1e-6);
}

static void law_rises_with_its_slope(void **state)
{
    (void)state;
    const mech_structure made = sample_run(3.6, 0.09);
    const mech_run run = sample_build(&made);
    double last = -(double)INFINITY;
    for (int i = 0; i < 900; i++) {
        const double tension = 0.5 * pow(1.01, i);
        double slope;
        const double take_up = mech_row_take_up(&run, tension, 400.0, &slope);
        const double step = 1e-5 * tension;
        if (fabs(tension - 400.0) > 2.0 * step) {
            const double rise = mech_row_take_up(&run, tension + step, 400.0, NULL) -
                                mech_row_take_up(&run, tension - step, 400.0, NULL);
            assert_near(rise / (2.0 * step) / slope, 1.0, 1e-5);
        }
        assert_true(take_up > last && slope > 0.0);
        last = take_up;
    }
}

/* Bedding-in stays: let out to the same tension, a row needs more take-up than it did on the way up. Half of the
 * bedding-in has happened at bedding_half_n. */
static void bedding_never_comes_back(void **state)
{
    (void)state;
    const mech_structure made = sample_run(3.6, 0.09);
    const mech_run run = sample_build(&made);
    const double before = mech_row_take_up(&run, 200.0, 0.0, NULL);
    const double after = mech_row_take_up(&run, 200.0, 1000.0, NULL);
    const double strain = made.strand.bedding_strain;
    assert_near(after - before, 3.6 * strain * (1000.0 / 1300.0 - 200.0 / 500.0), 1e-15);
    mech_rows rows = {.is_strung = {true}, .take_up_m = {0.0}};
    assert_true(mech_run_pull(&run, &rows, 0, 1000.0).converged);
    assert_near(rows.peak_n[0], 1000.0, 0.0);
    assert_true(mech_run_pull(&run, &rows, 0, 300.0).converged);
    assert_near(rows.peak_n[0], 1000.0, 0.0);
    mech_rows fresh = {.is_strung = {true}, .take_up_m = {0.0}};
    assert_true(mech_run_pull(&run, &fresh, 0, 300.0).converged);
    assert_near(rows.take_up_m[0] - fresh.take_up_m[0], 3.6 * strain * (1000.0 / 1300.0 - 0.5), 1e-12);
}

/* A warm day slackens: T falls by EA alpha dT where nothing else gives (Irvine 1981, ch. 3, limit w = 0). */
static void warmth_slackens(void **state)
{
    (void)state;
    mech_structure made = sample_plain(2.0);
    sample_rows(&made, 1, 0.5, 0.0);
    made.post[MECH_NEAR].is_rigid = true;
    made.strand.thermal_1_k = 16e-6;
    mech_rows rows = {.is_strung = {true}, .take_up_m = {0.003}};
    const mech_run cool = sample_build(&made);
    assert_true(mech_run_solve(&cool, &rows).converged);
    const double before = rows.tension_n[0];
    made.warming_k = 20.0;
    const mech_run warm = sample_build(&made);
    assert_true(mech_run_solve(&warm, &rows).converged);
    assert_near(before - rows.tension_n[0], made.strand.ea_n * 16e-6 * 20.0, 1e-6);
}

/* The inverse finds the tension of any take-up from any guess, also across the kink at the peak, where bedding-in is
 * concave and a plain Newton search would jump to and fro. */
static void tension_is_the_inverse_of_take_up(void **state)
{
    (void)state;
    tr_rng rng = tr_rng_seed(18);
    for (int round = 0; round < 5000; round++) {
        const mech__law law = {.elastic_m_n = sample_spread(&rng, 1e-9, 1e-4),
                               .sag_m_n2 = sample_spread(&rng, 1e-9, 1.0),
                               .bedding_m = sample_chance(&rng, 0.2) ? 0.0 : sample_spread(&rng, 1e-6, 0.1),
                               .half_n = sample_spread(&rng, 1.0, 1e4),
                               .warm_m = 0.01 * (tr_rng_uniform(&rng) - 0.5)};
        const double peak = sample_chance(&rng, 0.2) ? 0.0 : sample_spread(&rng, 0.1, 1e4);
        const double tension = sample_spread(&rng, 0.1, 1e4);
        double slope;
        const double take_up = mech__law_take_up(&law, tension, peak, &slope);
        const double found = mech__law_tension(&law, take_up, peak, sample_spread(&rng, 0.01, 1e5));
        assert_near(found / tension, 1.0, 1e-12 + 1e-15 * (fabs(take_up) + 0.1) / (slope * tension));
    }
}

/* ---- rows together ---- */

/* values.md 12, three-row post: F in 1e-5 in/lbf, and the tensions when each row is pulled once to 225 lbf. */
static mech_run three_rows(void)
{
    mech_structure made = sample_plain(72.0 * TR_INCH_M);
    sample_rows(&made, 3, 9.75 * TR_INCH_M, 9.75 * TR_INCH_M);
    sample_prop_top(&made, 39.0 * TR_INCH_M, 0.0);
    return sample_build(&made);
}

static void pull_each(const mech_run *run, mech_rows *rows, const int order[], int count, double tension_lbf)
{
    for (int turn = 0; turn < count; turn++) {
        assert_true(mech_run_pull(run, rows, order[turn], tension_lbf * TR_LBF_N).converged);
    }
}

static void three_row_example(void **state)
{
    (void)state;
    const mech_run run = three_rows();
    const double unit = 1e-5 * TR_INCH_M / TR_LBF_N;
    assert_near(run.flexibility[0][0] / unit, 3.4743, 6e-5);
    assert_near(run.flexibility[0][1] / unit, 4.2463, 6e-5);
    assert_near(run.flexibility[0][2] / unit, 2.7022, 6e-5);
    assert_near(run.flexibility[1][1] / unit, 6.1765, 6e-5);
    static const struct {
        int order[3];
        double end_lbf[3];
    } table[] = {{{0, 1, 2}, {191.638, 205.792, 225.0}},
                 {{1, 0, 2}, {213.148, 185.515, 225.0}},
                 {{0, 2, 1}, {191.035, 225.0, 204.724}}};
    for (int i = 0; i < 3; i++) {
        mech_rows rows = {.is_strung = {false}};
        pull_each(&run, &rows, table[i].order, 3, 225.0);
        for (int row = 0; row < 3; row++) {
            assert_near(lbf(rows.tension_n[row]), table[i].end_lbf[row], 6e-4);
        }
    }
}

static double least_lbf(const mech_rows *rows, int count)
{
    double least = (double)INFINITY;
    for (int row = 0; row < count; row++) {
        least = fmin(least, lbf(rows->tension_n[row]));
    }
    return least;
}

static double mean_lbf(const mech_rows *rows, int count)
{
    double sum = 0.0;
    for (int row = 0; row < count; row++) {
        sum += lbf(rows->tension_n[row]);
    }
    return sum / count;
}

static mech_run twelve_rows(void)
{
    mech_structure made = sample_plain(72.0 * TR_INCH_M);
    sample_rows(&made, 12, 3.0 * TR_INCH_M, 3.0 * TR_INCH_M);
    sample_prop_top(&made, 39.0 * TR_INCH_M, 0.0);
    return sample_build(&made);
}

/* values.md 12, twelve-row post: least and mean tension by order, and what repeating the pass does. */
static void twelve_row_example(void **state)
{
    (void)state;
    const mech_run run = twelve_rows();
    static const struct {
        int order[12];
        double least_lbf, mean_lbf;
    } table[] = {{{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}, 123.51, 171.86},
                 {{5, 6, 4, 7, 3, 8, 2, 9, 1, 10, 0, 11}, 68.71, 174.41},
                 {{0, 11, 1, 10, 2, 9, 3, 8, 4, 7, 5, 6}, 132.74, 168.15}};
    for (int i = 0; i < 3; i++) {
        mech_rows rows = {.is_strung = {false}};
        pull_each(&run, &rows, table[i].order, 12, 225.0);
        assert_near(least_lbf(&rows, 12), table[i].least_lbf, 6e-3);
        assert_near(mean_lbf(&rows, 12), table[i].mean_lbf, 6e-3);
    }
    static const double least[5] = {123.51, 194.94, 217.26, 223.13, 224.55};
    mech_rows rows = {.is_strung = {false}};
    for (int pass = 0; pass < 5; pass++) {
        pull_each(&run, &rows, table[0].order, 12, 225.0);
        assert_near(least_lbf(&rows, 12), least[pass], 6e-3);
    }
}

/* Bundled springs (mechanics; values.md 12): N equal rows on one support of stiffness K, each pulled to 1 in turn. The
 * support is a post that only its base lets turn, with all rows (nearly) at one height. */
static void bundled_springs(void **state)
{
    (void)state;
    static const struct {
        int count;
        double ratio, end[4];
    } table[] = {{4, 0.02, {0.942293, 0.961901, 0.981132, 1.0}},
                 {4, 0.1, {0.748834, 0.839744, 0.923077, 1.0}},
                 {3, 0.1, {0.825758, 0.916667, 1.0, 0.0}}};
    for (int i = 0; i < 3; i++) {
        mech_structure made = sample_plain(2.0);
        made.post[MECH_NEAR].elastic_pa = 1e20;
        sample_rows(&made, table[i].count, 1.0, 1e-9);
        made.post[MECH_NEAR].base_n_m_rad = made.strand.ea_n / 2.0 / table[i].ratio; /* at 1 m */
        const mech_run run = sample_build(&made);
        static const int order[4] = {0, 1, 2, 3};
        mech_rows rows = {.is_strung = {false}};
        pull_each(&run, &rows, order, table[i].count, 225.0);
        for (int row = 0; row < table[i].count; row++) {
            assert_near(lbf(rows.tension_n[row]) / 225.0, table[i].end[row], 6e-7);
        }
    }
}

/* ---- properties over random runs ---- */

static double misfit(const mech_run *run, const mech_rows *rows, const double peak_n[], int row)
{
    double sum = mech_row_take_up(run, rows->tension_n[row], peak_n[row], NULL) - rows->take_up_m[row];
    for (int other = 0; other < run->made_of.row_count; other++) {
        sum += run->flexibility[row][other] * rows->tension_n[other];
    }
    return sum;
}

/* From very slack to very tight the solver finds the state, every row fits, and few steps are needed. */
static void finds_every_state(void **state)
{
    (void)state;
    tr_rng rng = tr_rng_seed(11);
    int most = 0;
    for (int round = 0; round < 600; round++) {
        const mech_structure made = sample_random(&rng);
        const mech_run run = sample_build(&made);
        mech_rows rows =
            sample_random_rows(&rng, &run, sample_spread(&rng, 1e-4, 0.1), sample_spread(&rng, 1e-4, 0.05));
        const mech_solution solution = mech_run_solve(&run, &rows);
        assert_true(solution.converged);
        most = solution.iterations > most ? solution.iterations : most;
        const double unseen[MECH_MAX_ROWS] = {0.0};
        for (int row = 0; row < made.row_count; row++) {
            assert_true(rows.tension_n[row] > 0.0);
            assert_near(rows.peak_n[row], rows.tension_n[row], 0.0);
            assert_near(misfit(&run, &rows, unseen, row), 0.0, 1e-12);
        }
    }
    assert_in_range(most, 1, 15);
}

/* The state belongs to the take-ups: other starts, and the same take-ups given one row at a time in another order
 * (without bedding-in, which remembers), lead to the same tensions. */
static void state_is_unique(void **state)
{
    (void)state;
    tr_rng rng = tr_rng_seed(12);
    for (int round = 0; round < 60; round++) {
        mech_structure made = sample_random(&rng);
        made.strand.bedding_strain = 0.0;
        const mech_run run = sample_build(&made);
        mech_rows rows = sample_random_rows(&rng, &run, 0.01, 0.02);
        mech_rows other = rows;
        assert_true(mech_run_solve(&run, &rows).converged);
        for (int row = 0; row < made.row_count; row++) {
            other.tension_n[row] = sample_spread(&rng, 1e-3, 1e6);
        }
        assert_true(mech_run_solve(&run, &other).converged);
        mech_rows stepped = {.is_strung = {false}};
        for (int turn = 0; turn < 41; turn++) {
            const int row = (turn * 23 + 5) % 41; /* 41 is prime: every row once, in a jumble */
            for (int step = 0; step < 2 && row < made.row_count; step++) {
                stepped.is_strung[row] = true;
                stepped.take_up_m[row] = step == 0 ? 0.03 : rows.take_up_m[row];
                assert_true(mech_run_solve(&run, &stepped).converged);
            }
        }
        for (int row = 0; row < made.row_count; row++) {
            assert_near(other.tension_n[row] / rows.tension_n[row], 1.0, 1e-7);
            assert_near(stepped.tension_n[row] / rows.tension_n[row], 1.0, 1e-7);
        }
    }
}

/* Loading all rows at once beds them in alike whatever the start: a row that goes up passes the same curve. */
static void unique_with_bedding(void **state)
{
    (void)state;
    tr_rng rng = tr_rng_seed(13);
    for (int round = 0; round < 100; round++) {
        const mech_structure made = sample_random(&rng);
        const mech_run run = sample_build(&made);
        mech_rows rows = sample_random_rows(&rng, &run, 0.005, 0.02);
        for (int row = 0; row < made.row_count; row++) {
            rows.peak_n[row] = sample_spread(&rng, 1.0, 3000.0);
        }
        mech_rows other = rows;
        const mech_rows given = rows;
        for (int row = 0; row < made.row_count; row++) {
            other.tension_n[row] = given.peak_n[row]; /* start right on the kinks */
        }
        assert_true(mech_run_solve(&run, &rows).converged);
        assert_true(mech_run_solve(&run, &other).converged);
        for (int row = 0; row < made.row_count; row++) {
            assert_near(other.tension_n[row] / rows.tension_n[row], 1.0, 1e-7);
            assert_near(misfit(&run, &rows, given.peak_n, row), 0.0, 1e-12);
        }
    }
}

/* Pulling to a tension and giving the take-up that it found are the same thing. */
static void pull_is_the_inverse_of_solve(void **state)
{
    (void)state;
    tr_rng rng = tr_rng_seed(14);
    for (int round = 0; round < 100; round++) {
        const mech_structure made = sample_random(&rng);
        const mech_run run = sample_build(&made);
        mech_rows rows = sample_random_rows(&rng, &run, 0.005, 0.01);
        assert_true(mech_run_solve(&run, &rows).converged);
        const int row = (int)(tr_rng_uniform(&rng) * made.row_count);
        const double target = sample_spread(&rng, 10.0, 3000.0);
        mech_rows given = rows;
        assert_true(mech_run_pull(&run, &rows, row, target).converged);
        assert_near(rows.tension_n[row], target, 0.0);
        given.take_up_m[row] = rows.take_up_m[row];
        assert_true(mech_run_solve(&run, &given).converged);
        for (int other = 0; other < made.row_count; other++) {
            assert_near(given.tension_n[other] / rows.tension_n[other], 1.0, 1e-8);
        }
    }
}

/* Taking a row up raises it and lowers every other, since on one post all rows close together. */
static void take_up_lowers_the_others(void **state)
{
    (void)state;
    const mech_structure made = sample_run(1.8, 0.09);
    const mech_run run = sample_build(&made);
    mech_rows rows = {.is_strung = {false}};
    static const int order[11] = {5, 6, 4, 7, 3, 8, 2, 9, 1, 10, 0};
    pull_each(&run, &rows, order, 11, 100.0);
    for (int row = 0; row < 11; row++) {
        mech_rows more = rows;
        more.take_up_m[row] += 1e-4;
        assert_true(mech_run_solve(&run, &more).converged);
        for (int other = 0; other < 11; other++) {
            const double change = more.tension_n[other] - rows.tension_n[other];
            assert_true(other == row ? change > 0.0 : change < 0.0);
        }
    }
}

static void rigid_ends_uncouple_rows(void **state)
{
    (void)state;
    mech_structure made = sample_run(3.6, 0.09);
    made.post[MECH_NEAR].is_rigid = made.post[MECH_FAR].is_rigid = true;
    const mech_run run = sample_build(&made);
    mech_rows rows = {.is_strung = {false}};
    static const int order[11] = {5, 6, 4, 7, 3, 8, 2, 9, 1, 10, 0};
    pull_each(&run, &rows, order, 11, 225.0);
    for (int row = 0; row < 11; row++) {
        assert_near(lbf(rows.tension_n[row]), 225.0, 1e-9);
    }
}

static void extremes_converge(void **state)
{
    (void)state;
    static const double posts_pa[] = {1e4, 1e9, 1e20};
    static const double strand_n[] = {1.0, 1e5, 1e12};
    static const double masses[] = {1e-9, 0.05, 50.0};
    static const double take_ups[] = {-1.0, -0.05, 0.0, 0.001, 1.0};
    for (int i = 0; i < 3 * 3 * 3 * 5; i++) {
        mech_structure made = sample_run(2.0, 0.09);
        sample_rows(&made, MECH_MAX_ROWS, 0.02, 0.024);
        made.post[MECH_NEAR].elastic_pa = posts_pa[i % 3];
        made.post[MECH_NEAR].shear_pa = posts_pa[i % 3] / 16.0;
        made.strand.ea_n = strand_n[i / 3 % 3];
        made.strand.mass_kg_m = masses[i / 9 % 3];
        const mech_run run = sample_build(&made);
        mech_rows rows = {.is_strung = {false}};
        for (int row = 0; row < MECH_MAX_ROWS; row++) {
            rows.is_strung[row] = true;
            rows.take_up_m[row] = row % 3 == 0 ? take_ups[i / 27] : 0.002 * (row % 5);
        }
        const mech_solution solution = mech_run_solve(&run, &rows);
        assert_true(solution.converged);
        assert_in_range(solution.iterations, 1, 50);
    }
}

/* A row that is not strung carries nothing and does not matter; a run without rows is solved at once. */
static void unstrung_rows_carry_nothing(void **state)
{
    (void)state;
    const mech_structure made = sample_run(3.6, 0.09);
    const mech_run run = sample_build(&made);
    mech_rows rows = {.is_strung = {false}};
    rows.tension_n[3] = 77.0;
    assert_true(mech_run_solve(&run, &rows).converged);
    assert_near(rows.tension_n[3], 0.0, 0.0);
    assert_true(mech_run_pull(&run, &rows, 5, 900.0).converged);
    assert_true(rows.is_strung[5]);
    mech_loads loads;
    mech_run_loads(&run, &rows, &loads);
    assert_near(loads.total_n, 900.0, 0.0);
}

/* Nonsense in, refusal out, and the rows as they were. */
static void nonsense_changes_nothing(void **state)
{
    (void)state;
    const mech_structure made = sample_run(3.6, 0.09);
    const mech_run run = sample_build(&made);
    mech_rows rows = {.is_strung = {false}};
    assert_true(mech_run_pull(&run, &rows, 5, 900.0).converged);
    rows.take_up_m[5] = (double)NAN;
    assert_false(mech_run_solve(&run, &rows).converged);
    assert_near(rows.tension_n[5], 900.0, 0.0);
    rows.take_up_m[5] = (double)INFINITY;
    assert_false(mech_run_solve(&run, &rows).converged);
    assert_near(rows.tension_n[5], 900.0, 0.0);
}

/* Same input, same bits. */
static void solves_alike_every_time(void **state)
{
    (void)state;
    tr_rng rng = tr_rng_seed(16);
    const mech_structure made = sample_random(&rng);
    const mech_run run = sample_build(&made);
    mech_rows rows = sample_random_rows(&rng, &run, 0.01, 0.02);
    mech_rows again = rows;
    assert_true(mech_run_solve(&run, &rows).converged);
    assert_true(mech_run_solve(&run, &again).converged);
    assert_memory_equal(rows.tension_n, again.tension_n, sizeof rows.tension_n);
}

/* Rail and base share the pull by statics: forces and moments about the base balance. */
static void forces_balance(void **state)
{
    (void)state;
    tr_rng rng = tr_rng_seed(17);
    for (int round = 0; round < 100; round++) {
        const mech_structure made = sample_random(&rng);
        const mech_run run = sample_build(&made);
        mech_rows rows = sample_random_rows(&rng, &run, 0.0, 0.01);
        assert_true(mech_run_solve(&run, &rows).converged);
        mech_loads loads;
        mech_run_loads(&run, &rows, &loads);
        double moment = 0.0;
        for (int row = 0; row < made.row_count; row++) {
            moment += rows.tension_n[row] * made.row_height_m[row];
        }
        double deflection[MECH_ENDS][MECH_MAX_ROWS + 1];
        mech_run_deflection(&run, &rows, MECH_NEAR, deflection[MECH_NEAR]);
        mech_run_deflection(&run, &rows, MECH_FAR, deflection[MECH_FAR]);
        if (made.rail.is_fitted) { /* the rail is as short as its compression makes it */
            const double closing = deflection[MECH_NEAR][made.row_count] + deflection[MECH_FAR][made.row_count];
            const double give = run.length_m / made.rail.ea_n + 1.0 / made.rail.joint_n_m[MECH_NEAR] +
                                1.0 / made.rail.joint_n_m[MECH_FAR];
            assert_near(loads.rail_n * give, closing, 1e-9 * (fabs(deflection[0][0]) + fabs(closing)) + 1e-12);
        }
        for (int end = 0; end < MECH_ENDS; end++) {
            assert_near(loads.base_shear_n[end] + loads.rail_n, loads.total_n, 1e-9 * loads.total_n);
            assert_near(loads.base_moment_n_m[end] + loads.rail_n * run.post_height_m, moment, 1e-9 * moment);
            assert_true(fabs(loads.peak_moment_n_m[end]) >= fabs(loads.base_moment_n_m[end]));
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(slack_row_is_a_parabola),
        cmocka_unit_test(parabola_tends_to_catenary),
        cmocka_unit_test(tangent_is_the_ernst_modulus),
        cmocka_unit_test(one_row_is_a_spring),
        cmocka_unit_test(law_rises_with_its_slope),
        cmocka_unit_test(bedding_never_comes_back),
        cmocka_unit_test(warmth_slackens),
        cmocka_unit_test(tension_is_the_inverse_of_take_up),
        cmocka_unit_test(three_row_example),
        cmocka_unit_test(twelve_row_example),
        cmocka_unit_test(bundled_springs),
        cmocka_unit_test(finds_every_state),
        cmocka_unit_test(state_is_unique),
        cmocka_unit_test(unique_with_bedding),
        cmocka_unit_test(pull_is_the_inverse_of_solve),
        cmocka_unit_test(take_up_lowers_the_others),
        cmocka_unit_test(rigid_ends_uncouple_rows),
        cmocka_unit_test(extremes_converge),
        cmocka_unit_test(unstrung_rows_carry_nothing),
        cmocka_unit_test(nonsense_changes_nothing),
        cmocka_unit_test(solves_alike_every_time),
        cmocka_unit_test(forces_balance),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
