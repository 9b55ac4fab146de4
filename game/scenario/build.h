/* From the file as written to the scenario as played, in steps that each fill one part of it. Private to this layer. */
#ifndef TAUTROW_GAME_SCENARIO_BUILD_H
#define TAUTROW_GAME_SCENARIO_BUILD_H

#include "fields.h"

typedef struct scenario__build {
    scenario__reader *reader;
    const scenario__node *root;
    const scenario__file *file;
    scenario *out;
} scenario__build;

/* Node at a dotted path of keys, or the deepest of its parents that is there; never NULL. */
const scenario__node *scenario__place(const scenario__build *build, const char *path);

/* Posts, rail, bays, strand and what follows from their materials: setup.structure (without rows), wood, limits, creep.
 */
void scenario__build_run(const scenario__build *build);
/* Turnbuckle, insert, crimper, bits, speeds: setup's fittings and tools. After build_run. */
void scenario__build_fittings(const scenario__build *build);
/* Heights, who does which rows, and where the crew before left them. */
void scenario__build_rows(const scenario__build *build);
/* Target, limit, order, rounds, checks. After build_rows. */
void scenario__build_task(const scenario__build *build);
/* Planted slip-ups. After build_rows. */
void scenario__build_faults(const scenario__build *build);
void scenario__build_rubric(const scenario__build *build);

#endif
