/* The program by a game controller alone: from the home screen to the job and back, through every screen. */
#include "desk_bench.h"

#include "orders.h"
#include "pad_hands.h"

static int set_up(void **state)
{
    desk_bench *b = calloc(1, sizeof *b);
    bench_prepare(b, true);
    b->in.device = VIEW_BY_PAD;
    *state = b;
    return bench_open(b, "en") ? 0 : -1;
}

static int tear_down(void **state)
{
    bench_close(*state);
    free(*state);
    return 0;
}

/* A button is held for two frames: a trigger has to be. */
static void tap(desk_bench *b, int key)
{
    b->in.held[key] = true;
    bench_key(b, key);
    b->in.held[key] = false;
    bench_frames(b, 2);
}

static bool go(desk_bench *b, const char *label)
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
static bool go_to_choice(desk_bench *b, const char *label)
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

static void press_on(desk_bench *b, const char *word_key)
{
    const char *label = tr_word(b->context.lang, word_key);
    if (!go(b, label)) {
        print_error("no way to: %s\n", label);
        fail();
    }
    tap(b, VIEW_KEY_ENTER);
}

/* All that can have the focus can get it by the cross. */
static void check_ways(const desk_bench *b, const char *where)
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
    desk_bench *b = *state;
    bench_frame(b);
    bench_frame(b);
    check_ways(b, "home");
    press_on(b, "home.choose");
    assert_int_equal(b->desk.screen, APP_SCREEN_SCENARIOS);
    check_ways(b, "scenarios");
    const int first = b->desk.choose.card;
    const char *other = b->desk.shelf.offer[first == 0 ? 1 : 0].file;
    assert_true(go(b, other));
    tap(b, VIEW_KEY_ENTER);
    assert_int_not_equal(b->desk.choose.card, first);
    assert_true(go(b, tr_word(b->context.lang, "choose.start")));
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
    desk_bench *b = *state;
    bench_frame(b);
    bench_frame(b);
    press_on(b, "home.choose");
    const view_id before = b->desk.ui.focus;
    tap(b, VIEW_STICK_LEFT);
    assert_true(b->desk.ui.focus != before);
    assert_true(go_to_choice(b, tr_word(b->context.lang, "choose.mode")));
    const int mode = b->desk.choose.mode;
    tap(b, VIEW_PAD_RIGHT);
    assert_int_equal(b->desk.choose.mode, mode + 1);
    tap(b, VIEW_PAD_LEFT);
    tap(b, VIEW_PAD_LEFT);
    assert_int_equal(b->desk.choose.mode, mode);
}

static void every_screen_can_be_walked_by_the_cross(void **state)
{
    desk_bench *b = *state;
    static const float texts[] = {1.0F, 2.0F};
    for (int i = 0; i < 2; i++) {
        b->desk.settings.prefs.text_scale = texts[i];
        b->in.width = i == 0 ? 1280.0F : 1024.0F;
        b->in.height = i == 0 ? 800.0F : 640.0F;
        static const app_screen plain[] = {APP_SCREEN_HOME, APP_SCREEN_SCENARIOS, APP_SCREEN_SETTINGS,
                                           APP_SCREEN_PROGRESS};
        for (size_t k = 0; k < 4; k++) {
            b->desk.screen = plain[k];
            bench_frames(b, 4);
            char where[16];
            tr_format(where, sizeof where, "screen %d", (int)plain[k]);
            check_ways(b, where);
        }
        assert_true(app_desk_orders(&b->desk, 0));
        bench_frames(b, 4);
        check_ways(b, "orders");
        const int step = b->desk.orders->step;
        tap(b, VIEW_PAD_RB);
        tap(b, VIEW_PAD_RB);
        tap(b, VIEW_PAD_LB);
        assert_int_equal(b->desk.orders->step, step + 1);
        tap(b, VIEW_PAD_Y);
        assert_true(b->desk.orders->is_playing);
        tap(b, VIEW_PAD_Y);
        assert_false(b->desk.orders->is_playing);
        assert_true(app_desk_review(&b->desk, TAUTROW_SOURCE "/tests/golden/careful.jsonl"));
        bench_frames(b, 4);
        check_ways(b, "debrief");
    }
}

