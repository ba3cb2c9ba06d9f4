/* SPDX-License-Identifier: Apache-2.0 */
/* Density of water by CIPM-2001, Patterson-Morris, Jones-Harris and Kell, and the CPL of common practice. Expected
 * values: tables and constants named at each, agreement among the four, identities. The comparison with 40 digits is
 * accuracy/methods_study.py, with IAPWS-95 python/test_agreement_aqueous.py. */
#include "check.h"

#include "family_inputs.h"
#include "flowcomp/water.h"

static double cipm(double t, double p_kpa)
{
    double rho = 0.0;
    assert_int_equal(flc_rho_water_cipm_2001(t, p_kpa, &rho), FLC_OK);
    return rho;
}

static double patterson_morris(double t)
{
    double rho = 0.0;
    assert_int_equal(flc_rho_water_patterson_morris_1994(t, &rho), FLC_OK);
    return rho;
}

static double jones_harris(double t)
{
    double rho = 0.0;
    assert_int_equal(flc_rho_water_jones_harris_1992(t, &rho), FLC_OK);
    return rho;
}

static double kell(double t)
{
    double rho = 0.0;
    assert_int_equal(flc_rho_water_kell_1975(t, &rho), FLC_OK);
    return rho;
}

/* --- facts from outside ------------------------------------------------------------------------------------------- */

/* Table of Tanaka et al. 2001 (from memory); measured density at 16 degC, 998.9468(6), within 1e-6 (published). */
static void cipm_table(void **unused)
{
    (void)unused;
    flc_check_near(cipm(10.0, NAN), 999.7027, 5e-5);
    flc_check_near(cipm(25.0, NAN), 997.0470, 5e-5);
    flc_check_near(cipm(40.0, NAN), 992.2152, 5e-5);
    flc_check_near(cipm(16.0, NAN), 998.9468, 0.001);
    flc_check_near(cipm(3.983035, NAN), 999.974950, 1e-12); /* the maximum, by construction */
}

/* GOST 3900-2022 Table V.1 (published), and the water of API MPMS 11.1 (2004), 999.016 at 60 degF (ASTM D1555-16). */
static void patterson_morris_table(void **unused)
{
    (void)unused;
    static const double cells[][2] = {{1.0, 999.9012}, {2.5, 999.9560}, {4.0, 999.9736}, {5.4, 999.9578},
                                      {7.0, 999.9032}, {8.6, 999.8113}, {9.5, 999.7439}, {10.4, 999.6654}};
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        flc_check_near(patterson_morris(cells[i][0]), cells[i][1], 5e-5);
    }
    flc_check_near(patterson_morris(140.0 / 9.0), 999.016, 0.0005);
}

/* Common table of water density, 999.8395 at 0 and 999.9720 at 4 degC (published). The misprinted
 * denominator 16.897850e-3 of a web text would give 999.90 at 4 degC. Compressibility at 25 degC: 45.25e-6/bar (Kell
 * 1975, from memory). */
static void kell_table(void **unused)
{
    (void)unused;
    flc_check_near(kell(0.0), 999.8395, 5e-5);
    flc_check_near(kell(4.0), 999.9720, 5e-5);
    double kappa;
    assert_int_equal(flc_kappa_water_kell_1975(25.0, &kappa), FLC_OK);
    flc_check_near(kappa, 45.25, 0.005);
}

/* Four groups of authors, one liquid: within 0.0055 kg/m3 of each other. */
static void four_formulas(void **unused)
{
    (void)unused;
    for (double t = 5.0; t <= 40.0; t += 0.5) {
        flc_check_near(patterson_morris(t), cipm(t, NAN), 0.0016);
        flc_check_near(jones_harris(t), cipm(t, NAN), 0.0042);
        flc_check_near(kell(t), cipm(t, NAN), 0.0035);
    }
}

/* --- identities --------------------------------------------------------------------------------------------------- */

static void pressure_of_cipm(void **unused)
{
    (void)unused;
    flc_check_same_bits(cipm(17.0, NAN), cipm(17.0, 101.325));
    for (double t = 0.0; t <= 40.0; t += 2.0) {
        for (double p = 10.0; p < 1900.0; p += 100.0) {
            assert_true(cipm(t, p + 100.0) > cipm(t, p));
        }
        /* the compressibility is Kell's, within 1 % */
        double kappa;
        assert_int_equal(flc_kappa_water_kell_1975(t, &kappa), FLC_OK);
        flc_check_relative((cipm(t, 201.325) / cipm(t, 101.325) - 1.0) * 1e6, kappa, 0.01);
    }
}

typedef flc_status ctl_method(double t_degc, double t_base_degc, double *result);

static void factors(void **unused)
{
    (void)unused;
    static const struct {
        ctl_method *ctl;
        double low, high;
    } methods[] = {{flc_ctl_water_cipm_2001, 0.0, 40.0},
                   {flc_ctl_water_patterson_morris_1994, 1.0, 40.0},
                   {flc_ctl_water_jones_harris_1992, 5.0, 40.0},
                   {flc_ctl_water_kell_1975, 0.0, 150.0}};
    for (size_t i = 0; i < sizeof methods / sizeof methods[0]; i++) {
        double at_base, there, back;
        assert_int_equal(methods[i].ctl(15.0, 15.0, &at_base), FLC_OK);
        flc_check_same_bits(at_base, 1.0);
        assert_int_equal(methods[i].ctl(methods[i].high, methods[i].low, &there), FLC_OK);
        assert_int_equal(methods[i].ctl(methods[i].low, methods[i].high, &back), FLC_OK);
        flc_check_relative(there * back, 1.0, 4e-16);
        double before = 2.0; /* from the maximum at 4 degC on it falls */
        for (double t = 5.0; t <= methods[i].high; t += 1.0) {
            double ctl;
            assert_int_equal(methods[i].ctl(t, 20.0, &ctl), FLC_OK);
            assert_true(ctl < before);
            before = ctl;
        }
    }
    double ctl;
    assert_int_equal(flc_ctl_water_cipm_2001(33.0, 20.0, &ctl), FLC_OK);
    flc_check_relative(ctl, cipm(33.0, NAN) / cipm(20.0, NAN), 4e-16);
}

/* Common practice: 1 / (1 - 3.2e-6 p). Saturation with air makes water lighter by 4.6 to 2 g/m3 (Bignell, from memory).
 */
static void common_practice(void **unused)
{
    (void)unused;
    double cpl, shift;
    assert_int_equal(flc_cpl_water_common_practice(0.0, &cpl), FLC_OK);
    flc_check_same_bits(cpl, 1.0);
    assert_int_equal(flc_cpl_water_common_practice(1000.0, &cpl), FLC_OK);
    flc_check_relative(cpl, 1.0 / 0.9968, 4e-16);
    assert_int_equal(flc_air_saturation_shift_water_cipm_2001(0.0, &shift), FLC_OK);
    flc_check_near(shift, -0.0046, 5e-5);
    assert_int_equal(flc_air_saturation_shift_water_cipm_2001(20.0, &shift), FLC_OK);
    flc_check_near(shift, -0.0025, 5e-5);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_water_cipm_2001", "_water_patterson_morris_1994", "_water_jones_harris_1992",
                                       "_water_kell_1975", "cpl_water_common_practice",    NULL};
    flc_check_family_inputs(ends, 11);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cipm_table),      cmocka_unit_test(patterson_morris_table),     cmocka_unit_test(kell_table),
        cmocka_unit_test(four_formulas),   cmocka_unit_test(pressure_of_cipm),           cmocka_unit_test(factors),
        cmocka_unit_test(common_practice), cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
