/* The job engine: an action's physical effect, its refusals, and what a careful installer would do next.
 * Deterministic from setup (with its seed) and actions; no clock, no files, no heap, no global state. */
#ifndef TAUTROW_JOB_JOB_H
#define TAUTROW_JOB_JOB_H

#include <stddef.h>

#include "tautrow/job/state.h"

typedef enum job_refusal {
#define JOB_REFUSAL(NAME, key) JOB_REFUSE_##NAME,
#include "tautrow/job/refusals.def"
    JOB_REFUSAL_COUNT
} job_refusal;

/* "refuse.<key>", for the language files. */
const char *job_refusal_key(job_refusal refusal);

/* Things that happened to the work, as bits; words under "event.<name>". */
typedef enum job_event {
    JOB_EVENT_SPLIT = 1 << 0,        /* the post split at the insert */
    JOB_EVENT_STRIPPED = 1 << 1,     /* the driver ran over and tore the wood thread */
    JOB_EVENT_PROUD = 1 << 2,        /* the insert stands proud: the hole is too shallow */
    JOB_EVENT_FRAYED = 1 << 3,       /* the cable end frayed */
    JOB_EVENT_CRIMP_SLIP = 1 << 4,   /* the cable slipped in the crimp */
    JOB_EVENT_PULL_OUT = 1 << 5,     /* the insert moved in the wood */
    JOB_EVENT_BOTTOMED = 1 << 6,     /* the studs met in the body */
    JOB_EVENT_CAME_OUT = 1 << 7,     /* a stud left the body: the row went slack */
    JOB_EVENT_TOO_HEAVY = 1 << 8,    /* the pin would not go further by hand */
    JOB_EVENT_STUD_TURNED = 1 << 9,  /* the cable stud went round with the body */
    JOB_EVENT_BODY_TURNED = 1 << 10, /* the body went round with the stud while unscrewing */
    JOB_EVENT_OVER_LIMIT = 1 << 11   /* a row passed its limit */
} job_event;
enum { JOB_EVENT_KINDS = 12 };
const char *job_event_key(int bit_index);

/* What the trainee can perceive of it. Which values are set depends on the verb:
 * gauge: [0] reading N; pluck: [0] Hz; ball: [0] push N, [1] 1 when it holds; turn_body: [0] turns made, [1] pin torque N m,
 * [2] turns the stud went round; gauge_crimp: [0], [1] m across both axes, [2] 1 when it passes; drive_insert: [0] driving
 * torque N m, [1] proud m; hand_tight and thread_in: [0] turns made; sight: [0] furthest that the near post stands out of line
 * m, [1] 1 when the post looks wet, [2] first row, from 1, whose insert sits loose in its hole, 0 none; free_twist: [0] turns
 * let out; report_fault: [0] 1 when it is there. */
typedef struct job_outcome {
    job_refusal refusal;
    unsigned events;
    double value[3];
} job_outcome;

/* Carries out one action. A refused action changes nothing but the counters of the state and its clock. */
job_outcome job_apply(const job_setup *setup, job_state *state, const job_action *action);

/* One line of an attempt's story, for charts and the scrubber. */
typedef struct job_trace_entry {
    job_action action;
    job_outcome outcome;
    double off_centre_n_m;
    double rail_n;
    double tension_n[MECH_MAX_ROWS];
} job_trace_entry;

/* Starts afresh and applies actions[0..count). entries (may be NULL) gets one entry an action and must have room for count. */
void job_replay(const job_setup *setup, const job_action *actions, size_t count, job_state *state,
                job_trace_entry *entries);

/* The next action of a careful installer from here (pull sheet, check round and all), at time now_ms + a plausible pause.
 * False when nothing is left to do. It serves "what now", hints, demonstrations and tests. */
bool job_expert_next(const job_setup *setup, const job_state *state, job_action *action);

/* A tension, N, that counts as at the target. */
bool job_is_in_tolerance(const job_setup *setup, double tension_n);

/* Where a row stands: true tension against tolerance, finished rows, and so on, for the ladder. */
typedef enum job_row_look {
    JOB_LOOK_BARE,      /* nothing yet */
    JOB_LOOK_UNDER_WAY, /* between marking and joining */
    JOB_LOOK_SLACK,     /* joined, below tolerance */
    JOB_LOOK_IN,        /* within tolerance */
    JOB_LOOK_OVER       /* above tolerance */
} job_row_look;
job_row_look job_row_look_of(const job_setup *setup, const job_state *state, int row);

#endif
