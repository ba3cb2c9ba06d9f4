/* SPDX-License-Identifier: Apache-2.0 */
/* Viscosity of water and sea water. Expected values: IAPWS R12-08 Table 4 and SR6-08 check value, reference values of
 * the viscometry standards, Millero's check value, a naval table, identities. The comparison with 40 digits is
 * accuracy/methods_study.py, with two other implementations python/test_agreement_aqueous.py. */
#include "check.h"

#include "family_inputs.h"
#include "flowcomp/seawater_eos80.h"
#include "flowcomp/viscosity_water.h"
#include "flowcomp/water.h"

static double r12_08(double t, double rho)
{
    double mu = 0.0;
    assert_int_equal(flc_mu_water_r12_08(t, rho, &mu), FLC_OK);
    return mu;
}

/* --- facts from outside ------------------------------------------------------------------------------------------- */

/* R12-08 Table 4 (mu2 = 1; published): K, kg/m3, uPa s with 9 decimals at most. */
static void table_4(void **unused)
{
    (void)unused;
    static const double rows[][3] = {
        {298.15, 998.0, 889.735100}, {298.15, 1200.0, 1437.649467}, {373.15, 1000.0, 307.883622},
        {433.15, 1.0, 14.538324},    {433.15, 1000.0, 217.685358},  {873.15, 1.0, 32.619287},
        {873.15, 100.0, 35.802262},  {873.15, 600.0, 77.430195},    {1173.15, 1.0, 44.217245},
        {1173.15, 100.0, 47.640433}, {1173.15, 400.0, 64.154608},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        flc_check_near(1000.0 * r12_08(rows[i][0], rows[i][1]), rows[i][2], 5e-7);
    }
}

/* SR6-08: 889.996774 uPa s at 298.15 K (from memory). 20 degC: 1.0016 mPa s (ISO/TR 3666, from memory), 1.0034 mm2/s
 * (ASTM D2161-17). */
static void reference_values(void **unused)
{
    (void)unused;
    double mu, nu;
    assert_int_equal(flc_mu_water_sr6_08(298.15, &mu), FLC_OK);
    flc_check_near(1000.0 * mu, 889.996774, 5e-7);
    assert_int_equal(flc_mu_water_1atm(20.0, &mu), FLC_OK);
    flc_check_near(mu, 1.0016, 5e-5);
    assert_int_equal(flc_nu_water_1atm(20.0, &nu), FLC_OK);
    flc_check_near(nu, 1.0034, 5e-5);
    assert_int_equal(flc_mu_water_swindells(20.0, &mu), FLC_OK);
    flc_check_same_bits(mu, 1.002); /* the value it is anchored to */
}

/* Millero's check value; Dorsey (1940) as fitted in a public package; Introduction to Naval Architecture, Table 5.1
 * (published): 3.5 % salinity, mm2/s, within 1.4 %. */
static void sea_water(void **unused)
{
    (void)unused;
    static const double rows[][2] = {{0.0, 1.828}, {10.0, 1.354}, {20.0, 1.054}, {30.0, 0.849}};
    double mu, millero, sharqawy;
    assert_int_equal(flc_mu_seawater_millero(25.0, 40.0, &mu), FLC_OK);
    flc_check_near(mu, 0.96541, 5e-6);
    assert_int_equal(flc_mu_seawater_sharqawy(10.0, 0.030, &mu), FLC_OK);
    flc_check_near(mu, 1.383779, 0.00152);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        assert_int_equal(flc_nu_seawater_millero(rows[i][0], 35.0, &millero), FLC_OK);
        assert_int_equal(flc_nu_seawater_sharqawy(rows[i][0], 35.0, &sharqawy), FLC_OK);
        flc_check_relative(millero, rows[i][1], 0.014);
        flc_check_relative(sharqawy, rows[i][1], 0.014);
    }
}

