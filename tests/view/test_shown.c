/* A stage shown by the program: every stage comes to its end by the pointer and by the keys, without a refusal; the
 * learner's attempt stays as it was; steps go forward and back. */
#include "near.h"

#include "draw_text.h"
#include "fake_font.h"
#include "job_desk.h"
#include "shown_play.h"

typedef struct show {
    job_desk desk; /* its ui is the one around; its job is not used */
    record_attempt *attempt;
    view_shown *shown;
    view_shown_frame frame;
    view_ear ear;
    bool goes_back;
} show;

static show *open_show(const char *scenario_name, int actions)
{
    show *s = calloc(1, sizeof *s);
    job_desk_open(&s->desk, scenario_name, JOB_PRACTICE, "en");
    s->desk.metrics = fake_metrics;
    job_desk_ready(&s->desk);
    s->attempt = record_attempt_open("", 0, &s->desk.what, "", &s->desk.about);
    job_action next;
    for (int i = 0; i < actions; i++) {
        assert_true(job_expert_next(&s->desk.what.setup, record_attempt_state(s->attempt), &next));
        (void)record_attempt_do(s->attempt, &next, NULL);
    }
    s->frame = (view_shown_frame){.prefs = &s->desk.prefs, .system = TR_US, .ear = &s->ear, .captions = true};
    return s;
}

/* Brings the attempt to where the next action belongs to stage. */
static int bring_attempt_to(show *s, job_stage stage)
{
    job_action next;
    for (int i = 0; i < 4000; i++) {
        assert_true(job_expert_next(&s->desk.what.setup, record_attempt_state(s->attempt), &next));
        if (job_verb_look(next.verb)->stage == stage) {
            return job_action_row(&next);
        }
        (void)record_attempt_do(s->attempt, &next, NULL);
    }
    fail();
    return -1;
}

static void close_show(show *s)
{
    view_shown_close(s->shown);
    record_attempt_close(s->attempt);
    job_desk_close(&s->desk);
    free(s);
}

static void draw(show *s)
{
    view_input *in = &s->desk.input;
    in->dt_s = 1.0F / 60.0F;
    in->time_s += 1.0 / 60.0;
    view_begin(&s->desk.ui, in, &s->desk.prefs, s->desk.lang);
    s->goes_back = view_shown_draw(&s->desk.ui, s->shown, &s->frame);
    view_end(&s->desk.ui);
    s->ear.cue_count = 0; /* heard */
    view_input_forget(in);
}

static void draw_for(show *s, float seconds)
{
    for (int i = (int)lroundf(seconds * 60.0F); i > 0; i--) {
        draw(s);
    }
}

static size_t copied(const show *s)
{
    const job_action *all = NULL;
    return record_attempt_actions(view_shown_attempt(s->shown), &all);
}

static tr_hash state_of(const record_attempt *attempt)
{
    return job_state_hash(&record_attempt_scenario(attempt)->setup, record_attempt_state(attempt));
}

static bool is_as_before(const record_attempt *attempt, tr_hash before)
{
    const tr_hash now = state_of(attempt);
    return memcmp(&now, &before, sizeof now) == 0;
}

static bool is_said(const show *s, const char *word_key)
{
    return draw_says(s->desk.draw, tr_word(s->desk.lang, word_key));
}

/* ---- every stage ------------------------------------------------------------------------------------------------ */

static void play_to_the_end(show *s, const char *what)
{
    const size_t from = copied(s);
    for (int i = 0; i < 60 * 300 && !view_shown_is_done(s->shown); i++) {
        draw(s);
    }
    if (!view_shown_is_done(s->shown)) {
        print_error("%s does not come to its end: %s, step %d\n", what, job_verb_look(s->shown->fitter.goal.verb)->name,
                    s->shown->fitter.step);
        fail();
    }
    const job_trace_entry *trace = record_attempt_trace(view_shown_attempt(s->shown));
    assert_true(copied(s) > from);
    for (size_t i = from; i < copied(s); i++) {
        assert_int_equal(trace[i].outcome.refusal, JOB_REFUSE_NONE);
    }
    assert_false(s->shown->was_helped);
}

