/* Parts of wood and steel, drawn as on a fine technical plate: sheen, threads of the right hand, grain, section cuts.
 */
#include "pic.h"

#include <math.h>

view__axis view__axis_of(float x, float y, double angle_rad, float k)
{
    return (view__axis){x, y, (float)cos(angle_rad), (float)sin(angle_rad), k};
}

view_point view__at(const view__axis *axis, double s_m, double t_m)
{
    const float s = (float)s_m * axis->k;
    const float t = (float)t_m * axis->k;
    return (view_point){axis->x + s * axis->along_x - t * axis->along_y,
                        axis->y + s * axis->along_y + t * axis->along_x};
}

view__steel view__steel_of(const view__board *board)
{
    const view_theme *theme = board->pen.theme;
    return (view__steel){theme->steel, theme->steel_light, theme->steel_dark};
}

/* Polished parts that move: a little lighter than those that stand. */
view__steel view__bright_of(const view__board *board)
{
    const view_theme *theme = board->pen.theme;
    return (view__steel){view_mix(theme->steel, theme->steel_light, 0.35F),
                         view_mix(theme->steel_light, theme->panel, 0.5F), theme->steel_dark};
}

/* The sheen runs across the part: top to bottom for a part that lies. */
static bool lies(const view__axis *axis)
{
    return fabsf(axis->along_x) >= fabsf(axis->along_y);
}

static void closed(const view__board *board, const view_point *points, size_t count, view_color color)
{
    view_stroke_poly(board->pen.draw, points, count, 1.0F, 0.0F, color);
    view_stroke_line(board->pen.draw, points[count - 1].x, points[count - 1].y, points[0].x, points[0].y, 1.0F, color);
}

void view__rod(const view__board *board, const view__axis *axis, double s0, double s1, double r0, double r1,
               view__steel steel)
{
    const view_point corner[4] = {view__at(axis, s0, -r0), view__at(axis, s1, -r1), view__at(axis, s1, r1),
                                  view__at(axis, s0, r0)};
    view_fill_sheen(board->pen.draw, corner, 4, lies(axis), steel.edge, steel.middle);
    closed(board, corner, 4, steel.line);
}

void view__hidden(const view__board *board, const view__axis *axis, double s0, double s1, double radius)
{
    const view_point corner[4] = {view__at(axis, s0, -radius), view__at(axis, s1, -radius), view__at(axis, s1, radius),
                                  view__at(axis, s0, radius)};
    view_stroke_poly(board->pen.draw, corner, 4, 1.0F, 4.0F, view_fade(board->pen.theme->ink, 0.55F));
}

/* ---- threads ---------------------------------------------------------------------------------------------------- */

enum { MAX_CRESTS = 64 };

/* Fewer, coarser crests where the pitch would fall under what a screen can show; the hand stays right. */
static double shown_pitch(const view__axis *axis, const view__thread *thread)
{
    double pitch = thread->pitch_m;
    while (pitch * (double)axis->k < 2.6) {
        pitch *= 2.0;
    }
    return pitch;
}

/* Both jagged edges as one polygon: a crest at s on one side stands opposite a root on the other. */
static size_t profile(const view__axis *axis, double s0, double s1, const view__thread *thread, double pitch,
                      double phase, view_point *out)
{
    size_t count = 0;
    const int half_count = 2 * MAX_CRESTS;
    const double start = s0 - phase * pitch;
    for (int side = -1; side <= 1; side += 2) {
        for (int j = 0; j <= half_count; j++) {
            const int step = side < 0 ? j : half_count - j;
            const double s = start + 0.5 * pitch * (double)step;
            if (s < s0 - 1e-12 || s > s1 + 1e-12) {
                continue;
            }
            const bool is_crest = (step % 2 == 0) == (side < 0);
            out[count++] = view__at(axis, s, 0.5 * (double)side * (is_crest ? thread->major_m : thread->minor_m));
        }
    }
    return count;
}

/* The crests seen from the front. A right-hand thread on an axis that lies falls from upper left to lower right,
 * whichever way it points. All crests are one line that goes there and back along the edges, so that a stud costs one
 * stroke. */
static void crests(const view__board *board, const view__axis *axis, double s0, double s1, const view__thread *thread,
                   double pitch, double phase, view_color line)
{
    view_point path[2 * MAX_CRESTS];
    size_t count = 0;
    const double radius = 0.5 * thread->major_m;
    for (int j = 0; j < MAX_CRESTS; j++) {
        const double top = s0 + pitch * ((double)j - phase);
        const double foot = top + 0.5 * pitch * (double)thread->hand;
        if (fmin(top, foot) < s0 - 1e-12 || fmax(top, foot) > s1 + 1e-12) {
            continue;
        }
        const view_point upper = view__at(axis, top, -radius);
        const view_point lower = view__at(axis, foot, radius);
        const bool is_even = count % 4 == 0;
        path[count++] = is_even ? upper : lower;
        path[count++] = is_even ? lower : upper;
    }
    if (count >= 2) {
        view_stroke_poly(board->pen.draw, path, count, 1.0F, 0.0F, view_fade(line, 0.8F));
    }
}

