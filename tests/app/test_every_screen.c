/* Every screen in both languages, at three sizes and at 100 and 200 % text: no text cut, shortened or over other text, enough
 * contrast, targets of a size.
 *
 * SHOT=part of a name looks at some only; PICTURES=folder keeps every picture there.
 *
 * A new screen is one line in `shots`: what to call it, how to bring it onto the desk, how many parts it has. A window of 2560 x 1600
 * pixels at scale 2 has the layout of 1280 x 800. */
#include "desk_bench.h"

#include <stdio.h>

#include "debrief.h"
#include "desk_attempts.h"
#include "frame_faults.h"
#include "job_screen.h"
#include "ui_keep.h"

#define GOLDEN TAUTROW_SOURCE "/tests/golden"

enum { FRAMES = 5, CARELESS_MOMENTS = 12 };

typedef enum way {
    AS_IT_IS,
    FLOAT,     /* a card lies over the screen: that alone is looked at */
    TOAST,     /* so does a toast */
    POINTED_AT /* everything that can be pressed is pointed at, for what it says then */
} way;

typedef struct shot {
    const char *name;
    /* Brings part of the screen onto the desk; called again for each language. False: there is no such part. */
    bool (*show)(app_desk *desk, const char *of, int part);
    const char *of;
    int parts;
    way way;
} shot;

typedef struct gallery {
    desk_bench bench;
    tr_lang *spanish;
    view_canvas *bare, *full;
    double time_s;
    int tips; /* seen so far */
} gallery;

/* ---- the screens ------------------------------------------------------------------------------------------------ */

static void fresh(app_desk *desk)
{
    desk->trouble[0] = '\0';
    desk->choose = (view_choose){0};
    desk->offers_tour = desk->asks_lang = false;
    (void)tr_copy(desk->places.attempts, sizeof desk->places.attempts, GOLDEN);
    (void)tr_copy(desk->settings.trainee, sizeof desk->settings.trainee, "Ines Varga");
    app_shelf_look_back(&desk->shelf, &desk->places, tr_lang_code(app_desk_lang(desk)));
}

static void without_past(app_desk *desk)
{
    desk->places.attempts[0] = '\0';
    desk->settings.trainee[0] = '\0';
    desk->shelf.past_count = 0;
    for (int i = 0; i < desk->shelf.offer_count; i++) {
        desk->shelf.offer[i].best = -1.0;
    }
}

/* Every kind of attempt, as many as there is room for. */
static void with_a_long_past(app_desk *desk)
{
    app_shelf *shelf = &desk->shelf;
    for (int i = shelf->past_count; i > 0 && i < APP_MAX_PAST; i++) {
        shelf->past[i] = shelf->past[i % 2];
        shelf->past[i].is_finished = i % 3 != 2;
        shelf->past[i].is_readable = i % 5 != 4;
        shelf->past[i].mode = (job_mode)(i % 3);
        const view_offer *offer = &shelf->offer[i % shelf->offer_count];
        if (offer->what != NULL) {
            (void)tr_copy(shelf->past[i].title, SCENARIO_TITLE_CAP,
                          scenario_title_in(&offer->what->title, tr_lang_code(app_desk_lang(desk))));
        }
        shelf->past_count = i + 1;
    }
}

/* part 0: nothing done yet; 1: a past; 2: a long one, and trouble; 3: the first time; 4: the very first. */
static bool show_home(app_desk *desk, const char *of, int part)
{
    fresh(desk);
    desk->screen = APP_SCREEN_HOME;
    desk->offers_tour = part >= 3;
    desk->asks_lang = part == 4;
    if (part == 0 || part >= 3) {
        without_past(desk);
    } else if (part == 2) {
        with_a_long_past(desk);
        (void)tr_copy(desk->trouble, sizeof desk->trouble, of);
    }
    return true;
}

static bool show_progress(app_desk *desk, const char *of, int part)
{
    (void)of;
    fresh(desk);
    desk->screen = APP_SCREEN_PROGRESS;
    if (part == 0) {
        without_past(desk);
    }
    return true;
}

