/* Refuses structures that cannot stand or have a value out of range, in words that a tradesperson can act on. */
#include "sound.h"

#include <math.h>
#include <stdarg.h>

#include "tautrow/base/text.h"

#include "tautrow/base/units.h"

static const char *const END_NAME[MECH_ENDS] = {"near", "far"};

/* Steeper than any stair or ladder that a guard stands on. */
static const double MOST_SLOPE_RAD = 60.0 * TR_PI / 180.0 + 1e-9;

/* Sum of angle times friction: exp(-1.6) is a fifth. */
static const double MOST_GRIP = 1.6;

/* Where a sentence goes; a place without room drops it. */
typedef struct reason {
    char *text;
    size_t cap;
} reason;

#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
static bool
refuse(reason why, const char *format, ...)
{
    if (why.text != NULL && why.cap > 0) {
        va_list values;
        va_start(values, format);
        (void)tr_format_list(why.text, why.cap, format, values);
        va_end(values);
    }
    return false;
}

static bool is_positive(double value)
{
    return isfinite(value) && value > 0.0;
}

/* A stiffness may be INFINITY, a flexibility of nothing. */
static bool is_stiffness(double value)
{
    return value >= 0.0;
}

static bool is_share(double value)
{
    return isfinite(value) && value >= 0.0;
}

static bool are_posts_sound(const mech_structure *made, reason why)
{
    for (int end = 0; end < MECH_ENDS; end++) {
        const mech_post *post = &made->post[end];
        if (post->is_rigid) {
            continue;
        }
        if (!is_positive(post->depth_m) || !is_positive(post->breadth_m)) {
            return refuse(why, "the %s post needs a depth and a breadth above 0", END_NAME[end]);
        }
        if (!is_positive(post->elastic_pa) || !(post->shear_pa > 0.0)) {
            return refuse(why, "the wood of the %s post needs an elastic and a shear modulus above 0", END_NAME[end]);
        }
        if (!is_stiffness(post->base_n_m_rad)) {
            return refuse(why, "the base of the %s post needs a rotation stiffness of 0 or more", END_NAME[end]);
        }
    }
    return true;
}

static bool is_strand_sound(const mech_structure *made, reason why)
{
    const mech_strand *strand = &made->strand;
    if (!is_positive(strand->ea_n) || !is_positive(strand->mass_kg_m) || !is_positive(strand->diameter_m) ||
        !is_positive(strand->breaking_n)) {
        return refuse(why, "the strand needs a stiffness, a mass, a diameter and a breaking strength above 0");
    }
    if (!is_share(strand->bedding_strain) || !is_share(strand->torsion_n_m2) || !isfinite(strand->thermal_1_k)) {
        return refuse(why, "the strand's bedding-in, torsion and thermal expansion must be numbers of 0 or more");
    }
    if (strand->bedding_strain > 0.0 && !is_positive(strand->bedding_half_n)) {
        return refuse(why, "a strand that beds in needs the tension at which half of it has happened, above 0");
    }
    if (!(made->insert_n_m > 0.0)) {
        return refuse(why, "the inserts need an axial stiffness above 0");
    }
    return true;
}

static bool are_rows_sound(const mech_structure *made, reason why)
{
    if (made->row_count < 1 || made->row_count > MECH_MAX_ROWS) {
        return refuse(why, "a run has 1 to %d rows, not %d", MECH_MAX_ROWS, made->row_count);
    }
    double below = 0.0;
    for (int row = 0; row < made->row_count; row++) {
        const double height = made->row_height_m[row];
        if (!isfinite(height) || !(height > below)) {
            return row == 0 ? refuse(why, "row 1 must be above the base of the post")
                            : refuse(why, "row %d must be above row %d", row + 1, row);
        }
        below = height;
    }
    return true;
}

static bool are_bays_sound(const mech_structure *made, reason why)
{
    if (made->bay_count < 1 || made->bay_count > MECH_MAX_BAYS) {
        return refuse(why, "a run has 1 to %d bays, not %d", MECH_MAX_BAYS, made->bay_count);
    }
    for (int bay = 0; bay < made->bay_count; bay++) {
        if (!is_positive(made->bay_m[bay])) {
            return refuse(why, "bay %d needs a length above 0", bay + 1);
        }
    }
    return true;
}

