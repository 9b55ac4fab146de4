/* Gestures at the turnbuckle's body and at the cable: assemble, cut, crimp. */
#include "fitter.h"

#include <math.h>

static const double TRUE_M = 0.0005;
static const double TRUE_RAD = 0.008;
static const float KEY_TURN_RAD = 0.2617994F; /* the crimper's step by key */
static const double STOP_S = 1.0;             /* a stop that gives in this time was not the end of the bore */
static const float PATIENCE_S = 3.0F;
static const float AROUND_PX = 60.0F; /* of the pivot: where a hand takes the crimper to turn it */

static void let_go(view_fitter *f)
{
    f->wish = (fitter_wish){0};
    fitter__next_step(f);
}

/* Holds the picture at spot, where that works this trigger now, else the trigger's own button. */
static bool hold_main(view_fitter *f, bool is_main, view_point spot, const char *word_key, char letter)
{
    if (is_main && !f->by_keys) {
        fitter__hold_at(f, spot);
    } else {
        fitter__hold(f, word_key, letter);
    }
    return fitter__is_holding(f);
}

static view_point middle(view_rect rect)
{
    return (view_point){rect.x + rect.w * 0.5F, rect.y + rect.h * 0.5F};
}

static const job_row *row_of(const view_fitter *f)
{
    return &f->model->state->row[f->job->row];
}

/* ---- assemble --------------------------------------------------------------------------------------------------- */

static void choose_one(view_fitter *f, const char *word_key, char letter, bool is_chosen)
{
    if (is_chosen || fitter__press(f, word_key, letter)) {
        fitter__next_step(f);
    }
}

static void screw_in(view_fitter *f)
{
    const bool is_anchor = f->goal.arg[JOB_SCREW_STUD_STUD] == 0.0;
    const double there = is_anchor ? row_of(f)->engaged.anchor_turns : row_of(f)->engaged.cable_turns;
    const double wanted = there + f->goal.arg[JOB_SCREW_STUD_TURNS];
    fitter__hold(f, "do.assemble.screw", 'W');
    if (!fitter__is_holding(f)) {
        return;
    }
    const bool is_in = FITTER_FORESEES(f, hand.assemble.turns) >= wanted - 0.1;
    const bool is_full = f->down_s > 1.5F && FITTER_IS_QUIET(f, hand.assemble.turns, 0.01, 0.4);
    if (is_in || is_full) {
        let_go(f);
    }
}

void fitter__screw_stud(view_fitter *f)
{
    const int stud = (int)f->goal.arg[JOB_SCREW_STUD_STUD];
    const int end = (int)f->goal.arg[JOB_SCREW_STUD_END];
    if (f->step == 0) {
        choose_one(f, stud == 0 ? "do.assemble.anchor" : "do.assemble.cable", stud == 0 ? '1' : '2',
                   f->job->tools.assemble.stud == stud + 1);
    } else if (f->step == 1) {
        choose_one(f, end == 0 ? "do.assemble.plain" : "do.assemble.ring", end == 0 ? '3' : '4',
                   f->job->tools.assemble.end == end + 1);
    } else if (f->step == 2) {
        screw_in(f);
    } else if (f->step_s > 1.0F) {
        f->step = 0; /* it did not come to an action: once more */
    }
}

/* ---- cut -------------------------------------------------------------------------------------------------------- */

void fitter__hang(view_fitter *f)
{
    (void)fitter__press(f, row_of(f)->is_cut ? "do.cut.hang_again" : "do.cut.hang", 'H');
}

void fitter__pull(view_fitter *f)
{
    view_rect picture = {0};
    const bool is_main = row_of(f)->pulled_n <= 0.0 && fitter__picture(f, &picture);
    const view_point spot = {picture.x + picture.w * 0.5F, picture.y + picture.h * 0.5F};
    if (!hold_main(f, is_main, spot, "do.cut.pull", 'W')) {
        return;
    }
    if (FITTER_FORESEES(f, hand.cut.pull_n) >= f->goal.arg[JOB_PULL_CABLE_FORCE]) {
        let_go(f);
        f->step = 0;
    }
}

