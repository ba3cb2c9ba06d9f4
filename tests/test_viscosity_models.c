/* SPDX-License-Identifier: Apache-2.0 */
/* Viscosity models. Expected values: published values of Viswanath and Natarajan (1989) and Yaws (2014) as printed in
 * the doc-tests of an open-source library, Perry's coefficients against NIST's n-heptane, identities of the fits. The
 * comparison with 40 digits is accuracy/methods_study.py. */
#include "check.h"

#include "draws.h"
#include "family_inputs.h"
#include "flowcomp/viscosity_models.h"

/* --- facts from outside ------------------------------------------------------------------------------------------- */

static void published_values(void **unused)
{
    (void)unused;
    double mu;
    assert_int_equal(flc_mu_andrade(-3.66931490700595431598, 1007.0, 348.15, &mu), FLC_OK); /* 1-butanol */
    flc_check_relative(mu, 0.459836869568295, 1e-14);
    assert_int_equal(flc_mu_dutt_prasad(-2.7173, -1071.18, -129.51, 298.15, &mu), FLC_OK); /* benzene */
    flc_check_relative(mu, 0.6129806445142113, 1e-14);
    assert_int_equal(flc_mu_power_law(4900800.0, -3.8075, 288.15, &mu), FLC_OK);
    flc_check_relative(mu, 2.114798866203873, 1e-14);
    assert_int_equal(flc_mu_yaws(-9.4406, 1117.6, 0.0137, -1.5465e-5, 300.0, &mu),
                     FLC_OK); /* water; cut, not rounded */
    flc_check_near(mu, 1.0066612081, 1e-10);
}

/* n-heptane, NIST WebBook, mPa s; coefficients of Perry's 8th edition, Table 2-313: within 0.9 %. */
static void dippr101_against_nist(void **unused)
{
    (void)unused;
    static const double rows[][2] = {{-60.0, 1.4536}, {-20.0, 0.68962}, {0.0, 0.52344}, {20.0, 0.41229}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double mu;
        assert_int_equal(flc_mu_dippr101(-9.4622, 877.07, -0.23445, 1.4022e22, -10.0, rows[i][0] + 273.15, &mu),
                         FLC_OK);
        flc_check_relative(mu, rows[i][1], 0.009);
    }
}

/* Textbook fit of Andrade to water from 0 to 100 degC (from memory): 1.767e-3 mPa s, 1870 K, 0.576 mPa s at 50 degC. */
static void textbook_fit(void **unused)
{
    (void)unused;
    static const double t[] = {0.0, 20.0, 40.0, 60.0, 80.0, 100.0};
    static const double mu[] = {1.787, 1.002, 0.6529, 0.4665, 0.3547, 0.2818};
    double b, d, at50;
    assert_int_equal(flc_b_andrade_lsq(t, mu, 6, &b), FLC_OK);
    flc_check_near(b, 1870.0, 1.0);
    assert_int_equal(flc_d_andrade_lsq(t, mu, 6, &d), FLC_OK);
    flc_check_relative(d, 1.767e-3, 0.003);
    assert_int_equal(flc_mu_andrade_lsq(50.0, t, mu, 6, &at50), FLC_OK);
    flc_check_near(at50, 0.576, 5e-4);
}

/* --- identities --------------------------------------------------------------------------------------------------- */

