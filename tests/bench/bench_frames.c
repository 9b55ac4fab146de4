/* What a frame costs on a window that shows nothing: the widgets, the painter and the way to the window, for every screen at two
 * sizes, and which of them is the heaviest. */
#define _POSIX_C_SOURCE 200809L
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bench.h"
#include "desk.h"
#include "tautrow/base/text.h"
#include "tautrow/view/host.h"

/* Frames before the figures are taken: the first ones fill caches. */
enum { WARM_UP = 5 };

typedef struct heaviest {
    char name[48];
    double median_s;
} heaviest;

static void frames_of(app_desk *desk, view_host *host, const char *name, heaviest *most)
{
    double list[BENCH_RUNS];
    double shown[BENCH_RUNS];
    char what[96];
    view_input input;
    memset(&input, 0, sizeof input);
    input.width = 1280.0F;
    input.height = 800.0F;
    for (int i = -WARM_UP; i < BENCH_RUNS; i++) {
        input.time_s += 0.016;
        input.dt_s = 0.016F;
        const double start = bench_now_s();
        app_desk_frame(desk, &input, 0);
        const double middle = bench_now_s();
        (void)view_host_present(host, desk->draw, desk->fonts, desk->ui.theme->page);
        if (i >= 0) {
            list[i] = middle - start;
            shown[i] = bench_now_s() - start;
        }
    }
    const double scale = (double)view_host_scale(host);
    (void)tr_format(what, sizeof what, "%s at %.0fx%.0f, %zu commands: widgets", name, 1280.0 * scale, 800.0 * scale,
                    view_draw_count(desk->draw));
    bench_print(what, list, 1e-3, "ms");
    bench_print("  the same: widgets, painted and shown", shown, 1e-3, "ms");
    if (shown[BENCH_RUNS / 2] > most->median_s) {
        most->median_s = shown[BENCH_RUNS / 2];
        (void)tr_copy(most->name, sizeof most->name, name);
    }
}

static void frames_of_job(app_desk *desk, view_host *host, heaviest *most)
{
    for (int stage = 0; stage < JOB_STAGE_COUNT; stage++) {
        char name[32];
        (void)tr_format(name, sizeof name, "job, %s", job_stage_name((job_stage)stage));
        view_job_show(desk->job, (job_stage)stage, 4);
        frames_of(desk, host, name, most);
    }
}

static void frames_at(app_desk *desk, float scale, const char *journal)
{
    static const struct {
        app_screen screen;
        const char *name;
    } plain[] = {{APP_SCREEN_HOME, "home"},
                 {APP_SCREEN_SCENARIOS, "scenarios"},
                 {APP_SCREEN_SETTINGS, "settings"},
                 {APP_SCREEN_PROGRESS, "progress"}};
    char why[TR_TEXT_CAP] = "";
    heaviest most = {"", 0.0};
    view_host *host = NULL;
    const view_host_options options = {.title = "bench", .width = 1280, .height = 800, .scale = scale};
    if (view_host_open(&options, &host, why, sizeof why) != TR_OK) {
        (void)printf("no frames: %s\n", why);
        return;
    }
    for (size_t i = 0; i < sizeof plain / sizeof plain[0]; i++) {
        desk->screen = plain[i].screen;
        frames_of(desk, host, plain[i].name, &most);
    }
    if (app_desk_orders(desk, 0)) {
        frames_of(desk, host, "orders", &most);
    }
    if (app_desk_show(desk, journal, -1)) {
        frames_of_job(desk, host, &most);
    }
    if (app_desk_review(desk, journal)) {
        frames_of(desk, host, "debrief", &most);
    }
    (void)printf("%-58s        %9.3f ms: %s\n", "  heaviest of these", most.median_s * 1e3, most.name);
    view_host_close(host);
}

void bench_frames(const app_context *context, double started, const char *journal)
{
    char why[TR_TEXT_CAP] = "";
    app_desk *desk = calloc(1, sizeof *desk);
    view_canvas *canvas = view_canvas_open();
    if (desk == NULL || canvas == NULL || !app_desk_open(desk, context, why, sizeof why)) {
        (void)printf("no frames: %s\n", why);
        view_canvas_close(canvas);
        free(desk);
        return;
    }
    view_input input;
    memset(&input, 0, sizeof input);
    input.width = 1280.0F;
    input.height = 800.0F;
    app_desk_frame(desk, &input, 0);
    (void)view_canvas_paint(canvas, desk->draw, desk->fonts, 1280.0F, 800.0F, 1.0F, desk->ui.theme->page);
    (void)printf("%-58s        %9.1f ms\n", "start to first frame (without opening a window)",
                 (bench_now_s() - started) * 1e3);
    view_canvas_close(canvas);
    frames_at(desk, 1.0F, journal);
    frames_at(desk, 2.0F, journal);
    app_desk_close(desk);
    free(desk);
}
