/* Bounded text, UTF-8, numbers, spelling distance. */
#include "tautrow/base/text.h"

#include "tautrow/base/rng.h"

#include "near.h"

#include <float.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static void test_copy_cuts_between_characters(void **state)
{
    (void)state;
    char out[6];
    assert_true(tr_copy(out, sizeof out, "abcde"));
    assert_string_equal(out, "abcde");
    assert_false(tr_copy(out, sizeof out, "abcdef"));
    assert_string_equal(out, "abcde");
    assert_false(tr_copy(out, sizeof out, "abcd\xC3\xB1"));
    assert_string_equal(out, "abcd");
    assert_false(tr_copy(out, sizeof out, "ab\xF0\x9F\x94\xA9"));
    assert_string_equal(out, "ab");
    assert_false(tr_copy(out, 1, "a"));
    assert_string_equal(out, "");
    assert_true(tr_copy(out, 1, ""));
}

static void test_format_and_append(void **state)
{
    (void)state;
    char out[12];
    assert_true(tr_format(out, sizeof out, "row %d", 7));
    assert_true(tr_append(out, sizeof out, " of %d", 9));
    assert_string_equal(out, "row 7 of 9");
    assert_false(tr_append(out, sizeof out, "x\xC2\xB0"));
    assert_string_equal(out, "row 7 of 9x");
    assert_false(tr_append(out, sizeof out, "y"));
    assert_string_equal(out, "row 7 of 9x");
    assert_true(tr_append(out, sizeof out, "%s", ""));
}

/* Well and ill-formed sequences after The Unicode Standard, table 3-7, at the edges of each range. */
static void test_utf8_edges(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        size_t len, whole;
    } cases[] = {
        {"", 0, 0},
        {"\x7F", 1, 1},
        {"\x80", 1, 0},
        {"\xBF", 1, 0},
        {"\xC0\x80", 2, 0},
        {"\xC1\xBF", 2, 0},
        {"\xC2\x80", 2, 2},
        {"\xC2\x7F", 2, 0},
        {"\xC2\xC0", 2, 0},
        {"\xDF\xBF", 2, 2},
        {"\xDF", 1, 0},
        {"\xE0\x9F\xBF", 3, 0},
        {"\xE0\xA0\x80", 3, 3},
        {"\xED\x9F\xBF", 3, 3},
        {"\xED\xA0\x80", 3, 0}, /* surrogate */
        {"\xEF\xBF\xBF", 3, 3},
        {"\xE2\x88", 2, 0},
        {"\xE2\x88\x41", 3, 0},
        {"\xF0\x8F\xBF\xBF", 4, 0},
        {"\xF0\x90\x80\x80", 4, 4},
        {"\xF4\x8F\xBF\xBF", 4, 4},
        {"\xF4\x90\x80\x80", 4, 0},
        {"\xF5\x80\x80\x80", 4, 0},
        {"\xFF", 1, 0},
        {"ab\xC3\xB1\xE2\x88", 6, 4},
        {"a\xFFz", 3, 1},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(tr_utf8_whole(cases[i].text, cases[i].len), cases[i].whole);
        assert_int_equal(tr_utf8_valid(cases[i].text, cases[i].len), cases[i].whole == cases[i].len);
    }
    assert_false(tr_utf8_valid("a\0b", 3));
}

static void same_after_round_trip(double value)
{
    char text[40];
    tr_double_text(value, text, sizeof text);
    double back = 0.0;
    assert_int_equal(tr_double_parse(text, &back), strlen(text));
    assert_memory_equal(&back, &value, sizeof value);
}

static void test_doubles_round_trip(void **state)
{
    (void)state;
    static const double edges[] = {
        0.0,     -0.0,    0.1,    1.0 / 3.0,          1e22,    1e23, DBL_MAX, DBL_MIN, 5e-324,
        -2.5e-7, 0.03175, 4096.0, 9007199254740993.0, -DBL_MAX};
    for (size_t i = 0; i < sizeof edges / sizeof edges[0]; i++) {
        same_after_round_trip(edges[i]);
    }
    tr_rng rng = tr_rng_seed(2031);
    for (int i = 0; i < 20000; i++) {
        const uint64_t bits = tr_rng_next(&rng);
        double value = 0.0;
        memcpy(&value, &bits, sizeof value);
        if (isfinite(value)) {
            same_after_round_trip(value);
        }
    }
}

