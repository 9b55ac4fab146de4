/* Turning the body: take-up, the stud held or not, the ends of the travel, torque. */
#include "plain_run.h"
#include "tautrow/mech/fittings.h"

#define LBF_IN   (TR_LBF_N * TR_INCH_M)
#define NO_LIMIT ((double)INFINITY)

static mech_turnbuckle of_threads(double pitch_m, double major_m)
{
    const mech_thread thread = {.pitch_m = pitch_m, .major_m = major_m, .friction = 0.15};
    return (mech_turnbuckle){
        .anchor = thread, .cable = thread, .body_m = 0.100, .min_engaged_diameters = 1.0, .twist_release = 0.5};
}

static mech_turnbuckle quarter_28(void)
{
    return of_threads(TR_INCH_M / 28.0, 0.25 * TR_INCH_M);
}

static mech_engaged start_at(double turns)
{
    return (mech_engaged){.anchor_turns = turns, .cable_turns = turns};
}

/* Advance per turn with opposite hands, mm (geometry); one diameter of engagement in turns (machine-design practice).
 */
static void test_geometry(void **state)
{
    (void)state;
    static const struct {
        double pitch_m, major_m, per_turn_mm, one_diameter;
    } row[] = {
        {TR_INCH_M / 28.0, 0.25 * TR_INCH_M, 1.8143, 7.0},
        {TR_INCH_M / 24.0, 0.3125 * TR_INCH_M, 2.1167, 7.5},
        {TR_INCH_M / 20.0, 0.25 * TR_INCH_M, 2.540, 5.0},
        {TR_INCH_M / 18.0, 0.3125 * TR_INCH_M, 2.822, 5.625},
        {1e-3, 6e-3, 2.000, 6.0},
        {1.25e-3, 8e-3, 2.500, 6.4},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        const mech_turnbuckle t = of_threads(row[i].pitch_m, row[i].major_m);
        const mech_engaged from = start_at(10.0);
        const mech_engaged to = start_at(11.0);
        assert_near(mech_engaged_take_up(&t, &to, &from) * 1e3, row[i].per_turn_mm, 0.0003);
        assert_near(mech_min_turns(&t, &t.anchor), row[i].one_diameter, 1e-9);
        assert_near(mech_turns_to_bottom(&t, &from), 0.100 / (2.0 * row[i].pitch_m) - 10.0, 1e-9);
    }
    const mech_turnbuckle t = quarter_28();
    const mech_engaged full = start_at(80.0);
    assert_near(mech_turns_to_bottom(&t, &full), 0.0, 0.0);
}

/* Turns that bring a given rise of tension between rigid posts: N = dT L / (EA (p1 + p2)). The first three are worked
 * with that formula for 1/8 in and 4 mm 1x19; the last is an independent published example (hand calculation in an open
 * validation log of EN 1993-1-11 cable tools): 13 kN on 10.12 m, EA 38,080 kN, M20 with 2.5 mm pitch: 0.691 turns. */
static void test_turns_for_tension(void **state)
{
    (void)state;
    static const struct {
        double length_m, ea_n, pitch_m, major_m, rise_n, turns;
    } row[] = {
        {6.0 * TR_FOOT_M, PLAIN_EA_N, TR_INCH_M / 28.0, 0.25 * TR_INCH_M, 1000.8, 1.290},
        {20.0 * TR_FOOT_M, PLAIN_EA_N, TR_INCH_M / 28.0, 0.25 * TR_INCH_M, 1000.8, 4.299},
        {3.0, 1.2415e6, 1e-3, 6e-3, 1000.0, 1.208},
        {10.12, 38080e3, 2.5e-3, 20e-3, 13000.0, 0.691},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        mech_structure made = plain_structure(row[i].length_m, 10); /* short bays: no sag to speak of */
        made.strand.ea_n = row[i].ea_n;
        mech_run run;
        plain_build(&made, &run);
        const mech_turnbuckle t = of_threads(row[i].pitch_m, row[i].major_m);
        mech_rows rows = plain_rows(&run, 600.0);
        mech_engaged engaged = start_at(12.0);
        const mech_turn_result r = mech_turn_body(&run, &rows, 0, &t, &engaged, row[i].turns, true, NO_LIMIT);
        assert_int_equal(r.end, MECH_TURN_DONE);
        assert_true(r.converged);
        assert_near(rows.tension_n[0] - 600.0, row[i].rise_n, 0.001 * row[i].rise_n);
    }
}

