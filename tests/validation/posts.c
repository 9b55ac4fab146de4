/* Builders only; nothing here is checked. */
#include "posts.h"

#include <math.h>
#include <stdio.h>

#include "tautrow/base/assert.h"

mech_structure posts_square(double side_m, double elastic_pa)
{
    return (mech_structure){
        .post = {{.depth_m = side_m,
                  .breadth_m = side_m,
                  .elastic_pa = elastic_pa,
                  .shear_pa = (double)INFINITY,
                  .base_n_m_rad = (double)INFINITY},
                 {.is_rigid = true}},
        /* EA of 1/8 in 1x19 strand at 130 GPa: 175,852 lbf */
        .strand = {.ea_n = 175852.0 * TR_LBF_N, .mass_kg_m = 1e-12, .diameter_m = 0.003175, .breaking_n = 9000.0},
        .insert_n_m = (double)INFINITY,
        .bay_count = 1,
        .bay_m = {72.0 * TR_INCH_M},
    };
}

mech_structure posts_4x4(void)
{
    return posts_square(3.5 * TR_INCH_M, 1.6e6 * TR_PSI_PA);
}

mech_structure posts_unit(void)
{
    return posts_square(1.0, 12.0);
}

void posts_prop(mech_structure *made, double height_m, double base_n_m_rad)
{
    made->post[MECH_NEAR].base_n_m_rad = base_n_m_rad;
    made->rail = (mech_rail){
        .is_fitted = true, .height_m = height_m, .ea_n = 1e20, .joint_n_m = {(double)INFINITY, (double)INFINITY}};
}

void posts_rows(mech_structure *made, int count, const double height_m[])
{
    made->row_count = count;
    for (int row = 0; row < count; row++) {
        made->row_height_m[row] = height_m[row];
    }
}

void posts_even_rows(mech_structure *made, int count, double first_m, double spacing_m)
{
    made->row_count = count;
    for (int row = 0; row < count; row++) {
        made->row_height_m[row] = first_m + spacing_m * row;
    }
}

void posts_build(const mech_structure *made, mech_run *run)
{
    char why[256] = "";
    const bool is_built = mech_run_build(made, run, why, sizeof why) == TR_OK;
    if (!is_built) {
        (void)fprintf(stderr, "refused: %s\n", why);
    }
    TR_ASSERT(is_built);
}

mech_structure posts_strand(double length_m)
{
    mech_structure made = posts_4x4();
    made.post[MECH_NEAR].is_rigid = true;
    made.strand.ea_n = 782230.0; /* 6.017 mm2 at 130 GPa */
    made.bay_m[0] = length_m;
    posts_even_rows(&made, 1, 0.5, 0.0);
    return made;
}

mech_rows posts_pulled(int count, const double tension_n[])
{
    mech_rows rows = {.is_strung = {false}};
    for (int row = 0; row < count; row++) {
        rows.is_strung[row] = true;
        rows.tension_n[row] = tension_n[row];
    }
    return rows;
}
