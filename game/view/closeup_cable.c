/* Close-ups of the cable's end: pulled, marked and cut; pushed home and crimped. */
#include "pic.h"

#include <math.h>

#include "tautrow/base/text.h"

/* ---- cut -------------------------------------------------------------------------------------------------------- */

typedef struct cut_view {
    float k;
    float face_x, y_fit, y_cable;
    double body0, mouth, bore_end; /* along the fitting, from the face */
} cut_view;

static cut_view cut_place(const view__board *board, const job_setup *setup, const job_row *work)
{
    const view__sizes sizes = view__sizes_of(setup);
    const mech_turnbuckle *t = &setup->turnbuckle;
    cut_view at;
    const view_rect area = board->area;
    const float length =
        (float)(0.018 + sizes.anchor_len * 0.8 + t->body_m + sizes.stud_thread * 0.8 + sizes.barrel_len + 0.075);
    at.k = fminf(area.w / length, area.h / 0.085F);
    at.face_x = area.x + 0.018F * at.k;
    at.y_fit = area.y + area.h * 0.36F;
    at.y_cable = at.y_fit + fmaxf(0.020F * at.k, board->pen.text * 2.2F);
    at.body0 = fmax(sizes.anchor_len - work->engaged.anchor_turns * t->anchor.pitch_m, 0.004);
    at.mouth = at.body0 + t->body_m + fmax(sizes.stud_thread - work->engaged.cable_turns * t->cable.pitch_m, 0.004) +
               sizes.barrel_len;
    at.bore_end = at.mouth - setup->crimp.bore_m;
    return at;
}

static void fitting_above(const view__board *board, const cut_view *at, const job_setup *setup, const job_row *work)
{
    const mech_turnbuckle *t = &setup->turnbuckle;
    const view__axis axis = view__axis_of(at->face_x, at->y_fit, 0.0, at->k);
    const view_rect wood = {board->area.x, board->area.y + 4.0F, at->face_x - board->area.x, board->area.h - 8.0F};
    const mech_crimp none = {0};
    view__wood_cut(board, wood);
    view__threaded(board, &axis, 0.0, at->body0 + work->engaged.anchor_turns * t->anchor.pitch_m,
                   view__thread_of(&t->anchor, 1, 0.0), view__bright_of(board));
    (void)view__crimp_stud(board, &axis,
                           at->mouth - view__sizes_of(setup).barrel_len - view__sizes_of(setup).stud_thread, setup,
                           &none, 0.0);
    view__body(board, &axis, at->body0, at->body0 + t->body_m, view__sizes_of(setup).body_r, false);
    view__hidden(board, &axis, at->bore_end, at->mouth, 0.5 * setup->structure.strand.diameter_m);
}

/* The cable runs in from the right; with little pull it hangs, with the tag end past the mark. */
static void cable_below(const view__board *board, const cut_view *at, const job_setup *setup, double pull_n,
                        double from, double tag_end)
{
    const view_theme *theme = board->pen.theme;
    const double share = fmin(pull_n / fmax(setup->hand_pull_n, 1.0), 1.5);
    const view__axis axis = view__axis_of(at->face_x, at->y_cable, 0.0, at->k);
    const double right = ((double)(board->area.x + board->area.w) - (double)at->face_x) / (double)at->k;
    const double drop = 0.016 * fmax(1.0 - share, 0.0);
    if (drop < 0.0006) {
        view__strand(board, &axis, tag_end, right, setup->structure.strand.diameter_m, 0.0, 0.0);
        return;
    }
    view_point line[9];
    for (int i = 0; i < 9; i++) {
        const double t = (double)i / 8.0;
        line[i] = view__at(&axis, from + (right - from) * t, 2.2 * drop * t * t);
    }
    const float width = (float)setup->structure.strand.diameter_m * at->k;
    view_stroke_curve(board->pen.draw, line, 9, width, theme->cable);
    view_stroke_curve(board->pen.draw, line, 9, width * 0.4F, theme->steel_light);
    view__strand(board, &axis, tag_end, from, setup->structure.strand.diameter_m, 0.0, 0.0);
}

