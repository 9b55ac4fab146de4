/* The sounds: pitch, beats, levels and ends measured in the synth's own samples; what the job screen lets be heard; and the
 * device, the silent one and none at all. */
#define SDL_MAIN_HANDLED
#include "near.h"

#include "job_desk.h"
#include "tautrow/mech/checks.h"
#include "tautrow/view/sound.h"

#include <SDL.h>

enum { SECOND = VIEW_SOUND_RATE, LONGEST = 8 * SECOND };

static float heard[LONGEST];

/* ---- measuring -------------------------------------------------------------------------------------------------- */

/* Amplitude at hz by a Hann-windowed Fourier sum. */
static double level_at(const float *samples, size_t count, double hz)
{
    double re = 0.0;
    double im = 0.0;
    for (size_t i = 0; i < count; i++) {
        const double window = 0.5 - 0.5 * cos(2.0 * TR_PI * (double)i / (double)count);
        const double phase = 2.0 * TR_PI * hz * (double)i / VIEW_SOUND_RATE;
        re += window * (double)samples[i] * cos(phase);
        im += window * (double)samples[i] * sin(phase);
    }
    return 4.0 * hypot(re, im) / (double)count;
}

/* The peak between low and high, by coarse steps and then by thirds. */
static double peak_hz(const float *samples, size_t count, double low, double high)
{
    enum { STEPS = 24 };
    double best = low;
    double most = -1.0;
    for (int i = 0; i <= STEPS; i++) {
        const double hz = low + (high - low) * i / STEPS;
        const double level = level_at(samples, count, hz);
        best = level > most ? hz : best;
        most = fmax(most, level);
    }
    double from = best - (high - low) / STEPS;
    double to = best + (high - low) / STEPS;
    while (to - from > 1e-4 * best / 1200.0) {
        const double a = from + (to - from) / 3.0;
        const double b = to - (to - from) / 3.0;
        if (level_at(samples, count, a) > level_at(samples, count, b)) {
            to = b;
        } else {
            from = a;
        }
    }
    return 0.5 * (from + to);
}

static double cents(double hz, double of_hz)
{
    return 1200.0 * log2(hz / of_hz);
}

static double largest(const float *samples, size_t count)
{
    double most = 0.0;
    for (size_t i = 0; i < count; i++) {
        assert_true(isfinite(samples[i]));
        most = fmax(most, fabs((double)samples[i]));
    }
    return most;
}

/* The largest step between neighbours: a click is a step far over what the sound itself makes. */
static double largest_step(const float *samples, size_t count)
{
    double most = 0.0;
    for (size_t i = 1; i < count; i++) {
        most = fmax(most, fabs((double)samples[i] - (double)samples[i - 1]));
    }
    return most;
}

static double power(const float *samples, size_t count)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++) {
        sum += (double)samples[i] * (double)samples[i];
    }
    return sum / (double)count;
}

/* As the device asks for it, block by block. */
static void render(view_synth *synth, float *out, size_t count)
{
    for (size_t at = 0; at < count; at += 512) {
        view_synth_render(synth, out + at, count - at < 512 ? count - at : 512);
    }
}

static view_cue plucked(int row, float hz)
{
    return (view_cue){.kind = VIEW_CUE_PLUCK, .row = row, .hz = hz};
}

/* ---- plucked rows ----------------------------------------------------------------------------------------------- */

static void a_row_sounds_at_its_tone(void **context)
{
    (void)context;
    /* 1/8 in strand, 1x19: 0.035 kg/m (assumption of this test: any mass will do); bays and tensions of real rows */
    static const double cases[][2] = {{300, 1.22}, {890, 1.22}, {1300, 0.9}, {150, 1.8}, {1700, 0.75}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        static view_synth synth;
        const double hz = mech_tone_hz(cases[i][0], 0.035, cases[i][1]);
        const view_cue cue = plucked(0, (float)hz);
        view_synth_start(&synth, 1.0F);
        view_synth_cue(&synth, &cue);
        render(&synth, heard, SECOND + SECOND / 2);
        const double found = peak_hz(heard + SECOND / 10, 32768, 0.96 * hz, 1.04 * hz);
        assert_near(cents(found, hz), 0.0, 1.0);
    }
}

