/* The ear: what happens at the job screen as cues and hum, and both of them in words for those who do not hear them. It only
 * listens: nothing of the job depends on it. */
#include "tautrow/view/sound.h"

#include "job_screen.h"
#include "ui_keep.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"
#include "tautrow/mech/checks.h"

enum { TEETH = 10, MOST_TICKS = 8 };
static const float TICK_S = 0.05F;       /* between the clicks of one quick turn */
static const float COLLAR_S = 0.08F;     /* between two collars */
static const double SAID_S = 1.6;        /* a caption stays */
static const double RING_S = 6.0;        /* a plucked row is heard well enough to beat with another */
static const double FASTEST_BEAT = 12.0; /* a second; faster ones are heard as roughness (from memory) */
static const double FULLY_IN = 20.0;     /* turns after which a stud goes in no stiffer, by ear */
static const double SPINS_FREE = 0.25;   /* of the right bite: less does not hold even the flange, by ear */
static const double FLUSH_M = 0.0004;    /* the flange is on the wood: 1/64 in, as the close-up says flush */
static const double SAME_HZ = 0.05;      /* no beat within the time that two rows ring */

/* ---- cues ------------------------------------------------------------------------------------------------------- */

static void hear(view_ear *ear, view_cue cue, double time_s)
{
    ear->said = cue;
    ear->said_until_s = time_s + (cue.kind == VIEW_CUE_PLUCK ? 2.0 * SAID_S : SAID_S);
    if (ear->cue_count < VIEW_EAR_CUES) {
        ear->cue[ear->cue_count++] = cue;
    }
}

static void hear_kind(view_ear *ear, view_cue_kind kind, int row, float effort, double time_s)
{
    hear(ear, (view_cue){.kind = kind, .row = row, .effort = effort}, time_s);
}

/* The tone as it sounds, not as it is told: the words round it to a tenth. */
static float tone_of(const view_job_model *model, int row)
{
    const mech_structure *structure = &model->what->setup.structure;
    double bay_m = 0.0;
    for (int i = 0; i < structure->bay_count; i++) {
        bay_m = fmax(bay_m, structure->bay_m[i]);
    }
    return (float)mech_tone_hz(model->state->rows.tension_n[row], structure->strand.mass_kg_m, bay_m);
}

static void hear_pluck(view_ear *ear, const view_job_model *model, int row, double time_s)
{
    const view_cue cue = {.kind = VIEW_CUE_PLUCK, .row = row, .hz = tone_of(model, row)};
    if (ear->rung[0].row != row) {
        ear->rung[1] = ear->rung[0];
    }
    ear->rung[0] = (view_rung){row, cue.hz, time_s};
    hear(ear, cue, time_s);
}

static float effort_of(const view_job *job, const view_job_model *model)
{
    if (job->pin_row != job->row || job->pin_n_m <= 0.0) {
        return 0.0F;
    }
    return (float)fmin(job->pin_n_m / fmax(model->what->setup.pin_limit_n_m, 0.1), 1.0);
}

/* What the verb itself sounds like, where its gesture has not been heard already. */
static void hear_work(view_ear *ear, const view_job_model *model, const job_action *action, const job_outcome *outcome,
                      double time_s)
{
    const int row = job_action_row(action);
    switch (action->verb) {
    case JOB_DO_PLUCK:
        hear_pluck(ear, model, row, time_s);
        break;
    case JOB_DO_CUT_CABLE:
        hear_kind(ear, VIEW_CUE_SNAP, row, model->state->row[row].cutter == 0 ? 0.0F : 0.6F, time_s);
        break;
    case JOB_DO_SQUEEZE:
        if (action->arg[JOB_SQUEEZE_CLOSING] > 0.999) {
            hear_kind(ear, VIEW_CUE_RELEASE, row, 0.0F, time_s);
        }
        break;
    case JOB_DO_PLIERS:
        hear_kind(ear, action->arg[JOB_PLIERS_ON] != 0.0 ? VIEW_CUE_CLAMP : VIEW_CUE_UNCLAMP, row, 0.0F, time_s);
        break;
    case JOB_DO_BALL:
        hear_kind(ear, outcome->value[1] != 0.0 ? VIEW_CUE_BALL : VIEW_CUE_THROUGH, -1, 0.0F, time_s);
        break;
    case JOB_DO_GAUGE:
        hear_kind(ear, VIEW_CUE_GAUGE, row, 0.0F, time_s);
        break;
    case JOB_DO_COLLAR: /* all at once are heard one after the other */
        hear(ear, (view_cue){.kind = VIEW_CUE_COLLAR, .row = row, .delay_s = COLLAR_S * (float)ear->cue_count}, time_s);
        break;
    case JOB_DO_WIPE:
        hear_kind(ear, VIEW_CUE_WIPE, -1, 0.0F, time_s);
        break;
    case JOB_DO_TURN_BODY: /* every row has another tone now */
        ear->turned += outcome->value[0];
        memset(ear->rung, 0, sizeof ear->rung);
        break;
    default:
        break;
    }
}

