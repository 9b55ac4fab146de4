/* The one state of a row that rubs in bends while its two ends stand still. docs/mechanics.md 12. */
#include "chain.h"

#include <math.h>

#include "ends.h"

enum {
    MAX_CHANGES = 12, /* of what the bends of one row do; rarely more than two */
    LOOK_STEPS = 200
};

/* Beyond its limit by this share a bend slides; against its way by this length it sticks. */
static const double RATIO_ROUNDING = 1e-8;
static const double PASSED_ROUNDING_M = 1e-12;

mech__parts mech__parts_of(const mech_run *run)
{
    mech__parts parts = {.count = run->made_of.bend_count + 1};
    for (int part = 0; part < parts.count; part++) {
        const mech__part bays = mech__part_of(run, part);
        const double inserts = (part == 0 ? 0.5 : 0.0) + (part == parts.count - 1 ? 0.5 : 0.0);
        parts.law[part] = mech__bays_law(run, bays.first, bays.last, inserts);
        if (part > 0) {
            parts.grip[part - 1] = mech__grip(run, part - 1);
        }
    }
    return parts;
}

/* A bend at its limit is likely to slide on. One without friction always slides: its way is of no matter. */
mech__slide mech__likely_slide(const mech__parts *parts, const mech__chain *c, int bend)
{
    const double near_n = c->tension_n[bend];
    const double far_n = c->tension_n[bend + 1];
    if (!(parts->grip[bend] > 0.0) || !(near_n > 0.0) || !(far_n > 0.0)) {
        return MECH__TO_NEAR;
    }
    const double drop = log(near_n / far_n);
    return drop >= parts->grip[bend] * (1.0 - 1e-6)    ? MECH__TO_NEAR
           : drop <= -parts->grip[bend] * (1.0 - 1e-6) ? MECH__TO_FAR
                                                       : MECH__STUCK;
}

bool mech__reaches(const mech__parts *parts, const mech__group *g, mech_end end)
{
    return end == MECH_NEAR ? g->first == 0 : g->last == parts->count - 1;
}

/* The take-up of its law when every tension is ratio times lead_n. */
static double law_of(const mech__parts *parts, const mech__chain *c, const mech__group *g, double lead_n,
                     double *slope_m_n)
{
    double sum_m = 0.0;
    *slope_m_n = 0.0;
    for (int part = g->first; part <= g->last; part++) {
        double rise = 0.0;
        sum_m += mech__law_take_up(&parts->law[part], g->ratio[part] * lead_n, c->peak_n[part], &rise);
        *slope_m_n += g->ratio[part] * rise;
    }
    return sum_m;
}

/* Looks for the tension at which the law takes left_m: a rising function without an end below. Newton inside a bracket.
 */
static double look(const mech__parts *parts, const mech__chain *c, const mech__group *g, double left_m)
{
    double low = 0.0;
    double high = (double)INFINITY;
    double lead_n = g->lead_n;
    for (int step = 0; step < LOOK_STEPS; step++) {
        double slope = 0.0;
        const double over_m = law_of(parts, c, g, lead_n, &slope) - left_m;
        low = over_m <= 0.0 ? lead_n : low;
        high = over_m >= 0.0 ? lead_n : high;
        double next = lead_n - over_m / slope;
        if (!(next > low && next < high)) {
            next = isinf(high) ? 2.0 * lead_n : low > 0.0 ? 0.5 * (low + high) : 0.25 * lead_n;
        }
        if (fabs(next - lead_n) <= 1e-14 * lead_n) {
            return next;
        }
        lead_n = next;
    }
    return lead_n;
}

