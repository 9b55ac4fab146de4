/* The painter: walks a draw list and lets Cairo fill an image surface. Every number that leaves the draw list is in
 * layout units; the only places that think in pixels are text (masks are placed on whole pixels, so that letters stay
 * sharp) and hairlines (same reason). */
#include "tautrow/view/paint.h"

#include "draw_list.h"
#include "paint_data.h"

#include <cairo.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"

#define TURN 6.28318530717958647692

enum { MAX_SIDE = 16384, MAX_CLIPS = 64 };
#define HAIRLINE 1.5F /* strokes up to this wide that run along an axis are put on whole pixels */

struct view_canvas {
    cairo_surface_t *surface;
};

typedef struct brush {
    cairo_t *cr;
    const view_draw *draw;
    view_fonts *fonts;
    double scale;
    int clips;
} brush;

static void set_color(cairo_t *cr, view_color c)
{
    cairo_set_source_rgba(cr, ((c >> 24U) & 0xFFU) / 255.0, ((c >> 16U) & 0xFFU) / 255.0, ((c >> 8U) & 0xFFU) / 255.0,
                          (c & 0xFFU) / 255.0);
}

/* ---- paths --------------------------------------------------------------------------------------------------- */

static void rect_path(cairo_t *cr, double x, double y, double w, double h, double radius)
{
    const double r = fmin(radius, fmin(w, h) / 2.0);
    if (r <= 0.0) {
        cairo_rectangle(cr, x, y, w, h);
        return;
    }
    cairo_new_sub_path(cr);
    cairo_arc(cr, x + w - r, y + r, r, -TURN / 4.0, 0.0);
    cairo_arc(cr, x + w - r, y + h - r, r, 0.0, TURN / 4.0);
    cairo_arc(cr, x + r, y + h - r, r, TURN / 4.0, TURN / 2.0);
    cairo_arc(cr, x + r, y + r, r, TURN / 2.0, TURN * 0.75);
    cairo_close_path(cr);
}

static void command_rect(const brush *b, const view__command *c)
{
    rect_path(b->cr, (double)c->rect.x, (double)c->rect.y, (double)c->rect.w, (double)c->rect.h, (double)c->radius);
}

static void poly_path(const brush *b, const view__command *c)
{
    const view_point *p = &b->draw->point[c->first];
    for (size_t i = 0; i < c->count; i++) {
        cairo_line_to(b->cr, (double)p[i].x, (double)p[i].y);
    }
}

/* Catmull-Rom through the points as Bezier pieces; the ends are doubled. */
static void curve_path(const brush *b, const view__command *c)
{
    const view_point *p = &b->draw->point[c->first];
    cairo_move_to(b->cr, (double)p[0].x, (double)p[0].y);
    for (size_t i = 0; i + 1 < c->count; i++) {
        const view_point before = p[i > 0 ? i - 1 : 0];
        const view_point after = p[i + 2 < c->count ? i + 2 : i + 1];
        const view_point from = p[i];
        const view_point to = p[i + 1];
        cairo_curve_to(b->cr, (double)(from.x + (to.x - before.x) / 6.0F), (double)(from.y + (to.y - before.y) / 6.0F),
                       (double)(to.x - (after.x - from.x) / 6.0F), (double)(to.y - (after.y - from.y) / 6.0F),
                       (double)to.x, (double)to.y);
    }
}

/* ---- fills --------------------------------------------------------------------------------------------------- */

static void add_stop(cairo_pattern_t *pattern, double at, view_color c)
{
    cairo_pattern_add_color_stop_rgba(pattern, at, ((c >> 24U) & 0xFFU) / 255.0, ((c >> 16U) & 0xFFU) / 255.0,
                                      ((c >> 8U) & 0xFFU) / 255.0, (c & 0xFFU) / 255.0);
}

static void fill_pattern(cairo_t *cr, cairo_pattern_t *pattern)
{
    cairo_set_source(cr, pattern);
    cairo_fill(cr);
    cairo_pattern_destroy(pattern);
}

static void fill_gradient(const brush *b, const view__command *c)
{
    cairo_pattern_t *pattern =
        cairo_pattern_create_linear(0.0, (double)c->rect.y, 0.0, (double)(c->rect.y + c->rect.h));
    add_stop(pattern, 0.0, c->color);
    add_stop(pattern, 1.0, c->color2);
    command_rect(b, c);
    fill_pattern(b->cr, pattern);
}

