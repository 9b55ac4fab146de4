/* The upper and lower edge of the job screen: the bar with title, mode, clock and the two safety toggles; the trail of
 * stages; the key hints. Words give way to icons where the bar is too narrow for them. */
#include "job_screen.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tautrow/base/text.h"

static const float PAD = 4.0F;

float view__job_bar_height(const view_ui *ui)
{
    return fmaxf(52.0F, view_line_of(ui, VIEW_TITLE) + view_line_of(ui, VIEW_CAPTION) + 2.0F * PAD);
}

float view__job_trail_height(const view_ui *ui)
{
    return view_line_of(ui, VIEW_CAPTION) + 27.0F;
}

float view__job_keys_height(const view_ui *ui)
{
    return view_line_of(ui, VIEW_CAPTION) + 13.0F;
}

/* ---- bar -------------------------------------------------------------------------------------------------------- */

static float icon_side(const view_ui *ui)
{
    return 18.0F * ui->text_scale;
}

/* A switch of the bar: on = tinted, with a tick; asked for by the card = in a bold frame; its word falls away where there is
 * no room. */
static bool bar_switch(view_ui *ui, view_rect rect, view_icon icon, const char *label, bool is_on, bool has_word,
                       bool is_asked)
{
    const view_theme *t = ui->theme;
    const view_react react = view_place(ui, rect, label, NULL);
    const view_color ink = is_on ? t->accent : t->ink;
    view_fill_rect(ui->draw, rect, VIEW_RADIUS,
                   is_on ? t->accent_soft : view_fade(t->ink, react.is_hot ? 0.07F : 0.0F));
    view_stroke_rect(ui->draw, rect, VIEW_RADIUS,
                     is_asked ? 3.0F
                     : is_on  ? 1.5F
                              : 1.0F,
                     is_on || is_asked ? t->accent : t->ink_faint);
    view_rect rest = view_inset_xy(rect, VIEW_GAP_2, 0.0F);
    const view_rect box = view_cut_left(&rest, icon_side(ui));
    view_icon_draw(ui->draw, icon, box.x + box.w / 2.0F, rect.y + rect.h / 2.0F, icon_side(ui), ink);
    view_cut_left(&rest, VIEW_GAP_1);
    const view_rect mark = view_cut_right(&rest, icon_side(ui) * 0.8F);
    view_icon_draw(ui->draw, is_on ? VIEW_ICON_CHECK : VIEW_ICON_CROSS, mark.x + mark.w / 2.0F, rect.y + rect.h / 2.0F,
                   icon_side(ui) * 0.7F, is_on ? t->accent : t->ink_soft);
    if (has_word) {
        view_label(ui, rest, VIEW_STRONG, VIEW_LEFT, ink, label);
    } else {
        view_tooltip(ui, react, rect, label);
    }
    if (react.shows_ring) {
        view_ring(ui, rect, VIEW_RADIUS);
    }
    return react.was_pressed;
}

static float switch_width(const view_ui *ui, const char *label, bool has_word)
{
    const float word = has_word ? ceilf(view_width_of(ui, VIEW_STRONG, label)) + VIEW_GAP_2 : 0.0F;
    return word + icon_side(ui) * 1.8F + 2.0F * VIEW_GAP_2 + VIEW_GAP_1;
}

typedef struct bar_words {
    const char *glasses, *clear;
} bar_words;

static bar_words words_of(const view_ui *ui, const job_state *state)
{
    return (bar_words){view_word(ui, state->has_glasses ? "job.glasses_on" : "job.glasses_off"),
                       view_word(ui, state->stands_clear ? "job.clear_on" : "job.clear_off")};
}

static float right_width(const view_ui *ui, const view_job_model *model, bool has_words)
{
    const bar_words words = words_of(ui, model->state);
    const float icon = view_control_height(ui) + VIEW_GAP_2;
    return switch_width(ui, words.glasses, has_words) + switch_width(ui, words.clear, has_words) + 2.0F * VIEW_GAP_2 +
           icon + (view__job_is_guided(model) ? icon : 0.0F);
}

static void say_glasses(const view_job_model *model, view_job_said *said)
{
    view_job_do(said, model, JOB_DO_GLASSES, (const double[]){model->state->has_glasses ? 0.0 : 1.0}, 1);
}

