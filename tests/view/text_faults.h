/* The text of a drawing without a screen about it (a printed page), or of a frame whose ui is not at hand: as
 * frame_faults.h looks at it. */
#ifndef TESTS_TEXT_FAULTS_H
#define TESTS_TEXT_FAULTS_H

#include "near.h"

#include "draw_list.h"
#include "frame_faults.h"

/* least: texts that there must be, so that an empty drawing is not taken for a good one. */
static inline int text_faults(const view_draw *draw, const view_metrics *metrics, float width, float height,
                              size_t least)
{
    const frame_seen seen = {.draw = draw,
                             .metrics = metrics,
                             .theme = view_theme_of(VIEW_THEME_DAY),
                             .screen = {0.0F, 0.0F, width, height},
                             .where = "drawing",
                             .may_be_short = true};
    size_t texts = 0;
    for (size_t i = 0; i < draw->commands; i++) {
        texts += draw->command[i].op == VIEW__TEXT ? 1 : 0;
    }
    assert_true(texts > least);
    return frame_text_faults(&seen);
}

#endif