static void fill_sheen(const brush *b, const view__command *c)
{
    double x0 = 0.0;
    double y0 = 0.0;
    double x1 = 0.0;
    double y1 = 0.0;
    poly_path(b, c);
    cairo_path_extents(b->cr, &x0, &y0, &x1, &y1);
    cairo_pattern_t *pattern =
        c->is_vertical ? cairo_pattern_create_linear(0.0, y0, 0.0, y1) : cairo_pattern_create_linear(x0, 0.0, x1, 0.0);
    add_stop(pattern, 0.0, c->color);
    add_stop(pattern, 0.42, c->color2); /* the light falls from the upper left */
    add_stop(pattern, 1.0, c->color);
    fill_pattern(b->cr, pattern);
}

/* ---- strokes ------------------------------------------------------------------------------------------------- */

static double hair_pixels(const brush *b, float width)
{
    return fmax(1.0, round((double)width * b->scale));
}

/* Where the middle of a stroke `line` pixels wide comes to lie so that its edges are pixel edges; in layout units. */
static double snapped(const brush *b, float at, double line)
{
    return (floor((double)at * b->scale) + fmod(line, 2.0) / 2.0) / b->scale;
}

static bool stroke_hairline(const brush *b, const view__command *c)
{
    if (c->count != 2 || c->width > HAIRLINE || c->a > 0.0F) {
        return false;
    }
    const view_point p = b->draw->point[c->first];
    const view_point q = b->draw->point[c->first + 1];
    const double line = hair_pixels(b, c->width);
    if (p.y == q.y) {
        const double y = snapped(b, p.y, line);
        cairo_move_to(b->cr, (double)p.x, y);
        cairo_line_to(b->cr, (double)q.x, y);
    } else if (p.x == q.x) {
        const double x = snapped(b, p.x, line);
        cairo_move_to(b->cr, x, (double)p.y);
        cairo_line_to(b->cr, x, (double)q.y);
    } else {
        return false;
    }
    cairo_set_line_cap(b->cr, CAIRO_LINE_CAP_BUTT);
    cairo_set_line_width(b->cr, line / b->scale);
    cairo_stroke(b->cr);
    cairo_set_line_cap(b->cr, CAIRO_LINE_CAP_ROUND);
    return true;
}

/* A hairline frame lies just inside its rectangle, on whole pixels. */
static void stroke_rect(const brush *b, const view__command *c)
{
    if (c->width > HAIRLINE) {
        command_rect(b, c);
        cairo_stroke(b->cr);
        return;
    }
    const double line = hair_pixels(b, c->width);
    const double left = (round((double)c->rect.x * b->scale) + line / 2.0) / b->scale;
    const double top = (round((double)c->rect.y * b->scale) + line / 2.0) / b->scale;
    const double right = (round((double)(c->rect.x + c->rect.w) * b->scale) - line / 2.0) / b->scale;
    const double bottom = (round((double)(c->rect.y + c->rect.h) * b->scale) - line / 2.0) / b->scale;
    cairo_set_line_width(b->cr, line / b->scale);
    rect_path(b->cr, left, top, right - left, bottom - top, (double)c->radius);
    cairo_stroke(b->cr);
}

static void stroke_poly(const brush *b, const view__command *c)
{
    if (stroke_hairline(b, c)) {
        return;
    }
    const view_point first = b->draw->point[c->first];
    const view_point last = b->draw->point[c->first + c->count - 1];
    poly_path(b, c);
    if (c->count > 2 && first.x == last.x && first.y == last.y) {
        cairo_close_path(b->cr);
    }
    if (c->a > 0.0F) {
        const double dash = (double)c->a;
        cairo_set_dash(b->cr, &dash, 1, 0.0);
        cairo_set_line_cap(b->cr, CAIRO_LINE_CAP_BUTT);
    }
    cairo_stroke(b->cr);
    cairo_set_dash(b->cr, NULL, 0, 0.0);
    cairo_set_line_cap(b->cr, CAIRO_LINE_CAP_ROUND);
}

/* ---- text and clips ------------------------------------------------------------------------------------------ */

static double aligned(view_align align, double width)
{
    return align == VIEW_LEFT ? 0.0 : align == VIEW_RIGHT ? width : width / 2.0;
}

