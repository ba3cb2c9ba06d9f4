/* SPDX-License-Identifier: Apache-2.0 */
/* Totals: a hundred thousand records of all kinds; every pulse in one place; any order, grouping and merging the same
 * bytes; sums against the C library's round(); overflow refused as a whole. */
#include "example_meter.h"

#include "flowcomp/totals.h"
#include <stdlib.h>

#define RECORDS 100000
#define UNIT 1e-9

/* The records of the test: pulses as they come in, and the results. */
static struct {
    double pulses[RECORDS];
    flc_result result[RECORDS];
} * records;

static flc_totals started(double unit_m3)
{
    flc_totals totals;
    memset(&totals, 0xFF, sizeof totals);
    assert_int_equal(flc_totals_start(&totals, unit_m3), FLC_OK);
    return totals;
}

static void add(flc_totals *totals, size_t i)
{
    assert_int_equal(flc_totals_add(totals, records->pulses[i], &records->result[i]), FLC_OK);
}

static void assert_same_totals(const flc_totals *a, const flc_totals *b)
{
    assert_memory_equal(a, b, sizeof *a);
}

static void assert_balanced(const flc_totals *totals)
{
    int64_t difference = 7;
    assert_int_equal(flc_totals_balance(totals, &difference), FLC_OK);
    assert_int_equal(difference, 0);
}

static int make_records(void **state)
{
    (void)state;
    records = malloc(sizeof *records);
    if (records == NULL) {
        return -1;
    }
    flc_meter *meters[] = {invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE),
                           invented_meter(FLC_BEYOND_EXTEND_SLOPE, FLC_BEYOND_HOLD_END)};
    flc_liquid *liquids[] = {invented_liquid(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_POINTS),
                             invented_liquid(FLC_VOLUME_NONE, FLC_VISCOSITY_MEASURED)};
    uint64_t seed = 61;
    for (size_t i = 0; i < RECORDS; i++) {
        const int measured = (int)(i % 2);
        const flc_reading reading = invented_draw(&seed, measured);
        records->pulses[i] = reading.pulses;
        records->result[i] = evaluated(meters[flc_draw_below(&seed, 2)], liquids[measured], &reading);
    }
    for (size_t i = 0; i < 2; i++) {
        flc_meter_free(meters[i]);
        flc_liquid_free(liquids[i]);
    }
    return 0;
}

static int drop_records(void **state)
{
    (void)state;
    free(records);
    return 0;
}

/* ---- what is counted ---- */

/* Whole units, half away from zero, by the C library. */
static int64_t units(double quantity, double unit)
{
    return isnan(quantity) ? 0 : (int64_t)round(fabs(quantity / unit));
}

static int is_count(double pulses)
{
    return fabs(pulses) <= 9007199254740992.0 && pulses == trunc(pulses); /* false for NaN */
}

/* The same totals, put together the plain way. */
static flc_totals plain_sum(double unit_m3)
{
    flc_totals sum = started(unit_m3);
    for (size_t i = 0; i < RECORDS; i++) {
        const flc_result *r = &records->result[i];
        const int readable = is_count(records->pulses[i]), reverse = (r->flags & FLC_FLAG_REVERSE) != 0;
        const int64_t pulses = readable ? (int64_t)fabs(records->pulses[i]) : 0;
        sum.records++;
        sum.flags |= r->flags;
        sum.unreadable += !readable;
        sum.refused += !readable || (r->status != FLC_OK && r->status != FLC_E_BELOW_CURVE);
        sum.pulses_in += pulses;
        const int is_below = r->status == FLC_E_BELOW_CURVE;
        *(r->status != FLC_OK && !is_below          ? &sum.pulses_refused
          : records->pulses[i] < 0.0                ? &sum.pulses_reverse
          : is_below                                ? &sum.pulses_below
          : (r->flags & FLC_FLAG_BELOW_CUTOFF) != 0 ? &sum.pulses_cutoff
                                                    : &sum.pulses_forward) += pulses;
        if (readable && r->status == FLC_OK) {
            *(reverse ? &sum.gross_reverse : &sum.gross_forward) += units(r->v_m3, unit_m3);
            *(reverse ? &sum.base_reverse : &sum.base_forward) += units(r->v_base_m3, unit_m3);
            *(reverse ? &sum.mass_reverse : &sum.mass_forward) +=
                units(r->v_base_m3 * r->rho_base_kgm3, unit_m3 * 1000.0);
        }
    }
    return sum;
}

