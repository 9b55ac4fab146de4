/* Facts about one row that follow from setup and state: its take-up, what it can bear, what it still needs. Changes
 * nothing. */
#include "tautrow/job/state.h"

#include <math.h>
#include <stddef.h>

#include "internal.h"
#include "tautrow/base/assert.h"

/* Withdrawal of a fastener in wood above 19 % moisture: lag and wood screws, NDS 2018 Table 11.3.3 (from memory). */
static const double WET_WITHDRAWAL = 0.7;

/* ---- geometry --------------------------------------------------------------------------------------------------- */

double job__turn_m(const job_setup *setup)
{
    return setup->turnbuckle.anchor.pitch_m + setup->turnbuckle.cable.pitch_m;
}

double job__shortfall(const job_setup *setup, const job_row *row)
{
    /* A cable too long, not home in the bore or slipping out of it, and an insert that stands towards the run all give
     * the row length away, which the threads must first win back. */
    return row->length_error_m + (setup->crimp.bore_m - row->crimp.seated_m) + row->seat.proud_m + row->slip_m;
}

double job_row_take_up(const job_setup *setup, const job_row *row)
{
    return mech_engaged_take_up(&setup->turnbuckle, &row->engaged, &setup->nominal) - job__shortfall(setup, row);
}

double job__filled_m(const job_setup *setup, const mech_engaged *engaged)
{
    return engaged->anchor_turns * setup->turnbuckle.anchor.pitch_m +
           engaged->cable_turns * setup->turnbuckle.cable.pitch_m;
}

double job__slack_n(const job_setup *setup)
{
    return 1.5 * setup->hand_tight_n;
}

bool job__is_assembled(const job_row *row)
{
    return row->anchor_in && (row->cable_in || row->was_unscrewed);
}

/* Less than this left in the body is rounding. */
static const double GONE_TURNS = 1e-9;

void job__take_apart(job_row *row)
{
    row->is_joined = false;
    row->is_hand_tight = false;
    row->engaged.twist_turns = 0.0;
}

void job__come_out(job_row *row)
{
    row->anchor_in = row->engaged.anchor_turns > GONE_TURNS;
    row->engaged.anchor_turns = row->anchor_in ? row->engaged.anchor_turns : 0.0;
    row->cable_in = false;
    row->engaged.cable_turns = 0.0;
    row->was_unscrewed = true;
    job__take_apart(row);
}

/* The cable's torsion drives its stud against the way it was wound, which for the cable stud would be tightening,
 * uphill against the tension. Downhill is easier: stud and body turn back together and the body runs off the anchor
 * stud. So each turn back loses one pitch of the anchor thread. */
void job__untwist(const job_setup *setup, job_row *row, double turns, unsigned *events)
{
    mech_engaged *engaged = &row->engaged;
    const double room =
        mech_turns_to_bottom(&setup->turnbuckle, engaged) * job__turn_m(setup) / setup->turnbuckle.anchor.pitch_m;
    engaged->twist_turns -= turns;
    engaged->anchor_turns += job__min(-turns, room);
    if (engaged->anchor_turns <= 0.0) {
        job__come_out(row);
        *events |= JOB_EVENT_CAME_OUT;
    }
}

bool job__is_workable(const job_setup *setup, int row)
{
    if (setup->is_trainees[row]) {
        return true;
    }
    for (int i = 0; i < setup->fault_count; i++) {
        if (setup->fault[i].row == row) {
            return true;
        }
    }
    return false;
}

double job__heard_bay(const mech_structure *structure)
{
    const int bays = structure->bend_count > 0 ? structure->bend[0].line_post + 1 : structure->bay_count;
    double longest = 0.0;
    for (int i = 0; i < bays; i++) {
        longest = job__max(longest, structure->bay_m[i]);
    }
    return longest;
}

bool job__collar_fits(const job_setup *setup, const job_row *row)
{
    return row->is_driven && fabs(row->seat.proud_m) <= setup->insert.flange_m;
}

