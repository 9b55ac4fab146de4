/* An attempt under way. The list of actions is the truth; the state is what they lead to. So taking one back is: leave
 * it out and carry out the others again. */
#include "tautrow/record/attempt.h"

#include "attempt.h"
#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"

#include <stdlib.h>
#include <string.h>

enum { FIRST_ACTIONS = 64 };

/* ---- opening and closing ---------------------------------------------------------------------------------------- */

/* What cannot stand in a journal is cut off: bytes that are not UTF-8. */
static void clean(char *text, size_t cap)
{
    text[cap - 1] = '\0';
    text[tr_utf8_whole(text, strlen(text))] = '\0';
}

static char *copy_of(const char *text, size_t size)
{
    char *const copy = malloc(size + 1);
    if (copy != NULL) {
        memcpy(copy, text, size);
        copy[size] = '\0';
    }
    return copy;
}

record_attempt *record_attempt_open(const char *scenario_text, size_t size, const scenario *what,
                                    const char *catalogue_text, const record_about *about)
{
    const size_t catalogue_size = strlen(catalogue_text);
    TR_ASSERT(size <= SCENARIO_MAX_FILE && catalogue_size <= SCENARIO_MAX_FILE);
    record_attempt *const attempt = calloc(1, sizeof *attempt);
    if (attempt == NULL) {
        return NULL;
    }
    attempt->text = copy_of(scenario_text, size);
    attempt->catalogue_text = copy_of(catalogue_text, catalogue_size);
    if (attempt->text == NULL || attempt->catalogue_text == NULL) {
        record_attempt_close(attempt);
        return NULL;
    }
    attempt->size = size;
    attempt->scenario = *what;
    attempt->about = *about;
    clean(attempt->about.trainee, sizeof attempt->about.trainee);
    clean(attempt->about.started_utc, sizeof attempt->about.started_utc);
    clean(attempt->about.version, sizeof attempt->about.version);
    attempt->scenario.setup.mode = about->mode;
    attempt->scenario.setup.seed = about->seed;
    job_start(&attempt->scenario.setup, &attempt->state);
    return attempt;
}

void record_attempt_close(record_attempt *attempt)
{
    if (attempt == NULL) {
        return;
    }
    record__log_close(&attempt->log);
    free(attempt->actions);
    free(attempt->trace);
    free(attempt->text);
    free(attempt->catalogue_text);
    free(attempt);
}

/* ---- actions ---------------------------------------------------------------------------------------------------- */

static bool make_room(record_attempt *attempt)
{
    if (attempt->count < attempt->cap) {
        return true;
    }
    const size_t cap = attempt->cap == 0 ? FIRST_ACTIONS : attempt->cap * 2;
    job_action *const actions = realloc(attempt->actions, cap * sizeof *actions);
    attempt->actions = actions != NULL ? actions : attempt->actions;
    job_trace_entry *const trace = realloc(attempt->trace, cap * sizeof *trace);
    attempt->trace = trace != NULL ? trace : attempt->trace;
    if (actions == NULL || trace == NULL) {
        return false;
    }
    attempt->cap = cap;
    return true;
}

bool record__attempt_push(record_attempt *attempt, const job_action *action)
{
    if (!make_room(attempt)) {
        return false;
    }
    attempt->actions[attempt->count++] = *action;
    attempt->last_ms = action->at_ms;
    attempt->entry_count++;
    return true;
}

void record__attempt_rebuild(record_attempt *attempt)
{
    job_replay(&attempt->scenario.setup, attempt->actions, attempt->count, &attempt->state, attempt->trace);
}

/* The same as job_replay writes for its last action. */
static void note_trace(record_attempt *attempt, const job_action *action, job_outcome outcome)
{
    mech_loads loads;
    mech_run_loads(&attempt->state.run, &attempt->state.rows, &loads);
    job_trace_entry *const entry = &attempt->trace[attempt->count - 1];
    *entry = (job_trace_entry){
        .action = *action, .outcome = outcome, .off_centre_n_m = loads.off_centre_n_m, .rail_n = loads.rail_n};
    for (int row = 0; row < attempt->scenario.setup.structure.row_count; row++) {
        entry->tension_n[row] = attempt->state.rows.tension_n[row];
    }
}

/* A clock that was set back must not make a journal that does not verify. */
static int64_t time_not_before(const record_attempt *attempt, int64_t at_ms)
{
    const int64_t time = at_ms > attempt->last_ms ? at_ms : attempt->last_ms;
    return time < RECORD__MAX_MS ? time : RECORD__MAX_MS;
}

