/* Rows that rub in bends. docs/mechanics.md 12. */
#ifndef GAME_MECH_BEND_H
#define GAME_MECH_BEND_H

#include "tautrow/mech/run.h"

/* mech__solve for a run with bends. */
mech_solution mech__solve_bent(const mech_run *run, mech_rows *rows, const bool is_held[]);

/* mech_run_take_up for a run with bends: every row drawn towards the near end last. */
double mech__bent_take_up(const mech_run *run, const mech_rows *rows, int row, const double tension_n[]);

#endif
