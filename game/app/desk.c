/* The desk: frames and the moves between screens. */
#include "desk.h"

#include <stdlib.h>
#include <string.h>

#include "desk_attempts.h"
#include "desk_paper.h"
#include "desk_shown.h"
#include "desk_tour.h"
#include "paper.h"
#include "settings.h"
#include "tautrow/base/text.h"
#include "tautrow/view/paint.h"

const tr_lang *app_desk_lang(const app_desk *desk)
{
    return desk->other_lang != NULL ? desk->other_lang : desk->context->lang;
}

tr_system app_desk_system(const app_desk *desk, const scenario *what)
{
    if (desk->context->options->has_system) {
        return desk->context->options->system;
    }
    return desk->settings.own_units ? desk->settings.system : what->units;
}

/* Makes the language of the settings the one in use. */
static void follow_lang(app_desk *desk)
{
    char why[TR_TEXT_CAP];
    if (strcmp(tr_lang_code(app_desk_lang(desk)), desk->settings.lang) == 0) {
        return;
    }
    tr_lang_close(desk->other_lang);
    desk->other_lang = NULL;
    if (strcmp(tr_lang_code(desk->context->lang), desk->settings.lang) != 0) {
        desk->other_lang = app_lang_load(desk->context->folder, desk->settings.lang, why, sizeof why);
        if (desk->other_lang == NULL) {
            (void)tr_copy(desk->trouble, sizeof desk->trouble, why);
        }
    }
    app_shelf_look_back(&desk->shelf, &desk->places, tr_lang_code(app_desk_lang(desk)));
}

bool app_desk_open(app_desk *desk, const app_context *context, char *why, size_t why_cap)
{
    memset(desk, 0, sizeof *desk);
    desk->context = context;
    desk->offer = -1;
    desk->journal_ok = true;
    desk->choose.mode = JOB_GUIDED;
    const bool is_picture = context->options->screenshot != NULL;
    /* a picture must not depend on what somebody once chose or did on this machine */
    desk->keeps = !is_picture && app_places_find(&desk->places, desk->trouble, sizeof desk->trouble);
    if (context->options->attempts != NULL) {
        (void)tr_copy(desk->places.attempts, sizeof desk->places.attempts, context->options->attempts);
    }
    desk->settings = app_settings_load(desk->places.settings, tr_lang_code(context->lang));
    desk->offers_tour = !is_picture && !desk->settings.tour_seen;
    desk->asks_lang =
        !is_picture && context->options->lang == NULL && !desk->settings.knows_lang && !app_lang_is_clear();
    if (context->options->lang != NULL) {
        (void)tr_copy(desk->settings.lang, sizeof desk->settings.lang, context->options->lang);
    }
    if (context->options->text > 0.0) {
        desk->settings.prefs.text_scale = (float)context->options->text / 100.0F;
    }
    if (context->options->trainee != NULL) {
        (void)tr_copy(desk->settings.trainee, sizeof desk->settings.trainee, context->options->trainee);
    }
    desk->sound = is_picture ? NULL : view_sound_open();
    if (app_fonts_open(&desk->fonts, why, why_cap) != TR_OK) {
        return false;
    }
    desk->draw = view_draw_open();
    desk->metrics = view_fonts_metrics(desk->fonts);
    if (desk->draw == NULL || !view_ui_open(&desk->ui, desk->draw, &desk->metrics)) {
        (void)tr_copy(why, why_cap, "not enough memory");
        return false;
    }
    app_shelf_fill(&desk->shelf, context);
    follow_lang(desk);
    app_shelf_look_back(&desk->shelf, &desk->places, tr_lang_code(app_desk_lang(desk)));
    (void)app_practice_open(&desk->practice, context, &desk->shelf, desk->places.attempts, desk->keeps, desk->trouble,
                            sizeof desk->trouble);
    return true;
}

void app_desk_close(app_desk *desk)
{
    app__desk_put_away(desk);
    app_practice_close(&desk->practice);
    view_orders_close(desk->orders);
    view_sound_close(desk->sound);
    app_shelf_empty(&desk->shelf);
    if (desk->ui.keep != NULL) {
        view_ui_close(&desk->ui);
    }
    view_draw_close(desk->draw);
    view_fonts_close(desk->fonts);
    tr_lang_close(desk->other_lang);
}

