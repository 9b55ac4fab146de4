/* What a slip does to the work in numbers, at the moment it happens: the same action done right, against what was done.
 * Where the rest of the work is still to come it is taken to come out as planned: a hole is told by what an insert driven
 * flush into it would hold, an order by the load that the rule's order would end with. */
#include "slip_parts.h"

#include <math.h>

#include "tautrow/job/reason.h"

/* A change smaller than this share of what it was is not worth a sentence. */
static const double least_change = 0.002;

static void tell(score_slip *slip, score_effect_kind kind, int row, double was, double would_be)
{
    const double size = fmax(fabs(was), fabs(would_be));
    if (isfinite(size) && fabs(would_be - was) > fmax(least_change * size, 1e-9)) {
        slip->effect = (score_effect){.kind = kind, .row = row, .was = was, .would_be = would_be};
    }
}

static void do_it(const score__moment *m, job_state *state, job_verb verb, const double *args, int count)
{
    const job_action action = job_make(verb, state->now_ms, args, count);
    (void)job_apply(m->c.setup, state, &action);
}

static double middle(job_band band)
{
    return 0.5 * (band.low + band.high);
}

/* The attempt as it was before the action, to do it in another way. */
static job_state *again(score__moment *m)
{
    m->c.room->work = m->before;
    return &m->c.room->work;
}

/* ---- wood ---------------------------------------------------------------------------------------------------------- */

/* Ultimate withdrawal once an insert is driven into the hole as it should be; one that is in is in. */
static double grip_to_come(const score__moment *m, job_state *state)
{
    if (!state->row[m->row].is_driven) {
        do_it(m, state, JOB_DO_SET_DRIVER_SPEED, (double[]){middle(m->c.setup->driver_rpm)}, 1);
        do_it(m, state, JOB_DO_DRIVE_INSERT, (double[]){m->row}, 1);
    }
    return state->row[m->row].grip.ultimate_n;
}

static double grip_as_done(score__moment *m)
{
    m->c.room->work = m->c.end;
    return grip_to_come(m, &m->c.room->work);
}

static void drill_right(const score__moment *m, job_state *state, scenario_criterion criterion)
{
    const job_setup *setup = m->c.setup;
    job_action drill = m->last;
    if (criterion == SCENARIO_HOLE_DEPTH) {
        drill.arg[JOB_DRILL_DEPTH] = setup->hole_depth_m;
    } else if (criterion == SCENARIO_HOLE_SQUARE) {
        drill.arg[JOB_DRILL_PITCH] = drill.arg[JOB_DRILL_YAW] = 0.0;
    } else if (criterion == SCENARIO_BIT) {
        state->bit = setup->right_bit;
    } else {
        state->drill_rpm = middle(setup->drill_rpm);
    }
    (void)job_apply(setup, state, &drill);
}

/* Seen only when the insert goes in: the hole as if it had been drilled right. */
static void drive_into_right(const score__moment *m, job_state *state, scenario_criterion criterion)
{
    mech_hole *hole = &state->row[m->row].hole;
    if (criterion == SCENARIO_BIT) {
        hole->diameter_m = m->c.setup->bit[m->c.setup->right_bit].diameter_m;
    } else {
        hole->depth_m = m->c.setup->hole_depth_m;
    }
    (void)job_apply(m->c.setup, state, &m->last);
}

static void hole_effect(score__moment *m, score_slip *slip)
{
    const double was = grip_as_done(m);
    job_state *state = again(m);
    if (m->last.verb == JOB_DO_DRIVE_INSERT) {
        drive_into_right(m, state, slip->criterion);
    } else {
        drill_right(m, state, slip->criterion);
    }
    tell(slip, SCORE_EFFECT_GRIP, m->row, was, grip_to_come(m, state));
}

static void drive_effect(score__moment *m, score_slip *slip)
{
    const double was = m->c.end.row[m->row].grip.ultimate_n;
    job_state *state = again(m);
    job_action drive = m->last;
    if (slip->criterion == SCENARIO_DRIVER_SPEED) {
        do_it(m, state, JOB_DO_SET_DRIVER_SPEED, (double[]){middle(m->c.setup->driver_rpm)}, 1);
    } else {
        drive.arg[JOB_DRIVE_INSERT_PROUD] += -m->c.end.row[m->row].seat.proud_m;
    }
    (void)job_apply(m->c.setup, state, &drive);
    tell(slip, SCORE_EFFECT_GRIP, m->row, was, state->row[m->row].grip.ultimate_n);
}

