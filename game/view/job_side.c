/* The side of the job screen: the row ladder, and the card that says what now, why, what to beware of, and what came of
 * it. */
#include "job_screen.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/text.h"

/* ---- ladder ----------------------------------------------------------------------------------------------------- */

static void press_ladder(view_ui *ui, view_job *job, const view_ladder_hits *hits)
{
    for (int i = 0; i < hits->row_count; i++) {
        if (hits->row[i].h > 0.0F && view_rect_has(hits->row[i], ui->input->mouse_x, ui->input->mouse_y)) {
            view__job_choose(job, job->stage, i);
        }
    }
}

void view__job_ladder(view_ui *ui, view_job *job, const view_job_model *model, view_rect rect)
{
    const job_setup *setup = &model->what->setup;
    const bool is_guided = view__job_is_guided(model);
    view_well(ui, rect);
    const view_rect inside = view_inset_xy(rect, VIEW_GAP_2, VIEW_GAP_1);
    view_pen pen = view_job_pen(ui, model);
    pen.text = 14.0F * ui->text_scale; /* a list scrolls: there is room for any size */
    const view_react react = view_place(ui, rect, view_word(ui, "job.ladder"), NULL);
    if (react.is_hot && ui->input->wheel != 0.0F) {
        job->ladder_scroll -= ui->input->wheel * 36.0F;
        ui->wants_frame = true;
    }
    if (job->ladder_row != job->row) {
        job->ladder_scroll = view_ladder_scroll_to(&pen, inside, setup, is_guided, job->row, job->ladder_scroll);
        job->ladder_row = job->row;
    }
    const view_ladder_look look = {.show_true = is_guided,
                                   .row = job->row,
                                   .scroll = job->ladder_scroll,
                                   .tension_n = job->shown_n,
                                   .reading_n = job->reading_n,
                                   .former_n = (const double(*)[MECH_MAX_ROWS])job->former_n,
                                   .former_count = job->former_count,
                                   .before_n = view__before_trip(job),
                                   .end_n = job->advice.end_n};
    view_ladder_hits hits;
    view_ladder(&pen, inside, setup, model->state, &look, &hits);
    const float dragged = view_finger_drag(ui, react.id, rect, hits.content > inside.h);
    job->ladder_scroll -= dragged;
    ui->wants_frame = ui->wants_frame || dragged != 0.0F;
    job->ladder_scroll = fminf(fmaxf(job->ladder_scroll, 0.0F), fmaxf(0.0F, hits.content - inside.h));
    if (react.was_pressed && !ui->keyboard_used) {
        press_ladder(ui, job, &hits);
    }
    if (react.shows_ring) {
        view_ring(ui, view_inset(rect, 4.0F), VIEW_RADIUS);
    }
}

/* ---- card: parts ------------------------------------------------------------------------------------------------ */

/* Where the card's text has come to; it only goes down. */
typedef struct card {
    view_rect room;
    float y;
} card;

static view_rect card_next(card *at, float height, float gap)
{
    const view_rect rect = {at->room.x, at->room.y + at->y, at->room.w, height};
    at->y += height + gap;
    return rect;
}

static void card_text(view_ui *ui, card *at, view_type type, view_color ink, const char *text)
{
    const float height = view_paragraph_height(ui, at->room.w, type, text);
    view_paragraph(ui, card_next(at, height, VIEW_GAP_2), type, ink, text);
}

/* Words on a tinted ground with an icon before them. */
static float strip_height(const view_ui *ui, float width, const char *text)
{
    const float lead = 20.0F * ui->text_scale + VIEW_GAP_2;
    return view_paragraph_height(ui, width - lead - 2.0F * VIEW_GAP_3, VIEW_BODY, text) + 2.0F * VIEW_GAP_2;
}

static void strip(view_ui *ui, view_rect rect, view_icon icon, view_color ink, view_color ground, const char *text)
{
    const float side = 20.0F * ui->text_scale;
    view_fill_rect(ui->draw, rect, VIEW_RADIUS, ground);
    view_stroke_rect(ui->draw, rect, VIEW_RADIUS, 1.0F, view_fade(ink, 0.5F));
    view_icon_draw(ui->draw, icon, rect.x + VIEW_GAP_3 + side / 2.0F,
                   rect.y + VIEW_GAP_2 + view_line_of(ui, VIEW_BODY) / 2.0F, side, ink);
    view_rect words = view_inset_xy(rect, VIEW_GAP_3, VIEW_GAP_2);
    view_cut_left(&words, side + VIEW_GAP_2);
    view_paragraph(ui, words, VIEW_BODY, ui->theme->ink, text);
}

