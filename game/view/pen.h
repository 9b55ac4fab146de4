/* The pen of a picture that stands on a screen: here alone a screen passes on for which hand its pictures are drawn. */
#ifndef GAME_VIEW_PEN_H
#define GAME_VIEW_PEN_H

#include "tautrow/view/pictures.h"
#include "tautrow/view/ui.h"

/* text: size of its words in layout units, the person's text size included. */
static inline view_pen view__pen_of(const view_ui *ui, tr_system units, float text)
{
    return (view_pen){.draw = ui->draw,
                      .theme = ui->theme,
                      .metrics = ui->metrics,
                      .lang = ui->lang,
                      .units = units,
                      .text = text,
                      .is_mirrored = ui->left_handed};
}

#endif
