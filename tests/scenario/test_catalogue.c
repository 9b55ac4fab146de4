/* The catalogue: the shipped one is sound and its values are the published ones; a broken one is refused with a reason.
 */
#include "sample.h"

#include <math.h>

#include "catalogue.h"
#include "json.h"

typedef struct broken {
    const char *text, *path, *word;
} broken;

#define BASE   "'base': {'x': {'name': 'X', 'stiffness': 'fixed', 'source': 'assumption'}}"
#define FORMAT "'format': 'tautrow.catalogue/1', "

static const broken CASES[] = {
    {"{" BASE "}", "$", "\"format\" is missing"},
    {"{'format': 'tautrow.scenario/1'}", "$.format", "tautrow.catalogue/1"},
    {"[]", "$", "expected an object"},
    {"{" FORMAT "'spacies': {}}", "$.spacies", "did you mean \"species\""},
    {"{" FORMAT "'base': []}", "$.base", "by id"},
    {"{" FORMAT "'base': {'x': 4}}", "$.base.x", "expected an object"},
    {"{" FORMAT "'base': {'x': {'name': 'X', 'stiffness': 'fixed'}}}", "$.base.x", "\"source\" is missing"},
    {"{" FORMAT "'base': {'x': {'stiffness': 'fixed', 'source': 'demo data'}}}", "$.base.x", "\"name\" is missing"},
    {"{" FORMAT "'base': {'x': {'name': 'X', 'stiffness': 'fixed', 'source': {}}}}", "$.base.x.source",
     "no source for \"stiffness\""},
    {"{" FORMAT "'base': {'x': {'name': 'X', 'stiffness': 'fixed', 'source': {'stiffness': 'a', 'colour': 'b'}}}}",
     "$.base.x.source.colour", "not a value"},
    {"{" FORMAT "'base': {'x': {'name': 'X', 'stiffness': 'fixed', 'source': {'stiffness': 4}}}}",
     "$.base.x.source.stiffness", "expected a text"},
    {"{" FORMAT "'base': {'x': {'name': 'X', 'stiffness': 'fixed', 'source': 4}}}", "$.base.x.source", "a text"},
    {"{" FORMAT "'base': {'x': {'name': 'X', 'stiffness': 'stiff', 'source': 'a'}}}", "$.base.x.stiffness", "number"},
    {"{" FORMAT "'insert': {'x': {'name': 'X', 'major': '9 mm', 'minor': '10 mm', 'length': '40 mm', 'bit': '8 mm', "
     "'source': 'a'}}}",
     "$.insert.x.minor", "smaller than \"major\""},
    {"{" FORMAT "'insert': {'x': {'name': 'X', 'major': '9 mm', 'minor': '8 mm', 'length': '40 mm', 'bit': '9 mm', "
     "'source': 'a'}}}",
     "$.insert.x.bit", "finds no wood"},
    {"{" FORMAT "'species': {'x': {'name': 'X', 'bending': '900 psi', 'gravity': 0.5, 'gravity_handbook': 0.48, "
     "'source': 'a'}}}",
     "$.species.x", "\"clear_elastic\""},
    {"{" FORMAT "'bits': {'x': {'name': 'X', 'diameters': [], 'source': 'a'}}}", "$.bits.x.diameters", "1 to 8 bits"},
    {"{" FORMAT "'bits': {'x': {'name': 'X', 'diameters': ['8 mm', '7 mm'], 'source': 'a'}}}", "$.bits.x.diameters[1]",
     "small to large"},
    {"{" FORMAT "'crimper': {'x': {'name': 'X', 'efficiency': 0.7, 'bore': '20 mm', 'barrel': '6 mm', 'crimped': '7 "
     "mm', 'die': '9 mm', 'gauge': '7 mm', 'source': 'a'}}}",
     "$.crimper.x.crimped", "smaller than \"barrel\""},
    {"{" FORMAT "'crimper': {'x': {'name': 'X', 'efficiency': 0.7, 'bore': '20 mm', 'barrel': '7 mm', 'crimped': '6 "
     "mm', 'die': '9 mm', 'gauge': '5 mm', 'source': 'a'}}}",
     "$.crimper.x.gauge", "no crimp could pass"},
    {"{" FORMAT "'turnbuckle': {'x': {'name': 'X', 'anchor_stud': {'pitch': '1 mm', 'diameter': '6 mm', 'engaged': "
     "'20 turns'}, 'cable_stud': {'pitch': '1 mm', 'diameter': '6 mm', 'engaged': '20 turns'}, 'body': '38 mm', "
     "'source': 'a'}}}",
     "$.turnbuckle.x.body", "studs would meet"},
    {"{" FORMAT BASE ", " BASE "}", "$.base", "given twice"},
};

