/* Writing quantities. Every text here reads back by tr_quantity_parse to within its rounding.
 *
 * The decimal sign is a point and the minus sign is U+2212 in every language, and no locale has a say: sheets are
 * compared across crews, and a comma would make "1,250 lbf" mean two things. No separators of thousands for the same
 * reason.
 *
 * tr_quantity_unit is the usual unit of a dimension. tr_quantity_text leaves it where another reads better: lengths
 * from 10 ft up in feet and inches and from 10 m up in metres, forces under 0.1 kN in newtons, large stresses in ksi or
 * GPa, times in minutes and hours. */
#include "tautrow/base/units.h"

#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"

#include <math.h>
#include <string.h>

#define MINUS   "\xE2\x88\x92" /* U+2212 */
#define EN_DASH "\xE2\x80\x93" /* U+2013 */
#define DEGREE  "\xC2\xB0"
#define DOT     "\xC2\xB7"
#define SQUARED "\xC2\xB2"

#define LBF_IN_N_M   (TR_LBF_N * TR_INCH_M)
#define LBF_IN2_N_M2 (TR_LBF_N * TR_INCH_M * TR_INCH_M)

enum { NUMBER_CAP = 48, MAX_DECIMALS = 6 };

/* How a dimension is shown in one system: number = si / factor - offset, with so many decimals when plain, one more
 * when fine. */
typedef struct shown {
    const char *unit;
    double factor;
    double offset;
    int decimals;
    bool is_trimmed; /* without the zeros at its end: "3 turns", not "3.00 turns" */
    bool is_closed;  /* no space before the unit */
} shown;

static const shown SHOWN[TR_DIM_COUNT][2] = {
    [TR_DIM_LENGTH] = {{"in", TR_INCH_M, 0, 2, false, false}, {"mm", 0.001, 0, 0, false, false}},
    [TR_DIM_FORCE] = {{"lbf", TR_LBF_N, 0, 0, false, false}, {"kN", 1000, 0, 2, false, false}},
    [TR_DIM_STRESS] = {{"psi", TR_PSI_PA, 0, 0, false, false}, {"MPa", 1e6, 0, 1, false, false}},
    [TR_DIM_MOMENT] = {{"lbf" DOT "in", LBF_IN_N_M, 0, 0, false, false}, {"N" DOT "m", 1, 0, 1, false, false}},
    [TR_DIM_STIFFNESS] = {{"lbf/in", TR_LBF_N / TR_INCH_M, 0, 0, false, false}, {"N/mm", 1000, 0, 1, false, false}},
    [TR_DIM_ROTATION] = {{"lbf" DOT "in/rad", LBF_IN_N_M, 0, 0, false, false},
                         {"kN" DOT "m/rad", 1000, 0, 2, false, false}},
    [TR_DIM_LINE_MASS] = {{"lb/100ft", 0.45359237 / (100 * TR_FOOT_M), 0, 1, false, false},
                          {"g/m", 0.001, 0, 1, false, false}},
    [TR_DIM_TORSION] = {{"lbf" DOT "in" SQUARED, LBF_IN2_N_M2, 0, 1, false, false},
                        {"N" DOT "m" SQUARED, 1, 0, 3, false, false}},
    [TR_DIM_ANGLE] = {{DEGREE, TR_PI / 180, 0, 1, true, true}, {DEGREE, TR_PI / 180, 0, 1, true, true}},
    [TR_DIM_TURNS] = {{"turns", 1, 0, 2, true, false}, {"turns", 1, 0, 2, true, false}},
    [TR_DIM_SPEED] = {{"rpm", 1, 0, 0, false, false}, {"rpm", 1, 0, 0, false, false}},
    [TR_DIM_TEMPERATURE] = {{DEGREE "F", 1 / 1.8, 459.67, 0, false, false}, {DEGREE "C", 1, 273.15, 0, false, false}},
    [TR_DIM_EXPANSION] = {{"/" DEGREE "F", 1.8, 0, 1, false, false}, {"/K", 1, 0, 1, false, false}},
    [TR_DIM_TIME] = {{"s", 1, 0, 0, false, false}, {"s", 1, 0, 0, false, false}},
    [TR_DIM_DAYS] = {{"days", 1, 0, 1, true, false}, {"days", 1, 0, 1, true, false}},
    [TR_DIM_RATIO] = {{"%", 0.01, 0, 0, false, false}, {"%", 0.01, 0, 0, false, false}},
    [TR_DIM_FREQUENCY] = {{"Hz", 1, 0, 1, false, false}, {"Hz", 1, 0, 1, false, false}},
};

