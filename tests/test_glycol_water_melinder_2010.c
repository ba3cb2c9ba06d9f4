/* SPDX-License-Identifier: Apache-2.0 */
/* Glycol and water. Expected values: the 40-digit recomputation in accuracy/methods_study.py and CoolProp in
 * python/test_agreement_other_liquids.py; here identities, and the centre of each polynomial, which is its first
 * printed coefficient. */
#include "check.h"

#include "family_inputs.h"
#include "flowcomp/glycol_water_melinder_2010.h"

typedef flc_status two_arguments(double a, double b, double *result);
typedef flc_status three_arguments(double a, double b, double c, double *result);

typedef struct glycol_methods {
    two_arguments *rho, *lnmu, *mu, *mass_fraction;
    three_arguments *ctl, *rho_base;
    double x_mean, t_mean, rho_centre, lnmu_centre;
} glycol_methods;

static const glycol_methods glycols[] = {
    {flc_rho_meg_water_melinder_2010, flc_lnmu_meg_water_melinder_2010, flc_mu_meg_water_melinder_2010,
     flc_mass_fraction_from_density_meg_water_melinder_2010, flc_ctl_meg_water_melinder_2010,
     flc_rho_base_from_observed_meg_water_melinder_2010, 0.308462, 31.728, 1034.0, 0.4705},
    {flc_rho_mpg_water_melinder_2010, flc_lnmu_mpg_water_melinder_2010, flc_mu_mpg_water_melinder_2010,
     flc_mass_fraction_from_density_mpg_water_melinder_2010, flc_ctl_mpg_water_melinder_2010,
     flc_rho_base_from_observed_mpg_water_melinder_2010, 0.307031, 32.7083, 1018.0, 0.6837},
};
#define GLYCOLS (sizeof glycols / sizeof glycols[0])

static double of(two_arguments *method, double a, double b)
{
    double result;
    assert_int_equal(method(a, b, &result), FLC_OK);
    return result;
}

static void centre_of_each_polynomial(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < GLYCOLS; i++) {
        const glycol_methods *g = &glycols[i];
        flc_check_relative(of(g->rho, g->x_mean, g->t_mean), g->rho_centre, 1e-15);
        flc_check_relative(of(g->lnmu, g->x_mean, g->t_mean), g->lnmu_centre, 1e-14);
    }
}

/* mu is exp of ln mu; mu falls with temperature and rises with glycol; density rises with glycol, strictly, and falls
 * with temperature where there is enough glycol to stay liquid. */
static void directions(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < GLYCOLS; i++) {
        const glycol_methods *g = &glycols[i];
        for (double t = -50.0; t <= 100.0; t += 5.0) {
            for (double x = 0.05; x < 0.595; x += 0.01) {
                const double lnmu = of(g->lnmu, x, t);
                flc_check_relative(of(g->mu, x, t), exp(lnmu), 5e-16 * (1.0 + fabs(lnmu)));
                assert_true(of(g->rho, x + 0.005, t) > of(g->rho, x, t));
                assert_true(of(g->mu, x + 0.005, t) > of(g->mu, x, t));
                assert_true(t > 99.0 || of(g->mu, x, t + 1.0) < of(g->mu, x, t));
                assert_true(t > 99.0 || t < -20.0 || x < 0.45 || of(g->rho, x, t + 1.0) < of(g->rho, x, t));
            }
        }
    }
}

/* The mass fraction of a density, also at both ends, and the density at a base by way of it. */
static void inverses_return(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < GLYCOLS; i++) {
        const glycol_methods *g = &glycols[i];
        for (double t = -50.0; t <= 100.0; t += 3.0) {
            for (int j = 0; j <= 22; j++) {
                const double x = j == 22 ? 0.6 : 0.05 + 0.025 * j;
                const double rho = of(g->rho, x, t);
                flc_check_near(of(g->mass_fraction, rho, t), x, 5e-14);
                double base, ctl;
                assert_int_equal(g->rho_base(rho, t, 15.0, &base), FLC_OK);
                assert_int_equal(g->ctl(x, t, 15.0, &ctl), FLC_OK);
                flc_check_relative(base * ctl, rho, 2e-14);
                assert_int_equal(g->ctl(x, t, t, &ctl), FLC_OK);
                flc_check_same_bits(ctl, 1.0);
                assert_int_equal(g->rho_base(rho, t, t, &base), FLC_OK);
                flc_check_relative(base, rho, 1e-15);
            }
        }
    }
}

static void no_such_mixture(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < GLYCOLS; i++) {
        double x;
        assert_int_equal(glycols[i].mass_fraction(of(glycols[i].rho, 0.05, 20.0) - 0.01, 20.0, &x), FLC_E_NO_ROOT);
        assert_int_equal(glycols[i].mass_fraction(of(glycols[i].rho, 0.6, 20.0) + 0.01, 20.0, &x), FLC_E_NO_ROOT);
        assert_int_equal(glycols[i].rho_base(951.0, 20.0, 15.0, &x), FLC_E_NO_ROOT);
        flc_check_nan(x);
    }
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_melinder_2010", NULL};
    flc_check_family_inputs(ends, 12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(centre_of_each_polynomial),
        cmocka_unit_test(directions),
        cmocka_unit_test(inverses_return),
        cmocka_unit_test(no_such_mixture),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
