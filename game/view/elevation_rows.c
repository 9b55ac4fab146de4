/* The rows of the elevation: dashed where nothing hangs yet, slack where nothing pulls, humming when plucked. */
#include "elevation.h"

#include <math.h>

#include "tautrow/base/text.h"

typedef struct line {
    int row;
    float y;      /* at x0 */
    float x0, x1; /* faces of the bent posts at this height */
    float fall;   /* down per unit to the right */
    double tension_n;
    bool is_chosen;
} line;

static float y_at(const line *at, float x)
{
    return at->y + at->fall * (x - at->x0);
}

static line line_of(const view__scene *scene, const job_setup *setup, const job_state *state,
                    const view_elevation_look *look, const mech_rows *rows, int row)
{
    const double height = view__row_height(setup, state, row);
    line out = {.row = row, .y = view__scene_y(scene, height), .is_chosen = look->row == row, .fall = scene->fall};
    out.x0 = scene->near_x + (float)(view__bend_at(&scene->bend[MECH_NEAR], height) * scene->factor) * scene->k;
    out.x1 = scene->far_x - (float)(view__bend_at(&scene->bend[MECH_FAR], height) * scene->factor) * scene->k;
    out.tension_n = rows->is_strung[row] ? rows->tension_n[row] : 0.0;
    return out;
}

/* Sag of a parabola at mid bay, to scale, w l^2 / 8 T (values.md: catenary examples); held inside the row's own space.
 */
static float sag_of(const view__scene *scene, const job_setup *setup, const line *at, double bay_m)
{
    const double weight = setup->structure.strand.mass_kg_m * TR_GRAVITY_M_S2;
    const double sag = weight * bay_m * bay_m / (8.0 * fmax(at->tension_n, 0.3));
    const int next = at->row > 0 ? at->row : 1;
    const double spacing = setup->structure.row_count > 1
                               ? setup->structure.row_height_m[next] - setup->structure.row_height_m[next - 1]
                               : setup->structure.row_height_m[0];
    const float drawn = fminf((float)sag, (float)spacing * 0.62F) * scene->k;
    /* A row that carries next to nothing must look so even on a short bay. */
    return at->tension_n < 0.04 * setup->target_n ? fmaxf(drawn, 3.0F) : drawn;
}

static void bay_curve(const view__board *board, const line *at, float x0, float x1, float drop, float width,
                      view_color color)
{
    view_point points[7];
    for (int i = 0; i < 7; i++) {
        const float t = (float)i / 6.0F;
        const float x = x0 + (x1 - x0) * t;
        points[i] = (view_point){x, y_at(at, x) + 4.0F * drop * t * (1.0F - t)};
    }
    view_stroke_curve(board->pen.draw, points, 7, width, color);
}

/* The cable bay by bay from x0 on: straight where it is taut, hanging where not. */
static void cable(const view__board *board, const view__scene *scene, const job_setup *setup, const line *at, float x0,
                  float width, view_color color)
{
    const mech_structure *work = &setup->structure;
    float from = x0;
    double along = 0.0;
    float straight_from = x0;
    bool is_pending = false;
    for (int bay = 0; bay < work->bay_count; bay++) {
        along += work->bay_m[bay];
        const float to = bay + 1 == work->bay_count ? at->x1 : view__scene_x(scene, along);
        const float drop = sag_of(scene, setup, at, work->bay_m[bay]);
        if (drop >= 1.0F && to > from) {
            bay_curve(board, at, from, to, drop, width, color);
            straight_from = to;
            is_pending = false;
        } else {
            is_pending = true;
        }
        from = to;
    }
    if (is_pending) {
        view_stroke_line(board->pen.draw, straight_from, y_at(at, straight_from), at->x1, y_at(at, at->x1), width,
                         color);
    }
}

/* A plucked row: a blur between the two ends of its swing and the cable where it is just now, in the first bay. */
static void hum(const view__board *board, const view__scene *scene, const job_setup *setup,
                const view_elevation_look *look, const line *at, float x0, float width)
{
    const view_theme *theme = board->pen.theme;
    const float x1 = setup->structure.bay_count > 1 ? view__scene_x(scene, setup->structure.bay_m[0]) : at->x1;
    const float swing = (float)look->hum * 6.0F;
    for (int side = -2; side <= 2; side++) {
        bay_curve(board, at, x0, x1, swing * 0.5F * (float)side, width, view_fade(theme->cable, 0.28F));
    }
    bay_curve(board, at, x0, x1, swing * (float)sin(look->hum_rad), width, theme->cable);
    if (x1 < at->x1) {
        view_stroke_line(board->pen.draw, x1, y_at(at, x1), at->x1, y_at(at, at->x1), width, theme->cable);
    }
}

