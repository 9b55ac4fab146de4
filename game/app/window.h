/* Opens the window (or draws one picture of it without a display). */
#ifndef GAME_APP_WINDOW_H
#define GAME_APP_WINDOW_H

#include "commands.h"

/* Returns the exit code; says on stderr why there is no window where there is none. */
int app_window(const app_context *context);

/* TR_INVALID where the program was built without the window. */
app_printer app_print;

#endif
