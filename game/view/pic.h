/* What all pictures share: text that stays inside its picture, dimension lines, instruments, parts of wood and steel.
 * Private to the view layer. */
#ifndef TAUTROW_GAME_VIEW_PIC_H
#define TAUTROW_GAME_VIEW_PIC_H

#include "tautrow/view/pictures.h"

enum { VIEW__TEXT_CAP = 96 };

/* A picture's own sheet: nothing may leave the area. */
typedef struct view__board {
    view_pen pen;
    view_rect area;
} view__board;

/* ---- numbers, words, text (pic.c) ------------------------------------------------------------------------------- */

float view__clamp(float value, float low, float high);
/* The line of text's font at a share of the body size. */
view_font view__font(const view__board *board, float share, view_weight weight);
float view__width(const view__board *board, view_font font, const char *text);
const char *view__word(const view__board *board, const char *key);
/* The text of key with {0} (and {1}) filled in. */
void view__fill(const view__board *board, const char *key, const char *first, const char *second, char *out,
                size_t cap);
void view__quantity(const view__board *board, double si, tr_dim dim, char *out, size_t cap);
/* Lengths that a fitting is judged by: in the finer style. */
void view__fine(const view__board *board, double si, tr_dim dim, char *out, size_t cap);

/* A change of force: "+9 lbf", with a true minus sign where it fell. */
void view__signed_force(const view__board *board, double force_n, char *out, size_t cap);

/* Text moved and, when it must be, cut so that it stays inside the board. */
void view__say(const view__board *board, float x, float baseline, view_font font, view_align align, view_color color,
               const char *text);
/* A plate with text on it, centred at (x, y); returns its rect. */
view_rect view__plate(const view__board *board, float x, float y, view_font font, view_color ground, view_color ink,
                      const char *text);
/* Text with a line from it to the thing it names. */
void view__callout(const view__board *board, float x, float baseline, view_align align, float to_x, float to_y,
                   const char *text);

/* Dimension lines as on a drawing: slanted ticks at both ends, the text above the line or beside it when it is wider.
 */
void view__dim_across(const view__board *board, float x0, float x1, float y, const char *text);
void view__dim_up(const view__board *board, float x, float y0, float y1, bool is_text_left, const char *text);
void view__dash(const view__board *board, float x0, float y0, float x1, float y1, float width, view_color color);

/* ---- instruments (pic.c) ---------------------------------------------------------------------------------------- */

/* A spirit level: the bubble leaves the marks as the angle grows. */
void view__bubble(const view__board *board, view_rect rect, double angle_rad, const char *label, const char *value);
/* A bar from 0 to 1 with a word above it; from warn_at on it is drawn in the warning colour with a mark there. */
void view__meter(const view__board *board, view_rect rect, double share, double warn_at, const char *label,
                 const char *value);
/* A dial seen along the axis of a turning thing: quarter marks, a sweep from `from` to `to`. Angles 0 = up, clockwise.
 */
void view__dial(const view__board *board, float x, float y, float radius, double from_rad, double to_rad,
                view_color color);

/* ---- scales (pic.c) --------------------------------------------------------------------------------------------- */

typedef struct view__ticks {
    double first, step;
    int count;
    int decimals;
} view__ticks;
/* Round ticks (1-2-5) inside low..high, at most `most` of them. */
view__ticks view__ticks_of(double low, double high, int most);
/* The next number of 1-2-5 at or below value (> 0). */
double view__round_down(double value);
/* Pushes rising positions apart to at least gap, inside low..high where they fit. */
void view__spread(float place[], int count, float gap, float low, float high);

/* ---- parts (parts.c) -------------------------------------------------------------------------------------------- */

/* An axis on the picture: s metres along it, t metres across it (to the right hand of one looking along s, y down). */
typedef struct view__axis {
    float x, y;
    float along_x, along_y; /* unit vector */
    float k;                /* layout units per metre */
} view__axis;

view__axis view__axis_of(float x, float y, double angle_rad, float k);
view_point view__at(const view__axis *axis, double s_m, double t_m);

typedef struct view__steel {
    view_color edge, middle, line;
} view__steel;
view__steel view__steel_of(const view__board *board);
view__steel view__bright_of(const view__board *board);

/* A plain round part from s0 to s1, radius r0 at s0 and r1 at s1. */
void view__rod(const view__board *board, const view__axis *axis, double s0, double s1, double r0, double r1,
               view__steel steel);
