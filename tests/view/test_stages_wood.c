/* Hands at work on the post: marking, drilling, driving the insert, by keys and by mouse. A steady hand must do better than a
 * hasty one, through the same input. */
#include "stage_desk.h"

/* ---- mark ------------------------------------------------------------------------------------------------------- */

static void a_steady_key_marks_true_and_a_hasty_one_does_not(void **state)
{
    (void)state;
    job_desk *steady = desk_at(JOB_STAGE_MARK, 0);
    job_desk *hasty = desk_at(JOB_STAGE_MARK, 0);
    hands_hold(steady, 'F', 2.0F);
    hands_tap(hasty, 'F');
    assert_true(steady->state.is_pole_set && hasty->state.is_pole_set);
    assert_near(steady->state.pole_error_m, 0.0, 0.0006);
    assert_true(fabs(hasty->state.pole_error_m) > 0.0016);
    const int row = steady->job->row;
    hands_hold(steady, 'M', 2.0F);
    hands_tap(hasty, 'M');
    assert_true(steady->state.row[row].is_marked);
    assert_near(steady->state.row[row].height_error_m, 0.0, FULL_MARK_M);
    const double off = hasty->state.row[row].height_error_m - hasty->state.pole_error_m;
    assert_true(hasty->state.row[row].is_marked && fabs(off) > 0.0016);
    close_desk(steady);
    close_desk(hasty);
}

static void arrows_move_the_pencil_and_not_the_row(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_MARK, 1);
    const int row = desk->job->row;
    hands_press(desk, 'M');
    hands_wait(desk, 1.5F);
    hands_hold(desk, VIEW_KEY_UP, 1.0F);
    assert_int_equal(desk->job->row, row);
    hands_let_go(desk, 'M');
    assert_near(desk->state.row[row].height_error_m, 0.004, 0.001);
    close_desk(desk);
}

/* The row's tick on the pole is level with its number; 0.35 of the number's size below its middle is made up for by
 * find. */
static void the_mouse_marks_where_it_points(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_MARK, 0);
    mouse_hold_on(desk, "do.mark.pole", 2.0F);
    assert_near(desk->state.pole_error_m, 0.0, 0.0006);
    char number[8];
    float x = 0.0F;
    float y = 0.0F;
    const int row = desk->job->row;
    tr_format(number, sizeof number, "%d", row + 1);
    hands_wait(desk, 0.1F);
    assert_true(find(desk, number, &x, &y));
    mouse_hold_at(desk, x + 60.0F, y, 2.0F);
    assert_true(desk->state.row[row].is_marked);
    assert_near(desk->state.row[row].height_error_m, 0.0, FULL_MARK_M);
    view_job_show(desk->job, JOB_STAGE_MARK, row);
    hands_wait(desk, 0.1F);
    mouse_hold_at(desk, x + 60.0F, y - 15.0F, 2.0F);
    assert_true(desk->state.row[row].height_error_m > 0.004); /* 15 units above the tick is above the row */
    close_desk(desk);
}

static void no_row_is_marked_before_the_pole_stands(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_MARK, 0);
    const int64_t before = desk->state.action_count;
    hands_hold(desk, 'M', 1.0F);
    assert_int_equal(desk->state.action_count, before);
    hands_hold(desk, 'F', 1.0F);
    hands_hold(desk, 'M', 1.0F);
    assert_int_equal(desk->state.action_count, before + 2);
    close_desk(desk);
}

/* ---- drill ------------------------------------------------------------------------------------------------------ */

/* A person at the bubbles: an arrow key against each lean. */
static void steer_square(job_desk *desk)
{
    const float pitch = desk->job->tools.drill.pitch_rad;
    const float yaw = desk->job->tools.drill.yaw_rad;
    desk->input.held[VIEW_KEY_DOWN] = pitch > 0.004F;
    desk->input.held[VIEW_KEY_UP] = pitch < -0.004F;
    desk->input.held[VIEW_KEY_LEFT] = yaw > 0.004F;
    desk->input.held[VIEW_KEY_RIGHT] = yaw < -0.004F;
}

static void drill_until(job_desk *desk, double depth_m, bool steers)
{
    for (int i = 0; i < 60 * 20 && (double)desk->job->tools.drill.deepest_m < depth_m; i++) {
        if (steers) {
            steer_square(desk);
        }
        hands_wait(desk, 1.0F / 60.0F);
    }
}

static void let_go_of_all(job_desk *desk)
{
    memset(desk->input.held, 0, sizeof desk->input.held);
    hands_wait(desk, 0.05F);
}

static void drill_with_care(job_desk *desk)
{
    const double depth = desk->what.setup.hole_depth_m;
    char letter = (char)('1' + desk->what.setup.right_bit);
    hands_tap(desk, letter);
    hands_wait(desk, 1.5F);
    for (int part = 1; part <= 3; part++) {
        hands_press(desk, 'W');
        drill_until(desk, depth * part / 3.0, true);
        let_go_of_all(desk);
        if (part < 3) {
            hands_tap(desk, 'B');
            hands_wait(desk, 1.2F);
        }
    }
    hands_tap(desk, 'E');
}

