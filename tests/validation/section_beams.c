/* Posts against beam tables. A post with a rail that does not give is a simple beam (base pinned) or a propped
 * cantilever (base fixed); without a rail it is a cantilever. Heights run from the base, so the pinned end of the
 * tables is the top here. */
#include "sections.h"

#include <math.h>

#include "posts.h"
#include "tautrow/mech/checks.h"

typedef enum beam { SIMPLE, PROPPED, FREE } beam;

/* What a beam under some load answers. */
typedef struct answer {
    double deflection_m; /* at the height watched */
    double rail_n, base_n_m, peak_n_m;
} answer;

static void hold(mech_structure *made, beam kind, double length_m)
{
    if (kind == FREE) {
        made->post[MECH_NEAR].base_n_m_rad = (double)INFINITY;
        made->rail.is_fitted = false;
    } else {
        posts_prop(made, length_m, kind == SIMPLE ? 0.0 : (double)INFINITY);
    }
}

static answer ask(const mech_structure *made, const double load_n[], int watch)
{
    static mech_run run;
    posts_build(made, &run);
    const mech_rows rows = posts_pulled(made->row_count, load_n);
    double deflection[MECH_MAX_ROWS + 1];
    mech_loads loads;
    mech_run_deflection(&run, &rows, MECH_NEAR, deflection);
    mech_run_loads(&run, &rows, &loads);
    return (answer){deflection[watch], loads.rail_n, loads.base_moment_n_m[MECH_NEAR],
                    loads.peak_moment_n_m[MECH_NEAR]};
}

/* One load, watched at its own height or at another one. */
static answer point(mech_structure made, beam kind, double length_m, double load_n, double at_m, double watch_m)
{
    const double low = fmin(at_m, watch_m);
    const double high = fmax(at_m, watch_m);
    const double heights[2] = {low, high};
    double loads[2] = {0.0, 0.0};
    posts_rows(&made, high > low ? 2 : 1, heights);
    hold(&made, kind, length_m);
    loads[at_m > low] = load_n;
    return ask(&made, loads, watch_m > low);
}

/* An even load as count rows in the middles of as many equal parts, and an idle row at the height watched. */
static answer even_parts(mech_structure made, beam kind, double length_m, double load_n_m, double watch_m, int count)
{
    double heights[MECH_MAX_ROWS];
    double loads[MECH_MAX_ROWS];
    int rows = 0;
    int watch = -1;
    for (int part = 0; part < count; part++) {
        const double middle = length_m * (part + 0.5) / count;
        const bool is_here = fabs(middle - watch_m) < 1e-9;
        if (watch < 0 && (is_here || middle > watch_m)) {
            watch = rows;
            if (!is_here) {
                heights[rows] = watch_m;
                loads[rows++] = 0.0;
            }
        }
        heights[rows] = middle;
        loads[rows++] = load_n_m * length_m / count;
    }
    if (watch < 0) {
        watch = rows;
        heights[rows] = watch_m;
        loads[rows++] = 0.0;
    }
    posts_rows(&made, rows, heights);
    hold(&made, kind, length_m);
    return ask(&made, loads, watch);
}

/* Point loads for an even one err by the square of their spacing; two spacings, one a third of the other, cancel it. */
static double cancel(double fine, double coarse)
{
    return (9.0 * fine - coarse) / 8.0;
}

static answer even(mech_structure made, beam kind, double length_m, double load_n_m, double watch_m)
{
    const answer fine = even_parts(made, kind, length_m, load_n_m, watch_m, 39);
    const answer coarse = even_parts(made, kind, length_m, load_n_m, watch_m, 13);
    return (answer){cancel(fine.deflection_m, coarse.deflection_m), cancel(fine.rail_n, coarse.rail_n),
                    cancel(fine.base_n_m, coarse.base_n_m), cancel(fine.peak_n_m, coarse.peak_n_m)};
}

/* ---- unit beams: EI 1, L 10, P 1 or w 1 ---- */

