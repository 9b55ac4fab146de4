/* The walk over a draw list: each command becomes a call of Cairo's, whatever Cairo draws on. What depends on where the
 * letters go comes from the caller. */
#include "paint_list.h"

#include <math.h>

#define TURN     6.28318530717958647692
#define HAIRLINE 1.5F /* strokes up to this wide that run along an axis are put on whole pixels */

typedef view__brush brush;

void view__set_color(cairo_t *cr, view_color c)
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
    if (b->is_exact || c->count != 2 || c->width > HAIRLINE || c->a > 0.0F) {
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
    if (b->is_exact || c->width > HAIRLINE) {
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

/* ---- clips ------------------------------------------------------------------------------------------------- */

/* Clips lie on whole pixels: sharp, and Cairo has a fast way for them. */
static double clip_edge(const brush *b, float at)
{
    return b->is_exact ? (double)at : round((double)at * b->scale) / b->scale;
}

static void push_clip(brush *b, const view__command *c)
{
    const double x0 = clip_edge(b, c->rect.x);
    const double y0 = clip_edge(b, c->rect.y);
    const double x1 = clip_edge(b, c->rect.x + c->rect.w);
    const double y1 = clip_edge(b, c->rect.y + c->rect.h);
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
    view__set_color(b->cr, c->color);
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
        b->text(b, c);
        break;
    case VIEW__CLIP_PUSH:
        push_clip(b, c);
        break;
    case VIEW__CLIP_POP:
        pop_clip(b);
        break;
    }
}

void view__paint_list(brush *b)
{
    cairo_set_line_join(b->cr, CAIRO_LINE_JOIN_ROUND);
    cairo_set_line_cap(b->cr, CAIRO_LINE_CAP_ROUND);
    for (size_t i = 0; i < b->draw->commands; i++) {
        paint_command(b, &b->draw->command[i]);
    }
    while (b->clips > 0) {
        pop_clip(b);
    }
}
