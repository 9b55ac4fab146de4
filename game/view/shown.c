/* The demonstration's play: a copy of the attempt, the program's hand at its job screen, steps forward and back. */
#include "tautrow/view/shown.h"

#include "shown_play.h"

#include <math.h>
#include <stdlib.h>

enum { MOST_SILENT = 6000 };
static const float FRAME_S = 1.0F / 60.0F;
static const float LONGEST_STEP_S = 90.0F; /* a step that takes longer has gone wrong: it is done at once instead */
static const float READ_S = 0.9F;
static const double JUST_BEGUN_S = 1.0;

/* ---- what belongs to the stage ---------------------------------------------------------------------------------- */

static bool is_about_row(job_stage stage)
{
    return stage >= JOB_STAGE_MARK && stage <= JOB_STAGE_JOIN;
}

static const job_state *state_of(const view_shown *shown)
{
    return record_attempt_state(shown->copy);
}

static bool belongs(const view_shown *shown, const job_action *action)
{
    const job_stage stage = shown->stage;
    const int row = job_action_row(action);
    if (action->verb == JOB_DO_GLASSES || (action->verb == JOB_DO_TAKE_CUTTER && stage != JOB_STAGE_CUT)) {
        /* at hand in every stage that cuts; part of this one when the row has come to it */
        return is_about_row(stage) && job_row_stage(&shown->plan.setup, state_of(shown), shown->row) == stage;
    }
    return job_verb_look(action->verb)->stage == stage && (row < 0 || row == shown->row || !is_about_row(stage));
}

static bool are_gaps_tried(const job_setup *setup, const job_state *state)
{
    bool are_tried = state->is_post_sighted;
    for (int gap = 0; gap < setup->structure.row_count; gap++) {
        are_tried = are_tried && state->is_gap_tried[gap];
    }
    return are_tried;
}

/* Once each, and after the days that the sheet asks for as well. */
static bool are_rows_turned(const job_setup *setup, const job_state *state)
{
    bool are_turned = state->days >= setup->after.days;
    for (int i = 0; i < setup->order_count; i++) {
        are_turned = are_turned && state->row[setup->order[i]].first_reading_n > 0.0;
    }
    return are_turned;
}

/* The stage asks for nothing more, provided that the next action is none of it. */
static bool is_past(const view_shown *shown, const job_state *state)
{
    switch (shown->stage) {
    case JOB_STAGE_READ:
        return state->is_sheet_open && state->answer[0] >= 0 && state->answer[1] >= 0 && state->answer[2] >= 0;
    case JOB_STAGE_TENSION:
        return are_rows_turned(&shown->plan.setup, state);
    case JOB_STAGE_CHECK:
        return are_gaps_tried(&shown->plan.setup, state);
    case JOB_STAGE_HAND_OVER:
    case JOB_STAGE_COUNT:
        return state->is_signed;
    default:
        return job_row_stage(&shown->plan.setup, state, shown->row) > shown->stage;
    }
}

static bool next_of(const view_shown *shown, job_action *next)
{
    return job_expert_next(&shown->plan.setup, state_of(shown), next);
}

/* What is no part of the stage is done by the careful installer without being shown, until the stage is at hand or
 * past. How many actions that took; the answer to how many rows are the trainee's, which the plan sees differently, is
 * none. */
static int bring(view_shown *shown)
{
    job_action next;
    int count = 0;
    for (int i = 0; i < MOST_SILENT; i++) {
        const bool has_next = next_of(shown, &next);
        if (has_next && belongs(shown, &next)) {
            return count;
        }
        shown->is_done = !has_next || is_past(shown, state_of(shown));
        if (shown->is_done) {
            return count;
        }
        count += next.verb == JOB_DO_ANSWER ? 0 : 1;
        (void)record_attempt_do(shown->copy, &next, NULL);
    }
    shown->is_done = true;
    return count;
}

/* ---- the copy --------------------------------------------------------------------------------------------------- */

/* A copy that only ever lives here: no scenario text, no journal. Guided, so that it says what comes next. */
static record_attempt *copy_of(const scenario *what, const record_about *about, const job_action *actions, size_t count)
{
    record_about own = *about;
    own.mode = JOB_GUIDED;
    record_attempt *copy = record_attempt_open("", 0, what, "", &own);
    for (size_t i = 0; copy != NULL && i < count; i++) {
        (void)record_attempt_do(copy, &actions[i], NULL);
    }
    return copy;
}

