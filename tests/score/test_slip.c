/* Slip-ups at the moment they happen: every kind, made on some rows of a careful attempt, is named once a row, at the
 * action that makes it final, and nothing else is named with it. */
#include "attempt.h"

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"
#include "tautrow/score/slip.h"

enum { ROWS = 7, MOST_FOUND = 400 };
static const unsigned some_rows = 1U << 1 | 1U << 4;

/* Everything that is said in the course of an attempt. */
typedef struct found {
    int count;
    score_slip slip[MOST_FOUND];
    job_verb at[MOST_FOUND];
} found;

static void listen(const attempt *a, found *heard)
{
    heard->count = 0;
    for (size_t i = 1; i <= a->count; i++) {
        score_slip out[SCORE_MAX_SLIPS];
        const int count = score_slips(&a->task, a->action, i, out);
        for (int j = 0; j < count; j++) {
            assert_true(heard->count < MOST_FOUND);
            heard->at[heard->count] = a->action[i - 1].verb;
            heard->slip[heard->count++] = out[j];
        }
    }
}

static void print_found(const found *heard)
{
    for (int i = 0; i < heard->count; i++) {
        const score_slip *one = &heard->slip[i];
        print_message("  %s: %s, row %d, measured %g, lost %.2f%s, stop %d, effect %d: %g -> %g\n",
                      job_verb_look(heard->at[i])->name,
                      one->criterion < SCENARIO_CRITERIA ? scenario_criterion_look(one->criterion)->key : "-",
                      one->row + 1, one->measured, one->lost, one->is_open ? " (open)" : "", one->stop,
                      one->effect.kind, one->effect.was, one->effect.would_be);
    }
}

static found *found_in(const slip *with)
{
    attempt *a = attempt_new(ROWS);
    found *heard = calloc(1, sizeof *heard);
    assert_non_null(heard);
    do_job(a, with);
    listen(a, heard);
    print_found(heard);
    free(a);
    return heard;
}

static tr_lang *language(const char *code)
{
    static const char *const files[] = {"score.txt", "slip.txt"};
    tr_lang *lang = tr_lang_open(code);
    for (int i = 0; i < 2; i++) {
        char path[512];
        char why[TR_TEXT_CAP];
        char *text = NULL;
        size_t size = 0;
        tr_diags diags;
        tr_diags_clear(&diags);
        tr_format(path, sizeof path, "%s/assets/lang/%s/%s", TAUTROW_SOURCE, code, files[i]);
        assert_int_equal(tr_file_read(path, TR_LANG_MAX_FILE, &text, &size, why, sizeof why), TR_OK);
        assert_int_equal(tr_lang_add(lang, text, size, &diags), TR_OK);
        free(text);
    }
    return lang;
}

static void a_careful_attempt_has_none(void **state)
{
    (void)state;
    const slip none = {0};
    found *heard = found_in(&none);
    assert_int_equal(heard->count, 0);
    free(heard);
}

typedef struct kind {
    const char *what;
    slip with;
    scenario_criterion line;
    job_verb at;
    score_effect_kind effect;
    bool opens; /* said before it is final, too */
} kind;

