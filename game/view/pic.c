/* Text, dimension lines, instruments and scales that all pictures share. */
#include "pic.h"

#include <math.h>
#include <stdio.h>

#include "tautrow/base/text.h"

float view__clamp(float value, float low, float high)
{
    if (high < low) {
        high = low;
    }
    return value < low ? low : value > high ? high : value;
}

view_font view__font(const view__board *board, float share, view_weight weight)
{
    return (view_font){.size = board->pen.text * share, .weight = weight};
}

float view__width(const view__board *board, view_font font, const char *text)
{
    return view_text_width(board->pen.metrics, font, text);
}

const char *view__word(const view__board *board, const char *key)
{
    return tr_word(board->pen.lang, key);
}

void view__fill(const view__board *board, const char *key, const char *first, const char *second, char *out, size_t cap)
{
    const char *args[2] = {first, second != NULL ? second : ""};
    tr_lang_fill(board->pen.lang, key, args, 2, out, cap);
}

void view__quantity(const view__board *board, double si, tr_dim dim, char *out, size_t cap)
{
    tr_quantity_text(si, dim, board->pen.units, TR_PLAIN, out, cap);
}

void view__fine(const view__board *board, double si, tr_dim dim, char *out, size_t cap)
{
    tr_quantity_text(si, dim, board->pen.units, TR_FINE, out, cap);
}

void view__say(const view__board *board, float x, float baseline, view_font font, view_align align, view_color color,
               const char *text)
{
    const view_rect area = board->area;
    const float width = fminf(view__width(board, font, text), area.w);
    const float shift = align == VIEW_LEFT ? 0.0F : align == VIEW_CENTRE ? width / 2.0F : width;
    const float left = view__clamp(x - shift, area.x, area.x + area.w - width);
    const float base = view__clamp(baseline, area.y + font.size * 0.95F, area.y + area.h - font.size * 0.25F);
    view_text_fit(board->pen.draw, board->pen.metrics, left, base, width + 0.5F, font, VIEW_LEFT, color, text);
}

view_rect view__plate(const view__board *board, float x, float y, view_font font, view_color ground, view_color ink,
                      const char *text)
{
    const float h = font.size * 1.5F;
    const float w = fminf(view__width(board, font, text) + font.size, board->area.w);
    const view_rect rect = {view__clamp(x - w / 2.0F, board->area.x, board->area.x + board->area.w - w),
                            view__clamp(y - h / 2.0F, board->area.y, board->area.y + board->area.h - h), w, h};
    view_fill_rect(board->pen.draw, rect, h / 2.0F, ground);
    view_text_fit(board->pen.draw, board->pen.metrics, rect.x + w / 2.0F, rect.y + h * 0.5F + font.size * 0.36F,
                  w - font.size * 0.5F, font, VIEW_CENTRE, ink, text);
    return rect;
}

void view__callout(const view__board *board, float x, float baseline, view_align align, float to_x, float to_y,
                   const char *text)
{
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    const view_theme *theme = board->pen.theme;
    const float from_y = to_y > baseline ? baseline + font.size * 0.35F : baseline - font.size * 0.95F;
    view_stroke_line(board->pen.draw, x, from_y, to_x, to_y, 1.0F, theme->ink_faint);
    view_fill_circle(board->pen.draw, to_x, to_y, 2.0F, theme->ink_soft);
    view__say(board, x, baseline, font, align, theme->ink_soft, text);
}

/* ---- dimension lines -------------------------------------------------------------------------------------------- */

static void tick(const view__board *board, float x, float y)
{
    view_stroke_line(board->pen.draw, x - 3.5F, y + 3.5F, x + 3.5F, y - 3.5F, 1.2F, board->pen.theme->ink_soft);
}

void view__dim_across(const view__board *board, float x0, float x1, float y, const char *text)
{
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    const view_color ink = board->pen.theme->ink_soft;
    const float left = fminf(x0, x1);
    const float right = fmaxf(x0, x1);
    const float width = view__width(board, font, text);
    view_stroke_line(board->pen.draw, left - 4.0F, y, right + 4.0F, y, 1.0F, ink);
    tick(board, left, y);
    tick(board, right, y);
    if (width + 8.0F <= right - left) { /* clear of the lines at both ends */
        view__say(board, (left + right) / 2.0F, y - font.size * 0.35F, font, VIEW_CENTRE, board->pen.theme->ink, text);
    } else if (right + 8.0F + width <= board->area.x + board->area.w) {
        view__say(board, right + 8.0F, y + font.size * 0.35F, font, VIEW_LEFT, board->pen.theme->ink, text);
    } else {
        view__say(board, left - 8.0F, y + font.size * 0.35F, font, VIEW_RIGHT, board->pen.theme->ink, text);
    }
}

