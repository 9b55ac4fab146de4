/* What the order changes: the same run twice, all rows hand tight, tensioned step by step in two orders. The numbers are
 * worked out when the screen opens or a choice changes; a frame only shows them. */
#include "orders.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"

/* ---- the two runs ----------------------------------------------------------------------------------------------- */

const view__step *view__side_step(const view_orders *orders, int side)
{
    const view__tensioning *done = &orders->side[side].done;
    return &done->step[orders->step < done->pulls ? orders->step : done->pulls];
}

bool view__side_is_done(const view_orders *orders, int side)
{
    return orders->step >= orders->side[side].done.pulls;
}

/* Only rows that are the trainee's to tension are pulled, whatever the rule. */
int view__orders_rows(const job_setup *setup, int choice, int out[MECH_MAX_ROWS])
{
    int all[MECH_MAX_ROWS];
    bool is_pulled[MECH_MAX_ROWS] = {false};
    int count = 0;
    if (choice == (int)MECH_ORDER_LIST) {
        memcpy(out, setup->order, sizeof setup->order);
        return setup->order_count;
    }
    for (int i = 0; i < setup->order_count; i++) {
        is_pulled[setup->order[i]] = true;
    }
    mech_order_rows((mech_order)choice, setup->structure.row_count, all);
    for (int i = 0; i < setup->structure.row_count; i++) {
        if (is_pulled[all[i]]) {
            out[count++] = all[i];
        }
    }
    return count;
}

static void work_out(view_orders *orders, int side)
{
    const job_setup *setup = &orders->setup;
    view__side *s = &orders->side[side];
    view__plan plan = {.way = (view__way)s->way,
                       .target_n = setup->target_n,
                       .share = setup->round_share,
                       .rounds = setup->rounds,
                       .row_limit_n = setup->row_limit_n};
    plan.count = view__orders_rows(setup, s->order, plan.order);
    view__tension(&orders->state.run, &orders->state.rows, &plan, &s->done);
    s->end = view__end_of(&s->done, setup->target_n, setup->tolerance);
    const int other = orders->side[1 - side].done.pulls;
    orders->last = s->done.pulls > other ? s->done.pulls : other;
    orders->step = orders->step < orders->last ? orders->step : orders->last;
}

view_orders *view_orders_open(const scenario *what)
{
    view_orders *orders = calloc(1, sizeof *orders);
    if (orders == NULL) {
        return NULL;
    }
    orders->what = what;
    orders->setup = what->setup;
    orders->setup.fault_count = 0;
    for (int i = 0; i < what->setup.order_count; i++) {
        orders->setup.start_stage[what->setup.order[i]] = JOB_STAGE_TENSION;
    }
    job_start(&orders->setup, &orders->state);
    orders->sheets_order = (int)what->setup.order_rule;
    orders->order_count = what->setup.order_rule == MECH_ORDER_LIST ? VIEW__ORDERS : VIEW__ORDERS - 1;
    orders->side[0].order = orders->sheets_order;
    orders->side[1].order = orders->sheets_order == (int)MECH_BOTTOM_UP ? (int)MECH_MIDDLE_OUT : (int)MECH_BOTTOM_UP;
    for (int side = 0; side < VIEW__SIDES; side++) {
        work_out(orders, side);
    }
    return orders;
}

void view_orders_close(view_orders *orders)
{
    free(orders);
}

void view_orders_show(view_orders *orders, int step)
{
    orders->step = step < 0 ? 0 : step > orders->last ? orders->last : step;
    orders->is_playing = false;
}

/* ---- one side --------------------------------------------------------------------------------------------------- */

static const char *const side_names[VIEW__SIDES] = {"A", "B"};

static bool choose(view_ui *ui, view_rect rect, const char *name, const char *const keys[], int count, int *choice)
{
    const char *words[VIEW__ORDERS];
    for (int i = 0; i < count; i++) {
        words[i] = view_word(ui, keys[i]);
    }
    return view_segments(ui, rect, view_word(ui, name), words, count, choice);
}

static float choices_height(const view_ui *ui)
{
    return 2.0F * view_control_height(ui) + VIEW_GAP_2;
}

