/* Runs with bends: which part of a row a bay belongs to, and what the pull at each end does. docs/mechanics.md 12. */
#include "ends.h"

#include <math.h>

#include "post.h"
#include "tautrow/base/assert.h"

double mech__end_shape(const mech_run *run, mech_end end, int level, mech_end pulled, int row)
{
    const mech_structure *made = &run->made_of;
    const mech_post *post = &made->post[end];
    const double at_m = level < made->row_count ? made->row_height_m[level] : run->post_height_m;
    const double rail_n = run->end_rail_share[pulled][row];
    double out_m = run->end_turn[pulled][end][row] * at_m;
    out_m -= rail_n * mech__post_give(post, made->creep, at_m, run->post_height_m);
    out_m += end == pulled ? mech__post_give(post, made->creep, at_m, made->row_height_m[row]) : 0.0;
    return run->cos_slope * out_m;
}

double mech__grip(const mech_run *run, int bend)
{
    return run->made_of.bend[bend].angle_rad * run->made_of.bend[bend].friction;
}

mech__part mech__part_of(const mech_run *run, int part)
{
    const mech_structure *made = &run->made_of;
    return (mech__part){.first = part == 0 ? 0 : made->bend[part - 1].line_post + 1,
                        .last = part == made->bend_count ? made->bay_count - 1 : made->bend[part].line_post};
}

double mech__longest_bay(const mech_run *run, mech__part part)
{
    double longest_m = 0.0;
    for (int bay = part.first; bay <= part.last; bay++) {
        longest_m = fmax(longest_m, run->made_of.bay_m[bay]);
    }
    return longest_m;
}

double mech_row_bay_tension(const mech_run *run, const mech_rows *rows, int row, int bay)
{
    TR_ASSERT(row >= 0 && row < run->made_of.row_count && bay >= 0 && bay < run->made_of.bay_count);
    double tension_n = rows->tension_n[row];
    for (int bend = 0; bend < run->made_of.bend_count; bend++) {
        tension_n = bay > run->made_of.bend[bend].line_post ? rows->beyond_n[row][bend] : tension_n;
    }
    return tension_n;
}

double mech_row_end_tension(const mech_run *run, const mech_rows *rows, int row, mech_end end)
{
    return mech_row_bay_tension(run, rows, row, end == MECH_NEAR ? 0 : run->made_of.bay_count - 1);
}
