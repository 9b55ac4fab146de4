/* Least squares by Levenberg and Marquardt, from the GNU Scientific Library; the covariance by singular values, so that
 * what the data do not tell is seen instead of divided by. The only file that knows the library. */
#include "fit_curve.h"

#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit_nlinear.h>

#include "tautrow/base/assert.h"

enum { MAX_ITERATIONS = 200 };
static const double SETTLED = 1e-10;
/* Stands in for the residuals where the model has no answer: far worse than any that it has. */
static const double NO_ANSWER = 1e6;
/* A value counts as not told once this share of an untold direction is its own. */
static const double OWN_SHARE = 1e-3;

/* The library hands over vectors with gaps where it takes differences, so residuals go through a buffer of ours. */
typedef struct call {
    const fit_task *task;
    double *r;
} call;

static int call_misfit(const gsl_vector *x, void *data, gsl_vector *out)
{
    const call *of = data;
    TR_ASSERT(x->stride == 1);
    const bool has_answer = of->task->misfit(x->data, of->r, of->task->work);
    for (size_t i = 0; i < of->task->residuals; i++) {
        gsl_vector_set(out, i, has_answer ? of->r[i] : NO_ANSWER);
    }
    return GSL_SUCCESS;
}

static int call_slope(const gsl_vector *x, void *data, gsl_matrix *out)
{
    const call *of = data;
    TR_ASSERT(x->stride == 1 && out->tda == of->task->values);
    return of->task->slope(x->data, out->data, of->task->work) ? GSL_SUCCESS : GSL_EFAILED;
}

/* ---- what the data tell ---- */

typedef struct spectrum {
    gsl_matrix *u, *v;
    gsl_vector *s, *scale, *work;
} spectrum;

static void close_spectrum(spectrum *of)
{
    gsl_matrix_free(of->u);
    gsl_matrix_free(of->v);
    gsl_vector_free(of->s);
    gsl_vector_free(of->scale);
    gsl_vector_free(of->work);
}

/* Singular values of the slopes, each column first brought to length 1 so that no unit decides. */
static bool open_spectrum(const gsl_matrix *slopes, spectrum *out)
{
    const size_t p = slopes->size2;
    out->u = gsl_matrix_alloc(slopes->size1, p);
    out->v = gsl_matrix_alloc(p, p);
    out->s = gsl_vector_alloc(p);
    out->scale = gsl_vector_alloc(p);
    out->work = gsl_vector_alloc(p);
    if (out->u == NULL || out->v == NULL || out->s == NULL || out->scale == NULL || out->work == NULL) {
        return false;
    }
    (void)gsl_matrix_memcpy(out->u, slopes);
    for (size_t j = 0; j < p; j++) {
        gsl_vector_view column = gsl_matrix_column(out->u, j);
        const double length = gsl_blas_dnrm2(&column.vector);
        gsl_vector_set(out->scale, j, length > 0.0 ? length : 1.0);
        (void)gsl_vector_scale(&column.vector, 1.0 / gsl_vector_get(out->scale, j));
    }
    return gsl_linalg_SV_decomp(out->u, out->v, out->s, out->work) == GSL_SUCCESS;
}

static bool is_void(const spectrum *of, size_t direction)
{
    return !(gsl_vector_get(of->s, direction) > FIT_SINGULAR * gsl_vector_get(of->s, 0));
}

static void find_told(const spectrum *of, const fit_task *task, fit_answer *answer)
{
    for (size_t j = 0; j < task->asked; j++) {
        answer->is_told[j] = true;
        for (size_t k = 0; k < task->values; k++) {
            const double own = gsl_matrix_get(of->v, j, k);
            if (is_void(of, k) && own * own > OWN_SHARE) {
                answer->is_told[j] = false;
            }
        }
    }
}

static double covariance_of(const spectrum *of, size_t i, size_t j)
{
    double sum = 0.0;
    for (size_t k = 0; k < of->s->size; k++) {
        if (!is_void(of, k)) {
            const double s = gsl_vector_get(of->s, k);
            sum += gsl_matrix_get(of->v, i, k) * gsl_matrix_get(of->v, j, k) / (s * s);
        }
    }
    return sum / (gsl_vector_get(of->scale, i) * gsl_vector_get(of->scale, j));
}

