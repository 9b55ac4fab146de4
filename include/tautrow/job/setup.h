/* What a job is before anybody has touched it: filled by the scenario loader, const ever after. SI throughout. */
#ifndef TAUTROW_JOB_SETUP_H
#define TAUTROW_JOB_SETUP_H

#include <stdbool.h>
#include <stdint.h>

#include "tautrow/job/action.h"
#include "tautrow/mech/checks.h"
#include "tautrow/mech/fittings.h"
#include "tautrow/mech/pullsheet.h"

enum { JOB_MAX_BITS = 8, JOB_MAX_CUTTERS = 3, JOB_MAX_FAULTS = 16, JOB_NAME_CAP = 48 };

typedef enum job_mode { JOB_GUIDED, JOB_PRACTICE, JOB_ASSESSMENT } job_mode;

/* Slip-ups that the crew before left behind, for the trainee to find and mend. */
typedef enum job_fault_kind {
    JOB_FAULT_UNSEATED, /* amount: m short of the bore's end */
    JOB_FAULT_ONE_SQUEEZE,
    JOB_FAULT_NO_TURN,     /* two squeezes in one plane */
    JOB_FAULT_TWISTED,     /* amount: turns that the cable is wound up */
    JOB_FAULT_FEW_THREADS, /* amount: threads of the cable stud engaged */
    JOB_FAULT_BIG_BIT,     /* amount: m of hole diameter over the right bit */
    JOB_FAULT_WET_POST,    /* of the whole post; row -1 */
    JOB_FAULT_KINDS
} job_fault_kind;

const char *job_fault_name(job_fault_kind kind);

typedef struct job_fault {
    job_fault_kind kind;
    int row;
    double amount;
} job_fault;

typedef struct job_bit {
    double diameter_m;
} job_bit;

typedef struct job_band {
    double low, high;
} job_band;

/* When the trainee is to come back and check the run again, and in what weather. */
typedef struct job_after {
    double days;      /* 0 = not asked */
    double warming_k; /* on the day, above the temperature of the fitting */
    double coldest_k; /* of the nights until then, the same way; never above 0 or warming_k */
} job_after;

typedef struct job_setup {
    char id[JOB_NAME_CAP];
    uint64_t seed;
    job_mode mode;

    /* the work */
    mech_structure structure; /* row heights as asked for */
    mech_turnbuckle turnbuckle;
    mech_engaged nominal; /* threads engaged at hand tight when all went to plan: take-up 0 there */
    mech_insert insert;
    mech_wood wood;
    double edge_m; /* from hole to the edge of the post */
    mech_crimp_kind crimp;
    mech_post_limits limits[MECH_ENDS];
    double creep_k_def, creep_exponent;

    /* the tools */
    int bit_count;
    job_bit bit[JOB_MAX_BITS];
    int right_bit;
    job_band drill_rpm, driver_rpm;   /* good speeds */
    double hole_depth_m;              /* asked for */
    double hand_pull_n;               /* pull under which the cable is marked */
    double hand_tight_n;              /* what fingers reach */
    double pin_limit_n_m;             /* what a hand can do with the turning pin */
    int cutter_count, right_cutter;   /* 0: cable cutter, 1: side cutters, 2: grinder */
    double gauge_bias, gauge_scatter; /* shares of the reading, one standard deviation */

    /* what is asked */
    double target_n;
    double tolerance;   /* share of the target */
    double row_limit_n; /* no row may ever pass this */
    mech_order order_rule;
    int order[MECH_MAX_ROWS]; /* the rule worked out over the trainee's rows */
    int order_count;
    int rounds; /* trips asked for before the check round */
    double round_share[MECH_MAX_ROUNDS];
    double ball_m, ball_push_n; /* gauge ball and the push that the opening must resist */
    mech_guard_asked guard;
    double par_time_s;
    job_after after;

    /* how the trainee finds it */
    bool is_trainees[MECH_MAX_ROWS];       /* rows that the trainee is to fit */
    job_stage start_stage[MECH_MAX_ROWS];  /* first stage not yet done; JOB_STAGE_COUNT = finished and tensioned */
    double start_tension_n[MECH_MAX_ROWS]; /* for rows already tensioned */
    int fault_count;
    job_fault fault[JOB_MAX_FAULTS];
} job_setup;

#endif
