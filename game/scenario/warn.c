/* Physical warnings: what a sound file asks for that the wood, the fittings or the trainee's hands cannot give. Every
 * number comes from the mechanics; nothing here decides what is good. */
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "tautrow/base/text.h"
#include "tautrow/scenario/scenario.h"

enum { MAX_TRIPS = 12, NUMBER_CAP = 48 };

/* A crimp and an insert must bear twice the target before they slip: the rule behind the stop faults. Common practice,
 * no source. */
static const double CRIMP_OVER_TARGET = 2.0;

/* A strand in service: at most 0.45 of its strength, bending left out: EN 1993-1-11:2006 Table 7.2. */
static const double STRAND_IN_SERVICE = 0.45;

/* On the heap: the sheet is large. */
typedef struct study {
    const scenario *scenario;
    const tr_lang *lang;
    tr_diags *diags;
    size_t count;
    mech_run run;
    mech_rows start; /* as the crew before left it */
    mech_rows full;  /* all rows at the target */
    mech_sheet sheet;
} study;

static void warn_with(study *s, const char *path, const char *key, const char *const args[], size_t count)
{
    char text[TR_TEXT_CAP];
    tr_lang_fill(s->lang, key, args, count, text, sizeof text);
    s->count++;
    tr_diags_add(s->diags, TR_WARNING, 0, 0, path, "%s", text);
}

/* The sentence of a key, filled in. The values are temporaries of the caller: they last as long as the call. */
#define WARN(s, path, key, ...)                                                                                        \
    warn_with(s, path, key, (const char *const[]){__VA_ARGS__},                                                        \
              sizeof((const char *const[]){__VA_ARGS__}) / sizeof(const char *))

/* A quantity in the file's own units. */
typedef struct number {
    char text[NUMBER_CAP];
} number;

static number in_words(const study *s, double si, tr_dim dim)
{
    number out;
    tr_quantity_text(si, dim, s->scenario->units, TR_PLAIN, out.text, sizeof out.text);
    return out;
}

static number percent(double share)
{
    number out;
    (void)tr_format(out.text, sizeof out.text, "%.0f %%", 100 * share);
    return out;
}

static number whole(int value)
{
    number out;
    (void)tr_format(out.text, sizeof out.text, "%d", value);
    return out;
}

/* ---- the state in which the trainee finds the run, and the pull sheet from there ---- */

/* Rows joined before the trainee comes carry what the crew before left on them: their tension, or hand tight. The
 * tensions being known, the take-ups follow directly. */
static void string_joined_rows(study *s)
{
    const job_setup *setup = &s->scenario->setup;
    const int count = setup->structure.row_count;
    for (int i = 0; i < count; i++) {
        const bool is_done = setup->start_stage[i] > JOB_STAGE_TENSION;
        s->start.is_strung[i] = setup->start_stage[i] > JOB_STAGE_JOIN;
        if (s->start.is_strung[i]) {
            s->start.tension_n[i] = is_done ? setup->start_tension_n[i] : setup->hand_tight_n;
            s->start.peak_n[i] = s->start.tension_n[i];
        }
    }
    for (int i = 0; i < count; i++) {
        if (s->start.is_strung[i]) {
            s->start.take_up_m[i] = mech_run_take_up(&s->run, &s->start, i, s->start.tension_n);
        }
    }
    (void)mech_run_solve(&s->run, &s->start); /* what bends leave of it beyond them */
}

/* Every row at the target. */
static void string_all(const study *s, mech_rows *rows)
{
    const job_setup *setup = &s->scenario->setup;
    const int count = setup->structure.row_count;
    double tension_n[MECH_MAX_ROWS] = {0.0};
    *rows = (mech_rows){.is_strung = {false}};
    for (int i = 0; i < count; i++) {
        rows->is_strung[i] = true;
        tension_n[i] = setup->target_n;
    }
    for (int i = 0; i < count; i++) {
        rows->take_up_m[i] = mech_run_take_up(&s->run, rows, i, tension_n);
    }
    (void)mech_run_solve(&s->run, rows);
}

