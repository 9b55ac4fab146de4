/* Quantities: NIST factors, what is read, what is refused and how, and that every text written reads back. */
#include "tautrow/base/units.h"

#include "tautrow/base/rng.h"
#include "tautrow/base/text.h"

#include "near.h"

#include <math.h>
#include <string.h>

static double read_si(const char *text, tr_dim dim)
{
    char why[200] = "";
    double si = -12345.0;
    if (!tr_quantity_parse(text, dim, &si, why, sizeof why)) {
        print_error("\"%s\" was refused: %s\n", text, why);
        fail();
    }
    return si;
}

/* NIST SP 811 (2008) appendix B.8, to the seven digits that it prints; bold (exact) ones to the last bit. */
static void test_nist_factors(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        tr_dim dim;
        double si, share;
    } cases[] = {
        {"1 in", TR_DIM_LENGTH, 0.0254, 0},
        {"1 ft", TR_DIM_LENGTH, 0.3048, 0},
        {"1 lbf", TR_DIM_FORCE, 4.448222, 5e-7},
        {"1 psi", TR_DIM_STRESS, 6.894757e3, 5e-7},
        {"1 ksi", TR_DIM_STRESS, 6.894757e6, 5e-7},
        {"1 lbf in", TR_DIM_MOMENT, 1.129848e-1, 5e-7},
        {"1 lbf ft", TR_DIM_MOMENT, 1.355818, 5e-7},
        {"1 lbf/ft", TR_DIM_STIFFNESS, 1.459390e1, 5e-7},
        {"1 lbf/in", TR_DIM_STIFFNESS, 1.751268e2, 5e-7},
        {"1 lb/ft", TR_DIM_LINE_MASS, 1.488164, 5e-7},
        {"1 deg", TR_DIM_ANGLE, 1.745329e-2, 5e-7},
        {"1 min", TR_DIM_TIME, 60, 0},
        {"1 h", TR_DIM_TIME, 3600, 0},
        {"32 degF", TR_DIM_TEMPERATURE, 273.15, 1e-15},
        {"212 degF", TR_DIM_TEMPERATURE, 373.15, 1e-15},
        {"0 degC", TR_DIM_TEMPERATURE, 273.15, 0},
        {"1 /degF", TR_DIM_EXPANSION, 1.8, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_near(read_si(cases[i].text, cases[i].dim), cases[i].si, cases[i].si * cases[i].share);
    }
    assert_near(TR_LBF_N, 0.45359237 * TR_GRAVITY_M_S2, 1e-15); /* the pound-force's definition, SP 811 B.8 footnote */
    assert_near(TR_PSI_PA, TR_LBF_N / (TR_INCH_M * TR_INCH_M), 1e-9);
}

