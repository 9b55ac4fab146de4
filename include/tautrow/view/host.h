/* The window: SDL makes events of keyboard, mouse, touch screen and game controllers into view_input and shows what the
 * painter painted. The only part of the view that knows SDL video. */
#ifndef TAUTROW_VIEW_HOST_H
#define TAUTROW_VIEW_HOST_H

#include <stdbool.h>
#include <stddef.h>

#include "tautrow/base/result.h"
#include "tautrow/view/draw.h"
#include "tautrow/view/paint.h"
#include "tautrow/view/text.h"
#include "tautrow/view/ui.h"

enum { VIEW_LEAST_WIDTH = 1024, VIEW_LEAST_HEIGHT = 640 };

typedef struct view_host_options {
    const char *title;
    int width, height; /* layout units; 0 = 1280 x 800 */
    float scale;       /* pixels a layout unit; 0 = as the display says */
} view_host_options;

typedef struct view_host view_host; /* opaque */

/* Opens the window; Alt+Enter fills the screen with it and goes back. TR_IO: no display, or no window on it; why says so
 * in words. */
tr_result view_host_open(const view_host_options *options, view_host **out, char *why, size_t why_cap);
void view_host_close(view_host *host);

/* Collects what happened since the last call. wants_frame false: sleeps until something happens (at most max_wait_s; <
 * 0 = no limit). */
void view_host_input(view_host *host, bool wants_frame, double max_wait_s, view_input *input);
/* Text input on or off (ui->wants_text). */
void view_host_text(view_host *host, bool is_on);
/* Shakes the controllers that can be shaken: low = slow and strong, high = fast and fine, both 0 to 1. */
void view_host_rumble(view_host *host, float low, float high, double seconds);
/* What the window's frame says. */
void view_host_title(view_host *host, const char *title);

/* Paints the list and shows it. False: no memory or the window is gone. */
bool view_host_present(view_host *host, const view_draw *draw, view_fonts *fonts, view_color ground);
/* What is shown now, as a PNG file. */
tr_result view_host_png(const view_host *host, const char *path, char *why, size_t why_cap);

float view_host_scale(const view_host *host);

#endif
