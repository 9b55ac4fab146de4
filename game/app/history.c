/* Results of past attempts, kept beside the journals. They only save time: whoever changes them fools nobody but their
 * own list, as debriefs and `replay` always grade the journal itself. */
#define _POSIX_C_SOURCE 200809L
#include "history.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include <cJSON.h>

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

static const char FORMAT[] = "tautrow.results/1";
static const char FILE_NAME[] = "results.json";

void app_file_stamp(const char *path, char out[APP_STAMP_CAP])
{
    struct stat seen;
    out[0] = '\0';
    if (stat(path, &seen) == 0 && S_ISREG(seen.st_mode)) {
        (void)tr_format(out, APP_STAMP_CAP, "%lld-%lld.%09ld", (long long)seen.st_size, (long long)seen.st_mtim.tv_sec,
                        seen.st_mtim.tv_nsec);
    }
}

/* ---- the file of results ---------------------------------------------------------------------------------------- */

static const char *text_of(const cJSON *json, const char *key)
{
    const char *text = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(json, key));
    return text == NULL ? "" : text;
}

static double number_of(const cJSON *json, const char *key, double otherwise)
{
    const cJSON *number = cJSON_GetObjectItemCaseSensitive(json, key);
    return cJSON_IsNumber(number) ? number->valuedouble : otherwise;
}

static const char *const kind_names[] = {"new", "counts", "open", "broken"};

static app_result_kind kind_named(const char *name)
{
    for (int kind = APP_RESULT_COUNTS; kind <= APP_RESULT_BROKEN; kind++) {
        if (strcmp(name, kind_names[kind]) == 0) {
            return (app_result_kind)kind;
        }
    }
    return APP_RESULT_NEW; /* not understood: grade it again */
}

static void take_result(const cJSON *json, app_result *out)
{
    const cJSON *skills = cJSON_GetObjectItemCaseSensitive(json, "skills");
    memset(out, 0, sizeof *out);
    (void)tr_copy(out->file, sizeof out->file, text_of(json, "file"));
    (void)tr_copy(out->stamp, sizeof out->stamp, text_of(json, "stamp"));
    (void)tr_copy(out->trainee, sizeof out->trainee, text_of(json, "trainee"));
    (void)tr_copy(out->started_utc, sizeof out->started_utc, text_of(json, "started"));
    out->kind = kind_named(text_of(json, "kind"));
    out->total = number_of(json, "total", 0.0);
    out->pass_mark = number_of(json, "pass_mark", 0.0);
    out->passed = cJSON_IsTrue(cJSON_GetObjectItemCaseSensitive(json, "passed"));
    for (int i = 0; i < SCORE_SKILLS; i++) {
        out->shares.of[i] = number_of(skills, score_skill_key((score_skill)i), SCORE_UNJUDGED);
    }
}

static void take_results(app_history *history, const cJSON *json)
{
    const cJSON *list = cJSON_GetObjectItemCaseSensitive(json, "results");
    if (strcmp(text_of(json, "format"), FORMAT) != 0 || strcmp(text_of(json, "made_by"), history->made_by) != 0) {
        return;
    }
    const int count = cJSON_GetArraySize(list);
    if (count <= 0 || count > APP_MAX_HISTORY) {
        return;
    }
    history->result = calloc((size_t)count, sizeof *history->result);
    const cJSON *one = NULL;
    cJSON_ArrayForEach(one, list)
    {
        if (history->result != NULL) {
            take_result(one, &history->result[history->count++]);
        }
    }
}

static cJSON *json_of(const app_result *result)
{
    cJSON *json = cJSON_CreateObject();
    (void)cJSON_AddStringToObject(json, "file", result->file);
    (void)cJSON_AddStringToObject(json, "stamp", result->stamp);
    (void)cJSON_AddStringToObject(json, "kind", kind_names[result->kind]);
    if (result->kind != APP_RESULT_COUNTS) {
        return json;
    }
    (void)cJSON_AddStringToObject(json, "trainee", result->trainee);
    (void)cJSON_AddStringToObject(json, "started", result->started_utc);
    (void)cJSON_AddNumberToObject(json, "total", result->total);
    (void)cJSON_AddNumberToObject(json, "pass_mark", result->pass_mark);
    (void)cJSON_AddBoolToObject(json, "passed", result->passed);
    cJSON *skills = cJSON_AddObjectToObject(json, "skills");
    for (int i = 0; i < SCORE_SKILLS; i++) {
        if (result->shares.of[i] >= 0.0) {
            (void)cJSON_AddNumberToObject(skills, score_skill_key((score_skill)i), result->shares.of[i]);
        }
    }
    return json;
}

static bool results_path(const app_history *history, char out[APP_PATH_CAP])
{
    return history->folder[0] != '\0' && tr_format(out, APP_PATH_CAP, "%s/%s", history->folder, FILE_NAME);
}

/* Not being able to write is no trouble to tell anybody: the next start grades once more. */
static void write_results(app_history *history)
{
    char path[APP_PATH_CAP];
    char why[TR_TEXT_CAP];
    history->has_changed = false;
    if (!history->keeps || !results_path(history, path)) {
        return;
    }
    cJSON *json = cJSON_CreateObject();
    (void)cJSON_AddStringToObject(json, "format", FORMAT);
    (void)cJSON_AddStringToObject(json, "made_by", history->made_by);
    cJSON *list = cJSON_AddArrayToObject(json, "results");
    for (size_t i = 0; i < history->count; i++) {
        (void)cJSON_AddItemToArray(list, json_of(&history->result[i]));
    }
    char *text = cJSON_PrintUnformatted(json);
    cJSON_Delete(json);
    if (text != NULL) {
        (void)tr_file_write(path, text, strlen(text), why, sizeof why);
        cJSON_free(text);
    }
}

