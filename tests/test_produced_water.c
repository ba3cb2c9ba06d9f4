/* SPDX-License-Identifier: Apache-2.0 */
/* Produced water in the style of API MPMS 20.1. Expected values: sodium chloride solutions (Rogers and Pitzer 1982;
 * agreement), identities. The comparison with 40 digits is accuracy/methods_study.py. */
#include "check.h"

#include "family_inputs.h"
#include "flowcomp/produced_water.h"

static double ctl60(double rho60, double t_degf)
{
    double ctl = 0.0;
    assert_int_equal(flc_ctl60_produced_water_api20(rho60, t_degf, &ctl), FLC_OK);
    return ctl;
}

/* Quotients of specific volumes of Rogers and Pitzer at 0.25, 1 and 2 mol/kg (published): within 3e-4. */
static void sodium_chloride(void **unused)
{
    (void)unused;
    static const double rows[][3] = {{1009.441, 50.0, 1.0009},  {1009.441, 158.0, 0.9782}, {1039.103, 86.0, 0.9955},
                                     {1039.103, 158.0, 0.9769}, {1075.830, 50.0, 1.0017},  {1075.830, 158.0, 0.9758}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        flc_check_near(ctl60(rows[i][0], rows[i][1]), rows[i][2], 3.5e-4);
    }
}

/* The salinity limit: 4 mol/kg, 1141 kg/m3, is past it. */
static void strong_brine_is_refused(void **unused)
{
    (void)unused;
    double ctl = 0.0, rho60 = 0.0;
    assert_int_equal(flc_ctl60_produced_water_api20(1141.445, 158.0, &ctl), FLC_E_ABOVE);
    flc_check_nan(ctl);
    assert_int_equal(flc_ctl60_produced_water_api20(998.9, 158.0, &ctl), FLC_E_BELOW);
    /* observed: the limit is met at 60 degF, whatever the temperature */
    const double limit = 1100.0 * ctl60(1100.0, 158.0), fresh = 999.0 * ctl60(999.0, 158.0);
    assert_int_equal(flc_rho60_from_observed_produced_water_api20(limit, 158.0, NAN, &rho60), FLC_OK);
    flc_check_relative(rho60, 1100.0, 1e-15);
    assert_int_equal(flc_rho60_from_observed_produced_water_api20(limit + 1e-9, 158.0, NAN, &rho60), FLC_E_NO_ROOT);
    flc_check_nan(rho60);
    assert_int_equal(flc_rho60_from_observed_produced_water_api20(fresh, 158.0, NAN, &rho60), FLC_OK);
    flc_check_relative(rho60, 999.0, 1e-15);
    assert_int_equal(flc_rho60_from_observed_produced_water_api20(fresh - 1e-9, 158.0, NAN, &rho60), FLC_E_NO_ROOT);
}

/* --- identities --------------------------------------------------------------------------------------------------- */

static void one_at_the_base(void **unused)
{
    (void)unused;
    for (double rho60 = 999.0; rho60 <= 1100.0; rho60 += 10.1) {
        double ctl;
        flc_check_same_bits(ctl60(rho60, 60.0), 1.0);
        assert_int_equal(flc_ctl_produced_water_api20(rho60, 140.0 / 9.0, 60.0, &ctl), FLC_OK);
        flc_check_relative(ctl, ctl60(rho60, 140.0), 1e-14); /* 140/9 degC is 60 degF but for its rounding */
        assert_int_equal(flc_ctl_produced_water_api20(rho60 - 5.0 < 999.0 ? 999.0 : rho60 - 5.0, 20.0, 20.0, &ctl),
                         FLC_OK);
        flc_check_same_bits(ctl, 1.0);
    }
}

/* The heavier, the steeper; and rho60 CTL rises with rho60, so that the inverse is unique. */
static void monotony(void **unused)
{
    (void)unused;
    for (double t = 40.0; t <= 200.0; t += 4.0) {
        for (double rho60 = 999.0; rho60 < 1100.0; rho60 += 1.0) {
            assert_true((rho60 + 1.0) * ctl60(rho60 + 1.0, t) > rho60 * ctl60(rho60, t));
            assert_true(t > 196.0 || ctl60(rho60, t + 4.0) < ctl60(rho60, t));
        }
    }
}

static void out_and_back(void **unused)
{
    (void)unused;
    for (double t = 40.0; t <= 200.0; t += 8.0) {
        for (double p = 0.0; p <= 1500.0; p += 300.0) {
            for (double rho60 = 1000.0; rho60 < 1100.0; rho60 += 7.7) {
                double back;
                const double rho = rho60 * ctl60(rho60, t) / (1.0 - 3.2e-6 * p);
                if (rho >= 950.0 && rho <= 1110.0) {
                    assert_int_equal(flc_rho60_from_observed_produced_water_api20(rho, t, p, &back), FLC_OK);
                    flc_check_relative(back, rho60, 1e-15);
                }
            }
        }
    }
}

/* An observation to 20 degC, and the CTL from there, close on the observation. */
static void any_base(void **unused)
{
    (void)unused;
    double rho20, ctl, same;
    const double cpl = 1.0 / (1.0 - 3.2e-6 * (2000.0 / 6.894757));
    assert_int_equal(flc_rho_base_from_observed_produced_water_api20(1040.0, 65.0, 20.0, 2000.0, &rho20), FLC_OK);
    assert_int_equal(flc_ctl_produced_water_api20(rho20, 20.0, 65.0, &ctl), FLC_OK);
    flc_check_relative(rho20 * ctl * cpl, 1040.0, 2e-15);
    assert_int_equal(flc_rho_base_from_observed_produced_water_api20(1040.0, 65.0, 65.0, NAN, &same), FLC_OK);
    flc_check_relative(same, 1040.0, 1e-15);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_produced_water_api20", NULL};
    flc_check_family_inputs(ends, 4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sodium_chloride),
        cmocka_unit_test(strong_brine_is_refused),
        cmocka_unit_test(one_at_the_base),
        cmocka_unit_test(monotony),
        cmocka_unit_test(out_and_back),
        cmocka_unit_test(any_base),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
