/* Creep of the posts under loads that have not always been there: each change of load creeps by its own age, and what
 * has crept in stays when the load goes. docs/mechanics.md 10. */
#include "creep.h"

#include "ends.h"

static double shape_of(const mech_run *run, int end, int level, int pulled, int row)
{
    return mech__end_shape(run, (mech_end)end, level, (mech_end)pulled, row);
}

void mech_crept_add(const mech_run *fresh, const mech_run *later, const double change_n[MECH_ENDS][MECH_MAX_ROWS],
                    mech_crept *sum)
{
    const int count = fresh->made_of.row_count;
    for (int pulled = 0; pulled < MECH_ENDS; pulled++) {
        for (int row = 0; row < count; row++) {
            const double change = change_n[pulled][row];
            sum->rail_n += (later->end_rail_share[pulled][row] - fresh->end_rail_share[pulled][row]) * change;
            for (int place = 0; place < MECH_ENDS * (count + 1); place++) {
                const int end = place / (count + 1);
                const int level = place % (count + 1);
                const double more_m_n =
                    shape_of(later, end, level, pulled, row) - shape_of(fresh, end, level, pulled, row);
                sum->post_m[end][level] += more_m_n * change;
            }
        }
    }
}
