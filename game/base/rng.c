/* Seeded variation: a counter that is mixed (the splitmix construction: Steele, Lea, Flood, "Fast splittable
 * pseudorandom number generators", 2014). It has no bad seeds and its whole state is one number. */
#include "tautrow/base/rng.h"

static const uint64_t STEP = 0x9E3779B97F4A7C15U; /* 2^64 / golden ratio, odd */

static uint64_t mix(uint64_t value)
{
    value = (value ^ (value >> 30U)) * 0xBF58476D1CE4E5B9U;
    value = (value ^ (value >> 27U)) * 0x94D049BB133111EBU;
    return value ^ (value >> 31U);
}

tr_rng tr_rng_seed(uint64_t seed)
{
    return (tr_rng){.state = seed};
}

uint64_t tr_rng_next(tr_rng *rng)
{
    rng->state += STEP;
    return mix(rng->state);
}

double tr_rng_uniform(tr_rng *rng)
{
    /* 53 bits: every result is a multiple of 2^-53 and so exact. */
    return (double)(tr_rng_next(rng) >> 11U) * 0x1.0p-53;
}

double tr_rng_normal(tr_rng *rng)
{
    double sum = -6.0;
    for (int i = 0; i < 12; i++) {
        sum += tr_rng_uniform(rng);
    }
    return sum;
}

double tr_noise(uint64_t seed, uint64_t a, uint64_t b)
{
    /* Mixed one after the other, so that (a, b) and (b, a) are strangers. */
    tr_rng rng = tr_rng_seed(mix(mix(mix(seed + STEP) ^ (a + STEP)) ^ (b + STEP)));
    return tr_rng_normal(&rng);
}
