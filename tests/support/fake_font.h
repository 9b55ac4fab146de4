/* A made-up font for layout tests: every character is half an em wide, so that widths can be told by counting. */
#ifndef TESTS_FAKE_FONT_H
#define TESTS_FAKE_FONT_H

#include "tautrow/view/draw.h"

static inline float fake_width(void *context, view_font font, const char *text)
{
    float width = 0.0F;
    (void)context;
    for (; *text != '\0'; text++) {
        width += ((unsigned char)*text & 0xC0U) != 0x80U ? font.size / 2.0F : 0.0F;
    }
    return width;
}

static const view_metrics fake_metrics = {.width = fake_width};

#endif
