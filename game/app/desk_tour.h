/* The tour on the desk. */
#ifndef GAME_APP_DESK_TOUR_H
#define GAME_APP_DESK_TOUR_H

#include "desk.h"

/* The offer that the tour runs over and that it sends to: the easiest, with the fewest rows. -1 where there is none. */
int app__desk_first_exercise(const app_desk *desk);

/* One frame of it. */
void app__desk_tour_frame(app_desk *desk);

#endif
