/* Reading the lines of a journal. Nothing is taken on trust: every key must be known and there once, every number in
 * its range. The caller has made sure that a line is not too long; cJSON bounds how deep it may nest. */
#include "journal.h"

#include "tautrow/base/assert.h"
#include "tautrow/base/hash.h"
#include "tautrow/base/text.h"

#include <cJSON.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MAX_KEYS = 16 };

/* What is read at the moment, and where to say what is wrong with it. */
typedef struct parsed {
    const cJSON *json;
    char *why;
    size_t why_cap;
} parsed;

static cJSON *parse_object(const char *text, size_t size, char *why, size_t why_cap)
{
    const char *end = NULL;
    if (!tr_utf8_valid(text, size)) {
        tr_format(why, why_cap, "is not UTF-8 text");
        return NULL;
    }
    cJSON *const json = cJSON_ParseWithLengthOpts(text, size, &end, 0);
    if (json == NULL || end != text + size || cJSON_IsObject(json) == 0) {
        tr_format(why, why_cap, "is not one JSON object");
        cJSON_Delete(json);
        return NULL;
    }
    return json;
}

/* Every key one of keys[0..count), every one of them once. */
static bool has_just(const parsed *line, const char *const *keys, int count)
{
    bool is_seen[MAX_KEYS] = {false};
    TR_ASSERT(count <= MAX_KEYS);
    for (const cJSON *item = line->json->child; item != NULL; item = item->next) {
        int at = 0;
        while (at < count && strcmp(keys[at], item->string) != 0) {
            at++;
        }
        if (at == count || is_seen[at]) {
            tr_format(line->why, line->why_cap,
                      at == count ? "has a key that does not belong there: \"%.40s\"" : "has the key \"%.40s\" twice",
                      item->string);
            return false;
        }
        is_seen[at] = true;
    }
    for (int i = 0; i < count; i++) {
        if (!is_seen[i]) {
            tr_format(line->why, line->why_cap, "lacks the key \"%s\"", keys[i]);
            return false;
        }
    }
    return true;
}

static const cJSON *get(const parsed *line, const char *key)
{
    return cJSON_GetObjectItemCaseSensitive(line->json, key);
}

static bool get_text(const parsed *line, const char *key, char *out, size_t cap)
{
    const cJSON *const item = get(line, key);
    if (cJSON_IsString(item) == 0) {
        tr_format(line->why, line->why_cap, "must have a text as \"%s\"", key);
        return false;
    }
    if (!tr_copy(out, cap, item->valuestring)) {
        tr_format(line->why, line->why_cap, "has a \"%s\" of more than %zu bytes", key, cap - 1);
        return false;
    }
    return true;
}

static bool get_bool(const parsed *line, const char *key, bool *out)
{
    const cJSON *const item = get(line, key);
    if (cJSON_IsBool(item) == 0) {
        tr_format(line->why, line->why_cap, "must have true or false as \"%s\"", key);
        return false;
    }
    *out = cJSON_IsTrue(item) != 0;
    return true;
}

static bool get_number(const parsed *line, const char *key, double least, double most, bool is_whole, double *out)
{
    const cJSON *const item = get(line, key);
    const double value = cJSON_IsNumber(item) != 0 ? item->valuedouble : (double)NAN;
    if (!(value >= least && value <= most) || (is_whole && floor(value) != value)) {
        char low[40];
        char high[40];
        tr_double_text(least, low, sizeof low);
        tr_double_text(most, high, sizeof high);
        tr_format(line->why, line->why_cap, "must have a %snumber between %s and %s as \"%s\"",
                  is_whole ? "whole " : "", low, high, key);
        return false;
    }
    *out = value;
    return true;
}

static bool get_whole(const parsed *line, const char *key, int64_t least, int64_t most, int64_t *out)
{
    double value = 0.0;
    if (!get_number(line, key, (double)least, (double)most, true, &value)) {
        return false;
    }
    *out = (int64_t)value;
    return true;
}

static bool is_hex(const char *text, size_t length)
{
    return strlen(text) == length && strspn(text, "0123456789abcdef") == length;
}

/* ---- the header ------------------------------------------------------------------------------------------------- */

