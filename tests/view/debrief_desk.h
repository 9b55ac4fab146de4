/* The debrief on a desk of its own, for its tests and its picture sheet. */
#ifndef TESTS_DEBRIEF_DESK_H
#define TESTS_DEBRIEF_DESK_H

#include "debrief.h"
#include "report_attempts.h"

typedef struct debrief_desk {
    paper_attempt done;
    view_draw *draw;
    view_metrics metrics;
    view_ui ui;
    view_input input;
    view_prefs prefs;
    tr_lang *lang;
    view_debrief *debrief;
    view_answer_of_screen answer; /* of the last frame */
} debrief_desk;

/* Takes over the attempt. */
static inline void debrief_desk_open(debrief_desk *desk, const paper_attempt *done, const char *code,
                                     view_metrics metrics, float text_scale)
{
    memset(desk, 0, sizeof *desk);
    desk->done = *done;
    desk->lang = job_desk_words(code);
    desk->draw = view_draw_open();
    desk->metrics = metrics;
    desk->debrief = view_debrief_open(desk->done.attempt, &desk->done.card);
    desk->input.width = 1280.0F;
    desk->input.height = 800.0F;
    desk->prefs.text_scale = text_scale;
    if (desk->debrief == NULL || !view_ui_open(&desk->ui, desk->draw, &desk->metrics)) {
        exit(2);
    }
}

static inline void debrief_desk_frame(debrief_desk *desk)
{
    desk->input.dt_s = 1.0F / 60.0F;
    desk->input.time_s += 1.0 / 60.0;
    view_begin(&desk->ui, &desk->input, &desk->prefs, desk->lang);
    desk->answer = view_debrief_frame(&desk->ui, desk->debrief, desk->done.attempt, &desk->done.card,
                                      strcmp(tr_lang_code(desk->lang), "es") == 0 ? TR_SI : TR_US);
    view_end(&desk->ui);
    view_input_forget(&desk->input);
}

static inline void debrief_desk_close(debrief_desk *desk)
{
    view_debrief_close(desk->debrief);
    view_ui_close(&desk->ui);
    view_draw_close(desk->draw);
    tr_lang_close(desk->lang);
    paper_attempt_close(&desk->done);
}

#endif
