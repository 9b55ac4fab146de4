/* Rows: where they are, who does what to them, in which order, and what the crew before got wrong. Files count rows
 * from 1, the program from 0. */
#include "build.h"

#include <math.h>
#include <string.h>

static int row_count(const scenario__build *build)
{
    return build->out->setup.structure.row_count;
}

/* ---- heights ---- */

static void read_heights(const scenario__build *build, const scenario__node *list)
{
    mech_structure *structure = &build->out->setup.structure;
    const scenario__node *rows = list->parent;
    if (scenario__member(rows, "count") || scenario__member(rows, "first") || scenario__member(rows, "spacing")) {
        SCENARIO__SAY(build->reader, list, "give either \"heights\" or \"count\", \"first\" and \"spacing\", not both");
    }
    if (!scenario__want(build->reader, list, SCENARIO__LIST, "a list of row heights")) {
        return;
    }
    if (list->count < 1 || list->count > MECH_MAX_ROWS) {
        SCENARIO__SAY(build->reader, list, "expected 1 to %d rows, found %d", MECH_MAX_ROWS, list->count);
        return;
    }
    for (const scenario__node *height = list->first; height; height = height->next) {
        double *const to = &structure->row_height_m[structure->row_count++];
        if (!scenario__quantity(build->reader, height, TR_DIM_LENGTH, 0.25 * TR_INCH_M, 8 * TR_FOOT_M, to)) {
            *to = (double)NAN;
        } else if (structure->row_count > 1 && *to <= to[-1]) {
            SCENARIO__SAY(build->reader, height, "rows are listed from the lowest up, each higher than the one before");
        }
    }
}

static void space_out(const scenario__build *build)
{
    const scenario__rows *rows = &build->file->rows;
    const scenario__node *node = scenario__place(build, "rows");
    mech_structure *structure = &build->out->setup.structure;
    const double first_m = isnan(rows->first_m) ? rows->spacing_m : rows->first_m;
    if (rows->count == 0 && node->kind == SCENARIO__OBJECT && node->parent && !scenario__member(node, "count")) {
        SCENARIO__SAY(build->reader, node, "\"count\" is missing in the rows (or \"heights\", a list)");
    }
    structure->row_count = rows->count;
    for (int i = 0; i < rows->count; i++) {
        structure->row_height_m[i] = first_m + i * rows->spacing_m;
    }
}

static const scenario__node *member_at(const scenario__node *list, int index)
{
    const scenario__node *member = list ? list->first : NULL;
    while (member && member->index < index) {
        member = member->next;
    }
    return member;
}

/* A row that is asked for at the rail's own height is not below it, whatever rounding says. */
static const double LEAST_BELOW_RAIL_M = 1e-6;

static void check_below_rail(const scenario__build *build)
{
    const mech_structure *structure = &build->out->setup.structure;
    const scenario__rail *rail = &build->file->rail;
    for (int i = 0; rail->is_fitted && i < structure->row_count; i++) {
        if (structure->row_height_m[i] > rail->height_m - LEAST_BELOW_RAIL_M) {
            char row[48];
            char top[48];
            const scenario__node *listed = member_at(build->file->rows.heights, i);
            tr_quantity_text(structure->row_height_m[i], TR_DIM_LENGTH, build->reader->system, TR_FINE, row,
                             sizeof row);
            tr_quantity_text(rail->height_m, TR_DIM_LENGTH, build->reader->system, TR_FINE, top, sizeof top);
            SCENARIO__SAY(build->reader, listed ? listed : scenario__place(build, "rows.count"),
                          "row %d at %s is not below the rail at %s", i + 1, row, top);
            return;
        }
    }
}

/* ---- lists of rows ---- */

/* Marks the rows of "all" or of a list of row numbers. Returns false with errors listed when it is neither. */
static bool read_row_list(const scenario__build *build, const scenario__node *node, bool marked[MECH_MAX_ROWS])
{
    bool is_sound = true;
    if (node->kind == SCENARIO__STRING && strcmp(node->text, "all") == 0) {
        for (int i = 0; i < row_count(build); i++) {
            marked[i] = true;
        }
        return true;
    }
    if (!scenario__want(build->reader, node, SCENARIO__LIST, "a list of row numbers (1 is the lowest), or \"all\"")) {
        return false;
    }
    for (const scenario__node *member = node->first; member; member = member->next) {
        int row = 0;
        if (!scenario__whole(build->reader, member, 1, row_count(build) > 0 ? row_count(build) : MECH_MAX_ROWS, &row)) {
            is_sound = false;
        } else if (marked[row - 1]) {
            SCENARIO__SAY(build->reader, member, "row %d is listed twice", row);
            is_sound = false;
        } else {
            marked[row - 1] = true;
        }
    }
    return is_sound;
}

