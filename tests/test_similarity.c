/* SPDX-License-Identifier: Apache-2.0 */
/* The similarity numbers: identities between them, a worked example carried through by hand, and slopes against
 * differences of the formulas themselves. */
#include "check.h"
#include "flowcomp/similarity.h"
#include "similarity_core.h"
#include <math.h>

#define OK(call) assert_int_equal((call), FLC_OK)
#define REFUSED(call, status)               \
    do {                                    \
        result = 1.0;                       \
        assert_int_equal((call), (status)); \
        flc_check_nan(result);              \
    } while (0)

/* Ro = St Re = f D/V x V D/nu for meters of all sizes, by different formulas on either side. */
static void roshko_is_strouhal_times_reynolds(void **state)
{
    (void)state;
    for (double d = 5.0; d < 600.0; d *= 1.7) {
        for (double nu = 0.3; nu < 500.0; nu *= 3.1) {
            const double k = 8e5, q = d * d / 10.0;
            double f, v, st, re, ro, over, ro_over, back;
            OK(flc_pulse_frequency_hz(k, q, NAN, &f));
            OK(flc_pipe_velocity_m_per_s(q, d, &v));
            OK(flc_strouhal(k, d, NAN, &st));
            OK(flc_reynolds(q, d, nu, &re));
            OK(flc_roshko(f, d, nu, &ro));
            OK(flc_frequency_over_viscosity(f, nu, &over));
            OK(flc_roshko_from_frequency_over_viscosity(over, d, &ro_over));
            OK(flc_reynolds_from_roshko(ro, st, &back));
            flc_check_relative(ro, st * re, 2e-15);
            flc_check_relative(st, f * (d / 1e3) / v, 2e-15);
            flc_check_relative(re, v * (d / 1e3) / (nu / 1e6), 2e-15);
            flc_check_relative(ro_over, ro, 2e-15);
            flc_check_relative(back, re, 2e-15);
        }
    }
}

/* A 1 inch meter by hand: D = 25.4 mm, K = 1000 pulses per US gallon (231 in3, exact), Q = 60 L/min, nu = 1.2 mm2/s;
 * then at 60 degC with alpha = 16e-6 1/K, f = 250 Hz, nu = 0.6 mm2/s. Recomputed apart from the library. */
static void worked_example(void **state)
{
    (void)state;
    double result;
    OK(flc_pulse_frequency_hz(1000.0, 60.0, NAN, &result));
    flc_check_near(result, 264.172, 0.0005);
    OK(flc_pipe_velocity_m_per_s(60.0, 25.4, &result));
    flc_check_near(result, 1.97353, 0.000005);
    OK(flc_strouhal(1000.0, 25.4, NAN, &result));
    flc_check_near(result, 3.39999, 0.000005);
    OK(flc_reynolds(60.0, 25.4, 1.2, &result));
    flc_check_near(result, 41773.0, 0.5);
    OK(flc_roshko(264.172, 25.4, 1.2, &result));
    flc_check_near(result, 142028.0, 0.5);
    OK(flc_roshko_from_frequency_over_viscosity(1.0, 25.4, &result));
    flc_check_relative(result, 645.16, 1e-15); /* 25.4 squared */
    OK(flc_diameter_ratio(16e-6, 60.0, 20.0, &result));
    flc_check_relative(result, 1.00064, 1e-15);
    OK(flc_roshko_compensated(250.0, 25.4, 0.6, 16e-6, 60.0, 20.0, &result));
    flc_check_near(result, 269161.0, 0.5);
    OK(flc_flow_from_strouhal_lpm(250.0, 3.39999, 25.4, 16e-6, 60.0, 20.0, &result));
    flc_check_near(result, 56.8903, 0.00005);
    OK(flc_flow_from_strouhal_lpm(250.0, 3.39999, 25.4, 0.0, 60.0, 20.0, &result));
    flc_check_near(result, 56.7812, 0.00005);
    OK(flc_pulse_frequency_hz(3.0, NAN, 200.0, &result));
    flc_check_relative(result, 10.0, 1e-15); /* common practice, no source: 3 pulses a gallon at 200 gallons a minute */
}

/* There and back: K to St to K; f to Q to f; a US gallon is 3.785411784 L, so both units of K and of Q agree. */
static void there_and_back(void **state)
{
    (void)state;
    double st, same, k, q, f, other;
    OK(flc_strouhal(NAN, 25.4, 264172.0, &st));
    OK(flc_k_from_strouhal_per_m3(st, 25.4, &k));
    flc_check_relative(k, 264172.0, 2e-15);
    OK(flc_strouhal(264172.0 * 3.785411784e-3, 25.4, NAN, &same));
    flc_check_relative(same, st, 2e-15);
    OK(flc_flow_from_strouhal_lpm(250.0, st, 25.4, 16e-6, 20.0, 20.0, &q));
    OK(flc_pulse_frequency_hz(k * 3.785411784e-3, q, NAN, &f));
    flc_check_relative(f, 250.0, 2e-15);
    OK(flc_pulse_frequency_hz(1000.0, NAN, 60.0 / 3.785411784, &f));
    OK(flc_pulse_frequency_hz(1000.0, 60.0, NAN, &other));
    flc_check_relative(f, other, 2e-15);
    flc_check_relative(flc_k(flc_st(k, 0.0254), 0.0254), k, 2e-15);
    flc_check_same_bits(FLC_PI, acos(-1.0));
}