static void simple_cases(book *b)
{
    const mech_structure unit = posts_unit();
    book_source(b, "AISC Manual, Table 3-23 case 7; Roark Table 8.1 case 1e", MEMORY_WORKED);
    const answer centre = point(unit, SIMPLE, 10.0, 1.0, 5.0, 5.0);
    book_half(b, "simple beam, P 1 at the centre, L 10: deflection times EI", "", 20.8333, 4, centre.deflection_m);
    book_half(b, "  moment PL/4", "", 2.5, 4, -centre.peak_n_m);
    book_source(b, "AISC Manual, Table 3-23 case 1", COPIED_WORKED);
    const answer spread = even(unit, SIMPLE, 10.0, 1.0, 5.0);
    book_half(b, "simple beam, w 1, L 10: deflection times EI, 5wL^4/384", "", 130.208, 3, spread.deflection_m);
    book_half(b, "  moment wL^2/8", "", 12.5, 4, -spread.peak_n_m);
}

static void propped_cases(book *b)
{
    const mech_structure unit = posts_unit();
    book_source(b, "AISC Manual, Table 3-23 case 14, as a set of worked beams prints it", COPIED);
    const answer at3 = point(unit, PROPPED, 10.0, 1.0, 7.0, 7.0);
    book_half(b, "propped cantilever, P 1 at 3 of 10 from the pin: fixed moment", "", 1.365, 3, at3.base_n_m);
    book_source(b, "AISC Manual, Table 3-23 case 14; Roark Table 8.1 case 1c", MEMORY_WORKED);
    book_half(b, "  reaction at the pin", "", 0.5635, 4, at3.rail_n);
    book_half(b, "  moment at the load", "", 1.6905, 4, at3.rail_n * 3.0);
    book_half(b, "  deflection at the load, times EI", "", 8.48925, 5, at3.deflection_m);
    const double most = 10.0 * 109.0 / 291.0; /* L (L2 + a2)/(3 L2 - a2) from the pin */
    book_half(b, "  largest deflection, times EI, where the table puts it", "", 8.89894, 5,
              point(unit, PROPPED, 10.0, 1.0, 7.0, 10.0 - most).deflection_m);
    book_source(b, "AISC Manual, Table 3-23 case 13, as a set of worked beams prints it", COPIED);
    const answer centre = point(unit, PROPPED, 10.0, 1.0, 5.0, 5.0);
    book_half(b, "propped cantilever, P 1 at the centre, L 10: fixed moment", "", 1.875, 3, centre.base_n_m);
    book_source(b, "AISC Manual, Table 3-23 case 13", COPIED_WORKED);
    book_half(b, "  reaction at the pin, 5P/16", "", 0.3125, 4, centre.rail_n);
    book_half(b, "  deflection at the load, times EI, 7PL^3/768", "", 9.1146, 4, centre.deflection_m);
    book_half(b, "  largest deflection, times EI, at L/sqrt 5", "", 9.317, 3,
              point(unit, PROPPED, 10.0, 1.0, 5.0, 10.0 - 10.0 / sqrt(5.0)).deflection_m);
    book_source(b, "AISC Manual, Table 3-23 case 12, as a set of worked beams prints it", COPIED);
    const answer spread = even(unit, PROPPED, 10.0, 1.0, 10.0 - 4.2154);
    book_within(b, "propped cantilever, w 1, L 10: fixed moment", "", 12.5, 1, spread.base_n_m, 0.0005,
                "rows for an even load");
    book_source(b, "AISC Manual, Table 3-23 case 12", COPIED_WORKED);
    book_within(b, "  reaction at the pin, 3wL/8", "", 3.75, 2, spread.rail_n, 0.0005, "rows for an even load");
    book_within(b, "  largest deflection, times EI, wL^4/184.64", "", 54.159, 3, spread.deflection_m, 0.005,
                "rows for an even load");
}

static void free_cases(book *b)
{
    const mech_structure unit = posts_unit();
    book_source(b, "AISC Manual, Table 3-23 case 22; Wood Handbook Table 9-1; Roark Table 8.1 case 1a", COPIED_WORKED);
    const answer tip = point(unit, FREE, 10.0, 1.0, 10.0, 10.0);
    book_half(b, "cantilever, P 1 at the tip, L 10: deflection times EI, PL^3/3", "", 333.3333, 4, tip.deflection_m);
    book_half(b, "  moment PL", "", 10.0, 4, tip.base_n_m);
    book_source(b, "AISC Manual, Table 3-23 case 21", MEMORY_WORKED);
    book_half(b, "cantilever, P 1 at 6 of 10: deflection at the load, times EI", "", 72.0, 4,
              point(unit, FREE, 10.0, 1.0, 6.0, 6.0).deflection_m);
    book_half(b, "  at the tip", "", 144.0, 4, point(unit, FREE, 10.0, 1.0, 6.0, 10.0).deflection_m);
    book_source(b, "AISC Manual, Table 3-23 case 19; Wood Handbook Table 9-1", COPIED_WORKED);
    const answer spread = even(unit, FREE, 10.0, 1.0, 10.0);
    book_within(b, "cantilever, w 1, L 10: deflection of the tip times EI, wL^4/8", "", 1250.0, 1, spread.deflection_m,
                0.005, "rows for an even load");
    book_half(b, "  moment wL^2/2", "", 50.0, 3, spread.base_n_m);
}

