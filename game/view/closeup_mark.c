/* Close-up of marking out: the inner face of the near post, the story pole against it, the pencil. */
#include "pic.h"

#include <math.h>

#include "tautrow/base/text.h"

/* ---- mark ------------------------------------------------------------------------------------------------------- */

typedef struct mark_view {
    float k;
    float y_row; /* where the row is asked for */
    view_rect post, pole;
    float floor_y; /* deck, shown below a break */
    double height_m;
} mark_view;

static mark_view mark_place(const view__board *board, view_rect scene, const job_setup *setup, int row)
{
    mark_view at;
    const float foot = board->pen.text * 1.2F + 44.0F;
    at.height_m = setup->structure.row_height_m[row];
    at.k = fminf((scene.h - foot) / 0.115F, scene.w / 0.3F);
    at.y_row = scene.y + (scene.h - foot) * 0.5F;
    const float breadth = (float)setup->structure.post[MECH_NEAR].breadth_m * at.k;
    const float left = scene.x + scene.w * 0.5F - breadth * 0.3F;
    at.post = (view_rect){left, scene.y + 2.0F, breadth, scene.h - 18.0F};
    at.floor_y = at.post.y + at.post.h;
    at.pole = (view_rect){left - 0.032F * at.k, scene.y + 2.0F, 0.030F * at.k, scene.h - 18.0F};
    return at;
}

static void pole_marks(const view__board *board, const mark_view *at, const job_setup *setup, int row, double pole_m)
{
    const view_theme *theme = board->pen.theme;
    const float text = board->pen.text;
    const view_font font = view__font(board, 0.86F, VIEW_SEMIBOLD);
    const float limit = at->floor_y - 40.0F;
    for (int i = 0; i < setup->structure.row_count; i++) {
        const float y = at->y_row - (float)(setup->structure.row_height_m[i] + pole_m - at->height_m) * at->k;
        if (y < at->pole.y + text || y > limit - 6.0F) {
            continue;
        }
        view_stroke_line(board->pen.draw, at->pole.x + at->pole.w * 0.35F, y, at->pole.x + at->pole.w, y,
                         i == row ? 2.0F : 1.2F, theme->ink);
        char digits[VIEW__TEXT_CAP];
        tr_format(digits, sizeof digits, "%d", i + 1);
        view__say(board, at->pole.x + at->pole.w * 0.3F, y + font.size * 0.35F, font, VIEW_RIGHT, theme->ink, digits);
    }
}

/* A carpenter's pencil: flat, sharpened by knife. The tip is at (x, y). */
static void pencil(const view__board *board, float x, float y, float k)
{
    const view_theme *theme = board->pen.theme;
    const view__axis axis = view__axis_of(x, y, -0.42, k);
    const double r = 0.0035;
    const view_point lead[3] = {view__at(&axis, 0.0, 0.0), view__at(&axis, 0.006, -0.001),
                                view__at(&axis, 0.006, 0.001)};
    const view_point cut[4] = {view__at(&axis, 0.005, -0.0009), view__at(&axis, 0.019, -r), view__at(&axis, 0.019, r),
                               view__at(&axis, 0.005, 0.0009)};
    const view_point wood[4] = {view__at(&axis, 0.018, -r), view__at(&axis, 0.075, -r), view__at(&axis, 0.075, r),
                                view__at(&axis, 0.018, r)};
    view_fill_poly(board->pen.draw, cut, 4, theme->wood_cut);
    view_fill_poly(board->pen.draw, lead, 3, theme->ink);
    view_fill_poly(board->pen.draw, wood, 4, theme->accent);
    const view_point a = view__at(&axis, 0.019, -r * 0.3);
    const view_point b = view__at(&axis, 0.075, -r * 0.3);
    view_stroke_line(board->pen.draw, a.x, a.y, b.x, b.y, 1.0F, view_fade(theme->accent_ink, 0.5F));
}

static void pencil_line(const view__board *board, const mark_view *at, double error_m, double stroke)
{
    const float y = at->y_row - (float)error_m * at->k;
    const float middle = at->post.x + at->post.w * 0.5F;
    const float length = at->post.w * 0.62F * (float)stroke;
    view_stroke_line(board->pen.draw, at->post.x + 3.0F, y, at->post.x + 3.0F + length, y, 1.6F, board->pen.theme->ink);
    if (stroke >= 1.0) {
        view_stroke_line(board->pen.draw, middle, y - 7.0F, middle, y + 7.0F, 1.6F, board->pen.theme->ink);
    }
}

