/* SPDX-License-Identifier: Apache-2.0 */
/* The contract of bits: the set of results has the published hash, in whatever way it is evaluated; it covers every
 * method; and the hash notices one bit. Expected values: the published hash (identity of the library with itself over
 * time; tests/bits compares compilers and processors, tests/support/bits_reference.py the arithmetic). */
#include "check.h"
#include "error.h"
#include "failing_allocator.h"
#include "flowcomp/records.h"
#include <stdlib.h>

#define CHANGED                                                                                                       \
    "the bits of the library have changed. If that was not meant, find the change: tests/bits/publish.py says which " \
    "parts differ. If it was, take a new identifier, and let tests/bits/publish.py write the hash and the page"

static void published_hash(void **unused)
{
    (void)unused;
    char hash[FLC_HASH_TEXT];
    assert_int_equal(flc_bits_hash(FLC_INSTRUCTIONS_BEST, 0, hash), FLC_OK);
    if (strcmp(hash, flc_bits_published()) != 0) {
        fail_msg("%s: %s, published for %s: %s", CHANGED, hash, flc_bits_contract(), flc_bits_published());
    }
}

static void any_way_of_evaluating(void **unused)
{
    (void)unused;
    static const flc_instruction_set sets[] = {FLC_INSTRUCTIONS_SCALAR, FLC_INSTRUCTIONS_BASE, FLC_INSTRUCTIONS_AVX2,
                                               FLC_INSTRUCTIONS_AVX512};
    static const size_t chunks[] = {1, 63, 64, 65, 100000};
    for (size_t place = flc_method_count(); place < flc_bits_part_count(); place += 13) {
        char one_by_one[FLC_HASH_TEXT], hash[FLC_HASH_TEXT];
        assert_int_equal(flc_bits_part_hash(place, FLC_INSTRUCTIONS_SCALAR, 0, one_by_one), FLC_OK);
        for (size_t i = 0; i < 20; i++) {
            assert_int_equal(flc_bits_part_hash(place, sets[i / 5], chunks[i % 5], hash), FLC_OK);
            assert_string_equal(hash, one_by_one);
        }
    }
    for (size_t place = 0; place < flc_method_count(); place += 11) {
        char one_by_one[FLC_HASH_TEXT], hash[FLC_HASH_TEXT];
        assert_int_equal(flc_bits_part_hash(place, FLC_INSTRUCTIONS_BEST, 0, one_by_one), FLC_OK);
        assert_int_equal(flc_bits_part_hash(place, FLC_INSTRUCTIONS_BEST, 65, hash), FLC_OK);
        assert_string_equal(hash, one_by_one);
    }
}

static size_t answers_of(const flc_bits_part *part, const uint8_t *bytes)
{
    const size_t each = (part->bytes - 8 - strlen(part->name)) / part->points;
    size_t answers = 0;
    for (size_t n = 0; n < part->points; n++) {
        answers += bytes[8 + strlen(part->name) + n * each] == FLC_OK;
    }
    return answers;
}

/* Results that are a NaN other than the one of the contract. */
static size_t other_nans_of(const flc_bits_part *part, const uint8_t *bytes)
{
    const size_t each = (part->bytes - 8 - strlen(part->name)) / part->points;
    const size_t head = each - 8 * (part->results / part->points);
    size_t others = 0;
    for (size_t n = 0; n < part->points; n++) {
        for (size_t at = head; at < each; at += 8) {
            uint64_t bits = 0;
            for (size_t i = 0; i < 8; i++) {
                bits = bits << 8 | bytes[8 + strlen(part->name) + n * each + at + i];
            }
            others += (bits & UINT64_C(0x7FFFFFFFFFFFFFFF)) > UINT64_C(0x7FF0000000000000) &&
                      bits != UINT64_C(0x7FF8000000000000);
        }
    }
    return others;
}

/* At least a million results; every method and configuration answers; every NaN is the one. */
static void covers_every_method(void **unused)
{
    (void)unused;
    size_t results = 0, answers = 0;
    for (size_t place = 0; place < flc_bits_part_count(); place++) {
        flc_bits_part part;
        size_t needed = 0;
        assert_int_equal(flc_bits_part_at(place, &part), FLC_OK);
        uint8_t *bytes = malloc(part.bytes);
        assert_int_equal(flc_bits_bytes(place, FLC_INSTRUCTIONS_BEST, 64, 0, bytes, part.bytes, &needed), FLC_OK);
        assert_int_equal(needed, part.bytes);
        assert_int_equal(other_nans_of(&part, bytes), 0);
        const size_t answered = answers_of(&part, bytes);
        if (answered == 0) {
            fail_msg("%s: no point of the set is answered", part.name);
        }
        results += part.results;
        answers += answered * (part.results / part.points);
        free(bytes);
    }
    print_message("%zu parts, %zu results, %zu of answered points\n", flc_bits_part_count(), results, answers);
    assert_true(answers >= 1000000);
}