static void test_sums_and_places(void **state)
{
    (void)state;
    static const double unit_sizes[] = {1e-9, 1e-12, 1e-3};
    for (size_t k = 0; k < 3; k++) {
        flc_totals totals = started(unit_sizes[k]);
        for (size_t i = 0; i < RECORDS; i++) {
            add(&totals, i);
        }
        const flc_totals expected = plain_sum(unit_sizes[k]);
        assert_same_totals(&totals, &expected);
        assert_balanced(&totals);
        /* every kind was there */
        assert_true(totals.unreadable > 100 && totals.refused > totals.unreadable && totals.pulses_refused > 0);
        assert_true(totals.pulses_forward > 0 && totals.pulses_reverse > 0 && totals.pulses_below > 0);
        assert_true(totals.pulses_cutoff > 0 && totals.gross_forward > 0 && totals.base_reverse > 0);
    }
}

static void test_halves_go_away_from_zero(void **state)
{
    (void)state;
    flc_result r;
    flc_result_init(&r);
    static const double quarters[] = {0.25, 0.5, 0.75, 1.5, 2.5, 0.49999999999999994, 4503599627370495.5};
    static const int64_t expected[] = {0, 1, 1, 2, 3, 0, 4503599627370496};
    for (size_t i = 0; i < sizeof expected / sizeof expected[0]; i++) {
        flc_totals totals = started(0x1p-20); /* a unit that divides exactly */
        r.v_m3 = quarters[i] * 0x1p-20;
        r.flags = 0;
        assert_int_equal(flc_totals_add(&totals, 1.0, &r), FLC_OK);
        assert_int_equal(totals.gross_forward, expected[i]);
        assert_int_equal(totals.base_forward, 0); /* NaN: nothing */
        r.v_m3 = -r.v_m3;
        r.flags = FLC_FLAG_REVERSE;
        assert_int_equal(flc_totals_add(&totals, -1.0, &r), FLC_OK);
        assert_int_equal(totals.gross_reverse, expected[i]);
        assert_int_equal(totals.gross_forward, expected[i]);
    }
}

/* ---- order and grouping ---- */

static void test_any_order_gives_the_same_bytes(void **state)
{
    (void)state;
    static size_t order[RECORDS];
    uint64_t seed = 62;
    flc_totals in_order = started(UNIT);
    for (size_t i = 0; i < RECORDS; i++) {
        order[i] = i;
        add(&in_order, i);
    }
    for (int shuffle = 0; shuffle < 3; shuffle++) {
        for (size_t i = RECORDS - 1; i > 0; i--) {
            const size_t j = flc_draw_below(&seed, i + 1), kept = order[i];
            order[i] = order[j];
            order[j] = kept;
        }
        flc_totals shuffled = started(UNIT);
        for (size_t i = 0; i < RECORDS; i++) {
            add(&shuffled, order[i]);
        }
        assert_same_totals(&shuffled, &in_order);
    }
}

/* Groups of any size, each totalled apart, merged in any order, and in a tree. */
static void test_any_grouping_gives_the_same_bytes(void **state)
{
    (void)state;
    flc_totals at_once = started(UNIT);
    for (size_t i = 0; i < RECORDS; i++) {
        add(&at_once, i);
    }
    uint64_t seed = 63;
    for (int round = 0; round < 3; round++) {
        flc_totals group[64];
        for (size_t g = 0; g < 64; g++) {
            group[g] = started(UNIT);
        }
        for (size_t i = 0; i < RECORDS; i++) {
            add(&group[flc_draw_below(&seed, 64)], i);
        }
        for (size_t left = 64; left > 1; left--) { /* two at random, until one is left */
            const size_t a = flc_draw_below(&seed, left), last = left - 1;
            if (a != last) {
                assert_int_equal(flc_totals_merge(&group[a], &group[last]), FLC_OK);
            } else {
                assert_int_equal(flc_totals_merge(&group[0], &group[last]), FLC_OK);
            }
        }
        assert_same_totals(&group[0], &at_once);
        assert_balanced(&group[0]);
    }
}

static void test_merging_with_itself_and_with_nothing(void **state)
{
    (void)state;
    flc_totals totals = started(UNIT), twice = started(UNIT);
    const flc_totals nothing = started(UNIT);
    for (size_t i = 0; i < 1000; i++) {
        add(&totals, i);
        add(&twice, i);
    }
    for (size_t i = 0; i < 1000; i++) {
        add(&twice, i);
    }
    const flc_totals before = totals;
    assert_int_equal(flc_totals_merge(&totals, &nothing), FLC_OK);
    assert_same_totals(&totals, &before);
    assert_int_equal(flc_totals_merge(&totals, &totals), FLC_OK);
    assert_same_totals(&totals, &twice);
}

/* ---- what does not fit ---- */

static flc_result volume_of(double v_m3)
{
    flc_result r;
    flc_result_init(&r);
    r.v_m3 = r.v_base_m3 = v_m3;
    r.rho_base_kgm3 = 900.0;
    return r;
}

