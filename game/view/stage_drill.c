/* Drilling: the trigger feeds the bit as long as it is held; the hand walks off square and is steered back by the
 * bubbles; the bit is drawn back to clear its chips. The hole that was begun stays begun, whatever row or stage is
 * looked at in between. */
#include "stage_hand.h"

#include <math.h>

#include "tautrow/base/text.h"

enum { TRIGGER = 1 };

static const char *const ends[2] = {"do.drill.back", "do.drill.done"};

static const float FEED_M_S = 0.008F;
static const float FULL_SHARE = 0.4F;     /* of the feed that is left with full flutes */
static const float FILL_DIAMETERS = 3.0F; /* depth that fills the flutes; the same as in the job's rules */
static const float DRAW_M_S = 0.060F;     /* in and out of a hole that is there */
static const float AWAY_M = 0.004F;       /* tip before the face, at rest */
static const float LAND_RAD = 0.055F;
static const float WALK_RAD_S = 0.022F;
static const float WANDER_M_RAD =
    0.0004F; /* hole widened for every radian that the bit was worked about in it (assumption) */
static const double TRY_DEPTH_M = 0.001;
static const float SPIN_RAD_S = 14.0F;

/* ---- the hole --------------------------------------------------------------------------------------------------- */

static float diameter(const job_setup *setup, const job_state *state)
{
    return state->bit >= 0 ? (float)setup->bit[state->bit].diameter_m : 0.01F;
}

static float depth_there(const job_row *row)
{
    return row->is_drilled ? (float)row->hole.depth_m : 0.0F;
}

/* Comes up to a row: the tip before the face, the hand not yet square. */
static void come_up(view_job *job, const job_row *row)
{
    job->tools.drill.row = job->row;
    job->tools.drill.depth_m = -AWAY_M;
    job->tools.drill.deepest_m = depth_there(row);
    job->tools.drill.pitch_rad = view__land(job, LAND_RAD);
    job->tools.drill.yaw_rad = view__land(job, LAND_RAD);
    job->tools.drill.pitch_sum = job->tools.drill.yaw_sum = job->tools.drill.wander_m = 0.0F;
    job->tools.drill.chips = 0.0F;
    job->tools.drill.clearings = 0;
    job->tools.drill.is_begun = job->tools.drill.is_backing = false;
    job->tools.drill.is_at_post = true;
    job->tools.drill.still_s = 0.0F;
}

static void finish(view_job *job, const view_job_model *model, view_job_said *said)
{
    const job_row *row = &model->state->row[job->tools.drill.row];
    const double depth = (double)job->tools.drill.deepest_m;
    const double cut = fmax(depth - (row->is_drilled ? row->hole.depth_m : 0.0), 1e-4);
    const double args[] = {job->tools.drill.row,
                           fmin(fmax(depth, TRY_DEPTH_M), 0.2),
                           (double)job->tools.drill.pitch_sum / cut,
                           (double)job->tools.drill.yaw_sum / cut,
                           fmin(job->tools.drill.clearings, 20),
                           fmin((double)job->tools.drill.wander_m, 0.005)};
    view_job_do(said, model, JOB_DO_DRILL, args, 6);
    job->tools.drill.is_begun = job->tools.drill.is_at_post = false;
}

/* A row that is chosen while the hole of another is half drilled: that hole is what it is. */
static void mind_row(view_job *job, const view_job_model *model, view_job_said *said)
{
    const job_row *row = &model->state->row[job->row];
    const bool is_here = job->tools.drill.is_at_post && job->tools.drill.row == job->row;
    const bool is_as_left = job->tools.drill.is_begun || job->tools.drill.deepest_m == depth_there(row);
    if (is_here && is_as_left) {
        return;
    }
    if (job->tools.drill.is_at_post && job->tools.drill.is_begun) {
        finish(job, model, said);
    }
    come_up(job, row);
}

static bool is_able(const view_job *job, const job_state *state)
{
    const job_row *row = &state->row[job->row];
    return state->has_glasses && row->is_marked && !row->is_driven && state->bit >= 0;
}

static void say_speed(const view_job *job, const view_job_model *model, view_job_said *said)
{
    const double rpm = (double)job->tools.drill.rpm;
    if (model->state->drill_rpm != rpm) {
        view_job_do(said, model, JOB_DO_SET_DRILL_SPEED, &rpm, 1);
    }
}