static bool get_mode(const parsed *line, job_mode *out)
{
    static const char *const names[] = {"guided", "practice", "assessment"};
    char name[16];
    if (!get_text(line, "mode", name, sizeof name)) {
        return false;
    }
    for (int i = 0; i < 3; i++) {
        if (strcmp(name, names[i]) == 0) {
            *out = (job_mode)i;
            return true;
        }
    }
    tr_format(line->why, line->why_cap, "must have guided, practice or assessment as \"mode\"");
    return false;
}

static bool get_seed(const parsed *line, uint64_t *out)
{
    char digits[17];
    if (!get_text(line, "seed", digits, sizeof digits)) {
        return false;
    }
    if (!is_hex(digits, 16)) {
        tr_format(line->why, line->why_cap, "must have 16 hexadecimal digits as \"seed\"");
        return false;
    }
    *out = strtoull(digits, NULL, 16);
    return true;
}

static bool keep(const parsed *line, const char *text, size_t size, char **out)
{
    *out = malloc(size + 1);
    if (*out == NULL) {
        tr_format(line->why, line->why_cap, "found no memory");
        return false;
    }
    memcpy(*out, text, size + 1);
    return true;
}

/* The scenario's text, which must be the one whose digest the header gives. */
static bool get_scenario(const parsed *line, char **out)
{
    char claimed[TR_HASH_TEXT];
    char digest[TR_HASH_TEXT];
    const cJSON *const item = get(line, "text");
    if (!get_text(line, "sha256", claimed, sizeof claimed)) {
        return false;
    }
    if (cJSON_IsString(item) == 0 || strlen(item->valuestring) > SCENARIO_MAX_FILE) {
        tr_format(line->why, line->why_cap, "must have the scenario as \"text\", of at most %d bytes",
                  SCENARIO_MAX_FILE);
        return false;
    }
    const size_t size = strlen(item->valuestring);
    tr_hasher hasher;
    tr_hash_begin(&hasher);
    tr_hash_add(&hasher, item->valuestring, size);
    tr_hash_text(tr_hash_end(&hasher), digest);
    if (strcmp(claimed, digest) != 0) {
        tr_format(line->why, line->why_cap, "has a scenario that is not the one named by its digest");
        return false;
    }
    return keep(line, item->valuestring, size, out);
}

/* The catalogue that the scenario was read with. */
static bool get_catalogue(const parsed *line, char **out)
{
    const cJSON *const item = get(line, "catalogue");
    if (cJSON_IsString(item) == 0 || strlen(item->valuestring) > SCENARIO_MAX_FILE) {
        tr_format(line->why, line->why_cap, "must have the catalogue as \"catalogue\", of at most %d bytes",
                  SCENARIO_MAX_FILE);
        return false;
    }
    return keep(line, item->valuestring, strlen(item->valuestring), out);
}

static bool fill_header(const parsed *line, record__header *out)
{
    static const char *const keys[] = {"format", "version", "scenario", "sha256",    "trainee", "mode",
                                       "seed",   "started", "text",     "catalogue", "h"};
    char format[32];
    record_about *const about = &out->about;
    return has_just(line, keys, sizeof keys / sizeof keys[0]) && get_text(line, "format", format, sizeof format) &&
           get_text(line, "version", about->version, sizeof about->version) &&
           get_text(line, "scenario", out->id, sizeof out->id) &&
           get_text(line, "trainee", about->trainee, sizeof about->trainee) &&
           get_text(line, "started", about->started_utc, sizeof about->started_utc) && get_mode(line, &about->mode) &&
           get_seed(line, &about->seed) && get_scenario(line, &out->scenario_text) &&
           get_catalogue(line, &out->catalogue_text);
}

bool record__read_header(const char *text, size_t size, record__header *out, char *why, size_t why_cap)
{
    *out = (record__header){.scenario_text = NULL};
    cJSON *const json = parse_object(text, size, why, why_cap);
    if (json == NULL) {
        return false;
    }
    const bool is_read = fill_header(&(parsed){.json = json, .why = why, .why_cap = why_cap}, out);
    cJSON_Delete(json);
    if (!is_read) {
        free(out->scenario_text);
        free(out->catalogue_text);
        out->scenario_text = out->catalogue_text = NULL;
    }
    return is_read;
}

