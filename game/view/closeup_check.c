/* Close-ups of checking: the gauge ball between two rows, the tension gauge on a row, the crimp gauge. And the choice
 * of a close-up by stage. */
#include "pic.h"

#include <math.h>

#include "tautrow/base/text.h"

/* ---- the ball --------------------------------------------------------------------------------------------------- */

typedef struct gap_view {
    double spacing_m;      /* between its two sides, square to the rows: on a stair less than up the post */
    int low_row, high_row; /* -1: deck or rail */
} gap_view;

static gap_view gap_of(const job_setup *setup, const job_state *state, int gap)
{
    const int count = setup->structure.row_count;
    const mech_rail *rail = &setup->structure.rail;
    gap_view at = {.low_row = gap - 1, .high_row = gap < count ? gap : -1};
    const double low_m = gap == 0 ? 0.0 : view__row_height(setup, state, gap - 1);
    const double high_m = gap < count       ? view__row_height(setup, state, gap)
                          : rail->is_fitted ? rail->height_m
                                            : low_m + setup->ball_m + 0.02;
    at.spacing_m = (high_m - low_m) * cos(setup->structure.slope_rad);
    return at;
}

/* One row and the ball: how far along the height the row lies from the ball's middle, and how far it is pushed away
 * along the line of contact (mechanics.md 9). */
typedef struct touch {
    double rise, reach, away;
} touch;

static touch touch_of(const job_setup *setup, const gap_view *gap, double z)
{
    const double ball_r = 0.5 * setup->ball_m;
    const bool has_edge = gap->low_row < 0 || gap->high_row < 0;
    const double spacing = gap->spacing_m;
    touch out;
    /* Between two rows the ball keeps to the middle; along a deck or rail its middle keeps one radius from the face. */
    out.rise = has_edge ? fmax(spacing - ball_r, 0.0) : 0.5 * spacing;
    out.reach = fmax(sqrt(out.rise * out.rise + z * z), 1e-6);
    out.away = fmax(ball_r + 0.5 * setup->structure.strand.diameter_m - out.reach, 0.0);
    return out;
}

/* Longest bay of the run: there the rows give most. */
static double longest_bay(const mech_structure *work)
{
    double longest = 0.0;
    for (int i = 0; i < work->bay_count; i++) {
        longest = fmax(longest, work->bay_m[i]);
    }
    return fmax(longest, 0.1);
}

static double push_now(const job_setup *setup, const job_state *state, const gap_view *gap, const touch *at, double z)
{
    double push = 0.0;
    const int row[2] = {gap->low_row, gap->high_row};
    for (int i = 0; i < 2; i++) {
        if (row[i] >= 0 && at->away > 0.0) {
            push += mech_string_push(state->rows.tension_n[row[i]], setup->structure.strand.ea_n,
                                     longest_bay(&setup->structure), at->away) *
                    fabs(z) / at->reach;
        }
    }
    return push;
}

/* The two sides cut across, so that the cables are dots and the ball passes from right to left between them. */
static void edge_side(const view__board *board, float x, float y, float k, bool is_rail)
{
    const view_theme *theme = board->pen.theme;
    const float half = 0.045F * k;
    const float thick = 0.02F * k;
    const view_rect side = {x - half, is_rail ? y - thick : y, 2.0F * half, thick};
    view_fill_rect(board->pen.draw, side, 1.0F, theme->wood_cut);
    view_stroke_rect(board->pen.draw, side, 1.0F, 1.2F, theme->wood_dark);
}

static void row_dot(const view__board *board, float x, float y, float rest_y, float r, bool is_touched)
{
    const view_theme *theme = board->pen.theme;
    if (is_touched) {
        view_stroke_circle(board->pen.draw, x, rest_y, r, 1.0F, theme->ghost);
    }
    view_fill_circle(board->pen.draw, x, y, r, theme->cable);
    view_stroke_circle(board->pen.draw, x, y, r, 1.2F, theme->ink);
}

