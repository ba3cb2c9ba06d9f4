/* SPDX-License-Identifier: Apache-2.0 */
/* Saybolt seconds and viscosity units. Expected values: printed factors of ASTM D2161, a published inverse (doc-test of
 * an open-source library), a pump standard's table, exact definitions, identities. The comparison with 40 digits is
 * accuracy/methods_study.py. */
#include "check.h"

#include "draws.h"
#include "family_inputs.h"
#include "flowcomp/viscosity_units.h"

static double sus_of(double nu, double t)
{
    double sus;
    assert_int_equal(flc_sus_d2161(nu, t, &sus), FLC_OK);
    return sus;
}

static double nu_of(double sus, double t)
{
    double nu;
    assert_int_equal(flc_nu_from_sus_d2161(sus, t, &nu), FLC_OK);
    return nu;
}

/* --- facts from outside ------------------------------------------------------------------------------------------- */

static void published_values(void **unused)
{
    (void)unused;
    double factor;
    assert_int_equal(flc_sus_factor_d2161(100.0, &factor), FLC_OK);
    flc_check_same_bits(factor, 4.632);
    assert_int_equal(flc_sus_factor_d2161(210.0, &factor), FLC_OK);
    flc_check_same_bits(factor, 4.664);
    flc_check_near(nu_of(700.0, 100.0), 151.08914751515542, 5e-12);
}

