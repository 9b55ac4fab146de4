/* The icons: lines and polygons on a 24 x 24 grid, two units thick, so that they stay sharp at any size. */
#include "tautrow/view/ui.h"

#include <math.h>

#include "tautrow/base/units.h"

#define PI ((float)TR_PI)

typedef struct pen {
    view_draw *draw;
    float x, y, unit; /* corner of the grid, size of one grid unit */
    view_color color;
} pen;

enum { MAX_POINTS = 16 };

static view_point at(const pen *p, float x, float y)
{
    return (view_point){p->x + x * p->unit, p->y + y * p->unit};
}

static size_t place(const pen *p, const view_point grid[], size_t count, view_point out[MAX_POINTS])
{
    const size_t kept = count < MAX_POINTS ? count : MAX_POINTS;
    for (size_t i = 0; i < kept; i++) {
        out[i] = at(p, grid[i].x, grid[i].y);
    }
    return kept;
}

static void line(const pen *p, const view_point grid[], size_t count, float width)
{
    view_point points[MAX_POINTS];
    view_stroke_poly(p->draw, points, place(p, grid, count, points), width * p->unit, 0.0F, p->color);
}

static void fill(const pen *p, const view_point grid[], size_t count, view_color color)
{
    view_point points[MAX_POINTS];
    view_fill_poly(p->draw, points, place(p, grid, count, points), color);
}

static void dot(const pen *p, float x, float y, float radius)
{
    view_fill_circle(p->draw, p->x + x * p->unit, p->y + y * p->unit, radius * p->unit, p->color);
}

static void ring(const pen *p, float x, float y, float radius, float width)
{
    view_stroke_circle(p->draw, p->x + x * p->unit, p->y + y * p->unit, radius * p->unit, width * p->unit, p->color);
}

static void arc(const pen *p, float x, float y, float radius, float from, float to)
{
    view_stroke_arc(p->draw, p->x + x * p->unit, p->y + y * p->unit, radius * p->unit, from, to, 2.0F * p->unit,
                    p->color);
}

static view_rect box(const pen *p, float x, float y, float w, float h)
{
    return (view_rect){p->x + x * p->unit, p->y + y * p->unit, w * p->unit, h * p->unit};
}

#define LINE(p, ...)                                                                                                   \
    line((p), (const view_point[]){__VA_ARGS__}, sizeof((const view_point[]){__VA_ARGS__}) / sizeof(view_point), 2.0F)
#define FILL(p, ...)                                                                                                   \
    fill((p), (const view_point[]){__VA_ARGS__}, sizeof((const view_point[]){__VA_ARGS__}) / sizeof(view_point),       \
         (p)->color)

static void back(const pen *p)
{
    LINE(p, {20, 12}, {4.5F, 12});
    LINE(p, {11, 5}, {4, 12}, {11, 19});
}

static void next(const pen *p)
{
    LINE(p, {4, 12}, {19.5F, 12});
    LINE(p, {13, 5}, {20, 12}, {13, 19});
}

static void gear(const pen *p)
{
    for (int tooth = 0; tooth < 8; tooth++) {
        const float angle = (float)tooth * PI / 4.0F;
        const float c = cosf(angle);
        const float s = sinf(angle);
        line(p, (const view_point[]){{12 + 6.6F * c, 12 + 6.6F * s}, {12 + 9.0F * c, 12 + 9.0F * s}}, 2, 3.4F);
    }
    ring(p, 12, 12, 5.9F, 2.2F);
    dot(p, 12, 12, 1.9F);
}

static void check(const pen *p)
{
    LINE(p, {4.5F, 12.5F}, {10, 18}, {20, 6.5F});
}

static void cross(const pen *p)
{
    LINE(p, {6, 6}, {18, 18});
    LINE(p, {18, 6}, {6, 18});
}

static void warning(const pen *p)
{
    LINE(p, {12, 3.5F}, {22, 20.5F}, {2, 20.5F}, {12, 3.5F});
    LINE(p, {12, 9.5F}, {12, 14.2F});
    dot(p, 12, 17.4F, 1.25F);
}

/* Safety glasses: two wide lenses, the bridge, side pieces going back. */
static void glasses(const pen *p)
{
    LINE(p, {2.5F, 9}, {10.6F, 9}, {10.2F, 14}, {8.2F, 16.2F}, {4.8F, 16.2F}, {2.9F, 14}, {2.5F, 9});
    LINE(p, {13.4F, 9}, {21.5F, 9}, {21.1F, 14}, {19.2F, 16.2F}, {15.8F, 16.2F}, {13.8F, 14}, {13.4F, 9});
    LINE(p, {10.6F, 10.2F}, {13.4F, 10.2F});
    LINE(p, {2.5F, 9}, {1.6F, 7.2F});
    LINE(p, {21.5F, 9}, {22.4F, 7.2F});
}

