/* Reasons in numbers: each compares the step as asked with a small and usual mistake, by the same mechanics that the work
 * itself goes by. */
#include "tautrow/job/reason.h"

#include <math.h>

#include "internal.h"
#include "tautrow/base/assert.h"

/* Less than this share of a change is not worth a sentence. */
static const double WORTH = 0.01;
/* Nor is a length that no tape shows. */
static const double WORTH_M = 0.0005;

const char *job_reason_name(job_reason_kind kind)
{
    static const char *const names[JOB_REASON_KINDS] = {"none",    "one_trip", "gap",    "bit",  "depth",   "proud",
                                                        "threads", "length",   "pull",   "home", "squeeze", "plane",
                                                        "travel",  "gives_up", "unheld", "ball", "days"};
    TR_ASSERT((int)kind >= 0 && kind < JOB_REASON_KINDS);
    return names[kind];
}

static job_reason none(void)
{
    return (job_reason){.kind = JOB_REASON_NONE, .row = -1};
}

static job_reason reason(job_reason_kind kind, double a, double b, double c)
{
    return (job_reason){.kind = kind, .row = -1, .value = {a, b, c}};
}

/* A comparison in which the second value must differ from the first. */
static job_reason worth(job_reason_kind kind, double mistake, double as_asked, double then)
{
    const bool is = isfinite(as_asked) && isfinite(then) && fabs(as_asked - then) > WORTH * fabs(as_asked);
    return is ? reason(kind, mistake, as_asked, then) : none();
}

/* ---- the run ----------------------------------------------------------------------------------------------------- */

/* All rows evenly at this tension. */
static mech_rows rows_at(const mech_run *run, double tension_n)
{
    double all_n[MECH_MAX_ROWS] = {0.0};
    mech_rows rows = {.crept = {.rail_n = 0.0}};
    for (int i = 0; i < run->made_of.row_count; i++) {
        all_n[i] = tension_n;
    }
    for (int i = 0; i < run->made_of.row_count; i++) {
        rows.is_strung[i] = true;
        rows.take_up_m[i] = mech_run_take_up(run, &rows, i, all_n);
        rows.tension_n[i] = tension_n;
    }
    mech_run_solve(run, &rows);
    return rows;
}

double job_push_at(const mech_run *run, int gap, double ball_m, double tension_n)
{
    const mech_rows rows = rows_at(run, tension_n);
    return mech_run_opening(run, &rows, gap, ball_m).push_n;
}

static bool has_ball(const job_setup *setup)
{
    return setup->ball_m > 0.0 && setup->ball_push_n > 0.0;
}

/* All rows that are to be tensioned as they hang now, those to come as if joined without pull. */
static mech_rows all_strung(const job_setup *setup, const job_state *state)
{
    mech_rows rows = state->rows;
    for (int i = 0; i < setup->order_count; i++) {
        const int row = setup->order[i];
        if (!rows.is_strung[row]) {
            rows.is_strung[row] = true;
            rows.take_up_m[row] = 0.0;
        }
    }
    return rows;
}

static job_reason one_trip(const job_setup *setup, const job_state *state)
{
    mech_sheet sheet;
    const mech_rows start = all_strung(setup, state);
    if (setup->order_count < 2) {
        return none();
    }
    mech_pull_once(&state->run, &start, setup->order, setup->order_count, setup->target_n, &sheet);
    double least = setup->target_n;
    for (int i = 0; i < setup->order_count; i++) {
        least = job__min(least, sheet.end.tension_n[setup->order[i]]);
    }
    return fabs(least - setup->target_n) > WORTH * setup->target_n
               ? reason(JOB_REASON_ONE_TRIP, setup->target_n, least, 0.0)
               : none();
}

/* ---- wood -------------------------------------------------------------------------------------------------------- */

/* A row's mark too high by a little: the gap below it. */
static job_reason gap(const job_setup *setup, int row, double small_m)
{
    char why[TR_TEXT_CAP];
    mech_run right;
    mech_run off;
    mech_structure structure = setup->structure;
    if (!has_ball(setup) || mech_run_build(&structure, &right, why, sizeof why) != TR_OK) {
        return none();
    }
    structure.row_height_m[row] += small_m;
    if (mech_run_build(&structure, &off, why, sizeof why) != TR_OK) {
        return none();
    }
    return worth(JOB_REASON_GAP, small_m, job_push_at(&right, row, setup->ball_m, setup->target_n),
                 job_push_at(&off, row, setup->ball_m, setup->target_n));
}

static double grip(const job_setup *setup, double diameter_m, double depth_m, double proud_m)
{
    const mech_hole hole = {.diameter_m = diameter_m, .depth_m = depth_m};
    const mech_seat seat = {.proud_m = job__max(proud_m, mech_insert_proud_least(&setup->insert, &hole))};
    return mech_insert_grip(&setup->insert, &hole, &seat, &setup->wood, setup->edge_m).ultimate_n;
}

