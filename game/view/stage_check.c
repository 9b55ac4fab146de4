/* Checking: the ball in a gap, the gauge, the crimp gauge, an eye along the post; faults are reported, rows brought up.
 */
#include "job_screen.h"

#include <math.h>

#include "tautrow/base/text.h"

static void gap_name(const view_ui *ui, const view_job_model *model, int gap, char *out, size_t cap)
{
    const int rows = model->what->setup.structure.row_count;
    char low[16];
    char high[16];
    tr_format(low, sizeof low, "%d", gap);
    tr_format(high, sizeof high, "%d", gap + 1);
    const char *const args[] = {low, high};
    tr_lang_fill(ui->lang,
                 gap == 0      ? "job.gap.deck"
                 : gap == rows ? "job.gap.rail"
                               : "job.gap.between",
                 args, 2, out, cap);
}

static void ball(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench, view_job_said *said)
{
    char text[64];
    const job_setup *setup = &model->what->setup;
    const int most = setup->structure.row_count - (setup->structure.rail.is_fitted ? 0 : 1);
    gap_name(ui, model, job->tools.check.gap, text, sizeof text);
    (void)view__bench_stepper(ui, bench, view_word(ui, "job.gap"), 0, most, &job->tools.check.gap, text);
    if (view__bench_button(ui, bench, "job.check.ball", 'B', VIEW_SECONDARY)) {
        view_job_do(said, model, JOB_DO_BALL, (const double[]){job->tools.check.gap}, 1);
    }
    const signed char seen = job->gap_seen[job->tools.check.gap];
    if (seen != 0) {
        const view_theme *t = ui->theme;
        const view_rect line = view__bench_next(bench, view_line_of(ui, VIEW_CAPTION) + 6.0F);
        (void)view_tag(ui, line.x, line.y, seen > 0 ? VIEW_ICON_CHECK : VIEW_ICON_CROSS, seen > 0 ? t->good : t->bad,
                       seen > 0 ? t->good_soft : t->bad_soft,
                       view_word(ui, seen > 0 ? "job.gap.holds" : "job.gap.fails"));
    }
}

static void gauge(view_ui *ui, const view_job *job, const view_job_model *model, view_bench *bench, view_job_said *said)
{
    static const char *const words[2] = {"job.pluck", "job.gauge"};
    const int pressed = view__bench_pair(ui, bench, words, "KJ");
    if (pressed != 0) {
        view_job_do(said, model, pressed == 1 ? JOB_DO_PLUCK : JOB_DO_GAUGE, (const double[]){job->row}, 1);
    }
}

static void crimp_gauge(view_ui *ui, const view_job *job, const view_job_model *model, view_bench *bench,
                        view_job_said *said)
{
    if (view__bench_button(ui, bench, "job.check.crimp", 'R', VIEW_SECONDARY)) {
        view_job_do(said, model, JOB_DO_GAUGE_CRIMP, (const double[]){job->row}, 1);
    }
}

/* Three instruments; each keyed action works whichever of them is out, and takes it out. */
static void instruments(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench, view_job_said *said)
{
    const char *const tools[3] = {view_word(ui, "job.check.tool_ball"), view_word(ui, "job.check.tool_gauge"),
                                  view_word(ui, "job.check.tool_crimp")};
    (void)view__bench_few(ui, bench, view_word(ui, "job.check.tool"), tools, 3, &job->tools.check.tool);
    switch (job->tools.check.tool) {
    case VIEW_CHECK_GAUGE:
        gauge(ui, job, model, bench, said);
        break;
    case VIEW_CHECK_CRIMP_GAUGE:
        crimp_gauge(ui, job, model, bench, said);
        break;
    default:
        ball(ui, job, model, bench, said);
        break;
    }
}

static void take_out_by_key(view_ui *ui, view_job *job, const view_job_model *model, view_job_said *said)
{
    if (view_shortcut(ui, 'B')) {
        job->tools.check.tool = VIEW_CHECK_BALL;
        view_job_do(said, model, JOB_DO_BALL, (const double[]){job->tools.check.gap}, 1);
    }
    if (view_shortcut(ui, 'J')) {
        job->tools.check.tool = VIEW_CHECK_GAUGE;
        view_job_do(said, model, JOB_DO_GAUGE, (const double[]){job->row}, 1);
    }
    if (view_shortcut(ui, 'K')) {
        view_job_do(said, model, JOB_DO_PLUCK, (const double[]){job->row}, 1);
    }
    if (view_shortcut(ui, 'R')) {
        job->tools.check.tool = VIEW_CHECK_CRIMP_GAUGE;
        view_job_do(said, model, JOB_DO_GAUGE_CRIMP, (const double[]){job->row}, 1);
    }
}

static void rest_of_bench(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench,
                          view_job_said *said)
{
    if (view__bench_button(ui, bench, "job.check.sight", 'S', VIEW_SECONDARY)) {
        view_job_do(said, model, JOB_DO_SIGHT, NULL, 0);
    }
    if (view__bench_button(ui, bench, "job.check.report", 'F', VIEW_SECONDARY)) {
        job->tools.check.is_reporting = true;
    }
    if (view__bench_button(ui, bench, "job.check.bring_up", 'T', VIEW_SECONDARY)) {
        view__job_choose(job, JOB_STAGE_TENSION, job->row);
    }
}

/* The ball rests before the rows, is pressed in where it was tried, and lies behind them where it went through. */
static void pose(view_ui *ui, view_job *job, const view_job_model *model)
{
    view_hand_check *hand = &job->hand.check;
    const double radius = 0.5 * model->what->setup.ball_m;
    const signed char seen = job->gap_seen[job->tools.check.gap];
    const double aim = seen == 0 ? 1.6 * radius : seen > 0 ? 0.55 * radius : -1.2 * radius;
    const bool is_sighted = job->last_verb == JOB_DO_SIGHT && job->last.refusal == JOB_REFUSE_NONE;
    job->tools.check.sight_tool = is_sighted ? job->tools.check.sight_tool : job->tools.check.tool;
    hand->tool = is_sighted && job->tools.check.tool == job->tools.check.sight_tool
                     ? VIEW_CHECK_SIGHT
                     : (view_check_tool)job->tools.check.tool;
    hand->is_wet = is_sighted && job->last.value[1] != 0.0;
    hand->loose = is_sighted ? (int)job->last.value[2] : 0;
    hand->gap = job->tools.check.gap;
    hand->ball_m = (double)view_anim(ui, view_id_of(ui, "ball"), (float)aim, 0.4F);
    hand->reading_n = job->reading_n[job->row];
    view_push(ui, "gauge", job->row);
    hand->press = (double)view_anim(ui, view_id_of(ui, "press"), hand->reading_n >= 0.0 ? 1.0F : 0.0F, 0.45F);
    view_pop(ui);
    const bool is_crimp_here =
        job->last_verb == JOB_DO_GAUGE_CRIMP && job->last_row == job->row && job->last.refusal == JOB_REFUSE_NONE;
    hand->across_m = is_crimp_here ? job->last.value[0] : 0.0;
    hand->axis = 0;
}

void view_stage_check(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture, view_rect tools,
                      view_job_said *said)
{
    const view_pen pen = view_job_pen(ui, model);
    pose(ui, job, model);
    view_closeup(&pen, picture, JOB_STAGE_CHECK, &model->what->setup, model->state, job->row, &job->hand, NULL);
    view_bench bench = view__bench_begin(ui, tools);
    instruments(ui, job, model, &bench, said);
    rest_of_bench(ui, job, model, &bench, said);
    view__bench_end(ui, &bench);
    take_out_by_key(ui, job, model, said);
}
