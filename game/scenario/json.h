/* A JSON text as a tree whose every value knows its line and column. Private to this layer. */
#ifndef TAUTROW_GAME_SCENARIO_JSON_H
#define TAUTROW_GAME_SCENARIO_JSON_H

#include <stddef.h>

#include "tautrow/base/result.h"

/* Limits on a text, checked before memory is taken. */
enum { SCENARIO__MAX_DEPTH = 16, SCENARIO__MAX_VALUES = 8192, SCENARIO__MAX_MEMBERS = 512 };

typedef enum scenario__kind {
    SCENARIO__NULL,
    SCENARIO__FALSE,
    SCENARIO__TRUE,
    SCENARIO__NUMBER,
    SCENARIO__STRING,
    SCENARIO__LIST,
    SCENARIO__OBJECT
} scenario__kind;

typedef struct scenario__node {
    scenario__kind kind;
    int line, column;         /* of the value, from 1; columns count characters */
    int key_line, key_column; /* of its key, 0 where it has none */
    const char *key;          /* NULL outside objects */
    int index;                /* place among its siblings */
    int count;                /* of its members */
    const char *text;         /* of a string */
    double number;
    const struct scenario__node *parent, *first, *next;
} scenario__node;

typedef struct scenario__json scenario__json;

/* Reads text[size], at most max bytes. RFC 8259 to the letter, except that a
 * byte order mark is forgiven and that control characters other than line break and tab are refused. Errors go to
 * diags. The first break of the grammar ends the reading and leaves *out NULL; keys given twice are listed and make the
 * result TR_INVALID, yet the tree (with the first of them) comes out, so that what else is wrong can be listed too.
 * *out is freed by scenario__json_close. */
tr_result scenario__json_open(const char *text, size_t size, size_t max, scenario__json **out, tr_diags *diags);
void scenario__json_close(scenario__json *json);
const scenario__node *scenario__json_root(const scenario__json *json);

/* The member of an object, NULL when there is none or it is no object. */
const scenario__node *scenario__member(const scenario__node *object, const char *key);

/* "$.rows.heights[2]" */
void scenario__path(const scenario__node *node, char *out, size_t cap);

/* "a number", "text"... for messages. */
const char *scenario__kind_name(scenario__kind kind);

/* A word of the file as a message can show it: cut at a character's end, on one line. */
typedef struct scenario__quote {
    char text[48];
} scenario__quote;
scenario__quote scenario__quoted(const char *word);

#endif
