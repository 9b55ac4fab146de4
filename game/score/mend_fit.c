/* Counterfactuals of the fitting: the same actions with one slip of the hand undone. One small step a criterion. */
#include "parts.h"

#include <math.h>

static job_outcome apply(const score__case *c, job_state *state, const job_action *action)
{
    return job_apply(c->setup, state, action);
}

/* Carries out the action with one of its numbers put right. */
static void apply_with(const score__case *c, job_state *state, size_t index, int slot, double value)
{
    job_action action = c->room->action[index];
    action.arg[slot] = value;
    apply(c, state, &action);
}

static void as_it_was(const score__case *c, job_state *state, size_t index)
{
    apply(c, state, &c->room->action[index]);
}

static bool is_verb(const score__case *c, size_t index, job_verb verb)
{
    return c->room->action[index].verb == verb;
}

static void right_height(const score__case *c, job_state *state, size_t index)
{
    if (is_verb(c, index, JOB_DO_SET_POLE)) {
        apply_with(c, state, index, JOB_SET_POLE_ERROR, 0.0);
    } else if (is_verb(c, index, JOB_DO_MARK_ROW)) {
        apply_with(c, state, index, JOB_MARK_ROW_ERROR, 0.0);
    } else {
        as_it_was(c, state, index);
    }
}

static void right_bit(const score__case *c, job_state *state, size_t index)
{
    if (is_verb(c, index, JOB_DO_TAKE_BIT)) {
        apply_with(c, state, index, JOB_TAKE_BIT_BIT, c->setup->right_bit);
    } else {
        as_it_was(c, state, index);
    }
}

static void right_depth(const score__case *c, job_state *state, size_t index)
{
    if (is_verb(c, index, JOB_DO_DRILL)) {
        apply_with(c, state, index, JOB_DRILL_DEPTH, c->setup->hole_depth_m);
    } else {
        as_it_was(c, state, index);
    }
}

static void square(const score__case *c, job_state *state, size_t index)
{
    job_action action = c->room->action[index];
    if (action.verb == JOB_DO_DRILL) {
        action.arg[JOB_DRILL_PITCH] = 0.0;
        action.arg[JOB_DRILL_YAW] = 0.0;
    }
    apply(c, state, &action);
}

static void right_seat(const score__case *c, job_state *state, size_t index)
{
    if (is_verb(c, index, JOB_DO_DRIVE_INSERT)) {
        apply_with(c, state, index, JOB_DRIVE_INSERT_PROUD, 0.0);
    } else {
        as_it_was(c, state, index);
    }
}

static double middle(job_band band)
{
    return 0.5 * (band.low + band.high);
}

static void right_driver_speed(const score__case *c, job_state *state, size_t index)
{
    if (is_verb(c, index, JOB_DO_SET_DRIVER_SPEED)) {
        apply_with(c, state, index, JOB_SET_DRIVER_SPEED_RPM, middle(c->setup->driver_rpm));
    } else {
        as_it_was(c, state, index);
    }
}

static void right_drill_speed(const score__case *c, job_state *state, size_t index)
{
    if (is_verb(c, index, JOB_DO_SET_DRILL_SPEED)) {
        apply_with(c, state, index, JOB_SET_DRILL_SPEED_RPM, middle(c->setup->drill_rpm));
    } else {
        as_it_was(c, state, index);
    }
}

/* No fewer threads left and drawn in than the plan has at hand tight; a row that is taut before takes what it can. */
static void enough_threads(const score__case *c, job_state *state, size_t index)
{
    const job_action *action = &c->room->action[index];
    const mech_engaged *plan = &c->setup->nominal;
    if (action->verb == JOB_DO_BACK_OFF) {
        const double left = fmax(plan->anchor_turns - plan->cable_turns, action->arg[JOB_BACK_OFF_LEFT]);
        apply_with(c, state, index, JOB_BACK_OFF_LEFT, left);
    } else if (action->verb == JOB_DO_THREAD_IN) {
        apply_with(c, state, index, JOB_THREAD_IN_TURNS, fmax(action->arg[JOB_THREAD_IN_TURNS], plan->cable_turns));
    } else {
        as_it_was(c, state, index);
    }
}

static void right_length(const score__case *c, job_state *state, size_t index)
{
    if (is_verb(c, index, JOB_DO_PULL_CABLE)) {
        apply_with(c, state, index, JOB_PULL_CABLE_FORCE, c->setup->hand_pull_n);
    } else if (is_verb(c, index, JOB_DO_MARK_CABLE)) {
        apply_with(c, state, index, JOB_MARK_CABLE_ERROR, 0.0);
    } else if (is_verb(c, index, JOB_DO_CUT_CABLE)) {
        apply_with(c, state, index, JOB_CUT_CABLE_ERROR, 0.0);
    } else {
        as_it_was(c, state, index);
    }
}

static void fully_home(const score__case *c, job_state *state, size_t index)
{
    if (is_verb(c, index, JOB_DO_PUSH_HOME)) {
        apply_with(c, state, index, JOB_PUSH_HOME_DEPTH, c->setup->crimp.bore_m);
    } else {
        as_it_was(c, state, index);
    }
}

