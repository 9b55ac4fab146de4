/* What a careful installer would do next, decided from setup and state alone, so that it can advise in the middle of
 * anybody's work: read, fit the rows stage by stage, look the crew's work over, mend, join, tension, check, hand over.
 * It knows the true tensions, as a trainee with a good gauge nearly does. */
#include "internal.h"

/* ---- saying it -------------------------------------------------------------------------------------------------- */

job_action job__say(const job_state *state, job_verb verb, double a, double b, double c)
{
    const double args[] = {a, b, c};
    return job_make(verb, state->now_ms, args, 3);
}

/* About what the hands need for it, ms (common practice, no source). */
static int64_t pause_ms(const job_action *action)
{
    switch (action->verb) {
    case JOB_DO_DRILL:
    case JOB_DO_DRIVE_INSERT:
    case JOB_DO_SCREW_STUD:
    case JOB_DO_REDO_CRIMP:
        return 12000;
    case JOB_DO_HANG_CABLE:
    case JOB_DO_CUT_CABLE:
    case JOB_DO_SQUEEZE:
    case JOB_DO_UNSCREW_STUD:
    case JOB_DO_THREAD_IN:
    case JOB_DO_HAND_TIGHT:
        return 8000;
    case JOB_DO_TURN_BODY: {
        const double turns = action->arg[JOB_TURN_BODY_TURNS];
        return 2000 + (int64_t)(4000.0 * (turns < 0.0 ? -turns : turns));
    }
    default:
        return 3000;
    }
}

/* ---- read ------------------------------------------------------------------------------------------------------- */

/* Where no row is to be tensioned first, any row will do for an answer: rows count from 1. */
static int right_answer(const job_setup *setup, const job_state *state, int question)
{
    if (question == 0) {
        return setup->right_bit;
    }
    if (question == 1 && setup->order_count == 0) {
        return state->answer[1] > 0 ? state->answer[1] : 1;
    }
    if (question == 1) {
        return setup->order[0] + 1;
    }
    int rows = 0;
    for (int i = 0; i < setup->structure.row_count; i++) {
        rows += setup->is_trainees[i] ? 1 : 0;
    }
    return rows;
}

static bool read_sheet(const job_setup *setup, const job_state *state, job_action *action)
{
    if (!state->is_sheet_open) {
        *action = job__say(state, JOB_DO_OPEN_SHEET, 0.0, 0.0, 0.0);
        return true;
    }
    for (int question = 0; question < 3; question++) {
        const int answer = right_answer(setup, state, question);
        if (state->answer[question] != answer) {
            *action = job__say(state, JOB_DO_ANSWER, (double)question, (double)answer, 0.0);
            return true;
        }
    }
    return false;
}

/* ---- look over -------------------------------------------------------------------------------------------------- */

/* Before pulling on what others have made: an eye along the post, the crimp gauge on every crimp. */
static bool look_over(const job_setup *setup, const job_state *state, job_action *action)
{
    if (!state->is_post_sighted) {
        *action = job__say(state, JOB_DO_SIGHT, 0.0, 0.0, 0.0);
        return true;
    }
    for (int i = 0; i < setup->structure.row_count; i++) {
        if (state->row[i].crimp.squeeze_count > 0 && !state->row[i].is_crimp_gauged) {
            *action = job__say(state, JOB_DO_GAUGE_CRIMP, (double)i, 0.0, 0.0);
            return true;
        }
    }
    return false;
}

static bool report(const job_setup *setup, const job_state *state, job_action *action)
{
    for (int i = 0; i < setup->fault_count; i++) {
        const job_fault *fault = &setup->fault[i];
        const int row = fault->kind == JOB_FAULT_WET_POST ? 0 : fault->row;
        if (!state->row[row].is_fault_reported[fault->kind] && job_fault_is_present(setup, state, fault)) {
            *action = job__say(state, JOB_DO_REPORT_FAULT, (double)row, (double)fault->kind, 0.0);
            return true;
        }
    }
    return false;
}

static bool join(const job_setup *setup, const job_state *state, job_action *action)
{
    for (int i = 0; i < setup->structure.row_count; i++) {
        if (job__is_workable(setup, i) && job__expert_join(setup, state, i, action)) {
            return true;
        }
    }
    return false;
}

