/* What came of an action: readings kept, and the refusal, event or finding said in words. */
#include "job_screen.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/text.h"

static const double STRAIGHT_M = 0.0002; /* half of a 64th of an inch: no eye sees less */

/* ---- remembering ------------------------------------------------------------------------------------------------ */

/* Another row is turned: the tensions as they were before it are kept as the ghost of the last trip. before_n may be
 * NULL. */
static void keep_former(view_job *job, int row, const double *before_n)
{
    if (job->former_row != row && before_n != NULL) {
        if (job->former_count == VIEW_MAX_FORMER) {
            memmove(job->former_n[0], job->former_n[1], sizeof job->former_n[0] * (VIEW_MAX_FORMER - 1));
            job->former_count--;
        }
        memcpy(job->former_n[job->former_count++], before_n, sizeof job->former_n[0]);
    }
    job->former_row = row;
}

const double *view__before_trip(const view_job *job)
{
    const bool is_told = job->stage == JOB_STAGE_TENSION && job->former_row >= 0 && job->former_count > 0;
    return is_told ? job->former_n[job->former_count - 1] : NULL;
}

static void remember(view_job *job, const job_action *action, const job_outcome *outcome, const double *before_n)
{
    const int row = job_action_row(action);
    switch (action->verb) {
    case JOB_DO_GAUGE:
        job->reading_n[row] = outcome->value[0];
        break;
    case JOB_DO_PLUCK:
        job->tone_hz[row] = outcome->value[0];
        job->plucked_row = row;
        job->is_pluck_new = true;
        break;
    case JOB_DO_BALL:
        job->gap_seen[(int)action->arg[JOB_BALL_GAP]] = outcome->value[1] != 0.0 ? 1 : -1;
        break;
    case JOB_DO_TURN_BODY:
        keep_former(job, row, before_n);
        job->pin_n_m = outcome->value[1];
        job->pin_row = row;
        break;
    case JOB_DO_HINT:
        job->hint_open = true;
        break;
    case JOB_DO_SET_DRILL_SPEED: /* a tool that is taken up again is set as it was last used */
        job->tools.drill.rpm = (float)action->arg[JOB_SET_DRILL_SPEED_RPM];
        break;
    case JOB_DO_SET_DRIVER_SPEED:
        job->tools.insert.rpm = (float)action->arg[JOB_SET_DRIVER_SPEED_RPM];
        break;
    default:
        break;
    }
}

static void forget(view_job *job)
{
    for (int i = 0; i < MECH_MAX_ROWS; i++) {
        job->reading_n[i] = job->tone_hz[i] = -1.0;
    }
    memset(job->gap_seen, 0, sizeof job->gap_seen);
    job->former_count = 0;
    job->former_row = job->pin_row = -1;
    job->pin_n_m = -1.0;
    job->message[0] = '\0';
    job->advice.is_known = false;
    view__slip_forget(job);
}

void view__job_recall(view_job *job, const view_job_model *model)
{
    if (model->trace == NULL || model->trace_count == job->trace_seen) {
        return;
    }
    forget(job);
    for (size_t i = 0; i < model->trace_count; i++) {
        const job_trace_entry *entry = &model->trace[i];
        if (entry->outcome.refusal == JOB_REFUSE_NONE) {
            remember(job, &entry->action, &entry->outcome, i > 0 ? model->trace[i - 1].tension_n : NULL);
        }
    }
    job->trace_seen = model->trace_count;
    job->hint_open = job->is_pluck_new = false; /* long past */
    job->plucked_row = -1;
}

static bool is_same_work(const job_action *a, const job_action *b)
{
    return a->verb == b->verb && job_action_row(a) == job_action_row(b);
}

void view_job_heard(view_job *job, const view_job_model *model, const job_action *action, const job_outcome *outcome)
{
    job->trace_seen = model->trace_count;
    job->last = *outcome;
    job->last_verb = action->verb;
    job->last_row = job_action_row(action);
    job->message[0] = '!'; /* there is something to say */
    job->message[1] = '\0';
    if (outcome->refusal != JOB_REFUSE_NONE) {
        job->advice.is_known = false;
        (void)view__slip_hear(job, model, action, false);
        return;
    }
    if (action->verb != JOB_DO_HINT) {
        job->hint_open = false;
    }
    remember(job, action, outcome, job->is_begun ? job->to_n : NULL);
    const job_action before = job->advice.action;
    const bool had_advice = job->advice.is_known && job->advice.has_any;
    job->advice.is_known = false;
    const bool has_next = view__job_advice(job, model);
    const bool has_ended = had_advice && has_next && view__job_is_guided(model) &&
                           view__job_has_ended_stage(&before, action, &job->advice.action);
    const bool was_advised = had_advice && (is_same_work(action, &before) || has_ended);
    if (!view__slip_hear(job, model, action, was_advised)) { /* a slip is looked at where it happened */
        view__job_follow(job, model, action, was_advised);
    }
}

/* ---- saying ----------------------------------------------------------------------------------------------------- */

static bool say_events(const view_ui *ui, unsigned events, char *out, size_t cap)
{
    for (int bit = 0; bit < JOB_EVENT_KINDS; bit++) {
        if (events & (1U << bit)) {
            tr_append(out, cap, "%s%s", out[0] != '\0' ? " " : "", view_word(ui, job_event_key(bit)));
        }
    }
    return events != 0;
}

