/* SPDX-License-Identifier: Apache-2.0 */
/* The liquid's way to base conditions: against the published methods of API MPMS 11.1 (2004), which have their own rows
 * and oracle; by an observed density there and back; and every refusal. */
#include "example_meter.h"

static const double KPA_PER_PSI = 6.894757; /* as the standard prints it */

static flc_density base_density(double rho)
{
    const flc_density density = {rho, NAN, NAN, NAN, 1.0};
    return density;
}

static flc_density observed_density(double rho, double t_degc, double p_kpag, double factor)
{
    const flc_density density = {NAN, rho, t_degc, p_kpag, factor};
    return density;
}

static flc_volume_factors factors_of(const flc_liquid *liquid, flc_density density, double t_degc, double p_kpag,
                                     uint32_t flags)
{
    flc_volume_factors factors;
    assert_int_equal(flc_liquid_volume(liquid, &density, t_degc, p_kpag, &factors), FLC_OK);
    assert_int_equal(factors.flags, flags | FLC_FLAG_FROM_MEMORY); /* the constants of 11.1 are from memory */
    return factors;
}

static flc_liquid *petroleum(flc_petroleum_product product, flc_petroleum_base base, flc_negative_pressure negative)
{
    flc_liquid_options options = invented_liquid_options(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_MEASURED);
    options.product = product;
    options.base = base;
    options.negative_pressure = negative;
    return invented_liquid_of(&options);
}

/* CTL, CPL and CTPL of the published methods at one base. */
static void method_factors(flc_petroleum_product product, flc_petroleum_base base, double rho, double t, double p,
                           double expected[3])
{
    if (base == FLC_PETROLEUM_BASE_60F) {
        const double degf = 1.8 * t + 32.0, psi = p / KPA_PER_PSI;
        assert_int_equal(flc_ctl60_petroleum_2004(rho, degf, product, &expected[0]), FLC_OK);
        assert_int_equal(flc_cpl60_petroleum_2004(rho, degf, psi, product, &expected[1]), FLC_OK);
        assert_int_equal(flc_ctpl60_petroleum_2004(rho, degf, psi, product, &expected[2]), FLC_OK);
    } else if (base == FLC_PETROLEUM_BASE_15C) {
        assert_int_equal(flc_ctl15_petroleum_2004(rho, t, product, &expected[0]), FLC_OK);
        assert_int_equal(flc_cpl15_petroleum_2004(rho, t, p, product, &expected[1]), FLC_OK);
        assert_int_equal(flc_ctpl15_petroleum_2004(rho, t, p, product, &expected[2]), FLC_OK);
    } else {
        assert_int_equal(flc_ctl20_petroleum_2004(rho, t, product, &expected[0]), FLC_OK);
        assert_int_equal(flc_cpl20_petroleum_2004(rho, t, p, product, &expected[1]), FLC_OK);
        assert_int_equal(flc_ctpl20_petroleum_2004(rho, t, p, product, &expected[2]), FLC_OK);
    }
}

static void test_factors_are_those_of_the_methods(void **state)
{
    (void)state;
    uint64_t seed = 21;
    for (int i = 0; i < 300; i++) {
        const flc_petroleum_base base = (flc_petroleum_base)(i % 3);
        const flc_petroleum_product product =
            i % 5 == 4 ? flc_petroleum_product_of_alpha60(450e-6)
                       : flc_petroleum_product_of_group((flc_petroleum_group)(i % 5 == 3 ? FLC_PETROLEUM_LUBE : i % 5));
        const double rho = flc_draw_between(&seed, 840.0, 900.0), t = flc_draw_between(&seed, -50.0, 150.0);
        const double p = flc_draw_between(&seed, 0.0, 10342.0);
        flc_liquid *liquid = petroleum(product, base, FLC_NEGATIVE_REFUSE);
        const flc_volume_factors f = factors_of(liquid, base_density(rho), t, p, 0);
        double expected[3];
        method_factors(product, base, rho, t, p, expected);
        flc_check_same_bits(f.ctl, expected[0]);
        flc_check_same_bits(f.cpl, expected[1]);
        flc_check_same_bits(f.ctpl, expected[2]);
        flc_check_same_bits(f.rho_base_kgm3, rho);
        flc_check_same_bits(f.p_used_kpag, p);
        flc_liquid_free(liquid);
    }
}