static void test_good_quantities(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        tr_dim dim;
        double number, factor; /* si = number * factor */
    } cases[] = {
        {"1 1/4 in", TR_DIM_LENGTH, 1.25, 0.0254},
        {"1-1/4 in", TR_DIM_LENGTH, 1.25, 0.0254},
        {"3/16 in", TR_DIM_LENGTH, 0.1875, 0.0254},
        {"3/16in", TR_DIM_LENGTH, 0.1875, 0.0254},
        {"6 ft 3 1/2 in", TR_DIM_LENGTH, 75.5, 0.0254},
        {"6 ft 3-1/2 in", TR_DIM_LENGTH, 75.5, 0.0254},
        {"6ft 3in", TR_DIM_LENGTH, 75, 0.0254},
        {"6 ft", TR_DIM_LENGTH, 72, 0.0254},
        {"36 in", TR_DIM_LENGTH, 36, 0.0254},
        {"  36   in  ", TR_DIM_LENGTH, 36, 0.0254},
        {"36\xC2\xA0in", TR_DIM_LENGTH, 36, 0.0254},
        {"-1/16 in", TR_DIM_LENGTH, -0.0625, 0.0254},
        {"\xE2\x88\x92"
         "1/16 in",
         TR_DIM_LENGTH, -0.0625, 0.0254},
        {"-1 ft 6 in", TR_DIM_LENGTH, -18, 0.0254},
        {"+2 mm", TR_DIM_LENGTH, 2, 0.001},
        {"91.4 cm", TR_DIM_LENGTH, 91.4, 0.01},
        {"2.5 m", TR_DIM_LENGTH, 2.5, 1},
        {"250 lbf", TR_DIM_FORCE, 250, 4.4482216152605},
        {"1.1 kN", TR_DIM_FORCE, 1100, 1},
        {"0 N", TR_DIM_FORCE, 0, 1},
        {"1.6e6 psi", TR_DIM_STRESS, 1.6e6, 6894.757293168361},
        {"11 GPa", TR_DIM_STRESS, 11e9, 1},
        {"700 lbf in", TR_DIM_MOMENT, 700, 4.4482216152605 * 0.0254},
        {"60 lbf\xC2\xB7"
         "ft",
         TR_DIM_MOMENT, 60, 4.4482216152605 * 0.3048},
        {"80 N m", TR_DIM_MOMENT, 80, 1},
        {"80 N\xC2\xB7m", TR_DIM_MOMENT, 80, 1},
        {"350 N/mm", TR_DIM_STIFFNESS, 350e3, 1},
        {"12 kN m/rad", TR_DIM_ROTATION, 12e3, 1},
        {"9000 lbf in/rad", TR_DIM_ROTATION, 9000, 4.4482216152605 * 0.0254},
        {"0.0475 kg/m", TR_DIM_LINE_MASS, 0.0475, 1},
        {"3.2 lb/100ft", TR_DIM_LINE_MASS, 0.032, 0.45359237 / 0.3048},
        {"0.07 N m2", TR_DIM_TORSION, 0.07, 1},
        {"26 lbf in\xC2\xB2", TR_DIM_TORSION, 26, 4.4482216152605 * 0.0254 * 0.0254},
        {"90 deg", TR_DIM_ANGLE, TR_PI / 2, 1},
        {"90\xC2\xB0", TR_DIM_ANGLE, TR_PI / 2, 1},
        {"0.1 rad", TR_DIM_ANGLE, 0.1, 1},
        {"3 turns", TR_DIM_TURNS, 3, 1},
        {"1 turn", TR_DIM_TURNS, 1, 1},
        {"1/2 turn", TR_DIM_TURNS, 0.5, 1},
        {"7 threads", TR_DIM_TURNS, 7, 1},
        {"1500 rpm", TR_DIM_SPEED, 1500, 1},
        {"68 degF", TR_DIM_TEMPERATURE, 293.15, 1},
        {"68 \xC2\xB0"
         "F",
         TR_DIM_TEMPERATURE, 293.15, 1},
        {"-40 degC", TR_DIM_TEMPERATURE, 233.15, 1},
        {"-40 degF", TR_DIM_TEMPERATURE, 233.15, 1},
        {"16e-6 /K", TR_DIM_EXPANSION, 16e-6, 1},
        {"25 min", TR_DIM_TIME, 1500, 1},
        {"1 h 5 min 30 s", TR_DIM_TIME, 3930, 1},
        {"30 days", TR_DIM_DAYS, 30, 1},
        {"12 %", TR_DIM_RATIO, 0.12, 1},
        {"12%", TR_DIM_RATIO, 0.12, 1},
        {"0.8 x", TR_DIM_RATIO, 0.8, 1},
        {"79 Hz", TR_DIM_FREQUENCY, 79, 1},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const double si = cases[i].number * cases[i].factor;
        assert_near(read_si(cases[i].text, cases[i].dim), si, 4e-16 * fabs(si)); /* two roundings */
    }
}

