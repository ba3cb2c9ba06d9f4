/* SPDX-License-Identifier: Apache-2.0 */
/* Status numbers, their texts, flags, provenance, and the error detail. A number once released never moves, so all of
 * them stand here a second time, by hand. */
#include "check.h"
#include "error.h"
#include "flowcomp/version.h"
#include <math.h>
#include <stdio.h>

static const struct {
    const char *name;
    int number;
} pinned[] = {
    {"OK", 0},
    {"E_NULL", 10},
    {"E_NAN", 11},
    {"E_INFINITE", 12},
    {"E_BELOW", 13},
    {"E_ABOVE", 14},
    {"E_CHOICE", 15},
    {"E_MISSING", 16},
    {"E_CONFLICT", 17},
    {"E_COUNT", 18},
    {"E_ORDER", 19},
    {"E_DUPLICATE", 20},
    {"E_SIZE", 21},
    {"E_NOT_WHOLE", 22},
    {"E_NO_ROOT", 30},
    {"E_DOMAIN", 31},
    {"E_OVERFLOW", 32},
    {"E_SINGULAR", 33},
    {"E_NOT_MONOTONIC", 34},
    {"E_BELOW_CURVE", 40},
    {"E_ABOVE_CURVE", 41},
    {"E_NEGATIVE_PRESSURE", 42},
    {"E_BELOW_VISCOSITY_RANGE", 43},
    {"E_ABOVE_VISCOSITY_RANGE", 44},
    {"E_MEMORY", 50},
    {"E_BUFFER", 51},
    {"E_UNKNOWN_NAME", 60},
    {"E_AMBIGUOUS_UNIT", 61},
    {"E_UNIT_KIND", 62},
    {"E_SYNTAX", 70},
    {"E_SCHEMA", 71},
    {"E_HASH", 72},
    {"E_VERSION", 73},
    {"E_NUMBER", 74},
    {"E_LIBRARY", 75},
    {"E_FILE", 76},
    {"E_BUSY", 77},
    {"E_SIGNATURE", 78},
    {"E_INTERNAL", 90},
};

#define PINNED (sizeof pinned / sizeof pinned[0])

static void test_every_number_is_pinned(void **state)
{
    (void)state;
    assert_int_equal(flc_status_count(), PINNED);
    for (size_t i = 0; i < PINNED; i++) {
        assert_int_equal(flc_status_at(i), pinned[i].number);
        assert_string_equal(flc_status_name((flc_status)pinned[i].number), pinned[i].name);
    }
    assert_int_equal(FLC_OK, 0);
    assert_int_equal(flc_status_at(PINNED), FLC_E_INTERNAL);
    assert_int_equal(flc_status_at(SIZE_MAX), FLC_E_INTERNAL);
}

static void test_texts_differ_and_fit_a_byte(void **state)
{
    (void)state;
    for (size_t i = 0; i < PINNED; i++) {
        const flc_status status = flc_status_at(i);
        assert_true(strlen(flc_status_text(status)) >= 7);
        assert_in_range(status, 0, 255); /* batches hand statuses out as bytes */
        for (size_t j = 0; j < i; j++) {
            assert_string_not_equal(flc_status_text(status), flc_status_text(flc_status_at(j)));
            assert_true(status > flc_status_at(j));
        }
    }
}

static void test_unknown_numbers_have_a_text(void **state)
{
    (void)state;
    static const int unknown[] = {-1, 1, 9, 23, 89, 91, 255, INT32_MAX, INT32_MIN};
    for (size_t i = 0; i < sizeof unknown / sizeof unknown[0]; i++) {
        assert_string_equal(flc_status_text((flc_status)unknown[i]), "unknown status");
        assert_string_equal(flc_status_name((flc_status)unknown[i]), "unknown");
    }
}

