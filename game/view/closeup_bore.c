/* Close-ups of the hole: drilling it, driving the insert into it, setting the collar over it. The post is cut through
 * the row. */
#include "pic.h"

#include <math.h>

#include "tautrow/base/text.h"

/* No tool reaches further down from the row than this. */
static const float CHUCK_R = 0.0175F;

typedef struct bore_view {
    view__frame frame;
    float k;
    float face_x, y; /* where the row meets the face */
    view_rect wood;
} bore_view;

/* Shows all of the post's depth: the wood left behind the hole matters as much as the hole. */
static bore_view bore_place(const view__board *board, const job_setup *setup, double before_face_m)
{
    bore_view at;
    at.frame = view__frame_of(board, 12.5F);
    const view_rect scene = at.frame.scene;
    const float foot = board->pen.text * 2.2F;
    const float depth = (float)setup->structure.post[MECH_NEAR].depth_m;
    at.k = fminf((scene.w - 20.0F) / (depth + (float)before_face_m), (scene.h - foot) / 0.05F);
    const float used = (depth + (float)before_face_m) * at.k;
    at.wood =
        (view_rect){scene.x + 10.0F + (scene.w - 20.0F - used) * 0.5F, scene.y + 1.0F, depth * at.k, scene.h - foot};
    at.face_x = at.wood.x + at.wood.w;
    at.y = at.wood.y + at.wood.h * 0.5F;
    return at;
}

/* Into the wood is to the left; a tip that points up runs up the picture. */
static view__axis bore_axis(const bore_view *at, double pitch_rad)
{
    return view__axis_of(at->face_x, at->y, TR_PI + pitch_rad, at->k);
}

static void depth_asked(const view__board *board, const bore_view *at, const job_setup *setup)
{
    const float x = at->face_x - (float)setup->hole_depth_m * at->k;
    const float y = at->wood.y + at->wood.h + board->pen.text * 1.45F;
    char text[VIEW__TEXT_CAP];
    view__quantity(board, setup->hole_depth_m, TR_DIM_LENGTH, text, sizeof text);
    view__dash(board, x, at->wood.y + 6.0F, x, y, 1.3F, board->pen.theme->accent);
    view_stroke_line(board->pen.draw, at->face_x, at->wood.y + at->wood.h, at->face_x, y + 4.0F, 1.0F,
                     board->pen.theme->ink_soft);
    view__dim_across(board, x, at->face_x, y, text);
}

static void square_line(const view__board *board, const bore_view *at)
{
    view__dash(board, at->wood.x + 4.0F, at->y, at->frame.scene.x + at->frame.scene.w - 6.0F, at->y, 1.0F,
               view_fade(board->pen.theme->accent, 0.6F));
}

static void degrees(const view__board *board, double angle_rad, char *out, size_t cap)
{
    tr_quantity_text(fabs(angle_rad), TR_DIM_ANGLE, board->pen.units, TR_FINE, out, cap);
}

static void bubbles(const view__board *board, const job_setup *setup, view_rect column, double pitch_rad,
                    double yaw_rad)
{
    char pitch[VIEW__TEXT_CAP];
    char yaw[VIEW__TEXT_CAP];
    degrees(board, pitch_rad, pitch, sizeof pitch);
    degrees(board, yaw_rad, yaw, sizeof yaw);
    const bool is_told = view__is_guided(setup);
    const float h = board->pen.text * 2.7F;
    view__bubble(board, (view_rect){column.x, column.y, column.w, h}, pitch_rad, view__word(board, "pic.pitch"),
                 is_told ? pitch : NULL);
    view__bubble(board, (view_rect){column.x, column.y + h + 8.0F, column.w, h}, yaw_rad, view__word(board, "pic.yaw"),
                 is_told ? yaw : NULL);
}

static void speed(const view__board *board, view_rect column, float y, double rpm, job_band good, bool is_told)
{
    char value[VIEW__TEXT_CAP];
    tr_quantity_text(rpm, TR_DIM_SPEED, board->pen.units, TR_PLAIN, value, sizeof value);
    const double full = 2.0 * fmax(good.high, 200.0);
    view__meter(board, (view_rect){column.x, y, column.w, board->pen.text * 2.3F}, rpm / full,
                is_told ? good.high / full : 2.0, view__word(board, "pic.speed"), value);
}

/* ---- drill ------------------------------------------------------------------------------------------------------ */

