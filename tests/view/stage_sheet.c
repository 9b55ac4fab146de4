/* Draws the stages from mark to hand-over before, during and after their gesture to files, for eyes: stage_sheet FOLDER
 * [part of the name]. Not a test. */
#include <stdio.h>
#include <string.h>

#include "stage_hands.h"
#include "tautrow/view/paint.h"
#include "tautrow/view/text.h"

typedef struct play {
    const char *name;
    job_stage stage;
    int more; /* actions that the expert does in the stage before */
    void (*during)(job_desk *);
    void (*after)(job_desk *);
} play;

static void mark_during(job_desk *desk)
{
    hands_press(desk, 'M');
    hands_wait(desk, 0.3F);
}

static void let_all_go(job_desk *desk)
{
    memset(desk->input.held, 0, sizeof desk->input.held);
    hands_wait(desk, 0.1F);
}

static void pole_during(job_desk *desk)
{
    hands_press(desk, 'F');
    hands_wait(desk, 0.15F);
}

static void drill_during(job_desk *desk)
{
    hands_tap(desk, '2');
    hands_wait(desk, 1.0F);
    hands_press(desk, VIEW_KEY_SPACE);
    hands_wait(desk, 2.5F);
}

static void drill_after(job_desk *desk)
{
    let_all_go(desk);
    hands_tap(desk, 'E');
}

/* Too fast, at once, never cleared, leaning on it. */
static void hasty_during(job_desk *desk)
{
    hands_tap(desk, '2');
    for (int i = 0; i < 24; i++) {
        hands_tap(desk, VIEW_KEY_PAGE_UP);
    }
    hands_press(desk, VIEW_KEY_SPACE);
    hands_press(desk, VIEW_KEY_UP);
    hands_wait(desk, 1.0F);
    desk->input.held[VIEW_KEY_UP] = false;
    hands_press(desk, VIEW_KEY_RIGHT);
    hands_wait(desk, 1.2F);
    desk->input.held[VIEW_KEY_RIGHT] = false;
    hands_wait(desk, 4.0F);
}

/* At the asked speed, the chips cleared twice. */
static void careful_during(job_desk *desk)
{
    hands_tap(desk, '2');
    for (int i = 0; i < 10; i++) {
        hands_tap(desk, VIEW_KEY_PAGE_UP);
    }
    hands_wait(desk, 2.0F);
    for (int i = 0; i < 3; i++) {
        hands_press(desk, VIEW_KEY_SPACE);
        hands_wait(desk, 1.7F);
        let_all_go(desk);
        hands_tap(desk, 'B');
        hands_wait(desk, 1.0F);
    }
}

static void insert_during(job_desk *desk)
{
    hands_wait(desk, 1.0F);
    hands_press(desk, VIEW_KEY_SPACE);
    hands_wait(desk, 2.0F);
}

static void insert_after(job_desk *desk)
{
    hands_wait(desk, 1.4F);
    drill_after(desk);
}

static void assemble_during(job_desk *desk)
{
    hands_tap(desk, '1');
    hands_tap(desk, '3');
    hands_press(desk, VIEW_KEY_SPACE);
    hands_wait(desk, 3.0F);
}

static void wrong_during(job_desk *desk)
{
    hands_tap(desk, '2');
    hands_tap(desk, '3');
    hands_press(desk, VIEW_KEY_SPACE);
    hands_wait(desk, 0.5F);
}

static void pull_during(job_desk *desk)
{
    hands_tap(desk, 'H');
    hands_press(desk, 'W');
    hands_wait(desk, 1.6F);
}

static void pen_after(job_desk *desk)
{
    let_all_go(desk);
    hands_press(desk, 'M');
    hands_wait(desk, 0.4F);
}

static void cut_during(job_desk *desk)
{
    hands_tap(desk, '1');
    hands_wait(desk, 0.6F);
    hands_press(desk, 'X');
    hands_wait(desk, 0.4F);
}

static void cut_after(job_desk *desk)
{
    let_all_go(desk);
    hands_hold(desk, 'X', 1.2F);
}

static void push_during(job_desk *desk)
{
    hands_press(desk, 'U');
    hands_wait(desk, 1.2F);
}

static void place_during(job_desk *desk)
{
    hands_hold(desk, VIEW_KEY_LEFT, 2.6F);
}

static void squeeze_during(job_desk *desk)
{
    place_during(desk);
    hands_press(desk, 'Q');
    hands_wait(desk, 1.0F);
}

static void turn_after(job_desk *desk)
{
    hands_wait(desk, 1.0F);
    let_all_go(desk);
    for (int i = 0; i < 4; i++) {
        hands_tap(desk, 'T');
    }
}

/* The row in hand is pulled with the pliers away: the stud and the strand's lay go round. */
static void free_during(job_desk *desk)
{
    hands_tap(desk, 'P');
    for (int i = 0; i < 9; i++) {
        hands_tap(desk, VIEW_KEY_RIGHT);
    }
    hands_wait(desk, 0.1F);
}

static void held_during(job_desk *desk)
{
    for (int i = 0; i < 9; i++) {
        hands_tap(desk, VIEW_KEY_RIGHT);
    }
    hands_wait(desk, 0.1F);
}

