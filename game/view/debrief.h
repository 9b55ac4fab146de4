/* Private to the debrief: what it keeps from frame to frame, and its parts. */
#ifndef GAME_VIEW_DEBRIEF_H
#define GAME_VIEW_DEBRIEF_H

#include "tautrow/view/pictures.h"
#include "tautrow/view/screens.h"

/* What is shown one at a time where there is no room for all of it. */
typedef enum view_debrief_part { VIEW_PART_SCORE, VIEW_PART_CHARTS, VIEW_PART_RUN, VIEW_PARTS } view_debrief_part;

typedef enum view_debrief_page {
    VIEW_PAGE_TENSION, /* of every row over the actions */
    VIEW_PAGE_FINAL,   /* bars against the band */
    VIEW_PAGE_LOAD,    /* off-centre load over the actions */
    VIEW_PAGE_PULLS,   /* the pull sheet beside what was pulled */
    VIEW_PAGE_SHAPE,   /* the posts */
    VIEW_PAGES
} view_debrief_page;

struct view_debrief {
    int part; /* a view_debrief_part */
    int page; /* a view_debrief_page */
    int row;  /* chosen row, -1 none */
    size_t count;
    size_t cursor;   /* actions made so far at the scrubber, 0..count */
    size_t shown_at; /* cursor that `shown` was worked out for */
    bool is_playing;
    double played_s;   /* ui time of the last step */
    job_state *shown;  /* state at the cursor */
    mech_sheet *sheet; /* what the pulls might have been */
    bool has_sheet;
};

/* The pull sheet from where tensioning began; false where there is none to give. */
bool view__debrief_sheet(const job_setup *setup, const job_state *start, mech_sheet *sheet);

/* Left: total, verdict, stop faults, every criterion with its reason. */
void view_debrief_score(view_ui *ui, view_rect area, const record_attempt *attempt, const score_card *card,
                        tr_system system);

/* Right: charts and the run at the cursor (each where it is asked for), and the scrubber. */
void view_debrief_story(view_ui *ui, view_rect area, view_debrief *debrief, const record_attempt *attempt,
                        tr_system system, bool has_charts, bool has_run);

#endif
