/* The orders screen on a desk of its own, for its test and its picture sheet. */
#ifndef TESTS_ORDERS_DESK_H
#define TESTS_ORDERS_DESK_H

#include "job_desk.h"
#include "orders.h"

typedef struct orders_desk {
    scenario what;
    view_draw *draw;
    view_metrics metrics;
    view_ui ui;
    view_input input;
    view_prefs prefs;
    tr_lang *lang;
    view_orders *orders;
    view_answer_of_screen answer; /* of the last frame */
} orders_desk;

static inline void orders_desk_open(orders_desk *desk, const char *scenario_name, const char *code,
                                    view_metrics metrics)
{
    memset(desk, 0, sizeof *desk);
    job_desk_scenario(&desk->what, scenario_name);
    desk->lang = job_desk_words(code);
    desk->draw = view_draw_open();
    desk->metrics = metrics;
    desk->orders = view_orders_open(&desk->what);
    desk->input.width = 1280.0F;
    desk->input.height = 800.0F;
    desk->prefs.text_scale = 1.0F;
    if (desk->orders == NULL || !view_ui_open(&desk->ui, desk->draw, &desk->metrics)) {
        exit(2);
    }
}

static inline void orders_desk_close(orders_desk *desk)
{
    view_orders_close(desk->orders);
    view_ui_close(&desk->ui);
    view_draw_close(desk->draw);
    tr_lang_close(desk->lang);
}

static inline void orders_desk_frame(orders_desk *desk)
{
    desk->input.dt_s = 1.0F / 60.0F;
    desk->input.time_s += 1.0 / 60.0;
    view_begin(&desk->ui, &desk->input, &desk->prefs, desk->lang);
    desk->answer =
        view_orders_frame(&desk->ui, desk->orders, strcmp(tr_lang_code(desk->lang), "es") == 0 ? TR_SI : TR_US);
    view_end(&desk->ui);
    view_input_forget(&desk->input);
}

static inline void orders_desk_key(orders_desk *desk, int key)
{
    desk->input.has_mouse = false;
    view_input_key(&desk->input, key, 0, false);
    orders_desk_frame(desk);
}

static inline void orders_desk_rest(orders_desk *desk)
{
    for (int i = 0; i < 60; i++) {
        orders_desk_frame(desk);
    }
}

/* Chooses by the keyboard: Tab to the choice that is called name (of side, from the left) and arrows to the option. */
static inline bool orders_desk_choose(orders_desk *desk, int side, const char *name_key, int option)
{
    const char *name = tr_word(desk->lang, name_key);
    int seen = 0;
    desk->ui.focus = 0; /* from the start of the screen */
    orders_desk_key(desk, VIEW_KEY_TAB);
    for (int i = 0; i < 20; i++) {
        orders_desk_key(desk, VIEW_KEY_NONE);
        if (strcmp(view_focus_label(&desk->ui), name) == 0 && seen++ == side) {
            orders_desk_key(desk, VIEW_KEY_HOME);
            for (int k = 0; k < option; k++) {
                orders_desk_key(desk, VIEW_KEY_RIGHT);
            }
            return true;
        }
        orders_desk_key(desk, VIEW_KEY_TAB);
    }
    return false;
}

#endif