static void rest_after(job_desk *desk)
{
    let_all_go(desk);
    hands_wait(desk, 1.0F);
}

static void ball_during(job_desk *desk)
{
    hands_tap(desk, 'B');
    hands_wait(desk, 0.2F);
}

static void sight_during(job_desk *desk)
{
    hands_tap(desk, 'S');
    hands_wait(desk, 0.6F);
}

static void gauge_during(job_desk *desk)
{
    hands_tap(desk, 'J');
    hands_wait(desk, 0.1F);
}

static void collar_during(job_desk *desk)
{
    hands_tap(desk, 'O');
    hands_wait(desk, 0.1F);
}

static void wipe_after(job_desk *desk)
{
    let_all_go(desk);
    hands_tap(desk, 'W');
    hands_wait(desk, 0.5F);
}

static const play plays[] = {{"mark_pole", JOB_STAGE_MARK, 0, pole_during, let_all_go},
                             {"mark_row", JOB_STAGE_MARK, 1, mark_during, let_all_go},
                             {"drill", JOB_STAGE_DRILL, 0, drill_during, drill_after},
                             {"drill_hasty", JOB_STAGE_DRILL, 0, hasty_during, drill_after},
                             {"drill_careful", JOB_STAGE_DRILL, 0, careful_during, drill_after},
                             {"insert", JOB_STAGE_INSERT, 0, insert_during, insert_after},
                             {"assemble", JOB_STAGE_ASSEMBLE, 0, assemble_during, let_all_go},
                             {"assemble_wrong", JOB_STAGE_ASSEMBLE, 0, wrong_during, let_all_go},
                             {"cut_pull", JOB_STAGE_CUT, 0, pull_during, pen_after},
                             {"cut", JOB_STAGE_CUT, 4, cut_during, cut_after},
                             {"crimp_push", JOB_STAGE_CRIMP, 0, push_during, let_all_go},
                             {"crimp", JOB_STAGE_CRIMP, 2, squeeze_during, turn_after},
                             {"tension_free", JOB_STAGE_TENSION, 12, free_during, rest_after},
                             {"tension_held", JOB_STAGE_TENSION, 12, held_during, rest_after},
                             {"check_ball", JOB_STAGE_CHECK, 0, ball_during, rest_after},
                             {"check_sight", JOB_STAGE_CHECK, 0, sight_during, rest_after},
                             {"check_gauge", JOB_STAGE_CHECK, 0, gauge_during, rest_after},
                             {"over", JOB_STAGE_HAND_OVER, 0, collar_during, wipe_after}};

typedef struct sheet {
    view_fonts *fonts;
    const char *folder, *only, *code;
    float text;
    job_mode mode;
} sheet;

static void shoot(const sheet *s, const job_desk *desk, const char *name, const char *moment)
{
    static const char *const modes[] = {"guided", "practice", "assessment"};
    char path[512];
    char why[256];
    tr_format(path, sizeof path, "%s/%s_%s_%s_%.0f_%s.png", s->folder, name, moment, s->code,
              (double)(100.0F * s->text), modes[s->mode]);
    if (view_shot(desk->draw, s->fonts, 1280.0F, 800.0F, 1.0F, desk->ui.theme->page, path, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "%s: %s\n", path, why);
        exit(2);
    }
}

static void one(const sheet *s, const play *what)
{
    static job_desk desk;
    if (s->only != NULL && strstr(what->name, s->only) == NULL) {
        return;
    }
    job_desk_open(&desk, "soft-porch", s->mode, s->code);
    desk.metrics = view_fonts_metrics(s->fonts);
    desk.prefs.text_scale = s->text;
    job_desk_ready(&desk);
    job_desk_frame(&desk, false);
    hands_at(&desk, what->stage, what->more);
    hands_wait(&desk, 0.1F);
    shoot(s, &desk, what->name, "1before");
    what->during(&desk);
    shoot(s, &desk, what->name, "2during");
    what->after(&desk);
    view_job_show(desk.job, what->stage, -1);
    hands_wait(&desk, 0.1F);
    shoot(s, &desk, what->name, "3after");
    job_desk_close(&desk);
}

int main(int argc, char **argv)
{
    if (argc < 2) {
        (void)fprintf(stderr, "usage: stage_sheet FOLDER [part of the name]\n");
        return 2;
    }
    sheet s = {.folder = argv[1], .only = argc > 2 ? argv[2] : NULL};
    char why[256];
    if (view_fonts_open(NULL, 0, &s.fonts, why, sizeof why) != TR_OK) {
        (void)fprintf(stderr, "%s\n", why);
        return 2;
    }
    for (int i = 0; i < 4; i++) {
        s.code = i % 2 == 0 ? "en" : "es";
        s.text = i < 2 ? 1.0F : 2.0F;
        s.mode = i % 2 == 0 ? JOB_GUIDED : JOB_ASSESSMENT;
        for (size_t k = 0; k < sizeof plays / sizeof plays[0]; k++) {
            one(&s, &plays[k]);
        }
    }
    view_fonts_close(s.fonts);
    return 0;
}