/* what: of the shelf or of the attempt, so that it outlives the screen. */
static bool show_orders(app_desk *desk, const scenario *what)
{
    view_orders_close(desk->orders);
    desk->orders = view_orders_open(what);
    if (desk->orders == NULL) {
        return false;
    }
    desk->before_orders = desk->screen;
    desk->orders_of = what;
    desk->screen = APP_SCREEN_ORDERS;
    return true;
}

bool app_desk_orders(app_desk *desk, int index)
{
    return index >= 0 && index < desk->shelf.offer_count && desk->shelf.offer[index].what != NULL &&
           show_orders(desk, desk->shelf.offer[index].what);
}

static void go_home(app_desk *desk)
{
    app__desk_put_away(desk);
    app_shelf_look_back(&desk->shelf, &desk->places, tr_lang_code(app_desk_lang(desk)));
    app_practice_look(&desk->practice);
    desk->screen = APP_SCREEN_HOME;
}

/* ---- frames ----------------------------------------------------------------------------------------------------- */

void app__desk_do_said(app_desk *desk, const view_job_model *model, const view_job_said *said)
{
    for (int i = 0; i < said->action_count; i++) {
        const job_outcome outcome = record_attempt_do(desk->attempt, &said->action[i], &desk->journal_ok);
        const job_action *all = NULL;
        view_job_model now = *model;
        now.trace_count = record_attempt_actions(desk->attempt, &all);
        now.trace = record_attempt_trace(desk->attempt);
        view_job_heard(desk->job, &now, &said->action[i], &outcome);
        view_tour_heard(&desk->tour, &said->action[i], &outcome);
        view_job_sounded(&desk->ear, desk->job, &now, &said->action[i], &outcome, desk->ui.time_s);
        desk->ui.wants_frame = true;
    }
    for (int i = 0; i < said->undo; i++) {
        (void)record_attempt_undo(desk->attempt, model->now_ms);
        desk->ui.wants_frame = true;
    }
    view_job_sounds(&desk->ear, desk->job, model, desk->ui.time_s);
    view_ear_show(&desk->ear, &desk->ui, desk->job, model->system, desk->settings.captions);
}

view_job_model app__desk_model(const app_desk *desk)
{
    const scenario *what = record_attempt_scenario(desk->attempt);
    const job_action *all = NULL;
    return (view_job_model){
        .what = what,
        .state = record_attempt_state(desk->attempt),
        .about = record_attempt_about(desk->attempt),
        .trace = record_attempt_trace(desk->attempt),
        .trace_count = record_attempt_actions(desk->attempt, &all),
        .now_ms = desk->job_ms,
        .system = app_desk_system(desk, what),
        .journal_ok = desk->journal_ok,
    };
}

static void job_frame(app_desk *desk)
{
    view_job_said said;
    memset(&said, 0, sizeof said);
    const view_job_model model = app__desk_model(desk);
    view_job_frame(&desk->ui, desk->job, &model, &said);
    app__desk_do_said(desk, &model, &said);
    if (said.settings) {
        desk->before_settings = APP_SCREEN_JOB;
        desk->screen = APP_SCREEN_SETTINGS;
    } else if (said.orders) {
        (void)show_orders(desk, model.what);
    } else if (said.show_me) {
        (void)app_desk_show_me(desk);
    } else if (said.leave) {
        go_home(desk);
    } else if (said.debrief) {
        record_attempt_finish(desk->attempt, &desk->card);
        (void)app__desk_to_debrief(desk);
    }
}

static void keep_settings(app_desk *desk)
{
    if (desk->keeps &&
        !app_settings_save(desk->places.settings, &desk->settings, desk->trouble, sizeof desk->trouble)) {
        desk->keeps = false;
    }
}

void app__desk_tour_seen(app_desk *desk)
{
    desk->offers_tour = false;
    desk->settings.tour_seen = true;
    keep_settings(desk);
}

static void take_lang(app_desk *desk, int index)
{
    (void)tr_copy(desk->settings.lang, sizeof desk->settings.lang, index == 1 ? "es" : "en");
    desk->asks_lang = false;
    follow_lang(desk);
    keep_settings(desk);
}

