/* Slip-ups on the job screen: the card comes up at once and once, in guided mode only; undo takes back the whole gesture
 * and leaves everything as it was; going on puts it away; no text is cut off or lies over other text. */
#include "draw_text.h"
#include "job_desk.h"

#include "fake_font.h"
#include "tautrow/record/attempt.h"
#include "tautrow/view/text.h"
#include "text_faults.h"

/* The desk works on a real attempt, as the program does. */
typedef struct slip_desk {
    job_desk desk;
    record_attempt *attempt;
} slip_desk;

static void look(slip_desk *d)
{
    const view_job_model now = view_job_model_of(d->attempt);
    d->desk.model.state = now.state;
    d->desk.model.actions = now.actions;
    d->desk.model.trace = now.trace;
    d->desk.model.trace_count = now.trace_count;
    d->desk.model.now_ms = now.now_ms;
}

static void open_desk(slip_desk *d, job_mode mode, const char *code)
{
    job_desk_open(&d->desk, "soft-porch", mode, code);
    d->desk.metrics = fake_metrics;
    job_desk_ready(&d->desk);
    d->attempt = record_attempt_open("", 0, &d->desk.what, "", &d->desk.about);
    assert_non_null(d->attempt);
    look(d);
}

static void close_desk(slip_desk *d)
{
    record_attempt_close(d->attempt);
    job_desk_close(&d->desk);
}

static void do_it(slip_desk *d, const job_action *action)
{
    const job_outcome outcome = record_attempt_do(d->attempt, action, NULL);
    look(d);
    view_job_heard(d->desk.job, &d->desk.model, action, &outcome);
}

/* One frame; what is said in it is carried out. */
static void frame(slip_desk *d)
{
    job_desk_frame(&d->desk, false);
    const view_job_said said = d->desk.said;
    for (int i = 0; i < said.action_count; i++) {
        do_it(d, &said.action[i]);
    }
    for (int i = 0; i < said.undo; i++) {
        assert_true(record_attempt_undo(d->attempt, d->desk.model.now_ms));
    }
    look(d);
}

static void press(slip_desk *d, int key, unsigned mods, bool is_repeat)
{
    d->desk.input.has_mouse = false;
    view_input_key(&d->desk.input, key, mods, is_repeat);
    frame(d);
}

static job_action next_of(const slip_desk *d)
{
    job_action action;
    assert_true(job_expert_next(&d->desk.what.setup, d->desk.model.state, &action));
    return action;
}

/* The expert works until this verb is due. */
static void bring_to(slip_desk *d, job_verb verb)
{
    frame(d);
    for (int i = 0; i < 2000; i++) {
        const job_action action = next_of(d);
        if (action.verb == verb) {
            return;
        }
        do_it(d, &action);
        frame(d);
        assert_false(view__slip_is_up(d->desk.job));
    }
    fail();
}

/* The next thing to do, done badly. */
static void slip_at(slip_desk *d, job_verb verb, int slot, double value)
{
    bring_to(d, verb);
    job_action action = next_of(d);
    action.arg[slot] = value;
    do_it(d, &action);
    frame(d);
}

static bool shows(const slip_desk *d, const char *key)
{
    return draw_says(d->desk.draw, tr_word(d->desk.lang, key));
}

static tr_hash hash_of(const slip_desk *d)
{
    return job_state_hash(&d->desk.what.setup, d->desk.model.state);
}

