/* Looks at the draw list for what text lies where, and at its pixels for what ground it stands on. */
#include "frame_faults.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "draw_list.h"
#include "tautrow/base/text.h"
#include "ui_keep.h"

enum { MAX_TEXTS = 1024, MAX_CLIPS = 40 };

/* A text that is seen: its letters' box within its clip. */
typedef struct placed {
    const view__command *command;
    const char *text;
    view_rect box;  /* of its letters */
    view_rect port; /* all clips about it */
    view_rect own;  /* those that no scrolling moves */
} placed;

typedef struct page {
    placed text[MAX_TEXTS];
    size_t count;
} page;

__attribute__((format(printf, 2, 3))) static int find(const frame_seen *f, const char *format, ...)
{
    va_list args;
    (void)fprintf(stderr, "%s: ", f->where);
    va_start(args, format);
    (void)vfprintf(stderr, format, args);
    va_end(args);
    (void)fputc('\n', stderr);
    return 1;
}

static view_rect meet(view_rect a, view_rect b)
{
    const float x0 = fmaxf(a.x, b.x);
    const float y0 = fmaxf(a.y, b.y);
    return (view_rect){x0, y0, fmaxf(0.0F, fminf(a.x + a.w, b.x + b.w) - x0),
                       fmaxf(0.0F, fminf(a.y + a.h, b.y + b.h) - y0)};
}

/* ---- what is seen ----------------------------------------------------------------------------------------------- */

view_rect frame_letters(const view_metrics *metrics, const view__command *c, const char *text)
{
    const float width = view_text_width(metrics, c->font, text);
    const float back = c->align == VIEW_LEFT ? 0.0F : c->align == VIEW_RIGHT ? width : width / 2.0F;
    const float above = 0.62F * c->font.size;
    const float high = 0.67F * c->font.size;
    if (c->op == VIEW__TEXT_UP) {
        return (view_rect){c->rect.x - above, c->rect.y + back - width, high, width};
    }
    return (view_rect){c->rect.x - back, c->rect.y - above, width, high};
}

/* Where looking begins: behind the veil of a dialog nothing counts, nor beside a tooltip or toast under test. */
static size_t first_command(const frame_seen *f)
{
    const view_draw *draw = f->draw;
    size_t first = 0;
    for (size_t i = 1; i < draw->commands; i++) {
        const view__command *c = &draw->command[i];
        const bool is_veil = c->rect.w >= f->screen.w && c->rect.h >= f->screen.h;
        const bool is_card = c->color == f->theme->panel && c->radius == VIEW_RADIUS_CARD;
        const bool is_float = f->is_float_only && (is_card || c->color == f->theme->ink);
        if (c->op == VIEW__FILL_RECT && (is_veil || is_float)) {
            first = i;
        }
    }
    return first;
}

typedef struct clips {
    view_rect port[MAX_CLIPS], own[MAX_CLIPS];
    int depth;
} clips;

/* The clip of a scroll area that has more than it shows: its bar, drawn last, says so. */
static bool can_scroll(const frame_seen *f, size_t push)
{
    const view_draw *draw = f->draw;
    const view_rect port = draw->command[push].rect;
    int depth = 0;
    for (size_t i = push; i < draw->commands; i++) {
        const view__command *c = &draw->command[i];
        depth += c->op == VIEW__CLIP_PUSH ? 1 : c->op == VIEW__CLIP_POP ? -1 : 0;
        if (depth == 0) {
            return false;
        }
        const float from_edge = port.x + port.w - c->rect.x - c->rect.w;
        const view_theme *t = f->theme;
        /* 4 from its area, whose clip leaves 5 more for focus rings */
        const bool is_bar =
            (c->color == t->ink_faint && (c->rect.w == 7.0F || c->rect.w == 10.0F) && fabsf(from_edge - 9.0F) < 0.1F) ||
            (c->color == t->steel_dark && c->rect.w == 5.0F && fabsf(from_edge) < 0.1F); /* ladder */
        if (depth == 1 && c->op == VIEW__FILL_RECT && is_bar) {
            return true;
        }
    }
    return false;
}

