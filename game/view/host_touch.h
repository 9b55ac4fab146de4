/* A touch screen for the window (host.c). */
#ifndef GAME_VIEW_HOST_TOUCH_H
#define GAME_VIEW_HOST_TOUCH_H

#include <SDL.h>

#include "tautrow/view/ui.h"

/* The finger that works the screen; others are left alone until it is lifted. */
typedef struct view__finger {
    SDL_FingerID id;
    bool is_down, is_lifted; /* lifted in the frame before: the pointer is gone from now on */
} view__finger;

/* A touch event of SDL's becomes the pointer of in, in layout units. */
void view__finger_event(view__finger *finger, const SDL_Event *event, view_input *in);
/* Before the events of a frame. */
void view__finger_frame(view__finger *finger, view_input *in);

#endif
