/* Short hands for the rows of a shape's table. NEED: the key must be there. Private to this layer. */
#ifndef TAUTROW_GAME_SCENARIO_TABLE_H
#define TAUTROW_GAME_SCENARIO_TABLE_H

#include <math.h>
#include <stddef.h>

#include "shape.h"

#define NONE              ((double)NAN)
#define FIELD(S, k, m, t) .key = (k), .type = SCENARIO__##t, .offset = offsetof(S, m), .missing = NONE
#define RANGE(low, high)  .least = (low), .most = (high)

#define QUANTITY(S, k, m, DIM, low, high, def)                                                                         \
    {                                                                                                                  \
        .key = (k), .type = SCENARIO__QUANTITY, .offset = offsetof(S, m), .dim = TR_DIM_##DIM, RANGE(low, high),       \
        .missing = (def)                                                                                               \
    }
#define NEED_QUANTITY(S, k, m, DIM, low, high)                                                                         \
    {                                                                                                                  \
        FIELD(S, k, m, QUANTITY), .required = true, .dim = TR_DIM_##DIM, RANGE(low, high)                              \
    }
#define ENDLESS(S, k, m, DIM, low, high, def, word)                                                                    \
    {                                                                                                                  \
        .key = (k), .type = SCENARIO__QUANTITY, .offset = offsetof(S, m), .dim = TR_DIM_##DIM, RANGE(low, high),       \
        .missing = (def), .endless = (word)                                                                            \
    }
#define NEED_ENDLESS(S, k, m, DIM, low, high, word)                                                                    \
    {                                                                                                                  \
        FIELD(S, k, m, QUANTITY), .required = true, .dim = TR_DIM_##DIM, RANGE(low, high), .endless = (word)           \
    }
#define PLAIN(S, k, m, low, high, def)                                                                                 \
    {                                                                                                                  \
        .key = (k), .type = SCENARIO__PLAIN, .offset = offsetof(S, m), RANGE(low, high), .missing = (def)              \
    }
#define NEED_PLAIN(S, k, m, low, high)                                                                                 \
    {                                                                                                                  \
        FIELD(S, k, m, PLAIN), .required = true, RANGE(low, high)                                                      \
    }
#define WHOLE(S, k, m, low, high, def)                                                                                 \
    {                                                                                                                  \
        .key = (k), .type = SCENARIO__WHOLE, .offset = offsetof(S, m), RANGE(low, high), .missing = (def)              \
    }
#define NEED_WHOLE(S, k, m, low, high)                                                                                 \
    {                                                                                                                  \
        FIELD(S, k, m, WHOLE), .required = true, RANGE(low, high)                                                      \
    }
#define FLAG(S, k, m, def)                                                                                             \
    {                                                                                                                  \
        .key = (k), .type = SCENARIO__FLAG, .offset = offsetof(S, m), .missing = (def)                                 \
    }
#define CHOICE(S, k, m, list, def)                                                                                     \
    {                                                                                                                  \
        .key = (k), .type = SCENARIO__CHOICE, .offset = offsetof(S, m), .names = (list), .missing = (def)              \
    }
#define NEED_CHOICE(S, k, m, list)                                                                                     \
    {                                                                                                                  \
        FIELD(S, k, m, CHOICE), .required = true, .names = (list)                                                      \
    }
#define INSIDE(S, k, m, shape)                                                                                         \
    {                                                                                                                  \
        FIELD(S, k, m, INSIDE), .inside = &(shape)                                                                     \
    }
#define NEED_INSIDE(S, k, m, shape)                                                                                    \
    {                                                                                                                  \
        FIELD(S, k, m, INSIDE), .required = true, .inside = &(shape)                                                   \
    }
#define RAW(S, k, m, shape)                                                                                            \
    {                                                                                                                  \
        FIELD(S, k, m, RAW), .inside = (shape)                                                                         \
    }
#define NEED_RAW(S, k, m, shape)                                                                                       \
    {                                                                                                                  \
        FIELD(S, k, m, RAW), .required = true, .inside = (shape)                                                       \
    }
#define NEED_TEXT(S, k, m, t)                                                                                          \
    {                                                                                                                  \
        FIELD(S, k, m, t), .required = true                                                                            \
    }
#define TEXT(S, k, m, t)                                                                                               \
    {                                                                                                                  \
        FIELD(S, k, m, t)                                                                                              \
    }
#define LABEL(S) TEXT(S, "name", label.name, TITLE), RAW(S, "source", label.source, NULL)

#define COUNT(table) ((int)(sizeof(table) / sizeof((table)[0])))
#define SHAPE(what, table)                                                                                             \
    {                                                                                                                  \
        what, table, COUNT(table)                                                                                      \
    }

#endif