static void arguments_and_objects(void **unused)
{
    (void)unused;
    flc_bits_part part;
    const size_t plain = flc_method_count();
    assert_int_equal(flc_bits_part_at(plain, &part), FLC_OK);
    double *columns = malloc(part.arguments * part.places * part.points * sizeof *columns);
    assert_int_equal(flc_bits_arguments(plain, columns), FLC_OK);
    for (size_t n = 0; n < part.points; n++) { /* the fourth column is f_hz, there are no pulses */
        assert_true(columns[4 * part.points + n] >= 20.0 && columns[4 * part.points + n] <= 400.0);
        assert_true(flc_is_nan(columns[n]));
    }
    free(columns);
    flc_meter *meter = NULL;
    flc_liquid *liquid = NULL;
    assert_int_equal(flc_bits_objects(plain, &meter, &liquid), FLC_OK);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

static void refusals(void **unused)
{
    (void)unused;
    const size_t past = flc_bits_part_count();
    flc_bits_part part;
    flc_meter *meter;
    flc_liquid *liquid;
    double room;
    uint8_t byte;
    size_t needed = 1;
    char hash[FLC_HASH_TEXT];
    assert_int_equal(flc_bits_part_at(0, NULL), FLC_E_NULL);
    assert_int_equal(flc_bits_part_at(past, &part), FLC_E_ABOVE);
    assert_int_equal(flc_bits_arguments(0, NULL), FLC_E_NULL);
    assert_int_equal(flc_bits_arguments(past, &room), FLC_E_ABOVE);
    assert_int_equal(flc_bits_objects(0, NULL, &liquid), FLC_E_NULL);
    assert_int_equal(flc_bits_objects(0, &meter, NULL), FLC_E_NULL);
    assert_int_equal(flc_bits_objects(past, &meter, &liquid), FLC_E_ABOVE);
    assert_int_equal(flc_bits_objects(0, &meter, &liquid), FLC_E_CHOICE);
    assert_null(meter);
    assert_null(liquid);
    assert_int_equal(flc_bits_bytes(0, FLC_INSTRUCTIONS_BEST, 0, 0, NULL, 1, &needed), FLC_E_NULL);
    assert_int_equal(flc_bits_bytes(0, FLC_INSTRUCTIONS_BEST, 0, 0, &byte, 1, NULL), FLC_E_NULL);
    assert_int_equal(flc_bits_bytes(past, FLC_INSTRUCTIONS_BEST, 0, 0, &byte, 1, &needed), FLC_E_ABOVE);
    assert_int_equal(flc_bits_bytes(0, FLC_INSTRUCTIONS_BEST, 0, 8, &byte, 1, &needed), FLC_E_ABOVE);
    assert_int_equal(flc_bits_bytes(0, FLC_INSTRUCTIONS_BEST, 0, 0, &byte, 1, &needed), FLC_E_BUFFER);
    assert_int_equal(flc_bits_part_at(0, &part), FLC_OK);
    assert_int_equal(needed, part.bytes);
    assert_int_equal(flc_bits_hash(FLC_INSTRUCTIONS_BEST, 0, NULL), FLC_E_NULL);
    assert_int_equal(flc_bits_part_hash(past, FLC_INSTRUCTIONS_BEST, 0, hash), FLC_E_ABOVE);
    assert_string_equal(hash, "");
}

/* Every allocation on the way fails once. */
static void no_memory(void **unused)
{
    (void)unused;
    const size_t places[] = {0, flc_method_count() + 1};
    const long before = flc_test_live_blocks();
    for (size_t i = 0; i < 2; i++) {
        int failed = 1;
        for (long n = 1; failed; n++) {
            char hash[FLC_HASH_TEXT];
            flc_test_fail_allocation(n);
            const flc_status status = flc_bits_part_hash(places[i], FLC_INSTRUCTIONS_BEST, 64, hash);
            failed = flc_test_allocation_failed();
            flc_test_fail_allocation(0);
            assert_int_equal(status, failed ? FLC_E_MEMORY : FLC_OK);
            assert_int_equal(flc_test_live_blocks(), before);
            assert_true(n < 100);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_hash),
        cmocka_unit_test(any_way_of_evaluating),
        cmocka_unit_test(covers_every_method),
        cmocka_unit_test(arguments_and_objects),
        cmocka_unit_test(refusals), cmocka_unit_test(no_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
