/* One line of typing. The text is the caller's; the caret and how far the text is moved left are kept by id. */
#include "tautrow/view/ui.h"

#include "ui_keep.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/text.h"

static bool is_inner(char c)
{
    return ((unsigned char)c & 0xC0U) == 0x80U;
}

static size_t before(const char *text, size_t at)
{
    while (at > 0 && is_inner(text[--at])) {
    }
    return at;
}

static size_t after(const char *text, size_t at)
{
    if (text[at] != '\0') {
        at++;
    }
    while (is_inner(text[at])) {
        at++;
    }
    return at;
}

static void cut(char *text, size_t from, size_t to)
{
    memmove(text + from, text + to, strlen(text + to) + 1);
}

/* Puts in what fits whole; returns its size. */
static size_t put(char *text, size_t cap, size_t at, const char *more)
{
    const size_t size = strlen(text);
    const size_t room = cap - 1 - size;
    const size_t wanted = strlen(more);
    const size_t kept = wanted <= room ? wanted : tr_utf8_whole(more, room);
    memmove(text + at + kept, text + at, size - at + 1);
    memcpy(text + at, more, kept);
    return kept;
}

static size_t edit_by_keys(view_ui *ui, char *text, size_t caret)
{
    while (view_key_take(ui, VIEW_KEY_BACKSPACE, 0)) {
        const size_t from = before(text, caret);
        cut(text, from, caret);
        caret = from;
    }
    while (view_key_take(ui, VIEW_KEY_DELETE, 0)) {
        cut(text, caret, after(text, caret));
    }
    while (view_key_take(ui, VIEW_KEY_LEFT, 0)) {
        caret = before(text, caret);
    }
    while (view_key_take(ui, VIEW_KEY_RIGHT, 0)) {
        caret = after(text, caret);
    }
    caret = view_key_take(ui, VIEW_KEY_HOME, 0) ? 0 : caret;
    caret = view_key_take(ui, VIEW_KEY_END, 0) ? strlen(text) : caret;
    view_key_take(ui, VIEW_KEY_SPACE, 0); /* it comes as text */
    return caret;
}

static float width_to(view_ui *ui, const char *text, size_t at)
{
    char part[512];
    tr_format(part, sizeof part, "%.*s", (int)(at < sizeof part ? at : sizeof part - 1), text);
    return view_width_of(ui, VIEW_BODY, part);
}

/* The caret's place nearest to x units from the start of the text. */
static size_t caret_at(view_ui *ui, const char *text, float x)
{
    size_t at = 0;
    while (text[at] != '\0') {
        const size_t next = after(text, at);
        if ((width_to(ui, text, at) + width_to(ui, text, next)) / 2.0F > x) {
            break;
        }
        at = next;
    }
    return at;
}

/* So far left that the caret is seen. */
static float shift_for(float shift, float caret_x, float room)
{
    return fmaxf(fminf(shift, caret_x), caret_x - room + 2.0F);
}

static void draw_box(view_ui *ui, view_rect box, view_react react, bool has_error)
{
    const view_theme *t = ui->theme;
    const view_color edge = has_error          ? t->bad
                            : react.is_focused ? t->accent
                            : react.is_hot     ? t->ink_soft
                                               : t->ink_faint;
    view_fill_rect(ui->draw, box, VIEW_RADIUS, t->panel);
    view_stroke_rect(ui->draw, box, VIEW_RADIUS, react.is_focused || has_error ? 1.5F : 1.0F, edge);
    if (react.shows_ring) {
        view_ring(ui, box, VIEW_RADIUS);
    }
}

