/* Stages that have no tools of their own yet: the fitting as it stands. */
#include "job_screen.h"

static void plain(view_ui *ui, const view_job *job, const view_job_model *model, view_rect picture)
{
    const view_pen pen = view_job_pen(ui, model);
    view_closeup(&pen, picture, job->stage, &model->what->setup, model->state, job->row, &job->hand, NULL);
}

#define STAGE_PLAIN(name)                                                                                              \
    __attribute__((weak)) void name(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture,        \
                                    view_rect tools, view_job_said *said)                                              \
    {                                                                                                                  \
        (void)tools;                                                                                                   \
        (void)said;                                                                                                    \
        plain(ui, job, model, picture);                                                                                \
    }

STAGE_PLAIN(view_stage_mark)
STAGE_PLAIN(view_stage_drill)
STAGE_PLAIN(view_stage_insert)
STAGE_PLAIN(view_stage_assemble)
STAGE_PLAIN(view_stage_cut)
STAGE_PLAIN(view_stage_crimp)
