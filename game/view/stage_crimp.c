/* Crimping: the cable is pushed home past its soft stop, its seat is marked, the crimper is placed along the barrel,
 * squeezed until the ratchet lets go, turned and squeezed again. Place and turn become actions when the hand lets go or
 * squeezes. */
#include "stage_hand.h"

#include <math.h>

#include "pic.h"
#include "tautrow/base/text.h"

enum { PUSH = 1, SQUEEZE };

static const float PUSH_M_S = 0.012F;
static const float STOP_S = 0.7F;      /* the soft stop holds for so long */
static const float CREEP_M_S = 0.003F; /* and then gives slowly */
static const float CLOSE_S = 1.7F;     /* until the ratchet lets go */
static const float SLIDE_M_S = 0.006F;
static const float KEY_TURN_RAD = 0.2617994F; /* 15 degrees */
static const float REST_DIE_M = -0.010F;
static const float DIE_LEAST_M = -0.015F;
static const double MOVED_M = 0.0002;
static const double MOVED_RAD = 0.01;
static const double ASKED_S = 4.0;

static const job_row *row_of(const view_job *job, const view_job_model *model)
{
    return &model->state->row[job->row];
}

/* The crimper is where the work has it; a fresh one rests before the mouth. */
static void fit_to_row(view_job *job, const view_job_model *model)
{
    const job_row *row = row_of(job, model);
    if (job->tools.crimp.row == job->row && job->tools.crimp.redone == row->redone && job->tools.crimp.stop_m > 0.0F) {
        return;
    }
    job->tools.crimp.row = job->row;
    job->tools.crimp.redone = row->redone;
    job->tools.crimp.die_m = row->is_die_placed ? (float)row->die_m : REST_DIE_M;
    job->tools.crimp.angle_rad = row->is_die_placed ? (float)row->die_angle_rad : 0.0F;
    job->tools.crimp.closing = 0.0F;
    job->tools.crimp.asked_s = 0.0;
    job->tools.crimp.stop_m = 0.0015F + 0.002F * (float)tr_rng_uniform(&job->drift.rng);
}

/* ---- push home -------------------------------------------------------------------------------------------------- */

/* Slides in, is held up short of the end, and with a little more push goes home. */
static float pushed(const view_job *job, const view_job_model *model, float held_s)
{
    const float bore = (float)model->what->setup.crimp.bore_m;
    const float stop = bore - job->tools.crimp.stop_m;
    const float way = PUSH_M_S * held_s;
    if (way <= stop) {
        return way;
    }
    const float over_s = held_s - stop / PUSH_M_S - STOP_S;
    return over_s <= 0.0F ? stop : fminf(stop + CREEP_M_S * over_s, bore);
}

static void push(view_job *job, const view_job_model *model, view_hold hold, view_job_said *said)
{
    const job_row *row = row_of(job, model);
    if (hold.is_down) {
        job->tools.crimp.seat_m = pushed(job, model, hold.held_s);
    }
    const bool is_try = hold.has_begun && (!row->is_cut || row->crimp.squeeze_count > 0);
    if (hold.has_ended || is_try) {
        view_job_do(said, model, JOB_DO_PUSH_HOME, (const double[]){job->row, (double)job->tools.crimp.seat_m}, 2);
    }
    if (is_try) {
        view__let_go(job);
    }
}

/* ---- place and turn --------------------------------------------------------------------------------------------- */

static bool has_crimper(const job_row *row)
{
    return row->is_cut && row->crimp.seated_m > 0.0;
}

static bool is_moved(const view_job *job, const job_row *row)
{
    return !row->is_die_placed || fabs((double)job->tools.crimp.die_m - row->die_m) > MOVED_M;
}

static bool is_turned(const view_job *job, const job_row *row)
{
    return fabs((double)job->tools.crimp.angle_rad - row->die_angle_rad) > MOVED_RAD;
}

static void say_place(const view_job *job, const view_job_model *model, view_job_said *said)
{
    if (has_crimper(row_of(job, model)) && is_moved(job, row_of(job, model))) {
        view_job_do(said, model, JOB_DO_PLACE_DIE, (const double[]){job->row, (double)job->tools.crimp.die_m}, 2);
    }
}

