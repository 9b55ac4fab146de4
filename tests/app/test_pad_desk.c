/* The program by a game controller alone: from the home screen to the job and back, through every screen. */
#include "near.h"

#include "desk.h"
#include "pad_hands.h"

typedef struct bench {
    app_options options;
    app_context context;
    tr_lang *lang;
    scenario_catalogue *catalogue;
    app_desk desk;
    view_input in;
    long long clock_ms;
} bench;

static int open_bench(void **state)
{
    char why[TR_TEXT_CAP] = "";
    tr_diags *diags = calloc(1, sizeof *diags);
    bench *b = calloc(1, sizeof *b);
    b->lang = app_lang_load(TAUTROW_SOURCE, "en", why, sizeof why);
    b->catalogue = app_catalogue_load(TAUTROW_SOURCE, diags);
    free(diags);
    b->options.screenshot = "none"; /* as for a picture: nothing of this machine's user is read */
    b->context = (app_context){&b->options, TAUTROW_SOURCE, b->lang, b->catalogue};
    b->in = (view_input){.width = 1280.0F, .height = 800.0F, .device = VIEW_BY_PAD};
    *state = b;
    return app_desk_open(&b->desk, &b->context, why, sizeof why) ? 0 : -1;
}

static int close_bench(void **state)
{
    bench *b = *state;
    app_desk_close(&b->desk);
    scenario_catalogue_close(b->catalogue);
    tr_lang_close(b->lang);
    free(b);
    return 0;
}

static void frame(bench *b)
{
    b->in.time_s += 0.016;
    b->in.dt_s = 0.016F;
    b->clock_ms += 16;
    app_desk_frame(&b->desk, &b->in, b->clock_ms);
    b->in.keys = 0;
}

static void tap(bench *b, int key)
{
    view_input_key(&b->in, key, 0, false);
    b->in.held[key] = true;
    frame(b);
    frame(b);
    b->in.held[key] = false;
    frame(b);
    frame(b);
}

static bool go(bench *b, const char *label)
{
    for (int i = 0; i < 60; i++) {
        const view_id id = pad_named(&b->desk.ui, label);
        if (id != 0 && b->desk.ui.focus == id) {
            return true;
        }
        const int key = id != 0 ? pad_step_to(&b->desk.ui, id) : VIEW_KEY_NONE;
        if (key == VIEW_KEY_NONE) {
            return false;
        }
        tap(b, key);
    }
    return false;
}

/* A choice among few is one stop with many targets: its stop is known by the label that has the focus. */
static bool go_to_choice(bench *b, const char *label)
{
    const struct view_ui_keep *keep = b->desk.ui.keep;
    for (size_t i = 0; i < keep->stops; i++) {
        const view_id id = keep->stop[i].id;
        for (int key = pad_step_to(&b->desk.ui, id); key != VIEW_KEY_NONE && b->desk.ui.focus != id;
             key = pad_step_to(&b->desk.ui, id)) {
            tap(b, key);
        }
        if (strcmp(view_focus_label(&b->desk.ui), label) == 0) {
            return true;
        }
    }
    return false;
}

static void press_on(bench *b, const char *word_key)
{
    const char *label = tr_word(b->lang, word_key);
    if (!go(b, label)) {
        print_error("no way to: %s\n", label);
        fail();
    }
    tap(b, VIEW_KEY_ENTER);
}

/* All that can have the focus can get it by the cross. */
static void check_ways(const bench *b, const char *where)
{
    static pad_ways ways;
    const view_ui *ui = &b->desk.ui;
    pad_find_ways(ui, ui->focus, &ways);
    assert_true(ui->focus != 0 && ui->keep->stops > 0);
    for (size_t i = 0; i < ui->keep->stops; i++) {
        const view__stop *stop = &ui->keep->stop[i];
        if (stop->layer == ui->keep->top_layer && ways.presses[i] < 0) {
            print_error("%s: no way to stop %zu at %.0f %.0f\n", where, i, (double)stop->rect.x, (double)stop->rect.y);
            fail();
        }
    }
}

