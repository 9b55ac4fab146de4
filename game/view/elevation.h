/* The elevation in two files: elevation.c has the posts and what stands, elevation_rows.c the rows. Private. */
#ifndef TAUTROW_GAME_VIEW_ELEVATION_H
#define TAUTROW_GAME_VIEW_ELEVATION_H

#include "pic.h"

/* A post's deflection over its height, from the clamp at the base to the top. */
typedef struct view__bend {
    int count;
    bool is_clamped;
    double h[MECH_MAX_ROWS + 2];
    double u[MECH_MAX_ROWS + 2];
} view__bend;

void view__bend_of(const mech_run *run, const mech_rows *rows, mech_end end, view__bend *bend);
double view__bend_at(const view__bend *bend, double height_m);

typedef struct view__scene {
    float k;             /* layout units per metre, both ways */
    float near_x, far_x; /* inner faces of the straight posts */
    float deck_y;
    float label_w, number_w;    /* columns left of the near post */
    float heading_x, heading_y; /* where the words about the bend begin */
    double length_m;            /* along the rows */
    double cos_slope;
    float fall;   /* of rows and deck in layout units down per unit to the right; 0 on a landing */
    double top_m; /* top of the posts */
    bool is_broken;
    float break_x;
    double factor; /* bend drawn larger by this */
    view__bend bend[MECH_ENDS];
} view__scene;

/* from_near_m along the rows. */
float view__scene_x(const view__scene *scene, double from_near_m);
float view__scene_y(const view__scene *scene, double height_m);
/* How much lower than at the near post's face the deck lies at x. */
float view__scene_fall(const view__scene *scene, float x);

void view__elevation_rows(const view__board *board, const view__scene *scene, const job_setup *setup,
                          const job_state *state, const view_elevation_look *look, const mech_rows *rows);
/* elevation_trip.c: what the trip under way has changed; nothing without before_n. */
void view__elevation_trip(const view__board *board, const view__scene *scene, const job_setup *setup,
                          const job_state *state, const view_elevation_look *look, const mech_rows *rows);

#endif