static void ball_shape(const view__board *board, float x, float y, float r)
{
    const view_theme *theme = board->pen.theme;
    view_fill_circle(board->pen.draw, x, y, r, view_mix(theme->accent_soft, theme->accent, 0.25F));
    view_fill_circle(board->pen.draw, x - r * 0.12F, y - r * 0.14F, r * 0.78F, view_fade(theme->accent_soft, 0.35F));
    view_fill_circle(board->pen.draw, x - r * 0.25F, y - r * 0.3F, r * 0.42F, view_fade(theme->accent_soft, 0.45F));
    view_fill_circle(board->pen.draw, x - r * 0.34F, y - r * 0.4F, r * 0.13F, view_fade(theme->panel, 0.8F));
    view_stroke_circle(board->pen.draw, x, y, r, 1.4F, theme->accent);
}

/* What the ball picture is drawn by. */
typedef struct ball_view {
    view__frame frame;
    float k, x;
    float rest[2]; /* low and high side, undisturbed */
    float now[2];  /* and with the ball between them */
    float shift_x;
    float ball_x, ball_y, ball_r, row_r;
} ball_view;

static ball_view ball_place(const view__board *board, const job_setup *setup, const gap_view *gap, const touch *at,
                            double z)
{
    ball_view v;
    v.frame = view__frame_of(board, 12.5F);
    const view_rect scene = v.frame.scene;
    v.k = (scene.h - 24.0F) / (float)(fmax(gap->spacing_m, setup->ball_m) + 0.05);
    v.x = scene.x + scene.w * 0.45F;
    const float middle = scene.y + scene.h * 0.5F;
    v.ball_r = 0.5F * (float)setup->ball_m * v.k;
    v.row_r = fmaxf(0.5F * (float)setup->structure.strand.diameter_m * v.k, 3.0F);
    v.ball_x = v.x + (float)z * v.k;
    v.ball_y = middle;
    const float reach = (float)at->rise * v.k;
    v.rest[0] = gap->low_row >= 0 ? middle + reach : middle + v.ball_r;
    v.rest[1] = gap->high_row >= 0 ? middle - reach : middle - v.ball_r;
    v.shift_x = -(float)(at->away * z / at->reach) * v.k;
    const float shift_y = (float)(at->away * at->rise / at->reach) * v.k;
    v.now[0] = gap->low_row >= 0 ? v.rest[0] + shift_y : v.rest[0];
    v.now[1] = gap->high_row >= 0 ? v.rest[1] - shift_y : v.rest[1];
    return v;
}

static void ball_sides(const view__board *board, const ball_view *v, const gap_view *gap, const touch *at, double z)
{
    const int row[2] = {gap->low_row, gap->high_row};
    for (int i = 0; i < 2; i++) {
        const float sign = i == 0 ? 1.0F : -1.0F;
        if (row[i] < 0) {
            edge_side(board, v->x, v->rest[i], v->k, i == 1);
            continue;
        }
        row_dot(board, v->x + v->shift_x, v->now[i], v->rest[i], v->row_r, at->away > 0.0);
        if (at->away > 0.0) {
            view_fill_circle(board->pen.draw, v->x + v->shift_x + v->row_r * (float)(z / at->reach),
                             v->now[i] - sign * v->row_r * (float)(at->rise / at->reach), 2.5F,
                             board->pen.theme->force);
        }
        char digits[VIEW__TEXT_CAP];
        char name[VIEW__TEXT_CAP];
        tr_format(digits, sizeof digits, "%d", row[i] + 1);
        view__fill(board, "pic.row", digits, NULL, name, sizeof name);
        const view_font font = view__font(board, 0.86F, VIEW_SEMIBOLD);
        view__say(board, v->x - 14.0F - v->row_r + fminf(v->shift_x, 0.0F),
                  v->now[i] + (i == 0 ? font.size * 1.1F : -font.size * 0.4F), font, VIEW_RIGHT, board->pen.theme->ink,
                  name);
    }
}