void app_history_open(app_history *history, const char *folder, const char *made_by, bool keeps)
{
    char path[APP_PATH_CAP];
    char why[TR_TEXT_CAP];
    char *text = NULL;
    size_t size = 0;
    memset(history, 0, sizeof *history);
    (void)tr_copy(history->folder, sizeof history->folder, folder);
    (void)tr_copy(history->made_by, sizeof history->made_by, made_by);
    history->keeps = keeps;
    if (results_path(history, path) && tr_file_read(path, RECORD_MAX_FILE, &text, &size, why, sizeof why) == TR_OK) {
        cJSON *json = cJSON_ParseWithLength(text, size);
        take_results(history, json);
        cJSON_Delete(json);
        free(text);
    }
}

void app_history_close(app_history *history)
{
    free(history->result);
    memset(history, 0, sizeof *history);
}

/* ---- which journals there are ----------------------------------------------------------------------------------- */

static const app_result *known(const app_history *history, const char *file, const char *stamp)
{
    for (size_t i = 0; i < history->count; i++) {
        const app_result *result = &history->result[i];
        if (strcmp(result->file, file) == 0 && strcmp(result->stamp, stamp) == 0) {
            return result;
        }
    }
    return NULL;
}

static int by_start(const void *a, const void *b)
{
    const app_result *x = a;
    const app_result *y = b;
    const int order = strcmp(x->started_utc, y->started_utc);
    return order != 0 ? order : strcmp(x->file, y->file);
}

static void sort(app_history *history)
{
    if (history->count > 1) {
        qsort(history->result, history->count, sizeof *history->result, by_start);
    }
}

void app_history_look(app_history *history)
{
    char(*names)[APP_NAME_CAP] = history->folder[0] == '\0' ? NULL : calloc(APP_MAX_HISTORY, APP_NAME_CAP);
    const size_t count = names == NULL ? 0 : app_list_files(history->folder, ".jsonl", names, APP_MAX_HISTORY);
    app_result *now = calloc(count + 1, sizeof *now);
    if (now == NULL) {
        free(names);
        return;
    }
    history->has_changed = history->has_changed || history->count != count;
    for (size_t i = 0; i < count; i++) {
        char path[APP_PATH_CAP];
        char stamp[APP_STAMP_CAP] = "";
        if (tr_format(path, sizeof path, "%s/%s", history->folder, names[i])) {
            app_file_stamp(path, stamp);
        }
        const app_result *found = known(history, names[i], stamp);
        if (found != NULL) {
            now[i] = *found;
            continue;
        }
        (void)tr_copy(now[i].file, sizeof now[i].file, names[i]);
        (void)tr_copy(now[i].stamp, sizeof now[i].stamp, stamp);
        history->has_changed = true;
    }
    free(names);
    free(history->result);
    history->result = now;
    history->count = count;
    sort(history);
}

/* ---- grading ---------------------------------------------------------------------------------------------------- */

static void take_reading(app_result *result, const record_attempt *attempt, const record_reading *reading)
{
    const record_about *about = record_attempt_about(attempt);
    (void)tr_copy(result->trainee, sizeof result->trainee, about->trainee);
    (void)tr_copy(result->started_utc, sizeof result->started_utc, about->started_utc);
    result->kind = reading->is_finished ? APP_RESULT_COUNTS : APP_RESULT_OPEN;
    result->total = reading->card.total;
    result->pass_mark = reading->card.pass_mark;
    result->passed = reading->card.passed;
    result->shares = score_shares_of(&reading->card);
}

static void grade(const app_history *history, app_result *result)
{
    char path[APP_PATH_CAP];
    char why[TR_TEXT_CAP];
    char *text = NULL;
    size_t size = 0;
    record_attempt *attempt = NULL;
    tr_diags *diags = calloc(1, sizeof *diags);
    record_reading *reading = calloc(1, sizeof *reading);
    result->kind = APP_RESULT_BROKEN;
    if (diags != NULL && reading != NULL && tr_format(path, sizeof path, "%s/%s", history->folder, result->file) &&
        tr_file_read(path, RECORD_MAX_FILE, &text, &size, why, sizeof why) == TR_OK &&
        record_attempt_read(text, size, &attempt, reading, diags) == TR_OK) {
        take_reading(result, attempt, reading);
    }
    record_attempt_close(attempt);
    free(text);
    free(reading);
    free(diags);
}

size_t app_history_waiting(const app_history *history)
{
    size_t waiting = 0;
    for (size_t i = 0; i < history->count; i++) {
        waiting += history->result[i].kind == APP_RESULT_NEW ? 1 : 0;
    }
    return waiting;
}

size_t app_history_step(app_history *history)
{
    for (size_t i = 0; i < history->count; i++) {
        if (history->result[i].kind == APP_RESULT_NEW) {
            grade(history, &history->result[i]);
            break;
        }
    }
    const size_t waiting = app_history_waiting(history);
    if (waiting == 0 && history->has_changed) {
        sort(history);
        write_results(history);
    }
    return waiting;
}
