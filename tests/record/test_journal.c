/* The lines of a journal, one by one: what is written reads back to the last bit; what does not belong is named. */
#include "journal.h"

#include "sample.h"

#include "tautrow/base/rng.h"

static void write_sealed(const record__entry *entry, char out[RECORD__LINE_CAP])
{
    char link[RECORD__LINK_TEXT] = "";
    record__write_entry(entry, out);
    record__seal(out, RECORD__LINE_CAP, link);
}

static double random_value(tr_rng *rng, const job_field *field, int row_count)
{
    const double share = tr_rng_uniform(rng);
    switch (field->type) {
    case JOB_TYPE_ROW:
        return floor(share * row_count);
    case JOB_TYPE_CHOICE:
    case JOB_TYPE_FLAG:
        return floor(field->least + share * (field->most - field->least + 0.999));
    default:
        return field->least + share * (field->most - field->least);
    }
}

/* Every action of the table, with random numbers and at both ends of its ranges. */
static void test_every_action_reads_back(void **state)
{
    (void)state;
    enum { ROWS = 40, ROUNDS = 60 };
    tr_rng rng = tr_rng_seed(1);
    for (int verb = 0; verb < JOB_VERB_COUNT; verb++) {
        const job_verb_info *const info = job_verb_look((job_verb)verb);
        for (int round = 0; round < ROUNDS; round++) {
            record__entry entry = {.kind = RECORD__ACTION, .number = round + 1, .action = {.verb = (job_verb)verb}};
            entry.action.at_ms = (int64_t)(tr_rng_uniform(&rng) * 1e12);
            for (int i = 0; i < info->field_count; i++) {
                const job_field *const field = &info->field[i];
                entry.action.arg[i] = round == 0   ? field->least
                                      : round == 1 ? field->most
                                                   : random_value(&rng, field, ROWS);
            }
            char text[RECORD__LINE_CAP];
            char why[200] = "";
            record__entry back;
            write_sealed(&entry, text);
            if (!record__read_entry(text, strlen(text), ROWS, &back, why, sizeof why)) {
                print_error("%s: %s\n", text, why);
                fail();
            }
            assert_int_equal(back.kind, RECORD__ACTION);
            assert_int_equal(back.number, entry.number);
            assert_int_equal(back.action.verb, verb);
            assert_true(back.action.at_ms == entry.action.at_ms);
            assert_memory_equal(back.action.arg, entry.action.arg, sizeof entry.action.arg);
        }
    }
}

static void test_other_lines_read_back(void **state)
{
    (void)state;
    record__entry entry = {.kind = RECORD__UNDO, .number = 7, .action = {.at_ms = 9000}};
    record__entry back;
    char text[RECORD__LINE_CAP];
    char why[200] = "";
    write_sealed(&entry, text);
    assert_memory_equal(text, "{\"n\":7,\"ms\":9000,\"do\":\"undo\",\"h\":\"", 34);
    assert_true(record__read_entry(text, strlen(text), 9, &back, why, sizeof why));
    assert_int_equal(back.kind, RECORD__UNDO);
    assert_int_equal(back.number, 7);

    entry = (record__entry){.kind = RECORD__CLOSING, .action = {.at_ms = 12}, .total = 91.25, .passed = true};
    memset(entry.state, 'a', TR_HASH_TEXT - 1);
    write_sealed(&entry, text);
    assert_memory_equal(text, "{\"end\":true,\"ms\":12,\"total\":91.25,\"passed\":true,\"state\":\"aaaa", 61);
    assert_true(record__read_entry(text, strlen(text), 9, &back, why, sizeof why));
    assert_int_equal(back.kind, RECORD__CLOSING);
    assert_near(back.total, 91.25, 0.0);
    assert_true(back.passed);
    assert_string_equal(back.state, entry.state);
}

static void test_lines_look_as_written_in_the_docs(void **state)
{
    (void)state;
    const double args[] = {2, 0.032, 0, -0.01, 3, 0.0005};
    record__entry entry = {.kind = RECORD__ACTION, .number = 1, .action = job_make(JOB_DO_DRILL, 1234, args, 6)};
    char text[RECORD__LINE_CAP];
    record__write_entry(&entry, text);
    assert_string_equal(text, "{\"n\":1,\"ms\":1234,\"do\":\"drill\",\"row\":3,\"depth_m\":0.032,\"pitch_rad\":0,"
                              "\"yaw_rad\":-0.01,\"clearings\":3,\"wander_m\":0.0005");
    entry.action = job_make(JOB_DO_GLASSES, 5, &(double){0}, 1);
    record__write_entry(&entry, text);
    assert_string_equal(text, "{\"n\":1,\"ms\":5,\"do\":\"glasses\",\"on\":false");
}

