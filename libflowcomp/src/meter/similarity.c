/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/similarity.h"
#include "error.h"
#include "method.h"
#include "similarity_core.h"

#define L_PER_USGAL 3.785411784 /* exact: 231 cubic inches */
#define USGAL_PER_M3 (1000.0 / L_PER_USGAL)
#define MM_PER_M 1000.0
#define LPM_PER_M3S 60000.0

/* Exactly one of two alternatives must be given. */
static flc_status one_of(double first, double second)
{
    const int given = !flc_is_nan(first) + !flc_is_nan(second);
    return given == 1 ? FLC_OK : given == 0 ? FLC_E_MISSING : FLC_E_CONFLICT;
}

static double grown(double alpha_per_k, double t_degc, double t0_degc)
{
    return 1.0 + alpha_per_k * (t_degc - t0_degc);
}

static flc_status pulse_frequency_hz(double k_per_usgal, double q_lpm, double q_usgpm, double *result)
{
    const double usgpm = flc_is_nan(q_usgpm) ? q_lpm / L_PER_USGAL : q_usgpm;
    *result = k_per_usgal * usgpm / 60.0;
    return one_of(q_lpm, q_usgpm);
}

static flc_status pipe_velocity_m_per_s(double q_lpm, double d_mm, double *result)
{
    const double d_m = d_mm / MM_PER_M;
    *result = 4.0 * (q_lpm / LPM_PER_M3S) / (FLC_PI * (d_m * d_m));
    return FLC_OK;
}

static flc_status strouhal(double k_per_usgal, double d_mm, double k_per_m3, double *result)
{
    *result = flc_st(flc_is_nan(k_per_m3) ? k_per_usgal * USGAL_PER_M3 : k_per_m3, d_mm / MM_PER_M);
    return one_of(k_per_usgal, k_per_m3);
}

static flc_status reynolds(double q_lpm, double d_mm, double nu_mm2s, double *result)
{
    *result = flc_re(q_lpm / LPM_PER_M3S, d_mm / MM_PER_M, nu_mm2s);
    return FLC_OK;
}

static flc_status roshko(double f_hz, double d_mm, double nu_mm2s, double *result)
{
    *result = flc_ro(f_hz, d_mm / MM_PER_M, nu_mm2s);
    return FLC_OK;
}

static flc_status frequency_over_viscosity(double f_hz, double nu_mm2s, double *result)
{
    *result = f_hz / nu_mm2s;
    return FLC_OK;
}

/* Hz/cSt times mm2 needs no factor: both hold mm2. */
static flc_status roshko_from_frequency_over_viscosity(double f_over_nu, double d_mm, double *result)
{
    *result = f_over_nu * (d_mm * d_mm);
    return FLC_OK;
}

static flc_status reynolds_from_roshko(double roshko_number, double strouhal_number, double *result)
{
    *result = roshko_number / strouhal_number;
    return FLC_OK;
}

static flc_status diameter_ratio(double alpha_per_k, double t_degc, double t0_degc, double *result)
{
    *result = grown(alpha_per_k, t_degc, t0_degc);
    return FLC_OK;
}

static flc_status roshko_compensated(double f_hz, double d0_mm, double nu_mm2s, double alpha_per_k, double t_degc,
                                     double t0_degc, double *result)
{
    *result = flc_ro(f_hz, d0_mm / MM_PER_M * grown(alpha_per_k, t_degc, t0_degc), nu_mm2s);
    return FLC_OK;
}

static flc_status flow_from_strouhal_lpm(double f_hz, double strouhal_number, double d0_mm, double alpha_per_k,
                                         double t_degc, double t0_degc, double *result)
{
    const double d_m = d0_mm / MM_PER_M * grown(alpha_per_k, t_degc, t0_degc);
    *result = f_hz / flc_k(strouhal_number, d_m) * LPM_PER_M3S;
    return FLC_OK;
}

static flc_status k_from_strouhal_per_m3(double strouhal_number, double d_mm, double *result)
{
    *result = flc_k(strouhal_number, d_mm / MM_PER_M);
    return FLC_OK;
}

static flc_status strouhal_normalised(double k, double ratio, double *result)
{
    *result = k * (ratio * ratio * ratio);
    return FLC_OK;
}

static flc_status roshko_normalised(double f_hz, double nu_mm2s, double ratio, double *result)
{
    *result = f_hz / nu_mm2s * (ratio * ratio);
    return FLC_OK;
}

static flc_status flow_sensitivity_pct(double s, double dnu_pct, double df_pct, double dd_pct, double *result)
{
    *result = (1.0 - s) * df_pct + s * dnu_pct + (3.0 - 2.0 * s) * dd_pct;
    return FLC_OK;
}

static flc_status curve_error_pct(double strouhal_new, double strouhal_curve, double *result)
{
    *result = 100.0 * (strouhal_new - strouhal_curve) / strouhal_curve;
    return FLC_OK;
}

static flc_status bearing_term_per_n_m2(double rho_kgm3, double q_m3s, double *result)
{
    *result = 1.0 / (rho_kgm3 * (q_m3s * q_m3s));
    return FLC_OK;
}

#include "methods/similarity.inc"