/* Rows beside the one in hand are nobody's business in a stage that is about a row. */
static void make_plan(view_shown *shown, const scenario *what)
{
    job_setup *setup = &shown->plan.setup;
    shown->plan = *what;
    setup->mode = JOB_GUIDED;
    if (!is_about_row(shown->stage)) {
        return;
    }
    int kept = 0;
    for (int i = 0; i < setup->fault_count; i++) {
        if (setup->fault[i].row == shown->row) {
            setup->fault[kept++] = setup->fault[i];
        }
    }
    setup->fault_count = kept;
    for (int i = 0; i < setup->structure.row_count; i++) {
        setup->is_trainees[i] = setup->is_trainees[i] && i == shown->row;
    }
}

/* A row that the crew has brought past the stage has nothing to show: then the lowest one that has it before it. -1: the
 * exercise asks for nothing of this stage. */
static int row_to_show(const job_setup *setup, job_stage stage, int row)
{
    job_state start;
    if (!is_about_row(stage)) {
        return row;
    }
    job_start(setup, &start);
    for (int i = -1; i < setup->structure.row_count; i++) {
        const int one = i < 0 ? row : i;
        if (setup->is_trainees[one] && job_row_stage(setup, &start, one) <= stage) {
            return one;
        }
    }
    return -1;
}

static size_t action_count(const view_shown *shown)
{
    const job_action *all = NULL;
    return record_attempt_actions(shown->copy, &all);
}

/* Where the attempt stands if the stage is still before it there, else where a fresh one comes to it. */
static bool find_start(view_shown *shown, const record_attempt *attempt)
{
    const job_action *actions = NULL;
    const size_t count = record_attempt_actions(attempt, &actions);
    const scenario *what = record_attempt_scenario(attempt);
    shown->copy = copy_of(what, &shown->about, actions, count);
    if (shown->copy == NULL) {
        return false;
    }
    shown->origin = bring(shown) > 0 ? SHOWN_BROUGHT : SHOWN_HERE;
    if (!shown->is_done) {
        return true;
    }
    record_attempt_close(shown->copy);
    shown->is_done = false;
    shown->origin = SHOWN_AFRESH;
    shown->copy = copy_of(what, &shown->about, NULL, 0);
    if (shown->copy == NULL) {
        return false;
    }
    (void)bring(shown);
    shown->has_nothing = shown->has_nothing || shown->is_done;
    return true;
}

/* ---- life ------------------------------------------------------------------------------------------------------- */

/* The screen and the hand begin anew at the copy's present point. */
static bool set_up(view_shown *shown)
{
    const double now_s = shown->fitter.now_s; /* the time of a screen never goes back */
    view_job_close(shown->job);
    if (shown->has_fitter) {
        view_fitter_close(&shown->fitter);
    }
    shown->job = view_job_open(record_attempt_scenario(shown->copy));
    const uint64_t seed = shown->plan.setup.seed + (uint64_t)action_count(shown);
    view_manner manner = view_manner_steady();
    manner.read_s = READ_S;
    shown->has_fitter = view_fitter_open(&shown->fitter, manner, shown->uses_keys, seed);
    shown->fitter.now_s = now_s;
    shown->fitter.ui = &shown->inner; /* the pointer and the keys may be drawn before the hand moves again */
    shown->goals_seen = 0;
    shown->in_step_s = 0.0;
    shown->start_ms = state_of(shown)->now_ms;
    shown->played_s = 0.0;
    shown->cap_until_s = 0.0;
    if (shown->job == NULL || !shown->has_fitter) {
        return false;
    }
    view_job_show(shown->job, shown->stage, shown->row);
    return true;
}

view_shown *view_shown_open(const record_attempt *attempt, job_stage stage, int row)
{
    view_shown *shown = calloc(1, sizeof *shown);
    if (shown == NULL) {
        return NULL;
    }
    shown->stage = stage;
    const int own = row_to_show(&record_attempt_scenario(attempt)->setup, stage, row);
    shown->has_nothing = own < 0;
    shown->row = own >= 0 ? own : row;
    shown->asked_row = row;
    shown->about = *record_attempt_about(attempt);
    shown->is_playing = true;
    shown->speed = 1;
    shown->size = (view_point){1280.0F, 800.0F};
    make_plan(shown, record_attempt_scenario(attempt));
    if (!find_start(shown, attempt) || !set_up(shown)) {
        view_shown_close(shown);
        return NULL;
    }
    shown->start_at[0] = action_count(shown);
    shown->steps = 1;
    return shown;
}