static void expect_refused_whole(flc_totals *totals, double pulses, const flc_result *result)
{
    const flc_totals before = *totals;
    assert_int_equal(flc_totals_add(totals, pulses, result), FLC_E_OVERFLOW);
    assert_same_totals(totals, &before);
}

static void test_overflow_leaves_the_totals_as_they_were(void **state)
{
    (void)state;
    flc_result r = volume_of(9.2e9); /* just under 2^63 units of a microlitre */
    flc_totals totals = started(UNIT);
    assert_int_equal(flc_totals_add(&totals, 1.0, &r), FLC_OK);
    expect_refused_whole(&totals, 1.0, &r);
    static const double too_large[] = {9.3e9, 1e300, INFINITY};
    for (size_t i = 0; i < 3; i++) {
        totals = started(UNIT);
        r = volume_of(too_large[i]);
        expect_refused_whole(&totals, 1.0, &r);
    }
    /* each counter at its end */
    r = volume_of(1.0);
    for (size_t place = offsetof(flc_totals, records); place <= offsetof(flc_totals, mass_reverse); place += 8) {
        if (place == offsetof(flc_totals, mass_unit_kg)) {
            continue;
        }
        totals = started(UNIT);
        const int64_t full = INT64_MAX;
        memcpy((char *)&totals + place, &full, sizeof full);
        flc_totals one = started(UNIT), before = totals;
        const int64_t more = 1;
        memcpy((char *)&one + place, &more, sizeof more);
        assert_int_equal(flc_totals_merge(&totals, &one), FLC_E_OVERFLOW);
        assert_same_totals(&totals, &before);
        flc_result odd = r;
        odd.status = place == offsetof(flc_totals, pulses_below)     ? FLC_E_BELOW_CURVE
                     : place == offsetof(flc_totals, pulses_refused) ? FLC_E_ABOVE_CURVE
                     : place == offsetof(flc_totals, refused)        ? FLC_E_NAN
                                                                     : FLC_OK;
        odd.flags = place == offsetof(flc_totals, pulses_cutoff) ? FLC_FLAG_BELOW_CUTOFF : 0;
        if (place == offsetof(flc_totals, pulses_reverse) || place == offsetof(flc_totals, gross_reverse) ||
            place == offsetof(flc_totals, base_reverse) || place == offsetof(flc_totals, mass_reverse)) {
            odd.flags = FLC_FLAG_REVERSE;
            odd.v_m3 = odd.v_base_m3 = -1.0;
        }
        const double pulses = odd.flags == FLC_FLAG_REVERSE ? -1.0 : 1.0;
        expect_refused_whole(&totals, place == offsetof(flc_totals, unreadable) ? (double)NAN : pulses, &odd);
    }
}

static void test_refusals(void **state)
{
    (void)state;
    flc_totals totals = started(UNIT), other = started(1e-6);
    flc_result r = volume_of(1.0);
    const struct {
        double unit;
        flc_status status;
    } units_given[] = {{NAN, FLC_E_NAN},     {INFINITY, FLC_E_INFINITE}, {0.0, FLC_E_BELOW},
                       {9e-13, FLC_E_BELOW}, {1.1e-3, FLC_E_ABOVE},      {1e-12, FLC_OK},
                       {1e-3, FLC_OK}};
    assert_int_equal(flc_totals_start(NULL, UNIT), FLC_E_NULL);
    for (size_t i = 0; i < sizeof units_given / sizeof units_given[0]; i++) {
        flc_totals made;
        assert_int_equal(flc_totals_start(&made, units_given[i].unit), units_given[i].status);
        if (units_given[i].status != FLC_OK) { /* then it serves for nothing */
            flc_check_nan(made.unit_m3);
            assert_int_equal(flc_totals_add(&made, 1.0, &r), FLC_E_SIZE);
            assert_int_equal(flc_totals_merge(&totals, &made), FLC_E_SIZE);
        }
    }
    assert_int_equal(flc_totals_add(NULL, 1.0, &r), FLC_E_NULL);
    assert_int_equal(flc_totals_add(&totals, 1.0, NULL), FLC_E_NULL);
    assert_int_equal(flc_totals_merge(NULL, &other), FLC_E_NULL);
    assert_int_equal(flc_totals_merge(&totals, NULL), FLC_E_NULL);
    assert_int_equal(flc_totals_merge(&totals, &other), FLC_E_CONFLICT);
    r.size = 0;
    assert_int_equal(flc_totals_add(&totals, 1.0, &r), FLC_E_SIZE);
    int64_t difference = 0;
    assert_int_equal(flc_totals_balance(NULL, &difference), FLC_E_NULL);
    assert_int_equal(difference, INT64_MIN);
    assert_int_equal(flc_totals_balance(&totals, NULL), FLC_E_NULL);
    totals.size = 1;
    assert_int_equal(flc_totals_balance(&totals, &difference), FLC_E_SIZE);
}

