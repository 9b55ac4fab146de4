/* Reading: the job sheet as a sheet of paper, and the three questions that show whether it was read. */
#include "stage_hand.h"

#include <math.h>

#include "tautrow/base/text.h"

/* ---- the sheet -------------------------------------------------------------------------------------------------- */

typedef struct paper {
    view_ui *ui;
    const view_job_model *model;
    view_rect room;
    float y;
} paper;

static void say(paper *sheet, view_type type, view_color ink, const char *text)
{
    const view_rect rect = {sheet->room.x, sheet->room.y + sheet->y, sheet->room.w, 0.0F};
    sheet->y += view_paragraph(sheet->ui, rect, type, ink, text) + VIEW_GAP_1;
}

/* "Target .......... 200 lbf": the words at the left, the value in a column of its own, below one another where it is
 * narrow. */
static void entry(paper *sheet, const char *word_key, const char *value)
{
    view_ui *ui = sheet->ui;
    const char *word = view_word(ui, word_key);
    const float column = fminf(sheet->room.w * 0.36F, 170.0F * ui->text_scale);
    const bool is_beside = view_width_of(ui, VIEW_BODY, word) <= column - VIEW_GAP_2;
    const float x = is_beside ? column : VIEW_GAP_4;
    view_rect rect = {sheet->room.x, sheet->room.y + sheet->y, column, 0.0F};
    if (!is_beside) {
        rect.w = sheet->room.w;
    }
    const float left = view_paragraph(ui, rect, VIEW_BODY, ui->theme->ink_soft, word);
    rect = (view_rect){sheet->room.x + x, rect.y + (is_beside ? 0.0F : left), sheet->room.w - x, 0.0F};
    const float right = view_paragraph(ui, rect, VIEW_STRONG, ui->theme->ink, value);
    sheet->y += (is_beside ? fmaxf(left, right) : left + right) + 2.0F;
}

static void entry_number(paper *sheet, const char *word_key, double si, tr_dim dim)
{
    char value[48];
    entry(sheet, word_key, view_job_quantity(sheet->model, si, dim, value));
}

static void entry_fine(paper *sheet, const char *word_key, double si)
{
    char value[48];
    tr_quantity_text(si, TR_DIM_LENGTH, sheet->model->system, TR_FINE, value, sizeof value);
    entry(sheet, word_key, value);
}

static int own_rows(const job_setup *setup, char *out, size_t cap)
{
    int count = 0;
    out[0] = '\0';
    for (int i = 0; i < setup->structure.row_count; i++) {
        if (setup->is_trainees[i]) {
            tr_append(out, cap, "%s%d", count > 0 ? ", " : "", i + 1);
            count++;
        }
    }
    return count;
}

static void rows_entry(paper *sheet)
{
    const job_setup *setup = &sheet->model->what->setup;
    char rows[192];
    char all[16];
    char text[TR_TEXT_CAP];
    (void)own_rows(setup, rows, sizeof rows);
    tr_format(all, sizeof all, "%d", setup->structure.row_count);
    const char *const args[] = {rows, all};
    tr_lang_fill(sheet->ui->lang, "job.sheet.rows_value", args, 2, text, sizeof text);
    entry(sheet, "job.sheet.rows", text);
}

/* A height is not torn apart at the end of a line: no-break spaces inside it. */
static void append_whole(char *out, size_t cap, int row, const char *value)
{
    tr_append(out, cap, "%d:\xC2\xA0", row);
    for (const char *c = value; *c != '\0'; c++) {
        if (*c == ' ') {
            tr_append(out, cap, "\xC2\xA0");
        } else {
            tr_append(out, cap, "%c", *c);
        }
    }
}

static void heights_entry(paper *sheet)
{
    const mech_structure *run = &sheet->model->what->setup.structure;
    char text[1024] = "";
    for (int i = 0; i < run->row_count; i++) {
        char value[48];
        view_job_quantity(sheet->model, run->row_height_m[i], TR_DIM_LENGTH, value);
        tr_append(text, sizeof text, "%s", i > 0 ? "; " : "");
        append_whole(text, sizeof text, i + 1, value);
    }
    entry(sheet, "job.sheet.heights", text);
}

