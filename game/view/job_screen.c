/* The job screen: lays out bar, trail, run, fitting, tools, ladder and card, and hands the frame to the stage in hand.
 */
#include "job_screen.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "pen.h"
#include "run_small.h"
#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"

/* ---- life ------------------------------------------------------------------------------------------------------- */

static void start_tools(view_tools *tools, const job_setup *setup)
{
    const bool is_guided = setup->mode == JOB_GUIDED;
    tools->drill.rpm = tools->insert.rpm = 300.0F;
    tools->crimp.closing = 0.0F;
    /* the right pull is the trainee's to know; guided mode lends it */
    tools->join.pull_n = is_guided ? (float)setup->hand_tight_n : 20.0F;
    tools->join.row = -1;
    tools->over.next_row = MECH_MAX_ROWS;
}

/* The lowest that is still to be fitted; none: the lowest of one's own. Never the first of the order, which is for the
 * trainee to know. */
static int first_row(const job_setup *setup)
{
    int own = setup->order_count > 0 ? setup->order[0] : 0;
    int to_fit = -1;
    for (int i = setup->structure.row_count - 1; i >= 0; i--) {
        own = setup->is_trainees[i] ? i : own;
        to_fit = view__is_to_fit(setup, i) ? i : to_fit;
    }
    return to_fit >= 0 ? to_fit : own;
}

view_job *view_job_open(const scenario *what)
{
    view_job *job = calloc(1, sizeof *job);
    if (job == NULL) {
        return NULL;
    }
    const job_setup *setup = &what->setup;
    job->row = first_row(setup);
    job->follows = true;
    job->drift.rng = tr_rng_seed(setup->seed ^ 0x5EED);
    job->plucked_row = job->last_row = job->former_row = job->pin_row = job->ladder_row = -1;
    job->pin_n_m = -1.0;
    for (int i = 0; i < MECH_MAX_ROWS; i++) {
        job->reading_n[i] = job->tone_hz[i] = job->advice.aim_n[i] = job->advice.end_n[i] = -1.0;
    }
    start_tools(&job->tools, setup);
    return job;
}

void view_job_close(view_job *job)
{
    free(job);
}

view_job_model view_job_model_of(const record_attempt *attempt)
{
    view_job_model model = {.what = record_attempt_scenario(attempt),
                            .state = record_attempt_state(attempt),
                            .about = record_attempt_about(attempt),
                            .trace = record_attempt_trace(attempt),
                            .journal_ok = true};
    model.trace_count = record_attempt_actions(attempt, &model.actions);
    model.now_ms = model.state->now_ms;
    model.system = model.what->units;
    return model;
}

void view_job_show(view_job *job, job_stage stage, int row)
{
    job->stage = stage;
    job->row = row >= 0 ? row : job->row;
}

void view_job_ask_why(view_job *job)
{
    job->why.is_open = true;
}

void view_job_at(const view_job *job, job_stage *stage, int *row)
{
    *stage = job->stage;
    *row = job->row;
}

const view_job_places *view_job_places_of(const view_job *job)
{
    return &job->places;
}

void view__job_choose(view_job *job, job_stage stage, int row)
{
    job->follows = job->follows && stage == job->stage && row == job->row;
    job->stage = stage;
    job->row = row;
}

/* ---- for the stages --------------------------------------------------------------------------------------------- */

void view_job_do(view_job_said *said, const view_job_model *model, job_verb verb, const double *args, int count)
{
    if (said->action_count < VIEW_JOB_MAX_SAID) {
        said->action[said->action_count++] = job_make(verb, model->now_ms, args, count);
    }
}

/* Words in a drawing grow with the text size as far as the drawing has room for them. */
view_pen view_job_pen(const view_ui *ui, const view_job_model *model)
{
    const float room = fmaxf(1.0F, fminf(ui->screen.h / 640.0F, ui->screen.w / 1024.0F));
    return view__pen_of(ui, model->system, 14.0F * fminf(ui->text_scale, room));
}

const char *view_job_quantity(const view_job_model *model, double si, tr_dim dim, char out[48])
{
    tr_quantity_text(si, dim, model->system, TR_PLAIN, out, 48);
    return out;
}