/* A small loudspeaker gives little below some 250 Hz: most of a low row must lie above. */
static void a_low_row_has_its_strength_in_the_overtones(void **context)
{
    (void)context;
    for (int tens = 4; tens <= 10; tens += 2) {
        const double hz = 10.0 * tens;
        static view_synth synth;
        const view_cue cue = plucked(0, (float)hz);
        double low = 0.0;
        double high = 0.0;
        view_synth_start(&synth, 1.0F);
        view_synth_cue(&synth, &cue);
        render(&synth, heard, SECOND);
        for (int n = 1; n * hz < 2500.0; n++) {
            const double level = level_at(heard + SECOND / 20, 16384, n * hz);
            *(n * hz < 250.0 ? &low : &high) += level * level;
        }
        assert_true(high > 0.4 * low);
        assert_true(high > 1e-5);
    }
}

/* Between two minima of the loudness at the fundamental lies one beat. */
static double beats_a_second(const float *samples, size_t count, double hz)
{
    enum { WINDOW = 9600, STEP = 480, MOST = 1000, DEEP = 15 };
    static double level[MOST];
    size_t steps = 0;
    double first = -1.0;
    double last = -1.0;
    int beats = 0;
    for (size_t at = 0; at + WINDOW <= count && steps < MOST; at += STEP) {
        level[steps++] = level_at(samples + at, WINDOW, hz);
    }
    for (size_t i = DEEP; i + DEEP < steps; i++) {
        const bool is_least = level[i] < level[i - 1] && level[i] <= level[i + 1];
        if (is_least && level[i] < 0.8 * level[i - DEEP] && level[i] < 0.8 * level[i + DEEP]) {
            beats += first >= 0.0 ? 1 : 0;
            first = first >= 0.0 ? first : (double)i;
            last = (double)i;
        }
    }
    return beats > 0 ? beats * (double)VIEW_SOUND_RATE / ((last - first) * STEP) : 0.0;
}

static void two_rows_ring_together_and_beat(void **context)
{
    (void)context;
    static view_synth synth;
    const view_cue low = plucked(3, 63.2F);
    const view_cue high = plucked(4, 65.5F);
    view_synth_start(&synth, 1.0F);
    view_synth_cue(&synth, &low);
    render(&synth, heard, SECOND);
    view_synth_cue(&synth, &high);
    render(&synth, heard, (size_t)5 * SECOND);
    assert_near(beats_a_second(heard, (size_t)4 * SECOND, 64.35), 2.3, 0.05);
    /* alone it does not */
    view_synth_start(&synth, 1.0F);
    view_synth_cue(&synth, &low);
    render(&synth, heard, (size_t)4 * SECOND);
    assert_near(beats_a_second(heard, (size_t)3 * SECOND, 64.35), 0.0, 0.0);
}

static int rings(const view_synth *synth)
{
    int count = 0;
    for (int i = 0; i < VIEW_SOUND_STRINGS; i++) {
        count += synth->string[i].partials > 0 ? 1 : 0;
    }
    return count;
}

static void a_row_plucked_again_is_stopped_first(void **context)
{
    (void)context;
    static view_synth synth;
    view_synth_start(&synth, 1.0F);
    for (int i = 0; i < 3; i++) {
        const view_cue cue = plucked(2, 70.0F + (float)i);
        view_synth_cue(&synth, &cue);
        render(&synth, heard, SECOND);
        assert_int_equal(rings(&synth), 1);
    }
}

/* ---- all voices ------------------------------------------------------------------------------------------------- */

static void everything_at_once_stays_under_the_limit(void **context)
{
    (void)context;
    static view_synth synth;
    const view_hum hum = {.motor = VIEW_MOTOR_DRILL, .rpm = 1500.0F, .load = 1.0F, .chips = 1.0F, .creak = 1.0F};
    view_synth_start(&synth, 1.0F);
    for (int i = 0; i < 8 * 5; i++) {
        view_synth_hum(&synth, &hum);
        for (int row = 0; row < 8; row++) {
            const view_cue cue = plucked(row, 60.0F);
            view_synth_cue(&synth, &cue);
        }
        for (int kind = 1; kind < VIEW_CUE_KINDS; kind++) {
            const view_cue cue = {.kind = (view_cue_kind)kind, .effort = 0.5F};
            view_synth_cue(&synth, &cue);
        }
        render(&synth, heard + (size_t)i * SECOND / 5, SECOND / 5);
    }
    const double most = largest(heard, LONGEST);
    assert_true(most > 0.3);
    assert_true(most < (double)VIEW_SOUND_MOST);
}

