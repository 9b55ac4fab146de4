/* Rows together: what pulling one does to the others, against examples of sequential post-tensioning and against
 * springs on one support; then the pull sheet that undoes it. */
#include "sections.h"

#include <math.h>

#include "posts.h"
#include "tautrow/base/assert.h"
#include "tautrow/mech/pullsheet.h"

static const mech_limits NO_LIMITS = {(double)INFINITY, (double)INFINITY};
static const mech_rows IDLE = {.is_strung = {false}};

static void pull_each(const mech_run *run, mech_rows *rows, const int order[], int count, double tension_n)
{
    for (int turn = 0; turn < count; turn++) {
        TR_ASSERT(mech_run_pull(run, rows, order[turn], tension_n).converged);
    }
}

/* ---- a 4x4 post with three and with twelve rows ---- */

static void three_rows(book *b)
{
    static const struct {
        int order[3];
        const char *what[3];
        double end_lbf[3];
    } table[] = {{{0, 1, 2}, {"bottom to top: row 1", "  row 2", "  row 3"}, {191.638, 205.792, 225.0}},
                 {{1, 0, 2}, {"middle first: row 1", "  row 2", "  row 3"}, {213.148, 185.515, 225.0}},
                 {{0, 2, 1}, {"ends first: row 1", "  row 2", "  row 3"}, {191.035, 225.0, 204.724}}};
    static const double flexibility[4] = {3.4743, 4.2463, 2.7022, 6.1765};
    mech_structure made = posts_4x4();
    posts_even_rows(&made, 3, 9.75 * TR_INCH_M, 9.75 * TR_INCH_M);
    posts_prop(&made, 39.0 * TR_INCH_M, 0.0);
    static mech_run run;
    posts_build(&made, &run);
    const double unit = 1e-5 * TR_INCH_M / TR_LBF_N;
    book_source(b, "AISC Manual, Table 3-23 case 8, own earlier computation", FOUND_WORKED);
    book_half(b, "three rows on a simple 4x4 of 39 in: f11", "1e-5 in/lbf", flexibility[0], 4,
              run.flexibility[0][0] / unit);
    book_half(b, "  f12", "1e-5 in/lbf", flexibility[1], 4, run.flexibility[0][1] / unit);
    book_half(b, "  f13", "1e-5 in/lbf", flexibility[2], 4, run.flexibility[0][2] / unit);
    book_half(b, "  f22", "1e-5 in/lbf", flexibility[3], 4, run.flexibility[1][1] / unit);
    for (int i = 0; i < 3; i++) {
        mech_rows rows = IDLE;
        pull_each(&run, &rows, table[i].order, 3, 225.0 * TR_LBF_N);
        for (int row = 0; row < 3; row++) {
            book_half(b, table[i].what[row], "lbf", table[i].end_lbf[row], 3, rows.tension_n[row] / TR_LBF_N);
        }
    }
}

static double least_lbf(const mech_rows *rows, int count)
{
    double least = (double)INFINITY;
    for (int row = 0; row < count; row++) {
        least = fmin(least, rows->tension_n[row] / TR_LBF_N);
    }
    return least;
}

static double mean_lbf(const mech_rows *rows, int count)
{
    double sum = 0.0;
    for (int row = 0; row < count; row++) {
        sum += rows->tension_n[row] / TR_LBF_N;
    }
    return sum / count;
}

static void twelve_rows(book *b)
{
    static const struct {
        int order[12];
        const char *what;
        double least_lbf, mean_lbf;
    } table[] = {{{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}, "twelve rows, bottom to top: least", 123.51, 171.86},
                 {{5, 6, 4, 7, 3, 8, 2, 9, 1, 10, 0, 11}, "  middle out: least", 68.71, 174.41},
                 {{0, 11, 1, 10, 2, 9, 3, 8, 4, 7, 5, 6}, "  ends in: least", 132.74, 168.15}};
    static const double least[4] = {194.94, 217.26, 223.13, 224.55};
    static const char *const pass_name[4] = {"  bottom to top, second pass: least", "  third pass", "  fourth pass",
                                             "  fifth pass"};
    mech_structure made = posts_4x4();
    posts_even_rows(&made, 12, 3.0 * TR_INCH_M, 3.0 * TR_INCH_M);
    posts_prop(&made, 39.0 * TR_INCH_M, 0.0);
    static mech_run run;
    posts_build(&made, &run);
    for (int i = 0; i < 3; i++) {
        mech_rows rows = IDLE;
        pull_each(&run, &rows, table[i].order, 12, 225.0 * TR_LBF_N);
        book_half(b, table[i].what, "lbf", table[i].least_lbf, 2, least_lbf(&rows, 12));
        book_half(b, "  mean", "lbf", table[i].mean_lbf, 2, mean_lbf(&rows, 12));
    }
    mech_rows rows = IDLE;
    pull_each(&run, &rows, table[0].order, 12, 225.0 * TR_LBF_N);
    for (int pass = 0; pass < 4; pass++) {
        pull_each(&run, &rows, table[0].order, 12, 225.0 * TR_LBF_N);
        book_half(b, pass_name[pass], "lbf", least[pass], 2, least_lbf(&rows, 12));
    }
}

