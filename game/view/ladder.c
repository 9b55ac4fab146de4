/* The row ladder: one rung a row, top row at the top. State by shape and word as well as by colour; a bar of the true
 * tension in guided mode, else what the trainee last read. */
#include "pic.h"

#include <math.h>

#include "tautrow/base/text.h"

typedef struct rungs {
    float height;   /* of one rung */
    bool is_tall;   /* two lines: words above, bar below */
    float number_w; /* column of the numbers and shapes */
    float word_w;   /* column of the words, one-line rungs */
    float content;
} rungs;

static const char *const look_key[] = {"pic.look.bare", "pic.look.under_way", "pic.look.slack",    "pic.look.in",
                                       "pic.look.over", "pic.look.to_check",  "pic.look.will_sink"};
/* Beyond the engine's looks: tensioned, yet nobody knows how far since the last body was turned; and above the band as the
 * pull sheet has it, because the rows still to be pulled will take the rest. */
enum { TO_CHECK = JOB_LOOK_OVER + 1, WILL_SINK, LOOKS };

static rungs measure(const view__board *board, const job_setup *setup)
{
    const float text = board->pen.text;
    const int count = setup->structure.row_count;
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    rungs out = {0};
    const float one = fmaxf(24.0F, text * 1.5F);
    const float two = fmaxf(34.0F, text * 2.3F);
    const float even = board->area.h / (float)count;
    for (int i = 0; i < LOOKS; i++) {
        out.word_w = fmaxf(out.word_w, view__width(board, font, view__word(board, look_key[i])));
    }
    out.number_w = text * 3.1F;
    const bool is_wide = board->area.w >= out.number_w + out.word_w + 7.0F * text;
    /* A narrow ladder needs two lines a rung whatever it costs in scrolling: a bar of a thumb's width tells nothing. */
    out.is_tall = even >= two || !is_wide;
    out.height = out.is_tall ? fminf(fmaxf(even, two), text * 3.4F) : fmaxf(fminf(even, two), one);
    out.content = out.height * (float)count;
    return out;
}

float view_ladder_scroll_to(const view_pen *pen, view_rect area, const job_setup *setup, bool show_true, int row,
                            float scroll)
{
    (void)show_true;
    const view__board board = {*pen, area};
    const rungs size = measure(&board, setup);
    const float top = size.height * (float)(setup->structure.row_count - 1 - row);
    const float most = fmaxf(size.content - area.h, 0.0F);
    if (top < scroll) {
        scroll = top;
    }
    if (top + size.height > scroll + area.h) {
        scroll = top + size.height - area.h;
    }
    return view__clamp(scroll, 0.0F, most);
}

/* ---- shapes ----------------------------------------------------------------------------------------------------- */

static view_color look_color(const view_theme *theme, int look)
{
    switch (look) {
    case JOB_LOOK_IN:
        return theme->good;
    case JOB_LOOK_OVER:
        return theme->bad;
    case JOB_LOOK_SLACK:
        return theme->warn;
    case JOB_LOOK_UNDER_WAY:
    case WILL_SINK:
        return theme->accent;
    default: /* bare, to check */
        return theme->ink_soft;
    }
}

/* bare: ring; under way: half-filled ring; slack: triangle down; in: disc with a tick; over: triangle up;
 * will sink: hollow triangle down; to check: diamond. */
static void shape(const view__board *board, float x, float y, float r, int look)
{
    view_draw *draw = board->pen.draw;
    const view_theme *theme = board->pen.theme;
    const view_color color = look_color(theme, look);
    const float tip = look == JOB_LOOK_OVER ? -1.0F : 1.0F;
    const view_point triangle[3] = {{x - r, y - tip * r * 0.75F}, {x + r, y - tip * r * 0.75F}, {x, y + tip * r}};
    const view_point diamond[5] = {{x, y - r}, {x + r, y}, {x, y + r}, {x - r, y}, {x, y - r}};
    switch (look) {
    case JOB_LOOK_BARE:
        view_stroke_circle(draw, x, y, r * 0.85F, 1.6F, color);
        break;
    case JOB_LOOK_UNDER_WAY: {
        view_point half[9];
        for (int i = 0; i < 9; i++) {
            const float a = (float)i / 8.0F * (float)TR_PI;
            half[i] = (view_point){x + r * 0.85F * cosf(a), y + r * 0.85F * sinf(a)};
        }
        view_fill_poly(draw, half, 9, color);
        view_stroke_circle(draw, x, y, r * 0.85F, 1.6F, color);
        break;
    }
    case JOB_LOOK_SLACK:
    case JOB_LOOK_OVER:
        view_fill_poly(draw, triangle, 3, color);
        break;
    case WILL_SINK: {
        const view_point open[4] = {triangle[0], triangle[1], triangle[2], triangle[0]};
        view_stroke_poly(draw, open, 4, 1.6F, 0.0F, color);
        break;
    }
    case JOB_LOOK_IN: {
        const view_point tick[3] = {{x - r * 0.45F, y}, {x - r * 0.1F, y + r * 0.4F}, {x + r * 0.5F, y - r * 0.4F}};
        view_fill_circle(draw, x, y, r, color);
        view_stroke_poly(draw, tick, 3, 1.8F, 0.0F, theme->accent_ink);
        break;
    }
    default:
        view_stroke_poly(draw, diamond, 5, 1.6F, 0.0F, color);
        break;
    }
}

