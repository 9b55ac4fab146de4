/* The run in elevation: deck, posts straight and bent, rail, rows with their fittings, forces. True to scale but for
 * the bend of the posts, which is drawn larger by a stated factor, and for a run too long for its place, which is
 * broken in the middle. */
#include "elevation.h"

#include <math.h>

#include "pic.h"
#include "tautrow/base/text.h"

/* ---- where things lie ------------------------------------------------------------------------------------------- */

static float places_for_text(const view__board *board, bool show_true)
{
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    return show_true ? view__width(board, font, "8,888 lbf ft") + 6.0F : 0.0F;
}

static void place(const view__board *board, const job_setup *setup, const job_state *state,
                  const view_elevation_look *look, view__scene *scene)
{
    const mech_structure *work = &setup->structure;
    const float text = board->pen.text;
    const view_rect area = board->area;
    char row[VIEW__TEXT_CAP];
    view__fill(board, "pic.row", "40", NULL, row, sizeof row);
    scene->number_w = view__width(board, view__font(board, 0.93F, VIEW_SEMIBOLD), row) + text * 1.1F;
    scene->label_w = places_for_text(board, look->show_true);
    scene->length_m = state->run.length_m > 0.0 ? state->run.length_m : 1.0;
    scene->cos_slope = state->run.length_m > 0.0 ? state->run.cos_slope : 1.0;
    scene->top_m =
        (work->rail.is_fitted ? work->rail.height_m : work->row_height_m[work->row_count - 1] + 0.05) + 0.045;
    const float head = text * 1.9F;
    const float foot = text * 1.6F + 26.0F;
    const float depth = (float)fmax(work->post[MECH_NEAR].depth_m, work->post[MECH_FAR].depth_m);
    const float left = area.x + scene->label_w + scene->number_w;
    const float room = area.x + area.w - left - 8.0F;
    const float level = (float)(scene->length_m * scene->cos_slope);
    const float rise = (float)(scene->length_m * state->run.sin_slope);
    const float tall = (area.h - head - foot) / ((float)scene->top_m + rise);
    const float wide = room / (level + 2.0F * depth + 0.05F);
    const bool is_stair = rise > 0.0F; /* a stair is drawn whole: a break would have no place for its rise */
    scene->k = wide >= tall * 0.72F || is_stair ? fminf(tall, wide) : tall;
    scene->is_broken = wide < tall * 0.72F && !is_stair;
    scene->fall = work->upper == MECH_FAR ? -rise / level : rise / level;
    scene->deck_y = area.y + area.h - foot - (work->upper == MECH_FAR ? 0.0F : rise * scene->k);
    const float used = (level + 2.0F * depth) * scene->k;
    scene->near_x = left + depth * scene->k + (scene->is_broken ? 0.0F : fmaxf(room - used, 0.0F) * 0.5F);
    const float end = scene->is_broken ? area.x + area.w - 8.0F : scene->near_x + (level + depth) * scene->k;
    scene->far_x = end - depth * scene->k;
    scene->break_x = scene->near_x + (scene->far_x - scene->near_x) * 0.66F;
    scene->factor = look->exaggeration > 0.0 ? look->exaggeration : view_bend_factor(setup, state);
}

float view__scene_x(const view__scene *scene, double from_near_m)
{
    const float near = scene->near_x + (float)(from_near_m * scene->cos_slope) * scene->k;
    const float far = scene->far_x - (float)((scene->length_m - from_near_m) * scene->cos_slope) * scene->k;
    if (!scene->is_broken) {
        return near;
    }
    /* What lies between the two shown ends has no place of its own: it falls into the break. */
    return near <= scene->break_x ? near : far >= scene->break_x ? far : scene->break_x;
}

float view__scene_y(const view__scene *scene, double height_m)
{
    return scene->deck_y - (float)height_m * scene->k;
}

float view__scene_fall(const view__scene *scene, float x)
{
    return scene->fall * (x - scene->near_x);
}