/* The scale at the cable's end, as far as it fits before the post; without room the arrow alone. */
static void pull_scale(const view__board *board, const cut_view *at, const job_setup *setup, double pull_n,
                       double tag_end)
{
    const view_theme *theme = board->pen.theme;
    const double share = fmin(pull_n / fmax(setup->hand_pull_n, 1.0), 1.6);
    const view__axis axis = view__axis_of(at->face_x, at->y_cable, 0.0, at->k);
    const view_point end = view__at(&axis, tag_end, 0.0);
    const double room = (double)(end.x - at->face_x - 6.0F) / (double)at->k;
    if (pull_n <= 0.0 || room < 0.02) {
        return;
    }
    const double length = fmin(room / 1.1, 0.075);
    const view__axis away = view__axis_of(end.x, end.y, TR_PI, at->k);
    view__spring_scale(board, &away, length, share);
    char value[VIEW__TEXT_CAP];
    char text[VIEW__TEXT_CAP];
    view__quantity(board, pull_n, TR_DIM_FORCE, value, sizeof value);
    view__fill(board, "pic.hand_pull", value, NULL, text, sizeof text);
    const float under = end.y + 0.0065F * at->k;
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    const char *words = view__is_guided(setup) ? text : view__word(board, "pic.hand_pull_plain");
    const float right = fmaxf(end.x - 3.0F, at->face_x + 5.0F + view__width(board, font, words));
    view__say(board, right, under + board->pen.text * 1.3F, font, VIEW_RIGHT, theme->ink, words);
    const float arrow = 14.0F + 40.0F * (float)share;
    view_arrow(board->pen.draw, end.x - 6.0F, under + board->pen.text * 2.0F, end.x - 6.0F - arrow,
               under + board->pen.text * 2.0F, 2.0F + 2.0F * (float)share, theme->force);
}

/* A jaw on its pivot: `side` +1 the right one. The hook closes about the cable, which lies `reach` from the pivot. */
static void jaw(const view__board *board, view_point hub, double lean, double side, bool is_hooked, float k,
                view_color fill)
{
    static const double hooked[9][2] = {{-0.0030, -0.0030}, {0.0040, 0.0085}, {0.0110, 0.0112},
                                        {0.0180, 0.0098},   {0.0230, 0.0040}, {0.0240, -0.0012},
                                        {0.0205, 0.0016},   {0.0150, 0.0038}, {0.0070, 0.0006}};
    static const double plain[9][2] = {{-0.0030, -0.0030}, {0.0040, 0.0070}, {0.0100, 0.0080},
                                       {0.0160, 0.0058},   {0.0210, 0.0026}, {0.0225, -0.0002},
                                       {0.0180, 0.0000},   {0.0120, 0.0000}, {0.0060, 0.0000}};
    const view__axis up = view__axis_of(hub.x, hub.y, -TR_PI / 2.0 + side * lean, k);
    view_point shape[10];
    for (int i = 0; i < 9; i++) {
        const double *p = is_hooked ? hooked[i] : plain[i];
        shape[i] = view__at(&up, p[0], side * p[1]);
    }
    shape[9] = shape[0];
    view_fill_poly(board->pen.draw, shape, 9, fill);
    view_stroke_poly(board->pen.draw, shape, 10, 1.1F, 0.0F, board->pen.theme->ink);
}

/* Hooked jaws for the cable cutter, straight ones for side cutters, a thin disc for the grinder; the handles go down.
 */
