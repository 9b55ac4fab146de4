/* Hands at work, shared by the stages from mark to crimp. Everything runs on the frame's time, at rates slow enough
 * that a frame more or less changes little. */
#include "stage_hand.h"

#include <math.h>

#include "tautrow/base/text.h"

/* A hand settles to a third in about this time. */
static const float SETTLE_S = 0.45F;
/* Arrow keys move a hand so fast along, and lean a tool so fast. */
static const float ARROW_M_S = 0.004F;
static const float ARROW_RAD_S = 0.05F;
static const float MOUSE_RAD = 0.0008F;
static const float LEAST_SQUEEZE = 0.2F;
/* A gesture that was not seen for so long is given up: another screen was up in between. A job at rest is drawn once a
 * second, so this must be well over one: else the first press after a rest would be lost. */
static const double AWAY_S = 2.5;

/* ---- holding ---------------------------------------------------------------------------------------------------- */

static bool is_covered(const view_job *job)
{
    return job->leave_open || job->sign_open || job->tools.check.is_reporting;
}

void view__keep_row(view_job *job)
{
    if (job->tools.hold.gesture != 0 && job->tools.hold.stage == (int)job->stage) {
        job->row = job->tools.hold.row;
    }
}

static bool is_all_let_go(const view_ui *ui)
{
    const view_input *in = ui->input;
    bool is_down = in->down[VIEW_MOUSE_LEFT] || in->held[VIEW_KEY_SPACE] || in->held[VIEW_KEY_ENTER];
    for (int letter = 'A'; letter <= 'Z'; letter++) {
        is_down = is_down || in->held[letter];
    }
    for (int pad = VIEW_PAD_X; pad <= VIEW_PAD_RT; pad++) {
        is_down = is_down || in->held[pad];
    }
    return !is_down;
}

static void see(view_ui *ui, view_job *job)
{
    job->tools.hold.must_let_go = job->tools.hold.must_let_go && !is_all_let_go(ui);
    const bool is_other = job->tools.hold.stage != (int)job->stage || job->tools.hold.row != job->row;
    if (is_other || ui->time_s - job->tools.hold.seen_s > AWAY_S) {
        job->tools.hold.must_let_go = !is_all_let_go(ui);
        job->tools.hold.gesture = 0;
    }
    job->tools.hold.stage = (int)job->stage;
    job->tools.hold.row = job->row;
    job->tools.hold.seen_s = ui->time_s;
}

/* The stick comes without its dead zone and gentle near its middle (host_pad.c): a tool is led by it as it is. */
static view_point held_arrows(const view_ui *ui)
{
    const bool *held = ui->input->held;
    const float size = (ui->input->mods & VIEW_SHIFT) != 0 ? 0.25F : 1.0F;
    const float right = (held[VIEW_KEY_RIGHT] ? 1.0F : 0.0F) - (held[VIEW_KEY_LEFT] ? 1.0F : 0.0F);
    const float down = (held[VIEW_KEY_DOWN] ? 1.0F : 0.0F) - (held[VIEW_KEY_UP] ? 1.0F : 0.0F);
    return (view_point){fminf(fmaxf(right * size + ui->input->stick_x, -1.0F), 1.0F),
                        fminf(fmaxf(down * size + ui->input->stick_y, -1.0F), 1.0F)};
}

void view__take_arrows(view_ui *ui)
{
    static const int keys[] = {VIEW_KEY_LEFT, VIEW_KEY_RIGHT, VIEW_KEY_UP, VIEW_KEY_DOWN};
    for (size_t i = 0; i < 4; i++) {
        while (view_key_take(ui, keys[i], 0) || view_key_take(ui, keys[i], VIEW_SHIFT)) {
        }
    }
}

/* A trigger that does not say how far it is pulled is pulled all the way. */
static float squeeze_of(const view_input *in)
{
    const bool is_light = in->held[VIEW_PAD_RT] && in->squeeze > 0.0F;
    return is_light ? fminf(fmaxf(in->squeeze, LEAST_SQUEEZE), 1.0F) : 1.0F;
}

