/* An attempt under way: doing, taking back, finishing, and the disk that fails meanwhile. */
#define _POSIX_C_SOURCE 200809L
#include "tautrow/record/attempt.h"

#include "sample.h"

#include <signal.h>
#include <stdio.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

static sample_kit own;

static int set_up(void **state)
{
    (void)state;
    char folder[] = "/tmp/tautrow-attempt-XXXXXX";
    if (mkdtemp(folder) == NULL) {
        return 1;
    }
    sample_open(&own, folder);
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    const bool is_gone = tr_file_remove(own.path) && rmdir(own.folder) == 0;
    sample_close(&own);
    return is_gone ? 0 : 1;
}

static int clear_path(void **state)
{
    (void)state;
    return tr_file_remove(own.path) ? 0 : 1;
}

static void test_actions_lead_to_the_replayed_state(void **state)
{
    (void)state;
    record_attempt *const attempt = sample_attempt(&own, JOB_PRACTICE);
    assert_true(sample_work(attempt, 10000) > 100);
    const job_action *actions = NULL;
    const size_t count = record_attempt_actions(attempt, &actions);
    const scenario *const what = record_attempt_scenario(attempt);
    assert_int_equal(what->setup.mode, JOB_PRACTICE);
    assert_true(what->setup.seed == 0xFEDCBA9876543210U);
    job_state *const again = malloc(sizeof *again);
    job_trace_entry *const trace = calloc(count, sizeof *trace);
    job_replay(&what->setup, actions, count, again, trace);
    char digest[TR_HASH_TEXT];
    char digest_again[TR_HASH_TEXT];
    sample_hash(attempt, digest);
    tr_hash_text(job_state_hash(&what->setup, again), digest_again);
    assert_string_equal(digest, digest_again);
    const job_trace_entry *const kept = record_attempt_trace(attempt);
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(kept[i].action.verb, trace[i].action.verb);
        assert_int_equal(kept[i].outcome.refusal, trace[i].outcome.refusal);
        assert_near(kept[i].off_centre_n_m, trace[i].off_centre_n_m, 0.0);
        assert_near(kept[i].rail_n, trace[i].rail_n, 0.0);
        for (int row = 0; row < what->setup.structure.row_count; row++) {
            assert_near(kept[i].tension_n[row], trace[i].tension_n[row], 0.0);
        }
    }
    free(trace);
    free(again);
    record_attempt_close(attempt);
}

static void test_finish_grades_once(void **state)
{
    (void)state;
    record_attempt *const attempt = sample_attempt(&own, JOB_ASSESSMENT);
    (void)sample_work(attempt, 10000);
    score_card *const card = calloc(2, sizeof *card);
    record_attempt_finish(attempt, &card[0]);
    assert_true(card[0].is_signed);
    assert_true(card[0].total > 90.0);
    record_attempt_finish(attempt, &card[1]);
    assert_near(card[1].total, card[0].total, 0.0);
    const job_action *actions = NULL;
    const size_t before = record_attempt_actions(attempt, &actions);
    assert_int_equal(sample_do(attempt, JOB_DO_WIPE, 999999, 0, 0, 0).refusal, JOB_REFUSE_SIGNED);
    assert_int_equal(record_attempt_actions(attempt, &actions), before);
    free(card);
    record_attempt_close(attempt);
}

static void test_undo_is_for_guided_attempts(void **state)
{
    (void)state;
    for (int mode = JOB_GUIDED; mode <= JOB_ASSESSMENT; mode++) {
        record_attempt *const attempt = sample_attempt(&own, (job_mode)mode);
        const job_action *actions = NULL;
        char before[TR_HASH_TEXT];
        char after[TR_HASH_TEXT];
        assert_false(record_attempt_undo(attempt, 0)); /* nothing to take back */
        (void)sample_work(attempt, 30);
        sample_hash(attempt, before);
        assert_int_equal(sample_work(attempt, 1), 1);
        assert_int_equal(record_attempt_undo(attempt, 500000), mode == JOB_GUIDED);
        sample_hash(attempt, after);
        assert_int_equal(record_attempt_actions(attempt, &actions), mode == JOB_GUIDED ? 30 : 31);
        assert_int_equal(strcmp(before, after) == 0, mode == JOB_GUIDED);
        record_attempt_close(attempt);
    }
}

