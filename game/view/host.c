/* The window. SDL's events become one view_input a frame; the painter's pixels go to the window's surface as they are,
 * without a GPU: the same picture everywhere, and on a machine without one a frame is shown in a millisecond. */
#define SDL_MAIN_HANDLED
#include "tautrow/view/host.h"

#include "host_pad.h"
#include "host_touch.h"
#include "paint_data.h"

#include <SDL.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"

enum { FRAME_MS = 16, LOOK_MS = 10 };

struct view_host {
    SDL_Window *window;
    view_canvas *canvas;
    float wanted_scale; /* 0 = as the display says */
    view_input input;   /* what lasts from frame to frame: pointer, held keys */
    view__pads pads;
    view__finger finger;
    Uint64 start, last; /* performance counter */
    bool is_text_on;
};

/* ---- sizes --------------------------------------------------------------------------------------------------- */

static void pixel_size(const view_host *host, int *width, int *height)
{
    SDL_GetWindowSizeInPixels(host->window, width, height);
}

/* Pixels a point of the window system: 2 where it scales by itself. */
static float pixel_ratio(const view_host *host)
{
    int points = 0;
    int pixels = 0;
    SDL_GetWindowSize(host->window, &points, NULL);
    pixel_size(host, &pixels, &(int){0});
    return points > 0 && pixels > 0 ? (float)pixels / (float)points : 1.0F;
}

/* Where the window system does not scale, the display's dots an inch tell; many displays do not. */
static float display_scale(int display)
{
    float dpi = 0.0F;
    if (SDL_GetDisplayDPI(display, NULL, &dpi, NULL) != 0 || !(dpi > 0.0F)) {
        return 1.0F;
    }
    const float quarters = roundf(dpi / 96.0F * 4.0F) / 4.0F;
    return fminf(fmaxf(quarters, 1.0F), 4.0F);
}

float view_host_scale(const view_host *host)
{
    int width = 0;
    int height = 0;
    pixel_size(host, &width, &height);
    const float ratio = pixel_ratio(host);
    float scale = host->wanted_scale > 0.0F ? host->wanted_scale
                                            : fmaxf(ratio, display_scale(SDL_GetWindowDisplayIndex(host->window)));
    /* a window that is too small shows everything smaller rather than cutting it off */
    scale = fminf(scale, (float)width / VIEW_LEAST_WIDTH);
    scale = fminf(scale, (float)height / VIEW_LEAST_HEIGHT);
    return fmaxf(scale, 0.25F);
}

/* ---- opening ------------------------------------------------------------------------------------------------- */

static void set_hints(void)
{
    SDL_SetHintWithPriority(SDL_HINT_FRAMEBUFFER_ACCELERATION, "0", SDL_HINT_DEFAULT);
    SDL_SetHintWithPriority(SDL_HINT_IME_SHOW_UI, "1", SDL_HINT_DEFAULT);
    SDL_SetHintWithPriority(SDL_HINT_VIDEO_ALLOW_SCREENSAVER, "1", SDL_HINT_DEFAULT);
    SDL_SetHintWithPriority(SDL_HINT_TOUCH_MOUSE_EVENTS, "0", SDL_HINT_DEFAULT); /* host_touch.c */
    SDL_SetHintWithPriority(SDL_HINT_WINDOWS_DPI_AWARENESS, "permonitorv2", SDL_HINT_DEFAULT);
}

/* No larger than the display has room for; a window manager would cut it anyway, but not all have one. */
static void fit_display(int *width, int *height)
{
    SDL_Rect room = {0};
    if (SDL_GetDisplayUsableBounds(0, &room) == 0 && room.w > 0 && room.h > 0) {
        *width = SDL_min(*width, room.w);
        *height = SDL_min(*height, room.h);
    }
}

static SDL_Window *make_window(const view_host_options *options)
{
    const float scale = options->scale > 0.0F ? options->scale : display_scale(0);
    int width = (int)lroundf((float)(options->width > 0 ? options->width : 1280) * scale);
    int height = (int)lroundf((float)(options->height > 0 ? options->height : 800) * scale);
    if (!(options->scale > 0.0F)) {
        fit_display(&width, &height);
    }
    SDL_Window *window = SDL_CreateWindow(options->title, SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, width, height,
                                          SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI);
    if (window != NULL) {
        SDL_SetWindowMinimumSize(window, VIEW_LEAST_WIDTH, VIEW_LEAST_HEIGHT);
    }
    return window;
}

