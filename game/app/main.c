/* tautrow: the one program. No verb opens the window. */
#include <stdio.h>
#include <stdlib.h>

#include "commands.h"
#include "window.h"

#ifndef TAUTROW_VERSION
#define TAUTROW_VERSION "unknown"
#endif

static int usage(const char *why)
{
    (void)fprintf(stderr, "tautrow: %s (tautrow --help says more)\n", why);
    return APP_EXIT_USAGE;
}

static int run_verb(const app_context *context)
{
    switch (context->options->verb) {
    case APP_CHECK:
        return app_check(context);
    case APP_SOLVE:
        return app_solve(context);
    case APP_PLAN:
        return app_plan(context);
    case APP_REPLAY:
        return app_replay(context, app_print);
    case APP_FIT:
        return app_fit(context);
    case APP_WINDOW:
    case APP_VERBS:
    default:
        return app_window(context);
    }
}

/* Loads the catalogue and goes; language and folder are there already. */
static int run_with(const app_options *options, const char *folder, tr_lang *lang)
{
    if (options->help) {
        app_options_help(options->verb, lang);
        return APP_EXIT_FINE;
    }
    tr_diags *diags = calloc(1, sizeof *diags);
    if (diags == NULL) {
        return usage("not enough memory");
    }
    int code = APP_EXIT_USAGE;
    scenario_catalogue *catalogue = app_catalogue_load(folder, diags);
    if (catalogue == NULL) {
        app_print_diags("assets/catalogue/catalogue.json", diags, stderr);
    } else {
        const app_context context = {options, folder, lang, catalogue};
        code = run_verb(&context);
        scenario_catalogue_close(catalogue);
    }
    free(diags);
    return code;
}

int main(int argc, char **argv)
{
    app_options options;
    char why[TR_TEXT_CAP] = "";
    char folder[APP_PATH_CAP];
    if (!app_options_read(argc, argv, &options, why, sizeof why)) {
        return usage(why);
    }
    if (options.version) {
        (void)printf("tautrow %s\n", TAUTROW_VERSION);
        return APP_EXIT_FINE;
    }
    if (!app_data_folder(folder, why, sizeof why)) {
        return usage(why);
    }
    const char *code = options.lang != NULL ? options.lang : app_lang_wanted();
    tr_lang *lang = app_lang_load(folder, code, why, sizeof why);
    if (lang == NULL) {
        return usage(why);
    }
    const int exit_code = run_with(&options, folder, lang);
    tr_lang_close(lang);
    if (fflush(stdout) != 0 || ferror(stdout) != 0) {
        return usage("standard output could not be written");
    }
    return exit_code;
}
