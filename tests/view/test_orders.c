/* The orders screen under made-up hands: played, stepped and changed by mouse and by keyboard; still when nothing moves;
 * and no text of it cut or covered, in both languages, at every size. */
#include "near.h"

#include "draw_text.h"
#include "fake_font.h"
#include "frame_faults.h"
#include "orders_desk.h"
#include "tautrow/view/text.h"

static orders_desk *open_plain(void)
{
    static orders_desk desk;
    orders_desk_open(&desk, "soft-porch", "en", fake_metrics);
    orders_desk_rest(&desk);
    return &desk;
}

static void click(orders_desk *desk, const char *label, float along)
{
    const view_target *target = NULL;
    const size_t count = view_targets(&desk->on.ui, &target);
    view_rect rect = {0};
    for (size_t i = 0; i < count; i++) {
        rect = strcmp(target[i].label, label) == 0 ? target[i].rect : rect;
    }
    if (rect.w <= 0.0F) {
        fail_msg("\"%s\" cannot be pressed", label);
    }
    view_input *in = &desk->on.in;
    in->has_mouse = true;
    in->mouse_x = rect.x + rect.w * along;
    in->mouse_y = rect.y + rect.h / 2.0F;
    orders_desk_frame(desk);
    in->pressed[VIEW_MOUSE_LEFT] = in->down[VIEW_MOUSE_LEFT] = true;
    orders_desk_frame(desk);
    in->released[VIEW_MOUSE_LEFT] = true;
    in->down[VIEW_MOUSE_LEFT] = false;
    orders_desk_frame(desk);
    orders_desk_frame(desk); /* what it changed is drawn in the next one */
}

static void it_opens_on_the_sheets_order_against_another(void **context)
{
    (void)context;
    orders_desk *desk = open_plain();
    const view_orders *orders = desk->orders;
    assert_int_equal(orders->side[0].order, MECH_MIDDLE_OUT);
    assert_int_equal(orders->side[1].order, MECH_BOTTOM_UP);
    assert_int_equal(orders->step, 0);
    assert_int_equal(orders->last, 9);
    assert_true(draw_says(desk->on.draw, "as the job sheet asks: 5, 6, 4"));
    assert_false(desk->on.ui.wants_frame); /* at rest nothing is drawn again */
    orders_desk_close(desk);
}

static void the_mouse_steps_slides_and_plays(void **context)
{
    (void)context;
    orders_desk *desk = open_plain();
    click(desk, "Next", 0.5F);
    click(desk, "Next", 0.5F);
    assert_int_equal(desk->orders->step, 2);
    click(desk, "Previous", 0.5F);
    assert_int_equal(desk->orders->step, 1);
    assert_true(draw_says(desk->on.draw, "Row 5 pulled to"));
    assert_true(draw_says(desk->on.draw, "Row 1 pulled to"));
    click(desk, "Pull", 0.999F);
    assert_int_equal(desk->orders->step, desk->orders->last);
    assert_true(draw_says(desk->on.draw, "Neither gets there"));
    click(desk, "Play again", 0.5F);
    assert_true(desk->orders->is_playing);
    assert_int_equal(desk->orders->step, 0);
    for (int i = 0; i < 11 * 60 && desk->orders->is_playing; i++) {
        orders_desk_frame(desk);
        assert_true(desk->on.ui.wants_frame || !desk->orders->is_playing);
    }
    assert_false(desk->orders->is_playing);
    assert_int_equal(desk->orders->step, desk->orders->last);
    orders_desk_rest(desk);
    assert_false(desk->on.ui.wants_frame);
    orders_desk_close(desk);
}

static void the_keys_do_the_same(void **context)
{
    (void)context;
    orders_desk *desk = open_plain();
    orders_desk_key(desk, VIEW_KEY_RIGHT);
    orders_desk_key(desk, VIEW_KEY_RIGHT);
    orders_desk_key(desk, VIEW_KEY_LEFT);
    assert_int_equal(desk->orders->step, 1);
    orders_desk_key(desk, VIEW_KEY_LEFT);
    orders_desk_key(desk, VIEW_KEY_LEFT);
    assert_int_equal(desk->orders->step, 0);
    orders_desk_key(desk, VIEW_KEY_END);
    assert_int_equal(desk->orders->step, desk->orders->last);
    orders_desk_key(desk, VIEW_KEY_HOME);
    assert_int_equal(desk->orders->step, 0);
    orders_desk_key(desk, VIEW_KEY_SPACE);
    assert_true(desk->orders->is_playing);
    orders_desk_key(desk, VIEW_KEY_SPACE);
    assert_false(desk->orders->is_playing);
    orders_desk_key(desk, VIEW_KEY_ESCAPE);
    assert_int_equal(desk->answer.wish, VIEW_GO_BACK);
    orders_desk_close(desk);
}