static void push_clip(const frame_seen *f, clips *c, size_t push)
{
    static const view_rect all = {-1e6F, -1e6F, 2e6F, 2e6F};
    const view_rect rect = f->draw->command[push].rect;
    if (c->depth + 1 < MAX_CLIPS) {
        c->port[c->depth + 1] = meet(c->port[c->depth], rect);
        c->own[c->depth + 1] = can_scroll(f, push) ? all : meet(c->own[c->depth], rect);
        c->depth++;
    }
}

static void gather(const frame_seen *f, page *out)
{
    const view_draw *draw = f->draw;
    clips clip = {.port = {f->screen}, .own = {f->screen}};
    const size_t first = first_command(f);
    out->count = 0;
    for (size_t i = 0; i < draw->commands && out->count < MAX_TEXTS; i++) {
        const view__command *c = &draw->command[i];
        if (c->op == VIEW__CLIP_PUSH) {
            push_clip(f, &clip, i);
        } else if (c->op == VIEW__CLIP_POP && clip.depth > 0) {
            clip.depth--;
        } else if ((c->op == VIEW__TEXT || c->op == VIEW__TEXT_UP) && i >= first) {
            const char *text = &draw->text[c->first];
            if (text[strspn(text, " ")] != '\0' && (c->color & 0xFFU) > 8) {
                out->text[out->count++] =
                    (placed){c, text, frame_letters(f->metrics, c, text), clip.port[clip.depth], clip.own[clip.depth]};
            }
        }
    }
}

/* ---- text ------------------------------------------------------------------------------------------------------- */

static bool is_within(view_rect in, view_rect out, float slack)
{
    return in.x >= out.x - slack && in.y >= out.y - slack && in.x + in.w <= out.x + out.w + slack &&
           in.y + in.h <= out.y + out.h + slack;
}

/* Says what is cut; keeps what is seen. */
static int cut_faults(const frame_seen *f, page *p)
{
    int faults = 0;
    size_t kept = 0;
    for (size_t i = 0; i < p->count; i++) {
        placed *t = &p->text[i];
        const view_rect b = t->box;
        const bool is_cut_aside = b.x < t->port.x - 1.5F || b.x + b.w > t->port.x + t->port.w + 1.5F;
        if (is_cut_aside || !is_within(b, t->own, 1.5F)) {
            faults += find(f, "cut off: \"%s\" at %.0f, %.0f", t->text, (double)b.x, (double)b.y);
        }
        if (b.y + b.h > t->port.y + 1.0F && b.y < t->port.y + t->port.h - 1.0F) {
            p->text[kept] = *t;
            p->text[kept++].box = meet(b, t->port);
        }
    }
    p->count = kept;
    return faults;
}

static int overlap_faults(const frame_seen *f, const page *p)
{
    int faults = 0;
    for (size_t i = 0; i < p->count; i++) {
        for (size_t j = i + 1; j < p->count; j++) {
            const view_rect both = meet(p->text[i].box, p->text[j].box);
            if (both.w > 1.0F && both.h > 1.0F) {
                faults += find(f, "\"%s\" lies over \"%s\" at %.0f, %.0f", p->text[j].text, p->text[i].text,
                               (double)both.x, (double)both.y);
            }
        }
    }
    return faults;
}

static int short_faults(const frame_seen *f, const page *p)
{
    static const char ellipsis[] = "\xE2\x80\xA6";
    int faults = 0;
    for (size_t i = 0; i < p->count && !f->may_be_short; i++) {
        const char *text = p->text[i].text;
        const size_t length = strlen(text);
        const size_t end = sizeof ellipsis - 1;
        if (length >= end && strcmp(text + length - end, ellipsis) == 0) {
            faults +=
                find(f, "shortened: \"%s\" at %.0f, %.0f", text, (double)p->text[i].box.x, (double)p->text[i].box.y);
        }
    }
    return faults;
}

