/* Slip-ups as they happen: what could be earned by each line before the last action against what can be after it
 * (slip_stand.c), and the stop faults that it set. */
#include "tautrow/score/slip.h"

#include <math.h>
#include <stdlib.h>

#include "slip_parts.h"

/* A row or a run that still earns this share by a line is let pass. common practice, no source. */
static const double fine = 0.9;
/* Two shares that differ by less are the same. */
static const double same = 1e-9;

/* ---- which lines an action can touch ------------------------------------------------------------------------------ */

typedef uint64_t lines; /* bit per criterion */

static lines line(scenario_criterion criterion)
{
    return (lines)1 << criterion;
}

static lines lines_of(job_verb verb)
{
    const lines wood = line(SCENARIO_BIT) | line(SCENARIO_DRILL_SPEED) | line(SCENARIO_HOLE_DEPTH);
    switch ((int)verb) {
    case JOB_DO_DRILL:
        return wood | line(SCENARIO_HOLE_SQUARE) | line(SCENARIO_MARK_HEIGHT) | line(SCENARIO_GLASSES);
    case JOB_DO_DRIVE_INSERT:
        return line(SCENARIO_BIT) | line(SCENARIO_HOLE_DEPTH) | line(SCENARIO_INSERT_SEAT) |
               line(SCENARIO_DRIVER_SPEED);
    case JOB_DO_SCREW_STUD:
        return line(SCENARIO_HANDS);
    case JOB_DO_CUT_CABLE:
        return line(SCENARIO_CUT_LENGTH) | line(SCENARIO_CABLE_SEAT) | line(SCENARIO_GLASSES);
    case JOB_DO_REDO_CRIMP:
        return line(SCENARIO_CABLE_SEAT) | line(SCENARIO_GLASSES);
    case JOB_DO_SQUEEZE:
        return line(SCENARIO_CABLE_SEAT) | line(SCENARIO_SQUEEZE_TURN);
    case JOB_DO_UNSCREW_STUD:
        return line(SCENARIO_SQUEEZES) | line(SCENARIO_BODY_HELD);
    case JOB_DO_THREAD_IN:
        return line(SCENARIO_SQUEEZES);
    case JOB_DO_HAND_TIGHT:
        return line(SCENARIO_THREADS);
    case JOB_DO_TURN_BODY:
        return line(SCENARIO_THREADS) | line(SCENARIO_STUD_HELD) | line(SCENARIO_ORDER) | line(SCENARIO_OVER_TENSION) |
               line(SCENARIO_OFF_CENTRE) | line(SCENARIO_POST_USE) | line(SCENARIO_CLEAR);
    case JOB_DO_REPORT_FAULT:
        return line(SCENARIO_FAULTS);
    default:
        return 0;
    }
}

/* What is final when the sheet is signed. The time is not: it was lost on the way. */
static lines lines_of_signing(void)
{
    return line(SCENARIO_READING) | line(SCENARIO_ROUNDS) | line(SCENARIO_EVENNESS) | line(SCENARIO_TARGET) |
           line(SCENARIO_OPENING) | line(SCENARIO_FINISH) | line(SCENARIO_FAULTS) | line(SCENARIO_RECHECK);
}

/* Where each further turn adds a little: only the step out of what is fine is a slip, the rest is the same one. */
static bool is_told_once(scenario_criterion criterion)
{
    return criterion == SCENARIO_STUD_HELD || criterion == SCENARIO_OVER_TENSION || criterion == SCENARIO_OFF_CENTRE ||
           criterion == SCENARIO_POST_USE || criterion == SCENARIO_CLEAR || criterion == SCENARIO_THREADS;
}

