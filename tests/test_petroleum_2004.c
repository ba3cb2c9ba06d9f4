/* SPDX-License-Identifier: Apache-2.0 */
/* Volume correction by API MPMS 11.1-2004. Expected values: the printed density limits of the standard (from memory),
 * published cells of Measurement Canada and a US Army course, IPTS-68 figures, and identities. The comparison with 40
 * digits is accuracy/methods_study.py. */
#include "check.h"

#include "bad_inputs.h"
#include "flowcomp/petroleum_2004.h"
#include "petroleum_2004_core.h"

#define PRODUCTS 8
static flc_petroleum_product product_at(size_t place)
{
    return place < 7 ? flc_petroleum_product_of_group((flc_petroleum_group)place)
                     : flc_petroleum_product_of_alpha60(0.00055);
}

static flc_petroleum_product of_group(flc_petroleum_group group)
{
    return flc_petroleum_product_of_group(group);
}

static double ctpl60(double rho60, double t_degf, double p_psig, flc_petroleum_product product)
{
    double result = 0.0;
    assert_int_equal(flc_ctpl60_petroleum_2004(rho60, t_degf, p_psig, product, &result), FLC_OK);
    return result;
}

/* --- facts from outside ------------------------------------------------------------------------------------------- */

/* Density limits at 60 degF, 15 degC and 20 degC as printed (from memory): they exercise the constants of crude,
 * gasoline, fuel oil and lube. */
static void printed_density_limits(void **unused)
{
    (void)unused;
    static const struct {
        flc_petroleum_group group;
        double rho60, rho15, rho20;
    } rows[] = {
        {FLC_PETROLEUM_CRUDE, 610.6, 611.16, 606.12},   {FLC_PETROLEUM_CRUDE, 1163.5, 1163.79, 1161.15},
        {FLC_PETROLEUM_REFINED, 610.6, 611.16, 606.12}, {FLC_PETROLEUM_REFINED, 1163.5, 1163.86, 1160.62},
        {FLC_PETROLEUM_LUBE, 800.9, 801.25, 798.11},    {FLC_PETROLEUM_LUBE, 1163.5, 1163.85, 1160.71},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double rho15, rho20;
        assert_int_equal(flc_rho15_from_rho60_petroleum_2004(rows[i].rho60, of_group(rows[i].group), &rho15), FLC_OK);
        assert_int_equal(flc_rho20_from_rho60_petroleum_2004(rows[i].rho60, of_group(rows[i].group), &rho20), FLC_OK);
        flc_check_near(rho15, rows[i].rho15, 0.005);
        flc_check_near(rho20, rows[i].rho20, 0.005);
    }
    double rho60;
    assert_int_equal(flc_rho60_from_api60_petroleum_2004(100.0, &rho60), FLC_OK);
    flc_check_near(rho60, 610.6, 0.05);
    assert_int_equal(flc_rho60_from_api60_petroleum_2004(-10.0, &rho60), FLC_OK);
    flc_check_near(rho60, 1163.5, 0.05);
}

/* The standard's 60.0068749 (from memory), and t90 - t68 of the BIPM table: -0.026 K at 100 degC, to 1 mK. */
static void temperature_scales(void **unused)
{
    (void)unused;
    double t;
    assert_int_equal(flc_t68_from_t90_petroleum_2004(60.0, &t), FLC_OK);
    flc_check_near(t, 60.0068749, 5e-8);
    assert_int_equal(flc_t90_minus_t68_its90(100.0, &t), FLC_OK);
    flc_check_near(t, -0.026, 0.0015);
    assert_int_equal(flc_t90_minus_t68_its90(0.0, &t), FLC_OK);
    flc_check_near(t, 0.0, 0.0);
}

/* Measurement Canada, aviation gasoline, 710 kg/m3 at 15 degC, table 54B (published; 1980 edition: half a printed unit
 * and 2e-5 between the editions); US Army course, 56.5 degAPI at 67.5 degF: 0.9950 (published). */
static void published_cells(void **unused)
{
    (void)unused;
    static const double cells[][2] = {{-40.0, 1.0700}, {-39.0, 1.0688}, {-39.3, 1.0691}};
    double ctl;
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        assert_int_equal(flc_ctl15_petroleum_2004(710.0, cells[i][0], of_group(FLC_PETROLEUM_REFINED), &ctl), FLC_OK);
        flc_check_near(ctl, cells[i][1], 7e-5);
    }
    assert_int_equal(flc_ctl60_from_api60_petroleum_2004(56.5, 67.5, FLC_PETROLEUM_REFINED, &ctl), FLC_OK);
    flc_check_near(ctl, 0.9950, 8e-5);
}

