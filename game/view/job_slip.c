/* A slip-up shown at the moment it happens (guided mode only): what happened, what it does to the work, how to do it
 * right; undo it, or go on with it. It stands where the card says what now, and never over the run.
 *
 * It goes away by itself with the next action: whoever works on has decided. */
#include "job_screen.h"

#include <stdlib.h>

#include "tautrow/base/text.h"

/* ---- hearing ------------------------------------------------------------------------------------------------------ */

static int find(const view_job_model *model, score_slip out[SCORE_MAX_SLIPS])
{
    job_action *actions = calloc(model->trace_count, sizeof *actions);
    if (actions == NULL) {
        return 0;
    }
    for (size_t i = 0; i < model->trace_count; i++) {
        actions[i] = model->trace[i].action;
    }
    const int count = score_slips(model->what, actions, model->trace_count, out);
    free(actions);
    return count;
}

void view__slip_begin(view_job *job, const view_job_model *model)
{
    job->slip.frame_at = model->trace_count;
    job->slip.has_frame = true;
}

bool view__slip_is_up(const view_job *job)
{
    return job->slip.count > 0;
}

/* A gesture may end in several actions within one frame: they are one, and taken back as one. */
bool view__slip_hear(view_job *job, const view_job_model *model, const job_action *action, bool was_advised)
{
    if (!view__job_is_guided(model) || model->trace == NULL || model->trace_count == 0) {
        return false;
    }
    const size_t from = job->slip.has_frame ? job->slip.frame_at : model->trace_count - 1;
    if (view__slip_is_up(job) && from == job->slip.from) {
        return true;
    }
    job->slip.count = find(model, job->slip.slip);
    job->slip.from = from;
    job->slip.action = *action;
    job->slip.was_advised = was_advised;
    if (view__slip_is_up(job)) { /* looked at where it happened */
        const int row = job_action_row(action);
        job->stage = job_verb_look(action->verb)->stage;
        job->row = row >= 0 ? row : job->row;
    }
    return view__slip_is_up(job);
}

void view__slip_forget(view_job *job)
{
    job->slip.count = 0;
}

static void go_on(view_job *job, const view_job_model *model)
{
    view__slip_forget(job);
    view__job_follow(job, model, &job->slip.action, job->slip.was_advised);
}

void view__slip_settle(view_job *job, const view_job_model *model, view_job_said *said)
{
    if (said->undo > 0 && view__slip_is_up(job)) {
        said->undo = (int)(model->trace_count - job->slip.from);
        view__slip_forget(job);
    }
}

/* ---- card --------------------------------------------------------------------------------------------------------- */

static view_color ink_of(const view_ui *ui, const score_slip *slip)
{
    return slip->is_open ? ui->theme->accent : ui->theme->bad;
}

static const char *title_of(const view_ui *ui, const score_slip *slip)
{
    return view_word(ui, slip->is_open              ? "slip.title_open"
                         : slip->stop < SCORE_STOPS ? "slip.title_stop"
                                                    : "slip.title");
}

/* "Slip-up: Hole depth" on a tinted ground. */
static void heading(view_ui *ui, view_rect rect, const score_slip *slip, const char *text)
{
    const view_theme *t = ui->theme;
    const float side = 20.0F * ui->text_scale;
    const view_color ink = ink_of(ui, slip);
    view_fill_rect(ui->draw, rect, VIEW_RADIUS, slip->is_open ? t->accent_soft : t->bad_soft);
    view_stroke_rect(ui->draw, rect, VIEW_RADIUS, 1.0F, view_fade(ink, 0.5F));
    view_icon_draw(ui->draw, slip->is_open ? VIEW_ICON_EYE : VIEW_ICON_WARNING, rect.x + VIEW_GAP_3 + side / 2.0F,
                   rect.y + VIEW_GAP_2 + view_line_of(ui, VIEW_STRONG) / 2.0F, side, ink);
    view_rect words = view_inset_xy(rect, VIEW_GAP_3, VIEW_GAP_2);
    view_cut_left(&words, side + VIEW_GAP_2);
    view_paragraph(ui, words, VIEW_STRONG, t->ink, text);
}

static float heading_height(const view_ui *ui, float width, const char *text)
{
    const float lead = 20.0F * ui->text_scale + VIEW_GAP_2;
    return view_paragraph_height(ui, width - lead - 2.0F * VIEW_GAP_3, VIEW_STRONG, text) + 2.0F * VIEW_GAP_2;
}

static void say(view_ui *ui, view_flow *column, view_type type, view_color ink, const char *text)
{
    if (text[0] != '\0') {
        const float height = view_paragraph_height(ui, column->area.w, type, text);
        view_paragraph(ui, view_column_next(column, height), type, ink, text);
    }
}

/* The names of what else the same action spoiled. */
static void say_also(view_ui *ui, const view_job *job, view_flow *column)
{
    char names[320] = "";
    char name[96];
    char text[TR_TEXT_CAP];
    for (int i = 1; i < job->slip.count; i++) {
        score_slip_name(&job->slip.slip[i], ui->lang, name, sizeof name);
        if (name[0] >= 'A' && name[0] <= 'Z') { /* a heading elsewhere, a part of a sentence here */
            name[0] = (char)(name[0] - 'A' + 'a');
        }
        tr_append(names, sizeof names, "%s%s", i > 1 ? ", " : "", name);
    }
    if (names[0] != '\0') {
        const char *const args[] = {names};
        tr_lang_fill(ui->lang, "slip.also", args, 1, text, sizeof text);
        say(ui, column, VIEW_CAPTION, ui->theme->ink_soft, text);
    }
}