/* A badge with the side's name, and its two choices. */
static void draw_choices(view_ui *ui, view_rect room, view_orders *orders, int side)
{
    static const char *const orders_keys[VIEW__ORDERS] = {"orders.order.middle_out", "orders.order.top_down",
                                                          "orders.order.bottom_up", "orders.order.outside_in",
                                                          "orders.order.list"};
    static const char *const ways_keys[VIEW__WAYS] = {"orders.way.once", "orders.way.rounds", "orders.way.sheet"};
    view__side *s = &orders->side[side];
    const float height = view_control_height(ui);
    const view_rect badge = view_cut_left(&room, height);
    view_fill_circle(ui->draw, badge.x + height / 2.0F, badge.y + height / 2.0F, height * 0.46F, ui->theme->ink);
    view_label(ui, (view_rect){badge.x, badge.y, height, height}, VIEW_TITLE, VIEW_CENTRE, ui->theme->panel,
               side_names[side]);
    view_cut_left(&room, VIEW_GAP_3);
    room.w = fminf(room.w, 760.0F * ui->text_scale);
    const bool is_order =
        choose(ui, view_cut_top(&room, height), "orders.order", orders_keys, orders->order_count, &s->order);
    view_cut_top(&room, VIEW_GAP_2);
    const bool is_way = choose(ui, view_cut_top(&room, height), "orders.way", ways_keys, VIEW__WAYS, &s->way);
    if (is_order || is_way) {
        work_out(orders, side);
        ui->wants_frame = true;
    }
}

static float facts_height(const view_ui *ui)
{
    return view_line_of(ui, VIEW_CAPTION) + view_line_of(ui, VIEW_TITLE) + 14.0F;
}

static void draw_fact(view_ui *ui, view_rect room, const char *key, double si, tr_dim dim, tr_system system)
{
    char text[48];
    tr_quantity_text(si, dim, system, dim == TR_DIM_LENGTH ? TR_FINE : TR_PLAIN, text, sizeof text);
    view_label(ui, view_cut_top(&room, view_line_of(ui, VIEW_CAPTION)), VIEW_CAPTION, VIEW_LEFT, ui->theme->ink_soft,
               view_word(ui, key));
    view_label(ui, view_cut_top(&room, view_line_of(ui, VIEW_TITLE)), VIEW_TITLE, VIEW_LEFT, ui->theme->ink, text);
}

/* The off-centre load on a scale that both sides share: now as a bar, the peak as a mark that stays. */
static void draw_gauge(view_ui *ui, view_rect rect, const view_orders *orders, const view__step *step)
{
    const view_theme *t = ui->theme;
    double most = 1e-9;
    for (int side = 0; side < VIEW__SIDES; side++) {
        most = fmax(most, orders->side[side].end.off_centre_peak_n_m);
    }
    const float full = rect.w - 3.0F;
    const float now = view_anim(ui, view_id_of(ui, "off centre"), (float)(step->off_centre_n_m / most), 0.45F) * full;
    const float peak = (float)(step->off_centre_peak_n_m / most) * full;
    view_fill_rect(ui->draw, rect, 2.0F, t->inset);
    view_fill_rect(ui->draw, (view_rect){rect.x, rect.y, peak, rect.h}, 2.0F, view_fade(t->force, 0.3F));
    view_fill_rect(ui->draw, (view_rect){rect.x, rect.y, now, rect.h}, 2.0F, t->force);
    view_fill_rect(ui->draw, (view_rect){rect.x + peak, rect.y - 3.0F, 3.0F, rect.h + 6.0F}, 0.0F, t->ink);
}

static void draw_facts(view_ui *ui, view_rect room, const view_orders *orders, int side, tr_system system)
{
    const view__step *step = view__side_step(orders, side);
    const view_rect gauge = view_cut_bottom(&room, 8.0F);
    draw_fact(ui, view_split_x(room, 3, 0, VIEW_GAP_2), "orders.off_now", step->off_centre_n_m, TR_DIM_MOMENT, system);
    draw_fact(ui, view_split_x(room, 3, 1, VIEW_GAP_2), "orders.off_peak", step->off_centre_peak_n_m, TR_DIM_MOMENT,
              system);
    draw_fact(ui, view_split_x(room, 3, 2, VIEW_GAP_2), "orders.bend", step->bend_m, TR_DIM_LENGTH, system);
    draw_gauge(ui, gauge, orders, step);
}

static float icon_lead(const view_ui *ui)
{
    return view_line_of(ui, VIEW_BODY) + VIEW_GAP_1;
}

