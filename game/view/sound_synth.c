/* The synth: plucked rows as sums of damped partials, blows as damped modes with a burst of noise, and one hum for motors
 * and a cable that creaks. All numbers that shape a sound are by ear; only the pitch of a row is a promise. */
#include "tautrow/view/sound.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/units.h"

static const float TAU = (float)(2.0 * TR_PI);
static const float RATE = (float)VIEW_SOUND_RATE;

/* Share of the way that a smoothed value goes in a sample, for a time constant. */
static float smooth(float seconds)
{
    return 1.0F - expf(-1.0F / (seconds * RATE));
}

/* -1..1, the same every time. */
static float noise(view_synth *synth)
{
    uint32_t x = synth->noise;
    x ^= x << 13;
    x ^= x >> 17;
    x ^= x << 5;
    synth->noise = x;
    return (float)(x >> 8) / 8388608.0F - 1.0F;
}

void view_synth_start(view_synth *synth, float volume)
{
    memset(synth, 0, sizeof *synth);
    synth->noise = 0x2545F491U;
    synth->gain = synth->gain_aim = volume;
}

void view_synth_volume(view_synth *synth, float volume)
{
    synth->gain_aim = volume;
}

/* ---- plucked rows ----------------------------------------------------------------------------------------------- */

static const float PLUCK_LEVEL = 0.30F; /* sum of the partials' amplitudes */
static const float PLUCK_AT = 0.13F;    /* of the bay, from the post */
static const float HIGHEST_HZ = 6000.0F;
static const float HEARD = 5e-5F;

/* Amplitudes of the force at the row's end, which is what drives post and air: sin(n pi p) / n for a string plucked at p
 * (the displacement's series has n squared; force is its slope times the tension). A post is a poor loudspeaker for low
 * tones, and a small loudspeaker is a worse one: so the ear gets the pitch from the upper partials. */
static float partial_level(int n, float hz)
{
    const float place = fabsf(sinf((float)(n * TR_PI) * PLUCK_AT)) / (float)n;
    const float high = (float)n * hz / 200.0F;
    return place * high * high / (1.0F + high * high);
}

/* Amplitude lost a second as an exponent: friction between wires takes the high partials first. */
static float partial_loss(int n)
{
    return 0.8F + 0.05F * powf((float)n, 1.5F);
}

static void tune(view__string *string, float hz, float strength)
{
    float sum = 0.0F;
    int count = (int)(HIGHEST_HZ / hz);
    count = count < 1 ? 1 : count > VIEW_SOUND_PARTIALS ? VIEW_SOUND_PARTIALS : count;
    for (int i = 0; i < count; i++) {
        sum += partial_level(i + 1, hz);
    }
    for (int i = 0; i < count; i++) {
        const double turn = 2.0 * TR_PI * (double)(i + 1) * (double)hz / VIEW_SOUND_RATE;
        const double keep = exp(-(double)partial_loss(i + 1) / VIEW_SOUND_RATE);
        string->turn_sin[i] = (float)(keep * sin(turn));
        string->turn_cos[i] = (float)(keep * cos(turn));
        string->sine[i] = 0.0F;
        string->cosine[i] = PLUCK_LEVEL * strength * partial_level(i + 1, hz) / sum;
    }
    string->partials = count;
    string->attack = 0.0F;
    string->is_damped = false;
}

/* A row that is plucked while it rings is stopped by the finger first. */
static void pluck(view_synth *synth, const view_cue *cue)
{
    view__string *free_one = NULL;
    for (int i = 0; i < VIEW_SOUND_STRINGS; i++) {
        view__string *string = &synth->string[i];
        string->is_damped = string->is_damped || (string->partials > 0 && string->row == cue->row);
        free_one = string->partials == 0 ? string : free_one;
    }
    if (free_one != NULL && cue->hz > 5.0F && cue->hz < HIGHEST_HZ) {
        free_one->row = cue->row;
        tune(free_one, cue->hz, 1.0F);
    }
}

