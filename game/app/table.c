/* Text tables for the terminal. */
#include "table.h"

#include <string.h>

#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"

/* Characters of UTF-8 text: bytes that are not continuations. */
static int characters(const char *text)
{
    int count = 0;
    for (; *text != '\0'; text++) {
        count += ((unsigned char)*text & 0xC0u) != 0x80u ? 1 : 0;
    }
    return count;
}

void app_table_start(app_table *table, int columns, const char *const headings[])
{
    TR_ASSERT(columns > 0 && columns <= APP_TABLE_COLUMNS);
    table->columns = columns;
    table->cells = 0;
    for (int i = 0; i < columns; i++) {
        app_table_put(table, headings[i]);
    }
}

void app_table_put(app_table *table, const char *text)
{
    const int at = table->cells;
    const int row = at / table->columns;
    TR_ASSERT(row < APP_TABLE_ROWS);
    (void)tr_copy(table->cell[row][at % table->columns], APP_CELL_CAP, text);
    table->cells = at + 1;
}

static void print_spaces(int count, FILE *out)
{
    for (int i = 0; i < count; i++) {
        (void)fputc(' ', out);
    }
}

void app_table_print(const app_table *table, FILE *out)
{
    const int rows = table->cells / table->columns;
    int width[APP_TABLE_COLUMNS] = {0};
    for (int i = 0; i < rows * table->columns; i++) {
        const int here = characters(table->cell[i / table->columns][i % table->columns]);
        int *widest = &width[i % table->columns];
        *widest = here > *widest ? here : *widest;
    }
    for (int row = 0; row < rows; row++) {
        for (int column = 0; column < table->columns; column++) {
            const char *text = table->cell[row][column];
            const int gap = width[column] - characters(text);
            print_spaces(column == 0 ? 0 : gap + 2, out);
            (void)fputs(text, out);
            print_spaces(column == 0 && table->columns > 1 ? gap : 0, out);
        }
        (void)fputc('\n', out);
    }
}
