/* Knowledge tracing: from the points of attempts to the chance that a skill is there. */
#include "tautrow/score/mastery.h"

#include "tautrow/base/assert.h"

const char *score_skill_key(score_skill skill)
{
    static const char *const keys[SCORE_SKILLS] = {
#define SCORE_SKILL(NAME, key) #key,
#include "tautrow/score/skills.def"
    };
    TR_ASSERT(skill >= 0 && skill < SCORE_SKILLS);
    return keys[skill];
}

/* Every criterion stands in exactly one skill: a name given twice does not compile, nor does one left out. */
enum {
#define SCORE_SKILL_CRITERION(NAME, CRITERION) ENTRY_##CRITERION,
#include "tautrow/score/skills.def"
    ENTRIES
};
_Static_assert((int)ENTRIES == (int)SCENARIO_CRITERIA, "skills.def must name every criterion");

score_skill score_skill_of(scenario_criterion criterion)
{
    static const score_skill skills[SCENARIO_CRITERIA] = {
#define SCORE_SKILL_CRITERION(NAME, CRITERION) [SCENARIO_##CRITERION] = SCORE_SKILL_##NAME,
#include "tautrow/score/skills.def"
    };
    TR_ASSERT(criterion >= 0 && criterion < SCENARIO_CRITERIA);
    return skills[criterion];
}

/* ---- one attempt ------------------------------------------------------------------------------------------------ */

score_shares score_shares_of(const score_card *card)
{
    double weight[SCORE_SKILLS] = {0};
    double points[SCORE_SKILLS] = {0};
    score_shares shares;
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        const score_line *line = &card->line[i];
        if (line->applies && !line->is_undone) {
            const score_skill skill = score_skill_of((scenario_criterion)i);
            weight[skill] += line->weight;
            points[skill] += line->points;
        }
    }
    for (int skill = 0; skill < SCORE_SKILLS; skill++) {
        shares.of[skill] = weight[skill] > 0.0 ? points[skill] / weight[skill] : SCORE_UNJUDGED;
    }
    return shares;
}

bool score_is_right(double share)
{
    /* a sum of points that is exactly the share on paper must not miss it by its last bit */
    return share >= SCORE_RIGHT_FROM - 1e-12;
}

/* ---- over attempts ---------------------------------------------------------------------------------------------- */

static bool is_chance(double p)
{
    return p >= 0.0 && p <= 1.0;
}

bool score_tracing_is_sound(const score_tracing *tracing)
{
    return is_chance(tracing->known) && is_chance(tracing->learn) && is_chance(tracing->guess) &&
           is_chance(tracing->slip) && tracing->guess < 0.5 && tracing->slip < 0.5;
}

double score_trace_right(const score_tracing *tracing, double known)
{
    return known * (1.0 - tracing->slip) + (1.0 - known) * tracing->guess;
}

double score_trace(const score_tracing *tracing, double known, bool was_right)
{
    const double right = score_trace_right(tracing, known);
    const double seen = was_right ? right : 1.0 - right;
    const double with_skill = known * (was_right ? 1.0 - tracing->slip : tracing->slip);
    /* what the parameters call impossible teaches nothing about the skill */
    const double believed = seen > 0.0 ? with_skill / seen : known;
    return believed + (1.0 - believed) * tracing->learn;
}

score_mastery score_mastery_start(const score_tracings *tracings)
{
    score_mastery mastery = {{0}, {0}};
    for (int skill = 0; skill < SCORE_SKILLS; skill++) {
        mastery.known[skill] = tracings->of[skill].known;
    }
    return mastery;
}

void score_mastery_add(score_mastery *mastery, const score_tracings *tracings, const score_shares *shares)
{
    for (int skill = 0; skill < SCORE_SKILLS; skill++) {
        const double share = shares->of[skill];
        if (share >= 0.0) {
            mastery->known[skill] = score_trace(&tracings->of[skill], mastery->known[skill], score_is_right(share));
            mastery->chances[skill]++;
        }
    }
}

int score_weakest(const score_mastery *mastery, const bool can_practise[SCORE_SKILLS], score_skill out[], int most)
{
    bool is_taken[SCORE_SKILLS] = {false};
    int count = 0;
    while (count < most) {
        int weakest = -1;
        for (int skill = 0; skill < SCORE_SKILLS; skill++) {
            const bool is_open = can_practise[skill] && !is_taken[skill] && mastery->known[skill] < SCORE_MASTERED_FROM;
            if (is_open && (weakest < 0 || mastery->known[skill] < mastery->known[weakest])) {
                weakest = skill;
            }
        }
        if (weakest < 0) {
            break;
        }
        is_taken[weakest] = true;
        out[count++] = (score_skill)weakest;
    }
    return count;
}
