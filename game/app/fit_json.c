/* The report of a fit as JSON: docs/formats-fit.md. */
#include "fit_show.h"

#include <cJSON.h>

#include "tautrow/base/text.h"

static const char *const names[FIT_VALUES] = {"base", "joint", "strand"};
static const char *const units[FIT_VALUES] = {"n_m_rad", "n_m", "n"};

static void add(cJSON *json, const char *stem, fit_value which, double si)
{
    char key[48];
    (void)tr_format(key, sizeof key, "%s_%s", stem, units[which]);
    (void)cJSON_AddNumberToObject(json, key, si);
}

static const char *state_of(const fit_found *found)
{
    if (found->is_held) {
        return "held";
    }
    return !found->is_asked ? "absent" : found->is_told ? "told" : "not_told";
}

static cJSON *values_json(const fit_report *report)
{
    cJSON *list = cJSON_CreateArray();
    for (int i = 0; i < FIT_VALUES; i++) {
        const fit_found *found = &report->found[i];
        cJSON *one = cJSON_CreateObject();
        (void)cJSON_AddStringToObject(one, "value", names[i]);
        (void)cJSON_AddStringToObject(one, "state", state_of(found));
        add(one, "scenario", (fit_value)i, found->start);
        if (found->is_asked && !report->is_too_few) {
            add(one, "fitted", (fit_value)i, found->value);
        }
        if (found->has_interval) {
            add(one, "low", (fit_value)i, found->low);
            add(one, "high", (fit_value)i, found->high);
        }
        (void)cJSON_AddItemToArray(list, one);
    }
    return list;
}

static cJSON *pairs_json(const fit_report *report)
{
    cJSON *list = cJSON_CreateArray();
    for (int i = 0; i < FIT_VALUES; i++) {
        for (int j = i + 1; j < FIT_VALUES; j++) {
            if (report->found[i].is_asked && report->found[j].is_asked && !report->is_too_few) {
                cJSON *one = cJSON_CreateObject();
                (void)cJSON_AddStringToObject(one, "one", names[i]);
                (void)cJSON_AddStringToObject(one, "other", names[j]);
                (void)cJSON_AddNumberToObject(one, "correlation", report->correlation[i][j]);
                (void)cJSON_AddBoolToObject(one, "is_told_apart", !report->is_alike[i][j]);
                (void)cJSON_AddItemToArray(list, one);
            }
        }
    }
    return list;
}

static cJSON *spot_json(const fit_show *show, const fit_spot *spot)
{
    const measured_pull *pull = &show->seen->pull[spot->pull];
    const bool is_pull = spot->row == FIT_PULL_ITSELF;
    cJSON *one = cJSON_CreateObject();
    (void)cJSON_AddNumberToObject(one, "line", pull->line);
    (void)cJSON_AddNumberToObject(one, "pull", spot->pull + 1);
    (void)cJSON_AddNumberToObject(one, "row", (is_pull ? pull->row : spot->row) + 1);
    (void)cJSON_AddBoolToObject(one, "is_pull_itself", is_pull);
    (void)cJSON_AddNumberToObject(one, "read_n", is_pull ? pull->reading_n : pull->read_n[spot->row]);
    (void)cJSON_AddNumberToObject(one, "sigmas", spot->sigmas);
    return one;
}

static void add_spots(cJSON *json, const char *key, const fit_show *show, const fit_spot spots[], int count)
{
    cJSON *list = cJSON_AddArrayToObject(json, key);
    for (int i = 0; i < count; i++) {
        (void)cJSON_AddItemToArray(list, spot_json(show, &spots[i]));
    }
}

static cJSON *residuals_json(const fit_show *show)
{
    cJSON *list = cJSON_CreateArray();
    for (int k = 0; k < show->seen->pull_count; k++) {
        const fit_spot pull = {.pull = k, .row = FIT_PULL_ITSELF, .sigmas = show->report->pull_sigmas[k]};
        (void)cJSON_AddItemToArray(list, spot_json(show, &pull));
        for (int i = 0; i < show->scenario->setup.structure.row_count; i++) {
            if (show->seen->pull[k].is_read[i]) {
                const fit_spot spot = {.pull = k, .row = i, .sigmas = show->report->sigmas[k][i]};
                cJSON *one = spot_json(show, &spot);
                (void)cJSON_AddNumberToObject(one, "model_n", show->report->model_n[k][i]);
                (void)cJSON_AddBoolToObject(one, "is_used", show->report->is_used[k][i]);
                (void)cJSON_AddItemToArray(list, one);
            }
        }
    }
    return list;
}

cJSON *fit_json(const fit_show *show)
{
    const fit_report *report = show->report;
    cJSON *json = cJSON_CreateObject();
    (void)cJSON_AddStringToObject(json, "scenario", show->scenario->setup.id);
    (void)cJSON_AddNumberToObject(json, "pulls", show->seen->pull_count);
    (void)cJSON_AddNumberToObject(json, "readings_used", report->reading_count);
    (void)cJSON_AddNumberToObject(json, "readings_before_first_pull", report->unused_count);
    (void)cJSON_AddNumberToObject(json, "gauge_scatter", show->choice->scatter);
    (void)cJSON_AddBoolToObject(json, "is_too_few", report->is_too_few);
    (void)cJSON_AddBoolToObject(json, "is_told", fit_is_told(report));
    (void)cJSON_AddItemToObject(json, "values", values_json(report));
    if (!report->is_too_few) {
        (void)cJSON_AddBoolToObject(json, "converged", report->converged);
        (void)cJSON_AddNumberToObject(json, "reduced_chi_square", report->reduced_chi_square);
        (void)cJSON_AddNumberToObject(json, "degrees_of_freedom", (double)report->freedom);
        (void)cJSON_AddNumberToObject(json, "condition", report->condition);
        (void)cJSON_AddItemToObject(json, "pairs", pairs_json(report));
        (void)cJSON_AddNumberToObject(json, "far_off_total", report->far_total);
        add_spots(json, "far_off", show, report->far, report->far_count);
        add_spots(json, "left_out", show, report->left_out, report->left_out_count);
        (void)cJSON_AddItemToObject(json, "residuals", residuals_json(show));
    }
    return json;
}
