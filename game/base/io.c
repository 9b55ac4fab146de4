/* The only file that touches files (POSIX). A file is written whole or not at all, and a file of lines ends in a whole
 * line, whatever the disk does. Messages name the file and say what the system said. */
#define _POSIX_C_SOURCE 200809L
#include "tautrow/base/io.h"

#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { FIRST_BUFFER = 4096, PATH_LIMIT = 4096 };

static tr_result say(tr_result result, const char *path, const char *what, int error, char *why, size_t why_cap)
{
    if (error != 0) {
        tr_format(why, why_cap, "%s: %s (%s)", path, what, strerror(error));
    } else {
        tr_format(why, why_cap, "%s: %s", path, what);
    }
    return result;
}

/* Writes all of data, in as many goes as the system needs. Returns 0 or the errno. */
static int write_all(int file, const char *data, size_t size)
{
    while (size > 0) {
        const ssize_t written = write(file, data, size);
        if (written < 0 && errno == EINTR) {
            continue;
        }
        if (written <= 0) {
            return written < 0 ? errno : ENOSPC;
        }
        data += written;
        size -= (size_t)written;
    }
    return 0;
}

/* ---- reading ---------------------------------------------------------------------------------------------------- */

/* Reads until the end or until more than max bytes have come; the buffer grows with what is there, not with what is
 * claimed. */
static tr_result read_all(int file, const char *path, size_t max, char **text, size_t *size, char *why, size_t why_cap)
{
    size_t cap = FIRST_BUFFER;
    size_t used = 0;
    char *buffer = malloc(cap);
    tr_result result = buffer != NULL ? TR_OK : say(TR_NO_MEMORY, path, "no memory to read it", 0, why, why_cap);
    while (result == TR_OK) {
        const ssize_t got = read(file, buffer + used, cap - used - 1);
        if (got == 0) {
            break;
        }
        if (got < 0) {
            result = errno == EINTR ? TR_OK : say(TR_IO, path, "cannot be read", errno, why, why_cap);
            continue;
        }
        used += (size_t)got;
        if (used > max) {
            tr_format(why, why_cap, "%s: is larger than %zu bytes", path, max);
            result = TR_LIMIT;
        } else if (used + 1 == cap) {
            char *const larger = realloc(buffer, cap * 2);
            result = larger != NULL ? TR_OK : say(TR_NO_MEMORY, path, "no memory to read it", 0, why, why_cap);
            buffer = larger != NULL ? larger : buffer;
            cap *= larger != NULL ? 2 : 1;
        }
    }
    if (result != TR_OK) {
        free(buffer);
        return result;
    }
    buffer[used] = '\0';
    *text = buffer;
    *size = used;
    return TR_OK;
}

tr_result tr_file_read(const char *path, size_t max, char **text, size_t *size, char *why, size_t why_cap)
{
    const int file = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC); /* not to wait for a pipe's other end */
    if (file < 0) {
        return say(TR_IO, path, "cannot be opened", errno, why, why_cap);
    }
    struct stat about;
    tr_result result = TR_IO;
    if (fstat(file, &about) != 0) {
        say(TR_IO, path, "cannot be read", errno, why, why_cap);
    } else if (S_ISDIR(about.st_mode)) {
        say(TR_IO, path, "is a folder, not a file", 0, why, why_cap);
    } else if (!S_ISREG(about.st_mode)) {
        say(TR_IO, path, "is no ordinary file", 0, why, why_cap);
    } else {
        result = read_all(file, path, max, text, size, why, why_cap);
    }
    close(file);
    return result;
}

bool tr_file_exists(const char *path)
{
    struct stat about;
    return stat(path, &about) == 0;
}

bool tr_file_remove(const char *path)
{
    return unlink(path) == 0 || errno == ENOENT;
}

/* ---- writing whole ---------------------------------------------------------------------------------------------- */

/* Makes the change of a folder last, too. A system that cannot sync folders is no failure: the file itself is whole. */
static void sync_folder_of(const char *path)
{
    char folder[PATH_LIMIT];
    if (!tr_copy(folder, sizeof folder, path)) {
        return;
    }
    char *const slash = strrchr(folder, '/');
    if (slash == NULL) {
        tr_copy(folder, sizeof folder, ".");
    } else {
        slash[slash == folder ? 1 : 0] = '\0';
    }
    const int file = open(folder, O_RDONLY | O_CLOEXEC);
    if (file >= 0) {
        (void)fsync(file);
        close(file);
    }
}

/* Writes a new file; returns 0 or the errno. */
static int write_new(const char *path, const char *text, size_t size)
{
    (void)unlink(path); /* left behind by a killed program that had our number */
    const int file = open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (file < 0) {
        return errno;
    }
    int error = write_all(file, text, size);
    if (error == 0 && fsync(file) != 0) {
        error = errno;
    }
    if (close(file) != 0 && error == 0) {
        error = errno;
    }
    return error;
}

tr_result tr_file_write(const char *path, const char *text, size_t size, char *why, size_t why_cap)
{
    struct stat about;
    if (stat(path, &about) == 0 && !S_ISREG(about.st_mode)) {
        const char *const what = S_ISDIR(about.st_mode) ? "is a folder, not a file" : "is no ordinary file";
        return say(TR_IO, path, what, 0, why, why_cap);
    }
    char beside[PATH_LIMIT];
    if (!tr_format(beside, sizeof beside, "%s.new-%ld", path, (long)getpid())) {
        return say(TR_IO, path, "the name is too long", 0, why, why_cap);
    }
    int error = write_new(beside, text, size);
    if (error == 0 && rename(beside, path) != 0) {
        error = errno;
    }
    if (error != 0) {
        (void)unlink(beside);
        return say(TR_IO, path, "cannot be written", error, why, why_cap);
    }
    sync_folder_of(path);
    return TR_OK;
}

