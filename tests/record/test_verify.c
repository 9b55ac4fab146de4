/* Reading back: journals that were cut, changed, reordered, forged, or left by a killed program. */
#define _POSIX_C_SOURCE 200809L
#include "sample.h"

#include "journal.h"

#include "tautrow/base/rng.h"

#include <stdio.h>
#include <unistd.h>

static sample_kit own;
static record_reading reading; /* too large for a stack frame of each test */

/* A short finished guided attempt with an undo in it, and its journal. */
static char *whole;
static size_t whole_size;

static int set_up(void **state)
{
    (void)state;
    char folder[] = "/tmp/tautrow-verify-XXXXXX";
    if (mkdtemp(folder) == NULL) {
        return 1;
    }
    sample_open(&own, folder);
    record_attempt *const attempt = sample_journal(&own, JOB_GUIDED);
    (void)sample_work(attempt, 12);
    (void)record_attempt_undo(attempt, 0);
    (void)sample_do(attempt, JOB_DO_SIGN, 60000, 0, 0, 0); /* refused: it counts all the same */
    (void)sample_do(attempt, JOB_DO_DRILL, 61000, 1, 0.0312345678901, 0.01);
    score_card card;
    record_attempt_finish(attempt, &card);
    record_attempt_close(attempt);
    whole = sample_read(own.path, &whole_size);
    return tr_file_remove(own.path) ? 0 : 1;
}

static int tear_down(void **state)
{
    (void)state;
    const bool is_gone = tr_file_remove(own.path) && rmdir(own.folder) == 0;
    sample_close(&own);
    free(whole);
    return is_gone ? 0 : 1;
}

static tr_result read_text(const char *text, size_t size, record_attempt **out)
{
    tr_diags_clear(&own.diags);
    return record_attempt_read(text, size, out, &reading, &own.diags);
}

static int count_lines(const char *text, size_t size)
{
    int lines = 0;
    for (size_t i = 0; i < size; i++) {
        lines += text[i] == '\n' ? 1 : 0;
    }
    return lines;
}

static void is_broken_in(const char *text, size_t size, int line, const char *why)
{
    const tr_result result = read_text(text, size, NULL);
    if ((result != TR_BROKEN && result != TR_INVALID) || reading.broken_line != line ||
        strstr(reading.problem, why) == NULL) {
        print_error("result %d, line %d (should be %d): \"%s\" should say \"%s\"\n", result, reading.broken_line, line,
                    reading.problem, why);
        fail();
    }
}

static void test_a_whole_journal(void **state)
{
    (void)state;
    record_attempt *attempt = NULL;
    const job_action *actions = NULL;
    assert_int_equal(read_text(whole, whole_size, &attempt), TR_OK);
    assert_int_equal(reading.lines, 17); /* header, 12 actions, undo, 2 actions, closing */
    assert_int_equal(reading.broken_line, 0);
    assert_string_equal(reading.problem, "");
    assert_true(reading.is_finished);
    assert_false(reading.has_torn_end);
    assert_false(reading.score_differs);
    assert_near(reading.claimed_total, reading.card.total, 1e-9);
    assert_int_equal(own.diags.count, 0);
    assert_int_equal(record_attempt_actions(attempt, &actions), 13);
    assert_int_equal(actions[11].verb, JOB_DO_SIGN);
    assert_int_not_equal(record_attempt_trace(attempt)[11].outcome.refusal, JOB_REFUSE_NONE);
    assert_near(actions[12].arg[JOB_DRILL_DEPTH], 0.0312345678901, 0.0);
    assert_int_equal(record_attempt_state(attempt)->action_count, 13);
    record_attempt_close(attempt);
}

/* The next byte to try: every one, but in the long texts inside the header, which are all alike to the reader, one of 61. */
static size_t next_byte(size_t at)
{
    const char *const end = memchr(whole, '\n', whole_size);
    const size_t header = (size_t)(end - whole);
    return at > 1000 && at + 400 < header ? at + 61 : at + 1;
}

