/* For host.c alone: SDL wants pixels that it could write to. */
#ifndef VIEW_PAINT_DATA_H
#define VIEW_PAINT_DATA_H

#include "tautrow/view/paint.h"

uint8_t *view__canvas_data(const view_canvas *canvas);

#endif
