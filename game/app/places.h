/* Where the program may write: the XDG base directories, and nowhere else. */
#ifndef GAME_APP_PLACES_H
#define GAME_APP_PLACES_H

#include <stdbool.h>
#include <stddef.h>

#include "data.h"

typedef struct app_places {
    char settings[APP_PATH_CAP]; /* file; empty where there is no home */
    char attempts[APP_PATH_CAP]; /* folder of journals; empty where there is no home */
} app_places;

/* Works the places out and makes the folders. False, with a sentence in why, where nothing can be kept: the program
 * goes on. */
bool app_places_find(app_places *out, char *why, size_t why_cap);

/* Now as RFC 3339, and as a name that sorts by time ("20310502T080000Z"). */
void app_now_utc(char rfc3339[32], char stamp[32]);

/* Milliseconds of a clock that only goes forward. */
long long app_clock_ms(void);

#endif
