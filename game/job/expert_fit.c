/* The expert's hands from the story pole to the second squeeze. Each stage is done on all rows before the next. */
#include "internal.h"

#include <math.h>

static const double SAME_TURNS = 1e-6;
static const double SMALL_MARK_M = 0.0016; /* a mark this good, a sixteenth of an inch, need not be made again */
static const double SMALL_DIE_M = 0.001;   /* nor a die this near its place be slid again */
static const double SMALL_POLE_M = 0.0005; /* nor a pole this near its datum be set again: no hand sets it truer */
static const double SMALL_SEAT_M = 0.0002; /* short of the bore's end: no hand feels it */
static const double SMALL_TURN_RAD = 0.17; /* off the quarter turn: ten degrees, about what an eye can tell */
static const double SMALL_PULL = 0.1;      /* share of the hand pull: a scale that reads so near is not pulled again */

static double middle(job_band band)
{
    return 0.5 * (band.low + band.high);
}

static bool is_in(job_band band, double value)
{
    return value >= band.low && value <= band.high;
}

static bool say(job_action *action, job_action what)
{
    *action = what;
    return true;
}

/* ---- wood ------------------------------------------------------------------------------------------------------- */

static bool mark(const job_state *state, int row, job_action *action)
{
    const bool is_good = state->row[row].is_marked && fabs(state->row[row].height_error_m) <= SMALL_MARK_M;
    if (is_good || state->row[row].is_drilled) {
        return false;
    }
    if (!state->is_pole_set || fabs(state->pole_error_m) > SMALL_POLE_M) {
        return say(action, job__say(state, JOB_DO_SET_POLE, 0.0, 0.0, 0.0));
    }
    return say(action, job__say(state, JOB_DO_MARK_ROW, (double)row, 0.0, 0.0));
}

/* Not drilled, or drilled too small or too shallow and still open to be put right. */
static bool wants_drilling(const job_setup *setup, const job_row *row)
{
    if (!row->is_drilled) {
        return true;
    }
    const double right_m = setup->bit[setup->right_bit].diameter_m;
    const bool is_small = row->hole.diameter_m < right_m;
    const bool is_shallow = row->bit == setup->right_bit && row->hole.depth_m < setup->insert.length_m;
    return !row->is_driven && (is_small || (is_shallow && setup->hole_depth_m > row->hole.depth_m));
}

static job_action drill(const job_setup *setup, const job_state *state, int row)
{
    const double clearings = floor(setup->hole_depth_m / (2.0 * setup->bit[setup->right_bit].diameter_m));
    const double args[] = {(double)row, setup->hole_depth_m, 0.0, 0.0, job__min(clearings, 20.0), 0.0};
    return job_make(JOB_DO_DRILL, state->now_ms, args, 6);
}

static bool drill_stage(const job_setup *setup, const job_state *state, int row, job_action *action)
{
    if (!wants_drilling(setup, &state->row[row])) {
        return false;
    }
    if (!state->has_glasses) {
        return say(action, job__say(state, JOB_DO_GLASSES, 1.0, 0.0, 0.0));
    }
    if (state->bit != setup->right_bit) {
        return say(action, job__say(state, JOB_DO_TAKE_BIT, (double)setup->right_bit, 0.0, 0.0));
    }
    if (!is_in(setup->drill_rpm, state->drill_rpm)) {
        return say(action, job__say(state, JOB_DO_SET_DRILL_SPEED, middle(setup->drill_rpm), 0.0, 0.0));
    }
    return say(action, drill(setup, state, row));
}

static bool drive_stage(const job_setup *setup, const job_state *state, int row, job_action *action)
{
    if (state->row[row].is_driven) {
        return false;
    }
    if (!is_in(setup->driver_rpm, state->driver_rpm)) {
        return say(action, job__say(state, JOB_DO_SET_DRIVER_SPEED, middle(setup->driver_rpm), 0.0, 0.0));
    }
    return say(action, job__say(state, JOB_DO_DRIVE_INSERT, (double)row, 0.0, 0.0));
}

/* ---- turnbuckle ------------------------------------------------------------------------------------------------- */

static bool screw(const job_setup *setup, const job_state *state, int row, int stud, job_action *action)
{
    const mech_engaged *engaged = &state->row[row].engaged;
    const double pitch_m = stud == 0 ? setup->turnbuckle.anchor.pitch_m : setup->turnbuckle.cable.pitch_m;
    const double wanted = stud == 0 ? setup->nominal.anchor_turns : setup->nominal.cable_turns;
    const double room = (setup->turnbuckle.body_m - job__filled_m(setup, engaged)) / pitch_m;
    const double turns = job__max(job__min(wanted, room - SAME_TURNS), 0.25);
    *action = job__say(state, JOB_DO_SCREW_STUD, (double)row, (double)stud, (double)stud);
    action->arg[JOB_SCREW_STUD_TURNS] = turns;
    return room > 0.25;
}

static bool assemble_stage(const job_setup *setup, const job_state *state, int row_index, job_action *action)
{
    const job_row *row = &state->row[row_index];
    if (job__is_assembled(row)) {
        return false;
    }
    if (!row->anchor_in) {
        return screw(setup, state, row_index, 0, action);
    }
    /* an anchor stud run in so far that the other has no place is backed off first */
    if (row->engaged.anchor_turns > setup->nominal.anchor_turns + 0.5) {
        return say(action, job__say(state, JOB_DO_BACK_OFF, (double)row_index, setup->nominal.anchor_turns, 0.0));
    }
    return screw(setup, state, row_index, 1, action);
}

/* ---- cable ------------------------------------------------------------------------------------------------------ */

