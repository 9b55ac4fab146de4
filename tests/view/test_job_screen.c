/* The job screen under made-up hands: every control by mouse alone and by keyboard alone says the right action; and no
 * text of it is cut or lies over another, in both languages, at every size. */
#include "job_eyes.h"

#include "tautrow/view/text.h"

/* ---- hands ------------------------------------------------------------------------------------------------------ */

static void mouse(job_desk *desk, float x, float y, bool is_down)
{
    view_input *in = &desk->input;
    in->has_mouse = true;
    in->mouse_x = x;
    in->mouse_y = y;
    in->pressed[VIEW_MOUSE_LEFT] = is_down && !in->down[VIEW_MOUSE_LEFT];
    in->released[VIEW_MOUSE_LEFT] = !is_down && in->down[VIEW_MOUSE_LEFT];
    in->down[VIEW_MOUSE_LEFT] = is_down;
}

/* Presses and lets go; what is said in any of the frames is gathered. */
static void click(job_desk *desk, float x, float y, view_job_said *said)
{
    memset(said, 0, sizeof *said);
    for (int frame = 0; frame < 5; frame++) {
        mouse(desk, x, y, frame == 1 || frame == 2);
        job_desk_frame(desk, false);
        for (int i = 0; i < desk->said.action_count && said->action_count < VIEW_JOB_MAX_SAID; i++) {
            said->action[said->action_count++] = desk->said.action[i];
        }
        said->undo = said->undo > desk->said.undo ? said->undo : desk->said.undo;
        said->leave = said->leave || desk->said.leave;
        said->settings = said->settings || desk->said.settings;
        said->debrief = said->debrief || desk->said.debrief;
    }
}

static void click_word(job_desk *desk, const char *key, view_job_said *said)
{
    float x = 0.0F;
    float y = 0.0F;
    if (!find_text(desk, tr_word(desk->lang, key), &x, &y)) {
        print_error("\"%s\" is not on the screen whole\n", tr_word(desk->lang, key));
        fail();
    }
    click(desk, x, y, said);
}

static void press_key(job_desk *desk, int key, unsigned mods)
{
    desk->input.has_mouse = false;
    view_input_key(&desk->input, key, mods, false);
    job_desk_frame(desk, false);
}

static void expect(const view_job_said *said, job_verb verb)
{
    if (said->action_count != 1 || said->action[0].verb != verb) {
        print_error("expected %s, got %d actions, first %s\n", job_verb_look(verb)->name, said->action_count,
                    said->action_count > 0 ? job_verb_look(said->action[0].verb)->name : "none");
        fail();
    }
}

/* ---- by mouse --------------------------------------------------------------------------------------------------- */

typedef struct press_case {
    job_stage stage;
    const char *word;
    job_verb verb;
    int more; /* steps that the expert has made in this stage */
} press_case;

static const press_case presses[] = {
    {JOB_STAGE_READ, "job.open_sheet", JOB_DO_OPEN_SHEET, 0},
    {JOB_STAGE_JOIN, "job.join.unscrew", JOB_DO_UNSCREW_STUD, 0},
    {JOB_STAGE_JOIN, "job.join.back_off", JOB_DO_BACK_OFF, 1},
    {JOB_STAGE_JOIN, "job.join.thread_in", JOB_DO_THREAD_IN, 1},
    {JOB_STAGE_JOIN, "job.join.hand_tight", JOB_DO_HAND_TIGHT, 3},
    {JOB_STAGE_TENSION, "job.tension.pliers", JOB_DO_PLIERS, 0},
    {JOB_STAGE_TENSION, "job.tension.tighter", JOB_DO_TURN_BODY, 0},
    {JOB_STAGE_TENSION, "job.tension.looser", JOB_DO_TURN_BODY, 0},
    {JOB_STAGE_TENSION, "job.pluck", JOB_DO_PLUCK, 0},
    {JOB_STAGE_TENSION, "job.gauge", JOB_DO_GAUGE, 0},
    {JOB_STAGE_TENSION, "job.tension.free_twist", JOB_DO_FREE_TWIST, 0},
    {JOB_STAGE_CHECK, "job.check.ball", JOB_DO_BALL, 0},
    {JOB_STAGE_CHECK, "job.check.sight", JOB_DO_SIGHT, 0},
    {JOB_STAGE_HAND_OVER, "job.over.collar", JOB_DO_COLLAR, 0},
    {JOB_STAGE_HAND_OVER, "job.over.wipe", JOB_DO_WIPE, 0},
    {JOB_STAGE_HAND_OVER, "job.over.wait", JOB_DO_WAIT_DAYS, 0},
};
enum { PRESSES = sizeof presses / sizeof presses[0] };

