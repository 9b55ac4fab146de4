/* Each physical warning can be provoked, in the right place, by the change that ought to provoke it; and by that change
 * only. */
#include "sample.h"

typedef struct provoked {
    const char *find, *replace, *path, *word;
} provoked;

static const provoked CASES[] = {
    /* a 4x4 that carries eleven rows bends too far */
    {"'depth': '5 1/2 in'", "'depth': '3 1/2 in'", "$.run.near_post", "bending"},
    {"'base': 'deck-6x6'", "'base': {'stiffness': '250000 lbf in/rad', 'capacity': '100 lbf in'}",
     "$.run.near_post.base", "base"},
    /* 200 lbf at 36 in are 7200 lbf in */
    {"'line_posts': 3,\n    'near_post': {'depth': '5 1/2 in'",
     "'line_posts': 3, 'bends': [{'line_post': 2, 'angle': '90 deg', 'friction': '0.1 x'}],\n    'near_post': "
     "{'depth': '5 1/2 in', 'breadth': '3 1/2 in'",
     "$.run.bends[0]", "bending of the line post"},
    {"'base': 'deck-6x6'", "'base': {'stiffness': '900000 lbf in/rad', 'capacity': '7100 lbf in'}",
     "$.run.near_post.base", "pushing the rail"},
    {"'tension': {", "'checks': {'infill_push': '500 lbf', 'infill_side': '2 in'}, 'tension': {",
     "$.checks.infill_push", "good crimp"},
    {"'rail': {'height': '36 in'}", "'rail': {'height': '36 in', 'joint_capacity': '50 lbf'}", "$.rail.joint",
     "rail joint"},
    /* short rows on soft posts: the first ones need a great deal too much */
    {"'length': '12 ft',\n    'line_posts': 3,\n    'near_post': {'depth': '5 1/2 in', 'species': 'douglas-fir-6x6'",
     "'length': '4 ft', 'near_post': {'species': 'cedar-4x4'", "$.tension.limit", "row limit"},
    {"'turnbuckle': 'unf-1-4'",
     "'turnbuckle': {'anchor_stud': {'pitch': '1/28 in', 'diameter': '1/4 in', 'engaged': '8 turns'}, 'cable_stud': "
     "{'pitch': "
     "'1/28 in', 'diameter': '1/4 in', 'engaged': '8 turns'}, 'body': '15 mm'}",
     "$.turnbuckle", "take-up"},
    {"'rounds': ['50 %', '100 %']", "'rounds': ['100 %'], 'tolerance': '1 %'", "$.tension.rounds", "rounds until"},
    {"'strand': '1x19-1-8'",
     "'strand': {'diameter': '1/8 in', 'mass': '0.0475 kg/m', 'breaking': '440 lbf', 'torsion': '0.07 N m2'}",
     "$.tension.target", "45 %"},
    {"'tension': {", "'checks': {'ball_push': '40 lbf'}, 'tension': {", "$.checks.ball_push", "gaps"},
    {"'insert': 'quarter-softwood'",
     "'insert': {'major': '1/2 in', 'minor': '13/32 in', 'length': '1/2 in', 'bit': '13/32 in'}", "$.insert",
     "good for"},
    {"'crimper': 'eighth'", "'crimper': 'eighth', 'drilling': {'edge': '1/4 in'}", "$.drilling", "split"},
    {"'crimper': 'eighth'",
     "'crimper': {'efficiency': 0.15, 'bore': '7/8 in', 'barrel': '0.25 in', 'crimped': '0.219 in', 'die': '3/8 in', "
     "'gauge': "
     "'0.222 in'}",
     "$.crimper", "twice the target"},
    {"'limit': '400 lbf'", "'limit': '400 lbf', 'pin_limit': '0.6 N m'", "$.tension.pin_limit", "turning pin"},
};

static scenario_catalogue *catalogue;
static scenario *out;
static tr_diags *diags;
static tr_lang *english, *spanish;

