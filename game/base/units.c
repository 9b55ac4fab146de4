/* Reading quantities: a number as it is written on a job sheet, a unit, and a plain sentence about what is wrong with
 * either. Writing them is in units_text.c.
 *
 * Factors are those of NIST SP 811 (2008) appendix B.8, built here from the exact ones: inch, pound-force, avoirdupois
 * pound. The decimal sign is a point in every language: a comma would make "1,250 lbf" mean two things. */
#include "tautrow/base/units.h"

#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#define POUND_KG      0.45359237
#define KELVIN_OF_0_C 273.15
#define KELVIN_OF_0_F (459.67 / 1.8)
#define LBF_IN_N_M    (TR_LBF_N * TR_INCH_M)
#define LBF_FT_N_M    (TR_LBF_N * TR_FOOT_M)
#define LBF_IN2_N_M2  (TR_LBF_N * TR_INCH_M * TR_INCH_M)

enum { UNIT_CAP = 32, MAX_TEXT = 64, MAX_PARTS = 3 };

/* Place of a unit that may be followed by a smaller one, as in "6 ft 3 in": each part must come later than the one
 * before. */
typedef enum place { ALONE, PART_FIRST, PART_SECOND, PART_THIRD } place;

/* One spelling of a unit: SI value = number * factor + offset. */
typedef struct unit {
    const char *name;
    double factor;
    double offset;
    tr_dim dim;
    place place;
} unit;

static const unit UNITS[] = {
    {"in", TR_INCH_M, 0, TR_DIM_LENGTH, PART_SECOND},
    {"ft", TR_FOOT_M, 0, TR_DIM_LENGTH, PART_FIRST},
    {"mm", 0.001, 0, TR_DIM_LENGTH, ALONE},
    {"cm", 0.01, 0, TR_DIM_LENGTH, ALONE},
    {"m", 1, 0, TR_DIM_LENGTH, ALONE},
    {"lbf", TR_LBF_N, 0, TR_DIM_FORCE, ALONE},
    {"N", 1, 0, TR_DIM_FORCE, ALONE},
    {"kN", 1000, 0, TR_DIM_FORCE, ALONE},
    {"psi", TR_PSI_PA, 0, TR_DIM_STRESS, ALONE},
    {"ksi", 1000 * TR_PSI_PA, 0, TR_DIM_STRESS, ALONE},
    {"Pa", 1, 0, TR_DIM_STRESS, ALONE},
    {"kPa", 1e3, 0, TR_DIM_STRESS, ALONE},
    {"MPa", 1e6, 0, TR_DIM_STRESS, ALONE},
    {"GPa", 1e9, 0, TR_DIM_STRESS, ALONE},
    {"lbf in", LBF_IN_N_M, 0, TR_DIM_MOMENT, ALONE},
    {"lbf ft", LBF_FT_N_M, 0, TR_DIM_MOMENT, ALONE},
    {"N m", 1, 0, TR_DIM_MOMENT, ALONE},
    {"kN m", 1000, 0, TR_DIM_MOMENT, ALONE},
    {"lbf/in", TR_LBF_N / TR_INCH_M, 0, TR_DIM_STIFFNESS, ALONE},
    {"lbf/ft", TR_LBF_N / TR_FOOT_M, 0, TR_DIM_STIFFNESS, ALONE},
    {"N/mm", 1000, 0, TR_DIM_STIFFNESS, ALONE},
    {"N/m", 1, 0, TR_DIM_STIFFNESS, ALONE},
    {"kN/m", 1000, 0, TR_DIM_STIFFNESS, ALONE},
    {"lbf in/rad", LBF_IN_N_M, 0, TR_DIM_ROTATION, ALONE},
    {"lbf ft/rad", LBF_FT_N_M, 0, TR_DIM_ROTATION, ALONE},
    {"N m/rad", 1, 0, TR_DIM_ROTATION, ALONE},
    {"kN m/rad", 1000, 0, TR_DIM_ROTATION, ALONE},
    {"kg/m", 1, 0, TR_DIM_LINE_MASS, ALONE},
    {"g/m", 0.001, 0, TR_DIM_LINE_MASS, ALONE},
    {"lb/ft", POUND_KG / TR_FOOT_M, 0, TR_DIM_LINE_MASS, ALONE},
    {"lb/100ft", POUND_KG / (100 * TR_FOOT_M), 0, TR_DIM_LINE_MASS, ALONE},
    {"N m2", 1, 0, TR_DIM_TORSION, ALONE},
    {"lbf in2", LBF_IN2_N_M2, 0, TR_DIM_TORSION, ALONE},
    {"deg", TR_PI / 180, 0, TR_DIM_ANGLE, ALONE},
    {"rad", 1, 0, TR_DIM_ANGLE, ALONE},
    {"turns", 1, 0, TR_DIM_TURNS, ALONE},
    {"turn", 1, 0, TR_DIM_TURNS, ALONE},
    {"threads", 1, 0, TR_DIM_TURNS, ALONE},
    {"thread", 1, 0, TR_DIM_TURNS, ALONE},
    {"rpm", 1, 0, TR_DIM_SPEED, ALONE},
    {"degF", 1 / 1.8, KELVIN_OF_0_F, TR_DIM_TEMPERATURE, ALONE},
    {"degC", 1, KELVIN_OF_0_C, TR_DIM_TEMPERATURE, ALONE},
    {"K", 1, 0, TR_DIM_TEMPERATURE, ALONE},
    {"/K", 1, 0, TR_DIM_EXPANSION, ALONE},
    {"/degC", 1, 0, TR_DIM_EXPANSION, ALONE},
    {"/degF", 1.8, 0, TR_DIM_EXPANSION, ALONE},
    {"s", 1, 0, TR_DIM_TIME, PART_THIRD},
    {"min", 60, 0, TR_DIM_TIME, PART_SECOND},
    {"h", 3600, 0, TR_DIM_TIME, PART_FIRST},
    {"days", 1, 0, TR_DIM_DAYS, ALONE},
    {"day", 1, 0, TR_DIM_DAYS, ALONE},
    {"%", 0.01, 0, TR_DIM_RATIO, ALONE},
    {"x", 1, 0, TR_DIM_RATIO, ALONE},
    {"Hz", 1, 0, TR_DIM_FREQUENCY, ALONE},
};