/* Every offer; the last part is a file with an error. */
static bool show_chooser(app_desk *desk, const char *of, int part)
{
    fresh(desk);
    desk->screen = APP_SCREEN_SCENARIOS;
    desk->choose.card = part;
    desk->choose.mode = part % 3;
    const int broken = desk->shelf.offer_count - 1;
    if (desk->shelf.offer[broken].what != NULL && part == desk->shelf.offer_count) {
        desk->choose.card = app_shelf_add(&desk->shelf, desk->context, of);
    }
    return desk->choose.card < desk->shelf.offer_count;
}

static bool show_settings(app_desk *desk, const char *of, int part)
{
    (void)of;
    fresh(desk);
    desk->screen = APP_SCREEN_SETTINGS;
    desk->settings.own_units = part == 1;
    return true;
}

static int offer_called(const app_desk *desk, const char *id)
{
    for (int i = 0; i < desk->shelf.offer_count; i++) {
        if (desk->shelf.offer[i].what != NULL && strcmp(desk->shelf.offer[i].what->setup.id, id) == 0) {
            return i;
        }
    }
    return -1;
}

/* part: a sixth of the pulls each. */
static bool show_orders(app_desk *desk, const char *of, int part)
{
    fresh(desk);
    desk->screen = APP_SCREEN_HOME;
    if (!app_desk_orders(desk, offer_called(desk, of))) {
        return false;
    }
    view_orders_show(desk->orders, part * 7);
    return true;
}

/* part: each chart, then the score and the run, which large text or a small window shows one at a time. */
static bool show_debrief(app_desk *desk, const char *of, int part)
{
    fresh(desk);
    if (part == 0 && !app_desk_review(desk, of)) {
        return false;
    }
    desk->screen = APP_SCREEN_DEBRIEF;
    desk->debrief->page = part < VIEW_PAGES ? part : VIEW_PAGE_TENSION;
    desk->debrief->part = part < VIEW_PAGES ? VIEW_PART_CHARTS : part == VIEW_PAGES ? VIEW_PART_SCORE : VIEW_PART_RUN;
    return true;
}

static void do_as(app_desk *desk, const job_action *action)
{
    const job_outcome outcome = record_attempt_do(desk->attempt, action, NULL);
    const job_action *all = NULL;
    const view_job_model model = {.what = record_attempt_scenario(desk->attempt),
                                  .state = record_attempt_state(desk->attempt),
                                  .about = record_attempt_about(desk->attempt),
                                  .trace = record_attempt_trace(desk->attempt),
                                  .trace_count = record_attempt_actions(desk->attempt, &all),
                                  .now_ms = action->at_ms,
                                  .journal_ok = true};
    view_job_heard(desk->job, &model, action, &outcome);
    desk->job_ms = action->at_ms;
}

/* Works as the expert does until the stage in hand is this one or a later one, and twice more in it. */
static void work_up_to(app_desk *desk, int stage)
{
    const job_setup *setup = &record_attempt_scenario(desk->attempt)->setup;
    job_action action;
    int more = 2;
    for (int i = 0; i < 4000; i++) {
        if (!job_expert_next(setup, record_attempt_state(desk->attempt), &action)) {
            return;
        }
        const int at = (int)job_verb_look(action.verb)->stage;
        if (at > stage || (at == stage && more-- <= 0)) {
            return;
        }
        do_as(desk, &action);
    }
}

/* part: the stage. */
static bool show_job(app_desk *desk, const char *of, int part, job_mode mode)
{
    const bool is_spanish = strcmp(tr_lang_code(app_desk_lang(desk)), "es") == 0;
    if (part == 0 && !is_spanish) {
        assert_true(app_desk_start(desk, offer_called(desk, of), mode, false));
    }
    desk->screen = APP_SCREEN_JOB;
    desk->job->leave_open = desk->job->sign_open = desk->job->hint_open = false;
    if (!is_spanish) {
        work_up_to(desk, part);
    }
    view_job_show(desk->job, (job_stage)part, -1);
    return true;
}

static bool show_guided(app_desk *desk, const char *of, int part)
{
    return show_job(desk, of, part, JOB_GUIDED);
}

static bool show_practice(app_desk *desk, const char *of, int part)
{
    return show_job(desk, of, part, JOB_PRACTICE);
}

static bool show_assessment(app_desk *desk, const char *of, int part)
{
    return show_job(desk, of, part, JOB_ASSESSMENT);
}

