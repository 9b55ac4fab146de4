/* The draw list as data, and text broken into lines by a made-up font. */
#include "near.h"

#include "fake_font.h"
#include "tautrow/view/draw.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const view_font font20 = {20.0F, VIEW_REGULAR}; /* 10 a character */

static void assert_dump(const view_draw *draw, const char *expected)
{
    char *dump = view_draw_dump(draw);
    assert_non_null(dump);
    assert_string_equal(dump, expected);
    free(dump);
}

static void each_command_is_one_readable_line(void **state)
{
    (void)state;
    view_draw *draw = view_draw_open();
    const view_point p[] = {{0, 0}, {10, 0}, {10, 5.25F}};
    view_fill_rect(draw, (view_rect){1, 2, 30, 40}, 6, 0x11223344);
    view_fill_circle(draw, 5, 6, 7, 0xFF);
    view_fill_poly(draw, p, 3, 0xAABBCCFF);
    view_fill_gradient(draw, (view_rect){0, 0, 8, 9}, 0, 0x1FF, 0x2FF);
    view_fill_sheen(draw, p, 3, true, 0x3FF, 0x4FF);
    view_stroke_rect(draw, (view_rect){1, 1, 2, 2}, 0, 1.5F, 0xFF);
    view_stroke_circle(draw, 1, 2, 3, 1, 0xFF);
    view_stroke_arc(draw, 1, 2, 3, 0.5F, 1.5F, 2, 0xFF);
    view_stroke_line(draw, 0, 0, -0.01F, 4, 1, 0xFF);
    view_stroke_poly(draw, p, 3, 1, 4, 0xFF);
    view_stroke_curve(draw, p, 3, 2, 0xFF);
    view_text(draw, 3, 4, (view_font){15, VIEW_BOLD}, VIEW_RIGHT, 0xFF, "ten \xC3\xB1");
    view_text_up(draw, 3, 4, (view_font){12, VIEW_REGULAR}, VIEW_CENTRE, 0xFF, "up");
    view_clip_push(draw, (view_rect){0, 0, 1, 1});
    view_clip_pop(draw);
    assert_dump(draw, "fill_rect 1.0 2.0 30.0 40.0 r6.0 #11223344\n"
                      "fill_circle 5.0 6.0 r7.0 #000000ff\n"
                      "fill_poly 0.0,0.0 10.0,0.0 10.0,5.2 #aabbccff\n"
                      "fill_gradient 0.0 0.0 8.0 9.0 r0.0 #000001ff #000002ff\n"
                      "fill_sheen 0.0,0.0 10.0,0.0 10.0,5.2 #000003ff #000004ff vertical\n"
                      "stroke_rect 1.0 1.0 2.0 2.0 r0.0 w1.5 #000000ff\n"
                      "stroke_circle 1.0 2.0 r3.0 w1.0 #000000ff\n"
                      "stroke_arc 1.0 2.0 r3.0 from 0.50 to 1.50 w2.0 #000000ff\n"
                      "stroke_poly 0.0,0.0 0.0,4.0 w1.0 #000000ff\n"
                      "stroke_poly 0.0,0.0 10.0,0.0 10.0,5.2 w1.0 dash4.0 #000000ff\n"
                      "stroke_curve 0.0,0.0 10.0,0.0 10.0,5.2 w2.0 #000000ff\n"
                      "text 3.0 4.0 bold15.0 right #000000ff \"ten \xC3\xB1\"\n"
                      "text_up 3.0 4.0 regular12.0 centre #000000ff \"up\"\n"
                      "clip_push 0.0 0.0 1.0 1.0\n"
                      "clip_pop\n");
    view_draw_clear(draw);
    assert_int_equal(view_draw_count(draw), 0);
    assert_dump(draw, "");
    view_draw_close(draw);
}

static void a_number_that_is_none_leaves_its_command_out(void **state)
{
    (void)state;
    view_draw *draw = view_draw_open();
    view_fill_rect(draw, (view_rect){NAN, 0, 1, 1}, 0, 0xFF);
    view_stroke_line(draw, 0, 0, INFINITY, 1, 1, 0xFF);
    view_arrow(draw, 1, 1, 1, 1, 2, 0xFF);
    view_fill_poly(draw, (const view_point[]){{0, 0}, {1, 1}}, 2, 0xFF);
    view_text(draw, 0, 0, font20, VIEW_LEFT, 0xFF, "");
    assert_int_equal(view_draw_count(draw), 0);
    view_clip_push(draw, (view_rect){0, NAN, 1, 1}); /* must keep its pair: cuts all away */
    view_clip_pop(draw);
    assert_dump(draw, "clip_push 0.0 0.0 0.0 0.0\nclip_pop\n");
    view_draw_close(draw);
}

