/* What the job screen lets be heard: cues and hum of the actions and of the hand at work, and their captions. How they
 * sound: test_sound.c. */
#include "near.h"

#include "fake_font.h"
#include "job_desk.h"
#include "tautrow/mech/checks.h"
#include "tautrow/view/sound.h"

static double cents(double hz, double of_hz)
{
    return 1200.0 * log2(hz / of_hz);
}

static void open_at(job_desk *desk, view_ear *ear, job_stage stage, int more, const char *code)
{
    job_action next;
    memset(ear, 0, sizeof *ear);
    job_desk_open(desk, "soft-porch", JOB_PRACTICE, code);
    desk->metrics = fake_metrics;
    job_desk_ready(desk);
    job_desk_frame(desk, false);
    assert_true(job_desk_bring_to(desk, stage, more));
    view_job_show(desk->job, stage,
                  job_expert_next(&desk->what.setup, &desk->state, &next) ? job_action_row(&next) : -1);
    job_desk_frame(desk, false);
    view_job_sounds(ear, desk->job, &desk->model, desk->ui.time_s);
}

static job_outcome act(job_desk *desk, view_ear *ear, job_verb verb, const double *args, int count)
{
    const job_action action = job_make(verb, desk->model.now_ms + 1000, args, count);
    const job_outcome outcome = job_desk_do(desk, &action);
    view_job_sounded(ear, desk->job, &desk->model, &action, &outcome, desk->ui.time_s);
    view_job_sounds(ear, desk->job, &desk->model, desk->ui.time_s);
    return outcome;
}

/* A frame with what it says carried out, and heard. */
static void hear_frame(job_desk *desk, view_ear *ear)
{
    job_desk_frame(desk, false);
    for (int i = 0; i < desk->said.action_count; i++) {
        const job_outcome outcome = job_desk_do(desk, &desk->said.action[i]);
        view_job_sounded(ear, desk->job, &desk->model, &desk->said.action[i], &outcome, desk->ui.time_s);
    }
    view_job_sounds(ear, desk->job, &desk->model, desk->ui.time_s);
}

static int count_of(const view_ear *ear, view_cue_kind kind)
{
    int count = 0;
    for (int i = 0; i < ear->cue_count; i++) {
        count += ear->cue[i].kind == kind ? 1 : 0;
    }
    return count;
}

static double longest_bay(const mech_structure *structure)
{
    double most = 0.0;
    for (int i = 0; i < structure->bay_count; i++) {
        most = fmax(most, structure->bay_m[i]);
    }
    return most;
}

static void a_pluck_is_heard_at_the_tone_of_its_tension(void **context)
{
    (void)context;
    static job_desk desk;
    static view_ear ear;
    open_at(&desk, &ear, JOB_STAGE_HAND_OVER, 0, "en");
    const mech_structure *structure = &desk.what.setup.structure;
    const int row = desk.what.setup.order[0];
    (void)act(&desk, &ear, JOB_DO_PLUCK, (const double[]){row}, 1);
    assert_int_equal(ear.cue_count, 1);
    assert_int_equal(ear.cue[0].kind, VIEW_CUE_PLUCK);
    const double hz = mech_tone_hz(desk.state.rows.tension_n[row], structure->strand.mass_kg_m, longest_bay(structure));
    assert_near(cents((double)ear.cue[0].hz, hz), 0.0, 0.01);
    job_desk_close(&desk);
}

static void two_plucks_make_a_beat_until_a_row_is_turned(void **context)
{
    (void)context;
    static job_desk desk;
    static view_ear ear;
    view_beat beat;
    open_at(&desk, &ear, JOB_STAGE_HAND_OVER, 0, "en");
    const int rows[2] = {desk.what.setup.order[1], desk.what.setup.order[0]};
    (void)act(&desk, &ear, JOB_DO_PLUCK, (const double[]){rows[0]}, 1);
    assert_false(view_ear_beat(&ear, desk.ui.time_s, &beat));
    (void)act(&desk, &ear, JOB_DO_PLUCK, (const double[]){rows[1]}, 1);
    assert_true(view_ear_beat(&ear, desk.ui.time_s, &beat));
    assert_near(beat.hz, fabs((double)ear.cue[0].hz - (double)ear.cue[1].hz), 1e-6);
    assert_true(beat.row[0] < beat.row[1]);
    assert_false(view_ear_beat(&ear, desk.ui.time_s + 10.0, &beat));
    /* drawn as well as heard */
    view_begin(&desk.ui, &desk.input, &desk.prefs, desk.lang);
    const size_t before = view_draw_count(desk.draw);
    view_ear_show(&ear, &desk.ui, desk.job, TR_SI, false);
    assert_true(view_draw_count(desk.draw) > before + 20);
    view_end(&desk.ui);
    (void)act(&desk, &ear, JOB_DO_TURN_BODY, (const double[]){rows[0], 0.25}, 2);
    assert_false(view_ear_beat(&ear, desk.ui.time_s, &beat));
    job_desk_close(&desk);
}

