/* Reads the file of a mock-up: comma separated, one pull a line. Written by people in a spreadsheet, so every slip is
 * told with its line, its column and the cell's name, and nothing is guessed. */
#include "measured.h"

#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"
#include "tautrow/base/units.h"

enum { FIXED_CELLS = 3, MAX_CELLS = FIXED_CELLS + MECH_MAX_ROWS, CELL_CAP = 48, UNIT_CAP = 16, ROW_NONE = -1 };

/* One line cut into its cells. */
typedef struct cells {
    int line;
    int count;
    int column[MAX_CELLS]; /* where each starts, from 1 */
    char text[MAX_CELLS][CELL_CAP];
} cells;

typedef struct reader {
    int row_count;
    double most_n;
    char comma; /* what parts the cells: ',' or ';' (then a decimal comma is understood too) */
    int line;
    bool has_head;
    int columns;
    int row_of[MAX_CELLS];          /* row of a column; ROW_NONE for the first three */
    char name[MAX_CELLS][CELL_CAP]; /* as the header line says */
    char unit[MAX_CELLS][UNIT_CAP]; /* of the unit line; empty = none */
    measured *out;
    tr_diags *diags;
} reader;

static void complain(reader *r, const cells *line, int cell, const char *text)
{
    const bool is_named = r->has_head && cell >= 0 && cell < r->columns;
    tr_diags_add(r->diags, TR_ERROR, line->line, cell < 0 ? 1 : line->column[cell], is_named ? r->name[cell] : "", "%s",
                 text);
}

/* ---- lines and cells ---- */

/* Copies what stands between two commas without the blanks and the quotes around it; false where it is too long. */
static bool copy_cell(const char *from, size_t length, char out[CELL_CAP], int *skipped)
{
    const char *start = from;
    while (length > 0 && (*from == ' ' || *from == '\t')) {
        from++;
        length--;
    }
    while (length > 0 && (from[length - 1] == ' ' || from[length - 1] == '\t')) {
        length--;
    }
    if (length >= 2 && from[0] == '"' && from[length - 1] == '"') {
        from++;
        length -= 2;
    }
    *skipped = (int)(from - start);
    return tr_format(out, CELL_CAP, "%.*s", (int)length, from) && length < CELL_CAP;
}

static bool cut(reader *r, const char *text, cells *out)
{
    const char breaks[] = {r->comma, '\0'};
    out->line = r->line;
    out->count = 0;
    for (const char *at = text;; at++) {
        const size_t length = strcspn(at, breaks);
        int skipped = 0;
        if (out->count == MAX_CELLS) {
            out->column[0] = (int)(at - text) + 1;
            complain(r, out, 0, "more cells than a run has rows");
            return false;
        }
        const bool fits = copy_cell(at, length, out->text[out->count], &skipped);
        out->column[out->count++] = (int)(at - text) + 1 + skipped;
        if (!fits) {
            complain(r, out, out->count - 1, "the cell is too long to be a number with a unit");
            return false;
        }
        at += length;
        if (*at == '\0') {
            break;
        }
    }
    return true;
}

/* ---- header and units ---- */

/* "row7" is row 6 from 0; ROW_NONE where it is no such name. */
static int row_named(const reader *r, const char *name)
{
    double number = 0.0;
    if (strncmp(name, "row", 3) != 0) {
        return ROW_NONE;
    }
    const size_t used = tr_double_parse(name + 3, &number);
    if (used == 0 || name[3 + used] != '\0' || number < 1.0 || number > (double)r->row_count ||
        number != (double)(int)number) {
        return ROW_NONE;
    }
    return (int)number - 1;
}

static bool is_row_taken(const reader *r, int columns, int row)
{
    for (int i = FIXED_CELLS; i < columns; i++) {
        if (r->row_of[i] == row) {
            return true;
        }
    }
    return false;
}