static void body(const view__board *board, const line *at, float x, float length, float r)
{
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    const float ring = x + length - r;
    if (at->fall == 0.0F) {
        const view_rect rect = {x, at->y - r, length, 2.0F * r};
        view_fill_gradient(draw, rect, 1.2F, theme->steel_light, theme->steel);
        view_stroke_rect(draw, rect, 1.2F, 1.0F, theme->steel_dark);
    } else {
        const float y0 = y_at(at, x);
        const float y1 = y_at(at, x + length);
        const view_point corner[4] = {{x, y0 - r}, {x + length, y1 - r}, {x + length, y1 + r}, {x, y0 + r}};
        view_fill_poly(draw, corner, 4, theme->steel);
        view_stroke_poly(draw, corner, 4, 1.0F, 0.0F, theme->steel_dark);
    }
    view_stroke_line(draw, ring, y_at(at, ring) - r, ring, y_at(at, ring) + r, 1.2F, theme->ink);
}

/* Turnbuckle at the near end, as far as it is built; returns where the cable starts. */
static float near_fitting(const view__board *board, const view__scene *scene, const job_setup *setup,
                          const job_row *work, const line *at)
{
    const view__sizes sizes = view__sizes_of(setup);
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    const float k = scene->k;
    float x = at->x0;
    if (work->is_driven) {
        const float r = fmaxf((float)sizes.flange_r * k, 2.5F);
        view_fill_rect(draw, (view_rect){x, at->y - r, 2.0F, 2.0F * r}, 0.0F,
                       work->has_collar ? theme->steel : theme->steel_dark);
        if (work->has_collar) {
            view_fill_rect(draw, (view_rect){x, at->y - r - 1.5F, 3.0F, 2.0F * r + 3.0F}, 1.0F, theme->steel_dark);
        }
    }
    if (!work->anchor_in && !work->is_joined) {
        return x;
    }
    const double shown = sizes.anchor_len - work->engaged.anchor_turns * setup->turnbuckle.anchor.pitch_m;
    const float stud = fmaxf((float)setup->turnbuckle.anchor.major_m * k, 2.0F);
    const float gap = fmaxf((float)fmax(shown, 0.006) * k, 3.0F);
    view_stroke_line(draw, x, y_at(at, x), x + gap, y_at(at, x + gap), stud, theme->steel_dark);
    x += gap;
    const float r = fmaxf((float)sizes.body_r * k, 2.6F);
    body(board, at, x, (float)sizes.body_len * k, r);
    x += (float)sizes.body_len * k;
    if (!work->cable_in && !work->is_joined) {
        return x;
    }
    const double out = sizes.stud_thread - work->engaged.cable_turns * setup->turnbuckle.cable.pitch_m;
    const float neck = fmaxf((float)fmax(out, 0.004) * k, 2.0F);
    view_stroke_line(draw, x, y_at(at, x), x + neck, y_at(at, x + neck), stud, theme->steel_dark);
    const float barrel = (float)sizes.barrel_len * k;
    view_stroke_line(draw, x + neck, y_at(at, x + neck), x + neck + barrel, y_at(at, x + neck + barrel),
                     fmaxf((float)setup->crimp.barrel_m * k, 3.2F), theme->steel_dark);
    return x + neck + barrel;
}

static void far_fitting(const view__board *board, const view__scene *scene, const job_setup *setup, const line *at)
{
    const float thick = fmaxf((float)setup->crimp.barrel_m * scene->k, 2.4F);
    const float r = fmaxf((float)view__sizes_of(setup).flange_r * scene->k, 2.5F);
    const float y = y_at(at, at->x1);
    view_stroke_line(board->pen.draw, at->x1 - 0.05F * scene->k, y_at(at, at->x1 - 0.05F * scene->k), at->x1, y,
                     fmaxf(thick, 3.2F), board->pen.theme->steel_dark);
    view_fill_rect(board->pen.draw, (view_rect){at->x1 - 2.0F, y - r, 2.0F, 2.0F * r}, 0.0F,
                   board->pen.theme->steel_dark);
}

static void hole_and_mark(const view__board *board, const view__scene *scene, const job_row *work, const line *at)
{
    const view_theme *theme = board->pen.theme;
    if (work->is_marked && !work->is_driven) {
        view_stroke_line(board->pen.draw, at->x0 - 9.0F, at->y, at->x0, at->y, 1.4F, theme->ink);
    }
    if (work->is_drilled && !work->is_driven) {
        const float depth = (float)work->hole.depth_m * scene->k;
        const float half = fmaxf((float)work->hole.diameter_m * scene->k * 0.5F, 1.2F);
        const view_point hole[4] = {{at->x0, at->y - half},
                                    {at->x0 - depth, at->y - half},
                                    {at->x0 - depth, at->y + half},
                                    {at->x0, at->y + half}};
        view_stroke_poly(board->pen.draw, hole, 4, 1.0F, 2.5F, view_fade(theme->ink, 0.6F));
    }
}

/* Of the chosen row's plate. Where the lowest row is close to the deck, the arrow of the base has its room below. */
static float plate_y(const view__board *board, const view__scene *scene, float row_y)
{
    return fmaxf(row_y - 4.0F, fminf(row_y, scene->deck_y - 10.0F - 0.75F * board->pen.text));
}