static void a_turned_body_clicks_each_sixteenth(void **context)
{
    (void)context;
    static job_desk desk;
    static view_ear ear;
    open_at(&desk, &ear, JOB_STAGE_TENSION, 0, "en");
    job_action action;
    while (job_expert_next(&desk.what.setup, &desk.state, &action) && action.verb != JOB_DO_TURN_BODY) {
        (void)job_desk_do(&desk, &action);
    }
    const int row = job_action_row(&action);
    view_job_show(desk.job, JOB_STAGE_TENSION, row);
    view_job_sounds(&ear, desk.job, &desk.model, 0.0);
    ear.cue_count = 0;
    float effort = -1.0F;
    for (int i = 0; i < 6; i++) {
        const job_outcome outcome = act(&desk, &ear, JOB_DO_TURN_BODY, (const double[]){row, 0.25}, 2);
        assert_int_equal(outcome.refusal, JOB_REFUSE_NONE);
        assert_int_equal(count_of(&ear, VIEW_CUE_THREAD), 4);
        assert_true(ear.cue[3].delay_s > ear.cue[0].delay_s);
        assert_true(ear.cue[0].effort >= effort);
        effort = ear.cue[0].effort;
        ear.cue_count = 0;
    }
    assert_true(effort > 0.0F);
    (void)act(&desk, &ear, JOB_DO_TURN_BODY, (const double[]){row, 0.0625}, 2);
    assert_int_equal(count_of(&ear, VIEW_CUE_THREAD), 1);
    job_desk_close(&desk);
}

static void a_refusal_knocks(void **context)
{
    (void)context;
    static job_desk desk;
    static view_ear ear;
    open_at(&desk, &ear, JOB_STAGE_DRILL, 0, "en");
    (void)act(&desk, &ear, JOB_DO_PLUCK, (const double[]){desk.job->row}, 1);
    assert_int_equal(ear.cue_count, 1);
    assert_int_equal(ear.cue[0].kind, VIEW_CUE_REFUSAL);
    job_desk_close(&desk);
}

static void a_held_trigger_is_heard_and_labours(void **context)
{
    (void)context;
    static job_desk desk;
    static view_ear ear;
    job_action action;
    open_at(&desk, &ear, JOB_STAGE_DRILL, 0, "en");
    while (job_expert_next(&desk.what.setup, &desk.state, &action) && action.verb != JOB_DO_DRILL) {
        (void)job_desk_do(&desk, &action);
    }
    view_job_show(desk.job, JOB_STAGE_DRILL, job_action_row(&action));
    for (int i = 0; i < 10; i++) {
        hear_frame(&desk, &ear);
    }
    assert_int_equal(ear.hum.motor, VIEW_NO_MOTOR);
    desk.input.held['W'] = true;
    float least = 2.0F;
    float most = -1.0F;
    for (int i = 0; i < 60 * 6; i++) {
        hear_frame(&desk, &ear);
        if (i > 2) {
            assert_int_equal(ear.hum.motor, VIEW_MOTOR_DRILL);
        }
        least = i > 2 ? fminf(least, ear.hum.load) : least;
        most = fmaxf(most, ear.hum.load);
    }
    assert_near((double)least, 0.0, 0.0);
    assert_true(most > 0.8F);
    desk.input.held['W'] = false;
    hear_frame(&desk, &ear);
    hear_frame(&desk, &ear);
    assert_int_equal(ear.hum.motor, VIEW_NO_MOTOR);
    view_input_key(&desk.input, 'B', 0, false); /* out of the hole: the chips fall */
    for (int i = 0; i < 120; i++) {
        hear_frame(&desk, &ear);
    }
    assert_int_equal(count_of(&ear, VIEW_CUE_CHIPS), 1);
    job_desk_close(&desk);
}