static void a_choice_works_the_run_out_anew(void **context)
{
    (void)context;
    orders_desk *desk = open_plain();
    const view_orders *orders = desk->orders;
    orders_desk_key(desk, VIEW_KEY_END);
    assert_true(orders_desk_choose(desk, 1, "orders.way", VIEW__WAY_SHEET));
    assert_int_equal(orders->side[0].way, VIEW__WAY_ONCE);
    assert_int_equal(orders->side[1].way, VIEW__WAY_SHEET);
    assert_int_equal(orders->side[0].done.pulls, 9);
    assert_int_equal(orders->last, 18);
    view_orders_show(desk->orders, 99);
    orders_desk_rest(desk);
    assert_true(draw_says(desk->on.draw, "B gets every row in, A only 3 of 9"));
    assert_true(orders_desk_choose(desk, 0, "orders.way", VIEW__WAY_SHEET));
    assert_true(orders_desk_choose(desk, 1, "orders.order", MECH_OUTSIDE_IN));
    assert_int_equal(orders->side[1].order, MECH_OUTSIDE_IN);
    orders_desk_rest(desk);
    assert_true(draw_says(desk->on.draw, "Both end alike"));
    assert_true(draw_says(desk->on.draw, "All 9 rows stand at 200\xC2\xA0lbf"));
    assert_true(orders_desk_choose(desk, 1, "orders.order", MECH_MIDDLE_OUT));
    orders_desk_rest(desk);
    assert_true(draw_says(desk->on.draw, "A and B are the same"));
    assert_true(orders_desk_choose(desk, 0, "orders.way", VIEW__WAY_ONCE));
    assert_true(orders_desk_choose(desk, 1, "orders.way", VIEW__WAY_ONCE));
    assert_int_equal(orders->last, 9);
    assert_true(orders->step <= orders->last);
    orders_desk_close(desk);
}

/* The bars glide, and jump where motion is not wanted: the number beside the bar tells where it is. */
static void motion_is_smooth_or_not_at_all(void **context)
{
    (void)context;
    orders_desk *desk = open_plain();
    orders_desk_key(desk, VIEW_KEY_RIGHT);
    orders_desk_frame(desk);
    assert_true(desk->on.ui.wants_frame);
    orders_desk_rest(desk);
    assert_false(desk->on.ui.wants_frame);
    desk->on.prefs.reduced_motion = true;
    orders_desk_rest(desk);
    orders_desk_key(desk, VIEW_KEY_END);
    orders_desk_frame(desk);
    orders_desk_frame(desk);
    assert_false(desk->on.ui.wants_frame);
    char slackest[16];
    (void)tr_format(slackest, sizeof slackest, "%.0f", desk->orders->side[0].end.slackest_n / TR_LBF_N);
    assert_true(draw_says(desk->on.draw, slackest));
    orders_desk_close(desk);
}

/* ---- text ------------------------------------------------------------------------------------------------------- */

static int try_text(view_fonts *fonts, const char *scenario_name, const char *code, int way, int step,
                    const float size[3])
{
    static orders_desk desk;
    orders_desk_open(&desk, scenario_name, code, view_fonts_metrics(fonts));
    desk.on.in.width = size[0];
    desk.on.in.height = size[1];
    desk.on.prefs.text_scale = size[2];
    orders_desk_frame(&desk);
    assert_true(orders_desk_choose(&desk, 1, "orders.way", way));
    view_orders_show(desk.orders, step);
    orders_desk_rest(&desk);
    char where[128];
    (void)tr_format(where, sizeof where, "orders, %s %s %.0f x %.0f, text %.0f %%, way %d, step %d", scenario_name,
                    code, (double)size[0], (double)size[1], (double)size[2] * 100.0, way, step);
    const frame_seen seen = frame_of(&desk.on.ui, where);
    int faults = 0;
    for (int page = 0; page < 8; page++) { /* all the way down */
        faults += frame_text_faults(&seen);
        orders_desk_key(&desk, VIEW_KEY_PAGE_DOWN);
        orders_desk_frame(&desk);
    }
    orders_desk_close(&desk);
    return faults;
}

static void no_text_is_cut_or_covered(void **context)
{
    (void)context;
    static const float sizes[][3] = {{1280, 800, 1}, {1024, 640, 1},     {1280, 800, 2},
                                     {1024, 640, 2}, {1920, 1080, 1.5F}, {3840, 2160, 1}};
    static const char *const names[] = {"soft-porch", "long-deck", "left-half-done"};
    static const int steps[] = {0, 4, 99};
    char why[TR_TEXT_CAP];
    view_fonts *fonts = NULL;
    if (view_fonts_open(NULL, 0, &fonts, why, sizeof why) != TR_OK) {
        skip();
    }
    int faults = 0;
    for (size_t size = 0; size < sizeof sizes / sizeof sizes[0]; size++) {
        for (int i = 0; i < 3; i++) {
            for (int k = 0; k < 3; k++) {
                const char *code = (i + k) % 2 == 0 ? "es" : "en";
                faults += try_text(fonts, names[i], code, (i + k) % VIEW__WAYS, steps[k], sizes[size]);
            }
        }
    }
    view_fonts_close(fonts);
    assert_int_equal(faults, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_opens_on_the_sheets_order_against_another),
        cmocka_unit_test(the_mouse_steps_slides_and_plays),
        cmocka_unit_test(the_keys_do_the_same),
        cmocka_unit_test(a_choice_works_the_run_out_anew),
        cmocka_unit_test(motion_is_smooth_or_not_at_all),
        cmocka_unit_test(no_text_is_cut_or_covered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
