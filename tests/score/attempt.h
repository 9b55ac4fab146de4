/* A careful attempt made action by action, in which one slip at a time can be put. Shared by the tests of score. */
#ifndef TESTS_ATTEMPT_H
#define TESTS_ATTEMPT_H

#include <stdlib.h>

#include "made_up.h"
#include "near.h"
#include "tautrow/score/score.h"

enum { ATTEMPT_CAP = 2048 };

/* Everything zero is the careful hand. Where a slip concerns single rows, bit i of rows says which. */
typedef struct slip {
    unsigned rows;
    int bit;          /* added to the right bit */
    double drill_rpm; /* 0: good */
    double depth_m, square_rad, mark_m, proud_m;
    double driver_rpm; /* 0: good */
    bool wrong_hand;
    double cut_m, seat_m; /* cable too long; short of the bore's end */
    bool one_squeeze;
    double turn_rad; /* off the quarter turn */
    double back_off; /* threads fewer left on the anchor stud */
    bool body_free;
    bool stud_free;        /* same turns as with the pliers on */
    bool no_glasses_tried; /* once a row in rows */
    bool not_clear;
    bool bottom_up;
    bool no_check_round;
    double over_pull; /* a row in rows is once pulled to this share of the row limit */
    bool leave_collars;
    bool no_sign;
    bool no_answers;
    double uneven;    /* rows in rows are left this share of the target too low, check round and all */
    double wait_days; /* before signing */
    double slow;      /* times the pace */
} slip;

typedef struct attempt {
    scenario task;
    job_state state;
    size_t count;
    job_action action[ATTEMPT_CAP];
    int64_t now_ms;
    int64_t pace_ms;
} attempt;

static inline void default_rubric(scenario_rubric *rubric)
{
    static const scenario_band bands[SCENARIO_CRITERIA] = {
#define SCENARIO_CRITERION(NAME, key, STAGE, DIM, weight, full, none) {weight, full, none},
#include "tautrow/scenario/criteria.def"
    };
    memcpy(rubric->band, bands, sizeof bands);
    rubric->pass_mark = 70.0;
}

static inline job_outcome act(attempt *a, job_verb verb, double x, double y, double z)
{
    const double args[3] = {x, y, z};
    a->now_ms += a->pace_ms;
    assert_true(a->count < ATTEMPT_CAP);
    a->action[a->count] = job_make(verb, a->now_ms, args, 3);
    return job_apply(&a->task.setup, &a->state, &a->action[a->count++]);
}

static inline void must(attempt *a, job_verb verb, double x, double y, double z)
{
    const job_outcome outcome = act(a, verb, x, y, z);
    if (outcome.refusal != JOB_REFUSE_NONE) {
        fail_msg("%s refused: %s", job_verb_look(verb)->name, job_refusal_key(outcome.refusal));
    }
}

static inline bool in(const slip *one, int row)
{
    return (one->rows >> row & 1U) != 0;
}

static inline attempt *attempt_new(int rows)
{
    attempt *a = calloc(1, sizeof *a);
    assert_non_null(a);
    a->task.setup = made_up_deck(rows);
    default_rubric(&a->task.rubric);
    a->pace_ms = 2000;
    job_start(&a->task.setup, &a->state);
    return a;
}

static inline void fit_wood(attempt *a, int row, const slip *s)
{
    const job_setup *setup = &a->task.setup;
    const bool is_bad = in(s, row);
    must(a, JOB_DO_MARK_ROW, row, is_bad ? s->mark_m : 0.0, 0.0);
    if (is_bad && s->no_glasses_tried) {
        must(a, JOB_DO_GLASSES, 0.0, 0.0, 0.0);
        act(a, JOB_DO_DRILL, row, setup->hole_depth_m, 0.0);
    }
    must(a, JOB_DO_GLASSES, 1.0, 0.0, 0.0);
    must(a, JOB_DO_TAKE_BIT, setup->right_bit + (is_bad ? s->bit : 0), 0.0, 0.0);
    must(a, JOB_DO_SET_DRILL_SPEED, is_bad && s->drill_rpm > 0.0 ? s->drill_rpm : 900.0, 0.0, 0.0);
    const double drill[6] = {row, setup->hole_depth_m + (is_bad ? s->depth_m : 0.0), is_bad ? s->square_rad : 0.0, 0.0,
                             3.0};
    a->now_ms += a->pace_ms;
    a->action[a->count] = job_make(JOB_DO_DRILL, a->now_ms, drill, 6);
    assert_int_equal(job_apply(setup, &a->state, &a->action[a->count++]).refusal, JOB_REFUSE_NONE);
    must(a, JOB_DO_SET_DRIVER_SPEED, is_bad && s->driver_rpm > 0.0 ? s->driver_rpm : 300.0, 0.0, 0.0);
    must(a, JOB_DO_DRIVE_INSERT, row, is_bad ? s->proud_m : 0.0, 0.0);
}

