/* A slip-up in words. Keys: slip.<key>.name, slip.<key>.what what happened, slip.<key>.open while it can still be made good,
 * slip.<key>.right how to do it; stop.<name>.right for stop faults that no line measures. docs/formats.md. */
#include "tautrow/score/slip.h"

#include <math.h>
#include <string.h>

#include "parts.h"
#include "tautrow/base/text.h"

enum { KEY_CAP = 64, NUMBER_CAP = 48, CLAUSE_CAP = 160 };

static bool has_line(const score_slip *slip)
{
    return slip->criterion < SCENARIO_CRITERIA;
}

/* Counts and shares that no unit is said with. */
static bool is_count(scenario_criterion criterion)
{
    return criterion == SCENARIO_HANDS || criterion == SCENARIO_SQUEEZES || criterion == SCENARIO_GLASSES;
}

/* A quarter turn is 0.25, not 0.2, and sixteen threads are 16. */
static void turns_text(double value, char *out, size_t cap)
{
    tr_format(out, cap, "%.2f", value);
    size_t length = strlen(out);
    while (length > 0 && out[length - 1] == '0') {
        out[--length] = '\0';
    }
    if (length > 0 && out[length - 1] == '.') {
        out[length - 1] = '\0';
    }
}

static void number_text(const score_slip *slip, double value, tr_system system, char *out, size_t cap)
{
    if (is_count(slip->criterion)) {
        tr_format(out, cap, "%.0f", value);
    } else if (slip->dim == TR_DIM_TURNS) {
        turns_text(value, out, cap);
    } else {
        tr_quantity_text(value, slip->dim, system, slip->dim == TR_DIM_LENGTH ? TR_FINE : TR_PLAIN, out, cap);
    }
}

/* "1 in", "600 rpm to 1,200 rpm", "at most 1.5°", "at least 2". */
static void asked_text(const score_slip *slip, const tr_lang *lang, tr_system system, char *out, size_t cap)
{
    char low[NUMBER_CAP] = "";
    char high[NUMBER_CAP] = "";
    const bool has_low = isfinite(slip->low);
    const bool has_high = isfinite(slip->high);
    if (has_low) {
        number_text(slip, slip->low, system, low, sizeof low);
    }
    if (has_high) {
        number_text(slip, slip->high, system, high, sizeof high);
    }
    const bool is_all = slip->dim == TR_DIM_RATIO && slip->low >= 1.0 && !is_count(slip->criterion); /* no "at least" */
    if (is_all || (has_low && has_high && slip->low == slip->high)) {
        tr_copy(out, cap, low);
        return;
    }
    const char *const args[2] = {has_low ? low : high, high};
    tr_lang_fill(lang,
                 has_low && has_high ? "slip.range"
                 : has_low           ? "reason.at_least"
                                     : "reason.at_most",
                 args, 2, out, cap);
}

static void row_text(int row, const tr_lang *lang, char *out, size_t cap)
{
    char number[NUMBER_CAP];
    tr_copy(out, cap, "");
    if (row >= 0) {
        tr_format(number, sizeof number, "%d", row + 1);
        const char *const args[1] = {number};
        tr_lang_fill(lang, "list.row", args, 1, out, cap);
    }
}

/* The first letter of a sentence that begins with a row. */
static void begin_sentence(char *text)
{
    if (text[0] >= 'a' && text[0] <= 'z') {
        text[0] = (char)(text[0] - 'a' + 'A');
    }
}

void score_slip_name(const score_slip *slip, const tr_lang *lang, char *out, size_t cap)
{
    char key[KEY_CAP];
    if (slip->stop != SCORE_STOPS) {
        tr_copy(out, cap, tr_word(lang, score_stop_key(slip->stop)));
        return;
    }
    tr_format(key, sizeof key, "slip.%s.name", scenario_criterion_look(slip->criterion)->key);
    tr_copy(out, cap, tr_word(lang, key));
}

static void append_stop(const score_slip *slip, const tr_lang *lang, char *out, size_t cap)
{
    char key[KEY_CAP];
    char row[NUMBER_CAP];
    char said[CLAUSE_CAP];
    if (slip->stop == SCORE_STOPS) {
        return;
    }
    row_text(slip->row, lang, row, sizeof row);
    const char *const args[1] = {row};
    tr_format(key, sizeof key, "%s.%s", score_stop_key(slip->stop), slip->row >= 0 ? "why" : "run");
    tr_lang_fill(lang, key, args, 1, said, sizeof said);
    tr_append(out, cap, "%s%s", out[0] != '\0' ? " " : "", said);
}

void score_slip_what(const score_slip *slip, const tr_lang *lang, tr_system system, char *out, size_t cap)
{
    char key[KEY_CAP];
    char row[NUMBER_CAP];
    char did[NUMBER_CAP];
    char asked[CLAUSE_CAP];
    char instead[NUMBER_CAP];
    tr_copy(out, cap, "");
    if (has_line(slip)) {
        row_text(slip->row, lang, row, sizeof row);
        row_text(slip->instead, lang, instead, sizeof instead);
        number_text(slip, slip->did, system, did, sizeof did);
        asked_text(slip, lang, system, asked, sizeof asked);
        const char *const args[4] = {row, did, asked, instead};
        tr_format(key, sizeof key, "slip.%s.%s", scenario_criterion_look(slip->criterion)->key,
                  slip->is_open     ? "open"
                  : slip->is_frayed ? "frayed"
                                    : "what");
        tr_lang_fill(lang, key, args, 4, out, cap);
        begin_sentence(out);
    }
    append_stop(slip, lang, out, cap);
}

void score_slip_effect(const score_slip *slip, const tr_lang *lang, tr_system system, char *out, size_t cap)
{
    tr_copy(out, cap, "");
    if (has_line(slip)) {
        /* The openings of the whole run are judged: no row was named that a gap could be beside. */
        const char *form = slip->criterion == SCENARIO_OPENING ? "" : "slip.";
        score__effect_text(form, slip->criterion, &slip->effect, lang, system, out, cap);
    }
}

void score_slip_right(const score_slip *slip, const tr_lang *lang, char *out, size_t cap)
{
    char key[KEY_CAP];
    if (has_line(slip)) {
        tr_format(key, sizeof key, "slip.%s.right", scenario_criterion_look(slip->criterion)->key);
    } else {
        tr_format(key, sizeof key, "%s.right", score_stop_key(slip->stop));
    }
    tr_copy(out, cap, tr_word(lang, key));
}
