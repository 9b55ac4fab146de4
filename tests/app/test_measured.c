/* The file of a mock-up: what is read, and where each slip is told. */
#include "measured.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "near.h"
#include "tautrow/base/rng.h"
#include "tautrow/base/text.h"
#include "tautrow/base/units.h"

enum { ROWS = 4 };
static const double MOST_N = 9000.0;

typedef struct fixture {
    measured seen;
    tr_diags diags;
} fixture;

static tr_result read_text(fixture *f, const char *text)
{
    tr_diags_clear(&f->diags);
    return measured_read(text, strlen(text), ROWS, MOST_N, &f->seen, &f->diags);
}

static void expect(fixture *f, const char *text, int line, int column, const char *cell, const char *said)
{
    assert_int_equal(read_text(f, text), TR_INVALID);
    assert_true(f->diags.count >= 1);
    const tr_diag *first = &f->diags.item[0];
    if (first->line != line || first->column != column || strcmp(first->path, cell) != 0 ||
        strstr(first->text, said) == NULL) {
        print_error("for:\n%s\ngot %d:%d %s: %s\n", text, first->line, first->column, first->path, first->text);
        fail();
    }
}

static void quantities_and_a_unit_line_mean_the_same(void **state)
{
    fixture *f = *state;
    assert_int_equal(
        read_text(f, "# a note\n\npull,row,reading,row2,row1\n1,2,225 lbf, 1 kN ,\n2,1,500 N,,\"12 lbf\"\n"), TR_OK);
    assert_int_equal(f->seen.pull_count, 2);
    assert_int_equal(f->seen.pull[0].line, 4);
    assert_int_equal(f->seen.pull[0].row, 1);
    assert_near(f->seen.pull[0].reading_n, 225 * TR_LBF_N, 1e-9);
    assert_true(f->seen.pull[0].is_read[1]);
    assert_false(f->seen.pull[0].is_read[0]);
    assert_near(f->seen.pull[0].read_n[1], 1000, 1e-9);
    assert_near(f->seen.pull[1].read_n[0], 12 * TR_LBF_N, 1e-9);
    assert_int_equal(read_text(f, "pull,row,reading,row1\r\nunit,,lbf,N\r\n1,1,225,1001\r\n2,1,1 kN,0\r\n"), TR_OK);
    assert_near(f->seen.pull[0].reading_n, 225 * TR_LBF_N, 1e-9);
    assert_near(f->seen.pull[0].read_n[0], 1001, 1e-9);
    assert_near(f->seen.pull[1].reading_n, 1000, 1e-9);
    assert_true(f->seen.pull[1].is_read[0]); /* 0 is a reading: the cable is slack */
}

/* Where the comma is the decimal sign, spreadsheets part cells with semicolons. */
static void semicolons_go_with_decimal_commas(void **state)
{
    fixture *f = *state;
    assert_int_equal(read_text(f, "pull;row;reading;row1\nunit;;N;N\n1;1;225,5;1,25 kN\n;;;\n"), TR_OK);
    assert_near(f->seen.pull[0].reading_n, 225.5, 1e-9);
    assert_near(f->seen.pull[0].read_n[0], 1250, 1e-9);
}