static void say_all(view_ui *ui, const view_job *job, const view_job_model *model, view_flow *column)
{
    const score_slip *slip = &job->slip.slip[0];
    char name[96];
    char text[1024];
    score_slip_name(slip, ui->lang, name, sizeof name);
    tr_format(text, sizeof text, "%s: %s", title_of(ui, slip), name);
    heading(ui, view_column_next(column, heading_height(ui, column->area.w, text)), slip, text);
    score_slip_what(slip, ui->lang, model->system, text, sizeof text);
    say(ui, column, VIEW_STRONG, ui->theme->ink, text);
    score_slip_effect(slip, ui->lang, model->system, text, sizeof text);
    say(ui, column, VIEW_BODY, ui->theme->ink, text);
    score_slip_right(slip, ui->lang, text, sizeof text);
    say(ui, column, VIEW_BODY, ui->theme->ink_soft, text);
    say_also(ui, job, column);
}

/* A key that is held repeats: only a fresh press answers the card. */
static bool is_freshly_pressed(const view_ui *ui, int key)
{
    for (size_t i = 0; i < ui->input->keys; i++) {
        if (ui->input->key[i].key == key && !ui->input->key[i].is_repeat) {
            return true;
        }
    }
    return false;
}

static bool wants_on(view_ui *ui)
{
    const bool by_escape = view_key_take(ui, VIEW_KEY_ESCAPE, 0);
    return by_escape || (is_freshly_pressed(ui, VIEW_KEY_ENTER) && view_key_take(ui, VIEW_KEY_ENTER, 0));
}

/* Side by side: without the names of their keys where those do not fit, then in fewer words, then one under the other. */
typedef struct answer_places {
    view_rect undo, on;
    const char *on_word;
    view_button_spec undo_spec, on_spec;
} answer_places;

static answer_places place_answers(const view_ui *ui, const score_slip *slip, view_rect *room)
{
    const float height = view_control_height(ui);
    const char *undo = view_word(ui, "slip.undo");
    answer_places at = {.on_word = view_word(ui, "slip.go_on"),
                        .undo_spec = {.look = slip->is_open ? VIEW_SECONDARY : VIEW_PRIMARY,
                                      .icon = VIEW_ICON_UNDO,
                                      .key_hint = "Ctrl+Z"},
                        .on_spec = {.look = slip->is_open ? VIEW_PRIMARY : VIEW_SECONDARY, .key_hint = "Esc"}};
    float undo_w = view_button_width(ui, undo, &at.undo_spec);
    float on_w = view_button_width(ui, at.on_word, &at.on_spec);
    if (undo_w + on_w + VIEW_GAP_2 > room->w) {
        at.undo_spec.key_hint = at.on_spec.key_hint = NULL;
        undo_w = view_button_width(ui, undo, &at.undo_spec);
        on_w = view_button_width(ui, at.on_word, &at.on_spec);
    }
    if (undo_w + on_w + VIEW_GAP_2 > room->w) {
        at.on_word = view_word(ui, "slip.go_on_short");
        on_w = view_button_width(ui, at.on_word, &at.on_spec);
    }
    if (undo_w + on_w + VIEW_GAP_2 <= room->w) {
        view_rect foot = view_cut_bottom(room, height);
        at.undo = view_cut_left(&foot, undo_w);
        view_cut_left(&foot, VIEW_GAP_2);
        at.on = view_cut_left(&foot, on_w);
    } else {
        at.on = view_cut_bottom(room, height);
        view_cut_bottom(room, VIEW_GAP_1);
        at.undo = view_cut_bottom(room, height);
    }
    view_cut_bottom(room, VIEW_GAP_2);
    return at;
}

static void answers(view_ui *ui, view_job *job, const view_job_model *model, const answer_places *at,
                    view_job_said *said)
{
    said->undo = view_button_with(ui, at->undo, view_word(ui, "slip.undo"), &at->undo_spec) ? 1 : said->undo;
    if (view_button_with(ui, at->on, at->on_word, &at->on_spec) || wants_on(ui)) {
        go_on(job, model);
    }
}

void view__slip_card(view_ui *ui, view_job *job, const view_job_model *model, view_rect room, view_job_said *said)
{
    view_push(ui, "slip", 0);
    const answer_places at = place_answers(ui, &job->slip.slip[0], &room);
    view_cut_top(&room, VIEW_GAP_2); /* the tinted heading stands as far from the card's top as from its sides */
    const view_rect port = {room.x - 4.0F, room.y, room.w + 8.0F, room.h};
    const view_rect inside = view_scroll_begin(ui, port, "card");
    view_flow column = view_column((view_rect){inside.x + 4.0F, inside.y, inside.w - 8.0F, inside.h}, VIEW_GAP_2);
    say_all(ui, job, model, &column);
    view_scroll_end(ui, view_flow_height(&column) + 4.0F);
    answers(ui, job, model, &at, said);
    view_pop(ui);
}