/* A fit to points of a curve returns the curve; a, b and d say the same as mu. */
static void andrade_returns_its_curve(void **unused)
{
    (void)unused;
    uint64_t seed = 1;
    for (int i = 0; i < 200; i++) {
        const double a = flc_draw_between(&seed, -8.0, -3.0), b = flc_draw_between(&seed, 700.0, 3000.0);
        double t[5], mu[5], got_a, got_b, got_d, at, direct;
        for (int j = 0; j < 5; j++) {
            t[j] = -20.0 + 30.0 * j + flc_draw_between(&seed, 0.0, 10.0);
            assert_int_equal(flc_mu_andrade(a, b, t[j] + 273.15, &mu[j]), FLC_OK);
        }
        assert_int_equal(flc_a_andrade_lsq(t, mu, 5, &got_a), FLC_OK);
        assert_int_equal(flc_b_andrade_lsq(t, mu, 5, &got_b), FLC_OK);
        assert_int_equal(flc_d_andrade_lsq(t, mu, 5, &got_d), FLC_OK);
        flc_check_relative(got_a, a, 1e-13);
        flc_check_relative(got_b, b, 1e-13);
        assert_int_equal(flc_mu_andrade_lsq(37.0, t, mu, 5, &at), FLC_OK);
        assert_int_equal(flc_mu_andrade(a, b, 310.15, &direct), FLC_OK);
        flc_check_relative(at, direct, 1e-14);
        assert_int_equal(flc_mu_andrade(got_a, got_b, 310.15, &direct), FLC_OK);
        flc_check_relative(at, direct, 1e-13);
        flc_check_relative(got_d, exp(got_a), 1e-13);
    }
}

/* Vogel's curve goes through its three points, in any order of them, and has the coefficients it was made with. */
static void vogel_returns_its_points(void **unused)
{
    (void)unused;
    uint64_t seed = 2;
    for (int i = 0; i < 200; i++) {
        const double a = flc_draw_between(&seed, -4.0, 0.0), b = flc_draw_between(&seed, 300.0, 900.0);
        const double c = flc_draw_between(&seed, -180.0, -80.0);
        const double t[] = {100.0, -5.0 + flc_draw_between(&seed, 0.0, 10.0), 50.0};
        double mu[3], got, swapped_mu[3];
        for (int j = 0; j < 3; j++) {
            assert_int_equal(flc_mu_vogel(a, b, c, t[j] + 273.15, &mu[j]), FLC_OK);
        }
        for (int j = 0; j < 3; j++) {
            assert_int_equal(flc_mu_vogel_three_point(t[j], t, mu, 3, &got), FLC_OK);
            flc_check_relative(got, mu[j], 2e-15 * 20);
        }
        assert_int_equal(flc_a_vogel_three_point(t, mu, 3, &got), FLC_OK);
        flc_check_near(got, a, 1e-11);
        assert_int_equal(flc_b_vogel_three_point(t, mu, 3, &got), FLC_OK);
        flc_check_relative(got, b, 1e-11);
        assert_int_equal(flc_c_vogel_three_point(t, mu, 3, &got), FLC_OK);
        flc_check_near(got, c, 1e-10);
        const double swapped_t[] = {t[2], t[0], t[1]};
        swapped_mu[0] = mu[2], swapped_mu[1] = mu[0], swapped_mu[2] = mu[1];
        double one, other;
        assert_int_equal(flc_mu_vogel_three_point(70.0, t, mu, 3, &one), FLC_OK);
        assert_int_equal(flc_mu_vogel_three_point(70.0, swapped_t, swapped_mu, 3, &other), FLC_OK);
        flc_check_relative(one, other, 1e-13);
    }
}

/* Andrade is Vogel with C = 0, and Dutt-Prasad with the other sign of C in decimal logarithms. */
static void models_meet(void **unused)
{
    (void)unused;
    for (double t = 250.0; t < 400.0; t += 10.0) {
        double one, other;
        assert_int_equal(flc_mu_andrade(-4.0, 1200.0, t, &one), FLC_OK);
        assert_int_equal(flc_mu_vogel(-4.0, 1200.0, 0.0, t, &other), FLC_OK);
        flc_check_same_bits(one, other);
        assert_int_equal(flc_mu_dutt_prasad(-1.7, -800.0, 50.0, t, &one), FLC_OK);
        assert_int_equal(flc_mu_vogel(-1.7 * log(10.0), 800.0 * log(10.0), -50.0, t, &other), FLC_OK);
        flc_check_relative(one, other, 1e-14);
        assert_int_equal(flc_mu_yaws(-5.0, 600.0, 0.0, 0.0, t, &one), FLC_OK);
        assert_int_equal(flc_mu_dippr101(-5.0 * log(10.0), 600.0 * log(10.0), 0.0, 0.0, 0.0, t, &other), FLC_OK);
        flc_check_relative(one, other, 2e-14);
        assert_int_equal(flc_mu_power_law(3e6, -3.8, t, &one), FLC_OK);
        assert_int_equal(flc_mu_dippr101(log(3e6), 0.0, -3.8, 0.0, 1.0, t, &other), FLC_OK);
        flc_check_relative(one, other, 2e-14);
    }
}