/* ---- marks --------------------------------------------------------------------------------------------------------- */

/* The weaker of the gaps beside a row, with all rows at the target. */
static double push_at_target(const score__moment *m, const mech_run *run)
{
    const job_setup *setup = m->c.setup;
    return fmin(job_push_at(run, m->row, setup->ball_m, setup->target_n),
                job_push_at(run, m->row + 1, setup->ball_m, setup->target_n));
}

static void height_effect(const score__moment *m, score_slip *slip)
{
    char why[TR_TEXT_CAP];
    mech_run run;
    mech_structure structure = m->c.end.run.made_of;
    structure.row_height_m[m->row] = m->c.setup->structure.row_height_m[m->row];
    if (m->c.setup->ball_m > 0.0 && mech_run_build(&structure, &run, why, sizeof why) == TR_OK) {
        tell(slip, SCORE_EFFECT_OPENING, -1, push_at_target(m, &m->c.end.run), push_at_target(m, &run));
    }
}

/* ---- cable and crimp ----------------------------------------------------------------------------------------------- */

double score__seat_within_reach(const score__case *c, int row, job_state *work)
{
    *work = c->end;
    const job_action push = job_make(JOB_DO_PUSH_HOME, work->now_ms, (double[]){row, c->setup->crimp.bore_m}, 2);
    (void)job_apply(c->setup, work, &push);
    return work->row[row].crimp.seated_m;
}

/* Too long, the body has to draw in what is too much; too short, as much thread stays out of it. */
static void length_effect(const score__moment *m, score_slip *slip)
{
    const job_setup *setup = m->c.setup;
    const mech_turnbuckle *turnbuckle = &setup->turnbuckle;
    const mech_engaged *plan = &setup->nominal;
    const double turns = m->c.end.row[m->row].length_error_m / (turnbuckle->anchor.pitch_m + turnbuckle->cable.pitch_m);
    if (turns >= 0.0) {
        const double room = mech_turns_to_bottom(turnbuckle, plan);
        tell(slip, SCORE_EFFECT_TRAVEL, m->row, fmax(room - turns, 0.0), room);
    } else {
        tell(slip, SCORE_EFFECT_THREADS, m->row, fmax(plan->cable_turns + turns, 0.0), plan->cable_turns);
    }
}

static double hold_of(const score__moment *m, const mech_crimp *crimp)
{
    return mech_crimp_look(&m->c.setup->crimp, crimp, m->c.setup->structure.strand.breaking_n).hold_n;
}

static mech_crimp crimp_seated(const job_setup *setup, double seated_m)
{
    mech_crimp crimp = job_crimp_asked(setup);
    crimp.seated_m = seated_m;
    return crimp;
}

static void seat_effect(score__moment *m, score_slip *slip)
{
    const job_row *row = &m->c.end.row[m->row];
    const bool is_spoilt = row->is_frayed && row->crimp.squeeze_count == 0;
    const double seated_m = is_spoilt ? score__seat_within_reach(&m->c, m->row, &m->c.room->work) : row->crimp.seated_m;
    const mech_crimp was = crimp_seated(m->c.setup, seated_m);
    const mech_crimp would_be = job_crimp_asked(m->c.setup);
    tell(slip, SCORE_EFFECT_HOLD, m->row, hold_of(m, &was), hold_of(m, &would_be));
}

static void squeeze_effect(const score__moment *m, score_slip *slip)
{
    const mech_crimp_kind *kind = &m->c.setup->crimp;
    const mech_crimp *was = &m->c.end.row[m->row].crimp;
    mech_crimp would_be = crimp_seated(m->c.setup, was->seated_m);
    if (slip->criterion == SCENARIO_SQUEEZE_TURN) {
        would_be = *was;
        for (int i = 1; i < would_be.squeeze_count; i++) {
            would_be.squeeze[i].angle_rad = would_be.squeeze[0].angle_rad + kind->best_turn_rad;
        }
    }
    tell(slip, SCORE_EFFECT_HOLD, m->row, hold_of(m, was), hold_of(m, &would_be));
}

/* ---- threads ------------------------------------------------------------------------------------------------------- */