static float ring(view__string *string)
{
    float sum = 0.0F;
    for (int i = 0; i < string->partials; i++) {
        const float s = string->sine[i];
        const float c = string->cosine[i];
        sum += s;
        string->sine[i] = s * string->turn_cos[i] + c * string->turn_sin[i];
        string->cosine[i] = c * string->turn_cos[i] - s * string->turn_sin[i];
    }
    return sum;
}

/* The highest partials die first: what is no longer heard is no longer computed. */
static void drop_unheard(view__string *string)
{
    while (string->partials > 0) {
        const int top = string->partials - 1;
        if (hypotf(string->sine[top], string->cosine[top]) > HEARD) {
            return;
        }
        string->partials--;
    }
}

static void add_string(view__string *string, float *out, size_t count)
{
    const float rise = smooth(0.001F);
    const float fall = expf(-1.0F / (0.006F * RATE));
    for (size_t i = 0; i < count; i++) {
        string->attack = string->is_damped ? string->attack * fall : string->attack + (1.0F - string->attack) * rise;
        out[i] += ring(string) * string->attack;
    }
    drop_unheard(string);
    if (string->is_damped && string->attack < 1e-4F) {
        string->partials = 0;
    }
}

/* ---- blows ------------------------------------------------------------------------------------------------------ */

/* How a thing rings when it is struck, at no effort. */
typedef struct blow {
    float hz[VIEW_SOUND_MODES], level[VIEW_SOUND_MODES], ring_s[VIEW_SOUND_MODES];
    float noise, noise_s, noise_hz; /* level, length and where it is cut off */
    float attack_s;
    float glide; /* octaves a second */
} blow;

static const blow blows[VIEW_CUE_KINDS] = {
    [VIEW_CUE_THREAD] =
        {{2100, 3350, 5200}, {0.050F, 0.035F, 0.02F}, {0.018F, 0.012F, 0.008F}, 0.07F, 0.006F, 6000, 0.0008F, 0},
    [VIEW_CUE_CHIPS] = {{240, 0, 0}, {0.02F, 0, 0}, {0.05F, 0.01F, 0.01F}, 0.16F, 0.14F, 2600, 0.02F, 0},
    [VIEW_CUE_RATCHET] =
        {{1250, 2900, 4700}, {0.07F, 0.05F, 0.03F}, {0.02F, 0.016F, 0.01F}, 0.14F, 0.008F, 4500, 0.0008F, 0},
    [VIEW_CUE_RELEASE] =
        {{520, 1380, 3100}, {0.14F, 0.08F, 0.05F}, {0.09F, 0.06F, 0.03F}, 0.25F, 0.025F, 3500, 0.001F, 0},
    [VIEW_CUE_SNAP] =
        {{760, 2300, 5100}, {0.12F, 0.10F, 0.08F}, {0.05F, 0.09F, 0.06F}, 0.45F, 0.022F, 7000, 0.0008F, 0},
    [VIEW_CUE_CLAMP] =
        {{430, 1150, 2700}, {0.12F, 0.08F, 0.05F}, {0.05F, 0.04F, 0.02F}, 0.18F, 0.012F, 3000, 0.001F, 0},
    [VIEW_CUE_UNCLAMP] =
        {{640, 1650, 3300}, {0.08F, 0.06F, 0.04F}, {0.05F, 0.04F, 0.02F}, 0.10F, 0.010F, 4000, 0.001F, 0},
    [VIEW_CUE_BALL] =
        {{720, 1455, 2230}, {0.10F, 0.05F, 0.02F}, {0.10F, 0.08F, 0.05F}, 0.04F, 0.10F, 3000, 0.03F, 2.2F},
    [VIEW_CUE_THROUGH] = {{260, 410, 0}, {0.22F, 0.08F, 0}, {0.06F, 0.05F, 0.01F}, 0.06F, 0.02F, 1500, 0.002F, -3.0F},
    [VIEW_CUE_CRACK] =
        {{310, 820, 1900}, {0.16F, 0.10F, 0.06F}, {0.06F, 0.03F, 0.02F}, 0.60F, 0.05F, 4000, 0.0008F, -1.0F},
    [VIEW_CUE_SLIP] =
        {{190, 530, 1400}, {0.16F, 0.10F, 0.04F}, {0.10F, 0.06F, 0.03F}, 0.25F, 0.06F, 1800, 0.002F, -2.0F},
    [VIEW_CUE_REFUSAL] = {{96, 173, 0}, {0.26F, 0.10F, 0}, {0.07F, 0.04F, 0.01F}, 0.03F, 0.02F, 500, 0.004F, -0.8F},
    [VIEW_CUE_PENCIL] = {{3400, 0, 0}, {0.004F, 0, 0}, {0.08F, 0.01F, 0.01F}, 0.15F, 0.09F, 9000, 0.02F, 0},
    [VIEW_CUE_SEAT] =
        {{165, 390, 1250}, {0.20F, 0.10F, 0.03F}, {0.06F, 0.04F, 0.015F}, 0.14F, 0.03F, 1400, 0.002F, -0.6F},
    [VIEW_CUE_FINGERS] =
        {{2900, 4600, 6800}, {0.022F, 0.016F, 0.01F}, {0.014F, 0.010F, 0.006F}, 0.22F, 0.02F, 2600, 0.003F, 0},
    [VIEW_CUE_GRATE] =
        {{1750, 2620, 4150}, {0.05F, 0.05F, 0.03F}, {0.05F, 0.04F, 0.03F}, 0.26F, 0.06F, 1900, 0.006F, -1.5F},
    [VIEW_CUE_GAUGE] =
        {{880, 2150, 3900}, {0.09F, 0.06F, 0.03F}, {0.07F, 0.05F, 0.02F}, 0.10F, 0.010F, 4500, 0.001F, 0},
    [VIEW_CUE_COLLAR] =
        {{1680, 3720, 5900}, {0.08F, 0.05F, 0.03F}, {0.12F, 0.09F, 0.05F}, 0.12F, 0.035F, 5000, 0.004F, 0},
    [VIEW_CUE_WIPE] = {{0, 0, 0}, {0, 0, 0}, {0.01F, 0.01F, 0.01F}, 2.6F, 0.08F, 260, 0.10F, 0},
};