/* Some systems have no surface without acceleration. */
static bool has_surface(SDL_Window *window)
{
    if (SDL_GetWindowSurface(window) != NULL) {
        return true;
    }
    SDL_SetHintWithPriority(SDL_HINT_FRAMEBUFFER_ACCELERATION, "1", SDL_HINT_DEFAULT);
    return SDL_GetWindowSurface(window) != NULL;
}

tr_result view_host_open(const view_host_options *options, view_host **out, char *why, size_t why_cap)
{
    SDL_SetMainReady();
    set_hints();
    if (SDL_InitSubSystem(SDL_INIT_VIDEO) != 0) {
        tr_format(why, why_cap, "there is no display to open a window on (%s)", SDL_GetError());
        return TR_IO;
    }
    view_host *host = calloc(1, sizeof *host);
    if (host == NULL) {
        SDL_QuitSubSystem(SDL_INIT_VIDEO);
        return TR_NO_MEMORY;
    }
    host->wanted_scale = options->scale;
    host->canvas = view_canvas_open();
    host->window = make_window(options);
    if (host->canvas == NULL || host->window == NULL || !has_surface(host->window)) {
        tr_format(why, why_cap, "the window could not be opened (%s)", SDL_GetError());
        view_host_close(host);
        return TR_IO;
    }
    SDL_StopTextInput();
    view__pads_open(&host->pads);
    host->start = host->last = SDL_GetPerformanceCounter();
    *out = host;
    return TR_OK;
}

void view_host_close(view_host *host)
{
    if (host == NULL) {
        return;
    }
    view__pads_close(&host->pads);
    view_canvas_close(host->canvas);
    if (host->window != NULL) {
        SDL_DestroyWindow(host->window);
    }
    free(host);
    SDL_QuitSubSystem(SDL_INIT_VIDEO);
}

/* ---- events -------------------------------------------------------------------------------------------------- */

static int special_key(SDL_Keycode code)
{
    static const struct {
        SDL_Keycode code;
        int key;
    } map[] = {
        {SDLK_TAB, VIEW_KEY_TAB},
        {SDLK_RETURN, VIEW_KEY_ENTER},
        {SDLK_KP_ENTER, VIEW_KEY_ENTER},
        {SDLK_SPACE, VIEW_KEY_SPACE},
        {SDLK_ESCAPE, VIEW_KEY_ESCAPE},
        {SDLK_LEFT, VIEW_KEY_LEFT},
        {SDLK_RIGHT, VIEW_KEY_RIGHT},
        {SDLK_UP, VIEW_KEY_UP},
        {SDLK_DOWN, VIEW_KEY_DOWN},
        {SDLK_HOME, VIEW_KEY_HOME},
        {SDLK_END, VIEW_KEY_END},
        {SDLK_PAGEUP, VIEW_KEY_PAGE_UP},
        {SDLK_PAGEDOWN, VIEW_KEY_PAGE_DOWN},
        {SDLK_BACKSPACE, VIEW_KEY_BACKSPACE},
        {SDLK_DELETE, VIEW_KEY_DELETE},
        {SDLK_KP_PLUS, '+'},
        {SDLK_KP_MINUS, '-'},
    };
    for (size_t i = 0; i < sizeof map / sizeof map[0]; i++) {
        if (map[i].code == code) {
            return map[i].key;
        }
    }
    return VIEW_KEY_NONE;
}

static int key_of(SDL_Keycode code)
{
    const int special = special_key(code);
    if (special != VIEW_KEY_NONE) {
        return special;
    }
    if (code >= SDLK_a && code <= SDLK_z) {
        return 'A' + (int)(code - SDLK_a);
    }
    if (code >= SDLK_F1 && code <= SDLK_F12) {
        return VIEW_KEY_F1 + (int)(code - SDLK_F1);
    }
    return code > ' ' && code < 127 ? (int)code : VIEW_KEY_NONE;
}

static unsigned mods_of(unsigned state)
{
    return ((state & (unsigned)KMOD_SHIFT) != 0 ? (unsigned)VIEW_SHIFT : 0U) |
           ((state & ((unsigned)KMOD_CTRL | (unsigned)KMOD_GUI)) != 0 ? (unsigned)VIEW_CTRL : 0U) |
           ((state & (unsigned)KMOD_LALT) != 0 ? (unsigned)VIEW_ALT : 0U);
}

static void paste(view_input *in)
{
    char *text = SDL_GetClipboardText();
    if (text != NULL) {
        text[strcspn(text, "\r\n\t")] = '\0'; /* fields have one line */
        tr_append(in->text, sizeof in->text, "%s", text);
        SDL_free(text);
    }
}

