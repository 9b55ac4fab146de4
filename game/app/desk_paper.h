/* Private to the desk: the debrief that is shown, saved on paper. */
#ifndef GAME_APP_DESK_PAPER_H
#define GAME_APP_DESK_PAPER_H

#include "desk.h"

/* Writes the PDF into the folder of attempts, under the name of the journal, and says where, or why not. What lay there
 * under that name was the same debrief, and is replaced. */
void app__desk_save_pdf(app_desk *desk);

#endif
