/* Least squares for models that are not linear: values, how well they are told, and what cannot be told. Knows nothing
 * of cables. Built only where the GNU Scientific Library is there (option TAUTROW_FIT). */
#ifndef GAME_APP_FIT_CURVE_H
#define GAME_APP_FIT_CURVE_H

#include <stdbool.h>
#include <stddef.h>

enum { FIT_MAX_ASKED = 4 };

/* What is to be fitted. Values 0..asked are what is wanted; those after them are fitted along and not reported. */
typedef struct fit_task {
    size_t residuals, values, asked;
    /* Fills r[residuals] at x[values]; false where the model has no answer there (the step is then taken back). */
    bool (*misfit)(const double x[], double r[], void *work);
    /* Fills slope[residual * values + value] = d r / d x. NULL = by differences of misfit. */
    bool (*slope)(const double x[], double slope[], void *work);
    void *work;
} fit_task;

/* Shares of the largest singular value below which a direction counts as not told at all. The slopes come from
 * differences that are good to about 1e-6. */
#define FIT_SINGULAR 1e-6

typedef struct fit_answer {
    bool converged;
    int iterations;
    double chi_square;
    long freedom;                /* residuals less values; may be 0 or less */
    bool is_told[FIT_MAX_ASKED]; /* false: a change of this value changes no residual, or another undoes it */
    double covariance[FIT_MAX_ASKED][FIT_MAX_ASKED]; /* for residuals of deviation 1; rows of values not told are 0 */
    double condition;                                /* of the correlation matrix of the told ones; 1 = independent */
} fit_answer;

typedef enum fit_result { FIT_OK, FIT_TOO_FEW, FIT_NOTHING, FIT_NO_MODEL, FIT_NO_MEMORY } fit_result;

/* Levenberg-Marquardt from x[values], which gets the values found. FIT_TOO_FEW: fewer residuals than values;
 * FIT_NO_MODEL: no answer of the model at the start. (FIT_NOTHING is for callers that find nothing to fit.) */
fit_result fit_curve(const fit_task *task, double x[], fit_answer *answer);

/* Half width of a two-sided interval in deviations: Student's t for a share (0.95) and a freedom of at least 1. */
double fit_student(double share, long freedom);

#endif
