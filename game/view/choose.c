/* Choosing a scenario and how much help there is. */
#include "tautrow/view/screens.h"

#include <math.h>
#include <string.h>

#include "progress.h"
#include "run_small.h"
#include "tautrow/base/text.h"

/* ---- left: the cards -------------------------------------------------------------------------------------------- */

/* What a card shows at this width: a picture of the run where there is room beside the words. */
typedef struct card_plan {
    float picture_w, words_w, dots_w;
    float title_h, second_h, height;
} card_plan;

static const char *title_of(const view_ui *ui, const view_offer *offer)
{
    return offer->what == NULL ? offer->file : scenario_title_in(&offer->what->title, tr_lang_code(ui->lang));
}

/* Where it is; of a file with errors the first of them. */
static const char *second_of(const view_ui *ui, const view_offer *offer)
{
    return offer->what == NULL ? offer->problem : scenario_title_in(&offer->what->place, tr_lang_code(ui->lang));
}

static card_plan plan_card(const view_ui *ui, float width, const view_offer *offer)
{
    card_plan plan = {.dots_w = 14.0F * ui->text_scale * 3.0F};
    const float inner = width - 2.0F * VIEW_GAP_4;
    plan.picture_w = inner > 330.0F * ui->text_scale ? 132.0F : 0.0F;
    plan.words_w = inner - (plan.picture_w > 0.0F ? plan.picture_w + VIEW_GAP_4 : 0.0F);
    plan.title_h = view_paragraph_height(ui, plan.words_w - plan.dots_w - VIEW_GAP_2, VIEW_TITLE, title_of(ui, offer));
    plan.second_h = view_paragraph_height(ui, plan.words_w, VIEW_BODY, second_of(ui, offer));
    plan.height = plan.title_h + plan.second_h + view_line_of(ui, VIEW_CAPTION) + 2.0F * VIEW_GAP_2;
    return plan;
}

/* "9 rows · about 25 min · best 92": what the eye looks for first. */
static void card_facts(const view_ui *ui, const view_offer *offer, char *out, size_t cap)
{
    char rows[16];
    char minutes[16];
    const char *args[] = {rows, minutes};
    (void)tr_format(rows, sizeof rows, "%d", offer->what->setup.structure.row_count);
    (void)tr_format(minutes, sizeof minutes, "%d", offer->what->minutes);
    tr_lang_fill(ui->lang, "choose.facts", args, 2, out, cap);
    if (offer->best >= 0.0) {
        char best[16];
        char more[64];
        const char *best_args[] = {best};
        (void)tr_format(best, sizeof best, "%.0f", offer->best);
        tr_lang_fill(ui->lang, "choose.best", best_args, 1, more, sizeof more);
        (void)tr_append(out, cap, " · %s", more);
    }
}

/* Three dots: how hard it is. The words stand at the right, with the story. */
static void card_difficulty(view_ui *ui, view_rect room, int difficulty)
{
    const float step = room.w / 3.0F;
    for (int i = 0; i < 3; i++) {
        const float x = room.x + step * ((float)i + 0.5F);
        const float y = room.y + view_line_of(ui, VIEW_TITLE) / 2.0F;
        if (i < difficulty) {
            view_fill_circle(ui->draw, x, y, 4.5F * ui->text_scale, ui->theme->accent);
        } else {
            view_stroke_circle(ui->draw, x, y, 4.0F * ui->text_scale, 1.2F, ui->theme->ink_soft);
        }
    }
}