/* Body torque of two 1/4-28 threads at 300 lbf, friction 0.15: 15.33 lbf in (Shigley eq. 8-1, 8-5). */
static void test_pin_torque(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(6.0, 5);
    plain_build(&made, &run);
    const mech_turnbuckle t = quarter_28();
    mech_rows rows = plain_rows(&run, 300.0 * TR_LBF_N);
    mech_engaged engaged = start_at(12.0);
    mech_turn_result r = mech_turn_body(&run, &rows, 0, &t, &engaged, 1e-6, true, NO_LIMIT);
    assert_near(r.pin_n_m / LBF_IN, 15.33, 0.006);
    r = mech_turn_body(&run, &rows, 0, &t, &engaged, -1e-6, true, NO_LIMIT);
    assert_near(r.pin_n_m / LBF_IN, 2.0 * 4.15, 0.011);
    /* The stud just begins to go round: nothing but the anchor thread resists. */
    r = mech_turn_body(&run, &rows, 0, &t, &engaged, 1e-6, false, NO_LIMIT);
    assert_near(r.pin_n_m / LBF_IN, 7.66, 0.006);
}

/* On a long run the stud follows the body all the way: one pitch a turn is lost, the cable winds up by it. */
static void test_held_and_not_held(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(12.0, 10);
    plain_build(&made, &run);
    const mech_turnbuckle t = quarter_28();
    const double pitch = t.cable.pitch_m;
    mech_rows held = plain_rows(&run, 1000.0);
    mech_rows loose = held;
    const double before = held.take_up_m[0];
    mech_engaged held_at = start_at(12.0);
    mech_engaged loose_at = start_at(12.0);
    const mech_turn_result h = mech_turn_body(&run, &held, 0, &t, &held_at, 3.0, true, NO_LIMIT);
    const mech_turn_result l = mech_turn_body(&run, &loose, 0, &t, &loose_at, 3.0, false, NO_LIMIT);
    assert_near(held.take_up_m[0] - before, 6.0 * pitch, 1e-12);
    assert_near(loose.take_up_m[0] - before, 3.0 * pitch, 1e-12);
    assert_near(h.lost_turns, 0.0, 0.0);
    assert_near(l.lost_turns, 3.0, 1e-12);
    assert_near(held_at.twist_turns, 0.0, 0.0);
    assert_near(loose_at.twist_turns, 3.0, 1e-12);
    assert_near(loose_at.cable_turns, 12.0, 1e-12);
    assert_near(loose_at.anchor_turns, 15.0, 1e-12);
    assert_true(held.tension_n[0] > loose.tension_n[0]);
}

static double torsion_of(const mech_run *run, double twist_turns)
{
    return run->made_of.strand.torsion_n_m2 * 2.0 * TR_PI * twist_turns / run->length_m;
}

/* On a short run with greased threads torsion soon balances the thread: from then on the stud slips and both threads
 * take up. (With dry threads the tension, and with it the grip of the thread, rises faster than the torsion.) */
static void test_torsion_balance(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(1.2, 1);
    plain_build(&made, &run);
    mech_turnbuckle t = quarter_28();
    t.anchor.friction = 0.08;
    t.cable.friction = 0.08;
    mech_rows rows = plain_rows(&run, 300.0);
    mech_engaged engaged = start_at(12.0);
    const mech_turn_result r = mech_turn_body(&run, &rows, 0, &t, &engaged, 3.0, false, NO_LIMIT);
    assert_true(r.lost_turns > 0.5 && r.lost_turns < 2.8);
    /* The stud keeps up with the rising tension: between its torsion and the thread there is one step of 1/16 turn. */
    const double step_n = PLAIN_EA_N / 1.2 * (2.0 * t.cable.pitch_m) / 16.0;
    const double at_most = mech_thread_raise(&t.cable, rows.tension_n[0]);
    const double at_least = mech_thread_raise(&t.cable, rows.tension_n[0] - step_n);
    const double torsion = torsion_of(&run, engaged.twist_turns);
    assert_true(torsion <= at_most + 1e-12 && torsion >= at_least - 1e-12);
    /* Twist and engagement account for every turn. */
    assert_near(engaged.cable_turns + engaged.twist_turns, 12.0 + r.turns, 1e-12);
    assert_near(r.pin_n_m, mech_thread_raise(&t.anchor, rows.tension_n[0]) + torsion, 1e-12);
    /* Finer steps hardly change it. */
    mech_rows fine_rows = plain_rows(&run, 300.0);
    mech_engaged fine = start_at(12.0);
    for (int i = 0; i < 3 * 128; i++) {
        mech_turn_body(&run, &fine_rows, 0, &t, &fine, 1.0 / 128.0, false, NO_LIMIT);
    }
    assert_near(fine.twist_turns, engaged.twist_turns, 0.03 * fine.twist_turns);
}