static void test_bad_quantities(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        tr_dim dim;
        const char *why; /* must be found in the message */
    } cases[] = {
        {"", TR_DIM_LENGTH, "is empty"},
        {"   ", TR_DIM_LENGTH, "is empty"},
        {"36", TR_DIM_LENGTH, "needs a unit: in, ft, mm, cm or m"},
        {"250", TR_DIM_FORCE, "needs a unit: lbf, N or kN"},
        {"6 ft 3", TR_DIM_LENGTH, "needs a unit"},
        {"in", TR_DIM_LENGTH, "must start with a number"},
        {"abc", TR_DIM_LENGTH, "must start with a number"},
        {"- 5 in", TR_DIM_LENGTH, "must start with a number"},
        {"--5 in", TR_DIM_LENGTH, "must start with a number"},
        {"tight", TR_DIM_LENGTH, "must start with a number"},
        {"nan in", TR_DIM_LENGTH, "must be an ordinary number"},
        {"NaN", TR_DIM_LENGTH, "must be an ordinary number"},
        {"inf lbf", TR_DIM_FORCE, "must be an ordinary number"},
        {"-Infinity lbf", TR_DIM_FORCE, "must be an ordinary number"},
        {"0x10 in", TR_DIM_LENGTH, "must be a decimal number"},
        {"0XFp3 in", TR_DIM_LENGTH, "must be a decimal number"},
        {"1e999 in", TR_DIM_LENGTH, "too large"},
        {"1e308 GPa", TR_DIM_STRESS, "too large"},
        {".5 in", TR_DIM_LENGTH, "needs a digit before the point"},
        {"-.5 in", TR_DIM_LENGTH, "needs a digit before the point"},
        {"1,5 in", TR_DIM_LENGTH, "with a point and without commas"},
        {"1,250 lbf", TR_DIM_FORCE, "with a point and without commas"},
        {"1 1/0 in", TR_DIM_LENGTH, "0 below the line"},
        {"1/0 in", TR_DIM_LENGTH, "0 below the line"},
        {"1/ in", TR_DIM_LENGTH, "has \"/ in\" where a unit should be"},
        {"1. in", TR_DIM_LENGTH, "has \". in\" where a unit should be"},
        {"36 inches", TR_DIM_LENGTH, "has \"inches\" where a unit should be: in, ft"},
        {"36 IN", TR_DIM_LENGTH, "where a unit should be"},
        {"36 in in", TR_DIM_LENGTH, "has \"in\" left over behind the unit"},
        {"36 in 2 ft", TR_DIM_LENGTH, "cannot have ft behind in"},
        {"36 in 2 in", TR_DIM_LENGTH, "cannot have in behind in"},
        {"2 m 5 cm", TR_DIM_LENGTH, "left over behind the unit"},
        {"6 ft -3 in", TR_DIM_LENGTH, "left over behind the unit"},
        {"6 ft 3 mm", TR_DIM_LENGTH, "cannot have mm behind ft"},
        {"12 mm", TR_DIM_FORCE, "must be a force in lbf, N or kN; \"mm\" measures a length"},
        {"12 kN", TR_DIM_LENGTH, "must be a length in in, ft, mm, cm or m; \"kN\" measures a force"},
        {"12 lbf in", TR_DIM_FORCE, "\"lbf in\" measures a moment"},
        {"12 lbf", TR_DIM_MOMENT, "\"lbf\" measures a force"},
        {"12 %", TR_DIM_ANGLE, "\"%\" measures a share"},
        {"-500 degF", TR_DIM_TEMPERATURE, "below absolute zero"},
        {"-1 K", TR_DIM_TEMPERATURE, "below absolute zero"},
        {"20 deg", TR_DIM_TEMPERATURE, "\"deg\" measures an angle"},
        {"1 \xFF", TR_DIM_LENGTH, "is not UTF-8"},
        {"1e5e5 in", TR_DIM_LENGTH, "where a unit should be"},
        {"1 1 in", TR_DIM_LENGTH, "where a unit should be"},
        {"1/2/3 in", TR_DIM_LENGTH, "where a unit should be"},
        {"2 days 3 h", TR_DIM_TIME, "where a unit should be"},
        {"1000000000000000000000000000000000000000000000000000000000000000000000000000 in", TR_DIM_LENGTH,
         "is too long"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char why[200] = "";
        double si = 77.0;
        const bool is_read = tr_quantity_parse(cases[i].text, cases[i].dim, &si, why, sizeof why);
        if (is_read || strstr(why, cases[i].why) == NULL || !tr_utf8_valid(why, strlen(why))) {
            print_error("\"%s\": read %d, said \"%s\", should say \"%s\"\n", cases[i].text, is_read, why, cases[i].why);
            fail();
        }
        assert_near(si, 77.0, 0.0);
    }
}

