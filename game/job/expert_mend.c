/* The expert's answer to what is wrong with a row, whoever did it: a poor crimp, a wound-up cable, threads that are too
 * few, a cable of the wrong length. And the joining itself, because all of these end there. */
#include "internal.h"

#include <math.h>

static const double GOOD_HOLD_SHARE = 0.9; /* of what a crimp by the plan holds */
static const double WOUND_TURNS = 0.5;     /* twist worth letting out */
static const double LEAST_ANCHOR = 0.5;    /* turns that keep the body on the anchor stud */
static const double WORTH_TURNS = 1.0;     /* gain in thread or travel for which a row is taken apart again */
static const double LEAST_REACH = 0.5;     /* turns that a stud must be able to go in to be worth a try */
static const double NEAR_TURNS = 0.26;     /* a body backed off so nearly is left: fingers stop at half turns */
static const double LAST_TURNS = 1.0;      /* left for the fingers to feel after threading in */

static bool say(job_action *action, job_action what)
{
    *action = what;
    return true;
}

/* ---- where the threads would come to stand ---------------------------------------------------------------------- */

static double body_left(const job_setup *setup)
{
    return job__max(LEAST_ANCHOR, setup->nominal.anchor_turns - setup->nominal.cable_turns);
}

/* Engagement of a row threaded in evenly when its threads have made so much take-up. */
static mech_engaged engaged_at(const job_setup *setup, double threads_m)
{
    const double pitch_anchor = setup->turnbuckle.anchor.pitch_m;
    const double nominal_m = job__filled_m(setup, &setup->nominal);
    const double cable = (nominal_m + threads_m - pitch_anchor * body_left(setup)) / job__turn_m(setup);
    return (mech_engaged){.anchor_turns = cable + body_left(setup), .cable_turns = cable};
}

/* Take-up at which the row is hand tight, the others as they are. */
static double hand_tight_take_up(const job_setup *setup, const job_state *state, int row)
{
    mech_rows rows = state->rows;
    mech_run_pull(&state->run, &rows, row, setup->hand_tight_n);
    return rows.take_up_m[row];
}

/* Threads that the worse stud has over the least safe, turns. */
static double margin(const job_setup *setup, const mech_engaged *engaged)
{
    const mech_turnbuckle *turnbuckle = &setup->turnbuckle;
    return job__min(engaged->anchor_turns - mech_min_turns(turnbuckle, &turnbuckle->anchor),
                    engaged->cable_turns - mech_min_turns(turnbuckle, &turnbuckle->cable));
}

/* Shortfall of the same row with a fresh cable, cut and crimped as it should be. */
static double fresh_shortfall(const job_row *row)
{
    return row->seat.proud_m + row->slip_m - row->crimp_slip_m;
}

/* Turns that a body needs from a take-up to the target when all rows are there. */
static double turns_to_target(const job_setup *setup, const job_state *state, int row, double from_m)
{
    double tension_n[MECH_MAX_ROWS] = {0.0};
    for (int j = 0; j < setup->structure.row_count; j++) {
        tension_n[j] = state->row[j].is_joined || j == row ? setup->target_n : 0.0;
    }
    return (mech_run_take_up(&state->run, &state->rows, row, tension_n) - from_m) / job__turn_m(setup);
}

/* A cable cut so short that its stud hardly reaches, or so long that the body is full before the row is tight, is worth
 * a fresh one; but only where a fresh one would do better. */
static bool wants_fresh_cable(const job_setup *setup, const job_state *state, int row_index)
{
    const job_row *row = &state->row[row_index];
    const double take_up = hand_tight_take_up(setup, state, row_index);
    const mech_engaged as_cut = engaged_at(setup, take_up + job__shortfall(setup, row));
    const mech_engaged as_fresh = engaged_at(setup, take_up + fresh_shortfall(row));
    if (margin(setup, &as_cut) < 0.0) {
        return margin(setup, &as_fresh) > margin(setup, &as_cut) + WORTH_TURNS;
    }
    const double travel = mech_turns_to_bottom(&setup->turnbuckle, &as_cut);
    const double travel_fresh = mech_turns_to_bottom(&setup->turnbuckle, &as_fresh);
    return travel < turns_to_target(setup, state, row_index, take_up) && travel_fresh > travel + WORTH_TURNS;
}