/* ---- the bar ---------------------------------------------------------------------------------------------------- */

/* Full width of a bar = this many times the target, so that the band lies at two thirds and there is room above it. */
static const double bar_reach = 1.5;

static float bar_x(view_rect bar, const job_setup *setup, double tension_n)
{
    return bar.x + bar.w * view__clamp((float)(tension_n / (setup->target_n * bar_reach)), 0.0F, 1.0F);
}

/* Where the row stood before, above where it stands now: what it has lost. Marks that would run into a newer one are left
 * out. Returns the highest place. */
static float former_marks(const view__board *board, const job_setup *setup, view_rect bar, const view_ladder_look *look,
                          int row, float now)
{
    const int count = look->former_n == NULL                 ? 0
                      : look->former_count < VIEW_MAX_FORMER ? look->former_count
                                                             : VIEW_MAX_FORMER;
    float place[VIEW_MAX_FORMER];
    int drawn = 0;
    float highest = now;
    for (int i = count - 1; i >= 0; i--) {
        const float x = bar_x(bar, setup, look->former_n[i][row]);
        bool is_free = x > now + 2.0F;
        for (int j = 0; j < drawn; j++) {
            is_free = is_free && fabsf(x - place[j]) >= 6.0F;
        }
        highest = fmaxf(highest, x);
        if (is_free) {
            const float fade = 0.25F + 0.55F * (float)(i + 1) / (float)count;
            view_fill_rect(board->pen.draw, (view_rect){x - 0.75F, bar.y, 1.5F, bar.h}, 0.0F,
                           view_fade(board->pen.theme->ink_soft, fade));
            place[drawn++] = x;
        }
    }
    return highest;
}

static void true_bar(const view__board *board, const job_setup *setup, view_rect bar, const view_ladder_look *look,
                     int row, double tension_n, int kind)
{
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    const float low = bar_x(bar, setup, setup->target_n * (1.0 - setup->tolerance));
    const float high = bar_x(bar, setup, setup->target_n * (1.0 + setup->tolerance));
    view_fill_rect(draw, (view_rect){bar.x, bar.y + 0.5F * bar.h - 0.5F, bar.w, 1.0F}, 0.0F,
                   view_fade(theme->ink_faint, 0.5F));
    view_fill_rect(draw, (view_rect){low, bar.y - 2.0F, fmaxf(high - low, 2.0F), bar.h + 4.0F}, 0.0F, theme->good_soft);
    const float now = bar_x(bar, setup, tension_n);
    const float highest = former_marks(board, setup, bar, look, row, now);
    if (highest > now + 2.0F) {
        view_fill_rect(draw, (view_rect){now, bar.y + bar.h * 0.3F, highest - now, bar.h * 0.4F}, 0.0F,
                       view_fade(theme->ink_faint, 0.45F));
    }
    if (now > bar.x + 1.0F) {
        view_fill_rect(draw, (view_rect){bar.x, bar.y + 1.0F, now - bar.x, bar.h - 2.0F}, 1.5F,
                       look_color(theme, kind));
    }
    for (int edge = 0; edge < 2; edge++) {
        const float x = edge == 0 ? low : high;
        view_stroke_line(draw, x, bar.y - 2.0F, x, bar.y + bar.h + 2.0F, 1.2F, theme->good);
    }
}

/* A reading is stale once any body has been turned after it: the rows pull on each other. */
static bool is_stale(const job_setup *setup, const job_state *state, int row)
{
    for (int i = 0; i < setup->structure.row_count; i++) {
        if (state->row[i].turned_at > state->row[row].measured_at) {
            return true;
        }
    }
    return false;
}