/* Eases towards an aim and picks another one now and then, as a hand that is held still does. */
void view_drift_step(view_drift *drift, float dt_s, float strength)
{
    drift->left_s -= dt_s;
    if (drift->left_s <= 0.0F) {
        drift->to_x = strength * (float)(2.0 * tr_rng_uniform(&drift->rng) - 1.0);
        drift->to_y = strength * (float)(2.0 * tr_rng_uniform(&drift->rng) - 1.0);
        drift->left_s = 0.35F + 0.6F * (float)tr_rng_uniform(&drift->rng);
    }
    const float share = fminf(dt_s * 2.2F, 1.0F);
    drift->x += (drift->to_x - drift->x) * share;
    drift->y += (drift->to_y - drift->y) * share;
}

bool view__job_is_guided(const view_job_model *model)
{
    return model->about->mode == JOB_GUIDED;
}

/* ---- moving ----------------------------------------------------------------------------------------------------- */

static const double MOVE_S = 0.55;
static const double HUM_S = 1.8;

static bool is_elsewhere(const view_job *job, const view_job_model *model)
{
    for (int i = 0; i < model->what->setup.structure.row_count; i++) {
        if (job->to_n[i] != model->state->rows.tension_n[i]) {
            return true;
        }
    }
    return false;
}

static void move_tensions(view_ui *ui, view_job *job, const view_job_model *model)
{
    const int count = model->what->setup.structure.row_count;
    const size_t size = sizeof job->to_n;
    if (!job->is_begun) {
        memcpy(job->shown_n, model->state->rows.tension_n, size);
        memcpy(job->to_n, model->state->rows.tension_n, size);
        job->is_begun = true;
        return;
    }
    if (is_elsewhere(job, model)) {
        memcpy(job->from_n, job->shown_n, size);
        memcpy(job->to_n, model->state->rows.tension_n, size);
        job->moved_s = ui->time_s;
    }
    const double share = ui->reduced_motion ? 1.0 : fmin((ui->time_s - job->moved_s) / MOVE_S, 1.0);
    const double left = (1.0 - share) * (1.0 - share);
    bool is_moving = false;
    for (int i = 0; i < count; i++) {
        const double before = job->shown_n[i];
        job->shown_n[i] = job->to_n[i] + (job->from_n[i] - job->to_n[i]) * (share < 1.0 ? left : 0.0);
        is_moving = is_moving || before != job->shown_n[i];
    }
    ui->wants_frame = ui->wants_frame || (share < 1.0 && is_moving) || job->moved_s == ui->time_s;
}

static void move_hum(view_ui *ui, view_job *job)
{
    if (job->is_pluck_new) {
        job->is_pluck_new = false;
        job->humming_s = ui->time_s;
        job->hum_until_s = ui->time_s + (ui->reduced_motion ? 0.0 : HUM_S);
    }
    const double age = ui->time_s - job->humming_s;
    const bool hums = job->plucked_row >= 0 && ui->time_s < job->hum_until_s;
    job->hand.turn.hum = hums ? exp(-age * 2.2) : 0.0;
    job->hand.turn.hum_rad = age * 2.0 * TR_PI * 9.0; /* slow enough to be seen */
    ui->wants_frame = ui->wants_frame || hums;
    if (!hums) {
        job->plucked_row = -1;
    }
}

void view__job_move(view_ui *ui, view_job *job, const view_job_model *model)
{
    move_tensions(ui, job, model);
    move_hum(ui, job);
}

/* ---- layout ----------------------------------------------------------------------------------------------------- */

typedef struct places {
    view_rect bar, trail, keys;
    view_rect run, work; /* left */
    view_rect ladder, card;
} places;

static float clamped(float value, float least, float most)
{
    return fminf(fmaxf(value, least), most);
}

/* Off the side where the hand of the person reaches best: there stand the ladder and the tools. */
static view_rect cut_hand_side(const view_ui *ui, view_rect *rest, float width)
{
    return ui->left_handed ? view_cut_left(rest, width) : view_cut_right(rest, width);
}

