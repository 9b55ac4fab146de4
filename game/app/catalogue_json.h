/* The catalogue as JSON, for verbs that put its entries into a scenario's text. */
#ifndef GAME_APP_CATALOGUE_JSON_H
#define GAME_APP_CATALOGUE_JSON_H

#include <stddef.h>

struct cJSON;

/* folder/assets/catalogue/catalogue.json; NULL with a sentence in why. Freed by cJSON_Delete. */
struct cJSON *app_catalogue_json(const char *folder, char *why, size_t why_cap);

/* An entry by kind ("species") and id; NULL where there is none. */
const struct cJSON *app_catalogue_entry(const struct cJSON *catalogue, const char *kind, const char *id);

/* Name of an entry in a language; the id where it has none. */
const char *app_entry_name(const struct cJSON *entry, const char *lang_code);

#endif
