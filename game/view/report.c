/* The report: sheets of paper, what stands on each of them, and the order of the parts. */
#include "tautrow/view/report.h"

#include "report_paper.h"

#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"

/* Layout units of 1/96 in. The left margin leaves room to punch and file (ISO 838: holes 12 mm from the edge; from memory). */
static const float A4_WIDTH = 793.7F;
static const float A4_HEIGHT = 1122.5F;
static const float LETTER_WIDTH = 816.0F;
static const float LETTER_HEIGHT = 1056.0F;
static const float LEFT = 91.0F;
static const float RIGHT = 56.0F;
static const float TOP = 56.0F;
static const float BOTTOM = 45.0F;

enum { MAX_PAGES = 64 };

struct view_report {
    view_report_of of;
    float width, height;
    view_draw *page[MAX_PAGES];
    size_t pages;
    bool is_whole; /* false: memory ran out, or there was more to say than pages */
};

/* ---- paper ------------------------------------------------------------------------------------------------------ */

const char *view__paper_word(const view__paper *paper, const char *key)
{
    return tr_word(paper->of->lang, key);
}

float view__paper_line(float size)
{
    return size * 1.32F;
}

float view__paper_text(const view__paper *paper, view_rect room, view_font font, view_color color, const char *text)
{
    return view_text_block(paper->pen.draw, paper->pen.metrics, room, font, view__paper_line(font.size), color, 0,
                           text);
}

float view__paper_height(const view__paper *paper, float width, view_font font, const char *text)
{
    const view_rect room = {0.0F, 0.0F, width, 0.0F};
    return view_text_block(NULL, paper->pen.metrics, room, font, view__paper_line(font.size), 0, 0, text);
}

static view_rect margins(const view_report *report)
{
    return (view_rect){LEFT, TOP, report->width - LEFT - RIGHT, report->height - TOP - BOTTOM};
}

/* Whose it is and of what, on every page after the first. */
static void draw_running_head(view__paper *paper)
{
    const record_about *about = record_attempt_about(paper->of->attempt);
    const scenario *what = record_attempt_scenario(paper->of->attempt);
    const view_font font = {VIEW__PAPER_SMALL, VIEW_REGULAR};
    view_rect line = view_cut_top(&paper->room, 27.0F);
    const float baseline = line.y + font.size;
    char who[RECORD_TRAINEE_CAP + 48];
    (void)tr_format(who, sizeof who, "%s%s%.10s", about->trainee, about->trainee[0] == '\0' ? "" : " · ",
                    about->started_utc);
    const float width = view_text_width(paper->pen.metrics, font, who);
    view_text(paper->pen.draw, line.x + line.w, baseline, font, VIEW_RIGHT, paper->pen.theme->ink_soft, who);
    view_text_fit(paper->pen.draw, paper->pen.metrics, line.x, baseline, line.w - width - 16.0F, font, VIEW_LEFT,
                  paper->pen.theme->ink_soft, scenario_title_in(&what->title, tr_lang_code(paper->of->lang)));
    view_stroke_line(paper->pen.draw, line.x, baseline + 5.0F, line.x + line.w, baseline + 5.0F, 0.7F,
                     paper->pen.theme->ink_soft);
}

static float foot_height(const view__paper *paper, float width)
{
    const view_font font = {VIEW__PAPER_SMALL, VIEW_REGULAR};
    return view__paper_height(paper, width, font, view__paper_word(paper, "caution.estimate")) +
           2.0F * view__paper_line(font.size) + 11.0F;
}

void view__paper_turn(view__paper *paper)
{
    view_report *report = paper->report;
    view_draw *page = report->pages < MAX_PAGES ? view_draw_open() : NULL;
    if (page == NULL) { /* go on upon the last one: what is written is not used */
        report->is_whole = false;
    } else {
        report->page[report->pages++] = page;
        paper->pen.draw = page;
    }
    paper->room = margins(report);
    view_cut_bottom(&paper->room, foot_height(paper, paper->room.w));
    if (report->pages > 1) {
        draw_running_head(paper);
    }
}

void view__paper_need(view__paper *paper, float height)
{
    if (paper->room.h < height) {
        view__paper_turn(paper);
    }
}

void view__paper_title(view__paper *paper, const char *word_key, float with_height)
{
    const view_font font = {VIEW__PAPER_TITLE, VIEW_BOLD};
    const float line = view__paper_line(font.size);
    view__paper_need(paper, 18.0F + line + 8.0F + with_height);
    view_cut_top(&paper->room, 18.0F);
    const view_rect place = view_cut_top(&paper->room, line);
    (void)view__paper_text(paper, place, font, paper->pen.theme->ink, view__paper_word(paper, word_key));
    view_cut_top(&paper->room, 8.0F);
}

