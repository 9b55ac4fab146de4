/* Close-ups of the turnbuckle: screwing the studs in, and the whole line under the turning pin. The body is cut open,
 * so that the engaged threads can be seen and counted. */
#include "pic.h"

#include <math.h>

#include "tautrow/base/text.h"

/* ---- what both share -------------------------------------------------------------------------------------------- */

/* A tick for each engaged thread over the wall of the body, every fifth longer; from the mouth inward. */
static void thread_ruler(const view__board *board, const view__axis *axis, double mouth, double inward, double turns,
                         double pitch_m, double r)
{
    const int count = (int)floor(turns + 1e-6);
    for (int i = 1; i <= count && i <= 60; i++) {
        const double s = mouth + inward * pitch_m * (double)i;
        const view_point foot = view__at(axis, s, -r);
        view_stroke_line(board->pen.draw, foot.x, foot.y - 2.0F, foot.x, foot.y - (i % 5 == 0 ? 9.0F : 5.0F), 1.0F,
                         board->pen.theme->ink_soft);
    }
}

/* Nothing in yet is not a fault yet, nor is the last half turn that a body backed off hangs by. */
static bool is_begun(double turns)
{
    return turns >= 1.0;
}

/* Least safe engagement: a triangle on the wall at that depth; no verdict before the stud is started. */
static void least_mark(const view__board *board, const view__axis *axis, double s, double r, double turns, double least)
{
    const view_theme *theme = board->pen.theme;
    const view_point tip = view__at(axis, s, r * 1.02);
    const view_point triangle[3] = {{tip.x, tip.y}, {tip.x - 5.0F, tip.y + 9.0F}, {tip.x + 5.0F, tip.y + 9.0F}};
    view_fill_poly(board->pen.draw, triangle, 3,
                   turns >= least    ? theme->good
                   : is_begun(turns) ? theme->bad
                                     : theme->ink_faint);
}

/* Whole, if in somewhat smaller letters. */
static bool fits(const view__board *board, view_font font, float width, const char *text)
{
    return view__width(board, view_font_fit(board->pen.metrics, font, width, text), text) <= width;
}

static void threads_text(const view__board *board, float x, float y, view_align align, double turns, double least,
                         float width)
{
    const view_theme *theme = board->pen.theme;
    const view_font font = view__font(board, 0.93F, VIEW_SEMIBOLD);
    char number[VIEW__TEXT_CAP];
    char text[VIEW__TEXT_CAP];
    tr_format(number, sizeof number, "%.0f", floor(turns + 1e-6));
    view__fill(board, "pic.threads", number, NULL, text, sizeof text);
    if (!fits(board, font, width, text)) { /* the triangle and the ruler say of what */
        tr_copy(text, sizeof text, number);
    }
    const bool is_bad = turns < least && is_begun(turns);
    view_text_fit(board->pen.draw, board->pen.metrics, x, y, width, font, align, is_bad ? theme->bad : theme->ink,
                  text);
    tr_format(number, sizeof number, "%.0f", ceil(least - 1e-6));
    const view_font small = view__font(board, 0.79F, VIEW_REGULAR);
    view__fill(board,
               is_bad           ? "pic.least"
               : turns >= least ? "pic.least_met"
                                : "pic.least_yet",
               number, NULL, text, sizeof text);
    if (!fits(board, small, width, text)) {
        view__fill(board, "pic.least_yet", number, NULL, text, sizeof text);
    }
    if (!fits(board, small, width, text)) {
        tr_format(text, sizeof text, "\xE2\x89\xA5 %s", number);
    }
    view_text_fit(board->pen.draw, board->pen.metrics, x, y + font.size * 1.3F, width, small, align,
                  is_bad ? theme->bad : theme->ink_soft, text);
}

/* ---- assemble --------------------------------------------------------------------------------------------------- */

typedef struct assemble_view {
    view_rect scene;
    float k, y;
    float left, right; /* mouths of the body */
    double cut_m;      /* of the body's middle left out */
    mech_engaged in;   /* threads as shown: those of the state and those of the gesture */
} assemble_view;

