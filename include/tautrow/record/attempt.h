/* One attempt: the scenario, the actions so far and the state that they lead to, with undo, and the journal it is
 * written to. The window and the command line both work through this. */
#ifndef TAUTROW_RECORD_ATTEMPT_H
#define TAUTROW_RECORD_ATTEMPT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "tautrow/base/io.h"
#include "tautrow/job/job.h"
#include "tautrow/scenario/scenario.h"
#include "tautrow/score/score.h"

enum {
    RECORD_MAX_ACTIONS = 20000,
    RECORD_MAX_FILE = 16 * 1024 * 1024,
    RECORD_MAX_LINE = 4 * SCENARIO_MAX_FILE + 8192,
    RECORD_TRAINEE_CAP = 64
};

typedef struct record_about {
    char trainee[RECORD_TRAINEE_CAP]; /* as the person wants to be called; may be empty */
    char started_utc[32];             /* RFC 3339, given by the caller who has a clock */
    char version[16];                 /* of the program that wrote it */
    job_mode mode;
    uint64_t seed;
} record_about;

typedef struct record_attempt record_attempt; /* opaque */

/* Starts an attempt at a scenario whose file text is kept for the journal, with the text of the catalogue that it was read
 * with: a journal replays alone, whatever becomes of either. "" = no catalogue. NULL when there is no memory. */
record_attempt *record_attempt_open(const char *scenario_text, size_t size, const scenario *what,
                                    const char *catalogue_text, const record_about *about);
void record_attempt_close(record_attempt *attempt);

/* Journals from now on to a new file at path (folder must exist): header first. On failure the attempt goes on
 * unrecorded and why says what happened. */
tr_result record_attempt_journal(record_attempt *attempt, const char *path, char *why, size_t why_cap);

/* Carries out an action and writes its line. *journal_ok (may be NULL) turns false when the line could not be written
 * (disk full...); the attempt goes on and later lines are tried again together with the missing ones. */
job_outcome record_attempt_do(record_attempt *attempt, const job_action *action, bool *journal_ok);

/* Takes back the last action that is not yet taken back. Guided mode only; false where there is nothing to take back.
 */
bool record_attempt_undo(record_attempt *attempt, int64_t at_ms);

/* Grades and writes the closing line. May be called once the sheet is signed, or to give up. */
void record_attempt_finish(record_attempt *attempt, score_card *card);

const scenario *record_attempt_scenario(const record_attempt *attempt);
const record_about *record_attempt_about(const record_attempt *attempt);
const job_state *record_attempt_state(const record_attempt *attempt);
/* Actions that count (those taken back are not among them), and their trace. Valid until the next change. */
size_t record_attempt_actions(const record_attempt *attempt, const job_action **actions);
const job_trace_entry *record_attempt_trace(const record_attempt *attempt);

/* ---- reading back ----------------------------------------------------------------------------------------------- */

typedef struct record_reading {
    int lines;          /* whole lines read */
    int broken_line;    /* first line that does not verify, 0 = none */
    char problem[256];  /* what is wrong with it, in words; empty = nothing */
    bool is_finished;   /* has its closing line */
    bool has_torn_end;  /* a last line cut short by a kill; it was left out */
    bool score_differs; /* the closing line's score is not what the replay gives */
    double claimed_total;
    score_card card; /* what the replay gives */
} record_reading;

/* Reads, verifies and replays a journal's text[size]. TR_OK: verified; *out (may be NULL) gets the attempt, ready to go
 * on. TR_BROKEN: read, but a line was changed, dropped or moved: reading->broken_line names it. TR_INVALID: no journal
 * at all. */
tr_result record_attempt_read(const char *text, size_t size, record_attempt **out, record_reading *reading,
                              tr_diags *diags);

/* Goes on with a journal at path after a kill: reads it, cuts off a torn last line, and appends from there. */
tr_result record_attempt_continue(const char *path, record_attempt **out, record_reading *reading, tr_diags *diags);

#endif
