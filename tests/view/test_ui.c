/* Buttons and values driven by made-up input. */
#include "ui_desk.h"

/* ---- buttons ------------------------------------------------------------------------------------------------- */

static void a_click_presses_once_when_let_go(void **state)
{
    desk *d = *state;
    d->screen = three_buttons;
    point(d, 30, 80);
    frame(d);
    assert_true(d->ui.wants_frame); /* the hover look is still to be drawn */
    frame(d);
    assert_false(d->ui.wants_frame);
    hold_mouse(d, true);
    frames(d, 3);
    assert_int_equal(d->pressed[1], 0);
    hold_mouse(d, false);
    frames(d, 3);
    assert_int_equal(d->pressed[0] + d->pressed[2], 0);
    assert_int_equal(d->pressed[1], 1);
    assert_false(shows_ring(d));
}

static void a_press_let_go_elsewhere_is_none(void **state)
{
    desk *d = *state;
    d->screen = three_buttons;
    point(d, 30, 30);
    hold_mouse(d, true);
    point(d, 30, 80);
    frame(d);
    hold_mouse(d, false);
    frames(d, 2);
    assert_int_equal(d->pressed[0] + d->pressed[1], 0);
}

static void a_click_within_one_frame_counts(void **state)
{
    desk *d = *state;
    d->screen = three_buttons;
    point(d, 30, 130);
    d->in.pressed[VIEW_MOUSE_LEFT] = d->in.released[VIEW_MOUSE_LEFT] = true;
    frame(d);
    assert_true(d->ui.wants_frame);
    frames(d, 2);
    assert_int_equal(d->pressed[2], 1);
}

static void tab_goes_round_in_draw_order(void **state)
{
    desk *d = *state;
    d->screen = three_buttons;
    frame(d);
    assert_false(shows_ring(d));
    const int order[] = {0, 1, 2, 0};
    for (int i = 0; i < 4; i++) {
        key(d, VIEW_KEY_TAB, 0);
        assert_true(shows_ring(d));
        key(d, i % 2 == 0 ? VIEW_KEY_ENTER : VIEW_KEY_SPACE, 0);
        assert_int_equal(d->pressed[order[i]], i < 3 ? 1 : 2);
    }
    key(d, VIEW_KEY_TAB, VIEW_SHIFT);
    key(d, VIEW_KEY_ENTER, 0);
    assert_int_equal(d->pressed[2], 2);
    click(d, 500, 500); /* the mouse takes the ring away, not the focus */
    assert_false(shows_ring(d));
    key(d, VIEW_KEY_ENTER, 0); /* and without a ring nothing can be pressed unseen */
    assert_int_equal(d->pressed[2], 2);
    key(d, VIEW_KEY_TAB, 0);
    key(d, VIEW_KEY_ENTER, 0);
    assert_int_equal(d->pressed[0], 3);
}

static void keys_of_one_frame_are_handled_in_their_order(void **state)
{
    desk *d = *state;
    d->screen = three_buttons;
    frame(d);
    view_input_key(&d->in, VIEW_KEY_TAB, 0, false);
    view_input_key(&d->in, VIEW_KEY_ENTER, 0, false);
    view_input_key(&d->in, VIEW_KEY_TAB, 0, false);
    view_input_key(&d->in, 'C', 0, false);
    view_input_key(&d->in, VIEW_KEY_ENTER, 0, false);
    frame(d);
    assert_true(d->ui.wants_frame); /* the rest does not wait for the next event */
    for (int i = 0; i < 5 && d->ui.wants_frame; i++) {
        frame(d);
    }
    assert_int_equal(d->pressed[0], 1);
    assert_int_equal(d->pressed[1], 1);
    assert_int_equal(d->pressed[2], 1);
}

static void a_key_held_presses_once(void **state)
{
    desk *d = *state;
    d->screen = three_buttons;
    frame(d);
    key(d, VIEW_KEY_TAB, 0);
    for (int i = 0; i < 5; i++) {
        view_input_key(&d->in, VIEW_KEY_ENTER, 0, i > 0);
        frame(d);
    }
    assert_int_equal(d->pressed[0], 1);
    key(d, 'C', 0);
    assert_int_equal(d->pressed[2], 1);
}

