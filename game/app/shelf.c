/* Scenarios and past attempts, for the lists. */
#include "shelf.h"

#include <stdlib.h>
#include <string.h>

#include <cJSON.h>

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

enum { MAX_LISTED = 4096 };

int app_shelf_add(app_shelf *shelf, const app_context *context, const char *path)
{
    tr_diags *diags = calloc(1, sizeof *diags);
    if (diags == NULL || shelf->offer_count >= APP_MAX_OFFERS) {
        free(diags);
        return -1;
    }
    const int index = shelf->offer_count++;
    view_offer *offer = &shelf->offer[index];
    memset(offer, 0, sizeof *offer);
    offer->best = -1.0;
    const char *slash = strrchr(path, '/');
    (void)tr_copy(offer->file, sizeof offer->file, slash == NULL ? path : slash + 1);
    (void)tr_copy(shelf->path[index], APP_PATH_CAP, path);
    shelf->held[index] = NULL;
    if (app_scenario_load(path, context->catalogue, NULL, &shelf->held[index], diags) == TR_OK) {
        offer->what = &shelf->held[index]->what;
    } else if (diags->count > 0) {
        const tr_diag *first = &diags->item[0];
        if (first->line > 0) {
            (void)tr_format(offer->problem, sizeof offer->problem, "%d:%d: %s", first->line, first->column,
                            first->text);
        } else { /* of the whole file, which the text names */
            (void)tr_copy(offer->problem, sizeof offer->problem, first->text);
        }
    }
    free(diags);
    return index;
}

/* Easiest first; what cannot be read goes last. Ties stay in the order of the file names. */
static int rank(const view_offer *offer)
{
    return offer->what == NULL ? 99 : offer->what->difficulty;
}

static void swap_offers(app_shelf *shelf, int a, int b)
{
    const view_offer offer = shelf->offer[a];
    app_scenario *held = shelf->held[a];
    char path[APP_PATH_CAP];
    memcpy(path, shelf->path[a], sizeof path);
    shelf->offer[a] = shelf->offer[b];
    shelf->held[a] = shelf->held[b];
    memcpy(shelf->path[a], shelf->path[b], sizeof path);
    shelf->offer[b] = offer;
    shelf->held[b] = held;
    memcpy(shelf->path[b], path, sizeof path);
}

static void sort_offers(app_shelf *shelf)
{
    for (int i = 1; i < shelf->offer_count; i++) {
        for (int k = i; k > 0 && rank(&shelf->offer[k]) < rank(&shelf->offer[k - 1]); k--) {
            swap_offers(shelf, k, k - 1);
        }
    }
}

void app_shelf_fill(app_shelf *shelf, const app_context *context)
{
    char folder[APP_PATH_CAP];
    char path[APP_PATH_CAP];
    char(*names)[APP_NAME_CAP] = calloc(APP_MAX_OFFERS, APP_NAME_CAP);
    memset(shelf, 0, sizeof *shelf);
    if (names == NULL || !tr_format(folder, sizeof folder, "%s/scenarios", context->folder)) {
        free(names);
        return;
    }
    const size_t count = app_list_files(folder, ".json", names, APP_MAX_OFFERS);
    for (size_t i = 0; i < count; i++) {
        if (tr_format(path, sizeof path, "%s/%s", folder, names[i])) {
            (void)app_shelf_add(shelf, context, path);
        }
    }
    sort_offers(shelf);
    free(names);
}

void app_shelf_empty(app_shelf *shelf)
{
    for (int i = 0; i < shelf->offer_count; i++) {
        app_scenario_free(shelf->held[i]);
    }
    shelf->offer_count = 0;
}

/* ---- the past --------------------------------------------------------------------------------------------------- */

static view_offer *offer_of(app_shelf *shelf, const char *id)
{
    for (int i = 0; i < shelf->offer_count; i++) {
        if (shelf->offer[i].what != NULL && strcmp(shelf->offer[i].what->setup.id, id) == 0) {
            return &shelf->offer[i];
        }
    }
    return NULL;
}

