/* The only place that touches files. The lower layers get text; record and app come here. */
#ifndef TAUTROW_BASE_IO_H
#define TAUTROW_BASE_IO_H

#include <stdbool.h>
#include <stddef.h>

#include "tautrow/base/result.h"

/* Reads a whole regular file of at most max bytes into a new buffer with a NUL behind it; the caller frees it by
 * free(). TR_LIMIT: larger than max; TR_IO: cannot be read (a folder, no permission...). why says it in words. */
tr_result tr_file_read(const char *path, size_t max, char **text, size_t *size, char *why, size_t why_cap);

/* Writes a file whole or not at all: temporary file beside it, flush, rename. The old file stays intact on failure. */
tr_result tr_file_write(const char *path, const char *text, size_t size, char *why, size_t why_cap);

/* Makes a folder and its parents. */
tr_result tr_folder_make(const char *path, char *why, size_t why_cap);

bool tr_file_exists(const char *path);

/* Takes a file away; false when it is still there. */
bool tr_file_remove(const char *path);

/* A file that is appended to line by line and flushed to the disk's care after each. Opaque; closed by tr_lines_close.
 */
typedef struct tr_lines tr_lines;
/* must_be_new: refuse to touch an existing file. */
tr_result tr_lines_open(const char *path, bool must_be_new, tr_lines **out, char *why, size_t why_cap);
/* Appends text[size] and a line feed as one write; after a failure (disk full) the file is cut back to its last whole
 * line. */
tr_result tr_lines_add(tr_lines *lines, const char *text, size_t size, char *why, size_t why_cap);
/* Cuts the file off after its first size bytes, to go on from there; size is where a line ends and not past the end. */
tr_result tr_lines_cut(tr_lines *lines, size_t size, char *why, size_t why_cap);
void tr_lines_close(tr_lines *lines);

#endif
