/* From fittings to forces: take-ups of all rows, the solve, and what gives way under load. docs/mechanics.md 2 to 4.
 * The only file of the job that runs the solver after an action. */
#include "internal.h"

/* A row that gives way does so until it carries its capacity within this share. */
static const double GIVE_WAY_TOLERANCE = 1e-6;
/* The solver wants a positive tension; nobody can tell half a newton from nothing. */
static const double LEAST_HOLD_N = 0.5;
enum { MOST_SWEEPS = 200 };

mech_structure job__as_built(const job_setup *setup, const job_state *state)
{
    mech_structure structure = setup->structure;
    for (int i = 0; i < structure.row_count; i++) {
        structure.row_height_m[i] += state->row[i].height_error_m;
    }
    structure.warming_k += job__warming(setup, state->days);
    return structure;
}

bool job__rebuild(const job_setup *setup, job_state *state)
{
    const mech_structure structure = job__as_built(setup, state);
    char why[TR_TEXT_CAP];
    return mech_run_build(&structure, &state->run, why, sizeof why) == TR_OK;
}

void job__solve(const job_setup *setup, job_state *state)
{
    for (int i = 0; i < setup->structure.row_count; i++) {
        const job_row *row = &state->row[i];
        state->rows.is_strung[i] = row->is_joined;
        state->rows.take_up_m[i] = row->is_joined ? job_row_take_up(setup, row) : 0.0;
    }
    /* Straight runs always solve. Of bent ones a few far from anything real do not (docs/mechanics.md 12): their tensions
     * then stay as they were until the next action, which is better than to stop and lose the attempt. */
    (void)mech_run_solve(&state->run, &state->rows);
}

double job__turns_to(const job_setup *setup, const job_state *state, int row, double tension_n)
{
    mech_rows rows = state->rows;
    const double before = rows.take_up_m[row];
    mech_run_pull(&state->run, &rows, row, job__max(tension_n, LEAST_HOLD_N));
    return (rows.take_up_m[row] - before) / job__turn_m(setup);
}

/* ---- giving way ------------------------------------------------------------------------------------------------- */

/* Lets the weaker end of a row out until it carries capacity_n. Returns what happened. */
static unsigned give_way(const job_setup *setup, job_state *state, int index, double capacity_n, const mech_rows *held)
{
    job_row *row = &state->row[index];
    const double before = state->rows.take_up_m[index];
    /* It gave way on the way up, so the cable never felt the load that the solve found for an end that holds. */
    state->rows.peak_n[index] = job__max(held->peak_n[index], capacity_n);
    for (int bend = 0; bend < MECH_MAX_BENDS; bend++) {
        state->rows.beyond_peak_n[index][bend] = held->beyond_peak_n[index][bend];
        state->rows.passed_m[index][bend] = held->passed_m[index][bend];
    }
    mech_run_pull(&state->run, &state->rows, index, capacity_n);
    const double slip = before - state->rows.take_up_m[index];
    row->slip_m += slip;
    if (row->grip.ultimate_n <= capacity_n) {
        return JOB_EVENT_PULL_OUT;
    }
    row->crimp_slip_m += slip;
    if (row->crimp_slip_m < row->crimp.seated_m) {
        return JOB_EVENT_CRIMP_SLIP;
    }
    /* The whole seat has been drawn out: there is no cable left in the barrel. */
    row->crimp.seated_m = 0.0;
    job__take_apart(row);
    job__solve(setup, state);
    return JOB_EVENT_CRIMP_SLIP | JOB_EVENT_CAME_OUT;
}

/* One row's give way loads the others, so go round until all stand. Every let-out lowers the stored energy, so it ends.
 */
/* held: the rows before any end gave way. */
static unsigned give_way_all(const job_setup *setup, job_state *state, const mech_rows *held)
{
    double capacity[MECH_MAX_ROWS];
    const int count = setup->structure.row_count;
    for (int i = 0; i < count; i++) {
        capacity[i] = job__max(job_row_capacity(setup, &state->row[i]), LEAST_HOLD_N);
    }
    unsigned events = 0;
    bool stands = false;
    for (int sweep = 0; sweep < MOST_SWEEPS && !stands; sweep++) {
        stands = true;
        for (int i = 0; i < count; i++) {
            if (state->row[i].is_joined && state->rows.tension_n[i] > capacity[i] * (1.0 + GIVE_WAY_TOLERANCE)) {
                events |= give_way(setup, state, i, capacity[i], held);
                stands = false;
            }
        }
    }
    return events;
}

static void note_peaks(const job_setup *setup, job_state *state)
{
    for (int i = 0; i < setup->structure.row_count; i++) {
        state->peak_n[i] = job__max(state->peak_n[i], state->rows.tension_n[i]);
    }
    mech_loads loads;
    mech_run_loads(&state->run, &state->rows, &loads);
    state->off_centre_peak_n_m = job__max(state->off_centre_peak_n_m, loads.off_centre_n_m);
    const mech_utilisation use = mech_post_utilisation(&state->run, &loads, setup->limits);
    state->bending_peak = job__max(state->bending_peak, use.worst);
}

void job__settle(const job_setup *setup, job_state *state, unsigned *events)
{
    const int count = setup->structure.row_count;
    const mech_rows before = state->rows;
    job__solve(setup, state);
    *events |= give_way_all(setup, state, &before);
    for (int i = 0; i < count; i++) {
        if (state->rows.tension_n[i] > setup->row_limit_n && before.tension_n[i] <= setup->row_limit_n) {
            *events |= JOB_EVENT_OVER_LIMIT;
        }
    }
    note_peaks(setup, state);
}
