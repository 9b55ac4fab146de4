/* Fingers on the window: a pointer that is there while it presses, and gone when it is lifted. */
#define SDL_MAIN_HANDLED
#include "host_window.h"

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
    (void)state;
    view_host *host = host_opened("dummy", 2); /* shares of the window, whatever the scale */
    assert_non_null(host);
    view_input in;
    view_host_input(host, true, 0, &in);
    assert_false(in.has_mouse);
    send(SDL_FINGERDOWN, 5, 0.25F, 0.5F);
    view_host_input(host, true, 0, &in);
    assert_int_equal(in.device, VIEW_BY_FINGER);
    assert_true(in.has_mouse && in.down[VIEW_MOUSE_LEFT] && in.pressed[VIEW_MOUSE_LEFT]);
    assert_near((double)in.mouse_x, 320.0, 0.01);
    assert_near((double)in.mouse_y, 400.0, 0.01);
    send(SDL_FINGERMOTION, 5, 0.5F, 0.5F);
    view_host_input(host, true, 0, &in);
    assert_true(in.down[VIEW_MOUSE_LEFT] && !in.pressed[VIEW_MOUSE_LEFT]);
    assert_near((double)in.mouse_x, 640.0, 0.01);
    send(SDL_FINGERUP, 5, 0.5F, 0.25F);
    view_host_input(host, true, 0, &in);
    assert_true(in.has_mouse && in.released[VIEW_MOUSE_LEFT] && !in.down[VIEW_MOUSE_LEFT]);
    assert_near((double)in.mouse_y, 200.0, 0.01);
    view_host_input(host, true, 0, &in); /* nothing is pointed at any more */
    assert_false(in.has_mouse || in.released[VIEW_MOUSE_LEFT]);
    view_host_close(host);
}

static void a_tap_within_one_frame_is_not_lost(void **state)
{
    (void)state;
    view_host *host = host_opened("dummy", 1);
    assert_non_null(host);
    view_input in;
    view_host_input(host, true, 0, &in);
    send(SDL_FINGERDOWN, 1, 0.1F, 0.1F);
    send(SDL_FINGERUP, 1, 0.1F, 0.1F);
    view_host_input(host, true, 0, &in);
    assert_true(in.has_mouse && in.pressed[VIEW_MOUSE_LEFT] && in.released[VIEW_MOUSE_LEFT]);
    assert_false(in.down[VIEW_MOUSE_LEFT]);
    view_host_close(host);
}

static void a_second_finger_does_not_disturb_the_first(void **state)
{
    (void)state;
    view_host *host = host_opened("dummy", 1);
    assert_non_null(host);
    view_input in;
    view_host_input(host, true, 0, &in);
    send(SDL_FINGERDOWN, 1, 0.1F, 0.1F);
    send(SDL_FINGERDOWN, 2, 0.9F, 0.9F);
    send(SDL_FINGERMOTION, 2, 0.8F, 0.9F);
    send(SDL_FINGERUP, 2, 0.8F, 0.9F);
    view_host_input(host, true, 0, &in);
    assert_true(in.down[VIEW_MOUSE_LEFT]);
    assert_near((double)in.mouse_x, 128.0, 0.01);
    SDL_Event lost = {.type = SDL_WINDOWEVENT};
    lost.window.event = SDL_WINDOWEVENT_FOCUS_LOST;
    SDL_PushEvent(&lost);
    view_host_input(host, true, 0, &in);
    assert_false(in.down[VIEW_MOUSE_LEFT]);
    send(SDL_FINGERDOWN, 3, 0.5F, 0.5F); /* the next one works again */
    view_host_input(host, true, 0, &in);
    assert_true(in.down[VIEW_MOUSE_LEFT]);
    view_host_close(host);
}

static void the_mouse_takes_over_when_it_moves(void **state)
{
    (void)state;
    view_host *host = host_opened("dummy", 1);
    assert_non_null(host);
    view_input in;
    view_host_input(host, true, 0, &in);
    send(SDL_FINGERDOWN, 1, 0.1F, 0.1F);
    send(SDL_FINGERUP, 1, 0.1F, 0.1F);
    view_host_input(host, true, 0, &in);
    SDL_Event motion = {.type = SDL_MOUSEMOTION};
    motion.motion.x = 50;
    motion.motion.y = 60;
    SDL_PushEvent(&motion);
    view_host_input(host, true, 0, &in);
    assert_int_equal(in.device, VIEW_BY_DESK);
    assert_true(in.has_mouse);
    assert_near((double)in.mouse_x, 50.0, 0.01);
    assert_string_equal(SDL_GetHint(SDL_HINT_TOUCH_MOUSE_EVENTS), "0"); /* or each tap would be told twice */
    view_host_close(host);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_finger_is_a_pointer_while_it_presses),
        cmocka_unit_test(a_tap_within_one_frame_is_not_lost),
        cmocka_unit_test(a_second_finger_does_not_disturb_the_first),
        cmocka_unit_test(the_mouse_takes_over_when_it_moves),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
