/* One finger: what it presses beside, what it drags, what it is told; and a row fitted by it alone. */
#include "near.h"

#include "draw_text.h"
#include "stage_desk.h"

/* ---- widgets ---------------------------------------------------------------------------------------------------- */

typedef struct pane {
    view_draw *draw;
    view_ui ui;
    view_input in;
    view_prefs prefs;
    int pressed[12];
    float at_y[12]; /* where they were drawn */
    float value;
    view_hold hold;
    const char *why_not;
} pane;

static int open_pane(void **state)
{
    pane *p = calloc(1, sizeof *p);
    p->draw = view_draw_open();
    p->in = (view_input){.width = 800, .height = 600, .dt_s = 0.02F};
    *state = p;
    return view_ui_open(&p->ui, p->draw, &fake_metrics) ? 0 : -1;
}

static int close_pane(void **state)
{
    pane *p = *state;
    view_ui_close(&p->ui);
    view_draw_close(p->draw);
    free(p);
    return 0;
}

typedef void screen(pane *p);

static void frame(pane *p, screen *draw)
{
    p->in.time_s += 0.02;
    view_begin(&p->ui, &p->in, &p->prefs, NULL);
    draw(p);
    view_end(&p->ui);
    view_input_forget(&p->in);
}

static void put_down(pane *p, screen *draw, float x, float y)
{
    p->in.device = VIEW_BY_FINGER;
    p->in.mouse_x = x;
    p->in.mouse_y = y;
    p->in.has_mouse = p->in.down[VIEW_MOUSE_LEFT] = p->in.pressed[VIEW_MOUSE_LEFT] = true;
    frame(p, draw);
}

static void lift(pane *p, screen *draw)
{
    p->in.down[VIEW_MOUSE_LEFT] = false;
    p->in.released[VIEW_MOUSE_LEFT] = true;
    frame(p, draw);
    p->in.has_mouse = false;
    frame(p, draw);
}

static void drag(pane *p, screen *draw, float dx, float dy)
{
    for (int i = 0; i < 10; i++) {
        p->in.mouse_x += dx / 10.0F;
        p->in.mouse_y += dy / 10.0F;
        frame(p, draw);
    }
}

static void tap(pane *p, screen *draw, float x, float y)
{
    put_down(p, draw, x, y);
    frame(p, draw);
    lift(p, draw);
}

/* Two small icons 6 apart, in a wide card. */
static void small_icons(pane *p)
{
    if (view_card(&p->ui, (view_rect){20, 20, 400, 300}, "card", false, NULL).react.was_pressed) {
        p->pressed[2]++;
    }
    if (view_icon_button(&p->ui, (view_rect){300, 100, 24, 24}, VIEW_ICON_MINUS, "less", p->why_not)) {
        p->pressed[0]++;
    }
    if (view_icon_button(&p->ui, (view_rect){330, 100, 24, 24}, VIEW_ICON_PLUS, "more", NULL)) {
        p->pressed[1]++;
    }
}

/* 24 wide, so 10 more on each side make 44. */
static void a_finger_may_miss_a_small_target_by_as_much_as_44_units_allow(void **state)
{
    pane *p = *state;
    frame(p, small_icons);
    tap(p, small_icons, 312, 91);
    assert_int_equal(p->pressed[0], 1);
    tap(p, small_icons, 312, 89);
    assert_int_equal(p->pressed[0], 1);
    assert_int_equal(p->pressed[2], 1); /* too far: it is the card's */
    tap(p, small_icons, 326, 112);      /* between the two: the nearer one */
    assert_int_equal(p->pressed[0], 2);
    tap(p, small_icons, 328, 112);
    assert_int_equal(p->pressed[1], 1);
    assert_int_equal(p->pressed[2], 1);
    p->in.device = VIEW_BY_DESK; /* a mouse is exact */
    p->in.has_mouse = true;
    p->in.mouse_x = 312;
    p->in.mouse_y = 91;
    p->in.down[VIEW_MOUSE_LEFT] = p->in.pressed[VIEW_MOUSE_LEFT] = true;
    frame(p, small_icons);
    lift(p, small_icons);
    assert_int_equal(p->pressed[0], 2);
    assert_int_equal(p->pressed[2], 2);
}

