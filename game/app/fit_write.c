/* Puts fitted stiffnesses into the text of a scenario. A part that the scenario takes from the catalogue by its name
 * becomes an object of its own with that entry's values and the fitted one; all else stays byte for byte. */
#include "fit_write.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <cJSON.h>

#include "catalogue_json.h"
#include "json_edit.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

/* Written to seven digits; more than this between what was fitted and what is read back is a fault of ours. */
static const double READ_BACK = 1e-5;
/* Modulus of a strand that gives none (see the schema). */
static const double USUAL_ELASTIC_PA = 130e9;

typedef struct editor {
    char *text; /* owned */
    cJSON *catalogue;
    const fit_report *report;
} editor;

static bool set(editor *edit, const char *path, const char *value)
{
    char *next = value == NULL ? NULL : app_json_set(edit->text, path, value);
    if (next == NULL) {
        return false;
    }
    free(edit->text);
    edit->text = next;
    return true;
}

/* What stands at a path, read; NULL where there is nothing. */
static cJSON *read_at(const editor *edit, const char *path)
{
    app_span span = {0};
    return app_json_find(edit->text, path, &span) ? cJSON_ParseWithLength(edit->text + span.from, span.to - span.from)
                                                  : NULL;
}

/* A part with one value changed: in its object where it is one, else as a copy of the catalogue's entry. */
static bool set_in_part(editor *edit, const char *path, const char *kind, const char *key, const char *quantity)
{
    char deeper[128];
    char quoted[64];
    bool fine = false;
    cJSON *now = read_at(edit, path);
    (void)tr_format(quoted, sizeof quoted, "\"%s\"", quantity);
    if (cJSON_IsObject(now)) {
        (void)tr_format(deeper, sizeof deeper, "%s.%s", path, key);
        fine = set(edit, deeper, quoted);
    } else if (cJSON_IsString(now)) {
        cJSON *part = cJSON_Duplicate(app_catalogue_entry(edit->catalogue, kind, now->valuestring), true);
        cJSON_DeleteItemFromObjectCaseSensitive(part, "source");
        cJSON_DeleteItemFromObjectCaseSensitive(part, key);
        if (cJSON_AddStringToObject(part, key, quantity) != NULL) {
            char *text = cJSON_PrintUnformatted(part);
            fine = set(edit, path, text);
            cJSON_free(text);
        }
        cJSON_Delete(part);
    }
    cJSON_Delete(now);
    return fine;
}

static bool set_bases(editor *edit, const mech_structure *structure)
{
    static const char *const posts[MECH_ENDS] = {"run.near_post", "run.far_post"};
    char quantity[48];
    (void)tr_format(quantity, sizeof quantity, "%.7g N m/rad", edit->report->found[FIT_BASE].value);
    for (int end = 0; end < MECH_ENDS; end++) {
        char path[64];
        app_span span = {0};
        (void)tr_format(path, sizeof path, "%s.base", posts[end]);
        /* a far post that is not written is like the near one; a rigid one has no base */
        if (app_json_find(edit->text, posts[end], &span) && !structure->post[end].is_rigid &&
            !set_in_part(edit, path, "base", "stiffness", quantity)) {
            return false;
        }
    }
    return true;
}

/* The modulus of a part of the scenario or of its entry in the catalogue. */
static double elastic_now(const editor *edit)
{
    double elastic_pa = USUAL_ELASTIC_PA;
    char why[TR_TEXT_CAP];
    cJSON *now = read_at(edit, "strand");
    const cJSON *part = now;
    if (cJSON_IsString(now)) {
        part = app_catalogue_entry(edit->catalogue, "strand", now->valuestring);
    }
    const cJSON *written = cJSON_GetObjectItemCaseSensitive(part, "elastic");
    if (cJSON_IsString(written)) {
        (void)tr_quantity_parse(written->valuestring, TR_DIM_STRESS, &elastic_pa, why, sizeof why);
    }
    cJSON_Delete(now);
    return elastic_pa;
}

static bool set_strand(editor *edit)
{
    const fit_found *found = &edit->report->found[FIT_STRAND];
    char quantity[48];
    (void)tr_format(quantity, sizeof quantity, "%.7g GPa", elastic_now(edit) * found->value / found->start / 1e9);
    return set_in_part(edit, "strand", "strand", "elastic", quantity);
}

static bool set_joint(editor *edit)
{
    char quoted[64];
    (void)tr_format(quoted, sizeof quoted, "\"%.7g N/mm\"", edit->report->found[FIT_JOINT].value / 1e3);
    return set(edit, "rail.joint", quoted);
}

static bool edit_all(editor *edit, const mech_structure *structure)
{
    const fit_found *found = edit->report->found;
    return (!found[FIT_BASE].is_asked || set_bases(edit, structure)) &&
           (!found[FIT_JOINT].is_asked || set_joint(edit)) && (!found[FIT_STRAND].is_asked || set_strand(edit));
}

static bool is_near(double a, double b)
{
    return fabs(a - b) <= READ_BACK * fabs(b);
}

/* Reads the new text as any scenario and looks whether it says what was fitted. */
static bool reads_back(const app_context *context, const editor *edit, const mech_structure *wanted, char *why,
                       size_t why_cap)
{
    tr_diags *diags = calloc(1, sizeof *diags);
    scenario *back = calloc(1, sizeof *back);
    bool fine = false;
    if (diags == NULL || back == NULL) {
        (void)tr_copy(why, why_cap, "not enough memory");
    } else if (scenario_read(edit->text, strlen(edit->text), context->catalogue, back, diags) != TR_OK) {
        (void)tr_format(why, why_cap, "the scenario would not be sound: %s: %s", diags->item[0].path,
                        diags->item[0].text);
    } else {
        const mech_structure *got = &back->setup.structure;
        fine = is_near(got->strand.ea_n, wanted->strand.ea_n);
        for (int end = 0; end < MECH_ENDS; end++) {
            const mech_post *post = &wanted->post[end];
            fine = fine && (post->is_rigid || !edit->report->found[FIT_BASE].is_asked ||
                            is_near(got->post[end].base_n_m_rad, post->base_n_m_rad));
            fine = fine && (!edit->report->found[FIT_JOINT].is_asked ||
                            is_near(got->rail.joint_n_m[end], wanted->rail.joint_n_m[end]));
        }
        if (!fine) {
            (void)tr_copy(why, why_cap, "the scenario's text could not be changed at these values");
        }
    }
    free(back);
    free(diags);
    return fine;
}

bool fit_write(const app_context *context, const app_scenario *found, const fit_report *report, const char *path,
               bool force, char *why, size_t why_cap)
{
    if (!force && tr_file_exists(path)) {
        (void)tr_format(why, why_cap, "%s is there already (--force replaces it)", path);
        return false;
    }
    mech_structure wanted = found->what.setup.structure;
    editor edit = {.catalogue = app_catalogue_json(context->folder, why, why_cap), .report = report};
    edit.text = malloc(found->size + 1);
    bool fine = edit.text != NULL && edit.catalogue != NULL;
    if (fine) {
        memcpy(edit.text, found->text, found->size + 1);
        fit_apply(report, &wanted);
        fine = edit_all(&edit, &wanted);
        if (!fine) {
            (void)tr_copy(why, why_cap, "the scenario's text could not be changed at these values");
        }
    }
    fine = fine && reads_back(context, &edit, &wanted, why, why_cap) &&
           tr_file_write(path, edit.text, strlen(edit.text), why, why_cap) == TR_OK;
    cJSON_Delete(edit.catalogue);
    free(edit.text);
    return fine;
}
