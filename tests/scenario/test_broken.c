/* Broken scenario texts: each must be refused at the right place, with the right path and in words that help. */
#include "sample.h"

static scenario_catalogue *catalogue;
static scenario *out;
static tr_diags *diags;

/* In `replace` an @ marks where the error must be reported; it is taken out before reading. */
typedef struct broken {
    const char *find, *replace, *path, *word;
} broken;

static const broken CASES[] = {
    /* grammar */
    {"'minutes': 20,", "'minutes': 20@'difficulty'", "$", "comma"},
    {"'difficulty': 2,", "'difficulty': @two,", "$.difficulty", "expected a value"},
    {"'difficulty': 2,", "'difficulty': @.5,", "$.difficulty", "expected a value"},
    {"'difficulty': 2,", "'difficulty': 0@2,", "$", "comma"},
    {"'difficulty': 2,", "'difficulty': -@,", "$.difficulty", "not a number"},
    {"'difficulty': 2,", "'difficulty': 1.@,", "$.difficulty", "not a number"},
    {"'difficulty': 2,", "'difficulty': 1e@,", "$.difficulty", "not a number"},
    {"'difficulty': 2,", "'difficulty': 1e999@,", "$.difficulty", "too large"},
    {"'difficulty': 2,", "'difficulty' @2,", "$.difficulty", "expected :"},
    {"'difficulty': 2,", "@difficulty: 2,", "$", "key in double quotes"},
    {"'id': 'sample'", "'id': 'sam\\@qple'", "$.id", "escape"},
    {"'id': 'sample'", "'id': 'sam\\u00@zzple'", "$.id", "hexadecimal"},
    {"'id': 'sample'", "'id': 'sam\\u0000@ple'", "$.id", "NUL"},
    {"'id': 'sample'", "'id': 'sam\\ud800@ple'", "$.id", "half of a character"},
    {"'id': 'sample'", "'id': 'sam\\udc00@ple'", "$.id", "half of a character"},
    {"'id': 'sample'", "'id': 'sam@\xC3\x28ple'", "$.id", "UTF-8"},
    {"'id': 'sample'", "'id': 'sam@\xC0\xAFple'", "$.id", "UTF-8"},
    {"'id': 'sample'", "'id': 'sam@\tple'", "$.id", "control character"},
    {"'weight': 6}}}\n}\n", "'weight': 6}}}@", "$", "before this is closed"},
    {"'weight': 6}}}\n}", "'weight': 6}}}\n} @x", "$", "end of the file"},
    {"'weight': 6}}}\n}", "'weight': 6}},@}\n}", "$.rubric", "one too many"},
    {"'weight': 6}}}\n}\n", "'weight': 6}}}, 'x': 'y@", "$.x", "closing quote"},
    {"'weight': 6}}}\n}\n", "'weight': 6}}}, 'x':@", "$.x", "file ends"},
    {"'weight': 6}}}\n}\n", "'weight': 6}}},@", "$", "file ends inside an object"},
    {"[1, 2, 3]", "[1, 2 @3]", "$.before[0].rows", "comma or ]"},
    {"[1, 2, 3]", "[[[[[[[[[[[[[@[[[1]]]]]]]]]]]]]]]]", NULL, "16 deep"},
    {"'id': 'sample'", "'id': 'sam\\u001b@ple'", "$.id", "control character"},
    {"'id': 'sample'", "'id': 'sam@\xC2\x9Bple'", "$.id", "control character"},
    {"'id': 'sample'", "'id': 'sam@\x7Fple'", "$.id", "control character"},
    {"'id': 'sample'", "'id': 'sam\\@rple'", "$.id", "escape"},
    {"'difficulty': 2,", "'dif\\nficulty'@: 2,", "$", "line break"},
    /* keys */
    {"'difficulty': 2,", "@'dificulty': 2,", "$.dificulty", "did you mean \"difficulty\""},
    {"'line_posts': 3", "@'lineposts': 3", "$.run.lineposts", "did you mean \"line_posts\""},
    {"'rail': {'height'", "'rail': {@'hight'", "$.rail.hight", "did you mean \"height\""},
    {"'limit': '400 lbf'", "@'zzzzzzzz': '400 lbf'", "$.tension.zzzzzzzz", "not a key of the tension"},
    {"{'order': {'weight'", "{@'ordr': {'weight'", "$.rubric.criteria.ordr", "did you mean \"order\""},
    {"'difficulty': 2,", "'difficulty': 2, @'id': 'again',", "$.id", "given twice"},
    {"'es': 'Una muestra'", "@'fr': 'Un essai'", "$.title.fr", "language"},
    {"'difficulty': 2,", "'difficulty': 2, @'sead': 4,", "$.sead", "did you mean \"seed\""},
    /* missing */
    {"'title': {'en': 'A sample', 'es'", "'title': @{'es'", "$.title", "\"en\" is missing"},
    {"'rail': {'height': '36 in'}", "'rail': @[]", "$.rail", "expected an object"},
    {"'target': '200 lbf',", "", "$.tension", "\"target\" is missing"},
    {"'species': 'douglas-fir-6x6', 'base'", "'base'", "$.run.near_post", "\"species\" is missing"},
    {", 'base': 'deck-6x6'", "", "$.run.near_post", "\"base\" is missing"},
    {"'length': '12 ft',\n    'line_posts': 3,", "", "$.run", "\"length\" is missing"},
    {"'count': 11, ", "", "$.rows", "\"count\" is missing"},
    {"'stage': 'tension'}", "'tension': '5 lbf'}", "$.before[0]", "\"stage\" is missing"},
    {"{'kind': 'unseated', ", "{", "$.faults[0]", "\"kind\" is missing"},
    {"'unseated', 'row': 2}", "'unseated'}", "$.faults[0]", "\"row\" is missing"},
    /* types */
    {"'length': '12 ft'", "'length': @12", "$.run.length", "in, ft, mm, cm or m"},
    {"'length': '12 ft'", "'length': @'12'", "$.run.length", "needs a unit"},
    {"'length': '12 ft'", "'length': @'12 lbf'", "$.run.length", "in, ft"},
    {"'length': '12 ft'", "'length': @'twelve feet'", "$.run.length", "number"},
    {"'length': '12 ft'", "'length': @true", "$.run.length", "expected a quantity"},
    {"'target': '200 lbf'", "'target': @200", "$.tension.target", "lbf, N or kN"},
    {"'difficulty': 2,", "'difficulty': @'2',", "$.difficulty", "whole number"},
    {"'difficulty': 2,", "'difficulty': @1.5,", "$.difficulty", "whole number"},
    {"'id': 'sample'", "'id': @7", "$.id", "expected a text"},
    {"'id': 'sample'", "'id': @'A Sample'", "$.id", "small letters"},
    {"'story': 'For the tests'", "'story': @4", "$.story", "expected a text"},
    {"'story': 'For the tests'", "'story': @''", "$.story", "empty"},
    {"'units': 'us'", "'units': @'usa'", "$.units", "did you mean \"us\""},
    {"'units': 'us'", "'units': @4", "$.units", "one of: us, si"},
    {"'run': {", "'seed': @'x', 'run': {", "$.seed", "whole number"},
    {"'strand': '1x19-1-8'", "'strand': @3", "$.strand", "id of a catalogue entry"},
    {"'strand': '1x19-1-8'", "'strand': @'1x19-1-9'", "$.strand", "did you mean \"1x19-1-8\""},
    {"'species': 'douglas-fir-6x6'", "'species': @'duglas-fir-6x6'", "$.run.near_post.species",
     "did you mean \"douglas-fir-6x6\""},
    {"'species': 'douglas-fir-6x6'", "'rigid': @'no', 'species': 'douglas-fir-6x6'", "$.run.near_post.rigid",
     "true or false"},
    {"[1, 2, 3]", "@'some'", "$.before[0].rows", "list of row numbers"},
    {"[1, 2, 3]", "[1, @'2', 3]", "$.before[0].rows[1]", "whole number"},
    {"'rounds': ['50 %', '100 %']", "'rounds': @'100 %'", "$.tension.rounds", "list of shares"},
    {"'before': [\n    {'rows': [1, 2, 3], 'stage': 'tension'}\n  ]", "'before': @{}", "$.before", "expected a list"},
    {"{'order': {'weight': 6}}", "@[]", "$.rubric.criteria", "object"},
    {"'format': 'tautrow.scenario/1'", "'format': @'tautrow.scenario/2'", "$.format", "tautrow.scenario/1"},
    {"{'en': 'A sample', 'es'", "{'en': @'A\\nsample', 'es'", "$.title.en", "in a title"},
    {"'bits': 'inch'", "'bits': @''", "$.bits", "not a bit set"},
    {"'near_post': {'depth': '5 1/2 in', 'species': 'douglas-fir-6x6', 'base': 'deck-6x6'}", "'near_post': @7",
     "$.run.near_post", "expected an object"},
    {"'line_posts': 3,", "'line_posts': 3, 'far_post': @7,", "$.run.far_post", "expected an object"},
    {"'strand': '1x19-1-8'",
     "'strand': {'source': @3, 'diameter': '3 mm', 'mass': '42 g/m', 'breaking': '7 kN', 'torsion': '0.06 N m2'}",
     "$.strand.source", "a text"},
    /* corner */
    {"'line_posts': 3,", "'line_posts': 3, 'corner': @'far',", "$.run.corner", "expected an object"},
    {"'line_posts': 3,", "'line_posts': 3, 'corner': {'post': 'far', 'length': '8 ft'},", "$.run.corner",
     "\"tension\" is missing"},
    {"'line_posts': 3,", "'line_posts': 3, 'corner': {'post': @'left', 'tension': '9 lbf', 'length': '8 ft'},",
     "$.run.corner.post", "near, far"},
    /* bends */
    {"'line_posts': 3,", "'line_posts': 3, 'bends': @{},", "$.run.bends", "expected a list"},
    {"'line_posts': 3,", "'line_posts': 3, 'bends': [{'line_post': 1}],", "$.run.bends[0]", "\"angle\" is missing"},
    {"'line_posts': 3,", "'line_posts': 3, 'bends': [{'line_post': @4, 'angle': '9 deg'}],", "$.run.bends[0].line_post",
     "there are 3"},
    {"'line_posts': 3,", "'line_posts': 3, 'bends': [{'line_post': 1, 'angle': @'200 deg'}],", "$.run.bends[0].angle",
     "out of range"},
    {"'line_posts': 3,", "'line_posts': 3, 'bends': [{'line_post': 1, 'angle': '9 deg', 'friction': @0.3}],",
     "$.run.bends[0].friction", "% or x"},
    /* slope */
    {"'line_posts': 3,", "'line_posts': 3, 'slope': @'70 deg',", "$.run.slope", "out of range"},
    {"'line_posts': 3,", "'line_posts': 3, 'slope': @'34 in',", "$.run.slope", "deg or rad"},
    {"'line_posts': 3,", "'line_posts': 3, 'upper': @'left',", "$.run.upper", "near, far"},
    /* coming back */
    {"'difficulty': 2,", "'difficulty': 2, 'after': @30,", "$.after", "expected an object"},
    {"'difficulty': 2,", "'difficulty': 2, 'after': {'days': @30},", "$.after.days", "days"},
    {"'difficulty': 2,", "'difficulty': 2, 'after': {'days': @'30 min'},", "$.after.days", "days"},
    {"'difficulty': 2,", "'difficulty': 2, 'after': {},", "$.after", "\"days\" is missing"},
    {"'difficulty': 2,", "'difficulty': 2, 'after': {'days': '9 days', 'temperature': @'200 degF'},",
     "$.after.temperature", "out of range"},
    {"'difficulty': 2,", "'difficulty': 2, 'after': {'days': '9 days', 'coldest': @'70 degF'},", "$.after.coldest",
     "cannot be warmer"},
    /* ranges */
    {"'length': '12 ft'", "'length': @'2 in'", "$.run.length", "from 12 in to 100 ft"},
    {"'difficulty': 2,", "'difficulty': @4,", "$.difficulty", "from 1 to 3"},
    {"'count': 11", "'count': @41", "$.rows.count", "from 1 to 40"},
    {"'line_posts': 3", "'line_posts': @24", "$.run.line_posts", "from 0 to 23"},
    {"'pass_mark': 70", "'pass_mark': @101", "$.rubric.pass_mark", "from 0 to 100"},
    {"'target': '200 lbf'", "'target': @'-200 lbf'", "$.tension.target", "out of range"},
    {"[1, 2, 3]", "[1, @12, 3]", "$.before[0].rows[1]", "from 1 to 11"},
    {"'rounds': ['50 %', '100 %']", "'rounds': [@'150 %', '100 %']", "$.tension.rounds[0]", "out of range"},
    {"'rounds': ['50 %', '100 %']", "'rounds': @[]", "$.tension.rounds", "1 to 6 rounds"},
    {"'row': 2}]", "'row': @12}]", "$.faults[0].row", "no row 12"},
    {"'count': 11, 'first': '3 in', 'spacing': '3 in'", "'heights': @'3 in'", "$.rows.heights", "list of row heights"},
    {"'count': 11, 'first': '3 in', 'spacing': '3 in'", "'heights': @[]", "$.rows.heights", "1 to 40 rows"},
    {"'count': 11, 'first': '3 in', 'spacing': '3 in'", "'heights': ['3 in', @6]", "$.rows.heights[1]", "unit"},
    {"'length': '12 ft',\n    'line_posts': 3", "'bays': @[]", "$.run.bays", "1 to 24 bays"},
    {"'length': '12 ft',\n    'line_posts': 3", "'bays': @'6 ft'", "$.run.bays", "list of bay lengths"},
    {"'length': '12 ft',\n    'line_posts': 3", "'bays': ['6 ft', @'6 kg']", "$.run.bays[1]", "in, ft"},
    {"'row': 2}]", "'row': @0}]", "$.faults[0].row", "from 1 to 40"},
    {"'faults': [{'kind': 'unseated', 'row': 2}]", "'faults': @[1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1]", "$.faults",
     "more than 16"},
    {"'rail': {'height': '36 in'}", "'rail': {'species': @'elm'}", "$.rail.species", "not a species"},
    {"'order': 'middle_out'", "'order': ['x', @2.5]", "$.tension.order[1]", "whole number"},
    {"'order': 'middle_out'", "'order': [1, @1]", "$.tension.order[1]", "listed twice"},
    {"'difficulty': 2,",
     "'difficulty': 1111111111111111111111111111111111111111111111111111111111111111111111111111111@,", "$.difficulty",
     "64 characters"},
    {"'bits': 'inch'", "'bits': @'a name that is much longer than any name of a bit set has a right to be'", "$.bits",
     "...\" is not a bit set"},
    {"'crimper': 'eighth'", "'crimper': 'eighth', 'drilling': {'drill_speed': @['900 rpm']}", "$.drilling.drill_speed",
     "two speeds"},
    /* what does not go together */
    {"'target': '200 lbf'", "'target': '10 lbf', 'hand_tight': @'11 lbf'", "$.tension.hand_tight", "below the target"},
    {"'turnbuckle': 'unf-1-4'",
     "'turnbuckle': @{'anchor_stud': {'pitch': '1 mm', 'diameter': '6 mm', 'engaged': '4 turns'}, 'cable_stud': "
     "{'pitch': '1 mm', 'diameter': '6 mm', 'engaged': '9 turns'}, 'body': '60 mm'}",
     "$.turnbuckle", "least safe engagement"},
    {"'trainee': 'all'},", "'trainee': @[]},", "$.rows.trainee", "unfinished"},
    {"'count': 11", "'count': @12", "$.rows.count", "not below the rail"},
    {"'count': 11, 'first': '3 in', 'spacing': '3 in'", "'heights': ['3 in', '6 in', @'40 in']", "$.rows.heights[2]",
     "not below the rail"},
    {"'count': 11, 'first': '3 in', 'spacing': '3 in'", "'heights': ['3 in', '9 in', @'6 in']", "$.rows.heights[2]",
     "lowest up"},
    {"'count': 11,", "'heights': @['3 in'], 'count': 11,", "$.rows.heights", "not both"},
    {"'line_posts': 3", "'bays': @['6 ft', '6 ft']", "$.run.bays", "not both"},
    {"[1, 2, 3]", "[1, 2, @2]", "$.before[0].rows[2]", "listed twice"},
    {"'stage': 'tension'}", "'stage': 'tension'}, {'rows': @[3], 'stage': 'cut'}", "$.before[1].rows", "earlier entry"},
    {"'stage': 'tension'}", "'stage': 'tension', 'tension': @'50 lbf'}", "$.before[0].tension", "no tension yet"},
    {"'trainee': 'all'", "'trainee': @[4, 5]", "$.rows.trainee", "unfinished"},
    {"'stage': 'tension'}\n  ]", "'stage': 'done', 'tension': '500 lbf'}\n  ]", "$.before", "above the row limit"},
    {"'limit': '400 lbf'", "'limit': @'210 lbf'", "$.tension.limit", "above the target"},
    {"'order': 'middle_out'", "'order': @'midle_out'", "$.tension.order", "did you mean \"middle_out\""},
    {"'order': 'middle_out'", "'order': @[6, 7, 5]", "$.tension.order", "not in the order"},
    {"'rounds': ['50 %', '100 %']", "'rounds': ['80 %', @'50 %', '100 %']", "$.tension.rounds[1]",
     "less than the one before"},
    {"'rounds': ['50 %', '100 %']", "'rounds': @['50 %', '90 %']", "$.tension.rounds", "100 %"},
    {"'row': 2}]", "'row': @4}]", "$.faults[0].row", "not done so far"},
    {"'kind': 'unseated', 'row': 2", "'kind': 'wet_post', 'row': @2", "$.faults[0].row", "leave \"row\" out"},
    {"'kind': 'unseated'", "'kind': 'one_squeeze', 'amount': @'4 mm'", "$.faults[0].amount", "no amount"},
    {"'row': 2}]", "'row': 2}, @{'kind': 'unseated', 'row': 2}]", "$.faults[1]", "planted already"},
    {"'bits': 'inch'", "'bits': @'metric'", "$.bits", "right bit"},
    {"'crimper': 'eighth'", "'crimper': 'eighth', 'drilling': {'depth': @'1 in'}", "$.drilling.depth", "less deep"},
    {"'crimper': 'eighth'", "'crimper': 'eighth', 'drilling': {'depth': @'6 in'}", "$.drilling.depth",
     "back of the post"},
    {"'crimper': 'eighth'", "'crimper': 'eighth', 'drilling': {'edge': @'3 in'}", "$.drilling.edge", "half the post"},
    {"'crimper': 'eighth'", "'crimper': 'eighth', 'drilling': {'drill_speed': @['900 rpm', '600 rpm']}",
     "$.drilling.drill_speed", "lower one"},
    {"'weight': 6", "'full': 0.5, 'none': 0.5", "$.rubric.criteria.order", "same"},
    {"'base': 'deck-6x6'}\n  },\n  'rail': {'height': '36 in'}", "'base': 'pinned'}\n  },\n  'rail': {'fitted': false}",
     "$.run", "rail"},
};

