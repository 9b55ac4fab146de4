/* Days that pass: wood creeps under what it has borne, cold nights bed the cable in, vibration lets wound-up cables
 * turn back, and the weather of the day is another one. docs/mechanics.md 10.
 *
 * Creep adds up over the changes of load: each change creeps by its own age, so a row that is brought up after a month
 * finds the posts as stiff as new and creeping afresh under what it adds. What happens within one wait counts from its
 * first day. */
#include <string.h>

#include "internal.h"
#include "tautrow/base/assert.h"

double job__warming(const job_setup *setup, double days)
{
    const bool is_there = setup->after.days > 0.0 && days >= setup->after.days;
    return is_there ? setup->after.warming_k : 0.0;
}

bool job__has_to_come_back(const job_setup *setup, const job_state *state)
{
    return setup->after.days > state->days;
}

/* The run as the load of so many days finds it. The structure has been built before and is only softer now. */
static mech_run crept_run(const job_setup *setup, const job_state *state, double days)
{
    mech_structure structure = job__as_built(setup, state);
    structure.creep += mech_creep(setup->creep_k_def, setup->creep_exponent, days);
    mech_run run;
    char why[TR_TEXT_CAP];
    const tr_result built = mech_run_build(&structure, &run, why, sizeof why);
    TR_ASSERT(built == TR_OK);
    return run;
}

static const job_load no_load;

/* The k-th load kept, from 0; none before the first. */
static const job_load *load_at(const job_state *state, int k)
{
    return k >= 0 ? &state->load[k] : &no_load;
}

static void add_change(const mech_run *fresh, const mech_run *later, const job_load *from, const job_load *to,
                       mech_crept *sum)
{
    double change_n[MECH_ENDS][MECH_MAX_ROWS];
    for (int end = 0; end < MECH_ENDS; end++) {
        for (int i = 0; i < MECH_MAX_ROWS; i++) {
            change_n[end][i] = to->pull_n[end][i] - from->pull_n[end][i];
        }
    }
    mech_crept_add(fresh, later, (const double(*)[MECH_MAX_ROWS])change_n, sum);
}

static job_load load_now(const job_state *state, double since_day)
{
    job_load load = {.since_day = since_day};
    for (int i = 0; i < state->run.made_of.row_count; i++) {
        for (int end = 0; end < MECH_ENDS; end++) {
            load.pull_n[end][i] = mech_row_end_tension(&state->run, &state->rows, i, (mech_end)end);
        }
    }
    return load;
}

/* What the changes of load of earlier waits have crept in by now. */
static mech_crept crept_so_far(const job_setup *setup, const job_state *state)
{
    mech_crept sum = {.rail_n = 0.0};
    for (int k = 0; k < state->load_count; k++) {
        const mech_run later = crept_run(setup, state, state->days - state->load[k].since_day);
        add_change(&state->run, &later, load_at(state, k - 1), load_at(state, k), &sum);
    }
    return sum;
}

/* Where the list is full, the two oldest loads are taken as one that has stood as long as the older. */
static void note_load(job_state *state, double since_day)
{
    if (state->load_count == JOB_MAX_LOADS) {
        state->load[1].since_day = state->load[0].since_day;
        memmove(&state->load[0], &state->load[1], (JOB_MAX_LOADS - 1) * sizeof state->load[0]);
        state->load_count--;
    }
    state->load[state->load_count++] = load_now(state, since_day);
}

static void let_twist_go(const job_setup *setup, job_state *state, unsigned *events)
{
    for (int i = 0; i < setup->structure.row_count; i++) {
        job_row *row = &state->row[i];
        if (row->is_joined) {
            const double twist = row->engaged.twist_turns;
            const double kept = mech_twist_kept(&state->run, &setup->turnbuckle, twist, state->rows.tension_n[i]);
            job__untwist(setup, row, twist - kept, events);
        }
    }
}

/* The rows relax while the posts creep. A change of load within the wait is taken to have stood since its first day,
 * which makes it an equation of the softer posts: their closing is that of all pulls now, less the creep of what was
 * pulled before, which has its own place in the sum of earlier loads. */
static void creep_and_settle(const job_setup *setup, job_state *state, double since_day, unsigned *events)
{
    const mech_run fresh = state->run;
    const mech_crept earlier = crept_so_far(setup, state);
    const job_load *last = load_at(state, state->load_count - 1);
    state->rows.crept = earlier;
    state->run = crept_run(setup, state, state->days - since_day);
    add_change(&fresh, &state->run, last, &no_load, &state->rows.crept);
    if (setup->after.days > since_day && !job__has_to_come_back(setup, state)) {
        const double warming_k = state->run.made_of.warming_k;
        state->run.made_of.warming_k = setup->structure.warming_k + setup->after.coldest_k;
        job__settle(setup, state, events);
        state->run.made_of.warming_k = warming_k;
    }
    job__settle(setup, state, events);
    const job_load now = load_now(state, since_day);
    state->rows.crept = earlier;
    add_change(&fresh, &state->run, last, &now, &state->rows.crept);
    state->run = fresh;
}

bool job_rows_after(const job_setup *setup, mech_rows *rows)
{
    mech_structure structure = setup->structure;
    mech_run run;
    char why[TR_TEXT_CAP];
    structure.creep += mech_creep(setup->creep_k_def, setup->creep_exponent, setup->after.days);
    if (!(setup->after.days > 0.0) || mech_run_build(&structure, &run, why, sizeof why) != TR_OK) {
        return false;
    }
    run.made_of.warming_k = setup->structure.warming_k + setup->after.coldest_k;
    const bool is_cold_found = mech_run_solve(&run, rows).converged;
    run.made_of.warming_k = setup->structure.warming_k + setup->after.warming_k;
    return mech_run_solve(&run, rows).converged && is_cold_found;
}

job_refusal job__do_wait_days(job__work *work)
{
    const job_setup *setup = work->setup;
    job_state *state = work->state;
    const double since_day = state->days;
    state->days += job__arg(work, JOB_WAIT_DAYS_DAYS);
    state->trip = (job_trip){.row = -1};
    state->waited_at = state->action_count;
    (void)job__rebuild(setup, state); /* cannot fail: the heights are as they were, only the weather is not */
    let_twist_go(setup, state, &work->outcome->events);
    creep_and_settle(setup, state, since_day, &work->outcome->events);
    note_load(state, since_day);
    job__settle(setup, state,
                &work->outcome->events); /* the same state, on the posts as they answer to the next turn */
    return JOB_REFUSE_NONE;
}
