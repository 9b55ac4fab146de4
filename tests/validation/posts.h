/* Structures for worked examples: one post of known stiffness against a wall, rows wherever an example has a load. */
#ifndef TESTS_VALIDATION_POSTS_H
#define TESTS_VALIDATION_POSTS_H

#include "tautrow/base/units.h"
#include "tautrow/mech/run.h"

#define LBF_IN (TR_LBF_N * TR_INCH_M)

/* A square post against a rigid far end, fixed at its foot, without shear; strand without weight worth naming. */
mech_structure posts_square(double side_m, double elastic_pa);

/* 3.5 in square of E 1.6e6 psi: Douglas Fir-Larch No. 2, the post of the worked examples. */
mech_structure posts_4x4(void);

/* EI = 1 N m2, for beam tables in units of P, L and EI. */
mech_structure posts_unit(void);

/* Holds the top by a tight rail at height_m. base: 0 makes a simple beam, INFINITY one propped at the top. */
void posts_prop(mech_structure *made, double height_m, double base_n_m_rad);

void posts_rows(mech_structure *made, int count, const double height_m[]);
void posts_even_rows(mech_structure *made, int count, double first_m, double spacing_m);

/* Condenses; stops the program with the reason where mech refuses. */
void posts_build(const mech_structure *made, mech_run *run);

/* A length of 1/8 in 1x19 strand between rigid ends, in one bay. */
mech_structure posts_strand(double length_m);

/* Rows with these tensions outright, without a solve. */
mech_rows posts_pulled(int count, const double tension_n[]);

#endif
