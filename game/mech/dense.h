/* Small symmetric positive definite systems, one equation a row of strand. */
#ifndef GAME_MECH_DENSE_H
#define GAME_MECH_DENSE_H

#include <stdbool.h>

#include "tautrow/mech/run.h"

/* Replaces the lower triangle of matrix (the rest is not read) by its Cholesky factor; the diagonal then holds the
 * reciprocals, which saves divisions. False when the matrix is not positive definite or not all numbers. */
bool mech__factor(double matrix[][MECH_MAX_ROWS], int n);

/* Solves in place with the factor. */
void mech__back_solve(const double factor[][MECH_MAX_ROWS], int n, double vector[]);

#endif