static void card_text(view_ui *ui, view_rect room, const view_offer *offer, const card_plan *plan)
{
    const view_theme *theme = ui->theme;
    const bool is_fine = offer->what != NULL;
    char facts[160] = "";
    view_rect title = view_cut_top(&room, plan->title_h);
    const view_rect dots = view_cut_right(&title, plan->dots_w);
    view_cut_right(&title, VIEW_GAP_2);
    (void)view_paragraph(ui, title, VIEW_TITLE, is_fine ? theme->ink : theme->bad, title_of(ui, offer));
    if (is_fine) {
        card_difficulty(ui, dots, offer->what->difficulty);
        card_facts(ui, offer, facts, sizeof facts);
    }
    (void)view_paragraph(ui, view_cut_top(&room, plan->second_h), VIEW_BODY, theme->ink_soft, second_of(ui, offer));
    view_label(ui, view_cut_top(&room, view_line_of(ui, VIEW_CAPTION)), VIEW_CAPTION, VIEW_LEFT, theme->ink_soft,
               facts);
}

/* A list row on a ground of its own, so that the cards stand apart. */
static bool draw_card(view_ui *ui, view_rect rect, const view_offer *offer, const card_plan *plan, bool is_chosen)
{
    view_fill_rect(ui->draw, rect, VIEW_RADIUS, ui->theme->panel);
    view_stroke_rect(ui->draw, rect, VIEW_RADIUS, 1.0F, ui->theme->panel_edge);
    const view_item item = view_list_row(ui, rect, offer->file, is_chosen, offer->what == NULL ? offer->problem : NULL);
    view_rect room = item.room;
    if (plan->picture_w > 0.0F) {
        const view_rect picture = view_cut_left(&room, plan->picture_w);
        view_cut_left(&room, VIEW_GAP_4);
        if (offer->what != NULL) {
            view__run_small(ui->draw, ui->theme, view_inset_xy(picture, VIEW_GAP_1, 2.0F), &offer->what->setup);
        }
    }
    card_text(ui, room, offer, plan);
    return item.react.was_pressed;
}

static void cards(view_ui *ui, view_rect area, const view_offer *offers, int count, view_choose *choose)
{
    const view_rect content = view_scroll_begin(ui, area, "cards");
    view_flow column = view_column(content, 6.0F);
    view_group_begin(ui);
    for (int i = 0; i < count; i++) {
        const card_plan plan = plan_card(ui, content.w, &offers[i]);
        view_push(ui, "card", i);
        if (draw_card(ui, view_column_next(&column, plan.height), &offers[i], &plan, choose->card == i)) {
            choose->card = i;
        }
        view_pop(ui);
    }
    view_group_end(ui);
    view_scroll_end(ui, view_flow_height(&column));
}

/* ---- right: what it is about ------------------------------------------------------------------------------------ */

/* Rows, rows to fit, length, target, difficulty: the job in numbers. */
static void detail_words(const view_ui *ui, const scenario *what, tr_system system, char *out, size_t cap)
{
    char text[5][48];
    double length_m = 0.0;
    int own = 0;
    for (int i = 0; i < what->setup.structure.row_count; i++) {
        own += view__is_to_fit(&what->setup, i) ? 1 : 0;
    }
    for (int i = 0; i < what->setup.structure.bay_count; i++) {
        length_m += what->setup.structure.bay_m[i];
    }
    (void)tr_format(text[0], sizeof text[0], "%d", what->setup.structure.row_count);
    (void)tr_format(text[1], sizeof text[1], "%d", own);
    tr_quantity_text(length_m, TR_DIM_LENGTH, system, TR_PLAIN, text[2], sizeof text[2]);
    tr_quantity_text(what->setup.target_n, TR_DIM_FORCE, system, TR_PLAIN, text[3], sizeof text[3]);
    (void)tr_format(text[4], sizeof text[4], "%d", what->difficulty);
    const char *const args[] = {text[0], text[1], text[2], text[3], text[4]};
    tr_lang_fill(ui->lang, "choose.detail", args, 5, out, cap);
}