void view_job_sounded(view_ear *ear, const view_job *job, const view_job_model *model, const job_action *action,
                      const job_outcome *outcome, double time_s)
{
    const unsigned cracks = (unsigned)JOB_EVENT_SPLIT | (unsigned)JOB_EVENT_STRIPPED;
    const unsigned slips = (unsigned)JOB_EVENT_CRIMP_SLIP | (unsigned)JOB_EVENT_PULL_OUT | (unsigned)JOB_EVENT_CAME_OUT;
    const int row = job_action_row(action);
    if (outcome->refusal != JOB_REFUSE_NONE) {
        hear_kind(ear, VIEW_CUE_REFUSAL, row, 0.0F, time_s);
        return;
    }
    hear_work(ear, model, action, outcome, time_s);
    if ((outcome->events & cracks) != 0) {
        hear_kind(ear, VIEW_CUE_CRACK, row, 0.3F, time_s);
    }
    if ((outcome->events & slips) != 0) {
        hear_kind(ear, VIEW_CUE_SLIP, row, effort_of(job, model), time_s);
    }
}

/* ---- hum -------------------------------------------------------------------------------------------------------- */

static view_hum drill_hum(const view_hand_drill *hand)
{
    const bool cuts = hand->depth_m > 0.0 && hand->depth_m > hand->deepest_m - 1e-4;
    const float chips = (float)hand->chips;
    return (view_hum){.motor = hand->rpm > 0.0 ? VIEW_MOTOR_DRILL : VIEW_NO_MOTOR,
                      .rpm = (float)hand->rpm,
                      .load = hand->rpm > 0.0 && cuts ? 0.3F + 0.7F * chips : 0.0F,
                      .chips = hand->rpm > 0.0 && hand->depth_m > 0.0 ? 0.4F + 0.6F * chips : 0.0F};
}

/* The deeper the thread the harder it goes; at the end the flange rubs on the wood. */
static view_hum driver_hum(const view_hand_insert *hand, const job_setup *setup, const mech_hole *hole)
{
    const double in = 1.0 - hand->proud_m / fmax(setup->insert.length_m, 0.001);
    /* how much wood the thread has to cut: none in a hole as wide as itself, half its depth in the right one */
    const double depth = fmax(setup->insert.major_m - setup->insert.minor_m, 1e-4);
    const double bite = fmin(fmax((setup->insert.major_m - hole->diameter_m - hole->wander_m) / depth, 0.0), 1.4);
    const double right = fmax((setup->insert.major_m - setup->bit[setup->right_bit].diameter_m) / depth, 0.2);
    const double share = fmin(bite / right, 1.5);
    const float cutting = fminf(0.62F * (float)(fmin(fmax(in, 0.0), 1.0) * share), 0.95F);
    const float load = hand->proud_m < 0.0006 && share > SPINS_FREE ? 1.0F : cutting;
    return (view_hum){.motor = hand->rpm > 0.0 ? VIEW_MOTOR_DRIVER : VIEW_NO_MOTOR,
                      .rpm = (float)hand->rpm,
                      .load = hand->rpm > 0.0 ? load : 0.0F};
}

static view_hum cut_hum(const view_hand_cut *hand, const view_job_model *model)
{
    const double full_n = 2.5 * fmax(model->what->setup.hand_pull_n, 1.0);
    view_hum hum = {.creak = (float)fmin(hand->pull_n / full_n, 1.0)};
    if (model->state->cutter == 2 && hand->is_cutting && hand->closing > 0.0) {
        hum.motor = VIEW_MOTOR_GRINDER;
        hum.rpm = 11000.0F;
        hum.load = (float)hand->closing * 0.6F;
        hum.chips = hand->closing > 0.45 ? 1.0F : 0.0F;
    }
    return hum;
}