static job_mode mode_of(const char *name)
{
    if (strcmp(name, "guided") == 0) {
        return JOB_GUIDED;
    }
    return strcmp(name, "assessment") == 0 ? JOB_ASSESSMENT : JOB_PRACTICE;
}

static const char *text_of(const cJSON *json, const char *key)
{
    const char *text = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(json, key));
    return text == NULL ? "" : text;
}

static void take_header(app_shelf *shelf, view_past *past, const cJSON *header, const char *lang)
{
    const view_offer *offer = offer_of(shelf, text_of(header, "scenario"));
    past->is_readable = text_of(header, "scenario")[0] != '\0';
    past->exercise = offer == NULL ? -1 : (int)(offer - shelf->offer);
    past->mode = mode_of(text_of(header, "mode"));
    (void)tr_copy(past->started_utc, sizeof past->started_utc, text_of(header, "started"));
    (void)tr_copy(past->title, sizeof past->title,
                  offer == NULL ? text_of(header, "scenario") : scenario_title_in(&offer->what->title, lang));
}

static void take_end(app_shelf *shelf, view_past *past, const cJSON *header, const cJSON *end)
{
    const cJSON *total = cJSON_GetObjectItemCaseSensitive(end, "total");
    if (!cJSON_IsTrue(cJSON_GetObjectItemCaseSensitive(end, "end")) || !cJSON_IsNumber(total)) {
        return;
    }
    past->is_finished = true;
    past->total = total->valuedouble;
    past->passed = cJSON_IsTrue(cJSON_GetObjectItemCaseSensitive(end, "passed"));
    view_offer *offer = offer_of(shelf, text_of(header, "scenario"));
    if (offer != NULL && past->total > offer->best) {
        offer->best = past->total;
    }
}

/* The last whole line of a text. */
static const char *last_line(const char *text, size_t size, size_t *length)
{
    size_t end = size;
    while (end > 0 && text[end - 1] != '\n') {
        end--;
    }
    size_t start = end > 0 ? end - 1 : 0;
    while (start > 0 && text[start - 1] != '\n') {
        start--;
    }
    *length = end > start ? end - start : 0;
    return text + start;
}

static void look_at(app_shelf *shelf, const char *path, const char *lang)
{
    char why[TR_TEXT_CAP];
    char *text = NULL;
    size_t size = 0;
    const int index = shelf->past_count;
    view_past *past = &shelf->past[index];
    if (!tr_copy(shelf->journal[index], APP_PATH_CAP, path) ||
        tr_file_read(path, RECORD_MAX_FILE, &text, &size, why, sizeof why) != TR_OK) {
        return;
    }
    memset(past, 0, sizeof *past);
    size_t length = 0;
    const char *tail = last_line(text, size, &length);
    cJSON *header = cJSON_ParseWithLength(text, strcspn(text, "\n"));
    cJSON *end = cJSON_ParseWithLength(tail, length);
    take_header(shelf, past, header, lang);
    take_end(shelf, past, header, end);
    cJSON_Delete(header);
    cJSON_Delete(end);
    free(text);
    shelf->past_count++;
}

void app_shelf_look_back(app_shelf *shelf, const app_places *places, const char *lang)
{
    shelf->past_count = 0;
    char(*names)[APP_NAME_CAP] = places->attempts[0] == '\0' ? NULL : calloc(MAX_LISTED, APP_NAME_CAP);
    if (names == NULL) {
        return;
    }
    const size_t count = app_list_files(places->attempts, ".jsonl", names, MAX_LISTED);
    for (size_t i = count; i > 0 && shelf->past_count < APP_MAX_PAST; i--) {
        char path[APP_PATH_CAP];
        if (tr_format(path, sizeof path, "%s/%s", places->attempts, names[i - 1])) {
            look_at(shelf, path, lang);
        }
    }
    free(names);
}
