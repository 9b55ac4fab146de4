/* The program built without a window: it says so. */
#include "window.h"

int app_window(const app_context *context)
{
    (void)fprintf(stderr, "tautrow: %s\n", tr_word(context->lang, "cli.no_window"));
    return APP_EXIT_USAGE;
}
