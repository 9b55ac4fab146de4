/* The frame of the widgets: ids, what the pointer is over, who has the focus, and the small numbers kept by id.
 *
 * A press is given to the widget that was drawn last under the pointer, which is known only when the frame ends: it
 * answers from the next frame on. So widgets may overlap, and a click shorter than a frame is not lost. */
#include "tautrow/view/ui.h"

#include "ui_keep.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"

/* ---- ids and slots ------------------------------------------------------------------------------------------- */

view_id view__hash(view_id parent, const char *label, int index)
{
    uint32_t hash = (2166136261U ^ parent) * 16777619U;
    for (const char *c = label; *c != '\0'; c++) { /* FNV-1a */
        hash = (hash ^ (unsigned char)*c) * 16777619U;
    }
    hash = (hash ^ (uint32_t)index) * 16777619U;
    return hash != 0 ? hash : 1;
}

static view_id parent_of(const view_ui *ui)
{
    return ui->keep->stack[ui->keep->depth];
}

view_id view_id_of(const view_ui *ui, const char *label)
{
    return view__hash(parent_of(ui), label, 0);
}

/* How often raw has been used before in this frame. */
static uint32_t uses_before(struct view_ui_keep *keep, view_id raw)
{
    for (uint32_t probe = 0; probe < VIEW__SEEN; probe++) {
        view__seen *seen = &keep->seen[(raw + probe) % VIEW__SEEN];
        if (seen->frame != keep->frame) {
            *seen = (view__seen){.id = raw, .frame = keep->frame, .count = 1};
            return 0;
        }
        if (seen->id == raw) {
            return seen->count++;
        }
    }
    return 0;
}

view_id view__id(view_ui *ui, const char *label)
{
    const view_id raw = view_id_of(ui, label);
    const uint32_t before = uses_before(ui->keep, raw);
    const view_id id = before == 0 ? raw : view__hash(raw, label, (int)before);
    ui->keep->label = label;
    if (id == ui->focus) {
        (void)tr_copy(ui->keep->focus_label, sizeof ui->keep->focus_label, label);
    }
    return id;
}

const char *view_focus_label(const view_ui *ui)
{
    return ui->keep->focus_label;
}

void view_push(view_ui *ui, const char *label, int index)
{
    struct view_ui_keep *keep = ui->keep;
    TR_ASSERT(keep->depth + 1 < VIEW__DEPTH);
    keep->stack[keep->depth + 1] = view__hash(parent_of(ui), label, index);
    keep->depth++;
}

void view_pop(view_ui *ui)
{
    TR_ASSERT(ui->keep->depth > 0);
    ui->keep->depth--;
}

view__slot *view__slot_of(view_ui *ui, view_id id)
{
    struct view_ui_keep *keep = ui->keep;
    view__slot *stalest = NULL;
    for (uint32_t probe = 0; probe < 16; probe++) {
        view__slot *slot = &keep->slot[(id + probe) % VIEW__SLOTS];
        if (slot->id == id) {
            slot->frame = keep->frame;
            return slot;
        }
        if (stalest == NULL || slot->frame < stalest->frame) {
            stalest = slot;
        }
    }
    *stalest = (view__slot){.id = id, .frame = keep->frame, .time_s = -1.0};
    return stalest;
}

bool view__slot_is_fresh(const view_ui *ui, const view__slot *slot)
{
    (void)ui;
    return slot->time_s < 0.0;
}

void view__wake(view_ui *ui, float seconds)
{
    if (ui->wake_in_s < 0.0F || seconds < ui->wake_in_s) {
        ui->wake_in_s = fmaxf(seconds, 0.0F);
    }
}

float view_anim(view_ui *ui, view_id id, float target, float seconds)
{
    view__slot *slot = view__slot_of(ui, view__hash(id, "anim", 0));
    if (view__slot_is_fresh(ui, slot) || ui->reduced_motion || seconds <= 0.0F) {
        slot->time_s = ui->time_s;
        slot->v[0] = slot->v[1] = target;
        return target;
    }
    const float share = fminf((float)(ui->time_s - slot->time_s) / seconds, 1.0F);
    const float left = 1.0F - share;
    const float now = slot->v[1] + (slot->v[0] - slot->v[1]) * left * left * left; /* fast first, soft landing */
    if (slot->v[1] != target) {
        slot->v[0] = now;
        slot->v[1] = target;
        slot->time_s = ui->time_s;
        ui->wants_frame = true;
    } else if (share < 1.0F) {
        ui->wants_frame = true;
    }
    return now;
}

/* ---- places -------------------------------------------------------------------------------------------------- */

bool view__is_over(const view_ui *ui, view_rect rect)
{
    const view_input *in = ui->input;
    return view__is_on_top(ui) && in->has_mouse && view_rect_has(rect, in->mouse_x, in->mouse_y) &&
           view__is_lit(ui, in->mouse_x, in->mouse_y) &&
           view_rect_has(ui->keep->clip[ui->keep->clips], in->mouse_x, in->mouse_y);
}

