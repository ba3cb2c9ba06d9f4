/* SPDX-License-Identifier: Apache-2.0 */
/* The calibration curve: values against polynomials recomputed in long double, ends and policies, refusals, bytes. */
#include "example_meter.h"
#include "failing_allocator.h"

static flc_curve_value value_at(const flc_curve *curve, double ro, flc_curve_beyond policy)
{
    flc_curve_value value;
    assert_int_equal(flc_curve_at(curve, ro, policy, policy, &value), FLC_OK);
    return value;
}

/* ---- values ---- */

static long double cubic(const double *c, long double u)
{
    return c[0] + u * (c[1] + u * (c[2] + u * (long double)c[3]));
}

static void test_values_and_slopes_inside(void **state)
{
    (void)state;
    flc_curve *curve = invented_curve();
    double c[4 * (INVENTED_KNOTS - 1)];
    invented_coefficients(c);
    uint64_t seed = 11;
    for (int i = 0; i < 2000; i++) {
        const double x = flc_draw_between(&seed, 8.0, 13.5), ro = exp(x);
        const flc_curve_value v = value_at(curve, ro, FLC_BEYOND_REFUSE);
        const long double ln_ro = logl((long double)ro);
        size_t s = 0;
        while (s + 2 < INVENTED_KNOTS && v.ln_ro >= invented_ln_ro[s + 1]) {
            s++;
        }
        const long double u = ln_ro - invented_ln_ro[s];
        assert_int_equal(v.segment, s);
        assert_int_equal(v.flags, 0);
        flc_check_relative(v.ln_ro, (double)ln_ro, 3e-16);
        flc_check_relative(v.st, (double)cubic(c + 4 * s, u), 1e-15);
        /* d ln St/d ln Ro by central differences, whose own error is of h^2, and of the last bit over h */
        const long double h = 1e-5L;
        const long double slope = (logl(cubic(c + 4 * s, u + h)) - logl(cubic(c + 4 * s, u - h))) / (2 * h);
        flc_check_near(v.slope, (double)slope, 1e-9);
    }
    flc_curve_free(curve);
}

/* Knots whose Roshko numbers are 1, 2, 4 and 8: ln Ro of a power of two is ln 2 times a whole number, so that
 * flc_curve_at meets the knots themselves. */
static void test_knots_and_ends_are_met_exactly(void **state)
{
    (void)state;
    const double x[] = {0.0, 0.69314718055994531, 1.3862943611198906, 2.0794415416798357};
    const double st[] = {1.0, 1.1, 1.05, 1.2}, h = x[1];
    const double c[] = {
        1.0, (1.1 - 1.0) / h, 0.0, 0.0, 1.1, (1.05 - 1.1) / h, 0.0, 0.0, 1.05, (1.2 - 1.05) / (x[3] - x[2]), 0.0, 0.0};
    flc_curve *curve = NULL;
    assert_int_equal(
        flc_curve_new(invented_reference(FLC_CONVENTION_DIMENSIONLESS, FLC_BODY_AS_RUN), 4, x, st, c, &curve, NULL),
        FLC_OK);
    for (size_t i = 0; i < 4; i++) {
        const flc_curve_value v = value_at(curve, (double)(1 << i), FLC_BEYOND_REFUSE);
        flc_check_same_bits(v.ln_ro, x[i]);
        assert_int_equal(v.segment, i < 3 ? i : 2);
        assert_int_equal(v.flags, 0);
        flc_check_relative(v.st, st[i], i < 3 ? 0.0 : 2e-16);
    }
    flc_check_same_bits(flc_curve_ro_low(curve), 1.0);
    flc_check_relative(flc_curve_ro_high(curve), 8.0, 1e-15);
    flc_curve_free(curve);
}

/* ---- beyond the ends ---- */

