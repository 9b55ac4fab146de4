/* Draws every picture of the job to files, for eyes: picture_sheet FOLDER [en|es] [scale]. Not a test. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "picture_jobs.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"
#include "tautrow/view/paint.h"
#include "tautrow/view/text.h"

typedef struct sheet {
    view_pen pen;
    view_fonts *fonts;
    const char *folder;
    const char *language;
    float scale;
} sheet;

static tr_lang *words_of(const char *code)
{
    tr_lang *lang = tr_lang_open(code);
    char path[512];
    char why[256];
    char *text = NULL;
    size_t size = 0;
    static tr_diags diags;
    tr_format(path, sizeof path, "%s/assets/lang/%s/pictures.txt", TAUTROW_SOURCE, code);
    if (tr_file_read(path, TR_LANG_MAX_FILE, &text, &size, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "%s\n", why);
        exit(2);
    }
    (void)tr_lang_add(lang, text, size, &diags);
    free(text);
    return lang;
}

static void save(const sheet *s, const char *name, float w, float h)
{
    char path[512];
    char why[256];
    tr_format(path, sizeof path, "%s/%s_%s_%.0f.png", s->folder, name, s->language, (double)s->scale);
    if (view_shot(s->pen.draw, s->fonts, w, h, s->scale, s->pen.theme->panel, path, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "%s: %s\n", path, why);
        exit(2);
    }
    view_draw_clear(s->pen.draw);
}

static void one(const sheet *s, const picture_case *what, float w, float h)
{
    /* A margin around the picture shows at once what would leave it. */
    const view_rect area = {8.0F, 8.0F, w, h};
    what->draw(&s->pen, area);
    save(s, what->name, w + 16.0F, h + 16.0F);
}

/* What a frame of the two large pictures costs, as they lie on a 1280x800 screen. */
static void time_frame(const sheet *s)
{
    view_canvas *canvas = view_canvas_open();
    double best_fill = 1e9;
    double best_paint = 1e9;
    for (int round = 0; round < 60 && canvas != NULL; round++) {
        const clock_t start = clock();
        view_draw_clear(s->pen.draw);
        for (size_t i = 0; i < picture_case_count; i++) {
            if (strcmp(picture_cases[i].name, "elevation_short") == 0) {
                picture_cases[i].draw(&s->pen, (view_rect){20, 60, 780, 400});
            } else if (strcmp(picture_cases[i].name, "turn_held") == 0) {
                picture_cases[i].draw(&s->pen, (view_rect){20, 480, 780, 280});
            }
        }
        const clock_t middle = clock();
        (void)view_canvas_paint(canvas, s->pen.draw, s->fonts, 1280, 800, 1.0F, s->pen.theme->panel);
        const clock_t end = clock();
        best_fill = fmin(best_fill, (double)(middle - start) * 1e3 / CLOCKS_PER_SEC);
        best_paint = fmin(best_paint, (double)(end - middle) * 1e3 / CLOCKS_PER_SEC);
    }
    (void)printf("commands %zu, fill %.3f ms, paint %.3f ms (best of 60, empty screen included)\n",
                 view_draw_count(s->pen.draw), best_fill, best_paint);
    view_draw_clear(s->pen.draw);
    view_canvas_close(canvas);
}

int main(int argc, char **argv)
{
    if (argc < 2) {
        (void)fprintf(stderr, "usage: picture_sheet FOLDER [en|es] [scale] [text] [name|time] [contrast]\n");
        return 2;
    }
    sheet s = {
        .folder = argv[1], .language = argc > 2 ? argv[2] : "en", .scale = argc > 3 ? strtof(argv[3], NULL) : 1.0F};
    char why[256];
    if (view_fonts_open(NULL, 0, &s.fonts, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "%s\n", why);
        return 2;
    }
    const view_metrics metrics = view_fonts_metrics(s.fonts);
    tr_lang *lang = words_of(s.language);
    const bool is_spanish = strcmp(s.language, "es") == 0;
    s.pen = (view_pen){.draw = view_draw_open(),
                       .theme = view_theme_of(argc > 6 ? VIEW_THEME_CONTRAST : VIEW_THEME_DAY),
                       .metrics = &metrics,
                       .lang = lang,
                       .units = is_spanish ? TR_SI : TR_US,
                       .text = argc > 4 ? strtof(argv[4], NULL) : 14.0F};
    picture_jobs_make();
    if (argc > 5 && strcmp(argv[5], "time") == 0) {
        time_frame(&s);
        argc = 0;
        s.folder = NULL;
    }
    for (size_t i = 0; s.folder != NULL && i < picture_case_count; i++) {
        const picture_case *what = &picture_cases[i];
        if (argc > 5 && strstr(what->name, argv[5]) == NULL) {
            continue;
        }
        one(&s, what, what->w, what->h);
    }
    view_draw_close(s.pen.draw);
    tr_lang_close(lang);
    view_fonts_close(s.fonts);
    return 0;
}
