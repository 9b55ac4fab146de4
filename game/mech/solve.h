/* The solver behind mech_run_solve, mech_run_pull and the pull sheet. */
#ifndef GAME_MECH_SOLVE_H
#define GAME_MECH_SOLVE_H

#include "tautrow/mech/run.h"

/* Rows with is_held keep tension_n and get the take-up that it needs; the other strung rows keep their take-ups and get
 * tensions. Raises the peaks. When it does not converge, rows stay as they were. */
mech_solution mech__solve(const mech_run *run, mech_rows *rows, const bool is_held[]);

#endif