static void hear_frames(job_desk *desk, view_ear *ear, int frames)
{
    for (int i = 0; i < frames; i++) {
        hear_frame(desk, ear);
    }
}

static void press(job_desk *desk, int key)
{
    desk->input.held[key] = true;
    view_input_key(&desk->input, key, 0, false);
}

/* Puts glasses on and does what the expert does up to the first action of verb; shows that row. */
static void expert_up_to(job_desk *desk, view_ear *ear, job_stage stage, job_verb verb)
{
    job_action action;
    open_at(desk, ear, stage, 0, "en");
    while (job_expert_next(&desk->what.setup, &desk->state, &action) && action.verb != verb) {
        (void)job_desk_do(desk, &action);
    }
    view_job_show(desk->job, stage, job_action_row(&action));
    hear_frames(desk, ear, 3);
    ear->cue_count = 0;
}

static void the_pencil_is_heard_once_a_line(void **context)
{
    (void)context;
    static job_desk desk;
    static view_ear ear;
    expert_up_to(&desk, &ear, JOB_STAGE_MARK, JOB_DO_MARK_ROW);
    for (int line = 1; line <= 2; line++) {
        press(&desk, 'M');
        hear_frames(&desk, &ear, 40);
        assert_int_equal(count_of(&ear, VIEW_CUE_PENCIL), line);
        desk.input.held['M'] = false;
        hear_frames(&desk, &ear, 10);
    }
    assert_int_equal(count_of(&ear, VIEW_CUE_PENCIL), 2);
    job_desk_close(&desk);
}

static void the_flange_is_heard_when_it_meets_the_wood(void **context)
{
    (void)context;
    static job_desk desk;
    static view_ear ear;
    expert_up_to(&desk, &ear, JOB_STAGE_INSERT, JOB_DO_DRIVE_INSERT);
    press(&desk, 'W');
    int frames = 0;
    for (; frames < 60 * 30 && count_of(&ear, VIEW_CUE_SEAT) == 0; frames++) {
        hear_frame(&desk, &ear);
    }
    assert_int_equal(count_of(&ear, VIEW_CUE_SEAT), 1);
    assert_true(frames > 30);
    assert_true(fabs(desk.job->hand.insert.proud_m) < 0.0005);
    hear_frames(&desk, &ear, 30);
    assert_int_equal(count_of(&ear, VIEW_CUE_SEAT), 1);
    job_desk_close(&desk);
}

/* A wrong bit is felt in the driver: in a hole too wide it spins, in one too narrow it labours before it is home. */
static void the_driver_tells_a_wrong_hole(void **context)
{
    (void)context;
    static const double off_m[] = {-0.0016, 0.0, 0.0024};
    float most[3] = {0};
    for (int i = 0; i < 3; i++) {
        static job_desk desk;
        static view_ear ear;
        expert_up_to(&desk, &ear, JOB_STAGE_INSERT, JOB_DO_DRIVE_INSERT);
        desk.state.row[desk.job->row].hole.diameter_m += off_m[i];
        press(&desk, 'W');
        for (int frame = 0; frame < 60 * 30 && desk.job->hand.insert.proud_m > 0.001; frame++) {
            hear_frame(&desk, &ear);
            most[i] = fmaxf(most[i], ear.hum.load);
        }
        hear_frame(&desk, &ear);
        char text[160];
        ear.said_until_s = 0.0;
        view_ear_caption(&ear, &desk.ui, TR_SI, text, sizeof text);
        assert_string_equal(text, i == 0 ? "Driver labours" : i == 1 ? "Driver turns" : "Driver spins easily");
        job_desk_close(&desk);
    }
    assert_true(most[0] > most[1] + 0.15F);
    assert_true(most[1] > most[2] + 0.4F);
}