/* ---- join ------------------------------------------------------------------------------------------------------- */

static bool thread_in(const job_setup *setup, const job_state *state, int row_index, job_action *action)
{
    const job_row *row = &state->row[row_index];
    const double threads_m = hand_tight_take_up(setup, state, row_index) + job__shortfall(setup, row);
    const double turns = engaged_at(setup, threads_m).cable_turns - LAST_TURNS;
    if (turns + LAST_TURNS < LEAST_REACH) {
        return false; /* an insert sunk so deep that no cable of the sheet's length reaches */
    }
    const double room = mech_turns_to_bottom(&setup->turnbuckle, &row->engaged);
    const double whole = floor(job__min(turns, room) * 4.0) / 4.0;
    return say(action,
               job__say(state, JOB_DO_THREAD_IN, (double)row_index, job__max(0.25, job__min(whole, 60.0)), 0.0));
}

bool job__expert_join(const job_setup *setup, const job_state *state, int row_index, job_action *action)
{
    const job_row *row = &state->row[row_index];
    const double at = (double)row_index;
    if (row->is_joined) {
        const bool is_due = !row->is_hand_tight;
        return is_due && say(action, job__say(state, JOB_DO_HAND_TIGHT, at, setup->hand_tight_n, 0.0));
    }
    if (row->crimp.squeeze_count == 0 || !row->is_driven || !row->anchor_in) {
        return false; /* nothing to join; what can be done about it has been tried */
    }
    if (row->cable_in) {
        return say(action, job__say(state, JOB_DO_UNSCREW_STUD, at, 1.0, 0.0));
    }
    if (wants_fresh_cable(setup, state, row_index)) {
        return say(action, job__say(state, JOB_DO_HANG_CABLE, at, 0.0, 0.0));
    }
    if (fabs(row->engaged.anchor_turns - body_left(setup)) > NEAR_TURNS) {
        return say(action, job__say(state, JOB_DO_BACK_OFF, at, body_left(setup), 0.0));
    }
    return thread_in(setup, state, row_index, action);
}

/* ---- crimps ----------------------------------------------------------------------------------------------------- */

static bool is_good(const job_setup *setup, const mech_crimp *crimp)
{
    const double breaking = setup->structure.strand.breaking_n;
    const mech_crimp plan = job__good_crimp(setup);
    const mech_crimp_state best = mech_crimp_look(&setup->crimp, &plan, breaking);
    const mech_crimp_state here = mech_crimp_look(&setup->crimp, crimp, breaking);
    return here.hold_n >= GOOD_HOLD_SHARE * best.hold_n && (here.passes_gauge || !best.passes_gauge);
}

/* One more squeeze by the plan would put it right. */
static bool is_good_with_one_more(const job_setup *setup, const mech_crimp *crimp)
{
    if (crimp->squeeze_count >= MECH_MAX_SQUEEZES) {
        return false;
    }
    double position[2];
    job__crimp_plan(setup, position);
    mech_crimp more = *crimp;
    more.squeeze[more.squeeze_count++] =
        (mech_squeeze){.position_m = position[1],
                       .angle_rad = crimp->squeeze[0].angle_rad + setup->crimp.best_turn_rad,
                       .closing = 1.0};
    return is_good(setup, &more);
}

/* The old crimp costs its length: a cable that would then not reach is given up at once. */
static bool is_too_short_to_redo(const job_setup *setup, const job_state *state, int row_index)
{
    const job_row *row = &state->row[row_index];
    const double take_up = hand_tight_take_up(setup, state, row_index);
    const double redone_m = fresh_shortfall(row) + row->length_error_m - setup->crimp.bore_m;
    const mech_engaged redone = engaged_at(setup, take_up + redone_m);
    const mech_engaged fresh = engaged_at(setup, take_up + fresh_shortfall(row));
    return margin(setup, &redone) < 0.0 && margin(setup, &fresh) > margin(setup, &redone) + WORTH_TURNS;
}

