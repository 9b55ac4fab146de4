/* SHA-256 against the examples of FIPS 180-4 (its example values: "abc", the 448-bit text of two blocks; the empty text
 * from NIST's validation vectors), and the spelling of numbers inside a hash. */
#include "tautrow/base/hash.h"

#include "near.h"

#include <string.h>

static void hash_is(const char *text, const char *expected)
{
    tr_hasher hasher;
    char out[TR_HASH_TEXT];
    tr_hash_begin(&hasher);
    tr_hash_add(&hasher, text, strlen(text));
    tr_hash_text(tr_hash_end(&hasher), out);
    assert_string_equal(out, expected);
}

static void test_published_values(void **state)
{
    (void)state;
    hash_is("", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    hash_is("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    hash_is("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
}

static void test_pieces_make_the_same_hash(void **state)
{
    (void)state;
    tr_hasher hasher;
    char out[TR_HASH_TEXT];
    tr_hash_begin(&hasher);
    tr_hash_add(&hasher, "a", 1);
    tr_hash_add(&hasher, NULL, 0);
    tr_hash_add(&hasher, "bc", 2);
    tr_hasher copy = hasher; /* a hasher is a value */
    tr_hash_text(tr_hash_end(&hasher), out);
    assert_string_equal(out, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    tr_hash_text(tr_hash_end(&copy), out);
    assert_string_equal(out, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

static tr_hash of_double(double value)
{
    tr_hasher hasher;
    tr_hash_begin(&hasher);
    tr_hash_double(&hasher, value);
    return tr_hash_end(&hasher);
}

static void test_numbers_are_added_byte_by_byte(void **state)
{
    (void)state;
    static const unsigned char one[] = {0, 0, 0, 0, 0, 0, 0xF0, 0x3F}; /* 1.0 by IEEE 754, least byte first */
    static const unsigned char minus_two[] = {0xFE, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF};
    tr_hasher by_value;
    tr_hasher by_bytes;
    tr_hash_begin(&by_value);
    tr_hash_begin(&by_bytes);
    tr_hash_double(&by_value, 1.0);
    tr_hash_add(&by_bytes, one, sizeof one);
    tr_hash_int(&by_value, -2);
    tr_hash_add(&by_bytes, minus_two, sizeof minus_two);
    const tr_hash a = tr_hash_end(&by_value);
    const tr_hash b = tr_hash_end(&by_bytes);
    assert_memory_equal(a.byte, b.byte, TR_HASH_BYTES);
}

static void test_minus_zero_is_zero(void **state)
{
    (void)state;
    const tr_hash zero = of_double(0.0);
    const tr_hash minus_zero = of_double(-0.0);
    const tr_hash tiny = of_double(5e-324);
    assert_memory_equal(zero.byte, minus_zero.byte, TR_HASH_BYTES);
    assert_memory_not_equal(zero.byte, tiny.byte, TR_HASH_BYTES);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_published_values),
        cmocka_unit_test(test_pieces_make_the_same_hash),
        cmocka_unit_test(test_numbers_are_added_byte_by_byte),
        cmocka_unit_test(test_minus_zero_is_zero),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