static float draw_story(view_ui *ui, view_rect room, const scenario *what, tr_system system)
{
    const view_theme *theme = ui->theme;
    const char *code = tr_lang_code(ui->lang);
    const float top = room.y;
    char detail[256];
    view_cut_top(&room, view_heading(ui, room, VIEW_HEADING, scenario_title_in(&what->title, code)));
    view_cut_top(&room, view_paragraph(ui, room, VIEW_STRONG, theme->ink_soft, scenario_title_in(&what->place, code)));
    view_cut_top(&room, VIEW_GAP_3);
    const view_rect well = view_cut_top(&room, fminf(140.0F, fmaxf(90.0F, ui->screen.h * 0.17F)));
    view_well(ui, well);
    view__run_small(ui->draw, theme, view_inset_xy(well, VIEW_GAP_4, VIEW_GAP_3), &what->setup);
    view_cut_top(&room, VIEW_GAP_2);
    detail_words(ui, what, system, detail, sizeof detail);
    view_cut_top(&room, view_paragraph(ui, room, VIEW_CAPTION, theme->ink_soft, detail) + VIEW_GAP_3);
    view_cut_top(&room, view_paragraph(ui, room, VIEW_BODY, theme->ink, scenario_story_in(&what->story, code)));
    view_cut_top(&room, VIEW_GAP_4);
    view_cut_top(&room, view_banner(ui, room, view_word(ui, "ui.caution"), view_word(ui, "caution.estimate")));
    return room.y - top;
}

/* ---- right: the start ------------------------------------------------------------------------------------------- */

static const char *mode_help(const view_ui *ui, int mode)
{
    static const char *const keys[] = {"choose.guided.help", "choose.practice.help", "choose.assessment.help"};
    return view_word(ui, keys[mode]);
}

static const view_button_spec start_spec = {.look = VIEW_PRIMARY, .icon = VIEW_ICON_PLAY};

/* Start and the way to the orders stand side by side where both fit. */
static bool is_side_by_side(const view_ui *ui, float width)
{
    return view_button_width(ui, view_word(ui, "choose.start"), &start_spec) + VIEW_GAP_3 +
               view_button_width(ui, view_word(ui, "orders.title"), NULL) <
           width;
}

/* The name beside the mode, where the words of the modes fit. */
static bool has_wide_mode(const view_ui *ui, float width)
{
    return width > 440.0F * ui->text_scale;
}

static float start_height(const view_ui *ui, float width)
{
    float help = 0.0F;
    for (int i = 0; i < 3; i++) { /* the longest, so that nothing moves when the mode is changed */
        help = fmaxf(help, view_paragraph_height(ui, width, VIEW_BODY, mode_help(ui, i)));
    }
    const float line = view_control_height(ui) + VIEW_GAP_2;
    const float mode = has_wide_mode(ui, width) ? 0.0F : VIEW_GAP_3 + view_control_height(ui);
    return view_field_height(ui) + mode + VIEW_GAP_2 + help + VIEW_GAP_3 +
           (is_side_by_side(ui, width) ? line : 2.0F * line + VIEW_GAP_2);
}

static view_wish draw_doors(view_ui *ui, view_rect room)
{
    const float line = view_control_height(ui) + VIEW_GAP_2;
    const char *more = view_word(ui, "orders.title");
    view_rect last = view_cut_bottom(&room, line);
    view_rect go = last;
    if (is_side_by_side(ui, room.w)) {
        last = view_cut_right(&go, view_button_width(ui, more, NULL));
        view_cut_right(&go, VIEW_GAP_3);
    } else {
        view_cut_bottom(&room, VIEW_GAP_2);
        go = view_cut_bottom(&room, line);
    }
    const bool starts = view_button_with(ui, go, view_word(ui, "choose.start"), &start_spec);
    const bool orders = view_button(ui, last, more, VIEW_QUIET);
    return starts ? VIEW_START : orders ? VIEW_GO_ORDERS : VIEW_STAY;
}