static void check_undo(int key, unsigned mods, const char *button)
{
    static slip_desk d;
    open_desk(&d, JOB_GUIDED, "en");
    bring_to(&d, JOB_DO_DRIVE_INSERT);
    const tr_hash before = hash_of(&d);
    const size_t count = d.desk.model.trace_count;
    const int row = d.desk.job->row;
    slip_at(&d, JOB_DO_DRIVE_INSERT, JOB_DRIVE_INSERT_PROUD, 0.004);
    assert_true(view__slip_is_up(d.desk.job));
    assert_int_equal(d.desk.job->slip.slip[0].criterion, SCENARIO_INSERT_SEAT);
    assert_true(shows(&d, "slip.insert_seat.name") && shows(&d, "slip.undo"));
    if (button != NULL) {
        for (int i = 0; i < 60 && strcmp(view_focus_label(&d.desk.ui), tr_word(d.desk.lang, button)) != 0; i++) {
            press(&d, VIEW_KEY_TAB, 0, false);
            frame(&d); /* the focus is seen in the frame after it moved */
        }
    }
    press(&d, key, mods, false);
    frame(&d);
    assert_int_equal(d.desk.model.trace_count, count);
    const tr_hash after = hash_of(&d);
    assert_memory_equal(&before, &after, sizeof before);
    assert_false(view__slip_is_up(d.desk.job));
    assert_int_equal(d.desk.job->stage, JOB_STAGE_INSERT);
    assert_int_equal(d.desk.job->row, row);
    const job_action again = next_of(&d); /* it can be done at once, and rightly */
    assert_int_equal(again.verb, JOB_DO_DRIVE_INSERT);
    do_it(&d, &again);
    frame(&d);
    assert_false(view__slip_is_up(d.desk.job));
    close_desk(&d);
}

static void undo_leaves_everything_as_it_was(void **state)
{
    (void)state;
    check_undo('Z', VIEW_CTRL, NULL);
    check_undo(VIEW_KEY_ENTER, 0, "slip.undo");
}

/* A gesture that ends in three actions of one frame is one. */
static void undo_takes_back_the_whole_gesture(void **state)
{
    (void)state;
    static slip_desk d;
    open_desk(&d, JOB_GUIDED, "en");
    bring_to(&d, JOB_DO_DRIVE_INSERT);
    const tr_hash before = hash_of(&d);
    const int row = d.desk.job->row;
    const int64_t now = d.desk.model.now_ms;
    const job_action fast = job_make(JOB_DO_SET_DRIVER_SPEED, now, (double[]){1500.0}, 1);
    const job_action drive = job_make(JOB_DO_DRIVE_INSERT, now, (double[]){row}, 1);
    do_it(&d, &fast);
    do_it(&d, &drive);
    frame(&d);
    assert_true(view__slip_is_up(d.desk.job));
    press(&d, 'Z', VIEW_CTRL, false);
    const tr_hash after = hash_of(&d);
    assert_memory_equal(&before, &after, sizeof before);
    close_desk(&d);
}

/* A try that was refused has left its count behind, and a signature has closed the sheet: both are taken back. */
static void check_undo_of(const job_action *action, job_verb due, scenario_criterion slip)
{
    static slip_desk d;
    open_desk(&d, JOB_GUIDED, "en");
    bring_to(&d, due);
    if (action->verb == JOB_DO_DRILL) {
        const job_action off = job_make(JOB_DO_GLASSES, d.desk.model.now_ms, (const double[]){0.0}, 1);
        do_it(&d, &off);
        frame(&d);
    }
    const tr_hash before = hash_of(&d);
    do_it(&d, action);
    frame(&d);
    assert_true(view__slip_is_up(d.desk.job));
    bool is_named = false;
    for (int i = 0; i < d.desk.job->slip.count; i++) {
        is_named = is_named || d.desk.job->slip.slip[i].criterion == slip;
    }
    assert_true(is_named);
    press(&d, 'Z', VIEW_CTRL, false);
    const tr_hash after = hash_of(&d);
    assert_memory_equal(&before, &after, sizeof before);
    assert_false(d.desk.model.state->is_signed);
    close_desk(&d);
}

static void a_refused_try_and_a_signature_are_undone(void **state)
{
    (void)state;
    const job_action drill = job_make(JOB_DO_DRILL, 0, (const double[]){1.0, 0.04}, 2);
    const job_action sign = job_make(JOB_DO_SIGN, 0, NULL, 0);
    check_undo_of(&drill, JOB_DO_DRILL, SCENARIO_GLASSES);
    check_undo_of(&sign, JOB_DO_COLLAR, SCENARIO_FINISH);
}

