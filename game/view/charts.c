/* Charts of the debrief: who lost when who was pulled, where all ended, what the post went through. */
#include "chart.h"

#include <math.h>

#include "tautrow/base/text.h"

static double shown(const view__board *board, double si, tr_dim dim)
{
    return tr_quantity_number(si, dim, board->pen.units);
}

static void title_with_unit(const view__board *board, const char *key, tr_dim dim, char *out, size_t cap)
{
    tr_format(out, cap, "%s, %s", view__word(board, key), tr_quantity_unit(dim, board->pen.units));
}

/* "tension, lbf; band 180 to 220": the band needs no label in the plot, where there is no room for one. */
static void title_with_band(const view__board *board, const job_setup *setup, char *out, size_t cap)
{
    char text[VIEW__TEXT_CAP];
    char edge[2][24];
    for (int i = 0; i < 2; i++) {
        const double edge_n = setup->target_n * (1.0 + (i == 0 ? -setup->tolerance : setup->tolerance));
        tr_format(edge[i], sizeof edge[i], "%.*f", board->pen.units == TR_US ? 0 : 2,
                  shown(board, edge_n, TR_DIM_FORCE));
    }
    title_with_unit(board, "pic.chart.tension_axis", TR_DIM_FORCE, out, cap);
    view__fill(board, "pic.chart.band", edge[0], edge[1], text, sizeof text);
    tr_append(out, cap, "; %s", text);
}

enum { SERIES = 8 };

static view_color row_color(const view_theme *theme, int row)
{
    return theme->series[row % SERIES];
}

/* First action that changes a tension, less one; the charts begin there. */
static size_t first_of(const view_story *story, int rows)
{
    for (size_t i = 1; i < story->count; i++) {
        for (int row = 0; row < rows; row++) {
            if (fabs(story->entry[i].tension_n[row] - story->entry[0].tension_n[row]) > 0.5) {
                return i - 1;
            }
        }
    }
    return 0;
}

/* ---- tension over the actions ----------------------------------------------------------------------------------- */

enum { LINE_POINTS = 512 };

/* Points nearer than this become one, so that a line of any length fits into LINE_POINTS. */
static float least_step(const view__chart *chart)
{
    return fmaxf(1.0F, chart->plot.w / (float)(LINE_POINTS - 8));
}

static void tension_line(const view__board *board, const view__chart *chart, const view_story *story, size_t first,
                         int row, float width, view_color color)
{
    view_point points[LINE_POINTS];
    size_t count = 0;
    float last_x = -1e9F;
    const float step = least_step(chart);
    const float dash = row < SERIES ? 0.0F : 5.0F; /* colours come round again: tell them apart by the stroke */
    for (size_t i = first; i < story->count; i++) {
        const float x = view__chart_x(chart, (double)(i + 1));
        const float y = view__chart_y(chart, shown(board, story->entry[i].tension_n[row], TR_DIM_FORCE));
        const bool is_end = i + 1 == story->count;
        /* Several actions on one column of pixels: the last of them stands for all. */
        if (count > 0 && (x - last_x < step || count >= LINE_POINTS - 1)) {
            points[count - 1] = (view_point){x, y};
            if (!is_end) {
                continue;
            }
        } else {
            points[count++] = (view_point){x, y};
            last_x = x;
        }
    }
    if (count >= 2) {
        view_stroke_poly(board->pen.draw, points, count, width, dash, color);
    }
}

/* ---- who was pulled --------------------------------------------------------------------------------------------- */

/* A trip to a row: its body was turned from action `from` to action `to`, and no other's between. */
typedef struct pull_trip {
    int row;
    size_t from, to;
} pull_trip;

static bool is_pull(const job_trace_entry *entry)
{
    return entry->action.verb == JOB_DO_TURN_BODY && entry->outcome.refusal == JOB_REFUSE_NONE;
}