static void each_button_says_its_action_by_mouse(void **context)
{
    (void)context;
    static job_desk desk;
    view_job_said said;
    for (size_t i = 0; i < PRESSES; i++) {
        open_at(&desk, "soft-porch", JOB_PRACTICE, presses[i].stage, presses[i].more);
        const int row = desk.job->row;
        click_word(&desk, presses[i].word, &said);
        expect(&said, presses[i].verb);
        const int said_row = job_action_row(&said.action[0]);
        assert_true(said_row < 0 || said_row == row);
        job_desk_close(&desk);
    }
}

static void tighter_is_a_quarter_turn_and_looser_the_other_way(void **context)
{
    (void)context;
    static job_desk desk;
    view_job_said said;
    open_at(&desk, "soft-porch", JOB_PRACTICE, JOB_STAGE_TENSION, 0);
    click_word(&desk, "job.tension.tighter", &said);
    assert_near(said.action[0].arg[JOB_TURN_BODY_TURNS], 0.25, 0.0);
    click_word(&desk, "job.tension.looser", &said);
    assert_near(said.action[0].arg[JOB_TURN_BODY_TURNS], -0.25, 0.0);
    job_desk_close(&desk);
}

static void the_pin_swung_by_hand_turns_the_body_in_quarters(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_PRACTICE, JOB_STAGE_TENSION, 0);
    const float x = 250.0F; /* over the fitting, away from the dial */
    float y = 640.0F;
    double turned = 0.0;
    int actions = 0;
    for (int frame = 0; frame < 60; frame++) {
        const bool is_down = frame >= 1 && frame < 50;
        y -= is_down && frame > 4 ? 4.0F : 0.0F;
        mouse(&desk, x, y, is_down);
        job_desk_frame(&desk, false);
        for (int i = 0; i < desk.said.action_count; i++) {
            assert_int_equal(desk.said.action[i].verb, JOB_DO_TURN_BODY);
            turned += desk.said.action[i].arg[JOB_TURN_BODY_TURNS];
            actions++;
        }
    }
    /* 180 units up: three easy quarters and a bit, rounded to sixteenths when the hand lets go */
    assert_true(actions >= 3);
    assert_near(turned, 180.0 / 54.0 * 0.25, 0.07);
    assert_near(turned * 16.0, floor(turned * 16.0 + 0.5), 1e-9);
    job_desk_close(&desk);
}

static void answers_carry_question_and_choice(void **context)
{
    (void)context;
    static job_desk desk;
    view_job_said said;
    job_desk_open(&desk, "soft-porch", JOB_PRACTICE, "en");
    desk.metrics = (view_metrics){made_up_width, NULL};
    job_desk_ready(&desk);
    job_desk_frame(&desk, false);
    assert_true(job_desk_bring_to(&desk, JOB_STAGE_READ, 1));
    desk.job->tools.read.answer[0] = 1;
    job_desk_frame(&desk, false);
    /* three buttons of one name: the first from above is the bit's */
    press_key(&desk, VIEW_KEY_TAB, 0);
    int answers = 0;
    for (int i = 0; i < 80; i++) {
        press_key(&desk, VIEW_KEY_TAB, 0);
        press_key(&desk, VIEW_KEY_ENTER, 0);
        said = desk.said;
        desk.job->leave_open = false;
        view_job_show(desk.job, JOB_STAGE_READ, -1);
        press_key(&desk, VIEW_KEY_NONE, 0);
        if (said.action_count == 1 && said.action[0].verb == JOB_DO_ANSWER) {
            const int question = (int)said.action[0].arg[JOB_ANSWER_QUESTION];
            assert_near(said.action[0].arg[JOB_ANSWER_CHOICE], question == 0 ? 1.0 : question == 1 ? 1.0 : 0.0, 0.0);
            answers |= 1 << question;
        }
    }
    assert_int_equal(answers, 7);
    job_desk_close(&desk);
}

