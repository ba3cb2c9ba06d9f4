/* SPDX-License-Identifier: Apache-2.0 */
/* Viscosity by ASTM D341. Expected values: the published worked example, 40-digit recomputations of Z (mpmath),
 * measured jet fuels (AFRL), and identities. The comparison with 40 digits over the domain is
 * accuracy/methods_study.py. */
#include "check.h"

#include "bad_inputs.h"
#include "flowcomp/viscosity_d341.h"
#include "viscosity_d341_core.h"

static const flc_d341_form forms[] = {FLC_D341_SIMPLE, FLC_D341_BODY, FLC_D341_FULL};

static double z_of(flc_d341_form form, double nu)
{
    double z = 0.0;
    flc_status status = form == FLC_D341_SIMPLE ? flc_z_d341_simple(nu, &z)
                        : form == FLC_D341_BODY ? flc_z_d341_body(nu, &z)
                                                : flc_z_d341_full(nu, &z);
    assert_int_equal(status, FLC_OK);
    return z;
}

static double two_point(double t, double t1, double nu1, double t2, double nu2, flc_d341_form form)
{
    double nu = 0.0;
    assert_int_equal(flc_nu_d341_two_point(t, t1, nu1, t2, nu2, form, &nu), FLC_OK);
    return nu;
}

/* --- facts from outside ------------------------------------------------------------------------------------------- */

/* Published example: 32 mm2/s at 40 degC and 5.4 at 100 give A 9.5259, B 3.7449, 8.5 at 80, with 273 for 273.15: its
 * temperatures are therefore shifted by -0.15. */
static void published_example(void **unused)
{
    (void)unused;
    double a, b;
    assert_int_equal(flc_a_d341_two_point(39.85, 32.0, 99.85, 5.4, FLC_D341_SIMPLE, &a), FLC_OK);
    assert_int_equal(flc_b_d341_two_point(39.85, 32.0, 99.85, 5.4, FLC_D341_SIMPLE, &b), FLC_OK);
    flc_check_near(a, 9.5259, 5e-5);
    flc_check_near(b, 3.7449, 5e-5);
    flc_check_near(two_point(79.85, 39.85, 32.0, 99.85, 5.4, FLC_D341_SIMPLE), 8.5, 0.05);
}

/* Z by mpmath, 40 digits, from the printed exponentials. */
static void z_recomputed(void **unused)
{
    (void)unused;
    static const struct {
        double nu, body, full;
    } rows[] = {
        {0.21, 1.0627594221, 1.0590077651}, {0.25, 1.0905945588, 1.0858337504}, {0.5, 1.2806610074, 1.2820361345},
        {1.0, 1.7219278009, 1.7221999161},  {2.0, 2.7007540891, 2.7015551395},  {5.0, 5.7000000001, 5.7000005343},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        flc_check_near(z_of(FLC_D341_BODY, rows[i].nu), rows[i].body, 1e-10);
        flc_check_near(z_of(FLC_D341_FULL, rows[i].nu), rows[i].full, 1e-10);
    }
    flc_check_relative(z_of(FLC_D341_SIMPLE, 4.1409), 4.8409, 1e-15);
}

/* AFRL POSF 10264 (JP-8), measured (published): least squares through four temperatures leaves at most 2.8 %. */
static void measured_jet_fuel(void **unused)
{
    (void)unused;
    static const double t[] = {-40.0, -20.0, 40.0, 100.0}, nu[] = {6.6, 3.5, 1.14, 0.61};
    for (size_t i = 0; i < 4; i++) {
        double fitted;
        assert_int_equal(flc_nu_d341_lsq(t[i], t, nu, 4, FLC_D341_BODY, &fitted), FLC_OK);
        flc_check_relative(fitted, nu[i], 0.028);
    }
}

/* --- Z and its inverses ------------------------------------------------------------------------------------------- */

static void z_rises(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < 3; i++) {
        double before = 0.0;
        for (double nu = flc_d341_nu_low(forms[i]); nu < 60.0; nu *= 1.0005) {
            const double z = z_of(forms[i], nu);
            assert_true(z > before);
            before = z;
        }
    }
}

