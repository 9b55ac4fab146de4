/* What may stand in a file, as tables: a shape lists the keys of one kind of object with their type, range and default,
 * and one reader fills a plain struct from it. The published schemas are tested against the same tables. Private to
 * this layer. */
#ifndef TAUTROW_GAME_SCENARIO_SHAPE_H
#define TAUTROW_GAME_SCENARIO_SHAPE_H

#include <stdbool.h>
#include <stddef.h>

#include "json.h"
#include "tautrow/base/units.h"
#include "tautrow/scenario/scenario.h"

typedef enum scenario__type {
    SCENARIO__QUANTITY, /* double, SI; a text with a unit */
    SCENARIO__PLAIN,    /* double; a plain number */
    SCENARIO__WHOLE,    /* int; a whole number */
    SCENARIO__FLAG,     /* bool */
    SCENARIO__ID,       /* char[JOB_NAME_CAP]: small letters, digits and hyphens */
    SCENARIO__TITLE,    /* scenario_title: a text, or one per language */
    SCENARIO__STORY,    /* scenario_story */
    SCENARIO__CHOICE,   /* int: index into names */
    SCENARIO__INSIDE,   /* struct filled by the shape `inside` */
    SCENARIO__RAW /* const scenario__node *: what it means is worked out by the code that owns the struct; NULL = not
                     given */
} scenario__type;

typedef struct scenario__field {
    const char *key;
    scenario__type type;
    bool required;
    size_t offset;            /* in the struct */
    tr_dim dim;               /* QUANTITY */
    double least, most;       /* SI, inclusive: QUANTITY, PLAIN, WHOLE */
    double missing;           /* value where the key is absent; NAN = worked out elsewhere, or required */
    const char *endless;      /* QUANTITY: the word that stands for no give at all (INFINITY), NULL = none */
    const char *const *names; /* CHOICE: ended by NULL */
    const struct scenario__shape
        *inside; /* INSIDE; RAW: the shape of the object(s) in it, for the schema's sake, or NULL */
} scenario__field;

typedef struct scenario__shape {
    const char *what; /* "a post": for messages */
    const scenario__field *field;
    int count;
} scenario__shape;

typedef struct scenario__reader {
    tr_diags *diags;
    tr_system system; /* units in which ranges are told */
    const scenario_catalogue *catalogue;
    int errors;
} scenario__reader;

/* Adds an error at a node; NULL = the file as a whole. A macro so that the format stays checked by tr_diags_add. */
#define SCENARIO__SAY(reader, node, ...)                                                                               \
    ((reader)->errors++, tr_diags_add((reader)->diags, TR_ERROR, scenario__place_of(node).line,                        \
                                      scenario__place_of(node).column, scenario__place_of(node).path, __VA_ARGS__))

/* Where a node is, for a message. */
typedef struct scenario__spot {
    int line, column;
    char path[TR_PATH_CAP];
} scenario__spot;
scenario__spot scenario__place_of(const scenario__node *node);

/* Fills target from an object. A missing object (NULL) gives the defaults. Every error is listed. */
void scenario__fill(scenario__reader *reader, const scenario__node *object, const scenario__shape *shape, void *target);

/* Single values, for the RAW ones. They return false with an error listed when the node is not of that kind or out of
 * range. */
bool scenario__quantity(scenario__reader *reader, const scenario__node *node, tr_dim dim, double least, double most,
                        double *si);
bool scenario__number(scenario__reader *reader, const scenario__node *node, double least, double most, double *value);
bool scenario__whole(scenario__reader *reader, const scenario__node *node, int least, int most, int *value);
bool scenario__choice(scenario__reader *reader, const scenario__node *node, const char *const names[], int *value);
bool scenario__want(scenario__reader *reader, const scenario__node *node, scenario__kind kind, const char *what);

/* The likeliest of names (ended by NULL) for a mistyped word; NULL when none is near. */
const char *scenario__did_you_mean(const char *word, const char *const names[]);

/* Adds "unknown" with a guess. what: "a key of the run". */
void scenario__say_unknown(scenario__reader *reader, const scenario__node *node, const char *word, const char *what,
                           const char *guess);

/* Puts the errors from index `from` on into the order of the file. */
void scenario__sort(tr_diags *diags, size_t from);

#endif
