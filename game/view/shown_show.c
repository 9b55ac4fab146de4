/* What the demonstration draws around the copy's job screen: the hand's pointer, the keys it holds, a frame, and a band at
 * the foot that says that nothing of this counts, what is being done and why, with the controls. */
#include "shown_play.h"

#include <math.h>

#include "tautrow/base/text.h"

/* ---- pointer and keys ------------------------------------------------------------------------------------------- */

static void draw_pointer(view_ui *ui, view_point at, bool is_down)
{
    const view_theme *t = ui->theme;
    const float k = 1.5F;
    static const view_point shape[] = {{0, 0}, {0, 17}, {4, 13.2F}, {7, 19.5F}, {9.8F, 18.2F}, {6.9F, 12.2F}, {12, 12}};
    enum { CORNERS = sizeof shape / sizeof shape[0] };
    view_point corner[CORNERS + 1];
    for (int i = 0; i <= CORNERS; i++) {
        const view_point p = shape[i % CORNERS];
        corner[i] = (view_point){at.x + k * p.x, at.y + k * p.y};
    }
    if (is_down) { /* seen on light and on dark ground */
        view_fill_circle(ui->draw, at.x, at.y, 17.0F, view_fade(t->accent, 0.25F));
        view_stroke_circle(ui->draw, at.x, at.y, 17.0F, 5.0F, t->panel);
        view_stroke_circle(ui->draw, at.x, at.y, 17.0F, 2.5F, t->accent);
    }
    view_stroke_poly(ui->draw, corner, CORNERS + 1, 4.0F, 0.0F, t->panel);
    view_fill_poly(ui->draw, corner, CORNERS, t->accent);
    view_stroke_poly(ui->draw, corner, CORNERS + 1, 1.2F, 0.0F, t->ink);
}

/* As it is written on the key. */
static void key_name(const view_ui *ui, int key, unsigned mods, char *out, size_t cap)
{
    static const struct {
        int key;
        const char *name;
    } signs[] = {{VIEW_KEY_LEFT, "\xE2\x86\x90"}, {VIEW_KEY_RIGHT, "\xE2\x86\x92"},
                 {VIEW_KEY_UP, "\xE2\x86\x91"},   {VIEW_KEY_DOWN, "\xE2\x86\x93"},
                 {VIEW_KEY_TAB, "Tab"},           {VIEW_KEY_ENTER, "Enter"}};
    out[0] = '\0';
    if (mods != 0) {
        tr_append(out, cap, "%s + ", (mods & VIEW_SHIFT) != 0 ? "Shift" : "Ctrl");
    }
    for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++) {
        if (signs[i].key == key) {
            tr_append(out, cap, "%s", signs[i].name);
            return;
        }
    }
    if (key == VIEW_KEY_SPACE) {
        tr_append(out, cap, "%s", view_word(ui, "do.space"));
    } else if (key == VIEW_KEY_PAGE_UP || key == VIEW_KEY_PAGE_DOWN) {
        tr_append(out, cap, "%s", view_word(ui, key == VIEW_KEY_PAGE_UP ? "shown.page_up" : "shown.page_down"));
    } else if (key >= VIEW_KEY_F1 && key <= VIEW_KEY_F12) {
        tr_append(out, cap, "F%d", key - VIEW_KEY_F1 + 1);
    } else if (key > ' ' && key < 128) {
        tr_append(out, cap, "%c", (char)key);
    }
}

static float cap_height(const view_ui *ui)
{
    return view_line_of(ui, VIEW_STRONG) + 10.0F;
}

/* "W held", "↑": a key cap of its own; returns where the next one may stand. */
static float draw_cap(view_ui *ui, float x, float y, const char *text)
{
    const view_theme *t = ui->theme;
    const view_rect cap = {x, y, ceilf(view_width_of(ui, VIEW_STRONG, text)) + 24.0F, cap_height(ui)};
    view_shadow(ui, cap, 7.0F, 6.0F);
    view_fill_rect(ui->draw, cap, 7.0F, t->panel);
    view_stroke_rect(ui->draw, cap, 7.0F, 2.0F, t->accent);
    view_fill_rect(ui->draw, (view_rect){cap.x + 7.0F, cap.y + cap.h - 5.0F, cap.w - 14.0F, 2.0F}, 1.0F,
                   view_fade(t->accent, 0.5F));
    view_label(ui, cap, VIEW_STRONG, VIEW_CENTRE, t->ink, text);
    return cap.x + cap.w + VIEW_GAP_2;
}

static void held_text(const view_ui *ui, const char *name, char *out, size_t cap)
{
    const char *const args[] = {name};
    tr_lang_fill(ui->lang, "shown.held", args, 1, out, cap);
}

