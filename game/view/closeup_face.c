/* The post's face about one hole, from the front, as the fingers find it: the pencil line, a clean or a torn rim, scorched
 * wood, the flange on it, a crack. What a hasty hand did stays to be seen here. */
#include "pic.h"

#include <math.h>

#include "tautrow/base/text.h"

enum { RIM = 36 };

/* Of the window's side, in diameters of the insert's thread. */
static const double WINDOW = 2.7;
/* Fibres tear along the grain so many times as far as the hole is oversize: by eye, real tear-out is of that order. */
static const double TEAR = 11.0;

/* A rough edge that is the same at every frame: -1..1 for each place on the rim. */
static double rough(int i)
{
    const double x = sin(12.9898 * (double)(i + 1)) * 43758.5453;
    return 2.0 * (x - floor(x)) - 1.0;
}

typedef struct face {
    const view__board *board;
    view_rect rect;
    float x, y, k;
} face;

static void pencil_cross(const face *at)
{
    const view_color line = view_fade(at->board->pen.theme->ink, 0.6F);
    view_stroke_line(at->board->pen.draw, at->rect.x + 4.0F, at->y, at->rect.x + at->rect.w - 4.0F, at->y, 1.3F, line);
    view_stroke_line(at->board->pen.draw, at->x, at->y - 9.0F, at->x, at->y + 9.0F, 1.0F, line);
}

/* Too fast burns the rim, as far beyond the band as the speed is. */
static void scorch(const face *at, const job_setup *setup, const job_row *row)
{
    const double over = row->drill_rpm / fmax(setup->drill_rpm.high, 1.0) - 1.0;
    if (over <= 0.05) {
        return;
    }
    const float dark = 0.55F * (float)fmin(over, 1.0);
    const float r = 0.5F * (float)row->hole.diameter_m * at->k;
    for (int ring = 0; ring < 3; ring++) {
        view_fill_circle(at->board->pen.draw, at->x, at->y, r * (1.55F - 0.15F * (float)ring),
                         view_fade(at->board->pen.theme->ink, dark / 3.0F));
    }
}

/* Splinters lifted out of the face, upward and downward along the grain. */
static void tears(const face *at, const job_row *row)
{
    const double r = 0.5 * (row->hole.diameter_m + row->hole.wander_m);
    const view_theme *theme = at->board->pen.theme;
    if (row->hole.wander_m < 0.00008) {
        return;
    }
    for (int i = 0; i < RIM; i += 2) {
        const double a = 2.0 * TR_PI * (double)i / (double)RIM;
        const double length = TEAR * row->hole.wander_m * fabs(sin(a)) * (0.6 + 0.4 * rough(i));
        const double way = sin(a) < 0.0 ? -1.0 : 1.0;
        const float x = at->x + (float)(r * cos(a)) * at->k;
        const float y = at->y + (float)(r * sin(a) * 0.94) * at->k;
        const float wide = fmaxf(0.0007F * at->k, 1.2F);
        const view_point splinter[3] = {
            {x - wide, y}, {x + wide, y}, {x + (float)rough(i + 7) * wide, y + (float)(way * length) * at->k}};
        view_fill_poly(at->board->pen.draw, splinter, 3, i % 4 == 0 ? theme->wood_cut : theme->wood_dark);
    }
}

/* The mouth and, through it, the bottom: out of the middle where the hole is out of square. */
static void mouth(const face *at, const job_row *row)
{
    const view_theme *theme = at->board->pen.theme;
    const double r = 0.5 * row->hole.diameter_m;
    view_point rim[RIM];
    for (int i = 0; i < RIM; i++) {
        const double a = 2.0 * TR_PI * (double)i / (double)RIM;
        const double out = r + 0.5 * row->hole.wander_m * (1.0 + rough(i));
        rim[i] = (view_point){at->x + (float)(out * cos(a)) * at->k, at->y + (float)(out * sin(a)) * at->k};
    }
    view_fill_poly(at->board->pen.draw, rim, RIM, view_mix(theme->wood_dark, theme->ink, 0.35F));
    const double most = 0.45 * r;
    const double aside = fmin(fmax(row->hole.depth_m * tan(row->hole.yaw_rad), -most), most);
    const double up = fmin(fmax(row->hole.depth_m * tan(row->hole.pitch_rad), -most), most);
    view_fill_circle(at->board->pen.draw, at->x + (float)aside * at->k, at->y - (float)up * at->k,
                     0.52F * (float)r * at->k, view_mix(theme->wood_dark, theme->ink, 0.75F));
}

