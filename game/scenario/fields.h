/* A scenario file as it is written, before anything is worked out from it. Private to this layer. */
#ifndef TAUTROW_GAME_SCENARIO_FIELDS_H
#define TAUTROW_GAME_SCENARIO_FIELDS_H

#include "parts.h"

typedef struct scenario__post {
    bool is_rigid, is_wet;
    double depth_m, breadth_m; /* breadth NAN = as deep */
    const scenario__node *species, *base;
} scenario__post;

typedef struct scenario__run {
    double length_m; /* NAN = bays are given */
    int line_posts;
    const scenario__node *bays;
    double expansion_1_k, slope_rad;
    int upper; /* mech_end */
    const scenario__node *bends, *corner;
    scenario__post near;
    const scenario__node *far; /* NULL = like the near one */
} scenario__run;

typedef struct scenario__bend {
    int line_post;
    double angle_rad, friction;
} scenario__bend;

typedef struct scenario__corner {
    int post; /* mech_end */
    double tension_n, length_m, raise_m;
} scenario__corner;

typedef struct scenario__rail {
    bool is_fitted;
    double height_m, depth_m, breadth_m, ea_n, joint_n_m, joint_capacity_n;
    const scenario__node *species;
} scenario__rail;

typedef struct scenario__rows {
    int count; /* 0 = heights are given */
    double first_m, spacing_m;
    const scenario__node *heights, *trainee;
} scenario__rows;

typedef struct scenario__drilling {
    double bit_m, depth_m, edge_m; /* NAN = from the insert, the post */
    const scenario__node *drill_speed, *driver_speed;
} scenario__drilling;

typedef struct scenario__tension {
    double target_n, tolerance, limit_n, hand_tight_n, pin_limit_n_m;
    const scenario__node *order, *rounds;
} scenario__tension;

typedef struct scenario__checks {
    double ball_m, ball_push_n, rail_push_n, infill_push_n, infill_side_m;
} scenario__checks;

/* When the trainee comes back; temperatures NAN = see the schema. */
typedef struct scenario__after {
    double days, fitted_k, there_k, coldest_k;
} scenario__after;

typedef struct scenario__tools {
    double gauge_bias, gauge_scatter;
    int cutters;
} scenario__tools;

/* One entry of "before": where the crew before left some rows. */
typedef struct scenario__before {
    const scenario__node *rows;
    int stage;
    double tension_n;
} scenario__before;

typedef struct scenario__fault {
    int kind, row;
    const scenario__node *amount;
} scenario__fault;

typedef struct scenario__band {
    double weight;
    const scenario__node *full, *none;
} scenario__band;

typedef struct scenario__file {
    const scenario__node *schema, *format;
    char id[JOB_NAME_CAP];
    scenario_title title, place;
    scenario_story story;
    int difficulty, minutes, units, seed;
    double par_s;
    scenario__run run;
    scenario__rail rail;
    scenario__rows rows;
    const scenario__node *part[SCENARIO__PARTS]; /* species and base are in the posts: NULL here */
    scenario__drilling drilling;
    double hand_pull_n;
    scenario__tension tension;
    scenario__checks checks;
    scenario__tools tools;
    const scenario__node *before, *after, *faults, *criteria;
    double pass_mark;
} scenario__file;

extern const scenario__shape scenario__file_shape, scenario__post_shape, scenario__bend_shape, scenario__corner_shape,
    scenario__before_shape, scenario__after_shape, scenario__fault_shape, scenario__band_shape;

/* Names as files spell them, ended by NULL. */
extern const char *const scenario__system_names[];
extern const char *const scenario__stage_names[]; /* by job_stage; the last is "done" */
extern const char *const scenario__end_names[];   /* by mech_end */
extern const char *const scenario__order_names[]; /* by mech_order, without the list */
extern const char *const scenario__fault_names[];

#endif
