/* What is judged of the run as a whole while it is tensioned: stud, order, rounds, evenness, peaks. */
#include "parts.h"

#include <math.h>

static int place_in_order(const score__case *c, int row)
{
    for (int i = 0; i < c->order_count; i++) {
        if (c->order[i] == row) {
            return i;
        }
    }
    return -1;
}

int score__pulls_of_row(const score__case *c, int row)
{
    int count = 0;
    for (int i = 0; i < c->pull_count; i++) {
        count += c->pull[i].row == row ? 1 : 0;
    }
    return count;
}

/* Share of the rows in the order that have been pulled at least once. */
static double pulled_share(const score__case *c)
{
    int pulled = 0;
    for (int i = 0; i < c->order_count; i++) {
        pulled += score__pulls_of_row(c, c->order[i]) > 0 ? 1 : 0;
    }
    return c->order_count == 0 ? 1.0 : (double)pulled / c->order_count;
}

static void blame_unpulled(const score__case *c, score__finding *out)
{
    for (int i = 0; i < c->order_count; i++) {
        if (score__pulls_of_row(c, c->order[i]) == 0) {
            score__blame(out, c->order[i]);
            out->undone++;
        }
    }
}

score__levels score__levels_of(const score__case *c, const job_state *state)
{
    score__levels levels = {.lowest_n = 0.0, .highest_n = 0.0, .spread = 0.0};
    double sum = 0.0;
    for (int i = 0; i < c->judged_count; i++) {
        const double tension = state->rows.tension_n[c->judged[i]];
        levels.lowest_n = i == 0 ? tension : fmin(levels.lowest_n, tension);
        levels.highest_n = i == 0 ? tension : fmax(levels.highest_n, tension);
        sum += tension;
    }
    if (sum > 0.0) {
        levels.spread = (levels.highest_n - levels.lowest_n) * c->judged_count / sum;
    }
    return levels;
}

static void stud_held(const score__case *c, scenario_band band, score__finding *out)
{
    double held = 0.0;
    double free_turns = 0.0;
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        const job_row *r = &c->end.row[row];
        const double turns = r->turns_held + r->turns_free;
        held += r->turns_held;
        free_turns += r->turns_free;
        if (turns > 0.0 && score_share(r->turns_held / turns, band) < 1.0) {
            score__blame(out, row);
        }
    }
    out->applies = c->order_count > 0;
    out->reached = pulled_share(c);
    out->value = held + free_turns > 0.0 ? held / (held + free_turns) : band.none;
    blame_unpulled(c, out);
}

/* The order in which the rows of the order were first tightened. */
static int first_pulls(const score__case *c, int order[MECH_MAX_ROWS])
{
    bool is_seen[MECH_MAX_ROWS] = {false};
    int count = 0;
    for (int i = 0; i < c->pull_count; i++) {
        const score__pull *pull = &c->pull[i];
        if (!is_seen[pull->row] && place_in_order(c, pull->row) >= 0) {
            is_seen[pull->row] = true;
            order[count++] = pull->row;
        }
    }
    return count;
}

/* A row came early when one that the rule has before it was pulled after it. */
static void blame_early(const score__case *c, const int order[], int count, score__finding *out)
{
    for (int i = 0; i < count; i++) {
        for (int j = i + 1; j < count; j++) {
            if (place_in_order(c, order[j]) < place_in_order(c, order[i])) {
                score__blame(out, order[i]);
            }
        }
    }
}

/* Rows never pulled leave their pairs without agreement, so tau of part of the rows counts by the share of the pairs.
 */
static void order_kept(const score__case *c, scenario_band band, score__finding *out)
{
    (void)band;
    int order[MECH_MAX_ROWS] = {0};
    const int asked = c->order_count;
    const int count = first_pulls(c, order);
    out->applies = asked >= 2;
    if (!out->applies) {
        return;
    }
    const double share = (double)(count * (count - 1)) / (double)(asked * (asked - 1));
    out->reached = c->pull_count > 0 ? 1.0 : 0.0;
    out->value = score_kendall(order, count, c->order, asked) * share;
    blame_early(c, order, count, out);
    blame_unpulled(c, out);
}

