/* A job screen on the desk: a real scenario brought to a stage by the expert, frames drawn from made-up input. For the
 * picture sheet and the tests of the job screen. */
#ifndef TESTS_JOB_DESK_H
#define TESTS_JOB_DESK_H

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "job_screen.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

typedef struct job_desk {
    scenario what;
    record_about about;
    job_state state;
    view_draw *draw;
    view_metrics metrics;
    view_ui ui;
    view_input input;
    view_prefs prefs;
    tr_lang *lang;
    view_job *job;
    view_job_model model;
    view_job_said said; /* of the last frame */
} job_desk;

static inline char *job_desk_file(const char *path, size_t *size)
{
    char why[TR_TEXT_CAP] = "";
    char *text = NULL;
    if (tr_file_read(path, TR_LANG_MAX_FILE, &text, size, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "%s\n", why);
        exit(2);
    }
    return text;
}

static inline tr_lang *job_desk_words(const char *code)
{
    static const char *const areas[] = {"ui",     "pictures", "job",    "score", "cli",  "stages", "screens",
                                        "orders", "sound",    "report", "tour",  "slip", "shown",  "progress"};
    static tr_diags diags;
    tr_lang *lang = tr_lang_open(code);
    for (size_t i = 0; i < sizeof areas / sizeof areas[0]; i++) {
        char path[512];
        size_t size = 0;
        tr_format(path, sizeof path, "%s/assets/lang/%s/%s.txt", TAUTROW_SOURCE, code, areas[i]);
        if (!tr_file_exists(path)) {
            continue;
        }
        char *text = job_desk_file(path, &size);
        (void)tr_lang_add(lang, text, size, &diags);
        free(text);
    }
    return lang;
}

static inline void job_desk_scenario(scenario *what, const char *name)
{
    static tr_diags diags;
    char path[512];
    size_t size = 0;
    char *text = job_desk_file(TAUTROW_SOURCE "/assets/catalogue/catalogue.json", &size);
    scenario_catalogue *catalogue = scenario_catalogue_open(text, size, &diags);
    free(text);
    tr_format(path, sizeof path, "%s/scenarios/%s.json", TAUTROW_SOURCE, name);
    text = job_desk_file(path, &size);
    tr_diags_clear(&diags);
    if (catalogue == NULL || scenario_read(text, size, catalogue, what, &diags) != TR_OK) {
        (void)fprintf(stderr, "%s: %s\n", path, diags.count > 0 ? diags.item[0].text : "no catalogue");
        exit(2);
    }
    free(text);
    scenario_catalogue_close(catalogue);
}

static inline void job_desk_open(job_desk *desk, const char *scenario_name, job_mode mode, const char *code)
{
    memset(desk, 0, sizeof *desk);
    job_desk_scenario(&desk->what, scenario_name);
    desk->what.setup.mode = desk->about.mode = mode;
    job_start(&desk->what.setup, &desk->state);
    desk->lang = job_desk_words(code);
    desk->draw = view_draw_open();
    desk->job = view_job_open(&desk->what);
    desk->model = (view_job_model){.what = &desk->what,
                                   .state = &desk->state,
                                   .about = &desk->about,
                                   .system = strcmp(code, "es") == 0 ? TR_SI : TR_US,
                                   .journal_ok = true};
    desk->input.width = 1280.0F;
    desk->input.height = 800.0F;
    desk->prefs.text_scale = 1.0F;
}

/* After the metrics are set. */
static inline void job_desk_ready(job_desk *desk)
{
    if (!view_ui_open(&desk->ui, desk->draw, &desk->metrics)) {
        exit(2);
    }
}

static inline void job_desk_close(job_desk *desk)
{
    view_job_close(desk->job);
    view_ui_close(&desk->ui);
    view_draw_close(desk->draw);
    tr_lang_close(desk->lang);
}

static inline job_outcome job_desk_do(job_desk *desk, const job_action *action)
{
    const job_outcome outcome = job_apply(&desk->what.setup, &desk->state, action);
    desk->model.now_ms = desk->state.now_ms;
    desk->model.trace_count++;
    view_job_heard(desk->job, &desk->model, action, &outcome);
    return outcome;
}

/* The expert works until the next thing to do belongs to stage, and then so many actions more of that stage. */
static inline bool job_desk_bring_to(job_desk *desk, job_stage stage, int more)
{
    job_action action;
    for (int i = 0; i < 4000; i++) {
        if (!job_expert_next(&desk->what.setup, &desk->state, &action)) {
            return false;
        }
        if (job_verb_look(action.verb)->stage == stage && more-- <= 0) {
            return true;
        }
        (void)job_desk_do(desk, &action);
    }
    return false;
}

/* One frame 1/60 s later; what the screen says is carried out when does is set. */
static inline void job_desk_frame(job_desk *desk, bool does)
{
    desk->input.dt_s = 1.0F / 60.0F;
    desk->input.time_s += 1.0 / 60.0;
    view_begin(&desk->ui, &desk->input, &desk->prefs, desk->lang);
    view_job_frame(&desk->ui, desk->job, &desk->model, &desk->said);
    view_end(&desk->ui);
    view_input_forget(&desk->input);
    for (int i = 0; does && i < desk->said.action_count; i++) {
        (void)job_desk_do(desk, &desk->said.action[i]);
    }
}

#endif
