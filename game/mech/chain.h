/* One row from near to far as a chain of parts between bends, its two ends standing still. docs/mechanics.md 12.
 *
 * In a bend the cable sticks, so that none passes, or slides one way, and then the tension across it drops by the
 * capstan's exponential against the way it slides. Parts between stuck bends share one unknown tension. */
#ifndef GAME_MECH_CHAIN_H
#define GAME_MECH_CHAIN_H

#include <stdbool.h>

#include "row.h"

enum { MECH__PARTS = MECH_MAX_BENDS + 1, MECH__ALL_CASES = 81 /* what four bends can do */ };

typedef enum mech__slide { MECH__TO_FAR = -1, MECH__STUCK = 0, MECH__TO_NEAR = 1 } mech__slide;

/* What the rows of a run have in common. */
typedef struct mech__parts {
    int count;
    mech__law law[MECH__PARTS];
    double grip[MECH_MAX_BENDS]; /* angle times friction */
} mech__parts;

/* Parts first..last of a row between stuck bends; their tensions are ratio times that of the first. */
typedef struct mech__group {
    int first, last;
    bool is_given;
    double lead_n;
    double ratio[MECH__PARTS];
    double slope_m_n; /* of its law */
    double left_m;    /* take-up for its law and the posts */
} mech__group;

/* One strung row. */
typedef struct mech__chain {
    int row;
    bool is_held; /* its tension at the near end is given, its take-up follows */
    double goal_m;
    double peak_n[MECH__PARTS];
    double tension_n[MECH__PARTS];
    double was_passed_m[MECH_MAX_BENDS];
    double passed_m[MECH_MAX_BENDS];
    mech__slide does[MECH_MAX_BENDS];
    int group_count;
    mech__group group[MECH__PARTS];
    double pull_n[MECH_ENDS]; /* as the posts are thought to feel it */
} mech__chain;

/* Laws and friction of the parts of a row, the same for every row of the run. */
mech__parts mech__parts_of(const mech_run *run);

/* What a bend most likely does, by the tensions beside it. */
mech__slide mech__likely_slide(const mech__parts *parts, const mech__chain *c, int bend);

/* The group is fastened to the post at this end: no stuck bend stands between. */
bool mech__reaches(const mech__parts *parts, const mech__group *g, mech_end end);

/* Tensions and cable passed while the ends stand post_m nearer together and the bends do what they do. */
void mech__chain_answer(const mech__parts *parts, mech__chain *c, const double post_m[MECH_ENDS]);

/* The same with the bends doing what is right: the one state of the row. */
void mech__chain_settle(const mech__parts *parts, mech__chain *c, const double post_m[MECH_ENDS]);

/* The cable that has passed each bend by the tensions as they are. */
void mech__chain_passed(const mech__parts *parts, mech__chain *c, double far_post_m);

/* What a bend should do instead, or what it does. */
mech__slide mech__corrected(const mech__parts *parts, const mech__chain *c, int bend);

#endif
