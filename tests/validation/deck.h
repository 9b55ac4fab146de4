/* A run as finite elements for CalculiX, and what it answers.
 *
 * Posts: B32R beams, one from level to level, with orthotropic constants and Poisson's ratio 0. Its shear factor is 1,
 * so it is given 5/6 of our shear modulus. Base springs: a stiff lever on a linear spring, as rotations take none.
 * Rail: a bar between two springs for the joints. Rows: bars whose EA is lowered by the give of their inserts, cooled
 * so that they would shorten by their take-up. All is linear: no sag, no bedding-in, no slack. */
#ifndef TESTS_VALIDATION_DECK_H
#define TESTS_VALIDATION_DECK_H

#include <stdbool.h>

#include "tautrow/mech/run.h"

typedef struct deck_answer {
    double tension_n[MECH_MAX_ROWS];
    double rail_n;           /* compression */
    double top_m[MECH_ENDS]; /* inward deflection at the rail, or at the top row */
} deck_answer;

/* Whether there is a ccx to ask. */
bool deck_is_there(void);

/* Writes folder/name.inp for the take-ups of one or more states, a step each. False with a message on stderr. */
bool deck_write(const char *folder, const char *name, const mech_run *run, const mech_rows states[], int count);

/* Runs ccx on folder/name.inp and waits for its end. */
bool deck_run(const char *folder, const char *name);

/* Reads the last state of folder/name.dat. */
bool deck_read(const char *folder, const char *name, const mech_run *run, deck_answer *out);

#endif