/* At large text the words need a wider side, and the run gives way. */
static places lay_out(const view_ui *ui, const view_job *job)
{
    const float large = ui->text_scale - 1.0F;
    places at;
    view_rect rest = ui->screen;
    at.bar = view_cut_top(&rest, view__job_bar_height(ui));
    at.trail = view_cut_top(&rest, view__job_trail_height(ui));
    at.keys = view_cut_bottom(&rest, view__job_keys_height(ui));
    rest = view_inset_xy(rest, VIEW_GAP_3, 0.0F);
    rest.h = fmaxf(0.0F, rest.h - VIEW_GAP_1);
    const float side_w = clamped(rest.w * (0.33F + 0.05F * large), 320.0F, 520.0F + 140.0F * large);
    view_rect side = cut_hand_side(ui, &rest, side_w);
    (void)cut_hand_side(ui, &rest, VIEW_GAP_3);
    const float run_share = job->stage == JOB_STAGE_READ ? 0.34F : 0.52F - 0.17F * large;
    at.run = view_cut_top(&rest, rest.h * run_share);
    view_cut_top(&rest, VIEW_GAP_3);
    at.work = rest;
    const float ladder_gives = view__slip_is_up(job) ? 0.22F : 0.09F;
    at.ladder = view_cut_top(&side, side.h * (0.47F - ladder_gives * large));
    view_cut_top(&side, VIEW_GAP_3);
    at.card = side;
    return at;
}

/* ---- the run ---------------------------------------------------------------------------------------------------- */

static bool takes_gaps(const view_job *job)
{
    return job->stage == JOB_STAGE_CHECK && job->tools.check.tool == VIEW_CHECK_BALL;
}

static int hit_of(const view_rect *rect, int count, float x, float y)
{
    for (int i = 0; i < count; i++) {
        if (rect[i].h > 0.0F && view_rect_has(rect[i], x, y)) {
            return i;
        }
    }
    return -1;
}

static void press_run(view_ui *ui, view_job *job, const view_hits *hits)
{
    const float x = ui->input->mouse_x;
    const float y = ui->input->mouse_y;
    if (takes_gaps(job)) {
        const int gap = hit_of(hits->gap, hits->row_count + 1, x, y);
        job->tools.check.gap = gap >= 0 ? gap : job->tools.check.gap;
        return;
    }
    const int row = hit_of(hits->row, hits->row_count, x, y);
    if (row >= 0) {
        view__job_choose(job, job->stage, row);
    }
}

/* The bend is drawn 1, 2, 5, 10... times as large. */
static double next_factor(double factor, int step)
{
    const double decade = pow(10.0, floor(log10(factor) + 1e-9));
    const double lead = factor / decade;
    if (step > 0) {
        return fmin(1000.0, decade * (lead < 1.5 ? 2.0 : lead < 3.5 ? 5.0 : 10.0));
    }
    return fmax(1.0, decade * (lead < 1.5 ? 0.5 : lead < 3.5 ? 1.0 : 2.0));
}

static float scale_side(const view_ui *ui)
{
    return fmaxf(VIEW_MIN_TARGET, 20.0F + 6.0F * ui->text_scale);
}

static void scale_buttons(view_ui *ui, view_job *job, const view_job_model *model, view_rect well)
{
    const float side = scale_side(ui);
    const float corner_x = ui->left_handed ? well.x + VIEW_GAP_2 : well.x + well.w - 2.0F * side - VIEW_GAP_2;
    view_rect corner = {corner_x, well.y + VIEW_GAP_1, 2.0F * side, side};
    const double now =
        job->exaggeration > 0.0 ? job->exaggeration : view_bend_factor(&model->what->setup, model->state);
    if (view_icon_button(ui, view_cut_left(&corner, side), VIEW_ICON_MINUS, view_word(ui, "job.bend_less"), NULL)) {
        job->exaggeration = next_factor(now, -1);
    }
    if (view_icon_button(ui, corner, VIEW_ICON_PLUS, view_word(ui, "job.bend_more"), NULL)) {
        job->exaggeration = next_factor(now, 1);
    }
}

static void show_run(view_ui *ui, view_job *job, const view_job_model *model, view_rect rect)
{
    view_well(ui, rect);
    view_pen pen = view_job_pen(ui, model);
    pen.text = fmaxf(13.0F, fminf(pen.text, rect.h / 13.0F));
    const view_elevation_look look = {.show_true = view__job_is_guided(model),
                                      .row = job->row,
                                      .gap = takes_gaps(job) ? job->tools.check.gap : -1,
                                      .exaggeration = job->exaggeration,
                                      .corner_w = 2.0F * scale_side(ui),
                                      .tension_n = job->shown_n,
                                      .before_n = view__before_trip(job),
                                      .trip_row = job->former_row,
                                      .plucked_row = job->plucked_row,
                                      .hum = job->hand.turn.hum,
                                      .hum_rad = job->hand.turn.hum_rad};
    view_hits hits;
    const view_rect inside = view_inset_xy(rect, VIEW_GAP_2, VIEW_GAP_1);
    view_elevation(&pen, inside, &model->what->setup, model->state, &look, &hits);
    const view_react react = view_place(ui, rect, view_word(ui, "job.run"), NULL);
    if (react.was_pressed && !ui->keyboard_used) {
        press_run(ui, job, &hits);
    }
    if (react.shows_ring) {
        view_ring(ui, view_inset(rect, 4.0F), VIEW_RADIUS);
    }
    scale_buttons(ui, job, model, rect);
}