static void draw_text(const brush *b, const view__command *c)
{
    view_mask mask;
    if (b->fonts == NULL || !view_fonts_mask(b->fonts, c->font, (float)b->scale, b->draw->text + c->first, &mask)) {
        return;
    }
    cairo_surface_t *alpha =
        cairo_image_surface_create_for_data(mask.alpha, CAIRO_FORMAT_A8, mask.width, mask.height, mask.stride);
    const double back = aligned(c->align, (double)mask.advance);
    const double x = (double)c->rect.x * b->scale;
    const double y = (double)c->rect.y * b->scale;
    cairo_save(b->cr);
    cairo_identity_matrix(b->cr);
    if (c->op == VIEW__TEXT) {
        cairo_translate(b->cr, round(x - back), round(y));
    } else {
        const cairo_matrix_t quarter = {.xx = 0, .yx = -1, .xy = 1, .yy = 0, .x0 = round(x), .y0 = round(y + back)};
        cairo_transform(b->cr, &quarter);
    }
    cairo_mask_surface(b->cr, alpha, -mask.origin_x, -mask.origin_y);
    cairo_restore(b->cr);
    cairo_surface_destroy(alpha);
}

/* Clips lie on whole pixels: sharp, and Cairo has a fast way for them. */
static void push_clip(brush *b, const view__command *c)
{
    const double x0 = round((double)c->rect.x * b->scale) / b->scale;
    const double y0 = round((double)c->rect.y * b->scale) / b->scale;
    const double x1 = round((double)(c->rect.x + c->rect.w) * b->scale) / b->scale;
    const double y1 = round((double)(c->rect.y + c->rect.h) * b->scale) / b->scale;
    cairo_save(b->cr);
    cairo_rectangle(b->cr, x0, y0, fmax(0.0, x1 - x0), fmax(0.0, y1 - y0));
    cairo_clip(b->cr);
    b->clips++;
}

static void pop_clip(brush *b)
{
    if (b->clips > 0) {
        b->clips--;
        cairo_restore(b->cr);
    }
}

/* ---- the walk ------------------------------------------------------------------------------------------------ */

static void circle_path(const brush *b, const view__command *c, double from, double to)
{
    cairo_new_sub_path(b->cr);
    if (to >= from) {
        cairo_arc(b->cr, (double)c->rect.x, (double)c->rect.y, fmax(0.0, (double)c->radius), from, to);
    } else {
        cairo_arc_negative(b->cr, (double)c->rect.x, (double)c->rect.y, fmax(0.0, (double)c->radius), from, to);
    }
}

static void paint_command(brush *b, const view__command *c)
{
    set_color(b->cr, c->color);
    cairo_set_line_width(b->cr, (double)c->width);
    switch (c->op) {
    case VIEW__FILL_RECT:
        command_rect(b, c);
        cairo_fill(b->cr);
        break;
    case VIEW__FILL_CIRCLE:
        circle_path(b, c, 0.0, TURN);
        cairo_fill(b->cr);
        break;
    case VIEW__FILL_POLY:
        poly_path(b, c);
        cairo_fill(b->cr);
        break;
    case VIEW__FILL_GRADIENT:
        fill_gradient(b, c);
        break;
    case VIEW__FILL_SHEEN:
        fill_sheen(b, c);
        break;
    case VIEW__STROKE_RECT:
        stroke_rect(b, c);
        break;
    case VIEW__STROKE_CIRCLE:
        circle_path(b, c, 0.0, TURN);
        cairo_close_path(b->cr);
        cairo_stroke(b->cr);
        break;
    case VIEW__STROKE_ARC:
        circle_path(b, c, (double)c->a, (double)c->b);
        cairo_stroke(b->cr);
        break;
    case VIEW__STROKE_POLY:
        stroke_poly(b, c);
        break;
    case VIEW__STROKE_CURVE:
        curve_path(b, c);
        cairo_stroke(b->cr);
        break;
    case VIEW__TEXT:
    case VIEW__TEXT_UP:
        draw_text(b, c);
        break;
    case VIEW__CLIP_PUSH:
        push_clip(b, c);
        break;
    case VIEW__CLIP_POP:
        pop_clip(b);
        break;
    }
}

/* ---- canvas -------------------------------------------------------------------------------------------------- */

view_canvas *view_canvas_open(void)
{
    return calloc(1, sizeof(view_canvas));
}

void view_canvas_close(view_canvas *canvas)
{
    if (canvas != NULL) {
        cairo_surface_destroy(canvas->surface);
        free(canvas);
    }
}

