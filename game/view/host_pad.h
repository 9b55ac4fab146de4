/* Game controllers for the window (host.c): what SDL says of them becomes keys, a stick and a trigger of the view_input. */
#ifndef GAME_VIEW_HOST_PAD_H
#define GAME_VIEW_HOST_PAD_H

#include <SDL.h>

#include "tautrow/view/ui.h"

enum { VIEW__PADS = 4 };

typedef struct view__pads {
    SDL_GameController *open[VIEW__PADS]; /* all of them work the same hand */
    float axis[SDL_CONTROLLER_AXIS_MAX];
    bool down[VIEW_KEYS]; /* by a controller */
    int repeats;          /* key that repeats while it is held, 0 = none */
    double repeat_at_s;
    bool is_on; /* SDL looks after controllers */
} view__pads;

/* Without controllers on this system all of it does nothing. */
void view__pads_open(view__pads *pads);
void view__pads_close(view__pads *pads);
/* Takes an event of SDL's if it is of a controller; now_s: for repeats, the clock of view__pads_frame. */
void view__pads_event(view__pads *pads, const SDL_Event *event, view_input *in, double now_s);
/* Once a frame, after the events: the repeats of a cross that is held. */
void view__pads_frame(view__pads *pads, view_input *in, double now_s);
/* Something is held off its rest: frames are wanted although nothing happens. */
bool view__pads_are_busy(const view__pads *pads, const view_input *in);
/* Any controller is plugged in. */
bool view__pads_are_there(const view__pads *pads);
/* All that controllers hold is let go: the window lost the focus, or one of them was unplugged. */
void view__pads_let_go(view__pads *pads, view_input *in);
/* Shakes whatever can be shaken; both 0 to 1. */
void view__pads_rumble(const view__pads *pads, float low, float high, double seconds);

#endif
