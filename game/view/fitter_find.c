/* Finding controls by the words that are on them, and working them: by the pointer alone or by the keyboard alone. */
#include "fitter.h"

#include <math.h>
#include <string.h>

static const float CLICK_S = 0.10F;
static const float NOTCH_S = 0.06F;   /* between two small turns of the wheel */
static const float HALF_NOTCH = 0.5F; /* so that two controls that belong together come into sight together */
enum { NOTCHES = 28 };

const char *fitter__word(const view_fitter *f, const char *key)
{
    return view_word(f->ui, key);
}

/* Targets keep the beginning of long words only. */
static bool is_called(const char *name, const char *label)
{
    return strncmp(name, label, sizeof(((view_target *)NULL)->label) - 1) == 0;
}

bool fitter__find(const view_fitter *f, const char *label, int part, view_rect *rect)
{
    const view_target *target = NULL;
    const size_t count = view_targets(f->ui, &target);
    for (size_t i = 0; i < count; i++) {
        if (is_called(target[i].label, label) && part-- == 0) {
            *rect = target[i].rect;
            return true;
        }
    }
    return false;
}

bool fitter__find_after(const view_fitter *f, const char *label, const char *before, view_rect *rect)
{
    const view_target *target = NULL;
    const size_t count = view_targets(f->ui, &target);
    bool is_after = false;
    for (size_t i = 0; i < count; i++) {
        if (is_after && is_called(target[i].label, label)) {
            *rect = target[i].rect;
            return true;
        }
        is_after = is_after || is_called(target[i].label, before);
    }
    return false;
}

/* ---- moving ----------------------------------------------------------------------------------------------------- */

void fitter__rest(view_fitter *f, float seconds)
{
    f->rest_s = fmaxf(f->rest_s, seconds);
    f->down_s = 0.0F;
}

void fitter__next_step(view_fitter *f)
{
    f->step++;
    f->step_s = 0.0F;
    fitter__rest(f, f->manner.think_s);
}

static view_point middle(view_rect rect)
{
    return (view_point){rect.x + rect.w / 2.0F, rect.y + rect.h / 2.0F};
}

/* Where a hand comes down on a thing of this size. */
static view_point landing(const view_fitter *f, view_rect rect)
{
    const view_point at = middle(rect);
    const float room = 0.35F;
    return (view_point){at.x + fmaxf(-room * rect.w, fminf(room * rect.w, f->off.x)),
                        at.y + fmaxf(-room * rect.h, fminf(room * rect.h, f->off.y))};
}

void fitter__key(view_fitter *f, int key)
{
    f->wish.key[key] = true;
}

/* True once it has been down long enough: it is not wished any more then, and let go. */
static bool is_pressed_enough(view_fitter *f, bool is_down)
{
    f->down_s += is_down ? f->dt_s : 0.0F;
    if (f->down_s < CLICK_S) {
        return false;
    }
    fitter__rest(f, f->manner.think_s);
    return true;
}

bool fitter__click_at(view_fitter *f, view_point spot)
{
    f->wish.goes = true;
    f->wish.spot = spot;
    const bool is_done = is_pressed_enough(f, f->in.down[VIEW_MOUSE_LEFT]);
    f->wish.left = !is_done;
    return is_done;
}

bool fitter__tap(view_fitter *f, int key, unsigned mods)
{
    const bool is_done = is_pressed_enough(f, f->in.held[key]);
    f->wish.key[key] = !is_done;
    f->wish.mods = is_done ? 0 : mods;
    return is_done;
}

/* The middle of what scrolls beside the fitting: its bar is the outer one of those below the run. */
static view_point bench_at(const view_fitter *f)
{
    const view_target *target = NULL;
    const size_t count = view_targets(f->ui, &target);
    view_rect run = {0};
    view_rect bar = {0};
    (void)fitter__find(f, fitter__word(f, "job.run"), 0, &run);
    for (size_t i = 0; i < count; i++) {
        const view_rect *one = &target[i].rect;
        const bool is_below = one->y > run.y + run.h && one->x >= run.x && one->x < run.x + run.w;
        const bool is_outer = bar.w <= 0.0F || (f->ui->left_handed ? one->x < bar.x : one->x > bar.x);
        bar = is_called(target[i].label, "scroll bar") && is_below && is_outer ? *one : bar;
    }
    return (view_point){bar.x - 40.0F, bar.y + bar.h * 0.5F};
}

/* What is wanted is out of sight: the wheel over the bench, down first, then up. */
static void look_for(view_fitter *f)
{
    f->wish.goes = true;
    f->wish.spot = bench_at(f);
    f->scroll_s += f->dt_s;
    if (f->arm.is_there && f->scroll_s > NOTCH_S) {
        f->scroll_s = 0.0F;
        f->wish.wheel = f->scrolled / NOTCHES % 2 == 0 ? -HALF_NOTCH : HALF_NOTCH;
        f->scrolled++;
    }
}

/* A control of which only a sliver shows is brought into sight first, as far as there is anything left to scroll. */
static bool is_in_sight(const view_fitter *f, view_rect rect)
{
    static const float SLIVER = 20.0F; /* any control is at least 24 high */
    return rect.h >= SLIVER || f->scrolled >= 2 * NOTCHES;
}

