/* Tensions a run pull by pull and keeps what each pull did to every row. */
#include "orders_run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct reading {
    int row;
    double n;
} reading;

static double largest_bend(const mech_run *run, const mech_rows *rows)
{
    double largest = 0.0;
    for (int end = 0; end < MECH_ENDS; end++) {
        double bend_m[MECH_MAX_ROWS + 1];
        mech_run_deflection(run, rows, (mech_end)end, bend_m);
        for (int i = 0; i <= run->made_of.row_count; i++) {
            largest = fmax(largest, bend_m[i]);
        }
    }
    return largest;
}

/* Writes down how the run stands; before is NULL for the first time. */
static void note(const mech_run *run, const mech_rows *rows, const view__step *before, view__step *out)
{
    mech_loads loads;
    mech_run_loads(run, rows, &loads);
    out->off_centre_n_m = loads.off_centre_n_m;
    out->off_centre_peak_n_m =
        before == NULL ? loads.off_centre_n_m : fmax(before->off_centre_peak_n_m, loads.off_centre_n_m);
    out->rail_n = loads.rail_n;
    out->bend_m = largest_bend(run, rows);
    out->loser = -1;
    out->lost_n = 0.0;
    for (int i = 0; i < run->made_of.row_count; i++) {
        out->tension_n[i] = rows->tension_n[i];
        out->highest_n[i] = before == NULL ? rows->tension_n[i] : fmax(before->highest_n[i], rows->tension_n[i]);
        const double lost_n = before == NULL ? 0.0 : before->tension_n[i] - rows->tension_n[i];
        if (lost_n > fmax(out->lost_n, VIEW__LOSS_SEEN_N)) {
            out->loser = i;
            out->lost_n = lost_n;
        }
    }
}

/* The pulls of the two ways that know nothing of a sheet. */
static int to_target(const view__plan *plan, int rounds, reading out[MECH_MAX_PULLS])
{
    int count = 0;
    for (int round = 0; round < rounds; round++) {
        for (int i = 0; i < plan->count; i++) {
            out[count++] = (reading){plan->order[i], plan->target_n};
        }
    }
    return count;
}

static int by_sheet(const mech_run *run, const mech_rows *start, const view__plan *plan, view__tensioning *done,
                    reading out[MECH_MAX_PULLS])
{
    mech_sheet *sheet = malloc(sizeof *sheet);
    done->status = MECH_SHEET_DIVERGED;
    if (sheet == NULL) {
        return 0;
    }
    const mech_limits limits = {plan->row_limit_n, (double)INFINITY};
    mech_pull_sheet(run, start, plan->order, plan->count, plan->share, plan->rounds, plan->target_n, limits, sheet);
    done->status = sheet->status;
    const int count = sheet->status == MECH_SHEET_DIVERGED ? 0 : sheet->pull_count;
    for (int i = 0; i < count; i++) {
        out[i] = (reading){sheet->pull[i].row, sheet->pull[i].reading_n};
    }
    free(sheet);
    return count;
}

void view__tension(const mech_run *run, const mech_rows *start, const view__plan *plan, view__tensioning *out)
{
    reading wanted[MECH_MAX_PULLS];
    mech_rows rows = *start;
    memset(out, 0, sizeof *out);
    out->row_count = run->made_of.row_count;
    out->worst_row = -1;
    out->step[0].row = -1;
    note(run, &rows, NULL, &out->step[0]);
    const int count = plan->way == VIEW__WAY_SHEET ? by_sheet(run, start, plan, out, wanted)
                                                   : to_target(plan, plan->way == VIEW__WAY_ROUNDS ? 2 : 1, wanted);
    for (int i = 0; i < count && mech_run_pull(run, &rows, wanted[i].row, wanted[i].n).converged; i++) {
        view__step *step = &out->step[++out->pulls];
        step->row = wanted[i].row;
        step->reading_n = wanted[i].n;
        note(run, &rows, &out->step[i], step);
        if (wanted[i].n > out->worst_n) {
            out->worst_n = wanted[i].n;
            out->worst_row = wanted[i].row;
        }
    }
}

view__end view__end_of(const view__tensioning *done, double target_n, double tolerance)
{
    const view__step *last = &done->step[done->pulls];
    view__end end = {.slackest_n = (double)INFINITY, .off_centre_peak_n_m = last->off_centre_peak_n_m};
    for (int i = 0; i < done->row_count; i++) {
        const double tension_n = last->tension_n[i];
        end.in_count += fabs(tension_n - target_n) <= tolerance * target_n ? 1 : 0;
        end.tightest_n = fmax(end.tightest_n, tension_n);
        if (tension_n < end.slackest_n) {
            end.slackest = i;
            end.slackest_n = tension_n;
        }
    }
    return end;
}

double view__ends_apart(const view__tensioning *a, const view__tensioning *b)
{
    double apart_n = 0.0;
    for (int i = 0; i < a->row_count; i++) {
        apart_n = fmax(apart_n, fabs(a->step[a->pulls].tension_n[i] - b->step[b->pulls].tension_n[i]));
    }
    return apart_n;
}
