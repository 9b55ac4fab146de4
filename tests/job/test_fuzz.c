/* Random hands on made-up jobs: whatever is done in whatever order, the state stays sound, a refused action changes
 * nothing but counters, the same actions give the same state, and the expert finds a way on from wherever it was left.
 */
#include "act.h"

#include <stdlib.h>

#include "tautrow/base/rng.h"

enum { ACTIONS = 2500, SEEDS = 8, ROWS = 5 };

static job_action journal[ACTIONS];

/* ---- random actions --------------------------------------------------------------------------------------------- */

static double between(tr_rng *rng, double low, double high)
{
    return low + (high - low) * tr_rng_uniform(rng);
}

/* Mostly numbers that a hand might make, sometimes the bounds, sometimes nonsense. */
static double random_value(tr_rng *rng, const job_field *field)
{
    const double kind = tr_rng_uniform(rng);
    if (kind < 0.01) {
        return (double)NAN;
    }
    if (kind < 0.02) {
        return field->most + 1.0;
    }
    if (kind < 0.06) {
        return kind < 0.04 ? field->least : field->most;
    }
    switch (field->type) {
    case JOB_TYPE_ROW:
        return floor(between(rng, 0.0, (double)ROWS));
    case JOB_TYPE_CHOICE:
        return floor(between(rng, field->least, fmin(field->most, 6.0) + 0.999));
    case JOB_TYPE_FLAG:
        return tr_rng_uniform(rng) < 0.5 ? 0.0 : 1.0;
    case JOB_TYPE_TURNS:
        return fmin(fmax(between(rng, -4.0, 16.0), field->least), field->most);
    case JOB_TYPE_LENGTH_M:
    case JOB_TYPE_ANGLE_RAD:
    case JOB_TYPE_FORCE_N:
    case JOB_TYPE_RPM:
    case JOB_TYPE_SHARE:
    case JOB_TYPE_DAYS:
        break;
    }
    return between(rng, field->least, field->most);
}

static job_action random_action(tr_rng *rng, int64_t now_ms)
{
    job_verb verb = JOB_DO_SIGN;
    while (verb == JOB_DO_SIGN) {
        verb = (job_verb)floor(between(rng, 0.0, (double)JOB_VERB_COUNT - 0.001));
    }
    job_action action = {.verb = verb, .at_ms = now_ms + 500};
    const job_verb_info *info = job_verb_look(verb);
    for (int i = 0; i < info->field_count; i++) {
        action.arg[i] = random_value(rng, &info->field[i]);
    }
    return action;
}

/* ---- what must always hold -------------------------------------------------------------------------------------- */

static void check_row(const job_setup *setup, const job_state *state, int index)
{
    const job_row *row = &state->row[index];
    const double tension = state->rows.tension_n[index];
    assert_true(isfinite(tension) && tension >= 0.0);
    assert_true(isfinite(state->rows.take_up_m[index]) && isfinite(row->slip_m) && row->slip_m >= -1e-12);
    assert_true(row->is_joined || tension == 0.0);
    assert_true(!row->is_joined || (row->anchor_in && row->cable_in && row->is_driven && row->crimp.squeeze_count > 0));
    assert_true(row->engaged.anchor_turns >= 0.0 && row->engaged.cable_turns >= 0.0);
    assert_true(row->anchor_in || row->engaged.anchor_turns == 0.0);
    assert_true(row->cable_in || row->engaged.cable_turns == 0.0);
    const double filled = row->engaged.anchor_turns * setup->turnbuckle.anchor.pitch_m +
                          row->engaged.cable_turns * setup->turnbuckle.cable.pitch_m;
    assert_true(filled <= setup->turnbuckle.body_m * (1.0 + 1e-9));
    assert_true(row->crimp.seated_m >= 0.0 && row->crimp.seated_m <= setup->crimp.bore_m);
    assert_true(tension <= fmax(job_row_capacity(setup, row), 0.5) * (1.0 + 1e-5));
    assert_true(state->peak_n[index] >= tension * (1.0 - 1e-12));
    if (row->is_joined) {
        assert_near(state->rows.take_up_m[index], job_row_take_up(setup, row), 1e-9);
    }
}

static void check(const job_setup *setup, const job_state *state)
{
    for (int i = 0; i < ROWS; i++) {
        check_row(setup, state, i);
    }
    assert_true(state->pull_count >= 0 && state->refusals <= state->action_count);
    assert_true(isfinite(state->off_centre_peak_n_m) && isfinite(state->bending_peak));
}

/* Everything but the counters that a refusal may move. */
static tr_hash hash_without_counters(const job_setup *setup, const job_state *state)
{
    static job_state copy;
    copy = *state;
    copy.action_count = 0;
    copy.now_ms = 0;
    copy.refusals = 0;
    copy.refused_without_glasses = 0;
    for (int i = 0; i < ROWS; i++) {
        copy.row[i].wrong_starts = 0;
    }
    return job_state_hash(setup, &copy);
}