/* The next trip from action *at on; false when there is none. */
static bool next_trip(const view_story *story, size_t *at, pull_trip *out)
{
    while (*at < story->count && !is_pull(&story->entry[*at])) {
        (*at)++;
    }
    if (*at >= story->count) {
        return false;
    }
    *out = (pull_trip){job_action_row(&story->entry[*at].action), *at, *at};
    for (; *at < story->count; (*at)++) {
        if (is_pull(&story->entry[*at])) {
            if (job_action_row(&story->entry[*at].action) != out->row) {
                break;
            }
            out->to = *at;
        }
    }
    return true;
}

/* Above the plot: a bar over each trip with the number of its row, as many as there is room for. */
static void trips(const view__board *board, const view__chart *chart, const view_story *story, size_t first)
{
    const view_font font = view__font(board, 0.79F, VIEW_SEMIBOLD);
    const float bottom = chart->plot.y - 8.0F;
    float free_x = chart->plot.x - font.size;
    pull_trip one;
    for (size_t at = first; next_trip(story, &at, &one);) {
        char digits[16];
        const bool is_back = story->row >= 0 && one.row != story->row;
        const view_color full = row_color(board->pen.theme, one.row);
        const float x0 = fmaxf(view__chart_x(chart, (double)one.from), chart->plot.x);
        const float x1 = fmaxf(view__chart_x(chart, (double)(one.to + 1)), x0 + 2.0F);
        view_fill_rect(board->pen.draw, (view_rect){x0, bottom - 4.0F, x1 - x0 - 1.0F, 4.0F}, 0.0F,
                       is_back ? view_fade(full, 0.45F) : full);
        tr_format(digits, sizeof digits, "%d", one.row + 1);
        const float width = view__width(board, font, digits);
        const float x = (x0 + x1 - width) / 2.0F;
        if (x >= free_x) {
            view__say(board, x, bottom - 4.0F - font.size * 0.35F, font, VIEW_LEFT,
                      is_back ? board->pen.theme->ink_soft : full, digits);
            free_x = x + width + font.size * 0.3F;
        }
    }
    if (free_x > chart->plot.x) {
        view__say(board, chart->plot.x + chart->plot.w + 6.0F, bottom - 4.0F - font.size * 0.35F,
                  view__font(board, 0.79F, VIEW_REGULAR), VIEW_LEFT, board->pen.theme->ink_soft,
                  view__word(board, "pic.chart.pulling"));
    }
}

static void band(const view__board *board, const view__chart *chart, const job_setup *setup)
{
    const view_theme *theme = board->pen.theme;
    const float high = view__chart_y(chart, shown(board, setup->target_n * (1.0 + setup->tolerance), TR_DIM_FORCE));
    const float low = view__chart_y(chart, shown(board, setup->target_n * (1.0 - setup->tolerance), TR_DIM_FORCE));
    const float middle = view__chart_y(chart, shown(board, setup->target_n, TR_DIM_FORCE));
    view_fill_rect(board->pen.draw, (view_rect){chart->plot.x, high, chart->plot.w, low - high}, 0.0F,
                   view_fade(theme->good_soft, 0.9F));
    view__dash(board, chart->plot.x, middle, chart->plot.x + chart->plot.w, middle, 1.2F, theme->good);
}

static void cursor(const view__board *board, const view__chart *chart, const view_story *story)
{
    if (story->cursor < 0.0) {
        return;
    }
    const float x =
        view__clamp(view__chart_x(chart, story->cursor + 1.0), chart->plot.x, chart->plot.x + chart->plot.w);
    view_stroke_line(board->pen.draw, x, chart->plot.y - 4.0F, x, chart->plot.y + chart->plot.h, 1.6F,
                     board->pen.theme->accent);
    const view_point knob[3] = {{x - 5.0F, chart->plot.y - 8.0F}, {x + 5.0F, chart->plot.y - 8.0F}, {x, chart->plot.y}};
    view_fill_poly(board->pen.draw, knob, 3, board->pen.theme->accent);
}

static view_plot plot_of(const view__chart *chart)
{
    /* The axis counts actions from 1, as people do; the cursor counts from 0. */
    return (view_plot){chart->plot, chart->x_low - 1.0, chart->x_high - 1.0};
}

