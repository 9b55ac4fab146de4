/* Contrast of every look. Thresholds: WCAG 2.2, 1.4.3 (text 4.5:1), 1.4.6 (7:1), 1.4.11 (parts of controls and graphics
 * 3:1). */
#include "near.h"

#include "tautrow/view/theme.h"

static void at_least(const char *what, view_color a, view_color b, double ratio)
{
    const double found = view_contrast(a, b);
    if (found < ratio) {
        print_error("%s: %.3f, must be %.1f\n", what, found, ratio);
        fail();
    }
}

/* WCAG 2.2, definition of contrast ratio: black on white is 21, equal colours 1. The grey is computed by hand:
 * 0x777777: c = 119/255 = 0.466667; ((c + 0.055)/1.055)^2.4 = 0.184475; 1.05/(0.184475 + 0.05) = 4.478. */
static void the_ratio_is_that_of_the_standard(void **state)
{
    (void)state;
    assert_near(view_contrast(0x000000FF, 0xFFFFFFFF), 21.0, 1e-9);
    assert_near(view_contrast(0xFFFFFFFF, 0x000000FF), 21.0, 1e-9);
    assert_near(view_contrast(0x123456FF, 0x123456FF), 1.0, 1e-12);
    assert_near(view_contrast(0x777777FF, 0xFFFFFFFF), 4.478, 0.001);
}

static void check_text(const view_theme *t, double soft)
{
    const view_color grounds[] = {t->page, t->panel};
    for (size_t i = 0; i < 2; i++) {
        at_least("ink", t->ink, grounds[i], 7.0);
        at_least("ink_soft", t->ink_soft, grounds[i], soft);
        at_least("focus", t->focus, grounds[i], 3.0);
    }
    at_least("ink_soft on inset", t->ink_soft, t->inset, 4.5);
    at_least("ink on accent_soft", t->ink, t->accent_soft, 7.0);
    at_least("ink_soft on accent_soft", t->ink_soft, t->accent_soft, 4.5);
    at_least("ink on warn_soft", t->ink, t->warn_soft, 7.0);
    at_least("tooltip", t->panel, t->ink, 7.0);
    at_least("accent_ink", t->accent_ink, t->accent, soft);
}

static void check_states(const view_theme *t, double text)
{
    const view_color state[] = {t->good, t->warn, t->bad, t->accent};
    const view_color ground[] = {t->good_soft, t->warn_soft, t->bad_soft, t->accent_soft};
    for (size_t i = 0; i < 4; i++) {
        at_least("state on panel", state[i], t->panel, text);
        at_least("state on its tint", state[i], ground[i], 4.5);
    }
    at_least("outline of controls", t->ink_faint, t->panel, 3.0);
    at_least("cable", t->cable, t->panel, 3.0);
    at_least("force", t->force, t->panel, 3.0);
    for (size_t i = 0; i < 8; i++) {
        at_least("series", t->series[i], t->panel, 3.0);
    }
}

/* WCAG 2.2, 1.4.11: marks and bars of the rows, arrows, edges of controls, the focus ring, on each ground they lie on. */
static void shapes_stand_out_from_every_ground(void **state)
{
    (void)state;
    for (int kind = 0; kind < VIEW_THEME_KINDS; kind++) {
        const view_theme *t = view_theme_of((view_theme_kind)kind);
        const view_color ground[] = {t->page, t->panel, t->inset, t->accent_soft, t->good_soft};
        for (size_t i = 0; i < sizeof ground / sizeof ground[0]; i++) {
            at_least("good", t->good, ground[i], 3.0);
            at_least("warn", t->warn, ground[i], 3.0);
            at_least("bad", t->bad, ground[i], 3.0);
            at_least("accent", t->accent, ground[i], 3.0);
            at_least("force", t->force, ground[i], 3.0);
            at_least("cable", t->cable, ground[i], 3.0);
            at_least("thumb of the ladder", t->steel_dark, ground[i], 3.0);
            at_least("wood's edge", t->wood_dark, ground[i], 3.0);
            at_least("outline", t->ink_faint, ground[i], 3.0);
            at_least("focus", t->focus, ground[i], 3.0);
        }
    }
}

static void day_is_readable(void **state)
{
    (void)state;
    check_text(view_theme_of(VIEW_THEME_DAY), 4.5);
    check_states(view_theme_of(VIEW_THEME_DAY), 4.5);
}

static void the_contrast_look_has_seven_to_one(void **state)
{
    (void)state;
    const view_theme *t = view_theme_of(VIEW_THEME_CONTRAST);
    check_text(t, 7.0);
    check_states(t, 7.0);
    at_least("edges", t->panel_edge, t->panel, 7.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_ratio_is_that_of_the_standard),
        cmocka_unit_test(shapes_stand_out_from_every_ground),
        cmocka_unit_test(day_is_readable),
        cmocka_unit_test(the_contrast_look_has_seven_to_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
