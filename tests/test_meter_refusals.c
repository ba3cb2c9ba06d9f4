/* SPDX-License-Identifier: Apache-2.0 */
/* Making a meter, and records that it refuses: every input judged, which of several bad ones is named, what of the
 * result is there all the same; every allocation made to fail; what a meter was made from, and its bytes. */
#include "example_meter.h"
#include "failing_allocator.h"

#include <stddef.h>

/* ---- records ---- */

#define PLACE(field) offsetof(flc_reading, field)

/* One or two fields of the invented reading spoilt: what must come of it. In the order in which they are judged. */
static const struct {
    size_t place;
    double value;
    flc_status status;
    const char *argument;
} spoilt[] = {
    {PLACE(f_hz), 5.0, FLC_E_CONFLICT, "f_hz"}, /* beside pulses */
    {PLACE(pulses), INFINITY, FLC_E_INFINITE, "pulses"},
    {PLACE(pulses), -1e16, FLC_E_BELOW, "pulses"},
    {PLACE(pulses), 9007199254740994.0, FLC_E_ABOVE, "pulses"},
    {PLACE(pulses), 951019.5, FLC_E_NOT_WHOLE, "pulses"},
    {PLACE(duration_s), NAN, FLC_E_MISSING, "duration_s"},
    {PLACE(duration_s), INFINITY, FLC_E_INFINITE, "duration_s"},
    {PLACE(duration_s), 0.0, FLC_E_BELOW, "duration_s"},
    {PLACE(duration_s), -3600.0, FLC_E_BELOW, "duration_s"},
    {PLACE(duration_s), 1.1e9, FLC_E_ABOVE, "duration_s"},
    {PLACE(duration_s), 0.9, FLC_E_ABOVE, "pulses / duration_s"}, /* over 1 MHz */
    {PLACE(flowing_s), INFINITY, FLC_E_INFINITE, "flowing_s"},
    {PLACE(flowing_s), 0.0, FLC_E_BELOW, "flowing_s"},
    {PLACE(flowing_s), 3604.0, FLC_E_ABOVE, "flowing_s"}, /* longer than the window by over a thousandth */
    {PLACE(f_before_hz), INFINITY, FLC_E_INFINITE, "f_before_hz"},
    {PLACE(f_before_hz), -1.0, FLC_E_BELOW, "f_before_hz"},
    {PLACE(f_after_hz), -INFINITY, FLC_E_INFINITE, "f_after_hz"},
    {PLACE(t_degc), NAN, FLC_E_NAN, "t_degc"},
    {PLACE(t_degc), -INFINITY, FLC_E_INFINITE, "t_degc"},
    {PLACE(t_degc), -200.1, FLC_E_BELOW, "t_degc"},
    {PLACE(t_degc), 600.1, FLC_E_ABOVE, "t_degc"},
    {PLACE(p_kpag), NAN, FLC_E_NAN, "p_kpag"},
    {PLACE(p_kpag), INFINITY, FLC_E_INFINITE, "p_kpag"},
    {PLACE(p_kpag), -101.5, FLC_E_BELOW, "p_kpag"},
    {PLACE(p_kpag), 100000.1, FLC_E_ABOVE, "p_kpag"},
    {PLACE(p_kpag), -0.1, FLC_E_NEGATIVE_PRESSURE, "p_kpag"},
    {PLACE(density.rho_base_kgm3), NAN, FLC_E_MISSING, "rho_base_kgm3"},
    {PLACE(density.rho_observed_kgm3), 810.0, FLC_E_CONFLICT, "rho_observed_kgm3"},
    {PLACE(density.rho_base_kgm3), 611.0, FLC_E_BELOW, "rho_base_kgm3"},
    {PLACE(density.rho_base_kgm3), 1164.0, FLC_E_ABOVE, "rho_base_kgm3"},
    {PLACE(nu_mm2s), 2.0, FLC_E_CONFLICT, "nu_mm2s"},
};

#define SPOILT (sizeof spoilt / sizeof spoilt[0])

static void spoil(flc_reading *reading, size_t i)
{
    memcpy((char *)reading + spoilt[i].place, &spoilt[i].value, sizeof(double));
}

static flc_result refused(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading, size_t i)
{
    flc_result r;
    memset(&r, 0x5A, sizeof r);
    r.size = sizeof r;
    flc_error error;
    memset(&error, 0xFF, sizeof error);
    const flc_status status = flc_meter_evaluate(meter, liquid, reading, &r, &error);
    if (status != spoilt[i].status || strcmp(error.argument, spoilt[i].argument) != 0) {
        fail_msg("case %zu: %s of '%s', expected %s of '%s'", i, flc_status_name(status), error.argument,
                 flc_status_name(spoilt[i].status), spoilt[i].argument);
    }
    assert_int_equal(error.status, status);
    assert_int_equal(r.status, status);
    return r;
}

