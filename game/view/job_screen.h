/* Private to the job screen: what it keeps from frame to frame, and what its parts are called.
 *
 * job_screen.c lays the screen out (bar, trail, run, ladder, close-up, what now) and calls the stage in hand; each
 * stage lives in a file stage_<name>.c, draws its close-up into `picture`, its tools into `tools`, and says what the
 * hand did. */
#ifndef GAME_VIEW_JOB_SCREEN_H
#define GAME_VIEW_JOB_SCREEN_H

#include "tautrow/base/rng.h"
#include "tautrow/job/reason.h"
#include "tautrow/score/slip.h"
#include "tautrow/view/pictures.h"
#include "tautrow/view/screens.h"

/* Hands drift: a slow seeded wander that a gesture must fight. Pure decoration until the gesture ends in an action. */
typedef struct view_drift {
    tr_rng rng;
    float x, y; /* now, -1..1 */
    float to_x, to_y;
    float left_s; /* until it picks another aim */
} view_drift;

/* Values that the tools of a stage keep: sliders, chosen bit, gesture under way. Each stage owns its part. */
typedef struct view_tools {
    struct {
        int stage, row, gesture; /* gesture under way, numbered by the stage; 0 = none */
        bool must_let_go;        /* it ended by itself: nothing begins until everything is let go */
        float held_s;
        float land_m, steer_m; /* where the hand came down, and how it was moved since */
        double seen_s;
        float mouse_x, mouse_y;
    } hold; /* stages mark to crimp */
    struct {
        float pole_m, pencil_m;
    } mark;
    struct {
        float rpm;
        float depth_m, deepest_m, pitch_rad, yaw_rad, chips;
        float pitch_sum, yaw_sum, wander_m; /* over the depth drilled */
        float flag_m;                       /* where the tape is wound on, 0 = not yet */
        float still_s;                      /* how long the hand has waited */
        int clearings, row;
        bool is_begun, is_backing;
        bool is_at_post;
    } drill;
    struct {
        float rpm, proud_m, pitch_rad, yaw_rad, still_s;
        int row;
        bool is_begun, is_at_post;
    } insert;
    struct {
        int stud, end; /* from 1; 0 = none chosen */
        float turns;
        int row;
        bool is_refused;
    } assemble;
    struct {
        float pull_n, mark_m, cut_m, land_m, closing, waited_s;
        int row, cutter;
    } cut;
    struct {
        float seat_m, die_m, angle_rad, closing, stop_m;
        int row, redone;
        bool is_held, is_turning; /* by the pointer; about its end view instead of along the barrel */
        double asked_s;           /* until when a second press confirms the redo */
    } crimp;
    struct {
        float held_turns, back_to, in_turns, pull_n;
        bool body_held, is_ready; /* ready: the values suit the row in hand */
        int row;
    } join;
    struct {
        int step;      /* of a press: 0 = quarter turn, 1 = eighth, 2 = sixteenth */
        float pin_rad; /* the pin beyond its last action while it is swung by hand */
        float mouse_x, mouse_y;
        bool is_swung, is_dial; /* the dial is taken instead of the pin */
        float stick_rad;        /* where the controller's stick points while it swings the pin */
        bool is_stick;
        int stick_row;
    } tension;
    struct {
        int tool, gap, fault;
        int sight_tool; /* that was out when the post was sighted: another one takes its place */
        bool is_reporting;
    } check;
    struct {
        int next_row; /* all collars at once: the next row to see to; row_count or more = none */
        int days;     /* which span is set on the dial */
    } over;
    struct {
        int answer[3];
    } read;
} view_tools;

struct view_job {
    int row;         /* chosen, from 0 */
    job_stage stage; /* shown */
    bool follows;    /* the stage shown follows the expert's advice until the person chooses one */
    bool is_closed;  /* the tour's: it offers no way to another screen */
    view_hand hand;
    view_tools tools;
    view_drift drift;
    double exaggeration; /* 0 = by itself */
    bool hint_open, leave_open, sign_open;
    float ladder_scroll;
    int ladder_row;         /* row that the ladder was last moved to */
    view_job_places places; /* of the last frame */

    /* tensions on their way from one state to the next */
    bool is_begun; /* a frame was drawn: shown_n holds something */
    double shown_n[MECH_MAX_ROWS], from_n[MECH_MAX_ROWS], to_n[MECH_MAX_ROWS];
    double moved_s; /* ui time at which they began to move */