/* ---- springs on one support ---- */

/* count equal rows at one height of a post that only its base lets turn; ratio = stiffness of a row over that of the
 * support. A post of height 1 m, rows a hair apart, as rows must rise. */
static void build_bundle(mech_run *run, int count, double ratio)
{
    mech_structure made = posts_4x4();
    made.post[MECH_NEAR].elastic_pa = 1e28;
    made.post[MECH_NEAR].base_n_m_rad = made.strand.ea_n / made.bay_m[0] / ratio;
    posts_even_rows(&made, count, 1.0, 1e-9);
    posts_build(&made, run);
}

/* Share of its tension that each row has lost when all have been pulled once to the same, and the mean of that. */
static double bundle_losses(int count, double ratio, double loss[])
{
    static mech_run run;
    mech_rows rows = IDLE;
    double sum = 0.0;
    build_bundle(&run, count, ratio);
    for (int row = 0; row < count; row++) {
        TR_ASSERT(mech_run_pull(&run, &rows, row, 1000.0).converged);
    }
    for (int row = 0; row < count; row++) {
        loss[row] = 1.0 - rows.tension_n[row] / 1000.0;
        sum += loss[row];
    }
    return sum / count;
}

static void bundles(book *b)
{
    static const struct {
        int count;
        double ratio;
        const char *what[4];
        double end[4];
    } table[] = {
        {4, 0.02, {"4 rows, k/K 0.02: row 1", "  row 2", "  row 3", "  row 4"}, {0.942293, 0.961901, 0.981132, 1.0}},
        {4, 0.1, {"4 rows, k/K 0.1: row 1", "  row 2", "  row 3", "  row 4"}, {0.748834, 0.839744, 0.923077, 1.0}},
        {3, 0.1, {"3 rows, k/K 0.1: row 1", "  row 2", "  row 3", ""}, {0.825758, 0.916667, 1.0, 0.0}}};
    static const struct {
        int count;
        double ratio;
        const char *what;
        double mean;
    } means[] = {{4, 0.02, "mean loss, 4 rows, k/K 0.02", 0.028668},
                 {4, 0.1, "  4 rows, k/K 0.1", 0.122086},
                 {10, 0.02, "  10 rows, k/K 0.02", 0.080008}};
    double loss[MECH_MAX_ROWS];
    book_source(b, "mechanics: equal springs on one support, each pulled once", MEMORY_WORKED);
    for (int i = 0; i < 3; i++) {
        (void)bundle_losses(table[i].count, table[i].ratio, loss);
        for (int row = 0; row < table[i].count; row++) {
            book_half(b, table[i].what[row], "", table[i].end[row], 6, 1.0 - loss[row]);
        }
    }
    for (int i = 0; i < 3; i++) {
        book_half(b, means[i].what, "", means[i].mean, 6, bundle_losses(means[i].count, means[i].ratio, loss));
    }
}

/* ---- published examples of post-tensioning ---- */

/* The handbooks count each tendon's loss from the full pull of every later one, as if no tendon gave way while another
 * is pulled: the first order of what happens. Tendons of a hundred-thousandth of the area show it. */
static const double SMALL = 1e-5;

/* What happens with tendons as they are: mean loss of equal springs on one support, T_i = T (1 - sum over later j of
 * k/(K + (j - 1) k)). */
static double mean_loss(int count, double ratio)
{
    double sum = 0.0;
    for (int i = 1; i <= count; i++) {
        for (int j = i + 1; j <= count; j++) {
            sum += ratio / (1.0 + (j - 1) * ratio);
        }
    }
    return sum / count;
}

static void example_a(book *b)
{
    /* 450 mm square, tendons of 200 mm2 at e = 100 mm, modular ratio 6 */
    const double area = 450.0 * 450.0;
    const double inertia = area * area / 12.0;
    const double ratio = 6.0 * 200.0 * (1.0 / area + 100.0 * 100.0 / inertia);
    double loss[MECH_MAX_ROWS];
    const double mean = bundle_losses(3, ratio * SMALL, loss) / SMALL * 1500.0;
    book_source(b, "GATE Civil Engineering 2022, set 2, question 29 (official answer)", FOUND);
    book_half(b, "example A, three tendons to 1,500 MPa: mean loss, first order", "MPa", 14.16, 2, mean);
    book_source(b, "the same, its steps worked out", FOUND_WORKED);
    book_half(b, "  first tendon", "MPa", 28.313, 3, loss[0] / SMALL * 1500.0);
    book_half(b, "  second tendon", "MPa", 14.156, 3, loss[1] / SMALL * 1500.0);
    book_half(b, "  third tendon", "MPa", 0.0, 3, loss[2] / SMALL * 1500.0);
    book_source(b, "mechanics: equal springs on one support", MECHANICS_WORKED);
    book_half(b, "  mean loss, tendons as they are", "MPa", mean_loss(3, ratio) * 1500.0, 6,
              bundle_losses(3, ratio, loss) * 1500.0);
}