static const kind kinds[] = {
    {"bit", {.rows = some_rows, .bit = 1}, SCENARIO_BIT, JOB_DO_DRILL, SCORE_EFFECT_GRIP, false},
    {"drill speed",
     {.rows = some_rows, .drill_rpm = 2400.0},
     SCENARIO_DRILL_SPEED,
     JOB_DO_DRILL,
     SCORE_EFFECT_GRIP,
     false},
    {"deep", {.rows = some_rows, .depth_m = 0.006}, SCENARIO_HOLE_DEPTH, JOB_DO_DRILL, SCORE_EFFECT_NONE, false},
    {"shallow",
     {.rows = some_rows, .depth_m = -0.012},
     SCENARIO_HOLE_DEPTH,
     JOB_DO_DRIVE_INSERT,
     SCORE_EFFECT_GRIP,
     true},
    {"square", {.rows = some_rows, .square_rad = 0.09}, SCENARIO_HOLE_SQUARE, JOB_DO_DRILL, SCORE_EFFECT_GRIP, false},
    {"mark", {.rows = some_rows, .mark_m = 0.005}, SCENARIO_MARK_HEIGHT, JOB_DO_DRILL, SCORE_EFFECT_OPENING, true},
    {"seat",
     {.rows = some_rows, .proud_m = 0.003},
     SCENARIO_INSERT_SEAT,
     JOB_DO_DRIVE_INSERT,
     SCORE_EFFECT_GRIP,
     false},
    {"glasses",
     {.rows = some_rows, .no_glasses_tried = true},
     SCENARIO_GLASSES,
     JOB_DO_DRILL,
     SCORE_EFFECT_NONE,
     false},
    {"hands", {.rows = some_rows, .wrong_hand = true}, SCENARIO_HANDS, JOB_DO_SCREW_STUD, SCORE_EFFECT_NONE, false},
    {"length", {.rows = some_rows, .cut_m = 0.010}, SCENARIO_CUT_LENGTH, JOB_DO_CUT_CABLE, SCORE_EFFECT_TRAVEL, false},
    {"home", {.rows = some_rows, .seat_m = 0.004}, SCENARIO_CABLE_SEAT, JOB_DO_SQUEEZE, SCORE_EFFECT_HOLD, true},
    {"squeezes",
     {.rows = some_rows, .one_squeeze = true},
     SCENARIO_SQUEEZES,
     JOB_DO_UNSCREW_STUD,
     SCORE_EFFECT_HOLD,
     false},
    {"turn", {.rows = some_rows, .turn_rad = 1.0}, SCENARIO_SQUEEZE_TURN, JOB_DO_SQUEEZE, SCORE_EFFECT_HOLD, false},
    {"body",
     {.rows = some_rows, .body_free = true},
     SCENARIO_BODY_HELD,
     JOB_DO_UNSCREW_STUD,
     SCORE_EFFECT_THREADS,
     false},
    {"stud", {.rows = some_rows, .stud_free = true}, SCENARIO_STUD_HELD, JOB_DO_TURN_BODY, SCORE_EFFECT_TENSION, false},
    {"over", {.rows = some_rows, .over_pull = 1.1}, SCENARIO_OVER_TENSION, JOB_DO_TURN_BODY, SCORE_EFFECT_NONE, false},
};

/* The row's own slip once; what else is said is of the same rows, and graver or later. */
static void check_kind(const kind *one)
{
    print_message("slip: %s\n", one->what);
    found *heard = found_in(&one->with);
    int times[MECH_MAX_ROWS] = {0};
    int opened[MECH_MAX_ROWS] = {0};
    for (int i = 0; i < heard->count; i++) {
        const score_slip *said = &heard->slip[i];
        if (said->criterion != one->line) {
            continue;
        }
        assert_true(said->row >= 0 && in(&one->with, said->row));
        if (said->is_open) {
            assert_true(said->lost == 0.0);
            opened[said->row]++;
            continue;
        }
        times[said->row]++;
        assert_int_equal(heard->at[i], one->at);
        assert_int_equal(said->effect.kind, one->effect);
        assert_true(said->lost > 0.0);
        /* past its limit a row is a stop fault, by however little */
        const double fine = one->line == SCENARIO_OVER_TENSION ? 1.0 : 0.9;
        assert_true(score_share(said->measured, said->band) < fine);
    }
    for (int row = 0; row < ROWS; row++) {
        assert_int_equal(times[row], in(&one->with, row) ? 1 : 0);
        assert_int_equal(opened[row], in(&one->with, row) && one->opens ? 1 : 0);
    }
    free(heard);
}

static void every_kind_is_named_at_its_row_once(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        check_kind(&kinds[i]);
    }
}

/* ---- of the run ---------------------------------------------------------------------------------------------------- */

static const score_slip *first_of(const found *heard, scenario_criterion criterion)
{
    for (int i = 0; i < heard->count; i++) {
        if (heard->slip[i].criterion == criterion) {
            return &heard->slip[i];
        }
    }
    return NULL;
}

static int times_of(const found *heard, scenario_criterion criterion)
{
    int times = 0;
    for (int i = 0; i < heard->count; i++) {
        times += heard->slip[i].criterion == criterion ? 1 : 0;
    }
    return times;
}

/* From the bottom up where the rule has the middle first: row 1 is early, and row 4 was due. */
static void a_row_pulled_too_early_is_named_with_the_one_that_was_due(void **state)
{
    (void)state;
    const slip up = {.bottom_up = true};
    found *heard = found_in(&up);
    const score_slip *order = first_of(heard, SCENARIO_ORDER);
    assert_non_null(order);
    assert_int_equal(order->row, 0);
    assert_int_equal(order->instead, ROWS / 2);
    assert_int_equal(order->effect.kind, SCORE_EFFECT_OFF_CENTRE);
    assert_true(order->effect.was > order->effect.would_be);
    assert_true(times_of(heard, SCENARIO_ORDER) < ROWS); /* rows whose turn it was at last are no slips */
    free(heard);
}