static void play(const pen *p)
{
    FILL(p, {6.5F, 3.8F}, {20, 12}, {6.5F, 20.2F});
}

static void pause(const pen *p)
{
    view_fill_rect(p->draw, box(p, 5.5F, 4, 4.6F, 16), 1.0F * p->unit, p->color);
    view_fill_rect(p->draw, box(p, 13.9F, 4, 4.6F, 16), 1.0F * p->unit, p->color);
}

static void lock(const pen *p)
{
    view_fill_rect(p->draw, box(p, 4.5F, 10.5F, 15, 10.5F), 2.0F * p->unit, p->color);
    LINE(p, {7.8F, 11}, {7.8F, 7.5F});
    LINE(p, {16.2F, 11}, {16.2F, 7.5F});
    arc(p, 12, 7.5F, 4.2F, PI, 2.0F * PI);
}

static void question(const pen *p)
{
    ring(p, 12, 12, 9.2F, 1.8F);
    arc(p, 12, 9.8F, 2.9F, PI, PI * 2.38F);
    LINE(p, {13.1F, 12.5F}, {12, 14.2F});
    dot(p, 12, 17.2F, 1.25F);
}

static void clock_face(const pen *p)
{
    ring(p, 12, 12, 9.0F, 2.0F);
    LINE(p, {12, 6.8F}, {12, 12}, {15.6F, 14.4F});
}

static void sound(const pen *p)
{
    FILL(p, {3, 9}, {7, 9}, {12, 4.5F}, {12, 19.5F}, {7, 15}, {3, 15});
    arc(p, 12, 12, 4.2F, -PI * 0.28F, PI * 0.28F);
    arc(p, 12, 12, 8.2F, -PI * 0.28F, PI * 0.28F);
}

static void eye(const pen *p)
{
    const view_point lid[] = {{2, 12},     {6, 7.6F},   {12, 5.6F}, {18, 7.6F}, {22, 12},
                              {18, 16.4F}, {12, 18.4F}, {6, 16.4F}, {2, 12}};
    view_point points[MAX_POINTS];
    const size_t count = place(p, lid, sizeof lid / sizeof lid[0], points);
    view_stroke_curve(p->draw, points, count, 2.0F * p->unit, p->color);
    dot(p, 12, 12, 3.1F);
}

static void plus(const pen *p)
{
    LINE(p, {12, 5.5F}, {12, 18.5F});
    LINE(p, {5.5F, 12}, {18.5F, 12});
}

static void minus(const pen *p)
{
    LINE(p, {5.5F, 12}, {18.5F, 12});
}

static void undo(const pen *p)
{
    LINE(p, {4, 9}, {14.5F, 9});
    LINE(p, {8, 4.5F}, {3.7F, 9}, {8, 13.5F});
    arc(p, 14.5F, 14, 5.0F, -PI / 2.0F, PI / 2.0F);
    LINE(p, {14.5F, 19}, {9, 19});
}

static void person(const pen *p)
{
    ring(p, 12, 8, 4.0F, 2.0F);
    arc(p, 12, 21.5F, 7.5F, PI * 1.06F, PI * 1.94F);
}

static void sheet(const pen *p)
{
    LINE(p, {5, 3}, {19, 3}, {19, 21}, {5, 21}, {5, 3});
    LINE(p, {8.5F, 8}, {15.5F, 8});
    LINE(p, {8.5F, 12}, {15.5F, 12});
    LINE(p, {8.5F, 16}, {12.5F, 16});
}

void view_icon_draw(view_draw *draw, view_icon icon, float x, float y, float size, view_color color)
{
    static void (*const shape[VIEW_ICONS])(const pen *) = {
        [VIEW_ICON_BACK] = back,       [VIEW_ICON_NEXT] = next,         [VIEW_ICON_GEAR] = gear,
        [VIEW_ICON_CHECK] = check,     [VIEW_ICON_CROSS] = cross,       [VIEW_ICON_WARNING] = warning,
        [VIEW_ICON_GLASSES] = glasses, [VIEW_ICON_PLAY] = play,         [VIEW_ICON_PAUSE] = pause,
        [VIEW_ICON_LOCK] = lock,       [VIEW_ICON_QUESTION] = question, [VIEW_ICON_CLOCK] = clock_face,
        [VIEW_ICON_SOUND] = sound,     [VIEW_ICON_EYE] = eye,           [VIEW_ICON_PLUS] = plus,
        [VIEW_ICON_MINUS] = minus,     [VIEW_ICON_UNDO] = undo,         [VIEW_ICON_PERSON] = person,
        [VIEW_ICON_SHEET] = sheet,
    };
    if ((unsigned)icon < VIEW_ICONS && shape[icon] != NULL) {
        const pen p = {draw, x - size / 2.0F, y - size / 2.0F, size / 24.0F, color};
        shape[icon](&p);
    }
}
