/* The close-up of sighting: the eye at the foot of the near post, looking up along its inner face. Far things are small,
 * so a bow that nobody sees from the front stands out against the straight line. */
#include "elevation.h"

#include <math.h>

#include "tautrow/base/text.h"

enum { SIGHT_STEPS = 24 };

static const double EYE_M = 0.45; /* from the eye to the foot: by eye, so that the top is a third as wide */

typedef struct sight {
    float x, foot_y, top_y; /* middle of the post at the foot; its two ends */
    float k;                /* at the foot */
    double top_m, factor;
    view__bend bend;
} sight;

/* 1 at the eye's end, smaller further off. */
static double nearness(double height_m)
{
    return EYE_M / (EYE_M + height_m);
}

/* across_m from the post's middle towards the run. */
static view_point seen_at(const sight *s, double height_m, double across_m)
{
    const double near = nearness(height_m);
    const double share = (1.0 - near) / (1.0 - nearness(s->top_m));
    return (view_point){s->x + (float)(across_m * near) * s->k, s->foot_y + (s->top_y - s->foot_y) * (float)share};
}

static double bow(const sight *s, double height_m)
{
    return view__bend_at(&s->bend, height_m) * s->factor;
}

static void edge(const sight *s, double half_m, bool is_bent, view_point out[SIGHT_STEPS])
{
    for (int i = 0; i < SIGHT_STEPS; i++) {
        const double height = s->top_m * (double)i / (double)(SIGHT_STEPS - 1);
        out[i] = seen_at(s, height, half_m + (is_bent ? bow(s, height) : 0.0));
    }
}

static void band_between(const view__board *board, const view_point *a, const view_point *b, view_color color)
{
    view_point outline[2 * SIGHT_STEPS];
    for (int i = 0; i < SIGHT_STEPS; i++) {
        outline[i] = a[i];
        outline[2 * SIGHT_STEPS - 1 - i] = b[i];
    }
    view_fill_poly(board->pen.draw, outline, (size_t)2 * SIGHT_STEPS, color);
}

static void wood(const view__board *board, const sight *s, double half_m)
{
    const view_theme *theme = board->pen.theme;
    view_point left[SIGHT_STEPS];
    view_point right[SIGHT_STEPS];
    view_point line[SIGHT_STEPS];
    edge(s, -half_m, true, left);
    edge(s, half_m, true, right);
    band_between(board, left, right, theme->wood);
    for (int ring = -3; ring <= 3; ring++) {
        edge(s, half_m * (0.26 * (double)ring + 0.05 * sin(2.3 * (double)ring)), true, line);
        view_stroke_poly(board->pen.draw, line, SIGHT_STEPS, ring % 2 == 0 ? 1.2F : 0.7F, 0.0F,
                         view_fade(theme->wood_dark, 0.45F));
    }
    view_stroke_poly(board->pen.draw, left, SIGHT_STEPS, 1.4F, 0.0F, theme->wood_dark);
    view_stroke_poly(board->pen.draw, right, SIGHT_STEPS, 1.8F, 0.0F, theme->wood_dark);
    /* the sawn foot, nearest to the eye */
    const view_rect foot = {left[0].x, s->foot_y, right[0].x - left[0].x, 7.0F};
    view_fill_rect(board->pen.draw, foot, 0.0F, theme->wood_cut);
    view_stroke_rect(board->pen.draw, foot, 0.0F, 1.2F, theme->wood_dark);
}

/* Water stands at the foot and darkens the wood, less the higher. */
static void stain(const view__board *board, const sight *s, double half_m)
{
    enum { BANDS = 4, STEPS = 8 };
    for (int band = 1; band <= BANDS; band++) {
        const double top = s->top_m * 0.13 * (double)band;
        view_point outline[3 * STEPS];
        for (int i = 0; i < STEPS; i++) {
            const double share = (double)i / (double)(STEPS - 1);
            const double tide = top * (1.0 + 0.07 * sin(5.1 * (double)i + (double)band)); /* a ragged tide line */
            outline[i] = seen_at(s, top * share, -half_m + bow(s, top * share));
            outline[STEPS + i] = seen_at(s, tide, half_m * (2.0 * share - 1.0) + bow(s, tide));
            outline[2 * STEPS + i] = seen_at(s, top * (1.0 - share), half_m + bow(s, top * (1.0 - share)));
        }
        view_fill_poly(board->pen.draw, outline, (size_t)3 * STEPS, view_fade(board->pen.theme->ink, 0.16F));
    }
}

