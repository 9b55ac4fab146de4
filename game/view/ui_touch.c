/* A finger: what it means to press where it is not quite on it, when it drags a list instead of pressing, and when it is held
 * still to be told what lies under it. */
#include "tautrow/view/ui.h"

#include "ui_keep.h"

#include <math.h>

/* Assumptions: a finger trembles so far, and is held still for so long by somebody who wants to be told. */
static const float TREMBLE = 9.0F;
/* A target that is large both ways yields to a small one that lies on it or beside it. */
static const float WIDE = 3.0F * VIEW_TOUCH;

static bool is_finger(const view_ui *ui)
{
    return ui->input->device == VIEW_BY_FINGER;
}

static float outside(float at, float from, float size)
{
    return fmaxf(0.0F, fmaxf(from - at, at - from - size));
}

float view__way_of_hit(const view_ui *ui, view_rect rect)
{
    const view_input *in = ui->input;
    const view_rect clip = ui->keep->clip[ui->keep->clips];
    if (view__is_over(ui, rect)) {
        return is_finger(ui) && fminf(rect.w, rect.h) >= WIDE ? VIEW_TOUCH / 2.0F : 0.0F;
    }
    const bool is_seen = view_rect_has(clip, in->mouse_x, in->mouse_y) && view__is_lit(ui, in->mouse_x, in->mouse_y);
    if (!is_finger(ui) || !in->has_mouse || !view__is_on_top(ui) || !is_seen) {
        return -1.0F;
    }
    const float x = outside(in->mouse_x, rect.x, rect.w);
    const float y = outside(in->mouse_y, rect.y, rect.h);
    const bool is_near = x <= fmaxf(0.0F, VIEW_TOUCH - rect.w) / 2.0F && y <= fmaxf(0.0F, VIEW_TOUCH - rect.h) / 2.0F;
    return is_near ? fmaxf(x, y) : -1.0F;
}

void view__finger_begin(view_ui *ui)
{
    struct view_ui_keep *keep = ui->keep;
    const view_input *in = ui->input;
    keep->finger.hit = VIEW_TOUCH;
    if (!is_finger(ui)) {
        keep->finger.has_told = keep->finger.has_moved = false;
        keep->finger.scrolls = 0;
        return;
    }
    if (in->pressed[VIEW_MOUSE_LEFT]) { /* where the pointer was before is no movement of this finger */
        keep->mouse_dy = 0.0F;
        keep->finger.from_x = in->mouse_x;
        keep->finger.from_y = in->mouse_y;
        keep->finger.from_s = ui->time_s;
        keep->finger.has_moved = keep->finger.is_kept = keep->finger.has_told = false;
        keep->finger.scrolls = 0;
    }
    const float way = hypotf(in->mouse_x - keep->finger.from_x, in->mouse_y - keep->finger.from_y);
    keep->finger.has_moved = keep->finger.has_moved || way > TREMBLE;
}

void view__keep_finger(view_ui *ui, view_id id)
{
    ui->keep->finger.is_kept = ui->keep->finger.is_kept || (ui->active == id && ui->active != 0);
}

bool view__finger_waits(const view_ui *ui)
{
    return is_finger(ui) && fabsf(ui->input->mouse_x - ui->keep->finger.from_x) <= TREMBLE && !ui->keep->finger.is_kept;
}

/* The innermost area with more to show takes the finger; once it is dragged, what was pressed is not pressed any more. */
float view_finger_drag(view_ui *ui, view_id area, view_rect port, bool has_more)
{
    struct view_ui_keep *keep = ui->keep;
    const view_input *in = ui->input;
    if (!is_finger(ui) || !has_more) {
        return 0.0F;
    }
    if (in->pressed[VIEW_MOUSE_LEFT]) {
        keep->finger.scrolls = keep->finger.scrolls == 0 && view__is_over(ui, port) ? area : keep->finger.scrolls;
        return 0.0F;
    }
    const bool is_mine = keep->finger.scrolls == area && in->down[VIEW_MOUSE_LEFT] && !keep->finger.is_kept;
    if (!is_mine || !keep->finger.has_moved) {
        return 0.0F;
    }
    keep->finger.has_told = true;
    ui->active = area;
    return keep->mouse_dy;
}
