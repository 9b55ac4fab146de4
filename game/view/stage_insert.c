/* Driving the insert: the trigger sinks it as long as it is held, faster with a faster driver; the flange is felt when
 * it meets the wood. Where the hand meant to stop becomes the action; what the wood made of it is the job's to say. */
#include "stage_hand.h"

#include <math.h>

enum { TRIGGER = 1 };

static const float LEAD_M = 0.0016F;     /* of the insert's outer thread, a turn (assumption) */
static const float START_M = 0.004F;     /* threaded in by the fingers */
static const float FLANGE_M = 0.0006F;   /* from here on the flange rubs ... */
static const float FLANGE_SHARE = 0.12F; /* ... and the driver labours */
static const float LEAST_M = -0.02F;
static const float LAND_RAD = 0.045F;
static const float WALK_RAD_S = 0.016F;

static float proud_at_start(const job_setup *setup)
{
    return fminf((float)setup->insert.length_m - START_M, 0.05F);
}

static void come_up(view_job *job, const view_job_model *model)
{
    job->tools.insert.row = job->row;
    job->tools.insert.proud_m = proud_at_start(&model->what->setup);
    job->tools.insert.pitch_rad = view__land(job, LAND_RAD);
    job->tools.insert.yaw_rad = view__land(job, LAND_RAD);
    job->tools.insert.still_s = 0.0F;
    job->tools.insert.is_begun = false;
    job->tools.insert.is_at_post = true;
}

static void finish(view_job *job, const view_job_model *model, view_job_said *said)
{
    const double args[] = {job->tools.insert.row, (double)job->tools.insert.proud_m,
                           (double)job->tools.insert.pitch_rad, (double)job->tools.insert.yaw_rad};
    view_job_do(said, model, JOB_DO_DRIVE_INSERT, args, 4);
    job->tools.insert.is_begun = job->tools.insert.is_at_post = false;
}

/* As with the hole: an insert half driven is what it is. */
static void mind_row(view_job *job, const view_job_model *model, view_job_said *said)
{
    if (job->tools.insert.is_at_post && job->tools.insert.row == job->row) {
        return;
    }
    if (job->tools.insert.is_at_post && job->tools.insert.is_begun) {
        finish(job, model, said);
    }
    come_up(job, model);
}

static void drive(view_job *job, const view__touch *touch)
{
    float *proud = &job->tools.insert.proud_m;
    const view__lean how = {.walk = WALK_RAD_S, .is_working = true};
    view__lean_step(job, touch, how, &job->tools.insert.pitch_rad, &job->tools.insert.yaw_rad);
    const float free_m = job->tools.insert.rpm / 60.0F * LEAD_M * touch->dt_s;
    const float before_flange = fmaxf(*proud - FLANGE_M, 0.0F);
    const float first = fminf(free_m, before_flange);
    *proud = fmaxf(*proud - first - (free_m - first) * FLANGE_SHARE, LEAST_M);
    job->hand.insert.spin_rad += (double)fminf(job->tools.insert.rpm / 60.0F * 6.2831853F, 16.0F) * (double)touch->dt_s;
    job->tools.insert.is_begun = true;
}

/* The hole guides the insert, but a hand can still lean on it. */
static void wait(view_job *job, const job_row *row, const view__touch *touch)
{
    view__touch still = *touch;
    still.arrows = job->tools.insert.is_begun ? still.arrows : (view_point){0};
    const view__lean how = {.rest_pitch = (float)row->hole.pitch_rad, .rest_yaw = (float)row->hole.yaw_rad};
    view__lean_step(job, &still, how, &job->tools.insert.pitch_rad, &job->tools.insert.yaw_rad);
}

static void say_speed(const view_job *job, const view_job_model *model, view_job_said *said)
{
    const double rpm = (double)job->tools.insert.rpm;
    if (model->state->driver_rpm != rpm) {
        view_job_do(said, model, JOB_DO_SET_DRIVER_SPEED, &rpm, 1);
    }
}

static void work(view_ui *ui, view_job *job, const view_job_model *model, const view__touch *touch, view_hold hold,
                 view_job_said *said)
{
    const job_row *row = &model->state->row[job->row];
    if (hold.has_begun) {
        say_speed(job, model, said);
    }
    if (hold.has_begun && (!row->is_drilled || row->is_driven)) {
        finish(job, model, said); /* a try: the job says what was wrong */
        view__let_go(job);
        return;
    }
    if (hold.is_down) {
        drive(job, touch);
    } else if (!job->tools.insert.is_begun) {
        wait(job, row, touch);
    }
    job->tools.insert.still_s = hold.is_down ? 0.0F : job->tools.insert.still_s + touch->dt_s;
    ui->wants_frame = ui->wants_frame || job->tools.insert.still_s < VIEW__STILL_S;
}

/* What is seen stops at the bottom of the hole, however far the hand wanted to go. */
static void pose(view_job *job, const view_job_model *model)
{
    const job_row *row = &model->state->row[job->row];
    const double bottom = model->what->setup.insert.length_m - row->hole.depth_m;
    job->hand.insert =
        (view_hand_insert){.is_shown = row->is_drilled && !row->is_driven,
                           .proud_m = fmax((double)job->tools.insert.proud_m, bottom),
                           .pitch_rad = (double)job->tools.insert.pitch_rad,
                           .yaw_rad = (double)job->tools.insert.yaw_rad,
                           .rpm = job->tools.hold.gesture == TRIGGER ? (double)job->tools.insert.rpm : 0.0,
                           .spin_rad = job->hand.insert.spin_rad};
}

void view_stage_insert(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture, view_rect tools,
                       view_job_said *said)
{
    const view_pen pen = view_job_pen(ui, model);
    view__keep_row(job);
    mind_row(job, model, said);
    pose(job, model);
    view_closeup_insert(&pen, picture, &model->what->setup, model->state, job->row, &job->hand, NULL);
    if (job->tools.insert.is_begun) {
        view__take_arrows(ui);
    }
    const view__touch touch = view__touch_picture(ui, job, picture, view_word(ui, "do.insert.picture"));
    view__desk desk = view__desk_begin(ui, tools, 2, "do.insert.help");
    view__bench_speed(ui, &desk.bench, model, &job->tools.insert.rpm);
    view_bench *foot = view__desk_foot(ui, &desk);
    const view__trigger what = {TRIGGER, "do.insert.trigger", 'W', true, NULL};
    const char *why_not = job->tools.insert.is_begun ? NULL : view_word(ui, "do.insert.not_begun");
    const view_hold hold = view__trigger_at(ui, view__bench_line(ui, foot), job, &touch, what);
    const bool is_done = view__done_at(ui, view__bench_line(ui, foot), "do.insert.done", &touch, why_not);
    view__desk_end(ui, &desk);
    work(ui, job, model, &touch, hold, said);
    if (is_done && job->tools.insert.is_begun) {
        finish(job, model, said);
    }
}
