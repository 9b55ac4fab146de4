/* Reading a journal back: first the chain of check digits, line by line, then what each line says, then what the job
 * makes of it all. The first line that is wrong is named and nothing behind it is believed.
 *
 * The check digits find what happens by accident or by a text editor. They are no signature: whoever has this program
 * can make a new journal. */
#include "tautrow/record/attempt.h"

#include "attempt.h"
#include "tautrow/base/text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { WHY_CAP = 200 };

typedef struct journal_reader {
    const char *text;
    size_t size;
    size_t at; /* start of the next line; behind the last whole line at the end */
    char link[RECORD__LINK_TEXT];
    record_reading *reading;
    record_attempt *attempt;
    record__entry closing;
} journal_reader;

/* A line without its line feed; NULL text at the end. */
typedef struct span {
    const char *text;
    size_t size;
} span;

static span next_line(const journal_reader *reader)
{
    const char *const start = reader->text + reader->at;
    const size_t left = reader->size - reader->at;
    const char *const end = left > 0 ? memchr(start, '\n', left) : NULL;
    return end != NULL ? (span){.text = start, .size = (size_t)(end - start)} : (span){.text = NULL, .size = left};
}

/* Names a line as the one that is wrong. */
static tr_result broken(const journal_reader *reader, int line, const char *why)
{
    reader->reading->broken_line = line;
    tr_format(reader->reading->problem, sizeof reader->reading->problem, "line %d %s", line, why);
    return TR_BROKEN;
}

static tr_result no_journal(const journal_reader *reader, tr_diags *diags, const char *why)
{
    (void)broken(reader, 1, why);
    tr_diags_add(diags, TR_ERROR, 1, 0, "", "%s", reader->reading->problem);
    return TR_INVALID;
}

/* Checks the tail of a line and moves on behind it. */
static bool take(journal_reader *reader, span line)
{
    if (!record__unseal(line.text, line.size, reader->link)) {
        return false;
    }
    reader->at += line.size + 1;
    reader->reading->lines++;
    return true;
}

/* ---- the header ------------------------------------------------------------------------------------------------- */

/* Reads the scenario with the catalogue that stands beside it in the header. */
static tr_result read_scenario(const record__header *header, scenario *out, tr_diags *diags)
{
    scenario_catalogue *catalogue = NULL;
    const char *const text = header->catalogue_text;
    if (text[0] != '\0') {
        catalogue = scenario_catalogue_open(text, strlen(text), diags);
        if (catalogue == NULL) {
            return TR_INVALID;
        }
    }
    const tr_result result = scenario_read(header->scenario_text, strlen(header->scenario_text), catalogue, out, diags);
    scenario_catalogue_close(catalogue);
    return result;
}

static tr_result open_attempt(journal_reader *reader, const record__header *header, tr_diags *diags)
{
    scenario *const found = calloc(1, sizeof *found);
    if (found == NULL) {
        return TR_NO_MEMORY;
    }
    tr_result result = read_scenario(header, found, diags);
    if (result == TR_INVALID || result == TR_LIMIT) {
        result = no_journal(reader, diags, "holds a scenario or a catalogue that cannot be read");
    } else if (result == TR_OK && strcmp(found->setup.id, header->id) != 0) {
        result = broken(reader, 1, "names another scenario than the one that it holds");
    } else if (result == TR_OK) {
        reader->attempt = record_attempt_open(header->scenario_text, strlen(header->scenario_text), found,
                                              header->catalogue_text, &header->about);
        result = reader->attempt != NULL ? TR_OK : TR_NO_MEMORY;
    }
    free(found);
    return result;
}

static bool starts_with(span line, const char *stem)
{
    return line.size >= strlen(stem) && memcmp(line.text, stem, strlen(stem)) == 0;
}