static void test_cut_at_every_byte(void **state)
{
    (void)state;
    for (size_t cut = 0; cut < whole_size; cut = next_byte(cut)) {
        char *const part = malloc(cut + 1); /* of its own, so that a read past the end is seen */
        memcpy(part, whole, cut);
        record_attempt *attempt = NULL;
        const int lines = count_lines(whole, cut);
        const bool is_torn = cut > 0 && whole[cut - 1] != '\n';
        char *const exact = realloc(part, cut > 0 ? cut : 1);
        const tr_result result = read_text(exact, cut, &attempt);
        assert_int_equal(reading.lines, lines);
        assert_int_equal(reading.has_torn_end, is_torn);
        assert_false(reading.is_finished);
        if (lines == 0) {
            assert_int_equal(result, TR_INVALID);
            assert_null(attempt);
            assert_int_equal(own.diags.errors, 1);
        } else {
            const job_action *actions = NULL;
            assert_int_equal(result, TR_OK);
            assert_int_equal(record_attempt_actions(attempt, &actions), lines <= 13 ? lines - 1 : lines - 3);
        }
        record_attempt_close(attempt);
        free(exact);
    }
}

static void change_is_found(size_t at, char to, int line)
{
    const char right = whole[at];
    if (to != right) {
        whole[at] = to;
        is_broken_in(whole, whole_size, line, "line");
        whole[at] = right;
    }
}

static void test_every_changed_byte_is_found(void **state)
{
    (void)state;
    int line = 1;
    for (size_t i = 0; i < whole_size; i = next_byte(i)) {
        const unsigned char right = (unsigned char)whole[i];
        change_is_found(i, (char)(right ^ 0x01U), line);
        change_is_found(i, '\n', line);
        if (i % 9 == 0) { /* more kinds of change at some places: each costs a reading */
            change_is_found(i, (char)(right ^ 0x20U), line);
            change_is_found(i, (char)(right ^ 0x80U), line);
            change_is_found(i, '\0', line);
        }
        line += whole[i] == '\n' ? 1 : 0;
    }
    assert_int_equal(read_text(whole, whole_size, NULL), TR_OK); /* put back as it was */
}

/* Start of a line, counted from 1; the one behind the last is the end. */
static size_t line_start(int line)
{
    size_t at = 0;
    for (int i = 1; i < line; i++) {
        const char *const end = memchr(whole + at, '\n', whole_size - at);
        at = (size_t)(end - whole) + 1;
    }
    return at;
}

/* Writes the journal with its lines in the given order; 0 ends it. */
static size_t arrange(const int *order, char *out)
{
    size_t used = 0;
    for (; *order != 0; order++) {
        const size_t start = line_start(*order);
        const size_t size = line_start(*order + 1) - start;
        memcpy(out + used, whole + start, size);
        used += size;
    }
    return used;
}

static void test_moved_lines_are_found(void **state)
{
    (void)state;
    static const struct {
        int order[24];
        int line; /* 0: verifies */
    } cases[] = {
        {{1, 2, 3, 4}, 0},
        {{2, 3, 4}, 1}, /* header gone */
        {{1, 3, 4}, 2}, /* dropped */
        {{1, 2, 3, 5, 6}, 4},
        {{1, 2, 3, 4, 17}, 5}, /* all but the end */
        {{1, 17}, 2},
        {{1, 2, 2, 3}, 3}, /* doubled */
        {{1, 1, 2, 3}, 2},
        {{1, 3, 2, 4}, 2}, /* swapped */
        {{1, 2, 3, 4, 6, 5}, 5},
        {{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 17}, 18}, /* behind the end */
        {{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 2}, 18},
    };
    char *const text = malloc(2 * whole_size);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const size_t size = arrange(cases[i].order, text);
        if (cases[i].line == 0) {
            assert_int_equal(read_text(text, size, NULL), TR_OK);
        } else {
            is_broken_in(text, size, cases[i].line, "line");
        }
    }
    free(text);
}

static void test_nothing_may_stand_behind_the_end(void **state)
{
    (void)state;
    static const char *const more[] = {"\n", " ", "x", "{}\n", "{\"n\":16"};
    char *const text = malloc(whole_size + 16);
    memcpy(text, whole, whole_size);
    for (size_t i = 0; i < sizeof more / sizeof more[0]; i++) {
        memcpy(text + whole_size, more[i], strlen(more[i]));
        is_broken_in(text, whole_size + strlen(more[i]), 18, "behind the closing line");
    }
    free(text);
}

/* ---- forged journals: the check digits are right, the rest is not ----------------------------------------------- */

typedef struct forgery {
    char link[RECORD__LINK_TEXT];
    size_t used;
    char text[65536];
} forgery;

static void forge(forgery *out, const char *line)
{
    tr_copy(out->text + out->used, sizeof out->text - out->used, line);
    record__seal(out->text + out->used, sizeof out->text - out->used - 1, out->link);
    out->used += strlen(out->text + out->used);
    out->text[out->used++] = '\n';
}

