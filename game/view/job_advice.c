/* What comes next: the careful installer's advice kept up to date, said in words, and where the screen goes after an
 * action. */
#include "job_screen.h"

#include <math.h>
#include <stdlib.h>

#include "tautrow/base/text.h"

/* ---- the pull sheet as aim -------------------------------------------------------------------------------------- */

static int pulls_of(const job_state *state, int row)
{
    int count = 0;
    for (int i = 0; i < state->pull_count && i < JOB_MAX_PULL_LOG; i++) {
        count += state->pull[i].row == row ? 1 : 0;
    }
    return count;
}

/* Pulls that a row has behind it; the one under way is not yet among them. */
static int pulls_done(const job_state *state, int row)
{
    return pulls_of(state, row) - (state->trip.row == row && state->trip.is_logged ? 1 : 0);
}

/* The first round in which a row of the order is still to be pulled or is under way; rounds = all are done. */
static int round_now(const job_setup *setup, const job_state *state)
{
    int least = setup->rounds;
    for (int i = 0; i < setup->order_count; i++) {
        const int row = setup->order[i];
        const int due = pulls_done(state, row);
        least = state->row[row].is_joined && due < least ? due : least;
    }
    return least;
}

/* Where the rows stand when the sheet is done; one that is past its own aim would not sink there by itself. */
static void find_ends(view_job *job, const view_job_model *model, const mech_sheet *sheet)
{
    const job_setup *setup = &model->what->setup;
    for (int i = 0; i < setup->structure.row_count; i++) {
        const double aim_n = job->advice.aim_n[i];
        const double most_n = aim_n * (1.0 + setup->tolerance);
        const bool is_past_aim = aim_n >= 0.0 && model->state->rows.tension_n[i] > most_n;
        job->advice.end_n[i] = is_past_aim ? -1.0 : sheet->end.tension_n[i];
    }
}

/* Readings for the rows left in this round, worked out from where the run stands; after the rounds the target itself.
 */
static void find_aims(view_job *job, const view_job_model *model)
{
    static const double whole[] = {1.0};
    const job_setup *setup = &model->what->setup;
    const job_state *state = model->state;
    const int round = round_now(setup, state);
    int left[MECH_MAX_ROWS];
    int count = 0;
    for (int pass = 0; pass < 2; pass++) { /* the row under way comes first */
        for (int i = 0; i < setup->order_count; i++) {
            const int row = setup->order[i];
            const bool is_under_way = state->trip.row == row && state->trip.is_logged;
            if (state->row[row].is_joined && pulls_done(state, row) <= round && is_under_way == (pass == 0)) {
                left[count++] = row;
            }
        }
    }
    for (int i = 0; i < MECH_MAX_ROWS; i++) {
        job->advice.aim_n[i] = round >= setup->rounds ? setup->target_n : -1.0;
        job->advice.end_n[i] = -1.0;
    }
    if (round >= setup->rounds || count == 0) {
        return;
    }
    const mech_limits limits = {.tension_n = setup->row_limit_n, .take_up_m = HUGE_VAL};
    mech_sheet sheet;
    mech_pull_sheet(&state->run, &state->rows, left, count, whole, 1, setup->round_share[round] * setup->target_n,
                    limits, &sheet);
    for (int i = 0; i < sheet.pull_count && sheet.status != MECH_SHEET_DIVERGED; i++) {
        job->advice.aim_n[sheet.pull[i].row] = sheet.pull[i].reading_n;
    }
    if (sheet.status == MECH_SHEET_OK && round == setup->rounds - 1) {
        find_ends(job, model, &sheet);
    }
}

static bool is_one_of(const job_action *action, job_verb one, job_verb other)
{
    return action->verb == one || action->verb == other;
}

/* A speed becomes an action only with the trigger. What counts till then is what the tool shows: advice to set what is
 * set already would look deaf, and none to set what is off would be a trap. */
