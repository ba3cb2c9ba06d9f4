/* SPDX-License-Identifier: Apache-2.0 */
/* Blending rules. Expected values: measured blends of Jet A with HEFA at -20 degC (Vozka and others, Fuel 2018, as
 * digitised), identities. The comparison with 40 digits is accuracy/methods_study.py. */
#include "check.h"

#include "draws.h"
#include "family_inputs.h"
#include "flowcomp/viscosity_blending.h"

static const flc_d341_form forms[] = {FLC_D341_SIMPLE, FLC_D341_BODY, FLC_D341_FULL};

/* HEFA-MFAT 5.6184 and Jet A 3.7816 mm2/s at -20 degC: mass fraction of HEFA, measured viscosity; agreement 1.2 %. */
static void measured_blends(void **unused)
{
    (void)unused;
    static const double rows[][2] = {{0.2, 4.097368421}, {0.4, 4.431578947}, {0.5, 4.581578947}, {0.6, 4.781578947}};
    const double nu[] = {5.6184, 3.7816};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double x[] = {rows[i][0], 1.0 - rows[i][0]};
        double refutas, astm;
        assert_int_equal(flc_nu_blend_refutas(x, nu, 2, &refutas), FLC_OK);
        assert_int_equal(flc_nu_blend_astm(x, nu, 2, FLC_D341_BODY, &astm), FLC_OK);
        flc_check_relative(refutas, rows[i][1], 0.012);
        flc_check_relative(astm, rows[i][1], 0.012);
    }
}

static void refutas_round_trip(void **unused)
{
    (void)unused;
    double before = -1e9;
    for (double nu = 0.3; nu <= 2e7; nu *= 1.37) {
        double vbn, back;
        assert_int_equal(flc_vbn_refutas(nu, &vbn), FLC_OK);
        assert_true(vbn > before);
        before = vbn;
        assert_int_equal(flc_nu_from_vbn_refutas(vbn, &back), FLC_OK);
        flc_check_relative(back, nu, 2e-13);
    }
}

/* One component is itself; equal components are themselves; more of the thick one is thicker. */
static void limits_of_a_blend(void **unused)
{
    (void)unused;
    const double one[] = {1.0}, thirds[] = {0.25, 0.25, 0.5}, same[] = {12.3, 12.3, 12.3}, two[] = {3.0, 300.0};
    double nu;
    assert_int_equal(flc_nu_blend_refutas(one, same, 1, &nu), FLC_OK);
    flc_check_relative(nu, 12.3, 1e-14);
    assert_int_equal(flc_nu_blend_refutas(thirds, same, 3, &nu), FLC_OK);
    flc_check_relative(nu, 12.3, 1e-14);
    for (size_t f = 0; f < 3; f++) {
        double before = 0.0;
        assert_int_equal(flc_nu_blend_astm(thirds, same, 3, forms[f], &nu), FLC_OK);
        flc_check_relative(nu, 12.3, 1e-14);
        for (double x = 0.0; x <= 1.0; x += 0.125) {
            assert_int_equal(flc_nu_blend_astm((const double[]){1.0 - x, x}, two, 2, forms[f], &nu), FLC_OK);
            assert_true(nu > before);
            before = nu;
        }
        flc_check_relative(nu, 300.0, 1e-13);
    }
}

/* Of one component, and of two alike, Wright's method is the line of D341; with common temperatures and at one of them
 * it still differs from the method at one temperature, but not where the components have one slope. */
static void wright_on_one_line(void **unused)
{
    (void)unused;
    uint64_t seed = 3;
    for (int i = 0; i < 100; i++) {
        const double nu1 = flc_draw_between(&seed, 5.0, 500.0), nu2 = nu1 / flc_draw_between(&seed, 1.5, 4.5);
        const double t = flc_draw_between(&seed, 0.0, 120.0), x = flc_draw_between(&seed, 0.0, 1.0);
        const double t1[] = {20.0, 20.0}, t2[] = {80.0, 80.0}, a[] = {nu1, nu1}, b[] = {nu2, nu2};
        double line, blend;
        assert_int_equal(flc_nu_d341_two_point(t, 20.0, nu1, 80.0, nu2, FLC_D341_BODY, &line), FLC_OK);
        assert_int_equal(flc_nu_blend_wright(t, (const double[]){1.0}, t1, a, t2, b, 1, FLC_D341_BODY, &blend), FLC_OK);
        flc_check_relative(blend, line, 1e-12);
        assert_int_equal(flc_nu_blend_wright(t, (const double[]){x, 1.0 - x}, t1, a, t2, b, 2, FLC_D341_BODY, &blend),
                         FLC_OK);
        flc_check_relative(blend, line, 1e-12);
    }
}

