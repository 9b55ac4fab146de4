/* The stages from mark to crimp under made-up hands: by the keyboard alone and by the mouse alone each gesture ends in
 * its action with the numbers of what the hand did, and a hasty hand does worse than a steady one. Times and limits are
 * ours; the bands that a careful hand must meet are those of the criteria table. */
#include "near.h"

#include "draw_list.h"
#include "fake_font.h"
#include "stage_hands.h"

static const double FULL_MARK_M = 0.0016;     /* criteria.def, mark_height: full marks */
static const double FULL_DEPTH_M = 0.0015;    /* hole_depth */
static const double FULL_SQUARE_RAD = 0.0262; /* hole_square */

static job_desk *desk_at(job_stage stage, int more)
{
    job_desk *desk = calloc(1, sizeof *desk);
    job_desk_open(desk, "soft-porch", JOB_PRACTICE, "en");
    desk->metrics = fake_metrics;
    job_desk_ready(desk);
    job_desk_frame(desk, false);
    hands_at(desk, stage, more);
    hands_wait(desk, 0.1F);
    return desk;
}

static void close_desk(job_desk *desk)
{
    job_desk_close(desk);
    free(desk);
}

/* The middle of a text in the fitting's card; the last drawn counts. */
static bool find(const job_desk *desk, const char *text, float *x, float *y)
{
    const view_draw *draw = desk->draw;
    bool is_found = false;
    for (size_t i = 0; i < draw->commands; i++) {
        const view__command *c = &draw->command[i];
        if (c->op == VIEW__TEXT && strcmp(&draw->text[c->first], text) == 0 && c->rect.y > 455.0F &&
            c->rect.x < 842.0F) {
            const float width = fake_width(NULL, c->font, text);
            *x = c->rect.x + width * (c->align == VIEW_LEFT ? 0.5F : c->align == VIEW_RIGHT ? -0.5F : 0.0F);
            *y = c->rect.y - c->font.size * 0.35F;
            is_found = true;
        }
    }
    return is_found;
}

static void point_at(job_desk *desk, const char *word_key)
{
    float x = 0.0F;
    float y = 0.0F;
    const char *word = tr_word(desk->lang, word_key);
    if (!find(desk, word, &x, &y)) {
        print_error("not on the screen: %s\n", word);
        fail();
    }
    hands_point(desk, x, y);
    hands_wait(desk, 0.05F);
}

static void mouse_hold(job_desk *desk, float seconds)
{
    hands_mouse(desk, VIEW_MOUSE_LEFT, true);
    hands_wait(desk, seconds);
    hands_mouse(desk, VIEW_MOUSE_LEFT, false);
    hands_wait(desk, 0.1F);
}

static void mouse_hold_on(job_desk *desk, const char *word_key, float seconds)
{
    point_at(desk, word_key);
    mouse_hold(desk, seconds);
}

static void click_on(job_desk *desk, const char *word_key)
{
    mouse_hold_on(desk, word_key, 0.05F);
}

static void mouse_hold_at(job_desk *desk, float x, float y, float seconds)
{
    hands_point(desk, x, y);
    hands_wait(desk, 0.05F);
    mouse_hold(desk, seconds);
}

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

/* ---- assemble --------------------------------------------------------------------------------------------------- */

static void keys_screw_each_stud_into_its_end(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_ASSEMBLE, 0);
    const int row = desk->job->row;
    hands_hold(desk, 'W', 1.0F); /* nothing chosen: nothing happens */
    assert_false(desk->state.row[row].anchor_in);
    hands_tap(desk, '1');
    hands_tap(desk, '3');
    hands_hold(desk, VIEW_KEY_SPACE, 5.0F);
    assert_true(desk->state.row[row].anchor_in);
    assert_near(desk->state.row[row].engaged.anchor_turns, 10.0, 0.51); /* 2 turns a second, half turns */
    view_job_show(desk->job, JOB_STAGE_ASSEMBLE, row);
    hands_tap(desk, '2');
    hands_tap(desk, '4');
    hands_hold(desk, 'W', 3.0F);
    assert_near(desk->state.row[row].engaged.cable_turns, 6.0, 0.51);
    close_desk(desk);
}

static void the_wrong_hand_is_refused_and_remembered(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_ASSEMBLE, 0);
    const int row = desk->job->row;
    click_on(desk, "do.assemble.cable");
    click_on(desk, "do.assemble.plain");
    mouse_hold_on(desk, "do.assemble.screw", 2.0F);
    assert_int_equal(desk->state.row[row].wrong_starts, 1);
    assert_false(desk->state.row[row].cable_in);
    assert_true(desk->job->hand.assemble.is_refused);
    mouse_hold_at(desk, 450.0F, 600.0F, 2.0F); /* the ring-marked end in the picture */
    assert_true(desk->state.row[row].cable_in);
    assert_near(desk->state.row[row].engaged.cable_turns, 4.0, 0.51);
    close_desk(desk);
}

