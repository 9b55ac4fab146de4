/* The debrief: what the attempt was worth and why, and the attempt once more under the scrubber. */
#include "debrief.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"

/* At the text scale 1: width that the title keeps; room in which score, charts and run have place side by side. */
#define LEAST_TITLE  260.0F
#define LEAST_WIDTH  760.0F
#define LEAST_HEIGHT 440.0F

/* The pull sheet from where tensioning began: every row that is to be tensioned hangs straight (take-up 0), the rest as
 * the crew before has left them. */
bool view__debrief_sheet(const job_setup *setup, const job_state *start, mech_sheet *sheet)
{
    char why[TR_TEXT_CAP];
    mech_run *run = malloc(sizeof *run);
    mech_rows *rows = malloc(sizeof *rows);
    const bool fine = run != NULL && rows != NULL && setup->order_count > 0 &&
                      mech_run_build(&setup->structure, run, why, sizeof why) == TR_OK;
    if (fine) {
        *rows = start->rows;
        for (int i = 0; i < setup->order_count; i++) {
            const int row = setup->order[i];
            if (!rows->is_strung[row]) {
                rows->is_strung[row] = true;
                rows->take_up_m[row] = 0.0;
            }
        }
        (void)mech_run_solve(run, rows);
        const mech_limits limits = {setup->row_limit_n, (double)INFINITY};
        mech_pull_sheet(run, rows, setup->order, setup->order_count, setup->round_share, setup->rounds, setup->target_n,
                        limits, sheet);
    }
    free(run);
    free(rows);
    return fine;
}

view_debrief *view_debrief_open(const record_attempt *attempt, const score_card *card)
{
    const job_action *actions = NULL;
    const job_setup *setup = &record_attempt_scenario(attempt)->setup;
    view_debrief *debrief = calloc(1, sizeof *debrief);
    if (debrief == NULL) {
        return NULL;
    }
    (void)card;
    debrief->row = -1;
    debrief->count = record_attempt_actions(attempt, &actions);
    debrief->cursor = debrief->count;
    debrief->shown_at = debrief->count;
    debrief->shown = malloc(sizeof *debrief->shown);
    debrief->sheet = malloc(sizeof *debrief->sheet);
    if (debrief->shown == NULL || debrief->sheet == NULL) {
        view_debrief_close(debrief);
        return NULL;
    }
    job_start(setup, debrief->shown);
    debrief->has_sheet = view__debrief_sheet(setup, debrief->shown, debrief->sheet);
    *debrief->shown = *record_attempt_state(attempt);
    return debrief;
}

void view_debrief_turn_to(view_debrief *debrief, int page)
{
    debrief->page = page < VIEW_PAGES ? page : VIEW_PAGES - 1;
    debrief->part = VIEW_PART_CHARTS;
}

void view_debrief_close(view_debrief *debrief)
{
    if (debrief != NULL) {
        free(debrief->shown);
        free(debrief->sheet);
        free(debrief);
    }
}

/* Only its icon where the words would leave too little room for the title. */
static bool save_button(view_ui *ui, view_rect *bar)
{
    const char *word = view_word(ui, "report.save");
    const view_button_spec spec = {.icon = VIEW_ICON_SHEET, .key = 'P', .key_hint = "P"};
    const float width = view_button_width(ui, word, &spec);
    view_cut_right(bar, VIEW_GAP_2);
    if (bar->w - width >= LEAST_TITLE * ui->text_scale) {
        return view_button_with(ui, view_cut_right(bar, width), word, &spec);
    }
    const bool is_pressed = view_icon_button(ui, view_cut_right(bar, bar->h), VIEW_ICON_SHEET, word, NULL);
    return view_shortcut(ui, 'P') || is_pressed;
}