int frame_text_faults(const frame_seen *f)
{
    page *p = malloc(sizeof *p);
    if (p == NULL) {
        return find(f, "not enough memory");
    }
    gather(f, p);
    int faults = p->count == 0 ? find(f, "there is no text at all") : 0;
    faults += p->count == MAX_TEXTS ? find(f, "more text than can be looked at") : 0;
    faults += cut_faults(f, p);
    faults += short_faults(f, p);
    faults += overlap_faults(f, p);
    free(p);
    return faults;
}

bool frame_shows(const frame_seen *f, const char *start)
{
    page *p = malloc(sizeof *p);
    bool is_seen = false;
    if (p != NULL) {
        gather(f, p);
    }
    for (size_t i = 0; p != NULL && i < p->count && !is_seen; i++) {
        const view_rect seen = meet(p->text[i].box, p->text[i].port);
        is_seen = strncmp(p->text[i].text, start, strlen(start)) == 0 && seen.h > 0.5F * p->text[i].box.h;
    }
    free(p);
    return is_seen;
}

/* ---- targets ---------------------------------------------------------------------------------------------------- */

/* What a scroll area cuts is whole once it is scrolled to. */
static bool is_at_port_edge(const frame_seen *f, view_rect r)
{
    const view_draw *draw = f->draw;
    for (size_t i = 0; i < draw->commands; i++) {
        const view_rect port = draw->command[i].rect;
        const bool touches = fabsf(r.y - port.y) < 0.1F || fabsf(r.y + r.h - port.y - port.h) < 0.1F;
        if (draw->command[i].op == VIEW__CLIP_PUSH && touches && is_within(r, port, 0.1F) && can_scroll(f, i)) {
            return true;
        }
    }
    return false;
}

/* Size: WCAG 2.2, 2.5.8. One target may lie wholly on another (a button on a card): the one on top answers. */
int frame_target_faults(const frame_seen *f)
{
    const view_target *t = NULL;
    const size_t count = view_targets(f->ui, &t);
    int faults = 0;
    for (size_t i = 0; i < count; i++) {
        const view_rect r = t[i].rect;
        if ((r.w < VIEW_MIN_TARGET - 0.1F || r.h < VIEW_MIN_TARGET - 0.1F) && !is_at_port_edge(f, r)) {
            faults += find(f, "target too small: \"%s\" %.1f x %.1f at %.0f, %.0f", t[i].label, (double)r.w,
                           (double)r.h, (double)r.x, (double)r.y);
        }
        for (size_t j = i + 1; j < count; j++) {
            const view_rect both = meet(r, t[j].rect);
            if (both.w > 1.0F && both.h > 1.0F && !is_within(r, t[j].rect, 1.0F) && !is_within(t[j].rect, r, 1.0F)) {
                faults += find(f, "targets overlap: \"%s\" and \"%s\" at %.0f, %.0f", t[i].label, t[j].label,
                               (double)both.x, (double)both.y);
            }
        }
    }
    return faults;
}

/* ---- contrast --------------------------------------------------------------------------------------------------- */

static view_color pixel(const view_canvas *canvas, int x, int y)
{
    return (view_canvas_pixel(canvas, x, y) << 8U) | 0xFFU;
}

static int channel(view_color c, unsigned shift)
{
    return (int)((c >> shift) & 0xFFU);
}

static view_color over(view_color ink, view_color ground)
{
    return view_mix(ground, (ink & 0xFFFFFF00U) | 0xFFU, (float)(ink & 0xFFU) / 255.0F);
}

/* Ratios in steps of a hundredth, so that the worst twentieth can be read off without sorting. */
enum { RATIO_STEPS = 2101 };
typedef struct sample {
    int at[RATIO_STEPS];
    int count, letters, covered;
} sample;

static bool differs(view_color a, view_color b)
{
    for (unsigned shift = 8; shift < 32; shift += 8) {
        if (abs(channel(a, shift) - channel(b, shift)) > 48) {
            return true;
        }
    }
    return false;
}