/* Nothing that comes after the failure: neither numbers nor flags of later stages. */
static void check_nothing_after(const flc_result *r, int has_frequency)
{
    const double after[] = {r->nu_mm2s,   r->d_m,        r->b_ratio,   r->ro,         r->re,        r->st,
                            r->k_per_m3,  r->q_m3s,      r->v_m3,      r->q_base_m3s, r->v_base_m3, r->slope,
                            r->dlnq_dlnf, r->dlnq_dlnnu, r->dlnq_dlnd, r->dlnq_dlnb,  r->u_v_nu,    r->k_bound};
    for (size_t i = 0; i < sizeof after / sizeof after[0]; i++) {
        flc_check_nan(after[i]);
    }
    if (has_frequency) {
        assert_true(r->f_hz > 0.0 && r->f_hz <= 1e6);
    } else {
        flc_check_nan(r->f_hz);
        assert_int_equal(r->flags, 0);
    }
}

static void test_every_input_is_judged_and_the_first_bad_one_named(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_POINTS);
    for (size_t i = 0; i < SPOILT; i++) {
        flc_reading reading = invented_reading();
        spoil(&reading, i);
        const flc_result r = refused(meter, liquid, &reading, i);
        check_nothing_after(&r, spoilt[i].place == PLACE(f_before_hz) || spoilt[i].place >= PLACE(t_degc));
        for (size_t j = i + 1; j < SPOILT; j++) {
            const int both_densities = spoilt[i].place >= PLACE(density) && spoilt[j].place >= PLACE(density) &&
                                       spoilt[j].place < PLACE(f_before_hz);
            if (spoilt[j].place != spoilt[i].place && !both_densities) {
                reading = invented_reading();
                spoil(&reading, j);
                spoil(&reading, i);
                refused(meter, liquid, &reading, i);
            }
        }
    }
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

static void expect_status(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading,
                          flc_status expected, const char *argument)
{
    flc_result r;
    flc_result_init(&r);
    flc_error error;
    assert_int_equal(flc_meter_evaluate(meter, liquid, reading, &r, &error), expected);
    assert_string_equal(error.argument, argument);
}

static void test_windows_and_frequencies_exclude_each_other(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_POINTS);
    flc_reading reading = invented_reading();
    reading.flowing_s = 1800.0;
    reading.f_flowing_hz = 500.0;
    expect_status(meter, liquid, &reading, FLC_E_CONFLICT, "f_flowing_hz");
    reading.flowing_s = NAN;
    reading.f_flowing_hz = 260.0; /* under the mean of the window by over a thousandth */
    expect_status(meter, liquid, &reading, FLC_E_BELOW, "f_flowing_hz");
    reading.f_flowing_hz = INFINITY;
    expect_status(meter, liquid, &reading, FLC_E_INFINITE, "f_flowing_hz");
    reading.f_flowing_hz = 1e6 + 1.0;
    expect_status(meter, liquid, &reading, FLC_E_ABOVE, "f_flowing_hz");
    reading.pulses = NAN;
    expect_status(meter, liquid, &reading, FLC_E_MISSING, "pulses");
    static const double frequencies[] = {INFINITY, -1.0, 1e6 + 1.0};
    static const flc_status statuses[] = {FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE};
    for (size_t i = 0; i < 3; i++) {
        reading.f_hz = frequencies[i];
        expect_status(meter, liquid, &reading, statuses[i], "f_hz");
    }
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

/* Each stage keeps what it reached: viscosity refused after the volume factors, the curve after the body. */
static void test_what_was_reached_before_the_failure(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_POINTS);
    flc_reading reading = invented_reading();
    reading.t_degc = 101.0;
    flc_result r = evaluated(meter, liquid, &reading);
    assert_int_equal(r.status, FLC_E_ABOVE_VISCOSITY_RANGE);
    assert_true(r.ctl < 1.0 && r.cpl > 1.0 && r.rho_base_kgm3 == 812.5);
    flc_check_nan(r.nu_mm2s);
    flc_check_nan(r.d_m);
    reading.t_degc = -21.0;
    assert_int_equal(evaluated(meter, liquid, &reading).status, FLC_E_BELOW_VISCOSITY_RANGE);
    reading = invented_reading();
    reading.pulses = 3600.0;
    r = evaluated(meter, liquid, &reading);
    assert_int_equal(r.status, FLC_E_BELOW_CURVE);
    assert_true(r.ro > 0.0 && r.nu_mm2s > 0.0 && r.d_m > 0.0 && r.b_ratio > 0.0);
    flc_check_nan(r.v_m3);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

