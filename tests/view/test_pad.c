/* The job by a game controller alone. Every control can be reached by the cross; a row is marked, drilled, crimped and
 * tensioned with buttons, triggers and stick. Bands are those of the criteria table. */
#include "near.h"

#include "draw_text.h"
#include "pad_hands.h"
#include "stage_desk.h"
#include "tautrow/view/text.h"
#include "text_faults.h"

static job_desk *pad_desk_at(job_stage stage, int more)
{
    job_desk *desk = desk_at(stage, more);
    desk->input.device = VIEW_BY_PAD;
    hands_wait(desk, 0.1F);
    return desk;
}

static void press_on(job_desk *desk, const char *word_key)
{
    const char *label = tr_word(desk->lang, word_key);
    if (!pad_go(desk, label)) {
        print_error("no way to: %s\n", label);
        fail();
    }
    pad_tap(desk, VIEW_KEY_ENTER);
}

/* ---- moving about ----------------------------------------------------------------------------------------------- */

static void check_ways(const job_desk *desk, const char *where)
{
    static pad_ways ways;
    const struct view_ui_keep *keep = desk->ui.keep;
    pad_find_ways(&desk->ui, desk->ui.focus, &ways);
    size_t count = 0;
    for (size_t i = 0; i < keep->stops; i++) {
        if (keep->stop[i].layer == keep->top_layer) {
            count++;
            if (ways.presses[i] < 0) {
                print_error("%s: no way to stop %zu at %.0f %.0f\n", where, i, (double)keep->stop[i].rect.x,
                            (double)keep->stop[i].rect.y);
                fail();
            }
        }
    }
    assert_true(count > 2 || keep->top_layer > 0);
}

static void the_cross_reaches_every_control_of_every_stage(void **state)
{
    (void)state;
    static const float sizes[][3] = {{1280, 800, 1}, {1024, 640, 1}, {1280, 800, 2}, {1024, 640, 2}};
    for (int stage = 0; stage < JOB_STAGE_COUNT; stage++) {
        job_desk *desk = pad_desk_at(stage == JOB_STAGE_READ ? JOB_STAGE_MARK : (job_stage)stage, 0);
        view_job_show(desk->job, (job_stage)stage, -1);
        for (size_t i = 0; i < 4; i++) {
            for (int left = 0; left < 2; left++) {
                char where[64];
                desk->input.width = sizes[i][0];
                desk->input.height = sizes[i][1];
                desk->prefs.text_scale = sizes[i][2];
                desk->prefs.left_handed = left != 0;
                hands_wait(desk, 0.1F);
                assert_true(desk->ui.focus != 0 && desk->ui.keyboard_used); /* something is under the hand */
                tr_format(where, sizeof where, "%s %.0f x %.0f, text %.0f", job_stage_name((job_stage)stage),
                          (double)sizes[i][0], (double)sizes[i][1], (double)sizes[i][2]);
                check_ways(desk, where);
            }
        }
        close_desk(desk);
    }
}

static void the_cross_reaches_every_answer_of_a_dialog(void **state)
{
    (void)state;
    job_desk *desk = pad_desk_at(JOB_STAGE_CHECK, 0);
    pad_tap(desk, VIEW_KEY_ESCAPE);
    assert_true(desk->job->leave_open);
    check_ways(desk, "leave");
    pad_tap(desk, VIEW_KEY_ENTER); /* the first answer is to stay */
    assert_false(desk->job->leave_open || desk->said.leave);
    press_on(desk, "job.check.report");
    assert_true(desk->job->tools.check.is_reporting);
    check_ways(desk, "report");
    pad_tap(desk, VIEW_KEY_ESCAPE);
    assert_false(desk->job->tools.check.is_reporting);
    close_desk(desk);
}

