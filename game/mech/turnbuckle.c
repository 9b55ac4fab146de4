/* The turnbuckle: take-up, engagement, and turning its body with the cable stud held or not. docs/mechanics.md 5. */
#include "tautrow/mech/fittings.h"

#include <math.h>

#include "tautrow/base/assert.h"
#include "tautrow/base/units.h"

enum { STEPS_PER_TURN = 16 };

double mech_min_turns(const mech_turnbuckle *turnbuckle, const mech_thread *thread)
{
    return turnbuckle->min_engaged_diameters * thread->major_m / thread->pitch_m;
}

/* Advance of both studs together for so many turns of each, m. */
static double advance(const mech_turnbuckle *turnbuckle, double anchor_turns, double cable_turns)
{
    return turnbuckle->anchor.pitch_m * anchor_turns + turnbuckle->cable.pitch_m * cable_turns;
}

static double room_left(const mech_turnbuckle *turnbuckle, const mech_engaged *engaged)
{
    return fmax(turnbuckle->body_m - advance(turnbuckle, engaged->anchor_turns, engaged->cable_turns), 0.0);
}

double mech_turns_to_bottom(const mech_turnbuckle *turnbuckle, const mech_engaged *engaged)
{
    return room_left(turnbuckle, engaged) / advance(turnbuckle, 1.0, 1.0);
}

double mech_engaged_take_up(const mech_turnbuckle *turnbuckle, const mech_engaged *now, const mech_engaged *nominal)
{
    return advance(turnbuckle, now->anchor_turns - nominal->anchor_turns, now->cable_turns - nominal->cable_turns);
}

/* Twist at which the cable's torsion equals a torque, turns; without torsion the stud could follow for ever. */
static double twist_at(const mech_run *run, double torque_n_m)
{
    const double torsion_n_m2 = run->made_of.strand.torsion_n_m2;
    if (torsion_n_m2 <= 0.0) {
        return (double)INFINITY;
    }
    return fmax(torque_n_m, 0.0) * run->length_m / (2.0 * TR_PI * torsion_n_m2);
}

/* Torsion takes the easier way back. Wound up by tightening it turns stud and body together, so the anchor thread runs
 * loose; the stud alone would have to climb in its own thread. Wound up by loosening it backs the stud out of the body.
 */
double mech_twist_kept(const mech_run *run, const mech_turnbuckle *turnbuckle, double twist_turns, double tension_n)
{
    const mech_thread *runs_loose = twist_turns > 0.0 ? &turnbuckle->anchor : &turnbuckle->cable;
    const double held_n_m = turnbuckle->twist_release * mech_thread_lower(runs_loose, tension_n);
    return copysign(fmin(fabs(twist_turns), twist_at(run, held_n_m)), twist_turns);
}

/* One move of the body under way. */
typedef struct turning {
    const mech_run *run;
    mech_rows *rows;
    int row;
    const mech_turnbuckle *turnbuckle;
    mech_engaged *engaged;
    bool is_held;
} turning;

static double thread_torque(const turning *move, const mech_thread *thread, double direction)
{
    const double tension_n = move->rows->tension_n[move->row];
    return direction > 0.0 ? mech_thread_raise(thread, tension_n) : mech_thread_lower(thread, tension_n);
}

/* Torque at the pin to turn on in a direction (its sign alone counts). The cable stud resists by its thread when it is
 * held or slips, and by the torsion of the cable while it goes round: by whichever is less. */
static double pin_torque(const turning *move, double direction)
{
    const double anchor = thread_torque(move, &move->turnbuckle->anchor, direction);
    const double cable = thread_torque(move, &move->turnbuckle->cable, direction);
    if (move->is_held) {
        return anchor + cable;
    }
    const double twist_rad = 2.0 * TR_PI * move->engaged->twist_turns;
    const double torsion = move->run->made_of.strand.torsion_n_m2 * twist_rad / move->run->length_m;
    return anchor + fmin(cable, direction > 0.0 ? torsion : -torsion);
}

/* How far the cable stud goes round with a step of the body: until its thread would rather slip, tightening by the
 * raising torque or loosening by the lowering one. Twist in excess (the tension fell meanwhile) slips off no faster
 * than the body turns. */
