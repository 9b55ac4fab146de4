/* The draw list as text: what golden tests compare and a person can read. */
#include "draw_list.h"

#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

/* A text that grows; after a failed allocation it stays as it is and is given up at the end. */
typedef struct dump {
    char *text;
    size_t size, cap;
    bool is_broken;
} dump;

#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
static void
add(dump *out, const char *format, ...)
{
    for (;;) {
        va_list args;
        va_start(args, format);
        const int needed = vsnprintf(out->text + out->size, out->cap - out->size, format, args);
        va_end(args);
        if (needed < 0) {
            out->is_broken = true;
            return;
        }
        if ((size_t)needed < out->cap - out->size) {
            out->size += (size_t)needed;
            return;
        }
        char *moved = realloc(out->text, out->cap * 2 + (size_t)needed);
        if (moved == NULL) {
            out->is_broken = true;
            return;
        }
        out->text = moved;
        out->cap = out->cap * 2 + (size_t)needed;
    }
}

/* -0.0 and 0.0 are one place; so are 0.04 and -0.04 at one decimal. */
static double tidy(float value)
{
    const double rounded = (double)value;
    return rounded > -0.05 && rounded < 0.05 ? 0.0 : rounded;
}

static void add_rect(dump *out, view_rect r)
{
    add(out, " %.1f %.1f %.1f %.1f", tidy(r.x), tidy(r.y), tidy(r.w), tidy(r.h));
}

static void add_points(dump *out, const view_draw *draw, const view__command *c)
{
    for (size_t i = 0; i < c->count; i++) {
        const view_point p = draw->point[c->first + i];
        add(out, " %.1f,%.1f", tidy(p.x), tidy(p.y));
    }
}

static void add_text(dump *out, const view_draw *draw, const view__command *c, const char *name)
{
    static const char *const weight[] = {"regular", "semibold", "bold"};
    static const char *const align[] = {"left", "centre", "right"};
    add(out, "%s %.1f %.1f %s%.1f %s #%08" PRIx32 " \"%s\"", name, tidy(c->rect.x), tidy(c->rect.y),
        weight[c->font.weight], tidy(c->font.size), align[c->align], c->color, draw->text + c->first);
}

static void add_command(dump *out, const view_draw *draw, const view__command *c)
{
    static const char *const name[] = {"fill_rect",   "fill_circle",   "fill_poly",  "fill_gradient", "fill_sheen",
                                       "stroke_rect", "stroke_circle", "stroke_arc", "stroke_poly",   "stroke_curve",
                                       "text",        "text_up",       "clip_push",  "clip_pop"};
    switch (c->op) {
    case VIEW__TEXT:
    case VIEW__TEXT_UP:
        add_text(out, draw, c, name[c->op]);
        return;
    case VIEW__CLIP_POP:
        add(out, "clip_pop");
        return;
    case VIEW__CLIP_PUSH:
        add(out, "clip_push");
        add_rect(out, c->rect);
        return;
    case VIEW__FILL_RECT:
    case VIEW__FILL_GRADIENT:
    case VIEW__STROKE_RECT:
        add(out, "%s", name[c->op]);
        add_rect(out, c->rect);
        add(out, " r%.1f", tidy(c->radius));
        break;
    case VIEW__FILL_CIRCLE:
    case VIEW__STROKE_CIRCLE:
    case VIEW__STROKE_ARC:
        add(out, "%s %.1f %.1f r%.1f", name[c->op], tidy(c->rect.x), tidy(c->rect.y), tidy(c->radius));
        if (c->op == VIEW__STROKE_ARC) {
            add(out, " from %.2f to %.2f", tidy(c->a), tidy(c->b));
        }
        break;
    case VIEW__FILL_POLY:
    case VIEW__FILL_SHEEN:
    case VIEW__STROKE_POLY:
    case VIEW__STROKE_CURVE:
        add(out, "%s", name[c->op]);
        add_points(out, draw, c);
        break;
    }
    if (c->op >= VIEW__STROKE_RECT) {
        add(out, " w%.1f", tidy(c->width));
    }
    if (c->op == VIEW__STROKE_POLY && c->a > 0.0F) {
        add(out, " dash%.1f", tidy(c->a));
    }
    add(out, " #%08" PRIx32, c->color);
    if (c->op == VIEW__FILL_GRADIENT || c->op == VIEW__FILL_SHEEN) {
        add(out, " #%08" PRIx32 "%s", c->color2, c->is_vertical ? " vertical" : "");
    }
}

char *view_draw_dump(const view_draw *draw)
{
    dump out = {.text = malloc(4096), .cap = 4096};
    if (out.text == NULL) {
        return NULL;
    }
    out.text[0] = '\0';
    for (size_t i = 0; i < draw->commands && !out.is_broken; i++) {
        add_command(&out, draw, &draw->command[i]);
        add(&out, "\n");
    }
    if (out.is_broken) {
        free(out.text);
        return NULL;
    }
    return out.text;
}
