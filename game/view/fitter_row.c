/* Gestures at the row as a whole: join, tension, check, hand over. */
#include "fitter.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/text.h"

static const view_range PULL = {5.0F, 120.0F, 5.0F};
static const float TURN_RAD = 6.2831853F;
static const float AROUND_PX = 58.0F; /* of the dial: where the pin is taken */
static const float NEAR_RAD = 0.06F;

static const job_row *row_of(const view_fitter *f)
{
    return &f->model->state->row[f->job->row];
}

/* ---- join ------------------------------------------------------------------------------------------------------- */

void fitter__unscrew(view_fitter *f)
{
    const bool wants_held = f->goal.arg[JOB_UNSCREW_STUD_HELD] != 0.0 && !f->manner.is_hasty;
    if (wants_held && !f->job->tools.join.body_held) {
        (void)fitter__choose(f, fitter__word(f, "job.join.hold_body"), 0);
    } else {
        (void)fitter__press(f, "job.join.unscrew", 'U');
    }
}

void fitter__back_off(view_fitter *f)
{
    const view_range range = {0.0F, ceilf((float)row_of(f)->engaged.anchor_turns) + 4.0F, 0.5F};
    if (f->step == 0) {
        if (fitter__set_slider(f, fitter__word(f, "job.join.leave"), range, f->job->tools.join.back_to,
                               (float)f->goal.arg[JOB_BACK_OFF_LEFT])) {
            fitter__next_step(f);
        }
    } else {
        (void)fitter__press(f, "job.join.back_off", 'B');
    }
}

/* Turned in by hand until it is nearly right, then counted. */
static bool is_turned_in(view_fitter *f, int wanted)
{
    const int now = (int)f->job->tools.join.in_turns;
    view_rect rect;
    if (!f->by_keys && (now < wanted - 2 || (f->in.down[VIEW_MOUSE_LEFT] && f->step == 0 && f->down_s < 0.0F)) &&
        fitter__find(f, fitter__word(f, "job.join.turn"), 0, &rect)) {
        fitter__hold(f, "job.join.turn", '\0');
        return false;
    }
    return fitter__set_steps(f, fitter__word(f, "job.join.in"), now, wanted);
}

void fitter__thread_in(view_fitter *f)
{
    const int wanted = (int)fmax(floor(f->goal.arg[JOB_THREAD_IN_TURNS]), 1.0);
    if (f->step == 0) {
        if (is_turned_in(f, wanted)) {
            fitter__next_step(f);
        }
    } else {
        (void)fitter__press(f, "job.join.thread_in", 'T');
    }
}

void fitter__hand_tight(view_fitter *f)
{
    if (f->step == 0) {
        if (f->manner.is_hasty ||
            fitter__set_slider(f, fitter__word(f, "job.join.pull"), PULL, f->job->tools.join.pull_n,
                               (float)f->goal.arg[JOB_HAND_TIGHT_PULL])) {
            fitter__next_step(f);
        }
    } else {
        (void)fitter__press(f, "job.join.hand_tight", 'H');
    }
}

/* ---- tension ---------------------------------------------------------------------------------------------------- */

void fitter__glasses(view_fitter *f)
{
    (void)fitter__press(f, f->model->state->has_glasses ? "job.glasses_on" : "job.glasses_off", 'G');
}

void fitter__stand(view_fitter *f)
{
    (void)fitter__press(f, f->model->state->stands_clear ? "job.clear_on" : "job.clear_off", 'C');
}

void fitter__pliers(view_fitter *f)
{
    (void)fitter__press(f, "job.tension.pliers", 'P');
}

/* A quarter, an eighth or a sixteenth of a turn, whichever goes into what is left. */
static void turn_by_keys(view_fitter *f, double turns)
{
    const double left = fabs(turns);
    const unsigned mods = left > 0.1875 ? 0 : left > 0.09375 ? VIEW_SHIFT : VIEW_CTRL;
    if (fitter__tap(f, turns > 0.0 ? VIEW_KEY_RIGHT : VIEW_KEY_LEFT, mods)) {
        f->rest_s = 0.15F;
    }
}

static float pin_left(const view_fitter *f)
{
    if (f->manner.is_hasty) { /* round and round until the bar is seen to be there */
        return f->model->what->setup.target_n > FITTER_SEES(f, shown_n) ? TURN_RAD : 0.0F;
    }
    return (float)f->goal.arg[JOB_TURN_BODY_TURNS] * TURN_RAD - f->job->tools.tension.pin_rad;
}