static void test_beyond_is_refused_by_default(void **state)
{
    (void)state;
    flc_curve *curve = invented_curve();
    flc_curve_value v;
    assert_int_equal(flc_curve_at(curve, exp(7.999999), FLC_BEYOND_REFUSE, FLC_BEYOND_HOLD_END, &v), FLC_E_BELOW_CURVE);
    assert_int_equal(v.flags, FLC_FLAG_BELOW_CURVE);
    flc_check_nan(v.st);
    flc_check_nan(v.slope);
    assert_int_equal(flc_curve_at(curve, exp(13.500001), FLC_BEYOND_HOLD_END, FLC_BEYOND_REFUSE, &v),
                     FLC_E_ABOVE_CURVE);
    assert_int_equal(v.flags, FLC_FLAG_ABOVE_CURVE);
    flc_check_nan(v.st);
    flc_curve_free(curve);
}

static void test_beyond_by_policy(void **state)
{
    (void)state;
    flc_curve *curve = invented_curve();
    const double away = 0.7; /* in ln Ro */
    flc_curve_value v = value_at(curve, exp(8.0 - away), FLC_BEYOND_HOLD_END);
    flc_check_same_bits(v.st, 3.10);
    flc_check_relative(v.slope, 0.36 / 3.10, 1e-15); /* what is known of the sensitivity: that of the end */
    assert_int_equal(v.flags, FLC_FLAG_BELOW_CURVE | FLC_FLAG_EXTRAPOLATED);
    v = value_at(curve, exp(8.0 - away), FLC_BEYOND_EXTEND_SLOPE);
    flc_check_relative(v.st, 3.10 - 0.36 * away, 1e-15);
    flc_check_relative(v.slope, 0.36 / (3.10 - 0.36 * away), 1e-15);
    v = value_at(curve, exp(13.5 + away), FLC_BEYOND_EXTEND_SLOPE);
    flc_check_relative(v.st, 3.40 + 0.001 * away, 1e-15);
    assert_int_equal(v.flags, FLC_FLAG_ABOVE_CURVE | FLC_FLAG_EXTRAPOLATED);
    assert_int_equal(v.segment, INVENTED_KNOTS - 2);
    v = value_at(curve, 1e30, FLC_BEYOND_HOLD_END);
    flc_check_same_bits(v.st, 3.40);
    flc_curve_free(curve);
}

static void test_the_extended_slope_ends_at_a_factor_of_ten(void **state)
{
    (void)state;
    flc_curve *curve = invented_curve();
    flc_curve_value v;
    const flc_curve_beyond extend = FLC_BEYOND_EXTEND_SLOPE;
    assert_int_equal(flc_curve_at(curve, exp(8.0) / 9.99, extend, extend, &v), FLC_OK);
    assert_int_equal(flc_curve_at(curve, exp(8.0) / 10.01, extend, extend, &v), FLC_E_BELOW_CURVE);
    assert_int_equal(flc_curve_at(curve, exp(13.5) * 9.99, extend, extend, &v), FLC_OK);
    assert_int_equal(flc_curve_at(curve, exp(13.5) * 10.01, extend, extend, &v), FLC_E_ABOVE_CURVE);
    flc_curve_free(curve);
}

/* A falling curve is extended down to a tenth of St at its end, and no further: St 2 at Ro 1, 1 at Ro e. */
static void test_the_extended_slope_ends_at_a_tenth_of_st(void **state)
{
    (void)state;
    const double x[] = {0.0, 1.0}, st[] = {2.0, 1.0}, c[] = {2.0, -1.0, 0.0, 0.0};
    flc_curve *curve = NULL;
    assert_int_equal(
        flc_curve_new(invented_reference(FLC_CONVENTION_DIMENSIONLESS, FLC_BODY_AS_RUN), 2, x, st, c, &curve, NULL),
        FLC_OK);
    flc_curve_value v;
    const flc_curve_beyond extend = FLC_BEYOND_EXTEND_SLOPE;
    assert_int_equal(flc_curve_at(curve, exp(1.899), extend, extend, &v), FLC_OK);
    flc_check_relative(v.st, 0.101, 1e-13);
    assert_int_equal(flc_curve_at(curve, exp(1.901), extend, extend, &v), FLC_E_ABOVE_CURVE);
    flc_curve_free(curve);
}

