/* Checking and handing over: ball, eye, crimp gauge, faults; collars, wiping down, the signature.
 * docs/mechanics.md 9. */
#include "internal.h"

#include <math.h>

/* An insert with less bite than this can be rocked by hand (assumption). */
static const double LOOSE_BITE = 0.5;

/* ---- check ------------------------------------------------------------------------------------------------------ */

static job_refusal why_not_ball(const job__work *work, int gap)
{
    const int count = work->setup->structure.row_count;
    if (gap > count || (gap == count && !work->setup->structure.rail.is_fitted)) {
        return JOB_REFUSE_NO_SUCH_GAP;
    }
    const bool is_low_joined = gap == 0 || work->state->row[gap - 1].is_joined;
    const bool is_high_joined = gap == count || work->state->row[gap].is_joined;
    return is_low_joined && is_high_joined ? JOB_REFUSE_NONE : JOB_REFUSE_NOT_JOINED;
}

job_refusal job__do_ball(job__work *work)
{
    const int gap = job__choice(work, JOB_BALL_GAP);
    const job_refusal refusal = why_not_ball(work, gap);
    if (refusal != JOB_REFUSE_NONE) {
        return refusal;
    }
    const mech_opening opening = mech_run_opening(&work->state->run, &work->state->rows, gap, work->setup->ball_m);
    const bool holds = !opening.is_open && opening.push_n >= work->setup->ball_push_n;
    work->outcome->value[0] = opening.is_open ? 0.0 : opening.push_n;
    work->outcome->value[1] = holds ? 1.0 : 0.0;
    work->state->is_gap_tried[gap] = true;
    return JOB_REFUSE_NONE;
}

static int first_loose_insert(const job__work *work)
{
    for (int i = 0; i < work->setup->structure.row_count; i++) {
        const job_row *row = &work->state->row[i];
        if (row->is_driven && row->grip.bite < LOOSE_BITE && !row->is_fault_reported[JOB_FAULT_BIG_BIT]) {
            return i + 1;
        }
    }
    return 0;
}

/* What an eye along the near post sees: how far it has come out of line, dark wet wood, an insert that rocks. */
job_refusal job__do_sight(job__work *work)
{
    double out_m[MECH_MAX_ROWS + 1];
    mech_run_deflection(&work->state->run, &work->state->rows, MECH_NEAR, out_m);
    double bow = 0.0;
    for (int i = 0; i <= work->setup->structure.row_count; i++) {
        bow = job__max(bow, fabs(out_m[i]));
    }
    work->state->is_post_sighted = true;
    work->outcome->value[0] = bow;
    work->outcome->value[1] = job__wood(work->setup).wet_factor < 1.0 ? 1.0 : 0.0;
    work->outcome->value[2] = (double)first_loose_insert(work);
    return JOB_REFUSE_NONE;
}

job_refusal job__do_gauge_crimp(job__work *work)
{
    job_row *row = work->row;
    if (row->crimp.squeeze_count == 0) {
        return JOB_REFUSE_NOT_CRIMPED;
    }
    const mech_crimp_state look =
        mech_crimp_look(&work->setup->crimp, &row->crimp, work->setup->structure.strand.breaking_n);
    row->is_crimp_gauged = true;
    work->outcome->value[0] = look.gauge_m[0];
    work->outcome->value[1] = look.gauge_m[1];
    work->outcome->value[2] = look.passes_gauge ? 1.0 : 0.0;
    return JOB_REFUSE_NONE;
}

static bool is_there(const job__work *work, job_fault_kind kind)
{
    for (int i = 0; i < work->setup->fault_count; i++) {
        const job_fault *fault = &work->setup->fault[i];
        const bool is_place = kind == JOB_FAULT_WET_POST || fault->row == work->row_index;
        if (fault->kind == kind && is_place && job_fault_is_present(work->setup, work->state, fault)) {
            return true;
        }
    }
    return false;
}

/* A fault that is not there may be reported as well; the examiner judges that, not the work. */
job_refusal job__do_report_fault(job__work *work)
{
    const int kind = job__choice(work, JOB_REPORT_FAULT_FAULT);
    if (kind >= JOB_FAULT_KINDS) {
        return JOB_REFUSE_UNSOUND;
    }
    job_row *row = kind == JOB_FAULT_WET_POST ? &work->state->row[0] : work->row;
    row->is_fault_reported[kind] = true;
    work->outcome->value[0] = is_there(work, (job_fault_kind)kind) ? 1.0 : 0.0;
    return JOB_REFUSE_NONE;
}

/* ---- hand over -------------------------------------------------------------------------------------------------- */

job_refusal job__do_collar(job__work *work)
{
    job_row *row = work->row;
    if (!row->is_driven) {
        return JOB_REFUSE_NOT_DRIVEN;
    }
    if (!job__collar_fits(work->setup, row)) {
        return JOB_REFUSE_COLLAR_CANNOT_SEAT;
    }
    row->has_collar = true;
    return JOB_REFUSE_NONE;
}

job_refusal job__do_wipe(job__work *work)
{
    work->state->is_wiped = true;
    return JOB_REFUSE_NONE;
}

/* Nobody signs for a run with a row missing: neither one of the trainee's nor one of the crew's that was taken apart.
 */
job_refusal job__do_sign(job__work *work)
{
    for (int i = 0; i < work->setup->structure.row_count; i++) {
        const bool is_due = work->setup->is_trainees[i] || work->setup->start_stage[i] > JOB_STAGE_JOIN;
        if (is_due && !work->state->row[i].is_joined) {
            return JOB_REFUSE_NOT_ALL_JOINED;
        }
    }
    work->state->is_signed = true;
    return JOB_REFUSE_NONE;
}
