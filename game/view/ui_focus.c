/* Where the focus goes: round by Tab, inside a group by the arrow keys, and by the controller's cross to what lies on that
 * side. */
#include "tautrow/view/ui.h"

#include "ui_keep.h"

#include <math.h>

/* ---- by Tab and by arrows ------------------------------------------------------------------------------------ */

const view__stop *view__stop_of(const view_ui *ui, view_id id)
{
    for (size_t i = 0; i < ui->keep->stops; i++) {
        if (ui->keep->stop[i].id == id && ui->keep->stop[i].layer == ui->keep->top_layer) {
            return &ui->keep->stop[i];
        }
    }
    return NULL;
}

/* Moves the scroll area around a stop so that it is seen, with a little air. */
static void scroll_to(view_ui *ui, const view__stop *stop)
{
    if (stop->scroll == 0) {
        return;
    }
    const float air = VIEW_GAP_2;
    const float above = stop->port.y + air - stop->rect.y;
    const float below = stop->rect.y + stop->rect.h + air - (stop->port.y + stop->port.h);
    view__slot *slot = view__slot_of(ui, stop->scroll);
    if (above > 0.0F) {
        slot->v[0] = fmaxf(0.0F, slot->v[0] - above);
    } else if (below > 0.0F) {
        slot->v[0] += fminf(below, -above);
    }
}

static void focus_stop(view_ui *ui, const view__stop *stop)
{
    view_focus(ui, stop->id);
    scroll_to(ui, stop);
    ui->wants_frame = true;
}

/* The member of stop's group that Tab lands on: the preferred one, else the first. */
static const view__stop *entry_of(const view_ui *ui, const view__stop *stop)
{
    const view__stop *first = NULL;
    for (size_t i = 0; i < ui->keep->stops && stop->group != 0; i++) {
        const view__stop *other = &ui->keep->stop[i];
        if (other->group != stop->group || other->layer != stop->layer) {
            continue;
        }
        if (other->is_preferred) {
            return other;
        }
        first = first != NULL ? first : other;
    }
    return first != NULL ? first : stop;
}

static void tab(view_ui *ui, int step)
{
    const struct view_ui_keep *keep = ui->keep;
    const view__stop *from = view__stop_of(ui, ui->focus);
    const int count = (int)keep->stops;
    int at = from != NULL ? (int)(from - keep->stop) : step > 0 ? -1 : count;
    for (int tried = 0; tried < count; tried++) {
        at = (at + step + count) % count;
        const view__stop *stop = &keep->stop[at];
        const bool is_same_group = from != NULL && from->group != 0 && stop->group == from->group;
        if (stop->layer == keep->top_layer && !is_same_group) {
            focus_stop(ui, entry_of(ui, stop));
            return;
        }
    }
}

static void move_in_group(view_ui *ui, int step)
{
    const struct view_ui_keep *keep = ui->keep;
    const view__stop *from = view__stop_of(ui, ui->focus);
    const view__stop *end = keep->stop + keep->stops;
    if (from == NULL || from->group == 0 || step == 0) {
        return;
    }
    for (const view__stop *stop = from + step; stop >= keep->stop && stop < end; stop += step) {
        if (stop->group == from->group && stop->layer == from->layer) {
            focus_stop(ui, stop);
            return;
        }
    }
}

/* Down and right go on, up and left go back. */
static int group_step(view_ui *ui)
{
    int step = 0;
    while (view_key_take(ui, VIEW_KEY_DOWN, 0) || view_key_take(ui, VIEW_KEY_RIGHT, 0)) {
        step = 1;
    }
    while (view_key_take(ui, VIEW_KEY_UP, 0) || view_key_take(ui, VIEW_KEY_LEFT, 0)) {
        step = -1;
    }
    return step;
}

/* ---- by the cross -------------------------------------------------------------------------------------------- */

typedef struct span {
    float from, to;
} span;

static span along_x(view_rect rect)
{
    return (span){rect.x, rect.x + rect.w};
}

static span along_y(view_rect rect)
{
    return (span){rect.y, rect.y + rect.h};
}

static float middle(span s)
{
    return (s.from + s.to) / 2.0F;
}

static float gap_between(span a, span b)
{
    return fmaxf(0.0F, fmaxf(b.from - a.to, a.from - b.to));
}

/* More than a screen: stops that stand aside are asked last. */
static const float ASIDE = 10000.0F;