/* Height of the longest sentence that a step can give. */
static float step_words_height(const view_ui *ui, const view_orders *orders, float width, tr_system system)
{
    static const double DIGITS_N = 999.0 * TR_LBF_N;
    view__step longest = {.row = 38, .reading_n = DIGITS_N, .lost_n = DIGITS_N, .rail_n = 8.0 * DIGITS_N};
    char text[VIEW__WORDS_CAP];
    float height = 0.0F;
    for (int loses = 0; loses < 2; loses++) {
        longest.loser = loses == 1 ? 38 : -1;
        view__orders_step_words(&orders->setup, &longest, ui->lang, system, text, sizeof text);
        height = fmaxf(height, view_paragraph_height(ui, width, VIEW_BODY, text));
    }
    return height;
}

/* Room for the words of a side, the same from the first step to the last so that nothing jumps. */
static float words_height(const view_ui *ui, const view_orders *orders, float width, tr_system system)
{
    char text[VIEW__WORDS_CAP];
    const float step = step_words_height(ui, orders, width, system);
    float height = 0.0F;
    for (int side = 0; side < VIEW__SIDES; side++) {
        view__orders_start_words(orders, side, ui->lang, text, sizeof text);
        const float start = view_paragraph_height(ui, width, VIEW_BODY, text);
        view__orders_end_words(orders, side, ui->lang, system, text, sizeof text);
        const float end = view_paragraph_height(ui, width - icon_lead(ui), VIEW_STRONG, text);
        height = fmaxf(height, fmaxf(start, step + VIEW_GAP_1 + end));
    }
    return height;
}

static void draw_words(view_ui *ui, view_rect room, const view_orders *orders, int side, tr_system system)
{
    const view_theme *t = ui->theme;
    char text[VIEW__WORDS_CAP];
    const view__side *s = &orders->side[side];
    const view__step *step = view__side_step(orders, side);
    if (step->row < 0) {
        view__orders_start_words(orders, side, ui->lang, text, sizeof text);
    } else {
        view__orders_step_words(&orders->setup, step, ui->lang, system, text, sizeof text);
    }
    view_cut_top(&room, view_paragraph(ui, room, VIEW_BODY, t->ink, text) + VIEW_GAP_1);
    if (!view__side_is_done(orders, side) || s->done.status == MECH_SHEET_DIVERGED) {
        return;
    }
    const bool is_in = s->end.in_count == s->done.row_count && s->done.worst_n <= orders->setup.row_limit_n;
    view__orders_end_words(orders, side, ui->lang, system, text, sizeof text);
    const view_rect icon = view_cut_left(&room, icon_lead(ui));
    const float line = view_line_of(ui, VIEW_BODY);
    view_icon_draw(ui->draw, is_in ? VIEW_ICON_CHECK : VIEW_ICON_WARNING, icon.x + line * 0.4F, icon.y + line * 0.5F,
                   line * 0.82F, is_in ? t->good : t->warn);
    (void)view_paragraph(ui, room, VIEW_STRONG, is_in ? t->good : t->warn, text);
}

static float side_height(const view_ui *ui, const view_orders *orders, float width, tr_system system, float picture)
{
    return 2.0F * VIEW_GAP_4 + choices_height(ui) + VIEW_GAP_2 + picture + VIEW_GAP_2 + facts_height(ui) + VIEW_GAP_3 +
           words_height(ui, orders, width - 2.0F * VIEW_GAP_4, system);
}

static void draw_side(view_ui *ui, view_rect area, view_orders *orders, int side, tr_system system)
{
    view_push(ui, "side", side);
    view_rect room = view_panel(ui, area);
    draw_choices(ui, view_cut_top(&room, choices_height(ui)), orders, side);
    view_cut_top(&room, VIEW_GAP_2);
    const view_rect words = view_cut_bottom(&room, words_height(ui, orders, room.w, system));
    view_cut_bottom(&room, VIEW_GAP_3);
    draw_facts(ui, view_cut_bottom(&room, facts_height(ui)), orders, side, system);
    view_cut_bottom(&room, VIEW_GAP_2);
    view__orders_picture(ui, room, orders, side, system);
    draw_words(ui, words, orders, side, system);
    view_pop(ui);
}

/* ---- what it tells ---------------------------------------------------------------------------------------------- */

static float told_height(const view_ui *ui, const view_orders *orders, float width, tr_system system)
{
    char text[VIEW__WORDS_CAP];
    view__orders_told(orders, ui->lang, system, text, sizeof text);
    return view_paragraph_height(ui, width, VIEW_STRONG, text) + VIEW_GAP_1 +
           view_paragraph_height(ui, width, VIEW_BODY, view_word(ui, "orders.rule"));
}

