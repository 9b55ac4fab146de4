/* The right of the debrief: charts, the run as it stood at the cursor, and the scrubber. */
#include "debrief.h"

#include <math.h>
#include <string.h>

#include "pen.h"
#include "tautrow/base/text.h"

static const double STEP_S = 0.12; /* seconds an action when the attempt plays by itself */

static view_pen pen_of(const view_ui *ui, tr_system system)
{
    return view__pen_of(ui, system, 13.0F * ui->text_scale);
}

/* ---- the charts ------------------------------------------------------------------------------------------------- */

static void play_or_pause(const view_ui *ui, view_debrief *debrief)
{
    debrief->is_playing = !debrief->is_playing;
    debrief->cursor = debrief->is_playing && debrief->cursor == debrief->count ? 0 : debrief->cursor;
    debrief->played_s = ui->time_s;
}

/* The cursor can be taken by the hand in a chart over the actions, too. */
static void scrub_in_chart(view_ui *ui, view_debrief *debrief, const view_plot *plot)
{
    const view_react react = view_place(ui, plot->area, view_word(ui, "debrief.scrub"), NULL);
    if (react.shows_ring) {
        view_ring(ui, plot->area, 3.0F);
        if (react.was_pressed) {
            play_or_pause(ui, debrief);
        }
    }
    if (!react.is_down || !ui->input->down[VIEW_MOUSE_LEFT]) {
        return;
    }
    const float share = (ui->input->mouse_x - plot->area.x) / fmaxf(plot->area.w, 1.0F);
    const double action = plot->x_low + (double)share * (plot->x_high - plot->x_low);
    const double cursor = fmin(fmax(floor(action + 1.5), 0.0), (double)debrief->count);
    ui->wants_frame = ui->wants_frame || debrief->cursor != (size_t)cursor;
    debrief->cursor = (size_t)cursor;
    debrief->is_playing = false;
}

static void draw_page(view_ui *ui, view_rect area, view_debrief *debrief, const record_attempt *attempt,
                      tr_system system)
{
    const job_setup *setup = &record_attempt_scenario(attempt)->setup;
    const view_pen pen = pen_of(ui, system);
    const view_story story = {record_attempt_trace(attempt), debrief->count, (double)debrief->cursor - 1.0,
                              debrief->row};
    view_plot plot;
    switch (debrief->page) {
    case VIEW_PAGE_FINAL:
        view_chart_bars(&pen, area, setup, debrief->shown->rows.tension_n, debrief->row);
        break;
    case VIEW_PAGE_LOAD:
        plot = view_chart_off_centre(&pen, area, setup, &story);
        scrub_in_chart(ui, debrief, &plot);
        break;
    case VIEW_PAGE_PULLS:
        if (debrief->has_sheet) {
            view_chart_pulls(&pen, area, setup, debrief->sheet, debrief->shown);
        }
        break;
    case VIEW_PAGE_SHAPE:
        view_chart_shape(&pen, area, &debrief->shown->run, &debrief->shown->rows);
        break;
    case VIEW_PAGE_TENSION:
    default:
        plot = view_chart_tension(&pen, area, setup, &story);
        scrub_in_chart(ui, debrief, &plot);
        break;
    }
}

static void draw_charts(view_ui *ui, view_rect area, view_debrief *debrief, const record_attempt *attempt,
                        tr_system system)
{
    static const char *const keys[VIEW_PAGES] = {"debrief.page.tension", "debrief.page.final", "debrief.page.load",
                                                 "debrief.page.pulls", "debrief.page.shape"};
    const char *words[VIEW_PAGES];
    for (int i = 0; i < VIEW_PAGES; i++) {
        words[i] = view_word(ui, keys[i]);
    }
    view_rect room = view_panel(ui, area);
    (void)view_tabs(ui, view_cut_top(&room, view_control_height(ui)), view_word(ui, "debrief.pages"), words, VIEW_PAGES,
                    &debrief->page);
    view_cut_top(&room, VIEW_GAP_3);
    draw_page(ui, room, debrief, attempt, system);
}

/* ---- the scrubber ----------------------------------------------------------------------------------------------- */

