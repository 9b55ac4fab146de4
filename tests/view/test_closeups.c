/* Close-ups against what the mechanics and the work say: lengths measured in the draw list, in metres of the picture. */
#include "near.h"

#include "draw_text.h"
#include "fake_font.h"
#include "job_desk.h"
#include "pic.h"
#include "tautrow/mech/run.h"

/* A scenario with the expert's hands up to a stage; nothing but the close-up in the draw list. */
static void open_at(job_desk *desk, const char *scenario_name, job_stage stage, job_mode mode)
{
    job_desk_open(desk, scenario_name, mode, "en");
    desk->metrics = fake_metrics;
    job_desk_ready(desk);
    job_desk_frame(desk, false);
    assert_true(job_desk_bring_to(desk, stage, 0));
    view_draw_clear(desk->draw);
}

static view_pen pen_of(const job_desk *desk)
{
    return (view_pen){desk->draw, view_theme_of(VIEW_THEME_DAY), &fake_metrics, desk->lang, TR_US, 14.0F, false};
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

/* ---- the face about the hole ------------------------------------------------------------------------------------ */

static int count_of(const job_desk *desk, view__op op, size_t points)
{
    int count = 0;
    for (size_t i = 0; i < desk->draw->commands; i++) {
        const view__command *c = &desk->draw->command[i];
        count += c->op == op && (points == 0 || c->count == points) ? 1 : 0;
    }
    return count;
}

static job_row hole_of(const job_setup *setup, double rpm, double wander_m)
{
    job_row row = {.is_marked = true, .is_drilled = true, .drill_rpm = rpm};
    row.hole = (mech_hole){
        .diameter_m = setup->bit[setup->right_bit].diameter_m, .depth_m = setup->hole_depth_m, .wander_m = wander_m};
    return row;
}

/* A careful hand leaves a clean rim; a hasty one tears and burns it, the more the worse. */
static void a_hasty_hole_looks_hasty(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_STAGE_DRILL, JOB_PRACTICE);
    const view__board board = {pen_of(&desk), area};
    const job_setup *setup = &desk.what.setup;
    const double good = 0.5 * (setup->drill_rpm.low + setup->drill_rpm.high);
    const job_row rows[] = {hole_of(setup, good, 0.00002), hole_of(setup, good, 0.0004),
                            hole_of(setup, 2.0 * setup->drill_rpm.high, 0.00002)};
    int splinters[3];
    int circles[3];
    for (int i = 0; i < 3; i++) {
        view_draw_clear(desk.draw);
        view__face(&board, (view_rect){100, 100, 96, 96}, setup, &rows[i]);
        splinters[i] = count_of(&desk, VIEW__FILL_POLY, 3);
        circles[i] = count_of(&desk, VIEW__FILL_CIRCLE, 0);
    }
    assert_int_equal(splinters[0], 0);
    assert_true(splinters[1] > 8);
    assert_int_equal(splinters[2], 0);
    assert_int_equal(circles[1], circles[0]);
    assert_true(circles[2] > circles[0]);
    job_desk_close(&desk);
}

/* ---- the spring scale ------------------------------------------------------------------------------------------- */

/* The pointer is the only line of its width and colour; the pull is to the left. */
static double pointer_x(const job_desk *desk, double share)
{
    const view__board board = {pen_of(desk), area};
    const view__axis axis = view__axis_of(600.0F, 100.0F, TR_PI, 2000.0F);
    view_draw_clear(desk->draw);
    view__spring_scale(&board, &axis, 0.07, share);
    for (size_t i = 0; i < desk->draw->commands; i++) {
        const view__command *c = &desk->draw->command[i];
        if (c->op == VIEW__STROKE_POLY && c->count == 2 && fabsf(c->width - 2.6F) < 1e-4F) {
            return (double)desk->draw->point[c->first].x;
        }
    }
    fail();
    return 0.0;
}

/* Against its own case: the case goes away with the hand by less than the half of it. */
static void the_spring_draws_out_in_step_with_the_pull(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_STAGE_CUT, JOB_PRACTICE);
    const double at_rest = pointer_x(&desk, 0.0);
    const double half = pointer_x(&desk, 0.5);
    const double whole = pointer_x(&desk, 1.0);
    assert_true(half > at_rest + 5.0); /* towards the hook, at the right */
    assert_near(whole - half, half - at_rest, 0.05);
    job_desk_close(&desk);
}

/* ---- the felt line ---------------------------------------------------------------------------------------------- */

/* Where the line is on the barrel: the first point of the first stroke in the colour of forces and its width. */
static float felt_y(const job_desk *desk, view_point *first)
{
    for (size_t i = 0; i < desk->draw->commands; i++) {
        const view__command *c = &desk->draw->command[i];
        if (c->op == VIEW__STROKE_POLY && c->count > 2 && fabsf(c->width - 2.0F) < 1e-4F) {
            *first = desk->draw->point[c->first];
            return first->y;
        }
    }
    fail();
    return 0.0F;
}