static void cutter(const view__board *board, const view__axis *axis, double s, double closing, int kind)
{
    const view_theme *theme = board->pen.theme;
    const view_color steel = view_mix(theme->steel_dark, theme->steel, 0.35F);
    const view_point cut = view__at(axis, s, 0.0);
    if (kind == 2) {
        const view__axis down = view__axis_of(cut.x, cut.y, TR_PI / 2.0, axis->k);
        const double depth = -0.004 + 0.006 * closing;
        view__rod(board, &down, depth - 0.030, depth, 0.0009, 0.0009,
                  (view__steel){theme->ink_soft, theme->ink_faint, theme->ink});
        view__rod(board, &down, depth - 0.017, depth - 0.013, 0.0060, 0.0060, view__steel_of(board));
        return;
    }
    const double wide = (1.0 - closing) * 0.34;
    const double pivot = 0.0165;
    const view_point hub = view__at(axis, s, pivot);
    for (int side = -1; side <= 1; side += 2) {
        const double m = (double)side;
        const double lean = 0.20 + 0.35 * (1.0 - closing);
        const view__axis handle = view__axis_of(hub.x, hub.y, TR_PI / 2.0 - m * lean, axis->k);
        view__rod(board, &handle, 0.0, 0.010, 0.0032, 0.0030, (view__steel){steel, theme->steel_light, theme->ink});
        view__rod(board, &handle, 0.010, 0.060, 0.0036, 0.0042,
                  (view__steel){theme->accent, view_mix(theme->accent, theme->accent_ink, 0.3F), theme->ink});
    }
    jaw(board, hub, wide, 1.0, kind == 0, axis->k, steel);
    jaw(board, hub, wide, -1.0, kind == 0, axis->k, view_mix(steel, theme->steel_light, 0.25F));
    view_fill_circle(board->pen.draw, hub.x, hub.y, 0.0042F * axis->k, steel);
    view_stroke_circle(board->pen.draw, hub.x, hub.y, 0.0042F * axis->k, 1.1F, theme->ink);
    view_fill_circle(board->pen.draw, hub.x, hub.y, 2.2F, theme->steel_light);
}

/* A felt pen with its tip at the mark. */
static void pen_at(const view__board *board, view_point tip, float k)
{
    const view_theme *theme = board->pen.theme;
    const view__axis axis = view__axis_of(tip.x, tip.y - 1.0F, -1.1, k);
    view__rod(board, &axis, 0.0, 0.004, 0.0006, 0.0012, (view__steel){theme->ink, theme->ink_soft, theme->ink});
    view__rod(board, &axis, 0.004, 0.010, 0.0022, 0.0040, (view__steel){theme->steel_dark, theme->steel, theme->ink});
    view__rod(board, &axis, 0.010, 0.045, 0.0042, 0.0042, (view__steel){theme->ink, theme->ink_soft, theme->ink});
}

void view_closeup_cut(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                      const view_hand *hand, view_grip *grip)
{
    const view__board board = {*pen, area};
    const job_row *work = &state->row[row];
    const view_hand_cut *now = &hand->cut;
    const cut_view at = cut_place(&board, setup, work);
    const view__axis axis = view__axis_of(at.face_x, at.y_cable, 0.0, at.k);
    const double pull = now->pull_n > 0.0 ? now->pull_n : work->pulled_n;
    /* Too long means that the mark lies past the bore's end, nearer the post. */
    const double mark = at.bore_end - (work->is_cable_marked ? work->mark_error_m : now->mark_m);
    const double cut = mark - now->cut_m;
    const double tag_end = work->is_cut ? fmin(cut, at.bore_end + 0.03) : at.bore_end - 0.040;
    view_clip_push(pen->draw, area);
    view__mirror(&board, true);
    fitting_above(&board, &at, setup, work);
    if (work->is_hung || work->is_cut) {
        cable_below(&board, &at, setup, work->is_cut ? 0.0 : pull, at.bore_end + 0.02, tag_end);
        if (!work->is_cut) {
            pull_scale(&board, &at, setup, pull, tag_end);
        }
    }
    const view_point bore = view__at(&axis, at.bore_end, 0.0);
    view__dash(&board, bore.x, at.y_fit - 0.012F * at.k, bore.x, bore.y + 0.010F * at.k, 1.3F, pen->theme->accent);
    view__callout(&board, bore.x - 16.0F, area.y + pen->text * 1.1F, VIEW_RIGHT, bore.x, at.y_fit - 0.012F * at.k,
                  view__word(&board, "pic.stud_mark"));
    const view_point m = view__at(&axis, mark, 0.0);
    if (work->is_cable_marked && !work->is_cut) {
        view_stroke_line(pen->draw, m.x, m.y - 0.0022F * at.k, m.x, m.y + 0.0022F * at.k, 3.0F, pen->theme->ink);
    }
    if (now->is_marking) {
        pen_at(&board, (view_point){m.x, m.y - 0.0016F * at.k}, at.k);
    }
    if (now->is_cutting) {
        cutter(&board, &axis, cut, now->closing, state->cutter);
    }
    if (work->is_frayed) {
        for (int i = 0; i < 5; i++) {
            const view_point a = view__at(&axis, tag_end, 0.0004 * (double)(i - 2));
            const view_point b = view__at(&axis, tag_end - 0.006, 0.0018 * (double)(i - 2));
            view_stroke_line(pen->draw, a.x, a.y, b.x, b.y, 1.1F, pen->theme->cable);
        }
        const view_point end = view__at(&axis, tag_end - 0.006, 0.0036);
        view__callout(&board, end.x - 24.0F, end.y + pen->text * 2.2F, VIEW_RIGHT, end.x, end.y,
                      view__word(&board, "pic.frayed"));
    }
    view__mirror(&board, false);
    view_clip_pop(pen->draw);
    const view_point hold = now->is_cutting || now->is_marking ? m : view__at(&axis, tag_end, 0.0);
    view__grip_set(grip, view__grab(hold.x - 25.0F, hold.y - 20.0F, 50.0F, 40.0F), bore, at.k, -1.0F, 0.0F);
    view__grip_mirror(&board, grip);
}