/* The crimper is first put on upright, so a turn before its first place is told with it. */
static void say_turn(const view_job *job, const view_job_model *model, bool is_placed, view_job_said *said)
{
    const job_row *row = row_of(job, model);
    if (is_placed && is_turned(job, row)) {
        const double turn = (double)job->tools.crimp.angle_rad - row->die_angle_rad;
        view_job_do(said, model, JOB_DO_TURN_CRIMPER, (const double[]){job->row, fmin(fmax(turn, -3.2), 3.2)}, 2);
    }
}

static void slide(view_job *job, const view_job_model *model, float by_m)
{
    const float most = (float)model->what->setup.crimp.bore_m + 0.02F;
    job->tools.crimp.die_m = fminf(fmaxf(job->tools.crimp.die_m + by_m, DIE_LEAST_M), most);
}

static float angle_step(const view_point *pivot, view_point from, view_point to)
{
    float by = atan2f(to.y - pivot->y, to.x - pivot->x) - atan2f(from.y - pivot->y, from.x - pivot->x);
    by += by > 3.1415927F ? -6.2831853F : by < -3.1415927F ? 6.2831853F : 0.0F;
    return by;
}

/* Dragged on the barrel the crimper slides, dragged about its end view it turns. Let go, it has been placed or turned.
 */
static void move_by_mouse(view_job *job, const view_job_model *model, const view__touch *touch, const view_grip *grip,
                          bool was_held, view_job_said *said)
{
    if (touch->is_mouse && !was_held) {
        job->tools.crimp.is_turning = hypotf(touch->at.x - grip->pivot.x, touch->at.y - grip->pivot.y) < 90.0F;
    } else if (touch->is_mouse && job->tools.crimp.is_turning) {
        const view_point from = {touch->at.x - touch->moved.x, touch->at.y - touch->moved.y};
        job->tools.crimp.angle_rad += angle_step(&grip->pivot, from, touch->at);
    } else if (touch->is_mouse) {
        slide(job, model, touch->moved.x * grip->along_x / fmaxf(grip->px_per_m, 1.0F));
    } else if (was_held && job->tools.crimp.is_turning) {
        say_turn(job, model, row_of(job, model)->is_die_placed, said);
    } else if (was_held) {
        say_place(job, model, said);
    }
}

static void move_by_keys(view_ui *ui, view_job *job, const view_job_model *model, const view__touch *touch,
                         const view_grip *grip)
{
    slide(job, model, touch->arrows.x * grip->along_x * SLIDE_M_S * touch->dt_s);
    ui->wants_frame = ui->wants_frame || touch->arrows.x != 0.0F;
    static const unsigned mods[] = {0, VIEW_SHIFT};
    for (int i = 0; i < 2; i++) { /* their presses are the crimper's: the trail has its own by focus */
        (void)view_key_take(ui, VIEW_KEY_LEFT, mods[i]);
        (void)view_key_take(ui, VIEW_KEY_RIGHT, mods[i]);
    }
    while (view_shortcut(ui, 'T')) {
        job->tools.crimp.angle_rad += KEY_TURN_RAD;
    }
    while (view_shortcut(ui, 'Y')) {
        job->tools.crimp.angle_rad -= KEY_TURN_RAD;
    }
}

/* ---- squeeze ---------------------------------------------------------------------------------------------------- */

static void say_squeeze(view_job *job, const view_job_model *model, view_job_said *said)
{
    const double closing = fmin(fmax((double)job->tools.crimp.closing, 0.05), 1.0);
    view_job_do(said, model, JOB_DO_SQUEEZE, (const double[]){job->row, closing}, 2);
    job->tools.crimp.closing = 0.0F;
}

static bool can_squeeze(const job_row *row)
{
    return has_crimper(row) && row->crimp.squeeze_count < MECH_MAX_SQUEEZES;
}

