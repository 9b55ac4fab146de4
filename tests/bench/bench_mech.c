/* Speed of the mechanics, as ratios against a general finite-element program and a general equation solver on the same
 * structure in one run, and its cost against the number of rows. Printed, never asserted. Build it optimised and
 * without sanitizers. bench_mech FOLDER (for the finite-element files).
 *
 * The others get the take-ups: neither can pull a row to a reading by itself. So their sequence is 22 states for our 22
 * pulls, which is less work than ours. */
#define _POSIX_C_SOURCE 200809L
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "deck.h"
#include "everyday.h"
#include "second_solver.h"
#include "tautrow/base/io.h"
#include "tautrow/base/result.h"
#include "tautrow/mech/pullsheet.h"

enum { REPEATS = 41, INNER = 200, BUILDS = 20, ROWS = 11, ROUNDS = 2, PULLS = ROWS * ROUNDS, FEW = 9, SEQUENCES = 9 };

static const double TARGET_N = 900.0;

typedef struct sequence {
    mech_run run;
    mech_rows start; /* all rows hand tight */
    int row[PULLS];
    double reading_n[PULLS];
    mech_rows state[PULLS]; /* after each pull */
} sequence;

static double now_s(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static int by_value(const void *a, const void *b)
{
    const double x = *(const double *)a;
    const double y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(double seconds[], int count)
{
    qsort(seconds, (size_t)count, sizeof *seconds, by_value);
    return seconds[count / 2];
}

static mech_rows hand_tight(const mech_run *run)
{
    mech_rows rows = {.is_strung = {false}};
    for (int row = 0; row < run->made_of.row_count; row++) {
        rows.is_strung[row] = true;
        rows.take_up_m[row] = mech_row_take_up(run, 300.0, 0.0, NULL);
    }
    (void)mech_run_solve(run, &rows);
    return rows;
}

/* Middle out, half of the target and then the whole of it. */
static void prepare(sequence *s)
{
    const mech_structure made = everyday_fixed(ROWS);
    int order[MECH_MAX_ROWS];
    everyday_build(&made, &s->run);
    s->start = hand_tight(&s->run);
    mech_order_rows(MECH_MIDDLE_OUT, ROWS, order);
    mech_rows rows = s->start;
    for (int pull = 0; pull < PULLS; pull++) {
        s->row[pull] = order[pull % ROWS];
        s->reading_n[pull] = pull < ROWS ? 0.5 * TARGET_N : TARGET_N;
        (void)mech_run_pull(&s->run, &rows, s->row[pull], s->reading_n[pull]);
        s->state[pull] = rows;
    }
}

/* ---- ours ---- */

/* One state from nothing: build is not counted, as the others' is not either (GSL) or cannot be parted (ccx). */
static double our_state(const sequence *s, double *sink)
{
    double seconds[REPEATS];
    for (int i = 0; i < REPEATS; i++) {
        const double start = now_s();
        for (int k = 0; k < INNER; k++) {
            mech_rows rows = s->state[PULLS - 1];
            memset(rows.tension_n, 0, sizeof rows.tension_n);
            memset(rows.peak_n, 0, sizeof rows.peak_n);
            rows.take_up_m[0] += 1e-9 * k;
            (void)mech_run_solve(&s->run, &rows);
            *sink += rows.tension_n[0];
        }
        seconds[i] = (now_s() - start) / INNER;
    }
    return median(seconds, REPEATS);
}

static double our_sequence(const sequence *s, double *sink)
{
    double seconds[REPEATS];
    for (int i = 0; i < REPEATS; i++) {
        const double start = now_s();
        for (int k = 0; k < SEQUENCES; k++) {
            mech_rows rows = s->start;
            for (int pull = 0; pull < PULLS; pull++) {
                (void)mech_run_pull(&s->run, &rows, s->row[pull], s->reading_n[pull]);
            }
            *sink += rows.tension_n[0];
        }
        seconds[i] = (now_s() - start) / SEQUENCES;
    }
    return median(seconds, REPEATS);
}

/* ---- theirs ---- */

static double library_states(const sequence *s, int first, double *sink)
{
    double seconds[REPEATS];
    double tension[MECH_MAX_ROWS];
    int steps;
    for (int i = 0; i < REPEATS; i++) {
        for (int row = 0; row < ROWS; row++) {
            tension[row] = 0.5 * TARGET_N;
        }
        const double start = now_s();
        for (int pull = first; pull < PULLS; pull++) { /* each state starts from the one before */
            (void)second_solver_state(&s->run, s->state[pull].take_up_m, tension, &steps);
            *sink += tension[0];
        }
        seconds[i] = now_s() - start;
    }
    return median(seconds, REPEATS);
}

/* Whole processes, one a state. */
static double element_processes(const char *folder)
{
    double seconds[FEW];
    for (int i = 0; i < FEW; i++) {
        const double start = now_s();
        if (!deck_run(folder, "state")) {
            return (double)NAN;
        }
        seconds[i] = now_s() - start;
    }
    return median(seconds, FEW);
}

/* One process with a step for every state. */
static double element_steps(const char *folder)
{
    double seconds[FEW];
    for (int i = 0; i < FEW; i++) {
        const double start = now_s();
        if (!deck_run(folder, "sequence")) {
            return (double)NAN;
        }
        seconds[i] = now_s() - start;
    }
    return median(seconds, FEW);
}

static void print_time(const char *what, double seconds, double ours)
{
    (void)printf("%-66s %12.2f us  %10.1f x ours\n", what, seconds * 1e6, seconds / ours);
}

static void against_others(const char *folder, double *sink)
{
    static sequence s;
    prepare(&s);
    const double state = our_state(&s, sink);
    const double whole = our_sequence(&s, sink);
    (void)printf("%d rows, one state from nothing\n", ROWS);
    print_time("  ours", state, state);
    print_time("  GSL, hybridsj with Jacobian", library_states(&s, PULLS - 1, sink), state);
    const bool is_written = deck_is_there() && deck_write(folder, "state", &s.run, &s.state[PULLS - 1], 1) &&
                            deck_write(folder, "sequence", &s.run, s.state, PULLS);
    double process = (double)NAN;
    double steps = (double)NAN;
    if (is_written) {
        process = element_processes(folder);
        steps = element_steps(folder);
        print_time("  CalculiX, whole process (linear: no sag, no bedding-in)", process, state);
        print_time("  CalculiX, a further state within a process", (steps - process) / (PULLS - 1), state);
    }
    (void)printf("%d pulls, %d rounds\n", PULLS, ROUNDS);
    print_time("  ours", whole, whole);
    print_time("  GSL, as many states", library_states(&s, 0, sink), whole);
    if (is_written) {
        print_time("  CalculiX, a process a state (one process, times 22)", process * PULLS, whole);
        print_time("  CalculiX, one process with 22 steps", steps, whole);
    } else {
        (void)printf("  CalculiX is not installed\n");
    }
}

/* ---- cost against rows ---- */

typedef struct cost {
    double build, cold, warm, pull;
} cost;

static cost cost_of(int row_count, double *sink)
{
    static mech_run run;
    const mech_structure made = everyday_fixed(row_count);
    double seconds[4][REPEATS];
    everyday_build(&made, &run);
    mech_rows ready = hand_tight(&run);
    for (int i = 0; i < REPEATS; i++) {
        double start = now_s();
        for (int k = 0; k < BUILDS; k++) {
            everyday_build(&made, &run);
        }
        seconds[0][i] = (now_s() - start) / BUILDS;
        start = now_s();
        for (int k = 0; k < INNER; k++) {
            mech_rows rows = ready;
            memset(rows.tension_n, 0, sizeof rows.tension_n);
            (void)mech_run_solve(&run, &rows);
            *sink += rows.tension_n[0];
        }
        seconds[1][i] = (now_s() - start) / INNER;
        mech_rows rows = ready;
        start = now_s();
        for (int k = 0; k < INNER; k++) { /* a sixteenth of a turn each, to and fro */
            rows.take_up_m[k % row_count] += (k / row_count % 2 ? -1.0 : 1.0) * 1.1e-4;
            (void)mech_run_solve(&run, &rows);
        }
        seconds[2][i] = (now_s() - start) / INNER;
        start = now_s();
        for (int k = 0; k < INNER; k++) {
            const double reading = (k / row_count % 2 ? 0.9 : 1.0) * TARGET_N;
            (void)mech_run_pull(&run, &rows, k % row_count, reading);
        }
        seconds[3][i] = (now_s() - start) / INNER;
        *sink += rows.tension_n[0];
    }
    return (cost){median(seconds[0], REPEATS), median(seconds[1], REPEATS), median(seconds[2], REPEATS),
                  median(seconds[3], REPEATS)};
}

/* Exponent p of the best fit of seconds = c rows^p. */
static double power(const double rows[], const double seconds[], int count)
{
    double sum[4] = {0.0, 0.0, 0.0, 0.0};
    for (int i = 0; i < count; i++) {
        const double x = log(rows[i]);
        const double y = log(seconds[i]);
        sum[0] += x;
        sum[1] += y;
        sum[2] += x * x;
        sum[3] += x * y;
    }
    return (count * sum[3] - sum[0] * sum[1]) / (count * sum[2] - sum[0] * sum[0]);
}

static void against_rows(double *sink)
{
    static const int counts[4] = {5, 10, 20, 40};
    double rows[4];
    double seconds[4][4];
    (void)printf("\n%6s %14s %14s %14s %14s\n", "rows", "condense us", "solve cold us", "solve warm us", "pull us");
    for (int i = 0; i < 4; i++) {
        const cost c = cost_of(counts[i], sink);
        rows[i] = counts[i];
        seconds[0][i] = c.build;
        seconds[1][i] = c.cold;
        seconds[2][i] = c.warm;
        seconds[3][i] = c.pull;
        (void)printf("%6d %14.2f %14.2f %14.2f %14.2f\n", counts[i], c.build * 1e6, c.cold * 1e6, c.warm * 1e6,
                     c.pull * 1e6);
    }
    (void)printf("%6s", "power");
    for (int what = 0; what < 4; what++) {
        (void)printf(" %14.2f", power(rows, seconds[what], 4));
    }
    (void)printf("\n");
}

int main(int argc, char **argv)
{
    char why[TR_TEXT_CAP] = "";
    double sink = 0.0;
    if (argc != 2 || tr_folder_make(argv[1], why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "usage: bench_mech FOLDER\n%s\n", why);
        return 2;
    }
    against_others(argv[1], &sink);
    against_rows(&sink);
    return isfinite(sink) ? 0 : 1; /* keeps the work from being left out */
}