/* ---- what was done before ---- */

static void apply_before(const scenario__build *build, const scenario__node *entry, bool taken[MECH_MAX_ROWS])
{
    job_setup *setup = &build->out->setup;
    scenario__before before;
    bool marked[MECH_MAX_ROWS] = {false};
    memset(&before, 0, sizeof before);
    scenario__fill(build->reader, entry, &scenario__before_shape, &before);
    if (!before.rows || !read_row_list(build, before.rows, marked)) {
        return;
    }
    if (!isnan(before.tension_n) && before.stage <= JOB_STAGE_TENSION) {
        SCENARIO__SAY(build->reader, scenario__member(entry, "tension"),
                      "rows that still need stage \"%s\" have no tension yet", scenario__stage_names[before.stage]);
    }
    for (int i = 0; i < row_count(build); i++) {
        if (!marked[i]) {
            continue;
        }
        if (taken[i]) {
            SCENARIO__SAY(build->reader, before.rows, "row %d is in an earlier entry already", i + 1);
            return;
        }
        taken[i] = true;
        setup->start_stage[i] = (job_stage)before.stage;
        setup->start_tension_n[i] = before.stage <= JOB_STAGE_TENSION ? 0.0
                                    : isnan(before.tension_n)         ? build->file->tension.target_n
                                                                      : before.tension_n;
    }
}

/* A row is the trainee's when it is listed under "trainee"; without the list, every row that the crew before did not
 * finish. A row that is neither the trainee's nor in "before" is done. */
static void share_out(const scenario__build *build)
{
    const scenario__node *const trainee = build->file->rows.trainee;
    const scenario__node *const before = build->file->before;
    job_setup *setup = &build->out->setup;
    bool taken[MECH_MAX_ROWS] = {false};
    if (trainee) {
        (void)read_row_list(build, trainee, setup->is_trainees);
    }
    for (int i = 0; i < row_count(build); i++) {
        const bool is_open = !trainee || setup->is_trainees[i];
        setup->start_stage[i] = is_open ? JOB_STAGE_MARK : JOB_STAGE_COUNT;
        setup->start_tension_n[i] = is_open ? 0.0 : build->file->tension.target_n;
    }
    if (before && scenario__want(build->reader, before, SCENARIO__LIST, "a list")) {
        for (const scenario__node *entry = before->first; entry; entry = entry->next) {
            apply_before(build, entry, taken);
        }
    }
    for (int i = 0; !trainee && i < row_count(build); i++) {
        setup->is_trainees[i] = setup->start_stage[i] < JOB_STAGE_COUNT;
    }
}

static void check_shares(const scenario__build *build)
{
    const job_setup *setup = &build->out->setup;
    bool is_any = false;
    for (int i = 0; i < row_count(build); i++) {
        is_any = is_any || setup->is_trainees[i];
        if (!setup->is_trainees[i] && setup->start_stage[i] < JOB_STAGE_COUNT) {
            SCENARIO__SAY(build->reader, build->file->rows.trainee,
                          "row %d is left unfinished by the crew before, but is not among the trainee's", i + 1);
        }
    }
    /* finding faults, or bringing the run up after some days, is work enough */
    const bool has_work = build->file->after || (build->file->faults && build->file->faults->count > 0);
    if (!is_any && !has_work && row_count(build) > 0 && build->reader->errors == 0) {
        SCENARIO__SAY(build->reader, scenario__place(build, "rows"), "no row is left for the trainee, and no fault");
    }
}

void scenario__build_rows(const scenario__build *build)
{
    if (build->file->rows.heights) {
        read_heights(build, build->file->rows.heights);
    } else {
        space_out(build);
    }
    check_below_rail(build);
    share_out(build);
    check_shares(build);
}

/* ---- faults ---- */

