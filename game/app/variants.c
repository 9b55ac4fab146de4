/* Makes the variants of a scenario. One thing at a time first, so that each line shows what one change buys; then a few
 * that go together on a site. */
#include "variants.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <cJSON.h>

#include "catalogue_json.h"
#include "tautrow/base/text.h"

enum { ID_CAP = 64, SIZES = 2 };

/* Dressed sizes of posts: common practice, no source. Catalogue ids of graded posts end in their size, because grades
 * are tabulated by size. */
typedef struct post_size {
    const char *name, *ending, *depth;
    double depth_m;
} post_size;
static const post_size sizes[SIZES] = {{"4x4", "-4x4", "3 1/2 in", 3.5 * TR_INCH_M},
                                       {"6x6", "-6x6", "5 1/2 in", 5.5 * TR_INCH_M}};
static const double SAME_SIZE_M = 0.003; /* 140 mm is a 6x6, 90 mm a 4x4 */

typedef struct maker {
    const tr_lang *lang;
    cJSON *catalogue;
    cJSON *given; /* the scenario with all rows new */
    const scenario *scenario;
    tr_system system;
    app_variants *out;
} maker;

static cJSON *member(const cJSON *json, const char *key)
{
    return cJSON_GetObjectItemCaseSensitive(json, key);
}

static const char *text_of(const cJSON *json)
{
    return cJSON_IsString(json) ? json->valuestring : "";
}

/* ---- changing a scenario ---- */

/* Puts value in the place of a member, or adds it; value is the object's from now on. */
static void put(cJSON *object, const char *key, cJSON *value)
{
    cJSON_DeleteItemFromObjectCaseSensitive(object, key);
    if (!cJSON_AddItemToObject(object, key, value)) {
        cJSON_Delete(value);
    }
}

/* End posts that can move: index 0 and, where it is written, 1. NULL where there is none such. */
static cJSON *moving_post(const cJSON *json, int end)
{
    cJSON *post = member(member(json, "run"), end == MECH_NEAR ? "near_post" : "far_post");
    return cJSON_IsObject(post) && !cJSON_IsTrue(member(post, "rigid")) ? post : NULL;
}

static cJSON *any_moving_post(const cJSON *json)
{
    cJSON *near = moving_post(json, MECH_NEAR);
    return near != NULL ? near : moving_post(json, MECH_FAR);
}

static void set_posts(cJSON *json, const char *key, const char *value)
{
    for (int end = 0; end < MECH_ENDS; end++) {
        cJSON *post = moving_post(json, end);
        if (post != NULL) {
            put(post, key, cJSON_CreateString(value));
        }
    }
}

static const char *ending_of(const char *id)
{
    for (int i = 0; i < SIZES; i++) {
        const size_t length = strlen(id);
        const size_t tail = strlen(sizes[i].ending);
        if (length > tail && strcmp(id + length - tail, sizes[i].ending) == 0) {
            return sizes[i].ending;
        }
    }
    return "";
}

/* The entry of the same wood in another size; the same id where the catalogue has none. */
static bool resize_wood(const maker *m, cJSON *json, const post_size *size)
{
    char id[ID_CAP];
    const char *now = text_of(member(any_moving_post(json), "species"));
    const char *ending = ending_of(now);
    if (*ending == '\0') {
        return true; /* not graded by size */
    }
    (void)tr_format(id, sizeof id, "%.*s%s", (int)(strlen(now) - strlen(ending)), now, size->ending);
    if (app_catalogue_entry(m->catalogue, "species", id) == NULL) {
        return false;
    }
    set_posts(json, "species", id);
    return true;
}

static bool set_section(const maker *m, cJSON *json, const post_size *size)
{
    set_posts(json, "depth", size->depth);
    for (int end = 0; end < MECH_ENDS; end++) {
        cJSON_DeleteItemFromObjectCaseSensitive(moving_post(json, end), "breadth");
    }
    return resize_wood(m, json, size);
}

static void set_rail(cJSON *json, bool is_fitted)
{
    put(member(json, "rail"), "fitted", cJSON_CreateBool(is_fitted));
}

/* Nothing was done before: the comparison is of runs to be built. */
static void make_new(cJSON *json)
{
    cJSON_DeleteItemFromObjectCaseSensitive(json, "before");
    cJSON_DeleteItemFromObjectCaseSensitive(json, "faults");
    cJSON_DeleteItemFromObjectCaseSensitive(member(json, "rows"), "trainee");
}

