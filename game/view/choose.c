/* Choosing a scenario and how much help there is. */
#include "tautrow/view/screens.h"

#include <string.h>

#include "tautrow/base/text.h"

/* ---- left: the cards -------------------------------------------------------------------------------------------- */

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

/* Three dots: how hard it is. The word stands beside them. */
static void card_difficulty(view_ui *ui, view_rect room, int difficulty)
{
    const float step = 14.0F * ui->text_scale;
    for (int i = 0; i < 3; i++) {
        const float x = room.x + room.w - step * (2.5F - (float)i);
        const float y = room.y + view_line_of(ui, VIEW_TITLE) / 2.0F;
        if (i < difficulty) {
            view_fill_circle(ui->draw, x, y, 4.5F * ui->text_scale, ui->theme->accent);
        } else {
            view_stroke_circle(ui->draw, x, y, 4.0F * ui->text_scale, 1.2F, ui->theme->ink_soft);
        }
    }
}

/* The words of a card, or only their height (draws false): long ones take more lines at large text. */
static float card_text(view_ui *ui, view_rect room, const view_offer *offer, bool draws)
{
    const char *code = tr_lang_code(ui->lang);
    const bool is_fine = offer->what != NULL;
    char facts[160] = "";
    if (is_fine) {
        card_facts(ui, offer, facts, sizeof facts);
    }
    const char *words[3] = {is_fine ? scenario_title_in(&offer->what->title, code) : offer->file,
                            is_fine ? scenario_title_in(&offer->what->place, code) : offer->problem, facts};
    const view_type type[3] = {VIEW_TITLE, VIEW_BODY, VIEW_CAPTION};
    const float top = room.y;
    for (int i = 0; i < 3; i++) {
        view_rect line = room;
        if (i == 0 && is_fine) {
            view_cut_right(&line, 56.0F * ui->text_scale);
        }
        const view_color ink = i > 0 ? ui->theme->ink_soft : is_fine ? ui->theme->ink : ui->theme->bad;
        const float used = draws ? view_paragraph(ui, line, type[i], ink, words[i])
                                 : view_paragraph_height(ui, line.w, type[i], words[i]);
        room.y += used;
    }
    return room.y - top;
}

static void cards(view_ui *ui, view_rect area, const view_offer *offers, int count, view_choose *choose)
{
    const view_rect content = view_scroll_begin(ui, area, "cards");
    view_flow column = view_column(content, VIEW_GAP_2);
    view_group_begin(ui);
    for (int i = 0; i < count; i++) {
        view_push(ui, "card", i);
        const char *why_not = offers[i].what == NULL ? offers[i].problem : NULL;
        const view_rect inside = view_inset_xy((view_rect){0.0F, 0.0F, content.w, 0.0F}, VIEW_GAP_4, 0.0F);
        const float height = card_text(ui, inside, &offers[i], false) + VIEW_GAP_5;
        const view_item item =
            view_list_row(ui, view_column_next(&column, height), offers[i].file, choose->card == i, why_not);
        (void)card_text(ui, item.room, &offers[i], true);
        if (offers[i].what != NULL) {
            card_difficulty(ui, item.room, offers[i].what->difficulty);
        }
        if (item.react.was_pressed) {
            choose->card = i;
        }
        view_pop(ui);
    }
    view_group_end(ui);
    view_scroll_end(ui, view_flow_height(&column));
}

/* ---- right: what it is about, and the start --------------------------------------------------------------------- */

static float draw_story(view_ui *ui, view_rect room, const scenario *what)
{
    const char *code = tr_lang_code(ui->lang);
    const float top = room.y;
    view_cut_top(&room, view_heading(ui, room, VIEW_HEADING, scenario_title_in(&what->title, code)));
    view_cut_top(&room,
                 view_paragraph(ui, room, VIEW_STRONG, ui->theme->ink_soft, scenario_title_in(&what->place, code)));
    view_cut_top(&room, VIEW_GAP_3);
    view_cut_top(&room, view_paragraph(ui, room, VIEW_BODY, ui->theme->ink, scenario_story_in(&what->story, code)));
    return room.y - top;
}

static float draw_start(view_ui *ui, view_rect room, view_choose *choose, view_settings *settings, bool *starts)
{
    static const char *const mode_keys[] = {"choose.guided", "choose.practice", "choose.assessment"};
    static const char *const help_keys[] = {"choose.guided.help", "choose.practice.help", "choose.assessment.help"};
    const char *modes[3];
    const float top = room.y;
    for (int i = 0; i < 3; i++) {
        modes[i] = view_word(ui, mode_keys[i]);
    }
    (void)view_text_field(ui, view_cut_top(&room, view_field_height(ui)), view_word(ui, "choose.name"),
                          settings->trainee, sizeof settings->trainee, NULL);
    view_cut_top(&room, VIEW_GAP_4);
    (void)view_segments(ui, view_cut_top(&room, view_control_height(ui)), view_word(ui, "choose.mode"), modes, 3,
                        &choose->mode);
    view_cut_top(&room, VIEW_GAP_2);
    view_cut_top(&room,
                 view_paragraph(ui, room, VIEW_BODY, ui->theme->ink_soft, view_word(ui, help_keys[choose->mode])));
    view_cut_top(&room, VIEW_GAP_4);
    const view_button_spec go = {.look = VIEW_PRIMARY, .icon = VIEW_ICON_PLAY};
    const char *label = view_word(ui, "choose.start");
    *starts = view_button_with(ui, view_cut_top(&room, view_control_height(ui) + VIEW_GAP_2), label, &go);
    return room.y - top;
}

static view_wish right_side(view_ui *ui, view_rect area, const scenario *what, view_choose *choose,
                            view_settings *settings)
{
    bool starts = false;
    const view_rect all = view_scroll_begin(ui, view_panel(ui, area), "story");
    view_rect rest = all;
    rest.h = 1.0e6F; /* as far down as needed: the scroll area cuts what is out of sight */
    view_cut_top(&rest, draw_story(ui, rest, what) + VIEW_GAP_5);
    view_hairline(ui, rest.x, rest.y, rest.x + rest.w, rest.y);
    view_cut_top(&rest, VIEW_GAP_4);
    view_cut_top(&rest, draw_start(ui, rest, choose, settings, &starts) + VIEW_GAP_2);
    const bool orders =
        view_button(ui, view_cut_top(&rest, view_control_height(ui)), view_word(ui, "orders.title"), VIEW_QUIET);
    view_cut_top(&rest, VIEW_GAP_3);
    view_cut_top(&rest, view_banner(ui, rest, view_word(ui, "ui.caution"), view_word(ui, "choose.caution")));
    view_scroll_end(ui, rest.y - all.y);
    return starts ? VIEW_START : orders ? VIEW_GO_ORDERS : VIEW_STAY;
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