static tr_result read_header(journal_reader *reader, tr_diags *diags)
{
    const span line = next_line(reader);
    if (line.text == NULL) {
        reader->reading->has_torn_end = line.size > 0;
        return no_journal(reader, diags,
                          line.size > 0 ? "is not whole: there is nothing to read" : "is missing: the file is empty");
    }
    if (!starts_with(line, RECORD__FORMAT_STEM)) {
        return no_journal(reader, diags, "is not the first line of a journal");
    }
    if (line.size > RECORD_MAX_LINE) {
        return no_journal(reader, diags, "is too long for a journal");
    }
    if (!take(reader, line)) {
        return broken(reader, 1, "was changed");
    }
    if (!starts_with(line, "{\"format\":\"" RECORD__FORMAT "\"")) {
        return no_journal(reader, diags, "is of a format that this version of the program does not know");
    }
    char why[WHY_CAP] = "";
    record__header header;
    if (!record__read_header(line.text, line.size, &header, why, sizeof why)) {
        return broken(reader, 1, why);
    }
    const tr_result result = open_attempt(reader, &header, diags);
    free(header.scenario_text);
    free(header.catalogue_text);
    return result;
}

/* ---- the other lines -------------------------------------------------------------------------------------------- */

/* What is wrong with an entry in its place, or NULL. */
static const char *misplaced(const journal_reader *reader, const record__entry *entry)
{
    const record_attempt *const attempt = reader->attempt;
    if (entry->action.at_ms < attempt->last_ms) {
        return "is earlier than the line before it";
    }
    if (entry->kind == RECORD__CLOSING) {
        return NULL;
    }
    if (entry->number != attempt->entry_count + 1) {
        return "is not the next in number";
    }
    if (entry->kind == RECORD__UNDO && attempt->about.mode != JOB_GUIDED) {
        return "takes an action back, which only guided attempts may";
    }
    if (entry->kind == RECORD__UNDO && attempt->count == 0) {
        return "takes an action back where there is none";
    }
    return NULL;
}

static tr_result put_entry(journal_reader *reader, const record__entry *entry)
{
    record_attempt *const attempt = reader->attempt;
    switch (entry->kind) {
    case RECORD__ACTION:
        return record__attempt_push(attempt, &entry->action) ? TR_OK : TR_NO_MEMORY;
    case RECORD__UNDO:
        attempt->count--;
        attempt->entry_count++;
        break;
    case RECORD__CLOSING:
        reader->closing = *entry;
        reader->reading->is_finished = true;
        reader->reading->claimed_total = entry->total;
        break;
    }
    attempt->last_ms = entry->action.at_ms;
    return TR_OK;
}

static tr_result read_entry(journal_reader *reader, span line)
{
    const int number = reader->reading->lines + 1;
    if (reader->reading->is_finished) {
        return broken(reader, number, "stands behind the closing line");
    }
    if (line.size > RECORD__LINE_CAP) {
        return broken(reader, number, "is too long for an action");
    }
    if (!take(reader, line)) {
        return broken(reader, number, "was changed, or a line before it was taken out or moved");
    }
    char why[WHY_CAP] = "";
    record__entry entry;
    if (!record__read_entry(line.text, line.size, reader->attempt->scenario.setup.structure.row_count, &entry, why,
                            sizeof why)) {
        return broken(reader, number, why);
    }
    const char *const problem = misplaced(reader, &entry);
    return problem != NULL ? broken(reader, number, problem) : put_entry(reader, &entry);
}

/* What stands behind the last line feed. A kill leaves the beginning of a line there, never more than a line. */
static tr_result read_rest(journal_reader *reader, size_t size)
{
    if (size == 0) {
        return TR_OK;
    }
    const int number = reader->reading->lines + 1;
    char link[RECORD__LINK_TEXT];
    tr_copy(link, sizeof link, reader->link);
    if (reader->reading->is_finished) {
        return broken(reader, number, "stands behind the closing line");
    }
    if (size > RECORD__LINE_CAP) {
        return broken(reader, number, "is too long for an action");
    }
    if (record__unseal(reader->text + reader->at, size - 1, link)) {
        return broken(reader, number, "was changed: something stands where its line feed was");
    }
    reader->reading->has_torn_end = true;
    return TR_OK;
}