/* ---- crimp ------------------------------------------------------------------------------------------------------ */

typedef struct crimp_view {
    view__frame frame;
    float k, y, mouth_x;
} crimp_view;

static crimp_view crimp_place(const view__board *board, const job_setup *setup)
{
    crimp_view at;
    at.frame = view__frame_of(board, 12.5F);
    const view_rect scene = at.frame.scene;
    const view__sizes sizes = view__sizes_of(setup);
    at.k = fminf(scene.w / (float)(sizes.barrel_len + 0.046), (scene.h - board->pen.text * 3.2F) / 0.030F);
    at.y = scene.y + scene.h * 0.46F;
    at.mouth_x = scene.x + (scene.w - (float)(sizes.barrel_len + 0.046) * at.k) * 0.5F +
                 (float)(sizes.barrel_len + 0.012) * at.k;
    return at;
}

enum { WALL_STEPS = 48 };

/* Outer radius of the barrel at `from_mouth`: flats where a squeeze lies in the plane of the picture, ears where it is
 * square to it. */
static double outer_at(const job_setup *setup, const mech_crimp *crimp, double from_mouth)
{
    const mech_crimp_kind *kind = &setup->crimp;
    double r = 0.5 * kind->barrel_m;
    for (int i = 0; i < crimp->squeeze_count && i < MECH_MAX_SQUEEZES; i++) {
        const mech_squeeze *s = &crimp->squeeze[i];
        const double off = fabs(from_mouth - s->position_m) - 0.5 * kind->die_m;
        if (off > 0.0008) {
            continue;
        }
        const double in_plane = fabs(cos(s->angle_rad));
        const double give = 0.5 * (kind->barrel_m - kind->crimped_m) * s->closing;
        const double ramp = off > 0.0 ? 1.0 - off / 0.0008 : 1.0;
        r -= ramp * give * (in_plane - 0.35 * (1.0 - in_plane));
    }
    return fmax(r, 0.35 * kind->barrel_m);
}

