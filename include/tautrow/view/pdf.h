/* Draw lists as pages of a PDF: the pictures as lines, not pixels, and text that can be selected and searched. The same
 * lists and the same fonts give the same bytes. A layout unit is 1/96 in, as
 * on a screen at scale 1. Needs no window. */
#ifndef TAUTROW_VIEW_PDF_H
#define TAUTROW_VIEW_PDF_H

#include <stdbool.h>
#include <stddef.h>

#include "tautrow/base/result.h"
#include "tautrow/view/draw.h"
#include "tautrow/view/text.h"

/* Letters as they are set on paper: exact sizes, no pixels. */
typedef struct view_letters view_letters; /* opaque */

/* Takes the faces that fonts has found; fonts may be closed afterwards. TR_IO: a face that cannot be opened. *out only
 * on success; view_letters_close frees it. */
tr_result view_letters_open(const view_fonts *fonts, view_letters **out, char *why, size_t why_cap);
void view_letters_close(view_letters *letters);
/* What a page must be laid out with. Valid as long as letters. */
view_metrics view_letters_metrics(view_letters *letters);

typedef struct view_pdf_about {
    const char *title, *author, *subject;
    const char *created; /* RFC 3339: the date that the file bears, whenever it is made */
    float width, height; /* of every page */
} view_pdf_about;

/* The pages as the bytes of a PDF file, in a new buffer that the caller frees by free(). TR_NO_MEMORY, or TR_INVALID
 * where Cairo refuses. */
tr_result view_pdf(const view_draw *const pages[], size_t count, const view_pdf_about *about, view_letters *letters,
                   char **bytes, size_t *size, char *why, size_t why_cap);

#endif