/* Largest over smallest eigenvalue of the correlations of the told values. */
static double condition_of(const fit_answer *answer, size_t asked)
{
    size_t told[FIT_MAX_ASKED];
    size_t count = 0;
    for (size_t i = 0; i < asked; i++) {
        if (answer->is_told[i] && answer->covariance[i][i] > 0.0) {
            told[count++] = i;
        }
    }
    if (count < 2) {
        return 1.0;
    }
    double data[FIT_MAX_ASKED * FIT_MAX_ASKED];
    double found[FIT_MAX_ASKED];
    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j < count; j++) {
            data[i * count + j] = answer->covariance[told[i]][told[j]] /
                                  sqrt(answer->covariance[told[i]][told[i]] * answer->covariance[told[j]][told[j]]);
        }
    }
    gsl_matrix_view matrix = gsl_matrix_view_array(data, count, count);
    gsl_vector_view values = gsl_vector_view_array(found, count);
    gsl_eigen_symm_workspace *work = gsl_eigen_symm_alloc(count);
    if (work == NULL) {
        return (double)INFINITY;
    }
    (void)gsl_eigen_symm(&matrix.matrix, &values.vector, work);
    gsl_eigen_symm_free(work);
    const double least = gsl_vector_min(&values.vector);
    return least > 0.0 ? gsl_vector_max(&values.vector) / least : (double)INFINITY;
}

static bool judge(const fit_task *task, const gsl_matrix *slopes, fit_answer *answer)
{
    spectrum found = {0};
    const bool is_open = open_spectrum(slopes, &found);
    if (is_open) {
        find_told(&found, task, answer);
        for (size_t i = 0; i < task->asked; i++) {
            for (size_t j = 0; j < task->asked; j++) {
                const bool both = answer->is_told[i] && answer->is_told[j];
                answer->covariance[i][j] = both ? covariance_of(&found, i, j) : 0.0;
            }
        }
        answer->condition = condition_of(answer, task->asked);
    }
    close_spectrum(&found);
    return is_open;
}

/* ---- the search ---- */

static fit_result search(call *of, gsl_multifit_nlinear_workspace *work, double x[], fit_answer *answer)
{
    const fit_task *task = of->task;
    gsl_multifit_nlinear_fdf calls = {.f = call_misfit,
                                      .df = task->slope == NULL ? NULL : call_slope,
                                      .n = task->residuals,
                                      .p = task->values,
                                      .params = of};
    gsl_vector_view start = gsl_vector_view_array(x, task->values);
    int info = 0;
    if (gsl_multifit_nlinear_init(&start.vector, &calls, work) != GSL_SUCCESS) {
        return FIT_NO_MODEL;
    }
    const int status = gsl_multifit_nlinear_driver(MAX_ITERATIONS, SETTLED, SETTLED, 0.0, NULL, NULL, &info, work);
    const gsl_vector *found = gsl_multifit_nlinear_position(work);
    const gsl_vector *left = gsl_multifit_nlinear_residual(work);
    for (size_t i = 0; i < task->values; i++) {
        x[i] = gsl_vector_get(found, i);
    }
    (void)gsl_blas_ddot(left, left, &answer->chi_square);
    answer->iterations = (int)gsl_multifit_nlinear_niter(work);
    answer->freedom = (long)task->residuals - (long)task->values;
    /* GSL_ENOPROG: no step makes it better any more, which at the bottom is the finish and not a failure. */
    answer->converged = status == GSL_SUCCESS || status == GSL_ENOPROG;
    return judge(task, gsl_multifit_nlinear_jac(work), answer) ? FIT_OK : FIT_NO_MEMORY;
}

fit_result fit_curve(const fit_task *task, double x[], fit_answer *answer)
{
    TR_ASSERT(task->asked <= FIT_MAX_ASKED && task->asked <= task->values && task->values > 0);
    const fit_answer none = {0};
    *answer = none;
    if (task->residuals < task->values) {
        return FIT_TOO_FEW;
    }
    call held = {.task = task, .r = malloc(task->residuals * sizeof(double))};
    if (held.r == NULL) {
        return FIT_NO_MEMORY;
    }
    if (!task->misfit(x, held.r, task->work)) {
        free(held.r);
        return FIT_NO_MODEL;
    }
    /* The library's own way with an error is to end the program; ours is to look at what comes back. */
    gsl_error_handler_t *before = gsl_set_error_handler_off();
    gsl_multifit_nlinear_parameters choice = gsl_multifit_nlinear_default_parameters();
    choice.trs = gsl_multifit_nlinear_trs_lm;
    gsl_multifit_nlinear_workspace *work =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &choice, task->residuals, task->values);
    const fit_result result = work == NULL ? FIT_NO_MEMORY : search(&held, work, x, answer);
    if (work != NULL) {
        gsl_multifit_nlinear_free(work);
    }
    (void)gsl_set_error_handler(before);
    free(held.r);
    return result;
}

double fit_student(double share, long freedom)
{
    TR_ASSERT(freedom >= 1);
    return gsl_cdf_tdist_Pinv(0.5 + 0.5 * share, (double)freedom);
}
