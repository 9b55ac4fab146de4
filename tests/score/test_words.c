/* The debrief in words: every criterion, effect and stop has its sentences in both languages, and none is left
 * unfilled. */
#include "attempt.h"
#include "parts.h"

#include <stdio.h>

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

enum { TEXT_CAP = 1200 };

static tr_lang *language(const char *code)
{
    char path[512];
    char why[TR_TEXT_CAP];
    char *text = NULL;
    size_t size = 0;
    tr_diags diags;
    tr_format(path, sizeof path, "%s/assets/lang/%s/score.txt", TAUTROW_SOURCE, code);
    assert_int_equal(tr_file_read(path, TR_LANG_MAX_FILE, &text, &size, why, sizeof why), TR_OK);
    tr_lang *lang = tr_lang_open(code);
    tr_diags_clear(&diags);
    assert_int_equal(tr_lang_add(lang, text, size, &diags), TR_OK);
    free(text);
    return lang;
}

static void assert_sentence(const char *text, const char *key)
{
    const size_t length = strlen(text);
    if (length < 3 || strchr(text, '{') != NULL || strchr(text, '}') != NULL || text[length - 1] != '.' ||
        strstr(text, "reason.") != NULL || strstr(text, "effect.") != NULL || strstr(text, "mend.") != NULL ||
        strstr(text, "stop.") != NULL || strstr(text, "list.") != NULL || strstr(text, "..") != NULL) {
        fail_msg("%s: \"%s\"", key, text);
    }
}

static score_line line_of(scenario_criterion criterion)
{
    scenario_rubric rubric;
    default_rubric(&rubric);
    score_line line = {.criterion = criterion, .applies = true, .band = rubric.band[criterion]};
    line.weight = line.band.weight;
    line.effect.row = -1;
    return line;
}

static void check_criterion(const tr_lang *lang, scenario_criterion criterion, tr_system system)
{
    char text[TEXT_CAP];
    char key[96];
    const char *name = scenario_criterion_look(criterion)->key;
    tr_format(key, sizeof key, "rubric.%s", name);
    assert_non_null(tr_word_or_null(lang, key));
    score_line line = line_of(criterion);
    line.points = line.weight;
    line.measured = line.band.full;
    score_reason(&line, lang, system, text, sizeof text);
    assert_sentence(text, name);
    line.points = 0.25 * line.weight;
    line.measured = 0.5 * (line.band.full + line.band.none);
    line.row_count = 3;
    line.row[1] = 4;
    line.row[2] = 6;
    score_reason(&line, lang, system, text, sizeof text);
    assert_sentence(text, name);
    line.undone = 2;
    score_reason(&line, lang, system, text, sizeof text);
    assert_sentence(text, name);
    line.is_undone = true;
    score_reason(&line, lang, system, text, sizeof text);
    assert_sentence(text, name);
    line.applies = false;
    score_reason(&line, lang, system, text, sizeof text);
    assert_sentence(text, name);
}

static void every_criterion_has_its_sentences(void **state)
{
    (void)state;
    const char *const codes[2] = {"en", "es"};
    for (int i = 0; i < 2; i++) {
        tr_lang *lang = language(codes[i]);
        for (int k = 0; k < SCENARIO_CRITERIA; k++) {
            check_criterion(lang, (scenario_criterion)k, TR_US);
            check_criterion(lang, (scenario_criterion)k, TR_SI);
        }
        tr_lang_close(lang);
    }
}

