/* For pdf.c alone: the faces that text.c has found, as the bytes of their files. */
#ifndef VIEW_TEXT_FACES_H
#define VIEW_TEXT_FACES_H

#include "tautrow/view/text.h"

enum { VIEW__FAMILIES = 2 };

/* False where there is no such face; a family that lacks a weight lends its regular one. Valid as long as fonts. */
bool view__fonts_face(const view_fonts *fonts, int family, view_weight weight, const void **data, size_t *size);

#endif