/* One point of each group, 40 digits (support/petroleum_oracle.py), so that every constant of the forward formulas is
 * held here. */
static void recomputed_points(void **unused)
{
    (void)unused;
    static const struct {
        flc_petroleum_group group;
        double rho60, t, p, alpha60, ctl, fp, cpl;
    } rows[] = {
        {FLC_PETROLEUM_CRUDE, 876.2, 27.7, 500.0, 0.000444290568239692076, 1.01429047239273419, 0.417717877906950576,
         1.00209296072509791},
        {FLC_PETROLEUM_FUEL_OIL, 945.0, 180.0, 900.0, 0.000402133445322967291, 0.951103093436625685,
         0.541952517169983205, 1.00490147997924333},
        {FLC_PETROLEUM_JET, 802.5, -40.0, 250.0, 0.00051288115715546802, 1.05042426241219796, 0.401791985183145128,
         1.0010054899574731},
        {FLC_PETROLEUM_TRANSITION, 779.0, 140.0, 1500.0, 0.000585381162942292391, 0.952563411610520764,
         0.877299078736924514, 1.01333496750161619},
        {FLC_PETROLEUM_GASOLINE, 725.0, 95.0, 300.0, 0.000702419762499930349, 0.975236691863760801,
         0.950217101281893748, 1.00285880074792519},
        {FLC_PETROLEUM_LUBE, 880.0, 300.0, 1200.0, 0.000396339829141984359, 0.90268101262702804, 0.972445887030478206,
         1.01180713221023131},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const flc_petroleum_product product = of_group(rows[i].group);
        double result;
        assert_int_equal(flc_alpha60_petroleum_2004(rows[i].rho60, product, &result), FLC_OK);
        flc_check_relative(result, rows[i].alpha60, 1e-14);
        assert_int_equal(flc_ctl60_petroleum_2004(rows[i].rho60, rows[i].t, product, &result), FLC_OK);
        flc_check_relative(result, rows[i].ctl, 2e-15);
        assert_int_equal(flc_fp60_petroleum_2004(rows[i].rho60, rows[i].t, product, &result), FLC_OK);
        flc_check_relative(result, rows[i].fp, 1e-14);
        assert_int_equal(flc_cpl60_petroleum_2004(rows[i].rho60, rows[i].t, rows[i].p, product, &result), FLC_OK);
        flc_check_relative(result, rows[i].cpl, 2e-15);
    }
}

/* --- identities --------------------------------------------------------------------------------------------------- */

static void one_at_the_base(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < PRODUCTS; i++) {
        double ctl, cpl;
        /* 60.0068749 is rounded: 2.3e-9 degF times the largest alpha */
        assert_int_equal(flc_ctl60_petroleum_2004(830.0, 60.0, product_at(i), &ctl), FLC_OK);
        flc_check_near(ctl, 1.0, 2.3e-9 * 930e-6);
        assert_int_equal(flc_cpl60_petroleum_2004(830.0, 200.0, 0.0, product_at(i), &cpl), FLC_OK);
        flc_check_same_bits(cpl, 1.0);
        assert_int_equal(flc_ctl15_petroleum_2004(830.0, 15.0, product_at(i), &ctl), FLC_OK);
        flc_check_same_bits(ctl, 1.0);
        assert_int_equal(flc_ctl20_petroleum_2004(830.0, 20.0, product_at(i), &ctl), FLC_OK);
        flc_check_same_bits(ctl, 1.0);
    }
}

static void api_gravity_both_ways(void **unused)
{
    (void)unused;
    for (double rho60 = 620.0; rho60 < 1160.0; rho60 += 7.0) {
        double api, back;
        assert_int_equal(flc_api60_from_rho60_petroleum_2004(rho60, &api), FLC_OK);
        assert_int_equal(flc_rho60_from_api60_petroleum_2004(api, &back), FLC_OK);
        flc_check_relative(back, rho60, 1e-15);
    }
    /* water, relative density 1, has 10 degAPI: 141.5 - 131.5 */
    double api;
    assert_int_equal(flc_api60_from_rho60_petroleum_2004(999.016, &api), FLC_OK);
    flc_check_near(api, 10.0, 3e-14);
}

