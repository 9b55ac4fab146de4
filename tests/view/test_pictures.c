/* The pictures: nothing leaves its rect, no text is cut or runs into another, targets are where and as large as
 * promised, threads have their hand, both languages have every word. */
#include "draw_text.h"
#include "pic.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "picture_jobs.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

typedef struct fixture {
    tr_lang *lang[2];
    view_draw *draw;
} fixture;

/* A made-up font, a little wider than the real one: every character is 0.53 em. */
static float fake_width(void *context, view_font font, const char *text)
{
    (void)context;
    float count = 0.0F;
    for (const char *c = text; *c != '\0'; c++) {
        count += ((unsigned char)*c & 0xC0U) != 0x80U ? 1.0F : 0.0F;
    }
    return 0.53F * font.size * count;
}

static const view_metrics fake_metrics = {fake_width, NULL};

static tr_lang *words_of(const char *code)
{
    tr_lang *lang = tr_lang_open(code);
    assert_non_null(lang);
    char path[512];
    char why[256];
    char *text = NULL;
    size_t size = 0;
    static tr_diags diags;
    tr_diags_clear(&diags);
    tr_format(path, sizeof path, "%s/assets/lang/%s/pictures.txt", TAUTROW_SOURCE, code);
    assert_int_equal(tr_file_read(path, TR_LANG_MAX_FILE, &text, &size, why, sizeof why), TR_OK);
    assert_int_equal(tr_lang_add(lang, text, size, &diags), TR_OK);
    free(text);
    return lang;
}

static int set_up(void **state)
{
    static fixture f;
    f.lang[0] = words_of("en");
    f.lang[1] = words_of("es");
    f.draw = view_draw_open();
    picture_jobs_make();
    *state = &f;
    return f.draw == NULL;
}

static int tear_down(void **state)
{
    fixture *f = *state;
    tr_lang_close(f->lang[0]);
    tr_lang_close(f->lang[1]);
    view_draw_close(f->draw);
    return 0;
}

static view_pen pen_of(const fixture *f, int language, float text)
{
    return (view_pen){
        f->draw, view_theme_of(VIEW_THEME_DAY), &fake_metrics, f->lang[language], language == 0 ? TR_US : TR_SI, text,
        false};
}

/* ---- walking the list ------------------------------------------------------------------------------------------- */

static view_rect cut(view_rect a, view_rect b)
{
    const float x = fmaxf(a.x, b.x);
    const float y = fmaxf(a.y, b.y);
    return (view_rect){x, y, fmaxf(fminf(a.x + a.w, b.x + b.w) - x, 0.0F),
                       fmaxf(fminf(a.y + a.h, b.y + b.h) - y, 0.0F)};
}

static bool is_inside(view_rect inner, view_rect outer, float slack)
{
    return inner.x >= outer.x - slack && inner.y >= outer.y - slack && inner.x + inner.w <= outer.x + outer.w + slack &&
           inner.y + inner.h <= outer.y + outer.h + slack;
}

static view_rect text_box(const view_draw *draw, const view__command *c)
{
    const float width = fake_width(NULL, c->font, draw->text + c->first);
    const float shift = c->align == VIEW_LEFT ? 0.0F : c->align == VIEW_CENTRE ? width / 2.0F : width;
    return (view_rect){c->rect.x - shift, c->rect.y - c->font.size * 0.7F, width, c->font.size * 0.72F};
}

/* Everything is drawn under a clip that lies inside area, and the clips are balanced. */
static void check_clips(const view_draw *draw, view_rect area, const char *name)
{
    view_rect stack[16] = {area};
    int depth = 0;
    for (size_t i = 0; i < draw->commands; i++) {
        const view__command *c = &draw->command[i];
        if (c->op == VIEW__CLIP_PUSH) {
            assert_true(depth + 1 < 16);
            stack[depth + 1] = cut(stack[depth], c->rect);
            depth++;
            assert_true(is_inside(stack[depth], area, 0.01F));
        } else if (c->op == VIEW__CLIP_POP) {
            depth--;
            assert_true(depth >= 0);
        } else if (depth < 1) {
            fail_msg("%s draws outside any clip (command %zu)", name, i);
        }
    }
    assert_int_equal(depth, 0);
}

enum { MAX_TEXTS = 160 };

typedef struct texts {
    int count;
    view_rect box[MAX_TEXTS];
    view_rect clip[MAX_TEXTS];
    const char *text[MAX_TEXTS];
} texts;