/* ---- cut -------------------------------------------------------------------------------------------------------- */

static void steady_keys_cut_to_length(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_CUT, 0);
    const int row = desk->job->row;
    const job_row *work = &desk->state.row[row];
    hands_tap(desk, 'H');
    assert_true(work->is_hung);
    view_job_show(desk->job, JOB_STAGE_CUT, row);
    hands_hold(desk, 'W', (float)(desk->what.setup.hand_pull_n / 30.0));
    assert_near(work->pulled_n, desk->what.setup.hand_pull_n, 0.06 * desk->what.setup.hand_pull_n);
    hands_hold(desk, 'M', 2.0F);
    assert_true(work->is_cable_marked);
    assert_near(work->mark_error_m, 0.0, 0.0006);
    hands_tap(desk, '1');
    hands_wait(desk, 2.0F);
    hands_hold(desk, 'X', 1.2F);
    assert_true(work->is_cut);
    assert_int_equal(work->cutter, 0);
    assert_near(work->length_error_m, 0.0, 0.002);
    close_desk(desk);
}

static void a_hasty_pen_and_cutter_miss(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_CUT, 0);
    const int row = desk->job->row;
    const job_row *work = &desk->state.row[row];
    hands_tap(desk, 'H');
    view_job_show(desk->job, JOB_STAGE_CUT, row);
    hands_hold(desk, 'W', 0.5F);
    assert_true(work->pulled_n < 20.0);
    hands_tap(desk, 'M');
    assert_true(fabs(work->mark_error_m) > 0.0016);
    hands_tap(desk, '2');
    hands_hold(desk, 'X', 0.2F); /* let go before the jaws bite: nothing is cut */
    hands_wait(desk, 1.0F);
    assert_false(work->is_cut);
    hands_hold(desk, 'X', 1.2F);
    assert_true(work->is_cut && work->is_frayed);
    close_desk(desk);
}

static void the_mouse_alone_hangs_pulls_marks_and_cuts(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_CUT, 0);
    const int row = desk->job->row;
    const job_row *work = &desk->state.row[row];
    click_on(desk, "do.cut.hang");
    view_job_show(desk->job, JOB_STAGE_CUT, row);
    hands_wait(desk, 0.1F);
    mouse_hold_on(desk, "do.cut.pull", 2.0F);
    assert_near(work->pulled_n, 60.0, 4.0);
    mouse_hold_on(desk, "do.cut.mark", 2.0F);
    assert_near(work->mark_error_m, 0.0, 0.0006);
    click_on(desk, "do.cut.cable_cutter");
    hands_wait(desk, 1.5F);
    mouse_hold_on(desk, "do.cut.cut", 1.2F);
    assert_true(work->is_cut && !work->is_frayed);
    close_desk(desk);
}

static void no_cut_without_glasses(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_CUT, 4);
    const job_action off = job_make(JOB_DO_GLASSES, desk->state.now_ms, (const double[]){0.0}, 1);
    (void)job_desk_do(desk, &off);
    hands_tap(desk, '1');
    const int row = desk->job->row;
    const int before = desk->state.refused_without_glasses;
    hands_hold(desk, 'X', 1.5F);
    assert_int_equal(desk->state.refused_without_glasses, before + 1);
    assert_false(desk->state.row[row].is_cut);
    close_desk(desk);
}

/* ---- crimp ------------------------------------------------------------------------------------------------------ */

static void a_short_push_stops_short_and_a_long_one_goes_home(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_CRIMP, 0);
    const int row = desk->job->row;
    const double bore = desk->what.setup.crimp.bore_m;
    hands_hold(desk, 'U', (float)(bore / 0.012));
    const double at_stop = desk->state.row[row].crimp.seated_m;
    assert_true(at_stop < bore - 0.0012 && at_stop > bore - 0.005);
    view_job_show(desk->job, JOB_STAGE_CRIMP, row);
    hands_hold(desk, 'U', (float)(bore / 0.012) + 2.5F);
    assert_near(desk->state.row[row].crimp.seated_m, bore, 1e-6);
    hands_tap(desk, 'S');
    assert_true(desk->state.row[row].has_seat_mark);
    close_desk(desk);
}