/* Pulses that ran backwards are reverse pulses, whether they got a volume or not; refused ones are refused. */
static void test_direction_comes_first(void **state)
{
    (void)state;
    flc_result r = volume_of(1.0);
    flc_totals totals = started(UNIT);
    r.v_m3 = r.v_base_m3 = NAN;
    r.status = FLC_E_BELOW_CURVE;
    assert_int_equal(flc_totals_add(&totals, -7.0, &r), FLC_OK);
    assert_int_equal(flc_totals_add(&totals, 5.0, &r), FLC_OK);
    r.status = FLC_OK;
    r.flags = FLC_FLAG_BELOW_CUTOFF;
    r.v_m3 = 0.0;
    assert_int_equal(flc_totals_add(&totals, -11.0, &r), FLC_OK);
    assert_int_equal(flc_totals_add(&totals, 3.0, &r), FLC_OK);
    r.status = FLC_E_NAN;
    assert_int_equal(flc_totals_add(&totals, -2.0, &r), FLC_OK);
    assert_int_equal(totals.pulses_reverse, 18);
    assert_int_equal(totals.pulses_below, 5);
    assert_int_equal(totals.pulses_cutoff, 3);
    assert_int_equal(totals.pulses_refused, 2);
    assert_balanced(&totals);
}

static void test_merged_totals_carry_the_flags_of_both(void **state)
{
    (void)state;
    flc_totals one = started(UNIT), other = started(UNIT);
    one.flags = FLC_FLAG_ROUNDED;
    other.flags = FLC_FLAG_FROM_MEMORY;
    assert_int_equal(flc_totals_merge(&one, &other), FLC_OK);
    assert_int_equal(one.flags, FLC_FLAG_ROUNDED | FLC_FLAG_FROM_MEMORY);
}

/* ---- closed totals ---- */

static void test_quantities_are_rounded_once(void **state)
{
    (void)state;
    double q = 0.0;
    assert_int_equal(flc_totals_quantity(1234567890123, UNIT, flc_rounding_none(), &q), FLC_OK);
    flc_check_relative(q, 1234.567890123, 3e-16);
    assert_int_equal(flc_totals_quantity(1234567890123, UNIT, flc_rounding_to_decimals(3), &q), FLC_OK);
    flc_check_same_bits(q, 1234.568);
    assert_int_equal(flc_totals_quantity(1234500000000, UNIT, flc_rounding_to_decimals(0), &q), FLC_OK);
    flc_check_same_bits(q, 1235.0); /* a tie in decimals, whatever its double */
    assert_int_equal(flc_totals_quantity(-1234499999999, UNIT, flc_rounding_to_decimals(0), &q), FLC_OK);
    flc_check_same_bits(q, -1234.0); /* once, not by way of 1234.500 */
    assert_int_equal(flc_totals_quantity(0, UNIT, flc_rounding_to_decimals(2), &q), FLC_OK);
    flc_check_same_bits(q, 0.0);
    const struct {
        double unit;
        flc_rounding policy;
        flc_status status;
    } cases[] = {
        {NAN, flc_rounding_none(), FLC_E_NAN},
        {0.0, flc_rounding_none(), FLC_E_BELOW},
        {1.5, flc_rounding_none(), FLC_E_ABOVE},
        {UNIT, flc_rounding_to_decimals(13), FLC_E_ABOVE},
        {UNIT, {(flc_rounding_kind)9, 0, 0.0}, FLC_E_CHOICE},
        {1.0, flc_rounding_to_decimals(3), FLC_E_OVERFLOW},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        q = 0.0;
        assert_int_equal(flc_totals_quantity(INT64_MAX, cases[i].unit, cases[i].policy, &q), cases[i].status);
        flc_check_nan(q);
    }
    assert_int_equal(flc_totals_quantity(1, UNIT, flc_rounding_none(), NULL), FLC_E_NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_sums_and_places),
        cmocka_unit_test(test_halves_go_away_from_zero),
        cmocka_unit_test(test_any_order_gives_the_same_bytes),
        cmocka_unit_test(test_any_grouping_gives_the_same_bytes),
        cmocka_unit_test(test_merging_with_itself_and_with_nothing),
        cmocka_unit_test(test_overflow_leaves_the_totals_as_they_were),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_direction_comes_first),
        cmocka_unit_test(test_merged_totals_carry_the_flags_of_both),
        cmocka_unit_test(test_quantities_are_rounded_once),
    };
    return cmocka_run_group_tests(tests, make_records, drop_records);
}