static void test_null_and_sizes(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_NONE, FLC_VISCOSITY_POINTS);
    flc_reading reading = invented_reading();
    flc_result r;
    flc_error error;
    flc_result_init(&r);
    expect_status(NULL, NULL, NULL, FLC_E_NULL, "meter");
    expect_status(meter, NULL, NULL, FLC_E_NULL, "liquid");
    expect_status(meter, liquid, NULL, FLC_E_NULL, "reading");
    assert_int_equal(flc_meter_evaluate(NULL, NULL, NULL, NULL, &error), FLC_E_NULL);
    assert_string_equal(error.argument, "result");
    reading.size--;
    expect_status(meter, liquid, &reading, FLC_E_SIZE, "reading");
    memset(&r, 0x5A, sizeof r);
    r.size = sizeof r - 8;
    flc_result before = r;
    assert_int_equal(flc_meter_evaluate(meter, liquid, &reading, &r, &error), FLC_E_SIZE);
    assert_string_equal(error.argument, "result");
    assert_memory_equal(&r, &before, sizeof r); /* nothing is written to a struct of unknown size */
    flc_meter_free(meter);
    flc_meter_free(NULL);
    flc_liquid_free(liquid);
}

/* ---- making a meter ---- */

static void expect_no_meter(const flc_meter_options *options, const flc_body_options *body, const flc_curve *curve,
                            flc_status status, const char *argument)
{
    flc_meter *meter = (flc_meter *)(void *)&status;
    flc_error error;
    memset(&error, 0xFF, sizeof error);
    assert_int_equal(flc_meter_new(options, body, curve, &meter, &error), status);
    assert_int_equal(error.status, status);
    assert_string_equal(error.argument, argument);
    assert_null(meter);
}

static void test_making_a_meter_is_judged(void **state)
{
    (void)state;
    flc_curve *curve = invented_curve();
    flc_body_options body = invented_body(), bad_body = invented_body();
    flc_meter_options options = invented_options();
    bad_body.bore_m = 25.4; /* in mm by mistake */
    flc_error error;
    expect_no_meter(NULL, NULL, NULL, FLC_E_NULL, "options");
    expect_no_meter(&options, NULL, NULL, FLC_E_NULL, "body");
    expect_no_meter(&options, &body, NULL, FLC_E_NULL, "curve");
    assert_int_equal(flc_meter_new(&options, &body, curve, NULL, &error), FLC_E_NULL);
    assert_string_equal(error.argument, "meter");
    expect_no_meter(&options, &bad_body, curve, FLC_E_ABOVE, "bore_m");
    options.cutoff_hz = -0.1; /* from here on each further mistake comes before the last */
    expect_no_meter(&options, &bad_body, curve, FLC_E_BELOW, "cutoff_hz");
    options.cutoff_hz = 1e7;
    expect_no_meter(&options, &bad_body, curve, FLC_E_ABOVE, "cutoff_hz");
    options.cutoff_hz = NAN;
    expect_no_meter(&options, &bad_body, curve, FLC_E_NAN, "cutoff_hz");
    options.above = (flc_curve_beyond)3;
    expect_no_meter(&options, &bad_body, curve, FLC_E_CHOICE, "above");
    options.below = (flc_curve_beyond)-1;
    expect_no_meter(&options, &bad_body, curve, FLC_E_CHOICE, "below");
    options.name = "a tag of forty-eight bytes, one more than it holds";
    expect_no_meter(&options, &bad_body, curve, FLC_E_BUFFER, "name");
    options.name = "";
    expect_no_meter(&options, &bad_body, curve, FLC_E_MISSING, "name");
    options.name = NULL;
    expect_no_meter(&options, &bad_body, curve, FLC_E_MISSING, "name");
    options.size = 0;
    expect_no_meter(&options, &bad_body, curve, FLC_E_SIZE, "options");
    flc_meter_options_init(&options);
    expect_no_meter(&options, &body, curve, FLC_E_MISSING, "name");
    flc_curve_free(curve);
}

static void test_every_allocation_may_fail(void **state)
{
    (void)state;
    const flc_meter_options options = invented_options();
    const flc_body_options body = invented_body();
    flc_curve *curve = invented_curve();
    const long before = flc_test_live_blocks();
    long failures = 0;
    for (long n = 1;; n++) {
        flc_meter *meter = NULL;
        flc_error error;
        flc_test_fail_allocation(n);
        const flc_status status = flc_meter_new(&options, &body, curve, &meter, &error);
        const int failed = flc_test_allocation_failed();
        flc_test_fail_allocation(0);
        if (!failed) {
            flc_meter_free(meter);
            break;
        }
        failures++;
        assert_int_equal(status, FLC_E_MEMORY);
        assert_int_equal(error.status, FLC_E_MEMORY);
        assert_null(meter);
        assert_int_equal(flc_test_live_blocks(), before);
    }
    assert_true(failures >= 2); /* the meter and its own curve */
    assert_int_equal(flc_test_live_blocks(), before);
    flc_curve_free(curve);
}

