/* What a call can come back with, and the list in which bad input is described.
 *
 * Three kinds of trouble, three answers: a programmer's error is a TR_ASSERT; bad input is a
 * tr_result with entries in a tr_diags, state untouched; physics that does not work out is an
 * ordinary value in the result structure of the call concerned. */
#ifndef TAUTROW_BASE_RESULT_H
#define TAUTROW_BASE_RESULT_H

#include <stddef.h>

typedef enum tr_result {
    TR_OK = 0,
    TR_INVALID,   /* input that breaks the format or makes no sense; see the diagnostics */
    TR_LIMIT,     /* input larger than a stated limit */
    TR_IO,        /* a file could not be read or written */
    TR_NO_MEMORY, /* the machine gave no memory */
    TR_BROKEN     /* a journal that does not verify */
} tr_result;

typedef enum tr_severity { TR_ERROR, TR_WARNING } tr_severity;

enum { TR_MAX_DIAGS = 48, TR_PATH_CAP = 128, TR_TEXT_CAP = 320 };

/* One finding. line and column count from 1; 0 = no place in a text. path is a JSON path such as
 * "$.rows.count", empty where there is none. text is one sentence without a full stop. */
typedef struct tr_diag {
    tr_severity severity;
    int line;
    int column;
    char path[TR_PATH_CAP];
    char text[TR_TEXT_CAP];
} tr_diag;

/* A list that never grows past its capacity: what does not fit is counted in dropped. */
typedef struct tr_diags {
    tr_diag item[TR_MAX_DIAGS];
    size_t count;
    size_t dropped;
    size_t errors; /* how many of all findings, dropped ones included, are errors */
} tr_diags;

/* Empties the list. */
void tr_diags_clear(tr_diags *diags);

/* Appends a finding; format is printf's. A text that is too long is cut at a character boundary. */
#if defined(__GNUC__)
__attribute__((format(printf, 6, 7)))
#endif
void tr_diags_add(tr_diags *diags, tr_severity severity, int line, int column, const char *path,
                  const char *format, ...);

#endif