static void barrel_section(const view__board *board, const view__axis *axis, const job_setup *setup,
                           const mech_crimp *crimp)
{
    const view_theme *theme = board->pen.theme;
    const mech_crimp_kind *kind = &setup->crimp;
    const view__sizes sizes = view__sizes_of(setup);
    const double bore = 0.5 * setup->structure.strand.diameter_m * 1.12;
    const double cable = 0.5 * setup->structure.strand.diameter_m;
    for (int side = -1; side <= 1; side += 2) {
        view_point wall[2 * WALL_STEPS + 1];
        for (int i = 0; i < WALL_STEPS; i++) {
            const double s = kind->bore_m * (double)i / (double)(WALL_STEPS - 1);
            const double r = outer_at(setup, crimp, s);
            const double inner = fmax(bore - (0.5 * kind->barrel_m - r), fmin(cable, r - 0.0004));
            wall[i] = view__at(axis, -s, (double)side * r);
            wall[2 * WALL_STEPS - 1 - i] = view__at(axis, -s, (double)side * fmin(inner, bore));
        }
        view_fill_poly(board->pen.draw, wall, (size_t)2 * WALL_STEPS,
                       view_mix(theme->steel, theme->steel_light, 0.25F));
        wall[(size_t)2 * WALL_STEPS] = wall[0];
        view_stroke_poly(board->pen.draw, wall, (size_t)2 * WALL_STEPS + 1, 1.2F, 0.0F, theme->steel_dark);
        for (int i = 1; i < 22; i++) {
            const double s = kind->bore_m * (double)i / 22.0;
            const double r = outer_at(setup, crimp, s);
            /* one part, one direction of hatching, above and below the bore */
            const double outer = (double)side * (r - 0.0002);
            const double inner = (double)side * (bore + 0.0001);
            const view_point a = view__at(axis, -s, side < 0 ? outer : inner);
            const view_point b = view__at(axis, -s + 0.0012, side < 0 ? inner : outer);
            view_stroke_line(board->pen.draw, a.x, a.y, b.x, b.y, 0.8F, view_fade(theme->steel_dark, 0.7F));
        }
    }
    view__rod(board, axis, -sizes.barrel_len, -kind->bore_m, 0.5 * kind->barrel_m, 0.5 * kind->barrel_m,
              view__bright_of(board));
    view__threaded(board, axis, -sizes.barrel_len - 0.03, -sizes.barrel_len,
                   view__thread_of(&setup->turnbuckle.cable, -1, 0.0), view__bright_of(board));
}

/* The handles point away from the eye at 0; turned about the barrel they come down into the picture, as far as they are
 * turned. Pressed together they lie one behind the other. */
static void crimper_handles(const view__board *board, const view__axis *axis, const job_setup *setup,
                            const view_hand_crimp *hand)
{
    const view_theme *theme = board->pen.theme;
    const view__steel grip = {theme->accent, view_mix(theme->accent, theme->accent_ink, 0.3F), theme->ink};
    const view__steel dark = {theme->steel_dark, theme->steel, theme->ink};
    const double out = sin(hand->angle_rad);
    const view_point hub = view__at(axis, -hand->die_m, 0.0);
    const view__axis down = view__axis_of(hub.x, hub.y, out >= 0.0 ? TR_PI / 2.0 : -TR_PI / 2.0, axis->k);
    const double barrel = 0.5 * setup->crimp.barrel_m;
    const double room = (double)(board->area.y + board->area.h - 2.6F * board->pen.text - hub.y) / (double)axis->k;
    const double end = fmin(0.055 * fabs(out), room);
    const double neck = fmin(barrel + 0.010 * fabs(out), end);
    const double half = 0.4 * setup->crimp.die_m;
    if (end > neck + 0.002) {
        view__rod(board, &down, barrel, neck, half, half * 0.8, dark);
        view__rod(board, &down, neck, end, half * 0.85, half, grip);
    }
}

/* Jaws of the crimper with the die, from the side. Turned out of the picture's plane they are seen from behind: a plain
 * outline. */
static void crimper(const view__board *board, const view__axis *axis, const job_setup *setup,
                    const view_hand_crimp *hand)
{
    const view_theme *theme = board->pen.theme;
    const mech_crimp_kind *kind = &setup->crimp;
    const double half = 0.5 * kind->die_m;
    const double middle = -hand->die_m;
    const double in_plane = fabs(cos(hand->angle_rad));
    const double least = 0.5 * kind->crimped_m;
    const double open = least + (0.5 * kind->barrel_m - least) * (1.0 - hand->closing) + 0.0030 * (1.0 - hand->closing);
    const view_color steel = view_mix(theme->steel_dark, theme->steel, 0.3F);
    for (int side = -1; side <= 1; side += 2) {
        const double m = (double)side;
        const double reach = open * in_plane;
        const view_point jaw[6] = {view__at(axis, middle - half, m * reach),
                                   view__at(axis, middle + half, m * reach),
                                   view__at(axis, middle + half, m * (reach + 0.003)),
                                   view__at(axis, middle + half + 0.0025, m * (reach + 0.0045)),
                                   view__at(axis, middle + half + 0.0025, m * (reach + 0.0105)),
                                   view__at(axis, middle - half - 0.0025, m * (reach + 0.0105))};
        view_point back[9] = {jaw[0],
                              jaw[1],
                              jaw[2],
                              jaw[3],
                              jaw[4],
                              jaw[5],
                              view__at(axis, middle - half - 0.0025, m * (reach + 0.0045)),
                              view__at(axis, middle - half, m * (reach + 0.003))};
        back[8] = back[0];
        /* Turned out of the picture's plane the jaws stand before and behind the barrel: they fade. */
        view_fill_poly(board->pen.draw, back, 8, view_fade(steel, (float)(0.08 + 0.87 * in_plane * in_plane)));
        view_stroke_poly(board->pen.draw, back, 9, 1.1F, 0.0F, view_fade(theme->ink, (float)(0.3 + 0.7 * in_plane)));
    }
}

