/* An end post on its own, before rails and rows join it to anything. docs/mechanics.md 1. */
#ifndef GAME_MECH_POST_H
#define GAME_MECH_POST_H

#include "tautrow/mech/run.h"

/* Deflection at height at_m per newton at height load_m of the post clamped at its foot, m/N; symmetric in the two
 * heights, 0 for a rigid post. creep: extra share of flexibility. */
double mech__post_give(const mech_post *post, double creep, double at_m, double load_m);

/* Rotation of the base per newton metre, rad/(N m): 0 when fixed or rigid, INFINITY when pinned. */
double mech__post_base_give(const mech_post *post);

#endif