static void test_undo_to_the_start(void **state)
{
    (void)state;
    record_attempt *const attempt = sample_attempt(&own, JOB_GUIDED);
    char before[TR_HASH_TEXT];
    char after[TR_HASH_TEXT];
    sample_hash(attempt, before);
    for (int i = sample_work(attempt, 20); i > 0; i--) {
        assert_true(record_attempt_undo(attempt, 0));
    }
    sample_hash(attempt, after);
    assert_string_equal(before, after);
    assert_false(record_attempt_undo(attempt, 0));
    score_card card;
    record_attempt_finish(attempt, &card);
    assert_false(record_attempt_undo(attempt, 0));
    record_attempt_close(attempt);
}

static void test_unsound_actions_never_reach_the_job(void **state)
{
    (void)state;
    record_attempt *const attempt = sample_attempt(&own, JOB_PRACTICE);
    const job_action *actions = NULL;
    char before[TR_HASH_TEXT];
    char after[TR_HASH_TEXT];
    sample_hash(attempt, before);
    assert_int_equal(sample_do(attempt, JOB_DO_MARK_ROW, 1, 39, 0, 0).refusal, JOB_REFUSE_UNSOUND);
    assert_int_equal(sample_do(attempt, JOB_DO_MARK_ROW, 1, 0.5, 0, 0).refusal, JOB_REFUSE_UNSOUND);
    assert_int_equal(sample_do(attempt, JOB_DO_MARK_ROW, 1, 1, (double)NAN, 0).refusal, JOB_REFUSE_UNSOUND);
    assert_int_equal(sample_do(attempt, JOB_VERB_COUNT, 1, 0, 0, 0).refusal, JOB_REFUSE_UNSOUND);
    sample_hash(attempt, after);
    assert_string_equal(before, after);
    assert_int_equal(record_attempt_actions(attempt, &actions), 0);
    record_attempt_close(attempt);
}

static void test_time_never_falls(void **state)
{
    (void)state;
    record_attempt *const attempt = sample_attempt(&own, JOB_PRACTICE);
    (void)sample_do(attempt, JOB_DO_OPEN_SHEET, -5, 0, 0, 0);
    (void)sample_do(attempt, JOB_DO_GLASSES, 700, 1, 0, 0);
    (void)sample_do(attempt, JOB_DO_WIPE, 300, 0, 0, 0);
    (void)sample_do(attempt, JOB_DO_WIPE, INT64_MAX, 0, 0, 0);
    const job_action *actions = NULL;
    assert_int_equal(record_attempt_actions(attempt, &actions), 4);
    assert_int_equal(actions[0].at_ms, 0);
    assert_int_equal(actions[1].at_ms, 700);
    assert_int_equal(actions[2].at_ms, 700);
    assert_true(actions[3].at_ms == 1000000000000);
    record_attempt_close(attempt);
}

static void test_there_is_an_end_to_actions(void **state)
{
    (void)state;
    record_attempt *const attempt = sample_attempt(&own, JOB_GUIDED);
    const job_action *actions = NULL;
    for (int i = 0; i < RECORD_MAX_ACTIONS; i++) {
        assert_int_not_equal(sample_do(attempt, JOB_DO_GLASSES, i, 1, 0, 0).refusal, JOB_REFUSE_UNSOUND);
    }
    assert_int_equal(sample_do(attempt, JOB_DO_GLASSES, 1, 1, 0, 0).refusal, JOB_REFUSE_UNSOUND);
    assert_false(record_attempt_undo(attempt, 1));
    assert_int_equal(record_attempt_actions(attempt, &actions), RECORD_MAX_ACTIONS);
    record_attempt_close(attempt);
}