static void reading(const view__board *board, const job_setup *setup, const job_state *state,
                    const view_ladder_look *look, view_rect bar, int row)
{
    const view_theme *theme = board->pen.theme;
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    char value[VIEW__TEXT_CAP];
    char text[VIEW__TEXT_CAP];
    const double read_n = look->reading_n == NULL ? -1.0 : look->reading_n[row];
    if (read_n < 0.0) {
        if (state->row[row].is_joined) {
            view_text_fit(board->pen.draw, board->pen.metrics, bar.x, bar.y + bar.h * 0.5F + font.size * 0.35F, bar.w,
                          font, VIEW_LEFT, theme->ink_soft, view__word(board, "pic.not_read"));
        }
        return;
    }
    const bool old = is_stale(setup, state, row);
    view__quantity(board, read_n, TR_DIM_FORCE, value, sizeof value);
    view__fill(board, old ? "pic.read_before" : "pic.read", value, NULL, text, sizeof text);
    if (view__width(board, font, text) > bar.w) {
        tr_copy(text, sizeof text, value);
    }
    view_text_fit(board->pen.draw, board->pen.metrics, bar.x, bar.y + bar.h * 0.5F + font.size * 0.35F, bar.w, font,
                  VIEW_LEFT, old ? theme->ink_soft : theme->ink, text);
}

/* ---- rungs ------------------------------------------------------------------------------------------------------ */

/* Outside guided mode a trainee cannot know whether a tensioned row is in: only what has been done to it shows. */
static int shown_look(const job_setup *setup, const job_state *state, const view_ladder_look *look, int row)
{
    const job_row_look kind = job_row_look_of(setup, state, row);
    if (look->show_true && kind == JOB_LOOK_OVER && look->end_n != NULL &&
        job_is_in_tolerance(setup, look->end_n[row])) {
        return WILL_SINK;
    }
    if (look->show_true || kind == JOB_LOOK_BARE || kind == JOB_LOOK_UNDER_WAY) {
        return (int)kind;
    }
    const double read_n = look->reading_n == NULL ? -1.0 : look->reading_n[row];
    if (read_n < 0.0 || is_stale(setup, state, row)) {
        return TO_CHECK;
    }
    return read_n < setup->target_n * (1.0 - setup->tolerance)   ? JOB_LOOK_SLACK
           : read_n > setup->target_n * (1.0 + setup->tolerance) ? JOB_LOOK_OVER
                                                                 : JOB_LOOK_IN;
}

/* What the trip under way gave or took; a change that no hand would feel is not told. Returns the width used. */
static float change(const view__board *board, const job_setup *setup, const view_ladder_look *look, float right,
                    float baseline, int row, double tension_n)
{
    if (!look->show_true || look->before_n == NULL) {
        return 0.0F;
    }
    const double by_n = tension_n - look->before_n[row];
    if (fabs(by_n) < 0.005 * setup->target_n) {
        return 0.0F;
    }
    char text[VIEW__TEXT_CAP];
    const view_font font = view__font(board, 0.86F, VIEW_SEMIBOLD);
    view__signed_force(board, by_n, text, sizeof text);
    view__say(board, right, baseline, font, VIEW_RIGHT, by_n < 0.0 ? board->pen.theme->warn : board->pen.theme->ink,
              text);
    return view__width(board, font, text) + font.size * 0.8F;
}

static void word(const view__board *board, const job_setup *setup, float x, float baseline, float width, int kind,
                 int row)
{
    const view_theme *theme = board->pen.theme;
    const view_font font = view__font(board, 0.86F, VIEW_REGULAR);
    const char *text = view__word(board, look_key[kind]);
    view_text_fit(board->pen.draw, board->pen.metrics, x, baseline, width, font, VIEW_LEFT, look_color(theme, kind),
                  text);
    const float used = view__width(board, font, text) + font.size * 0.8F;
    const char *crew = view__word(board, "pic.crew_before");
    if (!setup->is_trainees[row] && used + view__width(board, font, crew) <= width) {
        view_text_fit(board->pen.draw, board->pen.metrics, x + width, baseline, width - used, font, VIEW_RIGHT,
                      theme->ink_soft, crew);
    }
}