enum { UNIT_COUNT = sizeof UNITS / sizeof UNITS[0] };

/* What a dimension is called in a sentence, and the units to offer. */
typedef struct dim_words {
    const char *thing;
    const char *units;
} dim_words;

static const dim_words DIMS[TR_DIM_COUNT] = {
    [TR_DIM_LENGTH] = {"a length", "in, ft, mm, cm or m"},
    [TR_DIM_FORCE] = {"a force", "lbf, N or kN"},
    [TR_DIM_STRESS] = {"a stress", "psi, ksi, Pa, kPa, MPa or GPa"},
    [TR_DIM_MOMENT] = {"a moment", "lbf in, lbf ft, N m or kN m"},
    [TR_DIM_STIFFNESS] = {"a stiffness", "lbf/in, lbf/ft, N/mm, N/m or kN/m"},
    [TR_DIM_ROTATION] = {"a rotational stiffness", "lbf in/rad, lbf ft/rad, N m/rad or kN m/rad"},
    [TR_DIM_LINE_MASS] = {"a mass per length", "kg/m, g/m, lb/ft or lb/100ft"},
    [TR_DIM_TORSION] = {"a torsional stiffness", "N m2 or lbf in2"},
    [TR_DIM_ANGLE] = {"an angle", "deg or rad"},
    [TR_DIM_TURNS] = {"a number of turns", "turns or threads"},
    [TR_DIM_SPEED] = {"a speed of rotation", "rpm"},
    [TR_DIM_TEMPERATURE] = {"a temperature", "degF, degC or K"},
    [TR_DIM_EXPANSION] = {"a thermal expansion", "/K, /degC or /degF"},
    [TR_DIM_TIME] = {"a time", "s, min or h"},
    [TR_DIM_DAYS] = {"a number of days", "days"},
    [TR_DIM_RATIO] = {"a share", "% or x"},
    [TR_DIM_FREQUENCY] = {"a frequency", "Hz"},
};

const char *tr_dim_units(tr_dim dim)
{
    TR_ASSERT(dim >= 0 && dim < TR_DIM_COUNT);
    return DIMS[dim].units;
}

/* ---- the text in one spelling ----------------------------------------------------------------------------------- */

/* Characters that people type or paste, and the plain ones that mean the same. */
static const struct {
    const char *typed, *plain;
} SPELLINGS[] = {
    {"\xC2\xB0", "deg"},   /* degree sign */
    {"\xC2\xB7", " "},     /* raised dot, as in N·m */
    {"\xC2\xB2", "2"},     /* superscript two */
    {"\xC2\xA0", " "},     /* no-break space */
    {"\xE2\x80\xAF", " "}, /* narrow no-break space */
    {"\xE2\x88\x92", "-"}, /* minus sign */
    {"\t", " "},
};

/* Plain form of the character at text, or NULL where it stands for itself; *length is how many bytes it has. */
static const char *respelt(const char *text, size_t *length)
{
    for (size_t i = 0; i < sizeof SPELLINGS / sizeof SPELLINGS[0]; i++) {
        const size_t typed = strlen(SPELLINGS[i].typed);
        if (strncmp(text, SPELLINGS[i].typed, typed) == 0) {
            *length = typed;
            return SPELLINGS[i].plain;
        }
    }
    *length = 1;
    return NULL;
}

