/* The lines of a journal: text to values and back, and the chain of check digits that ties each line to all before it.
 * docs/formats-journal.md. Private to this layer. */
#ifndef RECORD_JOURNAL_H
#define RECORD_JOURNAL_H

#include "tautrow/record/attempt.h"

enum {
    RECORD__LINK_TEXT = 33,    /* 32 check digits and a NUL */
    RECORD__TAIL = 40,         /* ,"h":"<32 digits>"} */
    RECORD__LINE_CAP = 1024,   /* of every line but the header */
    RECORD__HEADER_ROOM = 4096 /* of the header besides twice the texts in it */
};

/* Longest time since the start, ms: 2^53 would lose exactness, thirty years are enough. */
#define RECORD__MAX_MS ((int64_t)1000000000000)

#define RECORD__FORMAT_STEM "{\"format\":\"tautrow.journal/"
#define RECORD__FORMAT      "tautrow.journal/1"

typedef enum record__kind { RECORD__ACTION, RECORD__UNDO, RECORD__CLOSING } record__kind;

/* Every line but the header. */
typedef struct record__entry {
    record__kind kind;
    int64_t number;    /* "n"; not of the closing line */
    job_action action; /* at_ms is that of any kind, the rest only of an action */
    double total;
    bool passed;
    char state[TR_HASH_TEXT];
} record__entry;

typedef struct record__header {
    record_about about;
    char id[JOB_NAME_CAP];
    char *scenario_text;  /* both freed by the receiver; none where the header could not be read */
    char *catalogue_text; /* "" = the scenario needs none */
} record__header;

/* Check digits of a line text[size] (without its tail) that follows the line with the check digits before. */
void record__link(const char *before, const char *text, size_t size, char out[RECORD__LINK_TEXT]);

/* Puts the tail behind a line and moves link on to this line's check digits. */
void record__seal(char *line, size_t cap, char link[RECORD__LINK_TEXT]);

/* True when text[size] ends in a tail that fits it; moves link on then. */
bool record__unseal(const char *text, size_t size, char link[RECORD__LINK_TEXT]);

/* The header without its tail, in a new buffer with room for it; NULL when there is no memory. */
char *record__write_header(const record_about *about, const char *id, const char *scenario_text, size_t size,
                           const char *catalogue_text, size_t *cap);

/* Any other line without its tail. */
void record__write_entry(const record__entry *entry, char out[RECORD__LINE_CAP]);

/* Read a whole line text[size]. On failure why says what is wrong, as a sentence that goes on after "line 7". */
bool record__read_header(const char *text, size_t size, record__header *out, char *why, size_t why_cap);
bool record__read_entry(const char *text, size_t size, int row_count, record__entry *out, char *why, size_t why_cap);

#endif
