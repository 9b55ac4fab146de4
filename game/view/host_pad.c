/* Game controllers. They come and go while the window is open; one that goes lets go of all that it held.
 *
 * Sticks have a round dead zone, since no stick rests quite in its middle; from its edge to the rim the way grows with its
 * square, so that a tool can be led finely. A stick pushed well over is a cross as well, with some way between on and off,
 * so that a trembling thumb gives one press. */
#include "host_pad.h"

#include <math.h>
#include <string.h>

/* Assumptions, in shares of the whole way. */
static const float STICK_DEAD = 0.22F;
static const float STICK_ON = 0.60F;
static const float STICK_OFF = 0.45F;
static const float TRIGGER_ON = 0.25F;
static const float TRIGGER_OFF = 0.15F;
/* As keyboards do it. */
static const double REPEAT_AFTER_S = 0.40;
static const double REPEAT_EVERY_S = 0.10;

/* ---- life ------------------------------------------------------------------------------------------------------- */

void view__pads_open(view__pads *pads)
{
    /* those that are there are told as new ones */
    *pads = (view__pads){.is_on = SDL_InitSubSystem(SDL_INIT_GAMECONTROLLER) == 0};
}

void view__pads_close(view__pads *pads)
{
    for (int i = 0; i < VIEW__PADS; i++) {
        if (pads->open[i] != NULL) {
            SDL_GameControllerClose(pads->open[i]);
        }
    }
    if (pads->is_on) {
        SDL_QuitSubSystem(SDL_INIT_GAMECONTROLLER);
    }
    *pads = (view__pads){0};
}

static void add(view__pads *pads, int device_index)
{
    for (int i = 0; i < VIEW__PADS; i++) {
        if (pads->open[i] == NULL) {
            pads->open[i] = SDL_GameControllerOpen(device_index);
            return;
        }
    }
}

static void take_away(view__pads *pads, SDL_JoystickID id, view_input *in)
{
    for (int i = 0; i < VIEW__PADS; i++) {
        SDL_GameController *pad = pads->open[i];
        if (pad != NULL && SDL_JoystickInstanceID(SDL_GameControllerGetJoystick(pad)) == id) {
            SDL_GameControllerClose(pad);
            pads->open[i] = NULL;
            view__pads_let_go(pads, in);
        }
    }
}

/* ---- keys ------------------------------------------------------------------------------------------------------- */

static bool does_repeat(int key)
{
    return key >= VIEW_PAD_LEFT && key <= VIEW_STICK2_DOWN;
}

static void press(view__pads *pads, view_input *in, int key, bool is_down, double now_s)
{
    if (key == VIEW_KEY_NONE || pads->down[key] == is_down) {
        return;
    }
    pads->down[key] = in->held[key] = is_down;
    if (is_down) {
        view_input_key(in, key, 0, false);
        in->device = VIEW_BY_PAD;
    }
    if (is_down && does_repeat(key)) {
        pads->repeats = key;
        pads->repeat_at_s = now_s + REPEAT_AFTER_S;
    } else if (pads->repeats == key) {
        pads->repeats = VIEW_KEY_NONE;
    }
}

static int key_of(int button)
{
    static const int keys[SDL_CONTROLLER_BUTTON_MAX] = {
        [SDL_CONTROLLER_BUTTON_A] = VIEW_KEY_ENTER,
        [SDL_CONTROLLER_BUTTON_B] = VIEW_KEY_ESCAPE,
        [SDL_CONTROLLER_BUTTON_X] = VIEW_PAD_X,
        [SDL_CONTROLLER_BUTTON_Y] = VIEW_PAD_Y,
        [SDL_CONTROLLER_BUTTON_BACK] = VIEW_KEY_ESCAPE,
        [SDL_CONTROLLER_BUTTON_START] = VIEW_PAD_START,
        [SDL_CONTROLLER_BUTTON_LEFTSHOULDER] = VIEW_PAD_LB,
        [SDL_CONTROLLER_BUTTON_RIGHTSHOULDER] = VIEW_PAD_RB,
        [SDL_CONTROLLER_BUTTON_DPAD_LEFT] = VIEW_PAD_LEFT,
        [SDL_CONTROLLER_BUTTON_DPAD_RIGHT] = VIEW_PAD_RIGHT,
        [SDL_CONTROLLER_BUTTON_DPAD_UP] = VIEW_PAD_UP,
        [SDL_CONTROLLER_BUTTON_DPAD_DOWN] = VIEW_PAD_DOWN,
    };
    return button >= 0 && button < SDL_CONTROLLER_BUTTON_MAX ? keys[button] : VIEW_KEY_NONE;
}

void view__pads_let_go(view__pads *pads, view_input *in)
{
    for (int key = 0; key < VIEW_KEYS; key++) {
        if (pads->down[key]) {
            pads->down[key] = in->held[key] = false;
        }
    }
    memset(pads->axis, 0, sizeof pads->axis);
    pads->repeats = VIEW_KEY_NONE;
    in->stick_x = in->stick_y = in->squeeze = 0.0F;
}

/* ---- sticks and triggers ---------------------------------------------------------------------------------------- */