/* Writes text with plain spellings, without spaces at the ends and with single ones inside. False when it does not fit.
 */
static bool make_plain(const char *text, char out[MAX_TEXT])
{
    size_t used = 0;
    while (*text != '\0') {
        size_t length = 0;
        const char *const plain = respelt(text, &length);
        const char *const piece = plain != NULL ? plain : text;
        const size_t size = plain != NULL ? strlen(plain) : 1;
        const bool is_spare = piece[0] == ' ' && (used == 0 || out[used - 1] == ' ');
        if (!is_spare) {
            if (used + size >= MAX_TEXT) {
                return false;
            }
            memcpy(out + used, piece, size);
            used += size;
        }
        text += length;
    }
    while (used > 0 && out[used - 1] == ' ') {
        used--;
    }
    out[used] = '\0';
    return true;
}

/* ---- numbers ---------------------------------------------------------------------------------------------------- */

static size_t count_digits(const char *text)
{
    size_t count = 0;
    while (isdigit((unsigned char)text[count]) != 0) {
        count++;
    }
    return count;
}

/* Length of "5/16" at the start of text; 0 = no fraction there. */
static size_t fraction_length(const char *text)
{
    const size_t over = count_digits(text);
    if (over == 0 || text[over] != '/') {
        return 0;
    }
    const size_t under = count_digits(text + over + 1);
    return under > 0 ? over + 1 + under : 0;
}

static bool read_fraction(const char *text, size_t length, double *value, char *why, size_t why_cap)
{
    double over = 0.0;
    double under = 0.0;
    const size_t head = tr_double_parse(text, &over);
    if (head == 0 || tr_double_parse(text + head + 1, &under) == 0) {
        tr_format(why, why_cap, "has a fraction with too many digits");
        return false;
    }
    if (under == 0.0) {
        tr_format(why, why_cap, "has a fraction with 0 below the line");
        return false;
    }
    TR_ASSERT(text[head] == '/' && head < length);
    *value = over / under;
    return true;
}

static bool starts_with_word(const char *text, const char *word)
{
    for (; *word != '\0'; word++, text++) {
        if (tolower((unsigned char)*text) != *word) {
            return false;
        }
    }
    return true;
}

/* Says why there is no number at the start of text, which has its sign taken off. */
static void say_no_number(const char *text, tr_dim dim, char *why, size_t why_cap)
{
    if (starts_with_word(text, "nan") || starts_with_word(text, "inf")) {
        tr_format(why, why_cap, "must be an ordinary number");
    } else if (isdigit((unsigned char)text[0]) != 0) {
        tr_format(why, why_cap, "is a number too large to work with");
    } else if (text[0] == '.') {
        tr_format(why, why_cap, "needs a digit before the point: write 0.5, not .5");
    } else {
        tr_format(why, why_cap, "must start with a number, such as \"%s\"", dim == TR_DIM_LENGTH ? "1 1/4 in" : "12.5");
    }
}

/* Reads "36", "1.6e6", "3/16", "1 1/4" or "1-1/4", without a sign. Returns the bytes read, 0 with why on trouble. */
static size_t read_number(const char *text, tr_dim dim, double *value, char *why, size_t why_cap)
{
    const bool has_digit = isdigit((unsigned char)text[0]) != 0;
    size_t length = fraction_length(text);
    if (length > 0) {
        return read_fraction(text, length, value, why, why_cap) ? length : 0;
    }
    length = has_digit ? tr_double_parse(text, value) : 0;
    if (length == 0) {
        say_no_number(text, dim, why, why_cap);
        return 0;
    }
    if (length == 1 && text[0] == '0' && (text[1] == 'x' || text[1] == 'X') && isxdigit((unsigned char)text[2]) != 0) {
        tr_format(why, why_cap, "must be a decimal number, not a hexadecimal one");
        return 0;
    }
    if (text[length] == ',' && isdigit((unsigned char)text[length + 1]) != 0) {
        tr_format(why, why_cap, "must be written with a point and without commas: 1.5, not 1,5");
        return 0;
    }
    const bool is_whole = length == count_digits(text);
    const bool is_parted = text[length] == ' ' || text[length] == '-';
    const size_t fraction = is_whole && is_parted ? fraction_length(text + length + 1) : 0;
    if (fraction > 0) {
        double part = 0.0;
        if (!read_fraction(text + length + 1, fraction, &part, why, why_cap)) {
            return 0;
        }
        *value += part;
        length += 1 + fraction;
    }
    return length;
}

/* ---- units ------------------------------------------------------------------------------------------------------ */

static const unit *find_unit(const char *name, size_t length, tr_dim dim)
{
    for (int i = 0; i < UNIT_COUNT; i++) {
        if (UNITS[i].dim == dim && strlen(UNITS[i].name) == length && memcmp(UNITS[i].name, name, length) == 0) {
            return &UNITS[i];
        }
    }
    return NULL;
}