static void over_actions(view__chart *chart, const view_story *story, size_t first)
{
    chart->x_low = (double)(first + 1);
    chart->x_high = fmax((double)story->count, chart->x_low + 1.0);
    chart->is_counted = true;
}

static double highest_tension(const job_setup *setup, const view_story *story, size_t first)
{
    double highest = setup->target_n * (1.0 + setup->tolerance);
    for (size_t i = first; i < story->count; i++) {
        for (int row = 0; row < setup->structure.row_count; row++) {
            highest = fmax(highest, story->entry[i].tension_n[row]);
        }
    }
    return highest;
}

/* A row's line and the label of its end. */
static void draw_row(const view__board *board, const view__chart *chart, const view_story *story, size_t first, int row,
                     view__end_label *label)
{
    const view_theme *theme = board->pen.theme;
    const bool is_chosen = row == story->row;
    const bool is_back = story->row >= 0 && !is_chosen;
    const view_color full = row_color(theme, row);
    char digits[16];
    tension_line(board, chart, story, first, row, is_chosen ? 3.0F : 1.6F, is_back ? view_fade(full, 0.45F) : full);
    label->y = view__chart_y(chart, shown(board, story->entry[story->count - 1].tension_n[row], TR_DIM_FORCE));
    label->color = is_back ? theme->ink_soft : full;
    label->is_chosen = is_chosen;
    tr_format(digits, sizeof digits, "%d", row + 1);
    view__fill(board, "pic.row", digits, NULL, label->text, sizeof label->text);
}

/* The chosen row last, so that it lies on top. */
static void draw_rows(const view__board *board, const view__chart *chart, const view_story *story, size_t first,
                      int rows)
{
    view__end_label label[VIEW__MAX_LABELS];
    int labels = 0;
    for (int row = 0; row < rows && story->count > 0; row++) {
        if (row != story->row) {
            draw_row(board, chart, story, first, row, &label[labels++]);
        }
    }
    if (story->row >= 0 && story->row < rows && story->count > 0) {
        draw_row(board, chart, story, first, story->row, &label[labels++]);
    }
    view__chart_end_labels(board, chart, label, labels);
}

/* Room at the right for the labels of the lines and the word over the trips. */
static float label_room(const view__board *board, view_font font)
{
    char row_name[VIEW__TEXT_CAP];
    view__fill(board, "pic.row", "40", NULL, row_name, sizeof row_name);
    return fmaxf(view__width(board, font, row_name) + 20.0F,
                 view__width(board, font, view__word(board, "pic.chart.pulling")) + 8.0F);
}

view_plot view_chart_tension(const view_pen *pen, view_rect area, const job_setup *setup, const view_story *story)
{
    const view__board board = {*pen, area};
    const int rows = setup->structure.row_count;
    const size_t first = first_of(story, rows);
    const view_font label_font = view__font(&board, 0.79F, VIEW_BOLD);
    const bool has_trips = area.h > 14.0F * pen->text;
    view__chart chart = {.strip = has_trips ? label_font.size * 1.7F : 0.0F};
    char y_title[VIEW__TEXT_CAP];
    over_actions(&chart, story, first);
    chart.y_high = shown(&board, highest_tension(setup, story, first), TR_DIM_FORCE) * 1.04;
    title_with_band(&board, setup, y_title, sizeof y_title);
    view_clip_push(pen->draw, area);
    view__chart_axes(&board, &chart, view__word(&board, "pic.chart.tension"), y_title,
                     view__word(&board, "pic.chart.actions"), label_room(&board, label_font), true);
    band(&board, &chart, setup);
    if (has_trips) {
        trips(&board, &chart, story, first);
    }
    draw_rows(&board, &chart, story, first, rows);
    cursor(&board, &chart, story);
    view_clip_pop(pen->draw);
    return plot_of(&chart);
}

/* ---- off-centre load -------------------------------------------------------------------------------------------- */

static size_t peak_of(const view_story *story, size_t first)
{
    size_t peak = first;
    for (size_t i = first; i < story->count; i++) {
        if (story->entry[i].off_centre_n_m > story->entry[peak].off_centre_n_m) {
            peak = i;
        }
    }
    return peak;
}