static void draw_told(view_ui *ui, view_rect room, const view_orders *orders, tr_system system)
{
    char text[VIEW__WORDS_CAP];
    if (orders->step < orders->last) {
        const char *watch = view_word(ui, "orders.watch");
        view_cut_top(&room, (room.h - view_paragraph_height(ui, room.w, VIEW_BODY, watch)) / 2.0F);
        (void)view_paragraph(ui, room, VIEW_BODY, ui->theme->ink_soft, watch);
        return;
    }
    view__orders_told(orders, ui->lang, system, text, sizeof text);
    view_cut_top(&room, view_paragraph(ui, room, VIEW_STRONG, ui->theme->ink, text) + VIEW_GAP_1);
    (void)view_paragraph(ui, room, VIEW_BODY, ui->theme->ink_soft, view_word(ui, "orders.rule"));
}

/* ---- the steps -------------------------------------------------------------------------------------------------- */

/* About ten seconds for the whole, however many pulls. */
static double pace_s(const view_orders *orders)
{
    return fmin(1.0, fmax(0.45, 10.0 / (double)(orders->last > 0 ? orders->last : 1)));
}

static void play(view_ui *ui, view_orders *orders)
{
    if (!orders->is_playing) {
        return;
    }
    ui->wants_frame = true;
    if (ui->time_s - orders->played_s >= pace_s(orders)) {
        orders->played_s = ui->time_s;
        orders->step += orders->step < orders->last ? 1 : 0;
        orders->is_playing = orders->step < orders->last;
    }
}

static void start_or_pause(view_ui *ui, view_orders *orders)
{
    orders->is_playing = !orders->is_playing && orders->last > 0;
    if (orders->is_playing) {
        orders->step = orders->step == orders->last ? 0 : orders->step;
        orders->played_s = ui->time_s - pace_s(orders) * 0.6; /* the first pull comes soon */
        ui->wants_frame = true;
    }
}

static void go_to(view_ui *ui, view_orders *orders, int step)
{
    view_orders_show(orders, step);
    ui->wants_frame = true;
}

static void draw_slider(view_ui *ui, view_rect room, view_orders *orders)
{
    char at[16];
    char of[16];
    char words[96];
    const char *args[] = {at, of};
    (void)tr_format(at, sizeof at, "%d", orders->step);
    (void)tr_format(of, sizeof of, "%d", orders->last);
    tr_lang_fill(ui->lang, "orders.step.of", args, 2, words, sizeof words);
    float step = (float)orders->step;
    if (view_slider(ui, room, view_word(ui, "orders.step"), (view_range){0.0F, (float)orders->last, 1.0F}, &step,
                    words)) {
        go_to(ui, orders, (int)(step + 0.5F));
    }
}

static void draw_steps(view_ui *ui, view_rect bar, view_orders *orders)
{
    const float height = view_control_height(ui);
    view_rect line = view_centre_in(bar, bar.w, height);
    const bool is_end = orders->step == orders->last;
    if (view_icon_button(ui, view_cut_left(&line, height), VIEW_ICON_BACK, view_word(ui, "orders.back"), NULL)) {
        go_to(ui, orders, orders->step - 1);
    }
    view_cut_left(&line, VIEW_GAP_1);
    const view_button_spec spec = {.look = VIEW_PRIMARY,
                                   .icon = orders->is_playing ? VIEW_ICON_PAUSE : VIEW_ICON_PLAY,
                                   .key = VIEW_KEY_SPACE,
                                   .key_hint = ""};
    static const char *const keys[] = {"orders.play", "orders.pause", "orders.again"};
    float width = 0.0F;
    for (int i = 0; i < 3; i++) {
        width = fmaxf(width, view_button_width(ui, view_word(ui, keys[i]), &spec));
    }
    const char *word = view_word(ui, keys[orders->is_playing ? 1 : is_end ? 2 : 0]);
    if (view_button_with(ui, view_cut_left(&line, width), word, &spec)) {
        start_or_pause(ui, orders);
    }
    view_cut_left(&line, VIEW_GAP_1);
    if (view_icon_button(ui, view_cut_left(&line, height), VIEW_ICON_NEXT, view_word(ui, "orders.next"), NULL)) {
        go_to(ui, orders, orders->step + 1);
    }
    view_cut_left(&bar, line.x - bar.x + VIEW_GAP_4);
    draw_slider(ui, bar, orders);
}

