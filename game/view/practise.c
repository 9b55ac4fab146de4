/* "Practise next": the weakest skill, the chance that it is there, why, and the way to an exercise. */
#include "progress.h"

#include "tautrow/base/text.h"

enum { LATELY = 3 }; /* so many attempts back counts as lately */

const char *view__skill_name(const view_ui *ui, score_skill skill)
{
    char key[48];
    (void)tr_format(key, sizeof key, "skill.%s", score_skill_key(skill));
    return view_word(ui, key);
}

view_rect view__endless(view_rect room)
{
    return (view_rect){room.x, room.y, room.w, 1e6F};
}

void view__percent(double share, char *out, size_t cap)
{
    const int percent = (int)(share * 100.0 + 1e-9); /* cut off: 94.9 % is not yet the 95 % that count */
    (void)tr_format(out, cap, "%d %%", percent);
}

float view__mastery_bar_height(const view_ui *ui)
{
    return 14.0F * ui->text_scale;
}

void view__mastery_bar(view_ui *ui, view_rect rect, double known)
{
    const bool is_mastered = known >= SCORE_MASTERED_FROM;
    const float x = rect.x + rect.w * (float)SCORE_MASTERED_FROM;
    view_meter(ui, rect, (float)known, 0.0F, 0.0F, is_mastered ? ui->theme->good : ui->theme->accent);
    view_stroke_line(ui->draw, x, rect.y - 3.0F, x, rect.y + rect.h + 3.0F, 2.0F, ui->theme->ink);
}

void view__skill_why(const view_ui *ui, const view_skill *skill, char *out, size_t cap)
{
    const int count = skill->dot_count < LATELY ? skill->dot_count : LATELY;
    int lost = 0;
    for (int i = skill->dot_count - count; i < skill->dot_count; i++) {
        lost += score_is_right(skill->dot[i]) ? 0 : 1;
    }
    char few[16];
    char all[16];
    const char *args[] = {few, all};
    (void)tr_format(few, sizeof few, "%d", lost);
    (void)tr_format(all, sizeof all, "%d", count);
    const char *key = count == 0  ? "progress.why.none"
                      : lost > 0  ? (count == 1 ? "progress.why.lost_one" : "progress.why.lost")
                      : count > 1 ? "progress.why.few"
                                  : "progress.why.few_one";
    tr_lang_fill(ui->lang, key, args, 2, out, cap);
}

/* Name at the left, chance at the right, bar below. */
static float draw_skill(view_ui *ui, view_rect room, const view_progress *progress, score_skill skill)
{
    const float top = room.y;
    char percent[16];
    char why[TR_TEXT_CAP];
    char said[2 * TR_TEXT_CAP];
    view__percent(progress->skill[skill].known, percent, sizeof percent);
    view_rect line = view_cut_top(&room, view_line_of(ui, VIEW_STRONG));
    view_label(ui, view_cut_right(&line, view_width_of(ui, VIEW_STRONG, "100 %") + VIEW_GAP_2), VIEW_STRONG, VIEW_RIGHT,
               ui->theme->ink, percent);
    view_label(ui, line, VIEW_STRONG, VIEW_LEFT, ui->theme->ink, view__skill_name(ui, skill));
    view_cut_top(&room, VIEW_GAP_1 + 2.0F);
    view__mastery_bar(ui, view_cut_top(&room, view__mastery_bar_height(ui)), progress->skill[skill].known);
    view_cut_top(&room, VIEW_GAP_2);
    view__skill_why(ui, &progress->skill[skill], why, sizeof why);
    const char *args[] = {percent};
    tr_lang_fill(ui->lang, "progress.chance", args, 1, said, sizeof said);
    (void)tr_append(said, sizeof said, " %s", why);
    view_cut_top(&room, view_paragraph(ui, room, VIEW_BODY, ui->theme->ink_soft, said));
    return room.y - top;
}

static void then_words(const view_ui *ui, const view_progress *progress, char *out, size_t cap)
{
    char names[160] = "";
    for (int i = 1; i < progress->next_count; i++) {
        (void)tr_append(names, sizeof names, "%s%s", i > 1 ? ", " : "", view__skill_name(ui, progress->next[i]));
    }
    const char *args[] = {names};
    tr_lang_fill(ui->lang, "progress.then", args, 1, out, cap);
}

static float draw_weakest(view_ui *ui, view_rect room, const view_progress *progress, bool is_loud,
                          view_answer_of_screen *answer)
{
    const float top = room.y;
    const score_skill skill = progress->next[0];
    view_cut_top(&room, draw_skill(ui, room, progress, skill) + VIEW_GAP_2);
    const view_button_spec go = {
        .look = is_loud ? VIEW_PRIMARY : VIEW_SECONDARY, .icon = VIEW_ICON_NEXT, .key = 'E', .key_hint = "E"};
    const char *label = view_word(ui, "progress.exercise");
    const float want = view_button_width(ui, label, &go);
    view_rect line = view_cut_top(&room, view_control_height(ui));
    if (view_button_with(ui, view_cut_left(&line, want), label, &go)) {
        *answer = (view_answer_of_screen){VIEW_PRACTISE, progress->skill[skill].exercise, JOB_GUIDED};
    }
    if (progress->next_count > 1) {
        char then[200];
        then_words(ui, progress, then, sizeof then);
        view_cut_top(&room, VIEW_GAP_2);
        view_cut_top(&room, view_paragraph(ui, room, VIEW_CAPTION, ui->theme->ink_soft, then));
    }
    return room.y - top;
}

/* A stripe at the side sets it apart: it is the one piece of advice on the screen. */
float view__practise_next(view_ui *ui, view_rect room, const view_progress *progress, bool is_loud,
                          view_answer_of_screen *answer)
{
    const float top = room.y;
    const float x = room.x;
    view_cut_left(&room, VIEW_GAP_4 + 2.0F);
    view_cut_top(&room, view_heading(ui, room, VIEW_TITLE, view_word(ui, "progress.next")));
    if (progress->attempts > 0 && progress->next_count > 0) {
        view_cut_top(&room, draw_weakest(ui, room, progress, is_loud, answer));
    } else {
        const char *key = progress->waiting > 0    ? "progress.reading"
                          : progress->attempts > 0 ? "progress.all_mastered"
                                                   : "progress.first";
        view_cut_top(&room, view_paragraph(ui, room, VIEW_BODY, ui->theme->ink_soft, view_word(ui, key)));
    }
    view_fill_rect(ui->draw, (view_rect){x, top, 4.0F, room.y - top}, 2.0F, ui->theme->accent);
    return room.y - top;
}
