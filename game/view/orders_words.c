/* The sentences of the orders screen, made from the numbers of the steps. */
#include "orders.h"

#include <string.h>

#include "tautrow/base/text.h"

enum { NUMBER_CAP = 48 };

static const char *number(int value, char out[NUMBER_CAP])
{
    (void)tr_format(out, NUMBER_CAP, "%d", value);
    return out;
}

/* Number and unit stay on one line: the space between them does not break. */
static const char *quantity(double si, tr_dim dim, tr_system system, char out[NUMBER_CAP])
{
    char plain[NUMBER_CAP];
    tr_quantity_text(si, dim, system, TR_PLAIN, plain, sizeof plain);
    const char *from = plain;
    out[0] = '\0';
    for (const char *space = strchr(from, ' '); space != NULL; space = strchr(from, ' ')) {
        (void)tr_append(out, NUMBER_CAP, "%.*s\xC2\xA0", (int)(space - from), from);
        from = space + 1;
    }
    (void)tr_append(out, NUMBER_CAP, "%s", from);
    return out;
}

/* "5, 6, 4, 7": the rows as they are to come; a long list is cut. */
static void rows_to_come(const view_orders *orders, int side, char *out, size_t cap)
{
    enum { MOST = 14 };
    int rows[MECH_MAX_ROWS];
    const int count = view__orders_rows(&orders->setup, orders->side[side].order, rows);
    out[0] = '\0';
    for (int i = 0; i < count && i < MOST; i++) {
        (void)tr_append(out, cap, i == 0 ? "%d" : ", %d", rows[i] + 1);
    }
    (void)tr_append(out, cap, "%s", count > MOST ? " ..." : "");
}

void view__orders_start_words(const view_orders *orders, int side, const tr_lang *lang, char *out, size_t cap)
{
    char rows[128];
    const char *args[] = {rows};
    if (orders->side[side].done.status == MECH_SHEET_DIVERGED) {
        (void)tr_copy(out, cap, tr_word(lang, "orders.end.none"));
        return;
    }
    rows_to_come(orders, side, rows, sizeof rows);
    const bool is_sheets = orders->side[side].order == orders->sheets_order;
    tr_lang_fill(lang, is_sheets ? "orders.at_start.sheet" : "orders.at_start", args, 1, out, cap);
}

void view__orders_step_words(const job_setup *setup, const view__step *step, const tr_lang *lang, tr_system system,
                             char *out, size_t cap)
{
    char text[5][NUMBER_CAP];
    const bool has_rail = setup->structure.rail.is_fitted && step->rail_n > VIEW__LOSS_SEEN_N;
    const char *key = step->loser >= 0 ? has_rail ? "orders.pulled.lost_rail" : "orders.pulled.lost"
                      : has_rail       ? "orders.pulled.rail"
                                       : "orders.pulled.only";
    const char *args[] = {number(step->row + 1, text[0]), quantity(step->reading_n, TR_DIM_FORCE, system, text[1]),
                          number(step->loser + 1, text[2]), quantity(step->lost_n, TR_DIM_FORCE, system, text[3]),
                          quantity(step->rail_n, TR_DIM_FORCE, system, text[4])};
    tr_lang_fill(lang, key, args, 5, out, cap);
}

void view__orders_end_words(const view_orders *orders, int side, const tr_lang *lang, tr_system system, char *out,
                            size_t cap)
{
    char text[5][NUMBER_CAP];
    char more[VIEW__WORDS_CAP];
    const view__side *s = &orders->side[side];
    if (s->done.status == MECH_SHEET_DIVERGED) {
        (void)tr_copy(out, cap, tr_word(lang, "orders.end.none"));
        return;
    }
    const bool is_all = s->end.in_count == s->done.row_count;
    const char *args[] = {number(s->end.in_count, text[0]), number(s->done.row_count, text[1]),
                          number(s->end.slackest + 1, text[2]),
                          quantity(s->end.slackest_n, TR_DIM_FORCE, system, text[3]),
                          quantity(s->end.off_centre_peak_n_m, TR_DIM_MOMENT, system, text[4])};
    const bool is_even = is_all && s->end.tightest_n - s->end.slackest_n < VIEW__LOSS_SEEN_N;
    tr_lang_fill(lang, is_even ? "orders.end.even" : is_all ? "orders.end.all" : "orders.end.some", args, 5, out, cap);
    if (s->done.worst_n > orders->setup.row_limit_n) {
        const char *over[] = {number(s->done.worst_row + 1, text[0]),
                              quantity(s->done.worst_n, TR_DIM_FORCE, system, text[1]),
                              quantity(orders->setup.row_limit_n, TR_DIM_FORCE, system, text[2])};
        tr_lang_fill(lang, "orders.end.over", over, 3, more, sizeof more);
        (void)tr_append(out, cap, " %s", more);
    }
}

/* One side gets there, the other does not: what differs between them is what did it, if only one thing does. */
static void one_gets_there(const view_orders *orders, const tr_lang *lang, char *out, size_t cap)
{
    static const char *const names[VIEW__SIDES] = {"A", "B"};
    char text[2][NUMBER_CAP];
    const view__side *a = &orders->side[0];
    const view__side *b = &orders->side[1];
    const int loser = a->end.in_count < a->done.row_count ? 0 : 1;
    const char *key = a->order == b->order ? "orders.told.one_pulls"
                      : a->way == b->way   ? "orders.told.one_order"
                                           : "orders.told.one";
    const char *args[] = {names[1 - loser], names[loser], number(orders->side[loser].end.in_count, text[0]),
                          number(a->done.row_count, text[1])};
    tr_lang_fill(lang, key, args, 4, out, cap);
}

void view__orders_told(const view_orders *orders, const tr_lang *lang, tr_system system, char *out, size_t cap)
{
    char text[7][NUMBER_CAP];
    const view__side *a = &orders->side[0];
    const view__side *b = &orders->side[1];
    const bool is_in[VIEW__SIDES] = {a->end.in_count == a->done.row_count, b->end.in_count == b->done.row_count};
    const char *peak[VIEW__SIDES] = {quantity(a->end.off_centre_peak_n_m, TR_DIM_MOMENT, system, text[0]),
                                     quantity(b->end.off_centre_peak_n_m, TR_DIM_MOMENT, system, text[1])};
    if (a->done.status == MECH_SHEET_DIVERGED || b->done.status == MECH_SHEET_DIVERGED) {
        (void)tr_copy(out, cap, tr_word(lang, "orders.end.none"));
    } else if (a->order == b->order && a->way == b->way) {
        (void)tr_copy(out, cap, tr_word(lang, "orders.told.same"));
    } else if (is_in[0] != is_in[1]) {
        one_gets_there(orders, lang, out, cap);
    } else if (is_in[0]) {
        const char *args[] = {quantity(view__ends_apart(&a->done, &b->done), TR_DIM_FORCE, system, text[2]), peak[0],
                              peak[1]};
        tr_lang_fill(lang, "orders.told.both", args, 3, out, cap);
    } else {
        const bool is_order = a->way == b->way && a->end.slackest != b->end.slackest;
        const char *key = is_order ? "orders.told.neither" : "orders.told.neither_pulls";
        const char *args[] = {number(a->end.in_count, text[2]),
                              number(b->end.in_count, text[3]),
                              number(a->done.row_count, text[4]),
                              number(a->end.slackest + 1, text[5]),
                              number(b->end.slackest + 1, text[6]),
                              peak[0],
                              peak[1]};
        tr_lang_fill(lang, key, args, 7, out, cap);
    }
}
