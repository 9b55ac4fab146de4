/* tautrow solve: the state of a run after given take-ups, after pulls in sequence, or with all rows at the target. */
#include "commands.h"

#include <stdlib.h>
#include <string.h>

#include <cJSON.h>

#include "table.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"
#include "tautrow/score/score.h"

enum { MAX_PULL_FILE = 65536 };

/* Everything a solve works on; on the heap, as a run is large. */
typedef struct solve_work {
    const app_context *context;
    const scenario *scenario;
    tr_system system;
    double target_n;
    mech_run run;
    mech_rows rows;
    mech_solution solution;
    mech_loads loads;
    mech_utilisation use;
    double deflection_m[MECH_ENDS][MECH_MAX_ROWS + 1];
    char why[TR_TEXT_CAP];
} solve_work;

static bool fail(solve_work *work, const char *where, int line, const char *text)
{
    if (line > 0) {
        (void)fprintf(stderr, "%s:%d: error: %s\n", where, line, text);
    } else {
        (void)fprintf(stderr, "tautrow: %s: %s\n", where, text);
    }
    (void)work;
    return false;
}

/* Reads a row number, from 1, at the start of text; returns the bytes used, 0 where there is none. */
static size_t read_row(const char *text, int row_count, int *row)
{
    double value = 0.0;
    const size_t used = tr_double_parse(text, &value);
    if (used == 0 || value < 1.0 || value > (double)row_count || value != (double)(int)value) {
        return 0;
    }
    *row = (int)value - 1;
    return used;
}

/* One "ROW QUANTITY" line (or ROW=QUANTITY); what it means is done by act. */
typedef bool (*line_act)(solve_work *work, int row, double value);

static bool read_pair(solve_work *work, const char *text, tr_dim dim, line_act act, const char *where, int line)
{
    int row = 0;
    double value = 0.0;
    char why[TR_TEXT_CAP];
    const int n = work->run.made_of.row_count;
    const size_t used = read_row(text, n, &row);
    if (used == 0) {
        (void)tr_format(why, sizeof why, "needs a row from 1 to %d, then a quantity, not \"%.60s\"", n, text);
        return fail(work, where, line, why);
    }
    const char *rest = text + used;
    rest += strspn(rest, " \t=:");
    if (!tr_quantity_parse(rest, dim, &value, why, sizeof why)) {
        return fail(work, where, line, why);
    }
    if (!act(work, row, value)) {
        return fail(work, where, line, work->why);
    }
    return true;
}

/* Runs through a file of such lines; blank ones and those that start with # are passed over. */
static bool read_pairs(solve_work *work, const char *path, tr_dim dim, line_act act)
{
    char *text = NULL;
    size_t size = 0;
    char why[TR_TEXT_CAP];
    if (tr_file_read(path, MAX_PULL_FILE, &text, &size, why, sizeof why) != TR_OK) {
        return fail(work, path, 0, why);
    }
    bool fine = tr_utf8_valid(text, size) || fail(work, path, 0, "not a text file (UTF-8)");
    int line = 0;
    for (char *at = text; fine && *at != '\0';) {
        char *end = at + strcspn(at, "\n");
        const bool is_last = *end == '\0';
        *end = '\0';
        end[end > at && end[-1] == '\r' ? -1 : 0] = '\0';
        at += strspn(at, " \t");
        line++;
        fine = *at == '\0' || *at == '#' || read_pair(work, at, dim, act, path, line);
        at = is_last ? end : end + 1;
    }
    free(text);
    return fine;
}

static bool set_take_up(solve_work *work, int row, double value)
{
    work->rows.take_up_m[row] = value;
    return true;
}

static bool pull_row(solve_work *work, int row, double value)
{
    if (value <= 0.0) {
        (void)tr_copy(work->why, sizeof work->why, "a row can only be pulled to a reading above zero");
        return false;
    }
    work->solution = mech_run_pull(&work->run, &work->rows, row, value);
    if (!work->solution.converged) {
        (void)tr_copy(work->why, sizeof work->why, "the solver found no state for this pull");
        return false;
    }
    if (value > work->scenario->setup.row_limit_n) {
        char reading[48];
        char limit[48];
        (void)fprintf(stderr, "tautrow: warning: row %d is pulled to %s, over its limit of %s\n", row + 1,
                      app_quantity(value, TR_DIM_FORCE, work->system, reading),
                      app_quantity(work->scenario->setup.row_limit_n, TR_DIM_FORCE, work->system, limit));
    }
    return true;
}