void view__dim_up(const view__board *board, float x, float y0, float y1, bool is_text_left, const char *text)
{
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    const float top = fminf(y0, y1);
    const float bottom = fmaxf(y0, y1);
    view_stroke_line(board->pen.draw, x, top - 4.0F, x, bottom + 4.0F, 1.0F, board->pen.theme->ink_soft);
    tick(board, x, top);
    tick(board, x, bottom);
    view__say(board, is_text_left ? x - 8.0F : x + 8.0F, (top + bottom) / 2.0F + font.size * 0.35F, font,
              is_text_left ? VIEW_RIGHT : VIEW_LEFT, board->pen.theme->ink, text);
}

void view__dash(const view__board *board, float x0, float y0, float x1, float y1, float width, view_color color)
{
    const view_point ends[2] = {{x0, y0}, {x1, y1}};
    view_stroke_poly(board->pen.draw, ends, 2, width, 5.0F, color);
}

/* ---- instruments ------------------------------------------------------------------------------------------------ */

void view__bubble(const view__board *board, view_rect rect, double angle_rad, const char *label, const char *value)
{
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    view__say(board, rect.x, rect.y + font.size, font, VIEW_LEFT, theme->ink_soft, label);
    if (value != NULL && view__width(board, font, label) + view__width(board, font, value) + font.size < rect.w) {
        view__say(board, rect.x + rect.w, rect.y + font.size, font, VIEW_RIGHT, theme->ink, value);
    }
    const float top = rect.y + font.size * 1.45F;
    const view_rect tube = {rect.x, top, rect.w, fmaxf(rect.y + rect.h - top, 10.0F)};
    const float radius = tube.h / 2.0F;
    const float middle = tube.x + tube.w / 2.0F;
    view_fill_gradient(draw, tube, radius, view_mix(theme->good_soft, theme->panel, 0.45F),
                       view_mix(theme->good_soft, theme->good, 0.22F));
    view_stroke_rect(draw, tube, radius, 1.2F, theme->steel_dark);
    /* 6 degrees carry the bubble to the end of the tube: 1 degree already clears the marks on one side. */
    const float travel = tube.w / 2.0F - radius - 2.0F;
    const float share = view__clamp((float)(angle_rad / (6.0 * TR_PI / 180.0)), -1.0F, 1.0F);
    const view_rect bubble = {middle + share * travel - radius * 1.1F, tube.y + 2.5F, radius * 2.2F, tube.h - 5.0F};
    view_fill_rect(draw, bubble, bubble.h / 2.0F, theme->panel);
    view_stroke_line(draw, bubble.x + bubble.w * 0.3F, bubble.y + bubble.h * 0.28F, bubble.x + bubble.w * 0.62F,
                     bubble.y + bubble.h * 0.28F, 1.6F, view_mix(theme->good_soft, theme->good, 0.2F));
    view_stroke_rect(draw, bubble, bubble.h / 2.0F, 1.2F, fabsf(share) < 0.18F ? theme->good : theme->warn);
    for (int side = -1; side <= 1; side += 2) {
        const float x = middle + (float)side * radius * 1.45F;
        view_stroke_line(draw, x, tube.y, x, tube.y + tube.h, 1.4F, theme->ink);
    }
}

void view__meter(const view__board *board, view_rect rect, double share, double warn_at, const char *label,
                 const char *value)
{
    const view_theme *theme = board->pen.theme;
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    view_draw *draw = board->pen.draw;
    view__say(board, rect.x, rect.y + font.size, font, VIEW_LEFT, theme->ink_soft, label);
    if (value != NULL && view__width(board, font, label) + view__width(board, font, value) + font.size < rect.w) {
        view__say(board, rect.x + rect.w, rect.y + font.size, font, VIEW_RIGHT, theme->ink, value);
    }
    const float top = rect.y + font.size * 1.45F;
    view_rect bar = {rect.x, top, rect.w, fmaxf(rect.y + rect.h - top, 8.0F)};
    view_fill_rect(draw, bar, 4.0F, theme->inset);
    const float x_warn = bar.x + bar.w * view__clamp((float)warn_at, 0.0F, 1.0F);
    const float full = bar.w;
    bar.w = full * view__clamp((float)share, 0.0F, 1.0F);
    if (bar.w > 1.0F) {
        view_fill_rect(draw, bar, fminf(4.0F, bar.w / 2.0F), share >= warn_at ? theme->warn : theme->accent);
    }
    bar.w = full;
    view_stroke_rect(draw, bar, 4.0F, 1.0F, theme->steel_dark);
    view_stroke_line(draw, x_warn, bar.y - 2.0F, x_warn, bar.y + bar.h, 1.5F, theme->ink);
}