static void standing_in_the_line_is_said_once(void **state)
{
    (void)state;
    const slip unclear = {.not_clear = true};
    found *heard = found_in(&unclear);
    assert_int_equal(heard->count, 1);
    assert_int_equal(heard->slip[0].criterion, SCENARIO_CLEAR);
    free(heard);
}

/* No check round, no collars: nothing is wrong with it until the sheet is signed. */
static void what_is_left_undone_is_a_slip_of_signing(void **state)
{
    (void)state;
    const slip hasty = {.no_check_round = true, .leave_collars = true, .no_answers = true};
    found *heard = found_in(&hasty);
    assert_true(heard->count >= 3);
    for (int i = 0; i < heard->count; i++) {
        assert_int_equal(heard->at[i], JOB_DO_SIGN);
        assert_true(i == 0 || heard->slip[i].lost <= heard->slip[i - 1].lost);
    }
    assert_int_equal(times_of(heard, SCENARIO_FINISH), 1);
    assert_int_equal(times_of(heard, SCENARIO_ROUNDS), 1);
    assert_int_equal(times_of(heard, SCENARIO_READING), 1);
    free(heard);
}

static void a_wrong_answer_can_be_given_anew(void **state)
{
    (void)state;
    attempt *a = attempt_new(ROWS);
    score_slip out[SCORE_MAX_SLIPS];
    must(a, JOB_DO_OPEN_SHEET, 0.0, 0.0, 0.0);
    must(a, JOB_DO_ANSWER, 2.0, ROWS - 1, 0.0);
    assert_int_equal(score_slips(&a->task, a->action, a->count, out), 1);
    assert_int_equal(out[0].criterion, SCENARIO_READING);
    assert_true(out[0].is_open);
    must(a, JOB_DO_ANSWER, 2.0, ROWS, 0.0);
    assert_int_equal(score_slips(&a->task, a->action, a->count, out), 0);
    free(a);
}

/* A hole drilled in two goes is no slip: it is told that it is not deep enough yet, and then all is well. */
static void a_hole_may_be_deepened(void **state)
{
    (void)state;
    attempt *a = attempt_new(ROWS);
    score_slip out[SCORE_MAX_SLIPS];
    const job_setup *setup = &a->task.setup;
    must(a, JOB_DO_MARK_ROW, 0.0, 0.0, 0.0);
    must(a, JOB_DO_GLASSES, 1.0, 0.0, 0.0);
    must(a, JOB_DO_TAKE_BIT, setup->right_bit, 0.0, 0.0);
    must(a, JOB_DO_SET_DRILL_SPEED, 900.0, 0.0, 0.0);
    must(a, JOB_DO_DRILL, 0.0, 0.5 * setup->hole_depth_m, 0.0);
    assert_int_equal(score_slips(&a->task, a->action, a->count, out), 1);
    assert_true(out[0].is_open);
    assert_near(out[0].did, 0.5 * setup->hole_depth_m, 1e-12);
    assert_near(out[0].low, setup->hole_depth_m, 1e-12);
    must(a, JOB_DO_DRILL, 0.0, setup->hole_depth_m, 0.0);
    assert_int_equal(score_slips(&a->task, a->action, a->count, out), 0);
    must(a, JOB_DO_SET_DRIVER_SPEED, 300.0, 0.0, 0.0);
    must(a, JOB_DO_DRIVE_INSERT, 0.0, 0.0, 0.0);
    assert_int_equal(score_slips(&a->task, a->action, a->count, out), 0);
    free(a);
}

/* Hardly backed off, the body reaches the cable stud by so few threads that there are too few even at the target: told
 * when the row is hand tight. */
