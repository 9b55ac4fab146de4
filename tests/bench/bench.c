/* Speed and size, as figures: median of many, with the least and the largest. Build it optimised and without
 * sanitizers. */
#define _POSIX_C_SOURCE 200809L
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

#include "bench.h"
#include "desk.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"
#include "tautrow/score/slip.h"
#include "tautrow/view/sound.h"

enum { RUNS = BENCH_RUNS, INNER = 200 };

double bench_now_s(void)
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

void bench_print(const char *what, double seconds[BENCH_RUNS], double unit, const char *unit_name)
{
    qsort(seconds, RUNS, sizeof *seconds, by_value);
    (void)printf("%-58s median %9.3f %s (%.3f to %.3f)\n", what, seconds[RUNS / 2] / unit, unit_name, seconds[0] / unit,
                 seconds[RUNS - 1] / unit);
}

/* ---- mechanics -------------------------------------------------------------------------------------------------- */

static void bench_solver(const job_setup *setup)
{
    double build[RUNS];
    double cold[RUNS];
    double pull[RUNS];
    double sheet_time[RUNS];
    char why[TR_TEXT_CAP];
    static mech_run run;
    static mech_rows ready;
    static mech_sheet sheet;
    (void)app_ready_run(setup, &run, &ready, why, sizeof why);
    for (int i = 0; i < RUNS; i++) {
        double start = bench_now_s();
        (void)mech_run_build(&setup->structure, &run, why, sizeof why);
        build[i] = bench_now_s() - start;
        mech_rows rows = ready;
        start = bench_now_s();
        for (int k = 0; k < INNER; k++) {
            memset(rows.tension_n, 0, sizeof rows.tension_n);
            rows.take_up_m[k % setup->structure.row_count] = 0.003 + 1e-6 * k;
            (void)mech_run_solve(&run, &rows);
        }
        cold[i] = (bench_now_s() - start) / INNER;
        start = bench_now_s();
        for (int k = 0; k < INNER; k++) {
            (void)mech_run_pull(&run, &rows, k % setup->structure.row_count, setup->target_n);
        }
        pull[i] = (bench_now_s() - start) / INNER;
        start = bench_now_s();
        mech_pull_sheet(&run, &ready, setup->order, setup->order_count, setup->round_share, setup->rounds,
                        setup->target_n, (mech_limits){1e9, 1e9}, &sheet);
        sheet_time[i] = bench_now_s() - start;
    }
    char what[96];
    (void)tr_format(what, sizeof what, "condense a structure (%d rows)", setup->structure.row_count);
    bench_print(what, build, 1e-6, "us");
    bench_print("solve a state from nothing", cold, 1e-6, "us");
    bench_print("pull one row to a reading", pull, 1e-6, "us");
    bench_print("whole pull sheet", sheet_time, 1e-6, "us");
}

/* ---- examiner --------------------------------------------------------------------------------------------------- */

static void bench_journal(const char *path)
{
    double whole[RUNS];
    double grade[RUNS];
    char why[TR_TEXT_CAP];
    char *text = NULL;
    size_t size = 0;
    tr_diags *diags = calloc(1, sizeof *diags);
    record_reading *reading = calloc(1, sizeof *reading);
    if (diags == NULL || reading == NULL ||
        tr_file_read(path, RECORD_MAX_FILE, &text, &size, why, sizeof why) != TR_OK) {
        (void)printf("%s: not read\n", path);
        free(diags);
        free(reading);
        return;
    }
    size_t count = 0;
    for (int i = 0; i < RUNS; i++) {
        record_attempt *attempt = NULL;
        double start = bench_now_s();
        const tr_result result = record_attempt_read(text, size, &attempt, reading, diags);
        whole[i] = bench_now_s() - start;
        if (result != TR_OK) {
            break;
        }
        const job_action *actions = NULL;
        count = record_attempt_actions(attempt, &actions);
        start = bench_now_s();
        score_grade(record_attempt_scenario(attempt), actions, count, &reading->card);
        grade[i] = bench_now_s() - start;
        record_attempt_close(attempt);
    }
    const char *slash = strrchr(path, '/');
    char what[128];
    (void)tr_format(what, sizeof what, "%s: %zu actions, %d counterfactuals: grade", slash + 1, count,
                    reading->card.replays);
    bench_print(what, grade, 1e-3, "ms");
    bench_print("  the same: read, verify, replay and grade", whole, 1e-3, "ms");
    free(text);
    free(diags);
    free(reading);
}

