/* SPDX-License-Identifier: Apache-2.0 */
/* LNG by ISO 6578. Expected values: entries of its tables (published), identities, and one composition worked by hand
 * from the tables. The comparison with 40 digits is accuracy/methods_study.py. */
#include "check.h"

#include "family_inputs.h"
#include "flowcomp/lng_iso6578.h"

/* A density of methane c1, ethane c2, propane c3, butanes and nitrogen. */
static double density(double t, double c1, double c2, double c3, double nc4, double ic4, double n2)
{
    double rho;
    assert_int_equal(flc_rho_lng_iso6578(t, c1, c2, c3, nc4, ic4, NAN, NAN, NAN, n2, &rho), FLC_OK);
    return rho;
}

/* --- facts from outside ------------------------------------------------------------------------------------------- */

/* Entries of the table of molar volumes, m3/kmol, in degC. */
static void molar_volumes(void **unused)
{
    (void)unused;
    static const struct {
        flc_lng_component component;
        double t_degc, volume;
    } rows[] = {
        {FLC_LNG_C1, -180.0, 0.035771},  {FLC_LNG_C1, -165.0, 0.0375},    {FLC_LNG_C1, -140.0, 0.041237},
        {FLC_LNG_C2, -160.0, 0.0479422}, {FLC_LNG_C3, -155.0, 0.062953},  {FLC_LNG_NC4, -165.0, 0.076398},
        {FLC_LNG_IC4, -155.0, 0.078859}, {FLC_LNG_NC5, -160.0, 0.091583}, {FLC_LNG_IC5, -180.0, 0.089576},
        {FLC_LNG_NC6, -140.0, 0.10716},  {FLC_LNG_N2, -160.0, 0.047019},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double volume;
        assert_int_equal(flc_molar_volume_lng_iso6578(rows[i].component, rows[i].t_degc + 273.15, &volume), FLC_OK);
        flc_check_relative(volume, rows[i].volume, 1e-14);
    }
}

/* Entries of the tables of k1 and k2, 1e-3 m3/kmol. */
static void corrections(void **unused)
{
    (void)unused;
    static const double rows[][4] = {{-180.0, 16.0, -0.01, 0.0}, {-180.0, 30.0, 1.16, 1.47},
                                     {-165.0, 17.0, 0.18, 0.29}, {-160.0, 18.0, 0.41, 0.67},
                                     {-160.0, 25.0, 1.41, 1.89}, {-175.0, 20.0, 0.52, 0.62}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double k1, k2;
        assert_int_equal(flc_k1_lng_iso6578(rows[i][0] + 273.15, rows[i][1], &k1), FLC_OK);
        assert_int_equal(flc_k2_lng_iso6578(rows[i][0] + 273.15, rows[i][1], &k2), FLC_OK);
        flc_check_near(k1, 1e-3 * rows[i][2], 1e-16);
        flc_check_near(k2, 1e-3 * rows[i][3], 1e-16);
    }
}

/* By hand from the tables, at 111.15 K (-162 degC, 3/5 from -165 to -160): C1 0.92, C2 0.05, C3 0.018, nC4 0.004, iC4
 * 0.003, N2 0.005. M 17.6037; sum xV 0.03913897; k1 0.316332e-3, k2 0.526029e-3; V 0.03882525 m3/kmol; 453.41 kg/m3. */
static void worked_by_hand(void **unused)
{
    (void)unused;
    double mass, k1, k2;
    assert_int_equal(flc_molar_mass_lng_iso6578(0.92, 0.05, 0.018, 0.004, 0.003, NAN, NAN, NAN, 0.005, &mass), FLC_OK);
    flc_check_near(mass, 17.6037, 5e-5);
    assert_int_equal(flc_k1_lng_iso6578(111.15, mass, &k1), FLC_OK);
    flc_check_near(k1, 0.316332e-3, 5e-10);
    assert_int_equal(flc_k2_lng_iso6578(111.15, mass, &k2), FLC_OK);
    flc_check_near(k2, 0.526029e-3, 5e-10);
    flc_check_near(density(111.15, 0.92, 0.05, 0.018, 0.004, 0.003, 0.005), 453.41, 0.005);
}

/* --- identities --------------------------------------------------------------------------------------------------- */

/* Pure methane: M over (V - k1 of 16.043). At a node of the temperature: 0.0375 and -0.01e-3 + 0.043 (0.18 + 0.01) e-3.
 */