static void a_stud_that_turns_takes_its_line_round(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_STAGE_CHECK, JOB_PRACTICE);
    const view_pen pen = pen_of(&desk);
    const int row = desk.what.setup.order[0];
    float y[3];
    view_point first;
    for (int i = 0; i < 3; i++) {
        /* held: the body turns, the stud does not */
        const view_hand hand = {.turn = {.pin_rad = i == 1 ? 1.0 : 0.0, .stud_rad = i == 2 ? 1.0 : 0.0}};
        view_draw_clear(desk.draw);
        view_closeup_turn(&pen, area, &desk.what.setup, &desk.state, row, &hand, NULL);
        y[i] = felt_y(&desk, &first);
    }
    assert_near((double)y[1], (double)y[0], 0.01);
    assert_true(fabsf(y[2] - y[0]) > 2.0F);
    job_desk_close(&desk);
}

/* ---- the trip --------------------------------------------------------------------------------------------------- */

static void turn_one(job_desk *desk, int row)
{
    for (int i = 0; i < 6; i++) {
        const job_action action = job_make(JOB_DO_TURN_BODY, desk->state.now_ms + 1000, (const double[]){row, 0.25}, 2);
        assert_int_equal(job_desk_do(desk, &action).refusal, JOB_REFUSE_NONE);
    }
}

static void force_words(double force_n, char *out, size_t cap)
{
    char value[32];
    tr_quantity_text(fabs(force_n), TR_DIM_FORCE, TR_US, TR_PLAIN, value, sizeof value);
    tr_format(out, cap, "%s%s", force_n < 0.0 ? "\xE2\x88\x92" : "+", value);
}

/* What one row gained and the others lost is said in the model's own numbers, in guided mode alone. */
static void the_trip_says_what_the_others_lost(void **context)
{
    (void)context;
    for (int mode = 0; mode < 2; mode++) {
        static job_desk desk;
        job_action next;
        open_at(&desk, "soft-porch", JOB_STAGE_TENSION, mode == 0 ? JOB_GUIDED : JOB_PRACTICE);
        while (job_expert_next(&desk.what.setup, &desk.state, &next) && next.verb != JOB_DO_TURN_BODY) {
            (void)job_desk_do(&desk, &next);
        }
        const int row = job_action_row(&next);
        view_job_show(desk.job, JOB_STAGE_TENSION, row);
        turn_one(&desk, row);
        job_desk_frame(&desk, false); /* seen, as every turn of a hand is */
        const mech_rows before = desk.state.rows;
        const int other = row > 2 ? row - 2 : row + 2;
        view_job_show(desk.job, JOB_STAGE_TENSION, other);
        turn_one(&desk, other);
        double others_n = 0.0;
        for (int i = 0; i < desk.what.setup.structure.row_count; i++) {
            others_n += i != other ? desk.state.rows.tension_n[i] - before.tension_n[i] : 0.0;
        }
        assert_true(others_n < -20.0);
        for (int i = 0; i < 90; i++) {
            job_desk_frame(&desk, false);
        }
        char own[64];
        char lost[64];
        char rest[64];
        force_words(desk.state.rows.tension_n[other] - before.tension_n[other], own, sizeof own);
        force_words(others_n, rest, sizeof rest);
        force_words(desk.state.rows.tension_n[row] - before.tension_n[row], lost, sizeof lost);
        assert_int_equal(draw_says(desk.draw, own), mode == 0);
        assert_int_equal(draw_says(desk.draw, rest), mode == 0);
        assert_int_equal(draw_says(desk.draw, lost), mode == 0);
        job_desk_close(&desk);
    }
}

/* The clincher: rows that were right are wrong again because another one was pulled. */
static void rows_that_fell_out_are_counted(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_STAGE_CHECK, JOB_GUIDED);
    const view_pen pen = pen_of(&desk);
    const int count = desk.what.setup.structure.row_count;
    const double target = desk.what.setup.target_n;
    const double under = target * (1.0 - desk.what.setup.tolerance) - 1.0;
    double before[MECH_MAX_ROWS];
    double now[MECH_MAX_ROWS];
    for (int fallen = 0; fallen <= 2; fallen++) {
        for (int i = 0; i < count; i++) {
            before[i] = target;
            now[i] = i >= 1 && i <= fallen ? under : target;
        }
        now[5] = under; /* the row in hand itself does not count, nor one that was low before */
        before[7] = now[7] = under;
        const view_elevation_look look = {.show_true = true,
                                          .row = 5,
                                          .gap = -1,
                                          .plucked_row = -1,
                                          .tension_n = now,
                                          .before_n = before,
                                          .trip_row = 5};
        view_hits hits;
        view_draw_clear(desk.draw);
        view_elevation(&pen, (view_rect){0, 0, 1200, 400}, &desk.what.setup, &desk.state, &look, &hits);
        assert_int_equal(draw_says(desk.draw, "row 2 fell out of its band"), fallen == 1);
        assert_int_equal(draw_says(desk.draw, "2 rows fell out of their bands"), fallen == 2);
        assert_int_equal(draw_says(desk.draw, "fell out"), fallen > 0);
    }
    job_desk_close(&desk);
}

