/* The report's first part: who did what, what it was worth, and every criterion with its reason. */
#include "report_paper.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/text.h"

static const view_font body = {VIEW__PAPER_BODY, VIEW_REGULAR};
static const view_font strong = {VIEW__PAPER_BODY, VIEW_SEMIBOLD};
static const view_font small = {VIEW__PAPER_SMALL, VIEW_REGULAR};

static const float STAGE_HEIGHT = 18.0F; /* of the band that names a stage in the table */

/* ---- the head --------------------------------------------------------------------------------------------------- */

/* Total and verdict in a frame at the right. */
static void draw_verdict(const view__paper *paper, view_rect box)
{
    const score_card *card = paper->of->card;
    const view_theme *theme = paper->pen.theme;
    const view_font big = {40.0F, VIEW_BOLD};
    const view_color color = card->passed ? theme->good : theme->bad;
    char total[16];
    char mark[16];
    char line[96];
    const char *args[] = {mark};
    score_points_text(card->total, total, sizeof total);
    score_points_text(card->pass_mark, mark, sizeof mark);
    tr_lang_fill(paper->of->lang, "debrief.mark", args, 1, line, sizeof line);
    view_stroke_rect(paper->pen.draw, box, 6.0F, 1.6F, color);
    const float middle = box.x + box.w / 2.0F;
    view_text(paper->pen.draw, middle, box.y + 42.0F, big, VIEW_CENTRE, theme->ink, total);
    const char *verdict = view__paper_word(paper, card->passed ? "home.passed" : "home.failed");
    const view_font bold = {14.0F, VIEW_BOLD};
    const float width = view_text_width(paper->pen.metrics, bold, verdict) + 22.0F;
    view_icon_draw(paper->pen.draw, card->passed ? VIEW_ICON_CHECK : VIEW_ICON_CROSS, middle - width / 2.0F + 8.0F,
                   box.y + 58.0F, 16.0F, color);
    view_text(paper->pen.draw, middle - width / 2.0F + 22.0F, box.y + 63.0F, bold, VIEW_LEFT, color, verdict);
    view_text(paper->pen.draw, middle, box.y + 78.0F, small, VIEW_CENTRE, theme->ink_soft, line);
}

typedef struct fact {
    const char *word_key;
    char text[96];
} fact;

enum { FACTS = 6 };

static void gather_facts(const view__paper *paper, fact out[FACTS])
{
    static const char *const modes[] = {"mode.guided", "mode.practice", "mode.assessment"};
    const record_about *about = record_attempt_about(paper->of->attempt);
    const job_action *actions = NULL;
    const size_t count = record_attempt_actions(paper->of->attempt, &actions);
    const long long seconds = count == 0 ? 0 : (long long)actions[count - 1].at_ms / 1000;
    out[0] = (fact){.word_key = "report.trainee"};
    (void)tr_copy(out[0].text, sizeof out[0].text, about->trainee[0] == '\0' ? "–" : about->trainee);
    out[1] = (fact){.word_key = "report.started"};
    (void)tr_format(out[1].text, sizeof out[1].text, "%.10s", about->started_utc);
    if (strlen(about->started_utc) >= 16) {
        (void)tr_append(out[1].text, sizeof out[1].text, " %.5s UTC", about->started_utc + 11);
    }
    out[2] = (fact){.word_key = "report.mode"};
    (void)tr_copy(out[2].text, sizeof out[2].text, view__paper_word(paper, modes[about->mode]));
    out[3] = (fact){.word_key = "report.duration"};
    (void)tr_format(out[3].text, sizeof out[3].text, "%lld:%02lld", seconds / 60, seconds % 60);
    out[4] = (fact){.word_key = "report.actions"};
    (void)tr_format(out[4].text, sizeof out[4].text, "%zu", count);
    out[5] = (fact){.word_key = "report.version"};
    (void)tr_format(out[5].text, sizeof out[5].text, "tautrow %s", about->version);
}

/* Two columns of facts, row by row; returns the height used. */
static float draw_facts(const view__paper *paper, view_rect room)
{
    fact facts[FACTS];
    gather_facts(paper, facts);
    float y = room.y;
    for (int i = 0; i < FACTS; i += 2) {
        float height = 0.0F;
        for (int j = 0; j < 2; j++) {
            const view_rect column = view_split_x((view_rect){room.x, y, room.w, 54.0F}, 2, j, 18.0F);
            const float label = 90.0F;
            const view_rect value = {column.x + label, y, column.w - label, 54.0F};
            (void)view__paper_text(paper, (view_rect){column.x, y, label - 6.0F, 54.0F}, small,
                                   paper->pen.theme->ink_soft, view__paper_word(paper, facts[i + j].word_key));
            height = fmaxf(height, view__paper_text(paper, value, strong, paper->pen.theme->ink, facts[i + j].text));
        }
        y += height + 4.0F;
    }
    return y - room.y;
}

