/* The job screen in the hands of a game controller. The cross moves the focus as everywhere; the left stick moves the tool,
 * the right one the row, the shoulders the stage; triggers and the two free buttons do what the stage in hand does most. */
#include "job_screen.h"

/* One for each stage; the right trigger is what Space is: the main trigger. */
enum { MOST_KEYS = 4 };

static const view_pad_key keys[JOB_STAGE_COUNT][MOST_KEYS] = {
    [JOB_STAGE_READ] = {{VIEW_PAD_X, 'O'}},
    [JOB_STAGE_MARK] = {{VIEW_PAD_RT, VIEW_KEY_SPACE}},
    [JOB_STAGE_DRILL] = {{VIEW_PAD_RT, VIEW_KEY_SPACE}, {VIEW_PAD_LT, 'B'}, {VIEW_PAD_X, 'E'}},
    [JOB_STAGE_INSERT] = {{VIEW_PAD_RT, VIEW_KEY_SPACE}, {VIEW_PAD_X, 'E'}},
    [JOB_STAGE_ASSEMBLE] = {{VIEW_PAD_RT, VIEW_KEY_SPACE}},
    [JOB_STAGE_CUT] = {{VIEW_PAD_RT, VIEW_KEY_SPACE}, {VIEW_PAD_X, 'H'}},
    [JOB_STAGE_CRIMP] = {{VIEW_PAD_RT, VIEW_KEY_SPACE}, {VIEW_PAD_X, 'E'}, {VIEW_PAD_Y, 'S'}},
    [JOB_STAGE_JOIN] = {{VIEW_PAD_X, 'U'}, {VIEW_PAD_Y, 'B'}, {VIEW_PAD_LT, 'T'}, {VIEW_PAD_RT, 'H'}},
    [JOB_STAGE_TENSION] = {{VIEW_PAD_X, 'K'}, {VIEW_PAD_Y, 'J'}},
    [JOB_STAGE_CHECK] = {{VIEW_PAD_X, 'K'}, {VIEW_PAD_Y, 'J'}},
    [JOB_STAGE_HAND_OVER] = {{VIEW_PAD_X, 'O'}},
};

static void move_stage(view_job *job, int step)
{
    const int stage = (int)job->stage + step;
    if (stage >= 0 && stage < JOB_STAGE_COUNT) {
        view__job_choose(job, (job_stage)stage, job->row);
    }
}

void view__job_pad(view_ui *ui, view_job *job, const view_job_model *model)
{
    const int count = model->what->setup.structure.row_count;
    view_stick_claim(ui);
    while (view_key_take(ui, VIEW_PAD_LB, 0)) {
        move_stage(job, -1);
    }
    while (view_key_take(ui, VIEW_PAD_RB, 0)) {
        move_stage(job, 1);
    }
    while (view_key_take(ui, VIEW_STICK2_UP, 0)) {
        view__job_move_row(job, count, 1);
    }
    while (view_key_take(ui, VIEW_STICK2_DOWN, 0)) {
        view__job_move_row(job, count, -1);
    }
    view_pad_keys(ui, keys[job->stage], MOST_KEYS); /* those of the stage that is drawn now */
}
