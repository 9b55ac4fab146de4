/* Assembling the turnbuckle and joining the row: threads by hand, before any real pull. docs/mechanics.md 5. */
#include "internal.h"

enum { ANCHOR_STUD, CABLE_STUD };

/* Fingers feel a thread in sixteenths of a turn. */
static const double HAND_STEP = 0.0625;

static bool would_meet(const job_setup *setup, double anchor_turns, double cable_turns)
{
    const mech_engaged engaged = {.anchor_turns = anchor_turns, .cable_turns = cable_turns};
    return job__filled_m(setup, &engaged) > setup->turnbuckle.body_m;
}

/* ---- assemble --------------------------------------------------------------------------------------------------- */

/* Each end of the body takes one stud only, because one thread is left-handed. A try at the wrong end is the one
 * refusal that the row remembers. */
static job_refusal why_not_screw(const job__work *work, int stud, double anchor_turns, double cable_turns)
{
    job_row *row = work->row;
    if (stud != job__choice(work, JOB_SCREW_STUD_END)) {
        row->wrong_starts++;
        return JOB_REFUSE_WRONG_HAND;
    }
    if (row->is_joined) {
        return JOB_REFUSE_ALREADY_JOINED;
    }
    if (stud == CABLE_STUD && row->crimp.squeeze_count > 0) {
        return JOB_REFUSE_ALREADY_CRIMPED; /* it hangs on the cable now: turn the body, not the stud */
    }
    return would_meet(work->setup, anchor_turns, cable_turns) ? JOB_REFUSE_NO_ROOM : JOB_REFUSE_NONE;
}

job_refusal job__do_screw_stud(job__work *work)
{
    job_row *row = work->row;
    const int stud = job__choice(work, JOB_SCREW_STUD_STUD);
    const double turns = job__arg(work, JOB_SCREW_STUD_TURNS);
    const double anchor = row->engaged.anchor_turns + (stud == ANCHOR_STUD ? turns : 0.0);
    const double cable = row->engaged.cable_turns + (stud == CABLE_STUD ? turns : 0.0);
    const job_refusal refusal = why_not_screw(work, stud, anchor, cable);
    if (refusal != JOB_REFUSE_NONE) {
        return refusal;
    }
    row->anchor_in = row->anchor_in || stud == ANCHOR_STUD;
    row->cable_in = row->cable_in || stud == CABLE_STUD;
    row->engaged.anchor_turns = anchor;
    row->engaged.cable_turns = cable;
    return JOB_REFUSE_NONE;
}

/* ---- join ------------------------------------------------------------------------------------------------------- */

static void leave_body(job__work *work)
{
    job_row *row = work->row;
    row->anchor_in = false;
    row->engaged.anchor_turns = 0.0;
    work->outcome->events |= JOB_EVENT_CAME_OUT;
}

/* Held, only the cable stud turns out. Not held, the body goes round with it and winds off the anchor stud instead as
 * far, and may drop off it. */
job_refusal job__do_unscrew_stud(job__work *work)
{
    job_row *row = work->row;
    if (!row->cable_in) {
        return JOB_REFUSE_STUD_NOT_IN;
    }
    if (row->is_joined && work->state->rows.tension_n[work->row_index] > job__slack_n(work->setup)) {
        return JOB_REFUSE_UNDER_TENSION;
    }
    row->was_body_held = job__arg(work, JOB_UNSCREW_STUD_HELD) != 0.0;
    if (!row->was_body_held) {
        work->outcome->events |= JOB_EVENT_BODY_TURNED;
        row->engaged.anchor_turns -= row->engaged.cable_turns;
        if (row->engaged.anchor_turns <= 0.0) {
            leave_body(work);
        }
    }
    row->engaged.cable_turns = 0.0;
    row->cable_in = false;
    row->was_unscrewed = true;
    job__take_apart(row);
    job__settle(work->setup, work->state, &work->outcome->events);
    return JOB_REFUSE_NONE;
}

job_refusal job__do_back_off(job__work *work)
{
    job_row *row = work->row;
    const double left = job__arg(work, JOB_BACK_OFF_LEFT);
    if (!row->anchor_in) {
        return JOB_REFUSE_STUD_NOT_IN;
    }
    if (row->cable_in) {
        return JOB_REFUSE_STUD_IN; /* the body would take the cable stud round with it */
    }
    if (would_meet(work->setup, left, 0.0)) {
        return JOB_REFUSE_NO_ROOM;
    }
    row->engaged.anchor_turns = left;
    if (left <= 0.0) {
        leave_body(work);
    }
    return JOB_REFUSE_NONE;
}