static void the_list_holds_more_than_it_starts_with(void **state)
{
    (void)state;
    view_draw *draw = view_draw_open();
    for (int i = 0; i < 3000; i++) {
        view_stroke_line(draw, 0, 0, (float)i, 1, 1, 0xFF);
        view_text(draw, 0, 0, font20, VIEW_LEFT, 0xFF, "row");
    }
    assert_int_equal(view_draw_count(draw), 6000);
    char *dump = view_draw_dump(draw);
    assert_non_null(strstr(dump, "2999.0,1.0"));
    free(dump);
    view_draw_close(draw);
}

static void colours_mix_and_fade(void **state)
{
    (void)state;
    assert_int_equal(view_fade(0x10203080, 0.5F), 0x10203040);
    assert_int_equal(view_fade(0x10203080, 7.0F), 0x10203080);
    assert_int_equal(view_mix(0x000000FF, 0xFF8040FF, 0.5F), 0x804020FF);
    assert_int_equal(view_mix(0x123456FF, 0xFFFFFFFF, 0.0F), 0x123456FF);
    assert_int_equal(view_mix(0x123456FF, 0xFFFFFFFF, 1.0F), 0xFFFFFFFF);
}

static float block(view_draw *draw, float width, int max_lines, const char *text)
{
    return view_text_block(draw, &fake_metrics, (view_rect){0, 0, width, 0}, font20, 30, 0xFF, max_lines, text);
}

/* The texts of the list, one a line. */
static void assert_lines(view_draw *draw, const char *expected)
{
    char lines[512] = "";
    char *dump = view_draw_dump(draw);
    size_t size = 0;
    for (const char *at = dump; (at = strchr(at, '"')) != NULL;) {
        const char *end = strchr(at + 1, '"');
        memcpy(lines + size, at + 1, (size_t)(end - at - 1));
        size += (size_t)(end - at - 1);
        lines[size++] = '|';
        at = end + 1;
    }
    free(dump);
    assert_string_equal(lines, expected);
    view_draw_clear(draw);
}

static void text_breaks_at_words(void **state)
{
    (void)state;
    view_draw *draw = view_draw_open();
    assert_near((double)block(draw, 100, 0, "turn the body a quarter"), 90.0, 1e-6);
    assert_lines(draw, "turn the|body a|quarter|");
    assert_near((double)block(draw, 80, 0, "turn the body"), 60.0, 1e-6); /* exactly full: 8 characters */
    assert_lines(draw, "turn the|body|");
    block(draw, 79, 0, "turn the body");
    assert_lines(draw, "turn|the|body|");
    assert_near((double)block(draw, 200, 0, "one\n\ntwo"), 90.0, 1e-6);
    assert_lines(draw, "one|two|");
    assert_near((double)block(draw, 50, 0, "turnbuckle"), 60.0, 1e-6); /* too long a word is cut */
    assert_lines(draw, "turnb|uckle|");
    assert_near((double)block(NULL, 100, 0, "turn the body a quarter"), 90.0, 1e-6);
    assert_near((double)block(NULL, 100, 0, ""), 0.0, 1e-6);
    assert_near((double)block(NULL, 1, 0, "ab"), 60.0, 1e-6); /* never stuck: one character a line */
    view_draw_close(draw);
}

/* Nobody reads "100" at the end of one line and "%" at the start of the next. */
static void text_keeps_numbers_in_their_place(void **state)
{
    (void)state;
    view_draw *draw = view_draw_open();
    block(draw, 110, 0, "lost 100 % now"); /* eleven characters: "lost 100 %" would fit, and does */
    assert_lines(draw, "lost 100 %|now|");
    block(draw, 80, 0, "lost 100 % now"); /* "lost 100" alone would fit */
    assert_lines(draw, "lost|100 %|now|");
    block(draw, 120, 0,
          "it is 1 1/4 in (20 lbf\xC2\xB7in, 70 \xC2\xB0"
          "F)");
    assert_lines(draw, "it is|1 1/4 in|(20 lbf\xC2\xB7in,|70 \xC2\xB0"
                       "F)|");
    block(draw, 80, 0, "row 3 of 11"); /* nor "of" at the end of one line and "11" on the next */
    assert_lines(draw, "row 3|of 11|");
    block(draw, 80, 0, "with 20 lbf"); /* one tie to a number is enough */
    assert_lines(draw, "with|20 lbf|");
    block(draw, 80, 0, "add 1.5 turns");
    assert_lines(draw, "add 1.5|turns|");
    block(draw, 60, 0, "bit 3/8 in");
    assert_lines(draw, "bit|3/8 in|");
    block(draw, 80, 0, "rows 3 and 4, 5");
    assert_lines(draw, "rows 3|and 4, 5|");
    view_draw_close(draw);
}