static bool next_with_tools_as_set(const view_job *job, const view_job_model *model, job_action *action)
{
    const job_setup *setup = &model->what->setup;
    const bool has_any = job_expert_next(setup, model->state, action);
    const bool is_drill = has_any && is_one_of(action, JOB_DO_SET_DRILL_SPEED, JOB_DO_DRILL);
    const bool is_driver = has_any && is_one_of(action, JOB_DO_SET_DRIVER_SPEED, JOB_DO_DRIVE_INSERT);
    job_state *as_set = is_drill || is_driver ? malloc(sizeof *as_set) : NULL;
    if (as_set == NULL) {
        return has_any;
    }
    *as_set = *model->state;
    as_set->drill_rpm = is_drill ? (double)job->tools.drill.rpm : as_set->drill_rpm;
    as_set->driver_rpm = is_driver ? (double)job->tools.insert.rpm : as_set->driver_rpm;
    const bool has_more = job_expert_next(setup, as_set, action);
    free(as_set);
    return has_more;
}

static bool is_up_to_date(const view_job *job, const view_job_model *model)
{
    return job->advice.is_known && job->advice.at_count == model->state->action_count &&
           job->advice.at_drill_rpm == job->tools.drill.rpm && job->advice.at_driver_rpm == job->tools.insert.rpm;
}

bool view__job_advice(view_job *job, const view_job_model *model)
{
    if (is_up_to_date(job, model)) {
        return job->advice.has_any;
    }
    job->advice.is_known = true;
    job->advice.at_count = model->state->action_count;
    job->advice.at_drill_rpm = job->tools.drill.rpm;
    job->advice.at_driver_rpm = job->tools.insert.rpm;
    job->advice.has_any = next_with_tools_as_set(job, model, &job->advice.action);
    if (view__job_is_guided(model)) {
        find_aims(job, model);
    }
    return job->advice.has_any;
}

/* ---- in words --------------------------------------------------------------------------------------------------- */

/* Turns as they are counted on the body: "1 1/8", in sixteenths. */
static void turns_text(double turns, char *out, size_t cap)
{
    int sixteenths = (int)floor(turns * 16.0 + 0.5);
    const int whole = sixteenths / 16;
    int of = 16;
    sixteenths %= 16;
    while (sixteenths > 0 && sixteenths % 2 == 0) {
        sixteenths /= 2;
        of /= 2;
    }
    if (sixteenths == 0) {
        tr_format(out, cap, "%d", whole);
    } else if (whole == 0) {
        tr_format(out, cap, "%d/%d", sixteenths, of);
    } else {
        tr_format(out, cap, "%d %d/%d", whole, sixteenths, of);
    }
}

/* A number of the action as it is, in the units in use. False where its sentence names none, or another. */
static bool plain_amount(const job_action *action, tr_system units, char *out, size_t cap)
{
    static const struct {
        job_verb verb;
        int arg;
        tr_dim dim;
    } plain[] = {
        {JOB_DO_SET_DRILL_SPEED, JOB_SET_DRILL_SPEED_RPM, TR_DIM_SPEED},
        {JOB_DO_SET_DRIVER_SPEED, JOB_SET_DRIVER_SPEED_RPM, TR_DIM_SPEED},
        {JOB_DO_DRILL, JOB_DRILL_DEPTH, TR_DIM_LENGTH},
        {JOB_DO_PULL_CABLE, JOB_PULL_CABLE_FORCE, TR_DIM_FORCE},
        {JOB_DO_PLACE_DIE, JOB_PLACE_DIE_POSITION, TR_DIM_LENGTH},
    };
    for (size_t i = 0; i < sizeof plain / sizeof plain[0]; i++) {
        if (plain[i].verb == action->verb) {
            tr_quantity_text(action->arg[plain[i].arg], plain[i].dim, units, TR_PLAIN, out, cap);
            return true;
        }
    }
    return false;
}

