/* The home screen: go on, start, look back. */
#include "tautrow/view/screens.h"

#include <string.h>

#include "progress.h"
#include "tautrow/base/text.h"

/* ---- the picture at the door: a stretch of finished guard ------------------------------------------------------- */

static void draw_post(view_draw *draw, const view_theme *theme, float x, float top, float bottom, float width)
{
    const view_point side[4] = {{x, top}, {x + width, top}, {x + width, bottom}, {x, bottom}};
    view_fill_sheen(draw, side, 4, false, theme->wood_dark, theme->wood_light);
    for (int i = 1; i < 4; i++) {
        const float at = x + width * (float)i / 4.0F;
        view_stroke_line(draw, at, top + 2.0F, at + (i % 2 == 0 ? 1.5F : -1.5F), bottom, 1.0F,
                         view_fade(theme->wood_dark, 0.45F));
    }
}

static void draw_row(view_draw *draw, const view_theme *theme, float x0, float x1, float y)
{
    const float body = 46.0F;
    const float stud = 16.0F;
    view_stroke_line(draw, x0, y, x1, y, 2.0F, theme->cable);
    view_stroke_line(draw, x0, y, x0 + 2.0F * stud + body, y, 3.5F, theme->steel);
    view_fill_gradient(draw, (view_rect){x0 + stud, y - 4.0F, body, 8.0F}, 2.0F, theme->steel_light, theme->steel_dark);
    view_fill_circle(draw, x0, y, 5.0F, theme->steel_dark);
}

static void draw_guard(view_ui *ui, view_rect area)
{
    const view_theme *theme = ui->theme;
    const float post = 30.0F;
    const float deck = area.y + area.h - 30.0F;
    const float rail = area.y + 40.0F;
    const float left = area.x + area.w * 0.12F;
    const float right = area.x + area.w * 0.86F;
    const int rows = 7;
    view_clip_push(ui->draw, area);
    view_fill_rect(ui->draw, (view_rect){area.x, deck, area.w, 10.0F}, 0.0F, theme->wood);
    for (int i = 0; i < rows; i++) {
        const float y = rail + (deck - rail) * (float)(i + 1) / (float)(rows + 1);
        view_stroke_line(ui->draw, area.x, y, left, y, 2.0F, theme->cable);
        view_stroke_line(ui->draw, right + post, y, area.x + area.w, y, 2.0F, theme->cable);
        draw_row(ui->draw, theme, left + post, right, y);
    }
    draw_post(ui->draw, theme, left, rail - 12.0F, deck, post);
    draw_post(ui->draw, theme, right, rail - 12.0F, deck, post);
    view_fill_gradient(ui->draw, (view_rect){area.x, rail - 16.0F, area.w, 15.0F}, 3.0F, theme->wood_light,
                       theme->wood);
    view_clip_pop(ui->draw);
}

/* ---- left: what to do ------------------------------------------------------------------------------------------- */

static int first_unfinished(const view_home_model *model)
{
    for (int i = 0; i < model->past_count; i++) {
        if (!model->past[i].is_finished && model->past[i].is_readable) {
            return i;
        }
    }
    return -1;
}

/* One big button; returns true when pressed. */
static bool door(view_ui *ui, view_flow *column, const char *key, view_look look, view_icon icon, int shortcut,
                 const char *hint)
{
    const view_button_spec spec = {.look = look, .icon = icon, .key = shortcut, .key_hint = hint};
    const char *label = view_word(ui, key);
    return view_button_with(ui, view_column_next(column, view_control_height(ui) + VIEW_GAP_2), label, &spec);
}

