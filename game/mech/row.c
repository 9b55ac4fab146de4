/* One row: how much take-up a tension uses up while the posts stand still. docs/mechanics.md 2. */
#include "row.h"

#include <math.h>

#include "tautrow/base/assert.h"
#include "tautrow/base/units.h"

enum { MAX_STEPS = 60 };

/* A change of tension by this share or less is rounding. */
static const double ROUNDING = 1e-13;

static mech__law law_of(const mech_run *run, double length_m, double cubes_m3, double insert_share)
{
    const mech_structure *made = &run->made_of;
    const double weight = made->strand.mass_kg_m * TR_GRAVITY_M_S2;
    return (mech__law){
        .elastic_m_n = length_m / made->strand.ea_n + insert_share / made->insert_n_m,
        .sag_m_n2 = run->cos_slope * run->cos_slope * (weight * weight * cubes_m3 / 24.0),
        .bedding_m = made->strand.bedding_strain * length_m,
        .half_n = made->strand.bedding_half_n,
        .warm_m = length_m * (made->strand.thermal_1_k - made->span_thermal_1_k) * made->warming_k,
    };
}

mech__law mech__bays_law(const mech_run *run, int first, int last, double insert_share)
{
    double length = 0.0;
    double cubes = 0.0;
    for (int bay = first; bay <= last; bay++) {
        const double bay_m = run->made_of.bay_m[bay];
        length += bay_m;
        cubes += bay_m * bay_m * bay_m;
    }
    return law_of(run, length, cubes, insert_share);
}

mech__law mech__row_law(const mech_run *run)
{
    return mech__bays_law(run, 0, run->made_of.bay_count - 1, 1.0);
}

double mech__law_take_up(const mech__law *law, double tension_n, double peak_n, double *slope)
{
    const double sag = law->sag_m_n2 / (tension_n * tension_n);
    double take_up = law->elastic_m_n * tension_n - sag + law->warm_m;
    double rise = law->elastic_m_n + 2.0 * sag / tension_n;
    if (law->bedding_m > 0.0) {
        /* Past the peak the strand beds in further; below it the bedding of the peak stays. */
        const double highest = fmax(tension_n, peak_n);
        const double sum = highest + law->half_n;
        take_up += law->bedding_m * highest / sum;
        rise += tension_n > peak_n ? law->bedding_m * law->half_n / (sum * sum) : 0.0;
    }
    if (slope != NULL) {
        *slope = rise;
    }
    return take_up;
}

/* Cube root to a few figures, by exact operations only: cbrt differs between machines, and a start that differs would
 * show in the last digits of the tensions. */
static double rough_cube_root(double value)
{
    int exponent;
    (void)frexp(value, &exponent);
    double root = ldexp(1.0, exponent / 3);
    for (int step = 0; step < 4; step++) {
        root -= (root - value / (root * root)) / 3.0;
    }
    return root;
}

double mech__law_guess(const mech__law *law, double take_up_m, double give_m_n)
{
    const double left = take_up_m - law->warm_m;
    const double level = rough_cube_root(law->sag_m_n2 / give_m_n); /* tension at which sag pays for the give */
    return left > 0.0 ? left / give_m_n + level : fmin(level, sqrt(law->sag_m_n2 / -left));
}

/* Newton on a law without a kink. Such a law rises and is concave, so that from below the tension sought every step
 * stays below it and gets closer; a step from above may fall short of 0 and is then cut. */
static double look(const mech__law *law, double take_up_m, double guess_n)
{
    double slope;
    double over = mech__law_take_up(law, guess_n, 0.0, &slope) - take_up_m;
    double tension = guess_n;
    if (fabs(over) > 0.5 * slope * guess_n) {
        tension = mech__law_guess(law, take_up_m, law->elastic_m_n);
        over = mech__law_take_up(law, tension, 0.0, &slope) - take_up_m;
    }
    for (int step = 0; step < MAX_STEPS; step++) {
        const double change = fmax(-over / slope, -0.75 * tension);
        tension += change;
        if (fabs(change) <= ROUNDING * tension) {
            break;
        }
        over = mech__law_take_up(law, tension, 0.0, &slope) - take_up_m;
    }
    return tension;
}

double mech__law_tension(const mech__law *law, double take_up_m, double peak_n, double guess_n)
{
    /* The kink at the peak parts the law in two. Past it the row follows the curve of a strand that was never loaded;
     * below it bedding-in is a constant, which for the search is a part of the take-up. */
    if (!(law->bedding_m > 0.0) || !(peak_n > 0.0) || take_up_m > mech__law_take_up(law, peak_n, peak_n, NULL)) {
        return look(law, take_up_m, guess_n);
    }
    mech__law bedded = *law;
    bedded.bedding_m = 0.0;
    return look(&bedded, take_up_m - law->bedding_m * peak_n / (peak_n + law->half_n), guess_n);
}

double mech_row_take_up(const mech_run *run, double tension_n, double peak_n, double *slope)
{
    TR_ASSERT(tension_n > 0.0);
    const mech__law law = mech__row_law(run);
    return mech__law_take_up(&law, tension_n, peak_n, slope);
}
