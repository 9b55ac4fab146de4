/* A taut elastic string pushed at mid-span, shared by the checks. */
#ifndef MECH_TAUT_H
#define MECH_TAUT_H

/* Tension of an elastic string once its middle stands deflection_m off the straight line, ends fixed. */
double mech__taut_tension(double tension_n, double ea_n, double length_m, double deflection_m);

#endif
