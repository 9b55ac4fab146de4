/* Cutting and crimping: hang, pull, mark, cut; push home, mark the seat, squeeze, turn, squeeze. docs/mechanics.md
 * 7, 8. */
#include <string.h>

#include "internal.h"

/* A frayed end goes into the bore only so far (assumption). */
static const double FRAYED_SEAT = 0.6;

/* ---- cut -------------------------------------------------------------------------------------------------------- */

/* What belongs to the cable and to the crimp on it, back to a fresh length. The stud of an old crimp goes with the
 * cable, and a new one stands ready out of the body. */
static void clear_crimp(job_row *row)
{
    row->cable_in = row->cable_in && row->crimp.squeeze_count == 0;
    row->was_unscrewed = row->was_unscrewed || !row->cable_in;
    row->engaged.cable_turns = row->cable_in ? row->engaged.cable_turns : 0.0;
    row->crimp = (mech_crimp){0};
    row->has_seat_mark = false;
    row->is_die_placed = false;
    row->die_m = 0.0;
    row->die_angle_rad = 0.0;
    row->is_crimp_gauged = false;
    row->slip_m -= row->crimp_slip_m;
    row->crimp_slip_m = 0.0;
}

/* A cable that was cut may be given up for a fresh one as long as it is not in the body: the only way out of one that
 * was cut too short. */
job_refusal job__do_hang_cable(job__work *work)
{
    job_row *row = work->row;
    if (row->is_joined || (row->is_hung && !row->is_cut)) {
        return JOB_REFUSE_ALREADY_HUNG;
    }
    if (!row->is_driven) {
        return JOB_REFUSE_NOT_DRIVEN;
    }
    if (!job__is_assembled(row)) {
        return JOB_REFUSE_NOT_ASSEMBLED;
    }
    if (row->is_cut) {
        clear_crimp(row);
        row->redone++;
        row->is_cut = false;
        row->is_frayed = false;
        row->is_cable_marked = false;
        row->length_error_m = 0.0;
        mech_rows *rows = &work->state->rows;
        rows->peak_n[work->row_index] = 0.0; /* a new cable has not bedded in */
        memset(rows->beyond_peak_n[work->row_index], 0, sizeof rows->beyond_peak_n[work->row_index]);
    }
    row->is_hung = true;
    return JOB_REFUSE_NONE;
}

static job_refusal why_not_on_cable(const job_row *row)
{
    if (!row->is_hung) {
        return JOB_REFUSE_NOT_HUNG;
    }
    return row->is_cut ? JOB_REFUSE_ALREADY_CUT : JOB_REFUSE_NONE;
}

job_refusal job__do_pull_cable(job__work *work)
{
    const job_refusal refusal = why_not_on_cable(work->row);
    if (refusal == JOB_REFUSE_NONE) {
        work->row->pulled_n = job__arg(work, JOB_PULL_CABLE_FORCE);
    }
    return refusal;
}

/* The mark is made against the mark that the sheet gives for the stud at its nominal place in the body. */
job_refusal job__do_mark_cable(job__work *work)
{
    job_row *row = work->row;
    const job_refusal refusal = why_not_on_cable(row);
    if (refusal != JOB_REFUSE_NONE) {
        return refusal;
    }
    if (row->pulled_n <= 0.0) {
        return JOB_REFUSE_NOT_PULLED;
    }
    row->is_cable_marked = true;
    row->marked_pull_n = row->pulled_n;
    row->mark_error_m = job__arg(work, JOB_MARK_CABLE_ERROR);
    return JOB_REFUSE_NONE;
}

job_refusal job__do_take_cutter(job__work *work)
{
    const int cutter = job__choice(work, JOB_TAKE_CUTTER_CUTTER);
    if (cutter >= work->setup->cutter_count) {
        return JOB_REFUSE_NO_SUCH_TOOL;
    }
    work->state->cutter = cutter;
    return JOB_REFUSE_NONE;
}

