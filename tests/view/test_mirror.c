/* The pictures for left-handed people: the run seen from its other side. What is drawn is reflected, what can be taken
 * hold of too; instruments, words and the facts of a thread are not. */
#include "near.h"
#include "pic.h"

#include <stdlib.h>
#include <string.h>

#include "draw_list.h"
#include "fake_font.h"
#include "picture_jobs.h"

static const view_rect area = {30.0F, 20.0F, 780.0F, 400.0F};

typedef struct pair {
    view_draw *plain, *mirrored;
} pair;

static view_pen pen_on(view_draw *draw, bool is_mirrored)
{
    return (view_pen){.draw = draw,
                      .theme = view_theme_of(VIEW_THEME_DAY),
                      .metrics = &fake_metrics,
                      .units = TR_US,
                      .text = 14.0F,
                      .is_mirrored = is_mirrored};
}

static int set_up(void **state)
{
    static pair p;
    p.plain = view_draw_open();
    p.mirrored = view_draw_open();
    picture_jobs_make();
    *state = &p;
    return p.plain == NULL || p.mirrored == NULL;
}

static int tear_down(void **state)
{
    pair *p = *state;
    view_draw_close(p->plain);
    view_draw_close(p->mirrored);
    return 0;
}

static float reflected(float x)
{
    return 2.0F * area.x + area.w - x;
}

static view_rect reflected_rect(view_rect r)
{
    return (view_rect){reflected(r.x + r.w), r.y, r.w, r.h};
}

static void assert_rect(view_rect a, view_rect b)
{
    assert_near((double)a.x, (double)b.x, 0.01);
    assert_near((double)a.y, (double)b.y, 0.01);
    assert_near((double)a.w, (double)b.w, 0.01);
    assert_near((double)a.h, (double)b.h, 0.01);
}

/* ---- the list --------------------------------------------------------------------------------------------------- */

/* About x = 100; the numbers are worked out by hand. */
static void each_command_is_reflected_and_text_stays_readable(void **state)
{
    const pair *p = *state;
    const view_point line[2] = {{10, 5}, {30, 7}};
    view_draw *draw = p->mirrored;
    view_draw_clear(draw);
    view_mirror(draw, true, 100.0F);
    view_fill_rect(draw, (view_rect){10, 20, 30, 40}, 0.0F, 0xFF);
    view_fill_circle(draw, 10, 20, 5, 0xFF);
    view_stroke_arc(draw, 10, 20, 5, 0.25F, 1.0F, 1.0F, 0xFF);
    view_stroke_poly(draw, line, 2, 1.0F, 0.0F, 0xFF);
    view_text(draw, 10, 20, (view_font){14, VIEW_REGULAR}, VIEW_LEFT, 0xFF, "a");
    view_text(draw, 10, 20, (view_font){14, VIEW_REGULAR}, VIEW_CENTRE, 0xFF, "a");
    view_mirror(draw, false, 0.0F);
    view_fill_rect(draw, (view_rect){10, 20, 30, 40}, 0.0F, 0xFF);
    const view__command *c = draw->command;
    assert_rect(c[0].rect, (view_rect){160, 20, 30, 40});
    assert_near((double)c[1].rect.x, 190.0, 1e-6);
    assert_near((double)c[2].a, 2.1415926, 1e-5); /* pi - 1 */
    assert_near((double)c[2].b, 2.8915926, 1e-5); /* pi - 1/4 */
    assert_near((double)draw->point[c[3].first].x, 190.0, 1e-6);
    assert_near((double)draw->point[c[3].first + 1].x, 170.0, 1e-6);
    assert_near((double)c[4].rect.x, 190.0, 1e-6);
    assert_int_equal(c[4].align, VIEW_RIGHT);
    assert_int_equal(c[5].align, VIEW_CENTRE);
    assert_rect(c[6].rect, (view_rect){10, 20, 30, 40});
    view_mirror(draw, true, 100.0F);
    view_draw_clear(draw); /* a new frame is never mirrored by what the last one left on */
    assert_false(view_is_mirrored(draw));
}

/* ---- pictures --------------------------------------------------------------------------------------------------- */

static void draw_both(const pair *p, const picture_case *what)
{
    const view_pen plain = pen_on(p->plain, false);
    const view_pen mirrored = pen_on(p->mirrored, true);
    view_draw_clear(p->plain);
    view_draw_clear(p->mirrored);
    what->draw(&plain, area);
    what->draw(&mirrored, area);
    assert_false(view_is_mirrored(p->mirrored)); /* every picture turns it off again */
    assert_int_equal(p->plain->commands, p->mirrored->commands);
}

