/* Seeded variation: the same everywhere, spread as it says. */
#include "tautrow/base/rng.h"

#include "near.h"

/* First outputs of the splitmix64 construction for seed 1234567 (from memory; they are its usual test vector). */
static void test_known_numbers(void **state)
{
    (void)state;
    tr_rng rng = tr_rng_seed(1234567);
    assert_true(tr_rng_next(&rng) == 6457827717110365317U);
    assert_true(tr_rng_next(&rng) == 3203168211198807973U);
    assert_true(tr_rng_next(&rng) == 9817491932198370423U);
}

static void test_uniform_stays_in_range_and_is_even(void **state)
{
    (void)state;
    enum { COUNT = 40000, BINS = 10 };
    tr_rng rng = tr_rng_seed(0);
    int bin[BINS] = {0};
    for (int i = 0; i < COUNT; i++) {
        const double value = tr_rng_uniform(&rng);
        assert_true(value >= 0.0 && value < 1.0);
        bin[(int)(value * BINS)]++;
    }
    for (int i = 0; i < BINS; i++) {
        assert_near(bin[i], COUNT / (double)BINS, 300.0); /* five deviations of a count of 4000 */
    }
}

static void test_normal_has_mean_0_and_deviation_1(void **state)
{
    (void)state;
    enum { COUNT = 40000 };
    tr_rng rng = tr_rng_seed(42);
    double sum = 0.0;
    double squares = 0.0;
    for (int i = 0; i < COUNT; i++) {
        const double value = tr_rng_normal(&rng);
        assert_true(value >= -6.0 && value <= 6.0);
        sum += value;
        squares += value * value;
    }
    assert_near(sum / COUNT, 0.0, 0.025);
    assert_near(squares / COUNT, 1.0, 0.035);
}

static void test_noise_depends_on_its_arguments_only(void **state)
{
    (void)state;
    assert_near(tr_noise(1, 2, 3), tr_noise(1, 2, 3), 0.0);
    assert_true(tr_noise(1, 2, 3) != tr_noise(1, 3, 2));
    assert_true(tr_noise(1, 2, 3) != tr_noise(2, 2, 3));
    assert_true(tr_noise(0, 0, 0) != tr_noise(0, 0, 1));
    double sum = 0.0;
    double squares = 0.0;
    double beside = 0.0; /* of neighbours: should not go together */
    for (uint64_t a = 0; a < 100; a++) {
        for (uint64_t b = 0; b < 100; b++) {
            const double value = tr_noise(7, a, b);
            sum += value;
            squares += value * value;
            beside += value * tr_noise(7, a, b + 1);
        }
    }
    assert_near(sum / 1e4, 0.0, 0.05);
    assert_near(squares / 1e4, 1.0, 0.07);
    assert_near(beside / 1e4, 0.0, 0.05);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_known_numbers),
        cmocka_unit_test(test_uniform_stays_in_range_and_is_even),
        cmocka_unit_test(test_normal_has_mean_0_and_deviation_1),
        cmocka_unit_test(test_noise_depends_on_its_arguments_only),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