/* "3/16 of a turn", "1 turn", "2 1/8 turns". */
static void turned_text(const view_ui *ui, double turns, char *out, size_t cap)
{
    char number[32];
    const double rounded = floor(turns * 16.0 + 0.5) / 16.0;
    const char *const args[] = {number};
    turns_text(turns, number, sizeof number);
    tr_lang_fill(ui->lang,
                 rounded < 1.0   ? "turns.part"
                 : rounded > 1.0 ? "turns.many"
                                 : "turns.one",
                 args, 1, out, cap);
}

/* The number that a sentence names beside the row. */
static void amount_text(const view_ui *ui, const view_job_model *model, const job_action *action, char *out, size_t cap)
{
    const job_setup *setup = &model->what->setup;
    const double *arg = action->arg;
    const tr_system units = model->system;
    out[0] = '\0';
    if (plain_amount(action, units, out, cap)) {
        return;
    }
    switch (action->verb) {
    case JOB_DO_ANSWER:
        tr_copy(out, cap,
                view_word(ui, arg[JOB_ANSWER_QUESTION] == 0.0   ? "job.ask.bit"
                              : arg[JOB_ANSWER_QUESTION] == 1.0 ? "job.ask.first"
                                                                : "job.ask.rows"));
        break;
    case JOB_DO_TAKE_BIT:
        tr_quantity_text(setup->bit[(int)arg[JOB_TAKE_BIT_BIT]].diameter_m, TR_DIM_LENGTH, units, TR_FINE, out, cap);
        break;
    case JOB_DO_SCREW_STUD:
        tr_format(out, cap, "%.0f", floor(arg[JOB_SCREW_STUD_TURNS] + 1e-6));
        break;
    case JOB_DO_TAKE_CUTTER: {
        static const char *const names[JOB_MAX_CUTTERS] = {"job.cutter.cable", "job.cutter.side", "job.cutter.grinder"};
        tr_copy(out, cap, view_word(ui, names[(int)arg[JOB_TAKE_CUTTER_CUTTER] % JOB_MAX_CUTTERS]));
        break;
    }
    case JOB_DO_TURN_CRIMPER:
        tr_quantity_text(fabs(arg[JOB_TURN_CRIMPER_ANGLE]), TR_DIM_ANGLE, units, TR_PLAIN, out, cap);
        break;
    case JOB_DO_BACK_OFF:
        turned_text(ui, floor(arg[JOB_BACK_OFF_LEFT] * 2.0 + 0.5) / 2.0, out, cap);
        break;
    case JOB_DO_THREAD_IN: /* the last part of a turn is made when the row is brought hand tight */
        turned_text(ui, fmax(floor(arg[JOB_THREAD_IN_TURNS]), 1.0), out, cap);
        break;
    case JOB_DO_TURN_BODY:
        turned_text(ui, fabs(arg[JOB_TURN_BODY_TURNS]), out, cap);
        break;
    case JOB_DO_BALL:
        tr_format(out, cap, "%d", (int)arg[JOB_BALL_GAP] + 1);
        break;
    case JOB_DO_REPORT_FAULT: {
        char key[40];
        tr_format(key, sizeof key, "fault.%s", job_fault_name((job_fault_kind)arg[JOB_REPORT_FAULT_FAULT]));
        tr_copy(out, cap, view_word(ui, key));
        break;
    }
    default:
        break;
    }
}

/* Some actions are two different pieces of work under one name. */
static const char *variant(const job_action *action)
{
    if (action->verb == JOB_DO_SCREW_STUD) {
        return action->arg[JOB_SCREW_STUD_STUD] == 0.0 ? "screw_anchor" : "screw_cable";
    }
    if (action->verb == JOB_DO_TURN_BODY) {
        return action->arg[JOB_TURN_BODY_TURNS] >= 0.0 ? "tighten" : "loosen";
    }
    return job_verb_look(action->verb)->name;
}