/* Dry threads grip harder by each turn's rise of tension than the cable winds up: M_raise' EA p / (2 pi C) > 1, at any
 * length. The stud then follows all the way even on a very short run (own derivation). */
static void test_dry_stud_follows(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(0.8, 1);
    plain_build(&made, &run);
    mech_turnbuckle t = quarter_28();
    t.anchor.friction = 0.20;
    t.cable.friction = 0.20;
    mech_rows rows = plain_rows(&run, 300.0);
    mech_engaged engaged = start_at(12.0);
    const mech_turn_result r = mech_turn_body(&run, &rows, 0, &t, &engaged, 4.0, false, NO_LIMIT);
    assert_near(r.lost_turns, 4.0, 1e-9);
    assert_near(engaged.cable_turns, 12.0, 1e-9);
}

/* Pliers put on later keep the twist; turning loose without them unwinds it first. */
static void test_twist_stays_and_unwinds(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(12.0, 10);
    plain_build(&made, &run);
    const mech_turnbuckle t = quarter_28();
    mech_rows rows = plain_rows(&run, 1000.0);
    const double before = rows.take_up_m[0];
    mech_engaged engaged = start_at(12.0);
    mech_turn_body(&run, &rows, 0, &t, &engaged, 2.0, false, NO_LIMIT);
    mech_turn_body(&run, &rows, 0, &t, &engaged, 1.0, true, NO_LIMIT);
    assert_near(engaged.twist_turns, 2.0, 1e-12);
    mech_turn_body(&run, &rows, 0, &t, &engaged, -1.0, true, NO_LIMIT);
    const mech_turn_result r = mech_turn_body(&run, &rows, 0, &t, &engaged, -2.0, false, NO_LIMIT);
    assert_near(engaged.twist_turns, 0.0, 1e-12);
    assert_near(r.lost_turns, 2.0, 1e-12);
    assert_near(engaged.cable_turns, 12.0, 1e-12);
    assert_near(engaged.anchor_turns, 12.0, 1e-12);
    assert_near(rows.take_up_m[0], before, 1e-12);
    assert_near(rows.tension_n[0], 1000.0, 1e-3);
    /* Further loose, it winds up the other way until the lowering torque balances it. */
    mech_turn_body(&run, &rows, 0, &t, &engaged, -1.0, false, NO_LIMIT);
    assert_true(engaged.twist_turns < 0.0);
    assert_true(-torsion_of(&run, engaged.twist_turns) <= mech_thread_lower(&t.cable, 1000.0));
}

static void test_bottoms_out(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(12.0, 10);
    plain_build(&made, &run);
    mech_turnbuckle t = quarter_28();
    t.body_m = (2.0 * 12.0 + 2.0 * 2.3) * t.cable.pitch_m; /* 2.3 turns of both are left */
    mech_rows rows = plain_rows(&run, 1000.0);
    mech_engaged engaged = start_at(12.0);
    const mech_turn_result r = mech_turn_body(&run, &rows, 0, &t, &engaged, 10.0, true, NO_LIMIT);
    assert_int_equal(r.end, MECH_TURN_BOTTOMED);
    assert_near(r.turns, 2.3, 1e-9);
    assert_near((engaged.anchor_turns + engaged.cable_turns) * t.cable.pitch_m, t.body_m, 1e-12);
    const mech_turn_result again = mech_turn_body(&run, &rows, 0, &t, &engaged, 1.0, true, NO_LIMIT);
    assert_int_equal(again.end, MECH_TURN_BOTTOMED);
    assert_near(again.turns, 0.0, 1e-9);
    assert_int_equal(mech_turn_body(&run, &rows, 0, &t, &engaged, -1.0, true, NO_LIMIT).end, MECH_TURN_DONE);

    /* Not held, only the anchor stud comes nearer: twice as many turns. */
    mech_rows loose = plain_rows(&run, 1000.0);
    mech_engaged loose_at = start_at(12.0);
    const mech_turn_result l = mech_turn_body(&run, &loose, 0, &t, &loose_at, 10.0, false, NO_LIMIT);
    assert_int_equal(l.end, MECH_TURN_BOTTOMED);
    assert_near(l.turns, 4.6, 1e-9);
}

