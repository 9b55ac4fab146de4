/* The published schemas against the tables that the reader works from: the same keys, the same required ones, the same
 * defaults and ranges of plain numbers, and a description for every property. Keys are compared both ways, so that
 * neither can drift. */
#include "sample.h"

#include <math.h>

#include "fields.h"
#include "json.h"

typedef struct schemas {
    scenario__json *scenario, *catalogue;
    int failures;
    int compared;
} schemas;

static scenario__json *open_schema(const char *name)
{
    size_t size = 0;
    scenario__json *json = NULL;
    tr_diags *diags = calloc(1, sizeof *diags);
    assert_non_null(diags);
    char *text = sample_file(name, &size);
    const tr_result result = scenario__json_open(text, size, SCENARIO_MAX_FILE, &json, diags);
    sample_print(diags);
    assert_int_equal(result, TR_OK);
    free(text);
    free(diags);
    return json;
}

static int start(void **state)
{
    schemas *s = calloc(1, sizeof *s);
    assert_non_null(s);
    s->scenario = open_schema("docs/scenario.schema.json");
    s->catalogue = open_schema("docs/catalogue.schema.json");
    *state = s;
    return 0;
}

static int stop(void **state)
{
    schemas *s = *state;
    scenario__json_close(s->scenario);
    scenario__json_close(s->catalogue);
    free(s);
    return 0;
}

static void complain(schemas *s, const char *where, const char *key, const char *what)
{
    print_error("%s.%s: %s\n", where, key, what);
    s->failures++;
}

/* ---- walking a schema ---- */

static const scenario__node *root_of(const scenario__node *node)
{
    while (node->parent) {
        node = node->parent;
    }
    return node;
}

/* What a "$ref" stands for: "#/$defs/x" here, "catalogue.schema.json#/$defs/x" there. */
static const scenario__node *follow(const schemas *s, const scenario__node *node)
{
    const scenario__node *ref = scenario__member(node, "$ref");
    if (!ref) {
        return node;
    }
    const char *const hash = strchr(ref->text, '#');
    assert_non_null(hash);
    const scenario__node *root = hash == ref->text ? root_of(node) : scenario__json_root(s->catalogue);
    const scenario__node *found = scenario__member(scenario__member(root, "$defs"), hash + strlen("#/$defs/"));
    assert_non_null(found);
    return follow(s, found);
}

/* The schema with "properties" that a property's values follow: itself, an item, a value of a map, or one of several
 * forms. */
static const scenario__node *object_schema(const schemas *s, const scenario__node *node)
{
    static const char *const inward[] = {"items", "additionalProperties"};
    const scenario__node *here = node ? follow(s, node) : NULL;
    if (!here || here->kind != SCENARIO__OBJECT || scenario__member(here, "properties")) {
        return here && here->kind == SCENARIO__OBJECT ? here : NULL;
    }
    for (size_t i = 0; i < 2; i++) {
        const scenario__node *found = object_schema(s, scenario__member(here, inward[i]));
        if (found && scenario__member(found, "properties")) {
            return found;
        }
    }
    const scenario__node *forms = scenario__member(here, "oneOf");
    for (const scenario__node *form = forms ? forms->first : NULL; form; form = form->next) {
        const scenario__node *found = object_schema(s, form);
        if (found && scenario__member(found, "properties")) {
            return found;
        }
    }
    return here;
}

static bool is_required(const scenario__node *schema, const char *key)
{
    const scenario__node *list = scenario__member(schema, "required");
    for (const scenario__node *name = list ? list->first : NULL; name; name = name->next) {
        if (strcmp(name->text, key) == 0) {
            return true;
        }
    }
    return false;
}

/* ---- one field ---- */

