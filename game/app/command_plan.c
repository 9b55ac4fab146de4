/* tautrow plan: the job sheet for print: what to build, the pull sheet, and whether the posts and fittings can bear it.
 */
#include "commands.h"

#include <stdlib.h>
#include <string.h>

#include <cJSON.h>

#include "table.h"
#include "tautrow/base/text.h"
#include "tautrow/score/score.h"

typedef struct plan_work {
    const app_context *context;
    const scenario *scenario;
    tr_system system;
    double target_n;
    mech_run run;
    mech_rows ready;
    bool has_after;
    mech_rows after;  /* the sheet's end when the days that are asked have passed */
    mech_sheet sheet; /* the sheet, or every row once to the target */
    mech_loads loads;
    mech_utilisation use;
    mech_guard guard;  /* pushed when all stand as they end */
    double guard_base; /* share of the capacity of the worse base under the rail push; 0 where no base has one */
    mech_grip grip;
    double crimp_n;
    double weakest_push_n;
    int weakest_gap;
} plan_work;

static void check_guard(plan_work *work)
{
    const job_setup *setup = &work->scenario->setup;
    work->guard = mech_run_guard(&work->run, &work->sheet.end, &setup->guard);
    for (int end = 0; end < MECH_ENDS; end++) {
        const double use =
            mech_guard_base_use(&work->run, &work->loads, &work->guard, (mech_end)end, &setup->limits[end]);
        work->guard_base = use > work->guard_base ? use : work->guard_base;
    }
}

static void check_fittings(plan_work *work)
{
    const job_setup *setup = &work->scenario->setup;
    const mech_hole hole = {.diameter_m = setup->bit[setup->right_bit].diameter_m, .depth_m = setup->hole_depth_m};
    const mech_seat seat = {0};
    work->grip = mech_insert_grip(&setup->insert, &hole, &seat, &setup->wood, setup->edge_m);
    work->crimp_n = setup->structure.strand.breaking_n * setup->crimp.efficiency;
    mech_run_loads(&work->run, &work->sheet.end, &work->loads);
    work->use = mech_post_utilisation(&work->run, &work->loads, setup->limits);
    work->weakest_push_n = app_weakest_gap(&work->run, &work->sheet.end, setup->ball_m, &work->weakest_gap);
}

static void let_days_pass(plan_work *work)
{
    work->after = work->sheet.end;
    work->has_after = job_rows_after(&work->scenario->setup, &work->after);
}

static double turns_of(const plan_work *work, double take_up_m)
{
    const mech_turnbuckle *turnbuckle = &work->scenario->setup.turnbuckle;
    return take_up_m / (turnbuckle->anchor.pitch_m + turnbuckle->cable.pitch_m);
}

static void make_sheet(plan_work *work)
{
    const job_setup *setup = &work->scenario->setup;
    const mech_engaged start = setup->nominal;
    const double travel = mech_turns_to_bottom(&setup->turnbuckle, &start) *
                          (setup->turnbuckle.anchor.pitch_m + setup->turnbuckle.cable.pitch_m);
    const mech_limits limits = {.tension_n = setup->row_limit_n, .take_up_m = travel};
    if (work->context->options->once) {
        mech_pull_once(&work->run, &work->ready, setup->order, setup->order_count, work->target_n, &work->sheet);
    } else {
        mech_pull_sheet(&work->run, &work->ready, setup->order, setup->order_count, setup->round_share, setup->rounds,
                        work->target_n, limits, &work->sheet);
    }
}

/* ---- text ------------------------------------------------------------------------------------------------------- */

static void print_head(const plan_work *work)
{
    const app_context *context = work->context;
    const job_setup *setup = &work->scenario->setup;
    const char *code = tr_lang_code(context->lang);
    char text[5][48];
    (void)printf("%s — %s\n%s\n\n", scenario_title_in(&work->scenario->title, code),
                 scenario_title_in(&work->scenario->place, code), scenario_story_in(&work->scenario->story, code));
    /* a bit is told by 64ths of an inch: rounded to 16ths it would be another bit */
    tr_quantity_text(setup->bit[setup->right_bit].diameter_m, TR_DIM_LENGTH, work->system, TR_FINE, text[0], 48);
    tr_quantity_text(setup->hole_depth_m, TR_DIM_LENGTH, work->system, TR_FINE, text[1], 48);
    const char *asked[] = {text[0], text[1], app_quantity(work->target_n, TR_DIM_FORCE, work->system, text[2]),
                           app_quantity(setup->row_limit_n, TR_DIM_FORCE, work->system, text[3]),
                           app_quantity(setup->hand_pull_n, TR_DIM_FORCE, work->system, text[4])};
    app_say(context, stdout, "cli.plan.asked", asked, 5);
    (void)printf("%s", tr_word(context->lang, "cli.plan.heights"));
    for (int i = 0; i < setup->structure.row_count; i++) {
        (void)printf("%s %d: %s", i == 0 ? "" : ";", i + 1,
                     app_quantity(setup->structure.row_height_m[i], TR_DIM_LENGTH, work->system, text[0]));
    }
    (void)printf("\n\n");
}