static void ball_spread(const view__board *board, const ball_view *v, const gap_view *gap)
{
    const float low = v->now[0] - (gap->low_row >= 0 ? v->row_r : 0.0F);
    const float high = v->now[1] + (gap->high_row >= 0 ? v->row_r : 0.0F);
    const float x = v->frame.scene.x + board->pen.text * 6.0F;
    const view_color line = view_fade(board->pen.theme->ink_soft, 0.45F);
    char text[VIEW__TEXT_CAP];
    if (v->x - 0.45F * v->ball_r < x + 6.0F) {
        return; /* no room beside the ball */
    }
    view_stroke_line(board->pen.draw, x, low, v->x - 10.0F, low, 1.0F, line);
    view_stroke_line(board->pen.draw, x, high, v->x - 10.0F, high, 1.0F, line);
    view__fine(board, (double)((low - high) / v->k), TR_DIM_LENGTH, text, sizeof text);
    view__dim_up(board, x, low, high, true, text);
}

static void ball_closeup(const view__board *board, const job_setup *setup, const job_state *state,
                         const view_hand_check *hand, view_grip *grip)
{
    const view_theme *theme = board->pen.theme;
    const gap_view gap = gap_of(setup, state, hand->gap);
    const double z = hand->ball_m;
    const touch at = touch_of(setup, &gap, z);
    const ball_view v = ball_place(board, setup, &gap, &at, z);
    const view_rect scene = v.frame.scene;
    view__dash(board, v.x, scene.y + 6.0F, v.x, scene.y + scene.h - 6.0F, 1.0F, view_fade(theme->ink, 0.35F));
    ball_spread(board, &v, &gap);
    ball_shape(board, v.ball_x, v.ball_y, v.ball_r);
    ball_sides(board, &v, &gap, &at, z);
    const double push = push_now(setup, state, &gap, &at, z);
    if (push > 0.5) {
        const float edge = v.ball_x + v.ball_r;
        const float room = board->area.x + board->area.w - 4.0F - edge;
        const float length = 20.0F + 60.0F * view__clamp((float)(push / fmax(setup->ball_push_n, 1.0)), 0.0F, 1.2F);
        if (room > 16.0F) {
            view_arrow(board->pen.draw, edge + fminf(length, room), v.ball_y, edge + 2.0F, v.ball_y, 4.0F,
                       theme->force);
        }
    }
    const view_rect column = v.frame.column;
    char text[VIEW__TEXT_CAP];
    char ball[VIEW__TEXT_CAP];
    view__quantity(board, push, TR_DIM_FORCE, text, sizeof text);
    view__meter(board, (view_rect){column.x, column.y, column.w, board->pen.text * 2.3F},
                push / (1.5 * fmax(setup->ball_push_n, 1.0)), 1.0 / 1.5, view__word(board, "pic.push"),
                view__is_guided(setup) ? text : NULL);
    view__quantity(board, setup->ball_m, TR_DIM_LENGTH, text, sizeof text);
    view__fill(board, "pic.ball", text, NULL, ball, sizeof ball);
    view_text_fit(board->pen.draw, board->pen.metrics, column.x, column.y + board->pen.text * 4.0F, column.w,
                  view__font(board, 0.93F, VIEW_REGULAR), VIEW_LEFT, theme->ink_soft, ball);
    if (setup->structure.slope_rad > 0.0) {
        view_text_fit(board->pen.draw, board->pen.metrics, column.x, column.y + board->pen.text * 5.5F, column.w,
                      view__font(board, 0.86F, VIEW_REGULAR), VIEW_LEFT, theme->ink_soft,
                      view__word(board, "pic.square_gap"));
    }
    view__grip_set(grip, view__grab(v.ball_x - v.ball_r, v.ball_y - v.ball_r, 2.0F * v.ball_r, 2.0F * v.ball_r),
                   (view_point){v.x, v.ball_y}, v.k, 1.0F, 0.0F);
}

/* ---- tension gauge ---------------------------------------------------------------------------------------------- */