/* Keys stand in a free corner: at the lower left of the run, under the words beside the post. */
static view_point caps_at(const view_ui *ui, const view_shown *shown)
{
    view_rect run = {0};
    (void)fitter__find(&shown->fitter, view_word(&shown->inner, "job.run"), 0, &run);
    return (view_point){run.x + VIEW_GAP_2, run.y + run.h - VIEW_GAP_2 - cap_height(ui)};
}

/* What is held down now; a key that was only tapped stays to be read for a moment. */
static void draw_caps(view_ui *ui, const view_shown *shown)
{
    const view_input *in = &shown->fitter.in;
    const view_point at = caps_at(ui, shown);
    char name[48];
    char text[96];
    float x = at.x;
    const float y = at.y;
    bool has_any = false;
    for (int key = 0; key < VIEW_KEYS; key++) {
        if (!in->held[key]) {
            continue;
        }
        key_name(ui, key, in->mods, name, sizeof name);
        if (shown->fitter.down_s > 0.15F) {
            held_text(ui, name, text, sizeof text);
        } else {
            tr_copy(text, sizeof text, name);
        }
        x = draw_cap(ui, x, y, text);
        has_any = true;
    }
    if (!has_any && shown->played_s < shown->cap_until_s) {
        key_name(ui, shown->cap, shown->cap_mods, name, sizeof name);
        (void)draw_cap(ui, x, y, name);
    }
    if (in->down[VIEW_MOUSE_LEFT] && shown->fitter.down_s > 0.15F) {
        (void)draw_cap(ui, x, y, view_word(ui, "shown.button"));
    } else if (in->down[VIEW_MOUSE_RIGHT]) {
        (void)draw_cap(ui, x, y, view_word(ui, "shown.other_button"));
    }
}

static void draw_hand(view_ui *ui, const view_shown *shown)
{
    const view_input *in = &shown->fitter.in;
    if (!shown->uses_keys) {
        draw_pointer(ui, shown->fitter.arm.at, in->down[VIEW_MOUSE_LEFT] || in->down[VIEW_MOUSE_RIGHT]);
    }
    draw_caps(ui, shown);
}

/* ---- the band's words ------------------------------------------------------------------------------------------- */

typedef struct band_words {
    char what[TR_TEXT_CAP];
    const char *why;
    char note[TR_TEXT_CAP]; /* where the copy starts from; empty = where the work stands */
} band_words;

static void note_of(const view_ui *ui, const view_shown *shown, char *out, size_t cap)
{
    char row[16];
    char asked[16];
    tr_format(row, sizeof row, "%d", shown->row + 1);
    tr_format(asked, sizeof asked, "%d", shown->asked_row + 1);
    const char *const args[] = {row, asked};
    const bool is_other = shown->row != shown->asked_row;
    out[0] = '\0';
    if (is_other || shown->origin != SHOWN_HERE) {
        const char *key = is_other                         ? "shown.other_row"
                          : shown->origin == SHOWN_BROUGHT ? "shown.brought"
                                                           : "shown.afresh";
        tr_lang_fill(ui->lang, key, args, 2, out, cap);
    }
}

static void words_of(const view_ui *ui, const view_shown *shown, tr_system system, band_words *words)
{
    note_of(ui, shown, words->note, sizeof words->note);
    words->why = view_word(ui, "shown.done_why");
    if (shown->has_nothing) {
        words->note[0] = '\0';
        tr_copy(words->what, sizeof words->what, view_word(ui, "shown.nothing"));
        return;
    }
    if (shown->is_done || !shown->job->advice.is_known || !shown->job->advice.has_any) {
        tr_copy(words->what, sizeof words->what, view_word(ui, shown->is_done ? "shown.done" : "shown.title"));
        return;
    }
    const view_job_model model = shown__model(shown, system, true);
    view__job_advice_text(ui, &model, &shown->job->advice.action, words->what, sizeof words->what);
    words->why = view__job_advice_why(ui, &shown->job->advice.action);
}

/* ---- the band --------------------------------------------------------------------------------------------------- */

static const float FRAME = 5.0F;

static float back_width(const view_ui *ui)
{
    const view_button_spec spec = {.key_hint = "Esc"};
    return fmaxf(view_button_width(ui, view_word(ui, "shown.back"), &spec),
                 view_button_width(ui, view_word(ui, "shown.now_you"), &spec));
}

static float ways_width(const view_ui *ui)
{
    return 2.0F * (fmaxf(view_width_of(ui, VIEW_STRONG, view_word(ui, "shown.by_pointer")),
                         view_width_of(ui, VIEW_STRONG, view_word(ui, "shown.by_keys"))) +
                   18.0F);
}

static float speeds_width(const view_ui *ui)
{
    return 3.0F * (view_width_of(ui, VIEW_STRONG, "1/2") + 18.0F);
}