static mech_engaged shown_threads(const job_row *work, const view_hand_assemble *hand)
{
    mech_engaged in = {.anchor_turns = work->anchor_in ? work->engaged.anchor_turns : 0.0,
                       .cable_turns = work->cable_in ? work->engaged.cable_turns : 0.0};
    if (hand->is_shown && !hand->is_refused) {
        *(hand->stud == 0 ? &in.anchor_turns : &in.cable_turns) = hand->turns;
    }
    return in;
}

static assemble_view assemble_place(const view__board *board, const job_setup *setup, const job_row *work,
                                    const view_hand_assemble *hand)
{
    const mech_turnbuckle *t = &setup->turnbuckle;
    assemble_view at;
    at.in = shown_threads(work, hand);
    const double gap = t->body_m - at.in.anchor_turns * t->anchor.pitch_m - at.in.cable_turns * t->cable.pitch_m;
    at.cut_m = fmin(fmax(gap - 0.012, 0.0), 0.5 * t->body_m);
    at.scene = board->area;
    const double shown = t->body_m - at.cut_m;
    at.k = fminf(at.scene.w / (float)(shown + 0.072), at.scene.h / 0.045F);
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    float names = fmaxf(view__width(board, font, view__word(board, "pic.anchor_stud")),
                        view__width(board, font, view__word(board, "pic.cable_stud"))) +
                  14.0F;
    if (2.0F * names > 0.5F * at.scene.w) { /* then their short names must do */
        names = fmaxf(view__width(board, font, view__word(board, "pic.anchor")),
                      view__width(board, font, view__word(board, "pic.left"))) +
                14.0F;
    }
    at.k = fminf(at.k, fmaxf(at.scene.w - 2.0F * names, at.scene.w * 0.25F) / (float)shown);
    at.y = at.scene.y + at.scene.h * 0.47F;
    const float middle = at.scene.x + at.scene.w * 0.5F;
    at.left = middle - (float)shown * at.k * 0.5F;
    at.right = middle + (float)shown * at.k * 0.5F;
    return at;
}

static void anchor_stud(const view__board *board, const view__axis *axis, double tip, const job_setup *setup,
                        double turn)
{
    const double len = view__sizes_of(setup).anchor_len;
    view__threaded(board, axis, tip - len, tip, view__thread_of(&setup->turnbuckle.anchor, 1, turn),
                   view__bright_of(board));
}

/* The cable stud's shank points left, its barrel to the right. */
static void cable_stud(const view__board *board, const view__axis *axis, double tip, const job_setup *setup,
                       double turn)
{
    const mech_crimp none = {0};
    (void)view__crimp_stud(board, axis, tip, setup, &none, turn);
}

/* The words stand above the cross (centre) or beside it. */
static void refused_cross(const view__board *board, float x, float y, view_align align, const char *key)
{
    const view_theme *theme = board->pen.theme;
    view_fill_circle(board->pen.draw, x, y, 11.0F, theme->bad);
    view_stroke_line(board->pen.draw, x - 4.5F, y - 4.5F, x + 4.5F, y + 4.5F, 2.4F, theme->accent_ink);
    view_stroke_line(board->pen.draw, x - 4.5F, y + 4.5F, x + 4.5F, y - 4.5F, 2.4F, theme->accent_ink);
    const view_font font = view__font(board, 0.93F, VIEW_SEMIBOLD);
    const float shift = align == VIEW_CENTRE ? 0.0F : align == VIEW_LEFT ? 17.0F : -17.0F;
    view__say(board, x + shift, align == VIEW_CENTRE ? y - 17.0F : y + font.size * 0.35F, font, align, theme->bad,
              view__word(board, key));
}

static void wrong_stud(const view__board *board, const assemble_view *at, const job_setup *setup,
                       const view_hand_assemble *hand)
{
    const view__sizes sizes = view__sizes_of(setup);
    const float mouth = hand->end == 0 ? at->left : at->right;
    const view__axis axis = view__axis_of(mouth, at->y, hand->end == 0 ? 0.0 : TR_PI, at->k);
    const mech_thread *thread = hand->stud == 0 ? &setup->turnbuckle.anchor : &setup->turnbuckle.cable;
    view__threaded(board, &axis, -sizes.anchor_len, 0.0, view__thread_of(thread, hand->stud == 0 ? 1 : -1, hand->turns),
                   view__bright_of(board));
    refused_cross(board, mouth, at->y - (float)sizes.body_r * at->k - 16.0F, hand->end == 0 ? VIEW_RIGHT : VIEW_LEFT,
                  "pic.wrong_hand");
}