static void out_and_back(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < PRODUCTS; i++) {
        for (double rho60 = 803.0; rho60 < 840.0; rho60 += 3.7) {
            for (double t = -50.0; t < 300.0; t += 61.0) {
                double back, rho15, rho20;
                const double observed = rho60 * ctpl60(rho60, t, 3.0 * t + 200.0, product_at(i));
                assert_int_equal(
                    flc_rho60_from_observed_petroleum_2004(observed, t, 3.0 * t + 200.0, product_at(i), &back), FLC_OK);
                flc_check_relative(back, rho60, 2e-15);
                assert_int_equal(flc_rho15_from_rho60_petroleum_2004(rho60, product_at(i), &rho15), FLC_OK);
                assert_int_equal(flc_rho60_from_rho15_petroleum_2004(rho15, product_at(i), &back), FLC_OK);
                flc_check_relative(back, rho60, 1e-15);
                assert_int_equal(flc_rho20_from_rho60_petroleum_2004(rho60, product_at(i), &rho20), FLC_OK);
                assert_int_equal(flc_rho60_from_rho20_petroleum_2004(rho20, product_at(i), &back), FLC_OK);
                flc_check_relative(back, rho60, 1e-15);
            }
        }
    }
}

/* The same observation to base 15 degC directly and by way of 60 degF; the metric factors against those of base 60. */
static void metric_chain(void **unused)
{
    (void)unused;
    const flc_petroleum_product crude = of_group(FLC_PETROLEUM_CRUDE);
    double rho15, rho60, by_way, ctl15, ctl60, at_base, fp15, fp60, cpl15, cpl60, ctpl15;
    const double t_degf = 1.8 * 45.0 + 32.0, p_psig = 3000.0 / 6.894757;
    assert_int_equal(flc_rho15_from_observed_petroleum_2004(833.0, 45.0, 3000.0, crude, &rho15), FLC_OK);
    assert_int_equal(flc_rho60_from_observed_petroleum_2004(833.0, t_degf, p_psig, crude, &rho60), FLC_OK);
    assert_int_equal(flc_rho15_from_rho60_petroleum_2004(rho60, crude, &by_way), FLC_OK);
    flc_check_same_bits(rho15, by_way);
    assert_int_equal(flc_ctl15_petroleum_2004(rho15, 45.0, crude, &ctl15), FLC_OK);
    assert_int_equal(flc_ctl60_petroleum_2004(rho60, t_degf, crude, &ctl60), FLC_OK);
    assert_int_equal(flc_ctl60_petroleum_2004(rho60, 59.0, crude, &at_base), FLC_OK);
    flc_check_relative(ctl15 * at_base, ctl60, 1e-15);
    assert_int_equal(flc_fp15_petroleum_2004(rho15, 45.0, crude, &fp15), FLC_OK);
    assert_int_equal(flc_fp60_petroleum_2004(rho60, t_degf, crude, &fp60), FLC_OK);
    flc_check_relative(fp15 * 6.894757, fp60, 3e-15);
    assert_int_equal(flc_cpl15_petroleum_2004(rho15, 45.0, 3000.0, crude, &cpl15), FLC_OK);
    assert_int_equal(flc_cpl60_petroleum_2004(rho60, t_degf, p_psig, crude, &cpl60), FLC_OK);
    flc_check_relative(cpl15, cpl60, 1e-15);
    assert_int_equal(flc_ctpl15_petroleum_2004(rho15, 45.0, 3000.0, crude, &ctpl15), FLC_OK);
    flc_check_relative(ctpl15, ctl15 * cpl15, 1e-15);
    /* and the density observed is the base density over CTPL */
    flc_check_relative(rho15 * ctpl15, 833.0, 2e-15);
}

static void monotony(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < PRODUCTS; i++) {
        double before = 2.0;
        for (double t = -58.0; t <= 302.0; t += 4.0) {
            const double ctl = ctpl60(820.0, t, 0.0, product_at(i));
            assert_true(ctl < before);
            before = ctl;
        }
        before = 0.0;
        for (double p = 0.0; p <= 1500.0; p += 50.0) {
            const double ctpl = ctpl60(820.0, 150.0, p, product_at(i));
            assert_true(ctpl > before);
            before = ctpl;
        }
        before = 0.0;
        for (double rho = 801.0; rho <= 842.0; rho += 0.5) {
            const double observed = rho * ctpl60(rho, 302.0, 1500.0, product_at(i));
            assert_true(observed > before);
            before = observed;
        }
    }
}