/* ---- folders ---------------------------------------------------------------------------------------------------- */

static bool is_folder(const char *path)
{
    struct stat about;
    return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

tr_result tr_folder_make(const char *path, char *why, size_t why_cap)
{
    char part[PATH_LIMIT];
    if (path[0] == '\0' || !tr_copy(part, sizeof part, path)) {
        return say(TR_IO, path, path[0] == '\0' ? "a folder needs a name" : "the name is too long", 0, why, why_cap);
    }
    /* Each parent first: the path is cut at every slash in turn. */
    for (char *at = part + 1;; at++) {
        if (*at != '/' && *at != '\0') {
            continue;
        }
        const char kept = *at;
        *at = '\0';
        if (mkdir(part, 0777) != 0 && !is_folder(part)) {
            return say(TR_IO, part, "the folder cannot be made", errno, why, why_cap);
        }
        if (kept == '\0') {
            return TR_OK;
        }
        *at = kept;
    }
}

/* ---- lines ------------------------------------------------------------------------------------------------------ */

struct tr_lines {
    int file;
    off_t whole;  /* where the last whole line ends */
    bool is_torn; /* something may stand behind it that could not be cut off yet */
    char *buffer; /* line and line feed, so that both go in one write */
    size_t cap;
    char path[]; /* for messages */
};

/* Keeps a second program from appending to the same file; systems without such locks go without. */
static bool is_taken(int file)
{
    struct flock lock = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
    return fcntl(file, F_SETLK, &lock) != 0 && (errno == EACCES || errno == EAGAIN);
}

tr_result tr_lines_open(const char *path, bool must_be_new, tr_lines **out, char *why, size_t why_cap)
{
    const size_t length = strlen(path);
    tr_lines *const lines = calloc(1, sizeof *lines + length + 1);
    if (lines == NULL) {
        return say(TR_NO_MEMORY, path, "no memory to open it", 0, why, why_cap);
    }
    tr_copy(lines->path, length + 1, path);
    lines->file = open(path, O_WRONLY | O_APPEND | O_CREAT | O_CLOEXEC | O_NONBLOCK | (must_be_new ? O_EXCL : 0), 0666);
    if (lines->file < 0) {
        const int error = errno;
        free(lines);
        const bool is_there = must_be_new && error == EEXIST;
        return say(TR_IO, path, is_there ? "is there already and is left as it is" : "cannot be opened for writing",
                   is_there ? 0 : error, why, why_cap);
    }
    struct stat about;
    const int error = fstat(lines->file, &about) != 0 ? errno : 0;
    if (error != 0 || is_taken(lines->file)) {
        close(lines->file);
        free(lines);
        return say(TR_IO, path, error != 0 ? "cannot be opened for writing" : "is in use by another program", error,
                   why, why_cap);
    }
    lines->whole = about.st_size;
    *out = lines;
    return TR_OK;
}

static bool make_room(tr_lines *lines, size_t size)
{
    if (size <= lines->cap) {
        return true;
    }
    char *const larger = realloc(lines->buffer, size);
    if (larger == NULL) {
        return false;
    }
    lines->buffer = larger;
    lines->cap = size;
    return true;
}

static bool cut_back(tr_lines *lines)
{
    lines->is_torn = ftruncate(lines->file, lines->whole) != 0;
    return !lines->is_torn;
}

tr_result tr_lines_add(tr_lines *lines, const char *text, size_t size, char *why, size_t why_cap)
{
    TR_ASSERT(size < SIZE_MAX && memchr(text, '\n', size) == NULL);
    if (lines->is_torn && !cut_back(lines)) {
        return say(TR_IO, lines->path, "a half-written line cannot be taken out", errno, why, why_cap);
    }
    if (!make_room(lines, size + 1)) {
        return say(TR_NO_MEMORY, lines->path, "no memory to write a line", 0, why, why_cap);
    }
    memcpy(lines->buffer, text, size);
    lines->buffer[size] = '\n';
    const int error = write_all(lines->file, lines->buffer, size + 1);
    if (error != 0) {
        (void)cut_back(lines); /* tried again before the next line if it fails */
        return say(TR_IO, lines->path, "a line cannot be written", error, why, why_cap);
    }
    lines->whole += (off_t)(size + 1);
    return TR_OK;
}

tr_result tr_lines_cut(tr_lines *lines, size_t size, char *why, size_t why_cap)
{
    if ((off_t)size > lines->whole) {
        return say(TR_IO, lines->path, "is shorter than it was", 0, why, why_cap);
    }
    lines->whole = (off_t)size;
    return cut_back(lines) ? TR_OK : say(TR_IO, lines->path, "cannot be cut back", errno, why, why_cap);
}

void tr_lines_close(tr_lines *lines)
{
    if (lines == NULL) {
        return;
    }
    (void)fsync(lines->file); /* each line is with the system already; this is for a power cut just after */
    close(lines->file);
    free(lines->buffer);
    free(lines);
}
