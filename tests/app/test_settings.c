/* The settings file: what was chosen comes back, and nonsense keeps the default. */
#include "near.h"

#include <string.h>

#include "settings.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

static const char path[] = TAUTROW_BINARY "/settings-test.json";

static view_settings read_from(const char *text)
{
    char why[TR_TEXT_CAP];
    assert_int_equal(tr_file_write(path, text, strlen(text), why, sizeof why), TR_OK);
    return app_settings_load(path, "en");
}

static void what_was_chosen_comes_back(void **context)
{
    (void)context;
    char why[TR_TEXT_CAP];
    view_settings chosen = app_settings_default("en");
    chosen.volume = 0.3F;
    chosen.captions = true;
    chosen.has_no_speaker = true; /* of that day, not of the next one */
    assert_true(app_settings_save(path, &chosen, why, sizeof why));
    view_settings back = app_settings_load(path, "en");
    assert_near((double)back.volume, 0.3, 1e-6);
    assert_true(back.captions);
    assert_false(back.has_no_speaker);
    chosen.volume = 0.0F;
    chosen.captions = false;
    assert_true(app_settings_save(path, &chosen, why, sizeof why));
    back = app_settings_load(path, "en");
    assert_near((double)back.volume, 0.0, 0.0);
    assert_false(back.captions);
}

static void what_makes_no_sense_keeps_its_default(void **context)
{
    (void)context;
    const double usual = (double)app_settings_default("en").volume;
    assert_true(usual > 0.0 && usual <= 1.0);
    assert_near((double)read_from("{}").volume, usual, 0.0);
    assert_near((double)read_from("{\"sound_volume\": 7}").volume, usual, 0.0);
    assert_near((double)read_from("{\"sound_volume\": -1}").volume, usual, 0.0);
    assert_near((double)read_from("{\"sound_volume\": \"loud\"}").volume, usual, 0.0);
    assert_false(read_from("{\"captions\": 1}").captions);
    assert_near((double)read_from("not a file of settings").volume, usual, 0.0);
}

/* Offered to whoever starts for the first time, and until it was taken or declined; never to somebody who worked here
 * before there was a tour. */
static void the_tour_is_offered_once(void **context)
{
    (void)context;
    char why[TR_TEXT_CAP];
    view_settings chosen = app_settings_default("en");
    assert_false(chosen.tour_seen);
    assert_false(app_settings_load(TAUTROW_BINARY "/no-such-settings.json", "en").tour_seen);
    assert_true(app_settings_save(path, &chosen, why, sizeof why)); /* the language was chosen first */
    assert_false(app_settings_load(path, "en").tour_seen);
    chosen.tour_seen = true;
    assert_true(app_settings_save(path, &chosen, why, sizeof why));
    assert_true(app_settings_load(path, "en").tour_seen);
    assert_true(read_from("{\"lang\": \"es\"}").tour_seen);
    assert_false(read_from("not a file of settings").tour_seen);
}

static void a_language_that_was_chosen_is_known(void **context)
{
    (void)context;
    assert_false(app_settings_default("es").knows_lang);
    assert_true(read_from("{\"lang\": \"es\"}").knows_lang);
    assert_false(read_from("{\"lang\": \"xx\"}").knows_lang);
    assert_string_equal(read_from("{\"lang\": \"xx\"}").lang, "en");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_chosen_comes_back),
        cmocka_unit_test(the_tour_is_offered_once),
        cmocka_unit_test(a_language_that_was_chosen_is_known),
        cmocka_unit_test(what_makes_no_sense_keeps_its_default),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
