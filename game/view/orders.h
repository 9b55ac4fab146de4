/* What the screen of the orders keeps, and its parts. Private to the view layer and its tests. */
#ifndef GAME_VIEW_ORDERS_H
#define GAME_VIEW_ORDERS_H

#include "orders_run.h"
#include "tautrow/view/pictures.h"
#include "tautrow/view/screens.h"

enum { VIEW__SIDES = 2, VIEW__ORDERS = 5, VIEW__WORDS_CAP = 512 };

/* One copy of the run. Choices are indices of view_segments. */
typedef struct view__side {
    int order, way;
    view__tensioning done;
    view__end end;
} view__side;

struct view_orders {
    const scenario *what;
    job_setup setup;  /* the scenario's, with every row of the trainee's hand tight and no slip-ups */
    job_state state;  /* before the first pull */
    int order_count;  /* a fifth one where the job sheet has a list of its own */
    int sheets_order; /* the one that the job sheet asks for */
    view__side side[VIEW__SIDES];
    int step, last; /* of both; a side with fewer pulls waits for the other */
    bool is_playing;
    double played_s;
};

/* The step that a side shows. */
const view__step *view__side_step(const view_orders *orders, int side);
bool view__side_is_done(const view_orders *orders, int side);

/* Picture and bars of one side (orders_show.c). */
void view__orders_picture(view_ui *ui, view_rect area, const view_orders *orders, int side, tr_system system);
float view__orders_picture_least(const view_ui *ui, const view_orders *orders);

/* The rows in the order of a choice; returns how many are pulled. */
int view__orders_rows(const job_setup *setup, int choice, int out[MECH_MAX_ROWS]);

/* Sentences (orders_words.c): before the first pull, after a pull, and once all are made. */
void view__orders_start_words(const view_orders *orders, int side, const tr_lang *lang, char *out, size_t cap);
void view__orders_step_words(const job_setup *setup, const view__step *step, const tr_lang *lang, tr_system system,
                             char *out, size_t cap);
void view__orders_end_words(const view_orders *orders, int side, const tr_lang *lang, tr_system system, char *out,
                            size_t cap);
/* What comparing both ends tells. */
void view__orders_told(const view_orders *orders, const tr_lang *lang, tr_system system, char *out, size_t cap);

#endif
