/* Hands for the stages from mark to crimp: keys and buttons held for a while on a job desk. Shared by the sheet and the
 * tests. */
#ifndef TESTS_STAGE_HANDS_H
#define TESTS_STAGE_HANDS_H

#include "job_desk.h"

static inline void hands_wait(job_desk *desk, float seconds)
{
    for (int i = (int)lroundf(seconds * 60.0F); i > 0; i--) {
        job_desk_frame(desk, true);
    }
}

static inline void hands_press(job_desk *desk, int key)
{
    desk->input.held[key] = true;
    view_input_key(&desk->input, key, 0, false);
}

static inline void hands_let_go(job_desk *desk, int key)
{
    desk->input.held[key] = false;
    hands_wait(desk, 0.05F);
}

static inline void hands_hold(job_desk *desk, int key, float seconds)
{
    hands_press(desk, key);
    hands_wait(desk, seconds);
    hands_let_go(desk, key);
}

static inline void hands_tap(job_desk *desk, int key)
{
    hands_hold(desk, key, 0.05F);
}

static inline void hands_point(job_desk *desk, float x, float y)
{
    desk->input.has_mouse = true;
    desk->input.mouse_x = x;
    desk->input.mouse_y = y;
}

static inline void hands_mouse(job_desk *desk, int button, bool is_down)
{
    desk->input.down[button] = is_down;
    (is_down ? desk->input.pressed : desk->input.released)[button] = true;
}

/* Shows the stage with the row that comes next in it. */
static inline void hands_at(job_desk *desk, job_stage stage, int more)
{
    (void)job_desk_bring_to(desk, stage, more);
    job_action next;
    const bool has_next = job_expert_next(&desk->what.setup, &desk->state, &next);
    view_job_show(desk->job, stage, has_next ? job_action_row(&next) : -1);
    if (!desk->state.has_glasses) {
        const job_action on = job_make(JOB_DO_GLASSES, desk->state.now_ms, (const double[]){1.0}, 1);
        (void)job_desk_do(desk, &on);
    }
}

#endif
