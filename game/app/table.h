/* A table of text for the terminal: columns as wide as their widest cell, counted in characters. */
#ifndef GAME_APP_TABLE_H
#define GAME_APP_TABLE_H

#include <stdio.h>

enum { APP_TABLE_COLUMNS = 10, APP_TABLE_ROWS = 260, APP_CELL_CAP = 96 };

typedef struct app_table {
    int columns;
    int cells; /* filled so far, headings included */
    char cell[APP_TABLE_ROWS][APP_TABLE_COLUMNS][APP_CELL_CAP];
} app_table;

/* Starts a table with its headings, one a column. */
void app_table_start(app_table *table, int columns, const char *const headings[]);
/* Puts text into the next free cell of the last row; a new row starts when the row is full. Rows past the capacity are
 * a bug. */
void app_table_put(app_table *table, const char *text);
/* Prints with the first column left, all others right aligned. */
void app_table_print(const app_table *table, FILE *out);

#endif
