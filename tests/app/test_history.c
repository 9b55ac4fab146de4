/* The past: journals are graded once, kept results are believed only while nothing has changed, and advice comes from
 * the right person's attempts. */
#include "near.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "practice.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

typedef struct past {
    char folder[512];
    scenario_catalogue *catalogue;
    app_history history;
} past;

static char *read_file(const char *path, size_t *size)
{
    char why[TR_TEXT_CAP] = "";
    char *text = NULL;
    if (tr_file_read(path, RECORD_MAX_FILE, &text, size, why, sizeof why) != TR_OK) {
        fail_msg("%s", why);
    }
    return text;
}

static void write_file(const char *path, const char *text, size_t size)
{
    char why[TR_TEXT_CAP] = "";
    assert_int_equal(tr_file_write(path, text, size, why, sizeof why), TR_OK);
}

static void path_of(const past *p, const char *name, char out[1024])
{
    assert_true(tr_format(out, 1024, "%s/%s", p->folder, name));
}

/* A golden journal under another name, less its last `less` bytes. */
static void put(const past *p, const char *golden, const char *name, size_t less)
{
    char from[1024];
    char to[1024];
    size_t size = 0;
    (void)tr_format(from, sizeof from, "%s/tests/golden/%s", TAUTROW_SOURCE, golden);
    path_of(p, name, to);
    char *text = read_file(from, &size);
    write_file(to, text, size - less);
    free(text);
}

static int set_up(void **state)
{
    static past p;
    char why[TR_TEXT_CAP];
    char path[1024];
    tr_diags *diags = calloc(1, sizeof *diags);
    memset(&p, 0, sizeof p);
    (void)tr_format(p.folder, sizeof p.folder, "%s/tests/history", TAUTROW_BINARY);
    (void)tr_folder_make(p.folder, why, sizeof why);
    static const char *const names[] = {"a.jsonl", "b.jsonl", "results.json"};
    for (int i = 0; i < 3; i++) {
        path_of(&p, names[i], path);
        (void)tr_file_remove(path);
    }
    p.catalogue = app_catalogue_load(TAUTROW_SOURCE, diags);
    free(diags);
    put(&p, "careless.jsonl", "a.jsonl", 0);
    put(&p, "careful.jsonl", "b.jsonl", 0);
    *state = &p;
    return p.catalogue == NULL ? -1 : 0;
}

static int tear_down(void **state)
{
    past *p = *state;
    app_history_close(&p->history);
    scenario_catalogue_close(p->catalogue);
    return 0;
}

/* Opens anew, as the program does at its start; returns how many journals want grading. */
static size_t start(past *p, const char *made_by)
{
    app_history_close(&p->history);
    app_history_open(&p->history, p->folder, made_by, true);
    app_history_look(&p->history);
    return app_history_waiting(&p->history);
}

static void grade_all(past *p)
{
    while (app_history_waiting(&p->history) > 0) {
        (void)app_history_step(&p->history);
    }
}

static const app_result *result_of(const past *p, const char *file)
{
    for (size_t i = 0; i < p->history.count; i++) {
        if (strcmp(p->history.result[i].file, file) == 0) {
            return &p->history.result[i];
        }
    }
    fail_msg("there is no result of %s", file);
    return NULL;
}

static void journals_are_graded_once(void **state)
{
    past *p = *state;
    assert_int_equal(start(p, "one"), 2);
    assert_int_equal(app_history_step(&p->history), 1); /* one a call */
    assert_int_equal(app_history_step(&p->history), 0);
    const app_result first = *result_of(p, "b.jsonl");
    assert_int_equal(first.kind, APP_RESULT_COUNTS);
    assert_true(first.passed && first.total > 90.0);
    assert_string_equal(first.trainee, "Ines Varga");
    assert_true(result_of(p, "a.jsonl")->total < 50.0);
    assert_int_equal(start(p, "one"), 0);
    const app_result again = *result_of(p, "b.jsonl");
    assert_memory_equal(&first, &again, sizeof first); /* not a bit is lost on the way through the file */
}

static void a_changed_journal_is_graded_again(void **state)
{
    past *p = *state;
    (void)start(p, "one");
    grade_all(p);
    put(p, "careful.jsonl", "b.jsonl", 400); /* torn off before its end */
    assert_int_equal(start(p, "one"), 1);
    grade_all(p);
    assert_int_equal(result_of(p, "b.jsonl")->kind, APP_RESULT_OPEN);
    assert_int_equal(start(p, "one"), 0); /* that it is not finished is kept, too */
    put(p, "careful.jsonl", "b.jsonl", 0);
    app_history_look(&p->history); /* the same within one run of the program */
    assert_int_equal(app_history_waiting(&p->history), 1);
    grade_all(p);
    assert_int_equal(result_of(p, "b.jsonl")->kind, APP_RESULT_COUNTS);
}