    /* a plucked row hums */
    int plucked_row;               /* until hum_until_s */
    bool is_pluck_new;             /* heard, not yet drawn */
    double humming_s, hum_until_s; /* ui time */

    /* what the trainee has found out, of trace_seen actions (job_heard.c) */
    size_t trace_seen;
    double reading_n[MECH_MAX_ROWS];         /* last gauge reading, below 0 = none */
    double tone_hz[MECH_MAX_ROWS];           /* last tone heard, below 0 = none */
    signed char gap_seen[MECH_MAX_ROWS + 1]; /* 0 not tried, 1 holds, -1 does not */
    double former_n[VIEW_MAX_FORMER][MECH_MAX_ROWS];
    int former_count;
    int former_row; /* row that was turned last, -1 none: another one starts a new trip */
    double pin_n_m; /* felt at the last turn, below 0 = no turn yet */
    int pin_row;

    /* the last action */
    job_outcome last;
    job_verb last_verb;
    int last_row;              /* -1 none */
    char message[TR_TEXT_CAP]; /* refusal or event in words, shown until the next one */

    struct {
        bool is_known, has_any; /* known: for this state; any: something is left to do */
        int64_t at_count;
        float at_drill_rpm, at_driver_rpm;
        job_action action;
        double aim_n[MECH_MAX_ROWS]; /* pull sheet: what to pull each row to in this round, below 0 = none */
        double end_n[MECH_MAX_ROWS]; /* and where each row stands when the last round is done so, below 0 = not known */
    } advice;
    struct {
        bool is_open; /* the person has asked */
        bool is_known;
        int64_t at_count;
        job_reason reason;
    } why;
    struct {
        int count; /* what the last gesture spoiled; 0 = nothing to say */
        score_slip slip[SCORE_MAX_SLIPS];
        size_t from;     /* actions before that gesture */
        size_t frame_at; /* actions when the frame began */
        bool has_frame, was_advised;
        job_action action;
    } slip;
};

/* A stage's frame: the close-up into picture, tools and buttons into tools; actions are added to said. */
typedef void view_stage_frame(view_ui *ui, view_job *job, const view_job_model *model, view_rect picture,
                              view_rect tools, view_job_said *said);

view_stage_frame view_stage_read, view_stage_mark, view_stage_drill, view_stage_insert, view_stage_assemble,
    view_stage_cut, view_stage_crimp, view_stage_join, view_stage_tension, view_stage_check, view_stage_over;

/* ---- parts of the screen (job_bar.c, job_side.c, job_advice.c, job_heard.c, job_pad.c) -------------------------- */

/* Heights that the bars want. */
float view__job_bar_height(const view_ui *ui);
float view__job_trail_height(const view_ui *ui);
float view__job_keys_height(const view_ui *ui);
void view__job_bar(view_ui *ui, view_job *job, const view_job_model *model, view_rect rect, view_job_said *said);
/* Returns true while the focus lies in it: the arrow keys are its own then. */
bool view__job_trail(view_ui *ui, view_job *job, const view_job_model *model, view_rect rect);
void view__job_keys(view_ui *ui, const view_job *job, view_rect rect);

void view__job_ladder(view_ui *ui, view_job *job, const view_job_model *model, view_rect rect);
void view__job_card(view_ui *ui, view_job *job, const view_job_model *model, view_rect rect, view_job_said *said);

/* A stage as the trail shows it: over all rows of the trainee's. */
typedef enum view_stage_state { VIEW_STAGE_TO_COME, VIEW_STAGE_UNDER_WAY, VIEW_STAGE_DONE } view_stage_state;
view_stage_state view__stage_state(const view_job_model *model, job_stage stage);

/* Brings job->advice up to date with the state; true when something is left to do. */
bool view__job_advice(view_job *job, const view_job_model *model);

/* To the stage and row that the advice speaks of, its tool laid ready. */
void view__job_go_on(view_job *job);

/* One more piece of work on the row that the advice spoke of has ended the stage there, though it was not the one advised:
 * what comes next is said of another stage. */
bool view__job_has_ended_stage(const job_action *before, const job_action *action, const job_action *next);
/* The sentence for what an action asks, and the reason for it. */
void view__job_advice_text(const view_ui *ui, const view_job_model *model, const job_action *action, char *out,
                           size_t cap);
