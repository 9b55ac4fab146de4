/* The attempt on the desk: begun, taken up again, looked back at, put away. */
#include "desk_attempts.h"

#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"

void app__desk_put_away(app_desk *desk)
{
    view_shown_close(desk->shown);
    view_job_close(desk->job);
    view_debrief_close(desk->debrief);
    record_attempt_close(desk->attempt);
    desk->shown = NULL;
    desk->job = NULL;
    desk->debrief = NULL;
    desk->attempt = NULL;
    desk->journal[0] = '\0';
}

static bool go_to_job(app_desk *desk, record_attempt *attempt)
{
    view_job *job = view_job_open(record_attempt_scenario(attempt));
    if (job == NULL) {
        record_attempt_close(attempt);
        return false;
    }
    app__desk_put_away(desk);
    desk->attempt = attempt;
    desk->job = job;
    memset(&desk->ear, 0, sizeof desk->ear);
    const int64_t so_far = record_attempt_state(attempt)->now_ms;
    desk->job_ms = so_far;
    desk->screen = APP_SCREEN_JOB;
    return true;
}

bool app__desk_to_debrief(app_desk *desk)
{
    view_debrief_close(desk->debrief);
    desk->debrief = view_debrief_open(desk->attempt, &desk->card);
    if (desk->debrief == NULL) {
        return false;
    }
    desk->screen = APP_SCREEN_DEBRIEF;
    return true;
}

/* Opens the journal of an attempt that has just begun; a second attempt within a second gets a name of its own. */
static void keep_journal(app_desk *desk, const char *stamp, const char *id)
{
    char why[TR_TEXT_CAP] = "";
    desk->journal_ok = false;
    for (int i = 0; desk->keeps && i < 10 && !desk->journal_ok; i++) {
        char path[APP_PATH_CAP];
        if (!tr_format(path, sizeof path, "%s/%s-%s-%d.jsonl", desk->places.attempts, stamp, id, i) ||
            tr_file_exists(path)) {
            continue;
        }
        desk->journal_ok = record_attempt_journal(desk->attempt, path, why, sizeof why) == TR_OK;
        if (!desk->journal_ok) {
            break;
        }
        (void)tr_copy(desk->journal, sizeof desk->journal, path);
    }
    if (!desk->journal_ok && why[0] != '\0') {
        (void)tr_copy(desk->trouble, sizeof desk->trouble, why);
    }
}

job_mode app_mode_named(const char *name)
{
    if (strcmp(name, "guided") == 0) {
        return JOB_GUIDED;
    }
    return strcmp(name, "assessment") == 0 ? JOB_ASSESSMENT : JOB_PRACTICE;
}

bool app_desk_start(app_desk *desk, int index, job_mode mode, bool is_kept)
{
    if (index < 0 || index >= desk->shelf.offer_count || desk->shelf.held[index] == NULL) {
        return false;
    }
    app_scenario *held = desk->shelf.held[index];
    record_about about;
    char stamp[32];
    memset(&about, 0, sizeof about);
    (void)tr_copy(about.trainee, sizeof about.trainee, desk->settings.trainee);
    (void)tr_copy(about.version, sizeof about.version, TAUTROW_VERSION);
    app_now_utc(about.started_utc, stamp);
    about.mode = mode;
    about.seed = held->what.setup.seed;
    record_attempt *attempt = record_attempt_open(held->text, held->size, &held->what,
                                                  scenario_catalogue_text(desk->context->catalogue), &about);
    if (attempt == NULL || !go_to_job(desk, attempt)) {
        return false;
    }
    desk->offer = index;
    desk->journal_ok = true;
    if (is_kept) {
        keep_journal(desk, stamp, held->what.setup.id);
    }
    return true;
}

