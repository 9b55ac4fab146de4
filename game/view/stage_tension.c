/* Tensioning: the turning pin swung by hand or by key, the pliers, the pluck and the gauge. The body turns live: every
 * quarter turn is an action, so that the other rows sink while this one rises. */
#include "job_screen.h"

#include <math.h>

#include "tautrow/base/text.h"

static const float QUARTER_RAD = 1.57079633F;
static const float SIXTEENTH_TURN = 0.0625F;
/* The way that a hand makes for a quarter turn of a slack row, and how much more of it at the heaviest. */
static const float EASY_WAY = 54.0F;
static const float HEAVY_WAY = 66.0F;
/* The stick swings the pin when it is pushed so far over. */
static const float STICK_TAKES = 0.4F;
/* A quarter turn by key swings for so long: slack, and so much more at the heaviest. */
static const float EASY_S = 0.16F;
static const float HEAVY_S = 0.55F;

static const double step_turns[] = {0.25, 0.125, 0.0625};

static void turn(const view_job *job, const view_job_model *model, double turns, view_job_said *said)
{
    view_job_do(said, model, JOB_DO_TURN_BODY, (const double[]){job->row, turns}, 2);
}

/* ---- swinging the pin by mouse ---------------------------------------------------------------------------------- */

/* How hard the last turn was, as a share of what a hand can do: the pin lags behind the pointer by it. */
static float heaviness(const view_job *job, const view_job_model *model)
{
    if (job->pin_row != job->row || job->pin_n_m <= 0.0) {
        return 0.0F;
    }
    return fminf((float)(job->pin_n_m / fmax(model->what->setup.pin_limit_n_m, 0.1)), 1.0F);
}

/* The same turn the short way round. */
static float nearest_way(float rad)
{
    return rad > 3.14159265F ? rad - 6.2831853F : rad < -3.14159265F ? rad + 6.2831853F : rad;
}

static float swing_step(const view_ui *ui, const view_job *job, const view_job_model *model, const view_grip *grip)
{
    const float x = ui->input->mouse_x;
    const float y = ui->input->mouse_y;
    const float heavy = heaviness(job, model);
    if (job->tools.tension.is_dial) {
        const float before =
            atan2f(job->tools.tension.mouse_y - grip->pivot.y, job->tools.tension.mouse_x - grip->pivot.x);
        return nearest_way(atan2f(y - grip->pivot.y, x - grip->pivot.x) - before) / (1.0F + heavy);
    }
    return (job->tools.tension.mouse_y - y) * QUARTER_RAD / (EASY_WAY + HEAVY_WAY * heavy);
}

/* Whole quarters become actions at once; what is left is kept until the hand lets go. */
static void say_quarters(view_job *job, const view_job_model *model, view_job_said *said)
{
    float *pin = &job->tools.tension.pin_rad;
    while (fabsf(*pin) >= QUARTER_RAD && said->action_count < VIEW_JOB_MAX_SAID) {
        const float way = *pin > 0.0F ? 1.0F : -1.0F;
        turn(job, model, 0.25 * (double)way, said);
        *pin -= way * QUARTER_RAD;
    }
}

static void let_go(view_job *job, const view_job_model *model, view_job_said *said)
{
    const float turns = roundf(job->tools.tension.pin_rad / (4.0F * QUARTER_RAD) / SIXTEENTH_TURN) * SIXTEENTH_TURN;
    if (turns != 0.0F) {
        turn(job, model, (double)turns, said);
    }
    job->tools.tension.pin_rad = 0.0F;
    job->tools.tension.is_swung = false;
}

static void swing(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture, const view_grip *grip,
                  view_job_said *said)
{
    const view_react react = view_place(ui, picture, view_word(ui, "job.pin"), NULL);
    const bool is_held = react.is_down && ui->input->down[VIEW_MOUSE_LEFT] && !ui->keyboard_used;
    if (is_held && !job->tools.tension.is_swung) {
        const float reach = hypotf(ui->input->mouse_x - grip->pivot.x, ui->input->mouse_y - grip->pivot.y);
        job->tools.tension.is_swung = true;
        job->tools.tension.is_dial = reach < 76.0F;
    } else if (is_held) {
        job->tools.tension.pin_rad += swing_step(ui, job, model, grip);
        say_quarters(job, model, said);
    } else if (job->tools.tension.is_swung) {
        let_go(job, model, said);
    }
    job->tools.tension.mouse_x = ui->input->mouse_x;
    job->tools.tension.mouse_y = ui->input->mouse_y;
    if (react.shows_ring) {
        view_ring(ui, view_inset(picture, 2.0F), VIEW_RADIUS);
    }
    view_tooltip(ui, react, grip->handle, view_word(ui, "job.pin"));
    ui->wants_frame = ui->wants_frame || is_held;
}

/* ---- swinging it by stick --------------------------------------------------------------------------------------- */

