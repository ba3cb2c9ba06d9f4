/* SPDX-License-Identifier: Apache-2.0 */
/* Light ends (GPA TP-27, 2007). Expected values: molar masses (IUPAC atomic weights), a published example, points
 * recomputed in 40 digits (support/hydrocarbon_oracle.py), and identities. */
#include "check.h"

#include "family_inputs.h"
#include "light_ends_2007_core.h"
#include "flowcomp/light_ends_2007.h"

static double ctl60(double rd60, double t_degf)
{
    double result = 0.0;
    assert_int_equal(flc_ctl60_light_ends_2007(rd60, t_degf, &result), FLC_OK);
    return result;
}

/* --- the table of reference fluids -------------------------------------------------------------------------------- */

/* Saturated density at 60 degF times molar mass is relative density times that of water. Molar masses with C 12.011 and
 * H 1.008; of the mixtures by mole fractions, as their names are read (68 and 32 per cent ethane and ethylene, ...). */
static void fluids_close_on_their_molar_mass(void **unused)
{
    (void)unused;
    static const struct {
        double carbon, hydrogen, agreement; /* atoms per molecule, mean of a mixture */
    } rows[] = {
        {2.0, 0.68 * 6 + 0.32 * 4, 4e-4},
        {2.0, 6.0, 3e-5},
        {0.65 * 2 + 0.35 * 3, 0.65 * 6 + 0.35 * 8, 2e-4},
        {0.35 * 2 + 0.65 * 3, 0.35 * 6 + 0.65 * 8, 2e-4},
        {3.0, 8.0, 3e-5},
        {4.0, 10.0, 3e-5},
        {4.0, 10.0, 3e-5},
        {5.0, 12.0, 3e-5},
        {5.0, 12.0, 3e-5},
        {6.0, 14.0, 3e-5},
        {6.0, 14.0, 3e-5},
        {7.0, 16.0, 3e-5},
    };
    size_t count;
    const flc_light_ends_2007_fluid *fluids = flc_light_ends_2007_fluids(&count);
    assert_int_equal(count, sizeof rows / sizeof rows[0]);
    for (size_t i = 0; i < count; i++) {
        const double tr = 519.67 / 1.8 / fluids[i].tc_k;
        const double molar_mass = 12.011 * rows[i].carbon + 1.008 * rows[i].hydrogen;
        flc_check_relative(flc_light_ends_2007_density(&fluids[i], tr).rho * molar_mass, fluids[i].rd60 * 999.016,
                           rows[i].agreement);
    }
}

static void fluids_rise(void **unused)
{
    (void)unused;
    size_t count;
    const flc_light_ends_2007_fluid *fluids = flc_light_ends_2007_fluids(&count);
    for (size_t i = 1; i < count; i++) {
        assert_true(fluids[i].rd60 > fluids[i - 1].rd60);
        assert_true(fluids[i].tc_k > fluids[i - 1].tc_k);
    }
    flc_check_same_bits(flc_light_ends_2007_density(&fluids[4], 1.0).rho, fluids[4].rho_c);
}

/* The slope that the inverse uses, against a difference of densities. */
static void slopes(void **unused)
{
    (void)unused;
    size_t count;
    const flc_light_ends_2007_fluid *fluids = flc_light_ends_2007_fluids(&count);
    for (size_t i = 0; i < count; i++) {
        for (double tr = 0.45; tr < 0.99; tr += 0.06) {
            const double step = 1e-6;
            const double up = flc_light_ends_2007_density(&fluids[i], tr + step).rho;
            const double down = flc_light_ends_2007_density(&fluids[i], tr - step).rho;
            const flc_light_ends_2007_saturated here = flc_light_ends_2007_density(&fluids[i], tr);
            flc_check_relative(here.slope, (up - down) / (2.0 * step) * tr / here.rho, 1e-6);
        }
    }
    for (double rd60 = 0.36; rd60 < 0.68; rd60 += 0.0171) {
        double slope, unused_slope;
        int above;
        (void)flc_light_ends_2007_ctl60(rd60, 260.0, &slope, &above);
        const double up = flc_light_ends_2007_ctl60(rd60 + 1e-7, 260.0, &unused_slope, &above);
        const double down = flc_light_ends_2007_ctl60(rd60 - 1e-7, 260.0, &unused_slope, &above);
        flc_check_relative(slope, (up - down) / (1e-7 * (up + down)), 1e-5);
    }
}

/* --- CTL ---------------------------------------------------------------------------------------------------------- */

/* 29 CFR 1910.110 (b)(19)(v): relative density 0.510 at 40 degF, factor 1.031 (an older table, three decimals). */
static void published_example(void **unused)
{
    (void)unused;
    flc_check_near(ctl60(0.510, 40.0), 1.031, 5e-4);
}