static void slide_in_by_keys(job_desk *desk, float to_m)
{
    hands_press(desk, VIEW_KEY_LEFT);
    for (int i = 0; i < 600 && desk->job->tools.crimp.die_m < to_m; i++) {
        hands_wait(desk, 1.0F / 60.0F);
    }
    hands_let_go(desk, VIEW_KEY_LEFT);
}

static void keys_make_a_crimp_of_two_crossed_squeezes(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_CRIMP, 0);
    const int row = desk->job->row;
    const job_row *work = &desk->state.row[row];
    hands_hold(desk, 'U', 5.0F);
    view_job_show(desk->job, JOB_STAGE_CRIMP, row);
    slide_in_by_keys(desk, 0.010F);
    hands_tap(desk, 'E');
    assert_true(work->is_die_placed);
    assert_near(work->die_m, 0.010, 0.0005);
    hands_hold(desk, 'Q', 2.5F);
    assert_int_equal(work->crimp.squeeze_count, 1);
    assert_near(work->crimp.squeeze[0].closing, 1.0, 1e-9);
    for (int i = 0; i < 6; i++) {
        hands_tap(desk, 'T');
    }
    hands_hold(desk, VIEW_KEY_SPACE, 2.5F);
    assert_int_equal(work->crimp.squeeze_count, 2);
    assert_near(work->crimp.squeeze[1].angle_rad - work->crimp.squeeze[0].angle_rad, TR_PI / 2.0, 0.002);
    assert_near(work->crimp.squeeze[1].position_m, 0.010, 0.0005);
    close_desk(desk);
}

static void letting_go_early_leaves_the_crimp_half_closed(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_CRIMP, 2);
    const int row = desk->job->row;
    hands_hold(desk, 'Q', 0.8F);
    const job_row *work = &desk->state.row[row];
    assert_int_equal(work->crimp.squeeze_count, 1);
    assert_near(work->crimp.squeeze[0].closing, 0.47, 0.04);
    assert_true(work->crimp.squeeze[0].position_m < 0.0); /* squeezed where the crimper rested: before the mouth */
    close_desk(desk);
}

static void the_mouse_slides_turns_and_squeezes(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_CRIMP, 0);
    const int row = desk->job->row;
    const job_row *work = &desk->state.row[row];
    mouse_hold_on(desk, "do.crimp.push", 5.0F);
    assert_near(work->crimp.seated_m, desk->what.setup.crimp.bore_m, 1e-6);
    view_job_show(desk->job, JOB_STAGE_CRIMP, row);
    hands_wait(desk, 0.1F);
    hands_point(desk, 250.0F, 600.0F);
    hands_wait(desk, 0.05F);
    hands_mouse(desk, VIEW_MOUSE_LEFT, true);
    for (int i = 0; i < 60; i++) {
        hands_point(desk, 250.0F - (float)i, 600.0F);
        hands_wait(desk, 1.0F / 60.0F);
    }
    hands_mouse(desk, VIEW_MOUSE_LEFT, false);
    hands_wait(desk, 0.1F);
    assert_true(work->is_die_placed);
    assert_true(work->die_m > 0.0);
    mouse_hold_on(desk, "do.crimp.squeeze", 2.5F);
    assert_int_equal(work->crimp.squeeze_count, 1);
    for (int i = 0; i < 6; i++) {
        click_on(desk, "do.crimp.turn_on");
    }
    mouse_hold_on(desk, "do.crimp.squeeze", 2.5F);
    assert_int_equal(work->crimp.squeeze_count, 2);
    assert_near(work->crimp.squeeze[1].angle_rad, TR_PI / 2.0, 0.002);
    close_desk(desk);
}

static void redoing_a_crimp_asks_twice(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_CRIMP, 0);
    const int row = desk->job->row;
    const job_row *work = &desk->state.row[row];
    hands_hold(desk, 'U', 5.0F);
    view_job_show(desk->job, JOB_STAGE_CRIMP, row);
    hands_hold(desk, 'Q', 2.5F);
    assert_int_equal(work->crimp.squeeze_count, 1);
    hands_tap(desk, 'R');
    assert_int_equal(work->crimp.squeeze_count, 1);
    hands_wait(desk, 5.0F); /* too late: it asks anew */
    hands_tap(desk, 'R');
    assert_int_equal(work->crimp.squeeze_count, 1);
    hands_tap(desk, 'R');
    assert_int_equal(work->crimp.squeeze_count, 0);
    assert_int_equal(work->redone, 1);
    close_desk(desk);
}

/* ---- all of them ------------------------------------------------------------------------------------------------ */

static void stay_at(job_desk *desk, job_stage stage, int row)
{
    view_job_show(desk->job, stage, row);
    hands_wait(desk, 0.1F);
}