static void add_group(const mech__parts *parts, mech__chain *c, int first, int last, const double post_m[MECH_ENDS])
{
    mech__group *g = &c->group[c->group_count++];
    *g = (mech__group){
        .first = first, .last = last, .is_given = c->is_held && first == 0, .lead_n = c->tension_n[first]};
    g->left_m = first == 0 ? c->goal_m : c->was_passed_m[first - 1];
    g->left_m -= last + 1 < parts->count ? c->was_passed_m[last] : 0.0;
    g->ratio[first] = 1.0;
    for (int part = first; part < last; part++) {
        g->ratio[part + 1] = g->ratio[part] * exp(-(double)c->does[part] * parts->grip[part]);
    }
    for (int end = 0; end < MECH_ENDS; end++) {
        g->left_m -= mech__reaches(parts, g, (mech_end)end) ? post_m[end] : 0.0;
    }
    g->lead_n = g->is_given ? g->lead_n : look(parts, c, g, g->left_m);
    (void)law_of(parts, c, g, g->lead_n, &g->slope_m_n);
    for (int part = first; part <= last; part++) {
        c->tension_n[part] = g->ratio[part] * g->lead_n;
    }
}

static void make_groups(const mech__parts *parts, mech__chain *c, const double post_m[MECH_ENDS])
{
    int first = 0;
    c->group_count = 0;
    for (int part = 0; part < parts->count; part++) {
        if (part + 1 == parts->count || c->does[part] == MECH__STUCK) {
            add_group(parts, c, first, part, post_m);
            first = part + 1;
        }
    }
}

/* The cable that has passed each bend, from the far end on: what the part behind it needs beyond what it gives on. */
void mech__chain_passed(const mech__parts *parts, mech__chain *c, double far_post_m)
{
    double behind_m = far_post_m;
    for (int part = parts->count - 1; part > 0; part--) {
        behind_m += mech__law_take_up(&parts->law[part], c->tension_n[part], c->peak_n[part], NULL);
        if (c->does[part - 1] == MECH__STUCK) {
            behind_m = c->was_passed_m[part - 1];
        }
        c->passed_m[part - 1] = behind_m;
    }
}

void mech__chain_answer(const mech__parts *parts, mech__chain *c, const double post_m[MECH_ENDS])
{
    make_groups(parts, c, post_m);
    mech__chain_passed(parts, c, post_m[MECH_FAR]);
}

/* What a bend should do instead, or what it does. */
mech__slide mech__corrected(const mech__parts *parts, const mech__chain *c, int bend)
{
    if (!(parts->grip[bend] > 0.0)) {
        return MECH__TO_NEAR;
    }
    if (c->does[bend] == MECH__STUCK) {
        const double drop = log(c->tension_n[bend] / c->tension_n[bend + 1]);
        const double most = parts->grip[bend] * (1.0 + RATIO_ROUNDING) + 1e-12;
        return drop > most ? MECH__TO_NEAR : drop < -most ? MECH__TO_FAR : MECH__STUCK;
    }
    const double slid_m = (c->passed_m[bend] - c->was_passed_m[bend]) * (double)c->does[bend];
    return slid_m < -PASSED_ROUNDING_M ? MECH__STUCK : c->does[bend];
}

/* Changes what all wrong bends do. False when none is wrong. */
static bool correct(const mech__parts *parts, mech__chain *c)
{
    bool is_any = false;
    for (int bend = 0; bend + 1 < parts->count; bend++) {
        const mech__slide right = mech__corrected(parts, c, bend);
        is_any = is_any || right != c->does[bend];
        c->does[bend] = right;
    }
    return is_any;
}

/* All that the bends of a row can do, one after another: number 0 is all to the far end, as in a count to base 3. */
static void set_all(const mech__parts *parts, mech__chain *c, int number)
{
    for (int bend = 0; bend + 1 < parts->count; bend++) {
        c->does[bend] = (mech__slide)(number % 3 - 1);
        number /= 3;
    }
}

/* The one state of a row while its ends stand post_m nearer together. Putting right what is wrong mostly ends after a
 * change or two; should it go in circles, there are at most 81 cases to try. */
void mech__chain_settle(const mech__parts *parts, mech__chain *c, const double post_m[MECH_ENDS])
{
    for (int change = 0; change < MAX_CHANGES; change++) {
        mech__chain_answer(parts, c, post_m);
        if (!correct(parts, c)) {
            return;
        }
    }
    bool is_found = false;
    for (int number = 0; number < MECH__ALL_CASES && !is_found; number++) {
        set_all(parts, c, number);
        mech__chain_answer(parts, c, post_m);
        is_found = !correct(parts, c);
    }
}