static void check_going_on(int key)
{
    static slip_desk d;
    open_desk(&d, JOB_GUIDED, "es");
    slip_at(&d, JOB_DO_DRIVE_INSERT, JOB_DRIVE_INSERT_PROUD, 0.004);
    const size_t count = d.desk.model.trace_count;
    press(&d, VIEW_KEY_ENTER, 0, true); /* a held key that repeats answers nothing */
    assert_true(view__slip_is_up(d.desk.job));
    press(&d, key, 0, false);
    frame(&d);
    assert_false(view__slip_is_up(d.desk.job));
    assert_false(d.desk.job->leave_open);
    assert_int_equal(d.desk.model.trace_count, count);
    for (int i = 0; i < 5; i++) { /* it does not come back by itself */
        frame(&d);
        assert_false(view__slip_is_up(d.desk.job));
    }
    const job_action next = next_of(&d);
    do_it(&d, &next);
    frame(&d);
    assert_false(view__slip_is_up(d.desk.job));
    close_desk(&d);
}

static void going_on_puts_it_away(void **state)
{
    (void)state;
    check_going_on(VIEW_KEY_ESCAPE);
    check_going_on(VIEW_KEY_ENTER);
}

static void the_next_action_puts_it_away(void **state)
{
    (void)state;
    static slip_desk d;
    open_desk(&d, JOB_GUIDED, "en");
    slip_at(&d, JOB_DO_DRIVE_INSERT, JOB_DRIVE_INSERT_PROUD, 0.004);
    const job_action next = next_of(&d);
    do_it(&d, &next);
    frame(&d);
    assert_false(view__slip_is_up(d.desk.job));
    close_desk(&d);
}

static void nothing_shows_in_practice_and_assessment(void **state)
{
    (void)state;
    static slip_desk d;
    for (int mode = JOB_PRACTICE; mode <= JOB_ASSESSMENT; mode++) {
        open_desk(&d, (job_mode)mode, "en");
        slip_at(&d, JOB_DO_DRIVE_INSERT, JOB_DRIVE_INSERT_PROUD, 0.004);
        assert_false(view__slip_is_up(d.desk.job));
        assert_false(shows(&d, "slip.undo"));
        close_desk(&d);
    }
}

/* ---- by hand -------------------------------------------------------------------------------------------------------- */

static void hold(slip_desk *d, int key, float seconds)
{
    d->desk.input.has_mouse = false;
    d->desk.input.held[key] = true;
    view_input_key(&d->desk.input, key, 0, false);
    for (int i = (int)lroundf(seconds * 60.0F); i > 0; i--) {
        frame(d);
    }
    d->desk.input.held[key] = false;
    for (int i = 0; i < 3; i++) {
        frame(d);
    }
}

typedef struct gesture {
    job_stage stage;
    job_verb before; /* brought to where this is due */
    int key;
    float seconds;
    int done; /* key that says done, 0 = letting go does */
    job_verb verb;
    scenario_criterion slip;
} gesture;

/* With the speed set wrong, held far too long, let go too soon, or with nothing held that had to be. */
static const gesture gestures[] = {
    {JOB_STAGE_DRILL, JOB_DO_DRILL, 'W', 8.0F, 'E', JOB_DO_DRILL, SCENARIO_DRILL_SPEED},
    {JOB_STAGE_INSERT, JOB_DO_DRIVE_INSERT, 'W', 9.0F, 'E', JOB_DO_DRIVE_INSERT, SCENARIO_INSERT_SEAT},
    {JOB_STAGE_CRIMP, JOB_DO_PUSH_HOME, 'U', 0.8F, 0, JOB_DO_PUSH_HOME, SCENARIO_CABLE_SEAT},
    {JOB_STAGE_JOIN, JOB_DO_UNSCREW_STUD, 'U', 0.05F, 0, JOB_DO_UNSCREW_STUD, SCENARIO_BODY_HELD},
};

