/* Works out what to pull each row to at its turn so that all end equal. docs/mechanics.md 4.
 *
 * The end of a round is known: every row of the order at the round's tension. So are, but for the bedding-in, the
 * take-ups that go with it. The reading of a row is then its tension in the state where the rows before it have their
 * new take-ups and those after it still their old ones. Bedding-in closes the circle, as the readings set the peaks and
 * the peaks shift the take-ups; going round it a few times settles it. */
#include "tautrow/mech/pullsheet.h"

#include <math.h>
#include <string.h>

#include "solve.h"
#include "tautrow/base/assert.h"

enum { MAX_CIRCLES = 200 };

/* A round has settled when tensions and peaks are within this share of its tension of what they should be. */
static const double SETTLED = 1e-9;
static const double SETTLED_IN_BENDS = 1e-6;

/* First guess at the peaks, in tensions of the round: above any reading. Rows then do not bed in on the way, so that
 * the first readings are right but for second-order effects; from too low a guess the circle would creep up to them. */
static const double HIGH_GUESS = 1e6;

/* One round of pulls: the rows order[0..count), all to end at tension_n. */
typedef struct turns {
    const mech_run *run;
    const int *order;
    int count;
    int round;
    double tension_n;
} turns;

static bool is_tension(double value_n)
{
    return value_n > 0.0 && isfinite(value_n);
}

/* The peak tensions that decide how far rows have bedded in: when a row has just had its turn, and at the end of the
 * round. They differ where a row rises later because another is let out. */
typedef struct peaks {
    double turn_n[MECH_MAX_ROWS];
    double end_n[MECH_MAX_ROWS];
} peaks;

static void start_sheet(mech_sheet *sheet, const mech_rows *start)
{
    sheet->status = MECH_SHEET_OK;
    sheet->worst = 0;
    sheet->peak_n = 0.0;
    sheet->off_centre_peak_n_m = 0.0;
    sheet->pull_count = 0;
    sheet->end = *start;
}

static void note_pull(mech_sheet *sheet, const turns *now, int row)
{
    mech_pull *pull = &sheet->pull[sheet->pull_count];
    pull->row = row;
    pull->round = now->round;
    pull->reading_n = sheet->end.tension_n[row];
    pull->take_up_m = sheet->end.take_up_m[row];
    sheet->pull_count++;
}

static void note_off_centre(mech_sheet *sheet, const mech_run *run)
{
    mech_loads loads;
    mech_run_loads(run, &sheet->end, &loads);
    sheet->off_centre_peak_n_m = fmax(sheet->off_centre_peak_n_m, loads.off_centre_n_m);
}

/* Take-ups with which the rows of the order all carry the round's tension, once they have seen the guessed peaks. */
static bool find_take_ups(const turns *now, const mech_rows *from, const peaks *guess, mech_rows *goal)
{
    bool is_held[MECH_MAX_ROWS] = {false};
    *goal = *from;
    for (int row = 0; row < now->run->made_of.row_count; row++) {
        goal->peak_n[row] = guess->end_n[row];
    }
    for (int turn = 0; turn < now->count; turn++) {
        const int row = now->order[turn];
        is_held[row] = true;
        goal->is_strung[row] = true;
        goal->tension_n[row] = now->tension_n;
        goal->peak_n[row] = fmax(goal->peak_n[row], now->tension_n);
    }
    return mech__solve(now->run, goal, is_held).converged;
}

/* In bends the state also hangs on the way: rows pulled later take from earlier ones what friction then does not give
 * back as the take-ups alone would have it. What is missing at the end is added to the take-ups, time and again. */
static void add_missing(const turns *now, const mech_rows *end, double added_m[])
{
    double goal_n[MECH_MAX_ROWS];
    for (int row = 0; row < now->run->made_of.row_count; row++) {
        goal_n[row] = end->tension_n[row];
    }
    for (int turn = 0; turn < now->count; turn++) {
        goal_n[now->order[turn]] = now->tension_n;
    }
    for (int turn = 0; turn < now->count; turn++) {
        const int row = now->order[turn];
        added_m[row] +=
            mech_run_take_up(now->run, end, row, goal_n) - mech_run_take_up(now->run, end, row, end->tension_n);
    }
}