static void obey(app_desk *desk, view_answer_of_screen answer)
{
    switch (answer.wish) {
    case VIEW_GO_TOUR:
        (void)app_desk_tour(desk);
        break;
    case VIEW_SKIP_TOUR:
        app__desk_tour_seen(desk);
        break;
    case VIEW_SET_LANG:
        take_lang(desk, answer.index);
        break;
    case VIEW_GO_HOME:
        go_home(desk);
        break;
    case VIEW_GO_PROGRESS:
        desk->screen = APP_SCREEN_PROGRESS;
        break;
    case VIEW_PRACTISE:
        desk->choose.card = answer.index;
        desk->screen = APP_SCREEN_SCENARIOS;
        break;
    case VIEW_GO_SCENARIOS:
        desk->screen = APP_SCREEN_SCENARIOS;
        break;
    case VIEW_GO_SETTINGS:
        desk->before_settings = desk->screen;
        desk->screen = APP_SCREEN_SETTINGS;
        break;
    case VIEW_GO_BACK:
        desk->screen = desk->screen == APP_SCREEN_ORDERS ? desk->before_orders : desk->before_settings;
        break;
    case VIEW_START:
        keep_settings(desk); /* the name was asked for on the same screen */
        (void)app_desk_start(desk, answer.index, answer.mode, true);
        break;
    case VIEW_GO_ORDERS:
        keep_settings(desk);
        (void)app_desk_orders(desk, answer.index);
        break;
    case VIEW_CONTINUE:
        (void)app_desk_resume(desk, desk->shelf.journal[answer.index]);
        break;
    case VIEW_OPEN_DEBRIEF:
        (void)app_desk_review(desk, desk->shelf.journal[answer.index]);
        break;
    case VIEW_AGAIN:
        (void)app_desk_start(desk, desk->offer, record_attempt_about(desk->attempt)->mode, true);
        break;
    case VIEW_SAVE_PDF:
        app__desk_save_pdf(desk);
        break;
    case VIEW_QUIT:
        desk->wants_end = true;
        break;
    case VIEW_STAY:
    default:
        return;
    }
    desk->ui.wants_frame = true;
}

static view_answer_of_screen draw_settings(app_desk *desk)
{
    static const view_cue sample = {.kind = VIEW_CUE_PLUCK, .row = -1, .hz = 82.0F};
    bool changed = false;
    const float volume = desk->settings.volume;
    desk->settings.has_no_speaker = view_sound_is_missing(desk->sound);
    desk->settings.has_tour = desk->before_settings != APP_SCREEN_JOB && app__desk_first_exercise(desk) >= 0;
    const view_answer_of_screen answer = view_settings_screen(&desk->ui, &desk->settings, &changed);
    if (desk->settings.volume != volume) { /* what was chosen is heard at once */
        desk->ear.cue[0] = sample;
        desk->ear.cue_count = 1;
    }
    if (changed) {
        follow_lang(desk);
        desk->ui.wants_frame = true;
        keep_settings(desk);
    }
    return answer;
}

/* Reading the past is spread over the frames of the screens that show it; a picture waits for all of it. */
static void look_at_progress(app_desk *desk)
{
    const bool is_picture = desk->context->options->screenshot != NULL;
    bool waits = app_practice_step(&desk->practice, desk->settings.trainee);
    while (waits && is_picture) {
        waits = app_practice_step(&desk->practice, desk->settings.trainee);
    }
    desk->ui.wants_frame = desk->ui.wants_frame || waits;
}

static view_answer_of_screen draw_home(app_desk *desk)
{
    look_at_progress(desk);
    const char *trouble = desk->trouble[0] == '\0' ? NULL : desk->trouble;
    const view_home_model home = {.past = desk->shelf.past,
                                  .past_count = desk->shelf.past_count,
                                  .trouble = trouble,
                                  .progress = desk->practice.works ? &desk->practice.progress : NULL,
                                  .offers = desk->shelf.offer,
                                  .offer_count = desk->shelf.offer_count,
                                  .first = app__desk_first_exercise(desk),
                                  .has_tour = app__desk_first_exercise(desk) >= 0,
                                  .offers_tour = desk->offers_tour,
                                  .asks_lang = desk->asks_lang};
    return view_home(&desk->ui, &home);
}

