/* What can be pressed: buttons, triggers, the drag pad, list rows. */
#include "tautrow/view/ui.h"

#include "ui_keep.h"

#include <math.h>

/* ---- the look of a button ------------------------------------------------------------------------------------ */

view_color view__disabled_ink(const view_theme *theme)
{
    return view_mix(theme->ink_soft, theme->inset, 0.2F); /* 3:1 even on the darker cap of a key hint */
}

static view__skin primary(const view_theme *t)
{
    return (view__skin){.fill = t->accent, .edge = view_mix(t->accent, t->ink, 0.25F), .ink = t->accent_ink};
}

static view__skin skin_at_rest(const view_theme *t, view_look look)
{
    switch (look) {
    case VIEW_PRIMARY:
        return primary(t);
    case VIEW_QUIET:
        return (view__skin){.fill = view_fade(t->ink, 0.0F), .edge = view_fade(t->ink, 0.0F), .ink = t->ink};
    case VIEW_DANGER:
        return (view__skin){.fill = t->panel, .edge = t->bad, .ink = t->bad};
    case VIEW_SECONDARY:
        break;
    }
    return (view__skin){.fill = t->panel, .edge = t->ink_faint, .ink = t->ink};
}

view__skin view__skin_of(const view_ui *ui, view_look look, view_react react, bool is_enabled)
{
    const view_theme *t = ui->theme;
    view__skin skin = skin_at_rest(t, look);
    if (!is_enabled) {
        const view_color ground = look == VIEW_QUIET ? view_fade(t->inset, 0.0F) : t->inset;
        return (view__skin){
            .fill = ground, .edge = view_mix(t->inset, t->panel_edge, 0.7F), .ink = view__disabled_ink(t)};
    }
    if (look == VIEW_QUIET) {
        skin.fill = view_fade(t->ink, react.is_down ? 0.13F : react.is_hot ? 0.07F : 0.0F);
    } else if (look == VIEW_PRIMARY) {
        skin.fill = react.is_down  ? view_mix(t->accent, t->ink, 0.28F)
                    : react.is_hot ? view_mix(t->accent, t->accent_ink, 0.12F)
                                   : t->accent;
    } else if (react.is_down || react.is_hot) {
        const view_color tint = look == VIEW_DANGER ? t->bad_soft : t->accent_soft;
        skin.fill = view_mix(t->panel, tint, react.is_down ? 1.0F : 0.55F);
        skin.edge = look == VIEW_DANGER ? t->bad : t->accent;
    }
    return skin;
}

void view__draw_skin(view_ui *ui, view_rect rect, view__skin skin, bool is_raised)
{
    if (is_raised) { /* one soft line below: enough to say "can be pressed" */
        view_fill_rect(ui->draw, (view_rect){rect.x, rect.y + 1.5F, rect.w, rect.h}, VIEW_RADIUS,
                       view_fade(ui->theme->ink, 0.09F));
    }
    view_fill_rect(ui->draw, rect, VIEW_RADIUS, skin.fill);
    view_stroke_rect(ui->draw, rect, VIEW_RADIUS, 1.0F, skin.edge);
}

void view_ring(view_ui *ui, view_rect rect, float radius)
{
    const view_rect around = {rect.x - 3.0F, rect.y - 3.0F, rect.w + 6.0F, rect.h + 6.0F};
    view_stroke_rect(ui->draw, around, radius + 3.0F, 2.0F, ui->theme->focus);
}

/* ---- buttons ------------------------------------------------------------------------------------------------- */

static const view_button_spec plain;

static float icon_size(const view_ui *ui)
{
    return 18.0F * ui->text_scale;
}

/* The key's name on what is in the hand: none on a finger. */
static const char *hint_of(const view_ui *ui, const view_button_spec *s)
{
    return view_key_hint(ui, s->key, s->key_hint);
}

static float hint_width(const view_ui *ui, const char *hint)
{
    return hint == NULL ? 0.0F : fmaxf(view_width_of(ui, VIEW_CAPTION, hint) + 10.0F, 20.0F);
}

float view_button_width(const view_ui *ui, const char *label, const view_button_spec *spec)
{
    const view_button_spec *s = spec != NULL ? spec : &plain;
    float width = ceilf(view_width_of(ui, VIEW_STRONG, label)) + 2.0F * VIEW_GAP_4;
    width += s->icon != VIEW_ICON_NONE ? icon_size(ui) + VIEW_GAP_2 : 0.0F;
    width += hint_of(ui, s) != NULL ? hint_width(ui, hint_of(ui, s)) + VIEW_GAP_2 : 0.0F;
    return fmaxf(width, 64.0F);
}