/* ---- a 4x4 post in pounds and inches ---- */

static double inches(double metres)
{
    return metres / TR_INCH_M;
}

/* Bending stress in the post at its largest moment, through the utilisation that the program shows. */
static double stress_psi(const mech_structure *made, const double load_n[])
{
    static mech_run run;
    posts_build(made, &run);
    const mech_rows rows = posts_pulled(made->row_count, load_n);
    mech_loads loads;
    mech_run_loads(&run, &rows, &loads);
    const mech_post_limits limit = {TR_PSI_PA, (double)INFINITY, (double)INFINITY};
    const mech_post_limits limits[MECH_ENDS] = {limit, limit};
    return mech_post_utilisation(&run, &loads, limits).bending[MECH_NEAR];
}

static void sections_of_posts(book *b)
{
    static const struct {
        const char *name;
        double side_in, inertia, modulus;
    } table[] = {{"4x4", 3.5, 12.505, 7.146}, {"6x6", 5.5, 76.255, 27.729}};
    book_source(b, "NDS Supplement, Table 1B", FOUND_WORKED);
    for (int i = 0; i < 2; i++) {
        mech_structure made = posts_square(table[i].side_in * TR_INCH_M, 1.0);
        posts_even_rows(&made, 1, 1.0, 0.0);
        const double load = 1.0;
        const answer tip = ask(&made, &load, 0);
        const double inertia_m4 = 1.0 / (3.0 * tip.deflection_m);
        const double modulus_m3 = tip.base_n_m / (stress_psi(&made, &load) * TR_PSI_PA);
        const char *const what[2][2] = {{"4x4: I from the deflection of a post", "4x4: S from the stress shown"},
                                        {"6x6: I from the deflection of a post", "6x6: S from the stress shown"}};
        book_half(b, what[i][0], "in4", table[i].inertia, 3, inertia_m4 / pow(TR_INCH_M, 4));
        book_half(b, what[i][1], "in3", table[i].modulus, 3, modulus_m3 / pow(TR_INCH_M, 3));
    }
}

static void cantilever_4x4(book *b)
{
    const mech_structure post = posts_4x4();
    const double lbf = TR_LBF_N;
    const double in = TR_INCH_M;
    mech_structure made = post;
    posts_even_rows(&made, 1, 36.0 * in, 0.0);
    const double load = 200.0 * lbf;
    const answer tip = ask(&made, &load, 0);
    book_source(b, "AISC Manual, Table 3-23 case 22; section of NDS Supplement Table 1B", FOUND_WORKED);
    book_half(b, "4x4 of E 1.6e6 psi, 200 lbf at 36 in: bending", "in", 0.15546, 5, inches(tip.deflection_m));
    book_half(b, "  base moment", "lbf in", 7200.0, 1, tip.base_n_m / LBF_IN);
    book_half(b, "  bending stress", "psi", 1007.6, 1, stress_psi(&made, &load));
    made.post[MECH_NEAR].shear_pa = made.post[MECH_NEAR].elastic_pa / 16.0;
    book_source(b, "Wood Handbook, FPL-GTR-282, eq. 9-2", COPIED_WORKED);
    book_half(b, "  shear at G = E/16 adds", "in", 0.00705, 5,
              inches(ask(&made, &load, 0).deflection_m - tip.deflection_m));
    book_source(b, "AISC Manual, Table 3-23 case 21", MEMORY_WORKED);
    book_half(b, "  200 lbf at 24 of 36 in: there", "in", 0.04606, 5,
              inches(point(post, FREE, 36.0 * in, load, 24.0 * in, 24.0 * in).deflection_m));
    book_half(b, "  at the tip", "in", 0.08061, 5,
              inches(point(post, FREE, 36.0 * in, load, 24.0 * in, 36.0 * in).deflection_m));
    book_source(b, "AISC Manual, Table 3-23 case 19", COPIED_WORKED);
    book_half(b, "  10 lbf/in over 36 in: tip", "in", 0.10493, 5,
              inches(even(post, FREE, 36.0 * in, 10.0 * lbf / in, 36.0 * in).deflection_m));
    book_half(b, "  at half height", "in", 0.03716, 5,
              inches(even(post, FREE, 36.0 * in, 10.0 * lbf / in, 18.0 * in).deflection_m));
}

