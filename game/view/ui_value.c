/* What sets a value: toggle, segments, tabs, slider, stepper. Each is one Tab stop that the arrow keys work. */
#include "tautrow/view/ui.h"

#include "ui_keep.h"

#include <math.h>

/* ---- toggle -------------------------------------------------------------------------------------------------- */

static void draw_switch(view_ui *ui, view_rect rect, view_react react, bool is_on, bool is_enabled)
{
    const view_theme *t = ui->theme;
    const float shown = view_anim(ui, react.id, is_on ? 1.0F : 0.0F, 0.14F);
    const view_color rest = is_enabled ? view_mix(t->ink_faint, t->ink, react.is_hot ? 0.25F : 0.0F)
                                       : view_mix(t->ink_faint, t->inset, 0.6F);
    const view_color on = is_enabled ? view_mix(t->accent, t->accent_ink, react.is_hot ? 0.12F : 0.0F) : rest;
    const float radius = rect.h / 2.0F;
    const float x = rect.x + radius + (rect.w - rect.h) * shown;
    view_fill_rect(ui->draw, rect, radius, view_mix(rest, on, shown));
    view_fill_circle(ui->draw, x, rect.y + radius, radius - 3.0F, t->panel);
    if (shown > 0.5F) {
        view_icon_draw(ui->draw, VIEW_ICON_CHECK, x, rect.y + radius, rect.h * 0.5F,
                       is_enabled ? t->accent : t->ink_faint);
    }
}

bool view_toggle(view_ui *ui, view_rect rect, const char *label, bool *is_on, const char *why_not)
{
    const view_theme *t = ui->theme;
    const view_react react = view_place(ui, rect, label, why_not);
    const bool is_pressed = react.was_pressed && why_not == NULL;
    if (is_pressed) {
        *is_on = !*is_on;
    }
    view_rect rest = rect;
    const float height = roundf(22.0F * (0.6F + 0.4F * ui->text_scale));
    const view_rect right = view_cut_right(&rest, height * 1.85F);
    draw_switch(ui, view_centre_in(right, right.w, height), react, *is_on, why_not == NULL);
    rest.w -= VIEW_GAP_3;
    view_label(ui, rest, VIEW_STRONG, VIEW_LEFT, why_not == NULL ? t->ink : view_mix(t->ink_soft, t->panel, 0.35F),
               label);
    if (react.shows_ring) {
        view_ring(ui, right.h > height ? view_centre_in(right, right.w, height) : right, height / 2.0F);
    }
    return is_pressed;
}

/* ---- segments and tabs --------------------------------------------------------------------------------------- */

static int clamped(int value, int least, int most)
{
    return value < least ? least : value > most ? most : value;
}

typedef struct choosing {
    view_id id;
    bool is_changed, shows_ring;
} choosing;

/* The focus and the keys of a choice among few. */
static choosing choose_by_keys(view_ui *ui, view_rect rect, const char *label, int count, int *choice)
{
    choosing c = {.id = view__id(ui, label)};
    const int before = *choice;
    view__stop_add(ui, c.id, rect);
    const int pad = view__pad_steps(ui, c.id);
    if (ui->focus == c.id && view__is_on_top(ui)) {
        int steps = view__arrows(ui, false) + pad;
        while (view_key_take(ui, VIEW_KEY_DOWN, 0)) {
            steps++;
        }
        while (view_key_take(ui, VIEW_KEY_UP, 0)) {
            steps--;
        }
        *choice = view_key_take(ui, VIEW_KEY_HOME, 0)  ? 0
                  : view_key_take(ui, VIEW_KEY_END, 0) ? count - 1
                                                       : clamped(*choice + steps, 0, count - 1);
        c.shows_ring = ui->keyboard_used;
    }
    c.is_changed = *choice != before;
    return c;
}

static view_react choose_by_mouse(view_ui *ui, choosing *c, view_rect part, int index, int *choice)
{
    const view_react react = view__touch(ui, view__hash(c->id, "part", index), part, true);
    if (react.was_pressed) {
        view_focus(ui, c->id);
        c->is_changed = c->is_changed || *choice != index;
        *choice = index;
    }
    return react;
}

