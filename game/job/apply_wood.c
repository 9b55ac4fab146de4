/* Reading the sheet, marking out, drilling and driving the inserts: what hands do to the post. docs/mechanics.md 6.
 *
 * No published source says how far a hand-held bit wanders or how far an over-fast driver overruns: the coefficients
 * here are assumptions, chosen so that a careful hand stays well inside the bands of the rubric and a careless one does
 * not. */
#include "internal.h"

#include <math.h>

#include "tautrow/base/rng.h"

/* ---- read ------------------------------------------------------------------------------------------------------- */

job_refusal job__do_open_sheet(job__work *work)
{
    work->state->is_sheet_open = true;
    return JOB_REFUSE_NONE;
}

job_refusal job__do_answer(job__work *work)
{
    work->state->answer[job__choice(work, JOB_ANSWER_QUESTION)] = job__choice(work, JOB_ANSWER_CHOICE);
    return JOB_REFUSE_NONE;
}

job_refusal job__do_hint(job__work *work)
{
    if (work->setup->mode == JOB_ASSESSMENT) {
        return JOB_REFUSE_NO_HELP_HERE;
    }
    work->state->hints++;
    return JOB_REFUSE_NONE;
}

/* ---- mark ------------------------------------------------------------------------------------------------------- */

job_refusal job__do_set_pole(job__work *work)
{
    work->state->is_pole_set = true;
    work->state->pole_error_m = job__arg(work, JOB_SET_POLE_ERROR);
    return JOB_REFUSE_NONE;
}

/* A mark may be moved until the hole is drilled. The far end is taken to be as it should be at the asked height; a row
 * is reckoned level at its mark at the near post. */
job_refusal job__do_mark_row(job__work *work)
{
    job_row *row = work->row;
    if (row->is_drilled) {
        return JOB_REFUSE_ALREADY_DRILLED;
    }
    const double before_m = row->height_error_m;
    row->height_error_m = work->state->pole_error_m + job__arg(work, JOB_MARK_ROW_ERROR);
    if (!job__rebuild(work->setup, work->state)) {
        row->height_error_m = before_m;
        return JOB_REFUSE_UNSOUND; /* so far off that rows would cross */
    }
    row->is_marked = true;
    job__settle(work->setup, work->state, &work->outcome->events);
    return JOB_REFUSE_NONE;
}

/* ---- drill ------------------------------------------------------------------------------------------------------ */

static const double WANDER_SPEED_M = 0.00025;     /* for every band's edge that the speed is off by (assumption) */
static const double WANDER_CHIPS_M = 0.00008;     /* for every clearing left out (assumption) */
static const double WANDER_SQUARE_M_RAD = 0.0015; /* for the angle out of square (assumption) */
static const double WANDER_HAND_M = 0.00002;      /* one standard deviation of a steady hand (assumption) */
static const double CHIPS_DIAMETERS = 3.0;        /* depth that a bit drills before it clogs (assumption) */

job_refusal job__do_glasses(job__work *work)
{
    work->state->has_glasses = job__arg(work, JOB_GLASSES_ON) != 0.0;
    return JOB_REFUSE_NONE;
}

job_refusal job__do_take_bit(job__work *work)
{
    const int bit = job__choice(work, JOB_TAKE_BIT_BIT);
    if (bit >= work->setup->bit_count) {
        return JOB_REFUSE_NO_SUCH_TOOL;
    }
    work->state->bit = bit;
    return JOB_REFUSE_NONE;
}

job_refusal job__do_set_drill_speed(job__work *work)
{
    work->state->drill_rpm = job__arg(work, JOB_SET_DRILL_SPEED_RPM);
    return JOB_REFUSE_NONE;
}

/* How far a speed lies outside a band, as a share of the edge that it has passed; at most 2. */
static double off_band(job_band band, double rpm)
{
    if (rpm > band.high) {
        return job__min(rpm / band.high - 1.0, 2.0);
    }
    return rpm < band.low ? job__min(band.low / rpm - 1.0, 2.0) : 0.0;
}

static double wander(const job__work *work, double diameter_m)
{
    const double pitch = job__arg(work, JOB_DRILL_PITCH);
    const double yaw = job__arg(work, JOB_DRILL_YAW);
    const double depth = job__arg(work, JOB_DRILL_DEPTH);
    const double wanted = ceil(depth / (CHIPS_DIAMETERS * diameter_m)) - 1.0;
    const double left_out = job__max(0.0, wanted - job__arg(work, JOB_DRILL_CLEARINGS));
    const double hand = tr_noise(work->setup->seed, (uint64_t)work->row_index, (uint64_t)JOB_DO_DRILL);
    return job__arg(work, JOB_DRILL_WANDER) +
           WANDER_SPEED_M * off_band(work->setup->drill_rpm, work->state->drill_rpm) + WANDER_CHIPS_M * left_out +
           WANDER_SQUARE_M_RAD * sqrt(pitch * pitch + yaw * yaw) + WANDER_HAND_M * fabs(hand);
}

static job_refusal why_not_drill(const job__work *work)
{
    const job_row *row = work->row;
    const job_state *state = work->state;
    if (!row->is_marked) {
        return JOB_REFUSE_NOT_MARKED;
    }
    if (state->bit < 0) {
        return JOB_REFUSE_NO_BIT;
    }
    if (state->drill_rpm <= 0.0) {
        return JOB_REFUSE_NO_SPEED;
    }
    if (!row->is_drilled) {
        return JOB_REFUSE_NONE;
    }
    /* Until the insert is in, a hole can be opened up or deepened; drilling the same hole again does nothing. */
    const bool is_wider = work->setup->bit[state->bit].diameter_m > row->hole.diameter_m;
    const bool is_same_bit = state->bit == row->bit;
    const bool is_deeper = job__arg(work, JOB_DRILL_DEPTH) > row->hole.depth_m;
    const bool helps = is_wider || (is_same_bit && is_deeper);
    return row->is_driven || !helps ? JOB_REFUSE_ALREADY_DRILLED : JOB_REFUSE_NONE;
}

