/* A run in small: what a scenario is about at a glance. Lengths, heights, slope and sections are the scenario's own. */
#include "run_small.h"

#include <math.h>

/* Layout units at one scale both ways; lines keep a least width, or a row would vanish. */
typedef struct small_scene {
    view_draw *draw;
    const view_theme *theme;
    const mech_structure *work;
    float k;          /* layout units per metre */
    float near, far;  /* inner faces of the posts */
    float deck, fall; /* deck at the near post's face; units down per unit to the right */
    float top_m;
} small_scene;

static const float OVERHANG_M = 0.12F; /* of the deck beyond the posts */
static const float DECK_M = 0.035F;
static const float BASE_M = 0.075F;

static double length_of(const mech_structure *work)
{
    double length_m = 0.0;
    for (int i = 0; i < work->bay_count; i++) {
        length_m += work->bay_m[i];
    }
    return length_m;
}

static small_scene place(view_draw *draw, const view_theme *theme, view_rect area, const mech_structure *work)
{
    small_scene at = {.draw = draw, .theme = theme, .work = work};
    const float length = (float)length_of(work);
    const float level = length * cosf((float)work->slope_rad);
    const float rise = length * sinf((float)work->slope_rad);
    const float ends = (float)(work->post[MECH_NEAR].depth_m + work->post[MECH_FAR].depth_m) + 2.0F * OVERHANG_M;
    at.top_m =
        (float)(work->rail.is_fitted ? work->rail.height_m : work->row_height_m[work->row_count - 1] + 0.05) + 0.04F;
    at.k = fminf(area.w / (level + ends), area.h / (at.top_m + rise + DECK_M));
    at.near =
        area.x + (area.w - (level + ends) * at.k) / 2.0F + (OVERHANG_M + (float)work->post[MECH_NEAR].depth_m) * at.k;
    at.far = at.near + level * at.k;
    const float foot = area.y + (area.h + (at.top_m + rise - DECK_M) * at.k) / 2.0F;
    at.fall = (work->upper == MECH_FAR ? -rise : rise) / level;
    at.deck = work->upper == MECH_FAR ? foot : foot - rise * at.k;
    return at;
}

static float y_at(const small_scene *at, double height_m, float x)
{
    return at->deck - (float)height_m * at->k + at->fall * (x - at->near);
}

/* Edges and grain are for a picture large enough to show them. */
static bool is_fine(float thick)
{
    return thick >= 6.0F;
}

static void outline(const small_scene *at, const view_point corner[4])
{
    const view_point loop[5] = {corner[0], corner[1], corner[2], corner[3], corner[0]};
    view_stroke_poly(at->draw, loop, 5, 1.0F, 0.0F, at->theme->wood_dark);
}

/* A board along the run, its upper edge at height_m: light on its arris, dark below. */
static void plank(const small_scene *at, float x0, float x1, double height_m, float thick)
{
    const view_theme *t = at->theme;
    const view_point corner[4] = {{x0, y_at(at, height_m, x0)},
                                  {x1, y_at(at, height_m, x1)},
                                  {x1, y_at(at, height_m, x1) + thick},
                                  {x0, y_at(at, height_m, x0) + thick}};
    view_fill_poly(at->draw, corner, 4, t->wood);
    if (is_fine(thick)) {
        view_stroke_line(at->draw, corner[0].x, corner[0].y + 1.5F, corner[1].x, corner[1].y + 1.5F, 2.0F,
                         t->wood_light);
        outline(at, corner);
    }
}

/* The steel shoe that a post stands in. */
static void base(const small_scene *at, float x, float wide, float foot)
{
    const view_theme *t = at->theme;
    const float lip = 0.06F * wide;
    const view_rect shoe = {x - lip, foot - BASE_M * at->k, wide + 2.0F * lip, BASE_M * at->k};
    view_fill_rect(at->draw, shoe, 1.0F, view_mix(t->steel, t->steel_light, 0.5F));
    view_stroke_rect(at->draw, shoe, 1.0F, 1.0F, t->steel_dark);
    for (int i = 0; i < 2; i++) {
        view_fill_circle(at->draw, shoe.x + shoe.w * (0.3F + 0.4F * (float)i), shoe.y + shoe.h / 2.0F, 1.2F,
                         t->steel_dark);
    }
}

static void post(const small_scene *at, mech_end end)
{
    const view_theme *t = at->theme;
    const float wide = fmaxf((float)at->work->post[end].depth_m * at->k, 2.0F);
    const float x = end == MECH_NEAR ? at->near - wide : at->far;
    const float top = y_at(at, (double)at->top_m, end == MECH_NEAR ? at->near : at->far);
    const float foot = y_at(at, 0.0, end == MECH_NEAR ? at->near : at->far);
    const view_point side[4] = {{x, top}, {x + wide, top}, {x + wide, foot}, {x, foot}};
    view_fill_sheen(at->draw, side, 4, false, view_mix(t->wood, t->wood_dark, 0.2F),
                    view_mix(t->wood, t->wood_light, 0.7F));
    if (!is_fine(wide)) {
        return;
    }
    static const float grain[] = {0.14F, 0.31F, 0.4F, 0.62F, 0.83F};
    for (size_t i = 0; i < sizeof grain / sizeof grain[0]; i++) {
        view_stroke_line(at->draw, x + grain[i] * wide, top, x + grain[i] * wide, foot, 0.9F,
                         view_fade(t->wood_dark, 0.45F));
    }
    outline(at, side);
    base(at, x, wide, foot);
}