static void closed_button(desk *d)
{
    const view_button_spec spec = {.why_not = "row 3 is out of band", .key = 'H'};
    if (view_button_with(&d->ui, (view_rect){20, 20, 100, 36}, "hand over", &spec)) {
        d->pressed[0]++;
    }
}

static void a_disabled_button_says_why(void **state)
{
    desk *d = *state;
    d->screen = closed_button;
    click(d, 30, 30);
    key(d, 'H', 0);
    assert_int_equal(d->pressed[0], 0);
    frames(d, 40);
    assert_true(is_drawn(d, "row 3 is out of band"));
    point(d, 500, 500);
    frames(d, 3);
    assert_false(is_drawn(d, "row 3 is out of band"));
    key(d, VIEW_KEY_TAB, 0); /* by keyboard too */
    key(d, VIEW_KEY_ENTER, 0);
    frames(d, 40);
    assert_true(is_drawn(d, "row 3 is out of band"));
    assert_int_equal(d->pressed[0], 0);
}

static void a_tooltip_asks_to_be_woken(void **state)
{
    desk *d = *state;
    d->screen = closed_button;
    point(d, 30, 30);
    frames(d, 2);
    assert_false(d->ui.wants_frame);
    assert_true(d->ui.wake_in_s > 0.3F && d->ui.wake_in_s < 0.5F);
    frames(d, 40);
    assert_true(d->ui.wake_in_s < 0.0F);
}

static void overlapping(desk *d)
{
    for (int i = 0; i < 2; i++) {
        if (view_button(&d->ui, (view_rect){20 + 40 * (float)i, 20, 100, 36}, i == 0 ? "under" : "over",
                        VIEW_SECONDARY)) {
            d->pressed[i]++;
        }
    }
}

static void the_upper_of_two_answers(void **state)
{
    desk *d = *state;
    d->screen = overlapping;
    click(d, 90, 30);
    assert_int_equal(d->pressed[0], 0);
    assert_int_equal(d->pressed[1], 1);
}

/* ---- values -------------------------------------------------------------------------------------------------- */

static void one_slider(desk *d)
{
    view_slider(&d->ui, (view_rect){100, 100, 218, 46}, "speed", (view_range){0, 1000, 50}, &d->value, "rpm");
}

static void a_slider_by_mouse(void **state)
{
    desk *d = *state;
    d->screen = one_slider;
    point(d, 209, 134); /* middle of the track */
    hold_mouse(d, true);
    frame(d);
    assert_near((double)d->value, 500.0, 1e-6);
    point(d, 239, 300); /* dragged on, even beside the track: 130/200 */
    frame(d);
    assert_near((double)d->value, 650.0, 1e-6);
    point(d, 900, 300);
    frame(d);
    assert_near((double)d->value, 1000.0, 1e-6);
    hold_mouse(d, false);
    point(d, 109, 134);
    frames(d, 2);
    assert_near((double)d->value, 1000.0, 1e-6);
}

static void a_slider_by_keyboard(void **state)
{
    desk *d = *state;
    d->screen = one_slider;
    d->value = 500;
    frame(d);
    key(d, VIEW_KEY_RIGHT, 0); /* without the focus: nothing */
    assert_near((double)d->value, 500.0, 1e-6);
    key(d, VIEW_KEY_TAB, 0);
    key(d, VIEW_KEY_RIGHT, 0);
    key(d, VIEW_KEY_UP, 0);
    assert_near((double)d->value, 600.0, 1e-6);
    key(d, VIEW_KEY_LEFT, 0);
    assert_near((double)d->value, 550.0, 1e-6);
    key(d, VIEW_KEY_PAGE_DOWN, 0);
    assert_near((double)d->value, 50.0, 1e-6);
    key(d, VIEW_KEY_END, 0);
    assert_near((double)d->value, 1000.0, 1e-6);
    key(d, VIEW_KEY_RIGHT, 0);
    assert_near((double)d->value, 1000.0, 1e-6);
    key(d, VIEW_KEY_HOME, 0);
    assert_near((double)d->value, 0.0, 1e-6);
}

static void one_stepper(desk *d)
{
    view_stepper(&d->ui, (view_rect){100, 100, 300, 36}, "rows", 3, 6, &d->count, "4");
}

