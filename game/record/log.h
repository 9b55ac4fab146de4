/* A journal being written: the chain so far, the file, and what the file could not take yet. Private to this layer. */
#ifndef RECORD_LOG_H
#define RECORD_LOG_H

#include "journal.h"

typedef struct record__log {
    tr_lines *lines; /* NULL: nothing is recorded */
    int64_t count;   /* number of the last action or undo */
    char *waiting;   /* sealed lines, each with its line feed, that are not in the file */
    size_t used, cap;
    char link[RECORD__LINK_TEXT];
    bool is_lost; /* there was no memory to keep a line: the file ends before it */
} record__log;

/* Starts a new file with its header. On failure nothing is recorded and no file is left. */
tr_result record__log_open(record__log *log, const char *path, char *header, size_t cap, char *why, size_t why_cap);

/* Goes on with a file: its first size bytes are the lines up to the one with number count and check digits link. */
tr_result record__log_resume(record__log *log, const char *path, size_t size, const char *link, int64_t count,
                             char *why, size_t why_cap);

/* Numbers, seals and writes a line. False when lines are waiting: they are tried again before the next. */
bool record__log_add(record__log *log, record__entry *entry);

/* Tries the waiting lines once more and closes the file. */
void record__log_close(record__log *log);

#endif
