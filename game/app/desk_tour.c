/* The tour on the desk: an attempt that nobody records, brought to tensioning by the expert, and the way on from it. */
#include "desk_tour.h"

#include <string.h>

#include "desk_attempts.h"

/* Two rows are taut already, so that the third has something to pull on; its pliers are on. */
enum { ROWS_BEFORE = 2, MAX_ACTIONS = 2000 };

int app__desk_first_exercise(const app_desk *desk)
{
    int best = -1;
    for (int i = 0; i < desk->shelf.offer_count; i++) {
        const scenario *what = desk->shelf.offer[i].what;
        const scenario *before = best < 0 ? NULL : desk->shelf.offer[best].what;
        const bool is_run = what != NULL && what->setup.order_count > ROWS_BEFORE;
        if (is_run && (before == NULL || what->difficulty < before->difficulty ||
                       (what->difficulty == before->difficulty &&
                        what->setup.structure.row_count < before->setup.structure.row_count))) {
            best = i;
        }
    }
    return best;
}

/* The expert works on until it would turn the third body; returns that row, -1 where it never comes to it. */
static int bring_to_tension(app_desk *desk)
{
    const job_setup *setup = &record_attempt_scenario(desk->attempt)->setup;
    job_action action;
    int turned = 0;
    for (int i = 0; i < MAX_ACTIONS; i++) {
        if (!job_expert_next(setup, record_attempt_state(desk->attempt), &action)) {
            return -1;
        }
        if (action.verb == JOB_DO_TURN_BODY && turned++ == ROWS_BEFORE) {
            return job_action_row(&action);
        }
        (void)record_attempt_do(desk->attempt, &action, NULL);
    }
    return -1;
}

bool app_desk_tour(app_desk *desk)
{
    const int first = app__desk_first_exercise(desk);
    if (!app_desk_start(desk, first, JOB_GUIDED, false)) {
        return false;
    }
    const int row = bring_to_tension(desk);
    if (row < 0) {
        app__desk_put_away(desk);
        desk->screen = APP_SCREEN_HOME;
        return false;
    }
    memset(&desk->tour, 0, sizeof desk->tour);
    desk->tour.row = row;
    desk->job_ms = record_attempt_state(desk->attempt)->now_ms;
    view_job_show(desk->job, JOB_STAGE_TENSION, row);
    desk->screen = APP_SCREEN_TOUR;
    return true;
}

static void leave(app_desk *desk, bool starts)
{
    const int first = desk->offer;
    app__desk_put_away(desk);
    app__desk_tour_seen(desk);
    desk->choose.card = first;
    desk->choose.mode = JOB_GUIDED;
    desk->screen = starts ? APP_SCREEN_SCENARIOS : APP_SCREEN_HOME;
    desk->ui.wants_frame = true;
}

void app__desk_tour_frame(app_desk *desk)
{
    view_job_said said;
    memset(&said, 0, sizeof said);
    view_job_model model = app__desk_model(desk);
    model.is_copy = true;
    view_tour_begin(&desk->ui, &desk->tour, desk->job);
    view_job_frame(&desk->ui, desk->job, &model, &said);
    said.undo = 0;
    const int before = desk->tour.step;
    app__desk_do_said(desk, &model, &said);
    const view_tour_wish wish =
        view_tour_end(&desk->ui, &desk->tour, desk->job, &model, record_attempt_scenario(desk->attempt));
    desk->ui.wants_frame = desk->ui.wants_frame || before != desk->tour.step;
    if (wish != VIEW_TOUR_STAY) {
        leave(desk, wish == VIEW_TOUR_START);
    }
}
