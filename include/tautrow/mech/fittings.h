/* The fittings at the end of a row: threads, turnbuckle, hole, insert, crimp, cut length. docs/mechanics.md 5 to 8. */
#ifndef TAUTROW_MECH_FITTINGS_H
#define TAUTROW_MECH_FITTINGS_H

#include <stdbool.h>

#include "tautrow/mech/run.h"

/* ---- threads -------------------------------------------------------------------------------------------------- */

/* A 60 degree V thread. Pitch diameter = major - 0.649519 pitch (ISO 68-1 / ASME B1.1). */
typedef struct mech_thread {
    double pitch_m;
    double major_m;
    double friction; /* coefficient on the flanks */
} mech_thread;

double mech_thread_pitch_diameter(const mech_thread *thread);
double mech_thread_lead_angle(const mech_thread *thread);

/* Torque to move one thread against (raise) or with (lower) an axial force, N m. Shigley, eq. 8-1, 8-2 with the sec alpha of
 * eq. 8-5: F d2/2 tan(rho' +- lambda), tan rho' = friction / cos 30 deg. lower > 0 means that the thread locks itself. */
double mech_thread_raise(const mech_thread *thread, double force_n);
double mech_thread_lower(const mech_thread *thread, double force_n);

/* ---- turnbuckle ----------------------------------------------------------------------------------------------- */

typedef struct mech_turnbuckle {
    mech_thread anchor;           /* right-hand, to the post */
    mech_thread cable;            /* left-hand, crimped onto the cable */
    double body_m;                /* inside length: both studs' engaged lengths together cannot exceed it */
    double min_engaged_diameters; /* least safe engagement of each stud, in thread diameters (default 1) */
    double twist_release;         /* share of thread friction that vibration leaves over time, 0..1 (assumption) */
} mech_turnbuckle;

/* Where one turnbuckle stands. A thread is engaged by whole and part turns. */
typedef struct mech_engaged {
    double anchor_turns;
    double cable_turns;
    double twist_turns; /* how far the cable stud has turned with the body: the cable is wound up by this */
} mech_engaged;

/* Threads of each stud that make the least safe engagement. */
double mech_min_turns(const mech_turnbuckle *turnbuckle, const mech_thread *thread);

/* Turns of the body, stud held, until the studs meet. */
double mech_turns_to_bottom(const mech_turnbuckle *turnbuckle, const mech_engaged *engaged);

/* Take-up of a row from its turnbuckle against a nominal position, m: pitches times the turns engaged beyond it. */
double mech_engaged_take_up(const mech_turnbuckle *turnbuckle, const mech_engaged *now, const mech_engaged *nominal);

typedef enum mech_turn_end {
    MECH_TURN_DONE,
    MECH_TURN_BOTTOMED, /* the studs met in the body; the turns up to there were made */
    MECH_TURN_CAME_OUT, /* a stud left the body */
    MECH_TURN_TOO_HEAVY /* the pin would need more torque than torque_limit */
} mech_turn_end;

typedef struct mech_turn_result {
    mech_turn_end end;
    double turns;      /* body turns really made, sign as asked */
    double pin_n_m;    /* torque at the pin at the end of the move */
    double lost_turns; /* turns that the stud went round with the body instead of being taken up (absolute) */
    bool converged;    /* every solve on the way did */
} mech_turn_result;

/* Turns the body of one row by turns (positive = tighter), in steps of 1/16 turn, and solves the run after each.
 * is_held: locking pliers hold the cable stud, so both threads take up. Not held: the stud goes round with the body until the
 * torsion of the cable, torsion_n_m2 * twist / length, balances the friction torque of its thread at the tension of the moment.
 * rows->take_up_m[row] and tensions follow. torque_limit_n_m: what a hand can do with the pin (INFINITY = no limit).
 * MECH_TURN_CAME_OUT leaves the row as it was at the last thread: the caller must take it for slack (is_strung). */
mech_turn_result mech_turn_body(const mech_run *run, mech_rows *rows, int row, const mech_turnbuckle *turnbuckle,
                                mech_engaged *engaged, double turns, bool is_held, double torque_limit_n_m);

/* Twist that stays once vibration has lowered friction: the largest that torsion and reduced friction can balance, turns.
 * What does not stay costs engagement: wound up by tightening (positive) the body runs back with the stud, so anchor_turns
 * falls by it; wound up by loosening (negative) the stud backs out, so cable_turns falls by it. */
double mech_twist_kept(const mech_run *run, const mech_turnbuckle *turnbuckle, double twist_turns, double tension_n);

