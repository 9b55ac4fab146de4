/* The push on a ball part of the way between two rows, for the tests: its integral must be the energy in the rows. */
#ifndef MECH_OPENING_H
#define MECH_OPENING_H

/* Two rows, or a row (index 1) and a fixed face. Ball centre z in front of the plane of the rows. */
typedef struct mech__gap {
    double ball_radius_m;
    double reach_m; /* ball radius + strand radius: closer than this, a row is pushed away */
    double spacing_m;
    double bay_m;
    double tension_n[2]; /* lower, upper */
    double ea_n;
} mech__gap;

/* Height of the ball's centre above the lower row where the rows hold it in balance. */
double mech__gap_height(const mech__gap *gap, double z);
double mech__gap_push(const mech__gap *gap, double z);

#endif