void view_shown_close(view_shown *shown)
{
    if (shown == NULL) {
        return;
    }
    view_job_close(shown->job);
    record_attempt_close(shown->copy);
    if (shown->has_fitter) {
        view_fitter_close(&shown->fitter);
    }
    if (shown->has_inner) {
        view_ui_close(&shown->inner);
    }
    free(shown);
}

bool view_shown_is_done(const view_shown *shown)
{
    return shown->is_done;
}

int view_shown_steps(const view_shown *shown)
{
    return shown->steps;
}

const record_attempt *view_shown_attempt(const view_shown *shown)
{
    return shown->copy;
}

bool view_shown_uses_keys(const view_shown *shown)
{
    return shown->uses_keys;
}

void view_shown_use_keys(view_shown *shown, bool uses_keys)
{
    if (shown->uses_keys != uses_keys) {
        shown->uses_keys = uses_keys;
        shown__go_back_to(shown, shown->steps - 1); /* a gesture is not handed over from hand to hand */
    }
}

/* ---- a frame of the copy ---------------------------------------------------------------------------------------- */

view_job_model shown__model(const view_shown *shown, tr_system system, bool is_plan)
{
    view_job_model model = view_job_model_of(shown->copy);
    model.what = is_plan ? &shown->plan : model.what;
    model.now_ms = shown->start_ms + (int64_t)(shown->played_s * 1000.0);
    model.system = system;
    model.is_copy = true;
    return model;
}

/* A new aim of the hand is a new step. */
static void count_step(view_shown *shown)
{
    if (shown->fitter.goals == shown->goals_seen) {
        return;
    }
    const bool is_first = shown->goals_seen == 0;
    shown->goals_seen = shown->fitter.goals;
    shown->in_step_s = 0.0;
    if (!is_first && !shown->is_done && shown->steps < SHOWN_STEPS) {
        shown->start_at[shown->steps++] = action_count(shown);
    }
}

/* The stage is done, or goes on after work that is not shown. */
static void look_on(view_shown *shown)
{
    job_action next;
    const bool has_next = next_of(shown, &next);
    if (has_next && belongs(shown, &next)) {
        return;
    }
    (void)bring(shown);
}

static void carry_out(view_shown *shown, const view_shown_frame *frame, const view_job_said *said)
{
    for (int i = 0; i < said->action_count; i++) {
        const job_outcome outcome = record_attempt_do(shown->copy, &said->action[i], NULL);
        const view_job_model now = shown__model(shown, frame->system, true);
        view_job_heard(shown->job, &now, &said->action[i], &outcome);
        if (frame->ear != NULL) {
            view_job_sounded(frame->ear, shown->job, &now, &said->action[i], &outcome, shown->inner.time_s);
        }
    }
    if (said->action_count > 0) {
        look_on(shown);
        if (shown->is_done) { /* the finished work stays in view, not the stage after it */
            view_job_show(shown->job, shown->stage, is_about_row(shown->stage) ? shown->row : -1);
        }
    }
}

/* Between two frames of play: what was held is still held, and nothing new happens. */
static const view_input *as_it_stands(view_shown *shown)
{
    view_input *in = &shown->fitter.in;
    view_input_forget(in);
    in->width = shown->size.x;
    in->height = shown->size.y;
    in->dt_s = 0.0F;
    return in;
}

/* The advice is that of the plan, or the card would send the hand to other rows. */
static void advise(view_shown *shown, tr_system system)
{
    const view_job_model model = shown__model(shown, system, true);
    view__job_recall(shown->job, &model);
    (void)view__job_advice(shown->job, &model);
}

static bool open_inner(view_shown *shown, const view_ui *around)
{
    shown->has_inner = shown->has_inner || view_ui_open(&shown->inner, around->draw, around->metrics);
    return shown->has_inner;
}

static void keep_cap(view_shown *shown)
{
    const view_input *in = &shown->fitter.in;
    for (size_t i = 0; i < in->keys; i++) {
        shown->cap = in->key[i].key;
        shown->cap_mods = in->key[i].mods;
        shown->cap_until_s = shown->played_s + 0.6;
    }
}

