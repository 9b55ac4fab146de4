/* The work as the scenario leaves it: rows done to standard up to their stage, the faults of the crew before put in,
 * and the rows that they had tensioned carrying what they carry. */
#include "tautrow/job/state.h"

#include <string.h>

#include "internal.h"
#include "tautrow/base/assert.h"

static double middle(job_band band)
{
    return 0.5 * (band.low + band.high);
}

/* ---- rows done to standard -------------------------------------------------------------------------------------- */

static void drill_to_standard(const job_setup *setup, job_row *row)
{
    row->is_drilled = true;
    row->bit = setup->right_bit;
    row->drill_rpm = middle(setup->drill_rpm);
    row->clearings = 2;
    row->hole = (mech_hole){.diameter_m = setup->bit[setup->right_bit].diameter_m, .depth_m = setup->hole_depth_m};
}

static void drive_to_standard(const job_setup *setup, job_row *row)
{
    row->is_driven = true;
    row->driver_rpm = middle(setup->driver_rpm);
    row->seat.proud_m = job__max(0.0, mech_insert_proud_least(&setup->insert, &row->hole));
    row->grip = job__grip(setup, row);
}

static void assemble_to_standard(const job_setup *setup, job_row *row)
{
    row->anchor_in = true;
    row->cable_in = true;
    row->engaged = setup->nominal;
}

static void cut_to_standard(const job_setup *setup, job_row *row)
{
    row->is_hung = true;
    row->is_cable_marked = true;
    row->marked_pull_n = setup->hand_pull_n;
    row->is_cut = true;
    row->cutter = setup->right_cutter;
}

static void crimp_to_standard(const job_setup *setup, job_row *row)
{
    row->crimp = job__good_crimp(setup);
    row->has_seat_mark = true;
}

static void join_to_standard(job_row *row)
{
    row->was_unscrewed = true;
    row->was_body_held = true;
    row->is_joined = true;
    row->is_hand_tight = true;
}

static void do_to_standard(const job_setup *setup, job_row *row, job_stage until)
{
    row->is_marked = until > JOB_STAGE_MARK;
    if (until > JOB_STAGE_DRILL) {
        drill_to_standard(setup, row);
    }
    if (until > JOB_STAGE_INSERT) {
        drive_to_standard(setup, row);
    }
    if (until > JOB_STAGE_ASSEMBLE) {
        assemble_to_standard(setup, row);
    }
    if (until > JOB_STAGE_CUT) {
        cut_to_standard(setup, row);
    }
    if (until > JOB_STAGE_CRIMP) {
        crimp_to_standard(setup, row);
    }
    if (until > JOB_STAGE_JOIN) {
        join_to_standard(row);
    }
    row->has_collar = until == JOB_STAGE_COUNT;
}

/* ---- faults ----------------------------------------------------------------------------------------------------- */

/* A fault can only be where the work has got to; what has not been done yet the trainee may do rightly. Few threads are
 * put in with the take-ups, because the other stud has to make up for them. */
static void plant(const job_setup *setup, const job_fault *fault, job_row *row)
{
    const bool is_crimped = row->crimp.squeeze_count > 0;
    switch (fault->kind) {
    case JOB_FAULT_UNSEATED:
        if (is_crimped) {
            row->crimp.seated_m = job__max(0.0, setup->crimp.bore_m - fault->amount);
        }
        break;
    case JOB_FAULT_ONE_SQUEEZE:
        if (is_crimped) {
            row->crimp.squeeze_count = 1;
            row->crimp.squeeze[1] = (mech_squeeze){0};
        }
        break;
    case JOB_FAULT_NO_TURN:
        row->crimp.squeeze[1].angle_rad = 0.0;
        break;
    case JOB_FAULT_TWISTED:
        row->engaged.twist_turns = row->is_joined ? fault->amount : 0.0;
        break;
    case JOB_FAULT_BIG_BIT:
        if (row->is_drilled) {
            row->hole.diameter_m += fault->amount;
        }
        break;
    case JOB_FAULT_FEW_THREADS:
    case JOB_FAULT_WET_POST:
    case JOB_FAULT_KINDS:
        break;
    }
}