const char *view__job_advice_why(const view_ui *ui, const job_action *action);
/* Chosen by the person: from now on the screen does not move by itself. */
void view__job_choose(view_job *job, job_stage stage, int row);
/* Goes to where the next piece of work is, after an action: guided, where the advice was followed; else as far as joining. */
void view__job_follow(view_job *job, const view_job_model *model, const job_action *action, bool was_advised);

/* ---- why (job_why.c): what comes of the step that is due, in numbers (false where no number tells anything), and what
 * often goes wrong in its stage */
bool view__why_number(const view_ui *ui, view_job *job, const view_job_model *model, char *out, size_t cap);
void view__why_wrong(const view_ui *ui, const view_job *job, char *out, size_t cap);

/* ---- slip-ups, guided mode only (job_slip.c) */

/* At the start of a frame: what is said in it is one gesture. */
void view__slip_begin(view_job *job, const view_job_model *model);
/* Looks whether the last action of the trace was a slip-up; true while there is one to show. */
bool view__slip_hear(view_job *job, const view_job_model *model, const job_action *action, bool was_advised);
/* A card stands; and it is taken away. */
bool view__slip_is_up(const view_job *job);
void view__slip_forget(view_job *job);
/* At the end of a frame: undo takes back the whole gesture that slipped. */
void view__slip_settle(view_job *job, const view_job_model *model, view_job_said *said);
/* In the place of what now. */
void view__slip_card(view_ui *ui, view_job *job, const view_job_model *model, view_rect room, view_job_said *said);

/* What came of the last action in words. */
typedef enum view_message { VIEW_NO_MESSAGE, VIEW_MESSAGE_GOOD, VIEW_MESSAGE_PLAIN, VIEW_MESSAGE_BAD } view_message;
view_message view__job_message(const view_ui *ui, const view_job *job, const view_job_model *model, char *out,
                               size_t cap);
/* Readings and ghosts from the trace, where it is not what was heard: after an undo, and when an attempt is taken up
 * again. */
void view__job_recall(view_job *job, const view_job_model *model);
/* Where the rows stood when the trip to the body in hand began; NULL = no trip, or its stage is not shown. */
const double *view__before_trip(const view_job *job);
/* Moves what moves: tensions, the hum. */
void view__job_move(view_ui *ui, view_job *job, const view_job_model *model);
bool view__job_is_guided(const view_job_model *model);
/* To the row above or below, where there is one. */
void view__job_move_row(view_job *job, int count, int step);
/* What a game controller does here; first of all in a frame. */
void view__job_pad(view_ui *ui, view_job *job, const view_job_model *model);

/* ---- tools ------------------------------------------------------------------------------------------------------ */

/* A column of controls that scrolls where it is too long. Each call takes the next place. */
typedef struct view_bench {
    view_rect port;
    view_flow column;
} view_bench;
view_bench view__bench_begin(view_ui *ui, view_rect tools);
view_rect view__bench_next(view_bench *bench, float height);
void view__bench_end(view_ui *ui, view_bench *bench);
/* A full-width button with a letter key. */
bool view__bench_button(view_ui *ui, view_bench *bench, const char *word_key, char letter, view_look look);
/* Two buttons side by side, one under the other where their words do not fit. Returns 0 = none, 1, 2. */
int view__bench_pair(view_ui *ui, view_bench *bench, const char *const word_keys[2], const char letters[2]);
bool view__bench_toggle(view_ui *ui, view_bench *bench, const char *word_key, bool *is_on);
/* Label above where it does not fit beside the hands. */
bool view__bench_stepper(view_ui *ui, view_bench *bench, const char *label, int least, int most, int *value,
                         const char *text);
/* Side by side where all options fit, else one at a time. */
bool view__bench_few(view_ui *ui, view_bench *bench, const char *label, const char *const options[], int count,
                     int *choice);
void view__bench_label(view_ui *ui, view_bench *bench, const char *text);

/* ---- for the stages --------------------------------------------------------------------------------------------- */

/* Adds an action at the model's time; args in slot order. What does not fit in said is dropped (it cannot happen in one
 * frame). */
void view_job_do(view_job_said *said, const view_job_model *model, job_verb verb, const double *args, int count);

/* The pen that pictures draw with, from the ui and the model. */
view_pen view_job_pen(const view_ui *ui, const view_job_model *model);

/* Moves the drift on by dt: strength 0..1 scales it, steadier at reduced motion. */
void view_drift_step(view_drift *drift, float dt_s, float strength);

/* Quantity as text in the model's units; returns out. */
const char *view_job_quantity(const view_job_model *model, double si, tr_dim dim, char out[48]);

#endif
