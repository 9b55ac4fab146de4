/* The expert at the turning pin: the rounds by the exact pull sheet in the order of the rule, then bringing up what is
 * out.
 *
 * The sheet is worked out afresh from where the run stands at every turn, over the pulls that are left of the round:
 * rows already pulled keep their take-ups, so what rounding has left in one row is made good in the next.
 * docs/mechanics.md 4. */
#include "internal.h"

#include <math.h>

static const double STEP_TURNS = 0.0625;   /* what an eye can tell on the body: a sixteenth of a turn */
static const double WORTH_STEPS = 0.6;     /* the least that is worth a step */
static const double MOST_TURNS = 2.0;      /* in one go, before looking again */
static const double LEAST_TURNS = 1e-4;    /* smaller than any hand: no turn at all */
static const double IN_SHARE = 0.8;        /* of the tolerance: what is inside it is left alone */
static const double LIMIT_SHARE = 0.97;    /* of the row limit, */
static const double HOLD_SHARE = 0.9;      /* and of what its ends hold: no row is pulled further */
static const double LEAST_TENSION_N = 0.5; /* the law of a row has no answer at nothing */

/* ---- one turn --------------------------------------------------------------------------------------------------- */

static bool can_turn(const job_setup *setup, const job_state *state, int row, double turns)
{
    mech_rows rows = state->rows;
    mech_engaged engaged = state->row[row].engaged;
    const mech_turn_result result =
        mech_turn_body(&state->run, &rows, row, &setup->turnbuckle, &engaged, turns, true, setup->pin_limit_n_m);
    return fabs(result.turns) > 0.5 * fabs(turns) || fabs(result.turns) >= STEP_TURNS;
}

/* Turns the body of a row by about so many turns, pliers and place to stand seen to first. False when it cannot be
 * done. */
static bool turn_body(const job_setup *setup, const job_state *state, int row, double turns, job_action *action)
{
    const double some = job__max(-MOST_TURNS, job__min(turns, MOST_TURNS));
    if (!state->row[row].is_joined || fabs(turns) < LEAST_TURNS || !can_turn(setup, state, row, some)) {
        return false;
    }
    if (!state->stands_clear) {
        *action = job__say(state, JOB_DO_STAND, 1.0, 0.0, 0.0);
    } else if (!state->row[row].has_pliers) {
        *action = job__say(state, JOB_DO_PLIERS, (double)row, 1.0, 0.0);
    } else {
        *action = job__say(state, JOB_DO_TURN_BODY, (double)row, some, 0.0);
    }
    return true;
}

/* Just over half a step is left alone, or rounding up one time and down the next would go on for ever. */
static double nearest_step(double turns)
{
    if (fabs(turns) < WORTH_STEPS * STEP_TURNS) {
        return 0.0;
    }
    return floor(turns / STEP_TURNS + 0.5) * STEP_TURNS;
}

bool job__expert_loosen(const job_setup *setup, const job_state *state, int row, job_action *action)
{
    if (!state->row[row].is_joined || state->rows.tension_n[row] <= job__slack_n(setup)) {
        return false;
    }
    const double turns = floor(job__turns_to(setup, state, row, setup->hand_tight_n) / STEP_TURNS) * STEP_TURNS;
    return turn_body(setup, state, row, turns, action);
}

/* No row is pulled beyond this, whatever the sheet asks. */
static double ceiling(const job_setup *setup, const job_state *state, int row)
{
    const double hold_n = HOLD_SHARE * job_row_capacity(setup, &state->row[row]);
    return job__max(LEAST_TENSION_N, job__min(LIMIT_SHARE * setup->row_limit_n, hold_n));
}

/* Letting a row out loads the others, and where the posts have gone far or a body is full they may not bear it. */
static bool would_overload(const job_setup *setup, const job_state *state, int row, double turns)
{
    mech_rows rows = state->rows;
    rows.take_up_m[row] += turns * job__turn_m(setup);
    mech_run_solve(&state->run, &rows);
    for (int i = 0; i < setup->structure.row_count; i++) {
        const bool rises = rows.tension_n[i] > state->rows.tension_n[i];
        if (i != row && rises && rows.tension_n[i] > ceiling(setup, state, i)) {
            return true;
        }
    }
    return false;
}