static void note_target(view_ui *ui, view_id id, view_rect rect)
{
    struct view_ui_keep *keep = ui->keep;
    const view_rect seen = view__rect_meet(rect, keep->clip[keep->clips]);
    if (view__is_lit(ui, seen.x + seen.w / 2.0F, seen.y + seen.h / 2.0F) && keep->targets < VIEW__STOPS &&
        view__is_on_top(ui) && seen.w > 0.0F && seen.h > 0.0F) {
        view_target *target = &keep->target[keep->targets++];
        (void)tr_copy(target->label, sizeof target->label, keep->label == NULL ? "" : keep->label);
        target->rect = seen;
        target->id = id;
    }
}

void view__name_last(view_ui *ui, const char *label)
{
    struct view_ui_keep *keep = ui->keep;
    for (size_t i = keep->targets; i > 0 && keep->target[i - 1].label[0] == '\0'; i--) {
        (void)tr_copy(keep->target[i - 1].label, sizeof keep->target[i - 1].label, label);
    }
    if (keep->stops > 0 && keep->stop[keep->stops - 1].id == ui->focus) {
        (void)tr_copy(keep->focus_label, sizeof keep->focus_label, label);
    }
}

size_t view_targets(const view_ui *ui, const view_target **out)
{
    *out = ui->keep->target;
    return ui->keep->targets;
}

view_react view__touch(view_ui *ui, view_id id, view_rect rect, bool is_enabled)
{
    struct view_ui_keep *keep = ui->keep;
    const float way = view__way_of_hit(ui, rect);
    const bool is_over = way >= 0.0F;
    note_target(ui, id, rect);
    if (is_over && (ui->active == 0 || ui->active == id) && way <= keep->finger.hit) {
        keep->finger.hit = way;
        keep->hot_next = id;
        keep->pressed = is_enabled ? id : 0;
    }
    view_react react = {.id = id, .is_hot = is_over && ui->hot == id};
    if (ui->active == id && view__is_on_top(ui)) {
        const bool is_held = ui->input->down[VIEW_MOUSE_LEFT] || keep->active_frames == 0;
        react.is_down = is_held;
        react.was_pressed = !ui->input->down[VIEW_MOUSE_LEFT] && is_over && !keep->finger.has_told;
    }
    return react;
}

view__stop *view__stop_add(view_ui *ui, view_id id, view_rect rect)
{
    struct view_ui_keep *keep = ui->keep;
    if (keep->stops == VIEW__STOPS || !view__is_lit(ui, rect.x + rect.w / 2.0F, rect.y + rect.h / 2.0F)) {
        return NULL;
    }
    const view__scroll *scroll = &keep->scroll[keep->scrolls];
    view__stop *stop = &keep->stop[keep->stops++];
    *stop = (view__stop){
        .id = id, .scroll = scroll->id, .rect = rect, .port = scroll->port, .layer = keep->layer, .group = keep->group};
    return stop;
}

view__stop *view__last_stop(view_ui *ui, view_id id)
{
    struct view_ui_keep *keep = ui->keep;
    return keep->stops > 0 && keep->stop[keep->stops - 1].id == id ? &keep->stop[keep->stops - 1] : NULL;
}

view_react view__place(view_ui *ui, view_id id, view_rect rect, bool is_enabled)
{
    view_react react = view__touch(ui, id, rect, is_enabled);
    view__stop_add(ui, id, rect);
    react.is_focused = ui->focus == id && view__is_on_top(ui);
    react.shows_ring = react.is_focused && ui->keyboard_used;
    return react;
}

view_react view_place(view_ui *ui, view_rect rect, const char *label, const char *why_not)
{
    view_react react = view__place(ui, view__id(ui, label), rect, why_not == NULL);
    if (react.shows_ring && why_not == NULL) {
        react.is_down = react.is_down || ui->input->held[VIEW_KEY_SPACE] || ui->input->held[VIEW_KEY_ENTER];
        react.was_pressed = view__takes_activation(ui) || react.was_pressed;
    }
    view__explain(ui, react, rect, why_not, NULL);
    return react;
}

void view_group_begin(view_ui *ui)
{
    ui->keep->group = ++ui->keep->groups;
}

void view_group_end(view_ui *ui)
{
    ui->keep->group = 0;
}

void view_focus(view_ui *ui, view_id id)
{
    if (ui->focus != id) {
        ui->focus = id;
        ui->keep->focus_since_s = ui->time_s;
        ui->wants_frame = true;
    }
}

/* ---- frame --------------------------------------------------------------------------------------------------- */

bool view_ui_open(view_ui *ui, view_draw *draw, const view_metrics *metrics)
{
    *ui = (view_ui){.draw = draw, .metrics = metrics, .theme = view_theme_of(VIEW_THEME_DAY), .text_scale = 1.0F};
    ui->keep = calloc(1, sizeof *ui->keep);
    return ui->keep != NULL;
}

void view_ui_close(view_ui *ui)
{
    free(ui->keep);
    ui->keep = NULL;
}