static void each_cue_is_heard_begins_softly_and_ends(void **context)
{
    (void)context;
    for (int kind = 0; kind < VIEW_CUE_KINDS; kind++) {
        static view_synth synth;
        const view_cue cue = {.kind = (view_cue_kind)kind, .hz = 80.0F, .effort = 0.5F};
        size_t at = 0;
        view_synth_start(&synth, 1.0F);
        assert_true(view_synth_is_silent(&synth));
        view_synth_cue(&synth, &cue);
        while (!view_synth_is_silent(&synth) && at < LONGEST - 512) {
            view_synth_render(&synth, heard + at, 512);
            at += 512;
        }
        /* a row rings on, a blow is short */
        assert_true(at < (kind == VIEW_CUE_PLUCK ? (size_t)LONGEST - 512 : (size_t)SECOND + SECOND / 2));
        assert_true(largest(heard, at) > 0.03);
        assert_true(fabs((double)heard[0]) < 0.02);
        assert_true(fabs((double)heard[at - 1]) < 1e-3);
    }
}

static void a_cue_waits_for_its_turn(void **context)
{
    (void)context;
    static view_synth synth;
    const view_cue cue = {.kind = VIEW_CUE_THREAD, .delay_s = 0.1F};
    view_synth_start(&synth, 1.0F);
    view_synth_cue(&synth, &cue);
    render(&synth, heard, SECOND / 2);
    assert_near(largest(heard, SECOND / 10 - 1), 0.0, 0.0);
    assert_true(largest(heard + SECOND / 10, SECOND / 10) > 0.03);
}

/* The mean frequency, by the step from sample to sample. */
static double brightness(const float *samples, size_t count)
{
    double steps = 0.0;
    for (size_t i = 1; i < count; i++) {
        const double step = (double)samples[i] - (double)samples[i - 1];
        steps += step * step;
    }
    return sqrt(steps / (double)(count - 1) / power(samples, count)) * VIEW_SOUND_RATE / (2.0 * TR_PI);
}

static void a_heavy_thread_clicks_lower_and_duller(void **context)
{
    (void)context;
    double before = 1e9;
    for (int i = 0; i <= 4; i++) {
        static view_synth synth;
        const view_cue cue = {.kind = VIEW_CUE_THREAD, .effort = 0.25F * (float)i};
        view_synth_start(&synth, 1.0F);
        view_synth_cue(&synth, &cue);
        render(&synth, heard, SECOND / 8);
        const double now = brightness(heard, SECOND / 8);
        assert_true(now < 0.95 * before);
        before = now;
    }
}

/* ---- the hum ---------------------------------------------------------------------------------------------------- */

static void hum_for(view_synth *synth, view_hum hum, float *out, size_t count)
{
    for (size_t at = 0; at < count; at += SECOND / 60) {
        view_synth_hum(synth, &hum);
        view_synth_render(synth, out + at, count - at < SECOND / 60 ? count - at : SECOND / 60);
    }
}

static void a_motor_drops_under_load(void **context)
{
    (void)context;
    static view_synth synth;
    view_synth_start(&synth, 1.0F);
    hum_for(&synth, (view_hum){.motor = VIEW_MOTOR_DRILL, .rpm = 1200.0F}, heard, SECOND);
    const double is_free = peak_hz(heard + SECOND / 2, SECOND / 4, 150.0, 320.0);
    hum_for(&synth, (view_hum){.motor = VIEW_MOTOR_DRILL, .rpm = 1200.0F, .load = 1.0F}, heard, SECOND);
    const double loaded = peak_hz(heard + SECOND / 2, SECOND / 4, 150.0, 320.0);
    assert_true(loaded < 0.8 * is_free);
    hum_for(&synth, (view_hum){.motor = VIEW_MOTOR_DRILL, .rpm = 900.0F}, heard, SECOND);
    assert_near(peak_hz(heard + SECOND / 2, SECOND / 4, 150.0, 320.0) / is_free, 0.75, 0.01);
}