/* Take-ups that hold every strung row at the target at once. */
static void set_all_to_target(solve_work *work)
{
    const int n = work->run.made_of.row_count;
    double tension_n[MECH_MAX_ROWS] = {0.0};
    for (int i = 0; i < n; i++) {
        tension_n[i] = work->target_n;
    }
    for (int i = 0; i < n; i++) {
        work->rows.take_up_m[i] = mech_run_take_up(&work->run, &work->rows, i, tension_n);
    }
}

static bool carry_out(solve_work *work)
{
    const app_options *options = work->context->options;
    if (options->wants_target) {
        set_all_to_target(work);
    }
    for (int i = 0; i < options->take_up_count; i++) {
        const char *text = options->take_up[i];
        const bool is_pair = strchr(text, '=') != NULL && !tr_file_exists(text);
        if (is_pair ? !read_pair(work, text, TR_DIM_LENGTH, set_take_up, "--take-up", 0)
                    : !read_pairs(work, text, TR_DIM_LENGTH, set_take_up)) {
            return false;
        }
    }
    work->solution = mech_run_solve(&work->run, &work->rows);
    if (options->pulls != NULL && !read_pairs(work, options->pulls, TR_DIM_FORCE, pull_row)) {
        return false;
    }
    mech_run_loads(&work->run, &work->rows, &work->loads);
    work->use = mech_post_utilisation(&work->run, &work->loads, work->scenario->setup.limits);
    for (int end = 0; end < MECH_ENDS; end++) {
        mech_run_deflection(&work->run, &work->rows, (mech_end)end, work->deflection_m[end]);
    }
    return true;
}

static void print_rows(const solve_work *work)
{
    const tr_lang *lang = work->context->lang;
    const int n = work->run.made_of.row_count;
    app_table *table = malloc(sizeof *table);
    if (table == NULL) {
        return;
    }
    const char *headings[] = {tr_word(lang, "cli.row"),     tr_word(lang, "cli.height"), tr_word(lang, "cli.take_up"),
                              tr_word(lang, "cli.tension"), tr_word(lang, "cli.share"),  tr_word(lang, "cli.near_in"),
                              tr_word(lang, "cli.far_in")};
    app_table_start(table, 7, headings);
    for (int i = n - 1; i >= 0; i--) {
        char text[48];
        (void)tr_format(text, sizeof text, "%d", i + 1);
        app_table_put(table, text);
        app_table_put(table, app_quantity(work->run.made_of.row_height_m[i], TR_DIM_LENGTH, work->system, text));
        tr_quantity_text(work->rows.take_up_m[i], TR_DIM_LENGTH, TR_SI, TR_FINE, text, sizeof text);
        app_table_put(table, text);
        tr_quantity_text(work->rows.tension_n[i], TR_DIM_FORCE, work->system, TR_FINE, text, sizeof text);
        app_table_put(table, text);
        (void)tr_format(text, sizeof text, "%.1f %%", 100.0 * work->rows.tension_n[i] / work->target_n);
        app_table_put(table, text);
        for (int end = 0; end < MECH_ENDS; end++) {
            tr_quantity_text(work->deflection_m[end][i], TR_DIM_LENGTH, TR_SI, TR_FINE, text, sizeof text);
            app_table_put(table, text);
        }
    }
    app_table_print(table, stdout);
    free(table);
}

static void print_posts(const solve_work *work)
{
    static const char *const keys[MECH_ENDS] = {"cli.solve.near", "cli.solve.far"};
    char text[6][48];
    for (int end = 0; end < MECH_ENDS; end++) {
        (void)tr_format(text[0], 48, "%.0f %%", 100.0 * work->use.bending[end]);
        const char *args[] = {
            app_quantity(work->loads.peak_moment_n_m[end], TR_DIM_MOMENT, work->system, text[1]),
            app_quantity(work->loads.peak_height_m[end], TR_DIM_LENGTH, work->system, text[2]),
            text[0],
            app_quantity(work->loads.base_moment_n_m[end], TR_DIM_MOMENT, work->system, text[3]),
            app_quantity(work->loads.base_shear_n[end], TR_DIM_FORCE, work->system, text[4]),
        };
        app_say(work->context, stdout, keys[end], args, 5);
    }
    const char *args[] = {app_quantity(work->loads.total_n, TR_DIM_FORCE, work->system, text[0]),
                          app_quantity(work->loads.rail_n, TR_DIM_FORCE, work->system, text[1]),
                          app_quantity(work->loads.off_centre_n_m, TR_DIM_MOMENT, work->system, text[2])};
    app_say(work->context, stdout, "cli.solve.run", args, 3);
}