static void too_few_threads_are_seen_at_hand_tight(void **state)
{
    (void)state;
    attempt *a = attempt_new(ROWS);
    const slip none = {0};
    score_slip out[SCORE_MAX_SLIPS];
    for (int row = 0; row < ROWS; row++) {
        fit_wood(a, row, &none);
    }
    fit_cable(a, 0, &none);
    must(a, JOB_DO_UNSCREW_STUD, 0.0, 1.0, 0.0);
    must(a, JOB_DO_BACK_OFF, 0.0, 22.0, 0.0);
    must(a, JOB_DO_THREAD_IN, 0.0, 1.0, 0.0);
    must(a, JOB_DO_HAND_TIGHT, 0.0, a->task.setup.hand_tight_n, 0.0);
    const mech_turnbuckle *turnbuckle = &a->task.setup.turnbuckle;
    mech_rows rows = a->state.rows;
    mech_run_pull(&a->state.run, &rows, 0, a->task.setup.target_n);
    const double more =
        (rows.take_up_m[0] - a->state.rows.take_up_m[0]) / (turnbuckle->anchor.pitch_m + turnbuckle->cable.pitch_m);
    const double at_target = a->state.row[0].engaged.cable_turns + more;
    assert_true(at_target < mech_min_turns(turnbuckle, &turnbuckle->cable)); /* or the attempt is not bad enough */
    assert_int_equal(score_slips(&a->task, a->action, a->count, out), 1);
    assert_int_equal(out[0].criterion, SCENARIO_THREADS);
    assert_int_equal(out[0].stop, SCORE_STOP_FEW_THREADS);
    assert_near(out[0].effect.was, at_target, 1e-9);
    free(a);
}

/* Half a fault is lost by naming what was never there; naming what is there, and naming it once more, loses nothing. */
static void a_false_report_is_a_slip(void **state)
{
    (void)state;
    attempt *a = attempt_new(ROWS);
    score_slip out[SCORE_MAX_SLIPS];
    a->task.setup.fault_count = 1;
    a->task.setup.fault[0] = (job_fault){.kind = JOB_FAULT_ONE_SQUEEZE, .row = 2};
    must(a, JOB_DO_REPORT_FAULT, 2.0, JOB_FAULT_ONE_SQUEEZE, 0.0);
    assert_int_equal(score_slips(&a->task, a->action, a->count, out), 0);
    must(a, JOB_DO_REPORT_FAULT, 4.0, JOB_FAULT_UNSEATED, 0.0);
    assert_int_equal(score_slips(&a->task, a->action, a->count, out), 1);
    assert_int_equal(out[0].criterion, SCENARIO_FAULTS);
    assert_int_equal(out[0].row, 4);
    assert_near(out[0].lost, 0.5 * a->task.rubric.band[SCENARIO_FAULTS].weight, 1e-9);
    must(a, JOB_DO_REPORT_FAULT, 4.0, JOB_FAULT_UNSEATED, 0.0);
    assert_int_equal(score_slips(&a->task, a->action, a->count, out), 0);
    free(a);
}

/* Cut with the wrong tool the end will not go home: that is told at the cut, and not once more at the squeeze. */
static void a_splayed_end_is_told_at_the_cut(void **state)
{
    (void)state;
    attempt *a = attempt_new(ROWS);
    const slip none = {0};
    score_slip out[SCORE_MAX_SLIPS];
    const job_setup *setup = &a->task.setup;
    fit_wood(a, 0, &none);
    const double anchor[4] = {0.0, 0.0, 0.0, setup->nominal.anchor_turns};
    const double cable[4] = {0.0, 1.0, 1.0, setup->nominal.cable_turns};
    a->action[a->count] = job_make(JOB_DO_SCREW_STUD, a->now_ms, anchor, 4);
    (void)job_apply(setup, &a->state, &a->action[a->count++]);
    a->action[a->count] = job_make(JOB_DO_SCREW_STUD, a->now_ms, cable, 4);
    (void)job_apply(setup, &a->state, &a->action[a->count++]);
    must(a, JOB_DO_HANG_CABLE, 0.0, 0.0, 0.0);
    must(a, JOB_DO_PULL_CABLE, 0.0, setup->hand_pull_n, 0.0);
    must(a, JOB_DO_MARK_CABLE, 0.0, 0.0, 0.0);
    must(a, JOB_DO_TAKE_CUTTER, setup->right_cutter == 0 ? 1.0 : 0.0, 0.0, 0.0);
    must(a, JOB_DO_CUT_CABLE, 0.0, 0.0, 0.0);
    assert_int_equal(score_slips(&a->task, a->action, a->count, out), 1);
    assert_int_equal(out[0].criterion, SCENARIO_CABLE_SEAT);
    assert_int_equal(out[0].effect.kind, SCORE_EFFECT_HOLD);
    char text[1200];
    tr_lang *lang = language("en");
    score_slip_what(&out[0], lang, TR_US, text, sizeof text);
    assert_non_null(strstr(text, "frayed"));
    tr_lang_close(lang);
    must(a, JOB_DO_PUSH_HOME, 0.0, setup->crimp.bore_m, 0.0);
    assert_int_equal(score_slips(&a->task, a->action, a->count, out), 0);
    must(a, JOB_DO_PLACE_DIE, 0.0, 0.5 * setup->crimp.die_m, 0.0);
    must(a, JOB_DO_SQUEEZE, 0.0, 1.0, 0.0);
    assert_int_equal(score_slips(&a->task, a->action, a->count, out), 0);
    free(a);
}