double view_bend_factor(const job_setup *setup, const job_state *state)
{
    mech_rows full = {0};
    double largest = 0.0;
    for (int i = 0; i < setup->structure.row_count; i++) {
        full.is_strung[i] = true;
        full.tension_n[i] = setup->target_n;
    }
    for (int end = 0; end < MECH_ENDS; end++) {
        double bend[MECH_MAX_ROWS + 1];
        mech_run_deflection(&state->run, &full, (mech_end)end, bend);
        for (int i = 0; i <= setup->structure.row_count; i++) {
            largest = fmax(largest, fabs(bend[i]));
        }
    }
    const double depth = fmax(setup->structure.post[MECH_NEAR].depth_m, 0.03);
    if (!(largest > 1e-9)) {
        return 1.0;
    }
    return fmin(fmax(view__round_down(0.5 * depth / largest), 1.0), 200.0);
}

/* ---- posts ------------------------------------------------------------------------------------------------------ */

enum { POST_STEPS = 20 };

/* Slope of the bend at node i by the parabola through its neighbours; at the base 0 when it is clamped. */
static double slope_at(const double h[], const double u[], int count, int i, bool is_clamped)
{
    if (i == 0) {
        return is_clamped ? 0.0 : (u[1] - u[0]) / (h[1] - h[0]);
    }
    if (i == count - 1) {
        return (u[i] - u[i - 1]) / (h[i] - h[i - 1]);
    }
    const double below = h[i] - h[i - 1];
    const double above = h[i + 1] - h[i];
    return ((u[i] - u[i - 1]) / below * above + (u[i + 1] - u[i]) / above * below) / (below + above);
}

/* Cubic through the nodes that the solver gives, so that a post bends smoothly even with three rows. */
double view__bend_at(const view__bend *bend, double height_m)
{
    int i = 0;
    while (i < bend->count - 2 && height_m > bend->h[i + 1]) {
        i++;
    }
    const double step = bend->h[i + 1] - bend->h[i];
    const double t = (height_m - bend->h[i]) / step;
    const double m0 = slope_at(bend->h, bend->u, bend->count, i, bend->is_clamped) * step;
    const double m1 = slope_at(bend->h, bend->u, bend->count, i + 1, bend->is_clamped) * step;
    if (t > 1.0) {
        return bend->u[i + 1] + m1 * (t - 1.0);
    }
    const double t2 = t * t;
    const double t3 = t2 * t;
    return (2.0 * t3 - 3.0 * t2 + 1.0) * bend->u[i] + (t3 - 2.0 * t2 + t) * m0 +
           (3.0 * t2 - 2.0 * t3) * bend->u[i + 1] + (t3 - t2) * m1;
}

void view__bend_of(const mech_run *run, const mech_rows *rows, mech_end end, view__bend *bend)
{
    const mech_structure *work = &run->made_of;
    double at[MECH_MAX_ROWS + 1] = {0};
    mech_run_deflection(run, rows, end, at);
    bend->count = 1;
    bend->h[0] = 0.0;
    bend->u[0] = 0.0;
    bend->is_clamped = isinf(work->post[end].base_n_m_rad) != 0;
    for (int i = 0; i < work->row_count; i++) {
        bend->h[bend->count] = work->row_height_m[i];
        bend->u[bend->count++] = at[i];
    }
    if (work->rail.is_fitted && work->rail.height_m > bend->h[bend->count - 1] + 1e-6) {
        bend->h[bend->count] = work->rail.height_m;
        bend->u[bend->count++] = at[work->row_count];
    }
}

/* A point of the bent post, so far behind its inner face. */
static view_point post_point(const view__scene *scene, mech_end end, double from_face_m, double height_m)
{
    const float inward = end == MECH_NEAR ? 1.0F : -1.0F;
    const float face = end == MECH_NEAR ? scene->near_x : scene->far_x;
    const float bend = (float)(view__bend_at(&scene->bend[end], height_m) * scene->factor) * scene->k;
    return (view_point){face + inward * (bend - (float)from_face_m * scene->k),
                        view__scene_y(scene, height_m) + view__scene_fall(scene, face)};
}

