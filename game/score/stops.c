/* Stop faults: errors that end in a fail whatever the score, and which row has them. */
#include "parts.h"

#include <math.h>

/* What holds a row, crimp or insert, must hold this many times the target. common practice, no source. */
static const double safe_factor = 2.0;

double score__crimp_hold(const job_setup *setup, const job_row *row)
{
    return mech_crimp_look(&setup->crimp, &row->crimp, setup->structure.strand.breaking_n).hold_n;
}

static bool has_few_threads(const score__case *c, int row)
{
    double turns = 0.0;
    return c->end.row[row].is_joined && score__engagement(c->setup, &c->end.row[row], &turns) < 1.0;
}

static bool has_weak_crimp(const score__case *c, int row)
{
    const job_row *r = &c->end.row[row];
    if (!r->is_joined || r->crimp.squeeze_count == 0) {
        return false;
    }
    return score__crimp_hold(c->setup, r) < safe_factor * c->setup->target_n ||
           !mech_crimp_look(&c->setup->crimp, &r->crimp, c->setup->structure.strand.breaking_n).passes_gauge;
}

/* A hole that the crew drilled too big and a wet post cannot be mended: whoever reports them has done all that can be
 * done. */
static bool is_excused(const score__case *c, int row)
{
    for (int i = 0; i < c->setup->fault_count; i++) {
        const job_fault *fault = &c->setup->fault[i];
        const bool is_hole = fault->kind == JOB_FAULT_BIG_BIT && fault->row == row;
        if ((is_hole || fault->kind == JOB_FAULT_WET_POST) && score__is_reported(c, fault)) {
            return true;
        }
    }
    return false;
}

/* The grip of a faultless hole and seat in sound wood, less a tenth for what a careful hand leaves. In poor wood even
 * that may be short of twice the target; that is then the job's fault and not the trainee's. */
static double fair_grip(const job_setup *setup)
{
    const mech_hole hole = {.diameter_m = setup->bit[setup->right_bit].diameter_m, .depth_m = setup->hole_depth_m};
    const mech_seat seat = {.proud_m = 0.0};
    return 0.9 * mech_insert_grip(&setup->insert, &hole, &seat, &setup->wood, setup->edge_m).ultimate_n;
}

static bool has_weak_insert(const score__case *c, int row)
{
    const double asked = fmin(safe_factor * c->setup->target_n, fair_grip(c->setup));
    const job_row *r = &c->end.row[row];
    return r->is_driven && r->grip.ultimate_n < asked && !is_excused(c, row);
}

static bool is_over_limit(const score__case *c, int row)
{
    return c->end.peak_n[row] > c->setup->row_limit_n;
}

static bool has_given_way(const score__case *c, int row)
{
    return c->end.slips_under_load > 0 && c->end.row[row].slip_m > 0.0;
}

static bool is_split(const score__case *c, int row)
{
    return c->end.row[row].is_split;
}

static bool is_unfinished(const score__case *c, int row)
{
    return c->setup->is_trainees[row] && !c->end.row[row].is_joined;
}

static bool is_gap_open(const score__case *c, int gap)
{
    return score__is_gap_asked(c, gap) && c->gap_push_n[gap] < c->setup->ball_push_n;
}

/* The gap above the row, and for the lowest the one below it too. Judged when the sheet is signed: before that it is
 * unfinished, not wrong. */
static bool is_open_beside(const score__case *c, int row)
{
    const bool is_asked = c->setup->ball_m > 0.0 && c->setup->ball_push_n > 0.0;
    return is_asked && c->end.is_signed && (is_gap_open(c, row + 1) || (row == 0 && is_gap_open(c, 0)));
}

typedef bool row_test(const score__case *c, int row);

/* The first row for which the test is true, or -1. */
static int first_row(const score__case *c, row_test *test)
{
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        if (test(c, row)) {
            return row;
        }
    }
    return -1;
}

static row_test *const tests[SCORE_STOPS] = {
    [SCORE_STOP_FEW_THREADS] = has_few_threads, [SCORE_STOP_WEAK_CRIMP] = has_weak_crimp,
    [SCORE_STOP_WEAK_INSERT] = has_weak_insert, [SCORE_STOP_OVER_LIMIT] = is_over_limit,
    [SCORE_STOP_GAVE_WAY] = has_given_way,      [SCORE_STOP_SPLIT] = is_split,
    [SCORE_STOP_OPENING] = is_open_beside,      [SCORE_STOP_UNFINISHED] = is_unfinished,
};

bool score__has_stop(const score__case *c, score_stop stop, int row)
{
    return tests[stop](c, row);
}

unsigned score__stops(const score__case *c, int stop_row[SCORE_STOPS])
{
    unsigned stops = 0;
    for (int i = 0; i < SCORE_STOPS; i++) {
        stop_row[i] = first_row(c, tests[i]);
        stops |= stop_row[i] >= 0 ? 1U << i : 0U;
    }
    if (c->end.slips_under_load > 0) {
        stops |= 1U << SCORE_STOP_GAVE_WAY;
    }
    if (!c->end.is_signed) {
        stops |= 1U << SCORE_STOP_UNFINISHED;
    }
    return stops;
}
