/* Writes the tables and counts. A row that is off is told on the standard output as soon as it is seen. */
#include "book.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"

/* Room for rounding in a value that lies right on the edge of half a digit. */
static const double EDGE = 1.0 + 1e-6;

#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
static void
put(book *b, const char *format, ...)
{
    va_list values;
    va_start(values, format);
    const bool is_whole = tr_format_list(b->text + b->used, BOOK_CAP - b->used, format, values);
    va_end(values);
    TR_ASSERT(is_whole); /* the book is full: raise BOOK_CAP */
    b->used += strlen(b->text + b->used);
}

void book_open(book *b)
{
    memset(b, 0, sizeof *b);
}

static void end_section(book *b)
{
    if (b->section_rows > 0) {
        (void)printf("%-34s %4d checks, %d failed; closest uses %3.0f %% of its tolerance\n", b->section,
                     b->section_rows, b->section_failed, 100.0 * b->closest);
    }
    b->section_rows = b->section_failed = 0;
    b->closest = 0.0;
    b->has_table = false;
}

void book_section(book *b, const char *title, const char *tests)
{
    end_section(b);
    (void)tr_copy(b->section, sizeof b->section, title);
    put(b, "\n## %s\n\nTests: %s.\n", title, tests);
}

bool book_close(book *b)
{
    end_section(b);
    (void)printf("%d checks, %d failed\n", b->rows, b->failed);
    return b->failed == 0 && b->rows > 0;
}

void book_words(book *b, const char *words)
{
    b->has_table = false;
    put(b, "\n%s\n", words);
}

void book_source(book *b, const char *source, const char *standing)
{
    b->source = source;
    b->standing = standing;
}

/* A difference that rounds to nothing has no sign. */
static double unsigned_nothing(double value, int decimals)
{
    return fabs(value) < 0.5 * pow(10.0, -decimals) ? 0.0 : value;
}

/* Counts a check; true when it holds. A value that is not a number never does. */
static bool judge(book *b, const char *what, double published, double ours, double tolerance)
{
    const double share = fabs(ours - published) / tolerance;
    const bool holds = share <= EDGE;
    b->rows++;
    b->section_rows++;
    if (holds) {
        b->closest = fmax(b->closest, share);
    } else {
        b->failed++;
        b->section_failed++;
        (void)printf("OFF: %s: %s: published %.9g, ours %.9g, tolerance %.3g (%s)\n", b->section, what, published, ours,
                     tolerance, b->source);
    }
    return holds;
}

void book_within(book *b, const char *what, const char *unit, double published, int decimals, double ours,
                 double tolerance, const char *why)
{
    if (!b->has_table) {
        put(b, "\n| what | source | standing | published | ours | difference | tolerance |\n"
               "|---|---|---|--:|--:|--:|---|\n");
        b->has_table = true;
    }
    const bool holds = judge(b, what, published, ours, tolerance);
    const char *gap = *unit ? " " : "";
    put(b, "| %s | %s | %s | %.*f%s%s | %.*f | %+.*f%s | %.3g, %s |\n", what, b->source, b->standing, decimals,
        published, gap, unit, decimals + 2, ours, decimals + 2, unsigned_nothing(ours - published, decimals + 2),
        holds ? "" : " **OFF**", tolerance, why);
}

void book_half(book *b, const char *what, const char *unit, double published, int decimals, double ours)
{
    book_within(b, what, unit, published, decimals, ours, 0.5 * pow(10.0, -decimals), "half of the last digit");
}

void book_grid(book *b, const char *columns)
{
    b->has_table = false;
    put(b, "\n| %s |\n|---", columns);
    for (const char *c = columns; *c; c++) {
        if (*c == '|') {
            put(b, "|--:");
        }
    }
    put(b, "|\n");
}

void book_grid_line(book *b, const char *head)
{
    put(b, "%s| %s |", b->grid_cells > 0 ? "\n" : "", head);
    b->grid_cells = 0;
}

void book_grid_cell(book *b, double published, int decimals, double ours, double tolerance)
{
    const bool holds = judge(b, "grid", published, ours, tolerance);
    put(b, " %.*f / %.*f%s |", decimals, published, decimals + 2, ours, holds ? "" : " **OFF**");
    b->grid_cells++;
}

void book_grid_end(book *b)
{
    put(b, "\n");
    b->grid_cells = 0;
}
