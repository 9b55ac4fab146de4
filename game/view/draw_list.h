/* What a draw list is made of: private to draw.c, draw_dump.c and the painters. */
#ifndef VIEW_DRAW_LIST_H
#define VIEW_DRAW_LIST_H

#include "tautrow/view/draw.h"

typedef enum view__op {
    VIEW__FILL_RECT,
    VIEW__FILL_CIRCLE,
    VIEW__FILL_POLY,
    VIEW__FILL_GRADIENT,
    VIEW__FILL_SHEEN,
    VIEW__STROKE_RECT,
    VIEW__STROKE_CIRCLE,
    VIEW__STROKE_ARC,
    VIEW__STROKE_POLY,
    VIEW__STROKE_CURVE,
    VIEW__TEXT,
    VIEW__TEXT_UP,
    VIEW__CLIP_PUSH,
    VIEW__CLIP_POP
} view__op;

/* One command. rect: a circle keeps its centre in x, y; text its anchor. [first, first + count): its points, or its
 * text's bytes. */
typedef struct view__command {
    view__op op;
    view_rect rect;
    float radius, width;
    float a, b; /* arc: from, to; poly: a = dash */
    view_color color, color2;
    view_font font;
    view_align align;
    bool is_vertical;
    size_t first, count;
} view__command;

struct view_draw {
    view__command *command;
    size_t commands, command_cap;
    view_point *point;
    size_t points, point_cap;
    char *text; /* every string with its NUL */
    size_t text_size, text_cap;
};

#endif