static void turn_fullscreen(SDL_Window *window)
{
    const bool is_on = (SDL_GetWindowFlags(window) & (Uint32)SDL_WINDOW_FULLSCREEN_DESKTOP) != 0;
    (void)SDL_SetWindowFullscreen(window, is_on ? 0U : (Uint32)SDL_WINDOW_FULLSCREEN_DESKTOP);
}

/* Alt+Enter is the window's own; every function key has its stage. */
static void on_key(view_host *host, const SDL_KeyboardEvent *event)
{
    view_input *in = &host->input;
    const int key = key_of(event->keysym.sym);
    if (key == VIEW_KEY_NONE) {
        return;
    }
    const bool is_down = event->type == SDL_KEYDOWN;
    const unsigned mods = mods_of(event->keysym.mod);
    if (is_down && key == VIEW_KEY_ENTER && mods == VIEW_ALT) {
        if (event->repeat == 0) {
            turn_fullscreen(host->window);
        }
        return;
    }
    in->held[key] = is_down;
    if (is_down) {
        in->device = VIEW_BY_DESK;
        view_input_key(in, key, mods, event->repeat != 0);
        if (key == 'V' && mods == VIEW_CTRL) {
            paste(in);
        }
    }
}

static void on_button(view_input *in, const SDL_MouseButtonEvent *event)
{
    const int button = event->button == SDL_BUTTON_LEFT     ? VIEW_MOUSE_LEFT
                       : event->button == SDL_BUTTON_RIGHT  ? VIEW_MOUSE_RIGHT
                       : event->button == SDL_BUTTON_MIDDLE ? VIEW_MOUSE_MIDDLE
                                                            : -1;
    if (button < 0) {
        return;
    }
    const bool is_down = event->type == SDL_MOUSEBUTTONDOWN;
    in->down[button] = is_down;
    (is_down ? in->pressed : in->released)[button] = true;
}

static void on_pointer(view_host *host, int x, int y)
{
    const float units = pixel_ratio(host) / view_host_scale(host);
    host->input.mouse_x = (float)x * units;
    host->input.mouse_y = (float)y * units;
    host->input.has_mouse = true;
    host->input.device = VIEW_BY_DESK;
}

static void on_window(view_host *host, const SDL_WindowEvent *event)
{
    view_input *in = &host->input;
    if (event->event == SDL_WINDOWEVENT_LEAVE) {
        in->has_mouse = false;
    } else if (event->event == SDL_WINDOWEVENT_FOCUS_LOST) { /* what is let go elsewhere is never heard of */
        memset(in->held, 0, sizeof in->held);
        memset(in->down, 0, sizeof in->down);
        in->mods = 0;
        host->finger = (view__finger){0};
        view__pads_let_go(&host->pads, in);
    } else if (event->event == SDL_WINDOWEVENT_CLOSE) {
        in->wants_quit = true;
    }
}

static double seconds_between(Uint64 from, Uint64 to)
{
    return (double)(to - from) / (double)SDL_GetPerformanceFrequency();
}

static double since_start(const view_host *host)
{
    return seconds_between(host->start, SDL_GetPerformanceCounter());
}

static void on_event(view_host *host, const SDL_Event *event)
{
    view_input *in = &host->input;
    switch (event->type) {
    case SDL_QUIT:
        in->wants_quit = true;
        break;
    case SDL_KEYDOWN:
    case SDL_KEYUP:
        on_key(host, &event->key);
        break;
    case SDL_TEXTINPUT:
        tr_append(in->text, sizeof in->text, "%s", event->text.text);
        break;
    case SDL_MOUSEMOTION:
        on_pointer(host, event->motion.x, event->motion.y);
        break;
    case SDL_MOUSEBUTTONDOWN:
    case SDL_MOUSEBUTTONUP:
        on_pointer(host, event->button.x, event->button.y);
        on_button(in, &event->button);
        break;
    case SDL_MOUSEWHEEL:
        in->wheel += event->wheel.preciseY;
        break;
    case SDL_WINDOWEVENT:
        on_window(host, &event->window);
        break;
    case SDL_FINGERDOWN:
    case SDL_FINGERMOTION:
    case SDL_FINGERUP:
        view__finger_event(&host->finger, event, in);
        break;
    default:
        view__pads_event(&host->pads, event, in, since_start(host));
        break;
    }
}

/* ---- frames -------------------------------------------------------------------------------------------------- */

/* Controllers cannot wake a program up, nor can some displays: SDL then looks a thousand times a second, which a battery feels.
 * Between two frames of a display is often enough. */
