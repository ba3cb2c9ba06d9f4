/* SPDX-License-Identifier: Apache-2.0 */
/* Aromatics and density in air by ASTM D1555. Expected values: D1555M-08e1 Table 1 (published densities in vacuo and in
 * air), exact units, identities. The comparison with 40 digits is accuracy/methods_study.py. */
#include "check.h"

#include "family_inputs.h"
#include "flowcomp/aromatics_d1555.h"

#define FLUIDS 12

static double ctl60(flc_aromatic fluid, double t_degf)
{
    double result = 0.0;
    assert_int_equal(flc_ctl60_aromatics_d1555(fluid, t_degf, &result), FLC_OK);
    return result;
}

static double ctl(flc_aromatic fluid, double t_degc, double t_base_degc)
{
    double result = 0.0;
    assert_int_equal(flc_ctl_aromatics_d1555(fluid, t_degc, t_base_degc, &result), FLC_OK);
    return result;
}

/* --- facts from outside ------------------------------------------------------------------------------------------- */

/* D1555M-08e1 Table 1, density in vacuo at 15 and 20 degC, g/cm3: two 5-figure numbers, 1.3e-5 on their quotient. */
static void published_densities(void **unused)
{
    (void)unused;
    static const struct {
        flc_aromatic fluid;
        double at15, at20;
    } rows[] = {
        {FLC_AROMATIC_BENZENE, 0.88431, 0.87908},     {FLC_AROMATIC_CUMENE, 0.86586, 0.86160},
        {FLC_AROMATIC_CYCLOHEXANE, 0.78317, 0.77849}, {FLC_AROMATIC_ETHYLBENZENE, 0.87126, 0.86685},
        {FLC_AROMATIC_STYRENE, 0.91028, 0.90586},     {FLC_AROMATIC_TOLUENE, 0.87147, 0.86686},
        {FLC_AROMATIC_M_XYLENE, 0.86831, 0.86408},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double rho20, ctl15;
        assert_int_equal(flc_rho20_from_observed_aromatics_d1555(rows[i].fluid, 1000.0 * rows[i].at15, 15.0, &rho20),
                         FLC_OK);
        flc_check_near(rho20, 1000.0 * rows[i].at20, 0.0125);
        assert_int_equal(flc_ctl15_aromatics_d1555(rows[i].fluid, 20.0, &ctl15), FLC_OK);
        flc_check_near(ctl15, rows[i].at20 / rows[i].at15, 1.3e-5);
    }
}

/* D1555M-08e1 Table 1, in vacuo and in air, g/cm3. */
static void published_densities_in_air(void **unused)
{
    (void)unused;
    static const double rows[][2] = {{0.88431, 0.88324}, {0.87908, 0.87801}, {0.86160, 0.86053},
                                     {0.78317, 0.78209}, {0.87126, 0.87019}, {0.86685, 0.86578},
                                     {0.90586, 0.90480}, {0.87147, 0.87040}, {0.86408, 0.86301}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double air, vacuum;
        assert_int_equal(flc_rho_air_from_rho_vacuum_d1555(rows[i][0], &air), FLC_OK);
        flc_check_near(air, rows[i][1], 5e-6);
        assert_int_equal(flc_rho_vacuum_from_rho_air_d1555(air, &vacuum), FLC_OK);
        flc_check_relative(vacuum, rows[i][0], 4e-16);
    }
}

/* 1 US gallon is 3785.411784 cm3 and 1 lb 453.59237 g, exactly. */
static void exact_units(void **unused)
{
    (void)unused;
    double lb_per_gal, rho;
    assert_int_equal(flc_lb_per_gal_from_gcm3_d1555(1.0, &lb_per_gal), FLC_OK);
    flc_check_near(lb_per_gal, 3785.411784 / 453.59237, 1e-10);
    assert_int_equal(flc_gcm3_from_lb_per_gal_d1555(lb_per_gal, &rho), FLC_OK);
    flc_check_same_bits(rho, 1.0);
}

