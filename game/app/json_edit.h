/* Changes single values of a JSON text and leaves every other byte as it was: a file that people write by hand keeps
 * its lines, its order and its comments in the story. */
#ifndef GAME_APP_JSON_EDIT_H
#define GAME_APP_JSON_EDIT_H

#include <stdbool.h>
#include <stddef.h>

typedef struct app_span {
    size_t from, to; /* bytes [from, to) */
} app_span;

/* Where the value at a dotted path ("run.near_post.base") stands in a text that is known to be sound JSON, an object at
 * its top. False where there is none. */
bool app_json_find(const char *text, const char *path, app_span *out);

/* A new text with value (JSON) at path, put in place of what stands there or, where the last key is not there yet,
 * added as the first of its object. NULL where the object is not there or memory ran out. Freed by free(). */
char *app_json_set(const char *text, const char *path, const char *value);

#endif
