/* The opening rule: closed form for light strand, energy balance, trends. */
#include "near.h"
#include "opening.h"
#include "tautrow/base/units.h"
#include "tautrow/mech/checks.h"

#define BALL    (4.0 * TR_INCH_M) /* 2018 IRC R312.1.3 */
#define STRAND  (0.125 * TR_INCH_M)
#define SPACING (3.0 * TR_INCH_M)
#define BAY     (42.0 * TR_INCH_M)
#define EA_N    782230.0
#define TENSION (225.0 * TR_LBF_N)

static double push_of(double low_n, double high_n)
{
    return mech_ball_opening(BALL, STRAND, SPACING, BAY, low_n, high_n, EA_N).push_n;
}

/* Rows that do not stretch on a bay so long that they push with 4 T d / l: the push 2 (4 T / l)(a - D) z / D, D2 = h2 +
 * z2, is largest where D3 = a h2 (own derivation; a = R + r, h = half the spacing). */
static void test_closed_form(void **state)
{
    (void)state;
    const double tension = 1e6;
    const double bay = 1000.0;
    const double a = 0.5 * (BALL + STRAND);
    const double h = 0.5 * SPACING;
    const double at = cbrt(a * h * h);
    const double expected = 8.0 * tension / bay * (a / at - 1.0) * sqrt(at * at - h * h);
    const mech_opening o = mech_ball_opening(BALL, STRAND, SPACING, bay, tension, tension, 0.0);
    assert_near(o.push_n, expected, 1e-6 * expected);
    assert_false(o.is_open);
    assert_near(o.spread_m, BALL, 1e-12);
    /* One row and a flat face: half of it, with the row as far from the ball's middle as in the mirror picture. */
    const double edge_spacing = h + 0.5 * BALL;
    const mech_opening edge = mech_ball_opening_edge(BALL, STRAND, edge_spacing, bay, tension, 0.0);
    assert_near(edge.push_n, 0.5 * expected, 1e-6 * expected);
}

/* Stiff strand: a plain search over the same geometry with the push found by hand. */
static void test_brute_force(void **state)
{
    (void)state;
    double best = 0.0;
    for (int i = 1; i < 40000; i++) {
        const double z = 0.05 * i / 40000.0;
        const double distance = hypot(0.5 * SPACING, z);
        const double d = 0.5 * (BALL + STRAND) - distance;
        if (d > 0.0) {
            const double leg = hypot(0.5 * BAY, d);
            const double pull = TENSION + EA_N * (leg / (0.5 * BAY) - 1.0);
            best = fmax(best, 2.0 * (2.0 * pull * d / leg) * z / distance);
        }
    }
    assert_near(push_of(TENSION, TENSION), best, 1e-5 * best);
}

static void test_open_gap(void **state)
{
    (void)state;
    const mech_opening open = mech_ball_opening(BALL, STRAND, BALL + STRAND + 1e-6, BAY, TENSION, TENSION, EA_N);
    assert_true(open.is_open);
    assert_near(open.push_n, 0.0, 0.0);
    assert_near(open.spread_m, BALL + 1e-6, 1e-9);
    const mech_opening shut = mech_ball_opening(BALL, STRAND, BALL + STRAND - 1e-6, BAY, TENSION, TENSION, EA_N);
    assert_false(shut.is_open);
    assert_true(shut.push_n > 0.0 && shut.push_n < 0.01); /* continuous */
    const mech_opening edge = mech_ball_opening_edge(BALL, STRAND, BALL + 0.5 * STRAND + 1e-6, BAY, TENSION, EA_N);
    assert_true(edge.is_open);
    assert_near(edge.push_n, 0.0, 0.0);
    assert_false(mech_ball_opening_edge(BALL, STRAND, BALL, BAY, TENSION, EA_N).is_open);
}

static void test_trends(void **state)
{
    (void)state;
    double last = 0.0;
    for (int i = 0; i <= 40; i++) { /* tighter rows */
        const double push = push_of(50.0 * i, 50.0 * i);
        assert_true(push > last);
        last = push;
    }
    for (int i = 0; i <= 20; i++) { /* wider spacing */
        const double push = mech_ball_opening(BALL, STRAND, SPACING + i * 1e-3, BAY, TENSION, TENSION, EA_N).push_n;
        assert_true(push < last || i == 0);
        last = push;
    }
    for (int i = 0; i <= 20; i++) { /* posts farther apart */
        const double push =
            mech_ball_opening(BALL, STRAND, SPACING, BAY * (1.0 + 0.1 * i), TENSION, TENSION, EA_N).push_n;
        assert_true(push < last || i == 0);
        last = push;
    }
    for (int i = 0; i <= 20; i++) { /* a bigger ball */
        const double push = mech_ball_opening(BALL + i * 1e-3, STRAND, SPACING, BAY, TENSION, TENSION, EA_N).push_n;
        assert_true(push > last || i == 0);
        last = push;
    }
}

