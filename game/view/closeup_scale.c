/* The spring scale that the cable is pulled with: hooked to its end, a coil that draws out, a pointer in a slot, and the
 * hand's ring. The harder the pull, the longer the spring. */
#include "pic.h"

#include <math.h>

enum { COILS = 9 };

/* Length drawn out at the asked pull, as a share of the case. */
static const double DRAW = 0.34;

static void coil(const view__board *board, const view__axis *axis, double s0, double s1, double r)
{
    view_point line[2 * COILS + 1];
    for (int i = 0; i <= 2 * COILS; i++) {
        line[i] = view__at(axis, s0 + (s1 - s0) * (double)i / (2.0 * COILS), i % 2 == 0 ? -r : r);
    }
    view_stroke_poly(board->pen.draw, line, 2 * COILS + 1, 1.4F, 0.0F, board->pen.theme->steel_dark);
}

static void case_of(const view__board *board, const view__axis *axis, double s0, double s1, double r)
{
    const view_theme *theme = board->pen.theme;
    view__rod(board, axis, s0, s1, r, r, (view__steel){theme->steel, theme->steel_light, theme->steel_dark});
    const view_point slot[4] = {
        view__at(axis, s0 + 0.1 * (s1 - s0), -0.55 * r), view__at(axis, s1 - 0.08 * (s1 - s0), -0.55 * r),
        view__at(axis, s1 - 0.08 * (s1 - s0), 0.55 * r), view__at(axis, s0 + 0.1 * (s1 - s0), 0.55 * r)};
    view_fill_poly(board->pen.draw, slot, 4, theme->panel);
}

/* The pull is along s; the asked pull has a longer tick. */
static void ticks(const view__board *board, const view__axis *axis, double zero, double full, double r)
{
    for (int i = 0; i <= 6; i++) {
        const bool is_asked = i == 4;
        const double s = zero + full * (double)i / 4.0;
        const view_point a = view__at(axis, s, -0.95 * r);
        const view_point b = view__at(axis, s, is_asked ? -0.1 * r : -0.6 * r);
        view_stroke_line(board->pen.draw, a.x, a.y, b.x, b.y, is_asked ? 2.0F : 1.0F,
                         is_asked ? board->pen.theme->accent : board->pen.theme->ink_soft);
    }
}

void view__spring_scale(const view__board *board, const view__axis *axis, double length_m, double share)
{
    const view_theme *theme = board->pen.theme;
    const double r = fmin(0.0065, 0.14 * length_m);
    const double body = 0.62 * length_m;
    const double drawn = body * DRAW * fmin(fmax(share, 0.0), 1.6);
    const double hook = 0.12 * length_m;
    /* the rod comes out of the case as the hand goes away with it */
    const double s0 = hook + drawn * 0.45;
    const double s1 = s0 + body;
    const view_point a = view__at(axis, 0.0, 0.0);
    const view_point b = view__at(axis, s0, 0.0);
    view_stroke_line(board->pen.draw, a.x, a.y, b.x, b.y, 2.4F, theme->steel_dark);
    view_stroke_circle(board->pen.draw, a.x, a.y, fmaxf(0.0032F * axis->k, 3.0F), 2.2F, theme->steel_dark);
    case_of(board, axis, s0, s1, r);
    /* fixed at the hand's end, drawn out towards the hook */
    const double fixed = s1 - 0.1 * body;
    const double zero = s0 + 0.16 * body + 1.6 * body * DRAW;
    const double pointer = fmax(zero - drawn, s0 + 0.12 * body);
    coil(board, axis, pointer, fixed, 0.4 * r);
    const view__axis back = {view__at(axis, zero, 0.0).x, view__at(axis, zero, 0.0).y, -axis->along_x, -axis->along_y,
                             axis->k};
    ticks(board, &back, 0.0, body * DRAW, r);
    const view_point top = view__at(axis, pointer, -0.9 * r);
    const view_point foot = view__at(axis, pointer, 0.9 * r);
    view_stroke_line(board->pen.draw, top.x, top.y, foot.x, foot.y, 2.6F, theme->force);
    /* ring and the hand in it */
    const view_point ring = view__at(axis, s1 + 0.09 * length_m, 0.0);
    const float size = fmaxf((float)(0.085 * length_m) * axis->k, 4.0F);
    view_stroke_circle(board->pen.draw, ring.x, ring.y, size, 3.0F, theme->accent);
}