/* Says in words whether the rows stand at the target; 0.1 % is what the pull sheet promises. */
static void print_verdict(const solve_work *work)
{
    const app_verdict verdict = app_judge(&work->rows, work->run.made_of.row_count, work->target_n, 0.001);
    char rows[128];
    char text[4][48];
    if (verdict.strung == 0) {
        return;
    }
    (void)app_quantity(work->target_n, TR_DIM_FORCE, work->system, text[0]);
    if (verdict.within == verdict.strung) {
        (void)tr_format(text[1], 48, "%d", verdict.strung);
        const char *args[] = {text[1], text[0]};
        app_say(work->context, stdout, "cli.solve.all", args, 2);
        return;
    }
    const app_verdict wide =
        app_judge(&work->rows, work->run.made_of.row_count, work->target_n, work->scenario->setup.tolerance);
    (void)tr_format(text[1], 48, "%.0f %%", 100.0 * work->scenario->setup.tolerance);
    if (wide.low_count > 0) {
        score_rows_text(wide.low, wide.low_count, work->context->lang, rows, sizeof rows);
        (void)tr_format(text[2], 48, "%d", wide.lowest + 1);
        (void)tr_format(text[3], 48, "%.1f %%", 100.0 * work->rows.tension_n[wide.lowest] / work->target_n);
        const char *args[] = {rows, text[1], text[0], text[2], text[3]};
        app_say(work->context, stdout, "cli.solve.low", args, 5);
    }
    if (wide.high_count > 0) {
        score_rows_text(wide.high, wide.high_count, work->context->lang, rows, sizeof rows);
        (void)tr_format(text[2], 48, "%d", wide.highest + 1);
        (void)tr_format(text[3], 48, "%.1f %%", 100.0 * work->rows.tension_n[wide.highest] / work->target_n);
        const char *args[] = {rows, text[1], text[0], text[2], text[3]};
        app_say(work->context, stdout, "cli.solve.high", args, 5);
    }
    if (wide.within == wide.strung) {
        const char *args[] = {text[1], text[0]};
        app_say(work->context, stdout, "cli.solve.within", args, 2);
    }
}

static cJSON *row_json(const solve_work *work, int i)
{
    cJSON *row = cJSON_CreateObject();
    (void)cJSON_AddNumberToObject(row, "row", i + 1);
    (void)cJSON_AddNumberToObject(row, "height_m", work->run.made_of.row_height_m[i]);
    (void)cJSON_AddNumberToObject(row, "take_up_m", work->rows.take_up_m[i]);
    (void)cJSON_AddNumberToObject(row, "tension_n", work->rows.tension_n[i]);
    if (work->run.made_of.bend_count > 0) {
        (void)cJSON_AddItemToObject(row, "beyond_bends_n",
                                    cJSON_CreateDoubleArray(work->rows.beyond_n[i], work->run.made_of.bend_count));
    }
    (void)cJSON_AddNumberToObject(row, "peak_n", work->rows.peak_n[i]);
    (void)cJSON_AddNumberToObject(row, "share_of_target", work->rows.tension_n[i] / work->target_n);
    (void)cJSON_AddNumberToObject(row, "deflection_near_m", work->deflection_m[MECH_NEAR][i]);
    (void)cJSON_AddNumberToObject(row, "deflection_far_m", work->deflection_m[MECH_FAR][i]);
    return row;
}