/* ---- the fitting and its tools ---------------------------------------------------------------------------------- */

static view_stage_frame *const frames[JOB_STAGE_COUNT] = {
    [JOB_STAGE_READ] = view_stage_read,         [JOB_STAGE_MARK] = view_stage_mark,
    [JOB_STAGE_DRILL] = view_stage_drill,       [JOB_STAGE_INSERT] = view_stage_insert,
    [JOB_STAGE_ASSEMBLE] = view_stage_assemble, [JOB_STAGE_CUT] = view_stage_cut,
    [JOB_STAGE_CRIMP] = view_stage_crimp,       [JOB_STAGE_JOIN] = view_stage_join,
    [JOB_STAGE_TENSION] = view_stage_tension,   [JOB_STAGE_CHECK] = view_stage_check,
    [JOB_STAGE_HAND_OVER] = view_stage_over};

static void show_work(view_ui *ui, view_job *job, const view_job_model *model, view_rect rect, view_job_said *said)
{
    const float soft = 0.5F + 0.5F * ui->text_scale;
    const float tools_w = clamped(rect.w * 0.34F, 250.0F * soft, rect.w * 0.5F);
    view_shadow(ui, rect, VIEW_RADIUS_CARD, 6.0F);
    view_fill_rect(ui->draw, rect, VIEW_RADIUS_CARD, ui->theme->panel);
    view_stroke_rect(ui->draw, rect, VIEW_RADIUS_CARD, 1.0F, ui->theme->panel_edge);
    view_rect picture = view_inset(rect, VIEW_GAP_3);
    const view_rect tools = cut_hand_side(ui, &picture, tools_w);
    job->places.tools = tools;
    const float line_x = ui->left_handed ? tools.x + tools.w + VIEW_GAP_2 : tools.x - VIEW_GAP_2;
    view_hairline(ui, line_x, rect.y + VIEW_GAP_3, line_x, rect.y + rect.h - VIEW_GAP_3);
    (void)cut_hand_side(ui, &picture, VIEW_GAP_4);
    view_push(ui, job_stage_name(job->stage), 0);
    view_start_here(ui);
    frames[job->stage](ui, job, model, picture, tools, said);
    view_pop(ui);
}

/* ---- keys ------------------------------------------------------------------------------------------------------- */

void view__job_move_row(view_job *job, int count, int step)
{
    const int row = job->row + step;
    if (row >= 0 && row < count) {
        view__job_choose(job, job->stage, row);
    }
}

/* Rows stand one above the other: up is the next higher one. */
static void row_keys(view_ui *ui, view_job *job, const view_job_model *model)
{
    const int count = model->what->setup.structure.row_count;
    while (view_key_take(ui, VIEW_KEY_UP, 0)) {
        view__job_move_row(job, count, 1);
    }
    while (view_key_take(ui, VIEW_KEY_DOWN, 0)) {
        view__job_move_row(job, count, -1);
    }
}

static void stage_keys(view_ui *ui, view_job *job)
{
    for (int i = 0; i < JOB_STAGE_COUNT; i++) {
        if (view_shortcut(ui, VIEW_KEY_F1 + i)) {
            view__job_choose(job, (job_stage)i, job->row);
        }
    }
}

/* ---- dialogs ---------------------------------------------------------------------------------------------------- */

static void ask_leave(view_ui *ui, view_job *job, view_job_said *said)
{
    const view_answer answer = view_dialog(ui, view_word(ui, "job.leave.title"), view_word(ui, "job.leave.text"),
                                           view_word(ui, "job.leave.ok"), view_word(ui, "job.stay"));
    said->leave = answer == VIEW_OK;
    job->leave_open = answer == VIEW_NO_ANSWER;
}

static void ask_sign(view_ui *ui, view_job *job, const view_job_model *model, view_job_said *said)
{
    const view_answer answer = view_dialog(ui, view_word(ui, "job.sign.title"), view_word(ui, "job.sign.text"),
                                           view_word(ui, "job.sign.ok"), view_word(ui, "job.not_yet"));
    if (answer == VIEW_OK) {
        view_job_do(said, model, JOB_DO_SIGN, NULL, 0);
    }
    job->sign_open = answer == VIEW_NO_ANSWER;
}