/* A densitometer at the meter shows rho_base CTPL: from there the base density comes back. */
static void test_an_observed_density_leads_back_to_the_base(void **state)
{
    (void)state;
    uint64_t seed = 22;
    for (int i = 0; i < 300; i++) {
        const flc_petroleum_base base = (flc_petroleum_base)(i % 3);
        const flc_petroleum_product product = flc_petroleum_product_of_group(FLC_PETROLEUM_CRUDE);
        const double rho = flc_draw_between(&seed, 780.0, 980.0), t = flc_draw_between(&seed, -20.0, 120.0);
        const double p = flc_draw_between(&seed, 0.0, 8000.0), factor = flc_draw_between(&seed, 0.9, 1.1);
        double expected[3];
        method_factors(product, base, rho, t, p, expected);
        flc_liquid *liquid = petroleum(product, base, FLC_NEGATIVE_REFUSE);
        const double shown = rho * expected[2] / factor, at_meter_t = t + 3.0, at_meter_p = p + 90.0;
        const flc_volume_factors f = factors_of(liquid, observed_density(shown, t, p, factor), at_meter_t, at_meter_p,
                                                FLC_FLAG_OBSERVED_DENSITY);
        flc_check_relative(f.rho_base_kgm3, rho, 3e-15);
        method_factors(product, base, rho, at_meter_t, at_meter_p, expected);
        flc_check_relative(f.ctl, expected[0], 3e-15);
        flc_check_relative(f.cpl, expected[1], 3e-15);
        flc_liquid_free(liquid);
    }
}

static void test_at_base_conditions_nothing_is_corrected(void **state)
{
    (void)state;
    static const double t_base[] = {140.0 / 9.0, 15.0, 20.0};
    for (int base = 0; base < 3; base++) {
        flc_liquid *liquid = petroleum(flc_petroleum_product_of_group(FLC_PETROLEUM_REFINED), (flc_petroleum_base)base,
                                       FLC_NEGATIVE_REFUSE);
        const flc_volume_factors f = factors_of(liquid, base_density(745.0), t_base[base], 0.0, 0);
        flc_check_near(f.ctl, 1.0, base == 0 ? 1e-9 : 2e-16); /* 60 degF: the scale shift is printed to 9 decimals */
        flc_check_same_bits(f.cpl, 1.0);
        flc_liquid_free(liquid);
    }
}

static void test_no_volume_method_asks_for_no_density(void **state)
{
    (void)state;
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_NONE, FLC_VISCOSITY_MEASURED);
    const flc_density nothing = {NAN, NAN, NAN, NAN, NAN};
    flc_volume_factors f;
    assert_int_equal(flc_liquid_volume(liquid, &nothing, 300.0, 50000.0, &f), FLC_OK);
    assert_int_equal(f.flags, FLC_FLAG_NO_VOLUME_CORRECTION);
    flc_check_nan(f.ctl);
    flc_check_nan(f.cpl);
    flc_check_nan(f.ctpl);
    flc_check_nan(f.rho_base_kgm3);
    flc_liquid_free(liquid);
}

/* ---- negative gauge pressure ---- */

static void test_negative_pressure_is_refused_or_clamped(void **state)
{
    (void)state;
    const flc_petroleum_product product = flc_petroleum_product_of_group(FLC_PETROLEUM_CRUDE);
    flc_liquid *refuses = petroleum(product, FLC_PETROLEUM_BASE_15C, FLC_NEGATIVE_REFUSE);
    flc_liquid *clamps = petroleum(product, FLC_PETROLEUM_BASE_15C, FLC_NEGATIVE_CLAMP);
    const flc_density density = base_density(850.0), observed = observed_density(840.0, 25.0, -3.0, 1.0);
    flc_volume_factors f;
    assert_int_equal(flc_liquid_volume(refuses, &density, 30.0, -0.1, &f), FLC_E_NEGATIVE_PRESSURE);
    flc_check_nan(f.cpl);
    assert_int_equal(flc_liquid_volume(refuses, &observed, 30.0, 5.0, &f), FLC_E_NEGATIVE_PRESSURE);
    const flc_volume_factors at_zero = factors_of(clamps, density, 30.0, 0.0, 0);
    f = factors_of(clamps, density, 30.0, -101.0, FLC_FLAG_PRESSURE_CLAMPED);
    flc_check_same_bits(f.ctpl, at_zero.ctpl);
    flc_check_same_bits(f.p_used_kpag, 0.0);
    f = factors_of(clamps, observed, 30.0, 5.0, FLC_FLAG_PRESSURE_CLAMPED | FLC_FLAG_OBSERVED_DENSITY);
    const flc_density observed_at_zero = observed_density(840.0, 25.0, 0.0, 1.0);
    flc_check_same_bits(f.rho_base_kgm3,
                        factors_of(clamps, observed_at_zero, 30.0, 5.0, FLC_FLAG_OBSERVED_DENSITY).rho_base_kgm3);
    assert_int_equal(flc_liquid_volume(clamps, &density, 30.0, -101.5, &f), FLC_E_BELOW); /* under vacuum */
    flc_liquid_free(refuses);
    flc_liquid_free(clamps);
}