/* Where the exponentials are left out they would not have changed a bit: the largest is exp(-107.5). */
static void thick_liquids(void **unused)
{
    (void)unused;
    for (double nu = 30.0; nu < 2e7; nu *= 1.7) {
        flc_check_same_bits(z_of(FLC_D341_BODY, nu), nu + 0.7);
        flc_check_same_bits(z_of(FLC_D341_FULL, nu), nu + 0.7);
    }
    flc_check_same_bits(40.0 - flc_d341_addition_full(40.0).value, 40.0);
}

/* nu -> Z -> nu: the rounding of Z, one part in 2^53, comes back over the slope of Z (0.08 at the flattest, full form
 * at 0.2155 mm2/s). */
static void exact_inverse(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < 3; i++) {
        for (double nu = flc_d341_nu_low(forms[i]); nu < 2e7; nu *= 1.013) {
            double back;
            assert_int_equal(flc_nu_d341_from_z(z_of(forms[i], nu), forms[i], &back), FLC_OK);
            flc_check_relative(back, nu, nu < 0.3 ? 2e-14 : 2e-15);
        }
    }
}

/* The printed series inverts the body form within 0.03 % from 0.21 to 5 mm2/s; at Z of 0.5 mm2/s it gives
 * 0.500054662537007 (both mpmath, 40 digits). */
static void printed_series(void **unused)
{
    (void)unused;
    for (double nu = 0.21; nu < 5.0; nu *= 1.05) {
        double series;
        assert_int_equal(flc_nu_d341_inverse_series(z_of(FLC_D341_BODY, nu), &series), FLC_OK);
        flc_check_relative(series, nu, 3e-4);
    }
    double series;
    assert_int_equal(flc_nu_d341_inverse_series(1.2806610074, &series), FLC_OK);
    flc_check_relative(series, 0.500054662537007, 1e-14);
    assert_int_equal(flc_nu_d341_inverse_series(2e7, &series), FLC_OK); /* the exponential is zero, quietly */
    flc_check_same_bits(series, 2e7 - 0.7);
}

/* --- lines -------------------------------------------------------------------------------------------------------- */

static void line_through_its_points(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < 3; i++) {
        flc_check_relative(two_point(-20.0, -20.0, 900.0, 90.0, 6.1, forms[i]), 900.0, 2e-14);
        flc_check_relative(two_point(90.0, -20.0, 900.0, 90.0, 6.1, forms[i]), 6.1, 5e-15);
        /* the order of the points does not matter */
        flc_check_relative(two_point(33.0, -20.0, 900.0, 90.0, 6.1, forms[i]),
                           two_point(33.0, 90.0, 6.1, -20.0, 900.0, forms[i]), 2e-14);
    }
}

static void line_as_a_and_b(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < 3; i++) {
        double a, b, nu, w;
        assert_int_equal(flc_a_d341_two_point(15.0, 44.0, 85.0, 4.2, forms[i], &a), FLC_OK);
        assert_int_equal(flc_b_d341_two_point(15.0, 44.0, 85.0, 4.2, forms[i], &b), FLC_OK);
        assert_int_equal(flc_nu_d341_ab(40.0, a, b, forms[i], &nu), FLC_OK);
        flc_check_relative(nu, two_point(40.0, 15.0, 44.0, 85.0, 4.2, forms[i]), 1e-13);
        /* W = A - B log10 T at a point */
        assert_int_equal(flc_w_d341(44.0, forms[i], &w), FLC_OK);
        flc_check_near(a - b * log10(15.0 + 273.15), w, 1e-14);
    }
}

static void temperature_of_a_viscosity(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < 3; i++) {
        for (double t = 10.0; t < 100.0; t += 13.0) {
            const double nu = two_point(t, 20.0, 120.0, 95.0, 9.3, forms[i]);
            double back;
            assert_int_equal(flc_t_d341_two_point(nu, 20.0, 120.0, 95.0, 9.3, forms[i], &back), FLC_OK);
            flc_check_near(back, t, 5e-12);
        }
    }
    double t;
    assert_int_equal(flc_t_d341_two_point(120.0, 20.0, 120.0, 95.0, 9.3, FLC_D341_BODY, &t), FLC_OK);
    flc_check_near(t, 20.0, 1e-13);
}