/* Take-up from hand tight until the studs meet in the body. */
static double travel_m(const job_setup *setup)
{
    return mech_turns_to_bottom(&setup->turnbuckle, &setup->nominal) *
           (setup->turnbuckle.anchor.pitch_m + setup->turnbuckle.cable.pitch_m);
}

static void warn_of_sheet(study *s)
{
    const job_setup *setup = &s->scenario->setup;
    const mech_limits limits = {setup->row_limit_n, travel_m(setup)};
    if (setup->order_count == 0) {
        s->sheet.end = s->start;
        return;
    }
    mech_pull_sheet(&s->run, &s->start, setup->order, setup->order_count, setup->round_share, setup->rounds,
                    setup->target_n, limits, &s->sheet);
    const mech_pull *worst = &s->sheet.pull[s->sheet.worst];
    switch (s->sheet.status) {
    case MECH_SHEET_OVER_TENSION:
        WARN(s, "$.tension.limit", "warn.sheet_over", in_words(s, worst->reading_n, TR_DIM_FORCE).text,
             whole(worst->row + 1).text, whole(worst->round + 1).text,
             in_words(s, setup->row_limit_n, TR_DIM_FORCE).text);
        break;
    case MECH_SHEET_NO_TRAVEL:
        WARN(s, "$.turnbuckle", "warn.no_travel", whole(worst->row + 1).text,
             in_words(s, worst->take_up_m, TR_DIM_LENGTH).text, in_words(s, limits.take_up_m, TR_DIM_LENGTH).text);
        break;
    case MECH_SHEET_DIVERGED:
        WARN(s, "$.tension", "warn.no_sheet", "");
        break;
    case MECH_SHEET_OK:
        break;
    }
}

static void warn_of_rounds(study *s)
{
    const job_setup *setup = &s->scenario->setup;
    if (setup->order_count == 0) {
        return;
    }
    const int needed = mech_rounds_needed(&s->run, &s->start, setup->order, setup->order_count, setup->target_n,
                                          setup->tolerance, MAX_TRIPS);
    if (needed > setup->rounds + 1) { /* the check round is one more */
        const bool is_more = needed > MAX_TRIPS;
        WARN(s, "$.tension.rounds", is_more ? "warn.rounds_more" : "warn.rounds",
             whole(is_more ? MAX_TRIPS : needed).text, whole(setup->rounds).text);
    }
}

/* ---- posts and rail ---- */

static void warn_of_use(study *s, const char *path, const char *key, double use)
{
    if (use > 1.0) {
        WARN(s, path, key, percent(use).text);
    }
}

static void warn_of_posts(study *s)
{
    const job_setup *setup = &s->scenario->setup;
    mech_loads loads;
    mech_run_loads(&s->run, &s->sheet.end, &loads);
    const mech_utilisation use = mech_post_utilisation(&s->run, &loads, setup->limits);
    warn_of_use(s, "$.run.near_post", "warn.bending_near", use.bending[MECH_NEAR]);
    warn_of_use(s, "$.run.near_post.base", "warn.base_near", use.base[MECH_NEAR]);
    warn_of_use(s, "$.run.far_post", "warn.bending_far", use.bending[MECH_FAR]);
    warn_of_use(s, "$.run.far_post.base", "warn.base_far", use.base[MECH_FAR]);
    warn_of_use(s, "$.rail.joint", "warn.rail_joint", use.rail_joint);
}

/* Posts of bends are not in the file: they are looked at as if they were like the near post. */
static void warn_of_bends(study *s)
{
    const job_setup *setup = &s->scenario->setup;
    for (int bend = 0; bend < setup->structure.bend_count; bend++) {
        const mech_bend_post load = mech_bend_post_load(&s->run, &s->full, bend, &setup->limits[MECH_NEAR]);
        char path[32];
        (void)tr_format(path, sizeof path, "$.run.bends[%d]", bend);
        warn_of_use(s, path, "warn.bending_line", load.bending);
        warn_of_use(s, path, "warn.base_line", load.base);
    }
}

