/* tautrow plan --compare: what another wood, section, base, rail or spacing would buy on one run. */
#include "commands.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <cJSON.h>

#include "table.h"
#include "tautrow/base/text.h"
#include "variants.h"

enum { MAX_TRIPS = 12, COLUMNS = 9, WHY_CAP = 200 };

typedef struct outcome {
    bool stands; /* false: why says what is wrong, the rest is nothing */
    char why[WHY_CAP];
    double kept; /* of the target by the worst row, every row pulled to it once */
    int worst_row;
    int rounds; /* MAX_TRIPS + 1 = more than MAX_TRIPS */
    mech_sheet_status sheet;
    double peak_n;
    double bending, base, joint; /* of the reference values; NAN = none given */
    double push_n, asked_push_n; /* weakest gap */
    int gap;
} outcome;

/* On the heap: runs and sheets are large. */
typedef struct compare_work {
    const app_context *context;
    tr_system system;
    double target_n; /* of --target; 0 = the scenario's */
    app_variants *variants;
    outcome outcome[APP_MAX_VARIANTS];
    scenario what;
    mech_run run;
    mech_rows ready;
    mech_sheet sheet;
    tr_diags diags;
} compare_work;

/* ---- working out ---- */

static double worst_kept(const mech_rows *rows, int row_count, double target_n, int *worst)
{
    double least = (double)INFINITY;
    for (int i = 0; i < row_count; i++) {
        if (rows->tension_n[i] < least) {
            least = rows->tension_n[i];
            *worst = i;
        }
    }
    return least / target_n;
}

static double use_or_none(double a, double b, double limit_a, double limit_b)
{
    return isinf(limit_a) && isinf(limit_b) ? (double)NAN : fmax(a, b);
}

static void take_uses(compare_work *work, outcome *out)
{
    const job_setup *setup = &work->what.setup;
    const mech_post_limits *limits = setup->limits;
    mech_loads loads;
    mech_run_loads(&work->run, &work->sheet.end, &loads);
    const mech_utilisation use = mech_post_utilisation(&work->run, &loads, limits);
    out->bending = use_or_none(use.bending[MECH_NEAR], use.bending[MECH_FAR], limits[MECH_NEAR].bending_pa,
                               limits[MECH_FAR].bending_pa);
    out->base =
        use_or_none(use.base[MECH_NEAR], use.base[MECH_FAR], limits[MECH_NEAR].base_n_m, limits[MECH_FAR].base_n_m);
    out->joint =
        setup->structure.rail.is_fitted && !isinf(limits[MECH_NEAR].rail_joint_n) ? use.rail_joint : (double)NAN;
    out->push_n = app_weakest_gap(&work->run, &work->sheet.end, setup->ball_m, &out->gap);
}

static void work_out(compare_work *work, outcome *out)
{
    const job_setup *setup = &work->what.setup;
    const double target_n = work->target_n > 0.0 ? work->target_n : setup->target_n;
    const mech_limits limits = {setup->row_limit_n,
                                mech_turns_to_bottom(&setup->turnbuckle, &setup->nominal) *
                                    (setup->turnbuckle.anchor.pitch_m + setup->turnbuckle.cable.pitch_m)};
    mech_pull_once(&work->run, &work->ready, setup->order, setup->order_count, target_n, &work->sheet);
    out->kept = worst_kept(&work->sheet.end, setup->structure.row_count, target_n, &out->worst_row);
    out->rounds = mech_rounds_needed(&work->run, &work->ready, setup->order, setup->order_count, target_n,
                                     setup->tolerance, MAX_TRIPS);
    mech_pull_sheet(&work->run, &work->ready, setup->order, setup->order_count, setup->round_share, setup->rounds,
                    target_n, limits, &work->sheet);
    out->sheet = work->sheet.status;
    out->peak_n = work->sheet.peak_n;
    out->asked_push_n = setup->ball_push_n;
    if (out->sheet != MECH_SHEET_DIVERGED) {
        take_uses(work, out);
    } else {
        out->peak_n = out->bending = out->base = out->joint = out->push_n = (double)NAN;
    }
}

/* A variant that the scenario layer or the mechanics refuse is a result too: it says why. */
static void try_variant(compare_work *work, const app_variant *variant, outcome *out)
{
    char why[TR_TEXT_CAP];
    tr_diags_clear(&work->diags);
    const tr_result result =
        scenario_read(variant->text, strlen(variant->text), work->context->catalogue, &work->what, &work->diags);
    if (result != TR_OK) {
        (void)tr_copy(out->why, WHY_CAP, work->diags.count > 0 ? work->diags.item[0].text : "not enough memory");
    } else if (app_ready_run(&work->what.setup, &work->run, &work->ready, why, sizeof why) != TR_OK) {
        (void)tr_copy(out->why, WHY_CAP, why);
    } else {
        out->stands = true;
        work_out(work, out);
    }
}

/* ---- text ---- */

