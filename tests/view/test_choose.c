/* The chooser and the settings: what a card says and draws, how they are worked, and that no text is cut or covered. */
#include "near.h"

#include "draw_text.h"
#include "run_small.h"
#include "screen_desk.h"
#include "text_faults.h"

enum { OFFERS = 4 };

typedef struct chooser {
    screen_desk on;
    bool is_settings;
    view_offer offer[OFFERS];
    view_choose choose;
    view_settings settings;
    view_answer_of_screen answer;
} chooser;

static void open_chooser(chooser *c, const char *code, float width, float height, float text)
{
    static const char *const names[OFFERS - 1] = {"long-deck", "stair", "left-half-done"};
    static scenario what[OFFERS - 1];
    memset(c, 0, sizeof *c);
    if (!screen_desk_open(&c->on, code, NULL)) {
        skip();
    }
    c->on.in.width = width;
    c->on.in.height = height;
    c->on.prefs = (view_prefs){.text_scale = text, .reduced_motion = true};
    for (int i = 0; i < OFFERS - 1; i++) {
        job_desk_scenario(&what[i], names[i]);
        c->offer[i] = (view_offer){.what = &what[i], .best = i == 0 ? 92.0 : -1.0};
        (void)tr_format(c->offer[i].file, sizeof c->offer[i].file, "%s.json", names[i]);
    }
    c->offer[OFFERS - 1] = (view_offer){.file = "broken.json", .problem = "3:7: there is no such wood", .best = -1.0};
    (void)tr_copy(c->settings.lang, sizeof c->settings.lang, code);
    c->settings.prefs.text_scale = text;
    c->settings.has_tour = c->settings.has_no_speaker = true;
    c->settings.volume = 0.5F;
}

static void frame(chooser *c)
{
    bool changed = false;
    screen_desk_begin(&c->on);
    const view_answer_of_screen answer = c->is_settings
                                             ? view_settings_screen(&c->on.ui, &c->settings, &changed)
                                             : view_scenarios(&c->on.ui, c->offer, OFFERS, &c->choose, &c->settings);
    screen_desk_end(&c->on);
    if (answer.wish != VIEW_STAY) {
        c->answer = answer;
    }
}

static void key(chooser *c, int code)
{
    view_input_key(&c->on.in, code, 0, false);
    frame(c);
    frame(c);
}

static bool tab_to(chooser *c, const char *word)
{
    for (int i = 0; i < 40; i++) {
        if (strcmp(view_focus_label(&c->on.ui), tr_word(c->on.lang, word)) == 0) {
            return true;
        }
        key(c, VIEW_KEY_TAB);
    }
    return false;
}

/* ---- choosing --------------------------------------------------------------------------------------------------- */

static void a_card_tells_the_job_in_numbers(void **context)
{
    (void)context;
    static chooser c;
    open_chooser(&c, "en", 1280.0F, 800.0F, 1.0F);
    frame(&c);
    assert_true(draw_says(c.on.draw, "11 rows · about 25 min · best 92"));
    assert_true(draw_says(c.on.draw, "11 rows, 1 to fit"));
    assert_true(draw_says(c.on.draw, "there is no such wood"));
    screen_desk_close(&c.on);
}

static void the_start_is_in_sight_and_reached_by_keys(void **context)
{
    (void)context;
    static chooser c;
    open_chooser(&c, "es", 1024.0F, 640.0F, 1.0F);
    frame(&c);
    frame(&c);
    assert_true(tab_to(&c, "choose.start"));
    key(&c, VIEW_KEY_ENTER);
    assert_int_equal(c.answer.wish, VIEW_START);
    assert_int_equal(c.answer.index, 0);
    screen_desk_close(&c.on);
}

static void the_tour_can_be_taken_from_the_settings(void **context)
{
    (void)context;
    static chooser c;
    open_chooser(&c, "en", 1280.0F, 800.0F, 1.0F);
    c.is_settings = true;
    frame(&c);
    frame(&c);
    assert_true(tab_to(&c, "tour.again"));
    key(&c, VIEW_KEY_ENTER);
    assert_int_equal(c.answer.wish, VIEW_GO_TOUR);
    screen_desk_close(&c.on);
}

