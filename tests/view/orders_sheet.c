/* Draws what the order changes in many states to files, for eyes: orders_sheet FOLDER [part of the name]. Not a test. */
#include "orders_desk.h"
#include "tautrow/view/paint.h"
#include "tautrow/view/text.h"

typedef struct look {
    const char *name;
    float width, height, scale, text;
} look;

static const look looks[] = {{"std", 1280.0F, 800.0F, 1.0F, 1.0F},   {"fine", 1280.0F, 800.0F, 2.0F, 1.0F},
                             {"small", 1024.0F, 640.0F, 1.0F, 1.0F}, {"large", 1280.0F, 800.0F, 1.0F, 2.0F},
                             {"tight", 1024.0F, 640.0F, 1.0F, 2.0F}, {"wide", 3840.0F, 2160.0F, 1.0F, 1.0F}};

typedef struct scene {
    const char *name, *scenario;
    int order[VIEW__SIDES], way[VIEW__SIDES];
    int step;
} scene;

static const scene scenes[] = {
    {"once_start", "soft-porch", {0, 2}, {0, 0}, 0},   {"once_part", "soft-porch", {0, 2}, {0, 0}, 5},
    {"once_end", "soft-porch", {0, 2}, {0, 0}, 99},    {"sheet_part", "soft-porch", {0, 2}, {2, 2}, 12},
    {"sheet_end", "soft-porch", {0, 2}, {2, 2}, 99},   {"mixed_end", "soft-porch", {0, 0}, {0, 2}, 99},
    {"rounds_end", "soft-porch", {1, 3}, {1, 1}, 99},  {"same", "soft-porch", {1, 1}, {1, 1}, 99},
    {"stout_part", "long-deck", {0, 2}, {0, 0}, 7},    {"stout_end", "long-deck", {0, 2}, {0, 0}, 99},
    {"stout_rounds", "long-deck", {0, 1}, {1, 1}, 99}, {"half_end", "left-half-done", {0, 2}, {0, 0}, 99},
    {"all_differs", "soft-porch", {0, 2}, {0, 2}, 99},
};

static void shoot(view_fonts *fonts, const char *folder, const scene *what, const look *at, const char *code,
                  const char *name)
{
    static orders_desk desk;
    char path[512];
    char why[256];
    orders_desk_open(&desk, what->scenario, code, view_fonts_metrics(fonts));
    desk.on.in.width = at->width;
    desk.on.in.height = at->height;
    desk.on.prefs.text_scale = at->text;
    orders_desk_frame(&desk);
    for (int side = 0; side < VIEW__SIDES; side++) {
        (void)orders_desk_choose(&desk, side, "orders.order", what->order[side]);
        (void)orders_desk_choose(&desk, side, "orders.way", what->way[side]);
    }
    desk.on.in.has_mouse = true; /* no focus ring */
    desk.on.ui.focus = 0;
    view_orders_show(desk.orders, what->step);
    orders_desk_rest(&desk);
    (void)tr_format(path, sizeof path, "%s/%s.png", folder, name);
    if (view_shot(desk.on.draw, fonts, at->width, at->height, at->scale, desk.on.ui.theme->page, path, why,
                  sizeof why) != TR_OK) {
        (void)fprintf(stderr, "%s: %s\n", path, why);
        exit(2);
    }
    orders_desk_close(&desk);
}

int main(int argc, char **argv)
{
    static const char *const codes[] = {"en", "es"};
    char why[256];
    view_fonts *fonts = NULL;
    if (argc < 2) {
        (void)fprintf(stderr, "usage: orders_sheet FOLDER [part of the name]\n");
        return 2;
    }
    if (view_fonts_open(NULL, 0, &fonts, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "%s\n", why);
        return 2;
    }
    for (size_t at = 0; at < sizeof looks / sizeof looks[0]; at++) {
        for (size_t i = 0; i < sizeof scenes / sizeof scenes[0]; i++) {
            for (int lang = 0; lang < 2; lang++) {
                char name[128];
                (void)tr_format(name, sizeof name, "%s_%s_%s", scenes[i].name, codes[lang], looks[at].name);
                if (argc < 3 || strstr(name, argv[2]) != NULL) {
                    shoot(fonts, argv[1], &scenes[i], &looks[at], codes[lang], name);
                }
            }
        }
    }
    view_fonts_close(fonts);
    return 0;
}