static void shoulders_change_the_stage_and_the_right_stick_the_row(void **state)
{
    (void)state;
    job_desk *desk = pad_desk_at(JOB_STAGE_TENSION, 0);
    view_job_show(desk->job, JOB_STAGE_TENSION, 2);
    pad_tap(desk, VIEW_STICK2_UP);
    assert_int_equal(desk->job->row, 3);
    pad_tap(desk, VIEW_STICK2_DOWN);
    pad_tap(desk, VIEW_STICK2_DOWN);
    assert_int_equal(desk->job->row, 1);
    pad_tap(desk, VIEW_PAD_LB);
    assert_int_equal(desk->job->stage, JOB_STAGE_JOIN);
    for (int i = 0; i < 9; i++) {
        pad_tap(desk, VIEW_PAD_RB);
    }
    assert_int_equal(desk->job->stage, JOB_STAGE_HAND_OVER);
    const view_id before = desk->ui.focus;
    pad_tap(desk, VIEW_STICK_LEFT); /* the left stick is the tool's here */
    assert_int_equal(desk->ui.focus, before);
    close_desk(desk);
}

static void hints_are_those_of_what_is_in_the_hand(void **state)
{
    (void)state;
    job_desk *desk = pad_desk_at(JOB_STAGE_DRILL, 0);
    assert_true(draw_says(desk->draw, "RT") && draw_says(desk->draw, "LT"));
    assert_false(draw_says(desk->draw, "Space") || draw_says(desk->draw, "F1–F11"));
    desk->input.device = VIEW_BY_DESK;
    hands_wait(desk, 0.05F);
    assert_true(draw_says(desk->draw, "Space") && draw_says(desk->draw, "F1–F11"));
    assert_false(draw_says(desk->draw, "RT"));
    desk->input.device = VIEW_BY_FINGER;
    hands_wait(desk, 0.05F);
    assert_false(draw_says(desk->draw, "Space") || draw_says(desk->draw, "F1–F11") || draw_says(desk->draw, "RT"));
    close_desk(desk);
}

/* ---- working ---------------------------------------------------------------------------------------------------- */

static void the_trigger_marks(job_desk *desk)
{
    pad_hold(desk, VIEW_PAD_RT, 2.0F);
    assert_true(desk->state.is_pole_set);
    const int row = desk->job->row;
    pad_hold(desk, VIEW_PAD_RT, 2.0F);
    assert_true(desk->state.row[row].is_marked);
    assert_near(desk->state.row[row].height_error_m, 0.0, FULL_MARK_M);
}

static void the_stick_leads_the_pencil(void **state)
{
    (void)state;
    job_desk *desk = pad_desk_at(JOB_STAGE_MARK, 1);
    const int row = desk->job->row;
    hands_press(desk, VIEW_PAD_RT);
    hands_wait(desk, 1.5F);
    pad_stick(desk, 0.0F, -0.5F); /* half the way, half the speed */
    hands_wait(desk, 2.0F);
    pad_stick(desk, 0.0F, 0.0F);
    assert_int_equal(desk->job->row, row);
    hands_let_go(desk, VIEW_PAD_RT);
    assert_near(desk->state.row[row].height_error_m, 0.004, 0.001);
    close_desk(desk);
}

/* A person at the bubbles: the stick against each lean. */
static void steer_square(job_desk *desk)
{
    const float pitch = desk->job->tools.drill.pitch_rad;
    const float yaw = desk->job->tools.drill.yaw_rad;
    pad_stick(desk, fminf(fmaxf(-yaw * 60.0F, -1.0F), 1.0F), fminf(fmaxf(pitch * 60.0F, -1.0F), 1.0F));
}

static void drill(job_desk *desk)
{
    const double depth = desk->what.setup.hole_depth_m;
    const int row = desk->job->row;
    char size[48];
    tr_quantity_text(desk->what.setup.bit[desk->what.setup.right_bit].diameter_m, TR_DIM_LENGTH, TR_US, TR_FINE, size,
                     sizeof size);
    assert_true(pad_go(desk, size));
    pad_tap(desk, VIEW_KEY_ENTER);
    assert_int_equal(desk->state.bit, desk->what.setup.right_bit);
    hands_wait(desk, 1.5F);
    for (int part = 1; part <= 3; part++) {
        desk->input.squeeze = 1.0F;
        hands_press(desk, VIEW_PAD_RT);
        for (int i = 0; i < 1200 && (double)desk->job->tools.drill.deepest_m < depth * part / 3.0; i++) {
            steer_square(desk);
            hands_wait(desk, 1.0F / 60.0F);
        }
        pad_stick(desk, 0.0F, 0.0F);
        hands_let_go(desk, VIEW_PAD_RT);
        if (part < 3) {
            pad_tap(desk, VIEW_PAD_LT);
            hands_wait(desk, 1.2F);
        }
    }
    pad_tap(desk, VIEW_PAD_X);
    const job_row *work = &desk->state.row[row];
    assert_true(work->is_drilled);
    assert_near(work->hole.depth_m, depth, FULL_DEPTH_M);
    assert_int_equal(work->clearings, 2);
    assert_true(hypot(work->hole.pitch_rad, work->hole.yaw_rad) < FULL_SQUARE_RAD);
}

