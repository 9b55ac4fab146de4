/* Writes what was fitted back into the scenario. */
#ifndef GAME_APP_FIT_WRITE_H
#define GAME_APP_FIT_WRITE_H

#include "commands.h"
#include "fit_model.h"

/* Writes the scenario of text with the fitted values in place to path, whole or not at all, after having read it once
 * as the program would. False with a sentence in why otherwise; an existing file is replaced only with force. */
bool fit_write(const app_context *context, const app_scenario *found, const fit_report *report, const char *path,
               bool force, char *why, size_t why_cap);

#endif
