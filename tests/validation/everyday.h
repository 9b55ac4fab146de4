/* Runs as they are met in the trade, drawn at random: for comparing whole states with other programs. */
#ifndef TESTS_VALIDATION_EVERYDAY_H
#define TESTS_VALIDATION_EVERYDAY_H

#include "tautrow/base/rng.h"
#include "tautrow/mech/run.h"

/* Between low and high, evenly spread on a logarithmic scale. */
double everyday_spread(tr_rng *rng, double low, double high);

/* 3 to 15 rows, 1.2 to 9 m, softwood to hardwood posts of 3.5 to 7 in that differ from end to end, bases from soft to
 * fixed and some pinned, with and without a rail, some far ends rigid. Strand of 3 to 5 mm that beds in, with sag. */
mech_structure everyday_run(tr_rng *rng);

/* The same run with what a linear program cannot follow taken out: no weight to speak of, no bedding-in. */
mech_structure everyday_linear(mech_structure made);

/* Eleven rows 3 in apart on 12 ft between 5.5 in posts, for timing. row_count other than 11: as many, in the same
 * height. */
mech_structure everyday_fixed(int row_count);

/* Condenses; stops the program with the reason where mech refuses. */
void everyday_build(const mech_structure *made, mech_run *run);

/* The larger of two differences. What is not a number is worse than any number, where fmax would drop it. */
double everyday_worse(double worst, double off);

#endif
