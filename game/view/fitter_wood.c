/* Gestures at the sheet and at the wood: read, mark, drill, drive. */
#include "fitter.h"

#include <math.h>

static const view_range SPEED = {100.0F, 3000.0F, 50.0F};
static const float FULL_SPEED = 3000.0F;
static const double TRUE_M = 0.0005;    /* a line or a foot that reads so near is left */
static const double SQUARE_RAD = 0.006; /* a bubble that reads so near its middle is left */
static const double FULL_CHIPS = 0.62;  /* two diameters of the three that fill the flutes */
static const double HOME_M = -0.0035;   /* the bit is out of its hole */
static const double LITTLE_M = 0.004;   /* not worth clearing for any more */
static const float PATIENCE_S = 3.0F;   /* beyond settling: then it is good enough */

/* ---- read ------------------------------------------------------------------------------------------------------- */

void fitter__open_sheet(view_fitter *f)
{
    (void)fitter__press(f, "job.open_sheet", 'O');
}

void fitter__answer(view_fitter *f)
{
    static const char *const keys[] = {"job.bit", "job.row", "job.rows"};
    const int question = (int)f->goal.arg[JOB_ANSWER_QUESTION];
    const int choice = (int)f->goal.arg[JOB_ANSWER_CHOICE];
    const char *control = fitter__word(f, keys[question]);
    const char *answer = fitter__word(f, "job.answer");
    const int now = f->job->tools.read.answer[question];
    if (f->step == 0 && f->by_keys && !fitter__focus(f, control)) {
        return; /* the answer's button is the next one after this question's control */
    }
    if (f->step == 0) {
        const bool is_set =
            question == 0 ? fitter__pick(f, control, now, choice) : fitter__set_steps(f, control, now, choice);
        if (is_set) {
            fitter__next_step(f);
        }
    } else if (f->by_keys) {
        (void)fitter__choose(f, answer, 0);
    } else {
        (void)fitter__click_after(f, answer, control);
    }
}

/* ---- mark ------------------------------------------------------------------------------------------------------- */

static bool has_settled(const view_fitter *f, double seen, double near)
{
    const bool is_true = fabs(seen) <= near || !f->manner.steers || f->down_s > f->manner.settle_s + PATIENCE_S;
    return f->down_s >= f->manner.settle_s && is_true;
}

void fitter__set_pole(view_fitter *f)
{
    view_rect picture;
    const bool is_main = !f->model->state->is_pole_set && !f->by_keys && fitter__picture(f, &picture);
    if (is_main) {
        fitter__hold_at(f, (view_point){picture.x + picture.w * 0.5F, picture.y + picture.h * 0.7F});
    } else {
        fitter__hold(f, "do.mark.pole", 'F');
    }
    const double seen = FITTER_SEES(f, hand.mark.pole_m) + f->model->state->pole_error_m;
    if (fitter__is_holding(f) && has_settled(f, seen, TRUE_M)) {
        f->wish = (fitter_wish){0};
        fitter__rest(f, f->manner.think_s);
    }
}

/* A small movement of the hand that holds the pencil, against what is seen. */
static void nudge_pencil(view_fitter *f, double seen_m, float px_per_m)
{
    if (f->down_s < f->manner.settle_s || !f->manner.steers || fabs(seen_m) <= 0.5 * TRUE_M) {
        return;
    }
    if (f->by_keys) {
        fitter__key(f, seen_m > 0.0 ? VIEW_KEY_DOWN : VIEW_KEY_UP);
        f->wish.mods = VIEW_SHIFT;
    } else {
        f->wish.goes = false;
        f->wish.is_pushing = true;
        f->wish.push = (view_point){0.0F, 1.2F * (float)seen_m * px_per_m};
    }
}

