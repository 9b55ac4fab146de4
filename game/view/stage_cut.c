/* Cutting: the cable is hung, pulled by hand, marked at the stud's mark and cut at the pen line. The pull grows while
 * it is held and the clamp keeps what it was when it is let go; pen and cutter settle on their aim while the hand
 * waits. */
#include "stage_hand.h"

#include <math.h>

#include "tautrow/base/text.h"

enum { PULL = 1, PEN, JAWS };

static const float PULL_N_S = 30.0F;
static const float MOST_PULL_N = 400.0F;
static const float PULL_TREMBLE = 0.02F;
static const float LAND_M = 0.006F;
static const float REST_M = 0.0003F;
static const float MOST_M = 0.1F;
static const float CLOSE_S = 0.9F; /* jaws open to shut */
static const float BITE = 0.45F;   /* from here on the jaws do not move any more along the cable */

static float along(const view__touch *touch, const view_grip *grip)
{
    return grip->px_per_m > 1.0F ? (touch->at.x - grip->zero.x) * grip->along_x / grip->px_per_m : 0.0F;
}

static float moved_along(const view__touch *touch, const view_grip *grip)
{
    return touch->is_mouse && grip->px_per_m > 1.0F ? touch->moved.x * grip->along_x / grip->px_per_m : 0.0F;
}

static float within(float value)
{
    return fminf(fmaxf(value, -MOST_M), MOST_M);
}

/* ---- pull ------------------------------------------------------------------------------------------------------- */

static float felt(const view_job *job)
{
    return fmaxf(job->tools.cut.pull_n * (1.0F + PULL_TREMBLE * job->drift.y), 1.0F);
}

static void say_pull(const view_job *job, const view_job_model *model, view_job_said *said)
{
    const double force = fmin((double)felt(job), (double)MOST_PULL_N);
    view_job_do(said, model, JOB_DO_PULL_CABLE, (const double[]){job->row, force}, 2);
}

static void pull(view_job *job, const view_job_model *model, const view__touch *touch, view_hold hold,
                 view_job_said *said)
{
    const job_row *row = &model->state->row[job->row];
    if (hold.has_begun && (!row->is_hung || row->is_cut)) {
        job->tools.cut.pull_n = 1.0F;
        say_pull(job, model, said); /* a try: the job says what was wrong */
        view__let_go(job);
        return;
    }
    if (hold.is_down) {
        const float before_n = hold.has_begun ? 0.0F : job->tools.cut.pull_n;
        const float dt_s = hold.has_begun ? 0.0F : touch->dt_s;
        job->tools.cut.pull_n = fminf(before_n + PULL_N_S * touch->squeeze * dt_s, MOST_PULL_N);
    } else if (hold.has_ended) {
        say_pull(job, model, said);
    }
}

/* ---- mark ------------------------------------------------------------------------------------------------------- */

static void mark(view_job *job, const view_job_model *model, const view__touch *touch, const view_grip *grip,
                 view_hold hold, view_job_said *said)
{
    if (hold.has_begun) {
        job->tools.hold.land_m = view__land(job, LAND_M);
        job->tools.hold.steer_m = touch->is_mouse ? along(touch, grip) : 0.0F;
    } else if (hold.is_down) {
        view__steer(job, moved_along(touch, grip), -touch->arrows.x, touch->dt_s);
    }
    if (hold.is_down) {
        const float settled = view__settled(job, job->tools.hold.land_m, hold.held_s, REST_M);
        job->tools.cut.mark_m = within(job->tools.hold.steer_m + settled);
    } else if (hold.has_ended) {
        view_job_do(said, model, JOB_DO_MARK_CABLE, (const double[]){job->row, (double)job->tools.cut.mark_m}, 2);
    }
}

/* ---- cut -------------------------------------------------------------------------------------------------------- */

static bool is_aiming(const view_job *job, const job_state *state)
{
    const job_row *row = &state->row[job->row];
    return row->is_hung && row->is_cable_marked && !row->is_cut && state->cutter >= 0 && job->tools.hold.gesture != PEN;
}

