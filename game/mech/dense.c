/* Dense Cholesky for at most MECH_MAX_ROWS unknowns. Touches only the n by n corner, as most runs have a dozen rows. */
#include "dense.h"

#include <math.h>

bool mech__factor(double matrix[][MECH_MAX_ROWS], int n)
{
    for (int i = 0; i < n; i++) {
        for (int j = 0; j <= i; j++) {
            double sum = matrix[i][j];
            for (int k = 0; k < j; k++) {
                sum -= matrix[i][k] * matrix[j][k];
            }
            if (j < i) {
                matrix[i][j] = sum * matrix[j][j];
            } else if (sum > 0.0 && isfinite(sum)) {
                matrix[i][i] = 1.0 / sqrt(sum);
            } else {
                return false;
            }
        }
    }
    return true;
}

void mech__back_solve(const double factor[][MECH_MAX_ROWS], int n, double vector[])
{
    for (int i = 0; i < n; i++) {
        for (int j = 0; j < i; j++) {
            vector[i] -= factor[i][j] * vector[j];
        }
        vector[i] *= factor[i][i];
    }
    for (int i = n - 1; i >= 0; i--) {
        vector[i] *= factor[i][i];
        for (int j = 0; j < i; j++) {
            vector[j] -= factor[i][j] * vector[i];
        }
    }
}
