/* The settings: language, units, text size, contrast, motion, hand, sound,
 * controller. Every change counts at once. */
#include "tautrow/view/screens.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/text.h"

/* A label above a choice among few; returns true when it was changed. */
static bool choice(view_ui *ui, view_flow *column, const char *label_key, const char *const options[], int count,
                   int *chosen)
{
    const char *label = view_word(ui, label_key);
    view_label(ui, view_column_next(column, view_line_of(ui, VIEW_STRONG)), VIEW_STRONG, VIEW_LEFT, ui->theme->ink,
               label);
    column->y -= column->gap - VIEW_GAP_1; /* the choice belongs to its label */
    return view_segments(ui, view_column_next(column, view_control_height(ui)), label, options, count, chosen);
}

static bool language(view_ui *ui, view_flow *column, view_settings *settings)
{
    static const char *const names[] = {"English", "Español"}; /* each in its own language */
    static const char *const codes[] = {"en", "es"};
    int chosen = strcmp(settings->lang, "es") == 0 ? 1 : 0;
    if (!choice(ui, column, "settings.language", names, 2, &chosen)) {
        return false;
    }
    (void)tr_copy(settings->lang, sizeof settings->lang, codes[chosen]);
    return true;
}

static bool units(view_ui *ui, view_flow *column, view_settings *settings)
{
    const char *names[] = {view_word(ui, "settings.units.file"), view_word(ui, "settings.units.us"),
                           view_word(ui, "settings.units.si")};
    int chosen = !settings->own_units ? 0 : (settings->system == TR_SI ? 2 : 1);
    if (!choice(ui, column, "settings.units", names, 3, &chosen)) {
        return false;
    }
    settings->own_units = chosen != 0;
    settings->system = chosen == 2 ? TR_SI : TR_US;
    return true;
}

/* Text size changes when the slider is let go of, or it would run away under the pointer. */
static bool text_size(view_ui *ui, view_flow *column, view_settings *settings)
{
    char shown[16];
    float value = settings->prefs.text_scale * 100.0F;
    (void)tr_format(shown, sizeof shown, "%.0f %%", (double)value);
    const view_range range = {100.0F, 200.0F, 10.0F};
    if (!view_slider(ui, view_column_next(column, view_slider_height(ui)), view_word(ui, "settings.text"), range,
                     &value, shown)) {
        return false;
    }
    settings->prefs.text_scale = value / 100.0F;
    return true;
}

/* A switch and, below it, what it does. */
static bool explained(view_ui *ui, view_flow *column, const char *label_key, const char *help_key, bool *is_on)
{
    const char *help = view_word(ui, help_key);
    const bool changed =
        view_toggle(ui, view_column_next(column, view_control_height(ui)), view_word(ui, label_key), is_on, NULL);
    column->y -= column->gap - 1.0F; /* the help belongs to its switch */
    const float height = view_paragraph_height(ui, column->area.w * 0.84F, VIEW_CAPTION, help);
    view_rect room = view_column_next(column, height);
    room.w *= 0.84F;
    (void)view_paragraph(ui, room, VIEW_CAPTION, ui->theme->ink_soft, help);
    return changed;
}

static bool contrast(view_ui *ui, view_flow *column, view_settings *settings)
{
    bool is_on = settings->prefs.theme == VIEW_THEME_CONTRAST;
    const bool changed = explained(ui, column, "settings.contrast", "settings.contrast.help", &is_on);
    settings->prefs.theme = is_on ? VIEW_THEME_CONTRAST : VIEW_THEME_DAY;
    return changed;
}

/* Silence is the left end. What the device lacks is said where somebody would look for it. */
static bool sound(view_ui *ui, view_flow *column, view_settings *settings)
{
    char shown[48];
    float value = roundf(settings->volume * 100.0F);
    (void)tr_format(shown, sizeof shown, "%.0f %%", (double)value);
    const view_range range = {0.0F, 100.0F, 10.0F};
    bool changed = view_slider(ui, view_column_next(column, view_slider_height(ui)), view_word(ui, "settings.sound"),
                               range, &value, value > 0.0F ? shown : view_word(ui, "settings.sound_off"));
    settings->volume = value / 100.0F;
    if (settings->has_no_speaker && value > 0.0F) {
        const char *note = view_word(ui, "settings.no_speaker");
        const float height = view_paragraph_height(ui, column->area.w, VIEW_CAPTION, note);
        (void)view_paragraph(ui, view_column_next(column, height), VIEW_CAPTION, ui->theme->ink_soft, note);
    }
    return explained(ui, column, "settings.captions", "settings.captions.help", &settings->captions) || changed;
}

/* ---- the two cards ---------------------------------------------------------------------------------------------- */

static void group(view_ui *ui, view_flow *column, const char *key)
{
    view_label(ui, view_column_next(column, view_line_of(ui, VIEW_TITLE)), VIEW_TITLE, VIEW_LEFT, ui->theme->ink,
               view_word(ui, key));
}

static bool how_it_reads(view_ui *ui, view_flow *column, view_settings *settings)
{
    group(ui, column, "settings.group.read");
    bool changed = language(ui, column, settings);
    changed = units(ui, column, settings) || changed;
    changed = text_size(ui, column, settings) || changed;
    return contrast(ui, column, settings) || changed;
}

