/* The debrief in words: names by key, numbers in the reader's units, sentences from the language files.
 * Keys: rubric.<key> the name, reason.<key>.full and .lost what was measured, mend.<key> the lead of what it did,
 * effect.<kind> what it did, stop.<name> and stop.<name>.why. docs/formats.md. */
#include "tautrow/score/score.h"

#include <math.h>
#include <string.h>

#include "parts.h"
#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"

enum { KEY_CAP = 64, NUMBER_CAP = 48, CLAUSE_CAP = 320, SENTENCE_CAP = 512, ROWS_IN_FULL = 6, ROWS_OF_MORE = 3 };

const char *score_stop_key(score_stop stop)
{
    static const char *const keys[SCORE_STOPS] = {
        [SCORE_STOP_FEW_THREADS] = "stop.few_threads", [SCORE_STOP_WEAK_CRIMP] = "stop.weak_crimp",
        [SCORE_STOP_WEAK_INSERT] = "stop.weak_insert", [SCORE_STOP_OVER_LIMIT] = "stop.over_limit",
        [SCORE_STOP_GAVE_WAY] = "stop.gave_way",       [SCORE_STOP_SPLIT] = "stop.split",
        [SCORE_STOP_OPENING] = "stop.opening",         [SCORE_STOP_UNFINISHED] = "stop.unfinished",
    };
    TR_ASSERT((int)stop >= 0 && stop < SCORE_STOPS);
    return keys[stop];
}

/* ---- rows ------------------------------------------------------------------------------------------------------- */

void score_rows_text(const int *rows, int count, const tr_lang *lang, char *out, size_t cap)
{
    char head[SENTENCE_CAP] = "";
    char tail[NUMBER_CAP];
    const bool is_long = count > ROWS_IN_FULL;
    const int in_head = is_long ? ROWS_OF_MORE : count - 1;
    for (int i = 0; i < in_head; i++) {
        tr_append(head, sizeof head, "%s%d", i == 0 ? "" : ", ", rows[i] + 1);
    }
    if (count <= 0) {
        tr_copy(out, cap, "");
    } else if (count == 1) {
        tr_format(out, cap, "%d", rows[0] + 1);
    } else {
        tr_format(tail, sizeof tail, "%d", is_long ? count - ROWS_OF_MORE : rows[count - 1] + 1);
        const char *const args[2] = {head, tail};
        tr_lang_fill(lang, is_long ? "list.more" : "list.and", args, 2, out, cap);
    }
}

/* "row 3", "rows 3 and 4". */
static void rows_phrase(const int *rows, int count, const tr_lang *lang, char *out, size_t cap)
{
    char list[CLAUSE_CAP];
    score_rows_text(rows, count, lang, list, sizeof list);
    const char *const args[1] = {list};
    tr_lang_fill(lang, count == 1 ? "list.row" : "list.rows", args, 1, out, cap);
}

/* ---- numbers ---------------------------------------------------------------------------------------------------- */

typedef enum number_form { FORM_QUANTITY, FORM_COUNT, FORM_PLAIN } number_form;

/* Ratios that are no percentages. */
static number_form form_of(scenario_criterion criterion)
{
    if (criterion == SCENARIO_HANDS || criterion == SCENARIO_SQUEEZES || criterion == SCENARIO_GLASSES) {
        return FORM_COUNT;
    }
    return criterion == SCENARIO_ORDER || criterion == SCENARIO_OFF_CENTRE ? FORM_PLAIN : FORM_QUANTITY;
}

static void measure_text(scenario_criterion criterion, double value, tr_system system, char *out, size_t cap)
{
    const tr_dim dim = scenario_criterion_look(criterion)->dim;
    switch (form_of(criterion)) {
    case FORM_COUNT:
        tr_format(out, cap, "%.0f", value);
        break;
    case FORM_PLAIN:
        tr_format(out, cap, "%.2f", value);
        break;
    case FORM_QUANTITY:
        tr_quantity_text(value, dim, system, dim == TR_DIM_LENGTH ? TR_FINE : TR_PLAIN, out, cap);
        break;
    }
}

/* "at most 1/16 in", "at least 95 %"; the end of a scale needs no "at least". */
static void asked_text(const score_line *line, const tr_lang *lang, tr_system system, char *out, size_t cap)
{
    const scenario_band band = line->band;
    char number[NUMBER_CAP];
    measure_text(line->criterion, band.full, system, number, sizeof number);
    const bool is_percent =
        form_of(line->criterion) == FORM_QUANTITY && scenario_criterion_look(line->criterion)->dim == TR_DIM_RATIO;
    const char *const args[1] = {number};
    if (form_of(line->criterion) == FORM_COUNT && band.full <= 0.0) {
        tr_copy(out, cap, tr_word(lang, "reason.none"));
    } else if (band.full > band.none && is_percent && band.full >= 1.0 && line->criterion != SCENARIO_THREADS) {
        tr_copy(out, cap, number);
    } else {
        tr_lang_fill(lang, band.full > band.none ? "reason.at_least" : "reason.at_most", args, 1, out, cap);
    }
}

