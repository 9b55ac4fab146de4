/* Writes the two journals of tests/golden: a careful attempt and a careless one at the same scenario.
 *
 *   make_journals SCENARIO CATALOGUE careful|careless JOURNAL [TRAINEE STARTED]
 *
 * With a trainee and a time of start it makes journals for tests and pictures of a person's past.
 * Run it only when the engine was changed on purpose, and read the new debriefs before committing them:
 *   tautrow replay tests/golden/careful.jsonl tests/golden/careless.jsonl */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/io.h"
#include "tautrow/base/rng.h"
#include "tautrow/base/text.h"
#include "tautrow/record/attempt.h"

typedef struct maker {
    char *text, *catalogue_text;
    size_t size, catalogue_size;
    scenario_catalogue *catalogue;
    scenario what;
    record_attempt *attempt;
    int64_t now_ms;
} maker;

static int fail(const char *why)
{
    (void)fprintf(stderr, "make_journals: %s\n", why);
    return 2;
}

static job_outcome do_it(maker *m, job_verb verb, int64_t pause_ms, const double *args, int count)
{
    m->now_ms += pause_ms;
    const job_action action = job_make(verb, m->now_ms, args, count);
    return record_attempt_do(m->attempt, &action, NULL);
}

/* ---- careful: the expert, with the small misses of a steady hand ------------------------------------------------ */

static double miss(const maker *m, uint64_t place, double size)
{
    const uint64_t step = (uint64_t)record_attempt_state(m->attempt)->action_count;
    return size * tr_noise(m->what.setup.seed, step, place);
}

/* A steady hand is a fraction of a millimetre and half a degree off. */
static void steady(const maker *m, job_action *action)
{
    switch (action->verb) {
    case JOB_DO_MARK_ROW:
        action->arg[JOB_MARK_ROW_ERROR] += miss(m, 1, 0.0004);
        break;
    case JOB_DO_DRILL:
        action->arg[JOB_DRILL_DEPTH] += fabs(miss(m, 2, 0.0004));
        action->arg[JOB_DRILL_PITCH] += miss(m, 3, 0.005);
        action->arg[JOB_DRILL_YAW] += miss(m, 4, 0.005);
        break;
    case JOB_DO_DRIVE_INSERT:
        action->arg[JOB_DRIVE_INSERT_PROUD] += miss(m, 5, 0.0001);
        break;
    case JOB_DO_MARK_CABLE:
        action->arg[JOB_MARK_CABLE_ERROR] += miss(m, 6, 0.0004);
        break;
    case JOB_DO_TURN_CRIMPER:
        action->arg[JOB_TURN_CRIMPER_ANGLE] += miss(m, 7, 0.05);
        break;
    default:
        break;
    }
}

static void careful(maker *m)
{
    job_action action;
    for (int i = 0; i < 4000; i++) {
        if (!job_expert_next(&m->what.setup, record_attempt_state(m->attempt), &action)) {
            return;
        }
        steady(m, &action);
        m->now_ms = action.at_ms;
        (void)record_attempt_do(m->attempt, &action, NULL);
    }
}

/* ---- careless: wrong bit, shallow hole, one squeeze, no turn, stud never held, top down, no check round --------- */

static int wrong_bit(const job_setup *setup)
{
    return setup->right_bit + 1 < setup->bit_count ? setup->right_bit + 1 : 0;
}

