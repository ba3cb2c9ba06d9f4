/* SPDX-License-Identifier: Apache-2.0 */
/* Ethanol-water by OIML R 22. Expected values: densities quoted by R 22, the USP 29 alcoholometric table, 27 CFR 30.64
 * and densities of the International Critical Tables (older data: agreement), identities. The comparison with 40 digits
 * is accuracy/methods_study.py. */
#include "check.h"

#include "family_inputs.h"
#include "flowcomp/ethanol_oiml_r22.h"

#define DEGC_60F (140.0 / 9.0)

static double density(double p, double t)
{
    double rho = 0.0;
    assert_int_equal(flc_rho_ethanol_water_oiml_r22(p, t, &rho), FLC_OK);
    return rho;
}

static double mass_percent(double q, double t_ref)
{
    double percent = -1.0;
    assert_int_equal(flc_mass_percent_from_volume_fraction_ethanol_oiml_r22(q, t_ref, &percent), FLC_OK);
    return percent;
}

/* --- facts from outside ------------------------------------------------------------------------------------------- */

/* R 22: water and ethanol at 20 degC (from memory). International Critical Tables, mass fraction, degC, kg/m3
 * (published): older data, 0.125 kg/m3. */
static void published_densities(void **unused)
{
    (void)unused;
    flc_check_near(density(0.0, 20.0), 998.20, 0.005);
    flc_check_near(density(1.0, 20.0), 789.24, 0.005);
    static const double rows[][3] = {{0.45, 15.0, 928.52}, {0.50, 10.0, 921.62}, {0.60, 20.0, 891.13},
                                     {0.70, 40.0, 850.25}, {0.85, 10.0, 839.51}, {0.85, 40.0, 813.22}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        flc_check_near(density(rows[i][0], rows[i][1]), rows[i][2], 0.125);
    }
}

/* USP 29 (60 degF; published): volume to mass per cent, specific gravity in air at 25 degC; 27 CFR 30.64: gallons per
 * lb. */
static void published_tables(void **unused)
{
    (void)unused;
    static const double rows[][3] = {{0.10, 8.05, 0.9862}, {0.15, 12.14, 0.9802}, {0.25, 20.44, 0.9685}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double sg;
        flc_check_near(mass_percent(rows[i][0], DEGC_60F), rows[i][1], 0.0051);
        assert_int_equal(flc_sg_in_air_ethanol_oiml_r22(rows[i][0], DEGC_60F, 25.0, &sg), FLC_OK);
        flc_check_near(sg, rows[i][2], 1e-4);
    }
    double gal_per_lb;
    assert_int_equal(flc_gal_per_lb_in_air_ethanol_oiml_r22(190.0, &gal_per_lb), FLC_OK);
    flc_check_near(gal_per_lb, 0.14718, 2e-5);
    assert_int_equal(flc_gal_per_lb_in_air_ethanol_oiml_r22(200.0, &gal_per_lb), FLC_OK);
    flc_check_near(gal_per_lb, 0.15129, 2e-5);
}

/* --- identities --------------------------------------------------------------------------------------------------- */

/* Density falls and volume fraction rises with mass fraction, at every temperature: the inverses are unique. */
static void monotony(void **unused)
{
    (void)unused;
    for (double t = -20.0; t <= 40.0; t += 2.5) {
        for (double p = 0.0; p < 1.0; p += 0.0078125) {
            double before, after;
            assert_true(density(p + 0.0078125, t) < density(p, t));
            assert_int_equal(flc_volume_percent_from_mass_fraction_ethanol_oiml_r22(p, t, &before), FLC_OK);
            assert_int_equal(flc_volume_percent_from_mass_fraction_ethanol_oiml_r22(p + 0.0078125, t, &after), FLC_OK);
            assert_true(after > before);
        }
    }
}