/* Conversion table of the Hydraulic Institute, SUS and mm2/s at 100 degF: within 1.6 % and its rounding. */
static void another_table(void **unused)
{
    (void)unused;
    static const double rows[][2] = {{40.0, 4.3},   {60.0, 10.3},  {80.0, 15.7},  {100.0, 20.6},
                                     {150.0, 32.1}, {200.0, 43.2}, {250.0, 54.0}, {300.0, 65.0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        flc_check_near(nu_of(rows[i][0], 100.0), rows[i][1], 0.016 * rows[i][1] + 0.05);
    }
}

/* foot 0.3048 m, inch 0.0254 m, pound 0.45359237 kg, gravity 9.80665 m/s2. */
static void exact_units(void **unused)
{
    (void)unused;
    double result;
    assert_int_equal(flc_nu_mm2s_from_ft2s(1.0, &result), FLC_OK);
    flc_check_same_bits(result, 92903.04);
    assert_int_equal(flc_nu_mm2s_from_in2s(1.0, &result), FLC_OK);
    flc_check_same_bits(result, 645.16);
    assert_int_equal(flc_mu_mpas_from_reyn(1.0, &result), FLC_OK);
    flc_check_relative(result, 0.45359237 * 9.80665 / (0.0254 * 0.0254) * 1000.0, 5e-16);
    assert_int_equal(flc_mu_mpas_from_lb_ft_s(0.3048, &result), FLC_OK);
    flc_check_relative(result, 453.59237, 4e-16);
    assert_int_equal(flc_mu_from_nu_rho(1.0, 1000.0, &result), FLC_OK);
    flc_check_same_bits(result, 1.0);
}

/* --- identities --------------------------------------------------------------------------------------------------- */

/* Up and back, both pieces, any temperature, and the ends of the equation. */
static void universal_round_trip(void **unused)
{
    (void)unused;
    uint64_t seed = 5;
    static const double ends[] = {1.81, 500.0, 501.0, 2e7};
    for (int i = 0; i < 4000; i++) {
        double nu = exp(flc_draw_between(&seed, log(1.81), log(2e7)));
        nu = i < 4 ? ends[i] : nu;
        const double t = i % 3 == 0 ? 100.0 : i % 3 == 1 ? 210.0 : flc_draw_between(&seed, 0.0, 500.0);
        if (nu > 500.0 && nu < 500.1) {
            continue; /* has the equation's viscosity too */
        }
        flc_check_relative(nu_of(sus_of(nu, t), t), nu, 3e-15);
    }
}

/* At 500 mm2/s: 2316.208 SUS by the equation, 2316.0 by the factor at 100 degF; 2331.75 and 2332.0 at 210 degF. */
static void pieces_do_not_meet(void **unused)
{
    (void)unused;
    flc_check_near(sus_of(500.0, 100.0), 2316.208, 5e-4);
    flc_check_near(sus_of(nextafter(500.0, 1e9), 100.0), 2316.0, 1e-9);
    assert_true(nu_of(2316.1, 100.0) < 500.0);
    flc_check_near(nu_of(2316.3, 100.0), 2316.3 / 4.632, 1e-12);
    flc_check_near(sus_of(500.0, 210.0), 2331.75, 5e-3);
    const double in_gap = nu_of(2331.9, 210.0);
    flc_check_near(in_gap, 2331.9 / 4.664, 1e-12);
    assert_true(in_gap < 500.0);
}

static void seconds_rise(void **unused)
{
    (void)unused;
    double before = 0.0, furol_before[] = {0.0, 0.0};
    for (double nu = 50.0; nu < 2e7; nu *= 1.02) {
        static const double at[] = {122.0, 210.0};
        for (size_t i = 0; i < 2; i++) {
            double furol;
            assert_int_equal(flc_sfs_d2161(nu, at[i], &furol), FLC_OK);
            assert_true(furol > furol_before[i]);
            furol_before[i] = furol;
            if (nu > 200.0) {
                flc_check_relative(furol, 0.1 * sus_of(nu, at[i]), 0.03); /* a tenth of Universal seconds */
            }
            double back;
            assert_int_equal(flc_nu_from_sfs_d2161(furol, at[i], &back), FLC_OK);
            flc_check_relative(back, nu, 3e-15);
        }
    }
    for (double nu = 1.81; nu <= 500.0; nu *= 1.01) {
        assert_true(sus_of(nu, 150.0) > before);
        before = sus_of(nu, 150.0);
    }
}

static void dynamic_and_kinematic(void **unused)
{
    (void)unused;
    uint64_t seed = 6;
    for (int i = 0; i < 200; i++) {
        const double nu = exp(flc_draw_between(&seed, -2.0, 10.0)), rho = flc_draw_between(&seed, 500.0, 1500.0);
        double mu, back;
        assert_int_equal(flc_mu_from_nu_rho(nu, rho, &mu), FLC_OK);
        assert_int_equal(flc_nu_from_mu_rho(mu, rho, &back), FLC_OK);
        flc_check_relative(back, nu, 6e-16);
    }
}

/* --- refusals ----------------------------------------------------------------------------------------------------- */

static void refusals(void **unused)
{
    (void)unused;
    double result;
    assert_int_equal(flc_nu_from_sus_d2161(31.5, 100.0, &result), FLC_E_BELOW);
    flc_check_nan(result);
    assert_int_equal(flc_nu_from_sus_d2161(9.9e7, 100.0, &result), FLC_E_ABOVE);
    assert_int_equal(flc_sfs_d2161(60.0, 140.0, &result), FLC_E_DOMAIN);
    assert_int_equal(flc_nu_from_sfs_d2161(60.0, 140.0, &result), FLC_E_DOMAIN);
    assert_int_equal(flc_sfs_d2161(49.0, 122.0, &result), FLC_OK);
    assert_int_equal(flc_sfs_d2161(49.0, 210.0, &result), FLC_E_BELOW);
    assert_int_equal(flc_nu_from_sfs_d2161(25.1, 122.0, &result), FLC_E_BELOW); /* 48 mm2/s are 25.112 */
    assert_int_equal(flc_nu_from_sfs_d2161(25.1, 210.0, &result), FLC_E_BELOW); /* 50 mm2/s are 25.172 */
    assert_int_equal(flc_nu_from_sfs_d2161(9.8e6, 210.0, &result), FLC_E_ABOVE);
    flc_check_nan(result);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_d2161",     "mu_from_nu_rho",  "nu_from_mu_rho",     "_mm2s_from_ft2s",
                                       "_from_in2s", "_mpas_from_reyn", "_mpas_from_lb_ft_s", NULL};
    flc_check_family_inputs(ends, 11);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_values),
        cmocka_unit_test(another_table),
        cmocka_unit_test(exact_units),
        cmocka_unit_test(universal_round_trip),
        cmocka_unit_test(pieces_do_not_meet),
        cmocka_unit_test(seconds_rise),
        cmocka_unit_test(dynamic_and_kinematic),
        cmocka_unit_test(refusals),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