static bool has_right_cutter(const job_setup *setup, const job_state *state, job_action *action)
{
    if (!state->has_glasses) {
        *action = job__say(state, JOB_DO_GLASSES, 1.0, 0.0, 0.0);
        return false;
    }
    if (state->cutter != setup->right_cutter) {
        *action = job__say(state, JOB_DO_TAKE_CUTTER, (double)setup->right_cutter, 0.0, 0.0);
        return false;
    }
    return true;
}

static bool is_well_marked(const job_setup *setup, const job_row *row)
{
    return row->is_cable_marked && fabs(row->mark_error_m) <= SMALL_MARK_M &&
           fabs(row->marked_pull_n - setup->hand_pull_n) <= 0.2 * setup->hand_pull_n;
}

static bool cut_stage(const job_setup *setup, const job_state *state, int row_index, job_action *action)
{
    const job_row *row = &state->row[row_index];
    const double at = (double)row_index;
    if (row->is_cut) {
        return false;
    }
    if (!row->is_hung) {
        return say(action, job__say(state, JOB_DO_HANG_CABLE, at, 0.0, 0.0));
    }
    if (!is_well_marked(setup, row)) {
        const bool is_pulled = fabs(row->pulled_n - setup->hand_pull_n) <= SMALL_PULL * setup->hand_pull_n;
        return say(action, is_pulled ? job__say(state, JOB_DO_MARK_CABLE, at, 0.0, 0.0)
                                     : job__say(state, JOB_DO_PULL_CABLE, at, setup->hand_pull_n, 0.0));
    }
    if (has_right_cutter(setup, state, action)) {
        *action = job__say(state, JOB_DO_CUT_CABLE, at, 0.0, 0.0);
    }
    return true;
}

static bool wants_seating(const job_setup *setup, const job_row *row)
{
    return row->crimp.squeeze_count == 0 && row->crimp.seated_m < setup->crimp.bore_m - SMALL_SEAT_M;
}

bool job__expert_squeeze(const job_setup *setup, const job_state *state, int row_index, job_action *action)
{
    const job_row *row = &state->row[row_index];
    const bool is_second = row->crimp.squeeze_count > 0;
    double position[2];
    job__crimp_plan(setup, position);
    const double place = position[is_second ? 1 : 0];
    const double angle = is_second ? row->crimp.squeeze[0].angle_rad + setup->crimp.best_turn_rad : row->die_angle_rad;
    if (!row->is_die_placed || fabs(row->die_m - place) > SMALL_DIE_M) {
        return say(action, job__say(state, JOB_DO_PLACE_DIE, (double)row_index, place, 0.0));
    }
    const double turn = angle - row->die_angle_rad;
    if (fabs(turn) > SMALL_TURN_RAD) {
        return say(action,
                   job__say(state, JOB_DO_TURN_CRIMPER, (double)row_index, job__max(-3.0, job__min(turn, 3.0)), 0.0));
    }
    return say(action, job__say(state, JOB_DO_SQUEEZE, (double)row_index, 1.0, 0.0));
}

static bool crimp_stage(const job_setup *setup, const job_state *state, int row_index, job_action *action)
{
    const job_row *row = &state->row[row_index];
    const double at = (double)row_index;
    if (row->crimp.squeeze_count >= 2 || !row->is_cut) {
        return false;
    }
    if (row->crimp.squeeze_count > 0 && row->crimp.seated_m <= 0.0) {
        return false; /* the cable has been drawn out of it: a matter of mending */
    }
    if (row->crimp.squeeze_count == 0 && row->is_frayed) { /* it will never go home: take a fresh cable */
        return say(action, job__say(state, JOB_DO_HANG_CABLE, at, 0.0, 0.0));
    }
    if (wants_seating(setup, row)) {
        return say(action, job__say(state, JOB_DO_PUSH_HOME, at, setup->crimp.bore_m, 0.0));
    }
    if (!row->has_seat_mark && row->crimp.squeeze_count == 0) {
        return say(action, job__say(state, JOB_DO_SEAT_MARK, at, 0.0, 0.0));
    }
    return job__expert_squeeze(setup, state, row_index, action);
}

/* ---- all stages ------------------------------------------------------------------------------------------------- */

static bool at_stage(const job_setup *setup, const job_state *state, job_stage stage, int row, job_action *action)
{
    if (state->row[row].is_joined) {
        return false;
    }
    const bool is_trainees = setup->is_trainees[row];
    switch (stage) {
    case JOB_STAGE_MARK:
        return is_trainees && mark(state, row, action);
    case JOB_STAGE_DRILL:
        return is_trainees && drill_stage(setup, state, row, action);
    case JOB_STAGE_INSERT:
        return is_trainees && drive_stage(setup, state, row, action);
    case JOB_STAGE_ASSEMBLE:
        return assemble_stage(setup, state, row, action);
    case JOB_STAGE_CUT:
        return cut_stage(setup, state, row, action);
    case JOB_STAGE_CRIMP:
        return crimp_stage(setup, state, row, action);
    case JOB_STAGE_READ:
    case JOB_STAGE_JOIN:
    case JOB_STAGE_TENSION:
    case JOB_STAGE_CHECK:
    case JOB_STAGE_HAND_OVER:
    case JOB_STAGE_COUNT:
        break;
    }
    return false;
}

bool job__expert_fit(const job_setup *setup, const job_state *state, job_action *action)
{
    for (int stage = JOB_STAGE_MARK; stage <= JOB_STAGE_CRIMP; stage++) {
        for (int row = 0; row < setup->structure.row_count; row++) {
            if (job__is_workable(setup, row) && at_stage(setup, state, (job_stage)stage, row, action)) {
                return true;
            }
        }
    }
    return false;
}