static void supported_4x4(book *b)
{
    const mech_structure post = posts_4x4();
    const double load = 250.0 * TR_LBF_N;
    const double in = TR_INCH_M;
    book_source(b, "AISC Manual, Table 3-23 case 8", COPIED_WORKED);
    book_half(b, "4x4 simple on 39 in, 250 lbf at 12 in: under the load", "in", 0.011211, 6,
              inches(point(post, SIMPLE, 39.0 * in, load, 12.0 * in, 12.0 * in).deflection_m));
    book_half(b, "  at mid-span", "in", 0.012454, 6,
              inches(point(post, SIMPLE, 39.0 * in, load, 12.0 * in, 19.5 * in).deflection_m));
    static const struct {
        const char *what;
        double from_pin, rail_lbf, fixed_lbf_in, deflection_in;
    } table[] = {{"4x4 propped on 39 in, 250 lbf at 12 in from the pin: pin", 12.0, 138.257, 1358.0, 0.006418},
                 {"  at 19.5 in: pin", 19.5, 78.125, 1828.1, 0.006756},
                 {"  at 30 in: pin", 30.0, 18.434, 1531.1, 0.001693}};
    book_source(b, "AISC Manual, Table 3-23 cases 13 and 14", COPIED_WORKED);
    for (int i = 0; i < 3; i++) {
        const double at = (39.0 - table[i].from_pin) * in;
        const answer a = point(post, PROPPED, 39.0 * in, load, at, at);
        book_half(b, table[i].what, "lbf", table[i].rail_lbf, 3, a.rail_n / TR_LBF_N);
        book_half(b, "  fixed moment", "lbf in", table[i].fixed_lbf_in, 1, a.base_n_m / LBF_IN);
        book_half(b, "  deflection at the load", "in", table[i].deflection_in, 6, inches(a.deflection_m));
    }
}

/* Twelve rows 3 to 36 in up; the seventh of thirteen is an idle one at mid-height. */
static void twelve_rows(book *b)
{
    mech_structure made = posts_4x4();
    double heights[13];
    double loads[13];
    for (int row = 0; row < 13; row++) {
        heights[row] = (row < 6 ? 3.0 * (row + 1) : row > 6 ? 3.0 * row : 19.5) * TR_INCH_M;
        loads[row] = row == 6 ? 0.0 : 225.0 * TR_LBF_N;
    }
    posts_rows(&made, 13, heights);
    posts_prop(&made, 39.0 * TR_INCH_M, 0.0);
    const answer simple = ask(&made, loads, 6);
    book_source(b, "AISC Manual, Table 3-23 case 8, added up", COPIED_WORKED);
    book_half(b, "4x4 simple on 39 in, 12 rows of 225 lbf: mid-height", "in", 0.11238, 5, inches(simple.deflection_m));
    book_half(b, "  moment", "lbf in", 14175.0, 0, -simple.peak_n_m / LBF_IN);
    book_half(b, "  bending stress", "psi", 1984.0, 0, stress_psi(&made, loads));
    posts_prop(&made, 39.0 * TR_INCH_M, (double)INFINITY);
    made.rail.joint_n_m[MECH_NEAR] = 0.0; /* a rail that holds nothing, so that its height is watched */
    const answer loose = ask(&made, loads, 13);
    book_source(b, "AISC Manual, Table 3-23 case 21, added up", MEMORY_WORKED);
    book_half(b, "  the same without a rail: at 39 in", "in", 0.97494, 5, inches(loose.deflection_m));
    book_half(b, "  moment", "lbf in", 52650.0, 0, loose.base_n_m / LBF_IN);
    book_half(b, "  bending stress", "psi", 7368.0, 0, stress_psi(&made, loads));
}

/* ---- shear ---- */

