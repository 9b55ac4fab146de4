/* Progress: per skill the chance that it is mastered and how the last attempts went, and the totals over attempts. Facts
 * only: nothing is counted that a trainee could lose by resting a week. */
#include "progress.h"

#include <math.h>
#include <string.h>

#include "chart.h"
#include "tautrow/base/text.h"

/* ---- dots: how an attempt went, told by shape as well as by colour ---------------------------------------------- */

typedef enum dot_kind { DOT_RIGHT, DOT_HALF, DOT_LITTLE, DOT_KINDS } dot_kind;

static dot_kind dot_of(double share)
{
    return score_is_right(share) ? DOT_RIGHT : share >= 0.5 ? DOT_HALF : DOT_LITTLE;
}

static void draw_dot(view_ui *ui, float x, float y, dot_kind kind)
{
    const view_theme *theme = ui->theme;
    const float r = 5.0F * ui->text_scale;
    const float stroke = 1.8F * ui->text_scale;
    if (kind == DOT_RIGHT) {
        view_fill_circle(ui->draw, x, y, r, theme->good);
    } else if (kind == DOT_HALF) {
        view_point half[9];
        for (int i = 0; i < 9; i++) {
            const float turn = 3.14159265F * (float)i / 8.0F;
            half[i] = (view_point){x + r * cosf(turn), y + r * sinf(turn)};
        }
        view_fill_poly(ui->draw, half, 9, theme->warn);
        view_stroke_circle(ui->draw, x, y, r - stroke / 2.0F, stroke, theme->warn);
    } else {
        const float d = r * 0.75F;
        view_stroke_line(ui->draw, x - d, y - d, x + d, y + d, stroke, theme->bad);
        view_stroke_line(ui->draw, x - d, y + d, x + d, y - d, stroke, theme->bad);
    }
}

static float dot_pace(const view_ui *ui)
{
    return 15.0F * ui->text_scale;
}

/* Oldest first, the newest at the right edge. */
static void draw_dots(view_ui *ui, view_rect room, const view_skill *skill)
{
    const float pace = dot_pace(ui);
    for (int i = 0; i < skill->dot_count; i++) {
        const float x = room.x + room.w - pace * ((float)(skill->dot_count - i) - 0.5F);
        draw_dot(ui, x, room.y + room.h / 2.0F, dot_of(skill->dot[i]));
    }
}

static float draw_legend(view_ui *ui, view_rect room)
{
    static const char *const keys[DOT_KINDS] = {"progress.dot.right", "progress.dot.half", "progress.dot.little"};
    const float line = view_line_of(ui, VIEW_CAPTION);
    view_flow row = view_row(room, line, VIEW_GAP_3);
    for (int i = 0; i < DOT_KINDS; i++) {
        const char *word = view_word(ui, keys[i]);
        view_rect one = view_row_next(&row, dot_pace(ui) + view_width_of(ui, VIEW_CAPTION, word) + VIEW_GAP_1);
        draw_dot(ui, one.x + dot_pace(ui) / 2.0F, one.y + line / 2.0F, (dot_kind)i);
        view_cut_left(&one, dot_pace(ui) + 2.0F);
        view_label(ui, one, VIEW_CAPTION, VIEW_LEFT, ui->theme->ink_soft, word);
    }
    return view_flow_height(&row);
}

/* ---- skills ----------------------------------------------------------------------------------------------------- */

static float row_height(const view_ui *ui)
{
    return view_line_of(ui, VIEW_STRONG) + view__mastery_bar_height(ui) + VIEW_GAP_1 + VIEW_GAP_2;
}

