/* Joining: the cable stud out of the body, the body backed off, the stud of the crimped cable drawn in, and the row
 * hand tight. */
#include "job_screen.h"

#include <math.h>

#include "tautrow/base/text.h"

/* Fingers draw a stud in at about this many turns a second. */
static const float TURNS_A_SECOND = 3.0F;
static const view_range PULL = {5.0F, 120.0F, 5.0F};

/* The steppers start at what the row is now: no answer is given away. */
static void fit_to_row(view_job *job, const job_row *row)
{
    if (job->tools.join.is_ready && job->tools.join.row == job->row) {
        return;
    }
    job->tools.join.is_ready = true;
    job->tools.join.row = job->row;
    job->tools.join.back_to = floorf(2.0F * (float)row->engaged.anchor_turns) / 2.0F;
    job->tools.join.in_turns = 1.0F;
    job->tools.join.body_held = false;
}

static void unscrew(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench, view_job_said *said)
{
    (void)view__bench_toggle(ui, bench, "job.join.hold_body", &job->tools.join.body_held);
    if (view__bench_button(ui, bench, "job.join.unscrew", 'U', VIEW_SECONDARY)) {
        const double held = job->tools.join.body_held ? 1.0 : 0.0;
        view_job_do(said, model, JOB_DO_UNSCREW_STUD, (const double[]){job->row, held}, 2);
        job->tools.join.is_ready = false;
    }
}

/* In half turns; the slider reaches a little beyond what is in the body now. */
static void back_off(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench, view_job_said *said)
{
    char text[16];
    float *left = &job->tools.join.back_to;
    const view_range range = {0.0F, ceilf((float)model->state->row[job->row].engaged.anchor_turns) + 4.0F, 0.5F};
    tr_format(text, sizeof text, "%g", (double)*left);
    (void)view_slider(ui, view__bench_next(bench, view_slider_height(ui)), view_word(ui, "job.join.leave"), range, left,
                      text);
    if (view__bench_button(ui, bench, "job.join.back_off", 'B', VIEW_SECONDARY)) {
        view_job_do(said, model, JOB_DO_BACK_OFF, (const double[]){job->row, (double)*left}, 2);
    }
}

static void thread_in(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench, view_job_said *said)
{
    char text[16];
    int turns = (int)job->tools.join.in_turns;
    tr_format(text, sizeof text, "%d", turns);
    if (view__bench_stepper(ui, bench, view_word(ui, "job.join.in"), 1, 60, &turns, text)) {
        job->tools.join.in_turns = (float)turns;
    }
    const view_rect line = view__bench_next(bench, view_control_height(ui));
    const view_button_spec spec = {.tip = view_word(ui, "job.join.hold_tip")};
    const view_hold hold = view_hold_button(ui, line, view_word(ui, "job.join.turn"), &spec);
    if (hold.has_begun) {
        job->tools.join.held_turns = 0.0F;
    }
    if (hold.is_down) {
        const float step = TURNS_A_SECOND * ui->input->dt_s;
        job->tools.join.held_turns += step;
        job->tools.join.in_turns = fminf(fmaxf(job->tools.join.in_turns + step, 1.0F), 60.0F);
    }
    if (view__bench_button(ui, bench, "job.join.thread_in", 'T', VIEW_SECONDARY)) {
        view_job_do(said, model, JOB_DO_THREAD_IN, (const double[]){job->row, floor((double)job->tools.join.in_turns)},
                    2);
        job->tools.join.is_ready = false;
    }
}

static void hand_tight(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench, view_job_said *said)
{
    char text[48];
    view_job_quantity(model, (double)job->tools.join.pull_n, TR_DIM_FORCE, text);
    (void)view_slider(ui, view__bench_next(bench, view_slider_height(ui)), view_word(ui, "job.join.pull"), PULL,
                      &job->tools.join.pull_n, text);
    if (view__bench_button(ui, bench, "job.join.hand_tight", 'H', VIEW_SECONDARY)) {
        view_job_do(said, model, JOB_DO_HAND_TIGHT, (const double[]){job->row, (double)job->tools.join.pull_n}, 2);
    }
}

/* The picture follows the values that are set, until they become an action. */
static void pose(view_job *job, const job_row *row)
{
    view_hand_turn *hand = &job->hand.turn;
    const double back = row->engaged.anchor_turns - (double)job->tools.join.back_to;
    hand->is_body_held = job->tools.join.body_held && row->cable_in && !row->is_joined;
    hand->back_turns = !row->cable_in && row->anchor_in ? fmax(back, 0.0) : 0.0;
    hand->in_turns = 0.0;
    if (!row->cable_in && row->anchor_in && row->crimp.squeeze_count > 0 && job->tools.join.held_turns > 0.0F) {
        hand->back_turns = 0.0;
        hand->in_turns = (double)job->tools.join.in_turns;
    }
    hand->pin_rad = hand->stud_rad = 0.0;
    hand->is_sliding = false;
    hand->has_effort = job->pin_row == job->row && job->pin_n_m >= 0.0;
    hand->effort_n_m = hand->has_effort ? job->pin_n_m : 0.0;
}

void view_stage_join(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture, view_rect tools,
                     view_job_said *said)
{
    const job_row *row = &model->state->row[job->row];
    const view_pen pen = view_job_pen(ui, model);
    if (job->tools.join.row != job->row || !job->tools.join.is_ready) {
        job->tools.join.held_turns = 0.0F;
    }
    fit_to_row(job, row);
    pose(job, row);
    view_closeup(&pen, picture, JOB_STAGE_JOIN, &model->what->setup, model->state, job->row, &job->hand, NULL);
    view_bench bench = view__bench_begin(ui, tools);
    /* what the hands find: a stud to unscrew, an empty end to draw it into, a joined row to bring up */
    if (row->is_joined) {
        hand_tight(ui, job, model, &bench, said);
    }
    if (row->cable_in) {
        unscrew(ui, job, model, &bench, said);
    } else {
        back_off(ui, job, model, &bench, said);
        thread_in(ui, job, model, &bench, said);
    }
    view__bench_end(ui, &bench);
}