/* Whether this line judges this row in this scenario. */
static bool is_judged(const score__case *c, scenario_criterion criterion, int row)
{
    if (!(c->scenario->rubric.band[criterion].weight > 0.0)) {
        return false;
    }
    if (score__is_of_rows(criterion)) {
        return row >= 0 && score__is_asked(c->setup, row, scenario_criterion_look(criterion)->stage);
    }
    score__finding found = {.reached = 1.0};
    score__run_measure_of(criterion)(c, c->scenario->rubric.band[criterion], &found);
    return found.applies;
}

/* ---- comparing ---------------------------------------------------------------------------------------------------- */

typedef struct slips {
    int count;
    score_slip *out;
} slips;

static void add(slips *all, const score_slip *slip)
{
    if (all->count < SCORE_MAX_SLIPS) {
        all->out[all->count++] = *slip;
    }
}

static void note_before(const score__moment *m, lines which, score__standing before[SCENARIO_CRITERIA])
{
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        if (which & line((scenario_criterion)i)) {
            before[i] = score__stands(&m->c, (scenario_criterion)i, m->row);
        }
    }
}

/* A stud is held or not row by row, though the line counts the turns of all. */
static double points_of(const score__case *c, scenario_criterion criterion, double share)
{
    const int rows = score__is_of_rows(criterion)
                         ? score__asked_rows(c->setup, scenario_criterion_look(criterion)->stage)
                     : criterion == SCENARIO_STUD_HELD ? c->order_count
                                                       : 1;
    return c->scenario->rubric.band[criterion].weight * share / (rows > 0 ? rows : 1);
}

static bool is_slip(scenario_criterion criterion, const score__standing *before, const score__standing *after)
{
    if (after->share >= before->share - same) {
        return false;
    }
    if (criterion == SCENARIO_ORDER) { /* two rows of many changed about cost little, and it is what is to be learnt */
        return true;
    }
    /* past its limit a row is a stop fault by however little, and so are too few threads */
    const bool is_strict = criterion == SCENARIO_OVER_TENSION || criterion == SCENARIO_THREADS;
    const double enough = is_strict ? 1.0 : fine;
    return after->share < enough && (before->share >= enough || !is_told_once(criterion));
}

static void compare(score__moment *m, lines which, const score__standing before[SCENARIO_CRITERIA], slips *all)
{
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        const scenario_criterion criterion = (scenario_criterion)i;
        if (!(which & line(criterion)) || !is_judged(&m->c, criterion, m->row)) {
            continue;
        }
        const score__standing after = score__stands(&m->c, criterion, m->row);
        if (is_slip(criterion, &before[i], &after)) {
            const score_slip slip = {.criterion = criterion,
                                     .stop = criterion == SCENARIO_THREADS ? SCORE_STOP_FEW_THREADS : SCORE_STOPS,
                                     .row = m->row,
                                     .measured = after.measured,
                                     .band = m->c.scenario->rubric.band[criterion],
                                     .lost = points_of(&m->c, criterion, before[i].share - after.share),
                                     .effect = {.row = -1}};
            add(all, &slip);
        }
    }
}

static bool is_stopped_by(const score__case *c, scenario_criterion criterion)
{
    int row[SCORE_STOPS];
    return criterion == SCENARIO_OPENING && (score__stops(c, row) & 1U << SCORE_STOP_OPENING) != 0;
}

/* Signing ends what could still be mended: each line that is short of what it could have had. */
static void compare_signing(score__moment *m, slips *all)
{
    score__judge(&m->c);
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        score_line now;
        const scenario_criterion criterion = (scenario_criterion)i;
        if (!(lines_of_signing() & line(criterion))) {
            continue;
        }
        score__fill_line(&m->c, criterion, &now);
        if (!now.applies || now.points >= fine * now.weight) {
            continue;
        }
        if (!now.is_undone) {
            score__mend(&m->c, &now);
        }
        const score_slip slip = {.criterion = criterion,
                                 .stop = is_stopped_by(&m->c, criterion) ? SCORE_STOP_OPENING : SCORE_STOPS,
                                 .row = now.row_count == 1 ? now.row[0] : -1,
                                 .measured = now.measured,
                                 .band = now.band,
                                 .lost = now.weight - now.points,
                                 .effect = now.effect};
        add(all, &slip);
    }
}