/* The cutter comes to the mark anew with every row, mark and tool. */
static void aim(view_ui *ui, view_job *job, const job_state *state, const view__touch *touch, const view_grip *grip)
{
    if (!is_aiming(job, state)) {
        job->tools.cut.waited_s = -1.0F;
        return;
    }
    if (job->tools.cut.waited_s < 0.0F || job->tools.cut.cutter != state->cutter || job->tools.cut.land_m == 0.0F) {
        job->tools.cut.cutter = state->cutter;
        job->tools.cut.waited_s = 0.0F;
        job->tools.cut.land_m = view__land(job, LAND_M);
        job->tools.hold.steer_m = 0.0F;
        job->tools.cut.closing = 0.0F;
    }
    job->tools.cut.waited_s += touch->dt_s;
    ui->wants_frame = ui->wants_frame || job->tools.cut.waited_s < VIEW__STILL_S;
    if (job->tools.cut.closing < BITE) {
        if (job->tools.hold.gesture == JAWS) {
            view__steer(job, moved_along(touch, grip), -touch->arrows.x, touch->dt_s);
        }
        const float settled = view__settled(job, job->tools.cut.land_m, job->tools.cut.waited_s, REST_M);
        job->tools.cut.cut_m = within(job->tools.hold.steer_m + settled);
    }
}

static void say_cut(const view_job *job, const view_job_model *model, view_job_said *said)
{
    view_job_do(said, model, JOB_DO_CUT_CABLE, (const double[]){job->row, (double)job->tools.cut.cut_m}, 2);
}

/* The pointer puts the jaws where it is: on the pen line or beside it. */
static void put_jaws(view_job *job, const job_state *state, const view__touch *touch, const view_grip *grip)
{
    if (touch->is_mouse) {
        job->tools.hold.steer_m = along(touch, grip) - (float)state->row[job->row].mark_error_m;
        job->tools.cut.land_m = view__land(job, LAND_M) * expf(-job->tools.cut.waited_s);
        job->tools.cut.waited_s = 0.0F;
    }
}

static void cut(view_job *job, const view_job_model *model, const view__touch *touch, const view_grip *grip,
                view_hold hold, view_job_said *said)
{
    if (hold.has_begun && !(is_aiming(job, model->state) && model->state->has_glasses)) {
        job->tools.cut.cut_m = 0.0F;
        say_cut(job, model, said); /* a try */
        view__let_go(job);
        return;
    }
    if (hold.has_begun) {
        put_jaws(job, model->state, touch, grip);
    }
    /* jaws let go before they bit open again; after that there is no way back */
    const bool has_bitten = job->tools.cut.closing >= BITE;
    if (hold.is_down || (has_bitten && job->tools.hold.gesture == 0 && is_aiming(job, model->state))) {
        job->tools.cut.closing += touch->dt_s / CLOSE_S;
    } else {
        job->tools.cut.closing = 0.0F;
    }
    if (job->tools.cut.closing >= 1.0F) {
        say_cut(job, model, said);
        job->tools.cut.closing = 0.0F;
        view__let_go(job);
    }
}

/* ---- tools ------------------------------------------------------------------------------------------------------ */

static void hang(view_ui *ui, const view_job *job, const view_job_model *model, view_bench *bench, view_job_said *said)
{
    const bool is_again = model->state->row[job->row].is_cut;
    if (view__bench_button(ui, bench, is_again ? "do.cut.hang_again" : "do.cut.hang", 'H', VIEW_SECONDARY)) {
        view_job_do(said, model, JOB_DO_HANG_CABLE, (const double[]){job->row}, 1);
    }
}

/* A spring scale on the cable: what it says is what an installer sees. */
static void scale(view_ui *ui, const view_job *job, const view_job_model *model, view_bench *bench)
{
    const double full = 2.5 * model->what->setup.hand_pull_n;
    const double now = job->tools.hold.gesture == PULL ? (double)felt(job) : model->state->row[job->row].pulled_n;
    char text[48];
    view_job_quantity(model, now, TR_DIM_FORCE, text);
    view_rect line = view__bench_next(bench, view_line_of(ui, VIEW_STRONG));
    const float width = ceilf(view_width_of(ui, VIEW_STRONG, text)) + VIEW_GAP_1;
    view_label(ui, view_cut_right(&line, width), VIEW_STRONG, VIEW_RIGHT, ui->theme->ink, text);
    view_label(ui, line, VIEW_BODY, VIEW_LEFT, ui->theme->ink_soft, view_word(ui, "do.cut.scale"));
    view_meter(ui, view__bench_next(bench, 12.0F), (float)fmin(now / full, 1.0), 0.0F, 0.0F, ui->theme->force);
}

