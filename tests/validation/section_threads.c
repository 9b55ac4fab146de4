/* Threads, screw torque and take-up of the turnbuckle. */
#include "sections.h"

#include <math.h>

#include "posts.h"
#include "screw.h"
#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"
#include "tautrow/mech/fittings.h"

static mech_thread inch_thread(double major_in, double per_inch, double friction)
{
    return (mech_thread){.pitch_m = TR_INCH_M / per_inch, .major_m = major_in * TR_INCH_M, .friction = friction};
}

static void geometry(book *b)
{
    static const struct {
        const char *name;
        double major_mm, pitch_mm, pitch_diameter_mm, lead_deg;
    } table[] = {
        {"1/4-28 UNF", 6.350, 25.4 / 28.0, 5.761, 2.87},
        {"5/16-24 UNF", 7.9375, 25.4 / 24.0, 7.250, 2.66},
        {"3/8-24 UNF", 9.525, 25.4 / 24.0, 8.838, 2.18},
        {"1/4-20 UNC", 6.350, 25.4 / 20.0, 5.525, 4.18},
        {"5/16-18 UNC", 7.9375, 25.4 / 18.0, 7.021, 3.66},
        {"3/8-16 UNC", 9.525, 25.4 / 16.0, 8.494, 3.40},
        {"M5x0.8", 5.0, 0.8, 4.480, 3.25},
        {"M6x1", 6.0, 1.0, 5.350, 3.40},
        {"M8x1.25", 8.0, 1.25, 7.188, 3.17},
        {"M8x1", 8.0, 1.0, 7.350, 2.48},
        {"M10x1.5", 10.0, 1.5, 9.026, 3.03},
    };
    book_words(b, "Threads: ASME B1.1 (inch), ISO 261 and ISO 724 (metric); form and pitches transcribed, dimensions "
                  "worked out. Published / ours; tolerance half of the last digit.");
    book_grid(b, "thread | pitch diameter, mm | lead angle, degrees");
    book_source(b, "ASME B1.1; ISO 261, ISO 724", COPIED_WORKED);
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        const mech_thread thread = {.pitch_m = table[i].pitch_mm * 1e-3, .major_m = table[i].major_mm * 1e-3};
        book_grid_line(b, table[i].name);
        book_grid_cell(b, table[i].pitch_diameter_mm, 3, mech_thread_pitch_diameter(&thread) * 1e3, 0.0005);
        book_grid_cell(b, table[i].lead_deg, 2, mech_thread_lead_angle(&thread) * 180.0 / TR_PI, 0.005);
    }
    book_grid_end(b);
}

/* Three screws of Shigley's; collars are not ours and are added where the book's total is shown. */
static void worked_screws(book *b)
{
    const mech__screw jack = {.mean_m = 0.030, .lead_m = 0.008, .friction = 0.08, .half_rad = 0.0};
    const double collar = 0.08 * 6400.0 * 0.040 / 2.0;
    const double raise = mech__screw_raise(&jack, 6400.0);
    book_source(b, "Shigley's Mechanical Engineering Design (10th ed.), Example 8-1", MEMORY);
    book_half(b, "square thread 32 mm, double start, 6.4 kN: raise, with collar", "N m", 26.18, 2, raise + collar);
    book_half(b, "  lower, with collar", "N m", 9.77, 2, mech__screw_lower(&jack, 6400.0) + collar);
    book_half(b, "  efficiency", "", 0.311, 3, 6400.0 * jack.lead_m / (2.0 * TR_PI * (raise + collar)));
    book_source(b, "the same, its steps worked out", MEMORY_WORKED);
    book_half(b, "  raise, thread alone", "N m", 15.937, 3, raise);
    book_half(b, "  lower, thread alone", "N m", -0.466, 3, mech__screw_lower(&jack, 6400.0));
    const mech__screw press = {.mean_m = 0.0225, .lead_m = 0.005, .friction = 0.08, .half_rad = 0.0};
    book_source(b, "Shigley's Mechanical Engineering Design, answer to Problem 8-4", QUOTED);
    book_half(b, "square thread, dm 22.5 mm, lead 5 mm, 6 kN: raise", "N m", 10.23, 2,
              mech__screw_raise(&press, 6000.0));
    book_half(b, "  lower", "N m", 0.622, 3, mech__screw_lower(&press, 6000.0));
    const mech__screw acme = {
        .mean_m = 2.75 * TR_INCH_M, .lead_m = 0.5 * TR_INCH_M, .friction = 0.05, .half_rad = 14.5 * TR_PI / 180.0};
    book_source(b, "Shigley's Mechanical Engineering Design, answer to Problem 8-6", QUOTED);
    book_within(b, "Acme thread, dm 2.75 in, lead 0.5 in, 2,500 lbf: raise", "lbf in", 377.6, 1,
                mech__screw_raise(&acme, 2500.0 * TR_LBF_N) / LBF_IN, 0.1,
                "the answer takes 1.033 for 1/cos 14.5 degrees");
}