bool view_segments(view_ui *ui, view_rect rect, const char *label, const char *const options[], int count, int *choice)
{
    const view_theme *t = ui->theme;
    choosing c = choose_by_keys(ui, rect, label, count, choice);
    view_react react[16] = {0};
    for (int i = 0; i < count && i < 16; i++) {
        react[i] = choose_by_mouse(ui, &c, view_split_x(rect, count, i, 0.0F), i, choice);
    }
    view_fill_rect(ui->draw, rect, VIEW_RADIUS, t->inset);
    view_stroke_rect(ui->draw, rect, VIEW_RADIUS, 1.0F, t->ink_faint);
    const view_rect inner = view_inset(rect, 3.0F);
    const float at = view_anim(ui, c.id, (float)*choice, 0.14F);
    view_rect pill = view_split_x(inner, count, 0, 0.0F);
    pill.x += pill.w * at;
    view_fill_rect(ui->draw, (view_rect){pill.x, pill.y + 1.0F, pill.w, pill.h}, 4.0F, view_fade(t->ink, 0.10F));
    view_fill_rect(ui->draw, pill, 4.0F, t->panel);
    view_stroke_rect(ui->draw, pill, 4.0F, 1.5F, t->accent);
    for (int i = 0; i < count && i < 16; i++) {
        const view_rect part = view_split_x(inner, count, i, 0.0F);
        if (react[i].is_hot && i != *choice) {
            view_fill_rect(ui->draw, part, 4.0F, view_fade(t->ink, 0.05F));
        }
        view_label(ui, view_inset_xy(part, VIEW_GAP_1, 0.0F), VIEW_STRONG, VIEW_CENTRE,
                   i == *choice ? t->accent : t->ink_soft, options[i]);
    }
    if (c.shows_ring) {
        view_ring(ui, rect, VIEW_RADIUS);
    }
    return c.is_changed;
}

static float tab_width(const view_ui *ui, const char *option)
{
    return ceilf(view_width_of(ui, VIEW_STRONG, option)) + 2.0F * VIEW_GAP_4;
}

static float tabs_width(const view_ui *ui, const char *const options[], int count)
{
    float width = 0.0F;
    for (int i = 0; i < count; i++) {
        width += tab_width(ui, options[i]);
    }
    return width;
}

bool view_tabs(view_ui *ui, view_rect rect, const char *label, const char *const options[], int count, int *choice)
{
    const view_theme *t = ui->theme;
    choosing c = choose_by_keys(ui, rect, label, count, choice);
    view_hairline(ui, rect.x, rect.y + rect.h - 1.0F, rect.x + rect.w, rect.y + rect.h - 1.0F);
    const float fit = fminf(1.0F, rect.w / fmaxf(tabs_width(ui, options, count), 1.0F)); /* all stay reachable */
    float x = rect.x;
    view_rect current = {0};
    for (int i = 0; i < count; i++) {
        const float width = tab_width(ui, options[i]) * fit;
        const view_rect part = {x, rect.y, width, rect.h};
        const view_react react = choose_by_mouse(ui, &c, part, i, choice);
        if (react.is_hot && i != *choice) {
            view_fill_rect(ui->draw, (view_rect){part.x, part.y + 2.0F, part.w, part.h - 6.0F}, VIEW_RADIUS,
                           view_fade(t->ink, 0.05F));
        }
        view_label(ui, view_inset_xy(part, VIEW_GAP_1, 0.0F), VIEW_STRONG, VIEW_CENTRE,
                   i == *choice ? t->ink : t->ink_soft, options[i]);
        current = i == *choice ? part : current;
        x += width;
    }
    const float line_x = view_anim(ui, c.id, current.x, 0.16F);
    const float line_w = view_anim(ui, c.id + 1U, current.w, 0.16F);
    view_fill_rect(
        ui->draw,
        (view_rect){line_x + VIEW_GAP_3, rect.y + rect.h - 3.0F, fmaxf(0.0F, line_w - 2.0F * VIEW_GAP_3), 3.0F}, 1.5F,
        t->accent);
    if (c.shows_ring) {
        view_ring(ui, view_inset_xy(current, 2.0F, 5.0F), VIEW_RADIUS);
    }
    return c.is_changed;
}