static void gauge_dial(const view__board *board, float x, float y, float radius, const job_setup *setup,
                       double reading_n)
{
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    const double top = tr_quantity_number(1.6 * setup->target_n, TR_DIM_FORCE, board->pen.units);
    const view__ticks ticks = view__ticks_of(0.0, top, 6);
    const float from = -2.2F;
    const float sweep = 4.4F;
    view_fill_circle(draw, x, y, radius, theme->panel);
    view_stroke_circle(draw, x, y, radius, 3.0F, theme->steel_dark);
    const view_font font = view__font(board, fminf(0.72F, radius / 95.0F), VIEW_REGULAR);
    for (int i = 0; i < ticks.count; i++) {
        const double value = ticks.first + ticks.step * (double)i;
        const float a = from + sweep * (float)(value / top);
        view_stroke_line(draw, x + (radius - 9.0F) * sinf(a), y - (radius - 9.0F) * cosf(a),
                         x + (radius - 3.0F) * sinf(a), y - (radius - 3.0F) * cosf(a), 1.5F, theme->ink);
        char text[VIEW__TEXT_CAP];
        tr_format(text, sizeof text, "%.*f", ticks.decimals, value);
        const float in = radius - 13.0F - font.size * 0.6F;
        view_text(draw, x + in * sinf(a), y - in * cosf(a) + font.size * 0.35F, font, VIEW_CENTRE, theme->ink_soft,
                  text);
    }
    const double shown = reading_n > 0.0 ? tr_quantity_number(reading_n, TR_DIM_FORCE, board->pen.units) : 0.0;
    const int minors = (int)(top / (ticks.step / 5.0));
    for (int i = 0; i <= minors; i++) {
        const double minor = ticks.step / 5.0 * (double)i;
        const float m = from + sweep * (float)(minor / top);
        view_stroke_line(draw, x + (radius - 6.0F) * sinf(m), y - (radius - 6.0F) * cosf(m),
                         x + (radius - 3.0F) * sinf(m), y - (radius - 3.0F) * cosf(m), 1.0F, theme->ink_soft);
    }
    const float a = from + sweep * view__clamp((float)(shown / top), 0.0F, 1.02F);
    view_stroke_line(draw, x - 8.0F * sinf(a), y + 8.0F * cosf(a), x + (radius - 12.0F) * sinf(a),
                     y - (radius - 12.0F) * cosf(a), 2.4F, theme->force);
    view_fill_circle(draw, x, y, 4.0F, theme->ink);
    view_text(draw, x, y + radius * 0.62F, font, VIEW_CENTRE, theme->ink_soft,
              tr_quantity_unit(TR_DIM_FORCE, board->pen.units));
}

