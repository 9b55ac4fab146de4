/* The home screen: go on, start, look back. */
#include "tautrow/view/screens.h"

#include <math.h>
#include <string.h>

#include "home_path.h"
#include "progress.h"
#include "run_small.h"
#include "tautrow/base/text.h"

static bool greets(const view_home_model *model)
{
    return model->asks_lang || (model->has_tour && model->offers_tour);
}

static bool advises(const view_home_model *model)
{
    return model->progress != NULL && model->progress->attempts > 0 && model->progress->next_count > 0;
}

static int first_unfinished(const view_home_model *model)
{
    for (int i = 0; i < model->past_count; i++) {
        if (!model->past[i].is_finished && model->past[i].is_readable) {
            return i;
        }
    }
    return -1;
}

/* ---- left: the run to go to ------------------------------------------------------------------------------------- */

/* What was broken off, else what to practise next, else the exercise to begin with; -1 = none. */
static int exercise_at_door(const view_home_model *model)
{
    const int open = first_unfinished(model);
    int index = model->first;
    if (open >= 0) {
        index = model->past[open].exercise;
    } else if (advises(model)) {
        const int next = model->progress->skill[model->progress->next[0]].exercise;
        index = next >= 0 ? next : index;
    }
    const bool is_there = index >= 0 && index < model->offer_count && model->offers[index].what != NULL;
    return is_there ? index : -1;
}

static float door_words_height(const view_ui *ui)
{
    return view_line_of(ui, VIEW_TITLE) + view_line_of(ui, VIEW_BODY);
}

/* That the card is pressed to go there. */
static void go_sign(view_ui *ui, view_rect room)
{
    const float x = room.x + room.w / 2.0F;
    const float y = room.y + room.h / 2.0F;
    const float r = fminf(room.w, room.h) / 2.0F - 2.0F;
    view_fill_circle(ui->draw, x, y, r, ui->theme->accent_soft);
    view_icon_draw(ui->draw, VIEW_ICON_NEXT, x, y, r, ui->theme->accent);
}

/* Pressed, it leads there. */
static bool door_card(view_ui *ui, view_rect frame, const scenario *what, const char *tip)
{
    const char *code = tr_lang_code(ui->lang);
    const char *title = scenario_title_in(&what->title, code);
    const view_item item = view_card(ui, frame, title, false, NULL);
    view_rect room = item.room;
    view_rect words = view_cut_bottom(&room, door_words_height(ui));
    view_cut_bottom(&room, VIEW_GAP_3);
    view_well(ui, room);
    view__run_small(ui->draw, ui->theme, view_inset(room, VIEW_GAP_3), &what->setup);
    go_sign(ui, view_cut_right(&words, fminf(words.h, 48.0F)));
    view_label(ui, view_cut_top(&words, view_line_of(ui, VIEW_TITLE)), VIEW_TITLE, VIEW_LEFT, ui->theme->ink, title);
    view_label(ui, words, VIEW_BODY, VIEW_LEFT, ui->theme->ink_soft, scenario_title_in(&what->place, code));
    view_tooltip(ui, item.react, frame, view_word(ui, tip));
    return item.react.was_pressed;
}

/* ---- left: what to do ------------------------------------------------------------------------------------------- */

/* There is one loud button on the screen: going on, else the tour that is offered, else what to practise next, else
 * choosing. */
typedef struct door {
    const char *key;
    view_button_spec spec;
    view_wish wish;
    bool is_wide; /* a line of its own */
} door;

enum { MAX_DOORS = 6 };