/* Points given the other way round are the same points. */
static void wright_takes_points_in_any_order(void **unused)
{
    (void)unused;
    const double x[] = {0.3, 0.7}, t1[] = {40.0, 20.0}, nu1[] = {233.51, 17.5}, t2[] = {100.0, 90.0},
                 nu2[] = {16.39, 3.1};
    const double t1_swapped[] = {100.0, 20.0}, nu1_swapped[] = {16.39, 17.5};
    const double t2_swapped[] = {40.0, 90.0}, nu2_swapped[] = {233.51, 3.1};
    double one, other;
    assert_int_equal(flc_nu_blend_wright(60.0, x, t1, nu1, t2, nu2, 2, FLC_D341_FULL, &one), FLC_OK);
    assert_int_equal(
        flc_nu_blend_wright(60.0, x, t1_swapped, nu1_swapped, t2_swapped, nu2_swapped, 2, FLC_D341_FULL, &other),
        FLC_OK);
    flc_check_relative(one, other, 1e-13);
}

static void refusals(void **unused)
{
    (void)unused;
    const double nu[] = {5.0, 50.0}, short_of_one[] = {0.4, 0.59}, above_one[] = {0.4, 0.61}, x[] = {0.4, 0.6};
    double result;
    assert_int_equal(flc_nu_blend_refutas(short_of_one, nu, 2, &result), FLC_E_DOMAIN);
    flc_check_nan(result);
    assert_int_equal(flc_nu_blend_astm(above_one, nu, 2, FLC_D341_BODY, &result), FLC_E_DOMAIN);
    assert_int_equal(flc_nu_blend_astm((const double[]){0.4, 0.6 + 9e-7}, nu, 2, FLC_D341_BODY, &result), FLC_OK);
    assert_int_equal(flc_nu_blend_astm(x, (const double[]){1.9, 50.0}, 2, FLC_D341_SIMPLE, &result), FLC_E_BELOW);
    const double t1[] = {20.0, 20.0}, t2[] = {80.0, 80.0}, falls[] = {2.0, 6.0};
    assert_int_equal(flc_nu_blend_wright(40.0, short_of_one, t1, nu, t2, falls, 2, FLC_D341_BODY, &result),
                     FLC_E_DOMAIN);
    assert_int_equal(flc_nu_blend_wright(40.0, x, t1, nu, t1, falls, 2, FLC_D341_BODY, &result), FLC_E_DUPLICATE);
    assert_int_equal(flc_nu_blend_wright(40.0, x, t1, nu, t2, nu, 2, FLC_D341_BODY, &result), FLC_E_NOT_MONOTONIC);
    assert_int_equal(flc_nu_blend_wright(40.0, x, t1, falls, t2, nu, 2, FLC_D341_BODY, &result), FLC_E_NOT_MONOTONIC);
    const double thin1[] = {1.0, 2.0}, thin2[] = {0.3, 0.4};
    assert_int_equal(flc_nu_blend_wright(400.0, x, t1, thin1, t2, thin2, 2, FLC_D341_BODY, &result), FLC_E_NO_ROOT);
    assert_int_equal(flc_nu_from_vbn_refutas(-24.0, &result), FLC_E_BELOW);
    assert_int_equal(flc_nu_from_vbn_refutas(52.0, &result), FLC_E_ABOVE);
    flc_check_nan(result);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_refutas", "_blend_astm", "_wright", NULL};
    flc_check_family_inputs(ends, 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(measured_blends),
        cmocka_unit_test(refutas_round_trip),
        cmocka_unit_test(limits_of_a_blend),
        cmocka_unit_test(wright_on_one_line),
        cmocka_unit_test(wright_takes_points_in_any_order),
        cmocka_unit_test(refusals),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
