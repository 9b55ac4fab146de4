/* Looking at a job screen in a test: words of a made-up width, a scenario brought to a stage, and where a text stands. */
#ifndef TESTS_JOB_EYES_H
#define TESTS_JOB_EYES_H

#include "near.h"

#include "draw_list.h"
#include "job_desk.h"

static inline float made_up_width(void *context, view_font font, const char *text)
{
    (void)context;
    float width = 0.0F;
    for (const char *c = text; *c != '\0'; c++) {
        width += ((unsigned char)*c & 0xC0U) != 0x80U ? 0.5F * font.size : 0.0F;
    }
    return width;
}

static inline void open_at(job_desk *desk, const char *scenario_name, job_mode mode, job_stage stage, int more)
{
    job_desk_open(desk, scenario_name, mode, "en");
    desk->metrics = (view_metrics){made_up_width, NULL};
    job_desk_ready(desk);
    job_desk_frame(desk, false);
    if (stage != JOB_STAGE_READ) {
        assert_true(job_desk_bring_to(desk, stage, more));
    }
    job_action next;
    const bool has_next = job_expert_next(&desk->what.setup, &desk->state, &next);
    view_job_show(desk->job, stage, has_next ? job_action_row(&next) : -1);
    job_desk_frame(desk, false);
    job_desk_frame(desk, false);
}

/* Where a text stands on the screen; the last one drawn counts, so that a dialog's button is found before what it
 * covers. */
static inline bool find_text(const job_desk *desk, const char *text, float *x, float *y)
{
    const view_draw *draw = desk->draw;
    for (size_t i = draw->commands; i-- > 0;) {
        const view__command *c = &draw->command[i];
        if (c->op != VIEW__TEXT || strcmp(&draw->text[c->first], text) != 0) {
            continue;
        }
        const float width = made_up_width(NULL, c->font, text);
        const float share = c->align == VIEW_LEFT ? 0.5F : c->align == VIEW_RIGHT ? -0.5F : 0.0F;
        *x = c->rect.x + width * share;
        *y = c->rect.y - c->font.size * 0.3F;
        return true;
    }
    return false;
}

#endif
