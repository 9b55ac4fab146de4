/* Home with advice and the progress screen: what they say, that they can be worked by keyboard, and that no text of them
 * is cut or covered. */
#include "near.h"

#include <stdlib.h>
#include <string.h>

#include "draw_text.h"
#include "frame_faults.h"
#include "screen_desk.h"

typedef struct past_desk {
    screen_desk on;
    scenario what; /* at the door */
    view_offer offer;
    bool is_home, is_new, asks_lang; /* new: the person is here for the first time */
    view_progress progress;
    view_past past[2];
    view_answer_of_screen answer; /* the last wish */
} past_desk;

static void fill(past_desk *d)
{
    view_progress *p = &d->progress;
    memset(p, 0, sizeof *p);
    (void)tr_copy(p->trainee, sizeof p->trainee, "Ines Varga");
    p->attempts = 48;
    p->broken = 2;
    p->waiting = 3;
    p->next[0] = SCORE_SKILL_CRIMPING;
    p->next[1] = SCORE_SKILL_CHECKS;
    p->next[2] = SCORE_SKILL_HOLDING;
    p->next_count = 3;
    for (int i = 0; i < SCORE_SKILLS; i++) {
        view_skill *skill = &p->skill[i];
        skill->known = 0.05 + 0.08 * i;
        skill->exercise = i == SCORE_SKILL_INSERTS ? -1 : i % 3;
        skill->dot_count = i % (VIEW_SKILL_DOTS + 1);
        for (int k = 0; k < skill->dot_count; k++) {
            skill->dot[k] = 0.45 * (k % 3);
        }
    }
    for (int i = 0; i < VIEW_MAX_TOTALS; i++) {
        p->total[p->total_count++] = (view_total){(double)(i * 37 % 101), 70.0, i % 2 == 0};
    }
    d->past[0] = (view_past){"Una galería con nombre muy largo junto al agua",
                             "2031-05-02T08:00:00Z",
                             JOB_ASSESSMENT,
                             true,
                             true,
                             true,
                             97.0,
                             -1};
    d->past[1] =
        (view_past){"Soft posts on a short porch", "2031-05-01T08:00:00Z", JOB_GUIDED, false, false, true, 0.0, 0};
}

static void open_desk(past_desk *d, const char *code, bool is_home, float width, float height, float text)
{
    memset(d, 0, sizeof *d);
    if (!screen_desk_open(&d->on, code, NULL)) {
        skip();
    }
    d->is_home = is_home;
    d->on.in.width = width;
    d->on.in.height = height;
    d->on.prefs = (view_prefs){.text_scale = text, .reduced_motion = true};
    job_desk_scenario(&d->what, "soft-porch");
    d->offer = (view_offer){.what = &d->what, .best = -1.0};
    fill(d);
}

static void frame(past_desk *d)
{
    const view_home_model home = {.past = d->past,
                                  .past_count = d->is_new ? 0 : 2,
                                  .progress = &d->progress,
                                  .offers = &d->offer,
                                  .offer_count = 1,
                                  .has_tour = true,
                                  .offers_tour = d->is_new,
                                  .asks_lang = d->is_new && d->asks_lang};
    screen_desk_begin(&d->on);
    const view_answer_of_screen answer =
        d->is_home ? view_home(&d->on.ui, &home) : view_progress_screen(&d->on.ui, &d->progress);
    screen_desk_end(&d->on);
    if (answer.wish != VIEW_STAY) {
        d->answer = answer;
    }
}

static void key(past_desk *d, int code)
{
    view_input_key(&d->on.in, code, 0, false);
    frame(d);
    frame(d);
}

/* A scroll bar bears the label of what was drawn before it; it is narrow. */
static bool is_in_view(const past_desk *d, const char *label)
{
    const view_target *targets = NULL;
    const size_t count = view_targets(&d->on.ui, &targets);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(targets[i].label, label) == 0 && targets[i].rect.h >= 24.0F && targets[i].rect.w > 60.0F) {
            return true;
        }
    }
    return false;
}

/* ---- what is said ----------------------------------------------------------------------------------------------- */

static void home_says_what_to_practise_and_why(void **state)
{
    (void)state;
    static past_desk d;
    open_desk(&d, "en", true, 1280.0F, 1600.0F, 1.0F);
    view_skill *skill = &d.progress.skill[SCORE_SKILL_CRIMPING];
    skill->known = 0.349;
    skill->dot_count = 4;
    skill->dot[0] = 0.0;
    skill->dot[1] = 0.84;
    skill->dot[2] = 0.5;
    skill->dot[3] = 0.85;
    skill->exercise = 2;
    frame(&d);
    frame(&d);
    assert_true(draw_says(d.on.draw, "Practise next"));
    assert_true(draw_says(d.on.draw, "34 %")); /* cut off, not rounded up */
    assert_true(draw_says(d.on.draw, "In 2 of your last 3 attempts"));
    key(&d, 'E');
    assert_int_equal(d.answer.wish, VIEW_PRACTISE);
    assert_int_equal(d.answer.index, 2);
    key(&d, 'P');
    assert_int_equal(d.answer.wish, VIEW_GO_PROGRESS);
    screen_desk_close(&d.on);
}