static void setup_reader(void)
{
    catalogue = sample_catalogue();
    out = calloc(1, sizeof *out);
    diags = calloc(1, sizeof *diags);
    assert_non_null(out);
    assert_non_null(diags);
}

static void drop_reader(void)
{
    scenario_catalogue_close(catalogue);
    free(out);
    free(diags);
}

static tr_result read_text(const char *text, size_t size)
{
    /* a block of exactly that size, so that reading past it is caught by the sanitizer */
    char *copy = malloc(size ? size : 1);
    assert_non_null(copy);
    memcpy(copy, text, size);
    tr_diags_clear(diags);
    const tr_result result = scenario_read(copy, size, catalogue, out, diags);
    free(copy);
    return result;
}

/* Takes the @ out of text and gives its line and column, counted on its own; false where there is none. */
static bool take_mark(char *text, int *line, int *column)
{
    char *mark = strchr(text, '@');
    if (!mark) {
        return false;
    }
    *line = 1;
    *column = 1;
    for (const char *c = text; c < mark; c++) {
        if (*c == '\n') {
            ++*line;
            *column = 1;
        } else if (((unsigned char)*c & 0xC0U) != 0x80U) {
            ++*column;
        }
    }
    memmove(mark, mark + 1, strlen(mark));
    return true;
}