/* --- identities --------------------------------------------------------------------------------------------------- */

static void one_at_the_base(void **unused)
{
    (void)unused;
    for (int i = 0; i < FLUIDS; i++) {
        const flc_aromatic fluid = (flc_aromatic)i;
        double at15, at20;
        flc_check_near(ctl60(fluid, 60.0), 1.0, 5e-6);
        assert_int_equal(flc_ctl15_aromatics_d1555(fluid, 15.0, &at15), FLC_OK);
        assert_int_equal(flc_ctl20_aromatics_d1555(fluid, 20.0, &at20), FLC_OK);
        flc_check_same_bits(at15, 1.0);
        flc_check_same_bits(at20, 1.0);
        flc_check_same_bits(ctl(fluid, 33.3, 33.3), 1.0);
    }
}

static void falls_with_temperature(void **unused)
{
    (void)unused;
    for (int i = 0; i < FLUIDS; i++) {
        for (double t = -4.0; t <= 138.0; t += 2.0) {
            assert_true(ctl60((flc_aromatic)i, t + 2.0) < ctl60((flc_aromatic)i, t));
        }
    }
}

/* Any base is the two named ones, and the way by another base leads to the same. */
static void one_way_to_a_base(void **unused)
{
    (void)unused;
    for (int i = 0; i < FLUIDS; i++) {
        const flc_aromatic fluid = (flc_aromatic)i;
        double named, rho15, rho20, by_way, rho60;
        assert_int_equal(flc_ctl15_aromatics_d1555(fluid, 42.0, &named), FLC_OK);
        flc_check_same_bits(ctl(fluid, 42.0, 15.0), named);
        assert_int_equal(flc_ctl20_aromatics_d1555(fluid, 42.0, &named), FLC_OK);
        flc_check_same_bits(ctl(fluid, 42.0, 20.0), named);
        assert_int_equal(flc_rho15_from_observed_aromatics_d1555(fluid, 850.0, 42.0, &rho15), FLC_OK);
        assert_int_equal(flc_rho20_from_observed_aromatics_d1555(fluid, 850.0, 42.0, &rho20), FLC_OK);
        assert_int_equal(flc_rho_base_from_observed_aromatics_d1555(fluid, rho15, 15.0, 20.0, &by_way), FLC_OK);
        flc_check_relative(by_way, rho20, 1e-15);
        flc_check_relative(rho15 * ctl(fluid, 42.0, 15.0), 850.0, 1e-15);
        assert_int_equal(flc_rho60_from_observed_aromatics_d1555(fluid, 850.0, 107.6, &rho60), FLC_OK);
        flc_check_relative(rho60 * ctl60(fluid, 107.6), 850.0, 1e-15);
    }
    flc_check_same_bits(ctl60(FLC_AROMATIC_MIXED_XYLENES, 91.0), ctl60(FLC_AROMATIC_M_XYLENE, 91.0));
}

/* --- refusals ----------------------------------------------------------------------------------------------------- */

static void words(void **unused)
{
    (void)unused;
    flc_aromatic fluid;
    assert_int_equal(flc_aromatic_from_name("aromatics_350_400f", &fluid), FLC_OK);
    assert_int_equal(fluid, FLC_AROMATIC_AROMATICS_350_400F);
    assert_int_equal(flc_aromatic_from_name("p_xylene", &fluid), FLC_OK);
    assert_int_equal(fluid, FLC_AROMATIC_P_XYLENE);
    assert_int_equal(flc_aromatic_from_name("xylene", &fluid), FLC_E_UNKNOWN_NAME);
    assert_int_equal((int)fluid, -1);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_d1555", NULL};
    flc_check_family_inputs(ends, 12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_densities),
        cmocka_unit_test(published_densities_in_air),
        cmocka_unit_test(exact_units),
        cmocka_unit_test(one_at_the_base),
        cmocka_unit_test(falls_with_temperature),
        cmocka_unit_test(one_way_to_a_base),
        cmocka_unit_test(words),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