/* ---- slider -------------------------------------------------------------------------------------------------- */

static float track_height(const view_ui *ui)
{
    (void)ui;
    return VIEW_MIN_TARGET;
}

float view_slider_height(const view_ui *ui)
{
    return view_line_of(ui, VIEW_STRONG) + track_height(ui);
}

static float stepped(view_range range, float value)
{
    if (range.step > 0.0F) {
        value = range.least + roundf((value - range.least) / range.step) * range.step;
    }
    return fminf(fmaxf(value, range.least), range.most);
}

static float slide_by_keys(view_ui *ui, view_range range, int pad_steps, float value)
{
    const float step = range.step > 0.0F ? range.step : (range.most - range.least) / 50.0F;
    value += step * (float)(view__arrows(ui, true) + pad_steps);
    while (view_key_take(ui, VIEW_KEY_PAGE_UP, 0)) {
        value += 10.0F * step;
    }
    while (view_key_take(ui, VIEW_KEY_PAGE_DOWN, 0)) {
        value -= 10.0F * step;
    }
    value = view_key_take(ui, VIEW_KEY_HOME, 0) ? range.least : value;
    return view_key_take(ui, VIEW_KEY_END, 0) ? range.most : value;
}

static void draw_track(view_ui *ui, view_rect track, view_react react, float share)
{
    const view_theme *t = ui->theme;
    const float thumb = 9.0F;
    const float y = roundf(track.y + track.h / 2.0F);
    const float x = track.x + thumb + (track.w - 2.0F * thumb) * share;
    const view_rect groove = {track.x + 1.0F, y - 3.0F, track.w - 2.0F, 6.0F};
    view_fill_rect(ui->draw, groove, 3.0F, t->inset);
    view_stroke_rect(ui->draw, groove, 3.0F, 1.0F, t->ink_faint);
    view_fill_rect(ui->draw, (view_rect){groove.x, groove.y, fmaxf(6.0F, x - groove.x), 6.0F}, 3.0F, t->accent);
    if (react.is_hot || react.is_down) {
        view_fill_circle(ui->draw, x, y, thumb + 4.0F, view_fade(t->accent, react.is_down ? 0.22F : 0.13F));
    }
    view_fill_circle(ui->draw, x, y + 1.0F, thumb, view_fade(t->ink, 0.15F));
    view_fill_circle(ui->draw, x, y, thumb, t->panel);
    view_stroke_circle(ui->draw, x, y, thumb - 1.0F, 2.0F, t->accent);
    if (react.shows_ring) {
        view_ring(ui, (view_rect){x - thumb, y - thumb, 2.0F * thumb, 2.0F * thumb}, thumb);
    }
}

bool view_slider(view_ui *ui, view_rect rect, const char *label, view_range range, float *value, const char *value_text)
{
    const view_theme *t = ui->theme;
    view_rect track = rect;
    const view_rect words = view_cut_top(&track, fmaxf(0.0F, rect.h - track_height(ui)));
    const view_react react = view__place(ui, view__id(ui, label), track, true);
    const int pad_steps = view__pad_steps(ui, react.id);
    const float before = *value;
    const float span = range.most - range.least;
    float now = before;
    const bool is_led = react.is_down && !view__finger_waits(ui);
    if (is_led) {
        view__keep_finger(ui, react.id);
    }
    if ((is_led || react.was_pressed) && track.w > 18.0F) {
        now = range.least + span * (ui->input->mouse_x - track.x - 9.0F) / (track.w - 18.0F);
    } else if (react.is_focused) {
        now = slide_by_keys(ui, range, pad_steps, now);
    }
    if (now != before) {
        *value = stepped(range, now);
    }
    draw_track(ui, track, react, span > 0.0F ? fminf(fmaxf((*value - range.least) / span, 0.0F), 1.0F) : 0.0F);
    if (words.h < 1.0F) { /* the caller has its own words */
        return *value != before;
    }
    view_rect left = words;
    if (value_text != NULL) {
        const float width = fminf(ceilf(view_width_of(ui, VIEW_STRONG, value_text)) + VIEW_GAP_1, words.w * 0.6F);
        view_label(ui, view_cut_right(&left, width), VIEW_STRONG, VIEW_RIGHT, t->ink, value_text);
    }
    view_label(ui, left, VIEW_STRONG, VIEW_LEFT, t->ink, label);
    return *value != before;
}