/* ---- other lines ------------------------------------------------------------------------------------------------ */

static bool get_field(const parsed *line, const job_field *field, int row_count, double *out)
{
    if (field->type == JOB_TYPE_FLAG) {
        bool flag = false;
        const bool is_read = get_bool(line, field->key, &flag);
        *out = flag ? 1.0 : 0.0;
        return is_read;
    }
    if (field->type == JOB_TYPE_ROW) {
        const bool is_read = get_number(line, field->key, 1.0, row_count, true, out);
        *out -= 1.0;
        return is_read;
    }
    return get_number(line, field->key, field->least, field->most, field->type == JOB_TYPE_CHOICE, out);
}

static bool fill_action(const parsed *line, job_verb verb, int row_count, job_action *out)
{
    const job_verb_info *const info = job_verb_look(verb);
    const char *keys[JOB_MAX_FIELDS + 4] = {"n", "ms", "do", "h"};
    for (int i = 0; i < info->field_count; i++) {
        keys[4 + i] = info->field[i].key;
    }
    if (!has_just(line, keys, 4 + info->field_count)) {
        return false;
    }
    for (int i = 0; i < info->field_count; i++) {
        if (!get_field(line, &info->field[i], row_count, &out->arg[i])) {
            return false;
        }
    }
    if (!job_action_is_sound(out, row_count)) {
        tr_format(line->why, line->why_cap, "has numbers that do not suit \"%s\"", info->name);
        return false;
    }
    return true;
}

static bool fill_closing(const parsed *line, record__entry *out)
{
    static const char *const keys[] = {"end", "ms", "total", "passed", "state", "h"};
    bool is_end = false;
    if (get(line, "end") == NULL) {
        tr_format(line->why, line->why_cap, "is neither an action nor the closing line");
        return false;
    }
    if (!has_just(line, keys, sizeof keys / sizeof keys[0]) || !get_bool(line, "end", &is_end) ||
        !get_whole(line, "ms", 0, RECORD__MAX_MS, &out->action.at_ms) ||
        !get_number(line, "total", 0.0, 100.0, false, &out->total) || !get_bool(line, "passed", &out->passed) ||
        !get_text(line, "state", out->state, sizeof out->state)) {
        return false;
    }
    if (!is_end || !is_hex(out->state, TR_HASH_TEXT - 1)) {
        tr_format(line->why, line->why_cap,
                  is_end ? "must have 64 hexadecimal digits as \"state\"" : "must have true as \"end\"");
        return false;
    }
    return true;
}

static bool fill_entry(const parsed *line, int row_count, record__entry *out)
{
    static const char *const undo_keys[] = {"n", "ms", "do", "h"};
    char name[32];
    if (get(line, "do") == NULL) { /* "end" alone does not tell: studs have one, too */
        out->kind = RECORD__CLOSING;
        return fill_closing(line, out);
    }
    if (!get_text(line, "do", name, sizeof name) || !get_whole(line, "n", 1, RECORD_MAX_ACTIONS, &out->number) ||
        !get_whole(line, "ms", 0, RECORD__MAX_MS, &out->action.at_ms)) {
        return false;
    }
    if (strcmp(name, "undo") == 0) {
        out->kind = RECORD__UNDO;
        return has_just(line, undo_keys, 4);
    }
    out->kind = RECORD__ACTION;
    out->action.verb = job_verb_find(name);
    if (out->action.verb == JOB_VERB_COUNT) {
        tr_format(line->why, line->why_cap, "has an unknown action: \"%s\"", name);
        return false;
    }
    return fill_action(line, out->action.verb, row_count, &out->action);
}

bool record__read_entry(const char *text, size_t size, int row_count, record__entry *out, char *why, size_t why_cap)
{
    cJSON *const json = parse_object(text, size, why, why_cap);
    if (json == NULL) {
        return false;
    }
    *out = (record__entry){.kind = RECORD__ACTION};
    const bool is_read = fill_entry(&(parsed){.json = json, .why = why, .why_cap = why_cap}, row_count, out);
    cJSON_Delete(json);
    return is_read;
}
