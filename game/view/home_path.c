/* The eleven stages as a path from the job sheet to the hand-over: what the home screen has to tell while there is no past. */
#include "home_path.h"

#include <math.h>

#include "tautrow/base/text.h"
#include "tautrow/job/action.h"

static const char *stage_word(const view_ui *ui, int stage, const char *which)
{
    char key[48];
    tr_format(key, sizeof key, "stage.%s.%s", job_stage_name((job_stage)stage), which);
    return view_word(ui, key);
}

static float side_of(const view_ui *ui)
{
    return roundf(view_line_of(ui, VIEW_STRONG) + 2.0F);
}

/* Where the words about a stage begin: behind the longest name. */
static float names_width(const view_ui *ui)
{
    float width = 0.0F;
    for (int i = 0; i < JOB_STAGE_COUNT; i++) {
        width = fmaxf(width, view_width_of(ui, VIEW_STRONG, stage_word(ui, i, "name")));
    }
    return ceilf(width) + VIEW_GAP_4;
}

static void number_at(view_ui *ui, float x, float y, float r, int number)
{
    char text[8];
    tr_format(text, sizeof text, "%d", number);
    view_fill_circle(ui->draw, x, y, r, ui->theme->accent_soft);
    view_label(ui, (view_rect){x - r, y - r, 2.0F * r, 2.0F * r}, VIEW_CAPTION, VIEW_CENTRE, ui->theme->accent, text);
}

/* How all eleven are set, so that they are set alike: words beside the names in one size, or below them. */
typedef struct setting {
    float names; /* width of their column; 0 = the words stand below */
    view_type type;
} setting;

static bool fits_beside(const view_ui *ui, float width, view_type type)
{
    for (int i = 0; i < JOB_STAGE_COUNT; i++) {
        if (view_width_of(ui, type, stage_word(ui, i, "about")) > width) {
            return false;
        }
    }
    return true;
}

static setting setting_for(const view_ui *ui, float width)
{
    const float names = names_width(ui);
    if (fits_beside(ui, width - names, VIEW_BODY)) {
        return (setting){names, VIEW_BODY};
    }
    return (setting){fits_beside(ui, width - names, VIEW_CAPTION) ? names : 0.0F, VIEW_CAPTION};
}

/* Returns the height used. */
static float one_stage(view_ui *ui, view_rect room, int stage, const setting *set)
{
    const char *about = stage_word(ui, stage, "about");
    const float line = view_line_of(ui, VIEW_STRONG);
    view_rect head = view_cut_top(&room, line);
    view_label(ui, head, VIEW_STRONG, VIEW_LEFT, ui->theme->ink, stage_word(ui, stage, "name"));
    if (set->names <= 0.0F) {
        return line + view_paragraph(ui, room, set->type, ui->theme->ink_soft, about);
    }
    view_cut_left(&head, set->names);
    view_label(ui, head, set->type, VIEW_LEFT, ui->theme->ink_soft, about);
    return line;
}

float view__home_path(view_ui *ui, view_rect room)
{
    const float top = room.y;
    const float side = side_of(ui);
    const float indent = side + VIEW_GAP_3;
    const setting set = setting_for(ui, room.w - indent);
    view_cut_top(&room, view_heading(ui, room, VIEW_TITLE, view_word(ui, "home.path")) + VIEW_GAP_1);
    for (int i = 0; i < JOB_STAGE_COUNT; i++) {
        const view_rect words = {room.x + indent, room.y, room.w - indent, room.h};
        const float used = one_stage(ui, words, i, &set);
        const float x = room.x + side / 2.0F;
        const float y = room.y + view_line_of(ui, VIEW_STRONG) / 2.0F;
        view_cut_top(&room, used + VIEW_GAP_2);
        if (i + 1 < JOB_STAGE_COUNT) {
            view_stroke_line(ui->draw, x, y + side / 2.0F, x, y + used + VIEW_GAP_2 - side / 2.0F, 1.5F,
                             ui->theme->panel_edge);
        }
        number_at(ui, x, y, side / 2.0F, i + 1);
    }
    return room.y - top;
}
