/* The orders screen on a desk of its own, for its test and its picture sheet. */
#ifndef TESTS_ORDERS_DESK_H
#define TESTS_ORDERS_DESK_H

#include "orders.h"
#include "screen_desk.h"

typedef struct orders_desk {
    screen_desk on;
    scenario what;
    view_orders *orders;
    view_answer_of_screen answer; /* of the last frame */
} orders_desk;

static inline void orders_desk_open(orders_desk *desk, const char *scenario_name, const char *code,
                                    view_metrics metrics)
{
    (void)screen_desk_open(&desk->on, code, &metrics);
    job_desk_scenario(&desk->what, scenario_name);
    desk->orders = view_orders_open(&desk->what);
    if (desk->orders == NULL) {
        exit(2);
    }
}

static inline void orders_desk_close(orders_desk *desk)
{
    view_orders_close(desk->orders);
    screen_desk_close(&desk->on);
}

static inline void orders_desk_frame(orders_desk *desk)
{
    screen_desk_begin(&desk->on);
    desk->answer = view_orders_frame(&desk->on.ui, desk->orders, screen_desk_units(&desk->on));
    screen_desk_end(&desk->on);
}

static inline void orders_desk_key(orders_desk *desk, int key)
{
    desk->on.in.has_mouse = false;
    view_input_key(&desk->on.in, key, 0, false);
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
    const char *name = tr_word(desk->on.lang, name_key);
    int seen = 0;
    desk->on.ui.focus = 0; /* from the start of the screen */
    orders_desk_key(desk, VIEW_KEY_TAB);
    for (int i = 0; i < 20; i++) {
        orders_desk_key(desk, VIEW_KEY_NONE);
        if (strcmp(view_focus_label(&desk->on.ui), name) == 0 && seen++ == side) {
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