/* The whole name, or the short one where only that fits. */
static const char *fitting_word(const view__board *board, view_font font, float width, const char *whole,
                                const char *shorter)
{
    const char *word = view__word(board, whole);
    return fits(board, font, width, word) ? word : view__word(board, shorter);
}

static void end_names(const view__board *board, const assemble_view *at, const job_setup *setup, float y)
{
    const mech_turnbuckle *t = &setup->turnbuckle;
    const float half = (at->right - at->left) * 0.5F - 8.0F;
    const float side = at->left - at->scene.x - 10.0F;
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    const view_color ink = board->pen.theme->ink_soft;
    threads_text(board, at->left, y, VIEW_LEFT, at->in.anchor_turns, mech_min_turns(t, &t->anchor), half);
    threads_text(board, at->right, y, VIEW_RIGHT, at->in.cable_turns, mech_min_turns(t, &t->cable), half);
    const float other = at->scene.x + at->scene.w - at->right - 12.0F;
    view_text_fit(board->pen.draw, board->pen.metrics, at->left - 10.0F, y, side, font, VIEW_RIGHT, ink,
                  fitting_word(board, font, side, "pic.anchor_stud", "pic.anchor"));
    view_text_fit(board->pen.draw, board->pen.metrics, at->right + 10.0F, y, other, font, VIEW_LEFT, ink,
                  fitting_word(board, font, other, "pic.cable_stud", "pic.cable"));
    view_text_fit(board->pen.draw, board->pen.metrics, at->left - 10.0F, y + font.size * 1.3F, side, font, VIEW_RIGHT,
                  ink, fitting_word(board, font, side, "pic.right_hand", "pic.right"));
    view_text_fit(board->pen.draw, board->pen.metrics, at->right + 10.0F, y + font.size * 1.3F, other, font, VIEW_LEFT,
                  ink, fitting_word(board, font, other, "pic.left_hand", "pic.left"));
}

