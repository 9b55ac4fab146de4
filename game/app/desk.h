/* The desk: everything the window works with, and the moves between screens. With a window or without (pictures). */
#ifndef GAME_APP_DESK_H
#define GAME_APP_DESK_H

#include "commands.h"
#include "places.h"
#include "practice.h"
#include "shelf.h"
#include "tautrow/view/screens.h"
#include "tautrow/view/shown.h"
#include "tautrow/view/sound.h"
#include "tautrow/view/text.h"
#include "tautrow/view/tour.h"

typedef enum app_screen {
    APP_SCREEN_HOME,
    APP_SCREEN_SCENARIOS,
    APP_SCREEN_JOB,
    APP_SCREEN_DEBRIEF,
    APP_SCREEN_SETTINGS,
    APP_SCREEN_PROGRESS,
    APP_SCREEN_ORDERS,
    APP_SCREEN_SHOWN,
    APP_SCREEN_TOUR,
    APP_SCREENS
} app_screen;

typedef struct app_desk {
    const app_context *context;
    app_places places;
    bool keeps; /* journals and settings can be written */
    char trouble[TR_TEXT_CAP];
    view_settings settings;
    tr_lang *other_lang; /* loaded when the settings ask for another language than the command line's */
    app_shelf shelf;
    app_practice practice;

    view_draw *draw;
    view_fonts *fonts;
    view_metrics metrics;
    view_ui ui;

    app_screen screen, before_settings, before_orders;
    view_choose choose;
    int offer; /* being played, -1 none */
    record_attempt *attempt;
    char journal[APP_PATH_CAP]; /* the attempt's file; empty where it has none */
    view_job *job;
    view_debrief *debrief;
    view_orders *orders;
    const scenario *orders_of;
    view_shown *shown;
    bool shown_by_keys; /* as it was chosen last */
    view_tour tour;
    bool offers_tour;  /* home shows the card that offers it */
    bool asks_lang;    /* nobody has said which language, nor does the machine */
    view_sound *sound; /* NULL in a picture */
    view_ear ear;
    view_feel feel; /* in this frame, for a controller; none where it is not wanted */
    score_card card;
    bool journal_ok;
    long long job_ms;  /* time at the job; stands still while another screen is up */
    long long seen_ms; /* clock at the last frame */
    bool wants_end;
} app_desk;

/* Sets the desk up: fonts, settings, lists. False, with a sentence in why, where it cannot be. */
bool app_desk_open(app_desk *desk, const app_context *context, char *why, size_t why_cap);
void app_desk_close(app_desk *desk);

const tr_lang *app_desk_lang(const app_desk *desk);
tr_system app_desk_system(const app_desk *desk, const scenario *what);

/* Draws one frame of the present screen and does what the person wants. clock_ms: any clock that only goes forward. */
void app_desk_frame(app_desk *desk, const view_input *input, long long clock_ms);

/* "guided", "assessment"; anything else is practice. */
job_mode app_mode_named(const char *name);

/* Starts an attempt at offer index; journalled where that is possible and wanted. */
bool app_desk_start(app_desk *desk, int index, job_mode mode, bool is_kept);
/* Shows what the order changes on offer index. */
bool app_desk_orders(app_desk *desk, int index);
/* The tour, from its first step; the attempt on the desk is put away. False where there is no exercise for it. */
bool app_desk_tour(app_desk *desk);
/* Goes on with an unfinished journal, or opens the debrief of a finished one. */
bool app_desk_resume(app_desk *desk, const char *journal);
bool app_desk_review(app_desk *desk, const char *journal);
/* Shows a journal at the job screen after so many of its actions (all when steps < 0), recording nothing; in the mode
 * that the command line names, else in its own. */
bool app_desk_show(app_desk *desk, const char *journal, long long steps);

/* The program shows the stage that the job screen shows, on a copy of the attempt. */
bool app_desk_show_me(app_desk *desk);
/* Brings the attempt on, without its journal, by so many actions of the careful installer. */
void app_desk_advance(app_desk *desk, long long steps);

/* A picture of the present screen as a PNG file, without any window. The exit code. */
int app_desk_picture(app_desk *desk, const char *path, float width, float height, float scale);

#endif
