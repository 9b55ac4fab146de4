/* Triggers, lists, scrolling, dialogs, motion and layout driven by made-up input. */
#include "ui_desk.h"

/* ---- hands --------------------------------------------------------------------------------------------------- */

static void trigger(desk *d)
{
    d->hold = view_hold_button(&d->ui, (view_rect){20, 20, 120, 36}, "drill", &(view_button_spec){.key = 'D'});
    d->pressed[0] += d->hold.has_begun ? 1 : 0;
    d->pressed[1] += d->hold.has_ended ? 1 : 0;
}

static void let_key(desk *d, int code, bool is_down)
{
    d->in.held[code] = is_down;
    if (is_down) {
        view_input_key(&d->in, code, 0, false);
    }
    frame(d);
}

static void a_trigger_tells_how_long(void **state)
{
    desk *d = *state;
    d->screen = trigger;
    point(d, 30, 30);
    hold_mouse(d, true);
    frame(d);
    assert_true(d->hold.has_begun && d->hold.is_down);
    frames(d, 10);
    assert_near((double)d->hold.held_s, 0.2, 1e-3);
    assert_true(d->ui.wants_frame);
    hold_mouse(d, false);
    assert_true(d->hold.has_ended && !d->hold.is_down);
    assert_near((double)d->hold.held_s, 0.22, 1e-3);
    let_key(d, 'D', true); /* by its key, wherever the focus is */
    assert_true(d->hold.has_begun);
    frames(d, 4);
    let_key(d, 'D', false);
    assert_true(d->hold.has_ended);
    assert_near((double)d->hold.held_s, 0.1, 1e-3);
    let_key(d, VIEW_KEY_SPACE, true); /* and by Space: the click gave it the focus */
    assert_true(d->hold.is_down);
    let_key(d, VIEW_KEY_SPACE, false);
    frames(d, 3);
    assert_int_equal(d->pressed[0], 3);
    assert_int_equal(d->pressed[1], 3);
    assert_false(d->ui.wants_frame);
}

static void a_tap_shorter_than_a_frame_still_pulls_the_trigger(void **state)
{
    desk *d = *state;
    d->screen = trigger;
    point(d, 30, 30);
    d->in.pressed[VIEW_MOUSE_LEFT] = d->in.released[VIEW_MOUSE_LEFT] = true;
    frame(d);
    frames(d, 3);
    assert_int_equal(d->pressed[0], 1);
    assert_int_equal(d->pressed[1], 1);
}

/* The button acts in the frame after the tap, and what it changes needs one frame more. */
static void what_a_short_tap_changes_is_seen(void **state)
{
    desk *d = *state;
    d->screen = trigger;
    point(d, 30, 30);
    frames(d, 20);
    assert_false(d->ui.wants_frame);
    d->in.pressed[VIEW_MOUSE_LEFT] = d->in.released[VIEW_MOUSE_LEFT] = true;
    frame(d);
    assert_true(d->ui.wants_frame);
    frame(d);
    assert_true(d->ui.wants_frame);
}

static void space_trigger(desk *d)
{
    view_toggle(&d->ui, (view_rect){20, 100, 200, 36}, "glasses", &d->is_on, NULL);
    d->hold =
        view_hold_button(&d->ui, (view_rect){20, 20, 120, 36}, "drill", &(view_button_spec){.key = VIEW_KEY_SPACE});
}

/* Putting the glasses on by mouse and then drilling by Space must not take them off again. */
static void space_goes_to_one_only(void **state)
{
    desk *d = *state;
    d->screen = space_trigger;
    click(d, 30, 110);
    assert_true(d->is_on);
    let_key(d, VIEW_KEY_SPACE, true);
    assert_true(d->hold.is_down && d->is_on);
    let_key(d, VIEW_KEY_SPACE, false);
    key(d, VIEW_KEY_TAB, VIEW_SHIFT); /* with the ring elsewhere it is that one's */
    key(d, VIEW_KEY_TAB, 0);
    let_key(d, VIEW_KEY_SPACE, true);
    assert_false(d->hold.is_down || d->is_on);
    let_key(d, VIEW_KEY_SPACE, false);
}

/* ---- lists, scrolling, dialogs ------------------------------------------------------------------------------- */

