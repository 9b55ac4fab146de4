/* Handing over: collars, wiping down, days that pass, the signature. */
#include "job_screen.h"

#include <math.h>

#include "tautrow/base/text.h"

static const int day_steps[] = {1, 7, 30, 90, 365};
enum { DAY_STEPS = 5, COLLARS_A_FRAME = 4 };

/* All rows at once are an action each; they go out over a few frames. */
static void say_collars(view_ui *ui, view_job *job, const view_job_model *model, view_job_said *said)
{
    const job_setup *setup = &model->what->setup;
    int *next = &job->tools.over.next_row;
    int said_now = 0;
    for (; *next < setup->structure.row_count && said_now < COLLARS_A_FRAME; (*next)++) {
        if (setup->is_trainees[*next] && !model->state->row[*next].has_collar) {
            view_job_do(said, model, JOB_DO_COLLAR, (const double[]){*next}, 1);
            said_now++;
        }
    }
    ui->wants_frame = ui->wants_frame || *next < setup->structure.row_count;
}

static void collars(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench, view_job_said *said)
{
    static const char *const words[2] = {"job.over.collar", "job.over.collars"};
    const int pressed = view__bench_pair(ui, bench, words, "OA");
    if (pressed == 1) {
        view_job_do(said, model, JOB_DO_COLLAR, (const double[]){job->row}, 1);
    } else if (pressed == 2) {
        job->tools.over.next_row = 0;
    }
    say_collars(ui, job, model, said);
}

/* The sheet asks for a second visit: that takes the place of days at will until it has been made. */
static bool asked_days(view_ui *ui, const view_job_model *model, view_bench *bench, view_job_said *said)
{
    const double asked = model->what->setup.after.days;
    if (asked <= model->state->days) {
        return false;
    }
    char number[48];
    char text[TR_TEXT_CAP];
    tr_format(number, sizeof number, "%.0f", asked);
    const char *const args[] = {number};
    tr_lang_fill(ui->lang, "job.over.asked", args, 1, text, sizeof text);
    view__bench_label(ui, bench, text);
    if (view__bench_button(ui, bench, "job.over.back", 'T', VIEW_SECONDARY)) {
        view_job_do(said, model, JOB_DO_WAIT_DAYS, (const double[]){asked - model->state->days}, 1);
    }
    return true;
}

/* Assessment ends with the signature: nothing is learnt by waiting. */
static void days(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench, view_job_said *said)
{
    if (asked_days(ui, model, bench, said) || model->about->mode == JOB_ASSESSMENT) {
        return;
    }
    char text[48];
    tr_format(text, sizeof text, "%d", day_steps[job->tools.over.days]);
    (void)view__bench_stepper(ui, bench, view_word(ui, "job.over.days"), 0, DAY_STEPS - 1, &job->tools.over.days, text);
    if (view__bench_button(ui, bench, "job.over.wait", 'T', VIEW_SECONDARY)) {
        view_job_do(said, model, JOB_DO_WAIT_DAYS, (const double[]){(double)day_steps[job->tools.over.days]}, 1);
    }
}

static void pose(view_ui *ui, view_job *job, const view_job_model *model)
{
    const bool is_on = model->state->row[job->row].has_collar;
    view_push(ui, "collar", job->row);
    const float gap = view_anim(ui, view_id_of(ui, "gap"), is_on ? 0.0F : 0.02F, 0.3F);
    view_pop(ui);
    job->hand.over.is_shown = !is_on || gap > 0.0005F;
    job->hand.over.collar_m = (double)gap;
}

static void wipe_and_sign(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench,
                          view_job_said *said)
{
    if (view__bench_button(ui, bench, model->state->is_wiped ? "job.over.wiped" : "job.over.wipe", 'W',
                           VIEW_SECONDARY)) {
        view_job_do(said, model, JOB_DO_WIPE, NULL, 0);
    }
    days(ui, job, model, bench, said);
    if (view__bench_button(ui, bench, "job.over.sign", 'S', VIEW_PRIMARY)) {
        job->sign_open = true;
    }
}

void view_stage_over(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture, view_rect tools,
                     view_job_said *said)
{
    const view_pen pen = view_job_pen(ui, model);
    pose(ui, job, model);
    view_closeup(&pen, picture, JOB_STAGE_HAND_OVER, &model->what->setup, model->state, job->row, &job->hand, NULL);
    view_bench bench = view__bench_begin(ui, tools);
    if (model->state->is_signed) { /* nothing can be changed any more; the card leads on to the debrief */
        view__bench_label(ui, &bench, view_word(ui, "refuse.signed"));
    } else {
        collars(ui, job, model, &bench, said);
        wipe_and_sign(ui, job, model, &bench, said);
    }
    view__bench_end(ui, &bench);
}
