/* What creep has left in the posts, as the solver needs it. */
#ifndef GAME_MECH_CREEP_H
#define GAME_MECH_CREEP_H

#include "tautrow/mech/run.h"

/* How far the posts have come together at a row by creep. */
static inline double mech__crept_closing(const mech_run *run, const mech_rows *rows, int row)
{
    return run->cos_slope * (rows->crept.post_m[MECH_NEAR][row] + rows->crept.post_m[MECH_FAR][row]);
}

#endif