static void scrolled_list(desk *d)
{
    view_ui *ui = &d->ui;
    const view_rect room = view_scroll_begin(ui, (view_rect){20, 20, 300, 200}, "list");
    view_flow column = view_column(room, 0);
    view_group_begin(ui);
    for (int i = 0; i < 20; i++) {
        view_push(ui, "item", i);
        const view_rect rect = view_column_next(&column, 40);
        const view_item item = view_list_row(ui, rect, "run", i == d->item, NULL);
        if (item.react.was_pressed) {
            d->item = i;
        }
        if (i < 8) {
            d->place[i] = rect;
        }
        if (item.react.is_focused) {
            d->place[7] = rect;
            d->count = i;
        }
        view_pop(ui);
    }
    view_group_end(ui);
    view_scroll_end(ui, view_flow_height(&column));
    if (view_button(ui, (view_rect){20, 300, 100, 36}, "open", VIEW_PRIMARY)) {
        d->pressed[0]++;
    }
}

static void the_wheel_and_the_thumb_scroll(void **state)
{
    desk *d = *state;
    d->screen = scrolled_list;
    frames(d, 2);
    assert_near((double)d->place[0].y, 20.0, 1e-6);
    point(d, 100, 100);
    d->in.wheel = -1.0F;
    frames(d, 2);
    assert_true(d->place[0].y < 0.0F);
    d->in.wheel = 5.0F;
    frames(d, 2);
    assert_near((double)d->place[0].y, 20.0, 1e-6); /* no further than the top */
    point(d, 308, 30);
    hold_mouse(d, true);
    frame(d);
    point(d, 308, 400);
    frames(d, 2);
    hold_mouse(d, false);
    frame(d);
    assert_near((double)d->place[0].y, 20.0 - (800.0 - 200.0), 1e-3); /* the very end */
    click(d, 100, 199);                                               /* what lies there now: the last but none */
    assert_int_equal(d->item, 19);
    point(d, 100, 100);
    d->in.wheel = 2.0F;
    frames(d, 2);
    click(d, 100, 230); /* below the area: the row there is cut away */
    assert_int_equal(d->item, 19);
}

static void arrows_move_in_a_list_and_bring_it_into_view(void **state)
{
    desk *d = *state;
    d->screen = scrolled_list;
    d->item = 2;
    frames(d, 2);
    key(d, VIEW_KEY_TAB, 0);
    assert_int_equal(d->count, 2); /* enters at the chosen one */
    for (int i = 0; i < 10; i++) {
        key(d, VIEW_KEY_DOWN, 0);
    }
    assert_int_equal(d->count, 12);
    assert_true(d->place[7].y >= 20.0F && d->place[7].y + 40.0F <= 220.0F);
    key(d, VIEW_KEY_ENTER, 0);
    assert_int_equal(d->item, 12);
    key(d, VIEW_KEY_TAB, 0); /* the list is one stop */
    key(d, VIEW_KEY_ENTER, 0);
    assert_int_equal(d->pressed[0], 1);
    key(d, VIEW_KEY_TAB, VIEW_SHIFT);
    key(d, VIEW_KEY_UP, 0);
    assert_int_equal(d->count, 11);
}

static void with_modal(desk *d)
{
    three_buttons(d);
    if (d->shows_modal) {
        const view_answer answer = view_dialog(&d->ui, "leave?", "what you did is kept", "ok", "cancel");
        d->has_closed = answer == VIEW_CANCEL;
        d->pressed[3] += answer == VIEW_OK;
        d->shows_modal = answer == VIEW_NO_ANSWER;
    }
}

static void a_dialog_takes_all_and_gives_the_focus_back(void **state)
{
    desk *d = *state;
    d->screen = with_modal;
    frame(d);
    key(d, VIEW_KEY_TAB, 0);
    key(d, VIEW_KEY_TAB, 0);
    const view_id before = d->ui.focus;
    d->shows_modal = true;
    frames(d, 2);
    click(d, 30, 30);
    key(d, 'C', 0);
    assert_int_equal(d->pressed[0] + d->pressed[2], 0);
    assert_int_not_equal(d->ui.focus, before);
    const view_id first = d->ui.focus; /* Tab stays inside: two buttons, round and round */
    for (int i = 0; i < 4; i++) {
        key(d, VIEW_KEY_TAB, 0);
        assert_true((d->ui.focus == first) == (i % 2 == 1));
        assert_int_not_equal(d->ui.focus, before);
    }
    view_input_key(&d->in, VIEW_KEY_ESCAPE, 0, false);
    frame(d);
    assert_true(d->has_closed && !d->shows_modal);
    frames(d, 2);
    assert_int_equal(d->ui.focus, before);
    key(d, VIEW_KEY_ENTER, 0);
    assert_int_equal(d->pressed[1], 1);
}

