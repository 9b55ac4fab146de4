/* The demonstration on the desk: asked for at the job, left again; the attempt, its clock and where the person stood are as
 * they were. */
#include "near.h"

#include <stdlib.h>
#include <string.h>

#include "desk.h"
#include "tautrow/base/text.h"

typedef struct sitting {
    app_options options;
    tr_lang *lang;
    scenario_catalogue *catalogue;
    app_context context;
    app_desk desk;
    view_input in;
    long long ms;
} sitting;

static void sit_down(sitting *s)
{
    static tr_diags diags;
    char why[TR_TEXT_CAP];
    memset(s, 0, sizeof *s);
    s->options.step = -1;
    s->options.screenshot = "none"; /* nothing of this machine's settings and journals */
    s->lang = app_lang_load(TAUTROW_SOURCE, "en", why, sizeof why);
    s->catalogue = app_catalogue_load(TAUTROW_SOURCE, &diags);
    assert_true(s->lang != NULL && s->catalogue != NULL);
    s->context = (app_context){&s->options, TAUTROW_SOURCE, s->lang, s->catalogue};
    s->in = (view_input){.width = 1280.0F, .height = 800.0F, .dt_s = 0.02F};
    if (!app_desk_open(&s->desk, &s->context, why, sizeof why)) {
        print_message("%s\n", why); /* no font on this machine */
        skip();
    }
}

static void get_up(sitting *s)
{
    app_desk_close(&s->desk);
    scenario_catalogue_close(s->catalogue);
    tr_lang_close(s->lang);
}

static void frames(sitting *s, int count)
{
    for (int i = 0; i < count; i++) {
        s->in.time_s += 0.02;
        s->ms += 20;
        app_desk_frame(&s->desk, &s->in, s->ms);
        s->in.keys = 0;
    }
}

static void key(sitting *s, int code)
{
    view_input_key(&s->in, code, 0, false);
    frames(s, 2);
}

static size_t actions_of(const sitting *s)
{
    const job_action *all = NULL;
    return record_attempt_actions(s->desk.attempt, &all);
}

static void it_is_opened_and_left_and_the_attempt_is_as_it_was(void **state)
{
    (void)state;
    sitting *s = calloc(1, sizeof *s);
    job_stage stage = JOB_STAGE_READ;
    int row = -1;
    sit_down(s);
    assert_true(app_desk_start(&s->desk, 0, JOB_GUIDED, false));
    app_desk_advance(&s->desk, 9);
    frames(s, 10);
    view_job_at(s->desk.job, &stage, &row);
    const job_stage stage_before = stage;
    const int row_before = row;
    const size_t actions = actions_of(s);
    key(s, 'V');
    assert_int_equal(s->desk.screen, APP_SCREEN_SHOWN);
    const long long clock = s->desk.job_ms;
    frames(s, 60 * 20);
    assert_true(view_shown_steps(s->desk.shown) > 1 || view_shown_is_done(s->desk.shown));
    key(s, VIEW_KEY_ESCAPE);
    assert_int_equal(s->desk.screen, APP_SCREEN_JOB);
    assert_null(s->desk.shown);
    assert_true(s->desk.job_ms - clock <= 40); /* the frames around it */
    assert_int_equal(actions_of(s), actions);
    view_job_at(s->desk.job, &stage, &row);
    assert_true(stage == stage_before && row == row_before);
    frames(s, 5);
    assert_true(s->desk.job_ms > clock);
    get_up(s);
    free(s);
}

/* A window that is closed in the middle of it leaves nothing behind. */
static void it_may_be_open_when_the_desk_is_closed(void **state)
{
    (void)state;
    sitting *s = calloc(1, sizeof *s);
    sit_down(s);
    assert_true(app_desk_start(&s->desk, 0, JOB_PRACTICE, false));
    key(s, 'V');
    assert_int_equal(s->desk.screen, APP_SCREEN_SHOWN);
    assert_int_equal(record_attempt_state(s->desk.attempt)->hints, 1);
    frames(s, 10);
    get_up(s);
    free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_is_opened_and_left_and_the_attempt_is_as_it_was),
        cmocka_unit_test(it_may_be_open_when_the_desk_is_closed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
