/* Areas: clips, scroll areas, dialogs. */
#include "tautrow/view/ui.h"

#include "ui_keep.h"

#include <math.h>

#include "tautrow/base/assert.h"

#define BAR        24.0F /* room kept for the bar: a target wide enough for a finger */
#define WHEEL_STEP 54.0F
#define RING       5.0F

/* ---- clips --------------------------------------------------------------------------------------------------- */

void view_clip_begin(view_ui *ui, view_rect rect)
{
    struct view_ui_keep *keep = ui->keep;
    TR_ASSERT(keep->clips + 1 < VIEW__DEPTH);
    keep->clip[keep->clips + 1] = view__rect_meet(keep->clip[keep->clips], rect);
    keep->clips++;
    view_clip_push(ui->draw, rect);
}

void view_clip_end(view_ui *ui)
{
    TR_ASSERT(ui->keep->clips > 0);
    ui->keep->clips--;
    view_clip_pop(ui->draw);
}

/* ---- scrolling ----------------------------------------------------------------------------------------------- */

/* The slot of a scroll area: v[0] offset, v[1] height of the content, v[2] 1 when something in it can have the focus,
 * v[3] where in the thumb it was taken. */
static float overflow(const view__slot *slot, view_rect port)
{
    return fmaxf(0.0F, slot->v[1] - port.h);
}

/* An area in which nothing can have the focus has it itself, so that the keyboard can move it. */
static void scroll_by_itself(view_ui *ui, view_id id, view_rect rect, view__slot *slot)
{
    if (slot->v[2] > 0.5F || overflow(slot, rect) <= 0.0F) {
        return;
    }
    view__stop_add(ui, id, rect);
    if (ui->focus == id && view__is_on_top(ui)) {
        while (view_key_take(ui, VIEW_KEY_DOWN, 0)) {
            slot->v[0] += WHEEL_STEP;
        }
        while (view_key_take(ui, VIEW_KEY_UP, 0)) {
            slot->v[0] -= WHEEL_STEP;
        }
    }
}

view_rect view_scroll_begin(view_ui *ui, view_rect rect, const char *label)
{
    struct view_ui_keep *keep = ui->keep;
    TR_ASSERT(keep->scrolls + 1 < VIEW__DEPTH);
    const view_id id = view__id(ui, label);
    view__slot *slot = view__slot_of(ui, id);
    slot->time_s = ui->time_s;
    scroll_by_itself(ui, id, rect, slot);
    slot->v[0] = fminf(fmaxf(slot->v[0], 0.0F), overflow(slot, rect));
    keep->scroll[++keep->scrolls] = (view__scroll){.id = id, .port = rect, .stops_before = keep->stops};
    /* a focus ring lies around its control, and a control may fill the whole width */
    view_clip_begin(ui, (view_rect){rect.x - RING, rect.y, rect.w + 2.0F * RING, rect.h});
    const float bar = overflow(slot, rect) > 0.0F ? BAR : 0.0F;
    return (view_rect){rect.x, roundf(rect.y - slot->v[0]), rect.w - bar, fmaxf(rect.h, slot->v[1])};
}

static view_rect thumb_of(const view__slot *slot, view_rect port)
{
    const float height = fmaxf(32.0F, port.h * port.h / fmaxf(slot->v[1], 1.0F));
    const float share = slot->v[0] / fmaxf(overflow(slot, port), 1.0F);
    return (view_rect){port.x + port.w - BAR, port.y + (port.h - height) * share, BAR, height};
}