static void say_clear(const view_job_model *model, view_job_said *said)
{
    view_job_do(said, model, JOB_DO_STAND, (const double[]){model->state->stands_clear ? 0.0 : 1.0}, 1);
}

/* The card asks for it, and it lies far from the card. */
static bool is_asked_for(const view_job *job, const view_job_model *model, job_verb verb)
{
    return view__job_is_guided(model) && job->advice.has_any && job->advice.action.verb == verb;
}

/* Drawn from left to right, so that Tab goes that way too. */
static void bar_right(view_ui *ui, const view_job *job, const view_job_model *model, view_rect rect, bool has_words,
                      view_job_said *said)
{
    const bar_words words = words_of(ui, model->state);
    const float side = view_control_height(ui);
    if (bar_switch(ui, view_cut_left(&rect, switch_width(ui, words.glasses, has_words)), VIEW_ICON_GLASSES,
                   words.glasses, model->state->has_glasses, has_words, is_asked_for(job, model, JOB_DO_GLASSES)) ||
        view_shortcut(ui, 'G')) {
        say_glasses(model, said);
    }
    view_cut_left(&rect, VIEW_GAP_2);
    if (bar_switch(ui, view_cut_left(&rect, switch_width(ui, words.clear, has_words)), VIEW_ICON_PERSON, words.clear,
                   model->state->stands_clear, has_words, is_asked_for(job, model, JOB_DO_STAND)) ||
        view_shortcut(ui, 'C')) {
        say_clear(model, said);
    }
    view_cut_left(&rect, VIEW_GAP_2);
    if (view__job_is_guided(model)) {
        const char *why = model->trace_count == 0 ? view_word(ui, "job.undo_none") : NULL;
        const bool is_pressed =
            view_icon_button(ui, view_cut_left(&rect, side), VIEW_ICON_UNDO, view_word(ui, "job.undo"), why);
        said->undo = is_pressed || (why == NULL && view_key_take(ui, 'Z', VIEW_CTRL)) ? 1 : 0;
        view_cut_left(&rect, VIEW_GAP_2);
    }
    said->settings =
        view_icon_button(ui, view_cut_left(&rect, side), VIEW_ICON_GEAR, view_word(ui, "job.settings"), NULL);
}

static void clock_text(int64_t ms, char *out, size_t cap)
{
    const long long s = ms / 1000;
    if (s >= 3600) {
        tr_format(out, cap, "%lld:%02lld:%02lld", s / 3600, s / 60 % 60, s % 60);
    } else {
        tr_format(out, cap, "%lld:%02lld", s / 60, s % 60);
    }
}

/* Mode, clock and, when it is so, that nothing is being recorded; as much of it as fits. */
static void bar_tags(view_ui *ui, const view_job_model *model, view_rect rect)
{
    static const char *const modes[] = {"mode.guided", "mode.practice", "mode.assessment"};
    const view_theme *t = ui->theme;
    char now[24];
    char par[24];
    char clock[64];
    clock_text(model->now_ms, now, sizeof now);
    clock_text((int64_t)(model->what->setup.par_time_s * 1000.0), par, sizeof par);
    tr_format(clock, sizeof clock, "%s / %s", now, par);
    const bool is_late = (double)model->now_ms > model->what->setup.par_time_s * 1000.0;
    const struct {
        bool is_on;
        view_icon icon;
        view_color ink, ground;
        const char *text;
    } tags[] = {
        {!model->journal_ok, VIEW_ICON_WARNING, t->bad, t->bad_soft, view_word(ui, "job.not_recorded")},
        {true, VIEW_ICON_NONE, t->accent, t->accent_soft, view_word(ui, modes[model->about->mode])},
        {true, VIEW_ICON_CLOCK, is_late ? t->warn : t->ink_soft, is_late ? t->warn_soft : t->inset, clock},
    };
    const float height = view_line_of(ui, VIEW_CAPTION) + 6.0F;
    const float y = roundf(rect.y + (rect.h - height) / 2.0F);
    float x = rect.x;
    for (size_t i = 0; i < sizeof tags / sizeof tags[0]; i++) {
        const float icon = tags[i].icon != VIEW_ICON_NONE ? 14.0F * ui->text_scale + 5.0F : 0.0F;
        const float width = ceilf(view_width_of(ui, VIEW_CAPTION, tags[i].text)) + icon + 18.0F;
        if (tags[i].is_on && x + width <= rect.x + rect.w) {
            x += view_tag(ui, x, y, tags[i].icon, tags[i].ink, tags[i].ground, tags[i].text) + VIEW_GAP_2;
        }
    }
}