/* ---- adding a variant ---- */

/* Takes json over. A variant that is as given is not a variant. */
static void add(maker *m, app_vary vary, cJSON *json, const char *name, bool is_own_wood)
{
    if (vary != APP_VARY_NOTHING && cJSON_Compare(json, m->given, true)) {
        cJSON_Delete(json);
        return;
    }
    char *printed = m->out->count < APP_MAX_VARIANTS ? cJSON_PrintUnformatted(json) : NULL;
    cJSON_Delete(json);
    if (printed == NULL) {
        return;
    }
    app_variant *variant = &m->out->of[m->out->count++];
    variant->vary = vary;
    variant->text = printed;
    (void)tr_format(variant->name, sizeof variant->name, "%s%s", name, is_own_wood ? "" : " *");
    m->out->has_other_wood = m->out->has_other_wood || !is_own_wood;
}

static cJSON *copy(const maker *m)
{
    return cJSON_Duplicate(m->given, true);
}

static void add_woods(maker *m)
{
    const double depth_m =
        m->scenario->setup.structure.post[moving_post(m->given, MECH_NEAR) != NULL ? MECH_NEAR : MECH_FAR].depth_m;
    for (const cJSON *wood = member(m->catalogue, "species")->child; wood != NULL; wood = wood->next) {
        const char *ending = ending_of(wood->string);
        bool fits = *ending == '\0';
        for (int i = 0; i < SIZES; i++) {
            fits = fits || (strcmp(ending, sizes[i].ending) == 0 && fabs(depth_m - sizes[i].depth_m) < SAME_SIZE_M);
        }
        if (fits) {
            cJSON *json = copy(m);
            set_posts(json, "species", wood->string);
            add(m, APP_VARY_WOOD, json, app_entry_name(wood, tr_lang_code(m->lang)), true);
        }
    }
}

static void add_sections(maker *m)
{
    const double depth_m =
        m->scenario->setup.structure.post[moving_post(m->given, MECH_NEAR) != NULL ? MECH_NEAR : MECH_FAR].depth_m;
    for (int i = 0; i < SIZES; i++) {
        if (fabs(depth_m - sizes[i].depth_m) >= SAME_SIZE_M) {
            cJSON *json = copy(m);
            const bool is_own_wood = set_section(m, json, &sizes[i]);
            add(m, APP_VARY_SECTION, json, sizes[i].name, is_own_wood);
        }
    }
}

static void add_bases(maker *m)
{
    for (const cJSON *base = member(m->catalogue, "base")->child; base != NULL; base = base->next) {
        cJSON *json = copy(m);
        set_posts(json, "base", base->string);
        add(m, APP_VARY_BASE, json, app_entry_name(base, tr_lang_code(m->lang)), true);
    }
}

static void add_rail(maker *m)
{
    const bool is_fitted = m->scenario->setup.structure.rail.is_fitted;
    cJSON *json = copy(m);
    set_rail(json, !is_fitted);
    add(m, APP_VARY_RAIL, json, tr_word(m->lang, is_fitted ? "cli.compare.no_rail" : "cli.compare.with_rail"), true);
}

static cJSON *metres(double value_m)
{
    char text[48];
    (void)tr_format(text, sizeof text, "%.9g m", value_m);
    return cJSON_CreateString(text);
}

static void add_line_posts(maker *m)
{
    const mech_structure *made = &m->scenario->setup.structure;
    double length_m = 0.0;
    for (int i = 0; i < made->bay_count; i++) {
        length_m += made->bay_m[i];
    }
    for (int posts = made->bay_count - 2; posts <= made->bay_count + 1; posts++) {
        if (posts < 0 || posts == made->bay_count - 1 || posts >= MECH_MAX_BAYS) {
            continue;
        }
        char name[APP_VARIANT_NAME_CAP];
        char bay[48];
        char number[16];
        cJSON *json = copy(m);
        cJSON *run = member(json, "run");
        cJSON_DeleteItemFromObjectCaseSensitive(run, "bays");
        put(run, "length", metres(length_m));
        put(run, "line_posts", cJSON_CreateNumber(posts));
        (void)tr_format(number, sizeof number, "%d", posts);
        const char *args[] = {number, app_quantity(length_m / (posts + 1), TR_DIM_LENGTH, m->system, bay)};
        tr_lang_fill(m->lang, "cli.compare.line_posts", args, 2, name, sizeof name);
        add(m, APP_VARY_LINE_POSTS, json, name, true);
    }
}

