/* Tables of the scenario file: every key with its type, range and default. Changing one here means changing
 * docs/scenario.schema.json too; tests/scenario/test_schema.c compares the two.
 *
 * Defaults are for what a beginner would not know: common practice, no source, unless a comment names one. */
#include "fields.h"

#include "table.h"

const char *const scenario__system_names[] = {"us", "si", NULL};
const char *const scenario__stage_names[] = {"read", "mark",    "drill", "insert",    "assemble", "cut", "crimp",
                                             "join", "tension", "check", "hand_over", "done",     NULL};
const char *const scenario__end_names[] = {"near", "far", NULL};
const char *const scenario__order_names[] = {"middle_out", "top_down", "bottom_up", "outside_in", NULL};
const char *const scenario__fault_names[] = {"unseated",    "one_squeeze", "no_turn",  "twisted",
                                             "few_threads", "big_bit",     "wet_post", NULL};

_Static_assert(sizeof scenario__stage_names / sizeof scenario__stage_names[0] == JOB_STAGE_COUNT + 2,
               "a name for each stage");
_Static_assert(sizeof scenario__fault_names / sizeof scenario__fault_names[0] == JOB_FAULT_KINDS + 1,
               "a name for each fault");
_Static_assert(sizeof scenario__order_names / sizeof scenario__order_names[0] == MECH_ORDER_LIST + 1,
               "a name for each rule");

static const scenario__field post_fields[] = {
    FLAG(scenario__post, "rigid", is_rigid, 0),
    QUANTITY(scenario__post, "depth", depth_m, LENGTH, 1 * TR_INCH_M, 12 * TR_INCH_M, 3.5 * TR_INCH_M),
    QUANTITY(scenario__post, "breadth", breadth_m, LENGTH, 1 * TR_INCH_M, 12 * TR_INCH_M, NONE),
    RAW(scenario__post, "species", species, &scenario__part_shape[SCENARIO__SPECIES]),
    FLAG(scenario__post, "wet", is_wet, 0),
    RAW(scenario__post, "base", base, &scenario__part_shape[SCENARIO__BASE]),
};
const scenario__shape scenario__post_shape = SHAPE("a post", post_fields);

/* Friction of steel in bare wood: 0.2 to 0.6 (engineering handbooks, from memory). */
static const scenario__field bend_fields[] = {
    NEED_WHOLE(scenario__bend, "line_post", line_post, 1, MECH_MAX_BAYS - 1),
    NEED_QUANTITY(scenario__bend, "angle", angle_rad, ANGLE, 0, TR_PI),
    QUANTITY(scenario__bend, "friction", friction, RATIO, 0, 1, 0.3),
};
const scenario__shape scenario__bend_shape = SHAPE("a bend", bend_fields);

static const scenario__field corner_fields[] = {
    NEED_CHOICE(scenario__corner, "post", post, scenario__end_names),
    NEED_QUANTITY(scenario__corner, "tension", tension_n, FORCE, 0, 5000 * TR_LBF_N),
    NEED_QUANTITY(scenario__corner, "length", length_m, LENGTH, 1 * TR_FOOT_M, 100 * TR_FOOT_M),
    QUANTITY(scenario__corner, "raise", raise_m, LENGTH, -6 * TR_INCH_M, 6 * TR_INCH_M, 0),
};
const scenario__shape scenario__corner_shape = SHAPE("the corner", corner_fields);

static const scenario__field run_fields[] = {
    QUANTITY(scenario__run, "length", length_m, LENGTH, 1 * TR_FOOT_M, 100 * TR_FOOT_M, NONE),
    WHOLE(scenario__run, "line_posts", line_posts, 0, MECH_MAX_BAYS - 1, 0),
    RAW(scenario__run, "bays", bays, NULL),
    NEED_INSIDE(scenario__run, "near_post", near, scenario__post_shape),
    RAW(scenario__run, "far_post", far, &scenario__post_shape),
    /* Along the grain: Wood Handbook, USDA FPL-GTR-282, chapter 4 (from memory). */
    QUANTITY(scenario__run, "expansion", expansion_1_k, EXPANSION, 0, 40e-6, 4e-6),
    QUANTITY(scenario__run, "slope", slope_rad, ANGLE, 0, TR_PI / 3, 0),
    CHOICE(scenario__run, "upper", upper, scenario__end_names, MECH_FAR),
    RAW(scenario__run, "bends", bends, &scenario__bend_shape),
    RAW(scenario__run, "corner", corner, &scenario__corner_shape),
};
static const scenario__shape run_shape = SHAPE("the run", run_fields);