static void least_squares(void **unused)
{
    (void)unused;
    /* two points: the line through them */
    static const double t[] = {10.0, 60.0}, nu[] = {50.0, 8.0};
    double a, b, a2, b2;
    assert_int_equal(flc_a_d341_lsq(t, nu, 2, FLC_D341_FULL, &a), FLC_OK);
    assert_int_equal(flc_b_d341_lsq(t, nu, 2, FLC_D341_FULL, &b), FLC_OK);
    assert_int_equal(flc_a_d341_two_point(10.0, 50.0, 60.0, 8.0, FLC_D341_FULL, &a2), FLC_OK);
    assert_int_equal(flc_b_d341_two_point(10.0, 50.0, 60.0, 8.0, FLC_D341_FULL, &b2), FLC_OK);
    flc_check_relative(a, a2, 1e-14);
    flc_check_relative(b, b2, 1e-14);
    /* points on a line: that line; and residuals of a fit sum to zero in W */
    double on_t[6], on_nu[6], sum = 0.0;
    for (size_t i = 0; i < 6; i++) {
        on_t[i] = -15.0 + 21.0 * (double)i;
        on_nu[i] = two_point(on_t[i], 10.0, 50.0, 60.0, 8.0, FLC_D341_FULL);
    }
    assert_int_equal(flc_b_d341_lsq(on_t, on_nu, 6, FLC_D341_FULL, &b), FLC_OK);
    flc_check_relative(b, b2, 3e-14);
    for (size_t i = 0; i < 6; i++) {
        on_nu[i] *= i % 2 == 0 ? 1.02 : 0.97;
    }
    assert_int_equal(flc_a_d341_lsq(on_t, on_nu, 6, FLC_D341_FULL, &a), FLC_OK);
    assert_int_equal(flc_b_d341_lsq(on_t, on_nu, 6, FLC_D341_FULL, &b), FLC_OK);
    for (size_t i = 0; i < 6; i++) {
        double w;
        assert_int_equal(flc_w_d341(on_nu[i], FLC_D341_FULL, &w), FLC_OK);
        sum += w - (a - b * log10(on_t[i] + 273.15));
    }
    flc_check_near(sum, 0.0, 2e-14);
}

/* --- tables ------------------------------------------------------------------------------------------------------- */

static const double table_t[] = {0.0, 20.0, 40.0, 70.0, 100.0};
static const double table_nu[] = {12.4, 5.61, 3.12, 1.66, 1.04};
static const double table_rho[] = {812.0, 797.0, 782.5, 760.0, 737.0};

static void table_interpolated(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < 5; i++) {
        double nu, rho;
        assert_int_equal(flc_nu_d341_table(table_t[i], table_t, table_nu, 5, FLC_D341_BODY, &nu), FLC_OK);
        flc_check_relative(nu, table_nu[i], 5e-15);
        assert_int_equal(flc_rho_table_linear(table_t[i], table_t, table_rho, 5, &rho), FLC_OK);
        flc_check_same_bits(rho, table_rho[i]);
    }
    double nu, rho;
    assert_int_equal(flc_nu_d341_table(62.5, table_t, table_nu, 5, FLC_D341_FULL, &nu), FLC_OK);
    flc_check_same_bits(nu, two_point(62.5, 40.0, 3.12, 70.0, 1.66, FLC_D341_FULL));
    assert_int_equal(flc_rho_table_linear(55.0, table_t, table_rho, 5, &rho), FLC_OK);
    flc_check_same_bits(rho, 771.25); /* half way from 782.5 to 760 */
}

