/* The sounds: pitch, beats, levels and ends measured in the synth's own samples; and the device, the silent one and none at
 * all. What the job screen lets be heard: test_sound_ear.c. */
#define SDL_MAIN_HANDLED
#include "near.h"

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

/* ---- small sounds of the hand ----------------------------------------------------------------------------------- */

static size_t render_cue(view_cue_kind kind, float effort)
{
    static view_synth synth;
    const view_cue cue = {.kind = kind, .effort = effort};
    size_t at = 0;
    view_synth_start(&synth, 1.0F);
    view_synth_cue(&synth, &cue);
    while (!view_synth_is_silent(&synth) && at < SECOND) {
        view_synth_render(&synth, heard + at, 512);
        at += 512;
    }
    return at;
}

/* From dull to bright, as the things themselves sound: flange on wood, cloth, gauge, collar, graphite. */
static void small_sounds_lie_where_the_ear_expects_them(void **context)
{
    (void)context;
    static const struct {
        view_cue_kind kind;
        double low, high;
    } cases[] = {{VIEW_CUE_SEAT, 150, 900},     {VIEW_CUE_WIPE, 300, 2200},    {VIEW_CUE_GAUGE, 1000, 4000},
                 {VIEW_CUE_GRATE, 1500, 5000},  {VIEW_CUE_COLLAR, 1700, 5500}, {VIEW_CUE_FINGERS, 2300, 7000},
                 {VIEW_CUE_PENCIL, 4500, 11000}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const size_t count = render_cue(cases[i].kind, 0.0F);
        const double hz = brightness(heard, count);
        if (hz < cases[i].low || hz > cases[i].high) {
            print_error("cue %d: mean frequency %.0f Hz\n", (int)cases[i].kind, hz);
            fail();
        }
    }
    /* a collar rings on after its scrape: at its own tone */
    const size_t count = render_cue(VIEW_CUE_COLLAR, 0.0F);
    assert_true(count > SECOND / 4);
    assert_near(peak_hz(heard + SECOND / 20, 8192, 1400, 2000), 1680, 20);
    /* cloth begins softly: the loudest comes late */
    (void)render_cue(VIEW_CUE_WIPE, 0.0F);
    assert_true(power(heard + SECOND / 10, SECOND / 20) > 2.0 * power(heard, SECOND / 100));
    /* fingers: duller as the stud goes in */
    const size_t loose = render_cue(VIEW_CUE_FINGERS, 0.0F);
    const double before = brightness(heard, loose);
    const size_t tight = render_cue(VIEW_CUE_FINGERS, 0.7F);
    assert_true(brightness(heard, tight) < 0.85 * before);
}

/* Neither lost beside the motor nor louder than the cutter. */
static void small_sounds_keep_their_level(void **context)
{
    (void)context;
    static const view_cue_kind small[] = {VIEW_CUE_PENCIL, VIEW_CUE_SEAT,   VIEW_CUE_FINGERS, VIEW_CUE_GRATE,
                                          VIEW_CUE_GAUGE,  VIEW_CUE_COLLAR, VIEW_CUE_WIPE};
    (void)render_cue(VIEW_CUE_SNAP, 0.0F);
    const double loudest = largest(heard, SECOND / 2);
    for (size_t i = 0; i < sizeof small / sizeof small[0]; i++) {
        const size_t count = render_cue(small[i], 0.0F);
        const double most = largest(heard, count);
        if (most < 0.03 || most > loudest || most > (double)VIEW_SOUND_MOST) {
            print_error("cue %d: %.3f\n", (int)small[i], most);
            fail();
        }
        assert_true(count < SECOND);
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
        cmocka_unit_test(small_sounds_lie_where_the_ear_expects_them),
        cmocka_unit_test(small_sounds_keep_their_level),
        cmocka_unit_test(a_motor_drops_under_load),
        cmocka_unit_test(a_motor_starts_and_stops_without_a_click),
        cmocka_unit_test(a_hum_that_is_not_said_again_stops),
        cmocka_unit_test(a_cable_creaks_louder_with_the_pull),
        cmocka_unit_test(hushed_and_turned_down_fade_without_a_click),
        cmocka_unit_test(no_device_is_silence_and_a_note),
        cmocka_unit_test(off_touches_no_device),
        cmocka_unit_test(the_device_rests_when_all_is_quiet),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