/* Two outer rollers above the cable, the middle one pressed up from below by the lever. */
static void gauge_closeup(const view__board *board, const job_setup *setup, int row, const view_hand_check *hand,
                          view_grip *grip)
{
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    const view_rect area = board->area;
    const float x = area.x + area.w * 0.5F;
    const float radius = view__clamp(fminf(area.h * 0.27F, area.w * 0.16F), 34.0F, 110.0F);
    const float y = area.y + area.h - radius * 0.9F;
    const float reach = radius * 1.5F;
    const float push = (float)hand->press * radius * 0.10F;
    const float width = fmaxf(radius * 0.09F, 3.0F);
    const view_rect frame = {x - reach * 1.15F, y - radius * 0.62F, reach * 2.3F, radius * 0.46F};
    view_fill_gradient(draw, frame, 6.0F, theme->steel_light, theme->steel);
    view_stroke_rect(draw, frame, 6.0F, 1.2F, theme->steel_dark);
    const view_point taut[5] = {{area.x, y}, {x - reach, y}, {x, y - push}, {x + reach, y}, {area.x + area.w, y}};
    view_stroke_poly(draw, taut, 5, width, 0.0F, theme->cable);
    view_stroke_poly(draw, taut, 5, width * 0.35F, 0.0F, theme->steel_light);
    const float roller = radius * 0.14F;
    for (int side = -1; side <= 1; side++) {
        const bool is_middle = side == 0;
        const float rx = x + (float)side * reach;
        const float ry = is_middle ? y - push + roller + width * 0.5F : y - roller - width * 0.5F;
        view_fill_circle(draw, rx, ry, roller, theme->steel);
        view_stroke_circle(draw, rx, ry, roller, 1.4F, theme->steel_dark);
        view_fill_circle(draw, rx, ry, 2.5F, theme->ink);
    }
    const float lever_y = y + roller * 2.2F - push;
    view_stroke_line(draw, x, lever_y, x + reach * 1.2F, lever_y + radius * 0.28F * (1.0F - (float)hand->press),
                     radius * 0.12F, theme->steel_dark);
    gauge_dial(board, x, frame.y - radius * 0.86F, radius, setup, hand->reading_n * hand->press);
    char digits[VIEW__TEXT_CAP];
    char text[VIEW__TEXT_CAP];
    tr_format(digits, sizeof digits, "%d", row + 1);
    view__fill(board, "pic.row", digits, NULL, text, sizeof text);
    view__say(board, area.x + 8.0F, y - width - 8.0F, view__font(board, 1.0F, VIEW_SEMIBOLD), VIEW_LEFT, theme->ink,
              text);
    if (hand->reading_n >= 0.0 && hand->press > 0.98) { /* read when the needle has come to rest */
        view__quantity(board, hand->reading_n, TR_DIM_FORCE, digits, sizeof digits);
        view__fill(board, "pic.reads", digits, NULL, text, sizeof text);
        view__say(board, x + radius * 1.25F, frame.y - radius * 0.86F, view__font(board, 1.15F, VIEW_SEMIBOLD),
                  VIEW_LEFT, theme->ink, text);
    }
    view__grip_set(grip, view__grab(x, lever_y - 12.0F, reach * 1.2F, 24.0F), (view_point){x, y}, radius, 0.0F, -1.0F);
}

/* ---- crimp gauge ------------------------------------------------------------------------------------------------ */

static void crimp_gauge_closeup(const view__board *board, const job_setup *setup, const job_state *state, int row,
                                const view_hand_check *hand, view_grip *grip)
{
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    const job_row *work = &state->row[row];
    const mech_crimp_state look = mech_crimp_look(&setup->crimp, &work->crimp, setup->structure.strand.breaking_n);
    const view_rect area = board->area;
    const float k = (area.h * 0.42F) / (float)setup->crimp.barrel_m;
    const float x = area.x + area.w * 0.42F;
    const float y = area.y + area.h * 0.56F;
    const int axis = hand->axis == 1 ? 1 : 0;
    const float across = (float)look.gauge_m[axis] * k;
    const float along = (float)look.gauge_m[1 - axis] * k;
    const float slot = (float)setup->crimp.gauge_pass_m * k;
    view_point ring[41];
    for (int i = 0; i < 40; i++) {
        const float a = 6.2832F * (float)i / 40.0F;
        /* a rounded square of the two measures: flats with soft corners */
        const float c = cosf(a);
        const float s = sinf(a);
        ring[i] = (view_point){x + copysignf(powf(fabsf(c), 0.75F), c) * across * 0.5F,
                               y + copysignf(powf(fabsf(s), 0.75F), s) * along * 0.5F};
    }
    ring[40] = ring[0];
    view_fill_poly(draw, ring, 40, theme->steel_light);
    view_stroke_poly(draw, ring, 41, 1.4F, 0.0F, theme->steel_dark);
    /* the gauge: a plate with a slot as wide as the largest crimp that passes */
    const bool is_over = hand->across_m > 0.0 && hand->across_m <= setup->crimp.gauge_pass_m;
    const float drop = is_over ? along * 0.35F : hand->across_m > 0.0 ? -along * 0.62F : -along * 0.9F;
    const float top = y + drop - along * 0.9F;
    const float arm = slot * 0.45F;
    const view_point fork[8] = {{x - slot * 0.5F - arm, top},
                                {x + slot * 0.5F + arm, top},
                                {x + slot * 0.5F + arm, y + drop + along * 0.25F},
                                {x + slot * 0.5F, y + drop + along * 0.25F},
                                {x + slot * 0.5F, top + arm},
                                {x - slot * 0.5F, top + arm},
                                {x - slot * 0.5F, y + drop + along * 0.25F},
                                {x - slot * 0.5F - arm, y + drop + along * 0.25F}};
    view_fill_poly(draw, fork, 8, view_fade(theme->accent, 0.88F));
    char text[VIEW__TEXT_CAP];
    const float text_x = x + slot * 0.5F + arm + 24.0F;
    if (hand->across_m > 0.0) {
        const bool passes = hand->across_m <= setup->crimp.gauge_pass_m;
        view__fine(board, hand->across_m, TR_DIM_LENGTH, text, sizeof text);
        view__say(board, text_x, y - board->pen.text, view__font(board, 1.3F, VIEW_SEMIBOLD), VIEW_LEFT, theme->ink,
                  text);
        view__say(board, text_x, y + board->pen.text * 0.6F, view__font(board, 1.0F, VIEW_SEMIBOLD), VIEW_LEFT,
                  passes ? theme->good : theme->bad,
                  view__word(board, passes ? "pic.gauge_passes" : "pic.gauge_stops"));
    }
    view__say(board, text_x, y + board->pen.text * 2.2F, view__font(board, 0.93F, VIEW_REGULAR), VIEW_LEFT,
              theme->ink_soft, view__word(board, axis == 0 ? "pic.axis_first" : "pic.axis_second"));
    view__grip_set(grip, view__grab(fork[0].x, top, fork[1].x - fork[0].x, along), (view_point){x, y}, k, 0.0F, -1.0F);
}

