/* What the job screen tells, and what it gives not away; where it goes by itself; what it remembers. */
#include "job_hands.h"

/* ---- what the screen tells -------------------------------------------------------------------------------------- */

static void an_assessment_gives_nothing_away(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_ASSESSMENT, JOB_STAGE_TENSION, 0);
    assert_false(draw_says(desk.draw, tr_word(desk.lang, "job.hint")));
    assert_false(draw_says(desk.draw, "Pull to"));
    assert_false(draw_says(desk.draw, "Tighten row"));
    press_key(&desk, 'I', 0);
    assert_int_equal(desk.said.action_count, 0);
    job_desk_close(&desk);
    open_at(&desk, "soft-porch", JOB_GUIDED, JOB_STAGE_TENSION, 2);
    assert_true(draw_says(desk.draw, "Pull to"));
    job_desk_close(&desk);
}

static void a_refusal_is_said_in_words(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_PRACTICE, JOB_STAGE_TENSION, 0);
    const job_action again = job_make(JOB_DO_HANG_CABLE, desk.state.now_ms, (const double[]){0.0}, 1);
    const job_outcome outcome = job_desk_do(&desk, &again);
    assert_int_not_equal(outcome.refusal, JOB_REFUSE_NONE);
    job_desk_frame(&desk, false);
    char first[24];
    tr_format(first, sizeof first, "%.20s", tr_word(desk.lang, job_refusal_key(outcome.refusal)));
    assert_true(draw_says(desk.draw, first));
    job_desk_close(&desk);
}

static void the_screen_follows_in_guided_mode_but_not_the_pin(void **context)
{
    (void)context;
    static job_desk desk;
    job_desk_open(&desk, "soft-porch", JOB_GUIDED, "en");
    desk.metrics = fake_metrics;
    job_desk_ready(&desk);
    job_desk_frame(&desk, false);
    assert_int_equal(desk.job->stage, JOB_STAGE_READ);
    assert_true(job_desk_bring_to(&desk, JOB_STAGE_MARK, 0));
    assert_int_equal(desk.job->stage, JOB_STAGE_MARK);
    assert_true(job_desk_bring_to(&desk, JOB_STAGE_CRIMP, 0));
    assert_int_equal(desk.job->stage, JOB_STAGE_CRIMP);
    assert_true(job_desk_bring_to(&desk, JOB_STAGE_TENSION, 1));
    assert_int_equal(desk.job->stage, JOB_STAGE_TENSION);
    const int row = desk.job->row;
    assert_true(job_desk_bring_to(&desk, JOB_STAGE_TENSION, 12));
    assert_int_equal(desk.job->row, row);
    assert_int_not_equal(row, job_action_row(&desk.job->advice.action));
    assert_true(job_desk_bring_to(&desk, JOB_STAGE_CHECK, 0)); /* the pin is laid down: on it goes */
    assert_int_equal(desk.job->stage, JOB_STAGE_CHECK);
    job_desk_close(&desk);
}

/* The crimps are looked at before the row is joined: the screen goes there, from row to row, and comes back. */
static void the_screen_follows_through_the_check_of_the_crimps(void **context)
{
    (void)context;
    static job_desk desk;
    job_desk_open(&desk, "first-row", JOB_GUIDED, "en");
    desk.metrics = fake_metrics;
    job_desk_ready(&desk);
    job_desk_frame(&desk, false);
    assert_true(job_desk_bring_to(&desk, JOB_STAGE_CHECK, 0));
    assert_int_equal(desk.job->stage, JOB_STAGE_CHECK);
    assert_true(job_desk_bring_to(&desk, JOB_STAGE_CHECK, 3));
    assert_int_equal(desk.job->row, job_action_row(&desk.job->advice.action));
    assert_true(job_desk_bring_to(&desk, JOB_STAGE_JOIN, 0));
    assert_int_equal(desk.job->stage, JOB_STAGE_JOIN);
    assert_int_equal(desk.job->row, 2);
    job_desk_close(&desk);
}

/* What the trainee has read is there again when an attempt is taken up, and gone when it is undone. */
static void readings_come_back_from_the_trace(void **context)
{
    (void)context;
    static job_desk desk;
    static job_trace_entry trace[2];
    open_at(&desk, "soft-porch", JOB_PRACTICE, JOB_STAGE_TENSION, 0);
    const job_action gauge[2] = {job_make(JOB_DO_GAUGE, 1000, (const double[]){0.0}, 1),
                                 job_make(JOB_DO_GAUGE, 2000, (const double[]){2.0}, 1)};
    job_replay(&desk.what.setup, gauge, 2, &desk.state, trace);
    desk.model.trace = trace;
    desk.model.trace_count = 2;
    job_desk_frame(&desk, false);
    assert_near(desk.job->reading_n[0], trace[0].outcome.value[0], 0.0);
    assert_near(desk.job->reading_n[2], trace[1].outcome.value[0], 0.0);
    desk.model.trace_count = 1;
    job_desk_frame(&desk, false);
    assert_near(desk.job->reading_n[0], trace[0].outcome.value[0], 0.0);
    assert_true(desk.job->reading_n[2] < 0.0);
    job_desk_close(&desk);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_assessment_gives_nothing_away),
        cmocka_unit_test(a_refusal_is_said_in_words),
        cmocka_unit_test(the_screen_follows_in_guided_mode_but_not_the_pin),
        cmocka_unit_test(the_screen_follows_through_the_check_of_the_crimps),
        cmocka_unit_test(readings_come_back_from_the_trace),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