/* ---- pictures --------------------------------------------------------------------------------------------------- */

/* Widest extent of the strokes and polygons that a run in small is made of. */
static view_rect extent_of(const view_draw *draw)
{
    float x0 = 1e9F;
    float x1 = -1e9F;
    float y0 = 1e9F;
    float y1 = -1e9F;
    for (size_t i = 0; i < draw->points; i++) {
        x0 = fminf(x0, draw->point[i].x);
        x1 = fmaxf(x1, draw->point[i].x);
        y0 = fminf(y0, draw->point[i].y);
        y1 = fmaxf(y1, draw->point[i].y);
    }
    return (view_rect){x0, y0, x1 - x0, y1 - y0};
}

/* True to scale: length over height of the drawing is that of the run. */
static void a_small_run_is_true_to_scale(void **context)
{
    (void)context;
    static scenario what;
    static const char *const names[] = {"soft-porch", "long-deck"};
    const view_rect area = {10.0F, 20.0F, 400.0F, 300.0F};
    for (int i = 0; i < 2; i++) {
        job_desk_scenario(&what, names[i]);
        const mech_structure *work = &what.setup.structure;
        double long_m = work->post[MECH_NEAR].depth_m + work->post[MECH_FAR].depth_m + 0.24; /* with the deck's ends */
        for (int bay = 0; bay < work->bay_count; bay++) {
            long_m += work->bay_m[bay];
        }
        const double tall_m = work->rail.height_m + 0.04 + 0.035; /* from the post's top to below the deck */
        view_draw *draw = view_draw_open();
        view__run_small(draw, view_theme_of(VIEW_THEME_DAY), area, &what.setup);
        const view_rect seen = extent_of(draw);
        assert_near((double)(seen.w / seen.h), long_m / tall_m, 0.01 * long_m / tall_m);
        assert_true(seen.x >= area.x - 0.5F && seen.x + seen.w <= area.x + area.w + 0.5F);
        assert_true(seen.y >= area.y - 0.5F && seen.y + seen.h <= area.y + area.h + 0.5F);
        view_draw_close(draw);
    }
}

/* ---- text ------------------------------------------------------------------------------------------------------- */

static int faults_at(const char *code, bool is_settings, const float size[3], int card)
{
    static chooser c;
    open_chooser(&c, code, size[0], size[1], size[2]);
    c.is_settings = is_settings;
    c.choose.card = card;
    int faults = 0;
    c.on.in.has_mouse = true;
    for (int page = 0; page < 16; page++) { /* down the left, then down the right */
        c.on.in.mouse_x = size[0] * (page < 8 ? 0.25F : 0.75F);
        c.on.in.mouse_y = size[1] * 0.5F;
        c.on.in.wheel = page == 0 ? 0.0F : -4.0F;
        frame(&c);
        frame(&c);
        faults += text_faults(c.on.draw, &c.on.metrics, size[0], size[1], 4);
    }
    if (faults > 0) {
        print_error("  in %s %s %.0f x %.0f, text %.0f %%\n", is_settings ? "settings" : "chooser", code,
                    (double)size[0], (double)size[1], (double)size[2] * 100.0);
    }
    screen_desk_close(&c.on);
    return faults;
}

static void no_text_is_cut_or_covered(void **context)
{
    (void)context;
    static const float sizes[][3] = {{1280, 800, 1}, {1024, 640, 1}, {1280, 800, 2}, {1024, 640, 2}, {1280, 800, 1.5F}};
    int faults = 0;
    for (size_t size = 0; size < sizeof sizes / sizeof sizes[0]; size++) {
        for (int which = 0; which < 6; which++) {
            faults += faults_at(which % 2 == 0 ? "en" : "es", which / 2 == 0, sizes[size], which / 2);
        }
    }
    assert_int_equal(faults, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_card_tells_the_job_in_numbers),
        cmocka_unit_test(the_start_is_in_sight_and_reached_by_keys),
        cmocka_unit_test(the_tour_can_be_taken_from_the_settings),
        cmocka_unit_test(a_small_run_is_true_to_scale),
        cmocka_unit_test(no_text_is_cut_or_covered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