/* First line: name, dots. Second: bar, chance. */
static void draw_row(view_ui *ui, view_rect room, score_skill which, const view_skill *skill)
{
    char percent[16];
    const view_theme *theme = ui->theme;
    view__percent(skill->known, percent, sizeof percent);
    const float dots = dot_pace(ui) * (float)VIEW_SKILL_DOTS;
    const float used = view_line_of(ui, VIEW_STRONG) + view__mastery_bar_height(ui) + VIEW_GAP_1;
    view_cut_top(&room, fmaxf((room.h - used) / 2.0F, 0.0F));
    view_rect line = view_cut_top(&room, view_line_of(ui, VIEW_STRONG));
    const view_rect past = view_cut_right(&line, dots);
    if (skill->dot_count > 0) {
        draw_dots(ui, past, skill);
    } else {
        view_label(ui, past, VIEW_CAPTION, VIEW_RIGHT, theme->ink_soft, view_word(ui, "progress.not_yet"));
    }
    view_label(ui, line, VIEW_STRONG, VIEW_LEFT, theme->ink, view__skill_name(ui, which));
    view_cut_top(&room, VIEW_GAP_1);
    view_rect below = view_cut_top(&room, view__mastery_bar_height(ui));
    const view_rect number = view_cut_right(&below, view_width_of(ui, VIEW_CAPTION, "100 %") + VIEW_GAP_2);
    view_label(ui, number, VIEW_CAPTION, VIEW_RIGHT, theme->ink, percent);
    view__mastery_bar(ui, below, skill->known);
}

static float draw_skills(view_ui *ui, view_rect room, const view_progress *progress, view_answer_of_screen *answer)
{
    view_flow column = view_column(room, 0.0F); /* all twelve in a window of 800 */
    view_group_begin(ui);
    for (int i = 0; i < SCORE_SKILLS; i++) {
        const view_skill *skill = &progress->skill[i];
        const char *why_not = skill->exercise < 0 ? view_word(ui, "progress.no_exercise") : NULL;
        view_push(ui, "skill", i);
        const view_rect row = view_column_next(&column, row_height(ui));
        const view_item item = view_list_row(ui, row, view__skill_name(ui, (score_skill)i), false, why_not);
        draw_row(ui, view_inset_xy(row, VIEW_GAP_4, VIEW_GAP_1), (score_skill)i, skill);
        view_tooltip(ui, item.react, item.room, why_not != NULL ? why_not : view_word(ui, "progress.exercise"));
        if (item.react.was_pressed && skill->exercise >= 0) {
            *answer = (view_answer_of_screen){VIEW_PRACTISE, skill->exercise, JOB_GUIDED};
        }
        view_pop(ui);
    }
    view_group_end(ui);
    return view_flow_height(&column);
}

static float draw_left(view_ui *ui, view_rect room, const view_progress *progress, view_answer_of_screen *answer)
{
    const float top = room.y;
    view_cut_top(&room, view_heading(ui, room, VIEW_TITLE, view_word(ui, "progress.skills")));
    view_cut_top(&room, draw_legend(ui, room) + VIEW_GAP_2);
    view_cut_top(&room, draw_skills(ui, room, progress, answer));
    return room.y - top;
}

/* ---- totals ----------------------------------------------------------------------------------------------------- */

static void draw_mark(const view__board *board, const view__chart *chart, double at, const view_total *one)
{
    const view_theme *theme = board->pen.theme;
    const float x = view__chart_x(chart, at);
    const float y = view__chart_y(chart, one->total);
    const float r = board->pen.text * 0.38F;
    const float mark = view__chart_y(chart, one->pass_mark);
    const float half = fminf((view__chart_x(chart, at + 1.0) - x) * 0.36F, board->pen.text * 1.4F);
    /* a stem each, no line from one to the next: they may be different exercises */
    view_stroke_line(board->pen.draw, x, view__chart_y(chart, 0.0), x, y, 1.5F, theme->ink_faint);
    view_stroke_line(board->pen.draw, x - half, mark, x + half, mark, 2.0F, theme->ink_soft);
    if (one->passed) {
        view_fill_circle(board->pen.draw, x, y, r, theme->good);
    } else { /* open: not passed, whatever the total */
        view_fill_circle(board->pen.draw, x, y, r, theme->panel);
        view_stroke_circle(board->pen.draw, x, y, r, r * 0.45F, theme->bad);
    }
}

