/* The debrief on paper: bytes from the view, into a file. */
#include "paper.h"

#include <stdlib.h>

#include "data.h"
#include "tautrow/base/io.h"
#include "window.h"

tr_result app_fonts_open(view_fonts **out, char *why, size_t why_cap)
{
    const char *folder = app_fonts_folder();
    return folder == NULL ? view_fonts_open(NULL, 0, out, why, why_cap)
                          : view_fonts_open_only(&folder, 1, out, why, why_cap);
}

tr_result app_paper_write(const view_report_of *of, const view_fonts *fonts, const char *path, char *why,
                          size_t why_cap)
{
    char *bytes = NULL;
    size_t size = 0;
    tr_result result = view_report_pdf(of, fonts, &bytes, &size, why, why_cap);
    if (result == TR_OK) {
        result = tr_file_write(path, bytes, size, why, why_cap);
    }
    free(bytes);
    return result;
}

tr_result app_print(const app_context *context, const record_attempt *attempt, const score_card *card,
                    const char *digest, const char *path, char *why, size_t why_cap)
{
    const view_report_of of = {attempt, card, digest, context->lang,
                               app_system(context, record_attempt_scenario(attempt))};
    view_fonts *fonts = NULL;
    tr_result result = app_fonts_open(&fonts, why, why_cap);
    if (result == TR_OK) {
        result = app_paper_write(&of, fonts, path, why, why_cap);
    }
    view_fonts_close(fonts);
    return result;
}
