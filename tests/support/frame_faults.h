/* What is wrong with a drawn frame, to be read by the tests of every screen: text over text, cut or shortened, ground
 * that does not carry its text, targets too small or over one another. */
#ifndef TESTS_FRAME_FAULTS_H
#define TESTS_FRAME_FAULTS_H

#include <stdbool.h>

#include "tautrow/view/paint.h"
#include "tautrow/view/ui.h"

typedef struct frame_seen {
    const view_ui *ui; /* after view_end */
    view_fonts *fonts;
    const char *where;      /* screen, language, size and text size: what a finding says */
    bool is_float_only;     /* a tooltip or a toast lies over the screen: only it is looked at */
    const char *const *may; /* texts that may be shortened, NULL at the end */
} frame_seen;

/* Each prints what it finds and returns how much that is. */
int frame_text_faults(const frame_seen *f);
int frame_target_faults(const frame_seen *f);
/* Paints the frame. WCAG 2.2, 1.4.3: 4.5:1 for text, 3:1 for large text; what is disabled is excused there, we ask 3:1.
 */
int frame_contrast_faults(const frame_seen *f, view_canvas *bare, view_canvas *full);

#endif
