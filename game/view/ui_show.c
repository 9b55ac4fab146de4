/* What only shows: grounds, progress, meters, tags, cautions, and what lies on top of the frame (tooltip, toast). */
#include "tautrow/view/ui.h"

#include "ui_keep.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/text.h"

/* Yellow and black are the colours of a warning (ISO 3864-1), whatever the theme. */
#define SAFETY_YELLOW VIEW_RGBA(0xFFCC00, 0xFF)
#define SAFETY_BLACK  VIEW_RGBA(0x141414, 0xFF)

enum { TIP_DELAY_MS = 450, TOAST_MS = 4200, TOAST_LETTER_MS = 80 };

/* ---- grounds ------------------------------------------------------------------------------------------------- */

void view_shadow(view_ui *ui, view_rect rect, float radius, float lift)
{
    static const float spread[] = {1.0F, 0.72F, 0.48F, 0.28F, 0.1F};
    static const float strength[] = {0.010F, 0.013F, 0.017F, 0.022F, 0.03F};
    for (size_t i = 0; i < 5 && lift > 0.0F; i++) {
        const float out = lift * spread[i];
        const view_rect soft = {rect.x - out * 0.6F, rect.y - out * 0.1F, rect.w + out * 1.2F, rect.h + out * 1.1F};
        view_fill_rect(ui->draw, soft, radius + out * 0.6F, view_fade(ui->theme->ink, strength[i]));
    }
}

view_rect view_panel(view_ui *ui, view_rect rect)
{
    view_shadow(ui, rect, VIEW_RADIUS_CARD, 8.0F);
    view_fill_rect(ui->draw, rect, VIEW_RADIUS_CARD, ui->theme->panel);
    view_stroke_rect(ui->draw, rect, VIEW_RADIUS_CARD, 1.0F, ui->theme->panel_edge);
    return view_inset(rect, VIEW_GAP_4);
}

void view_well(view_ui *ui, view_rect rect)
{
    view_fill_rect(ui->draw, rect, VIEW_RADIUS, ui->theme->inset);
    view_stroke_rect(ui->draw, rect, VIEW_RADIUS, 1.0F, ui->theme->panel_edge);
}

void view_hairline(view_ui *ui, float x0, float y0, float x1, float y1)
{
    view_stroke_line(ui->draw, x0, y0, x1, y1, 1.0F, ui->theme->panel_edge);
}

/* ---- progress ------------------------------------------------------------------------------------------------ */

static void progress_dot(view_ui *ui, float x, float y, float radius, int step)
{
    const view_theme *t = ui->theme;
    if (step < 0) {
        view_fill_circle(ui->draw, x, y, radius, t->accent);
        view_icon_draw(ui->draw, VIEW_ICON_CHECK, x, y, radius * 1.35F, t->accent_ink);
    } else if (step == 0) {
        view_fill_circle(ui->draw, x, y, radius + 2.0F, t->accent_soft);
        view_stroke_circle(ui->draw, x, y, radius + 2.0F, 2.0F, t->accent);
        view_fill_circle(ui->draw, x, y, radius * 0.5F, t->accent);
    } else {
        view_fill_circle(ui->draw, x, y, radius - 1.0F, t->panel);
        view_stroke_circle(ui->draw, x, y, radius - 1.0F, 1.6F, t->ink_faint);
    }
}

void view_progress_dots(view_ui *ui, view_rect rect, int count, int current)
{
    const float y = rect.y + rect.h / 2.0F;
    const float radius = fminf(8.0F, rect.h / 2.0F - 3.0F);
    const float first = rect.x + radius + 3.0F;
    const float pitch = count > 1 ? (rect.w - 2.0F * radius - 6.0F) / (float)(count - 1) : 0.0F;
    for (int i = 0; i + 1 < count; i++) {
        const float x = first + pitch * (float)i;
        view_stroke_line(ui->draw, x, y, x + pitch, y, 2.0F, i < current ? ui->theme->accent : ui->theme->panel_edge);
    }
    for (int i = 0; i < count; i++) {
        progress_dot(ui, first + pitch * (float)i, y, radius, i - current);
    }
}

