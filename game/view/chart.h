/* A chart's bones: plot area, axes with round ticks in the user's units, lines, labels at line ends. Private. */
#ifndef TAUTROW_GAME_VIEW_CHART_H
#define TAUTROW_GAME_VIEW_CHART_H

#include "pic.h"

typedef struct view__chart {
    view_rect plot;
    double x_low, x_high; /* as drawn: in the user's units */
    double y_low, y_high;
    float strip;     /* height kept free above the plot */
    bool is_counted; /* x counts things: whole ticks only */
} view__chart;

float view__chart_x(const view__chart *chart, double x);
float view__chart_y(const view__chart *chart, double y);

/* Leaves room for the y labels (as wide as the widest), a title line, x labels with their title, and `right` for line
 * labels. y_high is raised to a round number; y_title and x_title carry their units. */
void view__chart_axes(const view__board *board, view__chart *chart, const char *title, const char *y_title,
                      const char *x_title, float right, bool has_x_ticks);

/* A label at a line's end: what it says, where the line ends, its colour. */
typedef struct view__end_label {
    float y;
    view_color color;
    bool is_chosen;
    char text[24];
} view__end_label;
enum { VIEW__MAX_LABELS = MECH_MAX_ROWS };
/* Draws labels right of the plot, pushed apart, each with a leader to its line's end. More than fit: the chosen, first
 * and last stay, others are thinned evenly. */
void view__chart_end_labels(const view__board *board, const view__chart *chart, view__end_label label[], int count);

#endif