static void squeeze(view_job *job, const view_job_model *model, const view__touch *touch, view_hold hold,
                    view_job_said *said)
{
    const job_row *row = row_of(job, model);
    if (hold.has_begun && !can_squeeze(row)) {
        say_squeeze(job, model, said); /* a try */
        view__let_go(job);
        return;
    }
    if (hold.has_begun) { /* it is squeezed where it is held: what was not told yet is told now */
        say_place(job, model, said);
        say_turn(job, model, true, said);
    }
    if (hold.is_down) {
        const float before = hold.has_begun ? 0.0F : job->tools.crimp.closing;
        const float dt_s = hold.has_begun ? 0.0F : touch->dt_s;
        job->tools.crimp.closing = fminf(before + touch->squeeze * dt_s / CLOSE_S, 1.0F);
    }
    if (hold.has_ended || (hold.is_down && job->tools.crimp.closing >= 1.0F)) {
        say_squeeze(job, model, said);
        if (hold.is_down) {
            view__let_go(job); /* the ratchet has let go */
        }
    }
}

/* ---- tools ------------------------------------------------------------------------------------------------------ */

static void set_here(view_ui *ui, view_job *job, const view_job_model *model, const view__touch *touch,
                     view_bench *bench, view_job_said *said)
{
    const job_row *row = row_of(job, model);
    const bool has_news = has_crimper(row) && (is_moved(job, row) || is_turned(job, row));
    const char *why_not = has_news ? NULL : view_word(ui, "do.crimp.nothing_moved");
    const view_rect rect = view__bench_line(ui, bench);
    if (view__done_at(ui, rect, "do.crimp.set", touch, why_not) && has_news) {
        say_place(job, model, said);
        say_turn(job, model, true, said);
    }
}

/* Cutting a crimp off cannot be taken back by hand: it asks once more. */
static void redo(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench, view_job_said *said)
{
    if (row_of(job, model)->crimp.squeeze_count == 0) {
        return;
    }
    const bool is_asked = ui->time_s < job->tools.crimp.asked_s;
    const bool is_pressed = view__bench_button(ui, bench, is_asked ? "do.crimp.redo_sure" : "do.crimp.redo", 'R',
                                               is_asked ? VIEW_DANGER : VIEW_QUIET);
    if (is_pressed && is_asked) {
        view_job_do(said, model, JOB_DO_REDO_CRIMP, (const double[]){job->row}, 1);
    }
    job->tools.crimp.asked_s = is_pressed ? (is_asked ? 0.0 : ui->time_s + ASKED_S) : job->tools.crimp.asked_s;
    ui->wants_frame = ui->wants_frame || is_asked || is_pressed;
}

static void seat_mark(view_ui *ui, const view_job *job, const view_job_model *model, view_rect rect,
                      view_job_said *said)
{
    if (view__button_at(ui, rect, "do.crimp.seat_mark", 'S', NULL)) {
        view_job_do(said, model, JOB_DO_SEAT_MARK, (const double[]){job->row}, 1);
    }
}

static void turn_buttons(view_ui *ui, view_job *job, const job_row *row, view_bench *bench)
{
    static const char *const words[2] = {"do.crimp.turn_back", "do.crimp.turn_on"};
    const int pressed = view__bench_pair(ui, bench, words, (const char[2]){0});
    if (pressed != 0 && has_crimper(row)) {
        job->tools.crimp.angle_rad += pressed == 2 ? KEY_TURN_RAD : -KEY_TURN_RAD;
    }
}

static void pose(view_job *job, const job_row *row)
{
    const bool is_pushing = job->tools.hold.gesture == PUSH;
    job->hand.crimp = (view_hand_crimp){.seat_m = (double)job->tools.crimp.seat_m,
                                        .is_pushing = is_pushing,
                                        .has_crimper = has_crimper(row) && !is_pushing,
                                        .die_m = (double)job->tools.crimp.die_m,
                                        .angle_rad = (double)job->tools.crimp.angle_rad,
                                        .closing = (double)job->tools.crimp.closing};
}

static void push_at(view_ui *ui, view_job *job, const view_job_model *model, view_rect rect, const view__touch *touch,
                    view_job_said *said)
{
    const view__trigger what = {PUSH, "do.crimp.push", 'U', !has_crimper(row_of(job, model)), NULL};
    push(job, model, view__trigger_at(ui, rect, job, touch, what), said);
}