/* What can be seen of a stop: one that is scrolled away lies flat at the edge behind which it is. */
static view_rect seen(const view__stop *stop)
{
    if (stop->scroll == 0) {
        return stop->rect;
    }
    const float top = stop->port.y;
    const float foot = stop->port.y + stop->port.h;
    const float y0 = fminf(fmaxf(stop->rect.y, top), foot);
    const float y1 = fminf(fmaxf(stop->rect.y + stop->rect.h, top), foot);
    return (view_rect){stop->rect.x, y0, stop->rect.w, y1 - y0};
}

/* How far off a stop lies in a direction; below 0 = not on that side. What stands straight ahead comes before whatever stands
 * aside, and the next one of a scrolled column before what lies beyond the column. */
static float way_to(const view__stop *from, const view__stop *to, int key)
{
    const bool is_upright = key == VIEW_PAD_UP || key == VIEW_PAD_DOWN;
    const float sign = key == VIEW_PAD_RIGHT || key == VIEW_PAD_DOWN ? 1.0F : -1.0F;
    const bool is_same_area = from->scroll != 0 && from->scroll == to->scroll;
    const view_rect a = is_same_area ? from->rect : seen(from);
    const view_rect b = is_same_area ? to->rect : seen(to);
    const span ax = along_x(a);
    const span bx = along_x(b);
    const span ay = along_y(a);
    const span by = along_y(b);
    const float ahead = sign * (is_upright ? middle(by) - middle(ay) : middle(bx) - middle(ax));
    const float gap = is_upright ? gap_between(ay, by) : gap_between(ax, bx);
    const float aside = is_upright ? gap_between(ax, bx) : gap_between(ay, by);
    if (ahead <= 1.0F) {
        return -1.0F;
    }
    const float share = is_same_area && is_upright && aside <= 0.0F ? 0.0F : 1.0F;
    const float off = is_upright ? fabsf(middle(bx) - middle(ax)) : fabsf(middle(by) - middle(ay));
    return share * gap + 0.05F * ahead + 0.02F * off + (aside > 0.0F ? ASIDE + 3.0F * aside : 0.0F);
}

view_id view__beside(const view_ui *ui, view_id id, int key)
{
    const struct view_ui_keep *keep = ui->keep;
    const view__stop *from = view__stop_of(ui, id);
    const view__stop *best = NULL;
    float least = 0.0F;
    const bool is_sideways = key == VIEW_PAD_LEFT || key == VIEW_PAD_RIGHT;
    if (from == NULL || (from->is_value && is_sideways)) {
        return 0;
    }
    for (size_t i = 0; i < keep->stops; i++) {
        const view__stop *stop = &keep->stop[i];
        const float way = stop->layer == keep->top_layer ? way_to(from, stop, key) : -1.0F;
        if (way >= 0.0F && (best == NULL || way < least)) {
            best = stop;
            least = way;
        }
    }
    return best != NULL ? best->id : 0;
}

static void go(view_ui *ui, int key)
{
    const view__stop *stop = view__stop_of(ui, view__beside(ui, ui->focus, key));
    if (stop != NULL) {
        focus_stop(ui, stop);
    }
}

/* A controller always has something under its hand: where the focus is nowhere, the main thing of the screen. */
static void find_start(view_ui *ui)
{
    const view__stop *start = NULL;
    for (size_t i = 0; i < ui->keep->stops; i++) {
        const view__stop *stop = &ui->keep->stop[i];
        if (stop->layer == ui->keep->top_layer && (start == NULL || (stop->is_primary && !start->is_primary))) {
            start = stop;
        }
    }
    if (start != NULL) {
        focus_stop(ui, start);
    }
}

static void move_by_cross(view_ui *ui)
{
    if (view__stop_of(ui, ui->focus) == NULL) {
        find_start(ui);
        return;
    }
    for (int key = VIEW_PAD_LEFT; key <= VIEW_PAD_DOWN; key++) {
        while (view_key_take(ui, key, 0)) {
            go(ui, key);
        }
    }
}

/* ---- all of it ----------------------------------------------------------------------------------------------- */

void view__move_focus(view_ui *ui)
{
    ui->keep->layer = ui->keep->top_layer; /* keys nobody took are ours */
    while (view_key_take(ui, VIEW_KEY_TAB, 0)) {
        tab(ui, 1);
    }
    while (view_key_take(ui, VIEW_KEY_TAB, VIEW_SHIFT)) {
        tab(ui, -1);
    }
    const view__stop *at = view__stop_of(ui, ui->focus);
    if (at != NULL && at->group != 0) {
        move_in_group(ui, group_step(ui));
    }
    if (ui->input->device == VIEW_BY_PAD) {
        move_by_cross(ui);
    }
}
