/* What a hand on the tools feels, for a controller that can shake: the same ear that hears, felt. */
#include "tautrow/view/sound.h"

#include <math.h>

/* Shares of what the controller can do; assumptions, light enough for a whole job. */
static const float MOTOR = 0.12F;
static const float LOAD = 0.5F;
static const float CHIPS = 0.3F;
static const float PULL = 0.4F;
/* Below this effort a thread is not felt. */
static const float LIGHT_THREAD = 0.35F;

static view_feel felt_of_cue(const view_cue *cue)
{
    switch (cue->kind) {
    case VIEW_CUE_THREAD:
        return (view_feel){cue->effort > LIGHT_THREAD ? cue->effort : 0.0F, 0.0F};
    case VIEW_CUE_RELEASE:
    case VIEW_CUE_SNAP:
    case VIEW_CUE_CLAMP:
        return (view_feel){0.4F, 0.6F};
    case VIEW_CUE_CRACK:
    case VIEW_CUE_SLIP:
        return (view_feel){1.0F, 0.6F};
    default:
        return (view_feel){0.0F, 0.0F};
    }
}

/* In tenths: a controller is told anew only when it matters. */
static float tenths(float value)
{
    return roundf(fminf(fmaxf(value, 0.0F), 1.0F) * 10.0F) / 10.0F;
}

view_feel view_ear_feel(const view_ear *ear)
{
    const view_hum *hum = &ear->hum;
    view_feel feel = {PULL * hum->creak, 0.0F};
    if (hum->motor != VIEW_NO_MOTOR) {
        feel.low = fmaxf(feel.low, LOAD * hum->load);
        feel.high = MOTOR + CHIPS * hum->chips;
    }
    for (int i = 0; i < ear->cue_count; i++) {
        const view_feel kick = felt_of_cue(&ear->cue[i]);
        feel.low = fmaxf(feel.low, kick.low);
        feel.high = fmaxf(feel.high, kick.high);
    }
    return (view_feel){tenths(feel.low), tenths(feel.high)};
}
