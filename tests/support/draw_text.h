/* The words of a drawing, for tests. */
#ifndef TESTS_DRAW_TEXT_H
#define TESTS_DRAW_TEXT_H

#include <string.h>

#include "draw_list.h"

/* Whether some text of it has this part. */
static inline bool draw_says(const view_draw *draw, const char *part)
{
    for (size_t i = 0; i < draw->commands; i++) {
        const view__command *c = &draw->command[i];
        if (c->op == VIEW__TEXT && strstr(&draw->text[c->first], part) != NULL) {
            return true;
        }
    }
    return false;
}

#endif
