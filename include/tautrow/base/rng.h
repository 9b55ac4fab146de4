/* Seeded variation. No hidden state: the generator is a value that its owner keeps, and tr_noise is a pure function.
 * Only integer and exact floating-point operations are used, so every machine gives the same numbers. */
#ifndef TAUTROW_BASE_RNG_H
#define TAUTROW_BASE_RNG_H

#include <stdint.h>

typedef struct tr_rng {
    uint64_t state;
} tr_rng;

/* Starts a generator; any seed is good. */
tr_rng tr_rng_seed(uint64_t seed);

/* Next 64 bits. */
uint64_t tr_rng_next(tr_rng *rng);

/* Uniform in [0, 1). */
double tr_rng_uniform(tr_rng *rng);

/* Roughly normal, mean 0, deviation 1: twelve uniforms less six, so it lies within +-6 and needs no libm. */
double tr_rng_normal(tr_rng *rng);

/* Roughly normal number that depends on nothing but its arguments. */
double tr_noise(uint64_t seed, uint64_t a, uint64_t b);

#endif