static void drill_in_haste(job_desk *desk)
{
    hands_tap(desk, (char)('1' + desk->what.setup.right_bit));
    hands_hold(desk, 'W', 7.0F);
    hands_tap(desk, 'E');
}

static void careful_keys_drill_a_better_hole_than_hasty_ones(void **state)
{
    (void)state;
    job_desk *careful = desk_at(JOB_STAGE_DRILL, 0);
    job_desk *hasty = desk_at(JOB_STAGE_DRILL, 0);
    const int row = careful->job->row;
    drill_with_care(careful);
    drill_in_haste(hasty);
    const job_row *good = &careful->state.row[row];
    const job_row *bad = &hasty->state.row[row];
    assert_true(good->is_drilled && bad->is_drilled);
    assert_int_equal(careful->state.bit, careful->what.setup.right_bit);
    assert_true(careful->state.drill_rpm > 0.0);
    assert_near(good->hole.depth_m, careful->what.setup.hole_depth_m, FULL_DEPTH_M);
    assert_int_equal(good->clearings, 2);
    assert_int_equal(bad->clearings, 0);
    const double good_tilt = hypot(good->hole.pitch_rad, good->hole.yaw_rad);
    const double bad_tilt = hypot(bad->hole.pitch_rad, bad->hole.yaw_rad);
    assert_true(good_tilt < FULL_SQUARE_RAD);
    assert_true(bad_tilt > 1.5 * good_tilt);
    assert_true(bad->hole.wander_m > good->hole.wander_m);
    assert_true(fabs(bad->hole.depth_m - hasty->what.setup.hole_depth_m) > FULL_DEPTH_M);
    close_desk(careful);
    close_desk(hasty);
}

/* Both wait for the hand to come square; one then looks at the bubbles and one does not. */
static void a_working_bit_walks_off_unless_it_is_steered(void **state)
{
    (void)state;
    double tilt[2];
    for (int steers = 0; steers < 2; steers++) {
        job_desk *desk = desk_at(JOB_STAGE_DRILL, 0);
        hands_tap(desk, '1');
        hands_wait(desk, 2.0F);
        hands_press(desk, 'W');
        drill_until(desk, 0.035, steers != 0);
        tilt[steers] = hypot((double)desk->job->tools.drill.pitch_rad, (double)desk->job->tools.drill.yaw_rad);
        close_desk(desk);
    }
    assert_true(tilt[1] < 0.01);
    assert_true(tilt[0] > 2.0 * tilt[1]);
}

static void pauses_alone_keep_a_blind_hand_square(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_DRILL, 0);
    const int row = desk->job->row;
    hands_tap(desk, '1');
    hands_wait(desk, 2.0F);
    for (int i = 0; i < 5; i++) {
        hands_hold(desk, VIEW_KEY_SPACE, 1.0F);
        hands_wait(desk, 1.5F);
    }
    hands_tap(desk, VIEW_KEY_ENTER);
    const mech_hole *hole = &desk->state.row[row].hole;
    assert_true(desk->state.row[row].is_drilled);
    assert_true(hole->depth_m > 0.02 && hole->depth_m < 0.042); /* 8 mm/s, less with chips in the flutes */
    assert_true(hypot(hole->pitch_rad, hole->yaw_rad) < FULL_SQUARE_RAD);
    close_desk(desk);
}

static void the_mouse_alone_drills_and_clears(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_DRILL, 0);
    const int row = desk->job->row;
    char size[48];
    float x = 0.0F;
    float y = 0.0F;
    tr_quantity_text(desk->what.setup.bit[1].diameter_m, TR_DIM_LENGTH, TR_US, TR_FINE, size, sizeof size);
    assert_true(find(desk, size, &x, &y));
    mouse_hold_at(desk, x, y, 0.05F);
    assert_int_equal(desk->state.bit, 1);
    hands_wait(desk, 1.5F);
    mouse_hold_at(desk, 250.0F, 600.0F, 2.5F);
    hands_mouse(desk, VIEW_MOUSE_RIGHT, true);
    hands_wait(desk, 0.05F);
    hands_mouse(desk, VIEW_MOUSE_RIGHT, false);
    hands_wait(desk, 1.2F);
    const float before = desk->job->tools.drill.yaw_rad;
    hands_mouse(desk, VIEW_MOUSE_LEFT, true);
    hands_wait(desk, 0.2F);
    hands_point(desk, 300.0F, 600.0F); /* leans the drill to the right */
    hands_wait(desk, 0.1F);
    assert_true(desk->job->tools.drill.yaw_rad > before + 0.02F);
    hands_point(desk, 250.0F, 600.0F);
    hands_wait(desk, 1.0F);
    hands_mouse(desk, VIEW_MOUSE_LEFT, false);
    hands_wait(desk, 0.1F);
    click_on(desk, "do.drill.done");
    assert_true(desk->state.row[row].is_drilled);
    assert_int_equal(desk->state.row[row].clearings, 1);
    assert_true(desk->state.row[row].hole.depth_m > 0.015);
    close_desk(desk);
}