/* What guided teaching costs after each action of an attempt: replay so far and look for slip-ups. */
static void bench_slips(const char *path)
{
    char why[TR_TEXT_CAP];
    char *text = NULL;
    size_t size = 0;
    record_attempt *attempt = NULL;
    tr_diags *diags = calloc(1, sizeof *diags);
    record_reading *reading = calloc(1, sizeof *reading);
    if (diags != NULL && reading != NULL &&
        tr_file_read(path, RECORD_MAX_FILE, &text, &size, why, sizeof why) == TR_OK &&
        record_attempt_read(text, size, &attempt, reading, diags) == TR_OK) {
        const job_action *actions = NULL;
        const size_t count = record_attempt_actions(attempt, &actions);
        double most = 0.0;
        double sum = 0.0;
        for (size_t i = 1; i <= count; i++) {
            score_slip slips[SCORE_MAX_SLIPS];
            const double start = bench_now_s();
            (void)score_slips(record_attempt_scenario(attempt), actions, i, slips);
            sum += bench_now_s() - start;
            most = fmax(most, bench_now_s() - start);
        }
        (void)printf("%-58s mean   %9.3f ms (most %.3f)\n", "  the same: slips after each action",
                     sum / (double)count * 1e3, most * 1e3);
    }
    record_attempt_close(attempt);
    free(text);
    free(diags);
    free(reading);
}

/* ---- sound ------------------------------------------------------------------------------------------------------ */

/* A second of it with every string, a motor under load and a click each twentieth: more than a job ever asks for. */
static void bench_sound(void)
{
    enum { BLOCK = 512, BLOCKS = VIEW_SOUND_RATE / BLOCK };
    static view_synth synth;
    static float out[BLOCK];
    double full[RUNS];
    const view_hum hum = {.motor = VIEW_MOTOR_DRILL, .rpm = 900.0F, .load = 0.8F, .chips = 1.0F};
    for (int i = 0; i < RUNS; i++) {
        view_synth_start(&synth, 0.6F);
        for (int row = 0; row < VIEW_SOUND_STRINGS; row++) {
            const view_cue pluck = {.kind = VIEW_CUE_PLUCK, .row = row, .hz = 60.0F + (float)row};
            view_synth_cue(&synth, &pluck);
        }
        const double start = bench_now_s();
        for (int k = 0; k < BLOCKS; k++) {
            const view_cue click = {.kind = VIEW_CUE_RATCHET};
            view_synth_hum(&synth, &hum);
            if (k % 5 == 0) {
                view_synth_cue(&synth, &click);
            }
            view_synth_render(&synth, out, BLOCK);
        }
        full[i] = bench_now_s() - start;
    }
    bench_print("a second of sound, all voices (1000 ms = one whole core)", full, 1e-3, "ms");
}

int main(void)
{
    const double started = bench_now_s();
    char why[TR_TEXT_CAP] = "";
    tr_diags *diags = calloc(1, sizeof *diags);
    tr_lang *lang = app_lang_load(TAUTROW_SOURCE, "en", why, sizeof why);
    scenario_catalogue *catalogue = diags == NULL ? NULL : app_catalogue_load(TAUTROW_SOURCE, diags);
    if (lang == NULL || catalogue == NULL) {
        (void)fprintf(stderr, "bench: %s\n", why);
        return 2;
    }
    app_options options;
    memset(&options, 0, sizeof options);
    options.screenshot = "none"; /* as for a picture: nothing of this machine's user is read */
    const app_context context = {&options, TAUTROW_SOURCE, lang, catalogue};
    bench_frames(&context, started, TAUTROW_SOURCE "/tests/golden/careful.jsonl");
    app_scenario *eleven = NULL;
    if (app_scenario_load(TAUTROW_SOURCE "/scenarios/long-deck.json", catalogue, NULL, &eleven, diags) == TR_OK) {
        bench_solver(&eleven->what.setup);
    }
    app_scenario_free(eleven);
    bench_journal(TAUTROW_SOURCE "/tests/golden/careful.jsonl");
    bench_slips(TAUTROW_SOURCE "/tests/golden/careful.jsonl");
    bench_journal(TAUTROW_SOURCE "/tests/golden/careless.jsonl");
    bench_slips(TAUTROW_SOURCE "/tests/golden/careless.jsonl");
    bench_sound();
    bench_program(TAUTROW_SOURCE "/scenarios/soft-porch.json");
    struct rusage use;
    (void)getrusage(RUSAGE_SELF, &use);
    (void)printf("%-58s        %9.1f MB\n", "memory of the bench at most", (double)use.ru_maxrss / 1024.0);
    scenario_catalogue_close(catalogue);
    tr_lang_close(lang);
    free(diags);
    return 0;
}