static const tr_diag *find_diag(const broken *wanted, int line, int column)
{
    for (size_t i = 0; i < diags->count; i++) {
        const tr_diag *diag = &diags->item[i];
        const bool is_there = line == 0 || (diag->line == line && diag->column == column);
        if (is_there && (!wanted->path || strcmp(diag->path, wanted->path) == 0) && strstr(diag->text, wanted->word)) {
            return diag;
        }
    }
    return NULL;
}

static void test_sample_is_sound(void **state)
{
    (void)state;
    char text[SAMPLE_CAP] = "";
    setup_reader();
    (void)tr_copy(text, sizeof text, SAMPLE);
    sample_quote(text);
    const tr_result result = read_text(text, strlen(text));
    sample_print(diags);
    assert_int_equal(result, TR_OK);
    assert_int_equal(diags->count, 0);
    drop_reader();
}

static void test_each_break_is_named(void **state)
{
    (void)state;
    int failures = 0;
    setup_reader();
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        char text[SAMPLE_CAP] = "";
        int line = 0;
        int column = 0;
        sample_change(CASES[i].find, CASES[i].replace, text);
        (void)take_mark(text, &line, &column);
        const tr_result result = read_text(text, strlen(text));
        if (result == TR_OK || diags->errors == 0 || !find_diag(&CASES[i], line, column)) {
            print_error("case %zu (%s): expected %d:%d %s ...%s..., result %d and\n", i, CASES[i].replace, line, column,
                        CASES[i].path ? CASES[i].path : "anywhere", CASES[i].word, result);
            sample_print(diags);
            failures++;
        }
    }
    drop_reader();
    assert_int_equal(failures, 0);
}

