/* A real scenario, an attempt at it and a folder of its own for the tests of this layer. */
#ifndef TESTS_RECORD_SAMPLE_H
#define TESTS_RECORD_SAMPLE_H

#include "near.h"

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"
#include "tautrow/record/attempt.h"

#include <stdlib.h>
#include <string.h>

enum { SAMPLE_PATH = 192, SAMPLE_WHY = 320 };

typedef struct sample_kit {
    scenario_catalogue *catalogue;
    scenario what;
    char *text;
    size_t size;
    tr_diags diags;
    char folder[64];
    char path[SAMPLE_PATH]; /* of the journal */
} sample_kit;

static inline char *sample_read(const char *path, size_t *size)
{
    char why[SAMPLE_WHY] = "";
    char *text = NULL;
    if (tr_file_read(path, RECORD_MAX_FILE, &text, size, why, sizeof why) != TR_OK) {
        print_error("%s\n", why);
        fail();
    }
    return text;
}

static inline void sample_open(sample_kit *sample, const char *folder)
{
    size_t size = 0;
    char *const catalogue = sample_read(TAUTROW_SOURCE "/assets/catalogue/catalogue.json", &size);
    tr_diags_clear(&sample->diags);
    sample->catalogue = scenario_catalogue_open(catalogue, size, &sample->diags);
    free(catalogue);
    assert_non_null(sample->catalogue);
    sample->text = sample_read(TAUTROW_SOURCE "/scenarios/soft-porch.json", &sample->size);
    assert_int_equal(scenario_read(sample->text, sample->size, sample->catalogue, &sample->what, &sample->diags),
                     TR_OK);
    tr_copy(sample->folder, sizeof sample->folder, folder);
    tr_format(sample->path, sizeof sample->path, "%s/journal.jsonl", folder);
}

static inline void sample_close(sample_kit *sample)
{
    scenario_catalogue_close(sample->catalogue);
    free(sample->text);
}

static inline record_attempt *sample_attempt(const sample_kit *sample, job_mode mode)
{
    const record_about about = {.trainee = "Ana \"Nan\" Pe\xC3\xB1"
                                           "a\\",
                                .started_utc = "2031-05-02T08:00:00Z",
                                .version = "0.1.0",
                                .mode = mode,
                                .seed = 0xFEDCBA9876543210U};
    record_attempt *const attempt = record_attempt_open(sample->text, sample->size, &sample->what,
                                                        scenario_catalogue_text(sample->catalogue), &about);
    assert_non_null(attempt);
    return attempt;
}

/* A guided or other attempt with its journal at sample->path, which must be free. */
static inline record_attempt *sample_journal(const sample_kit *sample, job_mode mode)
{
    char why[SAMPLE_WHY] = "";
    record_attempt *const attempt = sample_attempt(sample, mode);
    if (record_attempt_journal(attempt, sample->path, why, sizeof why) != TR_OK) {
        print_error("%s\n", why);
        fail();
    }
    return attempt;
}

static inline job_outcome sample_do(record_attempt *attempt, job_verb verb, int64_t at_ms, double a, double b, double c)
{
    const double args[] = {a, b, c};
    const job_action action = job_make(verb, at_ms, args, 3);
    return record_attempt_do(attempt, &action, NULL);
}

/* Lets the careful installer do up to count actions; returns how many there were. */
static inline int sample_work(record_attempt *attempt, int count)
{
    int done = 0;
    job_action action;
    while (done < count &&
           job_expert_next(&record_attempt_scenario(attempt)->setup, record_attempt_state(attempt), &action)) {
        bool journal_ok = true;
        (void)record_attempt_do(attempt, &action, &journal_ok);
        assert_true(journal_ok);
        done++;
    }
    return done;
}

static inline void sample_hash(const record_attempt *attempt, char out[TR_HASH_TEXT])
{
    tr_hash_text(job_state_hash(&record_attempt_scenario(attempt)->setup, record_attempt_state(attempt)), out);
}

#endif