static void fingers_turn_a_stud_in_and_the_wrong_hand_grates(void **context)
{
    (void)context;
    static job_desk desk;
    static view_ear ear;
    expert_up_to(&desk, &ear, JOB_STAGE_ASSEMBLE, JOB_DO_SCREW_STUD);
    view_input_key(&desk.input, '1', 0, false);
    hear_frame(&desk, &ear);
    view_input_key(&desk.input, '3', 0, false);
    hear_frame(&desk, &ear);
    press(&desk, 'W');
    hear_frames(&desk, &ear, 90);
    const int heard = count_of(&ear, VIEW_CUE_FINGERS);
    assert_true(heard >= 8);
    assert_true(ear.cue[heard - 1].effort > ear.cue[0].effort);
    assert_int_equal(count_of(&ear, VIEW_CUE_GRATE), 0);
    desk.input.held['W'] = false;
    hear_frames(&desk, &ear, 10);
    ear.cue_count = 0;
    /* the cable stud in the plain end */
    view_input_key(&desk.input, '2', 0, false);
    hear_frame(&desk, &ear);
    view_input_key(&desk.input, '3', 0, false);
    hear_frame(&desk, &ear);
    press(&desk, 'W');
    hear_frames(&desk, &ear, 60);
    assert_int_equal(count_of(&ear, VIEW_CUE_GRATE), 1);
    assert_int_equal(count_of(&ear, VIEW_CUE_FINGERS), 0);
    job_desk_close(&desk);
}

static void collars_slide_home_one_after_the_other(void **context)
{
    (void)context;
    static job_desk desk;
    static view_ear ear;
    expert_up_to(&desk, &ear, JOB_STAGE_HAND_OVER, JOB_DO_COLLAR);
    press(&desk, 'A');
    hear_frame(&desk, &ear);
    desk.input.held['A'] = false;
    hear_frames(&desk, &ear, 4);
    assert_true(count_of(&ear, VIEW_CUE_COLLAR) >= 2);
    assert_true(ear.cue[1].delay_s > ear.cue[0].delay_s);
    job_desk_close(&desk);
}

/* What the expert's whole job lets be heard, whatever the gestures. */
static void a_whole_job_is_heard(void **context)
{
    (void)context;
    static job_desk desk;
    static view_ear ear;
    int count[VIEW_CUE_KINDS] = {0};
    job_action action;
    memset(&ear, 0, sizeof ear);
    job_desk_open(&desk, "soft-porch", JOB_PRACTICE, "en");
    desk.metrics = fake_metrics;
    job_desk_ready(&desk);
    job_desk_frame(&desk, false);
    while (job_expert_next(&desk.what.setup, &desk.state, &action)) {
        view_job_show(desk.job, job_verb_look(action.verb)->stage, job_action_row(&action));
        view_job_sounds(&ear, desk.job, &desk.model, 0.0);
        const job_outcome outcome = job_desk_do(&desk, &action);
        view_job_sounded(&ear, desk.job, &desk.model, &action, &outcome, 0.0);
        view_job_sounds(&ear, desk.job, &desk.model, 0.0);
        for (int i = 0; i < ear.cue_count; i++) {
            count[ear.cue[i].kind]++;
        }
        ear.cue_count = 0;
    }
    assert_true(count[VIEW_CUE_SNAP] > 0 && count[VIEW_CUE_RELEASE] > 0 && count[VIEW_CUE_CLAMP] > 0);
    assert_true(count[VIEW_CUE_THREAD] > 0);
    assert_true(count[VIEW_CUE_COLLAR] > 0 && count[VIEW_CUE_WIPE] == 1);
    assert_true(count[VIEW_CUE_GAUGE] + count[VIEW_CUE_PLUCK] > 0);
    assert_true(count[VIEW_CUE_BALL] > 0);
    assert_int_equal(count[VIEW_CUE_REFUSAL], 0);
    job_desk_close(&desk);
}

static void caption(const view_ear *ear, const job_desk *desk, const char *expected)
{
    char text[160];
    view_ear_caption(ear, &desk->ui, TR_SI, text, sizeof text);
    if (expected != NULL) {
        assert_string_equal(text, expected);
    } else if (text[0] == '\0' || strncmp(text, "sound.", 6) == 0) {
        print_error("no words: \"%s\"\n", text);
        fail();
    }
}