static bool read_head(reader *r, const cells *line)
{
    static const char *const fixed[FIXED_CELLS] = {"pull", "row", "reading"};
    char why[TR_TEXT_CAP];
    for (int i = 0; i < line->count; i++) {
        const int row = i < FIXED_CELLS ? ROW_NONE : row_named(r, line->text[i]);
        if (i < FIXED_CELLS ? strcmp(line->text[i], fixed[i]) != 0 : row == ROW_NONE) {
            (void)tr_format(
                why, sizeof why,
                "the header line must be \"pull,row,reading,row1,row2,...\" with rows up to %d, not \"%s\" here",
                r->row_count, line->text[i]);
            complain(r, line, i, why);
            return false;
        }
        if (row != ROW_NONE && is_row_taken(r, i, row)) {
            complain(r, line, i, "this row has a column already");
            return false;
        }
        r->row_of[i] = row;
        (void)tr_copy(r->name[i], CELL_CAP, line->text[i]);
    }
    if (line->count <= FIXED_CELLS) {
        complain(r, line, line->count - 1, "the header line names no row whose reading is given: row1, row2, ...");
        return false;
    }
    r->columns = line->count;
    r->has_head = true;
    return true;
}

static void read_units(reader *r, const cells *line)
{
    char why[TR_TEXT_CAP];
    for (int i = 2; i < line->count && i < r->columns; i++) {
        char probe[CELL_CAP];
        double value = 0.0;
        (void)tr_format(probe, sizeof probe, "1 %s", line->text[i]);
        if (!tr_copy(r->unit[i], UNIT_CAP, line->text[i]) ||
            (line->text[i][0] != '\0' && !tr_quantity_parse(probe, TR_DIM_FORCE, &value, why, sizeof why))) {
            (void)tr_format(why, sizeof why, "\"%s\" is no unit of force: %s", line->text[i],
                            tr_dim_units(TR_DIM_FORCE));
            complain(r, line, i, why);
            r->unit[i][0] = '\0';
        }
    }
}

/* ---- a pull ---- */

static bool is_bare(const char *text)
{
    double value = 0.0;
    const size_t used = tr_double_parse(text, &value);
    return used > 0 && text[used] == '\0';
}

/* A force at or above least. Empty cells are the caller's. */
static bool read_force(reader *r, const cells *line, int cell, bool may_be_zero, double *out)
{
    char text[CELL_CAP + UNIT_CAP];
    char why[TR_TEXT_CAP];
    char told[TR_TEXT_CAP];
    double value = 0.0;
    (void)tr_copy(text, sizeof text, line->text[cell]);
    char *point = r->comma == ';' ? strchr(text, ',') : NULL;
    if (point != NULL) {
        *point = '.';
    }
    if (r->unit[cell][0] != '\0' && is_bare(text)) {
        (void)tr_append(text, sizeof text, " %s", r->unit[cell]);
    }
    if (!tr_quantity_parse(text, TR_DIM_FORCE, &value, why, sizeof why)) {
        (void)tr_format(told, sizeof told, "\"%s\" %s", line->text[cell], why);
    } else if (value < 0.0 || (!may_be_zero && value <= 0.0)) {
        (void)tr_format(told, sizeof told, "\"%s\": %s", line->text[cell],
                        may_be_zero ? "a reading cannot be negative" : "a row is pulled to a reading above zero");
    } else if (value > r->most_n) {
        (void)tr_format(told, sizeof told, "\"%s\" is more than the cable bears: is the unit right", line->text[cell]);
    } else {
        *out = value;
        return true;
    }
    complain(r, line, cell, told);
    return false;
}

static bool read_whole(const char *text, int least, int most, int *out)
{
    double value = 0.0;
    const size_t used = tr_double_parse(text, &value);
    if (used == 0 || text[used] != '\0' || value < least || value > most || value != (double)(int)value) {
        return false;
    }
    *out = (int)value;
    return true;
}

static bool read_readings(reader *r, const cells *line, measured_pull *pull)
{
    bool fine = true;
    for (int i = FIXED_CELLS; i < line->count; i++) {
        if (line->text[i][0] != '\0') {
            const int row = r->row_of[i];
            pull->is_read[row] = read_force(r, line, i, true, &pull->read_n[row]);
            fine = fine && pull->is_read[row];
        }
    }
    return fine;
}

