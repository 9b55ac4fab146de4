/* Reading a scenario: text to tree, tree to fields, fields to a job, each step listing all that it finds wrong. */
#include "tautrow/scenario/scenario.h"

#include <stdlib.h>
#include <string.h>

#include "build.h"
#include "catalogue.h"
#include "tautrow/base/text.h"

/* The units are needed first: ranges in messages are told in them. */
static tr_system peek_system(const scenario__node *root)
{
    const scenario__node *units = scenario__member(root, "units");
    return units && units->kind == SCENARIO__STRING && strcmp(units->text, "si") == 0 ? TR_SI : TR_US;
}

static void build_texts(const scenario__build *build)
{
    const scenario__file *file = build->file;
    scenario *out = build->out;
    out->title = file->title;
    out->place = file->place;
    out->story = file->story;
    out->units = (tr_system)file->units;
    out->minutes = file->minutes;
    out->difficulty = file->difficulty;
    memcpy(out->setup.id, file->id, sizeof out->setup.id);
    out->setup.seed = (uint64_t)file->seed;
    out->setup.mode = JOB_PRACTICE;
}

/* Whether the structure can stand at all is the mechanics' to say, in its own words. */
static void check_structure(const scenario__build *build, mech_run *run)
{
    char why[TR_TEXT_CAP];
    if (mech_run_build(&build->out->setup.structure, run, why, sizeof why) != TR_OK) {
        SCENARIO__SAY(build->reader, scenario__place(build, "run"), "%s", why);
    }
}

static void build_scenario(const scenario__build *build, mech_run *run)
{
    scenario__check_format(build->reader, build->file->format, "tautrow.scenario/1");
    build_texts(build);
    scenario__build_run(build);
    scenario__build_fittings(build);
    scenario__build_rows(build);
    scenario__build_task(build);
    scenario__build_faults(build);
    scenario__build_rubric(build);
    if (build->reader->errors == 0) {
        check_structure(build, run);
    }
}

/* Large values live on the heap: a scenario with its run is more than some stacks like. */
typedef struct workspace {
    scenario__file file;
    scenario out;
    mech_run run;
} workspace;

static tr_result read_tree(const scenario__json *json, const scenario_catalogue *catalogue, workspace *work,
                           tr_diags *diags)
{
    const scenario__node *root = scenario__json_root(json);
    scenario__reader reader = {.diags = diags, .system = peek_system(root), .catalogue = catalogue};
    const scenario__build build = {&reader, root, &work->file, &work->out};
    scenario__fill(&reader, root, &scenario__file_shape, &work->file);
    if (root->kind == SCENARIO__OBJECT) {
        build_scenario(&build, &work->run);
    }
    return reader.errors > 0 ? TR_INVALID : TR_OK;
}

static tr_hash digest_of(const char *text, size_t size)
{
    tr_hasher hasher;
    tr_hash_begin(&hasher);
    tr_hash_add(&hasher, text, size);
    return tr_hash_end(&hasher);
}

tr_result scenario_read(const char *text, size_t size, const scenario_catalogue *catalogue, scenario *out,
                        tr_diags *diags)
{
    const size_t before = diags->count;
    scenario__json *json = NULL;
    tr_result result = scenario__json_open(text, size, SCENARIO_MAX_FILE, &json, diags);
    if (json) {
        workspace *work = calloc(1, sizeof *work);
        const tr_result fields = work ? read_tree(json, catalogue, work, diags) : TR_NO_MEMORY;
        result = fields == TR_OK ? result : fields;
        if (result == TR_OK) {
            work->out.digest = digest_of(text, size);
            *out = work->out;
        }
        free(work);
    }
    scenario__json_close(json);
    scenario__sort(diags, before);
    return result;
}

const char *scenario_title_in(const scenario_title *title, const char *code)
{
    return strcmp(code, "es") == 0 ? title->es : title->en;
}

const char *scenario_story_in(const scenario_story *story, const char *code)
{
    return strcmp(code, "es") == 0 ? story->es : story->en;
}