static void faults_are_reported_through_the_list(void **context)
{
    (void)context;
    static job_desk desk;
    view_job_said said;
    open_at(&desk, "left-half-done", JOB_PRACTICE, JOB_STAGE_CHECK, 0);
    view_job_show(desk.job, JOB_STAGE_CHECK, 2);
    job_desk_frame(&desk, false);
    click_word(&desk, "job.check.report", &said);
    assert_int_equal(said.action_count, 0);
    click_word(&desk, "fault.twisted", &said);
    float x = 0.0F;
    float y = 0.0F;
    assert_true(find_text(&desk, "Report for row 3", &x, &y));
    click(&desk, x, y, &said);
    expect(&said, JOB_DO_REPORT_FAULT);
    assert_near(said.action[0].arg[JOB_REPORT_FAULT_ROW], 2.0, 0.0);
    assert_near(said.action[0].arg[JOB_REPORT_FAULT_FAULT], (double)JOB_FAULT_TWISTED, 0.0);
    job_desk_close(&desk);
}

static void signing_asks_first(void **context)
{
    (void)context;
    static job_desk desk;
    view_job_said said;
    open_at(&desk, "soft-porch", JOB_PRACTICE, JOB_STAGE_HAND_OVER, 0);
    click_word(&desk, "job.over.sign", &said);
    assert_int_equal(said.action_count, 0);
    click_word(&desk, "job.not_yet", &said);
    assert_int_equal(said.action_count, 0);
    click_word(&desk, "job.over.sign", &said);
    click_word(&desk, "job.sign.ok", &said);
    expect(&said, JOB_DO_SIGN);
    (void)job_desk_do(&desk, &said.action[0]);
    assert_true(desk.state.is_signed);
    job_desk_frame(&desk, false);
    click_word(&desk, "job.debrief", &said);
    assert_true(said.debrief);
    job_desk_close(&desk);
}

static void all_collars_are_an_action_each(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_PRACTICE, JOB_STAGE_HAND_OVER, 0);
    press_key(&desk, 'A', 0);
    for (int i = 0; i < 10; i++) {
        for (int a = 0; a < desk.said.action_count; a++) {
            (void)job_desk_do(&desk, &desk.said.action[a]);
        }
        press_key(&desk, VIEW_KEY_NONE, 0);
    }
    for (int row = 0; row < desk.what.setup.structure.row_count; row++) {
        assert_true(desk.state.row[row].has_collar == desk.what.setup.is_trainees[row]);
    }
    job_desk_close(&desk);
}

static void rows_and_stages_are_chosen_by_mouse(void **context)
{
    (void)context;
    static job_desk desk;
    view_job_said said;
    open_at(&desk, "soft-porch", JOB_PRACTICE, JOB_STAGE_TENSION, 0);
    click_word(&desk, "stage.check.name", &said);
    assert_int_equal(desk.job->stage, JOB_STAGE_CHECK);
    assert_false(desk.job->follows);
    float x = 0.0F;
    float y = 0.0F;
    assert_true(find_text(&desk, "2", &x, &y)); /* a rung of the ladder */
    click(&desk, x, y, &said);
    assert_int_equal(desk.job->row, 1);
    assert_int_equal(said.action_count, 0);
    job_desk_close(&desk);
}

static void a_gap_is_chosen_in_the_run_while_the_ball_is_in_hand(void **context)
{
    (void)context;
    static job_desk desk;
    view_job_said said;
    open_at(&desk, "soft-porch", JOB_PRACTICE, JOB_STAGE_CHECK, 0);
    const int row = desk.job->row;
    float low_x = 0.0F;
    float low_y = 0.0F;
    float high_x = 0.0F;
    float high_y = 0.0F;
    /* the numbers at the near post were drawn before the ladder's: the first ones found from the front */
    const view_draw *draw = desk.draw;
    for (size_t i = draw->commands; i-- > 0;) {
        const view__command *c = &draw->command[i];
        if (c->op == VIEW__TEXT && strcmp(&draw->text[c->first], "4") == 0) {
            low_x = c->rect.x;
            low_y = c->rect.y;
        } else if (c->op == VIEW__TEXT && strcmp(&draw->text[c->first], "5") == 0) {
            high_x = c->rect.x;
            high_y = c->rect.y;
        }
    }
    assert_near((double)low_x, (double)high_x, 1.0);
    click(&desk, 400.0F, 0.5F * (low_y + high_y) - 4.0F, &said);
    assert_int_equal(desk.job->tools.check.gap, 4);
    assert_int_equal(desk.job->row, row);
    desk.job->tools.check.tool = VIEW_CHECK_GAUGE;
    click(&desk, 400.0F, low_y - 4.0F, &said);
    assert_int_equal(desk.job->row, 3);
    assert_int_equal(said.action_count, 0);
    job_desk_close(&desk);
}