/* A place counted by hand, so that the counting above is not the only witness. */
static void test_place_by_hand(void **state)
{
    (void)state;
    static const char text[] = "{\n  \"id\": \"\xC3\xB1\", \"sede\": 1\n}";
    setup_reader();
    assert_int_equal(read_text(text, strlen(text)), TR_INVALID);
    bool is_found = false;
    for (size_t i = 0; i < diags->count; i++) {
        const tr_diag *diag = &diags->item[i];
        is_found = is_found || (diag->line == 2 && diag->column == 14 && strcmp(diag->path, "$.sede") == 0);
    }
    assert_true(is_found);
    drop_reader();
}

static void test_all_errors_in_file_order(void **state)
{
    (void)state;
    char text[SAMPLE_CAP] = "";
    setup_reader();
    sample_change("'difficulty': 2,\n  'minutes': 20,\n  'units': 'us',\n  'run': {\n    'length': '12 ft'",
                  "'dificulty': 2,\n  'minutes': '20',\n  'units': 'uk',\n  'run': {\n    'length': 12", text);
    char *target = strstr(text, "\"200 lbf\"");
    assert_non_null(target);
    memcpy(target, "\"200 lbx\"", 9);
    assert_int_equal(read_text(text, strlen(text)), TR_INVALID);
    static const char *const paths[] = {"$.dificulty", "$.minutes", "$.units", "$.run.length", "$.tension.target"};
    assert_int_equal(diags->count, 5);
    for (size_t i = 0; i < 5; i++) {
        assert_string_equal(diags->item[i].path, paths[i]);
        assert_true(i == 0 || diags->item[i].line > diags->item[i - 1].line);
    }
    drop_reader();
}

