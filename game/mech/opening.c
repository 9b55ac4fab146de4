/* The opening rule: what it takes to push a ball between two rows, or between a row and a fixed face.
 * docs/mechanics.md 9.
 *
 * Ball and rows touch without friction, so a row is pushed away along the line from the ball's centre to the place
 * where the row lies at rest, and pushes back along it. The ball is guided only in the direction of the push: it shifts
 * towards the slacker row until the two rows push it up and down alike. */
#include "opening.h"

#include <math.h>

#include "ends.h"
#include "tautrow/mech/checks.h"

enum { SCAN_POINTS = 64, GOLDEN_STEPS = 40, BALANCE_STEPS = 40, ROW_LOW = 0, ROW_HIGH = 1 };

/* Force of one row whose rest place is distance_m away from the ball's centre. */
static double row_push(const mech__gap *gap, int row, double distance_m)
{
    const double pushed_m = gap->reach_m - distance_m;
    return pushed_m > 0.0 ? mech_string_push(gap->tension_n[row], gap->ea_n, gap->bay_m, pushed_m) : 0.0;
}

/* Share of that force along the push; straight ahead when the ball sits right on the row. */
static double along_push(const mech__gap *gap, int row, double rise_m, double z)
{
    const double distance_m = sqrt(rise_m * rise_m + z * z);
    return distance_m > 0.0 ? row_push(gap, row, distance_m) * z / distance_m : 0.0;
}

static double across_push(const mech__gap *gap, int row, double rise_m, double z)
{
    const double distance_m = sqrt(rise_m * rise_m + z * z);
    return distance_m > 0.0 ? row_push(gap, row, distance_m) * rise_m / distance_m : 0.0;
}

/* Lifting force on the ball at a height above the lower row. */
static double lift(const mech__gap *gap, double height_m, double z)
{
    return across_push(gap, ROW_LOW, height_m, z) - across_push(gap, ROW_HIGH, gap->spacing_m - height_m, z);
}

double mech__gap_height(const mech__gap *gap, double z)
{
    const double touch_m = sqrt(fmax(gap->reach_m * gap->reach_m - z * z, 0.0));
    if (2.0 * touch_m <= gap->spacing_m) {
        return 0.5 * gap->spacing_m; /* neither row is touched */
    }
    /* At the low end the upper row just lets go and the ball is lifted; at the high end the other way round. */
    double low = fmax(gap->spacing_m - touch_m, 0.0);
    double high = fmin(touch_m, gap->spacing_m);
    for (int i = 0; i < BALANCE_STEPS; i++) {
        const double mid = 0.5 * (low + high);
        const double up = lift(gap, mid, z);
        if (up == 0.0) { /* exact where both rows are alike: keeps the symmetric answer symmetric */
            return mid;
        }
        if (up > 0.0) {
            low = mid;
        } else {
            high = mid;
        }
    }
    return 0.5 * (low + high);
}

double mech__gap_push(const mech__gap *gap, double z)
{
    const double height_m = mech__gap_height(gap, z);
    return along_push(gap, ROW_LOW, height_m, z) + along_push(gap, ROW_HIGH, gap->spacing_m - height_m, z);
}

/* The ball runs along a flat face, so its centre keeps one radius from it. A row nearer than that is pushed straight
 * ahead. */
static double edge_rise(const mech__gap *gap)
{
    return fmax(gap->spacing_m - gap->ball_radius_m, 0.0);
}

static double gap_push_edge(const mech__gap *gap, double z)
{
    return along_push(gap, ROW_HIGH, edge_rise(gap), z);
}

typedef double push_at(const mech__gap *gap, double z);

/* Golden section between two points that bracket one peak. */
static double peak_between(const mech__gap *gap, push_at *push, double low, double high)
{
    const double golden = 0.6180339887498949;
    for (int i = 0; i < GOLDEN_STEPS; i++) {
        const double left = high - golden * (high - low);
        const double right = low + golden * (high - low);
        if (push(gap, left) < push(gap, right)) {
            low = left;
        } else {
            high = right;
        }
    }
    return push(gap, 0.5 * (low + high));
}