static view_hum hum_of(const view_job *job, const view_job_model *model)
{
    switch (job->stage) {
    case JOB_STAGE_DRILL:
        return drill_hum(&job->hand.drill);
    case JOB_STAGE_INSERT:
        return driver_hum(&job->hand.insert, &model->what->setup, &model->state->row[job->row].hole);
    case JOB_STAGE_CUT:
        return cut_hum(&job->hand.cut, model);
    default:
        return (view_hum){.motor = VIEW_NO_MOTOR};
    }
}

/* ---- what clicks while the hand moves --------------------------------------------------------------------------- */

/* Threads passed by now: sixteenths of a turn at the pin, quarters with the fingers. */
static int tick_of(const view_ear *ear, const view_job *job)
{
    switch (job->stage) {
    case JOB_STAGE_TENSION:
        return (int)floor(16.0 * (ear->turned + (double)job->tools.tension.pin_rad / (2.0 * TR_PI)) + 1e-4);
    case JOB_STAGE_ASSEMBLE:
        return (int)floor(4.0 * (double)job->tools.assemble.turns);
    case JOB_STAGE_JOIN:
        return (int)floor(4.0 * (job->hand.turn.in_turns + job->hand.turn.back_turns));
    default:
        return 0;
    }
}

/* Fingers that let go, or a value that starts anew, do not click. */
static void hear_ticks(view_ear *ear, const view_job *job, const view_job_model *model, double time_s)
{
    const int now = tick_of(ear, job);
    const int passed = abs(now - ear->tick);
    const bool is_pin = job->stage == JOB_STAGE_TENSION;
    /* a stud draws a little stiffer with every thread that is in: the fingers feel how far it is */
    const double in = job->stage == JOB_STAGE_ASSEMBLE ? (double)job->tools.assemble.turns : 0.0;
    const float fingers = 0.7F * (float)fmin(in / FULLY_IN, 1.0);
    ear->tick = now;
    if (passed > 2 && !is_pin) {
        return;
    }
    for (int i = 0; i < passed && i < MOST_TICKS; i++) {
        hear(ear,
             (view_cue){.kind = is_pin ? VIEW_CUE_THREAD : VIEW_CUE_FINGERS,
                        .row = job->row,
                        .effort = is_pin ? effort_of(job, model) : fingers,
                        .delay_s = TICK_S * (float)i},
             time_s);
    }
}

static void hear_ratchet(view_ear *ear, const view_job *job, double time_s)
{
    const int tooth = job->stage == JOB_STAGE_CRIMP ? (int)(job->tools.crimp.closing * TEETH) : 0;
    if (tooth > ear->tooth) {
        hear_kind(ear, VIEW_CUE_RATCHET, job->row, (float)tooth / TEETH, time_s);
    }
    ear->tooth = tooth;
}

static void hear_chips(view_ear *ear, const view_job *job, double time_s)
{
    const int clearings = job->tools.drill.clearings;
    if (clearings > ear->clearings && job->stage == JOB_STAGE_DRILL) {
        hear_kind(ear, VIEW_CUE_CHIPS, job->row, 0.0F, time_s);
    }
    ear->clearings = clearings;
}

/* What begins while the hand moves and fades by itself: the pencil, the flange on the wood, a thread that does not catch. */
static void hear_touches(view_ear *ear, const view_job *job, double time_s)
{
    const view_hand *hand = &job->hand;
    const bool is_drawing = job->stage == JOB_STAGE_MARK && hand->mark.stroke > 0.0;
    const bool is_flush = job->stage == JOB_STAGE_INSERT && hand->insert.is_shown && hand->insert.proud_m < FLUSH_M;
    const bool is_grating = job->stage == JOB_STAGE_ASSEMBLE && hand->assemble.is_shown && hand->assemble.is_refused;
    if (is_drawing && !ear->is_drawing) {
        hear_kind(ear, VIEW_CUE_PENCIL, job->row, 0.0F, time_s);
    }
    if (is_flush && !ear->is_flush && hand->insert.rpm > 0.0) {
        hear_kind(ear, VIEW_CUE_SEAT, job->row, 0.0F, time_s);
    }
    if (is_grating && !ear->is_grating) {
        hear_kind(ear, VIEW_CUE_GRATE, job->row, 0.0F, time_s);
    }
    ear->is_drawing = is_drawing;
    ear->is_flush = is_flush;
    ear->is_grating = is_grating;
}

