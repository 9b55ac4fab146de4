/* Private to the report: the sheet of paper that is being written on, and the report's parts. */
#ifndef GAME_VIEW_REPORT_PAPER_H
#define GAME_VIEW_REPORT_PAPER_H

#include "tautrow/view/pictures.h"
#include "tautrow/view/report.h"
#include "tautrow/view/ui.h"

/* Sizes of type on paper, layout units: 7.5, 9 and 12.5 points. */
#define VIEW__PAPER_SMALL 10.0F
#define VIEW__PAPER_BODY  12.0F
#define VIEW__PAPER_TITLE 16.5F

typedef struct view__paper {
    const view_report_of *of;
    view_report *report;
    view_pen pen;   /* its draw list is the page at hand */
    view_rect room; /* what is left of that page */
} view__paper;

/* Turns to a new page. */
void view__paper_turn(view__paper *paper);
/* Turns to a new page unless there is room for something so high. */
void view__paper_need(view__paper *paper, float height);
float view__paper_line(float size);
/* Text from the top of room, wrapped; returns the height that it takes. */
float view__paper_text(const view__paper *paper, view_rect room, view_font font, view_color color, const char *text);
float view__paper_height(const view__paper *paper, float width, view_font font, const char *text);
/* The heading of a part, kept together with what follows it. */
void view__paper_title(view__paper *paper, const char *word_key, float with_height);
const char *view__paper_word(const view__paper *paper, const char *key);

/* The parts, in their order. */
void view__report_head(view__paper *paper);
void view__report_score(view__paper *paper);
void view__report_charts(view__paper *paper);

#endif