static float tags_width(const view_ui *ui, const view_job_model *model)
{
    static const char *const modes[] = {"mode.guided", "mode.practice", "mode.assessment"};
    float width = view_width_of(ui, VIEW_CAPTION, view_word(ui, modes[model->about->mode])) + 18.0F + VIEW_GAP_2;
    width += view_width_of(ui, VIEW_CAPTION, "88:88 / 88:88") + 14.0F * ui->text_scale + 23.0F + VIEW_GAP_2;
    if (!model->journal_ok) {
        width += view_width_of(ui, VIEW_CAPTION, view_word(ui, "job.not_recorded")) + 14.0F * ui->text_scale + 23.0F +
                 VIEW_GAP_2;
    }
    return ceilf(width) + VIEW_GAP_2;
}

/* Title over place, in smaller type where it is long; a title too long for a line takes both lines. */
static void bar_name(view_ui *ui, view_rect *rest, float most, const char *title, const char *place)
{
    const view_theme *t = ui->theme;
    const view_type type = view_width_of(ui, VIEW_TITLE, title) <= most ? VIEW_TITLE : VIEW_STRONG;
    const float line = view_line_of(ui, type);
    const float words = fmaxf(view_width_of(ui, type, title), view_width_of(ui, VIEW_CAPTION, place));
    view_rect name = view_cut_left(rest, fminf(ceilf(words) + 1.0F, most));
    if (view_width_of(ui, type, title) > most) {
        view_text_block(ui->draw, ui->metrics, view_centre_in(name, name.w, 2.0F * line), view_font_of(ui, type), line,
                        t->ink, 2, title);
        return;
    }
    const view_font small = view_font_fit(ui->metrics, view_font_of(ui, VIEW_CAPTION), name.w, place);
    if (view_text_width(ui->metrics, small, place) > name.w) { /* the sheet names the place too */
        view_label(ui, name, type, VIEW_LEFT, t->ink, title);
        return;
    }
    name = view_centre_in(name, name.w, line + view_line_of(ui, VIEW_CAPTION));
    view_label(ui, view_cut_top(&name, line), type, VIEW_LEFT, t->ink, title);
    view_label(ui, name, VIEW_CAPTION, VIEW_LEFT, t->ink_soft, place);
}

void view__job_bar(view_ui *ui, view_job *job, const view_job_model *model, view_rect rect, view_job_said *said)
{
    const view_theme *t = ui->theme;
    const char *code = tr_lang_code(ui->lang);
    view_fill_rect(ui->draw, rect, 0.0F, t->panel);
    view_hairline(ui, rect.x, rect.y + rect.h - 0.5F, rect.x + rect.w, rect.y + rect.h - 0.5F);
    const float side = view_control_height(ui);
    view_rect rest = view_inset_xy(rect, VIEW_GAP_3, 0.0F);
    const view_rect back = view_cut_left(&rest, side);
    if (view_icon_button(ui, view_centre_in(back, side, side), VIEW_ICON_BACK, view_word(ui, "job.leave"), NULL)) {
        job->leave_open = true;
    }
    view_cut_left(&rest, VIEW_GAP_2);
    const bool has_words = rest.w - right_width(ui, model, true) - tags_width(ui, model) > 210.0F * ui->text_scale;
    const view_rect right = view_cut_right(&rest, right_width(ui, model, has_words));
    view_cut_right(&rest, VIEW_GAP_3);
    const char *title = scenario_title_in(&model->what->title, code);
    const char *place = scenario_title_in(&model->what->place, code);
    const float most = fmaxf(60.0F, rest.w - tags_width(ui, model));
    bar_name(ui, &rest, most, title, place);
    view_cut_left(&rest, VIEW_GAP_4);
    bar_tags(ui, model, rest);
    bar_right(ui, job, model, view_centre_in(right, right.w, side), has_words, said);
}

/* ---- trail ------------------------------------------------------------------------------------------------------ */

static void stage_words(const view_ui *ui, job_stage stage, char *key, size_t cap, const char **name)
{
    tr_format(key, cap, "stage.%s.name", job_stage_name(stage));
    *name = view_word(ui, key);
}

