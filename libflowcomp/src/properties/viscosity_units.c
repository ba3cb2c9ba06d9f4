/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/viscosity_units.h"
#include "bracketed_newton.h"
#include "fpmath.h"
#include "method.h"

#define NU_HIGH 2e7         /* mm2/s, as in the contracts */
#define SUS_NU_LOW 1.81     /* where the table of D2161 starts */
#define SUS_NU_FACTOR 500.0 /* up to here the equation */
#define ROUNDING 1e-12      /* by which an inverse at an end of the range may miss it, relative */

/* --- Saybolt Universal -------------------------------------------------------------------------------------------- */

static double sus_of_temperature(double t_degf)
{
    return 1.0 + 0.000061 * (t_degf - 100.0);
}

static double sus_factor(double t_degf)
{
    return t_degf == 100.0 ? 4.632 : t_degf == 210.0 ? 4.664 : 4.6324 * sus_of_temperature(t_degf);
}

static flc_status sus_factor_d2161(double t_degf, double *result)
{
    *result = sus_factor(t_degf);
    return FLC_OK;
}

/* The equation at 100 degF, and its slope. */
static double sus_at_100(double nu, double *slope)
{
    const double top = 1.0 + 0.03264 * nu;
    const double bottom = 1e-5 * (3930.2 + nu * (262.7 + nu * (23.97 + nu * 1.646)));
    const double bottom_slope = 1e-5 * (262.7 + nu * (47.94 + nu * 4.938));
    *slope = 4.6324 + (0.03264 - top * bottom_slope / bottom) / bottom;
    return 4.6324 * nu + top / bottom;
}

static flc_status sus_d2161(double nu_mm2s, double t_degf, double *result)
{
    double slope;
    *result = nu_mm2s <= SUS_NU_FACTOR ? sus_at_100(nu_mm2s, &slope) * sus_of_temperature(t_degf)
                                       : nu_mm2s * sus_factor(t_degf);
    return FLC_OK;
}

/* problem: SUS at 100 degF */
static double sus_excess(const void *problem, double nu, double *slope)
{
    return sus_at_100(nu, slope) - *(const double *)problem;
}

static flc_status nu_from_sus_d2161(double sus, double t_degf, double *result)
{
    const double at_100 = sus / sus_of_temperature(t_degf);
    double slope;
    if (at_100 < sus_at_100(SUS_NU_LOW, &slope) * (1.0 - ROUNDING)) {
        return FLC_E_BELOW;
    }
    if (at_100 <= sus_at_100(SUS_NU_FACTOR, &slope) * (1.0 + ROUNDING)) {
        *result = flc_bracketed_newton(sus_excess, &at_100, SUS_NU_LOW, SUS_NU_FACTOR, at_100 / 4.6324);
        return FLC_OK;
    }
    *result = sus / sus_factor(t_degf);
    return *result <= NU_HIGH * (1.0 + ROUNDING) ? FLC_OK : FLC_E_ABOVE;
}

/* --- Saybolt Furol ------------------------------------------------------------------------------------------------ */

/* SFS = linear nu + top / (nu^2 + middle nu + last), from nu = low. */
typedef struct furol_equation {
    double t_degf, low, linear, top, middle, last;
} furol_equation;

static const furol_equation furol_equations[] = {
    {122.0, 48.0, 0.4717, 13924.0, -72.59, 6816.0},
    {210.0, 50.0, 0.4792, 5610.0, 0.0, 2130.0},
};

/* NULL where the seconds are not defined. */
static const furol_equation *furol_at(double t_degf)
{
    for (size_t i = 0; i < FLC_COUNT_OF(furol_equations); i++) {
        if (furol_equations[i].t_degf == t_degf) {
            return &furol_equations[i];
        }
    }
    return NULL;
}

static double furol(const furol_equation *equation, double nu, double *slope)
{
    const double bottom = nu * (nu + equation->middle) + equation->last;
    *slope = equation->linear - equation->top * (2.0 * nu + equation->middle) / (bottom * bottom);
    return equation->linear * nu + equation->top / bottom;
}

static flc_status sfs_d2161(double nu_mm2s, double t_degf, double *result)
{
    const furol_equation *equation = furol_at(t_degf);
    if (equation == NULL) {
        return FLC_E_DOMAIN;
    }
    double slope;
    *result = furol(equation, nu_mm2s, &slope);
    return nu_mm2s < equation->low ? FLC_E_BELOW : FLC_OK;
}

typedef struct furol_problem {
    const furol_equation *equation;
    double sfs;
} furol_problem;

static double furol_excess(const void *problem, double nu, double *slope)
{
    const furol_problem *sought = (const furol_problem *)problem;
    return furol(sought->equation, nu, slope) - sought->sfs;
}

static flc_status nu_from_sfs_d2161(double sfs, double t_degf, double *result)
{
    const furol_problem sought = {furol_at(t_degf), sfs};
    if (sought.equation == NULL) {
        return FLC_E_DOMAIN;
    }
    double slope;
    if (sfs < furol(sought.equation, sought.equation->low, &slope) * (1.0 - ROUNDING)) {
        return FLC_E_BELOW;
    }
    if (sfs > furol(sought.equation, NU_HIGH, &slope) * (1.0 + ROUNDING)) {
        return FLC_E_ABOVE;
    }
    *result = flc_bracketed_newton(furol_excess, &sought, sought.equation->low, NU_HIGH, sfs / sought.equation->linear);
    return FLC_OK;
}

/* --- factors ------------------------------------------------------------------------------------------------------ */

static flc_status mu_from_nu_rho(double nu_mm2s, double rho_kgm3, double *result)
{
    *result = nu_mm2s * rho_kgm3 / 1000.0;
    return FLC_OK;
}

static flc_status nu_from_mu_rho(double mu_mpas, double rho_kgm3, double *result)
{
    *result = 1000.0 * mu_mpas / rho_kgm3;
    return FLC_OK;
}

static flc_status nu_mm2s_from_ft2s(double nu_ft2s, double *result)
{
    *result = nu_ft2s * 92903.04;
    return FLC_OK;
}

static flc_status nu_mm2s_from_in2s(double nu_in2s, double *result)
{
    *result = nu_in2s * 645.16;
    return FLC_OK;
}

static flc_status mu_mpas_from_reyn(double mu_lbf_s_in2, double *result)
{
    *result = mu_lbf_s_in2 * (4448.2216152605 / 0.00064516);
    return FLC_OK;
}

static flc_status mu_mpas_from_lb_ft_s(double mu_lb_ft_s, double *result)
{
    *result = mu_lb_ft_s * (453.59237 / 0.3048);
    return FLC_OK;
}

#include "methods/viscosity_units.inc"
