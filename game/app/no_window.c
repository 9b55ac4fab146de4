/* The program built without a window: it says so. */
#include "window.h"

#include "tautrow/base/text.h"

int app_window(const app_context *context)
{
    (void)fprintf(stderr, "tautrow: %s\n", tr_word(context->lang, "cli.no_window"));
    return APP_EXIT_USAGE;
}

tr_result app_print(const app_context *context, const record_attempt *attempt, const score_card *card,
                    const char *digest, const char *path, char *why, size_t why_cap)
{
    (void)attempt;
    (void)card;
    (void)digest;
    (void)path;
    (void)tr_copy(why, why_cap, tr_word(context->lang, "cli.no_paper"));
    return TR_INVALID;
}
