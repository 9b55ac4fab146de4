/* What to practise next and why: past attempts in, what the screens show out. */
#ifndef GAME_APP_PRACTICE_H
#define GAME_APP_PRACTICE_H

#include "history.h"
#include "shelf.h"
#include "tautrow/score/mastery.h"

typedef struct app_practice {
    bool works; /* the tracing parameters could be read */
    score_tracings tracings;
    app_history history;
    int exercise[SCORE_SKILLS]; /* easiest offer that exercises the skill, -1 none */
    view_progress progress;
} app_practice;

/* Reads the parameters of the tracing from the text of assets/mastery.json. False, with a sentence in why, where a
 * skill is missing or its numbers are not sound. */
bool app_tracings_read(const char *text, size_t size, score_tracings *out, char *why, size_t why_cap);

/* attempts: folder of journals, may be empty. keeps: results may be written there. The shelf must be filled. False, with
 * a sentence in why, where the parameters cannot be read: then there is no advice. */
bool app_practice_open(app_practice *practice, const app_context *context, const app_shelf *shelf, const char *attempts,
                       bool keeps, char *why, size_t why_cap);
void app_practice_close(app_practice *practice);

/* After attempts came or went. */
void app_practice_look(app_practice *practice);

/* Grades one journal that waits, if any, and brings progress up to date for a trainee. True while more wait. */
bool app_practice_step(app_practice *practice, const char *trainee);

#endif