static void stud_torques(book *b)
{
    static const double friction[] = {0.11, 0.15, 0.30, 0.50};
    static const struct {
        const char *raise_name, *lower_name;
        double major_in, per_inch, raise[4], lower[4];
    } stud[] = {
        {"1/4-28 raise", "1/4-28 lower", 0.2500, 28.0, {6.07, 7.66, 13.73, 21.98}, {2.60, 4.15, 9.91, 17.43}},
        {"5/16-24 raise", "5/16-24 lower", 0.3125, 24.0, {7.47, 9.48, 17.10, 27.45}, {3.43, 5.38, 12.64, 22.14}},
        {"3/8-24 raise", "3/8-24 lower", 0.3750, 24.0, {8.66, 11.10, 20.34, 32.84}, {4.62, 7.00, 15.88, 27.54}},
    };
    book_words(b, "Torque of one stud at 300 lbf, lbf in, by friction: Shigley eq. 8-1, 8-2, 8-5 (transcribed, worked "
                  "out). Published / ours; tolerance half of the last digit.");
    book_grid(b, "stud | 0.11 | 0.15 | 0.30 | 0.50");
    book_source(b, "Shigley eq. 8-1, 8-2, 8-5", COPIED_WORKED);
    for (int i = 0; i < 3; i++) {
        for (int lower = 0; lower < 2; lower++) {
            book_grid_line(b, lower ? stud[i].lower_name : stud[i].raise_name);
            for (int f = 0; f < 4; f++) {
                const mech_thread thread = inch_thread(stud[i].major_in, stud[i].per_inch, friction[f]);
                const double force = 300.0 * TR_LBF_N;
                const double ours = lower ? mech_thread_lower(&thread, force) : mech_thread_raise(&thread, force);
                book_grid_cell(b, lower ? stud[i].lower[f] : stud[i].raise[f], 2, ours / LBF_IN, 0.005);
            }
        }
    }
    book_grid_end(b);
}

/* Friction at which lowering takes no torque, by halving. */
static double locking_limit(double major_in, double per_inch)
{
    double low = 0.0;
    double high = 0.2;
    for (int i = 0; i < 60; i++) {
        const double middle = 0.5 * (low + high);
        const mech_thread thread = inch_thread(major_in, per_inch, middle);
        if (mech_thread_lower(&thread, 1.0) < 0.0) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return low;
}

static void metric_and_locking(book *b)
{
    const mech_thread m6 = {.pitch_m = 1e-3, .major_m = 6e-3, .friction = 0.15};
    const mech_thread m8 = {.pitch_m = 1.25e-3, .major_m = 8e-3, .friction = 0.15};
    book_source(b, "Shigley eq. 8-1, 8-2, 8-5", COPIED_WORKED);
    book_half(b, "M6x1 at 1 kN, friction 0.15: raise", "N m", 0.6290, 4, mech_thread_raise(&m6, 1000.0));
    book_half(b, "  lower", "N m", 0.3011, 4, mech_thread_lower(&m6, 1000.0));
    book_half(b, "M8x1.25: raise", "N m", 0.8294, 4, mech_thread_raise(&m8, 1000.0));
    book_half(b, "  lower", "N m", 0.4195, 4, mech_thread_lower(&m8, 1000.0));
    book_source(b, "Shigley eq. 8-3", COPIED_WORKED);
    book_half(b, "friction at which it locks itself: 1/4-28", "", 0.0434, 4, locking_limit(0.25, 28.0));
    book_half(b, "  5/16-24", "", 0.0402, 4, locking_limit(0.3125, 24.0));
    book_half(b, "  3/8-24", "", 0.0330, 4, locking_limit(0.375, 24.0));
}

static mech_turnbuckle of_threads(double pitch_m, double major_m)
{
    const mech_thread thread = {.pitch_m = pitch_m, .major_m = major_m, .friction = 0.15};
    return (mech_turnbuckle){
        .anchor = thread, .cable = thread, .body_m = 0.100, .min_engaged_diameters = 1.0, .twist_release = 0.5};
}

static void take_up(book *b)
{
    static const struct {
        const char *name;
        double pitch_m, major_m, per_turn_mm, one_diameter;
        int decimals, turn_decimals;
    } table[] = {
        {"1/4-28", TR_INCH_M / 28.0, 0.25 * TR_INCH_M, 1.8143, 7.0, 4, 1},
        {"5/16-24", TR_INCH_M / 24.0, 0.3125 * TR_INCH_M, 2.1167, 7.5, 4, 1},
        {"1/4-20", TR_INCH_M / 20.0, 0.25 * TR_INCH_M, 2.540, 5.0, 3, 1},
        {"5/16-18", TR_INCH_M / 18.0, 0.3125 * TR_INCH_M, 2.822, 5.625, 3, 3},
        {"M6x1", 1e-3, 6e-3, 2.000, 6.0, 3, 1},
        {"M8x1.25", 1.25e-3, 8e-3, 2.500, 6.4, 3, 1},
    };
    book_words(
        b, "Take-up per turn of the body, the stud held (geometry), and threads that make one diameter of engagement "
           "(machine-design practice; NASA-STD-5020, from memory). Published / ours; tolerance half of the last "
           "digit.");
    book_grid(b, "turnbuckle | take-up, mm a turn | one diameter, turns");
    book_source(b, "geometry of two opposite threads", MEMORY_WORKED);
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        const mech_turnbuckle t = of_threads(table[i].pitch_m, table[i].major_m);
        const mech_engaged from = {10.0, 10.0, 0.0};
        const mech_engaged to = {11.0, 11.0, 0.0};
        book_grid_line(b, table[i].name);
        book_grid_cell(b, table[i].per_turn_mm, table[i].decimals, mech_engaged_take_up(&t, &to, &from) * 1e3,
                       0.5 * pow(10.0, -table[i].decimals));
        book_grid_cell(b, table[i].one_diameter, table[i].turn_decimals, mech_min_turns(&t, &t.anchor),
                       0.5 * pow(10.0, -table[i].turn_decimals));
    }
    book_grid_end(b);
}