static void do_gesture(slip_desk *d, const gesture *one)
{
    if (one->verb == JOB_DO_DRILL) { /* it was set rightly by whoever had it before */
        d->desk.job->tools.drill.rpm = 300.0F;
    }
    hold(d, one->key, one->seconds);
    if (one->done != 0) {
        hold(d, one->done, 0.05F);
    }
    const job_action *actions = NULL;
    const size_t count = record_attempt_actions(d->attempt, &actions);
    if (count == 0 || actions[count - 1].verb != one->verb) {
        fail_msg("%s was not done", job_verb_look(one->verb)->name);
    }
}

static void check_gesture(const gesture *one)
{
    static slip_desk d;
    open_desk(&d, JOB_GUIDED, "en");
    bring_to(&d, one->before);
    const job_action due = next_of(&d);
    view_job_show(d.desk.job, one->stage, job_action_row(&due));
    const tr_hash before = hash_of(&d);
    const size_t count = d.desk.model.trace_count;
    do_gesture(&d, one);
    assert_true(view__slip_is_up(d.desk.job));
    bool is_named = false;
    for (int i = 0; i < d.desk.job->slip.count; i++) {
        is_named = is_named || d.desk.job->slip.slip[i].criterion == one->slip;
    }
    if (!is_named) {
        fail_msg("after %s it was %s that was named", job_verb_look(one->verb)->name,
                 d.desk.job->slip.slip[0].criterion < SCENARIO_CRITERIA
                     ? scenario_criterion_look(d.desk.job->slip.slip[0].criterion)->key
                     : "a stop fault");
    }
    press(&d, 'Z', VIEW_CTRL, false);
    while (d.desk.model.trace_count > count) { /* tools taken up before the gesture */
        press(&d, 'Z', VIEW_CTRL, false);
    }
    frame(&d);
    const tr_hash after = hash_of(&d);
    assert_memory_equal(&before, &after, sizeof before);
    assert_int_equal(d.desk.job->stage, one->stage);
    do_gesture(&d, one); /* at once, by the same hand */
    assert_true(view__slip_is_up(d.desk.job));
    close_desk(&d);
}

static void a_gesture_can_be_repeated_after_undo(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof gestures / sizeof gestures[0]; i++) {
        check_gesture(&gestures[i]);
    }
}

/* ---- looks ---------------------------------------------------------------------------------------------------------- */

typedef struct shown {
    job_verb verb;
    int slot;
    double value;
} shown;

static const shown shown_slips[] = {
    {JOB_DO_MARK_ROW, JOB_MARK_ROW_ERROR, 0.005},
    {JOB_DO_DRILL, JOB_DRILL_DEPTH, 0.020},
    {JOB_DO_DRILL, JOB_DRILL_PITCH, 0.1},
    {JOB_DO_DRIVE_INSERT, JOB_DRIVE_INSERT_PROUD, 0.004},
    {JOB_DO_CUT_CABLE, JOB_CUT_CABLE_ERROR, 0.012},
    {JOB_DO_PUSH_HOME, JOB_PUSH_HOME_DEPTH, 0.010},
    {JOB_DO_UNSCREW_STUD, JOB_UNSCREW_STUD_HELD, 0.0},
    {JOB_DO_TURN_BODY, JOB_TURN_BODY_TURNS, 20.0},
};

typedef struct sight {
    float width, height, text;
    const char *code;
} sight;

static const sight sights[] = {{1280, 800, 1, "en"}, {1024, 640, 1, "es"}, {1280, 800, 2, "es"}, {1024, 640, 2, "en"}};

static int faults_of(view_fonts *fonts, const sight *at, const shown *what)
{
    static slip_desk d;
    open_desk(&d, JOB_GUIDED, at->code);
    d.desk.input.width = at->width;
    d.desk.input.height = at->height;
    d.desk.prefs.text_scale = at->text;
    d.desk.metrics = view_fonts_metrics(fonts); /* letters as they really are */
    slip_at(&d, what->verb, what->slot, what->value);
    assert_true(view__slip_is_up(d.desk.job));
    frame(&d);
    const int faults = text_faults(d.desk.draw, &d.desk.metrics, at->width, at->height, 20);
    if (faults > 0) {
        print_error("%s at %g x %g, text %g, %s\n", job_verb_look(what->verb)->name, (double)at->width,
                    (double)at->height, (double)at->text, at->code);
    }
    close_desk(&d);
    return faults;
}

