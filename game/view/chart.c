/* Axes, ticks and labels of the charts. */
#include "chart.h"

#include <math.h>

#include "tautrow/base/text.h"

float view__chart_x(const view__chart *chart, double x)
{
    const double span = fmax(chart->x_high - chart->x_low, 1e-12);
    return chart->plot.x + chart->plot.w * (float)((x - chart->x_low) / span);
}

float view__chart_y(const view__chart *chart, double y)
{
    const double span = fmax(chart->y_high - chart->y_low, 1e-12);
    return chart->plot.y + chart->plot.h * (1.0F - (float)((y - chart->y_low) / span));
}

static view_font tick_font(const view__board *board)
{
    return view__font(board, 0.79F, VIEW_REGULAR);
}

static void tick_text(const view__ticks *ticks, int i, char *out, size_t cap)
{
    const double value = ticks->first + ticks->step * (double)i;
    tr_format(out, cap, "%.*f", ticks->decimals, fabs(value) < 1e-12 ? 0.0 : value);
}

static float widest_tick(const view__board *board, const view__ticks *ticks)
{
    float widest = 0.0F;
    for (int i = 0; i < ticks->count; i++) {
        char text[VIEW__TEXT_CAP];
        tick_text(ticks, i, text, sizeof text);
        widest = fmaxf(widest, view__width(board, tick_font(board), text));
    }
    return widest;
}

static void y_axis(const view__board *board, const view__chart *chart, const view__ticks *ticks)
{
    const view_theme *theme = board->pen.theme;
    const view_font font = tick_font(board);
    for (int i = 0; i < ticks->count; i++) {
        char text[VIEW__TEXT_CAP];
        tick_text(ticks, i, text, sizeof text);
        const float y = view__chart_y(chart, ticks->first + ticks->step * (double)i);
        view_stroke_line(board->pen.draw, chart->plot.x, y, chart->plot.x + chart->plot.w, y, 1.0F,
                         view_fade(theme->ink_faint, 0.35F));
        view__say(board, chart->plot.x - 6.0F, y + font.size * 0.35F, font, VIEW_RIGHT, theme->ink_soft, text);
    }
}

static void x_axis(const view__board *board, const view__chart *chart, const view__ticks *ticks)
{
    const view_theme *theme = board->pen.theme;
    const view_font font = tick_font(board);
    const float bottom = chart->plot.y + chart->plot.h;
    for (int i = 0; i < ticks->count; i++) {
        char text[VIEW__TEXT_CAP];
        tick_text(ticks, i, text, sizeof text);
        const float x = view__chart_x(chart, ticks->first + ticks->step * (double)i);
        view_stroke_line(board->pen.draw, x, bottom, x, bottom + 4.0F, 1.0F, theme->ink_soft);
        view__say(board, x, bottom + 5.0F + font.size, font, VIEW_CENTRE, theme->ink_soft, text);
    }
}

/* As many ticks as their texts leave room for. */
static view__ticks x_ticks(const view__board *board, const view__chart *chart)
{
    const view_font font = tick_font(board);
    for (int most = 11; most > 2; most--) {
        const view__ticks ticks = view__ticks_of(chart->x_low, chart->x_high, most);
        if (chart->is_counted && ticks.step < 1.0) {
            continue;
        }
        const float pace = (float)(ticks.step / fmax(chart->x_high - chart->x_low, 1e-12)) * chart->plot.w;
        if (widest_tick(board, &ticks) + font.size <= pace) {
            return ticks;
        }
    }
    return view__ticks_of(chart->x_low, chart->x_high, 2);
}

void view__chart_axes(const view__board *board, view__chart *chart, const char *title, const char *y_title,
                      const char *x_title, float right, bool has_x_ticks)
{
    const view_theme *theme = board->pen.theme;
    const view_font head = view__font(board, 1.0F, VIEW_SEMIBOLD);
    const view_font font = tick_font(board);
    const view_rect area = board->area;
    const float top = head.size * 1.5F + font.size * 2.1F + chart->strip;
    const float foot = font.size * 1.3F + 5.0F + (x_title != NULL ? font.size * 1.4F : 0.0F);
    const float plot_h = fmaxf(area.h - top - foot, 20.0F);
    const int most = (int)view__clamp(plot_h / (font.size * 2.4F) + 1.0F, 2.0F, 8.0F);
    view__ticks ticks = view__ticks_of(chart->y_low, chart->y_high, most);
    chart->y_high = fmax(chart->y_high, ticks.first + ticks.step * (double)(ticks.count - 1));
    const float left = widest_tick(board, &ticks) + 10.0F;
    chart->plot = (view_rect){area.x + left, area.y + top, fmaxf(area.w - left - right, 20.0F), plot_h};
    view_text_fit(board->pen.draw, board->pen.metrics, area.x, area.y + head.size * 1.05F, area.w, head, VIEW_LEFT,
                  theme->ink, title);
    view_text_fit(board->pen.draw, board->pen.metrics, area.x, area.y + head.size * 1.5F + font.size, area.w, font,
                  VIEW_LEFT, theme->ink_soft, y_title);
    y_axis(board, chart, &ticks);
    if (has_x_ticks) {
        const view__ticks along = x_ticks(board, chart);
        x_axis(board, chart, &along);
    }
    if (x_title != NULL) {
        view__say(board, chart->plot.x + chart->plot.w, area.y + area.h - font.size * 0.3F, font, VIEW_RIGHT,
                  theme->ink_soft, x_title);
    }
    view_stroke_line(board->pen.draw, chart->plot.x, chart->plot.y + plot_h, chart->plot.x + chart->plot.w,
                     chart->plot.y + plot_h, 1.2F, theme->ink_soft);
}

/* Which labels stay when not all fit: chosen ones always, of the rest every n-th counted from the top. */
static int thin(view__end_label label[], int count, int most)
{
    if (count <= most || most < 1) {
        return most < 1 ? 0 : count;
    }
    const int step = (count + most - 1) / most;
    int kept = 0;
    for (int i = 0; i < count; i++) {
        if (label[i].is_chosen || (i % step == 0 && kept < most)) {
            label[kept++] = label[i];
        }
    }
    return kept;
}

static void sort(view__end_label label[], int count)
{
    for (int i = 1; i < count; i++) {
        const view__end_label one = label[i];
        int j = i;
        while (j > 0 && label[j - 1].y > one.y) {
            label[j] = label[j - 1];
            j--;
        }
        label[j] = one;
    }
}

void view__chart_end_labels(const view__board *board, const view__chart *chart, view__end_label label[], int count)
{
    const view_font font = tick_font(board);
    const float gap = font.size * 1.15F;
    const float low = chart->plot.y + font.size * 0.5F;
    const float high = chart->plot.y + chart->plot.h - font.size * 0.2F;
    float place[VIEW__MAX_LABELS];
    sort(label, count);
    count = thin(label, count, (int)((high - low) / gap) + 1);
    for (int i = 0; i < count; i++) {
        place[i] = label[i].y;
    }
    view__spread(place, count, gap, low, high);
    const float x = chart->plot.x + chart->plot.w;
    for (int i = 0; i < count; i++) {
        const view_font own = {font.size, label[i].is_chosen ? VIEW_BOLD : VIEW_REGULAR};
        view_stroke_line(board->pen.draw, x + 1.0F, label[i].y, x + 14.0F, place[i], 1.0F,
                         view_fade(label[i].color, 0.7F));
        view__say(board, x + 17.0F, place[i] + font.size * 0.35F, own, VIEW_LEFT, label[i].color, label[i].text);
    }
}
