/* The painter: a draw list becomes pixels, in memory, at any scale. The window shows the result, a picture file keeps
 * it: the same pixels on every machine. Needs no window and no SDL video. */
#ifndef TAUTROW_VIEW_PAINT_H
#define TAUTROW_VIEW_PAINT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "tautrow/base/result.h"
#include "tautrow/view/draw.h"
#include "tautrow/view/text.h"

typedef struct view_canvas view_canvas; /* opaque; grows as needed, reused frame after frame */

view_canvas *view_canvas_open(void); /* NULL when there is no memory */
void view_canvas_close(view_canvas *canvas);

/* Paints the list on a ground of one colour. width and height in layout units, pixels = units x scale, rounded.
 * fonts may be NULL: text is left out. False: no memory, or a size that makes no sense (over 16384 pixels a side). */
bool view_canvas_paint(view_canvas *canvas, const view_draw *draw, view_fonts *fonts, float width, float height,
                       float scale, view_color ground);

/* The pixels: premultiplied 0xAARRGGBB in the machine's byte order, stride in bytes. Valid until the next paint. */
typedef struct view_pixels {
    const uint8_t *data;
    int width, height, stride;
} view_pixels;
view_pixels view_canvas_pixels(const view_canvas *canvas);
uint32_t view_canvas_pixel(const view_canvas *canvas, int x, int y);

/* Writes what was painted last as a PNG file. */
tr_result view_canvas_png(const view_canvas *canvas, const char *path, char *why, size_t why_cap);

/* A draw list as a PNG file in one go. */
tr_result view_shot(const view_draw *draw, view_fonts *fonts, float width, float height, float scale, view_color ground,
                    const char *path, char *why, size_t why_cap);

#endif
