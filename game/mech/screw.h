/* Power-screw torque in its general form, so that published square-thread examples can be checked as well as our V
 * threads. */
#ifndef MECH_SCREW_H
#define MECH_SCREW_H

typedef struct mech__screw {
    double mean_m;   /* mean (pitch) diameter */
    double lead_m;   /* advance per turn */
    double friction; /* on the flanks */
    double half_rad; /* half of the thread angle: 0 square, 30 degrees V */
} mech__screw;

/* Torque to move the thread against (raise) or with (lower) an axial force, N m. INFINITY where the thread jams. */
double mech__screw_raise(const mech__screw *screw, double force_n);
double mech__screw_lower(const mech__screw *screw, double force_n);

#endif