/* Brings `shown` to the cursor. Going forward is cheap; going back starts from the beginning. */
static void follow_cursor(view_debrief *debrief, const record_attempt *attempt)
{
    const job_setup *setup = &record_attempt_scenario(attempt)->setup;
    const job_action *actions = NULL;
    (void)record_attempt_actions(attempt, &actions);
    if (debrief->cursor < debrief->shown_at) {
        job_start(setup, debrief->shown);
        debrief->shown_at = 0;
    }
    for (; debrief->shown_at < debrief->cursor; debrief->shown_at++) {
        (void)job_apply(setup, debrief->shown, &actions[debrief->shown_at]);
    }
}

/* Plays on by itself: an action every STEP_S, from the start again once it is over. */
static void play(view_ui *ui, view_debrief *debrief)
{
    if (!debrief->is_playing) {
        return;
    }
    ui->wants_frame = true;
    if (ui->time_s - debrief->played_s >= STEP_S) {
        debrief->played_s = ui->time_s;
        debrief->cursor += debrief->cursor < debrief->count ? 1 : 0;
        debrief->is_playing = debrief->cursor < debrief->count;
    }
}

/* "Action 12 of 143: turn body, row 5, 0:42". */
static void cursor_words(const view_ui *ui, const view_debrief *debrief, const record_attempt *attempt, char *out,
                         size_t cap)
{
    const job_action *actions = NULL;
    (void)record_attempt_actions(attempt, &actions);
    if (debrief->cursor == 0) {
        (void)tr_copy(out, cap, view_word(ui, "debrief.at_start"));
        return;
    }
    const job_action *action = &actions[debrief->cursor - 1];
    const job_trace_entry *entry = &record_attempt_trace(attempt)[debrief->cursor - 1];
    char number[16];
    char count[24];
    char key[48];
    const char *args[] = {number, count, view_word(ui, key)};
    (void)tr_format(number, sizeof number, "%zu", debrief->cursor);
    (void)tr_format(count, sizeof count, "%zu", debrief->count);
    (void)tr_format(key, sizeof key, "act.%s", job_verb_look(action->verb)->name);
    args[2] = view_word(ui, key);
    tr_lang_fill(ui->lang, "debrief.at", args, 3, out, cap);
    if (job_action_row(action) >= 0) {
        char row[16];
        char more[48];
        const char *row_args[] = {row};
        (void)tr_format(row, sizeof row, "%d", job_action_row(action) + 1);
        tr_lang_fill(ui->lang, "debrief.at_row", row_args, 1, more, sizeof more);
        (void)tr_append(out, cap, ", %s", more);
    }
    const long long seconds = (long long)action->at_ms / 1000;
    (void)tr_append(out, cap, ", %lld:%02lld", seconds / 60, seconds % 60);
    if (entry->outcome.refusal != JOB_REFUSE_NONE) {
        const char *why = view_word(ui, job_refusal_key(entry->outcome.refusal));
        const char *stop = strstr(why, ". "); /* the first sentence says why, the next ones what to do */
        (void)tr_append(out, cap, " — %.*s", (int)(stop == NULL ? strlen(why) : (size_t)(stop - why) + 1), why);
    }
}

static float scrubber_height(const view_ui *ui)
{
    return view_slider_height(ui) + 2.0F * VIEW_GAP_4;
}

/* The words change as the cursor moves, so they are no name for the slider: it would not be the same one. */
static void draw_scrubber(view_ui *ui, view_rect area, view_debrief *debrief, const record_attempt *attempt)
{
    char words[256];
    const float button = view_control_height(ui);
    view_rect side = view_cut_left(&area, button);
    const bool is_playing = debrief->is_playing;
    if (view_icon_button(ui, view_centre_in(side, button, button), is_playing ? VIEW_ICON_PAUSE : VIEW_ICON_PLAY,
                         view_word(ui, is_playing ? "debrief.pause" : "debrief.play"), NULL)) {
        play_or_pause(ui, debrief);
    }
    view_cut_left(&area, VIEW_GAP_3);
    cursor_words(ui, debrief, attempt, words, sizeof words);
    view_label(ui, view_cut_top(&area, view_line_of(ui, VIEW_STRONG)), VIEW_STRONG, VIEW_LEFT, ui->theme->ink, words);
    float at = (float)debrief->cursor;
    if (view_slider(ui, area, view_word(ui, "debrief.scrub"), (view_range){0.0F, (float)debrief->count, 1.0F}, &at,
                    NULL)) {
        debrief->cursor = (size_t)(at + 0.5F);
        debrief->is_playing = false;
        ui->wants_frame = true;
    }
}

