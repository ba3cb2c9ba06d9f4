/* SPDX-License-Identifier: Apache-2.0 */
/* Sea water by EOS-80. Expected values: the check values of UNESCO Technical Papers in Marine Science 44 (1983; from
 * memory), identities. The comparison with 40 digits is accuracy/methods_study.py, with TEOS-10
 * python/test_agreement_aqueous.py. */
#include "check.h"

#include "family_inputs.h"
#include "flowcomp/seawater_eos80.h"

static double density(double s, double t, double p)
{
    double rho = 0.0;
    assert_int_equal(flc_rho_seawater_eos80(s, t, p, &rho), FLC_OK);
    return rho;
}

/* Salinity, degC (IPTS-68), bar, kg/m3. */
static void check_values(void **unused)
{
    (void)unused;
    static const double rows[][4] = {
        {0.0, 5.0, 0.0, 999.96675},      {0.0, 5.0, 1000.0, 1044.12802},   {0.0, 25.0, 0.0, 997.04796},
        {0.0, 25.0, 1000.0, 1037.90204}, {35.0, 5.0, 0.0, 1027.67547},     {35.0, 5.0, 1000.0, 1069.48914},
        {35.0, 25.0, 0.0, 1023.34306},   {35.0, 25.0, 1000.0, 1062.53817},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        flc_check_near(density(rows[i][0], rows[i][1], rows[i][2]), rows[i][3], 5e-6);
    }
    flc_check_same_bits(density(35.0, 5.0, NAN), density(35.0, 5.0, 0.0)); /* pressure left out */
}

/* --- identities --------------------------------------------------------------------------------------------------- */

static void factors(void **unused)
{
    (void)unused;
    for (double s = 0.0; s <= 42.0; s += 6.0) {
        double ctl, cpl;
        assert_int_equal(flc_ctl_seawater_eos80(s, 15.0, 15.0, &ctl), FLC_OK);
        flc_check_same_bits(ctl, 1.0);
        assert_int_equal(flc_cpl_seawater_eos80(s, 15.0, 0.0, &cpl), FLC_OK);
        flc_check_same_bits(cpl, 1.0);
        assert_int_equal(flc_ctl_seawater_eos80(s, 28.0, 15.0, &ctl), FLC_OK);
        assert_int_equal(flc_cpl_seawater_eos80(s, 28.0, 300.0, &cpl), FLC_OK);
        flc_check_relative(density(s, 15.0, 0.0) * ctl * cpl, density(s, 28.0, 300.0), 6e-16);
    }
}

/* Density rises with salinity and with pressure over the whole range: the inverse is unique. */
static void monotony(void **unused)
{
    (void)unused;
    for (double t = -2.0; t <= 40.0; t += 3.0) {
        for (double p = 0.0; p < 1000.0; p += 125.0) {
            for (double s = 0.0; s < 42.0; s += 0.5) {
                assert_true(density(s + 0.5, t, p) > density(s, t, p));
                assert_true(density(s, t, p + 125.0) > density(s, t, p));
            }
        }
    }
}

static void out_and_back(void **unused)
{
    (void)unused;
    for (double t = -2.0; t <= 40.0; t += 7.0) {
        for (double p = 0.0; p <= 1000.0; p += 200.0) {
            for (double s = 0.0; s <= 42.0; s += 3.5) {
                double back, base;
                const double rho = density(s, t, p);
                assert_int_equal(flc_s_psu_from_observed_seawater_eos80(rho, t, p, &back), FLC_OK);
                flc_check_near(back, s, 1e-12); /* the last bit of rho, 1.1e-13 kg/m3, is 1.6e-13 in S */
                assert_int_equal(flc_rho_base_from_observed_seawater_eos80(rho, t, 15.0, p, &base), FLC_OK);
                flc_check_relative(base, density(s, 15.0, 0.0), 1e-15);
            }
        }
    }
}

static void no_such_salinity(void **unused)
{
    (void)unused;
    double s = 0.0;
    const double fresh = density(0.0, 10.0, 0.0), salt = density(42.0, 10.0, 0.0);
    assert_int_equal(flc_s_psu_from_observed_seawater_eos80(fresh - 1e-9, 10.0, NAN, &s), FLC_E_NO_ROOT);
    flc_check_nan(s);
    assert_int_equal(flc_s_psu_from_observed_seawater_eos80(salt + 1e-9, 10.0, NAN, &s), FLC_E_NO_ROOT);
    flc_check_nan(s);
    assert_int_equal(flc_s_psu_from_observed_seawater_eos80(fresh, 10.0, NAN, &s), FLC_OK);
    assert_true(s >= 0.0);
    assert_int_equal(flc_s_psu_from_observed_seawater_eos80(salt, 10.0, NAN, &s), FLC_OK);
    assert_true(s <= 42.0);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_seawater_eos80", NULL};
    flc_check_family_inputs(ends, 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(check_values),     cmocka_unit_test(factors),
        cmocka_unit_test(monotony),         cmocka_unit_test(out_and_back),
        cmocka_unit_test(no_such_salinity), cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
