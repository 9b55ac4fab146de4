/* The command line, read once into a value. */
#ifndef GAME_APP_OPTIONS_H
#define GAME_APP_OPTIONS_H

#include <stdbool.h>
#include <stddef.h>

#include "tautrow/base/lang.h"
#include "tautrow/base/units.h"

typedef enum app_verb { APP_WINDOW, APP_CHECK, APP_SOLVE, APP_PLAN, APP_REPLAY, APP_FIT, APP_VERBS } app_verb;

/* Exit codes: fine; the answer is no; usage or unreadable input. */
enum { APP_EXIT_FINE = 0, APP_EXIT_NO = 1, APP_EXIT_USAGE = 2 };

enum { APP_MAX_TAKE_UPS = 64, APP_HOLDS = 3 };

typedef struct app_options {
    app_verb verb;
    bool help, version, json;
    bool has_system;
    bool strict;          /* check: warnings count as a no */
    bool wants_target;    /* solve, plan */
    bool actions;         /* replay: only the table of actions */
    const char *pdf;      /* replay: the debrief on paper goes there */
    bool once, lines;     /* plan */
    bool compare;         /* plan */
    bool force;           /* fit: write over what is there */
    bool hold[APP_HOLDS]; /* fit: base, joint, strand */
    tr_system system;
    const char *lang; /* "en", "es" or NULL = by the environment */
    const char *take_up[APP_MAX_TAKE_UPS];
    int take_up_count;
    int leave_out; /* fit */
    const char *pulls;
    const char *target; /* NULL = the scenario's */
    const char *write;  /* fit */
    double scatter;     /* fit: of the gauge, a share; 0 = the scenario's */
    double text;        /* window: text size in percent, 0 = by the settings */
    double scale;       /* window; 0 = by the display */
    int width, height;
    const char *screenshot, *screen, *journal, *mode, *trainee, *resume, *targets, *attempts;
    long long step; /* window: how many actions of the journal are shown; -1 = all */
    const char *const *files;
    int file_count;
} app_options;

/* Reads the command line. False, with the sentence in why, where it makes no sense. */
bool app_options_read(int argc, char **argv, app_options *out, char *why, size_t why_cap);

/* Prints the help of a verb (APP_WINDOW: of the program) to standard output. */
void app_options_help(app_verb verb, const tr_lang *lang);

#endif
