/* The demonstration on the desk. */
#ifndef GAME_APP_DESK_SHOWN_H
#define GAME_APP_DESK_SHOWN_H

#include "desk.h"

/* A frame of it; goes back to the job when that is wanted. */
void app__desk_shown_frame(app_desk *desk);

#endif
