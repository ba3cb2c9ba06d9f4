/* SPDX-License-Identifier: Apache-2.0 */
/* Saturated and compressed light liquids, and biodiesel. Expected values: saturated densities of the reference
 * equations of state (CoolProp, as printed in the check rows), identities. The comparison with 40 digits is
 * accuracy/methods_study.py, with the equations of state python/test_agreement_other_liquids.py. */
#include "check.h"

#include "family_inputs.h"
#include "flowcomp/costald.h"
#include "flowcomp/fame_en14214.h"
#include "flowcomp/saturated_liquids.h"

#define LIQUIDS 10
#define COSTALD_FLUIDS 9

/* Triple point, critical point K, critical density kg/m3 (as in the tables). */
static const double ends_of[LIQUIDS][3] = {
    {216.592, 304.1282, 467.6}, {90.368, 305.322, 206.18}, {103.989, 282.35, 214.24}, {113.73, 407.81, 225.5},
    {90.6941, 190.564, 162.66}, {134.895, 425.125, 228.0}, {63.151, 126.192, 313.3},  {85.525, 369.89, 220.4781},
    {87.953, 364.211, 229.63},  {273.16, 647.096, 322.0},
};

static const double costald_tc[COSTALD_FLUIDS] = {305.42, 282.36, 408.14, 190.58, 425.18,
                                                  507.43, 469.65, 369.83, 365.0};

static double saturated(flc_saturated_liquid fluid, double t)
{
    double rho;
    assert_int_equal(flc_rho_saturated_liquid_ancillary(fluid, t, &rho), FLC_OK);
    return rho;
}

static double costald(flc_costald_fluid fluid, double t)
{
    double rho;
    assert_int_equal(flc_rho_saturated_liquid_costald_1979(fluid, t, &rho), FLC_OK);
    return rho;
}

/* --- facts from outside ------------------------------------------------------------------------------------------- */

/* Full equations of state, kg/m3, printed to 0.1: within 0.02 %, COSTALD within 0.1 % (C3, C4) or 0.4 %. */
static void equations_of_state(void **unused)
{
    (void)unused;
    static const struct {
        flc_saturated_liquid fluid;
        double t, rho;
    } rows[] = {
        {FLC_SATURATED_METHANE, 120.0, 409.9},   {FLC_SATURATED_PROPANE, 300.0, 489.4},
        {FLC_SATURATED_N_BUTANE, 290.0, 582.2},  {FLC_SATURATED_ISOBUTANE, 310.0, 535.4},
        {FLC_SATURATED_ETHYLENE, 220.0, 486.7},  {FLC_SATURATED_PROPYLENE, 280.0, 535.8},
        {FLC_SATURATED_NITROGEN, 77.355, 806.1}, {FLC_SATURATED_CARBON_DIOXIDE, 250.0, 1046.0},
        {FLC_SATURATED_WATER, 300.0, 996.5},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        flc_check_near(saturated(rows[i].fluid, rows[i].t), rows[i].rho, 2e-4 * rows[i].rho + 0.05);
    }
    flc_check_near(costald(FLC_COSTALD_PROPANE, 300.0), 489.4, 1e-3 * 489.4 + 0.05);
    flc_check_near(costald(FLC_COSTALD_N_BUTANE, 290.0), 582.2, 1e-3 * 582.2 + 0.05);
    flc_check_near(costald(FLC_COSTALD_METHANE, 120.0), 409.9, 4e-3 * 409.9 + 0.05);
}

/* EN 14214, Annex B (coefficient from memory). */
static void fame(void **unused)
{
    (void)unused;
    for (double t = 20.0; t <= 60.0; t += 2.5) {
        double rho15, rho, ctl;
        assert_int_equal(flc_rho15_fame_en14214(860.0, t, &rho15), FLC_OK);
        flc_check_near(rho15, 860.0 + 0.723 * (t - 15.0), 1e-12);
        assert_int_equal(flc_rho_fame_en14214(rho15, t, &rho), FLC_OK);
        flc_check_relative(rho, 860.0, 4e-16);
        assert_int_equal(flc_ctl15_fame_en14214(rho15, t, &ctl), FLC_OK);
        flc_check_relative(ctl * rho15, rho, 4e-16);
    }
}