/* From the barrel's end: two arms about the jaws from the pivot at their side, and the handles beyond it, which come
 * together as they are squeezed. */
static void crimper_head(const view__board *board, float x, float y, float radius, const view_hand_crimp *hand)
{
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    const float side = (float)hand->angle_rad; /* the pivot stands a quarter turn on from the upper jaw */
    const view_point pivot = {x + radius * cosf(side), y + radius * sinf(side)};
    for (int arm = -1; arm <= 1; arm += 2) {
        const float from = arm < 0 ? side - 1.5708F : side;
        view_stroke_arc(draw, x, y, radius * 0.93F, from, from + 1.5708F, 5.0F, theme->steel_dark);
        const float spread = (float)arm * (0.14F + 0.42F * (1.0F - (float)hand->closing));
        const float length = radius * 0.36F;
        view_stroke_line(draw, pivot.x, pivot.y, pivot.x + length * cosf(side + spread),
                         pivot.y + length * sinf(side + spread), 5.0F, theme->accent);
    }
    view_fill_circle(draw, pivot.x, pivot.y, 4.0F, theme->steel_light);
    view_stroke_circle(draw, pivot.x, pivot.y, 4.0F, 1.2F, theme->ink);
}

/* Across the barrel: flats and ears, the 1+6+12 wires, the jaws where the hand holds them, the turn since the last
 * squeeze. */
static void end_view(const view__board *board, const crimp_view *at, const job_setup *setup, const mech_crimp *crimp,
                     const view_hand_crimp *hand, bool has_crimper, float x, float y, float radius)
{
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    const mech_crimp_kind *kind = &setup->crimp;
    const float scale = radius * 0.62F / (float)(0.5 * kind->barrel_m);
    (void)at;
    view_point ring[49];
    for (int i = 0; i < 48; i++) {
        const double a = 2.0 * TR_PI * (double)i / 48.0;
        double r = 0.5 * kind->barrel_m;
        for (int j = 0; j < crimp->squeeze_count && j < MECH_MAX_SQUEEZES; j++) {
            const double c = fabs(cos(a - crimp->squeeze[j].angle_rad));
            const double flat = 0.5 * (kind->barrel_m - (kind->barrel_m - kind->crimped_m) * crimp->squeeze[j].closing);
            r = c > 0.6 ? fmin(r, flat / c) : r * (1.0 + 0.02 * crimp->squeeze[j].closing);
        }
        /* 0 = the jaws close from above and below */
        ring[i] = (view_point){x + (float)(r * sin(a)) * scale, y - (float)(r * cos(a)) * scale};
    }
    view_fill_poly(draw, ring, 48, theme->steel_light);
    ring[48] = ring[0];
    view_stroke_poly(draw, ring, 49, 1.4F, 0.0F, theme->steel_dark);
    const float wire = (float)setup->structure.strand.diameter_m / 5.0F * scale;
    view_fill_circle(draw, x, y, (float)setup->structure.strand.diameter_m * 0.56F * scale, theme->inset);
    for (int i = 0; i < 19; i++) {
        const float turn = i == 0 ? 0.0F : i < 7 ? (float)i / 6.0F : (float)i / 12.0F;
        const float out = (i == 0 ? 0.0F : i < 7 ? 1.0F : 2.0F) * wire;
        view_fill_circle(draw, x + out * sinf(turn * 6.2832F), y - out * cosf(turn * 6.2832F), wire * 0.47F,
                         theme->cable);
    }
    if (!has_crimper) {
        return;
    }
    const double last = crimp->squeeze_count > 0 ? crimp->squeeze[crimp->squeeze_count - 1].angle_rad : hand->angle_rad;
    view__dial(board, x, y, radius, last, hand->angle_rad, theme->accent);
    crimper_head(board, x, y, radius, hand);
    for (int side = 0; side < 2; side++) {
        const double a = hand->angle_rad + TR_PI * (double)side;
        const float in = (float)(0.5 * kind->barrel_m + 0.0006 * (1.0 - hand->closing)) * scale;
        const view__axis jaw = view__axis_of(x, y, a - TR_PI / 2.0, 1.0F);
        const double w = (double)radius * 0.36;
        const view_point block[4] = {view__at(&jaw, (double)in, -w), view__at(&jaw, (double)radius - 3.0, -w * 0.8),
                                     view__at(&jaw, (double)radius - 3.0, w * 0.8), view__at(&jaw, (double)in, w)};
        view_fill_poly(draw, block, 4, view_fade(theme->steel_dark, 0.85F));
    }
}