static void target_entry(paper *sheet)
{
    const job_setup *setup = &sheet->model->what->setup;
    char target[48];
    char share[48];
    char text[128];
    view_job_quantity(sheet->model, setup->target_n, TR_DIM_FORCE, target);
    view_job_quantity(sheet->model, setup->tolerance, TR_DIM_RATIO, share);
    tr_format(text, sizeof text, "%s \xC2\xB1 %s", target, share);
    entry(sheet, "job.sheet.target", text);
}

static void order_entries(paper *sheet)
{
    static const char *const rules[] = {"order.middle_out", "order.top_down", "order.bottom_up", "order.outside_in",
                                        "order.list"};
    const job_setup *setup = &sheet->model->what->setup;
    char text[TR_TEXT_CAP];
    tr_copy(text, sizeof text, view_word(sheet->ui, rules[setup->order_rule]));
    for (int i = 0; i < setup->order_count && setup->order_rule == MECH_ORDER_LIST; i++) {
        tr_append(text, sizeof text, "%s%d", i > 0 ? ", " : " ", setup->order[i] + 1);
    }
    entry(sheet, "job.sheet.order", text);
    char shares[128] = "";
    for (int i = 0; i < setup->rounds; i++) {
        char share[48];
        view_job_quantity(sheet->model, setup->round_share[i], TR_DIM_RATIO, share);
        tr_append(shares, sizeof shares, "%s%s", i > 0 ? ", " : "", share);
    }
    const char *const args[] = {shares};
    tr_lang_fill(sheet->ui->lang, "job.sheet.rounds_value", args, 1, text, sizeof text);
    entry(sheet, "job.sheet.rounds", text);
}

static void ball_entry(paper *sheet)
{
    const job_setup *setup = &sheet->model->what->setup;
    char ball[48];
    char push[48];
    char text[128];
    view_job_quantity(sheet->model, setup->ball_m, TR_DIM_LENGTH, ball);
    view_job_quantity(sheet->model, setup->ball_push_n, TR_DIM_FORCE, push);
    const char *const args[] = {ball, push};
    tr_lang_fill(sheet->ui->lang, "job.sheet.ball_value", args, 2, text, sizeof text);
    entry(sheet, "job.sheet.ball", text);
}

static void after_entry(paper *sheet)
{
    char days[48];
    char text[TR_TEXT_CAP];
    if (sheet->model->what->setup.after.days > 0.0) {
        tr_format(days, sizeof days, "%.0f", sheet->model->what->setup.after.days);
        const char *const args[] = {days};
        tr_lang_fill(sheet->ui->lang, "job.sheet.after_value", args, 1, text, sizeof text);
        entry(sheet, "job.sheet.after", text);
    }
}

static void sheet_text(paper *sheet)
{
    const scenario *what = sheet->model->what;
    const job_setup *setup = &what->setup;
    const view_theme *t = sheet->ui->theme;
    const char *code = tr_lang_code(sheet->ui->lang);
    say(sheet, VIEW_TITLE, t->ink, scenario_title_in(&what->title, code));
    say(sheet, VIEW_BODY, t->ink_soft, scenario_title_in(&what->place, code));
    say(sheet, VIEW_BODY, t->ink, scenario_story_in(&what->story, code));
    sheet->y += VIEW_GAP_2;
    view_hairline(sheet->ui, sheet->room.x, sheet->room.y + sheet->y, sheet->room.x + sheet->room.w,
                  sheet->room.y + sheet->y);
    sheet->y += VIEW_GAP_2;
    rows_entry(sheet);
    heights_entry(sheet);
    entry(sheet, "job.sheet.posts", scenario_title_in(&what->species, code));
    entry(sheet, "job.sheet.strand", scenario_title_in(&what->strand, code));
    entry_fine(sheet, "job.sheet.bit", setup->bit[setup->right_bit].diameter_m);
    entry_number(sheet, "job.sheet.depth", setup->hole_depth_m, TR_DIM_LENGTH);
    entry_number(sheet, "job.sheet.hand_pull", setup->hand_pull_n, TR_DIM_FORCE);
    target_entry(sheet);
    entry_number(sheet, "job.sheet.limit", setup->row_limit_n, TR_DIM_FORCE);
    order_entries(sheet);
    ball_entry(sheet);
    after_entry(sheet);
    entry_number(sheet, "job.sheet.par", setup->par_time_s, TR_DIM_TIME);
    sheet->y += VIEW_GAP_2;
    say(sheet, VIEW_BODY, t->ink, view_word(sheet->ui, "caution.sheet"));
    say(sheet, VIEW_CAPTION, t->ink_soft, view_word(sheet->ui, "caution.estimate"));
}