static const char *const pinned_flags[] = {"no_flow",
                                           "partial_flow",
                                           "below_curve",
                                           "above_curve",
                                           "extrapolated",
                                           "below_cutoff",
                                           "reverse",
                                           "pressure_clamped",
                                           "viscosity_extrapolated",
                                           "viscosity_one_point",
                                           "viscosity_interpolated",
                                           "viscosity_typical",
                                           "from_memory",
                                           "body_extrapolated",
                                           "observed_density",
                                           "rounded",
                                           "no_volume_correction",
                                           "flowing_time_known",
                                           "no_pressure_correction",
                                           "vapour_measured",
                                           "vapour_laboratory",
                                           "vapour_supplied",
                                           "vapour_margin",
                                           "viscosity_model"};

#define PINNED_FLAGS (sizeof pinned_flags / sizeof pinned_flags[0])

static void test_every_flag_is_pinned(void **state)
{
    (void)state;
    for (unsigned bit = 0; bit < PINNED_FLAGS; bit++) {
        assert_string_equal(flc_flag_word(bit), pinned_flags[bit]);
        assert_true(strlen(flc_flag_text(bit)) > strlen("flag"));
    }
    assert_null(flc_flag_word(PINNED_FLAGS));
    assert_null(flc_flag_text(PINNED_FLAGS));
    assert_null(flc_flag_word(UINT32_MAX));
    assert_int_equal(FLC_FLAG_NO_FLOW, 1);
    assert_int_equal(FLC_FLAG_REVERSE, 1 << 6);
    assert_int_equal(FLC_FLAG_FLOWING_KNOWN, 1 << 17);
}

static void test_provenance_is_never_empty(void **state)
{
    (void)state;
    static const char *const words[] = {"unknown",  "published",        "from memory", "common practice, no source",
                                        "computed", "given by the user"};
    for (int number = 0; number <= FLC_USER_GIVEN; number++) {
        assert_string_equal(flc_provenance_text((flc_provenance)number), words[number]);
    }
    assert_string_equal(flc_provenance_text((flc_provenance)6), "unknown");
    assert_string_equal(flc_provenance_text((flc_provenance)-1), "unknown");
}

static void test_version_and_contract_of_bits(void **state)
{
    (void)state;
    char expected[32];
    snprintf(expected, sizeof expected, "%d.%d.%d", FLC_VERSION_MAJOR, FLC_VERSION_MINOR, FLC_VERSION_PATCH);
    assert_string_equal(flc_version(), expected);
    assert_string_equal(flc_bits_contract(), FLC_BITS_CONTRACT);
}

/* ---- the error detail ---- */

/* Memory of the caller as bad as it comes: not one byte of it may be read. */
static flc_error soiled_error(void)
{
    flc_error error;
    memset(&error, 0xFF, sizeof error);
    return error;
}

static void test_a_cleared_error_is_defined(void **state)
{
    (void)state;
    flc_error error = soiled_error();
    flc_error_clear(&error);
    assert_int_equal(error.status, FLC_OK);
    assert_int_equal(error.index, -1);
    flc_check_nan(error.value);
    flc_check_nan(error.limit);
    assert_string_equal(error.argument, "");
    assert_string_equal(error.message, "");
}

static void test_a_null_error_is_allowed(void **state)
{
    (void)state;
    flc_error_clear(NULL);
    assert_int_equal(flc_fail(NULL, FLC_E_BELOW, "t_degc", -1, 1.0, 2.0, "hint"), FLC_E_BELOW);
    assert_int_equal(flc_check_range(NULL, "t_degc", -1, 1.0, 2.0, 3.0), FLC_E_BELOW);
    assert_int_equal(flc_check_range(NULL, "t_degc", -1, 2.5, 2.0, 3.0), FLC_OK);
}

