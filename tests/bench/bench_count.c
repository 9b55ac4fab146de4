/* One warm solve of eleven rows, for counting its instructions (count.sh): a sixteenth of a turn on the middle row of a
 * tensioned run. mech_run_solve is called once and nowhere else. */
#include <stdio.h>

#include "everyday.h"

int main(void)
{
    static mech_run run;
    const mech_structure made = everyday_fixed(11);
    everyday_build(&made, &run);
    mech_rows rows = {.is_strung = {false}};
    for (int row = 0; row < 11; row++) {
        (void)mech_run_pull(&run, &rows, row, 900.0);
    }
    rows.take_up_m[5] += 1.1e-4;
    const mech_solution solution = mech_run_solve(&run, &rows);
    (void)printf("%d steps, row 6 at %.3f N\n", solution.iterations, rows.tension_n[5]);
    return solution.converged ? 0 : 1;
}
