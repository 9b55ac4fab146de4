/* Checks of a finished run: gauge, tone, opening, guard load, utilisations; and time. docs/mechanics.md 9 and 10. */
#ifndef TAUTROW_MECH_CHECKS_H
#define TAUTROW_MECH_CHECKS_H

#include <stdbool.h>

#include "tautrow/mech/run.h"

/* Tension from a three-point gauge: force at mid of a gauge length, deflection small. T = F L / (4 d). */
double mech_gauge_tension(double force_n, double gauge_m, double deflection_m);
/* Exact for the symmetric triangle: T = F sqrt((L/2)^2 + d^2) / (2 d). */
double mech_gauge_tension_exact(double force_n, double gauge_m, double deflection_m);

/* Fundamental of a taut string, Hz: f = sqrt(T/m) / (2 l) (Mersenne), and the tension that sounds at f. */
double mech_tone_hz(double tension_n, double mass_kg_m, double bay_m);
double mech_tone_tension(double frequency_hz, double mass_kg_m, double bay_m);

/* Force at mid-span of an elastic string at deflection d, ends fixed: exact statics and stretch of the two straight legs,
 * whose leading terms are 4 T d/l + 8 EA d^3/l^3. Odd in d. */
double mech_string_push(double tension_n, double ea_n, double length_m, double deflection_m);
/* And the deflection under a force (the inverse; strictly rising). */
double mech_string_deflection(double tension_n, double ea_n, double length_m, double force_n);

/* Opening rule: push that forces a ball of ball_m diameter between two rows at mid-bay. */
typedef struct mech_opening {
    double push_n;   /* largest push on the way through; 0 where the ball falls through untouched */
    double spread_m; /* clear opening with the ball at its widest */
    bool is_open;    /* the ball passes without touching */
} mech_opening;
mech_opening mech_ball_opening(double ball_m, double strand_m, double spacing_m, double bay_m, double tension_low_n,
                               double tension_high_n, double ea_n);
/* Between a row and a fixed edge (deck, rail): spacing_m from the edge to the row's centre. */
mech_opening mech_ball_opening_edge(double ball_m, double strand_m, double spacing_m, double bay_m, double tension_n,
                                    double ea_n);

/* The same in the weakest bay of a run, the gap as it stands square to the rows (0 is deck to row 0, row_count the top row
 * to the rail). Without a rail the top gap is none: it holds whatever comes. */
mech_opening mech_run_opening(const mech_run *run, const mech_rows *rows, int gap, double ball_m);

/* The pushes that are asked of a finished guard: outward at the rail, across the run, and on a square of infill. How
 * large they are is the local code's. */
typedef struct mech_guard_asked {
    double rail_n;
    double infill_n, infill_side_m;
} mech_guard_asked;

typedef struct mech_guard {
    double post_moment_n_m; /* at the base of a post that takes the whole rail push alone */
    double row_push_n;      /* share of the infill push on one row */
    double row_sag_m;       /* how far a row is pushed out at mid-bay */
    double row_tension_n;   /* its tension then */
} mech_guard;

/* Each number at its worst: every strung row is pushed in each of its parts. A row carries what lies between the middles
 * of the gaps beside it (square to the rows). */
mech_guard mech_run_guard(const mech_run *run, const mech_rows *rows, const mech_guard_asked *asked);

/* Reference values against which a post is shown. Adjusted (size, wet, duration) by the caller's factors. */
typedef struct mech_post_limits {
    double bending_pa;   /* adjusted bending reference value */
    double rail_joint_n; /* INFINITY = not given */
    double base_n_m;     /* INFINITY = not given */
} mech_post_limits;

/* Of a corner post: both ways of bending added up. */
typedef struct mech_utilisation {
    double bending[MECH_ENDS];
    double base[MECH_ENDS];
    double rail_joint;
    double worst; /* largest of all */
} mech_utilisation;
mech_utilisation mech_post_utilisation(const mech_run *run, const mech_loads *loads,
                                       const mech_post_limits limits[MECH_ENDS]);

/* The line post of a bend, which the rows pull towards the inside of the turn. It is taken to be a post like the near one
 * (turned by a quarter, on the same base), its head held by the rail where there is one. 0 where the near end is rigid. */
typedef struct mech_bend_post {
    double pull_n; /* of all rows together */
    double peak_moment_n_m, base_moment_n_m;
    double bending, base; /* shares of the reference values */
} mech_bend_post;
mech_bend_post mech_bend_post_load(const mech_run *run, const mech_rows *rows, int bend,
                                   const mech_post_limits *limits);

/* Share of a base's capacity when the rows stand and the whole rail push is on its post alone, across the run (on a
 * corner post: whichever way is worse). 0 for a rigid end. */
double mech_guard_base_use(const mech_run *run, const mech_loads *loads, const mech_guard *guard, mech_end end,
                           const mech_post_limits *limits);

/* Bending reference value, Pa: tabulated * CF (size) * CM (wet) * CD (duration). NDS 2018 4.3. */
double mech_bending_adjusted(double tabulated_pa, double size_factor, double wet_factor, double duration_factor);

/* Creep of wood under a standing load after days: k_def * (days / 50 years)^exponent, 0 at 0. */
double mech_creep(double k_def, double exponent, double days);

#endif
