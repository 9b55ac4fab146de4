/* The kinds of things that a catalogue holds and a scenario refers to, and their tables. Private to this layer. */
#ifndef TAUTROW_GAME_SCENARIO_PARTS_H
#define TAUTROW_GAME_SCENARIO_PARTS_H

#include "shape.h"

typedef enum scenario__part {
    SCENARIO__SPECIES,
    SCENARIO__STRAND,
    SCENARIO__TURNBUCKLE,
    SCENARIO__INSERT,
    SCENARIO__BITS,
    SCENARIO__CRIMPER,
    SCENARIO__BASE,
    SCENARIO__PARTS
} scenario__part;

/* Every entry starts with these two. */
typedef struct scenario__label {
    scenario_title name;
    const scenario__node *source;
} scenario__label;

typedef struct scenario__species {
    scenario__label label;
    double elastic_pa;       /* reference modulus of graded lumber; NAN = not graded */
    double clear_elastic_pa; /* clear-wood modulus; NAN = not given */
    double shear_ratio;
    double bending_pa;
    double size_factor, wet_bending, wet_elastic, wet_withdrawal;
    double gravity, gravity_handbook;
    double creep_dry, creep_wet, creep_exponent;
} scenario__species;

typedef struct scenario__strand {
    scenario__label label;
    double diameter_m, fill, elastic_pa, mass_kg_m, breaking_n, thermal_1_k;
    double bedding, bedding_half_n, torsion_n_m2;
} scenario__strand;

typedef struct scenario__stud {
    double pitch_m, diameter_m;
    double engaged_turns; /* at hand tight when all went to plan */
} scenario__stud;

typedef struct scenario__turnbuckle {
    scenario__label label;
    scenario__stud anchor, cable;
    double friction, body_m, least_engaged, twist_release;
} scenario__turnbuckle;

typedef struct scenario__insert {
    scenario__label label;
    double major_m, minor_m, length_m, flange_m, stiffness_n_m, bit_m;
} scenario__insert;

typedef struct scenario__bits {
    scenario__label label;
    const scenario__node *diameters;
} scenario__bits;

typedef struct scenario__crimper {
    scenario__label label;
    double efficiency, bore_m, barrel_m, crimped_m, die_m, best_turn_rad, one_squeeze, no_turn, gauge_pass_m;
} scenario__crimper;

typedef struct scenario__base {
    scenario__label label;
    double stiffness_n_m_rad, capacity_n_m;
} scenario__base;

/* Large enough for any of them. */
typedef union scenario__any_part {
    scenario__species species;
    scenario__strand strand;
    scenario__turnbuckle turnbuckle;
    scenario__insert insert;
    scenario__bits bits;
    scenario__crimper crimper;
    scenario__base base;
} scenario__any_part;

extern const scenario__shape scenario__part_shape[SCENARIO__PARTS];
/* The key under which the catalogue keeps a kind, and what a scenario calls it. */
extern const char *const scenario__part_key[SCENARIO__PARTS + 1];

/* Fills out from a node that is the id of a catalogue entry or an object of its own; false with errors listed
 * otherwise. */
bool scenario__read_part(scenario__reader *reader, const scenario__node *node, scenario__part part, void *out);

/* Reads a bit set's diameters, in m; returns how many. */
int scenario__read_bits(scenario__reader *reader, const scenario__node *list, double out_m[JOB_MAX_BITS]);

#endif
