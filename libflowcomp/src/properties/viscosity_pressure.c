/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/viscosity_pressure.h"
#include "error.h"
#include "fpmath.h"
#include "method.h"

#define ROELANDS_LOG 9.67    /* -ln of 6.3e-5 Pa s, where all his lines meet */
#define ROELANDS_PER_GPA 5.1 /* 1/GPa: 1 over 196 MPa */
#define ROELANDS_T 138.0     /* K */
#define PSI_PA 6894.757293168

/* ln(1 + x) and e^x - 1 for small x too, by W. Kahan's way: the rounding of 1 + x (of e^x) is undone by measuring the
 * same quotient with the rounded number. */
static double log_of_one_plus(double x)
{
    const double sum = 1.0 + x;
    return sum == 1.0 ? x : flc_log(sum) * (x / (sum - 1.0));
}

static double exp_less_one(double x)
{
    const double power = flc_exp(x);
    const double less_one = power - 1.0;
    if (power == 1.0) {
        return x;
    }
    return less_one > -0.5 && less_one < 1.0 ? less_one * (x / flc_log(power)) : less_one;
}

static flc_status mu_barus(double mu0_mpas, double alpha_per_gpa, double p_mpa, double *result)
{
    *result = mu0_mpas * flc_exp(alpha_per_gpa * (p_mpa / 1000.0));
    return FLC_OK;
}

/* ln mu0 + 9.67, mu0 in Pa s; positive in the range of mu0 */
static double roelands_height(double mu0_mpas)
{
    return flc_log(mu0_mpas / 1000.0) + ROELANDS_LOG;
}

/* 5.1e-9 p, p in Pa */
static double roelands_pressure(double p_mpa)
{
    return ROELANDS_PER_GPA * (p_mpa / 1000.0);
}

static flc_status z_roelands(double mu0_mpas, double alpha_per_gpa, double *result)
{
    *result = alpha_per_gpa / (ROELANDS_PER_GPA * roelands_height(mu0_mpas));
    return FLC_OK;
}

static flc_status alpha_roelands(double mu0_mpas, double z, double *result)
{
    *result = ROELANDS_PER_GPA * z * roelands_height(mu0_mpas);
    return FLC_OK;
}

static flc_status s0_roelands(double mu0_mpas, double beta_per_k, double t0_k, double *result)
{
    *result = beta_per_k * (t0_k - ROELANDS_T) / roelands_height(mu0_mpas);
    return FLC_OK;
}

static flc_status mu_roelands(double mu0_mpas, double alpha_per_gpa, double p_mpa, double t_k, double t0_k, double s0,
                              double *result)
{
    const int absent = flc_is_nan(t_k) + flc_is_nan(t0_k) + flc_is_nan(s0);
    if (absent != 0 && absent != 3) {
        return FLC_E_MISSING;
    }
    const double height = roelands_height(mu0_mpas);
    const double z = alpha_per_gpa / (ROELANDS_PER_GPA * height);
    double exponent = z * log_of_one_plus(roelands_pressure(p_mpa));
    if (absent == 0) {
        exponent -= s0 * log_of_one_plus((t_k - t0_k) / (t0_k - ROELANDS_T)); /* ln((T - 138) / (T0 - 138)) */
    }
    *result = mu0_mpas * flc_exp(height * exp_less_one(exponent));
    return FLC_OK;
}

static flc_status dlnmu_dp_roelands(double mu0_mpas, double alpha_per_gpa, double p_mpa, double *result)
{
    const double z = alpha_per_gpa / (ROELANDS_PER_GPA * roelands_height(mu0_mpas));
    *result = alpha_per_gpa * flc_exp((z - 1.0) * log_of_one_plus(roelands_pressure(p_mpa)));
    return FLC_OK;
}

static flc_status mu_kouzel_1965(double mu0_mpas, double p_mpag, double *result)
{
    const double p_psig = 1e6 * p_mpag / PSI_PA;
    *result = mu0_mpas * flc_exp10(p_psig / 1000.0 * (0.0239 + 0.01638 * flc_pow(mu0_mpas, 0.278)));
    return FLC_OK;
}

static flc_status mu_kouzel_api(double mu0_mpas, double p_mpaa, double *result)
{
    const double p_bar = 10.0 * p_mpaa;
    *result = mu0_mpas * flc_exp10((p_bar - 1.0133) / 1e4 * (-1.48 + 5.86 * flc_pow(mu0_mpas, 0.181)));
    return FLC_OK;
}

#include "methods/viscosity_pressure.inc"
