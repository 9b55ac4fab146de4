/* The mock-up as a model. Every number of the file is a reading of the gauge, also what a row was pulled to: so the
 * true tension of each pull is fitted along, held by its own reading. Left out, the error of one pull would sit in all
 * later readings of its row and the intervals would come out too narrow. */
#include "fit_model.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"

enum { MAX_SPOTS = MEASURED_MAX_PULLS * MECH_MAX_ROWS, PASSES = 3 };

/* Step of the differences, in logarithms: the solver is good to 1e-9, so slopes come out to about 1e-5. */
static const double STEP = 1e-4;
static const double FIRST_BASE = 2e4;  /* N m/rad, where the scenario has none or one without give */
static const double FIRST_JOINT = 1e7; /* N/m */

/* As wide as a scenario may say, and a hundred times wider. */
static const double least_value[FIT_VALUES] = {1.0, 1e3, 1e4};
static const double most_value[FIT_VALUES] = {1e9, 1e12, 1e9};

typedef struct fit_work {
    const job_setup *setup;
    const measured *seen;
    const fit_choice *choice;
    int asked; /* values wanted; those of the pulls come after them */
    fit_value which[FIT_VALUES];
    int spots;
    fit_spot spot[MAX_SPOTS]; /* readings of rows in the fit */
    double sigma_n[MAX_SPOTS];
    bool is_out[MEASURED_MAX_PULLS][MECH_MAX_ROWS];
    bool is_pull_out[MEASURED_MAX_PULLS];
    double x[FIT_VALUES + MEASURED_MAX_PULLS];
    bool has_pull_slopes;
    double *pull_slopes; /* spots * pulls, kept while the standing values move little: see slope_of */
    double *probe[2];    /* spots + pulls each */
    mech_run run;
    mech_rows before[MEASURED_MAX_PULLS]; /* state before each pull */
    double shown_n[MEASURED_MAX_PULLS][MECH_MAX_ROWS];
} fit_work;

/* ---- the run ---- */

void fit_fresh_rows(const mech_run *run, mech_rows *rows)
{
    memset(rows, 0, sizeof *rows);
    for (int i = 0; i < run->made_of.row_count; i++) {
        rows->is_strung[i] = true;
    }
    (void)mech_run_solve(run, rows);
}

static void set_value(mech_structure *structure, fit_value which, double value)
{
    for (int end = 0; end < MECH_ENDS; end++) {
        if (which == FIT_BASE && !structure->post[end].is_rigid) {
            structure->post[end].base_n_m_rad = value;
        } else if (which == FIT_JOINT) {
            structure->rail.joint_n_m[end] = value;
        }
    }
    if (which == FIT_STRAND) {
        structure->strand.ea_n = value;
    }
}

void fit_apply(const fit_report *report, mech_structure *structure)
{
    for (int which = 0; which < FIT_VALUES; which++) {
        if (report->found[which].is_asked) {
            set_value(structure, (fit_value)which, report->found[which].value);
        }
    }
}

static bool build(fit_work *work, const double x[])
{
    char why[TR_TEXT_CAP];
    mech_structure structure = work->setup->structure;
    for (int i = 0; i < work->asked; i++) {
        const fit_value which = work->which[i];
        set_value(&structure, which, fmin(fmax(exp(x[i]), least_value[which]), most_value[which]));
    }
    return mech_run_build(&structure, &work->run, why, sizeof why) == TR_OK;
}

/* Tension that pull k ended with: what the gauge showed, less its bias, and off by x of its scatter. */
static double pulled_to(const fit_work *work, const double x[], int k)
{
    return work->seen->pull[k].reading_n / (1.0 + work->setup->gauge_bias) *
           exp(work->choice->scatter * x[work->asked + k]);
}