static void example_b(book *b)
{
    static const char *const names[4] = {"example B, four tendons to 150,000 psi: first, first order", "  second",
                                         "  third", "  fourth"};
    static const double published[4] = {3600.0, 2400.0, 1200.0, 0.0};
    const double ratio = 6.0 * 0.3 / 225.0;
    double loss[MECH_MAX_ROWS];
    const double mean = bundle_losses(4, ratio * SMALL, loss) / SMALL * 150000.0;
    book_source(b, "Lin and Burns, Design of Prestressed Concrete Structures (3rd ed. 1981), Example 4-2", MEMORY);
    for (int row = 0; row < 4; row++) {
        book_half(b, names[row], "psi", published[row], 0, loss[row] / SMALL * 150000.0);
    }
    book_half(b, "  mean", "psi", 1800.0, 0, mean);
    book_source(b, "mechanics: equal springs on one support", MECHANICS_WORKED);
    book_half(b, "  mean loss, tendons as they are", "psi", mean_loss(4, ratio) * 150000.0, 4,
              bundle_losses(4, ratio, loss) * 150000.0);
}

static void factors(book *b)
{
    static const struct {
        const char *what;
        double factor;
        int count;
    } table[] = {{"factor of the mean loss, 1 tendon", 0.0, 1},
                 {"  2 tendons", 0.25, 2},
                 {"  3 tendons", 0.3333, 3},
                 {"  4 tendons", 0.375, 4},
                 {"  40 tendons, (N - 1)/2N", 0.4875, 40}};
    double loss[MECH_MAX_ROWS];
    book_source(b, "AASHTO LRFD 5.9.3.2.3b", MEMORY);
    for (int i = 0; i < 5; i++) {
        /* the loss of the first order: N tendons at once on the support would cost N k/K */
        const double ratio = 1e-6 / table[i].count;
        const double mean = bundle_losses(table[i].count, ratio, loss) / (ratio * table[i].count);
        book_half(b, table[i].what, "", table[i].factor, 4, mean);
    }
    book_source(b, "Nawy, Prestressed Concrete, Example 3.2", MEMORY);
    const double ten = bundle_losses(10, 1e-7, loss);
    book_half(b, "ten tendons singly: mean over the loss of the first", "", 0.5, 4, ten / loss[0]);
}

/* ---- the pull sheet ---- */

static void overpull(book *b)
{
    static const double reading[4] = {1.272727, 1.166667, 1.076923, 1.0};
    static const char *const names[4] = {"4 rows, k/K 0.1, all to end at 1: pull row 1 to", "  row 2 to", "  row 3 to",
                                         "  row 4 to"};
    static const double once[1] = {1.0};
    static const int order[4] = {0, 1, 2, 3};
    static mech_run run;
    static mech_sheet sheet;
    build_bundle(&run, 4, 0.1);
    mech_pull_sheet(&run, &IDLE, order, 4, once, 1, 1000.0, NO_LIMITS, &sheet);
    TR_ASSERT(sheet.status == MECH_SHEET_OK && sheet.pull_count == 4);
    book_source(b, "mechanics: backward recursion", MEMORY_WORKED);
    for (int turn = 0; turn < 4; turn++) {
        book_half(b, names[turn], "", reading[turn], 6, sheet.pull[turn].reading_n / 1000.0);
    }
    mech_rows rows = IDLE;
    for (int turn = 0; turn < 4; turn++) {
        TR_ASSERT(mech_run_pull(&run, &rows, sheet.pull[turn].row, sheet.pull[turn].reading_n).converged);
    }
    double worst = 0.0;
    for (int row = 0; row < 4; row++) {
        worst = fmax(worst, fabs(rows.tension_n[row] / 1000.0 - 1.0));
    }
    book_within(b, "  pulled so, the row farthest from 1 is off by", "", 0.0, 6, worst, 1e-6,
                "what docs/mechanics.md 4 promises of a sheet");
}

void section_run(book *b)
{
    book_section(b, "3. The whole run", "[test_solve](../tests/mech/test_solve.c)");
    book_words(b,
               "The nearest published matter is the loss of tendons that are stressed one after another. There the "
               "concrete plays the post. The handbooks reckon it to the first order, which tendons thin enough show; "
               "tendons as they are lose a little less.");
    three_rows(b);
    twelve_rows(b);
    bundles(b);
    example_a(b);
    example_b(b);
    factors(b);
    book_section(b, "4. The pull sheet", "[test_pullsheet](../tests/mech/test_pullsheet.c)");
    overpull(b);
}