static void test_bad_lines(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        const char *why;
    } cases[] = {
        {"", "not one JSON object"},
        {"[]", "not one JSON object"},
        {"{", "not one JSON object"},
        {"{}{}", "not one JSON object"},
        {"{} ", "not one JSON object"},
        {"null", "not one JSON object"},
        {"\xFF{}", "not UTF-8"},
        {"{}", "neither an action nor the closing line"},
        {"{\"n\":1,\"ms\":1,\"h\":\"\"}", "neither an action nor the closing line"},
        {"{\"n\":1,\"ms\":1,\"do\":5,\"h\":\"\"}", "must have a text as \"do\""},
        {"{\"n\":1,\"ms\":1,\"do\":\"fly\",\"h\":\"\"}", "unknown action: \"fly\""},
        {"{\"n\":1,\"ms\":1,\"do\":\"0123456789012345678901234567890123456789\",\"h\":\"\"}", "more than 31 bytes"},
        {"{\"n\":1,\"ms\":1,\"do\":\"wipe\"}", "lacks the key \"h\""},
        {"{\"n\":1,\"ms\":1,\"do\":\"wipe\",\"h\":\"\",\"row\":1}", "does not belong there: \"row\""},
        {"{\"n\":1,\"ms\":1,\"do\":\"undo\",\"h\":\"\",\"row\":1}", "does not belong there: \"row\""},
        {"{\"n\":1,\"ms\":1,\"do\":\"wipe\",\"h\":\"\",\"ms\":2}", "the key \"ms\" twice"},
        {"{\"n\":0,\"ms\":1,\"do\":\"wipe\",\"h\":\"\"}", "as \"n\""},
        {"{\"n\":20001,\"ms\":1,\"do\":\"wipe\",\"h\":\"\"}", "as \"n\""},
        {"{\"n\":1.5,\"ms\":1,\"do\":\"wipe\",\"h\":\"\"}", "whole number between 1 and 20000 as \"n\""},
        {"{\"n\":\"1\",\"ms\":1,\"do\":\"wipe\",\"h\":\"\"}", "as \"n\""},
        {"{\"n\":1,\"ms\":-1,\"do\":\"wipe\",\"h\":\"\"}", "as \"ms\""},
        {"{\"n\":1,\"ms\":1e13,\"do\":\"wipe\",\"h\":\"\"}", "as \"ms\""},
        {"{\"n\":1,\"ms\":1e999,\"do\":\"wipe\",\"h\":\"\"}", "as \"ms\""},
        {"{\"n\":1,\"ms\":1,\"do\":\"hang_cable\",\"h\":\"\"}", "lacks the key \"row\""},
        {"{\"n\":1,\"ms\":1,\"do\":\"hang_cable\",\"row\":0,\"h\":\"\"}", "between 1 and 9 as \"row\""},
        {"{\"n\":1,\"ms\":1,\"do\":\"hang_cable\",\"row\":10,\"h\":\"\"}", "between 1 and 9 as \"row\""},
        {"{\"n\":1,\"ms\":1,\"do\":\"hang_cable\",\"row\":2.5,\"h\":\"\"}", "between 1 and 9 as \"row\""},
        {"{\"n\":1,\"ms\":1,\"do\":\"hang_cable\",\"row\":null,\"h\":\"\"}", "between 1 and 9 as \"row\""},
        {"{\"n\":1,\"ms\":1,\"do\":\"glasses\",\"on\":1,\"h\":\"\"}", "true or false as \"on\""},
        {"{\"n\":1,\"ms\":1,\"do\":\"wait_days\",\"days\":3651,\"h\":\"\"}", "number between 0.1 and 3650 as \"days\""},
        {"{\"n\":1,\"ms\":1,\"do\":\"take_bit\",\"bit\":1.5,\"h\":\"\"}", "whole number between 0 and 7 as \"bit\""},
        {"{\"end\":true}", "lacks the key \"ms\""},
        {"{\"end\":false,\"ms\":1,\"total\":1,\"passed\":true,\"state\":\"\",\"h\":\"\"}", "true as \"end\""},
        {"{\"end\":true,\"ms\":1,\"total\":101,\"passed\":true,\"state\":\"\",\"h\":\"\"}", "as \"total\""},
        {"{\"end\":true,\"ms\":1,\"total\":1,\"passed\":0,\"state\":\"\",\"h\":\"\"}", "as \"passed\""},
        {"{\"end\":true,\"ms\":1,\"total\":1,\"passed\":true,\"state\":\"A0\",\"h\":\"\"}", "64 hexadecimal digits"},
        {"{\"end\":true,\"ms\":1,\"total\":1,\"passed\":true,\"state\":\"\",\"n\":1,\"h\":\"\"}",
         "does not belong there: \"n\""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        record__entry entry;
        char why[200] = "";
        const bool is_read = record__read_entry(cases[i].text, strlen(cases[i].text), 9, &entry, why, sizeof why);
        if (is_read || strstr(why, cases[i].why) == NULL) {
            print_error("%s: read %d, \"%s\" should say \"%s\"\n", cases[i].text, is_read, why, cases[i].why);
            fail();
        }
    }
}

