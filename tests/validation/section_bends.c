/* Bends: what comes through a line post at which the cable turns. */
#include "sections.h"

#include "posts.h"
#include "tautrow/base/assert.h"

/* A row between rigid posts, turned at so many line posts by the same angle; what reaches the far end of newtons at the near one. */
static double through(int bends, double angle_deg, double friction, double near_n)
{
    static mech_run run;
    mech_structure made = {.row_count = 1, .row_height_m = {0.5}, .insert_n_m = 1e7, .bay_count = bends + 1};
    made.strand = (mech_strand){.ea_n = 782230.0, .mass_kg_m = 0.0489, .diameter_m = 0.003175, .breaking_n = 9341.0};
    made.post[MECH_NEAR].is_rigid = made.post[MECH_FAR].is_rigid = true;
    made.bend_count = bends;
    for (int i = 0; i <= bends; i++) {
        made.bay_m[i] = 1.0;
    }
    for (int i = 0; i < bends; i++) {
        made.bend[i] = (mech_bend){.line_post = i, .angle_rad = angle_deg * TR_PI / 180.0, .friction = friction};
    }
    posts_build(&made, &run);
    mech_rows rows = {.is_strung = {true}};
    TR_ASSERT(mech_run_pull(&run, &rows, 0, near_n).converged);
    return mech_row_end_tension(&run, &rows, 0, MECH_FAR);
}

void section_bends(book *b)
{
    static const double angle[] = {5.0, 15.0, 45.0, 90.0, 180.0};
    static const double friction[] = {0.2, 0.3, 0.4};
    static const char *const heads[] = {"friction 0.2", "friction 0.3", "friction 0.4"};
    static const double table[3][5] = {{1.0176, 1.0538, 1.1701, 1.3691, 1.8745},
                                       {1.0265, 1.0817, 1.2657, 1.6020, 2.5663},
                                       {1.0355, 1.1104, 1.3691, 1.8745, 3.5136}};
    book_section(b, "12. Bends", "[test_bend](../tests/mech/test_bend.c)");
    book_source(b, "Euler-Eytelwein, T2 = T1 e^(mu theta); Hibbeler, Statics, 8.5", MEMORY_WORKED);
    book_half(b, "four bends of 5 deg, friction 0.2: of 1000 N", "N", 932.57, 2, through(4, 5.0, 0.2, 1000.0));
    book_half(b, "one bend of 45 deg, friction 0.3: of 1000 N", "N", 790.08, 2, through(1, 45.0, 0.3, 1000.0));
    book_grid(b, "near over far tension | 5 deg | 15 deg | 45 deg | 90 deg | 180 deg");
    for (int f = 0; f < 3; f++) {
        book_grid_line(b, heads[f]);
        for (int a = 0; a < 5; a++) {
            book_grid_cell(b, table[f][a], 4, 1000.0 / through(1, angle[a], friction[f], 1000.0), 5.1e-5);
        }
    }
    book_grid_end(b);
}
