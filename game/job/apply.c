/* The door of the engine: soundness and ownership first, then the verb's own handler, then the books. */
#include "tautrow/job/job.h"

#include "internal.h"
#include "tautrow/base/assert.h"

static const job__handler handlers[JOB_VERB_COUNT] = {
#define JOB_ACTION(NAME, name, STAGE, fields) job__do_##name,
#define JOB_FIELD(SLOT, key, TYPE, least, most)
#define JOB_NO_FIELDS
#include "tautrow/job/actions.def"
};

const char *job_refusal_key(job_refusal refusal)
{
    static const char *const keys[JOB_REFUSAL_COUNT] = {
#define JOB_REFUSAL(NAME, key) "refuse." #key,
#include "tautrow/job/refusals.def"
    };
    TR_ASSERT((int)refusal >= 0 && refusal < JOB_REFUSAL_COUNT);
    return keys[refusal];
}

const char *job_event_key(int bit_index)
{
    static const char *const keys[JOB_EVENT_KINDS] = {"event.split",       "event.stripped",    "event.proud",
                                                      "event.frayed",      "event.crimp_slip",  "event.pull_out",
                                                      "event.bottomed",    "event.came_out",    "event.too_heavy",
                                                      "event.stud_turned", "event.body_turned", "event.over_limit"};
    TR_ASSERT(bit_index >= 0 && bit_index < JOB_EVENT_KINDS);
    return keys[bit_index];
}

static bool needs_glasses(job_verb verb)
{
    return verb == JOB_DO_DRILL || verb == JOB_DO_CUT_CABLE || verb == JOB_DO_REDO_CRIMP;
}

/* Wood and collars are the trainee's on the trainee's rows only. A fitting of the crew before may be taken apart where
 * it has a fault to mend. Tensioning and checking concern the run as a whole, so every row. */
static bool may_touch(const job_setup *setup, job_stage stage, int row)
{
    switch (stage) {
    case JOB_STAGE_MARK:
    case JOB_STAGE_DRILL:
    case JOB_STAGE_INSERT:
    case JOB_STAGE_HAND_OVER:
        return setup->is_trainees[row];
    case JOB_STAGE_ASSEMBLE:
    case JOB_STAGE_CUT:
    case JOB_STAGE_CRIMP:
    case JOB_STAGE_JOIN:
        return job__is_workable(setup, row);
    case JOB_STAGE_READ:
    case JOB_STAGE_TENSION:
    case JOB_STAGE_CHECK:
    case JOB_STAGE_COUNT:
        break;
    }
    return true;
}

static job_refusal carry_out(job__work *work)
{
    const job_action *action = work->action;
    if (!job_action_is_sound(action, work->setup->structure.row_count)) {
        return JOB_REFUSE_UNSOUND;
    }
    if (work->state->is_signed) {
        return JOB_REFUSE_SIGNED;
    }
    if (needs_glasses(action->verb) && !work->state->has_glasses) {
        return JOB_REFUSE_NO_GLASSES;
    }
    work->row_index = job_action_row(action);
    if (work->row_index >= 0) {
        if (!may_touch(work->setup, job_verb_look(action->verb)->stage, work->row_index)) {
            return JOB_REFUSE_NOT_YOURS;
        }
        work->row = &work->state->row[work->row_index];
    }
    return handlers[action->verb](work);
}

/* Rows that gave way in this action, by how far they had slipped before it. */
static int count_slips(const job_setup *setup, const job_state *state, const double slip_before_m[MECH_MAX_ROWS])
{
    int count = 0;
    for (int i = 0; i < setup->structure.row_count; i++) {
        count += state->row[i].slip_m > slip_before_m[i] ? 1 : 0;
    }
    return count;
}

job_outcome job_apply(const job_setup *setup, job_state *state, const job_action *action)
{
    job_outcome outcome = {.refusal = JOB_REFUSE_NONE};
    job__work work = {.setup = setup, .state = state, .action = action, .row_index = -1, .outcome = &outcome};
    double slip_before_m[MECH_MAX_ROWS] = {0.0};
    for (int i = 0; i < setup->structure.row_count; i++) {
        slip_before_m[i] = state->row[i].slip_m;
    }
    outcome.refusal = carry_out(&work);
    if (outcome.refusal == JOB_REFUSE_NONE) {
        state->slips_under_load += count_slips(setup, state, slip_before_m);
    } else {
        state->refusals++;
        state->refused_without_glasses += outcome.refusal == JOB_REFUSE_NO_GLASSES ? 1 : 0;
    }
    state->action_count++;
    state->now_ms = action->at_ms > state->now_ms ? action->at_ms : state->now_ms;
    return outcome;
}

void job_replay(const job_setup *setup, const job_action *actions, size_t count, job_state *state,
                job_trace_entry *entries)
{
    job_start(setup, state);
    for (size_t i = 0; i < count; i++) {
        const job_outcome outcome = job_apply(setup, state, &actions[i]);
        if (entries == NULL) {
            continue;
        }
        mech_loads loads;
        mech_run_loads(&state->run, &state->rows, &loads);
        entries[i] = (job_trace_entry){
            .action = actions[i], .outcome = outcome, .off_centre_n_m = loads.off_centre_n_m, .rail_n = loads.rail_n};
        for (int row = 0; row < setup->structure.row_count; row++) {
            entries[i].tension_n[row] = state->rows.tension_n[row];
        }
    }
}