/* Turns to the take-up wanted, in steps, but not past the ceiling. */
static double turns_allowed(const job_setup *setup, const job_state *state, int row, double wanted)
{
    const double most = job__turns_to(setup, state, row, ceiling(setup, state, row));
    if (wanted < 0.0 && would_overload(setup, state, row, wanted)) {
        return 0.0;
    }
    if (wanted <= most) {
        return nearest_step(wanted);
    }
    return floor(most / STEP_TURNS) * STEP_TURNS;
}

/* ---- rounds ----------------------------------------------------------------------------------------------------- */

static int pulls_of(const job_state *state, int row)
{
    int count = 0;
    for (int i = 0; i < state->pull_count && i < JOB_MAX_PULL_LOG; i++) {
        count += state->pull[i].row == row ? 1 : 0;
    }
    return count;
}

/* A row of the order whose pull of this round is still to come, or under way: turning it further belongs to the same
 * pull. A row that carries the round's share already is left to the check round. */
static bool is_left(const job_setup *setup, const job_state *state, int row, int round)
{
    if (!state->row[row].is_joined) {
        return false;
    }
    const int pulls = pulls_of(state, row);
    if (pulls > round) {
        return pulls == round + 1 && state->trip.row == row && state->trip.is_logged;
    }
    const double share = setup->round_share[round] - IN_SHARE * setup->tolerance;
    return state->rows.tension_n[row] < share * setup->target_n;
}

/* The rows left in this round, the one under way first. */
static int rows_left(const job_setup *setup, const job_state *state, int round, int left[MECH_MAX_ROWS])
{
    int count = 0;
    for (int pass = 0; pass < 2; pass++) {
        for (int i = 0; i < setup->order_count; i++) {
            const int row = setup->order[i];
            const bool is_first = pulls_of(state, row) == round + 1;
            if (is_left(setup, state, row, round) && is_first == (pass == 0)) {
                left[count++] = row;
            }
        }
    }
    return count;
}

/* Every row of the sheet has the travel that it asks. */
static bool is_within_travel(const job_setup *setup, const job_state *state, const mech_sheet *sheet)
{
    for (int i = 0; i < sheet->pull_count; i++) {
        const int row = sheet->pull[i].row;
        const double turns = (sheet->pull[i].take_up_m - state->rows.take_up_m[row]) / job__turn_m(setup);
        if (turns > mech_turns_to_bottom(&setup->turnbuckle, &state->row[row].engaged) + STEP_TURNS) {
            return false;
        }
    }
    return sheet->pull_count > 0;
}

/* Turns that the sheet asks of the first of these rows now. A sheet that cannot be carried out to its end is worse than
 * none: then the row goes to the plain reading. */
static double turns_by_sheet(const job_setup *setup, const job_state *state, const int rows[], int count, int round)
{
    static const double whole[] = {1.0};
    const double target_n = setup->round_share[round] * setup->target_n;
    const mech_limits limits = {.tension_n = setup->row_limit_n, .take_up_m = (double)INFINITY};
    mech_sheet sheet;
    mech_pull_sheet(&state->run, &state->rows, rows, count, whole, 1, target_n, limits, &sheet);
    if (sheet.status == MECH_SHEET_DIVERGED || !is_within_travel(setup, state, &sheet)) {
        return job__turns_to(setup, state, rows[0], target_n);
    }
    return (sheet.pull[0].take_up_m - state->rows.take_up_m[rows[0]]) / job__turn_m(setup);
}

/* A row that needs nothing or can do no more is passed over; it gets its turn again when the others have changed it. */
static bool pull_in_round(const job_setup *setup, const job_state *state, int round, job_action *action)
{
    int left[MECH_MAX_ROWS];
    const int count = rows_left(setup, state, round, left);
    for (int i = 0; i < count; i++) {
        const double wanted = turns_by_sheet(setup, state, &left[i], count - i, round);
        const double turns = turns_allowed(setup, state, left[i], wanted);
        if (turns > 0.0 && turn_body(setup, state, left[i], turns, action)) {
            return true;
        }
    }
    return false;
}

/* ---- bringing up ------------------------------------------------------------------------------------------------ */

typedef struct goal_state {
    double tension_n[MECH_MAX_ROWS];
    double turns[MECH_MAX_ROWS]; /* still to be made, by row */
    bool is_any_out;
} goal_state;

static bool is_row_out(const job_setup *setup, const job_state *state, const goal_state *goal, int row)
{
    const double off = fabs(state->rows.tension_n[row] - goal->tension_n[row]);
    return off > IN_SHARE * setup->tolerance * setup->target_n;
}

/* With every tension known, the take-ups follow without a search. Where a body has not the travel for that, the run
 * cannot come to its goal, and rows that counted on its help would be pulled far too hard: then each is brought to its
 * goal by itself. */