/* The line with the ground below it tinted. */
static void off_centre_line(const view__board *board, const view__chart *chart, const view_story *story, size_t first)
{
    view_point points[LINE_POINTS];
    size_t count = 0;
    const float step = least_step(chart);
    for (size_t i = first; i < story->count; i++) {
        const view_point at = {view__chart_x(chart, (double)(i + 1)),
                               view__chart_y(chart, shown(board, story->entry[i].off_centre_n_m, TR_DIM_MOMENT))};
        if (count > 0 && (at.x - points[count - 1].x < step || count >= LINE_POINTS - 3)) {
            points[count - 1].y = fminf(points[count - 1].y, at.y); /* the peak of a column must not be lost */
        } else {
            points[count++] = at;
        }
    }
    if (count >= 2) {
        const float bottom = chart->plot.y + chart->plot.h;
        view_stroke_poly(board->pen.draw, points, count, 2.0F, 0.0F, board->pen.theme->force);
        points[count] = (view_point){points[count - 1].x, bottom};
        points[count + 1] = (view_point){points[0].x, bottom};
        view_fill_poly(board->pen.draw, points, count + 2, view_fade(board->pen.theme->force, 0.13F));
    }
}

static void peak_mark(const view__board *board, const view__chart *chart, size_t peak, double highest_n_m)
{
    char value[VIEW__TEXT_CAP];
    char text[VIEW__TEXT_CAP];
    view__quantity(board, highest_n_m, TR_DIM_MOMENT, value, sizeof value);
    view__fill(board, "pic.chart.peak", value, NULL, text, sizeof text);
    const float x = view__chart_x(chart, (double)(peak + 1));
    const float y = view__chart_y(chart, shown(board, highest_n_m, TR_DIM_MOMENT));
    view_fill_circle(board->pen.draw, x, y, 4.0F, board->pen.theme->force);
    const view_font font = view__font(board, 0.86F, VIEW_SEMIBOLD);
    const bool is_right = x + 9.0F + view__width(board, font, text) > chart->plot.x + chart->plot.w;
    const view__board inner = {board->pen, {chart->plot.x, board->area.y, chart->plot.w, board->area.h}};
    view__say(&inner, is_right ? x - 9.0F : x + 9.0F, fmaxf(y - 8.0F, chart->plot.y + font.size), font,
              is_right ? VIEW_RIGHT : VIEW_LEFT, board->pen.theme->ink, text);
}

view_plot view_chart_off_centre(const view_pen *pen, view_rect area, const job_setup *setup, const view_story *story)
{
    const view__board board = {*pen, area};
    const size_t first = first_of(story, setup->structure.row_count);
    const size_t peak = peak_of(story, first);
    const double highest = story->count == 0 ? 0.0 : story->entry[peak].off_centre_n_m;
    view__chart chart = {0};
    over_actions(&chart, story, first);
    /* room for the words above the peak, whatever the height of the picture */
    const float words = (1.9F * pen->text) / fmaxf(area.h - 6.0F * pen->text, 1.0F);
    chart.y_high = shown(&board, fmax(highest, 1.0), TR_DIM_MOMENT) / (1.0 - (double)view__clamp(words, 0.1F, 0.5F));
    char text[VIEW__TEXT_CAP];
    title_with_unit(&board, "pic.chart.moment_axis", TR_DIM_MOMENT, text, sizeof text);
    view_clip_push(pen->draw, area);
    view__chart_axes(&board, &chart, view__word(&board, "pic.chart.off_centre"), text,
                     view__word(&board, "pic.chart.actions"), 12.0F, true);
    off_centre_line(&board, &chart, story, first);
    if (highest > 1.0) {
        peak_mark(&board, &chart, peak, highest);
    }
    cursor(&board, &chart, story);
    view_clip_pop(pen->draw);
    return plot_of(&chart);
}

/* ---- bars ------------------------------------------------------------------------------------------------------- */

