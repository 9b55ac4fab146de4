/* Private to the tour: what a step says, and the bubble that says them. */
#ifndef GAME_VIEW_TOUR_BUBBLE_H
#define GAME_VIEW_TOUR_BUBBLE_H

#include "tautrow/view/tour.h"

typedef struct view_tour_words {
    const char *title, *text;
    const char *ask;  /* what to do, NULL = nothing */
    const char *told; /* what came of it, NULL = nothing yet */
    const char *next; /* on the button that goes on */
    bool is_done;
} view_tour_words;

typedef enum view__tour_press { VIEW__TOUR_NONE, VIEW__TOUR_NEXT, VIEW__TOUR_BACK, VIEW__TOUR_SKIP } view__tour_press;

/* Height that the bubble wants at this width. */
float view__tour_bubble_height(const view_ui *ui, float width, const view_tour_words *words);
/* Where there is too little room, the words scroll between the buttons. */
view__tour_press view__tour_bubble(view_ui *ui, view_rect rect, int step, const view_tour_words *words);

#endif