static bool same(tr_hash a, tr_hash b)
{
    return memcmp(a.byte, b.byte, TR_HASH_BYTES) == 0;
}

/* ---- the tests -------------------------------------------------------------------------------------------------- */

static job_setup job_of(uint64_t seed)
{
    job_setup setup = seed % 2 == 0 ? made_up(ROWS, 0.0889, 3.0)
                                    : made_up_crew(ROWS, 2 + (int)(seed % 3), 0.0889, 3.0, JOB_STAGE_CRIMP);
    setup.seed = seed;
    setup.fault_count = 2;
    setup.fault[0] = (job_fault){seed % 4 < 2 ? JOB_FAULT_UNSEATED : JOB_FAULT_FEW_THREADS, ROWS - 1, 0.01};
    setup.fault[1] = (job_fault){JOB_FAULT_TWISTED, ROWS - 2, 3.0};
    if (setup.fault[0].kind == JOB_FAULT_FEW_THREADS) {
        setup.fault[0].amount = 3.0;
    }
    if (seed % 3 == 0) { /* no rail, and one end a wall */
        setup.structure.rail.is_fitted = false;
        setup.structure.post[MECH_FAR].is_rigid = true;
    }
    if (seed % 5 == 0) { /* a long run of cable that takes any twist */
        setup.structure.strand.torsion_n_m2 = 0.0;
        setup.structure.bay_m[0] = 9.0;
    }
    return setup;
}

/* Half the actions are the expert's, so that the job gets far enough for the other half to do harm. */
static void fuzz(uint64_t seed)
{
    static job_state state;
    static job_state again;
    const job_setup setup = job_of(seed);
    tr_rng rng = tr_rng_seed(seed);
    job_start(&setup, &state);
    check(&setup, &state);
    int refused = 0;
    int joined = 0; /* row by row over all actions: has the run been strung at all? */
    for (int i = 0; i < ACTIONS; i++) {
        const bool is_expert = i % 500 < 250 && tr_rng_uniform(&rng) < 0.5;
        job_action action = random_action(&rng, state.now_ms);
        job_action advice;
        if (is_expert && job_expert_next(&setup, &state, &advice) && advice.verb != JOB_DO_SIGN) {
            action = advice;
        }
        journal[i] = action;
        const tr_hash before = hash_without_counters(&setup, &state);
        const job_outcome outcome = job_apply(&setup, &state, &action);
        if (outcome.refusal != JOB_REFUSE_NONE) {
            refused++;
            assert_true(same(before, hash_without_counters(&setup, &state)));
        }
        check(&setup, &state);
        for (int row = 0; row < ROWS; row++) {
            joined += state.row[row].is_joined ? 1 : 0;
        }
    }
    print_message("seed %d: %d refused, %d pulls, %d slips, %d joined\n", (int)seed, refused, state.pull_count,
                  state.slips_under_load, joined);
    assert_int_equal(state.action_count, ACTIONS);
    assert_int_equal(state.refusals, refused);
    job_replay(&setup, journal, ACTIONS, &again, NULL);
    assert_true(same(job_state_hash(&setup, &state), job_state_hash(&setup, &again)));
}

static void random_hands_keep_the_state_sound(void **unused)
{
    (void)unused;
    for (uint64_t seed = 1; seed <= SEEDS; seed++) {
        fuzz(seed);
    }
}

/* After any mess the expert either signs or has nothing left to do; it never goes round in circles and is never
 * refused. */
static void expert_finds_a_way_on(void **unused)
{
    (void)unused;
    static job_state state;
    int signed_off = 0;
    for (uint64_t seed = 1; seed <= 40; seed++) {
        const job_setup setup = job_of(seed);
        tr_rng rng = tr_rng_seed(seed + 1000);
        job_start(&setup, &state);
        const int mess = (int)between(&rng, 5.0, 300.0);
        for (int i = 0; i < mess; i++) {
            job_action action = random_action(&rng, state.now_ms);
            job_action advice;
            if (tr_rng_uniform(&rng) < 0.5 && job_expert_next(&setup, &state, &advice)) {
                action = advice;
            }
            job_apply(&setup, &state, &action);
        }
        const int refusals = state.refusals;
        const int count = made_up_expert(&setup, &state, 1500);
        if (count >= 1500 || state.refusals != refusals) {
            print_error("seed %d: %d actions, %d refused\n", (int)seed, count, state.refusals - refusals);
        }
        assert_true(count < 1500);
        assert_int_equal(state.refusals, refusals);
        signed_off += state.is_signed ? 1 : 0;
    }
    print_message("signed after a mess: %d of 40\n", signed_off);
    assert_true(signed_off >= 30);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(random_hands_keep_the_state_sound),
        cmocka_unit_test(expert_finds_a_way_on),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