static void explain(view_ui *ui, view_flow *column, const char *title_key, const char *text_key)
{
    const char *text = view_word(ui, text_key);
    const float height = view_paragraph_height(ui, column->area.w, VIEW_CAPTION, text);
    view_label(ui, view_column_next(column, view_line_of(ui, VIEW_STRONG)), VIEW_STRONG, VIEW_LEFT, ui->theme->ink,
               view_word(ui, title_key));
    column->y -= column->gap - VIEW_GAP_1;
    (void)view_paragraph(ui, view_column_next(column, height), VIEW_CAPTION, ui->theme->ink_soft, text);
}

/* How to work it without keyboard and mouse. */
static void other_hands(view_ui *ui, view_flow *column)
{
    (void)view_column_next(column, 0.0F);
    explain(ui, column, "settings.pad", "settings.pad.text");
    explain(ui, column, "settings.touch", "settings.touch.text");
}

static bool rumble(view_ui *ui, view_flow *column, view_settings *settings)
{
    bool shakes = !settings->is_still;
    const bool changed = view_toggle(ui, view_column_next(column, view_control_height(ui)),
                                     view_word(ui, "settings.rumble"), &shakes, NULL);
    settings->is_still = !shakes;
    return changed;
}

static bool how_it_moves(view_ui *ui, view_flow *column, view_settings *settings)
{
    group(ui, column, "settings.group.hands");
    bool changed = explained(ui, column, "settings.left", "settings.left.help", &settings->prefs.left_handed);
    changed =
        explained(ui, column, "settings.motion", "settings.motion.help", &settings->prefs.reduced_motion) || changed;
    changed = rumble(ui, column, settings) || changed;
    (void)view_column_next(column, 0.0F);
    group(ui, column, "settings.group.sound");
    return sound(ui, column, settings) || changed;
}

static void foot(view_ui *ui, view_flow *column, const view_settings *settings, view_answer_of_screen *answer)
{
    (void)view_column_next(column, 0.0F);
    if (settings->has_tour && view_button(ui, view_column_next(column, view_control_height(ui)),
                                          view_word(ui, "tour.again"), VIEW_SECONDARY)) {
        answer->wish = VIEW_GO_TOUR;
    }
    const char *note = view_word(ui, "settings.note");
    const float height = view_paragraph_height(ui, column->area.w, VIEW_CAPTION, note);
    (void)view_paragraph(ui, view_column_next(column, height), VIEW_CAPTION, ui->theme->ink_soft, note);
}

/* Side by side; large text puts all into one card. */
static bool cards(view_ui *ui, view_rect area, view_settings *settings, view_answer_of_screen *answer)
{
    bool changed = false;
    if (area.w < 860.0F * ui->text_scale) {
        view_flow column = view_column(view_scroll_begin(ui, view_panel(ui, area), "settings"), VIEW_GAP_4);
        changed = how_it_reads(ui, &column, settings);
        (void)view_column_next(&column, 0.0F);
        changed = how_it_moves(ui, &column, settings) || changed;
        other_hands(ui, &column);
        foot(ui, &column, settings, answer);
        view_scroll_end(ui, view_flow_height(&column));
        return changed;
    }
    const view_rect left = view_panel(ui, view_split_x(area, 2, 0, VIEW_GAP_5));
    view_flow column = view_column(view_scroll_begin(ui, left, "settings"), VIEW_GAP_4);
    changed = how_it_reads(ui, &column, settings);
    other_hands(ui, &column);
    view_scroll_end(ui, view_flow_height(&column));
    const view_rect right = view_panel(ui, view_split_x(area, 2, 1, VIEW_GAP_5));
    column = view_column(view_scroll_begin(ui, right, "more"), VIEW_GAP_4);
    changed = how_it_moves(ui, &column, settings) || changed;
    foot(ui, &column, settings, answer);
    view_scroll_end(ui, view_flow_height(&column));
    return changed;
}

view_answer_of_screen view_settings_screen(view_ui *ui, view_settings *settings, bool *changed)
{
    view_answer_of_screen answer = {VIEW_STAY, 0, JOB_GUIDED};
    view_rect all = view_inset_xy(ui->screen, 40.0F, VIEW_GAP_5);
    view_push(ui, "settings", 0);
    view_rect bar = view_cut_top(&all, view_control_height(ui));
    if (view_icon_button(ui, view_cut_left(&bar, bar.h), VIEW_ICON_BACK, view_word(ui, "ui.back"), NULL) ||
        view_key_take(ui, VIEW_KEY_ESCAPE, 0)) {
        answer.wish = VIEW_GO_BACK;
    }
    view_cut_left(&bar, VIEW_GAP_3);
    view_label(ui, bar, VIEW_HEADING, VIEW_LEFT, ui->theme->ink, view_word(ui, "settings.title"));
    view_cut_top(&all, VIEW_GAP_4);
    *changed = cards(ui, all, settings, &answer) || *changed;
    view_pop(ui);
    return answer;
}
