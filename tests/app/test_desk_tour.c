/* The first start as somebody meets it: the language is asked, the tour is offered once, taken and left, and nothing of it is kept
 * but that it was seen. */
#define _POSIX_C_SOURCE 200809L
#include "desk_bench.h"

#include "settings.h"
#include "tautrow/base/io.h"

static void open_start(desk_bench *s)
{
    bench_prepare(s, false);
    if (!bench_open(s, app_lang_wanted())) {
        skip();
    }
}

static bool press(desk_bench *s, const char *label)
{
    const view_target *targets = NULL;
    bench_frame(s);
    const size_t count = view_targets(&s->desk.ui, &targets);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(targets[i].label, label) == 0) {
            s->in.has_mouse = true;
            s->in.mouse_x = targets[i].rect.x + targets[i].rect.w / 2.0F;
            s->in.mouse_y = targets[i].rect.y + targets[i].rect.h / 2.0F;
            bench_frame(s);
            s->in.pressed[VIEW_MOUSE_LEFT] = s->in.down[VIEW_MOUSE_LEFT] = true;
            bench_frame(s);
            s->in.released[VIEW_MOUSE_LEFT] = true;
            s->in.down[VIEW_MOUSE_LEFT] = false;
            bench_frame(s);
            bench_frame(s);
            return true;
        }
    }
    return false;
}

static size_t journals(const desk_bench *s)
{
    char names[4][APP_NAME_CAP];
    return app_list_files(s->desk.places.attempts, ".jsonl", names, 4);
}

/* A home of its own, without any file in it. */
static int make_home(void **context)
{
    (void)context;
    static const char home[] = TAUTROW_BINARY "/first-start";
    static const char settings[] = TAUTROW_BINARY "/first-start/tautrow/settings.json";
    if (tr_file_exists(settings) && remove(settings) != 0) {
        return -1;
    }
    return setenv("XDG_CONFIG_HOME", home, 1) | setenv("XDG_DATA_HOME", home, 1) |
           setenv("SDL_AUDIODRIVER", "dummy", 1) | setenv("LC_ALL", "C", 1);
}

static void the_first_start_asks_then_offers_then_leaves_in_peace(void **context)
{
    (void)context;
    static desk_bench s;
    open_start(&s);
    assert_true(s.desk.asks_lang && s.desk.offers_tour);
    assert_true(press(&s, "Español")); /* one press */
    assert_string_equal(tr_lang_code(app_desk_lang(&s.desk)), "es");
    assert_false(s.desk.asks_lang);
    assert_true(press(&s, "Saltar"));
    assert_false(s.desk.offers_tour);
    assert_false(press(&s, "Saltar"));
    bench_close(&s);
    open_start(&s); /* the next day */
    assert_false(s.desk.asks_lang || s.desk.offers_tour);
    assert_string_equal(tr_lang_code(app_desk_lang(&s.desk)), "es");
    bench_close(&s);
}

static void a_clear_environment_is_not_asked(void **context)
{
    (void)context;
    static desk_bench s;
    assert_int_equal(setenv("LC_ALL", "es_MX.UTF-8", 1), 0);
    open_start(&s);
    assert_false(s.desk.asks_lang);
    assert_true(s.desk.offers_tour);
    assert_string_equal(tr_lang_code(app_desk_lang(&s.desk)), "es");
    assert_true(press(&s, "English")); /* but can still change its mind by one press */
    assert_string_equal(tr_lang_code(app_desk_lang(&s.desk)), "en");
    bench_close(&s);
}

static void the_tour_leads_to_the_first_exercise_and_keeps_no_journal(void **context)
{
    (void)context;
    static desk_bench s;
    open_start(&s);
    assert_true(press(&s, "English"));
    bench_key(&s, VIEW_KEY_ENTER);
    assert_int_equal(s.desk.screen, APP_SCREEN_TOUR);
    bench_frame(&s);
    bench_key(&s, VIEW_KEY_ENTER);
    bench_key(&s, VIEW_KEY_ENTER);
    assert_int_equal(s.desk.tour.step, VIEW_TOUR_TURN);
    bench_key(&s, VIEW_KEY_RIGHT);
    assert_int_equal(s.desk.tour.step, VIEW_TOUR_COUPLING);
    for (int i = 0; i < 4; i++) {
        bench_key(&s, VIEW_KEY_RIGHT);
    }
    assert_true(s.desk.tour.is_done);
    bench_key(&s, VIEW_KEY_ENTER);
    bench_key(&s, 'K');
    assert_true(s.desk.tour.is_done && s.desk.tour.tone_hz > 20.0);
    bench_key(&s, VIEW_KEY_ENTER);
    bench_key(&s, VIEW_KEY_ENTER);
    assert_int_equal(s.desk.screen, APP_SCREEN_SCENARIOS);
    const scenario *chosen = s.desk.shelf.offer[s.desk.choose.card].what;
    assert_non_null(chosen);
    assert_int_equal(chosen->difficulty, 1);
    assert_int_equal(journals(&s), 0);
    assert_null(s.desk.attempt);
    assert_true(app_settings_load(s.desk.places.settings, "en").tour_seen);
    bench_close(&s);
}

/* From the settings, too; Esc leaves it for home at once. */
static void it_can_be_taken_again(void **context)
{
    (void)context;
    static desk_bench s;
    open_start(&s);
    assert_true(press(&s, "English"));
    assert_true(press(&s, "Skip"));
    bench_key(&s, 'S');
    assert_int_equal(s.desk.screen, APP_SCREEN_SETTINGS);
    assert_true(press(&s, "Tour (1 min)"));
    assert_int_equal(s.desk.screen, APP_SCREEN_TOUR);
    bench_key(&s, VIEW_KEY_ESCAPE);
    assert_int_equal(s.desk.screen, APP_SCREEN_HOME);
    bench_key(&s, 'T');
    assert_int_equal(s.desk.screen, APP_SCREEN_TOUR);
    bench_close(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(the_first_start_asks_then_offers_then_leaves_in_peace, make_home),
        cmocka_unit_test_setup(a_clear_environment_is_not_asked, make_home),
        cmocka_unit_test_setup(the_tour_leads_to_the_first_exercise_and_keeps_no_journal, make_home),
        cmocka_unit_test_setup(it_can_be_taken_again, make_home),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
