/* The fittings at the end of a row and the tools for them. */
#include "build.h"

#include <math.h>
#include <string.h>

/* Good speeds where the file gives none: common practice, no source. Shop charts have 1500 rpm for 1/4 to 3/8 in in
 * hardwood, 1500 rpm for 7/16 to 5/8 in in softwood; the driver goes slowly or it runs over. */
static const job_band DRILL_RPM = {800, 1800};
static const job_band DRIVER_RPM = {150, 500};
/* A hole goes a little deeper than the insert is long, for the chips: common practice, no source. */
static const double DEPTH_BEYOND_INSERT_M = 0.125 * TR_INCH_M;
/* Two sizes are the same bit within this: half the step between inch and millimetre sizes of one name. */
static const double SAME_BIT_M = 0.00005;

static void build_turnbuckle(const scenario__build *build)
{
    const scenario__node *node = build->file->part[SCENARIO__TURNBUCKLE];
    job_setup *setup = &build->out->setup;
    scenario__turnbuckle read;
    memset(&read, 0, sizeof read);
    if (!node || !scenario__read_part(build->reader, node, SCENARIO__TURNBUCKLE, &read)) {
        return;
    }
    const mech_turnbuckle turnbuckle = {
        .anchor = {read.anchor.pitch_m, read.anchor.diameter_m, read.friction},
        .cable = {read.cable.pitch_m, read.cable.diameter_m, read.friction},
        .body_m = read.body_m,
        .min_engaged_diameters = read.least_engaged,
        .twist_release = read.twist_release,
    };
    setup->turnbuckle = turnbuckle;
    setup->nominal.anchor_turns = read.anchor.engaged_turns;
    setup->nominal.cable_turns = read.cable.engaged_turns;
    if (setup->nominal.anchor_turns < mech_min_turns(&turnbuckle, &turnbuckle.anchor) ||
        setup->nominal.cable_turns < mech_min_turns(&turnbuckle, &turnbuckle.cable)) {
        SCENARIO__SAY(build->reader, node,
                      "\"engaged\" of a stud is below its least safe engagement (\"least_engaged\")");
    }
}

/* Fills setup->insert; false when there is none to go on with. */
static bool build_insert(const scenario__build *build, scenario__insert *insert)
{
    const scenario__node *node = build->file->part[SCENARIO__INSERT];
    job_setup *setup = &build->out->setup;
    if (!node || !scenario__read_part(build->reader, node, SCENARIO__INSERT, insert)) {
        return false;
    }
    setup->insert.major_m = insert->major_m;
    setup->insert.minor_m = insert->minor_m;
    setup->insert.length_m = insert->length_m;
    setup->insert.flange_m = insert->flange_m;
    setup->structure.insert_n_m = insert->stiffness_n_m / 2; /* one at each end, in series */
    return true;
}

static void build_crimper(const scenario__build *build)
{
    const scenario__node *node = build->file->part[SCENARIO__CRIMPER];
    scenario__crimper read;
    memset(&read, 0, sizeof read);
    if (!node || !scenario__read_part(build->reader, node, SCENARIO__CRIMPER, &read)) {
        return;
    }
    const mech_crimp_kind crimp = {
        .efficiency = read.efficiency,
        .bore_m = read.bore_m,
        .barrel_m = read.barrel_m,
        .crimped_m = read.crimped_m,
        .die_m = read.die_m,
        .best_turn_rad = read.best_turn_rad,
        .one_squeeze = read.one_squeeze,
        .no_turn = read.no_turn,
        .gauge_pass_m = read.gauge_pass_m,
    };
    build->out->setup.crimp = crimp;
}

static void find_right_bit(const scenario__build *build, double wanted_m, const scenario__node *bits)
{
    job_setup *setup = &build->out->setup;
    char size[48];
    for (int i = 0; i < setup->bit_count; i++) {
        if (fabs(setup->bit[i].diameter_m - wanted_m) < SAME_BIT_M) {
            setup->right_bit = i;
            return;
        }
    }
    tr_quantity_text(wanted_m, TR_DIM_LENGTH, build->reader->system, TR_FINE, size, sizeof size);
    SCENARIO__SAY(build->reader, bits, "lacks the right bit for the insert, %s", size);
}