/* Goes through the pulls from the first on, from the state rows; shown[k] gets what the gauge would show after each. */
static bool go_through(const fit_work *work, const double x[], int first, mech_rows *rows, mech_rows before[],
                       double shown_n[][MECH_MAX_ROWS])
{
    const int n = work->run.made_of.row_count;
    for (int k = first; k < work->seen->pull_count; k++) {
        if (before != NULL) {
            before[k] = *rows;
        }
        const double tension_n = pulled_to(work, x, k);
        if (!(tension_n > 0.0 && isfinite(tension_n)) ||
            !mech_run_pull(&work->run, rows, work->seen->pull[k].row, tension_n).converged) {
            return false;
        }
        for (int i = 0; i < n; i++) {
            shown_n[k][i] = rows->tension_n[i] * (1.0 + work->setup->gauge_bias);
        }
    }
    return true;
}

static bool run_all(fit_work *work, const double x[], mech_rows before[])
{
    mech_rows rows;
    if (!build(work, x)) {
        return false;
    }
    fit_fresh_rows(&work->run, &rows);
    return go_through(work, x, 0, &rows, before, work->shown_n);
}

/* ---- residuals and their slopes ---- */

static int pull_residuals(const fit_work *work)
{
    int count = 0;
    for (int k = 0; k < work->seen->pull_count; k++) {
        count += work->is_pull_out[k] ? 0 : 1;
    }
    return count;
}

static bool misfit_of(const double x[], double r[], void *data)
{
    fit_work *work = data;
    if (!run_all(work, x, NULL)) {
        return false;
    }
    for (int i = 0; i < work->spots; i++) {
        const fit_spot *spot = &work->spot[i];
        r[i] =
            (work->shown_n[spot->pull][spot->row] - work->seen->pull[spot->pull].read_n[spot->row]) / work->sigma_n[i];
    }
    int at = work->spots;
    for (int k = 0; k < work->seen->pull_count; k++) {
        if (!work->is_pull_out[k]) {
            r[at++] = x[work->asked + k];
        }
    }
    return true;
}

/* Slopes to what pull k really was: nothing before it changes, so each goes on from the state before it. */
static bool find_pull_slopes(fit_work *work, const double x[])
{
    const int pulls = work->seen->pull_count;
    double moved[FIT_VALUES + MEASURED_MAX_PULLS];
    static const double sides[] = {-1.0, 1.0};
    double(*shown_n)[MECH_MAX_ROWS] = calloc(MEASURED_MAX_PULLS, sizeof *shown_n);
    bool fine = shown_n != NULL && run_all(work, x, work->before);
    memcpy(moved, x, sizeof(double) * (size_t)(work->asked + pulls));
    if (fine) {
        memset(work->pull_slopes, 0, sizeof(double) * (size_t)work->spots * (size_t)pulls);
    }
    for (int k = 0; k < pulls && fine; k++) {
        /* in deviations, so that the step in the tension is STEP as everywhere */
        const double step = STEP / work->choice->scatter;
        for (int side = 0; side < 2 && fine; side++) {
            mech_rows rows = work->before[k];
            moved[work->asked + k] = x[work->asked + k] + sides[side] * step;
            fine = go_through(work, moved, k, &rows, NULL, shown_n);
            for (int i = 0; i < work->spots && fine; i++) {
                if (work->spot[i].pull >= k) {
                    work->pull_slopes[i * pulls + k] +=
                        sides[side] * shown_n[work->spot[i].pull][work->spot[i].row] / (2.0 * step * work->sigma_n[i]);
                }
            }
        }
        moved[work->asked + k] = x[work->asked + k];
    }
    free(shown_n);
    work->has_pull_slopes = fine;
    return fine;
}

static bool asked_slope(fit_work *work, const double x[], int column, double slope[], int columns)
{
    double moved[FIT_VALUES + MEASURED_MAX_PULLS];
    const int rows = work->spots;
    memcpy(moved, x, sizeof(double) * (size_t)columns);
    moved[column] = x[column] - STEP;
    if (!misfit_of(moved, work->probe[0], work)) {
        return false;
    }
    moved[column] = x[column] + STEP;
    if (!misfit_of(moved, work->probe[1], work)) {
        return false;
    }
    for (int i = 0; i < rows; i++) {
        slope[i * columns + column] = (work->probe[1][i] - work->probe[0][i]) / (2.0 * STEP);
    }
    return true;
}

