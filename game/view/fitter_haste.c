/* What a hasty hand believes: that all it has done is well done. It goes through the work as the careful installer
 * advises, but on that belief; nothing is looked at twice, mended, squared up or measured. */
#include "fitter.h"

#include <math.h>
#include <string.h>

static const double ABOUT_M = 0.005;  /* a crimper so near its place is taken to be there */
static const double MOST_TURNS = 6.0; /* then it loses patience with a row */

/* The crimp that is asked for, as the careful installer makes it on a run of his own. */
static void learn_crimp(view_fitter *f)
{
    const job_setup *setup = &f->model->what->setup;
    job_state own;
    job_action action;
    if (f->crimp_asked.squeeze_count > 0) {
        return;
    }
    job_start(setup, &own);
    while (job_expert_next(setup, &own, &action) && job_verb_look(action.verb)->stage <= JOB_STAGE_CRIMP) {
        (void)job_apply(setup, &own, &action);
    }
    for (int i = 0; i < setup->structure.row_count; i++) {
        f->crimp_asked = setup->is_trainees[i] ? own.row[i].crimp : f->crimp_asked;
    }
}

static void believe_row(const job_setup *setup, const mech_crimp *asked, job_row *row)
{
    const int squeezes = row->crimp.squeeze_count;
    row->height_error_m = row->mark_error_m = row->length_error_m = row->slip_m = row->crimp_slip_m = 0.0;
    row->seat.proud_m = 0.0;
    row->hole.diameter_m = fmax(row->hole.diameter_m, setup->bit[setup->right_bit].diameter_m);
    row->hole.depth_m = fmax(row->hole.depth_m, setup->hole_depth_m);
    row->pulled_n = row->pulled_n > 0.0 ? setup->hand_pull_n : 0.0;
    row->marked_pull_n = setup->hand_pull_n;
    row->is_frayed = false;
    row->crimp.seated_m = row->crimp.seated_m > 0.0 ? setup->crimp.bore_m : 0.0;
    if (squeezes > 0) {
        row->crimp = *asked;
        row->crimp.squeeze_count = squeezes < asked->squeeze_count ? squeezes : asked->squeeze_count;
    }
    for (int i = squeezes; i < asked->squeeze_count && i <= squeezes; i++) {
        const double place_m = asked->squeeze[i].position_m;
        row->die_m = fabs(row->die_m - place_m) < ABOUT_M ? place_m : row->die_m;
    }
    row->has_seat_mark = row->is_crimp_gauged = true;
    row->engaged.twist_turns = 0.0;
}

/* The work as a hasty hand thinks that it stands; a row that is joined is no business of its any more. */
static void believe(job_setup *setup, const mech_crimp *asked, job_state *state)
{
    setup->fault_count = 0;
    state->pole_error_m = 0.0;
    state->is_post_sighted = true;
    state->drill_rpm = 0.5 * (setup->drill_rpm.low + setup->drill_rpm.high);
    state->driver_rpm = 0.5 * (setup->driver_rpm.low + setup->driver_rpm.high);
    for (int i = 0; i < setup->structure.row_count; i++) {
        believe_row(setup, asked, &state->row[i]);
        setup->is_trainees[i] = setup->is_trainees[i] && !state->row[i].is_joined;
    }
}

/* What can be left out is left out, and taken for done. */
static bool is_left_out(job_verb verb)
{
    return verb == JOB_DO_ANSWER || verb == JOB_DO_SEAT_MARK || verb == JOB_DO_TURN_CRIMPER || verb == JOB_DO_SIGHT ||
           verb == JOB_DO_GAUGE_CRIMP || verb == JOB_DO_REPORT_FAULT || verb == JOB_DO_FREE_TWIST;
}

/* What the card has just said about this row makes even a hasty hand stop turning. */
static bool goes_wrong(const view_fitter *f, int row)
{
    const unsigned stops = JOB_EVENT_CRIMP_SLIP | JOB_EVENT_PULL_OUT | JOB_EVENT_BOTTOMED | JOB_EVENT_TOO_HEAVY;
    return f->job->last_row == row && f->job->last_verb == JOB_DO_TURN_BODY && (f->job->last.events & stops) != 0;
}

/* Each row once, from the top down, to the full target at once. */
static bool tension(view_fitter *f, job_action *goal)
{
    const job_setup *setup = &f->model->what->setup;
    const job_state *state = f->model->state;
    for (int row = setup->structure.row_count - 1; row >= 0; row--) {
        const bool is_due = state->row[row].is_joined && !f->pulled[row];
        const bool is_tight = state->rows.tension_n[row] >= setup->target_n;
        const double turns = state->row[row].turns_held + state->row[row].turns_free;
        if (is_due && !is_tight && !goes_wrong(f, row) && turns < MOST_TURNS) {
            *goal = job_make(JOB_DO_TURN_BODY, state->now_ms, (const double[]){row, 1.0}, 2);
            return true;
        }
        f->pulled[row] = f->pulled[row] || is_due;
    }
    return false;
}

static bool sign(const view_fitter *f, job_action *goal)
{
    *goal = job_make(JOB_DO_SIGN, f->model->state->now_ms, NULL, 0);
    return !f->model->state->is_signed;
}

bool fitter__hasty_goal(view_fitter *f, job_action *goal)
{
    job_setup setup = f->model->what->setup;
    job_state state = *f->model->state;
    if (state.is_signed) {
        return false;
    }
    learn_crimp(f);
    believe(&setup, &f->crimp_asked, &state);
    while (job_expert_next(&setup, &state, goal) && job_verb_look(goal->verb)->stage < JOB_STAGE_TENSION &&
           goal->verb != JOB_DO_REDO_CRIMP) {
        if (!is_left_out(goal->verb)) {
            return true;
        }
        (void)job_apply(&setup, &state, goal);
    }
    return tension(f, goal) || sign(f, goal);
}
