/* Actions: the one door through which window, journal, command line and tests change a job. */
#ifndef TAUTROW_JOB_ACTION_H
#define TAUTROW_JOB_ACTION_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef enum job_stage {
    JOB_STAGE_READ,
    JOB_STAGE_MARK,
    JOB_STAGE_DRILL,
    JOB_STAGE_INSERT,
    JOB_STAGE_ASSEMBLE,
    JOB_STAGE_CUT,
    JOB_STAGE_CRIMP,
    JOB_STAGE_JOIN,
    JOB_STAGE_TENSION,
    JOB_STAGE_CHECK,
    JOB_STAGE_HAND_OVER,
    JOB_STAGE_COUNT
} job_stage;

/* "read", "mark"... as files and language keys spell a stage. */
const char *job_stage_name(job_stage stage);

typedef enum job_verb {
#define JOB_ACTION(NAME, name, STAGE, fields) JOB_DO_##NAME,
#define JOB_FIELD(SLOT, key, TYPE, least, most)
#define JOB_NO_FIELDS
#include "tautrow/job/actions.def"
    JOB_VERB_COUNT
} job_verb;

/* The slots of each action's numbers: JOB_DRILL_ROW, JOB_DRILL_DEPTH ... */
#define JOB_ACTION(NAME, name, STAGE, fields)   enum { fields JOB_FIELDS_OF_##NAME };
#define JOB_FIELD(SLOT, key, TYPE, least, most) JOB_##SLOT,
#define JOB_NO_FIELDS
#include "tautrow/job/actions.def"

enum { JOB_MAX_FIELDS = 6 };

/* What a field's number is. A ROW counts from 0 here and from 1 in files and on the screen. */
typedef enum job_type {
    JOB_TYPE_ROW,
    JOB_TYPE_CHOICE, /* whole number */
    JOB_TYPE_FLAG,   /* 0 or 1; true or false in files */
    JOB_TYPE_LENGTH_M,
    JOB_TYPE_ANGLE_RAD,
    JOB_TYPE_FORCE_N,
    JOB_TYPE_TURNS,
    JOB_TYPE_RPM,
    JOB_TYPE_SHARE,
    JOB_TYPE_DAYS
} job_type;

typedef struct job_field {
    const char *key;
    job_type type;
    double least, most; /* inclusive; rows are also bound by the scenario */
} job_field;

typedef struct job_verb_info {
    const char *name;
    job_stage stage;
    int field_count;
    job_field field[JOB_MAX_FIELDS];
} job_verb_info;

typedef struct job_action {
    job_verb verb;
    int64_t at_ms;              /* since the start of the attempt; never falls */
    double arg[JOB_MAX_FIELDS]; /* by slot; unused ones 0 */
} job_action;

/* The table's entry of a verb. */
const job_verb_info *job_verb_look(job_verb verb);

/* The verb with that name, or JOB_VERB_COUNT. */
job_verb job_verb_find(const char *name);

/* An action of this verb at time at_ms with its numbers in slot order, the rest 0. */
job_action job_make(job_verb verb, int64_t at_ms, const double *args, int count);

/* The row that an action works on, or -1. */
int job_action_row(const job_action *action);

/* True when every number is finite, of its type and within its bounds (row bounds included). */
bool job_action_is_sound(const job_action *action, int row_count);

#endif