/* Reads a journal file into an attempt; trouble is kept in words. */
static record_attempt *read_journal(app_desk *desk, const char *journal, bool goes_on, record_reading *reading)
{
    char why[TR_TEXT_CAP] = "";
    char *text = NULL;
    size_t size = 0;
    record_attempt *attempt = NULL;
    tr_diags *diags = calloc(1, sizeof *diags);
    tr_result result = diags == NULL ? TR_NO_MEMORY : TR_OK;
    memset(reading, 0, sizeof *reading);
    if (result == TR_OK && goes_on) {
        result = record_attempt_continue(journal, &attempt, reading, diags);
    } else if (result == TR_OK) {
        result = tr_file_read(journal, RECORD_MAX_FILE, &text, &size, why, sizeof why);
        if (result == TR_OK) {
            result = record_attempt_read(text, size, &attempt, reading, diags);
        }
    }
    if (result != TR_OK) {
        const char *told = reading->problem[0] != '\0'         ? reading->problem
                           : diags != NULL && diags->count > 0 ? diags->item[0].text
                                                               : why;
        (void)tr_copy(desk->trouble, sizeof desk->trouble, told);
        record_attempt_close(attempt);
        attempt = NULL;
    }
    free(diags);
    free(text);
    return attempt;
}

/* The offer that an attempt was made at, for "once more"; -1 where it is no longer there. */
static int offer_of(const app_desk *desk, const record_attempt *attempt)
{
    for (int i = 0; i < desk->shelf.offer_count; i++) {
        const scenario *what = desk->shelf.offer[i].what;
        if (what != NULL && strcmp(what->setup.id, record_attempt_scenario(attempt)->setup.id) == 0) {
            return i;
        }
    }
    return -1;
}

bool app_desk_resume(app_desk *desk, const char *journal)
{
    record_reading reading;
    record_attempt *attempt = read_journal(desk, journal, true, &reading);
    if (attempt == NULL) {
        return false;
    }
    desk->journal_ok = true;
    desk->offer = offer_of(desk, attempt);
    if (!go_to_job(desk, attempt)) {
        return false;
    }
    (void)tr_copy(desk->journal, sizeof desk->journal, journal);
    return true;
}

bool app_desk_review(app_desk *desk, const char *journal)
{
    record_reading reading;
    record_attempt *attempt = read_journal(desk, journal, false, &reading);
    if (attempt == NULL) {
        return false;
    }
    app__desk_put_away(desk);
    desk->attempt = attempt;
    desk->card = reading.card;
    desk->offer = offer_of(desk, attempt);
    (void)tr_copy(desk->journal, sizeof desk->journal, journal);
    return app__desk_to_debrief(desk);
}

bool app_desk_show(app_desk *desk, const char *journal, long long steps)
{
    record_reading reading;
    record_attempt *whole = read_journal(desk, journal, false, &reading);
    if (whole == NULL) {
        return false;
    }
    const job_action *actions = NULL;
    const size_t count = record_attempt_actions(whole, &actions);
    const size_t shown = steps < 0 || (size_t)steps > count ? count : (size_t)steps;
    record_about about = *record_attempt_about(whole);
    if (desk->context->options->mode != NULL) {
        about.mode = app_mode_named(desk->context->options->mode);
    }
    record_attempt *part = record_attempt_open("", 0, record_attempt_scenario(whole), "", &about);
    if (part == NULL || !go_to_job(desk, part)) {
        record_attempt_close(whole);
        return false;
    }
    for (size_t i = 0; i < shown; i++) {
        const job_outcome outcome = record_attempt_do(part, &actions[i], NULL);
        const view_job_model model = {.what = record_attempt_scenario(part),
                                      .state = record_attempt_state(part),
                                      .about = record_attempt_about(part),
                                      .trace = record_attempt_trace(part),
                                      .trace_count = i + 1,
                                      .now_ms = actions[i].at_ms,
                                      .system = TR_US,
                                      .journal_ok = true};
        view_job_heard(desk->job, &model, &actions[i], &outcome);
        desk->job_ms = actions[i].at_ms;
    }
    record_attempt_close(whole);
    return true;
}

void app_desk_advance(app_desk *desk, long long steps)
{
    job_action next;
    for (long long i = 0; desk->job != NULL && i < steps; i++) {
        const scenario *what = record_attempt_scenario(desk->attempt);
        if (!job_expert_next(&what->setup, record_attempt_state(desk->attempt), &next)) {
            return;
        }
        (void)record_attempt_do(desk->attempt, &next, NULL);
        desk->job_ms = next.at_ms;
        view_job_show(desk->job, job_verb_look(next.verb)->stage, job_action_row(&next));
    }
}
