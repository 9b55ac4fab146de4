/* The synth on the machine's sound device. The device is opened with the first sound, pauses itself when the last one has
 * died away and is given back after a while. Device and window share the synth under SDL's device lock, which is held for
 * microseconds at a time. */
#define SDL_MAIN_HANDLED
#include "tautrow/view/sound.h"

#include <SDL.h>
#include <stdlib.h>

enum { BLOCK = 512 }; /* 11 ms */
static const double GIVEN_BACK_S = 20.0;
static const float LOOK_AGAIN_S = 0.25F;

struct view_sound {
    view_synth synth;
    SDL_AudioDeviceID device; /* 0 = not open */
    bool is_playing;
    bool is_missing;
    float volume;
    double quiet_since_s;
};

static void play(void *context, Uint8 *bytes, int size)
{
    view_synth *synth = context;
    view_synth_render(synth, (float *)(void *)bytes, (size_t)size / sizeof(float));
}

/* SDL converts where the device wants another rate, format or number of channels. */
static bool open_device(view_sound *sound)
{
    if (sound->device != 0 || sound->is_missing) {
        return sound->device != 0;
    }
    const SDL_AudioSpec wanted = {.freq = VIEW_SOUND_RATE,
                                  .format = AUDIO_F32SYS,
                                  .channels = 1,
                                  .samples = BLOCK,
                                  .callback = play,
                                  .userdata = &sound->synth};
    SDL_SetMainReady();
    if (SDL_InitSubSystem(SDL_INIT_AUDIO) == 0) {
        sound->device = SDL_OpenAudioDevice(NULL, 0, &wanted, NULL, 0);
        if (sound->device == 0) {
            SDL_QuitSubSystem(SDL_INIT_AUDIO);
        }
    }
    sound->is_missing = sound->device == 0;
    sound->is_playing = false;
    view_synth_start(&sound->synth, sound->volume);
    return sound->device != 0;
}

static void give_back(view_sound *sound)
{
    if (sound->device != 0) {
        SDL_CloseAudioDevice(sound->device);
        SDL_QuitSubSystem(SDL_INIT_AUDIO);
        sound->device = 0;
        sound->is_playing = false;
    }
}

view_sound *view_sound_open(void)
{
    return calloc(1, sizeof(view_sound));
}

void view_sound_close(view_sound *sound)
{
    if (sound != NULL) {
        give_back(sound);
        free(sound);
    }
}

static bool has_news(const view_ear *ear)
{
    const view_hum *hum = &ear->hum;
    return ear->cue_count > 0 || hum->motor != VIEW_NO_MOTOR || hum->chips > 0.0F || hum->creak > 0.0F;
}

/* Another volume is also another try: somebody may have plugged one in. */
static void set_volume(view_sound *sound, float volume)
{
    if (volume != sound->volume) {
        sound->volume = volume;
        sound->is_missing = false;
    }
}

static bool tell_synth(view_sound *sound, const view_ear *ear)
{
    static const view_hum none = {.motor = VIEW_NO_MOTOR};
    const bool is_on = sound->volume > 0.0F;
    SDL_LockAudioDevice(sound->device);
    view_synth_volume(&sound->synth, sound->volume);
    view_synth_hum(&sound->synth, is_on ? &ear->hum : &none);
    for (int i = 0; is_on && i < ear->cue_count; i++) {
        view_synth_cue(&sound->synth, &ear->cue[i]);
    }
    const bool is_silent = view_synth_is_silent(&sound->synth);
    SDL_UnlockAudioDevice(sound->device);
    return is_silent;
}

static float keep_time(view_sound *sound, bool is_silent, double time_s)
{
    if (sound->is_playing == is_silent) {
        SDL_PauseAudioDevice(sound->device, is_silent ? 1 : 0);
        sound->is_playing = !is_silent;
        sound->quiet_since_s = time_s;
    }
    if (!is_silent) {
        return LOOK_AGAIN_S;
    }
    const double left = sound->quiet_since_s + GIVEN_BACK_S - time_s;
    if (left <= 0.0) {
        give_back(sound);
        return -1.0F;
    }
    return (float)left;
}

float view_sound_frame(view_sound *sound, view_ear *ear, float volume, double time_s)
{
    float again_s = -1.0F;
    if (sound != NULL) {
        set_volume(sound, volume);
        if (sound->device != 0 || (volume > 0.0F && has_news(ear) && open_device(sound))) {
            again_s = keep_time(sound, tell_synth(sound, ear), time_s);
        }
    }
    ear->cue_count = 0;
    return again_s;
}

void view_sound_hush(view_sound *sound)
{
    if (sound != NULL && sound->device != 0) {
        SDL_LockAudioDevice(sound->device);
        view_synth_hush(&sound->synth);
        SDL_UnlockAudioDevice(sound->device);
    }
}

bool view_sound_is_missing(const view_sound *sound)
{
    return sound != NULL && sound->is_missing;
}
