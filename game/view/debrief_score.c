/* The left of the debrief: total, verdict, stop faults, and every criterion with its reason. */
#include "debrief.h"

#include <string.h>

#include "tautrow/base/text.h"

/* ---- the head --------------------------------------------------------------------------------------------------- */

static float draw_total(view_ui *ui, view_rect room, const record_attempt *attempt, const score_card *card)
{
    const view_theme *theme = ui->theme;
    const record_about *about = record_attempt_about(attempt);
    const float top = room.y;
    char total[16];
    char mark[16];
    char line[128];
    score_points_text(card->total, total, sizeof total);
    score_points_text(card->pass_mark, mark, sizeof mark);
    const char *args[] = {mark};
    view_rect big = view_cut_top(&room, view_line_of(ui, VIEW_DISPLAY));
    const view_rect number = view_cut_left(&big, view_width_of(ui, VIEW_DISPLAY, total) + VIEW_GAP_3);
    view_label(ui, number, VIEW_DISPLAY, VIEW_LEFT, theme->ink, total);
    (void)view_tag(ui, big.x, big.y + big.h / 2.0F - 12.0F * ui->text_scale,
                   card->passed ? VIEW_ICON_CHECK : VIEW_ICON_CROSS, card->passed ? theme->good : theme->bad,
                   card->passed ? theme->good_soft : theme->bad_soft,
                   view_word(ui, card->passed ? "home.passed" : "home.failed"));
    tr_lang_fill(ui->lang, "debrief.mark", args, 1, line, sizeof line);
    if (about->trainee[0] != '\0') {
        (void)tr_append(line, sizeof line, " · %s", about->trainee);
    }
    (void)tr_append(line, sizeof line, " · %.10s", about->started_utc);
    view_cut_top(&room, view_paragraph(ui, room, VIEW_CAPTION, theme->ink_soft, line));
    return room.y - top + VIEW_GAP_3;
}

/* One stop fault: what ends in a fail whatever the score. */
static float draw_stop(view_ui *ui, view_rect room, const score_card *card, score_stop stop)
{
    char text[TR_TEXT_CAP];
    score_stop_reason(card, stop, ui->lang, text, sizeof text);
    const float side = 20.0F * ui->text_scale;
    view_rect inner = view_inset_xy(room, VIEW_GAP_3, VIEW_GAP_2);
    const float text_height = view_paragraph_height(ui, inner.w - side - VIEW_GAP_2, VIEW_BODY, text);
    const view_rect ground = {room.x, room.y, room.w, text_height + 2.0F * VIEW_GAP_2};
    view_fill_rect(ui->draw, ground, VIEW_RADIUS, ui->theme->bad_soft);
    view_stroke_rect(ui->draw, ground, VIEW_RADIUS, 1.0F, ui->theme->bad);
    view_icon_draw(ui->draw, VIEW_ICON_WARNING, inner.x + side / 2.0F, inner.y + side / 2.0F, side, ui->theme->bad);
    view_cut_left(&inner, side + VIEW_GAP_2);
    (void)view_paragraph(ui, inner, VIEW_BODY, ui->theme->ink, text);
    return ground.h + VIEW_GAP_2;
}

/* ---- the criteria ----------------------------------------------------------------------------------------------- */

static float draw_stage_head(view_ui *ui, view_rect room, job_stage stage)
{
    char key[32];
    (void)tr_format(key, sizeof key, "stage.%s.name", job_stage_name(stage));
    view_cut_top(&room, VIEW_GAP_3);
    view_label(ui, view_cut_top(&room, view_line_of(ui, VIEW_CAPTION)), VIEW_CAPTION, VIEW_LEFT, ui->theme->ink_soft,
               view_word(ui, key));
    view_hairline(ui, room.x, room.y, room.x + room.w, room.y);
    return VIEW_GAP_3 + view_line_of(ui, VIEW_CAPTION) + VIEW_GAP_2;
}

