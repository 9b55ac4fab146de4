/* What the desk's own files share about the attempt on it. */
#ifndef GAME_APP_DESK_ATTEMPTS_H
#define GAME_APP_DESK_ATTEMPTS_H

#include "desk.h"

/* Closes the attempt and the screens that show it. */
void app__desk_put_away(app_desk *desk);
/* Opens the debrief of the attempt on the desk with desk->card. False when there is no memory. */
bool app__desk_to_debrief(app_desk *desk);

/* What the job screen shows of it now. */
view_job_model app__desk_model(const app_desk *desk);
/* Carries out what was done at the job screen in this frame, and lets it be heard. model: as that frame was drawn. */
void app__desk_do_said(app_desk *desk, const view_job_model *model, const view_job_said *said);
/* The tour was taken or declined: it is not offered again. */
void app__desk_tour_seen(app_desk *desk);

#endif