static char *write_header(const char *scenario_text, size_t size, const record_about *about)
{
    size_t cap = 0;
    char link[RECORD__LINK_TEXT] = "";
    char *const text = record__write_header(about, "some-id", scenario_text, size, "{}", &cap);
    assert_non_null(text);
    record__seal(text, cap, link);
    assert_true(strlen(text) < cap);
    return text;
}

static void test_headers_read_back(void **state)
{
    (void)state;
    static const char scenario_text[] = "{\r\n\t\"a\\\"b\": \"\xC3\xB1\xF0\x9F\x94\xA9 \x7F\"}\n";
    const record_about about = {.trainee = "O'Hara, \"Bo\" \\ \xC3\x81ngel",
                                .started_utc = "2031-05-02T08:00:00Z",
                                .version = "0.1.0",
                                .mode = JOB_ASSESSMENT,
                                .seed = UINT64_MAX};
    char why[200] = "";
    record__header header;
    char *const text = write_header(scenario_text, strlen(scenario_text), &about);
    assert_null(strchr(text, '\n'));
    assert_true(record__read_header(text, strlen(text), &header, why, sizeof why));
    assert_string_equal(header.scenario_text, scenario_text);
    assert_string_equal(header.id, "some-id");
    assert_string_equal(header.about.trainee, about.trainee);
    assert_string_equal(header.about.started_utc, about.started_utc);
    assert_int_equal(header.about.mode, JOB_ASSESSMENT);
    assert_true(header.about.seed == UINT64_MAX);
    free(header.scenario_text);
    free(header.catalogue_text);
    free(text);
}

/* A scenario of the largest size, all of it characters that grow: the header must still be within its limit. */
static void test_the_largest_header(void **state)
{
    (void)state;
    record_about about = {.mode = JOB_GUIDED};
    memset(about.trainee, '\x01', sizeof about.trainee - 1); /* six characters each */
    memset(about.version, '\x01', sizeof about.version - 1);
    memset(about.started_utc, '\x01', sizeof about.started_utc - 1);
    char *const scenario_text = malloc(SCENARIO_MAX_FILE + 1);
    memset(scenario_text, '\n', SCENARIO_MAX_FILE);
    scenario_text[SCENARIO_MAX_FILE] = '\0';
    char *const text = write_header(scenario_text, SCENARIO_MAX_FILE, &about);
    char why[200] = "";
    record__header header;
    assert_true(strlen(text) <= RECORD_MAX_LINE);
    assert_true(record__read_header(text, strlen(text), &header, why, sizeof why));
    assert_int_equal(strlen(header.scenario_text), SCENARIO_MAX_FILE);
    free(header.scenario_text);
    free(header.catalogue_text);
    free(text);
    free(scenario_text);
}

/* SHA-256 of "{}" is 44136fa3..., by FIPS 180-4. */
#define DIGEST "44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a"
#define HEADER(version, digest, mode, seed, text, more)                                                                \
    "{\"format\":\"tautrow.journal/1\",\"version\":" version ",\"scenario\":\"x\",\"sha256\":\"" digest                \
    "\",\"trainee\":\"\",\"mode\":\"" mode "\",\"seed\":\"" seed "\",\"started\":\"\",\"text\":" text                  \
    ",\"catalogue\":\"\"" more ",\"h\":\"\"}"