/* Twist bit from its tip backward: cone, flutes that run with the spin, flag, chuck. */
static void bit(const view__board *board, const view__axis *axis, const job_setup *setup, const view_hand_drill *hand,
                double diameter_m)
{
    const view_theme *theme = board->pen.theme;
    const double tip = hand->depth_m;
    const double r = 0.5 * diameter_m;
    const double cone = r / tan(59.0 * TR_PI / 180.0);
    const double reach = setup->hole_depth_m + 0.022;
    const double back = tip - reach;
    const view__steel dark = {view_mix(theme->steel_dark, theme->steel, 0.4F), theme->steel_light, theme->steel_dark};
    const view__thread flutes = {diameter_m, diameter_m * 0.86, diameter_m * 1.5, 1, hand->spin_rad / (2.0 * TR_PI)};
    view__rod(board, axis, back, tip - cone, r, r, dark);
    view__threaded(board, axis, back + 0.004, tip - cone, flutes, dark);
    const view_point point[3] = {view__at(axis, tip - cone, -r), view__at(axis, tip, 0.0),
                                 view__at(axis, tip - cone, r)};
    view_fill_poly(board->pen.draw, point, 3, theme->steel_dark);
    /* the flag: tape wound on, one end left standing */
    const double stands_for = hand->flag_m > 0.0 ? hand->flag_m : setup->hole_depth_m;
    const double flag = tip - fmin(stands_for, reach - 0.011);
    const view_point tape[4] = {view__at(axis, flag, -r * 1.12), view__at(axis, flag - 0.007, -r * 1.12),
                                view__at(axis, flag - 0.007, r * 1.12), view__at(axis, flag, r * 1.12)};
    const view_point tail[4] = {view__at(axis, flag, r), view__at(axis, flag - 0.007, r),
                                view__at(axis, flag - 0.009, r + 0.014), view__at(axis, flag - 0.001, r + 0.012)};
    view_fill_poly(board->pen.draw, tail, 4, view_fade(theme->accent, 0.75F));
    view_fill_poly(board->pen.draw, tape, 4, theme->accent);
    /* chuck */
    view__rod(board, axis, back - 0.010, back + 0.004, 0.0105, 0.0065, view__steel_of(board));
    view__rod(board, axis, back - 0.032, back - 0.010, 0.0125, 0.0125,
              (view__steel){theme->steel_dark, theme->steel, theme->ink});
    view__rod(board, axis, back - 0.060, back - 0.032, 0.0165, 0.0145,
              (view__steel){theme->accent, view_mix(theme->accent, theme->accent_ink, 0.25F), theme->ink});
}

/* Curled chips at the mouth: more as the flutes fill. */
static void chips(const view__board *board, const bore_view *at, double fill)
{
    const int count = (int)(view__clamp((float)fill, 0.0F, 1.0F) * 14.0F);
    for (int i = 0; i < count; i++) {
        const float x = at->face_x + 5.0F + (float)((i * 37) % 46);
        const float y = at->y + 20.0F + (float)((i * 53) % 60) * 0.7F + (float)i;
        const float turn = (float)i * 1.3F;
        view_stroke_arc(board->pen.draw, x, y, 3.0F + (float)(i % 3), turn, turn + 3.6F, 1.6F,
                        board->pen.theme->wood_dark);
    }
}

static void depth_so_far(const view__board *board, const bore_view *at, double depth_m)
{
    if (depth_m < 0.001) {
        return;
    }
    char text[VIEW__TEXT_CAP];
    view__quantity(board, depth_m, TR_DIM_LENGTH, text, sizeof text);
    view__dim_across(board, at->face_x - (float)depth_m * at->k, at->face_x, at->wood.y + board->pen.text * 1.7F, text);
}

/* As it is, or as the bit has made it so far. */
static void drilled_face(const view__board *board, const bore_view *at, const job_setup *setup, const job_row *work,
                         const view_hand_drill *now, double diameter_m)
{
    view_rect rect;
    job_row seen = *work;
    if (!work->is_drilled && now->deepest_m > 0.0) {
        seen.is_drilled = true;
        seen.drill_rpm = now->rpm;
        seen.hole = (mech_hole){.diameter_m = diameter_m,
                                .depth_m = now->deepest_m,
                                .pitch_rad = now->pitch_rad,
                                .yaw_rad = now->yaw_rad,
                                .wander_m = now->wander_m};
    }
    if (view__face_place(board, at->frame.scene, at->face_x, at->y + CHUCK_R * at->k, &rect)) {
        view__face(board, rect, setup, &seen);
    }
}