static void rung(const view__board *board, const job_setup *setup, const job_state *state, const view_ladder_look *look,
                 const rungs *size, view_rect at, int row)
{
    const view_theme *theme = board->pen.theme;
    view_draw *draw = board->pen.draw;
    const float text = board->pen.text;
    const int kind = shown_look(setup, state, look, row);
    if (look->row == row) {
        view_fill_rect(draw, (view_rect){at.x, at.y + 1.0F, at.w, at.h - 2.0F}, 4.0F, theme->accent_soft);
        view_fill_rect(draw, (view_rect){at.x, at.y + 1.0F, 4.0F, at.h - 2.0F}, 2.0F, theme->accent);
    }
    view_stroke_line(draw, at.x, at.y + at.h, at.x + at.w, at.y + at.h, 1.0F, view_fade(theme->ink_faint, 0.4F));
    if (!setup->is_trainees[row]) {
        /* rows of the crew before: a slanted corner, as on a sheet already signed off */
        const view_point corner[3] = {
            {at.x + at.w - text * 0.6F, at.y}, {at.x + at.w, at.y}, {at.x + at.w, at.y + text * 0.6F}};
        view_fill_poly(draw, corner, 3, theme->ink_faint);
    }
    char digits[VIEW__TEXT_CAP];
    tr_format(digits, sizeof digits, "%d", row + 1);
    const view_font bold = view__font(board, 1.0F, VIEW_SEMIBOLD);
    const float line_y = size->is_tall ? at.y + fminf(at.h * 0.44F, text * 1.25F) : at.y + at.h * 0.5F + text * 0.36F;
    view_text_fit(draw, board->pen.metrics, at.x + text * 1.7F, line_y, text * 1.5F, bold, VIEW_RIGHT, theme->ink,
                  digits);
    shape(board, at.x + text * 2.35F, line_y - text * 0.35F, text * 0.42F, kind);
    const float left = at.x + size->number_w;
    const float right = at.x + at.w - text * 0.7F;
    view_rect bar = {left, at.y + at.h * 0.5F - text * 0.4F, right - left, text * 0.8F};
    const double tension_n = look->tension_n != NULL ? look->tension_n[row] : state->rows.tension_n[row];
    if (size->is_tall) {
        const float used = state->row[row].is_joined ? change(board, setup, look, right, line_y, row, tension_n) : 0.0F;
        word(board, setup, left, line_y, right - left - used, kind, row);
        bar.h = view__clamp(at.h - (line_y - at.y) - text * 0.75F, 5.0F, text * 0.75F);
        bar.y = line_y + text * 0.42F;
    } else {
        word(board, setup, left, line_y, size->word_w, kind, row);
        bar.x = left + size->word_w + text * 0.6F;
        bar.w = right - bar.x;
        /* room for the change at the end, there or not: bars must not jump when a body is turned */
        if (look->show_true && bar.w > 15.0F * text) {
            bar.w -= 5.0F * text;
            (void)(state->row[row].is_joined ? change(board, setup, look, right, line_y, row, tension_n) : 0.0F);
        }
    }
    if (!look->show_true) {
        reading(board, setup, state, look, bar, row);
    } else if (state->row[row].is_joined) {
        true_bar(board, setup, bar, look, row, tension_n, kind);
    }
}

void view_ladder(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state,
                 const view_ladder_look *look, view_ladder_hits *hits)
{
    const view__board board = {*pen, area};
    const rungs size = measure(&board, setup);
    const int count = setup->structure.row_count;
    const bool can_scroll = size.content > area.h + 0.5F;
    const float scroll = view__clamp(look->scroll, 0.0F, fmaxf(size.content - area.h, 0.0F));
    const float width = area.w - (can_scroll ? 8.0F : 0.0F);
    hits->row_count = count;
    hits->content = size.content;
    hits->rung = size.height;
    view_clip_push(pen->draw, area);
    for (int i = 0; i < count; i++) {
        const int row = count - 1 - i;
        const view_rect at = {area.x, area.y + size.height * (float)i - scroll, width, size.height};
        hits->row[row] = (view_rect){0};
        if (at.y + at.h <= area.y + 0.5F || at.y >= area.y + area.h - 0.5F) {
            continue;
        }
        rung(&board, setup, state, look, &size, at, row);
        const float top = fmaxf(at.y, area.y);
        hits->row[row] = (view_rect){at.x, top, at.w, fminf(at.y + at.h, area.y + area.h) - top};
    }
    if (can_scroll) {
        const float share = area.h / size.content;
        view_fill_rect(pen->draw, (view_rect){area.x + area.w - 5.0F, area.y, 5.0F, area.h}, 2.5F, pen->theme->inset);
        view_fill_rect(pen->draw, (view_rect){area.x + area.w - 5.0F, area.y + scroll * share, 5.0F, area.h * share},
                       2.5F, pen->theme->steel_dark);
    }
    view_clip_pop(pen->draw);
}
