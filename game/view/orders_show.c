/* One copy of the run: the picture, and beside each row of it a bar of its tension, what it has lost and what the last
 * pull took from it. */
#include "orders.h"

#include <math.h>
#include <string.h>

#include "pen.h"
#include "tautrow/base/text.h"

static const double BAR_REACH = 1.3; /* full width of a bar over the target, or the highest reading if that is more */
static const float GLIDE_S = 0.45F;

typedef struct bars {
    view_rect area;        /* of the bars alone */
    float value_x, lost_x; /* right edges of the two columns of numbers; they are left out where rows lie too close */
    view_font font;
    bool has_numbers;
    double reach_n;
} bars;

static view_font small_font(const view_ui *ui)
{
    return (view_font){11.5F * ui->text_scale, VIEW_REGULAR};
}

static float rows_pace(const view_ui *ui)
{
    return small_font(ui).size * 1.1F;
}

float view__orders_picture_least(const view_ui *ui, const view_orders *orders)
{
    /* head and foot as the elevation has them; the deck's gap and the rail's take about two rows more */
    const float text = 13.0F * ui->text_scale;
    const float rows = rows_pace(ui) * ((float)orders->setup.structure.row_count + 2.0F);
    return fminf(fmaxf(rows, 130.0F) + 3.5F * text + 26.0F, 560.0F * ui->text_scale);
}

static double bar_reach(const view_orders *orders)
{
    double reach_n = BAR_REACH * orders->setup.target_n;
    for (int side = 0; side < VIEW__SIDES; side++) {
        reach_n = fmax(reach_n, 1.05 * orders->side[side].done.worst_n);
    }
    return reach_n;
}

static float along(const bars *b, double tension_n)
{
    return b->area.x + b->area.w * fminf(fmaxf((float)(tension_n / b->reach_n), 0.0F), 1.0F);
}

/* By what has become of the row; the band beside the bar says the same without colour. */
static view_color bar_color(const view_ui *ui, const view_orders *orders, int row, const view__step *step,
                            double tension_n)
{
    const view_theme *t = ui->theme;
    const double target_n = orders->setup.target_n;
    const double slack_n = orders->setup.tolerance * target_n;
    if (tension_n > orders->setup.row_limit_n) {
        return t->bad;
    }
    if (step->highest_n[row] < target_n - slack_n) {
        return t->steel; /* not brought up yet */
    }
    return tension_n < target_n - slack_n ? t->warn : tension_n > target_n + slack_n ? t->accent : t->good;
}

static void draw_band(view_ui *ui, const bars *b, const view_orders *orders, bool is_pulled, tr_system system)
{
    const view_theme *t = ui->theme;
    const job_setup *setup = &orders->setup;
    char number[48];
    char words[96];
    const float low = along(b, setup->target_n * (1.0 - setup->tolerance));
    const float high = along(b, setup->target_n * (1.0 + setup->tolerance));
    view_fill_rect(ui->draw, (view_rect){low, b->area.y, high - low, b->area.h}, 0.0F, t->good_soft);
    view_stroke_line(ui->draw, low, b->area.y, low, b->area.y + b->area.h, 1.2F, t->good);
    view_stroke_line(ui->draw, high, b->area.y, high, b->area.y + b->area.h, 1.2F, t->good);
    tr_quantity_text(setup->target_n, TR_DIM_FORCE, system, TR_PLAIN, number, sizeof number);
    const char *args[] = {number};
    tr_lang_fill(ui->lang, "orders.target", args, 1, words, sizeof words);
    const float right = fmaxf(b->lost_x, b->area.x + b->area.w);
    const float half = view_text_width(ui->metrics, b->font, words) / 2.0F;
    const float middle = fmaxf(fminf((low + high) / 2.0F, right - half), b->area.x + half);
    view_text_fit(ui->draw, ui->metrics, middle - half, b->area.y - 6.0F, right - middle + half + 1.0F, b->font,
                  VIEW_LEFT, t->ink_soft, words);
    const char *lost = view_word(ui, "orders.lost");
    if (is_pulled && b->has_numbers &&
        b->lost_x - view_text_width(ui->metrics, b->font, lost) > middle + half + VIEW_GAP_2) {
        view_text(ui->draw, b->lost_x, b->area.y - 6.0F, b->font, VIEW_RIGHT, t->warn, lost);
    }
}

static void draw_numbers(view_ui *ui, const bars *b, const view__step *before, const view__step *step, int row,
                         double shown_n, float y, tr_system system)
{
    const view_theme *t = ui->theme;
    char text[32];
    const bool is_pulled = step->row == row;
    const view_font font = {b->font.size, is_pulled ? VIEW_BOLD : VIEW_REGULAR};
    const float base = y + b->font.size * 0.35F;
    (void)tr_format(text, sizeof text, system == TR_US ? "%.0f" : "%.2f",
                    tr_quantity_number(shown_n, TR_DIM_FORCE, system));
    view_text(ui->draw, b->value_x, base, font, VIEW_RIGHT, is_pulled ? t->accent : t->ink, text);
    const double lost_n = before == NULL || is_pulled ? 0.0 : before->tension_n[row] - step->tension_n[row];
    const double lost = tr_quantity_number(lost_n, TR_DIM_FORCE, system);
    if (lost >= (system == TR_US ? 0.5 : 0.005)) { /* else it would read as nothing */
        (void)tr_format(text, sizeof text, system == TR_US ? "−%.0f" : "−%.2f", lost);
        view_text(ui->draw, b->lost_x, base, font, VIEW_RIGHT, t->warn, text);
    }
}