/* A line from foot to top: the face at 0, the back at the post's depth, grain between. */
static void post_line(const view__scene *scene, mech_end end, double from_face_m, view_point out[POST_STEPS])
{
    for (int i = 0; i < POST_STEPS; i++) {
        out[i] = post_point(scene, end, from_face_m, scene->top_m * (double)i / (double)(POST_STEPS - 1));
    }
}

static void post(const view__board *board, const view__scene *scene, const mech_post *size, mech_end end)
{
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    const float depth = (float)size->depth_m * scene->k;
    const float foot = scene->deck_y + view__scene_fall(scene, end == MECH_NEAR ? scene->near_x : scene->far_x);
    const float top = foot - (float)scene->top_m * scene->k;
    const view_rect straight = {end == MECH_NEAR ? scene->near_x - depth : scene->far_x, top, depth, foot - top};
    view_point face[POST_STEPS];
    view_point outline[2 * POST_STEPS];
    post_line(scene, end, 0.0, face);
    post_line(scene, end, size->depth_m, outline);
    for (int i = 0; i < POST_STEPS; i++) {
        outline[2 * POST_STEPS - 1 - i] = face[i];
    }
    view_fill_sheen(draw, outline, (size_t)2 * POST_STEPS, false, theme->wood, theme->wood_light);
    for (int line = 1; line <= 4; line++) {
        view_point ring[POST_STEPS];
        post_line(scene, end, size->depth_m * (0.2 * (double)line + 0.04 * sin(2.3 * (double)line)), ring);
        view_stroke_poly(draw, ring, POST_STEPS, line == 2 ? 1.3F : 0.7F, 0.0F, view_fade(theme->wood_dark, 0.4F));
    }
    view_stroke_poly(draw, outline, (size_t)2 * POST_STEPS, 1.2F, 0.0F, theme->wood_dark);
    const view_point ghost[4] = {
        {straight.x, foot}, {straight.x, top}, {straight.x + depth, top}, {straight.x + depth, foot}};
    view_stroke_poly(draw, ghost, 4, 1.2F, 4.0F, theme->ghost);
    /* base fitting: a shoe of folded plate with its two bolts */
    const float shoe_h = fmaxf(0.07F * scene->k, 6.0F);
    const view_rect shoe = {straight.x - 3.0F, foot - shoe_h, depth + 6.0F, shoe_h};
    view_fill_gradient(draw, shoe, 1.5F, theme->steel_light, theme->steel);
    view_stroke_rect(draw, shoe, 1.5F, 1.0F, theme->steel_dark);
    view_fill_circle(draw, shoe.x + shoe.w * 0.28F, shoe.y + shoe.h * 0.5F, 1.8F, theme->steel_dark);
    view_fill_circle(draw, shoe.x + shoe.w * 0.72F, shoe.y + shoe.h * 0.5F, 1.8F, theme->steel_dark);
}

/* ---- deck, rail, line posts ------------------------------------------------------------------------------------- */

/* A bar along the deck: its upper edge at y where the near post stands, falling with the deck. */
static void slanted(const view__scene *scene, float left, float right, float y, float height, view_point out[4])
{
    const float drop[2] = {view__scene_fall(scene, left), view__scene_fall(scene, right)};
    out[0] = (view_point){left, y + drop[0]};
    out[1] = (view_point){right, y + drop[1]};
    out[2] = (view_point){right, y + height + drop[1]};
    out[3] = (view_point){left, y + height + drop[0]};
}

static void plank(const view__board *board, const view__scene *scene, float left, float right, float y, float height,
                  view_color color)
{
    view_point corner[4];
    if (scene->fall == 0.0F) {
        view_fill_rect(board->pen.draw, (view_rect){left, y, right - left, height}, 0.0F, color);
        return;
    }
    slanted(scene, left, right, y, height, corner);
    view_fill_poly(board->pen.draw, corner, 4, color);
}

