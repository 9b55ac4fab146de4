/* Counterfactuals of the tensioning. They work by readings rather than by turns where the rows come up in another way
 * than they did: a hand on the pin follows the gauge. */
#include "parts.h"

#include <math.h>

/* A row that is let go by hand carries about this. */
static const double slack_n = 1.0;
/* The table bounds the turns of one action. */
static const double most_turns = 60.0;

static job_action say(const job_state *state, job_verb verb, int row, double value)
{
    const double args[2] = {row, value};
    return job_make(verb, state->now_ms, args, 2);
}

static void hold_stud(const score__case *c, job_state *state, int row, bool is_on)
{
    if (state->row[row].has_pliers != is_on) {
        const job_action pliers = say(state, JOB_DO_PLIERS, row, is_on ? 1.0 : 0.0);
        job_apply(c->setup, state, &pliers);
    }
}

/* Turns the body, stud held, by what the solver says takes the row to this tension. */
static void bring(const score__case *c, job_state *state, int row, double tension_n)
{
    if (!state->row[row].is_joined) {
        return;
    }
    mech_rows rows = state->rows;
    mech_run_pull(&state->run, &rows, row, fmax(tension_n, slack_n));
    const double pitches_m = c->setup->turnbuckle.anchor.pitch_m + c->setup->turnbuckle.cable.pitch_m;
    const double turns = (rows.take_up_m[row] - state->rows.take_up_m[row]) / pitches_m;
    hold_stud(c, state, row, true);
    const job_action turn = say(state, JOB_DO_TURN_BODY, row, fmax(fmin(turns, most_turns), -most_turns));
    job_apply(c->setup, state, &turn);
    hold_stud(c, state, row, false);
}

/* An action of the fitting; a row that was let go for it is let go here too. */
static void fit(const score__case *c, job_state *state, const job_action *action)
{
    const job_outcome outcome = job_apply(c->setup, state, action);
    if (outcome.refusal == JOB_REFUSE_UNDER_TENSION) {
        bring(c, state, job_action_row(action), slack_n);
        job_apply(c->setup, state, action);
    }
}

const job_state *score__fitted(score__case *c)
{
    score__room *room = c->room;
    if (!room->has_fitted) {
        job_start(c->setup, &room->fitted);
        for (size_t i = 0; i < room->count; i++) {
            if (job_verb_look(room->action[i].verb)->stage < JOB_STAGE_TENSION) {
                fit(c, &room->fitted, &room->action[i]);
            }
        }
        room->has_fitted = true;
    }
    return &room->fitted;
}

static job_state *start_fitted(score__case *c)
{
    c->room->work = *score__fitted(c);
    return &c->room->work;
}

static bool is_in_order(const score__case *c, int row)
{
    for (int i = 0; i < c->order_count; i++) {
        if (c->order[i] == row) {
            return true;
        }
    }
    return false;
}

/* Every row to the target once more, the trainee's in the rule's order and then those of the crew. */
static void check_round(const score__case *c, job_state *state)
{
    for (int i = 0; i < c->order_count; i++) {
        bring(c, state, c->order[i], c->setup->target_n);
    }
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        if (!is_in_order(c, row)) {
            bring(c, state, row, c->setup->target_n);
        }
    }
}

/* The days that passed; a trainee who brought rows up after them does so here as well. */
static void let_days_pass(const score__case *c, job_state *state)
{
    size_t last_wait = c->room->count;
    for (size_t i = 0; i < c->room->count; i++) {
        if (c->room->action[i].verb == JOB_DO_WAIT_DAYS) {
            job_apply(c->setup, state, &c->room->action[i]);
            last_wait = i;
        }
    }
    if (last_wait < c->room->turned_count) {
        check_round(c, state);
    }
}

/* Index of the k-th pull of a row in the log, k from 0, or -1. */
static int pull_of_row(const score__case *c, int row, int k)
{
    for (int i = 0; i < c->pull_count; i++) {
        if (c->pull[i].row == row && k-- == 0) {
            return i;
        }
    }
    return -1;
}

static void pull_as_before(const score__case *c, job_state *state, int index)
{
    if (index >= 0) {
        bring(c, state, c->pull[index].row, c->pull[index].after_n);
    }
}

static int most_pulls(const score__case *c)
{
    int most = 0;
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        const int pulls = score__pulls_of_row(c, row);
        most = pulls > most ? pulls : most;
    }
    return most;
}

/* Trip by trip: every row that was pulled a k-th time is, but in the rule's order; rows outside it at the end of the
 * trip. */
