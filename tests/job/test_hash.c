/* The field lists cover the whole state, and each field listed changes the digest. */
#include "act.h"

#include "fields.h"

typedef struct field {
    const char *name;
    size_t at, size, align;
} field;

#define ALIGN_BOOL    _Alignof(bool)
#define ALIGN_INT     _Alignof(int)
#define ALIGN_LONG    _Alignof(int64_t)
#define ALIGN_REAL    _Alignof(double)
#define ALIGN_SQUEEZE _Alignof(mech_squeeze)
#define ALIGN_ROWS    _Alignof(job_row)
#define ALIGN_RUN     _Alignof(mech_run)
#define ALIGN_LOADS   _Alignof(job_load)
#define ALIGN_PULLS   _Alignof(job_pull)

#define ROW_FIELD(KIND, member, count)                                                                                 \
    {#member, offsetof(job_row, member), sizeof(((job_row *)0)->member), ALIGN_##KIND},
#define PULL_FIELD(KIND, member, count)                                                                                \
    {#member, offsetof(job_pull, member), sizeof(((job_pull *)0)->member), ALIGN_##KIND},
#define LOAD_FIELD(KIND, member, count)                                                                                \
    {#member, offsetof(job_load, member), sizeof(((job_load *)0)->member), ALIGN_##KIND},
#define STATE_FIELD(KIND, member, count)                                                                               \
    {#member, offsetof(job_state, member), sizeof(((job_state *)0)->member), ALIGN_##KIND},

static const field row_fields[] = {JOB__ROW_FIELDS(ROW_FIELD)};
static const field pull_fields[] = {JOB__PULL_FIELDS(PULL_FIELD)};
static const field load_fields[] = {JOB__LOAD_FIELDS(LOAD_FIELD)};
static const field state_fields[] = {JOB__STATE_FIELDS(STATE_FIELD)};

/* Each field begins where the one before it ends, but for the gap that its own alignment or that of the largest basic
 * type (a structure's) asks for; a member left out would show as a gap of at least its size. A lone bool left out next
 * to padding is all that could hide. */
static void assert_tiled(const field *fields, size_t count, size_t whole)
{
    size_t end = 0;
    for (size_t i = 0; i < count; i++) {
        const size_t own = (end + fields[i].align - 1) / fields[i].align * fields[i].align;
        const size_t wide = (end + 7) / 8 * 8;
        if (fields[i].at != own && fields[i].at != wide) {
            print_error("%s is at %d, the field before it ends at %d\n", fields[i].name, (int)fields[i].at, (int)end);
        }
        assert_true(fields[i].at == own || fields[i].at == wide);
        end = fields[i].at + fields[i].size;
    }
    assert_true(whole >= end && whole - end < 8);
}

static void lists_tile_the_structures(void **unused)
{
    (void)unused;
    assert_tiled(row_fields, sizeof row_fields / sizeof row_fields[0], sizeof(job_row));
    assert_tiled(pull_fields, sizeof pull_fields / sizeof pull_fields[0], sizeof(job_pull));
    assert_tiled(load_fields, sizeof load_fields / sizeof load_fields[0], sizeof(job_load));
    assert_tiled(state_fields, sizeof state_fields / sizeof state_fields[0], sizeof(job_state));
}

static bool same(const tr_hash *a, const tr_hash *b)
{
    return memcmp(a->byte, b->byte, TR_HASH_BYTES) == 0;
}

static const job_setup *setup_of_all_rows(void)
{
    static job_setup setup;
    setup = made_up_crew(MECH_MAX_ROWS, MECH_MAX_ROWS, 0.0889, 3.0, JOB_STAGE_READ);
    return &setup;
}

/* The lowest byte of a value holds the truth of a bool, the unit of a whole number and the last place of a real. */
static void assert_counts(const job_setup *setup, job_state *state, void *byte, const char *name)
{
    const tr_hash before = job_state_hash(setup, state);
    unsigned char *at = byte;
    *at ^= 1U;
    const tr_hash after = job_state_hash(setup, state);
    *at ^= 1U;
    if (same(&before, &after)) {
        print_error("%s does not count\n", name);
    }
    assert_false(same(&before, &after));
}

static void each_field_counts(void **unused)
{
    (void)unused;
    static job_state state;
    const job_setup *setup = setup_of_all_rows();
    job_start(setup, &state);
    state.pull_count = JOB_MAX_PULL_LOG - 1;
    state.load_count = JOB_MAX_LOADS - 1;
    for (size_t i = 0; i < sizeof state_fields / sizeof state_fields[0]; i++) {
        const bool is_inner = strcmp(state_fields[i].name, "run") == 0 || strcmp(state_fields[i].name, "row") == 0 ||
                              strcmp(state_fields[i].name, "pull") == 0 || strcmp(state_fields[i].name, "load") == 0;
        if (!is_inner) {
            assert_counts(setup, &state, (char *)&state + state_fields[i].at, state_fields[i].name);
        }
    }
    for (size_t i = 0; i < sizeof row_fields / sizeof row_fields[0]; i++) {
        assert_counts(setup, &state, (char *)&state.row[0] + row_fields[i].at, row_fields[i].name);
        assert_counts(setup, &state, (char *)&state.row[MECH_MAX_ROWS - 1] + row_fields[i].at, row_fields[i].name);
    }
    for (size_t i = 0; i < sizeof pull_fields / sizeof pull_fields[0]; i++) {
        assert_counts(setup, &state, (char *)&state.pull[JOB_MAX_PULL_LOG - 2] + pull_fields[i].at,
                      pull_fields[i].name);
    }
    for (size_t i = 0; i < sizeof load_fields / sizeof load_fields[0]; i++) {
        assert_counts(setup, &state, (char *)&state.load[JOB_MAX_LOADS - 2] + load_fields[i].at, load_fields[i].name);
    }
}

/* Two states that are equal field by field but not byte by byte. */
static void padding_and_what_is_not_there_do_not_count(void **unused)
{
    (void)unused;
    static job_state clean;
    static job_state dirty;
    const job_setup setup = made_up(5, 0.0889, 3.0);
    memset(&dirty, 0xAA, sizeof dirty);
    job_start(&setup, &clean);
    job_start(&setup, &dirty);
    const tr_hash a = job_state_hash(&setup, &clean);
    tr_hash b = job_state_hash(&setup, &dirty);
    assert_true(same(&a, &b));
    dirty.pull[3].after_n = 5.0;   /* beyond the log's end */
    dirty.row[5].is_marked = true; /* a row that there is not */
    b = job_state_hash(&setup, &dirty);
    assert_true(same(&a, &b));
    dirty.row[0].height_error_m = -0.0;
    b = job_state_hash(&setup, &dirty);
    assert_true(same(&a, &b));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lists_tile_the_structures),
        cmocka_unit_test(each_field_counts),
        cmocka_unit_test(padding_and_what_is_not_there_do_not_count),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