/* A point between each two reference fluids. */
static void recomputed_points(void **unused)
{
    (void)unused;
    static const double rows[][3] = {
        {0.35222, -20.0, 1.2956226502739899},  {0.38311, -5.0, 1.1934161153900869},
        {0.44449, 10.0, 1.1053789809950547},   {0.48394, 25.0, 1.0605003798266302},
        {0.52767, 40.0, 1.0278180079294908},   {0.57071, 55.0, 1.0056935817811198},
        {0.59899, 70.0, 0.98999244329202268},  {0.62679, 85.0, 0.97768893214108692},
        {0.64072, 100.0, 0.96656903160023564}, {0.65972, 115.0, 0.95749873130304852},
        {0.67292, 130.0, 0.94851427909610394},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        flc_check_relative(ctl60(rows[i][0], rows[i][1]), rows[i][2], 3e-15);
    }
}

static void one_at_the_base(void **unused)
{
    (void)unused;
    for (double rd60 = 0.35; rd60 < 0.688; rd60 += 0.0093) {
        flc_check_near(ctl60(rd60, 60.0), 1.0, 1e-15);
    }
    for (double rho = 360.0; rho < 680.0; rho += 9.7) {
        double ctl;
        assert_int_equal(flc_ctl15_light_ends_2007(rho, 15.0, &ctl), FLC_OK);
        flc_check_same_bits(ctl, 1.0);
        assert_int_equal(flc_ctl20_light_ends_2007(rho, 20.0, &ctl), FLC_OK);
        flc_check_same_bits(ctl, 1.0);
        assert_int_equal(flc_ctl_light_ends_2007(420.0 + 0.8 * (rho - 360.0), -7.0, -7.0, &ctl), FLC_OK);
        flc_check_same_bits(ctl, 1.0);
    }
}

/* Continuous where one pair of fluids takes over from the other; falling with temperature. */
static void continuity_and_monotony(void **unused)
{
    (void)unused;
    size_t count;
    const flc_light_ends_2007_fluid *fluids = flc_light_ends_2007_fluids(&count);
    for (size_t i = 1; i + 1 < count; i++) {
        double before = 2.0;
        for (double t = -50.8; t <= 85.0; t += 7.0) {
            const double here = ctl60(fluids[i].rd60, t);
            flc_check_near(ctl60(fluids[i].rd60 - 1e-12, t), here, 1e-9);
            assert_true(here < before);
            before = here;
        }
    }
}

/* rd60 CTL rises with rd60 over the whole range, so that the inverse is unique. */
static void observed_density_rises(void **unused)
{
    (void)unused;
    for (double t = -50.8; t <= 199.4; t += 5.56) {
        double before = 0.0;
        for (double rd60 = 0.35; rd60 <= 0.688; rd60 += 0.0005) {
            double ctl;
            const flc_status status = flc_ctl60_light_ends_2007(rd60, t, &ctl);
            if (status == FLC_E_DOMAIN) { /* above its critical temperature; heavier ones follow */
                assert_true(before == 0.0);
                continue;
            }
            assert_int_equal(status, FLC_OK);
            assert_true(rd60 * ctl > before);
            before = rd60 * ctl;
        }
    }
}

static void above_the_critical_temperature(void **unused)
{
    (void)unused;
    double result = 0.0;
    /* ethane: 305.33 K is 89.924 degF */
    assert_int_equal(flc_ctl60_light_ends_2007(0.355994, 89.9, &result), FLC_OK);
    assert_int_equal(flc_ctl60_light_ends_2007(0.355994, 90.0, &result), FLC_E_DOMAIN);
    flc_check_nan(result);
    /* base density from below, temperature above */
    assert_int_equal(flc_ctl15_light_ends_2007(360.0, 60.0, &result), FLC_E_DOMAIN);
    flc_check_nan(result);
}

/* --- from an observed density ------------------------------------------------------------------------------------- */

static void out_and_back(void **unused)
{
    (void)unused;
    for (double t = -50.8; t <= 199.4; t += 8.34) {
        for (double rd60 = 0.35; rd60 <= 0.688; rd60 += 0.00676) {
            double ctl, back;
            if (flc_ctl60_light_ends_2007(rd60, t, &ctl) == FLC_E_DOMAIN) {
                continue;
            }
            assert_int_equal(flc_rd60_from_observed_light_ends_2007(rd60 * ctl, t, &back), FLC_OK);
            flc_check_relative(back, rd60, 2e-14); /* the condition number reaches 8 */
        }
    }
}