void view__job_advice_text(const view_ui *ui, const view_job_model *model, const job_action *action, char *out,
                           size_t cap)
{
    char key[48];
    char row[16];
    char amount[96];
    tr_format(key, sizeof key, "what.%s", variant(action));
    tr_format(row, sizeof row, "%d", job_action_row(action) + 1);
    amount_text(ui, model, action, amount, sizeof amount);
    const char *const args[] = {row, amount};
    tr_lang_fill(ui->lang, key, args, 2, out, cap);
}

const char *view__job_advice_why(const view_ui *ui, const job_action *action)
{
    char key[48];
    tr_format(key, sizeof key, "why.%s", variant(action));
    return view_word(ui, key);
}

/* ---- stages ----------------------------------------------------------------------------------------------------- */

static view_stage_state read_state(const job_state *state)
{
    const bool is_answered = state->answer[0] >= 0 && state->answer[1] >= 0 && state->answer[2] >= 0;
    return is_answered ? VIEW_STAGE_DONE : state->is_sheet_open ? VIEW_STAGE_UNDER_WAY : VIEW_STAGE_TO_COME;
}

/* What the trainee has looked at, not what is true: a checked gap, a gauged row. */
static view_stage_state check_state(const view_job_model *model)
{
    const job_state *state = model->state;
    const int count = model->what->setup.structure.row_count;
    int tried = state->is_post_sighted ? 1 : 0;
    int gaps = 0;
    for (int i = 0; i < count; i++) {
        gaps += state->is_gap_tried[i] ? 1 : 0;
    }
    tried += gaps;
    return state->is_post_sighted && gaps == count ? VIEW_STAGE_DONE
           : tried > 0                             ? VIEW_STAGE_UNDER_WAY
                                                   : VIEW_STAGE_TO_COME;
}

/* Practice and assessment must not learn from the trail which rows are in tolerance: a row that was pulled counts as
 * tensioned. */
static view_stage_state tension_state(const view_job_model *model)
{
    const job_setup *setup = &model->what->setup;
    int done = 0;
    int begun = 0;
    for (int i = 0; i < setup->order_count; i++) {
        const int row = setup->order[i];
        const bool is_pulled = model->state->row[row].first_reading_n > 0.0;
        const bool is_in = job_row_stage(setup, model->state, row) > JOB_STAGE_TENSION;
        begun += is_pulled ? 1 : 0;
        done += (view__job_is_guided(model) ? is_in : is_pulled) ? 1 : 0;
    }
    return done == setup->order_count ? VIEW_STAGE_DONE : begun > 0 ? VIEW_STAGE_UNDER_WAY : VIEW_STAGE_TO_COME;
}

view_stage_state view__stage_state(const view_job_model *model, job_stage stage)
{
    const job_setup *setup = &model->what->setup;
    if (stage == JOB_STAGE_READ) {
        return read_state(model->state);
    }
    if (stage == JOB_STAGE_TENSION) {
        return tension_state(model);
    }
    if (stage == JOB_STAGE_CHECK) {
        return check_state(model);
    }
    if (stage == JOB_STAGE_HAND_OVER) {
        return model->state->is_signed  ? VIEW_STAGE_DONE
               : model->state->is_wiped ? VIEW_STAGE_UNDER_WAY
                                        : VIEW_STAGE_TO_COME;
    }
    int own = 0;
    int past = 0;
    for (int i = 0; i < setup->structure.row_count; i++) { /* what the crew has done is not under way: it is done */
        const bool is_own = setup->is_trainees[i] && setup->start_stage[i] <= stage;
        own += is_own ? 1 : 0;
        past += is_own && job_row_stage(setup, model->state, i) > stage ? 1 : 0;
    }
    return past == own ? VIEW_STAGE_DONE : past > 0 ? VIEW_STAGE_UNDER_WAY : VIEW_STAGE_TO_COME;
}