static tr_lang *words_in(const char *code)
{
    char name[64];
    size_t size = 0;
    tr_diags found = {0};
    tr_lang *lang = tr_lang_open(code);
    (void)tr_format(name, sizeof name, "assets/lang/%s/warn.txt", code);
    char *text = sample_file(name, &size);
    assert_int_equal(tr_lang_add(lang, text, size, &found), TR_OK);
    free(text);
    return lang;
}

static tr_result read_changed(const char *find, const char *replace)
{
    char text[SAMPLE_CAP] = "";
    sample_change(find, replace, text);
    tr_diags_clear(diags);
    return scenario_read(text, strlen(text), catalogue, out, diags);
}

static bool is_warned(const provoked *wanted)
{
    for (size_t i = 0; i < diags->count; i++) {
        if (strcmp(diags->item[i].path, wanted->path) == 0 && strstr(diags->item[i].text, wanted->word) &&
            diags->item[i].severity == TR_WARNING) {
            return true;
        }
    }
    return false;
}

static void test_each_warning(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        const tr_result result = read_changed(CASES[i].find, CASES[i].replace);
        if (result != TR_OK) {
            sample_print(diags);
        }
        assert_int_equal(result, TR_OK);
        const size_t count = scenario_warn(out, english, diags);
        if (!is_warned(&CASES[i])) {
            print_error("case %zu: no %s\n", i, CASES[i].word);
            sample_print(diags);
            fail();
        }
        assert_int_equal(count, diags->count + diags->dropped);
        assert_int_equal(diags->errors, 0);
    }
}

/* The sample itself is warned of nothing, so that the cases above prove something. */
static void test_without_the_change(void **state)
{
    (void)state;
    assert_int_equal(read_changed("'minutes': 20", "'minutes': 20"), TR_OK);
    (void)scenario_warn(out, english, diags);
    sample_print(diags);
    assert_int_equal(diags->count, 0);
}

/* The same warnings at the same places, each a sentence of its own with all its values filled in. */
static void test_in_spanish(void **state)
{
    (void)state;
    tr_diags *told = calloc(1, sizeof *told);
    assert_non_null(told);
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        assert_int_equal(read_changed(CASES[i].find, CASES[i].replace), TR_OK);
        const size_t count = scenario_warn(out, english, diags);
        tr_diags_clear(told);
        assert_int_equal(scenario_warn(out, spanish, told), count);
        for (size_t k = 0; k < told->count; k++) {
            assert_string_equal(told->item[k].path, diags->item[k].path);
            assert_string_not_equal(told->item[k].text, diags->item[k].text);
            assert_null(strchr(told->item[k].text, '{'));
            assert_null(strstr(told->item[k].text, "warn."));
        }
    }
    free(told);
}

static void test_openings_by_tension(void **state)
{
    (void)state;
    /* the same gaps hold the ball at twice the tension: the push grows with it (docs/mechanics.md 9) */
    assert_int_equal(read_changed("'target': '200 lbf',\n    'limit': '400 lbf'", "'target': '60 lbf'"), TR_OK);
    (void)scenario_warn(out, english, diags);
    const provoked opening = {NULL, NULL, "$.checks.ball_push", "gaps"};
    assert_true(is_warned(&opening));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_each_warning),
        cmocka_unit_test(test_without_the_change),
        cmocka_unit_test(test_in_spanish),
        cmocka_unit_test(test_openings_by_tension),
    };
    catalogue = sample_catalogue();
    english = words_in("en");
    spanish = words_in("es");
    out = calloc(1, sizeof *out);
    diags = calloc(1, sizeof *diags);
    const int result = out && diags ? cmocka_run_group_tests(tests, NULL, NULL) : 1;
    scenario_catalogue_close(catalogue);
    tr_lang_close(english);
    tr_lang_close(spanish);
    free(out);
    free(diags);
    return result;
}
