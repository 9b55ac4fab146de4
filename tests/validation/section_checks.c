/* Gauge, tone, the pushed string, the guard load, reference values and creep. */
#include "sections.h"

#include <math.h>

#include "posts.h"
#include "tautrow/mech/checks.h"

#define EA_N 782230.0 /* 1/8 in 1x19: 6.017 mm2 at 130 GPa, EN 1993-1-11:2006 Table 3.1 */

static void gauge(book *b)
{
    book_source(b, "statics: T = F L/4d", MEMORY_WORKED);
    book_half(b, "three-point gauge, 10 N on 0.3 m, 1.5 mm deep", "N", 500.0, 1, mech_gauge_tension(10.0, 0.3, 0.0015));
    book_source(b, "statics of the triangle: the short form is 2 d^2/L^2 low", MEMORY_WORKED);
    book_half(b, "  exact, in 1e-6 above the short form", "", 50.0, 1,
              (mech_gauge_tension_exact(10.0, 0.3, 0.0015) / 500.0 - 1.0) * 1e6);
    book_source(b, "NCC 2019 Table D2.16b, d = mgL/4T", MEMORY_WORKED);
    book_half(b, "2 kg hung on 1 m at 500 N, strand that does not stretch: sag", "mm", 9.8, 1,
              mech_string_deflection(500.0, 0.0, 1.0, 2.0 * TR_GRAVITY_M_S2) * 1e3);
}

static void tone(book *b)
{
    book_source(b, "Mersenne; Irvine 1981, ch. 4", QUOTED_WORKED);
    book_half(b, "string of 15 m, 80 kN, 3.4 kg/m", "Hz", 5.1131, 4, mech_tone_hz(80e3, 3.4, 15.0));
    book_source(b, "Mersenne; usual data of a 0.010 in guitar string", FOUND_WORKED);
    book_half(b, "0.65 m, 0.401 g/m sounding 329.63 Hz: tension", "N", 73.64, 2,
              mech_tone_tension(329.63, 0.401e-3, 0.65));
    static const struct {
        const char *what;
        double bay_in, hz;
    } table[] = {{"1/8 in 1x19 at 225 lbf, bay of 36 in", 36.0, 79.37},
                 {"  42 in", 42.0, 68.03},
                 {"  48 in", 48.0, 59.53},
                 {"  60 in", 60.0, 47.62}};
    book_source(b, "Mersenne, mass 0.0475 kg/m", FOUND_WORKED);
    for (int i = 0; i < 4; i++) {
        book_half(b, table[i].what, "Hz", table[i].hz, 2,
                  mech_tone_hz(225.0 * TR_LBF_N, 0.0475, table[i].bay_in * TR_INCH_M));
    }
    book_source(b, "equal temperament, ISO 16:1975; dT/T = 2 df/f", MEMORY_WORKED);
    const double up = mech_tone_tension(100.0 * pow(2.0, 1.0 / 12.0), 0.0475, 1.2);
    book_half(b, "a semitone higher: tension", "%", 12.2, 1,
              100.0 * (up / mech_tone_tension(100.0, 0.0475, 1.2) - 1.0));
    const double cents = mech_tone_tension(100.0 * pow(2.0, 1.0 / 120.0), 0.0475, 1.2);
    book_half(b, "ten cents higher: tension", "%", 1.16, 2,
              100.0 * (cents / mech_tone_tension(100.0, 0.0475, 1.2) - 1.0));
}

static void push(book *b)
{
    static const struct {
        const char *exact, *brief;
        double depth_mm, push_n, brief_n;
    } table[] = {{"1.2 m, 1 kN, 1/8 in 1x19, 5 mm deep", "  leading terms", 5.0, 17.119, 17.119},
                 {"  10 mm", "  leading terms", 10.0, 36.949, 36.955},
                 {"  20 mm", "  leading terms", 20.0, 95.577, 95.638},
                 {"  30 mm", "  leading terms", 30.0, 197.471, 197.779},
                 {"  50 mm", "  leading terms", 50.0, 616.426, 619.346}};
    for (int i = 0; i < 5; i++) {
        const double ours = mech_string_push(1000.0, EA_N, 1.2, table[i].depth_mm * 1e-3);
        book_source(b, "statics of the elastic triangle", MEMORY_WORKED);
        book_half(b, table[i].exact, "N", table[i].push_n, 3, ours);
        book_source(b, "large-deflection cable texts (Timoshenko, Irvine): 4 T d/l + 8 EA d^3/l^3", MEMORY_WORKED);
        book_within(b, table[i].brief, "N", table[i].brief_n, 3, ours, 0.001 + 0.005 * table[i].brief_n,
                    "0.5 %: terms left out");
    }
}