void shown__frame(view_shown *shown, const view_shown_frame *frame, const view_ui *around, float dt_s)
{
    if (!open_inner(shown, around)) {
        return;
    }
    advise(shown, frame->system);
    const view_job_model plan = shown__model(shown, frame->system, true);
    const bool plays = dt_s > 0.0F;
    shown->fitter.is_still = frame->prefs->reduced_motion;
    const view_input *in =
        plays ? view_fitter_frame(&shown->fitter, &shown->inner, shown->job, &plan, shown->size, dt_s, shown->is_done)
              : as_it_stands(shown);
    shown->played_s += (double)dt_s;
    shown->in_step_s += (double)dt_s;
    keep_cap(shown);
    count_step(shown);
    const view_job_model model = shown__model(shown, frame->system, false);
    view_job_said said;
    view_begin(&shown->inner, in, frame->prefs, around->lang);
    view_job_frame(&shown->inner, shown->job, &model, &said);
    if (frame->ear != NULL) {
        view_job_sounds(frame->ear, shown->job, &model, shown->inner.time_s);
        view_ear_show(frame->ear, &shown->inner, shown->job, frame->system, frame->captions);
    }
    view_end(&shown->inner);
    carry_out(shown, frame, &said);
}

/* ---- steps ------------------------------------------------------------------------------------------------------ */

void shown__go_back_to(view_shown *shown, int step)
{
    const job_action *all = NULL;
    (void)record_attempt_actions(shown->copy, &all);
    record_attempt *copy = copy_of(record_attempt_scenario(shown->copy), &shown->about, all, shown->start_at[step]);
    if (copy == NULL) {
        return;
    }
    record_attempt_close(shown->copy);
    shown->copy = copy;
    shown->steps = step + 1;
    shown->is_done = false;
    (void)set_up(shown);
}

void view_shown_former(view_shown *shown)
{
    const int now = shown->steps - 1;
    const bool has_begun = shown->in_step_s > JUST_BEGUN_S || shown->is_done;
    shown__go_back_to(shown, has_begun || now == 0 ? now : now - 1);
}

/* A step that the hand cannot do is done by the careful installer: the show goes on. */
static void do_at_once(view_shown *shown)
{
    job_action next;
    shown->was_helped = true;
    if (next_of(shown, &next)) {
        (void)record_attempt_do(shown->copy, &next, NULL);
        look_on(shown);
        (void)set_up(shown);
    }
}

static void play_on(view_shown *shown, const view_shown_frame *frame, const view_ui *around)
{
    const int before = shown->steps;
    for (int i = 0; i < (int)(LONGEST_STEP_S / FRAME_S); i++) {
        shown__frame(shown, frame, around, FRAME_S);
        if (shown->steps != before || shown->is_done) {
            return;
        }
    }
    do_at_once(shown);
}

/* ---- the frame -------------------------------------------------------------------------------------------------- */

/* As many frames of play as the speed asks for, each short enough for a hand. */
static void play(view_shown *shown, const view_shown_frame *frame, const view_ui *around, float dt_s)
{
    static const float speeds[] = {0.5F, 1.0F, 2.0F};
    const float whole = shown->is_playing ? dt_s * speeds[shown->speed] : 0.0F;
    const int count = (int)fmaxf(1.0F, ceilf(whole / FRAME_S - 0.1F));
    for (int i = 0; i < count; i++) {
        shown__frame(shown, frame, around, whole / (float)count);
    }
    if (shown->in_step_s > (double)LONGEST_STEP_S && !shown->is_done) {
        do_at_once(shown);
    }
}

bool view_shown_draw(view_ui *ui, view_shown *shown, const view_shown_frame *frame)
{
    view_rect rest = ui->screen;
    const view_rect band = view_cut_bottom(&rest, shown__band_height(ui, shown, frame->system));
    shown->size = (view_point){rest.w, rest.h};
    if (shown->wants_next) {
        shown->wants_next = false;
        view_shown_frame silent = *frame;
        silent.ear = NULL;
        play_on(shown, &silent, ui);
    }
    play(shown, frame, ui, ui->input->dt_s);
    const bool moves = shown->is_playing && (!shown->is_done || shown->inner.wants_frame);
    ui->wants_frame = ui->wants_frame || moves || shown->wants_next;
    return shown__around(ui, shown, band, frame->system);
}

void view_shown_next(view_shown *shown)
{
    shown->wants_next = true;
}
