/* Draws every widget in all its states to pictures, for eyes: gallery FOLDER. Not a test; the words are the gallery's
 * own. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/io.h"
#include "tautrow/base/lang.h"
#include "tautrow/base/text.h"
#include "tautrow/view/paint.h"
#include "tautrow/view/text.h"
#include "tautrow/view/ui.h"

typedef struct words {
    const char *title, *lead, *start, *retry, *remove, *quiet, *off, *why, *hold, *speed, *speed_text, *rows, *toggle,
        *locked;
    const char *mode, *modes[3], *tabs, *tab[3], *name, *caution, *done, *band, *toast, *dialog, *dialog_text,
        *settings;
    const char *item[4], *item_more[4], *stage;
} words;

static const words english = {
    .title = "Tension the near post",
    .lead = "Work upward from the middle: every turn of one turnbuckle takes tension from its neighbours.",
    .start = "Start",
    .retry = "Try again",
    .remove = "Delete",
    .quiet = "Not now",
    .off = "Hand over",
    .why = "Rows 3 and 4 are still outside the band.",
    .hold = "Hold to drill",
    .speed = "Drill speed",
    .speed_text = "850 rpm",
    .rows = "Rows",
    .toggle = "Reduced motion",
    .locked = "Assessment mode",
    .mode = "Mode",
    .modes = {"Guided", "Practice", "Assessment"},
    .tabs = "Debrief",
    .tab = {"Score", "Tensions", "Replay"},
    .name = "Trainee",
    .caution =
        "A tensioned cable stores energy. Keep hands and face out of its line, and wear eye protection when cutting.",
    .done = "in band",
    .band = "Row 4, 219 lbf",
    .toast = "Row 4 is in band",
    .dialog = "Leave this attempt?",
    .dialog_text = "What you did so far is kept in the journal. You can go on from here later.",
    .settings = "Settings",
    .item = {"Three rows, short run", "Five rows, stiff posts", "Ten rows, deck edge", "Repair after a slip"},
    .item_more = {"Practised today, 92 points", "Next: order of pulls", "Opens after five rows", "New"},
    .stage = "Stage 6 of 11",
};

static const words spanish = {
    .title = "Tensar el poste cercano",
    .lead = "Avanza desde el centro hacia arriba: cada vuelta de un tensor les quita tensión a las filas vecinas.",
    .start = "Empezar",
    .retry = "Intentar de nuevo",
    .remove = "Eliminar",
    .quiet = "Ahora no",
    .off = "Entregar",
    .why = "Las filas 3 y 4 siguen fuera de la banda.",
    .hold = "Mantén para taladrar",
    .speed = "Velocidad del taladro",
    .speed_text = "850 rpm",
    .rows = "Filas",
    .toggle = "Menos movimiento",
    .locked = "Modo de evaluación",
    .mode = "Modo",
    .modes = {"Guiado", "Práctica", "Evaluación"},
    .tabs = "Repaso",
    .tab = {"Puntaje", "Tensiones", "Repetición"},
    .name = "Aprendiz",
    .caution =
        "Un cable tensado guarda energía. Mantén manos y cara fuera de su línea y usa protección ocular al cortar.",
    .done = "en banda",
    .band = "Fila 4, 974 N",
    .toast = "La fila 4 está en banda",
    .dialog = "¿Salir de este intento?",
    .dialog_text = "Lo que hiciste queda en el diario. Puedes seguir desde aquí más tarde.",
    .settings = "Ajustes",
    .item = {"Tres filas, tramo corto", "Cinco filas, postes rígidos", "Diez filas, borde de terraza",
             "Reparar tras un desliz"},
    .item_more = {"Practicado hoy, 92 puntos", "Siguiente: orden de tensado", "Se abre tras cinco filas", "Nuevo"},
    .stage = "Etapa 6 de 11",
};

typedef struct state {
    const words *w;
    int mode, tab, rows, item;
    float speed;
    bool is_reduced, is_locked;
    char name[40];
    bool shows_dialog, shows_more;
} state;

static void top_bar(view_ui *ui, view_rect *all, const state *s)
{
    view_rect bar = view_cut_top(all, view_control_height(ui) + VIEW_GAP_4);
    view_fill_rect(ui->draw, bar, 0.0F, ui->theme->panel);
    view_hairline(ui, bar.x, bar.y + bar.h - 1.0F, bar.x + bar.w, bar.y + bar.h - 1.0F);
    view_rect row = view_inset_xy(bar, VIEW_GAP_4, VIEW_GAP_2);
    view_icon_button(ui, view_cut_left(&row, row.h), VIEW_ICON_BACK, view_word(ui, "ui.back"), NULL);
    view_icon_button(ui, view_cut_right(&row, row.h), VIEW_ICON_GEAR, s->w->settings, NULL);
    view_icon_button(ui, view_cut_right(&row, row.h), VIEW_ICON_QUESTION, view_word(ui, "ui.back"), NULL);
    view_progress_dots(ui, view_cut_right(&row, 330.0F), 11, 5);
    view_cut_left(&row, VIEW_GAP_3);
    view_label(ui, view_cut_left(&row, view_width_of(ui, VIEW_TITLE, s->w->title) + VIEW_GAP_4), VIEW_TITLE, VIEW_LEFT,
               ui->theme->ink, s->w->title);
    view_cut_right(&row, VIEW_GAP_4);
    view_label(ui, row, VIEW_BODY, VIEW_RIGHT, ui->theme->ink_soft, s->w->stage);
}

static void buttons(view_ui *ui, view_rect area, const state *s)
{
    const words *w = s->w;
    view_flow row = view_row(view_panel(ui, area), view_control_height(ui), VIEW_GAP_3);
    const view_button_spec start = {.look = VIEW_PRIMARY, .icon = VIEW_ICON_PLAY, .key = 'S', .key_hint = "S"};
    const view_button_spec retry = {.icon = VIEW_ICON_UNDO};
    const view_button_spec off = {.why_not = w->why, .icon = VIEW_ICON_LOCK};
    const view_button_spec primary_off = {.look = VIEW_PRIMARY, .why_not = w->why};
    const view_button_spec hold = {.look = VIEW_PRIMARY, .key = VIEW_KEY_SPACE, .key_hint = view_word(ui, "do.space")};
    view_button_with(ui, view_row_next(&row, view_button_width(ui, w->start, &start)), w->start, &start);
    view_button_with(ui, view_row_next(&row, view_button_width(ui, w->retry, &retry)), w->retry, &retry);
    view_button(ui, view_row_next(&row, view_button_width(ui, w->quiet, NULL)), w->quiet, VIEW_QUIET);
    view_button(ui, view_row_next(&row, view_button_width(ui, w->remove, NULL)), w->remove, VIEW_DANGER);
    view_button_with(ui, view_row_next(&row, view_button_width(ui, w->off, &off)), w->off, &off);
    view_button_with(ui, view_row_next(&row, view_button_width(ui, w->off, &primary_off)), w->off, &primary_off);
    view_hold_button(ui, view_row_next(&row, view_button_width(ui, w->hold, &hold)), w->hold, &hold);
}

static void values(view_ui *ui, view_rect area, state *s)
{
    const words *w = s->w;
    view_flow column = view_column(view_panel(ui, area), VIEW_GAP_4);
    const float height = view_control_height(ui);
    char rows[16];
    tr_format(rows, sizeof rows, "%d", s->rows);
    view_segments(ui, view_column_next(&column, height), w->mode, w->modes, 3, &s->mode);
    view_slider(ui, view_column_next(&column, view_slider_height(ui)), w->speed, (view_range){0, 3000, 50}, &s->speed,
                w->speed_text);
    view_stepper(ui, view_column_next(&column, height), w->rows, 3, 40, &s->rows, rows);
    view_toggle(ui, view_column_next(&column, height), w->toggle, &s->is_reduced, NULL);
    bool is_on = true;
    view_toggle(ui, view_column_next(&column, height), w->toggle, &is_on, NULL);
    view_toggle(ui, view_column_next(&column, height), w->locked, &s->is_locked, w->why);
    view_text_field(ui, view_column_next(&column, view_field_height(ui)), w->name, s->name, sizeof s->name, NULL);
}

static void list(view_ui *ui, view_rect area, state *s)
{
    const words *w = s->w;
    view_rect room = view_panel(ui, area);
    view_tabs(ui, view_cut_top(&room, view_control_height(ui) + VIEW_GAP_1), w->tabs, w->tab, 3, &s->tab);
    view_cut_top(&room, VIEW_GAP_3);
    const float height = view_line_of(ui, VIEW_STRONG) + view_line_of(ui, VIEW_CAPTION) + VIEW_GAP_4;
    const view_rect content = view_scroll_begin(ui, room, "list");
    view_flow column = view_column(content, VIEW_GAP_1);
    view_group_begin(ui);
    for (int i = 0; i < 8; i++) {
        view_push(ui, "item", i);
        view_rect in = view_list_row(ui, view_column_next(&column, height), w->item[i % 4], i == s->item, NULL).room;
        view_label(ui, view_cut_top(&in, view_line_of(ui, VIEW_STRONG)), VIEW_STRONG, VIEW_LEFT, ui->theme->ink,
                   w->item[i % 4]);
        view_label(ui, in, VIEW_CAPTION, VIEW_LEFT, ui->theme->ink_soft, w->item_more[i % 4]);
        view_pop(ui);
    }
    view_group_end(ui);
    view_scroll_end(ui, view_flow_height(&column));
}

static void icons(view_ui *ui, view_rect area)
{
    const view_rect room = view_panel(ui, area);
    for (int i = 1; i < VIEW_ICONS; i++) {
        const view_rect cell = view_split_x(room, VIEW_ICONS - 1, i - 1, 0.0F);
        view_icon_draw(ui->draw, (view_icon)i, cell.x + cell.w / 2.0F, cell.y + cell.h / 2.0F, 24.0F, ui->theme->ink);
    }
}

static void showing(view_ui *ui, view_rect area, const state *s)
{
    const view_theme *t = ui->theme;
    const words *w = s->w;
    view_rect room = view_panel(ui, area);
    view_cut_top(&room, view_heading(ui, room, VIEW_HEADING, w->title));
    view_cut_top(&room, view_paragraph(ui, room, VIEW_BODY, t->ink_soft, w->lead) + VIEW_GAP_4);
    view_cut_top(&room, view_banner(ui, room, view_word(ui, "ui.caution"), w->caution) + VIEW_GAP_4);
    view_label(ui, view_cut_top(&room, view_line_of(ui, VIEW_BODY)), VIEW_BODY, VIEW_LEFT, t->ink_soft, w->band);
    view_cut_top(&room, VIEW_GAP_2);
    view_meter(ui, view_cut_top(&room, 16.0F), 0.72F, 0.66F, 0.80F, t->good);
    view_cut_top(&room, VIEW_GAP_4);
    float x = room.x;
    x += view_tag(ui, x, room.y, VIEW_ICON_CHECK, t->good, t->good_soft, w->done) + VIEW_GAP_2;
    x += view_tag(ui, x, room.y, VIEW_ICON_WARNING, t->warn, t->warn_soft, w->done) + VIEW_GAP_2;
    view_tag(ui, x, room.y, VIEW_ICON_CROSS, t->bad, t->bad_soft, w->done);
    view_tag(ui, room.x, room.y + 34.0F * ui->text_scale, VIEW_ICON_CLOCK, t->accent, t->accent_soft, w->done);
}

/* A second page: cards, a field in trouble, things at their ends, a wide caution. */
static void more(view_ui *ui, state *s)
{
    const view_theme *t = ui->theme;
    const words *w = s->w;
    view_rect all = view_inset(ui->screen, VIEW_GAP_5);
    view_cut_top(&all, view_heading(ui, all, VIEW_HEADING, w->title));
    view_cut_top(&all, view_banner(ui, all, view_word(ui, "ui.caution"), w->caution) + VIEW_GAP_4);
    const view_rect cards = view_cut_top(&all, 120.0F * ui->text_scale);
    for (int i = 0; i < 4; i++) {
        view_push(ui, "card", i);
        view_rect in =
            view_card(ui, view_split_x(cards, 4, i, VIEW_GAP_4), w->item[i], i == 1, i == 3 ? w->why : NULL).room;
        view_label(ui, view_cut_top(&in, view_line_of(ui, VIEW_TITLE)), VIEW_TITLE, VIEW_LEFT, t->ink, w->item[i]);
        view_label(ui, view_cut_top(&in, view_line_of(ui, VIEW_BODY)), VIEW_BODY, VIEW_LEFT, t->ink_soft,
                   w->item_more[i]);
        view_tag(ui, in.x, in.y + VIEW_GAP_2, VIEW_ICON_CHECK, t->good, t->good_soft, w->done);
        view_pop(ui);
    }
    view_cut_top(&all, VIEW_GAP_4);
    view_rect left = view_split_x(all, 2, 0, VIEW_GAP_4);
    view_flow column = view_column(view_panel(ui, left), VIEW_GAP_3);
    view_text_field(ui, view_column_next(&column, view_field_height(ui)), w->name, s->name, sizeof s->name, w->why);
    int least = 3;
    view_stepper(ui, view_column_next(&column, view_control_height(ui)), w->rows, 3, 40, &least, "3");
    view_meter(ui, view_column_next(&column, 14.0F), 0.3F, 0.66F, 0.8F, t->warn);
    view_meter(ui, view_column_next(&column, 14.0F), 1.2F, 0.66F, 0.8F, t->bad);
    view_label(ui, view_column_next(&column, view_line_of(ui, VIEW_DISPLAY)), VIEW_DISPLAY, VIEW_LEFT, t->ink,
               "92 / 100");
    const view_rect right = view_split_x(all, 2, 1, VIEW_GAP_4);
    view_well(ui, right);
    const view_rect scroll = view_scroll_begin(ui, view_inset(right, VIEW_GAP_3), "text");
    float height = 0.0F;
    for (int i = 0; i < 9; i++) {
        height += view_paragraph(ui, (view_rect){scroll.x, scroll.y + height, scroll.w, 0.0F}, VIEW_BODY, t->ink,
                                 i % 2 ? w->lead : w->caution) +
                  VIEW_GAP_2;
    }
    view_scroll_end(ui, height);
}