/* The flange with its socket; proud it throws a shadow, sunk it lies in crushed wood. */
static void flange(const face *at, const job_setup *setup, const job_row *row)
{
    const view_theme *theme = at->board->pen.theme;
    view_draw *draw = at->board->pen.draw;
    const float r = (float)view__sizes_of(setup).flange_r * at->k;
    const float proud = (float)row->seat.proud_m * at->k;
    if (proud > 0.5F) {
        const float off = fminf(0.8F * proud, 0.4F * r); /* not so far that it is a thing of its own */
        view_fill_circle(draw, at->x + off, at->y + off, r, view_fade(theme->ink, 0.28F));
    } else if (proud < -0.5F) {
        view_fill_circle(draw, at->x, at->y, r + fminf(-1.5F * proud, r), view_fade(theme->wood_dark, 0.75F));
    }
    /* wood that its own thread tore out, when it was driven on */
    const int crumbs = (int)(24.0 * fmin(fmax(row->seat.stripped, 0.0), 1.0));
    for (int i = 0; i < crumbs; i++) {
        const float a = 6.2831853F * (float)i / (float)crumbs;
        const float out = r * (1.12F + 0.14F * (float)rough(i));
        view_fill_circle(draw, at->x + out * cosf(a), at->y + out * sinf(a), 1.6F + 0.5F * (float)(i % 3),
                         i % 2 == 0 ? theme->wood_cut : theme->wood_dark);
    }
    view_fill_circle(draw, at->x, at->y, r, view_mix(theme->wood_dark, theme->steel, 0.55F));
    view_fill_circle(draw, at->x, at->y, r * 0.86F, view_mix(theme->wood_light, theme->steel_light, 0.5F));
    view_stroke_circle(draw, at->x, at->y, r, 1.2F, theme->steel_dark);
    view_point hex[6];
    for (int i = 0; i < 6; i++) {
        const float a = (float)i * 1.0471976F;
        hex[i] = (view_point){at->x + 0.5F * r * cosf(a), at->y + 0.5F * r * sinf(a)};
    }
    view_fill_poly(draw, hex, 6, view_mix(theme->steel_dark, theme->ink, 0.5F));
}

static void crack(const face *at, const job_setup *setup)
{
    const float r = (float)view__sizes_of(setup).flange_r * at->k;
    for (int way = -1; way <= 1; way += 2) {
        const float from = at->y + (float)way * r;
        const float to = way < 0 ? at->rect.y + 2.0F : at->rect.y + at->rect.h - 2.0F;
        const view_point line[4] = {{at->x, from},
                                    {at->x + 3.0F, from + (to - from) * 0.35F},
                                    {at->x - 2.0F, from + (to - from) * 0.65F},
                                    {at->x + 2.0F, to}};
        view_stroke_poly(at->board->pen.draw, line, 4, 2.0F, 0.0F, at->board->pen.theme->ink);
    }
}

bool view__face_place(const view__board *board, view_rect scene, float face_x, float tool_y, view_rect *rect)
{
    const float foot = board->pen.text * 1.5F;
    const float low = scene.y + scene.h - foot;
    const float side = fminf(fminf(scene.h * 0.34F, 120.0F), low - tool_y - 6.0F);
    const float right = scene.x + scene.w - 2.0F;
    *rect = (view_rect){right - side, low - side, side, side};
    /* clear of the chips and of the depth, which is written beside its line where the text is large */
    return side >= 48.0F && rect->x > face_x + fmaxf(54.0F, 4.4F * board->pen.text);
}

void view__face(const view__board *board, view_rect rect, const job_setup *setup, const job_row *row)
{
    const view_theme *theme = board->pen.theme;
    const face at = {board, rect, rect.x + rect.w * 0.5F, rect.y + rect.h * 0.5F,
                     rect.w / (float)(WINDOW * setup->insert.major_m)};
    view_clip_push(board->pen.draw, rect);
    view__wood_face(board, rect);
    if (row->is_marked) {
        pencil_cross(&at);
    }
    if (row->is_drilled) {
        scorch(&at, setup, row);
        tears(&at, row);
        mouth(&at, row);
    }
    if (row->is_split) {
        crack(&at, setup);
    }
    if (row->is_driven) {
        flange(&at, setup, row);
    }
    view_clip_pop(board->pen.draw);
    view_stroke_rect(board->pen.draw, rect, 2.0F, 1.4F, theme->wood_dark);
    const view_font font = view__font(board, 0.79F, VIEW_REGULAR);
    const char *words = view__word(board, "pic.front");
    if (view__width(board, font, words) <= rect.w) {
        view__say(board, rect.x + rect.w, rect.y + rect.h + font.size * 1.25F, font, VIEW_RIGHT, theme->ink_soft,
                  words);
    }
}