/* The stick goes round as the pin does: clockwise tightens. Let go, it has come to rest at a sixteenth. */
static void swing_by_stick(view_ui *ui, view_job *job, const view_job_model *model, view_job_said *said)
{
    const float x = ui->input->stick_x;
    const float y = ui->input->stick_y;
    const bool is_over = job->tools.tension.is_swung || job->leave_open || job->sign_open;
    const bool is_held = !is_over && hypotf(x, y) > STICK_TAKES;
    const float now = atan2f(y, x);
    if (job->tools.tension.is_stick &&
        job->tools.tension.stick_row != job->row) { /* another pin: this one has not turned */
        job->tools.tension.pin_rad = 0.0F;
        job->tools.tension.is_stick = false;
    }
    job->tools.tension.stick_row = job->row;
    if (is_held && job->tools.tension.is_stick) {
        const float by = nearest_way(now - job->tools.tension.stick_rad);
        job->tools.tension.pin_rad += by / (1.0F + heaviness(job, model));
        say_quarters(job, model, said);
    } else if (!is_held && job->tools.tension.is_stick) {
        let_go(job, model, said);
    }
    job->tools.tension.is_stick = is_held;
    job->tools.tension.stick_rad = now;
    ui->wants_frame = ui->wants_frame || is_held;
}

/* ---- keys ------------------------------------------------------------------------------------------------------- */

static void turn_by_keys(view_ui *ui, const view_job *job, const view_job_model *model, view_job_said *said)
{
    static const unsigned mods[] = {0, VIEW_SHIFT, VIEW_CTRL};
    for (int i = 0; i < 3; i++) {
        const double turns = i == 0 ? step_turns[job->tools.tension.step] : step_turns[i];
        while (view_key_take(ui, VIEW_KEY_RIGHT, mods[i])) {
            turn(job, model, turns, said);
        }
        while (view_key_take(ui, VIEW_KEY_LEFT, mods[i])) {
            turn(job, model, -turns, said);
        }
    }
    while (view_key_take(ui, VIEW_PAD_RT, 0)) {
        turn(job, model, step_turns[job->tools.tension.step], said);
    }
    while (view_key_take(ui, VIEW_PAD_LT, 0)) {
        turn(job, model, -step_turns[job->tools.tension.step], said);
    }
}

/* ---- tools ------------------------------------------------------------------------------------------------------ */

static void pliers(view_ui *ui, const view_job *job, const view_job_model *model, view_bench *bench,
                   view_job_said *said)
{
    bool is_on = model->state->row[job->row].has_pliers;
    const bool is_switched = view__bench_toggle(ui, bench, "job.tension.pliers", &is_on);
    if (is_switched || view_shortcut(ui, 'P')) {
        const double on = model->state->row[job->row].has_pliers ? 0.0 : 1.0;
        view_job_do(said, model, JOB_DO_PLIERS, (const double[]){job->row, on}, 2);
    }
}

static void turn_buttons(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench,
                         view_job_said *said)
{
    static const char *const steps[] = {"1/4", "1/8", "1/16"};
    static const char *const words[2] = {"job.tension.looser", "job.tension.tighter"};
    const char *label = view_word(ui, "job.tension.step");
    const float width = ceilf(view_width_of(ui, VIEW_STRONG, label)) + VIEW_GAP_3;
    view_rect line = view__bench_next(bench, view_control_height(ui));
    if (line.w - width >= 3.0F * (view_width_of(ui, VIEW_STRONG, steps[2]) + 14.0F)) {
        view_label(ui, view_cut_left(&line, width), VIEW_STRONG, VIEW_LEFT, ui->theme->ink, label);
    }
    (void)view_segments(ui, line, label, steps, 3, &job->tools.tension.step);
    const int pressed = view__bench_pair(ui, bench, words, (const char[2]){0});
    if (pressed != 0) {
        turn(job, model, pressed == 2 ? step_turns[job->tools.tension.step] : -step_turns[job->tools.tension.step],
             said);
    }
}