/* The tour's doing steps by the triggers; what a step has no use for does nothing. */
static void the_tour_is_taken_with_a_controller(void **state)
{
    desk_bench *b = *state;
    assert_true(app_desk_tour(&b->desk));
    bench_frames(b, 4);
    check_ways(b, "tour");
    const job_state *now = record_attempt_state(b->desk.attempt);
    const int64_t before = now->action_count;
    tap(b, VIEW_PAD_RT); /* not yet */
    assert_int_equal(record_attempt_state(b->desk.attempt)->action_count, before);
    for (int i = 0; i < 6 && b->desk.tour.step != VIEW_TOUR_TURN; i++) {
        press_on(b, "tour.next");
    }
    assert_int_equal(b->desk.tour.step, VIEW_TOUR_TURN);
    check_ways(b, "tour, turn");
    for (int i = 0; i < 5; i++) {
        tap(b, VIEW_PAD_RT);
    }
    assert_true(b->desk.tour.step == VIEW_TOUR_COUPLING && b->desk.tour.is_done);
    press_on(b, "tour.next");
    tap(b, VIEW_PAD_X);
    assert_true(b->desk.tour.step == VIEW_TOUR_PLUCK && b->desk.tour.is_done);
    tap(b, VIEW_PAD_LB); /* no other stage here */
    assert_int_equal(b->desk.job->stage, JOB_STAGE_TENSION);
    tap(b, VIEW_KEY_ESCAPE);
    assert_int_equal(b->desk.screen, APP_SCREEN_HOME);
}

/* A name spelt by the cross: letters begin a word large and go on small; what was there before stays. */
static void a_name_is_written_without_a_keyboard(void **state)
{
    desk_bench *b = *state;
    char *name = b->desk.settings.trainee;
    bench_frame(b);
    bench_frame(b);
    press_on(b, "home.choose");
    name[0] = '\0';
    bench_frame(b);
    assert_true(go(b, tr_word(b->context.lang, "choose.name")));
    tap(b, VIEW_KEY_ENTER);
    tap(b, VIEW_PAD_DOWN);
    assert_string_equal(name, "A");
    tap(b, VIEW_PAD_UP); /* round to the last of them, and back */
    assert_string_equal(name, " ");
    tap(b, VIEW_PAD_DOWN);
    tap(b, VIEW_PAD_DOWN);
    assert_string_equal(name, "B");
    for (int i = 0; i < 2; i++) {
        tap(b, VIEW_PAD_RIGHT);
    }
    tap(b, VIEW_PAD_UP);
    tap(b, VIEW_PAD_RIGHT);
    assert_string_equal(name, "Ba A");
    for (int i = 0; i < 14; i++) {
        tap(b, VIEW_PAD_DOWN);
    }
    assert_string_equal(name, "Ba \xC3\x91");
    tap(b, VIEW_PAD_LEFT);
    assert_string_equal(name, "Ba ");
    for (int i = 0; i < RECORD_TRAINEE_CAP; i++) {
        tap(b, VIEW_PAD_RIGHT);
    }
    assert_int_equal(strlen(name), RECORD_TRAINEE_CAP - 1); /* full, and no more */
    tap(b, VIEW_KEY_ENTER);
    const view_id here = b->desk.ui.focus;
    tap(b, VIEW_PAD_DOWN); /* done: the cross moves the focus again */
    assert_true(b->desk.ui.focus != here);
    assert_int_equal(strlen(name), RECORD_TRAINEE_CAP - 1);
}

#define on_bench(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_bench(from_home_to_the_job_and_back),           on_bench(the_mode_is_chosen_by_stick_and_cross),
        on_bench(a_name_is_written_without_a_keyboard),    on_bench(the_tour_is_taken_with_a_controller),
        on_bench(every_screen_can_be_walked_by_the_cross),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