static bool is_among(const int *rows, int count, int row)
{
    for (int i = 0; i < count; i++) {
        if (rows[i] == row) {
            return true;
        }
    }
    return false;
}

double score__order_left(const score__case *c, scenario_band band, double *tau)
{
    int order[MECH_MAX_ROWS] = {0};
    const int asked = c->order_count;
    const int count = first_pulls(c, order);
    int wrong = 0;
    for (int i = 0; i < count; i++) {
        for (int earlier = 0; earlier < place_in_order(c, order[i]); earlier++) {
            wrong += is_among(order, i, c->order[earlier]) ? 0 : 1;
        }
    }
    *tau = asked < 2 ? 1.0 : 1.0 - 4.0 * wrong / ((double)asked * (asked - 1));
    return score_share(*tau, band);
}

void score__order_from_here(const score__case *c, int order[MECH_MAX_ROWS])
{
    int count = first_pulls(c, order);
    for (int i = 0; i < c->order_count; i++) {
        if (score__pulls_of_row(c, c->order[i]) == 0) {
            order[count++] = c->order[i];
        }
    }
}

/* Number of the last action of the trip that completed the asked rounds, or -1 while they are not complete. */
static int64_t rounds_over_at(const score__case *c, int rounds)
{
    int pulls[MECH_MAX_ROWS] = {0};
    int open = c->order_count;
    for (int i = 0; i < c->pull_count && open > 0; i++) {
        const int row = c->pull[i].row;
        if (place_in_order(c, row) >= 0 && ++pulls[row] == rounds && --open == 0) {
            return c->pull[i].last_at;
        }
    }
    return -1;
}

/* Trips through all rows of the order. Trip k counts once every row has been pulled k times, in whatever order. The
 * check round counts when, after the last asked trip, every row was measured or pulled again; the row that ended that
 * trip was at hand. */
static void rounds_made(const score__case *c, scenario_band band, score__finding *out)
{
    (void)band;
    /* Turns of one body with no other turned in between are one pull: a single row has one trip only. */
    const int rounds = c->order_count == 1 && c->setup->rounds > 1 ? 1 : c->setup->rounds;
    int least = rounds;
    const int64_t over_at = rounds_over_at(c, rounds);
    bool is_checked = over_at >= 0;
    for (int i = 0; i < c->order_count; i++) {
        const int row = c->order[i];
        const int pulls = score__pulls_of_row(c, row);
        const bool is_seen = c->end.row[row].measured_at >= over_at || c->end.row[row].turned_at >= over_at;
        least = pulls < least ? pulls : least;
        is_checked = is_checked && is_seen;
        if (pulls < rounds || !is_seen) {
            score__blame(out, row);
        }
        out->undone += pulls == 0 ? 1 : 0;
    }
    out->applies = c->order_count > 0 && rounds > 0;
    out->reached = c->pull_count > 0 ? 1.0 : 0.0;
    out->value = (double)(least + (is_checked ? 1 : 0)) / (double)(rounds + 1);
}

static bool is_in_tolerance(const score__case *c, int row)
{
    return job_is_in_tolerance(c->setup, c->end.rows.tension_n[row]);
}

static double median_tension(const score__case *c)
{
    double sorted[MECH_MAX_ROWS] = {0.0};
    for (int i = 0; i < c->judged_count; i++) {
        const double tension = c->end.rows.tension_n[c->judged[i]];
        int at = i;
        for (; at > 0 && sorted[at - 1] > tension; at--) {
            sorted[at] = sorted[at - 1];
        }
        sorted[at] = tension;
    }
    return sorted[c->judged_count / 2];
}

/* To blame are the rows that stray from the one in the middle by more than half the spread asked for. */
static void evenness(const score__case *c, scenario_band band, score__finding *out)
{
    const score__levels levels = score__levels_of(c, &c->end);
    const double middle = median_tension(c);
    out->applies = c->judged_count >= 2;
    out->value = levels.highest_n > 0.0 ? levels.spread : band.none;
    out->reached = pulled_share(c);
    for (int i = 0; i < c->judged_count; i++) {
        const double off = fabs(c->end.rows.tension_n[c->judged[i]] - middle);
        if (off > 0.5 * band.full * middle) {
            score__blame(out, c->judged[i]);
        }
    }
}

