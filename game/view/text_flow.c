/* Fitting text into a width: line breaks and ellipses, from nothing but the width of strings. */
#include "tautrow/view/draw.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/text.h"

enum { LINE_CAP = 1024 };
static const char ellipsis[] = "\xE2\x80\xA6";

float view_text_width(const view_metrics *metrics, view_font font, const char *text)
{
    return metrics->width(metrics->context, font, text);
}

static float width_of(const view_metrics *metrics, view_font font, const char *text, size_t size, const char *tail)
{
    char line[LINE_CAP];
    tr_format(line, sizeof line, "%.*s%s", (int)(size < LINE_CAP ? size : LINE_CAP - 1), text, tail);
    return view_text_width(metrics, font, line);
}

/* Bytes of the character that starts at text. */
static size_t char_size(const char *text)
{
    size_t size = 1;
    while (((unsigned char)text[size] & 0xC0U) == 0x80U) {
        size++;
    }
    return size;
}

/* The longest prefix of text[size] that fits with tail behind it; at least min_chars characters. Halving, as widths
 * only grow. */
static size_t fitting_chars(const view_metrics *metrics, view_font font, const char *text, size_t size, float width,
                            const char *tail, bool takes_one)
{
    size_t fits = takes_one && size > 0 ? char_size(text) : 0;
    size_t fails = size + 1;
    while (fits + 1 < fails) {
        size_t middle = fits + (fails - fits) / 2;
        while (middle > fits && middle < size && ((unsigned char)text[middle] & 0xC0U) == 0x80U) {
            middle--;
        }
        if (middle == fits) { /* no character boundary between: the next one decides */
            middle = fits + char_size(text + fits);
            if (middle >= fails) {
                break;
            }
        }
        if (width_of(metrics, font, text, middle, tail) <= width) {
            fits = middle;
        } else {
            fails = middle;
        }
    }
    return fits;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* "100 %", "1 1/4 in", "70 °F". As words run "row 3 in the", some spaces are kept that need not be: that costs nothing. */
static bool has_unit_behind(const char *text, size_t space)
{
    static const char *const units[] = {"%",   "in",  "ft",  "mm", "m",   "N", "kN",  "lbf", "psi",
                                        "ksi", "MPa", "GPa", "Hz", "rpm", "s", "min", "h"};
    if (space == 0 || !is_digit(text[space - 1])) {
        return false;
    }
    const char *const next = text + space + 1;
    if (is_digit(next[0])) {
        return next[1] == '/' || (is_digit(next[1]) && next[2] == '/');
    }
    if (strncmp(next, "\xC2\xB0", 2) == 0) { /* degrees */
        return true;
    }
    const size_t size = strcspn(next, " \n.,;:!?)/\xC2"); /* the last: a middle dot follows, as in lbf·in */
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        if (strlen(units[i]) == size && strncmp(next, units[i], size) == 0) {
            return true;
        }
    }
    return false;
}

/* "row 3", "and 11": a small number without a unit belongs to the word before it. */
static bool is_small_number(const char *text, size_t space)
{
    const char before = space > 0 ? text[space - 1] : ' ';
    const char *const next = text + space + 1;
    const size_t size = strspn(next, "0123456789");
    if (!((before >= 'a' && before <= 'z') || (before >= 'A' && before <= 'Z')) || size < 1 || size > 2) {
        return false;
    }
    const bool is_part = next[size] == '/' || ((next[size] == '.' || next[size] == ',') && is_digit(next[size + 1]));
    return !is_part && !(next[size] == ' ' && has_unit_behind(next, size));
}

static size_t word_end(const char *text, size_t at)
{
    while (text[at] != '\0' && text[at] != '\n' &&
           (text[at] != ' ' || has_unit_behind(text, at) || is_small_number(text, at))) {
        at++;
    }
    return at;
}

/* Bytes of the next line. Words are added by their own widths (few strings to measure), then the line as a whole
 * decides. */
