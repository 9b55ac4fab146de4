/* Changing single values of a JSON text. */
#include "json_edit.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void check_set(const char *text, const char *path, const char *value, const char *wanted)
{
    char *got = app_json_set(text, path, value);
    assert_non_null(got);
    assert_string_equal(got, wanted);
    free(got);
}

static void a_value_is_replaced_and_nothing_else(void **state)
{
    (void)state;
    check_set("{\"a\": 1,  \"b\" :\t\"x\" , \"c\": [1, {\"b\": 2}]}\n", "b", "7",
              "{\"a\": 1,  \"b\" :\t7 , \"c\": [1, {\"b\": 2}]}\n");
    check_set("{\"a\": {\"b\": {\"c\": true}}, \"c\": 0}", "a.b.c", "null",
              "{\"a\": {\"b\": {\"c\": null}}, \"c\": 0}");
    check_set("{\"a\": {\"b\": 1}}", "a", "\"x\"", "{\"a\": \"x\"}");
    check_set("{\"a\":-1.5e3}", "a", "2", "{\"a\":2}");
}

/* Braces, quotes and keys inside texts are none. */
static void texts_do_not_mislead(void **state)
{
    (void)state;
    check_set("{\"s\": \"} \\\"b\\\": 1, \\\\\", \"b\": 2}", "b", "3", "{\"s\": \"} \\\"b\\\": 1, \\\\\", \"b\": 3}");
    check_set("\xEF\xBB\xBF {\"bb\": 1, \"b\": 2}", "b", "3", "\xEF\xBB\xBF {\"bb\": 1, \"b\": 3}");
}

static void a_missing_key_is_added(void **state)
{
    (void)state;
    check_set("{\"a\": {\n    \"b\": 1\n  }}", "a.c", "2", "{\"a\": {\n    \"c\": 2,\n    \"b\": 1\n  }}");
    check_set("{\"a\": {}}", "a.c", "2", "{\"a\": {\"c\": 2}}");
    check_set("{}", "c", "2", "{\"c\": 2}");
}

static void what_is_not_there_is_not_made_up(void **state)
{
    (void)state;
    app_span span;
    assert_null(app_json_set("{\"a\": 1}", "b.c", "2"));
    assert_null(app_json_set("{\"a\": 1}", "a.c", "2"));
    assert_false(app_json_find("[1]", "a", &span));
    assert_false(app_json_find("{\"a\": \"{\\\"b\\\": 1}\"}", "a.b", &span));
    assert_true(app_json_find("{\"a\": [1, 2]}", "a", &span));
    assert_int_equal(span.from, 6);
    assert_int_equal(span.to, 12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_value_is_replaced_and_nothing_else),
        cmocka_unit_test(texts_do_not_mislead),
        cmocka_unit_test(a_missing_key_is_added),
        cmocka_unit_test(what_is_not_there_is_not_made_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