static void read_back(const record_attempt *attempt, bool is_finished)
{
    size_t size = 0;
    char *const text = sample_read(own.path, &size);
    record_attempt *again = NULL;
    record_reading *const reading = malloc(sizeof *reading);
    char digest[TR_HASH_TEXT];
    char digest_again[TR_HASH_TEXT];
    const tr_result result = record_attempt_read(text, size, &again, reading, &own.diags);
    if (result != TR_OK) {
        print_error("%s\n", reading->problem);
    }
    assert_int_equal(result, TR_OK);
    sample_hash(attempt, digest);
    sample_hash(again, digest_again);
    assert_string_equal(digest, digest_again);
    assert_int_equal(reading->is_finished, is_finished);
    assert_string_equal(record_attempt_about(again)->trainee, record_attempt_about(attempt)->trainee);
    record_attempt_close(again);
    free(reading);
    free(text);
}

static void test_every_action_is_on_disk_at_once(void **state)
{
    (void)state;
    record_attempt *const attempt = sample_journal(&own, JOB_GUIDED);
    for (int i = 0; i < 25; i++) {
        assert_int_equal(sample_work(attempt, 1), 1);
        read_back(attempt, false);
    }
    assert_true(record_attempt_undo(attempt, 0));
    read_back(attempt, false);
    (void)sample_work(attempt, 1000);
    score_card card;
    record_attempt_finish(attempt, &card);
    read_back(attempt, true);
    record_attempt_close(attempt);
}

static void test_a_journal_may_start_late(void **state)
{
    (void)state;
    char why[SAMPLE_WHY] = "";
    record_attempt *const attempt = sample_attempt(&own, JOB_GUIDED);
    (void)sample_work(attempt, 10);
    assert_true(record_attempt_undo(attempt, 0));
    assert_int_equal(record_attempt_journal(attempt, own.path, why, sizeof why), TR_OK);
    read_back(attempt, false);
    (void)sample_work(attempt, 10);
    assert_true(record_attempt_undo(attempt, 0));
    score_card card;
    record_attempt_finish(attempt, &card);
    read_back(attempt, true);
    record_attempt_close(attempt);
}

static void test_places_that_cannot_take_a_journal(void **state)
{
    (void)state;
    static const char *const places[] = {"/", "/no/such/place/journal.jsonl", "/dev/full", "/dev/null"};
    record_attempt *const attempt = sample_attempt(&own, JOB_PRACTICE);
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        char why[SAMPLE_WHY] = "";
        assert_int_equal(record_attempt_journal(attempt, places[i], why, sizeof why), TR_IO);
        assert_non_null(strstr(why, places[i]));
        bool journal_ok = true;
        const job_action action = job_make(JOB_DO_WIPE, 5, NULL, 0);
        (void)record_attempt_do(attempt, &action, &journal_ok); /* goes on unrecorded */
        assert_true(journal_ok);                                /* and there is no journal to be wrong */
    }
    record_attempt_close(attempt);
}

/* A child that may write so many bytes to a file and no more, as on a full disk. Its exit code says where it went
 * wrong. */
static void in_child(void (*work)(void))
{
    fflush(NULL);
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        signal(SIGXFSZ, SIG_IGN);
        work();
        _exit(0);
    }
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), 0);
}

static void disk_has(rlim_t bytes)
{
    struct rlimit limit;
    if (getrlimit(RLIMIT_FSIZE, &limit) != 0) {
        _exit(2);
    }
    limit.rlim_cur = bytes;
    if (setrlimit(RLIMIT_FSIZE, &limit) != 0) {
        _exit(2);
    }
}

static void leave_unless(bool is_right, int code)
{
    if (!is_right) {
        _exit(code);
    }
}