void view_meter(view_ui *ui, view_rect rect, float value, float band_from, float band_to, view_color color)
{
    const view_theme *t = ui->theme;
    const float radius = rect.h / 2.0F;
    const float share = fminf(fmaxf(value, 0.0F), 1.0F);
    const bool has_band = band_to > band_from;
    const float x0 = rect.x + rect.w * fmaxf(band_from, 0.0F);
    const float x1 = rect.x + rect.w * fminf(band_to, 1.0F);
    view_fill_rect(ui->draw, rect, radius, t->inset);
    if (has_band) {
        view_fill_rect(ui->draw, (view_rect){x0, rect.y, x1 - x0, rect.h}, 0.0F, t->good_soft);
    }
    const view_rect bar = {rect.x + 2.0F, rect.y + 2.0F, (rect.w - 4.0F) * share, rect.h - 4.0F};
    if (bar.w > 0.5F) {
        view_fill_rect(ui->draw, bar, bar.h / 2.0F, color);
    }
    view_stroke_rect(ui->draw, rect, radius, 1.0F, t->ink_faint);
    for (int i = 0; has_band && i < 2; i++) { /* the ends of the band stand out above and below the bar */
        const float x = i == 0 ? x0 : x1;
        view_stroke_line(ui->draw, x, rect.y - 4.0F, x, rect.y + 1.0F, 2.0F, t->ink);
        view_stroke_line(ui->draw, x, rect.y + rect.h - 1.0F, x, rect.y + rect.h + 4.0F, 2.0F, t->ink);
    }
}

float view_tag(view_ui *ui, float x, float y, view_icon icon, view_color ink, view_color ground, const char *text)
{
    const float height = view_line_of(ui, VIEW_CAPTION) + 6.0F;
    const float side = icon != VIEW_ICON_NONE ? 14.0F * ui->text_scale : 0.0F;
    const float lead = side > 0.0F ? side + 5.0F : 0.0F;
    const float width = ceilf(view_width_of(ui, VIEW_CAPTION, text)) + lead + 18.0F;
    const view_rect rect = {x, y, width, height};
    view_fill_rect(ui->draw, rect, height / 2.0F, ground);
    if (side > 0.0F) {
        view_icon_draw(ui->draw, icon, x + 9.0F + side / 2.0F, y + height / 2.0F, side, ink);
    }
    view_label(ui, (view_rect){x + 9.0F + lead, y, width - 18.0F - lead, height}, VIEW_CAPTION, VIEW_LEFT, ink, text);
    return width;
}

/* ---- cautions ------------------------------------------------------------------------------------------------ */

/* Where there is little room the word stands above the text instead of beside the sign. */
typedef struct banner_plan {
    float sign, flag, text_width, word_height;
    view_font word_font;
} banner_plan;

static banner_plan plan_banner(const view_ui *ui, float width, const char *word)
{
    banner_plan plan = {.sign = 26.0F * ui->text_scale, .word_font = view_font_of(ui, VIEW_STRONG)};
    plan.word_font.weight = VIEW_BOLD;
    const float word_width = ceilf(view_text_width(ui->metrics, plan.word_font, word));
    plan.flag = plan.sign + 2.0F * VIEW_GAP_3;
    if (width > 2.5F * word_width + plan.flag + 200.0F * ui->text_scale) {
        plan.flag += word_width + VIEW_GAP_2;
    } else {
        plan.word_height = view_line_of(ui, VIEW_STRONG);
    }
    plan.text_width = fmaxf(40.0F, width - plan.flag - 2.0F * VIEW_GAP_4);
    return plan;
}

static float height_of_plan(const view_ui *ui, const banner_plan *plan, const char *text)
{
    const float text_height = view_paragraph_height(ui, plan->text_width, VIEW_BODY, text);
    return fmaxf(text_height + plan->word_height + 2.0F * VIEW_GAP_3, plan->sign + 2.0F * VIEW_GAP_3);
}

float view_banner_height(const view_ui *ui, float width, const char *word, const char *text)
{
    const banner_plan plan = plan_banner(ui, width, word);
    return height_of_plan(ui, &plan, text);
}

