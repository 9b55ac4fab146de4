/* The book of checks: every comparison of a number of ours with a published one, as a line of a Markdown table. What is
 * written here becomes docs/validation.md, so it must come out the same whatever compiler built the program: numbers
 * are printed with a fixed number of decimals, never with as many as there are. */
#ifndef TESTS_VALIDATION_BOOK_H
#define TESTS_VALIDATION_BOOK_H

#include <stdbool.h>
#include <stddef.h>

enum { BOOK_CAP = 262144, BOOK_WORDS_CAP = 160 };

/* How well the published value is known. The second half of a pair says that the source prints a formula and that the
 * number was worked out from it, apart from this program. */
#define FOUND            "found"
#define FOUND_WORKED     "found, worked out"
#define COPIED           "transcribed"
#define COPIED_WORKED    "transcribed, worked out"
#define QUOTED           "quoted"
#define QUOTED_WORKED    "quoted, worked out"
#define MEMORY           "memory"
#define MEMORY_WORKED    "memory, worked out"
#define MECHANICS_WORKED "closed form, worked out"

typedef struct book {
    char text[BOOK_CAP];
    size_t used;
    bool has_table; /* a table is open, so the next row needs no head */
    int grid_cells; /* of the line being written */
    const char *source, *standing;
    int rows, failed;
    int section_rows, section_failed;
    char section[BOOK_WORDS_CAP];
    double closest; /* largest share of its tolerance that a passing row of this section uses up */
} book;

void book_open(book *b);

/* Begins a section; tests = Markdown links to the tests of the same matter. */
void book_section(book *b, const char *title, const char *tests);

/* Ends the last section; says whether all is well. */
bool book_close(book *b);

/* A paragraph. */
void book_words(book *b, const char *words);

/* Where the following rows come from, and how well that is known. Both must outlive the book. */
void book_source(book *b, const char *source, const char *standing);

/* A row whose published value is printed with so many decimals: ours may differ by half of the last of them. */
void book_half(book *b, const char *what, const char *unit, double published, int decimals, double ours);

/* A row with a tolerance of its own and the reason for it. */
void book_within(book *b, const char *what, const char *unit, double published, int decimals, double ours,
                 double tolerance, const char *why);

/* A grid: a table with one check a cell, shown as "published / ours". columns = head, cells parted by " | ". */
void book_grid(book *b, const char *columns);
void book_grid_line(book *b, const char *head);
void book_grid_cell(book *b, double published, int decimals, double ours, double tolerance);
void book_grid_end(book *b);

#endif