/* The normalised convention is the dimensionless one over (pi/4) D0^3 and D0^2. */
static void normalised_convention(void **state)
{
    (void)state;
    const double d0 = 25.4, k = 264172.0, growth = 1.00064, pi = acos(-1.0);
    double st, ro, normal_st, normal_ro;
    OK(flc_strouhal(NAN, d0 * growth, k, &st));
    OK(flc_roshko(250.0, d0 * growth, 0.6, &ro));
    OK(flc_strouhal_normalised(k, growth, &normal_st));
    OK(flc_roshko_normalised(250.0, 0.6, growth, &normal_ro));
    flc_check_relative(normal_st * pi / 4.0 * pow(d0 / 1e3, 3.0), st, 2e-15);
    flc_check_relative(normal_ro * d0 * d0, ro, 2e-15);
}

/* Q = c f D^3/Ro^s with Ro = f D^2/nu: the sensitivities are its logarithmic slopes. */
static double flow_of(double s, double f, double nu, double d)
{
    return f * d * d * d / pow(f * d * d / nu, s);
}

static void sensitivities_are_slopes(void **state)
{
    (void)state;
    const double h = 1e-5, s = 0.02;
    double result;
    OK(flc_flow_sensitivity_pct(s, 1.0, NAN, NAN, &result));
    flc_check_near(result, log(flow_of(s, 200.0, 2.0 * exp(h), 0.03) / flow_of(s, 200.0, 2.0, 0.03)) / h, 1e-9);
    OK(flc_flow_sensitivity_pct(s, 0.0, 1.0, NAN, &result));
    flc_check_near(result, log(flow_of(s, 200.0 * exp(h), 2.0, 0.03) / flow_of(s, 200.0, 2.0, 0.03)) / h, 1e-9);
    OK(flc_flow_sensitivity_pct(s, 0.0, NAN, 1.0, &result));
    flc_check_near(result, log(flow_of(s, 200.0, 2.0, 0.03 * exp(h)) / flow_of(s, 200.0, 2.0, 0.03)) / h, 1e-9);
    OK(flc_flow_sensitivity_pct(s, 5.0, 0.1, 0.01, &result));
    flc_check_near(result, 0.2276, 1e-15); /* 0.98 x 0.1 + 0.02 x 5 + 2.96 x 0.01 */
    OK(flc_curve_error_pct(1.01, 1.0, &result));
    flc_check_near(result, 1.0, 1e-14);
    OK(flc_curve_error_pct(3.4, 3.4, &result));
    flc_check_same_bits(result, 0.0);
    OK(flc_bearing_term_per_n_m2(800.0, 0.005, &result));
    flc_check_relative(result, 50.0, 1e-15); /* 1/(800 x 25e-6) */
}

static void refused(void **state)
{
    (void)state;
    double result;
    REFUSED(flc_pulse_frequency_hz(1000.0, NAN, NAN, &result), FLC_E_MISSING);
    REFUSED(flc_pulse_frequency_hz(1000.0, 60.0, 16.0, &result), FLC_E_CONFLICT);
    REFUSED(flc_strouhal(NAN, 25.4, NAN, &result), FLC_E_MISSING);
    REFUSED(flc_strouhal(1000.0, 25.4, 264172.0, &result), FLC_E_CONFLICT);
    REFUSED(flc_strouhal(NAN, NAN, NAN, &result), FLC_E_NAN);
    REFUSED(flc_roshko(NAN, 25.4, 1.0, &result), FLC_E_NAN);
    REFUSED(flc_roshko(100.0, INFINITY, 1.0, &result), FLC_E_INFINITE);
    REFUSED(flc_roshko(100.0, 25.4, 0.0, &result), FLC_E_BELOW);
    REFUSED(flc_roshko(-1.0, 25.4, 1.0, &result), FLC_E_BELOW);
    REFUSED(flc_reynolds(60.0, 25.4, 1e9, &result), FLC_E_ABOVE);
    REFUSED(flc_flow_sensitivity_pct(0.02, NAN, NAN, NAN, &result), FLC_E_NAN);
    REFUSED(flc_flow_sensitivity_pct(0.02, 1.0, INFINITY, NAN, &result), FLC_E_INFINITE);
    assert_int_equal(flc_roshko(100.0, 25.4, 1.0, NULL), FLC_E_NULL);
    OK(flc_roshko(0.0, 25.4, 1.0, &result)); /* standing still is no error */
    flc_check_same_bits(result, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(roshko_is_strouhal_times_reynolds),
        cmocka_unit_test(worked_example),
        cmocka_unit_test(there_and_back),
        cmocka_unit_test(normalised_convention),
        cmocka_unit_test(sensitivities_are_slopes),
        cmocka_unit_test(refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