/* A trigger pulled at the wrong moment is a try, and the job says what was wrong. */
static void try_in_vain(view_job *job, const view_job_model *model, view_job_said *said)
{
    view_job_do(said, model, JOB_DO_DRILL, (const double[]){job->row, TRY_DEPTH_M, 0.0, 0.0, 0.0, 0.0}, 6);
    view__let_go(job);
}

static void feed(view_job *job, const view_job_model *model, const view__touch *touch)
{
    float *depth = &job->tools.drill.depth_m;
    float *deepest = &job->tools.drill.deepest_m;
    const float pitch = job->tools.drill.pitch_rad;
    const float yaw = job->tools.drill.yaw_rad;
    const bool is_in_hole = *depth < *deepest - 1e-5F;
    const view__lean how = {.walk = WALK_RAD_S, .is_working = !is_in_hole};
    view__lean_step(job, touch, how, &job->tools.drill.pitch_rad, &job->tools.drill.yaw_rad);
    if (is_in_hole) {
        *depth = fminf(*depth + DRAW_M_S * touch->dt_s, *deepest);
        return;
    }
    const float chips = fminf(job->tools.drill.chips, 1.0F);
    const float step = FEED_M_S * touch->squeeze * (1.0F - (1.0F - FULL_SHARE) * chips) * touch->dt_s;
    *depth += step;
    const float cut = fminf(*depth, 0.2F) - *deepest;
    if (cut > 0.0F) {
        *deepest += cut;
        job->tools.drill.is_begun = true;
        job->tools.drill.pitch_sum += job->tools.drill.pitch_rad * cut;
        job->tools.drill.yaw_sum += job->tools.drill.yaw_rad * cut;
        job->tools.drill.chips += cut / (FILL_DIAMETERS * diameter(&model->what->setup, model->state));
        job->tools.drill.wander_m +=
            WANDER_M_RAD * hypotf(job->tools.drill.pitch_rad - pitch, job->tools.drill.yaw_rad - yaw);
    }
}

/* Out of the hole in one go; it counts when there was something to clear. */
static void draw_back(view_job *job, float dt_s)
{
    job->tools.drill.depth_m -= DRAW_M_S * dt_s;
    if (job->tools.drill.depth_m > -AWAY_M) {
        return;
    }
    job->tools.drill.depth_m = -AWAY_M;
    job->tools.drill.is_backing = false;
    if (job->tools.drill.chips > 0.2F) {
        job->tools.drill.clearings++;
    }
    job->tools.drill.chips = 0.0F;
}

static void work(view_ui *ui, view_job *job, const view_job_model *model, const view__touch *touch, view_hold hold,
                 view_job_said *said)
{
    if (hold.has_begun && !is_able(job, model->state)) {
        try_in_vain(job, model, said);
        return;
    }
    if (hold.has_begun) {
        say_speed(job, model, said);
    }
    if (job->tools.drill.is_backing) {
        draw_back(job, touch->dt_s);
    } else if (hold.is_down) {
        feed(job, model, touch);
        job->hand.drill.spin_rad += (double)(SPIN_RAD_S * touch->dt_s);
    }
    if (!hold.is_down) {
        view__touch still = *touch;
        still.arrows = job->tools.drill.is_begun ? still.arrows : (view_point){0};
        const view__lean how = {.is_working = false};
        view__lean_step(job, &still, how, &job->tools.drill.pitch_rad, &job->tools.drill.yaw_rad);
    }
    job->tools.drill.still_s = hold.is_down ? 0.0F : job->tools.drill.still_s + touch->dt_s;
    ui->wants_frame = ui->wants_frame || job->tools.drill.still_s < VIEW__STILL_S;
    ui->wants_frame = ui->wants_frame || job->tools.drill.is_backing;
}

/* ---- tools ------------------------------------------------------------------------------------------------------ */

static void choose_bit(view_ui *ui, const view_job *job, const view_job_model *model, view_bench *bench,
                       view_job_said *said)
{
    const job_setup *setup = &model->what->setup;
    char size[JOB_MAX_BITS][48];
    const char *words[JOB_MAX_BITS];
    for (int i = 0; i < setup->bit_count; i++) {
        tr_quantity_text(setup->bit[i].diameter_m, TR_DIM_LENGTH, model->system, TR_FINE, size[i], sizeof size[i]);
        words[i] = size[i];
    }
    const int pressed = view__bench_choice(ui, bench, view_word(ui, "do.drill.bit"), words, setup->bit_count,
                                           model->state->bit, "12345678");
    if (pressed >= 0 && pressed != model->state->bit && !job->tools.drill.is_begun) {
        view_job_do(said, model, JOB_DO_TAKE_BIT, (const double[]){pressed}, 1);
    }
}