/* Everything up to joined, as somebody does it who wants to go home. */
static void fit_row(maker *m, int row, bool one_squeeze)
{
    const job_setup *setup = &m->what.setup;
    const double r = (double)row;
    const double half_bore = setup->crimp.bore_m / 2.0;
    (void)do_it(m, JOB_DO_SCREW_STUD, 4000, (double[]){r, 0, 1, setup->nominal.anchor_turns}, 4); /* wrong end first */
    (void)do_it(m, JOB_DO_SCREW_STUD, 4000, (double[]){r, 0, 0, setup->nominal.anchor_turns}, 4);
    (void)do_it(m, JOB_DO_SCREW_STUD, 4000, (double[]){r, 1, 1, setup->nominal.cable_turns}, 4);
    (void)do_it(m, JOB_DO_HANG_CABLE, 3000, &r, 1);
    (void)do_it(m, JOB_DO_PULL_CABLE, 3000, (double[]){r, setup->hand_pull_n * 0.5}, 2);
    (void)do_it(m, JOB_DO_MARK_CABLE, 3000, (double[]){r, 0.003}, 2);
    (void)do_it(m, JOB_DO_TAKE_CUTTER, 2000, (double[]){setup->right_cutter}, 1);
    (void)do_it(m, JOB_DO_CUT_CABLE, 3000, (double[]){r, 0.001}, 2);
    (void)do_it(m, JOB_DO_PUSH_HOME, 3000, (double[]){r, setup->crimp.bore_m * 0.85}, 2);
    (void)do_it(m, JOB_DO_PLACE_DIE, 2000, (double[]){r, half_bore}, 2);
    (void)do_it(m, JOB_DO_SQUEEZE, 2000, (double[]){r, 1.0}, 2);
    if (!one_squeeze) {
        (void)do_it(m, JOB_DO_SQUEEZE, 2000, (double[]){r, 1.0}, 2);
    }
    (void)do_it(m, JOB_DO_UNSCREW_STUD, 3000, (double[]){r, 0}, 2);
    if (!record_attempt_state(m->attempt)->row[row].anchor_in) { /* the body came off with it */
        (void)do_it(m, JOB_DO_SCREW_STUD, 4000, (double[]){r, 0, 0, setup->nominal.anchor_turns}, 4);
    }
    (void)do_it(m, JOB_DO_BACK_OFF, 3000, (double[]){r, setup->nominal.anchor_turns * 0.25}, 2);
    (void)do_it(m, JOB_DO_THREAD_IN, 3000, (double[]){r, setup->nominal.cable_turns * 0.75}, 2);
    (void)do_it(m, JOB_DO_HAND_TIGHT, 3000, (double[]){r, setup->hand_tight_n}, 2);
}

static void drill_rows(maker *m)
{
    const job_setup *setup = &m->what.setup;
    (void)do_it(m, JOB_DO_TAKE_BIT, 3000, (double[]){wrong_bit(setup)}, 1);
    (void)do_it(m, JOB_DO_SET_DRILL_SPEED, 1000, (double[]){setup->drill_rpm.high * 1.4}, 1);
    for (int row = 0; row < setup->structure.row_count; row++) {
        if (setup->is_trainees[row] && setup->start_stage[row] <= JOB_STAGE_DRILL) {
            const double depth = setup->hole_depth_m * 0.8;
            (void)do_it(m, JOB_DO_MARK_ROW, 3000, (double[]){row, 0.003}, 2);
            (void)do_it(m, JOB_DO_DRILL, 500, (double[]){row, depth, 0.06, -0.03, 0, 0.0002}, 6); /* no glasses yet */
            (void)do_it(m, JOB_DO_GLASSES, 500, (double[]){1}, 1);
            (void)do_it(m, JOB_DO_DRILL, 4000, (double[]){row, depth, 0.06, -0.03, 0, 0.0002}, 6);
        }
    }
    (void)do_it(m, JOB_DO_SET_DRIVER_SPEED, 1000, (double[]){setup->driver_rpm.high * 1.2}, 1);
    for (int row = 0; row < setup->structure.row_count; row++) {
        if (setup->is_trainees[row] && setup->start_stage[row] <= JOB_STAGE_INSERT) {
            (void)do_it(m, JOB_DO_DRIVE_INSERT, 4000, (double[]){row, 0.0, 0.05, 0.0}, 4);
        }
    }
}

/* From the top row down, each brought to the target once, in the line of the row, with nothing holding the stud. */
static void tension_top_down(maker *m)
{
    const job_setup *setup = &m->what.setup;
    for (int row = setup->structure.row_count - 1; row >= 0; row--) {
        for (int i = 0; i < 120; i++) {
            const job_state *state = record_attempt_state(m->attempt);
            if (!state->row[row].is_joined || state->rows.tension_n[row] >= setup->target_n) {
                break;
            }
            const job_outcome outcome = do_it(m, JOB_DO_TURN_BODY, 1500, (double[]){row, 0.25}, 2);
            if (outcome.refusal != JOB_REFUSE_NONE ||
                (outcome.events & (JOB_EVENT_BOTTOMED | JOB_EVENT_CAME_OUT | JOB_EVENT_TOO_HEAVY)) != 0) {
                break;
            }
        }
    }
}

