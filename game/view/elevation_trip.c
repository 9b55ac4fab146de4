/* The elevation while a body is turned: where the posts stood before this trip to it, and in one line what the row in
 * hand gained and what the others lost together. That is why one pass is not enough. */
#include "elevation.h"

#include <math.h>

#include "tautrow/base/text.h"

enum { STEPS = 16 };

/* The inner face as it was, faint and fine: the bow beside it is new. */
static void former_face(const view__board *board, const view__scene *scene, const view__bend *bend, mech_end end)
{
    const float inward = end == MECH_NEAR ? 1.0F : -1.0F;
    const float face = end == MECH_NEAR ? scene->near_x : scene->far_x;
    const float drop = view__scene_fall(scene, face);
    view_point line[STEPS];
    for (int i = 0; i < STEPS; i++) {
        const double height = scene->top_m * (double)i / (double)(STEPS - 1);
        line[i] = (view_point){face + inward * (float)(view__bend_at(bend, height) * scene->factor) * scene->k,
                               view__scene_y(scene, height) + drop};
    }
    view_stroke_poly(board->pen.draw, line, STEPS, 1.4F, 2.5F, view_fade(board->pen.theme->force, 0.7F));
}

void view__signed_force(const view__board *board, double force_n, char *out, size_t cap)
{
    char value[VIEW__TEXT_CAP];
    view__quantity(board, fabs(force_n), TR_DIM_FORCE, value, sizeof value);
    tr_format(out, cap, "%s%s", force_n < 0.0 ? "\xE2\x88\x92" : "+", value); /* a true minus sign */
}

/* Rows that stood in the band before this trip and have been pulled out of it by another one's body. */
static int fallen(const job_setup *setup, const mech_rows *rows, const view_elevation_look *look, int *which)
{
    const double low_n = setup->target_n * (1.0 - setup->tolerance);
    int count = 0;
    for (int i = 0; i < setup->structure.row_count; i++) {
        if (i != look->trip_row && look->before_n[i] >= low_n && rows->tension_n[i] < low_n) {
            *which = i;
            count++;
        }
    }
    return count;
}

static void gained_and_lost(const view__board *board, const mech_rows *rows, const view_elevation_look *look, int count,
                            char *out, size_t cap)
{
    char row[VIEW__TEXT_CAP];
    char own[VIEW__TEXT_CAP];
    char rest[VIEW__TEXT_CAP];
    double others_n = 0.0;
    for (int i = 0; i < count; i++) {
        others_n += i != look->trip_row ? rows->tension_n[i] - look->before_n[i] : 0.0;
    }
    tr_format(row, sizeof row, "%d", look->trip_row + 1);
    view__signed_force(board, rows->tension_n[look->trip_row] - look->before_n[look->trip_row], own, sizeof own);
    view__signed_force(board, others_n, rest, sizeof rest);
    const char *const args[] = {row, own, rest};
    tr_lang_fill(board->pen.lang, "pic.trip", args, 3, out, cap);
}

/* Words at the left of the bend's factor; what does not fit is told row by row by the ladder. */
static void balance(const view__board *board, const view__scene *scene, const job_setup *setup, const mech_rows *rows,
                    const view_elevation_look *look)
{
    char text[2 * VIEW__TEXT_CAP];
    char fell[VIEW__TEXT_CAP];
    char number[VIEW__TEXT_CAP];
    int which = 0;
    gained_and_lost(board, rows, look, setup->structure.row_count, text, sizeof text);
    const int out = fallen(setup, rows, look, &which);
    tr_format(number, sizeof number, "%d", out == 1 ? which + 1 : out);
    view__fill(board, out == 1 ? "pic.fell_one" : "pic.fell", number, NULL, fell, sizeof fell);
    const view_font small = view__font(board, 0.86F, VIEW_REGULAR);
    const view_font font = view__font(board, 0.93F, VIEW_SEMIBOLD);
    const float left = board->area.x + small.size;
    const float right = scene->heading_x - 1.5F * small.size;
    const float y = scene->heading_y;
    const float first = view__width(board, font, text);
    const float more = out > 0 ? view__width(board, font, fell) + font.size * 0.8F : 0.0F;
    const bool has_more = out > 0 && first + more <= right - left;
    const float need = first + (has_more ? more : 0.0F);
    const float x = view__clamp((scene->near_x + scene->far_x - need) * 0.5F, left, fmaxf(right - need, left));
    if (need <= right - left) {
        view__say(board, x, y, font, VIEW_LEFT, board->pen.theme->ink, text);
    }
    if (has_more) {
        view__say(board, x + need, y, font, VIEW_RIGHT, board->pen.theme->warn, fell);
    }
}

void view__elevation_trip(const view__board *board, const view__scene *scene, const job_setup *setup,
                          const job_state *state, const view_elevation_look *look, const mech_rows *rows)
{
    if (look->before_n == NULL || look->trip_row < 0) {
        return;
    }
    mech_rows before = *rows;
    for (int i = 0; i < setup->structure.row_count; i++) {
        before.tension_n[i] = look->before_n[i];
    }
    for (int end = 0; end < MECH_ENDS; end++) {
        view__bend bend;
        view__bend_of(&state->run, &before, (mech_end)end, &bend);
        former_face(board, scene, &bend, (mech_end)end);
    }
    if (setup->structure.row_count > 1 && !setup->structure.corner.is_there) {
        balance(board, scene, setup, rows, look);
    }
}