/* Attempts are counted, so only whole numbers stand below, as many as there is room for. */
static void draw_numbers(const view__board *board, const view__chart *chart, int first, int count)
{
    const view_font font = view__font(board, 0.79F, VIEW_REGULAR);
    const float pace = view__chart_x(chart, 1.0) - view__chart_x(chart, 0.0);
    const int step = (int)ceilf(view__width(board, font, "000") / fmaxf(pace, 1.0F));
    for (int i = 0; i < count; i += step) {
        char text[16];
        (void)tr_format(text, sizeof text, "%d", first + i);
        view__say(board, view__chart_x(chart, (double)i), chart->plot.y + chart->plot.h + 5.0F + font.size, font,
                  VIEW_CENTRE, board->pen.theme->ink_soft, text);
    }
}

static void draw_totals(view_ui *ui, view_rect area, const view_progress *progress)
{
    const view__board board = {{ui->draw, ui->theme, ui->metrics, ui->lang, TR_SI, 13.0F * ui->text_scale, false},
                               area};
    view__chart chart = {.x_low = -0.6, .x_high = (double)progress->total_count - 0.4, .y_low = 0.0, .y_high = 108.0};
    view_clip_push(ui->draw, area);
    view__chart_axes(&board, &chart, view_word(ui, "progress.totals"), view_word(ui, "progress.points"),
                     view_word(ui, "progress.attempt"), 8.0F, false);
    for (int i = 0; i < progress->total_count; i++) {
        draw_mark(&board, &chart, (double)i, &progress->total[i]);
    }
    draw_numbers(&board, &chart, progress->attempts - progress->total_count + 1, progress->total_count);
    view_clip_pop(ui->draw);
}

/* What the marks of the chart mean. */
static float draw_key(view_ui *ui, view_rect room)
{
    static const char *const keys[] = {"home.passed", "home.failed", "progress.pass_mark"};
    const view_theme *theme = ui->theme;
    const float line = view_line_of(ui, VIEW_CAPTION);
    const float r = 5.0F * ui->text_scale;
    view_flow row = view_row(room, line, VIEW_GAP_3);
    for (int i = 0; i < 3; i++) {
        const char *word = view_word(ui, keys[i]);
        view_rect one = view_row_next(&row, 4.5F * r + view_width_of(ui, VIEW_CAPTION, word));
        const float x = one.x + 1.5F * r;
        const float y = one.y + line / 2.0F;
        if (i == 0) {
            view_fill_circle(ui->draw, x, y, r, theme->good);
        } else if (i == 1) {
            view_stroke_circle(ui->draw, x, y, r * 0.8F, r * 0.45F, theme->bad);
        } else {
            view_stroke_line(ui->draw, x - 1.4F * r, y, x + 1.4F * r, y, 2.0F, theme->ink_soft);
        }
        view_cut_left(&one, 3.6F * r);
        view_label(ui, one, VIEW_CAPTION, VIEW_LEFT, theme->ink_soft, word);
    }
    return view_flow_height(&row);
}

static float draw_remark(view_ui *ui, view_rect room, const char *key, int count)
{
    char number[16];
    char text[TR_TEXT_CAP];
    const char *args[] = {number};
    if (count == 0) {
        return 0.0F;
    }
    (void)tr_format(number, sizeof number, "%d", count);
    tr_lang_fill(ui->lang, key, args, 1, text, sizeof text);
    return view_paragraph(ui, room, VIEW_CAPTION, ui->theme->ink_soft, text) + VIEW_GAP_2;
}

static float draw_right(view_ui *ui, view_rect room, const view_progress *progress)
{
    const float top = room.y;
    if (progress->total_count > 0) {
        const float height = fminf(fmaxf(ui->screen.h * 0.42F, 200.0F * ui->text_scale), ui->screen.h * 0.7F);
        draw_totals(ui, view_cut_top(&room, height), progress);
        view_cut_top(&room, VIEW_GAP_2);
        view_cut_top(&room, draw_key(ui, room) + VIEW_GAP_3);
    }
    view_cut_top(&room, draw_remark(ui, room, "progress.waiting", progress->waiting));
    view_cut_top(&room, draw_remark(ui, room, "progress.broken", progress->broken));
    view_hairline(ui, room.x, room.y, room.x + room.w, room.y);
    view_cut_top(&room, VIEW_GAP_3);
    view_cut_top(&room, view_paragraph(ui, room, VIEW_BODY, ui->theme->ink_soft, view_word(ui, "progress.note")));
    return room.y - top;
}

