/* The way of the work, for somebody who has done nothing yet. Private. */
#ifndef GAME_VIEW_HOME_PATH_H
#define GAME_VIEW_HOME_PATH_H

#include "tautrow/view/ui.h"

/* The eleven stages, one under the other, each with what is done there. Returns the height used. */
float view__home_path(view_ui *ui, view_rect room);

#endif
