/* A game controller that exists only in SDL: what its buttons, sticks and triggers become, and that nothing stays held when
 * it is pulled out. */
#define SDL_MAIN_HANDLED
#include "host_window.h"

typedef struct bench {
    view_host *host;
    view_input in;
    SDL_Joystick *stick;
    int index;
} bench;

static void frame(bench *b)
{
    view_host_input(b->host, true, 0, &b->in);
}

/* Frames until something is there or a second is over: a controller may take a few to be told. */
static int open_bench(void **state)
{
    bench *b = calloc(1, sizeof *b);
    SDL_SetHint(SDL_HINT_JOYSTICK_ALLOW_BACKGROUND_EVENTS, "1"); /* this display gives no window the focus */
    b->host = host_opened("dummy", 1);
    assert_non_null(b->host);
    frame(b);
    b->index = SDL_JoystickAttachVirtual(SDL_JOYSTICK_TYPE_GAMECONTROLLER, SDL_CONTROLLER_AXIS_MAX,
                                         SDL_CONTROLLER_BUTTON_MAX, 0);
    assert_true(b->index >= 0);
    frame(b);
    frame(b);
    b->stick = SDL_JoystickFromInstanceID(SDL_JoystickGetDeviceInstanceID(b->index)); /* opened by the host */
    assert_non_null(b->stick);
    for (int axis = SDL_CONTROLLER_AXIS_TRIGGERLEFT; axis <= SDL_CONTROLLER_AXIS_TRIGGERRIGHT; axis++) {
        SDL_JoystickSetVirtualAxis(b->stick, axis, SDL_JOYSTICK_AXIS_MIN); /* a trigger at rest */
    }
    frame(b);
    *state = b;
    return 0;
}

static int close_bench(void **state)
{
    bench *b = *state;
    if (b->index >= 0) {
        SDL_JoystickDetachVirtual(b->index);
    }
    view_host_close(b->host);
    free(b);
    return 0;
}

static void button(bench *b, SDL_GameControllerButton which, bool is_down)
{
    SDL_JoystickSetVirtualButton(b->stick, which, is_down ? 1 : 0);
    frame(b);
}

static void axis(bench *b, SDL_GameControllerAxis which, float way)
{
    SDL_JoystickSetVirtualAxis(b->stick, which, (Sint16)(way * 32767.0F));
    frame(b);
}

static void buttons_are_keys(void **state)
{
    bench *b = *state;
    static const struct {
        SDL_GameControllerButton button;
        int key;
    } map[] = {{SDL_CONTROLLER_BUTTON_A, VIEW_KEY_ENTER},
               {SDL_CONTROLLER_BUTTON_B, VIEW_KEY_ESCAPE},
               {SDL_CONTROLLER_BUTTON_X, VIEW_PAD_X},
               {SDL_CONTROLLER_BUTTON_Y, VIEW_PAD_Y},
               {SDL_CONTROLLER_BUTTON_BACK, VIEW_KEY_ESCAPE},
               {SDL_CONTROLLER_BUTTON_START, VIEW_PAD_START},
               {SDL_CONTROLLER_BUTTON_LEFTSHOULDER, VIEW_PAD_LB},
               {SDL_CONTROLLER_BUTTON_RIGHTSHOULDER, VIEW_PAD_RB},
               {SDL_CONTROLLER_BUTTON_DPAD_LEFT, VIEW_PAD_LEFT},
               {SDL_CONTROLLER_BUTTON_DPAD_RIGHT, VIEW_PAD_RIGHT},
               {SDL_CONTROLLER_BUTTON_DPAD_UP, VIEW_PAD_UP},
               {SDL_CONTROLLER_BUTTON_DPAD_DOWN, VIEW_PAD_DOWN}};
    assert_int_equal(b->in.device, VIEW_BY_DESK);
    for (size_t i = 0; i < sizeof map / sizeof map[0]; i++) {
        button(b, map[i].button, true);
        assert_int_equal(b->in.keys, 1);
        assert_int_equal(b->in.key[0].key, map[i].key);
        assert_false(b->in.key[0].is_repeat);
        assert_true(b->in.held[map[i].key]);
        assert_int_equal(b->in.device, VIEW_BY_PAD);
        button(b, map[i].button, false);
        assert_int_equal(b->in.keys, 0);
        assert_false(b->in.held[map[i].key]);
    }
}