/* The label, and at the right what is wrong with the text; without a head the error is a tooltip only. */
static void draw_head(view_ui *ui, view_rect head, const char *label, const char *error, const char *how)
{
    if (head.h < 1.0F) {
        return;
    }
    if (error != NULL) {
        const float words = fminf(ceilf(view_width_of(ui, VIEW_CAPTION, error)) + 1.0F, head.w * 0.6F);
        const float icon = 15.0F * ui->text_scale;
        view_label(ui, view_cut_right(&head, words), VIEW_CAPTION, VIEW_RIGHT, ui->theme->bad, error);
        const view_rect place = view_cut_right(&head, icon + VIEW_GAP_2);
        view_icon_draw(ui->draw, VIEW_ICON_WARNING, place.x + place.w / 2.0F, place.y + place.h / 2.0F, icon,
                       ui->theme->bad);
    }
    const float width = how != NULL ? ceilf(view_width_of(ui, VIEW_CAPTION, how)) + 1.0F : 0.0F;
    const float room = head.w - view_width_of(ui, VIEW_STRONG, label) - VIEW_GAP_3;
    if (how != NULL && error == NULL && width <= room) {
        view_label(ui, view_cut_right(&head, width), VIEW_CAPTION, VIEW_RIGHT, ui->theme->ink_soft, how);
    }
    view_label(ui, head, VIEW_STRONG, VIEW_LEFT, ui->theme->ink, label);
}

static void draw_text(view_ui *ui, view_rect room, const char *text, float shift, float caret_x, bool has_caret)
{
    const view_font font = view_font_of(ui, VIEW_BODY);
    view_clip_push(ui->draw, (view_rect){room.x - 2.0F, room.y, room.w + 4.0F, room.h});
    view_text(ui->draw, room.x - shift, view__baseline(room, font), font, VIEW_LEFT, ui->theme->ink, text);
    if (has_caret) {
        const float x = roundf(room.x - shift + caret_x);
        view_stroke_line(ui->draw, x, room.y + room.h * 0.2F, x, room.y + room.h * 0.8F, 1.5F, ui->theme->ink);
    }
    view_clip_pop(ui->draw);
}

float view_field_height(const view_ui *ui)
{
    return view_line_of(ui, VIEW_STRONG) + VIEW_GAP_1 + view_control_height(ui);
}

bool view_text_field(view_ui *ui, view_rect rect, const char *label, char *text, size_t cap, const char *error)
{
    view_rect box = rect;
    const view_rect head = view_cut_top(&box, fmaxf(0.0F, rect.h - view_control_height(ui)));
    const view_id id = view__id(ui, label);
    view__slot *slot = view__slot_of(ui, view__hash(id, "caret", 0));
    view__stop *stop = view__stop_add(ui, id, box);
    view_react react = view__touch(ui, id, box, true);
    react.is_focused = ui->focus == id && view__is_on_top(ui);
    react.shows_ring = react.is_focused && ui->keyboard_used;
    if (stop != NULL) {
        stop->is_text = true;
    }
    const view_rect room = view_inset_xy(box, VIEW_GAP_3, 0.0F);
    const size_t size = strlen(text);
    size_t caret = view__slot_is_fresh(ui, slot) || slot->v[0] > (float)size ? size : (size_t)slot->v[0];
    caret = tr_utf8_whole(text, caret);
    bool is_changed = false;
    if (react.is_focused) {
        caret = edit_by_keys(ui, text, caret);
        const size_t added = ui->input->text[0] != '\0' ? put(text, cap, caret, ui->input->text) : 0;
        caret += added;
        is_changed = added > 0 || strlen(text) != size;
    }
    const char *how = NULL;
    if (view__spell(ui, id, text, cap, &how)) {
        caret = strlen(text);
        is_changed = true;
    }
    if (react.is_down) {
        caret = caret_at(ui, text, ui->input->mouse_x - room.x + slot->v[1]);
    }
    const float caret_x = width_to(ui, text, caret);
    slot->time_s = ui->time_s;
    slot->v[0] = (float)caret;
    slot->v[1] = fmaxf(0.0F, shift_for(slot->v[1], caret_x, room.w));
    draw_box(ui, box, react, error != NULL);
    draw_text(ui, room, text, slot->v[1], caret_x, react.is_focused);
    draw_head(ui, (view_rect){head.x, head.y, head.w, head.h - VIEW_GAP_1}, label, error, how);
    view__explain(ui, react, box, error, NULL);
    return is_changed;
}