static void test_comes_out(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(6.0, 5);
    plain_build(&made, &run);
    const mech_turnbuckle t = quarter_28();
    mech_rows rows = plain_rows(&run, 800.0);
    mech_engaged engaged = {.anchor_turns = 9.0, .cable_turns = 4.2}; /* assembled unevenly */
    const mech_turn_result r = mech_turn_body(&run, &rows, 0, &t, &engaged, -30.0, true, NO_LIMIT);
    assert_int_equal(r.end, MECH_TURN_CAME_OUT);
    assert_near(r.turns, -4.2, 1e-9);
    assert_near(engaged.cable_turns, 0.0, 1e-12);
    assert_near(engaged.anchor_turns, 4.8, 1e-9);
    assert_true(r.converged);
    assert_true(rows.tension_n[0] < 800.0 && rows.tension_n[0] >= 0.0);
}

static void test_too_heavy(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(3.0, 3);
    plain_build(&made, &run);
    const mech_turnbuckle t = quarter_28();
    mech_rows rows = plain_rows(&run, 500.0);
    mech_engaged engaged = start_at(12.0);
    const double limit = 1.5;
    const mech_turn_result r = mech_turn_body(&run, &rows, 0, &t, &engaged, 20.0, true, limit);
    assert_int_equal(r.end, MECH_TURN_TOO_HEAVY);
    assert_true(r.turns > 0.0 && r.turns < 20.0);
    assert_true(r.pin_n_m <= limit);
    assert_near(engaged.cable_turns, 12.0 + r.turns, 1e-12); /* the step too many has been taken back */
    assert_near(rows.take_up_m[0], mech_row_take_up(&run, rows.tension_n[0], rows.peak_n[0], NULL), 1e-9);
    const mech_rows kept = rows;
    const mech_turn_result again = mech_turn_body(&run, &rows, 0, &t, &engaged, 1.0 / 16.0, true, limit);
    assert_int_equal(again.end, MECH_TURN_TOO_HEAVY);
    assert_near(again.turns, 0.0, 0.0);
    assert_near(rows.tension_n[0], kept.tension_n[0], 0.0);
    assert_near(rows.peak_n[0], kept.peak_n[0], 0.0);
    /* Turning loose is lighter and goes. */
    assert_int_equal(mech_turn_body(&run, &rows, 0, &t, &engaged, -1.0, true, limit).end, MECH_TURN_DONE);
}

/* The twist that stays grows with tension, length and friction left, never beyond what there was. */
static void test_twist_kept(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(3.0, 3);
    plain_build(&made, &run);
    mech_turnbuckle t = quarter_28();
    const double kept = mech_twist_kept(&run, &t, 5.0, 1000.0);
    assert_true(kept > 0.0 && kept < 5.0);
    assert_near(torsion_of(&run, kept), 0.5 * mech_thread_lower(&t.cable, 1000.0), 1e-12);
    assert_near(mech_twist_kept(&run, &t, -5.0, 1000.0), -kept, 1e-12);
    assert_near(mech_twist_kept(&run, &t, 0.5 * kept, 1000.0), 0.5 * kept, 1e-12);
    assert_near(mech_twist_kept(&run, &t, 5.0, 2000.0), 2.0 * kept, 1e-9);
    t.twist_release = 0.0;
    assert_near(mech_twist_kept(&run, &t, 5.0, 1000.0), 0.0, 0.0);
    t.twist_release = 0.5;
    t.anchor.friction = 0.30; /* twist from tightening runs back on the anchor thread, from loosening on the cable's */
    assert_near(torsion_of(&run, mech_twist_kept(&run, &t, 9.0, 1000.0)), 0.5 * mech_thread_lower(&t.anchor, 1000.0),
                1e-12);
    assert_near(mech_twist_kept(&run, &t, -9.0, 1000.0), -kept, 1e-12);
    t.twist_release = 1.0;
    t.anchor.friction = 0.03; /* does not lock itself */
    assert_near(mech_twist_kept(&run, &t, 5.0, 1000.0), 0.0, 0.0);
    run.made_of.strand.torsion_n_m2 = 0.0;
    assert_near(mech_twist_kept(&run, &t, 5.0, 1000.0), 5.0, 0.0);
}