static int list_doors(const view_home_model *model, door list[MAX_DOORS])
{
    const bool goes_on = first_unfinished(model) >= 0;
    const view_look choose = goes_on || greets(model) || advises(model) ? VIEW_SECONDARY : VIEW_PRIMARY;
    const struct {
        bool is_there;
        door one;
    } all[MAX_DOORS] = {
        {goes_on,
         {"home.continue",
          {.look = VIEW_PRIMARY, .icon = VIEW_ICON_PLAY, .key = 'C', .key_hint = "C"},
          VIEW_CONTINUE,
          true}},
        {true,
         {"home.choose",
          {.look = choose, .icon = VIEW_ICON_SHEET, .key = 'N', .key_hint = "N"},
          VIEW_GO_SCENARIOS,
          true}},
        {model->progress != NULL,
         {"home.progress", {.icon = VIEW_ICON_CHECK, .key = 'P', .key_hint = "P"}, VIEW_GO_PROGRESS, false}},
        {true, {"home.settings", {.icon = VIEW_ICON_GEAR, .key = 'S', .key_hint = "S"}, VIEW_GO_SETTINGS, false}},
        {model->has_tour,
         {"tour.again",
          {.look = VIEW_QUIET, .icon = VIEW_ICON_QUESTION, .key = 'T', .key_hint = "T"},
          VIEW_GO_TOUR,
          false}},
        {true, {"home.quit", {.look = VIEW_QUIET, .key = 'Q', .key_hint = "Q"}, VIEW_QUIT, false}},
    };
    int count = 0;
    for (int i = 0; i < MAX_DOORS; i++) {
        if (all[i].is_there) {
            list[count++] = all[i].one;
        }
    }
    return count;
}

/* Places the doors from the top of room, two in a line where both fit; returns the height used. */
static float place_doors(const view_ui *ui, view_rect room, const door list[], int count, view_rect at[])
{
    const float line = view_control_height(ui) + VIEW_GAP_2;
    const float half = (room.w - VIEW_GAP_3) / 2.0F;
    float y = room.y;
    for (int i = 0; i < count; i++) {
        const bool is_pair = i + 1 < count && !list[i].is_wide && !list[i + 1].is_wide &&
                             view_button_width(ui, view_word(ui, list[i].key), &list[i].spec) <= half &&
                             view_button_width(ui, view_word(ui, list[i + 1].key), &list[i + 1].spec) <= half;
        at[i] = (view_rect){room.x, y, is_pair ? half : room.w, line};
        if (is_pair) {
            at[i + 1] = (view_rect){room.x + half + VIEW_GAP_3, y, half, line};
            i++;
        }
        y += line + VIEW_GAP_3;
    }
    return y - VIEW_GAP_3 - room.y;
}

