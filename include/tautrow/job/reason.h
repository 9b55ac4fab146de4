/* Why a step is done, in numbers: what the mechanics say comes of it in this job, done as asked and done a little wrong.
 * Pure functions of setup and state; for the words of a teacher. */
#ifndef TAUTROW_JOB_REASON_H
#define TAUTROW_JOB_REASON_H

#include "tautrow/job/job.h"

typedef enum job_reason_kind {
    JOB_REASON_NONE,
    JOB_REASON_ONE_TRIP, /* sheet: [0] target N, [1] slackest row after one trip in the rule's order N */
    JOB_REASON_GAP,      /* mark: [0] off by m, [1] push that the gap resists at the target N, [2] then */
    JOB_REASON_BIT,      /* bit: [0] next wider bit m, [1] withdrawal of the insert N, [2] with that bit */
    JOB_REASON_DEPTH,    /* drill: [0] a hole that is too shallow m, [1] withdrawal N, [2] in that hole */
    JOB_REASON_PROUD,    /* insert: [0] proud by m, [1] withdrawal N, [2] then */
    JOB_REASON_THREADS,  /* assemble: [0] threads planned at hand tight, [1] least safe ones */
    JOB_REASON_LENGTH, /* cut: [0] too long by m, [1] turns that the body has from hand tight, [2] what is left of them */
    JOB_REASON_PULL,   /* cut: [0] a hand pull half as strong N, [1] cable then too long by m, [2] turns that costs */
    JOB_REASON_HOME,   /* crimp: [0] short of home by m, [1] hold N, [2] then */
    JOB_REASON_SQUEEZE,  /* crimp: [1] hold with both squeezes N, [2] with one */
    JOB_REASON_PLANE,    /* crimp: [1] hold with the quarter turn N, [2] without */
    JOB_REASON_TRAVEL,   /* join: [0] turns from hand tight to the target, [1] turns that the body has */
    JOB_REASON_GIVES_UP, /* tension: [0] pulled to N, [1] what row `row` has N, [2] what is left to it */
    JOB_REASON_UNHELD,   /* pliers: [0] a turn, [1] tension after it with the stud held N, [2] without */
    JOB_REASON_BALL,     /* check: [0] push asked N, [1] push at the target N, [2] with all rows at half of it */
    JOB_REASON_DAYS,     /* hand over: [0] days, [1] slackest row on the first of them N, [2] on the last */
    JOB_REASON_KINDS
} job_reason_kind;

/* "gap", "gives_up": ends of language keys. */
const char *job_reason_name(job_reason_kind kind);

enum { JOB_REASON_VALUES = 3 };

typedef struct job_reason {
    job_reason_kind kind;
    int row; /* another row that is spoken of, -1 none */
    double value[JOB_REASON_VALUES];
} job_reason;

/* The reason for an action that is due. small_m: by how much a hand goes wrong in the comparison (a quarter inch, six
 * millimetres). NONE where no number tells anything: a tool taken up, posts that do not give. */
job_reason job_reason_for(const job_setup *setup, const job_state *state, const job_action *due, double small_m);

/* Push that the gap below row `gap` resists with every row at this tension; INFINITY where there is no gap. */
double job_push_at(const mech_run *run, int gap, double ball_m, double tension_n);

/* A crimp with the cable home and both squeezes as they should be. */
mech_crimp job_crimp_asked(const job_setup *setup);

#endif
