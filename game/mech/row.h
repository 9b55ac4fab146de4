/* The law of one row with its constants worked out, so that a solve does not add up the bays again and again. */
#ifndef GAME_MECH_ROW_H
#define GAME_MECH_ROW_H

#include "tautrow/mech/run.h"

typedef struct mech__law {
    double elastic_m_n; /* stretch of strand and inserts per newton */
    double sag_m_n2;    /* (w^2/24) sum of bay^3: sag uses up sag / T^2 */
    double bedding_m;   /* bedding-in of the whole row as tension grows without bound */
    double half_n;
    double warm_m; /* growth by warmth */
} mech__law;

mech__law mech__row_law(const mech_run *run);

/* The law of the bays first..last alone, with so large a share of the inserts' give. */
mech__law mech__bays_law(const mech_run *run, int first, int last, double insert_share);

/* mech_row_take_up with the constants at hand. */
double mech__law_take_up(const mech__law *law, double tension_n, double peak_n, double *slope);

/* Where to start looking for the tension of a row that has this take-up, when each newton uses up give_m_n of it. */
double mech__law_guess(const mech__law *law, double take_up_m, double give_m_n);

/* The inverse of mech__law_take_up: the tension of a row that has this take-up. Looks from guess_n > 0 on. */
double mech__law_tension(const mech__law *law, double take_up_m, double peak_n, double guess_n);

#endif
