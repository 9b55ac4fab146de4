/* The report of a fit: values with their intervals first, then in plain words what the readings cannot tell, then every
 * residual. */
#include "fit_show.h"

#include <math.h>
#include <stdlib.h>

#include "table.h"
#include "tautrow/base/text.h"

static const tr_dim dims[FIT_VALUES] = {TR_DIM_ROTATION, TR_DIM_STIFFNESS, TR_DIM_FORCE};
/* Outside of these the scatter of the readings is not that of the gauge: a plain word is due. */
static const double CHI_LOW = 0.5;
static const double CHI_HIGH = 2.0;

const char *fit_value_word(const tr_lang *lang, fit_value which)
{
    static const char *const keys[FIT_VALUES] = {"cli.fit.base", "cli.fit.joint", "cli.fit.strand"};
    return tr_word(lang, keys[which]);
}

bool fit_is_told(const fit_report *report)
{
    bool is_told = !report->is_too_few && report->converged;
    for (int i = 0; i < FIT_VALUES; i++) {
        is_told = is_told && (!report->found[i].is_asked || report->found[i].is_told);
    }
    return is_told;
}

void fit_untold_words(const tr_lang *lang, const fit_report *report, char *out, size_t cap)
{
    out[0] = '\0';
    for (int i = 0; i < FIT_VALUES; i++) {
        if (report->found[i].is_asked && !report->found[i].is_told) {
            (void)tr_append(out, cap, "%s%s", out[0] == '\0' ? "" : ", ", fit_value_word(lang, (fit_value)i));
        }
    }
}

/* ---- text ---- */

static const char *state_word(const fit_show *show, fit_value which)
{
    const fit_found *found = &show->report->found[which];
    const tr_lang *lang = show->context->lang;
    if (found->is_held) {
        return tr_word(lang, "cli.fit.held");
    }
    if (!found->is_asked) {
        return tr_word(lang, "cli.fit.absent");
    }
    return tr_word(lang, found->is_told ? "cli.fit.told" : "cli.fit.untold");
}

static void put(app_table *table, const fit_show *show, double si, fit_value which, bool is_shown)
{
    char text[48] = "–";
    if (is_shown) {
        (void)app_quantity(si, dims[which], show->system, text);
    }
    app_table_put(table, text);
}

static void print_values(const fit_show *show)
{
    const tr_lang *lang = show->context->lang;
    app_table *table = malloc(sizeof *table);
    if (table == NULL) {
        return;
    }
    const char *headings[] = {tr_word(lang, "cli.fit.value"),  tr_word(lang, "cli.fit.scenario"),
                              tr_word(lang, "cli.fit.fitted"), tr_word(lang, "cli.fit.low"),
                              tr_word(lang, "cli.fit.high"),   ""};
    app_table_start(table, 6, headings);
    for (int i = 0; i < FIT_VALUES; i++) {
        const fit_found *found = &show->report->found[i];
        const bool is_fitted = found->is_asked && !show->report->is_too_few;
        app_table_put(table, fit_value_word(lang, (fit_value)i));
        put(table, show, found->start, (fit_value)i, found->is_asked || found->is_held);
        put(table, show, found->value, (fit_value)i, is_fitted);
        put(table, show, found->low, (fit_value)i, is_fitted && found->has_interval);
        put(table, show, found->high, (fit_value)i, is_fitted && found->has_interval);
        app_table_put(table, state_word(show, (fit_value)i));
    }
    app_table_print(table, stdout);
    free(table);
}

static void print_too_few(const fit_show *show)
{
    char text[3][16];
    char names[TR_TEXT_CAP];
    int asked = 0;
    for (int i = 0; i < FIT_VALUES; i++) {
        asked += show->report->found[i].is_asked ? 1 : 0;
    }
    fit_untold_words(show->context->lang, show->report, names, sizeof names);
    (void)tr_format(text[0], 16, "%d", show->report->reading_count);
    (void)tr_format(text[1], 16, "%d", asked + 1);
    const char *args[] = {text[0], text[1], names};
    app_say(show->context, stdout, "cli.fit.too_few", args, 3);
}

static void print_alike(const fit_show *show)
{
    for (int i = 0; i < FIT_VALUES; i++) {
        for (int j = i + 1; j < FIT_VALUES; j++) {
            if (fabs(show->report->correlation[i][j]) > FIT_ALIKE) { /* the others have been told by the lines above */
                char text[2][16];
                (void)tr_format(text[0], 16, "%.3f", show->report->correlation[i][j]);
                (void)tr_format(text[1], 16, "%.2f", FIT_ALIKE);
                const char *args[] = {fit_value_word(show->context->lang, (fit_value)i),
                                      fit_value_word(show->context->lang, (fit_value)j), text[0], text[1]};
                app_say(show->context, stdout, "cli.fit.alike", args, 4);
            }
        }
    }
}

/* What the readings cannot tell, value by value. */
static void print_untold(const fit_show *show)
{
    bool is_any = false;
    for (int i = 0; i < FIT_VALUES; i++) {
        const fit_found *found = &show->report->found[i];
        if (found->is_asked && !found->is_told) {
            char factor[16];
            (void)tr_format(factor, sizeof factor, "%.0f", FIT_FACTOR);
            const char *args[] = {fit_value_word(show->context->lang, (fit_value)i), factor};
            app_say(show->context, stdout, found->has_interval ? "cli.fit.wide" : "cli.fit.flat", args, 2);
            is_any = true;
        }
    }
    print_alike(show);
    if (is_any) {
        app_say(show->context, stdout, "cli.fit.advice", NULL, 0);
    }
}