static void test_messages_fit_their_room(void **state)
{
    (void)state;
    char why[8];
    double si = 0.0;
    assert_false(tr_quantity_parse("36", TR_DIM_LENGTH, &si, why, sizeof why));
    assert_string_equal(why, "needs a");
}

static void test_texts(void **state)
{
    (void)state;
    static const struct {
        double si;
        tr_dim dim;
        tr_system system;
        tr_style style;
        const char *text;
    } cases[] = {
        {0.03175, TR_DIM_LENGTH, TR_US, TR_PLAIN, "1 1/4 in"},
        {0.1875 * 0.0254, TR_DIM_LENGTH, TR_US, TR_PLAIN, "3/16 in"},
        {0.0254 * 3 / 64, TR_DIM_LENGTH, TR_US, TR_FINE, "3/64 in"},
        {0.0254 * 3 / 64, TR_DIM_LENGTH, TR_US, TR_PLAIN, "1/16 in"},
        {0.9144, TR_DIM_LENGTH, TR_US, TR_PLAIN, "36 in"},
        {0.0, TR_DIM_LENGTH, TR_US, TR_PLAIN, "0 in"},
        {-0.0001, TR_DIM_LENGTH, TR_US, TR_PLAIN, "0 in"},
        {-0.0254 / 16, TR_DIM_LENGTH, TR_US, TR_PLAIN,
         "\xE2\x88\x92"
         "1/16 in"},
        {119.9 * 0.0254, TR_DIM_LENGTH, TR_US, TR_PLAIN, "119 7/8 in"},
        {119.99 * 0.0254, TR_DIM_LENGTH, TR_US, TR_PLAIN, "10 ft"},
        {150 * 0.0254, TR_DIM_LENGTH, TR_US, TR_PLAIN, "12 ft 6 in"},
        {150.5 * 0.0254, TR_DIM_LENGTH, TR_US, TR_PLAIN, "12 ft 6 1/2 in"},
        {144.25 * 0.0254, TR_DIM_LENGTH, TR_US, TR_PLAIN, "12 ft 1/4 in"},
        {0.914, TR_DIM_LENGTH, TR_SI, TR_PLAIN, "914 mm"},
        {0.9144, TR_DIM_LENGTH, TR_SI, TR_FINE, "914.4 mm"},
        {0.003175, TR_DIM_LENGTH, TR_SI, TR_PLAIN, "3.2 mm"},
        {0.003175, TR_DIM_LENGTH, TR_SI, TR_FINE, "3.18 mm"},
        {0.09999, TR_DIM_LENGTH, TR_SI, TR_PLAIN, "100 mm"},
        {12.3456, TR_DIM_LENGTH, TR_SI, TR_PLAIN, "12.35 m"},
        {9.9999, TR_DIM_LENGTH, TR_SI, TR_PLAIN, "10.00 m"},
        {1000.9, TR_DIM_FORCE, TR_US, TR_PLAIN, "225 lbf"},
        {1000.9, TR_DIM_FORCE, TR_SI, TR_PLAIN, "1.00 kN"},
        {1000.9, TR_DIM_FORCE, TR_SI, TR_FINE, "1.001 kN"},
        {87.4, TR_DIM_FORCE, TR_SI, TR_PLAIN, "87 N"},
        {99.7, TR_DIM_FORCE, TR_SI, TR_PLAIN, "0.10 kN"},
        {-445.0, TR_DIM_FORCE, TR_US, TR_PLAIN,
         "\xE2\x88\x92"
         "100 lbf"},
        {1.6e6 * TR_PSI_PA, TR_DIM_STRESS, TR_US, TR_PLAIN, "1600 ksi"},
        {1350 * TR_PSI_PA, TR_DIM_STRESS, TR_US, TR_PLAIN, "1350 psi"},
        {11e9, TR_DIM_STRESS, TR_SI, TR_PLAIN, "11.00 GPa"},
        {9.3e6, TR_DIM_STRESS, TR_SI, TR_PLAIN, "9.3 MPa"},
        {700 * TR_LBF_N * TR_INCH_M, TR_DIM_MOMENT, TR_US, TR_PLAIN, "700 lbf\xC2\xB7in"},
        {79.09, TR_DIM_MOMENT, TR_SI, TR_PLAIN, "79.1 N\xC2\xB7m"},
        {0.0475, TR_DIM_LINE_MASS, TR_SI, TR_PLAIN, "47.5 g/m"},
        {TR_PI / 2, TR_DIM_ANGLE, TR_US, TR_PLAIN, "90\xC2\xB0"},
        {0.0262, TR_DIM_ANGLE, TR_SI, TR_PLAIN, "1.5\xC2\xB0"},
        {0.0262, TR_DIM_ANGLE, TR_SI, TR_FINE, "1.5\xC2\xB0"},
        {1.0, TR_DIM_TURNS, TR_US, TR_PLAIN, "1 turn"},
        {2.25, TR_DIM_TURNS, TR_US, TR_PLAIN, "2.25 turns"},
        {1500, TR_DIM_SPEED, TR_SI, TR_PLAIN, "1500 rpm"},
        {293.15, TR_DIM_TEMPERATURE, TR_US, TR_PLAIN,
         "68 \xC2\xB0"
         "F"},
        {293.15, TR_DIM_TEMPERATURE, TR_SI, TR_FINE,
         "20.0 \xC2\xB0"
         "C"},
        {16e-6, TR_DIM_EXPANSION, TR_SI, TR_PLAIN, "16.0e-6 /K"},
        {16e-6, TR_DIM_EXPANSION, TR_US, TR_PLAIN,
         "8.9e-6 /\xC2\xB0"
         "F"},
        {30, TR_DIM_TIME, TR_US, TR_PLAIN, "30 s"},
        {1500, TR_DIM_TIME, TR_US, TR_PLAIN, "25 min"},
        {3930, TR_DIM_TIME, TR_SI, TR_PLAIN, "1 h 5 min 30 s"},
        {59.7, TR_DIM_TIME, TR_SI, TR_PLAIN, "1 min"},
        {30, TR_DIM_DAYS, TR_US, TR_PLAIN, "30 days"},
        {0.12, TR_DIM_RATIO, TR_US, TR_PLAIN, "12 %"},
        {0.1234, TR_DIM_RATIO, TR_US, TR_FINE, "12.3 %"},
        {79.04, TR_DIM_FREQUENCY, TR_US, TR_PLAIN, "79.0 Hz"},
        {(double)NAN, TR_DIM_FORCE, TR_US, TR_PLAIN, "\xE2\x80\x93"},
        {(double)-INFINITY, TR_DIM_LENGTH, TR_SI, TR_PLAIN, "\xE2\x80\x93"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[64];
        tr_quantity_text(cases[i].si, cases[i].dim, cases[i].system, cases[i].style, text, sizeof text);
        assert_string_equal(text, cases[i].text);
    }
}

/* Half of the last place that tr_quantity_text shows at this size, in SI. */
static double half_place(double si, tr_dim dim, tr_system system)
{
    static const double place[TR_DIM_COUNT][2] = {
        [TR_DIM_LENGTH] = {0.0254 / 64, 0.001},
        [TR_DIM_FORCE] = {TR_LBF_N / 10, 1},
        [TR_DIM_STRESS] = {TR_PSI_PA * 100, 1e6},
        [TR_DIM_MOMENT] = {0.0113, 0.01},
        [TR_DIM_STIFFNESS] = {17.52, 10},
        [TR_DIM_ROTATION] = {0.0113, 1},
        [TR_DIM_LINE_MASS] = {1.49e-4, 1e-5},
        [TR_DIM_TORSION] = {2.87e-5, 1e-4},
        [TR_DIM_ANGLE] = {1.75e-4, 1.75e-4},
        [TR_DIM_TURNS] = {1e-3, 1e-3},
        [TR_DIM_SPEED] = {0.1, 0.1},
        [TR_DIM_TEMPERATURE] = {0.1, 0.1},
        [TR_DIM_EXPANSION] = {1.8e-8, 1e-8},
        [TR_DIM_TIME] = {1, 1},
        [TR_DIM_DAYS] = {0.01, 0.01},
        [TR_DIM_RATIO] = {0.001, 0.001},
        [TR_DIM_FREQUENCY] = {0.01, 0.01},
    };
    return 0.5001 * place[dim][system == TR_SI ? 1 : 0] + 1e-12 * fabs(si);
}

static void test_every_text_reads_back(void **state)
{
    (void)state;
    tr_rng rng = tr_rng_seed(7);
    for (int dim = 0; dim < TR_DIM_COUNT; dim++) {
        for (int i = 0; i < 400; i++) {
            const tr_system system = i % 2 == 0 ? TR_US : TR_SI;
            double si = tr_rng_uniform(&rng) * pow(10.0, i % 9 - 3);
            if (dim == TR_DIM_TEMPERATURE) {
                si = 1.0 + tr_rng_uniform(&rng) * 500.0;
            } else if (dim == TR_DIM_STRESS) {
                si *= 1e6;
            } else if (dim == TR_DIM_EXPANSION) {
                si *= 1e-6;
            } else if (i % 3 == 0) {
                si = -si;
            }
            char text[64];
            tr_quantity_text(si, (tr_dim)dim, system, TR_FINE, text, sizeof text);
            assert_near(read_si(text, (tr_dim)dim), si, half_place(si, (tr_dim)dim, system));
        }
    }
}

static void test_numbers_go_with_their_units(void **state)
{
    (void)state;
    assert_near(tr_quantity_number(0.9144, TR_DIM_LENGTH, TR_US), 36, 1e-12);
    assert_string_equal(tr_quantity_unit(TR_DIM_LENGTH, TR_US), "in");
    assert_near(tr_quantity_number(293.15, TR_DIM_TEMPERATURE, TR_US), 68, 1e-10);
    for (int dim = 0; dim < TR_DIM_COUNT; dim++) {
        for (int system = TR_US; system <= TR_SI; system++) {
            char text[64];
            char number[40];
            const double shown = tr_quantity_number(300.0, (tr_dim)dim, (tr_system)system);
            tr_double_text(shown, number, sizeof number);
            tr_format(text, sizeof text, "%s %s", number, tr_quantity_unit((tr_dim)dim, (tr_system)system));
            assert_near(read_si(text, (tr_dim)dim), 300.0, 1e-9);
        }
    }
}

static void test_huge_values_do_no_harm(void **state)
{
    (void)state;
    for (int dim = 0; dim < TR_DIM_COUNT; dim++) {
        char text[400];
        tr_quantity_text(-1e300, (tr_dim)dim, TR_US, TR_FINE, text, sizeof text);
        tr_quantity_text(1e300, (tr_dim)dim, TR_SI, TR_PLAIN, text, sizeof text);
        assert_true(strlen(text) < 48);
        tr_quantity_text(1e-300, (tr_dim)dim, TR_SI, TR_PLAIN, text, 3);
        assert_true(tr_utf8_valid(text, strlen(text)));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_nist_factors),
        cmocka_unit_test(test_good_quantities),
        cmocka_unit_test(test_bad_quantities),
        cmocka_unit_test(test_messages_fit_their_room),
        cmocka_unit_test(test_texts),
        cmocka_unit_test(test_every_text_reads_back),
        cmocka_unit_test(test_numbers_go_with_their_units),
        cmocka_unit_test(test_huge_values_do_no_harm),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
