/* What the desk's own files share about the attempt on it. */
#ifndef GAME_APP_DESK_ATTEMPTS_H
#define GAME_APP_DESK_ATTEMPTS_H

#include "desk.h"

/* Closes the attempt and the screens that show it. */
void app__desk_put_away(app_desk *desk);
/* Opens the debrief of the attempt on the desk with desk->card. False when there is no memory. */
bool app__desk_to_debrief(app_desk *desk);

#endif