/* ---- refusals, in the order of the judgement ---- */

static void check_all_nan(const flc_volume_factors *f)
{
    const double numbers[] = {f->rho60_kgm3, f->rho_base_kgm3, f->ctl, f->cpl, f->ctpl, f->p_used_kpag};
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        flc_check_nan(numbers[i]);
    }
}

static void test_refusals(void **state)
{
    (void)state;
    const flc_density both = {850.0, 840.0, 20.0, 0.0, 1.0}, neither = {NAN, NAN, NAN, NAN, 1.0};
    const struct {
        flc_density density;
        double t_degc, p_kpag;
        flc_status status;
    } cases[] = {
        {both, NAN, NAN, FLC_E_NAN},
        {both, 20.0, -INFINITY, FLC_E_INFINITE},
        {both, 20.0, 100001.0, FLC_E_ABOVE},
        {both, -50.1, 0.0, FLC_E_BELOW},
        {both, 150.1, 0.0, FLC_E_ABOVE},
        {both, 20.0, 10343.0, FLC_E_ABOVE}, /* over 1500 psi */
        {both, 20.0, 0.0, FLC_E_CONFLICT},
        {neither, 20.0, 0.0, FLC_E_MISSING},
        {base_density(611.0), 20.0, 0.0, FLC_E_BELOW}, /* 611.16 at 15 degC */
        {base_density(1163.9), 20.0, 0.0, FLC_E_ABOVE},
        {base_density(INFINITY), 20.0, 0.0, FLC_E_INFINITE},
        {observed_density(840.0, NAN, 0.0, NAN), 20.0, 0.0, FLC_E_NAN},
        {observed_density(840.0, 20.0, NAN, NAN), 20.0, 0.0, FLC_E_NAN},
        {observed_density(840.0, 151.0, 0.0, NAN), 20.0, 0.0, FLC_E_ABOVE},
        {observed_density(840.0, 20.0, 0.0, NAN), 20.0, 0.0, FLC_E_NAN},
        {observed_density(840.0, 20.0, 0.0, 0.89), 20.0, 0.0, FLC_E_BELOW},
        {observed_density(840.0, 20.0, 0.0, 1.11), 20.0, 0.0, FLC_E_ABOVE},
        {observed_density(299.0, 20.0, 0.0, 1.0), 20.0, 0.0, FLC_E_BELOW},
        {observed_density(1501.0, 20.0, 0.0, 1.0), 20.0, 0.0, FLC_E_ABOVE},
        {observed_density(400.0, 20.0, 0.0, 1.0), 20.0, 0.0, FLC_E_NO_ROOT},
        {observed_density(1400.0, 20.0, 0.0, 1.0), 20.0, 0.0, FLC_E_NO_ROOT},
    };
    flc_liquid *liquid =
        petroleum(flc_petroleum_product_of_group(FLC_PETROLEUM_REFINED), FLC_PETROLEUM_BASE_15C, FLC_NEGATIVE_REFUSE);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        flc_volume_factors f;
        memset(&f, 0, sizeof f);
        assert_int_equal(flc_liquid_volume(liquid, &cases[i].density, cases[i].t_degc, cases[i].p_kpag, &f),
                         cases[i].status);
        check_all_nan(&f);
    }
    flc_volume_factors f;
    assert_int_equal(flc_liquid_volume(NULL, &both, 20.0, 0.0, &f), FLC_E_NULL);
    check_all_nan(&f);
    assert_int_equal(flc_liquid_volume(liquid, NULL, 20.0, 0.0, &f), FLC_E_NULL);
    check_all_nan(&f);
    assert_int_equal(flc_liquid_volume(liquid, &both, 20.0, 0.0, NULL), FLC_E_NULL);
    flc_liquid_free(liquid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_factors_are_those_of_the_methods),
        cmocka_unit_test(test_an_observed_density_leads_back_to_the_base),
        cmocka_unit_test(test_at_base_conditions_nothing_is_corrected),
        cmocka_unit_test(test_no_volume_method_asks_for_no_density),
        cmocka_unit_test(test_negative_pressure_is_refused_or_clamped),
        cmocka_unit_test(test_refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
