/* What a trainee can do by now, told from graded attempts: Bayesian knowledge tracing, skill by skill. Corbett and
 * Anderson, User Modeling and User-Adapted Interaction 4 (1995) 253-278.
 *
 * One finished attempt is one opportunity for every skill that was judged in it: a line of the skill applied and had
 * something to judge. Guided attempts count like the others. */
#ifndef TAUTROW_SCORE_MASTERY_H
#define TAUTROW_SCORE_MASTERY_H

#include <stdbool.h>
#include <stddef.h>

#include "tautrow/score/score.h"

typedef enum score_skill {
#define SCORE_SKILL(NAME, key) SCORE_SKILL_##NAME,
#include "tautrow/score/skills.def"
    SCORE_SKILLS
} score_skill;

/* "crimping"; words under "skill.<key>". */
const char *score_skill_key(score_skill skill);
score_skill score_skill_of(scenario_criterion criterion);

/* ---- one attempt ------------------------------------------------------------------------------------------------ */

#define SCORE_UNJUDGED (-1.0)

/* Share of the points earned by skill, 0..1, or SCORE_UNJUDGED. */
typedef struct score_shares {
    double of[SCORE_SKILLS];
} score_shares;
score_shares score_shares_of(const score_card *card);

/* An opportunity was used right from this share of the points on. Common practice, no source. */
#define SCORE_RIGHT_FROM 0.85
bool score_is_right(double share);

/* ---- over attempts ---------------------------------------------------------------------------------------------- */

typedef struct score_tracing {
    double known; /* L0: chance that the skill is there before the first attempt */
    double learn; /* T: chance that an attempt teaches it */
    double guess; /* G: chance of getting it right without it */
    double slip;  /* S: chance of getting it wrong with it */
} score_tracing;

/* Chances all, and guess and slip under a half: else doing well would speak against the skill. Beck and Chang, User
 * Modeling 2007. */
bool score_tracing_is_sound(const score_tracing *tracing);

/* Chance that the next opportunity goes right, given the chance that the skill is there. */
double score_trace_right(const score_tracing *tracing, double known);
/* The chance that the skill is there, after an opportunity. */
double score_trace(const score_tracing *tracing, double known, bool was_right);

/* A skill counts as mastered from here on: the customary threshold (Corbett and Anderson 1995). */
#define SCORE_MASTERED_FROM 0.95

typedef struct score_mastery {
    double known[SCORE_SKILLS];
    int chances[SCORE_SKILLS]; /* how often it was judged */
} score_mastery;

typedef struct score_tracings {
    score_tracing of[SCORE_SKILLS];
} score_tracings;

/* Before the first attempt, and after one more. Attempts go in as time went. */
score_mastery score_mastery_start(const score_tracings *tracings);
void score_mastery_add(score_mastery *mastery, const score_tracings *tracings, const score_shares *shares);

/* The up to `most` skills that want practice most, weakest first, among those that can be practised and are not
 * mastered; equally weak ones in the order of the work. Returns how many. */
int score_weakest(const score_mastery *mastery, const bool can_practise[SCORE_SKILLS], score_skill out[], int most);

#endif