/* What nobody is told of. */
static void a_trifle_is_let_pass(void **state)
{
    (void)state;
    const slip trifle = {.rows = some_rows, .depth_m = 0.0018, .mark_m = 0.0018};
    found *heard = found_in(&trifle);
    assert_int_equal(heard->count, 0);
    free(heard);
}

/* ---- words --------------------------------------------------------------------------------------------------------- */

static void assert_sentence(const char *text)
{
    const size_t length = strlen(text);
    if (length < 8 || strchr(text, '{') != NULL || text[length - 1] != '.' || strstr(text, "slip.") != NULL ||
        strstr(text, "stop.") != NULL || strstr(text, "effect.") != NULL || strstr(text, "mend.") != NULL ||
        strstr(text, "..") != NULL || strstr(text, "inf") == text || (text[0] >= 'a' && text[0] <= 'z')) {
        fail_msg("\"%s\"", text);
    }
}

static void check_words(const tr_lang *lang, const score_slip *said, tr_system system)
{
    char text[1200];
    score_slip_name(said, lang, text, sizeof text);
    assert_true(strlen(text) > 3 && strchr(text, '.') == NULL);
    score_slip_what(said, lang, system, text, sizeof text);
    assert_sentence(text);
    print_message("  %s", text);
    score_slip_effect(said, lang, system, text, sizeof text);
    if (text[0] != '\0') {
        assert_sentence(text);
    }
    assert_int_equal(text[0] != '\0', said->effect.kind != SCORE_EFFECT_NONE);
    print_message(" %s\n", text);
    score_slip_right(said, lang, text, sizeof text);
    assert_sentence(text);
}

static void every_kind_has_its_words(void **state)
{
    (void)state;
    static const slip others[] = {{.bottom_up = true},
                                  {.not_clear = true},
                                  {.no_check_round = true, .leave_collars = true, .no_answers = true},
                                  {.rows = some_rows, .uneven = 0.5}};
    tr_lang *langs[2] = {language("en"), language("es")};
    const size_t known = sizeof kinds / sizeof kinds[0];
    for (size_t i = 0; i < known + sizeof others / sizeof others[0]; i++) {
        found *heard = found_in(i < known ? &kinds[i].with : &others[i - known]);
        for (int j = 0; j < heard->count; j++) {
            check_words(langs[0], &heard->slip[j], TR_US);
            check_words(langs[1], &heard->slip[j], TR_SI);
        }
        free(heard);
    }
    tr_lang_close(langs[0]);
    tr_lang_close(langs[1]);
}

static void a_quarter_of_a_turn_is_said_as_one(void **state)
{
    (void)state;
    char text[1200];
    tr_lang *lang = language("en");
    const score_slip one = {.criterion = SCENARIO_STUD_HELD,
                            .stop = SCORE_STOPS,
                            .row = 2,
                            .dim = TR_DIM_TURNS,
                            .did = 0.25,
                            .low = -HUGE_VAL,
                            .effect = {.row = -1}};
    score_slip_what(&one, lang, TR_US, text, sizeof text);
    assert_non_null(strstr(text, " 0.25 "));
    tr_lang_close(lang);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_careful_attempt_has_none),
        cmocka_unit_test(every_kind_is_named_at_its_row_once),
        cmocka_unit_test(a_row_pulled_too_early_is_named_with_the_one_that_was_due),
        cmocka_unit_test(standing_in_the_line_is_said_once),
        cmocka_unit_test(what_is_left_undone_is_a_slip_of_signing),
        cmocka_unit_test(a_wrong_answer_can_be_given_anew),
        cmocka_unit_test(a_hole_may_be_deepened),
        cmocka_unit_test(too_few_threads_are_seen_at_hand_tight),
        cmocka_unit_test(a_false_report_is_a_slip),
        cmocka_unit_test(a_splayed_end_is_told_at_the_cut),
        cmocka_unit_test(a_trifle_is_let_pass),
        cmocka_unit_test(every_kind_has_its_words),
        cmocka_unit_test(a_quarter_of_a_turn_is_said_as_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
