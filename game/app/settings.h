/* The settings file: JSON under the XDG configuration folder. A file that cannot be read counts as none. */
#ifndef GAME_APP_SETTINGS_H
#define GAME_APP_SETTINGS_H

#include "tautrow/view/screens.h"

/* What a new user starts with. */
view_settings app_settings_default(const char *lang);

/* Reads path over the defaults; what is missing or makes no sense keeps its default. */
view_settings app_settings_load(const char *path, const char *lang);

/* False, with a sentence in why, where the file could not be written. */
bool app_settings_save(const char *path, const view_settings *settings, char *why, size_t why_cap);

#endif