/* Cut off and made again, or the whole cable anew, on a row that must be slack for it. */
static bool redo(const job_setup *setup, const job_state *state, int row_index, job_action *action)
{
    const job_row *row = &state->row[row_index];
    if (job__expert_loosen(setup, state, row_index, action)) {
        return true;
    }
    if (is_too_short_to_redo(setup, state, row_index)) {
        return say(action, row->cable_in ? job__say(state, JOB_DO_UNSCREW_STUD, (double)row_index, 1.0, 0.0)
                                         : job__say(state, JOB_DO_HANG_CABLE, (double)row_index, 0.0, 0.0));
    }
    if (!state->has_glasses) {
        return say(action, job__say(state, JOB_DO_GLASSES, 1.0, 0.0, 0.0));
    }
    if (state->cutter != setup->right_cutter) {
        return say(action, job__say(state, JOB_DO_TAKE_CUTTER, (double)setup->right_cutter, 0.0, 0.0));
    }
    return say(action, job__say(state, JOB_DO_REDO_CRIMP, (double)row_index, 0.0, 0.0));
}

static bool mend_crimp(const job_setup *setup, const job_state *state, int row_index, job_action *action)
{
    const mech_crimp *crimp = &state->row[row_index].crimp;
    if (crimp->squeeze_count == 0 || is_good(setup, crimp)) {
        return false;
    }
    if (is_good_with_one_more(setup, crimp)) {
        return job__expert_squeeze(setup, state, row_index, action);
    }
    return redo(setup, state, row_index, action);
}

/* ---- threads and twist ------------------------------------------------------------------------------------------ */

static bool mend_twist(const job_setup *setup, const job_state *state, int row_index, job_action *action)
{
    const job_row *row = &state->row[row_index];
    if (!row->is_joined || fabs(row->engaged.twist_turns) <= WOUND_TURNS) {
        return false;
    }
    return job__expert_loosen(setup, state, row_index, action) ||
           say(action, job__say(state, JOB_DO_FREE_TWIST, (double)row_index, 0.0, 0.0));
}

static bool wants_rethreading(const job_setup *setup, const job_state *state, int row_index)
{
    const job_row *row = &state->row[row_index];
    if (!row->is_joined || !row->is_hand_tight) {
        return false; /* the fingers have not drawn it in yet */
    }
    /* compared as the row stands now, so that a tight row is not judged by threads that it will have when it is slack
     */
    const double take_up = state->rows.take_up_m[row_index];
    const mech_engaged even = engaged_at(setup, take_up + job__shortfall(setup, row));
    const mech_engaged fresh = engaged_at(setup, take_up + fresh_shortfall(row));
    const double now = margin(setup, &row->engaged);
    if (now < 0.0) {
        return job__max(margin(setup, &even), margin(setup, &fresh)) > now + WORTH_TURNS;
    }
    const double short_n = setup->target_n * (1.0 - setup->tolerance) - state->rows.tension_n[row_index];
    const double travel = mech_turns_to_bottom(&setup->turnbuckle, &row->engaged);
    const double travel_fresh = mech_turns_to_bottom(&setup->turnbuckle, &fresh);
    return short_n > 0.0 && travel < turns_to_target(setup, state, row_index, take_up) &&
           travel_fresh > travel + WORTH_TURNS;
}

static bool mend_threads(const job_setup *setup, const job_state *state, int row_index, job_action *action)
{
    if (!wants_rethreading(setup, state, row_index)) {
        return false;
    }
    return job__expert_loosen(setup, state, row_index, action) ||
           say(action, job__say(state, JOB_DO_UNSCREW_STUD, (double)row_index, 1.0, 0.0));
}

bool job__expert_mend(const job_setup *setup, const job_state *state, job_action *action)
{
    for (int row = 0; row < setup->structure.row_count; row++) {
        if (mend_twist(setup, state, row, action)) {
            return true;
        }
        if (!job__is_workable(setup, row)) {
            continue;
        }
        if (mend_crimp(setup, state, row, action) || mend_threads(setup, state, row, action)) {
            return true;
        }
    }
    return false;
}
