/* tautrow check: reads scenarios and says all that is wrong with them, and what a builder of posts would warn of. */
#include "commands.h"

#include <stdlib.h>

#include <cJSON.h>

static cJSON *diags_json(const char *file, const tr_diags *diags)
{
    cJSON *entry = cJSON_CreateObject();
    cJSON *list = cJSON_AddArrayToObject(entry, "findings");
    (void)cJSON_AddStringToObject(entry, "file", file);
    (void)cJSON_AddBoolToObject(entry, "is_sound", diags->errors == 0);
    for (size_t i = 0; i < diags->count; i++) {
        const tr_diag *diag = &diags->item[i];
        cJSON *one = cJSON_CreateObject();
        (void)cJSON_AddStringToObject(one, "severity", diag->severity == TR_ERROR ? "error" : "warning");
        (void)cJSON_AddNumberToObject(one, "line", diag->line);
        (void)cJSON_AddNumberToObject(one, "column", diag->column);
        (void)cJSON_AddStringToObject(one, "path", diag->path);
        (void)cJSON_AddStringToObject(one, "text", diag->text);
        (void)cJSON_AddItemToArray(list, one);
    }
    (void)cJSON_AddNumberToObject(entry, "findings_not_listed", (double)diags->dropped);
    return entry;
}

static void say_one(const app_context *context, const char *file, const tr_diags *diags)
{
    app_print_diags(file, diags, stderr);
    if (diags->errors == 0) {
        const char *args[] = {file};
        app_say(context, stdout, diags->count == 0 ? "cli.check.fine" : "cli.check.warned", args, 1);
    }
}

int app_check(const app_context *context)
{
    const app_options *options = context->options;
    if (options->file_count == 0) {
        (void)fprintf(stderr, "tautrow: %s\n", tr_word(context->lang, "cli.no_files"));
        return APP_EXIT_USAGE;
    }
    tr_diags *diags = malloc(sizeof *diags);
    cJSON *all = options->json ? cJSON_CreateArray() : NULL;
    int code = diags == NULL ? APP_EXIT_USAGE : APP_EXIT_FINE;
    for (int i = 0; i < options->file_count && diags != NULL; i++) {
        app_scenario *found = NULL;
        tr_diags_clear(diags);
        const tr_result result = app_scenario_load(options->files[i], context->catalogue, context->lang, &found, diags);
        if (options->json) {
            (void)cJSON_AddItemToArray(all, diags_json(options->files[i], diags));
        } else {
            say_one(context, options->files[i], diags);
        }
        if (result != TR_OK) {
            code = APP_EXIT_USAGE;
        } else if (options->strict && diags->count > 0 && code == APP_EXIT_FINE) {
            code = APP_EXIT_NO;
        }
        app_scenario_free(found);
    }
    free(diags);
    return options->json ? app_print_json(all, code) : code;
}