static double right_bit_m(const job_setup *setup)
{
    return setup->bit[setup->right_bit].diameter_m;
}

static job_reason bit(const job_setup *setup)
{
    const double right_m = right_bit_m(setup);
    double wider_m = HUGE_VAL;
    for (int i = 0; i < setup->bit_count; i++) {
        const double diameter_m = setup->bit[i].diameter_m;
        wider_m = diameter_m > right_m && diameter_m < wider_m ? diameter_m : wider_m;
    }
    if (!isfinite(wider_m)) {
        return none();
    }
    return worth(JOB_REASON_BIT, wider_m, grip(setup, right_m, setup->hole_depth_m, 0.0),
                 grip(setup, wider_m, setup->hole_depth_m, 0.0));
}

/* A hole too shallow for the insert by a little: what the sheet asks for may have room to spare. */
static job_reason depth(const job_setup *setup, double small_m)
{
    const double right_m = right_bit_m(setup);
    const double shallow_m = job__min(setup->insert.length_m, setup->hole_depth_m) - small_m;
    return worth(JOB_REASON_DEPTH, shallow_m, grip(setup, right_m, setup->hole_depth_m, 0.0),
                 grip(setup, right_m, shallow_m, 0.0));
}

static job_reason proud(const job_setup *setup, double small_m)
{
    const double right_m = right_bit_m(setup);
    return worth(JOB_REASON_PROUD, small_m, grip(setup, right_m, setup->hole_depth_m, 0.0),
                 grip(setup, right_m, setup->hole_depth_m, small_m));
}

/* ---- threads and cable ------------------------------------------------------------------------------------------- */

static job_reason threads(const job_setup *setup, bool is_anchor)
{
    const mech_thread *thread = is_anchor ? &setup->turnbuckle.anchor : &setup->turnbuckle.cable;
    const double planned = is_anchor ? setup->nominal.anchor_turns : setup->nominal.cable_turns;
    return reason(JOB_REASON_THREADS, planned, mech_min_turns(&setup->turnbuckle, thread), 0.0);
}

static double room_turns(const job_setup *setup)
{
    return mech_turns_to_bottom(&setup->turnbuckle, &setup->nominal);
}

static job_reason length(const job_setup *setup, double small_m)
{
    const double room = room_turns(setup);
    return worth(JOB_REASON_LENGTH, small_m, room, job__max(room - small_m / job__turn_m(setup), 0.0));
}

static job_reason pull(const job_setup *setup, const job_state *state)
{
    const double half_n = 0.5 * setup->hand_pull_n;
    const double error_m = mech_cut_pull_error(&state->run, half_n, setup->hand_pull_n);
    return isfinite(error_m) && error_m > WORTH_M
               ? reason(JOB_REASON_PULL, half_n, error_m, error_m / job__turn_m(setup))
               : none();
}

static job_reason travel(const job_setup *setup, const job_state *state, int row)
{
    mech_rows rows = all_strung(setup, state);
    rows.is_strung[row] = true;
    rows.take_up_m[row] = 0.0;
    if (!mech_run_pull(&state->run, &rows, row, setup->target_n).converged) {
        return none();
    }
    return reason(JOB_REASON_TRAVEL, job__max(rows.take_up_m[row], 0.0) / job__turn_m(setup), room_turns(setup), 0.0);
}

/* ---- crimp ------------------------------------------------------------------------------------------------------- */

mech_crimp job_crimp_asked(const job_setup *setup)
{
    return job__good_crimp(setup);
}

static double hold(const job_setup *setup, const mech_crimp *crimp)
{
    return mech_crimp_look(&setup->crimp, crimp, setup->structure.strand.breaking_n).hold_n;
}

static job_reason crimp(const job_setup *setup, job_reason_kind kind, double small_m)
{
    const mech_crimp right = job__good_crimp(setup);
    mech_crimp wrong = right;
    if (kind == JOB_REASON_HOME) {
        wrong.seated_m -= small_m;
    } else if (kind == JOB_REASON_SQUEEZE) {
        wrong.squeeze_count = 1;
    } else {
        wrong.squeeze[1].angle_rad = wrong.squeeze[0].angle_rad;
    }
    return worth(kind, small_m, hold(setup, &right), hold(setup, &wrong));
}

/* ---- tension and after ------------------------------------------------------------------------------------------- */