/* --- what the other layers use ------------------------------------------------------------------------------------ */

static void steps_are_the_methods(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < PRODUCTS; i++) {
        flc_petroleum_2004_steps s;
        double result;
        flc_petroleum_2004_forward(product_at(i), 826.5, 143.0, 650.0, &s);
        assert_int_equal(flc_rho_star_petroleum_2004(826.5, product_at(i), &result), FLC_OK);
        flc_check_same_bits(s.rho_star_kgm3, result);
        assert_int_equal(flc_alpha60_petroleum_2004(826.5, product_at(i), &result), FLC_OK);
        flc_check_same_bits(s.alpha60_per_degf, result);
        assert_int_equal(flc_ctl60_petroleum_2004(826.5, 143.0, product_at(i), &result), FLC_OK);
        flc_check_same_bits(s.ctl, result);
        assert_int_equal(flc_fp60_petroleum_2004(826.5, 143.0, product_at(i), &result), FLC_OK);
        flc_check_same_bits(s.fp, result);
        assert_int_equal(flc_cpl60_petroleum_2004(826.5, 143.0, 650.0, product_at(i), &result), FLC_OK);
        flc_check_same_bits(s.cpl, result);
        flc_check_same_bits(s.ctpl, ctpl60(826.5, 143.0, 650.0, product_at(i)));
        assert_int_equal(flc_t68_from_t90_petroleum_2004(143.0, &result), FLC_OK);
        flc_check_same_bits(s.t_star_degf, result);
    }
}

static void steps_to_a_metric_base(void **unused)
{
    (void)unused;
    const flc_petroleum_product jet = of_group(FLC_PETROLEUM_REFINED);
    double rho60, result;
    flc_petroleum_2004_steps s;
    assert_int_equal(flc_petroleum_2004_rho60_from_base(jet, FLC_PETROLEUM_BASE_15C, 802.0, &rho60), FLC_OK);
    flc_petroleum_2004_forward(jet, rho60, flc_petroleum_2004_degf(31.5), flc_petroleum_2004_psi(900.0), &s);
    flc_petroleum_2004_rebase(&s, flc_petroleum_2004_ctl60_at_base(jet, FLC_PETROLEUM_BASE_15C, rho60));
    assert_int_equal(s.group, FLC_PETROLEUM_JET);
    assert_int_equal(flc_ctl15_petroleum_2004(802.0, 31.5, jet, &result), FLC_OK);
    flc_check_same_bits(s.ctl, result);
    assert_int_equal(flc_ctpl15_petroleum_2004(802.0, 31.5, 900.0, jet, &result), FLC_OK);
    flc_check_same_bits(s.ctpl, result);
    flc_check_same_bits(flc_petroleum_2004_ctl60_at_base(jet, FLC_PETROLEUM_BASE_60F, rho60), 1.0);
}

/* --- refusals ----------------------------------------------------------------------------------------------------- */

static void product_conflicts(void **unused)
{
    (void)unused;
    const flc_petroleum_product both = {FLC_PETROLEUM_CRUDE, 0.0005};
    const flc_petroleum_product neither = {FLC_PETROLEUM_GROUP_NONE, NAN};
    const flc_petroleum_product unknown = {(flc_petroleum_group)7, NAN};
    flc_error error;
    double result = 0.0;
    assert_int_equal(flc_ctl60_petroleum_2004(850.0, 100.0, both, &result), FLC_E_CONFLICT);
    flc_check_nan(result);
    assert_int_equal(flc_rho15_from_observed_petroleum_2004(850.0, 10.0, 0.0, neither, &result), FLC_E_MISSING);
    flc_check_nan(result);
    assert_int_equal(flc_ctl60_petroleum_2004(850.0, 100.0, unknown, &result), FLC_E_CHOICE);
    assert_int_equal(flc_petroleum_check_product(both, &error), FLC_E_CONFLICT);
    assert_string_equal(error.argument, "alpha60_per_degf");
    assert_int_equal(flc_petroleum_check_product(neither, &error), FLC_E_MISSING);
    assert_string_equal(error.argument, "group");
    assert_int_equal(flc_petroleum_check_product(unknown, NULL), FLC_E_CHOICE);
    assert_int_equal(flc_petroleum_check_product(flc_petroleum_product_of_alpha60(229e-6), &error), FLC_E_BELOW);
    assert_int_equal(flc_petroleum_check_product(flc_petroleum_product_of_alpha60(931e-6), &error), FLC_E_ABOVE);
    assert_int_equal(flc_petroleum_check_product(flc_petroleum_product_of_alpha60(INFINITY), &error), FLC_E_INFINITE);
    assert_int_equal(flc_petroleum_check_product(of_group(FLC_PETROLEUM_LUBE), &error), FLC_OK);
    /* the product is judged before the density against it */
    assert_int_equal(flc_ctl60_petroleum_2004(700.0, 100.0, neither, &result), FLC_E_MISSING);
}