static void pull_in_order(const score__case *c, job_state *state)
{
    const int trips = most_pulls(c);
    for (int k = 0; k < trips; k++) {
        for (int i = 0; i < c->order_count; i++) {
            pull_as_before(c, state, pull_of_row(c, c->order[i], k));
        }
        for (int row = 0; row < c->setup->structure.row_count; row++) {
            if (!is_in_order(c, row)) {
                pull_as_before(c, state, pull_of_row(c, row, k));
            }
        }
    }
}

/* The log may not hold all pulls of a very long attempt. */
static bool has_all_pulls(const score__case *c)
{
    return c->end.pull_count <= JOB_MAX_PULL_LOG;
}

const job_state *score__in_order(score__case *c)
{
    score__room *room = c->room;
    if (!has_all_pulls(c)) {
        return NULL;
    }
    if (!room->has_ordered) {
        job_state *state = start_fitted(c);
        pull_in_order(c, state);
        let_days_pass(c, state);
        c->replays++;
        room->ordered = *state;
        room->has_ordered = true;
    }
    return &room->ordered;
}

/* Every pull to the reading it had, with the stud held. */
static const job_state *by_readings(score__case *c)
{
    if (!has_all_pulls(c)) {
        return NULL;
    }
    job_state *state = start_fitted(c);
    for (int i = 0; i < c->pull_count; i++) {
        pull_as_before(c, state, i);
    }
    let_days_pass(c, state);
    c->replays++;
    return state;
}

static bool is_all_joined(const score__case *c, const job_state *state)
{
    for (int i = 0; i < c->order_count; i++) {
        if (!state->row[c->order[i]].is_joined) {
            return false;
        }
    }
    return c->order_count > 0;
}

const job_state *score__by_sheet(score__case *c)
{
    const job_setup *setup = c->setup;
    if (c->room->has_sheet_end) {
        return &c->room->sheet_end;
    }
    job_state *state = start_fitted(c);
    if (!is_all_joined(c, state)) {
        return NULL;
    }
    mech_sheet sheet;
    const mech_limits limits = {.tension_n = setup->row_limit_n, .take_up_m = (double)INFINITY};
    mech_pull_sheet(&state->run, &state->rows, c->order, c->order_count, setup->round_share, setup->rounds,
                    setup->target_n, limits, &sheet);
    if (sheet.status != MECH_SHEET_OK) {
        return NULL;
    }
    for (int i = 0; i < sheet.pull_count; i++) {
        bring(c, state, sheet.pull[i].row, sheet.pull[i].reading_n);
    }
    if (c->order_count < setup->structure.row_count) {
        check_round(c, state); /* the sheet takes from the crew's rows, which it does not list */
    }
    let_days_pass(c, state);
    c->replays++;
    c->room->sheet_end = *state;
    c->room->has_sheet_end = true;
    return &c->room->sheet_end;
}

const job_state *score__with_check(score__case *c)
{
    score__room *room = c->room;
    if (room->turned_count == 0 || room->turned.is_signed) {
        return NULL;
    }
    room->work = room->turned;
    check_round(c, &room->work);
    for (size_t i = room->turned_count; i < room->count; i++) {
        job_apply(c->setup, &room->work, &room->action[i]);
    }
    c->replays++;
    return &room->work;
}

/* A row ends further above the target than it did, gave way or went past its limit: nobody would have turned so far
 * with the stud held. */
static bool went_too_far(const score__case *c, const job_state *state)
{
    const double enough = (1.0 + c->setup->tolerance) * c->setup->target_n;
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        if (state->peak_n[row] > fmax(c->setup->row_limit_n, c->end.peak_n[row]) ||
            state->rows.tension_n[row] > fmax(enough, c->end.rows.tension_n[row])) {
            return true;
        }
    }
    return state->slips_under_load > c->end.slips_under_load;
}

/* The same turns with the pliers on. Where that would have gone too far, the same readings with the pliers on. */
const job_state *score__with_stud_held(score__case *c)
{
    score__room *room = c->room;
    job_state *state = &room->work;
    job_start(c->setup, state);
    for (size_t i = 0; i < room->count; i++) {
        const job_action *action = &room->action[i];
        const int row = job_action_row(action);
        const bool is_turn = action->verb == JOB_DO_TURN_BODY;
        const bool was_on = is_turn && state->row[row].has_pliers;
        if (is_turn) {
            hold_stud(c, state, row, true);
        }
        job_apply(c->setup, state, action);
        if (is_turn) {
            hold_stud(c, state, row, was_on);
        }
    }
    c->replays++;
    return went_too_far(c, state) ? by_readings(c) : state;
}
