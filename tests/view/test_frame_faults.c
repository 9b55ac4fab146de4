/* The check that every screen goes through must find what it looks for: frames with one fault each. */
#include "near.h"

#include "frame_faults.h"

#include <string.h>

typedef struct desk {
    view_fonts *fonts;
    view_metrics metrics;
    view_draw *draw;
    view_ui ui;
    view_input input;
    view_canvas *bare, *full;
} desk;

static const view_font font = {16.0F, VIEW_REGULAR};
static const view_rect screen = {0, 0, 400, 300};

static int set_up(void **state)
{
    static desk d;
    char why[256];
    memset(&d, 0, sizeof d);
    if (view_fonts_open(NULL, 0, &d.fonts, why, sizeof why) != TR_OK) {
        return -1;
    }
    d.metrics = view_fonts_metrics(d.fonts);
    d.draw = view_draw_open();
    d.bare = view_canvas_open();
    d.full = view_canvas_open();
    d.input.width = screen.w;
    d.input.height = screen.h;
    *state = &d;
    return view_ui_open(&d.ui, d.draw, &d.metrics) ? 0 : -1;
}

static int tear_down(void **state)
{
    desk *d = *state;
    view_ui_close(&d->ui);
    view_draw_close(d->draw);
    view_fonts_close(d->fonts);
    view_canvas_close(d->bare);
    view_canvas_close(d->full);
    return 0;
}

/* A frame with a good line in it, to which the tests add what is wrong. */
static void begin(desk *d)
{
    static const view_prefs prefs = {.text_scale = 1.0F};
    view_begin(&d->ui, &d->input, &prefs, NULL);
    view_text(d->draw, 20, 280, font, VIEW_LEFT, d->ui.theme->ink, "a good line");
}

static frame_seen ended(desk *d)
{
    view_end(&d->ui);
    frame_seen f = frame_of(&d->ui, "on purpose");
    f.fonts = d->fonts;
    return f;
}

static int contrast_faults(desk *d)
{
    const frame_seen f = ended(d);
    return frame_contrast_faults(&f, d->bare, d->full);
}

static int text_faults_of(desk *d)
{
    const frame_seen f = ended(d);
    return frame_text_faults(&f);
}

static void a_good_frame_has_none(void **state)
{
    desk *d = *state;
    begin(d);
    (void)view_button(&d->ui, (view_rect){20, 20, 100, 36}, "press", VIEW_PRIMARY);
    const frame_seen f = ended(d);
    assert_int_equal(frame_text_faults(&f), 0);
    assert_int_equal(frame_target_faults(&f), 0);
    assert_int_equal(frame_contrast_faults(&f, d->bare, d->full), 0);
}

static void text_over_text_is_found(void **state)
{
    desk *d = *state;
    begin(d);
    view_text(d->draw, 30, 284, font, VIEW_LEFT, d->ui.theme->ink, "another");
    assert_int_equal(text_faults_of(d), 1);
}

static void text_beyond_an_edge_is_found(void **state)
{
    desk *d = *state;
    const view_color ink = view_theme_of(VIEW_THEME_DAY)->ink;
    begin(d);
    view_text(d->draw, 380, 40, font, VIEW_LEFT, ink, "beyond the window");
    view_text(d->draw, 20, 4, font, VIEW_LEFT, ink, "above it");
    view_clip_push(d->draw, (view_rect){20, 60, 40, 40});
    view_text(d->draw, 20, 80, font, VIEW_LEFT, ink, "too wide for its clip");
    view_text(d->draw, 20, 130, font, VIEW_LEFT, ink, "out");
    view_clip_pop(d->draw);
    assert_int_equal(text_faults_of(d), 4);
}

static void what_scrolls_is_no_fault_above_and_below(void **state)
{
    desk *d = *state;
    for (int i = 0; i < 3; i++) { /* the bar comes with the second frame */
        begin(d);
        const view_rect room = view_scroll_begin(&d->ui, (view_rect){20, 20, 200, 60}, "area");
        view_text(d->draw, room.x, room.y + 62, font, VIEW_LEFT, d->ui.theme->ink, "half seen");
        view_text(d->draw, room.x, room.y + 120, font, VIEW_LEFT, d->ui.theme->ink, "further down");
        view_scroll_end(&d->ui, 140);
        view_end(&d->ui);
    }
    const frame_seen f = frame_of(&d->ui, "on purpose");
    assert_int_equal(frame_text_faults(&f), 0);
}