static void sign(view_ui *ui, float x, float y, float size)
{
    const float half = size / 2.0F;
    view_draw *draw = ui->draw;
    const view_point outer[] = {
        {x, y - half * 0.95F}, {x + half, y + half * 0.8F}, {x - half, y + half * 0.8F}, {x, y - half * 0.95F}};
    view_fill_poly(draw, outer, 3, SAFETY_BLACK);
    view_stroke_poly(draw, outer, 4, size * 0.09F, 0.0F, SAFETY_BLACK);
    view_stroke_line(draw, x, y - half * 0.22F, x, y + half * 0.24F, size * 0.11F, SAFETY_YELLOW);
    view_fill_circle(draw, x, y + half * 0.55F, size * 0.07F, SAFETY_YELLOW);
}

float view_banner(view_ui *ui, view_rect rect, const char *word, const char *text)
{
    const view_theme *t = ui->theme;
    const banner_plan plan = plan_banner(ui, rect.w, word);
    const view_rect all = {rect.x, rect.y, rect.w, height_of_plan(ui, &plan, text)};
    view_rect rest = all;
    const view_rect flag = view_cut_left(&rest, plan.flag);
    view_fill_rect(ui->draw, all, VIEW_RADIUS, t->warn_soft);
    view_clip_push(ui->draw, flag); /* round at the left only */
    view_fill_rect(ui->draw, all, VIEW_RADIUS, SAFETY_YELLOW);
    view_clip_pop(ui->draw);
    view_stroke_rect(ui->draw, all, VIEW_RADIUS, 1.0F, view_mix(SAFETY_YELLOW, t->ink, 0.35F));
    sign(ui, flag.x + VIEW_GAP_3 + plan.sign / 2.0F, flag.y + flag.h / 2.0F, plan.sign);
    rest = view_inset_xy(rest, VIEW_GAP_4, VIEW_GAP_3);
    if (plan.word_height > 0.0F) {
        const view_rect line = view_cut_top(&rest, plan.word_height);
        view_text(ui->draw, line.x, view__baseline(line, plan.word_font), plan.word_font, VIEW_LEFT, t->ink, word);
    } else {
        view_text(ui->draw, flag.x + VIEW_GAP_3 + plan.sign + VIEW_GAP_2, view__baseline(flag, plan.word_font),
                  plan.word_font, VIEW_LEFT, SAFETY_BLACK, word);
    }
    const float used = view_paragraph_height(ui, plan.text_width, VIEW_BODY, text);
    rest.y += fmaxf(0.0F, (rest.h - used) / 2.0F);
    view_paragraph(ui, rest, VIEW_BODY, t->ink, text);
    return all.h;
}

/* ---- on top -------------------------------------------------------------------------------------------------- */

void view_tooltip(view_ui *ui, view_react react, view_rect rect, const char *text)
{
    struct view_ui_keep *keep = ui->keep;
    const bool is_still = ui->input->device == VIEW_BY_FINGER && ui->active == react.id && !keep->finger.has_moved;
    const bool is_pointed = react.is_hot && (ui->active == 0 || is_still);
    if (text == NULL || !(is_pointed || react.shows_ring)) {
        return;
    }
    const double since = is_pointed ? keep->hot_since_s : keep->focus_since_s;
    const float left = (float)(since + TIP_DELAY_MS / 1000.0 - ui->time_s);
    if (left > 0.0F) {
        view__wake(ui, left);
        return;
    }
    keep->finger.has_told = is_still || keep->finger.has_told;
    keep->tip.id = react.id;
    keep->tip.rect = rect;
    tr_copy(keep->tip.text, sizeof keep->tip.text, text);
}

void view__explain(view_ui *ui, view_react react, view_rect rect, const char *why_not, const char *tip)
{
    view_tooltip(ui, react, rect, why_not != NULL ? why_not : tip);
    const bool is_tapped = ui->input->device == VIEW_BY_FINGER && ui->input->released[VIEW_MOUSE_LEFT] && react.is_hot;
    if (why_not != NULL && is_tapped) { /* a finger cannot point: it has tried */
        view_toast(ui, VIEW_ICON_WARNING, why_not);
    }
}

void view_toast(view_ui *ui, view_icon icon, const char *text)
{
    view__toast *toast = &ui->keep->toast;
    tr_copy(toast->text, sizeof toast->text, text);
    toast->icon = icon;
    toast->from_s = ui->time_s;
    toast->is_on = true;
    ui->wants_frame = true;
}