static void collect(const view_draw *draw, view_rect area, texts *out)
{
    view_rect stack[16] = {area};
    int depth = 0;
    out->count = 0;
    for (size_t i = 0; i < draw->commands; i++) {
        const view__command *c = &draw->command[i];
        if (c->op == VIEW__CLIP_PUSH) {
            stack[depth + 1] = cut(stack[depth], c->rect);
            depth++;
        } else if (c->op == VIEW__CLIP_POP) {
            depth--;
        } else if (c->op == VIEW__TEXT && draw->text[c->first] != '\0') {
            assert_true(out->count < MAX_TEXTS);
            out->box[out->count] = text_box(draw, c);
            out->clip[out->count] = stack[depth];
            out->text[out->count++] = draw->text + c->first;
        }
    }
}

static void check_texts(const texts *t, bool may_be_cut, const char *name, float size)
{
    for (int i = 0; i < t->count; i++) {
        if (!may_be_cut && !is_inside(t->box[i], t->clip[i], 1.0F)) {
            fail_msg("%s at %.0f: text cut: \"%s\" %.0f %.0f %.0f %.0f", name, (double)size, t->text[i],
                     (double)t->box[i].x, (double)t->box[i].y, (double)t->box[i].w, (double)t->box[i].h);
        }
        if (strncmp(t->text[i], "pic.", 4) == 0) {
            fail_msg("%s: word lacking: %s", name, t->text[i]);
        }
        for (int j = 0; j < i; j++) {
            const view_rect both = cut(t->box[i], t->box[j]);
            if (both.w > 1.0F && both.h > 1.0F) {
                fail_msg("%s at %.0f: \"%s\" runs into \"%s\"", name, (double)size, t->text[i], t->text[j]);
            }
        }
    }
}

static void check_case(const fixture *f, const picture_case *what, int language, float text, float w, float h)
{
    const view_pen pen = pen_of(f, language, text);
    const view_rect area = {30.0F, 20.0F, w, h};
    static texts t;
    view_draw_clear(f->draw);
    what->draw(&pen, area);
    check_clips(f->draw, area, what->name);
    collect(f->draw, area, &t);
    /* A ladder that scrolls shows a part of its last rung. */
    check_texts(&t, strncmp(what->name, "ladder", 6) == 0, what->name, text);
}

static void test_all_stay_inside(void **state)
{
    const fixture *f = *state;
    for (size_t i = 0; i < picture_case_count; i++) {
        for (int language = 0; language < 2; language++) {
            check_case(f, &picture_cases[i], language, 14.0F, picture_cases[i].w, picture_cases[i].h);
            check_case(f, &picture_cases[i], language, 20.0F, picture_cases[i].w, picture_cases[i].h);
            check_case(f, &picture_cases[i], language, 28.0F, picture_cases[i].w, picture_cases[i].h);
        }
    }
}

/* A small window, a large one, a 4K one. */
static void test_all_at_other_sizes(void **state)
{
    const fixture *f = *state;
    static const float share[] = {0.72F, 1.5F, 2.6F};
    for (size_t i = 0; i < picture_case_count; i++) {
        const picture_case *what = &picture_cases[i];
        for (int j = 0; j < 3; j++) {
            check_case(f, what, j % 2, 14.0F, what->w * share[j], what->h * share[j]);
        }
    }
}

static void test_charts_at_any_size(void **state)
{
    const fixture *f = *state;
    static const float size[][2] = {{400, 200}, {640, 360}, {1280, 720}, {3840, 2000}};
    for (size_t i = 0; i < picture_case_count; i++) {
        if (strncmp(picture_cases[i].name, "chart", 5) != 0) {
            continue;
        }
        for (size_t j = 0; j < sizeof size / sizeof size[0]; j++) {
            check_case(f, &picture_cases[i], 0, 14.0F, size[j][0], size[j][1]);
            check_case(f, &picture_cases[i], 1, 14.0F, size[j][0], size[j][1]);
        }
    }
}

/* ---- targets ---------------------------------------------------------------------------------------------------- */