/* Any criterion that can be mended with any effect: the lead and the effect make one sentence. */
static void every_effect_has_its_sentence(void **state)
{
    (void)state;
    const scenario_criterion mended[] = {
        SCENARIO_MARK_HEIGHT, SCENARIO_BIT,          SCENARIO_DRILL_SPEED, SCENARIO_HOLE_DEPTH, SCENARIO_HOLE_SQUARE,
        SCENARIO_INSERT_SEAT, SCENARIO_DRIVER_SPEED, SCENARIO_THREADS,     SCENARIO_CUT_LENGTH, SCENARIO_CABLE_SEAT,
        SCENARIO_SQUEEZES,    SCENARIO_SQUEEZE_TURN, SCENARIO_BODY_HELD,   SCENARIO_STUD_HELD,  SCENARIO_ORDER,
        SCENARIO_ROUNDS,      SCENARIO_EVENNESS,     SCENARIO_TARGET,      SCENARIO_OFF_CENTRE, SCENARIO_OPENING};
    const char *const codes[2] = {"en", "es"};
    for (int i = 0; i < 2; i++) {
        tr_lang *lang = language(codes[i]);
        for (size_t k = 0; k < sizeof mended / sizeof mended[0]; k++) {
            for (int kind = SCORE_EFFECT_NONE + 1; kind < SCORE_EFFECT_KINDS; kind++) {
                char text[TEXT_CAP];
                score_line line = line_of(mended[k]);
                line.measured = line.band.none;
                line.effect = (score_effect){.kind = (score_effect_kind)kind, .row = 3, .was = 1.25, .would_be = 2.5};
                score_reason(&line, lang, TR_SI, text, sizeof text);
                assert_sentence(text, scenario_criterion_look(mended[k])->key);
            }
        }
        tr_lang_close(lang);
    }
}

static void every_stop_has_its_words(void **state)
{
    (void)state;
    const char *const codes[2] = {"en", "es"};
    for (int i = 0; i < 2; i++) {
        tr_lang *lang = language(codes[i]);
        for (int stop = 0; stop < SCORE_STOPS; stop++) {
            char text[TEXT_CAP];
            score_card card = {.total = 0.0};
            assert_non_null(tr_word_or_null(lang, score_stop_key((score_stop)stop)));
            card.stop_row[stop] = 4;
            score_stop_reason(&card, (score_stop)stop, lang, text, sizeof text);
            assert_sentence(text, score_stop_key((score_stop)stop));
            assert_non_null(strstr(text, "5")); /* the row, counted from 1 */
            card.stop_row[stop] = -1;
            score_stop_reason(&card, (score_stop)stop, lang, text, sizeof text);
            assert_sentence(text, score_stop_key((score_stop)stop));
        }
        tr_lang_close(lang);
    }
}

static void rows_read_as_people_write_them(void **state)
{
    (void)state;
    const int rows[8] = {2, 3, 4, 6, 7, 8, 9, 10};
    const struct {
        int count;
        const char *en, *es;
    } cases[] = {{0, "", ""},
                 {1, "3", "3"},
                 {2, "3 and 4", "3 y 4"},
                 {3, "3, 4 and 5", "3, 4 y 5"},
                 {6, "3, 4, 5, 7, 8 and 9", "3, 4, 5, 7, 8 y 9"},
                 {7, "3, 4, 5 and 4 more", "3, 4, 5 y 4 más"},
                 {8, "3, 4, 5 and 5 more", "3, 4, 5 y 5 más"}};
    tr_lang *en = language("en");
    tr_lang *es = language("es");
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[TEXT_CAP];
        score_rows_text(rows, cases[i].count, en, text, sizeof text);
        assert_string_equal(text, cases[i].en);
        score_rows_text(rows, cases[i].count, es, text, sizeof text);
        assert_string_equal(text, cases[i].es);
    }
    tr_lang_close(en);
    tr_lang_close(es);
}

/* One whole sentence, so that a reader of this file sees what a trainee reads. */
static void a_reason_reads_well(void **state)
{
    (void)state;
    char text[TEXT_CAP];
    tr_lang *en = language("en");
    score_line line = line_of(SCENARIO_STUD_HELD);
    line.points = 1.04;
    line.measured = 0.2;
    line.row_count = 3;
    line.row[0] = 2;
    line.row[1] = 3;
    line.row[2] = 6;
    line.effect = (score_effect){.kind = SCORE_EFFECT_TENSION, .row = 3, .was = 640.0, .would_be = 912.0};
    score_reason(&line, en, TR_US, text, sizeof text);
    assert_string_equal(text,
                        "1 of 6 points: the stud was held for 20 % of the turns (asked: at least 95 %); rows 3, 4 "
                        "and 7. With the stud held, row 4 would have ended at 205 lbf instead of 144 lbf.");
    tr_lang_close(en);
}

