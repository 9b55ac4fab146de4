/* What is judged of the attempt as a whole: reading, glasses, opening, faults, finish, time. */
#include "parts.h"

#include <math.h>

/* The first question is asked where the trainee drills; the other two wherever there are rows to tension. */
static bool is_question_asked(const score__case *c, int question)
{
    const job_setup *setup = c->setup;
    return question == 0   ? score__asked_rows(setup, JOB_STAGE_DRILL) > 0
           : question == 1 ? setup->order_count > 0
                           : score__asked_rows(setup, JOB_STAGE_COUNT) > 0;
}

bool score__is_answered_right(const score__case *c, int question)
{
    const job_setup *setup = c->setup;
    const int first = setup->order_count > 0 ? setup->order[0] + 1 : -1;
    const int expected[3] = {setup->right_bit, first, score__asked_rows(setup, JOB_STAGE_COUNT)};
    return !is_question_asked(c, question) || c->end.answer[question] == expected[question];
}

static void reading(const score__case *c, scenario_band band, score__finding *out)
{
    (void)band;
    int asked = 0;
    int right = 0;
    for (int i = 0; i < 3; i++) {
        const bool is_asked = is_question_asked(c, i);
        asked += is_asked ? 1 : 0;
        right += is_asked && score__is_answered_right(c, i) ? 1 : 0;
    }
    out->applies = asked > 0;
    out->value = asked > 0 ? (double)right / asked : 0.0;
    out->undone = c->end.answer[0] < 0 && c->end.answer[1] < 0 && c->end.answer[2] < 0 ? asked : 0;
}

/* Tries without glasses; the points come with the rows that were drilled. */
static void glasses(const score__case *c, scenario_band band, score__finding *out)
{
    (void)band;
    int drilled = 0;
    const int asked = score__asked_rows(c->setup, JOB_STAGE_DRILL);
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        const bool is_asked = score__is_asked(c->setup, row, JOB_STAGE_DRILL);
        drilled += is_asked && c->end.row[row].is_drilled ? 1 : 0;
    }
    out->applies = asked > 0;
    out->value = c->end.refused_without_glasses;
    out->reached = asked > 0 ? (double)drilled / asked : 0.0;
    out->undone = asked - drilled;
}

double score__gap_push(const job_setup *setup, const job_state *state, int gap)
{
    const int rows = setup->structure.row_count;
    const bool has_low = gap == 0 || state->row[gap - 1].is_joined;
    const bool has_high = gap == rows || state->row[gap].is_joined;
    return has_low && has_high ? mech_run_opening(&state->run, &state->rows, gap, setup->ball_m).push_n : 0.0;
}

void score__gap_pushes(const job_setup *setup, const job_state *state, double push_n[MECH_MAX_ROWS + 1])
{
    for (int gap = 0; gap <= setup->structure.row_count; gap++) {
        push_n[gap] = score__gap_push(setup, state, gap);
    }
}

bool score__is_gap_asked(const score__case *c, int gap)
{
    const mech_structure *structure = &c->setup->structure;
    for (int i = 0; i < c->judged_count; i++) {
        if (c->judged[i] == gap || c->judged[i] == gap - 1) {
            return gap < structure->row_count || structure->rail.is_fitted;
        }
    }
    return false;
}

/* Gaps beside a row of the trainee's, whether or not the ball was tried in them. */
static void opening(const score__case *c, scenario_band band, score__finding *out)
{
    (void)band;
    int asked = 0;
    int held = 0;
    const int rows = c->setup->structure.row_count;
    for (int gap = 0; gap <= rows; gap++) {
        if (!score__is_gap_asked(c, gap)) {
            continue;
        }
        asked++;
        if (c->gap_push_n[gap] >= c->setup->ball_push_n) {
            held++;
        } else {
            score__blame(out, gap == 0 ? 0 : gap - 1);
        }
    }
    out->applies = asked > 0 && c->setup->ball_m > 0.0 && c->setup->ball_push_n > 0.0;
    out->value = asked > 0 ? (double)held / asked : 0.0;
    out->reached = c->pull_count > 0 ? 1.0 : 0.0;
}

static void time_taken(const score__case *c, scenario_band band, score__finding *out)
{
    (void)band;
    const double par = c->setup->par_time_s;
    out->applies = par > 0.0 && isfinite(par);
    out->value = out->applies ? (double)c->end.now_ms / 1000.0 / par : 0.0;
    out->reached = c->end.is_signed ? 1.0 : 0.0;
    out->undone = c->end.is_signed ? 0 : 1;
}

