/* tautrow without a verb: the window, or one picture of it without a display. */
#include "window.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "desk.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"
#include "tautrow/view/host.h"

enum { IDLE_WAIT_S = 1 };

static const double SHAKE_S = 0.15;

static const char *const screen_names[APP_SCREENS] = {"home",     "scenarios", "job",   "debrief", "settings",
                                                      "progress", "orders",    "shown", "tour"};

/* What the order changes on the scenario that the command line names, after --step pulls. */
static bool show_orders(app_desk *desk, char *why, size_t why_cap)
{
    const app_options *options = desk->context->options;
    if (options->file_count != 1 || !app_desk_orders(desk, desk->choose.card)) {
        (void)tr_copy(why, why_cap, "--screen orders needs a scenario");
        return false;
    }
    view_orders_show(desk->orders, options->step < 0 ? 0 : (int)options->step);
    return true;
}

/* The tour at step --step (from 1). */
static bool show_tour(app_desk *desk, char *why, size_t why_cap)
{
    const long long step = desk->context->options->step;
    if (!app_desk_tour(desk)) {
        (void)tr_copy(why, why_cap, "there is no exercise for the tour");
        return false;
    }
    view_tour_go(&desk->tour, step < 1 ? 0 : (int)(step < VIEW_TOUR_STEPS ? step : VIEW_TOUR_STEPS) - 1);
    return true;
}

/* The home screen as somebody sees it who is here for the first time; --step 0 asks for the language first. */
static bool show_welcome(app_desk *desk)
{
    desk->screen = APP_SCREEN_HOME;
    desk->offers_tour = true;
    desk->asks_lang = desk->context->options->step == 0;
    return true;
}

static bool lacks(const char *name, char *why, size_t why_cap)
{
    (void)tr_format(why, why_cap, "--screen %s needs a scenario with --mode, or a journal", name);
    return false;
}

/* The job with its reasons. */
static bool show_why(app_desk *desk, char *why, size_t why_cap)
{
    if (desk->job == NULL) {
        return lacks("why", why, why_cap);
    }
    view_job_ask_why(desk->job);
    desk->screen = APP_SCREEN_JOB;
    return true;
}

/* The debrief with chart --step (from 1). */
static void show_debrief(app_desk *desk)
{
    const long long step = desk->context->options->step;
    if (step >= 1) {
        view_debrief_turn_to(desk->debrief, (int)step - 1);
    }
}

/* The screen that the command line asks for by name. */
static bool show_screen(app_desk *desk, const char *name, char *why, size_t why_cap)
{
    if (strcmp(name, "welcome") == 0) {
        return show_welcome(desk);
    }
    if (strcmp(name, "why") == 0) {
        return show_why(desk, why, why_cap);
    }
    for (int i = 0; i < (int)APP_SCREENS; i++) {
        if (strcmp(name, screen_names[i]) != 0) {
            continue;
        }
        const bool lacks_job = (i == APP_SCREEN_JOB || i == APP_SCREEN_SHOWN) && desk->job == NULL;
        if (lacks_job || (i == APP_SCREEN_DEBRIEF && desk->debrief == NULL)) {
            return lacks(name, why, why_cap);
        }
        if (i == APP_SCREEN_ORDERS) {
            return show_orders(desk, why, why_cap);
        }
        if (i == APP_SCREEN_SHOWN) {
            return app_desk_show_me(desk);
        }
        if (i == APP_SCREEN_TOUR) {
            return show_tour(desk, why, why_cap);
        }
        desk->screen = (app_screen)i;
        if (i == APP_SCREEN_DEBRIEF) {
            show_debrief(desk);
        }
        return true;
    }
    (void)tr_format(why, why_cap,
                    "there is no screen \"%s\": home, scenarios, job, debrief, settings, "
                    "progress, orders, tour, welcome, shown, why",
                    name);
    return false;
}

/* Goes to where the command line points: a journal, a scenario, a screen. */
static bool go_where_asked(app_desk *desk, char *why, size_t why_cap)
{
    const app_options *options = desk->context->options;
    const bool wants_shown = options->screen != NULL && strcmp(options->screen, "shown") == 0;
    const bool wants_job =
        wants_shown ||
        (options->screen != NULL && (strcmp(options->screen, "job") == 0 || strcmp(options->screen, "why") == 0));
    if (options->file_count > 1) {
        (void)tr_copy(why, why_cap, "the window opens one scenario");
        return false;
    }
    if (options->resume != NULL || options->journal != NULL) {
        const bool fine = options->resume != NULL ? app_desk_resume(desk, options->resume)
                          : wants_job             ? app_desk_show(desk, options->journal, options->step)
                                                  : app_desk_review(desk, options->journal);
        if (!fine) {
            (void)tr_format(why, why_cap, "%s: %s", options->resume != NULL ? options->resume : options->journal,
                            desk->trouble);
            return false;
        }
    } else if (options->file_count == 1) {
        desk->choose.card = app_shelf_add(&desk->shelf, desk->context, options->files[0]);
        if (desk->choose.card < 0 || desk->shelf.offer[desk->choose.card].what == NULL) {
            const char *problem =
                desk->choose.card < 0 ? "there is no room for it" : desk->shelf.offer[desk->choose.card].problem;
            (void)tr_format(why, why_cap, "%s:%s%s", options->files[0], isdigit((unsigned char)*problem) ? "" : " ",
                            problem);
            return false;
        }
        desk->screen = APP_SCREEN_SCENARIOS;
        if (options->mode != NULL) {
            (void)app_desk_start(desk, desk->choose.card, app_mode_named(options->mode),
                                 options->screenshot == NULL && !wants_shown);
            app_desk_advance(desk, wants_shown ? options->step : 0);
        }
    }
    return options->screen == NULL || show_screen(desk, options->screen, why, why_cap);
}