static void nothing_stays_hot_when_the_finger_is_lifted(void **state)
{
    pane *p = *state;
    frame(p, small_icons);
    put_down(p, small_icons, 312, 112);
    frame(p, small_icons);
    assert_true(p->ui.hot != 0);
    lift(p, small_icons);
    assert_true(p->ui.hot == 0 && p->ui.active == 0);
    assert_int_equal(p->pressed[0], 1);
}

static void held_still_it_is_told_and_presses_nothing(void **state)
{
    pane *p = *state;
    frame(p, small_icons);
    put_down(p, small_icons, 312, 112);
    for (int i = 0; i < 40; i++) {
        frame(p, small_icons);
    }
    assert_true(draw_says(p->draw, "less")); /* the name of the icon */
    lift(p, small_icons);
    assert_int_equal(p->pressed[0], 0);
    tap(p, small_icons, 312, 112); /* the next tap presses again */
    assert_int_equal(p->pressed[0], 1);
}

static void a_tap_on_what_cannot_be_pressed_says_why(void **state)
{
    pane *p = *state;
    p->why_not = "not before the pole stands";
    frame(p, small_icons);
    tap(p, small_icons, 312, 112);
    assert_true(draw_says(p->draw, "not before the pole stands"));
    assert_int_equal(p->pressed[0], 0);
}

/* Twelve buttons of which five are seen; a slider and a trigger among them. */
static void long_list(pane *p)
{
    const view_rect room = view_scroll_begin(&p->ui, (view_rect){20, 20, 300, 230}, "list");
    for (int i = 0; i < 12; i++) {
        const view_rect rect = {room.x, room.y + 46.0F * (float)i, room.w, 40};
        const view_range range = {0.0F, 100.0F, 1.0F};
        p->at_y[i] = rect.y;
        view_push(&p->ui, "row", i);
        if (i == 3) {
            (void)view_slider(&p->ui, rect, "slider", range, &p->value, NULL);
        } else if (i == 4) {
            p->hold = view_hold_button(&p->ui, rect, "trigger", NULL);
        } else if (view_button(&p->ui, rect, "button", VIEW_SECONDARY)) {
            p->pressed[i]++;
        }
        view_pop(&p->ui);
    }
    view_scroll_end(&p->ui, 12.0F * 46.0F);
}

static void a_list_is_dragged_and_presses_nothing(void **state)
{
    pane *p = *state;
    frame(p, long_list);
    frame(p, long_list);
    put_down(p, long_list, 100, 200);
    drag(p, long_list, 0, -100);
    assert_near((double)p->at_y[0], 20.0 - 100.0, 12.0); /* it lags by what a finger may tremble, and by a frame */
    lift(p, long_list);
    for (int i = 0; i < 12; i++) {
        assert_int_equal(p->pressed[i], 0);
    }
    const float before = p->at_y[0];
    put_down(p, long_list, 100, p->at_y[5] + 20.0F); /* put down elsewhere: no jump */
    frame(p, long_list);
    assert_near((double)p->at_y[0], (double)before, 0.01);
    lift(p, long_list);
    assert_near((double)p->at_y[0], (double)before, 0.01);
    int sum = 0;
    for (int i = 0; i < 12; i++) {
        sum += p->pressed[i];
    }
    assert_int_equal(sum, 1); /* and a tap is a tap */
}

static void a_trigger_keeps_the_finger(void **state)
{
    pane *p = *state;
    frame(p, long_list);
    frame(p, long_list);
    put_down(p, long_list, 100, p->at_y[4] + 10);
    drag(p, long_list, 0, -60);
    assert_true(p->hold.is_down);
    assert_near((double)p->at_y[0], 20.0, 0.01);
    lift(p, long_list);
    assert_false(p->hold.is_down);
}