static void frame(view_ui *ui, const view_input *input, const view_prefs *prefs, const tr_lang *lang, state *s)
{
    view_begin(ui, input, prefs, lang);
    if (s->shows_more) {
        more(ui, s);
        view_end(ui);
        return;
    }
    view_rect all = ui->screen;
    top_bar(ui, &all, s);
    all = view_inset(all, VIEW_GAP_5);
    buttons(ui,
            view_cut_top(&all, 2.0F * VIEW_GAP_4 + view_control_height(ui) * (prefs->text_scale > 1.2F ? 3.0F : 1.0F) +
                                   (prefs->text_scale > 1.2F ? 24.0F : 0.0F)),
            s);
    view_cut_top(&all, VIEW_GAP_4);
    icons(ui, view_cut_bottom(&all, 64.0F));
    view_cut_bottom(&all, VIEW_GAP_4);
    values(ui, view_split_x(all, 3, 0, VIEW_GAP_4), s);
    showing(ui, view_split_x(all, 3, 1, VIEW_GAP_4), s);
    list(ui, view_split_x(all, 3, 2, VIEW_GAP_4), s);
    if (s->shows_dialog) {
        view_dialog(ui, s->w->dialog, s->w->dialog_text, view_word(ui, "job.sign.ok"), view_word(ui, "job.cancel"));
    }
    view_end(ui);
}