void view__report_head(view__paper *paper)
{
    const scenario *what = record_attempt_scenario(paper->of->attempt);
    const view_font eyebrow = {VIEW__PAPER_BODY, VIEW_SEMIBOLD};
    const view_font heading = {26.0F, VIEW_BOLD};
    const view_theme *theme = paper->pen.theme;
    const float top = paper->room.y;
    view_rect left = paper->room;
    const view_rect box = {left.x + left.w - 158.0F, left.y, 158.0F, 90.0F};
    left.w -= 178.0F;
    view_cut_top(&left,
                 view__paper_text(paper, left, eyebrow, theme->ink_soft, view__paper_word(paper, "report.title")));
    const char *title = scenario_title_in(&what->title, tr_lang_code(paper->of->lang));
    view_cut_top(&left, view__paper_text(paper, left, heading, theme->ink, title) + 8.0F);
    view_cut_top(&left, draw_facts(paper, left));
    draw_verdict(paper, box);
    view_cut_top(&paper->room, fmaxf(left.y, box.y + box.h) - top + 6.0F);
}

/* ---- stop faults ------------------------------------------------------------------------------------------------ */

static void draw_stop(view__paper *paper, score_stop stop)
{
    char text[TR_TEXT_CAP];
    char line[TR_TEXT_CAP + 64];
    score_stop_reason(paper->of->card, stop, paper->of->lang, text, sizeof text);
    (void)tr_format(line, sizeof line, "%s: %s", view__paper_word(paper, "report.stop"), text);
    const float width = paper->room.w - 54.0F;
    const float height = view__paper_height(paper, width, body, line) + 14.0F;
    view__paper_need(paper, height + 6.0F);
    const view_rect box = view_cut_top(&paper->room, height);
    view_fill_rect(paper->pen.draw, box, 4.0F, paper->pen.theme->bad_soft);
    view_stroke_rect(paper->pen.draw, box, 4.0F, 1.1F, paper->pen.theme->bad);
    view_icon_draw(paper->pen.draw, VIEW_ICON_WARNING, box.x + 20.0F, box.y + box.h / 2.0F, 17.0F,
                   paper->pen.theme->bad);
    (void)view__paper_text(paper, (view_rect){box.x + 38.0F, box.y + 6.0F, width, height}, body, paper->pen.theme->ink,
                           line);
    view_cut_top(&paper->room, 6.0F);
}

/* ---- the table of criteria -------------------------------------------------------------------------------------- */

/* Where the columns of the table lie; x counts from the left margin. */
typedef struct columns {
    float name_x, name_w, reason_x, reason_w, right;
} columns;

static columns columns_of(const view__paper *paper)
{
    const float width = paper->room.w;
    const float name_w = width * 0.25F;
    const float points_w = 56.0F;
    return (columns){24.0F, name_w - 24.0F, name_w + 14.0F, width - name_w - 14.0F - points_w - 10.0F, width - 6.0F};
}

static void draw_table_head(view__paper *paper)
{
    const columns at = columns_of(paper);
    const view_rect row = view_cut_top(&paper->room, 20.0F);
    const view_font font = {VIEW__PAPER_SMALL, VIEW_SEMIBOLD};
    const float baseline = row.y + 14.0F;
    const view_color ink = paper->pen.theme->ink;
    view_text(paper->pen.draw, row.x, baseline, font, VIEW_LEFT, ink, view__paper_word(paper, "report.criterion"));
    view_text(paper->pen.draw, row.x + at.reason_x, baseline, font, VIEW_LEFT, ink,
              view__paper_word(paper, "report.reason"));
    view_text(paper->pen.draw, row.x + at.right, baseline, font, VIEW_RIGHT, ink,
              view__paper_word(paper, "report.points"));
    view_stroke_line(paper->pen.draw, row.x, row.y + row.h, row.x + row.w, row.y + row.h, 1.3F, ink);
}

/* Turns the page for a row of the table; the head of the table stands on every page. */
static void need_in_table(view__paper *paper, float height)
{
    if (paper->room.h < height) {
        view__paper_turn(paper);
        draw_table_head(paper);
    }
}

static void draw_stage(view__paper *paper, job_stage stage)
{
    char key[32];
    (void)tr_format(key, sizeof key, "stage.%s.name", job_stage_name(stage));
    const view_rect row = view_cut_top(&paper->room, STAGE_HEIGHT);
    view_fill_rect(paper->pen.draw, row, 0.0F, paper->pen.theme->inset);
    view_text(paper->pen.draw, row.x + 6.0F, row.y + 14.0F, (view_font){VIEW__PAPER_SMALL, VIEW_SEMIBOLD}, VIEW_LEFT,
              paper->pen.theme->ink, view__paper_word(paper, key));
}