static void say_ball(const view_ui *ui, const view_job *job, const view_job_model *model, char *out, size_t cap)
{
    char push[48];
    char asked[48];
    view_job_quantity(model, job->last.value[0], TR_DIM_FORCE, push);
    view_job_quantity(model, model->what->setup.ball_push_n, TR_DIM_FORCE, asked);
    const char *const args[] = {push, asked};
    tr_lang_fill(ui->lang, job->last.value[1] != 0.0 ? "job.said.ball_holds" : "job.said.ball_through", args, 2, out,
                 cap);
}

static void say_sight(const view_ui *ui, const view_job *job, const view_job_model *model, char *out, size_t cap)
{
    char text[48];
    tr_quantity_text(job->last.value[0], TR_DIM_LENGTH, model->system, TR_FINE, text, sizeof text);
    const char *const args[] = {text};
    tr_lang_fill(ui->lang, job->last.value[0] < STRAIGHT_M ? "job.said.straight" : "job.said.sight", args, 1, out, cap);
    if (job->last.value[1] != 0.0) {
        tr_append(out, cap, " %s", view_word(ui, "job.said.wet"));
    }
    if (job->last.value[2] > 0.0) {
        char row[16];
        char more[160];
        tr_format(row, sizeof row, "%.0f", job->last.value[2]);
        const char *const rows[] = {row};
        tr_lang_fill(ui->lang, "job.said.loose", rows, 1, more, sizeof more);
        tr_append(out, cap, " %s", more);
    }
}

static void say_measured(const view_ui *ui, const view_job *job, const view_job_model *model, const char *key,
                         tr_dim dim, char *out, size_t cap)
{
    char value[48];
    char row[16];
    view_job_quantity(model, job->last.value[0], dim, value);
    tr_format(row, sizeof row, "%d", job->last_row + 1);
    const char *const args[] = {row, value};
    tr_lang_fill(ui->lang, key, args, 2, out, cap);
}

static void say_crimp(const view_ui *ui, const view_job *job, const view_job_model *model, char *out, size_t cap)
{
    char across[2][48];
    for (int i = 0; i < 2; i++) {
        tr_quantity_text(job->last.value[i], TR_DIM_LENGTH, model->system, TR_FINE, across[i], sizeof across[i]);
    }
    char row[16];
    tr_format(row, sizeof row, "%d", job->last_row + 1);
    const char *const args[] = {row, across[0], across[1]};
    tr_lang_fill(ui->lang, job->last.value[2] != 0.0 ? "job.said.crimp_passes" : "job.said.crimp_fails", args, 3, out,
                 cap);
}

static bool say_finding(const view_ui *ui, const view_job *job, const view_job_model *model, char *out, size_t cap)
{
    switch (job->last_verb) {
    case JOB_DO_GAUGE:
        say_measured(ui, job, model, "job.said.gauge", TR_DIM_FORCE, out, cap);
        return true;
    case JOB_DO_PLUCK:
        say_measured(ui, job, model, "job.said.pluck", TR_DIM_FREQUENCY, out, cap);
        return true;
    case JOB_DO_BALL:
        say_ball(ui, job, model, out, cap);
        return true;
    case JOB_DO_SIGHT:
        say_sight(ui, job, model, out, cap);
        return true;
    case JOB_DO_GAUGE_CRIMP:
        say_crimp(ui, job, model, out, cap);
        return true;
    case JOB_DO_REPORT_FAULT: /* whether it is there is for the debrief, but guided mode says it */
        tr_copy(out, cap,
                view_word(ui, !view__job_is_guided(model) ? "job.said.reported"
                              : job->last.value[0] != 0.0 ? "job.said.fault_there"
                                                          : "job.said.fault_not_there"));
        return true;
    case JOB_DO_WAIT_DAYS:
        tr_copy(out, cap, view_word(ui, "job.said.days"));
        return true;
    default:
        return false;
    }
}

/* A measurement is neither good nor bad: that is for the trainee to judge. A test that passes or fails is. */
static view_message kind_of_finding(const view_job *job)
{
    switch (job->last_verb) {
    case JOB_DO_BALL:
        return job->last.value[1] != 0.0 ? VIEW_MESSAGE_GOOD : VIEW_MESSAGE_BAD;
    case JOB_DO_GAUGE_CRIMP:
        return job->last.value[2] != 0.0 ? VIEW_MESSAGE_GOOD : VIEW_MESSAGE_BAD;
    case JOB_DO_SIGHT:
        return job->last.value[1] != 0.0 || job->last.value[2] > 0.0 ? VIEW_MESSAGE_BAD : VIEW_MESSAGE_PLAIN;
    default:
        return VIEW_MESSAGE_PLAIN;
    }
}

view_message view__job_message(const view_ui *ui, const view_job *job, const view_job_model *model, char *out,
                               size_t cap)
{
    out[0] = '\0';
    if (job->message[0] == '\0') {
        return VIEW_NO_MESSAGE;
    }
    if (job->last.refusal != JOB_REFUSE_NONE) {
        tr_copy(out, cap, view_word(ui, job_refusal_key(job->last.refusal)));
        return VIEW_MESSAGE_BAD;
    }
    if (say_events(ui, job->last.events, out, cap)) {
        return VIEW_MESSAGE_BAD;
    }
    return say_finding(ui, job, model, out, cap) ? kind_of_finding(job) : VIEW_NO_MESSAGE;
}