typedef struct shot {
    const char *name, *lang;
    const words *w;
    view_prefs prefs;
    float width, height, scale;
    float mouse_x, mouse_y;
    int tabs;
    bool is_down, shows_dialog, shows_toast, shows_more;
} shot;

static tr_lang *load_lang(const char *code)
{
    char path[512];
    char why[TR_TEXT_CAP];
    char *text = NULL;
    size_t size = 0;
    tr_diags diags;
    tr_diags_clear(&diags);
    tr_lang *lang = tr_lang_open(code);
    tr_format(path, sizeof path, "%s/assets/lang/%s/ui.txt", TAUTROW_SOURCE, code);
    if (tr_file_read(path, TR_LANG_MAX_FILE, &text, &size, why, sizeof why) == TR_OK) {
        tr_lang_add(lang, text, size, &diags);
        free(text);
    }
    return lang;
}

static bool take(const shot *one, view_fonts *fonts, const char *folder)
{
    const view_metrics metrics = view_fonts_metrics(fonts);
    view_draw *draw = view_draw_open();
    view_ui ui;
    tr_lang *lang = load_lang(one->lang);
    state s = {
        .w = one->w,
        .rows = 10,
        .speed = 850,
        .item = 1,
        .name = "Inés Robledo",
        .shows_dialog = one->shows_dialog,
        .shows_more = one->shows_more,
    };
    view_input input = {.width = one->width,
                        .height = one->height,
                        .mouse_x = one->mouse_x,
                        .mouse_y = one->mouse_y,
                        .has_mouse = true,
                        .dt_s = 0.016F};
    view_ui_open(&ui, draw, &metrics);
    for (int i = 0; i < 40 + one->tabs; i++) {
        input.time_s += 0.05;
        input.keys = 0;
        if (i < one->tabs) {
            view_input_key(&input, VIEW_KEY_TAB, 0, false);
        }
        input.pressed[0] = one->is_down && i == 20;
        input.down[0] = one->is_down && i >= 20;
        if (one->shows_toast && i == 30) {
            view_toast(&ui, VIEW_ICON_CHECK, one->w->toast);
        }
        frame(&ui, &input, &one->prefs, lang, &s);
    }
    char path[512];
    char why[TR_TEXT_CAP] = "";
    tr_format(path, sizeof path, "%s/%s.png", folder, one->name);
    const tr_result result =
        view_shot(draw, fonts, one->width, one->height, one->scale, ui.theme->page, path, why, sizeof why);
    printf("%s: %zu shapes %s\n", path, view_draw_count(draw), why);
    view_ui_close(&ui);
    view_draw_close(draw);
    tr_lang_close(lang);
    return result == TR_OK;
}

