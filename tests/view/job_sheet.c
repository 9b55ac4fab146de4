/* Draws the job screen at every stage to files, for eyes: job_sheet FOLDER [part of the name]. Not a test. */
#include <stdio.h>
#include <string.h>

#include "job_desk.h"
#include "tautrow/view/paint.h"
#include "tautrow/view/text.h"

typedef struct look {
    const char *name;
    float width, height, scale, text;
    view_device device;
} look;

static const look looks[] = {{"std", 1280.0F, 800.0F, 1.0F, 1.0F, VIEW_BY_DESK},
                             {"fine", 1280.0F, 800.0F, 2.0F, 1.0F, VIEW_BY_DESK},
                             {"small", 1024.0F, 640.0F, 1.0F, 1.0F, VIEW_BY_DESK},
                             {"large", 1280.0F, 800.0F, 1.0F, 2.0F, VIEW_BY_DESK},
                             {"tight", 1024.0F, 640.0F, 1.0F, 2.0F, VIEW_BY_DESK}};

static void shoot(job_desk *desk, view_fonts *fonts, const look *at, const char *folder, const char *name)
{
    char path[512];
    char why[256];
    desk->input.width = at->width;
    desk->input.height = at->height;
    desk->prefs.text_scale = at->text;
    desk->input.device = at->device;
    for (int i = 0; i < 120; i++) { /* let everything come to rest */
        job_desk_frame(desk, false);
    }
    tr_format(path, sizeof path, "%s/%s.png", folder, name);
    if (view_shot(desk->draw, fonts, at->width, at->height, at->scale, desk->ui.theme->page, path, why, sizeof why) !=
        TR_OK) {
        (void)fprintf(stderr, "%s: %s\n", path, why);
        exit(2);
    }
}

static void one(view_fonts *fonts, const char *folder, const char *only, const look *at, const char *code,
                job_mode mode, int stage)
{
    static const char *const modes[] = {"guided", "practice", "assessment"};
    static job_desk desk;
    char name[128];
    tr_format(name, sizeof name, "%s_%s_%s_%s", job_stage_name((job_stage)stage), code, at->name, modes[mode]);
    if (only != NULL && strstr(name, only) == NULL) {
        return;
    }
    job_desk_open(&desk, mode == JOB_GUIDED ? "soft-porch" : "left-half-done", mode, code);
    desk.metrics = view_fonts_metrics(fonts);
    job_desk_ready(&desk);
    job_desk_frame(&desk, false);
    const int more = stage == JOB_STAGE_TENSION     ? 14
                     : stage == JOB_STAGE_HAND_OVER ? 3
                     : stage == JOB_STAGE_CUT       ? 2
                                                    : 1;
    if (stage == JOB_STAGE_READ) {
        (void)job_desk_bring_to(&desk, JOB_STAGE_READ, 2);
    } else {
        (void)job_desk_bring_to(&desk, (job_stage)stage, more);
    }
    job_action next;
    const bool has_next = job_expert_next(&desk.what.setup, &desk.state, &next);
    view_job_show(desk.job, (job_stage)stage, has_next ? job_action_row(&next) : -1);
    shoot(&desk, fonts, at, folder, name);
    job_desk_close(&desk);
}

/* What opens over the screen, and what it says. */
static void extras(view_fonts *fonts, const char *folder, const char *only, const look *at, const char *code)
{
    static job_desk desk;
    static const char *const names[] = {"hint", "refusal", "fault", "sign", "leave", "signed", "contrast"};
    for (int i = 0; i < 7; i++) {
        char name[128];
        tr_format(name, sizeof name, "extra_%s_%s_%s", names[i], code, at->name);
        if (only != NULL && strstr(name, only) == NULL) {
            continue;
        }
        job_desk_open(&desk, "left-half-done", JOB_PRACTICE, code);
        desk.metrics = view_fonts_metrics(fonts);
        job_desk_ready(&desk);
        job_desk_frame(&desk, false);
        (void)job_desk_bring_to(&desk, i == 5 ? JOB_STAGE_HAND_OVER : JOB_STAGE_TENSION, i == 5 ? 4 : 8);
        view_job_show(desk.job,
                      i == 2             ? JOB_STAGE_CHECK
                      : i == 3 || i == 5 ? JOB_STAGE_HAND_OVER
                                         : JOB_STAGE_TENSION,
                      -1);
        const job_verb verb = i == 0 ? JOB_DO_HINT : i == 1 ? JOB_DO_HANG_CABLE : i == 5 ? JOB_DO_SIGN : JOB_DO_GAUGE;
        const job_action action = job_make(verb, desk.state.now_ms, (const double[]){6.0, 1.0},
                                           verb == JOB_DO_GAUGE || verb == JOB_DO_HANG_CABLE ? 1 : 0);
        (void)job_desk_do(&desk, &action);
        desk.job->tools.check.is_reporting = i == 2;
        desk.job->sign_open = i == 3;
        desk.job->leave_open = i == 4;
        desk.prefs.theme = i == 6 ? VIEW_THEME_CONTRAST : VIEW_THEME_DAY;
        desk.prefs.left_handed = i == 6;
        shoot(&desk, fonts, at, folder, name);
        desk.prefs = (view_prefs){0};
        job_desk_close(&desk);
    }
}

int main(int argc, char **argv)
{
    if (argc < 2) {
        (void)fprintf(stderr, "usage: job_sheet FOLDER [part of the name [pad|finger]]\n");
        return 2;
    }
    char why[256];
    view_fonts *fonts = NULL;
    if (view_fonts_open(NULL, 0, &fonts, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "%s\n", why);
        return 2;
    }
    const char *only = argc > 2 ? argv[2] : NULL;
    for (size_t i = 0; i < sizeof looks / sizeof looks[0]; i++) {
        look at = looks[i];
        at.device = argc < 4 ? VIEW_BY_DESK : strcmp(argv[3], "pad") == 0 ? VIEW_BY_PAD : VIEW_BY_FINGER;
        extras(fonts, argv[1], only, &at, "en");
        extras(fonts, argv[1], only, &at, "es");
        for (int stage = 0; stage < JOB_STAGE_COUNT; stage++) {
            for (int mode = JOB_GUIDED; mode <= JOB_ASSESSMENT; mode++) {
                one(fonts, argv[1], only, &at, "en", (job_mode)mode, stage);
                one(fonts, argv[1], only, &at, "es", (job_mode)mode, stage);
            }
        }
    }
    view_fonts_close(fonts);
    return 0;
}
