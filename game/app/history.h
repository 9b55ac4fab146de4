/* What the finished attempts of the past came to. Grading a journal takes a replay, so the results are kept in a file
 * beside the journals and only new or changed ones are graded, one a call. */
#ifndef GAME_APP_HISTORY_H
#define GAME_APP_HISTORY_H

#include "data.h"
#include "tautrow/record/attempt.h"
#include "tautrow/score/mastery.h"

enum { APP_MAX_HISTORY = 4096, APP_STAMP_CAP = 64 };

typedef enum app_result_kind {
    APP_RESULT_NEW,    /* not graded yet */
    APP_RESULT_COUNTS, /* finished, and it verifies */
    APP_RESULT_OPEN,   /* not finished */
    APP_RESULT_BROKEN  /* cannot be read, or was changed */
} app_result_kind;

typedef struct app_result {
    char file[APP_NAME_CAP];
    char stamp[APP_STAMP_CAP]; /* size and time of the last change */
    app_result_kind kind;
    char trainee[RECORD_TRAINEE_CAP];
    char started_utc[32];
    double total, pass_mark;
    bool passed;
    score_shares shares;
} app_result;

typedef struct app_history {
    char folder[APP_PATH_CAP]; /* empty: there is none */
    char made_by[160];         /* what the results depend on besides the journals */
    bool keeps;                /* the results may be written */
    bool has_changed;          /* ... and want to be */
    app_result *result;        /* by time of start */
    size_t count;
} app_history;

/* Takes over what is kept beside the journals. made_by: kept results of another maker are not believed. */
void app_history_open(app_history *history, const char *folder, const char *made_by, bool keeps);
void app_history_close(app_history *history);

/* Looks which journals there are now; those that are new or were changed wait for app_history_step. */
void app_history_look(app_history *history);

/* Grades one that waits; the last one writes the results down. Returns how many still wait. */
size_t app_history_step(app_history *history);
size_t app_history_waiting(const app_history *history);

/* Size and time of the last change of a file, as text; empty where there is none. */
void app_file_stamp(const char *path, char out[APP_STAMP_CAP]);

#endif
