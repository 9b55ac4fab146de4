/* The debrief on paper: nothing is cut, covered or left out on any page, and the same attempt gives the same bytes. */
#include "near.h"

#include "draw_text.h"
#include "report_attempts.h"
#include "tautrow/view/report.h"
#include "text_faults.h"

typedef struct press {
    view_fonts *fonts;
    view_letters *letters;
    view_metrics metrics;
    tr_lang *lang[2];
} press;

static int open_press(void **state)
{
    static press p;
    char why[TR_TEXT_CAP] = "";
    assert_int_equal(view_fonts_open(NULL, 0, &p.fonts, why, sizeof why), TR_OK);
    assert_int_equal(view_letters_open(p.fonts, &p.letters, why, sizeof why), TR_OK);
    p.metrics = view_letters_metrics(p.letters);
    p.lang[0] = job_desk_words("en");
    p.lang[1] = job_desk_words("es");
    *state = &p;
    return 0;
}

static int close_press(void **state)
{
    press *p = *state;
    view_letters_close(p->letters);
    view_fonts_close(p->fonts);
    tr_lang_close(p->lang[0]);
    tr_lang_close(p->lang[1]);
    return 0;
}

/* ---- letters ----------------------------------------------------------------------------------------------------- */

static double width_of(const view_metrics *metrics, view_font font, const char *text)
{
    return (double)view_text_width(metrics, font, text);
}

static void letters_are_measured_as_they_are_set(void **state)
{
    const press *p = *state;
    const view_font font = {100.0F, VIEW_REGULAR};
    const view_font tenth = {10.0F, VIEW_REGULAR};
    const double a = width_of(&p->metrics, font, "A");
    const double v = width_of(&p->metrics, font, "V");
    assert_true(a > 50.0 && a < 90.0);
    assert_true(width_of(&p->metrics, font, "AV") < a + v - 2.0); /* kerned */
    assert_near(width_of(&p->metrics, font, "nn"), 2.0 * width_of(&p->metrics, font, "n"), 1e-3);
    assert_near(width_of(&p->metrics, tenth, "row 4"), width_of(&p->metrics, font, "row 4") / 10.0, 1e-3);
    assert_near(width_of(&p->metrics, font, ""), 0.0, 1e-9);
    assert_true(width_of(&p->metrics, font, "\xE2\x86\x92") > 40.0); /* an arrow: of the other family */
}

/* The screen's own measure of the same fonts, within its rounding. */
static void letters_agree_with_the_screen(void **state)
{
    const press *p = *state;
    const view_metrics screen = view_fonts_metrics(p->fonts);
    const view_font font = {40.0F, VIEW_SEMIBOLD};
    const char *text = "Tensi\xC3\xB3n de cada fila, 209 lbf";
    const double width = width_of(&screen, font, text);
    assert_near(width_of(&p->metrics, font, text), width, 0.02 * width);
}

/* ---- pages ------------------------------------------------------------------------------------------------------- */

static int count_in(const view_report *report, const char *part)
{
    int count = 0;
    for (size_t i = 0; i < view_report_pages(report); i++) {
        count += draw_says(view_report_page(report, i), part) ? 1 : 0;
    }
    return count;
}

/* No text leaves the margins. */
static int outside(const press *p, const view_report *report, size_t index)
{
    int faults = 0;
    const view_draw *page = view_report_page(report, index);
    for (size_t i = 0; i < page->commands; i++) {
        if (page->command[i].op == VIEW__TEXT) {
            const view__command *c = &page->command[i];
            const char *text = &page->text[c->first];
            const view_rect at = frame_letters(&p->metrics, c, text);
            if (at.x < 90.0F || at.x + at.w > view_report_width(report) - 55.0F || at.y < 40.0F ||
                at.y + at.h > view_report_height(report) - 40.0F) {
                print_error("off the paper: \"%s\" at %.0f, %.0f\n", text, (double)at.x, (double)at.y);
                faults++;
            }
        }
    }
    return faults;
}

