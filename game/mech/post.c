/* The end post as a Timoshenko beam. A post has one section over its whole height and is loaded at points only, so its
 * deflections are known in closed form: bending plus shear, without elements or a stiffness matrix. */
#include "post.h"

#include <math.h>

/* Shear factor of a rectangle (Wood Handbook eq. 9-2: A' = 5/6 b h). */
static const double SHEAR_FACTOR = 5.0 / 6.0;

double mech__post_give(const mech_post *post, double creep, double at_m, double load_m)
{
    if (post->is_rigid) {
        return 0.0;
    }
    const double low = fmin(at_m, load_m);
    const double high = fmax(at_m, load_m);
    const double area = post->breadth_m * post->depth_m;
    const double inertia = area * post->depth_m * post->depth_m / 12.0;
    const double bending = low * low * (3.0 * high - low) / (6.0 * post->elastic_pa * inertia);
    const double shear = low / (SHEAR_FACTOR * post->shear_pa * area);
    return (bending + shear) * (1.0 + creep);
}

double mech__post_base_give(const mech_post *post)
{
    return post->is_rigid ? 0.0 : 1.0 / post->base_n_m_rad;
}
