/* A stage shown by the program: a copy of the attempt, worked by the program's own hand on the same job screen, to be
 * stepped through. The attempt itself is never touched, and nothing of the copy is recorded. */
#ifndef TAUTROW_VIEW_SHOWN_H
#define TAUTROW_VIEW_SHOWN_H

#include "tautrow/view/sound.h"

typedef struct view_shown view_shown; /* opaque */

/* Shows stage for row as it would go on from the attempt's present point; where the row is past the stage, on a fresh copy
 * of the scenario; where it is not there yet, the copy is brought to it first. NULL when there is no memory. */
view_shown *view_shown_open(const record_attempt *attempt, job_stage stage, int row);
void view_shown_close(view_shown *shown);

/* What a frame of it needs beside the ui. */
typedef struct view_shown_frame {
    const view_prefs *prefs;
    tr_system system;
    view_ear *ear; /* hears the copy's work; may be NULL */
    bool captions;
} view_shown_frame;

/* Draws a frame and plays on by its time. True when the person wants back to the work. Call it first in the frame: it draws
 * the copy's job screen from a clean sheet. */
bool view_shown_draw(view_ui *ui, view_shown *shown, const view_shown_frame *frame);

/* ---- by program: pictures and tests ----------------------------------------------------------------------------- */

/* The next frame begins by playing on to the next step, or to the end of the stage, without showing it. */
void view_shown_next(view_shown *shown);
/* Back to the beginning of the step under way, or of the one before it when that has only just begun. */
void view_shown_former(view_shown *shown);
/* Worked by the keyboard alone, or by the pointer alone. */
void view_shown_use_keys(view_shown *shown, bool uses_keys);
bool view_shown_uses_keys(const view_shown *shown);
bool view_shown_is_done(const view_shown *shown);
int view_shown_steps(const view_shown *shown);
/* The copy. Valid until it is stepped back. */
const record_attempt *view_shown_attempt(const view_shown *shown);

#endif
