/* Cut length: what a weak or strong hand on the cable does to it. docs/mechanics.md 8. */
#include "tautrow/mech/fittings.h"

#include "row.h"
#include "tautrow/base/assert.h"

/* The bare cable under the hand: no insert gives yet, and warmth and bedding-in are the same at both pulls. */
double mech_cut_pull_error(const mech_run *run, double hand_n, double reference_n)
{
    TR_ASSERT(hand_n > 0.0 && reference_n > 0.0);
    const double stretch_m = (reference_n - hand_n) * run->length_m / run->made_of.strand.ea_n;
    const double sag_m = mech__row_law(run).sag_m_n2 * (1.0 / (hand_n * hand_n) - 1.0 / (reference_n * reference_n));
    return stretch_m + sag_m;
}