static const shown METRES = {"m", 1, 0, 2, false, false};
static const shown NEWTONS = {"N", 1, 0, 0, false, false};
static const shown KSI = {"ksi", 1000 * TR_PSI_PA, 0, 0, false, false};
static const shown GPA = {"GPa", 1e9, 0, 2, false, false};

static const shown *shown_of(tr_dim dim, tr_system system)
{
    TR_ASSERT(dim >= 0 && dim < TR_DIM_COUNT);
    return &SHOWN[dim][system == TR_SI ? 1 : 0];
}

double tr_quantity_number(double si, tr_dim dim, tr_system system)
{
    const shown *const how = shown_of(dim, system);
    return si / how->factor - how->offset;
}

const char *tr_quantity_unit(tr_dim dim, tr_system system)
{
    return shown_of(dim, system)->unit;
}

/* Writes |value| with so many decimals and a point, and its sign unless it rounds to zero. */
static void number_text(double value, int decimals, bool is_trimmed, char out[NUMBER_CAP])
{
    TR_ASSERT(decimals >= 0 && decimals <= MAX_DECIMALS);
    double scale = 1.0;
    for (int i = 0; i < decimals; i++) {
        scale *= 10.0;
    }
    const double steps = round(fabs(value) * scale);
    if (steps >= 1e15) { /* beyond what a double holds digit by digit */
        char bare[NUMBER_CAP];
        tr_double_text(fabs(value), bare, sizeof bare);
        tr_format(out, NUMBER_CAP, "%s%s", value < 0 ? MINUS : "", bare);
        return;
    }
    const long long all = (long long)steps;
    const long long whole = all / (long long)scale;
    const long long part = all % (long long)scale;
    tr_format(out, NUMBER_CAP, "%s%lld", value < 0 && all > 0 ? MINUS : "", whole);
    if (decimals == 0 || (is_trimmed && part == 0)) {
        return;
    }
    tr_append(out, NUMBER_CAP, ".%0*lld", decimals, part);
    size_t length = strlen(out);
    while (is_trimmed && out[length - 1] == '0') {
        out[--length] = '\0';
    }
}

static void plain_text(double si, const shown *how, tr_style style, char *out, size_t cap)
{
    char number[NUMBER_CAP];
    number_text(si / how->factor - how->offset, how->decimals + (style == TR_FINE ? 1 : 0), how->is_trimmed, number);
    tr_format(out, cap, "%s%s%s", number, how->is_closed ? "" : " ", how->unit);
}

/* Appends whole inches and a reduced fraction: "3 1/2 in", "3/16 in", "0 in". */
static void append_inches(long long steps, int per_inch, char *out, size_t cap)
{
    const long long whole = steps / per_inch;
    long long over = steps % per_inch;
    long long under = per_inch;
    while (over > 0 && over % 2 == 0) {
        over /= 2;
        under /= 2;
    }
    if (over == 0) {
        tr_append(out, cap, "%lld in", whole);
    } else if (whole == 0) {
        tr_append(out, cap, "%lld/%lld in", over, under);
    } else {
        tr_append(out, cap, "%lld %lld/%lld in", whole, over, under);
    }
}

/* As a carpenter reads a tape: inches and fractions, from 10 ft up with the feet named. */
static void us_length_text(double si, tr_style style, char *out, size_t cap)
{
    enum { TEN_FEET_IN = 120 };
    const int per_inch = style == TR_FINE ? 64 : 16;
    const double exact = round(fabs(si) / TR_INCH_M * per_inch);
    if (exact >= 1e15) {
        plain_text(si, shown_of(TR_DIM_LENGTH, TR_US), style, out, cap);
        return;
    }
    long long steps = (long long)exact;
    tr_copy(out, cap, si < 0 && steps > 0 ? MINUS : "");
    if (steps >= (long long)TEN_FEET_IN * per_inch) {
        const long long per_foot = 12LL * per_inch;
        tr_append(out, cap, "%lld ft", steps / per_foot);
        steps %= per_foot;
        if (steps == 0) {
            return;
        }
        tr_append(out, cap, " ");
    }
    append_inches(steps, per_inch, out, cap);
}

