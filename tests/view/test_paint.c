/* Pixels of the painter, and the fonts behind it. */
#include "near.h"

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"
#include "tautrow/view/paint.h"
#include "tautrow/view/text.h"

#include <stdlib.h>
#include <string.h>

#define WHITE 0xFFFFFFFFU
#define BLACK 0x000000FFU

typedef struct bench {
    view_draw *draw;
    view_canvas *canvas;
    view_fonts *fonts;
} bench;

static int open_bench(void **state)
{
    char why[TR_TEXT_CAP] = "";
    bench *b = calloc(1, sizeof *b);
    b->draw = view_draw_open();
    b->canvas = view_canvas_open();
    if (view_fonts_open(NULL, 0, &b->fonts, why, sizeof why) != TR_OK) {
        print_error("%s\n", why);
        return -1;
    }
    *state = b;
    return 0;
}

static int close_bench(void **state)
{
    bench *b = *state;
    view_fonts_close(b->fonts);
    view_canvas_close(b->canvas);
    view_draw_close(b->draw);
    free(b);
    return 0;
}

static void paint(const bench *b, float scale)
{
    assert_true(view_canvas_paint(b->canvas, b->draw, b->fonts, 100, 60, scale, WHITE));
}

/* Darkness of a pixel, 0 to 255, from its green. */
static int dark(const bench *b, int x, int y)
{
    return 255 - (int)((view_canvas_pixel(b->canvas, x, y) >> 8U) & 0xFFU);
}

static long dark_sum(const bench *b, int x0, int y0, int x1, int y1)
{
    long sum = 0;
    for (int y = y0; y < y1; y++) {
        for (int x = x0; x < x1; x++) {
            sum += dark(b, x, y);
        }
    }
    return sum;
}

static void a_rectangle_fills_its_pixels_exactly(void **state)
{
    bench *b = *state;
    view_fill_rect(b->draw, (view_rect){10, 20, 30, 8}, 0, 0x804020FF);
    paint(b, 1);
    assert_int_equal(view_canvas_pixels(b->canvas).width, 100);
    assert_int_equal(view_canvas_pixel(b->canvas, 10, 20), 0xFF804020U);
    assert_int_equal(view_canvas_pixel(b->canvas, 39, 27), 0xFF804020U);
    assert_int_equal(view_canvas_pixel(b->canvas, 9, 20), 0xFFFFFFFFU);
    assert_int_equal(view_canvas_pixel(b->canvas, 40, 27), 0xFFFFFFFFU);
    assert_int_equal(view_canvas_pixel(b->canvas, 20, 28), 0xFFFFFFFFU);
    paint(b, 2);
    assert_int_equal(view_canvas_pixels(b->canvas).height, 120);
    assert_int_equal(view_canvas_pixel(b->canvas, 79, 55), 0xFF804020U);
    assert_int_equal(view_canvas_pixel(b->canvas, 80, 55), 0xFFFFFFFFU);
}

/* A pixel half covered is half dark; a circle's darkness is its area. */
static void edges_are_smooth(void **state)
{
    bench *b = *state;
    view_fill_rect(b->draw, (view_rect){10.5F, 10, 10, 10}, 0, BLACK);
    paint(b, 1);
    assert_in_range(dark(b, 10, 15), 124, 131);
    assert_int_equal(dark(b, 11, 15), 255);
    view_draw_clear(b->draw);
    view_fill_circle(b->draw, 50, 30, 20, BLACK);
    paint(b, 1);
    assert_near((double)dark_sum(b, 0, 0, 100, 60) / 255.0, 3.14159265 * 400.0, 4.0);
}

static void hairlines_are_sharp_at_every_scale(void **state)
{
    bench *b = *state;
    const float scales[] = {1.0F, 1.25F, 1.5F, 2.0F, 3.0F};
    view_stroke_line(b->draw, 10, 20, 90, 20, 1, BLACK);
    for (size_t i = 0; i < sizeof scales / sizeof scales[0]; i++) {
        paint(b, scales[i]);
        const int x = (int)(50.0F * scales[i]);
        const int height = view_canvas_pixels(b->canvas).height;
        int full = 0;
        for (int y = 0; y < height; y++) {
            assert_true(dark(b, x, y) == 0 || dark(b, x, y) == 255);
            full += dark(b, x, y) == 255;
        }
        assert_int_equal(full, (int)(scales[i] + 0.5F));
    }
}