static void density_limits(void **unused)
{
    (void)unused;
    double low, high, result;
    for (size_t i = 0; i < PRODUCTS; i++) {
        for (int base = 0; base < 3; base++) {
            assert_int_equal(flc_petroleum_2004_density_limits(product_at(i), (flc_petroleum_base)base, &low, &high),
                             FLC_OK);
            assert_true(low > 600.0 && high > low && high < 1164.0);
        }
        assert_int_equal(flc_petroleum_2004_density_limits(product_at(i), FLC_PETROLEUM_BASE_60F, &low, &high), FLC_OK);
        assert_int_equal(flc_ctl60_petroleum_2004(low, 90.0, product_at(i), &result), FLC_OK);
        assert_int_equal(flc_ctl60_petroleum_2004(high, 90.0, product_at(i), &result), FLC_OK);
        assert_int_equal(flc_ctl60_petroleum_2004(nextafter(low, 0.0), 90.0, product_at(i), &result), FLC_E_BELOW);
        assert_int_equal(flc_ctl60_petroleum_2004(nextafter(high, 9e9), 90.0, product_at(i), &result), FLC_E_ABOVE);
    }
    /* the contract of rho15 ends at 1163.86, crude at 1163.79 */
    assert_int_equal(flc_ctl15_petroleum_2004(1163.80, 30.0, of_group(FLC_PETROLEUM_CRUDE), &result), FLC_E_ABOVE);
    assert_int_equal(flc_ctl15_petroleum_2004(1163.80, 30.0, of_group(FLC_PETROLEUM_REFINED), &result), FLC_OK);
    assert_int_equal(flc_ctl60_from_api60_petroleum_2004(45.1, 90.0, FLC_PETROLEUM_LUBE, &result), FLC_E_ABOVE);
    assert_int_equal(flc_petroleum_2004_density_limits(product_at(0), (flc_petroleum_base)3, &low, &high),
                     FLC_E_CHOICE);
    flc_check_nan(low);
    flc_check_nan(high);
    assert_int_equal(flc_petroleum_2004_density_limits(product_at(0), FLC_PETROLEUM_BASE_60F, NULL, &high), FLC_E_NULL);
    flc_check_nan(high);
    assert_int_equal(flc_petroleum_2004_density_limits((flc_petroleum_product){FLC_PETROLEUM_GROUP_NONE, NAN},
                                                       FLC_PETROLEUM_BASE_60F, &low, &high),
                     FLC_E_MISSING);
}

/* At the densest and lightest limits of every base there is a density at 60 degF for the products of the standard. */
static void limits_have_a_density_at_60(void **unused)
{
    (void)unused;
    static const flc_petroleum_group groups[] = {FLC_PETROLEUM_CRUDE, FLC_PETROLEUM_REFINED, FLC_PETROLEUM_LUBE};
    for (size_t i = 0; i < 3; i++) {
        for (int base = 1; base < 3; base++) {
            double ends[2], rho60;
            const flc_petroleum_product product = of_group(groups[i]);
            assert_int_equal(flc_petroleum_2004_density_limits(product, (flc_petroleum_base)base, &ends[0], &ends[1]),
                             FLC_OK);
            for (size_t end = 0; end < 2; end++) {
                assert_int_equal(
                    flc_petroleum_2004_rho60_from_base(product, (flc_petroleum_base)base, ends[end], &rho60), FLC_OK);
            }
        }
    }
}

