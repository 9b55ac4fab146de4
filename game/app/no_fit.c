/* Stands in for the fit where the program is built without the GNU Scientific Library. */
#include "commands.h"

int app_fit(const app_context *context)
{
    (void)fprintf(stderr, "tautrow: %s\n", tr_word(context->lang, "cli.fit.built_without"));
    return APP_EXIT_USAGE;
}
