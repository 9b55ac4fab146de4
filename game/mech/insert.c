/* The hole and the threaded insert in it. docs/mechanics.md 6. */
#include "tautrow/mech/fittings.h"

#include <math.h>

#include "tautrow/base/units.h"

/* Coefficients of a lag screw's withdrawal, lbf per inch of thread with D in inches. */
#define LAG_DESIGN   1800.0 /* NDS 2018 eq. 12.2-1 */
#define LAG_ULTIMATE 8100.0 /* Wood Handbook eq. 8-14 */

/* Assumptions, no published source: no standard rates the splitting or the driving of a wood insert. Chosen so that a
 * right bit in softwood (G 0.5, four diameters from the edge) gives about 0.4, and a bit of the next size down in white
 * oak passes 1; and so that driving takes a few newton metres in softwood. */
#define SPLIT_COEFFICIENT 8.0
#define SPLIT_GRAVITY     0.5   /* specific gravity at which the split coefficient was set */
#define DRIVE_PRESSURE_PA 8.0e6 /* wall pressure at that gravity if the whole section had to be displaced */
#define DRIVE_FRICTION    0.4   /* metal turning in wood; Wood Handbook ch. 4 gives 0.3 to 0.5 dry (from memory) */

/* The one place where the published inch-pound form becomes SI, N per metre of thread. A wood insert has no published
 * value of its own; its outer thread is taken as a lag screw's: an estimate. */
static double lag_withdrawal(double coefficient, double gravity, double diameter_m)
{
    const double lbf_per_inch = coefficient * pow(gravity, 1.5) * pow(diameter_m / TR_INCH_M, 0.75);
    return lbf_per_inch * TR_LBF_N / TR_INCH_M;
}

double mech_withdrawal_design(double gravity, double diameter_m)
{
    return lag_withdrawal(LAG_DESIGN, gravity, diameter_m);
}

double mech_withdrawal_ultimate(double gravity, double diameter_m)
{
    return lag_withdrawal(LAG_ULTIMATE, gravity, diameter_m);
}

double mech_insert_proud_least(const mech_insert *insert, const mech_hole *hole)
{
    return fmax(insert->length_m - hole->depth_m, 0.0);
}

static double clamp(double value, double low, double high)
{
    return fmin(fmax(value, low), high);
}

static double real_diameter(const mech_hole *hole)
{
    return hole->diameter_m + hole->wander_m;
}

static double bite_of(const mech_insert *insert, double hole_m)
{
    return clamp((insert->major_m - hole_m) / (insert->major_m - insert->minor_m), 0.0, 1.0);
}

/* Thread in the wood: what stands proud holds nothing, and an insert sunk too far has less hole left for it. */
static double penetration_of(const mech_insert *insert, const mech_hole *hole, double proud_m)
{
    const double in_wood = insert->length_m - fmax(proud_m, 0.0);
    const double in_hole = hole->depth_m + fmin(proud_m, 0.0);
    return clamp(fmin(in_wood, in_hole), 0.0, insert->length_m);
}

/* Wood that the insert pushes aside, as a share of major^2: the core where the hole is under the root, and half of the
 * ring that the thread fills. */
static double displaced_share(const mech_insert *insert, double hole_m)
{
    const double core = fmax(insert->minor_m, hole_m);
    const double cut_to = fmin(core, insert->major_m);
    const double core_area = core * core - hole_m * hole_m;
    const double ring_area = 0.5 * (insert->major_m * insert->major_m - cut_to * cut_to);
    return 0.25 * TR_PI * (core_area + ring_area) / (insert->major_m * insert->major_m);
}

/* Assumption. Wedging grows with the wood displaced and with its density and eases with the root of the distance to the
 * edge; at the 1.5 diameters that NDS 2018 Table 12.5.1E asks of a lag screw a right hole in softwood stays below 1. */
static double split_index(const mech_insert *insert, double displaced, double gravity, double edge_m)
{
    if (edge_m <= 0.0) {
        return displaced > 0.0 ? (double)INFINITY : 0.0;
    }
    return SPLIT_COEFFICIENT * (gravity / SPLIT_GRAVITY) * displaced / sqrt(edge_m / insert->major_m);
}

/* Assumption. Friction on the thread under a wall pressure that grows with the wood displaced and the square of
 * density. */
static double drive_torque(const mech_insert *insert, double displaced, double gravity, double penetration_m)
{
    const double density = gravity / SPLIT_GRAVITY;
    const double share = displaced / (0.25 * TR_PI);
    const double wall_n = DRIVE_PRESSURE_PA * density * density * share * TR_PI * insert->major_m * penetration_m;
    return DRIVE_FRICTION * wall_n * 0.5 * insert->major_m;
}

/* The angle that counts is the insert's as it sits, not that of the hole it was started in. */
mech_grip mech_insert_grip(const mech_insert *insert, const mech_hole *hole, const mech_seat *seat,
                           const mech_wood *wood, double edge_m)
{
    const double hole_m = real_diameter(hole);
    const double square = cos(seat->pitch_rad) * cos(seat->yaw_rad); /* cosine of the angle out of square */
    const double displaced = displaced_share(insert, hole_m);
    mech_grip grip = {.bite = bite_of(insert, hole_m), .penetration_m = penetration_of(insert, hole, seat->proud_m)};

    const double held_m = grip.penetration_m * grip.bite * (1.0 - clamp(seat->stripped, 0.0, 1.0)) * square;
    const double wet_m = held_m * wood->wet_factor;
    grip.design_n = mech_withdrawal_design(wood->gravity, insert->major_m) * wet_m * wood->duration_factor;
    grip.ultimate_n = mech_withdrawal_ultimate(wood->gravity, insert->major_m) * wet_m; /* a pull of minutes */
    grip.split_index = split_index(insert, displaced, wood->gravity, edge_m);
    grip.drive_torque_n_m = drive_torque(insert, displaced, wood->gravity, grip.penetration_m);
    grip.side_n_per_n = sqrt(fmax(1.0 - square * square, 0.0));
    return grip;
}
