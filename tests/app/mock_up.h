/* A mock-up that never was: known stiffnesses, a gauge with seeded scatter, rows pulled to uneven readings. */
#ifndef TESTS_APP_MOCK_UP_H
#define TESTS_APP_MOCK_UP_H

#include <stdint.h>
#include <string.h>

#include "fit_model.h"
#include "tautrow/base/rng.h"

typedef struct mock_up {
    double base_n_m_rad, joint_n_m, ea_n; /* the truth */
    double scatter;                       /* of the gauge, one deviation, a share of the reading */
    int rounds;                           /* each pulls every row once, from the middle out */
    uint64_t seed;
} mock_up;

static inline mech_structure mock_up_truth(const job_setup *setup, const mock_up *of)
{
    mech_structure truth = setup->structure;
    for (int end = 0; end < MECH_ENDS; end++) {
        truth.post[end].base_n_m_rad = of->base_n_m_rad;
        truth.rail.joint_n_m[end] = of->joint_n_m;
    }
    truth.strand.ea_n = of->ea_n;
    return truth;
}

/* What a careful crew would write down. Uneven pulls, as even ones tell less: 280, 160 and 80 lbf where the target is
 * 200. The gauge errs at every reading, also at the one at which the crew stops pulling. False where the run has no
 * state. */
static inline bool mock_up_measure(const job_setup *setup, const mock_up *of, measured *out)
{
    static const double shares[] = {1.4, 0.8, 0.4};
    static mech_run run;
    char why[TR_TEXT_CAP];
    const mech_structure truth = mock_up_truth(setup, of);
    mech_rows rows;
    int order[MECH_MAX_ROWS];
    tr_rng rng = tr_rng_seed(of->seed);
    memset(out, 0, sizeof *out);
    if (mech_run_build(&truth, &run, why, sizeof why) != TR_OK) {
        return false;
    }
    mech_order_rows(MECH_MIDDLE_OUT, truth.row_count, order);
    fit_fresh_rows(&run, &rows);
    for (int i = 0; i < of->rounds * truth.row_count; i++) {
        const int round = i / truth.row_count;
        measured_pull *pull = &out->pull[out->pull_count++];
        pull->line = i + 2;
        pull->row = order[i % truth.row_count];
        pull->reading_n = setup->target_n * shares[(i + round) % 3];
        const double true_n = pull->reading_n / (1.0 + of->scatter * tr_rng_normal(&rng));
        if (!mech_run_pull(&run, &rows, pull->row, true_n).converged) {
            return false;
        }
        for (int row = 0; row < truth.row_count; row++) {
            pull->is_read[row] = true;
            pull->read_n[row] = rows.tension_n[row] * (1.0 + of->scatter * tr_rng_normal(&rng));
        }
    }
    return true;
}

/* The one that is shipped: scenarios/measured/soft-porch-mockup.csv. */
static inline mock_up mock_up_shipped(void)
{
    const mock_up shipped = {
        .base_n_m_rad = 45000.0, .joint_n_m = 2.2e6, .ea_n = 740e3, .scatter = 0.005, .rounds = 3, .seed = 20260611};
    return shipped;
}

#endif
