/* Keys: who takes a press, and what the buttons of a game controller stand for.
 *
 * Presses wait in a queue and are handed out one key a frame. So what a key means is decided after those before it have
 * done their work: Tab and Enter within one frame press the control that Tab went to. */
#include "tautrow/view/ui.h"

#include "ui_keep.h"

#include <string.h>

void view_input_key(view_input *input, int key, unsigned mods, bool is_repeat)
{
    if (input->keys < VIEW_INPUT_KEYS) {
        input->key[input->keys++] = (view_key_press){key, mods, is_repeat};
    }
}

void view_input_forget(view_input *input)
{
    memset(input->pressed, 0, sizeof input->pressed);
    memset(input->released, 0, sizeof input->released);
    input->wheel = 0.0F;
    input->keys = 0;
    input->text[0] = '\0';
    input->wants_quit = false;
}

/* ---- the queue -------------------------------------------------------------------------------------------------- */

void view__keys_begin(view_ui *ui)
{
    struct view_ui_keep *keep = ui->keep;
    for (size_t i = 0; i < ui->input->keys && keep->presses < VIEW__PRESSES; i++) {
        keep->press[keep->presses++] = ui->input->key[i];
    }
    keep->presses_now = 0;
    while (keep->presses_now < keep->presses && keep->press[keep->presses_now].key == keep->press[0].key &&
           keep->press[keep->presses_now].mods == keep->press[0].mods) {
        keep->presses_now++;
    }
    memset(keep->key_taken, 0, sizeof keep->key_taken);
    keep->pad_keys = 0;
    keep->is_stick_claimed = false;
    keep->start_from = 0;
}

void view__keys_end(view_ui *ui)
{
    struct view_ui_keep *keep = ui->keep;
    keep->presses -= keep->presses_now;
    memmove(keep->press, keep->press + keep->presses_now, keep->presses * sizeof keep->press[0]);
    ui->wants_frame = ui->wants_frame || keep->presses > 0;
}

size_t view_keys_now(const view_ui *ui, const view_key_press **out)
{
    *out = ui->keep->press;
    return ui->keep->presses_now;
}

/* ---- the controller --------------------------------------------------------------------------------------------- */

void view_pad_keys(view_ui *ui, const view_pad_key *keys, size_t count)
{
    ui->keep->pad_key = keys;
    ui->keep->pad_keys = count;
}

void view_stick_claim(view_ui *ui)
{
    ui->keep->is_stick_claimed = ui->keep->is_stick_claimed || view__is_on_top(ui);
}

void view_start_here(view_ui *ui)
{
    ui->keep->start_from = ui->keep->stops;
}

/* The button that stands for a key here; 0 = none. */
static int pad_of(const view_ui *ui, int key)
{
    for (size_t i = 0; key != VIEW_KEY_NONE && i < ui->keep->pad_keys; i++) {
        if (ui->keep->pad_key[i].key == key) {
            return ui->keep->pad_key[i].pad;
        }
    }
    return VIEW_KEY_NONE;
}

static bool stands_for(const view_ui *ui, int pressed, int key)
{
    const bool is_stick = pressed >= VIEW_STICK_LEFT && pressed <= VIEW_STICK_DOWN && !ui->keep->is_stick_claimed;
    const bool is_cross = is_stick && key == pressed - VIEW_STICK_LEFT + VIEW_PAD_LEFT;
    return pressed == key || is_cross || (pressed >= VIEW_PAD_X && pressed == pad_of(ui, key));
}

/* Letters as they stand on controllers of every make, or nearly. */
const char *view_key_hint(const view_ui *ui, int key, const char *given)
{
    static const char *const names[] = {"X", "Y", "LB", "RB", "LT", "RT", "Start"};
    if (ui->input->device == VIEW_BY_DESK || given == NULL) {
        return given != NULL && given[0] != '\0' ? given : NULL;
    }
    if (key == VIEW_KEY_ESCAPE && ui->input->device == VIEW_BY_PAD) {
        return "B";
    }
    const int pad = key >= VIEW_PAD_X ? key : pad_of(ui, key);
    const bool has_name = pad >= VIEW_PAD_X && pad <= VIEW_PAD_START;
    return ui->input->device == VIEW_BY_PAD && has_name ? names[pad - VIEW_PAD_X] : NULL;
}