static void a_row_is_marked_and_drilled(void **state)
{
    (void)state;
    job_desk *desk = pad_desk_at(JOB_STAGE_MARK, 0);
    the_trigger_marks(desk);
    close_desk(desk);
    desk = pad_desk_at(JOB_STAGE_DRILL, 0);
    drill(desk);
    close_desk(desk);
}

/* The same hole with the trigger half pulled takes about twice as long. */
static void a_light_finger_drills_slowly(void **state)
{
    (void)state;
    double deep_m[2];
    for (int i = 0; i < 2; i++) {
        job_desk *desk = pad_desk_at(JOB_STAGE_DRILL, 0);
        hands_tap(desk, '1');
        desk->input.device = VIEW_BY_PAD;
        desk->input.squeeze = i == 0 ? 0.5F : 1.0F;
        hands_press(desk, VIEW_PAD_RT);
        hands_wait(desk, 2.0F);
        deep_m[i] = (double)desk->job->tools.drill.deepest_m;
        close_desk(desk);
    }
    assert_true(deep_m[0] > 0.003);
    assert_near(deep_m[1] / deep_m[0], 2.0, 0.5); /* chips slow the deeper one a little; both come 4 mm to the face */
}

static void a_row_is_crimped(void **state)
{
    (void)state;
    job_desk *desk = pad_desk_at(JOB_STAGE_CRIMP, 0);
    const int row = desk->job->row;
    const job_row *work = &desk->state.row[row];
    pad_hold(desk, VIEW_PAD_RT, 6.0F);
    assert_near(work->crimp.seated_m, desk->what.setup.crimp.bore_m, 1e-6);
    view_job_show(desk->job, JOB_STAGE_CRIMP, row);
    hands_wait(desk, 0.05F);
    pad_tap(desk, VIEW_PAD_Y);
    assert_true(work->has_seat_mark);
    for (int i = 0; i < 900 && desk->job->tools.crimp.die_m < 0.010F; i++) {
        pad_stick(desk, -1.0F, 0.0F);
        hands_wait(desk, 1.0F / 60.0F);
    }
    pad_stick(desk, 0.0F, 0.0F);
    pad_tap(desk, VIEW_PAD_X);
    assert_near(work->die_m, 0.010, 0.0005);
    pad_hold(desk, VIEW_PAD_RT, 2.5F);
    for (int i = 0; i < 6; i++) {
        press_on(desk, "do.crimp.turn_on");
    }
    pad_hold(desk, VIEW_PAD_RT, 2.5F);
    assert_int_equal(work->crimp.squeeze_count, 2);
    assert_near(work->crimp.squeeze[0].closing, 1.0, 1e-9);
    assert_near(work->crimp.squeeze[1].closing, 1.0, 1e-9);
    assert_near(work->crimp.squeeze[1].angle_rad - work->crimp.squeeze[0].angle_rad, TR_PI / 2.0, 0.002);
    close_desk(desk);
}

static void a_row_is_tensioned_by_the_triggers(void **state)
{
    (void)state;
    job_desk *desk = pad_desk_at(JOB_STAGE_TENSION, 0);
    const int row = desk->job->row;
    const double target_n = desk->what.setup.target_n;
    assert_true(pad_go(desk, tr_word(desk->lang, "job.tension.pliers")));
    pad_tap(desk, VIEW_KEY_ENTER);
    assert_true(desk->state.row[row].has_pliers);
    for (int i = 0; i < 80 && desk->state.rows.tension_n[row] < target_n; i++) {
        pad_tap(desk, VIEW_PAD_RT);
    }
    const double tight_n = desk->state.rows.tension_n[row];
    assert_true(tight_n >= target_n);
    pad_tap(desk, VIEW_PAD_LT);
    assert_true(desk->state.rows.tension_n[row] < tight_n);
    pad_tap(desk, VIEW_PAD_X);
    assert_true(desk->job->tone_hz[row] > 0.0);
    pad_tap(desk, VIEW_PAD_Y);
    assert_true(desk->job->reading_n[row] > 0.0);
    close_desk(desk);
}

