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
    if (app_scenario_load(path, context->catalogue, false, &found, diags) != TR_OK) {
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
        const double tension = rows->tension_n[i];
        rows->take_up_m[i] = tension > 0.0 ? mech_row_take_up(run, tension, rows->peak_n[i], NULL) : 0.0;
        for (int j = 0; j < n && tension > 0.0; j++) {
            rows->take_up_m[i] += run->flexibility[i][j] * rows->tension_n[j];
        }
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

static double gap_push(const job_setup *setup, const double tension_n[], int gap)
{
    const mech_structure *made = &setup->structure;
    const int n = made->row_count;
    double bay_m = 0.0;
    for (int i = 0; i < made->bay_count; i++) {
        bay_m = fmax(bay_m, made->bay_m[i]);
    }
    mech_opening opening;
    if (gap == 0 || gap == n) {
        const double spacing_m = gap == 0 ? made->row_height_m[0] : made->rail.height_m - made->row_height_m[n - 1];
        opening = mech_ball_opening_edge(setup->ball_m, made->strand.diameter_m, spacing_m, bay_m,
                                         tension_n[gap == 0 ? 0 : n - 1], made->strand.ea_n);
    } else {
        opening = mech_ball_opening(setup->ball_m, made->strand.diameter_m,
                                    made->row_height_m[gap] - made->row_height_m[gap - 1], bay_m, tension_n[gap - 1],
                                    tension_n[gap], made->strand.ea_n);
    }
    return opening.is_open ? 0.0 : opening.push_n;
}

double app_weakest_gap(const job_setup *setup, const double tension_n[], int *gap)
{
    const int n = setup->structure.row_count;
    const int last = setup->structure.rail.is_fitted ? n : n - 1;
    double weakest_n = (double)INFINITY;
    for (int i = 0; i <= last; i++) {
        const double push_n = gap_push(setup, tension_n, i);
        if (push_n < weakest_n) {
            weakest_n = push_n;
            *gap = i;
        }
    }
    return weakest_n;
}
