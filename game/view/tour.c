/* The tour: what each step lights and says, which hands it lets through, and when it is done. */
#include "tautrow/view/tour.h"

#include <math.h>
#include <string.h>

#include "job_screen.h"
#include "tautrow/base/text.h"
#include "tour_bubble.h"

static const double QUARTER = 0.25;
enum { QUARTERS = 4 }; /* so many more of them show what one row does to the others */

/* ---- the steps -------------------------------------------------------------------------------------------------- */

typedef enum tour_part { NO_PART, RUN, LADDER, WORK, TRAIL, CARD, BAR, SIDE, LEFT, BELOW_BAR } tour_part;

typedef struct tour_step {
    const char *title, *text, *ask;
    tour_part lit[4]; /* most important first; of one that the bubble lies over only the part above it is lit */
    tour_part at[2];  /* where the bubble may be, best first */
    bool is_live;     /* the close-up and its tools answer */
} tour_step;

static const tour_step steps[VIEW_TOUR_STEPS] = {
    [VIEW_TOUR_RUN] = {"tour.run.title", "tour.run.text", NULL, {RUN}, {WORK, SIDE}, false},
    [VIEW_TOUR_TRAIL] = {"tour.trail.title", "tour.trail.text", NULL, {TRAIL, CARD}, {LEFT}, false},
    [VIEW_TOUR_TURN] = {"tour.turn.title", "tour.turn.text", "tour.turn.do", {WORK}, {CARD, SIDE}, true},
    [VIEW_TOUR_COUPLING] =
        {"tour.coupling.title", "tour.coupling.text", "tour.coupling.do", {RUN, WORK, LADDER}, {CARD, SIDE}, true},
    [VIEW_TOUR_PLUCK] = {"tour.pluck.title", "tour.pluck.text", "tour.pluck.do", {WORK, RUN}, {CARD, SIDE}, true},
    [VIEW_TOUR_MODES] = {"tour.modes.title", "tour.modes.text", NULL, {BAR}, {BELOW_BAR}, false},
};

static view_rect around(view_rect a, view_rect b)
{
    const float x = fminf(a.x, b.x);
    const float y = fminf(a.y, b.y);
    return (view_rect){x, y, fmaxf(a.x + a.w, b.x + b.w) - x, fmaxf(a.y + a.h, b.y + b.h) - y};
}

/* Down over the line of key hints, which nobody misses meanwhile. */
static view_rect to_foot(const view_ui *ui, view_rect rect)
{
    rect.h = fmaxf(rect.h, ui->screen.h - VIEW_GAP_2 - rect.y);
    return rect;
}

static view_rect rect_of(const view_ui *ui, const view_job_places *at, tour_part which)
{
    switch (which) {
    case RUN:
        return at->run;
    case LADDER:
        return at->ladder;
    case WORK:
        return at->work;
    case TRAIL:
        return at->trail;
    case CARD:
        return at->card;
    case BAR:
        return at->bar;
    case SIDE:
        return around(at->ladder, at->card);
    case LEFT:
        return around(at->run, at->work);
    case BELOW_BAR:
    case NO_PART:
    default:
        return view_inset((view_rect){0.0F, at->bar.h, ui->screen.w, ui->screen.h - at->bar.h}, VIEW_GAP_4);
    }
}

void view_tour_go(view_tour *tour, int step)
{
    const bool goes_on = tour->step == VIEW_TOUR_TURN && step == VIEW_TOUR_COUPLING;
    tour->step = step < 0 ? 0 : step >= VIEW_TOUR_STEPS ? VIEW_TOUR_STEPS - 1 : step;
    tour->turned = 0.0;
    tour->is_done = false;
    tour->is_watched = tour->is_watched && goes_on;
}

/* ---- hands ------------------------------------------------------------------------------------------------------ */

static bool passes(int step, int key)
{
    const bool turns = step == VIEW_TOUR_TURN || step == VIEW_TOUR_COUPLING;
    return key == VIEW_KEY_TAB || key == VIEW_KEY_ENTER || key == VIEW_KEY_SPACE || key == VIEW_KEY_BACKSPACE ||
           key == VIEW_KEY_PAGE_UP || key == VIEW_KEY_PAGE_DOWN ||
           (turns && (key == VIEW_KEY_LEFT || key == VIEW_KEY_RIGHT)) || (step == VIEW_TOUR_PLUCK && key == 'K');
}

/* Keys of the job that a step has no use for are taken before the job sees them. */
static void keep_keys(view_ui *ui, int step)
{
    const view_input *in = ui->input;
    for (size_t i = 0; i < in->keys; i++) {
        if (!passes(step, in->key[i].key)) {
            (void)view_key_take(ui, in->key[i].key, in->key[i].mods);
        }
    }
}

