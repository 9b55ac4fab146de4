/* The sections of the book, in the order of docs/mechanics.md. */
#ifndef TESTS_VALIDATION_SECTIONS_H
#define TESTS_VALIDATION_SECTIONS_H

#include "book.h"

void section_beams(book *b);   /* 1: posts as beams, shear */
void section_row(book *b);     /* 2: sag, stretch, warmth */
void section_run(book *b);     /* 3 and 4: rows together, one after another, the pull sheet */
void section_threads(book *b); /* 5 */
void section_wood(book *b);    /* 6 and 8: withdrawal, cut */
void section_checks(book *b);  /* 9 and 10: gauge, tone, push, guard load, creep */
void section_bends(book *b);   /* 12: what friction leaves of a pull */

/* What the catalogue says against the tables it names. False when the catalogue cannot be read. */
bool section_catalogue(book *b);

#endif