static inline void fit_cable(attempt *a, int row, const slip *s)
{
    const job_setup *setup = &a->task.setup;
    const bool is_bad = in(s, row);
    if (is_bad && s->wrong_hand) {
        const double wrong[4] = {row, 0.0, 1.0, 4.0};
        a->action[a->count] = job_make(JOB_DO_SCREW_STUD, a->now_ms, wrong, 4);
        assert_int_equal(job_apply(setup, &a->state, &a->action[a->count++]).refusal, JOB_REFUSE_WRONG_HAND);
    }
    const double anchor[4] = {row, 0.0, 0.0, setup->nominal.anchor_turns};
    const double cable[4] = {row, 1.0, 1.0, setup->nominal.cable_turns};
    a->action[a->count] = job_make(JOB_DO_SCREW_STUD, a->now_ms, anchor, 4);
    assert_int_equal(job_apply(setup, &a->state, &a->action[a->count++]).refusal, JOB_REFUSE_NONE);
    a->action[a->count] = job_make(JOB_DO_SCREW_STUD, a->now_ms, cable, 4);
    assert_int_equal(job_apply(setup, &a->state, &a->action[a->count++]).refusal, JOB_REFUSE_NONE);
    must(a, JOB_DO_HANG_CABLE, row, 0.0, 0.0);
    must(a, JOB_DO_PULL_CABLE, row, setup->hand_pull_n, 0.0);
    must(a, JOB_DO_MARK_CABLE, row, 0.0, 0.0);
    must(a, JOB_DO_TAKE_CUTTER, setup->right_cutter, 0.0, 0.0);
    must(a, JOB_DO_CUT_CABLE, row, is_bad ? s->cut_m : 0.0, 0.0);
    must(a, JOB_DO_PUSH_HOME, row, setup->crimp.bore_m - (is_bad ? s->seat_m : 0.0), 0.0);
    must(a, JOB_DO_SEAT_MARK, row, 0.0, 0.0);
    must(a, JOB_DO_PLACE_DIE, row, 0.5 * setup->crimp.die_m, 0.0);
    must(a, JOB_DO_SQUEEZE, row, 1.0, 0.0);
    if (!(is_bad && s->one_squeeze)) {
        must(a, JOB_DO_PLACE_DIE, row, setup->crimp.bore_m - 0.5 * setup->crimp.die_m, 0.0);
        must(a, JOB_DO_TURN_CRIMPER, row, setup->crimp.best_turn_rad - (is_bad ? s->turn_rad : 0.0), 0.0);
        must(a, JOB_DO_SQUEEZE, row, 1.0, 0.0);
    }
}

static inline void join(attempt *a, int row, const slip *s)
{
    const job_setup *setup = &a->task.setup;
    const bool is_bad = in(s, row);
    must(a, JOB_DO_UNSCREW_STUD, row, is_bad && s->body_free ? 0.0 : 1.0, 0.0);
    if (!a->state.row[row].anchor_in) { /* the body dropped off */
        const double anchor[4] = {row, 0.0, 0.0, 1.0};
        a->action[a->count] = job_make(JOB_DO_SCREW_STUD, a->now_ms, anchor, 4);
        assert_int_equal(job_apply(setup, &a->state, &a->action[a->count++]).refusal, JOB_REFUSE_NONE);
    }
    const double left = setup->nominal.anchor_turns - setup->nominal.cable_turns;
    must(a, JOB_DO_BACK_OFF, row, fmax(left + 4.0 - (is_bad ? s->back_off : 0.0), 0.25), 0.0);
    must(a, JOB_DO_THREAD_IN, row, setup->nominal.cable_turns - 4.0, 0.0);
    must(a, JOB_DO_HAND_TIGHT, row, setup->hand_tight_n, 0.0);
}