void view_tour_begin(view_ui *ui, view_tour *tour, view_job *job)
{
    job->is_closed = true;
    const view_rect live = view_job_places_of(job)->work;
    tour->is_skipped = view_key_take(ui, VIEW_KEY_ESCAPE, 0);
    keep_keys(ui, tour->step);
    view_spot_begin(ui, &live, steps[tour->step].is_live && live.w > 0.0F ? 1 : 0);
}

void view_tour_heard(view_tour *tour, const job_action *action, const job_outcome *outcome)
{
    if (outcome->refusal != JOB_REFUSE_NONE) {
        return;
    }
    if (action->verb == JOB_DO_TURN_BODY) {
        tour->turned += outcome->value[0];
    }
    const double wanted = tour->step == VIEW_TOUR_TURN ? QUARTER : QUARTER * QUARTERS;
    const bool has_turned = tour->turned > wanted - 1e-9;
    if (tour->step == VIEW_TOUR_TURN && has_turned) {
        view_tour_go(tour, VIEW_TOUR_COUPLING); /* the hand may go on turning */
    } else if (tour->step == VIEW_TOUR_COUPLING) {
        tour->is_done = tour->is_done || has_turned;
    } else if (tour->step == VIEW_TOUR_PLUCK) {
        const bool is_pluck = action->verb == JOB_DO_PLUCK;
        tour->tone_hz = is_pluck ? outcome->value[0] : tour->tone_hz;
        tour->is_done = tour->is_done || is_pluck;
    }
}

/* ---- words ------------------------------------------------------------------------------------------------------ */

enum { LINE = 512 };

typedef struct spoken {
    char text[LINE], ask[LINE], told[LINE];
} spoken;

/* The row that has lost most since the turning began; -1 where none has lost enough to be worth a sentence. */
static int sunk_row(const view_tour *tour, const job_state *state, int rows)
{
    int most = -1;
    double loss = 1.0;
    for (int i = 0; i < rows; i++) {
        const double lost = tour->before_n[i] - state->rows.tension_n[i];
        if (i != tour->row && lost > loss && lost > 0.03 * tour->before_n[i]) {
            loss = lost;
            most = i;
        }
    }
    return most;
}

static void say_sunk(const view_ui *ui, const view_tour *tour, const view_job_model *model, char *out, size_t cap)
{
    char number[16];
    char before[48];
    char now[48];
    const int row = sunk_row(tour, model->state, model->what->setup.structure.row_count);
    if (row < 0) {
        return;
    }
    (void)tr_format(number, sizeof number, "%d", row + 1);
    tr_quantity_text(tour->before_n[row], TR_DIM_FORCE, model->system, TR_PLAIN, before, sizeof before);
    tr_quantity_text(model->state->rows.tension_n[row], TR_DIM_FORCE, model->system, TR_PLAIN, now, sizeof now);
    const char *const args[] = {number, before, now};
    tr_lang_fill(ui->lang, "tour.coupling.told", args, 3, out, cap);
}

static view_tour_words words_of(const view_ui *ui, const view_tour *tour, const view_job_model *model,
                                const scenario *first, spoken *said)
{
    const tour_step *now = &steps[tour->step];
    char row[16];
    char quarters[16];
    const int turned = (int)fmin(fmax(tour->turned / QUARTER + 1e-9, 0.0), (double)QUARTERS);
    (void)tr_format(row, sizeof row, "%d", tour->row + 1);
    (void)tr_format(quarters, sizeof quarters, "%d", turned);
    const char *const args[] = {row, quarters};
    tr_lang_fill(ui->lang, now->text, args, 2, said->text, sizeof said->text);
    if (now->ask != NULL) {
        tr_lang_fill(ui->lang, now->ask, args, 2, said->ask, sizeof said->ask);
    }
    said->told[0] = '\0';
    if (tour->step == VIEW_TOUR_COUPLING) {
        say_sunk(ui, tour, model, said->told, sizeof said->told);
    } else if (tour->step == VIEW_TOUR_PLUCK && tour->is_done) {
        char tone[48];
        tr_quantity_text(tour->tone_hz, TR_DIM_FREQUENCY, model->system, TR_PLAIN, tone, sizeof tone);
        const char *const heard[] = {row, tone};
        tr_lang_fill(ui->lang, "job.said.pluck", heard, 2, said->told, sizeof said->told);
    }
    view_tour_words words = {view_word(ui, now->title),           said->text,
                             now->ask != NULL ? said->ask : NULL, said->told[0] != '\0' ? said->told : NULL,
                             view_word(ui, "tour.next"),          tour->is_done};
    if (tour->step == VIEW_TOUR_MODES) {
        const char *const title[] = {scenario_title_in(&first->title, tr_lang_code(ui->lang))};
        tr_lang_fill(ui->lang, "tour.first", title, 1, said->told, sizeof said->told);
        words.told = said->told;
        words.next = view_word(ui, "tour.start");
    }
    return words;
}