void fitter__mark_row(view_fitter *f)
{
    view_grip grip = {0};
    if (f->by_keys) {
        fitter__key(f, 'M');
    } else if (fitter__grip(f, &grip)) {
        fitter__hold_at(f, (view_point){grip.handle.x + grip.handle.w * 0.5F, grip.zero.y + f->off.y});
    }
    const bool is_down = f->by_keys ? f->in.held['M'] : f->in.down[VIEW_MOUSE_LEFT];
    const double seen = FITTER_SEES(f, hand.mark.pencil_m);
    if (!is_down) {
        return;
    }
    (void)fitter__is_holding(f);
    nudge_pencil(f, seen, grip.px_per_m);
    if (has_settled(f, seen, TRUE_M)) {
        f->wish = (fitter_wish){0};
        fitter__rest(f, f->manner.think_s);
    }
}

/* ---- drill ------------------------------------------------------------------------------------------------------ */

void fitter__take_bit(view_fitter *f)
{
    char size[48];
    const int bit = (int)f->goal.arg[JOB_TAKE_BIT_BIT];
    tr_quantity_text(f->model->what->setup.bit[bit].diameter_m, TR_DIM_LENGTH, f->model->system, TR_FINE, size,
                     sizeof size);
    if (f->by_keys) {
        (void)fitter__tap(f, '1' + bit, 0);
    } else {
        (void)fitter__click(f, size, 0);
    }
}

/* True while the speed is what is wanted. By keys it moves in hundreds. */
static bool has_speed(view_fitter *f, float now, float wanted)
{
    const float to = f->manner.is_hasty ? FULL_SPEED : wanted;
    if (!f->by_keys) {
        return fitter__set_slider(f, fitter__word(f, "do.speed"), SPEED, now, to);
    }
    if (fabsf(to - now) > 51.0F || f->down_s > 0.0F) {
        (void)fitter__tap(f, to > now ? VIEW_KEY_PAGE_UP : VIEW_KEY_PAGE_DOWN, 0);
        f->rest_s = f->rest_s > 0.0F ? 0.06F : 0.0F;
        return false;
    }
    return true;
}

static bool has_flag(view_fitter *f)
{
    const float step = f->model->system == TR_US ? 0.0254F / 16.0F : 0.001F;
    const int now = (int)lroundf(f->job->tools.drill.flag_m / step);
    const int wanted = (int)lround(f->model->what->setup.hole_depth_m / (double)step);
    return !f->manner.steers || fitter__set_steps(f, fitter__word(f, "do.drill.flag"), now, wanted);
}

/* Against what the bubbles say: arrows, or the pointer that holds the tool. */
static void steer(view_fitter *f, double pitch_rad, double yaw_rad)
{
    if (!f->manner.steers) {
        return;
    }
    if (f->by_keys) {
        f->wish.key[VIEW_KEY_DOWN] = pitch_rad > SQUARE_RAD * 0.6;
        f->wish.key[VIEW_KEY_UP] = pitch_rad < -SQUARE_RAD * 0.6;
        f->wish.key[VIEW_KEY_LEFT] = yaw_rad > SQUARE_RAD * 0.6;
        f->wish.key[VIEW_KEY_RIGHT] = yaw_rad < -SQUARE_RAD * 0.6;
        return;
    }
    const float px_per_rad_s = 1.5F / 0.0008F;
    f->wish.goes = false;
    f->wish.is_pushing = true;
    f->wish.push = (view_point){-(float)yaw_rad * px_per_rad_s, (float)pitch_rad * px_per_rad_s};
}

/* The picture, or its letter; once it is held the pointer stays free to steer. */
static bool hold_tool(view_fitter *f)
{
    view_grip grip;
    if (f->by_keys) {
        fitter__key(f, 'W');
        return f->in.held['W'];
    }
    if (fitter__grip(f, &grip)) {
        fitter__hold_at(f, (view_point){grip.handle.x + grip.handle.w * 0.5F, grip.handle.y + grip.handle.h * 0.5F});
    }
    return f->in.down[VIEW_MOUSE_LEFT];
}

static void let_go(view_fitter *f, int step)
{
    f->wish = (fitter_wish){0};
    fitter__next_step(f);
    f->step = step;
}

enum { SPEEDS = 0, FLAG, SQUARES, WORKS, CLEARS, ENDS };

