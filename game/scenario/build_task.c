/* What is asked of the trainee: tension, order, rounds and the checks at the end; and the rubric. */
#include "build.h"

#include <math.h>
#include <string.h>

/* A row may pass its target by half before it counts as over-tensioned, where the file says nothing: common practice,
 * no source. */
static const double LIMIT_OVER_TARGET = 1.5;

/* ---- order ---- */

/* The trainee tensions the rows that the crew before did not. */
static bool is_tensioned_by_trainee(const job_setup *setup, int row)
{
    return setup->start_stage[row] <= JOB_STAGE_TENSION;
}

static void order_by_rule(job_setup *setup, mech_order rule)
{
    int all[MECH_MAX_ROWS] = {0};
    setup->order_rule = rule;
    mech_order_rows(rule, setup->structure.row_count, all);
    for (int i = 0; i < setup->structure.row_count; i++) {
        if (is_tensioned_by_trainee(setup, all[i])) {
            setup->order[setup->order_count++] = all[i];
        }
    }
}

/* A list may name all rows or only the trainee's; rows that are tensioned already are left out. */
static void order_by_list(const scenario__build *build, const scenario__node *list)
{
    job_setup *setup = &build->out->setup;
    bool listed[MECH_MAX_ROWS] = {false};
    setup->order_rule = MECH_ORDER_LIST;
    for (const scenario__node *member = list->first; member; member = member->next) {
        int row = 0;
        const int most = setup->structure.row_count > 0 ? setup->structure.row_count : MECH_MAX_ROWS;
        if (!scenario__whole(build->reader, member, 1, most, &row)) {
            continue;
        }
        if (listed[row - 1]) {
            SCENARIO__SAY(build->reader, member, "row %d is listed twice", row);
            continue;
        }
        listed[row - 1] = true;
        if (is_tensioned_by_trainee(setup, row - 1)) {
            setup->order[setup->order_count++] = row - 1;
        }
    }
    for (int i = 0; i < setup->structure.row_count; i++) {
        if (is_tensioned_by_trainee(setup, i) && !listed[i]) {
            SCENARIO__SAY(build->reader, list, "row %d is to be tensioned but is not in the order", i + 1);
        }
    }
}

static void build_order(const scenario__build *build)
{
    const scenario__node *order = build->file->tension.order;
    int rule = MECH_MIDDLE_OUT;
    if (order && order->kind == SCENARIO__LIST) {
        order_by_list(build, order);
    } else if (!order || scenario__choice(build->reader, order, scenario__order_names, &rule)) {
        order_by_rule(&build->out->setup, (mech_order)rule);
    }
}

/* ---- rounds ---- */

static void read_rounds(const scenario__build *build, const scenario__node *list)
{
    job_setup *setup = &build->out->setup;
    if (!scenario__want(build->reader, list, SCENARIO__LIST,
                        "a list of shares of the target, such as [\"50 %\", \"100 %\"]")) {
        return;
    }
    if (list->count < 1 || list->count > MECH_MAX_ROUNDS) {
        SCENARIO__SAY(build->reader, list, "expected 1 to %d rounds, found %d", MECH_MAX_ROUNDS, list->count);
        return;
    }
    double share = 0;
    for (const scenario__node *member = list->first; member; member = member->next) {
        if (!scenario__quantity(build->reader, member, TR_DIM_RATIO, 0.05, 1, &share)) {
            return;
        }
        if (setup->rounds > 0 && share < setup->round_share[setup->rounds - 1]) {
            SCENARIO__SAY(build->reader, member, "a round asks for less than the one before it");
        }
        setup->round_share[setup->rounds++] = share;
    }
    if (fabs(share - 1) > 1e-9) {
        SCENARIO__SAY(build->reader, list, "the last round must go to 100 %%");
    }
}

static void build_rounds(const scenario__build *build)
{
    job_setup *setup = &build->out->setup;
    if (build->file->tension.rounds) {
        read_rounds(build, build->file->tension.rounds);
        return;
    }
    setup->rounds = 2; /* half, then full: docs/mechanics.md 4 */
    setup->round_share[0] = 0.5;
    setup->round_share[1] = 1.0;
}

/* ---- target and checks ---- */

static void build_target(const scenario__build *build)
{
    const scenario__tension *tension = &build->file->tension;
    job_setup *setup = &build->out->setup;
    setup->target_n = tension->target_n;
    setup->tolerance = tension->tolerance;
    setup->row_limit_n = isnan(tension->limit_n) ? LIMIT_OVER_TARGET * tension->target_n : tension->limit_n;
    if (setup->row_limit_n < setup->target_n * (1 + setup->tolerance)) {
        SCENARIO__SAY(build->reader, scenario__place(build, "tension.limit"),
                      "must be above the target with its tolerance, or a row in tolerance would be over its limit");
    }
    for (int i = 0; i < setup->structure.row_count; i++) {
        if (setup->start_tension_n[i] > setup->row_limit_n) {
            SCENARIO__SAY(build->reader, scenario__place(build, "before"),
                          "the crew before left row %d above the row limit", i + 1);
            break;
        }
    }
    if (tension->hand_tight_n >= tension->target_n) {
        SCENARIO__SAY(build->reader, scenario__place(build, "tension.hand_tight"), "must be below the target");
    }
}