void view__threaded(const view__board *board, const view__axis *axis, double s0, double s1, view__thread thread,
                    view__steel steel)
{
    if (s1 - s0 < 1e-5) {
        return;
    }
    const double pitch = fmax(shown_pitch(axis, &thread), (s1 - s0) / (double)(MAX_CRESTS - 2));
    const double phase = thread.turn - floor(thread.turn);
    thread.hand = view_is_mirrored(board->pen.draw) ? -thread.hand : thread.hand; /* the mirror turns it back */
    view_point outline[4 * MAX_CRESTS + 4];
    const size_t count = profile(axis, s0, s1, &thread, pitch, phase, outline);
    if (count >= 4) {
        view_fill_sheen(board->pen.draw, outline, count, lies(axis), steel.edge, steel.middle);
        view_stroke_poly(board->pen.draw, outline, count, 0.8F, 0.0F, steel.line);
    }
    crests(board, axis, s0, s1, &thread, pitch, phase, steel.line);
}

view__thread view__thread_of(const mech_thread *thread, int hand, double turn)
{
    /* Depth of the basic thread, ISO 68-1 / ASME B1.1 (values.md 4.1): D1 = d - 1.0825 P. */
    return (view__thread){thread->major_m, thread->major_m - 1.0825 * thread->pitch_m, thread->pitch_m, hand, turn};
}

/* ---- strand ----------------------------------------------------------------------------------------------------- */

void view__strand(const view__board *board, const view__axis *axis, double s0, double s1, double diameter_m,
                  double twist, double turn)
{
    if (s1 - s0 < 1e-5) {
        return;
    }
    const double radius = 0.5 * diameter_m;
    const view_theme *theme = board->pen.theme;
    const view__steel steel = {view_mix(theme->cable, theme->steel, 0.4F), theme->steel_light, theme->cable};
    view__rod(board, axis, s0, s1, radius, radius, steel);
    /* 12 outer wires on a lay of ten diameters (common practice); winding up shortens the lay. */
    const double lay = 10.0 * diameter_m / (1.0 + fmax(twist, -0.5));
    const double wire = fmax(lay / 12.0, 3.0 / (double)axis->k);
    const double half = 0.5 * lay;
    const int count = (int)((s1 - s0 + half) / wire) + 1;
    const double across = view_is_mirrored(board->pen.draw) ? -radius : radius; /* the lay stays what it is */
    const double roll = (turn - floor(turn)) * wire;
    for (int j = 0; j <= count && j < 160; j++) {
        const double top = s0 - half + wire * (double)j + roll;
        const double from = fmax(top, s0);
        const double to = fmin(top + half, s1);
        if (to - from < 0.02 * half) {
            continue;
        }
        const view_point a = view__at(axis, from, across * (2.0 * (from - top) / half - 1.0));
        const view_point b = view__at(axis, to, across * (2.0 * (to - top) / half - 1.0));
        view_stroke_line(board->pen.draw, a.x, a.y, b.x, b.y, 0.8F, view_fade(theme->cable, 0.7F));
    }
}

/* ---- wood ------------------------------------------------------------------------------------------------------- */

/* Growth rings cut along the grain: upright lines, close where growth was slow, each a little wavy. */
static void grain(const view__board *board, view_rect rect, float pace, view_color color)
{
    view_clip_push(board->pen.draw, rect);
    float x = rect.x + pace * 0.4F;
    for (int ring = 0; x < rect.x + rect.w && ring < 60; ring++) {
        const float wave = pace * 0.12F * sinf(1.7F * (float)ring);
        const view_point line[4] = {{x, rect.y},
                                    {x + wave, rect.y + rect.h * 0.35F},
                                    {x - wave * 0.6F, rect.y + rect.h * 0.7F},
                                    {x + wave * 0.4F, rect.y + rect.h}};
        view_stroke_curve(board->pen.draw, line, 4, ring % 3 == 0 ? 1.4F : 0.8F, color);
        x += pace * (1.0F + 0.45F * sinf(2.3F * (float)ring));
    }
    view_clip_pop(board->pen.draw);
}