/* Constants of bending and shear, W the whole load: delta = kb W L^3/EI + ks W L/(G A'). */
static void handbook_constants(book *b)
{
    static const struct {
        const char *bending, *shear;
        beam kind;
        bool is_even;
        double kb, ks;
    } table[] = {
        {"simple, even load: kb = 5/384", "  ks = 1/8", SIMPLE, true, 5.0 / 384.0, 0.125},
        {"simple, load at the centre: kb = 1/48", "  ks = 1/4", SIMPLE, false, 1.0 / 48.0, 0.25},
        {"cantilever, even load: kb = 1/8", "  ks = 1/2", FREE, true, 0.125, 0.5},
        {"cantilever, load at the tip: kb = 1/3", "  ks = 1", FREE, false, 1.0 / 3.0, 1.0},
    };
    book_source(b, "Wood Handbook, FPL-GTR-282, eq. 9-2 and Table 9-1", COPIED);
    for (int i = 0; i < 4; i++) {
        const double length = 2.0;
        const double watch = table[i].kind == SIMPLE ? 1.0 : 2.0;
        mech_structure made = posts_square(0.1, 10e9);
        double deflection[2];
        for (int soft = 0; soft < 2; soft++) {
            made.post[MECH_NEAR].shear_pa = soft ? 0.6e9 : (double)INFINITY;
            deflection[soft] = table[i].is_even ? even(made, table[i].kind, length, 1.0 / length, watch).deflection_m
                                                : point(made, table[i].kind, length, 1.0, watch, watch).deflection_m;
        }
        const double bending = deflection[0] * 10e9 * 1e-4 / 12.0 / (length * length * length);
        const double shear = (deflection[1] - deflection[0]) * 0.6e9 * (5.0 / 6.0) * 0.01 / length;
        book_half(b, table[i].bending, "", table[i].kb, 6, bending);
        book_half(b, table[i].shear, "", table[i].ks, 6, shear);
    }
}

static void shear_shares(book *b)
{
    mech_structure made = posts_4x4();
    const double length = 39.0 * TR_INCH_M;
    const double stiff[2] = {point(made, SIMPLE, length, 1.0, length / 2.0, length / 2.0).deflection_m,
                             point(made, FREE, length, 1.0, length, length).deflection_m};
    made.post[MECH_NEAR].shear_pa = made.post[MECH_NEAR].elastic_pa / 16.0;
    const double whole[2] = {point(made, SIMPLE, length, 1.0, length / 2.0, length / 2.0).deflection_m,
                             point(made, FREE, length, 1.0, length, length).deflection_m};
    book_source(b, "Wood Handbook, FPL-GTR-282, eq. 9-2", COPIED_WORKED);
    book_half(b, "4x4 on 39 in, G = E/16, load at the centre: shear over bending", "", 0.1546, 4,
              whole[0] / stiff[0] - 1.0);
    book_half(b, "  as a cantilever", "", 0.0387, 4, whole[1] / stiff[1] - 1.0);
}

static void joist(book *b)
{
    mech_structure made = posts_square(0.2, 11e9);
    made.post[MECH_NEAR].breadth_m = 0.075;
    const double stiff = even(made, SIMPLE, 4.5, 750.0, 2.25).deflection_m;
    made.post[MECH_NEAR].shear_pa = 0.69e9;
    const double whole = even(made, SIMPLE, 4.5, 750.0, 2.25).deflection_m;
    book_source(b, "Benoit, Legrand, Tastet, Calcul de structures en bois (2008), Example 2.3.1", COPIED);
    book_half(b, "C24 joist 75 x 200 mm, 4.5 m, 0.75 kN/m: whole deflection", "mm", 7.501, 3, whole * 1e3);
    book_half(b, "  bending", "mm", 7.2809, 4, stiff * 1e3);
    book_half(b, "  shear", "mm", 0.2201, 4, (whole - stiff) * 1e3);
}

void section_beams(book *b)
{
    book_section(b, "1. The structure", "[test_run](../tests/mech/test_run.c)");
    book_words(b, "Beam tables in units of EI, then a 4x4 post in pounds and inches, then shear. Tables have "
                  "even loads; the program has rows, so an even load is 39 rows and 13 rows whose error cancels. The "
                  "fixed-fixed cases of the tables cannot occur: a rail does not hold a post against turning.");
    simple_cases(b);
    propped_cases(b);
    free_cases(b);
    sections_of_posts(b);
    cantilever_4x4(b);
    supported_4x4(b);
    twelve_rows(b);
    handbook_constants(b);
    shear_shares(b);
    joist(b);
}
