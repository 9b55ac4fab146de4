/* The painter of pixels: lets the walk over a draw list fill an image surface. Every number that leaves the draw list is
 * in layout units; the only places that think in pixels are text (masks are placed on whole pixels, so that letters stay
 * sharp) and hairlines (same reason, paint_list.c). */
#include "tautrow/view/paint.h"

#include "paint_data.h"
#include "paint_list.h"

#include <cairo.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"

enum { MAX_SIDE = 16384 };

struct view_canvas {
    cairo_surface_t *surface;
};

/* ---- text ---------------------------------------------------------------------------------------------------- */

static double aligned(view_align align, double width)
{
    return align == VIEW_LEFT ? 0.0 : align == VIEW_RIGHT ? width : width / 2.0;
}

static void draw_text(const view__brush *b, const view__command *c)
{
    view_mask mask;
    view_fonts *fonts = b->context;
    if (fonts == NULL || !view_fonts_mask(fonts, c->font, (float)b->scale, b->draw->text + c->first, &mask)) {
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
    view__brush b = {
        .cr = cairo_create(canvas->surface), .draw = draw, .scale = (double)scale, .text = draw_text, .context = fonts};
    cairo_set_operator(b.cr, CAIRO_OPERATOR_SOURCE);
    view__set_color(b.cr, ground);
    cairo_paint(b.cr);
    cairo_set_operator(b.cr, CAIRO_OPERATOR_OVER);
    cairo_scale(b.cr, b.scale, b.scale);
    view__paint_list(&b);
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
