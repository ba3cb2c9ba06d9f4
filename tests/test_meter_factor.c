/* SPDX-License-Identifier: Apache-2.0 */
/* The factor in force, by definitions (43 CFR 3174.1) and hand calculations; triggers; the body between two conditions.
 */
#include "check.h"
#include "flowcomp/meter_factor.h"
#include <math.h>

#define OK(call) assert_int_equal((call), FLC_OK)

static flc_factor_value at(const flc_factor *factor, double x)
{
    flc_factor_value value;
    flc_error error;
    if (flc_factor_at(factor, x, &value, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    return value;
}

static flc_factor points(void)
{
    flc_factor f;
    flc_factor_init(&f);
    f.form = FLC_FACTOR_INTERPOLATED;
    f.count = 3;
    f.x[0] = 0.01, f.x[1] = 0.02, f.x[2] = 0.04;
    f.mf[0] = 0.9980, f.mf[1] = 1.0000, f.mf[2] = 1.0010;
    return f;
}

static void forms(void **state)
{
    (void)state;
    flc_factor f;
    flc_factor_init(&f);
    f.mf[0] = 1.0009;
    flc_check_same_bits(at(&f, NAN).mf, 1.0009);
    f.form = FLC_FACTOR_COMPOSITE;
    f.cpl_meter = 1.0010;
    flc_check_relative(at(&f, NAN).mf, 1.0009 * 1.0010, 1e-15);
    f = points();
    flc_check_relative(at(&f, 0.015).mf, 0.9990, 1e-15);
    flc_check_relative(at(&f, 0.025).mf, 1.00025, 1e-15);
    flc_check_relative(at(&f, 0.01).mf, 0.9980, 1e-15);
    flc_check_relative(at(&f, 0.04).mf, 1.0010, 1e-15);
    f.form = FLC_FACTOR_POLYNOMIAL;
    f.c[0] = 0.99, f.c[1] = 0.01, f.c[2] = -0.002;
    f.scale = 0.02;
    f.low = 0.01;
    f.high = 0.04;
    flc_check_relative(at(&f, 0.03).mf, 0.99 + 0.01 * 1.5 - 0.002 * 2.25, 1e-15);
}

static void beyond_and_contract(void **state)
{
    (void)state;
    flc_factor f = points();
    flc_factor_value value;
    assert_int_equal(flc_factor_at(&f, 0.005, &value, NULL), FLC_E_BELOW_CURVE);
    flc_check_nan(value.mf);
    assert_int_equal(flc_factor_at(&f, 0.05, &value, NULL), FLC_E_ABOVE_CURVE);
    f.beyond = FLC_FACTOR_HOLD;
    assert_int_equal(at(&f, 0.05).flags, FLC_FLAG_EXTRAPOLATED);
    flc_check_relative(at(&f, 0.05).mf, 1.0010, 1e-15);
    flc_check_relative(at(&f, 0.0).mf, 0.9980, 1e-15);
    f.contract_low = 0.9990;
    f.contract_high = 1.0005;
    assert_int_equal(at(&f, 0.01).outside_contract, -1);
    assert_int_equal(at(&f, 0.02).outside_contract, 0);
    assert_int_equal(at(&f, 0.04).outside_contract, 1);
}

#define REFUSED(change, status, name)                                     \
    do {                                                                  \
        flc_factor f = points();                                          \
        flc_factor_value value;                                           \
        flc_error error;                                                  \
        double x = 0.02;                                                  \
        change;                                                           \
        assert_int_equal(flc_factor_at(&f, x, &value, &error), (status)); \
        assert_string_equal(error.argument, (name));                      \
        flc_check_nan(value.mf);                                          \
    } while (0)

static void refusals(void **state)
{
    (void)state;
    REFUSED(f.mf[1] = 1.21, FLC_E_ABOVE, "mf");
    REFUSED(f.mf[1] = 0.79, FLC_E_BELOW, "mf");
    REFUSED(f.x[2] = 0.02, FLC_E_ORDER, "x");
    REFUSED(f.x[1] = NAN, FLC_E_NAN, "x");
    REFUSED(f.count = 1, FLC_E_COUNT, "count");
    REFUSED(f.count = 17, FLC_E_COUNT, "count");
    REFUSED(f.form = (flc_factor_form)4, FLC_E_CHOICE, "form");
    REFUSED(f.size = 3, FLC_E_SIZE, "factor");
    REFUSED(x = NAN, FLC_E_NAN, "x");
    REFUSED(x = INFINITY, FLC_E_INFINITE, "x");
    REFUSED(x = -1.0, FLC_E_BELOW, "x");
    REFUSED(f.form = FLC_FACTOR_COMPOSITE, FLC_E_NAN, "cpl_meter");
    REFUSED(f.form = FLC_FACTOR_POLYNOMIAL, FLC_E_NAN, "c");
    REFUSED(f.form = FLC_FACTOR_POLYNOMIAL; f.count = 1; f.c[0] = 2.0; f.low = 0.01; f.high = 0.04, FLC_E_ABOVE, "mf");
    REFUSED(f.form = FLC_FACTOR_POLYNOMIAL; f.count = 1; f.c[0] = 1.0; f.low = 0.04;
            f.high = 0.01, FLC_E_BELOW, "high");
    flc_factor f = points();
    flc_factor_value value;
    assert_int_equal(flc_factor_at(NULL, 0.02, &value, NULL), FLC_E_NULL);
    assert_int_equal(flc_factor_at(&f, 0.02, NULL, NULL), FLC_E_NULL);
}

static flc_void_numbers none(void)
{
    flc_void_numbers numbers;
    for (size_t i = 0; i < FLC_VOID_COUNT; i++) {
        numbers.number[i] = NAN;
    }
    return numbers;
}

/* Each trigger just inside and just outside its limit. */
static void triggers(void **state)
{
    (void)state;
    static const double proving[] = {0.02, 20.0, 5.0, 1e5, 850.0, 1.0, NAN, NAN, 1.0000, 0.9990},
                        limit[] = {0.1, 5.0, 0.2, 0.3, 10.0, 0.0, 30.0, 1e5, 0.0025, 0.005},
                        inside[] = {0.0219, 24.9, 5.9, 1.29e5, 859.0, 1.0, 30.0, 1e5, 1.0024, 1.0024},
                        outside[] = {0.0221, 14.9, 3.9, 0.69e5, 861.0, 2.0, 30.5, 1.1e5, 1.0026, 1.0041};
    flc_void_numbers p = none(), now = none(), limits = none();
    uint32_t exceeded, unknown;
    for (size_t i = 0; i < FLC_VOID_COUNT; i++) {
        p.number[i] = proving[i];
        now.number[i] = inside[i];
        limits.number[i] = limit[i];
    }
    OK(flc_factor_void_check(&p, &now, &limits, &exceeded, &unknown));
    assert_int_equal(exceeded, 0);
    assert_int_equal(unknown, 0);
    for (size_t i = 0; i < FLC_VOID_COUNT; i++) {
        now.number[i] = outside[i];
        OK(flc_factor_void_check(&p, &now, &limits, &exceeded, &unknown));
        assert_int_equal(exceeded, 1u << i);
        now.number[i] = NAN;
        OK(flc_factor_void_check(&p, &now, &limits, &exceeded, &unknown));
        assert_int_equal(exceeded, 0);
        assert_int_equal(unknown, 1u << i);
        now.number[i] = inside[i];
    }
    limits.number[FLC_VOID_TEMPERATURE] = -1.0;
    assert_int_equal(flc_factor_void_check(&p, &now, &limits, &exceeded, NULL), FLC_E_BELOW);
    limits = none();
    OK(flc_factor_void_check(&p, &now, &limits, &exceeded, NULL)); /* nothing is judged */
    limits.number[FLC_VOID_FLOW] = 0.1;
    p.number[FLC_VOID_FLOW] = 0.0;
    assert_int_equal(flc_factor_void_check(&p, &now, &limits, &exceeded, NULL), FLC_E_BELOW);
    assert_int_equal(flc_factor_void_check(NULL, &now, &limits, &exceeded, NULL), FLC_E_NULL);
    assert_string_equal(flc_void_word(FLC_VOID_FACTOR_LAST), "factor_last");
    assert_null(flc_void_word(FLC_VOID_COUNT));
}

/* 316 (15.9e-6 1/K) at +20 K: K falls by 0.095 % (notes on the meter body); one metal: (1 + a dT)^-3. */
static void body(void **state)
{
    (void)state;
    flc_body_options options;
    flc_body_change change;
    flc_body_options_init(&options);
    options.bore_m = 0.1;
    options.t0_degc = 20.0;
    options.end = FLC_END_NONE;
    OK(flc_metal_mean(15.9e-6, 0.0, 100.0, 193.0, 0.29, FLC_USER_GIVEN, "invented", &options.housing, NULL));
    OK(flc_body_difference(&options, 20.0, 0.0, 40.0, 0.0, &change));
    flc_check_relative(change.ratio, pow(1.0 + 15.9e-6 * 20.0, -3.0), 1e-15);
    flc_check_near(change.pct, -0.095, 5e-4);
    OK(flc_body_difference(&options, 30.0, 0.0, 30.0, 0.0, &change));
    flc_check_same_bits(change.ratio, 1.0);
    assert_int_equal(flc_body_difference(&options, NAN, 0.0, 30.0, 0.0, &change), FLC_E_NAN);
    flc_check_nan(change.ratio);
    assert_int_equal(flc_body_difference(&options, 20.0, 0.0, 30.0, 0.0, NULL), FLC_E_NULL);
    flc_factor_form form;
    flc_factor_axis axis;
    flc_factor_beyond beyond;
    OK(flc_factor_form_from_name("composite", &form));
    OK(flc_factor_axis_from_name("roshko", &axis));
    OK(flc_factor_beyond_from_name("hold", &beyond));
    assert_int_equal(form, FLC_FACTOR_COMPOSITE);
    assert_int_equal(axis, FLC_FACTOR_OF_ROSHKO);
    assert_int_equal(beyond, FLC_FACTOR_HOLD);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(forms), cmocka_unit_test(beyond_and_contract),
                                       cmocka_unit_test(refusals), cmocka_unit_test(triggers), cmocka_unit_test(body)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