static void test_row_hits(void **state)
{
    const fixture *f = *state;
    const view_pen pen = pen_of(f, 0, 14.0F);
    const view_elevation_look look = {.row = 2, .gap = -1, .plucked_row = -1};
    for (int job = 0; job < PICTURE_JOBS; job++) {
        view_hits hits;
        view_draw_clear(f->draw);
        view_elevation(&pen, (view_rect){0, 0, 780, 400}, picture_setup((picture_job)job),
                       picture_state((picture_job)job), &look, &hits);
        assert_int_equal(hits.row_count, picture_setup((picture_job)job)->structure.row_count);
        for (int i = 0; i < hits.row_count; i++) {
            assert_true(hits.row[i].h > 0.0F);
            assert_true(hits.gap[i].y >= hits.gap[i + 1].y + hits.gap[i + 1].h - 0.1F);
            if (i > 0) {
                assert_true(hits.row[i].y + hits.row[i].h <= hits.row[i - 1].y + 0.1F);
            }
            /* 40 rows on 400 units cannot have it: the ladder is the target there. */
            if (job == PICTURE_FEW) {
                assert_true(hits.row[i].h >= 24.0F);
            } else if (job != PICTURE_MANY) {
                assert_true(hits.row[i].h >= 22.0F);
            }
        }
    }
}

static void test_ladder_rungs(void **state)
{
    const fixture *f = *state;
    const view_rect area = {10, 10, 240, 400};
    for (int rows = 3; rows <= 40; rows++) {
        job_setup setup = *picture_setup(PICTURE_MANY);
        setup.structure.row_count = rows;
        for (int step = 0; step < 3; step++) {
            const float text = 14.0F + 7.0F * (float)step;
            const view_pen pen = pen_of(f, 1, text);
            for (int row = 0; row < rows; row++) {
                view_ladder_hits hits;
                view_ladder_look look = {.show_true = true, .row = row};
                look.scroll = view_ladder_scroll_to(&pen, area, &setup, true, row, 0.0F);
                view_draw_clear(f->draw);
                view_ladder(&pen, area, &setup, picture_state(PICTURE_MANY), &look, &hits);
                assert_true(hits.rung >= 24.0F);
                assert_true(hits.row[row].h >= hits.rung - 0.1F);
                assert_true(is_inside(hits.row[row], area, 0.1F));
            }
        }
    }
}

static void test_grips(void **state)
{
    const fixture *f = *state;
    const view_pen pen = pen_of(f, 0, 14.0F);
    const view_hand hand = {0};
    for (int stage = JOB_STAGE_READ; stage <= JOB_STAGE_COUNT; stage++) {
        for (int row = 0; row < 11; row++) {
            view_grip grip = {0};
            view_draw_clear(f->draw);
            view_closeup(&pen, (view_rect){0, 0, 780, 280}, (job_stage)stage, picture_setup(PICTURE_MIXED),
                         picture_state(PICTURE_MIXED), row, &hand, &grip);
            assert_true(grip.handle.w >= 24.0F && grip.handle.h >= 24.0F);
            assert_true(grip.px_per_m > 0.0F);
        }
    }
}

/* ---- what they show --------------------------------------------------------------------------------------------- */

static void test_only_guided_tells(void **state)
{
    const fixture *f = *state;
    const view_pen pen = pen_of(f, 0, 14.0F);
    for (int told = 0; told < 2; told++) {
        const view_elevation_look look = {.show_true = told == 1, .row = 5, .gap = -1, .plucked_row = -1};
        view_draw_clear(f->draw);
        view_elevation(&pen, (view_rect){0, 0, 780, 400}, picture_setup(PICTURE_SHORT), picture_state(PICTURE_SHORT),
                       &look, NULL);
        assert_int_equal(draw_says(f->draw, "lbf"), told == 1);
        assert_true(draw_says(f->draw, "bend \xC3\x97"));
        assert_true(draw_says(f->draw, "Row 6"));
    }
    job_setup practice = *picture_setup(PICTURE_MIXED);
    practice.mode = JOB_PRACTICE;
    const view_hand hand = {.drill = {.is_shown = true, .depth_m = 0.02, .deepest_m = 0.02, .pitch_rad = 0.05}};
    for (int told = 0; told < 2; told++) {
        view_draw_clear(f->draw);
        view_closeup_drill(&pen, (view_rect){0, 0, 780, 280}, told == 1 ? picture_setup(PICTURE_MIXED) : &practice,
                           picture_state(PICTURE_MIXED), 1, &hand, NULL);
        assert_int_equal(draw_says(f->draw, "\xC2\xB0"), told == 1);
    }
}