static void a_slider_follows_sideways_and_scrolls_upright(void **state)
{
    pane *p = *state;
    frame(p, long_list);
    frame(p, long_list);
    const float y = p->at_y[3] + 28;
    put_down(p, long_list, 100, y);
    drag(p, long_list, 0, -60);
    lift(p, long_list);
    assert_near((double)p->value, 0.0, 1e-6); /* scrolled past, not set */
    assert_true(p->at_y[0] < 0.0F);
    const float there = p->at_y[3] + 28;
    put_down(p, long_list, 60, there);
    drag(p, long_list, 100, 0);
    lift(p, long_list);
    assert_true(p->value > 30.0F);
    const float led = p->value;
    const float scrolled = p->at_y[0];
    tap(p, long_list, 250, there);
    assert_true(p->value > led + 10.0F); /* a tap sets it there */
    assert_near((double)p->at_y[0], (double)scrolled, 0.01);
}

/* ---- the job ---------------------------------------------------------------------------------------------------- */

static void finger_down(job_desk *desk, float x, float y)
{
    desk->input.device = VIEW_BY_FINGER;
    hands_point(desk, x, y);
    hands_mouse(desk, VIEW_MOUSE_LEFT, true);
    job_desk_frame(desk, true);
}

static void finger_up(job_desk *desk)
{
    hands_mouse(desk, VIEW_MOUSE_LEFT, false);
    job_desk_frame(desk, true);
    desk->input.has_mouse = false;
    hands_wait(desk, 0.1F);
}

static void finger_hold(job_desk *desk, float x, float y, float seconds)
{
    finger_down(desk, x, y);
    hands_wait(desk, seconds);
    finger_up(desk);
}

/* The middle of the control called label; what is out of sight is not there for a finger. */
static view_rect place_of(const job_desk *desk, const char *label)
{
    const view_target *targets = NULL;
    const size_t count = view_targets(&desk->ui, &targets);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(targets[i].label, label) == 0) {
            return targets[i].rect;
        }
    }
    print_error("not on the screen: %s\n", label);
    fail();
    return (view_rect){0};
}

static void hold_on(job_desk *desk, const char *label, float seconds)
{
    const view_rect at = place_of(desk, label);
    finger_hold(desk, at.x + at.w / 2.0F, at.y + at.h / 2.0F, seconds);
}

static void hold_on_word(job_desk *desk, const char *word_key, float seconds)
{
    hold_on(desk, tr_word(desk->lang, word_key), seconds);
}

static void a_row_is_marked_by_one_finger(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_MARK, 0);
    const int row = desk->job->row;
    hold_on_word(desk, "do.mark.pole", 2.0F);
    assert_near(desk->state.pole_error_m, 0.0, 0.0006);
    hold_on_word(desk, "do.mark.pencil", 2.0F);
    assert_near(desk->state.row[row].height_error_m, 0.0, FULL_MARK_M);
    close_desk(desk);
}

/* On the picture the finger is the trigger, and where it goes the tool leans. */
static void a_row_is_drilled_by_one_finger(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_DRILL, 0);
    const int row = desk->job->row;
    char size[48];
    tr_quantity_text(desk->what.setup.bit[1].diameter_m, TR_DIM_LENGTH, TR_US, TR_FINE, size, sizeof size);
    hold_on(desk, size, 0.05F);
    assert_int_equal(desk->state.bit, 1);
    hands_wait(desk, 1.5F);
    const view_rect picture = place_of(desk, tr_word(desk->lang, "do.drill.picture"));
    const float x = picture.x + picture.w / 2.0F;
    const float y = picture.y + picture.h / 2.0F;
    const float yaw = desk->job->tools.drill.yaw_rad;
    finger_down(desk, x, y); /* far from where it was before: the tool does not jump */
    hands_wait(desk, 0.05F);
    assert_near((double)desk->job->tools.drill.yaw_rad, (double)yaw, 0.004);
    hands_wait(desk, 0.5F);
    const float before = desk->job->tools.drill.yaw_rad;
    hands_point(desk, x + 50.0F, y);
    hands_wait(desk, 0.05F);
    assert_true(desk->job->tools.drill.yaw_rad > before + 0.02F);
    hands_point(desk, x, y);
    hands_wait(desk, 1.5F);
    finger_up(desk);
    hold_on_word(desk, "do.drill.back", 0.05F);
    hands_wait(desk, 1.2F);
    hold_on_word(desk, "do.drill.trigger", 1.5F);
    hold_on_word(desk, "do.drill.done", 0.05F);
    assert_true(desk->state.row[row].is_drilled);
    assert_int_equal(desk->state.row[row].clearings, 1);
    assert_true(desk->state.row[row].hole.depth_m > 0.015);
    close_desk(desk);
}

