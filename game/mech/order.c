/* Rules for the order in which rows are pulled. */
#include "tautrow/base/assert.h"
#include "tautrow/mech/pullsheet.h"

/* The middle row, the one above it, the one below it, and so on. Of an even number the upper of the two middle rows is
 * the middle, so the lowest row is left over for the last turn. */
static int middle_out(int row_count, int turn)
{
    const int middle = row_count / 2;
    const int away = (turn + 1) / 2;
    const int row = turn % 2 == 1 ? middle + away : middle - away;
    return row < row_count ? row : 0;
}

void mech_order_rows(mech_order rule, int row_count, int order[MECH_MAX_ROWS])
{
    TR_ASSERT(row_count >= 0 && row_count <= MECH_MAX_ROWS);
    for (int turn = 0; turn < row_count; turn++) {
        const int from_end = turn / 2;
        switch (rule) {
        case MECH_MIDDLE_OUT:
            order[turn] = middle_out(row_count, turn);
            break;
        case MECH_TOP_DOWN:
            order[turn] = row_count - 1 - turn;
            break;
        case MECH_OUTSIDE_IN:
            order[turn] = turn % 2 == 0 ? from_end : row_count - 1 - from_end;
            break;
        case MECH_BOTTOM_UP:
        case MECH_ORDER_LIST:
        default:
            order[turn] = turn;
            break;
        }
    }
}