static void print_quality(const fit_show *show)
{
    const fit_report *report = show->report;
    char text[3][32];
    (void)tr_format(text[0], 32, "%.2f", report->reduced_chi_square);
    (void)tr_format(text[1], 32, "%ld", report->freedom);
    (void)tr_format(text[2], 32, "%.0f", report->condition);
    const char *args[] = {text[0], text[1], text[2]};
    app_say(show->context, stdout, "cli.fit.chi", args, 3);
    if (report->reduced_chi_square > CHI_HIGH) {
        app_say(show->context, stdout, "cli.fit.chi_high", NULL, 0);
    } else if (report->reduced_chi_square < CHI_LOW) {
        app_say(show->context, stdout, "cli.fit.chi_low", NULL, 0);
    }
    if (!report->converged) {
        app_say(show->context, stdout, "cli.fit.not_settled", NULL, 0);
    }
}

static void print_spot(const fit_show *show, const fit_spot *spot, bool is_left_out)
{
    const measured_pull *pull = &show->seen->pull[spot->pull];
    const bool is_pull = spot->row == FIT_PULL_ITSELF;
    char text[4][48];
    (void)tr_format(text[0], 48, "%d", pull->line);
    (void)tr_format(text[1], 48, "%d", (is_pull ? pull->row : spot->row) + 1);
    (void)app_quantity(is_pull ? pull->reading_n : pull->read_n[spot->row], TR_DIM_FORCE, show->system, text[2]);
    (void)tr_format(text[3], 48, "%+.1f", spot->sigmas);
    const char *args[] = {text[0], text[1], text[2], text[3]};
    const char *key = is_pull ? (is_left_out ? "cli.fit.left_out_pull" : "cli.fit.far_pull")
                              : (is_left_out ? "cli.fit.left_out" : "cli.fit.far");
    app_say(show->context, stdout, key, args, 4);
}

static void print_spots(const fit_show *show)
{
    for (int i = 0; i < show->report->left_out_count; i++) {
        print_spot(show, &show->report->left_out[i], true);
    }
    for (int i = 0; i < show->report->far_count; i++) {
        print_spot(show, &show->report->far[i], false);
    }
    if (show->report->far_total > show->report->far_count) {
        char more[16];
        (void)tr_format(more, sizeof more, "%d", show->report->far_total - show->report->far_count);
        const char *args[] = {more};
        app_say(show->context, stdout, "cli.fit.far_more", args, 1);
    }
}

/* One line a pull, one column a row: a run of one sign down a column says more than the largest number. */
static void print_residuals(const fit_show *show)
{
    const int n = show->scenario->setup.structure.row_count;
    (void)printf("\n%s\n%4s %4s %6s", tr_word(show->context->lang, "cli.fit.residuals"),
                 tr_word(show->context->lang, "cli.fit.pull"), tr_word(show->context->lang, "cli.row"),
                 tr_word(show->context->lang, "cli.fit.itself"));
    for (int i = 0; i < n; i++) {
        (void)printf(" %5d", i + 1);
    }
    (void)printf("\n");
    for (int k = 0; k < show->seen->pull_count; k++) {
        (void)printf("%4d %4d %+6.1f", k + 1, show->seen->pull[k].row + 1, show->report->pull_sigmas[k]);
        for (int i = 0; i < n; i++) {
            if (show->report->is_used[k][i]) {
                (void)printf(" %+5.1f", show->report->sigmas[k][i]);
            } else {
                (void)printf(" %5s", show->seen->pull[k].is_read[i] ? "x" : ".");
            }
        }
        (void)printf("\n");
    }
}

static void print_head(const fit_show *show)
{
    char text[4][32];
    (void)tr_format(text[0], 32, "%d", show->seen->pull_count);
    (void)tr_format(text[1], 32, "%d", show->report->reading_count);
    (void)tr_format(text[2], 32, "%.2g %%", 100.0 * show->choice->scatter);
    const char *args[] = {scenario_title_in(&show->scenario->title, tr_lang_code(show->context->lang)), text[0],
                          text[1], text[2]};
    app_say(show->context, stdout, "cli.fit.head", args, 4);
    if (show->report->unused_count > 0) {
        (void)tr_format(text[0], 32, "%d", show->report->unused_count);
        const char *unused[] = {text[0]};
        app_say(show->context, stdout, "cli.fit.unused", unused, 1);
    }
    const mech_post *post = show->scenario->setup.structure.post;
    if (show->report->found[FIT_BASE].is_asked && !post[MECH_NEAR].is_rigid && !post[MECH_FAR].is_rigid &&
        fabs(post[MECH_NEAR].base_n_m_rad - post[MECH_FAR].base_n_m_rad) > 0.0) {
        app_say(show->context, stdout, "cli.fit.as_one", NULL, 0);
    }
    (void)printf("\n");
}

void fit_print(const fit_show *show)
{
    print_head(show);
    print_values(show);
    (void)printf("\n");
    if (show->report->is_too_few) {
        print_too_few(show);
        return;
    }
    print_untold(show);
    print_quality(show);
    print_spots(show);
    print_residuals(show);
}
