/* Tensioning: where the trainee stands, the pliers, the turning pin, and what the ear and the gauge say.
 * docs/mechanics.md 5, 9. */
#include "internal.h"

#include <math.h>

#include "tautrow/base/rng.h"

/* The stud counts as gone round with the body from this on, turns. */
static const double NOTICED_TWIST = 0.01;
/* A stretch of turning between two looks at what gives way. */
static const double STRETCH_TURNS = 0.25;
/* Streams of seeded noise, apart from those of single rows. */
static const uint64_t NOISE_OF_THE_GAUGE = 1000;

job_refusal job__do_stand(job__work *work)
{
    work->state->stands_clear = job__arg(work, JOB_STAND_CLEAR) != 0.0;
    return JOB_REFUSE_NONE;
}

/* There is one pair: put on one row it is off the others. */
job_refusal job__do_pliers(job__work *work)
{
    const bool is_on = job__arg(work, JOB_PLIERS_ON) != 0.0;
    if (!work->row->cable_in) {
        return JOB_REFUSE_STUD_NOT_IN;
    }
    for (int i = 0; is_on && i < work->setup->structure.row_count; i++) {
        work->state->row[i].has_pliers = false;
    }
    work->row->has_pliers = is_on;
    return JOB_REFUSE_NONE;
}

/* ---- turning ---------------------------------------------------------------------------------------------------- */

static void unlog(job_state *state, job_row *row)
{
    state->pull_count--;
    state->trip.is_logged = false;
    if (state->trip.is_first) {
        row->first_reading_n = 0.0;
        state->trip.is_first = false;
    }
}

/* A trip counts as a pull while its net is tighter: letting out, or turning back what was just turned, is no pull. */
static void note_trip(job__work *work, double turns, double before_n)
{
    job_state *state = work->state;
    job_trip *trip = &state->trip;
    if (trip->row != work->row_index) {
        *trip = (job_trip){.row = work->row_index, .before_n = before_n};
    }
    trip->turns += turns;
    if (trip->turns > 0.0 && !trip->is_logged) {
        trip->is_logged = true;
        trip->is_first = work->row->first_reading_n <= 0.0;
        state->pull_count++;
    } else if (trip->turns <= 0.0 && trip->is_logged) {
        unlog(state, work->row);
    }
    if (!trip->is_logged) {
        return;
    }
    const double after_n = state->rows.tension_n[work->row_index];
    if (state->pull_count <= JOB_MAX_PULL_LOG) {
        state->pull[state->pull_count - 1] =
            (job_pull){.row = work->row_index, .before_n = trip->before_n, .after_n = after_n};
    }
    if (trip->is_first) {
        work->row->first_reading_n = after_n;
    }
}

static unsigned event_of(mech_turn_end end)
{
    switch (end) {
    case MECH_TURN_BOTTOMED:
        return JOB_EVENT_BOTTOMED;
    case MECH_TURN_CAME_OUT:
        return JOB_EVENT_CAME_OUT;
    case MECH_TURN_TOO_HEAVY:
        return JOB_EVENT_TOO_HEAVY;
    case MECH_TURN_DONE:
        break;
    }
    return 0;
}

/* One stretch: the threads turn on a copy of the rows, because the row may give way before it carries all that. */
static mech_turn_result turn_stretch(job__work *work, double turns)
{
    const job_setup *setup = work->setup;
    mech_rows rows = work->state->rows;
    const mech_turn_result result =
        mech_turn_body(&work->state->run, &rows, work->row_index, &setup->turnbuckle, &work->row->engaged, turns,
                       work->row->has_pliers, setup->pin_limit_n_m);
    if (result.end == MECH_TURN_CAME_OUT) {
        job__come_out(work->row);
    }
    job__settle(setup, work->state, &work->outcome->events);
    return result;
}