/* ---- taking ----------------------------------------------------------------------------------------------------- */

bool view__is_on_top(const view_ui *ui)
{
    return ui->keep->layer == ui->keep->top_layer;
}

bool view_answers(const view_ui *ui, view_rect rect)
{
    return view__is_on_top(ui) && view__is_lit(ui, rect.x + rect.w / 2.0F, rect.y + rect.h / 2.0F);
}

bool view_key_take(view_ui *ui, int key, unsigned mods)
{
    struct view_ui_keep *keep = ui->keep;
    for (size_t i = 0; view__is_on_top(ui) && i < keep->presses_now; i++) {
        const view_key_press *press = &keep->press[i];
        if (!keep->key_taken[i] && press->mods == mods && stands_for(ui, press->key, key)) {
            keep->key_taken[i] = true;
            return true;
        }
    }
    return false;
}

/* The key itself, not a button that stands for it: for widgets that have the focus. */
static bool take_itself(view_ui *ui, int key)
{
    struct view_ui_keep *keep = ui->keep;
    for (size_t i = 0; view__is_on_top(ui) && i < keep->presses_now; i++) {
        if (!keep->key_taken[i] && keep->press[i].mods == 0 && keep->press[i].key == key) {
            keep->key_taken[i] = true;
            return true;
        }
    }
    return false;
}

bool view__pad_take(view_ui *ui, int key)
{
    const int pad = pad_of(ui, key);
    return pad != VIEW_KEY_NONE && take_itself(ui, pad);
}

bool view_shortcut(view_ui *ui, int key)
{
    return !ui->keep->focus_is_text && view_key_take(ui, key, 0);
}

bool view__pad_held(const view_ui *ui, int key)
{
    const int pad = pad_of(ui, key);
    return pad != VIEW_KEY_NONE && ui->input->held[pad] && view__is_on_top(ui);
}

bool view_key_held(const view_ui *ui, int key)
{
    const bool is_key = key > VIEW_KEY_NONE && key < VIEW_KEYS;
    return (is_key && ui->input->held[key] && view__is_on_top(ui)) || view__pad_held(ui, key);
}

int view__arrows(view_ui *ui, bool takes_vertical)
{
    int steps = 0;
    while (take_itself(ui, VIEW_KEY_RIGHT) || (takes_vertical && take_itself(ui, VIEW_KEY_UP))) {
        steps++;
    }
    while (take_itself(ui, VIEW_KEY_LEFT) || (takes_vertical && take_itself(ui, VIEW_KEY_DOWN))) {
        steps--;
    }
    return steps;
}

int view__pad_steps(view_ui *ui, view_id id)
{
    view__stop *stop = view__last_stop(ui, id);
    int steps = 0;
    if (stop != NULL) {
        stop->is_value = true;
    }
    while (ui->focus == id && view_key_take(ui, VIEW_PAD_RIGHT, 0)) {
        steps++;
    }
    while (ui->focus == id && view_key_take(ui, VIEW_PAD_LEFT, 0)) {
        steps--;
    }
    return steps;
}

bool view__key_is_free(const view_ui *ui, int key, view_id id)
{
    const bool is_for_focus = key == VIEW_KEY_ENTER || key == VIEW_KEY_SPACE;
    return !is_for_focus || !ui->keyboard_used || !ui->keep->focus_is_drawn || ui->focus == id;
}

/* A key held down presses once: its repeats are taken and forgotten. A trigger that stands for Space is not meant for the
 * focus. */
bool view__takes_activation(view_ui *ui)
{
    struct view_ui_keep *keep = ui->keep;
    bool is_pressed = false;
    for (size_t i = 0; view__is_on_top(ui) && i < keep->presses_now; i++) {
        const view_key_press *press = &keep->press[i];
        const bool is_it = (press->key == VIEW_KEY_ENTER || press->key == VIEW_KEY_SPACE) && press->mods == 0;
        if (is_it && !keep->key_taken[i]) {
            keep->key_taken[i] = true;
            is_pressed = is_pressed || !press->is_repeat;
        }
    }
    return is_pressed;
}
