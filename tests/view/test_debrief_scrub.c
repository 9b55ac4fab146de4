/* The debrief under made-up hands: the attempt is scrubbed by slider, in the chart and by keys, played and paused, and
 * shown in parts where there is little room. */
#include "near.h"

#include "debrief_desk.h"
#include "fake_font.h"

static debrief_desk *open_desk(float text_scale)
{
    static debrief_desk desk;
    paper_attempt done = {0};
    paper_attempt_read(&done, "careless");
    debrief_desk_open(&desk, &done, "en", fake_metrics, text_scale);
    debrief_desk_frame(&desk);
    debrief_desk_frame(&desk);
    return &desk;
}

static void key(debrief_desk *desk, int code)
{
    view_input_key(&desk->on.in, code, 0, false);
    debrief_desk_frame(desk);
    debrief_desk_frame(desk);
}

/* The n-th target called label; w = 0 where there is none. */
static view_rect target(const debrief_desk *desk, const char *label, int nth)
{
    const view_target *targets = NULL;
    const size_t count = view_targets(&desk->on.ui, &targets);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(targets[i].label, label) == 0 && nth-- == 0) {
            return targets[i].rect;
        }
    }
    return (view_rect){0};
}

static void move_to(debrief_desk *desk, view_rect rect, float share)
{
    desk->on.in.has_mouse = true;
    desk->on.in.mouse_x = rect.x + rect.w * share;
    desk->on.in.mouse_y = rect.y + rect.h / 2.0F;
    debrief_desk_frame(desk);
}

static void press(debrief_desk *desk, view_rect rect, float share)
{
    assert_true(rect.w > 0.0F);
    move_to(desk, rect, share);
    desk->on.in.pressed[VIEW_MOUSE_LEFT] = desk->on.in.down[VIEW_MOUSE_LEFT] = true;
    debrief_desk_frame(desk);
    debrief_desk_frame(desk);
}

static void let_go(debrief_desk *desk)
{
    desk->on.in.released[VIEW_MOUSE_LEFT] = true;
    desk->on.in.down[VIEW_MOUSE_LEFT] = false;
    debrief_desk_frame(desk);
    debrief_desk_frame(desk);
}

/* ---- the slider ------------------------------------------------------------------------------------------------- */

static void the_slider_follows_the_hand_all_the_way(void **state)
{
    (void)state;
    debrief_desk *desk = open_desk(1.0F);
    const size_t count = desk->debrief->count;
    const char *name = "Where in the attempt";
    const view_rect slider = target(desk, name, 1); /* the chart comes first */
    assert_int_equal(desk->debrief->cursor, count);
    press(desk, slider, 0.8F);
    assert_near((double)desk->debrief->cursor, 0.8 * (double)count, 3.0);
    for (int i = 7; i >= 2; i--) { /* its words change at every step: it must stay the same slider */
        move_to(desk, slider, (float)i / 10.0F);
        assert_near((double)desk->debrief->cursor, 0.1 * (double)i * (double)count, 5.0);
    }
    let_go(desk);
    const size_t left = desk->debrief->cursor;
    move_to(desk, slider, 0.9F);
    assert_int_equal(desk->debrief->cursor, left);
    assert_int_equal(desk->debrief->shown_at, left);
    debrief_desk_close(desk);
}

static void the_chart_can_be_scrubbed(void **state)
{
    (void)state;
    debrief_desk *desk = open_desk(1.0F);
    const view_rect plot = target(desk, "Where in the attempt", 0);
    assert_true(plot.h > 100.0F);
    press(desk, plot, 0.5F);
    const size_t middle = desk->debrief->cursor;
    assert_true(middle > 60 && middle < desk->debrief->count - 40);
    move_to(desk, plot, 1.5F); /* beyond the end of the plot */
    assert_int_equal(desk->debrief->cursor, desk->debrief->count);
    let_go(desk);
    debrief_desk_close(desk);
}

/* The state that is shown is the one that the actions up to the cursor lead to. */
static void what_is_shown_is_the_state_at_the_cursor(void **state)
{
    (void)state;
    static job_state wanted;
    debrief_desk *desk = open_desk(1.0F);
    const job_setup *setup = &record_attempt_scenario(desk->done.attempt)->setup;
    const job_action *actions = NULL;
    (void)record_attempt_actions(desk->done.attempt, &actions);
    static const size_t places[] = {100, 0, 150, 90};
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        desk->debrief->cursor = places[i];
        debrief_desk_frame(desk);
        job_replay(setup, actions, places[i], &wanted, NULL);
        const tr_hash a = job_state_hash(setup, &wanted);
        const tr_hash b = job_state_hash(setup, desk->debrief->shown);
        assert_memory_equal(a.byte, b.byte, TR_HASH_BYTES);
    }
    debrief_desk_close(desk);
}