static void deck(const view__board *board, const view__scene *scene, const job_setup *setup)
{
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    const float left = scene->near_x - (float)setup->structure.post[MECH_NEAR].depth_m * scene->k - scene->number_w;
    const float right = fminf(scene->far_x + (float)setup->structure.post[MECH_FAR].depth_m * scene->k + 8.0F,
                              board->area.x + board->area.w);
    plank(board, scene, left, right, scene->deck_y, 7.0F, theme->wood);
    view_stroke_line(draw, left, scene->deck_y + view__scene_fall(scene, left), right,
                     scene->deck_y + view__scene_fall(scene, right), 1.4F, theme->wood_dark);
    plank(board, scene, left, right, scene->deck_y + 7.0F, 5.0F, theme->ground);
    char length[VIEW__TEXT_CAP];
    view__quantity(board, scene->length_m, TR_DIM_LENGTH, length, sizeof length);
    if (scene->fall != 0.0F) { /* the length is along the slope, and so not what is drawn below the picture */
        char angle[VIEW__TEXT_CAP];
        view__quantity(board, setup->structure.slope_rad, TR_DIM_ANGLE, angle, sizeof angle);
        tr_append(length, sizeof length, " / %s", angle);
    }
    view__dim_across(board, scene->near_x, scene->far_x, board->area.y + board->area.h - 7.0F, length);
}

static void rail(const view__board *board, const view__scene *scene, const mech_rail *size)
{
    if (!size->is_fitted) {
        return;
    }
    const view_theme *theme = board->pen.theme;
    const float half = 0.019F * scene->k;
    const float y = view__scene_y(scene, size->height_m);
    const float in[MECH_ENDS] = {
        (float)(view__bend_at(&scene->bend[MECH_NEAR], size->height_m) * scene->factor) * scene->k,
        (float)(view__bend_at(&scene->bend[MECH_FAR], size->height_m) * scene->factor) * scene->k};
    const view_rect bar = {scene->near_x + in[MECH_NEAR], y - half,
                           scene->far_x - in[MECH_FAR] - scene->near_x - in[MECH_NEAR], 2.0F * half};
    if (scene->fall != 0.0F) {
        view_point corner[4];
        slanted(scene, bar.x, bar.x + bar.w, bar.y, bar.h, corner);
        view_fill_poly(board->pen.draw, corner, 4, theme->wood_light);
        view_stroke_poly(board->pen.draw, corner, 4, 1.0F, 0.0F, theme->wood_dark);
        return;
    }
    view_fill_gradient(board->pen.draw, bar, 1.0F, theme->wood_light, theme->wood);
    view_stroke_rect(board->pen.draw, bar, 1.0F, 1.0F, theme->wood_dark);
}

static void line_posts(const view__board *board, const view__scene *scene, const mech_structure *work)
{
    const view_theme *theme = board->pen.theme;
    const float half = 0.016F * scene->k;
    double at = 0.0;
    for (int bay = 0; bay + 1 < work->bay_count; bay++) {
        at += work->bay_m[bay];
        const float x = view__scene_x(scene, at);
        if (scene->is_broken && fabsf(x - scene->break_x) < 14.0F) {
            continue;
        }
        const float drop = view__scene_fall(scene, x);
        const float top = view__scene_y(scene, work->rail.is_fitted ? work->rail.height_m : scene->top_m) + drop;
        const view_rect bar = {x - half, top, 2.0F * half, scene->deck_y + drop - top};
        view_fill_rect(board->pen.draw, bar, 0.0F, view_mix(theme->wood_light, theme->panel, 0.25F));
        view_stroke_rect(board->pen.draw, bar, 0.0F, 0.9F, theme->wood_dark);
    }
}

/* ---- corner, bends ---------------------------------------------------------------------------------------------- */

