/* What a fit found, for people and for programs. */
#ifndef GAME_APP_FIT_SHOW_H
#define GAME_APP_FIT_SHOW_H

#include "commands.h"
#include "fit_model.h"

typedef struct fit_show {
    const app_context *context;
    const scenario *scenario;
    const char *measured_path;
    const measured *seen;
    const fit_choice *choice;
    const fit_report *report;
    tr_system system;
} fit_show;

/* Name of a value in the language of the moment: "base rotation". */
const char *fit_value_word(const tr_lang *lang, fit_value which);

/* True where every value that was asked for is told. */
bool fit_is_told(const fit_report *report);

/* The names of the values that are not told, with commas. */
void fit_untold_words(const tr_lang *lang, const fit_report *report, char *out, size_t cap);

void fit_print(const fit_show *show);
struct cJSON *fit_json(const fit_show *show);

#endif