static void guard(book *b)
{
    mech_structure made = posts_strand(42.0 * TR_INCH_M);
    posts_even_rows(&made, 1, 36.0 * TR_INCH_M, 0.0);
    static mech_run run;
    posts_build(&made, &run);
    const mech_guard_asked asked = {200.0 * TR_LBF_N, 50.0 * TR_LBF_N, 12.0 * TR_INCH_M};
    mech_rows rows = {.is_strung = {true}, .tension_n = {225.0 * TR_LBF_N}};
    const mech_guard one = mech_run_guard(&run, &rows, &asked);
    book_source(b, "IRC Table R301.5, ASCE 7-16 4.5.1: 50 lbf; statics of the elastic triangle", FOUND_WORKED);
    book_half(b, "50 lbf on one row, 42 in, 225 lbf: pushed out by", "mm", 28.29, 2, one.row_sag_m * 1e3);
    book_half(b, "  its tension then", "lbf", 472.1, 1, one.row_tension_n / TR_LBF_N);
    book_source(b, "IRC Table R301.5, ASCE 7-16 4.5.1: 200 lbf", MEMORY_WORKED);
    book_half(b, "200 lbf at 36 in: moment at the post's foot", "lbf in", 7200.0, 1, one.post_moment_n_m / LBF_IN);
    posts_even_rows(&made, 12, 3.0 * TR_INCH_M, 3.0 * TR_INCH_M);
    posts_build(&made, &run);
    const mech_guard four = mech_run_guard(&run, &rows, &asked);
    book_source(b, "ASCE 7-16 4.5.1: 12 x 12 in", MEMORY_WORKED);
    book_half(b, "rows 3 in apart, four in the square: each", "lbf", 12.5, 2, four.row_push_n / TR_LBF_N);
}

static void reference_values(book *b)
{
    book_source(b, "NDS 2018 4.3; Fb 900 psi and CF 1.5 of NDS Supplement Table 4A", COPIED_WORKED);
    book_half(b, "Douglas fir-larch No. 2 4x4: Fb CF", "psi", 1350.0, 1,
              mech_bending_adjusted(900.0 * TR_PSI_PA, 1.5, 1.0, 1.0) / TR_PSI_PA);
    book_half(b, "  wet 0.85, standing pull 0.9", "psi", 1032.75, 2,
              mech_bending_adjusted(900.0 * TR_PSI_PA, 1.5, 0.85, 0.9) / TR_PSI_PA);
}

/* Final deflection over the instant one of a post under a standing pull, fixed at its foot. */
static double final_over_instant(double creep)
{
    static mech_run run;
    mech_structure made = posts_4x4();
    posts_even_rows(&made, 1, 1.0, 0.0);
    posts_build(&made, &run);
    const double instant = run.shape[MECH_NEAR][0][0];
    made.creep = creep;
    posts_build(&made, &run);
    return run.shape[MECH_NEAR][0][0] / instant;
}

static void creep(book *b)
{
    static const struct {
        const char *what;
        double k_def;
    } table[] = {{"service class 1: creep after 50 years", 0.60},
                 {"service class 2: creep after 50 years", 0.80},
                 {"service class 3: creep after 50 years", 2.00}};
    book_source(b, "EN 1995-1-1:2004, Table 3.2, solid timber", COPIED);
    for (int i = 0; i < 3; i++) {
        const double after = mech_creep(table[i].k_def, 0.2, 50.0 * 365.25);
        book_half(b, table[i].what, "", table[i].k_def, 2, after);
        book_half(b, "  final over instant deflection, 1 + k_def", "", 1.0 + table[i].k_def, 2,
                  final_over_instant(after));
    }
}

void section_checks(book *b)
{
    book_section(b, "9. Checks",
                 "[test_tone](../tests/mech/test_tone.c), [test_opening](../tests/mech/test_opening.c), "
                 "[test_guard](../tests/mech/test_guard.c)");
    book_words(
        b, "The opening rule has no row: no published figure was at hand, so its test uses a closed form of our own "
           "and the energy balance.");
    gauge(b);
    tone(b);
    push(b);
    guard(b);
    reference_values(b);
    book_section(b, "10. Time", "[test_guard](../tests/mech/test_guard.c)");
    book_words(b, "How creep grows before the 50 years are over is an assumption and has no row.");
    creep(b);
}