/* Refusals, wrong parts and slips: the journal in equal steps. */
static bool show_careless(app_desk *desk, const char *of, int part)
{
    static size_t actions;
    const job_action *all = NULL;
    if (part == 0) {
        if (!app_desk_review(desk, of)) {
            return false;
        }
        actions = record_attempt_actions(desk->attempt, &all);
    }
    return app_desk_show(desk, of, (long long)((size_t)(part + 1) * actions / CARELESS_MOMENTS));
}

/* With the reasons that a person asked for. */
static bool show_why(app_desk *desk, const char *of, int part)
{
    const bool is_there = show_job(desk, of, part, JOB_GUIDED);
    desk->job->why.is_open = true;
    return is_there;
}

static void one_frame(app_desk *desk)
{
    view_input input;
    memset(&input, 0, sizeof input);
    input.width = 1280.0F;
    input.height = 800.0F;
    input.time_s = desk->ui.time_s + 0.1;
    app_desk_frame(desk, &input, 0);
}

/* The expert's next action of a kind, done badly: guided mode says so at once. */
static bool show_slip(app_desk *desk, const char *of, int part)
{
    static const struct {
        job_verb verb;
        int arg;
        double value;
    } bad[] = {{JOB_DO_MARK_ROW, JOB_MARK_ROW_ERROR, 0.006},
               {JOB_DO_DRILL, JOB_DRILL_DEPTH, 0.015},
               {JOB_DO_DRIVE_INSERT, JOB_DRIVE_INSERT_PROUD, 0.004}};
    job_action action;
    if (strcmp(tr_lang_code(app_desk_lang(desk)), "es") == 0) {
        return view__slip_is_up(desk->job); /* still, in the other language */
    }
    assert_true(app_desk_start(desk, offer_called(desk, of), JOB_GUIDED, false));
    const job_setup *setup = &record_attempt_scenario(desk->attempt)->setup;
    while (job_expert_next(setup, record_attempt_state(desk->attempt), &action) && action.verb != bad[part].verb) {
        do_as(desk, &action);
    }
    one_frame(desk);
    action.arg[bad[part].arg] = bad[part].value;
    do_as(desk, &action);
    one_frame(desk);
    assert_true(view__slip_is_up(desk->job));
    return true;
}

/* part: the step. */
static bool show_tour(app_desk *desk, const char *of, int part)
{
    (void)of;
    if (part == 0 && strcmp(tr_lang_code(app_desk_lang(desk)), "es") != 0) {
        assert_true(app_desk_tour(desk));
    }
    view_tour_go(&desk->tour, part);
    return desk->screen == APP_SCREEN_TOUR;
}

/* Each stage shown by the program, one of its steps on. */
static bool show_shown(app_desk *desk, const char *of, int part)
{
    if (!show_guided(desk, of, part) || !app_desk_show_me(desk)) {
        return false;
    }
    view_shown_next(desk->shown);
    return desk->screen == APP_SCREEN_SHOWN;
}

/* Dialogs that lie over the job. */
static bool show_dialog(app_desk *desk, const char *of, int part)
{
    if (!show_guided(desk, of, 0)) {
        return false;
    }
    desk->job->leave_open = part == 0;
    desk->job->sign_open = part == 1;
    desk->job->tools.check.is_reporting = part == 2;
    if (part == 2) {
        view_job_show(desk->job, JOB_STAGE_CHECK, -1);
    }
    return true;
}

