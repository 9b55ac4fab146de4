/* The table-driven reader of objects. It only fills plain structs; what the values mean together is judged in build.c.
 */
#include "shape.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"

/* ---- complaints ---- */

scenario__spot scenario__place_of(const scenario__node *node)
{
    scenario__spot spot = {.line = node ? node->line : 0, .column = node ? node->column : 0};
    scenario__path(node, spot.path, sizeof spot.path);
    return spot;
}

/* An error about the key of a node rather than its value. */
static void say_at_key(scenario__reader *reader, const scenario__node *node, const char *text)
{
    char path[TR_PATH_CAP];
    scenario__path(node, path, sizeof path);
    tr_diags_add(reader->diags, TR_ERROR, node->key_line, node->key_column, path, "%s", text);
    reader->errors++;
}

const char *scenario__did_you_mean(const char *word, const char *const names[])
{
    const char *best = NULL;
    int best_distance =
        (int)strlen(word) / 3 + 2; /* a third of the letters wrong is still a typing slip; more is another word */
    for (int i = 0; names[i]; i++) {
        const int distance = tr_edit_distance(word, names[i]);
        if (distance < best_distance) {
            best = names[i];
            best_distance = distance;
        }
    }
    return best;
}

void scenario__say_unknown(scenario__reader *reader, const scenario__node *node, const char *word, const char *what,
                           const char *guess)
{
    char text[TR_TEXT_CAP];
    (void)tr_format(text, sizeof text, "\"%s\" is not %s", scenario__quoted(word).text, what);
    if (guess) {
        (void)tr_append(text, sizeof text, "; did you mean \"%s\"", guess);
    }
    if (node->key && node->key == word) {
        say_at_key(reader, node, text);
    } else {
        SCENARIO__SAY(reader, node, "%s", text);
    }
}

static bool comes_after(const tr_diag *a, const tr_diag *b)
{
    return a->line > b->line || (a->line == b->line && a->column > b->column);
}

void scenario__sort(tr_diags *diags, size_t from)
{
    for (size_t i = from + 1; i < diags->count; i++) {
        const tr_diag moved = diags->item[i];
        size_t to = i;
        while (to > from && comes_after(&diags->item[to - 1], &moved)) {
            diags->item[to] = diags->item[to - 1];
            to--;
        }
        diags->item[to] = moved;
    }
}

/* ---- single values ---- */

bool scenario__want(scenario__reader *reader, const scenario__node *node, scenario__kind kind, const char *what)
{
    if (node->kind == kind) {
        return true;
    }
    SCENARIO__SAY(reader, node, "expected %s, found %s", what, scenario__kind_name(node->kind));
    return false;
}

static void say_range(scenario__reader *reader, const scenario__node *node, tr_dim dim, double least, double most)
{
    char low[48];
    char high[48];
    tr_quantity_text(least, dim, reader->system, TR_FINE, low, sizeof low);
    tr_quantity_text(most, dim, reader->system, TR_FINE, high, sizeof high);
    SCENARIO__SAY(reader, node, "\"%s\" is out of range: from %s to %s", scenario__quoted(node->text).text, low, high);
}

bool scenario__quantity(scenario__reader *reader, const scenario__node *node, tr_dim dim, double least, double most,
                        double *si)
{
    char why[TR_TEXT_CAP / 2];
    double value = 0;
    if (node->kind == SCENARIO__NUMBER) {
        SCENARIO__SAY(reader, node, "a bare number: write it as text with a unit (%s)", tr_dim_units(dim));
        return false;
    }
    if (node->kind != SCENARIO__STRING) {
        SCENARIO__SAY(reader, node, "expected a quantity as text with a unit (%s), found %s", tr_dim_units(dim),
                      scenario__kind_name(node->kind));
        return false;
    }
    if (!tr_quantity_parse(node->text, dim, &value, why, sizeof why)) {
        SCENARIO__SAY(reader, node, "\"%s\" %s", scenario__quoted(node->text).text, why);
        return false;
    }
    /* a hair of slack, so that a limit written in another unit still counts as within */
    const double slack = 1e-9 * fmax(fabs(least), fabs(most));
    if (!(value >= least - slack && value <= most + slack)) {
        say_range(reader, node, dim, least, most);
        return false;
    }
    *si = value;
    return true;
}

bool scenario__number(scenario__reader *reader, const scenario__node *node, double least, double most, double *value)
{
    if (!scenario__want(reader, node, SCENARIO__NUMBER, "a plain number")) {
        return false;
    }
    if (!(node->number >= least && node->number <= most)) {
        SCENARIO__SAY(reader, node, "out of range: from %g to %g", least, most);
        return false;
    }
    *value = node->number;
    return true;
}