static void card_strip(view_ui *ui, card *at, view_icon icon, view_color ink, view_color ground, const char *text)
{
    strip(ui, card_next(at, strip_height(ui, at->room.w, text), VIEW_GAP_2), icon, ink, ground, text);
}

static bool card_button(view_ui *ui, card *at, const char *word_key, const view_button_spec *spec)
{
    const float width = fminf(view_button_width(ui, view_word(ui, word_key), spec), at->room.w);
    view_rect line = card_next(at, view_control_height(ui), VIEW_GAP_2);
    return view_button_with(ui, view_cut_left(&line, width), view_word(ui, word_key), spec);
}

/* ---- card: what now --------------------------------------------------------------------------------------------- */

static bool is_elsewhere(const view_job *job)
{
    const job_action *next = &job->advice.action;
    const int row = job_action_row(next);
    const bool is_anywhere = next->verb == JOB_DO_GLASSES || next->verb == JOB_DO_STAND;
    return !is_anywhere && (job_verb_look(next->verb)->stage != job->stage || (row >= 0 && row != job->row));
}

static void offer_to_go(view_ui *ui, view_job *job, card *at)
{
    const view_button_spec spec = {.icon = VIEW_ICON_NEXT, .key = 'N', .key_hint = "N"};
    if (job->advice.has_any && is_elsewhere(job) && card_button(ui, at, "job.go_there", &spec)) {
        view__job_go_on(job);
        job->follows = true;
    }
}

static void say_why(view_ui *ui, view_job *job, const view_job_model *model, card *at)
{
    char text[TR_TEXT_CAP];
    const view_button_spec spec = {.icon = VIEW_ICON_QUESTION, .key = 'I', .key_hint = "I"};
    if (card_button(ui, at, job->why.is_open ? "job.why_close" : "job.why", &spec)) {
        job->why.is_open = !job->why.is_open;
        ui->wants_frame = true;
    }
    if (!job->why.is_open) {
        return;
    }
    card_text(ui, at, VIEW_BODY, ui->theme->ink, view__job_advice_why(ui, &job->advice.action));
    if (view__why_number(ui, job, model, text, sizeof text)) {
        card_text(ui, at, VIEW_BODY, ui->theme->ink, text);
    }
    view__why_wrong(ui, job, text, sizeof text);
    card_text(ui, at, VIEW_BODY, ui->theme->ink_soft, text);
}

static void say_advice(view_ui *ui, view_job *job, const view_job_model *model, card *at)
{
    char text[TR_TEXT_CAP];
    if (!job->advice.has_any) {
        card_text(ui, at, VIEW_STRONG, ui->theme->ink,
                  view_word(ui, model->state->is_signed ? "what.signed" : "what.none"));
        return;
    }
    view__job_advice_text(ui, model, &job->advice.action, text, sizeof text);
    card_text(ui, at, VIEW_STRONG, ui->theme->ink, text);
    offer_to_go(ui, job, at);
    say_why(ui, job, model, at);
}

static void ask_for_hint(view_ui *ui, view_job *job, const view_job_model *model, card *at, view_job_said *said)
{
    char text[TR_TEXT_CAP];
    if (job->hint_open && job->advice.has_any) {
        view__job_advice_text(ui, model, &job->advice.action, text, sizeof text);
        card_strip(ui, at, VIEW_ICON_QUESTION, ui->theme->accent, ui->theme->accent_soft, text);
        card_text(ui, at, VIEW_BODY, ui->theme->ink_soft, view__job_advice_why(ui, &job->advice.action));
        return;
    }
    const view_button_spec spec = {
        .icon = VIEW_ICON_QUESTION, .key = 'I', .key_hint = "I", .tip = view_word(ui, "job.hint_tip")};
    if (!model->state->is_signed && card_button(ui, at, "job.hint", &spec)) {
        view_job_do(said, model, JOB_DO_HINT, NULL, 0);
    }
}

