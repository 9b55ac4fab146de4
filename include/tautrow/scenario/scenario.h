/* A scenario file read into a job: everything the trainee is asked, given and graded by. docs/formats.md.
 * This layer gets text and gives values; it opens no file. */
#ifndef TAUTROW_SCENARIO_SCENARIO_H
#define TAUTROW_SCENARIO_SCENARIO_H

#include <stddef.h>

#include "tautrow/base/hash.h"
#include "tautrow/base/lang.h"
#include "tautrow/base/result.h"
#include "tautrow/base/units.h"
#include "tautrow/job/setup.h"

enum { SCENARIO_MAX_FILE = 262144, SCENARIO_TITLE_CAP = 96, SCENARIO_STORY_CAP = 1200, SCENARIO_NOTE_CAP = 160 };

typedef enum scenario_criterion {
#define SCENARIO_CRITERION(NAME, key, STAGE, DIM, weight, full, none) SCENARIO_##NAME,
#include "tautrow/scenario/criteria.def"
    SCENARIO_CRITERIA
} scenario_criterion;

typedef struct scenario_criterion_info {
    const char *key; /* file and language key: "rubric.<key>" */
    job_stage stage;
    tr_dim dim; /* of the measured value */
} scenario_criterion_info;

const scenario_criterion_info *scenario_criterion_look(scenario_criterion criterion);

typedef struct scenario_band {
    double weight, full, none;
} scenario_band;

typedef struct scenario_rubric {
    double pass_mark; /* of 100; default 70 */
    scenario_band band[SCENARIO_CRITERIA];
} scenario_rubric;

/* A text in the languages of the program; a plain string in the file fills both. */
typedef struct scenario_title {
    char en[SCENARIO_TITLE_CAP], es[SCENARIO_TITLE_CAP];
} scenario_title;
typedef struct scenario_story {
    char en[SCENARIO_STORY_CAP], es[SCENARIO_STORY_CAP];
} scenario_story;

typedef struct scenario {
    scenario_title title;
    scenario_title place;   /* invented */
    scenario_story story;   /* why this job, what is special about it */
    scenario_title species; /* names for the job sheet */
    scenario_title strand;
    tr_system units; /* what the file was written in, for the first look */
    int minutes;     /* about how long it takes, for the list */
    int difficulty;  /* 1 easy .. 3 hard */
    job_setup setup;
    scenario_rubric rubric;
    tr_hash digest; /* SHA-256 of the file's bytes */
} scenario;

/* The catalogue: species, strands, turnbuckles, inserts, bit sets, crimpers, bases. Opaque. */
typedef struct scenario_catalogue scenario_catalogue;

/* Reads the text[size] of a catalogue file. NULL with diagnostics on error. Freed by scenario_catalogue_close. */
scenario_catalogue *scenario_catalogue_open(const char *text, size_t size, tr_diags *diags);
void scenario_catalogue_close(scenario_catalogue *catalogue);

/* The text that it was read from. Valid until it is closed. */
const char *scenario_catalogue_text(const scenario_catalogue *catalogue);

/* Reads a scenario. All errors are listed, each with line, column and JSON path, not just the first. On TR_OK *out is
 * whole; it is not touched otherwise. mode and seed are left as practice and the file's seed (1 when there is none):
 * the caller sets them. */
tr_result scenario_read(const char *text, size_t size, const scenario_catalogue *catalogue, scenario *out,
                        tr_diags *diags);

/* Physical warnings on a sound scenario: post or base over its reference value at the target, a row that cannot reach
 * the target on the travel there is, a pull sheet over the row limit, more trips needed than are asked for, an opening
 * that fails at the target, a base or a crimp that a push on the finished guard overloads, a strand, an insert or a crimp that the target overloads, a pin too heavy for a hand.
 * Their sentences are the words warn.* of lang. Returns the number of warnings added. */
size_t scenario_warn(const scenario *asked, const tr_lang *lang, tr_diags *diags);

/* Text of a title or story in a language ("en", "es"). */
const char *scenario_title_in(const scenario_title *title, const char *code);
const char *scenario_story_in(const scenario_story *story, const char *code);

#endif
