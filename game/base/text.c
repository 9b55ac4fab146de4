/* Bounded text, UTF-8 and numbers that no locale can change. */
#include "tautrow/base/text.h"

#include "tautrow/base/assert.h"

#include <locale.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NUMBER_CAP = 400, DISTANCE_CAP = 32 };

static bool is_tail(unsigned char byte)
{
    return (byte & 0xC0U) == 0x80U;
}

/* Smallest and largest second byte after this first one: they keep out overlong forms, surrogates and what lies behind
 * U+10FFFF. The Unicode Standard, table 3-7 (well-formed UTF-8 byte sequences). */
static bool is_second(unsigned char first, unsigned char second)
{
    switch (first) {
    case 0xE0U:
        return second >= 0xA0U && second <= 0xBFU;
    case 0xEDU:
        return second >= 0x80U && second <= 0x9FU;
    case 0xF0U:
        return second >= 0x90U && second <= 0xBFU;
    case 0xF4U:
        return second >= 0x80U && second <= 0x8FU;
    default:
        return is_tail(second);
    }
}

/* Bytes that the character starting with this byte has; 0 = no character starts so. */
static size_t length_from_first(unsigned char first)
{
    if (first < 0x80U) {
        return 1;
    }
    if (first >= 0xC2U && first <= 0xDFU) {
        return 2;
    }
    if (first >= 0xE0U && first <= 0xEFU) {
        return 3;
    }
    return first >= 0xF0U && first <= 0xF4U ? 4 : 0;
}

/* Bytes of the well-formed character at the start of text[len], 0 when there is none. */
static size_t character_length(const char *text, size_t len)
{
    if (len == 0) {
        return 0;
    }
    const unsigned char first = (unsigned char)text[0];
    const size_t length = length_from_first(first);
    if (length == 0 || length > len) {
        return 0;
    }
    if (length >= 2 && !is_second(first, (unsigned char)text[1])) {
        return 0;
    }
    for (size_t i = 2; i < length; i++) {
        if (!is_tail((unsigned char)text[i])) {
            return 0;
        }
    }
    return length;
}

size_t tr_utf8_whole(const char *text, size_t len)
{
    size_t done = 0;
    for (;;) {
        const size_t length = character_length(text + done, len - done);
        if (length == 0) {
            return done;
        }
        done += length;
    }
}

bool tr_utf8_valid(const char *text, size_t len)
{
    return tr_utf8_whole(text, len) == len && memchr(text, 0, len) == NULL;
}

bool tr_copy(char *out, size_t cap, const char *text)
{
    TR_ASSERT(cap >= 1);
    size_t len = 0;
    while (len < cap && text[len] != '\0') {
        len++;
    }
    const bool fits = len < cap;
    if (!fits) {
        len = tr_utf8_whole(text, cap - 1);
    }
    memmove(out, text, len);
    out[len] = '\0';
    return fits;
}

bool tr_format_list(char *out, size_t cap, const char *format, va_list args)
{
    TR_ASSERT(cap >= 1);
    const int length = vsnprintf(out, cap, format, args);
    TR_ASSERT(length >= 0);
    if ((size_t)length < cap) {
        return true;
    }
    out[tr_utf8_whole(out, cap - 1)] = '\0';
    return false;
}

bool tr_format(char *out, size_t cap, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const bool fits = tr_format_list(out, cap, format, args);
    va_end(args);
    return fits;
}

bool tr_append(char *out, size_t cap, const char *format, ...)
{
    const char *const end = memchr(out, 0, cap);
    TR_ASSERT(end != NULL);
    const size_t used = (size_t)(end - out);
    va_list args;
    va_start(args, format);
    const bool fits = tr_format_list(out + used, cap - used, format, args);
    va_end(args);
    return fits;
}

/* printf's number with whatever the locale puts for the point (it may be several bytes) made a point again. */
static void make_plain(char *text)
{
    char *write = text;
    bool in_point = false;
    for (const char *read = text; *read != '\0'; read++) {
        const bool is_plain = (*read >= '0' && *read <= '9') || *read == '-' || *read == '+' || *read == 'e';
        if (is_plain) {
            *write++ = *read;
        } else if (!in_point) {
            *write++ = '.';
        }
        in_point = !is_plain;
    }
    *write = '\0';
}