static void out_and_back(void **unused)
{
    (void)unused;
    for (double t = -20.0; t <= 40.0; t += 7.5) {
        for (double p = 0.001; p < 1.0; p += 0.0111) {
            double volume, percent, rho;
            assert_int_equal(flc_volume_percent_from_mass_fraction_ethanol_oiml_r22(p, t, &volume), FLC_OK);
            flc_check_relative(mass_percent(volume / 100.0, t), 100.0 * p, 1e-15);
            assert_int_equal(flc_mass_percent_from_density_ethanol_oiml_r22(density(p, t), t, &percent), FLC_OK);
            flc_check_near(percent, 100.0 * p, 2e-11); /* weak mixtures at -20 degC: 1e-13 kg/m3 over 6 kg/m3 */
            assert_int_equal(flc_rho_base_from_observed_ethanol_water_oiml_r22(density(p, t), t, 20.0, &rho), FLC_OK);
            flc_check_relative(rho, density(p, 20.0), 4e-15);
        }
    }
}

/* Pure water and pure ethanol are ends of the inverses, exactly; past them there is no mixture. */
static void ends(void **unused)
{
    (void)unused;
    for (double t = -20.0; t <= 40.0; t += 3.0) {
        double percent;
        flc_check_same_bits(mass_percent(0.0, t), 0.0);
        flc_check_same_bits(mass_percent(1.0, t), 100.0);
        assert_int_equal(flc_mass_percent_from_density_ethanol_oiml_r22(density(0.0, t), t, &percent), FLC_OK);
        flc_check_near(percent, 0.0, 1e-11);
        assert_int_equal(flc_mass_percent_from_density_ethanol_oiml_r22(density(1.0, t), t, &percent), FLC_OK);
        flc_check_near(percent, 100.0, 1e-11);
        const double above = density(0.0, t) * (1.0 + 1e-15), below = density(1.0, t) * (1.0 - 1e-15);
        if (above <= 1000.0) {
            assert_int_equal(flc_mass_percent_from_density_ethanol_oiml_r22(above, t, &percent), FLC_E_NO_ROOT);
            flc_check_nan(percent);
        }
        assert_int_equal(flc_mass_percent_from_density_ethanol_oiml_r22(below, t, &percent), FLC_E_NO_ROOT);
        assert_int_equal(flc_rho15_from_observed_ethanol_water_oiml_r22(below, t, &percent), FLC_E_NO_ROOT);
        flc_check_nan(percent);
    }
}

static void bases(void **unused)
{
    (void)unused;
    for (double p = 0.0; p <= 1.0; p += 0.125) {
        double any, named, rho, sg;
        assert_int_equal(flc_ctl_ethanol_water_oiml_r22(p, 31.0, 31.0, &any), FLC_OK);
        flc_check_same_bits(any, 1.0);
        assert_int_equal(flc_ctl_ethanol_water_oiml_r22(p, 31.0, 15.0, &any), FLC_OK);
        assert_int_equal(flc_ctl15_ethanol_water_oiml_r22(p, 31.0, &named), FLC_OK);
        flc_check_same_bits(named, any);
        flc_check_relative(named * density(p, 15.0), density(p, 31.0), 4e-16);
        assert_int_equal(flc_ctl_ethanol_water_oiml_r22(p, 31.0, 20.0, &any), FLC_OK);
        assert_int_equal(flc_ctl20_ethanol_water_oiml_r22(p, 31.0, &named), FLC_OK);
        flc_check_same_bits(named, any);
        assert_int_equal(flc_rho20_from_observed_ethanol_water_oiml_r22(density(p, 31.0), 31.0, &rho), FLC_OK);
        flc_check_relative(rho, density(p, 20.0), 1e-15);
        assert_int_equal(flc_sg_in_air_ethanol_oiml_r22(0.0, 20.0, 31.0, &sg), FLC_OK);
        flc_check_same_bits(sg, 1.0);
    }
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends_of_names[] = {"_oiml_r22", NULL};
    flc_check_family_inputs(ends_of_names, 12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_densities),
        cmocka_unit_test(published_tables),
        cmocka_unit_test(monotony),
        cmocka_unit_test(out_and_back),
        cmocka_unit_test(ends),
        cmocka_unit_test(bases),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
