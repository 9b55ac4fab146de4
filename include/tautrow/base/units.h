/* Quantities as people write and read them. Everything inside the program is SI; this is the only place
 * that knows inches, pounds and degrees.
 *
 * Unit factors: NIST SP 811 (2008) appendix B.8; 1 in = 25.4 mm and 1 lbf = 4.4482216152605 N exactly. */
#ifndef TAUTROW_BASE_UNITS_H
#define TAUTROW_BASE_UNITS_H

#include <stdbool.h>
#include <stddef.h>

/* What a number measures; in brackets the SI unit that the program computes with. */
typedef enum tr_dim {
    TR_DIM_LENGTH,      /* m: "1 1/4 in", "6 ft", "32 mm", "6 ft 3 1/2 in" */
    TR_DIM_FORCE,       /* N: "250 lbf", "1.1 kN" */
    TR_DIM_STRESS,      /* Pa: "1.6e6 psi", "11 GPa" */
    TR_DIM_MOMENT,      /* N m: "700 lbf in", "60 lbf ft", "80 N m" */
    TR_DIM_STIFFNESS,   /* N/m: "2000 lbf/in", "350 N/mm" */
    TR_DIM_ROTATION,    /* N m/rad: "9000 lbf in/rad", "12 kN m/rad" */
    TR_DIM_LINE_MASS,   /* kg/m: "0.0475 kg/m", "3.2 lb/100ft" */
    TR_DIM_TORSION,     /* N m2: "0.07 N m2", "26 lbf in2" */
    TR_DIM_ANGLE,       /* rad: "90 deg", "0.1 rad" */
    TR_DIM_TURNS,       /* turns: "3 turns" (also threads engaged: "7 threads") */
    TR_DIM_SPEED,       /* rpm: "1500 rpm" */
    TR_DIM_TEMPERATURE, /* K: "68 degF", "20 degC" */
    TR_DIM_EXPANSION,   /* 1/K: "16e-6 /K", "9e-6 /degF" */
    TR_DIM_TIME,        /* s: "25 min", "30 s", "2 h" */
    TR_DIM_DAYS,        /* days: "30 days" */
    TR_DIM_RATIO,       /* 1: "12 %", "0.8 x" */
    TR_DIM_FREQUENCY,   /* Hz: "79 Hz" */
    TR_DIM_COUNT        /* number of dimensions, no dimension itself */
} tr_dim;

typedef enum tr_system { TR_US, TR_SI } tr_system;

/* Reads a quantity. On success writes the SI value. On failure leaves *si alone and writes to why[why_cap] what is
 * wrong and which units there could be ("needs a unit: in, ft, mm, cm or m"). Never reads past the NUL. */
bool tr_quantity_parse(const char *text, tr_dim dim, double *si, char *why, size_t why_cap);

/* The units that a dimension can be written in, as a list for an error message. */
const char *tr_dim_units(tr_dim dim);

/* How a quantity is shown. TR_FINE shows one more digit than the trade would read; US lengths under 10 ft become
 * carpenter's fractions to 1/16 in (TR_PLAIN) or 1/64 in (TR_FINE), reduced. */
typedef enum tr_style { TR_PLAIN, TR_FINE } tr_style;

/* Writes "1 1/4 in", "225 lbf", "1.00 kN", "90°"... Non-finite values become an en dash. */
void tr_quantity_text(double si, tr_dim dim, tr_system system, tr_style style, char *out, size_t cap);

/* The bare number in the unit that tr_quantity_text would use, for charts and tables, and that unit's name. */
double tr_quantity_number(double si, tr_dim dim, tr_system system);
const char *tr_quantity_unit(tr_dim dim, tr_system system);

#define TR_INCH_M       0.0254
#define TR_FOOT_M       0.3048
#define TR_LBF_N        4.4482216152605
#define TR_PSI_PA       6894.757293168361
#define TR_GRAVITY_M_S2 9.80665
#define TR_PI           3.14159265358979323846

#endif
