/* The debrief saved on paper at the desk: where it lies, that it is what `replay --pdf` writes, and what is said. */
#define _POSIX_C_SOURCE 200809L
#include "desk_bench.h"

#include "desk_attempts.h"
#include "draw_text.h"
#include "tautrow/base/io.h"
#include "window.h"

#define HOME   TAUTROW_BINARY "/paper-home"
#define GOLDEN TAUTROW_SOURCE "/tests/golden/careless.jsonl"

static int make_home(void **state)
{
    (void)state;
    return setenv("XDG_CONFIG_HOME", HOME, 1) | setenv("XDG_DATA_HOME", HOME, 1) |
           setenv("SDL_AUDIODRIVER", "dummy", 1) | setenv("LC_ALL", "en_US.UTF-8", 1);
}

static desk_bench *open_desk(void)
{
    static desk_bench p;
    bench_prepare(&p, false);
    p.options.lang = "en";
    if (!bench_open(&p, "en")) {
        skip();
    }
    return &p;
}

/* And waits until what is said of it stands. */
static void press_p(desk_bench *p)
{
    bench_frames(p, 2);
    bench_key(p, 'P');
    bench_frames(p, 16);
}

static char *bytes_of(const char *path, size_t *size)
{
    char why[TR_TEXT_CAP] = "";
    char *bytes = NULL;
    if (tr_file_read(path, RECORD_MAX_FILE, &bytes, size, why, sizeof why) != TR_OK) {
        fail_msg("%s", why);
    }
    return bytes;
}

/* The file at path is what `replay JOURNAL --pdf` writes. */
static void is_the_paper_of(const desk_bench *p, const char *path, const char *journal)
{
    static record_reading reading;
    static tr_diags diags;
    static const char other[] = TAUTROW_BINARY "/paper-of-replay.pdf";
    char why[TR_TEXT_CAP] = "";
    char digest[TR_HASH_TEXT];
    record_attempt *attempt = NULL;
    size_t size[3] = {0};
    char *text = bytes_of(journal, &size[0]);
    app_digest(text, size[0], digest);
    assert_int_equal(record_attempt_read(text, size[0], &attempt, &reading, &diags), TR_OK);
    assert_int_equal(app_print(&p->context, attempt, &reading.card, digest, other, why, sizeof why), TR_OK);
    char *saved = bytes_of(path, &size[1]);
    char *printed = bytes_of(other, &size[2]);
    assert_int_equal(size[1], size[2]);
    assert_memory_equal(saved, printed, size[1]);
    record_attempt_close(attempt);
    free(text);
    free(saved);
    free(printed);
}

static void a_journal_from_elsewhere_is_printed_among_ones_own(void **state)
{
    (void)state;
    static const char path[] = HOME "/tautrow/attempts/careless.pdf";
    desk_bench *p = open_desk();
    (void)tr_file_remove(path);
    assert_true(app_desk_review(&p->desk, GOLDEN));
    press_p(p);
    assert_true(draw_says(p->desk.draw, "Saved: "));
    is_the_paper_of(p, path, GOLDEN);
    press_p(p); /* again: the same */
    is_the_paper_of(p, path, GOLDEN);
    assert_false(tr_file_exists(TAUTROW_SOURCE "/tests/golden/careless.pdf"));
    bench_close(p);
}

static void an_attempt_of_ones_own_is_printed_beside_its_journal(void **state)
{
    (void)state;
    desk_bench *p = open_desk();
    assert_true(app_desk_start(&p->desk, 0, JOB_PRACTICE, true));
    const job_action sign = job_make(JOB_DO_SIGN, 1000, NULL, 0);
    (void)record_attempt_do(p->desk.attempt, &sign, NULL);
    record_attempt_finish(p->desk.attempt, &p->desk.card);
    assert_true(app__desk_to_debrief(&p->desk));
    char journal[APP_PATH_CAP];
    char path[APP_PATH_CAP];
    (void)tr_copy(journal, sizeof journal, p->desk.journal);
    (void)tr_format(path, sizeof path, "%.*s.pdf", (int)(strlen(journal) - strlen(".jsonl")), journal);
    press_p(p);
    is_the_paper_of(p, path, journal);
    assert_true(tr_file_remove(path) && tr_file_remove(journal));
    bench_close(p);
}

static void what_cannot_be_kept_is_said(void **state)
{
    (void)state;
    desk_bench *p = open_desk();
    assert_true(app_desk_review(&p->desk, GOLDEN));
    (void)tr_copy(p->desk.places.attempts, sizeof p->desk.places.attempts, "/no/such");
    press_p(p);
    assert_true(draw_says(p->desk.draw, "Not saved: /no/such/careless.pdf"));
    p->desk.places.attempts[0] = '\0';
    press_p(p);
    assert_true(draw_says(p->desk.draw, "Not saved: there is no folder"));
    bench_close(p);
}

static void an_attempt_that_was_not_recorded_can_be_printed(void **state)
{
    (void)state;
    static const char path[] = HOME "/tautrow/attempts/20310502T080000Z-soft-porch.pdf";
    desk_bench *p = open_desk();
    (void)tr_file_remove(path);
    assert_true(app_desk_review(&p->desk, GOLDEN));
    p->desk.journal[0] = '\0';
    press_p(p);
    assert_true(tr_file_exists(path));
    assert_true(tr_file_remove(path));
    bench_close(p);
}

#define T(name) cmocka_unit_test(name)
int main(void)
{
    const struct CMUnitTest tests[] = {
        T(a_journal_from_elsewhere_is_printed_among_ones_own),
        T(an_attempt_of_ones_own_is_printed_beside_its_journal),
        T(what_cannot_be_kept_is_said),
        T(an_attempt_that_was_not_recorded_can_be_printed),
    };
    return cmocka_run_group_tests(tests, make_home, NULL);
}