static void forge_header(forgery *out, job_mode mode, const char *id, const char *scenario_text)
{
    const record_about about = {.mode = mode, .seed = 3, .version = "0.1.0"};
    size_t cap = 0;
    char *const line = record__write_header(&about, id, scenario_text, strlen(scenario_text),
                                            scenario_catalogue_text(own.catalogue), &cap);
    *out = (forgery){.used = 0};
    forge(out, line);
    free(line);
}

#define WIPE_1   "{\"n\":1,\"ms\":5,\"do\":\"wipe\""
#define UNDO_2   "{\"n\":2,\"ms\":9,\"do\":\"undo\""
#define NO_STATE "0000000000000000000000000000000000000000000000000000000000000000"

static void test_forged_lines(void **state)
{
    (void)state;
    static const struct {
        const char *lines[4];
        const char *why;
        job_mode mode;
        int line; /* 0: verifies */
    } cases[] = {
        {{WIPE_1}, "", JOB_PRACTICE, 0},
        {{"{\"n\":2,\"ms\":1,\"do\":\"wipe\""}, "not the next in number", JOB_PRACTICE, 2},
        {{WIPE_1, WIPE_1}, "not the next in number", JOB_PRACTICE, 3},
        {{WIPE_1, "{\"n\":2,\"ms\":4,\"do\":\"wipe\""}, "is earlier", JOB_PRACTICE, 3},
        {{WIPE_1, UNDO_2}, "only guided", JOB_PRACTICE, 3},
        {{WIPE_1, UNDO_2}, "only guided", JOB_ASSESSMENT, 3},
        {{WIPE_1, UNDO_2}, "", JOB_GUIDED, 0},
        {{"{\"n\":1,\"ms\":5,\"do\":\"undo\""}, "where there is none", JOB_GUIDED, 2},
        {{WIPE_1, UNDO_2, "{\"n\":3,\"ms\":9,\"do\":\"undo\""}, "where there is none", JOB_GUIDED, 4},
        {{WIPE_1, UNDO_2, "{\"n\":3,\"ms\":8,\"do\":\"wipe\""}, "is earlier", JOB_GUIDED, 4},
        {{"{\"n\":1,\"ms\":5,\"do\":\"hang_cable\",\"row\":10"}, "between 1 and 9 as \"row\"", JOB_GUIDED, 2},
        {{WIPE_1 ",\"x\":[[[[[[]]]]]]"}, "does not belong", JOB_GUIDED, 2},
        {{"{\"n\":1,\"ms\":5"}, "neither an action", JOB_GUIDED, 2},
        {{"garbage"}, "is not one JSON object", JOB_GUIDED, 2},
        {{"{\"end\":true,\"ms\":5,\"total\":50,\"passed\":true,\"state\":\"" NO_STATE "\""},
         "another state",
         JOB_GUIDED,
         2},
    };
    forgery *const forged = malloc(sizeof *forged);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        forge_header(forged, cases[i].mode, "soft-porch", own.text);
        for (int line = 0; line < 4 && cases[i].lines[line] != NULL; line++) {
            forge(forged, cases[i].lines[line]);
        }
        if (cases[i].line == 0) {
            assert_int_equal(read_text(forged->text, forged->used, NULL), TR_OK);
        } else {
            is_broken_in(forged->text, forged->used, cases[i].line, cases[i].why);
        }
    }
    free(forged);
}

static void test_a_better_score_is_found(void **state)
{
    (void)state;
    forgery *const forged = malloc(sizeof *forged);
    record_attempt *attempt = NULL;
    record__entry closing = {.kind = RECORD__CLOSING, .total = 100.0, .passed = true};
    forge_header(forged, JOB_PRACTICE, "soft-porch", own.text);
    assert_int_equal(read_text(forged->text, forged->used, &attempt), TR_OK);
    sample_hash(attempt, closing.state);
    record_attempt_close(attempt);
    char line[RECORD__LINE_CAP];
    record__write_entry(&closing, line);
    forge(forged, line);
    is_broken_in(forged->text, forged->used, 2, "another score");
    assert_true(reading.score_differs);
    assert_near(reading.claimed_total, 100.0, 0.0);
    assert_true(reading.card.total < 50.0);
    free(forged);
}

