/* The demonstration on the desk: opened beside the attempt, which stands still meanwhile, and closed again. */
#include "desk_shown.h"

#include <string.h>

bool app_desk_show_me(app_desk *desk)
{
    job_stage stage = JOB_STAGE_READ;
    int row = 0;
    if (desk->attempt == NULL || desk->job == NULL) {
        return false;
    }
    view_job_at(desk->job, &stage, &row);
    view_shown_close(desk->shown);
    desk->shown = view_shown_open(desk->attempt, stage, row);
    if (desk->shown == NULL) {
        return false;
    }
    view_shown_use_keys(desk->shown, desk->shown_by_keys);
    memset(&desk->ear, 0, sizeof desk->ear);
    desk->screen = APP_SCREEN_SHOWN;
    return true;
}

void app__desk_shown_frame(app_desk *desk)
{
    const view_shown_frame frame = {.prefs = &desk->settings.prefs,
                                    .system = app_desk_system(desk, record_attempt_scenario(desk->attempt)),
                                    .ear = &desk->ear,
                                    .captions = desk->settings.captions};
    if (view_shown_draw(&desk->ui, desk->shown, &frame)) {
        desk->shown_by_keys = view_shown_uses_keys(desk->shown);
        view_shown_close(desk->shown);
        desk->shown = NULL;
        memset(&desk->ear, 0, sizeof desk->ear); /* the copy's readings and rings are not this attempt's */
        desk->screen = APP_SCREEN_JOB;
        desk->ui.wants_frame = true;
    }
}