static void finish(const score__case *c, scenario_band band, score__finding *out)
{
    (void)band;
    const int asked = score__asked_rows(c->setup, JOB_STAGE_HAND_OVER);
    int collars = 0;
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        if (!score__is_asked(c->setup, row, JOB_STAGE_HAND_OVER)) {
            continue;
        }
        if (c->end.row[row].has_collar) {
            collars++;
        } else {
            score__blame(out, row);
            out->undone++;
        }
    }
    out->applies = asked > 0;
    out->value = (double)(collars + (c->end.is_wiped ? 1 : 0)) / (asked + 1);
}

/* Mended: no longer there, on a row that is whole again. */
static bool is_mended(const score__case *c, const job_fault *fault)
{
    return c->end.row[fault->row].is_joined && !job_fault_is_present(c->setup, &c->end, fault);
}

bool score__is_reported(const score__case *c, const job_fault *fault)
{
    if (fault->row >= 0) {
        return c->end.row[fault->row].is_fault_reported[fault->kind];
    }
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        if (c->end.row[row].is_fault_reported[fault->kind]) {
            return true;
        }
    }
    return false;
}

/* Half for the report, half for the mending; a hole too big and a wet post can only be reported. */
static double fault_credit(const score__case *c, const job_fault *fault)
{
    const double reported = score__is_reported(c, fault) ? 1.0 : 0.0;
    if (fault->row < 0 || fault->kind == JOB_FAULT_BIG_BIT || fault->kind == JOB_FAULT_WET_POST) {
        return reported;
    }
    return 0.5 * reported + (is_mended(c, fault) ? 0.5 : 0.0);
}

static bool is_planted(const job_setup *setup, int kind, int row)
{
    for (int i = 0; i < setup->fault_count; i++) {
        if ((int)setup->fault[i].kind == kind && (kind == JOB_FAULT_WET_POST || setup->fault[i].row == row)) {
            return true;
        }
    }
    return false;
}

int score__false_reports(const score__case *c)
{
    int count = 0;
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        for (int kind = 0; kind < JOB_FAULT_KINDS; kind++) {
            count += c->end.row[row].is_fault_reported[kind] && !is_planted(c->setup, kind, row) ? 1 : 0;
        }
    }
    return count;
}

/* Each report of what was never there takes half a fault away: naming everything everywhere finds nothing. */
static void faults(const score__case *c, scenario_band band, score__finding *out)
{
    (void)band;
    double credit = -0.5 * score__false_reports(c);
    for (int i = 0; i < c->setup->fault_count; i++) {
        const double got = fault_credit(c, &c->setup->fault[i]);
        credit += got;
        if (got < 1.0) {
            score__blame(out, c->setup->fault[i].row);
        }
    }
    out->applies = c->setup->fault_count > 0;
    out->value = out->applies ? fmax(credit, 0.0) / c->setup->fault_count : 0.0;
}

/* Judged where the trainee is to come back: a row counts when it was measured after the days and ended in tolerance. */
static void recheck(const score__case *c, scenario_band band, score__finding *out)
{
    (void)band;
    const job_setup *setup = c->setup;
    const int rows = setup->structure.row_count;
    const bool is_back = c->end.days >= setup->after.days;
    int good = 0;
    for (int row = 0; row < rows; row++) {
        const bool is_measured = is_back && c->end.row[row].measured_at > c->end.waited_at;
        const double off_n = fabs(c->end.rows.tension_n[row] - setup->target_n);
        if (is_measured && off_n <= setup->tolerance * setup->target_n) {
            good++;
        } else {
            score__blame(out, row);
        }
        out->undone += is_measured ? 0 : 1;
    }
    out->applies = setup->after.days > 0.0;
    out->value = (double)good / rows;
    out->reached = is_back ? 1.0 : 0.0;
}

score__run_measure *score__run_measure_of(scenario_criterion criterion)
{
    static score__run_measure *const measures[SCENARIO_CRITERIA] = {
        [SCENARIO_READING] = reading, [SCENARIO_GLASSES] = glasses, [SCENARIO_OPENING] = opening,
        [SCENARIO_TIME] = time_taken, [SCENARIO_FINISH] = finish,   [SCENARIO_FAULTS] = faults,
        [SCENARIO_RECHECK] = recheck,
    };
    return measures[criterion] != NULL ? measures[criterion] : score__tension_measure_of(criterion);
}