/* ---- coming back ---- */

static void build_after(const scenario__build *build)
{
    const scenario__node *node = build->file->after;
    const int errors = build->reader->errors;
    scenario__after after;
    memset(&after, 0, sizeof after);
    if (!node) {
        return;
    }
    scenario__fill(build->reader, node, &scenario__after_shape, &after);
    if (node->kind != SCENARIO__OBJECT || build->reader->errors > errors) {
        return;
    }
    const double there_k = isnan(after.there_k) ? after.fitted_k : after.there_k;
    const double coolest_k = fmin(after.fitted_k, there_k);
    if (after.coldest_k > coolest_k) {
        SCENARIO__SAY(build->reader, scenario__member(node, "coldest"),
                      "cannot be warmer than the day of the fitting or the day of coming back");
    }
    const double coldest_k = isnan(after.coldest_k) ? coolest_k : after.coldest_k;
    build->out->setup.after = (job_after){after.days, there_k - after.fitted_k, coldest_k - after.fitted_k};
}

void scenario__build_task(const scenario__build *build)
{
    const scenario__checks *checks = &build->file->checks;
    job_setup *setup = &build->out->setup;
    build_target(build);
    build_order(build);
    build_rounds(build);
    build_after(build);
    setup->ball_m = checks->ball_m;
    setup->ball_push_n = checks->ball_push_n;
    setup->guard = (mech_guard_asked){checks->rail_push_n, checks->infill_push_n, checks->infill_side_m};
    setup->par_time_s = isnan(build->file->par_s) ? 60.0 * build->file->minutes : build->file->par_s;
}

/* ---- rubric ---- */

static const scenario_criterion_info CRITERIA[SCENARIO_CRITERIA] = {
#define SCENARIO_CRITERION(NAME, key, STAGE, DIM, weight, full, none) {#key, JOB_STAGE_##STAGE, TR_DIM_##DIM},
#include "tautrow/scenario/criteria.def"
};

static const scenario_band BANDS[SCENARIO_CRITERIA] = {
#define SCENARIO_CRITERION(NAME, key, STAGE, DIM, weight, full, none) {weight, full, none},
#include "tautrow/scenario/criteria.def"
};

const scenario_criterion_info *scenario_criterion_look(scenario_criterion criterion)
{
    return &CRITERIA[criterion];
}

static scenario_criterion criterion_of(const char *key)
{
    int criterion = 0;
    while (criterion < SCENARIO_CRITERIA && strcmp(CRITERIA[criterion].key, key) != 0) {
        criterion++;
    }
    return (scenario_criterion)criterion;
}

/* An end of a band: counts and shares may be plain numbers, since "2 squeezes" is no percentage. */
static void read_band_end(const scenario__build *build, const scenario__node *node, tr_dim dim, double *end)
{
    if (!node) {
        return;
    }
    if (dim == TR_DIM_RATIO && node->kind == SCENARIO__NUMBER) {
        (void)scenario__number(build->reader, node, 0, 1000, end);
    } else {
        (void)scenario__quantity(build->reader, node, dim, 0, 1000, end);
    }
}

static void read_criterion(const scenario__build *build, const scenario__node *entry, scenario_criterion criterion)
{
    scenario_band *band = &build->out->rubric.band[criterion];
    scenario__band read;
    memset(&read, 0, sizeof read);
    scenario__fill(build->reader, entry, &scenario__band_shape, &read);
    band->weight = isnan(read.weight) ? band->weight : read.weight;
    read_band_end(build, read.full, CRITERIA[criterion].dim, &band->full);
    read_band_end(build, read.none, CRITERIA[criterion].dim, &band->none);
    if (fabs(band->full - band->none) <= 0) {
        SCENARIO__SAY(build->reader, entry, "\"full\" and \"none\" are the same: there is no band between them");
    }
}

static void read_criteria(const scenario__build *build, const scenario__node *criteria)
{
    const char *keys[SCENARIO_CRITERIA + 1] = {NULL};
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        keys[i] = CRITERIA[i].key;
    }
    if (!scenario__want(build->reader, criteria, SCENARIO__OBJECT, "an object { } of criteria by name")) {
        return;
    }
    for (const scenario__node *entry = criteria->first; entry; entry = entry->next) {
        const scenario_criterion criterion = criterion_of(entry->key);
        if (criterion == SCENARIO_CRITERIA) {
            scenario__say_unknown(build->reader, entry, entry->key, "a criterion",
                                  scenario__did_you_mean(entry->key, keys));
        } else {
            read_criterion(build, entry, criterion);
        }
    }
}

void scenario__build_rubric(const scenario__build *build)
{
    scenario_rubric *rubric = &build->out->rubric;
    double total = 0;
    rubric->pass_mark = build->file->pass_mark;
    memcpy(rubric->band, BANDS, sizeof BANDS);
    if (build->file->criteria) {
        read_criteria(build, build->file->criteria);
    }
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        total += rubric->band[i].weight;
    }
    if (total <= 0) {
        SCENARIO__SAY(build->reader, build->file->criteria, "no criterion has any weight left");
    }
}