/* A hollow outlined in dashes, as hidden edges are drawn. */
void view__hidden(const view__board *board, const view__axis *axis, double s0, double s1, double radius);

typedef struct view__thread {
    double major_m, minor_m; /* diameters */
    double pitch_m;
    int hand;    /* +1 right, -1 left */
    double turn; /* how far it is turned, for its look */
} view__thread;
void view__threaded(const view__board *board, const view__axis *axis, double s0, double s1, view__thread thread,
                    view__steel steel);
view__thread view__thread_of(const mech_thread *thread, int hand, double turn);

/* 1x19 strand: slanting outer wires; twist = extra turns per lay, turn = how far it is rolled. */
void view__strand(const view__board *board, const view__axis *axis, double s0, double s1, double diameter_m,
                  double twist, double turn);

/* Wood cut along the grain, grain upright. */
void view__wood_cut(const view__board *board, view_rect rect);
/* Wood seen from outside, grain upright. */
void view__wood_face(const view__board *board, view_rect rect);
/* The jagged edge where a drawing breaks off, upright at x from y0 to y1; everything up to `width` right of it is
 * blanked. */
void view__break_line(const view__board *board, float x, float y0, float y1, float width, view_color ground);
/* Drilled hole from the face: s grows into the wood; cone of the bit at its end. */
void view__bore(const view__board *board, const view__axis *axis, double depth_m, double diameter_m);
void view__insert(const view__board *board, const view__axis *axis, double s0, const mech_insert *insert, double turn);

/* Sizes of parts that the setup does not carry: all for show, in proportion to real fittings. */
typedef struct view__sizes {
    double body_r, body_len;        /* turnbuckle body */
    double barrel_len, stud_thread; /* crimp stud: barrel, threaded shank */
    double anchor_len;              /* anchor stud: all of it */
    double flange_r;
} view__sizes;
view__sizes view__sizes_of(const job_setup *setup);

/* Turnbuckle body with its ring mark at the left-hand end s1; cutaway shows what is inside. */
void view__body(const view__board *board, const view__axis *axis, double s0, double s1, double radius, bool is_cutaway);
/* Crimp stud: threaded shank from s0, collar, barrel to its mouth; returns where the mouth is. */
double view__crimp_stud(const view__board *board, const view__axis *axis, double s0, const job_setup *setup,
                        const mech_crimp *crimp, double turn);

/* ---- state, as the pictures see it (pic.c) ---------------------------------------------------------------------- */

/* A row's height: where it is once it is marked, else where it is to be. */
double view__row_height(const job_setup *setup, const job_state *state, int row);
bool view__is_guided(const job_setup *setup);

/* A handle of at least 24 by 24 about a thing, and a grip made of it. */
view_rect view__grab(float x, float y, float w, float h);
/* Turns the mirror of a mirrored pen on and off: about the middle of the board. */
void view__mirror(const view__board *board, bool is_on);
view_rect view__mirrored(const view__board *board, view_rect rect);
/* A grip of the scene, once all of it is set. */
void view__grip_mirror(const view__board *board, view_grip *grip);
void view__grip_set(view_grip *grip, view_rect handle, view_point zero, float k, float along_x, float along_y);

/* A spring scale hooked at s = 0 and held at its other end (closeup_scale.c); share = of the asked pull. */
void view__spring_scale(const view__board *board, const view__axis *axis, double length_m, double share);

/* The face about a hole from the front (closeup_face.c): a place for it at the lower right of a scene whose wood ends at
 * face_x and whose tool reaches down to tool_y, false where there is no room; and the picture of row as it stands. */
bool view__face_place(const view__board *board, view_rect scene, float face_x, float tool_y, view_rect *rect);
void view__face(const view__board *board, view_rect rect, const job_setup *setup, const job_row *row);

/* The post seen along its length (closeup_sight.c). */
void view__closeup_sight(const view__board *board, const job_setup *setup, const job_state *state,
                         const view_hand_check *hand, view_grip *grip);

/* The frame of a close-up: the picture at the left, a column of instruments at the right. Of a mirrored pen the scene is
 * to be drawn with the mirror on, the column, which already lies at the left, with the mirror off. */
typedef struct view__frame {
    view_rect scene, column;
} view__frame;
view__frame view__frame_of(const view__board *board, float column_in_ems);

#endif