/* Two formulations of one liquid, and the older form. */
static void formulations_agree(void **unused)
{
    (void)unused;
    for (double t = 0.0; t <= 100.0; t += 1.0) {
        double atmospheric, closed, swindells;
        assert_int_equal(flc_mu_water_1atm(t, &atmospheric), FLC_OK);
        assert_int_equal(flc_mu_water_sr6_08(t + 273.15, &closed), FLC_OK);
        flc_check_relative(closed, atmospheric, 4e-5);
        if (t >= 20.0) {
            assert_int_equal(flc_mu_water_swindells(t, &swindells), FLC_OK);
            flc_check_relative(swindells, atmospheric, 0.00205);
        }
    }
}

/* --- identities --------------------------------------------------------------------------------------------------- */

static void kinematic_is_dynamic_over_density(void **unused)
{
    (void)unused;
    for (double t = 0.0; t <= 30.0; t += 2.5) {
        double mu, nu, rho;
        assert_int_equal(flc_rho_water_kell_1975(t, &rho), FLC_OK);
        assert_int_equal(flc_mu_water_1atm(t, &mu), FLC_OK);
        assert_int_equal(flc_nu_water_1atm(t, &nu), FLC_OK);
        flc_check_relative(nu * rho, 1000.0 * mu, 1e-15);
        flc_check_same_bits(mu, r12_08(t + 273.15, rho));
        assert_int_equal(flc_rho_seawater_eos80(35.0, t, 0.0, &rho), FLC_OK);
        assert_int_equal(flc_mu_seawater_millero(t, 35.0, &mu), FLC_OK);
        assert_int_equal(flc_nu_seawater_millero(t, 35.0, &nu), FLC_OK);
        flc_check_relative(nu * rho, 1000.0 * mu, 1e-15);
        assert_int_equal(flc_mu_seawater_sharqawy(t, 0.035, &mu), FLC_OK);
        assert_int_equal(flc_nu_seawater_sharqawy(t, 35.0, &nu), FLC_OK);
        flc_check_relative(nu * rho, 1000.0 * mu, 1e-15);
    }
}

static void monotony(void **unused)
{
    (void)unused;
    double before = 10.0, sea_before = 10.0;
    for (double t = 0.0; t <= 100.0; t += 1.0) {
        double mu, sea, fresh;
        assert_int_equal(flc_mu_water_1atm(t, &mu), FLC_OK);
        assert_int_equal(flc_mu_seawater_sharqawy(t, 0.035, &sea), FLC_OK);
        assert_int_equal(flc_mu_seawater_sharqawy(t, 0.0, &fresh), FLC_OK);
        assert_true(mu < before && sea < sea_before && sea > fresh);
        flc_check_relative(fresh, mu, 0.0013); /* its own water */
        before = mu;
        sea_before = sea;
    }
}

/* Where mu2 counts, near the critical point, there is no value; on its border there is. */
static void critical_region_is_refused(void **unused)
{
    (void)unused;
    double mu = 0.0;
    assert_int_equal(flc_mu_water_r12_08(647.35, 322.0, &mu), FLC_E_DOMAIN);
    flc_check_nan(mu);
    assert_int_equal(flc_mu_water_r12_08(645.91, 322.0, &mu), FLC_OK);
    assert_int_equal(flc_mu_water_r12_08(650.77, 322.0, &mu), FLC_OK);
    assert_int_equal(flc_mu_water_r12_08(647.35, 245.8, &mu), FLC_OK);
    assert_int_equal(flc_mu_water_r12_08(647.35, 405.3, &mu), FLC_OK);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"mu_water_r12_08",    "mu_water_sr6_08",   "_water_1atm", "mu_water_swindells",
                                       "_seawater_sharqawy", "_seawater_millero", NULL};
    flc_check_family_inputs(ends, 9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(table_4),
        cmocka_unit_test(reference_values),
        cmocka_unit_test(sea_water),
        cmocka_unit_test(formulations_agree),
        cmocka_unit_test(kinematic_is_dynamic_over_density),
        cmocka_unit_test(monotony),
        cmocka_unit_test(critical_region_is_refused),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
