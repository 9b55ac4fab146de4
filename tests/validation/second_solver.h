/* The state of a run by the GNU Scientific Library: the same equations (docs/mechanics.md 3), written out again from
 * the document and solved by another method (Powell's hybrid, scaled, with the Jacobian). Shares the flexibilities of
 * the condensed run with ours, not the row law nor the search. */
#ifndef TESTS_VALIDATION_SECOND_SOLVER_H
#define TESTS_VALIDATION_SECOND_SOLVER_H

#include <stdbool.h>

#include "tautrow/mech/run.h"

/* Tensions of all rows (all strung, never loaded before) for their take-ups. tension_n holds where to start, above 0,
 * and gets the answer. False when the search gives up. */
bool second_solver_state(const mech_run *run, const double take_up_m[], double tension_n[], int *iterations);

#endif
