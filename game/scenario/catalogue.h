/* Looking things up in the catalogue. Private to this layer. */
#ifndef TAUTROW_GAME_SCENARIO_CATALOGUE_H
#define TAUTROW_GAME_SCENARIO_CATALOGUE_H

#include "parts.h"

/* The catalogue entry that a string node names; NULL with an error listed when there is none. */
const scenario__node *scenario__look_up(scenario__reader *reader, const scenario__node *name, scenario__part part);

/* The key at the top of every file, and its check. */
void scenario__check_format(scenario__reader *reader, const scenario__node *format, const char *wanted);

#endif