static void no_density_at_60(void **unused)
{
    (void)unused;
    double result = 0.0;
    const flc_petroleum_product crude = of_group(FLC_PETROLEUM_CRUDE);
    assert_int_equal(flc_rho60_from_observed_petroleum_2004(600.0, 60.0, 0.0, crude, &result), FLC_E_NO_ROOT);
    flc_check_nan(result);
    assert_int_equal(flc_rho60_from_observed_petroleum_2004(1200.0, 60.0, 0.0, crude, &result), FLC_E_NO_ROOT);
    assert_int_equal(flc_rho60_from_observed_petroleum_2004(760.0, 60.0, 0.0, of_group(FLC_PETROLEUM_LUBE), &result),
                     FLC_E_NO_ROOT);
    /* alpha60 given, hot and at high pressure: 652.93 and 652.4 kg/m3 at 60 degF about 611 and 614, falling */
    const flc_petroleum_product given = flc_petroleum_product_of_alpha60(230e-6);
    assert_true(611.0 * ctpl60(611.0, 302.0, 1500.0, given) > 613.0 * ctpl60(613.0, 302.0, 1500.0, given));
    assert_int_equal(flc_rho60_from_observed_petroleum_2004(652.5, 302.0, 1500.0, given, &result), FLC_E_NOT_MONOTONIC);
    flc_check_nan(result);
    assert_int_equal(flc_rho60_from_observed_petroleum_2004(660.0, 302.0, 1500.0, given, &result), FLC_OK);
    flc_check_relative(result * ctpl60(result, 302.0, 1500.0, given), 660.0, 2e-15);
}

static void words(void **unused)
{
    (void)unused;
    flc_petroleum_group group;
    flc_petroleum_base base;
    assert_int_equal(flc_petroleum_group_from_name("transition", &group), FLC_OK);
    assert_int_equal(group, FLC_PETROLEUM_TRANSITION);
    assert_int_equal(flc_petroleum_group_from_name("none", &group), FLC_E_UNKNOWN_NAME);
    assert_int_equal(group, FLC_PETROLEUM_GROUP_NONE);
    assert_int_equal(flc_petroleum_group_from_name(NULL, &group), FLC_E_NULL);
    assert_int_equal(flc_petroleum_base_from_name("20C", &base), FLC_OK);
    assert_int_equal(base, FLC_PETROLEUM_BASE_20C);
    assert_int_equal(flc_petroleum_base_from_name("15F", &base), FLC_E_UNKNOWN_NAME);
}

/* A value for every argument name of this header's methods. */
static flc_value good_value(const char *name)
{
    static const struct {
        const char *name;
        double number;
    } values[] = {
        {"rho60_kgm3", 830.0}, {"rho15_kgm3", 830.0}, {"rho20_kgm3", 830.0},     {"rho_kgm3", 820.0},
        {"t_degf", 95.0},      {"t_degc", 35.0},      {"p_psig", 400.0},         {"p_kpag", 2500.0},
        {"api60", 38.0},       {"group", 1.0},        {"alpha60_per_degf", NAN},
    };
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
        if (strcmp(values[i].name, name) == 0) {
            return (flc_value){values[i].number, NULL, 0};
        }
    }
    fail_msg("no good value for %s", name);
    return (flc_value){NAN, NULL, 0};
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    size_t judged = 0;
    for (size_t i = 0; i < flc_method_count(); i++) {
        const flc_method_info *method = flc_method_at(i);
        const size_t length = strlen(method->name);
        if (strcmp(method->name, "t90_minus_t68_its90") != 0 &&
            (length < 15 || strcmp(method->name + length - 15, "_petroleum_2004") != 0)) {
            continue;
        }
        flc_value good[8];
        assert_true(method->argument_count <= 8);
        for (size_t place = 0; place < method->argument_count; place++) {
            good[place] = good_value(method->arguments[place].name);
        }
        flc_check_bad_inputs(method->name, good, method->argument_count);
        judged++;
    }
    assert_int_equal(judged, 26);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(printed_density_limits),
        cmocka_unit_test(temperature_scales),
        cmocka_unit_test(published_cells),
        cmocka_unit_test(recomputed_points),
        cmocka_unit_test(one_at_the_base),
        cmocka_unit_test(api_gravity_both_ways),
        cmocka_unit_test(out_and_back),
        cmocka_unit_test(metric_chain),
        cmocka_unit_test(monotony),
        cmocka_unit_test(steps_are_the_methods),
        cmocka_unit_test(steps_to_a_metric_base),
        cmocka_unit_test(product_conflicts),
        cmocka_unit_test(density_limits),
        cmocka_unit_test(limits_have_a_density_at_60),
        cmocka_unit_test(no_density_at_60),
        cmocka_unit_test(words),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