/* The action as a journal tells it: in its time, and without what may lie in the slots that it does not use. */
static job_action as_journalled(const record_attempt *attempt, const job_action *action)
{
    job_action timed = *action;
    timed.at_ms = time_not_before(attempt, action->at_ms);
    const bool is_known = (int)action->verb >= 0 && action->verb < JOB_VERB_COUNT;
    for (int i = is_known ? job_verb_look(action->verb)->field_count : 0; i < JOB_MAX_FIELDS; i++) {
        timed.arg[i] = 0.0;
    }
    return timed;
}

static bool write_entry(record_attempt *attempt, record__entry entry)
{
    return attempt->log.lines == NULL || record__log_add(&attempt->log, &entry);
}

/* A journal can hold sound actions only, so what is not sound (a slip of the caller's) never reaches the job. */
job_outcome record_attempt_do(record_attempt *attempt, const job_action *action, bool *journal_ok)
{
    if (attempt->is_finished) {
        return (job_outcome){.refusal = JOB_REFUSE_SIGNED};
    }
    const job_action timed = as_journalled(attempt, action);
    if (!job_action_is_sound(&timed, attempt->scenario.setup.structure.row_count) ||
        attempt->entry_count >= RECORD_MAX_ACTIONS || !record__attempt_push(attempt, &timed)) {
        return (job_outcome){.refusal = JOB_REFUSE_UNSOUND};
    }
    const job_outcome outcome = job_apply(&attempt->scenario.setup, &attempt->state, &timed);
    note_trace(attempt, &timed, outcome);
    const bool is_written = write_entry(attempt, (record__entry){.kind = RECORD__ACTION, .action = timed});
    if (attempt->log.lines != NULL && journal_ok != NULL) {
        *journal_ok = is_written;
    }
    return outcome;
}

bool record_attempt_undo(record_attempt *attempt, int64_t at_ms)
{
    const bool may = attempt->about.mode == JOB_GUIDED && !attempt->is_finished;
    if (!may || attempt->count == 0 || attempt->entry_count >= RECORD_MAX_ACTIONS) {
        return false;
    }
    attempt->count--;
    attempt->entry_count++;
    attempt->last_ms = time_not_before(attempt, at_ms);
    record__attempt_rebuild(attempt);
    (void)write_entry(attempt, (record__entry){.kind = RECORD__UNDO, .action = {.at_ms = attempt->last_ms}});
    return true;
}

static record__entry closing_of(const record_attempt *attempt)
{
    record__entry entry = {.kind = RECORD__CLOSING,
                           .action = {.at_ms = attempt->last_ms},
                           .total = attempt->card.total,
                           .passed = attempt->card.passed};
    tr_hash_text(job_state_hash(&attempt->scenario.setup, &attempt->state), entry.state);
    return entry;
}

void record_attempt_finish(record_attempt *attempt, score_card *card)
{
    if (!attempt->is_finished) {
        score_grade(&attempt->scenario, attempt->actions, attempt->count, &attempt->card);
        attempt->is_finished = true;
        (void)write_entry(attempt, closing_of(attempt));
    }
    *card = attempt->card;
}

/* ---- the journal ------------------------------------------------------------------------------------------------ */

tr_result record_attempt_journal(record_attempt *attempt, const char *path, char *why, size_t why_cap)
{
    record__log_close(&attempt->log);
    size_t cap = 0;
    char *const header = record__write_header(&attempt->about, attempt->scenario.setup.id, attempt->text, attempt->size,
                                              attempt->catalogue_text, &cap);
    if (header == NULL) {
        tr_format(why, why_cap, "no memory to start a journal");
        return TR_NO_MEMORY;
    }
    const tr_result result = record__log_open(&attempt->log, path, header, cap, why, why_cap);
    free(header);
    if (result != TR_OK) {
        return result;
    }
    /* What was done before counts, too. Actions taken back do not, so the new file need not tell of them. */
    for (size_t i = 0; i < attempt->count; i++) {
        (void)write_entry(attempt, (record__entry){.kind = RECORD__ACTION, .action = attempt->actions[i]});
    }
    if (attempt->is_finished) {
        (void)write_entry(attempt, closing_of(attempt));
    }
    return TR_OK;
}

/* ---- looking ---------------------------------------------------------------------------------------------------- */

const scenario *record_attempt_scenario(const record_attempt *attempt)
{
    return &attempt->scenario;
}

const record_about *record_attempt_about(const record_attempt *attempt)
{
    return &attempt->about;
}

const job_state *record_attempt_state(const record_attempt *attempt)
{
    return &attempt->state;
}

size_t record_attempt_actions(const record_attempt *attempt, const job_action **actions)
{
    *actions = attempt->actions;
    return attempt->count;
}

const job_trace_entry *record_attempt_trace(const record_attempt *attempt)
{
    return attempt->trace;
}