static void seat_and_depth(const view__board *board, const crimp_view *at, const view__axis *axis,
                           const job_setup *setup, const job_row *work, double seated)
{
    const view_theme *theme = board->pen.theme;
    const double out = setup->crimp.bore_m - seated + work->slip_m;
    const float foot = at->frame.scene.y + at->frame.scene.h - board->pen.text * 0.8F;
    char text[VIEW__TEXT_CAP];
    if (work->has_seat_mark) {
        const view_point mark = view__at(axis, out, 0.0);
        const float half = (float)setup->structure.strand.diameter_m * 0.5F * at->k;
        view_stroke_line(board->pen.draw, mark.x, mark.y - half, mark.x, mark.y + half, 4.0F,
                         out > 0.0012 && view__is_guided(setup) ? theme->bad : theme->ink);
        view__callout(board, mark.x + 14.0F, at->frame.scene.y + board->pen.text * 1.1F, VIEW_LEFT, mark.x,
                      mark.y - half, view__word(board, "pic.seat_mark"));
    }
    const view_point end = view__at(axis, -setup->crimp.bore_m, 0.0);
    view_stroke_line(board->pen.draw, end.x, at->y, end.x, foot + 4.0F, 1.0F, view_fade(theme->ink_soft, 0.6F));
    view_stroke_line(board->pen.draw, at->mouth_x, at->y, at->mouth_x, foot + 4.0F, 1.0F,
                     view_fade(theme->ink_soft, 0.6F));
    view__quantity(board, setup->crimp.bore_m, TR_DIM_LENGTH, text, sizeof text);
    view__dim_across(board, end.x, at->mouth_x, foot, text);
    if (view__is_guided(setup) && seated > 0.0 && setup->crimp.bore_m - seated > 0.0008) {
        const view_point tip = view__at(axis, -seated, 0.0);
        view__fine(board, setup->crimp.bore_m - seated, TR_DIM_LENGTH, text, sizeof text);
        view_stroke_line(board->pen.draw, tip.x, at->y, tip.x, at->y - 0.0115F * at->k, 1.0F, theme->warn);
        view_stroke_line(board->pen.draw, end.x, at->y, end.x, at->y - 0.0115F * at->k, 1.0F, theme->warn);
        view__dim_across(board, end.x, tip.x, at->y - 0.0105F * at->k, text);
    }
}

