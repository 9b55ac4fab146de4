/* Posts, rail and strand of a scenario: from table values to the stiffnesses and reference values that the mechanics
 * works with.
 *
 * Modulus of a post (docs/mechanics.md 1). The model has a shear term of its own, so the modulus must be free of shear:
 *   graded lumber  1.03 times the reference modulus: the factor by which the design standard takes the shear of its
 * bending tests out of E (NDS 2018 appendix D, eq. D-4); clear wood     1.10 times the handbook's table value (Wood
 * Handbook, USDA FPL-GTR-282, chapter 5), for wood that is not graded. Never both: a graded value wins where an entry
 * has the two. */
#include "build.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/text.h"

static const double SHEAR_FREE_GRADED = 1.03;
static const double SHEAR_FREE_CLEAR = 1.10;
/* A standing pull is permanent load: NDS 2018 Table 2.3.2. */
static const double DURATION_PERMANENT = 0.9;

const scenario__node *scenario__place(const scenario__build *build, const char *path)
{
    const scenario__node *node = build->root;
    while (*path) {
        char key[32];
        const size_t length = strcspn(path, ".");
        (void)tr_format(key, sizeof key, "%.*s", (int)length, path);
        const scenario__node *next = scenario__member(node, key);
        if (!next) {
            break;
        }
        node = next;
        path += length + (path[length] == '.');
    }
    return node;
}

/* ---- posts ---- */

static double post_modulus(const scenario__species *species, bool is_wet)
{
    const double modulus = isnan(species->elastic_pa) ? SHEAR_FREE_CLEAR * species->clear_elastic_pa
                                                      : SHEAR_FREE_GRADED * species->elastic_pa;
    return modulus * (is_wet ? species->wet_elastic : 1.0);
}

static void fill_post(const scenario__post *post, const scenario__species *species, const scenario__base *base,
                      mech_post *out)
{
    out->is_rigid = post->is_rigid;
    out->depth_m = post->depth_m;
    out->breadth_m = isnan(post->breadth_m) ? post->depth_m : post->breadth_m;
    out->elastic_pa = post_modulus(species, post->is_wet);
    out->shear_pa = out->elastic_pa / species->shear_ratio;
    out->base_n_m_rad = base->stiffness_n_m_rad;
}

static mech_post_limits post_limits(const scenario__post *post, const scenario__species *species,
                                    const scenario__base *base)
{
    mech_post_limits limits = {(double)INFINITY, (double)INFINITY, (double)INFINITY};
    if (!post->is_rigid) {
        limits.bending_pa = mech_bending_adjusted(species->bending_pa, species->size_factor,
                                                  post->is_wet ? species->wet_bending : 1.0, DURATION_PERMANENT);
        limits.base_n_m = base->capacity_n_m;
    }
    return limits;
}

/* Stand-in for the wood of a rigid end, so that every number of the structure is a sound one. */
static scenario__species no_species(void)
{
    const scenario__species stand_in = {
        .elastic_pa = 200e9, .clear_elastic_pa = (double)NAN, .shear_ratio = 2.6, .wet_elastic = 1};
    return stand_in;
}

/* A rigid end may leave species and base out; another may not. The near post always needs a species: its inserts sit in
 * it. */
static bool read_post_parts(const scenario__build *build, const scenario__post *post, mech_end end,
                            scenario__species *species, scenario__base *base)
{
    const scenario__node *node = scenario__place(build, end == MECH_NEAR ? "run.near_post" : "run.far_post");
    bool is_sound = true;
    *species = no_species();
    base->stiffness_n_m_rad = (double)INFINITY;
    base->capacity_n_m = (double)INFINITY;
    if (post->species) {
        is_sound = scenario__read_part(build->reader, post->species, SCENARIO__SPECIES, species);
    } else if (end == MECH_NEAR || !post->is_rigid) {
        SCENARIO__SAY(build->reader, node, "\"species\" is missing in a post");
        is_sound = false;
    }
    if (post->base) {
        is_sound = scenario__read_part(build->reader, post->base, SCENARIO__BASE, base) && is_sound;
    } else if (!post->is_rigid) {
        SCENARIO__SAY(build->reader, node, "\"base\" is missing in a post");
        is_sound = false;
    }
    return is_sound;
}