/* Guided: the true tension against the band, and the line that the pull sheet asks for at this turn. */
static void aim_bar(view_ui *ui, const view_job *job, const view_job_model *model, view_bench *bench)
{
    const job_setup *setup = &model->what->setup;
    const view_theme *t = ui->theme;
    const double aim_n = job->advice.aim_n[job->row];
    const double reach_n = fmax(1.5 * setup->target_n,
                                1.05 * setup->row_limit_n < 2.2 * setup->target_n ? 1.05 * setup->row_limit_n : 0.0);
    char text[48];
    char line[128];
    view_job_quantity(model, aim_n >= 0.0 ? aim_n : setup->target_n, TR_DIM_FORCE, text);
    const char *const args[] = {text};
    tr_lang_fill(ui->lang, aim_n >= 0.0 ? "job.tension.aim" : "job.tension.target", args, 1, line, sizeof line);
    view_rect words = view__bench_next(bench, view_line_of(ui, VIEW_STRONG));
    view_job_quantity(model, job->shown_n[job->row], TR_DIM_FORCE, text);
    const float width = ceilf(view_width_of(ui, VIEW_STRONG, text)) + VIEW_GAP_2;
    view_label(ui, view_cut_right(&words, width), VIEW_STRONG, VIEW_RIGHT, t->ink, text);
    view_label(ui, words, VIEW_BODY, VIEW_LEFT, t->ink_soft, line);
    view_rect bar = view__bench_next(bench, 22.0F);
    bar = view_centre_in(bar, bar.w, 14.0F);
    const float low = (float)(setup->target_n * (1.0 - setup->tolerance) / reach_n);
    const float high = (float)(setup->target_n * (1.0 + setup->tolerance) / reach_n);
    const bool is_over = job->shown_n[job->row] > setup->row_limit_n;
    view_meter(ui, bar, (float)(job->shown_n[job->row] / reach_n), low, high, is_over ? t->bad : t->steel_dark);
    if (aim_n >= 0.0) {
        const float x = bar.x + bar.w * fminf((float)(aim_n / reach_n), 1.0F);
        const view_point head[3] = {{x - 6.0F, bar.y - 7.0F}, {x + 6.0F, bar.y - 7.0F}, {x, bar.y + 1.0F}};
        view_fill_poly(ui->draw, head, 3, t->accent);
        view_stroke_line(ui->draw, x, bar.y, x, bar.y + bar.h, 2.0F, t->accent);
    }
}

static void listening(view_ui *ui, const view_job *job, const view_job_model *model, view_bench *bench,
                      view_job_said *said)
{
    static const char *const words[2] = {"job.pluck", "job.gauge"};
    const int pressed = view__bench_pair(ui, bench, words, "KJ");
    if (pressed != 0) {
        view_job_do(said, model, pressed == 1 ? JOB_DO_PLUCK : JOB_DO_GAUGE, (const double[]){job->row}, 1);
    }
    if (view__bench_button(ui, bench, "job.tension.free_twist", 'F', VIEW_QUIET)) {
        view_job_do(said, model, JOB_DO_FREE_TWIST, (const double[]){job->row}, 1);
    }
}

/* A turn by key or button is done in one go, but the pin must still be seen to swing: the heavier it goes, the slower. By
 * hand it is where the hand is. Nothing but the picture waits. */
static void swing_there(view_ui *ui, view_job *job, const view_job_model *model)
{
    const mech_engaged *in = &model->state->row[job->row].engaged;
    const float seconds = EASY_S + HEAVY_S * heaviness(job, model);
    const double by_hand = (double)job->tools.tension.pin_rad / (2.0 * TR_PI);
    const bool is_by_hand = job->tools.tension.is_swung || job->tools.tension.is_stick;
    view_push(ui, "turn", job->row);
    const double turns =
        (double)view_anim(ui, view_id_of(ui, "body"), (float)(in->anchor_turns + by_hand), is_by_hand ? 0.0F : seconds);
    const double twist = (double)view_anim(ui, view_id_of(ui, "stud"), (float)in->twist_turns, seconds);
    view_pop(ui);
    job->hand.turn.pin_rad = (turns - in->anchor_turns) * 2.0 * TR_PI;
    job->hand.turn.stud_rad = (twist - in->twist_turns) * 2.0 * TR_PI;
}

static void pose(view_ui *ui, view_job *job, const view_job_model *model)
{
    view_hand_turn *hand = &job->hand.turn;
    swing_there(ui, job, model);
    hand->is_sliding = hand->is_body_held = false;
    hand->back_turns = hand->in_turns = 0.0;
    hand->has_effort = job->pin_row == job->row && job->pin_n_m >= 0.0;
    hand->effort_n_m = hand->has_effort ? job->pin_n_m : 0.0;
}

/* Only the row in hand shows its hum from near. */
static view_hand as_seen(const view_job *job)
{
    view_hand hand = job->hand;
    hand.turn.hum = job->plucked_row == job->row ? hand.turn.hum : 0.0;
    return hand;
}

void view_stage_tension(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture, view_rect tools,
                        view_job_said *said)
{
    const view_pen pen = view_job_pen(ui, model);
    view_grip grip = {0};
    pose(ui, job, model);
    const view_hand hand = as_seen(job);
    view_closeup(&pen, picture, JOB_STAGE_TENSION, &model->what->setup, model->state, job->row, &hand, &grip);
    swing(ui, job, model, picture, &grip, said);
    swing_by_stick(ui, job, model, said);
    view_bench bench = view__bench_begin(ui, tools);
    if (view__job_is_guided(model)) {
        aim_bar(ui, job, model, &bench);
    }
    pliers(ui, job, model, &bench, said);
    turn_buttons(ui, job, model, &bench, said);
    listening(ui, job, model, &bench, said);
    if (view__job_is_guided(model) && !job->is_closed &&
        view__bench_button(ui, &bench, "orders.title", 0, VIEW_QUIET)) {
        said->orders = true;
    }
    view__bench_end(ui, &bench);
    turn_by_keys(ui, job, model, said);
}