job_refusal job__do_drill(job__work *work)
{
    const job_refusal refusal = why_not_drill(work);
    if (refusal != JOB_REFUSE_NONE) {
        return refusal;
    }
    job_row *row = work->row;
    const double diameter_m = work->setup->bit[work->state->bit].diameter_m;
    const bool is_new = !row->is_drilled;
    const mech_hole old = row->hole;
    row->is_drilled = true;
    row->bit = work->state->bit;
    row->drill_rpm = work->state->drill_rpm;
    row->clearings = job__choice(work, JOB_DRILL_CLEARINGS);
    row->hole = (mech_hole){.diameter_m = diameter_m,
                            .depth_m = job__max(job__arg(work, JOB_DRILL_DEPTH), old.depth_m),
                            .pitch_rad = job__arg(work, JOB_DRILL_PITCH),
                            .yaw_rad = job__arg(work, JOB_DRILL_YAW),
                            .wander_m = job__max(wander(work, diameter_m), old.wander_m)};
    if (!is_new) { /* a bit follows the hole that is there */
        row->hole.pitch_rad = old.pitch_rad;
        row->hole.yaw_rad = old.yaw_rad;
    }
    return JOB_REFUSE_NONE;
}

/* ---- insert ----------------------------------------------------------------------------------------------------- */

static const double OVERRUN_M = 0.003;      /* sinks by this for every top speed that the driver is over (assumption) */
static const double STRIP_SHARE = 0.4;      /* of the wood thread, likewise (assumption) */
static const double OVERRUN_SCATTER = 0.25; /* one standard deviation, as a share of the overrun (assumption) */
static const double START_SHARE = 0.94;     /* of the minor diameter: a smaller hole does not take the insert ... */
static const double DENSE_GRAVITY = 0.50;   /* ... in wood of this gravity or more; softer wood crushes (assumption) */
static const double NOTICED_PROUD_M = 0.0005; /* a flange that a thumb can feel */

job_refusal job__do_set_driver_speed(job__work *work)
{
    work->state->driver_rpm = job__arg(work, JOB_SET_DRIVER_SPEED_RPM);
    return JOB_REFUSE_NONE;
}

static bool is_too_small(const job_setup *setup, const mech_hole *hole)
{
    return setup->wood.gravity >= DENSE_GRAVITY &&
           hole->diameter_m + hole->wander_m < START_SHARE * setup->insert.minor_m;
}

static job_refusal why_not_drive(const job__work *work)
{
    const job_row *row = work->row;
    if (!row->is_drilled) {
        return JOB_REFUSE_NOT_DRILLED;
    }
    if (row->is_driven) {
        return JOB_REFUSE_ALREADY_DRIVEN;
    }
    if (work->state->driver_rpm <= 0.0) {
        return JOB_REFUSE_NO_SPEED;
    }
    return is_too_small(work->setup, &row->hole) ? JOB_REFUSE_HOLE_TOO_SMALL : JOB_REFUSE_NONE;
}

/* Where the insert comes to rest: a fast driver cannot be stopped in time, and a shallow hole stops it for good. An
 * insert that is stopped by the bottom while the driver runs on tears its thread out of the wood all the same. */
static mech_seat seat_of(const job__work *work)
{
    const double over = job__max(0.0, work->state->driver_rpm / work->setup->driver_rpm.high - 1.0);
    const double noise = tr_noise(work->setup->seed, (uint64_t)work->row_index, (uint64_t)JOB_DO_DRIVE_INSERT);
    const double overrun_m = OVERRUN_M * over * job__max(0.0, 1.0 + OVERRUN_SCATTER * noise);
    const double bottom_m = work->setup->insert.length_m - work->row->hole.depth_m; /* below the face where negative */
    return (mech_seat){.proud_m = job__max(job__arg(work, JOB_DRIVE_INSERT_PROUD) - overrun_m, bottom_m),
                       .pitch_rad = job__arg(work, JOB_DRIVE_INSERT_PITCH),
                       .yaw_rad = job__arg(work, JOB_DRIVE_INSERT_YAW),
                       .stripped = job__min(STRIP_SHARE * over, 1.0)};
}

job_refusal job__do_drive_insert(job__work *work)
{
    const job_refusal refusal = why_not_drive(work);
    if (refusal != JOB_REFUSE_NONE) {
        return refusal;
    }
    job_row *row = work->row;
    const double least_m = mech_insert_proud_least(&work->setup->insert, &row->hole);
    row->is_driven = true;
    row->driver_rpm = work->state->driver_rpm;
    row->seat = seat_of(work);
    row->grip = job__grip(work->setup, row);
    row->is_split = row->grip.split_index > 1.0;
    work->outcome->value[0] = row->grip.drive_torque_n_m;
    work->outcome->value[1] = row->seat.proud_m;
    const bool is_stopped = least_m > job__max(0.0, job__arg(work, JOB_DRIVE_INSERT_PROUD)) + NOTICED_PROUD_M;
    work->outcome->events |= row->is_split ? JOB_EVENT_SPLIT : 0U;
    work->outcome->events |= row->seat.stripped > 0.0 ? JOB_EVENT_STRIPPED : 0U;
    work->outcome->events |= is_stopped ? JOB_EVENT_PROUD : 0U;
    return JOB_REFUSE_NONE;
}