static void choose_cutter(view_ui *ui, const view_job *job, const view_job_model *model, view_bench *bench,
                          view_job_said *said)
{
    static const char *const keys[JOB_MAX_CUTTERS] = {"do.cut.cable_cutter", "do.cut.side_cutters", "do.cut.grinder"};
    const char *words[JOB_MAX_CUTTERS] = {NULL};
    const int count = model->what->setup.cutter_count;
    for (int i = 0; i < count && i < JOB_MAX_CUTTERS; i++) {
        words[i] = view_word(ui, keys[i]);
    }
    const int pressed =
        view__bench_choice(ui, bench, view_word(ui, "do.cut.cutter"), words, count, model->state->cutter, "123");
    if (pressed >= 0 && pressed != model->state->cutter && job->tools.hold.gesture != JAWS) {
        view_job_do(said, model, JOB_DO_TAKE_CUTTER, (const double[]){pressed}, 1);
    }
}

static void pose(view_job *job, const job_state *state)
{
    const job_row *row = &state->row[job->row];
    const bool is_marking = job->tools.hold.gesture == PEN;
    job->hand.cut = (view_hand_cut){.pull_n = job->tools.hold.gesture == PULL ? (double)felt(job) : 0.0,
                                    .mark_m = is_marking ? (double)job->tools.cut.mark_m : 0.0,
                                    .is_marking = is_marking,
                                    .is_cutting = is_aiming(job, state) && row->pulled_n > 0.0,
                                    .cut_m = (double)job->tools.cut.cut_m,
                                    .closing = (double)fminf(job->tools.cut.closing, 1.0F)};
}

/* What Space and the picture mean: the next thing to do to this cable. */
static int main_gesture(const job_row *row)
{
    return row->pulled_n <= 0.0 ? PULL : !row->is_cable_marked ? PEN : JAWS;
}

static job_state seen_state(const view_job *job, const job_state *state)
{
    job_state seen = *state;
    seen.row[job->row].is_cable_marked = seen.row[job->row].is_cable_marked && job->tools.hold.gesture != PEN;
    return seen;
}

/* What a frame of the stage works with. */
typedef struct bench_of_cut {
    view_ui *ui;
    view_job *job;
    const view_job_model *model;
    view__touch touch;
    view_grip grip;
    int main;
    view_job_said *said;
} bench_of_cut;

static const char *const trigger_words[] = {NULL, "do.cut.pull", "do.cut.mark", "do.cut.cut"};

static void hand_at(const bench_of_cut *at, view_rect rect, int gesture)
{
    static const char letters[] = {0, 'W', 'M', 'X'};
    const view__trigger what = {gesture, trigger_words[gesture], letters[gesture], gesture == at->main, NULL};
    const view_hold hold = view__trigger_at(at->ui, rect, at->job, &at->touch, what);
    if (gesture == PULL) {
        pull(at->job, at->model, &at->touch, hold, at->said);
    } else if (gesture == PEN) {
        mark(at->job, at->model, &at->touch, &at->grip, hold, at->said);
    } else {
        cut(at->job, at->model, &at->touch, &at->grip, hold, at->said);
    }
}

static void other_hands(const bench_of_cut *at, view_bench *bench)
{
    const int other[2] = {at->main == PULL ? PEN : PULL, at->main == JAWS ? PEN : JAWS};
    const char *const words[2] = {trigger_words[other[0]], trigger_words[other[1]]};
    view_rect rect[2] = {0};
    view__bench_halves(at->ui, bench, words, rect);
    hand_at(at, rect[0], other[0]);
    hand_at(at, rect[1], other[1]);
}

static void fit_to_row(view_job *job)
{
    if (job->tools.cut.row != job->row) {
        job->tools.cut.row = job->row;
        job->tools.cut.waited_s = -1.0F;
        job->tools.cut.closing = 0.0F;
    }
}

void view_stage_cut(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture, view_rect tools,
                    view_job_said *said)
{
    const view_pen pen = view_job_pen(ui, model);
    bench_of_cut at = {.ui = ui, .job = job, .model = model, .said = said};
    view__keep_row(job);
    fit_to_row(job);
    pose(job, model->state);
    const job_state seen = seen_state(job, model->state);
    view_closeup_cut(&pen, picture, &model->what->setup, &seen, job->row, &job->hand, &at.grip);
    at.touch = view__touch_picture(ui, job, picture, view_word(ui, "do.cut.picture"));
    at.main = main_gesture(&model->state->row[job->row]);
    aim(ui, job, model->state, &at.touch, &at.grip);
    view__desk desk = view__desk_begin(ui, tools, 1, "do.cut.help");
    hang(ui, job, model, &desk.bench, said);
    scale(ui, job, model, &desk.bench);
    choose_cutter(ui, job, model, &desk.bench, said);
    other_hands(&at, &desk.bench);
    hand_at(&at, view__bench_line(ui, view__desk_foot(ui, &desk)), at.main);
    view__desk_end(ui, &desk);
}