/* Caution, exercise, digest and page number: paper and file can be told to belong together. */
static void draw_foot(view__paper *paper, size_t index)
{
    const view_report *report = paper->report;
    const view_theme *theme = paper->pen.theme;
    const view_font font = {VIEW__PAPER_SMALL, VIEW_REGULAR};
    view_rect all = margins(report);
    view_rect foot = view_cut_bottom(&all, foot_height(paper, all.w));
    char line[160];
    char number[2][12];
    view_stroke_line(paper->pen.draw, foot.x, foot.y + 5.0F, foot.x + foot.w, foot.y + 5.0F, 0.7F, theme->ink_soft);
    view_cut_top(&foot, 11.0F);
    const char *caution = view__paper_word(paper, "caution.estimate");
    view_cut_top(&foot, view__paper_text(paper, foot, font, theme->ink_soft, caution));
    (void)tr_format(number[0], sizeof number[0], "%zu", index + 1);
    (void)tr_format(number[1], sizeof number[1], "%zu", report->pages);
    const char *args[] = {number[0], number[1]};
    tr_lang_fill(paper->of->lang, "report.page", args, 2, line, sizeof line);
    const float baseline = foot.y + font.size;
    view_text(paper->pen.draw, foot.x + foot.w, baseline, font, VIEW_RIGHT, theme->ink, line);
    (void)tr_format(line, sizeof line, "%s: %s", view__paper_word(paper, "report.exercise"),
                    record_attempt_scenario(paper->of->attempt)->setup.id);
    view_text(paper->pen.draw, foot.x, baseline, font, VIEW_LEFT, theme->ink, line);
    const bool is_kept = paper->of->digest[0] != '\0';
    (void)tr_format(line, sizeof line, "%s: %s", view__paper_word(paper, "report.digest"),
                    is_kept ? paper->of->digest : view__paper_word(paper, "report.not_recorded"));
    view_text(paper->pen.draw, foot.x, baseline + view__paper_line(font.size), font, VIEW_LEFT, theme->ink, line);
}

/* ---- the report ------------------------------------------------------------------------------------------------- */

view_report *view_report_open(const view_report_of *of, const view_metrics *metrics)
{
    view_report *report = calloc(1, sizeof *report);
    if (report == NULL) {
        return NULL;
    }
    report->of = *of;
    report->width = of->system == TR_US ? LETTER_WIDTH : A4_WIDTH;
    report->height = of->system == TR_US ? LETTER_HEIGHT : A4_HEIGHT;
    report->is_whole = true;
    view__paper paper = {.of = &report->of, .report = report};
    paper.pen = (view_pen){NULL, view_theme_of(VIEW_THEME_CONTRAST), metrics, of->lang, of->system, 13.0F};
    view__paper_turn(&paper);
    if (report->pages > 0) {
        view__report_head(&paper);
        view__report_score(&paper);
        view__report_charts(&paper);
    }
    for (size_t i = 0; i < report->pages; i++) {
        paper.pen.draw = report->page[i];
        draw_foot(&paper, i);
    }
    if (!report->is_whole) {
        view_report_close(report);
        return NULL;
    }
    return report;
}

void view_report_close(view_report *report)
{
    if (report != NULL) {
        for (size_t i = 0; i < report->pages; i++) {
            view_draw_close(report->page[i]);
        }
        free(report);
    }
}

size_t view_report_pages(const view_report *report)
{
    return report->pages;
}

const view_draw *view_report_page(const view_report *report, size_t index)
{
    return report->page[index];
}

float view_report_width(const view_report *report)
{
    return report->width;
}

float view_report_height(const view_report *report)
{
    return report->height;
}

static tr_result print(const view_report *report, view_letters *letters, char **bytes, size_t *size, char *why,
                       size_t why_cap)
{
    const view_report_of *of = &report->of;
    const record_about *about = record_attempt_about(of->attempt);
    const scenario *what = record_attempt_scenario(of->attempt);
    const view_draw *pages[MAX_PAGES];
    char title[SCENARIO_TITLE_CAP + 64];
    char author[32];
    (void)tr_format(title, sizeof title, "%s: %s", tr_word(of->lang, "report.title"),
                    scenario_title_in(&what->title, tr_lang_code(of->lang)));
    (void)tr_format(author, sizeof author, "tautrow %s", about->version);
    for (size_t i = 0; i < report->pages; i++) {
        pages[i] = report->page[i];
    }
    const view_pdf_about pdf = {title, author, about->trainee, about->started_utc, report->width, report->height};
    return view_pdf(pages, report->pages, &pdf, letters, bytes, size, why, why_cap);
}

tr_result view_report_pdf(const view_report_of *of, const view_fonts *fonts, char **bytes, size_t *size, char *why,
                          size_t why_cap)
{
    view_letters *letters = NULL;
    const tr_result opened = view_letters_open(fonts, &letters, why, why_cap);
    if (opened != TR_OK) {
        return opened;
    }
    const view_metrics metrics = view_letters_metrics(letters);
    view_report *report = view_report_open(of, &metrics);
    tr_result result = TR_NO_MEMORY;
    if (report == NULL) {
        tr_copy(why, why_cap, "not enough memory");
    } else {
        result = print(report, letters, bytes, size, why, why_cap);
    }
    view_report_close(report);
    view_letters_close(letters);
    return result;
}