static void print_sheet(const plan_work *work)
{
    const tr_lang *lang = work->context->lang;
    app_table *table = malloc(sizeof *table);
    if (table == NULL) {
        return;
    }
    const char *headings[] = {tr_word(lang, "cli.turn"), tr_word(lang, "cli.round"), tr_word(lang, "cli.row"),
                              tr_word(lang, "cli.reading"), tr_word(lang, "cli.body_turns")};
    (void)printf("%s\n", tr_word(lang, work->context->options->once ? "cli.plan.once" : "cli.plan.sheet"));
    app_table_start(table, 5, headings);
    for (int i = 0; i < work->sheet.pull_count; i++) {
        const mech_pull *pull = &work->sheet.pull[i];
        char text[48];
        const int whole[] = {i + 1, pull->round + 1, pull->row + 1};
        for (int k = 0; k < 3; k++) {
            (void)tr_format(text, sizeof text, "%d", whole[k]);
            app_table_put(table, text);
        }
        tr_quantity_text(pull->reading_n, TR_DIM_FORCE, work->system, TR_FINE, text, sizeof text);
        app_table_put(table, text);
        (void)tr_format(text, sizeof text, "%.2f", turns_of(work, pull->take_up_m));
        app_table_put(table, text);
    }
    app_table_print(table, stdout);
    free(table);
}

/* What is left of it: the state in which the pulls end. */
static void print_end(const plan_work *work)
{
    const job_setup *setup = &work->scenario->setup;
    const app_verdict verdict =
        app_judge(&work->sheet.end, setup->structure.row_count, work->target_n, setup->tolerance);
    char text[4][48];
    char rows[128];
    (void)tr_format(text[0], 48, "%d", verdict.within);
    (void)tr_format(text[1], 48, "%d", verdict.strung);
    (void)tr_format(text[2], 48, "%.0f %%", 100.0 * setup->tolerance);
    const char *args[] = {text[0], text[1], text[2],
                          app_quantity(work->sheet.peak_n, TR_DIM_FORCE, work->system, text[3])};
    app_say(work->context, stdout, "cli.plan.end", args, 4);
    if (verdict.low_count > 0) {
        score_rows_text(verdict.low, verdict.low_count, work->context->lang, rows, sizeof rows);
        (void)tr_format(text[0], 48, "%d", verdict.lowest + 1);
        (void)tr_format(text[1], 48, "%.1f %%", 100.0 * work->sheet.end.tension_n[verdict.lowest] / work->target_n);
        const char *low[] = {rows, text[0], text[1]};
        app_say(work->context, stdout, "cli.plan.low", low, 3);
    }
    static const char *const keys[] = {NULL, "cli.plan.over", "cli.plan.travel", "cli.plan.diverged"};
    if (work->sheet.status != MECH_SHEET_OK) {
        const mech_pull *worst = &work->sheet.pull[work->sheet.worst];
        (void)tr_format(text[0], 48, "%d", worst->row + 1);
        const char *refused[] = {text[0], app_quantity(worst->reading_n, TR_DIM_FORCE, work->system, text[1]),
                                 app_quantity(setup->row_limit_n, TR_DIM_FORCE, work->system, text[2])};
        app_say(work->context, stdout, keys[work->sheet.status], refused, 3);
    }
}

static void print_after(const plan_work *work)
{
    const job_setup *setup = &work->scenario->setup;
    char text[2][48];
    if (!work->has_after) {
        return;
    }
    (void)tr_format(text[0], 48, "%.0f", setup->after.days);
    (void)tr_format(text[1], 48, "%+.0f K", setup->after.warming_k);
    const char *args[] = {text[0], text[1]};
    app_say(work->context, stdout, "cli.plan.after", args, 2);
    for (int i = 0; i < setup->structure.row_count; i++) {
        (void)printf("%s%d: %s", i == 0 ? "" : "; ", i + 1,
                     app_quantity(work->after.tension_n[i], TR_DIM_FORCE, work->system, text[0]));
    }
    (void)printf("\n");
}