static void the_tour_is_offered_and_the_language_asked_first(void **state)
{
    (void)state;
    static past_desk d;
    open_desk(&d, "en", true, 1280.0F, 800.0F, 1.0F);
    d.progress.attempts = 0;
    d.is_new = d.asks_lang = true;
    frame(&d);
    frame(&d);
    assert_true(is_in_view(&d, "English") && is_in_view(&d, "Español"));
    assert_false(is_in_view(&d, "Take the tour"));
    d.asks_lang = false;
    frame(&d);
    assert_true(is_in_view(&d, "Take the tour") && is_in_view(&d, "Español"));
    key(&d, VIEW_KEY_ENTER);
    assert_int_equal(d.answer.wish, VIEW_GO_TOUR);
    key(&d, VIEW_KEY_ESCAPE);
    assert_int_equal(d.answer.wish, VIEW_SKIP_TOUR);
    d.is_new = false;
    frame(&d);
    frame(&d);
    assert_false(is_in_view(&d, "Take the tour"));
    d.answer.wish = VIEW_STAY;
    key(&d, 'T'); /* and can be taken again */
    assert_int_equal(d.answer.wish, VIEW_GO_TOUR);
    screen_desk_close(&d.on);
}

/* The run at the door is the one to go to: what was broken off comes first. */
static void the_run_at_the_door_leads_on(void **state)
{
    (void)state;
    static past_desk d;
    open_desk(&d, "en", true, 1280.0F, 800.0F, 1.0F);
    frame(&d);
    frame(&d);
    assert_true(is_in_view(&d, "Soft posts on a short porch"));
    key(&d, VIEW_KEY_TAB);
    assert_string_equal(view_focus_label(&d.on.ui), "Soft posts on a short porch");
    key(&d, VIEW_KEY_ENTER);
    assert_int_equal(d.answer.wish, VIEW_CONTINUE);
    assert_int_equal(d.answer.index, 1);
    d.past[1].is_finished = true;
    for (int i = 0; i < SCORE_SKILLS; i++) {
        d.progress.skill[i].exercise = 0;
    }
    key(&d, VIEW_KEY_ENTER);
    assert_int_equal(d.answer.wish, VIEW_PRACTISE);
    assert_int_equal(d.answer.index, 0);
    screen_desk_close(&d.on);
}

static void nothing_yet_is_said_in_words(void **state)
{
    (void)state;
    static past_desk d;
    open_desk(&d, "en", false, 1280.0F, 800.0F, 1.0F);
    memset(&d.progress, 0, sizeof d.progress);
    frame(&d);
    frame(&d);
    assert_true(draw_says(d.on.draw, "Nothing to show yet."));
    assert_false(draw_says(d.on.draw, "Crimping"));
    key(&d, VIEW_KEY_TAB);
    key(&d, VIEW_KEY_TAB);
    assert_string_equal(view_focus_label(&d.on.ui), "Choose a scenario");
    key(&d, VIEW_KEY_ENTER);
    assert_int_equal(d.answer.wish, VIEW_GO_SCENARIOS);
    screen_desk_close(&d.on);
}

static void every_skill_is_reached_by_keys(void **state)
{
    (void)state;
    static past_desk d;
    open_desk(&d, "en", false, 1024.0F, 640.0F, 2.0F);
    frame(&d);
    frame(&d);
    key(&d, VIEW_KEY_TAB);
    key(&d, VIEW_KEY_TAB);
    assert_string_equal(view_focus_label(&d.on.ui), "Practise this");
    key(&d, VIEW_KEY_TAB);
    for (int i = 0; i < SCORE_SKILLS; i++) {
        char word[48];
        (void)tr_format(word, sizeof word, "skill.%s", score_skill_key((score_skill)i));
        assert_string_equal(view_focus_label(&d.on.ui), tr_word(d.on.lang, word));
        d.answer.wish = VIEW_STAY;
        key(&d, VIEW_KEY_ENTER);
        assert_int_equal(d.answer.wish, d.progress.skill[i].exercise < 0 ? VIEW_STAY : VIEW_PRACTISE);
        key(&d, VIEW_KEY_DOWN);
    }
    key(&d, VIEW_KEY_ESCAPE);
    assert_int_equal(d.answer.wish, VIEW_GO_HOME);
    screen_desk_close(&d.on);
}

/* ---- text ------------------------------------------------------------------------------------------------------- */