static void fill_the_disk_and_free_it(void)
{
    record_attempt *const attempt = sample_journal(&own, JOB_PRACTICE);
    size_t size = 0;
    free(sample_read(own.path, &size));
    disk_has(size + 300); /* three lines or so */
    bool journal_ok = true;
    int failed = 0;
    for (int i = 0; i < 60; i++) {
        const job_action action = job_make(JOB_DO_WIPE, i, NULL, 0);
        (void)record_attempt_do(attempt, &action, &journal_ok);
        failed += journal_ok ? 0 : 1;
    }
    leave_unless(failed > 50 && failed < 60, 3);
    free(sample_read(own.path, &size));
    disk_has(RLIM_INFINITY);
    const job_action action = job_make(JOB_DO_GLASSES, 70, &(double){1.0}, 1);
    (void)record_attempt_do(attempt, &action, &journal_ok);
    leave_unless(journal_ok, 4);
    record_attempt_close(attempt);
}

static void test_a_full_disk_loses_nothing(void **state)
{
    (void)state;
    in_child(fill_the_disk_and_free_it);
    size_t size = 0;
    char *const text = sample_read(own.path, &size);
    record_attempt *attempt = NULL;
    record_reading *const reading = malloc(sizeof *reading);
    const job_action *actions = NULL;
    assert_int_equal(record_attempt_read(text, size, &attempt, reading, &own.diags), TR_OK);
    assert_int_equal(record_attempt_actions(attempt, &actions), 61);
    assert_int_equal(actions[60].verb, JOB_DO_GLASSES);
    assert_false(reading->has_torn_end);
    record_attempt_close(attempt);
    free(reading);
    free(text);
}

static void stay_on_a_full_disk(void)
{
    record_attempt *const attempt = sample_journal(&own, JOB_PRACTICE);
    size_t size = 0;
    free(sample_read(own.path, &size));
    disk_has(size + 300);
    (void)sample_do(attempt, JOB_DO_GLASSES, 1, 1, 0, 0);
    for (int i = 0; i < 60; i++) {
        (void)sample_do(attempt, JOB_DO_WIPE, i, 0, 0, 0);
    }
    score_card card;
    record_attempt_finish(attempt, &card);
    record_attempt_close(attempt);
}

static void test_a_disk_that_stays_full_leaves_whole_lines(void **state)
{
    (void)state;
    in_child(stay_on_a_full_disk);
    size_t size = 0;
    char *const text = sample_read(own.path, &size);
    record_reading *const reading = malloc(sizeof *reading);
    assert_int_equal(text[size - 1], '\n');
    assert_int_equal(record_attempt_read(text, size, NULL, reading, &own.diags), TR_OK);
    assert_true(reading->lines >= 3);
    assert_false(reading->is_finished);
    free(reading);
    free(text);
}

static void have_no_room_for_the_header(void)
{
    char why[SAMPLE_WHY] = "";
    record_attempt *const attempt = sample_attempt(&own, JOB_PRACTICE);
    disk_has(100);
    leave_unless(record_attempt_journal(attempt, own.path, why, sizeof why) == TR_IO, 3);
    leave_unless(strstr(why, own.path) != NULL && !tr_file_exists(own.path), 4);
    disk_has(RLIM_INFINITY);
    leave_unless(record_attempt_journal(attempt, own.path, why, sizeof why) == TR_OK, 5);
    record_attempt_close(attempt);
}

static void test_no_room_for_the_header(void **state)
{
    (void)state;
    in_child(have_no_room_for_the_header);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_actions_lead_to_the_replayed_state),
        cmocka_unit_test(test_finish_grades_once),
        cmocka_unit_test(test_undo_is_for_guided_attempts),
        cmocka_unit_test(test_undo_to_the_start),
        cmocka_unit_test(test_unsound_actions_never_reach_the_job),
        cmocka_unit_test(test_time_never_falls),
        cmocka_unit_test(test_there_is_an_end_to_actions),
        cmocka_unit_test_setup(test_every_action_is_on_disk_at_once, clear_path),
        cmocka_unit_test_setup(test_a_journal_may_start_late, clear_path),
        cmocka_unit_test(test_places_that_cannot_take_a_journal),
        cmocka_unit_test_setup(test_a_full_disk_loses_nothing, clear_path),
        cmocka_unit_test_setup(test_a_disk_that_stays_full_leaves_whole_lines, clear_path),
        cmocka_unit_test_setup(test_no_room_for_the_header, clear_path),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
