/* The draw list: a screen as plain data. Screens fill it, the painter turns it into pixels, tests read it.
 * Coordinates are layout units: pixels at scale 1, x to the right, y down. Angles in radians, clockwise from +x. */
#ifndef TAUTROW_VIEW_DRAW_H
#define TAUTROW_VIEW_DRAW_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct view_rect {
    float x, y, w, h;
} view_rect;

typedef struct view_point {
    float x, y;
} view_point;

/* 0xRRGGBBAA */
typedef uint32_t view_color;
#define VIEW_RGBA(rgb, alpha) (((view_color)(rgb) << 8) | (view_color)(alpha))
view_color view_fade(view_color color, float alpha); /* multiplies its alpha */
view_color view_mix(view_color a, view_color b, float t);

typedef enum view_weight { VIEW_REGULAR, VIEW_SEMIBOLD, VIEW_BOLD, VIEW_WEIGHTS } view_weight;

typedef struct view_font {
    float size; /* height of an em in layout units */
    view_weight weight;
} view_font;

typedef enum view_align { VIEW_LEFT, VIEW_CENTRE, VIEW_RIGHT } view_align;

typedef struct view_draw view_draw; /* opaque; reused frame after frame */

view_draw *view_draw_open(void); /* NULL when there is no memory */
void view_draw_close(view_draw *draw);
void view_draw_clear(view_draw *draw);

/* Fills. radius 0 = square corners. */
void view_fill_rect(view_draw *draw, view_rect rect, float radius, view_color color);
void view_fill_circle(view_draw *draw, float x, float y, float radius, view_color color);
void view_fill_poly(view_draw *draw, const view_point *points, size_t count, view_color color);
/* Top to bottom from one colour to another. */
void view_fill_gradient(view_draw *draw, view_rect rect, float radius, view_color top, view_color bottom);
/* A polygon filled left to right (rods, barrels) or top to bottom through three colours: edge, middle, edge. */
void view_fill_sheen(view_draw *draw, const view_point *points, size_t count, bool is_vertical, view_color edge,
                     view_color middle);

/* Strokes: width in layout units, round joins; dash 0 = solid. */
void view_stroke_rect(view_draw *draw, view_rect rect, float radius, float width, view_color color);
void view_stroke_circle(view_draw *draw, float x, float y, float radius, float width, view_color color);
void view_stroke_arc(view_draw *draw, float x, float y, float radius, float from, float to, float width,
                     view_color color);
void view_stroke_line(view_draw *draw, float x0, float y0, float x1, float y1, float width, view_color color);
void view_stroke_poly(view_draw *draw, const view_point *points, size_t count, float width, float dash,
                      view_color color);
/* A smooth curve through the points (Catmull-Rom). */
void view_stroke_curve(view_draw *draw, const view_point *points, size_t count, float width, view_color color);
/* A line with a filled head at its end. */
void view_arrow(view_draw *draw, float x0, float y0, float x1, float y1, float width, view_color color);

/* One line of text; (x, baseline). The text is copied. */
void view_text(view_draw *draw, float x, float baseline, view_font font, view_align align, view_color color,
               const char *text);
/* Text turned a quarter counter-clockwise (chart axes). */
void view_text_up(view_draw *draw, float x, float y, view_font font, view_align align, view_color color,
                  const char *text);

/* Everything until the matching pop is cut to rect (intersected with the clips outside it). */
void view_clip_push(view_draw *draw, view_rect rect);
void view_clip_pop(view_draw *draw);

/* While it is on, what is drawn is reflected in the upright line at x; text stays readable, set from the other side. */
void view_mirror(view_draw *draw, bool is_on, float x);
bool view_is_mirrored(const view_draw *draw);

/* The list as readable text, one command a line, coordinates to 0.1: for golden tests. The caller frees it by free(). */
char *view_draw_dump(const view_draw *draw);
size_t view_draw_count(const view_draw *draw);

/* ---- measuring: the only thing a screen may ask of fonts ------------------------------------------------------------ */

/* Width of one line of text, layout units. A function pointer so that layout runs in tests with a made-up font. */
typedef struct view_metrics {
    float (*width)(void *context, view_font font, const char *text);
    void *context;
} view_metrics;

float view_text_width(const view_metrics *metrics, view_font font, const char *text);

/* Breaks text into lines no wider than width and draws them from top downward (at line_height); returns the height used.
 * draw may be NULL: then it only measures. At most max_lines, the last ending in an ellipsis when cut (0 = no limit). */
float view_text_block(view_draw *draw, const view_metrics *metrics, view_rect area, view_font font, float line_height,
                      view_color color, int max_lines, const char *text);
/* The font made smaller, within reason, until text fits width. */
view_font view_font_fit(const view_metrics *metrics, view_font font, float width, const char *text);
/* One line, in smaller letters where it does not fit width, and at last cut with an ellipsis. */
void view_text_fit(view_draw *draw, const view_metrics *metrics, float x, float baseline, float width, view_font font,
                   view_align align, view_color color, const char *text);

#endif
