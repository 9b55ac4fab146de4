/* The spotlight: a few parts of the screen stay bright and answer, all else is dimmed and does not. */
#include "tautrow/view/ui.h"

#include "ui_keep.h"

#include <math.h>

#include "tautrow/base/assert.h"

void view_spot_begin(view_ui *ui, const view_rect lit[], int count)
{
    struct view_ui_keep *keep = ui->keep;
    TR_ASSERT(!keep->has_spot && count >= 0 && count <= VIEW_MAX_SPOTS);
    keep->has_spot = true;
    keep->spots = count;
    for (int i = 0; i < count; i++) {
        keep->spot[i] = lit[i];
    }
}

void view_spot_end(view_ui *ui)
{
    TR_ASSERT(ui->keep->has_spot);
    ui->keep->has_spot = false;
}

bool view__is_lit(const view_ui *ui, float x, float y)
{
    const struct view_ui_keep *keep = ui->keep;
    bool is = !keep->has_spot;
    for (int i = 0; i < keep->spots && !is; i++) {
        is = view_rect_has(keep->spot[i], x, y);
    }
    return is;
}

/* ---- dimming ---------------------------------------------------------------------------------------------------- */

/* The next edge below y of any lit part, or the foot of the screen. */
static float next_edge(const view_rect lit[], int count, float y, float foot)
{
    float next = foot;
    for (int i = 0; i < count; i++) {
        const float ends[2] = {lit[i].y, lit[i].y + lit[i].h};
        for (int k = 0; k < 2; k++) {
            next = ends[k] > y ? fminf(next, ends[k]) : next;
        }
    }
    return next;
}

/* Right end of the lit stretch that x lies in at the height of the band, x itself where it is dark; *to gets the left
 * end of the next lit stretch. */
static float lit_until(const view_rect lit[], int count, float y, float x, float *to)
{
    float until = x;
    for (int i = 0; i < count; i++) {
        const bool is_beside = lit[i].y <= y && lit[i].y + lit[i].h > y;
        if (is_beside && lit[i].x <= x && lit[i].x + lit[i].w > until) {
            until = lit[i].x + lit[i].w;
        } else if (is_beside && lit[i].x > x) {
            *to = fminf(*to, lit[i].x);
        }
    }
    return until;
}

static void dim_band(view_ui *ui, const view_rect lit[], int count, float top, float bottom)
{
    const view_color shade = view_fade(ui->theme->ink, 0.5F);
    float x = 0.0F;
    while (x < ui->screen.w) {
        float to = ui->screen.w;
        const float until = lit_until(lit, count, top, x, &to);
        if (until > x) {
            x = until;
            continue;
        }
        view_fill_rect(ui->draw, (view_rect){x, top, to - x, bottom - top}, 0.0F, shade);
        x = to;
    }
}

/* On whole units, so that the bands meet without a seam. */
static view_rect whole(view_rect rect)
{
    const float x = roundf(rect.x);
    const float y = roundf(rect.y);
    return (view_rect){x, y, roundf(rect.x + rect.w) - x, roundf(rect.y + rect.h) - y};
}

void view_spot_dim(view_ui *ui, const view_rect lit[], int count)
{
    view_rect hole[VIEW_MAX_SPOTS];
    TR_ASSERT(count >= 0 && count <= VIEW_MAX_SPOTS);
    for (int i = 0; i < count; i++) {
        hole[i] = whole(lit[i]);
    }
    for (float y = 0.0F; y < ui->screen.h;) {
        const float next = next_edge(hole, count, y, ui->screen.h);
        dim_band(ui, hole, count, y, next);
        y = next;
    }
    for (int i = 0; i < count; i++) {
        view_stroke_rect(ui->draw, hole[i], VIEW_RADIUS, 3.0F, ui->theme->accent);
    }
}