static void see(const turns *now, const mech_rows *rows, double peak_n[])
{
    for (int row = 0; row < now->run->made_of.row_count; row++) {
        peak_n[row] = fmax(peak_n[row], rows->tension_n[row]);
    }
}

/* Gives the rows their new take-ups one after another, as the trainee will, and notes the readings on the way. At its
 * turn a row is taken to have bedded in as guessed; seen gets the peaks that there really were. */
static bool make_turns(const turns *now, const mech_rows *goal, const peaks *guess, mech_sheet *sheet, peaks *seen)
{
    for (int turn = 0; turn < now->count; turn++) {
        const int row = now->order[turn];
        sheet->end.is_strung[row] = true;
        sheet->end.take_up_m[row] = goal->take_up_m[row];
        sheet->end.peak_n[row] = guess->turn_n[row];
        if (!mech_run_solve(now->run, &sheet->end).converged) {
            return false;
        }
        see(now, &sheet->end, seen->end_n);
        seen->turn_n[row] = seen->end_n[row];
        note_pull(sheet, now, row);
        note_off_centre(sheet, now->run);
    }
    return true;
}

static bool are_close(const turns *now, double one_n, double other_n)
{
    const double settled = now->run->made_of.bend_count > 0 ? SETTLED_IN_BENDS : SETTLED;
    return fabs(one_n - other_n) <= settled * now->tension_n;
}

static bool is_settled(const turns *now, const mech_rows *end, const peaks *guess, const peaks *seen)
{
    for (int turn = 0; turn < now->count; turn++) {
        const int row = now->order[turn];
        if (!are_close(now, end->tension_n[row], now->tension_n) ||
            !are_close(now, seen->turn_n[row], guess->turn_n[row])) {
            return false;
        }
    }
    for (int row = 0; row < now->run->made_of.row_count; row++) {
        if (!are_close(now, seen->end_n[row], guess->end_n[row])) {
            return false;
        }
    }
    return true;
}

static peaks peaks_so_far(const mech_rows *from)
{
    peaks so_far;
    memcpy(so_far.turn_n, from->peak_n, sizeof so_far.turn_n);
    memcpy(so_far.end_n, from->peak_n, sizeof so_far.end_n);
    return so_far;
}

static peaks guess_peaks(const turns *now, const mech_rows *from)
{
    peaks guess = peaks_so_far(from);
    for (int turn = 0; turn < now->count; turn++) {
        guess.turn_n[now->order[turn]] = guess.end_n[now->order[turn]] = HIGH_GUESS * now->tension_n;
    }
    return guess;
}

static bool find_round(const turns *now, mech_sheet *sheet)
{
    const mech_rows from = sheet->end;
    const double off_centre = sheet->off_centre_peak_n_m;
    const int pull_count = sheet->pull_count;
    peaks guess = guess_peaks(now, &from);
    double added_m[MECH_MAX_ROWS] = {0.0};
    for (int circle = 0; circle < MAX_CIRCLES; circle++) {
        mech_rows goal;
        if (!find_take_ups(now, &from, &guess, &goal)) {
            return false;
        }
        for (int row = 0; row < now->run->made_of.row_count; row++) {
            goal.take_up_m[row] += added_m[row];
        }
        sheet->end = from;
        sheet->off_centre_peak_n_m = off_centre;
        sheet->pull_count = pull_count;
        peaks seen = peaks_so_far(&from);
        if (!make_turns(now, &goal, &guess, sheet, &seen)) {
            return false;
        }
        if (is_settled(now, &sheet->end, &guess, &seen)) {
            memcpy(sheet->end.peak_n, seen.end_n, sizeof seen.end_n);
            return true;
        }
        guess = seen;
        if (now->run->made_of.bend_count > 0) {
            add_missing(now, &sheet->end, added_m);
        }
    }
    return false;
}