/* Both languages say the same things. */
static void the_languages_have_the_same_keys(void **state)
{
    (void)state;
    tr_lang *en = language("en");
    tr_lang *es = language("es");
    assert_int_equal(tr_lang_count(en), tr_lang_count(es));
    for (size_t i = 0; i < tr_lang_count(en); i++) {
        if (tr_word_or_null(es, tr_lang_key(en, i)) == NULL) {
            fail_msg("es lacks %s", tr_lang_key(en, i));
        }
    }
    tr_lang_close(en);
    tr_lang_close(es);
}

/* A real card, full of slips, in both languages; and cut short without harm where there is little room. */
static void a_whole_debrief_is_filled_in(void **state)
{
    (void)state;
    const slip many = {.rows = 1U << 2 | 1U << 5,
                       .bit = 1,
                       .depth_m = -0.012,
                       .square_rad = 0.1,
                       .mark_m = 0.006,
                       .proud_m = 0.004,
                       .driver_rpm = 900.0,
                       .cut_m = 0.01,
                       .seat_m = 0.004,
                       .turn_rad = 0.8,
                       .body_free = true,
                       .stud_free = true,
                       .bottom_up = true,
                       .no_check_round = true,
                       .uneven = 0.4,
                       .no_sign = true,
                       .no_answers = true};
    attempt *a = attempt_new(11);
    do_job(a, &many);
    const score_card card = grade_of(a);
    const char *const codes[2] = {"en", "es"};
    for (int i = 0; i < 2; i++) {
        tr_lang *lang = language(codes[i]);
        for (int k = 0; k < SCENARIO_CRITERIA; k++) {
            char text[TEXT_CAP];
            char little[24];
            score_reason(&card.line[k], lang, TR_US, text, sizeof text);
            assert_sentence(text, scenario_criterion_look((scenario_criterion)k)->key);
            score_reason(&card.line[k], lang, TR_US, little, sizeof little);
            assert_true(strlen(little) < sizeof little);
        }
        tr_lang_close(lang);
    }
    free(a);
}

static void sixteen_threads_are_not_16_0(void **state)
{
    (void)state;
    char text[TEXT_CAP];
    tr_lang *en = language("en");
    const score_effect effect = {.kind = SCORE_EFFECT_THREADS, .row = 2, .was = 0.0, .would_be = 16.0};
    score__effect_text("", SCENARIO_BODY_HELD, &effect, en, TR_US, text, sizeof text);
    assert_non_null(strstr(text, "16 "));
    assert_null(strstr(text, ".0"));
    tr_lang_close(en);
}

static void a_hair_past_the_band_does_not_read_as_the_band(void **state)
{
    (void)state;
    char text[TEXT_CAP];
    tr_lang *en = language("en");
    score_line line = line_of(SCENARIO_HOLE_DEPTH);
    line.points = 0.95 * line.weight;
    line.measured = line.band.full * 1.05;
    score_reason(&line, en, TR_US, text, sizeof text);
    assert_non_null(strstr(text, "a little over 1/16 in"));
    line.measured = line.band.full * 3.0;
    score_reason(&line, en, TR_US, text, sizeof text);
    assert_null(strstr(text, "little"));
    tr_lang_close(en);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_criterion_has_its_sentences),
        cmocka_unit_test(every_effect_has_its_sentence),
        cmocka_unit_test(every_stop_has_its_words),
        cmocka_unit_test(rows_read_as_people_write_them),
        cmocka_unit_test(a_reason_reads_well),
        cmocka_unit_test(the_languages_have_the_same_keys),
        cmocka_unit_test(a_whole_debrief_is_filled_in),
        cmocka_unit_test(sixteen_threads_are_not_16_0),
        cmocka_unit_test(a_hair_past_the_band_does_not_read_as_the_band),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
