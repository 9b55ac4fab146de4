/* The pictures: pure functions that fill a draw list from the job as it stands. They keep nothing and ask nothing but
 * the metrics; what moves (a hand at work, a cable that hums) comes in as numbers. Nothing is drawn outside the rect
 * given.
 *
 * In every picture the near post stands at the left and the run goes off to the right; for left-handed people it is the
 * other way round, as if they stood on the other side of the run. What is a fact stays so: the hand of a thread, the lay
 * of a strand, which way a body turns. Instruments and charts are never mirrored. */
#ifndef TAUTROW_VIEW_PICTURES_H
#define TAUTROW_VIEW_PICTURES_H

#include <stdbool.h>
#include <stddef.h>

#include "tautrow/base/lang.h"
#include "tautrow/base/units.h"
#include "tautrow/job/job.h"
#include "tautrow/view/draw.h"
#include "tautrow/view/theme.h"

/* What every picture draws with. */
typedef struct view_pen {
    view_draw *draw;
    const view_theme *theme;
    const view_metrics *metrics;
    const tr_lang *lang;
    tr_system units;
    float text;       /* size of body text, layout units: 14 at 100 %, 28 at 200 % */
    bool is_mirrored; /* the run and its fittings as seen from the other side: the near post at the right */
} view_pen;

/* ---- the hand at work ------------------------------------------------------------------------------------------- */

typedef enum view_check_tool {
    VIEW_CHECK_BALL,
    VIEW_CHECK_GAUGE,
    VIEW_CHECK_CRIMP_GAUGE,
    VIEW_CHECK_SIGHT /* the eye alone, along the near post */
} view_check_tool;

/* Gestures under way, before they become actions; all 0 = the hand is away. Pitch is positive when the tip points up,
 * yaw when it points to the installer's right; turning is positive clockwise seen from the run towards the near post.
 */
typedef struct view_hand_mark {
    double pole_m;   /* foot of the story pole above its datum */
    double pencil_m; /* pencil above the row's height on the pole */
    double stroke;   /* share of the pencil line drawn, 0..1 */
} view_hand_mark;

typedef struct view_hand_drill {
    bool is_shown;    /* the drill is at the post */
    double depth_m;   /* tip below the face; negative = before the face */
    double deepest_m; /* deepest so far: the hole stays when the bit is drawn back */
    double pitch_rad, yaw_rad;
    double rpm;      /* 0 = standing still */
    double spin_rad; /* angle of the bit, for the flutes */
    double chips;    /* how full the flutes are, 0..1 */
    double flag_m;   /* tape on the bit, from its tip; 0 = at the asked depth */
    double wander_m; /* by how much the hand's swinging has widened the mouth so far */
} view_hand_drill;

typedef struct view_hand_insert {
    bool is_shown;  /* insert on the driver, not yet home */
    double proud_m; /* flange above the face now */
    double pitch_rad, yaw_rad;
    double rpm;
    double spin_rad;
} view_hand_insert;

typedef struct view_hand_assemble {
    bool is_shown;
    int stud, end;   /* as in the action screw_stud */
    double turns;    /* threads engaged by the gesture so far */
    bool is_refused; /* wrong hand: the thread does not start */
} view_hand_assemble;

typedef struct view_hand_cut {
    double pull_n;  /* pull of the hand now */
    double mark_m;  /* pen from the stud's mark, positive = cable too long */
    double cut_m;   /* jaws from the mark, positive = cable too long */
    double closing; /* of the cutter, 0..1; 0 with is_cutting = jaws open at the cable */
    bool is_marking, is_cutting;
} view_hand_cut;

typedef struct view_hand_crimp {
    double seat_m; /* cable pushed into the bore so far; used until the push is an action */
    bool is_pushing;
    bool has_crimper; /* crimper at the barrel; else it is drawn only where the state has a die placed */
    double die_m;     /* middle of the die from the barrel mouth */
    double angle_rad; /* of the crimper about the barrel */
    double closing;   /* 0..1 */
} view_hand_crimp;