/* Wound-up cable helps the body on its way back. */
static void test_twist_helps_loosening(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(12.0, 10);
    plain_build(&made, &run);
    const mech_turnbuckle t = quarter_28();
    mech_rows rows = plain_rows(&run, 1000.0);
    mech_engaged engaged = start_at(12.0);
    engaged.twist_turns = 4.0;
    const mech_turn_result r = mech_turn_body(&run, &rows, 0, &t, &engaged, -1e-6, false, NO_LIMIT);
    assert_near(r.pin_n_m, mech_thread_lower(&t.anchor, 1000.0) - torsion_of(&run, 4.0), 1e-5);
}

/* The tension fell after the cable was wound up, so its thread holds less than its torsion: what is too much slips into
 * the body as it turns, no faster than that, until the two balance. */
static void test_excess_twist_slips(void **state)
{
    (void)state;
    mech_run run;
    const mech_structure made = plain_structure(3.0, 3);
    plain_build(&made, &run);
    mech_turnbuckle t = quarter_28();
    t.cable.friction = 0.08;
    mech_rows rows = plain_rows(&run, 200.0);
    mech_engaged engaged = start_at(12.0);
    engaged.twist_turns = 5.0;
    mech_turn_body(&run, &rows, 0, &t, &engaged, 1.0 / 16.0, false, NO_LIMIT);
    assert_near(engaged.twist_turns, 5.0 - 1.0 / 16.0, 1e-12);
    assert_near(engaged.cable_turns, 12.0 + 2.0 / 16.0, 1e-12);
    mech_turn_body(&run, &rows, 0, &t, &engaged, 5.0, false, NO_LIMIT);
    assert_true(torsion_of(&run, engaged.twist_turns) <= mech_thread_raise(&t.cable, rows.tension_n[0]) + 1e-12);
    assert_near(engaged.cable_turns + engaged.twist_turns, 17.0 + 5.0 + 1.0 / 16.0, 1e-9);
}

/* A strand without torsion: the stud always follows. A slack row: nothing grips the stud, so it stays behind. */
static void test_limits(void **state)
{
    (void)state;
    mech_run run;
    mech_structure made = plain_structure(0.8, 1);
    made.strand.torsion_n_m2 = 0.0;
    plain_build(&made, &run);
    const mech_turnbuckle t = quarter_28();
    mech_rows rows = plain_rows(&run, 200.0);
    mech_engaged engaged = start_at(12.0);
    assert_near(mech_turn_body(&run, &rows, 0, &t, &engaged, 1.0, false, NO_LIMIT).lost_turns, 1.0, 1e-12);

    mech_rows slack = {.is_strung = {false}};
    engaged = start_at(12.0);
    made.strand.torsion_n_m2 = PLAIN_TORSION_NM2;
    plain_build(&made, &run);
    const mech_turn_result r = mech_turn_body(&run, &slack, 0, &t, &engaged, 1.0, false, NO_LIMIT);
    assert_near(r.lost_turns, 0.0, 0.0);
    assert_near(r.pin_n_m, 0.0, 0.0);
    assert_near(engaged.cable_turns, 13.0, 1e-12);
    const mech_turn_result none = mech_turn_body(&run, &slack, 0, &t, &engaged, 0.0, true, NO_LIMIT);
    assert_near(none.turns, 0.0, 0.0);
    assert_int_equal(none.end, MECH_TURN_DONE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_geometry),
        cmocka_unit_test(test_turns_for_tension),
        cmocka_unit_test(test_pin_torque),
        cmocka_unit_test(test_held_and_not_held),
        cmocka_unit_test(test_torsion_balance),
        cmocka_unit_test(test_dry_stud_follows),
        cmocka_unit_test(test_twist_stays_and_unwinds),
        cmocka_unit_test(test_bottoms_out),
        cmocka_unit_test(test_comes_out),
        cmocka_unit_test(test_too_heavy),
        cmocka_unit_test(test_twist_kept),
        cmocka_unit_test(test_twist_helps_loosening),
        cmocka_unit_test(test_excess_twist_slips),
        cmocka_unit_test(test_limits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