/* Only the right cutter leaves an end that goes home: side cutters splay it, a grinder leaves it burred and blued. */
job_refusal job__do_cut_cable(job__work *work)
{
    job_row *row = work->row;
    const job_refusal refusal = why_not_on_cable(row);
    if (refusal != JOB_REFUSE_NONE) {
        return refusal;
    }
    if (!row->is_cable_marked) {
        return JOB_REFUSE_CABLE_NOT_MARKED;
    }
    if (work->state->cutter < 0) {
        return JOB_REFUSE_NO_CUTTER;
    }
    row->is_cut = true;
    row->cutter = work->state->cutter;
    row->is_frayed = row->cutter != work->setup->right_cutter;
    row->length_error_m = row->mark_error_m + job__arg(work, JOB_CUT_CABLE_ERROR) +
                          mech_cut_pull_error(&work->state->run, row->marked_pull_n, work->setup->hand_pull_n);
    row->pulled_n = 0.0;
    work->outcome->events |= row->is_frayed ? JOB_EVENT_FRAYED : 0U;
    return JOB_REFUSE_NONE;
}

/* ---- crimp ------------------------------------------------------------------------------------------------------ */

job_refusal job__do_push_home(job__work *work)
{
    job_row *row = work->row;
    if (!row->is_cut) {
        return JOB_REFUSE_NOT_CUT;
    }
    if (row->crimp.squeeze_count > 0) {
        return JOB_REFUSE_ALREADY_CRIMPED;
    }
    const double most_m = work->setup->crimp.bore_m * (row->is_frayed ? FRAYED_SEAT : 1.0);
    row->crimp.seated_m = job__min(job__arg(work, JOB_PUSH_HOME_DEPTH), most_m);
    row->has_seat_mark = false; /* a mark tells of the seat that it was made at */
    return JOB_REFUSE_NONE;
}

job_refusal job__do_seat_mark(job__work *work)
{
    job_row *row = work->row;
    if (row->crimp.seated_m <= 0.0) {
        return JOB_REFUSE_NOT_SEATED;
    }
    /* made after the first squeeze it marks whatever seat there is, so it is allowed and worth little */
    row->has_seat_mark = true;
    return JOB_REFUSE_NONE;
}

/* The crimper is first put on upright; shifting it along the barrel afterwards keeps the angle that it has. */
job_refusal job__do_place_die(job__work *work)
{
    job_row *row = work->row;
    if (!row->is_cut) {
        return JOB_REFUSE_NOT_CUT;
    }
    row->is_die_placed = true;
    row->die_m = job__arg(work, JOB_PLACE_DIE_POSITION);
    return JOB_REFUSE_NONE;
}

job_refusal job__do_turn_crimper(job__work *work)
{
    job_row *row = work->row;
    if (!row->is_die_placed) {
        return JOB_REFUSE_DIE_NOT_PLACED;
    }
    row->die_angle_rad += job__arg(work, JOB_TURN_CRIMPER_ANGLE);
    return JOB_REFUSE_NONE;
}

/* May be done on a row under tension: a missing second squeeze can be made good without taking the row apart. */
job_refusal job__do_squeeze(job__work *work)
{
    job_row *row = work->row;
    if (row->crimp.seated_m <= 0.0) {
        return JOB_REFUSE_NOT_SEATED;
    }
    if (!row->is_die_placed) {
        return JOB_REFUSE_DIE_NOT_PLACED;
    }
    if (row->crimp.squeeze_count >= MECH_MAX_SQUEEZES) {
        return JOB_REFUSE_NO_MORE_SQUEEZES;
    }
    row->crimp.squeeze[row->crimp.squeeze_count++] = (mech_squeeze){
        .position_m = row->die_m, .angle_rad = row->die_angle_rad, .closing = job__arg(work, JOB_SQUEEZE_CLOSING)};
    row->is_crimp_gauged = false;
    job__settle(work->setup, work->state, &work->outcome->events);
    return JOB_REFUSE_NONE;
}

job_refusal job__do_redo_crimp(job__work *work)
{
    job_row *row = work->row;
    if (row->crimp.squeeze_count == 0) {
        return JOB_REFUSE_NOT_CRIMPED;
    }
    if (row->is_joined && work->state->rows.tension_n[work->row_index] > job__slack_n(work->setup)) {
        return JOB_REFUSE_UNDER_TENSION;
    }
    if (work->state->cutter < 0) {
        return JOB_REFUSE_NO_CUTTER;
    }
    job__take_apart(row);
    clear_crimp(row);
    row->redone++;
    row->cutter = work->state->cutter;
    row->is_frayed = row->cutter != work->setup->right_cutter;
    row->length_error_m -= work->setup->crimp.bore_m;
    work->outcome->events |= row->is_frayed ? JOB_EVENT_FRAYED : 0U;
    job__settle(work->setup, work->state, &work->outcome->events);
    return JOB_REFUSE_NONE;
}