/* Each criterion that was judged stands on one page, with its points. */
static void has_every_line(const view_report *report, const paper_attempt *done, const tr_lang *lang)
{
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        const score_line *line = &done->card.line[i];
        char key[48];
        char first[32];
        if (!line->applies) {
            continue;
        }
        tr_format(key, sizeof key, "rubric.%s", scenario_criterion_look(line->criterion)->key);
        tr_format(first, sizeof first, "%s", tr_word(lang, key));
        first[strcspn(first, " ")] = '\0'; /* long names are broken */
        if (count_in(report, first) < 1) {
            fail_msg("%s is left out", tr_word(lang, key));
        }
    }
    assert_int_equal(count_in(report, tr_word(lang, "report.total")), 1);
}

static void is_sound(const press *p, const paper_attempt *done, int lang, tr_system system, bool is_cut)
{
    const view_report_of of = {done->attempt, &done->card, done->digest, p->lang[lang], system};
    view_report *report = view_report_open(&of, &p->metrics);
    assert_non_null(report);
    const size_t pages = view_report_pages(report);
    assert_true(pages >= 3 && pages < 30);
    int faults = 0;
    for (size_t i = 0; i < pages; i++) {
        const view_draw *page = view_report_page(report, i);
        faults += outside(p, report, i) +
                  text_faults(page, &p->metrics, view_report_width(report), view_report_height(report), 6);
        assert_true(is_cut || !draw_says(page, "\xE2\x80\xA6"));
        assert_true(draw_says(page, done->digest));
    }
    assert_int_equal(faults, 0);
    has_every_line(report, done, p->lang[lang]);
    assert_int_equal(count_in(report, tr_word(p->lang[lang], "report.sign.instructor")), 1);
    view_report_close(report);
}

static void in_every_form(const press *p, const paper_attempt *done, bool is_cut)
{
    for (int lang = 0; lang < 2; lang++) {
        is_sound(p, done, lang, TR_US, is_cut);
        is_sound(p, done, lang, TR_SI, is_cut);
    }
}

static void golden_attempts_are_whole_on_paper(void **state)
{
    paper_attempt done = {0};
    paper_attempt_read(&done, "careless");
    in_every_form(*state, &done, false);
    paper_attempt_close(&done);
    paper_attempt_read(&done, "careful");
    in_every_form(*state, &done, false);
    paper_attempt_close(&done);
}

static void every_run_is_whole_on_paper(void **state)
{
    static const char *const names[] = {"long-deck", "bent-gallery", "corner-post", "stair"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        paper_attempt done = {0};
        paper_attempt_play(&done, names[i]);
        assert_true(done.card.total > 90.0);
        in_every_form(*state, &done, false);
        paper_attempt_close(&done);
    }
}

static void forty_rows_and_long_names_are_whole_on_paper(void **state)
{
    paper_attempt done = {0};
    paper_attempt_long(&done);
    in_every_form(*state, &done, true); /* the running head cuts the title */
    paper_attempt_close(&done);
}

static void every_row_is_told_with_its_tension(void **state)
{
    const press *p = *state;
    paper_attempt done = {0};
    paper_attempt_long(&done);
    const view_report_of of = {done.attempt, &done.card, "", p->lang[0], TR_US};
    view_report *report = view_report_open(&of, &p->metrics);
    for (int row = 1; row <= MECH_MAX_ROWS; row++) {
        char text[16];
        tr_format(text, sizeof text, "Row %d:", row);
        assert_int_equal(count_in(report, text), 1);
    }
    assert_int_equal(count_in(report, "the attempt was not recorded"), (int)view_report_pages(report));
    view_report_close(report);
    paper_attempt_close(&done);
}