static bool is_done_for_row(const show *s, job_stage stage, int row)
{
    const job_state *state = record_attempt_state(view_shown_attempt(s->shown));
    switch (stage) {
    case JOB_STAGE_READ:
        return state->answer[0] >= 0 && state->answer[1] >= 0 && state->answer[2] >= 0;
    case JOB_STAGE_TENSION:
        for (int i = 0; i < s->desk.what.setup.structure.row_count; i++) {
            if (job_row_look_of(&s->desk.what.setup, state, i) != JOB_LOOK_IN) {
                return false;
            }
        }
        return true;
    case JOB_STAGE_CHECK:
        return state->is_post_sighted && state->is_gap_tried[0];
    case JOB_STAGE_HAND_OVER:
        return state->is_signed;
    default:
        return job_row_stage(&s->desk.what.setup, state, row) > stage;
    }
}

static void each_stage(bool uses_keys)
{
    for (int stage = 0; stage < JOB_STAGE_COUNT; stage++) {
        show *s = open_show("soft-porch", 0);
        int row = bring_attempt_to(s, (job_stage)stage);
        row = row >= 0 ? row : 4;
        const tr_hash before = state_of(s->attempt);
        s->shown = view_shown_open(s->attempt, (job_stage)stage, row);
        view_shown_use_keys(s->shown, uses_keys);
        assert_int_equal(s->shown->origin, SHOWN_HERE);
        play_to_the_end(s, job_stage_name((job_stage)stage));
        assert_true(is_done_for_row(s, (job_stage)stage, row));
        job_stage seen = JOB_STAGE_READ;
        int seen_row = -1;
        view_job_at(s->shown->job, &seen, &seen_row);
        assert_int_equal(seen, stage); /* the finished work, not the stage after it */
        assert_true(is_as_before(s->attempt, before));
        close_show(s);
    }
}

static void every_stage_is_shown_by_pointer(void **state)
{
    (void)state;
    each_stage(false);
}

static void every_stage_is_shown_by_keys(void **state)
{
    (void)state;
    each_stage(true);
}

/* ---- where it starts -------------------------------------------------------------------------------------------- */

static void a_stage_ahead_or_behind_is_shown_on_a_copy_brought_there(void **state)
{
    (void)state;
    show *s = open_show("soft-porch", 0);
    const tr_hash before = state_of(s->attempt);
    s->shown = view_shown_open(s->attempt, JOB_STAGE_CRIMP, 7);
    assert_int_equal(s->shown->origin, SHOWN_BROUGHT);
    assert_int_equal(record_attempt_state(view_shown_attempt(s->shown))->row[7].is_cut, true);
    play_to_the_end(s, "crimp from the beginning");
    assert_true(is_done_for_row(s, JOB_STAGE_CRIMP, 7));
    assert_true(is_as_before(s->attempt, before));
    close_show(s);

    s = open_show("soft-porch", 0);
    (void)bring_attempt_to(s, JOB_STAGE_TENSION);
    s->shown = view_shown_open(s->attempt, JOB_STAGE_MARK, 4);
    assert_int_equal(s->shown->origin, SHOWN_AFRESH);
    assert_false(record_attempt_state(view_shown_attempt(s->shown))->row[4].is_marked);
    play_to_the_end(s, "mark when it is past");
    close_show(s);
}

/* A row that the crew has marked cannot be marked again: the lowest one that is bare is shown. */
static void a_row_of_the_crews_gives_way_to_an_own_one(void **state)
{
    (void)state;
    show *s = open_show("soft-porch", 5);
    s->shown = view_shown_open(s->attempt, JOB_STAGE_MARK, 0);
    assert_int_equal(s->shown->row, 1);
    assert_int_equal(s->shown->asked_row, 0);
    play_to_the_end(s, "mark");
    close_show(s);
}

static void a_stage_that_the_crew_has_done_has_nothing_to_show(void **state)
{
    (void)state;
    show *s = open_show("bent-gallery", 0);
    s->shown = view_shown_open(s->attempt, JOB_STAGE_DRILL, 0);
    assert_true(s->shown->has_nothing && view_shown_is_done(s->shown));
    draw(s);
    assert_true(is_said(s, "shown.nothing"));
    close_show(s);
}

/* Days pass without being shown; what they have taken is made good before the stage is done. */
static void a_second_visit_is_part_of_tensioning(void **state)
{
    (void)state;
    show *s = open_show("thirty-days", 0);
    s->shown = view_shown_open(s->attempt, JOB_STAGE_TENSION, 4);
    assert_false(view_shown_is_done(s->shown));
    play_to_the_end(s, "tension and thirty days");
    assert_true(is_done_for_row(s, JOB_STAGE_TENSION, 4));
    assert_true(record_attempt_state(view_shown_attempt(s->shown))->days >= 30.0);
    close_show(s);
}