/* The pulls' slopes are found once a pass and kept: they hardly change with the stiffnesses, and the last pass starts
 * where the one before it ended, so that at the end they are right. */
static bool slope_of(const double x[], double slope[], void *data)
{
    fit_work *work = data;
    const int pulls = work->seen->pull_count;
    const int columns = work->asked + pulls;
    if (!work->has_pull_slopes && !find_pull_slopes(work, x)) {
        return false;
    }
    memset(slope, 0, sizeof(double) * (size_t)columns * (size_t)(work->spots + pull_residuals(work)));
    for (int column = 0; column < work->asked; column++) {
        if (!asked_slope(work, x, column, slope, columns)) {
            return false;
        }
    }
    for (int i = 0; i < work->spots; i++) {
        const size_t row = (size_t)i;
        memcpy(&slope[row * (size_t)columns + (size_t)work->asked], &work->pull_slopes[row * (size_t)pulls],
               sizeof(double) * (size_t)pulls);
    }
    int at = work->spots;
    for (int k = 0; k < pulls; k++) {
        if (!work->is_pull_out[k]) {
            slope[columns * at++ + work->asked + k] = 1.0;
        }
    }
    return true;
}

/* ---- the fit ---- */

static double start_of(const job_setup *setup, fit_value which)
{
    const mech_structure *structure = &setup->structure;
    const int end = structure->post[MECH_NEAR].is_rigid ? MECH_FAR : MECH_NEAR;
    const double value[FIT_VALUES] = {structure->post[end].base_n_m_rad, structure->rail.joint_n_m[MECH_NEAR],
                                      structure->strand.ea_n};
    return value[which];
}

static bool is_there(const job_setup *setup, fit_value which)
{
    const mech_structure *structure = &setup->structure;
    const bool can_move = !structure->post[MECH_NEAR].is_rigid || !structure->post[MECH_FAR].is_rigid;
    return which == FIT_STRAND || (can_move && (which == FIT_BASE || structure->rail.is_fitted));
}

static void choose_values(fit_work *work, fit_report *report)
{
    static const double first[FIT_VALUES] = {FIRST_BASE, FIRST_JOINT, 0.0};
    for (int which = 0; which < FIT_VALUES; which++) {
        fit_found *found = &report->found[which];
        found->is_held = work->choice->is_held[which];
        found->is_asked = !found->is_held && is_there(work->setup, (fit_value)which);
        found->start = start_of(work->setup, (fit_value)which);
        found->value = found->start;
        if (found->is_asked) {
            const bool is_usable = isfinite(found->start) && found->start > 0.0;
            work->x[work->asked] = log(is_usable ? found->start : first[which]);
            work->which[work->asked++] = (fit_value)which;
        }
    }
}

/* A row tells nothing before its first pull: where it hung then is nobody's measure. */
static void choose_spots(fit_work *work, fit_report *report)
{
    bool is_pulled[MECH_MAX_ROWS] = {false};
    work->spots = 0;
    report->unused_count = 0;
    for (int k = 0; k < work->seen->pull_count; k++) {
        const measured_pull *pull = &work->seen->pull[k];
        is_pulled[pull->row] = true;
        for (int i = 0; i < work->setup->structure.row_count; i++) {
            const bool is_used = pull->is_read[i] && is_pulled[i] && !work->is_out[k][i];
            report->is_used[k][i] = is_used;
            report->unused_count += pull->is_read[i] && !is_pulled[i] ? 1 : 0;
            if (is_used) {
                const fit_spot spot = {.pull = k, .row = i};
                work->spot[work->spots++] = spot;
            }
        }
    }
    report->reading_count = work->spots;
}

static double sigma_at(const fit_work *work, double shown_n)
{
    return work->choice->scatter * fmax(shown_n, FIT_FLOOR * work->setup->target_n);
}

