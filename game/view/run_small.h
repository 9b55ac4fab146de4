/* A scenario's run in small, for lists and doors: true to scale, without words. Private. */
#ifndef GAME_VIEW_RUN_SMALL_H
#define GAME_VIEW_RUN_SMALL_H

#include <stdbool.h>

#include "tautrow/job/setup.h"
#include "tautrow/view/draw.h"
#include "tautrow/view/theme.h"

/* The row of that index is still to be fitted by the trainee; the rest hang already. */
bool view__is_to_fit(const job_setup *setup, int index);

/* Posts, rail and rows as the scenario gives them, standing in the middle of area. The rows that are to be fitted stand out
 * by weight and colour. */
void view__run_small(view_draw *draw, const view_theme *theme, view_rect area, const job_setup *setup);

#endif
