/* What is wrong with the text of a frame: cut off at the sides, or lying over other text. For the tests of the screens. */
#ifndef TESTS_TEXT_FAULTS_H
#define TESTS_TEXT_FAULTS_H

#include "near.h"

#include "draw_list.h"

typedef struct text_placed {
    float x0, y0, x1, y1;
    const char *text;
} text_placed;

enum { TEXT_MAX = 1024, TEXT_CLIPS = 40 };

static inline view_rect text_meet(view_rect a, view_rect b)
{
    const float x0 = fmaxf(a.x, b.x);
    const float y0 = fmaxf(a.y, b.y);
    return (view_rect){x0, y0, fmaxf(0.0F, fminf(a.x + a.w, b.x + b.w) - x0),
                       fmaxf(0.0F, fminf(a.y + a.h, b.y + b.h) - y0)};
}

static inline text_placed text_place_of(const view_draw *draw, const view_metrics *metrics, const view__command *c)
{
    const char *text = &draw->text[c->first];
    const float width = view_text_width(metrics, c->font, text);
    const float x = c->align == VIEW_LEFT    ? c->rect.x
                    : c->align == VIEW_RIGHT ? c->rect.x - width
                                             : c->rect.x - width / 2.0F;
    /* x-height and above: the room that letters really fill */
    return (text_placed){x, c->rect.y - 0.62F * c->font.size, x + width, c->rect.y + 0.05F * c->font.size, text};
}

/* Gathers what is seen; text cut off at the sides by its panel is a fault at once, above and below it is scrolled away.
 */
static inline size_t text_gather(const view_draw *draw, const view_metrics *metrics, float width, float height,
                                 text_placed out[TEXT_MAX], int *cut)
{
    view_rect clip[TEXT_CLIPS] = {{0.0F, 0.0F, width, height}};
    int clips = 0;
    size_t count = 0;
    for (size_t i = 0; i < draw->commands; i++) {
        const view__command *c = &draw->command[i];
        if (c->op == VIEW__CLIP_PUSH) {
            clip[clips + 1] = text_meet(clip[clips], c->rect);
            clips++;
        } else if (c->op == VIEW__CLIP_POP) {
            clips--;
        } else if (c->op == VIEW__TEXT) {
            const text_placed at = text_place_of(draw, metrics, c);
            const view_rect port = clip[clips];
            if (at.y1 <= port.y + 1.0F || at.y0 >= port.y + port.h - 1.0F) {
                continue;
            }
            if (at.x0 < port.x - 1.5F || at.x1 > port.x + port.w + 1.5F) {
                print_error("cut off at the side: \"%s\"\n", at.text);
                (*cut)++;
            }
            text_placed seen = at;
            seen.y0 = fmaxf(at.y0, port.y);
            seen.y1 = fminf(at.y1, port.y + port.h);
            out[count] = seen;
            count += count + 1 < TEXT_MAX ? 1 : 0;
        }
    }
    return count;
}

static inline int text_overlaps(const text_placed text[], size_t count)
{
    int overlaps = 0;
    for (size_t i = 0; i < count; i++) {
        for (size_t j = i + 1; j < count; j++) {
            const float w = fminf(text[i].x1, text[j].x1) - fmaxf(text[i].x0, text[j].x0);
            const float h = fminf(text[i].y1, text[j].y1) - fmaxf(text[i].y0, text[j].y0);
            if (w > 1.0F && h > 1.0F) {
                print_error("\"%s\" lies over \"%s\" at %.0f, %.0f\n", text[j].text, text[i].text, (double)text[j].x0,
                            (double)text[j].y0);
                overlaps++;
            }
        }
    }
    return overlaps;
}

/* least: texts that there must be, so that an empty frame is not taken for a good one. */
static inline int text_faults(const view_draw *draw, const view_metrics *metrics, float width, float height,
                              size_t least)
{
    static text_placed texts[TEXT_MAX];
    int cut = 0;
    const size_t count = text_gather(draw, metrics, width, height, texts, &cut);
    assert_true(count > least && count + 1 < TEXT_MAX);
    return cut + text_overlaps(texts, count);
}

#endif
