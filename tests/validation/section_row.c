/* One row against the texts on cables: sag, tangent stiffness, change of load, warmth. */
#include "sections.h"

#include <math.h>

#include "posts.h"
#include "tautrow/base/assert.h"

/* Tension of a lone row for its take-up. */
static double tension_of(const mech_structure *made, double take_up_m)
{
    static mech_run run;
    posts_build(made, &run);
    mech_rows rows = {.is_strung = {true}, .take_up_m = {take_up_m}};
    TR_ASSERT(mech_run_solve(&run, &rows).converged);
    return rows.tension_n[0];
}

/* A cable of given weight that does not stretch. */
static mech_structure heavy(double length_m, double weight_n_m)
{
    mech_structure made = posts_strand(length_m);
    made.strand.ea_n = 1e18;
    made.strand.mass_kg_m = weight_n_m / TR_GRAVITY_M_S2;
    return made;
}

/* Horizontal pull of a catenary with sag ratio n over a unit span, per weight: f = a (cosh(1/2a) - 1). */
static double catenary_pull(double n)
{
    double low = 1e-3;
    double high = 1e4;
    for (int i = 0; i < 200; i++) {
        const double middle = 0.5 * (low + high);
        if (middle * (cosh(0.5 / middle) - 1.0) > n) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return 0.5 * (low + high);
}

static void sag(book *b)
{
    const mech_structure made = heavy(20.0, 50.0);
    static mech_run run;
    posts_build(&made, &run);
    book_source(b, "Hibbeler, Statics, ch. 7; Irvine, Cable Structures", MEMORY_WORKED);
    /* 8/3 f^2/L of take-up belongs to a sag of 0.8 m */
    book_half(b, "parabola, L 20 m, w 0.05 kN/m, sag 0.8 m: H", "kN", 3.125, 4,
              tension_of(&made, -8.0 / 3.0 * 0.64 / 20.0) * 1e-3);
    book_within(b, "  length of the curve", "m", 20.08501, 5, 20.0 - mech_row_take_up(&run, 3125.0, 0.0, NULL), 0.00033,
                "the law leaves out the next term of the series, 6.4 f^4/L^3");
    book_source(b, "Irvine 1981, ch. 1", QUOTED_WORKED);
    book_within(b, "catenary of the same sag, length 20.08508 m: H", "kN", 3.13164, 5,
                tension_of(&made, -0.08508) * 1e-3, 0.00313 * 1.6,
                "parabola for catenary: the square of the sag ratio");
    static const struct {
        const char *what;
        double n;
    } table[] = {{"catenary over our H for its length, sag ratio 0.02", 0.02},
                 {"  sag ratio 0.05", 0.05},
                 {"  sag ratio 0.1", 0.1}};
    book_source(b, "Irvine 1981, ch. 1: f = a (cosh(L/2a) - 1), S = 2a sinh(L/2a)", MECHANICS_WORKED);
    for (int i = 0; i < 3; i++) {
        const double pull = catenary_pull(table[i].n);
        const double length = 2.0 * pull * sinh(0.5 / pull);
        const mech_structure span = heavy(1.0, 1.0);
        book_within(b, table[i].what, "", 1.0, 4, pull / tension_of(&span, 1.0 - length), table[i].n * table[i].n,
                    "parabola for catenary: the square of the sag ratio");
    }
}

static void tangent(book *b)
{
    static const struct {
        const char *what;
        double length_m, stress_pa, modulus_gpa;
    } table[] = {{"E 200 GPa, 78.5 kN/m3, 100 m at 200 MPa", 100.0, 200e6, 177.25},
                 {"  100 m at 400 MPa", 100.0, 400e6, 196.84},
                 {"  200 m at 400 MPa", 200.0, 400e6, 187.94}};
    static mech_run run;
    book_source(b, "Ernst 1965; EN 1993-1-11 5.4.2", QUOTED_WORKED);
    for (int i = 0; i < 3; i++) {
        mech_structure made = heavy(table[i].length_m, 78.5e3);
        made.strand.ea_n = 200e9; /* 1 m2, so that tension is stress */
        posts_build(&made, &run);
        double slope;
        (void)mech_row_take_up(&run, table[i].stress_pa, 0.0, &slope);
        book_half(b, table[i].what, "GPa", table[i].modulus_gpa, 2, run.length_m / slope * 1e-9);
    }
    static const struct {
        const char *what;
        double feet, ratio;
    } ours[] = {{"1/8 in 1x19 at 1 kN, bay of 4 ft: tangent over elastic", 4.0, 0.99998},
                {"  6 ft", 6.0, 0.99995},
                {"  20 ft", 20.0, 0.99947}};
    for (int i = 0; i < 3; i++) {
        mech_structure made = posts_strand(ours[i].feet * TR_FOOT_M);
        made.strand.mass_kg_m = 0.0475;
        posts_build(&made, &run);
        double slope;
        (void)mech_row_take_up(&run, 1000.0, 0.0, &slope);
        /* the table's unit weight is that of bare metal at 7.9 g/cm3, as is the mass here */
        book_within(b, ours[i].what, "", ours[i].ratio, 5, run.length_m / made.strand.ea_n / slope, 1e-5,
                    "last digit: mass and area are rounded");
    }
}

/* Load-change cubic of Irvine: the same cable under ten times its weight. */
static void load_change(book *b)
{
    mech_structure made = heavy(20.0, 100.0);
    made.strand.ea_n = 20e6;
    static mech_run run;
    posts_build(&made, &run);
    const double take_up = mech_row_take_up(&run, 50e3, 0.0, NULL);
    made.strand.mass_kg_m *= 10.0;
    const double after = tension_of(&made, take_up) * 1e-3;
    book_source(b, "Irvine 1981, ch. 3, cubic with Le = L", QUOTED_WORKED);
    book_half(b, "L 20 m, EA 20 MN, H 50 kN, weight 0.1 to 1.0 kN/m: H", "kN", 89.9055, 4, after);
    book_source(b, "Irvine 1981, ch. 3, cubic with the length of the curve", QUOTED_WORKED);
    book_within(b, "  the same, exact Le", "kN", 89.9013, 4, after, 0.009, "1e-4: the law takes Le for L");
}

static double warmed(mech_structure made, double expansion_1_k)
{
    made.strand.thermal_1_k = expansion_1_k;
    static mech_run run;
    posts_build(&made, &run);
    mech_rows rows = {.is_strung = {true}};
    TR_ASSERT(mech_run_pull(&run, &rows, 0, 1000.0).converged);
    made.warming_k = 30.0;
    posts_build(&made, &run);
    TR_ASSERT(mech_run_solve(&run, &rows).converged);
    return rows.tension_n[0] - 1000.0;
}

static void warmth(book *b)
{
    const mech_structure made = posts_strand(2.0);
    book_source(b, "Irvine 1981, ch. 3, limit of no weight; expansion EN 1993-1-11:2006 3.3(1)", FOUND_WORKED);
    book_half(b, "1/8 in 1x19 between rigid ends, 16e-6 /K, 30 K warmer", "N", -375.5, 1, warmed(made, 16e-6));
    book_source(b, "Irvine 1981, ch. 3; 17.3e-6 /K for type 304, ASM handbook", MEMORY_WORKED);
    book_half(b, "  17.3e-6 /K", "N", -406.0, 1, warmed(made, 17.3e-6));
    book_source(b, "mechanics: strand less wood along the grain", FOUND_WORKED);
    book_half(b, "  16e-6 less 4e-6 /K", "N", -281.6, 1, warmed(made, 12e-6));
    mech_structure soft = made;
    soft.post[MECH_NEAR] = posts_4x4().post[MECH_NEAR];
    static mech_run run;
    posts_build(&soft, &run);
    const double share = 1.0 + soft.strand.ea_n / 2.0 * run.flexibility[0][0];
    book_source(b, "mechanics: EA alpha dT/(1 + k f)", MEMORY_WORKED);
    book_within(b, "  on a 4x4 post that gives: change times (1 + k f)", "N", -375.47, 2, warmed(soft, 16e-6) * share,
                0.01, "closed form");
}

void section_row(book *b)
{
    book_section(b, "2. One row", "[test_solve](../tests/mech/test_solve.c)");
    book_words(b,
               "Bedding-in of new strand has no row here: no firm source for 1x19 strand was found, and its numbers in "
               "the catalogue are demo data.");
    sag(b);
    tangent(b);
    load_change(b);
    warmth(b);
}
