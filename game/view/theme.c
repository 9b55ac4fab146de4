/* The two looks and the contrast rule they are tested against. Warm paper and wood against blue-grey steel; one teal
 * for what can be pressed. The contrast theme is black on white with full-strength edges: for poor eyes and poor
 * beamers. */
#include "tautrow/view/theme.h"

#include <math.h>

#include "tautrow/base/assert.h"

#define RGB(rgb) VIEW_RGBA(rgb, 0xFF)

static const view_theme themes[VIEW_THEME_KINDS] = {
    [VIEW_THEME_DAY] =
        {
            .page = RGB(0xF3EEE4),
            .panel = RGB(0xFFFDF8),
            .panel_edge = RGB(0xDCD2C1),
            .inset = RGB(0xE8E1D3),
            .ink = RGB(0x27241F),
            .ink_soft = RGB(0x5E564A),
            .ink_faint = RGB(0x887E6F),
            .accent = RGB(0x12616B),
            .accent_ink = RGB(0xFFFFFF),
            .accent_soft = RGB(0xD8E8E7),
            .good = RGB(0x2C6B3C),
            .warn = RGB(0x85560A),
            .bad = RGB(0xA3321F),
            .good_soft = RGB(0xDCEAD9),
            .warn_soft = RGB(0xFAEBC8),
            .bad_soft = RGB(0xF8DFD7),
            .focus = RGB(0x1559C7),
            .wood_light = RGB(0xDDB98A),
            .wood = RGB(0xC49862),
            .wood_dark = RGB(0x8A6239),
            .wood_cut = RGB(0xEFD9B4),
            .steel_light = RGB(0xE6ECF0),
            .steel = RGB(0x9DACB8),
            .steel_dark = RGB(0x566673),
            .cable = RGB(0x6E7D88),
            .ghost = VIEW_RGBA(0x7D766B, 0x70),
            .force = RGB(0xB4431F),
            .ground = RGB(0xCDC3B0),
            .series = {RGB(0x33312D), RGB(0xB07400), RGB(0x2F86BF), RGB(0x00805C), RGB(0x8C8300), RGB(0x0067A3),
                       RGB(0xC4560A), RGB(0xAC5488)},
        },
    [VIEW_THEME_CONTRAST] =
        {
            .page = RGB(0xFFFFFF),
            .panel = RGB(0xFFFFFF),
            .panel_edge = RGB(0x1A1A1A),
            .inset = RGB(0xF0F0F0),
            .ink = RGB(0x000000),
            .ink_soft = RGB(0x2B2B2B),
            .ink_faint = RGB(0x5A5A5A),
            .accent = RGB(0x00404A),
            .accent_ink = RGB(0xFFFFFF),
            .accent_soft = RGB(0xD5F0F2),
            .good = RGB(0x00501E),
            .warn = RGB(0x5E3A00),
            .bad = RGB(0x8A0F00),
            .good_soft = RGB(0xE0F5E4),
            .warn_soft = RGB(0xFFF0B8),
            .bad_soft = RGB(0xFFE4DD),
            .focus = RGB(0x0033B0),
            .wood_light = RGB(0xE8C99B),
            .wood = RGB(0xB98545),
            .wood_dark = RGB(0x5C3A14),
            .wood_cut = RGB(0xF8E8CB),
            .steel_light = RGB(0xF2F6F9),
            .steel = RGB(0x8799A6),
            .steel_dark = RGB(0x2C3A45),
            .cable = RGB(0x2C3A45),
            .ghost = VIEW_RGBA(0x303030, 0x90),
            .force = RGB(0x9A2600),
            .ground = RGB(0x8F8674),
            .series = {RGB(0x000000), RGB(0x7A4F00), RGB(0x1B5F8C), RGB(0x005C42), RGB(0x5F5900), RGB(0x00487A),
                       RGB(0x8A3A00), RGB(0x7C2F5F)},
        },
};

const view_theme *view_theme_of(view_theme_kind kind)
{
    TR_ASSERT((unsigned)kind < VIEW_THEME_KINDS);
    return &themes[kind];
}

/* One channel of sRGB made linear. WCAG 2.2, definition of relative luminance (with sRGB's 0.04045). */
static double linear(view_color color, unsigned shift)
{
    const double value = (double)((color >> shift) & 0xFFU) / 255.0;
    return value <= 0.04045 ? value / 12.92 : pow((value + 0.055) / 1.055, 2.4);
}

static double luminance(view_color color)
{
    return 0.2126 * linear(color, 24) + 0.7152 * linear(color, 16) + 0.0722 * linear(color, 8);
}

double view_contrast(view_color a, view_color b)
{
    const double la = luminance(a);
    const double lb = luminance(b);
    return (fmax(la, lb) + 0.05) / (fmin(la, lb) + 0.05);
}