static size_t line_size(const view_metrics *metrics, view_font font, const char *text, float width)
{
    const float space = view_text_width(metrics, font, " ");
    size_t end = word_end(text, 0);
    size_t before = 0;
    float used = width_of(metrics, font, text, end, "");
    while (used <= width && text[end] == ' ' && end < LINE_CAP - 1) {
        const size_t next = word_end(text, end + 1);
        used += space + width_of(metrics, font, text + end + 1, next - end - 1, "");
        if (used > width) {
            break;
        }
        before = end;
        end = next;
    }
    if (width_of(metrics, font, text, end, "") > width) {
        if (before > 0) {
            return before;
        }
        return fitting_chars(metrics, font, text, end, width, "", true);
    }
    return end;
}

/* Letters give way before words do: 200 % text comes down to little more than 100 %, small text not below 12 units. */
static view_font squeezed(const view_metrics *metrics, view_font font, float width, const char *text)
{
    const float least = fminf(font.size, fmaxf(12.0F, 0.6F * font.size));
    const float needed = view_text_width(metrics, font, text);
    font.size = fmaxf(least, floorf(2.0F * font.size * width / fmaxf(needed, 1.0F)) / 2.0F);
    while (font.size > least && view_text_width(metrics, font, text) > width) {
        font.size = fmaxf(least, font.size - 0.5F); /* widths do not go quite with the size */
    }
    return font;
}

view_font view_font_fit(const view_metrics *metrics, view_font font, float width, const char *text)
{
    return view_text_width(metrics, font, text) <= width ? font : squeezed(metrics, font, width, text);
}

static void text_cut(view_draw *draw, const view_metrics *metrics, float x, float baseline, float width, view_font font,
                     view_align align, view_color color, const char *text)
{
    if (view_text_width(metrics, font, text) <= width) {
        view_text(draw, x, baseline, font, align, color, text);
        return;
    }
    size_t size = fitting_chars(metrics, font, text, strlen(text), width, ellipsis, false);
    while (size > 0 && text[size - 1] == ' ') {
        size--;
    }
    char line[LINE_CAP];
    tr_format(line, sizeof line, "%.*s%s", (int)(size < LINE_CAP ? size : LINE_CAP - 8), text, ellipsis);
    view_text(draw, x, baseline, font, align, color, line);
}

void view_text_fit(view_draw *draw, const view_metrics *metrics, float x, float baseline, float width, view_font font,
                   view_align align, view_color color, const char *text)
{
    const view_font small = view_font_fit(metrics, font, width, text);
    baseline -= (font.size - small.size) * 0.36F; /* stays in the middle of its line */
    text_cut(draw, metrics, x, baseline, width, small, align, color, text);
}

float view_text_block(view_draw *draw, const view_metrics *metrics, view_rect area, view_font font, float line_height,
                      view_color color, int max_lines, const char *text)
{
    float height = 0.0F;
    for (int line = 1; *text != '\0'; line++) {
        const float baseline = area.y + height + line_height * 0.5F + font.size * 0.36F;
        height += line_height;
        const size_t size = line_size(metrics, font, text, area.w);
        const bool is_last = max_lines > 0 && line == max_lines;
        if (is_last && text[size] != '\0') {
            if (draw != NULL) {
                char rest[LINE_CAP];
                const bool is_broken = text[size] == '\n'; /* by the text itself: the line alone would fit */
                tr_format(rest, sizeof rest, "%.*s%s", (int)(is_broken ? size : word_end(text, size + 1)), text,
                          is_broken ? ellipsis : "");
                text_cut(draw, metrics, area.x, baseline, area.w, font, VIEW_LEFT, color, rest);
            }
            break;
        }
        if (draw != NULL && size > 0) {
            char out[LINE_CAP];
            tr_format(out, sizeof out, "%.*s", (int)size, text);
            view_text(draw, area.x, baseline, font, VIEW_LEFT, color, out);
        }
        text += size;
        if (*text == ' ' || *text == '\n') {
            text++;
        }
    }
    return height;
}
