/* The hand's life: what it has seen, what it does next, and which gesture does it. */
#include "fitter.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/text.h"

view_manner view_manner_steady(void)
{
    return (view_manner){.see_s = 0.20F,
                         .settle_s = 1.8F,
                         .pace = 1.0F,
                         .scatter_px = 1.0F,
                         .think_s = 0.35F,
                         .foresees = true,
                         .steers = true};
}

view_manner view_manner_hasty(void)
{
    return (view_manner){
        .see_s = 0.35F, .settle_s = 0.15F, .pace = 2.5F, .scatter_px = 5.0F, .think_s = 0.12F, .is_hasty = true};
}

bool view_fitter_open(view_fitter *fitter, view_manner manner, bool by_keys, uint64_t seed)
{
    memset(fitter, 0, sizeof *fitter);
    fitter->manner = manner;
    fitter->by_keys = by_keys;
    fitter->rng = tr_rng_seed(seed ^ 0xF177E2);
    fitter->goal_count = -1;
    fitter->scratch = view_draw_open();
    return fitter->scratch != NULL;
}

void view_fitter_close(view_fitter *fitter)
{
    view_draw_close(fitter->scratch);
    fitter->scratch = NULL;
}

/* ---- sight ------------------------------------------------------------------------------------------------------ */

static void look(view_fitter *f)
{
    fitter_sight *sight = &f->sight[f->sights++ % FITTER_SIGHTS];
    *sight = (fitter_sight){.time_s = f->now_s,
                            .count = f->model->state->action_count,
                            .hand = f->job->hand,
                            .shown_n = f->job->shown_n[f->job->row]};
}

/* What was drawn so long ago, or the oldest that is of this piece of work. */
static const fitter_sight *seen_before(const view_fitter *f, double seconds)
{
    const size_t kept = f->sights < FITTER_SIGHTS ? f->sights : FITTER_SIGHTS;
    const fitter_sight *found = &f->sight[(f->sights - 1) % FITTER_SIGHTS];
    for (size_t back = 1; back <= kept; back++) {
        const fitter_sight *one = &f->sight[(f->sights - back) % FITTER_SIGHTS];
        if (one->count != f->model->state->action_count) {
            break;
        }
        found = one;
        if (f->now_s - one->time_s >= seconds - 1e-6) {
            break;
        }
    }
    return found;
}

static double number(const fitter_sight *sight, size_t offset)
{
    double value = 0.0;
    memcpy(&value, (const char *)sight + offset, sizeof value);
    return value;
}

double fitter__reads(const view_fitter *f, size_t offset)
{
    return number(seen_before(f, (double)f->manner.see_s), offset);
}

double fitter__foresees(const view_fitter *f, size_t offset)
{
    const fitter_sight *then = seen_before(f, (double)f->manner.see_s);
    const fitter_sight *before = seen_before(f, (double)f->manner.see_s + 0.08);
    const double span_s = then->time_s - before->time_s;
    const double now = number(then, offset);
    if (!f->manner.foresees || span_s <= 0.0) {
        return now;
    }
    /* the frame in which the fingers come off is one more */
    const double ahead_s = f->now_s - then->time_s + (double)f->dt_s;
    return now + (now - number(before, offset)) / span_s * ahead_s;
}

bool fitter__is_quiet(const view_fitter *f, size_t offset, double by, double seconds)
{
    const double now = fitter__reads(f, offset);
    const size_t kept = f->sights < FITTER_SIGHTS ? f->sights : FITTER_SIGHTS;
    const double from_s = f->now_s - (double)f->manner.see_s;
    for (size_t back = 1; back <= kept; back++) {
        const fitter_sight *one = &f->sight[(f->sights - back) % FITTER_SIGHTS];
        if (one->time_s > from_s) {
            continue;
        }
        if (one->count != f->model->state->action_count || fabs(number(one, offset) - now) > by) {
            return false;
        }
        if (from_s - one->time_s >= seconds) {
            return true;
        }
    }
    return false;
}