/* One list of what can be wrong; the row in hand is meant. */
static void ask_fault(view_ui *ui, view_job *job, const view_job_model *model, view_job_said *said)
{
    char number[16];
    char ok[96];
    const float line = view_control_height(ui);
    const float height = line * (float)(JOB_FAULT_KINDS + 1) + 140.0F + 30.0F * ui->text_scale;
    view_rect room = view_modal_begin(ui, view_word(ui, "job.fault.title"), 440.0F * ui->text_scale, height);
    view_rect foot = view_cut_bottom(&room, line);
    view_cut_bottom(&room, VIEW_GAP_3);
    const view_rect list = view_scroll_begin(ui, room, "faults");
    view_group_begin(ui);
    for (int i = 0; i < JOB_FAULT_KINDS; i++) {
        char key[40];
        tr_format(key, sizeof key, "fault.%s", job_fault_name((job_fault_kind)i));
        const view_rect row = {list.x, list.y + line * (float)i, list.w, line};
        const view_item item = view_list_row(ui, row, view_word(ui, key), i == job->tools.check.fault, NULL);
        view_label(ui, item.room, VIEW_BODY, VIEW_LEFT, ui->theme->ink, view_word(ui, key));
        job->tools.check.fault = item.react.was_pressed ? i : job->tools.check.fault;
    }
    view_group_end(ui);
    view_scroll_end(ui, line * (float)JOB_FAULT_KINDS);
    tr_format(number, sizeof number, "%d", job->row + 1);
    const char *const args[] = {number};
    tr_lang_fill(ui->lang, "job.fault.report", args, 1, ok, sizeof ok);
    view_rect right = view_cut_right(&foot, fminf(view_button_width(ui, ok, NULL), foot.w * 0.62F));
    const bool says = view_button(ui, right, ok, VIEW_PRIMARY);
    view_cut_right(&foot, VIEW_GAP_3);
    right = view_cut_right(&foot, view_button_width(ui, view_word(ui, "job.cancel"), NULL));
    const bool cancels = view_button(ui, right, view_word(ui, "job.cancel"), VIEW_SECONDARY);
    if (says) {
        view_job_do(said, model, JOB_DO_REPORT_FAULT, (const double[]){job->row, job->tools.check.fault}, 2);
    }
    job->tools.check.is_reporting = !(view_modal_end(ui) || says || cancels);
}

static void dialogs(view_ui *ui, view_job *job, const view_job_model *model, view_job_said *said)
{
    if (job->leave_open) {
        ask_leave(ui, job, said);
    } else if (job->sign_open) {
        ask_sign(ui, job, model, said);
    } else if (job->tools.check.is_reporting) {
        ask_fault(ui, job, model, said);
    }
}

/* ---- frame ------------------------------------------------------------------------------------------------------ */

void view_job_frame(view_ui *ui, view_job *job, const view_job_model *model, view_job_said *said)
{
    TR_ASSERT(job->stage >= 0 && job->stage < JOB_STAGE_COUNT && job->row < model->what->setup.structure.row_count);
    *said = (view_job_said){0};
    view_push(ui, "job", 0);
    view__job_recall(job, model);
    view__slip_begin(job, model);
    view__job_advice(job, model);
    if (!job->is_begun && !view__slip_is_up(job)) {
        view__job_follow(job, model, NULL, true);
    }
    view__job_move(ui, job, model);
    view__job_pad(ui, job, model);
    const places at = lay_out(ui, job);
    job->places = (view_job_places){
        .bar = at.bar, .trail = at.trail, .run = at.run, .ladder = at.ladder, .work = at.work, .card = at.card};
    view__job_bar(ui, job, model, at.bar, said);
    const bool arrows_are_taken = view__job_trail(ui, job, model, at.trail);
    show_run(ui, job, model, at.run);
    show_work(ui, job, model, at.work, said);
    view__job_ladder(ui, job, model, at.ladder);
    view__job_card(ui, job, model, at.card, said);
    view__job_keys(ui, job, at.keys);
    if (!arrows_are_taken) {
        row_keys(ui, job, model);
    }
    stage_keys(ui, job);
    if (view_key_take(ui, VIEW_KEY_ESCAPE, 0)) {
        job->leave_open = true;
    }
    dialogs(ui, job, model, said);
    view__slip_settle(job, model, said);
    view_pop(ui);
}