/* The key table of stage_hand.h, played by the clock alone: one row from bare wood to a good crimp. */
static void fit_blindly(job_desk *desk, int row)
{
    const job_setup *setup = &desk->what.setup;
    stay_at(desk, JOB_STAGE_MARK, row);
    hands_hold(desk, 'F', 2.0F);
    stay_at(desk, JOB_STAGE_MARK, row);
    hands_hold(desk, 'M', 2.0F);
    stay_at(desk, JOB_STAGE_DRILL, row);
    hands_tap(desk, (char)('1' + setup->right_bit));
    stay_at(desk, JOB_STAGE_DRILL, row);
    hands_wait(desk, 2.0F);
    for (int i = 0; i < 8; i++) {
        hands_hold(desk, 'W', 1.0F);
        hands_wait(desk, 1.5F);
        if (i % 2 == 1) {
            hands_tap(desk, 'B');
            hands_wait(desk, 1.5F);
        }
    }
    hands_tap(desk, 'E');
    stay_at(desk, JOB_STAGE_INSERT, row);
    hands_wait(desk, 2.0F);
    hands_hold(desk, 'W', (float)((setup->insert.length_m - 0.0046) / 0.008) + 0.5F); /* 300 rpm */
    hands_tap(desk, 'E');
    stay_at(desk, JOB_STAGE_ASSEMBLE, row);
    for (int stud = 0; stud < 2; stud++) {
        hands_tap(desk, stud == 0 ? '1' : '2');
        hands_tap(desk, stud == 0 ? '3' : '4');
        hands_hold(desk, 'W', 4.0F);
        stay_at(desk, JOB_STAGE_ASSEMBLE, row);
    }
    stay_at(desk, JOB_STAGE_CUT, row);
    hands_tap(desk, 'H');
    stay_at(desk, JOB_STAGE_CUT, row);
    hands_hold(desk, 'W', (float)(setup->hand_pull_n / 30.0));
    hands_hold(desk, 'M', 2.0F);
    hands_tap(desk, (char)('1' + setup->right_cutter));
    stay_at(desk, JOB_STAGE_CUT, row);
    hands_wait(desk, 2.0F);
    hands_hold(desk, 'X', 1.2F);
    stay_at(desk, JOB_STAGE_CRIMP, row);
    hands_hold(desk, 'U', 6.0F);
    hands_tap(desk, 'S');
    hands_hold(desk, VIEW_KEY_LEFT, 3.5F);
    hands_hold(desk, 'Q', 2.0F);
    for (int i = 0; i < 6; i++) {
        hands_tap(desk, 'T');
    }
    hands_hold(desk, 'Q', 2.0F);
}

static void the_key_table_fits_a_row_blindly(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_MARK, 0);
    const job_setup *setup = &desk->what.setup;
    const int row = desk->job->row;
    const int refusals = desk->state.refusals;
    fit_blindly(desk, row);
    const job_row *work = &desk->state.row[row];
    assert_int_equal(desk->state.refusals, refusals);
    assert_near(work->height_error_m, 0.0, FULL_MARK_M);
    assert_true(hypot(work->hole.pitch_rad, work->hole.yaw_rad) < FULL_SQUARE_RAD);
    assert_true(work->clearings >= 2 && work->hole.depth_m >= setup->hole_depth_m - FULL_DEPTH_M);
    assert_near(work->seat.proud_m, 0.0, 0.001);
    assert_near(work->engaged.anchor_turns, 8.0, 0.51);
    assert_near(work->engaged.cable_turns, 8.0, 0.51);
    assert_true(work->is_cut && !work->is_frayed);
    assert_near(work->length_error_m, 0.0, 0.002);
    assert_near(work->crimp.seated_m, setup->crimp.bore_m, 1e-6);
    assert_true(work->has_seat_mark);
    assert_int_equal(work->crimp.squeeze_count, 2);
    assert_near(work->crimp.squeeze[1].angle_rad, TR_PI / 2.0, 0.002);
    assert_near(work->crimp.squeeze[0].position_m, 0.011,
                0.001); /* 3.5 s at 6 mm a second from 10 mm before the mouth */
    close_desk(desk);
}

/* An idle screen asks for no frames, whatever trembles. */
static void hands_at_rest_ask_for_no_frames(void **state)
{
    (void)state;
    for (int stage = JOB_STAGE_MARK; stage <= JOB_STAGE_CRIMP; stage++) {
        job_desk *desk = desk_at((job_stage)stage, stage == JOB_STAGE_CUT ? 4 : 0);
        hands_wait(desk, 6.0F);
        if (desk->ui.wants_frame) {
            print_error("%s\n", job_stage_name((job_stage)stage));
        }
        assert_false(desk->ui.wants_frame);
        close_desk(desk);
    }
}