static void test_out_is_untouched_by_errors(void **state)
{
    (void)state;
    char text[SAMPLE_CAP] = "";
    setup_reader();
    sample_change("'minutes': 20", "'minutes': 0", text);
    memset(out, 0x5A, sizeof *out);
    assert_int_equal(read_text(text, strlen(text)), TR_INVALID);
    for (size_t i = 0; i < sizeof *out; i++) {
        assert_int_equal(((const unsigned char *)out)[i], 0x5A);
    }
    drop_reader();
}

/* A text cut anywhere before its last bracket is no scenario, and never reads past its end. */
static void test_every_truncation(void **state)
{
    (void)state;
    setup_reader();
    for (int i = 0; i < SAMPLE_SCENARIO_COUNT; i++) {
        size_t size = 0;
        char *text = sample_file(SAMPLE_SCENARIOS[i], &size);
        while (size > 0 && text[size - 1] != '}') {
            size--;
        }
        assert_int_equal(read_text(text, size), TR_OK);
        for (size_t cut = 0; cut < size; cut++) {
            if (read_text(text, cut) == TR_OK || diags->errors == 0) {
                print_error("%s cut at %zu\n", SAMPLE_SCENARIOS[i], cut);
                fail();
            }
        }
        free(text);
    }
    drop_reader();
}