static void show_sheet(view_ui *ui, const view_job_model *model, view_rect rect)
{
    view_shadow(ui, rect, 2.0F, 5.0F);
    view_fill_rect(ui->draw, rect, 2.0F, view_mix(ui->theme->panel, ui->theme->page, 0.35F));
    view_stroke_rect(ui->draw, rect, 2.0F, 1.0F, ui->theme->panel_edge);
    const view_rect room = view_scroll_begin(ui, view_inset(rect, 4.0F), "sheet");
    paper sheet = {ui, model, {room.x + VIEW_GAP_3, room.y + VIEW_GAP_2, room.w - 2.0F * VIEW_GAP_3, room.h}, 0.0F};
    sheet_text(&sheet);
    view_scroll_end(ui, sheet.y + 2.0F * VIEW_GAP_2);
}

/* Folded: it has to be opened first. */
static void folded_sheet(view_ui *ui, const view_job_model *model, view_rect rect, view_job_said *said)
{
    const char *label = view_word(ui, "job.open_sheet");
    const view_button_spec spec = {.look = VIEW_PRIMARY, .icon = VIEW_ICON_SHEET, .key = 'O', .key_hint = "O"};
    const float height = fminf(rect.h, 150.0F);
    const view_rect sheet = view_centre_in(rect, fminf(rect.w, 220.0F * ui->text_scale + 140.0F), height);
    view_shadow(ui, sheet, 2.0F, 6.0F);
    view_fill_rect(ui->draw, sheet, 2.0F, view_mix(ui->theme->panel, ui->theme->page, 0.35F));
    view_stroke_rect(ui->draw, sheet, 2.0F, 1.0F, ui->theme->panel_edge);
    const view_point fold[3] = {{sheet.x + sheet.w - 26.0F, sheet.y},
                                {sheet.x + sheet.w, sheet.y + 26.0F},
                                {sheet.x + sheet.w - 26.0F, sheet.y + 26.0F}};
    view_fill_poly(ui->draw, fold, 3, ui->theme->inset);
    view_stroke_line(ui->draw, fold[0].x, fold[0].y, fold[1].x, fold[1].y, 1.0F, ui->theme->panel_edge);
    const float width = fminf(view_button_width(ui, label, &spec), sheet.w - 2.0F * VIEW_GAP_2);
    if (view_button_with(ui, view_centre_in(sheet, width, view_control_height(ui)), label, &spec)) {
        view_job_do(said, model, JOB_DO_OPEN_SHEET, NULL, 0);
    }
}

/* ---- the questions ---------------------------------------------------------------------------------------------- */

static void bit_name(const view_job_model *model, int bit, char out[48])
{
    tr_quantity_text(model->what->setup.bit[bit].diameter_m, TR_DIM_LENGTH, model->system, TR_FINE, out, 48);
}

static void choose_bit(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench)
{
    char names[JOB_MAX_BITS][48];
    const char *options[JOB_MAX_BITS];
    const int count = model->what->setup.bit_count;
    for (int i = 0; i < count; i++) {
        bit_name(model, i, names[i]);
        options[i] = names[i];
    }
    (void)view__bench_few(ui, bench, view_word(ui, "job.bit"), options, count, &job->tools.read.answer[0]);
}