bool fitter__picture(const view_fitter *f, view_rect *rect)
{
    char key[48];
    tr_format(key, sizeof key, "do.%s.picture", job_stage_name(f->job->stage));
    const bool is_pin = f->job->stage == JOB_STAGE_TENSION;
    return fitter__find(f, fitter__word(f, is_pin ? "job.pin" : key), 0, rect);
}

float fitter__reach(const view_fitter *f, view_point around, float most)
{
    view_rect rect = {0};
    (void)fitter__picture(f, &rect);
    const float across = fminf(around.x - rect.x, rect.x + rect.w - around.x);
    const float along = fminf(around.y - rect.y, rect.y + rect.h - around.y);
    return fmaxf(8.0F, fminf(most, fminf(across, along) - 4.0F));
}

bool fitter__grip(const view_fitter *f, view_grip *grip)
{
    view_rect rect;
    if (!fitter__picture(f, &rect)) {
        return false;
    }
    view_pen pen = view_job_pen(f->ui, f->model);
    pen.draw = f->scratch;
    view_draw_clear(f->scratch);
    *grip = (view_grip){0};
    view_closeup(&pen, rect, f->job->stage, &f->model->what->setup, f->model->state, f->job->row, &f->job->hand, grip);
    return true;
}

/* ---- what next -------------------------------------------------------------------------------------------------- */

static fitter_gesture *const gestures[JOB_VERB_COUNT] = {
    [JOB_DO_OPEN_SHEET] = fitter__open_sheet,
    [JOB_DO_ANSWER] = fitter__answer,
    [JOB_DO_SET_POLE] = fitter__set_pole,
    [JOB_DO_MARK_ROW] = fitter__mark_row,
    [JOB_DO_GLASSES] = fitter__glasses,
    [JOB_DO_TAKE_BIT] = fitter__take_bit,
    [JOB_DO_SET_DRILL_SPEED] = fitter__drill,
    [JOB_DO_DRILL] = fitter__drill,
    [JOB_DO_SET_DRIVER_SPEED] = fitter__drive,
    [JOB_DO_DRIVE_INSERT] = fitter__drive,
    [JOB_DO_SCREW_STUD] = fitter__screw_stud,
    [JOB_DO_HANG_CABLE] = fitter__hang,
    [JOB_DO_PULL_CABLE] = fitter__pull,
    [JOB_DO_MARK_CABLE] = fitter__mark_cable,
    [JOB_DO_TAKE_CUTTER] = fitter__take_cutter,
    [JOB_DO_CUT_CABLE] = fitter__cut_cable,
    [JOB_DO_PUSH_HOME] = fitter__push_home,
    [JOB_DO_SEAT_MARK] = fitter__seat_mark,
    [JOB_DO_PLACE_DIE] = fitter__place_die,
    [JOB_DO_TURN_CRIMPER] = fitter__turn_crimper,
    [JOB_DO_SQUEEZE] = fitter__squeeze,
    [JOB_DO_REDO_CRIMP] = fitter__redo_crimp,
    [JOB_DO_UNSCREW_STUD] = fitter__unscrew,
    [JOB_DO_BACK_OFF] = fitter__back_off,
    [JOB_DO_THREAD_IN] = fitter__thread_in,
    [JOB_DO_HAND_TIGHT] = fitter__hand_tight,
    [JOB_DO_STAND] = fitter__stand,
    [JOB_DO_PLIERS] = fitter__pliers,
    [JOB_DO_TURN_BODY] = fitter__turn_body,
    [JOB_DO_FREE_TWIST] = fitter__free_twist,
    [JOB_DO_PLUCK] = fitter__pluck,
    [JOB_DO_GAUGE] = fitter__gauge,
    [JOB_DO_BALL] = fitter__ball,
    [JOB_DO_SIGHT] = fitter__sight_post,
    [JOB_DO_GAUGE_CRIMP] = fitter__gauge_crimp,
    [JOB_DO_REPORT_FAULT] = fitter__report,
    [JOB_DO_COLLAR] = fitter__collar,
    [JOB_DO_WIPE] = fitter__wipe,
    [JOB_DO_WAIT_DAYS] = fitter__wait_days,
    [JOB_DO_SIGN] = fitter__sign,
};