/* ---- asking for it ---------------------------------------------------------------------------------------------- */

/* One frame of the learner's own job screen in which the key of the button is pressed. */
static view_job_said ask(job_mode mode)
{
    job_desk *desk = calloc(1, sizeof *desk);
    job_desk_open(desk, "soft-porch", mode, "en");
    desk->metrics = fake_metrics;
    job_desk_ready(desk);
    job_desk_frame(desk, false);
    view_input_key(&desk->input, 'V', 0, false);
    job_desk_frame(desk, false);
    const view_job_said said = desk->said;
    job_desk_close(desk);
    free(desk);
    return said;
}

static void it_counts_as_a_hint_in_practice_and_is_not_offered_in_assessment(void **state)
{
    (void)state;
    const view_job_said guided = ask(JOB_GUIDED);
    const view_job_said practice = ask(JOB_PRACTICE);
    const view_job_said assessment = ask(JOB_ASSESSMENT);
    assert_true(guided.show_me && guided.action_count == 0);
    assert_true(practice.show_me && practice.action_count == 1);
    assert_int_equal(practice.action[0].verb, JOB_DO_HINT);
    assert_true(!assessment.show_me && assessment.action_count == 0);
}

/* ---- steps ------------------------------------------------------------------------------------------------------ */

static void steps_go_forward_and_back(void **state)
{
    (void)state;
    show *s = open_show("soft-porch", 0);
    (void)bring_attempt_to(s, JOB_STAGE_CUT);
    s->shown = view_shown_open(s->attempt, JOB_STAGE_CUT, 1);
    const size_t start = copied(s);
    for (size_t step = 1; step <= 3; step++) { /* hang, pull, mark */
        view_shown_next(s->shown);
        draw(s);
        assert_int_equal(view_shown_steps(s->shown), step + 1);
        assert_int_equal(copied(s), start + step);
    }
    assert_true(record_attempt_state(view_shown_attempt(s->shown))->row[1].is_cable_marked);
    view_shown_former(s->shown);
    draw(s);
    assert_int_equal(view_shown_steps(s->shown), 3);
    assert_false(record_attempt_state(view_shown_attempt(s->shown))->row[1].is_cable_marked);
    view_shown_former(s->shown);
    view_shown_former(s->shown);
    view_shown_former(s->shown);
    assert_int_equal(view_shown_steps(s->shown), 1);
    assert_int_equal(copied(s), start);
    play_to_the_end(s, "cut after going back");
    close_show(s);
}

/* Forward, back and to the end by keys alone; a copy that stands still does not move. */
static void keys_work_the_player(void **state)
{
    (void)state;
    show *s = open_show("soft-porch", 0);
    (void)bring_attempt_to(s, JOB_STAGE_CUT);
    s->shown = view_shown_open(s->attempt, JOB_STAGE_CUT, 1);
    draw_for(s, 0.5F);
    view_input_key(&s->desk.input, VIEW_KEY_SPACE, 0, false);
    draw(s);
    const double stood_s = s->shown->played_s;
    draw_for(s, 1.0F);
    assert_near(s->shown->played_s, stood_s, 0.02);
    view_input_key(&s->desk.input, VIEW_KEY_UP, 0, false);
    view_input_key(&s->desk.input, VIEW_KEY_SPACE, 0, false);
    draw(s);
    draw_for(s, 1.0F);
    assert_near(s->shown->played_s, stood_s + 2.0, 0.1); /* twice as fast */
    const int steps = view_shown_steps(s->shown);
    view_input_key(&s->desk.input, VIEW_KEY_RIGHT, 0, false);
    draw_for(s, 0.1F);
    assert_int_equal(view_shown_steps(s->shown), steps + 1);
    view_input_key(&s->desk.input, VIEW_KEY_LEFT, 0, false);
    draw_for(s, 0.1F);
    assert_int_equal(view_shown_steps(s->shown), steps);
    view_input_key(&s->desk.input, VIEW_KEY_ESCAPE, 0, false);
    draw(s);
    assert_true(s->goes_back);
    close_show(s);
}

/* The pointer on a part of a choice of the band. */
static void point_at_part(show *s, const char *word_key, int part)
{
    const view_target *target = NULL;
    const size_t count = view_targets(&s->desk.ui, &target);
    const char *word = tr_word(s->desk.lang, word_key);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(target[i].label, word) == 0 && part-- == 0) {
            s->desk.input.has_mouse = true;
            s->desk.input.mouse_x = target[i].rect.x + target[i].rect.w * 0.5F;
            s->desk.input.mouse_y = target[i].rect.y + target[i].rect.h * 0.5F;
            return;
        }
    }
    print_error("%s is not to be pressed\n", word);
    fail();
}

