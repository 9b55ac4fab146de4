/* Whether a structure makes sense and can stand. */
#ifndef GAME_MECH_SOUND_H
#define GAME_MECH_SOUND_H

#include <stdbool.h>
#include <stddef.h>

#include "tautrow/mech/run.h"

/* True when the structure can be condensed; else writes one sentence, without a full stop, to why. */
bool mech__is_sound(const mech_structure *made, char *why, size_t why_cap);

/* Axial stiffness of the rail with its joints, N/m; 0 where none is fitted or a joint does not hold. */
double mech__rail_stiffness(const mech_structure *made);

#endif