/* Limits of host_pad.c: 0.22 dead, then the square of the rest. */
static void the_left_stick_leads_gently_and_rests_in_its_dead_zone(void **state)
{
    bench *b = *state;
    axis(b, SDL_CONTROLLER_AXIS_LEFTX, 0.2F);
    assert_near((double)b->in.stick_x, 0.0, 1e-9);
    assert_int_equal(b->in.device, VIEW_BY_DESK); /* a stick that rests a little aside is nobody's hand */
    axis(b, SDL_CONTROLLER_AXIS_LEFTX, 0.61F);
    assert_near((double)b->in.stick_x, 0.25, 0.002);
    assert_int_equal(b->in.device, VIEW_BY_PAD);
    axis(b, SDL_CONTROLLER_AXIS_LEFTX, 1.0F);
    assert_near((double)b->in.stick_x, 1.0, 1e-3);
    axis(b, SDL_CONTROLLER_AXIS_LEFTX, 0.0F);
    axis(b, SDL_CONTROLLER_AXIS_LEFTY, -1.0F);
    assert_near((double)b->in.stick_x, 0.0, 1e-3);
    assert_near((double)b->in.stick_y, -1.0, 1e-3); /* up */
    assert_true(b->in.held[VIEW_STICK_UP]);
    axis(b, SDL_CONTROLLER_AXIS_LEFTY, 0.0F);
    assert_false(b->in.held[VIEW_STICK_UP]);
}

static void a_stick_pushed_over_is_one_press(void **state)
{
    bench *b = *state;
    axis(b, SDL_CONTROLLER_AXIS_RIGHTY, 0.7F);
    assert_int_equal(b->in.keys, 1);
    assert_int_equal(b->in.key[0].key, VIEW_STICK2_DOWN);
    axis(b, SDL_CONTROLLER_AXIS_RIGHTY, 0.5F); /* trembles, but has not come back */
    axis(b, SDL_CONTROLLER_AXIS_RIGHTY, 0.7F);
    assert_int_equal(b->in.keys, 0);
    axis(b, SDL_CONTROLLER_AXIS_RIGHTY, 0.1F);
    assert_false(b->in.held[VIEW_STICK2_DOWN]);
    axis(b, SDL_CONTROLLER_AXIS_RIGHTY, 0.7F);
    assert_int_equal(b->in.keys, 1);
}

static void the_right_trigger_is_pressed_and_measured(void **state)
{
    bench *b = *state;
    axis(b, SDL_CONTROLLER_AXIS_TRIGGERRIGHT, -0.8F); /* a tenth of its way */
    assert_int_equal(b->in.keys, 0);
    axis(b, SDL_CONTROLLER_AXIS_TRIGGERRIGHT, 0.0F);
    assert_int_equal(b->in.keys, 1);
    assert_int_equal(b->in.key[0].key, VIEW_PAD_RT);
    assert_true(b->in.held[VIEW_PAD_RT]);
    assert_near((double)b->in.squeeze, 0.5, 0.01);
    axis(b, SDL_CONTROLLER_AXIS_TRIGGERRIGHT, 1.0F);
    assert_near((double)b->in.squeeze, 1.0, 0.01);
    axis(b, SDL_CONTROLLER_AXIS_TRIGGERRIGHT, -1.0F);
    assert_false(b->in.held[VIEW_PAD_RT]);
    axis(b, SDL_CONTROLLER_AXIS_TRIGGERLEFT, 1.0F);
    assert_true(b->in.held[VIEW_PAD_LT]);
}

