/* Actions in the fewest words, and the expert let loose: for the tests of the job layer. */
#ifndef TESTS_JOB_ACT_H
#define TESTS_JOB_ACT_H

#include "made_up.h"
#include "tautrow/base/assert.h"

/* An action with up to six numbers at the state's own time. */
#define act(setup, state, verb, ...)                                                                                   \
    made_up_act((setup), (state), JOB_DO_##verb, (const double[]){0.0, __VA_ARGS__},                                   \
                (int)(sizeof((const double[]){0.0, __VA_ARGS__}) / sizeof(double)) - 1)

static inline job_outcome made_up_act(const job_setup *setup, job_state *state, job_verb verb, const double *args,
                                      int count)
{
    const int wanted = job_verb_look(verb)->field_count;
    TR_ASSERT(count >= wanted);
    const job_action action = job_make(verb, state->now_ms + 1000, args + 1, wanted);
    return job_apply(setup, state, &action);
}

/* Lets the expert work until it has nothing left, at most most actions. Returns how many it took. */
static inline int made_up_expert(const job_setup *setup, job_state *state, int most)
{
    int count = 0;
    job_action action;
    while (count < most && job_expert_next(setup, state, &action)) {
        job_apply(setup, state, &action);
        count++;
    }
    return count;
}

#endif
