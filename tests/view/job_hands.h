/* Made-up hands at a job screen that say what came of it: nothing is carried out by itself. */
#ifndef TESTS_JOB_HANDS_H
#define TESTS_JOB_HANDS_H

#include "near.h"

#include "draw_text.h"
#include "fake_font.h"
#include "job_desk.h"

static inline void open_at(job_desk *desk, const char *scenario_name, job_mode mode, job_stage stage, int more)
{
    job_desk_open(desk, scenario_name, mode, "en");
    desk->metrics = fake_metrics;
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

/* ---- hands ------------------------------------------------------------------------------------------------------ */

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
        const float width = fake_width(NULL, c->font, text);
        const float share = c->align == VIEW_LEFT ? 0.5F : c->align == VIEW_RIGHT ? -0.5F : 0.0F;
        *x = c->rect.x + width * share;
        *y = c->rect.y - c->font.size * 0.3F;
        return true;
    }
    return false;
}

static inline void mouse(job_desk *desk, float x, float y, bool is_down)
{
    view_input *in = &desk->input;
    in->has_mouse = true;
    in->mouse_x = x;
    in->mouse_y = y;
    in->pressed[VIEW_MOUSE_LEFT] = is_down && !in->down[VIEW_MOUSE_LEFT];
    in->released[VIEW_MOUSE_LEFT] = !is_down && in->down[VIEW_MOUSE_LEFT];
    in->down[VIEW_MOUSE_LEFT] = is_down;
}

/* Presses and lets go; what is said in any of the frames is gathered. */
static inline void click(job_desk *desk, float x, float y, view_job_said *said)
{
    memset(said, 0, sizeof *said);
    for (int frame = 0; frame < 5; frame++) {
        mouse(desk, x, y, frame == 1 || frame == 2);
        job_desk_frame(desk, false);
        for (int i = 0; i < desk->said.action_count && said->action_count < VIEW_JOB_MAX_SAID; i++) {
            said->action[said->action_count++] = desk->said.action[i];
        }
        said->undo = said->undo > desk->said.undo ? said->undo : desk->said.undo;
        said->leave = said->leave || desk->said.leave;
        said->settings = said->settings || desk->said.settings;
        said->debrief = said->debrief || desk->said.debrief;
    }
}

static inline void click_word(job_desk *desk, const char *key, view_job_said *said)
{
    float x = 0.0F;
    float y = 0.0F;
    if (!find_text(desk, tr_word(desk->lang, key), &x, &y)) {
        print_error("\"%s\" is not on the screen whole\n", tr_word(desk->lang, key));
        fail();
    }
    click(desk, x, y, said);
}

static inline void press_key(job_desk *desk, int key, unsigned mods)
{
    desk->input.has_mouse = false;
    view_input_key(&desk->input, key, mods, false);
    job_desk_frame(desk, false);
}

static inline void expect(const view_job_said *said, job_verb verb)
{
    if (said->action_count != 1 || said->action[0].verb != verb) {
        print_error("expected %s, got %d actions, first %s\n", job_verb_look(verb)->name, said->action_count,
                    said->action_count > 0 ? job_verb_look(said->action[0].verb)->name : "none");
        fail();
    }
}

#endif
