/* A run: two end posts, a top rail, rows of strand that pull the posts together. docs/mechanics.md sections 1 to 4.
 *
 * Signs: post deflections are positive inward (towards the other post); tensions and rail compression are positive;
 * heights are measured up from the post's base. Row 0 is the lowest. On a slope rows and rail run parallel to it; a
 * deflection is level, a closing is measured along the row. SI throughout. Pure functions, no heap. */
#ifndef TAUTROW_MECH_RUN_H
#define TAUTROW_MECH_RUN_H

#include <stdbool.h>
#include <stddef.h>

#include "tautrow/base/result.h"

enum {
    MECH_MAX_ROWS = 40,
    MECH_MAX_BAYS = 24,
    MECH_MAX_BENDS = 4,
    MECH_ENDS = 2 /* near, far */
};

typedef enum mech_end { MECH_NEAR, MECH_FAR } mech_end;

/* An end post: a Timoshenko beam of rectangular section on a rotation spring. */
typedef struct mech_post {
    bool is_rigid;       /* a wall, a steel post: does not move; all below is then ignored */
    double depth_m;      /* section size along the run (the direction of bending) */
    double breadth_m;    /* section size across the run */
    double elastic_pa;   /* along the grain, free of shear (see material.h) */
    double shear_pa;     /* shear modulus */
    double base_n_m_rad; /* rotation stiffness of the base: 0 = pinned, INFINITY = fixed */
} mech_post;

/* The top rail as an axial strut between the two posts. 1/k = length/(ea) + 1/joint_near + 1/joint_far. */
typedef struct mech_rail {
    bool is_fitted;
    double height_m;
    double ea_n;
    double joint_n_m[MECH_ENDS]; /* axial stiffness of each joint; INFINITY = tight */
} mech_rail;

/* The strand, one kind for the whole run. */
typedef struct mech_strand {
    double ea_n; /* axial stiffness, modulus times metal area */
    double mass_kg_m;
    double diameter_m;
    double breaking_n; /* minimum breaking strength */
    double thermal_1_k;
    double bedding_strain; /* permanent stretch of the first loading as tension grows without bound */
    double bedding_half_n; /* tension at which half of it has happened */
    double torsion_n_m2;   /* twisting moment per twist per length, ends free to draw in */
} mech_strand;

/* A line post at which the rows change direction and rub in their holes. It stands still. */
typedef struct mech_bend {
    int line_post;    /* from 0, counted from the near end: between bay line_post and the next */
    double angle_rad; /* by which the cable turns */
    double friction;
} mech_bend;

/* A second run that ends at one of our posts, square to ours: as many rows, each at a given tension, the same rail and a
 * post like the corner's at its other end. What its crew has tensioned it keeps: nothing of it bends in our plane. */
typedef struct mech_corner {
    bool is_there;
    mech_end end;
    double tension_n; /* of each of its rows */
    double raise_m;   /* how much higher than ours its rows stand, so that the fittings pass each other */
    double length_m;
} mech_corner;

typedef struct mech_structure {
    mech_post post[MECH_ENDS];
    mech_rail rail;
    mech_strand strand;
    int row_count;
    int bay_count;                      /* line posts + 1 */
    double row_height_m[MECH_MAX_ROWS]; /* strictly rising, all above 0 and, where a rail is fitted, below it */
    double insert_n_m;                  /* axial stiffness of both ends of a row in series; INFINITY = none */
    double bay_m[MECH_MAX_BAYS];        /* bay lengths; their sum is the length of a row */
    double warming_k;                   /* temperature above that at which the rows were fitted */
    double creep;                       /* extra share of post flexibility by creep, 0 when new */
    double span_thermal_1_k;        /* expansion along the rows of what holds the posts apart (deck, rail); 0 = none */
    double slope_rad;               /* of rows and rail above the level, 0 on a landing; posts stay upright */
    mech_end upper;                 /* the end that stands higher on a slope */
    int bend_count;                 /* 0 on a straight run */
    mech_bend bend[MECH_MAX_BENDS]; /* line posts rising */
    mech_corner corner;
} mech_structure;

/* The structure condensed to what a solve needs. Plain value; valid until the structure changes. */
typedef struct mech_run {
    mech_structure made_of;
    double length_m; /* along the slope */
    double cos_slope, sin_slope;
    double post_height_m;                             /* rail height, or the top row where there is none */
    double flexibility[MECH_MAX_ROWS][MECH_MAX_ROWS]; /* closing of row i per newton in row j, m/N, both posts */
    double shape[MECH_ENDS][MECH_MAX_ROWS + 1][MECH_MAX_ROWS]; /* deflection of a post at row i (last used index =
                                                               row_count: at the rail or top) per newton in row j */
    double rail_share[MECH_MAX_ROWS];                          /* rail compression per newton in row j */
    /* A row that rubs in a bend pulls its two ends unlike. Per newton at one end (first index) in row j: */
    double end_rail_share[MECH_ENDS][MECH_MAX_ROWS];
    double end_turn[MECH_ENDS][MECH_ENDS][MECH_MAX_ROWS]; /* rotation of the base of the end of the second index */
    double corner_rail_n;                                 /* compression in the rail of the second run */
    double corner_out_m;                                  /* largest deflection of the corner post in its direction */
} mech_run;

