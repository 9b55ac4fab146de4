/* What is judged row by row: the fitting of a row from its mark to its join. One small function a criterion. */
#include "parts.h"

#include <math.h>

#include "tautrow/base/units.h"

/* A squeeze is full from this share of the stroke: handles that touch are never felt to the last hair.
 * common practice, no source. */
static const double full_squeeze = 0.95;

bool score__is_asked(const job_setup *setup, int row, job_stage stage)
{
    return setup->is_trainees[row] && setup->start_stage[row] <= stage;
}

int score__asked_rows(const job_setup *setup, job_stage stage)
{
    int count = 0;
    for (int row = 0; row < setup->structure.row_count; row++) {
        count += score__is_asked(setup, row, stage) ? 1 : 0;
    }
    return count;
}

void score__blame(score__finding *finding, int row)
{
    int at = finding->row_count;
    while (at > 0 && finding->row[at - 1] > row) {
        at--;
    }
    const bool is_there = at > 0 && finding->row[at - 1] == row;
    if (row < 0 || is_there || finding->row_count == MECH_MAX_ROWS) {
        return;
    }
    for (int i = finding->row_count; i > at; i--) {
        finding->row[i] = finding->row[i - 1];
    }
    finding->row[at] = row;
    finding->row_count++;
}

static bool is_within(double value, job_band band)
{
    return value >= band.low && value <= band.high;
}

static bool mark_height(const score__case *c, int row, double *value)
{
    *value = fabs(c->end.row[row].height_error_m);
    return c->end.row[row].is_marked;
}

static bool bit(const score__case *c, int row, double *value)
{
    *value = c->end.row[row].bit == c->setup->right_bit ? 1.0 : 0.0;
    return c->end.row[row].is_drilled;
}

static bool drill_speed(const score__case *c, int row, double *value)
{
    *value = is_within(c->end.row[row].drill_rpm, c->setup->drill_rpm) ? 1.0 : 0.0;
    return c->end.row[row].is_drilled;
}

static bool hole_depth(const score__case *c, int row, double *value)
{
    *value = fabs(c->end.row[row].hole.depth_m - c->setup->hole_depth_m);
    return c->end.row[row].is_drilled;
}

static bool hole_square(const score__case *c, int row, double *value)
{
    const mech_hole *hole = &c->end.row[row].hole;
    *value = sqrt(hole->pitch_rad * hole->pitch_rad + hole->yaw_rad * hole->yaw_rad);
    return c->end.row[row].is_drilled;
}

static bool insert_seat(const score__case *c, int row, double *value)
{
    *value = fabs(c->end.row[row].seat.proud_m);
    return c->end.row[row].is_driven;
}

static bool driver_speed(const score__case *c, int row, double *value)
{
    *value = is_within(c->end.row[row].driver_rpm, c->setup->driver_rpm) ? 1.0 : 0.0;
    return c->end.row[row].is_driven;
}

double score__engagement(const job_setup *setup, const job_row *row, double *turns)
{
    const mech_turnbuckle *turnbuckle = &setup->turnbuckle;
    const double anchor = row->engaged.anchor_turns / mech_min_turns(turnbuckle, &turnbuckle->anchor);
    const double cable = row->engaged.cable_turns / mech_min_turns(turnbuckle, &turnbuckle->cable);
    *turns = anchor < cable ? row->engaged.anchor_turns : row->engaged.cable_turns;
    return fmin(anchor, cable);
}

static bool threads(const score__case *c, int row, double *value)
{
    double turns = 0.0;
    *value = score__engagement(c->setup, &c->end.row[row], &turns);
    return c->end.row[row].is_joined;
}

static bool hands(const score__case *c, int row, double *value)
{
    const job_row *r = &c->end.row[row];
    *value = r->wrong_starts;
    return r->anchor_in || r->is_joined || r->was_unscrewed;
}

static bool cut_length(const score__case *c, int row, double *value)
{
    *value = fabs(c->end.row[row].length_error_m);
    return c->end.row[row].is_cut;
}

static bool cable_seat(const score__case *c, int row, double *value)
{
    *value = fmax(c->setup->crimp.bore_m - c->end.row[row].crimp.seated_m, 0.0);
    return c->end.row[row].crimp.squeeze_count > 0;
}

int score__full_squeezes(const mech_crimp *crimp)
{
    int count = 0;
    for (int i = 0; i < crimp->squeeze_count; i++) {
        count += crimp->squeeze[i].closing >= full_squeeze ? 1 : 0;
    }
    return count;
}

static bool squeezes(const score__case *c, int row, double *value)
{
    *value = score__full_squeezes(&c->end.row[row].crimp);
    return c->end.row[row].crimp.squeeze_count > 0;
}

/* The die has two faces: half a turn brings it back to where it was. */
static double plane_angle(double a_rad, double b_rad)
{
    const double apart = fmod(fabs(a_rad - b_rad), TR_PI);
    return fmin(apart, TR_PI - apart);
}

/* Least angle by which two of its squeezes miss the quarter turn; false for fewer than two. */
static bool turn_miss(const mech_crimp_kind *kind, const mech_crimp *crimp, double *miss_rad)
{
    *miss_rad = TR_PI;
    for (int i = 0; i < crimp->squeeze_count; i++) {
        for (int j = i + 1; j < crimp->squeeze_count; j++) {
            const double apart = plane_angle(crimp->squeeze[i].angle_rad, crimp->squeeze[j].angle_rad);
            *miss_rad = fmin(*miss_rad, fabs(apart - kind->best_turn_rad));
        }
    }
    return crimp->squeeze_count >= 2;
}

/* A single squeeze has no turn: not done, so it earns nothing here either. */
static bool squeeze_turn(const score__case *c, int row, double *value)
{
    return turn_miss(&c->setup->crimp, &c->end.row[row].crimp, value);
}

static bool body_held(const score__case *c, int row, double *value)
{
    *value = c->end.row[row].was_body_held ? 1.0 : 0.0;
    return c->end.row[row].was_unscrewed;
}

static const score__row_rule rules[SCENARIO_CRITERIA] = {
    [SCENARIO_BIT] = {bit, true},
    [SCENARIO_DRILL_SPEED] = {drill_speed, true},
    [SCENARIO_HOLE_DEPTH] = {hole_depth, false},
    [SCENARIO_HOLE_SQUARE] = {hole_square, false},
    [SCENARIO_MARK_HEIGHT] = {mark_height, false},
    [SCENARIO_INSERT_SEAT] = {insert_seat, false},
    [SCENARIO_DRIVER_SPEED] = {driver_speed, true},
    [SCENARIO_THREADS] = {threads, false},
    [SCENARIO_HANDS] = {hands, false},
    [SCENARIO_CUT_LENGTH] = {cut_length, false},
    [SCENARIO_CABLE_SEAT] = {cable_seat, false},
    [SCENARIO_SQUEEZES] = {squeezes, false},
    [SCENARIO_SQUEEZE_TURN] = {squeeze_turn, false},
    [SCENARIO_BODY_HELD] = {body_held, true},
};

score__row_rule score__row_rule_of(scenario_criterion criterion)
{
    return rules[criterion];
}