static void clips_cut_and_nest(void **state)
{
    bench *b = *state;
    view_clip_push(b->draw, (view_rect){10, 10, 40, 40});
    view_clip_push(b->draw, (view_rect){30, 0, 60, 30});
    view_fill_rect(b->draw, (view_rect){0, 0, 100, 60}, 0, BLACK);
    view_clip_pop(b->draw);
    view_fill_rect(b->draw, (view_rect){12, 40, 4, 20}, 0, BLACK);
    view_clip_pop(b->draw);
    view_clip_pop(b->draw); /* one too many does no harm */
    view_fill_rect(b->draw, (view_rect){90, 50, 5, 5}, 0, BLACK);
    paint(b, 1);
    assert_int_equal(dark_sum(b, 0, 0, 100, 60), 255L * (20 * 20 + 4 * 10 + 25));
    assert_int_equal(dark(b, 30, 10), 255);
    assert_int_equal(dark(b, 29, 10), 0);
    assert_int_equal(dark(b, 49, 29), 255);
    assert_int_equal(dark(b, 92, 52), 255);
}

static void text_obeys_the_clip(void **state)
{
    bench *b = *state;
    const view_font font = {30, VIEW_BOLD};
    view_text(b->draw, 5, 40, font, VIEW_LEFT, BLACK, "HHHH");
    paint(b, 1);
    assert_true(dark_sum(b, 40, 0, 100, 60) > 0);
    view_draw_clear(b->draw);
    view_clip_push(b->draw, (view_rect){0, 0, 40, 60});
    view_text(b->draw, 5, 40, font, VIEW_LEFT, BLACK, "HHHH");
    view_clip_pop(b->draw);
    paint(b, 1);
    assert_true(dark_sum(b, 0, 0, 40, 60) > 0);
    assert_int_equal(dark_sum(b, 40, 0, 100, 60), 0);
}

/* The middle of what is drawn, weighed by darkness. */
static double middle_x(const bench *b)
{
    double sum = 0.0;
    double moment = 0.0;
    for (int x = 0; x < 100; x++) {
        const double column = (double)dark_sum(b, x, 0, x + 1, 60);
        sum += column;
        moment += column * (x + 0.5);
    }
    return moment / sum;
}

static void text_stands_on_its_baseline_and_aligns(void **state)
{
    bench *b = *state;
    const view_font font = {24, VIEW_REGULAR};
    const view_metrics metrics = view_fonts_metrics(b->fonts);
    const double half = (double)view_text_width(&metrics, font, "HH") / 2.0;
    view_text(b->draw, 50, 40, font, VIEW_CENTRE, BLACK, "HH");
    paint(b, 1);
    assert_int_equal(dark_sum(b, 0, 40, 100, 60), 0); /* H has nothing below the baseline */
    assert_true(dark_sum(b, 0, 38, 100, 40) > 0);
    assert_near(middle_x(b), 50.0, 1.0);
    view_draw_clear(b->draw);
    view_text(b->draw, 90, 40, font, VIEW_RIGHT, BLACK, "HH");
    paint(b, 1);
    assert_near(middle_x(b), 90.0 - half, 1.0);
    view_draw_clear(b->draw);
    view_text_up(b->draw, 50, 30, font, VIEW_CENTRE, BLACK, "HHH");
    paint(b, 1);
    assert_true(dark_sum(b, 30, 0, 50, 60) > 0); /* its top is at the left */
    assert_int_equal(dark_sum(b, 50, 0, 100, 60), 0);
}

/* Measured once, drawn at any scale: the drawn width must follow. SDL2_ttf rounds each run to whole pixels, and here
 * are three runs. */
static void widths_hold_at_every_scale(void **state)
{
    bench *b = *state;
    const view_metrics metrics = view_fonts_metrics(b->fonts);
    const float scales[] = {1.0F, 1.25F, 1.5F, 2.0F, 3.0F};
    const char *text = "Turnbuckle, row 12: 219 lbf \xE2\x86\x92 1 1/4 in";
    for (size_t i = 0; i < sizeof scales / sizeof scales[0]; i++) {
        view_mask mask;
        const view_font font = {15, VIEW_SEMIBOLD};
        assert_true(view_fonts_mask(b->fonts, font, scales[i], text, &mask));
        assert_near((double)mask.advance, (double)(view_text_width(&metrics, font, text) * scales[i]), 2.5);
    }
}

/* Lato lacks the triangle and the tick: they come from the other family, not as an empty box. */
static void signs_missing_in_one_family_come_from_the_other(void **state)
{
    bench *b = *state;
    view_mask tick;
    view_mask none;
    const view_font font = {20, VIEW_REGULAR};
    assert_true(view_fonts_mask(b->fonts, font, 1, "\xE2\x9C\x93", &tick));
    long tick_sum = 0;
    for (int i = 0; i < tick.stride * tick.height; i++) {
        tick_sum += tick.alpha[i];
    }
    assert_true(view_fonts_mask(b->fonts, font, 1, "\xF4\x8F\xBF\xBD", &none)); /* a sign that no font has */
    long none_sum = 0;
    for (int i = 0; i < none.stride * none.height; i++) {
        none_sum += none.alpha[i];
    }
    assert_true(tick_sum > 0);
    assert_int_not_equal(tick_sum, none_sum);
}