/* Points to one decimal, which is left out where it is 0. Rounded down, so that a line that lost anything shows it. */
void score_points_text(double points, char *out, size_t cap)
{
    const double tenths = floor(points * 10.0 + 1e-6);
    const bool is_whole = fmod(tenths, 10.0) == 0.0;
    tr_format(out, cap, is_whole ? "%.0f" : "%.1f", tenths / 10.0);
}

/* ---- effects ---------------------------------------------------------------------------------------------------- */

typedef struct effect_word {
    const char *key;
    tr_dim dim;
} effect_word;

static effect_word effect_word_of(score_effect_kind kind)
{
    static const effect_word words[SCORE_EFFECT_KINDS] = {
        [SCORE_EFFECT_TENSION] = {"effect.tension", TR_DIM_FORCE},
        [SCORE_EFFECT_LOWEST] = {"effect.lowest", TR_DIM_FORCE},
        [SCORE_EFFECT_GRIP] = {"effect.grip", TR_DIM_FORCE},
        [SCORE_EFFECT_HOLD] = {"effect.hold", TR_DIM_FORCE},
        [SCORE_EFFECT_OFF_CENTRE] = {"effect.off_centre", TR_DIM_MOMENT},
        [SCORE_EFFECT_SPREAD] = {"effect.spread", TR_DIM_RATIO},
        [SCORE_EFFECT_OPENING] = {"effect.opening", TR_DIM_FORCE},
        [SCORE_EFFECT_TRAVEL] = {"effect.travel", TR_DIM_TURNS},
        [SCORE_EFFECT_TWIST] = {"effect.twist", TR_DIM_TURNS},
        [SCORE_EFFECT_THREADS] = {"effect.threads", TR_DIM_TURNS},
    };
    return words[kind];
}

/* Turns stand as a bare number: the sentence says turns or threads, in its own language. */
static void effect_number(double value, tr_dim dim, tr_system system, char *out, size_t cap)
{
    if (dim == TR_DIM_TURNS) {
        const bool is_whole = fabs(value - floor(value + 0.5)) < 0.05;
        tr_format(out, cap, is_whole ? "%.0f" : "%.1f", value);
    } else {
        tr_quantity_text(value, dim, system, value < 100.0 && dim == TR_DIM_FORCE ? TR_FINE : TR_PLAIN, out, cap);
    }
}

void score__effect_text(const char *form, scenario_criterion criterion, const score_effect *effect, const tr_lang *lang,
                        tr_system system, char *out, size_t cap)
{
    tr_copy(out, cap, "");
    if (effect->kind == SCORE_EFFECT_NONE) {
        return;
    }
    char lead_key[KEY_CAP];
    char key[KEY_CAP];
    char was[NUMBER_CAP];
    char would_be[NUMBER_CAP];
    char row[NUMBER_CAP] = "";
    const effect_word word = effect_word_of(effect->kind);
    tr_format(lead_key, sizeof lead_key, "mend.%s", scenario_criterion_look(criterion)->key);
    tr_format(key, sizeof key, "%s%s", form, word.key);
    effect_number(effect->was, word.dim, system, was, sizeof was);
    effect_number(effect->would_be, word.dim, system, would_be, sizeof would_be);
    if (effect->row >= 0) {
        rows_phrase(&effect->row, 1, lang, row, sizeof row);
    }
    const char *const args[4] = {tr_word(lang, lead_key), row, was, would_be};
    tr_lang_fill(lang, tr_word_or_null(lang, key) != NULL ? key : word.key, args, 4, out, cap);
}

/* ---- lines ------------------------------------------------------------------------------------------------------ */

static bool is_full(const score_line *line)
{
    return line->points >= line->weight;
}

/* "; rows 3 and 4, of these 2 not done" */
static void rows_clause(const score_line *line, const tr_lang *lang, char *out, size_t cap)
{
    char key[KEY_CAP];
    char phrase[CLAUSE_CAP];
    char clause[CLAUSE_CAP];
    tr_copy(out, cap, "");
    if (line->row_count == 0) {
        return;
    }
    rows_phrase(line->row, line->row_count, lang, phrase, sizeof phrase);
    const char *const args[1] = {phrase};
    tr_format(key, sizeof key, "reason.%s.rows", scenario_criterion_look(line->criterion)->key);
    tr_lang_fill(lang, tr_word_or_null(lang, key) != NULL ? key : "reason.rows", args, 1, clause, sizeof clause);
    tr_append(out, cap, "; %s", clause);
    if (line->undone > 0) {
        char number[NUMBER_CAP];
        tr_format(number, sizeof number, "%d", line->undone);
        const char *const counts[1] = {number};
        const bool is_all = line->undone >= line->row_count;
        tr_lang_fill(lang, is_all ? "reason.rows_undone" : "reason.some_undone", counts, 1, clause, sizeof clause);
        tr_append(out, cap, ", %s", clause);
    }
}