/* Keys of the whole screen, after its widgets have had theirs. */
static void steps_by_keys(view_ui *ui, view_orders *orders)
{
    if (view_key_take(ui, VIEW_KEY_RIGHT, 0)) {
        go_to(ui, orders, orders->step + 1);
    } else if (view_key_take(ui, VIEW_KEY_LEFT, 0)) {
        go_to(ui, orders, orders->step - 1);
    } else if (view_key_take(ui, VIEW_KEY_HOME, 0)) {
        go_to(ui, orders, 0);
    } else if (view_key_take(ui, VIEW_KEY_END, 0)) {
        go_to(ui, orders, orders->last);
    }
}

/* ---- the whole -------------------------------------------------------------------------------------------------- */

static view_answer_of_screen top_bar(view_ui *ui, view_rect bar, const scenario *what)
{
    view_answer_of_screen answer = {VIEW_STAY, 0, JOB_GUIDED};
    char title[SCENARIO_TITLE_CAP + 64];
    if (view_icon_button(ui, view_cut_left(&bar, bar.h), VIEW_ICON_BACK, view_word(ui, "ui.back"), NULL) ||
        view_key_take(ui, VIEW_KEY_ESCAPE, 0)) {
        answer.wish = VIEW_GO_BACK;
    }
    view_cut_left(&bar, VIEW_GAP_3);
    if (view_icon_button(ui, view_cut_right(&bar, bar.h), VIEW_ICON_GEAR, view_word(ui, "home.settings"), NULL)) {
        answer.wish = VIEW_GO_SETTINGS;
    }
    view_cut_right(&bar, VIEW_GAP_3);
    (void)tr_format(title, sizeof title, "%s: %s", view_word(ui, "orders.title"),
                    scenario_title_in(&what->title, tr_lang_code(ui->lang)));
    view_label(ui, bar, VIEW_TITLE, VIEW_LEFT, ui->theme->ink, title);
    return answer;
}

/* Side by side where there is the width, else one above the other; what does not fit is scrolled. */
static void draw_sides(view_ui *ui, view_rect area, view_orders *orders, tr_system system)
{
    const bool is_stacked = area.w < 900.0F * ui->text_scale;
    const view_rect all = view_scroll_begin(ui, area, "both");
    view_rect room = view_inset_xy(all, 4.0F, 4.0F);
    const float width = is_stacked ? room.w : (room.w - VIEW_GAP_4) / 2.0F;
    const float told = told_height(ui, orders, room.w - 2.0F * VIEW_GAP_4, system) + 2.0F * VIEW_GAP_3;
    const float least = side_height(ui, orders, width, system, view__orders_picture_least(ui, orders));
    const float spare = area.h - 8.0F - told - VIEW_GAP_3;
    const float height = is_stacked ? least : fmaxf(least, spare);
    for (int side = 0; side < VIEW__SIDES; side++) {
        const view_rect below = {room.x, room.y + (height + VIEW_GAP_3) * (float)side, room.w, height};
        const view_rect beside = view_split_x((view_rect){room.x, room.y, room.w, height}, 2, side, VIEW_GAP_4);
        draw_side(ui, is_stacked ? below : beside, orders, side, system);
    }
    view_cut_top(&room, is_stacked ? 2.0F * height + VIEW_GAP_3 : height);
    room.y += VIEW_GAP_3;
    const view_rect card = {room.x, room.y, room.w, told};
    view_well(ui, card);
    draw_told(ui, view_inset_xy(card, VIEW_GAP_4, VIEW_GAP_3), orders, system);
    view_scroll_end(ui, card.y + card.h + 4.0F - all.y);
}

view_answer_of_screen view_orders_frame(view_ui *ui, view_orders *orders, tr_system system)
{
    view_rect all = view_inset_xy(ui->screen, VIEW_GAP_5, VIEW_GAP_3);
    static const view_pad_key pad[] = {
        {VIEW_PAD_Y, VIEW_KEY_SPACE}, {VIEW_PAD_LB, VIEW_KEY_LEFT}, {VIEW_PAD_RB, VIEW_KEY_RIGHT}};
    view_pad_keys(ui, pad, sizeof pad / sizeof pad[0]);
    view_push(ui, "orders", 0);
    play(ui, orders);
    const view_answer_of_screen answer = top_bar(ui, view_cut_top(&all, view_control_height(ui)), orders->what);
    view_cut_top(&all, VIEW_GAP_2);
    const view_rect bar = view_cut_bottom(&all, view_slider_height(ui));
    view_cut_bottom(&all, VIEW_GAP_2);
    draw_sides(ui, all, orders, system);
    draw_steps(ui, bar, orders);
    steps_by_keys(ui, orders);
    view_pop(ui);
    return answer;
}