static view_wish draw_start(view_ui *ui, view_rect room, view_choose *choose, view_settings *settings)
{
    static const char *const mode_keys[] = {"mode.guided", "mode.practice", "mode.assessment"};
    const char *modes[3];
    for (int i = 0; i < 3; i++) {
        modes[i] = view_word(ui, mode_keys[i]);
    }
    view_rect name = view_cut_top(&room, view_field_height(ui));
    view_rect mode = name;
    if (has_wide_mode(ui, room.w)) {
        name = view_cut_left(&mode, room.w * 0.36F);
        view_cut_left(&mode, VIEW_GAP_4);
        mode = view_cut_bottom(&mode, view_control_height(ui));
    } else {
        view_cut_top(&room, VIEW_GAP_3);
        mode = view_cut_top(&room, view_control_height(ui));
    }
    (void)view_text_field(ui, name, view_word(ui, "choose.name"), settings->trainee, sizeof settings->trainee, NULL);
    (void)view_segments(ui, mode, view_word(ui, "choose.mode"), modes, 3, &choose->mode);
    view_cut_top(&room, VIEW_GAP_2);
    (void)view_paragraph(ui, room, VIEW_BODY, ui->theme->ink_soft, mode_help(ui, choose->mode));
    return draw_doors(ui, room);
}

/* The story scrolls, the start stands; where that leaves the story no room, both scroll. */
static view_wish right_side(view_ui *ui, view_rect area, const scenario *what, view_choose *choose,
                            view_settings *settings)
{
    const tr_system system = settings->own_units ? settings->system : what->units;
    view_rect room = view_panel(ui, area);
    const float foot = start_height(ui, room.w);
    if (room.h - foot > 260.0F * fminf(ui->text_scale, 1.5F)) {
        const view_rect start = view_cut_bottom(&room, foot);
        const float y = start.y - VIEW_GAP_3;
        view_hairline(ui, room.x, y, room.x + room.w, y);
        view_cut_bottom(&room, 2.0F * VIEW_GAP_3);
        const view_rect port = view_scroll_begin(ui, room, "story");
        view_scroll_end(ui, draw_story(ui, view__endless(port), what, system));
        return draw_start(ui, start, choose, settings);
    }
    const view_rect all = view_scroll_begin(ui, room, "story");
    view_rect rest = view__endless(all);
    view_cut_top(&rest, draw_story(ui, rest, what, system) + VIEW_GAP_4);
    const view_wish wish = draw_start(ui, view_cut_top(&rest, start_height(ui, rest.w)), choose, settings);
    view_scroll_end(ui, rest.y - all.y);
    return wish;
}

view_answer_of_screen view_scenarios(view_ui *ui, const view_offer *offers, int count, view_choose *choose,
                                     view_settings *settings)
{
    view_answer_of_screen answer = {VIEW_STAY, 0, JOB_GUIDED};
    view_rect all = view_inset_xy(ui->screen, 40.0F, VIEW_GAP_5);
    view_push(ui, "choose", 0);
    view_rect bar = view_cut_top(&all, view_control_height(ui));
    if (view_icon_button(ui, view_cut_left(&bar, bar.h), VIEW_ICON_BACK, view_word(ui, "ui.back"), NULL) ||
        view_key_take(ui, VIEW_KEY_ESCAPE, 0)) {
        answer.wish = VIEW_GO_HOME;
    }
    view_cut_left(&bar, VIEW_GAP_3);
    view_label(ui, bar, VIEW_HEADING, VIEW_LEFT, ui->theme->ink, view_word(ui, "choose.title"));
    view_cut_top(&all, VIEW_GAP_4);
    const float left = all.w * 0.44F;
    cards(ui, view_cut_left(&all, left), offers, count, choose);
    view_cut_left(&all, VIEW_GAP_5);
    if (choose->card >= 0 && choose->card < count && offers[choose->card].what != NULL) {
        const view_wish wish = right_side(ui, all, offers[choose->card].what, choose, settings);
        if (wish != VIEW_STAY) {
            answer = (view_answer_of_screen){wish, choose->card, (job_mode)choose->mode};
        }
    }
    view_pop(ui);
    return answer;
}