/* Flanges stand out of the face as little steps: one that is proud stands out further. */
static void flanges(const view__board *board, const sight *s, const job_setup *setup, const job_state *state,
                    double half_m, int loose_row)
{
    for (int row = 0; row < setup->structure.row_count; row++) {
        if (!state->row[row].is_driven) {
            continue;
        }
        const double height = view__row_height(setup, state, row);
        const double out = half_m + bow(s, height);
        const double step = 0.0025 + fmax(state->row[row].seat.proud_m, 0.0);
        const view_point a = seen_at(s, height, out);
        const view_point b = seen_at(s, height, out + step);
        const float thick = fmaxf(5.0F * (float)nearness(height), 2.0F);
        const float end = fmaxf(b.x, a.x + 2.0F);
        if (row == loose_row) { /* it hangs out of its hole */
            const float r = 9.0F * (float)nearness(height) + 3.0F;
            view_fill_circle(board->pen.draw, a.x, a.y, r * 0.55F, board->pen.theme->ink);
            view_stroke_line(board->pen.draw, a.x - r * 0.4F, a.y - r, end + r, a.y + r * 0.8F, thick,
                             board->pen.theme->steel_dark);
            continue;
        }
        view_stroke_line(board->pen.draw, a.x, a.y, end, b.y, thick, board->pen.theme->steel_dark);
    }
}

static void words(const view__board *board, const sight *s, view_rect area, double half_m)
{
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    char number[VIEW__TEXT_CAP];
    char text[VIEW__TEXT_CAP];
    tr_format(number, sizeof number, "%.0f", s->factor);
    view__fill(board, "pic.bend", number, NULL, text, sizeof text);
    view__say(board, area.x + 4.0F, area.y + font.size * 1.2F, font, VIEW_LEFT, board->pen.theme->ink_soft, text);
    const view_point at = seen_at(s, s->top_m * 0.5, half_m);
    const view_point bent = seen_at(s, s->top_m * 0.5, half_m + bow(s, s->top_m * 0.5));
    view__callout(board, fmaxf(at.x, bent.x) + 34.0F, at.y - 14.0F, VIEW_LEFT, at.x, at.y,
                  view__word(board, "pic.straight"));
}

void view__closeup_sight(const view__board *board, const job_setup *setup, const job_state *state,
                         const view_hand_check *hand, view_grip *grip)
{
    const view_rect area = board->area;
    const mech_post *post = &setup->structure.post[MECH_NEAR];
    const double half = 0.5 * post->depth_m;
    sight s = {.top_m = setup->structure.rail.is_fitted
                            ? setup->structure.rail.height_m
                            : setup->structure.row_height_m[setup->structure.row_count - 1] + 0.05,
               .factor = view_bend_factor(setup, state)};
    view__bend_of(&state->run, &state->rows, MECH_NEAR, &s.bend);
    s.x = area.x + area.w * 0.5F;
    s.foot_y = area.y + area.h - 14.0F;
    s.top_y = area.y + 8.0F;
    s.k = fminf(area.w * 0.40F, area.h * 0.85F) / (float)post->depth_m;
    view_point straight[SIGHT_STEPS];
    view_point bent[SIGHT_STEPS];
    edge(&s, half, false, straight);
    edge(&s, half, true, bent);
    wood(board, &s, half);
    if (hand->is_wet) {
        stain(board, &s, half);
    }
    band_between(board, straight, bent, view_fade(board->pen.theme->force, 0.28F));
    view_stroke_poly(board->pen.draw, straight, SIGHT_STEPS, 1.6F, 5.0F, board->pen.theme->force);
    flanges(board, &s, setup, state, half, hand->loose - 1);
    words(board, &s, area, half);
    view__grip_set(grip, view__grab(s.x - 30.0F, s.top_y, 60.0F, 40.0F), (view_point){s.x, s.foot_y}, s.k, 0.0F, -1.0F);
}
