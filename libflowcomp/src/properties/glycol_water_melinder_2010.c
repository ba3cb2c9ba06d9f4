/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/glycol_water_melinder_2010.h"
#include "bracketed_newton.h"
#include "fpmath.h"
#include "method.h"

/* One coefficient of each polynomial. */
typedef struct melinder_term {
    double rho_meg, lnmu_meg, rho_mpg, lnmu_mpg;
} melinder_term;

#include "tables/glycol_water_melinder_2010_table.inc"

#define FRACTION_LOW 0.05 /* as in the contracts */
#define FRACTION_HIGH 0.6
#define ROUNDING 1e-12 /* by which a density at an end of the range may miss it, relative */

/* Terms of (t - tm)^j beside (x - xm)^0, ^1, ... ^5, in the order of the table. */
static const size_t t_terms[] = {4, 4, 4, 3, 2, 1};

typedef struct glycol {
    double x_mean, t_mean; /* mass per cent, degC */
    size_t rho, lnmu;      /* place of its coefficients in a row of the table */
} glycol;

static const glycol meg = {30.8462, 31.728, 0, 1};
static const glycol mpg = {30.7031, 32.7083, 2, 3};

static double coefficient(size_t row, size_t place)
{
    const melinder_term *term = &melinder_terms[row];
    const double in_row[] = {term->rho_meg, term->lnmu_meg, term->rho_mpg, term->lnmu_mpg};
    return in_row[place];
}

/* The polynomial whose coefficients stand in that place, and its slope in the mass fraction. */
static double polynomial(const glycol *of, size_t place, double mass_fraction, double t_degc, double *slope)
{
    const double x = 100.0 * mass_fraction - of->x_mean, t = t_degc - of->t_mean;
    double sum = 0.0, sum_slope = 0.0;
    size_t row = FLC_COUNT_OF(melinder_terms);
    for (size_t i = FLC_COUNT_OF(t_terms); i-- > 0;) {
        double of_t = 0.0;
        for (size_t j = t_terms[i]; j-- > 0;) {
            of_t = of_t * t + coefficient(--row, place);
        }
        sum_slope = sum_slope * x + sum;
        sum = sum * x + of_t;
    }
    *slope = 100.0 * sum_slope;
    return sum;
}

static double density(const glycol *of, double mass_fraction, double t_degc)
{
    double slope;
    return polynomial(of, of->rho, mass_fraction, t_degc, &slope);
}

static double log_viscosity(const glycol *of, double mass_fraction, double t_degc)
{
    double slope;
    return polynomial(of, of->lnmu, mass_fraction, t_degc, &slope);
}

/* --- mass fraction of a density ----------------------------------------------------------------------------------- */

typedef struct density_problem {
    const glycol *of;
    double t_degc, rho;
} density_problem;

static double density_excess(const void *problem, double mass_fraction, double *slope)
{
    const density_problem *sought = (const density_problem *)problem;
    return polynomial(sought->of, sought->of->rho, mass_fraction, sought->t_degc, slope) - sought->rho;
}

static flc_status mass_fraction_of(const glycol *of, double rho, double t_degc, double *result)
{
    const density_problem sought = {of, t_degc, rho};
    if (density(of, FRACTION_LOW, t_degc) > rho * (1.0 + ROUNDING) ||
        density(of, FRACTION_HIGH, t_degc) < rho * (1.0 - ROUNDING)) {
        return FLC_E_NO_ROOT;
    }
    const double middle = 0.5 * (FRACTION_LOW + FRACTION_HIGH);
    *result = flc_bracketed_newton(density_excess, &sought, FRACTION_LOW, FRACTION_HIGH, middle);
    return FLC_OK;
}

static flc_status density_at_base(const glycol *of, double rho, double t_degc, double t_base_degc, double *result)
{
    double mass_fraction = 0.0;
    const flc_status status = mass_fraction_of(of, rho, t_degc, &mass_fraction);
    *result = density(of, mass_fraction, t_base_degc);
    return status;
}

/* --- ethylene glycol ---------------------------------------------------------------------------------------------- */

static flc_status rho_meg_water_melinder_2010(double mass_fraction, double t_degc, double *result)
{
    *result = density(&meg, mass_fraction, t_degc);
    return FLC_OK;
}

static flc_status lnmu_meg_water_melinder_2010(double mass_fraction, double t_degc, double *result)
{
    *result = log_viscosity(&meg, mass_fraction, t_degc);
    return FLC_OK;
}

static flc_status mu_meg_water_melinder_2010(double mass_fraction, double t_degc, double *result)
{
    *result = flc_exp(log_viscosity(&meg, mass_fraction, t_degc));
    return FLC_OK;
}

static flc_status ctl_meg_water_melinder_2010(double mass_fraction, double t_degc, double t_base_degc, double *result)
{
    *result = density(&meg, mass_fraction, t_degc) / density(&meg, mass_fraction, t_base_degc);
    return FLC_OK;
}

static flc_status mass_fraction_from_density_meg_water_melinder_2010(double rho_kgm3, double t_degc, double *result)
{
    return mass_fraction_of(&meg, rho_kgm3, t_degc, result);
}

static flc_status rho_base_from_observed_meg_water_melinder_2010(double rho_kgm3, double t_degc, double t_base_degc,
                                                                 double *result)
{
    return density_at_base(&meg, rho_kgm3, t_degc, t_base_degc, result);
}

/* --- propylene glycol --------------------------------------------------------------------------------------------- */

static flc_status rho_mpg_water_melinder_2010(double mass_fraction, double t_degc, double *result)
{
    *result = density(&mpg, mass_fraction, t_degc);
    return FLC_OK;
}

static flc_status lnmu_mpg_water_melinder_2010(double mass_fraction, double t_degc, double *result)
{
    *result = log_viscosity(&mpg, mass_fraction, t_degc);
    return FLC_OK;
}

static flc_status mu_mpg_water_melinder_2010(double mass_fraction, double t_degc, double *result)
{
    *result = flc_exp(log_viscosity(&mpg, mass_fraction, t_degc));
    return FLC_OK;
}

static flc_status ctl_mpg_water_melinder_2010(double mass_fraction, double t_degc, double t_base_degc, double *result)
{
    *result = density(&mpg, mass_fraction, t_degc) / density(&mpg, mass_fraction, t_base_degc);
    return FLC_OK;
}

static flc_status mass_fraction_from_density_mpg_water_melinder_2010(double rho_kgm3, double t_degc, double *result)
{
    return mass_fraction_of(&mpg, rho_kgm3, t_degc, result);
}

static flc_status rho_base_from_observed_mpg_water_melinder_2010(double rho_kgm3, double t_degc, double t_base_degc,
                                                                 double *result)
{
    return density_at_base(&mpg, rho_kgm3, t_degc, t_base_degc, result);
}

#include "methods/glycol_water_melinder_2010.inc"