/* The row that the goal is about; a speed is set for the row that comes next at it. */
static int find_row(const view_fitter *f)
{
    job_action next;
    job_state after = *f->model->state;
    const bool is_speed = f->goal.verb == JOB_DO_SET_DRILL_SPEED || f->goal.verb == JOB_DO_SET_DRIVER_SPEED;
    if (!is_speed) {
        return job_action_row(&f->goal);
    }
    (void)job_apply(&f->model->what->setup, &after, &f->goal);
    return job_expert_next(&f->model->what->setup, &after, &next) ? job_action_row(&next) : -1;
}

/* Setting a speed is the first part of the drilling itself: the stage says it when the trigger is pulled. */
static bool is_one_gesture(const job_action *a, const job_action *b)
{
    const bool is_speed = b->verb == JOB_DO_SET_DRILL_SPEED || b->verb == JOB_DO_SET_DRIVER_SPEED;
    const bool is_pin = a->verb == JOB_DO_TURN_BODY && b->verb == JOB_DO_TURN_BODY;
    return is_pin || (is_speed && gestures[a->verb] == gestures[b->verb]);
}

static void choose_goal(view_fitter *f)
{
    const int64_t count = f->model->state->action_count;
    if (f->goal_count == count) {
        return;
    }
    const job_action before = f->goal;
    const int row_before = f->goal_row;
    const bool had_goal = f->has_goal;
    if (f->manner.is_hasty) {
        f->has_goal = fitter__hasty_goal(f, &f->goal);
    } else {
        f->has_goal = view__job_advice(f->job, f->model);
        f->goal = f->job->advice.action;
    }
    f->goal_row = f->has_goal ? find_row(f) : -1;
    /* the pin goes on turning over the actions of its quarters, and the bit over that of its speed */
    const bool goes_on = had_goal && f->has_goal && f->goal_row == row_before && is_one_gesture(&f->goal, &before);
    if (!goes_on) {
        f->goals++;
        f->step = 0;
        f->step_s = 0.0F;
        f->scrolled = 0;
        fitter__rest(f, f->manner.think_s + f->manner.read_s);
    }
    f->goal_count = count;
}

/* ---- getting there ---------------------------------------------------------------------------------------------- */

static bool is_anywhere(job_verb verb)
{
    return verb == JOB_DO_GLASSES || verb == JOB_DO_STAND;
}

static void show_stage(view_fitter *f, job_stage stage)
{
    char key[48];
    if (f->by_keys) {
        (void)fitter__tap(f, VIEW_KEY_F1 + (int)stage, 0);
        return;
    }
    tr_format(key, sizeof key, "stage.%s.name", job_stage_name(stage));
    (void)fitter__click(f, fitter__word(f, key), 0);
}

static void ask_ladder(const view_fitter *f, view_rect ladder, view_ladder_hits *hits)
{
    view_pen pen = view_job_pen(f->ui, f->model);
    pen.text = 14.0F * f->ui->text_scale;
    pen.draw = f->scratch;
    view_draw_clear(f->scratch);
    const view_ladder_look looks = {.show_true = view__job_is_guided(f->model),
                                    .row = f->job->row,
                                    .scroll = f->job->ladder_scroll,
                                    .tension_n = f->job->shown_n};
    view_ladder(&pen, view_inset_xy(ladder, VIEW_GAP_2, VIEW_GAP_1), &f->model->what->setup, f->model->state, &looks,
                hits);
}