static void lead(view_input *in, float x, float y)
{
    const float way = fminf(hypotf(x, y), 1.0F);
    const float share = (way - STICK_DEAD) / (1.0F - STICK_DEAD);
    const float size = way > STICK_DEAD ? share * share / fmaxf(hypotf(x, y), 1e-6F) : 0.0F;
    in->stick_x = x * size;
    in->stick_y = y * size;
}

/* The one of four directions that a stick is pushed to; keys stand as left, right, up, down. */
static void cross(view__pads *pads, view_input *in, float x, float y, int first_key, double now_s)
{
    const bool is_upright = fabsf(y) > fabsf(x);
    const float most = fmaxf(fabsf(x), fabsf(y));
    const int key = first_key + (is_upright ? (y < 0.0F ? 2 : 3) : (x < 0.0F ? 0 : 1));
    for (int k = first_key; k < first_key + 4; k++) {
        const bool is_on = k == key && most > (pads->down[k] ? STICK_OFF : STICK_ON);
        press(pads, in, k, is_on, now_s);
    }
}

static void trigger(view__pads *pads, view_input *in, int key, float way, double now_s)
{
    press(pads, in, key, way > (pads->down[key] ? TRIGGER_OFF : TRIGGER_ON), now_s);
}

static void on_axis(view__pads *pads, const SDL_ControllerAxisEvent *event, view_input *in, double now_s)
{
    if (event->axis >= SDL_CONTROLLER_AXIS_MAX) {
        return;
    }
    pads->axis[event->axis] = fmaxf((float)event->value / 32767.0F, -1.0F);
    const float *axis = pads->axis;
    switch ((SDL_GameControllerAxis)event->axis) {
    case SDL_CONTROLLER_AXIS_LEFTX:
    case SDL_CONTROLLER_AXIS_LEFTY:
        lead(in, axis[SDL_CONTROLLER_AXIS_LEFTX], axis[SDL_CONTROLLER_AXIS_LEFTY]);
        cross(pads, in, axis[SDL_CONTROLLER_AXIS_LEFTX], axis[SDL_CONTROLLER_AXIS_LEFTY], VIEW_STICK_LEFT, now_s);
        if (in->stick_x != 0.0F || in->stick_y != 0.0F) {
            in->device = VIEW_BY_PAD;
        }
        break;
    case SDL_CONTROLLER_AXIS_RIGHTX:
    case SDL_CONTROLLER_AXIS_RIGHTY:
        cross(pads, in, axis[SDL_CONTROLLER_AXIS_RIGHTX], axis[SDL_CONTROLLER_AXIS_RIGHTY], VIEW_STICK2_LEFT, now_s);
        break;
    case SDL_CONTROLLER_AXIS_TRIGGERLEFT:
        trigger(pads, in, VIEW_PAD_LT, axis[event->axis], now_s);
        break;
    case SDL_CONTROLLER_AXIS_TRIGGERRIGHT:
        trigger(pads, in, VIEW_PAD_RT, axis[event->axis], now_s);
        in->squeeze = axis[event->axis];
        break;
    case SDL_CONTROLLER_AXIS_INVALID:
    case SDL_CONTROLLER_AXIS_MAX:
    default:
        break;
    }
}

/* ---- frames ----------------------------------------------------------------------------------------------------- */

void view__pads_event(view__pads *pads, const SDL_Event *event, view_input *in, double now_s)
{
    switch (event->type) {
    case SDL_CONTROLLERDEVICEADDED:
        add(pads, event->cdevice.which);
        break;
    case SDL_CONTROLLERDEVICEREMOVED:
        take_away(pads, event->cdevice.which, in);
        break;
    case SDL_CONTROLLERBUTTONDOWN:
    case SDL_CONTROLLERBUTTONUP:
        press(pads, in, key_of(event->cbutton.button), event->type == SDL_CONTROLLERBUTTONDOWN, now_s);
        break;
    case SDL_CONTROLLERAXISMOTION:
        on_axis(pads, &event->caxis, in, now_s);
        break;
    default:
        break;
    }
}

void view__pads_frame(view__pads *pads, view_input *in, double now_s)
{
    if (pads->repeats != VIEW_KEY_NONE && now_s >= pads->repeat_at_s) {
        view_input_key(in, pads->repeats, 0, true);
        pads->repeat_at_s = now_s + REPEAT_EVERY_S;
    }
}

bool view__pads_are_busy(const view__pads *pads, const view_input *in)
{
    return pads->repeats != VIEW_KEY_NONE || in->stick_x != 0.0F || in->stick_y != 0.0F || pads->down[VIEW_PAD_RT];
}

void view__pads_rumble(const view__pads *pads, float low, float high, double seconds)
{
    for (int i = 0; i < VIEW__PADS; i++) {
        if (pads->open[i] != NULL) {
            const Uint16 slow = (Uint16)lroundf(65535.0F * fminf(fmaxf(low, 0.0F), 1.0F));
            const Uint16 fast = (Uint16)lroundf(65535.0F * fminf(fmaxf(high, 0.0F), 1.0F));
            (void)SDL_GameControllerRumble(pads->open[i], slow, fast, (Uint32)lround(seconds * 1000.0));
        }
    }
}
