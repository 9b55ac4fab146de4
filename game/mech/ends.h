/* What the pulls at one end of the rows do to both posts: a row that rubs in a bend pulls its two ends unlike. */
#ifndef GAME_MECH_ENDS_H
#define GAME_MECH_ENDS_H

#include "tautrow/mech/run.h"

/* Inward deflection of a post at a place (rows, then the rail) per newton in row at the end pulled; along the level. */
double mech__end_shape(const mech_run *run, mech_end end, int level, mech_end pulled, int row);

/* Angle times friction of a bend: the tension changes by at most exp of it. */
double mech__grip(const mech_run *run, int bend);

/* First and last bay of the part of a row before the first bend (0), behind it (1) and so on. */
typedef struct mech__part {
    int first, last;
} mech__part;
mech__part mech__part_of(const mech_run *run, int part);

double mech__longest_bay(const mech_run *run, mech__part part);

#endif