/* Largest push on the way from first touch at z = start_m to the plane of the rows. */
static double largest_push(const mech__gap *gap, push_at *push, double start_m)
{
    const double step = start_m / SCAN_POINTS;
    double best = 0.0;
    int best_at = 1;
    for (int i = 1; i < SCAN_POINTS; i++) {
        const double here = push(gap, step * i);
        if (here > best) {
            best = here;
            best_at = i;
        }
    }
    return fmax(best, peak_between(gap, push, step * (best_at - 1), step * (best_at + 1)));
}

/* Distance in front of the rows at which the ball first touches what stands half_m beside its path. */
static double first_touch(double reach_m, double half_m)
{
    return sqrt(fmax(reach_m * reach_m - half_m * half_m, 0.0));
}

static mech_opening opening_of(double ball_m, double clear_m, double push_n)
{
    const bool is_open = ball_m <= clear_m;
    return (mech_opening){.push_n = is_open ? 0.0 : push_n, .spread_m = is_open ? clear_m : ball_m, .is_open = is_open};
}

mech_opening mech_ball_opening(double ball_m, double strand_m, double spacing_m, double bay_m, double tension_low_n,
                               double tension_high_n, double ea_n)
{
    const mech__gap gap = {.ball_radius_m = 0.5 * ball_m,
                           .reach_m = 0.5 * (ball_m + strand_m),
                           .spacing_m = spacing_m,
                           .bay_m = bay_m,
                           .tension_n = {fmax(tension_low_n, 0.0), fmax(tension_high_n, 0.0)},
                           .ea_n = ea_n};
    const double start_m = first_touch(gap.reach_m, 0.5 * spacing_m);
    return opening_of(ball_m, spacing_m - strand_m, largest_push(&gap, mech__gap_push, start_m));
}

mech_opening mech_ball_opening_edge(double ball_m, double strand_m, double spacing_m, double bay_m, double tension_n,
                                    double ea_n)
{
    const mech__gap gap = {.ball_radius_m = 0.5 * ball_m,
                           .reach_m = 0.5 * (ball_m + strand_m),
                           .spacing_m = spacing_m,
                           .bay_m = bay_m,
                           .tension_n = {0.0, fmax(tension_n, 0.0)},
                           .ea_n = ea_n};
    const double start_m = first_touch(gap.reach_m, edge_rise(&gap));
    return opening_of(ball_m, spacing_m - 0.5 * strand_m, largest_push(&gap, gap_push_edge, start_m));
}

static mech_opening opening_in(const mech_run *run, const mech_rows *rows, int gap, double ball_m, mech__part part)
{
    const mech_structure *made = &run->made_of;
    const mech_strand *strand = &made->strand;
    const double bay_m = mech__longest_bay(run, part);
    const double wide_m = mech_run_gap(run, gap);
    const double low_n = gap > 0 ? mech_row_bay_tension(run, rows, gap - 1, part.first) : 0.0;
    const double high_n = gap < made->row_count ? mech_row_bay_tension(run, rows, gap, part.first) : 0.0;
    if (gap == 0 || gap == made->row_count) {
        return mech_ball_opening_edge(ball_m, strand->diameter_m, wide_m, bay_m, gap == 0 ? high_n : low_n,
                                      strand->ea_n);
    }
    return mech_ball_opening(ball_m, strand->diameter_m, wide_m, bay_m, low_n, high_n, strand->ea_n);
}

mech_opening mech_run_opening(const mech_run *run, const mech_rows *rows, int gap, double ball_m)
{
    if (gap == run->made_of.row_count && !run->made_of.rail.is_fitted) {
        return (mech_opening){.push_n = (double)INFINITY};
    }
    mech_opening weakest = opening_in(run, rows, gap, ball_m, mech__part_of(run, 0));
    for (int part = 1; part <= run->made_of.bend_count; part++) {
        const mech_opening here = opening_in(run, rows, gap, ball_m, mech__part_of(run, part));
        weakest = here.push_n < weakest.push_n ? here : weakest;
    }
    return weakest;
}