/* A tape shows whole millimetres; what is measured with a calliper gets a decimal. */
static void si_length_text(double si, tr_style style, char *out, size_t cap)
{
    const double mm = fabs(si) * 1000.0;
    if (mm >= 9999.5) {
        plain_text(si, &METRES, style, out, cap);
        return;
    }
    shown how = *shown_of(TR_DIM_LENGTH, TR_SI);
    how.decimals = mm < 99.95 ? 1 : 0;
    plain_text(si, &how, style, out, cap);
}

/* Powers of ten as in "16.0e-6 /K": the trade's tables are all in millionths. */
static void expansion_text(double si, const shown *how, tr_style style, char *out, size_t cap)
{
    char number[NUMBER_CAP];
    number_text(si / how->factor * 1e6, how->decimals + (style == TR_FINE ? 1 : 0), false, number);
    tr_format(out, cap, "%se-6 %s", number, how->unit);
}

static void time_text(double si, tr_style style, char *out, size_t cap)
{
    enum { MINUTE_S = 60, HOUR_S = 3600 };
    const double exact = round(fabs(si));
    if (exact < MINUTE_S || exact >= 1e15) {
        plain_text(si, shown_of(TR_DIM_TIME, TR_SI), style, out, cap);
        return;
    }
    const long long seconds = (long long)exact;
    const long long hours = seconds / HOUR_S;
    const long long minutes = seconds % HOUR_S / MINUTE_S;
    const long long rest = seconds % MINUTE_S;
    tr_copy(out, cap, si < 0 ? MINUS : "");
    const char *gap = "";
    if (hours > 0) {
        tr_append(out, cap, "%lld h", hours);
        gap = " ";
    }
    if (minutes > 0) {
        tr_append(out, cap, "%s%lld min", gap, minutes);
        gap = " ";
    }
    if (rest > 0) {
        tr_append(out, cap, "%s%lld s", gap, rest);
    }
}

/* "1 turn", "1 day". */
static void counted_text(double si, const shown *how, tr_style style, const char *one, char *out, size_t cap)
{
    char number[NUMBER_CAP];
    number_text(si, how->decimals + (style == TR_FINE ? 1 : 0), how->is_trimmed, number);
    const bool is_one = strcmp(number, "1") == 0 || strcmp(number, MINUS "1") == 0;
    tr_format(out, cap, "%s %s", number, is_one ? one : how->unit);
}

/* The row of the table, or a unit that suits the size better. */
static const shown *shown_for(double si, tr_dim dim, tr_system system)
{
    const double size = fabs(si);
    if (dim == TR_DIM_FORCE && system == TR_SI && size < 99.5) {
        return &NEWTONS;
    }
    if (dim == TR_DIM_STRESS && system == TR_SI && size >= 1e9) {
        return &GPA;
    }
    if (dim == TR_DIM_STRESS && system == TR_US && size >= 1e5 * TR_PSI_PA) {
        return &KSI;
    }
    return shown_of(dim, system);
}

void tr_quantity_text(double si, tr_dim dim, tr_system system, tr_style style, char *out, size_t cap)
{
    const shown *const how = shown_for(si, dim, system);
    if (!isfinite(si)) {
        tr_copy(out, cap, EN_DASH);
    } else if (dim == TR_DIM_LENGTH && system == TR_US) {
        us_length_text(si, style, out, cap);
    } else if (dim == TR_DIM_LENGTH) {
        si_length_text(si, style, out, cap);
    } else if (dim == TR_DIM_EXPANSION) {
        expansion_text(si, how, style, out, cap);
    } else if (dim == TR_DIM_TIME) {
        time_text(si, style, out, cap);
    } else if (dim == TR_DIM_TURNS) {
        counted_text(si, how, style, "turn", out, cap);
    } else if (dim == TR_DIM_DAYS) {
        counted_text(si, how, style, "day", out, cap);
    } else {
        plain_text(si, how, style, out, cap);
    }
}