void view_closeup_assemble(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                           const view_hand *hand, view_grip *grip)
{
    const view__board board = {*pen, area};
    const mech_turnbuckle *t = &setup->turnbuckle;
    const job_row *work = &state->row[row];
    const view_hand_assemble *now = &hand->assemble;
    const assemble_view at = assemble_place(&board, setup, work, now);
    const view__sizes sizes = view__sizes_of(setup);
    const view__axis from_left = view__axis_of(at.left, at.y, 0.0, at.k);
    const view__axis from_right = view__axis_of(at.right, at.y, 0.0, at.k);
    const double shown = t->body_m - at.cut_m;
    const double apart = 0.008;
    const bool wrong = now->is_shown && now->is_refused;
    view_clip_push(pen->draw, area);
    view__mirror(&board, true);
    const double anchor_tip = at.in.anchor_turns > 0.0 ? at.in.anchor_turns * t->anchor.pitch_m : -apart;
    const double cable_tip = at.in.cable_turns > 0.0 ? -at.in.cable_turns * t->cable.pitch_m : apart;
    if (!(wrong && now->stud == 0) && !(wrong && now->end == 0)) {
        anchor_stud(&board, &from_left, anchor_tip, setup, at.in.anchor_turns);
    }
    if (!(wrong && now->stud == 1) && !(wrong && now->end == 1)) {
        cable_stud(&board, &from_right, cable_tip, setup, -at.in.cable_turns);
    }
    view__body(&board, &from_left, 0.0, shown, sizes.body_r, true);
    if (at.cut_m > 0.002) {
        const float r = (float)sizes.body_r * at.k;
        view__break_line(&board, (at.left + at.right) * 0.5F - 6.0F, at.y - r - 2.0F, at.y + r + 2.0F, 12.0F,
                         pen->theme->panel);
    }
    thread_ruler(&board, &from_left, 0.0, 1.0, at.in.anchor_turns, t->anchor.pitch_m, sizes.body_r);
    thread_ruler(&board, &from_right, 0.0, -1.0, at.in.cable_turns, t->cable.pitch_m, sizes.body_r);
    const double least_a = mech_min_turns(t, &t->anchor);
    const double least_c = mech_min_turns(t, &t->cable);
    least_mark(&board, &from_left, least_a * t->anchor.pitch_m, sizes.body_r, at.in.anchor_turns, least_a);
    least_mark(&board, &from_right, -least_c * t->cable.pitch_m, sizes.body_r, at.in.cable_turns, least_c);
    const float ring_x = at.right - (float)sizes.body_r * at.k;
    const float wall_y = at.y - (float)sizes.body_r * at.k;
    const bool is_met = t->body_m - anchor_tip + cable_tip < 0.0004;
    const bool is_wrong_here = wrong && now->end == 1;
    view__callout(&board, ring_x + (is_wrong_here ? -40.0F : 16.0F),
                  wall_y - 24.0F - (is_met ? pen->text * 1.6F : 0.0F), is_wrong_here ? VIEW_RIGHT : VIEW_LEFT, ring_x,
                  wall_y - 10.0F, view__word(&board, "pic.ring_mark"));
    if (wrong) {
        wrong_stud(&board, &at, setup, now);
    }
    if (is_met) {
        refused_cross(&board, (at.left + at.right) * 0.5F, at.y - (float)sizes.body_r * at.k - 16.0F, VIEW_CENTRE,
                      "pic.studs_meet");
    }
    end_names(&board, &at, setup, at.y + (float)sizes.body_r * at.k + pen->text * 2.0F);
    view__mirror(&board, false);
    view_clip_pop(pen->draw);
    const float hold = now->stud == 0 ? at.left - 60.0F : at.right + 10.0F;
    view__grip_set(grip, view__grab(hold, at.y - 25.0F, 50.0F, 50.0F),
                   (view_point){now->end == 0 ? at.left : at.right, at.y}, at.k, now->end == 0 ? 1.0F : -1.0F, 0.0F);
    view__grip_mirror(&board, grip);
}

/* ---- join and tension ------------------------------------------------------------------------------------------- */

typedef struct turn_view {
    view__frame frame;
    float k, y;
    float face_x;
    double body0, body1; /* mouths of the body from the face */
    double barrel1;      /* mouth of the barrel */
    double anchor_turns, cable_turns;
    double body_turns; /* how far the body has turned, for its look */
    double stud_turns;
} turn_view;

static turn_view turn_place(const view__board *board, const job_setup *setup, const job_row *work,
                            const view_hand_turn *hand)
{
    const mech_turnbuckle *t = &setup->turnbuckle;
    const view__sizes sizes = view__sizes_of(setup);
    turn_view at;
    at.frame = view__frame_of(board, 12.5F);
    const double q = hand->pin_rad / (2.0 * TR_PI);
    const double psi = hand->stud_rad / (2.0 * TR_PI);
    at.anchor_turns = work->engaged.anchor_turns + q + hand->in_turns - hand->back_turns;
    at.cable_turns =
        work->cable_in || work->is_joined ? work->engaged.cable_turns + q - psi + hand->in_turns : hand->in_turns;
    at.body_turns = at.anchor_turns;
    at.stud_turns = work->engaged.twist_turns + psi;
    const float length =
        (float)(0.022 + sizes.anchor_len * 0.8 + t->body_m + sizes.stud_thread * 0.8 + sizes.barrel_len + 0.045);
    at.k = fminf(at.frame.scene.w / length, at.frame.scene.h / 0.1F);
    at.y = at.frame.scene.y + at.frame.scene.h * 0.45F;
    at.face_x = at.frame.scene.x + 0.022F * at.k;
    at.body0 = fmax(sizes.anchor_len - at.anchor_turns * t->anchor.pitch_m, 0.004);
    at.body1 = at.body0 + t->body_m;
    return at;
}