/* ---- pushes on the finished guard ---- */

static void warn_of_base_pushed(study *s, const mech_loads *loads, const mech_guard *guard, mech_end end)
{
    const job_setup *setup = &s->scenario->setup;
    const double use = mech_guard_base_use(&s->run, loads, guard, end, &setup->limits[end]);
    if (use > 1.0) {
        WARN(s, end == MECH_NEAR ? "$.run.near_post.base" : "$.run.far_post.base",
             end == MECH_NEAR ? "warn.pushed_near" : "warn.pushed_far",
             in_words(s, setup->guard.rail_n, TR_DIM_FORCE).text, percent(use).text);
    }
}

static void warn_of_guard(study *s)
{
    const job_setup *setup = &s->scenario->setup;
    const double most_n = setup->structure.strand.breaking_n * setup->crimp.efficiency;
    mech_loads loads;
    mech_run_loads(&s->run, &s->full, &loads);
    const mech_guard guard = mech_run_guard(&s->run, &s->full, &setup->guard);
    for (int end = 0; end < MECH_ENDS; end++) {
        warn_of_base_pushed(s, &loads, &guard, (mech_end)end);
    }
    if (guard.row_tension_n > most_n) {
        WARN(s, "$.checks.infill_push", "warn.infill", in_words(s, guard.row_push_n, TR_DIM_FORCE).text,
             in_words(s, guard.row_tension_n, TR_DIM_FORCE).text, in_words(s, most_n, TR_DIM_FORCE).text);
    }
}

/* ---- openings ---- */

static void warn_of_openings(study *s)
{
    const job_setup *setup = &s->scenario->setup;
    const int last = setup->structure.rail.is_fitted ? setup->structure.row_count : setup->structure.row_count - 1;
    int failing = 0;
    int weakest = 0;
    double weakest_n = (double)INFINITY;
    for (int gap = 0; gap <= last; gap++) {
        const mech_opening opening = mech_run_opening(&s->run, &s->full, gap, setup->ball_m);
        failing += opening.push_n < setup->ball_push_n;
        if (opening.push_n < weakest_n) {
            weakest_n = opening.push_n;
            weakest = gap;
        }
    }
    if (failing > 0) {
        WARN(s, "$.checks.ball_push", weakest > 0 ? "warn.openings" : "warn.openings_deck", whole(failing).text,
             whole(last + 1).text, in_words(s, setup->ball_push_n, TR_DIM_FORCE).text, whole(weakest).text,
             in_words(s, weakest_n, TR_DIM_FORCE).text);
    }
}

/* ---- fittings, made as they should be ---- */

static void warn_of_insert(study *s)
{
    const job_setup *setup = &s->scenario->setup;
    const mech_hole hole = {.diameter_m = setup->bit[setup->right_bit].diameter_m, .depth_m = setup->hole_depth_m};
    const mech_seat seat = {0};
    const mech_grip grip = mech_insert_grip(&setup->insert, &hole, &seat, &setup->wood, setup->edge_m);
    if (grip.design_n < setup->target_n) {
        WARN(s, "$.insert", "warn.insert", in_words(s, grip.design_n, TR_DIM_FORCE).text,
             in_words(s, setup->target_n, TR_DIM_FORCE).text);
    }
    if (grip.split_index > 1.0) {
        number index;
        (void)tr_format(index.text, sizeof index.text, "%.2f", grip.split_index);
        WARN(s, "$.drilling", "warn.split", index.text);
    }
}

