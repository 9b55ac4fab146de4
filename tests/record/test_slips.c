/* Slip-ups over the two golden attempts: the careful hand is never spoken to, and of the careless one everything that
 * lost points in the end had been named on the way. */
#include "near.h"

#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"
#include "tautrow/record/attempt.h"
#include "tautrow/score/slip.h"

static record_attempt *attempt_of(const char *name, record_reading *reading)
{
    static tr_diags diags;
    char path[512];
    char why[TR_TEXT_CAP];
    char *text = NULL;
    size_t size = 0;
    record_attempt *attempt = NULL;
    tr_diags_clear(&diags);
    tr_format(path, sizeof path, "%s/tests/golden/%s.jsonl", TAUTROW_SOURCE, name);
    assert_int_equal(tr_file_read(path, RECORD_MAX_FILE, &text, &size, why, sizeof why), TR_OK);
    assert_int_equal(record_attempt_read(text, size, &attempt, reading, &diags), TR_OK);
    free(text);
    return attempt;
}

/* Bit per criterion that was named on the way, stops in the upper word. */
typedef struct named {
    uint64_t lines;
    unsigned stops;
    int count;
} named;

static named listen(const record_attempt *attempt)
{
    named all = {0};
    const job_action *actions = NULL;
    const size_t count = record_attempt_actions(attempt, &actions);
    for (size_t i = 1; i <= count; i++) {
        score_slip out[SCORE_MAX_SLIPS];
        const int slips = score_slips(record_attempt_scenario(attempt), actions, i, out);
        for (int j = 0; j < slips; j++) {
            const bool has_line = out[j].criterion < SCENARIO_CRITERIA;
            all.lines |= has_line && !out[j].is_open ? (uint64_t)1 << out[j].criterion : 0U;
            all.stops |= out[j].stop < SCORE_STOPS ? 1U << out[j].stop : 0U;
            all.count++;
            print_message("  %zu %s: %s, row %d, stop %d%s\n", i, job_verb_look(actions[i - 1].verb)->name,
                          has_line ? scenario_criterion_look(out[j].criterion)->key : "-", out[j].row + 1, out[j].stop,
                          out[j].is_open ? ", open" : "");
        }
    }
    return all;
}

static void the_careful_hand_is_left_in_peace(void **state)
{
    (void)state;
    record_reading reading;
    record_attempt *attempt = attempt_of("careful", &reading);
    assert_int_equal(listen(attempt).count, 0);
    record_attempt_close(attempt);
}

/* Not the time: it is lost on the way, by no single action. Nor a line of which nothing was done at all. */
static void what_the_careless_hand_lost_was_named(void **state)
{
    (void)state;
    record_reading reading;
    record_attempt *attempt = attempt_of("careless", &reading);
    const named all = listen(attempt);
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        const score_line *line = &reading.card.line[i];
        const bool has_lost = line->applies && line->points < 0.9 * line->weight;
        if (has_lost && i != SCENARIO_TIME && !(all.lines >> i & 1U)) {
            fail_msg("%s lost %g of %g and was never named", scenario_criterion_look((scenario_criterion)i)->key,
                     line->weight - line->points, line->weight);
        }
    }
    for (int i = 0; i < SCORE_STOPS; i++) {
        if ((reading.card.stops >> i & 1U) && !(all.stops >> i & 1U)) {
            fail_msg("%s was never named", score_stop_key((score_stop)i));
        }
    }
    record_attempt_close(attempt);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_careful_hand_is_left_in_peace),
        cmocka_unit_test(what_the_careless_hand_lost_was_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