/* Dragging keeps the place where the thumb was taken under the pointer; pressing beside it takes it by its middle. */
static void drag_bar(view_ui *ui, view_id id, view_rect port, view__slot *slot)
{
    const view_rect gutter = {port.x + port.w - BAR, port.y, BAR, port.h};
    ui->keep->label = "scroll bar"; /* it has no words, and is no part of the widget drawn last */
    const view_react react = view__touch(ui, view__hash(id, "bar", 0), gutter, true);
    view__keep_finger(ui, react.id);
    view_rect thumb = thumb_of(slot, port);
    const float y = ui->input->mouse_y;
    if (react.is_down) {
        if (ui->keep->active_frames == 0) {
            const bool is_on_thumb = view_rect_has(thumb, thumb.x, y);
            slot->v[3] = is_on_thumb ? y - thumb.y : thumb.h / 2.0F;
        }
        const float way = fmaxf(port.h - thumb.h, 1.0F);
        const float share = fminf(fmaxf((y - slot->v[3] - port.y) / way, 0.0F), 1.0F);
        slot->v[0] = share * overflow(slot, port);
        ui->wants_frame = true;
        thumb = thumb_of(slot, port);
    }
    const view_theme *t = ui->theme;
    const float width = react.is_hot || react.is_down ? 10.0F : 7.0F;
    const view_color color = react.is_down ? t->ink_soft : t->ink_faint;
    const view_rect bar = {thumb.x + BAR - 4.0F - width, thumb.y + 3.0F, width, thumb.h - 6.0F};
    view_fill_rect(ui->draw, bar, width / 2.0F, color);
}

static void turn_wheel(view_ui *ui, view_rect port, view__slot *slot)
{
    if (!ui->keep->takes_wheel || !view__is_over(ui, port)) {
        return;
    }
    const float before = slot->v[0];
    slot->v[0] = fminf(fmaxf(before - ui->input->wheel * WHEEL_STEP, 0.0F), overflow(slot, port));
    if (slot->v[0] != before) { /* at its end an inner area lets the outer one move */
        ui->keep->takes_wheel = false;
        ui->wants_frame = true;
    }
}

static void drag_by_finger(view_ui *ui, const view__scroll *scroll, view__slot *slot)
{
    const float by = view_finger_drag(ui, scroll->id, scroll->port, overflow(slot, scroll->port) > 0.0F);
    slot->v[0] -= by;
    ui->wants_frame = ui->wants_frame || by != 0.0F;
}

static bool has_focus_inside(const view_ui *ui, const view__scroll *scroll)
{
    for (size_t i = scroll->stops_before; i < ui->keep->stops; i++) {
        if (ui->keep->stop[i].id == ui->focus) {
            return true;
        }
    }
    return ui->focus == scroll->id;
}

static void turn_pages(view_ui *ui, const view__scroll *scroll, view__slot *slot)
{
    if (!has_focus_inside(ui, scroll)) {
        return;
    }
    while (view_key_take(ui, VIEW_KEY_PAGE_DOWN, 0)) {
        slot->v[0] += scroll->port.h * 0.85F;
        ui->wants_frame = true;
    }
    while (view_key_take(ui, VIEW_KEY_PAGE_UP, 0)) {
        slot->v[0] -= scroll->port.h * 0.85F;
        ui->wants_frame = true;
    }
    while (view_key_take(ui, VIEW_STICK2_DOWN, 0)) {
        slot->v[0] += WHEEL_STEP;
        ui->wants_frame = true;
    }
    while (view_key_take(ui, VIEW_STICK2_UP, 0)) {
        slot->v[0] -= WHEEL_STEP;
        ui->wants_frame = true;
    }
}

/* A soft edge where there is more to come. */
static void mark_ends(view_ui *ui, view_rect port, const view__slot *slot)
{
    const view_color shade = view_fade(ui->theme->ink, 0.10F);
    const view_color clear = view_fade(ui->theme->ink, 0.0F);
    const float width = port.w - BAR;
    if (slot->v[0] > 0.5F) {
        view_fill_gradient(ui->draw, (view_rect){port.x, port.y, width, 8.0F}, 0.0F, shade, clear);
    }
    if (slot->v[0] < overflow(slot, port) - 0.5F) {
        view_fill_gradient(ui->draw, (view_rect){port.x, port.y + port.h - 8.0F, width, 8.0F}, 0.0F, clear, shade);
    }
}

