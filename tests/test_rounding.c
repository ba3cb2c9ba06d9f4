/* SPDX-License-Identifier: Apache-2.0 */
/* Rounding half away from zero, once. Expected values are built from whole numbers: a decimal tie is (2 m + 1)/(2
 * scale) and its answer (m + 1)/scale, each one correctly rounded division, so no arithmetic under test takes part. */
#include "check.h"
#include "flowcomp/rounding.h"
#include <fenv.h>
#include <float.h>
#include <math.h>

static double half_away(double value, double decimals)
{
    double result;
    assert_int_equal(flc_round_half_away(value, decimals, &result), FLC_OK);
    return result;
}

static double by(double value, flc_rounding policy)
{
    double result;
    assert_int_equal(flc_round(value, policy, &result), FLC_OK);
    return result;
}

/* The same draws everywhere: a 64-bit linear congruential generator (Knuth's MMIX constants, from memory). */
static int64_t draw(uint64_t *state, int64_t below)
{
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (int64_t)((*state >> 11) % (uint64_t)below);
}

/* The decimal rule (API MPMS 12.2, from memory; the same in a petroleum inspection handbook) has no doubt about any of
 * these. The naive form is floor(x*1e4 + 0.5)/1e4; printf goes by the exact binary value. */
static void printed_values(void **state)
{
    (void)state;
    static const struct {
        double value, decimals, expected;
    } rows[] = {
        {0.99985, 4, 0.9999},  {1.00044999, 4, 1.0004}, {0.99995, 4, 1.0},    {1234.565, 2, 1234.57},
        {2.5, 0, 3.0},         {1.00185, 4, 1.0019}, /* from here on the naive form is wrong */
        {1.00195, 4, 1.0020},  {1.00395, 4, 1.0040},    {1.00595, 4, 1.0060}, {1.00795, 4, 1.0080},
        {1.00805, 4, 1.0081},  {1.005, 2, 1.01},        {0.99005, 4, 0.9901}, /* printf is wrong */
        {0.99095, 4, 0.9910},  {2.44449, 1, 2.4}, /* once, not in steps: 2.4445, 2.445, 2.45, 2.5 would be wrong */
        {16841.2, 0, 16841.0}, /* US Army Quartermaster course QM5180, volume correction example, published */
        {1250.0, -2, 1300.0},  {1249.9, -2, 1200.0},    {0.0, 4, 0.0},        {1e-320, 4, 0.0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        flc_check_same_bits(half_away(rows[i].value, rows[i].decimals), rows[i].expected);
        /* The sign is ignored, and a zero is +0. */
        flc_check_same_bits(half_away(-rows[i].value, rows[i].decimals), 0.0 - rows[i].expected);
        flc_check_same_bits(by(rows[i].value, flc_rounding_to_decimals((int32_t)rows[i].decimals)), rows[i].expected);
    }
}

static void four_decimal_ties(void **state)
{
    (void)state;
    for (int m = 0; m < 30000; m++) { /* 0.00005 to 2.99995, and a hair below and above each */
        const double tie = (10 * m + 5) / 1e5, below = (1000000 * (double)m + 499999) / 1e10;
        const double above = (1000000 * (double)m + 500001) / 1e10;
        const double up = (m + 1) / 1e4, down = m / 1e4;
        flc_check_same_bits(half_away(tie, 4), up);
        flc_check_same_bits(half_away(-tie, 4), -up);
        flc_check_same_bits(half_away(below, 4), down);
        flc_check_same_bits(half_away(above, 4), up);
        flc_check_same_bits(half_away(down, 4), down);
    }
}

static void ties_to_cents(void **state)
{
    (void)state;
    uint64_t seed = 1;
    for (int i = 0; i < 200000; i++) { /* below 1e8 */
        const double m = (double)draw(&seed, INT64_C(10000000000) - 1);
        flc_check_same_bits(half_away((10.0 * m + 5.0) / 1e3, 2), (m + 1.0) / 1e2);
    }
}

/* The product of two factors of four decimals, each 0.5 to 1.5, rounded to four: whole numbers give the true answer. */
static void products_of_factors(void **state)
{
    (void)state;
    uint64_t seed = 2;
    for (int i = 0; i < 200000; i++) {
        const int64_t a = 5000 + draw(&seed, 10001), b = 5000 + draw(&seed, 10001);
        const double product = ((double)a / 1e4) * ((double)b / 1e4);
        flc_check_same_bits(half_away(product, 4), (double)((a * b + 5000) / 10000) / 1e4);
    }
}

/* Steps that are no power of ten: thousandths j in, the nearest multiple of a step of s thousandths out. */
static void increments(void **state)
{
    (void)state;
    static const int steps[] = {50, 20, 25, 125, 250, 500, 5, 300, 7, 2500, 1000, 5000, 60000};
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        const int s = steps[i];
        for (int j = 0; j < 20000; j++) {
            const double expected = (2 * j + s) / (2 * s) * s / 1000.0;
            flc_check_same_bits(by(j / 1000.0, flc_rounding_to_increment(s / 1000.0)), expected);
            flc_check_same_bits(by(-j / 1000.0, flc_rounding_to_increment(s / 1000.0)), 0.0 - expected);
        }
    }
}

