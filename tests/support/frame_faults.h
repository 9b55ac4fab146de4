/* What is wrong with a drawn frame, to be read by the tests of every screen: text over text, cut or shortened, ground
 * that does not carry its text, targets too small or over one another. */
#ifndef TESTS_FRAME_FAULTS_H
#define TESTS_FRAME_FAULTS_H

#include <stdbool.h>

#include "tautrow/view/paint.h"
#include "tautrow/view/ui.h"

typedef struct frame_seen {
    const view_draw *draw;
    const view_metrics *metrics;
    const view_theme *theme;
    view_rect screen;
    const view_ui *ui;  /* for targets; NULL for a drawing that is no screen */
    view_fonts *fonts;  /* for contrast */
    const char *where;  /* screen, language, size and text size: what a finding says */
    bool is_float_only; /* a tooltip or a toast lies over the screen: only it is looked at */
    bool may_be_short;  /* an ellipsis is no fault */
} frame_seen;

/* What ui drew last, after view_end. */
static inline frame_seen frame_of(const view_ui *ui, const char *where)
{
    return (frame_seen){
        .draw = ui->draw, .metrics = ui->metrics, .theme = ui->theme, .screen = ui->screen, .ui = ui, .where = where};
}

struct view__command;
/* The room that a text's capitals and x-heights really fill. */
view_rect frame_letters(const view_metrics *metrics, const struct view__command *c, const char *text);

/* Each prints what it finds and returns how much that is. */
int frame_text_faults(const frame_seen *f);
/* A text that starts so is seen, at least half of it high. */
bool frame_shows(const frame_seen *f, const char *start);
int frame_target_faults(const frame_seen *f);
/* Paints the frame. WCAG 2.2, 1.4.3: 4.5:1 for text, 3:1 for large text; what is disabled is excused there, we ask 3:1.
 */
int frame_contrast_faults(const frame_seen *f, view_canvas *bare, view_canvas *full);

#endif
