/* Practice: feeds past attempts to the tracing and says what it makes of them. */
#include "practice.h"

#include <stdlib.h>
#include <string.h>

#include <cJSON.h>

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

enum { MAX_MASTERY_FILE = 65536 };

/* ---- parameters ------------------------------------------------------------------------------------------------- */

static bool take_number(const cJSON *json, const char *key, double *out)
{
    const cJSON *number = cJSON_GetObjectItemCaseSensitive(json, key);
    *out = cJSON_IsNumber(number) ? number->valuedouble : 0.0;
    return cJSON_IsNumber(number);
}

static bool take_tracing(const cJSON *json, score_tracing *out)
{
    const bool is_whole = take_number(json, "known", &out->known) && take_number(json, "learn", &out->learn) &&
                          take_number(json, "guess", &out->guess) && take_number(json, "slip", &out->slip);
    return is_whole && score_tracing_is_sound(out);
}

bool app_tracings_read(const char *text, size_t size, score_tracings *out, char *why, size_t why_cap)
{
    cJSON *json = cJSON_ParseWithLength(text, size);
    const cJSON *skills = cJSON_GetObjectItemCaseSensitive(json, "skills");
    bool fine = true;
    for (int i = 0; i < SCORE_SKILLS && fine; i++) {
        const char *key = score_skill_key((score_skill)i);
        fine = take_tracing(cJSON_GetObjectItemCaseSensitive(skills, key), &out->of[i]);
        if (!fine) {
            (void)tr_format(why, why_cap,
                            "mastery.json: skill \"%s\" wants known, learn, guess and slip as chances, the last two "
                            "under a half",
                            key);
        }
    }
    cJSON_Delete(json);
    return fine;
}

static bool load_tracings(const char *folder, score_tracings *out, char *why, size_t why_cap)
{
    char path[APP_PATH_CAP];
    char *text = NULL;
    size_t size = 0;
    if (!tr_format(path, sizeof path, "%s/assets/mastery.json", folder) ||
        tr_file_read(path, MAX_MASTERY_FILE, &text, &size, why, why_cap) != TR_OK) {
        return false;
    }
    const bool fine = app_tracings_read(text, size, out, why, why_cap);
    free(text);
    return fine;
}

/* ---- exercises -------------------------------------------------------------------------------------------------- */

/* What a scenario judges is what the examiner would judge of an attempt in which nothing was done. Offers come easiest
 * first. */
static void find_exercises(app_practice *practice, const app_shelf *shelf)
{
    score_card *card = calloc(1, sizeof *card);
    for (int i = 0; i < SCORE_SKILLS; i++) {
        practice->exercise[i] = -1;
    }
    for (int offer = 0; card != NULL && offer < shelf->offer_count; offer++) {
        if (shelf->offer[offer].what == NULL) {
            continue;
        }
        score_grade(shelf->offer[offer].what, NULL, 0, card);
        for (int i = 0; i < SCENARIO_CRITERIA; i++) {
            const score_skill skill = score_skill_of((scenario_criterion)i);
            if (card->line[i].applies && practice->exercise[skill] < 0) {
                practice->exercise[skill] = offer;
            }
        }
    }
    free(card);
}

bool app_practice_open(app_practice *practice, const app_context *context, const app_shelf *shelf, const char *attempts,
                       bool keeps, char *why, size_t why_cap)
{
    char made_by[64];
    memset(practice, 0, sizeof *practice);
    practice->works = load_tracings(context->folder, &practice->tracings, why, why_cap);
    if (!practice->works) {
        return false;
    }
    /* a journal holds all that its score needs but the program */
    (void)tr_format(made_by, sizeof made_by, "tautrow %s", TAUTROW_VERSION);
    app_history_open(&practice->history, attempts, made_by, keeps);
    find_exercises(practice, shelf);
    app_practice_look(practice);
    return true;
}

void app_practice_close(app_practice *practice)
{
    app_history_close(&practice->history);
}

void app_practice_look(app_practice *practice)
{
    if (practice->works) {
        app_history_look(&practice->history);
    }
}

/* ---- progress --------------------------------------------------------------------------------------------------- */

/* The newest stay where there is no room for all. */
static void add_dot(view_skill *skill, double share)
{
    if (skill->dot_count == VIEW_SKILL_DOTS) {
        memmove(skill->dot, skill->dot + 1, (VIEW_SKILL_DOTS - 1) * sizeof skill->dot[0]);
        skill->dot_count--;
    }
    skill->dot[skill->dot_count++] = share;
}

static void add_total(view_progress *progress, const app_result *result)
{
    if (progress->total_count == VIEW_MAX_TOTALS) {
        memmove(progress->total, progress->total + 1, (VIEW_MAX_TOTALS - 1) * sizeof progress->total[0]);
        progress->total_count--;
    }
    progress->total[progress->total_count++] = (view_total){result->total, result->pass_mark, result->passed};
}

static void add_result(view_progress *progress, const app_result *result)
{
    progress->attempts++;
    add_total(progress, result);
    for (int i = 0; i < SCORE_SKILLS; i++) {
        if (result->shares.of[i] >= 0.0) {
            add_dot(&progress->skill[i], result->shares.of[i]);
        }
    }
}

static void choose_next(app_practice *practice, const score_mastery *mastery)
{
    bool can_practise[SCORE_SKILLS];
    view_progress *progress = &practice->progress;
    for (int i = 0; i < SCORE_SKILLS; i++) {
        can_practise[i] = practice->exercise[i] >= 0;
        progress->skill[i].known = mastery->known[i];
        progress->skill[i].chances = mastery->chances[i];
        progress->skill[i].exercise = practice->exercise[i];
    }
    progress->next_count = score_weakest(mastery, can_practise, progress->next, VIEW_MAX_NEXT);
}

static void work_out(app_practice *practice, const char *trainee)
{
    view_progress *progress = &practice->progress;
    score_mastery mastery = score_mastery_start(&practice->tracings);
    memset(progress, 0, sizeof *progress);
    (void)tr_copy(progress->trainee, sizeof progress->trainee, trainee);
    for (size_t i = 0; i < practice->history.count; i++) {
        const app_result *result = &practice->history.result[i];
        progress->broken += result->kind == APP_RESULT_BROKEN ? 1 : 0;
        if (result->kind == APP_RESULT_COUNTS && strcmp(result->trainee, trainee) == 0) {
            add_result(progress, result);
            score_mastery_add(&mastery, &practice->tracings, &result->shares);
        }
    }
    progress->waiting = (int)app_history_waiting(&practice->history);
    choose_next(practice, &mastery);
}

bool app_practice_step(app_practice *practice, const char *trainee)
{
    if (!practice->works) {
        return false;
    }
    const bool waits = app_history_step(&practice->history) > 0;
    work_out(practice, trainee);
    return waits;
}
