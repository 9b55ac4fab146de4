/* tautrow replay: recomputes journals, verifies them line by line and prints the debrief. */
#include "commands.h"

#include <stdlib.h>
#include <string.h>

#include <cJSON.h>

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"
#include "tautrow/record/attempt.h"

typedef struct replay_work {
    const app_context *context;
    const char *path;
    char digest[TR_HASH_TEXT];
    record_attempt *attempt;
    record_reading reading;
    tr_diags diags;
    tr_result result;
} replay_work;

static void print_stops(const replay_work *work)
{
    const score_card *card = &work->reading.card;
    char text[TR_TEXT_CAP];
    for (int stop = 0; stop < SCORE_STOPS; stop++) {
        if ((card->stops & (1u << stop)) != 0) {
            score_stop_reason(card, (score_stop)stop, work->context->lang, text, sizeof text);
            (void)printf("%s: %s\n", tr_word(work->context->lang, "cli.replay.stop"), text);
        }
    }
}

static void print_lines(const replay_work *work, tr_system system)
{
    const score_card *card = &work->reading.card;
    const tr_lang *lang = work->context->lang;
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        const score_line *line = &card->line[i];
        char key[64];
        char text[1024];
        if (!line->applies) {
            continue;
        }
        (void)tr_format(key, sizeof key, "rubric.%s", scenario_criterion_look(line->criterion)->key);
        score_reason(line, lang, system, text, sizeof text);
        (void)printf("  %s: %s\n", tr_word(lang, key), text);
    }
}

static void print_debrief(const replay_work *work)
{
    const scenario *what = record_attempt_scenario(work->attempt);
    const record_about *about = record_attempt_about(work->attempt);
    const score_card *card = &work->reading.card;
    const app_context *context = work->context;
    const tr_system system = app_system(context, what);
    char text[6][48];
    (void)printf("%s — %s%s%s\n", scenario_title_in(&what->title, tr_lang_code(context->lang)), about->trainee,
                 about->trainee[0] == '\0' ? "" : ", ", about->started_utc);
    score_points_text(card->total, text[0], 48);
    score_points_text(card->pass_mark, text[1], 48);
    const char *total[] = {text[0], text[1]};
    app_say(context, stdout, card->passed ? "cli.replay.passed" : "cli.replay.failed", total, 2);
    print_stops(work);
    print_lines(work, system);
    (void)printf("%s", tr_word(context->lang, "cli.replay.tensions"));
    for (int i = 0; i < what->setup.structure.row_count; i++) {
        (void)printf("%s %d: %s", i == 0 ? "" : ";", i + 1,
                     app_quantity(card->final_tension_n[i], TR_DIM_FORCE, system, text[0]));
    }
    (void)tr_format(text[0], 48, "%d", work->reading.lines);
    (void)tr_format(text[1], 48, "%d", card->replays);
    const char *kept[] = {text[0], text[1]};
    (void)printf("\n");
    app_say(context, stdout, "cli.replay.verified", kept, 2);
}

static cJSON *line_json(const score_line *line, const tr_lang *lang, tr_system system)
{
    char text[1024];
    cJSON *one = cJSON_CreateObject();
    score_reason(line, lang, system, text, sizeof text);
    (void)cJSON_AddStringToObject(one, "criterion", scenario_criterion_look(line->criterion)->key);
    (void)cJSON_AddNumberToObject(one, "points", line->points);
    (void)cJSON_AddNumberToObject(one, "weight", line->weight);
    (void)cJSON_AddNumberToObject(one, "measured_si", line->measured);
    (void)cJSON_AddNumberToObject(one, "full_si", line->band.full);
    (void)cJSON_AddNumberToObject(one, "none_si", line->band.none);
    cJSON *rows = cJSON_AddArrayToObject(one, "rows");
    for (int i = 0; i < line->row_count; i++) {
        (void)cJSON_AddItemToArray(rows, cJSON_CreateNumber(line->row[i] + 1));
    }
    if (line->effect.kind != SCORE_EFFECT_NONE) {
        cJSON *effect = cJSON_AddObjectToObject(one, "mended");
        (void)cJSON_AddNumberToObject(effect, "row", line->effect.row + 1);
        (void)cJSON_AddNumberToObject(effect, "was_si", line->effect.was);
        (void)cJSON_AddNumberToObject(effect, "would_be_si", line->effect.would_be);
    }
    (void)cJSON_AddStringToObject(one, "reason", text);
    return one;
}

static void card_json(const replay_work *work, cJSON *json)
{
    const scenario *what = record_attempt_scenario(work->attempt);
    const score_card *card = &work->reading.card;
    (void)cJSON_AddStringToObject(json, "scenario", what->setup.id);
    (void)cJSON_AddStringToObject(json, "trainee", record_attempt_about(work->attempt)->trainee);
    (void)cJSON_AddNumberToObject(json, "total", card->total);
    (void)cJSON_AddNumberToObject(json, "pass_mark", card->pass_mark);
    (void)cJSON_AddBoolToObject(json, "passed", card->passed);
    (void)cJSON_AddBoolToObject(json, "is_finished", work->reading.is_finished);
    cJSON *stops = cJSON_AddArrayToObject(json, "stops");
    for (int stop = 0; stop < SCORE_STOPS; stop++) {
        if ((card->stops & (1u << stop)) != 0) {
            (void)cJSON_AddItemToArray(stops, cJSON_CreateString(score_stop_key((score_stop)stop)));
        }
    }
    cJSON *lines = cJSON_AddArrayToObject(json, "lines");
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        if (card->line[i].applies) {
            (void)cJSON_AddItemToArray(lines,
                                       line_json(&card->line[i], work->context->lang, app_system(work->context, what)));
        }
    }
    (void)cJSON_AddItemToObject(json, "final_tension_n",
                                cJSON_CreateDoubleArray(card->final_tension_n, what->setup.structure.row_count));
}