static void draw_hint(view_ui *ui, float x, view_rect rect, view_color ink, const char *hint)
{
    const float height = view_line_of(ui, VIEW_CAPTION) + 2.0F;
    const view_rect cap = {x, roundf(rect.y + (rect.h - height) / 2.0F), hint_width(ui, hint), height};
    view_fill_rect(ui->draw, cap, 4.0F, view_fade(ink, 0.10F));
    view_stroke_rect(ui->draw, cap, 4.0F, 1.0F, view_fade(ink, 0.45F));
    view_label(ui, cap, VIEW_CAPTION, VIEW_CENTRE, ink, hint);
}

/* Icon, words and key hint as one block in the middle. The hint gives way first, then the size of the letters. */
static void draw_content(view_ui *ui, view_rect rect, const char *label, const view_button_spec *s, view_color ink)
{
    const float icon = s->icon != VIEW_ICON_NONE ? icon_size(ui) + VIEW_GAP_2 : 0.0F;
    const char *key = hint_of(ui, s);
    const float wanted = view_width_of(ui, VIEW_STRONG, label);
    const float all = fmaxf(0.0F, rect.w - 2.0F * VIEW_GAP_2 - icon);
    float hint = key != NULL ? hint_width(ui, key) + VIEW_GAP_2 : 0.0F;
    hint = wanted + hint <= all + 0.5F ? hint : 0.0F;
    const float words = fminf(wanted, all);
    float x = roundf(rect.x + (rect.w - words - icon - hint) / 2.0F);
    if (s->icon != VIEW_ICON_NONE) {
        view_icon_draw(ui->draw, s->icon, x + icon_size(ui) / 2.0F, rect.y + rect.h / 2.0F, icon_size(ui), ink);
        x += icon;
    }
    view_label(ui, (view_rect){x, rect.y, words, rect.h}, VIEW_STRONG, VIEW_LEFT, ink, label);
    if (hint > 0.0F) {
        draw_hint(ui, x + words + VIEW_GAP_2, rect, ink, key);
    }
}

static void draw_button(view_ui *ui, view_rect rect, const char *label, const view_button_spec *s, view_react react)
{
    const bool is_enabled = s->why_not == NULL;
    const view__skin skin = view__skin_of(ui, s->look, react, is_enabled);
    view__draw_skin(ui, rect, skin, is_enabled && s->look != VIEW_QUIET && !react.is_down);
    draw_content(ui, rect, label, s, skin.ink);
    if (react.shows_ring) {
        view_ring(ui, rect, VIEW_RADIUS);
    }
}

static view_react place(view_ui *ui, view_rect rect, const char *label, const view_button_spec *s)
{
    const view_react react = view__place(ui, view__id(ui, label), rect, s->why_not == NULL);
    view__stop *stop = view__last_stop(ui, react.id);
    if (stop != NULL) {
        stop->is_primary = s->look == VIEW_PRIMARY && s->why_not == NULL;
    }
    return react;
}

bool view_button_with(view_ui *ui, view_rect rect, const char *label, const view_button_spec *spec)
{
    const bool is_enabled = spec->why_not == NULL;
    view_react react = place(ui, rect, label, spec);
    if (is_enabled && react.shows_ring) {
        react.is_down = react.is_down || ui->input->held[VIEW_KEY_SPACE] || ui->input->held[VIEW_KEY_ENTER];
        react.was_pressed = view__takes_activation(ui) || react.was_pressed;
    }
    if (is_enabled && spec->key != 0) {
        const bool is_free = view__key_is_free(ui, spec->key, react.id);
        react.was_pressed =
            (is_free && view_shortcut(ui, spec->key)) || view__pad_take(ui, spec->key) || react.was_pressed;
    }
    draw_button(ui, rect, label, spec, react);
    view__explain(ui, react, rect, spec->why_not, spec->tip);
    return react.was_pressed && is_enabled;
}

bool view_button(view_ui *ui, view_rect rect, const char *label, view_look look)
{
    return view_button_with(ui, rect, label, &(view_button_spec){.look = look});
}

bool view_icon_button(view_ui *ui, view_rect rect, view_icon icon, const char *label, const char *why_not)
{
    const view_react react = view_place(ui, rect, label, why_not);
    const view__skin skin = view__skin_of(ui, VIEW_QUIET, react, why_not == NULL);
    view__draw_skin(ui, rect, skin, false);
    view_icon_draw(ui->draw, icon, rect.x + rect.w / 2.0F, rect.y + rect.h / 2.0F,
                   fminf(icon_size(ui) * 1.1F, rect.h * 0.66F), skin.ink);
    if (react.shows_ring) {
        view_ring(ui, rect, VIEW_RADIUS);
    }
    view__explain(ui, react, rect, why_not, label);
    return react.was_pressed && why_not == NULL;
}

