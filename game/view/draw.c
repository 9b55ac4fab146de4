/* The draw list: screens append plain data here and never draw. A command that does not fit into memory, or that
 * carries a number that is none (a scene fed with a broken value), is left out: a missing line is better than a dead
 * window. */
#include "tautrow/view/draw.h"

#include "draw_list.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- colours ------------------------------------------------------------------------------------------------- */

static uint32_t channel(view_color color, unsigned shift)
{
    return (color >> shift) & 0xFFU;
}

view_color view_fade(view_color color, float alpha)
{
    const float clamped = fminf(fmaxf(alpha, 0.0F), 1.0F);
    return (color & 0xFFFFFF00U) | (uint32_t)lroundf((float)channel(color, 0) * clamped);
}

view_color view_mix(view_color a, view_color b, float t)
{
    const float clamped = fminf(fmaxf(t, 0.0F), 1.0F);
    view_color mixed = 0;
    for (unsigned shift = 0; shift < 32; shift += 8) {
        const float from = (float)channel(a, shift);
        const float to = (float)channel(b, shift);
        mixed |= (uint32_t)lroundf(from + (to - from) * clamped) << shift;
    }
    return mixed;
}

/* ---- storage ------------------------------------------------------------------------------------------------- */

view_draw *view_draw_open(void)
{
    return calloc(1, sizeof(view_draw));
}

void view_draw_close(view_draw *draw)
{
    if (draw == NULL) {
        return;
    }
    free(draw->command);
    free(draw->point);
    free(draw->text);
    free(draw);
}

void view_draw_clear(view_draw *draw)
{
    draw->commands = 0;
    draw->points = 0;
    draw->text_size = 0;
    draw->is_mirrored = false;
}

size_t view_draw_count(const view_draw *draw)
{
    return draw->commands;
}

/* Room for `more` items behind `used` ones; doubles. NULL and the block untouched when there is no memory. */
static void *grown(void *block, size_t *cap, size_t used, size_t more, size_t item_size)
{
    if (used + more <= *cap) {
        return block;
    }
    size_t wanted = *cap == 0 ? 256 : *cap * 2;
    while (wanted < used + more) {
        wanted *= 2;
    }
    void *moved = realloc(block, wanted * item_size);
    if (moved != NULL) {
        *cap = wanted;
    }
    return moved;
}

static bool is_sound(const view__command *c)
{
    return isfinite(c->rect.x) && isfinite(c->rect.y) && isfinite(c->rect.w) && isfinite(c->rect.h) &&
           isfinite(c->radius) && isfinite(c->width) && isfinite(c->a) && isfinite(c->b) && isfinite(c->font.size);
}

/* ---- mirror -------------------------------------------------------------------------------------------------- */

void view_mirror(view_draw *draw, bool is_on, float x)
{
    draw->is_mirrored = is_on;
    draw->mirror_x = x;
}

bool view_is_mirrored(const view_draw *draw)
{
    return draw->is_mirrored;
}

static float mirrored_x(const view_draw *draw, float x)
{
    return 2.0F * draw->mirror_x - x;
}

/* Letters stand on the far side of the line that they turn about: a letter's height from the axis of upright text. */
static view__command mirrored(const view_draw *draw, view__command c)
{
    const float half_turn = 3.14159265F;
    c.rect.x = mirrored_x(draw, c.rect.x);
    switch (c.op) {
    case VIEW__FILL_RECT:
    case VIEW__FILL_GRADIENT:
    case VIEW__STROKE_RECT:
    case VIEW__CLIP_PUSH:
        c.rect.x -= c.rect.w;
        break;
    case VIEW__STROKE_ARC: {
        const float from = c.a;
        c.a = half_turn - c.b;
        c.b = half_turn - from;
        break;
    }
    case VIEW__TEXT:
        c.align = c.align == VIEW_LEFT ? VIEW_RIGHT : c.align == VIEW_RIGHT ? VIEW_LEFT : VIEW_CENTRE;
        break;
    case VIEW__TEXT_UP:
        c.rect.x += 0.7F * c.font.size;
        break;
    default: /* circles by their centre; polygons by their points */
        break;
    }
    return c;
}

static bool push(view_draw *draw, const view__command *wanted)
{
    const view__command turned = draw->is_mirrored ? mirrored(draw, *wanted) : *wanted;
    const view__command *command = &turned;
    if (!is_sound(command)) {
        return false;
    }
    void *block = grown(draw->command, &draw->command_cap, draw->commands, 1, sizeof(view__command));
    if (block == NULL) {
        return false;
    }
    draw->command = block;
    draw->command[draw->commands++] = *command;
    return true;
}

static void push_points(view_draw *draw, view__command command, const view_point *points, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (!isfinite(points[i].x) || !isfinite(points[i].y)) {
            return;
        }
    }
    void *block = grown(draw->point, &draw->point_cap, draw->points, count, sizeof(view_point));
    if (block == NULL) {
        return;
    }
    draw->point = block;
    command.first = draw->points;
    command.count = count;
    if (push(draw, &command)) {
        memcpy(&draw->point[draw->points], points, count * sizeof(view_point));
        for (size_t i = draw->points; draw->is_mirrored && i < draw->points + count; i++) {
            draw->point[i].x = mirrored_x(draw, draw->point[i].x);
        }
        draw->points += count;
    }
}

