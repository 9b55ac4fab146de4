/* Fingers on the window: a pointer that is there while it presses, and gone when it is lifted. */
#define SDL_MAIN_HANDLED
#include "host_window.h"

typedef struct touched {
    view_host *host;
    view_input in;
} touched;

/* At scale 2: fingers are told in shares of the window, whatever the scale. */
static int open_window(void **state)
{
    static touched t;
    t.host = host_opened("dummy", 2);
    if (t.host == NULL) {
        return -1;
    }
    view_host_input(t.host, true, 0, &t.in);
    *state = &t;
    return t.in.has_mouse ? -1 : 0;
}

static int close_window(void **state)
{
    const touched *t = *state;
    view_host_close(t->host);
    return 0;
}

static void frame(touched *t)
{
    view_host_input(t->host, true, 0, &t->in);
}

static void send(Uint32 type, SDL_FingerID finger, float x, float y)
{
    SDL_Event event = {.type = type};
    event.tfinger.touchId = 1;
    event.tfinger.fingerId = finger;
    event.tfinger.x = x;
    event.tfinger.y = y;
    SDL_PushEvent(&event);
}

static void a_finger_is_a_pointer_while_it_presses(void **state)
{
    touched *t = *state;
    send(SDL_FINGERDOWN, 5, 0.25F, 0.5F);
    frame(t);
    assert_int_equal(t->in.device, VIEW_BY_FINGER);
    assert_true(t->in.has_mouse && t->in.down[VIEW_MOUSE_LEFT] && t->in.pressed[VIEW_MOUSE_LEFT]);
    assert_near((double)t->in.mouse_x, 320.0, 0.01);
    assert_near((double)t->in.mouse_y, 400.0, 0.01);
    send(SDL_FINGERMOTION, 5, 0.5F, 0.5F);
    frame(t);
    assert_true(t->in.down[VIEW_MOUSE_LEFT] && !t->in.pressed[VIEW_MOUSE_LEFT]);
    assert_near((double)t->in.mouse_x, 640.0, 0.01);
    send(SDL_FINGERUP, 5, 0.5F, 0.25F);
    frame(t);
    assert_true(t->in.has_mouse && t->in.released[VIEW_MOUSE_LEFT] && !t->in.down[VIEW_MOUSE_LEFT]);
    assert_near((double)t->in.mouse_y, 200.0, 0.01);
    frame(t); /* nothing is pointed at any more */
    assert_false(t->in.has_mouse || t->in.released[VIEW_MOUSE_LEFT]);
}

static void a_tap_within_one_frame_is_not_lost(void **state)
{
    touched *t = *state;
    send(SDL_FINGERDOWN, 1, 0.1F, 0.1F);
    send(SDL_FINGERUP, 1, 0.1F, 0.1F);
    frame(t);
    assert_true(t->in.has_mouse && t->in.pressed[VIEW_MOUSE_LEFT] && t->in.released[VIEW_MOUSE_LEFT]);
    assert_false(t->in.down[VIEW_MOUSE_LEFT]);
}

static void a_second_finger_does_not_disturb_the_first(void **state)
{
    touched *t = *state;
    send(SDL_FINGERDOWN, 1, 0.1F, 0.1F);
    send(SDL_FINGERDOWN, 2, 0.9F, 0.9F);
    send(SDL_FINGERMOTION, 2, 0.8F, 0.9F);
    send(SDL_FINGERUP, 2, 0.8F, 0.9F);
    frame(t);
    assert_true(t->in.down[VIEW_MOUSE_LEFT]);
    assert_near((double)t->in.mouse_x, 128.0, 0.01);
    SDL_Event lost = {.type = SDL_WINDOWEVENT};
    lost.window.event = SDL_WINDOWEVENT_FOCUS_LOST;
    SDL_PushEvent(&lost);
    frame(t);
    assert_false(t->in.down[VIEW_MOUSE_LEFT]);
    send(SDL_FINGERDOWN, 3, 0.5F, 0.5F); /* the next one works again */
    frame(t);
    assert_true(t->in.down[VIEW_MOUSE_LEFT]);
}

static void the_mouse_takes_over_when_it_moves(void **state)
{
    touched *t = *state;
    send(SDL_FINGERDOWN, 1, 0.1F, 0.1F);
    send(SDL_FINGERUP, 1, 0.1F, 0.1F);
    frame(t);
    SDL_Event motion = {.type = SDL_MOUSEMOTION};
    motion.motion.x = 100; /* pixels */
    motion.motion.y = 120;
    SDL_PushEvent(&motion);
    frame(t);
    assert_int_equal(t->in.device, VIEW_BY_DESK);
    assert_true(t->in.has_mouse);
    assert_near((double)t->in.mouse_x, 50.0, 0.01);
    assert_string_equal(SDL_GetHint(SDL_HINT_TOUCH_MOUSE_EVENTS), "0"); /* or each tap would be told twice */
}

#define on_window(test) cmocka_unit_test_setup_teardown(test, open_window, close_window)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_window(a_finger_is_a_pointer_while_it_presses),
        on_window(a_tap_within_one_frame_is_not_lost),
        on_window(a_second_finger_does_not_disturb_the_first),
        on_window(the_mouse_takes_over_when_it_moves),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