static void ends_of_the_contract(void **state)
{
    (void)state;
    const double limit = 0x1p48;
    double result;
    flc_check_same_bits(half_away(limit - 1.0, 0), limit - 1.0); /* whole numbers stay as they are */
    flc_check_same_bits(half_away(limit - 1.5, 0), limit - 1.0);
    flc_check_same_bits(half_away(1.0 - limit, 0), 1.0 - limit);
    assert_int_equal(flc_round_half_away(limit, 0, &result), FLC_E_OVERFLOW);
    flc_check_nan(result);
    assert_int_equal(flc_round_half_away(-limit / 1e4, 4, &result), FLC_E_OVERFLOW);
    assert_int_equal(flc_round_half_away(DBL_MAX, 12, &result), FLC_E_OVERFLOW);
    assert_int_equal(flc_round(limit * 1e9, flc_rounding_to_decimals(-9), &result), FLC_E_OVERFLOW);
    assert_int_equal(flc_round(limit / 100.0, flc_rounding_to_increment(0.05), &result), FLC_E_OVERFLOW);
    flc_check_nan(result);
    flc_check_same_bits(half_away(2.5 * (1.0 - 3.0 * DBL_EPSILON), 0), 3.0); /* within 4 epsilon: a tie */
    flc_check_same_bits(half_away(2.5 * (1.0 - 6.0 * DBL_EPSILON), 0), 2.0); /* not so */
    flc_check_same_bits(half_away(0.4, 0), 0.0);
    flc_check_same_bits(half_away(-0.4, 0), 0.0);
    flc_check_same_bits(by(-1.25, flc_rounding_none()), -1.25);
    flc_check_same_bits(by(1e300, flc_rounding_none()), 1e300);
}

static void refused(double value, flc_rounding policy, flc_status status)
{
    double result = 1.0;
    assert_int_equal(flc_round(value, policy, &result), status);
    flc_check_nan(result);
}

static void bad_inputs(void **state)
{
    (void)state;
    const flc_rounding four = flc_rounding_to_decimals(4), none = flc_rounding_none();
    const flc_rounding unknown = {(flc_rounding_kind)7, 0, 0.0};
    double result;
    assert_int_equal(flc_round(1.0, four, NULL), FLC_E_NULL);
    refused(NAN, none, FLC_E_NAN);
    refused(INFINITY, none, FLC_E_INFINITE);
    refused(-INFINITY, four, FLC_E_INFINITE);
    refused(NAN, unknown, FLC_E_NAN);
    refused(1.0, unknown, FLC_E_CHOICE);
    refused(1.0, flc_rounding_to_decimals(-10), FLC_E_BELOW);
    refused(1.0, flc_rounding_to_decimals(13), FLC_E_ABOVE);
    refused(1.0, flc_rounding_to_increment(NAN), FLC_E_NAN);
    refused(1.0, flc_rounding_to_increment(INFINITY), FLC_E_INFINITE);
    refused(1.0, flc_rounding_to_increment(0.0), FLC_E_BELOW);
    refused(1.0, flc_rounding_to_increment(-0.05), FLC_E_BELOW);
    refused(1.0, flc_rounding_to_increment(2e9), FLC_E_ABOVE);
    refused(1.0, flc_rounding_to_increment(1.0 / 3.0), FLC_E_DOMAIN);
    assert_int_equal(flc_round_half_away(1.0, 4.0, NULL), FLC_E_NULL);
    assert_int_equal(flc_round_half_away(1.0, 2.5, &result), FLC_E_NOT_WHOLE);
    flc_check_nan(result);
    assert_int_equal(flc_round_half_away(1.0, NAN, &result), FLC_E_NAN);
    assert_int_equal(flc_round_half_away(NAN, NAN, &result), FLC_E_NAN);
    assert_int_equal(flc_round_half_away(INFINITY, 4.0, &result), FLC_E_INFINITE);
    assert_int_equal(flc_round_half_away(1.0, -10.0, &result), FLC_E_BELOW);
    assert_int_equal(flc_round_half_away(1.0, 13.0, &result), FLC_E_ABOVE);
}

static void host_rounding_mode_does_not_matter(void **state)
{
    (void)state;
    static const int modes[] = {FE_UPWARD, FE_DOWNWARD, FE_TOWARDZERO};
    for (size_t i = 0; i < 3; i++) {
        volatile double tie = 1.00805;
        double result, by_policy;
        assert_int_equal(fesetround(modes[i]), 0);
        flc_status status = flc_round_half_away(tie, 4.0, &result);
        flc_status policy_status = flc_round(tie, flc_rounding_to_decimals(4), &by_policy);
        assert_int_equal(fegetround(), modes[i]);
        assert_int_equal(fesetround(FE_TONEAREST), 0);
        assert_int_equal(status, FLC_OK);
        assert_int_equal(policy_status, FLC_OK);
        flc_check_same_bits(result, 1.0081);
        flc_check_same_bits(by_policy, 1.0081);
    }
}

static void words(void **state)
{
    (void)state;
    flc_rounding_kind kind;
    assert_int_equal(flc_rounding_kind_from_name("increment", &kind), FLC_OK);
    assert_int_equal(kind, FLC_ROUNDING_INCREMENT);
    assert_int_equal(flc_rounding_kind_from_name("none", &kind), FLC_OK);
    assert_int_equal(kind, FLC_ROUNDING_NONE);
    assert_int_equal(flc_rounding_kind_from_name("Decimals", &kind), FLC_E_UNKNOWN_NAME);
    assert_int_equal(flc_rounding_kind_from_name(NULL, &kind), FLC_E_NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(printed_values), cmocka_unit_test(four_decimal_ties),
        cmocka_unit_test(ties_to_cents),  cmocka_unit_test(products_of_factors),
        cmocka_unit_test(increments),     cmocka_unit_test(ends_of_the_contract),
        cmocka_unit_test(bad_inputs),     cmocka_unit_test(host_rounding_mode_does_not_matter),
        cmocka_unit_test(words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
