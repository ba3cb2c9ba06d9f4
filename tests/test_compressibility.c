/* SPDX-License-Identifier: Apache-2.0 */
/* Compressibility of 1984 and 1986. Expected values: printed cells and an example of national standards, points
 * recomputed in 40 digits (support/hydrocarbon_oracle.py), and identities. */
#include "check.h"

#include "family_inputs.h"
#include "flowcomp/compressibility_1984.h"
#include "flowcomp/compressibility_1986.h"
#include "flowcomp/light_ends_2007.h"
#include "flowcomp/petroleum_1980.h"

/* --- 1984 --------------------------------------------------------------------------------------------------------- */

/* R 50.2.076-2010, table V.1 (three of the cells of checks/compressibility_1984.csv), GOST 8.599-2010 (1.082; its last
 * line, 748.2, is a misprint of 748.13: its own numbers). */
static void printed_values(void **unused)
{
    (void)unused;
    static const double cells[][3] = {{1000.0, -50.0, 0.401}, {1190.0, -50.0, 0.321}, {980.0, 100.0, 0.681}};
    double result;
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        assert_int_equal(
            flc_f_from_observed_compressibility_1984_metric(cells[i][0], cells[i][1], FLC_PETROLEUM_CRUDE, &result),
            FLC_OK);
        flc_check_near(result, cells[i][2], 5e-4);
    }
    assert_int_equal(flc_f_from_observed_compressibility_1984_metric(750.0, 25.0, FLC_PETROLEUM_REFINED, &result),
                     FLC_OK);
    flc_check_near(result, 1.082, 5e-4);
    assert_int_equal(
        flc_rho_at_zero_gauge_compressibility_1984_metric(750.0, 25.0, 2300.0, FLC_PETROLEUM_REFINED, &result), FLC_OK);
    flc_check_relative(result, 750.0 * (1.0 - 1.082e-6 * 2300.0), 1e-15);
}

static void recomputed_1984(void **unused)
{
    (void)unused;
    static const struct {
        double rho, t_degc, metric, customary; /* customary at 1.8 t + 32 */
    } rows[] = {
        {700.0, -10.0, 1.0710164458380249, 0.73629959902864754},
        {850.0, 40.0, 0.8405936277607803, 0.57864305084535872},
        {1000.0, 85.0, 0.68818003259250099, 0.47443528780042591},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double f;
        assert_int_equal(flc_f_compressibility_1984_metric(rows[i].rho, rows[i].t_degc, &f), FLC_OK);
        flc_check_relative(f, rows[i].metric, 4e-15);
        assert_int_equal(flc_f_compressibility_1984_customary(rows[i].rho, 1.8 * rows[i].t_degc + 32.0, &f), FLC_OK);
        flc_check_relative(f, rows[i].customary, 4e-15);
    }
}

/* The two forms are one set of data: for one liquid, its densities at 15 degC and at 60 degF, F within 0.18 %. */
static void metric_and_customary(void **unused)
{
    (void)unused;
    const flc_petroleum_product crude = flc_petroleum_product_of_group(FLC_PETROLEUM_CRUDE);
    for (double rho15 = 640.0; rho15 <= 1070.0; rho15 += 10.0) {
        double rho60;
        assert_int_equal(flc_rho60_from_rho15_petroleum_2004(rho15, crude, &rho60), FLC_OK);
        for (double t = -28.0; t <= 90.0; t += 2.0) {
            double metric, customary;
            assert_int_equal(flc_f_compressibility_1984_metric(rho15, t, &metric), FLC_OK);
            assert_int_equal(flc_f_compressibility_1984_customary(rho60, 1.8 * t + 32.0, &customary), FLC_OK);
            flc_check_relative(metric * 1e-6 * 6.894757, customary * 1e-5, 0.0018);
        }
    }
}