static void number(const view__board *board, const view__scene *scene, const job_setup *setup, const line *at,
                   bool is_shown)
{
    const view_theme *theme = board->pen.theme;
    char digits[VIEW__TEXT_CAP];
    tr_format(digits, sizeof digits, "%d", at->row + 1);
    const float right = scene->near_x - (float)setup->structure.post[MECH_NEAR].depth_m * scene->k - 10.0F;
    if (at->is_chosen) {
        char text[VIEW__TEXT_CAP];
        view__fill(board, "pic.row", digits, NULL, text, sizeof text);
        const view_font font = view__font(board, 0.93F, VIEW_SEMIBOLD);
        const float width = view__width(board, font, text) + font.size;
        view__plate(board, right + 4.0F - width / 2.0F, plate_y(board, scene, at->y), font, theme->accent,
                    theme->accent_ink, text);
    } else if (is_shown) {
        const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
        view__say(board, right, at->y + font.size * 0.35F, font, VIEW_RIGHT, theme->ink_soft, digits);
    }
}

static void row(const view__board *board, const view__scene *scene, const job_setup *setup, const job_state *state,
                const view_elevation_look *look, const line *at)
{
    const view_theme *theme = board->pen.theme;
    const job_row *work = &state->row[at->row];
    const float width = fmaxf((float)setup->structure.strand.diameter_m * scene->k, 1.5F);
    if (at->is_chosen) {
        view_stroke_line(board->pen.draw, at->x0, at->y, at->x1, y_at(at, at->x1), fmaxf(0.045F * scene->k, 12.0F),
                         view_fade(theme->accent, 0.16F));
    }
    hole_and_mark(board, scene, work, at);
    const float start = near_fitting(board, scene, setup, work, at);
    if (!work->is_hung && !work->is_joined) {
        const view_color guide = at->is_chosen ? theme->accent : theme->ink_faint;
        view__dash(board, start, y_at(at, start), at->x1, y_at(at, at->x1), at->is_chosen ? 1.4F : 1.0F, guide);
        return;
    }
    far_fitting(board, scene, setup, at);
    if (look->plucked_row == at->row && look->hum > 0.01) {
        hum(board, scene, setup, look, at, start, width);
    } else {
        line shown = *at;
        if (!work->is_joined) {
            shown.tension_n = work->pulled_n;
        }
        cable(board, scene, setup, &shown, work->is_joined ? start : fmaxf(start - 0.06F * scene->k, at->x0), width,
              theme->cable);
    }
}

/* Numbers are thinned to every second or fifth row where rows are drawn closer than the digits are tall. */
static int number_step(const view__board *board, const view__scene *scene, const mech_structure *work)
{
    if (work->row_count < 2) {
        return 1;
    }
    const double reach = work->row_height_m[work->row_count - 1] - work->row_height_m[0];
    const float pace = (float)(reach / (double)(work->row_count - 1)) * scene->k;
    const float need = board->pen.text * 0.95F;
    return pace >= need ? 1 : 2.0F * pace >= need ? 2 : 5.0F * pace >= need ? 5 : 10;
}

static void show_gap(const view__board *board, const view__scene *scene, float top, float bottom)
{
    const view_color accent = board->pen.theme->accent;
    const view_rect gap = {scene->near_x, top, scene->far_x - scene->near_x, bottom - top};
    if (scene->fall == 0.0F) {
        view_fill_rect(board->pen.draw, gap, 0.0F, view_fade(accent, 0.14F));
        view_stroke_rect(board->pen.draw, gap, 0.0F, 1.4F, accent);
        return;
    }
    const float drop = view__scene_fall(scene, scene->far_x);
    const view_point corner[4] = {
        {gap.x, top}, {scene->far_x, top + drop}, {scene->far_x, bottom + drop}, {gap.x, bottom}};
    view_fill_poly(board->pen.draw, corner, 4, view_fade(accent, 0.14F));
    view_stroke_poly(board->pen.draw, corner, 4, 1.4F, 0.0F, accent);
}

void view__elevation_rows(const view__board *board, const view__scene *scene, const job_setup *setup,
                          const job_state *state, const view_elevation_look *look, const mech_rows *rows)
{
    const int count = setup->structure.row_count;
    const int step = number_step(board, scene, &setup->structure);
    const float need = board->pen.text * 1.6F;
    float chosen_y = -1e6F;
    if (look->row >= 0 && look->row < count) {
        chosen_y = plate_y(board, scene, view__scene_y(scene, view__row_height(setup, state, look->row)));
    }
    for (int i = 0; i < count; i++) {
        const line at = line_of(scene, setup, state, look, rows, i);
        row(board, scene, setup, state, look, &at);
        const bool is_clear = fabsf(at.y - chosen_y) >= need * 0.78F;
        number(board, scene, setup, &at, is_clear && (step == 1 || (i + 1) % step == 0));
    }
    if (look->gap >= 0 && look->gap <= count) {
        const mech_structure *work = &setup->structure;
        const float bottom =
            look->gap == 0 ? scene->deck_y : view__scene_y(scene, view__row_height(setup, state, look->gap - 1));
        const float top = look->gap == count
                              ? view__scene_y(scene, work->rail.is_fitted ? work->rail.height_m : scene->top_m)
                              : view__scene_y(scene, view__row_height(setup, state, look->gap));
        show_gap(board, scene, top, bottom);
    }
}