/* Outside guided mode a row that was read before another was turned is "to check", never "in". */
static void test_stale_reading_is_no_state(void **state)
{
    const fixture *f = *state;
    const view_pen pen = pen_of(f, 0, 14.0F);
    job_state work = *picture_state(PICTURE_FEW);
    const double reading[3] = {1000.0, 1000.0, -1.0};
    work.row[0].measured_at = 10;
    work.row[1].measured_at = 20;
    work.row[2].turned_at = 15;
    const view_ladder_look look = {.row = -1, .reading_n = reading};
    view_ladder_hits hits;
    view_draw_clear(f->draw);
    view_ladder(&pen, (view_rect){0, 0, 260, 300}, picture_setup(PICTURE_FEW), &work, &look, &hits);
    int in = 0;
    int to_check = 0;
    for (size_t i = 0; i < f->draw->commands; i++) {
        const view__command *c = &f->draw->command[i];
        in += c->op == VIEW__TEXT && strcmp(f->draw->text + c->first, "in band") == 0;
        to_check += c->op == VIEW__TEXT && strcmp(f->draw->text + c->first, "to check") == 0;
    }
    assert_int_equal(in, 1);
    assert_int_equal(to_check, 2);
}

static void test_bend_factor(void **state)
{
    (void)state;
    for (int job = 0; job < PICTURE_JOBS; job++) {
        const double factor = view_bend_factor(picture_setup((picture_job)job), picture_state((picture_job)job));
        const double lead = factor / pow(10.0, floor(log10(factor)));
        assert_true(factor >= 1.0 && factor <= 200.0);
        assert_true(fabs(lead - 1.0) < 1e-9 || fabs(lead - 2.0) < 1e-9 || fabs(lead - 5.0) < 1e-9);
    }
}

/* Seen from the side on an axis that lies, the crests in front of a right-hand thread run from upper left to lower
 * right: turn the front of the rod downward (clockwise seen from its left end) and a crest that meets a nut moves on to
 * the right. Geometry. */
static void test_thread_hand(void **state)
{
    const fixture *f = *state;
    const view__board board = {pen_of(f, 0, 14.0F), {0, 0, 400, 100}};
    for (int hand = -1; hand <= 1; hand += 2) {
        for (int turned = 0; turned < 2; turned++) {
            const view__axis axis = view__axis_of(200, 50, turned == 1 ? TR_PI : 0.0, 5000.0F);
            const view__thread thread = {0.00635, 0.0054, 0.000907, hand, 0.3};
            view_draw_clear(f->draw);
            view__threaded(&board, &axis, 0.0, 0.012, thread, view__steel_of(&board));
            const view__command *crests = &f->draw->command[f->draw->commands - 1];
            assert_int_equal(crests->op, VIEW__STROKE_POLY);
            assert_true(crests->count >= 16);
            for (size_t i = 0; i + 1 < crests->count; i += 2) {
                const view_point a = f->draw->point[crests->first + i];
                const view_point b = f->draw->point[crests->first + i + 1];
                const float slope = (b.x - a.x) * (b.y - a.y); /* > 0: falls to the right */
                assert_true(slope * (float)hand > 0.0F);
            }
        }
    }
}

/* The posts move inward as they are drawn, by the stated factor and no more: the row's near end follows its node. */
static void test_bend_is_to_scale(void **state)
{
    const fixture *f = *state;
    const view_pen pen = pen_of(f, 0, 14.0F);
    const job_setup *setup = picture_setup(PICTURE_FEW);
    const job_state *work = picture_state(PICTURE_FEW);
    double bend[MECH_MAX_ROWS + 1];
    mech_run_deflection(&work->run, &work->rows, MECH_NEAR, bend);
    float start[2] = {0.0F, 0.0F};
    for (int i = 0; i < 2; i++) {
        const view_elevation_look look = {.row = 1, .gap = -1, .plucked_row = -1, .exaggeration = i == 0 ? 10.0 : 60.0};
        view_draw_clear(f->draw);
        view_elevation(&pen, (view_rect){0, 0, 780, 400}, setup, work, &look, NULL);
        /* the halo of the chosen row runs from face to face: the widest line */
        float widest = 0.0F;
        for (size_t j = 0; j < f->draw->commands; j++) {
            const view__command *c = &f->draw->command[j];
            if (c->op == VIEW__STROKE_POLY && c->count == 2 && c->width > widest) {
                widest = c->width;
                start[i] = f->draw->point[c->first].x;
            }
        }
        assert_true(widest >= 12.0F);
    }
    const double k = 400.0 - 14.0 * 1.9 - (14.0 * 1.6 + 26.0);
    const double scale = k / (setup->structure.rail.height_m + 0.045);
    /* drawn at the largest scale that the height allows, unless the width binds: either way no more than this */
    const double drawn = (double)(start[1] - start[0]);
    assert_true(drawn > 0.0);
    assert_true(drawn <= bend[1] * 50.0 * scale * 1.001);
    assert_true(drawn >= bend[1] * 50.0 * scale * 0.7);
}