/* Middle of what a command covers across; texts by their anchor. */
static float middle_of(const view_draw *draw, const view__command *c)
{
    float low = 1e9F;
    float high = -1e9F;
    switch (c->op) {
    case VIEW__FILL_POLY:
    case VIEW__FILL_SHEEN:
    case VIEW__STROKE_POLY:
    case VIEW__STROKE_CURVE:
        for (size_t i = 0; i < c->count; i++) {
            low = fminf(low, draw->point[c->first + i].x);
            high = fmaxf(high, draw->point[c->first + i].x);
        }
        return (low + high) / 2.0F;
    case VIEW__FILL_CIRCLE:
    case VIEW__STROKE_CIRCLE:
    case VIEW__STROKE_ARC:
    case VIEW__TEXT:
    case VIEW__TEXT_UP:
        return c->rect.x;
    default:
        return c->rect.x + c->rect.w / 2.0F;
    }
}

/* How many commands are reflected; the rest must have moved as a whole, as instruments do, or be where they were. */
static size_t count_reflected(const pair *p, const char *name)
{
    size_t count = 0;
    float moved = 0.0F;
    for (size_t i = 0; i < p->plain->commands; i++) {
        const view__command *a = &p->plain->command[i];
        const view__command *b = &p->mirrored->command[i];
        if (a->op == VIEW__CLIP_POP) {
            count++;
            continue;
        }
        const float from = middle_of(p->plain, a);
        const float to = middle_of(p->mirrored, b);
        /* crests and wires keep their slant, so they end up to half a turn from where the mirror has them */
        const bool is_slanted = a->op == VIEW__STROKE_POLY && (a->color & 0xFFU) != 0xFFU;
        if (fabsf(to - reflected(from)) < (is_slanted ? 30.0F : 1.5F)) {
            count++;
        } else if (moved == 0.0F) {
            moved = to - from;
        } else if (fabsf(to - from - moved) > 1.5F) {
            fail_msg("%s: command %zu neither reflected nor moved with its instrument: %.1f to %.1f", name, i,
                     (double)from, (double)to);
        }
    }
    return count;
}

static bool starts(const char *text, const char *with)
{
    return strncmp(text, with, strlen(with)) == 0;
}

static bool is_instrument(const char *name)
{
    return starts(name, "chart") || starts(name, "ladder") || starts(name, "gauge") || starts(name, "crimp_gauge");
}

static bool has_column(const char *name)
{
    return starts(name, "drill") || starts(name, "insert") || starts(name, "crimp") || starts(name, "join") ||
           starts(name, "turn") || starts(name, "ball");
}

static void pictures_are_reflected_and_instruments_are_not(void **state)
{
    const pair *p = *state;
    for (size_t i = 0; i < picture_case_count; i++) {
        const picture_case *what = &picture_cases[i];
        draw_both(p, what);
        if (is_instrument(what->name)) {
            char *a = view_draw_dump(p->plain);
            char *b = view_draw_dump(p->mirrored);
            assert_string_equal(a, b);
            free(a);
            free(b);
        } else {
            const size_t count = count_reflected(p, what->name);
            if (!has_column(what->name) && count != p->plain->commands) {
                fail_msg("%s: only %zu of %zu commands are reflected", what->name, count, p->plain->commands);
            }
            assert_true(count * 3 > p->plain->commands && count > 3);
        }
    }
}

static void the_rows_are_pressed_where_they_are_seen(void **state)
{
    const pair *p = *state;
    const view_pen plain = pen_on(p->plain, false);
    const view_pen mirrored = pen_on(p->mirrored, true);
    const view_elevation_look look = {.row = 2, .gap = -1, .plucked_row = -1};
    view_hits a;
    view_hits b;
    view_elevation(&plain, area, picture_setup(PICTURE_SHORT), picture_state(PICTURE_SHORT), &look, &a);
    view_elevation(&mirrored, area, picture_setup(PICTURE_SHORT), picture_state(PICTURE_SHORT), &look, &b);
    assert_int_equal(a.row_count, b.row_count);
    for (int i = 0; i < a.row_count; i++) {
        assert_rect(b.row[i], reflected_rect(a.row[i]));
        assert_rect(b.gap[i], reflected_rect(a.gap[i]));
    }
}