/* done: disc with a tick; under way: half-filled ring; to come: ring. */
static void stage_shape(view_ui *ui, float x, float y, float r, view_stage_state state, view_color ink,
                        view_color ground)
{
    if (state == VIEW_STAGE_DONE) {
        view_fill_circle(ui->draw, x, y, r, ink);
        view_icon_draw(ui->draw, VIEW_ICON_CHECK, x, y, r * 1.25F, ground);
        return;
    }
    view_fill_circle(ui->draw, x, y, r - 1.0F, ground);
    view_stroke_circle(ui->draw, x, y, r - 1.0F, 1.6F, ink);
    if (state == VIEW_STAGE_UNDER_WAY) {
        view_point half[11];
        for (int i = 0; i < 11; i++) {
            const float a = (float)TR_PI * (0.5F + (float)i / 10.0F);
            half[i] = (view_point){x + (r - 1.0F) * cosf(a), y + (r - 1.0F) * sinf(a)};
        }
        view_fill_poly(ui->draw, half, 11, ink);
    }
}

static float shape_side(const view_ui *ui)
{
    return roundf(8.0F + 8.0F * ui->text_scale);
}

/* Every word shown where all fit; else only that of the stage in hand. */
static float stage_cell(const view_ui *ui, const view_job *job, int stage, bool all_words)
{
    char key[40];
    const char *name = NULL;
    stage_words(ui, (job_stage)stage, key, sizeof key, &name);
    const bool has_word = all_words || stage == (int)job->stage;
    return shape_side(ui) + 2.0F * VIEW_GAP_2 + (has_word ? ceilf(view_width_of(ui, VIEW_CAPTION, name)) + 6.0F : 6.0F);
}

static float trail_width(const view_ui *ui, const view_job *job, bool all_words)
{
    float width = 0.0F;
    for (int i = 0; i < JOB_STAGE_COUNT; i++) {
        width += stage_cell(ui, job, i, all_words);
    }
    return width;
}

static void trail_tip(view_ui *ui, view_react react, view_rect rect, const char *name, int stage,
                      view_stage_state state)
{
    static const char *const states[] = {"job.stage.to_come", "job.stage.under_way", "job.stage.done"};
    char tip[160];
    if (ui->input->device == VIEW_BY_DESK) {
        tr_format(tip, sizeof tip, "%s (F%d): %s", name, stage + 1, view_word(ui, states[state]));
    } else {
        tr_format(tip, sizeof tip, "%s: %s", name, view_word(ui, states[state]));
    }
    view_tooltip(ui, react, rect, tip);
}

static bool trail_stage(view_ui *ui, view_job *job, const view_job_model *model, int stage, view_rect cell,
                        bool has_word)
{
    const view_theme *t = ui->theme;
    char key[40];
    const char *name = NULL;
    stage_words(ui, (job_stage)stage, key, sizeof key, &name);
    const bool is_current = stage == (int)job->stage;
    const view_react react = view_place(ui, cell, name, NULL);
    const view_stage_state state = view__stage_state(model, (job_stage)stage);
    const view_color ink = is_current ? t->accent_ink : state == VIEW_STAGE_TO_COME ? t->ink_soft : t->ink;
    const view_color ground = is_current ? t->accent : t->page;
    if (is_current) {
        view_fill_rect(ui->draw, cell, cell.h / 2.0F, t->accent);
    } else if (react.is_hot) {
        view_fill_rect(ui->draw, cell, cell.h / 2.0F, view_fade(t->ink, 0.07F));
    }
    view_rect rest = view_inset_xy(cell, VIEW_GAP_2, 0.0F);
    const float side = shape_side(ui);
    const view_rect box = view_cut_left(&rest, side);
    const view_color shape = is_current ? t->accent_ink : state == VIEW_STAGE_DONE ? t->good : ink;
    stage_shape(ui, box.x + side / 2.0F, cell.y + cell.h / 2.0F, side / 2.0F - 0.5F, state, shape, ground);
    if (has_word) {
        view_cut_left(&rest, 6.0F);
        rest.w += 1.0F;
        view_label(ui, rest, VIEW_CAPTION, VIEW_LEFT, ink, name);
    }
    if (react.shows_ring) {
        view_ring(ui, cell, cell.h / 2.0F);
    }
    trail_tip(ui, react, cell, name, stage, state);
    if (react.was_pressed) {
        view__job_choose(job, (job_stage)stage, job->row);
    }
    return react.is_focused;
}