/* Row numbers under bars, thinned to every 2nd, 5th or 10th where they would touch. */
static void row_numbers(const view__board *board, const view__chart *chart, const int order[], int count)
{
    const view_font font = view__font(board, 0.79F, VIEW_REGULAR);
    const float pace = chart->plot.w / (float)count;
    const float need = view__width(board, font, "40") + font.size * 0.5F;
    const int step = pace >= need ? 1 : 2.0F * pace >= need ? 2 : 5.0F * pace >= need ? 5 : 10;
    for (int i = 0; i < count; i += step) {
        char digits[VIEW__TEXT_CAP];
        tr_format(digits, sizeof digits, "%d", order[i] + 1);
        view__say(board, chart->plot.x + pace * ((float)i + 0.5F), chart->plot.y + chart->plot.h + 5.0F + font.size,
                  font, VIEW_CENTRE, board->pen.theme->ink_soft, digits);
    }
}

static view_color standing(const view_theme *theme, const job_setup *setup, double tension_n)
{
    return tension_n < setup->target_n * (1.0 - setup->tolerance)   ? theme->warn
           : tension_n > setup->target_n * (1.0 + setup->tolerance) ? theme->bad
                                                                    : theme->good;
}

/* A number that the line of the target must not run through. */
static void value_on_band(const view__board *board, float x, float baseline, view_font font, const char *text)
{
    const float width = view__width(board, font, text);
    const view_rect ground = {x - width / 2.0F - 2.0F, baseline - font.size * 0.85F, width + 4.0F, font.size * 1.1F};
    view_fill_rect(board->pen.draw, ground, 2.0F, view_fade(board->pen.theme->panel, 0.88F));
    view__say(board, x, baseline, font, VIEW_CENTRE, board->pen.theme->ink, text);
}

void view_chart_bars(const view_pen *pen, view_rect area, const job_setup *setup, const double tension_n[],
                     int chosen_row)
{
    const view__board board = {*pen, area};
    const int count = setup->structure.row_count;
    view__chart chart = {.x_high = 1.0};
    double highest = setup->target_n * (1.0 + setup->tolerance);
    int order[MECH_MAX_ROWS];
    for (int row = 0; row < count; row++) {
        order[row] = row;
        highest = fmax(highest, tension_n[row]);
    }
    chart.y_high = shown(&board, highest, TR_DIM_FORCE) * 1.12;
    char text[VIEW__TEXT_CAP];
    title_with_band(&board, setup, text, sizeof text);
    view_clip_push(pen->draw, area);
    view__chart_axes(&board, &chart, view__word(&board, "pic.chart.bars"), text, view__word(&board, "pic.chart.rows"),
                     8.0F, false);
    band(&board, &chart, setup);
    const float pace = chart.plot.w / (float)count;
    const float width = fmaxf(pace * 0.62F, 2.0F);
    const view_font font = view__font(&board, 0.72F, VIEW_REGULAR);
    const float bottom = chart.plot.y + chart.plot.h;
    for (int row = 0; row < count; row++) {
        const float x = chart.plot.x + pace * ((float)row + 0.5F);
        const float y = view__chart_y(&chart, shown(&board, tension_n[row], TR_DIM_FORCE));
        const view_color color = standing(pen->theme, setup, tension_n[row]);
        view_fill_rect(pen->draw, (view_rect){x - width / 2.0F, y, width, bottom - y}, 1.0F, view_fade(color, 0.85F));
        if (row == chosen_row) {
            view_stroke_rect(pen->draw, (view_rect){x - width / 2.0F - 2.0F, y - 2.0F, width + 4.0F, bottom - y + 2.0F},
                             2.0F, 2.0F, pen->theme->accent);
        }
        tr_format(text, sizeof text, "%.*f", pen->units == TR_US ? 0 : 2, shown(&board, tension_n[row], TR_DIM_FORCE));
        if (view__width(&board, font, text) + 3.0F <= pace) {
            value_on_band(&board, x, y - 6.0F, font, text);
        }
    }
    row_numbers(&board, &chart, order, count);
    view_clip_pop(pen->draw);
}

/* ---- pulls ------------------------------------------------------------------------------------------------------ */

