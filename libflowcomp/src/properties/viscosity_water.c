/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/viscosity_water.h"
#include "double_double.h"
#include "fpmath.h"
#include "method.h"
#include "seawater_eos80_core.h"
#include "water_core.h"

#include "tables/viscosity_water_table.inc"

#define T_REFERENCE 647.096 /* K */
#define RHO_REFERENCE 322.0 /* kg/m3 */
#define ZERO_DEGC 273.15

/* Where mu2 differs from 1 by more than 2 %, K and kg/m3 (R12-08, from memory). */
#define CRITICAL_T_LOW 645.91
#define CRITICAL_T_HIGH 650.77
#define CRITICAL_RHO_LOW 245.8
#define CRITICAL_RHO_HIGH 405.3

/* --- water -------------------------------------------------------------------------------------------------------- */

/* mu0, uPa s: the limit of zero density. */
static double dilute_viscosity(double t_k)
{
    const double inverse = T_REFERENCE / t_k;
    const double sum = 1.67752 + inverse * (2.20462 + inverse * (0.6366564 + inverse * -0.241605));
    return 100.0 / (flc_sqrt(inverse) * sum);
}

/* Highest power of 1 / Tr - 1 beside each power of r - 1. */
static const int h_degree[] = {3, 5, 4, 1, 3, 4, 5};

static flc_dd plus_times(flc_dd sum, double factor, flc_dd term)
{
    return flc_dd_add(flc_dd_multiply(sum, flc_dd_of(factor)), term);
}

/* mu1 = exp(r sum over j of (r - 1)^j sum over i of H_ij (1 / Tr - 1)^i). In the liquid the terms cancel 20-fold and
 * the exponent is taken to a power of e, so the sum is carried with 106 bits. */
static double density_factor(double t_k, double rho)
{
    const double x = (T_REFERENCE - t_k) / t_k, y = (rho - RHO_REFERENCE) / RHO_REFERENCE;
    flc_dd sum = {0.0, 0.0};
    for (size_t j = FLC_COUNT_OF(h_degree); j-- > 0;) {
        flc_dd of_x = {0.0, 0.0};
        for (int i = h_degree[j]; i >= 0; i--) {
            of_x = plus_times(of_x, x, r12_08_h[j][i]);
        }
        sum = plus_times(sum, y, of_x);
    }
    const flc_dd exponent = flc_dd_multiply(flc_dd_of(rho / RHO_REFERENCE), sum);
    return flc_exp(exponent.hi) * (1.0 + exponent.lo);
}

/* mPa s */
static double r12_08(double t_k, double rho)
{
    return 1e-3 * (dilute_viscosity(t_k) * density_factor(t_k, rho));
}

static flc_status mu_water_r12_08(double t_k, double rho_kgm3, double *result)
{
    if (t_k > CRITICAL_T_LOW && t_k < CRITICAL_T_HIGH && rho_kgm3 > CRITICAL_RHO_LOW && rho_kgm3 < CRITICAL_RHO_HIGH) {
        return FLC_E_DOMAIN;
    }
    *result = r12_08(t_k, rho_kgm3);
    return FLC_OK;
}

static flc_status mu_water_sr6_08(double t_k, double *result)
{
    const double x = t_k / 300.0;
    *result = 1e-3 * (280.68 * flc_pow(x, -1.9) + 511.45 * flc_pow(x, -7.7) + 61.131 * flc_pow(x, -19.6) +
                      0.45903 * flc_pow(x, -40.0));
    return FLC_OK;
}

static flc_status mu_water_1atm(double t_degc, double *result)
{
    *result = r12_08(t_degc + ZERO_DEGC, flc_water_kell_density(t_degc));
    return FLC_OK;
}

static flc_status nu_water_1atm(double t_degc, double *result)
{
    const double rho = flc_water_kell_density(t_degc);
    *result = 1000.0 * r12_08(t_degc + ZERO_DEGC, rho) / rho;
    return FLC_OK;
}

static flc_status mu_water_swindells(double t_degc, double *result)
{
    const double above = t_degc - 20.0;
    *result = 1.002 * flc_exp10(-above * (1.3272 + 0.001053 * above) / (t_degc + 105.0));
    return FLC_OK;
}

/* --- sea water ---------------------------------------------------------------------------------------------------- */

static flc_status mu_seawater_sharqawy(double t_degc, double s_kgkg, double *result)
{
    const double from_pole = t_degc + 64.993;
    const double water = 4.2844e-5 + 1.0 / (0.157 * from_pole * from_pole - 91.296); /* Pa s */
    const double a = 1.541 + t_degc * (1.998e-2 + t_degc * -9.52e-5);
    const double b = 7.974 + t_degc * (-7.561e-2 + t_degc * 4.724e-4);
    *result = 1000.0 * (water * (1.0 + s_kgkg * (a + s_kgkg * b)));
    return FLC_OK;
}

static flc_status nu_seawater_sharqawy(double t_degc, double s_gkg, double *result)
{
    double mu = 0.0;
    flc_status status = mu_seawater_sharqawy(t_degc, s_gkg / 1000.0, &mu);
    *result = 1000.0 * mu / flc_seawater_surface_density(s_gkg, t_degc);
    return status;
}

/* mPa s; rho is the density of EOS-80. */
static double millero(double t, double s, double rho)
{
    const double above = t - 20.0;
    const double water = 1.002 * flc_exp10(-above * (1.1709 + 0.001827 * above) / (t + 89.93));
    const double chlorinity = rho * s / 1806.55; /* by volume */
    const double a = 1.0675e-4 + 5.185e-5 * t, b = 2.591e-3 + 3.300e-5 * t;
    return water * (1.0 + flc_sqrt(chlorinity) * a + chlorinity * b);
}

static flc_status mu_seawater_millero(double t_degc, double s_psu, double *result)
{
    *result = millero(t_degc, s_psu, flc_seawater_surface_density(s_psu, t_degc));
    return FLC_OK;
}

static flc_status nu_seawater_millero(double t_degc, double s_psu, double *result)
{
    const double rho = flc_seawater_surface_density(s_psu, t_degc);
    *result = 1000.0 * millero(t_degc, s_psu, rho) / rho;
    return FLC_OK;
}

#include "methods/viscosity_water.inc"
