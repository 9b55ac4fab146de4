/* Creep of the posts under loads that have not always been there: each change of load creeps by its own age, and what
 * has crept in stays when the load goes. docs/mechanics.md 10. */
#include "creep.h"

void mech_crept_add(const mech_run *fresh, const mech_run *later, const double change_n[], mech_crept *sum)
{
    const int count = fresh->made_of.row_count;
    for (int end = 0; end < MECH_ENDS; end++) {
        for (int level = 0; level <= count; level++) {
            for (int row = 0; row < count; row++) {
                const double more_m_n = later->shape[end][level][row] - fresh->shape[end][level][row];
                sum->post_m[end][level] += more_m_n * change_n[row];
            }
        }
    }
    for (int row = 0; row < count; row++) {
        sum->rail_n += (later->rail_share[row] - fresh->rail_share[row]) * change_n[row];
    }
}