/* The bar through the body: it swings about the axis, so it is seen shorter the further it comes towards the eye. */
static void turning_pin(const view__board *board, const view__axis *axis, double middle, double angle, double body_r)
{
    const view_theme *theme = board->pen.theme;
    const double reach = 0.040;
    const double up = reach * cos(angle);
    const view_point a = view__at(axis, middle, -up);
    const view_point b = view__at(axis, middle, up);
    const float thick = fmaxf(0.0042F * axis->k, 4.0F);
    const view_point hub = view__at(axis, middle, 0.0);
    view_stroke_line(board->pen.draw, a.x, a.y, b.x, b.y, thick + 2.0F, theme->steel_dark);
    view_stroke_line(board->pen.draw, a.x, a.y, b.x, b.y, thick, theme->steel);
    /* Clockwise seen from the run: the upper end goes away from the eye, the front goes up. */
    const bool is_a_near = (sin(angle) < 0.0) != view_is_mirrored(board->pen.draw);
    const view_point near = is_a_near ? a : b;
    const view_point far = is_a_near ? b : a;
    view_fill_circle(board->pen.draw, far.x, far.y, thick * 0.75F, theme->steel_dark);
    view_fill_circle(board->pen.draw, near.x, near.y, thick * (0.9F + 0.35F * fabsf((float)sin(angle))),
                     theme->steel_light);
    view_stroke_circle(board->pen.draw, near.x, near.y, thick * (0.9F + 0.35F * fabsf((float)sin(angle))), 1.2F,
                       theme->steel_dark);
    if (fabs(up) < body_r) {
        view_fill_circle(board->pen.draw, hub.x, hub.y, thick * 0.8F, theme->steel_light);
        view_stroke_circle(board->pen.draw, hub.x, hub.y, thick * 0.8F, 1.2F, theme->steel_dark);
    }
}

/* Locking pliers on the stud, seen edge on: one jaw above, the other below, the handles hanging down as far as foot. */
static void pliers(const view__board *board, const view__axis *axis, double s, double radius, double share, double foot)
{
    const view_theme *theme = board->pen.theme;
    const double lift = (1.0 - share) * 0.03;
    const double open = radius + (1.0 - share) * 0.004;
    const view__steel dark = {theme->steel_dark, theme->steel, theme->ink};
    const view__steel grip = {theme->accent, view_mix(theme->accent, theme->accent_ink, 0.3F), theme->ink};
    const view_point at = view__at(axis, s, lift);
    const view__axis down = view__axis_of(at.x, at.y, TR_PI / 2.0, axis->k);
    view__rod(board, &down, -open - 0.010, -open, 0.0042, 0.0055, dark);
    view__rod(board, &down, open, open + 0.012, 0.0055, 0.0048, dark);
    view__rod(board, &down, open + 0.012, open + 0.022, 0.0048, 0.0062, dark);
    const double end = fmax(fmin(open + 0.075, foot - lift), open + 0.026);
    const double handle = end - 0.2 * (end - open - 0.022);
    view__rod(board, &down, handle, end, 0.0030, 0.0030, view__steel_of(board));
    view__rod(board, &down, 0.5 * (handle + end), end, 0.0048, 0.0048, dark); /* the adjusting screw's head, knurled */
    for (int i = -2; i <= 2; i++) {
        const view_point top = view__at(&down, 0.5 * (handle + end), 0.0017 * (double)i);
        const view_point low = view__at(&down, end, 0.0017 * (double)i);
        view_stroke_line(board->pen.draw, top.x, top.y, low.x, low.y, 1.0F, theme->ink);
    }
    view__rod(board, &down, open + 0.022, handle, 0.0062, 0.0068, grip);
    /* the release lever lies in the handle */
    const view_point lever[2] = {view__at(&down, open + 0.5 * (0.022 + handle - open), 0.0),
                                 view__at(&down, handle - 0.002, 0.0)};
    view_stroke_line(board->pen.draw, lever[0].x, lever[0].y, lever[1].x, lever[1].y, 0.0046F * axis->k,
                     view_mix(theme->accent, theme->ink, 0.35F));
    /* the link behind the stud that joins the jaws */
    const view_point a = view__at(&down, -open - 0.008, -0.0048);
    const view_point b = view__at(&down, open + 0.010, -0.0048);
    view_stroke_line(board->pen.draw, a.x, a.y, b.x, b.y, 2.0F, theme->ink);
    for (int tooth = -2; tooth <= 2; tooth++) {
        const view_point up = view__at(&down, -open - 0.0014, 0.0018 * (double)tooth);
        const view_point low = view__at(&down, open + 0.0014, 0.0018 * (double)tooth);
        view_stroke_line(board->pen.draw, up.x, up.y, up.x, up.y + 0.0014F * axis->k, 1.0F, theme->ink);
        view_stroke_line(board->pen.draw, low.x, low.y, low.x, low.y - 0.0014F * axis->k, 1.0F, theme->ink);
    }
}

