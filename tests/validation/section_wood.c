/* What holds an insert in wood, and the length of a cable that is cut under a pull. */
#include "sections.h"

#include <math.h>

#include "posts.h"
#include "tautrow/base/text.h"
#include "tautrow/mech/fittings.h"

#define LBF_PER_IN (TR_LBF_N / TR_INCH_M)

static void withdrawal_table(book *b)
{
    static const double diameter_in[9] = {0.25, 0.3125, 0.375, 0.4375, 0.5, 0.625, 0.75, 0.875, 1.0};
    static const struct {
        double gravity, w[9];
    } row[] = {
        {0.35, {132, 156, 179, 200, 222, 262, 300, 337, 373}},  {0.36, {137, 163, 186, 209, 231, 273, 313, 352, 389}},
        {0.37, {143, 169, 194, 218, 241, 285, 326, 367, 405}},  {0.42, {173, 205, 235, 264, 291, 344, 395, 443, 490}},
        {0.43, {179, 212, 243, 273, 302, 357, 409, 459, 508}},  {0.46, {199, 235, 269, 302, 334, 395, 453, 508, 562}},
        {0.47, {205, 242, 278, 312, 345, 408, 467, 525, 580}},  {0.49, {218, 258, 296, 332, 367, 434, 498, 559, 617}},
        {0.50, {225, 266, 305, 342, 378, 447, 513, 576, 636}},  {0.55, {260, 307, 352, 395, 437, 516, 592, 664, 734}},
        {0.58, {281, 332, 381, 428, 473, 559, 641, 719, 795}},  {0.67, {349, 413, 473, 531, 587, 694, 796, 893, 987}},
        {0.68, {357, 422, 484, 543, 600, 709, 813, 913, 1009}}, {0.73, {397, 469, 538, 604, 668, 789, 905, 1016, 1123}},
    };
    book_words(b,
               "Withdrawal of lag screws, lbf per inch of thread, by gravity and diameter in inches: NDS 2018 Table "
               "12.2A. The formula (eq. 12.2-1) is found, the values are it, rounded; the rows 0.36, 0.42, 0.43, 0.50, "
               "0.55, 0.67 and 0.73 of the printed table were also remembered and agree. Published / ours; tolerance "
               "half of the last digit.");
    book_grid(b, "G | 1/4 | 5/16 | 3/8 | 7/16 | 1/2 | 5/8 | 3/4 | 7/8 | 1");
    book_source(b, "NDS 2018, Table 12.2A", FOUND_WORKED);
    for (size_t g = 0; g < sizeof row / sizeof row[0]; g++) {
        char head[16];
        (void)tr_format(head, sizeof head, "%.2f", row[g].gravity);
        book_grid_line(b, head);
        for (int d = 0; d < 9; d++) {
            const double ours = mech_withdrawal_design(row[g].gravity, diameter_in[d] * TR_INCH_M) / LBF_PER_IN;
            book_grid_cell(b, row[g].w[d], 0, ours, 0.5);
        }
    }
    book_grid_end(b);
}

static void lag_examples(book *b)
{
    const double w = mech_withdrawal_design(0.55, 0.5 * TR_INCH_M);
    book_source(b, "AWC, Structural Wood Design Solved Example Problems, E2.3", COPIED);
    book_half(b, "1/2 in lag, southern pine, 2.1875 in of thread", "N", 4247.94, 2, w * 2.1875 * TR_INCH_M);
    book_half(b, "  an inch of thread", "lbf", 436.6, 1, w / LBF_PER_IN);
    book_source(b, "NDS 2018 eq. 12.2-1 in SI", FOUND_WORKED);
    book_half(b, "  a mm of thread", "N", 76.45, 2, w * 1e-3);
    const double shape = pow(0.5, 1.5) * pow(10.0, 0.75);
    book_half(b, "constant of the design value, N/mm with D in mm", "", 27.861, 3,
              mech_withdrawal_design(0.5, 0.010) * 1e-3 / shape);
    book_source(b, "Wood Handbook, FPL-GTR-282, eq. 8-14", QUOTED);
    book_half(b, "constant of the ultimate value, N/mm with D in mm", "", 125.4, 1,
              mech_withdrawal_ultimate(0.5, 0.010) * 1e-3 / shape);
    book_half(b, "ultimate over design, 8100/1800", "", 4.5, 4,
              mech_withdrawal_ultimate(0.4, 0.01) / mech_withdrawal_design(0.4, 0.01));
}