static void test_bad_roshko_numbers_and_policies(void **state)
{
    (void)state;
    flc_curve *curve = invented_curve();
    const struct {
        double ro;
        int below, above;
        flc_status status;
    } cases[] = {
        {NAN, 9, 9, FLC_E_NAN},    {INFINITY, 0, 0, FLC_E_INFINITE}, {0.0, 0, 0, FLC_E_BELOW},
        {-5.0, 0, 0, FLC_E_BELOW}, {1e301, 9, 0, FLC_E_ABOVE},       {1e5, -1, 0, FLC_E_CHOICE},
        {1e5, 0, 3, FLC_E_CHOICE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        flc_curve_value v = {0.0, 0.0, 0.0, 9, 9};
        assert_int_equal(
            flc_curve_at(curve, cases[i].ro, (flc_curve_beyond)cases[i].below, (flc_curve_beyond)cases[i].above, &v),
            cases[i].status);
        flc_check_nan(v.st);
        flc_check_nan(v.slope);
        assert_int_equal(v.flags, 0);
    }
    flc_curve_value v;
    assert_int_equal(flc_curve_at(NULL, 1e5, FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE, &v), FLC_E_NULL);
    flc_check_nan(v.st);
    assert_int_equal(flc_curve_at(curve, 1e5, FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE, NULL), FLC_E_NULL);
    flc_curve_free(curve);
}

/* ---- making a curve ---- */

typedef struct made_of {
    double x[3], st[3], c[8];
} made_of;

static made_of good_curve(void)
{
    return (made_of){{8.0, 10.0, 12.0}, {3.0, 3.2, 3.1}, {3.0, 0.1, 0.0, 0.0, 3.2, -0.05, 0.0, 0.0}};
}

static void expect_curve(const made_of *of, size_t knots, flc_status status, const char *argument, int64_t index)
{
    flc_curve *curve = (flc_curve *)(void *)&status;
    flc_error error;
    memset(&error, 0xFF, sizeof error);
    assert_int_equal(flc_curve_new(invented_reference(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN), knots, of->x, of->st, of->c,
                                   &curve, &error),
                     status);
    assert_int_equal(error.status, status);
    assert_string_equal(error.argument, argument);
    assert_int_equal(error.index, index);
    if (status != FLC_OK) {
        assert_null(curve);
    }
    flc_curve_free(curve);
}

static void test_every_value_of_a_curve_is_judged(void **state)
{
    (void)state;
    const struct {
        size_t offset;
        double value;
        flc_status status;
        const char *argument;
        int64_t index;
    } cases[] = {
        {offsetof(made_of, x[1]), NAN, FLC_E_NAN, "ln_ro", 1},
        {offsetof(made_of, x[2]), INFINITY, FLC_E_INFINITE, "ln_ro", 2},
        {offsetof(made_of, x[0]), -50.5, FLC_E_BELOW, "ln_ro", 0},
        {offsetof(made_of, x[2]), 142028.0, FLC_E_ABOVE, "ln_ro", 2}, /* Ro given for ln Ro */
        {offsetof(made_of, x[1]), 7.0, FLC_E_ORDER, "ln_ro", 1},
        {offsetof(made_of, x[1]), 8.0, FLC_E_ORDER, "ln_ro", 1},
        {offsetof(made_of, st[0]), NAN, FLC_E_NAN, "st", 0},
        {offsetof(made_of, st[1]), 0.0, FLC_E_BELOW, "st", 1},
        {offsetof(made_of, st[2]), 1e13, FLC_E_ABOVE, "st", 2},
        {offsetof(made_of, c[1]), NAN, FLC_E_NAN, "coefficients", 1},
        {offsetof(made_of, c[6]), -INFINITY, FLC_E_INFINITE, "coefficients", 6},
        {offsetof(made_of, c[2]), -1.1e100, FLC_E_BELOW, "coefficients", 2},
        {offsetof(made_of, c[3]), 1.1e100, FLC_E_ABOVE, "coefficients", 3},
        {offsetof(made_of, c[4]), 3.2000000000000006, FLC_E_DOMAIN, "coefficients", 4}, /* not St of its knot */
        {offsetof(made_of, c[1]), 0.10001, FLC_E_DOMAIN, "coefficients", 0},            /* does not join */
        {offsetof(made_of, c[5]), -0.0500001, FLC_E_DOMAIN, "coefficients", 4},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        made_of of = good_curve();
        memcpy((char *)&of + cases[i].offset, &cases[i].value, sizeof(double));
        expect_curve(&of, 3, cases[i].status, cases[i].argument, cases[i].index);
    }
    const made_of good = good_curve();
    expect_curve(&good, 3, FLC_OK, "", -1);
    expect_curve(&good, 1, FLC_E_COUNT, "knots", -1);
    expect_curve(&good, 4097, FLC_E_COUNT, "knots", -1);
    expect_curve(&good, SIZE_MAX, FLC_E_COUNT, "knots", -1);
}

static void test_null_and_choices_of_a_curve(void **state)
{
    (void)state;
    const made_of of = good_curve();
    const double *none = NULL;
    flc_curve *curve;
    flc_error error;
    const flc_curve_convention raw = FLC_CONVENTION_RAW, unknown = (flc_curve_convention)3;
    const struct {
        int convention, treatment;
        const double *x, *st, *c;
        flc_status status;
        const char *argument;
    } cases[] = {
        {(int)unknown, 0, none, of.st, of.c, FLC_E_CHOICE, "convention"},
        {-1, 9, of.x, of.st, of.c, FLC_E_CHOICE, "convention"},
        {0, 2, of.x, of.st, of.c, FLC_E_CHOICE, "treatment"},
        {0, 0, none, none, of.c, FLC_E_NULL, "ln_ro"},
        {0, 0, of.x, none, none, FLC_E_NULL, "st"},
        {0, 0, of.x, of.st, none, FLC_E_NULL, "coefficients"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(flc_curve_new(invented_reference((flc_curve_convention)cases[i].convention,
                                                          (flc_body_treatment)cases[i].treatment),
                                       3, cases[i].x, cases[i].st, cases[i].c, &curve, &error),
                         cases[i].status);
        assert_string_equal(error.argument, cases[i].argument);
        assert_null(curve);
    }
    assert_int_equal(flc_curve_new(invented_reference(raw, FLC_BODY_AS_RUN), 3, of.x, of.st, of.c, NULL, &error),
                     FLC_E_NULL);
    assert_string_equal(error.argument, "curve");
    flc_curve_free(NULL);
}

/* Two knots 2 apart in ln Ro, or more, and any cubic: it must meet its own end. */
static flc_status make_cubic(double width, double c0, double c1, double c2, double c3)
{
    const double x[] = {0.0, width}, c[] = {c0, c1, c2, c3};
    const double st[] = {c0, c0 + width * (c1 + width * (c2 + width * c3))};
    flc_curve *curve;
    const flc_status status =
        flc_curve_new(invented_reference(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN), 2, x, st, c, &curve, NULL);
    flc_curve_free(curve);
    return status;
}

/* A dip or a steep place narrower than any sampling is found: both are judged at their extremes. */
static void test_the_shape_is_judged_everywhere(void **state)
{
    (void)state;
    assert_int_equal(make_cubic(2.0, 3.0, 0.1, 0.0, 0.0), FLC_OK);
    assert_int_equal(make_cubic(2.0, 3.0, 2.999, 0.0, 0.0), FLC_OK); /* slope just under 1 at the left end */
    assert_int_equal(make_cubic(2.0, 3.0, 3.001, 0.0, 0.0), FLC_E_NOT_MONOTONIC);
    for (int i = 1; i < 40; i++) {
        /* St = k (u - a)^2 - e over 45 in ln Ro: below zero only near a. Behind the dip St rises faster than itself, up
         * to 2 from a; where the right end lies in there, that end is judged first */
        const double a = 45.0 * i / 40.0 + 0.1, k = 0.01, e = 1e-9;
        assert_int_equal(make_cubic(45.0, k * a * a - e, -2.0 * k * a, k, 0.0),
                         45.0 - a > 2.01 ? FLC_E_DOMAIN : FLC_E_NOT_MONOTONIC);
    }
    /* St' - St = e - k (u - a)^2: St = k [(u + 1 - a)^2 + 1] - e rises faster than itself only within sqrt(e/k) of a */
    for (int i = 1; i < 64; i++) {
        const double a = i / 64.0, k = 1.0, e = 1e-7;
        const double c0 = k * ((1.0 - a) * (1.0 - a) + 1.0), c1 = 2.0 * k * (1.0 - a);
        assert_int_equal(make_cubic(1.0, c0 - e, c1, k, 0.0), FLC_E_NOT_MONOTONIC);
        assert_int_equal(make_cubic(1.0, c0 + e, c1, k, 0.0), FLC_OK);
    }
}

static void test_facts_of_no_curve(void **state)
{
    (void)state;
    const flc_curve_reference none[] = {flc_curve_reference_of(NULL),
                                        flc_curve_reference_for(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN, NULL)};
    assert_int_equal(flc_curve_knots(NULL), 0);
    flc_check_nan(flc_curve_ro_low(NULL));
    flc_check_nan(flc_curve_ro_high(NULL));
    for (size_t i = 0; i < 2; i++) {
        flc_check_nan(none[i].d0_m);
        flc_check_nan(none[i].t0_degc);
        flc_check_nan(none[i].p0_kpag);
    }
}

static void test_every_allocation_may_fail(void **state)
{
    (void)state;
    const made_of of = good_curve();
    const long before = flc_test_live_blocks();
    int failures = 0;
    for (long n = 1;; n++) {
        flc_curve *curve;
        flc_error error;
        flc_test_fail_allocation(n);
        const flc_status status = flc_curve_new(invented_reference(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN), 3, of.x, of.st,
                                                of.c, &curve, &error);
        const int failed = flc_test_allocation_failed();
        flc_test_fail_allocation(0);
        if (!failed) {
            flc_curve_free(curve);
            break;
        }
        failures++;
        assert_int_equal(status, FLC_E_MEMORY);
        assert_int_equal(error.status, FLC_E_MEMORY);
        assert_null(curve);
    }
    assert_true(failures > 0);
    made_of bad = of; /* refused after its memory was taken: given back */
    bad.c[1] = 4.0;
    bad.c[2] = -1.95;
    flc_curve *curve;
    assert_int_equal(
        flc_curve_new(invented_reference(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN), 3, bad.x, bad.st, bad.c, &curve, NULL),
        FLC_E_NOT_MONOTONIC);
    assert_int_equal(flc_test_live_blocks(), before);
}

/* ---- reading it back ---- */

static void test_copy_gives_what_was_given(void **state)
{
    (void)state;
    flc_curve *curve = invented_curve();
    double x[INVENTED_KNOTS], st[INVENTED_KNOTS], c[4 * (INVENTED_KNOTS - 1)], given[4 * (INVENTED_KNOTS - 1)];
    invented_coefficients(given);
    assert_int_equal(flc_curve_knots(curve), INVENTED_KNOTS);
    const flc_curve_reference reference = flc_curve_reference_of(curve);
    assert_int_equal(reference.convention, FLC_CONVENTION_RAW);
    assert_int_equal(reference.treatment, FLC_BODY_AS_RUN);
    flc_check_same_bits(reference.d0_m, INVENTED_D0_M);
    assert_int_equal(flc_curve_copy(curve, x, st, c), FLC_OK);
    assert_memory_equal(x, invented_ln_ro, sizeof x);
    assert_memory_equal(st, invented_st, sizeof st);
    assert_memory_equal(c, given, sizeof c);
    assert_int_equal(flc_curve_copy(NULL, x, st, c), FLC_E_NULL);
    assert_int_equal(flc_curve_copy(curve, x, NULL, c), FLC_E_NULL);
    flc_curve_free(curve);
}

static uint64_t big_endian(const uint8_t *bytes)
{
    uint64_t number = 0;
    for (int i = 0; i < 8; i++) {
        number = number << 8 | bytes[i];
    }
    return number;
}

/* Text with its length, two choices, D0, T0 and P0, the count, then per segment x and four coefficients, then the
 * last knot. */
static void test_canonical_bytes_read_back(void **state)
{
    (void)state;
    const made_of of = good_curve();
    flc_curve *curve;
    assert_int_equal(flc_curve_new(invented_reference(FLC_CONVENTION_NORMALISED, FLC_BODY_ALREADY_CORRECTED), 3, of.x,
                                   of.st, of.c, &curve, NULL),
                     FLC_OK);
    uint8_t bytes[512];
    size_t needed = 0;
    assert_int_equal(flc_curve_canonical(curve, NULL, 0, &needed), FLC_E_BUFFER);
    assert_int_equal(needed, 8 + 16 + 6 * 8 + 2 * 5 * 8 + 2 * 8);
    memset(bytes, 0x5A, sizeof bytes);
    assert_int_equal(flc_curve_canonical(curve, bytes, needed - 1, &needed), FLC_E_BUFFER);
    assert_int_equal(bytes[needed - 1], 0x5A);
    assert_int_equal(flc_curve_canonical(curve, bytes, needed, &needed), FLC_OK);
    assert_int_equal(bytes[needed], 0x5A);
    const uint64_t heads[] = {FLC_CONVENTION_NORMALISED,        FLC_BODY_ALREADY_CORRECTED,
                              flc_check_bits(INVENTED_D0_M),    flc_check_bits(INVENTED_T0_DEGC),
                              flc_check_bits(INVENTED_P0_KPAG), 3};
    const double body[] = {of.x[0], of.c[0], of.c[1], of.c[2], of.c[3], of.x[1],
                           of.c[4], of.c[5], of.c[6], of.c[7], of.x[2], of.st[2]};
    assert_int_equal(big_endian(bytes), 16);
    assert_memory_equal(bytes + 8, "flowcomp-curve-1", 16);
    for (size_t i = 0; i < 6; i++) {
        assert_int_equal(big_endian(bytes + 24 + 8 * i), heads[i]);
    }
    for (size_t i = 0; i < 12; i++) {
        assert_int_equal(big_endian(bytes + 72 + 8 * i), flc_check_bits(body[i]));
    }
    assert_int_equal(flc_curve_canonical(NULL, bytes, 8, &needed), FLC_E_NULL);
    assert_int_equal(flc_curve_canonical(curve, NULL, 8, &needed), FLC_E_NULL);
    assert_int_equal(flc_curve_canonical(curve, bytes, 8, NULL), FLC_E_NULL);
    flc_curve_free(curve);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_values_and_slopes_inside),
        cmocka_unit_test(test_knots_and_ends_are_met_exactly),
        cmocka_unit_test(test_beyond_is_refused_by_default),
        cmocka_unit_test(test_beyond_by_policy),
        cmocka_unit_test(test_the_extended_slope_ends_at_a_factor_of_ten),
        cmocka_unit_test(test_the_extended_slope_ends_at_a_tenth_of_st),
        cmocka_unit_test(test_bad_roshko_numbers_and_policies),
        cmocka_unit_test(test_every_value_of_a_curve_is_judged),
        cmocka_unit_test(test_null_and_choices_of_a_curve),
        cmocka_unit_test(test_the_shape_is_judged_everywhere),
        cmocka_unit_test(test_facts_of_no_curve),
        cmocka_unit_test(test_every_allocation_may_fail),
        cmocka_unit_test(test_copy_gives_what_was_given),
        cmocka_unit_test(test_canonical_bytes_read_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
