/* The debrief on paper: pages with the same words and pictures as the screen, for a training file. A4 where the units
 * are SI, US Letter where they are US customary. Pages are draw lists, so that they can be looked at without a file. */
#ifndef TAUTROW_VIEW_REPORT_H
#define TAUTROW_VIEW_REPORT_H

#include <stddef.h>

#include "tautrow/record/attempt.h"
#include "tautrow/view/pdf.h"

typedef struct view_report_of {
    const record_attempt *attempt;
    const score_card *card;
    const char *digest; /* of the journal file, as tr_hash_text writes it; "" = the attempt was not recorded */
    const tr_lang *lang;
    tr_system system;
} view_report_of;

typedef struct view_report view_report; /* opaque */

/* NULL when there is no memory. What `of` points to must live until the report is closed. */
view_report *view_report_open(const view_report_of *of, const view_metrics *metrics);
void view_report_close(view_report *report);

/* Pages in order, each a draw list in layout units; they live as long as the report. */
size_t view_report_pages(const view_report *report);
const view_draw *view_report_page(const view_report *report, size_t index);
float view_report_width(const view_report *report); /* of a page */
float view_report_height(const view_report *report);

/* The whole report as the bytes of a PDF file; the caller frees them by free(). Dated by the start of the attempt. */
tr_result view_report_pdf(const view_report_of *of, const view_fonts *fonts, char **bytes, size_t *size, char *why,
                          size_t why_cap);

#endif