static void test_bad_headers(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        const char *why; /* NULL: good */
    } cases[] = {
        {HEADER("\"0.1.0\"", DIGEST, "guided", "0123456789abcdef", "\"{}\"", ""), NULL},
        {HEADER("1", DIGEST, "guided", "0123456789abcdef", "\"{}\"", ""), "must have a text as \"version\""},
        {HEADER("\"much.too.long.a.version\"", DIGEST, "guided", "0123456789abcdef", "\"{}\"", ""),
         "more than 15 bytes"},
        {HEADER("\"\"", "00", "guided", "0123456789abcdef", "\"{}\"", ""), "named by its digest"},
        {HEADER("\"\"", DIGEST, "guided", "0123456789abcdef", "\"{} \"", ""), "named by its digest"},
        {HEADER("\"\"", DIGEST, "guided", "0123456789abcdef", "{}", ""), "must have the scenario as \"text\""},
        {HEADER("\"\"", DIGEST, "Guided", "0123456789abcdef", "\"{}\"", ""), "guided, practice or assessment"},
        {HEADER("\"\"", DIGEST, "guided", "0123456789ABCDEF", "\"{}\"", ""), "16 hexadecimal digits"},
        {HEADER("\"\"", DIGEST, "guided", "123", "\"{}\"", ""), "16 hexadecimal digits"},
        {HEADER("\"\"", DIGEST, "guided", "0123456789abcdef", "\"{}\"", ",\"x\":1"), "does not belong there: \"x\""},
        {HEADER("\"\"", DIGEST, "guided", "0123456789abcdef", "\"{}\"", ",\"text\":\"\""), "the key \"text\" twice"},
        {HEADER("\"\"", DIGEST, "guided", "0123456789abcdef", "\"{}\"", ",\"catalogue\":1"),
         "the key \"catalogue\" twice"},
        {"{\"format\":\"tautrow.journal/1\"}", "lacks the key \"version\""},
        {"{\"format\":\"tautrow.journal/1\"", "not one JSON object"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        record__header header = {.scenario_text = NULL};
        char why[200] = "";
        const bool is_read = record__read_header(cases[i].text, strlen(cases[i].text), &header, why, sizeof why);
        const bool is_right = cases[i].why == NULL ? is_read : !is_read && strstr(why, cases[i].why) != NULL;
        if (!is_right) {
            print_error("%s: read %d, said \"%s\"\n", cases[i].text, is_read, why);
            fail();
        }
        free(header.scenario_text);
        free(header.catalogue_text);
    }
}

/* The rule of the chain, worked by hand with another tool: SHA-256 of "{}" begins 44136fa355b3678a1146ad16f7e8649e. */
static void test_the_chain(void **state)
{
    (void)state;
    char link[RECORD__LINK_TEXT] = "";
    char line[100] = "{}";
    record__seal(line, sizeof line, link);
    assert_string_equal(line, "{},\"h\":\"44136fa355b3678a1146ad16f7e8649e\"}");
    assert_string_equal(link, "44136fa355b3678a1146ad16f7e8649e");
    char by_hand[RECORD__LINK_TEXT];
    record__link("", "44136fa355b3678a1146ad16f7e8649ethen", 36, by_hand);
    char second[100] = "then";
    record__seal(second, sizeof second, link);
    assert_string_equal(link, by_hand);

    char reading[RECORD__LINK_TEXT] = "";
    assert_true(record__unseal(line, strlen(line), reading));
    assert_true(record__unseal(second, strlen(second), reading));
    assert_string_equal(reading, link);
    assert_false(record__unseal(second, strlen(second), reading)); /* not a second time */
    assert_string_equal(reading, link);
    assert_false(record__unseal("short", 5, reading));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_action_reads_back),
        cmocka_unit_test(test_other_lines_read_back),
        cmocka_unit_test(test_lines_look_as_written_in_the_docs),
        cmocka_unit_test(test_bad_lines),
        cmocka_unit_test(test_headers_read_back),
        cmocka_unit_test(test_the_largest_header),
        cmocka_unit_test(test_bad_headers),
        cmocka_unit_test(test_the_chain),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