static void choose_number(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench, int question)
{
    const int rows = model->what->setup.structure.row_count;
    int *answer = &job->tools.read.answer[question];
    char text[16];
    const int least = question == 1 ? 1 : 0;
    *answer = *answer < least ? least : *answer;
    tr_format(text, sizeof text, "%d", *answer);
    (void)view__bench_stepper(ui, bench, view_word(ui, question == 1 ? "job.row" : "job.rows"), least, rows, answer,
                              text);
}

static bool is_right(const job_setup *setup, int question, int answer)
{
    char rows[192];
    if (question == 0) {
        return answer == setup->right_bit;
    }
    return question == 1 ? setup->order_count == 0 || answer == setup->order[0] + 1
                         : answer == own_rows(setup, rows, sizeof rows);
}

/* What was answered; guided mode says whether it is right. Returns the width of it, 0 = not answered yet. */
static float given(view_ui *ui, const view_job_model *model, view_rect line, int question)
{
    const int answer = model->state->answer[question];
    char value[48];
    char text[128];
    if (answer < 0) {
        return 0.0F;
    }
    if (question == 0) {
        bit_name(model, answer < model->what->setup.bit_count ? answer : 0, value);
    } else {
        tr_format(value, sizeof value, "%d", answer);
    }
    const char *const args[] = {value};
    tr_lang_fill(ui->lang, "job.answered", args, 1, text, sizeof text);
    const float y = line.y + (line.h - view_line_of(ui, VIEW_CAPTION) - 6.0F) / 2.0F;
    const view_theme *t = ui->theme;
    if (!view__job_is_guided(model)) {
        return view_tag(ui, line.x, y, VIEW_ICON_NONE, t->ink, t->inset, text);
    }
    const bool right = is_right(&model->what->setup, question, answer);
    return view_tag(ui, line.x, y, right ? VIEW_ICON_CHECK : VIEW_ICON_CROSS, right ? t->good : t->bad,
                    right ? t->good_soft : t->bad_soft, text);
}

/* What was answered stands beside the button, so that the questions below stay where they are; under it only where the
 * line is too narrow for both. */
static bool answer_line(view_ui *ui, const view_job_model *model, view_bench *bench, int question)
{
    const char *label = view_word(ui, "job.answer");
    view_rect line = view__bench_line(ui, bench);
    const float taken = given(ui, model, line, question);
    if (taken > 0.0F && line.w - taken - VIEW_GAP_2 < view_button_width(ui, label, NULL)) {
        line = view__bench_line(ui, bench);
    } else if (taken > 0.0F) {
        view_cut_left(&line, taken + VIEW_GAP_2);
    }
    return view_button(ui, line, label, VIEW_SECONDARY);
}

static void ask(view_ui *ui, view_job *job, const view_job_model *model, view_bench *bench, int question,
                view_job_said *said)
{
    static const char *const questions[] = {"job.question.bit", "job.question.first", "job.question.rows"};
    view_push(ui, "question", question);
    view__bench_label(ui, bench, view_word(ui, questions[question]));
    if (question == 0) {
        choose_bit(ui, job, model, bench);
    } else {
        choose_number(ui, job, model, bench, question);
    }
    if (answer_line(ui, model, bench, question)) {
        view_job_do(said, model, JOB_DO_ANSWER, (const double[]){question, job->tools.read.answer[question]}, 2);
    }
    bench->column.y += VIEW_GAP_2;
    view_pop(ui);
}

void view_stage_read(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture, view_rect tools,
                     view_job_said *said)
{
    if (!model->state->is_sheet_open) {
        folded_sheet(ui, model, picture, said);
        view_bench bench = view__bench_begin(ui, tools);
        view__bench_label(ui, &bench, view_word(ui, "job.sheet.closed"));
        view__bench_end(ui, &bench);
        return;
    }
    show_sheet(ui, model, picture);
    view_bench bench = view__bench_begin(ui, tools);
    for (int question = 0; question < 3; question++) {
        ask(ui, job, model, &bench, question, said);
    }
    view__bench_end(ui, &bench);
}