/* The second run at a corner post, seen end-on: its strand in a collar at each row, its rail as a sawn end. */
static void corner_ends(const view__board *board, const view__scene *scene, const mech_structure *work)
{
    if (!work->corner.is_there) {
        return;
    }
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    const mech_end end = work->corner.end;
    const double middle_m = work->post[end].depth_m / 2.0;
    for (int row = 0; row < work->row_count; row++) {
        const view_point at = post_point(scene, end, middle_m, work->row_height_m[row] + work->corner.raise_m);
        const float radius = fmaxf(0.009F * scene->k, 2.4F);
        view_fill_circle(draw, at.x, at.y, radius, theme->steel_light);
        view_stroke_circle(draw, at.x, at.y, radius, 0.9F, theme->steel_dark);
        view_fill_circle(draw, at.x, at.y, radius * 0.42F, theme->cable);
    }
    if (work->rail.is_fitted) {
        const view_point at = post_point(scene, end, middle_m, work->rail.height_m);
        const float half = (float)work->post[end].depth_m * scene->k * 0.22F;
        const view_rect sawn = {at.x - half, at.y - half, 2.0F * half, 2.0F * half};
        view_fill_rect(draw, sawn, 1.0F, theme->wood_cut);
        view_stroke_rect(draw, sawn, 1.0F, 0.9F, theme->wood_dark);
    }
}

/* Line posts at which the rows change direction: an eye at each hole, and by how much above. The run itself is drawn
 * unrolled. */
static void bends(const view__board *board, const view__scene *scene, const mech_structure *work)
{
    const view_theme *theme = board->pen.theme;
    const view_font font = view__font(board, 0.79F, VIEW_SEMIBOLD);
    for (int i = 0; i < work->bend_count; i++) {
        double at_m = 0.0;
        for (int bay = 0; bay <= work->bend[i].line_post; bay++) {
            at_m += work->bay_m[bay];
        }
        const float x = view__scene_x(scene, at_m);
        if (scene->is_broken && fabsf(x - scene->break_x) < 14.0F) {
            continue;
        }
        const float drop = view__scene_fall(scene, x);
        for (int row = 0; row < work->row_count; row++) {
            const float y = view__scene_y(scene, work->row_height_m[row]) + drop;
            view_stroke_circle(board->pen.draw, x, y, 3.2F, 1.4F, theme->steel_dark);
        }
        char angle[VIEW__TEXT_CAP];
        view__quantity(board, work->bend[i].angle_rad, TR_DIM_ANGLE, angle, sizeof angle);
        view__say(board, x, view__scene_y(scene, scene->top_m) + drop - 5.0F, font, VIEW_CENTRE, theme->ink_soft,
                  angle);
    }
}

/* ---- forces (guided) -------------------------------------------------------------------------------------------- */

/* Length of a force arrow: grows from nothing to the width of the number column at the pull of the finished run. */
static float arrow_length(const view__scene *scene, const job_setup *setup, double force_n)
{
    const double full = 0.6 * setup->target_n * (double)setup->structure.row_count;
    return view__clamp((float)(fabs(force_n) / fmax(full, 1.0)) * scene->number_w, 0.0F, scene->number_w - 6.0F);
}

static void force_at(const view__board *board, const view__scene *scene, const job_setup *setup, double height_m,
                     float lift, double force_n, const char *key)
{
    const float length = arrow_length(scene, setup, force_n);
    const view_theme *theme = board->pen.theme;
    const view_font font = view__font(board, 0.79F, VIEW_REGULAR);
    const float x = scene->near_x - (float)setup->structure.post[MECH_NEAR].depth_m * scene->k - 4.0F;
    const float y = view__scene_y(scene, height_m) + lift;
    if (length >= 5.0F) {
        /* The arrow pushes on the post from the run's side of things: away from the run. */
        view_arrow(board->pen.draw, x, y, x - length, y, 2.6F, theme->force);
    }
    if ((float)scene->top_m * scene->k < 3.6F * font.size) {
        return; /* a post drawn so small has no room for the words of both rail and base */
    }
    char value[VIEW__TEXT_CAP];
    view__quantity(board, force_n, TR_DIM_FORCE, value, sizeof value);
    const float text_x =
        scene->near_x - (float)setup->structure.post[MECH_NEAR].depth_m * scene->k - scene->number_w - 6.0F;
    const float base = height_m > 0.0 ? y - 1.0F : y - font.size * 0.7F;
    view__say(board, text_x, base, font, VIEW_RIGHT, theme->ink_soft, view__word(board, key));
    view__say(board, text_x, base + font.size * 1.1F, font, VIEW_RIGHT, theme->ink, value);
}