/* Real fonts: a line can be wider than its words and spaces one by one. What is drawn must fit nevertheless. */
static float wide_space(void *context, view_font font, const char *text)
{
    return fake_width(context, font, text) + (strchr(text, ' ') != NULL && text[1] != '\0' ? 5.0F : 0.0F);
}

static void the_line_as_a_whole_must_fit(void **state)
{
    (void)state;
    const view_metrics metrics = {.width = wide_space};
    view_draw *draw = view_draw_open();
    view_text_block(draw, &metrics, (view_rect){0, 0, 80, 0}, font20, 30, 0xFF, 0, "turn the body");
    assert_lines(draw, "turn|the|body|");
    view_text_block(draw, &metrics, (view_rect){0, 0, 85, 0}, font20, 30, 0xFF, 0, "turn the body");
    assert_lines(draw, "turn the|body|");
    view_draw_close(draw);
}

static void what_does_not_fit_ends_in_an_ellipsis(void **state)
{
    (void)state;
    view_draw *draw = view_draw_open();
    assert_near((double)block(draw, 100, 2, "turn the body a quarter turn"), 60.0, 1e-6);
    assert_lines(draw, "turn the|body a qu\xE2\x80\xA6|");
    block(draw, 100, 1, "one\ntwo");
    assert_lines(draw, "one\xE2\x80\xA6|");
    block(draw, 100, 2, "turn the body");
    assert_lines(draw, "turn the|body|");
    view_text_fit(draw, &fake_metrics, 0, 0, 30, font20, VIEW_LEFT, 0xFF,
                  "\xC3\xB1\xC3\xB1\xC3\xB1\xC3\xB1\xC3\xB1\xC3\xB1");
    assert_lines(draw, "\xC3\xB1\xC3\xB1\xC3\xB1\xC3\xB1\xE2\x80\xA6|"); /* never half a character */
    view_text_fit(draw, &fake_metrics, 0, 0, 60, font20, VIEW_LEFT, 0xFF, "sixsix");
    assert_lines(draw, "sixsix|");
    view_draw_close(draw);
}

/* 20 shrinks to 12 at the least, small text not below 12; six letters of font20 are 60 wide. */
static void letters_give_way_before_words_do(void **state)
{
    (void)state;
    const view_font small = {.size = 12.5F, .weight = VIEW_REGULAR};
    assert_near((double)view_font_fit(&fake_metrics, font20, 60, "sixsix").size, 20.0, 1e-6);
    assert_near((double)view_font_fit(&fake_metrics, font20, 45, "sixsix").size, 15.0, 1e-6);
    assert_near((double)view_font_fit(&fake_metrics, font20, 10, "sixsix").size, 12.0, 1e-6);
    assert_near((double)view_font_fit(&fake_metrics, small, 10, "sixsix").size, 12.0, 1e-6);
    view_draw *draw = view_draw_open();
    view_text_fit(draw, &fake_metrics, 0, 0, 45, font20, VIEW_LEFT, 0xFF, "sixsix");
    assert_lines(draw, "sixsix|");
    view_draw_close(draw);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_command_is_one_readable_line),
        cmocka_unit_test(a_number_that_is_none_leaves_its_command_out),
        cmocka_unit_test(the_list_holds_more_than_it_starts_with),
        cmocka_unit_test(colours_mix_and_fade),
        cmocka_unit_test(text_breaks_at_words),
        cmocka_unit_test(text_keeps_numbers_in_their_place),
        cmocka_unit_test(the_line_as_a_whole_must_fit),
        cmocka_unit_test(what_does_not_fit_ends_in_an_ellipsis),
        cmocka_unit_test(letters_give_way_before_words_do),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