/* What is gone since the row stood highest is left standing as an outline. */
static void draw_bar(view_ui *ui, const bars *b, const view_orders *orders, const view__step *step, int row,
                     double shown_n, view_rect at)
{
    const view_theme *t = ui->theme;
    const float now = along(b, shown_n);
    const float highest = along(b, fmax(step->highest_n[row], shown_n));
    const view_rect bar = {b->area.x, at.y, now - b->area.x, at.h};
    if (highest > now + 1.5F) {
        const view_rect lost = {now, at.y, highest - now, at.h};
        view_fill_rect(ui->draw, lost, 0.0F, view_fade(t->warn, 0.14F));
        view_stroke_rect(ui->draw, lost, 0.0F, 1.0F, view_fade(t->warn, 0.8F));
    }
    if (bar.w > 0.5F) {
        view_fill_rect(ui->draw, bar, 1.5F, bar_color(ui, orders, row, step, shown_n));
    }
    if (step->row == row) { /* the one in hand */
        const float y = at.y + at.h / 2.0F;
        const view_point head[3] = {{b->area.x - 9.0F, y - 5.0F}, {b->area.x - 9.0F, y + 5.0F}, {b->area.x - 2.0F, y}};
        view_fill_poly(ui->draw, head, 3, t->accent);
        view_stroke_rect(ui->draw, bar, 1.5F, 1.6F, t->accent);
    }
}

static bars measure(const view_ui *ui, view_rect area, const view_orders *orders, const view_hits *hits,
                    tr_system system)
{
    const int count = orders->setup.structure.row_count;
    bars b = {.area = area, .font = small_font(ui), .reach_n = bar_reach(orders)};
    float pace = 1000.0F;
    for (int i = 0; i < count; i++) {
        pace = fminf(pace, hits->row[i].h);
    }
    const float value = view_text_width(ui->metrics, b.font, system == TR_US ? "8888" : "8.88") + VIEW_GAP_2;
    const float lost = view_text_width(ui->metrics, b.font, system == TR_US ? "−888" : "−8.88") + VIEW_GAP_2;
    b.has_numbers = pace >= b.font.size * 0.95F;
    b.lost_x = area.x + area.w;
    b.value_x = b.lost_x - lost;
    view_cut_left(&b.area, 10.0F);
    if (b.has_numbers) {
        view_cut_right(&b.area, value + lost);
    }
    b.area.y = hits->row[count - 1].y;
    b.area.h = hits->row[0].y + hits->row[0].h - b.area.y;
    return b;
}

static void glide(view_ui *ui, const view__step *step, int count, double shown_n[MECH_MAX_ROWS])
{
    for (int i = 0; i < count; i++) {
        char label[24];
        (void)tr_format(label, sizeof label, "tension %d", i);
        shown_n[i] = (double)view_anim(ui, view_id_of(ui, label), (float)step->tension_n[i], GLIDE_S);
    }
}

void view__orders_picture(view_ui *ui, view_rect area, const view_orders *orders, int side, tr_system system)
{
    const int count = orders->setup.structure.row_count;
    const view__step *step = view__side_step(orders, side);
    const view__step *before = step == orders->side[side].done.step ? NULL : step - 1;
    const view_pen pen = view__pen_of(ui, system, 13.0F * ui->text_scale);
    double shown_n[MECH_MAX_ROWS] = {0.0};
    view_hits hits;
    glide(ui, step, count, shown_n);
    view_rect picture = view_cut_left(&area, floorf(area.w * 0.6F));
    view_elevation_look look;
    memset(&look, 0, sizeof look);
    look.show_true = picture.w >= 22.0F * pen.text;
    look.row = step->row;
    look.gap = look.plucked_row = -1;
    look.tension_n = shown_n;
    view_elevation(&pen, picture, &orders->setup, &orders->state, &look, &hits);
    view_cut_left(&area, VIEW_GAP_2);
    const bars b = measure(ui, area, orders, &hits, system);
    draw_band(ui, &b, orders, before != NULL, system);
    for (int i = 0; i < count; i++) {
        const float pace = i > 0 ? hits.row[i].h : hits.row[count > 1 ? 1 : 0].h;
        const float y = i == 0 && count > 1 ? hits.row[0].y + pace / 2.0F : hits.row[i].y + hits.row[i].h / 2.0F;
        const float thick = fminf(fmaxf(pace * 0.62F, 4.0F), 34.0F);
        draw_bar(ui, &b, orders, step, i, shown_n[i], (view_rect){b.area.x, y - thick / 2.0F, b.area.w, thick});
        if (b.has_numbers) {
            draw_numbers(ui, &b, before, step, i, shown_n[i], y, system);
        }
    }
}