view__touch view__touch_picture(view_ui *ui, view_job *job, view_rect picture, const char *label)
{
    const view_react react = view_place(ui, picture, label, NULL);
    const view_input *in = ui->input;
    view__touch touch = {.id = react.id, .at = {in->mouse_x, in->mouse_y}, .squeeze = squeeze_of(in), .dt_s = in->dt_s};
    see(ui, job);
    if (react.shows_ring) {
        view_ring(ui, view_inset(picture, 2.0F), VIEW_RADIUS);
    }
    if (!is_covered(job)) {
        touch.is_mouse = react.is_down && in->down[VIEW_MOUSE_LEFT];
        touch.is_held = react.is_down;
        touch.is_back = react.is_hot && in->pressed[VIEW_MOUSE_RIGHT];
        touch.moved = (view_point){in->mouse_x - job->tools.hold.mouse_x, in->mouse_y - job->tools.hold.mouse_y};
        touch.arrows = held_arrows(ui);
    }
    if (job->tools.hold.gesture != 0) {
        view__take_arrows(ui);
    }
    job->tools.hold.mouse_x = in->mouse_x;
    job->tools.hold.mouse_y = in->mouse_y;
    view_drift_step(&job->drift, in->dt_s, 1.0F);
    return touch;
}

/* The button as it is drawn: its letter as the hint, left away where the word needs the room. */
static view_hold press(view_ui *ui, view_rect rect, view__trigger what)
{
    const char hint[2] = {what.letter, '\0'};
    const char *label = view_word(ui, what.word_key);
    view_button_spec spec = {.look = what.is_main ? VIEW_PRIMARY : VIEW_SECONDARY,
                             .key = what.is_main ? VIEW_KEY_SPACE : what.letter,
                             .key_hint = what.is_main ? view_word(ui, "do.space") : hint,
                             .why_not = what.why_not};
    if (view_button_width(ui, label, &spec) - 2.0F * VIEW_GAP_2 > rect.w) {
        spec.key_hint = NULL;
        spec.tip = label;
    }
    return view_hold_button(ui, rect, label, &spec);
}

view_hold view__trigger_at(view_ui *ui, view_rect rect, view_job *job, const view__touch *touch, view__trigger what)
{
    const view_hold held = press(ui, rect, what);
    const bool is_letter = !is_covered(job) && view_key_held(ui, (unsigned char)what.letter) && ui->input->mods == 0;
    bool is_down = held.is_down || is_letter || (what.is_main && touch->is_held);
    is_down = is_down && what.why_not == NULL;
    const int now = job->tools.hold.gesture;
    const bool was_down = now == what.gesture;
    view_shortcut(ui, what.letter);
    if ((now != 0 && !was_down) || job->tools.hold.must_let_go) {
        return (view_hold){.is_down = false};
    }
    const view_hold hold = {.is_down = is_down, .has_begun = is_down && !was_down, .has_ended = was_down && !is_down};
    job->tools.hold.gesture = is_down ? what.gesture : 0;
    job->tools.hold.held_s = hold.has_begun ? 0.0F : job->tools.hold.held_s + (is_down ? touch->dt_s : 0.0F);
    ui->wants_frame = ui->wants_frame || is_down || was_down;
    return (view_hold){hold.is_down, hold.has_begun, hold.has_ended, job->tools.hold.held_s};
}

void view__let_go(view_job *job)
{
    job->tools.hold.gesture = 0;
    job->tools.hold.must_let_go = true;
}

/* ---- trembling and leaning -------------------------------------------------------------------------------------- */

float view__land(view_job *job, float size)
{
    const float off = 0.5F + 0.5F * (float)tr_rng_uniform(&job->drift.rng);
    return tr_rng_uniform(&job->drift.rng) < 0.5 ? -off * size : off * size;
}

float view__settled(const view_job *job, float land, float after_s, float rest)
{
    return land * expf(-after_s / SETTLE_S) + rest * job->drift.x;
}