static void test_the_message_names_place_value_and_limit(void **state)
{
    (void)state;
    flc_error error = soiled_error();
    assert_int_equal(flc_fail(&error, FLC_E_ABOVE, "t_degc", 3, 350.25, 302.0, "check the unit"), FLC_E_ABOVE);
    assert_int_equal(error.status, FLC_E_ABOVE);
    assert_int_equal(error.index, 3);
    flc_check_same_bits(error.value, 350.25);
    flc_check_same_bits(error.limit, 302.0);
    assert_string_equal(error.argument, "t_degc");
    assert_string_equal(error.message,
                        "t_degc[3] = 350.25: an argument is above the valid range, limit 302; check the unit");
    assert_int_equal(flc_fail(&error, FLC_E_MEMORY, NULL, -1, NAN, NAN, NULL), FLC_E_MEMORY);
    assert_string_equal(error.argument, "");
    assert_string_equal(error.message, "out of memory");
}

static void test_long_texts_are_cut_and_terminated(void **state)
{
    (void)state;
    char name[400], hint[1000];
    memset(name, 'n', sizeof name - 1);
    memset(hint, 'h', sizeof hint - 1);
    name[sizeof name - 1] = hint[sizeof hint - 1] = '\0';
    struct {
        flc_error error;
        unsigned char fence[16];
    } guarded;
    memset(&guarded, 0xFF, sizeof guarded);
    assert_int_equal(flc_fail(&guarded.error, FLC_E_CHOICE, name, INT64_MAX, -1.0 / 3.0, NAN, hint), FLC_E_CHOICE);
    assert_int_equal(strlen(guarded.error.argument), sizeof guarded.error.argument - 1);
    assert_int_equal(strlen(guarded.error.message), sizeof guarded.error.message - 1);
    assert_int_equal(guarded.error.index, INT64_MAX);
    for (size_t i = 0; i < sizeof guarded.fence; i++) {
        assert_int_equal(guarded.fence[i], 0xFF);
    }
}

static void test_any_nan_becomes_the_one_nan(void **state)
{
    (void)state;
    const uint64_t bits = UINT64_C(0xFFFBADC0FFEE1234);
    double odd;
    memcpy(&odd, &bits, sizeof odd);
    flc_error error = soiled_error();
    assert_int_equal(flc_check_range(&error, "x", -1, odd, 0.0, 1.0), FLC_E_NAN);
    flc_check_nan(error.value);
    flc_check_nan(error.limit);
}

static void test_a_range_includes_its_ends(void **state)
{
    (void)state;
    const double low = -50.0, high = 150.0;
    const struct {
        double value;
        flc_status status;
        double limit; /* NaN: none */
    } cases[] = {
        {low, FLC_OK, NAN},
        {high, FLC_OK, NAN},
        {nextafter(low, -INFINITY), FLC_E_BELOW, low},
        {nextafter(high, INFINITY), FLC_E_ABOVE, high},
        {INFINITY, FLC_E_INFINITE, NAN},
        {-INFINITY, FLC_E_INFINITE, NAN},
        {NAN, FLC_E_NAN, NAN},
        {-NAN, FLC_E_NAN, NAN},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        flc_error error;
        flc_error_clear(&error);
        assert_int_equal(flc_check_range(&error, "t", -1, cases[i].value, low, high), cases[i].status);
        assert_int_equal(error.status, cases[i].status);
        if (isnan(cases[i].limit)) {
            flc_check_nan(error.limit);
        } else {
            flc_check_same_bits(error.limit, cases[i].limit);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_number_is_pinned),
        cmocka_unit_test(test_texts_differ_and_fit_a_byte),
        cmocka_unit_test(test_unknown_numbers_have_a_text),
        cmocka_unit_test(test_every_flag_is_pinned),
        cmocka_unit_test(test_provenance_is_never_empty),
        cmocka_unit_test(test_version_and_contract_of_bits),
        cmocka_unit_test(test_a_cleared_error_is_defined),
        cmocka_unit_test(test_a_null_error_is_allowed),
        cmocka_unit_test(test_the_message_names_place_value_and_limit),
        cmocka_unit_test(test_long_texts_are_cut_and_terminated),
        cmocka_unit_test(test_any_nan_becomes_the_one_nan),
        cmocka_unit_test(test_a_range_includes_its_ends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
