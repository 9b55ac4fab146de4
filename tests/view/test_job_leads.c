/* How the job screen leads: it opens at work to be done, its advice hears what the hand has set, and what comes next lies
 * ready. */
#include "job_hands.h"

/* Whoever has set the tool has set it: the advice goes on before the trigger is pulled, and comes back when it is set
 * wrong again. */
static void advice_goes_by_the_speed_that_the_tool_shows(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_GUIDED, JOB_STAGE_DRILL, 2);
    const job_setup *setup = &desk.what.setup;
    assert_int_equal(desk.job->advice.action.verb, JOB_DO_SET_DRILL_SPEED);
    desk.job->tools.drill.rpm = (float)setup->drill_rpm.low;
    job_desk_frame(&desk, false);
    assert_int_equal(desk.job->advice.action.verb, JOB_DO_DRILL);
    const job_action set = job_make(JOB_DO_SET_DRILL_SPEED, 0, (const double[]){setup->drill_rpm.high}, 1);
    (void)job_desk_do(&desk, &set);
    assert_near((double)desk.job->tools.drill.rpm, setup->drill_rpm.high, 1e-3);
    desk.job->tools.drill.rpm = (float)setup->drill_rpm.low * 0.5F;
    job_desk_frame(&desk, false);
    assert_int_equal(desk.job->advice.action.verb, JOB_DO_SET_DRILL_SPEED);
    job_desk_close(&desk);
}

/* The screen begins at work to be done, not at a row that the crew has hung. */
static void it_opens_at_a_row_that_is_to_be_fitted(void **context)
{
    (void)context;
    static job_desk desk;
    job_desk_open(&desk, "first-row", JOB_GUIDED, "en");
    assert_int_equal(desk.job->row, 2);
    job_desk_close(&desk);
    job_desk_open(&desk, "corner-post", JOB_GUIDED, "en"); /* rows 3 to 5; the order, with row 6, is not given away */
    assert_int_equal(desk.job->row, 2);
    job_desk_close(&desk);
}

/* Squeezed where the die lay a little off the place advised: the stage is done all the same, and the screen leads on. */
static void work_that_ends_a_stage_leads_on_though_it_was_not_the_one_advised(void **context)
{
    (void)context;
    const job_action place = job_make(JOB_DO_PLACE_DIE, 0, (const double[]){2.0, 0.0175}, 2);
    const job_action squeeze = job_make(JOB_DO_SQUEEZE, 0, (const double[]){2.0, 1.0}, 2);
    const job_action other = job_make(JOB_DO_SQUEEZE, 0, (const double[]){3.0, 1.0}, 2);
    const job_action sight = job_make(JOB_DO_SIGHT, 0, NULL, 0);
    const job_action turn = job_make(JOB_DO_TURN_BODY, 0, (const double[]){2.0, 0.25}, 2);
    assert_true(view__job_has_ended_stage(&place, &squeeze, &sight));
    assert_false(view__job_has_ended_stage(&place, &squeeze, &place));
    assert_false(view__job_has_ended_stage(&place, &other, &sight));
    assert_false(view__job_has_ended_stage(&turn, &turn, &sight)); /* never the row from under the pin */
}

/* The button of what is advised is there to be pressed, not behind the name of another tool. */
static void the_tool_of_the_check_lies_ready(void **context)
{
    (void)context;
    static job_desk desk;
    float x = 0.0F;
    float y = 0.0F;
    open_at(&desk, "first-row", JOB_GUIDED, JOB_STAGE_CHECK, 1);
    job_desk_frame(&desk, false);
    assert_int_equal(desk.job->advice.action.verb, JOB_DO_GAUGE_CRIMP);
    assert_true(find_text(&desk, tr_word(desk.lang, "job.check.crimp"), &x, &y));
    job_desk_close(&desk);
}

static bool where_is(const job_desk *desk, const char *key, float *y)
{
    float x = 0.0F;
    return find_text(desk, tr_word(desk->lang, key), &x, y);
}