static view_answer_of_screen top_bar(view_ui *ui, view_rect bar, const scenario *what)
{
    view_answer_of_screen answer = {VIEW_STAY, 0, JOB_GUIDED};
    const view_button_spec again = {.icon = VIEW_ICON_UNDO};
    const view_button_spec home = {.look = VIEW_PRIMARY};
    const char *again_word = view_word(ui, "debrief.again");
    const char *home_word = view_word(ui, "debrief.home");
    char title[SCENARIO_TITLE_CAP + 48];
    if (view_icon_button(ui, view_cut_left(&bar, bar.h), VIEW_ICON_BACK, home_word, NULL) ||
        view_key_take(ui, VIEW_KEY_ESCAPE, 0)) {
        answer.wish = VIEW_GO_HOME;
    }
    view_cut_left(&bar, VIEW_GAP_3);
    if (view_icon_button(ui, view_cut_right(&bar, bar.h), VIEW_ICON_GEAR, view_word(ui, "home.settings"), NULL)) {
        answer.wish = VIEW_GO_SETTINGS;
    }
    view_cut_right(&bar, VIEW_GAP_2);
    if (view_button_with(ui, view_cut_right(&bar, view_button_width(ui, home_word, &home)), home_word, &home)) {
        answer.wish = VIEW_GO_HOME;
    }
    view_cut_right(&bar, VIEW_GAP_2);
    if (view_button_with(ui, view_cut_right(&bar, view_button_width(ui, again_word, &again)), again_word, &again)) {
        answer.wish = VIEW_AGAIN;
    }
    if (save_button(ui, &bar)) {
        answer.wish = VIEW_SAVE_PDF;
    }
    view_cut_right(&bar, VIEW_GAP_3);
    (void)tr_format(title, sizeof title, "%s: %s", view_word(ui, "debrief.title"),
                    scenario_title_in(&what->title, tr_lang_code(ui->lang)));
    view_label(ui, bar, VIEW_TITLE, VIEW_LEFT, ui->theme->ink, title);
    return answer;
}

/* Large text or a small window: score, charts and run one at a time. */
static void draw_one_part(view_ui *ui, view_rect all, view_debrief *debrief, const record_attempt *attempt,
                          const score_card *card, tr_system system)
{
    const char *words[VIEW_PARTS] = {view_word(ui, "debrief.part.score"), view_word(ui, "debrief.pages"),
                                     view_word(ui, "debrief.part.run")};
    (void)view_segments(ui, view_cut_top(&all, view_control_height(ui)), view_word(ui, "debrief.parts"), words,
                        VIEW_PARTS, &debrief->part);
    view_cut_top(&all, VIEW_GAP_3);
    if (debrief->part == VIEW_PART_SCORE) {
        view_debrief_score(ui, all, attempt, card, system);
    } else {
        view_debrief_story(ui, all, debrief, attempt, system, debrief->part == VIEW_PART_CHARTS,
                           debrief->part == VIEW_PART_RUN);
    }
}

view_answer_of_screen view_debrief_frame(view_ui *ui, view_debrief *debrief, const record_attempt *attempt,
                                         const score_card *card, tr_system system)
{
    static const view_pad_key pad[] = {
        {VIEW_PAD_X, 'P'}, {VIEW_PAD_Y, VIEW_KEY_SPACE}, {VIEW_PAD_LB, VIEW_KEY_LEFT}, {VIEW_PAD_RB, VIEW_KEY_RIGHT}};
    view_rect all = view_inset_xy(ui->screen, VIEW_GAP_5, VIEW_GAP_3);
    view_pad_keys(ui, pad, sizeof pad / sizeof pad[0]);
    view_push(ui, "debrief", 0);
    const view_answer_of_screen answer =
        top_bar(ui, view_cut_top(&all, view_control_height(ui)), record_attempt_scenario(attempt));
    view_cut_top(&all, VIEW_GAP_3);
    if (all.w < LEAST_WIDTH * ui->text_scale || all.h < LEAST_HEIGHT * ui->text_scale) {
        draw_one_part(ui, all, debrief, attempt, card, system);
    } else {
        view_debrief_score(ui, view_cut_left(&all, all.w * 0.42F), attempt, card, system);
        view_cut_left(&all, VIEW_GAP_4);
        view_debrief_story(ui, all, debrief, attempt, system, true, true);
    }
    view_pop(ui);
    return answer;
}