/* One fit and its weights: from the readings first, then from the model, as a reading that came out low by chance must
 * not count for more. */
static fit_result fit_once(fit_work *work, fit_answer *answer)
{
    const int pulls = work->seen->pull_count;
    const fit_task task = {.residuals = (size_t)(work->spots + pull_residuals(work)),
                           .values = (size_t)(work->asked + pulls),
                           .asked = (size_t)work->asked,
                           .misfit = misfit_of,
                           .slope = slope_of,
                           .work = work};
    fit_result result = FIT_OK;
    for (int pass = 0; pass < PASSES && result == FIT_OK; pass++) {
        for (int i = 0; i < work->spots; i++) {
            const fit_spot *spot = &work->spot[i];
            work->sigma_n[i] = sigma_at(work, pass == 0 ? work->seen->pull[spot->pull].read_n[spot->row]
                                                        : work->shown_n[spot->pull][spot->row]);
        }
        work->has_pull_slopes = false;
        result = fit_curve(&task, work->x, answer);
        if (result == FIT_OK && !run_all(work, work->x, NULL)) {
            result = FIT_NO_MODEL;
        }
    }
    return result;
}

/* Deviations of every reading there is, left out or not, at the values found. */
static void fill_sigmas(const fit_work *work, fit_report *report)
{
    for (int k = 0; k < work->seen->pull_count; k++) {
        const measured_pull *pull = &work->seen->pull[k];
        report->pull_sigmas[k] = work->x[work->asked + k];
        for (int i = 0; i < work->setup->structure.row_count; i++) {
            const double shown_n = work->shown_n[k][i];
            report->model_n[k][i] = shown_n;
            report->sigmas[k][i] = pull->is_read[i] ? (shown_n - pull->read_n[i]) / sigma_at(work, shown_n) : 0.0;
        }
    }
}

static void note_far(fit_report *report, fit_spot spot)
{
    if (!(fabs(spot.sigmas) > FIT_FAR)) {
        return;
    }
    report->far_total++;
    int at = report->far_count;
    if (at < FIT_MAX_LEFT_OUT) {
        report->far_count++;
    } else if (fabs(report->far[--at].sigmas) >= fabs(spot.sigmas)) {
        return; /* the list holds the worst */
    }
    for (; at > 0 && fabs(report->far[at - 1].sigmas) < fabs(spot.sigmas); at--) {
        report->far[at] = report->far[at - 1];
    }
    report->far[at] = spot;
}

static fit_spot find_far(const fit_work *work, fit_report *report)
{
    fit_spot worst = {.pull = -1};
    report->far_count = 0;
    report->far_total = 0;
    for (int k = 0; k < work->seen->pull_count; k++) {
        for (int i = FIT_PULL_ITSELF; i < work->setup->structure.row_count; i++) {
            const bool is_used = i == FIT_PULL_ITSELF ? !work->is_pull_out[k] : report->is_used[k][i];
            const fit_spot spot = {
                .pull = k, .row = i, .sigmas = i == FIT_PULL_ITSELF ? report->pull_sigmas[k] : report->sigmas[k][i]};
            if (is_used) {
                note_far(report, spot);
                worst = worst.pull < 0 || fabs(spot.sigmas) > fabs(worst.sigmas) ? spot : worst;
            }
        }
    }
    return worst;
}