/* Below its widget, above where there is no room; never off the screen. */
static void draw_tip(view_ui *ui)
{
    const view__tip *tip = &ui->keep->tip;
    const view_theme *t = ui->theme;
    const float widest = 300.0F * ui->text_scale;
    const float words = fminf(widest, ceilf(view_width_of(ui, VIEW_CAPTION, tip->text)) + 1.0F);
    const float height = view_paragraph_height(ui, words, VIEW_CAPTION, tip->text) + 2.0F * VIEW_GAP_2;
    view_rect box = {tip->rect.x + (tip->rect.w - words) / 2.0F - VIEW_GAP_3, tip->rect.y + tip->rect.h + VIEW_GAP_2,
                     words + 2.0F * VIEW_GAP_3, height};
    box.x = roundf(fmaxf(VIEW_GAP_2, fminf(box.x, ui->screen.w - box.w - VIEW_GAP_2)));
    if (box.y + box.h > ui->screen.h - VIEW_GAP_1) {
        box.y = fmaxf(VIEW_GAP_1, tip->rect.y - VIEW_GAP_2 - box.h);
    }
    view_shadow(ui, box, VIEW_RADIUS, 8.0F);
    view_fill_rect(ui->draw, box, VIEW_RADIUS, t->ink);
    view_paragraph(ui, view_inset_xy(box, VIEW_GAP_3, VIEW_GAP_2), VIEW_CAPTION, t->panel, tip->text);
}

/* Longer words stay longer: time to read them. */
static float toast_time(const view__toast *toast)
{
    return fmaxf((float)TOAST_MS, (float)(strlen(toast->text) * TOAST_LETTER_MS)) / 1000.0F;
}

static void draw_toast(view_ui *ui)
{
    view__toast *toast = &ui->keep->toast;
    const float stays = toast_time(toast);
    const float left = (float)(toast->from_s + (double)stays - ui->time_s);
    if (left <= 0.0F) {
        toast->is_on = false;
        ui->wants_frame = true; /* one more, without it */
        return;
    }
    const float age = stays - left;
    const float shown = ui->reduced_motion ? 1.0F : fminf(fminf(age / 0.18F, left / 0.25F), 1.0F);
    if (shown < 1.0F) {
        ui->wants_frame = true;
    }
    view__wake(ui, ui->reduced_motion || left <= 0.25F ? left : left - 0.25F);
    const view_theme *t = ui->theme;
    const float icon = toast->icon != VIEW_ICON_NONE ? 18.0F * ui->text_scale + VIEW_GAP_2 : 0.0F;
    const float words = ceilf(fminf(view_width_of(ui, VIEW_STRONG, toast->text) + 1.0F, ui->screen.w - 120.0F));
    const float text_height = view_paragraph_height(ui, words, VIEW_STRONG, toast->text);
    const float height = text_height - view_line_of(ui, VIEW_STRONG) + view_control_height(ui) + VIEW_GAP_1;
    const float radius = fminf(height, view_control_height(ui) + VIEW_GAP_1) / 2.0F;
    const float width = words + icon + 2.0F * VIEW_GAP_4;
    const view_rect box = {roundf((ui->screen.w - width) / 2.0F),
                           ui->screen.h - height - VIEW_GAP_5 + (1.0F - shown) * 12.0F, width, height};
    if (shown > 0.95F) {
        view_shadow(ui, box, radius, 10.0F);
    }
    view_fill_rect(ui->draw, box, radius, view_fade(t->ink, shown));
    view_icon_draw(ui->draw, toast->icon, box.x + VIEW_GAP_4 + icon / 2.0F - VIEW_GAP_1, box.y + height / 2.0F,
                   18.0F * ui->text_scale, view_fade(t->panel, shown));
    (void)view_paragraph(
        ui, (view_rect){box.x + VIEW_GAP_4 + icon, box.y + (height - text_height) / 2.0F, words, text_height},
        VIEW_STRONG, view_fade(t->panel, shown), toast->text);
}

void view__draw_top(view_ui *ui)
{
    if (ui->keep->toast.is_on) {
        draw_toast(ui);
    }
    if (ui->keep->tip.id != 0) {
        draw_tip(ui);
    }
}
