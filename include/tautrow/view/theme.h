/* Colours and sizes by name: no screen names a hex colour. Workshop by daylight: warm paper, wood, blue-grey steel, one accent. */
#ifndef TAUTROW_VIEW_THEME_H
#define TAUTROW_VIEW_THEME_H

#include "tautrow/view/draw.h"

typedef struct view_theme {
    view_color page, panel, panel_edge, inset;  /* grounds */
    view_color ink, ink_soft, ink_faint;        /* text: >= 7:1, >= 4.5:1 on page and panel; faint is for lines only */
    view_color accent, accent_ink, accent_soft; /* action colour, text on it, its tint */
    view_color good, warn, bad;                 /* state; always with a shape or a word beside it; >= 4.5:1 on panel */
    view_color good_soft, warn_soft, bad_soft;
    view_color focus; /* focus ring */
    view_color wood_light, wood, wood_dark, wood_cut;
    view_color steel_light, steel, steel_dark;
    view_color cable, ghost, force, ground;
    view_color series[8]; /* charts: Okabe-Ito order, darkened where needed */
} view_theme;

typedef enum view_theme_kind { VIEW_THEME_DAY, VIEW_THEME_CONTRAST, VIEW_THEME_KINDS } view_theme_kind;

const view_theme *view_theme_of(view_theme_kind kind);

/* Contrast ratio of two opaque colours, 1 to 21. WCAG 2.2 definition. */
double view_contrast(view_color a, view_color b);

#endif