static void a_forged_journal_does_not_count(void **state)
{
    past *p = *state;
    char path[1024];
    size_t size = 0;
    path_of(p, "b.jsonl", path);
    char *text = read_file(path, &size);
    char *name = strstr(text, "Ines Varga");
    assert_non_null(name);
    name[0] = 'A';
    write_file(path, text, size);
    free(text);
    (void)start(p, "one");
    grade_all(p);
    assert_int_equal(result_of(p, "b.jsonl")->kind, APP_RESULT_BROKEN);
    assert_int_equal(result_of(p, "a.jsonl")->kind, APP_RESULT_COUNTS);
}

static void journals_that_are_gone_are_forgotten(void **state)
{
    past *p = *state;
    char path[1024];
    (void)start(p, "one");
    grade_all(p);
    path_of(p, "a.jsonl", path);
    assert_true(tr_file_remove(path));
    assert_int_equal(start(p, "one"), 0);
    assert_int_equal(p->history.count, 1);
}

static void results_of_others_or_torn_ones_are_not_believed(void **state)
{
    past *p = *state;
    char path[1024];
    size_t size = 0;
    (void)start(p, "one");
    grade_all(p);
    assert_int_equal(start(p, "another version"), 2);
    assert_int_equal(start(p, "one"), 0);
    path_of(p, "results.json", path);
    char *text = read_file(path, &size);
    write_file(path, text, size / 2);
    free(text);
    assert_int_equal(start(p, "one"), 2);
    grade_all(p);
    assert_int_equal(start(p, "one"), 0);
}

static void a_picture_writes_nothing(void **state)
{
    past *p = *state;
    char path[1024];
    app_history_open(&p->history, p->folder, "one", false);
    app_history_look(&p->history);
    grade_all(p);
    path_of(p, "results.json", path);
    assert_false(tr_file_exists(path));
}

/* ---- advice ----------------------------------------------------------------------------------------------------- */

static void advice_is_for_the_one_who_is_here(void **state)
{
    past *p = *state;
    char why[TR_TEXT_CAP] = "";
    const app_context context = {NULL, TAUTROW_SOURCE, NULL, p->catalogue};
    app_shelf *shelf = calloc(1, sizeof *shelf);
    static app_practice practice;
    app_shelf_fill(shelf, &context);
    assert_true(shelf->offer_count > 0);
    assert_true(app_practice_open(&practice, &context, shelf, p->folder, false, why, sizeof why));
    while (app_practice_step(&practice, "Tom Harrow")) {
    }
    const view_progress *progress = &practice.progress;
    assert_int_equal(progress->attempts, 1);
    assert_true(progress->next_count > 0);
    const view_skill *weakest = &progress->skill[progress->next[0]];
    assert_true(weakest->exercise >= 0 && weakest->known < 0.5);
    const double careless = progress->skill[SCORE_SKILL_CRIMPING].known;
    (void)app_practice_step(&practice, "Ines Varga");
    assert_int_equal(progress->attempts, 1);
    assert_true(progress->skill[SCORE_SKILL_CRIMPING].known > careless);
    assert_int_equal(progress->skill[SCORE_SKILL_CRIMPING].dot_count, 1);
    (void)app_practice_step(&practice, "");
    assert_int_equal(progress->attempts, 0);
    app_practice_close(&practice);
    app_shelf_empty(shelf);
    free(shelf);
}

static bool takes(const char *from, const char *to)
{
    static char text[16384];
    char why[TR_TEXT_CAP] = "";
    score_tracings tracings;
    size_t size = 0;
    char *shipped = read_file(TAUTROW_SOURCE "/assets/mastery.json", &size);
    char *at = strstr(shipped, from);
    assert_non_null(at);
    (void)tr_format(text, sizeof text, "%.*s%s%s", (int)(at - shipped), shipped, to, at + strlen(from));
    free(shipped);
    return app_tracings_read(text, strlen(text), &tracings, why, sizeof why) == (why[0] == '\0') && why[0] == '\0';
}

static void parameters_are_whole_and_sound(void **state)
{
    (void)state;
    assert_true(takes("\"skills\"", "\"skills\""));
    assert_false(takes("\"guess\": 0.25", "\"guess\": 0.5"));
    assert_false(takes("\"crimping\"", "\"crimpin\""));
    assert_false(takes("\"slip\": 0.1", "\"slip\": \"little\""));
    assert_false(takes("{", "")); /* not JSON */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(journals_are_graded_once, set_up, tear_down),
        cmocka_unit_test_setup_teardown(a_changed_journal_is_graded_again, set_up, tear_down),
        cmocka_unit_test_setup_teardown(a_forged_journal_does_not_count, set_up, tear_down),
        cmocka_unit_test_setup_teardown(journals_that_are_gone_are_forgotten, set_up, tear_down),
        cmocka_unit_test_setup_teardown(results_of_others_or_torn_ones_are_not_believed, set_up, tear_down),
        cmocka_unit_test_setup_teardown(a_picture_writes_nothing, set_up, tear_down),
        cmocka_unit_test_setup_teardown(advice_is_for_the_one_who_is_here, set_up, tear_down),
        cmocka_unit_test(parameters_are_whole_and_sound),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
