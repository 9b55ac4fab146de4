/* The grade: replay, measure, add up, stop faults, effects. Totals live here; what each criterion means lives in
 * measure_*.c. */
#include "tautrow/score/score.h"

#include <math.h>
#include <stdlib.h>

#include "parts.h"
#include "tautrow/base/assert.h"

double score_share(double measured, scenario_band band)
{
    if (isnan(measured)) {
        return 0.0;
    }
    if (band.full == band.none) {
        return measured <= band.full ? 1.0 : 0.0;
    }
    const double share = (measured - band.none) / (band.full - band.none);
    return fmin(fmax(share, 0.0), 1.0);
}

/* ---- the replay -------------------------------------------------------------------------------------------------- */

/* The job's own log of pulls, with the time of each added. A trip that is turned back again drops out of the log. */
static void log_turn(score__case *c)
{
    const job_state *end = &c->end;
    c->pull_count = end->pull_count < JOB_MAX_PULL_LOG ? end->pull_count : JOB_MAX_PULL_LOG;
    if (end->pull_count == 0 || end->pull_count > JOB_MAX_PULL_LOG) {
        return;
    }
    const job_pull *pull = &end->pull[end->pull_count - 1];
    c->pull[end->pull_count - 1] =
        (score__pull){.row = pull->row, .last_at = end->row[pull->row].turned_at, .after_n = pull->after_n};
}

static void take_note(score__case *c, const job_action *action)
{
    if (action->verb == JOB_DO_TURN_BODY) {
        log_turn(c);
    }
    if (c->room != NULL) {
        c->room->action[c->room->count++] = *action;
    }
}

static size_t last_turn(const job_action *actions, size_t count)
{
    size_t last = count;
    for (size_t i = 0; i < count; i++) {
        last = actions[i].verb == JOB_DO_TURN_BODY ? i : last;
    }
    return last;
}

job_outcome score__go_on(score__case *c, const job_action *action)
{
    if (c->end.pull_count == 0) {
        c->before_pulls = c->end.rows;
        c->off_centre_before_n_m = c->end.off_centre_peak_n_m;
    }
    const job_outcome outcome = job_apply(c->setup, &c->end, action);
    if (outcome.refusal == JOB_REFUSE_NONE) {
        take_note(c, action);
    }
    return outcome;
}

static void replay(score__case *c, const job_action *actions, size_t count)
{
    const size_t last = last_turn(actions, count);
    job_start(c->setup, &c->end);
    c->before_pulls = c->end.rows;
    for (size_t i = 0; i < count; i++) {
        (void)score__go_on(c, &actions[i]);
        if (i == last && c->room != NULL) {
            c->room->turned = c->end;
            c->room->turned_count = c->room->count;
        }
    }
}

/* ---- the rows that are judged ------------------------------------------------------------------------------------ */

static void list_order(score__case *c)
{
    for (int i = 0; i < c->setup->order_count; i++) {
        if (score__is_asked(c->setup, c->setup->order[i], JOB_STAGE_TENSION)) {
            c->order[c->order_count++] = c->setup->order[i];
        }
    }
}

/* Where there is anything to tension, the whole run is judged: pulling the trainee's rows slackens the crew's, and
 * those may be brought up as well. */
void score__judge(score__case *c)
{
    c->judged_count = 0;
    bool is_tensioned = c->order_count > 0 || c->setup->after.days > 0.0;
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        is_tensioned = is_tensioned || c->end.row[row].turned_at >= 0;
    }
    for (int row = 0; row < c->setup->structure.row_count && is_tensioned; row++) {
        c->judged[c->judged_count++] = row;
    }
    score__gap_pushes(c->setup, &c->end, c->gap_push_n);
}

/* ---- lines ------------------------------------------------------------------------------------------------------- */

/* The worse of two values in the sense of the band. */
static double worse(double a, double b, scenario_band band)
{
    return band.full > band.none ? fmin(a, b) : fmax(a, b);
}