static void squeeze_at(view_ui *ui, view_job *job, const view_job_model *model, view_rect rect,
                       const view__touch *touch, view_job_said *said)
{
    const view__trigger what = {SQUEEZE, "do.crimp.squeeze", 'Q', has_crimper(row_of(job, model)), NULL};
    squeeze(job, model, touch, view__trigger_at(ui, rect, job, touch, what), said);
}

/* The trigger that is next stands in the foot, the other one on the bench. */
static void triggers_and_tools(view_ui *ui, view_job *job, const view_job_model *model, view_rect tools,
                               const view__touch *touch, view_job_said *said)
{
    const job_row *row = row_of(job, model);
    const bool is_in = has_crimper(row);
    const char *const words[2] = {is_in ? "do.crimp.push" : "do.crimp.squeeze", "do.crimp.seat_mark"};
    view_rect half[2];
    view__desk desk = view__desk_begin(ui, tools, 1, "do.crimp.help");
    view__bench_halves(ui, &desk.bench, words, half);
    (is_in ? push_at : squeeze_at)(ui, job, model, half[0], touch, said);
    seat_mark(ui, job, model, half[1], said);
    turn_buttons(ui, job, row, &desk.bench);
    set_here(ui, job, model, touch, &desk.bench, said);
    redo(ui, job, model, &desk.bench, said);
    (is_in ? squeeze_at : push_at)(ui, job, model, view__bench_line(ui, view__desk_foot(ui, &desk)), touch, said);
    view__desk_end(ui, &desk);
}

/* How far in from the mouth the middle of the die stands, as a rule laid on the barrel would tell: the advice names it. */
static void die_place(const view_pen *pen, const view_job *job, const view_job_model *model, view_rect picture,
                      const view_grip *grip)
{
    static const float LEAST_M = 0.0008F;
    view__board board = {*pen, picture};
    const float die_m = job->tools.crimp.die_m;
    if (!view__job_is_guided(model) || !has_crimper(row_of(job, model)) || die_m < LEAST_M) {
        return;
    }
    const view_color ink = view_fade(pen->theme->ink_soft, 0.6F);
    const float head = picture.y + pen->text * 2.6F;
    const float mouth_x = grip->zero.x;
    const float die_x = mouth_x + grip->along_x * die_m * grip->px_per_m;
    char text[48];
    if (die_x < mouth_x) { /* beside the mouth stand the words of the seat mark */
        board.area.w = mouth_x + 5.0F - picture.x;
    }
    view_stroke_line(pen->draw, die_x, head - 4.0F, die_x, grip->zero.y, 1.0F, ink);
    view_stroke_line(pen->draw, mouth_x, head - 4.0F, mouth_x, grip->zero.y, 1.0F, ink);
    view_job_quantity(model, (double)die_m, TR_DIM_LENGTH, text);
    view__dim_across(&board, fminf(die_x, mouth_x), fmaxf(die_x, mouth_x), head, text);
}

void view_stage_crimp(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture, view_rect tools,
                      view_job_said *said)
{
    const view_pen pen = view_job_pen(ui, model);
    view_grip grip = {0};
    view__keep_row(job);
    const job_row *row = row_of(job, model);
    fit_to_row(job, model);
    pose(job, row);
    view_closeup_crimp(&pen, picture, &model->what->setup, model->state, job->row, &job->hand, &grip);
    die_place(&pen, job, model, picture, &grip);
    view__touch touch = view__touch_picture(ui, job, picture, view_word(ui, "do.crimp.picture"));
    const bool is_in = has_crimper(row);
    const bool was_held = job->tools.crimp.is_held;
    job->tools.crimp.is_held = is_in && touch.is_mouse;
    if (is_in && job->tools.hold.gesture == 0) {
        move_by_mouse(job, model, &touch, &grip, was_held, said);
        move_by_keys(ui, job, model, &touch, &grip);
    }
    touch.is_held =
        touch.is_held && !(is_in && touch.is_mouse); /* the pointer moves the crimper, the trigger squeezes it */
    triggers_and_tools(ui, job, model, tools, &touch, said);
}