static void holding_turns_the_body_on(void **context)
{
    (void)context;
    static job_desk desk;
    float x = 0.0F;
    float y = 0.0F;
    open_at(&desk, "soft-porch", JOB_PRACTICE, JOB_STAGE_JOIN, 1);
    assert_true(find_text(&desk, tr_word(desk.lang, "job.join.turn"), &x, &y));
    for (int frame = 0; frame < 123; frame++) {
        mouse(&desk, x, y, frame >= 1 && frame < 121);
        job_desk_frame(&desk, false);
        assert_int_equal(desk.said.action_count, 0);
    }
    /* two seconds at three turns a second, from one turn on */
    assert_near((double)desk.job->tools.join.in_turns, 7.0, 0.2);
    press_key(&desk, 'T', 0);
    expect(&desk.said, JOB_DO_THREAD_IN);
    assert_true(desk.said.action[0].arg[JOB_THREAD_IN_TURNS] >= 6.0);
    job_desk_close(&desk);
}

static void the_bars_move_to_where_the_rows_are(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_GUIDED, JOB_STAGE_TENSION, 6);
    for (int i = 0; i < 60; i++) {
        press_key(&desk, VIEW_KEY_NONE, 0);
    }
    const int row = desk.job->row;
    const double before = desk.job->shown_n[row];
    assert_near(before, desk.state.rows.tension_n[row], 1e-9);
    press_key(&desk, VIEW_KEY_RIGHT, 0);
    expect(&desk.said, JOB_DO_TURN_BODY);
    const job_action turn = desk.said.action[0];
    (void)job_desk_do(&desk, &turn);
    for (int i = 0; i < 6; i++) {
        press_key(&desk, VIEW_KEY_NONE, 0);
    }
    const double after = desk.state.rows.tension_n[row];
    assert_true(after > before + 1.0);
    assert_true(desk.job->shown_n[row] > before && desk.job->shown_n[row] < after);
    assert_true(desk.ui.wants_frame);
    for (int i = 0; i < 60; i++) {
        press_key(&desk, VIEW_KEY_NONE, 0);
    }
    assert_near(desk.job->shown_n[row], after, 1e-9);
    assert_false(desk.ui.wants_frame);
    job_desk_close(&desk);
}

/* ---- by keyboard ------------------------------------------------------------------------------------------------ */

typedef struct key_case {
    job_stage stage;
    int key;
    unsigned mods;
    job_verb verb;
    double amount; /* of slot 1, where not NAN */
    int more;
} key_case;

static void each_key_says_its_action(void **context)
{
    (void)context;
    static const key_case keys[] = {
        {JOB_STAGE_READ, 'O', 0, JOB_DO_OPEN_SHEET, 0.0, 0},
        {JOB_STAGE_TENSION, 'G', 0, JOB_DO_GLASSES, 0.0, 0},
        {JOB_STAGE_TENSION, 'C', 0, JOB_DO_STAND, 0.0, 0},
        {JOB_STAGE_TENSION, 'P', 0, JOB_DO_PLIERS, 1.0, 0},
        {JOB_STAGE_TENSION, 'K', 0, JOB_DO_PLUCK, 0.0, 0},
        {JOB_STAGE_TENSION, 'J', 0, JOB_DO_GAUGE, 0.0, 0},
        {JOB_STAGE_TENSION, 'I', 0, JOB_DO_HINT, 0.0, 0},
        {JOB_STAGE_TENSION, VIEW_KEY_RIGHT, 0, JOB_DO_TURN_BODY, 0.25, 0},
        {JOB_STAGE_TENSION, VIEW_KEY_RIGHT, VIEW_SHIFT, JOB_DO_TURN_BODY, 0.125, 0},
        {JOB_STAGE_TENSION, VIEW_KEY_RIGHT, VIEW_CTRL, JOB_DO_TURN_BODY, 0.0625, 0},
        {JOB_STAGE_TENSION, VIEW_KEY_LEFT, 0, JOB_DO_TURN_BODY, -0.25, 0},
        {JOB_STAGE_JOIN, 'U', 0, JOB_DO_UNSCREW_STUD, 0.0, 0},
        {JOB_STAGE_JOIN, 'B', 0, JOB_DO_BACK_OFF, (double)NAN, 1},
        {JOB_STAGE_JOIN, 'T', 0, JOB_DO_THREAD_IN, 1.0, 1},
        {JOB_STAGE_JOIN, 'H', 0, JOB_DO_HAND_TIGHT, 20.0, 3},
        {JOB_STAGE_CHECK, 'B', 0, JOB_DO_BALL, 0.0, 0},
        {JOB_STAGE_CHECK, 'J', 0, JOB_DO_GAUGE, 0.0, 0},
        {JOB_STAGE_CHECK, 'K', 0, JOB_DO_PLUCK, 0.0, 0},
        {JOB_STAGE_CHECK, 'R', 0, JOB_DO_GAUGE_CRIMP, 0.0, 0},
        {JOB_STAGE_CHECK, 'S', 0, JOB_DO_SIGHT, 0.0, 0},
        {JOB_STAGE_HAND_OVER, 'O', 0, JOB_DO_COLLAR, 0.0, 0},
        {JOB_STAGE_HAND_OVER, 'W', 0, JOB_DO_WIPE, 0.0, 0},
        {JOB_STAGE_HAND_OVER, 'T', 0, JOB_DO_WAIT_DAYS, (double)NAN, 0},
    };
    static job_desk desk;
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        open_at(&desk, "soft-porch", JOB_PRACTICE, keys[i].stage, keys[i].more);
        if (keys[i].verb == JOB_DO_PLIERS) {
            desk.state.row[desk.job->row].has_pliers = false;
        }
        press_key(&desk, keys[i].key, keys[i].mods);
        expect(&desk.said, keys[i].verb);
        if (job_verb_look(keys[i].verb)->field_count > 1 && !isnan(keys[i].amount)) {
            assert_near(desk.said.action[0].arg[1], keys[i].amount, 1e-9);
        }
        job_desk_close(&desk);
    }
}

