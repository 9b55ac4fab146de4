/* What the verbs of the command line share. */
#include "commands.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <cJSON.h>

#include "tautrow/base/text.h"

void app_print_diags(const char *file, const tr_diags *diags, FILE *out)
{
    for (size_t i = 0; i < diags->count; i++) {
        const tr_diag *diag = &diags->item[i];
        (void)fprintf(out, "%s:", file);
        if (diag->line > 0) {
            (void)fprintf(out, "%d:%d:", diag->line, diag->column);
        }
        (void)fprintf(out, " %s: ", diag->severity == TR_ERROR ? "error" : "warning");
        if (diag->path[0] != '\0') {
            (void)fprintf(out, "%s: ", diag->path);
        }
        (void)fprintf(out, "%s\n", diag->text);
    }
    if (diags->dropped > 0) {
        (void)fprintf(out, "%s: and %zu more\n", file, diags->dropped);
    }
}

void app_digest(const char *text, size_t size, char out[TR_HASH_TEXT])
{
    tr_hasher hasher;
    tr_hash_begin(&hasher);
    tr_hash_add(&hasher, text, size);
    tr_hash_text(tr_hash_end(&hasher), out);
}

tr_system app_system(const app_context *context, const scenario *what)
{
    return context->options->has_system ? context->options->system : what->units;
}

app_scenario *app_scenario_of(const app_context *context, const char *path)
{
    app_scenario *found = NULL;
    tr_diags *diags = calloc(1, sizeof *diags);
    if (diags == NULL) {
        (void)fprintf(stderr, "tautrow: not enough memory\n");
        return NULL;
    }
    if (app_scenario_load(path, context->catalogue, NULL, &found, diags) != TR_OK) {
        app_print_diags(path, diags, stderr);
    }
    free(diags);
    return found;
}

app_scenario *app_one_scenario(const app_context *context, int *code)
{
    *code = APP_EXIT_USAGE;
    if (context->options->file_count != 1) {
        (void)fprintf(stderr, "tautrow: %s\n", tr_word(context->lang, "cli.one_scenario"));
        return NULL;
    }
    app_scenario *found = app_scenario_of(context, context->options->files[0]);
    *code = found == NULL ? APP_EXIT_USAGE : APP_EXIT_FINE;
    return found;
}

tr_result app_ready_run(const job_setup *setup, mech_run *run, mech_rows *rows, char *why, size_t why_cap)
{
    const tr_result built = mech_run_build(&setup->structure, run, why, why_cap);
    if (built != TR_OK) {
        return built;
    }
    const int n = setup->structure.row_count;
    memset(rows, 0, sizeof *rows);
    for (int i = 0; i < n; i++) {
        const bool is_finished = setup->start_stage[i] == JOB_STAGE_COUNT;
        rows->is_strung[i] = true;
        rows->tension_n[i] = is_finished ? setup->start_tension_n[i] : 0.0;
        rows->peak_n[i] = rows->tension_n[i];
    }
    for (int i = 0; i < n; i++) {
        rows->take_up_m[i] = rows->tension_n[i] > 0.0 ? mech_run_take_up(run, rows, i, rows->tension_n) : 0.0;
    }
    (void)mech_run_solve(run, rows);
    return TR_OK;
}

void app_say(const app_context *context, FILE *out, const char *key, const char *const args[], size_t count)
{
    char text[1024];
    tr_lang_fill(context->lang, key, args, count, text, sizeof text);
    (void)fprintf(out, "%s\n", text);
}

const char *app_quantity(double si, tr_dim dim, tr_system system, char out[48])
{
    tr_quantity_text(si, dim, system, TR_PLAIN, out, 48);
    return out;
}

int app_print_json(cJSON *json, int code)
{
    char *text = json == NULL ? NULL : cJSON_Print(json);
    cJSON_Delete(json);
    if (text == NULL) {
        (void)fprintf(stderr, "tautrow: not enough memory\n");
        return APP_EXIT_USAGE;
    }
    (void)puts(text);
    cJSON_free(text);
    return code;
}

app_verdict app_judge(const mech_rows *rows, int row_count, double target_n, double tolerance)
{
    app_verdict verdict = {.lowest = -1, .highest = -1};
    for (int i = 0; i < row_count; i++) {
        if (!rows->is_strung[i]) {
            continue;
        }
        const double tension = rows->tension_n[i];
        verdict.strung++;
        if (verdict.lowest < 0 || tension < rows->tension_n[verdict.lowest]) {
            verdict.lowest = i;
        }
        if (verdict.highest < 0 || tension > rows->tension_n[verdict.highest]) {
            verdict.highest = i;
        }
        if (tension < target_n * (1.0 - tolerance)) {
            verdict.low[verdict.low_count++] = i;
        } else if (tension > target_n * (1.0 + tolerance)) {
            verdict.high[verdict.high_count++] = i;
        } else {
            verdict.within++;
        }
    }
    return verdict;
}

double app_weakest_gap(const mech_run *run, const mech_rows *rows, double ball_m, int *gap)
{
    const int n = run->made_of.row_count;
    const int last = run->made_of.rail.is_fitted ? n : n - 1;
    double weakest_n = (double)INFINITY;
    for (int i = 0; i <= last; i++) {
        const mech_opening opening = mech_run_opening(run, rows, i, ball_m);
        const double push_n = opening.is_open ? 0.0 : opening.push_n;
        if (push_n < weakest_n) {
            weakest_n = push_n;
            *gap = i;
        }
    }
    return weakest_n;
}
