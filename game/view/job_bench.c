/* The bench beside the fitting: a scrolling column in which the stages set out their controls. */
#include "job_screen.h"

#include <math.h>

#include "ui_keep.h"

view_bench view__bench_begin(view_ui *ui, view_rect tools)
{
    /* room around for the focus ring, which a clip would cut */
    const view_rect port = {tools.x - 4.0F, tools.y - 4.0F, tools.w + 8.0F, tools.h + 8.0F};
    const view_rect room = view_scroll_begin(ui, port, "tools");
    const view_rect column = {room.x + 4.0F, room.y + 4.0F, room.w - 8.0F, room.h};
    return (view_bench){.port = port, .column = view_column(column, VIEW_GAP_2)};
}

view_rect view__bench_next(view_bench *bench, float height)
{
    return view_column_next(&bench->column, height);
}

void view__bench_end(view_ui *ui, view_bench *bench)
{
    view_scroll_end(ui, view_flow_height(&bench->column) + 8.0F);
}

/* letter: a key, or a button of the controller, which has its hint by itself. */
static view_button_spec keyed(char hint[2], char letter, view_look look)
{
    const int key = (unsigned char)letter;
    hint[0] = letter;
    hint[1] = '\0';
    return (view_button_spec){.look = look,
                              .key = key,
                              .key_hint = key >= VIEW_PAD_X ? ""
                                          : letter != '\0'  ? hint
                                                            : NULL};
}

/* A button whose words do not fit on one line leaves its key hint away first. */
static bool press(view_ui *ui, view_rect rect, const char *label, char letter, view_look look)
{
    char hint[2];
    view_button_spec spec = keyed(hint, letter, look);
    if (view_button_width(ui, label, &spec) - 2.0F * VIEW_GAP_2 > rect.w) {
        spec.key_hint = NULL;
        spec.tip = label;
    }
    return view_button_with(ui, rect, label, &spec);
}

bool view__bench_button(view_ui *ui, view_bench *bench, const char *word_key, char letter, view_look look)
{
    return press(ui, view__bench_next(bench, view_control_height(ui)), view_word(ui, word_key), letter, look);
}

int view__bench_pair(view_ui *ui, view_bench *bench, const char *const word_keys[2], const char letters[2])
{
    char hint[2];
    const float height = view_control_height(ui);
    const float half = (bench->column.area.w - VIEW_GAP_2) / 2.0F;
    float widest = 0.0F;
    for (int i = 0; i < 2; i++) {
        const view_button_spec spec = keyed(hint, letters[i], VIEW_SECONDARY);
        widest = fmaxf(widest, view_button_width(ui, view_word(ui, word_keys[i]), &spec) - 2.0F * VIEW_GAP_2);
    }
    int pressed = 0;
    const view_rect both = widest <= half ? view__bench_next(bench, height) : (view_rect){0};
    for (int i = 0; i < 2; i++) {
        const view_rect rect = widest <= half ? view_split_x(both, 2, i, VIEW_GAP_2) : view__bench_next(bench, height);
        pressed = press(ui, rect, view_word(ui, word_keys[i]), letters[i], VIEW_SECONDARY) ? i + 1 : pressed;
    }
    return pressed;
}

void view__bench_label(view_ui *ui, view_bench *bench, const char *text)
{
    const float width = bench->column.area.w;
    const float height = view_paragraph_height(ui, width, VIEW_BODY, text);
    view_paragraph(ui, view__bench_next(bench, height), VIEW_BODY, ui->theme->ink_soft, text);
}

bool view__bench_toggle(view_ui *ui, view_bench *bench, const char *word_key, bool *is_on)
{
    const char *label = view_word(ui, word_key);
    const float room = bench->column.area.w - 60.0F * ui->text_scale;
    if (view_width_of(ui, VIEW_STRONG, label) > room) { /* the words above, the switch below */
        view__bench_label(ui, bench, label);
        bench->column.y -= VIEW_GAP_1;
        view_push(ui, word_key, 0);
        const bool is_changed = view_toggle(ui, view__bench_next(bench, view_control_height(ui)), "", is_on, NULL);
        view__name_last(ui, label);
        view_pop(ui);
        return is_changed;
    }
    return view_toggle(ui, view__bench_next(bench, view_control_height(ui)), label, is_on, NULL);
}

bool view__bench_stepper(view_ui *ui, view_bench *bench, const char *label, int least, int most, int *value,
                         const char *text)
{
    const float height = view_control_height(ui);
    const float hands =
        2.0F * height + fmaxf(52.0F * ui->text_scale, view_width_of(ui, VIEW_STRONG, text) + VIEW_GAP_4);
    const bool is_beside = view_width_of(ui, VIEW_STRONG, label) + hands + VIEW_GAP_3 <= bench->column.area.w;
    if (!is_beside) {
        view__bench_label(ui, bench, label);
        bench->column.y -= VIEW_GAP_1;
    }
    const view_rect line = view__bench_next(bench, height);
    if (is_beside) {
        view_label(ui, line, VIEW_STRONG, VIEW_LEFT, ui->theme->ink, label);
    }
    view_push(ui, label, 0); /* one id for both: the focus stays where the words of the value become longer */
    const bool is_changed = view_stepper(ui, line, "", least, most, value, text);
    view__name_last(ui, label);
    view_pop(ui);
    return is_changed;
}

bool view__bench_few(view_ui *ui, view_bench *bench, const char *label, const char *const options[], int count,
                     int *choice)
{
    float widest = 0.0F;
    for (int i = 0; i < count; i++) {
        widest = fmaxf(widest, view_width_of(ui, VIEW_STRONG, options[i]));
    }
    if ((widest + 14.0F) * (float)count > bench->column.area.w) {
        return view__bench_stepper(ui, bench, label, 0, count - 1, choice, options[*choice]);
    }
    return view_segments(ui, view__bench_next(bench, view_control_height(ui)), label, options, count, choice);
}
