/* tautrow fit: from pulls made and read on a mock-up to the stiffnesses that the scenario should have. */
#include "commands.h"

#include <stdlib.h>
#include <string.h>

#include "fit_model.h"
#include "fit_show.h"
#include "fit_write.h"
#include "measured.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

_Static_assert((int)FIT_VALUES == (int)APP_HOLDS, "an option to hold each value");

/* On the heap: a report holds every reading. */
typedef struct fit_command {
    measured seen;
    fit_choice choice;
    fit_report report;
    tr_diags diags;
} fit_command;

static bool read_measured(const char *path, const job_setup *setup, fit_command *command)
{
    char *text = NULL;
    size_t size = 0;
    char why[TR_TEXT_CAP];
    if (tr_file_read(path, MEASURED_MAX_FILE, &text, &size, why, sizeof why) != TR_OK) {
        tr_diags_add(&command->diags, TR_ERROR, 0, 0, "", "%s", why);
    } else {
        (void)measured_read(text, size, setup->structure.row_count, setup->structure.strand.breaking_n, &command->seen,
                            &command->diags);
    }
    free(text);
    app_print_diags(path, &command->diags, stderr);
    return command->diags.errors == 0;
}

static void choose(const app_options *options, const job_setup *setup, fit_choice *choice)
{
    choice->scatter = options->scatter > 0.0 ? options->scatter : setup->gauge_scatter;
    choice->leave_out = options->leave_out;
    for (int i = 0; i < FIT_VALUES; i++) {
        choice->is_held[i] = options->hold[i];
    }
}

/* Values that the readings do not tell stay out of a scenario; so do those that were found along with them. */
static int write_out(const app_context *context, const app_scenario *found, const fit_report *report)
{
    char why[TR_TEXT_CAP] = "";
    const char *path = context->options->write;
    if (!fit_is_told(report)) {
        char names[TR_TEXT_CAP];
        fit_untold_words(context->lang, report, names, sizeof names);
        const char *args[] = {names};
        app_say(context, stderr, "cli.fit.not_written", args, 1);
        return APP_EXIT_NO;
    }
    if (!fit_write(context, found, report, path, context->options->force, why, sizeof why)) {
        (void)fprintf(stderr, "tautrow: %s\n", why);
        return APP_EXIT_USAGE;
    }
    if (!context->options->json) {
        const char *args[] = {path};
        app_say(context, stdout, "cli.fit.written", args, 1);
    }
    return APP_EXIT_FINE;
}

static int fit_and_show(const app_context *context, const app_scenario *found, fit_command *command)
{
    const char *path = context->options->files[1];
    const job_setup *setup = &found->what.setup;
    char why[TR_TEXT_CAP];
    if (!read_measured(path, setup, command)) {
        return APP_EXIT_USAGE;
    }
    choose(context->options, setup, &command->choice);
    if (!(command->choice.scatter > 0.0)) {
        (void)fprintf(stderr, "tautrow: %s\n", tr_word(context->lang, "cli.fit.no_scatter"));
        return APP_EXIT_USAGE;
    }
    if (fit_mock_up(setup, &command->seen, &command->choice, &command->report, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "%s: error: %s\n", path, why);
        return APP_EXIT_USAGE;
    }
    const fit_show show = {context,
                           &found->what,
                           path,
                           &command->seen,
                           &command->choice,
                           &command->report,
                           app_system(context, &found->what)};
    int code = fit_is_told(&command->report) ? APP_EXIT_FINE : APP_EXIT_NO;
    if (context->options->json) {
        code = app_print_json(fit_json(&show), code);
    } else {
        fit_print(&show);
    }
    const int written = context->options->write == NULL ? code : write_out(context, found, &command->report);
    return code == APP_EXIT_USAGE ? code : written;
}

int app_fit(const app_context *context)
{
    if (context->options->file_count != 2) {
        (void)fprintf(stderr, "tautrow: %s\n", tr_word(context->lang, "cli.fit.files"));
        return APP_EXIT_USAGE;
    }
    app_scenario *found = app_scenario_of(context, context->options->files[0]);
    fit_command *command = calloc(1, sizeof *command);
    int code = APP_EXIT_USAGE;
    if (found != NULL && command != NULL) {
        code = fit_and_show(context, found, command);
    }
    free(command);
    app_scenario_free(found);
    return code;
}