static bool look_now_and_then(SDL_Event *event, double max_wait_s)
{
    const Uint64 from = SDL_GetPerformanceCounter();
    while (!SDL_PollEvent(event)) {
        if (max_wait_s >= 0.0 && seconds_between(from, SDL_GetPerformanceCounter()) >= max_wait_s) {
            return false;
        }
        SDL_Delay(LOOK_MS);
    }
    return true;
}

static bool wakes_by_itself(const view_host *host)
{
    const char *driver = SDL_GetCurrentVideoDriver();
    const bool shows = driver != NULL && strcmp(driver, "dummy") != 0 && strcmp(driver, "offscreen") != 0;
    return shows && !view__pads_are_there(&host->pads);
}

static bool wait_for_event(const view_host *host, SDL_Event *event, double max_wait_s)
{
    if (!wakes_by_itself(host)) {
        return look_now_and_then(event, max_wait_s);
    }
    return max_wait_s < 0.0 ? SDL_WaitEvent(event) != 0
                            : SDL_WaitEventTimeout(event, (int)lround(max_wait_s * 1000.0) + 1) != 0;
}

/* No more frames than a display shows; and none at all while nothing happens. */
static void sleep_until_due(view_host *host, bool wants_frame, double max_wait_s)
{
    SDL_Event event;
    if (!wants_frame && wait_for_event(host, &event, max_wait_s)) {
        on_event(host, &event);
    }
    const double since_ms = seconds_between(host->last, SDL_GetPerformanceCounter()) * 1000.0;
    if (since_ms < FRAME_MS) {
        SDL_Delay((Uint32)(FRAME_MS - since_ms));
    }
}

void view_host_input(view_host *host, bool wants_frame, double max_wait_s, view_input *input)
{
    view_input *in = &host->input;
    SDL_Event event;
    view_input_forget(in);
    view__finger_frame(&host->finger, in);
    sleep_until_due(host, wants_frame || view__pads_are_busy(&host->pads, in), max_wait_s);
    while (SDL_PollEvent(&event)) {
        on_event(host, &event);
    }
    const Uint64 now = SDL_GetPerformanceCounter();
    view__pads_frame(&host->pads, in, seconds_between(host->start, now));
    int width = 0;
    int height = 0;
    pixel_size(host, &width, &height);
    const float scale = view_host_scale(host);
    in->width = (float)width / scale;
    in->height = (float)height / scale;
    in->mods = mods_of((unsigned)SDL_GetModState());
    in->time_s = seconds_between(host->start, now);
    in->dt_s = (float)fmin(seconds_between(host->last, now), 0.1);
    host->last = now;
    *input = *in;
}

void view_host_text(view_host *host, bool is_on)
{
    if (is_on != host->is_text_on) {
        host->is_text_on = is_on;
        if (is_on) {
            SDL_StartTextInput();
        } else {
            SDL_StopTextInput();
        }
    }
}

void view_host_rumble(view_host *host, float low, float high, double seconds)
{
    view__pads_rumble(&host->pads, low, high, seconds);
}

void view_host_title(view_host *host, const char *title)
{
    SDL_SetWindowTitle(host->window, title);
}

static bool show(view_host *host)
{
    const view_pixels pixels = view_canvas_pixels(host->canvas);
    SDL_Surface *target = SDL_GetWindowSurface(host->window); /* a new one after each change of size */
    uint8_t *data = view__canvas_data(host->canvas);
    SDL_Surface *source = SDL_CreateRGBSurfaceWithFormatFrom(data, pixels.width, pixels.height, 32, pixels.stride,
                                                             SDL_PIXELFORMAT_ARGB8888);
    bool is_shown = false;
    if (target != NULL && source != NULL) {
        SDL_SetSurfaceBlendMode(source, SDL_BLENDMODE_NONE);
        is_shown = SDL_BlitSurface(source, NULL, target, NULL) == 0 && SDL_UpdateWindowSurface(host->window) == 0;
    }
    SDL_FreeSurface(source);
    return is_shown;
}

bool view_host_present(view_host *host, const view_draw *draw, view_fonts *fonts, view_color ground)
{
    int width = 0;
    int height = 0;
    pixel_size(host, &width, &height);
    const float scale = view_host_scale(host);
    return view_canvas_paint(host->canvas, draw, fonts, (float)width / scale, (float)height / scale, scale, ground) &&
           show(host);
}

tr_result view_host_png(const view_host *host, const char *path, char *why, size_t why_cap)
{
    return view_canvas_png(host->canvas, path, why, why_cap);
}