void tr_double_text(double value, char *out, size_t cap)
{
    TR_ASSERT(isfinite(value));
    char text[64];
    /* 15 digits are always kept by a double, 17 always tell it from its neighbours: IEEE 754. */
    for (int digits = 15; digits <= 17; digits++) {
        tr_format(text, sizeof text, "%.*g", digits, value);
        make_plain(text);
        double back = 0.0;
        const size_t read = tr_double_parse(text, &back);
        if (read > 0 && back == value) {
            break;
        }
    }
    const bool fits = tr_copy(out, cap, text);
    TR_ASSERT(fits); /* half a number would be another number */
}

static size_t count_digits(const char *text)
{
    size_t count = 0;
    while (text[count] >= '0' && text[count] <= '9') {
        count++;
    }
    return count;
}

/* Length of the decimal number at the start of text, and where its point is (0 = none: a point never comes first after
 * the sign is taken into account, for a digit is asked before it). 0 = no number. */
static size_t number_length(const char *text, size_t *point)
{
    size_t at = text[0] == '-' || text[0] == '+' ? 1 : 0;
    const size_t whole = count_digits(text + at);
    if (whole == 0) {
        return 0;
    }
    at += whole;
    *point = 0;
    if (text[at] == '.') {
        const size_t part = count_digits(text + at + 1);
        if (part == 0) {
            return at;
        }
        *point = at;
        at += 1 + part;
    }
    if (text[at] == 'e' || text[at] == 'E') {
        const size_t sign = text[at + 1] == '-' || text[at + 1] == '+' ? 1 : 0;
        const size_t power = count_digits(text + at + 1 + sign);
        at += power > 0 ? 1 + sign + power : 0;
    }
    return at;
}

size_t tr_double_parse(const char *text, double *value)
{
    size_t point = 0;
    const size_t length = number_length(text, &point);
    char local[NUMBER_CAP]; /* the same number as strtod wants it in this locale */
    const struct lconv *const conventions = localeconv();
    const char *const sign = point > 0 ? conventions->decimal_point : "";
    const size_t sign_length = strlen(sign);
    if (length == 0 || length + sign_length >= sizeof local) {
        return 0;
    }
    const size_t head = point > 0 ? point : length;
    memcpy(local, text, head);
    memcpy(local + head, sign, sign_length);
    const size_t tail = point > 0 ? length - point - 1 : 0;
    memcpy(local + head + sign_length, text + head + (point > 0 ? 1 : 0), tail);
    local[head + sign_length + tail] = '\0';
    char *end = local;
    const double read = strtod(local, &end);
    if (*end != '\0' || !isfinite(read)) {
        return 0;
    }
    *value = read;
    return length;
}

/* The first characters of text as numbers that differ where the characters do. */
static int split(const char *text, uint32_t out[DISTANCE_CAP])
{
    const size_t len = strlen(text);
    size_t at = 0;
    int count = 0;
    while (at < len && count < DISTANCE_CAP) {
        size_t length = character_length(text + at, len - at);
        if (length == 0) {
            length = 1; /* a stray byte counts as a character */
        }
        uint32_t packed = 0;
        for (size_t i = 0; i < length; i++) {
            packed = packed << 8U | (unsigned char)text[at + i];
        }
        out[count++] = packed;
        at += length;
    }
    return count;
}

static int least_of(int a, int b, int c)
{
    const int least = a < b ? a : b;
    return least < c ? least : c;
}

int tr_edit_distance(const char *a, const char *b)
{
    uint32_t from[DISTANCE_CAP];
    uint32_t to[DISTANCE_CAP];
    const int from_count = split(a, from);
    const int to_count = split(b, to);
    int row[DISTANCE_CAP + 1] = {0};
    for (int j = 0; j <= to_count; j++) {
        row[j] = j;
    }
    for (int i = 1; i <= from_count; i++) {
        int diagonal = row[0];
        row[0] = i;
        for (int j = 1; j <= to_count; j++) {
            const int change = diagonal + (from[i - 1] == to[j - 1] ? 0 : 1);
            diagonal = row[j];
            row[j] = least_of(row[j] + 1, row[j - 1] + 1, change);
        }
    }
    return row[to_count];
}