static const scenario__field rail_fields[] = {
    FLAG(scenario__rail, "fitted", is_fitted, 1),
    QUANTITY(scenario__rail, "height", height_m, LENGTH, 1 * TR_FOOT_M, 8 * TR_FOOT_M, 36 * TR_INCH_M),
    QUANTITY(scenario__rail, "depth", depth_m, LENGTH, 0.5 * TR_INCH_M, 12 * TR_INCH_M, 1.5 * TR_INCH_M),
    QUANTITY(scenario__rail, "breadth", breadth_m, LENGTH, 0.5 * TR_INCH_M, 12 * TR_INCH_M, 3.5 * TR_INCH_M),
    RAW(scenario__rail, "species", species, &scenario__part_shape[SCENARIO__SPECIES]),
    QUANTITY(scenario__rail, "ea", ea_n, FORCE, 1e5, 1e10, NONE),
    ENDLESS(scenario__rail, "joint", joint_n_m, STIFFNESS, 1e4, 1e10, 1e7, "tight"),
    ENDLESS(scenario__rail, "joint_capacity", joint_capacity_n, FORCE, 10, 1e6, (double)INFINITY, "not given"),
};
static const scenario__shape rail_shape = SHAPE("the rail", rail_fields);

static const scenario__field rows_fields[] = {
    WHOLE(scenario__rows, "count", count, 1, MECH_MAX_ROWS, NONE),
    QUANTITY(scenario__rows, "first", first_m, LENGTH, 0.25 * TR_INCH_M, 8 * TR_FOOT_M, NONE),
    QUANTITY(scenario__rows, "spacing", spacing_m, LENGTH, 0.5 * TR_INCH_M, 2 * TR_FOOT_M, 3 * TR_INCH_M),
    RAW(scenario__rows, "heights", heights, NULL),
    RAW(scenario__rows, "trainee", trainee, NULL),
};
static const scenario__shape rows_shape = SHAPE("the rows", rows_fields);

static const scenario__field drilling_fields[] = {
    QUANTITY(scenario__drilling, "bit", bit_m, LENGTH, 0.125 * TR_INCH_M, 1 * TR_INCH_M, NONE),
    QUANTITY(scenario__drilling, "depth", depth_m, LENGTH, 0.25 * TR_INCH_M, 7 * TR_INCH_M, NONE),
    RAW(scenario__drilling, "drill_speed", drill_speed, NULL),
    RAW(scenario__drilling, "driver_speed", driver_speed, NULL),
    QUANTITY(scenario__drilling, "edge", edge_m, LENGTH, 0.25 * TR_INCH_M, 6 * TR_INCH_M, NONE),
};
static const scenario__shape drilling_shape = SHAPE("the drilling", drilling_fields);

static const scenario__field cutting_fields[] = {
    QUANTITY(scenario__file, "hand_pull", hand_pull_n, FORCE, 1 * TR_LBF_N, 80 * TR_LBF_N, 20 * TR_LBF_N),
};
static const scenario__shape cutting_shape = SHAPE("the cutting", cutting_fields);

static const scenario__field tension_fields[] = {
    NEED_QUANTITY(scenario__tension, "target", target_n, FORCE, 10 * TR_LBF_N, 5000 * TR_LBF_N),
    QUANTITY(scenario__tension, "tolerance", tolerance, RATIO, 0.01, 0.5, 0.1),
    QUANTITY(scenario__tension, "limit", limit_n, FORCE, 10 * TR_LBF_N, 10000 * TR_LBF_N, NONE),
    RAW(scenario__tension, "order", order, NULL),
    RAW(scenario__tension, "rounds", rounds, NULL),
    QUANTITY(scenario__tension, "hand_tight", hand_tight_n, FORCE, 1 * TR_LBF_N, 40 * TR_LBF_N, 15 * TR_LBF_N),
    QUANTITY(scenario__tension, "pin_limit", pin_limit_n_m, MOMENT, 0.5, 100, 10),
};
static const scenario__shape tension_shape = SHAPE("the tension", tension_fields);

/* Ball: 2018 IRC R312.1.3. Rail and infill: IRC Table R301.5. The push on the ball differs from place to place: no
 * source. */
static const scenario__field checks_fields[] = {
    QUANTITY(scenario__checks, "ball", ball_m, LENGTH, 0.02, 0.5, 4 * TR_INCH_M),
    QUANTITY(scenario__checks, "ball_push", ball_push_n, FORCE, 0, 200 * TR_LBF_N, 7 * TR_LBF_N),
    QUANTITY(scenario__checks, "rail_push", rail_push_n, FORCE, 0, 1000 * TR_LBF_N, 200 * TR_LBF_N),
    QUANTITY(scenario__checks, "infill_push", infill_push_n, FORCE, 0, 500 * TR_LBF_N, 50 * TR_LBF_N),
    QUANTITY(scenario__checks, "infill_side", infill_side_m, LENGTH, 0.05, 1, 12 * TR_INCH_M),
};
static const scenario__shape checks_shape = SHAPE("the checks", checks_fields);

static const scenario__field tools_fields[] = {
    QUANTITY(scenario__tools, "gauge_bias", gauge_bias, RATIO, -0.2, 0.2, 0),
    QUANTITY(scenario__tools, "gauge_scatter", gauge_scatter, RATIO, 0, 0.2, 0.02),
    WHOLE(scenario__tools, "cutters", cutters, 1, JOB_MAX_CUTTERS, JOB_MAX_CUTTERS),
};
static const scenario__shape tools_shape = SHAPE("the tools", tools_fields);