static void pure_methane(void **unused)
{
    (void)unused;
    flc_check_relative(density(108.15, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0), 16.043 / (0.0375 - 1e-3 * (-0.01 + 0.043 * 0.19)),
                       1e-14);
}

/* Continuous across the columns and rows of the tables, and falling with temperature. */
static void continuous(void **unused)
{
    (void)unused;
    for (double t = 98.15; t < 115.0; t += 5.0) {
        flc_check_relative(density(t + 1e-9, 0.9, 0.06, 0.02, 0.01, 0.005, 0.005),
                           density(t - 1e-9, 0.9, 0.06, 0.02, 0.01, 0.005, 0.005), 1e-10);
        double below, above;
        for (double m = 17.0; m < 30.0; m += 1.0) {
            assert_int_equal(flc_k1_lng_iso6578(t, m - 1e-10, &below), FLC_OK);
            assert_int_equal(flc_k1_lng_iso6578(t, m + 1e-10, &above), FLC_OK);
            flc_check_near(above, below, 1e-12);
            assert_true(above > 0.0);
        }
    }
    double before = 1e9;
    for (double t = 93.15; t <= 115.0; t += 0.05) {
        const double rho = density(t, 0.9, 0.06, 0.02, 0.01, 0.005, 0.005);
        assert_true(rho < before);
        before = rho;
    }
}

static void any_base(void **unused)
{
    (void)unused;
    double ctl;
    assert_int_equal(flc_ctl_lng_iso6578(111.0, 111.0, 0.95, 0.05, NAN, NAN, NAN, NAN, NAN, NAN, NAN, &ctl), FLC_OK);
    flc_check_same_bits(ctl, 1.0);
    assert_int_equal(flc_ctl_lng_iso6578(113.0, 111.0, 0.95, 0.05, NAN, NAN, NAN, NAN, NAN, NAN, NAN, &ctl), FLC_OK);
    flc_check_relative(ctl * density(111.0, 0.95, 0.05, 0.0, 0.0, 0.0, 0.0),
                       density(113.0, 0.95, 0.05, 0.0, 0.0, 0.0, 0.0), 1e-15);
}

/* --- refusals ----------------------------------------------------------------------------------------------------- */

static void limits_of_the_method(void **unused)
{
    (void)unused;
    double rho;
    assert_int_equal(flc_rho_lng_iso6578(111.0, 0.9, 0.05, 0.0, 0.021, 0.02, 0, 0, 0, 0.009, &rho), FLC_E_ABOVE);
    flc_check_nan(rho);
    assert_int_equal(flc_rho_lng_iso6578(111.0, 0.9, 0.05, 0.0, 0.02, 0.02, 0, 0, 0, 0.01, &rho), FLC_OK);
    assert_int_equal(flc_rho_lng_iso6578(111.0, 0.9, 0.07, 0.0, 0, 0, 0.01, 0.006, 0.005, 0.009, &rho), FLC_E_ABOVE);
    assert_int_equal(flc_rho_lng_iso6578(111.0, 0.9, 0.05, 0, 0, 0, 0, 0, 0, 0.041, &rho), FLC_E_ABOVE);
    assert_int_equal(flc_rho_lng_iso6578(111.0, 0.59, 0.4, 0.01, 0, 0, 0, 0, 0, 0, &rho), FLC_E_BELOW);
    assert_int_equal(flc_rho_lng_iso6578(111.0, 0.9, 0.05, 0.04, 0, 0, 0, 0, 0, 0, &rho), FLC_E_DOMAIN); /* sum 0.99 */
    assert_int_equal(flc_rho_lng_iso6578(115.1, 0.95, 0.05, 0, 0, 0, 0, 0, 0, 0, &rho), FLC_E_ABOVE);
    assert_int_equal(flc_molar_mass_lng_iso6578(0.5, NAN, NAN, NAN, NAN, NAN, NAN, NAN, 0.4, &rho), FLC_E_DOMAIN);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_iso6578", NULL};
    flc_check_family_inputs(ends, 6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(molar_volumes),        cmocka_unit_test(corrections),
        cmocka_unit_test(worked_by_hand),       cmocka_unit_test(pure_methane),
        cmocka_unit_test(continuous),           cmocka_unit_test(any_base),
        cmocka_unit_test(limits_of_the_method), cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