/* Rows lie closer than targets may: the picture is one target, pressed at a row or moved through by the arrow keys. */
static void choose_row(view_ui *ui, view_rect area, view_debrief *debrief, const view_hits *hits)
{
    const view_react react = view_place(ui, area, view_word(ui, "job.run"), NULL);
    const int before = debrief->row;
    for (int i = 0; react.was_pressed && !ui->keyboard_used && i < hits->row_count; i++) {
        if (view_rect_has(hits->row[i], ui->input->mouse_x, ui->input->mouse_y)) {
            debrief->row = debrief->row == i ? -1 : i;
        }
    }
    while (react.is_focused && view_key_take(ui, VIEW_KEY_UP, 0)) {
        debrief->row += debrief->row + 1 < hits->row_count ? 1 : 0;
    }
    while (react.is_focused && view_key_take(ui, VIEW_KEY_DOWN, 0)) {
        debrief->row -= debrief->row >= 0 ? 1 : 0;
    }
    ui->wants_frame = ui->wants_frame || debrief->row != before;
    if (react.shows_ring) {
        view_ring(ui, view_inset(area, 4.0F), VIEW_RADIUS);
    }
}

/* Keys that no widget has taken: arrows step, Home and End jump, Space plays. */
static void step_by_keys(view_ui *ui, view_debrief *debrief)
{
    const size_t before = debrief->cursor;
    while (view_shortcut(ui, VIEW_KEY_RIGHT)) {
        debrief->cursor += debrief->cursor < debrief->count ? 1 : 0;
    }
    while (view_shortcut(ui, VIEW_KEY_LEFT)) {
        debrief->cursor -= debrief->cursor > 0 ? 1 : 0;
    }
    debrief->cursor = view_shortcut(ui, VIEW_KEY_HOME) ? 0 : debrief->cursor;
    debrief->cursor = view_shortcut(ui, VIEW_KEY_END) ? debrief->count : debrief->cursor;
    debrief->is_playing = debrief->is_playing && debrief->cursor == before;
    if (view_shortcut(ui, VIEW_KEY_SPACE)) {
        play_or_pause(ui, debrief);
    }
    ui->wants_frame = ui->wants_frame || debrief->cursor != before || debrief->is_playing;
}

static void draw_run(view_ui *ui, view_rect area, view_debrief *debrief, const record_attempt *attempt,
                     tr_system system)
{
    const job_setup *setup = &record_attempt_scenario(attempt)->setup;
    view_pen pen = pen_of(ui, system);
    pen.text = fmaxf(13.0F, fminf(pen.text, area.h / 17.0F));
    view_hits hits;
    view_elevation_look look;
    memset(&look, 0, sizeof look);
    look.show_true = true;
    look.row = debrief->row;
    look.gap = -1;
    look.plucked_row = -1;
    view_well(ui, area);
    view_elevation(&pen, view_inset(area, VIEW_GAP_2), setup, debrief->shown, &look, &hits);
    choose_row(ui, area, debrief, &hits);
}

void view_debrief_story(view_ui *ui, view_rect area, view_debrief *debrief, const record_attempt *attempt,
                        tr_system system, bool has_charts, bool has_run)
{
    play(ui, debrief);
    follow_cursor(debrief, attempt);
    view_rect scrubber = view_cut_bottom(&area, scrubber_height(ui));
    view_cut_bottom(&area, VIEW_GAP_3);
    if (has_charts) {
        draw_charts(ui, view_cut_top(&area, has_run ? area.h * 0.56F : area.h), debrief, attempt, system);
        view_cut_top(&area, VIEW_GAP_3);
    }
    if (has_run) {
        draw_run(ui, area, debrief, attempt, system);
    }
    draw_scrubber(ui, view_panel(ui, scrubber), debrief, attempt);
    step_by_keys(ui, debrief);
}