const char *view_word(const view_ui *ui, const char *key)
{
    return tr_word(ui->lang, key);
}

/* Moving about is a wish to see the ring; typing is none, nor is Enter or Space, which may be meant for a trigger. */
static bool is_moving_key(int key)
{
    return key == VIEW_KEY_TAB || (key >= VIEW_KEY_LEFT && key <= VIEW_KEY_PAGE_DOWN);
}

static void notice_hands(view_ui *ui)
{
    const view_input *in = ui->input;
    struct view_ui_keep *keep = ui->keep;
    for (size_t i = 0; i < keep->presses_now; i++) {
        ui->keyboard_used = ui->keyboard_used || is_moving_key(keep->press[i].key);
    }
    ui->keyboard_used = ui->keyboard_used || in->device == VIEW_BY_PAD; /* its hand is always somewhere */
    if (in->pressed[VIEW_MOUSE_LEFT] || in->pressed[VIEW_MOUSE_RIGHT]) {
        ui->keyboard_used = false;
    }
    keep->mouse_dy = in->mouse_y - keep->mouse_y;
    keep->mouse_y = in->mouse_y;
    view__finger_begin(ui);
}

void view_begin(view_ui *ui, const view_input *input, const view_prefs *prefs, const tr_lang *lang)
{
    struct view_ui_keep *keep = ui->keep;
    ui->input = input;
    ui->time_s = input->time_s;
    ui->lang = lang;
    ui->theme = view_theme_of(prefs->theme);
    ui->text_scale = prefs->text_scale > 0.0F ? fminf(fmaxf(prefs->text_scale, 1.0F), 2.0F) : 1.0F;
    ui->reduced_motion = prefs->reduced_motion;
    ui->left_handed = prefs->left_handed;
    ui->screen = (view_rect){0.0F, 0.0F, input->width, input->height};
    ui->wants_frame = false;
    ui->wants_text = false;
    ui->wake_in_s = -1.0F;

    keep->frame++;
    keep->depth = keep->clips = keep->scrolls = 0;
    keep->stack[0] = 1;
    keep->clip[0] = ui->screen;
    keep->scroll[0] = (view__scroll){0};
    keep->stops = 0;
    keep->targets = 0;
    keep->focus_label[0] = '\0';
    keep->group = keep->groups = 0;
    keep->layer = keep->layers = 0;
    keep->has_spot = false;
    keep->hot_next = keep->pressed = 0;
    keep->takes_wheel = input->wheel != 0.0F;
    keep->tip.id = 0;
    view__keys_begin(ui);
    notice_hands(ui);

    view_draw_clear(ui->draw);
    view_fill_rect(ui->draw, ui->screen, 0.0F, ui->theme->page);
}

/* A dialog that opens takes the focus; one that closes gives it back. */
static void change_layer(view_ui *ui)
{
    struct view_ui_keep *keep = ui->keep;
    const int before = keep->top_layer;
    keep->top_layer = keep->layers;
    if (keep->layers == before) {
        return;
    }
    ui->active = 0;
    ui->wants_frame = true;
    if (keep->layers < before) {
        view_focus(ui, keep->focus_below[keep->layers]);
        return;
    }
    keep->focus_below[before] = ui->focus;
    for (size_t i = 0; i < keep->stops; i++) {
        if (keep->stop[i].layer == keep->layers) {
            view_focus(ui, keep->stop[i].id);
            return;
        }
    }
    view_focus(ui, 0);
}

static void give_press(view_ui *ui)
{
    struct view_ui_keep *keep = ui->keep;
    if (ui->active != 0) {
        keep->active_frames++;
        if (!ui->input->down[VIEW_MOUSE_LEFT]) {
            ui->active = 0;
            ui->wants_frame = true; /* a tap shorter than a frame acts a frame late: what it changed must be seen */
        }
    }
    if (ui->input->pressed[VIEW_MOUSE_LEFT]) {
        ui->active = keep->pressed;
        keep->active_frames = 0;
        ui->wants_frame = true;
        if (view__stop_of(ui, keep->pressed) != NULL) {
            view_focus(ui, keep->pressed);
        } else if (keep->focus_is_text) {
            view_focus(ui, 0);
        }
    }
    if (ui->hot != keep->hot_next) {
        ui->hot = keep->hot_next;
        keep->hot_since_s = ui->time_s;
        ui->wants_frame = true;
    }
}

void view_end(view_ui *ui)
{
    struct view_ui_keep *keep = ui->keep;
    TR_ASSERT(keep->depth == 0 && keep->clips == 0 && keep->layer == 0 && keep->scrolls == 0);
    view__move_focus(ui);
    give_press(ui);
    change_layer(ui);
    keep->layer = 0;
    const view__stop *stop = view__stop_of(ui, ui->focus);
    keep->focus_is_drawn = stop != NULL;
    keep->focus_is_text = stop != NULL && stop->is_text;
    ui->wants_text = keep->focus_is_text;
    view__keys_end(ui);
    view__draw_top(ui);
}
