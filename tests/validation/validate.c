/* Checks every number that has a published counterpart and writes docs/validation.md.
 *
 *   validate                 runs all checks, prints a summary; 1 when one is off
 *   validate --write FILE    writes the document as well
 *   validate --compare FILE  and compares it with a file, byte by byte */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sections.h"
#include "tautrow/base/io.h"
#include "tautrow/base/result.h"

static const char HEAD[] =
    "# Validation\n"
    "\n"
    "Numbers of the mechanics and of the catalogue beside their published counterparts. This file is "
    "written by "
    "a program\n"
    "(`validate --write docs/validation.md`, tests/validation) and a test compares it with a fresh one: do not edit "
    "it. "
    "The models themselves are\n"
    "described in [mechanics.md](mechanics.md); sections have its numbers.\n"
    "\n"
    "*Standing* says how well the published value is known:\n"
    "\n"
    "| standing | means |\n"
    "|---|---|\n"
    "| found | the text of the publication was seen |\n"
    "| transcribed | seen in an open transcription that names the table |\n"
    "| quoted | seen quoted or worked through in another open document |\n"
    "| memory | general knowledge; look it up in print before relying on it |\n"
    "| ..., worked out | the source gives the formula; the number was worked out from it, apart from this program |\n"
    "| closed form, worked out | the same, by the check itself and from a formula that the program does not use |\n"
    "\n"
    "A worked-out value tests that the program computes the formula, not that the formula is true of wood and "
    "wire.\n"
    "\n"
    "Where numbers have no published counterpart, whole states are compared with other programs: "
    "[cross_ccx](../tests/validation/cross_ccx.c) builds random runs, every\n"
    "fourth on a stair, as finite elements for CalculiX (tensions and rail force within 0.001 % of the target "
    "tension), "
    "[cross_gsl](../tests/validation/cross_gsl.c) solves the same\n"
    "nonlinear equations with the GNU Scientific Library (within 1e-9). `ctest -V -R validation` prints how close they "
    "come.\n";

static bool run_all(book *b)
{
    book_open(b);
    section_beams(b);
    section_row(b);
    section_run(b);
    section_threads(b);
    section_wood(b);
    section_checks(b);
    section_bends(b);
    const bool is_read = section_catalogue(b);
    if (!is_read) {
        (void)fprintf(stderr, "validate: the catalogue or the scenario cannot be read\n");
    }
    return book_close(b) && is_read;
}

/* Head, count and tables as one text; to be freed. NULL without memory. */
static char *whole(const book *b, size_t *size)
{
    const size_t cap = sizeof HEAD + b->used + 128;
    char *text = malloc(cap);
    if (text != NULL) {
        *size = (size_t)snprintf(text, cap, "%s\n**%d checks, %d off.**\n%s", HEAD, b->rows, b->failed, b->text);
    }
    return text;
}

static bool write_to(const char *path, const char *text, size_t size)
{
    char why[TR_TEXT_CAP] = "";
    const bool is_written = tr_file_write(path, text, size, why, sizeof why) == TR_OK;
    if (!is_written) {
        (void)fprintf(stderr, "validate: %s: %s\n", path, why);
    }
    return is_written;
}

static bool is_same(const char *path, const char *text, size_t size)
{
    char why[TR_TEXT_CAP] = "";
    char *kept = NULL;
    size_t kept_size = 0;
    if (tr_file_read(path, (size_t)4 * BOOK_CAP, &kept, &kept_size, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "validate: %s: %s\n", path, why);
        return false;
    }
    const bool same = kept_size == size && memcmp(kept, text, size) == 0;
    if (!same) {
        size_t at = 0;
        int line = 1;
        while (at < size && at < kept_size && kept[at] == text[at]) {
            line += text[at++] == '\n';
        }
        (void)fprintf(stderr, "validate: %s is not what this program writes, from line %d on; see validate --write\n",
                      path, line);
    }
    free(kept);
    return same;
}

int main(int argc, char **argv)
{
    static book b;
    const bool writes = argc == 3 && strcmp(argv[1], "--write") == 0;
    const bool compares = argc == 3 && strcmp(argv[1], "--compare") == 0;
    if (argc != 1 && !writes && !compares) {
        (void)fprintf(stderr, "usage: validate [--write FILE | --compare FILE]\n");
        return 2;
    }
    bool is_well = run_all(&b);
    size_t size = 0;
    char *text = whole(&b, &size);
    if (text == NULL) {
        return 2;
    }
    if (writes) {
        is_well = write_to(argv[2], text, size) && is_well;
    } else if (compares) {
        is_well = is_same(argv[2], text, size) && is_well;
    }
    free(text);
    return is_well ? 0 : 1;
}