static void cpl_of_1984(void **unused)
{
    (void)unused;
    double f, cpl, with_pe;
    assert_int_equal(flc_f_compressibility_1984_metric(700.0, 30.0, &f), FLC_OK);
    assert_int_equal(flc_cpl_compressibility_1984_metric(700.0, 30.0, 5000.0, NAN, &cpl), FLC_OK);
    flc_check_relative(cpl, 1.0 / (1.0 - 1e-6 * f * 5000.0), 1e-15);
    /* at the equilibrium pressure 1; above it as from there; below atmospheric as 0; below equilibrium none */
    assert_int_equal(flc_cpl_compressibility_1984_metric(700.0, 30.0, 300.0, 300.0, &with_pe), FLC_OK);
    flc_check_same_bits(with_pe, 1.0);
    assert_int_equal(flc_cpl_compressibility_1984_metric(700.0, 30.0, 5300.0, 300.0, &with_pe), FLC_OK);
    flc_check_same_bits(with_pe, cpl);
    assert_int_equal(flc_cpl_compressibility_1984_metric(700.0, 30.0, 5000.0, -60.0, &with_pe), FLC_OK);
    flc_check_same_bits(with_pe, cpl);
    assert_int_equal(flc_cpl_compressibility_1984_metric(700.0, 30.0, 299.0, 300.0, &with_pe), FLC_E_DOMAIN);
    flc_check_nan(with_pe);
    assert_int_equal(flc_cpl_compressibility_1984_customary(700.0, 86.0, 0.0, NAN, &cpl), FLC_OK);
    flc_check_same_bits(cpl, 1.0);
    assert_int_equal(flc_cpl_compressibility_1984_customary(700.0, 86.0, 30.0, 31.0, &cpl), FLC_E_DOMAIN);
}

static void observed_under_pressure_1984(void **unused)
{
    (void)unused;
    static const flc_petroleum_group groups[] = {FLC_PETROLEUM_CRUDE, FLC_PETROLEUM_REFINED, FLC_PETROLEUM_LUBE};
    for (size_t i = 0; i < 3; i++) {
        for (double t = -28.0; t <= 90.0; t += 14.75) {
            double rho15, rho60, zero, cpl;
            assert_int_equal(
                flc_rho15_from_observed_compressibility_1984_metric(905.0, t, 6000.0, groups[i], 150.0, &rho15),
                FLC_OK);
            assert_int_equal(flc_cpl_compressibility_1984_metric(rho15, t, 6000.0, 150.0, &cpl), FLC_OK);
            /* without the pressure it is the density of table 53 */
            assert_int_equal(flc_rho15_table53_petroleum_1980(905.0 / cpl, t, groups[i], NAN, &zero), FLC_OK);
            flc_check_relative(rho15, zero, 2e-15);
            assert_int_equal(flc_rho60_from_observed_compressibility_1984_customary(905.0, 1.8 * t + 32.0, 870.0,
                                                                                    groups[i], NAN, &rho60),
                             FLC_OK);
            assert_int_equal(flc_cpl_compressibility_1984_customary(rho60, 1.8 * t + 32.0, 870.0, NAN, &cpl), FLC_OK);
            assert_int_equal(
                flc_rd60_table23_petroleum_1980(905.0 / cpl / 999.012, 1.8 * t + 32.0, groups[i], NAN, &zero), FLC_OK);
            flc_check_relative(rho60, zero * 999.012, 2e-15);
            flc_check_near(rho60, rho15, 1.5);
        }
    }
    double result;
    assert_int_equal(
        flc_rho15_from_observed_compressibility_1984_metric(600.0, 15.0, 100.0, FLC_PETROLEUM_CRUDE, NAN, &result),
        FLC_E_NO_ROOT);
    flc_check_nan(result);
    assert_int_equal(
        flc_rho15_from_observed_compressibility_1984_metric(800.0, 15.0, 100.0, FLC_PETROLEUM_CRUDE, 101.0, &result),
        FLC_E_DOMAIN);
}

/* --- 1986 --------------------------------------------------------------------------------------------------------- */

static void recomputed_1986(void **unused)
{
    (void)unused;
    static const struct {
        double rd60, t_degf, dp_psi, f, cpl;
    } rows[] = {
        {0.36, -40.0, 150.0, 3.406563315498451, 1.0051360895948461},
        {0.45, 60.0, 900.0, 5.1572244434934182, 1.0486742356103639},
        {0.5077, 100.0, 300.0, 5.5206535500896376, 1.0168408786192773},
        {0.584, 20.0, 0.0, 1.3790988402373446, 1.0},
        {0.63, 135.0, 2000.0, 1.7262432818479457, 1.0357594560524194},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double result;
        assert_int_equal(flc_f_compressibility_1986(rows[i].rd60, rows[i].t_degf, rows[i].dp_psi, &result), FLC_OK);
        flc_check_relative(result, rows[i].f, 4e-15);
        assert_int_equal(flc_cpl_compressibility_1986(rows[i].rd60, rows[i].t_degf, rows[i].dp_psi, &result), FLC_OK);
        flc_check_relative(result, rows[i].cpl, 2e-15);
    }
}