static void plant_all(const job_setup *setup, job_state *state)
{
    for (int i = 0; i < setup->fault_count; i++) {
        const job_fault *fault = &setup->fault[i];
        if (fault->kind != JOB_FAULT_WET_POST) {
            TR_ASSERT(fault->row >= 0 && fault->row < setup->structure.row_count);
            plant(setup, fault, &state->row[fault->row]);
        }
    }
    for (int i = 0; i < setup->structure.row_count; i++) {
        if (state->row[i].is_driven) {
            state->row[i].grip = job__grip(setup, &state->row[i]);
        }
    }
}

/* ---- tension ---------------------------------------------------------------------------------------------------- */

/* The law of a row has no answer at nothing: a row left untensioned hangs in its sag. */
static const double LEAST_TENSION_N = 0.5;

static double start_tension(const job_setup *setup, int row)
{
    const bool is_tensioned = setup->start_stage[row] > JOB_STAGE_TENSION;
    return job__max(LEAST_TENSION_N, is_tensioned ? setup->start_tension_n[row] : setup->hand_tight_n);
}

static const job_fault *few_threads(const job_setup *setup, int row)
{
    for (int i = 0; i < setup->fault_count; i++) {
        if (setup->fault[i].kind == JOB_FAULT_FEW_THREADS && setup->fault[i].row == row) {
            return &setup->fault[i];
        }
    }
    return NULL;
}

/* Threads so that the row has that take-up: both studs evenly past nominal, or the anchor stud alone where the cable
 * stud was left on a few. */
static void engage(const job_setup *setup, job_row *row, double take_up_m, const job_fault *few)
{
    const mech_turnbuckle *turnbuckle = &setup->turnbuckle;
    const double threads_m = take_up_m + job__shortfall(setup, row);
    const double even = threads_m / job__turn_m(setup);
    row->engaged.anchor_turns = setup->nominal.anchor_turns + even;
    row->engaged.cable_turns = setup->nominal.cable_turns + even;
    if (few != NULL) {
        row->engaged.cable_turns = few->amount;
        row->engaged.anchor_turns =
            setup->nominal.anchor_turns +
            (threads_m - (few->amount - setup->nominal.cable_turns) * turnbuckle->cable.pitch_m) /
                turnbuckle->anchor.pitch_m;
    }
}

/* Every tension is known, so the take-ups follow directly: what the row itself takes plus how far the posts close. */
static void tension_rows(const job_setup *setup, job_state *state)
{
    const int count = setup->structure.row_count;
    double tension[MECH_MAX_ROWS] = {0.0};
    for (int i = 0; i < count; i++) {
        tension[i] = state->row[i].is_joined ? start_tension(setup, i) : 0.0;
    }
    for (int i = 0; i < count; i++) {
        if (!state->row[i].is_joined) {
            continue;
        }
        const double take_up = mech_run_take_up(&state->run, &state->rows, i, tension);
        engage(setup, &state->row[i], take_up, few_threads(setup, i));
        state->rows.tension_n[i] = tension[i];
        state->rows.peak_n[i] = tension[i];
    }
}

/* ---- start ------------------------------------------------------------------------------------------------------ */

static void blank(job_state *state)
{
    memset(state, 0, sizeof *state);
    state->bit = -1;
    state->cutter = -1;
    state->waited_at = -1;
    state->trip.row = -1;
    for (int i = 0; i < 3; i++) {
        state->answer[i] = -1;
    }
    for (int i = 0; i < MECH_MAX_ROWS; i++) {
        state->row[i].bit = -1;
        state->row[i].cutter = -1;
        state->row[i].measured_at = -1;
        state->row[i].turned_at = -1;
    }
}

void job_start(const job_setup *setup, job_state *state)
{
    const int count = setup->structure.row_count;
    TR_ASSERT(count >= 1 && count <= MECH_MAX_ROWS);
    blank(state);
    for (int i = 0; i < count; i++) {
        do_to_standard(setup, &state->row[i], setup->start_stage[i]);
    }
    plant_all(setup, state);
    /* The scenario loader has built this structure before. */
    const bool is_built = job__rebuild(setup, state);
    TR_ASSERT(is_built);
    tension_rows(setup, state);
    /* What the crew's faults could not bear has given way before the trainee came: nobody is told. */
    unsigned events = 0;
    job__settle(setup, state, &events);
}