/* Nothing left to do is an error, unless there are faults to find. */
static void test_nothing_to_do(void **state)
{
    (void)state;
    char text[SAMPLE_CAP] = "";
    static const char before[] =
        "'before': [\n    {'rows': [1, 2, 3], 'stage': 'tension'}\n  ],\n  'faults': [{'kind': 'unseated', 'row': 2}]";
    setup_reader();
    sample_change("'trainee': 'all'", "'trainee': []", text);
    assert_int_equal(read_text(text, strlen(text)), TR_INVALID);
    sample_change(before, "'faults': []", text);
    char *trainee = strstr(text, "\"all\"");
    assert_non_null(trainee);
    memcpy(trainee, "[]   ", 5);
    assert_int_equal(read_text(text, strlen(text)), TR_INVALID);
    assert_string_equal(diags->item[0].path, "$.rows");
    sample_change(before, "'faults': [{'kind': 'twisted', 'row': 2}]", text);
    trainee = strstr(text, "\"all\"");
    assert_non_null(trainee);
    memcpy(trainee, "[]   ", 5);
    assert_int_equal(read_text(text, strlen(text)), TR_OK);
    assert_int_equal(out->setup.order_count, 0);
    assert_int_equal(scenario_warn(out, NULL, diags), 0);
    drop_reader();
}