void view__wood_cut(const view__board *board, view_rect rect)
{
    const view_theme *theme = board->pen.theme;
    view_fill_rect(board->pen.draw, rect, 0.0F, theme->wood_cut);
    grain(board, rect, fmaxf(rect.w / 16.0F, 7.0F), view_fade(theme->wood_dark, 0.45F));
    view_stroke_rect(board->pen.draw, rect, 0.0F, 1.2F, theme->wood_dark);
}

void view__wood_face(const view__board *board, view_rect rect)
{
    const view_theme *theme = board->pen.theme;
    view_fill_rect(board->pen.draw, rect, 0.0F, theme->wood);
    grain(board, rect, fmaxf(rect.w / 11.0F, 9.0F), view_fade(theme->wood_dark, 0.35F));
    view_stroke_rect(board->pen.draw, rect, 0.0F, 1.2F, theme->wood_dark);
}

void view__break_line(const view__board *board, float x, float y0, float y1, float width, view_color ground)
{
    view_draw *draw = board->pen.draw;
    const float middle = (y0 + y1) / 2.0F;
    const float jag = fminf(8.0F, (y1 - y0) / 8.0F);
    view_point edge[2][6];
    for (int side = 0; side < 2; side++) {
        const float at = side == 0 ? x : x + width;
        edge[side][0] = (view_point){at, y0};
        edge[side][1] = (view_point){at, middle - jag * 1.5F};
        edge[side][2] = (view_point){at + jag, middle - jag * 0.5F};
        edge[side][3] = (view_point){at - jag, middle + jag * 0.5F};
        edge[side][4] = (view_point){at, middle + jag * 1.5F};
        edge[side][5] = (view_point){at, y1};
    }
    view_point gap[12];
    for (int j = 0; j < 6; j++) {
        gap[j] = edge[0][j];
        gap[11 - j] = edge[1][j];
    }
    view_fill_poly(draw, gap, 12, ground);
    view_stroke_poly(draw, edge[0], 6, 1.0F, 0.0F, board->pen.theme->ink_soft);
    view_stroke_poly(draw, edge[1], 6, 1.0F, 0.0F, board->pen.theme->ink_soft);
}

void view__bore(const view__board *board, const view__axis *axis, double depth_m, double diameter_m)
{
    if (depth_m <= 0.0) {
        return;
    }
    const view_theme *theme = board->pen.theme;
    const double r = 0.5 * diameter_m;
    const double tip = r / tan(59.0 * TR_PI / 180.0); /* 118 degree point */
    const double foot = fmax(depth_m - tip, 0.0);
    const view_point hole[5] = {view__at(axis, 0.0, -r), view__at(axis, foot, -r),
                                view__at(axis, fmax(depth_m, tip * 0.2), 0.0), view__at(axis, foot, r),
                                view__at(axis, 0.0, r)};
    view_fill_poly(board->pen.draw, hole, 5, view_mix(theme->wood_dark, theme->ink, 0.35F));
    view_stroke_poly(board->pen.draw, hole, 5, 1.0F, 0.0F, theme->ink);
}

/* ---- fittings --------------------------------------------------------------------------------------------------- */

view__sizes view__sizes_of(const job_setup *setup)
{
    const mech_turnbuckle *t = &setup->turnbuckle;
    const double major = fmax(t->anchor.major_m, t->cable.major_m);
    view__sizes sizes;
    sizes.body_len = t->body_m;
    sizes.body_r = 0.95 * major;
    sizes.barrel_len = setup->crimp.bore_m + 0.010; /* a solid neck for the pliers */
    sizes.stud_thread = 0.55 * t->body_m;
    sizes.anchor_len = 0.55 * t->body_m;
    sizes.flange_r = 0.5 * setup->insert.major_m + 0.0025;
    return sizes;
}

void view__insert(const view__board *board, const view__axis *axis, double s0, const mech_insert *insert, double turn)
{
    const view_theme *theme = board->pen.theme;
    const view__steel brass = {view_mix(theme->wood_dark, theme->steel, 0.55F),
                               view_mix(theme->wood_light, theme->steel_light, 0.5F), theme->steel_dark};
    const double flange = 0.002;
    const view__thread wood_thread = {insert->major_m, insert->minor_m, 0.0032, 1, turn};
    view__rod(board, axis, s0 + flange, s0 + insert->length_m, 0.5 * insert->minor_m, 0.5 * insert->minor_m, brass);
    view__threaded(board, axis, s0 + flange + 0.001, s0 + insert->length_m - 0.001, wood_thread, brass);
    view__rod(board, axis, s0, s0 + flange, 0.5 * insert->major_m + 0.0025, 0.5 * insert->major_m + 0.0025, brass);
    view__hidden(board, axis, s0, s0 + insert->length_m * 0.85, 0.3 * insert->minor_m);
}

