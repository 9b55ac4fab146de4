/* How a line stands: its share of a row's or the run's points as if all that is still open came out well. What counts as
 * open is the heart of slip-ups: a foreman who speaks up before a piece of work is done is a nuisance. */
#include "slip_parts.h"

#include <math.h>

/* ---- what can still be put right by going on ---------------------------------------------------------------------- */

static bool bit_is_final(const score__case *c, const job_row *row)
{
    const job_setup *setup = c->setup;
    const bool is_wide = row->hole.diameter_m > setup->bit[setup->right_bit].diameter_m;
    return row->is_drilled && (is_wide || row->is_driven); /* a narrow hole can be opened up */
}

static bool depth_is_final(const score__case *c, const job_row *row)
{
    return row->is_drilled && (row->hole.depth_m > c->setup->hole_depth_m || row->is_driven);
}

static bool drilled(const score__case *c, const job_row *row)
{
    (void)c;
    return row->is_drilled; /* marks can be moved until then, too */
}

static bool driven(const score__case *c, const job_row *row)
{
    (void)c;
    return row->is_driven;
}

static bool cut(const score__case *c, const job_row *row)
{
    (void)c;
    return row->is_cut;
}

static bool squeezed(const score__case *c, const job_row *row)
{
    (void)c;
    return row->crimp.squeeze_count > 0;
}

/* A squeeze that was not closed can be closed in the same place. */
static bool squeezed_twice(const score__case *c, const job_row *row)
{
    (void)c;
    return score__full_squeezes(&row->crimp) >= 2;
}

static bool unscrewed(const score__case *c, const job_row *row)
{
    (void)c;
    return row->was_unscrewed;
}

static bool always(const score__case *c, const job_row *row)
{
    (void)c;
    (void)row;
    return true;
}

typedef bool row_is_final(const score__case *c, const job_row *row);

static row_is_final *const finals[SCENARIO_CRITERIA] = {
    [SCENARIO_BIT] = bit_is_final,
    [SCENARIO_DRILL_SPEED] = drilled,
    [SCENARIO_HOLE_DEPTH] = depth_is_final,
    [SCENARIO_HOLE_SQUARE] = drilled,
    [SCENARIO_MARK_HEIGHT] = drilled,
    [SCENARIO_INSERT_SEAT] = driven,
    [SCENARIO_DRIVER_SPEED] = driven,
    [SCENARIO_HANDS] = always,
    [SCENARIO_CUT_LENGTH] = cut,
    [SCENARIO_CABLE_SEAT] = squeezed,
    [SCENARIO_SQUEEZE_TURN] = squeezed_twice,
    [SCENARIO_BODY_HELD] = unscrewed,
};

/* The hand has gone on from the crimp: to unscrew the stud, or, where that was out already, to thread it in. */
static bool has_left_crimp(const score__case *c, int row)
{
    if (c->end.row[row].is_joined) {
        return true;
    }
    for (size_t i = c->room->count; i > 0; i--) {
        const job_action *action = &c->room->action[i - 1];
        if (job_action_row(action) == row && action->verb == JOB_DO_SQUEEZE) {
            return false;
        }
        if (job_action_row(action) == row && action->verb == JOB_DO_UNSCREW_STUD) {
            return c->end.row[row].crimp.squeeze_count > 0;
        }
    }
    return false;
}

/* ---- standings of a row ------------------------------------------------------------------------------------------ */

static score__standing standing_at(double measured, scenario_band band, bool is_final)
{
    return (score__standing){is_final ? score_share(measured, band) : 1.0, measured};
}

static score__standing squeezes_stand(const score__case *c, scenario_band band, int row)
{
    const mech_crimp *crimp = &c->end.row[row].crimp;
    return standing_at(score__full_squeezes(crimp), band, crimp->squeeze_count > 0 && has_left_crimp(c, row));
}

/* An end that cannot go home is spoilt when it is cut. */
static score__standing seat_stands(const score__case *c, scenario_band band, int row)
{
    const job_row *r = &c->end.row[row];
    double seated_m = r->crimp.seated_m;
    const bool is_spoilt = r->is_cut && r->is_frayed && r->crimp.squeeze_count == 0;
    if (is_spoilt) {
        seated_m = score__seat_within_reach(c, row, &c->room->work);
    }
    return standing_at(fmax(c->setup->crimp.bore_m - seated_m, 0.0), band, is_spoilt || r->crimp.squeeze_count > 0);
}