static view_answer_of_screen draw_screen(app_desk *desk)
{
    const view_answer_of_screen stay = {VIEW_STAY, 0, JOB_GUIDED};
    switch (desk->screen) {
    case APP_SCREEN_SCENARIOS:
        return view_scenarios(&desk->ui, desk->shelf.offer, desk->shelf.offer_count, &desk->choose, &desk->settings);
    case APP_SCREEN_SETTINGS:
        return draw_settings(desk);
    case APP_SCREEN_PROGRESS:
        look_at_progress(desk);
        return view_progress_screen(&desk->ui, &desk->practice.progress);
    case APP_SCREEN_DEBRIEF:
        return view_debrief_frame(&desk->ui, desk->debrief, desk->attempt, &desk->card,
                                  app_desk_system(desk, record_attempt_scenario(desk->attempt)));
    case APP_SCREEN_ORDERS:
        return view_orders_frame(&desk->ui, desk->orders, app_desk_system(desk, desk->orders_of));
    case APP_SCREEN_JOB:
        job_frame(desk);
        return stay;
    case APP_SCREEN_SHOWN:
        app__desk_shown_frame(desk);
        return stay;
    case APP_SCREEN_TOUR:
        app__desk_tour_frame(desk);
        return stay;
    case APP_SCREEN_HOME:
    case APP_SCREENS:
    default:
        return draw_home(desk);
    }
}

static bool is_pressed(const view_input *input)
{
    bool is = input->keys > 0 || input->text[0] != '\0' || input->wheel != 0.0F;
    for (int i = 0; i < VIEW_MOUSE_BUTTONS; i++) {
        is = is || input->pressed[i] || input->released[i];
    }
    return is;
}

static bool is_at_job(app_screen screen)
{
    return screen == APP_SCREEN_JOB || screen == APP_SCREEN_TOUR || screen == APP_SCREEN_SHOWN;
}

/* Only for hands that hold a controller and want to feel it. */
static view_feel feel_of(const app_desk *desk, const view_input *input)
{
    const bool is_wanted = input->device == VIEW_BY_PAD && desk->screen == APP_SCREEN_JOB && !desk->settings.is_still &&
                           !desk->settings.prefs.reduced_motion;
    return is_wanted ? view_ear_feel(&desk->ear) : (view_feel){0.0F, 0.0F};
}

/* Only the job sounds; what was sounding when it was left fades. */
static void make_sound(app_desk *desk, app_screen before)
{
    if (!is_at_job(desk->screen)) {
        desk->ear.hum = (view_hum){.motor = VIEW_NO_MOTOR};
    }
    if (is_at_job(before) && desk->screen != before) {
        view_sound_hush(desk->sound);
    }
    const float again_s = view_sound_frame(desk->sound, &desk->ear, desk->settings.volume, desk->ui.time_s);
    if (again_s >= 0.0F && (desk->ui.wake_in_s < 0.0F || again_s < desk->ui.wake_in_s)) {
        desk->ui.wake_in_s = again_s;
    }
}

void app_desk_frame(app_desk *desk, const view_input *input, long long clock_ms)
{
    if (desk->screen == APP_SCREEN_JOB && desk->seen_ms > 0) {
        desk->job_ms += clock_ms - desk->seen_ms;
    }
    desk->seen_ms = clock_ms;
    desk->wants_end = desk->wants_end || input->wants_quit;
    view_begin(&desk->ui, input, &desk->settings.prefs, app_desk_lang(desk));
    const app_screen before = desk->screen;
    view_answer_of_screen answer = draw_screen(desk);
    if (view_key_take(&desk->ui, VIEW_PAD_START, 0)) {
        answer.wish = before == APP_SCREEN_SETTINGS ? VIEW_GO_BACK : VIEW_GO_SETTINGS;
    }
    view_end(&desk->ui);
    obey(desk, answer);
    desk->feel = feel_of(desk, input);
    make_sound(desk, before);
    /* what a press changes after it was drawn is seen in the next frame */
    desk->ui.wants_frame = desk->ui.wants_frame || is_pressed(input);
}

int app_desk_picture(app_desk *desk, const char *path, float width, float height, float scale)
{
    char why[TR_TEXT_CAP];
    view_input input;
    memset(&input, 0, sizeof input);
    input.width = width;
    input.height = height;
    /* a few frames: scroll bars and eased values need to settle */
    for (int i = 0; i < 40; i++) {
        input.time_s = 0.05 * i;
        input.dt_s = 0.05F;
        app_desk_frame(desk, &input, 0);
    }
    const view_color ground = desk->ui.theme->page;
    if (view_shot(desk->draw, desk->fonts, width, height, scale, ground, path, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "tautrow: %s\n", why);
        return APP_EXIT_USAGE;
    }
    return APP_EXIT_FINE;
}