/* A curved arrow whose sweep grows with the off-centre load; it turns the way the rows want to tip the post. */
static void swing(const view__board *board, const view__scene *scene, const job_setup *setup, const mech_rows *rows,
                  double off_n_m)
{
    const mech_structure *work = &setup->structure;
    const double middle = 0.5 * (work->row_height_m[0] + work->row_height_m[work->row_count - 1]);
    const double reach = 0.5 * (work->row_height_m[work->row_count - 1] - work->row_height_m[0]);
    double moment = 0.0;
    for (int i = 0; i < work->row_count; i++) {
        moment += rows->tension_n[i] * (work->row_height_m[i] - middle);
    }
    const double full = setup->target_n * fmax(reach, 0.05) * 0.3 * (double)work->row_count;
    const float share = view__clamp((float)(fabs(off_n_m) / full), 0.0F, 1.0F);
    const float sweep = 0.5F + share * 2.2F;
    /* its head stays off the numbers beside the post */
    const float radius = fmaxf(0.5F * (float)work->post[MECH_NEAR].depth_m * scene->k + 1.0F, 9.0F);
    const float x = scene->near_x - 0.5F * (float)work->post[MECH_NEAR].depth_m * scene->k;
    const float y = view__scene_y(scene, middle);
    const view_theme *theme = board->pen.theme;
    if (share > 0.02F) {
        /* Rows above the middle pull the top inward: clockwise, as the near post stands at the left. */
        const float sign = moment >= 0.0 ? 1.0F : -1.0F;
        const float start = -1.5708F - sign * sweep * 0.5F;
        const float end = start + sign * sweep;
        view_stroke_arc(board->pen.draw, x, y, radius, fminf(start, end), fmaxf(start, end), 2.4F, theme->force);
        const float tip_x = x + radius * cosf(end);
        const float tip_y = y + radius * sinf(end);
        const float dx = -sinf(end) * sign;
        const float dy = cosf(end) * sign;
        const view_point head[3] = {{tip_x + dx * 8.0F, tip_y + dy * 8.0F},
                                    {tip_x - dy * 4.5F, tip_y + dx * 4.5F},
                                    {tip_x + dy * 4.5F, tip_y - dx * 4.5F}};
        view_fill_poly(board->pen.draw, head, 3, theme->force);
    }
    char value[VIEW__TEXT_CAP];
    view__quantity(board, off_n_m, TR_DIM_MOMENT, value, sizeof value);
    const view_font font = view__font(board, 0.79F, VIEW_REGULAR);
    const float text_x =
        scene->near_x - (float)setup->structure.post[MECH_NEAR].depth_m * scene->k - scene->number_w - 6.0F;
    if ((float)scene->top_m * scene->k < 7.5F * font.size) {
        return; /* on a post drawn so small its place is taken by rail and base */
    }
    view__say(board, text_x, y - 2.0F, font, VIEW_RIGHT, theme->ink_soft, view__word(board, "pic.off_centre"));
    view__say(board, text_x, y + font.size * 1.1F, font, VIEW_RIGHT, theme->ink, value);
}

static void forces(const view__board *board, const view__scene *scene, const job_setup *setup, const job_state *state,
                   const mech_rows *rows)
{
    mech_loads loads;
    mech_run_loads(&state->run, rows, &loads);
    if (setup->structure.rail.is_fitted) {
        force_at(board, scene, setup, setup->structure.rail.height_m, 0.0F, loads.rail_n, "pic.rail");
    }
    force_at(board, scene, setup, 0.0, -5.0F, loads.base_shear_n[MECH_NEAR], "pic.base");
    swing(board, scene, setup, rows, loads.off_centre_n_m);
}

/* ---- hit rects -------------------------------------------------------------------------------------------------- */

