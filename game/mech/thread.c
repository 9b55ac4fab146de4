/* Screw threads: geometry of the 60 degree V form and the torque to turn one under load. docs/mechanics.md 5. */
#include "tautrow/mech/fittings.h"

#include <math.h>

#include "screw.h"
#include "tautrow/base/units.h"

/* Pitch diameter of the 60 degree form lies 3/4 H below the major one, H = pitch * sqrt(3)/2 (ISO 68-1, ASME B1.1). */
#define PITCH_DIAMETER_DROP 0.649519052838329

/* Shigley, eq. 8-1, with the wedge effect of the flank (eq. 8-5): friction acts as friction / cos(half angle). */
double mech__screw_raise(const mech__screw *screw, double force_n)
{
    const double wedge = screw->friction / cos(screw->half_rad);
    const double around = TR_PI * screw->mean_m;
    const double grip = around - wedge * screw->lead_m;
    if (grip <= 0.0) {
        return (double)INFINITY; /* steeper than friction lets it climb: no torque raises it */
    }
    return 0.5 * force_n * screw->mean_m * (screw->lead_m + wedge * around) / grip;
}

/* Shigley, eq. 8-2. Negative: the thread runs back by itself. */
double mech__screw_lower(const mech__screw *screw, double force_n)
{
    const double wedge = screw->friction / cos(screw->half_rad);
    const double around = TR_PI * screw->mean_m;
    return 0.5 * force_n * screw->mean_m * (wedge * around - screw->lead_m) / (around + wedge * screw->lead_m);
}

double mech_thread_pitch_diameter(const mech_thread *thread)
{
    return thread->major_m - PITCH_DIAMETER_DROP * thread->pitch_m;
}

double mech_thread_lead_angle(const mech_thread *thread)
{
    return atan(thread->pitch_m / (TR_PI * mech_thread_pitch_diameter(thread)));
}

static mech__screw as_screw(const mech_thread *thread)
{
    return (mech__screw){.mean_m = mech_thread_pitch_diameter(thread),
                         .lead_m = thread->pitch_m,
                         .friction = thread->friction,
                         .half_rad = TR_PI / 6.0};
}

double mech_thread_raise(const mech_thread *thread, double force_n)
{
    const mech__screw screw = as_screw(thread);
    return mech__screw_raise(&screw, force_n);
}

double mech_thread_lower(const mech_thread *thread, double force_n)
{
    const mech__screw screw = as_screw(thread);
    return mech__screw_lower(&screw, force_n);
}