static void test_forged_headers(void **state)
{
    (void)state;
    forgery *const forged = malloc(sizeof *forged);
    forge_header(forged, JOB_PRACTICE, "another-id", own.text);
    is_broken_in(forged->text, forged->used, 1, "names another scenario");
    forge_header(forged, JOB_PRACTICE, "soft-porch", "{\"format\": \"tautrow.scenario/1\"}");
    is_broken_in(forged->text, forged->used, 1, "a scenario or a catalogue that cannot be read");
    assert_true(own.diags.errors > 1); /* what is wrong with the scenario, too */
    *forged = (forgery){.used = 0};
    forge(forged, "{\"format\":\"tautrow.journal/2\",\"x\":1");
    is_broken_in(forged->text, forged->used, 1, "does not know");
    *forged = (forgery){.used = 0};
    forge(forged, "{\"format\":\"tautrow.journal/1\",\"x\":1");
    is_broken_in(forged->text, forged->used, 1, "does not belong there");
    *forged = (forgery){.used = 0};
    forge(forged, "{\"format\":\"tautrow.journal/1\" this is no JSON");
    is_broken_in(forged->text, forged->used, 1, "is not one JSON object");
    *forged = (forgery){.used = 0};
    forge(forged, "{\"format\":\"tautrow.journal/1\"");
    is_broken_in(forged->text, forged->used, 1, "lacks the key");
    free(forged);
}

/* ---- no journals at all ----------------------------------------------------------------------------------------- */

static void test_what_is_no_journal(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "", "\n", "hello\n", "{}\n", "[1]\n", "\0\0\0\n", "{\"format\":\"other\"}\n", "no feed"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        record_attempt *attempt = NULL;
        assert_int_equal(read_text(texts[i], strlen(texts[i]), &attempt), TR_INVALID);
        assert_null(attempt);
        assert_int_equal(own.diags.errors, 1);
    }
}

static void test_huge_and_random_files(void **state)
{
    (void)state;
    const size_t size = (size_t)RECORD_MAX_FILE + 1;
    char *const text = malloc(size);
    memset(text, '[', size);
    assert_int_equal(read_text(text, size, NULL), TR_LIMIT);
    assert_int_equal(own.diags.errors, 1);
    assert_int_equal(read_text(text, size - 1, NULL), TR_INVALID);
    memcpy(text, whole, line_start(2));
    is_broken_in(text, size - 1, 2, "too long"); /* a torn line of 16 MB */
    text[size - 2] = '\n';
    is_broken_in(text, size - 1, 2, "too long");
    memset(text, '\n', size);
    memcpy(text, whole, line_start(3));
    is_broken_in(text, size - 1, 3, "was changed");
    memset(text, '[', size);
    memcpy(text, whole, 64); /* a header that does not end */
    text[size - 2] = '\n';
    is_broken_in(text, size - 1, 1, "too long for a journal");
    tr_rng rng = tr_rng_seed(99);
    for (int round = 0; round < 50; round++) {
        const size_t start = round % 2 == 0 ? 0 : line_start(2 + round % 10);
        memcpy(text, whole, start);
        for (size_t i = start; i < start + 3000; i++) {
            text[i] = (char)(unsigned char)(tr_rng_next(&rng) & 0xFFU);
        }
        assert_int_not_equal(read_text(text, start + 3000, NULL), TR_OK);
    }
    free(text);
}

/* ---- going on after a kill -------------------------------------------------------------------------------------- */

static void write_file(const char *text, size_t size)
{
    char why[SAMPLE_WHY] = "";
    assert_int_equal(tr_file_write(own.path, text, size, why, sizeof why), TR_OK);
}

/* A run without a break, and the same run killed at every seventh byte and gone on with: same file in the
 * end. */
static void test_a_continued_run_is_the_same_run(void **state)
{
    (void)state;
    const job_action *all = NULL;
    record_attempt *model = NULL;
    assert_int_equal(read_text(whole, whole_size, &model), TR_OK);
    const size_t count = record_attempt_actions(model, &all);
    /* from behind the twelfth action on: it is taken back, so the actions no longer tell of it */
    for (size_t cut = line_start(14); cut < whole_size; cut += 7) {
        record_attempt *attempt = NULL;
        const job_action *kept = NULL;
        write_file(whole, cut);
        tr_diags_clear(&own.diags);
        assert_int_equal(record_attempt_continue(own.path, &attempt, &reading, &own.diags), TR_OK);
        assert_int_equal(reading.has_torn_end, whole[cut - 1] != '\n');
        if (reading.lines == 13) {
            assert_true(record_attempt_undo(attempt, 0));
        }
        const size_t done = record_attempt_actions(attempt, &kept);
        for (size_t i = done; i < count; i++) {
            bool journal_ok = false;
            (void)record_attempt_do(attempt, &all[i], &journal_ok);
            assert_true(journal_ok);
        }
        score_card card;
        record_attempt_finish(attempt, &card);
        record_attempt_close(attempt);
        size_t size = 0;
        char *const text = sample_read(own.path, &size);
        assert_int_equal(size, whole_size);
        assert_memory_equal(text, whole, size);
        free(text);
    }
    record_attempt_close(model);
}