static void judge(mech_sheet *sheet, mech_limits limits)
{
    int farthest = 0;
    for (int i = 0; i < sheet->pull_count; i++) {
        const mech_pull *pull = &sheet->pull[i];
        if (pull->reading_n > sheet->peak_n) {
            sheet->peak_n = pull->reading_n;
            sheet->worst = i;
        }
        farthest = pull->take_up_m > sheet->pull[farthest].take_up_m ? i : farthest;
    }
    if (sheet->pull_count == 0 || sheet->status == MECH_SHEET_DIVERGED) {
        return;
    }
    if (sheet->peak_n > limits.tension_n) {
        sheet->status = MECH_SHEET_OVER_TENSION;
    } else if (sheet->pull[farthest].take_up_m > limits.take_up_m) {
        sheet->status = MECH_SHEET_NO_TRAVEL;
        sheet->worst = farthest;
    }
}

/* An order that names a row twice, or one that there is not, is a mistake of the caller. */
static void check_order(const mech_run *run, const int order[], int count)
{
    bool is_named[MECH_MAX_ROWS] = {false};
    TR_ASSERT(count >= 0 && count <= run->made_of.row_count);
    for (int turn = 0; turn < count; turn++) {
        TR_ASSERT(order[turn] >= 0 && order[turn] < run->made_of.row_count && !is_named[order[turn]]);
        is_named[order[turn]] = true;
    }
}

void mech_pull_sheet(const mech_run *run, const mech_rows *start, const int order[], int count, const double share[],
                     int rounds, double target_n, mech_limits limits, mech_sheet *sheet)
{
    check_order(run, order, count);
    TR_ASSERT(rounds >= 0 && rounds <= MECH_MAX_ROUNDS);
    start_sheet(sheet, start);
    for (int round = 0; round < rounds && sheet->status == MECH_SHEET_OK; round++) {
        const turns now = {run, order, count, round, share[round] * target_n};
        if (!is_tension(now.tension_n) || !find_round(&now, sheet)) {
            sheet->status = MECH_SHEET_DIVERGED;
        }
    }
    judge(sheet, limits);
}

void mech_pull_once(const mech_run *run, const mech_rows *start, const int order[], int count, double target_n,
                    mech_sheet *sheet)
{
    check_order(run, order, count);
    const turns now = {run, order, count, 0, target_n};
    start_sheet(sheet, start);
    for (int turn = 0; turn < count && sheet->status == MECH_SHEET_OK; turn++) {
        if (!is_tension(target_n) || !mech_run_pull(run, &sheet->end, order[turn], target_n).converged) {
            sheet->status = MECH_SHEET_DIVERGED;
            break;
        }
        note_pull(sheet, &now, order[turn]);
        note_off_centre(sheet, run);
    }
    judge(sheet, (mech_limits){(double)INFINITY, (double)INFINITY});
}

static bool are_within(const mech_rows *rows, const int order[], int count, double target_n, double tolerance)
{
    for (int turn = 0; turn < count; turn++) {
        if (!(fabs(rows->tension_n[order[turn]] - target_n) <= tolerance * target_n)) {
            return false;
        }
    }
    return true;
}

int mech_rounds_needed(const mech_run *run, const mech_rows *start, const int order[], int count, double target_n,
                       double tolerance, int max_rounds)
{
    check_order(run, order, count);
    mech_rows rows = *start;
    if (!is_tension(target_n)) {
        return max_rounds + 1;
    }
    for (int round = 0; round <= max_rounds; round++) {
        if (are_within(&rows, order, count, target_n, tolerance)) {
            return round;
        }
        for (int turn = 0; turn < count && round < max_rounds; turn++) {
            if (!mech_run_pull(run, &rows, order[turn], target_n).converged) {
                return max_rounds + 1;
            }
        }
    }
    return max_rounds + 1;
}