static void find_turns(const job_setup *setup, const job_state *state, goal_state *goal)
{
    const int count = setup->structure.row_count;
    bool is_reachable = true;
    for (int i = 0; i < count; i++) {
        if (state->row[i].is_joined) {
            goal->turns[i] =
                (mech_run_take_up(&state->run, &state->rows, i, goal->tension_n) - state->rows.take_up_m[i]) /
                job__turn_m(setup);
            const double room = mech_turns_to_bottom(&setup->turnbuckle, &state->row[i].engaged);
            is_reachable = is_reachable && goal->turns[i] <= room + STEP_TURNS;
        }
    }
    for (int i = 0; i < count && !is_reachable; i++) {
        const bool is_out = state->row[i].is_joined && is_row_out(setup, state, goal, i);
        goal->turns[i] = is_out ? job__turns_to(setup, state, i, goal->tension_n[i]) : 0.0;
    }
}

static void find_goal(const job_setup *setup, const job_state *state, goal_state *goal)
{
    *goal = (goal_state){.is_any_out = false};
    for (int i = 0; i < setup->structure.row_count; i++) {
        if (state->row[i].is_joined) {
            goal->tension_n[i] = job__min(setup->target_n, ceiling(setup, state, i));
            goal->is_any_out = goal->is_any_out || is_row_out(setup, state, goal, i);
        }
    }
    find_turns(setup, state, goal);
}

/* Rows of the order first, then those of the crew; the row turned last comes last, because turning it again would be
 * the same pull, of which the round has its own opinion. */
static int visit_order(const job_setup *setup, int last, int visit[MECH_MAX_ROWS])
{
    bool is_in[MECH_MAX_ROWS] = {false};
    int count = 0;
    for (int i = 0; i < setup->order_count + setup->structure.row_count; i++) {
        const int row = i < setup->order_count ? setup->order[i] : i - setup->order_count;
        if (!is_in[row] && row != last) {
            visit[count++] = row;
        }
        is_in[row] = true;
    }
    if (last >= 0) {
        visit[count++] = last;
    }
    return count;
}

static int furthest_out(const job_setup *setup, const job_state *state, const goal_state *goal)
{
    int furthest = 0;
    double most = -1.0;
    for (int i = 0; i < setup->structure.row_count; i++) {
        const double off = fabs(state->rows.tension_n[i] - goal->tension_n[i]);
        if (state->row[i].is_joined && off > most) {
            most = off;
            furthest = i;
        }
    }
    return furthest;
}

/* Letting out all that the trip under way has drawn in would strike its pull from the log, and the round would ask for
 * it again. */
static bool would_undo_pull(const job_state *state, int row, double turns)
{
    return state->trip.row == row && state->trip.is_logged && state->trip.turns + turns <= 0.0;
}

static bool bring_up(const job_setup *setup, const job_state *state, job_action *action)
{
    goal_state goal;
    find_goal(setup, state, &goal);
    if (!goal.is_any_out) {
        return false;
    }
    int visit[MECH_MAX_ROWS];
    const int count = visit_order(setup, state->trip.row, visit);
    for (int i = 0; i < count; i++) {
        const int row = visit[i];
        if (!state->row[row].is_joined || goal.turns[row] == 0.0) {
            continue;
        }
        const double turns = turns_allowed(setup, state, row, goal.turns[row]);
        if (turns * goal.turns[row] > 0.0 && !would_undo_pull(state, row, turns) &&
            turn_body(setup, state, row, turns, action)) {
            return true;
        }
    }
    /* every row is within half a step and one is out all the same: a short, stiff row. Then by feel. */
    const int row = furthest_out(setup, state, &goal);
    const double most = job__turns_to(setup, state, row, ceiling(setup, state, row));
    const double turns = job__min(goal.turns[row], most);
    const bool is_harmless = turns >= 0.0 || !would_overload(setup, state, row, turns);
    return is_harmless && !would_undo_pull(state, row, turns) && turn_body(setup, state, row, turns, action);
}

bool job__expert_tension(const job_setup *setup, const job_state *state, job_action *action)
{
    /* a log that has overflowed does not tell how often a row was pulled */
    if (state->pull_count <= JOB_MAX_PULL_LOG) {
        for (int round = 0; round < setup->rounds; round++) {
            if (pull_in_round(setup, state, round, action)) {
                return true;
            }
        }
    }
    return bring_up(setup, state, action);
}