static void careless(maker *m)
{
    const job_setup *setup = &m->what.setup;
    drill_rows(m);
    bool one_squeeze = true;
    for (int row = 0; row < setup->structure.row_count; row++) {
        if (setup->is_trainees[row] && setup->start_stage[row] < JOB_STAGE_TENSION) {
            fit_row(m, row, one_squeeze);
            one_squeeze = !one_squeeze;
        }
    }
    tension_top_down(m);
    (void)do_it(m, JOB_DO_SIGN, 5000, NULL, 0);
}

/* ---- files ------------------------------------------------------------------------------------------------------ */

static int load(maker *m, const char *scenario_path, const char *catalogue_path)
{
    char why[TR_TEXT_CAP];
    tr_diags *diags = calloc(1, sizeof *diags);
    int code = diags == NULL ? fail("not enough memory") : 0;
    if (code == 0 && (tr_file_read(scenario_path, SCENARIO_MAX_FILE, &m->text, &m->size, why, sizeof why) != TR_OK ||
                      tr_file_read(catalogue_path, SCENARIO_MAX_FILE, &m->catalogue_text, &m->catalogue_size, why,
                                   sizeof why) != TR_OK)) {
        code = fail(why);
    }
    if (code == 0) {
        m->catalogue = scenario_catalogue_open(m->catalogue_text, m->catalogue_size, diags);
        if (m->catalogue == NULL || scenario_read(m->text, m->size, m->catalogue, &m->what, diags) != TR_OK) {
            code = fail(diags->count > 0 ? diags->item[0].text : "the scenario cannot be read");
        }
    }
    free(diags);
    return code;
}

static int make(maker *m, bool is_careful, const char *path, const char *trainee, const char *started)
{
    char why[TR_TEXT_CAP];
    record_about about;
    memset(&about, 0, sizeof about);
    (void)tr_copy(about.trainee, sizeof about.trainee, trainee);
    (void)tr_copy(about.started_utc, sizeof about.started_utc, started);
    (void)tr_copy(about.version, sizeof about.version, "0.1.0");
    about.mode = JOB_ASSESSMENT;
    about.seed = m->what.setup.seed;
    m->attempt = record_attempt_open(m->text, m->size, &m->what, m->catalogue_text, &about);
    (void)remove(path);
    if (m->attempt == NULL || record_attempt_journal(m->attempt, path, why, sizeof why) != TR_OK) {
        return fail(m->attempt == NULL ? "not enough memory" : why);
    }
    if (is_careful) {
        careful(m);
    } else {
        careless(m);
    }
    score_card *card = calloc(1, sizeof *card);
    if (card == NULL) {
        return fail("not enough memory");
    }
    record_attempt_finish(m->attempt, card);
    (void)printf("%s: %.2f points\n", path, card->total);
    free(card);
    return 0;
}

int main(int argc, char **argv)
{
    if ((argc != 5 && argc != 7) || (strcmp(argv[3], "careful") != 0 && strcmp(argv[3], "careless") != 0)) {
        return fail("usage: make_journals SCENARIO CATALOGUE careful|careless JOURNAL [TRAINEE STARTED]");
    }
    maker *m = calloc(1, sizeof *m);
    if (m == NULL) {
        return fail("not enough memory");
    }
    int code = load(m, argv[1], argv[2]);
    if (code == 0) {
        const bool is_careful = strcmp(argv[3], "careful") == 0;
        const char *trainee = is_careful ? "Ines Varga" : "Tom Harrow";
        code =
            make(m, is_careful, argv[4], argc == 7 ? argv[5] : trainee, argc == 7 ? argv[6] : "2031-05-02T08:00:00Z");
    }
    record_attempt_close(m->attempt);
    scenario_catalogue_close(m->catalogue);
    free(m->text);
    free(m->catalogue_text);
    free(m);
    return code;
}