/* --- identities --------------------------------------------------------------------------------------------------- */

/* The critical density at the critical point; falling with temperature (water: from 5 degC); nothing beyond the ends.
 */
static void ends_of_the_saturation_line(void **unused)
{
    (void)unused;
    for (int i = 0; i < LIQUIDS; i++) {
        const flc_saturated_liquid fluid = (flc_saturated_liquid)i;
        const double triple = ends_of[i][0], critical = ends_of[i][1];
        double rho;
        flc_check_same_bits(saturated(fluid, critical), ends_of[i][2]);
        assert_int_equal(flc_rho_saturated_liquid_ancillary(fluid, triple, &rho), FLC_OK);
        if (triple > 63.151) { /* else the range of the method itself ends there */
            assert_int_equal(flc_rho_saturated_liquid_ancillary(fluid, nextafter(triple, 0.0), &rho), FLC_E_BELOW);
            flc_check_nan(rho);
        }
        if (critical < 647.096) {
            assert_int_equal(flc_rho_saturated_liquid_ancillary(fluid, nextafter(critical, 1e3), &rho), FLC_E_ABOVE);
        }
        const double start = fluid == FLC_SATURATED_WATER ? 278.0 : triple;
        for (double t = start; t + 0.5 < critical; t += 0.5) {
            assert_true(saturated(fluid, t + 0.5) < saturated(fluid, t));
        }
    }
}

static void one_at_the_base(void **unused)
{
    (void)unused;
    for (int i = 0; i < LIQUIDS; i++) {
        const flc_saturated_liquid fluid = (flc_saturated_liquid)i;
        const double base = 0.6 * ends_of[i][0] + 0.4 * ends_of[i][1], t = 0.4 * ends_of[i][0] + 0.6 * ends_of[i][1];
        double ctl, rho, ratio;
        assert_int_equal(flc_ctl_saturated_liquid_ancillary(fluid, base, base, &ctl), FLC_OK);
        flc_check_same_bits(ctl, 1.0);
        assert_int_equal(flc_ctl_saturated_liquid_ancillary(fluid, t, base, &ctl), FLC_OK);
        assert_int_equal(flc_ctl_from_density_ratio(saturated(fluid, t), saturated(fluid, base), &ratio), FLC_OK);
        flc_check_same_bits(ctl, ratio);
        assert_int_equal(
            flc_rho_base_from_observed_saturated_liquid_ancillary(fluid, saturated(fluid, t), t, base, &rho), FLC_OK);
        flc_check_relative(rho, saturated(fluid, base), 4e-16);
        assert_int_equal(flc_ctl_saturated_liquid_ancillary(
                             fluid, t, 1.01 * ends_of[i][1] > 647.0 ? 63.2 : 1.01 * ends_of[i][1], &ctl),
                         fluid == FLC_SATURATED_WATER ? FLC_E_BELOW : FLC_E_ABOVE);
        flc_check_nan(ctl);
    }
}

