/* The demonstration on the desk: asked for at the job, left again; the attempt, its clock and where the person stood are as
 * they were. */
#include "desk_bench.h"

static desk_bench *sit_down(void)
{
    static desk_bench b;
    bench_prepare(&b, true);
    if (!bench_open(&b, "en")) {
        skip();
    }
    return &b;
}

static size_t actions_of(const desk_bench *s)
{
    const job_action *all = NULL;
    return record_attempt_actions(s->desk.attempt, &all);
}

static void it_is_opened_and_left_and_the_attempt_is_as_it_was(void **state)
{
    (void)state;
    desk_bench *s = sit_down();
    job_stage stage = JOB_STAGE_READ;
    int row = -1;
    assert_true(app_desk_start(&s->desk, 0, JOB_GUIDED, false));
    app_desk_advance(&s->desk, 9);
    bench_frames(s, 10);
    view_job_at(s->desk.job, &stage, &row);
    const job_stage stage_before = stage;
    const int row_before = row;
    const size_t actions = actions_of(s);
    bench_key(s, 'V');
    assert_int_equal(s->desk.screen, APP_SCREEN_SHOWN);
    const long long clock = s->desk.job_ms;
    bench_frames(s, 60 * 20);
    assert_true(view_shown_steps(s->desk.shown) > 1 || view_shown_is_done(s->desk.shown));
    bench_key(s, VIEW_KEY_ESCAPE);
    assert_int_equal(s->desk.screen, APP_SCREEN_JOB);
    assert_null(s->desk.shown);
    assert_true(s->desk.job_ms - clock <= 40); /* the frames around it */
    assert_int_equal(actions_of(s), actions);
    view_job_at(s->desk.job, &stage, &row);
    assert_true(stage == stage_before && row == row_before);
    bench_frames(s, 5);
    assert_true(s->desk.job_ms > clock);
    bench_close(s);
}

/* A window that is closed in the middle of it leaves nothing behind. */
static void it_may_be_open_when_the_desk_is_closed(void **state)
{
    (void)state;
    desk_bench *s = sit_down();
    assert_true(app_desk_start(&s->desk, 0, JOB_PRACTICE, false));
    bench_key(s, 'V');
    assert_int_equal(s->desk.screen, APP_SCREEN_SHOWN);
    assert_int_equal(record_attempt_state(s->desk.attempt)->hints, 1);
    bench_frames(s, 10);
    bench_close(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_is_opened_and_left_and_the_attempt_is_as_it_was),
        cmocka_unit_test(it_may_be_open_when_the_desk_is_closed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