static void metric_bases(void **unused)
{
    (void)unused;
    for (double rho = 370.0; rho < 680.0; rho += 31.0) {
        for (double t = -46.0; t <= 30.0; t += 9.5) {
            double rho15, rho20, any, ctl, rd60, ctl_t, ctl_15;
            assert_int_equal(flc_ctl15_light_ends_2007(rho, t, &ctl), FLC_OK);
            assert_int_equal(flc_rho15_from_observed_light_ends_2007(rho * ctl, t, &rho15), FLC_OK);
            flc_check_relative(rho15, rho, 3e-14);
            assert_int_equal(flc_ctl20_light_ends_2007(rho, t, &ctl), FLC_OK);
            assert_int_equal(flc_rho20_from_observed_light_ends_2007(rho * ctl, t, &rho20), FLC_OK);
            flc_check_relative(rho20, rho, 3e-14);
            assert_int_equal(flc_ctl_light_ends_2007(rho, t, 20.0, &any), FLC_OK);
            flc_check_same_bits(any, ctl);
            assert_int_equal(flc_rho_base_from_observed_light_ends_2007(rho * ctl, t, 20.0, &any), FLC_OK);
            flc_check_same_bits(any, rho20);
            /* by way of 60 degF */
            assert_int_equal(flc_rd60_from_observed_light_ends_2007(rho / 999.016, 59.0, &rd60), FLC_OK);
            ctl_t = ctl60(rd60, 1.8 * t + 32.0);
            ctl_15 = ctl60(rd60, 59.0);
            assert_int_equal(flc_ctl15_light_ends_2007(rho, t, &ctl), FLC_OK);
            flc_check_relative(ctl, ctl_t / ctl_15, 1e-14);
        }
    }
}

/* The printed limits at 15 and 20 degC have a density at 60 degF. */
static void limits_of_the_metric_tables(void **unused)
{
    (void)unused;
    double ctl;
    assert_int_equal(flc_ctl15_light_ends_2007(351.7, 0.0, &ctl), FLC_OK);
    assert_int_equal(flc_ctl15_light_ends_2007(687.8, 0.0, &ctl), FLC_OK);
    assert_int_equal(flc_ctl20_light_ends_2007(331.7, 0.0, &ctl), FLC_OK);
    assert_int_equal(flc_ctl20_light_ends_2007(683.6, 0.0, &ctl), FLC_OK);
    assert_int_equal(flc_ctl_light_ends_2007(351.6, 0.0, 15.0, &ctl), FLC_E_NO_ROOT);
    flc_check_nan(ctl);
    assert_int_equal(flc_ctl_light_ends_2007(687.9, 0.0, 15.0, &ctl), FLC_E_NO_ROOT);
}

/* No density in the range: an error, not the end of the bracket. */
static void no_density_at_60(void **unused)
{
    (void)unused;
    double rd60 = 0.0;
    assert_int_equal(flc_rd60_from_observed_light_ends_2007(0.345, 60.0, &rd60), FLC_E_NO_ROOT);
    flc_check_nan(rd60);
    assert_int_equal(flc_rd60_from_observed_light_ends_2007(0.70, 60.0, &rd60), FLC_E_NO_ROOT);
    flc_check_nan(rd60);
    /* ethane is critical at 89.924 degF with 6.87 mol/L of 30.07 g/mol, 0.2068: lighter liquids have no density there
     */
    assert_int_equal(flc_rd60_from_observed_light_ends_2007(0.206, 89.93, &rd60), FLC_E_NO_ROOT);
    flc_check_nan(rd60);
    assert_int_equal(flc_rd60_from_observed_light_ends_2007(0.208, 89.93, &rd60), FLC_OK);
    flc_check_near(rd60, 0.356, 1e-4);
    assert_int_equal(flc_rd60_from_observed_light_ends_2007(0.30, 150.0, &rd60), FLC_OK);
    double ctl;
    assert_int_equal(flc_ctl60_light_ends_2007(rd60, 150.0, &ctl), FLC_OK);
    flc_check_relative(rd60 * ctl, 0.30, 3e-15);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_light_ends_2007", NULL};
    flc_check_family_inputs(ends, 8);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fluids_close_on_their_molar_mass),
        cmocka_unit_test(fluids_rise),
        cmocka_unit_test(slopes),
        cmocka_unit_test(published_example),
        cmocka_unit_test(recomputed_points),
        cmocka_unit_test(one_at_the_base),
        cmocka_unit_test(continuity_and_monotony),
        cmocka_unit_test(observed_density_rises),
        cmocka_unit_test(above_the_critical_temperature),
        cmocka_unit_test(out_and_back),
        cmocka_unit_test(metric_bases),
        cmocka_unit_test(limits_of_the_metric_tables),
        cmocka_unit_test(no_density_at_60),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