static void test_broken_catalogues(void **state)
{
    (void)state;
    tr_diags *diags = calloc(1, sizeof *diags);
    assert_non_null(diags);
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        char text[SAMPLE_CAP];
        bool is_found = false;
        (void)tr_copy(text, sizeof text, CASES[i].text);
        sample_quote(text);
        tr_diags_clear(diags);
        scenario_catalogue *catalogue = scenario_catalogue_open(text, strlen(text), diags);
        for (size_t n = 0; n < diags->count; n++) {
            is_found = is_found ||
                       (strcmp(diags->item[n].path, CASES[i].path) == 0 && strstr(diags->item[n].text, CASES[i].word));
        }
        if (catalogue || !is_found) {
            print_error("case %zu: %s\n", i, CASES[i].word);
            sample_print(diags);
            scenario_catalogue_close(catalogue);
            fail();
        }
    }
    free(diags);
}

static void test_too_many_entries(void **state)
{
    (void)state;
    tr_diags *diags = calloc(1, sizeof *diags);
    char text[SAMPLE_CAP] = "{" FORMAT "'base': {";
    assert_non_null(diags);
    for (int i = 0; i < 65; i++) {
        (void)tr_append(text, sizeof text, "%s'x%d': {'name': 'X', 'stiffness': 'fixed', 'source': 'a'}", i ? ", " : "",
                        i);
    }
    (void)tr_append(text, sizeof text, "}}");
    sample_quote(text);
    assert_null(scenario_catalogue_open(text, strlen(text), diags));
    assert_non_null(strstr(diags->item[0].text, "more than 64"));
    free(diags);
}

static void test_least_catalogue(void **state)
{
    (void)state;
    tr_diags *diags = calloc(1, sizeof *diags);
    char text[SAMPLE_CAP];
    assert_non_null(diags);
    (void)tr_copy(text, sizeof text, "{" FORMAT BASE "}");
    sample_quote(text);
    scenario_catalogue *catalogue = scenario_catalogue_open(text, strlen(text), diags);
    assert_non_null(catalogue);
    scenario_catalogue_close(catalogue);
    scenario_catalogue_close(NULL);
    free(diags);
}

/* ---- shipped values against the published ones ---- */

static void read_entry(const char *id, scenario__part part, void *out)
{
    scenario_catalogue *catalogue = sample_catalogue();
    tr_diags *diags = calloc(1, sizeof *diags);
    assert_non_null(diags);
    scenario__reader reader = {.diags = diags, .catalogue = catalogue};
    const scenario__node name = {.kind = SCENARIO__STRING, .text = id};
    assert_true(scenario__read_part(&reader, &name, part, out));
    free(diags);
    scenario_catalogue_close(catalogue);
}

/* NDS Supplement 2018, Table 4A (E, Fb; size factor 1.5 for 4 in width) and NDS 2018, Table 12.3.3A (G). */
static void test_graded_lumber(void **state)
{
    (void)state;
    static const struct {
        const char *id;
        double elastic_psi, bending_psi, gravity;
    } published[] = {
        {"cedar-4x4", 1.0e6, 700, 0.36},   {"spf-4x4", 1.4e6, 875, 0.42},         {"redwood-4x4", 1.0e6, 725, 0.37},
        {"hem-fir-4x4", 1.3e6, 850, 0.43}, {"douglas-fir-4x4", 1.6e6, 900, 0.50}, {"white-oak-4x4", 0.9e6, 850, 0.73},
    };
    for (size_t i = 0; i < sizeof published / sizeof published[0]; i++) {
        scenario__species species = {0};
        read_entry(published[i].id, SCENARIO__SPECIES, &species);
        assert_near(species.elastic_pa / TR_PSI_PA, published[i].elastic_psi, 1);
        assert_near(species.bending_pa / TR_PSI_PA, published[i].bending_psi, 1e-6);
        assert_near(species.gravity, published[i].gravity, 0);
        assert_near(species.size_factor, 1.5, 0);
        /* footnote of Table 4A: wet Fb 0.85, or 1.0 where Fb CF is at most 1150 psi */
        assert_near(species.wet_bending, published[i].bending_psi * 1.5 > 1150 ? 0.85 : 1.0, 0);
    }
}

