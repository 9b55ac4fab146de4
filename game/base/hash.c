/* SHA-256 by libsodium. Its state is copied in and out of our opaque bytes, so that no header of ours names the library
 * and no pointer is cast. sodium_init is not needed: it picks random sources and faster ciphers, SHA-256 uses neither.
 */
#include "tautrow/base/hash.h"

#include "tautrow/base/assert.h"

#include <sodium.h>
#include <string.h>

_Static_assert(sizeof(crypto_hash_sha256_state) <= sizeof(((tr_hasher *)0)->opaque), "the opaque bytes must hold it");
_Static_assert(crypto_hash_sha256_BYTES == TR_HASH_BYTES, "SHA-256 has 32 bytes");

void tr_hash_begin(tr_hasher *hasher)
{
    crypto_hash_sha256_state state;
    const int failed = crypto_hash_sha256_init(&state);
    TR_ASSERT(failed == 0);
    memset(hasher->opaque, 0, sizeof hasher->opaque);
    memcpy(hasher->opaque, &state, sizeof state);
}

void tr_hash_add(tr_hasher *hasher, const void *data, size_t size)
{
    if (size == 0) {
        return;
    }
    crypto_hash_sha256_state state;
    memcpy(&state, hasher->opaque, sizeof state);
    const int failed = crypto_hash_sha256_update(&state, data, size);
    TR_ASSERT(failed == 0);
    memcpy(hasher->opaque, &state, sizeof state);
}

static void add_bits(tr_hasher *hasher, uint64_t bits)
{
    unsigned char bytes[8];
    for (unsigned i = 0; i < 8; i++) {
        bytes[i] = (unsigned char)(bits >> (8U * i) & 0xFFU);
    }
    tr_hash_add(hasher, bytes, sizeof bytes);
}

void tr_hash_double(tr_hasher *hasher, double value)
{
    const double plain = value == 0.0 ? 0.0 : value;
    uint64_t bits = 0;
    memcpy(&bits, &plain, sizeof bits);
    add_bits(hasher, bits);
}

void tr_hash_int(tr_hasher *hasher, int64_t value)
{
    add_bits(hasher, (uint64_t)value);
}

tr_hash tr_hash_end(tr_hasher *hasher)
{
    crypto_hash_sha256_state state;
    memcpy(&state, hasher->opaque, sizeof state);
    tr_hash hash;
    const int failed = crypto_hash_sha256_final(&state, hash.byte);
    TR_ASSERT(failed == 0);
    return hash;
}

void tr_hash_text(tr_hash hash, char out[TR_HASH_TEXT])
{
    static const char digit[] = "0123456789abcdef";
    for (size_t i = 0; i < TR_HASH_BYTES; i++) {
        out[2 * i] = digit[hash.byte[i] >> 4U];
        out[2 * i + 1] = digit[hash.byte[i] & 0x0FU];
    }
    out[TR_HASH_TEXT - 1] = '\0';
}