/* ---- check ------------------------------------------------------------------------------------------------------ */

static int64_t last_turn(const job_setup *setup, const job_state *state)
{
    int64_t last = -1;
    for (int i = 0; i < setup->structure.row_count; i++) {
        last = state->row[i].turned_at > last ? state->row[i].turned_at : last;
    }
    return last;
}

/* Gauges the rows whose reading is older than an action. */
static bool gauge_since(const job_setup *setup, const job_state *state, int64_t last, job_action *action)
{
    for (int i = 0; i < setup->structure.row_count; i++) {
        const job_row *row = &state->row[i];
        if (row->is_joined && (row->measured_at < 0 || row->measured_at < last)) {
            *action = job__say(state, JOB_DO_GAUGE, (double)i, 0.0, 0.0);
            return true;
        }
    }
    return false;
}

/* Every turn changes every row, so a reading older than the last turn anywhere is no reading. */
static bool gauge_rows(const job_setup *setup, const job_state *state, job_action *action)
{
    return gauge_since(setup, state, last_turn(setup, state), action);
}

static bool can_sign(const job_setup *setup, const job_state *state)
{
    for (int i = 0; i < setup->structure.row_count; i++) {
        const bool is_due = setup->is_trainees[i] || setup->start_stage[i] > JOB_STAGE_JOIN;
        if (is_due && !state->row[i].is_joined) {
            return false;
        }
    }
    return true;
}

/* Days that were asked to pass, once all else is done; what they have taken is measured before it is made good. */
static bool come_back(const job_setup *setup, const job_state *state, job_action *action)
{
    const double left = setup->after.days - state->days;
    if (!job__has_to_come_back(setup, state) || !can_sign(setup, state)) {
        return false;
    }
    *action = job__say(state, JOB_DO_WAIT_DAYS, job__max(left, 0.1), 0.0, 0.0);
    return true;
}

static bool gauge_again(const job_setup *setup, const job_state *state, job_action *action)
{
    return state->waited_at >= 0 && gauge_since(setup, state, state->waited_at, action);
}

static bool try_gaps(const job_setup *setup, const job_state *state, job_action *action)
{
    const int count = setup->structure.row_count;
    const int gaps = count + (setup->structure.rail.is_fitted ? 1 : 0);
    for (int gap = 0; gap < gaps; gap++) {
        const bool is_low_joined = gap == 0 || state->row[gap - 1].is_joined;
        const bool is_high_joined = gap == count || state->row[gap].is_joined;
        if (!state->is_gap_tried[gap] && is_low_joined && is_high_joined) {
            *action = job__say(state, JOB_DO_BALL, (double)gap, 0.0, 0.0);
            return true;
        }
    }
    return false;
}

/* ---- hand over -------------------------------------------------------------------------------------------------- */

static bool hand_over(const job_setup *setup, const job_state *state, job_action *action)
{
    for (int i = 0; i < setup->structure.row_count; i++) {
        if (setup->is_trainees[i] && !state->row[i].has_collar && job__collar_fits(setup, &state->row[i])) {
            *action = job__say(state, JOB_DO_COLLAR, (double)i, 0.0, 0.0);
            return true;
        }
    }
    if (!state->is_wiped) {
        *action = job__say(state, JOB_DO_WIPE, 0.0, 0.0, 0.0);
        return true;
    }
    *action = job__say(state, JOB_DO_SIGN, 0.0, 0.0, 0.0);
    return can_sign(setup, state);
}

bool job_expert_next(const job_setup *setup, const job_state *state, job_action *action)
{
    typedef bool part(const job_setup *, const job_state *, job_action *);
    static part *const parts[] = {read_sheet,  job__expert_fit,     look_over,  report,    job__expert_mend, join,
                                  gauge_again, job__expert_tension, gauge_rows, come_back, try_gaps,         hand_over};
    if (state->is_signed) {
        return false;
    }
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        job_action next;
        if (parts[i](setup, state, &next)) {
            next.at_ms = state->now_ms + pause_ms(&next);
            *action = next;
            return true;
        }
    }
    return false;
}
