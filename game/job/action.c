/* The table of actions, made from actions.def, and whether an action's numbers make sense. Knows nothing of the work
 * piece. */
#include "tautrow/job/action.h"

#include <math.h>
#include <string.h>

#include "tautrow/base/assert.h"

static const job_verb_info verbs[JOB_VERB_COUNT] = {
#define JOB_ACTION(NAME, name, STAGE, fields)   {#name, JOB_STAGE_##STAGE, JOB_FIELDS_OF_##NAME, {fields}},
#define JOB_FIELD(SLOT, key, TYPE, least, most) {#key, JOB_TYPE_##TYPE, least, most},
#define JOB_NO_FIELDS                           {NULL, JOB_TYPE_ROW, 0.0, 0.0},
#include "tautrow/job/actions.def"
};

#define JOB_ACTION(NAME, name, STAGE, fields)                                                                          \
    _Static_assert((int)JOB_FIELDS_OF_##NAME <= (int)JOB_MAX_FIELDS, "too many numbers: " #name);
#define JOB_FIELD(SLOT, key, TYPE, least, most)
#define JOB_NO_FIELDS
#include "tautrow/job/actions.def"

const char *job_stage_name(job_stage stage)
{
    static const char *const names[JOB_STAGE_COUNT + 1] = {"read",  "mark", "drill",   "insert", "assemble",  "cut",
                                                           "crimp", "join", "tension", "check",  "hand_over", "done"};
    TR_ASSERT(stage >= JOB_STAGE_READ && stage <= JOB_STAGE_COUNT);
    return names[stage];
}

const job_verb_info *job_verb_look(job_verb verb)
{
    TR_ASSERT((int)verb >= 0 && verb < JOB_VERB_COUNT);
    return &verbs[verb];
}

job_verb job_verb_find(const char *name)
{
    for (int verb = 0; verb < JOB_VERB_COUNT; verb++) {
        if (strcmp(verbs[verb].name, name) == 0) {
            return (job_verb)verb;
        }
    }
    return JOB_VERB_COUNT;
}

job_action job_make(job_verb verb, int64_t at_ms, const double *args, int count)
{
    TR_ASSERT(count >= 0 && count <= JOB_MAX_FIELDS);
    job_action action = {.verb = verb, .at_ms = at_ms};
    for (int i = 0; i < count; i++) {
        action.arg[i] = args[i];
    }
    return action;
}

int job_action_row(const job_action *action)
{
    const job_verb_info *info = job_verb_look(action->verb);
    for (int i = 0; i < info->field_count; i++) {
        if (info->field[i].type == JOB_TYPE_ROW) {
            return (int)action->arg[i];
        }
    }
    return -1;
}

static bool is_whole(double value)
{
    return floor(value) == value;
}

static bool is_sound(const job_field *field, double value, int row_count)
{
    /* written so that a NaN fails */
    if (!(value >= field->least && value <= field->most)) {
        return false;
    }
    switch (field->type) {
    case JOB_TYPE_ROW:
        return is_whole(value) && value < (double)row_count;
    case JOB_TYPE_CHOICE:
    case JOB_TYPE_FLAG:
        return is_whole(value);
    case JOB_TYPE_LENGTH_M:
    case JOB_TYPE_ANGLE_RAD:
    case JOB_TYPE_FORCE_N:
    case JOB_TYPE_TURNS:
    case JOB_TYPE_RPM:
    case JOB_TYPE_SHARE:
    case JOB_TYPE_DAYS:
        return true;
    }
    return false;
}

bool job_action_is_sound(const job_action *action, int row_count)
{
    if ((int)action->verb < 0 || action->verb >= JOB_VERB_COUNT || action->at_ms < 0) {
        return false;
    }
    const job_verb_info *info = &verbs[action->verb];
    for (int i = 0; i < info->field_count; i++) {
        if (!is_sound(&info->field[i], action->arg[i], row_count)) {
            return false;
        }
    }
    return true;
}