static void compare_default(schemas *s, const char *where, const scenario__field *field, const scenario__node *property)
{
    const scenario__node *node = scenario__member(property, "default");
    char why[256];
    double value = (double)NAN;
    if (field->type == SCENARIO__RAW || field->type == SCENARIO__INSIDE || isnan(field->missing)) {
        return;
    }
    if (!node) {
        complain(s, where, field->key, "no default in the schema");
        return;
    }
    if (field->type == SCENARIO__CHOICE) {
        value = strcmp(node->text, field->names[(int)field->missing]) == 0 ? field->missing : (double)NAN;
    } else if (field->type == SCENARIO__FLAG) {
        value = node->kind == SCENARIO__TRUE ? 1 : 0;
    } else if (node->kind == SCENARIO__NUMBER) {
        value = node->number;
    } else if (field->endless && strcmp(node->text, field->endless) == 0) {
        value = (double)INFINITY;
    } else if (!tr_quantity_parse(node->text, field->dim, &value, why, sizeof why)) {
        complain(s, where, field->key, why);
        return;
    }
    if (isinf(field->missing) ? !isinf(value) : !(fabs(value - field->missing) <= 1e-9 * fabs(field->missing))) {
        complain(s, where, field->key, "another default in the schema");
    }
}

static void compare_range(schemas *s, const char *where, const scenario__field *field, const scenario__node *property)
{
    const scenario__node *least = scenario__member(property, "minimum");
    const scenario__node *most = scenario__member(property, "maximum");
    if (field->type != SCENARIO__PLAIN && field->type != SCENARIO__WHOLE) {
        return;
    }
    if (!least || !most || fabs(least->number - field->least) > 0 || fabs(most->number - field->most) > 0) {
        complain(s, where, field->key, "another range in the schema");
    }
}

static void compare_names(schemas *s, const char *where, const scenario__field *field, const scenario__node *property)
{
    const scenario__node *list = scenario__member(property, "enum");
    int count = 0;
    if (field->type != SCENARIO__CHOICE) {
        return;
    }
    for (const scenario__node *name = list ? list->first : NULL; name; name = name->next) {
        if (!field->names[count] || strcmp(field->names[count], name->text) != 0) {
            complain(s, where, field->key, "other words in the schema");
            return;
        }
        count++;
    }
    if (field->names[count]) {
        complain(s, where, field->key, "words missing in the schema");
    }
}

/* A quantity's definition must be that of its dimension: the schema's pattern must take each unit that the reader
 * offers. */
static void compare_dimension(schemas *s, const char *where, const scenario__field *field,
                              const scenario__node *property)
{
    static const char *const definition[TR_DIM_COUNT] = {
        [TR_DIM_LENGTH] = "length",       [TR_DIM_FORCE] = "force",
        [TR_DIM_STRESS] = "stress",       [TR_DIM_MOMENT] = "moment",
        [TR_DIM_STIFFNESS] = "stiffness", [TR_DIM_ROTATION] = "rotation",
        [TR_DIM_LINE_MASS] = "line_mass", [TR_DIM_TORSION] = "torsion",
        [TR_DIM_ANGLE] = "angle",         [TR_DIM_TURNS] = "turns",
        [TR_DIM_SPEED] = "speed",         [TR_DIM_EXPANSION] = "expansion",
        [TR_DIM_TIME] = "time",           [TR_DIM_RATIO] = "ratio",
        [TR_DIM_DAYS] = "days",           [TR_DIM_TEMPERATURE] = "temperature",
    };
    if (field->type != SCENARIO__QUANTITY) {
        return;
    }
    const scenario__node *forms = scenario__member(property, "oneOf");
    const scenario__node *ref = scenario__member(forms ? forms->first : property, "$ref");
    const char *const last = ref ? strrchr(ref->text, '/') : NULL;
    if (!last || !definition[field->dim] || strcmp(last + 1, definition[field->dim]) != 0) {
        complain(s, where, field->key, "another dimension in the schema");
    }
    if (field->endless &&
        (!forms || strcmp(scenario__member(forms->first->next, "const")->text, field->endless) != 0)) {
        complain(s, where, field->key, "another word for no give in the schema");
    }
}

/* ---- one shape ---- */

static void compare(schemas *s, const char *where, const scenario__shape *shape, const scenario__node *schema);

static void compare_field(schemas *s, const char *where, const scenario__shape *shape, const scenario__field *field,
                          const scenario__node *schema)
{
    char deeper[256];
    const scenario__node *property = scenario__member(scenario__member(schema, "properties"), field->key);
    (void)shape;
    s->compared++;
    if (!property) {
        complain(s, where, field->key, "is read but not in the schema");
        return;
    }
    if (is_required(schema, field->key) != field->required) {
        complain(s, where, field->key, "required in one and not in the other");
    }
    compare_default(s, where, field, property);
    compare_range(s, where, field, property);
    compare_names(s, where, field, property);
    compare_dimension(s, where, field, property);
    if (field->inside) {
        (void)tr_format(deeper, sizeof deeper, "%s.%s", where, field->key);
        compare(s, deeper, field->inside, object_schema(s, property));
    }
}

