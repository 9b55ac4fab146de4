/* The end of a program that found itself wrong. */
#include "tautrow/base/assert.h"

#include <stdio.h>
#include <stdlib.h>

_Noreturn void tr_assert_failed(const char *condition, const char *file, int line)
{
    fprintf(stderr, "%s:%d: the program is wrong, it relied on: %s\n", file, line, condition);
    abort();
}