void view_job_sounds(view_ear *ear, const view_job *job, const view_job_model *model, double time_s)
{
    if (!ear->is_begun || ear->stage != (int)job->stage || ear->row != job->row) {
        ear->is_begun = true;
        ear->stage = (int)job->stage;
        ear->row = job->row;
        ear->tick = tick_of(ear, job);
        ear->tooth = 0;
        ear->clearings = job->tools.drill.clearings;
    }
    ear->hum = hum_of(job, model);
    hear_ticks(ear, job, model, time_s);
    hear_ratchet(ear, job, time_s);
    hear_chips(ear, job, time_s);
    hear_touches(ear, job, time_s);
}

/* ---- beats ------------------------------------------------------------------------------------------------------ */

bool view_ear_beat(const view_ear *ear, double time_s, view_beat *beat)
{
    const view_rung *new_one = &ear->rung[0];
    const view_rung *old_one = &ear->rung[1];
    const double hz = fabs((double)new_one->hz - (double)old_one->hz);
    if (new_one->hz <= 0.0F || old_one->hz <= 0.0F || new_one->row == old_one->row || time_s - old_one->at_s > RING_S ||
        hz > FASTEST_BEAT) {
        return false;
    }
    const bool is_up = old_one->row < new_one->row;
    *beat = (view_beat){{is_up ? old_one->row : new_one->row, is_up ? new_one->row : old_one->row}, hz, new_one->at_s};
    return true;
}

/* ---- words ------------------------------------------------------------------------------------------------------ */

static const char *cue_key(const view_cue *cue)
{
    static const char *const keys[VIEW_CUE_KINDS] = {
        [VIEW_CUE_PLUCK] = "sound.pluck",     [VIEW_CUE_THREAD] = "sound.thread",   [VIEW_CUE_CHIPS] = "sound.chips",
        [VIEW_CUE_RATCHET] = "sound.ratchet", [VIEW_CUE_RELEASE] = "sound.release", [VIEW_CUE_SNAP] = "sound.snap",
        [VIEW_CUE_CLAMP] = "sound.clamp",     [VIEW_CUE_UNCLAMP] = "sound.unclamp", [VIEW_CUE_BALL] = "sound.ball",
        [VIEW_CUE_THROUGH] = "sound.through", [VIEW_CUE_CRACK] = "sound.crack",     [VIEW_CUE_SLIP] = "sound.slip",
        [VIEW_CUE_REFUSAL] = "sound.refusal", [VIEW_CUE_PENCIL] = "sound.pencil",   [VIEW_CUE_SEAT] = "sound.seat",
        [VIEW_CUE_FINGERS] = "sound.fingers", [VIEW_CUE_GRATE] = "sound.grate",     [VIEW_CUE_GAUGE] = "sound.gauge",
        [VIEW_CUE_COLLAR] = "sound.collar",   [VIEW_CUE_WIPE] = "sound.wipe"};
    if (cue->kind == VIEW_CUE_THREAD && cue->effort > 0.4F) {
        return cue->effort > 0.75F ? "sound.thread_dull" : "sound.thread_low";
    }
    return keys[cue->kind];
}

static const char *hum_key(const view_hum *hum)
{
    switch (hum->motor) {
    case VIEW_MOTOR_DRILL:
        return hum->load > 0.7F ? "sound.drill_labours" : hum->load > 0.0F ? "sound.drill_bites" : "sound.drill_free";
    case VIEW_MOTOR_DRIVER:
        return hum->load > 0.7F ? "sound.driver_labours" : hum->load > 0.12F ? "sound.driver" : "sound.driver_free";
    case VIEW_MOTOR_GRINDER:
        return "sound.grinder";
    case VIEW_NO_MOTOR:
    default:
        return hum->creak > 0.6F ? "sound.groan" : hum->creak > 0.0F ? "sound.creak" : "";
    }
}