/* ---- not yet ------------------------------------------------------------------------------------------------------ */

/* Short of what is asked, and the next stroke of the same work can make it good. */
static bool is_still_open(const score__moment *m, scenario_criterion *criterion, double *measured)
{
    const score__case *c = &m->c;
    const job_setup *setup = c->setup;
    const job_row *row = &c->end.row[m->row >= 0 ? m->row : 0];
    switch ((int)m->last.verb) {
    case JOB_DO_MARK_ROW:
        *criterion = SCENARIO_MARK_HEIGHT;
        *measured = fabs(row->height_error_m);
        return true;
    case JOB_DO_DRILL:
        *criterion = row->hole.depth_m < setup->hole_depth_m ? SCENARIO_HOLE_DEPTH : SCENARIO_BIT;
        *measured = *criterion == SCENARIO_BIT ? (row->bit == setup->right_bit ? 1.0 : 0.0)
                                               : setup->hole_depth_m - row->hole.depth_m;
        return row->is_drilled && !score__is_row_final(c, *criterion, m->row);
    case JOB_DO_MARK_CABLE:
        *criterion = SCENARIO_CUT_LENGTH;
        *measured = fabs(row->mark_error_m + mech_cut_pull_error(&c->end.run, row->marked_pull_n, setup->hand_pull_n));
        return true;
    case JOB_DO_PUSH_HOME:
        *criterion = SCENARIO_CABLE_SEAT;
        *measured = fmax(setup->crimp.bore_m - row->crimp.seated_m, 0.0);
        return !row->is_frayed;
    case JOB_DO_ANSWER:
        *criterion = SCENARIO_READING;
        *measured = score__is_answered_right(c, (int)m->last.arg[JOB_ANSWER_QUESTION]) ? 1.0 : 0.0;
        return true;
    default:
        return false;
    }
}

static void add_open(const score__moment *m, slips *all)
{
    scenario_criterion criterion = SCENARIO_CRITERIA;
    double measured = 0.0;
    if (m->outcome.refusal != JOB_REFUSE_NONE || !is_still_open(m, &criterion, &measured) ||
        !is_judged(&m->c, criterion, m->row)) {
        return;
    }
    const scenario_band band = m->c.scenario->rubric.band[criterion];
    if (score_share(measured, band) < fine) {
        const score_slip slip = {.criterion = criterion,
                                 .stop = SCORE_STOPS,
                                 .row = m->row,
                                 .measured = measured,
                                 .band = band,
                                 .is_open = true,
                                 .effect = {.row = -1}};
        add(all, &slip);
    }
}

/* ---- stop faults -------------------------------------------------------------------------------------------------- */

static const score_stop stops_on_the_way[] = {SCORE_STOP_WEAK_CRIMP, SCORE_STOP_WEAK_INSERT, SCORE_STOP_OVER_LIMIT,
                                              SCORE_STOP_GAVE_WAY, SCORE_STOP_SPLIT};
enum { STOPS_ON_THE_WAY = sizeof stops_on_the_way / sizeof stops_on_the_way[0] };

static uint64_t rows_stopped(const score__case *c, score_stop stop)
{
    uint64_t rows = 0;
    for (int row = 0; row < c->setup->structure.row_count; row++) {
        rows |= score__has_stop(c, stop, row) ? (uint64_t)1 << row : 0U;
    }
    return rows;
}