static void turn_by_pointer(view_fitter *f)
{
    view_grip grip;
    const float left = pin_left(f);
    if (!fitter__grip(f, &grip)) {
        return;
    }
    const float reach = fitter__reach(f, grip.pivot, AROUND_PX);
    if (!f->in.down[VIEW_MOUSE_LEFT]) {
        fitter__hold_at(f, (view_point){grip.pivot.x, grip.pivot.y + (left > 0.0F ? -reach : reach)});
        return;
    }
    if (fabsf(left) < NEAR_RAD) {
        f->wish = (fitter_wish){0};
        fitter__rest(f, f->manner.think_s);
        return;
    }
    const float x = f->arm.at.x - grip.pivot.x;
    const float y = f->arm.at.y - grip.pivot.y;
    const float most = f->manner.is_hasty ? 9.0F : 4.0F;
    const float rate = fmaxf(-most, fminf(most, 4.0F * left));
    const float pull_in = (reach / fmaxf(hypotf(x, y), 1.0F) - 1.0F) * 4.0F; /* stays on the dial */
    f->wish.is_pushing = true;
    f->wish.push = (view_point){-y * rate + x * pull_in, x * rate + y * pull_in};
    f->wish.left = true;
}

void fitter__turn_body(view_fitter *f)
{
    if (f->by_keys) {
        turn_by_keys(f, f->manner.is_hasty ? 0.25 : f->goal.arg[JOB_TURN_BODY_TURNS]);
    } else {
        turn_by_pointer(f);
    }
}

void fitter__free_twist(view_fitter *f)
{
    (void)fitter__press(f, "job.tension.free_twist", 'F');
}

void fitter__pluck(view_fitter *f)
{
    (void)fitter__press(f, "job.pluck", 'K');
}

void fitter__gauge(view_fitter *f)
{
    (void)fitter__press(f, "job.gauge", 'J');
}

/* ---- check ------------------------------------------------------------------------------------------------------ */

static bool has_tool(view_fitter *f, view_check_tool tool)
{
    return fitter__pick(f, fitter__word(f, "job.check.tool"), f->job->tools.check.tool, (int)tool);
}

void fitter__ball(view_fitter *f)
{
    const int gap = (int)f->goal.arg[JOB_BALL_GAP];
    if (f->step == 0) {
        if (has_tool(f, VIEW_CHECK_BALL)) {
            fitter__next_step(f);
        }
    } else if (f->step == 1) {
        if (fitter__set_steps(f, fitter__word(f, "job.gap"), f->job->tools.check.gap, gap)) {
            fitter__next_step(f);
        }
    } else {
        (void)fitter__press(f, "job.check.ball", 'B');
    }
}

void fitter__sight_post(view_fitter *f)
{
    (void)fitter__press(f, "job.check.sight", 'S');
}

void fitter__gauge_crimp(view_fitter *f)
{
    if (f->step == 0 && !f->by_keys) {
        if (has_tool(f, VIEW_CHECK_CRIMP_GAUGE)) {
            fitter__next_step(f);
        }
    } else {
        (void)fitter__press(f, "job.check.crimp", 'R');
    }
}

/* The faults are one Tab stop; the arrows move along them. */
static void choose_fault(view_fitter *f, int fault)
{
    const char *focus = view_focus_label(f->ui);
    char key[48];
    for (int i = 0; i < JOB_FAULT_KINDS && f->by_keys; i++) {
        tr_format(key, sizeof key, "fault.%s", job_fault_name((job_fault_kind)i));
        if (i != fault && strncmp(focus, fitter__word(f, key), sizeof(((view_target *)NULL)->label) - 1) == 0) {
            (void)fitter__tap(f, i < fault ? VIEW_KEY_DOWN : VIEW_KEY_UP, 0);
            return;
        }
    }
    tr_format(key, sizeof key, "fault.%s", job_fault_name((job_fault_kind)fault));
    (void)fitter__choose(f, fitter__word(f, key), 0);
}

void fitter__report(view_fitter *f)
{
    const int fault = (int)f->goal.arg[JOB_REPORT_FAULT_FAULT];
    char row[16];
    char label[96];
    if (!f->job->tools.check.is_reporting) {
        (void)fitter__press(f, "job.check.report", 'F');
    } else if (f->job->tools.check.fault != fault) {
        choose_fault(f, fault);
    } else {
        tr_format(row, sizeof row, "%d", f->job->row + 1);
        const char *const args[] = {row};
        tr_lang_fill(f->ui->lang, "job.fault.report", args, 1, label, sizeof label);
        (void)fitter__choose(f, label, 0);
    }
}

/* ---- hand over -------------------------------------------------------------------------------------------------- */

void fitter__collar(view_fitter *f)
{
    (void)fitter__press(f, "job.over.collar", 'O');
}

void fitter__wipe(view_fitter *f)
{
    (void)fitter__press(f, f->model->state->is_wiped ? "job.over.wiped" : "job.over.wipe", 'W');
}

void fitter__wait_days(view_fitter *f)
{
    (void)fitter__press(f, "job.over.back", 'T');
}

void fitter__sign(view_fitter *f)
{
    if (!f->job->sign_open) {
        (void)fitter__press(f, "job.over.sign", 'S');
    } else {
        (void)fitter__choose(f, fitter__word(f, "job.sign.ok"), 0);
    }
}
