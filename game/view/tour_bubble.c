/* The tour's bubble: step dots and Skip, title and words, what to do, Back and Next. */
#include "tour_bubble.h"

#include <math.h>

static const float PAD = VIEW_GAP_4;

/* ---- what to do ------------------------------------------------------------------------------------------------- */

static float sign_side(const view_ui *ui)
{
    return 18.0F * ui->text_scale;
}

static float ask_inner(const view_ui *ui, float width)
{
    return fmaxf(40.0F, width - sign_side(ui) - 2.0F * VIEW_GAP_3 - VIEW_GAP_2);
}

static float ask_height(const view_ui *ui, float width, const char *ask)
{
    return view_paragraph_height(ui, ask_inner(ui, width), VIEW_STRONG, ask) + 2.0F * VIEW_GAP_2;
}

/* An open ring until it is done, then a tick: shape as well as colour. */
static void draw_ask(view_ui *ui, view_rect rect, const view_tour_words *words)
{
    const view_theme *t = ui->theme;
    const view_color ink = words->is_done ? t->good : t->accent;
    const float side = sign_side(ui);
    const float y = rect.y + VIEW_GAP_2 + view_line_of(ui, VIEW_STRONG) / 2.0F;
    view_fill_rect(ui->draw, rect, VIEW_RADIUS, words->is_done ? t->good_soft : t->accent_soft);
    view_rect room = view_inset_xy(rect, VIEW_GAP_3, VIEW_GAP_2);
    const float x = view_cut_left(&room, side).x + side / 2.0F;
    view_cut_left(&room, VIEW_GAP_2);
    if (words->is_done) {
        view_icon_draw(ui->draw, VIEW_ICON_CHECK, x, y, side, ink);
    } else {
        view_stroke_circle(ui->draw, x, y, side * 0.36F, 2.0F * ui->text_scale, ink);
    }
    (void)view_paragraph(ui, room, VIEW_STRONG, t->ink, words->ask);
}

static float deed_height(const view_ui *ui, float width, const view_tour_words *words)
{
    float height = words->ask != NULL ? VIEW_GAP_3 + ask_height(ui, width, words->ask) : 0.0F;
    height += words->told != NULL ? VIEW_GAP_2 + view_paragraph_height(ui, width, VIEW_STRONG, words->told) : 0.0F;
    return height;
}

/* What to do and what came of it. It stands still while the words above it scroll. */
static void draw_deed(view_ui *ui, view_rect room, const view_tour_words *words)
{
    if (words->ask != NULL) {
        view_cut_top(&room, VIEW_GAP_3);
        draw_ask(ui, view_cut_top(&room, ask_height(ui, room.w, words->ask)), words);
    }
    if (words->told != NULL) {
        view_cut_top(&room, VIEW_GAP_2);
        (void)view_paragraph(ui, room, VIEW_STRONG, ui->theme->good, words->told);
    }
}

/* ---- words ------------------------------------------------------------------------------------------------------ */

static float words_height(const view_ui *ui, float width, const view_tour_words *words)
{
    return view_paragraph_height(ui, width, VIEW_TITLE, words->title) + VIEW_GAP_1 +
           view_paragraph_height(ui, width, VIEW_BODY, words->text);
}

static void draw_words(view_ui *ui, view_rect room, const view_tour_words *words)
{
    room.h = 1e6F; /* the scroll area cuts what is out of sight */
    view_cut_top(&room, view_paragraph(ui, room, VIEW_TITLE, ui->theme->ink, words->title) + VIEW_GAP_1);
    (void)view_paragraph(ui, room, VIEW_BODY, ui->theme->ink, words->text);
}

/* ---- frame of the bubble ---------------------------------------------------------------------------------------- */

static float bars_height(const view_ui *ui)
{
    return 2.0F * view_control_height(ui) + 2.0F * VIEW_GAP_3;
}

float view__tour_bubble_height(const view_ui *ui, float width, const view_tour_words *words)
{
    const float inner = width - 2.0F * PAD;
    return ceilf(words_height(ui, inner, words) + deed_height(ui, inner, words) + bars_height(ui)) + 2.0F * PAD;
}

static bool draw_head(view_ui *ui, view_rect rect, int step)
{
    const view_button_spec skip = {.look = VIEW_QUIET, .key_hint = "Esc"};
    const char *label = view_word(ui, "tour.skip");
    const view_rect right = view_cut_right(&rect, fminf(view_button_width(ui, label, &skip), rect.w * 0.6F));
    view_cut_right(&rect, VIEW_GAP_2);
    rect.w = fminf(rect.w, 150.0F * ui->text_scale);
    view_progress_dots(ui, rect, VIEW_TOUR_STEPS, step);
    return view_button_with(ui, right, label, &skip);
}

/* Next is what Enter does; while something is still to be done it does not shout. */
static view__tour_press draw_foot(view_ui *ui, view_rect rect, int step, const view_tour_words *words)
{
    const bool is_calm = words->ask != NULL && !words->is_done;
    const view_button_spec next = {
        .look = is_calm ? VIEW_SECONDARY : VIEW_PRIMARY, .icon = VIEW_ICON_NEXT, .key = VIEW_KEY_ENTER};
    view__tour_press press = VIEW__TOUR_NONE;
    const view_rect right = view_cut_right(&rect, fminf(view_button_width(ui, words->next, &next), rect.w * 0.6F));
    view_cut_right(&rect, VIEW_GAP_2);
    const char *back = view_word(ui, "tour.back");
    const view_button_spec before = {.look = VIEW_SECONDARY, .key = VIEW_KEY_BACKSPACE};
    const view_rect left = view_cut_right(&rect, fminf(view_button_width(ui, back, &before), rect.w));
    if (step > 0 && view_button_with(ui, left, back, &before)) {
        press = VIEW__TOUR_BACK;
    }
    return view_button_with(ui, right, words->next, &next) ? VIEW__TOUR_NEXT : press;
}

view__tour_press view__tour_bubble(view_ui *ui, view_rect rect, int step, const view_tour_words *words)
{
    view_shadow(ui, rect, VIEW_RADIUS_CARD, 16.0F);
    view_fill_rect(ui->draw, rect, VIEW_RADIUS_CARD, ui->theme->panel);
    view_stroke_rect(ui->draw, rect, VIEW_RADIUS_CARD, 2.0F, ui->theme->accent);
    view_rect room = view_inset(rect, PAD);
    const bool skips = draw_head(ui, view_cut_top(&room, view_control_height(ui)), step);
    view_cut_top(&room, VIEW_GAP_3);
    const view_rect foot = view_cut_bottom(&room, view_control_height(ui));
    view_cut_bottom(&room, VIEW_GAP_3);
    const view_rect deed = view_cut_bottom(&room, deed_height(ui, room.w, words));
    const view_rect port = view_scroll_begin(ui, room, "words");
    draw_words(ui, port, words);
    view_scroll_end(ui, words_height(ui, port.w, words));
    draw_deed(ui, deed, words);
    const view__tour_press press = draw_foot(ui, foot, step, words);
    return skips ? VIEW__TOUR_SKIP : press;
}
