/* Finds and loads assets, language, catalogue and scenarios. The only file of the program that reads the environment
 * and lists folders. */
#define _POSIX_C_SOURCE 200809L
#include "data.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

#ifndef TAUTROW_DATA_DIRS
#define TAUTROW_DATA_DIRS ""
#endif

static bool has_assets(const char *folder)
{
    char probe[APP_PATH_CAP];
    return tr_format(probe, sizeof probe, "%s/assets/catalogue/catalogue.json", folder) && tr_file_exists(probe);
}

/* The folder that the running program lies in. */
static bool program_folder(char out[APP_PATH_CAP])
{
    const ssize_t length = readlink("/proc/self/exe", out, APP_PATH_CAP - 1);
    if (length <= 0) {
        return false;
    }
    out[length] = '\0';
    char *slash = strrchr(out, '/');
    if (slash == NULL) {
        return false;
    }
    *slash = '\0';
    return true;
}

/* Tries each folder of a colon-separated list. */
static bool first_of(const char *list, char out[APP_PATH_CAP])
{
    while (*list != '\0') {
        const size_t length = strcspn(list, ":");
        if (length > 0 && length < APP_PATH_CAP) {
            (void)tr_format(out, APP_PATH_CAP, "%.*s", (int)length, list);
            if (has_assets(out)) {
                return true;
            }
        }
        list += length + (list[length] == ':' ? 1 : 0);
    }
    return false;
}

bool app_data_folder(char out[APP_PATH_CAP], char *why, size_t why_cap)
{
    const char *named = getenv("TAUTROW_DATA");
    if (named != NULL && *named != '\0') {
        if (tr_copy(out, APP_PATH_CAP, named) && has_assets(out)) {
            return true;
        }
        (void)tr_format(why, why_cap, "TAUTROW_DATA names %s, but there is no assets folder in it", named);
        return false;
    }
    char program[APP_PATH_CAP];
    if (program_folder(program)) {
        static const char *const beside[] = {"..", "../share/tautrow", "."};
        for (size_t i = 0; i < sizeof beside / sizeof *beside; i++) {
            if (tr_format(out, APP_PATH_CAP, "%s/%s", program, beside[i]) && has_assets(out)) {
                return true;
            }
        }
    }
    if (first_of(TAUTROW_DATA_DIRS, out)) {
        return true;
    }
    (void)tr_copy(why, why_cap, "the assets folder was not found: set TAUTROW_DATA to the folder that holds it");
    return false;
}

/* What the environment says of the language: the first of these that is set; "" = nothing. */
static const char *lang_of_environment(void)
{
    static const char *const names[] = {"LC_ALL", "LC_MESSAGES", "LANG"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const char *value = getenv(names[i]);
        if (value != NULL && *value != '\0') {
            return value;
        }
    }
    return "";
}

const char *app_lang_wanted(void)
{
    return strncmp(lang_of_environment(), "es", 2) == 0 ? "es" : "en";
}

bool app_lang_is_clear(void)
{
    const char *value = lang_of_environment();
    return strncmp(value, "es", 2) == 0 || strncmp(value, "en", 2) == 0;
}

static int by_name(const void *a, const void *b)
{
    return strcmp((const char *)a, (const char *)b);
}

size_t app_list_files(const char *folder, const char *ending, char names[][APP_NAME_CAP], size_t max)
{
    DIR *open = opendir(folder);
    const size_t tail = strlen(ending);
    size_t count = 0;
    if (open == NULL) {
        return 0;
    }
    for (const struct dirent *entry = readdir(open); entry != NULL && count < max; entry = readdir(open)) {
        const size_t length = strlen(entry->d_name);
        if (length > tail && length < APP_NAME_CAP && strcmp(entry->d_name + length - tail, ending) == 0) {
            (void)tr_copy(names[count++], APP_NAME_CAP, entry->d_name);
        }
    }
    (void)closedir(open);
    qsort(names, count, APP_NAME_CAP, by_name);
    return count;
}