static bool is_rail_sound(const mech_structure *made, reason why)
{
    const mech_rail *rail = &made->rail;
    if (!rail->is_fitted) {
        return true;
    }
    if (!isfinite(rail->height_m) || !(rail->height_m > made->row_height_m[made->row_count - 1])) {
        return refuse(why, "the top row must be below the rail");
    }
    if (!is_positive(rail->ea_n)) {
        return refuse(why, "the rail needs an axial stiffness above 0");
    }
    for (int end = 0; end < MECH_ENDS; end++) {
        if (!is_stiffness(rail->joint_n_m[end])) {
            return refuse(why, "the rail joint at the %s post needs a stiffness of 0 or more", END_NAME[end]);
        }
    }
    return true;
}

static bool are_bends_sound(const mech_structure *made, reason why)
{
    int before = -1;
    double grip = 0.0;
    if (made->bend_count < 0 || made->bend_count > MECH_MAX_BENDS) {
        return refuse(why, "a run has 0 to %d bends, not %d", MECH_MAX_BENDS, made->bend_count);
    }
    for (int i = 0; i < made->bend_count; i++) {
        const mech_bend *bend = &made->bend[i];
        if (bend->line_post <= before || bend->line_post + 1 >= made->bay_count) {
            return refuse(why, "bend %d must be at a line post, each farther from the near end than the one before",
                          i + 1);
        }
        if (!is_share(bend->angle_rad) || !is_share(bend->friction)) {
            return refuse(why, "bend %d needs an angle and a friction of 0 or more", i + 1);
        }
        before = bend->line_post;
        grip += bend->angle_rad * bend->friction;
    }
    if (grip > MOST_GRIP) {
        return refuse(why, "the bends rub so much that less than a fifth of a pull comes through: "
                           "take less friction or fewer bends");
    }
    return true;
}

static bool is_pinned(const mech_post *post)
{
    return !post->is_rigid && isinf(1.0 / post->base_n_m_rad);
}

static bool can_stand(const mech_structure *made, reason why)
{
    const bool has_rail = mech__rail_stiffness(made) > 0.0;
    for (int end = 0; end < MECH_ENDS; end++) {
        if (!has_rail && is_pinned(&made->post[end])) {
            return refuse(why, "the %s post is pinned at its base and no rail holds its top, so it falls over",
                          END_NAME[end]);
        }
    }
    if (is_pinned(&made->post[MECH_NEAR]) && is_pinned(&made->post[MECH_FAR])) {
        return refuse(why, "both posts are pinned at the base, so they sway over together with the rail: "
                           "one base must resist turning");
    }
    return true;
}

bool mech__is_sound(const mech_structure *made, char *why, size_t why_cap)
{
    const reason place = {why, why_cap};
    if (!isfinite(made->warming_k) || !isfinite(made->span_thermal_1_k) || !is_share(made->creep)) {
        return refuse(place, "warming and expansion must be numbers, creep a share of 0 or more");
    }
    if (!(made->slope_rad >= 0.0 && made->slope_rad <= MOST_SLOPE_RAD)) {
        return refuse(place, "the slope must be from 0 to 60 degrees");
    }
    const mech_corner *corner = &made->corner;
    if (corner->is_there &&
        (!is_share(corner->tension_n) || !is_positive(corner->length_m) || !isfinite(corner->raise_m))) {
        return refuse(place,
                      "the second run of the corner needs a tension, a length and how much higher its rows stand");
    }
    return are_posts_sound(made, place) && is_strand_sound(made, place) && are_rows_sound(made, place) &&
           are_bays_sound(made, place) && are_bends_sound(made, place) && is_rail_sound(made, place) &&
           can_stand(made, place);
}

double mech__rail_stiffness(const mech_structure *made)
{
    const mech_rail *rail = &made->rail;
    if (!rail->is_fitted) {
        return 0.0;
    }
    double length = 0.0;
    for (int bay = 0; bay < made->bay_count; bay++) {
        length += made->bay_m[bay];
    }
    return 1.0 / (length / rail->ea_n + 1.0 / rail->joint_n_m[MECH_NEAR] + 1.0 / rail->joint_n_m[MECH_FAR]);
}
