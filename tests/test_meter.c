/* SPDX-License-Identifier: Apache-2.0 */
/* One record through the meter: the worked example, the sensitivities against finite differences, what pulses and times
 * may be, the ends of the curve, and the bound for partial flow against a scan. Refusals: test_meter_refusals.c; whole
 * records to 17 digits: test_whole_records.c. */
#include "example_meter.h"

static flc_liquid *measured_liquid(void)
{
    return invented_liquid(FLC_VOLUME_NONE, FLC_VISCOSITY_MEASURED);
}

static flc_liquid *light_fuel(void)
{
    return invented_liquid(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_POINTS);
}

static flc_reading frequency_reading(double f_hz, double nu_mm2s, double t_degc)
{
    flc_reading reading;
    flc_reading_init(&reading);
    reading.f_hz = f_hz;
    reading.nu_mm2s = nu_mm2s;
    reading.t_degc = t_degc;
    reading.p_kpag = 100.0;
    return reading;
}

/* Notes on similarity 1.6 (computed): bore 25.4 mm at 20 degC, 16e-6 1/K, St 3.39999, 1000 pulses per US gallon. */
static void test_worked_example(void **state)
{
    (void)state;
    const double x[] = {8.0, 14.0}, st[] = {3.39999, 3.39999}, c[] = {3.39999, 0.0, 0.0, 0.0};
    flc_body_options body = invented_body();
    body.housing = body.rotor = invented_metal(16e-6);
    body.end = FLC_END_NONE;
    const flc_meter_options options = invented_options();
    flc_curve *curve = NULL;
    flc_meter *meter = NULL;
    flc_liquid *liquid = measured_liquid();
    assert_int_equal(flc_curve_new(invented_reference(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN), 2, x, st, c, &curve, NULL),
                     FLC_OK);
    assert_int_equal(flc_meter_new(&options, &body, curve, &meter, NULL), FLC_OK);
    flc_curve_free(curve); /* the meter has its own */
    flc_reading reading = frequency_reading(264.172, 1.2, 20.0);
    flc_result r = evaluated(meter, liquid, &reading);
    flc_check_near(r.ro, 142028.0, 0.5);
    flc_check_near(r.re, 41773.0, 0.5);
    flc_check_relative(r.k_per_m3, 264171.9, 3e-7);
    flc_check_relative(r.q_m3s * 60000.0, 60.0, 2e-6); /* six digits of St */
    reading = frequency_reading(250.0, 0.6, 60.0);
    r = evaluated(meter, liquid, &reading);
    flc_check_near(r.d_m / 0.0254, 1.00064, 1e-15);
    flc_check_near(r.ro, 269161.0, 0.5);
    flc_check_near(r.q_m3s * 60000.0, 56.8903, 5e-5);
    flc_check_near(r.re, r.ro / r.st, 1e-9); /* Ro = St Re, for one metal without pressure */
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

/* The record is what its parts give, put together by the formulas at the head of meter.h. */
static void test_a_record_is_the_sum_of_its_parts(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_curve *curve = invented_curve();
    flc_liquid *liquid = light_fuel();
    const flc_body_options body = invented_body();
    const flc_reading reading = invented_reading();
    const flc_result r = evaluated(meter, liquid, &reading);
    flc_body_state b;
    flc_volume_factors v;
    flc_curve_value at;
    double nu;
    uint32_t flags;
    assert_int_equal(flc_body_at(&body, 31.5, 420.0, &b), FLC_OK);
    assert_int_equal(flc_liquid_volume(liquid, &reading.density, 31.5, 420.0, &v), FLC_OK);
    assert_int_equal(flc_liquid_viscosity(liquid, 31.5, 812.5, NAN, &nu, &flags), FLC_OK);
    flc_check_same_bits(r.d_m, b.d_m);
    flc_check_same_bits(r.b_ratio, b.b_ratio);
    flc_check_same_bits(r.nu_mm2s, nu);
    flc_check_same_bits(r.ctl, v.ctl);
    flc_check_same_bits(r.cpl, v.cpl);
    flc_check_same_bits(r.rho_base_kgm3, 812.5);
    flc_check_same_bits(r.f_hz, 951019.0 / 3600.0);
    flc_check_relative(r.ro, r.f_hz * b.d_m * b.d_m * 1e6 / nu, 5e-16);
    assert_int_equal(flc_curve_at(curve, r.ro, FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE, &at), FLC_OK);
    flc_check_same_bits(r.st, at.st);
    flc_check_same_bits(r.slope, at.slope);
    const double pi = 3.14159265358979323846, d0 = body.bore_m;
    flc_check_relative(r.k_per_m3, 4.0 * at.st / (pi * d0 * d0 * d0) * b.b_ratio, 1e-15);
    flc_check_relative(r.q_m3s, r.f_hz / r.k_per_m3, 3e-16);
    flc_check_relative(r.v_m3, 951019.0 / r.k_per_m3, 3e-16);
    flc_check_relative(r.v_base_m3, r.v_m3 * v.ctl * v.cpl, 5e-16);
    flc_check_relative(r.q_base_m3s, r.q_m3s * v.ctl * v.cpl, 5e-16);
    flc_check_relative(r.re, 4.0 * r.q_m3s * 1e6 / (pi * b.d_m * nu), 1e-15);
    flc_check_relative(r.u_v_nu, fabs(at.slope) * 0.02, 3e-16);
    flc_check_same_bits(r.k_bound, 0.0);
    assert_int_equal(r.flags, FLC_FLAG_FROM_MEMORY);
    flc_curve_free(curve);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

/* d ln Q by central differences in f and nu through the meter, and in D by moving Ro alone. */
static void test_sensitivities_against_finite_differences(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_curve *curve = invented_curve();
    flc_liquid *liquid = measured_liquid();
    const double h = 1e-5;
    uint64_t seed = 31;
    for (int i = 0; i < 200; i++) {
        const double f = flc_draw_between(&seed, 30.0, 400.0), nu = flc_draw_between(&seed, 1.0, 4.0);
        const double t = flc_draw_between(&seed, -20.0, 100.0);
        const flc_reading middle = frequency_reading(f, nu, t);
        const flc_reading up[] = {frequency_reading(f * exp(h), nu, t), frequency_reading(f, nu * exp(h), t)};
        const flc_reading down[] = {frequency_reading(f * exp(-h), nu, t), frequency_reading(f, nu * exp(-h), t)};
        const flc_result r = evaluated(meter, liquid, &middle);
        double slope[2];
        for (size_t j = 0; j < 2; j++) {
            const double q_up = evaluated(meter, liquid, &up[j]).q_m3s,
                         q_down = evaluated(meter, liquid, &down[j]).q_m3s;
            slope[j] = log(q_up / q_down) / (2.0 * h);
        }
        flc_curve_value large, small; /* a bore larger by h: Ro by 2h, Q as 1/St */
        assert_int_equal(flc_curve_at(curve, r.ro * exp(2.0 * h), 0, 0, &large), FLC_OK);
        assert_int_equal(flc_curve_at(curve, r.ro * exp(-2.0 * h), 0, 0, &small), FLC_OK);
        flc_check_near(r.dlnq_dlnf, slope[0], 1e-8);
        flc_check_near(r.dlnq_dlnnu, slope[1], 1e-8);
        flc_check_near(r.dlnq_dlnd, -log(large.st / small.st) / (2.0 * h), 1e-8);
        flc_check_same_bits(r.dlnq_dlnb, -1.0); /* K is proportional to B */
        flc_check_near(r.slope, r.dlnq_dlnnu, 0.0);
    }
    flc_curve_free(curve);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

/* ---- no flow, cut-off, reverse ---- */

static void check_no_volume(const flc_result *r, uint32_t flags, double f_hz)
{
    assert_int_equal(r->status, FLC_OK);
    assert_int_equal(r->flags, flags);
    flc_check_same_bits(r->f_hz, f_hz);
    flc_check_same_bits(r->v_m3, 0.0); /* +0, whatever the sign of the pulses */
    flc_check_same_bits(r->v_base_m3, 0.0);
    flc_check_same_bits(r->q_m3s, 0.0);
    flc_check_same_bits(r->q_base_m3s, 0.0);
    const double nothing[] = {r->nu_mm2s,   r->d_m,       r->b_ratio, r->ro,     r->re,        r->st,
                              r->k_per_m3,  r->ctl,       r->cpl,     r->slope,  r->dlnq_dlnf, r->dlnq_dlnnu,
                              r->dlnq_dlnd, r->dlnq_dlnb, r->u_v_nu,  r->k_bound};
    for (size_t i = 0; i < sizeof nothing / sizeof nothing[0]; i++) {
        flc_check_nan(nothing[i]);
    }
}

static void test_no_pulses_need_nothing_else(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = light_fuel();
    static const double none[] = {0.0, -0.0};
    for (size_t i = 0; i < 2; i++) {
        flc_reading reading;
        flc_reading_init(&reading); /* temperature, pressure and density stay NaN */
        reading.pulses = none[i];
        reading.duration_s = 60.0;
        flc_result r = evaluated(meter, liquid, &reading);
        check_no_volume(&r, FLC_FLAG_NO_FLOW, 0.0);
        reading.pulses = reading.duration_s = NAN;
        reading.f_hz = none[i];
        reading.t_degc = INFINITY;
        r = evaluated(meter, liquid, &reading);
        assert_int_equal(r.flags, FLC_FLAG_NO_FLOW);
        flc_check_same_bits(r.q_m3s, 0.0);
        flc_check_nan(r.v_m3); /* a frequency has no window */
    }
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

static void test_the_cutoff_keeps_pulses_only(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_HOLD_END, FLC_BEYOND_REFUSE); /* cut-off 0.5 Hz */
    flc_liquid *liquid = light_fuel();
    flc_reading reading = invented_reading();
    reading.duration_s = 100.0;
    reading.pulses = 49.0;
    flc_result r = evaluated(meter, liquid, &reading);
    check_no_volume(&r, FLC_FLAG_BELOW_CUTOFF, 0.49);
    reading.pulses = -49.0;
    r = evaluated(meter, liquid, &reading);
    check_no_volume(&r, FLC_FLAG_BELOW_CUTOFF | FLC_FLAG_REVERSE, 0.49);
    reading.pulses = 50.0; /* at the cut-off: not under it */
    r = evaluated(meter, liquid, &reading);
    assert_int_equal(r.flags & FLC_FLAG_BELOW_CUTOFF, 0);
    assert_true(r.v_m3 > 0.0);
    reading.pulses = 49.0; /* under it on the mean, over it while flowing */
    reading.flowing_s = 90.0;
    r = evaluated(meter, liquid, &reading);
    assert_int_equal(r.flags & FLC_FLAG_BELOW_CUTOFF, 0);
    flc_check_same_bits(r.f_hz, 49.0 / 90.0);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

static void test_reverse_is_forward_with_the_sign_turned(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = light_fuel();
    flc_reading reading = invented_reading();
    const flc_result forward = evaluated(meter, liquid, &reading);
    reading.pulses = -reading.pulses;
    flc_result reverse = evaluated(meter, liquid, &reading);
    assert_int_equal(reverse.flags, forward.flags | FLC_FLAG_REVERSE);
    reverse.flags = forward.flags;
    reverse.q_m3s = -reverse.q_m3s;
    reverse.v_m3 = -reverse.v_m3;
    reverse.q_base_m3s = -reverse.q_base_m3s;
    reverse.v_base_m3 = -reverse.v_base_m3;
    check_same_result(&reverse, &forward);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

/* ---- the ends of the curve ---- */

static flc_reading reading_at_ln_ro(double x)
{
    flc_reading reading = frequency_reading(NAN, NAN, 20.0); /* D = D0 = 25.4 mm: Ro = f D0^2 1e6/nu */
    reading.pulses = 4e6;
    reading.duration_s = 40000.0;
    reading.nu_mm2s = 100.0 * 645.16 / exp(x);
    return reading;
}

static void test_beyond_the_curve_by_policy(void **state)
{
    (void)state;
    flc_liquid *liquid = measured_liquid();
    static const double x[] = {7.5, 14.0};
    static const flc_status refused[] = {FLC_E_BELOW_CURVE, FLC_E_ABOVE_CURVE};
    static const uint32_t side[] = {FLC_FLAG_BELOW_CURVE, FLC_FLAG_ABOVE_CURVE};
    static const double held[] = {3.10, 3.40}, extended[] = {3.10 - 0.5 * 0.36, 3.40 + 0.5 * 0.001};
    for (size_t end = 0; end < 2; end++) {
        const flc_reading reading = reading_at_ln_ro(x[end]);
        for (int policy = FLC_BEYOND_REFUSE; policy <= FLC_BEYOND_EXTEND_SLOPE; policy++) {
            const flc_curve_beyond this_end = (flc_curve_beyond)policy, other_end = FLC_BEYOND_HOLD_END;
            flc_meter *meter = end == 0 ? invented_meter(this_end, other_end) : invented_meter(other_end, this_end);
            flc_result r;
            flc_result_init(&r);
            flc_error error;
            const flc_status status = flc_meter_evaluate(meter, liquid, &reading, &r, &error);
            assert_int_equal(r.flags & (FLC_FLAG_BELOW_CURVE | FLC_FLAG_ABOVE_CURVE), side[end]);
            flc_check_relative(r.ro, exp(x[end]), 1e-14); /* always there, so that pulses can be told apart */
            if (policy == FLC_BEYOND_REFUSE) {
                assert_int_equal(status, refused[end]);
                assert_string_equal(error.argument, "ro");
                flc_check_same_bits(error.value, r.ro);
                flc_check_relative(error.limit, exp(end == 0 ? 8.0 : 13.5), 1e-14);
                flc_check_nan(r.st);
                flc_check_nan(r.v_m3);
            } else {
                assert_int_equal(status, FLC_OK);
                assert_true((r.flags & FLC_FLAG_EXTRAPOLATED) != 0);
                flc_check_relative(r.st, policy == FLC_BEYOND_HOLD_END ? held[end] : extended[end], 1e-14);
                assert_true(r.v_m3 > 0.0);
            }
            flc_meter_free(meter);
        }
    }
    flc_liquid_free(liquid);
}

/* ---- time with flow ---- */

/* An hour that ran for twenty minutes has three times the Roshko number that N/3600 s gives. */
static void test_flowing_time_sets_the_frequency(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = light_fuel();
    flc_reading reading = invented_reading();
    reading.pulses = 300000.0;
    reading.f_before_hz = 0.0; /* what would be partial flow is known here */
    const double mean = 300000.0 / 3600.0;
    reading.flowing_s = 1200.0;
    const flc_result by_seconds = evaluated(meter, liquid, &reading);
    flc_check_same_bits(by_seconds.f_hz, 250.0);
    assert_int_equal(by_seconds.flags, FLC_FLAG_FLOWING_KNOWN | FLC_FLAG_FROM_MEMORY);
    flc_check_same_bits(by_seconds.k_bound, 0.0);
    flc_check_relative(by_seconds.v_m3, 300000.0 / by_seconds.k_per_m3, 3e-16);
    reading.flowing_s = NAN;
    reading.f_flowing_hz = 250.0;
    const flc_result by_frequency = evaluated(meter, liquid, &reading);
    check_same_result(&by_frequency, &by_seconds);
    reading.f_flowing_hz = mean; /* flowing throughout */
    const flc_result throughout = evaluated(meter, liquid, &reading);
    flc_check_relative(by_seconds.ro / throughout.ro, 3.0, 1e-15);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

/* Largest |St/St(Ro) - 1| from f up to f_bound on a fine grid of the curve. */
static double scanned_bound(const flc_curve *curve, double ro, double f, double f_bound)
{
    flc_curve_value here, there;
    const flc_curve_beyond hold = FLC_BEYOND_HOLD_END;
    double worst = 0.0;
    assert_int_equal(flc_curve_at(curve, ro, hold, hold, &here), FLC_OK);
    for (int i = 0; i <= 4000; i++) {
        const double f_here = f * pow(f_bound / f, i / 4000.0);
        assert_int_equal(flc_curve_at(curve, ro * f_here / f, hold, hold, &there), FLC_OK);
        worst = fmax(worst, fabs(there.st / here.st - 1.0));
    }
    return worst;
}

static void test_partial_flow_is_bounded(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_HOLD_END, FLC_BEYOND_HOLD_END);
    flc_curve *curve = invented_curve();
    flc_liquid *liquid = measured_liquid();
    const double ro_top = exp(13.5);
    uint64_t seed = 41;
    int partial = 0;
    for (int i = 0; i < 300; i++) {
        flc_reading reading = reading_at_ln_ro(flc_draw_between(&seed, 7.5, 13.8)); /* 100 Hz on the mean */
        const uint64_t kind = flc_draw_below(&seed, 3);
        reading.f_before_hz = kind == 0 ? 0.0 : kind == 1 ? (double)NAN : flc_draw_between(&seed, 20.0, 900.0);
        reading.f_after_hz = flc_draw_below(&seed, 4) == 0 ? (double)NAN : flc_draw_between(&seed, 20.0, 900.0);
        reading.f_highest_hz = flc_draw_below(&seed, 2) == 0 ? (double)NAN : flc_draw_between(&seed, 50.0, 900.0);
        const flc_result r = evaluated(meter, liquid, &reading);
        const double near = fmax(reading.f_before_hz, reading.f_after_hz); /* fmax leaves a NaN out */
        /* suspected next to standstill, or under half of a neighbour */
        const int suspected = reading.f_before_hz == 0.0 || near > 200.0;
        assert_int_equal((r.flags & FLC_FLAG_PARTIAL_FLOW) != 0, suspected);
        if (!suspected) {
            flc_check_same_bits(r.k_bound, 0.0);
            continue;
        }
        partial++;
        const double f_top = 100.0 * ro_top / r.ro;
        const double f_bound = reading.f_highest_hz < f_top ? reading.f_highest_hz : f_top;
        if (r.ro >= ro_top) { /* nothing is known above the curve */
            if (!(reading.f_highest_hz <= 100.0)) {
                flc_check_nan(r.k_bound);
            }
            continue;
        }
        const double scan = f_bound > 100.0 ? scanned_bound(curve, r.ro, 100.0, f_bound) : 0.0;
        assert_true(r.k_bound >= scan * (1.0 - 1e-9) - 1e-15);
        flc_check_near(r.k_bound, scan, 1e-6); /* the grid misses a turning point by that much at most */
    }
    assert_true(partial > 100);
    flc_curve_free(curve);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

/* ---- the liquid's part ---- */

static void test_without_a_volume_method_there_is_no_base_volume(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_NONE, FLC_VISCOSITY_POINTS);
    flc_reading reading = invented_reading();
    reading.density.rho_base_kgm3 = NAN;
    const flc_result r = evaluated(meter, liquid, &reading);
    assert_int_equal(r.flags, FLC_FLAG_NO_VOLUME_CORRECTION);
    assert_true(r.v_m3 > 3.0 && r.v_m3 < 4.0); /* 951019 pulses at 264 172 a cubic metre */
    const double nothing[] = {r.v_base_m3, r.q_base_m3s, r.ctl, r.cpl, r.rho_base_kgm3};
    for (size_t i = 0; i < 5; i++) {
        flc_check_nan(nothing[i]);
    }
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

/* A NaN with a sign and a payload, as processors make it, does not leave as it came. */
static void test_only_the_one_nan_leaves(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = light_fuel();
    flc_reading reading = invented_reading();
    reading.f_hz = 264.0;
    reading.pulses = reading.duration_s = reading.flowing_s = NAN_OF_ANOTHER_KIND;
    const flc_result r = evaluated(meter, liquid, &reading);
    assert_int_equal(r.status, FLC_OK);
    flc_check_nan(r.v_m3);
    flc_check_nan(r.v_base_m3);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

/* Half of a neighbour's frequency is not yet partial flow; anything less is. */
static void test_half_of_a_neighbour_is_the_border(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_HOLD_END, FLC_BEYOND_HOLD_END);
    flc_liquid *liquid = measured_liquid();
    flc_reading reading = reading_at_ln_ro(10.0);
    flc_result r = evaluated(meter, liquid, &reading);
    const double twice = 2.0 * r.f_hz;
    double *const neighbours[] = {&reading.f_before_hz, &reading.f_after_hz};
    for (size_t i = 0; i < 2; i++) {
        *neighbours[i] = twice;
        assert_int_equal(evaluated(meter, liquid, &reading).flags & FLC_FLAG_PARTIAL_FLOW, 0);
        *neighbours[i] = nextafter(twice, INFINITY);
        assert_true((evaluated(meter, liquid, &reading).flags & FLC_FLAG_PARTIAL_FLOW) != 0);
        *neighbours[i] = NAN;
    }
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_worked_example),
        cmocka_unit_test(test_a_record_is_the_sum_of_its_parts),
        cmocka_unit_test(test_sensitivities_against_finite_differences),
        cmocka_unit_test(test_no_pulses_need_nothing_else),
        cmocka_unit_test(test_the_cutoff_keeps_pulses_only),
        cmocka_unit_test(test_reverse_is_forward_with_the_sign_turned),
        cmocka_unit_test(test_beyond_the_curve_by_policy),
        cmocka_unit_test(test_flowing_time_sets_the_frequency),
        cmocka_unit_test(test_partial_flow_is_bounded),
        cmocka_unit_test(test_half_of_a_neighbour_is_the_border),
        cmocka_unit_test(test_without_a_volume_method_there_is_no_base_volume),
        cmocka_unit_test(test_only_the_one_nan_leaves),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