static void build_wood(const scenario__build *build, const scenario__post *post, const scenario__species *species)
{
    job_setup *setup = &build->out->setup;
    build->out->species = species->label.name;
    setup->wood.gravity = species->gravity;
    setup->wood.wet_factor = post->is_wet ? species->wet_withdrawal : 1.0;
    setup->wood.duration_factor = DURATION_PERMANENT;
    setup->creep_k_def = post->is_wet ? species->creep_wet : species->creep_dry;
    setup->creep_exponent = species->creep_exponent;
}

static void build_post(const scenario__build *build, const scenario__post *post, mech_end end)
{
    job_setup *setup = &build->out->setup;
    scenario__species species;
    scenario__base base;
    memset(&species, 0, sizeof species);
    memset(&base, 0, sizeof base);
    if (!read_post_parts(build, post, end, &species, &base)) {
        return;
    }
    fill_post(post, &species, &base, &setup->structure.post[end]);
    setup->limits[end] = post_limits(post, &species, &base);
    setup->limits[end].rail_joint_n =
        build->file->rail.is_fitted ? build->file->rail.joint_capacity_n : (double)INFINITY;
    if (end == MECH_NEAR) {
        build_wood(build, post, &species);
    }
}

static void build_posts(const scenario__build *build)
{
    job_setup *setup = &build->out->setup;
    build_post(build, &build->file->run.near, MECH_NEAR);
    if (build->file->run.far) {
        scenario__post far;
        memset(&far, 0, sizeof far);
        scenario__fill(build->reader, build->file->run.far, &scenario__post_shape, &far);
        if (build->file->run.far->kind == SCENARIO__OBJECT) {
            build_post(build, &far, MECH_FAR);
        }
    } else {
        setup->structure.post[MECH_FAR] = setup->structure.post[MECH_NEAR];
        setup->limits[MECH_FAR] = setup->limits[MECH_NEAR];
    }
}

/* ---- bays, rail, strand ---- */

static void build_listed_bays(const scenario__build *build, const scenario__node *list)
{
    mech_structure *structure = &build->out->setup.structure;
    const scenario__node *const other = scenario__member(list->parent, "length");
    if (other || scenario__member(list->parent, "line_posts")) {
        SCENARIO__SAY(build->reader, list, "give either \"bays\" or \"length\" with \"line_posts\", not both");
    }
    if (!scenario__want(build->reader, list, SCENARIO__LIST, "a list of bay lengths")) {
        return;
    }
    if (list->count < 1 || list->count > MECH_MAX_BAYS) {
        SCENARIO__SAY(build->reader, list, "expected 1 to %d bays, found %d", MECH_MAX_BAYS, list->count);
        return;
    }
    for (const scenario__node *bay = list->first; bay; bay = bay->next) {
        (void)scenario__quantity(build->reader, bay, TR_DIM_LENGTH, 0.5 * TR_FOOT_M, 40 * TR_FOOT_M,
                                 &structure->bay_m[structure->bay_count]);
        structure->bay_count++;
    }
}

static void build_bays(const scenario__build *build)
{
    const scenario__run *run = &build->file->run;
    mech_structure *structure = &build->out->setup.structure;
    structure->slope_rad = run->slope_rad;
    structure->upper = (mech_end)run->upper;
    if (run->bays) {
        build_listed_bays(build, run->bays);
        return;
    }
    const scenario__node *node = scenario__place(build, "run");
    if (isnan(run->length_m)) {
        if (node->kind == SCENARIO__OBJECT && !scenario__member(node, "length")) {
            SCENARIO__SAY(build->reader, node, "\"length\" is missing in the run (or \"bays\", a list of bay lengths)");
        }
        return;
    }
    structure->bay_count = run->line_posts + 1;
    for (int i = 0; i < structure->bay_count; i++) {
        structure->bay_m[i] = run->length_m / structure->bay_count;
    }
}

