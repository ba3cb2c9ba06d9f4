/* SPDX-License-Identifier: Apache-2.0 */
/* Viscosity under pressure. Expected values: the table of mineral oils in Stachowiak and Batchelor, Engineering
 * Tribology (published alpha), identities. The comparison with 40 digits is accuracy/methods_study.py. */
#include "check.h"

#include "family_inputs.h"
#include "flowcomp/viscosity_pressure.h"

/* Viscosity and alpha at atmospheric pressure, Table 2.3: mPa s, 1/GPa. */
static const double oils[][2] = {{45.0, 28.0}, {12.0, 20.0},  {3.9, 16.0},   {153.0, 23.7}, {34.0, 20.5},
                                 {9.1, 15.8},  {810.0, 34.0}, {135.0, 28.0}, {26.8, 22.0},  {18.6, 20.0},
                                 {6.3, 16.0},  {2.4, 13.0},   {107.0, 29.6}, {23.3, 22.8},  {6.4, 17.8}};
#define OILS (sizeof oils / sizeof oils[0])

static double roelands(double mu0, double alpha, double p)
{
    double mu;
    assert_int_equal(flc_mu_roelands(mu0, alpha, p, NAN, NAN, NAN, &mu), FLC_OK);
    return mu;
}

/* Z of an alpha and alpha of that Z; Z of mineral oils is about 0.5 to 0.9 (Stachowiak and Batchelor). */
static void alpha_and_z(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < OILS; i++) {
        double z, alpha;
        assert_int_equal(flc_z_roelands(oils[i][0], oils[i][1], &z), FLC_OK);
        assert_true(z > 0.4 && z < 1.0);
        assert_int_equal(flc_alpha_roelands(oils[i][0], z, &alpha), FLC_OK);
        flc_check_relative(alpha, oils[i][1], 4e-16);
    }
}

/* Nothing happens at the pressure of mu0; both start with slope alpha; 10 MPa is +15 to +35 % for an oil. */
static void start_together(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < OILS; i++) {
        double barus, slope;
        assert_int_equal(flc_mu_barus(oils[i][0], oils[i][1], 0.0, &barus), FLC_OK);
        flc_check_same_bits(barus, oils[i][0]);
        flc_check_same_bits(roelands(oils[i][0], oils[i][1], 0.0), oils[i][0]);
        assert_int_equal(flc_dlnmu_dp_roelands(oils[i][0], oils[i][1], 0.0, &slope), FLC_OK);
        flc_check_same_bits(slope, oils[i][1]);
        assert_int_equal(flc_mu_barus(oils[i][0], oils[i][1], 10.0, &barus), FLC_OK);
        assert_true(barus > 1.13 * oils[i][0] && barus < 1.41 * oils[i][0]);
        flc_check_relative(roelands(oils[i][0], oils[i][1], 10.0), barus, 0.005);
        assert_true(roelands(oils[i][0], oils[i][1], 200.0) < oils[i][0] * exp(0.2 * oils[i][1]));
    }
}

/* The slope is the derivative: by differences of ln mu over 2 MPa. */
static void slope_is_the_derivative(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < OILS; i++) {
        for (double p = 5.0; p <= 300.0; p += 59.0) {
            double slope;
            assert_int_equal(flc_dlnmu_dp_roelands(oils[i][0], oils[i][1], p, &slope), FLC_OK);
            const double difference =
                log(roelands(oils[i][0], oils[i][1], p + 1.0) / roelands(oils[i][0], oils[i][1], p - 1.0));
            flc_check_relative(slope, 1000.0 * difference / 2.0, 1e-5);
        }
    }
}

/* With S0 of a temperature coefficient, ln mu at p = 0 falls by that coefficient at T0; T = T0 changes nothing. */
static void temperature_factor(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < OILS; i++) {
        const double mu0 = oils[i][0], t0 = 313.15, beta = 0.04;
        double s0, warm, cold, same;
        assert_int_equal(flc_s0_roelands(mu0, beta, t0, &s0), FLC_OK);
        assert_int_equal(flc_mu_roelands(mu0, oils[i][1], 0.0, t0 + 0.01, t0, s0, &warm), FLC_OK);
        assert_int_equal(flc_mu_roelands(mu0, oils[i][1], 0.0, t0 - 0.01, t0, s0, &cold), FLC_OK);
        flc_check_relative(log(cold / warm) / 0.02, beta, 1e-6);
        assert_int_equal(flc_mu_roelands(mu0, oils[i][1], 50.0, t0, t0, s0, &same), FLC_OK);
        flc_check_same_bits(same, roelands(mu0, oils[i][1], 50.0));
    }
}

/* Kouzel: 1 at zero gauge; the API variant 1 at 1.0133 bar; both rise with pressure and with mu0. */
static void kouzel(void **unused)
{
    (void)unused;
    double mu, before = 0.0;
    assert_int_equal(flc_mu_kouzel_1965(30.0, 0.0, &mu), FLC_OK);
    flc_check_same_bits(mu, 30.0);
    assert_int_equal(flc_mu_kouzel_api(30.0, 0.10133, &mu), FLC_OK);
    flc_check_relative(mu, 30.0, 1e-15);
    for (double mu0 = 0.1; mu0 <= 1000.0; mu0 *= 10.0) {
        assert_int_equal(flc_mu_kouzel_1965(mu0, 10.0, &mu), FLC_OK);
        assert_true(mu / mu0 > 1.0 && mu / mu0 > before);
        before = mu / mu0;
    }
}

static void refusals(void **unused)
{
    (void)unused;
    double mu;
    assert_int_equal(flc_mu_roelands(10.0, 20.0, 1.0, 313.15, NAN, 1.0, &mu), FLC_E_MISSING);
    flc_check_nan(mu);
    assert_int_equal(flc_mu_roelands(10.0, 20.0, 1.0, NAN, NAN, 1.0, &mu), FLC_E_MISSING);
    assert_int_equal(flc_mu_roelands(0.1, 200.0, 1000.0, NAN, NAN, NAN, &mu), FLC_E_DOMAIN); /* over 1e308 */
    flc_check_nan(mu);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_barus", "_roelands", "_kouzel_1965", "_kouzel_api", NULL};
    flc_check_family_inputs(ends, 8);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(alpha_and_z),
        cmocka_unit_test(start_together),
        cmocka_unit_test(slope_is_the_derivative),
        cmocka_unit_test(temperature_factor),
        cmocka_unit_test(kouzel),
        cmocka_unit_test(refusals),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
