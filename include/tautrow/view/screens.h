/* The screens. Each is a function that draws one frame from what it is given and answers what the person wants. None of them
 * changes a job, opens a file or asks the clock: the program does that and hands the result in again. */
#ifndef TAUTROW_VIEW_SCREENS_H
#define TAUTROW_VIEW_SCREENS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "tautrow/record/attempt.h"
#include "tautrow/score/mastery.h"
#include "tautrow/view/ui.h"

/* What the person has chosen, kept from day to day. */
typedef struct view_settings {
    view_prefs prefs;
    char lang[4];     /* "en", "es" */
    bool own_units;   /* false: the units of each scenario */
    tr_system system; /* with own_units */
    char trainee[RECORD_TRAINEE_CAP];
    float volume;        /* of the sound, 0 = off, to 1 */
    bool captions;       /* sounds are also said in words */
    bool is_still;       /* a game controller does not shake */
    bool tour_seen;      /* taken or declined: it is not offered any more */
    bool knows_lang;     /* found out while running, not kept: lang was read from the file */
    bool has_tour;       /* found out while running, not kept: the tour can be taken from here */
    bool has_no_speaker; /* found out while running, not kept: there is no device to sound on */
} view_settings;

typedef enum view_wish {
    VIEW_STAY,
    VIEW_GO_HOME,
    VIEW_GO_SCENARIOS,
    VIEW_GO_SETTINGS,
    VIEW_GO_BACK,      /* from settings or the orders to where they were opened */
    VIEW_START,        /* scenario `index` in `mode` */
    VIEW_CONTINUE,     /* the unfinished attempt `index` of the home list */
    VIEW_OPEN_DEBRIEF, /* the finished attempt `index` of the home list */
    VIEW_AGAIN,        /* the same scenario once more */
    VIEW_GO_PROGRESS,
    VIEW_PRACTISE,  /* the chooser, at scenario `index` */
    VIEW_GO_ORDERS, /* scenario `index`: what the order of its rows changes */
    VIEW_SAVE_PDF,  /* the debrief that is shown, on paper */
    VIEW_GO_TOUR,
    VIEW_SKIP_TOUR, /* it is not to be offered again */
    VIEW_SET_LANG,  /* language `index`: 0 English, 1 Spanish */
    VIEW_QUIT
} view_wish;

typedef struct view_answer_of_screen {
    view_wish wish;
    int index;
    job_mode mode;
} view_answer_of_screen;

/* ---- progress -------------------------------------------------------------------------------------------------------- */

enum { VIEW_SKILL_DOTS = 8, VIEW_MAX_TOTALS = 40, VIEW_MAX_NEXT = 3 };

typedef struct view_skill {
    double known;                /* chance that it is mastered */
    int chances;                 /* finished attempts that judged it */
    double dot[VIEW_SKILL_DOTS]; /* share of its points in the last of them, oldest first */
    int dot_count;
    int exercise; /* scenario that exercises it, -1 none */
} view_skill;

typedef struct view_total {
    double total, pass_mark;
    bool passed;
} view_total;

typedef struct view_progress {
    char trainee[RECORD_TRAINEE_CAP]; /* whose it is; may be empty */
    int attempts;                     /* finished ones that count */
    view_skill skill[SCORE_SKILLS];
    view_total total[VIEW_MAX_TOTALS]; /* of the last attempts, oldest first */
    int total_count;
    score_skill next[VIEW_MAX_NEXT]; /* to practise, weakest first */
    int next_count;
    int waiting; /* journals that are still to be read */
    int broken;  /* journals that cannot be read or do not verify: they do not count */
} view_progress;

view_answer_of_screen view_progress_screen(view_ui *ui, const view_progress *progress);

/* One scenario to choose from. */
typedef struct view_offer {
    const scenario *what; /* NULL: the file has errors; problem says which */
    char file[96];        /* base name */
    char problem[TR_TEXT_CAP];
    double best; /* best total so far, below 0 = never finished */
} view_offer;

/* ---- home ----------------------------------------------------------------------------------------------------------- */

/* One attempt of the past, newest first. */
typedef struct view_past {
    char title[SCENARIO_TITLE_CAP]; /* in the language in use */
    char started_utc[32];
    job_mode mode;
    bool is_finished, passed, is_readable;
    double total;
    int exercise; /* index of its scenario among the offers, -1 = it is no longer there */
} view_past;

typedef struct view_home_model {
    const view_past *past;
    int past_count;
    const char *trouble;           /* a word on what did not work (journals cannot be kept...), NULL = nothing */
    const view_progress *progress; /* NULL: no advice */
    const view_offer *offers;      /* the scenarios: the run at the door is one of them */
    int offer_count, first;        /* first: the exercise to begin with, -1 none */
    bool has_tour;                 /* there is an exercise to show it with */
    bool offers_tour;              /* nobody has taken or declined it yet */
    bool asks_lang;                /* ... nor said which language */
} view_home_model;