static int faults_at(const char *code, bool is_home, const float size[3], bool is_first)
{
    static past_desk d;
    open_desk(&d, code, is_home, size[0], size[1], size[2]);
    if (is_first) {
        d.is_new = true;
        d.asks_lang = size[0] > 1100.0F;
        d.progress.attempts = 0;
        d.progress.total_count = 0;
    }
    for (int i = 0; i < 10; i++) {
        frame(&d);
    }
    char where[96];
    (void)tr_format(where, sizeof where, "%s %s %.0f x %.0f, text %.0f %%", is_home ? "home" : "progress", code,
                    (double)size[0], (double)size[1], (double)size[2] * 100.0);
    const frame_seen seen = frame_of(&d.on.ui, where);
    int faults = frame_text_faults(&seen);
    d.on.in.has_mouse = true;
    for (int page = 0; page < 12; page++) { /* down the left, then down the right */
        d.on.in.mouse_x = size[0] * (page < 8 ? 0.25F : 0.75F);
        d.on.in.mouse_y = size[1] * 0.6F;
        d.on.in.wheel = -4.0F;
        frame(&d);
        frame(&d);
        faults += frame_text_faults(&seen);
    }
    screen_desk_close(&d.on);
    return faults;
}

static void no_text_is_cut_or_covered(void **state)
{
    (void)state;
    static const float sizes[][3] = {{1280, 800, 1}, {1024, 640, 1}, {1280, 800, 2}, {1024, 640, 2}, {1024, 3000, 2}};
    int faults = 0;
    for (size_t size = 0; size < sizeof sizes / sizeof sizes[0]; size++) {
        for (int which = 0; which < 8; which++) {
            faults += faults_at(which % 2 == 0 ? "en" : "es", which / 2 % 2 == 0, sizes[size], which / 4 == 0);
        }
    }
    assert_int_equal(faults, 0);
}

/* ---- the far end ------------------------------------------------------------------------------------------------ */

static bool shows_text(const past_desk *d, const char *part)
{
    for (size_t i = 0; i < d->on.draw->commands; i++) {
        const view__command *c = &d->on.draw->command[i];
        if (c->op == VIEW__TEXT && strstr(&d->on.draw->text[c->first], part) != NULL && c->rect.y < d->on.in.height) {
            return true;
        }
    }
    return false;
}

static void turn_down(past_desk *d, float x)
{
    d->on.in.has_mouse = true;
    d->on.in.mouse_x = x;
    d->on.in.mouse_y = d->on.in.height * 0.6F;
    for (int i = 0; i < 20; i++) {
        d->on.in.wheel = -4.0F;
        frame(d);
    }
    frame(d);
}

static void all_of_it_can_be_reached_at_the_largest_text(void **state)
{
    (void)state;
    static past_desk d;
    open_desk(&d, "en", false, 1024.0F, 640.0F, 2.0F);
    frame(&d);
    assert_false(shows_text(&d, "are assumptions."));
    turn_down(&d, 500.0F);
    assert_true(shows_text(&d, "are assumptions."));
    screen_desk_close(&d.on);
    open_desk(&d, "en", true, 1024.0F, 640.0F, 2.0F);
    frame(&d);
    assert_false(is_in_view(&d, d.past[1].title));
    turn_down(&d, 800.0F);
    assert_true(is_in_view(&d, d.past[1].title));
    screen_desk_close(&d.on);
}

/* Where "Practise this" leads to. */
static void the_chosen_exercise_can_be_started_at_the_largest_text(void **state)
{
    (void)state;
    static past_desk d;
    static scenario what;
    view_choose choose = {0, 0};
    view_settings settings = {.lang = "es"};
    job_desk_scenario(&what, "soft-porch");
    const view_offer offer = {.what = &what, .file = "soft-porch.json", .best = -1.0};
    open_desk(&d, "es", true, 1024.0F, 640.0F, 2.0F);
    d.on.in.has_mouse = true;
    d.on.in.mouse_x = 800.0F;
    d.on.in.mouse_y = 400.0F;
    for (int i = 0; i < 40; i++) {
        d.on.in.time_s += 0.02;
        d.on.in.wheel = -4.0F;
        view_begin(&d.on.ui, &d.on.in, &d.on.prefs, d.on.lang);
        (void)view_scenarios(&d.on.ui, &offer, 1, &choose, &settings);
        view_end(&d.on.ui);
        const frame_seen seen = frame_of(&d.on.ui, "chooser");
        assert_int_equal(frame_text_faults(&seen), 0);
    }
    assert_true(is_in_view(&d, tr_word(d.on.lang, "choose.start")) || shows_text(&d, tr_word(d.on.lang, "ui.caution")));
    screen_desk_close(&d.on);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(home_says_what_to_practise_and_why),
        cmocka_unit_test(the_tour_is_offered_and_the_language_asked_first),
        cmocka_unit_test(the_run_at_the_door_leads_on),
        cmocka_unit_test(nothing_yet_is_said_in_words),
        cmocka_unit_test(every_skill_is_reached_by_keys),
        cmocka_unit_test(no_text_is_cut_or_covered),
        cmocka_unit_test(all_of_it_can_be_reached_at_the_largest_text),
        cmocka_unit_test(the_chosen_exercise_can_be_started_at_the_largest_text),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
