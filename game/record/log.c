/* Writing a journal line by line. A full disk does not stop an attempt: lines wait in memory, in order, and are tried
 * again. */
#include "log.h"

#include "tautrow/base/text.h"

#include <stdlib.h>
#include <string.h>

enum { WHY_CAP = 256, FIRST_WAITING = 4096 };

tr_result record__log_open(record__log *log, const char *path, char *header, size_t cap, char *why, size_t why_cap)
{
    *log = (record__log){.lines = NULL};
    tr_result result = tr_lines_open(path, true, &log->lines, why, why_cap);
    if (result != TR_OK) {
        return result;
    }
    record__seal(header, cap, log->link);
    result = tr_lines_add(log->lines, header, strlen(header), why, why_cap);
    if (result != TR_OK) {
        record__log_close(log);
        (void)tr_file_remove(path); /* so that the same place can be tried again */
    }
    return result;
}

tr_result record__log_resume(record__log *log, const char *path, size_t size, const char *link, int64_t count,
                             char *why, size_t why_cap)
{
    *log = (record__log){.count = count};
    tr_copy(log->link, sizeof log->link, link);
    tr_result result = tr_lines_open(path, false, &log->lines, why, why_cap);
    if (result == TR_OK) {
        result = tr_lines_cut(log->lines, size, why, why_cap);
    }
    if (result != TR_OK) {
        record__log_close(log);
    }
    return result;
}

/* Keeps a sealed line until the file takes it. */
static bool keep(record__log *log, const char *line)
{
    const size_t size = strlen(line) + 1;
    if (log->used + size > log->cap) {
        const size_t cap = log->cap == 0 ? FIRST_WAITING : log->cap * 2; /* a line is shorter than either */
        char *const larger = realloc(log->waiting, cap);
        if (larger == NULL) {
            return false;
        }
        log->waiting = larger;
        log->cap = cap;
    }
    memcpy(log->waiting + log->used, line, size - 1);
    log->waiting[log->used + size - 1] = '\n';
    log->used += size;
    return true;
}

static bool write_waiting(record__log *log)
{
    char why[WHY_CAP];
    size_t done = 0;
    while (done < log->used) {
        const char *const start = log->waiting + done;
        const char *const end = memchr(start, '\n', log->used - done);
        const size_t size = (size_t)(end - start);
        if (tr_lines_add(log->lines, start, size, why, sizeof why) != TR_OK) {
            break;
        }
        done += size + 1;
    }
    if (done > 0) {
        log->used -= done;
        memmove(log->waiting, log->waiting + done, log->used);
    }
    return log->used == 0;
}

bool record__log_add(record__log *log, record__entry *entry)
{
    if (log->is_lost) {
        return false; /* a line is missing: what follows would not verify */
    }
    char line[RECORD__LINE_CAP];
    entry->number = ++log->count;
    record__write_entry(entry, line);
    record__seal(line, sizeof line, log->link);
    log->is_lost = !keep(log, line);
    const bool is_written = write_waiting(log);
    return is_written && !log->is_lost;
}

void record__log_close(record__log *log)
{
    if (log->lines != NULL) {
        (void)write_waiting(log);
        tr_lines_close(log->lines);
    }
    free(log->waiting);
    *log = (record__log){.lines = NULL};
}