/* ---- strength --------------------------------------------------------------------------------------------------- */

static mech_crimp crimp_at(const job_setup *setup, double first_m, double second_m)
{
    mech_crimp crimp = {.seated_m = setup->crimp.bore_m, .squeeze_count = 2};
    crimp.squeeze[0] = (mech_squeeze){.position_m = first_m, .angle_rad = 0.0, .closing = 1.0};
    crimp.squeeze[1] = (mech_squeeze){.position_m = second_m, .angle_rad = setup->crimp.best_turn_rad, .closing = 1.0};
    return crimp;
}

void job__crimp_plan(const job_setup *setup, double position_m[2])
{
    /* A die as long as the barrel squeezes twice in the middle; a short one takes the barrel in two bites. Let the
     * crimp itself say which holds better. */
    const double bore = setup->crimp.bore_m;
    const double half = 0.5 * job__min(setup->crimp.die_m, bore);
    const double breaking = setup->structure.strand.breaking_n;
    const mech_crimp same = crimp_at(setup, 0.5 * bore, 0.5 * bore);
    const mech_crimp apart = crimp_at(setup, half, bore - half);
    const double hold_same = mech_crimp_look(&setup->crimp, &same, breaking).hold_n;
    const double hold_apart = mech_crimp_look(&setup->crimp, &apart, breaking).hold_n;
    const mech_crimp *best = hold_apart > hold_same ? &apart : &same;
    position_m[0] = best->squeeze[0].position_m;
    position_m[1] = best->squeeze[1].position_m;
}

mech_crimp job__good_crimp(const job_setup *setup)
{
    double position[2];
    job__crimp_plan(setup, position);
    return crimp_at(setup, position[0], position[1]);
}

mech_wood job__wood(const job_setup *setup)
{
    mech_wood wood = setup->wood;
    for (int i = 0; i < setup->fault_count; i++) {
        if (setup->fault[i].kind == JOB_FAULT_WET_POST) {
            wood.wet_factor = job__min(wood.wet_factor, WET_WITHDRAWAL);
        }
    }
    return wood;
}

mech_grip job__grip(const job_setup *setup, const job_row *row)
{
    const mech_wood wood = job__wood(setup);
    return mech_insert_grip(&setup->insert, &row->hole, &row->seat, &wood, setup->edge_m);
}

double job_row_capacity(const job_setup *setup, const job_row *row)
{
    const double hold = mech_crimp_look(&setup->crimp, &row->crimp, setup->structure.strand.breaking_n).hold_n;
    return job__min(hold, row->grip.ultimate_n);
}

/* ---- where a row stands ----------------------------------------------------------------------------------------- */

bool job_is_in_tolerance(const job_setup *setup, double tension_n)
{
    return fabs(tension_n - setup->target_n) <= setup->tolerance * setup->target_n;
}

static job_stage stage_before_joined(const job_row *row)
{
    const struct {
        bool is_done;
        job_stage stage;
    } step[] = {
        {row->is_marked, JOB_STAGE_MARK},   {row->is_drilled, JOB_STAGE_DRILL},
        {row->is_driven, JOB_STAGE_INSERT}, {job__is_assembled(row), JOB_STAGE_ASSEMBLE},
        {row->is_cut, JOB_STAGE_CUT},       {row->crimp.squeeze_count >= 2, JOB_STAGE_CRIMP},
    };
    for (size_t i = 0; i < sizeof step / sizeof step[0]; i++) {
        if (!step[i].is_done) {
            return step[i].stage;
        }
    }
    return JOB_STAGE_JOIN;
}

/* A joined row never goes back before JOIN: that would give away a planted fault. A row leaves TENSION when it carries
 * the target and comes back when its neighbours take that away; it leaves CHECK when it was measured after its last
 * turn. */
