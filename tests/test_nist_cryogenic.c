/* SPDX-License-Identifier: Apache-2.0 */
/* NIST cryogenic polynomials. Expected values: the closures the printed coefficients must satisfy (zero at 293 K,
 * plateau, joint of the segments of E), and identities. */
#include "check.h"

#include "bad_inputs.h"
#include "flowcomp/nist_cryogenic.h"
#include "nist_cryogenic_core.h"

#define ALLOYS 12

static double strain_at(flc_nist_material alloy, double t_k)
{
    double e = 0.0;
    assert_int_equal(flc_strain_nist_cryogenic(alloy, t_k, &e), FLC_OK);
    return e;
}

/* Zero at 293 K by definition: the printed coefficients leave 0.112e-5 at most (0.005 of the last digit of each). */
static void zero_strain_at_293_k(void **unused)
{
    (void)unused;
    for (int alloy = 0; alloy < ALLOYS; alloy++) {
        if (alloy != FLC_NIST_NICKEL_STEEL) { /* its equation ends at 265 K */
            flc_check_near(strain_at((flc_nist_material)alloy, 293.0), 0.0, 0.12);
        }
    }
    double e = 0.0;
    assert_int_equal(flc_strain_nist_cryogenic(FLC_NIST_NICKEL_STEEL, 266.0, &e), FLC_E_ABOVE);
    flc_check_nan(e);
}

/* At T_low the polynomial meets the plateau: within 0.05e-5, Fe-36Ni within the unit its plateau is printed to. */
static void plateau_meets_polynomial(void **unused)
{
    (void)unused;
    for (int alloy = 0; alloy < ALLOYS; alloy++) {
        const flc_nist_expansion_row *row = &flc_nist_expansions[alloy];
        double f;
        assert_int_equal(flc_nist_expansion_coefficient((flc_nist_material)alloy, FLC_NIST_COEFFICIENT_F, &f), FLC_OK);
        flc_check_near(strain_at((flc_nist_material)alloy, row->t_low_k), f, alloy == FLC_NIST_K93600 ? 0.5 : 0.05);
        flc_check_same_bits(strain_at((flc_nist_material)alloy, 4.0), f);
        flc_check_same_bits(strain_at((flc_nist_material)alloy, nextafter(row->t_low_k, 0.0)), f);
    }
}

/* The local expansion is the slope of the strain, and the strain rises with temperature (but Fe-36Ni's plateau). */
static void slope_of_the_strain(void **unused)
{
    (void)unused;
    for (int alloy = 0; alloy < ALLOYS; alloy++) {
        const flc_nist_expansion_row *row = &flc_nist_expansions[alloy];
        for (double t = row->t_low_k + 1.0; t < row->range_hi_k - 1.0; t += 17.0) {
            double local;
            assert_int_equal(flc_local_expansion_nist_cryogenic((flc_nist_material)alloy, t, &local), FLC_OK);
            const double slope =
                strain_at((flc_nist_material)alloy, t + 0.5) - strain_at((flc_nist_material)alloy, t - 0.5);
            flc_check_near(local, 10.0 * slope, 0.01);
        }
        double below = 0.0;
        assert_int_equal(flc_local_expansion_nist_cryogenic((flc_nist_material)alloy, row->t_low_k - 0.1, &below),
                         FLC_E_BELOW);
        flc_check_nan(below);
    }
    double pct;
    assert_int_equal(flc_strain_nist_cryogenic_pct(FLC_NIST_304, 77.0, &pct), FLC_OK);
    flc_check_near(pct, -0.281, 0.014); /* quoted from a cryogenics laboratory (published); the fit is good to 5 % */
}

static void modulus_segments(void **unused)
{
    (void)unused;
    double low = 0.0, high = 0.0, chosen = 0.0, c0;
    /* 304: the segments meet at 57 K, 214.4 GPa on both (published coefficients), within 0.1 */
    assert_int_equal(flc_youngs_modulus_nist_cryogenic_gpa(FLC_NIST_304, 57.0, 5.0, &low), FLC_OK);
    assert_int_equal(flc_youngs_modulus_nist_cryogenic_gpa(FLC_NIST_304, 57.0, 57.0, &high), FLC_OK);
    assert_int_equal(flc_youngs_modulus_nist_cryogenic_gpa(FLC_NIST_304, 57.0, NAN, &chosen), FLC_OK);
    flc_check_near(low, high, 0.1);
    flc_check_same_bits(chosen, high);
    assert_int_equal(flc_youngs_modulus_nist_cryogenic_gpa(FLC_NIST_304, 30.0, NAN, &low), FLC_OK);
    assert_int_equal(flc_youngs_modulus_nist_cryogenic_gpa(FLC_NIST_304, 30.0, 5.0, &chosen), FLC_OK);
    flc_check_same_bits(chosen, low);
    assert_int_equal(flc_youngs_modulus_nist_cryogenic_gpa(FLC_NIST_304, 30.0, 57.0, &low), FLC_E_BELOW);
    flc_check_nan(low);
    assert_int_equal(flc_youngs_modulus_nist_cryogenic_gpa(FLC_NIST_304, 4.0, NAN, &low), FLC_E_BELOW);
    assert_int_equal(flc_youngs_modulus_nist_cryogenic_gpa(FLC_NIST_304, 294.0, NAN, &low), FLC_E_ABOVE);
    assert_int_equal(flc_youngs_modulus_nist_cryogenic_gpa(FLC_NIST_304, 30.0, 6.0, &low), FLC_E_UNKNOWN_NAME);
    assert_int_equal(flc_youngs_modulus_nist_cryogenic_gpa(FLC_NIST_N07718, 30.0, NAN, &low), FLC_E_UNKNOWN_NAME);
    assert_int_equal(flc_nist_modulus_coefficient(FLC_NIST_304, 57.0, 0.0, &c0), FLC_OK);
    flc_check_same_bits(c0, 210.0593);
    assert_int_equal(flc_nist_modulus_coefficient(FLC_NIST_304, 57.0, 0.5, &c0), FLC_E_UNKNOWN_NAME);
    assert_int_equal(flc_nist_modulus_coefficient(FLC_NIST_304, 58.0, 0.0, &c0), FLC_E_UNKNOWN_NAME);
    flc_check_nan(c0);
}

static flc_value number(double value)
{
    return (flc_value){value, NULL, 0};
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    const flc_value coefficient[] = {number(FLC_NIST_304), number(FLC_NIST_COEFFICIENT_C)};
    const flc_value at[] = {number(FLC_NIST_304), number(77.0)};
    flc_check_bad_inputs("nist_expansion_coefficient", coefficient, 2);
    flc_check_bad_inputs("strain_nist_cryogenic", at, 2);
    flc_check_bad_inputs("strain_nist_cryogenic_pct", at, 2);
    flc_check_bad_inputs("local_expansion_nist_cryogenic", at, 2);
    const flc_value power[] = {number(FLC_NIST_304), number(57.0), number(2.0)};
    const flc_value e_at[] = {number(FLC_NIST_304), number(77.0), number(57.0)};
    flc_check_bad_inputs("nist_modulus_coefficient", power, 3);
    flc_check_bad_inputs("youngs_modulus_nist_cryogenic_gpa", e_at, 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(zero_strain_at_293_k),       cmocka_unit_test(plateau_meets_polynomial),
        cmocka_unit_test(slope_of_the_strain),        cmocka_unit_test(modulus_segments),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