/* ---- following -------------------------------------------------------------------------------------------------- */

/* The next of one's own rows above this one, round and round, that still needs the stage; -1 none. */
static int next_row(const view_job_model *model, job_stage stage, int row)
{
    const job_setup *setup = &model->what->setup;
    const int count = setup->structure.row_count;
    for (int i = 1; i <= count; i++) {
        const int at = (row + i) % count;
        if (setup->is_trainees[at] && job_row_stage(setup, model->state, at) == stage) {
            return at;
        }
    }
    return -1;
}

static void follow_own_rows(view_job *job, const view_job_model *model)
{
    for (int stage = JOB_STAGE_MARK; stage <= JOB_STAGE_JOIN; stage++) {
        const int row = next_row(model, (job_stage)stage, job->row);
        if (row >= 0) {
            job->stage = (job_stage)stage;
            job->row = row;
            return;
        }
    }
    job->stage = JOB_STAGE_TENSION; /* which row comes first is for the trainee to know */
}

/* The tool of the check that the advice speaks of lies ready; the post that was just sighted stays in view. */
static void lay_ready(view_job *job, const job_action *next)
{
    if (next->verb == JOB_DO_BALL) {
        job->tools.check.gap = (int)next->arg[JOB_BALL_GAP];
        job->tools.check.tool = VIEW_CHECK_BALL;
    } else if (next->verb == JOB_DO_GAUGE_CRIMP) {
        job->tools.check.tool = VIEW_CHECK_CRIMP_GAUGE;
    }
    if (job->last_verb == JOB_DO_SIGHT) {
        job->tools.check.sight_tool = job->tools.check.tool;
    }
}

void view__job_go_on(view_job *job)
{
    const job_action *next = &job->advice.action;
    const int row = job_action_row(next);
    job->stage = next->verb == JOB_DO_HINT ? job->stage : job_verb_look(next->verb)->stage;
    job->row = row >= 0 ? row : job->row;
    lay_ready(job, next);
}

bool view__job_has_ended_stage(const job_action *before, const job_action *action, const job_action *next)
{
    const job_stage stage = job_verb_look(action->verb)->stage;
    return stage < JOB_STAGE_TENSION && stage == job_verb_look(before->verb)->stage &&
           job_action_row(before) == job_action_row(action) && stage != job_verb_look(next->verb)->stage;
}

/* Glasses and the place to stand are at hand in every stage, and a cutter or pliers may be taken in passing. */
static bool is_in_passing(job_verb verb)
{
    return verb == JOB_DO_GLASSES || verb == JOB_DO_STAND || verb == JOB_DO_TAKE_CUTTER;
}

/* A pin that is being turned must not find itself on another row. */
static bool is_pin_at_work(const view_job *job, const job_action *action)
{
    return action != NULL && job->stage == JOB_STAGE_TENSION &&
           job_verb_look(job->advice.action.verb)->stage == JOB_STAGE_TENSION;
}

void view__job_follow(view_job *job, const view_job_model *model, const job_action *action, bool was_advised)
{
    job->follows = job->follows || was_advised;
    if (!job->follows || (action != NULL && action->verb == JOB_DO_HINT)) {
        return;
    }
    if (view__job_is_guided(model)) {
        const bool leads_on = was_advised && job->advice.has_any && !is_in_passing(job->advice.action.verb);
        if (leads_on && !is_pin_at_work(job, action)) {
            view__job_go_on(job);
        }
        return;
    }
    if (job->stage >= JOB_STAGE_TENSION && action != NULL) {
        return; /* from here on the way is the trainee's to find */
    }
    const bool is_stage_done = job->stage == JOB_STAGE_READ
                                   ? read_state(model->state) == VIEW_STAGE_DONE
                                   : job_row_stage(&model->what->setup, model->state, job->row) != job->stage;
    if (is_stage_done) {
        follow_own_rows(job, model);
    }
}