/* Turns a body until the row carries tension_n, in quarter turns and a rest, as a hand does. */
static inline void pull_to(attempt *a, int row, double tension_n, const slip *s)
{
    const job_setup *setup = &a->task.setup;
    mech_rows rows = a->state.rows;
    mech_run_pull(&a->state.run, &rows, row, tension_n);
    const double pitches = setup->turnbuckle.anchor.pitch_m + setup->turnbuckle.cable.pitch_m;
    double turns = (rows.take_up_m[row] - a->state.rows.take_up_m[row]) / pitches;
    const bool is_free = s->stud_free && in(s, row);
    must(a, JOB_DO_PLIERS, row, is_free ? 0.0 : 1.0, 0.0);
    while (fabs(turns) > 1e-9) {
        const double step = fmax(fmin(turns, 0.5), -0.5);
        must(a, JOB_DO_TURN_BODY, row, step, 0.0);
        turns -= step;
    }
    must(a, JOB_DO_PLUCK, row, 0.0, 0.0);
}

static inline double wanted(const attempt *a, int row, const slip *s)
{
    return a->task.setup.target_n * (1.0 - (in(s, row) ? s->uneven : 0.0));
}

static inline void tension(attempt *a, const slip *s)
{
    const job_setup *setup = &a->task.setup;
    int order[MECH_MAX_ROWS];
    memcpy(order, setup->order, sizeof order);
    if (s->bottom_up) {
        mech_order_rows(MECH_BOTTOM_UP, setup->structure.row_count, order);
    }
    must(a, JOB_DO_STAND, s->not_clear ? 0.0 : 1.0, 0.0, 0.0);
    for (int round = 0; round < setup->rounds; round++) {
        for (int i = 0; i < setup->order_count; i++) {
            const double once = round == 0 && in(s, order[i]) ? s->over_pull * setup->row_limit_n : 0.0;
            if (once > 0.0) {
                pull_to(a, order[i], once, s);
            }
            pull_to(a, order[i], wanted(a, order[i], s) * setup->round_share[round], s);
        }
    }
    for (int i = 0; i < setup->order_count && !s->no_check_round; i++) {
        pull_to(a, setup->order[i], wanted(a, setup->order[i], s), s);
    }
    for (int i = 0; i < setup->order_count && !s->no_check_round; i++) { /* and once more, for the last few newtons */
        pull_to(a, setup->order[i], wanted(a, setup->order[i], s), s);
    }
}

static inline void hand_over(attempt *a, const slip *s)
{
    for (int row = 0; row < a->task.setup.structure.row_count; row++) {
        if (!s->leave_collars) {
            act(a, JOB_DO_COLLAR, row, 0.0, 0.0);
        }
    }
    must(a, JOB_DO_WIPE, 0.0, 0.0, 0.0);
    if (s->wait_days > 0.0) {
        must(a, JOB_DO_WAIT_DAYS, s->wait_days, 0.0, 0.0);
    }
    if (!s->no_sign) {
        must(a, JOB_DO_SIGN, 0.0, 0.0, 0.0);
    }
}

/* The whole job from bare posts. */
static inline void do_job(attempt *a, const slip *s)
{
    const job_setup *setup = &a->task.setup;
    const int rows = setup->structure.row_count;
    a->pace_ms = s->slow > 0.0 ? (int64_t)(2000.0 * s->slow) : 2000;
    must(a, JOB_DO_OPEN_SHEET, 0.0, 0.0, 0.0);
    if (!s->no_answers) {
        must(a, JOB_DO_ANSWER, 0.0, setup->right_bit, 0.0);
        must(a, JOB_DO_ANSWER, 1.0, setup->order[0] + 1, 0.0);
        must(a, JOB_DO_ANSWER, 2.0, rows, 0.0);
    }
    must(a, JOB_DO_SET_POLE, 0.0, 0.0, 0.0);
    for (int row = 0; row < rows; row++) {
        fit_wood(a, row, s);
    }
    for (int row = 0; row < rows; row++) {
        fit_cable(a, row, s);
        join(a, row, s);
    }
    tension(a, s);
    hand_over(a, s);
}

static inline score_card grade_of(const attempt *a)
{
    score_card card;
    score_grade(&a->task, a->action, a->count, &card);
    return card;
}

#endif