/* A felt line drawn along barrel and cable when they were joined. It goes round with the stud, and on the cable it winds:
 * held, it stays where it was. */
static void witness_line(const view__board *board, const view__axis *axis, const job_setup *setup, double neck,
                         double mouth, double end, double turns)
{
    enum { STEPS = 40 };
    const double cable_r = 0.5 * setup->structure.strand.diameter_m;
    const double barrel_r = 0.5 * setup->crimp.barrel_m;
    view_point line[STEPS + 1];
    size_t count = 0;
    for (int i = 0; i <= STEPS; i++) {
        const double s = neck + (end - neck) * (double)i / STEPS;
        /* drawn as if the turns were taken up in a short length: over a real run they would not be seen */
        const double share = s < mouth ? 1.0 : 1.0 - (s - mouth) / fmax(end - mouth, 1e-6);
        const double angle = 2.0 * TR_PI * turns * share;
        if (cos(angle) > -0.05) {
            line[count++] = view__at(axis, s, -(s < mouth ? barrel_r : cable_r) * sin(angle) * 0.96);
        }
        if (cos(angle) <= -0.05 || i == STEPS) {
            if (count > 1) {
                view_stroke_poly(board->pen.draw, line, count, 2.0F, 0.0F, board->pen.theme->force);
            }
            count = 0;
        }
    }
}

/* The pen mark tells whether the cable is home, and later whether it has crept out. */
static void seat_mark(const view__board *board, const view__axis *axis, double barrel1, const job_setup *setup,
                      const job_row *work)
{
    const double out = setup->crimp.bore_m - work->crimp.seated_m + work->slip_m;
    const view_point mark = view__at(axis, barrel1 + fmax(out, 0.0), 0.0);
    const float half = 0.5F * (float)setup->structure.strand.diameter_m * axis->k;
    view_stroke_line(board->pen.draw, mark.x, mark.y - half, mark.x, mark.y + half, 3.0F, board->pen.theme->ink);
}

/* The crimp stud with its tip at so far from the face, and the cable out of it, which hums. */
static void stud_and_cable(const view__board *board, turn_view *at, const view__axis *axis, double tip,
                           const job_setup *setup, const job_row *work, const view_hand_turn *hand)
{
    const view_rect scene = at->frame.scene;
    at->barrel1 = view__crimp_stud(board, axis, tip, setup, &work->crimp, -at->stud_turns);
    const double end = ((double)(scene.x + scene.w) - (double)at->face_x) / (double)at->k;
    const double lag = hand->hum * 0.0009 * sin(hand->hum_rad);
    const view__axis moved = view__axis_of(at->face_x, at->y + (float)lag * at->k, 0.0, at->k);
    view__strand(board, &moved, at->barrel1, end, setup->structure.strand.diameter_m, 0.10 * at->stud_turns,
                 at->stud_turns * 3.0);
    witness_line(board, &moved, setup, tip + view__sizes_of(setup).stud_thread, at->barrel1, end, at->stud_turns);
    if (work->has_seat_mark) {
        seat_mark(board, &moved, at->barrel1, setup, work);
    }
}

/* A notch in the ring mark: it goes round with the body. Seen from the other side it sinks where it would rise. */
static void ring_notch(const view__board *board, const view__axis *axis, double body1, double angle, double body_r)
{
    if (cos(angle) > 0.0) {
        const double rise = view_is_mirrored(board->pen.draw) ? -sin(angle) : sin(angle);
        const view_point notch = view__at(axis, body1 - 1.0 * body_r, -body_r * 0.9 * rise);
        view_fill_circle(board->pen.draw, notch.x, notch.y, 3.0F, board->pen.theme->ink);
    }
}

