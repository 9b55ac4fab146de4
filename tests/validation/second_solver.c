/* Unknown is the logarithm of each tension, so that no step can leave the positive numbers. */
#include "second_solver.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_multiroots.h>
#include <gsl/gsl_vector.h>
#include <math.h>

#include "tautrow/base/units.h"

enum { MAX_ITERATIONS = 500, MAX_STALLS = 3 };

typedef struct task {
    const mech_run *run;
    const double *take_up_m;
    double sag_m_n2; /* w^2/24 sum of l^3 */
} task;

/* Take-up that a tension uses up with the posts standing still, and its derivative. */
static double law(const task *t, double tension, double *slope)
{
    const mech_structure *made = &t->run->made_of;
    const mech_strand *strand = &made->strand;
    const double length = t->run->length_m;
    const double bedding = strand->bedding_strain * length;
    const double sum = tension + strand->bedding_half_n;
    const double share = strand->bedding_strain > 0.0 ? tension / sum : 0.0;
    *slope = length / strand->ea_n + 1.0 / made->insert_n_m + 2.0 * t->sag_m_n2 / pow(tension, 3.0) +
             (strand->bedding_strain > 0.0 ? bedding * strand->bedding_half_n / (sum * sum) : 0.0);
    return tension * length / strand->ea_n + tension / made->insert_n_m - t->sag_m_n2 / (tension * tension) +
           bedding * share + length * strand->thermal_1_k * made->warming_k;
}

static int misfits(const gsl_vector *x, void *of, gsl_vector *f)
{
    const task *t = of;
    const int count = t->run->made_of.row_count;
    for (int i = 0; i < count; i++) {
        double slope;
        double sum = law(t, exp(gsl_vector_get(x, (size_t)i)), &slope) - t->take_up_m[i];
        for (int j = 0; j < count; j++) {
            sum += t->run->flexibility[i][j] * exp(gsl_vector_get(x, (size_t)j));
        }
        gsl_vector_set(f, (size_t)i, sum * 1e3); /* in mm, to be of order 1 */
    }
    return GSL_SUCCESS;
}

static int slopes(const gsl_vector *x, void *of, gsl_matrix *jacobian)
{
    const task *t = of;
    const int count = t->run->made_of.row_count;
    for (int j = 0; j < count; j++) {
        const double tension = exp(gsl_vector_get(x, (size_t)j));
        double slope;
        (void)law(t, tension, &slope);
        for (int i = 0; i < count; i++) {
            const double rise = t->run->flexibility[i][j] + (i == j ? slope : 0.0);
            gsl_matrix_set(jacobian, (size_t)i, (size_t)j, 1e3 * rise * tension);
        }
    }
    return GSL_SUCCESS;
}

static int both(const gsl_vector *x, void *of, gsl_vector *f, gsl_matrix *jacobian)
{
    (void)misfits(x, of, f);
    return slopes(x, of, jacobian);
}

/* Goes on until no logarithm moves by more than rounding; a search that stalls has come as near as it can. */
static bool search(gsl_multiroot_fdfsolver *solver, int *iterations)
{
    int stalls = 0;
    for (*iterations = 1; *iterations <= MAX_ITERATIONS; (*iterations)++) {
        const int status = gsl_multiroot_fdfsolver_iterate(solver);
        stalls += status != GSL_SUCCESS;
        if (gsl_multiroot_test_delta(solver->dx, solver->x, 1e-14, 0.0) == GSL_SUCCESS || stalls >= MAX_STALLS) {
            break;
        }
    }
    return gsl_multiroot_test_residual(solver->f, 1e-9) == GSL_SUCCESS; /* sum of misfits under 1e-12 m */
}

bool second_solver_state(const mech_run *run, const double take_up_m[], double tension_n[], int *iterations)
{
    const size_t count = (size_t)run->made_of.row_count;
    task t = {.run = run, .take_up_m = take_up_m};
    const double weight = run->made_of.strand.mass_kg_m * TR_GRAVITY_M_S2;
    for (int bay = 0; bay < run->made_of.bay_count; bay++) {
        t.sag_m_n2 += weight * weight * pow(run->made_of.bay_m[bay], 3.0) / 24.0;
    }
    gsl_multiroot_function_fdf of = {misfits, slopes, both, count, &t};
    gsl_error_handler_t *before = gsl_set_error_handler_off();
    gsl_vector *x = gsl_vector_alloc(count);
    gsl_multiroot_fdfsolver *solver = gsl_multiroot_fdfsolver_alloc(gsl_multiroot_fdfsolver_hybridsj, count);
    bool is_found = false;
    if (x != NULL && solver != NULL) {
        for (size_t i = 0; i < count; i++) {
            gsl_vector_set(x, i, log(tension_n[i]));
        }
        is_found = gsl_multiroot_fdfsolver_set(solver, &of, x) == GSL_SUCCESS && search(solver, iterations);
        for (size_t i = 0; i < count; i++) {
            tension_n[i] = exp(gsl_vector_get(solver->x, i));
        }
    }
    if (solver != NULL) {
        gsl_multiroot_fdfsolver_free(solver);
    }
    if (x != NULL) {
        gsl_vector_free(x);
    }
    (void)gsl_set_error_handler(before);
    return is_found;
}