bool scenario__whole(scenario__reader *reader, const scenario__node *node, int least, int most, int *value)
{
    double number = 0;
    if (!scenario__want(reader, node, SCENARIO__NUMBER, "a whole number")) {
        return false;
    }
    if (!(node->number >= least && node->number <= most)) {
        SCENARIO__SAY(reader, node, "out of range: from %d to %d", least, most);
        return false;
    }
    number = node->number;
    if (floor(number) < number) {
        SCENARIO__SAY(reader, node, "expected a whole number");
        return false;
    }
    *value = (int)number;
    return true;
}

bool scenario__choice(scenario__reader *reader, const scenario__node *node, const char *const names[], int *value)
{
    char list[TR_TEXT_CAP / 2] = "";
    if (node->kind == SCENARIO__STRING) {
        for (int i = 0; names[i]; i++) {
            if (strcmp(names[i], node->text) == 0) {
                *value = i;
                return true;
            }
        }
    }
    for (int i = 0; names[i]; i++) {
        (void)tr_append(list, sizeof list, "%s%s", i == 0 ? "one of: " : ", ", names[i]);
    }
    if (node->kind == SCENARIO__STRING) {
        scenario__say_unknown(reader, node, node->text, list, scenario__did_you_mean(node->text, names));
    } else {
        SCENARIO__SAY(reader, node, "expected %s; found %s", list, scenario__kind_name(node->kind));
    }
    return false;
}

/* ---- texts ---- */

static void read_id(scenario__reader *reader, const scenario__node *node, char out[JOB_NAME_CAP])
{
    if (!scenario__want(reader, node, SCENARIO__STRING, "a text")) {
        return;
    }
    const size_t length = strlen(node->text);
    if (length == 0 || length >= JOB_NAME_CAP ||
        strspn(node->text, "abcdefghijklmnopqrstuvwxyz0123456789-") != length) {
        SCENARIO__SAY(reader, node, "expected 1 to %d small letters (a to z), digits and hyphens", JOB_NAME_CAP - 1);
        return;
    }
    (void)tr_copy(out, JOB_NAME_CAP, node->text);
}

/* One language of a text into out[cap]. */
static void read_language(scenario__reader *reader, const scenario__node *node, char *out, size_t cap)
{
    if (!scenario__want(reader, node, SCENARIO__STRING, "a text")) {
        return;
    }
    if (node->text[0] == '\0') {
        SCENARIO__SAY(reader, node, "the text is empty");
    } else if (cap == SCENARIO_TITLE_CAP && node->text[strcspn(node->text, "\n\t")] != '\0') {
        SCENARIO__SAY(reader, node, "a line break or a tab has no place in a title");
    } else if (strlen(node->text) >= cap) {
        SCENARIO__SAY(reader, node, "the text is too long: at most %zu bytes", cap - 1);
    } else {
        (void)tr_copy(out, cap, node->text);
    }
}

/* A text in both languages: a plain string fills both, an object needs both. */
static void read_words(scenario__reader *reader, const scenario__node *node, char *en, char *es, size_t cap)
{
    static const char *const codes[] = {"en", "es", NULL};
    if (node->kind != SCENARIO__OBJECT) {
        if (node->kind != SCENARIO__STRING) {
            SCENARIO__SAY(reader, node, "expected a text, or {\"en\": \"...\", \"es\": \"...\"}");
            return;
        }
        read_language(reader, node, en, cap);
        (void)tr_copy(es, cap, en);
        return;
    }
    for (const scenario__node *member = node->first; member; member = member->next) {
        if (strcmp(member->key, "en") != 0 && strcmp(member->key, "es") != 0) {
            scenario__say_unknown(reader, member, member->key, "a language of the program (en, es)",
                                  scenario__did_you_mean(member->key, codes));
        }
    }
    for (int i = 0; codes[i]; i++) {
        const scenario__node *member = scenario__member(node, codes[i]);
        if (member) {
            read_language(reader, member, i == 0 ? en : es, cap);
        } else {
            SCENARIO__SAY(reader, node, "\"%s\" is missing: a text needs both languages, or is a plain text", codes[i]);
        }
    }
}

/* ---- objects ---- */

static void *slot(void *target, const scenario__field *field)
{
    return (char *)target + field->offset;
}