static void a_row_is_crimped_by_one_finger(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_CRIMP, 0);
    const int row = desk->job->row;
    const job_row *work = &desk->state.row[row];
    hold_on_word(desk, "do.crimp.push", 5.0F);
    assert_near(work->crimp.seated_m, desk->what.setup.crimp.bore_m, 1e-6);
    view_job_show(desk->job, JOB_STAGE_CRIMP, row);
    hands_wait(desk, 0.1F);
    const view_rect picture = place_of(desk, tr_word(desk->lang, "do.crimp.picture"));
    const float die_m = desk->job->tools.crimp.die_m;
    finger_down(desk, picture.x + picture.w * 0.5F, picture.y + picture.h * 0.6F);
    hands_wait(desk, 0.1F);
    assert_near((double)desk->job->tools.crimp.die_m, (double)die_m, 1e-9);
    for (int i = 0; i < 60; i++) {
        hands_point(desk, desk->input.mouse_x - 1.0F, desk->input.mouse_y);
        hands_wait(desk, 1.0F / 60.0F);
    }
    finger_up(desk);
    assert_true(work->is_die_placed && work->die_m > 0.0);
    hold_on_word(desk, "do.crimp.squeeze", 2.5F);
    for (int i = 0; i < 6; i++) {
        hold_on_word(desk, "do.crimp.turn_on", 0.05F);
    }
    hold_on_word(desk, "do.crimp.squeeze", 2.5F);
    assert_int_equal(work->crimp.squeeze_count, 2);
    assert_near(work->crimp.squeeze[1].angle_rad, TR_PI / 2.0, 0.002);
    close_desk(desk);
}

static void a_row_is_tensioned_by_one_finger(void **state)
{
    (void)state;
    job_desk *desk = desk_at(JOB_STAGE_TENSION, 0);
    const int row = desk->job->row;
    hold_on_word(desk, "job.tension.pliers", 0.05F);
    assert_true(desk->state.row[row].has_pliers);
    const view_rect picture = place_of(desk, tr_word(desk->lang, "job.pin"));
    const int64_t before = desk->state.action_count;
    finger_down(desk, picture.x + 20.0F, picture.y + picture.h - 20.0F);
    hands_wait(desk, 0.1F);
    assert_int_equal(desk->state.action_count, before); /* put down it has turned nothing */
    for (int i = 0; i < 120; i++) {
        hands_point(desk, desk->input.mouse_x, desk->input.mouse_y - 2.0F);
        hands_wait(desk, 1.0F / 60.0F);
    }
    finger_up(desk);
    assert_true(desk->state.action_count > before);
    hold_on_word(desk, "job.tension.tighter", 0.05F);
    hold_on_word(desk, "job.pluck", 0.05F);
    assert_true(desk->job->tone_hz[row] > 0.0);
    hold_on_word(desk, "job.gauge", 0.05F);
    assert_true(desk->job->reading_n[row] > 0.0);
    close_desk(desk);
}

#define on_pane(test) cmocka_unit_test_setup_teardown(test, open_pane, close_pane)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_pane(a_finger_may_miss_a_small_target_by_as_much_as_44_units_allow),
        on_pane(nothing_stays_hot_when_the_finger_is_lifted),
        on_pane(held_still_it_is_told_and_presses_nothing),
        on_pane(a_tap_on_what_cannot_be_pressed_says_why),
        on_pane(a_list_is_dragged_and_presses_nothing),
        on_pane(a_trigger_keeps_the_finger),
        on_pane(a_slider_follows_sideways_and_scrolls_upright),
        cmocka_unit_test(a_row_is_marked_by_one_finger),
        cmocka_unit_test(a_row_is_drilled_by_one_finger),
        cmocka_unit_test(a_row_is_crimped_by_one_finger),
        cmocka_unit_test(a_row_is_tensioned_by_one_finger),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
