/* SHA-256 (FIPS 180-4), by libsodium. */
#ifndef TAUTROW_BASE_HASH_H
#define TAUTROW_BASE_HASH_H

#include <stddef.h>
#include <stdint.h>

enum { TR_HASH_BYTES = 32, TR_HASH_TEXT = 65 };

typedef struct tr_hash {
    uint8_t byte[TR_HASH_BYTES];
} tr_hash;

typedef struct tr_hasher {
    _Alignas(16) unsigned char opaque[128];
} tr_hasher;

void tr_hash_begin(tr_hasher *hasher);
void tr_hash_add(tr_hasher *hasher, const void *data, size_t size);
/* Adds a double by its IEEE 754 bits, least significant byte first; -0.0 counts as 0.0. */
void tr_hash_double(tr_hasher *hasher, double value);
/* Adds a whole number as eight bytes, least significant first. */
void tr_hash_int(tr_hasher *hasher, int64_t value);
tr_hash tr_hash_end(tr_hasher *hasher);

/* The 64 lower-case hexadecimal digits of a hash. */
void tr_hash_text(tr_hash hash, char out[TR_HASH_TEXT]);

#endif