static view_answer_of_screen doors(view_ui *ui, view_rect area, const view_home_model *model)
{
    view_answer_of_screen answer = {VIEW_STAY, 0, JOB_GUIDED};
    const int open = first_unfinished(model);
    view_flow column = view_column(area, VIEW_GAP_3);
    if (open >= 0 && door(ui, &column, "home.continue", VIEW_PRIMARY, VIEW_ICON_PLAY, 'C', "C")) {
        answer = (view_answer_of_screen){VIEW_CONTINUE, open, JOB_GUIDED};
    }
    const view_look start = open >= 0 ? VIEW_SECONDARY : VIEW_PRIMARY;
    if (door(ui, &column, "home.choose", start, VIEW_ICON_SHEET, 'N', "N")) {
        answer.wish = VIEW_GO_SCENARIOS;
    }
    if (model->progress != NULL && door(ui, &column, "home.progress", VIEW_SECONDARY, VIEW_ICON_CHECK, 'P', "P")) {
        answer.wish = VIEW_GO_PROGRESS;
    }
    if (door(ui, &column, "home.settings", VIEW_SECONDARY, VIEW_ICON_GEAR, 'S', "S")) {
        answer.wish = VIEW_GO_SETTINGS;
    }
    if (door(ui, &column, "home.quit", VIEW_QUIET, VIEW_ICON_NONE, 'Q', "Q")) {
        answer.wish = VIEW_QUIT;
    }
    return answer;
}

static float doors_height(const view_ui *ui, const view_home_model *model)
{
    const float one = view_control_height(ui) + VIEW_GAP_2;
    const float count = 3.0F + (first_unfinished(model) >= 0 ? 1.0F : 0.0F) + (model->progress != NULL ? 1.0F : 0.0F);
    return count * one + (count - 1.0F) * VIEW_GAP_3;
}

static view_answer_of_screen left_side(view_ui *ui, view_rect area, const view_home_model *model)
{
    const view_rect all = view_scroll_begin(ui, area, "doors");
    view_rect rest = all;
    view_cut_top(&rest, view_heading(ui, rest, VIEW_DISPLAY, "tautrow"));
    view_cut_top(&rest, view_paragraph(ui, rest, VIEW_BODY, ui->theme->ink_soft, view_word(ui, "home.tagline")));
    view_cut_top(&rest, VIEW_GAP_4);
    const float used = rest.y - all.y;
    const float buttons = doors_height(ui, model);
    const float spare = area.h - used - buttons - VIEW_GAP_5;
    if (spare >= 120.0F) {
        const view_rect frame = view_cut_top(&rest, spare);
        view_shadow(ui, frame, VIEW_RADIUS_CARD, 2.0F);
        view_fill_rect(ui->draw, frame, VIEW_RADIUS_CARD, ui->theme->panel);
        draw_guard(ui, view_inset(frame, 1.0F));
        view_stroke_rect(ui->draw, frame, VIEW_RADIUS_CARD, 1.0F, ui->theme->panel_edge);
        view_cut_top(&rest, VIEW_GAP_5);
    }
    const view_answer_of_screen answer = doors(ui, rest, model);
    view_scroll_end(ui, rest.y - all.y + buttons);
    return answer;
}

/* ---- right: the past -------------------------------------------------------------------------------------------- */

static void past_words(const view_ui *ui, const view_past *past, char *out, size_t cap)
{
    static const char *const modes[] = {"home.guided", "home.practice", "home.assessment"};
    char date[17];
    (void)tr_format(date, sizeof date, "%.10s", past->started_utc);
    (void)tr_format(out, cap, "%s · %s", date, view_word(ui, modes[past->mode]));
}

/* Score and verdict at the right of an item; an unfinished one says so. */
static void past_verdict(view_ui *ui, view_rect room, const view_past *past)
{
    const view_theme *theme = ui->theme;
    const char *word = view_word(ui, past->is_finished ? (past->passed ? "home.passed" : "home.failed") : "home.open");
    const float wide = view_width_of(ui, VIEW_CAPTION, word) + 40.0F * ui->text_scale;
    const float y = room.y + room.h / 2.0F - 12.0F * ui->text_scale;
    const float x = room.x + room.w - wide;
    if (!past->is_finished) {
        (void)view_tag(ui, x, y, VIEW_ICON_CLOCK, theme->accent, theme->accent_soft, word);
        return;
    }
    (void)view_tag(ui, x, y, past->passed ? VIEW_ICON_CHECK : VIEW_ICON_CROSS, past->passed ? theme->good : theme->bad,
                   past->passed ? theme->good_soft : theme->bad_soft, word);
    char total[16];
    score_points_text(past->total, total, sizeof total);
    view_label(ui, (view_rect){x - 64.0F * ui->text_scale, room.y, 56.0F * ui->text_scale, room.h}, VIEW_TITLE,
               VIEW_RIGHT, theme->ink, total);
}