/* ---- scales ----------------------------------------------------------------------------------------------------- */

static void test_ticks(void **state)
{
    (void)state;
    for (int step = 0; step < 50; step++) {
        const double high = 0.013 * pow(1.37, (double)step);
        for (int most = 2; most <= 10; most++) {
            const view__ticks t = view__ticks_of(0.0, high, most);
            const double lead = t.step / pow(10.0, floor(log10(t.step) + 1e-9));
            assert_true(fabs(lead - 1.0) < 1e-6 || fabs(lead - 2.0) < 1e-6 || fabs(lead - 5.0) < 1e-6);
            assert_true(t.count >= 2 && t.count <= most + 1);
            assert_true(t.first + t.step * (t.count - 1) <= high * (1.0 + 1e-6));
        }
    }
}

static void test_spread(void **state)
{
    (void)state;
    float place[8] = {10, 10, 10.5F, 11, 40, 90, 95, 99};
    view__spread(place, 8, 12.0F, 0.0F, 100.0F);
    for (int i = 0; i < 8; i++) {
        assert_true(place[i] >= -0.01F && place[i] <= 100.01F);
        assert_true(i == 0 || place[i] - place[i - 1] >= 11.99F);
    }
}

static void test_languages_agree(void **state)
{
    const fixture *f = *state;
    for (int one = 0; one < 2; one++) {
        for (size_t i = 0; i < tr_lang_count(f->lang[one]); i++) {
            const char *key = tr_lang_key(f->lang[one], i);
            if (tr_word_or_null(f->lang[1 - one], key) == NULL) {
                fail_msg("%s is not in both languages", key);
            }
        }
    }
}

/* ---- golden: the words of a few pictures ------------------------------------------------------------------------ */

static void list_words(const fixture *f, char *out, size_t cap)
{
    static const char *const name[] = {
        "elevation_few",      "ladder_mixed", "mark_done",    "drill_under_way", "insert_proud",
        "assemble_under_way", "cut_pull",     "crimp_second", "turn_held",       "ball_in"};
    const view_pen pen = pen_of(f, 0, 14.0F);
    out[0] = '\0';
    for (size_t n = 0; n < sizeof name / sizeof name[0]; n++) {
        for (size_t i = 0; i < picture_case_count; i++) {
            const picture_case *what = &picture_cases[i];
            if (strcmp(what->name, name[n]) != 0) {
                continue;
            }
            static texts t;
            const view_rect area = {0, 0, what->w, what->h};
            view_draw_clear(f->draw);
            what->draw(&pen, area);
            collect(f->draw, area, &t);
            tr_append(out, cap, "%s:", what->name);
            for (int j = 0; j < t.count; j++) {
                tr_append(out, cap, "%s %s", j == 0 ? "" : " |", t.text[j]);
            }
            tr_append(out, cap, "\n");
        }
    }
}

static void test_golden_words(void **state)
{
    const fixture *f = *state;
    static char now[8192];
    char *was = NULL;
    size_t size = 0;
    char why[256];
    list_words(f, now, sizeof now);
    assert_int_equal(
        tr_file_read(TAUTROW_SOURCE "/tests/golden/picture_words.txt", 65536, &was, &size, why, sizeof why), TR_OK);
    if (strcmp(was, now) != 0) {
        (void)fprintf(stderr, "%s", now);
    }
    assert_string_equal(was, now);
    free(was);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_all_stay_inside),
        cmocka_unit_test(test_all_at_other_sizes),
        cmocka_unit_test(test_charts_at_any_size),
        cmocka_unit_test(test_row_hits),
        cmocka_unit_test(test_ladder_rungs),
        cmocka_unit_test(test_grips),
        cmocka_unit_test(test_only_guided_tells),
        cmocka_unit_test(test_stale_reading_is_no_state),
        cmocka_unit_test(test_bend_factor),
        cmocka_unit_test(test_thread_hand),
        cmocka_unit_test(test_bend_is_to_scale),
        cmocka_unit_test(test_ticks),
        cmocka_unit_test(test_spread),
        cmocka_unit_test(test_languages_agree),
        cmocka_unit_test(test_golden_words),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