/* The mouse follows: a gesture along the cable runs the other way. The dial of turning only moves with its column. */
static void what_is_taken_hold_of_is_reflected(void **state)
{
    const pair *p = *state;
    const view_hand hand = {0};
    for (int stage = JOB_STAGE_MARK; stage < JOB_STAGE_CHECK; stage++) {
        const bool is_dial = stage == JOB_STAGE_JOIN || stage == JOB_STAGE_TENSION;
        view_grip grip[2] = {{.px_per_m = 0.0F}, {.px_per_m = 0.0F}};
        for (int i = 0; i < 2; i++) {
            const view_pen pen = pen_on(i == 0 ? p->plain : p->mirrored, i == 1);
            view_draw_clear(pen.draw);
            view_closeup(&pen, area, (job_stage)stage, picture_setup(PICTURE_MIXED), picture_state(PICTURE_MIXED), 3,
                         &hand, &grip[i]);
        }
        assert_rect(grip[1].handle, reflected_rect(grip[0].handle));
        assert_near((double)grip[1].px_per_m, (double)grip[0].px_per_m, 1e-6);
        assert_near((double)grip[1].along_y, (double)grip[0].along_y, 1e-6);
        assert_near((double)grip[1].along_x, is_dial ? (double)grip[0].along_x : -(double)grip[0].along_x, 1e-6);
        assert_near((double)grip[1].zero.x, (double)reflected(grip[0].zero.x), 0.01);
    }
}

/* ---- facts ------------------------------------------------------------------------------------------------------ */

/* A right-hand thread is one from either side: its crests fall to the right. Geometry; test_pictures.c shows which way
 * is which. */
static void the_hand_of_a_thread_is_no_matter_of_sides(void **state)
{
    const pair *p = *state;
    const view_pen pen = pen_on(p->mirrored, true);
    const view__board board = {pen, area};
    const view__axis axis = view__axis_of(200, 50, 0.0, 5000.0F);
    for (int hand = -1; hand <= 1; hand += 2) {
        const view__thread thread = {0.00635, 0.0054, 0.000907, hand, 0.3};
        view_draw_clear(p->mirrored);
        view__mirror(&board, true);
        view__threaded(&board, &axis, 0.0, 0.012, thread, view__steel_of(&board));
        view__mirror(&board, false);
        const view__command *crests = &p->mirrored->command[p->mirrored->commands - 1];
        assert_int_equal(crests->op, VIEW__STROKE_POLY);
        for (size_t i = 0; i + 1 < crests->count; i += 2) {
            const view_point a = p->mirrored->point[crests->first + i];
            const view_point b = p->mirrored->point[crests->first + i + 1];
            assert_true((b.x - a.x) * (b.y - a.y) * (float)hand > 0.0F);
        }
    }
}

/* The lay of the wires too: the last stroke of a strand, plain and mirrored, slants the same way. */
static void the_lay_of_a_strand_is_no_matter_of_sides(void **state)
{
    const pair *p = *state;
    float slope[2];
    for (int i = 0; i < 2; i++) {
        const view_pen pen = pen_on(i == 0 ? p->plain : p->mirrored, i == 1);
        const view__board board = {pen, area};
        const view__axis axis = view__axis_of(200, 50, 0.0, 5000.0F);
        view_draw_clear(pen.draw);
        view__mirror(&board, true);
        view__strand(&board, &axis, 0.0, 0.08, 0.003175, 0.0, 0.0);
        const view__command *wire = &pen.draw->command[pen.draw->commands / 2];
        const view_point a = pen.draw->point[wire->first];
        const view_point b = pen.draw->point[wire->first + 1];
        assert_int_equal(wire->count, 2);
        slope[i] = (b.x - a.x) * (b.y - a.y);
    }
    assert_true(slope[0] != 0.0F && slope[0] * slope[1] > 0.0F);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_command_is_reflected_and_text_stays_readable),
        cmocka_unit_test(pictures_are_reflected_and_instruments_are_not),
        cmocka_unit_test(the_rows_are_pressed_where_they_are_seen),
        cmocka_unit_test(what_is_taken_hold_of_is_reflected),
        cmocka_unit_test(the_hand_of_a_thread_is_no_matter_of_sides),
        cmocka_unit_test(the_lay_of_a_strand_is_no_matter_of_sides),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
