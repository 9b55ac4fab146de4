/* Reads the catalogue's text once more, as JSON; the scenario layer has found it sound before any verb runs. */
#include "catalogue_json.h"

#include <stdlib.h>

#include <cJSON.h>

#include "data.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

cJSON *app_catalogue_json(const char *folder, char *why, size_t why_cap)
{
    char path[APP_PATH_CAP];
    char *text = NULL;
    size_t size = 0;
    (void)tr_format(path, sizeof path, "%s/assets/catalogue/catalogue.json", folder);
    if (tr_file_read(path, SCENARIO_MAX_FILE, &text, &size, why, why_cap) != TR_OK) {
        return NULL;
    }
    cJSON *json = cJSON_ParseWithLength(text, size);
    if (json == NULL) {
        (void)tr_copy(why, why_cap, "the catalogue could not be read");
    }
    free(text);
    return json;
}

const cJSON *app_catalogue_entry(const cJSON *catalogue, const char *kind, const char *id)
{
    return cJSON_GetObjectItemCaseSensitive(cJSON_GetObjectItemCaseSensitive(catalogue, kind), id);
}

const char *app_entry_name(const cJSON *entry, const char *lang_code)
{
    const cJSON *name = cJSON_GetObjectItemCaseSensitive(entry, "name");
    const cJSON *told = cJSON_IsObject(name) ? cJSON_GetObjectItemCaseSensitive(name, lang_code) : name;
    return cJSON_IsString(told) ? told->valuestring : entry->string;
}