/* Writes what a field holds where its key is absent. */
static void fill_missing(scenario__reader *reader, const scenario__field *field, void *target)
{
    switch (field->type) {
    case SCENARIO__QUANTITY:
    case SCENARIO__PLAIN:
        *(double *)slot(target, field) = field->missing;
        break;
    case SCENARIO__WHOLE:
    case SCENARIO__CHOICE:
        *(int *)slot(target, field) = isnan(field->missing) ? 0 : (int)field->missing;
        break;
    case SCENARIO__FLAG:
        *(bool *)slot(target, field) = field->missing > 0;
        break;
    case SCENARIO__INSIDE:
        scenario__fill(reader, NULL, field->inside, slot(target, field));
        break;
    case SCENARIO__RAW:
        *(const scenario__node **)slot(target, field) = NULL;
        break;
    case SCENARIO__ID:
    case SCENARIO__TITLE:
    case SCENARIO__STORY:
        *(char *)slot(target, field) = '\0';
        break;
    }
}

static void read_quantity(scenario__reader *reader, const scenario__node *node, const scenario__field *field,
                          double *out)
{
    if (field->endless && node->kind == SCENARIO__STRING && strcmp(node->text, field->endless) == 0) {
        *out = (double)INFINITY;
        return;
    }
    (void)scenario__quantity(reader, node, field->dim, field->least, field->most, out);
}

static void read_flag(scenario__reader *reader, const scenario__node *node, bool *out)
{
    if (node->kind != SCENARIO__TRUE && node->kind != SCENARIO__FALSE) {
        SCENARIO__SAY(reader, node, "expected true or false, found %s", scenario__kind_name(node->kind));
        return;
    }
    *out = node->kind == SCENARIO__TRUE;
}

static void read_title(scenario__reader *reader, const scenario__node *node, scenario_title *title)
{
    read_words(reader, node, title->en, title->es, sizeof title->en);
}

static void read_story(scenario__reader *reader, const scenario__node *node, scenario_story *story)
{
    read_words(reader, node, story->en, story->es, sizeof story->en);
}

static void read_field(scenario__reader *reader, const scenario__node *node, const scenario__field *field, void *target)
{
    void *const to = slot(target, field);
    switch (field->type) {
    case SCENARIO__QUANTITY:
        read_quantity(reader, node, field, to);
        break;
    case SCENARIO__PLAIN:
        (void)scenario__number(reader, node, field->least, field->most, to);
        break;
    case SCENARIO__WHOLE:
        (void)scenario__whole(reader, node, (int)field->least, (int)field->most, to);
        break;
    case SCENARIO__FLAG:
        read_flag(reader, node, to);
        break;
    case SCENARIO__ID:
        read_id(reader, node, to);
        break;
    case SCENARIO__TITLE:
        read_title(reader, node, to);
        break;
    case SCENARIO__STORY:
        read_story(reader, node, to);
        break;
    case SCENARIO__CHOICE:
        (void)scenario__choice(reader, node, field->names, to);
        break;
    case SCENARIO__INSIDE:
        scenario__fill(reader, node, field->inside, to);
        break;
    case SCENARIO__RAW:
        *(const scenario__node **)to = node;
        break;
    }
}

static void refuse_unknown(scenario__reader *reader, const scenario__node *object, const scenario__shape *shape)
{
    enum { MOST_KEYS = 48 };
    const char *known[MOST_KEYS + 1] = {NULL};
    char what[64];
    TR_ASSERT(shape->count <= MOST_KEYS);
    for (int i = 0; i < shape->count; i++) {
        known[i] = shape->field[i].key;
    }
    (void)tr_format(what, sizeof what, "a key of %s", shape->what);
    for (const scenario__node *member = object->first; member; member = member->next) {
        bool is_known = false;
        for (int i = 0; i < shape->count && !is_known; i++) {
            is_known = strcmp(known[i], member->key) == 0;
        }
        if (!is_known) {
            scenario__say_unknown(reader, member, member->key, what, scenario__did_you_mean(member->key, known));
        }
    }
}

void scenario__fill(scenario__reader *reader, const scenario__node *object, const scenario__shape *shape, void *target)
{
    const bool is_object = object && object->kind == SCENARIO__OBJECT;
    if (object && !is_object) {
        SCENARIO__SAY(reader, object, "expected an object { } with the keys of %s, found %s", shape->what,
                      scenario__kind_name(object->kind));
    }
    for (int i = 0; i < shape->count; i++) {
        const scenario__field *field = &shape->field[i];
        const scenario__node *node = scenario__member(object, field->key);
        fill_missing(reader, field, target);
        if (node) {
            read_field(reader, node, field, target);
        } else if (is_object && field->required) {
            SCENARIO__SAY(reader, object, "\"%s\" is missing in %s", field->key, shape->what);
        }
    }
    if (is_object) {
        refuse_unknown(reader, object, shape);
    }
}