/* The careful installer, killed after every action with half a line behind it. */
static void test_killed_after_every_action(void **state)
{
    (void)state;
    char expected[TR_HASH_TEXT];
    char found[TR_HASH_TEXT];
    record_attempt *attempt = sample_attempt(&own, JOB_PRACTICE);
    const int count = sample_work(attempt, 10000);
    sample_hash(attempt, expected);
    record_attempt_close(attempt);

    assert_true(tr_file_remove(own.path));
    attempt = sample_journal(&own, JOB_PRACTICE);
    for (int i = 0; i < count; i++) {
        assert_int_equal(sample_work(attempt, 1), 1);
        record_attempt_close(attempt);
        FILE *const file = fopen(own.path, "a");
        fputs("{\"n\":7", file);
        fclose(file);
        tr_diags_clear(&own.diags);
        assert_int_equal(record_attempt_continue(own.path, &attempt, &reading, &own.diags), TR_OK);
        assert_true(reading.has_torn_end);
    }
    sample_hash(attempt, found);
    assert_string_equal(found, expected);
    record_attempt_close(attempt);
}

static void test_a_finished_journal_is_left_as_it_is(void **state)
{
    (void)state;
    record_attempt *attempt = NULL;
    write_file(whole, whole_size);
    tr_diags_clear(&own.diags);
    assert_int_equal(record_attempt_continue(own.path, &attempt, &reading, &own.diags), TR_OK);
    assert_true(reading.is_finished);
    assert_int_equal(sample_do(attempt, JOB_DO_WIPE, 99999, 0, 0, 0).refusal, JOB_REFUSE_SIGNED);
    record_attempt_close(attempt);
    size_t size = 0;
    char *const text = sample_read(own.path, &size);
    assert_int_equal(size, whole_size);
    assert_memory_equal(text, whole, size);
    free(text);
}

static void test_what_cannot_be_gone_on_with(void **state)
{
    (void)state;
    record_attempt *attempt = NULL;
    assert_true(tr_file_remove(own.path));
    tr_diags_clear(&own.diags);
    assert_int_equal(record_attempt_continue(own.path, &attempt, &reading, &own.diags), TR_IO);
    assert_int_equal(own.diags.errors, 1);
    assert_false(tr_file_exists(own.path));
    assert_int_equal(record_attempt_continue(own.folder, &attempt, &reading, &own.diags), TR_IO);
    assert_non_null(strstr(own.diags.item[1].text, "is a folder"));
    write_file(whole + line_start(2), whole_size - line_start(2));
    assert_int_equal(record_attempt_continue(own.path, &attempt, &reading, &own.diags), TR_INVALID);
    assert_null(attempt);
    whole[line_start(4) + 3] ^= 1;
    write_file(whole, whole_size);
    whole[line_start(4) + 3] ^= 1;
    assert_int_equal(record_attempt_continue(own.path, &attempt, &reading, &own.diags), TR_BROKEN);
    assert_int_equal(reading.broken_line, 4);
    assert_null(attempt);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_whole_journal),
        cmocka_unit_test(test_cut_at_every_byte),
        cmocka_unit_test(test_every_changed_byte_is_found),
        cmocka_unit_test(test_moved_lines_are_found),
        cmocka_unit_test(test_nothing_may_stand_behind_the_end),
        cmocka_unit_test(test_forged_lines),
        cmocka_unit_test(test_a_better_score_is_found),
        cmocka_unit_test(test_forged_headers),
        cmocka_unit_test(test_what_is_no_journal),
        cmocka_unit_test(test_huge_and_random_files),
        cmocka_unit_test(test_a_continued_run_is_the_same_run),
        cmocka_unit_test(test_killed_after_every_action),
        cmocka_unit_test(test_a_finished_journal_is_left_as_it_is),
        cmocka_unit_test(test_what_cannot_be_gone_on_with),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