/* What is held when another stage comes up ends nowhere. */
static void a_gesture_is_given_up_with_its_stage(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_MARK, 1);
    const int row = desk->job->row;
    hands_press(desk, 'M');
    hands_wait(desk, 0.5F);
    view_job_show(desk->job, JOB_STAGE_DRILL, row);
    hands_wait(desk, 0.5F);
    hands_let_go(desk, 'M');
    view_job_show(desk->job, JOB_STAGE_MARK, row);
    hands_wait(desk, 0.5F);
    assert_false(desk->state.row[row].is_marked);
    close_desk(desk);
}

static bool shows_key(const job_desk *desk)
{
    const view_draw *draw = desk->draw;
    for (size_t i = 0; i < draw->commands; i++) {
        const view__command *c = &draw->command[i];
        if (c->op == VIEW__TEXT && strncmp(&draw->text[c->first], "do.", 3) == 0) {
            print_error("%s\n", &draw->text[c->first]);
            return true;
        }
    }
    return false;
}

/* One frame after another at a slower rate than the desk's own. */
static void wait_slowly(job_desk *desk, float seconds, int rate)
{
    for (int i = (int)lroundf(seconds * (float)rate); i > 0; i--) {
        desk->input.dt_s = 1.0F / (float)rate;
        desk->input.time_s += 1.0 / (double)rate;
        view_begin(&desk->ui, &desk->input, &desk->prefs, desk->lang);
        view_job_frame(&desk->ui, desk->job, &desk->model, &desk->said);
        view_end(&desk->ui);
        desk->input.keys = 0;
        for (int k = 0; k < desk->said.action_count; k++) {
            (void)job_desk_do(desk, &desk->said.action[k]);
        }
    }
}

/* A slow machine does not change what a hand does: 2 s at the trigger are 2 s. */
static void a_slow_machine_drills_as_deep(void **state)
{
    (void)state;
    job_desk *fast = desk_at(JOB_STAGE_DRILL, 0);
    job_desk *slow = desk_at(JOB_STAGE_DRILL, 0);
    hands_tap(fast, '1');
    hands_tap(slow, '1');
    hands_press(fast, 'W');
    hands_wait(fast, 2.0F);
    hands_press(slow, 'W');
    wait_slowly(slow, 2.0F, 15);
    assert_true(fast->job->tools.drill.deepest_m > 0.008F);
    assert_near((double)slow->job->tools.drill.deepest_m, (double)fast->job->tools.drill.deepest_m, 0.001);
    close_desk(fast);
    close_desk(slow);
}

/* Every word that the stages ask for is there in both languages: a missing one would show its key. */
static void no_stage_shows_a_bare_key(void **state)
{
    (void)state;
    for (int i = 0; i < 2; i++) {
        for (int stage = JOB_STAGE_MARK; stage <= JOB_STAGE_CRIMP; stage++) {
            job_desk *desk = calloc(1, sizeof *desk);
            job_desk_open(desk, "soft-porch", JOB_GUIDED, i == 0 ? "en" : "es");
            desk->metrics = fake_metrics;
            job_desk_ready(desk);
            job_desk_frame(desk, false);
            hands_at(desk, (job_stage)stage, 1);
            hands_wait(desk, 0.1F);
            assert_false(shows_key(desk));
            close_desk(desk);
        }
    }
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
        cmocka_unit_test(keys_screw_each_stud_into_its_end),
        cmocka_unit_test(the_wrong_hand_is_refused_and_remembered),
        cmocka_unit_test(steady_keys_cut_to_length),
        cmocka_unit_test(a_hasty_pen_and_cutter_miss),
        cmocka_unit_test(the_mouse_alone_hangs_pulls_marks_and_cuts),
        cmocka_unit_test(no_cut_without_glasses),
        cmocka_unit_test(a_short_push_stops_short_and_a_long_one_goes_home),
        cmocka_unit_test(keys_make_a_crimp_of_two_crossed_squeezes),
        cmocka_unit_test(letting_go_early_leaves_the_crimp_half_closed),
        cmocka_unit_test(the_mouse_slides_turns_and_squeezes),
        cmocka_unit_test(redoing_a_crimp_asks_twice),
        cmocka_unit_test(the_key_table_fits_a_row_blindly),
        cmocka_unit_test(a_slow_machine_drills_as_deep),
        cmocka_unit_test(hands_at_rest_ask_for_no_frames),
        cmocka_unit_test(a_gesture_is_given_up_with_its_stage),
        cmocka_unit_test(no_stage_shows_a_bare_key),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
