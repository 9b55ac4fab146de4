/* Reading the tension of a row: gauge, plucked tone, and the string pushed at mid-span. docs/mechanics.md 9. */
#include "tautrow/mech/checks.h"

#include <math.h>

#include "taut.h"

double mech_gauge_tension(double force_n, double gauge_m, double deflection_m)
{
    return force_n * gauge_m / (4.0 * deflection_m);
}

double mech_gauge_tension_exact(double force_n, double gauge_m, double deflection_m)
{
    return force_n * sqrt(0.25 * gauge_m * gauge_m + deflection_m * deflection_m) / (2.0 * deflection_m);
}

double mech_tone_hz(double tension_n, double mass_kg_m, double bay_m)
{
    return sqrt(fmax(tension_n, 0.0) / mass_kg_m) / (2.0 * bay_m);
}

double mech_tone_tension(double frequency_hz, double mass_kg_m, double bay_m)
{
    const double wave_speed = 2.0 * bay_m * frequency_hz;
    return mass_kg_m * wave_speed * wave_speed;
}

/* Strain added by the two straight legs, from the slope of a leg; written so that small slopes keep their digits. */
static double leg_strain(double slope)
{
    return slope * slope / (sqrt(1.0 + slope * slope) + 1.0);
}

double mech__taut_tension(double tension_n, double ea_n, double length_m, double deflection_m)
{
    return tension_n + ea_n * leg_strain(2.0 * deflection_m / length_m);
}

double mech_string_push(double tension_n, double ea_n, double length_m, double deflection_m)
{
    const double slope = 2.0 * deflection_m / length_m;
    const double tension = mech__taut_tension(tension_n, ea_n, length_m, deflection_m);
    return 2.0 * tension * slope / sqrt(1.0 + slope * slope);
}

/* Bisection: the push is odd and strictly rising, and this is asked for once a check, so robust beats fast. */
double mech_string_deflection(double tension_n, double ea_n, double length_m, double force_n)
{
    const double force = fabs(force_n);
    double low = 0.0;
    double high = length_m;
    while (mech_string_push(tension_n, ea_n, length_m, high) < force) {
        low = high;
        high *= 2.0;
        if (high > 1e6 * length_m) {
            return copysign((double)INFINITY, force_n); /* without stretch a string cannot resist more than 2 T */
        }
    }
    for (int i = 0; i < 100; i++) {
        const double mid = 0.5 * (low + high);
        if (mech_string_push(tension_n, ea_n, length_m, mid) < force) {
            low = mid;
        } else {
            high = mid;
        }
    }
    return copysign(0.5 * (low + high), force_n);
}