static bool fit_surface(view_canvas *canvas, int width, int height)
{
    if (canvas->surface != NULL && cairo_image_surface_get_width(canvas->surface) == width &&
        cairo_image_surface_get_height(canvas->surface) == height) {
        return true;
    }
    cairo_surface_t *made = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
    if (cairo_surface_status(made) != CAIRO_STATUS_SUCCESS) {
        cairo_surface_destroy(made);
        return false;
    }
    cairo_surface_destroy(canvas->surface);
    canvas->surface = made;
    return true;
}

bool view_canvas_paint(view_canvas *canvas, const view_draw *draw, view_fonts *fonts, float width, float height,
                       float scale, view_color ground)
{
    const float pixel_width = roundf(width * scale);
    const float pixel_height = roundf(height * scale);
    if (!(pixel_width >= 1.0F && pixel_width <= MAX_SIDE && pixel_height >= 1.0F && pixel_height <= MAX_SIDE) ||
        !fit_surface(canvas, (int)pixel_width, (int)pixel_height)) {
        return false;
    }
    brush b = {.cr = cairo_create(canvas->surface), .draw = draw, .fonts = fonts, .scale = (double)scale};
    cairo_set_operator(b.cr, CAIRO_OPERATOR_SOURCE);
    set_color(b.cr, ground);
    cairo_paint(b.cr);
    cairo_set_operator(b.cr, CAIRO_OPERATOR_OVER);
    cairo_scale(b.cr, b.scale, b.scale);
    cairo_set_line_join(b.cr, CAIRO_LINE_JOIN_ROUND);
    cairo_set_line_cap(b.cr, CAIRO_LINE_CAP_ROUND);
    for (size_t i = 0; i < draw->commands; i++) {
        paint_command(&b, &draw->command[i]);
    }
    const bool is_good = cairo_status(b.cr) == CAIRO_STATUS_SUCCESS;
    cairo_destroy(b.cr);
    cairo_surface_flush(canvas->surface);
    return is_good;
}

view_pixels view_canvas_pixels(const view_canvas *canvas)
{
    if (canvas->surface == NULL) {
        return (view_pixels){0};
    }
    return (view_pixels){.data = cairo_image_surface_get_data(canvas->surface),
                         .width = cairo_image_surface_get_width(canvas->surface),
                         .height = cairo_image_surface_get_height(canvas->surface),
                         .stride = cairo_image_surface_get_stride(canvas->surface)};
}

uint8_t *view__canvas_data(const view_canvas *canvas)
{
    return canvas->surface != NULL ? cairo_image_surface_get_data(canvas->surface) : NULL;
}

uint32_t view_canvas_pixel(const view_canvas *canvas, int x, int y)
{
    const view_pixels pixels = view_canvas_pixels(canvas);
    uint32_t value = 0;
    if (x >= 0 && y >= 0 && x < pixels.width && y < pixels.height) {
        memcpy(&value, pixels.data + (ptrdiff_t)y * pixels.stride + (ptrdiff_t)x * 4, sizeof value);
    }
    return value;
}

tr_result view_canvas_png(const view_canvas *canvas, const char *path, char *why, size_t why_cap)
{
    if (canvas->surface == NULL) {
        tr_copy(why, why_cap, "nothing has been painted yet");
        return TR_INVALID;
    }
    const cairo_status_t status = cairo_surface_write_to_png(canvas->surface, path);
    if (status != CAIRO_STATUS_SUCCESS) {
        tr_format(why, why_cap, "cannot write the picture %s: %s", path, cairo_status_to_string(status));
        return status == CAIRO_STATUS_NO_MEMORY ? TR_NO_MEMORY : TR_IO;
    }
    return TR_OK;
}

tr_result view_shot(const view_draw *draw, view_fonts *fonts, float width, float height, float scale, view_color ground,
                    const char *path, char *why, size_t why_cap)
{
    view_canvas *canvas = view_canvas_open();
    if (canvas == NULL) {
        return TR_NO_MEMORY;
    }
    tr_result result = TR_INVALID;
    if (view_canvas_paint(canvas, draw, fonts, width, height, scale, ground)) {
        result = view_canvas_png(canvas, path, why, why_cap);
    } else {
        tr_format(why, why_cap, "cannot paint a picture of %.0f x %.0f at scale %.2f", (double)width, (double)height,
                  (double)scale);
    }
    view_canvas_close(canvas);
    return result;
}