static void crimp_column(const view__board *board, const crimp_view *at, const job_setup *setup, const job_row *work,
                         const view_hand_crimp *hand, bool has_crimper, view_point *pivot)
{
    const view_rect column = at->frame.column;
    const float text = board->pen.text;
    const float radius = view__clamp(fminf(column.w * 0.4F, (column.h - text * 4.4F) * 0.38F), 18.0F, 72.0F);
    /* the handles stand out at the right */
    *pivot = (view_point){column.x + fmaxf(fminf(column.w * 0.5F, column.w - 1.42F * radius), radius),
                          column.y + radius + 8.0F};
    end_view(board, at, setup, &work->crimp, hand, has_crimper, pivot->x, pivot->y, radius);
    char number[VIEW__TEXT_CAP];
    char line[VIEW__TEXT_CAP];
    float y = pivot->y + 1.5F * radius + text * 1.4F; /* below the handles, wherever they are turned to */
    const view_font font = view__font(board, 0.93F, VIEW_REGULAR);
    tr_format(number, sizeof number, "%d", work->crimp.squeeze_count);
    view__fill(board, "pic.squeezes", number, NULL, line, sizeof line);
    view_text_fit(board->pen.draw, board->pen.metrics, column.x, y, column.w, font, VIEW_LEFT, board->pen.theme->ink,
                  line);
    if (has_crimper && work->crimp.squeeze_count > 0 && view__is_guided(setup)) {
        const double turned = fabs(hand->angle_rad - work->crimp.squeeze[work->crimp.squeeze_count - 1].angle_rad);
        tr_quantity_text(turned, TR_DIM_ANGLE, board->pen.units, TR_PLAIN, number, sizeof number);
        view__fill(board, "pic.turned", number, NULL, line, sizeof line);
        y += text * 1.4F;
        view_text_fit(board->pen.draw, board->pen.metrics, column.x, y, column.w, font, VIEW_LEFT,
                      board->pen.theme->ink_soft, line);
    }
}

void view_closeup_crimp(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                        const view_hand *hand, view_grip *grip)
{
    const view__board board = {*pen, area};
    const job_row *work = &state->row[row];
    const crimp_view at = crimp_place(&board, setup);
    view_hand_crimp now = hand->crimp;
    if (!now.has_crimper && work->is_die_placed) {
        now.die_m = work->die_m;
        now.angle_rad = work->die_angle_rad;
        now.closing = 0.0;
    }
    const bool has_crimper = now.has_crimper || work->is_die_placed;
    const double seated = now.is_pushing ? now.seat_m : work->crimp.seated_m;
    const view__axis axis = view__axis_of(at.mouth_x, at.y, 0.0, at.k);
    const double right = ((double)(at.frame.scene.x + at.frame.scene.w) - (double)at.mouth_x) / (double)at.k;
    view_clip_push(pen->draw, area);
    view__mirror(&board, true);
    view_clip_push(pen->draw, at.frame.scene);
    const double hollow = 0.5 * setup->structure.strand.diameter_m * 1.12;
    const view_point top = view__at(&axis, -setup->crimp.bore_m, -hollow);
    view_fill_rect(pen->draw, (view_rect){top.x, top.y, (float)setup->crimp.bore_m * at.k, 2.0F * (float)hollow * at.k},
                   0.0F, pen->theme->inset);
    if (work->is_cut || seated > 0.0) {
        view__strand(&board, &axis, seated > 0.0 ? -seated : 0.006, right, setup->structure.strand.diameter_m, 0.0,
                     0.0);
    }
    if (has_crimper) {
        crimper_handles(&board, &axis, setup, &now);
    }
    barrel_section(&board, &axis, setup, &work->crimp);
    if (has_crimper) {
        crimper(&board, &axis, setup, &now);
    }
    const view__board scene = {*pen, at.frame.scene};
    seat_and_depth(&scene, &at, &axis, setup, work, seated);
    view_clip_pop(pen->draw);
    view__mirror(&board, false);
    view_point pivot;
    crimp_column(&board, &at, setup, work, &now, has_crimper, &pivot);
    view_clip_pop(pen->draw);
    const view_point die = view__at(&axis, has_crimper ? -now.die_m : -seated, 0.0);
    const view_rect handle = now.is_pushing ? view__grab(at.mouth_x + 20.0F, at.y - 20.0F, 60.0F, 40.0F)
                                            : view__grab(die.x - 30.0F, die.y - 40.0F, 60.0F, 80.0F);
    view__grip_set(grip, handle, (view_point){at.mouth_x, at.y}, at.k, -1.0F, 0.0F);
    view__grip_mirror(&board, grip);
    if (grip != NULL) {
        grip->pivot = pivot;
    }
}
