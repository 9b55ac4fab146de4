/* Fonts and text as pixels. Every string is measured once and rendered once for each (font, size x scale) and kept as
 * an alpha mask in a cache with a bound: text is the costly part of a frame. */
#ifndef TAUTROW_VIEW_TEXT_H
#define TAUTROW_VIEW_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "tautrow/base/result.h"
#include "tautrow/view/draw.h"

typedef struct view_fonts view_fonts; /* opaque */

/* Opens the first complete set of faces found: the folders in order, each searched for Lato, then for DejaVu Sans,
 * directly and in the usual places below; then the places where systems keep them. folders may be NULL (count 0).
 * TR_IO: no usable font; why says what was looked for and what to do. TR_NO_MEMORY. *out only on success;
 * view_fonts_close frees it. No window is needed. */
tr_result view_fonts_open(const char *const folders[], size_t count, view_fonts **out, char *why, size_t why_cap);
/* The same, but only the folders given are searched. */
tr_result view_fonts_open_only(const char *const folders[], size_t count, view_fonts **out, char *why, size_t why_cap);
void view_fonts_close(view_fonts *fonts);

/* Measures at 1:1, so that layout is the same at every scale. Valid as long as fonts. */
view_metrics view_fonts_metrics(view_fonts *fonts);

/* An 8 bit coverage mask of one line; origin = where the pen starts, in pixels from the mask's corner. */
typedef struct view_mask {
    uint8_t *alpha; /* the cache's: read only */
    int width, height, stride;
    int origin_x, origin_y; /* the baseline's start within the mask */
    float advance;          /* pixels */
} view_mask;

/* The mask of text at scale. Valid until the next call. False: nothing to draw (empty text, no memory). */
bool view_fonts_mask(view_fonts *fonts, view_font font, float scale, const char *text, view_mask *out);

/* Bytes and entries held by the cache, and the bound on its bytes. */
typedef struct view_cache_use {
    size_t bytes, entries, limit;
} view_cache_use;
view_cache_use view_fonts_cache(const view_fonts *fonts);
/* Sets the bound; what is over is dropped at once, oldest use first. */
void view_fonts_limit(view_fonts *fonts, size_t bytes);

#endif