static view__strike *free_strike(view_synth *synth)
{
    for (int i = 0; i < VIEW_SOUND_STRIKES; i++) {
        if (!synth->strike[i].is_on) {
            return &synth->strike[i];
        }
    }
    return NULL;
}

static void strike(view_synth *synth, const view_cue *cue)
{
    view__strike *at = free_strike(synth);
    if (at == NULL) {
        return;
    }
    const blow *how = &blows[cue->kind];
    const float effort = fminf(fmaxf(cue->effort, 0.0F), 1.0F);
    const float lower = 1.0F - 0.5F * effort;
    const float level = 0.6F + 0.4F * effort;
    *at = (view__strike){.is_on = true,
                         .wait = (int)(fmaxf(cue->delay_s, 0.0F) * RATE),
                         .attack_step = smooth(how->attack_s),
                         .glide = exp2f(how->glide / RATE),
                         .noise = how->noise * level,
                         .noise_decay = expf(-1.0F / (how->noise_s * RATE)),
                         /* duller still than lower */
                         .noise_pass = smooth(1.0F / (TAU * how->noise_hz * lower * lower))};
    for (int i = 0; i < VIEW_SOUND_MODES; i++) {
        at->step[i] = TAU * how->hz[i] * lower / RATE;
        at->level[i] = how->level[i] * level * (i > 0 ? lower : 1.0F);
        at->decay[i] = expf(-1.0F / (how->ring_s[i] * (1.0F + effort) * RATE));
    }
}