/* Threads are counted when the row is hand tight, or pulled without having been made so. */
static score__standing threads_stand(const score__case *c, scenario_band band, int row)
{
    const job_row *r = &c->end.row[row];
    double turns = 0.0;
    const bool is_final = r->is_joined && (r->is_hand_tight || r->turned_at >= 0);
    return standing_at(is_final ? score__engagement_to_come(c, row, &turns) : band.full, band, is_final);
}

static score__standing row_stands(const score__case *c, scenario_criterion criterion, int row)
{
    const scenario_band band = c->scenario->rubric.band[criterion];
    double value = 0.0;
    switch ((int)criterion) {
    case SCENARIO_SQUEEZES:
        return squeezes_stand(c, band, row);
    case SCENARIO_CABLE_SEAT:
        return seat_stands(c, band, row);
    case SCENARIO_THREADS:
        return threads_stand(c, band, row);
    default:
        break;
    }
    const bool is_done = score__row_rule_of(criterion).measure(c, row, &value) || finals[criterion] == always;
    return standing_at(value, band, is_done && finals[criterion](c, &c->end.row[row]));
}

/* ---- standings of the run ----------------------------------------------------------------------------------------- */

/* Held turns over all turns of the row in hand: what it does to its cable does not depend on the others. */
static score__standing stud_stands(const score__case *c, scenario_band band, int row)
{
    const double held = c->end.row[row].turns_held;
    const double turns = held + c->end.row[row].turns_free;
    return standing_at(turns > 0.0 ? held / turns : 1.0, band, turns > 0.0);
}

static score__standing over_tension_stands(const score__case *c, scenario_band band, int row)
{
    return standing_at(c->end.peak_n[row] / c->setup->row_limit_n, band, isfinite(c->setup->row_limit_n));
}

static score__standing clear_stands(const score__case *c, scenario_band band)
{
    double turns = 0.0;
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        turns += c->end.row[row].turns_held + c->end.row[row].turns_free;
    }
    return standing_at(turns > 0.0 ? c->end.turns_unclear / turns : 0.0, band, turns > 0.0);
}

static score__standing order_stands(const score__case *c, scenario_band band)
{
    score__standing at;
    at.share = score__order_left(c, band, &at.measured);
    return at;
}

/* What was reported and never was there stays reported. */
static score__standing reports_stand(const score__case *c, scenario_band band)
{
    const int count = c->setup->fault_count;
    return standing_at(count > 0 ? fmax(1.0 - 0.5 * score__false_reports(c) / count, 0.0) : 1.0, band, count > 0);
}

static score__standing run_measure_stands(const score__case *c, scenario_criterion criterion, scenario_band band)
{
    score__finding found = {.reached = 1.0};
    score__run_measure_of(criterion)(c, band, &found);
    return standing_at(found.value, band, found.applies && (criterion == SCENARIO_GLASSES || c->pull_count > 0));
}

static score__standing run_stands(const score__case *c, scenario_criterion criterion, int row)
{
    const scenario_band band = c->scenario->rubric.band[criterion];
    switch ((int)criterion) {
    case SCENARIO_STUD_HELD:
        return stud_stands(c, band, row);
    case SCENARIO_OVER_TENSION:
        return over_tension_stands(c, band, row);
    case SCENARIO_CLEAR:
        return clear_stands(c, band);
    case SCENARIO_ORDER:
        return order_stands(c, band);
    case SCENARIO_FAULTS:
        return reports_stand(c, band);
    default:
        return run_measure_stands(c, criterion, band);
    }
}

bool score__is_of_rows(scenario_criterion criterion)
{
    return score__row_rule_of(criterion).measure != NULL;
}

score__standing score__stands(const score__case *c, scenario_criterion criterion, int row)
{
    return score__is_of_rows(criterion) ? row_stands(c, criterion, row) : run_stands(c, criterion, row);
}

bool score__is_row_final(const score__case *c, scenario_criterion criterion, int row)
{
    return finals[criterion](c, &c->end.row[row]);
}
