/* The debrief on a desk of its own, for its tests and its picture sheet. */
#ifndef TESTS_DEBRIEF_DESK_H
#define TESTS_DEBRIEF_DESK_H

#include "debrief.h"
#include "report_attempts.h"
#include "screen_desk.h"

typedef struct debrief_desk {
    screen_desk on;
    paper_attempt done;
    view_debrief *debrief;
    view_answer_of_screen answer; /* of the last frame */
} debrief_desk;

/* Takes over the attempt. */
static inline void debrief_desk_open(debrief_desk *desk, const paper_attempt *done, const char *code,
                                     view_metrics metrics, float text_scale)
{
    (void)screen_desk_open(&desk->on, code, &metrics);
    desk->on.prefs.text_scale = text_scale;
    desk->done = *done;
    desk->debrief = view_debrief_open(desk->done.attempt, &desk->done.card);
    if (desk->debrief == NULL) {
        exit(2);
    }
}

static inline void debrief_desk_frame(debrief_desk *desk)
{
    screen_desk_begin(&desk->on);
    desk->answer = view_debrief_frame(&desk->on.ui, desk->debrief, desk->done.attempt, &desk->done.card,
                                      screen_desk_units(&desk->on));
    screen_desk_end(&desk->on);
}

static inline void debrief_desk_close(debrief_desk *desk)
{
    view_debrief_close(desk->debrief);
    screen_desk_close(&desk->on);
    paper_attempt_close(&desk->done);
}

#endif