static void each_slip_is_told_at_its_place(void **state)
{
    fixture *f = *state;
    const char *const head = "pull,row,reading,row1,row2\n";
    static const struct {
        const char *body;
        int line, column;
        const char *cell, *said;
    } slips[] = {
        {"1,1,225,1 N\n", 2, 5, "reading", "unit"},
        {"1,1,225 mm,1 N\n", 2, 5, "reading", "225 mm"},
        {"1,1,0 N,1 N\n", 2, 5, "reading", "above zero"},
        {"1,1,5 N,-1 N\n", 2, 9, "row1", "negative"},
        {"1,1,5 N,,  nan N\n", 2, 12, "row2", "nan"},
        {"1,1,5 N,,inf N\n", 2, 10, "row2", "inf"},
        {"1,1,5 N,,x\n", 2, 10, "row2", "x"},
        {"1,1,5 N,,10 kN\n", 2, 10, "row2", "more than the cable bears"},
        {"2,1,5 N\n", 2, 1, "pull", "expected 1"},
        {"1,1,5 N\n1,1,5 N\n", 3, 1, "pull", "expected 2"},
        {"1,5,5 N\n", 2, 3, "row", "1 to 4"},
        {"1,1.5,5 N\n", 2, 3, "row", "1 to 4"},
        {"1,,5 N\n", 2, 3, "row", "1 to 4"},
        {"1,1,,5 N\n", 2, 5, "reading", "unit"},
        {"1,1\n", 2, 1, "pull", "2 cells"},
        {"1,1,5 N,,,7 N\n", 2, 10, "row2", "6 cells"},
        {"unit,,mm,N,N\n1,1,5 N\n", 2, 7, "reading", "no unit of force"},
        {"1,1,5 N,1234567890123456789012345678901234567890123456789 N\n", 2, 9, "row1", "too long"},
    };
    for (size_t i = 0; i < sizeof slips / sizeof *slips; i++) {
        char text[256];
        (void)tr_format(text, sizeof text, "%s%s", head, slips[i].body);
        expect(f, text, slips[i].line, slips[i].column, slips[i].cell, slips[i].said);
    }
}

static void headers_are_checked(void **state)
{
    fixture *f = *state;
    expect(f, "pull,row,read,row1\n", 1, 10, "", "header line");
    expect(f, "pull,row,reading,row5\n", 1, 18, "", "rows up to 4");
    expect(f, "pull,row,reading,row1,row1\n", 1, 23, "", "already");
    expect(f, "pull,row,reading\n", 1, 10, "", "names no row");
    expect(f, "", 1, 1, "", "no pull");
    expect(f, "pull,row,reading,row1\n", 2, 1, "", "no pull");
}

static void limits_are_told(void **state)
{
    fixture *f = *state;
    enum { CAP = 8192 };
    char *text = malloc(CAP);
    assert_non_null(text);
    (void)tr_copy(text, CAP, "pull,row,reading,row1\n");
    for (int k = 1; k <= MEASURED_MAX_PULLS + 1; k++) {
        (void)tr_append(text, CAP, "%d,1,5 N,5 N\n", k);
    }
    expect(f, text, MEASURED_MAX_PULLS + 2, 1, "pull", "more than 80 pulls");
    free(text);
    char wide[256] = "pull,row,reading";
    for (int i = 0; i < 60; i++) {
        (void)tr_append(wide, sizeof wide, ",");
    }
    expect(f, wide, 1, 58, "", "more cells");
}

/* Whatever a disk or a hand makes of a file, it is read or refused. */
static void torn_files_are_read_or_refused(void **state)
{
    fixture *f = *state;
    static const char good[] = "pull,row,reading,row1,row2\nunit,,lbf,lbf,lbf\n1,1,225,1,\"2\"\n2,2,225 N,,3\n";
    static const char dirt[] = ",;\n\r\"# \t-9.e\xC3\xFFuN";
    tr_rng rng = tr_rng_seed(5);
    for (int i = 0; i < 4000; i++) {
        char text[sizeof good];
        memcpy(text, good, sizeof good);
        const int changes = 1 + (int)(tr_rng_uniform(&rng) * 4.0);
        for (int k = 0; k < changes; k++) {
            text[(size_t)(tr_rng_uniform(&rng) * (sizeof good - 1))] =
                dirt[(size_t)(tr_rng_uniform(&rng) * (sizeof dirt - 1))];
        }
        const tr_result result = read_text(f, text);
        assert_true(result == TR_OK ? f->diags.count == 0 && f->seen.pull_count > 0 : f->diags.count > 0);
    }
}

static int set_up(void **state)
{
    *state = calloc(1, sizeof(fixture));
    return *state == NULL ? -1 : 0;
}

static int tear_down(void **state)
{
    free(*state);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quantities_and_a_unit_line_mean_the_same),
        cmocka_unit_test(semicolons_go_with_decimal_commas),
        cmocka_unit_test(each_slip_is_told_at_its_place),
        cmocka_unit_test(headers_are_checked),
        cmocka_unit_test(limits_are_told),
        cmocka_unit_test(torn_files_are_read_or_refused),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