static int picture(app_desk *desk)
{
    const app_options *options = desk->context->options;
    const float scale = options->scale > 0.0 ? (float)options->scale : 1.0F;
    const float width = options->width > 0 ? (float)options->width / scale : 1280.0F;
    const float height = options->height > 0 ? (float)options->height / scale : 800.0F;
    return app_desk_picture(desk, options->screenshot, width, height, scale);
}

/* The sooner of two waits; below 0 = for ever. */
static double soonest(double a, double b)
{
    if (a < 0.0 || b < 0.0) {
        return a < 0.0 ? b : a;
    }
    return a < b ? a : b;
}

/* For players that are programs: what can be pressed now and where, a line each, and how far the attempt is. The file
 * is replaced whole, so that a reader never sees half of it. */
static void write_targets(const app_desk *desk, const char *path)
{
    enum { CAP = 65536 };
    const view_target *targets = NULL;
    const job_action *actions = NULL;
    char why[TR_TEXT_CAP];
    const size_t count = view_targets(&desk->ui, &targets);
    const size_t made = desk->attempt == NULL ? 0 : record_attempt_actions(desk->attempt, &actions);
    char *text = malloc(CAP);
    if (text == NULL) {
        return;
    }
    (void)tr_format(text, CAP, "screen %s\nactions %zu\nfocus %s\n", screen_names[desk->screen], made,
                    view_focus_label(&desk->ui));
    for (size_t i = 0; i < count; i++) {
        const view_rect *rect = &targets[i].rect;
        (void)tr_append(text, CAP, "%.1f %.1f %.1f %.1f %s\n", (double)rect->x, (double)rect->y, (double)rect->w,
                        (double)rect->h, targets[i].label);
    }
    (void)tr_file_write(path, text, strlen(text), why, sizeof why);
    free(text);
}

/* The window's frame names the exercise that lies on the desk. */
static void name_window(const app_desk *desk, view_host *host, char shown[SCENARIO_TITLE_CAP + 16])
{
    char title[SCENARIO_TITLE_CAP + 16] = "tautrow";
    if (desk->attempt != NULL) {
        const scenario *what = record_attempt_scenario(desk->attempt);
        (void)tr_format(title, sizeof title, "%s - tautrow",
                        scenario_title_in(&what->title, tr_lang_code(app_desk_lang(desk))));
    }
    if (strcmp(title, shown) != 0) { /* asking the window system is not free */
        (void)tr_copy(shown, sizeof title, title);
        view_host_title(host, title);
    }
}

static int loop(app_desk *desk)
{
    const app_options *options = desk->context->options;
    char why[TR_TEXT_CAP];
    char title[SCENARIO_TITLE_CAP + 16] = "tautrow";
    view_host *host = NULL;
    const view_host_options wanted = {title, options->width, options->height, (float)options->scale};
    if (view_host_open(&wanted, &host, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "tautrow: %s\n", why);
        return APP_EXIT_USAGE;
    }
    int code = APP_EXIT_FINE;
    view_input input;
    memset(&input, 0, sizeof input);
    desk->ui.wants_frame = true;
    while (!desk->wants_end) {
        /* the clock of the job is shown to the second, so a frame a second is enough when nothing moves */
        const double wait = desk->screen == APP_SCREEN_JOB ? (double)IDLE_WAIT_S : -1.0;
        view_host_input(host, desk->ui.wants_frame, soonest(wait, (double)desk->ui.wake_in_s), &input);
        app_desk_frame(desk, &input, app_clock_ms());
        if (options->targets != NULL) {
            write_targets(desk, options->targets);
        }
        name_window(desk, host, title);
        view_host_text(host, desk->ui.wants_text);
        if (desk->feel.low > 0.0F || desk->feel.high > 0.0F) { /* dies away by itself */
            view_host_rumble(host, desk->feel.low, desk->feel.high, SHAKE_S);
        }
        if (!view_host_present(host, desk->draw, desk->fonts, desk->ui.theme->page)) {
            (void)fprintf(stderr, "tautrow: the window is gone\n");
            code = APP_EXIT_USAGE;
            break;
        }
    }
    view_host_close(host);
    return code;
}

int app_window(const app_context *context)
{
    char why[TR_TEXT_CAP] = "";
    app_desk *desk = malloc(sizeof *desk);
    if (desk == NULL) {
        (void)fprintf(stderr, "tautrow: not enough memory\n");
        return APP_EXIT_USAGE;
    }
    int code = APP_EXIT_USAGE;
    if (!app_desk_open(desk, context, why, sizeof why) || !go_where_asked(desk, why, sizeof why)) {
        (void)fprintf(stderr, "tautrow: %s\n", why);
    } else {
        code = context->options->screenshot != NULL ? picture(desk) : loop(desk);
    }
    app_desk_close(desk);
    free(desk);
    return code;
}
