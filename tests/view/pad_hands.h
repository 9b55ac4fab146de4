/* A game controller in hand on a job desk: buttons, stick, and the way by the cross to a control that is named. */
#ifndef TESTS_PAD_HANDS_H
#define TESTS_PAD_HANDS_H

#include "stage_hands.h"
#include "ui_keep.h"

static inline void pad_hold(job_desk *desk, int key, float seconds)
{
    desk->input.device = VIEW_BY_PAD;
    desk->input.squeeze = key == VIEW_PAD_RT ? 1.0F : 0.0F;
    hands_hold(desk, key, seconds);
    desk->input.squeeze = 0.0F;
}

static inline void pad_tap(job_desk *desk, int key)
{
    pad_hold(desk, key, 0.05F);
}

static inline void pad_stick(job_desk *desk, float x, float y)
{
    desk->input.device = VIEW_BY_PAD;
    desk->input.stick_x = x;
    desk->input.stick_y = y;
}

/* The shortest way by the cross from one stop to all others: how many presses, and the last of them; -1 = no way. */
typedef struct pad_ways {
    int presses[VIEW__STOPS], key[VIEW__STOPS];
    size_t from[VIEW__STOPS];
} pad_ways;

static inline size_t pad_stop(const view_ui *ui, view_id id)
{
    const view__stop *stop = view__stop_of(ui, id);
    return stop == NULL ? VIEW__STOPS : (size_t)(stop - ui->keep->stop);
}

static inline void pad_find_ways(const view_ui *ui, view_id start, pad_ways *ways)
{
    for (size_t i = 0; i < VIEW__STOPS; i++) {
        ways->presses[i] = -1;
    }
    const size_t first = pad_stop(ui, start);
    if (first == VIEW__STOPS) {
        return;
    }
    ways->presses[first] = 0;
    for (int far = 0; far < 60; far++) {
        for (size_t i = 0; i < ui->keep->stops; i++) {
            for (int key = VIEW_PAD_LEFT; ways->presses[i] == far && key <= VIEW_PAD_DOWN; key++) {
                const size_t next = pad_stop(ui, view__beside(ui, ui->keep->stop[i].id, key));
                if (next < VIEW__STOPS && ways->presses[next] < 0) {
                    ways->presses[next] = far + 1;
                    ways->key[next] = key;
                    ways->from[next] = i;
                }
            }
        }
    }
}

static inline view_id pad_named(const view_ui *ui, const char *label)
{
    const view_target *targets = NULL;
    const size_t count = view_targets(ui, &targets);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(targets[i].label, label) == 0 && pad_stop(ui, targets[i].id) < VIEW__STOPS) {
            return targets[i].id;
        }
    }
    return 0;
}

/* One press of the cross towards id; false where there is no way or it is there already. */
static inline int pad_step_to(const view_ui *ui, view_id id)
{
    static pad_ways ways;
    pad_find_ways(ui, ui->focus, &ways);
    size_t at = pad_stop(ui, id);
    if (at == VIEW__STOPS || ways.presses[at] <= 0) {
        return VIEW_KEY_NONE;
    }
    while (ways.presses[at] > 1) {
        at = ways.from[at];
    }
    return ways.key[at];
}

static inline bool pad_go_to(job_desk *desk, view_id id)
{
    for (int i = 0; i < 60 && desk->ui.focus != id; i++) {
        const int key = pad_step_to(&desk->ui, id);
        if (key == VIEW_KEY_NONE) {
            return false;
        }
        pad_tap(desk, key);
    }
    return desk->ui.focus == id;
}

/* Goes to the control called label by the cross alone; what is scrolled out of sight is looked for. */
static inline bool pad_go(job_desk *desk, const char *label)
{
    const struct view_ui_keep *keep = desk->ui.keep;
    for (size_t i = 0; i < keep->stops && pad_named(&desk->ui, label) == 0; i++) {
        if (keep->stop[i].scroll != 0) {
            (void)pad_go_to(desk, keep->stop[i].id);
        }
    }
    const view_id id = pad_named(&desk->ui, label);
    return id != 0 && pad_go_to(desk, id);
}

#endif
