/* The chart of the posts' shape: deflection over height, near and far, with the rows' heights as ticks. */
#include "chart.h"

#include <math.h>

#include "elevation.h"
#include "tautrow/base/text.h"

enum { SHAPE_STEPS = 24 };

/* Bends are a fraction of an inch: shown in the small unit of each system. */
static double small_length(const view__board *board, double m)
{
    return board->pen.units == TR_US ? m / TR_INCH_M : m * 1000.0;
}

static void shape_line(const view__board *board, const view__chart *chart, const view__bend *bend, double top_m,
                       bool is_dashed, view_color color)
{
    view_point points[SHAPE_STEPS];
    for (int i = 0; i < SHAPE_STEPS; i++) {
        const double h = top_m * (double)i / (double)(SHAPE_STEPS - 1);
        points[i] = (view_point){view__chart_x(chart, small_length(board, view__bend_at(bend, h))),
                                 view__chart_y(chart, small_length(board, h))};
    }
    view_stroke_poly(board->pen.draw, points, SHAPE_STEPS, 2.4F, is_dashed ? 6.0F : 0.0F, color);
}

static void key(const view__board *board, const view__chart *chart, const view_color color[MECH_ENDS])
{
    const view_font font = view__font(board, 0.79F, VIEW_SEMIBOLD);
    const char *name[MECH_ENDS] = {view__word(board, "pic.near"), view__word(board, "pic.far")};
    float x = chart->plot.x + chart->plot.w;
    const float y = chart->plot.y - font.size * 0.5F;
    for (int end = MECH_ENDS - 1; end >= 0; end--) {
        x -= view__width(board, font, name[end]);
        view__say(board, x, y, font, VIEW_LEFT, view_mix(color[end], board->pen.theme->ink, 0.25F), name[end]);
        const view_point line[2] = {{x - 24.0F, y - font.size * 0.3F}, {x - 4.0F, y - font.size * 0.3F}};
        view_stroke_poly(board->pen.draw, line, 2, 2.4F, end == MECH_FAR ? 6.0F : 0.0F, color[end]);
        x -= 38.0F;
    }
}

void view_chart_shape(const view_pen *pen, view_rect area, const mech_run *run, const mech_rows *rows)
{
    const view__board board = {*pen, area};
    const view_color color[MECH_ENDS] = {pen->theme->series[5], pen->theme->series[6]};
    view__bend bend[MECH_ENDS];
    double least = 0.0;
    double most = 0.0002;
    for (int end = 0; end < MECH_ENDS; end++) {
        view__bend_of(run, rows, (mech_end)end, &bend[end]);
        for (int i = 0; i < bend[end].count; i++) {
            most = fmax(most, bend[end].u[i]);
            least = fmin(least, bend[end].u[i]);
        }
    }
    view__chart chart = {.x_low = small_length(&board, least) * 1.1,
                         .x_high = small_length(&board, most) * 1.15,
                         .y_high = small_length(&board, run->post_height_m)};
    const char *unit = pen->units == TR_US ? "in" : "mm";
    char y_title[VIEW__TEXT_CAP];
    char x_title[VIEW__TEXT_CAP];
    tr_format(y_title, sizeof y_title, "%s, %s", view__word(&board, "pic.chart.height_axis"), unit);
    tr_format(x_title, sizeof x_title, "%s, %s", view__word(&board, "pic.chart.bend_axis"), unit);
    view_clip_push(pen->draw, area);
    view__chart_axes(&board, &chart, view__word(&board, "pic.chart.shape"), y_title, x_title, 12.0F, true);
    const float zero = view__chart_x(&chart, 0.0);
    view__dash(&board, zero, chart.plot.y, zero, chart.plot.y + chart.plot.h, 1.2F, pen->theme->ink_soft);
    for (int i = 0; i < run->made_of.row_count; i++) {
        const float y = view__chart_y(&chart, small_length(&board, run->made_of.row_height_m[i]));
        view_stroke_line(pen->draw, zero - 3.0F, y, zero + 3.0F, y, 1.0F, pen->theme->ink_soft);
    }
    shape_line(&board, &chart, &bend[MECH_NEAR], run->post_height_m, false, color[MECH_NEAR]);
    shape_line(&board, &chart, &bend[MECH_FAR], run->post_height_m, true, color[MECH_FAR]);
    key(&board, &chart, color);
    view_clip_pop(pen->draw);
}