static float controls_width(const view_ui *ui)
{
    return 3.0F * view_control_height(ui) + 2.0F * VIEW_GAP_1 + speeds_width(ui) + ways_width(ui) + back_width(ui) +
           3.0F * VIEW_GAP_3;
}

static float title_width(const view_ui *ui, view_type type)
{
    return ceilf(view_width_of(ui, type, view_word(ui, "shown.title"))) + 26.0F * ui->text_scale + VIEW_GAP_3;
}

static bool is_beside(const view_ui *ui, view_type type)
{
    return title_width(ui, type) + controls_width(ui) + 2.0F * VIEW_GAP_4 <= ui->screen.w;
}

/* Title and controls stand side by side where there is room. */
static bool is_one_line(const view_ui *ui)
{
    return is_beside(ui, VIEW_STRONG);
}

static view_type title_type(const view_ui *ui)
{
    return is_beside(ui, VIEW_TITLE) ? VIEW_TITLE : VIEW_STRONG;
}

/* What is done and why stands on the card as well: a low window does without the reason here, a very low one without
 * both. */
static bool has_room_for_why(const view_ui *ui)
{
    return ui->screen.h > 700.0F * ui->text_scale;
}

static bool has_words(const view_ui *ui, const view_shown *shown)
{
    return shown->is_done || ui->screen.h > 420.0F * ui->text_scale;
}

float shown__band_height(view_ui *ui, const view_shown *shown, tr_system system)
{
    band_words words;
    words_of(ui, shown, system, &words);
    float height = FRAME + VIEW_GAP_2 + view_control_height(ui) + VIEW_GAP_1;
    height += is_one_line(ui) ? 0.0F : view_line_of(ui, VIEW_STRONG) + VIEW_GAP_1;
    height += has_words(ui, shown) ? view_line_of(ui, VIEW_STRONG) : 0.0F;
    height += has_room_for_why(ui) ? view_line_of(ui, VIEW_BODY) : 0.0F;
    height += words.note[0] != '\0' && has_room_for_why(ui) ? view_line_of(ui, VIEW_CAPTION) : 0.0F;
    return ceilf(height + VIEW_GAP_1);
}

static void draw_title(view_ui *ui, view_rect line)
{
    const view_theme *t = ui->theme;
    const float side = 20.0F * ui->text_scale;
    const view_rect box = view_cut_left(&line, side);
    view_icon_draw(ui->draw, VIEW_ICON_EYE, box.x + side / 2.0F, box.y + box.h / 2.0F, side, t->accent);
    view_cut_left(&line, VIEW_GAP_2);
    view_label(ui, line, title_type(ui), VIEW_LEFT, t->accent, view_word(ui, "shown.title"));
}

static void draw_words(view_ui *ui, const view_shown *shown, view_rect room, tr_system system)
{
    const view_theme *t = ui->theme;
    band_words words;
    char step[32];
    char number[16];
    if (!has_words(ui, shown)) {
        return;
    }
    words_of(ui, shown, system, &words);
    view_rect line = view_cut_top(&room, view_line_of(ui, VIEW_STRONG));
    tr_format(number, sizeof number, "%d", shown->steps);
    const char *const args[] = {number};
    tr_lang_fill(ui->lang, "shown.step", args, 1, step, sizeof step);
    view_label(ui, view_cut_right(&line, ceilf(view_width_of(ui, VIEW_BODY, step)) + VIEW_GAP_3), VIEW_BODY, VIEW_RIGHT,
               t->ink_soft, step);
    view_label(ui, line, VIEW_STRONG, VIEW_LEFT, t->ink, words.what);
    if (has_room_for_why(ui)) {
        view_label(ui, view_cut_top(&room, view_line_of(ui, VIEW_BODY)), VIEW_BODY, VIEW_LEFT, t->ink_soft, words.why);
        view_label(ui, view_cut_top(&room, view_line_of(ui, VIEW_CAPTION)), VIEW_CAPTION, VIEW_LEFT, t->ink_soft,
                   words.note);
    }
}

/* ---- controls --------------------------------------------------------------------------------------------------- */

static void pause_or_play(view_shown *shown)
{
    if (shown->is_done) { /* once more from the beginning */
        shown__go_back_to(shown, 0);
        shown->is_playing = true;
        return;
    }
    shown->is_playing = !shown->is_playing;
}