static void no_text_is_cut_or_covered(void **state)
{
    (void)state;
    char why[TR_TEXT_CAP];
    int faults = 0;
    view_fonts *fonts = NULL;
    assert_int_equal(view_fonts_open(NULL, 0, &fonts, why, sizeof why), TR_OK);
    for (size_t i = 0; i < sizeof sights / sizeof sights[0]; i++) {
        for (size_t j = 0; j < sizeof shown_slips / sizeof shown_slips[0]; j++) {
            faults += faults_of(fonts, &sights[i], &shown_slips[j]);
        }
    }
    view_fonts_close(fonts);
    assert_int_equal(faults, 0);
}

/* ---- why ------------------------------------------------------------------------------------------------------------ */

/* Every frame of the expert's work with the reason asked for: each stage shows what often goes wrong in it, many steps
 * show a number, and no text is cut off. */
static int faults_of_why(view_fonts *fonts, const sight *at, bool has_stage[JOB_STAGE_COUNT])
{
    static slip_desk d;
    int faults = 0;
    int numbers = 0;
    char text[TR_TEXT_CAP];
    job_action action;
    open_desk(&d, JOB_GUIDED, at->code);
    d.desk.input.width = at->width;
    d.desk.input.height = at->height;
    d.desk.prefs.text_scale = at->text;
    d.desk.metrics = view_fonts_metrics(fonts);
    frame(&d);
    assert_false(d.desk.job->why.is_open);
    press(&d, 'I', 0, false);
    assert_true(d.desk.job->why.is_open);
    while (job_expert_next(&d.desk.what.setup, d.desk.model.state, &action)) {
        const job_stage stage = job_verb_look(action.verb)->stage;
        frame(&d);
        numbers += view__why_number(&d.desk.ui, d.desk.job, &d.desk.model, text, sizeof text) ? 1 : 0;
        assert_null(strchr(text, '{'));
        assert_null(strstr(text, "number."));
        view__why_wrong(&d.desk.ui, d.desk.job, text, sizeof text);
        assert_null(strstr(text, "wrong."));
        if (!has_stage[stage]) {
            faults += text_faults(d.desk.draw, &d.desk.metrics, at->width, at->height, 20);
        }
        has_stage[stage] = true;
        do_it(&d, &action);
    }
    assert_true(numbers > 50);
    press(&d, 'I', 0, false);
    close_desk(&d);
    return faults;
}

static void the_reason_is_told_when_asked_for(void **state)
{
    (void)state;
    char why[TR_TEXT_CAP];
    view_fonts *fonts = NULL;
    assert_int_equal(view_fonts_open(NULL, 0, &fonts, why, sizeof why), TR_OK);
    int faults = 0;
    for (size_t i = 0; i < sizeof sights / sizeof sights[0]; i++) {
        bool has_stage[JOB_STAGE_COUNT] = {false};
        faults += faults_of_why(fonts, &sights[i], has_stage);
        for (int stage = 0; stage < JOB_STAGE_COUNT; stage++) {
            assert_true(has_stage[stage]);
        }
    }
    view_fonts_close(fonts);
    assert_int_equal(faults, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(undo_leaves_everything_as_it_was),
        cmocka_unit_test(undo_takes_back_the_whole_gesture),
        cmocka_unit_test(a_refused_try_and_a_signature_are_undone),
        cmocka_unit_test(going_on_puts_it_away),
        cmocka_unit_test(the_next_action_puts_it_away),
        cmocka_unit_test(nothing_shows_in_practice_and_assessment),
        cmocka_unit_test(a_gesture_can_be_repeated_after_undo),
        cmocka_unit_test(no_text_is_cut_or_covered),
        cmocka_unit_test(the_reason_is_told_when_asked_for),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