/* What it was and when at the left, how it went at the right; below where the room is too narrow for both. */
static void past_row(view_ui *ui, view_rect room, const view_past *past, bool is_narrow)
{
    char words[96];
    if (is_narrow) {
        past_verdict(ui, view_cut_bottom(&room, view_control_height(ui)), past);
    } else {
        past_verdict(ui, room, past);
        view_cut_right(&room, 190.0F * ui->text_scale);
    }
    past_words(ui, past, words, sizeof words);
    view_label(ui, view_cut_top(&room, view_line_of(ui, VIEW_STRONG)), VIEW_STRONG, VIEW_LEFT, ui->theme->ink,
               past->title);
    view_label(ui, room, VIEW_CAPTION, VIEW_LEFT, ui->theme->ink_soft, words);
}

static float past_list(view_ui *ui, view_rect list, const view_home_model *model, view_answer_of_screen *answer)
{
    const bool is_narrow = list.w < 400.0F * ui->text_scale;
    const float height = view_line_of(ui, VIEW_STRONG) + view_line_of(ui, VIEW_CAPTION) + VIEW_GAP_4 +
                         (is_narrow ? view_control_height(ui) : 0.0F);
    view_flow column = view_column(list, VIEW_GAP_1);
    view_group_begin(ui);
    for (int i = 0; i < model->past_count; i++) {
        const view_past *past = &model->past[i];
        view_push(ui, "past", i);
        const view_item item = view_list_row(ui, view_column_next(&column, height), past->title, false,
                                             past->is_readable ? NULL : view_word(ui, "home.unreadable"));
        past_row(ui, item.room, past, is_narrow);
        if (item.react.was_pressed) {
            answer->wish = past->is_finished ? VIEW_OPEN_DEBRIEF : VIEW_CONTINUE;
            answer->index = i;
        }
        view_pop(ui);
    }
    view_group_end(ui);
    return view_flow_height(&column);
}

/* One scroll area: what to practise next, then the attempts. */
static view_answer_of_screen right_side(view_ui *ui, view_rect area, const view_home_model *model)
{
    view_answer_of_screen answer = {VIEW_STAY, 0, JOB_GUIDED};
    const view_rect all = view_scroll_begin(ui, view_panel(ui, area), "past");
    view_rect room = view__endless(all);
    if (model->progress != NULL && (model->past_count > 0 || model->progress->attempts > 0)) {
        view_cut_top(&room, view__practise_next(ui, room, model->progress, &answer) + VIEW_GAP_4);
        view_hairline(ui, room.x, room.y, room.x + room.w, room.y);
        view_cut_top(&room, VIEW_GAP_4);
    }
    view_cut_top(&room, view_heading(ui, room, VIEW_TITLE, view_word(ui, "home.past")));
    if (model->trouble != NULL) {
        const char *word = view_word(ui, "home.not_kept");
        view_cut_top(&room, view_banner(ui, room, word, model->trouble) + VIEW_GAP_3);
    }
    if (model->past_count == 0) {
        view_cut_top(&room, view_paragraph(ui, room, VIEW_BODY, ui->theme->ink_soft, view_word(ui, "home.none")));
    } else {
        view_cut_top(&room, past_list(ui, room, model, &answer));
    }
    view_scroll_end(ui, room.y - all.y);
    return answer;
}

view_answer_of_screen view_home(view_ui *ui, const view_home_model *model)
{
    view_rect all = view_inset_xy(ui->screen, 40.0F, 32.0F);
    const float left = all.w * (ui->text_scale > 1.4F ? 0.5F : 0.44F);
    view_push(ui, "home", 0);
    const view_answer_of_screen doing = left_side(ui, view_cut_left(&all, left), model);
    view_cut_left(&all, 32.0F);
    const view_answer_of_screen looking = right_side(ui, all, model);
    view_pop(ui);
    return doing.wish != VIEW_STAY ? doing : looking;
}