static void a_motor_starts_and_stops_without_a_click(void **context)
{
    (void)context;
    static view_synth synth;
    view_synth_start(&synth, 1.0F);
    const view_hum hum = {.motor = VIEW_MOTOR_DRIVER, .rpm = 800.0F, .load = 0.5F};
    hum_for(&synth, hum, heard, SECOND);
    const double steady = largest_step(heard + SECOND / 2, SECOND / 2);
    assert_true(largest_step(heard, SECOND / 2) < 1.1 * steady);
    assert_true(fabs((double)heard[0]) < 0.01);
    const float last = heard[SECOND - 1];
    hum_for(&synth, (view_hum){.motor = VIEW_NO_MOTOR}, heard, SECOND);
    assert_true(fabs((double)heard[0] - (double)last) < 1.1 * steady);
    assert_true(largest_step(heard, SECOND) < 1.1 * steady);
    assert_true(view_synth_is_silent(&synth));
}

static void a_hum_that_is_not_said_again_stops(void **context)
{
    (void)context;
    static view_synth synth;
    const view_hum hum = {.motor = VIEW_MOTOR_DRILL, .rpm = 800.0F};
    view_synth_start(&synth, 1.0F);
    view_synth_hum(&synth, &hum);
    render(&synth, heard, (size_t)2 * SECOND);
    assert_true(largest(heard + SECOND / 4, SECOND / 8) > 0.03);
    assert_true(view_synth_is_silent(&synth));
}

static void a_cable_creaks_louder_with_the_pull(void **context)
{
    (void)context;
    static view_synth synth;
    double before = 1e-9;
    for (int i = 1; i <= 4; i++) {
        view_synth_start(&synth, 1.0F);
        hum_for(&synth, (view_hum){.creak = 0.25F * (float)i}, heard, (size_t)2 * SECOND);
        const double now = power(heard, (size_t)2 * SECOND);
        assert_true(now > 1.3 * before);
        before = now;
    }
    assert_true(largest(heard, (size_t)2 * SECOND) > 0.05);
}

static void hushed_and_turned_down_fade_without_a_click(void **context)
{
    (void)context;
    for (int way = 0; way < 2; way++) {
        static view_synth synth;
        const view_cue cue = plucked(0, 90.0F);
        view_synth_start(&synth, 1.0F);
        view_synth_cue(&synth, &cue);
        render(&synth, heard, SECOND);
        const double steady = largest_step(heard + SECOND / 2, SECOND / 2);
        if (way == 0) {
            view_synth_hush(&synth);
        } else {
            view_synth_volume(&synth, 0.0F);
        }
        const float last = heard[SECOND - 1];
        render(&synth, heard, SECOND / 4);
        assert_true(fabs((double)heard[0] - (double)last) < 1.1 * steady);
        assert_true(largest_step(heard, SECOND / 4) < 1.1 * steady);
        assert_true(view_synth_is_silent(&synth));
    }
}

/* ---- the device ------------------------------------------------------------------------------------------------- */

static view_ear one_cue(view_cue_kind kind)
{
    view_ear ear = {.cue_count = 1};
    ear.cue[0] = (view_cue){.kind = kind, .hz = 80.0F};
    return ear;
}

static void no_device_is_silence_and_a_note(void **context)
{
    (void)context;
    SDL_setenv("SDL_AUDIODRIVER", "none_of_that_name", 1);
    view_sound *sound = view_sound_open();
    view_ear ear = one_cue(VIEW_CUE_SNAP);
    assert_false(view_sound_is_missing(sound));
    assert_true(view_sound_frame(sound, &ear, 0.6F, 1.0) < 0.0F);
    assert_true(view_sound_is_missing(sound));
    assert_int_equal(ear.cue_count, 0);
    view_sound_hush(sound);
    view_sound_close(sound);
    ear = one_cue(VIEW_CUE_SNAP);
    assert_true(view_sound_frame(NULL, &ear, 0.6F, 1.0) < 0.0F);
    assert_int_equal(ear.cue_count, 0);
    view_sound_hush(NULL);
    view_sound_close(NULL);
    assert_false(view_sound_is_missing(NULL));
}

static void off_touches_no_device(void **context)
{
    (void)context;
    SDL_setenv("SDL_AUDIODRIVER", "dummy", 1);
    view_sound *sound = view_sound_open();
    view_ear ear = one_cue(VIEW_CUE_SNAP);
    assert_true(view_sound_frame(sound, &ear, 0.0F, 1.0) < 0.0F);
    assert_int_equal(SDL_WasInit(SDL_INIT_AUDIO), 0);
    assert_false(view_sound_is_missing(sound));
    /* another volume tries the device again, after one that was missing */
    SDL_setenv("SDL_AUDIODRIVER", "none_of_that_name", 1);
    ear = one_cue(VIEW_CUE_SNAP);
    (void)view_sound_frame(sound, &ear, 0.5F, 1.0);
    assert_true(view_sound_is_missing(sound));
    SDL_setenv("SDL_AUDIODRIVER", "dummy", 1);
    ear = one_cue(VIEW_CUE_SNAP);
    assert_true(view_sound_frame(sound, &ear, 0.6F, 1.0) > 0.0F);
    assert_false(view_sound_is_missing(sound));
    view_sound_close(sound);
}