/* Tab goes through the whole screen; Enter on each stop gathers what can be said without a mouse and without letters.
 */
static uint64_t sweep(job_desk *desk)
{
    uint64_t verbs = 0;
    const int stage = (int)desk->job->stage;
    const int row = desk->job->row;
    for (int i = 0; i < 120; i++) {
        press_key(desk, VIEW_KEY_TAB, 0);
        press_key(desk, VIEW_KEY_ENTER, 0);
        for (int a = 0; a < desk->said.action_count; a++) {
            verbs |= UINT64_C(1) << (unsigned)desk->said.action[a].verb;
        }
        desk->job->leave_open = desk->job->sign_open = desk->job->tools.check.is_reporting = false;
        view_job_show(desk->job, (job_stage)stage, row);
        press_key(desk, VIEW_KEY_NONE, 0); /* a dialog that was open is gone only now */
    }
    return verbs;
}

static void each_action_can_be_reached_by_tab_and_enter(void **context)
{
    (void)context;
    static job_desk desk;
    for (size_t i = 0; i < PRESSES; i++) {
        open_at(&desk, "soft-porch", JOB_PRACTICE, presses[i].stage, presses[i].more);
        const uint64_t verbs = sweep(&desk);
        if ((verbs >> (unsigned)presses[i].verb & 1U) == 0) {
            print_error("%s cannot be reached\n", job_verb_look(presses[i].verb)->name);
            fail();
        }
        assert_true(verbs >> (unsigned)JOB_DO_GLASSES & 1U);
        assert_true(verbs >> (unsigned)JOB_DO_STAND & 1U);
        job_desk_close(&desk);
    }
}

static void rows_and_stages_are_chosen_by_keys(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_PRACTICE, JOB_STAGE_TENSION, 0);
    view_job_show(desk.job, JOB_STAGE_TENSION, 3);
    press_key(&desk, VIEW_KEY_UP, 0);
    assert_int_equal(desk.job->row, 4);
    press_key(&desk, VIEW_KEY_DOWN, 0);
    press_key(&desk, VIEW_KEY_DOWN, 0);
    assert_int_equal(desk.job->row, 2);
    for (int i = 0; i < JOB_STAGE_COUNT; i++) {
        press_key(&desk, VIEW_KEY_F1 + i, 0);
        assert_int_equal(desk.job->stage, i);
    }
    press_key(&desk, VIEW_KEY_ESCAPE, 0);
    assert_true(desk.job->leave_open);
    press_key(&desk, VIEW_KEY_NONE, 0);
    press_key(&desk, VIEW_KEY_TAB, 0); /* the first answer is to stay */
    press_key(&desk, VIEW_KEY_ENTER, 0);
    assert_true(desk.said.leave);
    job_desk_close(&desk);
}

