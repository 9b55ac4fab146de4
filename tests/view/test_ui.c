/* Widgets driven by made-up input: no window, no fonts. A frame is one call of a small screen. */
#include "near.h"

#include "fake_font.h"
#include "tautrow/view/ui.h"

#include <stdlib.h>
#include <string.h>

typedef struct desk {
    view_draw *draw;
    view_ui ui;
    view_input in;
    view_prefs prefs;
    void (*screen)(struct desk *);
    int pressed[4]; /* how often */
    int choice, count, item;
    float value;
    bool is_on, shows_modal, has_closed;
    char text[16];
    view_hold hold;
    view_pad pad;
    view_rect place[8];
    view_id id[8];
} desk;

static int open_desk(void **state)
{
    desk *d = calloc(1, sizeof *d);
    d->draw = view_draw_open();
    d->in =
        (view_input){.width = 1024, .height = 640, .dt_s = 0.02F, .mouse_x = -100, .mouse_y = -100, .has_mouse = true};
    *state = d;
    return view_ui_open(&d->ui, d->draw, &fake_metrics) ? 0 : -1;
}

static int close_desk(void **state)
{
    desk *d = *state;
    view_ui_close(&d->ui);
    view_draw_close(d->draw);
    free(d);
    return 0;
}

static void frame(desk *d)
{
    d->in.time_s += 0.02;
    view_begin(&d->ui, &d->in, &d->prefs, NULL);
    d->screen(d);
    view_end(&d->ui);
    d->in.keys = 0;
    d->in.wheel = 0.0F;
    d->in.text[0] = '\0';
    memset(d->in.pressed, 0, sizeof d->in.pressed);
    memset(d->in.released, 0, sizeof d->in.released);
}

static void frames(desk *d, int count)
{
    for (int i = 0; i < count; i++) {
        frame(d);
    }
}

static void key(desk *d, int code, unsigned mods)
{
    view_input_key(&d->in, code, mods, false);
    frame(d);
    frame(d);
}

static void point(desk *d, float x, float y)
{
    d->in.mouse_x = x;
    d->in.mouse_y = y;
}

static void hold_mouse(desk *d, bool is_down)
{
    d->in.down[VIEW_MOUSE_LEFT] = is_down;
    (is_down ? d->in.pressed : d->in.released)[VIEW_MOUSE_LEFT] = true;
    frame(d);
}

static void click(desk *d, float x, float y)
{
    point(d, x, y);
    hold_mouse(d, true);
    hold_mouse(d, false);
    frame(d);
}

static bool is_drawn(const desk *d, const char *what)
{
    char *dump = view_draw_dump(d->draw);
    const bool found = strstr(dump, what) != NULL;
    free(dump);
    return found;
}

/* The ring is a stroke 2 wide in the focus colour. */
static bool shows_ring(const desk *d)
{
    return is_drawn(d, "w2.0 #1559c7ff");
}

/* ---- buttons ------------------------------------------------------------------------------------------------- */

static void three_buttons(desk *d)
{
    static const char *const label[] = {"drill", "drill", "crimp"}; /* equal labels are two widgets */
    for (int i = 0; i < 3; i++) {
        const view_button_spec spec = {.key = i == 2 ? 'C' : 0};
        if (view_button_with(&d->ui, (view_rect){20, 20 + 50 * (float)i, 100, 36}, label[i], &spec)) {
            d->pressed[i]++;
        }
    }
}

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

/* ---- hands --------------------------------------------------------------------------------------------------- */

static void trigger_and_pad(desk *d)
{
    d->hold = view_hold_button(&d->ui, (view_rect){20, 20, 120, 36}, "drill", &(view_button_spec){.key = 'D'});
    d->pad = view_drag_pad(&d->ui, (view_rect){200, 20, 300, 300}, "hand");
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
    d->screen = trigger_and_pad;
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
    d->screen = trigger_and_pad;
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
    d->screen = trigger_and_pad;
    point(d, 30, 30);
    frames(d, 20);
    assert_false(d->ui.wants_frame);
    d->in.pressed[VIEW_MOUSE_LEFT] = d->in.released[VIEW_MOUSE_LEFT] = true;
    frame(d);
    assert_true(d->ui.wants_frame);
    frame(d);
    assert_true(d->ui.wants_frame);
}

static void a_pad_tells_movement(void **state)
{
    desk *d = *state;
    d->screen = trigger_and_pad;
    point(d, 300, 100);
    frame(d);
    point(d, 310, 100);
    frame(d);
    assert_near((double)d->pad.dx, 0.0, 1e-6); /* not held */
    hold_mouse(d, true);
    point(d, 315, 92);
    frame(d);
    assert_true(d->pad.has_begun);
    assert_near((double)d->pad.dx, 5.0, 1e-4);
    assert_near((double)d->pad.dy, -8.0, 1e-4);
    point(d, 900, 92); /* out of it, but held */
    frame(d);
    assert_near((double)d->pad.dx, 585.0, 1e-3);
    hold_mouse(d, false);
    assert_true(d->pad.has_ended);
    d->ui.keyboard_used = true;
    let_key(d, VIEW_KEY_RIGHT, true); /* 120 units a second for 0.02 s */
    assert_near((double)d->pad.dx, 2.4, 1e-4);
    assert_true(d->pad.is_down);
    d->in.mods = VIEW_SHIFT;
    frame(d);
    assert_near((double)d->pad.dx, 0.6, 1e-4);
    let_key(d, VIEW_KEY_RIGHT, false);
    assert_true(d->pad.has_ended);
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
        T(a_trigger_tells_how_long),
        T(a_tap_shorter_than_a_frame_still_pulls_the_trigger),
        T(what_a_short_tap_changes_is_seen),
        T(a_pad_tells_movement),
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