/* Unequal rows: either way up is the same; between both rows slack and both tight; continuous; the ball sits nearer to
 * the slack row's rest place. */
static void test_unequal(void **state)
{
    (void)state;
    double last = -1.0;
    for (int i = 0; i <= 100; i++) {
        const double other = TENSION * i / 100.0;
        const double push = push_of(TENSION, other);
        assert_near(push_of(other, TENSION), push, 1e-6 * push);
        assert_true(push >= push_of(other, other) - 1e-6 && push <= push_of(TENSION, TENSION) + 1e-6);
        assert_true(last < 0.0 || (push > last && push - last < 0.05 * push));
        last = push;
    }
    const mech__gap gap = {.ball_radius_m = 0.5 * BALL,
                           .reach_m = 0.5 * (BALL + STRAND),
                           .spacing_m = SPACING,
                           .bay_m = BAY,
                           .tension_n = {TENSION, 0.2 * TENSION},
                           .ea_n = EA_N};
    assert_true(mech__gap_height(&gap, 0.01) > 0.5 * SPACING);
}

static double stored(const mech__gap *gap, int row, double distance)
{
    const double d = gap->reach_m - distance;
    if (d <= 0.0) {
        return 0.0;
    }
    const double strain = hypot(1.0, 2.0 * d / gap->bay_m) - 1.0;
    return (gap->tension_n[row] + 0.5 * gap->ea_n * strain) * strain * gap->bay_m;
}

/* Without friction the work of the push, from first touch to the plane of the rows, is the energy then stored in both.
 * It would not be if the ball's place between unequal rows were not the balanced one. */
static void test_energy(void **state)
{
    (void)state;
    for (int ratio = 0; ratio <= 10; ratio += 2) {
        const mech__gap gap = {.ball_radius_m = 0.5 * BALL,
                               .reach_m = 0.5 * (BALL + STRAND),
                               .spacing_m = SPACING,
                               .bay_m = BAY,
                               .tension_n = {TENSION, 0.1 * ratio * TENSION},
                               .ea_n = EA_N};
        const double start = sqrt(gap.reach_m * gap.reach_m - 0.25 * SPACING * SPACING);
        const int n = 4000;
        double work = 0.0;
        for (int i = 0; i < n; i++) {
            work += mech__gap_push(&gap, start * (i + 0.5) / n) * start / n;
        }
        const double height = mech__gap_height(&gap, 0.0);
        const double energy = stored(&gap, 0, height) + stored(&gap, 1, SPACING - height);
        assert_near(work, energy, 1e-4 * energy);
        const mech_opening o = mech_ball_opening(BALL, STRAND, SPACING, BAY, gap.tension_n[0], gap.tension_n[1], EA_N);
        assert_true(o.push_n > energy / start); /* a peak is above the mean */
    }
}

/* A ball far too big, rows on top of each other, no tension: still a finite answer. */
static void test_odd_cases(void **state)
{
    (void)state;
    assert_true(isfinite(mech_ball_opening(0.3, STRAND, 0.05, BAY, TENSION, 0.5 * TENSION, EA_N).push_n));
    assert_true(isfinite(mech_ball_opening(BALL, STRAND, 0.0, BAY, TENSION, TENSION, EA_N).push_n));
    assert_true(isfinite(mech_ball_opening_edge(BALL, STRAND, 0.01, BAY, TENSION, EA_N).push_n));
    assert_near(mech_ball_opening(BALL, STRAND, SPACING, BAY, 0.0, 0.0, 0.0).push_n, 0.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_closed_form), cmocka_unit_test(test_brute_force), cmocka_unit_test(test_open_gap),
        cmocka_unit_test(test_trends),      cmocka_unit_test(test_unequal),     cmocka_unit_test(test_energy),
        cmocka_unit_test(test_odd_cases),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
