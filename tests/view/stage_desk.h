/* A job desk at a stage, and the mouse on it: what the tests of the stages share beside the hands. */
#ifndef TESTS_STAGE_DESK_H
#define TESTS_STAGE_DESK_H

#include "near.h"

#include "draw_list.h"
#include "fake_font.h"
#include "stage_hands.h"

/* What a careful hand must meet. */
static const double FULL_MARK_M = 0.0016;     /* criteria.def, mark_height: full marks */
static const double FULL_DEPTH_M = 0.0015;    /* hole_depth */
static const double FULL_SQUARE_RAD = 0.0262; /* hole_square */

static inline job_desk *desk_at(job_stage stage, int more)
{
    job_desk *desk = calloc(1, sizeof *desk);
    job_desk_open(desk, "soft-porch", JOB_PRACTICE, "en");
    desk->metrics = fake_metrics;
    job_desk_ready(desk);
    job_desk_frame(desk, false);
    hands_at(desk, stage, more);
    hands_wait(desk, 0.1F);
    return desk;
}

static inline void close_desk(job_desk *desk)
{
    job_desk_close(desk);
    free(desk);
}

/* The middle of a text in the fitting's card; the last drawn counts. */
static inline bool find(const job_desk *desk, const char *text, float *x, float *y)
{
    const view_draw *draw = desk->draw;
    bool is_found = false;
    for (size_t i = 0; i < draw->commands; i++) {
        const view__command *c = &draw->command[i];
        if (c->op == VIEW__TEXT && strcmp(&draw->text[c->first], text) == 0 && c->rect.y > 455.0F &&
            c->rect.x < 842.0F) {
            const float width = fake_width(NULL, c->font, text);
            *x = c->rect.x + width * (c->align == VIEW_LEFT ? 0.5F : c->align == VIEW_RIGHT ? -0.5F : 0.0F);
            *y = c->rect.y - c->font.size * 0.35F;
            is_found = true;
        }
    }
    return is_found;
}

static inline void point_at(job_desk *desk, const char *word_key)
{
    float x = 0.0F;
    float y = 0.0F;
    const char *word = tr_word(desk->lang, word_key);
    if (!find(desk, word, &x, &y)) {
        print_error("not on the screen: %s\n", word);
        fail();
    }
    hands_point(desk, x, y);
    hands_wait(desk, 0.05F);
}

static inline void mouse_hold(job_desk *desk, float seconds)
{
    hands_mouse(desk, VIEW_MOUSE_LEFT, true);
    hands_wait(desk, seconds);
    hands_mouse(desk, VIEW_MOUSE_LEFT, false);
    hands_wait(desk, 0.1F);
}

static inline void mouse_hold_on(job_desk *desk, const char *word_key, float seconds)
{
    point_at(desk, word_key);
    mouse_hold(desk, seconds);
}

static inline void click_on(job_desk *desk, const char *word_key)
{
    mouse_hold_on(desk, word_key, 0.05F);
}

static inline void mouse_hold_at(job_desk *desk, float x, float y, float seconds)
{
    hands_point(desk, x, y);
    hands_wait(desk, 0.05F);
    mouse_hold(desk, seconds);
}

#endif