static void put_share(app_table *table, double share, bool is_bad)
{
    char text[32] = "–";
    if (isfinite(share)) {
        (void)tr_format(text, sizeof text, "%.0f %%%s", 100.0 * share, is_bad ? " !" : "");
    }
    app_table_put(table, text);
}

static void put_force(app_table *table, const compare_work *work, double force_n, tr_style style, bool is_bad)
{
    char text[48];
    tr_quantity_text(force_n, TR_DIM_FORCE, work->system, style, text, sizeof text);
    (void)tr_append(text, sizeof text, "%s", is_bad ? " !" : "");
    app_table_put(table, text);
}

static void put_outcome(app_table *table, const compare_work *work, const outcome *out)
{
    static const char *const sheets[] = {"cli.compare.sheet_ok", "cli.compare.sheet_over", "cli.compare.sheet_travel",
                                         "cli.compare.sheet_none"};
    const tr_lang *lang = work->context->lang;
    char rounds[16];
    if (!out->stands) {
        for (int i = 1; i < COLUMNS - 1; i++) {
            app_table_put(table, "–");
        }
        app_table_put(table, tr_word(lang, "cli.compare.refused"));
        return;
    }
    (void)tr_format(rounds, sizeof rounds, out->rounds > MAX_TRIPS ? "> %d" : "%d",
                    out->rounds > MAX_TRIPS ? MAX_TRIPS : out->rounds);
    put_share(table, out->kept, false);
    app_table_put(table, rounds);
    put_force(table, work, out->peak_n, TR_PLAIN, out->sheet == MECH_SHEET_OVER_TENSION);
    put_share(table, out->bending, out->bending > 1.0);
    put_share(table, out->base, out->base > 1.0);
    put_share(table, out->joint, out->joint > 1.0);
    put_force(table, work, out->push_n, TR_FINE, out->push_n < out->asked_push_n);
    app_table_put(table, tr_word(lang, sheets[out->sheet]));
}

static const char *group_word(const tr_lang *lang, app_vary vary)
{
    static const char *const keys[APP_VARIES] = {
        NULL,
        "cli.compare.wood",
        "cli.compare.section",
        "cli.compare.base",
        "cli.compare.rail",
        "cli.compare.posts",
        "cli.compare.rows",
        "cli.compare.several",
    };
    return tr_word(lang, keys[vary]);
}

static void print_table(const compare_work *work)
{
    const tr_lang *lang = work->context->lang;
    app_table *table = malloc(sizeof *table);
    if (table == NULL) {
        return;
    }
    const char *headings[COLUMNS] = {tr_word(lang, "cli.compare.differs"), tr_word(lang, "cli.compare.kept"),
                                     tr_word(lang, "cli.compare.rounds"),  tr_word(lang, "cli.compare.peak"),
                                     tr_word(lang, "cli.compare.bending"), tr_word(lang, "cli.compare.base_use"),
                                     tr_word(lang, "cli.compare.joint"),   tr_word(lang, "cli.compare.gap"),
                                     tr_word(lang, "cli.compare.sheet")};
    app_table_start(table, COLUMNS, headings);
    for (int i = 0; i < work->variants->count; i++) {
        const app_variant *variant = &work->variants->of[i];
        char name[APP_VARIANT_NAME_CAP + 2];
        if (i > 0 && variant->vary != work->variants->of[i - 1].vary) {
            app_table_put(table, group_word(lang, variant->vary));
            for (int k = 1; k < COLUMNS; k++) {
                app_table_put(table, "");
            }
        }
        (void)tr_format(name, sizeof name, "%s%s", i == 0 ? "" : "  ", variant->name);
        app_table_put(table, name);
        put_outcome(table, work, &work->outcome[i]);
    }
    app_table_print(table, stdout);
    free(table);
}

static void print_head(const compare_work *work, const scenario *given)
{
    char text[3][48];
    const char *title[] = {scenario_title_in(&given->title, tr_lang_code(work->context->lang))};
    app_say(work->context, stdout, "cli.compare.head", title, 1);
    const char *args[] = {app_quantity(work->target_n > 0.0 ? work->target_n : given->setup.target_n, TR_DIM_FORCE,
                                       work->system, text[0]),
                          app_quantity(given->setup.row_limit_n, TR_DIM_FORCE, work->system, text[1]),
                          app_quantity(given->setup.ball_push_n, TR_DIM_FORCE, work->system, text[2])};
    app_say(work->context, stdout, "cli.compare.asked", args, 3);
    (void)printf("\n");
}

static void print_notes(const compare_work *work)
{
    (void)printf("\n");
    for (int i = 0; i < work->variants->count; i++) {
        if (!work->outcome[i].stands) {
            const char *args[] = {work->variants->of[i].name, work->outcome[i].why};
            app_say(work->context, stdout, "cli.compare.why", args, 2);
        }
    }
    if (work->variants->has_other_wood) {
        app_say(work->context, stdout, "cli.compare.same_wood", NULL, 0);
    }
    app_say(work->context, stdout, "cli.compare.how", NULL, 0);
    (void)printf("%s\n", tr_word(work->context->lang, "cli.caution"));
}