static void press(show *s, bool is_down)
{
    s->desk.input.down[VIEW_MOUSE_LEFT] = is_down;
    (is_down ? s->desk.input.pressed : s->desk.input.released)[VIEW_MOUSE_LEFT] = true;
    draw(s);
    draw(s);
}

/* ... and the arrow keys are the player's after it, not the choice's. */
static void the_pointer_works_the_player(void **state)
{
    (void)state;
    show *s = open_show("soft-porch", 0);
    (void)bring_attempt_to(s, JOB_STAGE_CUT);
    s->shown = view_shown_open(s->attempt, JOB_STAGE_CUT, 1);
    draw(s);
    point_at_part(s, "shown.way", 1);
    press(s, true);
    press(s, false);
    assert_true(view_shown_uses_keys(s->shown));
    view_input_key(&s->desk.input, VIEW_KEY_RIGHT, 0, false);
    draw_for(s, 0.1F);
    assert_int_equal(view_shown_steps(s->shown), 2);
    assert_true(view_shown_uses_keys(s->shown));
    point_at_part(s, "shown.next", 0);
    press(s, true);
    press(s, false);
    draw(s);
    assert_int_equal(view_shown_steps(s->shown), 3);
    point_at_part(s, "shown.back", 0);
    press(s, true);
    s->desk.input.down[VIEW_MOUSE_LEFT] = false;
    s->desk.input.released[VIEW_MOUSE_LEFT] = true;
    draw(s);
    assert_true(s->goes_back);
    close_show(s);
}

static void it_says_that_nothing_counts_and_when_it_is_done(void **state)
{
    (void)state;
    show *s = open_show("soft-porch", 0);
    const int row = bring_attempt_to(s, JOB_STAGE_MARK);
    s->shown = view_shown_open(s->attempt, JOB_STAGE_MARK, row < 0 ? 1 : row);
    draw(s);
    assert_true(is_said(s, "shown.title") && is_said(s, "shown.back"));
    assert_false(is_said(s, "shown.now_you") || is_said(s, "shown.me"));
    play_to_the_end(s, "mark");
    draw(s);
    assert_true(is_said(s, "shown.title") && is_said(s, "shown.now_you") && is_said(s, "shown.done"));
    close_show(s);
}

/* Without travelling: the pointer is where it presses from one frame to the next. */
static void reduced_motion_shows_no_travelling_pointer(void **state)
{
    (void)state;
    show *s = open_show("soft-porch", 0);
    (void)bring_attempt_to(s, JOB_STAGE_ASSEMBLE);
    s->desk.prefs.reduced_motion = true;
    s->shown = view_shown_open(s->attempt, JOB_STAGE_ASSEMBLE, 1);
    int moves = 0;
    int in_a_row = 0;
    view_point at = {0};
    for (int i = 0; i < 60 * 60 && !view_shown_is_done(s->shown); i++) {
        draw(s);
        const bool has_moved = s->shown->fitter.arm.at.x != at.x || s->shown->fitter.arm.at.y != at.y;
        in_a_row = has_moved ? in_a_row + 1 : 0;
        moves += has_moved ? 1 : 0;
        assert_true(in_a_row <= 2);
        at = s->shown->fitter.arm.at;
    }
    assert_true(view_shown_is_done(s->shown) && moves > 3);
    close_show(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_stage_is_shown_by_pointer),
        cmocka_unit_test(every_stage_is_shown_by_keys),
        cmocka_unit_test(a_stage_ahead_or_behind_is_shown_on_a_copy_brought_there),
        cmocka_unit_test(a_row_of_the_crews_gives_way_to_an_own_one),
        cmocka_unit_test(a_stage_that_the_crew_has_done_has_nothing_to_show),
        cmocka_unit_test(a_second_visit_is_part_of_tensioning),
        cmocka_unit_test(it_counts_as_a_hint_in_practice_and_is_not_offered_in_assessment),
        cmocka_unit_test(steps_go_forward_and_back),
        cmocka_unit_test(keys_work_the_player),
        cmocka_unit_test(the_pointer_works_the_player),
        cmocka_unit_test(it_says_that_nothing_counts_and_when_it_is_done),
        cmocka_unit_test(reduced_motion_shows_no_travelling_pointer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
