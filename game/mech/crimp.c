/* The hand-crimped stud: how well it holds and what the crimp gauge reads. docs/mechanics.md 7.
 *
 * No published strength exists for hand crimps. The shape of every factor here is an assumption and the numbers in
 * mech_crimp_kind are demo data; what is meant to be right is the direction in which each slip-up works. */
#include "tautrow/mech/fittings.h"

#include <math.h>

#include "tautrow/base/assert.h"
#include "tautrow/base/units.h"

#define SEAT_NONE 0.50 /* share of the bore filled below which the cable is taken as not held at all (demo data) */
#define SEAT_FULL 0.95 /* and from which it is taken as home (demo data) */
#define EAR_SHARE 0.50 /* part of the metal pressed in across one axis that comes out across the other (demo data) */

static double clamp01(double value)
{
    return fmin(fmax(value, 0.0), 1.0);
}

static double seat_factor(const mech_crimp_kind *kind, double seated_m)
{
    return clamp01((seated_m / kind->bore_m - SEAT_NONE) / (SEAT_FULL - SEAT_NONE));
}

static double die_start(const mech_crimp_kind *kind, const mech_squeeze *squeeze)
{
    return squeeze->position_m - 0.5 * kind->die_m;
}

/* Strongest closing over a stretch of barrel in which no die begins or ends. */
static double closing_over(const mech_crimp_kind *kind, const mech_crimp *crimp, double from, double to)
{
    const double mid = 0.5 * (from + to);
    double best = 0.0;
    for (int i = 0; i < crimp->squeeze_count; i++) {
        const double start = die_start(kind, &crimp->squeeze[i]);
        if (mid > start && mid < start + kind->die_m) {
            best = fmax(best, clamp01(crimp->squeeze[i].closing));
        }
    }
    return best;
}

static void sort(double values[], int count)
{
    for (int i = 1; i < count; i++) {
        const double value = values[i];
        int at = i;
        for (; at > 0 && values[at - 1] > value; at--) {
            values[at] = values[at - 1];
        }
        values[at] = value;
    }
}

/* Length of barrel that is pressed onto cable, each part counted by how far the die closed there, over what two dies
 * side by side can cover. */
static double cover_factor(const mech_crimp_kind *kind, const mech_crimp *crimp)
{
    const double inside_m = fmin(fmax(crimp->seated_m, 0.0), kind->bore_m);
    double ends[2 * MECH_MAX_SQUEEZES + 2] = {0.0, inside_m};
    int count = 2;
    for (int i = 0; i < crimp->squeeze_count; i++) {
        const double start = die_start(kind, &crimp->squeeze[i]);
        ends[count++] = fmin(fmax(start, 0.0), inside_m);
        ends[count++] = fmin(fmax(start + kind->die_m, 0.0), inside_m);
    }
    sort(ends, count);
    double covered_m = 0.0;
    for (int i = 0; i + 1 < count; i++) {
        covered_m += (ends[i + 1] - ends[i]) * closing_over(kind, crimp, ends[i], ends[i + 1]);
    }
    return clamp01(covered_m / fmin(2.0 * kind->die_m, kind->bore_m));
}

/* Turn between two squeezes, 0 to 90 degrees: a die has two jaws, so half a turn brings back the same plane. */
static double turn_between(const mech_squeeze *a, const mech_squeeze *b)
{
    return fabs(remainder(b->angle_rad - a->angle_rad, TR_PI));
}

/* Form that two full squeezes give: best at best_turn, no_turn in the same plane, straight in between. */
static double pair_form(const mech_crimp_kind *kind, double turn_rad)
{
    const double off = fabs(turn_rad - kind->best_turn_rad) / kind->best_turn_rad;
    return kind->no_turn + (1.0 - kind->no_turn) * clamp01(1.0 - off);
}

/* The better closed squeeze counts as a single one; the other adds what the pair gains, by how far it closed. */
static double form_of_pair(const mech_crimp_kind *kind, const mech_squeeze *a, const mech_squeeze *b)
{
    const double more = fmax(clamp01(a->closing), clamp01(b->closing));
    const double less = fmin(clamp01(a->closing), clamp01(b->closing));
    return kind->one_squeeze * more + (pair_form(kind, turn_between(a, b)) - kind->one_squeeze) * less;
}

static double form_factor(const mech_crimp_kind *kind, const mech_crimp *crimp)
{
    if (crimp->squeeze_count == 0) {
        return 0.0;
    }
    if (crimp->squeeze_count == 1) {
        return kind->one_squeeze * clamp01(crimp->squeeze[0].closing);
    }
    double best = 0.0;
    for (int i = 0; i < crimp->squeeze_count; i++) {
        for (int j = i + 1; j < crimp->squeeze_count; j++) {
            best = fmax(best, form_of_pair(kind, &crimp->squeeze[i], &crimp->squeeze[j]));
        }
    }
    return clamp01(best);
}

/* Widths across the first squeeze's axis and at right angles. The first squeeze presses its axis in and lets ears grow
 * at right angles, wider than the barrel was; each later squeeze brings an axis down by the share of it that faces that
 * axis. */
static void gauge_readings(const mech_crimp_kind *kind, const mech_crimp *crimp, double gauge_m[2])
{
    double left[2] = {1.0, 1.0}; /* what is left of the way down to crimped_m */
    for (int i = 0; i < crimp->squeeze_count; i++) {
        const double closing = clamp01(crimp->squeeze[i].closing);
        const double turn = turn_between(&crimp->squeeze[0], &crimp->squeeze[i]);
        if (i == 0) {
            left[0] = 1.0 - closing;
            left[1] = 1.0 + EAR_SHARE * closing;
        } else {
            left[0] *= 1.0 - closing * cos(turn) * cos(turn);
            left[1] *= 1.0 - closing * sin(turn) * sin(turn);
        }
    }
    for (int axis = 0; axis < 2; axis++) {
        gauge_m[axis] = kind->crimped_m + (kind->barrel_m - kind->crimped_m) * left[axis];
    }
}

mech_crimp_state mech_crimp_look(const mech_crimp_kind *kind, const mech_crimp *crimp, double breaking_n)
{
    TR_ASSERT(crimp->squeeze_count >= 0 && crimp->squeeze_count <= MECH_MAX_SQUEEZES);
    mech_crimp_state state = {.seat = seat_factor(kind, crimp->seated_m),
                              .cover = cover_factor(kind, crimp),
                              .form = form_factor(kind, crimp)};
    state.hold_n = breaking_n * kind->efficiency * state.seat * state.cover * state.form;
    gauge_readings(kind, crimp, state.gauge_m);
    state.passes_gauge = state.gauge_m[0] <= kind->gauge_pass_m && state.gauge_m[1] <= kind->gauge_pass_m;
    return state;
}
