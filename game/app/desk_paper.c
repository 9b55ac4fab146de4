/* The debrief that is shown, saved on paper. */
#include "desk_paper.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "paper.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

/* The journal's own name, or one made like it where the attempt was not recorded. */
static void name_of(const app_desk *desk, char *out, size_t cap)
{
    const char *slash = strrchr(desk->journal, '/');
    const char *name = slash == NULL ? desk->journal : slash + 1;
    const char *dot = strrchr(name, '.');
    out[0] = '\0';
    if (*name != '\0') {
        (void)tr_format(out, cap, "%.*s", (int)(dot == NULL || dot == name ? strlen(name) : (size_t)(dot - name)),
                        name);
        return;
    }
    for (const char *c = record_attempt_about(desk->attempt)->started_utc; *c != '\0'; c++) {
        if (isalnum((unsigned char)*c)) {
            (void)tr_append(out, cap, "%c", *c);
        }
    }
    (void)tr_append(out, cap, "-%s", record_attempt_scenario(desk->attempt)->setup.id);
}

static tr_result digest_of(const char *journal, char digest[TR_HASH_TEXT], char *why, size_t why_cap)
{
    char *text = NULL;
    size_t size = 0;
    digest[0] = '\0';
    if (*journal == '\0') {
        return TR_OK;
    }
    const tr_result result = tr_file_read(journal, RECORD_MAX_FILE, &text, &size, why, why_cap);
    if (result == TR_OK) {
        app_digest(text, size, digest);
    }
    free(text);
    return result;
}

static tr_result save(const app_desk *desk, char *path, size_t path_cap, char *why, size_t why_cap)
{
    char name[256];
    char digest[TR_HASH_TEXT];
    const tr_lang *lang = app_desk_lang(desk);
    name_of(desk, name, sizeof name);
    if (desk->places.attempts[0] == '\0') {
        (void)tr_copy(why, why_cap, desk->trouble[0] != '\0' ? desk->trouble : tr_word(lang, "report.no_place"));
        return TR_IO;
    }
    if (!tr_format(path, path_cap, "%s/%s.pdf", desk->places.attempts, name)) {
        (void)tr_copy(why, why_cap, tr_word(lang, "report.no_place"));
        return TR_IO;
    }
    const tr_result result = digest_of(desk->journal, digest, why, why_cap);
    if (result != TR_OK) {
        return result;
    }
    const view_report_of of = {desk->attempt, &desk->card, digest, lang,
                               app_desk_system(desk, record_attempt_scenario(desk->attempt))};
    return app_paper_write(&of, desk->fonts, path, why, why_cap);
}

void app__desk_save_pdf(app_desk *desk)
{
    char path[APP_PATH_CAP];
    char why[TR_TEXT_CAP] = "";
    char text[APP_PATH_CAP + 64];
    const bool is_saved = save(desk, path, sizeof path, why, sizeof why) == TR_OK;
    const char *args[] = {is_saved ? path : why};
    tr_lang_fill(app_desk_lang(desk), is_saved ? "report.saved" : "report.not_saved", args, 1, text, sizeof text);
    view_toast(&desk->ui, is_saved ? VIEW_ICON_CHECK : VIEW_ICON_WARNING, text);
}