static void table_refusals(void **unused)
{
    (void)unused;
    static const double falling[] = {0.0, 40.0, 20.0, 70.0, 100.0}, twice[] = {0.0, 20.0, 20.0, 70.0, 100.0};
    double result = 0.0;
    assert_int_equal(flc_nu_d341_table(-0.1, table_t, table_nu, 5, FLC_D341_BODY, &result), FLC_E_BELOW);
    flc_check_nan(result);
    assert_int_equal(flc_nu_d341_table(100.1, table_t, table_nu, 5, FLC_D341_BODY, &result), FLC_E_ABOVE);
    assert_int_equal(flc_nu_d341_table(50.0, falling, table_nu, 5, FLC_D341_BODY, &result), FLC_E_ORDER);
    assert_int_equal(flc_nu_d341_table(50.0, twice, table_nu, 5, FLC_D341_BODY, &result), FLC_E_DUPLICATE);
    assert_int_equal(flc_nu_d341_table(0.0, table_t, table_nu, 1, FLC_D341_BODY, &result), FLC_E_COUNT);
    assert_int_equal(flc_nu_d341_table(0.0, NULL, table_nu, 5, FLC_D341_BODY, &result), FLC_E_NULL);
    assert_int_equal(flc_nu_d341_table(30.0, table_t, table_nu, 5, FLC_D341_SIMPLE, &result), FLC_E_BELOW);
    assert_int_equal(flc_rho_table_linear(-0.1, table_t, table_rho, 5, &result), FLC_E_BELOW);
    assert_int_equal(flc_rho_table_linear(101.0, table_t, table_rho, 5, &result), FLC_E_ABOVE);
    assert_int_equal(flc_rho_table_linear(50.0, twice, table_rho, 5, &result), FLC_E_DUPLICATE);
    flc_check_nan(result);
}

/* --- what the other layers use ------------------------------------------------------------------------------------ */

static void core_is_the_methods(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < 3; i++) {
        const flc_d341_line line = flc_d341_line_of_two_points(forms[i], 12.0, 88.0, 77.0, 7.7);
        double result;
        flc_check_same_bits(flc_d341_line_nu(&line, 41.0), two_point(41.0, 12.0, 88.0, 77.0, 7.7, forms[i]));
        flc_check_same_bits(flc_d341_nu_from_w(forms[i], flc_d341_line_w(&line, 41.0)),
                            two_point(41.0, 12.0, 88.0, 77.0, 7.7, forms[i]));
        assert_int_equal(flc_a_d341_two_point(12.0, 88.0, 77.0, 7.7, forms[i], &result), FLC_OK);
        flc_check_same_bits(flc_d341_line_a(&line), result);
        assert_int_equal(flc_w_d341(17.0, forms[i], &result), FLC_OK);
        flc_check_same_bits(flc_d341_w(forms[i], 17.0), result);
        const flc_d341_line given = flc_d341_line_of_ab(forms[i], 9.5, 3.75);
        assert_int_equal(flc_nu_d341_ab(41.0, 9.5, 3.75, forms[i], &result), FLC_OK);
        flc_check_same_bits(flc_d341_line_nu(&given, 41.0), result);
        /* a W that no viscosity has */
        assert_false(flc_d341_nu_is_inside(forms[i], flc_d341_nu_from_w(forms[i], 50.0)));
        assert_false(flc_d341_nu_is_inside(forms[i], flc_d341_nu_from_w(forms[i], -50.0)));
        assert_true(flc_d341_nu_is_inside(forms[i], flc_d341_nu_low(forms[i])));
    }
}

/* --- refusals ----------------------------------------------------------------------------------------------------- */