/* ---- hole and insert -------------------------------------------------------------------------------------------- */

typedef struct mech_insert {
    double major_m; /* outer thread */
    double minor_m; /* root of the outer thread */
    double length_m;
    double flange_m; /* how deep below the face it may sit and still take the collar */
} mech_insert;

typedef struct mech_wood {
    double gravity;         /* specific gravity for connections (oven-dry mass and volume, NDS Table 12.3.3A) */
    double wet_factor;      /* withdrawal factor for moisture, 1 dry */
    double duration_factor; /* 0.9 permanent */
} mech_wood;

/* Lag-screw withdrawal, N per metre of thread in side grain: design W = 1800 G^1.5 D^0.75 lbf/in (NDS 2018 eq. 12.2-1),
 * ultimate 8100 G^1.5 D^0.75 (Wood Handbook eq. 8-14, with its own G). Applied to a wood insert as an estimate. */
double mech_withdrawal_design(double gravity, double diameter_m);
double mech_withdrawal_ultimate(double gravity, double diameter_m);

/* A drilled hole and how the insert sits in it. */
typedef struct mech_hole {
    double diameter_m;
    double depth_m;   /* full diameter */
    double pitch_rad; /* out of square up or down */
    double yaw_rad;   /* out of square sideways */
    double wander_m;  /* oversize by wander and tear-out */
} mech_hole;

typedef struct mech_seat {
    double proud_m; /* flange above the face (positive) or sunk below it (negative) */
    double pitch_rad;
    double yaw_rad;
    double stripped; /* share of the wood thread torn by over-driving, 0..1 */
} mech_seat;

typedef struct mech_grip {
    double bite;             /* clamp((major - hole)/(major - minor), 0, 1) */
    double penetration_m;    /* thread in sound wood */
    double design_n;         /* allowed withdrawal of the row, factors applied */
    double ultimate_n;       /* estimate at which it comes out */
    double split_index;      /* above 1: likely to split (assumption) */
    double drive_torque_n_m; /* felt at the driver (assumption) */
    double side_n_per_n;     /* side load on the stud per newton of row tension: sine of the angle out of square */
} mech_grip;

/* Shallowest the flange can come to rest in this hole, m proud (0 when the hole is deep enough). */
double mech_insert_proud_least(const mech_insert *insert, const mech_hole *hole);

mech_grip mech_insert_grip(const mech_insert *insert, const mech_hole *hole, const mech_seat *seat,
                           const mech_wood *wood, double edge_m);

/* ---- crimp ------------------------------------------------------------------------------------------------------ */

/* Coefficients of a hand-crimped stud. No published value exists for hand crimps: all are demo data in the catalogue. */
typedef struct mech_crimp_kind {
    double efficiency;    /* share of breaking strength that a perfect crimp holds */
    double bore_m;        /* depth of the barrel */
    double barrel_m;      /* barrel diameter before */
    double crimped_m;     /* across the flats after a full squeeze */
    double die_m;         /* length that one squeeze covers */
    double best_turn_rad; /* 90 degrees between the two squeezes */
    double one_squeeze;   /* form factor after a single squeeze */
    double no_turn;       /* form factor of two squeezes in the same plane */
    double gauge_pass_m;  /* the crimp gauge passes at or below this, in both axes */
} mech_crimp_kind;

enum { MECH_MAX_SQUEEZES = 6 };

typedef struct mech_squeeze {
    double position_m; /* middle of the die from the barrel mouth */
    double angle_rad;  /* of the crimper about the barrel */
    double closing;    /* share of the full stroke, 0..1 */
} mech_squeeze;

typedef struct mech_crimp {
    double seated_m; /* how far the cable is pushed into the bore */
    int squeeze_count;
    mech_squeeze squeeze[MECH_MAX_SQUEEZES];
} mech_crimp;

typedef struct mech_crimp_state {
    double hold_n;            /* pull at which the cable slips */
    double seat, cover, form; /* the factors of section 7, 0..1 */
    double gauge_m[2];        /* across the first squeeze's axis and at right angles to it */
    bool passes_gauge;
} mech_crimp_state;

mech_crimp_state mech_crimp_look(const mech_crimp_kind *kind, const mech_crimp *crimp, double breaking_n);

/* ---- cut length ------------------------------------------------------------------------------------------------- */

/* How much longer (positive) the unstressed cable comes out when it is marked under a hand pull of hand_n instead of
 * reference_n, m: less stretch and more sag at a weaker pull. */
double mech_cut_pull_error(const mech_run *run, double hand_n, double reference_n);

#endif
