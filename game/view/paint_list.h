/* For the painters alone (pixels in paint.c, paper in pdf.c): the walk over a draw list. */
#ifndef VIEW_PAINT_LIST_H
#define VIEW_PAINT_LIST_H

#include <cairo.h>

#include "draw_list.h"

typedef struct view__brush {
    cairo_t *cr; /* scaled by the caller: it is fed layout units */
    const view_draw *draw;
    double scale;  /* pixels a layout unit */
    bool is_exact; /* there are no pixels: hairlines and clips stay where they are */
    int clips;     /* open now */
    void (*text)(const struct view__brush *brush, const view__command *command);
    void *context; /* of text */
} view__brush;

/* 0xRRGGBBAA as Cairo's source. */
void view__set_color(cairo_t *cr, view_color color);
/* Every command of the list in order; texts go to brush->text. Clips that are left open are closed. */
void view__paint_list(view__brush *brush);

#endif