/* The line that says in numbers what the stop fault says by name, where the same action lost it. */
static score_slip *slip_of_stop(slips *all, score_stop stop, int row)
{
    static const lines measured_by[SCORE_STOPS] = {
        [SCORE_STOP_WEAK_CRIMP] =
            (lines)1 << SCENARIO_CABLE_SEAT | (lines)1 << SCENARIO_SQUEEZES | (lines)1 << SCENARIO_SQUEEZE_TURN,
        [SCORE_STOP_WEAK_INSERT] = (lines)1 << SCENARIO_BIT | (lines)1 << SCENARIO_HOLE_DEPTH |
                                   (lines)1 << SCENARIO_INSERT_SEAT | (lines)1 << SCENARIO_DRIVER_SPEED,
        [SCORE_STOP_OVER_LIMIT] = (lines)1 << SCENARIO_OVER_TENSION,
    };
    for (int i = 0; i < all->count; i++) {
        score_slip *slip = &all->out[i];
        const bool is_same = slip->criterion < SCENARIO_CRITERIA && (measured_by[stop] & line(slip->criterion));
        if (is_same && slip->row == row && !slip->is_open && slip->stop == SCORE_STOPS) {
            return slip;
        }
    }
    return NULL;
}

static void add_stops(const score__moment *m, const uint64_t before[STOPS_ON_THE_WAY], slips *all)
{
    for (int i = 0; i < STOPS_ON_THE_WAY; i++) {
        const score_stop stop = stops_on_the_way[i];
        const uint64_t rows = rows_stopped(&m->c, stop) & ~before[i];
        for (int row = 0; row < m->c.setup->structure.row_count; row++) {
            if (!(rows >> row & 1U)) {
                continue;
            }
            score_slip *told = slip_of_stop(all, stop, row);
            if (told != NULL) {
                told->stop = stop;
                continue;
            }
            const score_slip slip = {.criterion = SCENARIO_CRITERIA, .stop = stop, .row = row, .effect = {.row = -1}};
            add(all, &slip);
        }
    }
}

/* ---- as it is said -------------------------------------------------------------------------------------------------- */

static void say(score_slip *slip, tr_dim dim, double did, double low, double high)
{
    slip->dim = dim;
    slip->did = did;
    slip->low = low;
    slip->high = high;
}

static void say_off_centre(const score__case *c, score_slip *slip)
{
    const double rule = c->end.off_centre_peak_n_m / slip->measured;
    say(slip, TR_DIM_MOMENT, c->end.off_centre_peak_n_m, -HUGE_VAL, slip->band.full * rule);
}

/* The first row of the rule's order that had not been pulled yet. */
static int row_due(const score__moment *m)
{
    for (int i = 0; i < m->c.order_count; i++) {
        const int row = m->c.order[i];
        if (row != m->row && score__pulls_of_row(&m->c, row) == 0) {
            return row;
        }
    }
    return -1;
}

static void put_in_numbers(const score__moment *m, score_slip *slip)
{
    const score__case *c = &m->c;
    const job_setup *setup = c->setup;
    const job_row *row = &c->end.row[m->row >= 0 ? m->row : 0];
    switch ((int)slip->criterion) {
    case SCENARIO_BIT: {
        const double right_m = setup->bit[setup->right_bit].diameter_m;
        say(slip, TR_DIM_LENGTH, setup->bit[row->bit].diameter_m, right_m, right_m);
        break;
    }
    case SCENARIO_HOLE_DEPTH:
        say(slip, TR_DIM_LENGTH, row->hole.depth_m, setup->hole_depth_m, setup->hole_depth_m);
        break;
    case SCENARIO_DRILL_SPEED:
        say(slip, TR_DIM_SPEED, row->drill_rpm, setup->drill_rpm.low, setup->drill_rpm.high);
        break;
    case SCENARIO_DRIVER_SPEED:
        say(slip, TR_DIM_SPEED, row->driver_rpm, setup->driver_rpm.low, setup->driver_rpm.high);
        break;
    case SCENARIO_STUD_HELD: /* what came round with the body, and nothing ought to */
        say(slip, TR_DIM_TURNS, m->outcome.value[2], -HUGE_VAL, 0.0);
        break;
    case SCENARIO_OVER_TENSION:
        say(slip, TR_DIM_FORCE, c->end.peak_n[m->row], -HUGE_VAL, setup->row_limit_n);
        break;
    case SCENARIO_OFF_CENTRE:
        say_off_centre(c, slip);
        break;
    case SCENARIO_CRITERIA:
        break;
    default: {
        const bool is_most = slip->band.full <= slip->band.none;
        say(slip, scenario_criterion_look(slip->criterion)->dim, slip->measured, is_most ? -HUGE_VAL : slip->band.full,
            is_most ? slip->band.full : HUGE_VAL);
        break;
    }
    }
    slip->is_frayed = slip->criterion == SCENARIO_CABLE_SEAT && m->last.verb == JOB_DO_CUT_CABLE;
    slip->instead = slip->criterion == SCENARIO_ORDER ? row_due(m) : -1;
}