static void a_shortened_text_is_found_but_where_it_may_be(void **state)
{
    desk *d = *state;
    begin(d);
    view_text_fit(d->draw, &d->metrics, 20, 40, 90, font, VIEW_LEFT, d->ui.theme->ink,
                  "a very long line that ends somewhere");
    frame_seen f = ended(d);
    assert_int_equal(frame_text_faults(&f), 1);
    f.may_be_short = true;
    assert_int_equal(frame_text_faults(&f), 0);
}

/* WCAG 2.2, 1.4.3. 0x777777 on white is 4.478 (test_theme.c): too little for text, enough for large text. */
static void pale_text_is_found(void **state)
{
    desk *d = *state;
    const view_font large = {24.0F, VIEW_REGULAR};
    begin(d);
    view_fill_rect(d->draw, (view_rect){0, 0, 400, 200}, 0.0F, 0xFFFFFFFF);
    view_text(d->draw, 20, 40, large, VIEW_LEFT, 0x777777FF, "large");
    assert_int_equal(contrast_faults(d), 0);
    begin(d);
    view_fill_rect(d->draw, (view_rect){0, 0, 400, 200}, 0.0F, 0xFFFFFFFF);
    view_text(d->draw, 20, 40, font, VIEW_LEFT, 0x777777FF, "small");
    assert_int_equal(contrast_faults(d), 1);
    begin(d); /* half of it on a dark shape */
    view_fill_rect(d->draw, (view_rect){0, 0, 50, 200}, 0.0F, 0x333333FF);
    view_text(d->draw, 20, 40, font, VIEW_LEFT, d->ui.theme->ink, "half in the dark");
    assert_int_equal(contrast_faults(d), 1);
}

static void text_under_a_shape_is_found(void **state)
{
    desk *d = *state;
    begin(d);
    view_fill_circle(d->draw, 60, 276, 12, d->ui.theme->page);
    assert_int_equal(contrast_faults(d), 1);
}

/* Turned text is looked at where the painter puts it. */
static void turned_text_is_found_where_it_is(void **state)
{
    desk *d = *state;
    begin(d);
    view_fill_rect(d->draw, (view_rect){104, 20, 30, 160}, 0.0F, 0x333333FF);
    view_text_up(d->draw, 100, 100, font, VIEW_CENTRE, d->ui.theme->ink, "beside the dark");
    assert_int_equal(contrast_faults(d), 0);
    begin(d);
    view_fill_rect(d->draw, (view_rect){86, 20, 30, 160}, 0.0F, 0x333333FF);
    view_text_up(d->draw, 100, 100, font, VIEW_CENTRE, d->ui.theme->ink, "in the dark");
    assert_int_equal(contrast_faults(d), 1);
}

static void targets_too_small_or_over_one_another_are_found(void **state)
{
    desk *d = *state;
    begin(d);
    (void)view_place(&d->ui, (view_rect){20, 20, 100, 23}, "low", NULL);
    (void)view_place(&d->ui, (view_rect){20, 60, 100, 36}, "first", NULL);
    (void)view_place(&d->ui, (view_rect){100, 60, 100, 36}, "second", NULL);
    (void)view_place(&d->ui, (view_rect){20, 120, 200, 100}, "card", NULL);
    (void)view_place(&d->ui, (view_rect){40, 140, 60, 36}, "button on it", NULL);
    const frame_seen f = ended(d);
    assert_int_equal(frame_target_faults(&f), 2);
}

static void behind_a_dialog_nothing_counts(void **state)
{
    desk *d = *state;
    begin(d);
    view_text(d->draw, 30, 284, font, VIEW_LEFT, d->ui.theme->ink, "another");
    (void)view_dialog(&d->ui, "Leave?", "It can go on later.", "Leave", "Stay");
    const frame_seen f = ended(d);
    assert_int_equal(frame_text_faults(&f), 0);
    assert_int_equal(frame_contrast_faults(&f, d->bare, d->full), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_good_frame_has_none),
        cmocka_unit_test(text_over_text_is_found),
        cmocka_unit_test(text_beyond_an_edge_is_found),
        cmocka_unit_test(what_scrolls_is_no_fault_above_and_below),
        cmocka_unit_test(a_shortened_text_is_found_but_where_it_may_be),
        cmocka_unit_test(pale_text_is_found),
        cmocka_unit_test(text_under_a_shape_is_found),
        cmocka_unit_test(turned_text_is_found_where_it_is),
        cmocka_unit_test(targets_too_small_or_over_one_another_are_found),
        cmocka_unit_test(behind_a_dialog_nothing_counts),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
