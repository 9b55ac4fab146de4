/* Why, asked for: the reason of the step that is due, what the mechanics say comes of it in this very job, and what often
 * goes wrong in this stage. */
#include "job_screen.h"

#include <math.h>

#include "tautrow/base/text.h"

/* A usual mistake of a hand, in the round number of the units in use. */
static double small_m(tr_system system)
{
    return system == TR_US ? 0.25 * TR_INCH_M : 0.006;
}

static const job_reason *reason_now(view_job *job, const view_job_model *model)
{
    if (!job->why.is_known || job->why.at_count != job->advice.at_count) {
        job->why.is_known = true;
        job->why.at_count = job->advice.at_count;
        job->why.reason =
            job_reason_for(&model->what->setup, model->state, &job->advice.action, small_m(model->system));
    }
    return &job->why.reason;
}

static void dims_of(job_reason_kind kind, tr_dim dim[JOB_REASON_VALUES])
{
    static const struct {
        tr_dim first, others;
    } dims[JOB_REASON_KINDS] = {
        [JOB_REASON_ONE_TRIP] = {TR_DIM_FORCE, TR_DIM_FORCE}, [JOB_REASON_GAP] = {TR_DIM_LENGTH, TR_DIM_FORCE},
        [JOB_REASON_BIT] = {TR_DIM_LENGTH, TR_DIM_FORCE},     [JOB_REASON_DEPTH] = {TR_DIM_LENGTH, TR_DIM_FORCE},
        [JOB_REASON_PROUD] = {TR_DIM_LENGTH, TR_DIM_FORCE},   [JOB_REASON_THREADS] = {TR_DIM_TURNS, TR_DIM_TURNS},
        [JOB_REASON_LENGTH] = {TR_DIM_LENGTH, TR_DIM_TURNS},  [JOB_REASON_PULL] = {TR_DIM_FORCE, TR_DIM_LENGTH},
        [JOB_REASON_HOME] = {TR_DIM_LENGTH, TR_DIM_FORCE},    [JOB_REASON_SQUEEZE] = {TR_DIM_LENGTH, TR_DIM_FORCE},
        [JOB_REASON_PLANE] = {TR_DIM_LENGTH, TR_DIM_FORCE},   [JOB_REASON_TRAVEL] = {TR_DIM_TURNS, TR_DIM_TURNS},
        [JOB_REASON_GIVES_UP] = {TR_DIM_FORCE, TR_DIM_FORCE}, [JOB_REASON_UNHELD] = {TR_DIM_TURNS, TR_DIM_FORCE},
        [JOB_REASON_BALL] = {TR_DIM_FORCE, TR_DIM_FORCE},     [JOB_REASON_DAYS] = {TR_DIM_DAYS, TR_DIM_FORCE},
    };
    dim[0] = dims[kind].first;
    dim[1] = dims[kind].others;
    dim[2] = kind == JOB_REASON_PULL ? TR_DIM_TURNS : dims[kind].others;
}

static void value_text(double value, tr_dim dim, tr_system system, char *out, size_t cap)
{
    if (dim == TR_DIM_TURNS || dim == TR_DIM_DAYS) {
        tr_format(out, cap, fabs(value - round(value)) < 0.05 ? "%.0f" : "%.1f", value);
        return;
    }
    const bool is_fine = dim == TR_DIM_LENGTH || (dim == TR_DIM_FORCE && value < 100.0);
    tr_quantity_text(value, dim, system, is_fine ? TR_FINE : TR_PLAIN, out, cap);
}

bool view__why_number(const view_ui *ui, view_job *job, const view_job_model *model, char *out, size_t cap)
{
    const job_reason *reason = reason_now(job, model);
    char key[48];
    char value[JOB_REASON_VALUES][48];
    char row[16];
    char other[16];
    tr_dim dim[JOB_REASON_VALUES];
    out[0] = '\0';
    if (reason->kind == JOB_REASON_NONE) {
        return false;
    }
    dims_of(reason->kind, dim);
    for (int i = 0; i < JOB_REASON_VALUES; i++) {
        value_text(reason->value[i], dim[i], model->system, value[i], sizeof value[i]);
    }
    tr_format(key, sizeof key, "number.%s", job_reason_name(reason->kind));
    tr_format(row, sizeof row, "%d", job_action_row(&job->advice.action) + 1);
    tr_format(other, sizeof other, "%d", reason->row + 1);
    const char *const args[] = {value[0], value[1], value[2], row, other};
    tr_lang_fill(ui->lang, key, args, 5, out, cap);
    return true;
}

void view__why_wrong(const view_ui *ui, const view_job *job, char *out, size_t cap)
{
    char key[48];
    const job_verb verb = job->advice.action.verb;
    tr_format(key, sizeof key, "wrong.%s", job_stage_name(job_verb_look(verb)->stage));
    const char *const args[] = {view_word(ui, key)};
    tr_lang_fill(ui->lang, "job.often_wrong", args, 1, out, cap);
}