/* Falls with temperature; rises with pressure from exactly 1; back to the base. */
static void costald_identities(void **unused)
{
    (void)unused;
    for (int i = 0; i < COSTALD_FLUIDS; i++) {
        const flc_costald_fluid fluid = (flc_costald_fluid)i;
        const double tc = costald_tc[i];
        for (double tr = 0.26; tr < 0.94; tr += 0.01) {
            assert_true(costald(fluid, (tr + 0.01) * tc) < costald(fluid, tr * tc));
        }
        double before = 1.0, cpl, rho, base;
        assert_int_equal(flc_cpl_costald_1982(fluid, 0.8 * tc, 1200.0, 1200.0, 4200.0, &cpl), FLC_OK);
        flc_check_same_bits(cpl, 1.0);
        for (double p = 1500.0; p <= 70000.0; p *= 1.5) {
            assert_int_equal(flc_cpl_costald_1982(fluid, 0.8 * tc, p, 1200.0, 4200.0, &cpl), FLC_OK);
            assert_true(cpl > before);
            before = cpl;
            assert_int_equal(flc_rho_compressed_liquid_costald_1982(fluid, 0.8 * tc, p, 1200.0, 4200.0, &rho), FLC_OK);
            flc_check_relative(rho, cpl * costald(fluid, 0.8 * tc), 4e-16);
            assert_int_equal(
                flc_rho_base_from_observed_costald_1982(fluid, rho, 0.8 * tc, p, 1200.0, 4200.0, 0.7 * tc, &base),
                FLC_OK);
            flc_check_relative(base, costald(fluid, 0.7 * tc), 1e-15);
        }
        double ctl;
        assert_int_equal(flc_ctl_saturated_liquid_costald_1979(fluid, 0.7 * tc, 0.7 * tc, &ctl), FLC_OK);
        flc_check_same_bits(ctl, 1.0);
    }
}

/* --- refusals ----------------------------------------------------------------------------------------------------- */

static void costald_refusals(void **unused)
{
    (void)unused;
    double result;
    assert_int_equal(flc_rho_saturated_liquid_costald_1979(FLC_COSTALD_PROPANE, 0.249 * 369.83, &result), FLC_E_BELOW);
    assert_int_equal(flc_rho_saturated_liquid_costald_1979(FLC_COSTALD_PROPANE, 0.951 * 369.83, &result), FLC_E_ABOVE);
    assert_int_equal(flc_ctl_saturated_liquid_costald_1979(FLC_COSTALD_PROPANE, 300.0, 0.951 * 369.83, &result),
                     FLC_E_ABOVE);
    assert_int_equal(flc_cpl_costald_1982(FLC_COSTALD_PROPANE, 300.0, 900.0, 997.0, 4251.0, &result), FLC_E_BELOW);
    assert_int_equal(flc_cpl_costald_1982(FLC_COSTALD_PROPANE, 300.0, 9000.0, 4300.0, 4251.0, &result), FLC_E_CONFLICT);
    assert_int_equal(flc_rho_base_from_observed_costald_1982(FLC_COSTALD_PROPANE, 500.0, 300.0, 900.0, 997.0, 4251.0,
                                                             288.7, &result),
                     FLC_E_BELOW);
    flc_check_nan(result);
}

static void words(void **unused)
{
    (void)unused;
    flc_saturated_liquid fluid;
    flc_costald_fluid costald_fluid;
    assert_int_equal(flc_saturated_liquid_from_name("carbon_dioxide", &fluid), FLC_OK);
    assert_int_equal(fluid, FLC_SATURATED_CARBON_DIOXIDE);
    assert_int_equal(flc_saturated_liquid_from_name("n_hexane", &fluid), FLC_E_UNKNOWN_NAME);
    assert_int_equal((int)fluid, -1);
    assert_int_equal(flc_costald_fluid_from_name("n_hexane", &costald_fluid), FLC_OK);
    assert_int_equal(costald_fluid, FLC_COSTALD_N_HEXANE);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {
        "_saturated_liquid_ancillary", "ctl_from_density_ratio", "_costald_1979", "_costald_1982", "_en14214", NULL};
    flc_check_family_inputs(ends, 12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(equations_of_state),
        cmocka_unit_test(fame),
        cmocka_unit_test(ends_of_the_saturation_line),
        cmocka_unit_test(one_at_the_base),
        cmocka_unit_test(costald_identities),
        cmocka_unit_test(costald_refusals),
        cmocka_unit_test(words),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