void view_closeup_check(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                        const view_hand *hand, view_grip *grip)
{
    const view__board board = {*pen, area};
    view_clip_push(pen->draw, area);
    switch (hand->check.tool) {
    case VIEW_CHECK_BALL:
        ball_closeup(&board, setup, state, &hand->check, grip);
        break;
    case VIEW_CHECK_GAUGE:
        gauge_closeup(&board, setup, row, &hand->check, grip);
        break;
    case VIEW_CHECK_CRIMP_GAUGE:
        crimp_gauge_closeup(&board, setup, state, row, &hand->check, grip);
        break;
    case VIEW_CHECK_SIGHT:
        view__closeup_sight(&board, setup, state, &hand->check, grip);
        break;
    }
    view_clip_pop(pen->draw);
}

void view_closeup(const view_pen *pen, view_rect area, job_stage stage, const job_setup *setup, const job_state *state,
                  int row, const view_hand *hand, view_grip *grip)
{
    switch (stage) {
    case JOB_STAGE_READ:
    case JOB_STAGE_MARK:
        view_closeup_mark(pen, area, setup, state, row, hand, grip);
        break;
    case JOB_STAGE_DRILL:
        view_closeup_drill(pen, area, setup, state, row, hand, grip);
        break;
    case JOB_STAGE_INSERT:
        view_closeup_insert(pen, area, setup, state, row, hand, grip);
        break;
    case JOB_STAGE_ASSEMBLE:
        view_closeup_assemble(pen, area, setup, state, row, hand, grip);
        break;
    case JOB_STAGE_CUT:
        view_closeup_cut(pen, area, setup, state, row, hand, grip);
        break;
    case JOB_STAGE_CRIMP:
        view_closeup_crimp(pen, area, setup, state, row, hand, grip);
        break;
    case JOB_STAGE_CHECK:
        view_closeup_check(pen, area, setup, state, row, hand, grip);
        break;
    case JOB_STAGE_HAND_OVER:
        view_closeup_over(pen, area, setup, state, row, hand, grip);
        break;
    case JOB_STAGE_JOIN:
    case JOB_STAGE_TENSION:
    case JOB_STAGE_COUNT:
        view_closeup_turn(pen, area, setup, state, row, hand, grip);
        break;
    }
}