/* ---- the screen ------------------------------------------------------------------------------------------------- */

static bool draw_bar(view_ui *ui, view_rect bar, const view_progress *progress)
{
    char title[RECORD_TRAINEE_CAP + 48];
    const bool goes =
        view_icon_button(ui, view_cut_left(&bar, bar.h), VIEW_ICON_BACK, view_word(ui, "ui.back"), NULL) ||
        view_key_take(ui, VIEW_KEY_ESCAPE, 0);
    view_cut_left(&bar, VIEW_GAP_3);
    (void)tr_copy(title, sizeof title, view_word(ui, "progress.title"));
    if (progress->trainee[0] != '\0') {
        (void)tr_append(title, sizeof title, ": %s", progress->trainee);
    }
    view_label(ui, bar, VIEW_HEADING, VIEW_LEFT, ui->theme->ink, title);
    return goes;
}

static void draw_first_time(view_ui *ui, view_rect area, const view_progress *progress, view_answer_of_screen *answer)
{
    const float width = fminf(area.w, 620.0F * ui->text_scale);
    const view_rect all = view_scroll_begin(ui, view_panel(ui, (view_rect){area.x, area.y, width, area.h}), "first");
    view_rect room = view__endless(all);
    const char *key = progress->waiting > 0 ? "progress.reading" : "progress.first";
    view_cut_top(&room, view_paragraph(ui, room, VIEW_BODY, ui->theme->ink, view_word(ui, key)) + VIEW_GAP_3);
    view_cut_top(&room, draw_remark(ui, room, "progress.broken", progress->broken));
    const view_button_spec go = {.look = VIEW_PRIMARY, .icon = VIEW_ICON_SHEET};
    const char *label = view_word(ui, "home.choose");
    const float want = fminf(view_button_width(ui, label, &go), room.w);
    view_rect line = view_cut_top(&room, view_control_height(ui) + VIEW_GAP_2);
    if (view_button_with(ui, view_cut_left(&line, want), label, &go)) {
        answer->wish = VIEW_GO_SCENARIOS;
    }
    view_scroll_end(ui, room.y - all.y);
}

/* Two columns; large text puts one below the other. */
static void draw_both(view_ui *ui, view_rect area, const view_progress *progress, view_answer_of_screen *answer)
{
    if (ui->text_scale > 1.4F) {
        const view_rect all = view_scroll_begin(ui, view_panel(ui, area), "skills");
        view_rect room = view__endless(all);
        view_cut_top(&room, view__practise_next(ui, room, progress, true, answer) + VIEW_GAP_5);
        view_cut_top(&room, draw_left(ui, room, progress, answer) + VIEW_GAP_5);
        view_cut_top(&room, draw_right(ui, room, progress));
        view_scroll_end(ui, room.y - all.y);
        return;
    }
    const view_rect left = view_scroll_begin(ui, view_panel(ui, view_cut_left(&area, area.w * 0.5F)), "skills");
    view_scroll_end(ui, draw_left(ui, view__endless(left), progress, answer));
    view_cut_left(&area, VIEW_GAP_5);
    const view_rect right = view_scroll_begin(ui, view_panel(ui, area), "totals");
    view_rect room = view__endless(right);
    view_cut_top(&room, view__practise_next(ui, room, progress, true, answer) + VIEW_GAP_5);
    view_cut_top(&room, draw_right(ui, room, progress));
    view_scroll_end(ui, room.y - right.y);
}

view_answer_of_screen view_progress_screen(view_ui *ui, const view_progress *progress)
{
    view_answer_of_screen answer = {VIEW_STAY, 0, JOB_GUIDED};
    view_rect all = view_inset_xy(ui->screen, 40.0F, VIEW_GAP_5);
    view_push(ui, "progress", 0);
    if (draw_bar(ui, view_cut_top(&all, view_control_height(ui)), progress)) {
        answer.wish = VIEW_GO_HOME;
    }
    view_cut_top(&all, VIEW_GAP_4);
    if (progress->attempts == 0) {
        draw_first_time(ui, all, progress, &answer);
    } else {
        draw_both(ui, all, progress, &answer);
    }
    view_pop(ui);
    return answer;
}
