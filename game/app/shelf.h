/* What there is to choose from: the scenarios that come with the program, and the attempts of the past. */
#ifndef GAME_APP_SHELF_H
#define GAME_APP_SHELF_H

#include "commands.h"
#include "places.h"
#include "tautrow/view/screens.h"

enum { APP_MAX_OFFERS = 64, APP_MAX_PAST = 24 };

typedef struct app_shelf {
    int offer_count;
    view_offer offer[APP_MAX_OFFERS];
    app_scenario *held[APP_MAX_OFFERS];
    char path[APP_MAX_OFFERS][APP_PATH_CAP];
    int past_count;
    view_past past[APP_MAX_PAST];
    char journal[APP_MAX_PAST][APP_PATH_CAP];
} app_shelf;

/* Reads all scenarios of folder/scenarios, those with errors included (they are shown with what is wrong). */
void app_shelf_fill(app_shelf *shelf, const app_context *context);
void app_shelf_empty(app_shelf *shelf);

/* Adds one scenario file; returns its index, -1 where there is no room. */
int app_shelf_add(app_shelf *shelf, const app_context *context, const char *path);

/* Looks at the newest journals: first and last line only, so that a long history does not slow the start. Nothing is
 * verified here; opening one does that. lang: "en" or "es", for titles. */
void app_shelf_look_back(app_shelf *shelf, const app_places *places, const char *lang);

#endif