/* Returns the mean share over the asked rows; the finding gets value and rows. */
static double measure_rows(const score__case *c, const score_line *line, score__row_rule rule, score__finding *found)
{
    const job_stage stage = scenario_criterion_look(line->criterion)->stage;
    const int asked = score__asked_rows(c->setup, stage);
    double sum = 0.0;
    double sum_value = 0.0;
    bool has_value = false;
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        double value = 0.0;
        if (!score__is_asked(c->setup, row, stage)) {
            continue;
        }
        const bool is_done = rule.measure(c, row, &value);
        const double share = is_done ? score_share(value, line->band) : 0.0;
        sum += share;
        if (is_done) {
            sum_value += value;
            found->value = has_value ? worse(found->value, value, line->band) : value;
            has_value = true;
        } else {
            found->undone++;
        }
        if (share < 1.0) {
            score__blame(found, row);
        }
    }
    found->applies = asked > 0;
    found->reached = has_value ? 1.0 : 0.0;
    if (asked == 0) {
        return 0.0;
    }
    if (rule.is_share) {
        found->value = sum_value / asked;
        return score_share(found->value, line->band);
    }
    return sum / asked;
}

static double measure_run(const score__case *c, const score_line *line, score__finding *found)
{
    score__run_measure *measure = score__run_measure_of(line->criterion);
    TR_ASSERT(measure != NULL);
    measure(c, line->band, found);
    return found->reached * score_share(found->value, line->band);
}

void score__fill_line(const score__case *c, scenario_criterion criterion, score_line *line)
{
    score__finding found = {.reached = 1.0};
    *line = (score_line){.criterion = criterion, .band = c->scenario->rubric.band[criterion]};
    const score__row_rule rule = score__row_rule_of(criterion);
    const double share = rule.measure != NULL ? measure_rows(c, line, rule, &found) : measure_run(c, line, &found);
    line->effect.row = -1;
    line->applies = found.applies && line->band.weight > 0.0;
    if (!line->applies) {
        return;
    }
    line->weight = line->band.weight;
    line->points = line->weight * share;
    line->is_undone = found.reached <= 0.0;
    line->measured = line->is_undone ? line->band.none : found.value;
    if (share < 1.0) {
        line->undone = found.undone;
        line->row_count = found.row_count;
        for (int i = 0; i < found.row_count; i++) {
            line->row[i] = found.row[i];
        }
    }
}

static void add_up(score_card *card)
{
    double points = 0.0;
    double weights = 0.0;
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        points += card->line[i].points;
        weights += card->line[i].weight;
    }
    card->total = weights > 0.0 ? 100.0 * points / weights : 0.0;
}

/* ---- the whole --------------------------------------------------------------------------------------------------- */

static void describe_end(const score__case *c, score_card *card)
{
    const score__levels levels = score__levels_of(c, &c->end);
    card->lowest_n = levels.lowest_n;
    card->highest_n = levels.highest_n;
    card->spread = levels.spread;
    card->is_signed = c->end.is_signed;
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        card->final_tension_n[row] = c->end.rows.tension_n[row];
    }
}

static void add_effects(score__case *c, score_card *card)
{
    for (int i = 0; i < SCENARIO_CRITERIA && c->room != NULL; i++) {
        score_line *line = &card->line[i];
        if (line->applies && !line->is_undone && line->points < line->weight) {
            score__mend(c, line);
        }
    }
    card->replays = c->replays;
}

void score__follow(score__case *c, const job_action *actions, size_t count)
{
    list_order(c);
    replay(c, actions, count);
    score__judge(c);
}

static void grade(score__case *c, const job_action *actions, size_t count, score_card *card)
{
    score__follow(c, actions, count);
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        score__fill_line(c, (scenario_criterion)i, &card->line[i]);
    }
    add_up(card);
    describe_end(c, card);
    card->stops = score__stops(c, card->stop_row);
    card->pass_mark = c->scenario->rubric.pass_mark;
    card->passed = card->stops == 0 && card->total >= card->pass_mark;
    add_effects(c, card);
}

score__room *score__open_room(size_t count)
{
    if (count > (SIZE_MAX - sizeof(score__room)) / sizeof(job_action)) {
        return NULL;
    }
    score__room *room = malloc(sizeof *room + count * sizeof(job_action));
    if (room != NULL) {
        room->turned_count = 0;
        room->has_fitted = false;
        room->has_ordered = false;
        room->has_sheet_end = false;
        room->count = 0;
    }
    return room;
}

void score_grade(const scenario *task, const job_action *actions, size_t count, score_card *card)
{
    *card = (score_card){.total = 0.0};
    score__case c = {.scenario = task, .setup = &task->setup, .room = score__open_room(count)};
    grade(&c, actions, count, card);
    free(c.room);
}