/* The program shows the stage in hand on a copy; in practice that is a hint. */
static void offer_to_show(view_ui *ui, const view_job *job, const view_job_model *model, card *at, view_job_said *said)
{
    const bool is_guided = view__job_is_guided(model);
    const view_button_spec spec = {.icon = VIEW_ICON_PLAY,
                                   .key = 'V',
                                   .key_hint = "V",
                                   .tip = view_word(ui, is_guided ? "shown.me_tip" : "shown.me_hint_tip")};
    if (model->is_copy || model->state->is_signed || !card_button(ui, at, "shown.me", &spec)) {
        return;
    }
    said->show_me = true;
    if (!is_guided && !job->hint_open) {
        view_job_do(said, model, JOB_DO_HINT, NULL, 0);
    }
}

static void say_what_now(view_ui *ui, view_job *job, const view_job_model *model, card *at, view_job_said *said)
{
    char key[40];
    if (view__job_is_guided(model)) {
        say_advice(ui, job, model, at);
        offer_to_show(ui, job, model, at, said);
        return;
    }
    if (model->state->is_signed) {
        card_text(ui, at, VIEW_STRONG, ui->theme->ink, view_word(ui, "what.signed"));
        return;
    }
    if (model->about->mode == JOB_PRACTICE) {
        tr_format(key, sizeof key, "stage.%s.now", job_stage_name(job->stage));
        card_text(ui, at, VIEW_STRONG, ui->theme->ink, view_word(ui, key));
        ask_for_hint(ui, job, model, at, said);
        offer_to_show(ui, job, model, at, said);
    }
}

/* ---- card: caution and readings --------------------------------------------------------------------------------- */

/* The stages in which the work can hurt. */
static void beware(view_ui *ui, const view_job *job, card *at)
{
    const job_stage stage = job->stage;
    if (stage != JOB_STAGE_DRILL && stage != JOB_STAGE_CUT && stage != JOB_STAGE_CRIMP && stage != JOB_STAGE_TENSION) {
        return;
    }
    char key[40];
    tr_format(key, sizeof key, "caution.%s", job_stage_name(stage));
    const char *word = view_word(ui, "caution.word");
    const char *text = view_word(ui, key);
    /* a narrow card has no room for the words beside the sign */
    const float beside = at->room.w - view_width_of(ui, VIEW_STRONG, word) - 26.0F * ui->text_scale - 70.0F;
    if (beside < 150.0F * ui->text_scale) {
        char both[TR_TEXT_CAP];
        tr_format(both, sizeof both, "%s: %s", word, text);
        card_strip(ui, at, VIEW_ICON_WARNING, ui->theme->warn, ui->theme->warn_soft, both);
        return;
    }
    const float height = view_banner_height(ui, at->room.w, word, text);
    view_banner(ui, card_next(at, height, VIEW_GAP_2), word, text);
}

static void reading(view_ui *ui, card *at, const char *word_key, const char *value)
{
    view_rect line = card_next(at, view_line_of(ui, VIEW_BODY), 2.0F);
    const float width = fminf(ceilf(view_width_of(ui, VIEW_STRONG, value)) + VIEW_GAP_2, line.w * 0.6F);
    view_label(ui, view_cut_right(&line, width), VIEW_STRONG, VIEW_RIGHT, ui->theme->ink, value);
    view_label(ui, line, VIEW_BODY, VIEW_LEFT, ui->theme->ink_soft, view_word(ui, word_key));
}

/* What gauge, ear and hand have said of this row; older than the last turn anywhere, it is marked as old. */
static void readings(view_ui *ui, const view_job *job, const view_job_model *model, card *at)
{
    const int row = job->row;
    char value[48];
    if (job->stage < JOB_STAGE_TENSION) {
        return;
    }
    if (job->reading_n[row] >= 0.0) {
        reading(ui, at, "job.reading.gauge", view_job_quantity(model, job->reading_n[row], TR_DIM_FORCE, value));
    }
    if (job->tone_hz[row] >= 0.0) {
        reading(ui, at, "job.reading.tone", view_job_quantity(model, job->tone_hz[row], TR_DIM_FREQUENCY, value));
    }
    if (job->pin_row == row && job->pin_n_m >= 0.0) {
        reading(ui, at, "job.reading.pin", view_job_quantity(model, job->pin_n_m, TR_DIM_MOMENT, value));
    }
    int64_t last_turn = -1;
    for (int i = 0; i < model->what->setup.structure.row_count; i++) {
        last_turn = model->state->row[i].turned_at > last_turn ? model->state->row[i].turned_at : last_turn;
    }
    const int64_t measured = model->state->row[row].measured_at;
    if (measured >= 0 && measured < last_turn) {
        card_text(ui, at, VIEW_CAPTION, ui->theme->ink_soft, view_word(ui, "job.reading.old"));
    }
}

