/* The table of actions against actions.def, and what counts as a sound number. */
#include "act.h"

static void every_verb_is_found_by_its_name(void **unused)
{
    (void)unused;
    for (int verb = 0; verb < JOB_VERB_COUNT; verb++) {
        const job_verb_info *info = job_verb_look((job_verb)verb);
        assert_non_null(info->name);
        assert_int_equal(job_verb_find(info->name), verb);
        assert_true(info->stage >= JOB_STAGE_READ && info->stage < JOB_STAGE_COUNT);
    }
    assert_int_equal(job_verb_find("dance"), JOB_VERB_COUNT);
    assert_int_equal(job_verb_find(""), JOB_VERB_COUNT);
}

static void fields_have_bounds_and_keys(void **unused)
{
    (void)unused;
    for (int verb = 0; verb < JOB_VERB_COUNT; verb++) {
        const job_verb_info *info = job_verb_look((job_verb)verb);
        assert_in_range(info->field_count, 0, JOB_MAX_FIELDS);
        for (int i = 0; i < info->field_count; i++) {
            assert_non_null(info->field[i].key);
            assert_true(info->field[i].least < info->field[i].most);
        }
    }
    const job_verb_info *drill = job_verb_look(JOB_DO_DRILL);
    assert_int_equal(drill->field_count, 6);
    assert_string_equal(drill->field[JOB_DRILL_DEPTH].key, "depth_m");
    assert_int_equal(drill->field[JOB_DRILL_PITCH].type, JOB_TYPE_ANGLE_RAD);
    assert_int_equal(job_verb_look(JOB_DO_WIPE)->field_count, 0);
}

static void bounds_are_inclusive_and_nonsense_is_unsound(void **unused)
{
    (void)unused;
    for (int verb = 0; verb < JOB_VERB_COUNT; verb++) {
        const job_verb_info *info = job_verb_look((job_verb)verb);
        double args[JOB_MAX_FIELDS] = {0.0};
        for (int i = 0; i < info->field_count; i++) {
            args[i] = info->field[i].least;
        }
        job_action action = job_make((job_verb)verb, 0, args, info->field_count);
        assert_true(job_action_is_sound(&action, MECH_MAX_ROWS));
        for (int i = 0; i < info->field_count; i++) {
            const double wrong[] = {(double)NAN, (double)INFINITY, info->field[i].least - 0.5,
                                    info->field[i].most + 0.5};
            for (size_t w = 0; w < sizeof wrong / sizeof wrong[0]; w++) {
                action.arg[i] = wrong[w];
                assert_false(job_action_is_sound(&action, MECH_MAX_ROWS));
            }
            action.arg[i] = info->field[i].most;
            assert_true(job_action_is_sound(&action, MECH_MAX_ROWS));
            action.arg[i] = info->field[i].least;
        }
    }
}

static void rows_and_choices_are_whole_and_rows_exist(void **unused)
{
    (void)unused;
    const double five[] = {5.0};
    const double half[] = {0.5};
    job_action action = job_make(JOB_DO_PLUCK, 0, five, 1);
    assert_true(job_action_is_sound(&action, 6));
    assert_false(job_action_is_sound(&action, 5));
    assert_int_equal(job_action_row(&action), 5);
    action = job_make(JOB_DO_PLUCK, 0, half, 1);
    assert_false(job_action_is_sound(&action, 6));
    action = job_make(JOB_DO_TAKE_BIT, 0, half, 1);
    assert_false(job_action_is_sound(&action, 6));
    assert_int_equal(job_action_row(&action), -1);
    action = job_make(JOB_DO_GLASSES, 0, half, 1);
    assert_false(job_action_is_sound(&action, 6));
    action = job_make(JOB_DO_WIPE, -1, NULL, 0);
    assert_false(job_action_is_sound(&action, 6));
    action.at_ms = 0;
    action.verb = JOB_VERB_COUNT;
    assert_false(job_action_is_sound(&action, 6));
}

static void names_are_complete(void **unused)
{
    (void)unused;
    for (int stage = 0; stage < JOB_STAGE_COUNT; stage++) {
        assert_true(strlen(job_stage_name((job_stage)stage)) > 0);
    }
    for (int i = 0; i < JOB_REFUSAL_COUNT; i++) {
        assert_int_equal(strncmp(job_refusal_key((job_refusal)i), "refuse.", 7), 0);
    }
    for (int i = 0; i < JOB_EVENT_KINDS; i++) {
        assert_int_equal(strncmp(job_event_key(i), "event.", 6), 0);
    }
    assert_string_equal(job_event_key(11), "event.over_limit");
    assert_string_equal(job_refusal_key(JOB_REFUSE_NO_GLASSES), "refuse.no_glasses");
    for (int i = 0; i < JOB_FAULT_KINDS; i++) {
        assert_true(strlen(job_fault_name((job_fault_kind)i)) > 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_verb_is_found_by_its_name),
        cmocka_unit_test(fields_have_bounds_and_keys),
        cmocka_unit_test(bounds_are_inclusive_and_nonsense_is_unsound),
        cmocka_unit_test(rows_and_choices_are_whole_and_rows_exist),
        cmocka_unit_test(names_are_complete),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