static void fill_found(const fit_work *work, const fit_answer *answer, fit_report *report)
{
    const double reduced = answer->chi_square / (double)answer->freedom;
    const double t = fit_student(FIT_SHARE, answer->freedom);
    report->converged = answer->converged;
    report->condition = answer->condition;
    report->freedom = answer->freedom;
    report->reduced_chi_square = reduced;
    for (int i = 0; i < work->asked; i++) {
        fit_found *found = &report->found[work->which[i]];
        const double half = t * sqrt(reduced * answer->covariance[i][i]);
        found->value = fmin(fmax(exp(work->x[i]), least_value[work->which[i]]), most_value[work->which[i]]);
        found->has_interval = answer->is_told[i] && isfinite(exp(half));
        found->low = found->value * exp(-half);
        found->high = found->value * exp(half);
        found->is_told = found->has_interval && half <= log(FIT_FACTOR);
        for (int j = 0; j < work->asked; j++) {
            const double both = sqrt(answer->covariance[i][i] * answer->covariance[j][j]);
            const double alike = i == j ? 1.0 : both > 0.0 ? answer->covariance[i][j] / both : 0.0;
            report->correlation[work->which[i]][work->which[j]] = alike;
            report->is_alike[work->which[i]][work->which[j]] =
                i != j && (fabs(alike) > FIT_ALIKE || (!answer->is_told[i] && !answer->is_told[j]));
        }
    }
}

static fit_result fit_and_leave_out(fit_work *work, fit_report *report, fit_answer *answer)
{
    for (;;) {
        choose_spots(work, report);
        if (work->spots + pull_residuals(work) <= work->asked + work->seen->pull_count) {
            report->is_too_few = true;
            report->reduced_chi_square = (double)NAN;
            return FIT_OK;
        }
        const fit_result result = fit_once(work, answer);
        if (result != FIT_OK) {
            return result;
        }
        fill_sigmas(work, report);
        const fit_spot worst = find_far(work, report);
        if (report->left_out_count >= work->choice->leave_out || worst.pull < 0) {
            fill_found(work, answer, report);
            return FIT_OK;
        }
        report->left_out[report->left_out_count++] = worst;
        if (worst.row == FIT_PULL_ITSELF) {
            work->is_pull_out[worst.pull] = true;
        } else {
            work->is_out[worst.pull][worst.row] = true;
        }
    }
}

static tr_result explain(fit_result result, char *why, size_t why_cap)
{
    switch (result) {
    case FIT_OK:
        return TR_OK;
    case FIT_NO_MODEL:
        (void)tr_copy(why, why_cap, "the run has no state for these pulls: look at the pulls and at the scenario");
        return TR_INVALID;
    case FIT_NOTHING:
        (void)tr_copy(why, why_cap, "every value is held: nothing is left to fit");
        return TR_INVALID;
    case FIT_TOO_FEW:
        (void)tr_copy(why, why_cap, "too few readings");
        return TR_INVALID;
    case FIT_NO_MEMORY:
    default:
        (void)tr_copy(why, why_cap, "not enough memory");
        return TR_NO_MEMORY;
    }
}

static bool open_work(fit_work *work, const job_setup *setup, const measured *seen, const fit_choice *choice)
{
    const size_t spots = MECH_MAX_ROWS * (size_t)seen->pull_count;
    work->setup = setup;
    work->seen = seen;
    work->choice = choice;
    work->pull_slopes = calloc(spots * (size_t)seen->pull_count + 1, sizeof(double));
    for (int i = 0; i < 2; i++) {
        work->probe[i] = calloc(spots + MEASURED_MAX_PULLS, sizeof(double));
    }
    return work->pull_slopes != NULL && work->probe[0] != NULL && work->probe[1] != NULL;
}

static void close_work(fit_work *work)
{
    if (work != NULL) {
        free(work->pull_slopes);
        free(work->probe[0]);
        free(work->probe[1]);
        free(work);
    }
}

tr_result fit_mock_up(const job_setup *setup, const measured *seen, const fit_choice *choice, fit_report *report,
                      char *why, size_t why_cap)
{
    TR_ASSERT(choice->scatter > 0.0 && choice->leave_out <= FIT_MAX_LEFT_OUT);
    memset(report, 0, sizeof *report);
    fit_work *work = calloc(1, sizeof *work);
    fit_answer answer = {0};
    fit_result result = FIT_NO_MEMORY;
    if (work != NULL && open_work(work, setup, seen, choice)) {
        choose_values(work, report);
        result = work->asked == 0 ? FIT_NOTHING : fit_and_leave_out(work, report, &answer);
    }
    close_work(work);
    return explain(result, why, why_cap);
}