/* Below the top row there is one, above it none: down and up ends where it began, up and down one lower. */
static void two_row_keys_of_one_frame_count_in_their_order(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_PRACTICE, JOB_STAGE_TENSION, 0);
    const int top = desk.what.setup.structure.row_count - 1;
    for (int first = 0; first < 2; first++) {
        view_job_show(desk.job, JOB_STAGE_TENSION, top);
        view_input_key(&desk.input, first == 0 ? VIEW_KEY_DOWN : VIEW_KEY_UP, 0, false);
        view_input_key(&desk.input, first == 0 ? VIEW_KEY_UP : VIEW_KEY_DOWN, 0, false);
        for (int i = 0; i < 3; i++) {
            job_desk_frame(&desk, false);
        }
        assert_int_equal(desk.job->row, first == 0 ? top : top - 1);
    }
    job_desk_close(&desk);
}

static void undo_is_for_guided_mode_only(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_GUIDED, JOB_STAGE_TENSION, 0);
    press_key(&desk, 'Z', VIEW_CTRL);
    assert_true(desk.said.undo);
    job_desk_close(&desk);
    open_at(&desk, "soft-porch", JOB_PRACTICE, JOB_STAGE_TENSION, 0);
    press_key(&desk, 'Z', VIEW_CTRL);
    assert_false(desk.said.undo);
    job_desk_close(&desk);
}

/* ---- what the screen tells -------------------------------------------------------------------------------------- */

static bool shows(const job_desk *desk, const char *part)
{
    const view_draw *draw = desk->draw;
    for (size_t i = 0; i < draw->commands; i++) {
        const view__command *c = &draw->command[i];
        if (c->op == VIEW__TEXT && strstr(&draw->text[c->first], part) != NULL) {
            return true;
        }
    }
    return false;
}

static void an_assessment_gives_nothing_away(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_ASSESSMENT, JOB_STAGE_TENSION, 0);
    assert_false(shows(&desk, tr_word(desk.lang, "job.hint")));
    assert_false(shows(&desk, "Pull to"));
    assert_false(shows(&desk, "Tighten row"));
    press_key(&desk, 'I', 0);
    assert_int_equal(desk.said.action_count, 0);
    job_desk_close(&desk);
    open_at(&desk, "soft-porch", JOB_GUIDED, JOB_STAGE_TENSION, 2);
    assert_true(shows(&desk, "Pull to"));
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
    assert_true(shows(&desk, first));
    job_desk_close(&desk);
}

static void the_screen_follows_in_guided_mode_but_not_the_pin(void **context)
{
    (void)context;
    static job_desk desk;
    job_desk_open(&desk, "soft-porch", JOB_GUIDED, "en");
    desk.metrics = (view_metrics){made_up_width, NULL};
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
    desk.metrics = (view_metrics){made_up_width, NULL};
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
        cmocka_unit_test(each_button_says_its_action_by_mouse),
        cmocka_unit_test(tighter_is_a_quarter_turn_and_looser_the_other_way),
        cmocka_unit_test(the_pin_swung_by_hand_turns_the_body_in_quarters),
        cmocka_unit_test(answers_carry_question_and_choice),
        cmocka_unit_test(faults_are_reported_through_the_list),
        cmocka_unit_test(signing_asks_first),
        cmocka_unit_test(all_collars_are_an_action_each),
        cmocka_unit_test(rows_and_stages_are_chosen_by_mouse),
        cmocka_unit_test(a_gap_is_chosen_in_the_run_while_the_ball_is_in_hand),
        cmocka_unit_test(holding_turns_the_body_on),
        cmocka_unit_test(the_bars_move_to_where_the_rows_are),
        cmocka_unit_test(each_key_says_its_action),
        cmocka_unit_test(each_action_can_be_reached_by_tab_and_enter),
        cmocka_unit_test(rows_and_stages_are_chosen_by_keys),
        cmocka_unit_test(two_row_keys_of_one_frame_count_in_their_order),
        cmocka_unit_test(undo_is_for_guided_mode_only),
        cmocka_unit_test(an_assessment_gives_nothing_away),
        cmocka_unit_test(a_refusal_is_said_in_words),
        cmocka_unit_test(the_screen_follows_in_guided_mode_but_not_the_pin),
        cmocka_unit_test(the_screen_follows_through_the_check_of_the_crimps),
        cmocka_unit_test(readings_come_back_from_the_trace),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
