/* What an attempt is made of; attempt.c carries it on, verify.c builds it from a journal. Private to this layer. */
#ifndef RECORD_ATTEMPT_PRIVATE_H
#define RECORD_ATTEMPT_PRIVATE_H

#include "log.h"

struct record_attempt {
    scenario scenario; /* with the attempt's mode and seed */
    record_about about;
    char *text;           /* of the scenario's file */
    char *catalogue_text; /* of the catalogue that it was read with; "" = none */
    size_t size;

    job_state state;
    job_action *actions; /* those that count, with their trace */
    job_trace_entry *trace;
    size_t count, cap;
    int64_t entry_count; /* actions and undos since the start, as a journal counts them */
    int64_t last_ms;

    record__log log;
    bool is_finished;
    score_card card; /* once finished */
};

/* Adds an action without carrying it out; record__attempt_rebuild does so for all. False: no memory. */
bool record__attempt_push(record_attempt *attempt, const job_action *action);

/* State and trace from the actions, from the start. */
void record__attempt_rebuild(record_attempt *attempt);

#endif