view_answer_of_screen view_home(view_ui *ui, const view_home_model *model);

/* ---- choosing a scenario -------------------------------------------------------------------------------------------- */

/* Chosen card and mode live in the caller's value from frame to frame; zero to start. */
typedef struct view_choose {
    int card;
    int mode; /* job_mode */
} view_choose;

view_answer_of_screen view_scenarios(view_ui *ui, const view_offer *offers, int count, view_choose *choose,
                                     view_settings *settings);

/* ---- settings ------------------------------------------------------------------------------------------------------- */

/* Changes settings in place; *changed turns true when anything was changed in this frame. */
view_answer_of_screen view_settings_screen(view_ui *ui, view_settings *settings, bool *changed);

/* ---- the job -------------------------------------------------------------------------------------------------------- */

/* What the job screen keeps from frame to frame: chosen row and stage, the gesture under way, readings. Opaque. */
typedef struct view_job view_job;

view_job *view_job_open(const scenario *what); /* NULL when there is no memory */
void view_job_close(view_job *job);

typedef struct view_job_model {
    const scenario *what;
    const job_state *state;
    const record_about *about;
    const job_action *actions;    /* that count so far; NULL: slip-ups are not looked for */
    const job_trace_entry *trace; /* of them; NULL: only what is heard is known */
    size_t trace_count;           /* how many */
    int64_t now_ms;               /* since the start of the attempt */
    tr_system system;
    bool journal_ok; /* false: the attempt is not being recorded at the moment */
    bool is_copy;    /* worked by the program or for the tour: it offers to show nothing */
} view_job_model;

/* An attempt as it stands after its last action: now_ms is that of the action, the units are the scenario's, all is recorded.
 * Valid until the attempt changes. */
view_job_model view_job_model_of(const record_attempt *attempt);

enum { VIEW_JOB_MAX_SAID = 8 };

/* What the person did in this frame. */
typedef struct view_job_said {
    int action_count;
    job_action action[VIEW_JOB_MAX_SAID]; /* in order; at_ms is the model's now_ms */
    int undo;                             /* take back so many of the last actions (guided) */
    bool leave;                           /* go home; the attempt can be continued */
    bool settings;                        /* open the settings */
    bool orders;                          /* show what the order changes (guided) */
    bool debrief;                         /* the sheet is signed: show the debrief */
    bool show_me;                         /* the program is to show the stage in hand */
} view_job_said;

void view_job_frame(view_ui *ui, view_job *job, const view_job_model *model, view_job_said *said);

/* Tells the screen what came of an action, once for each, right after it was carried out: it says refusals and events,
 * remembers readings and starts what moves. */
void view_job_heard(view_job *job, const view_job_model *model, const job_action *action, const job_outcome *outcome);

/* Where its parts were drawn last; all zero before the first frame. */
typedef struct view_job_places {
    view_rect bar, trail;
    view_rect run, ladder;
    view_rect work, tools; /* close-up and tools together; the tools alone */
    view_rect card;
} view_job_places;

const view_job_places *view_job_places_of(const view_job *job);

/* Shows this stage and row, for pictures: row -1 = as it is. */
void view_job_show(view_job *job, job_stage stage, int row);
/* As if the reasons had been asked for. */
void view_job_ask_why(view_job *job);
/* The stage and row that are shown. */
void view_job_at(const view_job *job, job_stage *stage, int *row);

/* ---- the debrief ---------------------------------------------------------------------------------------------------- */

typedef struct view_debrief view_debrief; /* opaque: cursor, chosen row and page */

view_debrief *view_debrief_open(const record_attempt *attempt, const score_card *card);
void view_debrief_close(view_debrief *debrief);
/* The chart of that number, from 0; the last one where there are not so many. */
void view_debrief_turn_to(view_debrief *debrief, int page);

/* attempt and card must be those of view_debrief_open. */
view_answer_of_screen view_debrief_frame(view_ui *ui, view_debrief *debrief, const record_attempt *attempt,
                                         const score_card *card, tr_system system);

/* ---- what the order changes ----------------------------------------------------------------------------------------- */

/* Two copies of a run, all rows hand tight, tensioned side by side in two orders. Opaque. */
typedef struct view_orders view_orders;

/* what must outlive it. NULL when there is no memory. */
view_orders *view_orders_open(const scenario *what);
void view_orders_close(view_orders *orders);

view_answer_of_screen view_orders_frame(view_ui *ui, view_orders *orders, tr_system system);

/* Shows both copies after so many pulls, for pictures. */
void view_orders_show(view_orders *orders, int step);

#endif