void view_ear_caption(const view_ear *ear, const view_ui *ui, tr_system system, char *out, size_t cap)
{
    char row[16];
    char tone[48];
    out[0] = '\0';
    if (ui->time_s < ear->said_until_s) {
        tr_format(row, sizeof row, "%d", ear->said.row + 1);
        tr_quantity_text((double)ear->said.hz, TR_DIM_FREQUENCY, system, TR_PLAIN, tone, sizeof tone);
        const char *const args[] = {row, tone};
        tr_lang_fill(ui->lang, cue_key(&ear->said), args, 2, out, cap);
    } else if (hum_key(&ear->hum)[0] != '\0') {
        tr_copy(out, cap, view_word(ui, hum_key(&ear->hum)));
    }
}

static void beat_words(const view_ui *ui, const view_beat *beat, char *out, size_t cap)
{
    char low[16];
    char high[16];
    char times[32];
    tr_format(low, sizeof low, "%d", beat->row[0] + 1);
    tr_format(high, sizeof high, "%d", beat->row[1] + 1);
    tr_format(times, sizeof times, "%.1f", beat->hz);
    const char *const args[] = {low, high, times};
    tr_lang_fill(ui->lang, beat->hz < SAME_HZ ? "sound.no_beat" : "sound.beat", args, 3, out, cap);
}

/* ---- drawing ---------------------------------------------------------------------------------------------------- */

/* A dark pill that stands on y. Returns its top. */
static float pill(view_ui *ui, view_rect run, float foot, float extra, const char *text, view_rect *inside)
{
    const view_theme *t = ui->theme;
    const float most = run.w - 2.0F * VIEW_GAP_2;
    const float words = ceilf(view_width_of(ui, VIEW_STRONG, text)) + 1.0F;
    const float width = fminf(words + 2.0F * VIEW_GAP_4, most);
    const float height = view_line_of(ui, VIEW_STRONG) + VIEW_GAP_2 + extra;
    view_rect box = {roundf(run.x + (run.w - width) / 2.0F), foot - height, width, height};
    view_fill_rect(ui->draw, box, VIEW_GAP_3, view_fade(t->ink, 0.92F));
    *inside = view_inset_xy(box, VIEW_GAP_4, VIEW_GAP_1);
    view_label(ui, view_cut_top(inside, view_line_of(ui, VIEW_STRONG)), VIEW_STRONG, VIEW_CENTRE, t->panel, text);
    return box.y;
}

/* How loud two equally strong rows are together over the time that they ring; what has been heard is bright. Where in a beat
 * they begin depends on when the fingers came, to a hundredth of a second: the drawing begins with both in step. */
static void beat_strip(const view_ui *ui, view_rect rect, const view_beat *beat)
{
    const int step_px = 2;
    const float middle = rect.y + rect.h / 2.0F;
    const double heard_s = ui->reduced_motion ? RING_S : ui->time_s - beat->since_s;
    for (int x = 0; x < (int)rect.w; x += step_px) {
        const double at_s = (double)x / (double)rect.w * RING_S;
        const float half = 0.5F * rect.h * (float)(fabs(cos(TR_PI * beat->hz * at_s)) * exp(-0.25 * at_s));
        const float at = rect.x + (float)x;
        view_stroke_line(ui->draw, at, middle - half - 0.5F, at, middle + half + 0.5F, 1.2F,
                         view_fade(ui->theme->panel, at_s <= heard_s ? 1.0F : 0.35F));
    }
}

void view_ear_show(const view_ear *ear, view_ui *ui, const view_job *job, tr_system system, bool with_captions)
{
    char text[160];
    view_rect inside;
    view_beat beat;
    const view_rect run = job->places.run;
    float foot = run.y + run.h - VIEW_GAP_2;
    const bool has_beat = view_ear_beat(ear, ui->time_s, &beat);
    if (has_beat) {
        beat_words(ui, &beat, text, sizeof text);
        foot = pill(ui, run, foot, 24.0F, text, &inside) - VIEW_GAP_1;
        beat_strip(ui, inside, &beat);
        ui->wants_frame = ui->wants_frame || !ui->reduced_motion;
        view__wake(ui, 0.5F);
    }
    view_ear_caption(ear, ui, system, text, sizeof text);
    /* the beat says which rows were plucked: one pill less over the picture */
    const bool is_said = has_beat && ear->said.kind == VIEW_CUE_PLUCK && ui->time_s < ear->said_until_s;
    if (with_captions && text[0] != '\0' && !is_said) {
        (void)pill(ui, run, foot, 0.0F, text, &inside);
        view__wake(ui, 0.25F);
    }
}
