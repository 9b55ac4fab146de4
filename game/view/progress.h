/* What home and the progress screen share: names of skills, bars of mastery, dots. Private. */
#ifndef TAUTROW_GAME_VIEW_PROGRESS_H
#define TAUTROW_GAME_VIEW_PROGRESS_H

#include "tautrow/view/screens.h"

const char *view__skill_name(const view_ui *ui, score_skill skill);
/* Room in a scroll area that does not end: cutting strips off it never comes to nothing. */
view_rect view__endless(view_rect room);
/* "42 %", never 100 % before it is. */
void view__percent(double share, char *out, size_t cap);
/* The chance that a skill is mastered, as a bar with a mark from where it counts as mastered. */
void view__mastery_bar(view_ui *ui, view_rect rect, double known);
float view__mastery_bar_height(const view_ui *ui);
/* Why a skill is on the list, in a sentence. */
void view__skill_why(const view_ui *ui, const view_skill *skill, char *out, size_t cap);

/* The part "Practise next" of home and progress, from the top of room; returns the height used. is_loud: its button is the one that
 * the screen is for. */
float view__practise_next(view_ui *ui, view_rect room, const view_progress *progress, bool is_loud,
                          view_answer_of_screen *answer);

#endif