static void hand_on_body(const view__board *board, const view__axis *axis, double body0, double body_r)
{
    const view_point p = view__at(axis, body0 + 0.02, body_r);
    const view_rect hand = {p.x - 16.0F, p.y - 4.0F, 32.0F, 12.0F};
    view_fill_rect(board->pen.draw, hand, 6.0F, board->pen.theme->accent_soft);
    view_stroke_rect(board->pen.draw, hand, 6.0F, 1.4F, board->pen.theme->accent);
}

static void line_of_parts(const view__board *board, turn_view *at, const job_setup *setup, const job_row *work,
                          const view_hand_turn *hand)
{
    const mech_turnbuckle *t = &setup->turnbuckle;
    const view__sizes sizes = view__sizes_of(setup);
    const view__axis axis = view__axis_of(at->face_x, at->y, 0.0, at->k);
    const view_rect scene = at->frame.scene;
    const view_rect wood = {scene.x, scene.y + 4.0F, at->face_x - scene.x, scene.h - 8.0F};
    view__wood_cut(board, wood);
    const view__axis in = view__axis_of(at->face_x, at->y, TR_PI, at->k);
    view__insert(board, &in, -work->seat.proud_m, &setup->insert, 0.0);
    view__threaded(board, &axis, 0.0, at->body0 + at->anchor_turns * t->anchor.pitch_m,
                   view__thread_of(&t->anchor, 1, 0.0), view__bright_of(board));
    const bool is_in = work->is_joined || work->cable_in || hand->in_turns > 0.0;
    const double tip = is_in ? at->body1 - at->cable_turns * t->cable.pitch_m : at->body1 + 0.012;
    if (is_in || work->crimp.squeeze_count > 0) {
        stud_and_cable(board, at, &axis, tip, setup, work, hand);
    } else {
        at->barrel1 = at->body1 + 0.05;
    }
    view__body(board, &axis, at->body0, at->body1, sizes.body_r, true);
    const double angle = 2.0 * TR_PI * at->body_turns;
    ring_notch(board, &axis, at->body1, angle, sizes.body_r);
    if (work->is_joined) {
        turning_pin(board, &axis, 0.5 * (at->body0 + at->body1), angle, sizes.body_r);
    }
    const double grip = hand->is_sliding ? hand->pliers : work->has_pliers ? 1.0 : 0.0;
    if (grip > 0.0) {
        /* on the solid neck: jaws would spoil the thread */
        pliers(board, &axis, tip + sizes.stud_thread + 0.0055, 0.5 * setup->crimp.barrel_m, grip,
               (double)(scene.y + scene.h - 3.3F * board->pen.text - at->y) / (double)at->k);
    }
    if (hand->is_body_held) {
        hand_on_body(board, &axis, at->body0, sizes.body_r);
    }
}

static void turn_texts(const view__board *board, const turn_view *at, const job_setup *setup)
{
    const mech_turnbuckle *t = &setup->turnbuckle;
    const view__axis axis = view__axis_of(at->face_x, at->y, 0.0, at->k);
    const double r = view__sizes_of(setup).body_r;
    const float y = at->frame.scene.y + at->frame.scene.h - board->pen.text * 1.7F;
    const float x0 = view__at(&axis, at->body0, 0.0).x;
    const float x1 = view__at(&axis, at->body1, 0.0).x;
    /* Under the body; where that leaves no room for the words, under the middle of the scene. */
    const float room = at->frame.scene.x + at->frame.scene.w - at->face_x;
    const float least = board->pen.text * 6.5F;
    const float middle = fminf(fmaxf((x0 + x1) * 0.5F, at->face_x + 12.0F + least), at->face_x + room * 0.5F);
    const float half = fminf(middle - at->face_x, at->face_x + room - middle) - board->pen.text * 0.5F - 6.0F;
    const double least_a = mech_min_turns(t, &t->anchor);
    const double least_c = mech_min_turns(t, &t->cable);
    thread_ruler(board, &axis, at->body0, 1.0, at->anchor_turns, t->anchor.pitch_m, r);
    thread_ruler(board, &axis, at->body1, -1.0, at->cable_turns, t->cable.pitch_m, r);
    least_mark(board, &axis, at->body0 + least_a * t->anchor.pitch_m, r, at->anchor_turns, least_a);
    least_mark(board, &axis, at->body1 - least_c * t->cable.pitch_m, r, at->cable_turns, least_c);
    /* Two boxes side by side from the face on, as near to under their ends as they fit. */
    const float gap = board->pen.text * 0.5F;
    threads_text(board, middle - gap, y, VIEW_RIGHT, at->anchor_turns, least_a, half);
    threads_text(board, middle + gap, y, VIEW_LEFT, at->cable_turns, least_c, half);
}