/* Denser or colder liquids give way less; more pressure, less per psi; CPL rises with pressure. */
static void monotony_1986(void **unused)
{
    (void)unused;
    for (double t = -50.0; t <= 140.0; t += 10.0) {
        double before = INFINITY;
        for (double rd60 = 0.45; rd60 <= 0.636; rd60 += 0.01) {
            double f, harder, warmer, cpl;
            assert_int_equal(flc_f_compressibility_1986(rd60, t, 100.0, &f), FLC_OK);
            assert_true(f < before);
            before = f;
            assert_int_equal(flc_f_compressibility_1986(rd60, t, 600.0, &harder), FLC_OK);
            assert_true(harder < f);
            if (t <= 130.0) {
                assert_int_equal(flc_f_compressibility_1986(rd60, t + 10.0, 100.0, &warmer), FLC_OK);
                assert_true(warmer > f);
            }
            assert_int_equal(flc_cpl_compressibility_1986(rd60, t, 600.0, &cpl), FLC_OK);
            assert_true(cpl > 1.0 / (1.0 - 1e-5 * f * 100.0));
        }
    }
}

/* Near the critical point A is not positive (-733 psi at rd60 0.35, 100 degF) and there is no F. */
static void no_factor_near_the_critical_point(void **unused)
{
    (void)unused;
    double result = 0.0;
    assert_int_equal(flc_f_compressibility_1986(0.35, 100.0, 0.0, &result), FLC_E_DOMAIN);
    flc_check_nan(result);
    assert_int_equal(flc_f_compressibility_1986(0.35, 100.0, 2200.0, &result), FLC_E_DOMAIN);
    assert_int_equal(flc_cpl_compressibility_1986(0.42, 140.0, 500.0, &result), FLC_E_DOMAIN);
    flc_check_nan(result);
}

static void observed_under_pressure_1986(void **unused)
{
    (void)unused;
    for (double t = -50.0; t <= 140.0; t += 9.5) {
        for (double rd60 = 0.44; rd60 <= 0.637; rd60 += 0.0197) {
            for (double dp = 0.0; dp <= 2200.0; dp += 550.0) {
                double ctl, cpl, back;
                assert_int_equal(flc_ctl60_light_ends_2007(rd60, t, &ctl), FLC_OK);
                assert_int_equal(flc_cpl_compressibility_1986(rd60, t, dp, &cpl), FLC_OK);
                assert_int_equal(flc_rd60_from_observed_compressibility_1986(rd60 * ctl * cpl, t, dp, &back), FLC_OK);
                flc_check_relative(back, rd60, 2e-14); /* the condition number reaches 8 here */
            }
        }
    }
    double back;
    assert_int_equal(flc_rd60_from_observed_compressibility_1986(0.75, 60.0, 100.0, &back), FLC_E_NO_ROOT);
    flc_check_nan(back);
    assert_int_equal(flc_rd60_from_observed_compressibility_1986(0.30, 60.0, 100.0, &back), FLC_E_NO_ROOT);
    /* at 110 degF and 200 psi the product turns at rd60 0.416, 0.3723: lighter liquids have no answer */
    assert_int_equal(flc_rd60_from_observed_compressibility_1986(0.373, 110.0, 200.0, &back), FLC_OK);
    assert_true(back > 0.416 && back < 0.425);
    assert_int_equal(flc_rd60_from_observed_compressibility_1986(0.372, 110.0, 200.0, &back), FLC_E_NO_ROOT);
    flc_check_nan(back);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_compressibility_1984_metric", "_compressibility_1984_customary",
                                       "_compressibility_1986", NULL};
    flc_check_family_inputs(ends, 11);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(printed_values),
        cmocka_unit_test(recomputed_1984),
        cmocka_unit_test(metric_and_customary),
        cmocka_unit_test(cpl_of_1984),
        cmocka_unit_test(observed_under_pressure_1984),
        cmocka_unit_test(recomputed_1986),
        cmocka_unit_test(monotony_1986),
        cmocka_unit_test(no_factor_near_the_critical_point),
        cmocka_unit_test(observed_under_pressure_1986),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