static cJSON *post_json(const solve_work *work, int end)
{
    cJSON *post = cJSON_CreateObject();
    (void)cJSON_AddStringToObject(post, "end", end == MECH_NEAR ? "near" : "far");
    (void)cJSON_AddNumberToObject(post, "base_shear_n", work->loads.base_shear_n[end]);
    (void)cJSON_AddNumberToObject(post, "axial_n", work->loads.axial_n[end]);
    (void)cJSON_AddNumberToObject(post, "base_moment_n_m", work->loads.base_moment_n_m[end]);
    (void)cJSON_AddNumberToObject(post, "peak_moment_n_m", work->loads.peak_moment_n_m[end]);
    (void)cJSON_AddNumberToObject(post, "peak_height_m", work->loads.peak_height_m[end]);
    if (work->run.made_of.corner.is_there && (int)work->run.made_of.corner.end == end) {
        (void)cJSON_AddNumberToObject(post, "across_shear_n", work->loads.across_shear_n);
        (void)cJSON_AddNumberToObject(post, "across_moment_n_m", work->loads.across_moment_n_m);
        (void)cJSON_AddNumberToObject(post, "across_deflection_m", work->run.corner_out_m);
    }
    (void)cJSON_AddNumberToObject(post, "bending_utilisation", work->use.bending[end]);
    (void)cJSON_AddNumberToObject(post, "base_utilisation", work->use.base[end]);
    return post;
}

static cJSON *work_json(const solve_work *work)
{
    const int n = work->run.made_of.row_count;
    cJSON *json = cJSON_CreateObject();
    (void)cJSON_AddStringToObject(json, "scenario", work->scenario->setup.id);
    (void)cJSON_AddBoolToObject(json, "converged", work->solution.converged);
    (void)cJSON_AddNumberToObject(json, "iterations", work->solution.iterations);
    (void)cJSON_AddNumberToObject(json, "residual_m", work->solution.residual_m);
    (void)cJSON_AddNumberToObject(json, "target_n", work->target_n);
    (void)cJSON_AddNumberToObject(json, "total_n", work->loads.total_n);
    (void)cJSON_AddNumberToObject(json, "rail_n", work->loads.rail_n);
    (void)cJSON_AddNumberToObject(json, "off_centre_n_m", work->loads.off_centre_n_m);
    (void)cJSON_AddNumberToObject(json, "rail_joint_utilisation", work->use.rail_joint);
    cJSON *rows = cJSON_AddArrayToObject(json, "rows");
    for (int i = 0; i < n; i++) {
        (void)cJSON_AddItemToArray(rows, row_json(work, i));
    }
    cJSON *posts = cJSON_AddArrayToObject(json, "posts");
    for (int end = 0; end < MECH_ENDS; end++) {
        (void)cJSON_AddItemToArray(posts, post_json(work, end));
    }
    const app_verdict verdict = app_judge(&work->rows, n, work->target_n, 0.001);
    (void)cJSON_AddBoolToObject(json, "all_within_0_1_percent", verdict.within == verdict.strung);
    (void)cJSON_AddNumberToObject(json, "lowest_row", verdict.lowest + 1);
    (void)cJSON_AddNumberToObject(json, "highest_row", verdict.highest + 1);
    return json;
}

static bool read_target(solve_work *work)
{
    const char *text = work->context->options->target;
    work->target_n = work->scenario->setup.target_n;
    if (text == NULL) {
        return true;
    }
    char why[TR_TEXT_CAP];
    if (!tr_quantity_parse(text, TR_DIM_FORCE, &work->target_n, why, sizeof why) || work->target_n <= 0.0) {
        return fail(work, "--target", 0, work->target_n <= 0.0 ? "must be above zero" : why);
    }
    return true;
}

int app_solve(const app_context *context)
{
    int code = APP_EXIT_FINE;
    app_scenario *found = app_one_scenario(context, &code);
    solve_work *work = calloc(1, sizeof *work);
    if (found == NULL || work == NULL) {
        app_scenario_free(found);
        free(work);
        return code == APP_EXIT_FINE ? APP_EXIT_USAGE : code;
    }
    work->context = context;
    work->scenario = &found->what;
    work->system = app_system(context, &found->what);
    code = APP_EXIT_USAGE;
    if (app_ready_run(&found->what.setup, &work->run, &work->rows, work->why, sizeof work->why) != TR_OK) {
        (void)fail(work, context->options->files[0], 0, work->why);
    } else if (read_target(work) && carry_out(work)) {
        code = work->solution.converged ? APP_EXIT_FINE : APP_EXIT_NO;
        if (context->options->json) {
            code = app_print_json(work_json(work), code);
        } else {
            print_rows(work);
            print_posts(work);
            print_verdict(work);
        }
    }
    free(work);
    app_scenario_free(found);
    return code;
}