static double turns_to_target(const score__case *c, int row)
{
    mech_rows rows = c->end.rows;
    const mech_turnbuckle *turnbuckle = &c->setup->turnbuckle;
    if (!mech_run_pull(&c->end.run, &rows, row, c->setup->target_n).converged) {
        return 0.0;
    }
    const double take_up_m = rows.take_up_m[row] - c->end.rows.take_up_m[row];
    return fmax(take_up_m, 0.0) / (turnbuckle->anchor.pitch_m + turnbuckle->cable.pitch_m);
}

double score__engagement_to_come(const score__case *c, int row, double *turns)
{
    job_row at_target = c->end.row[row];
    const double more = turns_to_target(c, row);
    at_target.engaged.anchor_turns += more;
    at_target.engaged.cable_turns += more;
    return score__engagement(c->setup, &at_target, turns);
}

static void threads_effect(const score__moment *m, score_slip *slip)
{
    double turns = 0.0;
    (void)score__engagement_to_come(&m->c, m->row, &turns);
    const mech_engaged *plan = &m->c.setup->nominal;
    tell(slip, SCORE_EFFECT_THREADS, m->row, turns,
         fmin(plan->anchor_turns, plan->cable_turns) + turns_to_target(&m->c, m->row));
}

static void body_effect(const score__moment *m, score_slip *slip)
{
    tell(slip, SCORE_EFFECT_THREADS, m->row, m->c.end.row[m->row].engaged.anchor_turns,
         m->before.row[m->row].engaged.anchor_turns);
}

/* ---- tensioning ---------------------------------------------------------------------------------------------------- */

/* Tension where there is any to tell, else the twist in the cable. */
static void stud_effect(score__moment *m, score_slip *slip)
{
    job_state *state = again(m);
    const job_state *end = &m->c.end;
    do_it(m, state, JOB_DO_PLIERS, (double[]){m->row, 1.0}, 2);
    (void)job_apply(m->c.setup, state, &m->last);
    const double was_n = end->rows.tension_n[m->row];
    const double held_n = state->rows.tension_n[m->row];
    if (fabs(held_n - was_n) >= 0.02 * m->c.setup->target_n) {
        tell(slip, SCORE_EFFECT_TENSION, m->row, was_n, held_n);
    } else {
        tell(slip, SCORE_EFFECT_TWIST, m->row, fabs(end->row[m->row].engaged.twist_turns),
             fabs(state->row[m->row].engaged.twist_turns));
    }
}

static void order_effect(const score__moment *m, score_slip *slip)
{
    int order[MECH_MAX_ROWS] = {0};
    score__order_from_here(&m->c, order);
    tell(slip, SCORE_EFFECT_OFF_CENTRE, -1, score__off_centre_of(&m->c, order),
         score__off_centre_of(&m->c, m->c.order));
}

static void off_centre_effect(const score__moment *m, score_slip *slip)
{
    const double was = m->c.end.off_centre_peak_n_m;
    tell(slip, SCORE_EFFECT_OFF_CENTRE, -1, was, was / slip->measured);
}

void score__slip_effect(score__moment *m, score_slip *slip)
{
    switch ((int)slip->criterion) {
    case SCENARIO_BIT:
    case SCENARIO_DRILL_SPEED:
    case SCENARIO_HOLE_DEPTH:
    case SCENARIO_HOLE_SQUARE:
        hole_effect(m, slip);
        break;
    case SCENARIO_INSERT_SEAT:
    case SCENARIO_DRIVER_SPEED:
        drive_effect(m, slip);
        break;
    case SCENARIO_MARK_HEIGHT:
        height_effect(m, slip);
        break;
    case SCENARIO_CUT_LENGTH:
        if (!slip->is_open) {
            length_effect(m, slip);
        }
        break;
    case SCENARIO_CABLE_SEAT:
        seat_effect(m, slip);
        break;
    case SCENARIO_SQUEEZES:
    case SCENARIO_SQUEEZE_TURN:
        squeeze_effect(m, slip);
        break;
    case SCENARIO_THREADS:
        threads_effect(m, slip);
        break;
    case SCENARIO_BODY_HELD:
        body_effect(m, slip);
        break;
    case SCENARIO_STUD_HELD:
        stud_effect(m, slip);
        break;
    case SCENARIO_ORDER:
        order_effect(m, slip);
        break;
    case SCENARIO_OFF_CENTRE:
        off_centre_effect(m, slip);
        break;
    default:
        break;
    }
}
