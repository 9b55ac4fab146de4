/* Assembling: a stud and an end of the body are picked, and the stud is screwed in as long as it is held. At the wrong
 * end the thread does not start, and the job says so. */
#include "stage_hand.h"

#include <math.h>

enum { SCREW = 1 };

static const float TURNS_S = 2.0F;

static int stud_of(const view_job *job)
{
    return job->tools.assemble.stud - 1;
}

static int end_of(const view_job *job)
{
    return job->tools.assemble.end - 1;
}

/* Fingers stop at half turns: the stud's flats stand so. */
static double half_turns(float turns)
{
    return fmax(0.5, round(2.0 * (double)turns) / 2.0);
}

/* What is left in the body before the studs meet. */
static float room_turns(const view_job *job, const view_job_model *model)
{
    const mech_turnbuckle *t = &model->what->setup.turnbuckle;
    const mech_engaged *in = &model->state->row[job->row].engaged;
    const double left_m = t->body_m - in->anchor_turns * t->anchor.pitch_m - in->cable_turns * t->cable.pitch_m;
    const double pitch_m = stud_of(job) == 0 ? t->anchor.pitch_m : t->cable.pitch_m;
    return (float)fmax(floor(2.0 * left_m / pitch_m) / 2.0, 0.5);
}

static void screw(view_job *job, const view_job_model *model, double turns, view_job_said *said)
{
    const double args[] = {job->row, stud_of(job), end_of(job), turns};
    view_job_do(said, model, JOB_DO_SCREW_STUD, args, 4);
    job->tools.assemble.turns = 0.0F;
}

static bool is_screwed_here(const view_job *job, const job_row *row)
{
    const bool is_crimped = stud_of(job) == 1 && row->crimp.squeeze_count > 0;
    return stud_of(job) == end_of(job) && !row->is_joined && !is_crimped;
}

static void work(view_job *job, const view_job_model *model, view_hold hold, view_job_said *said)
{
    float *turns = &job->tools.assemble.turns;
    if (hold.has_begun) {
        job->tools.assemble.is_refused = stud_of(job) != end_of(job);
        *turns = 0.0F;
        if (!is_screwed_here(job, &model->state->row[job->row])) {
            screw(job, model, 0.5, said); /* a try */
            view__let_go(job);
        }
    } else if (hold.is_down) {
        *turns = fminf(TURNS_S * hold.held_s, room_turns(job, model));
    } else if (hold.has_ended) {
        screw(job, model, half_turns(*turns), said);
    }
}

/* ---- choosing --------------------------------------------------------------------------------------------------- */

static void choose(view_job *job, int stud, int end)
{
    job->tools.assemble.stud = stud >= 0 ? stud + 1 : job->tools.assemble.stud;
    job->tools.assemble.end = end >= 0 ? end + 1 : job->tools.assemble.end;
    job->tools.assemble.is_refused = job->tools.assemble.is_refused && stud < 0 && end < 0;
}

static void choose_by_bench(view_ui *ui, view_job *job, view_bench *bench)
{
    const char *const studs[] = {view_word(ui, "do.assemble.anchor"), view_word(ui, "do.assemble.cable")};
    const char *const ends[] = {view_word(ui, "do.assemble.plain"), view_word(ui, "do.assemble.ring")};
    view__bench_label(ui, bench, view_word(ui, "do.assemble.stud"));
    const int stud = view__bench_choice(ui, bench, view_word(ui, "do.assemble.stud"), studs, 2, stud_of(job), "12");
    view__bench_label(ui, bench, view_word(ui, "do.assemble.end"));
    const int end = view__bench_choice(ui, bench, view_word(ui, "do.assemble.end"), ends, 2, end_of(job), "34");
    if (job->tools.hold.gesture == 0) {
        choose(job, stud, end);
    }
}

/* The end that is pressed in the picture is the end meant: plain at the left, ring-marked at the right. */
static void choose_by_picture(view_job *job, const view__touch *touch, view_rect picture)
{
    if (touch->is_mouse && job->tools.hold.gesture == 0 && !job->tools.hold.must_let_go) {
        const int end = touch->at.x < picture.x + picture.w * 0.5F ? 0 : 1;
        choose(job, -1, end != end_of(job) ? end : -1);
    }
}

static void pose(view_job *job, const job_row *row)
{
    view_hand_assemble *hand = &job->hand.assemble;
    const bool is_working = job->tools.hold.gesture == SCREW;
    const double there = stud_of(job) == 0 ? row->engaged.anchor_turns : row->engaged.cable_turns;
    *hand = (view_hand_assemble){.is_shown = is_working || job->tools.assemble.is_refused,
                                 .stud = stud_of(job) > 0 ? 1 : 0,
                                 .end = end_of(job) > 0 ? 1 : 0,
                                 .turns = is_working ? there + (double)job->tools.assemble.turns : there,
                                 .is_refused = job->tools.assemble.is_refused};
}

/* The end that is picked, tinted behind the picture. */
static void mark_end(view_ui *ui, const view_job *job, view_rect picture)
{
    if (end_of(job) >= 0) {
        const view_rect half = view_split_x(view_inset(picture, 2.0F), 2, end_of(job), VIEW_GAP_2);
        const view_rect foot = {half.x, half.y + half.h - 3.0F, half.w, 3.0F};
        view_fill_rect(ui->draw, half, VIEW_RADIUS, view_fade(ui->theme->accent_soft, 0.45F));
        view_fill_rect(ui->draw, foot, 1.5F, ui->theme->accent);
    }
}

void view_stage_assemble(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture, view_rect tools,
                         view_job_said *said)
{
    const view_pen pen = view_job_pen(ui, model);
    view__keep_row(job);
    const job_row *row = &model->state->row[job->row];
    if (job->tools.assemble.row != job->row) {
        job->tools.assemble.row = job->row;
        job->tools.assemble.stud = job->tools.assemble.end = 0;
        job->tools.assemble.is_refused = false;
    }
    pose(job, row);
    mark_end(ui, job, picture);
    view_closeup_assemble(&pen, picture, &model->what->setup, model->state, job->row, &job->hand, NULL);
    const view__touch touch = view__touch_picture(ui, job, picture, view_word(ui, "do.assemble.picture"));
    choose_by_picture(job, &touch, picture);
    view__desk desk = view__desk_begin(ui, tools, 1, "do.assemble.help");
    choose_by_bench(ui, job, &desk.bench);
    const bool is_chosen = stud_of(job) >= 0 && end_of(job) >= 0;
    const char *why_not = is_chosen ? NULL : view_word(ui, "do.assemble.choose");
    const view__trigger what = {SCREW, "do.assemble.screw", 'W', true, why_not};
    const view_rect rect = view__bench_line(ui, view__desk_foot(ui, &desk));
    work(job, model, view__trigger_at(ui, rect, job, &touch, what), said);
    view__desk_end(ui, &desk);
}
