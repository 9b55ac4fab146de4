/* Writing the lines of a journal, and their chain. Reading them is in parse.c. */
#include "journal.h"

#include "tautrow/base/assert.h"
#include "tautrow/base/hash.h"
#include "tautrow/base/text.h"

#include <cJSON.h>

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* ---- the chain -------------------------------------------------------------------------------------------------- */

void record__link(const char *before, const char *text, size_t size, char out[RECORD__LINK_TEXT])
{
    tr_hasher hasher;
    char digits[TR_HASH_TEXT];
    tr_hash_begin(&hasher);
    tr_hash_add(&hasher, before, strlen(before));
    tr_hash_add(&hasher, text, size);
    tr_hash_text(tr_hash_end(&hasher), digits);
    digits[RECORD__LINK_TEXT - 1] = '\0';
    tr_copy(out, RECORD__LINK_TEXT, digits);
}

void record__seal(char *line, size_t cap, char link[RECORD__LINK_TEXT])
{
    char next[RECORD__LINK_TEXT];
    record__link(link, line, strlen(line), next);
    const bool fits = tr_append(line, cap, ",\"h\":\"%s\"}", next);
    TR_ASSERT(fits);
    tr_copy(link, RECORD__LINK_TEXT, next);
}

bool record__unseal(const char *text, size_t size, char link[RECORD__LINK_TEXT])
{
    if (size < RECORD__TAIL) {
        return false;
    }
    char next[RECORD__LINK_TEXT];
    char tail[RECORD__TAIL + 1];
    record__link(link, text, size - RECORD__TAIL, next);
    tr_format(tail, sizeof tail, ",\"h\":\"%s\"}", next);
    if (memcmp(text + size - RECORD__TAIL, tail, RECORD__TAIL) != 0) {
        return false;
    }
    tr_copy(link, RECORD__LINK_TEXT, next);
    return true;
}

/* ---- the header ------------------------------------------------------------------------------------------------- */

static const char *mode_name(job_mode mode)
{
    static const char *const names[] = {"guided", "practice", "assessment"};
    return names[mode];
}

static bool fill_header(cJSON *json, const record_about *about, const char *id, const char *scenario_text,
                        const char *digest, const char *catalogue_text)
{
    char seed[17];
    tr_format(seed, sizeof seed, "%016" PRIx64, about->seed);
    return cJSON_AddStringToObject(json, "format", RECORD__FORMAT) != NULL &&
           cJSON_AddStringToObject(json, "version", about->version) != NULL &&
           cJSON_AddStringToObject(json, "scenario", id) != NULL &&
           cJSON_AddStringToObject(json, "sha256", digest) != NULL &&
           cJSON_AddStringToObject(json, "trainee", about->trainee) != NULL &&
           cJSON_AddStringToObject(json, "mode", mode_name(about->mode)) != NULL &&
           cJSON_AddStringToObject(json, "seed", seed) != NULL &&
           cJSON_AddStringToObject(json, "started", about->started_utc) != NULL &&
           cJSON_AddStringToObject(json, "text", scenario_text) != NULL &&
           cJSON_AddStringToObject(json, "catalogue", catalogue_text) != NULL;
}

char *record__write_header(const record_about *about, const char *id, const char *scenario_text, size_t size,
                           const char *catalogue_text, size_t *cap)
{
    tr_hasher hasher;
    char digest[TR_HASH_TEXT];
    tr_hash_begin(&hasher);
    tr_hash_add(&hasher, scenario_text, size);
    tr_hash_text(tr_hash_end(&hasher), digest);

    cJSON *const json = cJSON_CreateObject();
    char *line = NULL;
    if (json != NULL && fill_header(json, about, id, scenario_text, digest, catalogue_text)) {
        *cap = 2 * (size + strlen(catalogue_text)) + RECORD__HEADER_ROOM;
        line = malloc(*cap);
    }
    /* The 5 is room that cJSON asks for beyond the text. A scenario is JSON: no character of it grows to more than two.
     */
    if (line != NULL && cJSON_PrintPreallocated(json, line, (int)*cap - 5 - RECORD__TAIL, 0) == 0) {
        free(line);
        line = NULL;
    }
    cJSON_Delete(json);
    if (line != NULL) {
        line[strlen(line) - 1] = '\0'; /* the brace comes with the tail */
    }
    return line;
}

/* ---- other lines ------------------------------------------------------------------------------------------------ */

static void append_field(char *out, const job_field *field, double value)
{
    char number[40];
    if (field->type == JOB_TYPE_FLAG) {
        tr_copy(number, sizeof number, value != 0.0 ? "true" : "false");
    } else {
        tr_double_text(field->type == JOB_TYPE_ROW ? value + 1.0 : value, number, sizeof number);
    }
    tr_append(out, RECORD__LINE_CAP, ",\"%s\":%s", field->key, number);
}

static void write_closing(const record__entry *entry, char out[RECORD__LINE_CAP])
{
    char total[40];
    tr_double_text(entry->total, total, sizeof total);
    tr_format(out, RECORD__LINE_CAP, "{\"end\":true,\"ms\":%" PRId64 ",\"total\":%s,\"passed\":%s,\"state\":\"%s\"",
              entry->action.at_ms, total, entry->passed ? "true" : "false", entry->state);
}

void record__write_entry(const record__entry *entry, char out[RECORD__LINE_CAP])
{
    if (entry->kind == RECORD__CLOSING) {
        write_closing(entry, out);
        return;
    }
    const bool is_undo = entry->kind == RECORD__UNDO;
    const job_verb_info *const info = is_undo ? NULL : job_verb_look(entry->action.verb);
    tr_format(out, RECORD__LINE_CAP, "{\"n\":%" PRId64 ",\"ms\":%" PRId64 ",\"do\":\"%s\"", entry->number,
              entry->action.at_ms, is_undo ? "undo" : info->name);
    for (int i = 0; !is_undo && i < info->field_count; i++) {
        append_field(out, &info->field[i], entry->action.arg[i]);
    }
}