typedef struct table_row {
    char name[96], reason[1024], points[32];
    view_icon icon;
    view_color color;
    float height;
} table_row;

static void compose_row(const view__paper *paper, const score_line *line, table_row *out)
{
    const view_theme *theme = paper->pen.theme;
    const columns at = columns_of(paper);
    const bool is_full = line->points >= line->weight - 1e-9;
    const bool is_none = line->points <= 1e-9;
    char key[48];
    char weight[16];
    (void)tr_format(key, sizeof key, "rubric.%s", scenario_criterion_look(line->criterion)->key);
    (void)tr_copy(out->name, sizeof out->name, view__paper_word(paper, key));
    score_account(line, paper->of->lang, paper->of->system, out->reason, sizeof out->reason);
    score_points_text(line->points, out->points, sizeof out->points);
    score_points_text(line->weight, weight, sizeof weight);
    (void)tr_append(out->points, sizeof out->points, " / %s", weight);
    out->icon = is_full ? VIEW_ICON_CHECK : (is_none ? VIEW_ICON_CROSS : VIEW_ICON_WARNING);
    out->color = is_full ? theme->good : (is_none ? theme->bad : theme->warn);
    out->height = fmaxf(view__paper_height(paper, at.name_w, strong, out->name),
                        view__paper_height(paper, at.reason_w, body, out->reason)) +
                  8.0F;
}

static void draw_row(view__paper *paper, const table_row *what)
{
    const view_theme *theme = paper->pen.theme;
    const columns at = columns_of(paper);
    const view_rect row = view_cut_top(&paper->room, what->height);
    const float top = row.y + 4.0F;
    const float first = view__paper_line(body.size);
    view_icon_draw(paper->pen.draw, what->icon, row.x + 11.0F, top + first / 2.0F, 12.0F, what->color);
    (void)view__paper_text(paper, (view_rect){row.x + at.name_x, top, at.name_w, row.h}, strong, theme->ink,
                           what->name);
    (void)view__paper_text(paper, (view_rect){row.x + at.reason_x, top, at.reason_w, row.h}, body, theme->ink_soft,
                           what->reason);
    view_text(paper->pen.draw, row.x + at.right, top + first * 0.5F + body.size * 0.36F, strong, VIEW_RIGHT, theme->ink,
              what->points);
    view_stroke_line(paper->pen.draw, row.x, row.y + row.h, row.x + row.w, row.y + row.h, 0.5F, theme->ink_faint);
}

static void draw_sum(view__paper *paper)
{
    const columns at = columns_of(paper);
    char sum[32];
    score_points_text(paper->of->card->total, sum, sizeof sum);
    (void)tr_append(sum, sizeof sum, " / 100");
    need_in_table(paper, 26.0F);
    const view_rect row = view_cut_top(&paper->room, 26.0F);
    const view_font font = {14.0F, VIEW_BOLD};
    view_text(paper->pen.draw, row.x, row.y + 18.0F, font, VIEW_LEFT, paper->pen.theme->ink,
              view__paper_word(paper, "report.total"));
    view_text(paper->pen.draw, row.x + at.right, row.y + 18.0F, font, VIEW_RIGHT, paper->pen.theme->ink, sum);
}

/* The lines of one stage under its name. */
static void draw_lines_of(view__paper *paper, job_stage stage)
{
    bool is_named = false;
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        const score_line *line = &paper->of->card->line[i];
        table_row row;
        if (!line->applies || scenario_criterion_look(line->criterion)->stage != stage) {
            continue;
        }
        compose_row(paper, line, &row);
        need_in_table(paper, row.height + (is_named ? 0.0F : STAGE_HEIGHT));
        if (!is_named) {
            draw_stage(paper, stage);
            is_named = true;
        }
        draw_row(paper, &row);
    }
}

static void draw_table(view__paper *paper)
{
    draw_table_head(paper);
    for (int stage = 0; stage < JOB_STAGE_COUNT; stage++) {
        draw_lines_of(paper, (job_stage)stage);
    }
    draw_sum(paper);
}

void view__report_score(view__paper *paper)
{
    const score_card *card = paper->of->card;
    for (int stop = 0; stop < SCORE_STOPS; stop++) {
        if ((card->stops & (1U << stop)) != 0) {
            draw_stop(paper, (score_stop)stop);
        }
    }
    view__paper_title(paper, "report.criteria", 106.0F);
    draw_table(paper);
}