/* ---- holding ------------------------------------------------------------------------------------------------- */

/* Begin, hold and end of a press whose state now is is_down. A widget that was away for a frame starts anew. */
static view_hold follow(view_ui *ui, view_id id, bool is_down)
{
    view__slot *slot = view__slot_of(ui, view__hash(id, "hold", 0));
    const float frame = (float)(ui->keep->frame & 0xFFFFU);
    const bool was_down = slot->v[0] > 0.5F && (slot->v[1] + 1.0F == frame || frame == 0.0F);
    if (is_down && !was_down) {
        slot->time_s = ui->time_s;
    }
    slot->v[0] = is_down ? 1.0F : 0.0F;
    slot->v[1] = frame;
    ui->wants_frame = ui->wants_frame || is_down;
    return (view_hold){.is_down = is_down,
                       .has_begun = is_down && !was_down,
                       .has_ended = was_down && !is_down,
                       .held_s = is_down || was_down ? (float)(ui->time_s - slot->time_s) : 0.0F};
}

static bool key_is_held(const view_ui *ui, int key)
{
    return key > 0 && key < VIEW_KEYS && ui->input->held[key] && view__is_on_top(ui) && !ui->keep->focus_is_text;
}

view_hold view_hold_button(view_ui *ui, view_rect rect, const char *label, const view_button_spec *spec)
{
    const view_button_spec *s = spec != NULL ? spec : &plain;
    const bool is_enabled = s->why_not == NULL;
    view_react react = place(ui, rect, label, s);
    view__keep_finger(ui, react.id);
    if (react.is_focused) {
        view__takes_activation(ui);
        react.is_down = react.is_down || key_is_held(ui, VIEW_KEY_SPACE) || key_is_held(ui, VIEW_KEY_ENTER);
    }
    if (s->key != 0 && view__key_is_free(ui, s->key, react.id)) {
        view_shortcut(ui, s->key);
        react.is_down = react.is_down || key_is_held(ui, s->key);
    }
    react.is_down = react.is_down || view__pad_held(ui, s->key); /* a trigger is never meant for the focus */
    react.is_down = react.is_down && is_enabled;
    draw_button(ui, rect, label, s, react);
    view__explain(ui, react, rect, s->why_not, react.is_down ? NULL : s->tip);
    return follow(ui, react.id, react.is_down);
}

/* ---- list rows ----------------------------------------------------------------------------------------------- */

view_item view_list_row(view_ui *ui, view_rect rect, const char *label, bool is_selected, const char *why_not)
{
    const view_theme *t = ui->theme;
    const view_react react = view_place(ui, rect, label, why_not);
    view__stop *stop = view__last_stop(ui, react.id);
    if (stop != NULL) {
        stop->is_preferred = is_selected;
    }
    if (is_selected) {
        view_fill_rect(ui->draw, rect, VIEW_RADIUS, t->accent_soft);
        view_stroke_rect(ui->draw, rect, VIEW_RADIUS, 1.0F, t->accent);
        view_fill_rect(ui->draw, (view_rect){rect.x + 5.0F, rect.y + 8.0F, 4.0F, fmaxf(0.0F, rect.h - 16.0F)}, 2.0F,
                       t->accent);
    } else if ((react.is_hot || react.is_down) && why_not == NULL) {
        view_fill_rect(ui->draw, rect, VIEW_RADIUS, view_fade(t->ink, react.is_down ? 0.10F : 0.05F));
    }
    if (react.shows_ring) {
        view_ring(ui, view_inset(rect, 3.0F), VIEW_RADIUS - 3.0F);
    }
    return (view_item){react, view_inset_xy(rect, VIEW_GAP_4, VIEW_GAP_2)};
}

view_item view_card(view_ui *ui, view_rect rect, const char *label, bool is_selected, const char *why_not)
{
    const view_theme *t = ui->theme;
    const view_react react = view_place(ui, rect, label, why_not);
    const bool is_lit = (react.is_hot || react.is_down) && why_not == NULL;
    view_shadow(ui, rect, VIEW_RADIUS_CARD, why_not != NULL ? 0.0F : is_lit && !react.is_down ? 13.0F : 8.0F);
    view_fill_rect(ui->draw, rect, VIEW_RADIUS_CARD,
                   is_selected       ? t->accent_soft
                   : why_not != NULL ? t->page
                                     : t->panel);
    view_stroke_rect(ui->draw, rect, VIEW_RADIUS_CARD, is_selected ? 1.5F : 1.0F,
                     is_selected || is_lit ? t->accent : t->panel_edge);
    if (react.shows_ring) {
        view_ring(ui, rect, VIEW_RADIUS_CARD);
    }
    return (view_item){react, view_inset(rect, VIEW_GAP_4)};
}