/* Sign and points stand beside the first line of the name. Returns the height used. */
static float draw_line_head(view_ui *ui, view_rect room, const score_line *line)
{
    const view_theme *theme = ui->theme;
    const bool is_full = line->points >= line->weight - 1e-9;
    const bool is_none = line->points <= 1e-9;
    const view_color color = is_full ? theme->good : (is_none ? theme->bad : theme->warn);
    const float side = 16.0F * ui->text_scale;
    char key[48];
    char points[32];
    const view_icon icon = is_full ? VIEW_ICON_CHECK : (is_none ? VIEW_ICON_CROSS : VIEW_ICON_WARNING);
    view_rect name = room;
    view_rect row = view_cut_top(&room, view_line_of(ui, VIEW_STRONG));
    view_icon_draw(ui->draw, icon, row.x + side / 2.0F, row.y + row.h / 2.0F, side, color);
    view_cut_left(&name, side + VIEW_GAP_2);
    char weight[16];
    score_points_text(line->points, points, sizeof points);
    score_points_text(line->weight, weight, sizeof weight);
    (void)tr_append(points, sizeof points, " / %s", weight);
    const float width = view_width_of(ui, VIEW_STRONG, points) + VIEW_GAP_1;
    view_label(ui, view_cut_right(&row, width), VIEW_STRONG, VIEW_RIGHT, color, points);
    view_cut_right(&name, width + VIEW_GAP_2);
    (void)tr_format(key, sizeof key, "rubric.%s", scenario_criterion_look(line->criterion)->key);
    return view_paragraph(ui, name, VIEW_STRONG, theme->ink, view_word(ui, key));
}

static float draw_line(view_ui *ui, view_rect room, const score_line *line, tr_system system)
{
    char text[1024];
    const float top = room.y;
    const float indent = 16.0F * ui->text_scale + VIEW_GAP_2;
    view_cut_top(&room, draw_line_head(ui, room, line));
    view_cut_left(&room, indent);
    score_account(line, ui->lang, system, text, sizeof text);
    view_cut_top(&room, view_paragraph(ui, room, VIEW_CAPTION, ui->theme->ink_soft, text) + VIEW_GAP_2);
    return room.y - top;
}

static bool is_told(const score_line *line, bool lost)
{
    return line->applies && (line->points < line->weight - 1e-9) == lost;
}

/* The lines of one stage under its name, whatever the order of the rubric. */
static void draw_stage(view_ui *ui, view_rect *rest, const score_card *card, bool lost, job_stage stage,
                       tr_system system)
{
    bool is_named = false;
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        const score_line *line = &card->line[i];
        if (!is_told(line, lost) || scenario_criterion_look(line->criterion)->stage != stage) {
            continue;
        }
        if (!is_named) {
            view_cut_top(rest, draw_stage_head(ui, *rest, stage));
            is_named = true;
        }
        view_cut_top(rest, draw_line(ui, *rest, line, system));
    }
}

static bool any(const score_card *card, bool lost)
{
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        if (is_told(&card->line[i], lost)) {
            return true;
        }
    }
    return false;
}

/* Slips first: what was lost is what one wants to read; then all that went well. */
static void draw_part(view_ui *ui, view_rect *rest, const score_card *card, bool lost, tr_system system)
{
    if (any(card, lost)) {
        view_cut_top(rest, VIEW_GAP_3);
        view_label(ui, view_cut_top(rest, view_line_of(ui, VIEW_TITLE)), VIEW_TITLE, VIEW_LEFT, ui->theme->ink,
                   view_word(ui, lost ? "debrief.lost" : "debrief.kept"));
        for (int stage = 0; stage < JOB_STAGE_COUNT; stage++) {
            draw_stage(ui, rest, card, lost, (job_stage)stage, system);
        }
    }
}

void view_debrief_score(view_ui *ui, view_rect area, const record_attempt *attempt, const score_card *card,
                        tr_system system)
{
    const view_rect all = view_scroll_begin(ui, view_panel(ui, area), "score");
    view_rect rest = all;
    rest.h = 1.0e6F; /* as far down as needed: the scroll area cuts what is out of sight */
    view_cut_top(&rest, draw_total(ui, rest, attempt, card));
    for (int stop = 0; stop < SCORE_STOPS; stop++) {
        if ((card->stops & (1U << stop)) != 0) {
            view_cut_top(&rest, draw_stop(ui, rest, card, (score_stop)stop));
        }
    }
    draw_part(ui, &rest, card, true, system);
    draw_part(ui, &rest, card, false, system);
    view_scroll_end(ui, rest.y - all.y);
}