/* What has been done on some rows is right, and the others are not done: the worst value would say nothing. */
static bool is_only_undone(const score_line *line)
{
    const score__row_rule rule = score__row_rule_of(line->criterion);
    return rule.measure != NULL && line->undone > 0 && line->undone == line->row_count;
}

/* A value just past its band reads the same as the band's end; "1/16 in (asked: at most 1/16 in)" would tell nobody why. */
static void measured_text(const score_line *line, const tr_lang *lang, tr_system system, char *out, size_t cap)
{
    char measured[NUMBER_CAP];
    char full[NUMBER_CAP];
    measure_text(line->criterion, line->measured, system, measured, sizeof measured);
    measure_text(line->criterion, line->band.full, system, full, sizeof full);
    tr_copy(out, cap, measured);
    if (!is_full(line) && strcmp(measured, full) == 0) {
        const char *const args[1] = {measured};
        tr_lang_fill(lang, line->band.full > line->band.none ? "reason.just_under" : "reason.just_over", args, 1, out,
                     cap);
    }
}

static void said_text(const score_line *line, const tr_lang *lang, tr_system system, char *out, size_t cap)
{
    char key[KEY_CAP];
    char measured[2 * NUMBER_CAP];
    char asked[CLAUSE_CAP];
    measured_text(line, lang, system, measured, sizeof measured);
    asked_text(line, lang, system, asked, sizeof asked);
    const char *const args[2] = {measured, asked};
    tr_format(key, sizeof key, "reason.%s.%s", scenario_criterion_look(line->criterion)->key,
              is_full(line) ? "full" : "lost");
    if (is_only_undone(line)) {
        tr_copy(key, sizeof key, "reason.only_undone");
    }
    tr_lang_fill(lang, key, args, 2, out, cap);
    if (!is_full(line)) {
        char clause[CLAUSE_CAP];
        rows_clause(line, lang, clause, sizeof clause);
        tr_append(out, cap, "%s", clause);
    }
}

/* The sentence without points, without its full stop. */
static void body_text(const score_line *line, const tr_lang *lang, tr_system system, char *out, size_t cap)
{
    if (!line->applies) {
        tr_copy(out, cap, tr_word(lang, "reason.not_asked"));
    } else if (line->is_undone) {
        tr_copy(out, cap, tr_word(lang, "reason.undone"));
    } else {
        said_text(line, lang, system, out, cap);
    }
}

static void append_effect(const score_line *line, const tr_lang *lang, tr_system system, char *out, size_t cap)
{
    char effect[SENTENCE_CAP];
    score__effect_text("", line->criterion, &line->effect, lang, system, effect, sizeof effect);
    if (effect[0] != '\0') {
        tr_append(out, cap, " %s", effect);
    }
}

void score_reason(const score_line *line, const tr_lang *lang, tr_system system, char *out, size_t cap)
{
    char points[NUMBER_CAP];
    char weight[NUMBER_CAP];
    char said[SENTENCE_CAP];
    body_text(line, lang, system, said, sizeof said);
    if (!line->applies) {
        tr_copy(out, cap, said);
        return;
    }
    score_points_text(line->points, points, sizeof points);
    score_points_text(line->weight, weight, sizeof weight);
    const char *const args[3] = {points, weight, said};
    tr_lang_fill(lang, "reason.points", args, 3, out, cap);
    append_effect(line, lang, system, out, cap);
}

/* Makes the first letter a capital: ASCII and the Latin-1 letters of UTF-8 (both languages have no others). */
static void capitalise(char *text)
{
    unsigned char *byte = (unsigned char *)text;
    if (byte[0] >= 'a' && byte[0] <= 'z') {
        byte[0] = (unsigned char)(byte[0] - 0x20);
    } else if (byte[0] == 0xC3 && byte[1] >= 0xA0 && byte[1] <= 0xBE && byte[1] != 0xB7) {
        byte[1] = (unsigned char)(byte[1] - 0x20);
    }
}

void score_account(const score_line *line, const tr_lang *lang, tr_system system, char *out, size_t cap)
{
    char said[SENTENCE_CAP];
    body_text(line, lang, system, said, sizeof said);
    capitalise(said);
    tr_format(out, cap, "%s.", said);
    append_effect(line, lang, system, out, cap);
}

void score_stop_reason(const score_card *card, score_stop stop, const tr_lang *lang, char *out, size_t cap)
{
    char key[KEY_CAP];
    char row[NUMBER_CAP];
    const int concerned = card->stop_row[stop];
    tr_format(key, sizeof key, "%s.%s", score_stop_key(stop), concerned >= 0 ? "why" : "run");
    if (concerned >= 0) {
        rows_phrase(&concerned, 1, lang, row, sizeof row);
    } else {
        tr_copy(row, sizeof row, "");
    }
    const char *const args[1] = {row};
    tr_lang_fill(lang, key, args, 1, out, cap);
}