static void test_evaluating_takes_no_memory(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_POINTS);
    const long asked = flc_test_allocations();
    uint64_t seed = 51;
    for (int i = 0; i < 500; i++) {
        const flc_reading reading = invented_draw(&seed, 0);
        evaluated(meter, liquid, &reading);
    }
    assert_int_equal(flc_test_allocations(), asked);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

/* ---- what it was made from ---- */

#define BYTES 4096

static size_t bytes_of(const flc_meter *meter, uint8_t bytes[BYTES])
{
    size_t needed = 0, again = 0;
    assert_int_equal(flc_meter_canonical(meter, NULL, 0, &needed), FLC_E_BUFFER);
    assert_true(needed < BYTES);
    assert_int_equal(flc_meter_canonical(meter, bytes, needed, &again), FLC_OK);
    assert_int_equal(needed, again);
    assert_int_equal(flc_meter_canonical(NULL, bytes, needed, &again), FLC_E_NULL);
    assert_int_equal(flc_meter_canonical(meter, bytes, needed, NULL), FLC_E_NULL);
    return needed;
}

static void test_describe_makes_the_same_meter(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_HOLD_END, FLC_BEYOND_EXTEND_SLOPE), *again = NULL;
    flc_meter_options options;
    flc_body_options body;
    const flc_curve *curve;
    uint8_t first[BYTES], second[BYTES];
    assert_int_equal(flc_meter_describe(meter, &options, &body, &curve), FLC_OK);
    assert_int_equal(flc_meter_new(&options, &body, curve, &again, NULL), FLC_OK);
    const size_t needed = bytes_of(meter, first);
    assert_int_equal(bytes_of(again, second), needed);
    assert_memory_equal(first, second, needed);
    assert_int_equal(flc_meter_describe(NULL, &options, &body, &curve), FLC_E_NULL);
    assert_int_equal(flc_meter_describe(meter, NULL, &body, &curve), FLC_E_NULL);
    assert_int_equal(flc_meter_describe(meter, &options, NULL, &curve), FLC_E_NULL);
    assert_int_equal(flc_meter_describe(meter, &options, &body, NULL), FLC_E_NULL);
    flc_meter_free(meter);
    flc_meter_free(again);
}

#define CHANGES 18

/* Make the n-th field another one. */
static void change(int n, flc_meter_options *o, flc_body_options *b)
{
    double *const numbers[] = {&o->cutoff_hz,
                               &b->bore_m,
                               &b->t0_degc,
                               &b->p0_kpag,
                               &b->area_blocked,
                               &b->wall_m,
                               &b->housing.alpha_per_k,
                               &b->rotor.alpha_per_k,
                               &b->housing.modulus_gpa,
                               &b->housing.poisson,
                               &b->housing.t_low_degc,
                               &b->rotor.t_high_degc};
    const int count = sizeof numbers / sizeof numbers[0];
    if (n < count) {
        *numbers[n] = *numbers[n] * (1.0 + 0x1p-50);
    } else if (n == count) {
        o->name = "invented 25 mn";
    } else if (n == count + 1) {
        o->below = FLC_BEYOND_HOLD_END;
    } else if (n == count + 2) {
        o->above = FLC_BEYOND_HOLD_END;
    } else if (n == count + 3) {
        b->end = FLC_END_LAME_OPEN;
    } else if (n == count + 4) {
        b->rotor.provenance = FLC_FROM_MEMORY;
    } else {
        b->housing.source[0] = 'I';
    }
}

static void test_bytes_differ_where_any_field_does(void **state)
{
    (void)state;
    uint8_t bytes[CHANGES + 1][BYTES];
    size_t sizes[CHANGES + 1];
    for (int n = 0; n <= CHANGES; n++) {
        flc_meter_options options = invented_options();
        flc_body_options body = invented_body();
        if (n > 0) {
            change(n - 1, &options, &body);
        }
        flc_meter *meter = invented_meter_of(&options, &body);
        sizes[n] = bytes_of(meter, bytes[n]);
        for (int m = 0; m < n; m++) {
            assert_true(sizes[m] != sizes[n] || memcmp(bytes[m], bytes[n], sizes[n]) != 0);
        }
        flc_meter_free(meter);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_input_is_judged_and_the_first_bad_one_named),
        cmocka_unit_test(test_windows_and_frequencies_exclude_each_other),
        cmocka_unit_test(test_what_was_reached_before_the_failure),
        cmocka_unit_test(test_null_and_sizes),
        cmocka_unit_test(test_making_a_meter_is_judged),
        cmocka_unit_test(test_every_allocation_may_fail),
        cmocka_unit_test(test_evaluating_takes_no_memory),
        cmocka_unit_test(test_describe_makes_the_same_meter),
        cmocka_unit_test(test_bytes_differ_where_any_field_does),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