/* How a fault's amount is written, and how far the crew before must have come for it to be there. */
typedef struct fault_kind {
    bool has_amount;
    tr_dim dim;
    double least, most;
    double missing; /* assumption: a slip that is plain to see or to measure */
    job_stage done; /* first stage that the row may still need */
} fault_kind;

static const fault_kind FAULTS[JOB_FAULT_KINDS] = {
    [JOB_FAULT_UNSEATED] = {true, TR_DIM_LENGTH, 0.0005, 0.05, 0.008, JOB_STAGE_JOIN},
    [JOB_FAULT_ONE_SQUEEZE] = {.done = JOB_STAGE_JOIN},
    [JOB_FAULT_NO_TURN] = {.done = JOB_STAGE_JOIN},
    [JOB_FAULT_TWISTED] = {true, TR_DIM_TURNS, 0.25, 30, 3, JOB_STAGE_TENSION},
    [JOB_FAULT_FEW_THREADS] = {true, TR_DIM_TURNS, 0.5, 20, 3, JOB_STAGE_TENSION},
    [JOB_FAULT_BIG_BIT] = {true, TR_DIM_LENGTH, 0.0001, 0.006, 0.0016, JOB_STAGE_ASSEMBLE},
    [JOB_FAULT_WET_POST] = {.done = JOB_STAGE_MARK},
};

static bool check_fault_row(const scenario__build *build, const scenario__node *entry, const scenario__fault *fault)
{
    const job_setup *setup = &build->out->setup;
    const scenario__node *row = scenario__member(entry, "row");
    if (fault->kind == JOB_FAULT_WET_POST) {
        if (row) {
            SCENARIO__SAY(build->reader, row, "a wet post is a fault of the whole post: leave \"row\" out");
        }
        return !row;
    }
    if (!row) {
        SCENARIO__SAY(build->reader, entry, "\"row\" is missing in a fault");
        return false;
    }
    if (fault->row < 1) {
        return false; /* said already */
    }
    if (fault->row > row_count(build)) {
        SCENARIO__SAY(build->reader, row, "there is no row %d: there are %d rows", fault->row, row_count(build));
        return false;
    }
    if (setup->start_stage[fault->row - 1] < FAULTS[fault->kind].done) {
        SCENARIO__SAY(build->reader, row, "row %d is not done so far by the crew before that it could have this fault",
                      fault->row);
        return false;
    }
    return true;
}

static bool read_amount(const scenario__build *build, const scenario__fault *fault, double *amount)
{
    const fault_kind *kind = &FAULTS[fault->kind];
    *amount = kind->missing;
    if (!fault->amount) {
        return true;
    }
    if (!kind->has_amount) {
        SCENARIO__SAY(build->reader, fault->amount, "a fault of this kind has no amount");
        return false;
    }
    return scenario__quantity(build->reader, fault->amount, kind->dim, kind->least, kind->most, amount);
}

static void add_fault(const scenario__build *build, const scenario__node *entry)
{
    job_setup *setup = &build->out->setup;
    const int errors = build->reader->errors;
    double amount = 0;
    scenario__fault fault;
    memset(&fault, 0, sizeof fault);
    scenario__fill(build->reader, entry, &scenario__fault_shape, &fault);
    if (build->reader->errors > errors || !check_fault_row(build, entry, &fault) ||
        !read_amount(build, &fault, &amount)) {
        return;
    }
    const int row = fault.kind == JOB_FAULT_WET_POST ? -1 : fault.row - 1;
    for (int i = 0; i < setup->fault_count; i++) {
        if (setup->fault[i].kind == (job_fault_kind)fault.kind && setup->fault[i].row == row) {
            SCENARIO__SAY(build->reader, entry, "this fault is planted already");
            return;
        }
    }
    const job_fault planted = {(job_fault_kind)fault.kind, row, amount};
    setup->fault[setup->fault_count++] = planted;
}

void scenario__build_faults(const scenario__build *build)
{
    const scenario__node *list = build->file->faults;
    if (!list || !scenario__want(build->reader, list, SCENARIO__LIST, "a list of faults")) {
        return;
    }
    if (list->count > JOB_MAX_FAULTS) {
        SCENARIO__SAY(build->reader, list, "more than %d faults", JOB_MAX_FAULTS);
        return;
    }
    for (const scenario__node *entry = list->first; entry; entry = entry->next) {
        add_fault(build, entry);
    }
}