static void find_hits(const view__board *board, const view__scene *scene, const job_setup *setup,
                      const job_state *state, view_hits *hits)
{
    const int count = setup->structure.row_count;
    float y[MECH_MAX_ROWS + 2];
    y[0] = scene->deck_y;
    for (int i = 0; i < count; i++) {
        y[i + 1] = view__scene_y(scene, view__row_height(setup, state, i));
    }
    y[count + 1] =
        view__scene_y(scene, setup->structure.rail.is_fitted ? setup->structure.rail.height_m : scene->top_m);
    hits->row_count = count;
    /* on a stair bands as wide as the picture would not lie on their rows: there the near end is where they are caught
     */
    const float wide = scene->fall == 0.0F ? board->area.w : scene->near_x + 24.0F - board->area.x;
    for (int i = 0; i <= count; i++) {
        hits->gap[i] = view__mirrored(board, (view_rect){board->area.x, y[i + 1], wide, y[i] - y[i + 1]});
    }
    for (int i = 0; i < count; i++) {
        const float bottom = i == 0 ? fminf(y[0], 2.0F * y[1] - (y[1] + y[2]) / 2.0F) : (y[i] + y[i + 1]) / 2.0F;
        const float top = i == count - 1 ? fmaxf(y[count + 1], 2.0F * y[count] - (y[count - 1] + y[count]) / 2.0F)
                                         : (y[i + 1] + y[i + 2]) / 2.0F;
        hits->row[i] = view__mirrored(board, (view_rect){board->area.x, top, wide, bottom - top});
    }
}

/* ---- the whole -------------------------------------------------------------------------------------------------- */

/* The bend's factor, beside the buttons that change it where there are any. */
static void heading(const view__board *board, view__scene *scene, const mech_structure *work, float corner_w)
{
    char number[VIEW__TEXT_CAP];
    char text[VIEW__TEXT_CAP];
    tr_format(number, sizeof number, "%.0f", scene->factor);
    view__fill(board, "pic.bend", number, NULL, text, sizeof text);
    if (work->corner.is_there) {
        tr_append(text, sizeof text, " · %s", view__word(board, "pic.corner"));
    }
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    const float right = board->area.x + board->area.w - corner_w - 0.4F * font.size;
    scene->heading_x = right - view__width(board, font, text);
    scene->heading_y = board->area.y + font.size * 1.45F; /* in the middle of the buttons' height */
    view__say(board, right, scene->heading_y, font, VIEW_RIGHT, board->pen.theme->ink_soft, text);
}

void view_elevation(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state,
                    const view_elevation_look *look, view_hits *hits)
{
    const view__board board = {*pen, area};
    view__scene scene = {0};
    place(&board, setup, state, look, &scene);
    mech_rows rows = state->rows;
    for (int i = 0; look->tension_n != NULL && i < setup->structure.row_count; i++) {
        rows.tension_n[i] = look->tension_n[i];
    }
    view__bend_of(&state->run, &rows, MECH_NEAR, &scene.bend[MECH_NEAR]);
    view__bend_of(&state->run, &rows, MECH_FAR, &scene.bend[MECH_FAR]);

    view_clip_push(pen->draw, area);
    view__mirror(&board, true);
    deck(&board, &scene, setup);
    line_posts(&board, &scene, &setup->structure);
    rail(&board, &scene, &setup->structure.rail);
    post(&board, &scene, &setup->structure.post[MECH_NEAR], MECH_NEAR);
    post(&board, &scene, &setup->structure.post[MECH_FAR], MECH_FAR);
    view__elevation_rows(&board, &scene, setup, state, look, &rows);
    corner_ends(&board, &scene, &setup->structure);
    bends(&board, &scene, &setup->structure);
    if (scene.is_broken) {
        view__break_line(&board, scene.break_x - 7.0F, view__scene_y(&scene, scene.top_m), scene.deck_y + 12.0F, 14.0F,
                         pen->theme->panel);
    }
    heading(&board, &scene, &setup->structure, look->corner_w);
    if (look->show_true) {
        forces(&board, &scene, setup, state, &rows);
        view__elevation_trip(&board, &scene, setup, state, look, &rows);
    }
    view__mirror(&board, false);
    view_clip_pop(pen->draw);
    if (hits != NULL) {
        find_hits(&board, &scene, setup, state, hits);
    }
}