int main(int argc, char **argv)
{
    const char *folder = argc > 1 ? argv[1] : ".";
    static const shot shots[] = {
        {.name = "en_rest", .lang = "en", .w = &english, .width = 1280, .height = 800, .scale = 1},
        {.name = "es_focus_2x", .lang = "es", .w = &spanish, .width = 1280, .height = 800, .scale = 2, .tabs = 6},
        {.name = "en_hover",
         .lang = "en",
         .w = &english,
         .width = 1280,
         .height = 800,
         .scale = 1,
         .mouse_x = 590,
         .mouse_y = 95,
         .shows_toast = true},
        {.name = "en_hover_2x",
         .lang = "en",
         .w = &english,
         .width = 1280,
         .height = 800,
         .scale = 2,
         .mouse_x = 660,
         .mouse_y = 95,
         .shows_toast = true},
        {.name = "es_dialog",
         .lang = "es",
         .w = &spanish,
         .width = 1280,
         .height = 800,
         .scale = 1,
         .shows_dialog = true,
         .tabs = 1},
        {.name = "es_more",
         .lang = "es",
         .w = &spanish,
         .width = 1280,
         .height = 800,
         .scale = 1,
         .shows_more = true,
         .tabs = 6,
         .mouse_x = 800,
         .mouse_y = 200},
        {.name = "en_small_window",
         .lang = "en",
         .w = &english,
         .width = 1024,
         .height = 640,
         .scale = 1,
         .shows_more = true,
         .tabs = 7},
        {.name = "en_contrast",
         .lang = "en",
         .w = &english,
         .width = 1280,
         .height = 800,
         .scale = 1,
         .prefs = {.theme = VIEW_THEME_CONTRAST},
         .tabs = 12},
        {.name = "es_large_text",
         .lang = "es",
         .w = &spanish,
         .width = 1280,
         .height = 1000,
         .scale = 1,
         .prefs = {.text_scale = 1.5F}},
    };
    char why[TR_TEXT_CAP] = "";
    view_fonts *fonts = NULL;
    if (view_fonts_open(NULL, 0, &fonts, why, sizeof why) != TR_OK) {
        fprintf(stderr, "%s\n", why);
        return 1;
    }
    bool is_good = true;
    for (size_t i = 0; i < sizeof shots / sizeof shots[0]; i++) {
        is_good = take(&shots[i], fonts, folder) && is_good;
    }
    view_fonts_close(fonts);
    return is_good ? 0 : 1;
}
