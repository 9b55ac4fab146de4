/* Words by key: what a file may look like, what is wrong with it and where, and filling in. */
#include "tautrow/base/lang.h"

#include "tautrow/base/text.h"

#include "near.h"

#include <stdlib.h>
#include <string.h>

static tr_result add(tr_lang *lang, const char *text, tr_diags *diags)
{
    tr_diags_clear(diags);
    return tr_lang_add(lang, text, strlen(text), diags);
}

static void test_words_are_found(void **state)
{
    (void)state;
    tr_diags diags;
    tr_lang *const lang = tr_lang_open("es");
    assert_string_equal(tr_lang_code(lang), "es");
    assert_int_equal(add(lang,
                         "\xEF\xBB\xBF# a comment\r\n\r\n  stage.drill.now =  Taladre a escuadra  \r\n"
                         "b = uno = dos\n  # indented comment\na=x\\ny\\\\z\n",
                         &diags),
                     TR_OK);
    assert_int_equal(add(lang, "c.last = fin", &diags), TR_OK); /* a second file; no line feed at its end */
    assert_string_equal(tr_word(lang, "stage.drill.now"), "Taladre a escuadra");
    assert_string_equal(tr_word(lang, "b"), "uno = dos");
    assert_string_equal(tr_word(lang, "a"), "x\ny\\z");
    assert_string_equal(tr_word(lang, "c.last"), "fin");
    assert_string_equal(tr_word(lang, "missing"), "missing");
    assert_null(tr_word_or_null(lang, "missing"));
    assert_string_equal(tr_word(NULL, "key"), "key");
    assert_int_equal(tr_lang_count(lang), 4);
    assert_string_equal(tr_lang_key(lang, 0), "a");
    assert_string_equal(tr_lang_key(lang, 3), "stage.drill.now");
    assert_null(tr_lang_key(lang, 4));
    tr_lang_close(lang);
    tr_lang_close(NULL);
}

static void test_errors_name_their_line(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int line;
        const char *why;
    } cases[] = {
        {"a = b\nno equals here\n", 2, "needs an equals sign"},
        {"a = b\n\n\na = c\n", 4, "already in line 1 of this file"},
        {"old = again\n", 1, "already in line 2 of another file"},
        {"= text\n", 1, "is no key"},
        {"Big.Key = text\n", 1, "is no key"},
        {"two words = text\n", 1, "is no key"},
        {"a =\n", 1, "has no text"},
        {"# x\na = b\\t\n", 2, "a backslash"},
        {"a = b\\", 1, "a backslash"},
        {"ok = fine\n\nbad = \xFF\xFE\n", 3, "is not UTF-8"},
        {"ok = fine\nbad = \xED\xA0\x80\n", 2, "is not UTF-8"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        tr_diags diags;
        tr_lang *const lang = tr_lang_open("en");
        assert_int_equal(add(lang, "# first\nold = word\n", &diags), TR_OK);
        assert_int_equal(add(lang, cases[i].text, &diags), TR_INVALID);
        assert_int_equal(diags.count, 1);
        assert_int_equal(diags.item[0].line, cases[i].line);
        assert_non_null(strstr(diags.item[0].text, cases[i].why));
        assert_int_equal(tr_lang_count(lang), 1); /* nothing of the bad file stays */
        assert_string_equal(tr_word(lang, "old"), "word");
        tr_lang_close(lang);
    }
}

static void test_all_errors_are_listed(void **state)
{
    (void)state;
    tr_diags diags;
    tr_lang *const lang = tr_lang_open("en");
    assert_int_equal(add(lang, "a\nb = 1\nb = 2\nc = \n", &diags), TR_INVALID);
    assert_int_equal(diags.count, 3);
    assert_int_equal(diags.item[2].line, 4);
    assert_int_equal(tr_lang_add(lang, "a = b\0c = d", 11, &diags), TR_INVALID);
    tr_lang_close(lang);
}

static void test_limits(void **state)
{
    (void)state;
    tr_diags diags;
    tr_lang *const lang = tr_lang_open("en");
    char *const text = malloc(TR_LANG_MAX_FILE + 1);
    text[0] = '\0';
    size_t used = 0;
    for (int i = 0; i < TR_LANG_MAX_WORDS; i++) {
        tr_format(text + used, 40, "key.%d = text %d\n", (i * 769) % TR_LANG_MAX_WORDS,
                  i); /* 769 is odd: all come up */
        used += strlen(text + used);
    }
    assert_int_equal(add(lang, text, &diags), TR_OK);
    assert_int_equal(tr_lang_count(lang), TR_LANG_MAX_WORDS);
    for (int i = 0; i < TR_LANG_MAX_WORDS; i++) {
        char key[32];
        char expected[32];
        tr_format(key, sizeof key, "key.%d", (i * 769) % TR_LANG_MAX_WORDS);
        tr_format(expected, sizeof expected, "text %d", i);
        assert_string_equal(tr_word(lang, key), expected);
    }
    assert_int_equal(add(lang, "one.more = word", &diags), TR_INVALID);
    assert_int_equal(diags.item[0].line, 1);
    assert_non_null(strstr(diags.item[0].text, "room"));
    memset(text, ' ', TR_LANG_MAX_FILE + 1);
    assert_int_equal(tr_lang_add(lang, text, TR_LANG_MAX_FILE + 1, &diags), TR_LIMIT);
    assert_int_equal(tr_lang_add(lang, text, TR_LANG_MAX_FILE, &diags), TR_OK);
    free(text);
    tr_lang_close(lang);
}

static void test_filling_in(void **state)
{
    (void)state;
    tr_diags diags;
    tr_lang *const lang = tr_lang_open("en");
    assert_int_equal(add(lang, "row = Row {1} of {0}, again {1}\nodd = {x} {} { {2} {12} {0\n", &diags), TR_OK);
    const char *const args[] = {"nine", "{0}"};
    char out[64];
    tr_lang_fill(lang, "row", args, 2, out, sizeof out);
    assert_string_equal(out, "Row {0} of nine, again {0}"); /* what is filled in is not filled again */
    tr_lang_fill(lang, "odd", args, 2, out, sizeof out);
    assert_string_equal(out, "{x} {} { {2} {12} {0");
    tr_lang_fill(NULL, "key {0}", args, 1, out, sizeof out);
    assert_string_equal(out, "key nine");
    char small[8];
    tr_lang_fill(lang, "row", args, 2, small, sizeof small);
    assert_string_equal(small, "Row {0}");
    tr_lang_fill(lang, "row", NULL, 0, out, sizeof out);
    assert_string_equal(out, "Row {1} of {0}, again {1}");
    tr_lang_close(lang);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_words_are_found),
        cmocka_unit_test(test_errors_name_their_line),
        cmocka_unit_test(test_all_errors_are_listed),
        cmocka_unit_test(test_limits),
        cmocka_unit_test(test_filling_in),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