static tr_result read_entries(journal_reader *reader)
{
    for (;;) {
        const span line = next_line(reader);
        const tr_result result = line.text != NULL ? read_entry(reader, line) : read_rest(reader, line.size);
        if (result != TR_OK || line.text == NULL) {
            return result;
        }
    }
}

/* ---- the replay ------------------------------------------------------------------------------------------------- */

static tr_result replay(journal_reader *reader)
{
    record_attempt *const attempt = reader->attempt;
    record_reading *const reading = reader->reading;
    char state[TR_HASH_TEXT];
    record__attempt_rebuild(attempt);
    score_grade(&attempt->scenario, attempt->actions, attempt->count, &reading->card);
    if (!reading->is_finished) {
        return TR_OK;
    }
    attempt->is_finished = true;
    attempt->card = reading->card;
    reading->score_differs =
        fabs(reading->card.total - reading->claimed_total) > 1e-9 || reading->card.passed != reader->closing.passed;
    tr_hash_text(job_state_hash(&attempt->scenario.setup, &attempt->state), state);
    if (strcmp(state, reader->closing.state) != 0) {
        return broken(
            reader, reading->lines,
            "does not close this attempt: the actions lead to another state (was it another version of the program?)");
    }
    return reading->score_differs ? broken(reader, reading->lines, "gives another score than the actions earn") : TR_OK;
}

static tr_result read_all(journal_reader *reader, tr_diags *diags)
{
    tr_result result = read_header(reader, diags);
    if (result == TR_OK) {
        result = read_entries(reader);
    }
    if (result == TR_OK) {
        result = replay(reader);
    }
    if (result == TR_NO_MEMORY) {
        tr_diags_add(diags, TR_ERROR, 0, 0, "", "no memory to read the journal");
    }
    return result;
}

static tr_result read_text(journal_reader *reader, tr_diags *diags)
{
    *reader->reading = (record_reading){.lines = 0};
    if (reader->size > RECORD_MAX_FILE) {
        tr_diags_add(diags, TR_ERROR, 0, 0, "", "the journal has more than %d bytes", RECORD_MAX_FILE);
        return TR_LIMIT;
    }
    const tr_result result = read_all(reader, diags);
    if (result != TR_OK) {
        record_attempt_close(reader->attempt);
        reader->attempt = NULL;
    }
    return result;
}

tr_result record_attempt_read(const char *text, size_t size, record_attempt **out, record_reading *reading,
                              tr_diags *diags)
{
    journal_reader reader = {.text = text, .size = size, .reading = reading};
    const tr_result result = read_text(&reader, diags);
    if (out != NULL) {
        *out = reader.attempt;
    } else {
        record_attempt_close(reader.attempt);
    }
    return result;
}

tr_result record_attempt_continue(const char *path, record_attempt **out, record_reading *reading, tr_diags *diags)
{
    char why[TR_TEXT_CAP] = "";
    char *text = NULL;
    journal_reader reader = {.reading = reading};
    *out = NULL;
    *reading = (record_reading){.lines = 0};
    tr_result result = tr_file_read(path, RECORD_MAX_FILE, &text, &reader.size, why, sizeof why);
    if (result == TR_OK) {
        reader.text = text;
        result = read_text(&reader, diags);
        free(text);
    }
    if (result == TR_OK && !reading->is_finished) {
        result = record__log_resume(&reader.attempt->log, path, reader.at, reader.link, reader.attempt->entry_count,
                                    why, sizeof why);
    }
    if (why[0] != '\0') {
        tr_diags_add(diags, TR_ERROR, 0, 0, "", "%s", why);
    }
    if (result != TR_OK) {
        record_attempt_close(reader.attempt);
        return result;
    }
    *out = reader.attempt;
    return TR_OK;
}
