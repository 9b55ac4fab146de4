/* Fingers. SDL could make mouse events of them, but then the pointer would stay where the finger was lifted and what lies
 * under it would look pointed at; so the finger is followed here: it is a pointer that is there while it presses. */
#include "host_touch.h"

static void move_to(const SDL_TouchFingerEvent *event, view_input *in)
{
    in->mouse_x = event->x * in->width; /* shares of the window */
    in->mouse_y = event->y * in->height;
}

static void put_down(view__finger *finger, const SDL_TouchFingerEvent *event, view_input *in)
{
    if (finger->is_down) {
        return;
    }
    *finger = (view__finger){.id = event->fingerId, .is_down = true};
    move_to(event, in);
    in->device = VIEW_BY_FINGER;
    in->has_mouse = in->down[VIEW_MOUSE_LEFT] = in->pressed[VIEW_MOUSE_LEFT] = true;
}

static void lift(view__finger *finger, const SDL_TouchFingerEvent *event, view_input *in)
{
    move_to(event, in);
    finger->is_down = false;
    finger->is_lifted = true;
    in->down[VIEW_MOUSE_LEFT] = false;
    in->released[VIEW_MOUSE_LEFT] = true;
}

void view__finger_event(view__finger *finger, const SDL_Event *event, view_input *in)
{
    const bool is_it = finger->is_down && event->tfinger.fingerId == finger->id;
    if (event->type == SDL_FINGERDOWN) {
        put_down(finger, &event->tfinger, in);
    } else if (event->type == SDL_FINGERMOTION && is_it) {
        move_to(&event->tfinger, in);
    } else if (event->type == SDL_FINGERUP && is_it) {
        lift(finger, &event->tfinger, in);
    }
}

void view__finger_frame(view__finger *finger, view_input *in)
{
    if (finger->is_lifted) {
        finger->is_lifted = false;
        in->has_mouse = false;
    }
}
