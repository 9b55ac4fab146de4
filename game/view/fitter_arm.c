/* The arm: a pointer that travels as a hand does, fast in the middle and slow at both ends on a slightly bowed way, and
 * keys and buttons that go down and up. Wishes are made anew in every frame; what is no longer wished is let go. */
#include "fitter.h"

#include <math.h>
#include <string.h>

/* Time of an aimed movement: a little, and more for every doubling of the way (Fitts 1954; the two numbers are ours). */
static const float START_S = 0.16F;
static const float DOUBLING_S = 0.085F;
static const float GRAIN_PX = 14.0F;
static const float BOW = 0.05F; /* of the way */

static float way(view_point a, view_point b)
{
    return hypotf(b.x - a.x, b.y - a.y);
}

static void set_out(view_fitter *f, view_point to)
{
    fitter_arm *arm = &f->arm;
    const float far = way(arm->at, to);
    arm->from = arm->at;
    arm->to = to;
    arm->gone_s = 0.0F;
    arm->whole_s = (START_S + DOUBLING_S * log2f(1.0F + far / GRAIN_PX)) / fmaxf(f->manner.pace, 0.1F);
    arm->bow = far * BOW * (float)(2.0 * tr_rng_uniform(&f->rng) - 1.0);
    arm->is_there = false;
}

/* Smooth in place, speed and acceleration. */
static void travel(view_fitter *f)
{
    fitter_arm *arm = &f->arm;
    arm->gone_s += f->dt_s;
    const float t = f->is_still || arm->whole_s <= 0.0F ? 1.0F : fminf(arm->gone_s / arm->whole_s, 1.0F);
    const float s = t * t * t * (10.0F - 15.0F * t + 6.0F * t * t);
    const float far = fmaxf(way(arm->from, arm->to), 1.0F);
    const float aside = arm->bow * sinf(3.14159265F * s);
    arm->at.x = arm->from.x + (arm->to.x - arm->from.x) * s - (arm->to.y - arm->from.y) / far * aside;
    arm->at.y = arm->from.y + (arm->to.y - arm->from.y) * s + (arm->to.x - arm->from.x) / far * aside;
    arm->is_there = t >= 1.0F;
}

static void move(view_fitter *f)
{
    fitter_arm *arm = &f->arm;
    if (f->wish.is_pushing) {
        arm->at.x += f->wish.push.x * f->dt_s;
        arm->at.y += f->wish.push.y * f->dt_s;
        arm->to = arm->at;
        arm->is_there = true;
    } else if (f->wish.goes) {
        if (way(arm->to, f->wish.spot) > 0.5F) {
            set_out(f, f->wish.spot);
        }
        travel(f);
    }
}

static void set_button(view_input *in, int button, bool is_down)
{
    in->pressed[button] = is_down && !in->down[button];
    in->released[button] = !is_down && in->down[button];
    in->down[button] = is_down;
}

static void set_keys(view_fitter *f)
{
    view_input *in = &f->in;
    in->mods = f->wish.mods;
    for (int key = 0; key < VIEW_KEYS; key++) {
        if (f->wish.key[key] && !in->held[key]) {
            view_input_key(in, key, f->wish.mods, false);
        }
        in->held[key] = f->wish.key[key];
    }
}

void fitter__act(view_fitter *f)
{
    view_input *in = &f->in;
    view_input_forget(in);
    move(f);
    in->has_mouse = !f->by_keys;
    in->mouse_x = f->arm.at.x;
    in->mouse_y = f->arm.at.y;
    const bool can_press = f->arm.is_there && !f->by_keys;
    set_button(in, VIEW_MOUSE_LEFT, f->wish.left && (can_press || in->down[VIEW_MOUSE_LEFT]));
    set_button(in, VIEW_MOUSE_RIGHT, f->wish.right && (can_press || in->down[VIEW_MOUSE_RIGHT]));
    in->wheel = f->wish.wheel;
    set_keys(f);
}