static const shot shots[] = {
    {"home", show_home, "the journal could not be written to the folder of attempts: no space left on the device", 5,
     AS_IT_IS},
    {"progress", show_progress, NULL, 2, AS_IT_IS},
    {"chooser", show_chooser, GOLDEN "/picture_words.txt", APP_MAX_OFFERS, AS_IT_IS},
    {"settings", show_settings, NULL, 2, AS_IT_IS},
    {"orders", show_orders, "soft-porch", 4, AS_IT_IS},
    {"orders of a long deck", show_orders, "long-deck", 4, AS_IT_IS},
    {"debrief, careful", show_debrief, GOLDEN "/careful.jsonl", VIEW_PAGES + 2, AS_IT_IS},
    {"debrief, careless", show_debrief, GOLDEN "/careless.jsonl", VIEW_PAGES + 2, AS_IT_IS},
    {"dialog", show_dialog, "soft-porch", 3, AS_IT_IS},
    {"job, guided, porch", show_guided, "soft-porch", JOB_STAGE_COUNT, AS_IT_IS},
    {"job, assessment, stair", show_assessment, "stair", JOB_STAGE_COUNT, AS_IT_IS},
    {"job, guided, corner", show_guided, "corner-post", JOB_STAGE_COUNT, AS_IT_IS},
    {"job, practice, half done", show_practice, "left-half-done", JOB_STAGE_COUNT, AS_IT_IS},
    {"job, assessment, bent", show_assessment, "bent-gallery", JOB_STAGE_COUNT, AS_IT_IS},
    {"job, careless", show_careless, GOLDEN "/careless.jsonl", CARELESS_MOMENTS, AS_IT_IS},
    {"job, guided, why", show_why, "soft-porch", JOB_STAGE_COUNT, AS_IT_IS},
    {"slip", show_slip, "soft-porch", 3, AS_IT_IS},
    {"tour", show_tour, NULL, VIEW_TOUR_STEPS, FLOAT},
    {"shown", show_shown, "soft-porch", JOB_STAGE_COUNT, FLOAT},
    {"toast", show_home, "", 1, TOAST},
    {"pointed at: home", show_home, "", 2, POINTED_AT},
    {"pointed at: chooser", show_chooser, GOLDEN "/picture_words.txt", 2, POINTED_AT},
    {"pointed at: debrief", show_debrief, GOLDEN "/careless.jsonl", 1, POINTED_AT},
    {"pointed at: job", show_guided, "soft-porch", JOB_STAGE_COUNT, POINTED_AT},
    /* a new screen: one line here */
};

/* ---- looking ---------------------------------------------------------------------------------------------------- */

typedef struct look {
    float width, height, text;
    view_theme_kind theme;
    bool is_left_handed;
    bool is_painted[2]; /* in English, in Spanish: contrast is looked at there */
} look;

/* The last is taller than any window, so that what otherwise waits below a scroll area's edge is seen too. */
static const look looks[] = {
    {1280, 800, 1, VIEW_THEME_DAY, false, {true, false}},      {1280, 800, 2, VIEW_THEME_DAY, false, {false, true}},
    {1024, 640, 1, VIEW_THEME_CONTRAST, false, {true, false}}, {1024, 640, 2, VIEW_THEME_DAY, false, {false, false}},
    {2560, 1600, 1, VIEW_THEME_DAY, false, {false, false}},    {2560, 1600, 2, VIEW_THEME_DAY, false, {false, false}},
    {1280, 800, 1, VIEW_THEME_DAY, true, {false, true}},       {1024, 640, 2, VIEW_THEME_DAY, true, {false, false}},
    {1024, 2800, 2, VIEW_THEME_DAY, false, {false, false}},
};

/* Some frames without a pointer, or with it at rest at a place. */
static void draw_frames(gallery *g, const look *l, const view_point *pointer)
{
    view_input input;
    memset(&input, 0, sizeof input);
    input.width = l->width;
    input.height = l->height;
    input.has_mouse = pointer != NULL;
    input.mouse_x = pointer != NULL ? pointer->x : 0.0F;
    input.mouse_y = pointer != NULL ? pointer->y : 0.0F;
    g->bench.desk.settings.prefs = (view_prefs){
        .theme = l->theme, .text_scale = l->text, .reduced_motion = true, .left_handed = l->is_left_handed};
    for (int i = 0; i < FRAMES; i++) {
        g->time_s += 0.15;
        input.time_s = g->time_s;
        input.dt_s = 0.1F;
        app_desk_frame(&g->bench.desk, &input, 0);
    }
}

/* For eyes: PICTURES names a folder. */
static void keep_picture(const gallery *g, const look *l, const char *where)
{
    char path[512];
    char why[TR_TEXT_CAP];
    const char *folder = getenv("PICTURES");
    if (folder != NULL && tr_format(path, sizeof path, "%s/%s.png", folder, where)) {
        (void)view_shot(g->bench.desk.draw, g->bench.desk.fonts, l->width, l->height, 1.0F,
                        g->bench.desk.ui.theme->page, path, why, sizeof why);
    }
}

