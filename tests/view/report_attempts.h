/* Attempts to be put on paper: the golden journals, the expert at any scenario, and a made-up one that fills every
 * place to its limit. */
#ifndef TESTS_REPORT_ATTEMPTS_H
#define TESTS_REPORT_ATTEMPTS_H

#include "job_desk.h"
#include "made_up.h"
#include "tautrow/base/hash.h"
#include "tautrow/record/attempt.h"

typedef struct paper_attempt {
    record_attempt *attempt;
    score_card card;
    char digest[TR_HASH_TEXT];
} paper_attempt;

static inline void paper_attempt_read(paper_attempt *out, const char *name)
{
    static tr_diags diags;
    static record_reading reading;
    char path[512];
    size_t size = 0;
    tr_hasher hasher;
    tr_format(path, sizeof path, "%s/tests/golden/%s.jsonl", TAUTROW_SOURCE, name);
    char *text = job_desk_file(path, &size);
    if (record_attempt_read(text, size, &out->attempt, &reading, &diags) != TR_OK) {
        (void)fprintf(stderr, "%s: %s\n", path, reading.problem);
        exit(2);
    }
    tr_hash_begin(&hasher);
    tr_hash_add(&hasher, text, size);
    tr_hash_text(tr_hash_end(&hasher), out->digest);
    out->card = reading.card;
    free(text);
}

static inline void paper_attempt_begin(paper_attempt *out, const scenario *what, const char *trainee)
{
    record_about about = {.started_utc = "2031-05-02T08:00:00Z", .version = "0.1.0", .mode = JOB_ASSESSMENT};
    tr_copy(about.trainee, sizeof about.trainee, trainee);
    about.seed = what->setup.seed;
    out->attempt = record_attempt_open("", 0, what, "", &about);
    memset(out->digest, 'd', sizeof out->digest - 1);
    out->digest[sizeof out->digest - 1] = '\0';
}

/* The expert from the first action to the last. */
static inline void paper_attempt_play(paper_attempt *out, const char *scenario_name)
{
    static scenario what;
    job_action action;
    job_desk_scenario(&what, scenario_name);
    paper_attempt_begin(out, &what, "Ines Varga");
    const job_setup *setup = &record_attempt_scenario(out->attempt)->setup;
    for (int i = 0; i < 6000 && job_expert_next(setup, record_attempt_state(out->attempt), &action); i++) {
        (void)record_attempt_do(out->attempt, &action, NULL);
    }
    record_attempt_finish(out->attempt, &out->card);
}

/* Forty rows, the longest names, and nothing done but signing: every criterion has a reason to give. */
static inline void paper_attempt_long(paper_attempt *out)
{
    static scenario what;
    job_desk_scenario(&what, "long-deck");
    what.setup = made_up_deck(MECH_MAX_ROWS);
    memset(what.setup.id, 'x', sizeof what.setup.id - 1);
    tr_copy(what.title.en, sizeof what.title.en,
            "A very long guard of forty rows along the gallery above the yard, with everything left to do");
    tr_copy(what.title.es, sizeof what.title.es,
            "Una baranda muy larga de cuarenta filas en la galería sobre el patio, con todo por hacer");
    paper_attempt_begin(out, &what, "Wilhelmina Konstantinopolska de los Santos y Villanueva Ortega");
    const job_action sign = job_make(JOB_DO_SIGN, 5999000, NULL, 0);
    (void)record_attempt_do(out->attempt, &sign, NULL);
    record_attempt_finish(out->attempt, &out->card);
}

static inline void paper_attempt_close(paper_attempt *attempt)
{
    record_attempt_close(attempt->attempt);
    memset(attempt, 0, sizeof *attempt);
}

#endif