/* ---- places ----------------------------------------------------------------------------------------------------- */

/* In the first place where the words fit; where they fit nowhere, in the last one, and they scroll. */
static view_rect bubble_place(const view_ui *ui, const view_job_places *at, const tour_step *now,
                              const view_tour_words *words)
{
    const float widest = 430.0F * (0.4F + 0.6F * ui->text_scale);
    view_rect bubble = {0};
    for (int i = 0; i < 2 && now->at[i] != NO_PART; i++) {
        const view_rect room = to_foot(ui, rect_of(ui, at, now->at[i]));
        const float width = fminf(room.w, widest);
        const float want = view__tour_bubble_height(ui, width, words);
        bubble = view_centre_in(room, width, fminf(want, room.h));
        bubble.y = now->at[i] == LEFT || now->at[i] == CARD ? room.y : bubble.y;
        bubble.y = now->at[i] == SIDE ? room.y + room.h - bubble.h : bubble.y;
        bubble.x = now->at[i] == LEFT ? (at->card.x > room.x ? room.x + room.w - width : room.x) : bubble.x;
        if (want <= room.h) {
            break;
        }
    }
    return bubble;
}

/* What is left of a part above the bubble. */
static view_rect uncovered(view_rect part, view_rect by)
{
    const float w = fminf(part.x + part.w, by.x + by.w) - fmaxf(part.x, by.x);
    const float h = fminf(part.y + part.h, by.y + by.h) - fmaxf(part.y, by.y);
    if (w > 1.0F && h > 1.0F) {
        part.h = fmaxf(0.0F, by.y - VIEW_GAP_2 - part.y);
    }
    return part;
}

/* A spotlight that moves eases to its next place. */
static view_rect eased(view_ui *ui, view_rect to, int index)
{
    static const char *const side[4] = {"x", "y", "w", "h"};
    float *const value[4] = {&to.x, &to.y, &to.w, &to.h};
    view_push(ui, "lit", index);
    for (int i = 0; i < 4; i++) {
        *value[i] = view_anim(ui, view_id_of(ui, side[i]), *value[i], 0.25F);
    }
    view_pop(ui);
    return to;
}

static void light(view_ui *ui, const view_job_places *at, const tour_step *now, view_rect bubble)
{
    view_rect lit[VIEW_MAX_SPOTS];
    int count = 0;
    for (int i = 0; i < 4 && now->lit[i] != NO_PART; i++) {
        const view_rect part = rect_of(ui, at, now->lit[i]);
        const view_rect seen = uncovered(part, bubble);
        if (seen.h > 0.5F * part.h) {
            lit[count] = eased(ui, seen, count);
            count++;
        }
    }
    view_spot_dim(ui, lit, count);
}

view_tour_wish view_tour_end(view_ui *ui, view_tour *tour, const view_job *job, const view_job_model *model,
                             const scenario *first)
{
    const view_job_places *at = view_job_places_of(job);
    const tour_step *now = &steps[tour->step];
    spoken said;
    view_spot_end(ui);
    if (!tour->is_watched) {
        memcpy(tour->before_n, model->state->rows.tension_n, sizeof tour->before_n);
        tour->is_watched = true;
    }
    const view_tour_words words = words_of(ui, tour, model, first, &said);
    const view_rect bubble = bubble_place(ui, at, now, &words);
    view_push(ui, "tour", 0);
    light(ui, at, now, bubble);
    const view__tour_press press = view__tour_bubble(ui, bubble, tour->step, &words);
    view_pop(ui);
    if (tour->is_skipped || press == VIEW__TOUR_SKIP) {
        return VIEW_TOUR_SKIP;
    }
    if (press == VIEW__TOUR_NEXT && tour->step == VIEW_TOUR_STEPS - 1) {
        return VIEW_TOUR_START;
    }
    if (press != VIEW__TOUR_NONE) {
        view_tour_go(tour, tour->step + (press == VIEW__TOUR_NEXT ? 1 : -1));
        ui->wants_frame = true;
    }
    return VIEW_TOUR_STAY;
}