void fitter__mark_cable(view_fitter *f)
{
    view_grip grip = {0};
    const bool is_main = row_of(f)->pulled_n > 0.0 && !row_of(f)->is_cable_marked && fitter__grip(f, &grip);
    const view_point spot = {grip.zero.x + f->off.x * 0.5F, grip.zero.y};
    if (!hold_main(f, is_main, spot, "do.cut.mark", 'M') || f->down_s < f->manner.settle_s) {
        return;
    }
    const bool is_true = fabs(FITTER_SEES(f, hand.cut.mark_m)) <= TRUE_M;
    if (is_true || !f->manner.steers || f->down_s > f->manner.settle_s + PATIENCE_S) {
        let_go(f);
        f->step = 0;
    }
}

void fitter__take_cutter(view_fitter *f)
{
    static const char *const words[JOB_MAX_CUTTERS] = {"do.cut.cable_cutter", "do.cut.side_cutters", "do.cut.grinder"};
    const int cutter = (int)f->goal.arg[JOB_TAKE_CUTTER_CUTTER];
    (void)fitter__press(f, words[cutter % JOB_MAX_CUTTERS], (char)('1' + cutter));
}

/* The jaws are left to settle on the pen line before they close. */
void fitter__cut_cable(view_fitter *f)
{
    view_grip grip = {0};
    if (f->step_s < f->manner.settle_s) {
        return;
    }
    const bool is_main = row_of(f)->is_cable_marked && fitter__grip(f, &grip);
    const float line = (float)row_of(f)->mark_error_m * grip.px_per_m * grip.along_x;
    const view_point spot = {grip.zero.x + line + f->off.x * 0.5F, grip.zero.y};
    if (hold_main(f, is_main, spot, "do.cut.cut", 'X') && f->down_s > 1.5F) {
        let_go(f);
        f->step = 0;
    }
}

/* ---- crimp ------------------------------------------------------------------------------------------------------ */

/* Past the soft stop, until nothing gives any more; in haste the stop is taken for the end. */
void fitter__push_home(view_fitter *f)
{
    view_rect picture = {0};
    const bool has_crimper = row_of(f)->is_cut && row_of(f)->crimp.seated_m > 0.0;
    const bool is_main = !has_crimper && fitter__picture(f, &picture);
    if (!hold_main(f, is_main, middle(picture), "do.crimp.push", 'U')) {
        return;
    }
    const double rest_s = f->manner.is_hasty ? 0.1 : STOP_S;
    if (f->down_s > 0.8F && FITTER_IS_QUIET(f, hand.crimp.seat_m, 0.0001, rest_s)) {
        let_go(f);
        f->step = 0;
    }
}

void fitter__seat_mark(view_fitter *f)
{
    (void)fitter__press(f, "do.crimp.seat_mark", 'S');
}

static void slide_by_keys(view_fitter *f, double wanted)
{
    const double off = wanted - FITTER_FORESEES(f, hand.crimp.die_m);
    const int on = f->ui->left_handed ? VIEW_KEY_RIGHT : VIEW_KEY_LEFT; /* the picture is mirrored */
    const int back = f->ui->left_handed ? VIEW_KEY_LEFT : VIEW_KEY_RIGHT;
    const bool is_on = f->in.held[on];
    const bool is_back = f->in.held[back];
    const double near = is_on || is_back ? 0.0 : f->manner.is_hasty ? 0.004 : TRUE_M;
    if (off > near && !is_back) {
        fitter__key(f, on);
    } else if (off < -near && !is_on) {
        fitter__key(f, back);
    } else if (is_on || is_back) {
        fitter__rest(f, fmaxf(f->manner.think_s, 0.4F));
    } else {
        fitter__next_step(f);
    }
}