/* More and fewer rows between the same lowest and highest, so that the gaps at deck and rail stay as they are. */
static void add_spacings(maker *m)
{
    const mech_structure *made = &m->scenario->setup.structure;
    const int n = made->row_count;
    const double reach_m = made->row_height_m[n - 1] - made->row_height_m[0];
    for (int count = n - 2; count <= n + 2; count++) {
        char name[APP_VARIANT_NAME_CAP];
        char apart[48];
        char number[16];
        if (count == n || count < 2 || count > MECH_MAX_ROWS) {
            continue;
        }
        const double spacing_m = reach_m / (count - 1);
        cJSON *json = copy(m);
        cJSON *rows = member(json, "rows");
        cJSON_DeleteItemFromObjectCaseSensitive(rows, "heights");
        put(rows, "count", cJSON_CreateNumber(count));
        put(rows, "first", metres(made->row_height_m[0]));
        put(rows, "spacing", metres(spacing_m));
        if (!cJSON_IsString(member(member(json, "tension"), "order"))) {
            cJSON_DeleteItemFromObjectCaseSensitive(member(json, "tension"), "order");
        }
        (void)tr_format(number, sizeof number, "%d", count);
        const char *args[] = {app_quantity(spacing_m, TR_DIM_LENGTH, m->system, apart), number};
        tr_lang_fill(m->lang, "cli.compare.spacing", args, 2, name, sizeof name);
        add(m, APP_VARY_SPACING, json, name, true);
    }
}

/* ---- what goes together ---- */

typedef struct together {
    const char *base, *word;
    int size;
    bool is_without_rail;
} together;

static void add_together(maker *m)
{
    static const together all[] = {
        {"deck-4x4", "cli.compare.4x4_deck", 0, false},
        {"deck-6x6", "cli.compare.6x6_deck", 1, false},
        {"embedded", "cli.compare.6x6_concrete", 1, false},
        {"deck-6x6", "cli.compare.6x6_no_rail", 1, true},
        {"embedded", "cli.compare.4x4_concrete_no_rail", 0, true},
    };
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        const bool is_new = !all[i].is_without_rail || m->scenario->setup.structure.rail.is_fitted;
        if (!is_new || app_catalogue_entry(m->catalogue, "base", all[i].base) == NULL) {
            continue;
        }
        cJSON *json = copy(m);
        const bool is_own_wood = set_section(m, json, &sizes[all[i].size]);
        set_posts(json, "base", all[i].base);
        if (all[i].is_without_rail) {
            set_rail(json, false);
        }
        add(m, APP_VARY_SEVERAL, json, tr_word(m->lang, all[i].word), is_own_wood);
    }
}

static void add_all(maker *m)
{
    add(m, APP_VARY_NOTHING, copy(m), tr_word(m->lang, "cli.compare.given"), true);
    if (any_moving_post(m->given) != NULL) {
        add_woods(m);
        add_sections(m);
        add_bases(m);
        add_rail(m);
    }
    add_line_posts(m);
    add_spacings(m);
    if (any_moving_post(m->given) != NULL) {
        add_together(m);
    }
}

app_variants *app_variants_make(const app_context *context, const app_scenario *found, char *why, size_t why_cap)
{
    maker m = {.lang = context->lang,
               .catalogue = app_catalogue_json(context->folder, why, why_cap),
               .given = cJSON_ParseWithLength(found->text, found->size),
               .scenario = &found->what,
               .system = app_system(context, &found->what),
               .out = calloc(1, sizeof *m.out)};
    if (m.catalogue != NULL && m.given != NULL && m.out != NULL) {
        make_new(m.given);
        add_all(&m);
    } else {
        (void)tr_copy(why, why_cap, "the variants could not be made");
        free(m.out);
        m.out = NULL;
    }
    cJSON_Delete(m.given);
    cJSON_Delete(m.catalogue);
    return m.out;
}

void app_variants_free(app_variants *variants)
{
    for (int i = 0; variants != NULL && i < variants->count; i++) {
        cJSON_free(variants->of[i].text);
    }
    free(variants);
}