static void the_trigger_without_glasses_is_a_counted_try(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_DRILL, 0);
    const job_action off = job_make(JOB_DO_GLASSES, desk->state.now_ms, (const double[]){0.0}, 1);
    (void)job_desk_do(desk, &off);
    const int row = desk->job->row;
    hands_tap(desk, '1');
    hands_hold(desk, 'W', 2.0F);
    assert_int_equal(desk->state.refused_without_glasses, 1);
    assert_false(desk->state.row[row].is_drilled);
    assert_true(desk->job->tools.drill.deepest_m <= 0.0F);
    close_desk(desk);
}

static void a_hole_begun_stays_when_another_row_is_chosen(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_DRILL, 0);
    const int row = desk->job->row;
    hands_tap(desk, '1');
    hands_hold(desk, 'W', 1.5F);
    view_job_show(desk->job, JOB_STAGE_INSERT, row);
    hands_wait(desk, 0.2F);
    assert_false(desk->state.row[row].is_drilled); /* not told yet */
    view_job_show(desk->job, JOB_STAGE_DRILL, row + 1);
    hands_wait(desk, 0.2F);
    assert_true(desk->state.row[row].is_drilled);
    assert_true(desk->state.row[row].hole.depth_m > 0.008);
    close_desk(desk);
}

/* ---- insert ----------------------------------------------------------------------------------------------------- */

static void drive_until(job_desk *desk, float proud_m)
{
    for (int i = 0; i < 60 * 20 && desk->job->tools.insert.proud_m > proud_m; i++) {
        hands_wait(desk, 1.0F / 60.0F);
    }
}

static void careful_keys_seat_the_insert_flush(void **state)
{
    (void)state;
    job_desk *careful = desk_at(JOB_STAGE_INSERT, 0);
    job_desk *hasty = desk_at(JOB_STAGE_INSERT, 0);
    const int row = careful->job->row;
    hands_wait(careful, 2.0F);
    hands_press(careful, 'W');
    drive_until(careful, 0.0F);
    hands_let_go(careful, 'W');
    hands_tap(careful, 'E');
    for (int i = 0; i < 12; i++) {
        hands_tap(hasty, VIEW_KEY_PAGE_UP);
    }
    hands_hold(hasty, 'W', 3.0F);
    hands_tap(hasty, 'E');
    const job_row *good = &careful->state.row[row];
    const job_row *bad = &hasty->state.row[row];
    assert_true(good->is_driven && bad->is_driven);
    assert_near(good->seat.proud_m, 0.0, 0.0006);
    assert_near(hasty->state.driver_rpm, 1500.0, 1e-9);
    assert_true(bad->seat.proud_m < good->seat.proud_m - 0.001);
    assert_true(bad->seat.stripped > 0.0 && good->seat.stripped == 0.0);
    close_desk(careful);
    close_desk(hasty);
}

static void a_hand_that_waits_drives_straighter(void **state)
{
    (void)state;
    job_desk *waits = desk_at(JOB_STAGE_INSERT, 0);
    job_desk *hurries = desk_at(JOB_STAGE_INSERT, 0);
    const int row = waits->job->row;
    hands_wait(waits, 2.5F);
    point_at(waits, "do.insert.trigger");
    mouse_hold(waits, 3.0F);
    click_on(waits, "do.insert.done");
    hands_hold(hurries, VIEW_KEY_SPACE, 0.3F);
    hands_tap(hurries, VIEW_KEY_ENTER);
    const mech_seat *good = &waits->state.row[row].seat;
    const mech_seat *bad = &hurries->state.row[row].seat;
    assert_true(waits->state.row[row].is_driven && hurries->state.row[row].is_driven);
    assert_true(hypot(good->pitch_rad, good->yaw_rad) < hypot(bad->pitch_rad, bad->yaw_rad));
    assert_true(bad->proud_m > 0.01);
    close_desk(waits);
    close_desk(hurries);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_steady_key_marks_true_and_a_hasty_one_does_not),
        cmocka_unit_test(arrows_move_the_pencil_and_not_the_row),
        cmocka_unit_test(the_mouse_marks_where_it_points),
        cmocka_unit_test(no_row_is_marked_before_the_pole_stands),
        cmocka_unit_test(careful_keys_drill_a_better_hole_than_hasty_ones),
        cmocka_unit_test(a_working_bit_walks_off_unless_it_is_steered),
        cmocka_unit_test(pauses_alone_keep_a_blind_hand_square),
        cmocka_unit_test(the_mouse_alone_drills_and_clears),
        cmocka_unit_test(the_trigger_without_glasses_is_a_counted_try),
        cmocka_unit_test(a_hole_begun_stays_when_another_row_is_chosen),
        cmocka_unit_test(careful_keys_seat_the_insert_flush),
        cmocka_unit_test(a_hand_that_waits_drives_straighter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
