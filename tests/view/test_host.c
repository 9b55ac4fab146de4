/* The window on a display that shows nothing: events in, pixels out, nothing left behind. */
#define SDL_MAIN_HANDLED
#include "host_window.h"

#include <string.h>

static void send_key(SDL_Keycode code, Uint32 type, Uint16 mod)
{
    SDL_Event event = {.type = type};
    event.key.keysym.sym = code;
    event.key.keysym.mod = mod;
    SDL_PushEvent(&event);
}

static void send_button(Uint32 type, int x, int y)
{
    SDL_Event event = {.type = type};
    event.button.button = SDL_BUTTON_LEFT;
    event.button.x = x;
    event.button.y = y;
    SDL_PushEvent(&event);
}

static void events_become_input(void **state)
{
    (void)state;
    view_host *host = host_opened("dummy", 1);
    assert_non_null(host);
    view_input in;
    view_host_input(host, true, 0, &in);
    assert_near((double)in.width, 1280.0, 0.5);
    assert_near((double)in.height, 800.0, 0.5);
    send_key(SDLK_d, SDL_KEYDOWN, KMOD_LSHIFT);
    send_key(SDLK_RETURN, SDL_KEYDOWN, 0);
    send_key(SDLK_F11, SDL_KEYDOWN, 0);
    send_button(SDL_MOUSEBUTTONDOWN, 100, 50);
    view_host_input(host, true, 0, &in);
    assert_int_equal(in.keys, 3);
    assert_int_equal(in.key[0].key, 'D');
    assert_int_equal(in.key[0].mods, VIEW_SHIFT);
    assert_int_equal(in.key[1].key, VIEW_KEY_ENTER);
    assert_int_equal(in.key[2].key, VIEW_KEY_F11);
    assert_true(in.held['D'] && in.down[0] && in.pressed[0]);
    assert_near((double)in.mouse_x, 100.0, 1e-4);
    send_key(SDLK_d, SDL_KEYUP, 0);
    view_host_input(host, true, 0, &in);
    assert_int_equal(in.keys, 0);
    assert_false(in.held['D'] || in.pressed[0]);
    assert_true(in.down[0] && in.held[VIEW_KEY_ENTER]);
    SDL_Event lost = {.type = SDL_WINDOWEVENT};
    lost.window.event = SDL_WINDOWEVENT_FOCUS_LOST; /* whatever is held is let go */
    SDL_PushEvent(&lost);
    view_host_input(host, true, 0, &in);
    assert_false(in.down[0] || in.held[VIEW_KEY_ENTER]);
    view_host_close(host);
}

/* The only window that there is. */
static SDL_Window *window_of_host(void)
{
    SDL_Window *window = NULL;
    for (Uint32 id = 1; id < 1000 && window == NULL; id++) {
        window = SDL_GetWindowFromID(id);
    }
    return window;
}

static void alt_and_enter_fill_the_screen_and_are_no_press(void **state)
{
    (void)state;
    view_host *host = host_opened("dummy", 1);
    SDL_Window *window = window_of_host();
    assert_true(host != NULL && window != NULL);
    view_input in;
    for (int i = 0; i < 4; i++) {
        send_key(SDLK_RETURN, SDL_KEYDOWN, KMOD_LALT);
        view_host_input(host, true, 0, &in);
        assert_int_equal((SDL_GetWindowFlags(window) & (Uint32)SDL_WINDOW_FULLSCREEN) != 0, i % 2 == 0);
        assert_int_equal(in.keys, 0);
        assert_false(in.held[VIEW_KEY_ENTER]);
        send_key(SDLK_RETURN, SDL_KEYUP, KMOD_LALT);
    }
    view_host_title(host, "Soft porch");
    assert_string_equal(SDL_GetWindowTitle(window), "Soft porch");
    view_host_close(host);
}

static void text_wheel_and_quit(void **state)
{
    (void)state;
    view_host *host = host_opened("dummy", 1);
    assert_non_null(host);
    view_input in;
    view_host_text(host, true);
    SDL_Event text = {.type = SDL_TEXTINPUT};
    memcpy(text.text.text, "\xC3\xB1", 3);
    SDL_PushEvent(&text);
    SDL_Event wheel = {.type = SDL_MOUSEWHEEL};
    wheel.wheel.preciseY = -1.5F;
    SDL_PushEvent(&wheel);
    SDL_PushEvent(&(SDL_Event){.type = SDL_QUIT});
    view_host_input(host, true, 0, &in);
    assert_string_equal(in.text, "\xC3\xB1");
    assert_near((double)in.wheel, -1.5, 1e-6);
    assert_true(in.wants_quit);
    view_host_input(host, false, 0.01, &in); /* sleeps no longer than it may, and forgets */
    assert_false(in.wants_quit);
    assert_string_equal(in.text, "");
    view_host_close(host);
}

static void layout_units_hold_at_scale_two(void **state)
{
    (void)state;
    view_host *host = host_opened("dummy", 2);
    assert_non_null(host);
    view_input in;
    assert_near((double)view_host_scale(host), 2.0, 1e-6);
    send_button(SDL_MOUSEBUTTONDOWN, 200, 100);
    view_host_input(host, true, 0, &in);
    assert_near((double)in.width, 1280.0, 0.5);
    assert_near((double)in.mouse_x, 100.0, 1e-4);
    assert_near((double)in.mouse_y, 50.0, 1e-4);
    view_host_close(host);
}

static void what_is_painted_is_what_is_shown(void **state)
{
    (void)state;
    char why[TR_TEXT_CAP] = "";
    view_host *host = host_opened("dummy", 1);
    assert_non_null(host);
    view_draw *draw = view_draw_open();
    view_fill_rect(draw, (view_rect){10, 10, 20, 20}, 0, 0xFF0000FF);
    assert_int_equal(view_host_png(host, TAUTROW_BINARY "/tests/host.png", why, sizeof why), TR_INVALID);
    assert_true(view_host_present(host, draw, NULL, 0xFFFFFFFF));
    assert_int_equal(view_host_png(host, TAUTROW_BINARY "/tests/host.png", why, sizeof why), TR_OK);
    view_draw_close(draw);
    view_host_close(host);
}

static void without_a_display_it_says_so(void **state)
{
    (void)state;
    char why[TR_TEXT_CAP] = "";
    view_host *host = NULL;
    SDL_setenv("SDL_VIDEODRIVER", "nosuchdriver", 1);
    assert_int_equal(view_host_open(&(view_host_options){.title = "test"}, &host, why, sizeof why), TR_IO);
    assert_null(host);
    assert_non_null(strstr(why, "no display"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(events_become_input),
        cmocka_unit_test(alt_and_enter_fill_the_screen_and_are_no_press),
        cmocka_unit_test(text_wheel_and_quit),
        cmocka_unit_test(layout_units_hold_at_scale_two),
        cmocka_unit_test(what_is_painted_is_what_is_shown),
        cmocka_unit_test(without_a_display_it_says_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