static void test_no_weight_left(void **state)
{
    (void)state;
    char text[SAMPLE_CAP] = "";
    char criteria[2048] = "";
    setup_reader();
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        (void)tr_append(criteria, sizeof criteria, "%s'%s': {'weight': 0}", i == 0 ? "{" : ", ",
                        scenario_criterion_look((scenario_criterion)i)->key);
    }
    (void)tr_append(criteria, sizeof criteria, "}");
    sample_change("{'order': {'weight': 6}}", criteria, text);
    assert_int_equal(read_text(text, strlen(text)), TR_INVALID);
    assert_string_equal(diags->item[0].path, "$.rubric.criteria");
    drop_reader();
}

/* Seeded damage: whatever comes out, it never crashes, and a refusal always says something. */
static void test_random_damage(void **state)
{
    (void)state;
    enum { ROUNDS = 20000 };
    uint32_t seed = 20240917;
    size_t size = 0;
    setup_reader();
    char *text = sample_file(SAMPLE_SCENARIOS[0], &size);
    char *copy = malloc(size);
    assert_non_null(copy);
    for (int round = 0; round < ROUNDS; round++) {
        memcpy(copy, text, size);
        for (int flip = 0; flip <= round % 4; flip++) {
            seed = seed * 1664525U + 1013904223U;
            copy[(seed >> 8U) % size] = (char)(seed >> 24U);
        }
        const tr_result result = read_text(copy, size);
        assert_true(result == TR_OK || diags->errors > 0);
        assert_true(result != TR_OK || diags->errors == 0);
    }
    free(copy);
    free(text);
    drop_reader();
}