/* What each row was pulled to at its last trip of the first as many trips as the sheet has; below 0 = never. */
static double pulled_to(const job_state *state, int row, int trip)
{
    int seen = 0;
    double last_n = -1.0;
    for (int i = 0; i < state->pull_count && i < JOB_MAX_PULL_LOG; i++) {
        if (state->pull[i].row == row && seen++ <= trip) {
            last_n = state->pull[i].after_n;
        }
    }
    return last_n;
}

static void legend(const view__board *board, const view__chart *chart)
{
    const view_font font = view__font(board, 0.79F, VIEW_REGULAR);
    const view_theme *theme = board->pen.theme;
    const char *sheet = view__word(board, "pic.chart.sheet");
    const char *done = view__word(board, "pic.chart.pulled");
    const float y = chart->plot.y - font.size * 0.5F;
    float x = chart->plot.x + chart->plot.w - view__width(board, font, sheet) - view__width(board, font, done) - 40.0F;
    view_stroke_line(board->pen.draw, x, y - font.size * 0.3F, x + 12.0F, y - font.size * 0.3F, 3.0F, theme->ink);
    view__say(board, x + 15.0F, y, font, VIEW_LEFT, theme->ink_soft, sheet);
    x += 15.0F + view__width(board, font, sheet) + 12.0F;
    view_fill_rect(board->pen.draw, (view_rect){x, y - font.size * 0.75F, 10.0F, font.size * 0.85F}, 1.0F,
                   theme->series[2]);
    view__say(board, x + 13.0F, y, font, VIEW_LEFT, theme->ink_soft, done);
}

void view_chart_pulls(const view_pen *pen, view_rect area, const job_setup *setup, const mech_sheet *sheet,
                      const job_state *state)
{
    const view__board board = {*pen, area};
    const int count = setup->order_count > 0 ? setup->order_count : 1;
    double reading[MECH_MAX_ROWS] = {0};
    double done[MECH_MAX_ROWS] = {0};
    double highest = setup->target_n;
    for (int i = 0; i < setup->order_count; i++) {
        for (int j = 0; j < sheet->pull_count; j++) {
            reading[i] = sheet->pull[j].row == setup->order[i] ? sheet->pull[j].reading_n : reading[i];
        }
        done[i] = pulled_to(state, setup->order[i], setup->rounds > 0 ? setup->rounds - 1 : 0);
        highest = fmax(highest, fmax(reading[i], done[i]));
    }
    view__chart chart = {.x_high = 1.0, .y_high = shown(&board, highest, TR_DIM_FORCE) * 1.05};
    char text[VIEW__TEXT_CAP];
    title_with_unit(&board, "pic.chart.reading_axis", TR_DIM_FORCE, text, sizeof text);
    view_clip_push(pen->draw, area);
    view__chart_axes(&board, &chart, view__word(&board, "pic.chart.pulls"), text, view__word(&board, "pic.chart.order"),
                     8.0F, false);
    const float pace = chart.plot.w / (float)count;
    const float width = fmaxf(pace * 0.5F, 2.0F);
    const float bottom = chart.plot.y + chart.plot.h;
    for (int i = 0; i < setup->order_count; i++) {
        const float x = chart.plot.x + pace * ((float)i + 0.5F);
        if (done[i] >= 0.0) {
            const float y = view__chart_y(&chart, shown(&board, done[i], TR_DIM_FORCE));
            view_fill_rect(pen->draw, (view_rect){x - width / 2.0F, y, width, bottom - y}, 1.0F, pen->theme->series[2]);
        } else {
            view_stroke_rect(pen->draw, (view_rect){x - width / 2.0F, bottom - 6.0F, width, 6.0F}, 1.0F, 1.2F,
                             pen->theme->warn);
        }
        const float mark = view__chart_y(&chart, shown(&board, reading[i], TR_DIM_FORCE));
        view_stroke_line(pen->draw, x - pace * 0.42F, mark, x + pace * 0.42F, mark, 3.0F, pen->theme->ink);
    }
    row_numbers(&board, &chart, setup->order, count);
    legend(&board, &chart);
    view_clip_pop(pen->draw);
}