static const scenario__field before_fields[] = {
    NEED_RAW(scenario__before, "rows", rows, NULL),
    NEED_CHOICE(scenario__before, "stage", stage, scenario__stage_names),
    QUANTITY(scenario__before, "tension", tension_n, FORCE, 1, 10000 * TR_LBF_N, NONE),
};
const scenario__shape scenario__before_shape = SHAPE("what was done before", before_fields);

#define KELVIN_OF_68_F ((68 + 459.67) / 1.8)

static const scenario__field after_fields[] = {
    NEED_QUANTITY(scenario__after, "days", days, DAYS, 1, 3650),
    QUANTITY(scenario__after, "fitted_at", fitted_k, TEMPERATURE, 230, 345, KELVIN_OF_68_F),
    QUANTITY(scenario__after, "temperature", there_k, TEMPERATURE, 230, 345, NONE),
    QUANTITY(scenario__after, "coldest", coldest_k, TEMPERATURE, 200, 345, NONE),
};
const scenario__shape scenario__after_shape = SHAPE("coming back", after_fields);

static const scenario__field fault_fields[] = {
    NEED_CHOICE(scenario__fault, "kind", kind, scenario__fault_names),
    WHOLE(scenario__fault, "row", row, 1, MECH_MAX_ROWS, NONE),
    RAW(scenario__fault, "amount", amount, NULL),
};
const scenario__shape scenario__fault_shape = SHAPE("a fault", fault_fields);

static const scenario__field band_fields[] = {
    PLAIN(scenario__band, "weight", weight, 0, 100, NONE),
    RAW(scenario__band, "full", full, NULL),
    RAW(scenario__band, "none", none, NULL),
};
const scenario__shape scenario__band_shape = SHAPE("a criterion", band_fields);

static const scenario__field rubric_fields[] = {
    PLAIN(scenario__file, "pass_mark", pass_mark, 0, 100, 70),
    RAW(scenario__file, "criteria", criteria, &scenario__band_shape),
};
static const scenario__shape rubric_shape = SHAPE("the rubric", rubric_fields);

/* Keys whose values land in scenario__file itself although they stand in an object of their own. */
#define FLAT(k, shape)                                                                                                 \
    {                                                                                                                  \
        .key = (k), .type = SCENARIO__INSIDE, .offset = 0, .missing = NONE, .inside = &(shape)                         \
    }

static const scenario__field file_fields[] = {
    RAW(scenario__file, "$schema", schema, NULL),
    NEED_RAW(scenario__file, "format", format, NULL),
    NEED_TEXT(scenario__file, "id", id, ID),
    NEED_TEXT(scenario__file, "title", title, TITLE),
    TEXT(scenario__file, "place", place, TITLE),
    TEXT(scenario__file, "story", story, STORY),
    WHOLE(scenario__file, "difficulty", difficulty, 1, 3, 2),
    NEED_WHOLE(scenario__file, "minutes", minutes, 1, 600),
    QUANTITY(scenario__file, "par", par_s, TIME, 60, 36000, NONE),
    CHOICE(scenario__file, "units", units, scenario__system_names, TR_US),
    WHOLE(scenario__file, "seed", seed, 0, 2147483647, 1),
    NEED_INSIDE(scenario__file, "run", run, run_shape),
    NEED_INSIDE(scenario__file, "rail", rail, rail_shape),
    NEED_INSIDE(scenario__file, "rows", rows, rows_shape),
    NEED_RAW(scenario__file, "strand", part[SCENARIO__STRAND], &scenario__part_shape[SCENARIO__STRAND]),
    NEED_RAW(scenario__file, "turnbuckle", part[SCENARIO__TURNBUCKLE], &scenario__part_shape[SCENARIO__TURNBUCKLE]),
    NEED_RAW(scenario__file, "insert", part[SCENARIO__INSERT], &scenario__part_shape[SCENARIO__INSERT]),
    NEED_RAW(scenario__file, "bits", part[SCENARIO__BITS], &scenario__part_shape[SCENARIO__BITS]),
    NEED_RAW(scenario__file, "crimper", part[SCENARIO__CRIMPER], &scenario__part_shape[SCENARIO__CRIMPER]),
    INSIDE(scenario__file, "drilling", drilling, drilling_shape),
    FLAT("cutting", cutting_shape),
    NEED_INSIDE(scenario__file, "tension", tension, tension_shape),
    INSIDE(scenario__file, "checks", checks, checks_shape),
    INSIDE(scenario__file, "tools", tools, tools_shape),
    RAW(scenario__file, "before", before, &scenario__before_shape),
    RAW(scenario__file, "after", after, &scenario__after_shape),
    RAW(scenario__file, "faults", faults, &scenario__fault_shape),
    FLAT("rubric", rubric_shape),
};
const scenario__shape scenario__file_shape = SHAPE("a scenario", file_fields);
