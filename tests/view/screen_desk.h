/* What a screen is drawn with, and the frame around it: for the tests and picture sheets of screens that know no job under way. */
#ifndef TESTS_SCREEN_DESK_H
#define TESTS_SCREEN_DESK_H

#include "job_desk.h"
#include "tautrow/view/text.h"

typedef struct screen_desk {
    view_draw *draw;
    view_fonts *fonts; /* its own; NULL where the metrics are another's */
    view_metrics metrics;
    view_ui ui;
    view_input in;
    view_prefs prefs;
    tr_lang *lang;
} screen_desk;

/* At 1280 by 800, text at 100 %, with the words of the language called code. metrics NULL: those of this machine's fonts; false
 * where it has none. */
static inline bool screen_desk_open(screen_desk *desk, const char *code, const view_metrics *metrics)
{
    char why[TR_TEXT_CAP];
    memset(desk, 0, sizeof *desk);
    if (metrics == NULL && view_fonts_open(NULL, 0, &desk->fonts, why, sizeof why) != TR_OK) {
        return false;
    }
    desk->metrics = metrics != NULL ? *metrics : view_fonts_metrics(desk->fonts);
    desk->draw = view_draw_open();
    desk->lang = job_desk_words(code);
    desk->in = (view_input){.width = 1280.0F, .height = 800.0F, .mouse_x = -10.0F, .mouse_y = -10.0F};
    desk->prefs.text_scale = 1.0F;
    if (!view_ui_open(&desk->ui, desk->draw, &desk->metrics)) {
        exit(2);
    }
    return true;
}

static inline void screen_desk_close(screen_desk *desk)
{
    view_ui_close(&desk->ui);
    view_draw_close(desk->draw);
    view_fonts_close(desk->fonts);
    tr_lang_close(desk->lang);
}

/* The screen is drawn between these two, 1/60 s after the one before. */
static inline void screen_desk_begin(screen_desk *desk)
{
    desk->in.dt_s = 1.0F / 60.0F;
    desk->in.time_s += 1.0 / 60.0;
    view_begin(&desk->ui, &desk->in, &desk->prefs, desk->lang);
}

static inline void screen_desk_end(screen_desk *desk)
{
    view_end(&desk->ui);
    view_input_forget(&desk->in);
}

/* The units that go with the language. */
static inline tr_system screen_desk_units(const screen_desk *desk)
{
    return strcmp(tr_lang_code(desk->lang), "es") == 0 ? TR_SI : TR_US;
}

#endif