static mech_turn_result turn_all(job__work *work, double turns)
{
    mech_turn_result sum = {.end = MECH_TURN_DONE};
    const int stretches = (int)ceil(fabs(turns) / STRETCH_TURNS);
    for (int i = 0; i < stretches && sum.end == MECH_TURN_DONE && work->row->is_joined; i++) {
        const mech_turn_result part = turn_stretch(work, turns / stretches);
        sum.end = part.end;
        sum.turns += part.turns;
        sum.lost_turns += part.lost_turns;
        sum.pin_n_m = part.pin_n_m;
    }
    return sum;
}

static void note_turns(job__work *work, const mech_turn_result *result)
{
    job_row *row = work->row;
    const double made = fabs(result->turns);
    row->turns_held += row->has_pliers ? made : 0.0;
    row->turns_free += row->has_pliers ? 0.0 : made;
    work->state->turns_unclear += work->state->stands_clear ? 0.0 : made;
    row->turned_at = work->state->action_count;
    work->outcome->value[0] = result->turns;
    work->outcome->value[1] = result->pin_n_m;
    work->outcome->value[2] = result->lost_turns;
    work->outcome->events |= event_of(result->end);
    work->outcome->events |= result->lost_turns > NOTICED_TWIST ? JOB_EVENT_STUD_TURNED : 0U;
}

job_refusal job__do_turn_body(job__work *work)
{
    if (!work->row->is_joined) {
        return JOB_REFUSE_NOT_JOINED;
    }
    const double before_n = work->state->rows.tension_n[work->row_index];
    const mech_turn_result result = turn_all(work, job__arg(work, JOB_TURN_BODY_TURNS));
    note_turns(work, &result);
    note_trip(work, result.turns, before_n);
    return JOB_REFUSE_NONE;
}

/* ---- twist ------------------------------------------------------------------------------------------------------ */

job_refusal job__do_free_twist(job__work *work)
{
    job_row *row = work->row;
    if (!row->is_joined) {
        return JOB_REFUSE_NOT_JOINED;
    }
    if (work->state->rows.tension_n[work->row_index] > job__slack_n(work->setup)) {
        return JOB_REFUSE_UNDER_TENSION;
    }
    work->outcome->value[0] = fabs(row->engaged.twist_turns);
    job__untwist(work->setup, row, row->engaged.twist_turns, &work->outcome->events);
    job__settle(work->setup, work->state, &work->outcome->events);
    return JOB_REFUSE_NONE;
}

/* ---- measuring -------------------------------------------------------------------------------------------------- */

job_refusal job__do_pluck(job__work *work)
{
    if (!work->row->is_joined) {
        return JOB_REFUSE_NOT_JOINED;
    }
    const mech_structure *structure = &work->setup->structure;
    const double tone = mech_tone_hz(work->state->rows.tension_n[work->row_index], structure->strand.mass_kg_m,
                                     job__heard_bay(structure));
    work->outcome->value[0] = floor(tone * 10.0 + 0.5) / 10.0;
    work->row->measured_at = work->state->action_count;
    return JOB_REFUSE_NONE;
}

/* A gauge is off by a share that is its own and stays, and scatters from reading to reading. */
job_refusal job__do_gauge(job__work *work)
{
    if (!work->row->is_joined) {
        return JOB_REFUSE_NOT_JOINED;
    }
    const job_setup *setup = work->setup;
    const uint64_t reading = (uint64_t)work->state->action_count;
    const double bias = setup->gauge_bias * tr_noise(setup->seed, NOISE_OF_THE_GAUGE, 0);
    const double scatter =
        setup->gauge_scatter * tr_noise(setup->seed, NOISE_OF_THE_GAUGE + 1U + (uint64_t)work->row_index, reading);
    work->outcome->value[0] = job__max(0.0, work->state->rows.tension_n[work->row_index] * (1.0 + bias + scatter));
    work->row->measured_at = work->state->action_count;
    return JOB_REFUSE_NONE;
}