/* ---- squeezes --------------------------------------------------------------------------------------------------- */

static job_action say(const job_state *state, job_verb verb, int row, double value)
{
    const double args[2] = {row, value};
    return job_make(verb, state->now_ms, args, 2);
}

static bool is_last_squeeze(const score__case *c, size_t index)
{
    const int row = job_action_row(&c->room->action[index]);
    for (size_t i = index + 1; i < c->room->count; i++) {
        if (c->room->action[i].verb == JOB_DO_SQUEEZE && job_action_row(&c->room->action[i]) == row) {
            return false;
        }
    }
    return true;
}

/* Turns the crimper to a quarter turn from the first squeeze. */
static void turn_to_quarter(const score__case *c, job_state *state, int row)
{
    const job_row *r = &state->row[row];
    const double angle = r->crimp.squeeze[0].angle_rad + c->setup->crimp.best_turn_rad - r->die_angle_rad;
    if (fabs(angle) > 1e-9) {
        const job_action turn = say(state, JOB_DO_TURN_CRIMPER, row, remainder(angle, 6.28318530717958647692));
        apply(c, state, &turn);
    }
}

/* The die as far from the other end of the barrel as it was from the first one. */
static void place_at_other_end(const score__case *c, job_state *state, int row)
{
    const double first_m = state->row[row].crimp.squeeze[0].position_m;
    const job_action place = say(state, JOB_DO_PLACE_DIE, row, c->setup->crimp.bore_m - first_m);
    apply(c, state, &place);
}

/* Every squeeze to the stop, and the one that is missing a quarter turn on. */
static void both_squeezes(const score__case *c, job_state *state, size_t index)
{
    if (!is_verb(c, index, JOB_DO_SQUEEZE)) {
        as_it_was(c, state, index);
        return;
    }
    const int row = job_action_row(&c->room->action[index]);
    apply_with(c, state, index, JOB_SQUEEZE_CLOSING, 1.0);
    if (is_last_squeeze(c, index) && state->row[row].crimp.squeeze_count == 1) {
        place_at_other_end(c, state, row);
        turn_to_quarter(c, state, row);
        const job_action squeeze = say(state, JOB_DO_SQUEEZE, row, 1.0);
        apply(c, state, &squeeze);
    }
}

static void quarter_turn(const score__case *c, job_state *state, size_t index)
{
    if (is_verb(c, index, JOB_DO_SQUEEZE)) {
        const int row = job_action_row(&c->room->action[index]);
        if (state->row[row].crimp.squeeze_count == 1) {
            turn_to_quarter(c, state, row);
        }
    }
    as_it_was(c, state, index);
}

/* ---- join ------------------------------------------------------------------------------------------------------- */

static void held_body(const score__case *c, job_state *state, size_t index)
{
    if (is_verb(c, index, JOB_DO_UNSCREW_STUD)) {
        apply_with(c, state, index, JOB_UNSCREW_STUD_HELD, 1.0);
    } else {
        as_it_was(c, state, index);
    }
}

static const score__fit_mend mends[SCENARIO_CRITERIA] = {
    [SCENARIO_MARK_HEIGHT] = {right_height, SCORE_EFFECT_OPENING, JOB_STAGE_COUNT},
    [SCENARIO_BIT] = {right_bit, SCORE_EFFECT_GRIP, JOB_STAGE_INSERT},
    [SCENARIO_DRILL_SPEED] = {right_drill_speed, SCORE_EFFECT_GRIP, JOB_STAGE_INSERT},
    [SCENARIO_HOLE_DEPTH] = {right_depth, SCORE_EFFECT_GRIP, JOB_STAGE_INSERT},
    [SCENARIO_HOLE_SQUARE] = {square, SCORE_EFFECT_GRIP, JOB_STAGE_INSERT},
    [SCENARIO_INSERT_SEAT] = {right_seat, SCORE_EFFECT_GRIP, JOB_STAGE_INSERT},
    [SCENARIO_DRIVER_SPEED] = {right_driver_speed, SCORE_EFFECT_GRIP, JOB_STAGE_INSERT},
    [SCENARIO_THREADS] = {enough_threads, SCORE_EFFECT_THREADS, JOB_STAGE_COUNT},
    [SCENARIO_CUT_LENGTH] = {right_length, SCORE_EFFECT_TRAVEL, JOB_STAGE_JOIN},
    [SCENARIO_CABLE_SEAT] = {fully_home, SCORE_EFFECT_HOLD, JOB_STAGE_CRIMP},
    [SCENARIO_SQUEEZES] = {both_squeezes, SCORE_EFFECT_HOLD, JOB_STAGE_CRIMP},
    [SCENARIO_SQUEEZE_TURN] = {quarter_turn, SCORE_EFFECT_HOLD, JOB_STAGE_CRIMP},
    [SCENARIO_BODY_HELD] = {held_body, SCORE_EFFECT_TRAVEL, JOB_STAGE_JOIN},
};

score__fit_mend score__fit_mend_of(scenario_criterion criterion)
{
    return mends[criterion];
}