static void refusals(void **unused)
{
    (void)unused;
    static const double same_t[] = {40.0, 40.0, 40.0}, nu[] = {30.0, 31.0, 29.0}, rising_t[] = {10.0, 40.0, 60.0};
    double result = 0.0;
    assert_int_equal(flc_w_d341(1.9, FLC_D341_SIMPLE, &result), FLC_E_BELOW);
    flc_check_nan(result);
    assert_int_equal(flc_w_d341(1.9, FLC_D341_BODY, &result), FLC_OK);
    assert_int_equal(flc_nu_d341_two_point(50.0, 40.0, 30.0, 40.0, 20.0, FLC_D341_BODY, &result), FLC_E_DUPLICATE);
    assert_int_equal(flc_nu_d341_two_point(50.0, 40.0, 30.0, 90.0, 1.5, FLC_D341_SIMPLE, &result), FLC_E_BELOW);
    /* hot end of the line: thinner than 0.21 mm2/s; cold end: thicker than 2e7 */
    assert_int_equal(flc_nu_d341_two_point(400.0, 0.0, 2.0, 100.0, 0.5, FLC_D341_BODY, &result), FLC_E_NO_ROOT);
    flc_check_nan(result);
    assert_int_equal(flc_nu_d341_two_point(-100.0, 40.0, 1e5, 100.0, 60.0, FLC_D341_BODY, &result), FLC_E_NO_ROOT);
    assert_int_equal(flc_nu_d341_ab(20.0, 60.0, 0.0, FLC_D341_FULL, &result), FLC_E_NO_ROOT);
    assert_int_equal(flc_nu_d341_ab(20.0, -60.0, 20.0, FLC_D341_FULL, &result), FLC_E_NO_ROOT);
    assert_int_equal(flc_t_d341_two_point(30.0, 20.0, 30.0, 60.0, 30.0, FLC_D341_BODY, &result), FLC_E_SINGULAR);
    assert_int_equal(flc_t_d341_two_point(2e7, 20.0, 31.0, 60.0, 30.0, FLC_D341_BODY, &result), FLC_E_NO_ROOT);
    assert_int_equal(flc_t_d341_two_point(1.0, 20.0, 31.0, 60.0, 20.0, FLC_D341_BODY, &result), FLC_E_NO_ROOT);
    assert_int_equal(flc_a_d341_lsq(same_t, nu, 3, FLC_D341_BODY, &result), FLC_E_SINGULAR);
    assert_int_equal(flc_b_d341_lsq(rising_t, nu, 1, FLC_D341_BODY, &result), FLC_E_COUNT);
    assert_int_equal(flc_nu_d341_from_z(1.0600, FLC_D341_FULL, &result), FLC_OK);
    assert_int_equal(flc_nu_d341_from_z(1.0600, FLC_D341_BODY, &result), FLC_E_BELOW);
    assert_int_equal(flc_nu_d341_from_z(2.5, FLC_D341_SIMPLE, &result), FLC_E_BELOW);
    flc_check_nan(result);
}

static void words(void **unused)
{
    (void)unused;
    flc_d341_form form;
    assert_int_equal(flc_d341_form_from_name("full", &form), FLC_OK);
    assert_int_equal(form, FLC_D341_FULL);
    assert_int_equal(flc_d341_form_from_name("Full", &form), FLC_E_UNKNOWN_NAME);
    assert_int_equal((int)form, -1);
}

static flc_value good_value(const char *name)
{
    static const struct {
        const char *name;
        double number;
    } values[] = {
        {"nu_mm2s", 12.0},  {"z", 8.0},        {"form", 1.0},     {"t_degc", 30.0}, {"t1_degc", 20.0},
        {"nu1_mm2s", 25.0}, {"t2_degc", 90.0}, {"nu2_mm2s", 4.0}, {"a", 9.5},       {"b", 3.75},
    };
    static const struct {
        const char *name;
        const double *list;
    } lists[] = {
        {"t_fit_degc", table_t},     {"nu_fit_mm2s", table_nu},     {"t_table_degc", table_t},
        {"nu_table_mm2s", table_nu}, {"rho_table_kgm3", table_rho},
    };
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
        if (strcmp(values[i].name, name) == 0) {
            return (flc_value){values[i].number, NULL, 0};
        }
    }
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++) {
        if (strcmp(lists[i].name, name) == 0) {
            return (flc_value){NAN, lists[i].list, 5};
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
        if (strstr(method->name, "d341") == NULL && strcmp(method->name, "rho_table_linear") != 0) {
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
    assert_int_equal(judged, 16);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_example),
        cmocka_unit_test(z_recomputed),
        cmocka_unit_test(measured_jet_fuel),
        cmocka_unit_test(z_rises),
        cmocka_unit_test(thick_liquids),
        cmocka_unit_test(exact_inverse),
        cmocka_unit_test(printed_series),
        cmocka_unit_test(line_through_its_points),
        cmocka_unit_test(line_as_a_and_b),
        cmocka_unit_test(temperature_of_a_viscosity),
        cmocka_unit_test(least_squares),
        cmocka_unit_test(table_interpolated),
        cmocka_unit_test(table_refusals),
        cmocka_unit_test(core_is_the_methods),
        cmocka_unit_test(refusals),
        cmocka_unit_test(words),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
