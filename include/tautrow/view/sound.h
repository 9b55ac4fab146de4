/* What the job sounds like, all of it made here. Three parts that know nothing of each other's business:
 *
 *  - the ear (job_sound.c) turns what happens at the job screen into cues, which begin and fade by themselves, and a hum,
 *    which lasts as long as the hand works;
 *  - the synth (sound_synth.c) turns cues and hum into samples: pure, without device, clock or heap;
 *  - the sound (sound.c) plays the synth on the machine's device, or on none: then the job is silent, never broken. */
#ifndef TAUTROW_VIEW_SOUND_H
#define TAUTROW_VIEW_SOUND_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "tautrow/view/screens.h"

/* ---- what is heard -------------------------------------------------------------------------------------------------- */

typedef enum view_cue_kind {
    VIEW_CUE_PLUCK,   /* a row rings at hz */
    VIEW_CUE_THREAD,  /* a thread clicks over: lower and duller with effort */
    VIEW_CUE_CHIPS,   /* chips fall from a bit that was drawn back */
    VIEW_CUE_RATCHET, /* the crimper takes a tooth */
    VIEW_CUE_RELEASE, /* ... and lets go */
    VIEW_CUE_SNAP,    /* the cutter is through */
    VIEW_CUE_CLAMP,   /* pliers on */
    VIEW_CUE_UNCLAMP, /* pliers off */
    VIEW_CUE_BALL,    /* the ball squeaks between two rows that hold it */
    VIEW_CUE_THROUGH, /* the ball pops through */
    VIEW_CUE_CRACK,   /* wood splits or tears */
    VIEW_CUE_SLIP,    /* cable or insert gives */
    VIEW_CUE_REFUSAL, /* it cannot be done: a soft low knock */
    VIEW_CUE_PENCIL,  /* graphite drawn over wood */
    VIEW_CUE_SEAT,    /* the insert's flange meets the wood */
    VIEW_CUE_FINGERS, /* a stud turned in by hand, each quarter turn: tighter as more threads are in */
    VIEW_CUE_GRATE,   /* threads of the wrong hand scrape and do not catch */
    VIEW_CUE_GAUGE,   /* the gauge is clamped on the cable */
    VIEW_CUE_COLLAR,  /* a collar slides home on the post */
    VIEW_CUE_WIPE,    /* a cloth over wood and steel */
    VIEW_CUE_KINDS
} view_cue_kind;

typedef struct view_cue {
    view_cue_kind kind;
    int row;       /* from 0, -1 = of no row */
    float hz;      /* pluck: its tone */
    float effort;  /* 0..1 */
    float delay_s; /* clicks that belong to one action come one after the other */
} view_cue;

typedef enum view_motor { VIEW_NO_MOTOR, VIEW_MOTOR_DRILL, VIEW_MOTOR_DRIVER, VIEW_MOTOR_GRINDER } view_motor;

typedef struct view_hum {
    view_motor motor;
    float rpm;   /* of the tool's spindle, as it is set */
    float load;  /* 0..1: the motor drops and growls under it */
    float chips; /* 0..1: wood or metal being cut, chips on their way out */
    float creak; /* 0..1: cable pulled by hand */
} view_hum;

/* ---- the synth ------------------------------------------------------------------------------------------------------ */

enum {
    VIEW_SOUND_RATE = 48000, /* samples a second, one channel */
    VIEW_SOUND_STRINGS = 6,
    VIEW_SOUND_PARTIALS = 32,
    VIEW_SOUND_STRIKES = 16,
    VIEW_SOUND_MODES = 3
};
/* No sample is ever larger: -6 dB under full scale, all voices together. */
#define VIEW_SOUND_MOST 0.5F

typedef struct view__string {
    int partials; /* that are still heard, 0 = free */
    int row;
    bool is_damped;
    float attack;
    float sine[VIEW_SOUND_PARTIALS], cosine[VIEW_SOUND_PARTIALS];       /* now, amplitude included */
    float turn_sin[VIEW_SOUND_PARTIALS], turn_cos[VIEW_SOUND_PARTIALS]; /* to the next sample, decay included */
} view__string;