void view__dial(const view__board *board, float x, float y, float radius, double from_rad, double to_rad,
                view_color color)
{
    view_draw *draw = board->pen.draw;
    const view_theme *theme = board->pen.theme;
    view_stroke_circle(draw, x, y, radius, 1.0F, theme->ink_faint);
    for (int quarter = 0; quarter < 4; quarter++) {
        const float a = (float)quarter * (float)(TR_PI / 2.0);
        view_stroke_line(draw, x + (radius - 4.0F) * sinf(a), y - (radius - 4.0F) * cosf(a),
                         x + (radius + 3.0F) * sinf(a), y - (radius + 3.0F) * cosf(a), 1.2F, theme->ink_soft);
    }
    const double up = TR_PI / 2.0;
    if (fabs(to_rad - from_rad) > 0.01) {
        view_stroke_arc(draw, x, y, radius, (float)(fmin(from_rad, to_rad) - up), (float)(fmax(from_rad, to_rad) - up),
                        3.0F, color);
    }
}

/* ---- scales ----------------------------------------------------------------------------------------------------- */

double view__round_down(double value)
{
    const double decade = pow(10.0, floor(log10(value)));
    const double lead = value / decade;
    return (lead >= 5.0 ? 5.0 : lead >= 2.0 ? 2.0 : 1.0) * decade;
}

static double round_up(double value)
{
    const double decade = pow(10.0, floor(log10(value)));
    const double lead = value / decade;
    return (lead <= 1.0 ? 1.0 : lead <= 2.0 ? 2.0 : lead <= 5.0 ? 5.0 : 10.0) * decade;
}

view__ticks view__ticks_of(double low, double high, int most)
{
    view__ticks ticks = {low, 1.0, 1, 0};
    if (!(high > low) || most < 2) {
        return ticks;
    }
    ticks.step = round_up((high - low) / (double)(most - 1) * (1.0 - 1e-9));
    if (floor(high / ticks.step + 1e-6) - ceil(low / ticks.step - 1e-6) < 0.5) {
        ticks.step = view__round_down(high - low); /* one tick would say nothing */
    }
    ticks.first = ceil(low / ticks.step - 1e-6) * ticks.step;
    ticks.count = (int)floor((high - ticks.first) / ticks.step + 1e-6) + 1;
    ticks.decimals = ticks.step >= 1.0 ? 0 : (int)ceil(-log10(ticks.step) - 1e-9);
    return ticks;
}

void view__spread(float place[], int count, float gap, float low, float high)
{
    const float room = high - low;
    if (count > 1 && gap * (float)(count - 1) > room) {
        gap = room / (float)(count - 1);
    }
    for (int i = 0; i < count; i++) {
        const float least = i == 0 ? low : place[i - 1] + gap;
        place[i] = fmaxf(place[i], least);
    }
    for (int i = count - 1; i >= 0; i--) {
        const float most = i == count - 1 ? high : place[i + 1] - gap;
        place[i] = fminf(place[i], most);
    }
}

/* ---- state ------------------------------------------------------------------------------------------------------ */

double view__row_height(const job_setup *setup, const job_state *state, int row)
{
    const job_row *work = &state->row[row];
    return setup->structure.row_height_m[row] + (work->is_marked ? work->height_error_m : 0.0);
}

bool view__is_guided(const job_setup *setup)
{
    return setup->mode == JOB_GUIDED;
}

view_rect view__grab(float x, float y, float w, float h)
{
    const float gw = fmaxf(w, 24.0F);
    const float gh = fmaxf(h, 24.0F);
    return (view_rect){x + w / 2.0F - gw / 2.0F, y + h / 2.0F - gh / 2.0F, gw, gh};
}

void view__grip_set(view_grip *grip, view_rect handle, view_point zero, float k, float along_x, float along_y)
{
    if (grip != NULL) {
        *grip = (view_grip){
            .handle = handle, .zero = zero, .px_per_m = k, .along_x = along_x, .along_y = along_y, .pivot = zero};
    }
}

void view__mirror(const view__board *board, bool is_on)
{
    if (board->pen.is_mirrored) {
        view_mirror(board->pen.draw, is_on, board->area.x + board->area.w / 2.0F);
    }
}

view_rect view__mirrored(const view__board *board, view_rect rect)
{
    if (board->pen.is_mirrored) {
        rect.x = 2.0F * board->area.x + board->area.w - rect.x - rect.w;
    }
    return rect;
}

void view__grip_mirror(const view__board *board, view_grip *grip)
{
    if (grip == NULL || !board->pen.is_mirrored) {
        return;
    }
    const float twice = 2.0F * board->area.x + board->area.w;
    grip->handle = view__mirrored(board, grip->handle);
    grip->zero.x = twice - grip->zero.x;
    grip->pivot.x = twice - grip->pivot.x;
    grip->along_x = -grip->along_x;
}

view__frame view__frame_of(const view__board *board, float column_in_ems)
{
    const view_rect area = board->area;
    const float gap = 16.0F;
    const float column = fminf(column_in_ems * board->pen.text, area.w * 0.38F);
    view__frame frame;
    frame.column = (view_rect){area.x + area.w - column, area.y + 4.0F, column, area.h - 8.0F};
    frame.column = view__mirrored(board, frame.column);
    frame.scene = (view_rect){area.x, area.y, area.w - column - gap, area.h};
    return frame;
}