static double stud_follows(const turning *move, double step)
{
    if (move->is_held) {
        return 0.0;
    }
    const double most = twist_at(move->run, thread_torque(move, &move->turnbuckle->cable, 1.0));
    const double least = -twist_at(move->run, thread_torque(move, &move->turnbuckle->cable, -1.0));
    const double twist = move->engaged->twist_turns;
    const double wanted = fmin(fmax(twist + step, least), most);
    return fmin(fmax(wanted - twist, -fabs(step)), fabs(step));
}

/* What a step of the body changes. */
static mech_engaged change_of(const turning *move, double step)
{
    const double follows = stud_follows(move, step);
    return (mech_engaged){.anchor_turns = step, .cable_turns = step - follows, .twist_turns = follows};
}

/* Share of a change that the body leaves room for, and how it ends there. */
static double share_that_fits(const turning *move, const mech_engaged *change, mech_turn_end *end)
{
    const mech_engaged *engaged = move->engaged;
    double share = 1.0;
    const double closer_m = advance(move->turnbuckle, change->anchor_turns, change->cable_turns);
    const double room_m = room_left(move->turnbuckle, engaged);
    if (closer_m > 0.0 && closer_m >= room_m) {
        share = room_m / closer_m;
        *end = MECH_TURN_BOTTOMED;
    }
    const double held[] = {engaged->anchor_turns, engaged->cable_turns};
    const double moved[] = {change->anchor_turns, change->cable_turns};
    for (int stud = 0; stud < 2; stud++) {
        if (moved[stud] < 0.0 && held[stud] + share * moved[stud] <= 0.0) {
            share = fmax(held[stud], 0.0) / -moved[stud];
            *end = MECH_TURN_CAME_OUT;
        }
    }
    return share;
}

static bool apply(const turning *move, const mech_engaged *change, double share)
{
    const double anchor = share * change->anchor_turns;
    const double cable = share * change->cable_turns;
    move->engaged->anchor_turns += anchor;
    move->engaged->cable_turns += cable;
    move->engaged->twist_turns += share * change->twist_turns;
    move->rows->take_up_m[move->row] += advance(move->turnbuckle, anchor, cable);
    return mech_run_solve(move->run, move->rows).converged;
}

/* One step. False when nothing follows it: an end was reached, or it was too heavy and has been taken back. */
static bool turn_step(const turning *move, double step, double torque_limit_n_m, mech_turn_result *result)
{
    if (pin_torque(move, step) > torque_limit_n_m) {
        result->end = MECH_TURN_TOO_HEAVY;
        return false;
    }
    const mech_rows rows_before = *move->rows;
    const mech_engaged engaged_before = *move->engaged;
    const mech_engaged change = change_of(move, step);
    mech_turn_end end = MECH_TURN_DONE;
    const double share = share_that_fits(move, &change, &end);
    const bool converged = apply(move, &change, share);
    if (pin_torque(move, step) > torque_limit_n_m) {
        *move->rows = rows_before;
        *move->engaged = engaged_before;
        result->end = MECH_TURN_TOO_HEAVY;
        return false;
    }
    result->converged = result->converged && converged;
    result->turns += share * step;
    result->lost_turns += fabs(share * change.twist_turns);
    result->end = end;
    return end == MECH_TURN_DONE;
}

mech_turn_result mech_turn_body(const mech_run *run, mech_rows *rows, int row, const mech_turnbuckle *turnbuckle,
                                mech_engaged *engaged, double turns, bool is_held, double torque_limit_n_m)
{
    TR_ASSERT(row >= 0 && row < run->made_of.row_count);
    TR_ASSERT(fabs(turns) < 1e6);
    const turning move = {
        .run = run, .rows = rows, .row = row, .turnbuckle = turnbuckle, .engaged = engaged, .is_held = is_held};
    mech_turn_result result = {.end = MECH_TURN_DONE, .converged = true};
    const int steps = (int)ceil(fabs(turns) * STEPS_PER_TURN);
    for (int i = 0; i < steps; i++) {
        if (!turn_step(&move, turns / steps, torque_limit_n_m, &result)) {
            break;
        }
    }
    result.pin_n_m = pin_torque(&move, turns);
    return result;
}