/* Turns that raise the tension of a row between rigid ends by rise_n: turned by the program, then counted. */
static double turns_for(double length_m, double ea_n, const mech_turnbuckle *turnbuckle, double rise_n)
{
    mech_structure made = posts_strand(length_m);
    made.strand.ea_n = ea_n;
    static mech_run run;
    posts_build(&made, &run);
    mech_rows rows = {.is_strung = {true}};
    mech_engaged engaged = {.anchor_turns = 12.0, .cable_turns = 12.0};
    TR_ASSERT(mech_run_pull(&run, &rows, 0, 600.0).converged);
    const mech_turn_result turned = mech_turn_body(&run, &rows, 0, turnbuckle, &engaged, 0.5, true, (double)INFINITY);
    TR_ASSERT(turned.converged && turned.end == MECH_TURN_DONE);
    return 0.5 * rise_n / (rows.tension_n[0] - 600.0);
}

static void turns(book *b)
{
    const mech_turnbuckle unf = of_threads(TR_INCH_M / 28.0, 0.25 * TR_INCH_M);
    const mech_turnbuckle m6 = of_threads(1e-3, 6e-3);
    const mech_turnbuckle m20 = of_threads(2.5e-3, 20e-3);
    book_source(b, "open validation log of EN 1993-1-11 cable tools, hand calculation", QUOTED);
    book_half(b, "M20, 13 kN on 10.12 m of EA 38,080 kN: turns", "", 0.691, 3,
              turns_for(10.12, 38080e3, &m20, 13000.0));
    book_source(b, "geometry and Hooke's law", FOUND_WORKED);
    book_half(b, "1/4-28, 1/8 in 1x19, 6 ft, 225 lbf: turns", "", 1.290, 3,
              turns_for(6.0 * TR_FOOT_M, 782230.0, &unf, 1000.8));
    book_half(b, "  20 ft", "", 4.299, 3, turns_for(20.0 * TR_FOOT_M, 782230.0, &unf, 1000.8));
    book_half(b, "M6, 4 mm 1x19, 3 m, 1 kN: turns", "", 1.208, 3, turns_for(3.0, 1241.5e3, &m6, 1000.0));
}

static void pin_torque(book *b)
{
    static const struct {
        const char *what;
        double friction, torque;
    } table[] = {{"torque at the pin, two 1/4-28 threads at 300 lbf, friction 0.11", 0.11, 12.13},
                 {"  0.15", 0.15, 15.33},
                 {"  0.30", 0.30, 27.46},
                 {"  0.50", 0.50, 43.97}};
    const mech_structure made = posts_strand(6.0);
    static mech_run run;
    posts_build(&made, &run);
    book_source(b, "Shigley eq. 8-1, 8-5, for both threads", COPIED_WORKED);
    for (int i = 0; i < 4; i++) {
        mech_turnbuckle t = of_threads(TR_INCH_M / 28.0, 0.25 * TR_INCH_M);
        t.anchor.friction = t.cable.friction = table[i].friction;
        mech_rows rows = {.is_strung = {true}};
        mech_engaged engaged = {.anchor_turns = 12.0, .cable_turns = 12.0};
        TR_ASSERT(mech_run_pull(&run, &rows, 0, 300.0 * TR_LBF_N).converged);
        const mech_turn_result turned = mech_turn_body(&run, &rows, 0, &t, &engaged, 1e-7, true, (double)INFINITY);
        book_within(b, table[i].what, "lbf in", table[i].torque, 2, turned.pin_n_m / LBF_IN, 0.0101,
                    "twice half of the last digit of one thread");
    }
}

void section_threads(book *b)
{
    book_section(b, "5. Turnbuckle",
                 "[test_thread](../tests/mech/test_thread.c), [test_turnbuckle](../tests/mech/test_turnbuckle.c)");
    geometry(b);
    worked_screws(b);
    metric_and_locking(b);
    stud_torques(b);
    take_up(b);
    turns(b);
    pin_torque(b);
}
