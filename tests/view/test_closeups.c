/* Close-ups against what the mechanics and the work say: lengths measured in the draw list, in metres of the picture. */
#include "near.h"

#include "draw_list.h"
#include "job_desk.h"
#include "tautrow/mech/run.h"

static float made_up_width(void *context, view_font font, const char *text)
{
    (void)context;
    return 0.5F * font.size * (float)strlen(text);
}

static const view_metrics made_up = {made_up_width, NULL};

/* A scenario with the expert's hands up to a stage; nothing but the close-up in the draw list. */
static void open_at(job_desk *desk, const char *scenario_name, job_stage stage, job_mode mode)
{
    job_desk_open(desk, scenario_name, mode, "en");
    desk->metrics = made_up;
    job_desk_ready(desk);
    job_desk_frame(desk, false);
    assert_true(job_desk_bring_to(desk, stage, 0));
    view_draw_clear(desk->draw);
}

static view_pen pen_of(const job_desk *desk)
{
    return (view_pen){desk->draw, view_theme_of(VIEW_THEME_DAY), &made_up, desk->lang, TR_US, 14.0F};
}

static const view_rect area = {0.0F, 0.0F, 780.0F, 300.0F};

/* ---- the ball --------------------------------------------------------------------------------------------------- */

/* Height between the two cables, from the filled circles of their size. */
static double drawn_spacing(const job_desk *desk, float row_r)
{
    double low = 1e9;
    double high = -1e9;
    for (size_t i = 0; i < desk->draw->commands; i++) {
        const view__command *c = &desk->draw->command[i];
        if (c->op == VIEW__FILL_CIRCLE && fabsf(c->radius - row_r) < 1e-4F) {
            low = fmin(low, (double)c->rect.y);
            high = fmax(high, (double)c->rect.y);
        }
    }
    return high - low;
}

/* On a stair the ball feels the gap square to the rows, as docs/mechanics.md 9 has it: narrower than up the post. */
static void the_gap_is_drawn_as_wide_as_the_ball_feels_it(void **context)
{
    (void)context;
    static const char *const names[] = {"soft-porch", "stair"};
    for (int i = 0; i < 2; i++) {
        static job_desk desk;
        open_at(&desk, names[i], JOB_STAGE_CHECK, JOB_GUIDED);
        const view_pen pen = pen_of(&desk);
        for (int gap = 1; gap < 4; gap++) {
            view_grip grip;
            /* away from the rows, so that they hang where they are */
            const view_hand hand = {.check = {.tool = VIEW_CHECK_BALL, .gap = gap, .ball_m = 0.2}};
            view_draw_clear(desk.draw);
            view_closeup_check(&pen, area, &desk.what.setup, &desk.state, 0, &hand, &grip);
            const double strand = desk.what.setup.structure.strand.diameter_m;
            const double spacing = drawn_spacing(&desk, fmaxf((float)(0.5 * strand) * grip.px_per_m, 3.0F));
            const double felt = mech_run_gap(&desk.state.run, gap);
            assert_near(spacing / (double)grip.px_per_m, felt, 1e-3 * felt);
        }
        job_desk_close(&desk);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_gap_is_drawn_as_wide_as_the_ball_feels_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