static void target(const score__case *c, scenario_band band, score__finding *out)
{
    (void)band;
    int in = 0;
    for (int i = 0; i < c->judged_count; i++) {
        const int row = c->judged[i];
        if (is_in_tolerance(c, row)) {
            in++;
        } else {
            score__blame(out, row);
        }
        out->undone += c->end.rows.tension_n[row] > 0.0 ? 0 : 1;
    }
    out->applies = c->judged_count > 0;
    out->value = out->applies ? (double)in / c->judged_count : 0.0;
}

static void over_tension(const score__case *c, scenario_band band, score__finding *out)
{
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        const double share = c->end.peak_n[row] / c->setup->row_limit_n;
        out->value = fmax(out->value, share);
        if (score_share(share, band) < 1.0) {
            score__blame(out, row);
        }
    }
    out->applies = c->order_count > 0 && isfinite(c->setup->row_limit_n);
    out->reached = pulled_share(c);
    blame_unpulled(c, out);
}

/* Each row once to the target (mech_pull_once), from the rows as they were before the first pull; a row not yet joined
 * then starts slack. The rule of thumb and not the sheet, because it needs no measuring and is never the stricter of
 * the two. */
double score__off_centre_of(const score__case *c, const int order[])
{
    mech_rows start = c->before_pulls;
    for (int i = 0; i < c->order_count; i++) {
        const int row = c->order[i];
        if (!start.is_strung[row]) {
            start.is_strung[row] = true;
            start.take_up_m[row] = 0.0;
        }
    }
    mech_sheet sheet;
    mech_pull_once(&c->end.run, &start, order, c->order_count, c->setup->target_n, &sheet);
    return sheet.off_centre_peak_n_m;
}

static void off_centre(const score__case *c, scenario_band band, score__finding *out)
{
    out->applies = c->order_count >= 2;
    out->reached = pulled_share(c);
    blame_unpulled(c, out);
    if (!out->applies || c->pull_count == 0) {
        out->value = band.none;
        return;
    }
    /* What stood off centre before the first pull, left by the crew or by a row let go to be mended, is no matter of
     * order. */
    const double rule = fmax(score__off_centre_of(c, c->order), c->off_centre_before_n_m);
    out->applies = rule > 0.0;
    out->value = rule > 0.0 ? c->end.off_centre_peak_n_m / rule : 0.0;
}

static void post_use(const score__case *c, scenario_band band, score__finding *out)
{
    (void)band;
    const mech_post *post = c->setup->structure.post;
    out->applies = c->order_count > 0 && !(post[MECH_NEAR].is_rigid && post[MECH_FAR].is_rigid);
    out->value = c->end.bending_peak;
    out->reached = pulled_share(c);
    blame_unpulled(c, out);
}

static void clear(const score__case *c, scenario_band band, score__finding *out)
{
    double turns = 0.0;
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        turns += c->end.row[row].turns_held + c->end.row[row].turns_free;
    }
    out->applies = c->order_count > 0;
    out->value = turns > 0.0 ? c->end.turns_unclear / turns : band.none;
    out->reached = pulled_share(c);
    out->undone = turns > 0.0 ? 0 : c->order_count;
}

score__run_measure *score__tension_measure_of(scenario_criterion criterion)
{
    static score__run_measure *const measures[SCENARIO_CRITERIA] = {
        [SCENARIO_STUD_HELD] = stud_held,   [SCENARIO_ORDER] = order_kept,  [SCENARIO_ROUNDS] = rounds_made,
        [SCENARIO_EVENNESS] = evenness,     [SCENARIO_TARGET] = target,     [SCENARIO_OVER_TENSION] = over_tension,
        [SCENARIO_OFF_CENTRE] = off_centre, [SCENARIO_POST_USE] = post_use, [SCENARIO_CLEAR] = clear,
    };
    return measures[criterion];
}