static void test_doubles_are_short(void **state)
{
    (void)state;
    static const struct {
        double value;
        const char *text;
    } cases[] = {{0.1, "0.1"}, {0.03175, "0.03175"}, {-1250.0, "-1250"}, {1e300, "1e+300"}, {0.0, "0"}, {-0.0, "-0"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[40];
        tr_double_text(cases[i].value, text, sizeof text);
        assert_string_equal(text, cases[i].text);
    }
}

static void test_parse_takes_the_number_and_no_more(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        size_t length;
        double value;
    } cases[] = {
        {"12 %", 2, 12}, {"-3.5e2x", 6, -350}, {"+1", 2, 1},     {"1.", 1, 1},   {"1.e5", 1, 1},
        {"2e", 1, 2},    {"2e+", 1, 2},        {"2E-1", 4, 0.2}, {"0x10", 1, 0}, {"007", 3, 7},
        {"1,5", 1, 1},   {"1e-400", 6, 0},     {"1_000", 1, 1},  {"5-1", 1, 5},  {"1.5.2", 3, 1.5},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double value = 99.0;
        assert_int_equal(tr_double_parse(cases[i].text, &value), cases[i].length);
        assert_near(value, cases[i].value, 0.0);
    }
    static const char *const none[] = {"", " 1", ".5", "-", "+-1", "nan", "inf", "1e999", "-1e999", "e5", "abc"};
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++) {
        double value = 99.0;
        assert_int_equal(tr_double_parse(none[i], &value), 0);
        assert_near(value, 99.0, 0.0);
    }
    char lots[2000];
    memset(lots, '9', sizeof lots - 1);
    lots[sizeof lots - 1] = '\0';
    double value = 99.0;
    assert_int_equal(tr_double_parse(lots, &value), 0);
}

/* Where the machine has a locale with a decimal comma, it must change nothing. */
static void test_no_locale_changes_numbers(void **state)
{
    (void)state;
    static const char *const names[] = {"de_DE.UTF-8", "de_DE.utf8", "es_ES.UTF-8", "fr_FR.UTF-8", "de_DE", "es_ES"};
    bool is_set = false;
    for (size_t i = 0; i < sizeof names / sizeof names[0] && !is_set; i++) {
        is_set = setlocale(LC_NUMERIC, names[i]) != NULL;
    }
    if (!is_set) {
        print_message("no locale with a decimal comma on this machine\n");
        skip();
    }
    char text[40];
    tr_double_text(1.25, text, sizeof text);
    double value = 0.0;
    const size_t length = tr_double_parse("2.5", &value);
    setlocale(LC_NUMERIC, "C");
    assert_string_equal(text, "1.25");
    assert_int_equal(length, 3);
    assert_near(value, 2.5, 0.0);
}

static void test_edit_distance(void **state)
{
    (void)state;
    static const struct {
        const char *a, *b;
        int distance;
    } cases[] = {
        {"", "", 0},
        {"row", "row", 0},
        {"", "row", 3},
        {"rows", "row", 1},
        {"kitten", "sitting", 3},
        {"ab", "ba", 2},
        {"a\xC3\xB1o", "ano", 1},
        {"heigth", "height", 2},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(tr_edit_distance(cases[i].a, cases[i].b), cases[i].distance);
        assert_int_equal(tr_edit_distance(cases[i].b, cases[i].a), cases[i].distance);
    }
    char lots[200];
    memset(lots, 'x', sizeof lots - 1);
    lots[sizeof lots - 1] = '\0';
    assert_int_equal(tr_edit_distance(lots, ""), 32);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_copy_cuts_between_characters),
        cmocka_unit_test(test_format_and_append),
        cmocka_unit_test(test_utf8_edges),
        cmocka_unit_test(test_doubles_round_trip),
        cmocka_unit_test(test_doubles_are_short),
        cmocka_unit_test(test_parse_takes_the_number_and_no_more),
        cmocka_unit_test(test_no_locale_changes_numbers),
        cmocka_unit_test(test_edit_distance),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