enum { MAX_LANG_FILES = 32 };

static bool add_words(tr_lang *lang, const char *path, char *why, size_t why_cap)
{
    char *text = NULL;
    size_t size = 0;
    if (tr_file_read(path, TR_LANG_MAX_FILE, &text, &size, why, why_cap) != TR_OK) {
        return false;
    }
    tr_diags *diags = calloc(1, sizeof *diags);
    const bool fine = diags != NULL && tr_lang_add(lang, text, size, diags) == TR_OK;
    if (!fine) {
        const bool told = diags != NULL && diags->count > 0;
        (void)tr_format(why, why_cap, "%s:%d: %s", path, told ? diags->item[0].line : 0,
                        told ? diags->item[0].text : "not enough memory");
    }
    free(diags);
    free(text);
    return fine;
}

tr_lang *app_lang_load(const char *folder, const char *code, char *why, size_t why_cap)
{
    char here[APP_PATH_CAP];
    char names[MAX_LANG_FILES][APP_NAME_CAP];
    (void)tr_format(here, sizeof here, "%s/assets/lang/%s", folder, code);
    const size_t count = app_list_files(here, ".txt", names, MAX_LANG_FILES);
    if (count == 0) {
        (void)tr_format(why, why_cap, "no language files in %s", here);
        return NULL;
    }
    tr_lang *lang = tr_lang_open(code);
    if (lang == NULL) {
        (void)tr_copy(why, why_cap, "not enough memory for the language");
        return NULL;
    }
    for (size_t i = 0; i < count; i++) {
        char path[APP_PATH_CAP];
        (void)tr_format(path, sizeof path, "%s/%s", here, names[i]);
        if (!add_words(lang, path, why, why_cap)) {
            tr_lang_close(lang);
            return NULL;
        }
    }
    return lang;
}

const char *app_fonts_folder(void)
{
    const char *named = getenv("TAUTROW_FONTS");
    return named != NULL && *named != '\0' ? named : NULL;
}

scenario_catalogue *app_catalogue_load(const char *folder, tr_diags *diags)
{
    char path[APP_PATH_CAP];
    char why[TR_TEXT_CAP];
    char *text = NULL;
    size_t size = 0;
    (void)tr_format(path, sizeof path, "%s/assets/catalogue/catalogue.json", folder);
    if (tr_file_read(path, SCENARIO_MAX_FILE, &text, &size, why, sizeof why) != TR_OK) {
        tr_diags_add(diags, TR_ERROR, 0, 0, "", "%s", why);
        return NULL;
    }
    scenario_catalogue *catalogue = scenario_catalogue_open(text, size, diags);
    free(text);
    return catalogue;
}

tr_result app_scenario_load(const char *path, const scenario_catalogue *catalogue, const tr_lang *warn_in,
                            app_scenario **out, tr_diags *diags)
{
    char why[TR_TEXT_CAP];
    app_scenario *found = calloc(1, sizeof *found);
    if (found == NULL) {
        tr_diags_add(diags, TR_ERROR, 0, 0, "", "not enough memory");
        return TR_NO_MEMORY;
    }
    tr_result result = tr_file_read(path, SCENARIO_MAX_FILE, &found->text, &found->size, why, sizeof why);
    if (result != TR_OK) {
        tr_diags_add(diags, TR_ERROR, 0, 0, "", "%s", why);
    } else {
        result = scenario_read(found->text, found->size, catalogue, &found->what, diags);
    }
    if (result != TR_OK) {
        app_scenario_free(found);
        return result;
    }
    if (warn_in != NULL) {
        (void)scenario_warn(&found->what, warn_in, diags);
    }
    *out = found;
    return TR_OK;
}

void app_scenario_free(app_scenario *held)
{
    if (held != NULL) {
        free(held->text);
        free(held);
    }
}