/* Returns the square of the dial: the place to take hold of the pin. */
static view_rect turn_column(const view__board *board, const turn_view *at, const job_setup *setup,
                             const view_hand_turn *hand)
{
    const mech_turnbuckle *t = &setup->turnbuckle;
    const view_theme *theme = board->pen.theme;
    const view_rect column = at->frame.column;
    const float text = board->pen.text;
    const float low = text * 5.4F;
    const float radius = view__clamp(fminf(column.w * 0.36F, (column.h - low) * 0.42F), 16.0F, 62.0F);
    const float x = column.x + column.w * 0.5F;
    const float y = column.y + radius + 8.0F;
    const double angle = 2.0 * TR_PI * at->body_turns;
    view__dial(board, x, y, radius, angle - hand->pin_rad, angle, theme->accent);
    view_fill_circle(board->pen.draw, x, y, radius * 0.34F, theme->steel);
    view_stroke_circle(board->pen.draw, x, y, radius * 0.34F, 1.2F, theme->steel_dark);
    const float dx = (float)sin(angle) * (radius - 6.0F);
    const float dy = -(float)cos(angle) * (radius - 6.0F);
    view_stroke_line(board->pen.draw, x - dx, y - dy, x + dx, y + dy, 5.0F, theme->steel_dark);
    view_fill_circle(board->pen.draw, x + dx, y + dy, 5.5F, theme->accent);
    const float meter_y = column.y + column.h - low + 2.0F;
    char value[VIEW__TEXT_CAP];
    view__quantity(board, hand->effort_n_m, TR_DIM_MOMENT, value, sizeof value);
    view__meter(board, (view_rect){column.x, meter_y, column.w, text * 2.3F},
                hand->has_effort ? hand->effort_n_m / fmax(setup->pin_limit_n_m, 0.1) : 0.0, 0.85,
                view__word(board, "pic.effort"), hand->has_effort && view__is_guided(setup) ? value : NULL);
    const mech_engaged in = {at->anchor_turns, at->cable_turns, 0.0};
    char left[VIEW__TEXT_CAP];
    view__quantity(board, fmax(mech_turns_to_bottom(t, &in), 0.0) * (t->anchor.pitch_m + t->cable.pitch_m),
                   TR_DIM_LENGTH, left, sizeof left);
    view_text_fit(board->pen.draw, board->pen.metrics, column.x, meter_y + text * 3.5F, column.w,
                  view__font(board, 0.86F, VIEW_REGULAR), VIEW_LEFT, theme->ink_soft,
                  view__word(board, "pic.take_up_left"));
    view_text_fit(board->pen.draw, board->pen.metrics, column.x, meter_y + text * 4.8F, column.w,
                  view__font(board, 1.0F, VIEW_SEMIBOLD), VIEW_LEFT, theme->ink, left);
    return view__grab(x - radius, y - radius, 2.0F * radius, 2.0F * radius);
}

void view_closeup_turn(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                       const view_hand *hand, view_grip *grip)
{
    const view__board board = {*pen, area};
    turn_view at = turn_place(&board, setup, &state->row[row], &hand->turn);
    view_clip_push(pen->draw, area);
    view__mirror(&board, true);
    view_clip_push(pen->draw, at.frame.scene);
    line_of_parts(&board, &at, setup, &state->row[row], &hand->turn);
    turn_texts(&board, &at, setup);
    view_clip_pop(pen->draw);
    view__mirror(&board, false);
    const view_rect dial = turn_column(&board, &at, setup, &hand->turn);
    view_clip_pop(pen->draw);
    view__grip_set(grip, dial, (view_point){dial.x + dial.w / 2.0F, dial.y + dial.h / 2.0F}, at.k, 0.0F, -1.0F);
}