typedef struct view_hand_turn {
    double pin_rad;    /* body beyond its last action, positive = tighter */
    double stud_rad;   /* cable stud carried round beyond its last action */
    double pliers;     /* 0 = away, 1 = gripping; the state's pliers count as 1 when is_sliding is false */
    bool is_sliding;   /* pliers are moving: use the number above */
    double effort_n_m; /* felt at the pin */
    bool has_effort;   /* false: no turn felt yet, the meter rests */
    bool is_body_held; /* join: the other hand holds the body */
    double back_turns; /* join: body backed off by so many turns in this gesture */
    double in_turns;   /* join: body drawn on by so many turns in this gesture */
    double hum;        /* share of the full swing of a plucked row, 0..1 */
    double hum_rad;    /* where in its swing it is */
} view_hand_turn;

typedef struct view_hand_check {
    view_check_tool tool;
    int gap;          /* ball: as in the action ball */
    double ball_m;    /* ball's middle before the plane of the rows; falls to 0 and below as it is pushed through */
    double reading_n; /* gauge: what the dial shows; below 0 = nothing yet */
    double press;     /* gauge lever, 0..1; the needle follows it */
    int axis;         /* crimp gauge: 0 across the first squeeze, 1 at right angles */
    double across_m;  /* crimp gauge: what it shows; 0 = nothing yet */
    bool is_wet;      /* sight: the post's foot is dark with water */
    int loose;        /* sight: row from 1 whose insert rocks in its hole, 0 none */
} view_hand_check;

typedef struct view_hand_over {
    bool is_shown;
    double collar_m; /* gap between collar and face */
} view_hand_over;

typedef struct view_hand {
    view_hand_mark mark;
    view_hand_drill drill;
    view_hand_insert insert;
    view_hand_assemble assemble;
    view_hand_cut cut;
    view_hand_crimp crimp;
    view_hand_turn turn; /* join and tension */
    view_hand_check check;
    view_hand_over over;
} view_hand;

/* ---- the run in elevation --------------------------------------------------------------------------------------- */

typedef struct view_elevation_look {
    bool show_true;          /* guided: forces at rail and base, off-centre load */
    int row, gap;            /* chosen ones, -1 none */
    double exaggeration;     /* the bend is drawn so many times as large; 0 = view_bend_factor chooses */
    float corner_w;          /* kept free at the upper right: buttons lie there */
    const double *tension_n; /* tensions to show while they move from one state to the next; NULL = the state's */
    const double *before_n;  /* guided: tensions before the trip under way; NULL = none */
    int trip_row;            /* the row whose body is turned in it; counts only with before_n */
    int plucked_row;         /* the row that hums, -1 none */
    double hum, hum_rad;     /* as in view_hand_turn */
} view_elevation_look;

/* Where rows and gaps can be clicked. Both sets tile the height from deck to rail, so they overlap: the tool in hand
 * says which set counts. A row's rect reaches half way to its neighbours, so it is under 24 tall where rows are drawn
 * closer than that (the ladder is the large target then). */
typedef struct view_hits {
    int row_count; /* rows; gaps are one more */
    view_rect row[MECH_MAX_ROWS];
    view_rect gap[MECH_MAX_ROWS + 1];
} view_hits;

void view_elevation(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state,
                    const view_elevation_look *look, view_hits *hits);

/* A round factor (1-2-5) that makes the present bend of the posts easy to see, and never so large that it looks broken.
 * It grows from a target that the finished run would show, so it stands still while rows are pulled. */
double view_bend_factor(const job_setup *setup, const job_state *state);

/* ---- the row ladder --------------------------------------------------------------------------------------------- */

enum { VIEW_MAX_FORMER = 16 };

typedef struct view_ladder_look {
    bool show_true;          /* guided: bars of true tension; else the last reading */
    int row;                 /* chosen one, -1 none */
    float scroll;            /* layout units from the top of the ladder */
    const double *tension_n; /* as in view_elevation_look */
    const double *reading_n; /* [row] last reading that the trainee took, below 0 = none; NULL = none at all */
    const double (*former_n)[MECH_MAX_ROWS]; /* former tensions, oldest first */
    int former_count;                        /* at most VIEW_MAX_FORMER */
    const double *before_n;                  /* tensions before the trip under way; NULL = none */
    const double
        *end_n; /* [row] where it will stand when the other rows are pulled, below 0 = not known; NULL = none */
} view_ladder_look;

