/* A window on a display that shows nothing, for the tests of the host. */
#ifndef TESTS_HOST_WINDOW_H
#define TESTS_HOST_WINDOW_H

#include "near.h"

#include "tautrow/base/text.h"
#include "tautrow/view/host.h"

#include <SDL.h>

static inline view_host *host_opened(const char *driver, float scale)
{
    char why[TR_TEXT_CAP] = "";
    view_host *host = NULL;
    SDL_setenv("SDL_VIDEODRIVER", driver, 1);
    const view_host_options options = {.title = "test", .width = 1280, .height = 800, .scale = scale};
    if (view_host_open(&options, &host, why, sizeof why) != TR_OK) {
        print_error("%s\n", why);
        return NULL;
    }
    return host;
}

#endif