static void the_cross_repeats_while_it_is_held_and_nothing_else_does(void **state)
{
    bench *b = *state;
    button(b, SDL_CONTROLLER_BUTTON_X, true);
    button(b, SDL_CONTROLLER_BUTTON_DPAD_DOWN, true);
    int repeats = 0;
    for (const double from = b->in.time_s; b->in.time_s < from + 1.0;) {
        view_host_input(b->host, false, -1.0, &b->in); /* it does not fall asleep over a button that is held */
        for (size_t i = 0; i < b->in.keys; i++) {
            assert_int_equal(b->in.key[i].key, VIEW_PAD_DOWN);
            assert_true(b->in.key[i].is_repeat);
            repeats++;
        }
    }
    assert_in_range(repeats, 3, 7); /* 0.4 s, then ten a second; a machine that is busy gives fewer */
    button(b, SDL_CONTROLLER_BUTTON_DPAD_DOWN, false);
    button(b, SDL_CONTROLLER_BUTTON_X, false);
}

static void pulled_out_while_held_it_lets_go(void **state)
{
    bench *b = *state;
    button(b, SDL_CONTROLLER_BUTTON_A, true);
    axis(b, SDL_CONTROLLER_AXIS_LEFTX, 1.0F);
    axis(b, SDL_CONTROLLER_AXIS_TRIGGERRIGHT, 1.0F);
    assert_true(b->in.held[VIEW_KEY_ENTER] && b->in.held[VIEW_PAD_RT] && b->in.stick_x > 0.9F);
    SDL_JoystickDetachVirtual(b->index);
    b->index = -1;
    frame(b);
    frame(b);
    for (int key = 0; key < VIEW_KEYS; key++) {
        assert_false(b->in.held[key]);
    }
    assert_near((double)b->in.stick_x, 0.0, 1e-9);
    assert_near((double)b->in.squeeze, 0.0, 1e-9);
    view_host_rumble(b->host, 1.0F, 1.0F, 0.1); /* nobody there to shake */
}

static void plugged_in_again_it_works_again(void **state)
{
    bench *b = *state;
    SDL_JoystickDetachVirtual(b->index);
    frame(b);
    frame(b);
    b->index = SDL_JoystickAttachVirtual(SDL_JOYSTICK_TYPE_GAMECONTROLLER, SDL_CONTROLLER_AXIS_MAX,
                                         SDL_CONTROLLER_BUTTON_MAX, 0);
    frame(b);
    frame(b);
    b->stick = SDL_JoystickFromInstanceID(SDL_JoystickGetDeviceInstanceID(b->index));
    assert_non_null(b->stick);
    button(b, SDL_CONTROLLER_BUTTON_Y, true);
    assert_true(b->in.held[VIEW_PAD_Y]);
}

static void a_window_that_loses_the_focus_lets_go(void **state)
{
    bench *b = *state;
    axis(b, SDL_CONTROLLER_AXIS_TRIGGERRIGHT, 1.0F);
    SDL_Event lost = {.type = SDL_WINDOWEVENT};
    lost.window.event = SDL_WINDOWEVENT_FOCUS_LOST;
    SDL_PushEvent(&lost);
    frame(b);
    assert_false(b->in.held[VIEW_PAD_RT]);
    assert_near((double)b->in.squeeze, 0.0, 1e-9);
}

static void the_keyboard_takes_over_at_its_first_key(void **state)
{
    bench *b = *state;
    button(b, SDL_CONTROLLER_BUTTON_Y, true);
    assert_int_equal(b->in.device, VIEW_BY_PAD);
    SDL_Event key = {.type = SDL_KEYDOWN};
    key.key.keysym.sym = SDLK_d;
    SDL_PushEvent(&key);
    frame(b);
    assert_int_equal(b->in.device, VIEW_BY_DESK);
}

#define on_bench(test) cmocka_unit_test_setup_teardown(test, open_bench, close_bench)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_bench(buttons_are_keys),
        on_bench(the_left_stick_leads_gently_and_rests_in_its_dead_zone),
        on_bench(a_stick_pushed_over_is_one_press),
        on_bench(the_right_trigger_is_pressed_and_measured),
        on_bench(the_cross_repeats_while_it_is_held_and_nothing_else_does),
        on_bench(pulled_out_while_held_it_lets_go),
        on_bench(plugged_in_again_it_works_again),
        on_bench(a_window_that_loses_the_focus_lets_go),
        on_bench(the_keyboard_takes_over_at_its_first_key),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