static cJSON *work_json(const replay_work *work)
{
    cJSON *json = cJSON_CreateObject();
    (void)cJSON_AddStringToObject(json, "journal", work->path);
    (void)cJSON_AddBoolToObject(json, "verified", work->result == TR_OK);
    (void)cJSON_AddNumberToObject(json, "lines_read", work->reading.lines);
    (void)cJSON_AddNumberToObject(json, "broken_line", work->reading.broken_line);
    (void)cJSON_AddStringToObject(json, "problem", work->reading.problem);
    if (work->attempt != NULL && work->result == TR_OK) {
        card_json(work, json);
    }
    return json;
}

static void say(const replay_work *work)
{
    app_print_diags(work->path, &work->diags, stderr);
    if (work->result == TR_BROKEN) {
        (void)fprintf(stderr, "%s:%d: error: %s\n", work->path, work->reading.broken_line, work->reading.problem);
    } else if (work->result == TR_OK) {
        if (work->reading.problem[0] != '\0') {
            (void)fprintf(stderr, "%s: warning: %s\n", work->path, work->reading.problem);
        }
        print_debrief(work);
    }
}

/* One journal; the exit code that it alone would give. */
static int replay_one(replay_work *work)
{
    char *text = NULL;
    size_t size = 0;
    char why[TR_TEXT_CAP];
    work->result = tr_file_read(work->path, RECORD_MAX_FILE, &text, &size, why, sizeof why);
    if (work->result != TR_OK) {
        tr_diags_add(&work->diags, TR_ERROR, 0, 0, "", "%s", why);
    } else {
        app_digest(text, size, work->digest);
        work->result = record_attempt_read(text, size, &work->attempt, &work->reading, &work->diags);
    }
    free(text);
    if (work->result == TR_OK) {
        return work->reading.score_differs ? APP_EXIT_NO : APP_EXIT_FINE;
    }
    return work->result == TR_BROKEN ? APP_EXIT_NO : APP_EXIT_USAGE;
}

/* The table of actions as it stands in docs/actions.md, made from the one place where actions are stated. */
static void print_actions(void)
{
    static const char *const types[] = {"row, from 1", "whole number", "true or false", "length, m", "angle, rad",
                                        "force, N",    "turns",        "speed, rpm",    "share",     "days"};
    (void)printf(
        "# Actions\n\nMade by `tautrow replay --actions` from `include/tautrow/job/actions.def`, never typed.\n\n"
        "| stage | `do` | fields (what they are, least to most) |\n|---|---|---|\n");
    for (int verb = 0; verb < JOB_VERB_COUNT; verb++) {
        const job_verb_info *info = job_verb_look((job_verb)verb);
        (void)printf("| %s | `%s` |", job_stage_name(info->stage), info->name);
        for (int i = 0; i < info->field_count; i++) {
            const job_field *field = &info->field[i];
            (void)printf("%s `%s`: %s", i == 0 ? "" : ";", field->key, types[field->type]);
            if (field->type != JOB_TYPE_ROW && field->type != JOB_TYPE_FLAG) {
                (void)printf(", %g to %g", field->least, field->most);
            }
        }
        (void)printf(" |\n");
    }
}

/* The debrief on paper, where it is asked for; the exit code that it alone would give. */
static int print_paper(const replay_work *work, app_printer *print)
{
    const char *path = work->context->options->pdf;
    char why[TR_TEXT_CAP] = "";
    if (path == NULL || work->result != TR_OK) {
        return APP_EXIT_FINE;
    }
    if (print(work->context, work->attempt, &work->reading.card, work->digest, path, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "tautrow: %s\n", why);
        return APP_EXIT_USAGE;
    }
    return APP_EXIT_FINE;
}

/* What is wrong with the files on the command line; NULL: nothing. */
static const char *files_fault(const app_context *context)
{
    const app_options *options = context->options;
    return options->file_count == 0                           ? tr_word(context->lang, "cli.no_files")
           : options->pdf != NULL && options->file_count != 1 ? tr_word(context->lang, "cli.one_pdf")
                                                              : NULL;
}

int app_replay(const app_context *context, app_printer *print)
{
    const app_options *options = context->options;
    if (options->actions) {
        print_actions();
        return APP_EXIT_FINE;
    }
    const char *fault = files_fault(context);
    if (fault != NULL) {
        (void)fprintf(stderr, "tautrow: %s\n", fault);
        return APP_EXIT_USAGE;
    }
    int code = APP_EXIT_FINE;
    cJSON *all = options->json ? cJSON_CreateArray() : NULL;
    for (int i = 0; i < options->file_count; i++) {
        replay_work *work = calloc(1, sizeof *work);
        if (work == NULL) {
            (void)fprintf(stderr, "tautrow: not enough memory\n");
            code = APP_EXIT_USAGE;
            break;
        }
        work->context = context;
        work->path = options->files[i];
        const int here = replay_one(work);
        code = here > code ? here : code;
        if (options->json) {
            (void)cJSON_AddItemToArray(all, work_json(work));
        } else {
            say(work);
        }
        const int paper = print_paper(work, print);
        code = paper > code ? paper : code;
        record_attempt_close(work->attempt);
        free(work);
    }
    return options->json ? app_print_json(all, code) : code;
}
