/* What the files of the job engine share with each other and nobody else. */
#ifndef TAUTROW_GAME_JOB_INTERNAL_H
#define TAUTROW_GAME_JOB_INTERNAL_H

#include <stdbool.h>

#include "tautrow/job/job.h"

/* One action being carried out. row is NULL for an action without a row. A handler first looks for a reason to refuse,
 * and changes state only after the last of them. */
typedef struct job__work {
    const job_setup *setup;
    job_state *state;
    const job_action *action;
    int row_index;
    job_row *row;
    job_outcome *outcome;
} job__work;

typedef job_refusal (*job__handler)(job__work *work);

/* One handler for every verb of the table: a verb without one does not link. */
#define JOB_ACTION(NAME, name, STAGE, fields) job_refusal job__do_##name(job__work *work);
#define JOB_FIELD(SLOT, key, TYPE, least, most)
#define JOB_NO_FIELDS
#include "tautrow/job/actions.def"

static inline double job__arg(const job__work *work, int slot)
{
    return work->action->arg[slot];
}

static inline int job__choice(const job__work *work, int slot)
{
    return (int)work->action->arg[slot];
}

static inline double job__max(double a, double b)
{
    return a > b ? a : b;
}

static inline double job__min(double a, double b)
{
    return a < b ? a : b;
}

/* ---- row.c: facts about one row --------------------------------------------------------------------------------- */

/* True when a trainee may work on the fitting of this row: it is the trainee's, or it has a planted fault to mend. */
bool job__is_workable(const job_setup *setup, int row);

/* Both studs belong to the body: in it, or the crimped one taken out of it to be joined. */
bool job__is_assembled(const job_row *row);

/* Length by which both pitches draw the row up in one turn with the stud held, m. */
double job__turn_m(const job_setup *setup);

/* Part of a row's take-up that is not the threads', negated: what the threads must make up before the row is taut, m.
 */
double job__shortfall(const job_setup *setup, const job_row *row);

/* Length of the body that the studs fill, m. */
double job__filled_m(const job_setup *setup, const mech_engaged *engaged);

/* Pull below which a row can be undone by hand, N. */
double job__slack_n(const job_setup *setup);

/* The two squeezes of a good crimp: where the middle of the die goes for each. */
void job__crimp_plan(const job_setup *setup, double position_m[2]);

/* A crimp with the cable home and both squeezes made by the plan. */
mech_crimp job__good_crimp(const job_setup *setup);

/* The wood as it is, a wet post that the scenario hid included. */
mech_wood job__wood(const job_setup *setup);

mech_grip job__grip(const job_setup *setup, const job_row *row);

/* The row no longer carries; what its studs do is the caller's business. */
void job__take_apart(job_row *row);

/* A stud has left the body. Whichever it was, body and cable are apart; a body that dropped off the anchor stud is
 * taken off the cable as well, because it has to go back on the anchor stud first. */
void job__come_out(job_row *row);

bool job__collar_fits(const job_setup *setup, const job_row *row);

/* Lets a wound-up cable turn back by so many turns. */
void job__untwist(const job_setup *setup, job_row *row, double turns, unsigned *events);

/* The bay in which ear and gauge take a row: the longest, where the tone is lowest, but none beyond a bend, where the
 * tension is another one. */
double job__heard_bay(const mech_structure *structure);

/* ---- settle.c: from fittings to forces -------------------------------------------------------------------------- */

/* The structure with the rows where they were really marked, in the weather of the day. */
mech_structure job__as_built(const job_setup *setup, const job_state *state);

/* Condenses it. False, run untouched, where the rows would cross. */
bool job__rebuild(const job_setup *setup, job_state *state);

/* Take-ups and strung rows from the fittings, then the solve; nothing gives way. */
void job__solve(const job_setup *setup, job_state *state);

/* The same, and then what is overloaded gives way until the run stands; events are added to *events.
 * Afterwards the highest values seen are brought up to date. */
void job__settle(const job_setup *setup, job_state *state, unsigned *events);

/* Turns of a held body that bring a joined row to tension_n, negative to let it out; not limited by the studs. */
double job__turns_to(const job_setup *setup, const job_state *state, int row, double tension_n);

/* ---- time.c: days that pass -------------------------------------------------------------------------------------- */

/* Warmth above the temperature of the fitting after so many days. */
double job__warming(const job_setup *setup, double days);

/* True while the trainee still has to come back after the days that were asked. */
bool job__has_to_come_back(const job_setup *setup, const job_state *state);

/* ---- expert: one part a file ------------------------------------------------------------------------------------ */

/* What the expert decided: false when that part of the work needs nothing more. */
bool job__expert_fit(const job_setup *setup, const job_state *state, job_action *action);
bool job__expert_mend(const job_setup *setup, const job_state *state, job_action *action);
bool job__expert_join(const job_setup *setup, const job_state *state, int row, job_action *action);
bool job__expert_tension(const job_setup *setup, const job_state *state, job_action *action);

/* The next step towards a squeeze by the plan: die, angle, squeeze. */
bool job__expert_squeeze(const job_setup *setup, const job_state *state, int row, job_action *action);

/* Loosens a row until it can be undone by hand; false when it is slack already. */
bool job__expert_loosen(const job_setup *setup, const job_state *state, int row, job_action *action);

/* A new action with up to three numbers, at the present time; job_expert_next adds the pause. */
job_action job__say(const job_state *state, job_verb verb, double a, double b, double c);

#endif