void view__steer(view_job *job, float moved_m, float arrow, float dt_s)
{
    job->tools.hold.steer_m += moved_m + arrow * ARROW_M_S * dt_s;
}

void view__lean_step(view_job *job, const view__touch *touch, view__lean how, float *pitch, float *yaw)
{
    if (how.is_working) {
        *pitch += how.walk * job->drift.y * touch->dt_s;
        *yaw += how.walk * job->drift.x * touch->dt_s;
    } else {
        const float share = fminf(touch->dt_s / 0.6F, 1.0F);
        *pitch += (how.rest_pitch + 0.003F * job->drift.y - *pitch) * share;
        *yaw += (how.rest_yaw + 0.003F * job->drift.x - *yaw) * share;
    }
    const float mouse = touch->is_mouse ? MOUSE_RAD : 0.0F;
    *pitch -= touch->arrows.y * ARROW_RAD_S * touch->dt_s + touch->moved.y * mouse;
    *yaw += touch->arrows.x * ARROW_RAD_S * touch->dt_s + touch->moved.x * mouse;
    *pitch = fminf(fmaxf(*pitch, -0.3F), 0.3F);
    *yaw = fminf(fmaxf(*yaw, -0.3F), 0.3F);
}

/* ---- bench ------------------------------------------------------------------------------------------------------ */

/* What a button needs for its words alone. */
static float least_width(const view_ui *ui, const char *word)
{
    return view_button_width(ui, word, NULL) - 2.0F * VIEW_GAP_2;
}

/* The chosen one: a heavier edge and a tick in its corner. */
static void tick(view_ui *ui, view_rect rect)
{
    const float size = 13.0F;
    view_stroke_rect(ui->draw, view_inset(rect, 1.0F), VIEW_RADIUS, 2.0F, ui->theme->accent);
    const view_point at = {rect.x + rect.w - 5.0F, rect.y + 5.0F};
    view_fill_circle(ui->draw, at.x, at.y, size * 0.5F, ui->theme->accent);
    view_icon_draw(ui->draw, VIEW_ICON_CHECK, at.x, at.y, size * 0.8F, ui->theme->accent_ink);
}

/* How many buttons of a choice fit side by side. */
static int choice_columns(const view_ui *ui, float width, const char *const words[], int count)
{
    float widest = 0.0F;
    for (int i = 0; i < count; i++) {
        widest = fmaxf(widest, least_width(ui, words[i]));
    }
    int columns = count;
    while (columns > 1 && ((width - (float)(columns - 1) * VIEW_GAP_1) / (float)columns < widest)) {
        columns--;
    }
    return columns;
}

int view__bench_choice(view_ui *ui, view_bench *bench, const char *label, const char *const words[], int count,
                       int chosen, const char *letters)
{
    const int columns = choice_columns(ui, bench->column.area.w, words, count);
    view_rect line = {0};
    int pressed = -1;
    view_push(ui, label, 0);
    for (int i = 0; i < count; i++) {
        if (i % columns == 0) {
            line = view__bench_next(bench, view_control_height(ui));
        }
        const char hint[2] = {letters[i], '\0'};
        const view_rect rect = view_split_x(line, columns, i % columns, VIEW_GAP_1);
        view_button_spec spec = {.key = letters[i], .key_hint = hint};
        if (view_button_width(ui, words[i], &spec) - 2.0F * VIEW_GAP_2 > rect.w) {
            spec.key_hint = NULL;
        }
        view_push(ui, "choice", i);
        pressed = view_button_with(ui, rect, words[i], &spec) ? i : pressed;
        view_pop(ui);
        if (i == chosen) {
            tick(ui, rect);
        }
    }
    view_pop(ui);
    return pressed;
}