static void a_dialog_answers_by_enter(void **state)
{
    desk *d = *state;
    d->screen = with_modal;
    d->shows_modal = true;
    frames(d, 3);
    key(d, VIEW_KEY_TAB, 0); /* from the safe answer to the other */
    key(d, VIEW_KEY_ENTER, 0);
    assert_int_equal(d->pressed[3], 1);
    d->shows_modal = true;
    click(d, 5, 5); /* without a ring Enter means the main answer */
    frames(d, 3);
    key(d, VIEW_KEY_ENTER, 0);
    assert_int_equal(d->pressed[3], 2);
    assert_int_equal(d->pressed[0] + d->pressed[1] + d->pressed[2], 0);
}

/* ---- motion and layout --------------------------------------------------------------------------------------- */

static void moving(desk *d)
{
    d->value = view_anim(&d->ui, view_id_of(&d->ui, "bar"), d->is_on ? 10.0F : 0.0F, 0.2F);
}

static void values_ease_and_then_rest(void **state)
{
    desk *d = *state;
    d->screen = moving;
    frame(d);
    assert_near((double)d->value, 0.0, 1e-6);
    assert_false(d->ui.wants_frame);
    d->is_on = true;
    frames(d, 4);
    assert_true(d->value > 3.0F && d->value < 10.0F);
    assert_true(d->ui.wants_frame);
    frames(d, 12);
    assert_near((double)d->value, 10.0, 1e-6);
    assert_false(d->ui.wants_frame);
    d->prefs.reduced_motion = true;
    d->is_on = false;
    frame(d);
    assert_near((double)d->value, 0.0, 1e-6);
    assert_false(d->ui.wants_frame);
}

static void toasted(desk *d)
{
    if (d->is_on) {
        view_toast(&d->ui, VIEW_ICON_CHECK, "row 4 is in band");
        d->is_on = false;
    }
}

static void a_toast_comes_and_goes(void **state)
{
    desk *d = *state;
    d->screen = toasted;
    d->is_on = true;
    frames(d, 50);
    assert_true(is_drawn(d, "row 4 is in band"));
    assert_false(d->ui.wants_frame);
    assert_true(d->ui.wake_in_s > 0.0F);
    frames(d, 250);
    assert_false(is_drawn(d, "row 4 is in band"));
    assert_false(d->ui.wants_frame);
    assert_true(d->ui.wake_in_s < 0.0F);
}

static void assert_rect(view_rect r, double x, double y, double w, double h)
{
    assert_near((double)r.x, x, 1e-4);
    assert_near((double)r.y, y, 1e-4);
    assert_near((double)r.w, w, 1e-4);
    assert_near((double)r.h, h, 1e-4);
}

static void rectangles_are_cut(void **state)
{
    (void)state;
    view_rect r = {10, 20, 100, 50};
    assert_rect(view_cut_left(&r, 30), 10, 20, 30, 50);
    assert_rect(view_cut_right(&r, 20), 90, 20, 20, 50);
    assert_rect(view_cut_top(&r, 10), 40, 20, 50, 10);
    assert_rect(view_cut_bottom(&r, 15), 40, 55, 50, 15);
    assert_rect(r, 40, 30, 50, 25);
    assert_rect(view_cut_left(&r, 500), 40, 30, 50, 25); /* never more than there is */
    assert_rect(r, 90, 30, 0, 25);
    assert_rect(view_inset((view_rect){0, 0, 10, 30}, 6), 6, 6, 0, 18);
    assert_rect(view_split_x((view_rect){0, 0, 110, 5}, 3, 2, 10), 80, 0, 30, 5);
    view_flow row = view_row((view_rect){0, 0, 100, 90}, 20, 5);
    view_row_next(&row, 60);
    assert_rect(view_row_next(&row, 35), 65, 0, 35, 20);
    assert_rect(view_row_next(&row, 10), 0, 25, 10, 20); /* a new line */
    assert_near((double)view_flow_height(&row), 45.0, 1e-6);
}

int main(void)
{
#define T(name) cmocka_unit_test_setup_teardown(name, open_desk, close_desk)
    const struct CMUnitTest tests[] = {
        T(a_trigger_tells_how_long),
        T(a_tap_shorter_than_a_frame_still_pulls_the_trigger),
        T(what_a_short_tap_changes_is_seen),
        T(space_goes_to_one_only),
        T(the_wheel_and_the_thumb_scroll),
        T(arrows_move_in_a_list_and_bring_it_into_view),
        T(a_dialog_takes_all_and_gives_the_focus_back),
        T(a_dialog_answers_by_enter),
        T(values_ease_and_then_rest),
        T(a_toast_comes_and_goes),
        cmocka_unit_test(rectangles_are_cut),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