/* The bubbles have come to rest near the middle. */
static bool is_square(const view_fitter *f, double pitch_rad, double yaw_rad)
{
    const bool is_near = fabs(pitch_rad) < SQUARE_RAD && fabs(yaw_rad) < SQUARE_RAD;
    return f->step_s > f->manner.settle_s * 0.4F && (is_near || !f->manner.steers || f->step_s > PATIENCE_S);
}

static void bore(view_fitter *f)
{
    if (!hold_tool(f)) {
        return;
    }
    const double left_m = f->model->what->setup.hole_depth_m - FITTER_FORESEES(f, hand.drill.deepest_m);
    steer(f, FITTER_SEES(f, hand.drill.pitch_rad), FITTER_SEES(f, hand.drill.yaw_rad));
    if (left_m <= 0.0) {
        let_go(f, ENDS);
    } else if (f->manner.steers && FITTER_SEES(f, hand.drill.chips) > FULL_CHIPS && left_m > LITTLE_M) {
        let_go(f, CLEARS);
    }
}

/* The bit is drawn right out, by the other button or its letter. */
static void clear_chips(view_fitter *f)
{
    view_rect picture;
    if (FITTER_SEES(f, hand.drill.depth_m) <= HOME_M && f->step_s > 0.5F) {
        let_go(f, SQUARES);
    } else if (f->step_s < 0.3F && f->by_keys) {
        fitter__key(f, 'B');
    } else if (!f->by_keys && f->step_s < 1.5F && fitter__picture(f, &picture)) {
        f->wish.goes = true;
        f->wish.spot = f->arm.to;
        f->wish.right = f->step_s < 0.3F;
    }
}

void fitter__drill(view_fitter *f)
{
    const bool is_speed = f->goal.verb == JOB_DO_SET_DRILL_SPEED;
    const float shown = f->job->tools.drill.rpm; /* the advice to drill says that it will do */
    const float rpm = is_speed ? (float)f->goal.arg[JOB_SET_DRILL_SPEED_RPM] : shown;
    const bool is_begun = f->job->tools.drill.is_begun;
    f->step = f->step < SQUARES && is_begun ? SQUARES : f->step; /* the speed has become an action meanwhile */
    const bool is_ready =
        (f->step == SPEEDS && has_speed(f, shown, rpm)) || (f->step == FLAG && has_flag(f)) ||
        (f->step == SQUARES && is_square(f, FITTER_SEES(f, hand.drill.pitch_rad), FITTER_SEES(f, hand.drill.yaw_rad)));
    if (is_ready) {
        fitter__next_step(f);
    } else if (f->step == WORKS) {
        bore(f);
    } else if (f->step == CLEARS) {
        clear_chips(f);
    } else if (f->step == ENDS) {
        (void)fitter__press(f, "do.drill.done", 'E');
    }
}

/* ---- drive ------------------------------------------------------------------------------------------------------ */

static void sink(view_fitter *f)
{
    const job_row *row = &f->model->state->row[f->job->row];
    if (!hold_tool(f)) {
        return;
    }
    steer(f, FITTER_SEES(f, hand.insert.pitch_rad) - row->hole.pitch_rad,
          FITTER_SEES(f, hand.insert.yaw_rad) - row->hole.yaw_rad);
    if (FITTER_FORESEES(f, hand.insert.proud_m) <= 0.0001) {
        let_go(f, ENDS);
    }
}

void fitter__drive(view_fitter *f)
{
    const bool is_speed = f->goal.verb == JOB_DO_SET_DRIVER_SPEED;
    const float shown = f->job->tools.insert.rpm;
    const float rpm = is_speed ? (float)f->goal.arg[JOB_SET_DRIVER_SPEED_RPM] : shown;
    f->step = f->step < WORKS && f->job->tools.insert.is_begun ? WORKS : f->step;
    if (f->step == SPEEDS && has_speed(f, shown, rpm)) {
        fitter__next_step(f);
        f->step = SQUARES;
    } else if (f->step == SQUARES && f->step_s > f->manner.settle_s) {
        fitter__next_step(f);
    } else if (f->step == WORKS) {
        sink(f);
    } else if (f->step == ENDS) {
        (void)fitter__press(f, "do.insert.done", 'E');
    }
}