/* Three times round with the stick, as a hand goes round with the pin. */
static void the_stick_swings_the_pin(void **state)
{
    (void)state;
    job_desk *desk = pad_desk_at(JOB_STAGE_TENSION, 0);
    const int row = desk->job->row;
    const double before = desk->state.row[row].engaged.anchor_turns;
    for (int i = 0; i <= 180; i++) {
        const float a = (float)(TR_PI * 2.0 / 60.0) * (float)i;
        pad_stick(desk, cosf(a), sinf(a));
        hands_wait(desk, 1.0F / 60.0F);
    }
    pad_stick(desk, 0.0F, 0.0F);
    hands_wait(desk, 0.1F);
    const double turned = fabs(desk->state.row[row].engaged.anchor_turns - before);
    assert_true(turned > 1.0 && turned <= 3.0); /* a heavy pin lags behind */
    assert_true(desk->state.rows.tension_n[row] > 0.0);
    close_desk(desk);
}

/* ---- words ------------------------------------------------------------------------------------------------------ */

static int text_faults_at(view_fonts *fonts, const char *code, view_device device, int stage, const float size[3])
{
    static job_desk desk;
    job_desk_open(&desk, "soft-porch", JOB_PRACTICE, code);
    desk.metrics = view_fonts_metrics(fonts);
    job_desk_ready(&desk);
    desk.input.device = device;
    desk.input.width = size[0];
    desk.input.height = size[1];
    desk.prefs.text_scale = size[2];
    view_job_show(desk.job, (job_stage)stage, -1);
    hands_wait(&desk, 0.1F);
    const int faults = text_faults(desk.draw, &desk.metrics, size[0], size[1], 20);
    if (faults > 0) {
        print_error("  %s %s %.0fx%.0f text %.0f\n", job_stage_name((job_stage)stage), code, (double)size[0],
                    (double)size[1], (double)size[2]);
    }
    job_desk_close(&desk);
    return faults;
}

static void no_text_is_cut_or_covered_in_other_hands(void **state)
{
    (void)state;
    static const float sizes[][3] = {{1280, 800, 1}, {1024, 640, 1}, {1024, 640, 2}};
    char why[TR_TEXT_CAP];
    view_fonts *fonts = NULL;
    if (view_fonts_open(NULL, 0, &fonts, why, sizeof why) != TR_OK) {
        skip();
    }
    int faults = 0;
    for (size_t i = 0; i < 3; i++) {
        for (int stage = 0; stage < JOB_STAGE_COUNT; stage++) {
            for (int lang = 0; lang < 2; lang++) {
                const char *code = lang == 0 ? "en" : "es";
                faults += text_faults_at(fonts, code, VIEW_BY_PAD, stage, sizes[i]);
                faults += text_faults_at(fonts, code, VIEW_BY_FINGER, stage, sizes[i]);
            }
        }
    }
    view_fonts_close(fonts);
    assert_int_equal(faults, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_cross_reaches_every_control_of_every_stage),
        cmocka_unit_test(the_cross_reaches_every_answer_of_a_dialog),
        cmocka_unit_test(shoulders_change_the_stage_and_the_right_stick_the_row),
        cmocka_unit_test(hints_are_those_of_what_is_in_the_hand),
        cmocka_unit_test(the_stick_leads_the_pencil),
        cmocka_unit_test(a_row_is_marked_and_drilled),
        cmocka_unit_test(a_light_finger_drills_slowly),
        cmocka_unit_test(a_row_is_crimped),
        cmocka_unit_test(a_row_is_tensioned_by_the_triggers),
        cmocka_unit_test(the_stick_swings_the_pin),
        cmocka_unit_test(no_text_is_cut_or_covered_in_other_hands),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