/* ---- card ------------------------------------------------------------------------------------------------------- */

static void card_title(view_ui *ui, const view_job *job, view_rect rect)
{
    char key[40];
    char row[16];
    char title[128];
    tr_format(key, sizeof key, "stage.%s.name", job_stage_name(job->stage));
    tr_format(row, sizeof row, "%d", job->row + 1);
    const char *const args[] = {view_word(ui, key), row};
    if (job->stage == JOB_STAGE_READ) { /* the sheet is about all rows */
        tr_copy(title, sizeof title, args[0]);
    } else {
        tr_lang_fill(ui->lang, "job.card", args, 2, title, sizeof title);
    }
    view_label(ui, rect, VIEW_TITLE, VIEW_LEFT, ui->theme->ink, title);
}

static void offer_debrief(view_ui *ui, const view_job_model *model, card *at, view_job_said *said)
{
    const view_button_spec spec = {.look = VIEW_PRIMARY, .icon = VIEW_ICON_SHEET, .key = 'D', .key_hint = "D"};
    if (model->state->is_signed && card_button(ui, at, "job.debrief", &spec)) {
        said->debrief = true;
    }
}

void view__job_card(view_ui *ui, view_job *job, const view_job_model *model, view_rect rect, view_job_said *said)
{
    char message[TR_TEXT_CAP];
    view_shadow(ui, rect, VIEW_RADIUS_CARD, 6.0F);
    view_fill_rect(ui->draw, rect, VIEW_RADIUS_CARD, ui->theme->panel);
    view_stroke_rect(ui->draw, rect, VIEW_RADIUS_CARD, 1.0F, ui->theme->panel_edge);
    view_rect room = view_inset_xy(rect, VIEW_GAP_4, VIEW_GAP_2);
    if (view__slip_is_up(job)) {
        view__slip_card(ui, job, model, room, said);
        return;
    }
    card_title(ui, job, view_cut_top(&room, view_line_of(ui, VIEW_TITLE) + VIEW_GAP_1));
    const view_message kind = view__job_message(ui, job, model, message, sizeof message);
    const bool has_message = kind != VIEW_NO_MESSAGE;
    const view_theme *t = ui->theme;
    const view_color ink = kind == VIEW_MESSAGE_BAD ? t->bad : kind == VIEW_MESSAGE_GOOD ? t->good : t->accent;
    const view_color ground = kind == VIEW_MESSAGE_BAD    ? t->bad_soft
                              : kind == VIEW_MESSAGE_GOOD ? t->good_soft
                                                          : t->accent_soft;
    const view_icon icon = kind == VIEW_MESSAGE_BAD    ? VIEW_ICON_WARNING
                           : kind == VIEW_MESSAGE_GOOD ? VIEW_ICON_CHECK
                                                       : VIEW_ICON_EYE;
    const float height = has_message ? strip_height(ui, room.w, message) : 0.0F;
    const bool is_pinned = has_message && height <= room.h * 0.5F;
    if (is_pinned) { /* at the foot of the card, where it does not push the rest about */
        strip(ui, view_cut_bottom(&room, height), icon, ink, ground, message);
        view_cut_bottom(&room, VIEW_GAP_2);
    }
    const view_rect port = {room.x - 4.0F, room.y, room.w + 8.0F, room.h};
    const view_rect inside = view_scroll_begin(ui, port, "card");
    card at = {.room = {inside.x + 4.0F, inside.y + 4.0F, inside.w - 8.0F, inside.h}};
    if (has_message && !is_pinned) {
        card_strip(ui, &at, icon, ink, ground, message);
    }
    offer_debrief(ui, model, &at, said);
    say_what_now(ui, job, model, &at, said);
    beware(ui, job, &at);
    readings(ui, job, model, &at);
    view_scroll_end(ui, at.y + 4.0F);
}