static float sound_of(view__strike *at, float hiss)
{
    float sum = 0.0F;
    for (int i = 0; i < VIEW_SOUND_MODES; i++) {
        sum += at->level[i] * sinf(at->phase[i]);
        at->phase[i] += at->step[i];
        at->phase[i] -= at->phase[i] > TAU ? TAU : 0.0F;
        at->step[i] = fminf(at->step[i] * at->glide, 1.5F);
        at->level[i] *= at->decay[i];
    }
    at->noise_was += (hiss * at->noise - at->noise_was) * at->noise_pass;
    at->noise *= at->noise_decay;
    at->attack += (1.0F - at->attack) * at->attack_step;
    return (sum + at->noise_was) * at->attack;
}

static void add_strike(view_synth *synth, view__strike *at, float *out, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (at->wait > 0) {
            at->wait--;
            continue;
        }
        out[i] += sound_of(at, noise(synth));
    }
    const float left = at->level[0] + at->level[1] + at->level[2] + at->noise + fabsf(at->noise_was);
    at->is_on = at->wait > 0 || left > HEARD;
}

void view_synth_cue(view_synth *synth, const view_cue *cue)
{
    synth->is_hushed = false;
    if (cue->kind == VIEW_CUE_PLUCK) {
        pluck(synth, cue);
    } else {
        strike(synth, cue);
    }
}

/* ---- the hum ---------------------------------------------------------------------------------------------------- */

static const float HUM_LASTS_S = 0.5F;
static const float SLOWED = 0.35F; /* of its speed, that a motor loses at full load */

/* Turns of the armature for one of the spindle, and how loud it is. */
static const struct {
    float gear, level;
} motors[] = {[VIEW_NO_MOTOR] = {0, 0},
              [VIEW_MOTOR_DRILL] = {14.0F, 0.13F},
              [VIEW_MOTOR_DRIVER] = {22.0F, 0.11F},
              [VIEW_MOTOR_GRINDER] = {3.2F, 0.14F}};

void view_synth_hum(view_synth *synth, const view_hum *hum)
{
    const bool is_any = hum->motor != VIEW_NO_MOTOR || hum->chips > 0.0F || hum->creak > 0.0F;
    synth->is_hushed = synth->is_hushed && !is_any;
    synth->aim = *hum;
    synth->aim_left = is_any ? (int)(HUM_LASTS_S * RATE) : 0;
}

/* A motor's hum, its second order that grows under load, and the whine of its gears. */
static float motor_sound(view_synth *synth)
{
    const float load = synth->now.load;
    synth->motor_phase += TAU * synth->motor_hz / RATE;
    /* ten turns, so that every order below comes round whole */
    synth->motor_phase -= synth->motor_phase > 10.0F * TAU ? 10.0F * TAU : 0.0F;
    const float p = synth->motor_phase;
    const float whine = 0.30F - 0.12F * load;
    return (sinf(p) + (0.35F + 0.5F * load) * sinf(2.0F * p) + 0.3F * load * sinf(0.5F * p) + whine * sinf(5.3F * p)) /
           (1.65F + 0.68F * load);
}

/* Stick and slip: little pulls on a body that rings, faster and brighter with the force. */
static float creak_sound(view_synth *synth)
{
    const float pull = synth->now.creak;
    const float radius = 0.992F;
    const float angle = TAU * (260.0F + 420.0F * pull) / RATE;
    float push = 0.0F;
    synth->creak_phase += (9.0F + 34.0F * pull) * (1.0F + 0.6F * noise(synth)) / RATE;
    if (synth->creak_phase >= 1.0F) {
        synth->creak_phase -= 1.0F;
        push = angle * (0.7F + 0.3F * noise(synth));
    }
    const float y = 2.0F * radius * cosf(angle) * synth->creak_1 - radius * radius * synth->creak_2 + push;
    synth->creak_2 = synth->creak_1;
    synth->creak_1 = y;
    return y;
}