static void print_guard(const plan_work *work)
{
    const mech_guard_asked *asked = &work->scenario->setup.guard;
    char text[5][48];
    const char *post[] = {app_quantity(asked->rail_n, TR_DIM_FORCE, work->system, text[0]),
                          app_quantity(work->guard.post_moment_n_m, TR_DIM_MOMENT, work->system, text[1]), text[2]};
    (void)tr_format(text[2], 48, "%.0f %%", 100.0 * work->guard_base);
    app_say(work->context, stdout, work->guard_base > 0.0 ? "cli.plan.guard_base" : "cli.plan.guard", post, 3);
    tr_quantity_text(work->guard.row_sag_m, TR_DIM_LENGTH, work->system, TR_FINE, text[3], 48);
    const char *infill[] = {app_quantity(asked->infill_n, TR_DIM_FORCE, work->system, text[0]),
                            app_quantity(asked->infill_side_m, TR_DIM_LENGTH, work->system, text[1]),
                            app_quantity(work->guard.row_push_n, TR_DIM_FORCE, work->system, text[2]), text[3],
                            app_quantity(work->guard.row_tension_n, TR_DIM_FORCE, work->system, text[4])};
    app_say(work->context, stdout, "cli.plan.guard_infill", infill, 5);
}

static void print_checks(const plan_work *work)
{
    const job_setup *setup = &work->scenario->setup;
    char text[5][48];
    const char *insert[] = {app_quantity(work->grip.design_n, TR_DIM_FORCE, work->system, text[0]),
                            app_quantity(work->grip.ultimate_n, TR_DIM_FORCE, work->system, text[1]),
                            app_quantity(work->crimp_n, TR_DIM_FORCE, work->system, text[2])};
    app_say(work->context, stdout, "cli.plan.fittings", insert, 3);
    (void)tr_format(text[1], 48, "%d", work->weakest_gap);
    (void)tr_format(text[2], 48, "%d", work->weakest_gap + 1);
    const bool is_edge = work->weakest_gap == 0 || work->weakest_gap == setup->structure.row_count;
    const char *opening[] = {app_quantity(work->weakest_push_n, TR_DIM_FORCE, work->system, text[0]), text[1], text[2],
                             app_quantity(setup->ball_push_n, TR_DIM_FORCE, work->system, text[3]),
                             app_quantity(setup->ball_m, TR_DIM_LENGTH, work->system, text[4])};
    app_say(work->context, stdout, is_edge ? "cli.plan.opening_edge" : "cli.plan.opening", opening, 5);
    (void)tr_format(text[0], 48, "%.0f %%", 100.0 * work->use.worst);
    const char *post[] = {text[0], app_quantity(work->sheet.off_centre_peak_n_m, TR_DIM_MOMENT, work->system, text[1]),
                          app_quantity(work->loads.rail_n, TR_DIM_FORCE, work->system, text[2])};
    app_say(work->context, stdout, "cli.plan.posts", post, 3);
    print_guard(work);
    (void)printf("\n%s\n", tr_word(work->context->lang, "cli.caution"));
}

/* Only the pulls, in the form that solve --pulls reads. */
static void print_lines(const plan_work *work)
{
    for (int i = 0; i < work->sheet.pull_count; i++) {
        char number[40];
        tr_double_text(work->sheet.pull[i].reading_n, number, sizeof number);
        (void)printf("%d %s N\n", work->sheet.pull[i].row + 1, number);
    }
}

/* ---- JSON ------------------------------------------------------------------------------------------------------- */

static cJSON *pulls_json(const plan_work *work)
{
    cJSON *list = cJSON_CreateArray();
    for (int i = 0; i < work->sheet.pull_count; i++) {
        const mech_pull *pull = &work->sheet.pull[i];
        cJSON *one = cJSON_CreateObject();
        (void)cJSON_AddNumberToObject(one, "turn", i + 1);
        (void)cJSON_AddNumberToObject(one, "round", pull->round + 1);
        (void)cJSON_AddNumberToObject(one, "row", pull->row + 1);
        (void)cJSON_AddNumberToObject(one, "reading_n", pull->reading_n);
        (void)cJSON_AddNumberToObject(one, "take_up_m", pull->take_up_m);
        (void)cJSON_AddNumberToObject(one, "body_turns", turns_of(work, pull->take_up_m));
        (void)cJSON_AddItemToArray(list, one);
    }
    return list;
}

