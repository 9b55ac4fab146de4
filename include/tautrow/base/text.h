/* Bounded text: every write names its capacity, always ends in NUL and never splits a UTF-8 character. */
#ifndef TAUTROW_BASE_TEXT_H
#define TAUTROW_BASE_TEXT_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

/* Copies text into out[cap]; returns false when it had to be cut. cap >= 1. */
bool tr_copy(char *out, size_t cap, const char *text);

/* snprintf with the two promises above; returns false when the text had to be cut. */
#if defined(__GNUC__)
__attribute__((format(printf, 3, 4)))
#endif
bool tr_format(char *out, size_t cap, const char *format, ...);

/* tr_format for functions that take a format themselves. */
#if defined(__GNUC__)
__attribute__((format(printf, 3, 0)))
#endif
bool tr_format_list(char *out, size_t cap, const char *format, va_list args);

/* Appends to what out already holds. */
#if defined(__GNUC__)
__attribute__((format(printf, 3, 4)))
#endif
bool tr_append(char *out, size_t cap, const char *format, ...);

/* Length in bytes of the longest prefix of text[len] that is whole UTF-8 characters. */
size_t tr_utf8_whole(const char *text, size_t len);

/* True when text[len] is well-formed UTF-8 without NUL. */
bool tr_utf8_valid(const char *text, size_t len);

/* Writes the shortest decimal text that reads back as the same double, whatever the locale. value must be finite. */
void tr_double_text(double value, char *out, size_t cap);

/* Reads a decimal number at the start of text, whatever the locale: digits, optional sign, point, exponent.
 * Returns the number of bytes read, 0 when there is no number or it does not fit a double. */
size_t tr_double_parse(const char *text, double *value);

/* Smallest number of single-character edits that turn a into b (for "did you mean"); at most 32 characters are
 * compared. */
int tr_edit_distance(const char *a, const char *b);

#endif