/* ---- the whole ---------------------------------------------------------------------------------------------------- */

static int gravity(const score_slip *slip)
{
    return slip->is_open ? 0 : slip->stop == SCORE_STOPS ? 1 : 2;
}

static int by_gravity(const void *a, const void *b)
{
    const score_slip *one = a;
    const score_slip *other = b;
    if (gravity(one) != gravity(other)) {
        return gravity(other) - gravity(one);
    }
    if (one->lost != other->lost) {
        return one->lost > other->lost ? -1 : 1;
    }
    return one->criterion != other->criterion ? (one->criterion < other->criterion ? -1 : 1) : one->row - other->row;
}

static int find(score__moment *m, const job_action *actions, size_t count, score_slip out[SCORE_MAX_SLIPS])
{
    slips all = {.count = 0, .out = out};
    score__standing before[SCENARIO_CRITERIA] = {{.share = 1.0}};
    uint64_t stopped[STOPS_ON_THE_WAY];
    const lines which = lines_of(m->last.verb);
    score__follow(&m->c, actions, count - 1);
    m->row = job_action_row(&m->last);
    m->row = m->row < m->c.setup->structure.row_count ? m->row : -1;
    note_before(m, m->row >= 0 ? which : 0, before);
    for (int i = 0; i < STOPS_ON_THE_WAY; i++) {
        stopped[i] = rows_stopped(&m->c, stops_on_the_way[i]);
    }
    m->before = m->c.end;
    m->outcome = score__go_on(&m->c, &m->last);
    compare(m, m->row >= 0 ? which : 0, before, &all);
    if (m->last.verb == JOB_DO_SIGN && m->outcome.refusal == JOB_REFUSE_NONE) {
        compare_signing(m, &all);
    }
    add_stops(m, stopped, &all);
    if (all.count == 0) {
        add_open(m, &all);
    }
    for (int i = 0; i < all.count; i++) {
        put_in_numbers(m, &out[i]);
        if (m->last.verb != JOB_DO_SIGN) {
            score__slip_effect(m, &out[i]);
        }
    }
    qsort(out, (size_t)all.count, sizeof out[0], by_gravity);
    return all.count;
}

/* Measuring, tools taken up and the like spoil nothing. */
static bool can_slip(job_verb verb)
{
    return lines_of(verb) != 0 || verb == JOB_DO_SIGN || verb == JOB_DO_MARK_ROW || verb == JOB_DO_MARK_CABLE ||
           verb == JOB_DO_PUSH_HOME || verb == JOB_DO_ANSWER;
}

int score_slips(const scenario *task, const job_action *actions, size_t count, score_slip out[SCORE_MAX_SLIPS])
{
    if (count == 0 || !can_slip(actions[count - 1].verb)) {
        return 0;
    }
    int found = 0;
    score__moment *m = calloc(1, sizeof *m);
    score__room *room = score__open_room(count);
    if (m != NULL && room != NULL) {
        m->c = (score__case){.scenario = task, .setup = &task->setup, .room = room};
        m->last = actions[count - 1];
        found = find(m, actions, count, out);
    }
    free(room);
    free(m);
    return found;
}