static job_refusal why_not_thread(const job__work *work)
{
    const job_row *row = work->row;
    if (row->is_joined) {
        return JOB_REFUSE_ALREADY_JOINED;
    }
    if (!row->is_driven) {
        return JOB_REFUSE_NOT_DRIVEN;
    }
    if (row->crimp.squeeze_count == 0 || row->crimp.seated_m <= 0.0) {
        return JOB_REFUSE_NOT_CRIMPED;
    }
    if (row->cable_in) {
        return JOB_REFUSE_NOT_UNSCREWED;
    }
    if (!row->anchor_in) {
        return JOB_REFUSE_STUD_NOT_IN;
    }
    const double turns = job__arg(work, JOB_THREAD_IN_TURNS);
    return would_meet(work->setup, row->engaged.anchor_turns + turns, turns) ? JOB_REFUSE_NO_ROOM : JOB_REFUSE_NONE;
}

/* Joins the row with its stud just at the body's mouth, so that the solver can say what there is to draw in. */
static void bring_together(const job_setup *setup, job_state *state, job_row *row)
{
    row->cable_in = true;
    row->is_joined = true;
    row->engaged.cable_turns = 0.0;
    row->engaged.twist_turns = 0.0;
    job__solve(setup, state);
}

static void let_go(job_state *state, job_row *row, const mech_rows *rows, double twist_turns)
{
    row->cable_in = false;
    row->is_joined = false;
    row->engaged.twist_turns = twist_turns;
    state->rows = *rows;
}

/* Fingers draw the stud in until the row is as tight as they can make it: a cable cut too short does not reach the
 * body, or only for the first threads. */
job_refusal job__do_thread_in(job__work *work)
{
    const job_refusal refusal = why_not_thread(work);
    if (refusal != JOB_REFUSE_NONE) {
        return refusal;
    }
    job_row *row = work->row;
    job_state *state = work->state;
    const mech_rows rows = state->rows;
    const double twist = row->engaged.twist_turns;
    bring_together(work->setup, state, row);
    const double reach = job__turns_to(work->setup, state, work->row_index, job__slack_n(work->setup));
    const double turns = job__min(job__arg(work, JOB_THREAD_IN_TURNS), reach);
    if (turns < HAND_STEP) {
        let_go(state, row, &rows, twist);
        return JOB_REFUSE_UNDER_TENSION;
    }
    row->engaged.anchor_turns += turns;
    row->engaged.cable_turns = turns;
    work->outcome->value[0] = turns;
    state->rows.peak_n[work->row_index] = rows.peak_n[work->row_index];
    for (int bend = 0; bend < MECH_MAX_BENDS; bend++) {
        state->rows.beyond_peak_n[work->row_index][bend] = rows.beyond_peak_n[work->row_index][bend];
        state->rows.passed_m[work->row_index][bend] = rows.passed_m[work->row_index][bend];
    }
    job__settle(work->setup, state, &work->outcome->events);
    return JOB_REFUSE_NONE;
}

/* By fingers with the stud held: never more than a hand can do, and never backwards. */
job_refusal job__do_hand_tight(job__work *work)
{
    job_row *row = work->row;
    if (!row->is_joined) {
        return JOB_REFUSE_NOT_JOINED;
    }
    const double pull = job__min(job__arg(work, JOB_HAND_TIGHT_PULL), work->setup->hand_tight_n);
    const double wanted = job__max(0.0, job__turns_to(work->setup, work->state, work->row_index, pull));
    const double room = mech_turns_to_bottom(&work->setup->turnbuckle, &row->engaged);
    const double turns = job__min(wanted, room);
    row->engaged.anchor_turns += turns;
    row->engaged.cable_turns += turns;
    row->is_hand_tight = true;
    work->outcome->events |= room < wanted ? JOB_EVENT_BOTTOMED : 0U;
    work->outcome->value[0] = turns;
    job__settle(work->setup, work->state, &work->outcome->events);
    return JOB_REFUSE_NONE;
}