/* The row that loses most while this one is brought to the target. */
static job_reason gives_up(const job_setup *setup, const job_state *state, int row)
{
    mech_rows rows = state->rows;
    if (!state->row[row].is_joined || state->rows.tension_n[row] >= setup->target_n ||
        !mech_run_pull(&state->run, &rows, row, setup->target_n).converged) {
        return none();
    }
    int most = -1;
    for (int i = 0; i < setup->structure.row_count; i++) {
        const double lost_n = state->rows.tension_n[i] - rows.tension_n[i];
        const bool is_more = most < 0 || lost_n > state->rows.tension_n[most] - rows.tension_n[most];
        most = i != row && state->row[i].is_joined && is_more ? i : most;
    }
    if (most < 0 || state->rows.tension_n[most] - rows.tension_n[most] < WORTH * setup->target_n) {
        return none();
    }
    job_reason found = reason(JOB_REASON_GIVES_UP, setup->target_n, state->rows.tension_n[most], rows.tension_n[most]);
    found.row = most;
    return found;
}

static double after_turn(const job_setup *setup, const job_state *state, int row, double turns, bool is_held)
{
    mech_rows rows = state->rows;
    mech_engaged engaged = state->row[row].engaged;
    (void)mech_turn_body(&state->run, &rows, row, &setup->turnbuckle, &engaged, turns, is_held, HUGE_VAL);
    return rows.tension_n[row];
}

static job_reason unheld(const job_setup *setup, const job_state *state, int row)
{
    if (!state->row[row].is_joined) {
        return none();
    }
    return worth(JOB_REASON_UNHELD, 1.0, after_turn(setup, state, row, 1.0, true),
                 after_turn(setup, state, row, 1.0, false));
}

static job_reason ball(const job_setup *setup, const job_state *state, int at)
{
    if (!has_ball(setup)) {
        return none();
    }
    return worth(JOB_REASON_BALL, setup->ball_push_n, job_push_at(&state->run, at, setup->ball_m, setup->target_n),
                 job_push_at(&state->run, at, setup->ball_m, 0.5 * setup->target_n));
}

static double least_of(const job_setup *setup, const mech_rows *rows)
{
    double least = rows->tension_n[0];
    for (int i = 1; i < setup->structure.row_count; i++) {
        least = job__min(least, rows->tension_n[i]);
    }
    return least;
}

/* Every row evenly at the target, left alone for the days that the sheet asks for. */
static job_reason days(const job_setup *setup, const job_state *state)
{
    mech_rows rows = rows_at(&state->run, setup->target_n);
    if (!job_rows_after(setup, &rows)) {
        return none();
    }
    return worth(JOB_REASON_DAYS, setup->after.days, setup->target_n, least_of(setup, &rows));
}

job_reason job_reason_for(const job_setup *setup, const job_state *state, const job_action *due, double small_m)
{
    const int row = job_action_row(due);
    switch ((int)due->verb) {
    case JOB_DO_OPEN_SHEET:
    case JOB_DO_ANSWER:
        return one_trip(setup, state);
    case JOB_DO_SET_POLE:
        return gap(setup, 0, small_m);
    case JOB_DO_MARK_ROW:
        return gap(setup, row, small_m);
    case JOB_DO_TAKE_BIT:
        return bit(setup);
    case JOB_DO_DRILL:
    case JOB_DO_SET_DRILL_SPEED:
        return depth(setup, small_m);
    case JOB_DO_DRIVE_INSERT:
    case JOB_DO_SET_DRIVER_SPEED:
        return proud(setup, 0.5 * small_m);
    case JOB_DO_SCREW_STUD:
        return threads(setup, due->arg[JOB_SCREW_STUD_STUD] == 0.0);
    case JOB_DO_PULL_CABLE:
        return pull(setup, state);
    case JOB_DO_MARK_CABLE:
    case JOB_DO_CUT_CABLE:
        return length(setup, small_m);
    case JOB_DO_PUSH_HOME:
    case JOB_DO_SEAT_MARK:
    case JOB_DO_TAKE_CUTTER:
        return crimp(setup, JOB_REASON_HOME, 0.5 * small_m);
    case JOB_DO_PLACE_DIE:
    case JOB_DO_SQUEEZE:
        return crimp(setup, JOB_REASON_SQUEEZE, 0.0);
    case JOB_DO_TURN_CRIMPER:
        return crimp(setup, JOB_REASON_PLANE, 0.0);
    case JOB_DO_UNSCREW_STUD:
    case JOB_DO_BACK_OFF:
    case JOB_DO_THREAD_IN:
    case JOB_DO_HAND_TIGHT:
        return travel(setup, state, row);
    case JOB_DO_PLIERS:
        return unheld(setup, state, row);
    case JOB_DO_TURN_BODY:
    case JOB_DO_GAUGE:
    case JOB_DO_PLUCK:
        return gives_up(setup, state, row);
    case JOB_DO_BALL:
        return ball(setup, state, (int)due->arg[JOB_BALL_GAP]);
    case JOB_DO_WAIT_DAYS:
    case JOB_DO_SIGN:
        return days(setup, state);
    default:
        return none();
    }
}