static void follow_hum(view_synth *synth, float share)
{
    const bool is_on = synth->aim_left > 0;
    const view_motor motor = is_on ? synth->aim.motor : VIEW_NO_MOTOR;
    synth->aim_left -= is_on ? 1 : 0;
    synth->now.load += ((is_on ? synth->aim.load : 0.0F) - synth->now.load) * share;
    synth->now.chips += ((is_on ? synth->aim.chips : 0.0F) - synth->now.chips) * share;
    synth->now.creak += ((is_on ? synth->aim.creak : 0.0F) - synth->now.creak) * share;
    synth->motor_level += (motors[motor].level - synth->motor_level) * share;
    /* a motor that is let go runs down while it fades */
    const float hz = synth->aim.rpm / 60.0F * motors[motor].gear * (1.0F - SLOWED * synth->now.load);
    synth->motor_hz += (fminf(hz, 1600.0F) - synth->motor_hz) * share * (motor == VIEW_NO_MOTOR ? 0.3F : 1.0F);
}

static bool hums(const view_synth *synth)
{
    return synth->aim_left > 0 || synth->motor_level > HEARD || synth->now.chips > HEARD || synth->now.creak > HEARD;
}

static void add_hum(view_synth *synth, float *out, size_t count)
{
    const float share = smooth(0.03F);
    const float pass = smooth(1.0F / (TAU * 2400.0F));
    for (size_t i = 0; i < count; i++) {
        follow_hum(synth, share);
        const float motor = synth->motor_level * (0.75F + 0.25F * synth->now.load) * motor_sound(synth);
        synth->chips_was += (noise(synth) - synth->chips_was) * pass;
        out[i] += motor + 0.12F * synth->now.chips * synth->chips_was + 0.30F * synth->now.creak * creak_sound(synth);
    }
}

/* ---- all together ----------------------------------------------------------------------------------------------- */

void view_synth_hush(view_synth *synth)
{
    synth->is_hushed = true;
    synth->aim_left = 0;
}

static void clear_voices(view_synth *synth)
{
    for (int i = 0; i < VIEW_SOUND_STRINGS; i++) {
        synth->string[i].partials = 0;
    }
    for (int i = 0; i < VIEW_SOUND_STRIKES; i++) {
        synth->strike[i].is_on = false;
    }
    synth->aim_left = 0;
    synth->motor_level = synth->creak_1 = synth->creak_2 = 0.0F;
    synth->now = (view_hum){.motor = VIEW_NO_MOTOR};
    synth->is_hushed = false;
}

bool view_synth_is_silent(const view_synth *synth)
{
    bool is_any = hums(synth);
    for (int i = 0; i < VIEW_SOUND_STRINGS; i++) {
        is_any = is_any || synth->string[i].partials > 0;
    }
    for (int i = 0; i < VIEW_SOUND_STRIKES; i++) {
        is_any = is_any || synth->strike[i].is_on;
    }
    return !is_any;
}

/* As it is up to half of the most, then ever flatter: never over it, and without a corner. */
static float limited(float x)
{
    const float knee = 0.5F * VIEW_SOUND_MOST;
    const float over = (fabsf(x) - knee) / knee;
    return over <= 0.0F ? x : copysignf(knee + knee * over / (1.0F + over), x);
}

static void add_voices(view_synth *synth, float *out, size_t count)
{
    for (int i = 0; i < VIEW_SOUND_STRINGS; i++) {
        if (synth->string[i].partials > 0) {
            add_string(&synth->string[i], out, count);
        }
    }
    for (int i = 0; i < VIEW_SOUND_STRIKES; i++) {
        if (synth->strike[i].is_on) {
            add_strike(synth, &synth->strike[i], out, count);
        }
    }
    if (hums(synth)) {
        add_hum(synth, out, count);
    }
}

void view_synth_render(view_synth *synth, float *out, size_t count)
{
    memset(out, 0, count * sizeof *out);
    add_voices(synth, out, count);
    const float share = smooth(0.008F);
    const float aim = synth->is_hushed ? 0.0F : synth->gain_aim;
    for (size_t i = 0; i < count; i++) {
        synth->gain += (aim - synth->gain) * share;
        out[i] = limited(out[i] * synth->gain);
    }
    if (aim == 0.0F && synth->gain < 1e-4F) {
        clear_voices(synth);
    }
}