bool view__job_trail(view_ui *ui, view_job *job, const view_job_model *model, view_rect rect)
{
    const view_rect room = view_inset_xy(rect, VIEW_GAP_3, 7.0F);
    const bool all_words = trail_width(ui, job, true) <= room.w;
    const float spare = fmaxf(0.0F, room.w - trail_width(ui, job, all_words)) / (float)(JOB_STAGE_COUNT - 1);
    const int current = (int)job->stage;
    bool is_focused = false;
    float x = room.x;
    view_group_begin(ui);
    for (int i = 0; i < JOB_STAGE_COUNT; i++) {
        const bool has_word = all_words || i == current;
        const float width = stage_cell(ui, job, i, all_words);
        if (i > 0 && spare > 6.0F) {
            view_stroke_line(ui->draw, x - spare + 3.0F, room.y + room.h / 2.0F, x - 3.0F, room.y + room.h / 2.0F, 1.5F,
                             ui->theme->panel_edge);
        }
        is_focused = trail_stage(ui, job, model, i, (view_rect){x, room.y, width, room.h}, has_word) || is_focused;
        x += width + spare;
    }
    view_group_end(ui);
    return is_focused;
}

/* ---- key hints -------------------------------------------------------------------------------------------------- */

/* One "key:word" of the hints; returns where the next one starts. What does not fit is left out. */
static float key_hint(view_ui *ui, float x, view_rect rect, const char *text, size_t size)
{
    const char *colon = memchr(text, ':', size);
    char key[32];
    char word[96];
    if (colon == NULL) {
        return x;
    }
    tr_format(key, sizeof key, "%.*s", (int)(colon - text), text);
    tr_format(word, sizeof word, "%.*s", (int)(size - (size_t)(colon - text) - 1), colon + 1);
    const float cap_w = fmaxf(20.0F, ceilf(view_width_of(ui, VIEW_CAPTION, key)) + 10.0F);
    const float word_w = ceilf(view_width_of(ui, VIEW_CAPTION, word));
    if (x + cap_w + 6.0F + word_w > rect.x + rect.w) {
        return x;
    }
    const float height = view_line_of(ui, VIEW_CAPTION) + 1.0F;
    const view_rect cap = {x, roundf(rect.y + (rect.h - height) / 2.0F), cap_w, height};
    view_fill_rect(ui->draw, cap, 4.0F, ui->theme->panel);
    view_stroke_rect(ui->draw, cap, 4.0F, 1.0F, ui->theme->ink_faint);
    view_label(ui, cap, VIEW_CAPTION, VIEW_CENTRE, ui->theme->ink, key);
    view_label(ui, (view_rect){x + cap_w + 6.0F, rect.y, word_w + 1.0F, rect.h}, VIEW_CAPTION, VIEW_LEFT,
               ui->theme->ink_soft, word);
    return x + cap_w + 6.0F + word_w + VIEW_GAP_4;
}

static float key_hints(view_ui *ui, float x, view_rect rect, const char *text)
{
    while (*text != '\0') {
        const char *end = strchr(text, '|');
        const size_t size = end != NULL ? (size_t)(end - text) : strlen(text);
        x = key_hint(ui, x, rect, text, size);
        text += size + (end != NULL ? 1 : 0);
    }
    return x;
}

void view__job_keys(view_ui *ui, const view_job *job, view_rect rect)
{
    const view_device device = ui->input->device;
    char key[40];
    tr_format(key, sizeof key, "stage.%s.%s", job_stage_name(job->stage), device == VIEW_BY_PAD ? "pad" : "keys");
    const view_rect room = view_inset_xy(rect, VIEW_GAP_3, 0.0F);
    if (device == VIEW_BY_FINGER) { /* the same at every stage: what can be pressed is seen */
        key_hints(ui, room.x, room, view_word(ui, "job.touch"));
        return;
    }
    const float x = key_hints(ui, room.x, room, view_word(ui, key));
    key_hints(ui, x, room, view_word(ui, device == VIEW_BY_PAD ? "job.pad" : "job.keys"));
}