static void build_bits(const scenario__build *build, double wanted_m)
{
    const scenario__node *node = build->file->part[SCENARIO__BITS];
    job_setup *setup = &build->out->setup;
    const int errors = build->reader->errors;
    double diameter_m[JOB_MAX_BITS] = {0};
    scenario__bits read;
    memset(&read, 0, sizeof read);
    if (!node || !scenario__read_part(build->reader, node, SCENARIO__BITS, &read)) {
        return;
    }
    setup->bit_count = scenario__read_bits(build->reader, read.diameters, diameter_m);
    for (int i = 0; i < setup->bit_count; i++) {
        setup->bit[i].diameter_m = diameter_m[i];
    }
    if (build->reader->errors == errors && wanted_m > 0) {
        find_right_bit(build, wanted_m, node);
    }
}

/* "drill_speed": ["800 rpm", "1800 rpm"] */
static job_band read_speeds(const scenario__build *build, const scenario__node *node, job_band missing)
{
    job_band band = missing;
    if (!node ||
        !scenario__want(build->reader, node, SCENARIO__LIST, "a list of the lowest and the highest good speed")) {
        return band;
    }
    if (node->count != 2) {
        SCENARIO__SAY(build->reader, node, "expected two speeds, the lowest and the highest good one");
        return band;
    }
    const bool is_low = scenario__quantity(build->reader, node->first, TR_DIM_SPEED, 50, 4000, &band.low);
    const bool is_high = scenario__quantity(build->reader, node->first->next, TR_DIM_SPEED, 50, 4000, &band.high);
    if (is_low && is_high && band.low >= band.high) {
        SCENARIO__SAY(build->reader, node, "the first speed must be the lower one");
    }
    return band;
}

/* The asked depth against the insert and the post. */
static void check_depth(const scenario__build *build, const scenario__node *place)
{
    const job_setup *setup = &build->out->setup;
    const mech_post *post = &setup->structure.post[MECH_NEAR];
    if (setup->hole_depth_m < setup->insert.length_m) {
        SCENARIO__SAY(build->reader, place, "the hole is less deep than the insert is long");
    }
    if (post->depth_m > 0 && setup->hole_depth_m >= post->depth_m) {
        SCENARIO__SAY(build->reader, place, "the bit would come out at the back of the post");
    }
}

static void build_drilling(const scenario__build *build, const scenario__insert *insert, bool has_insert)
{
    const scenario__drilling *drilling = &build->file->drilling;
    const mech_post *post = &build->out->setup.structure.post[MECH_NEAR];
    job_setup *setup = &build->out->setup;
    setup->drill_rpm = read_speeds(build, drilling->drill_speed, DRILL_RPM);
    setup->driver_rpm = read_speeds(build, drilling->driver_speed, DRIVER_RPM);
    setup->edge_m = isnan(drilling->edge_m) ? post->breadth_m / 2 : drilling->edge_m;
    if (post->breadth_m > 0 && setup->edge_m > post->breadth_m / 2 * (1 + 1e-9)) {
        SCENARIO__SAY(build->reader, scenario__place(build, "drilling.edge"),
                      "is more than half the post's breadth: it counts from the nearer edge");
    }
    if (has_insert) {
        setup->hole_depth_m = isnan(drilling->depth_m) ? insert->length_m + DEPTH_BEYOND_INSERT_M : drilling->depth_m;
        check_depth(build, scenario__place(build, isnan(drilling->depth_m) ? "insert" : "drilling.depth"));
    }
}

void scenario__build_fittings(const scenario__build *build)
{
    const scenario__file *file = build->file;
    job_setup *setup = &build->out->setup;
    scenario__insert insert;
    memset(&insert, 0, sizeof insert);
    build_turnbuckle(build);
    build_crimper(build);
    const bool has_insert = build_insert(build, &insert);
    const double wanted_m = !isnan(file->drilling.bit_m) ? file->drilling.bit_m : has_insert ? insert.bit_m : 0.0;
    build_bits(build, wanted_m);
    build_drilling(build, &insert, has_insert);
    setup->hand_pull_n = file->hand_pull_n;
    setup->hand_tight_n = file->tension.hand_tight_n;
    setup->pin_limit_n_m = file->tension.pin_limit_n_m;
    setup->cutter_count = file->tools.cutters;
    setup->right_cutter = 0;
    setup->gauge_bias = file->tools.gauge_bias;
    setup->gauge_scatter = file->tools.gauge_scatter;
}