static void push_text(view_draw *draw, view__command command, const char *text)
{
    const size_t size = strlen(text) + 1;
    void *block = grown(draw->text, &draw->text_cap, draw->text_size, size, 1);
    if (block == NULL) {
        return;
    }
    draw->text = block;
    command.first = draw->text_size;
    command.count = size;
    if (push(draw, &command)) {
        memcpy(&draw->text[draw->text_size], text, size);
        draw->text_size += size;
    }
}

/* ---- fills --------------------------------------------------------------------------------------------------- */

void view_fill_rect(view_draw *draw, view_rect rect, float radius, view_color color)
{
    push(draw, &(view__command){.op = VIEW__FILL_RECT, .rect = rect, .radius = radius, .color = color});
}

void view_fill_circle(view_draw *draw, float x, float y, float radius, view_color color)
{
    push(draw, &(view__command){.op = VIEW__FILL_CIRCLE, .rect = {x, y, 0, 0}, .radius = radius, .color = color});
}

void view_fill_poly(view_draw *draw, const view_point *points, size_t count, view_color color)
{
    if (count >= 3) {
        push_points(draw, (view__command){.op = VIEW__FILL_POLY, .color = color}, points, count);
    }
}

void view_fill_gradient(view_draw *draw, view_rect rect, float radius, view_color top, view_color bottom)
{
    push(draw,
         &(view__command){.op = VIEW__FILL_GRADIENT, .rect = rect, .radius = radius, .color = top, .color2 = bottom});
}

void view_fill_sheen(view_draw *draw, const view_point *points, size_t count, bool is_vertical, view_color edge,
                     view_color middle)
{
    if (count >= 3) {
        push_points(
            draw, (view__command){.op = VIEW__FILL_SHEEN, .is_vertical = is_vertical, .color = edge, .color2 = middle},
            points, count);
    }
}

/* ---- strokes ------------------------------------------------------------------------------------------------- */

void view_stroke_rect(view_draw *draw, view_rect rect, float radius, float width, view_color color)
{
    push(draw,
         &(view__command){.op = VIEW__STROKE_RECT, .rect = rect, .radius = radius, .width = width, .color = color});
}

void view_stroke_circle(view_draw *draw, float x, float y, float radius, float width, view_color color)
{
    push(draw, &(view__command){
                   .op = VIEW__STROKE_CIRCLE, .rect = {x, y, 0, 0}, .radius = radius, .width = width, .color = color});
}

void view_stroke_arc(view_draw *draw, float x, float y, float radius, float from, float to, float width,
                     view_color color)
{
    push(draw, &(view__command){.op = VIEW__STROKE_ARC,
                                .rect = {x, y, 0, 0},
                                .radius = radius,
                                .width = width,
                                .a = from,
                                .b = to,
                                .color = color});
}

void view_stroke_poly(view_draw *draw, const view_point *points, size_t count, float width, float dash,
                      view_color color)
{
    if (count >= 2) {
        push_points(draw, (view__command){.op = VIEW__STROKE_POLY, .width = width, .a = dash, .color = color}, points,
                    count);
    }
}

void view_stroke_line(view_draw *draw, float x0, float y0, float x1, float y1, float width, view_color color)
{
    view_stroke_poly(draw, (const view_point[]){{x0, y0}, {x1, y1}}, 2, width, 0.0F, color);
}

void view_stroke_curve(view_draw *draw, const view_point *points, size_t count, float width, view_color color)
{
    if (count >= 2) {
        push_points(draw, (view__command){.op = VIEW__STROKE_CURVE, .width = width, .color = color}, points, count);
    }
}

void view_arrow(view_draw *draw, float x0, float y0, float x1, float y1, float width, view_color color)
{
    const float dx = x1 - x0;
    const float dy = y1 - y0;
    const float length = hypotf(dx, dy);
    if (!(length > 0.0F)) {
        return;
    }
    const float ux = dx / length;
    const float uy = dy / length;
    const float head = fminf(length, 4.0F + 3.0F * width);
    const float half = head * 0.42F;
    const float bx = x1 - ux * head;
    const float by = y1 - uy * head;
    /* the shaft ends inside the head, so that its round cap does not blunt the tip */
    view_stroke_line(draw, x0, y0, x1 - ux * head * 0.8F, y1 - uy * head * 0.8F, width, color);
    view_fill_poly(draw,
                   (const view_point[]){{x1, y1}, {bx - uy * half, by + ux * half}, {bx + uy * half, by - ux * half}},
                   3, color);
}

/* ---- text and clips ------------------------------------------------------------------------------------------ */

void view_text(view_draw *draw, float x, float baseline, view_font font, view_align align, view_color color,
               const char *text)
{
    if (text[0] != '\0') {
        push_text(draw,
                  (view__command){
                      .op = VIEW__TEXT, .rect = {x, baseline, 0, 0}, .font = font, .align = align, .color = color},
                  text);
    }
}

void view_text_up(view_draw *draw, float x, float y, view_font font, view_align align, view_color color,
                  const char *text)
{
    if (text[0] != '\0') {
        push_text(
            draw,
            (view__command){.op = VIEW__TEXT_UP, .rect = {x, y, 0, 0}, .font = font, .align = align, .color = color},
            text);
    }
}

void view_clip_push(view_draw *draw, view_rect rect)
{
    const bool is_pushed = push(draw, &(view__command){.op = VIEW__CLIP_PUSH, .rect = rect});
    if (!is_pushed) { /* a clip that is missing would make its pop undo another one: cut all away instead */
        push(draw, &(view__command){.op = VIEW__CLIP_PUSH});
    }
}

void view_clip_pop(view_draw *draw)
{
    push(draw, &(view__command){.op = VIEW__CLIP_POP});
}