/* The tape on the bit is set by the sheet, in steps that a tape measure has. */
static void set_flag(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench)
{
    const float step = model->system == TR_US ? 0.0254F / 16.0F : 0.001F;
    if (job->tools.drill.flag_m <= 0.0F) {
        job->tools.drill.flag_m = model->system == TR_US ? 0.0254F : 0.025F;
    }
    int at = (int)lroundf(job->tools.drill.flag_m / step);
    char text[48];
    view_job_quantity(model, (double)((float)at * step), TR_DIM_LENGTH, text);
    if (view__bench_stepper(ui, bench, view_word(ui, "do.drill.flag"), (int)(0.008F / step), (int)(0.1F / step), &at,
                            text)) {
        job->tools.drill.flag_m = (float)at * step;
    }
}

static void pose(view_job *job, const job_state *state)
{
    view_hand_drill *hand = &job->hand.drill;
    const double spin = hand->spin_rad;
    const bool is_turning = job->tools.hold.gesture == TRIGGER || job->tools.drill.is_backing;
    const job_row *row = &state->row[job->row];
    *hand = (view_hand_drill){.is_shown = row->is_marked && !row->is_driven,
                              .depth_m = (double)job->tools.drill.depth_m,
                              .deepest_m = (double)job->tools.drill.deepest_m,
                              .pitch_rad = (double)job->tools.drill.pitch_rad,
                              .yaw_rad = (double)job->tools.drill.yaw_rad,
                              .rpm = is_turning ? (double)job->tools.drill.rpm : 0.0,
                              .spin_rad = spin,
                              .wander_m = (double)job->tools.drill.wander_m,
                              .chips = (double)fminf(job->tools.drill.chips, 1.0F),
                              .flag_m = (double)job->tools.drill.flag_m};
}

static void clearing(view_ui *ui, view_job *job, const view__touch *touch, view_rect rect)
{
    const bool is_pressed = view__button_at(ui, rect, "do.drill.back", 'B', NULL);
    const bool is_in = job->tools.drill.depth_m > -AWAY_M;
    job->tools.drill.is_backing = job->tools.drill.is_backing || ((is_pressed || touch->is_back) && is_in);
}

static void set_up(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench, view_job_said *said)
{
    choose_bit(ui, job, model, bench, said);
    view__bench_speed(ui, bench, model, &job->tools.drill.rpm);
    set_flag(ui, job, model, bench);
}

/* Trigger, chips and the end of it. */
static void hands(view_ui *ui, view_job *job, const view_job_model *model, const view__touch *touch, view_bench *foot,
                  view_job_said *said)
{
    const view__trigger what = {TRIGGER, "do.drill.trigger", 'W', true, NULL};
    const char *why_not = job->tools.drill.is_begun ? NULL : view_word(ui, "do.drill.not_begun");
    view_rect half[2];
    const view_hold hold = view__trigger_at(ui, view__bench_line(ui, foot), job, touch, what);
    view__bench_halves(ui, foot, ends, half);
    clearing(ui, job, touch, half[0]);
    const bool is_done = view__done_at(ui, half[1], "do.drill.done", touch, why_not);
    work(ui, job, model, touch, hold, said);
    if (is_done && job->tools.drill.is_begun) {
        finish(job, model, said);
    }
}

void view_stage_drill(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture, view_rect tools,
                      view_job_said *said)
{
    const view_pen pen = view_job_pen(ui, model);
    view__keep_row(job);
    mind_row(job, model, said);
    pose(job, model->state);
    view_closeup_drill(&pen, picture, &model->what->setup, model->state, job->row, &job->hand, NULL);
    if (job->tools.drill.is_begun) {
        view__take_arrows(ui);
    }
    const view__touch touch = view__touch_picture(ui, job, picture, view_word(ui, "do.drill.picture"));
    const int lines = view__are_halves(ui, tools.w, ends) ? 2 : 3;
    view__desk desk = view__desk_begin(ui, tools, lines, "do.drill.help");
    set_up(ui, job, model, &desk.bench, said);
    hands(ui, job, model, &touch, view__desk_foot(ui, &desk), said);
    view__desk_end(ui, &desk);
}
