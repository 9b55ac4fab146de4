/* Marking out: the story pole's foot set down on its datum, then a pencil line for each row. A hand comes down a little
 * off and settles while it waits: what counts is where it is when it lets go. */
#include "stage_hand.h"

#include <math.h>

enum { POLE = 1, PENCIL };

static const float LAND_M = 0.006F;
static const float REST_M = 0.0003F;
static const float MOST_M = 0.05F;
/* Before it is set the pole stands beside its datum. */
static const double POLE_AWAY_M = 0.012;
static const float STROKE_S = 0.8F;

static float within(float value)
{
    return fminf(fmaxf(value, -MOST_M), MOST_M);
}

static void begin(view_job *job, float steer_m)
{
    job->tools.hold.land_m = view__land(job, LAND_M);
    job->tools.hold.steer_m = steer_m;
}

static float off_now(const view_job *job)
{
    return within(job->tools.hold.steer_m + view__settled(job, job->tools.hold.land_m, job->tools.hold.held_s, REST_M));
}

/* Pointer or arrows move the hand along the post; up is positive. */
static void steer(view_job *job, const view__touch *touch, const view_grip *grip)
{
    const float moved = touch->is_mouse ? -touch->moved.y / fmaxf(grip->px_per_m, 1.0F) : 0.0F;
    view__steer(job, moved, -touch->arrows.y, touch->dt_s);
}

static void hold_pole(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench,
                      const view__touch *touch, const view_grip *grip, view_job_said *said)
{
    const view__trigger what = {POLE, "do.mark.pole", 'F', !model->state->is_pole_set, NULL};
    const view_hold hold = view__trigger_at(ui, view__bench_line(ui, bench), job, touch, what);
    if (hold.has_begun) {
        begin(job, 0.0F);
    } else if (hold.is_down) {
        steer(job, touch, grip);
    }
    if (hold.is_down) {
        job->tools.mark.pole_m = off_now(job);
    } else if (hold.has_ended) {
        view_job_do(said, model, JOB_DO_SET_POLE, (const double[]){(double)job->tools.mark.pole_m}, 1);
    }
}

/* The pencil starts where the pointer is on the pole; from the keyboard it comes down at the row's mark as well as a
 * hand can. */
static float pencil_start(const view__touch *touch, const view_grip *grip)
{
    return touch->is_mouse ? within((grip->zero.y - touch->at.y) / fmaxf(grip->px_per_m, 1.0F)) : 0.0F;
}

static void hold_pencil(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench,
                        const view__touch *touch, const view_grip *grip, view_job_said *said)
{
    const char *why_not = model->state->is_pole_set ? NULL : view_word(ui, "do.mark.no_pole");
    const view__trigger what = {PENCIL, "do.mark.pencil", 'M', model->state->is_pole_set, why_not};
    const view_hold hold = view__trigger_at(ui, view__bench_line(ui, bench), job, touch, what);
    if (hold.has_begun) {
        begin(job, pencil_start(touch, grip));
    } else if (hold.is_down) {
        steer(job, touch, grip);
    }
    if (hold.is_down) {
        job->tools.mark.pencil_m = off_now(job);
        job->hand.mark.stroke = (double)fminf(hold.held_s / STROKE_S, 1.0F);
    } else if (hold.has_ended) {
        view_job_do(said, model, JOB_DO_MARK_ROW, (const double[]){job->row, (double)job->tools.mark.pencil_m}, 2);
    }
}

static void pose(view_job *job, const job_state *state)
{
    const bool is_setting = job->tools.hold.gesture == POLE;
    const bool is_drawing = job->tools.hold.gesture == PENCIL;
    view_hand_mark *hand = &job->hand.mark;
    /* the picture adds what the pole was off by before */
    const double away = state->is_pole_set ? 0.0 : POLE_AWAY_M;
    hand->pole_m = is_setting ? (double)job->tools.mark.pole_m - state->pole_error_m : away;
    hand->pencil_m = is_drawing ? (double)job->tools.mark.pencil_m : 0.0;
    hand->stroke = is_drawing ? hand->stroke : 0.0;
}

/* A line may be drawn anew until the hole is drilled: while the pencil is at work the old one is not shown. */
static job_state seen_state(const view_job *job, const job_state *state)
{
    job_state seen = *state;
    seen.row[job->row].is_marked = seen.row[job->row].is_marked && job->tools.hold.gesture != PENCIL;
    return seen;
}

void view_stage_mark(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture, view_rect tools,
                     view_job_said *said)
{
    const view_pen pen = view_job_pen(ui, model);
    view_grip grip = {0};
    view__keep_row(job);
    pose(job, model->state);
    const job_state seen = seen_state(job, model->state);
    view_closeup_mark(&pen, picture, &model->what->setup, &seen, job->row, &job->hand, &grip);
    const view__touch touch = view__touch_picture(ui, job, picture, view_word(ui, "do.mark.picture"));
    view__desk desk = view__desk_begin(ui, tools, 0, "do.mark.help");
    hold_pole(ui, job, model, &desk.bench, &touch, &grip, said);
    hold_pencil(ui, job, model, &desk.bench, &touch, &grip, said);
    view__desk_end(ui, &desk);
}