/* The higher rows stand above the lower ones: up where any row in sight is lower than the one that is looked for. */
static float wheel_towards(const view_ladder_hits *hits, int row)
{
    for (int i = 0; i < hits->row_count; i++) {
        if (hits->row[i].h > 0.0F) {
            return i < row ? 0.5F : -0.5F;
        }
    }
    return 0.5F;
}

/* A row is chosen at its rung, which the wheel brings into sight. */
static void show_row_by_pointer(view_fitter *f, int row)
{
    view_rect ladder = {0};
    view_ladder_hits hits;
    (void)fitter__find(f, fitter__word(f, "job.ladder"), 0, &ladder);
    ask_ladder(f, ladder, &hits);
    const view_rect *rung = &hits.row[row];
    const float top = fmaxf(rung->y, ladder.y + VIEW_GAP_1);
    const float foot = fminf(rung->y + rung->h, ladder.y + ladder.h - VIEW_GAP_1);
    if (rung->h > 0.0F && foot - top > 8.0F) {
        (void)fitter__click_at(f, (view_point){rung->x + rung->w * 0.5F, (top + foot) * 0.5F});
        return;
    }
    f->wish.goes = true;
    f->wish.spot = (view_point){ladder.x + ladder.w * 0.5F, ladder.y + ladder.h * 0.5F};
    f->wish.wheel = f->arm.is_there ? wheel_towards(&hits, row) : 0.0F;
}

static void show_row(view_fitter *f, int row)
{
    if (!f->by_keys) {
        show_row_by_pointer(f, row);
    } else if (fitter__tap(f, row > f->job->row ? VIEW_KEY_UP : VIEW_KEY_DOWN, 0)) {
        f->rest_s = 0.1F;
    }
}

/* True when the place of the goal is shown. */
static bool is_there(view_fitter *f)
{
    const job_stage stage = job_verb_look(f->goal.verb)->stage;
    const int row = f->goal_row;
    if (is_anywhere(f->goal.verb) || f->step > 0) {
        return true;
    }
    if (stage != f->job->stage) {
        show_stage(f, stage);
        return false;
    }
    if (row >= 0 && row != f->job->row) {
        show_row(f, row);
        return false;
    }
    return true;
}

/* ---- frame ------------------------------------------------------------------------------------------------------ */

static void rest_is_over(view_fitter *f)
{
    f->off.x = f->manner.scatter_px * (float)tr_rng_normal(&f->rng);
    f->off.y = f->manner.scatter_px * (float)tr_rng_normal(&f->rng);
}

static void work(view_fitter *f)
{
    choose_goal(f);
    if (f->rest_s > 0.0F) {
        f->rest_s -= f->dt_s;
        if (f->rest_s <= 0.0F) {
            rest_is_over(f);
        }
        return;
    }
    f->step_s += f->dt_s;
    if (f->has_goal && is_there(f) && gestures[f->goal.verb] != NULL) {
        gestures[f->goal.verb](f);
    }
}

static void begin(view_fitter *f, view_point size)
{
    if (f->is_begun) {
        return;
    }
    f->is_begun = true;
    f->arm.at = f->arm.to = (view_point){size.x * 0.5F, size.y * 0.6F};
    f->arm.is_there = true;
    f->rest_s = 0.3F;
}

const view_input *view_fitter_frame(view_fitter *fitter, const view_ui *ui, view_job *job, const view_job_model *model,
                                    view_point size, float dt_s, bool is_idle)
{
    begin(fitter, size);
    fitter->ui = ui;
    fitter->job = job;
    fitter->model = model;
    fitter->dt_s = dt_s;
    fitter->now_s += (double)dt_s;
    fitter->wish = (fitter_wish){0};
    fitter->in.width = size.x;
    fitter->in.height = size.y;
    fitter->in.dt_s = dt_s;
    fitter->in.time_s = fitter->now_s;
    look(fitter);
    if (!is_idle) {
        work(fitter);
    }
    fitter__act(fitter);
    return &fitter->in;
}
