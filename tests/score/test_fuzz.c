/* Whatever anybody does, the examiner gives a card that makes sense: careful attempts with actions dropped, doubled,
 * swapped and their numbers spoilt, and plain noise. The generator is seeded, so a failure comes back. */
#include "attempt.h"

#include "tautrow/base/rng.h"
#include "tautrow/score/slip.h"

static size_t pick(tr_rng *rng, size_t below)
{
    return (size_t)(tr_rng_uniform(rng) * (double)below);
}

static double number_for(tr_rng *rng, const job_field *field)
{
    const double value = field->least + tr_rng_uniform(rng) * (field->most - field->least);
    const bool is_whole = field->type == JOB_TYPE_ROW || field->type == JOB_TYPE_CHOICE || field->type == JOB_TYPE_FLAG;
    return is_whole ? floor(value + 0.5) : value;
}

static void spoil_number(tr_rng *rng, job_action *action)
{
    const job_verb_info *info = job_verb_look(action->verb);
    if (info->field_count > 0) {
        const size_t slot = pick(rng, (size_t)info->field_count);
        action->arg[slot] = number_for(rng, &info->field[slot]);
    }
}

static job_action noise(tr_rng *rng, int rows)
{
    job_action action = {.verb = (job_verb)pick(rng, JOB_VERB_COUNT)};
    const job_verb_info *info = job_verb_look(action.verb);
    for (int i = 0; i < info->field_count; i++) {
        action.arg[i] = number_for(rng, &info->field[i]);
        if (info->field[i].type == JOB_TYPE_ROW) {
            action.arg[i] = (double)pick(rng, (size_t)rows);
        }
    }
    return action;
}

static void spoil(tr_rng *rng, attempt *a, int times)
{
    for (int i = 0; i < times; i++) {
        const size_t at = pick(rng, a->count);
        const size_t other = pick(rng, a->count);
        const job_action kept = a->action[at];
        switch (pick(rng, 5)) {
        case 0:
            spoil_number(rng, &a->action[at]);
            break;
        case 1:
            a->action[at] = a->action[other];
            a->action[other] = kept;
            break;
        case 2:
            memmove(&a->action[at], &a->action[at + 1], (a->count - at - 1) * sizeof kept);
            a->count--;
            break;
        case 3:
            a->action[at] = a->action[other];
            break;
        default:
            a->action[at] = noise(rng, a->task.setup.structure.row_count);
            break;
        }
    }
}

static void assert_card(const attempt *a, const score_card *card)
{
    const int rows = a->task.setup.structure.row_count;
    assert_true(card->total >= 0.0 && card->total <= 100.0 + 1e-9);
    assert_true(isfinite(card->spread) && isfinite(card->lowest_n) && card->lowest_n <= card->highest_n);
    assert_true(!card->passed || (card->stops == 0 && card->is_signed));
    for (int i = 0; i < SCENARIO_CRITERIA; i++) {
        const score_line *line = &card->line[i];
        assert_true(line->points >= 0.0 && line->points <= line->weight + 1e-12);
        assert_true(isfinite(line->measured) && isfinite(line->effect.was) && isfinite(line->effect.would_be));
        assert_true(line->row_count >= 0 && line->row_count <= rows && line->effect.row < rows);
        for (int k = 0; k < line->row_count; k++) {
            assert_true(line->row[k] >= 0 && line->row[k] < rows && (k == 0 || line->row[k] > line->row[k - 1]));
        }
    }
    for (int i = 0; i < SCORE_STOPS; i++) {
        assert_true(card->stop_row[i] >= -1 && card->stop_row[i] < rows);
    }
}

/* At some places of the attempt. */
static void assert_slips(const attempt *a, tr_rng *rng)
{
    const int rows = a->task.setup.structure.row_count;
    for (int i = 0; i < 8; i++) {
        score_slip out[SCORE_MAX_SLIPS];
        const int count = score_slips(&a->task, a->action, 1 + pick(rng, a->count), out);
        assert_true(count >= 0 && count <= SCORE_MAX_SLIPS);
        for (int k = 0; k < count; k++) {
            const score_slip *one = &out[k];
            assert_true(one->criterion < SCENARIO_CRITERIA || one->stop < SCORE_STOPS);
            assert_true(one->row >= -1 && one->row < rows && one->instead >= -1 && one->instead < rows);
            assert_true(isfinite(one->measured) && isfinite(one->did) && one->lost >= 0.0);
            assert_true(isfinite(one->effect.was) && isfinite(one->effect.would_be) && one->effect.row < rows);
            assert_true(!one->is_open || one->lost == 0.0);
        }
    }
}

static void spoilt_attempts_are_graded(void **state)
{
    (void)state;
    const slip none = {.wait_days = 20.0};
    tr_rng rng = tr_rng_seed(20);
    attempt *careful = attempt_new(4);
    do_job(careful, &none);
    attempt *a = attempt_new(4);
    for (int i = 0; i < 400; i++) {
        memcpy(a->action, careful->action, careful->count * sizeof careful->action[0]);
        a->count = careful->count;
        spoil(&rng, a, 1 + (int)pick(&rng, 40));
        const score_card card = grade_of(a);
        assert_card(a, &card);
        assert_slips(a, &rng);
    }
    free(a);
    free(careful);
}

static void noise_is_graded(void **state)
{
    (void)state;
    tr_rng rng = tr_rng_seed(21);
    attempt *a = attempt_new(3);
    for (int i = 0; i < 100; i++) {
        a->task.setup.fault_count = 1;
        a->task.setup.fault[0] =
            (job_fault){.kind = (job_fault_kind)pick(&rng, JOB_FAULT_KINDS), .row = 1, .amount = 0.002};
        for (int row = 0; row < 3; row++) {
            a->task.setup.start_stage[row] = (job_stage)pick(&rng, JOB_STAGE_COUNT + 1);
            a->task.setup.start_tension_n[row] = 900.0;
        }
        for (a->count = 0; a->count < 300; a->count++) {
            a->action[a->count] = noise(&rng, 3);
        }
        const score_card card = grade_of(a);
        assert_card(a, &card);
        assert_slips(a, &rng);
    }
    free(a);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(spoilt_attempts_are_graded),
        cmocka_unit_test(noise_is_graded),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
