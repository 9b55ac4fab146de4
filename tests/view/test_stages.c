/* The stages from assembling to crimping, and all of them together, under made-up hands (the post's: test_stages_wood.c):
 * by the keyboard alone and by the mouse alone each gesture ends in its action with the numbers of what the hand did, and a hasty hand does worse than a steady one. Times and limits are
 * ours; the bands that a careful hand must meet are those of the criteria table. */
#include "stage_desk.h"

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
