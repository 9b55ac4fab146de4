/* A small screen of widgets on a desk of its own, and made-up hands at it: a frame is one call of the screen. No window, no fonts. */
#ifndef TESTS_UI_DESK_H
#define TESTS_UI_DESK_H

#include "near.h"

#include <stdlib.h>
#include <string.h>

#include "fake_font.h"
#include "tautrow/view/ui.h"

typedef struct desk {
    view_draw *draw;
    view_ui ui;
    view_input in;
    view_prefs prefs;
    void (*screen)(struct desk *);
    int pressed[4]; /* how often */
    int choice, count, item;
    float value;
    bool is_on, shows_modal, has_closed;
    char text[16];
    view_hold hold;
    view_rect place[8];
    view_id id[8];
} desk;

static inline int open_desk(void **state)
{
    desk *d = calloc(1, sizeof *d);
    d->draw = view_draw_open();
    d->in =
        (view_input){.width = 1024, .height = 640, .dt_s = 0.02F, .mouse_x = -100, .mouse_y = -100, .has_mouse = true};
    *state = d;
    return view_ui_open(&d->ui, d->draw, &fake_metrics) ? 0 : -1;
}

static inline int close_desk(void **state)
{
    desk *d = *state;
    view_ui_close(&d->ui);
    view_draw_close(d->draw);
    free(d);
    return 0;
}

static inline void frame(desk *d)
{
    d->in.time_s += 0.02;
    view_begin(&d->ui, &d->in, &d->prefs, NULL);
    d->screen(d);
    view_end(&d->ui);
    view_input_forget(&d->in);
}

static inline void frames(desk *d, int count)
{
    for (int i = 0; i < count; i++) {
        frame(d);
    }
}

static inline void key(desk *d, int code, unsigned mods)
{
    view_input_key(&d->in, code, mods, false);
    frame(d);
    frame(d);
}

static inline void point(desk *d, float x, float y)
{
    d->in.mouse_x = x;
    d->in.mouse_y = y;
}

static inline void hold_mouse(desk *d, bool is_down)
{
    d->in.down[VIEW_MOUSE_LEFT] = is_down;
    (is_down ? d->in.pressed : d->in.released)[VIEW_MOUSE_LEFT] = true;
    frame(d);
}

static inline void click(desk *d, float x, float y)
{
    point(d, x, y);
    hold_mouse(d, true);
    hold_mouse(d, false);
    frame(d);
}

static inline bool is_drawn(const desk *d, const char *what)
{
    char *dump = view_draw_dump(d->draw);
    const bool found = strstr(dump, what) != NULL;
    free(dump);
    return found;
}

/* The ring is a stroke 2 wide in the focus colour. */
static inline bool shows_ring(const desk *d)
{
    return is_drawn(d, "w2.0 #1559c7ff");
}

/* The plainest screen. */
static inline void three_buttons(desk *d)
{
    static const char *const label[] = {"drill", "drill", "crimp"}; /* equal labels are two widgets */
    for (int i = 0; i < 3; i++) {
        const view_button_spec spec = {.key = i == 2 ? 'C' : 0};
        if (view_button_with(&d->ui, (view_rect){20, 20 + 50 * (float)i, 100, 36}, label[i], &spec)) {
            d->pressed[i]++;
        }
    }
}

#endif