static void test_limits(void **state)
{
    (void)state;
    enum { TOO_LARGE = SCENARIO_MAX_FILE + 1 };
    char text[SAMPLE_CAP] = "";
    char story[SCENARIO_STORY_CAP + 64];
    setup_reader();
    char *large = malloc(TOO_LARGE);
    assert_non_null(large);
    memset(large, ' ', TOO_LARGE);
    assert_int_equal(read_text(large, TOO_LARGE), TR_LIMIT);
    memset(large, '[', TOO_LARGE);
    assert_int_equal(read_text(large, SCENARIO_MAX_FILE), TR_LIMIT); /* depth */
    large[0] = '[';
    for (int i = 1; i < SCENARIO_MAX_FILE; i++) {
        large[i] = ",0"[i % 2];
    }
    assert_int_equal(read_text(large, SCENARIO_MAX_FILE), TR_LIMIT); /* entries */
    assert_non_null(strstr(diags->item[0].text, "512"));
    size_t used = 0; /* lists of 100 in a list of 100: values */
    for (int i = 0; i < 100; i++) {
        large[used++] = i == 0 ? '[' : ',';
        for (int n = 0; n < 100; n++) {
            large[used++] = n == 0 ? '[' : ',';
            large[used++] = '0';
        }
        large[used++] = ']';
    }
    large[used++] = ']';
    assert_int_equal(read_text(large, used), TR_LIMIT);
    assert_non_null(strstr(diags->item[0].text, "8192"));
    free(large);

    memset(story, 0, sizeof story);
    (void)tr_copy(story, sizeof story, "'story': '");
    const size_t head = strlen(story);
    memset(story + head, 'a', SCENARIO_STORY_CAP - 1);
    story[head + SCENARIO_STORY_CAP - 1] = '\'';
    sample_change("'story': 'For the tests'", story, text);
    assert_int_equal(read_text(text, strlen(text)), TR_OK);
    story[head + SCENARIO_STORY_CAP - 1] = 'a';
    story[head + SCENARIO_STORY_CAP] = '\'';
    sample_change("'story': 'For the tests'", story, text);
    assert_int_equal(read_text(text, strlen(text)), TR_INVALID);
    assert_string_equal(diags->item[0].path, "$.story");
    assert_non_null(strstr(diags->item[0].text, "at most 1199 bytes"));
    drop_reader();
}

static void test_mark_and_nul(void **state)
{
    (void)state;
    char text[SAMPLE_CAP] = "";
    char marked[SAMPLE_CAP] = "";
    setup_reader();
    (void)tr_copy(text, sizeof text, SAMPLE);
    sample_quote(text);
    (void)tr_format(marked, sizeof marked, "\xEF\xBB\xBF%s", text);
    assert_int_equal(read_text(marked, strlen(marked)), TR_OK);      /* byte order mark */
    assert_int_equal(read_text(text, strlen(text) + 1), TR_INVALID); /* the NUL behind it is no part of it */
    assert_int_equal(read_text("", 0), TR_INVALID);
    assert_int_equal(read_text("null", 4), TR_INVALID);
    assert_int_equal(read_text("[]", 2), TR_INVALID);
    assert_int_equal(read_text("{}", 2), TR_INVALID);
    char *nul = strstr(text, "sample");
    assert_non_null(nul);
    nul[2] = '\0';
    assert_int_equal(read_text(text, sizeof SAMPLE - 1), TR_INVALID);
    drop_reader();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_sample_is_sound),
        cmocka_unit_test(test_each_break_is_named),
        cmocka_unit_test(test_place_by_hand),
        cmocka_unit_test(test_all_errors_in_file_order),
        cmocka_unit_test(test_out_is_untouched_by_errors),
        cmocka_unit_test(test_every_truncation),
        cmocka_unit_test(test_nothing_to_do),
        cmocka_unit_test(test_no_weight_left),
        cmocka_unit_test(test_random_damage),
        cmocka_unit_test(test_limits),
        cmocka_unit_test(test_mark_and_nul),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