void view_scroll_end(view_ui *ui, float content_height)
{
    struct view_ui_keep *keep = ui->keep;
    TR_ASSERT(keep->scrolls > 0);
    const view__scroll scroll = keep->scroll[keep->scrolls--];
    view__slot *slot = view__slot_of(ui, scroll.id);
    if (slot->v[1] != content_height) {
        slot->v[1] = content_height;
        ui->wants_frame = true; /* the bar may come or go */
    }
    slot->v[2] = keep->stops > scroll.stops_before ? 1.0F : 0.0F;
    turn_wheel(ui, scroll.port, slot);
    drag_by_finger(ui, &scroll, slot);
    turn_pages(ui, &scroll, slot);
    slot->v[0] = fminf(fmaxf(slot->v[0], 0.0F), overflow(slot, scroll.port));
    if (overflow(slot, scroll.port) > 0.0F) {
        mark_ends(ui, scroll.port, slot);
        drag_bar(ui, scroll.id, scroll.port, slot);
    }
    view_clip_end(ui);
    if (ui->focus == scroll.id && ui->keyboard_used && view__is_on_top(ui)) {
        view_ring(ui, scroll.port, VIEW_RADIUS);
    }
}

/* ---- dialogs ------------------------------------------------------------------------------------------------- */

view_rect view_modal_begin(view_ui *ui, const char *title, float width, float height)
{
    struct view_ui_keep *keep = ui->keep;
    TR_ASSERT(keep->layer + 1 < VIEW__LAYERS && keep->clips == 0);
    keep->layer++;
    keep->layers = keep->layer;
    keep->group = 0;
    view_push(ui, title, keep->layer);
    view_fill_rect(ui->draw, ui->screen, 0.0F, view_fade(ui->theme->ink, 0.45F));
    const float w = fminf(width, ui->screen.w - 2.0F * VIEW_GAP_5);
    const float h = fminf(height, ui->screen.h - 2.0F * VIEW_GAP_5);
    view_rect card = view_centre_in(ui->screen, roundf(w), roundf(h));
    card.x = roundf(card.x);
    card.y = roundf(card.y);
    view_shadow(ui, card, VIEW_RADIUS_CARD, 16.0F);
    view_fill_rect(ui->draw, card, VIEW_RADIUS_CARD, ui->theme->panel);
    view_stroke_rect(ui->draw, card, VIEW_RADIUS_CARD, 1.0F, ui->theme->panel_edge);
    view_rect room = view_inset(card, VIEW_GAP_5);
    view_cut_top(&room, view_heading(ui, room, VIEW_TITLE, title));
    return room;
}

bool view_modal_end(view_ui *ui)
{
    const bool wants_out = view_key_take(ui, VIEW_KEY_ESCAPE, 0);
    view_pop(ui);
    TR_ASSERT(ui->keep->layer > 0);
    ui->keep->layer--;
    return wants_out;
}

view_answer view_dialog(view_ui *ui, const char *title, const char *text, const char *ok, const char *cancel)
{
    const float width = 460.0F * (0.5F + 0.5F * ui->text_scale);
    const float inner = fminf(width, ui->screen.w - 2.0F * VIEW_GAP_5) - 2.0F * VIEW_GAP_5;
    const float body = view_paragraph_height(ui, inner, VIEW_BODY, text);
    const float head = view_paragraph_height(ui, inner, VIEW_TITLE, title) + VIEW_GAP_2;
    const float foot = view_control_height(ui);
    view_rect room = view_modal_begin(ui, title, width, head + body + foot + 3.0F * VIEW_GAP_5);
    view_paragraph(ui, room, VIEW_BODY, ui->theme->ink_soft, text);
    view_rect line = view_cut_bottom(&room, foot);
    view_answer answer = VIEW_NO_ANSWER;
    const view_rect ok_rect = view_cut_right(&line, fmaxf(96.0F, view_button_width(ui, ok, NULL)));
    view_cut_right(&line, VIEW_GAP_3);
    if (cancel != NULL && view_button(ui, view_cut_right(&line, fmaxf(96.0F, view_button_width(ui, cancel, NULL))),
                                      cancel, VIEW_SECONDARY)) {
        answer = VIEW_CANCEL;
    }
    const view_button_spec primary = {.look = VIEW_PRIMARY, .key = VIEW_KEY_ENTER};
    if (view_button_with(ui, ok_rect, ok, &primary)) {
        answer = VIEW_OK;
    }
    if (view_modal_end(ui) && answer == VIEW_NO_ANSWER) {
        answer = cancel != NULL ? VIEW_CANCEL : VIEW_OK;
    }
    return answer;
}