/* What was answered must not push the next question out from under the pointer. */
static void an_answer_leaves_the_questions_where_they_are(void **context)
{
    (void)context;
    static job_desk desk;
    float before = 0.0F;
    float after = 0.0F;
    open_at(&desk, "first-row", JOB_GUIDED, JOB_STAGE_READ, 0);
    const job_action open = job_make(JOB_DO_OPEN_SHEET, 0, NULL, 0);
    (void)job_desk_do(&desk, &open);
    job_desk_frame(&desk, false);
    assert_true(where_is(&desk, "job.rows", &before));
    const job_action answer = job_make(JOB_DO_ANSWER, 0, (const double[]){0.0, 0.0}, 2);
    (void)job_desk_do(&desk, &answer);
    job_desk_frame(&desk, false);
    assert_true(where_is(&desk, "job.rows", &after));
    assert_near((double)after, (double)before, 0.01);
    job_desk_close(&desk);
}

/* Four rows hang already: that is no beginning of one's own. */
static void the_trail_begins_with_ones_own_work(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "first-row", JOB_GUIDED, JOB_STAGE_READ, 0);
    assert_int_equal(view__stage_state(&desk.model, JOB_STAGE_MARK), VIEW_STAGE_TO_COME);
    assert_int_equal(view__stage_state(&desk.model, JOB_STAGE_JOIN), VIEW_STAGE_TO_COME);
    assert_true(job_desk_bring_to(&desk, JOB_STAGE_INSERT, 0));
    assert_int_equal(view__stage_state(&desk.model, JOB_STAGE_MARK), VIEW_STAGE_DONE);
    assert_int_equal(view__stage_state(&desk.model, JOB_STAGE_JOIN), VIEW_STAGE_TO_COME);
    job_desk_close(&desk);
}

static bool says(const job_desk *desk, const char *key)
{
    float x = 0.0F;
    float y = 0.0F;
    return find_text(desk, tr_word(desk->lang, key), &x, &y);
}

/* A row that was pulled above its band because the sheet said so is not called over; one that nothing will take down is. */
static void a_row_pulled_by_the_sheet_is_not_blamed(void **context)
{
    (void)context;
    static job_desk desk;
    job_action next;
    int told = 0;
    open_at(&desk, "first-row", JOB_GUIDED, JOB_STAGE_TENSION, 0);
    while (job_expert_next(&desk.what.setup, &desk.state, &next) && next.verb != JOB_DO_COLLAR) {
        (void)job_desk_do(&desk, &next);
        job_desk_frame(&desk, false);
        assert_false(says(&desk, "pic.look.over"));
        told += says(&desk, "pic.look.will_sink") ? 1 : 0;
    }
    assert_true(told > 0);
    assert_false(says(&desk, "pic.look.will_sink"));
    const job_action hold = job_make(JOB_DO_PLIERS, desk.state.now_ms, (const double[]){0.0, 1.0}, 2);
    const job_action more = job_make(JOB_DO_TURN_BODY, desk.state.now_ms, (const double[]){0.0, 1.0}, 2);
    (void)job_desk_do(&desk, &hold);
    (void)job_desk_do(&desk, &more);
    assert_int_equal(job_row_look_of(&desk.what.setup, &desk.state, 0), JOB_LOOK_OVER);
    job_desk_frame(&desk, false);
    assert_true(says(&desk, "pic.look.over"));
    assert_false(says(&desk, "pic.look.will_sink"));
    job_desk_close(&desk);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(advice_goes_by_the_speed_that_the_tool_shows),
        cmocka_unit_test(it_opens_at_a_row_that_is_to_be_fitted),
        cmocka_unit_test(work_that_ends_a_stage_leads_on_though_it_was_not_the_one_advised),
        cmocka_unit_test(the_tool_of_the_check_lies_ready),
        cmocka_unit_test(an_answer_leaves_the_questions_where_they_are),
        cmocka_unit_test(the_trail_begins_with_ones_own_work),
        cmocka_unit_test(a_row_pulled_by_the_sheet_is_not_blamed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