/* --- refusals ----------------------------------------------------------------------------------------------------- */

static void points_that_give_no_curve(void **unused)
{
    (void)unused;
    double result;
    const double t[] = {10.0, 40.0, 70.0}, mu[] = {30.0, 10.0, 5.0};
    assert_int_equal(flc_mu_andrade_lsq(20.0, t, mu, 1, &result), FLC_E_COUNT);
    const double same[] = {10.0, 10.0, 10.0};
    assert_int_equal(flc_b_andrade_lsq(same, mu, 3, &result), FLC_E_SINGULAR);
    assert_int_equal(flc_mu_vogel_three_point(20.0, t, mu, 2, &result), FLC_E_COUNT);
    assert_int_equal(flc_a_vogel_three_point((const double[]){10.0, 40.0, 10.0}, mu, 3, &result), FLC_E_DUPLICATE);
    assert_int_equal(flc_a_vogel_three_point((const double[]){10.0, 40.0, 40.0}, mu, 3, &result), FLC_E_DUPLICATE);
    const double straight[] = {16.0, 4.0, 1.0}; /* ln mu straight in T: no pole */
    assert_int_equal(flc_c_vogel_three_point(t, straight, 3, &result), FLC_E_SINGULAR);
    const double turns[] = {10.0, 30.0, 5.0}; /* no branch of a hyperbola rises and falls */
    assert_int_equal(flc_b_vogel_three_point(t, turns, 3, &result), FLC_E_DOMAIN);
    flc_check_nan(result);
}

static void beyond_the_pole(void **unused)
{
    (void)unused;
    double result;
    assert_int_equal(flc_mu_vogel(-1.0, 500.0, -300.0, 300.0, &result), FLC_E_DOMAIN);
    assert_int_equal(flc_mu_vogel(-1.0, 500.0, -300.0, 299.0, &result), FLC_E_DOMAIN);
    assert_int_equal(flc_mu_dutt_prasad(-1.0, -500.0, 300.0, 300.0, &result), FLC_E_DOMAIN);
    const double t[] = {40.0, 70.0, 100.0}, mu[] = {60.55, 15.93, 7.56}; /* its pole lies at -35.8 degC */
    assert_int_equal(flc_mu_vogel_three_point(-40.0, t, mu, 3, &result), FLC_E_DOMAIN);
    assert_int_equal(flc_mu_vogel_three_point(-30.0, t, mu, 3, &result), FLC_OK);
    assert_int_equal(flc_mu_yaws(300.0, 1e5, 1.0, 0.0, 300.0, &result), FLC_E_DOMAIN);   /* too large */
    assert_int_equal(flc_mu_yaws(-300.0, -1e5, 0.0, 0.0, 300.0, &result), FLC_E_DOMAIN); /* too small */
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_andrade",           "_andrade_lsq", "_vogel",
                                       "_vogel_three_point", "_dutt_prasad", "_dippr101",
                                       "_power_law",         "_yaws",        NULL};
    flc_check_family_inputs(ends, 14);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_values),
        cmocka_unit_test(dippr101_against_nist),
        cmocka_unit_test(textbook_fit),
        cmocka_unit_test(andrade_returns_its_curve),
        cmocka_unit_test(vogel_returns_its_points),
        cmocka_unit_test(models_meet),
        cmocka_unit_test(points_that_give_no_curve),
        cmocka_unit_test(beyond_the_pole),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
