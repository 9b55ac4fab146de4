/* Where the program may write, what lies there, and the clock. */
#define _POSIX_C_SOURCE 200809L
#include "places.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

/* $name/tautrow, else $HOME/fallback/tautrow. The XDG specification has relative paths ignored. */
static bool base_folder(const char *name, const char *fallback, char out[APP_PATH_CAP])
{
    const char *named = getenv(name);
    if (named != NULL && named[0] == '/') {
        return tr_format(out, APP_PATH_CAP, "%s/tautrow", named);
    }
    const char *home = getenv("HOME");
    return home != NULL && home[0] == '/' && tr_format(out, APP_PATH_CAP, "%s/%s/tautrow", home, fallback);
}

bool app_places_find(app_places *out, char *why, size_t why_cap)
{
    char config[APP_PATH_CAP];
    char data[APP_PATH_CAP];
    memset(out, 0, sizeof *out);
    if (!base_folder("XDG_CONFIG_HOME", ".config", config) || !base_folder("XDG_DATA_HOME", ".local/share", data)) {
        (void)tr_copy(why, why_cap, "there is no home folder");
        return false;
    }
    char attempts[APP_PATH_CAP];
    if (!tr_format(attempts, sizeof attempts, "%s/attempts", data)) {
        (void)tr_copy(why, why_cap, "the name of the home folder is too long");
        return false;
    }
    if (tr_folder_make(attempts, why, why_cap) != TR_OK) {
        return false;
    }
    (void)tr_copy(out->attempts, sizeof out->attempts, attempts);
    if (tr_folder_make(config, why, why_cap) != TR_OK) {
        return false;
    }
    return tr_format(out->settings, sizeof out->settings, "%s/settings.json", config);
}

void app_now_utc(char rfc3339[32], char stamp[32])
{
    const time_t now = time(NULL);
    struct tm parts;
    if (gmtime_r(&now, &parts) == NULL || strftime(rfc3339, 32, "%Y-%m-%dT%H:%M:%SZ", &parts) == 0 ||
        strftime(stamp, 32, "%Y%m%dT%H%M%SZ", &parts) == 0) {
        (void)tr_copy(rfc3339, 32, "1970-01-01T00:00:00Z");
        (void)tr_copy(stamp, 32, "19700101T000000Z");
    }
}

long long app_clock_ms(void)
{
    struct timespec now;
    if (clock_gettime(CLOCK_MONOTONIC, &now) != 0) {
        return 0;
    }
    return (long long)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}
