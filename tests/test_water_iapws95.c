/* SPDX-License-Identifier: Apache-2.0 */
/* IAPWS-95. Expected values: IAPWS R6-95 Table 7 and the fixed points of SR1-86 (from memory), identities. The
 * comparison with 40 digits is accuracy/methods_study.py, with two other implementations
 * python/test_agreement_aqueous.py. */
#include "check.h"

#include "family_inputs.h"
#include "flowcomp/water_iapws95.h"

static double pressure(double t, double rho)
{
    double p = 0.0;
    assert_int_equal(flc_p_water_iapws95(t, rho, &p), FLC_OK);
    return p;
}

static double saturation(double t)
{
    double p = 0.0;
    assert_int_equal(flc_p_saturation_water_sr1_86(t, &p), FLC_OK);
    return p;
}

static double density(double t, double p)
{
    double rho = 0.0;
    assert_int_equal(flc_rho_water_iapws95(t, p, &rho), FLC_OK);
    return rho;
}

/* --- facts from outside ------------------------------------------------------------------------------------------- */

/* R6-95 Table 7, 9 figures: K, kg/m3, MPa. */
static void table_7(void **unused)
{
    (void)unused;
    static const double rows[][4] = {
        {300.0, 996.5560, 0.0992418352, 5e-11}, {300.0, 1005.308, 20.0022515, 5e-8},
        {300.0, 1188.202, 700.004704, 5e-7},    {500.0, 0.435, 0.0999679423, 5e-11},
        {500.0, 4.532, 0.999938125, 5e-10},     {500.0, 838.025, 10.0003858, 5e-8},
        {500.0, 1084.564, 700.000405, 5e-7},    {647.0, 358.0, 22.0384756, 5e-8},
        {900.0, 0.241, 0.100062559, 5e-10},     {900.0, 52.615, 20.0000690, 5e-8},
        {900.0, 870.769, 700.000006, 5e-7},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        flc_check_near(pressure(rows[i][0], rows[i][1]), rows[i][2], rows[i][3]);
    }
}

/* Critical point 647.096 K, 322 kg/m3, 22.064 MPa: there the isotherm is level. */
static void critical_point(void **unused)
{
    (void)unused;
    flc_check_near(pressure(647.096, 322.0), 22.064, 5e-8);
    flc_check_near(saturation(647.096), 22.064, 0.0);
    flc_check_near(pressure(647.096, 322.01) - pressure(647.096, 321.99), 0.0, 1e-9);
}

/* Triple point 611.657 Pa at 273.16 K; 0.101325 MPa at 373.1243 K. 15 degC and 60 degF at 1 atm: 999.1026, 999.0171. */
static void fixed_points(void **unused)
{
    (void)unused;
    flc_check_near(saturation(273.16), 611.657e-6, 5e-10);
    flc_check_near(saturation(373.1243), 0.101325, 5e-7);
    flc_check_near(density(288.15, 0.101325), 999.1026, 5e-5);
    flc_check_near(density(273.15 + 140.0 / 9.0, 0.101325), 999.0171, 5e-5);
}

/* --- identities --------------------------------------------------------------------------------------------------- */

static void out_and_back(void **unused)
{
    (void)unused;
    for (double t = 273.15; t <= 643.0; t += 9.95) {
        const double low = saturation(t);
        for (double p = low; p <= 600.0; p = p < 1.0 ? 2.0 * p : p + 23.0) {
            const double rho = density(t, p);
            /* as near as the last bit of the density lets it: K = rho dp/drho is below 6 GPa here */
            flc_check_near(pressure(t, rho), p, 6000.0 * 3e-16 + 1e-14 * p);
            assert_true(p == low || rho > density(t, 0.999 * p + 0.001 * low));
        }
    }
}

/* The branch of the liquid rises from saturation on: the root is unique there. */
static void liquid_rises(void **unused)
{
    (void)unused;
    for (double t = 273.15; t <= 643.0; t += 7.3) {
        double before = -1.0;
        for (double rho = density(t, saturation(t)); rho < 1240.0; rho += 5.0) {
            const double p = pressure(t, rho);
            assert_true(p > before);
            before = p;
        }
    }
}

/* At low density the ideal gas: p = rho R T; at none, nothing. */
static void ideal_gas(void **unused)
{
    (void)unused;
    flc_check_same_bits(pressure(300.0, 0.0), 0.0);
    for (double t = 260.0; t < 1273.0; t += 101.0) {
        flc_check_relative(pressure(t, 1e-12), 1e-12 * 0.46151805e-3 * t, 1e-12);
    }
}

static void vapour_is_refused(void **unused)
{
    (void)unused;
    for (double t = 273.15; t <= 643.0; t += 5.7) {
        double rho = 0.0;
        const double below = saturation(t) * (1.0 - 1e-12);
        if (below >= 0.000611) {
            assert_int_equal(flc_rho_water_iapws95(t, below, &rho), FLC_E_BELOW);
            flc_check_nan(rho);
        }
    }
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_water_iapws95", "_water_sr1_86", NULL};
    flc_check_family_inputs(ends, 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(table_7),           cmocka_unit_test(critical_point),
        cmocka_unit_test(fixed_points),      cmocka_unit_test(out_and_back),
        cmocka_unit_test(liquid_rises),      cmocka_unit_test(ideal_gas),
        cmocka_unit_test(vapour_is_refused), cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
