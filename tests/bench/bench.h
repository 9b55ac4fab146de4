/* What the parts of the bench share: the clock, and a line of figures. */
#ifndef TESTS_BENCH_BENCH_H
#define TESTS_BENCH_BENCH_H

#include "commands.h"

enum { BENCH_RUNS = 31 };

double bench_now_s(void);
/* Sorts seconds and prints median, least and largest in units of unit seconds. */
void bench_print(const char *what, double seconds[BENCH_RUNS], double unit, const char *unit_name);

/* Frames of every screen: drawing, painting, showing. started: when the program began. */
void bench_frames(const app_context *context, double started, const char *journal);
/* The program itself as a child: time to its first frame, what it costs while nobody touches it, and its memory. */
void bench_program(const char *exercise);

#endif