static cJSON *guard_json(const plan_work *work)
{
    const mech_guard_asked *asked = &work->scenario->setup.guard;
    cJSON *json = cJSON_CreateObject();
    (void)cJSON_AddNumberToObject(json, "rail_push_n", asked->rail_n);
    (void)cJSON_AddNumberToObject(json, "post_moment_n_m", work->guard.post_moment_n_m);
    (void)cJSON_AddNumberToObject(json, "base_utilisation_worst", work->guard_base);
    (void)cJSON_AddNumberToObject(json, "infill_push_n", asked->infill_n);
    (void)cJSON_AddNumberToObject(json, "infill_side_m", asked->infill_side_m);
    (void)cJSON_AddNumberToObject(json, "row_push_n", work->guard.row_push_n);
    (void)cJSON_AddNumberToObject(json, "row_sag_m", work->guard.row_sag_m);
    (void)cJSON_AddNumberToObject(json, "row_tension_n", work->guard.row_tension_n);
    return json;
}

static cJSON *work_json(const plan_work *work)
{
    static const char *const status[] = {"ok", "over_tension", "no_travel", "diverged"};
    const int n = work->run.made_of.row_count;
    cJSON *json = cJSON_CreateObject();
    (void)cJSON_AddStringToObject(json, "scenario", work->scenario->setup.id);
    (void)cJSON_AddStringToObject(json, "status", status[work->sheet.status]);
    (void)cJSON_AddNumberToObject(json, "target_n", work->target_n);
    (void)cJSON_AddNumberToObject(json, "row_limit_n", work->scenario->setup.row_limit_n);
    (void)cJSON_AddNumberToObject(json, "peak_reading_n", work->sheet.peak_n);
    (void)cJSON_AddNumberToObject(json, "off_centre_peak_n_m", work->sheet.off_centre_peak_n_m);
    (void)cJSON_AddNumberToObject(json, "insert_design_n", work->grip.design_n);
    (void)cJSON_AddNumberToObject(json, "insert_ultimate_n", work->grip.ultimate_n);
    (void)cJSON_AddNumberToObject(json, "crimp_hold_n", work->crimp_n);
    (void)cJSON_AddNumberToObject(json, "weakest_gap", work->weakest_gap);
    (void)cJSON_AddNumberToObject(json, "weakest_gap_push_n", work->weakest_push_n);
    (void)cJSON_AddNumberToObject(json, "post_utilisation_worst", work->use.worst);
    (void)cJSON_AddNumberToObject(json, "rail_n", work->loads.rail_n);
    (void)cJSON_AddItemToObject(json, "guard", guard_json(work));
    (void)cJSON_AddItemToObject(json, "pulls", pulls_json(work));
    (void)cJSON_AddItemToObject(json, "end_tension_n", cJSON_CreateDoubleArray(work->sheet.end.tension_n, n));
    if (work->has_after) {
        (void)cJSON_AddNumberToObject(json, "after_days", work->scenario->setup.after.days);
        (void)cJSON_AddNumberToObject(json, "after_warming_k", work->scenario->setup.after.warming_k);
        (void)cJSON_AddItemToObject(json, "after_tension_n", cJSON_CreateDoubleArray(work->after.tension_n, n));
    }
    return json;
}

int app_plan(const app_context *context)
{
    int code = APP_EXIT_FINE;
    char why[TR_TEXT_CAP];
    if (context->options->compare) {
        return app_compare(context);
    }
    app_scenario *found = app_one_scenario(context, &code);
    plan_work *work = calloc(1, sizeof *work);
    if (found == NULL || work == NULL) {
        app_scenario_free(found);
        free(work);
        return code == APP_EXIT_FINE ? APP_EXIT_USAGE : code;
    }
    const app_options *options = context->options;
    work->context = context;
    work->scenario = &found->what;
    work->system = app_system(context, &found->what);
    work->target_n = found->what.setup.target_n;
    code = APP_EXIT_USAGE;
    if (options->target != NULL &&
        (!tr_quantity_parse(options->target, TR_DIM_FORCE, &work->target_n, why, sizeof why) ||
         work->target_n <= 0.0)) {
        (void)fprintf(stderr, "tautrow: --target: %s\n", work->target_n <= 0.0 ? "must be above zero" : why);
    } else if (app_ready_run(&found->what.setup, &work->run, &work->ready, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "tautrow: %s: %s\n", options->files[0], why);
    } else {
        make_sheet(work);
        check_fittings(work);
        check_guard(work);
        let_days_pass(work);
        code = work->sheet.status == MECH_SHEET_OK ? APP_EXIT_FINE : APP_EXIT_NO;
        if (options->json) {
            code = app_print_json(work_json(work), code);
        } else if (options->lines) {
            print_lines(work);
        } else {
            print_head(work);
            print_sheet(work);
            print_end(work);
            print_after(work);
            print_checks(work);
        }
    }
    free(work);
    app_scenario_free(found);
    return code;
}