static void warn_of_crimp(study *s)
{
    const job_setup *setup = &s->scenario->setup;
    const mech_crimp_kind *kind = &setup->crimp;
    const mech_crimp best = {
        .seated_m = kind->bore_m,
        .squeeze_count = 2,
        .squeeze = {{0.5 * kind->die_m, 0.0, 1.0}, {1.5 * kind->die_m, kind->best_turn_rad, 1.0}},
    };
    const mech_crimp_state state = mech_crimp_look(kind, &best, setup->structure.strand.breaking_n);
    if (state.hold_n < CRIMP_OVER_TARGET * setup->target_n) {
        WARN(s, "$.crimper", "warn.crimp", in_words(s, state.hold_n, TR_DIM_FORCE).text,
             in_words(s, setup->target_n, TR_DIM_FORCE).text);
    }
    if (!state.passes_gauge) {
        WARN(s, "$.crimper.gauge", "warn.crimp_gauge", "");
    }
}

static void warn_of_strand(study *s)
{
    const job_setup *setup = &s->scenario->setup;
    const double most_n = STRAND_IN_SERVICE * setup->structure.strand.breaking_n;
    if (setup->target_n > most_n) {
        WARN(s, "$.tension.target", "warn.strand", in_words(s, setup->target_n, TR_DIM_FORCE).text,
             in_words(s, most_n, TR_DIM_FORCE).text);
    }
}

static void warn_of_pin(study *s)
{
    const job_setup *setup = &s->scenario->setup;
    const double most_n = fmax(setup->target_n, s->sheet.peak_n);
    const double torque =
        mech_thread_raise(&setup->turnbuckle.anchor, most_n) + mech_thread_raise(&setup->turnbuckle.cable, most_n);
    if (torque > setup->pin_limit_n_m) {
        WARN(s, "$.tension.pin_limit", "warn.pin", in_words(s, torque, TR_DIM_MOMENT).text,
             in_words(s, most_n, TR_DIM_FORCE).text, in_words(s, setup->pin_limit_n_m, TR_DIM_MOMENT).text);
    }
}

/* Brought to the target on a warm second visit, the rows are tighter in the next cold than they ever were. */
static void warn_of_cold(study *s)
{
    const job_setup *setup = &s->scenario->setup;
    const int count = setup->structure.row_count;
    const double asked_k = s->run.made_of.warming_k;
    s->run.made_of.warming_k = asked_k + setup->after.warming_k;
    mech_rows rows;
    string_all(s, &rows);
    s->run.made_of.warming_k = asked_k + setup->after.coldest_k;
    const bool is_found = setup->after.days > 0.0 && mech_run_solve(&s->run, &rows).converged;
    s->run.made_of.warming_k = asked_k;
    for (int i = 0; i < count && is_found; i++) {
        if (rows.tension_n[i] > setup->row_limit_n) {
            WARN(s, "$.after", "warn.cold", whole(i + 1).text, in_words(s, rows.tension_n[i], TR_DIM_FORCE).text);
            return;
        }
    }
}

static void look_for_all(study *s)
{
    string_joined_rows(s);
    string_all(s, &s->full);
    warn_of_sheet(s);
    warn_of_rounds(s);
    warn_of_posts(s);
    warn_of_bends(s);
    warn_of_guard(s);
    warn_of_openings(s);
    warn_of_strand(s);
    warn_of_insert(s);
    warn_of_crimp(s);
    warn_of_pin(s);
    warn_of_cold(s);
}

size_t scenario_warn(const scenario *asked, const tr_lang *lang, tr_diags *diags)
{
    study *s = calloc(1, sizeof *s);
    size_t count = 0;
    char why[TR_TEXT_CAP];
    if (!s) {
        return 0;
    }
    s->scenario = asked;
    s->lang = lang;
    s->diags = diags;
    if (mech_run_build(&asked->setup.structure, &s->run, why, sizeof why) == TR_OK) {
        look_for_all(s);
    }
    count = s->count;
    free(s);
    return count;
}
