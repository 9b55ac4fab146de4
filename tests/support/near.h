/* assert_near: cmocka's own float compare casts to float. Prints value, target, tolerance and the miss. */
#ifndef TESTS_NEAR_H
#define TESTS_NEAR_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdbool.h>

#define assert_near(actual, expected, tolerance)                                                                       \
    tests_near((actual), (expected), (tolerance), #actual, __FILE__, __LINE__)

static inline void tests_near(double actual, double expected, double tolerance, const char *what, const char *file,
                              int line)
{
    if (fabs(actual - expected) <= tolerance) {
        return;
    }
    print_error("%s is %.12g, should be %.12g within %.3g: off by %.3g\n", what, actual, expected, tolerance,
                actual - expected);
    _fail(file, line);
}

#endif
