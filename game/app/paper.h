/* The debrief as a PDF file: for the desk and the command line. */
#ifndef GAME_APP_PAPER_H
#define GAME_APP_PAPER_H

#include "tautrow/view/report.h"

/* The fonts of the program: of the folder that the environment names, else the first found. */
tr_result app_fonts_open(view_fonts **out, char *why, size_t why_cap);

/* Writes the file whole or not at all. */
tr_result app_paper_write(const view_report_of *of, const view_fonts *fonts, const char *path, char *why,
                          size_t why_cap);

#endif