/* Where pixel (u, v) of a mask comes to lie, as the painter places it. */
static void place(const view__command *c, const view_mask *mask, int u, int v, int *x, int *y)
{
    const float back = c->align == VIEW_LEFT ? 0.0F : c->align == VIEW_RIGHT ? mask->advance : mask->advance / 2.0F;
    if (c->op == VIEW__TEXT) {
        *x = (int)roundf(c->rect.x - back) - mask->origin_x + u;
        *y = (int)roundf(c->rect.y) - mask->origin_y + v;
    } else {
        *x = (int)roundf(c->rect.x) - mask->origin_y + v;
        *y = (int)roundf(c->rect.y + back) + mask->origin_x - u - 1;
    }
}

static void take(sample *s, const placed *t, const view_mask *mask, const view_canvas *bare, const view_canvas *full)
{
    view_color last = 0;
    int last_step = 0;
    memset(s, 0, sizeof *s);
    for (int v = 0; v < mask->height; v++) {
        for (int u = 0; u < mask->width; u++) {
            int x = 0;
            int y = 0;
            const int alpha = mask->alpha[v * mask->stride + u];
            place(t->command, mask, u, v, &x, &y);
            if (!view_rect_has(t->port, (float)x + 0.5F, (float)y + 0.5F)) {
                continue;
            }
            const view_color ground = pixel(bare, x, y);
            const view_color ink = over(t->command->color, ground);
            if (ground != last) {
                last = ground;
                last_step = (int)(100.0 * view_contrast(ink, ground));
            }
            s->at[last_step]++;
            s->count++;
            if (alpha > 235) {
                s->letters++;
                s->covered += differs(pixel(full, x, y), ink) ? 1 : 0;
            }
        }
    }
}

/* The ratio that all but a twentieth of the ground reaches: a hairline that passes between letters does not count. */
static double worst(const sample *s)
{
    int so_far = 0;
    for (int i = 0; i < RATIO_STEPS; i++) {
        so_far += s->at[i];
        if (so_far * 20 > s->count) {
            return i / 100.0;
        }
    }
    return 21.0;
}

static double wanted(const frame_seen *f, const view__command *c)
{
    const view_theme *t = f->theme;
    const bool is_large = c->font.size >= 24.0F || (c->font.size >= 18.66F && c->font.weight == VIEW_BOLD);
    const bool is_disabled = c->color == view__disabled_ink(t);
    return is_large || is_disabled ? 3.0 : 4.5;
}

static int contrast_of(const frame_seen *f, const placed *t, const view_canvas *bare, const view_canvas *full)
{
    sample s;
    view_mask mask;
    int faults = 0;
    if (!view_fonts_mask(f->fonts, t->command->font, 1.0F, t->text, &mask)) {
        return 0;
    }
    take(&s, t, &mask, bare, full);
    const double ratio = worst(&s);
    if (s.count > 0 && ratio < wanted(f, t->command)) {
        faults += find(f, "contrast %.2f of \"%s\" at %.0f, %.0f", ratio, t->text, (double)t->box.x, (double)t->box.y);
    }
    if (s.covered * 10 > s.letters) {
        faults += find(f, "something lies over \"%s\" at %.0f, %.0f", t->text, (double)t->box.x, (double)t->box.y);
    }
    return faults;
}

int frame_contrast_faults(const frame_seen *f, view_canvas *bare, view_canvas *full)
{
    const view_rect screen = f->screen;
    const view_color ground = f->theme->page;
    page *p = malloc(sizeof *p);
    if (p == NULL || !view_canvas_paint(bare, f->draw, NULL, screen.w, screen.h, 1.0F, ground) ||
        !view_canvas_paint(full, f->draw, f->fonts, screen.w, screen.h, 1.0F, ground)) {
        free(p);
        return find(f, "cannot be painted");
    }
    int faults = 0;
    gather(f, p);
    for (size_t i = 0; i < p->count; i++) {
        faults += contrast_of(f, &p->text[i], bare, full);
    }
    free(p);
    return faults;
}