void view_closeup_drill(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                        const view_hand *hand, view_grip *grip)
{
    const view__board board = {*pen, area};
    const job_row *work = &state->row[row];
    const view_hand_drill *now = &hand->drill;
    const bore_view at = bore_place(&board, setup, setup->hole_depth_m + 0.09);
    const bool is_told = view__is_guided(setup);
    const int chosen = state->bit >= 0 && state->bit < setup->bit_count ? state->bit : -1;
    const double diameter = work->is_drilled ? work->hole.diameter_m
                            : chosen >= 0    ? setup->bit[chosen].diameter_m
                                             : setup->bit[setup->right_bit].diameter_m;
    const double depth = work->is_drilled ? work->hole.depth_m : fmax(now->deepest_m, now->depth_m);
    const double pitch = work->is_drilled ? work->hole.pitch_rad : now->pitch_rad;
    const view__axis axis = bore_axis(&at, pitch);
    view_clip_push(pen->draw, area);
    view__mirror(&board, true);
    view__wood_cut(&board, at.wood);
    square_line(&board, &at);
    view__bore(&board, &axis, depth, diameter + (work->is_drilled ? work->hole.wander_m : 0.0));
    depth_asked(&board, &at, setup);
    if (now->is_shown && chosen >= 0) {
        bit(&board, &axis, setup, now, setup->bit[chosen].diameter_m);
        chips(&board, &at, now->chips);
    }
    drilled_face(&board, &at, setup, work, now, diameter);
    if (is_told || work->is_drilled) {
        depth_so_far(&board, &at, depth);
    }
    view__mirror(&board, false);
    const view_rect column = at.frame.column;
    bubbles(&board, setup, column, pitch, work->is_drilled ? work->hole.yaw_rad : now->yaw_rad);
    const float y = column.y + pen->text * 5.4F + 24.0F;
    speed(&board, column, y, now->is_shown ? now->rpm : state->drill_rpm, setup->drill_rpm, is_told);
    char text[VIEW__TEXT_CAP];
    if (chosen >= 0) {
        char size[VIEW__TEXT_CAP];
        view__fine(&board, setup->bit[chosen].diameter_m, TR_DIM_LENGTH, size, sizeof size);
        view__fill(&board, "pic.bit", size, NULL, text, sizeof text);
    } else {
        tr_copy(text, sizeof text, view__word(&board, "pic.no_bit"));
    }
    view__say(&board, column.x, y + pen->text * 3.7F, view__font(&board, 0.86F, VIEW_REGULAR), VIEW_LEFT,
              pen->theme->ink, text);
    view_clip_pop(pen->draw);
    const view_point chuck = view__at(&axis, now->depth_m - setup->hole_depth_m - 0.06, 0.0);
    view__grip_set(grip, view__grab(chuck.x - 30.0F, chuck.y - 25.0F, 60.0F, 50.0F), (view_point){at.face_x, at.y},
                   at.k, -1.0F, 0.0F);
    view__grip_mirror(&board, grip);
}

/* ---- insert ----------------------------------------------------------------------------------------------------- */

static void proud_dim(const view__board *board, const bore_view *at, double proud_m, bool is_told, bool is_final)
{
    const view_theme *theme = board->pen.theme;
    char size[VIEW__TEXT_CAP];
    char text[VIEW__TEXT_CAP];
    /* Flush to the eye: within 1/64 in. */
    const bool is_flush = fabs(proud_m) < 0.0004;
    view__fine(board, fabs(proud_m), TR_DIM_LENGTH, size, sizeof size);
    view__fill(board,
               is_flush        ? "pic.flush"
               : proud_m > 0.0 ? "pic.proud"
                               : "pic.sunk",
               is_told ? size : "", NULL, text, sizeof text);
    const float x = at->face_x + (float)proud_m * at->k;
    const float top = at->y - 0.017F * at->k;
    view_stroke_line(board->pen.draw, at->face_x, at->y - 0.007F * at->k, at->face_x, top - 6.0F, 1.0F,
                     theme->ink_soft);
    view_stroke_line(board->pen.draw, x, at->y - 0.007F * at->k, x, top - 6.0F, 1.0F, theme->ink_soft);
    const view_font font = view__font(board, 0.86F, VIEW_SEMIBOLD);
    view_arrow(board->pen.draw, fmaxf(x, at->face_x) + 18.0F, top, fmaxf(x, at->face_x) + 1.0F, top, 1.3F,
               theme->ink_soft);
    view_arrow(board->pen.draw, fminf(x, at->face_x) - 18.0F, top, fminf(x, at->face_x) - 1.0F, top, 1.3F,
               theme->ink_soft);
    /* beside its arrow; above it where the gauges begin sooner */
    const float right = at->frame.scene.x + at->frame.scene.w;
    const float width = view__width(board, font, text);
    const float beside = fmaxf(x, at->face_x) + 24.0F;
    const bool fits = beside + width <= right;
    view__say(board, fits ? beside : right - width, top + font.size * (fits ? 0.35F : -0.75F), font, VIEW_LEFT,
              is_flush   ? theme->good
              : is_final ? theme->warn
                         : theme->ink,
              text);
}

