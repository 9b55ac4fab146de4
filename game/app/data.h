/* Finds and loads what the program lives on: assets, language, catalogue, scenarios. */
#ifndef GAME_APP_DATA_H
#define GAME_APP_DATA_H

#include <stdbool.h>
#include <stddef.h>

#include "tautrow/base/lang.h"
#include "tautrow/base/units.h"
#include "tautrow/scenario/scenario.h"

enum { APP_PATH_CAP = 1024 };

/* Where assets/ and scenarios/ lie: $TAUTROW_DATA, else beside the program, else where it was installed or built.
 * False, with a sentence in why, where none of them has an assets folder. */
bool app_data_folder(char out[APP_PATH_CAP], char *why, size_t why_cap);

/* Names of the files of a folder that end so, sorted; at most max. A missing folder has none. */
enum { APP_NAME_CAP = 128 };
size_t app_list_files(const char *folder, const char *ending, char names[][APP_NAME_CAP], size_t max);

/* All language files of folder/assets/lang/<code>. NULL with a sentence in why on failure. */
tr_lang *app_lang_load(const char *folder, const char *code, char *why, size_t why_cap);

/* The language that the environment asks for: "es" for LC_ALL, LC_MESSAGES or LANG starting so, else "en". */
const char *app_lang_wanted(void);
/* It asks for one that there is. */
bool app_lang_is_clear(void);

/* $TAUTROW_FONTS: the one folder to look for fonts in, NULL = the usual places. */
const char *app_fonts_folder(void);

/* The built-in catalogue. NULL with findings in diags on failure. */
scenario_catalogue *app_catalogue_load(const char *folder, tr_diags *diags);

/* A scenario with its text (owned by the holder, freed by app_scenario_free). */
typedef struct app_scenario {
    char *text;
    size_t size;
    scenario what;
} app_scenario;

/* Reads a scenario file; findings go to diags, warnings too where words for them are given
 * (NULL: they are not looked for). The result is NULL unless TR_OK. */
tr_result app_scenario_load(const char *path, const scenario_catalogue *catalogue, const tr_lang *warn_in,
                            app_scenario **out, tr_diags *diags);
void app_scenario_free(app_scenario *held);

#endif