/* Frames until a quarter turn by key has swung to its end. */
static int swing_frames(job_desk *desk)
{
    int frames = 0;
    view_input_key(&desk->input, VIEW_KEY_RIGHT, 0, false);
    job_desk_frame(desk, true);
    job_desk_frame(desk, true);
    assert_true(desk->job->hand.turn.pin_rad < -0.5); /* the picture is behind the work */
    while (desk->job->hand.turn.pin_rad < -0.001 && frames < 200) {
        job_desk_frame(desk, true);
        frames++;
    }
    return frames;
}

/* The pin gets heavier: the same key swings it more slowly, the more so the tighter the row. */
static void a_heavy_pin_swings_slowly(void **context)
{
    (void)context;
    static job_desk desk;
    job_action next;
    open_at(&desk, "soft-porch", JOB_STAGE_TENSION, JOB_PRACTICE);
    while (job_expert_next(&desk.what.setup, &desk.state, &next) && next.verb != JOB_DO_TURN_BODY) {
        (void)job_desk_do(&desk, &next);
    }
    view_job_show(desk.job, JOB_STAGE_TENSION, job_action_row(&next));
    job_desk_frame(&desk, false);
    const int slack = swing_frames(&desk);
    int taut = slack;
    for (int i = 0; i < 12; i++) {
        const int frames = swing_frames(&desk);
        assert_true(frames >= taut - 1);
        taut = frames;
    }
    assert_true(taut > slack + 3);
    /* with reduced motion nothing swings */
    desk.prefs.reduced_motion = true;
    view_input_key(&desk.input, VIEW_KEY_RIGHT, 0, false);
    job_desk_frame(&desk, true);
    job_desk_frame(&desk, true);
    assert_near(desk.job->hand.turn.pin_rad, 0.0, 1e-5);
    job_desk_close(&desk);
}

/* ---- the eye along the post ------------------------------------------------------------------------------------- */

static void sighting_shows_the_post_until_a_tool_is_taken(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_STAGE_CHECK, JOB_PRACTICE);
    view_job_show(desk.job, JOB_STAGE_CHECK, 0);
    const job_action sight = job_make(JOB_DO_SIGHT, desk.state.now_ms, NULL, 0);
    job_desk_frame(&desk, false);
    assert_false(draw_says(desk.draw, "straight"));
    assert_int_equal(job_desk_do(&desk, &sight).refusal, JOB_REFUSE_NONE);
    job_desk_frame(&desk, false);
    assert_true(draw_says(desk.draw, "straight"));
    desk.job->tools.check.tool = VIEW_CHECK_GAUGE;
    job_desk_frame(&desk, false);
    assert_false(draw_says(desk.draw, "straight"));
    job_desk_close(&desk);
}

/* What the words say is there to be seen: dark wood at the foot, an insert that hangs out. */
static void sighting_shows_wet_wood_and_a_loose_insert(void **context)
{
    (void)context;
    static job_desk desk;
    open_at(&desk, "soft-porch", JOB_STAGE_CHECK, JOB_PRACTICE);
    const view_pen pen = pen_of(&desk);
    const view_hand hands[] = {{.check = {.tool = VIEW_CHECK_SIGHT}},
                               {.check = {.tool = VIEW_CHECK_SIGHT, .is_wet = true}},
                               {.check = {.tool = VIEW_CHECK_SIGHT, .loose = 2}}};
    int fills[3];
    int circles[3];
    for (int i = 0; i < 3; i++) {
        view_draw_clear(desk.draw);
        view_closeup_check(&pen, area, &desk.what.setup, &desk.state, 0, &hands[i], NULL);
        fills[i] = count_of(&desk, VIEW__FILL_POLY, 0);
        circles[i] = count_of(&desk, VIEW__FILL_CIRCLE, 0);
    }
    assert_true(fills[1] > fills[0]);
    assert_int_equal(fills[2], fills[0]);
    assert_int_equal(circles[2], circles[0] + 1);
    assert_int_equal(circles[1], circles[0]);
    job_desk_close(&desk);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_gap_is_drawn_as_wide_as_the_ball_feels_it),
        cmocka_unit_test(a_hasty_hole_looks_hasty),
        cmocka_unit_test(the_spring_draws_out_in_step_with_the_pull),
        cmocka_unit_test(a_stud_that_turns_takes_its_line_round),
        cmocka_unit_test(the_trip_says_what_the_others_lost),
        cmocka_unit_test(rows_that_fell_out_are_counted),
        cmocka_unit_test(a_heavy_pin_swings_slowly),
        cmocka_unit_test(sighting_shows_wet_wood_and_a_loose_insert),
        cmocka_unit_test(sighting_shows_the_post_until_a_tool_is_taken),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
