/* Digest of the state from the field lists of fields.h, so that it does not hang on padding or byte order. */
#include "fields.h"

#include <stddef.h>

#include "tautrow/base/assert.h"
#include "tautrow/job/state.h"

typedef enum field_kind { BOOL, INT, LONG, REAL, SQUEEZE, ROWS, PULLS, LOADS, RUN } field_kind;

/* Where count values of a kind lie in their structure. */
typedef struct field_place {
    size_t at;
    int count;
    field_kind kind;
} field_place;

#define ROW_FIELD(KIND, member, count)   {offsetof(job_row, member), count, KIND},
#define PULL_FIELD(KIND, member, count)  {offsetof(job_pull, member), count, KIND},
#define LOAD_FIELD(KIND, member, count)  {offsetof(job_load, member), count, KIND},
#define STATE_FIELD(KIND, member, count) {offsetof(job_state, member), count, KIND},

static const field_place row_fields[] = {JOB__ROW_FIELDS(ROW_FIELD)};
static const field_place pull_fields[] = {JOB__PULL_FIELDS(PULL_FIELD)};
static const field_place load_fields[] = {JOB__LOAD_FIELDS(LOAD_FIELD)};
static const field_place state_fields[] = {JOB__STATE_FIELDS(STATE_FIELD)};

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

static void add_squeeze(tr_hasher *hasher, const mech_squeeze *squeeze)
{
    tr_hash_double(hasher, squeeze->position_m);
    tr_hash_double(hasher, squeeze->angle_rad);
    tr_hash_double(hasher, squeeze->closing);
}

/* One plain value, the index-th of those that begin at first. */
static void add_value(tr_hasher *hasher, field_kind kind, const void *first, int index)
{
    switch (kind) {
    case BOOL:
        tr_hash_int(hasher, ((const bool *)first)[index] ? 1 : 0);
        return;
    case INT:
        tr_hash_int(hasher, ((const int *)first)[index]);
        return;
    case LONG:
        tr_hash_int(hasher, ((const int64_t *)first)[index]);
        return;
    case REAL:
        tr_hash_double(hasher, ((const double *)first)[index]);
        return;
    case SQUEEZE:
        add_squeeze(hasher, &((const mech_squeeze *)first)[index]);
        return;
    case ROWS:
    case PULLS:
    case LOADS:
    case RUN:
        break;
    }
    TR_ASSERT(false);
}

static void add_plain(tr_hasher *hasher, const void *owner, const field_place *field)
{
    const void *first = (const char *)owner + field->at;
    for (int i = 0; i < field->count; i++) {
        add_value(hasher, field->kind, first, i);
    }
}

static void add_rows(tr_hasher *hasher, const job_row *row, int count)
{
    for (int i = 0; i < count; i++) {
        for (size_t f = 0; f < COUNT(row_fields); f++) {
            add_plain(hasher, &row[i], &row_fields[f]);
        }
    }
}

static void add_pulls(tr_hasher *hasher, const job_pull *pull, int count)
{
    for (int i = 0; i < count; i++) {
        for (size_t f = 0; f < COUNT(pull_fields); f++) {
            add_plain(hasher, &pull[i], &pull_fields[f]);
        }
    }
}

static void add_loads(tr_hasher *hasher, const job_load *load, int count)
{
    for (int i = 0; i < count; i++) {
        for (size_t f = 0; f < COUNT(load_fields); f++) {
            add_plain(hasher, &load[i], &load_fields[f]);
        }
    }
}

tr_hash job_state_hash(const job_setup *setup, const job_state *state)
{
    const int pulls = state->pull_count < JOB_MAX_PULL_LOG ? state->pull_count : JOB_MAX_PULL_LOG;
    tr_hasher hasher;
    tr_hash_begin(&hasher);
    for (size_t f = 0; f < COUNT(state_fields); f++) {
        switch (state_fields[f].kind) {
        case ROWS:
            add_rows(&hasher, state->row, setup->structure.row_count);
            break;
        case PULLS:
            add_pulls(&hasher, state->pull, pulls);
            break;
        case LOADS:
            add_loads(&hasher, state->load, state->load_count);
            break;
        case RUN: /* follows from the setup, the height errors and the days */
            break;
        case BOOL:
        case INT:
        case LONG:
        case REAL:
        case SQUEEZE:
            add_plain(&hasher, state, &state_fields[f]);
            break;
        }
    }
    return tr_hash_end(&hasher);
}