static void mark_dims(const view__board *board, const mark_view *at, const job_setup *setup, const job_row *work,
                      double error_m, double pole_m, bool is_drawn)
{
    char text[VIEW__TEXT_CAP];
    const float x = at->pole.x - board->pen.text * 2.0F;
    /* Outside guided mode the pole is all that the trainee has to go by. */
    const float y_told = view__is_guided(setup) ? at->y_row : at->y_row - (float)pole_m * at->k;
    view_stroke_line(board->pen.draw, x - 4.0F, y_told, at->pole.x - 3.0F, y_told, 1.0F, board->pen.theme->ink_soft);
    view__dash(board, at->pole.x + at->pole.w, y_told, at->post.x + at->post.w, y_told, 1.0F, board->pen.theme->accent);
    view__quantity(board, at->height_m, TR_DIM_LENGTH, text, sizeof text);
    view__dim_up(board, x, y_told, at->floor_y, true, text);
    if (!is_drawn && !work->is_marked) {
        return;
    }
    if (view__is_guided(setup) && fabs(error_m) >= 0.0004) {
        const float y = at->y_row - (float)error_m * at->k;
        const float right = at->post.x + at->post.w + 14.0F;
        view_stroke_line(board->pen.draw, at->post.x + at->post.w, y, right + 6.0F, y, 1.0F, board->pen.theme->warn);
        view_stroke_line(board->pen.draw, at->post.x + at->post.w, at->y_row, right + 6.0F, at->y_row, 1.0F,
                         board->pen.theme->ink_soft);
        view__fine(board, fabs(error_m), TR_DIM_LENGTH, text, sizeof text);
        view__dim_up(board, right, at->y_row, y, false, text);
    }
}

/* The post and pole between the row and the deck are left out: a jagged band across. */
static void broken_across(const view__board *board, float x0, float x1, float y)
{
    view_point edge[2][8];
    view_point band[16];
    for (int i = 0; i < 8; i++) {
        const float x = x0 + (x1 - x0) * (float)i / 7.0F;
        const float jag = i == 0 || i == 7 ? 0.0F : i % 2 == 0 ? 3.5F : -3.5F;
        edge[0][i] = (view_point){x, y + jag};
        edge[1][i] = (view_point){x, y + jag + 10.0F};
        band[i] = edge[0][i];
        band[15 - i] = edge[1][i];
    }
    view_fill_poly(board->pen.draw, band, 16, board->pen.theme->panel);
    view_stroke_poly(board->pen.draw, edge[0], 8, 1.0F, 0.0F, board->pen.theme->ink_soft);
    view_stroke_poly(board->pen.draw, edge[1], 8, 1.0F, 0.0F, board->pen.theme->ink_soft);
}

void view_closeup_mark(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                       const view_hand *hand, view_grip *grip)
{
    const view__board board = {*pen, area};
    const view_theme *theme = pen->theme;
    const job_row *work = &state->row[row];
    const mark_view at = mark_place(&board, area, setup, row);
    const double pole_m = hand->mark.pole_m + state->pole_error_m;
    const double error_m = work->is_marked ? work->height_error_m : pole_m + hand->mark.pencil_m;
    view_clip_push(pen->draw, area);
    view__mirror(&board, true);
    view__wood_face(&board, at.post);
    const float centre = at.post.x + at.post.w * 0.5F;
    view__dash(&board, centre, at.post.y, centre, at.floor_y, 1.0F, view_fade(theme->ink, 0.35F));
    view_fill_rect(pen->draw, (view_rect){area.x + area.w * 0.18F, at.floor_y, area.w * 0.7F, 8.0F}, 0.0F, theme->wood);
    view_stroke_line(pen->draw, area.x + area.w * 0.18F, at.floor_y, area.x + area.w * 0.88F, at.floor_y, 1.4F,
                     theme->wood_dark);
    view_rect pole = at.pole;
    pole.h -= view__clamp((float)pole_m * at.k, -8.0F, 60.0F);
    view_fill_gradient(pen->draw, pole, 0.0F, theme->wood_light, theme->wood_cut);
    view_stroke_rect(pen->draw, pole, 0.0F, 1.2F, theme->wood_dark);
    pole_marks(&board, &at, setup, row, pole_m);
    const double stroke = work->is_marked ? 1.0 : hand->mark.stroke;
    if (stroke > 0.0) {
        pencil_line(&board, &at, error_m, stroke);
    }
    const float cut_y = at.floor_y - 34.0F;
    broken_across(&board, at.pole.x - 14.0F, at.post.x + at.post.w + 14.0F, cut_y);
    mark_dims(&board, &at, setup, work, error_m, pole_m, hand->mark.stroke > 0.0);
    const float pencil_y = at.y_row - (float)error_m * at.k;
    const float pencil_x = at.post.x + 3.0F + at.post.w * 0.62F * (float)hand->mark.stroke;
    if (!work->is_marked) {
        pencil(&board, pencil_x, pencil_y, at.k);
    }
    if (view__is_guided(setup) && fabs(state->pole_error_m + hand->mark.pole_m) >= 0.0004) {
        char text[VIEW__TEXT_CAP];
        char gap[VIEW__TEXT_CAP];
        view__fine(&board, fabs(pole_m), TR_DIM_LENGTH, gap, sizeof gap);
        view__fill(&board, "pic.pole_off", gap, NULL, text, sizeof text);
        view__callout(&board, at.pole.x - pen->text * 2.0F - 12.0F, at.floor_y - pen->text * 0.9F, VIEW_RIGHT,
                      at.pole.x + 4.0F, at.floor_y - 2.0F, text);
    }
    view__mirror(&board, false);
    view_clip_pop(pen->draw);
    view__grip_set(grip, view__grab(pencil_x - 8.0F, pencil_y - 16.0F, 60.0F, 32.0F),
                   (view_point){pencil_x, at.y_row - (float)pole_m * at.k}, at.k, 0.0F, -1.0F);
    view__grip_mirror(&board, grip);
}
