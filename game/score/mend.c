/* Effects: what each slip did to the work, taken from two final states, the real one and that of the attempt with the
 * slip mended. A mend that makes things worse is told as well: where a rule and the numbers disagree, the trainee sees
 * both. */
#include "parts.h"

#include <math.h>

/* A change smaller than this share of what it was is not worth a sentence. */
static const double least_change = 0.002;

/* place: a row, or a gap for the opening; -1 for the run. */
static double value_of(const score__case *c, const job_state *state, score_effect_kind kind, int place)
{
    const job_row *row = place >= 0 && place < c->setup->structure.row_count ? &state->row[place] : &state->row[0];
    double turns = 0.0;
    switch (kind) {
    case SCORE_EFFECT_TENSION:
        return state->rows.tension_n[place];
    case SCORE_EFFECT_LOWEST:
        return score__levels_of(c, state).lowest_n;
    case SCORE_EFFECT_GRIP:
        return row->grip.ultimate_n;
    case SCORE_EFFECT_HOLD:
        return score__crimp_hold(c->setup, row);
    case SCORE_EFFECT_OFF_CENTRE:
        return state->off_centre_peak_n_m;
    case SCORE_EFFECT_SPREAD:
        return score__levels_of(c, state).spread;
    case SCORE_EFFECT_OPENING:
        return score__gap_push(c->setup, state, place);
    case SCORE_EFFECT_TRAVEL:
        return mech_turns_to_bottom(&c->setup->turnbuckle, &row->engaged);
    case SCORE_EFFECT_TWIST:
        return fabs(row->engaged.twist_turns);
    case SCORE_EFFECT_THREADS:
        score__engagement(c->setup, row, &turns);
        return turns;
    case SCORE_EFFECT_NONE:
    case SCORE_EFFECT_KINDS:
        break;
    }
    return 0.0;
}

static bool is_of_a_row(score_effect_kind kind)
{
    return kind == SCORE_EFFECT_TENSION || kind == SCORE_EFFECT_GRIP || kind == SCORE_EFFECT_HOLD ||
           kind == SCORE_EFFECT_TRAVEL || kind == SCORE_EFFECT_TWIST || kind == SCORE_EFFECT_THREADS;
}

/* The same turns follow on both ways, so the travel left differs at the end by as much as it does after the fitting. */
static double travel_shift(score__case *c, const job_state *mended, int row)
{
    const mech_turnbuckle *turnbuckle = &c->setup->turnbuckle;
    return mech_turns_to_bottom(turnbuckle, &mended->row[row].engaged) -
           mech_turns_to_bottom(turnbuckle, &score__fitted(c)->row[row].engaged);
}

static score_effect effect_at(score__case *c, const job_state *mended, score_effect_kind kind, int place)
{
    score_effect effect = {.kind = kind, .row = place, .was = value_of(c, &c->end, kind, place)};
    if (kind == SCORE_EFFECT_TRAVEL) {
        effect.would_be = fmax(effect.was + travel_shift(c, mended, place), 0.0);
    } else {
        effect.would_be = value_of(c, mended, kind, place);
    }
    return effect;
}

static double change_of(const score_effect *effect)
{
    return fabs(effect->would_be - effect->was);
}

static bool is_worth_telling(const score_effect *effect)
{
    const double size = fmax(fabs(effect->was), fabs(effect->would_be));
    return isfinite(change_of(effect)) && change_of(effect) > fmax(least_change * size, 1e-9);
}

/* The effect on that one of the line's rows on which it is largest. */
static score_effect effect_on_rows(score__case *c, const score_line *line, const job_state *mended,
                                   score_effect_kind kind)
{
    score_effect best = {.kind = SCORE_EFFECT_NONE, .row = -1};
    for (int i = 0; i < line->row_count; i++) {
        const score_effect here = effect_at(c, mended, kind, line->row[i]);
        if (is_worth_telling(&here) && (best.kind == SCORE_EFFECT_NONE || change_of(&here) > change_of(&best))) {
            best = here;
        }
    }
    return best;
}

/* The gap that was the weakest stays the one spoken of. */
static int weakest_gap(const score__case *c)
{
    int weakest = -1;
    for (int gap = 0; gap <= c->setup->structure.row_count; gap++) {
        if (score__is_gap_asked(c, gap) && (weakest < 0 || c->gap_push_n[gap] < c->gap_push_n[weakest])) {
            weakest = gap;
        }
    }
    return weakest;
}

static score_effect effect_on_gap(score__case *c, const job_state *mended)
{
    const int gap = weakest_gap(c);
    score_effect effect = {.kind = SCORE_EFFECT_NONE, .row = -1};
    if (gap >= 0) {
        effect = effect_at(c, mended, SCORE_EFFECT_OPENING, gap);
        effect.row = -1;
    }
    return effect;
}

static void set_effect(score__case *c, score_line *line, const job_state *mended, score_effect_kind kind)
{
    if (mended == NULL) {
        return;
    }
    score_effect effect = is_of_a_row(kind)              ? effect_on_rows(c, line, mended, kind)
                          : kind == SCORE_EFFECT_OPENING ? effect_on_gap(c, mended)
                                                         : effect_at(c, mended, kind, -1);
    if (effect.kind != SCORE_EFFECT_NONE && is_worth_telling(&effect)) {
        line->effect = effect;
    }
}

/* Later stages cannot change what is told, and turning bodies is what costs time. */
static const job_state *replay_fit(score__case *c, score__fit_mend mend)
{
    job_state *state = &c->room->work;
    job_start(c->setup, state);
    for (size_t i = 0; i < c->room->count; i++) {
        if (job_verb_look(c->room->action[i].verb)->stage <= mend.until) {
            mend.step(c, state, i);
        }
    }
    c->replays++;
    return state;
}

/* What an unheld stud took: tension where there is any to tell, else the twist left in the cable. */
static void mend_stud(score__case *c, score_line *line)
{
    const job_state *mended = score__with_stud_held(c);
    set_effect(c, line, mended, SCORE_EFFECT_TENSION);
    const double told = 0.02 * c->setup->target_n;
    if (line->effect.kind == SCORE_EFFECT_NONE || change_of(&line->effect) < told) {
        set_effect(c, line, mended, SCORE_EFFECT_TWIST);
    }
}

void score__mend(score__case *c, score_line *line)
{
    const score__fit_mend fit = score__fit_mend_of(line->criterion);
    if (fit.step != NULL) {
        set_effect(c, line, replay_fit(c, fit), fit.kind);
        return;
    }
    switch ((int)line->criterion) {
    case SCENARIO_STUD_HELD:
        mend_stud(c, line);
        break;
    case SCENARIO_ORDER:
    case SCENARIO_OFF_CENTRE:
        set_effect(c, line, score__in_order(c), SCORE_EFFECT_OFF_CENTRE);
        break;
    case SCENARIO_ROUNDS:
        set_effect(c, line, score__with_check(c), SCORE_EFFECT_LOWEST);
        break;
    case SCENARIO_EVENNESS:
        set_effect(c, line, score__by_sheet(c), SCORE_EFFECT_SPREAD);
        break;
    case SCENARIO_TARGET:
        set_effect(c, line, score__by_sheet(c), SCORE_EFFECT_LOWEST);
        break;
    case SCENARIO_OPENING:
        set_effect(c, line, score__by_sheet(c), SCORE_EFFECT_OPENING);
        break;
    default:
        break;
    }
}