job_stage job_row_stage(const job_setup *setup, const job_state *state, int row_index)
{
    TR_ASSERT(row_index >= 0 && row_index < setup->structure.row_count);
    const job_row *row = &state->row[row_index];
    if (!row->is_joined) {
        return stage_before_joined(row);
    }
    if (!row->is_hand_tight) {
        return JOB_STAGE_JOIN;
    }
    if (!job_is_in_tolerance(setup, state->rows.tension_n[row_index])) {
        return JOB_STAGE_TENSION;
    }
    const bool is_touched = setup->is_trainees[row_index] || row->turned_at >= 0;
    if (is_touched && (row->measured_at < 0 || row->measured_at < row->turned_at)) {
        return JOB_STAGE_CHECK;
    }
    return row->has_collar ? JOB_STAGE_COUNT : JOB_STAGE_HAND_OVER;
}

job_row_look job_row_look_of(const job_setup *setup, const job_state *state, int row_index)
{
    TR_ASSERT(row_index >= 0 && row_index < setup->structure.row_count);
    const job_row *row = &state->row[row_index];
    if (!row->is_joined) {
        const bool is_begun = row->is_marked || row->anchor_in || row->cable_in;
        return is_begun ? JOB_LOOK_UNDER_WAY : JOB_LOOK_BARE;
    }
    const double tension = state->rows.tension_n[row_index];
    if (job_is_in_tolerance(setup, tension)) {
        return JOB_LOOK_IN;
    }
    return tension < setup->target_n ? JOB_LOOK_SLACK : JOB_LOOK_OVER;
}

/* ---- planted faults --------------------------------------------------------------------------------------------- */

const char *job_fault_name(job_fault_kind kind)
{
    static const char *const names[JOB_FAULT_KINDS] = {"unseated",    "one_squeeze", "no_turn", "twisted",
                                                       "few_threads", "big_bit",     "wet_post"};
    TR_ASSERT((int)kind >= 0 && kind < JOB_FAULT_KINDS);
    return names[kind];
}

/* Widest angle between the first squeeze and another. */
static double squeeze_spread(const mech_crimp *crimp)
{
    double spread = 0.0;
    for (int i = 1; i < crimp->squeeze_count; i++) {
        spread = job__max(spread, fabs(crimp->squeeze[i].angle_rad - crimp->squeeze[0].angle_rad));
    }
    return spread;
}

static bool has_few_threads(const job_setup *setup, const job_row *row, double planted_turns)
{
    const double least = mech_min_turns(&setup->turnbuckle, &setup->turnbuckle.cable);
    return row->is_joined && (row->engaged.cable_turns < least || row->engaged.cable_turns < planted_turns + 0.5);
}

bool job_fault_is_present(const job_setup *setup, const job_state *state, const job_fault *fault)
{
    if (fault->kind == JOB_FAULT_WET_POST) {
        return true;
    }
    TR_ASSERT(fault->row >= 0 && fault->row < setup->structure.row_count);
    const job_row *row = &state->row[fault->row];
    switch (fault->kind) {
    case JOB_FAULT_UNSEATED:
        return row->crimp.squeeze_count > 0 && setup->crimp.bore_m - row->crimp.seated_m > 0.5 * fault->amount;
    case JOB_FAULT_ONE_SQUEEZE:
        return row->crimp.squeeze_count == 1;
    case JOB_FAULT_NO_TURN:
        return row->crimp.squeeze_count > 1 && squeeze_spread(&row->crimp) < 0.5 * setup->crimp.best_turn_rad;
    case JOB_FAULT_TWISTED:
        return row->is_joined && fabs(row->engaged.twist_turns) > job__max(0.5, 0.25 * fabs(fault->amount));
    case JOB_FAULT_FEW_THREADS:
        return has_few_threads(setup, row, fault->amount);
    case JOB_FAULT_BIG_BIT:
        return row->is_drilled;
    case JOB_FAULT_WET_POST:
    case JOB_FAULT_KINDS:
        break;
    }
    return false;
}