static void compare(schemas *s, const char *where, const scenario__shape *shape, const scenario__node *schema)
{
    const scenario__node *properties = scenario__member(schema, "properties");
    if (!properties) {
        complain(s, where, "", "has no properties in the schema");
        return;
    }
    for (int i = 0; i < shape->count; i++) {
        compare_field(s, where, shape, &shape->field[i], schema);
    }
    for (const scenario__node *property = properties->first; property; property = property->next) {
        bool is_read = false;
        for (int i = 0; i < shape->count; i++) {
            is_read = is_read || strcmp(shape->field[i].key, property->key) == 0;
        }
        if (!is_read) {
            complain(s, where, property->key, "is in the schema but not read");
        }
    }
    const scenario__node *others = scenario__member(schema, "additionalProperties");
    if (!others || others->kind != SCENARIO__FALSE) {
        complain(s, where, "", "lets unknown keys through");
    }
}

static void test_scenario_keys(void **state)
{
    schemas *s = *state;
    compare(s, "$", &scenario__file_shape, scenario__json_root(s->scenario));
    assert_int_equal(s->failures, 0);
    assert_true(s->compared > 100);
}

static void test_catalogue_keys(void **state)
{
    schemas *s = *state;
    const scenario__node *properties = scenario__member(scenario__json_root(s->catalogue), "properties");
    assert_int_equal(properties->count, SCENARIO__PARTS + 2); /* and $schema, format */
    for (int part = 0; part < SCENARIO__PARTS; part++) {
        const scenario__node *kind = scenario__member(properties, scenario__part_key[part]);
        assert_non_null(kind);
        compare(s, scenario__part_key[part], &scenario__part_shape[part], object_schema(s, kind));
    }
    assert_int_equal(s->failures, 0);
}

static void test_criteria(void **state)
{
    schemas *s = *state;
    const scenario__node *node = scenario__member(scenario__json_root(s->scenario), "properties");
    node = scenario__member(scenario__member(scenario__member(node, "rubric"), "properties"), "criteria");
    node = scenario__member(scenario__member(node, "propertyNames"), "enum");
    assert_non_null(node);
    assert_int_equal(node->count, SCENARIO_CRITERIA);
    for (const scenario__node *name = node->first; name; name = name->next) {
        assert_string_equal(name->text, scenario_criterion_look((scenario_criterion)name->index)->key);
    }
}

/* Every property, at any depth, says what it is. */
static int undescribed(const scenario__node *node)
{
    int count = 0;
    const scenario__node *properties = node->kind == SCENARIO__OBJECT ? scenario__member(node, "properties") : NULL;
    const bool is_schema = properties && properties->kind == SCENARIO__OBJECT;
    for (const scenario__node *property = is_schema ? properties->first : NULL; property; property = property->next) {
        const scenario__node *text = scenario__member(property, "description");
        if (!text || text->kind != SCENARIO__STRING || strlen(text->text) < 8) {
            char path[TR_PATH_CAP];
            scenario__path(property, path, sizeof path);
            print_error("%s has no description\n", path);
            count++;
        }
    }
    for (const scenario__node *member = node->first; member; member = member->next) {
        count += undescribed(member);
    }
    return count;
}

static void test_every_property_is_described(void **state)
{
    schemas *s = *state;
    assert_int_equal(undescribed(scenario__json_root(s->scenario)), 0);
    assert_int_equal(undescribed(scenario__json_root(s->catalogue)), 0);
}

int main(void)
{
#define WITH_SCHEMAS(test) cmocka_unit_test_setup_teardown(test, start, stop)
    const struct CMUnitTest tests[] = {
        WITH_SCHEMAS(test_scenario_keys),
        WITH_SCHEMAS(test_catalogue_keys),
        WITH_SCHEMAS(test_criteria),
        WITH_SCHEMAS(test_every_property_is_described),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
