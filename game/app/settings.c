/* The settings file. */
#include "settings.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <cJSON.h>

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

enum { MAX_SETTINGS = 16384 };

view_settings app_settings_default(const char *lang)
{
    view_settings settings;
    memset(&settings, 0, sizeof settings);
    settings.prefs.text_scale = 1.0F;
    settings.volume = 0.6F;
    (void)tr_copy(settings.lang, sizeof settings.lang, lang);
    return settings;
}

static bool is_true(const cJSON *json, const char *key)
{
    return cJSON_IsTrue(cJSON_GetObjectItemCaseSensitive(json, key));
}

static const char *word(const cJSON *json, const char *key)
{
    const char *text = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(json, key));
    return text == NULL ? "" : text;
}

static void take(view_settings *settings, const cJSON *json)
{
    const cJSON *scale = cJSON_GetObjectItemCaseSensitive(json, "text_scale");
    if (cJSON_IsNumber(scale) && scale->valuedouble >= 1.0 && scale->valuedouble <= 2.0) {
        settings->prefs.text_scale = (float)scale->valuedouble;
    }
    if (strcmp(word(json, "lang"), "en") == 0 || strcmp(word(json, "lang"), "es") == 0) {
        (void)tr_copy(settings->lang, sizeof settings->lang, word(json, "lang"));
        settings->knows_lang = true;
    }
    settings->prefs.theme = is_true(json, "high_contrast") ? VIEW_THEME_CONTRAST : VIEW_THEME_DAY;
    settings->prefs.reduced_motion = is_true(json, "reduced_motion");
    settings->prefs.left_handed = is_true(json, "left_handed");
    const cJSON *volume = cJSON_GetObjectItemCaseSensitive(json, "sound_volume");
    if (cJSON_IsNumber(volume) && volume->valuedouble >= 0.0 && volume->valuedouble <= 1.0) {
        settings->volume = (float)volume->valuedouble;
    }
    settings->captions = is_true(json, "captions");
    settings->is_still = is_true(json, "controller_still");
    settings->tour_seen = !cJSON_IsFalse(cJSON_GetObjectItemCaseSensitive(json, "tour_seen"));
    settings->own_units = word(json, "units")[0] != '\0';
    settings->system = strcmp(word(json, "units"), "si") == 0 ? TR_SI : TR_US;
    (void)tr_copy(settings->trainee, sizeof settings->trainee, word(json, "trainee"));
}

view_settings app_settings_load(const char *path, const char *lang)
{
    view_settings settings = app_settings_default(lang);
    char why[TR_TEXT_CAP];
    char *text = NULL;
    size_t size = 0;
    if (path[0] == '\0' || tr_file_read(path, MAX_SETTINGS, &text, &size, why, sizeof why) != TR_OK) {
        return settings;
    }
    cJSON *json = cJSON_ParseWithLength(text, size);
    if (cJSON_IsObject(json)) {
        take(&settings, json);
    }
    cJSON_Delete(json);
    free(text);
    return settings;
}

bool app_settings_save(const char *path, const view_settings *settings, char *why, size_t why_cap)
{
    cJSON *json = cJSON_CreateObject();
    (void)cJSON_AddStringToObject(json, "lang", settings->lang);
    (void)cJSON_AddNumberToObject(json, "text_scale", (double)settings->prefs.text_scale);
    (void)cJSON_AddBoolToObject(json, "high_contrast", settings->prefs.theme == VIEW_THEME_CONTRAST);
    (void)cJSON_AddBoolToObject(json, "reduced_motion", settings->prefs.reduced_motion);
    (void)cJSON_AddBoolToObject(json, "left_handed", settings->prefs.left_handed);
    (void)cJSON_AddNumberToObject(json, "sound_volume", round((double)settings->volume * 100.0) / 100.0);
    (void)cJSON_AddBoolToObject(json, "captions", settings->captions);
    (void)cJSON_AddBoolToObject(json, "controller_still", settings->is_still);
    (void)cJSON_AddBoolToObject(json, "tour_seen", settings->tour_seen);
    (void)cJSON_AddStringToObject(json, "trainee", settings->trainee);
    if (settings->own_units) {
        (void)cJSON_AddStringToObject(json, "units", settings->system == TR_SI ? "si" : "us");
    }
    char *text = cJSON_Print(json);
    cJSON_Delete(json);
    if (text == NULL) {
        (void)tr_copy(why, why_cap, "not enough memory");
        return false;
    }
    const bool fine = tr_file_write(path, text, strlen(text), why, why_cap) == TR_OK;
    cJSON_free(text);
    return fine;
}