/* ---- JSON ---- */

static cJSON *variant_json(const app_variant *variant, const outcome *out)
{
    static const char *const varied[APP_VARIES] = {"nothing", "wood",       "section", "base",
                                                   "rail",    "line_posts", "spacing", "several"};
    static const char *const sheets[] = {"ok", "over_tension", "no_travel", "diverged"};
    cJSON *json = cJSON_CreateObject();
    (void)cJSON_AddStringToObject(json, "varied", varied[variant->vary]);
    (void)cJSON_AddStringToObject(json, "name", variant->name);
    (void)cJSON_AddBoolToObject(json, "stands", out->stands);
    if (!out->stands) {
        (void)cJSON_AddStringToObject(json, "reason", out->why);
        return json;
    }
    (void)cJSON_AddNumberToObject(json, "worst_row", out->worst_row + 1);
    (void)cJSON_AddNumberToObject(json, "kept_share_of_target", out->kept);
    (void)cJSON_AddNumberToObject(json, "rounds_needed", out->rounds);
    (void)cJSON_AddStringToObject(json, "sheet", sheets[out->sheet]);
    if (out->sheet != MECH_SHEET_DIVERGED) {
        (void)cJSON_AddNumberToObject(json, "peak_reading_n", out->peak_n);
        (void)cJSON_AddNumberToObject(json, "post_bending_utilisation", out->bending);
        (void)cJSON_AddNumberToObject(json, "base_utilisation", out->base);
        (void)cJSON_AddNumberToObject(json, "rail_joint_utilisation", out->joint);
        (void)cJSON_AddNumberToObject(json, "weakest_gap", out->gap);
        (void)cJSON_AddNumberToObject(json, "weakest_gap_push_n", out->push_n);
        (void)cJSON_AddNumberToObject(json, "asked_push_n", out->asked_push_n);
        (void)cJSON_AddBoolToObject(json, "opening_holds", out->push_n >= out->asked_push_n);
    }
    return json;
}

static cJSON *work_json(const compare_work *work, const scenario *given)
{
    cJSON *json = cJSON_CreateObject();
    (void)cJSON_AddStringToObject(json, "scenario", given->setup.id);
    (void)cJSON_AddNumberToObject(json, "target_n", work->target_n > 0.0 ? work->target_n : given->setup.target_n);
    (void)cJSON_AddNumberToObject(json, "row_limit_n", given->setup.row_limit_n);
    (void)cJSON_AddNumberToObject(json, "tolerance", given->setup.tolerance);
    (void)cJSON_AddNumberToObject(json, "most_rounds_tried", MAX_TRIPS);
    cJSON *list = cJSON_AddArrayToObject(json, "variants");
    for (int i = 0; i < work->variants->count; i++) {
        (void)cJSON_AddItemToArray(list, variant_json(&work->variants->of[i], &work->outcome[i]));
    }
    return json;
}

static bool read_target(const char *text, double *target_n)
{
    char why[TR_TEXT_CAP] = "must be above zero";
    if (text == NULL || (tr_quantity_parse(text, TR_DIM_FORCE, target_n, why, sizeof why) && *target_n > 0.0)) {
        return true;
    }
    (void)fprintf(stderr, "tautrow: --target: %s\n", why);
    return false;
}

static int compare(compare_work *work, const app_scenario *found)
{
    char why[TR_TEXT_CAP] = "";
    if (work->context->options->once || work->context->options->lines) {
        (void)fprintf(stderr, "tautrow: %s\n", tr_word(work->context->lang, "cli.compare.alone"));
        return APP_EXIT_USAGE;
    }
    if (!read_target(work->context->options->target, &work->target_n)) {
        return APP_EXIT_USAGE;
    }
    work->variants = app_variants_make(work->context, found, why, sizeof why);
    if (work->variants == NULL) {
        (void)fprintf(stderr, "tautrow: %s\n", why);
        return APP_EXIT_USAGE;
    }
    for (int i = 0; i < work->variants->count; i++) {
        try_variant(work, &work->variants->of[i], &work->outcome[i]);
    }
    if (work->context->options->json) {
        return app_print_json(work_json(work, &found->what), APP_EXIT_FINE);
    }
    print_head(work, &found->what);
    print_table(work);
    print_notes(work);
    return APP_EXIT_FINE;
}

int app_compare(const app_context *context)
{
    int code = APP_EXIT_USAGE;
    app_scenario *found = app_one_scenario(context, &code);
    compare_work *work = calloc(1, sizeof *work);
    if (found != NULL && work != NULL) {
        work->context = context;
        work->system = app_system(context, &found->what);
        code = compare(work, found);
        app_variants_free(work->variants);
    }
    free(work);
    app_scenario_free(found);
    return code;
}