static void factors(book *b)
{
    const mech_insert lag = {.major_m = 0.25 * TR_INCH_M, .minor_m = 0.173 * TR_INCH_M, .length_m = 1.5 * TR_INCH_M};
    const mech_hole hole = {.diameter_m = 0.15 * TR_INCH_M, .depth_m = 2.0 * TR_INCH_M};
    const mech_seat flush = {.proud_m = 0.0};
    static const struct {
        const char *what, *source, *standing;
        double duration, wet, lbf;
    } table[] = {{"1/4 in thread, redcedar, 1.5 in", "NDS 2018 eq. 12.2-1", FOUND_WORKED, 1.0, 1.0, 206.2},
                 {"  standing pull, 0.9", "NDS 2018 Table 2.3.2", COPIED_WORKED, 0.9, 1.0, 185.6},
                 {"  and wet, 0.7", "NDS 2018 Table 11.3.3", MEMORY_WORKED, 0.9, 0.7, 129.9}};
    for (int i = 0; i < 3; i++) {
        const mech_wood cedar = {.gravity = 0.36, .wet_factor = table[i].wet, .duration_factor = table[i].duration};
        book_source(b, table[i].source, table[i].standing);
        book_half(b, table[i].what, "lbf", table[i].lbf, 1,
                  mech_insert_grip(&lag, &hole, &flush, &cedar, 0.04445).design_n / TR_LBF_N);
    }
}

/* A cable marked under 25 N instead of 90 N: catenary of two bays of 3 m and its stretch. */
static void cut_length(book *b)
{
    mech_structure made = posts_strand(3.0);
    made.strand.mass_kg_m = 0.0475;
    made.bay_count = 2;
    made.bay_m[1] = 3.0;
    static mech_run run;
    posts_build(&made, &run);
    static const double pull[2] = {25.0, 90.0};
    double unstressed[2];
    for (int i = 0; i < 2; i++) {
        const double a = pull[i] / (0.0475 * TR_GRAVITY_M_S2);
        unstressed[i] = 4.0 * a * sinh(3.0 / (2.0 * a)) - pull[i] * 6.0 / made.strand.ea_n;
    }
    const double error = unstressed[0] - unstressed[1];
    book_source(b, "Irvine 1981, ch. 1: arc 2a sinh(L/2a); Hooke's law", MECHANICS_WORKED);
    book_within(b, "1/8 in 1x19, two bays of 3 m, marked under 25 N for 90 N: longer by", "mm", error * 1e3, 4,
                mech_cut_pull_error(&run, pull[0], pull[1]) * 1e3, 1e-3 * error * 1e3, "0.1 %: parabola for catenary");
}

void section_wood(book *b)
{
    book_section(b, "6. Hole and insert", "[test_insert](../tests/mech/test_insert.c)");
    book_words(
        b, "No published value exists for wood inserts; the program uses the lag-screw equation as an estimate. Bite, "
           "split index and driving torque are assumptions and have no row here.");
    withdrawal_table(b);
    lag_examples(b);
    factors(b);
    book_section(b, "7. Crimp", "[test_crimp](../tests/mech/test_crimp.c)");
    book_words(
        b, "No published strength exists for hand crimps, so there is nothing to check against; only the direction in "
           "which each slip-up works is tested.");
    book_section(b, "8. Cut", "[test_cut](../tests/mech/test_cut.c)");
    cut_length(b);
}