typedef struct view__strike {
    bool is_on;
    int wait; /* samples until it begins */
    float attack, attack_step;
    float phase[VIEW_SOUND_MODES], step[VIEW_SOUND_MODES]; /* radians, and radians a sample */
    float level[VIEW_SOUND_MODES], decay[VIEW_SOUND_MODES];
    float glide; /* of every step, a sample */
    float noise, noise_decay, noise_pass, noise_was;
} view__strike;

/* A plain value; zero it by view_synth_start. Its fields belong to sound_synth.c. */
typedef struct view_synth {
    view__string string[VIEW_SOUND_STRINGS];
    view__strike strike[VIEW_SOUND_STRIKES];
    view_hum aim; /* what the hum goes to ... */
    int aim_left; /* ... unless it is not said again within so many samples */
    view_hum now; /* smoothed */
    float motor_level, motor_hz, motor_phase, chips_was, creak_phase, creak_1, creak_2;
    float gain, gain_aim;
    uint32_t noise;
    bool is_hushed;
} view_synth;

/* volume 0..1; 0 fades to silence. */
void view_synth_start(view_synth *synth, float volume);
void view_synth_volume(view_synth *synth, float volume);
/* A cue that finds no voice free is not heard: better than cutting another one off. */
void view_synth_cue(view_synth *synth, const view_cue *cue);
/* What hums from now on; it must be said anew at least twice a second, or it stops: a window that hangs must not drone.
 */
void view_synth_hum(view_synth *synth, const view_hum *hum);
/* Fades all of it within a few hundredths of a second. */
void view_synth_hush(view_synth *synth);
/* Nothing sounds, nor will without a new cue or hum. */
bool view_synth_is_silent(const view_synth *synth);
/* The next count samples. */
void view_synth_render(view_synth *synth, float *out, size_t count);

/* ---- the ear -------------------------------------------------------------------------------------------------------- */

enum { VIEW_EAR_CUES = 24 };

/* A row that was plucked, and when. hz 0 = none. */
typedef struct view_rung {
    int row;
    float hz;
    double at_s;
} view_rung;

/* What the desk keeps of a job's sounds; all zero to start. */
typedef struct view_ear {
    view_hum hum;
    view_cue cue[VIEW_EAR_CUES]; /* since they were last taken out */
    int cue_count;
    view_cue said; /* what the caption is about, until said_until_s */
    double said_until_s;
    view_rung rung[2]; /* the last row plucked and the one before it */
    double turned;     /* by the body in whole actions */
    int tick, tooth, clearings;
    bool is_drawing, is_flush, is_grating; /* pencil on the wood, flange on the wood, wrong thread: as last heard */
    int stage, row;                        /* that the counts above belong to */
    bool is_begun;
} view_ear;

/* Once a frame after view_job_frame and after what it said was carried out. */
void view_job_sounds(view_ear *ear, const view_job *job, const view_job_model *model, double time_s);
/* Once for each action, right after view_job_heard. */
void view_job_sounded(view_ear *ear, const view_job *job, const view_job_model *model, const job_action *action,
                      const job_outcome *outcome, double time_s);

/* Two rows that ring together beat: how often a second, and the rows, lower one first. False: they do not, or not so that an ear
 * could count it. */
typedef struct view_beat {
    int row[2];
    double hz, since_s;
} view_beat;
bool view_ear_beat(const view_ear *ear, double time_s, view_beat *beat);

/* The words for what sounds now; "" where nothing does. */
void view_ear_caption(const view_ear *ear, const view_ui *ui, tr_system system, char *out, size_t cap);
/* Draws the caption (with_captions) and the beat at the foot of the run; call it between view_begin and view_end, after the job. */
void view_ear_show(const view_ear *ear, view_ui *ui, const view_job *job, tr_system system, bool with_captions);

/* ---- the device ----------------------------------------------------------------------------------------------------- */

typedef struct view_sound view_sound; /* opaque */

/* NULL where there is no memory; everything below takes NULL for silence. The device is opened with the first sound. */
view_sound *view_sound_open(void);
void view_sound_close(view_sound *sound);

/* Plays what the ear has gathered and empties it. volume 0 = off: no device is touched. Returns the seconds after which it wants
 * to be called again even when nothing happens, below 0 = need not be. */
float view_sound_frame(view_sound *sound, view_ear *ear, float volume, double time_s);
/* Another screen is up: nothing goes on sounding. */
void view_sound_hush(view_sound *sound);
/* There was something to play and no device to play it on. */
bool view_sound_is_missing(const view_sound *sound);

#endif