/* ---- stepper ------------------------------------------------------------------------------------------------- */

/* A press counts once, and again and again while held: after 0.45 s, every 0.09 s. */
static bool fires(view_ui *ui, view_react react)
{
    view__slot *slot = view__slot_of(ui, view__hash(react.id, "repeat", 0));
    if (!react.is_down) {
        slot->v[0] = 0.0F;
        return false;
    }
    ui->wants_frame = true;
    if (slot->v[0] == 0.0F) {
        slot->v[0] = 1.0F;
        slot->time_s = ui->time_s + 0.45;
        return true;
    }
    if (ui->time_s < slot->time_s) {
        return false;
    }
    slot->time_s = ui->time_s + 0.09;
    return true;
}

static int step_part(view_ui *ui, view_id id, view_rect part, view_icon icon, bool is_enabled)
{
    const view_react react = view__touch(ui, view__hash(id, "part", (int)icon), part, is_enabled);
    view__keep_finger(ui, react.id);
    const view__skin skin = view__skin_of(ui, VIEW_SECONDARY, react, is_enabled);
    view__draw_skin(ui, part, skin, is_enabled && !react.is_down);
    view_icon_draw(ui->draw, icon, part.x + part.w / 2.0F, part.y + part.h / 2.0F,
                   fminf(part.h * 0.55F, 20.0F * ui->text_scale), skin.ink);
    const bool is_fired = fires(ui, react) && is_enabled;
    if (is_fired) {
        view_focus(ui, id);
    }
    return is_fired ? 1 : 0;
}

bool view_stepper(view_ui *ui, view_rect rect, const char *label, int least, int most, int *value,
                  const char *value_text)
{
    const view_theme *t = ui->theme;
    const view_id id = view__id(ui, label);
    const int before = *value;
    view_rect left = rect;
    const float side = fmaxf(fminf(rect.h, view_control_height(ui)), VIEW_MIN_TARGET);
    const float middle = fmaxf(52.0F * ui->text_scale, ceilf(view_width_of(ui, VIEW_STRONG, value_text)) + VIEW_GAP_4);
    const view_rect hands = view_cut_right(&left, fminf(2.0F * side + middle, rect.w));
    view_rect room = view_centre_in(hands, hands.w, side);
    view__stop_add(ui, id, room);
    const bool is_focused = ui->focus == id && view__is_on_top(ui);
    int steps = view__pad_steps(ui, id) + (is_focused ? view__arrows(ui, true) : 0);
    steps -= step_part(ui, id, view_cut_left(&room, side), VIEW_ICON_MINUS, *value > least);
    steps += step_part(ui, id, view_cut_right(&room, side), VIEW_ICON_PLUS, *value < most);
    *value = clamped(*value + steps, least, most);
    if (is_focused && view_key_take(ui, VIEW_KEY_HOME, 0)) {
        *value = least;
    }
    if (is_focused && view_key_take(ui, VIEW_KEY_END, 0)) {
        *value = most;
    }
    view_label(ui, room, VIEW_STRONG, VIEW_CENTRE, t->ink, value_text);
    left.w -= VIEW_GAP_2;
    view_label(ui, left, VIEW_STRONG, VIEW_LEFT, t->ink, label);
    if (is_focused && ui->keyboard_used) {
        view_ring(ui, view_centre_in(hands, hands.w, side), VIEW_RADIUS);
    }
    return *value != before;
}
