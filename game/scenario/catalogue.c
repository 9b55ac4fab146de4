/* The catalogue: kept as the tree it was read from, every entry having been checked once. An entry's values are read
 * again where a scenario uses it, so that catalogue entries and inline objects go one and the same way. */
#include "catalogue.h"

#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"

enum { MAX_ENTRIES = 64 };

struct scenario_catalogue {
    char *text; /* as it was read, for journals */
    scenario__json *json;
    const scenario__node *kind[SCENARIO__PARTS]; /* object of entries by id; NULL = none */
};

void scenario__check_format(scenario__reader *reader, const scenario__node *format, const char *wanted)
{
    if (format && (format->kind != SCENARIO__STRING || strcmp(format->text, wanted) != 0)) {
        SCENARIO__SAY(reader, format, "expected \"%s\": this program knows no other form", wanted);
    }
}

const scenario__node *scenario__look_up(scenario__reader *reader, const scenario__node *name, scenario__part part)
{
    const scenario__node *entries = reader->catalogue ? reader->catalogue->kind[part] : NULL;
    const scenario__node *entry = scenario__member(entries, name->text);
    const char *ids[MAX_ENTRIES + 1] = {NULL};
    char what[64];
    int count = 0;
    if (entry) {
        return entry;
    }
    for (const scenario__node *other = entries ? entries->first : NULL; other; other = other->next) {
        ids[count++] = other->key;
    }
    (void)tr_format(what, sizeof what, "%s of the catalogue", scenario__part_shape[part].what);
    scenario__say_unknown(reader, name, name->text, what, scenario__did_you_mean(name->text, ids));
    return NULL;
}

/* Every value needs a source: one text for all, or one text a key. */
static void check_sources(scenario__reader *reader, const scenario__node *entry, const scenario__node *source)
{
    if (!source) {
        SCENARIO__SAY(reader, entry,
                      "\"source\" is missing: where its values come from, \"assumption\" or \"demo data\"");
        return;
    }
    if (source->kind != SCENARIO__OBJECT) {
        return; /* one text for all; anything else has been refused with the entry's values */
    }
    for (const scenario__node *value = entry->first; value; value = value->next) {
        const bool is_value = strcmp(value->key, "name") != 0 && strcmp(value->key, "source") != 0;
        if (is_value && !scenario__member(source, value->key)) {
            SCENARIO__SAY(reader, source, "no source for \"%s\"", value->key);
        }
    }
    for (const scenario__node *text = source->first; text; text = text->next) {
        if (!scenario__member(entry, text->key)) {
            scenario__say_unknown(reader, text, text->key, "a value of this entry", NULL);
        } else {
            (void)scenario__want(reader, text, SCENARIO__STRING, "a text");
        }
    }
}

static void check_entry(scenario__reader *reader, const scenario__node *entry, scenario__part part)
{
    scenario__any_part filled;
    memset(&filled, 0, sizeof filled);
    if (!scenario__want(reader, entry, SCENARIO__OBJECT, "an object { } with the values of the entry")) {
        return;
    }
    (void)scenario__read_part(reader, entry, part, &filled);
    check_sources(reader, entry, scenario__member(entry, "source"));
    if (!scenario__member(entry, "name")) {
        SCENARIO__SAY(reader, entry, "\"name\" is missing");
    }
}

static void check_kind(scenario__reader *reader, const scenario__node *entries, scenario__part part)
{
    if (!scenario__want(reader, entries, SCENARIO__OBJECT, "an object { } of entries by id")) {
        return;
    }
    if (entries->count > MAX_ENTRIES) {
        SCENARIO__SAY(reader, entries, "more than %d entries", MAX_ENTRIES);
        return;
    }
    for (const scenario__node *entry = entries->first; entry; entry = entry->next) {
        check_entry(reader, entry, part);
    }
}

static scenario__part part_of(const char *key)
{
    int part = 0;
    while (part < SCENARIO__PARTS && strcmp(scenario__part_key[part], key) != 0) {
        part++;
    }
    return (scenario__part)part;
}

static void check_catalogue(scenario__reader *reader, scenario_catalogue *catalogue)
{
    const scenario__node *root = scenario__json_root(catalogue->json);
    if (!scenario__want(reader, root, SCENARIO__OBJECT, "an object { }")) {
        return;
    }
    if (!scenario__member(root, "format")) {
        SCENARIO__SAY(reader, root, "\"format\" is missing");
    }
    scenario__check_format(reader, scenario__member(root, "format"), "tautrow.catalogue/1");
    for (const scenario__node *member = root->first; member; member = member->next) {
        const scenario__part part = part_of(member->key);
        if (part < SCENARIO__PARTS) {
            check_kind(reader, member, part);
            catalogue->kind[part] = catalogue->kind[part] ? catalogue->kind[part] : member;
        } else if (strcmp(member->key, "format") != 0 && strcmp(member->key, "$schema") != 0) {
            scenario__say_unknown(reader, member, member->key, "a kind of catalogue entry",
                                  scenario__did_you_mean(member->key, scenario__part_key));
        }
    }
}

scenario_catalogue *scenario_catalogue_open(const char *text, size_t size, tr_diags *diags)
{
    scenario_catalogue *catalogue = calloc(1, sizeof *catalogue);
    const size_t before = diags->count;
    if (!catalogue) {
        tr_diags_add(diags, TR_ERROR, 0, 0, "$", "no memory");
        return NULL;
    }
    tr_result result = scenario__json_open(text, size, SCENARIO_MAX_FILE, &catalogue->json, diags);
    if (catalogue->json) {
        scenario__reader reader = {.diags = diags, .system = TR_US};
        check_catalogue(&reader, catalogue);
        result = reader.errors > 0 ? TR_INVALID : result;
    }
    scenario__sort(diags, before);
    if (result == TR_OK) {
        catalogue->text = malloc(size + 1);
        result = catalogue->text ? TR_OK : TR_NO_MEMORY;
    }
    if (result != TR_OK) {
        scenario_catalogue_close(catalogue);
        return NULL;
    }
    memcpy(catalogue->text, text, size);
    catalogue->text[size] = '\0';
    return catalogue;
}

void scenario_catalogue_close(scenario_catalogue *catalogue)
{
    if (catalogue) {
        scenario__json_close(catalogue->json);
        free(catalogue->text);
        free(catalogue);
    }
}

const char *scenario_catalogue_text(const scenario_catalogue *catalogue)
{
    return catalogue->text;
}
