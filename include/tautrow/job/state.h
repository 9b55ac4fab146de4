/* The work piece as it stands: a plain value. Copy it to keep a snapshot. Only job_apply changes it. */
#ifndef TAUTROW_JOB_STATE_H
#define TAUTROW_JOB_STATE_H

#include <stdbool.h>
#include <stdint.h>

#include "tautrow/base/hash.h"
#include "tautrow/job/setup.h"

enum { JOB_MAX_PULL_LOG = 512, JOB_MAX_LOADS = 8 };

/* One row's fitting from bare wood to collar, and what has been done to it. Grouped by stage for the reader, not by size. */
/* NOLINTNEXTLINE(clang-analyzer-optin.performance.Padding) */
typedef struct job_row {
    /* mark, drill, insert */
    bool is_marked;
    double height_error_m;
    bool is_drilled;
    int bit;
    double drill_rpm;
    int clearings;
    mech_hole hole;
    bool is_driven;
    double driver_rpm;
    mech_seat seat;
    mech_grip grip; /* worked out when the insert is driven */
    bool is_split;

    /* assemble, join */
    bool anchor_in, cable_in; /* stud in the body */
    int wrong_starts;         /* tries at the wrong end */
    mech_engaged engaged;
    bool was_unscrewed, was_body_held;
    bool is_joined;     /* cable, crimped, in the body: the row can carry */
    bool is_hand_tight; /* brought up by hand since it was joined */

    /* cut */
    bool is_hung;
    double pulled_n; /* hand pull held at the moment, 0 = none */
    bool is_cable_marked;
    double marked_pull_n;
    double mark_error_m;
    bool is_cut;
    int cutter;
    double length_error_m; /* unstressed cable too long (positive) or too short */
    bool is_frayed;

    /* crimp */
    mech_crimp crimp;
    bool has_seat_mark;
    bool is_die_placed;
    double die_m, die_angle_rad;
    double slip_m;       /* cable drawn out of the crimp, or insert drawn out of the wood */
    double crimp_slip_m; /* the crimp's share of it: gone with the next crimp */
    int redone;          /* crimps cut off, new cables hung in place of a cut one */

    /* tension, check, hand over */
    bool has_pliers;               /* on this row's stud; there is one pair, so on no other row's then */
    double turns_held, turns_free; /* body turns made with and without the pliers, absolute */
    double first_reading_n;        /* tension at the end of the first pull */
    int64_t measured_at;           /* number of the action that last measured it (pluck or gauge), -1 never */
    int64_t turned_at;             /* number of the action that last turned its body, -1 never */
    bool is_crimp_gauged;
    bool has_collar;
    bool is_fault_reported[JOB_FAULT_KINDS]; /* a fault of the whole post is noted at row 0 */
} job_row;

/* One trip to a turnbuckle: consecutive turns of the same row count as one. */
typedef struct job_pull {
    int row;
    double before_n, after_n;
} job_pull;

/* The trip under way: turns of one body with no other body turned in between. */
typedef struct job_trip {
    int row;      /* -1 none */
    double turns; /* net, positive = tighter */
    double before_n;
    bool is_logged; /* it stands in the log: its net is tighter */
    bool is_first;  /* the first pull of that row */
} job_trip;

/* Pulls that the posts have borne for some time, for creep: each change from the load before creeps from its own day. */
typedef struct job_load {
    double since_day;
    double pull_n[MECH_ENDS][MECH_MAX_ROWS];
} job_load;

typedef struct job_state {
    int64_t action_count; /* actions taken, refused ones included */
    int64_t now_ms;
    bool is_sheet_open;
    int answer[3]; /* -1 = not answered */
    bool is_pole_set;
    double pole_error_m;
    bool has_glasses;
    int bit; /* in the chuck, -1 none */
    double drill_rpm, driver_rpm;
    int cutter; /* in hand, -1 none */
    bool stands_clear;
    bool is_wiped;
    bool is_post_sighted;
    bool is_gap_tried[MECH_MAX_ROWS + 1];
    double days;
    int64_t waited_at; /* number of the action that last let days pass, -1 never */
    int load_count;
    job_load load[JOB_MAX_LOADS];
    bool is_signed;

    job_row row[MECH_MAX_ROWS];
    mech_run run; /* the structure with the rows where they really are */
    mech_rows rows;

    /* what the examiner needs to know of the way here */
    int pull_count; /* may pass JOB_MAX_PULL_LOG; only the first so many are kept */
    job_pull pull[JOB_MAX_PULL_LOG];
    job_trip trip;
    double peak_n[MECH_MAX_ROWS];
    double off_centre_peak_n_m;
    double bending_peak; /* highest post utilisation on the way */
    int refusals;
    int refused_without_glasses;
    double turns_unclear; /* body turns made while not standing clear */
    int hints;
    int slips_under_load; /* times a crimp or an insert gave way */
} job_state;

/* The state before the first action: rows as the scenario leaves them, done to standard up to their stage, faults put in. */
void job_start(const job_setup *setup, job_state *state);

/* Digest of the state, field by field (never raw memory); equal states give equal digests on every machine. */
tr_hash job_state_hash(const job_setup *setup, const job_state *state);

/* First stage that this row still needs; JOB_STAGE_COUNT when it is finished. */
job_stage job_row_stage(const job_setup *setup, const job_state *state, int row);

/* True while a planted fault is there and not mended. A hole drilled too big and a wet post cannot be mended on the spot:
 * they stay, and reporting them is all that can be done. */
bool job_fault_is_present(const job_setup *setup, const job_state *state, const job_fault *fault);

/* Take-up of a row from everything done to it (threads, cut length, seat, slip), m. */
double job_row_take_up(const job_setup *setup, const job_row *row);

/* The rows of a run as the sheet asks for it (docs/mechanics.md 10) after the days and in the weather that the setup asks
 * for, when nobody touches them; rows holds what they carry on the first day and then on the last. False where the setup
 * asks for no days or no state was found. */
bool job_rows_after(const job_setup *setup, mech_rows *rows);

/* Pull at which a joined row gives way at its weakest end (crimp or insert), N. */
double job_row_capacity(const job_setup *setup, const job_row *row);

#endif