/* ---- keys ------------------------------------------------------------------------------------------------------- */

static void keys_step_jump_and_play(void **state)
{
    (void)state;
    debrief_desk *desk = open_desk(1.0F);
    const size_t count = desk->debrief->count;
    key(desk, VIEW_KEY_LEFT);
    key(desk, VIEW_KEY_LEFT);
    assert_int_equal(desk->debrief->cursor, count - 2);
    key(desk, VIEW_KEY_RIGHT);
    assert_int_equal(desk->debrief->cursor, count - 1);
    key(desk, VIEW_KEY_HOME);
    assert_int_equal(desk->debrief->cursor, 0);
    key(desk, VIEW_KEY_LEFT);
    assert_int_equal(desk->debrief->cursor, 0);
    key(desk, VIEW_KEY_SPACE);
    assert_true(desk->debrief->is_playing);
    for (int i = 0; i < 60; i++) {
        debrief_desk_frame(desk);
    }
    assert_true(desk->debrief->cursor >= 7 && desk->debrief->cursor <= 9);
    key(desk, VIEW_KEY_SPACE);
    assert_false(desk->debrief->is_playing);
    key(desk, VIEW_KEY_END);
    assert_int_equal(desk->debrief->cursor, count);
    debrief_desk_close(desk);
}

static void a_controller_steps_plays_and_saves(void **state)
{
    (void)state;
    debrief_desk *desk = open_desk(1.0F);
    const size_t count = desk->debrief->count;
    desk->on.in.device = VIEW_BY_PAD;
    key(desk, VIEW_PAD_LB);
    key(desk, VIEW_PAD_LB);
    key(desk, VIEW_PAD_RB);
    assert_int_equal(desk->debrief->cursor, count - 1);
    key(desk, VIEW_PAD_Y);
    assert_true(desk->debrief->is_playing);
    key(desk, VIEW_PAD_Y);
    assert_false(desk->debrief->is_playing);
    view_input_key(&desk->on.in, VIEW_PAD_X, 0, false);
    debrief_desk_frame(desk);
    assert_int_equal(desk->answer.wish, VIEW_SAVE_PDF);
    debrief_desk_close(desk);
}

static void p_saves_the_pdf(void **state)
{
    (void)state;
    debrief_desk *desk = open_desk(1.0F);
    view_input_key(&desk->on.in, 'P', 0, false);
    debrief_desk_frame(desk);
    assert_int_equal(desk->answer.wish, VIEW_SAVE_PDF);
    debrief_desk_frame(desk);
    assert_int_equal(desk->answer.wish, VIEW_STAY);
    debrief_desk_close(desk);
}

/* ---- little room ------------------------------------------------------------------------------------------------ */

static void large_text_shows_one_part_at_a_time(void **state)
{
    (void)state;
    debrief_desk *desk = open_desk(2.0F);
    assert_true(target(desk, "Where in the attempt", 0).w == 0.0F);
    press(desk, target(desk, "Parts of the debrief", 1), 0.5F);
    let_go(desk);
    assert_int_equal(desk->debrief->part, VIEW_PART_CHARTS);
    const view_rect plot = target(desk, "Where in the attempt", 0);
    assert_true(plot.w > 700.0F && plot.h > 150.0F);
    press(desk, target(desk, "Parts of the debrief", 2), 0.5F);
    let_go(desk);
    assert_int_equal(desk->debrief->part, VIEW_PART_RUN);
    const view_rect run = target(desk, "The run: choose a row", 0);
    press(desk, run, 0.5F);
    let_go(desk);
    const int row = desk->debrief->row;
    assert_true(row > 0);
    key(desk, VIEW_KEY_UP);
    assert_int_equal(desk->debrief->row, row + 1);
    key(desk, VIEW_KEY_DOWN);
    assert_int_equal(desk->debrief->row, row);
    press(desk, run, 0.5F); /* the chosen one is let go */
    let_go(desk);
    assert_int_equal(desk->debrief->row, -1);
    view_input_key(&desk->on.in, 'P', 0, false); /* its button is an icon now */
    debrief_desk_frame(desk);
    assert_int_equal(desk->answer.wish, VIEW_SAVE_PDF);
    debrief_desk_close(desk);
}

#define T(name) cmocka_unit_test(name)
int main(void)
{
    const struct CMUnitTest tests[] = {
        T(the_slider_follows_the_hand_all_the_way),  T(the_chart_can_be_scrubbed),
        T(what_is_shown_is_the_state_at_the_cursor), T(keys_step_jump_and_play),
        T(a_controller_steps_plays_and_saves),       T(p_saves_the_pdf),
        T(large_text_shows_one_part_at_a_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