static void step_buttons(view_ui *ui, view_shown *shown, view_rect *line)
{
    const float side = view_control_height(ui);
    const char *why_not = shown->is_done ? view_word(ui, "shown.done") : NULL;
    const bool plays = shown->is_playing && !shown->is_done;
    if (view_icon_button(ui, view_cut_left(line, side), VIEW_ICON_BACK, view_word(ui, "shown.former"), NULL) ||
        view_shortcut(ui, VIEW_KEY_LEFT)) {
        view_shown_former(shown);
    }
    view_cut_left(line, VIEW_GAP_1);
    const view_rect play = view_cut_left(line, side);
    if (view_icon_button(ui, play, plays ? VIEW_ICON_PAUSE : VIEW_ICON_PLAY,
                         view_word(ui, plays ? "shown.pause" : "shown.play"), NULL) ||
        view_shortcut(ui, VIEW_KEY_SPACE)) {
        pause_or_play(shown);
    }
    view_cut_left(line, VIEW_GAP_1);
    if (view_icon_button(ui, view_cut_left(line, side), VIEW_ICON_NEXT, view_word(ui, "shown.next"), why_not) ||
        (why_not == NULL && view_shortcut(ui, VIEW_KEY_RIGHT))) {
        view_shown_next(shown);
    }
    view_cut_left(line, VIEW_GAP_3);
}

/* What the pointer has chosen gives the focus back: the arrow keys are the player's again. */
static bool choose(view_ui *ui, view_rect rect, const char *label, const char *const options[], int count, int *choice)
{
    const bool is_changed = view_segments(ui, rect, label, options, count, choice);
    if (!ui->keyboard_used && ui->input->released[VIEW_MOUSE_LEFT]) {
        view_focus(ui, 0);
    }
    return is_changed;
}

static void choose_speed(view_ui *ui, view_shown *shown, view_rect *line)
{
    static const char *const speeds[] = {"1/2", "1", "2"};
    (void)choose(ui, view_cut_left(line, speeds_width(ui)), view_word(ui, "shown.speed"), speeds, 3, &shown->speed);
    while (view_shortcut(ui, VIEW_KEY_UP)) {
        shown->speed = shown->speed < 2 ? shown->speed + 1 : 2;
    }
    while (view_shortcut(ui, VIEW_KEY_DOWN)) {
        shown->speed = shown->speed > 0 ? shown->speed - 1 : 0;
    }
    view_cut_left(line, VIEW_GAP_3);
}

static void choose_way(view_ui *ui, view_shown *shown, view_rect *line)
{
    const char *const ways[] = {view_word(ui, "shown.by_pointer"), view_word(ui, "shown.by_keys")};
    int way = shown->uses_keys ? 1 : 0;
    if (choose(ui, view_cut_left(line, ways_width(ui)), view_word(ui, "shown.way"), ways, 2, &way)) {
        view_shown_use_keys(shown, way == 1);
    }
    view_cut_left(line, VIEW_GAP_3);
}

/* Space is the player's whatever has the focus, so the buttons are worked by their keys. */
static bool controls(view_ui *ui, view_shown *shown, view_rect line)
{
    line = view_cut_right(&line, fminf(controls_width(ui), line.w));
    step_buttons(ui, shown, &line);
    choose_speed(ui, shown, &line);
    choose_way(ui, shown, &line);
    const view_button_spec spec = {
        .look = shown->is_done ? VIEW_PRIMARY : VIEW_SECONDARY, .key = VIEW_KEY_ESCAPE, .key_hint = "Esc"};
    const char *label = view_word(ui, shown->is_done ? "shown.now_you" : "shown.back");
    return view_button_with(ui, view_cut_left(&line, back_width(ui)), label, &spec);
}

bool shown__around(view_ui *ui, view_shown *shown, view_rect band, tr_system system)
{
    const view_theme *t = ui->theme;
    draw_hand(ui, shown);
    if (ui->input->pressed[VIEW_MOUSE_LEFT] && !view_rect_has(band, ui->input->mouse_x, ui->input->mouse_y)) {
        view_toast(ui, VIEW_ICON_EYE, view_word(ui, "shown.hands_off"));
    }
    view_fill_rect(ui->draw, band, 0.0F, view_mix(t->panel, t->accent_soft, 0.6F));
    view_fill_rect(ui->draw, (view_rect){band.x, band.y, band.w, 3.0F}, 0.0F, t->accent);
    view_stroke_rect(ui->draw, view_inset(ui->screen, FRAME / 2.0F), 0.0F, FRAME, t->accent);
    view_rect room = view_inset_xy(band, VIEW_GAP_4, 0.0F);
    view_cut_top(&room, VIEW_GAP_2);
    view_push(ui, "shown", 0);
    if (!is_one_line(ui)) {
        draw_title(ui, view_cut_top(&room, view_line_of(ui, VIEW_STRONG)));
        view_cut_top(&room, VIEW_GAP_1);
    }
    const view_rect line = view_cut_top(&room, view_control_height(ui));
    if (is_one_line(ui)) {
        draw_title(ui, line);
    }
    const bool goes_back = controls(ui, shown, line);
    view_cut_top(&room, VIEW_GAP_1);
    draw_words(ui, shown, room, system);
    view_pop(ui);
    return goes_back;
}