static void an_attempt_without_actions_can_be_printed(void **state)
{
    const press *p = *state;
    static scenario what;
    paper_attempt done = {0};
    job_desk_scenario(&what, "soft-porch");
    paper_attempt_begin(&done, &what, "");
    record_attempt_finish(done.attempt, &done.card);
    is_sound(p, &done, 1, TR_SI, false);
    paper_attempt_close(&done);
}

/* ---- the file ---------------------------------------------------------------------------------------------------- */

static bool holds(const char *bytes, size_t size, const char *part)
{
    for (size_t i = 0; i + strlen(part) <= size; i++) {
        if (memcmp(bytes + i, part, strlen(part)) == 0) {
            return true;
        }
    }
    return false;
}

static void the_same_attempt_gives_the_same_bytes(void **state)
{
    const press *p = *state;
    char why[TR_TEXT_CAP] = "";
    char *bytes[2] = {NULL, NULL};
    size_t size[2] = {0, 0};
    for (int i = 0; i < 2; i++) {
        paper_attempt done = {0};
        paper_attempt_read(&done, "careless");
        const view_report_of of = {done.attempt, &done.card, done.digest, p->lang[0], TR_SI};
        assert_int_equal(view_report_pdf(&of, p->fonts, &bytes[i], &size[i], why, sizeof why), TR_OK);
        paper_attempt_close(&done);
    }
    assert_int_equal(size[0], size[1]);
    assert_memory_equal(bytes[0], bytes[1], size[0]);
    assert_memory_equal(bytes[0], "%PDF-", 5);
    assert_true(holds(bytes[0], size[0], "/CreationDate (20310502080000"));
    free(bytes[0]);
    free(bytes[1]);
}

/* The fonts may be gone before the letters; Cairo keeps faces for a while after their last use. */
static void letters_outlive_their_fonts(void **state)
{
    const press *p = *state;
    char why[TR_TEXT_CAP] = "";
    for (int i = 0; i < 3; i++) {
        view_fonts *fonts = NULL;
        view_letters *letters = NULL;
        char *bytes = NULL;
        size_t size = 0;
        assert_int_equal(view_fonts_open(NULL, 0, &fonts, why, sizeof why), TR_OK);
        assert_int_equal(view_letters_open(fonts, &letters, why, sizeof why), TR_OK);
        view_fonts_close(fonts);
        view_draw *page = view_draw_open();
        view_text(page, 20.0F, 40.0F, (view_font){16.0F, VIEW_BOLD}, VIEW_LEFT, VIEW_RGBA(0, 0xFF), "one row");
        view_text_up(page, 20.0F, 140.0F, (view_font){16.0F, VIEW_BOLD}, VIEW_RIGHT, VIEW_RGBA(0, 0xFF), "up \x01\xE2");
        const view_pdf_about about = {"t", "a", "s", "2031-05-02T08:00:00Z", 200.0F, 200.0F};
        const view_draw *pages[] = {page};
        assert_int_equal(view_pdf(pages, 1, &about, letters, &bytes, &size, why, sizeof why), TR_OK);
        assert_true(size > 1000);
        free(bytes);
        view_draw_close(page);
        view_letters_close(letters);
    }
    assert_true(width_of(&p->metrics, (view_font){16.0F, VIEW_BOLD}, "one row") > 20.0);
}

#define T(name) cmocka_unit_test(name)
int main(void)
{
    const struct CMUnitTest tests[] = {
        T(letters_are_measured_as_they_are_set),
        T(letters_agree_with_the_screen),
        T(golden_attempts_are_whole_on_paper),
        T(every_run_is_whole_on_paper),
        T(forty_rows_and_long_names_are_whole_on_paper),
        T(every_row_is_told_with_its_tension),
        T(an_attempt_without_actions_can_be_printed),
        T(the_same_attempt_gives_the_same_bytes),
        T(letters_outlive_their_fonts),
    };
    return cmocka_run_group_tests(tests, open_press, close_press);
}
