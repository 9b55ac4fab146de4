/* The list of findings, and the check on ourselves. */
#define _POSIX_C_SOURCE 200809L
#include "tautrow/base/assert.h"
#include "tautrow/base/result.h"
#include "tautrow/base/text.h"

#include "near.h"

#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

static void test_findings_are_kept_with_their_place(void **state)
{
    (void)state;
    tr_diags diags;
    tr_diags_clear(&diags);
    tr_diags_add(&diags, TR_ERROR, 3, 14, "$.rows.count", "must be %d or less", 40);
    tr_diags_add(&diags, TR_WARNING, 0, 0, NULL, "the post bends");
    assert_int_equal(diags.count, 2);
    assert_int_equal(diags.errors, 1);
    assert_int_equal(diags.item[0].severity, TR_ERROR);
    assert_int_equal(diags.item[0].line, 3);
    assert_int_equal(diags.item[0].column, 14);
    assert_string_equal(diags.item[0].path, "$.rows.count");
    assert_string_equal(diags.item[0].text, "must be 40 or less");
    assert_string_equal(diags.item[1].path, "");
}

static void test_what_does_not_fit_is_counted(void **state)
{
    (void)state;
    tr_diags diags;
    tr_diags_clear(&diags);
    for (int i = 0; i < TR_MAX_DIAGS + 7; i++) {
        tr_diags_add(&diags, i % 2 == 0 ? TR_ERROR : TR_WARNING, i, 0, "", "finding %d", i);
    }
    assert_int_equal(diags.count, TR_MAX_DIAGS);
    assert_int_equal(diags.dropped, 7);
    assert_int_equal(diags.errors, (TR_MAX_DIAGS + 7 + 1) / 2);
    assert_string_equal(diags.item[TR_MAX_DIAGS - 1].text, "finding 47");
}

static void test_long_texts_end_between_characters(void **state)
{
    (void)state;
    char longish[3 * TR_TEXT_CAP];
    longish[0] = '\0';
    for (int i = 0; i < TR_TEXT_CAP; i++) {
        tr_append(longish, sizeof longish, "\xC3\xB1");
    }
    tr_diags diags;
    tr_diags_clear(&diags);
    tr_diags_add(&diags, TR_ERROR, 1, 1, longish, "x%s", longish);
    assert_int_equal(strlen(diags.item[0].text), TR_TEXT_CAP - 1); /* x and 159 characters of two bytes */
    assert_true(tr_utf8_valid(diags.item[0].text, strlen(diags.item[0].text)));
    assert_int_equal(strlen(diags.item[0].path), TR_PATH_CAP - 2);
    assert_true(tr_utf8_valid(diags.item[0].path, strlen(diags.item[0].path)));
}

static void test_an_assert_stops_the_program(void **state)
{
    (void)state;
    TR_ASSERT(1 + 1 == 2);
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        (void)freopen("/dev/null", "w", stderr);
        TR_ASSERT(1 + 1 == 3);
        _exit(0);
    }
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_false(WIFEXITED(status) && WEXITSTATUS(status) == 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_findings_are_kept_with_their_place),
        cmocka_unit_test(test_what_does_not_fit_is_counted),
        cmocka_unit_test(test_long_texts_end_between_characters),
        cmocka_unit_test(test_an_assert_stops_the_program),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