bool fitter__click(view_fitter *f, const char *label, int part)
{
    view_rect rect;
    if (!fitter__find(f, label, part, &rect) || !is_in_sight(f, rect)) {
        look_for(f);
        return false;
    }
    return fitter__click_at(f, landing(f, rect));
}

bool fitter__click_after(view_fitter *f, const char *label, const char *before)
{
    view_rect rect;
    if (!fitter__find_after(f, label, before, &rect) || !is_in_sight(f, rect)) {
        look_for(f);
        return false;
    }
    return fitter__click_at(f, landing(f, rect));
}

bool fitter__press(view_fitter *f, const char *word_key, char letter)
{
    return f->by_keys ? fitter__tap(f, letter, 0) : fitter__click(f, fitter__word(f, word_key), 0);
}

bool fitter__focus(view_fitter *f, const char *label)
{
    const char *now = view_focus_label(f->ui);
    if (now[0] != '\0' && is_called(now, label) && !f->in.held[VIEW_KEY_TAB]) {
        return true;
    }
    if (fitter__tap(f, VIEW_KEY_TAB, 0)) {
        f->rest_s = 2.0F * CLICK_S; /* Tab after Tab goes quickly */
    }
    return false;
}

bool fitter__choose(view_fitter *f, const char *label, int part)
{
    if (!f->by_keys) {
        return fitter__click(f, label, part);
    }
    return fitter__focus(f, label) && fitter__tap(f, VIEW_KEY_SPACE, 0);
}

void fitter__hold_at(view_fitter *f, view_point spot)
{
    f->wish.goes = true;
    f->wish.spot = spot;
    f->wish.left = true;
}

/* ---- values ----------------------------------------------------------------------------------------------------- */

static bool is_anything_down(const view_fitter *f)
{
    bool is_down = f->in.down[VIEW_MOUSE_LEFT];
    for (int key = 0; key < VIEW_KEYS; key++) {
        is_down = is_down || f->in.held[key];
    }
    return is_down;
}

/* The value reads right: the finger comes off, and then it is done. */
static bool is_let_go(view_fitter *f)
{
    if (is_anything_down(f)) {
        fitter__rest(f, f->manner.think_s);
        return false;
    }
    return true;
}

/* One press of an arrow on what has the focus. */
static void arrow(view_fitter *f, int key)
{
    if (fitter__tap(f, key, 0)) {
        f->rest_s = CLICK_S;
    }
}

bool fitter__set_steps(view_fitter *f, const char *label, int now, int wanted)
{
    if (now == wanted) {
        return is_let_go(f);
    }
    const bool is_up = now < wanted;
    if (!f->by_keys) {
        if (fitter__click(f, label, is_up ? 1 : 0)) {
            f->rest_s = 2.0F * CLICK_S;
        }
    } else if (fitter__focus(f, label)) {
        arrow(f, is_up ? VIEW_KEY_RIGHT : VIEW_KEY_LEFT);
    }
    return false;
}

bool fitter__pick(view_fitter *f, const char *label, int now, int wanted)
{
    if (now == wanted) {
        return is_let_go(f);
    }
    if (f->by_keys) {
        return fitter__set_steps(f, label, now, wanted);
    }
    view_rect rect;
    const int part = fitter__find(f, label, 2, &rect) ? wanted : wanted > now ? 1 : 0;
    (void)fitter__click(f, label, part);
    return false;
}

/* Where on its track the value lies; the thumb is 9 units from each end at its ends. */
static view_point on_track(view_rect track, view_range range, float value)
{
    const float share = (value - range.least) / (range.most - range.least);
    return (view_point){track.x + 9.0F + (track.w - 18.0F) * share, track.y + track.h / 2.0F};
}

/* Takes the thumb and moves it to where it reads right. */
static void drag_thumb(view_fitter *f, view_rect track, view_range range, float now, float wanted)
{
    fitter__hold_at(f, on_track(track, range, f->in.down[VIEW_MOUSE_LEFT] ? wanted : now));
}

bool fitter__set_slider(view_fitter *f, const char *label, view_range range, float now, float wanted)
{
    const float step = range.step > 0.0F ? range.step : (range.most - range.least) / 50.0F;
    const float to = range.least + roundf((wanted - range.least) / step) * step;
    if (fabsf(now - to) < 0.5F * step) {
        return is_let_go(f);
    }
    if (f->by_keys) {
        if (fitter__focus(f, label)) {
            const bool is_far = fabsf(to - now) >= 10.0F * step;
            arrow(f, to > now ? (is_far ? VIEW_KEY_PAGE_UP : VIEW_KEY_RIGHT)
                              : (is_far ? VIEW_KEY_PAGE_DOWN : VIEW_KEY_LEFT));
        }
        return false;
    }
    view_rect track;
    if (fitter__find(f, label, 0, &track)) {
        drag_thumb(f, track, range, now, to);
    } else {
        look_for(f);
    }
    return false;
}

/* ---- holding ---------------------------------------------------------------------------------------------------- */

bool fitter__is_holding(view_fitter *f)
{
    const bool is_down = is_anything_down(f);
    f->down_s += is_down ? f->dt_s : 0.0F;
    return is_down;
}

void fitter__hold(view_fitter *f, const char *word_key, char letter)
{
    view_rect rect;
    if (f->by_keys) {
        fitter__key(f, letter);
    } else if (fitter__find(f, fitter__word(f, word_key), 0, &rect)) {
        fitter__hold_at(f, landing(f, rect));
    } else {
        look_for(f);
    }
}