/* Mass and strength of 1x19 strand: geometry (19/25 of the circle, 7.9 g/cm3, 3 % for the lay); torsion by the fourth power of the
 * diameter. */
static void test_strands(void **state)
{
    (void)state;
    static const char *const ids[] = {"1x19-1-8", "1x19-5-32", "1x19-4mm", "1x19-3-16"};
    for (size_t i = 0; i < 4; i++) {
        scenario__strand strand = {0};
        read_entry(ids[i], SCENARIO__STRAND, &strand);
        const double area_m2 = 19.0 / 25.0 * TR_PI / 4 * strand.diameter_m * strand.diameter_m;
        assert_near(strand.fill, 19.0 / 25.0, 1e-12);
        assert_near(strand.mass_kg_m, 1.03 * 7900 * area_m2, 0.0001);
        assert_near(strand.torsion_n_m2, 0.07425 * pow(strand.diameter_m / 0.003175, 4), 0.0006);
        assert_near(strand.elastic_pa, 130e9, 1); /* EN 1993-1-11:2006 Table 3.1 */
        /* implied wire stress 1515 to 1561 MPa by the specification's strengths, 1382 MPa by the metric form */
        assert_true(strand.breaking_n / area_m2 > 1370e6 && strand.breaking_n / area_m2 < 1570e6);
    }
}

/* ASME B1.1 and ISO 261. */
static void test_threads(void **state)
{
    (void)state;
    scenario__turnbuckle turnbuckle = {0};
    read_entry("unf-1-4", SCENARIO__TURNBUCKLE, &turnbuckle);
    assert_near(turnbuckle.anchor.pitch_m, 25.4e-3 / 28, 1e-12);
    read_entry("unf-5-16", SCENARIO__TURNBUCKLE, &turnbuckle);
    assert_near(turnbuckle.cable.pitch_m, 25.4e-3 / 24, 1e-12);
    read_entry("m6", SCENARIO__TURNBUCKLE, &turnbuckle);
    assert_near(turnbuckle.cable.pitch_m, 1e-3, 1e-12);
}

/* ---- the JSON reader by itself ---- */

static void test_json_texts(void **state)
{
    (void)state;
    static const char text[] =
        "{\"a\\u00f1\" :\r\n [ 1e-2, \"\\ud83d\\uDE00\\/\\u20ac\\u0041\", null,true ,false, {} , [] ]}";
    tr_diags *diags = calloc(1, sizeof *diags);
    scenario__json *json = NULL;
    assert_non_null(diags);
    assert_int_equal(scenario__json_open(text, strlen(text), 1000, &json, diags), TR_OK);
    const scenario__node *list = scenario__member(scenario__json_root(json), "a\xC3\xB1");
    assert_non_null(list);
    assert_int_equal(list->count, 7);
    assert_int_equal(list->line, 2);
    assert_int_equal(list->column, 2);
    assert_near(list->first->number, 0.01, 0);
    assert_string_equal(list->first->next->text, "\xF0\x9F\x98\x80/\xE2\x82\xAC"
                                                 "A");
    assert_int_equal(list->first->next->next->kind, SCENARIO__NULL);
    char path[TR_PATH_CAP];
    scenario__path(list->first->next, path, sizeof path);
    assert_string_equal(path, "$.a\xC3\xB1[1]");
    scenario__json_close(json);
    free(diags);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_broken_catalogues), cmocka_unit_test(test_least_catalogue),
        cmocka_unit_test(test_too_many_entries),  cmocka_unit_test(test_graded_lumber),
        cmocka_unit_test(test_strands),           cmocka_unit_test(test_threads),
        cmocka_unit_test(test_json_texts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