typedef struct view_ladder_hits {
    int row_count;
    view_rect row[MECH_MAX_ROWS]; /* h = 0: scrolled out of sight */
    float content;                /* full height of the ladder; above area.h it can be scrolled */
    float rung;                   /* height of one rung */
} view_ladder_hits;

/* Rungs are never under 24 tall, whatever the number of rows: what does not fit is scrolled. */
void view_ladder(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state,
                 const view_ladder_look *look, view_ladder_hits *hits);

/* The scroll nearest to the present one that shows row whole. */
float view_ladder_scroll_to(const view_pen *pen, view_rect area, const job_setup *setup, bool show_true, int row,
                            float scroll);

/* ---- close-ups -------------------------------------------------------------------------------------------------- */

/* What the mouse needs to know of a close-up. A length gesture reads (mouse - zero) * sign / px_per_m along its axis.
 */
typedef struct view_grip {
    view_rect handle; /* the thing that the hand moves, at least 24 by 24 */
    view_point zero;  /* where the gesture's length is 0 */
    float px_per_m;
    float along_x, along_y; /* direction in which the gesture's number grows; one of them is 0 */
    view_point pivot;       /* middle of a turning gesture */
} view_grip;

/* Each draws the fitting of one row. hand is never NULL; grip may be. */
void view_closeup_mark(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                       const view_hand *hand, view_grip *grip);
void view_closeup_drill(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                        const view_hand *hand, view_grip *grip);
void view_closeup_insert(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                         const view_hand *hand, view_grip *grip);
void view_closeup_assemble(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                           const view_hand *hand, view_grip *grip);
void view_closeup_cut(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                      const view_hand *hand, view_grip *grip);
void view_closeup_crimp(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                        const view_hand *hand, view_grip *grip);
/* join and tension */
void view_closeup_turn(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                       const view_hand *hand, view_grip *grip);
void view_closeup_check(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                        const view_hand *hand, view_grip *grip);
void view_closeup_over(const view_pen *pen, view_rect area, const job_setup *setup, const job_state *state, int row,
                       const view_hand *hand, view_grip *grip);

/* The close-up of a stage: one of the above. Reading and stages without a fitting show the row's fitting as it stands.
 */
void view_closeup(const view_pen *pen, view_rect area, job_stage stage, const job_setup *setup, const job_state *state,
                  int row, const view_hand *hand, view_grip *grip);

/* ---- charts of the debrief -------------------------------------------------------------------------------------- */

/* Where the plot lies and what its x axis spans, so that a scrubber can map the mouse to an action. */
typedef struct view_plot {
    view_rect area;
    double x_low, x_high;
} view_plot;

/* An attempt's story as the charts over the actions show it. */
typedef struct view_story {
    const job_trace_entry *entry; /* from job_replay; after a counterfactual replay too */
    size_t count;
    double cursor; /* action number (from 0) of the scrubber, below 0 = none */
    int row;       /* row to bring forward, -1 none */
} view_story;

/* Charts over the actions begin where the first tension changes: the hours of drilling before would press the rest
 * flat. */
view_plot view_chart_tension(const view_pen *pen, view_rect area, const job_setup *setup, const view_story *story);
view_plot view_chart_off_centre(const view_pen *pen, view_rect area, const job_setup *setup, const view_story *story);

/* Tension of each row (tension_n[setup->structure.row_count]) against the band. */
void view_chart_bars(const view_pen *pen, view_rect area, const job_setup *setup, const double tension_n[],
                     int chosen_row);

/* The pull sheet's reading beside what each row was pulled to at its first trip, in the sheet's order. */
void view_chart_pulls(const view_pen *pen, view_rect area, const job_setup *setup, const mech_sheet *sheet,
                      const job_state *state);

/* Deflection of both posts over their height. */
void view_chart_shape(const view_pen *pen, view_rect area, const mech_run *run, const mech_rows *rows);

#endif