static const unit *find_unit_anywhere(const char *name)
{
    const unit *found = NULL;
    for (int dim = 0; dim < TR_DIM_COUNT && found == NULL; dim++) {
        found = find_unit(name, strlen(name), (tr_dim)dim);
    }
    return found;
}

/* The longest unit of the dimension that text starts with, ended by the end, a space or a digit. */
static const unit *unit_at(const char *text, tr_dim dim)
{
    for (size_t length = strlen(text); length > 0; length--) {
        const bool is_end = text[length] == '\0' || text[length] == ' ' || isdigit((unsigned char)text[length]) != 0;
        const unit *const found = is_end ? find_unit(text, length, dim) : NULL;
        if (found != NULL) {
            return found;
        }
    }
    return NULL;
}

static void say_no_unit(const char *text, tr_dim dim, char *why, size_t why_cap)
{
    const char *const units = tr_dim_units(dim);
    if (text[0] == '\0') {
        tr_format(why, why_cap, "needs a unit: %s", units);
        return;
    }
    char name[UNIT_CAP];
    const bool is_whole = tr_copy(name, sizeof name, text);
    const unit *const other = is_whole ? find_unit_anywhere(name) : NULL;
    if (other != NULL) {
        tr_format(why, why_cap, "must be %s in %s; \"%s\" measures %s", DIMS[dim].thing, units, name,
                  DIMS[other->dim].thing);
    } else {
        tr_format(why, why_cap, "has \"%s\" where a unit should be: %s", name, units);
    }
}

/* True when what stands behind a part is the start of a next one, as in "6 ft 3 in". */
static bool has_more(const char *text, const unit *before)
{
    return before->place != ALONE && isdigit((unsigned char)text[0]) != 0;
}

/* text starts with a unit of the dimension, but does not end with it: a longer unit of another one, or a slip. */
static void say_left_over(const char *text, size_t length, tr_dim dim, char *why, size_t why_cap)
{
    char rest[UNIT_CAP];
    if (find_unit_anywhere(text) != NULL) {
        say_no_unit(text, dim, why, why_cap);
        return;
    }
    tr_copy(rest, sizeof rest, text + length + (text[length] == ' ' ? 1 : 0));
    tr_format(why, why_cap, "has \"%s\" left over behind the unit", rest);
}

/* Reads the parts of a quantity without its sign and adds them up. */
static bool read_parts(const char *text, tr_dim dim, double sign, double *si, char *why, size_t why_cap)
{
    const unit *last = NULL;
    double sum = 0.0;
    do {
        double number = 0.0;
        const size_t length = read_number(text, dim, &number, why, why_cap);
        if (length == 0) {
            return false;
        }
        text += length + (text[length] == ' ' ? 1 : 0);
        const unit *const found = unit_at(text, dim);
        if (found == NULL) {
            say_no_unit(text, dim, why, why_cap);
            return false;
        }
        if (last != NULL && found->place <= last->place) {
            tr_format(why, why_cap, "cannot have %s behind %s", found->name, last->name);
            return false;
        }
        last = found;
        sum += sign * number * found->factor + found->offset;
        const size_t name = strlen(found->name);
        const char *const next = text + name + (text[name] == ' ' ? 1 : 0);
        if (next[0] != '\0' && !has_more(next, found)) {
            say_left_over(text, name, dim, why, why_cap);
            return false;
        }
        text = next;
    } while (text[0] != '\0');
    *si = sum;
    return true;
}

bool tr_quantity_parse(const char *text, tr_dim dim, double *si, char *why, size_t why_cap)
{
    TR_ASSERT(dim >= 0 && dim < TR_DIM_COUNT);
    char plain[MAX_TEXT];
    if (!make_plain(text, plain)) {
        tr_format(why, why_cap, "is too long for a quantity");
        return false;
    }
    if (!tr_utf8_valid(plain, strlen(plain))) {
        tr_format(why, why_cap, "is not UTF-8 text");
        return false;
    }
    if (plain[0] == '\0') {
        tr_format(why, why_cap, "is empty; it needs a number and a unit: %s", tr_dim_units(dim));
        return false;
    }
    const bool has_sign = plain[0] == '-' || plain[0] == '+';
    double value = 0.0;
    if (!read_parts(plain + (has_sign ? 1 : 0), dim, plain[0] == '-' ? -1.0 : 1.0, &value, why, why_cap)) {
        return false;
    }
    if (!isfinite(value)) {
        tr_format(why, why_cap, "is a number too large to work with");
        return false;
    }
    if (dim == TR_DIM_TEMPERATURE && value < 0.0) {
        tr_format(why, why_cap, "is below absolute zero");
        return false;
    }
    *si = value;
    return true;
}