static void driver(const view__board *board, const view__axis *axis, double s)
{
    const view_theme *theme = board->pen.theme;
    const view__steel dark = {theme->steel_dark, theme->steel, theme->ink};
    view__rod(board, axis, s - 0.028, s + 0.001, 0.0032, 0.0032, view__steel_of(board));
    const view_point a = view__at(axis, s - 0.028, -0.001);
    const view_point b = view__at(axis, s, -0.001);
    view_stroke_line(board->pen.draw, a.x, a.y, b.x, b.y, 1.0F, theme->steel_dark);
    view__rod(board, axis, s - 0.040, s - 0.028, 0.0095, 0.0060, view__steel_of(board));
    view__rod(board, axis, s - 0.060, s - 0.040, 0.0125, 0.0125, dark);
}

/* Along the grain, from the thread to the top of the post. */
static void crack(const view__board *board, const bore_view *at, double major_m)
{
    const view_pen *pen = &board->pen;
    const float from = at->y - 0.5F * (float)major_m * at->k;
    const float rise = from - at->wood.y - 4.0F;
    const view_point line[5] = {{at->face_x - 6.0F, from},
                                {at->face_x - 14.0F, from - rise * 0.3F},
                                {at->face_x - 9.0F, from - rise * 0.5F},
                                {at->face_x - 20.0F, from - rise * 0.75F},
                                {at->face_x - 17.0F, from - rise}};
    view_stroke_poly(pen->draw, line, 5, 2.2F, 0.0F, pen->theme->ink);
    view__callout(board, at->face_x + 12.0F, at->wood.y + pen->text * 1.2F, VIEW_LEFT, line[3].x, line[3].y,
                  view__word(board, "pic.split"));
}

void view_closeup_insert(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                         const view_hand *hand, view_grip *grip)
{
    const view__board board = {*pen, area};
    const job_row *work = &state->row[row];
    const view_hand_insert *now = &hand->insert;
    const bore_view at = bore_place(&board, setup, setup->insert.length_m + 0.058);
    const bool is_shown = now->is_shown || work->is_driven;
    const double proud = work->is_driven ? work->seat.proud_m : now->proud_m;
    const double pitch = work->is_driven ? work->seat.pitch_rad : now->pitch_rad;
    const view__axis hole_axis = bore_axis(&at, work->hole.pitch_rad);
    const view__axis axis = bore_axis(&at, pitch);
    view_clip_push(pen->draw, area);
    view__mirror(&board, true);
    view__wood_cut(&board, at.wood);
    square_line(&board, &at);
    if (work->is_drilled) {
        view__bore(&board, &hole_axis, work->hole.depth_m, work->hole.diameter_m + work->hole.wander_m);
    }
    if (is_shown) {
        view__insert(&board, &axis, -proud, &setup->insert, now->spin_rad / (2.0 * TR_PI));
        if (!work->is_driven) {
            driver(&board, &axis, -proud);
        }
        if (proud < 0.012) {
            proud_dim(&board, &at, proud, view__is_guided(setup), work->is_driven);
        }
    }
    if (work->is_split) {
        crack(&board, &at, setup->insert.major_m);
    }
    view_rect face;
    job_row seen = *work;
    seen.is_driven = is_shown;
    seen.seat.proud_m = proud;
    if (view__face_place(&board, at.frame.scene, at.face_x, at.y + CHUCK_R * at.k, &face)) {
        view__face(&board, face, setup, &seen);
    }
    depth_asked(&board, &at, setup);
    view__mirror(&board, false);
    const view_rect column = at.frame.column;
    bubbles(&board, setup, column, pitch, work->is_driven ? work->seat.yaw_rad : now->yaw_rad);
    speed(&board, column, column.y + pen->text * 5.4F + 24.0F, now->is_shown ? now->rpm : state->driver_rpm,
          setup->driver_rpm, view__is_guided(setup));
    view_clip_pop(pen->draw);
    const view_point end = view__at(&axis, -proud - 0.05, 0.0);
    view__grip_set(grip, view__grab(end.x - 25.0F, end.y - 25.0F, 50.0F, 50.0F), (view_point){at.face_x, at.y}, at.k,
                   1.0F, 0.0F);
    view__grip_mirror(&board, grip);
}