/* Section hatching of a wall from t0 to t1: one line there and back, so that it costs one stroke. */
static void hatch(const view__board *board, const view__axis *axis, double s0, double s1, double t0, double t1,
                  view_color color)
{
    view_point path[2 * MAX_CRESTS];
    size_t count = 0;
    const double lean = fabs(t1 - t0);
    const double pace = fmax(6.0 / (double)axis->k, (s1 - s0 + lean) / (double)(MAX_CRESTS - 1));
    const int lines = (int)fmin((s1 - s0 + lean) / pace, (double)(MAX_CRESTS - 1));
    for (int line = 0; line < lines; line++) {
        const double s = s0 - lean + pace * (0.5 + (double)line);
        const double from = fmax(s, s0);
        const double to = fmin(s + lean, s1);
        const view_point a = view__at(axis, from, t0 + (t1 - t0) * (from - s) / lean);
        const view_point b = view__at(axis, to, t0 + (t1 - t0) * (to - s) / lean);
        const bool is_even = count % 4 == 0;
        path[count++] = is_even ? a : b;
        path[count++] = is_even ? b : a;
    }
    if (count >= 2) {
        view_stroke_poly(board->pen.draw, path, count, 0.8F, 0.0F, color);
    }
}

void view__body(const view__board *board, const view__axis *axis, double s0, double s1, double radius, bool is_cutaway)
{
    const view__steel steel = view__steel_of(board);
    const double chamfer = 0.25 * radius;
    if (is_cutaway) {
        /* Only the walls: above and below what is inside. */
        for (int side = -1; side <= 1; side += 2) {
            const view_point wall[4] = {
                view__at(axis, s0, (double)side * radius), view__at(axis, s1, (double)side * radius),
                view__at(axis, s1, (double)side * radius * 0.56), view__at(axis, s0, (double)side * radius * 0.56)};
            view_fill_poly(board->pen.draw, wall, 4, view_mix(steel.edge, steel.middle, 0.35F));
            hatch(board, axis, s0, s1, side < 0 ? -radius : 0.56 * radius, side < 0 ? -0.56 * radius : radius,
                  view_fade(steel.line, 0.8F));
            closed(board, wall, 4, steel.line);
        }
    } else {
        view__rod(board, axis, s0, s0 + chamfer, radius * 0.85, radius, steel);
        view__rod(board, axis, s1 - chamfer, s1, radius, radius * 0.85, steel);
        view__rod(board, axis, s0 + chamfer, s1 - chamfer, radius, radius, steel);
    }
    const double ring = s1 - 0.9 * radius;
    for (int groove = 0; groove < 2; groove++) {
        const double s = ring - 0.22 * radius * (double)groove;
        const view_point a = view__at(axis, s, -radius);
        const view_point b = view__at(axis, s, is_cutaway ? -radius * 0.56 : radius);
        view_stroke_line(board->pen.draw, a.x, a.y, b.x, b.y, 1.6F, board->pen.theme->ink);
    }
}

/* One squeeze leaves a flat as long as the die; seen square to it narrower, seen along it slightly wider (ears). */
static void squeezed(const view__board *board, const view__axis *axis, double mouth, const job_setup *setup,
                     const mech_squeeze *squeeze)
{
    const mech_crimp_kind *kind = &setup->crimp;
    const double across = kind->barrel_m - (kind->barrel_m - kind->crimped_m) * squeeze->closing;
    const double seen = fabs(cos(squeeze->angle_rad));
    const double r = 0.5 * (across * seen + kind->barrel_m * 1.04 * (1.0 - seen));
    const double middle = mouth - squeeze->position_m;
    const view__steel steel = {board->pen.theme->steel_dark, board->pen.theme->steel, board->pen.theme->ink};
    view__rod(board, axis, middle - 0.5 * kind->die_m, middle + 0.5 * kind->die_m, r, r,
              seen > 0.5 ? steel : view__steel_of(board));
}

double view__crimp_stud(const view__board *board, const view__axis *axis, double s0, const job_setup *setup,
                        const mech_crimp *crimp, double turn)
{
    const view__sizes sizes = view__sizes_of(setup);
    const view__steel steel = view__bright_of(board);
    const double shank = s0 + sizes.stud_thread;
    const double mouth = shank + sizes.barrel_len;
    const double r = 0.5 * setup->crimp.barrel_m;
    view__threaded(board, axis, s0, shank, view__thread_of(&setup->turnbuckle.cable, -1, turn), steel);
    view__rod(board, axis, shank, mouth, r, r, steel);
    for (int i = 0; i < crimp->squeeze_count && i < MECH_MAX_SQUEEZES; i++) {
        squeezed(board, axis, mouth, setup, &crimp->squeeze[i]);
    }
    return mouth;
}