static void build_bends(const scenario__build *build)
{
    const scenario__node *list = build->file->run.bends;
    mech_structure *structure = &build->out->setup.structure;
    if (!list || !scenario__want(build->reader, list, SCENARIO__LIST, "a list of bends")) {
        return;
    }
    if (list->count > MECH_MAX_BENDS) {
        SCENARIO__SAY(build->reader, list, "expected at most %d bends, found %d", MECH_MAX_BENDS, list->count);
        return;
    }
    for (const scenario__node *node = list->first; node; node = node->next) {
        const int errors = build->reader->errors;
        scenario__bend bend;
        memset(&bend, 0, sizeof bend);
        scenario__fill(build->reader, node, &scenario__bend_shape, &bend);
        if (build->reader->errors == errors && bend.line_post >= structure->bay_count) {
            SCENARIO__SAY(build->reader, scenario__member(node, "line_post"), "there is no line post %d: there are %d",
                          bend.line_post, structure->bay_count - 1);
        }
        const mech_bend built = {bend.line_post - 1, bend.angle_rad, bend.friction};
        structure->bend[structure->bend_count++] = built;
    }
}

static void build_corner(const scenario__build *build)
{
    const scenario__node *node = build->file->run.corner;
    scenario__corner corner;
    memset(&corner, 0, sizeof corner);
    if (node) {
        scenario__fill(build->reader, node, &scenario__corner_shape, &corner);
        const mech_corner built = {true, (mech_end)corner.post, corner.tension_n, corner.raise_m, corner.length_m};
        build->out->setup.structure.corner = built;
    }
}

static void build_rail(const scenario__build *build)
{
    const scenario__rail *rail = &build->file->rail;
    mech_structure *structure = &build->out->setup.structure;
    double modulus = structure->post[MECH_NEAR].elastic_pa;
    if (rail->species) {
        scenario__species species;
        memset(&species, 0, sizeof species);
        if (!scenario__read_part(build->reader, rail->species, SCENARIO__SPECIES, &species)) {
            return;
        }
        modulus = post_modulus(&species, false);
    }
    structure->rail.is_fitted = rail->is_fitted;
    structure->rail.height_m = rail->height_m;
    structure->rail.ea_n = isnan(rail->ea_n) ? modulus * rail->depth_m * rail->breadth_m : rail->ea_n;
    for (int end = 0; end < MECH_ENDS; end++) {
        structure->rail.joint_n_m[end] = rail->joint_n_m;
    }
}

static void build_strand(const scenario__build *build)
{
    const scenario__node *node = build->file->part[SCENARIO__STRAND];
    scenario__strand strand;
    memset(&strand, 0, sizeof strand);
    if (!node || !scenario__read_part(build->reader, node, SCENARIO__STRAND, &strand)) {
        return;
    }
    build->out->strand = strand.label.name;
    const double area_m2 = strand.fill * TR_PI / 4 * strand.diameter_m * strand.diameter_m;
    const mech_strand filled = {
        .ea_n = strand.elastic_pa * area_m2,
        .mass_kg_m = strand.mass_kg_m,
        .diameter_m = strand.diameter_m,
        .breaking_n = strand.breaking_n,
        .thermal_1_k = strand.thermal_1_k,
        .bedding_strain = strand.bedding,
        .bedding_half_n = strand.bedding_half_n,
        .torsion_n_m2 = strand.torsion_n_m2,
    };
    build->out->setup.structure.strand = filled;
    build->out->setup.structure.span_thermal_1_k = build->file->run.expansion_1_k;
}

static bool is_object(const scenario__node *parent, const char *key)
{
    const scenario__node *node = scenario__member(parent, key);
    return node && node->kind == SCENARIO__OBJECT;
}

/* Where an object is missing altogether that has been said; what would be missing in it need not be said as well. */
void scenario__build_run(const scenario__build *build)
{
    if (is_object(build->root, "run")) {
        build_bays(build);
        build_bends(build);
        build_corner(build);
    }
    if (is_object(scenario__member(build->root, "run"), "near_post")) {
        build_posts(build);
    }
    build_rail(build);
    build_strand(build);
}