static void every_sound_has_its_words_in_both_languages(void **context)
{
    (void)context;
    static const char *const codes[] = {"en", "es"};
    for (int lang = 0; lang < 2; lang++) {
        static job_desk desk;
        static view_ear ear;
        open_at(&desk, &ear, JOB_STAGE_MARK, 0, codes[lang]);
        caption(&ear, &desk, "");
        for (int kind = 0; kind < VIEW_CUE_KINDS; kind++) {
            for (int effort = 0; effort <= 2; effort++) {
                ear.said = (view_cue){.kind = (view_cue_kind)kind, .hz = 60.0F, .effort = 0.5F * (float)effort};
                ear.said_until_s = desk.ui.time_s + 1.0;
                caption(&ear, &desk, NULL);
            }
        }
        ear.said_until_s = 0.0;
        for (int motor = 1; motor <= VIEW_MOTOR_GRINDER; motor++) {
            for (int load = 0; load <= 2; load++) {
                ear.hum = (view_hum){.motor = (view_motor)motor, .load = 0.5F * (float)load};
                caption(&ear, &desk, NULL);
            }
        }
        for (int pull = 1; pull <= 2; pull++) {
            ear.hum = (view_hum){.creak = 0.5F * (float)pull};
            caption(&ear, &desk, NULL);
        }
        job_desk_close(&desk);
    }
}

static void captions_say_what_is_heard(void **context)
{
    (void)context;
    static job_desk desk;
    static view_ear ear;
    open_at(&desk, &ear, JOB_STAGE_MARK, 0, "en");
    ear.said = (view_cue){.kind = VIEW_CUE_PLUCK, .row = 3, .hz = 63.2F};
    ear.said_until_s = desk.ui.time_s + 1.0;
    caption(&ear, &desk, "Row 4 sounds: 63.2 Hz");
    ear.said_until_s = 0.0;
    ear.hum = (view_hum){.motor = VIEW_MOTOR_DRILL, .load = 0.9F};
    caption(&ear, &desk, "Drill labours");
    /* shown only when they are wanted */
    view_begin(&desk.ui, &desk.input, &desk.prefs, desk.lang);
    const size_t before = view_draw_count(desk.draw);
    view_ear_show(&ear, &desk.ui, desk.job, TR_SI, false);
    assert_int_equal(view_draw_count(desk.draw), before);
    view_ear_show(&ear, &desk.ui, desk.job, TR_SI, true);
    assert_true(view_draw_count(desk.draw) > before);
    view_end(&desk.ui);
    job_desk_close(&desk);
}

/* Nothing in the hands, a motor, a motor under load, and a pin that is hard to turn: each is felt more than the one before it. */
static void what_is_heard_is_felt(void **context)
{
    (void)context;
    view_ear ear;
    memset(&ear, 0, sizeof ear);
    const view_feel none = view_ear_feel(&ear);
    assert_near((double)(none.low + none.high), 0.0, 0.0);
    ear.hum = (view_hum){.motor = VIEW_MOTOR_DRILL, .rpm = 300.0F};
    const view_feel idle = view_ear_feel(&ear);
    assert_true(idle.high > 0.0F && idle.low <= 0.0F);
    ear.hum.load = ear.hum.chips = 1.0F;
    const view_feel loaded = view_ear_feel(&ear);
    assert_true(loaded.low > 0.3F && loaded.high > idle.high);
    ear.hum = (view_hum){.motor = VIEW_NO_MOTOR};
    ear.cue[0] = (view_cue){.kind = VIEW_CUE_THREAD, .effort = 0.2F};
    ear.cue_count = 1;
    const view_feel light = view_ear_feel(&ear);
    assert_near((double)light.low, 0.0, 0.0);
    ear.cue[0].effort = 0.9F;
    assert_near((double)view_ear_feel(&ear).low, 0.9, 1e-6);
    ear.cue[0] = (view_cue){.kind = VIEW_CUE_CRACK};
    assert_near((double)view_ear_feel(&ear).low, 1.0, 1e-6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_heard_is_felt),
        cmocka_unit_test(a_pluck_is_heard_at_the_tone_of_its_tension),
        cmocka_unit_test(two_plucks_make_a_beat_until_a_row_is_turned),
        cmocka_unit_test(a_turned_body_clicks_each_sixteenth),
        cmocka_unit_test(a_refusal_knocks),
        cmocka_unit_test(a_held_trigger_is_heard_and_labours),
        cmocka_unit_test(the_pencil_is_heard_once_a_line),
        cmocka_unit_test(the_flange_is_heard_when_it_meets_the_wood),
        cmocka_unit_test(the_driver_tells_a_wrong_hole),
        cmocka_unit_test(fingers_turn_a_stud_in_and_the_wrong_hand_grates),
        cmocka_unit_test(collars_slide_home_one_after_the_other),
        cmocka_unit_test(a_whole_job_is_heard),
        cmocka_unit_test(every_sound_has_its_words_in_both_languages),
        cmocka_unit_test(captions_say_what_is_heard),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