static view_answer_of_screen left_side(view_ui *ui, view_rect area, const view_home_model *model)
{
    view_answer_of_screen answer = {VIEW_STAY, 0, JOB_GUIDED};
    door list[MAX_DOORS];
    view_rect at[MAX_DOORS];
    const view_rect all = view_scroll_begin(ui, area, "doors");
    view_rect rest = all;
    view_cut_top(&rest, view_heading(ui, rest, VIEW_DISPLAY, "tautrow"));
    view_cut_top(&rest, view_paragraph(ui, rest, VIEW_BODY, ui->theme->ink_soft, view_word(ui, "home.tagline")));
    view_cut_top(&rest, VIEW_GAP_4);
    const int count = list_doors(model, list);
    const float doors = place_doors(ui, rest, list, count, at);
    const float spare = area.h - (rest.y - all.y) - doors - VIEW_GAP_5;
    const int next = exercise_at_door(model);
    const int open = first_unfinished(model);
    if (spare >= 130.0F + door_words_height(ui) && next >= 0) {
        const view_rect frame = view_cut_top(&rest, fminf(spare, rest.w * 0.7F + door_words_height(ui)));
        if (door_card(ui, frame, model->offers[next].what, open >= 0 ? "home.continue" : "home.choose")) {
            answer = open >= 0 ? (view_answer_of_screen){VIEW_CONTINUE, open, JOB_GUIDED}
                               : (view_answer_of_screen){VIEW_PRACTISE, next, JOB_GUIDED};
        }
        view_cut_top(&rest, VIEW_GAP_5);
        (void)place_doors(ui, rest, list, count, at);
    }
    for (int i = 0; i < count; i++) {
        if (view_button_with(ui, at[i], view_word(ui, list[i].key), &list[i].spec)) {
            answer.wish = list[i].wish;
            answer.index = list[i].wish == VIEW_CONTINUE ? open : 0;
        }
    }
    view_scroll_end(ui, rest.y - all.y + doors);
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

/* Room of the words beside or above the verdict. */
static float past_words_width(const view_ui *ui, float width, bool is_narrow)
{
    return is_narrow ? width : width - 190.0F * ui->text_scale;
}

/* What it was and when at the left, how it went at the right; below where the room is too narrow for both. */
static void past_row(view_ui *ui, view_rect room, const view_past *past, bool is_narrow)
{
    char words[96];
    if (is_narrow) {
        past_verdict(ui, view_cut_bottom(&room, view_control_height(ui)), past);
    } else {
        past_verdict(ui, room, past);
        room.w = past_words_width(ui, room.w, false);
    }
    past_words(ui, past, words, sizeof words);
    view_cut_top(&room, view_paragraph(ui, room, VIEW_STRONG, ui->theme->ink, past->title));
    view_label(ui, room, VIEW_CAPTION, VIEW_LEFT, ui->theme->ink_soft, words);
}

static float past_list(view_ui *ui, view_rect list, const view_home_model *model, view_answer_of_screen *answer)
{
    const bool is_narrow = list.w < 400.0F * ui->text_scale;
    const float rest = view_line_of(ui, VIEW_CAPTION) + VIEW_GAP_4 + (is_narrow ? view_control_height(ui) : 0.0F);
    view_flow column = view_column(list, VIEW_GAP_1);
    view_group_begin(ui);
    for (int i = 0; i < model->past_count; i++) {
        const view_past *past = &model->past[i];
        const float words_w = past_words_width(ui, list.w - 2.0F * VIEW_GAP_4, is_narrow);
        const float height = view_paragraph_height(ui, words_w, VIEW_STRONG, past->title) + rest;
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

/* ---- the first time --------------------------------------------------------------------------------------------- */

static const char *const lang_names[] = {"English", "Español"}; /* each in its own language */

static const view_button_spec tour_go = {
    .look = VIEW_PRIMARY, .icon = VIEW_ICON_PLAY, .key = VIEW_KEY_ENTER, .key_hint = "↵"};
static const view_button_spec tour_skip = {.look = VIEW_SECONDARY, .key = VIEW_KEY_ESCAPE, .key_hint = "Esc"};

/* One press each, and the answer is given. */
static void ask_lang(view_ui *ui, view_rect room, view_answer_of_screen *answer)
{
    view_cut_top(&room, view_heading(ui, room, VIEW_TITLE, "Language · Idioma"));
    const view_rect line = view_cut_top(&room, view_control_height(ui) + VIEW_GAP_3);
    for (int i = 0; i < 2; i++) {
        if (view_button(ui, view_split_x(line, 2, i, VIEW_GAP_3), lang_names[i], VIEW_PRIMARY)) {
            *answer = (view_answer_of_screen){VIEW_SET_LANG, i, JOB_GUIDED};
        }
    }
}

/* Take it, skip it, or read it in the other language: one press away for somebody who cannot read the card. */
typedef struct offer_places {
    view_rect go, skip, lang;
    float height;
} offer_places;

static offer_places place_offer(const view_ui *ui, view_rect room, const char *other)
{
    offer_places at;
    view_flow row = view_row(room, view_control_height(ui) + VIEW_GAP_2, VIEW_GAP_3);
    at.go = view_row_next(&row, view_button_width(ui, view_word(ui, "tour.welcome.go"), &tour_go));
    at.skip = view_row_next(&row, view_button_width(ui, view_word(ui, "tour.skip"), &tour_skip));
    at.lang = view_row_next(&row, view_button_width(ui, other, NULL));
    at.height = view_flow_height(&row);
    return at;
}

static const char *other_lang(const view_ui *ui)
{
    return lang_names[strcmp(tr_lang_code(ui->lang), "es") == 0 ? 0 : 1];
}

static void offer_tour(view_ui *ui, view_rect room, view_answer_of_screen *answer)
{
    view_cut_top(&room, view_heading(ui, room, VIEW_TITLE, view_word(ui, "tour.welcome.title")));
    view_cut_top(&room, view_paragraph(ui, room, VIEW_BODY, ui->theme->ink, view_word(ui, "tour.welcome.text")));
    view_cut_top(&room, VIEW_GAP_3);
    const char *other = other_lang(ui);
    const offer_places at = place_offer(ui, room, other);
    if (view_button_with(ui, at.go, view_word(ui, "tour.welcome.go"), &tour_go)) {
        answer->wish = VIEW_GO_TOUR;
    }
    if (view_button_with(ui, at.skip, view_word(ui, "tour.skip"), &tour_skip)) {
        answer->wish = VIEW_SKIP_TOUR;
    }
    if (view_button(ui, at.lang, other, VIEW_QUIET)) {
        *answer = (view_answer_of_screen){VIEW_SET_LANG, other == lang_names[1] ? 1 : 0, JOB_GUIDED};
    }
}

static float welcome_height(const view_ui *ui, float width, const view_home_model *model)
{
    const float pad = 2.0F * VIEW_GAP_4;
    if (model->asks_lang) {
        return view_paragraph_height(ui, width - pad, VIEW_TITLE, "Language · Idioma") + VIEW_GAP_2 +
               view_control_height(ui) + VIEW_GAP_3 + pad;
    }
    const view_rect room = {0.0F, 0.0F, width - pad, 1e6F};
    return view_paragraph_height(ui, room.w, VIEW_TITLE, view_word(ui, "tour.welcome.title")) + VIEW_GAP_2 +
           view_paragraph_height(ui, room.w, VIEW_BODY, view_word(ui, "tour.welcome.text")) + VIEW_GAP_3 +
           place_offer(ui, room, other_lang(ui)).height + pad;
}

/* A card of its own at the top; returns the height used. */
static float welcome(view_ui *ui, view_rect room, const view_home_model *model, view_answer_of_screen *answer)
{
    if (!greets(model)) {
        return 0.0F;
    }
    const view_rect card = {room.x, room.y, room.w, ceilf(welcome_height(ui, room.w, model))};
    view_fill_rect(ui->draw, card, VIEW_RADIUS_CARD, ui->theme->accent_soft);
    view_stroke_rect(ui->draw, card, VIEW_RADIUS_CARD, 1.5F, ui->theme->accent);
    const view_rect inside = view_inset(card, VIEW_GAP_4);
    if (model->asks_lang) {
        ask_lang(ui, inside, answer);
    } else {
        offer_tour(ui, inside, answer);
    }
    return card.h + VIEW_GAP_4;
}

/* One scroll area: what to practise next, then the attempts. */
static view_answer_of_screen right_side(view_ui *ui, view_rect area, const view_home_model *model)
{
    view_answer_of_screen answer = {VIEW_STAY, 0, JOB_GUIDED};
    const view_rect all = view_scroll_begin(ui, view_panel(ui, area), "past");
    view_rect room = view__endless(all);
    view_cut_top(&room, welcome(ui, room, model, &answer));
    if (model->progress != NULL && (model->past_count > 0 || model->progress->attempts > 0)) {
        const bool is_loud = first_unfinished(model) < 0 && !greets(model);
        view_cut_top(&room, view__practise_next(ui, room, model->progress, is_loud, &answer) + VIEW_GAP_5);
    }
    if (model->past_count == 0) {
        view_cut_top(&room, view__home_path(ui, room) + VIEW_GAP_5);
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