/* Dust of the drill under the hole and greasy smudges on the steel, until it is wiped down: then it shines. */
static void dirt(const view__board *board, const bore_view *at, const view__axis *out, double body_r, bool is_wiped)
{
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    for (int i = 0; i < 26 && !is_wiped; i++) {
        const float x = at->face_x - 1.0F + (float)((i * 7) % 5);
        const float y = at->y + 0.017F * at->k + (float)((i * 29) % 60);
        view_fill_circle(draw, x, y, 1.0F + 0.5F * (float)(i % 3), theme->wood_dark);
    }
    for (int print = 0; print < 3; print++) {
        const view_point p = view__at(out, 0.045 + 0.021 * (double)print, body_r * (print % 2 == 0 ? -0.25 : 0.3));
        const float r = 0.55F * (float)body_r * at->k;
        if (is_wiped) { /* a glint instead */
            view_stroke_line(draw, p.x - r, p.y, p.x + r, p.y, 1.6F, view_fade(theme->panel, 0.9F));
            continue;
        }
        for (int blot = 0; blot < 4; blot++) {
            const float aside = r * 0.45F * (float)(blot - 1);
            view_fill_circle(draw, p.x + aside, p.y + 0.2F * r * (float)(blot % 2), r * 0.5F,
                             view_fade(theme->ink, 0.10F));
        }
    }
}

/* ---- hand over -------------------------------------------------------------------------------------------------- */

void view_closeup_over(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                       const view_hand *hand, view_grip *grip)
{
    const view__board board = {*pen, area};
    const job_row *work = &state->row[row];
    const bore_view at = bore_place(&board, setup, 0.085);
    const view__axis out = view__axis_of(at.face_x, at.y, work->seat.pitch_rad, at.k);
    const view__axis in = bore_axis(&at, work->seat.pitch_rad);
    const double gap = fmax(hand->over.is_shown ? hand->over.collar_m : 0.0, fmax(work->seat.proud_m, 0.0));
    const view__sizes sizes = view__sizes_of(setup);
    view_clip_push(pen->draw, area);
    view__mirror(&board, true);
    view__wood_cut(&board, at.wood);
    view__bore(&board, &in, work->hole.depth_m, work->hole.diameter_m);
    const double inside = fmin(setup->insert.length_m * 0.8, 0.02);
    view__threaded(&board, &out, -inside, 0.030, view__thread_of(&setup->turnbuckle.anchor, 1, 0.0),
                   view__bright_of(&board));
    view__insert(&board, &in, -work->seat.proud_m, &setup->insert, 0.0);
    view__body(&board, &out, 0.030, 0.030 + setup->turnbuckle.body_m, sizes.body_r, false);
    if (hand->over.is_shown || work->has_collar) {
        /* a dished ring, cut through: above and below the stud */
        const double r = sizes.flange_r * 1.7;
        view__rod(&board, &out, gap, gap + 0.0015, r, r, view__steel_of(&board));
        view__rod(&board, &out, gap + 0.0015, gap + 0.006, r * 0.96, sizes.flange_r * 0.75, view__bright_of(&board));
        const bool is_seated = gap < 0.0005;
        const bool is_blocked = work->seat.proud_m > 0.0005 && gap < work->seat.proud_m + 0.0005;
        const float x = at.face_x + (float)(gap + 0.006) * at.k;
        if (is_seated || is_blocked) {
            view__callout(&board, x + 20.0F, at.y - (float)r * at.k - 14.0F, VIEW_LEFT, x - 6.0F,
                          at.y - (float)r * at.k * 0.85F,
                          view__word(&board, is_seated ? "pic.collar_home" : "pic.collar_off"));
        }
    }
    dirt(&board, &at, &out, sizes.body_r, state->is_wiped);
    view__mirror(&board, false);
    view_clip_pop(pen->draw);
    view__grip_set(grip, view__grab(at.face_x + (float)gap * at.k - 12.0F, at.y - 30.0F, 24.0F, 60.0F),
                   (view_point){at.face_x, at.y}, at.k, 1.0F, 0.0F);
    view__grip_mirror(&board, grip);
}