/* What a tooltip says lies over the rest and is looked at by itself. */
static int point_at_all(gallery *g, const look *l, const frame_seen *at_rest)
{
    static view_rect place[512];
    const view_target *target = NULL;
    size_t count = view_targets(&g->bench.desk.ui, &target);
    int faults = 0;
    count = count < 512 ? count : 512;
    for (size_t i = 0; i < count; i++) {
        place[i] = target[i].rect;
    }
    for (size_t i = 0; i < count; i++) {
        const view_point middle = {place[i].x + place[i].w / 2.0F, place[i].y + place[i].h / 2.0F};
        draw_frames(g, l, &middle);
        frame_seen f = *at_rest;
        f.is_float_only = g->bench.desk.ui.keep->tip.id != 0;
        g->tips += f.is_float_only ? 1 : 0;
        faults += frame_text_faults(&f);
    }
    return faults;
}

static int look_at(gallery *g, const shot *s, int part, const look *l)
{
    char where[160];
    const char *lang = tr_lang_code(app_desk_lang(&g->bench.desk));
    (void)tr_format(where, sizeof where, "%s %d, %s, %.0fx%.0f, text %.0f %%%s", s->name, part, lang, (double)l->width,
                    (double)l->height, (double)l->text * 100.0, l->is_left_handed ? ", left-handed" : "");
    g->bench.desk.ui.keep->toast.is_on = false; /* of the picture before */
    if (s->way == TOAST) {
        view_toast(&g->bench.desk.ui, VIEW_ICON_CHECK, tr_word(app_desk_lang(&g->bench.desk), "event.came_out"));
    }
    draw_frames(g, l, NULL);
    assert_true(s->way != TOAST || g->bench.desk.ui.keep->toast.is_on);
    frame_seen f = frame_of(&g->bench.desk.ui, where);
    f.fonts = g->bench.desk.fonts;
    f.is_float_only = s->way == TOAST || s->way == FLOAT;
    if (s->way == POINTED_AT) {
        return point_at_all(g, l, &f);
    }
    int faults = frame_text_faults(&f) + frame_target_faults(&f);
    if (l->is_painted[strcmp(lang, "es") == 0]) {
        faults += frame_contrast_faults(&f, g->bare, g->full);
    }
    keep_picture(g, l, where);
    return faults;
}

static bool is_worth_pointing(const look *l)
{
    return l->text > 1.5F && l->width < 2000.0F && l->height < 2000.0F && !l->is_left_handed;
}

static int look_at_part(gallery *g, const shot *s, int part, int *seen)
{
    int faults = 0;
    for (int spanish = 0; spanish < 2; spanish++) {
        g->bench.desk.other_lang = spanish != 0 ? g->spanish : NULL;
        (void)tr_copy(g->bench.desk.settings.lang, sizeof g->bench.desk.settings.lang, spanish != 0 ? "es" : "en");
        if (!s->show(&g->bench.desk, s->of, part)) {
            continue;
        }
        for (size_t i = 0; i < sizeof looks / sizeof looks[0]; i++) {
            if (s->way != POINTED_AT || is_worth_pointing(&looks[i])) {
                faults += look_at(g, s, part, &looks[i]);
                (*seen)++;
            }
        }
    }
    return faults;
}

static void every_screen_is_whole(void **state)
{
    gallery *g = *state;
    const char *only = getenv("SHOT");
    int faults = 0;
    for (size_t i = 0; i < sizeof shots / sizeof shots[0]; i++) {
        int seen = 0;
        if (only != NULL && strstr(shots[i].name, only) == NULL) {
            continue;
        }
        for (int part = 0; part < shots[i].parts; part++) {
            faults += look_at_part(g, &shots[i], part, &seen);
        }
        print_message("%s: %d pictures\n", shots[i].name, seen);
        assert_true(seen > 0);
    }
    assert_true(only != NULL || g->tips > 20);
    assert_int_equal(faults, 0);
}

static int set_up(void **state)
{
    static gallery g;
    char why[TR_TEXT_CAP] = "";
    bench_prepare(&g.bench, true);
    g.bench.options.attempts = GOLDEN;
    g.bench.options.lang = "en";
    g.spanish = app_lang_load(TAUTROW_SOURCE, "es", why, sizeof why);
    g.bare = view_canvas_open();
    g.full = view_canvas_open();
    *state = &g;
    return bench_open(&g.bench, "en") ? 0 : -1;
}

static int tear_down(void **state)
{
    gallery *g = *state;
    g->bench.desk.other_lang = NULL; /* closed once, below */
    bench_close(&g->bench);
    view_canvas_close(g->bare);
    view_canvas_close(g->full);
    tr_lang_close(g->spanish);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_screen_is_whole),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