bool view__button_at(view_ui *ui, view_rect rect, const char *word_key, char letter, const char *why_not)
{
    const char *label = view_word(ui, word_key);
    const char hint[2] = {letter, '\0'};
    view_button_spec spec = {.key = letter, .key_hint = hint, .why_not = why_not};
    if (view_button_width(ui, label, &spec) - 2.0F * VIEW_GAP_2 > rect.w) {
        spec.key_hint = NULL;
    }
    return view_button_with(ui, rect, label, &spec);
}

bool view__done_at(view_ui *ui, view_rect rect, const char *word_key, const view__touch *touch, const char *why_not)
{
    const bool is_pressed = view__button_at(ui, rect, word_key, 'E', why_not);
    const bool is_free = ui->focus == 0 || ui->focus == touch->id || !ui->keyboard_used;
    return is_pressed || (is_free && why_not == NULL && view_shortcut(ui, VIEW_KEY_ENTER));
}

static void help(view_ui *ui, view__desk *desk)
{
    const char *text = view_word(ui, desk->help);
    const float height = view_paragraph_height(ui, desk->bench.column.area.w, VIEW_CAPTION, text);
    view_paragraph(ui, view__bench_next(&desk->bench, height), VIEW_CAPTION, ui->theme->ink_soft, text);
}

view__desk view__desk_begin(view_ui *ui, view_rect tools, int lines, const char *help_key)
{
    const float line = view_control_height(ui) + VIEW_GAP_2;
    const float height = (float)lines * line;
    view__desk desk = {.help = help_key, .has_foot = lines > 0 && tools.h >= height + 1.6F * line};
    if (desk.has_foot) {
        view_rect foot = view_cut_bottom(&tools, height);
        view_cut_top(&foot, VIEW_GAP_2);
        view_cut_bottom(&tools, VIEW_GAP_1);
        desk.foot = (view_bench){.port = foot, .column = view_column(foot, VIEW_GAP_2)};
    }
    desk.bench = view__bench_begin(ui, tools);
    return desk;
}

view_bench *view__desk_foot(view_ui *ui, view__desk *desk)
{
    if (!desk->has_foot) {
        return &desk->bench;
    }
    help(ui, desk);
    view__bench_end(ui, &desk->bench);
    return &desk->foot;
}

void view__desk_end(view_ui *ui, view__desk *desk)
{
    if (!desk->has_foot) {
        help(ui, desk);
        view__bench_end(ui, &desk->bench);
    }
}

view_rect view__bench_line(const view_ui *ui, view_bench *bench)
{
    return view__bench_next(bench, view_control_height(ui));
}

bool view__are_halves(const view_ui *ui, float width, const char *const word_keys[2])
{
    const float half = (width - VIEW_GAP_2) / 2.0F;
    return fmaxf(least_width(ui, view_word(ui, word_keys[0])), least_width(ui, view_word(ui, word_keys[1]))) <= half;
}

void view__bench_halves(view_ui *ui, view_bench *bench, const char *const word_keys[2], view_rect rect[2])
{
    const bool are_halves = view__are_halves(ui, bench->column.area.w, word_keys);
    const view_rect first = view__bench_line(ui, bench);
    rect[0] = are_halves ? view_split_x(first, 2, 0, VIEW_GAP_2) : first;
    rect[1] = are_halves ? view_split_x(first, 2, 1, VIEW_GAP_2) : view__bench_line(ui, bench);
}

void view__bench_speed(view_ui *ui, view_bench *bench, const view_job_model *model, float *rpm)
{
    static const view_range range = {100.0F, 3000.0F, 50.0F};
    char text[48];
    view_job_quantity(model, (double)*rpm, TR_DIM_SPEED, text);
    (void)view_slider(ui, view__bench_next(bench, view_slider_height(ui)), view_word(ui, "do.speed"), range, rpm, text);
    while (view_key_take(ui, VIEW_KEY_PAGE_UP, 0)) {
        *rpm = fminf(*rpm + 100.0F, range.most);
    }
    while (view_key_take(ui, VIEW_KEY_PAGE_DOWN, 0)) {
        *rpm = fmaxf(*rpm - 100.0F, range.least);
    }
}