/* Takes the crimper well away from its end view, where it would turn instead, and carries it along. */
static void slide_by_pointer(view_fitter *f, double wanted)
{
    view_grip grip;
    if (!fitter__grip(f, &grip)) {
        return;
    }
    if (!f->in.down[VIEW_MOUSE_LEFT]) {
        f->mark = middle(grip.handle);
        if (hypotf(f->mark.x - grip.pivot.x, f->mark.y - grip.pivot.y) < 100.0F) {
            f->mark.x = grip.pivot.x + (f->mark.x < grip.pivot.x ? -110.0F : 110.0F);
        }
        f->mark.x += f->off.x;
        fitter__hold_at(f, f->mark);
        f->down_s = 0.0F;
        return;
    }
    if (f->down_s <= 0.0F) { /* where it is to go, from where it was taken */
        const double by = wanted - (double)f->job->tools.crimp.die_m;
        f->mark.x =
            f->arm.at.x + (float)by * grip.px_per_m * grip.along_x + (f->manner.steers ? 0.0F : f->off.x * 2.0F);
        f->mark.y = f->arm.at.y;
    }
    (void)fitter__is_holding(f);
    fitter__hold_at(f, f->mark);
    if (f->arm.is_there && f->down_s > 0.3F && fabsf(f->arm.at.x - f->mark.x) < 0.6F) {
        let_go(f);
        f->step = 0;
    }
}

void fitter__place_die(view_fitter *f)
{
    const double wanted = f->goal.arg[JOB_PLACE_DIE_POSITION];
    if (!f->by_keys) {
        slide_by_pointer(f, wanted);
    } else if (f->step == 0) {
        slide_by_keys(f, wanted);
    } else if (fitter__tap(f, 'E', 0)) {
        f->step = 0;
    }
}

/* About the middle of the end view; slower the nearer it comes. */
static void turn_by_pointer(view_fitter *f, float left_rad)
{
    view_grip grip;
    if (!fitter__grip(f, &grip)) {
        return;
    }
    if (!f->in.down[VIEW_MOUSE_LEFT]) {
        fitter__hold_at(f, (view_point){grip.pivot.x, grip.pivot.y - fitter__reach(f, grip.pivot, AROUND_PX)});
        return;
    }
    if (fabsf(left_rad) < (float)TRUE_RAD) {
        let_go(f);
        f->step = 0;
        return;
    }
    const float x = f->arm.at.x - grip.pivot.x;
    const float y = f->arm.at.y - grip.pivot.y;
    const float rate = fmaxf(-1.4F, fminf(1.4F, 3.0F * left_rad)) * (f->manner.is_hasty ? 2.0F : 1.0F);
    f->wish.is_pushing = true;
    f->wish.push = (view_point){-y * rate, x * rate};
    f->wish.left = true;
}

void fitter__turn_crimper(view_fitter *f)
{
    const double wanted = row_of(f)->die_angle_rad + f->goal.arg[JOB_TURN_CRIMPER_ANGLE];
    const float left = (float)wanted - f->job->tools.crimp.angle_rad;
    if (!f->by_keys) {
        turn_by_pointer(f, left);
    } else if (f->step == 0 && (fabsf(left) > 0.5F * KEY_TURN_RAD || f->down_s > 0.0F)) {
        (void)fitter__tap(f, left > 0.0F ? 'T' : 'Y', 0);
    } else {
        f->step = fitter__tap(f, 'E', 0) ? 0 : 1;
    }
}

/* Until the ratchet lets go; a hasty hand does not wait for that. */
void fitter__squeeze(view_fitter *f)
{
    fitter__hold(f, "do.crimp.squeeze", 'Q');
    if (!fitter__is_holding(f)) {
        return;
    }
    if (f->down_s > 3.0F || (f->manner.is_hasty && FITTER_SEES(f, hand.crimp.closing) > 0.6)) {
        let_go(f);
        f->step = 0;
    }
}

void fitter__redo_crimp(view_fitter *f)
{
    if (fitter__press(f, f->step == 0 ? "do.crimp.redo" : "do.crimp.redo_sure", 'R')) {
        f->step = f->step == 0 ? 1 : 0;
    }
}