static void read_pull(reader *r, const cells *line)
{
    char why[TR_TEXT_CAP];
    measured_pull pull = {.line = line->line};
    int number = 0;
    int row = 0;
    const int next = r->out->pull_count + 1;
    if (line->count > r->columns || line->count < FIXED_CELLS) {
        (void)tr_format(why, sizeof why, "the line has %d cells, the header line %d", line->count, r->columns);
        complain(r, line, line->count < FIXED_CELLS ? 0 : r->columns - 1, why);
        return;
    }
    if (next > MEASURED_MAX_PULLS) {
        (void)tr_format(why, sizeof why, "more than %d pulls", MEASURED_MAX_PULLS);
        complain(r, line, 0, why);
        return;
    }
    bool fine = true;
    if (!read_whole(line->text[0], next, next, &number)) {
        (void)tr_format(why, sizeof why, "pulls are numbered 1, 2, 3...: expected %d, not \"%s\"", next, line->text[0]);
        complain(r, line, 0, why);
        fine = false;
    }
    if (!read_whole(line->text[1], 1, r->row_count, &row)) {
        (void)tr_format(why, sizeof why, "expected the row that was pulled, 1 to %d, not \"%s\"", r->row_count,
                        line->text[1]);
        complain(r, line, 1, why);
        fine = false;
    }
    fine = read_force(r, line, 2, false, &pull.reading_n) && fine;
    fine = read_readings(r, line, &pull) && fine;
    pull.row = fine ? row - 1 : 0;
    r->out->pull[r->out->pull_count++] =
        pull; /* kept even if bad, so that the numbers that follow are judged rightly */
}

static void read_line(reader *r, const char *text)
{
    cells *line = calloc(1, sizeof *line);
    if (line == NULL) {
        tr_diags_add(r->diags, TR_ERROR, r->line, 1, "", "not enough memory");
        return;
    }
    if (!r->has_head) {
        r->comma = strchr(text, ';') != NULL ? ';' : ',';
    }
    if (cut(r, text, line)) {
        if (!r->has_head) {
            (void)read_head(r, line);
        } else if (strcmp(line->text[0], "unit") == 0 && r->out->pull_count == 0) {
            read_units(r, line);
        } else {
            read_pull(r, line);
        }
    }
    free(line);
}

/* A line without a cell in it: blank, a comment, or what a spreadsheet leaves of an empty line. */
static bool is_empty(const char *text)
{
    return text[0] == '#' || text[strspn(text, " \t,;")] == '\0';
}

static void read_lines(reader *r, char *text)
{
    static const char mark[] = "\xEF\xBB\xBF"; /* some editors put it first */
    char *at = strncmp(text, mark, 3) == 0 ? text + 3 : text;
    bool is_last = false;
    while (!is_last) {
        char *end = at + strcspn(at, "\n");
        is_last = *end == '\0';
        *end = '\0';
        if (end > at && end[-1] == '\r') {
            end[-1] = '\0';
        }
        r->line++;
        if (!is_empty(at)) {
            read_line(r, at);
            if (!r->has_head) {
                return; /* without a header no line can be understood */
            }
        }
        at = end + 1;
    }
}

tr_result measured_read(const char *text, size_t size, int row_count, double most_n, measured *out, tr_diags *diags)
{
    const size_t before = diags->errors;
    reader *r = calloc(1, sizeof *r);
    char *copy = malloc(size + 1);
    memset(out, 0, sizeof *out);
    if (r == NULL || copy == NULL) {
        tr_diags_add(diags, TR_ERROR, 0, 0, "", "not enough memory");
    } else if (!tr_utf8_valid(text, size)) {
        tr_diags_add(diags, TR_ERROR, 0, 0, "", "not a text file (UTF-8)");
    } else {
        memcpy(copy, text, size);
        copy[size] = '\0';
        r->row_count = row_count;
        r->most_n = most_n;
        r->out = out;
        r->diags = diags;
        read_lines(r, copy);
        if (diags->errors == before && out->pull_count == 0) {
            tr_diags_add(diags, TR_ERROR, r->line, 1, "", "no pull: after the header line comes one line a pull");
        }
    }
    free(copy);
    free(r);
    return diags->errors == before ? TR_OK : TR_INVALID;
}
