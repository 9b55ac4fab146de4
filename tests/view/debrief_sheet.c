/* Draws the debrief in many states to files, for eyes: debrief_sheet FOLDER [part of the name]. Not a test. */
#include "debrief_desk.h"
#include "tautrow/view/paint.h"
#include "tautrow/view/text.h"

typedef struct look {
    const char *name, *code;
    float width, height, scale, text;
} look;

static const look looks[] = {
    {"std", "en", 1280.0F, 800.0F, 1.0F, 1.0F},   {"fine", "es", 1280.0F, 800.0F, 2.0F, 1.0F},
    {"small", "es", 1024.0F, 640.0F, 1.0F, 1.0F}, {"large", "es", 1280.0F, 800.0F, 1.0F, 2.0F},
    {"tight", "en", 1024.0F, 640.0F, 1.0F, 2.0F},
};

static void fill(paper_attempt *out, const char *kind)
{
    memset(out, 0, sizeof *out);
    if (strcmp(kind, "forty") == 0) {
        paper_attempt_long(out);
    } else if (strncmp(kind, "care", 4) == 0) {
        paper_attempt_read(out, kind);
    } else {
        paper_attempt_play(out, kind);
    }
}

static void shoot(view_fonts *fonts, const char *folder, const char *kind, const look *at, int page, const char *name)
{
    static debrief_desk desk;
    char path[512];
    char why[256];
    paper_attempt done;
    fill(&done, kind);
    debrief_desk_open(&desk, &done, at->code, view_fonts_metrics(fonts), at->text);
    desk.on.in.width = at->width;
    desk.on.in.height = at->height;
    desk.debrief->page = page < (int)VIEW_PAGES ? page : 0;
    desk.debrief->part = page < (int)VIEW_PAGES ? VIEW_PART_CHARTS : VIEW_PART_RUN;
    desk.debrief->row = page == 0 ? 4 : -1;
    for (int i = 0; i < 40; i++) {
        debrief_desk_frame(&desk);
    }
    (void)tr_format(path, sizeof path, "%s/%s.png", folder, name);
    if (view_shot(desk.on.draw, fonts, at->width, at->height, at->scale, desk.on.ui.theme->page, path, why,
                  sizeof why) != TR_OK) {
        (void)fprintf(stderr, "%s: %s\n", path, why);
        exit(2);
    }
    debrief_desk_close(&desk);
}

int main(int argc, char **argv)
{
    static const char *const kinds[] = {"careful", "careless", "long-deck", "corner-post", "forty"};
    view_fonts *fonts = NULL;
    char why[256];
    if (argc < 2 || view_fonts_open(NULL, 0, &fonts, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "debrief_sheet FOLDER [part of the name]\n");
        return 2;
    }
    for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++) {
        for (size_t l = 0; l < sizeof looks / sizeof looks[0]; l++) {
            for (int page = 0; page <= (int)VIEW_PAGES; page++) { /* the last one: the run */
                char name[128];
                (void)tr_format(name, sizeof name, "%s_%s_%d", kinds[k], looks[l].name, page);
                if (argc < 3 || strstr(name, argv[2]) != NULL) {
                    shoot(fonts, argv[1], kinds[k], &looks[l], page, name);
                }
            }
        }
    }
    view_fonts_close(fonts);
    return 0;
}
