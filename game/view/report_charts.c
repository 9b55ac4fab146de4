/* The report's second part: where every row ended, the signatures, and the pictures of the debrief laid out for paper. */
#include "report_paper.h"

#include "debrief.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"

static const view_font body = {VIEW__PAPER_BODY, VIEW_REGULAR};
static const view_font small = {VIEW__PAPER_SMALL, VIEW_REGULAR};

static const float CHART_GAP = 18.0F;

static view_rect chart_room(view__paper *paper, float height)
{
    view__paper_need(paper, height);
    const view_rect room = view_cut_top(&paper->room, height);
    view_cut_top(&paper->room, CHART_GAP);
    return room;
}

/* ---- where every row ended -------------------------------------------------------------------------------------- */

static void draw_row_end(const view__paper *paper, view_rect cell, int row)
{
    const job_setup *setup = &record_attempt_scenario(paper->of->attempt)->setup;
    const double tension_n = paper->of->card->final_tension_n[row];
    const double share = setup->target_n > 0.0 ? tension_n / setup->target_n : 0.0;
    const view_icon icon = fabs(share - 1.0) <= setup->tolerance ? VIEW_ICON_CHECK
                           : share < 1.0                         ? VIEW_ICON_MINUS
                                                                 : VIEW_ICON_PLUS;
    const view_color color = icon == VIEW_ICON_CHECK   ? paper->pen.theme->good
                             : icon == VIEW_ICON_MINUS ? paper->pen.theme->warn
                                                       : paper->pen.theme->bad;
    char digits[8];
    char force[32];
    char text[96];
    const char *args[] = {digits};
    (void)tr_format(digits, sizeof digits, "%d", row + 1);
    tr_lang_fill(paper->of->lang, "pic.row", args, 1, text, sizeof text);
    tr_quantity_text(tension_n, TR_DIM_FORCE, paper->of->system, TR_PLAIN, force, sizeof force);
    (void)tr_append(text, sizeof text, ": %s, %.0f %%", force, share * 100.0);
    view_icon_draw(paper->pen.draw, icon, cell.x + 7.0F, cell.y + cell.h / 2.0F, 12.0F, color);
    view_text_fit(paper->pen.draw, paper->pen.metrics, cell.x + 18.0F, cell.y + cell.h * 0.5F + body.size * 0.36F,
                  cell.w - 18.0F, body, VIEW_LEFT, paper->pen.theme->ink, text);
}

static void draw_row_ends(view__paper *paper)
{
    enum { ACROSS = 4 };
    const job_setup *setup = &record_attempt_scenario(paper->of->attempt)->setup;
    char target[32];
    char band[32];
    char line[160];
    const char *args[] = {target, band};
    const int rows = setup->structure.row_count;
    tr_quantity_text(setup->target_n, TR_DIM_FORCE, paper->of->system, TR_PLAIN, target, sizeof target);
    (void)tr_format(band, sizeof band, "%.0f %%", setup->tolerance * 100.0);
    tr_lang_fill(paper->of->lang, "report.asked", args, 2, line, sizeof line);
    view__paper_title(paper, "report.rows", 80.0F);
    view_cut_top(&paper->room, view__paper_text(paper, paper->room, body, paper->pen.theme->ink_soft, line) + 6.0F);
    for (int first = 0; first < rows; first += ACROSS) {
        view__paper_need(paper, 18.0F);
        const view_rect strip = view_cut_top(&paper->room, 18.0F);
        for (int i = 0; i < ACROSS && first + i < rows; i++) {
            draw_row_end(paper, view_split_x(strip, ACROSS, i, 10.0F), first + i);
        }
    }
    view_cut_top(&paper->room, CHART_GAP);
}

/* ---- signatures ------------------------------------------------------------------------------------------------- */

static void draw_signatures(view__paper *paper)
{
    static const char *const keys[] = {"report.sign.trainee", "report.sign.instructor"};
    view__paper_need(paper, 80.0F);
    view_rect strip = view_cut_top(&paper->room, 80.0F);
    for (int i = 0; i < 2; i++) {
        const view_rect place = view_split_x(strip, 2, i, 38.0F);
        const float y = place.y + 50.0F;
        view_stroke_line(paper->pen.draw, place.x, y, place.x + place.w, y, 1.1F, paper->pen.theme->ink);
        (void)view__paper_text(paper, (view_rect){place.x, y + 4.0F, place.w, 26.0F}, small, paper->pen.theme->ink_soft,
                               view__paper_word(paper, keys[i]));
    }
}

/* ---- the pictures ----------------------------------------------------------------------------------------------- */

static void draw_over_actions(view__paper *paper)
{
    const record_attempt *attempt = paper->of->attempt;
    const job_setup *setup = &record_attempt_scenario(attempt)->setup;
    const job_action *actions = NULL;
    const size_t count = record_attempt_actions(attempt, &actions);
    const view_story story = {record_attempt_trace(attempt), count, -1.0, -1};
    view_rect room = chart_room(paper, 264.0F);
    (void)view_chart_tension(&paper->pen, room, setup, &story);
    room = chart_room(paper, 172.0F);
    (void)view_chart_off_centre(&paper->pen, room, setup, &story);
}

static void draw_pulls(view__paper *paper)
{
    const record_attempt *attempt = paper->of->attempt;
    const job_setup *setup = &record_attempt_scenario(attempt)->setup;
    mech_sheet *sheet = malloc(sizeof *sheet);
    job_state *start = malloc(sizeof *start);
    if (sheet != NULL && start != NULL) {
        job_start(setup, start);
        if (view__debrief_sheet(setup, start, sheet)) {
            const view_rect room = chart_room(paper, 190.0F);
            view_chart_pulls(&paper->pen, room, setup, sheet, record_attempt_state(attempt));
        }
    }
    free(sheet);
    free(start);
}

/* The run with the bend of its posts drawn larger, over their straight shape. */
static void draw_run(view__paper *paper)
{
    const record_attempt *attempt = paper->of->attempt;
    const job_setup *setup = &record_attempt_scenario(attempt)->setup;
    const job_state *state = record_attempt_state(attempt);
    view_hits hits;
    view_elevation_look look;
    char factor[16];
    char line[200];
    const char *args[] = {factor};
    memset(&look, 0, sizeof look);
    look.show_true = true;
    look.row = look.gap = look.plucked_row = -1;
    look.exaggeration = view_bend_factor(setup, state);
    (void)tr_format(factor, sizeof factor, "%.0f", look.exaggeration);
    tr_lang_fill(paper->of->lang, "report.bend", args, 1, line, sizeof line);
    const float words = view__paper_height(paper, paper->room.w, small, line);
    view_rect room = chart_room(paper, 240.0F + words);
    const view_rect below = view_cut_bottom(&room, words);
    view_elevation(&paper->pen, room, setup, state, &look, &hits);
    (void)view__paper_text(paper, below, small, paper->pen.theme->ink_soft, line);
    view_chart_shape(&paper->pen, chart_room(paper, 190.0F), &state->run, &state->rows);
}

void view__report_charts(view__paper *paper)
{
    const record_attempt *attempt = paper->of->attempt;
    const job_setup *setup = &record_attempt_scenario(attempt)->setup;
    draw_row_ends(paper);
    draw_signatures(paper);
    view_chart_bars(&paper->pen, chart_room(paper, 240.0F), setup, paper->of->card->final_tension_n, -1);
    draw_over_actions(paper);
    draw_pulls(paper);
    draw_run(paper);
}