/* The dummy device keeps real time: a click is over within a second. */
static void the_device_rests_when_all_is_quiet(void **context)
{
    (void)context;
    SDL_setenv("SDL_AUDIODRIVER", "dummy", 1);
    view_sound *sound = view_sound_open();
    view_ear ear = one_cue(VIEW_CUE_THREAD);
    double now_s = 100.0;
    float again_s = view_sound_frame(sound, &ear, 0.6F, now_s);
    assert_near((double)again_s, 0.25, 1e-6);
    for (int i = 0; i < 100 && again_s < 1.0F; i++) {
        SDL_Delay(20);
        now_s += 0.02;
        again_s = view_sound_frame(sound, &ear, 0.6F, now_s);
    }
    assert_true(again_s > 1.0F); /* paused; it wants to be seen once more, to give the device back */
    assert_int_not_equal(SDL_WasInit(SDL_INIT_AUDIO), 0);
    assert_true(view_sound_frame(sound, &ear, 0.6F, now_s + 60.0) < 0.0F);
    assert_int_equal(SDL_WasInit(SDL_INIT_AUDIO), 0);
    ear = one_cue(VIEW_CUE_THREAD); /* and it sounds again */
    assert_true(view_sound_frame(sound, &ear, 0.6F, now_s + 61.0) > 0.0F);
    view_sound_hush(sound);
    view_sound_close(sound);
    assert_int_equal(SDL_WasInit(SDL_INIT_AUDIO), 0);
}

/* ---- the ear ---------------------------------------------------------------------------------------------------- */

static float made_up_width(void *context, view_font font, const char *text)
{
    (void)context;
    return 0.5F * font.size * (float)strlen(text);
}

static void open_at(job_desk *desk, view_ear *ear, job_stage stage, int more, const char *code)
{
    job_action next;
    memset(ear, 0, sizeof *ear);
    job_desk_open(desk, "soft-porch", JOB_PRACTICE, code);
    desk->metrics = (view_metrics){made_up_width, NULL};
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
    desk.metrics = (view_metrics){made_up_width, NULL};
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_row_sounds_at_its_tone),
        cmocka_unit_test(a_low_row_has_its_strength_in_the_overtones),
        cmocka_unit_test(two_rows_ring_together_and_beat),
        cmocka_unit_test(a_row_plucked_again_is_stopped_first),
        cmocka_unit_test(everything_at_once_stays_under_the_limit),
        cmocka_unit_test(each_cue_is_heard_begins_softly_and_ends),
        cmocka_unit_test(a_cue_waits_for_its_turn),
        cmocka_unit_test(a_heavy_thread_clicks_lower_and_duller),
        cmocka_unit_test(a_motor_drops_under_load),
        cmocka_unit_test(a_motor_starts_and_stops_without_a_click),
        cmocka_unit_test(a_hum_that_is_not_said_again_stops),
        cmocka_unit_test(a_cable_creaks_louder_with_the_pull),
        cmocka_unit_test(hushed_and_turned_down_fade_without_a_click),
        cmocka_unit_test(no_device_is_silence_and_a_note),
        cmocka_unit_test(off_touches_no_device),
        cmocka_unit_test(the_device_rests_when_all_is_quiet),
        cmocka_unit_test(a_pluck_is_heard_at_the_tone_of_its_tension),
        cmocka_unit_test(two_plucks_make_a_beat_until_a_row_is_turned),
        cmocka_unit_test(a_turned_body_clicks_each_sixteenth),
        cmocka_unit_test(a_refusal_knocks),
        cmocka_unit_test(a_held_trigger_is_heard_and_labours),
        cmocka_unit_test(a_whole_job_is_heard),
        cmocka_unit_test(every_sound_has_its_words_in_both_languages),
        cmocka_unit_test(captions_say_what_is_heard),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