/* What has crept into the wood under the loads that stood so far, and stays when they change. */
typedef struct mech_crept {
    double post_m[MECH_ENDS][MECH_MAX_ROWS + 1]; /* inward deflection of a post, places as in mech_run.shape */
    double rail_n;                               /* compression that has come to the rail by it */
} mech_crept;

/* What each row has been given, and the state that follows. take_up, peak, crept and is_strung are inputs; the rest is
 * solved. */
typedef struct mech_rows {
    bool is_strung[MECH_MAX_ROWS];   /* a row that is not strung carries nothing */
    double take_up_m[MECH_MAX_ROWS]; /* shortening from the straight, unstressed row; negative = slack */
    double peak_n[MECH_MAX_ROWS];    /* highest tension seen so far (bedding-in); a solve raises it */
    double tension_n[MECH_MAX_ROWS]; /* in the bays at the near end; on a straight run in all */
    mech_crept crept;                /* 0 when new */
    /* Beyond each bend, as seen from the near end. passed_m remembers which way the cable last slid in the hole. */
    double beyond_n[MECH_MAX_ROWS][MECH_MAX_BENDS];      /* tension; solved */
    double beyond_peak_n[MECH_MAX_ROWS][MECH_MAX_BENDS]; /* highest so far; an input like peak */
    double passed_m[MECH_MAX_ROWS][MECH_MAX_BENDS]; /* cable that has come through towards the near end; an input */
} mech_rows;

typedef struct mech_solution {
    bool converged;
    int iterations;
    double residual_m; /* largest row misfit left */
} mech_solution;

/* Condenses a structure. TR_INVALID with a sentence in why where it cannot stand or a value is out of range
 * (pinned base without a rail, a row above the rail, a stiffness that is negative or not a number).
 * docs/mechanics.md 1. */
tr_result mech_run_build(const mech_structure *structure, mech_run *run, char *why, size_t why_cap);

/* Take-up that a row needs to carry tension_n while the posts stand still: stretch, insert give, sag, bedding-in,
 * warmth. Strictly rising in tension_n > 0. *slope (may be NULL) gets its derivative, m/N. docs/mechanics.md 2. */
double mech_row_take_up(const mech_run *run, double tension_n, double peak_n, double *slope);

/* Take-up at which a row carries tension_n[row] while all rows carry tension_n (0 = not there): its own, at the peak that
 * it has seen or now sees, and how far the posts have come together, crept or not. In bends all rows are taken to have
 * been drawn towards the near end last. */
double mech_run_take_up(const mech_run *run, const mech_rows *rows, int row, const double tension_n[]);

/* Tensions of all strung rows for their take-ups: the minimum of an energy that is convex, so the answer is unique. Starts
 * from the tensions it finds when they are positive, yet the answer does not depend on them beyond the tolerance (1e-9 of
 * the tension or of 1 kN, whichever is less). Peaks are raised to the new tensions. Not converged (a take-up that is not a
 * number): rows stay as they were. docs/mechanics.md 3. */
mech_solution mech_run_solve(const mech_run *run, mech_rows *rows);

/* Takes row up or lets it out until it carries tension_n > 0; the other rows keep their take-ups. A row that is not strung
 * yet is strung by it. */
mech_solution mech_run_pull(const mech_run *run, mech_rows *rows, int row, double tension_n);

/* Tension of a row in a bay, and at an end: the bays between two bends have the same. docs/mechanics.md 12. */
double mech_row_bay_tension(const mech_run *run, const mech_rows *rows, int row, int bay);
double mech_row_end_tension(const mech_run *run, const mech_rows *rows, int row, mech_end end);

/* Width of the gap below row `gap`, measured square to the rows: gap 0 is deck to row 0, gap row_count top row to rail
 * (0 where there is none). */
double mech_run_gap(const mech_run *run, int gap);

/* Inward deflection of a post at each row, and at index row_count at the rail (or the top row where there is none), m.
 */
void mech_run_deflection(const mech_run *run, const mech_rows *rows, mech_end end, double out_m[MECH_MAX_ROWS + 1]);

/* Forces that follow from the tensions by statics. */
typedef struct mech_loads {
    double total_n;                    /* sum of row tensions */
    double rail_n;                     /* compression in the rail */
    double base_shear_n[MECH_ENDS];    /* inward pull that the base must hold */
    double axial_n[MECH_ENDS];         /* on a slope: pressing the post down onto its base; negative pulls it up */
    double base_moment_n_m[MECH_ENDS]; /* positive = the rows bend the post inward */
    double
        peak_moment_n_m[MECH_ENDS];  /* largest in size along the post; negative = bows inward between base and rail */
    double peak_height_m[MECH_ENDS]; /* and where it is */
    double off_centre_n_m;           /* |sum T (y - mid height of the rows)| */
    double across_shear_n;           /* on the base of a corner post by the second run, square to ours */
    double across_moment_n_m;        /* the same as moment */
    double corner_pa;                /* largest bending stress in a corner post, both ways added up */
} mech_loads;

void mech_run_loads(const mech_run *run, const mech_rows *rows, mech_loads *loads);

/* Adds to *sum what a change of the tensions has crept in by the time that the posts' flexibility under it has grown as
 * in later, which is the same structure as fresh but for its creep. docs/mechanics.md 10. */
void mech_crept_add(const mech_run *fresh, const mech_run *later, const double change_n[MECH_ENDS][MECH_MAX_ROWS],
                    mech_crept *sum);

#endif