static void from_home_to_the_job_and_back(void **state)
{
    bench *b = *state;
    frame(b);
    frame(b);
    check_ways(b, "home");
    press_on(b, "home.choose");
    assert_int_equal(b->desk.screen, APP_SCREEN_SCENARIOS);
    check_ways(b, "scenarios");
    const int first = b->desk.choose.card;
    const char *other = b->desk.shelf.offer[first == 0 ? 1 : 0].file;
    assert_true(go(b, other));
    tap(b, VIEW_KEY_ENTER);
    assert_int_not_equal(b->desk.choose.card, first);
    assert_true(go(b, tr_word(b->lang, "choose.start")));
    tap(b, VIEW_KEY_ENTER);
    assert_int_equal(b->desk.screen, APP_SCREEN_JOB);
    tap(b, VIEW_PAD_START);
    assert_int_equal(b->desk.screen, APP_SCREEN_SETTINGS);
    check_ways(b, "settings");
    tap(b, VIEW_PAD_START);
    assert_int_equal(b->desk.screen, APP_SCREEN_JOB);
    tap(b, VIEW_KEY_ESCAPE);
    assert_true(b->desk.job->leave_open);
    press_on(b, "job.leave.ok");
    assert_int_equal(b->desk.screen, APP_SCREEN_HOME);
}

/* Away from the job the left stick moves the focus too, and the cross sets values. */
static void the_mode_is_chosen_by_stick_and_cross(void **state)
{
    bench *b = *state;
    frame(b);
    frame(b);
    press_on(b, "home.choose");
    const view_id before = b->desk.ui.focus;
    tap(b, VIEW_STICK_LEFT);
    assert_true(b->desk.ui.focus != before);
    assert_true(go_to_choice(b, tr_word(b->lang, "choose.mode")));
    const int mode = b->desk.choose.mode;
    tap(b, VIEW_PAD_RIGHT);
    assert_int_equal(b->desk.choose.mode, mode + 1);
    tap(b, VIEW_PAD_LEFT);
    tap(b, VIEW_PAD_LEFT);
    assert_int_equal(b->desk.choose.mode, mode);
}

static void every_screen_can_be_walked_by_the_cross(void **state)
{
    bench *b = *state;
    static const float texts[] = {1.0F, 2.0F};
    for (int i = 0; i < 2; i++) {
        b->desk.settings.prefs.text_scale = texts[i];
        b->in.width = i == 0 ? 1280.0F : 1024.0F;
        b->in.height = i == 0 ? 800.0F : 640.0F;
        static const app_screen plain[] = {APP_SCREEN_HOME, APP_SCREEN_SCENARIOS, APP_SCREEN_SETTINGS,
                                           APP_SCREEN_PROGRESS};
        for (size_t k = 0; k < 4; k++) {
            b->desk.screen = plain[k];
            for (int n = 0; n < 4; n++) {
                frame(b);
            }
            char where[16];
            tr_format(where, sizeof where, "screen %d", (int)plain[k]);
            check_ways(b, where);
        }
        assert_true(app_desk_orders(&b->desk, 0));
        for (int n = 0; n < 4; n++) {
            frame(b);
        }
        check_ways(b, "orders");
        assert_true(app_desk_review(&b->desk, TAUTROW_SOURCE "/tests/golden/careful.jsonl"));
        for (int n = 0; n < 4; n++) {
            frame(b);
        }
        check_ways(b, "debrief");
    }
}

#define on_bench(test) cmocka_unit_test_setup_teardown(test, open_bench, close_bench)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_bench(from_home_to_the_job_and_back),
        on_bench(the_mode_is_chosen_by_stick_and_cross),
        on_bench(every_screen_can_be_walked_by_the_cross),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