static void the_cache_stays_within_its_bound(void **state)
{
    bench *b = *state;
    view_mask mask;
    view_fonts_limit(b->fonts, 100000);
    for (int i = 0; i < 400; i++) {
        char text[32];
        tr_format(text, sizeof text, "row %d is in band", i);
        assert_true(view_fonts_mask(b->fonts, (view_font){15, VIEW_REGULAR}, 1, text, &mask));
        assert_true(view_fonts_cache(b->fonts).bytes <= 100000);
    }
    assert_true(view_fonts_cache(b->fonts).entries > 5);
    const size_t before = view_fonts_cache(b->fonts).entries;
    assert_true(view_fonts_mask(b->fonts, (view_font){15, VIEW_REGULAR}, 1, "row 399 is in band", &mask));
    assert_int_equal(view_fonts_cache(b->fonts).entries, before); /* known: not rendered again */
    view_fonts_limit(b->fonts, 0);
    assert_int_equal(view_fonts_cache(b->fonts).entries, 0);
    assert_true(view_fonts_mask(b->fonts, (view_font){15, VIEW_REGULAR}, 1, "larger than the bound", &mask));
    assert_non_null(mask.alpha);
}

static void without_a_font_it_says_what_to_do(void **state)
{
    (void)state;
    char why[TR_TEXT_CAP] = "";
    view_fonts *fonts = NULL;
    const char *const nowhere[] = {TAUTROW_SOURCE "/tests/support"};
    assert_int_equal(view_fonts_open_only(nowhere, 1, &fonts, why, sizeof why), TR_IO);
    assert_null(fonts);
    assert_non_null(strstr(why, "no font was found"));
    assert_non_null(strstr(why, "TAUTROW_FONTS"));
}

/* A file that only bears the name of a font does not pass for one. */
static void a_broken_font_file_is_passed_over(void **state)
{
    (void)state;
    char why[TR_TEXT_CAP] = "";
    view_fonts *fonts = NULL;
    const char *folder = TAUTROW_BINARY "/tests/broken_fonts";
    assert_int_equal(tr_folder_make(folder, why, sizeof why), TR_OK);
    assert_int_equal(
        tr_file_write(TAUTROW_BINARY "/tests/broken_fonts/Lato-Regular.ttf", "no font", 7, why, sizeof why), TR_OK);
    assert_int_equal(view_fonts_open_only(&folder, 1, &fonts, why, sizeof why), TR_IO);
    assert_int_equal(view_fonts_open(&folder, 1, &fonts, why, sizeof why), TR_OK);
    view_fonts_close(fonts);
}

static void a_picture_is_written_or_the_reason_told(void **state)
{
    bench *b = *state;
    char why[TR_TEXT_CAP] = "";
    char *png = NULL;
    size_t size = 0;
    const char *path = TAUTROW_BINARY "/tests/paint_shot.png";
    view_fill_circle(b->draw, 50, 30, 20, BLACK);
    assert_int_equal(view_shot(b->draw, b->fonts, 100, 60, 2, WHITE, path, why, sizeof why), TR_OK);
    assert_int_equal(tr_file_read(path, 1 << 20, &png, &size, why, sizeof why), TR_OK);
    assert_memory_equal(png, "\x89PNG", 4);
    assert_memory_equal(png + 16, "\0\0\0\xC8\0\0\0\x78", 8); /* IHDR: 200 x 120 */
    free(png);
    assert_int_equal(view_shot(b->draw, b->fonts, 100, 60, 2, WHITE, TAUTROW_BINARY "/none/x.png", why, sizeof why),
                     TR_IO);
    assert_non_null(strstr(why, "none/x.png"));
    assert_int_equal(view_shot(b->draw, b->fonts, 0, 60, 2, WHITE, path, why, sizeof why), TR_INVALID);
    assert_false(view_canvas_paint(b->canvas, b->draw, NULL, 20000, 10, 1, WHITE));
}

int main(void)
{
#define T(name) cmocka_unit_test_setup_teardown(name, open_bench, close_bench)
    const struct CMUnitTest tests[] = {
        T(a_rectangle_fills_its_pixels_exactly),
        T(edges_are_smooth),
        T(hairlines_are_sharp_at_every_scale),
        T(clips_cut_and_nest),
        T(text_obeys_the_clip),
        T(text_stands_on_its_baseline_and_aligns),
        T(widths_hold_at_every_scale),
        T(signs_missing_in_one_family_come_from_the_other),
        T(the_cache_stays_within_its_bound),
        T(a_picture_is_written_or_the_reason_told),
        cmocka_unit_test(without_a_font_it_says_what_to_do),
        cmocka_unit_test(a_broken_font_file_is_passed_over),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