static void line_posts(const small_scene *at)
{
    const float wide = fmaxf(0.032F * at->k, 1.2F);
    const double height_m = at->work->rail.is_fitted ? at->work->rail.height_m : (double)at->top_m;
    double from_m = 0.0;
    for (int bay = 0; bay + 1 < at->work->bay_count; bay++) {
        from_m += at->work->bay_m[bay];
        const float x = at->near + (at->far - at->near) * (float)(from_m / length_of(at->work));
        const float top = y_at(at, height_m, x);
        const view_rect strip = {x - wide / 2.0F, top, wide, y_at(at, 0.0, x) - top};
        view_fill_rect(at->draw, strip, 0.0F, view_mix(at->theme->wood, at->theme->wood_light, 0.5F));
        if (is_fine(wide)) {
            view_stroke_rect(at->draw, strip, 0.0F, 1.0F, at->theme->wood_dark);
        }
    }
}

/* A piece of a row, along the slope. */
static void along(const small_scene *at, double height_m, float x0, float x1, float thick, view_color color)
{
    view_stroke_line(at->draw, x0, y_at(at, height_m, x0), x1, y_at(at, height_m, x1), thick, color);
}

/* Its turnbuckle stands at the near end, where there is room to see it. */
static void row(const small_scene *at, int index, bool is_own)
{
    const view_theme *t = at->theme;
    const double height_m = at->work->row_height_m[index];
    const float y0 = y_at(at, height_m, at->near);
    const float body = 0.11F * at->k;
    view_stroke_line(at->draw, at->near, y0, at->far, y_at(at, height_m, at->far), is_own ? 1.7F : 1.0F,
                     is_own ? t->accent : t->steel_dark);
    if (body > 7.0F) {
        const float x0 = at->near + 0.25F * body;
        const float thick = fmaxf(0.016F * at->k, 2.4F);
        along(at, height_m, x0, x0 + body, thick, is_own ? t->accent : t->steel_dark);
        if (body > 20.0F) { /* studs, a bright body with its ring mark, the far stud */
            along(at, height_m, at->near, x0 + 1.55F * body, 2.4F, is_own ? t->accent : t->steel_dark);
            along(at, height_m, at->far - 0.5F * body, at->far, 2.4F, is_own ? t->accent : t->steel_dark);
            along(at, height_m, x0, x0 + body, thick + 1.6F, is_own ? t->accent : t->steel_dark);
            along(at, height_m, x0 + 1.2F, x0 + body - 1.2F, thick - 0.8F, t->steel_light);
            const float ring_x = x0 + 0.86F * body;
            view_fill_rect(at->draw, (view_rect){ring_x, y_at(at, height_m, ring_x) - thick / 2.0F, 1.5F, thick}, 0.0F,
                           t->ink);
        }
    }
}

/* A corner post has the ends of the second run in it. */
static void corner_dots(const small_scene *at)
{
    const mech_end end = at->work->corner.end;
    const float half = (float)at->work->post[end].depth_m * at->k / 2.0F;
    const float x = end == MECH_NEAR ? at->near - half : at->far + half;
    for (int i = 0; at->work->corner.is_there && i < at->work->row_count; i++) {
        const float y = y_at(at, at->work->row_height_m[i] + at->work->corner.raise_m, x);
        view_fill_circle(at->draw, x, y, fmaxf(0.01F * at->k, 1.3F), at->theme->steel_light);
    }
}

bool view__is_to_fit(const job_setup *setup, int index)
{
    return setup->is_trainees[index] && setup->start_stage[index] < JOB_STAGE_TENSION;
}

void view__run_small(view_draw *draw, const view_theme *theme, view_rect area, const job_setup *setup)
{
    const mech_structure *work = &setup->structure;
    const small_scene at = place(draw, theme, area, work);
    const float over = OVERHANG_M * at.k;
    view_clip_push(draw, area);
    for (int i = 0; i < work->row_count; i++) {
        row(&at, i, view__is_to_fit(setup, i));
    }
    line_posts(&at);
    plank(&at, at.near - (float)work->post[MECH_NEAR].depth_m * at.k - over,
          at.far + (float)work->post[MECH_FAR].depth_m * at.k + over, 0.0, fmaxf(DECK_M * at.k, 2.0F));
    post(&at, MECH_NEAR);
    post(&at, MECH_FAR);
    corner_dots(&at);
    if (work->rail.is_fitted) {
        const float thick = fmaxf(0.038F * at.k, 2.0F);
        plank(&at, at.near, at.far, work->rail.height_m + 0.019, thick);
    }
    view_clip_pop(draw);
}