/* 300 wide: plus is the last 36, minus starts 36 + 52 before it. */
static void a_stepper_by_mouse_and_keyboard(void **state)
{
    desk *d = *state;
    d->screen = one_stepper;
    d->count = 4;
    click(d, 390, 118);
    assert_int_equal(d->count, 5);
    click(d, 290, 118);
    assert_int_equal(d->count, 4);
    key(d, VIEW_KEY_UP, 0); /* the click gave it the focus */
    assert_int_equal(d->count, 5);
    key(d, VIEW_KEY_HOME, 0);
    key(d, VIEW_KEY_LEFT, 0);
    assert_int_equal(d->count, 3);
    click(d, 290, 118); /* at its end the minus is shut */
    assert_int_equal(d->count, 3);
    point(d, 390, 118);
    hold_mouse(d, true); /* held: repeats after 0.45 s, then stops at the end */
    frames(d, 10);
    assert_int_equal(d->count, 4);
    frames(d, 60);
    assert_int_equal(d->count, 6);
    hold_mouse(d, false);
}

static void a_choice_and_a_toggle(desk *d)
{
    static const char *const modes[] = {"guided", "practice", "assessment"};
    view_segments(&d->ui, (view_rect){100, 100, 300, 36}, "mode", modes, 3, &d->choice);
    view_toggle(&d->ui, (view_rect){100, 200, 300, 36}, "sound", &d->is_on, NULL);
}

static void segments_and_toggle(void **state)
{
    desk *d = *state;
    d->screen = a_choice_and_a_toggle;
    click(d, 350, 110);
    assert_int_equal(d->choice, 2);
    key(d, VIEW_KEY_LEFT, 0);
    assert_int_equal(d->choice, 1);
    key(d, VIEW_KEY_HOME, 0);
    key(d, VIEW_KEY_LEFT, 0);
    assert_int_equal(d->choice, 0);
    key(d, VIEW_KEY_TAB, 0); /* the three are one stop */
    key(d, VIEW_KEY_SPACE, 0);
    assert_true(d->is_on);
    click(d, 120, 215); /* its words count as well */
    assert_false(d->is_on);
    assert_int_equal(d->choice, 0);
}

static void one_field(desk *d)
{
    view_text_field(&d->ui, (view_rect){100, 100, 300, 62}, "name", d->text, sizeof d->text, NULL);
    if (view_shortcut(&d->ui, 'D')) {
        d->pressed[0]++;
    }
}

static void typing(void **state)
{
    desk *d = *state;
    d->screen = one_field;
    frame(d);
    key(d, 'D', 0);
    assert_int_equal(d->pressed[0], 1);
    key(d, VIEW_KEY_TAB, 0);
    assert_true(d->ui.wants_text);
    memcpy(d->in.text, "Ana \xC3\xB1", 7);
    key(d, 'D', 0);
    assert_string_equal(d->text, "Ana \xC3\xB1");
    assert_int_equal(d->pressed[0], 1); /* letters are the field's while it has the focus */
    key(d, VIEW_KEY_BACKSPACE, 0);
    assert_string_equal(d->text, "Ana ");
    key(d, VIEW_KEY_HOME, 0);
    key(d, VIEW_KEY_RIGHT, 0);
    key(d, VIEW_KEY_DELETE, 0);
    assert_string_equal(d->text, "Aa ");
    memcpy(d->in.text, "0123456789-\xC3\xB1z", 15); /* 15 bytes hold: 12 more, and no half character */
    frame(d);
    assert_string_equal(d->text, "A0123456789-a ");
    click(d, 600, 600);
    assert_false(d->ui.wants_text);
}

int main(void)
{
#define T(name) cmocka_unit_test_setup_teardown(name, open_desk, close_desk)
    const struct CMUnitTest tests[] = {
        T(a_click_presses_once_when_let_go),
        T(a_press_let_go_elsewhere_is_none),
        T(a_click_within_one_frame_counts),
        T(tab_goes_round_in_draw_order),
        T(keys_of_one_frame_are_handled_in_their_order),
        T(a_key_held_presses_once),
        T(a_disabled_button_says_why),
        T(a_tooltip_asks_to_be_woken),
        T(the_upper_of_two_answers),
        T(a_slider_by_mouse),
        T(a_slider_by_keyboard),
        T(a_stepper_by_mouse_and_keyboard),
        T(segments_and_toggle),
        T(typing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
