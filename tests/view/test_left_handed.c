/* Left-handed people have tools and words on the left, and a picture whose gestures run the other way. */
#include "near.h"

#include <stdlib.h>
#include <string.h>

#include "fake_font.h"
#include "stage_hands.h"

static job_desk *desk_at(job_stage stage, bool is_left_handed)
{
    job_desk *desk = malloc(sizeof *desk);
    job_desk_open(desk, "soft-porch", JOB_GUIDED, "en");
    desk->metrics = fake_metrics;
    desk->prefs.left_handed = is_left_handed;
    job_desk_ready(desk);
    job_desk_frame(desk, false);
    hands_at(desk, stage, 0);
    hands_wait(desk, 0.1F);
    return desk;
}

static void close_desk(job_desk *desk)
{
    job_desk_close(desk);
    free(desk);
}

/* Middle of what is called so; fails where there is none. */
static view_point place_of(const job_desk *desk, const char *word_key)
{
    const view_target *target = NULL;
    const size_t count = view_targets(&desk->ui, &target);
    for (size_t i = 0; i < count; i++) {
        if (strncmp(target[i].label, tr_word(desk->lang, word_key), sizeof target[i].label - 1) == 0) {
            const view_rect r = target[i].rect;
            return (view_point){r.x + r.w / 2.0F, r.y + r.h / 2.0F};
        }
    }
    fail_msg("no target for %s", word_key);
    return (view_point){0};
}

static void tools_and_words_change_sides(void **state)
{
    (void)state;
    for (int left = 0; left < 2; left++) {
        job_desk *desk = desk_at(JOB_STAGE_CRIMP, left == 1);
        const float sign = left == 1 ? -1.0F : 1.0F;
        const float run = place_of(desk, "job.run").x;
        const float picture = place_of(desk, "do.crimp.picture").x;
        assert_true(sign * (place_of(desk, "job.ladder").x - run) > 200.0F);
        assert_true(sign * (place_of(desk, "do.crimp.push").x - picture) > 100.0F);
        assert_true(sign * (place_of(desk, "job.bend_more").x - run) > 100.0F); /* away from the near post's numbers */
        close_desk(desk);
    }
}

/* The cable goes off to the right, or to the left: towards the post the crimper slides the other way. */
static float slid(bool is_left_handed, int key)
{
    job_desk *desk = desk_at(JOB_STAGE_CRIMP, is_left_handed);
    const int row = desk->job->row;
    hands_hold(desk, 'U', 5.0F);
    view_job_show(desk->job, JOB_STAGE_CRIMP, row);
    hands_wait(desk, 0.1F);
    const float from = desk->job->tools.crimp.die_m;
    hands_hold(desk, key, 0.5F);
    const float by = desk->job->tools.crimp.die_m - from;
    close_desk(desk);
    return by;
}

static void arrows_move_the_crimper_as_it_is_seen(void **state)
{
    (void)state;
    assert_true(slid(false, VIEW_KEY_LEFT) > 0.001F);
    assert_true(slid(true, VIEW_KEY_RIGHT) > 0.001F);
    assert_true(slid(false, VIEW_KEY_RIGHT) <= 0.0F);
    assert_true(slid(true, VIEW_KEY_LEFT) <= 0.0F);
}

static void the_mouse_drags_the_crimper_as_it_is_seen(void **state)
{
    (void)state;
    for (int left = 0; left < 2; left++) {
        job_desk *desk = desk_at(JOB_STAGE_CRIMP, left == 1);
        const int row = desk->job->row;
        hands_hold(desk, 'U', 5.0F);
        view_job_show(desk->job, JOB_STAGE_CRIMP, row);
        hands_wait(desk, 0.1F);
        const float before = desk->job->tools.crimp.die_m;
        const view_point middle = place_of(desk, "do.crimp.picture");
        const float towards_post = left == 1 ? 1.0F : -1.0F;
        const float x = middle.x + towards_post * 100.0F; /* clear of the end view, whose drag turns */
        hands_point(desk, x, middle.y + 20.0F);
        hands_wait(desk, 0.05F);
        hands_mouse(desk, VIEW_MOUSE_LEFT, true);
        for (int i = 0; i < 40; i++) {
            hands_point(desk, x + towards_post * (float)i, middle.y + 20.0F);
            hands_wait(desk, 1.0F / 60.0F);
        }
        hands_mouse(desk, VIEW_MOUSE_LEFT, false);
        hands_wait(desk, 0.1F);
        assert_true(desk->job->tools.crimp.die_m > before + 0.001F);
        close_desk(desk);
    }
}

/* The plain end looks towards the near post. */
static void the_end_that_is_pressed_is_the_end_that_is_seen(void **state)
{
    (void)state;
    for (int left = 0; left < 2; left++) {
        job_desk *desk = desk_at(JOB_STAGE_ASSEMBLE, left == 1);
        const char *name = left == 1 ? "do.assemble.picture_left" : "do.assemble.picture";
        const view_point middle = place_of(desk, name);
        for (int side = 0; side < 2; side++) {
            hands_point(desk, middle.x + (side == 0 ? -100.0F : 100.0F), middle.y);
            hands_wait(desk, 0.05F);
            hands_mouse(desk, VIEW_MOUSE_LEFT, true);
            hands_wait(desk, 0.05F);
            hands_mouse(desk, VIEW_MOUSE_LEFT, false);
            hands_wait(desk, 0.1F);
            const int plain_side = left;
            assert_int_equal(desk->job->tools.assemble.end, side == plain_side ? 1 : 2);
        }
        close_desk(desk);
    }
}

/* Tighter is tighter from either side. */
static void the_keys_of_turning_stay(void **state)
{
    (void)state;
    for (int left = 0; left < 2; left++) {
        job_desk *desk = desk_at(JOB_STAGE_TENSION, left == 1);
        const int row = desk->job->row;
        const double before = desk->state.rows.tension_n[row];
        hands_tap(desk, VIEW_KEY_RIGHT);
        hands_wait(desk, 0.5F);
        assert_true(desk->state.rows.tension_n[row] > before);
        close_desk(desk);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tools_and_words_change_sides),
        cmocka_unit_test(arrows_move_the_crimper_as_it_is_seen),
        cmocka_unit_test(the_mouse_drags_the_crimper_as_it_is_seen),
        cmocka_unit_test(the_end_that_is_pressed_is_the_end_that_is_seen),
        cmocka_unit_test(the_keys_of_turning_stay),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
