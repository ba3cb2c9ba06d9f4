/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/viscosity_blending.h"
#include "fpmath.h"
#include "fractions.h"
#include "method.h"
#include "viscosity_d341_core.h"

#define REFUTAS_NU_LOW 0.3 /* mm2/s, as in the contracts */
#define REFUTAS_NU_HIGH 2e7

/* --- Refutas ------------------------------------------------------------------------------------------------------ */

static double blending_number(double nu)
{
    return 14.534 * flc_log(flc_log(nu + 0.8)) + 10.975;
}

/* Rounding in the inverse may pass a bound by 1e-9 of it. */
static flc_status nu_of_blending_number(double vbn, double *result)
{
    const double nu = flc_exp(flc_exp((vbn - 10.975) / 14.534)) - 0.8;
    *result = nu;
    return nu < REFUTAS_NU_LOW * (1.0 - 1e-9)    ? FLC_E_BELOW
           : nu > REFUTAS_NU_HIGH * (1.0 + 1e-9) ? FLC_E_ABOVE
                                                 : FLC_OK;
}

static flc_status vbn_refutas(double nu_mm2s, double *result)
{
    *result = blending_number(nu_mm2s);
    return FLC_OK;
}

static flc_status nu_from_vbn_refutas(double vbn, double *result)
{
    return nu_of_blending_number(vbn, result);
}

static flc_status nu_blend_refutas(const double *mass_fraction, const double *nu_mm2s, size_t n, double *result)
{
    double vbn = 0.0;
    for (size_t i = 0; i < n; i++) {
        vbn += mass_fraction[i] * blending_number(nu_mm2s[i]);
    }
    const flc_status status = flc_fractions_check(mass_fraction, n);
    return status != FLC_OK ? status : nu_of_blending_number(vbn, result);
}

/* --- ASTM D7152 --------------------------------------------------------------------------------------------------- */

static flc_status check_nu(flc_d341_form form, const double *nu, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (nu[i] < flc_d341_nu_low(form)) {
            return FLC_E_BELOW;
        }
    }
    return FLC_OK;
}

static flc_status nu_of_w(flc_d341_form form, double w, double *result)
{
    *result = flc_d341_nu_from_w(form, w);
    return flc_d341_nu_is_inside(form, *result) ? FLC_OK : FLC_E_NO_ROOT;
}

static flc_status nu_blend_astm(const double *fraction, const double *nu_mm2s, size_t n, flc_d341_form form,
                                double *result)
{
    flc_status status = flc_fractions_check(fraction, n);
    if (status == FLC_OK) {
        status = check_nu(form, nu_mm2s, n);
    }
    if (status != FLC_OK) {
        return status;
    }
    double w = 0.0;
    for (size_t i = 0; i < n; i++) {
        w += fraction[i] * flc_d341_w(form, nu_mm2s[i]);
    }
    return nu_of_w(form, w, result);
}

static flc_status check_two_points(flc_d341_form form, const double *t1, const double *nu1, const double *t2,
                                   const double *nu2, size_t n)
{
    flc_status status = check_nu(form, nu1, n);
    if (status == FLC_OK) {
        status = check_nu(form, nu2, n);
    }
    for (size_t i = 0; i < n && status == FLC_OK; i++) {
        if (t1[i] + FLC_D341_KELVIN == t2[i] + FLC_D341_KELVIN) {
            status = FLC_E_DUPLICATE;
        } else if ((nu2[i] < nu1[i]) != (t2[i] > t1[i]) || nu2[i] == nu1[i]) {
            status = FLC_E_NOT_MONOTONIC;
        }
    }
    return status;
}

/* log10 T of the blend is taken into each term, log10(T / T_i1): a small number instead of two large ones. What is left
 * of it is log10 T times what the fractions miss to 1. */
static flc_status nu_blend_wright(double t_degc, const double *fraction, const double *t1_degc, const double *nu1_mm2s,
                                  const double *t2_degc, const double *nu2_mm2s, size_t n, flc_d341_form form,
                                  double *result)
{
    flc_status status = flc_fractions_check(fraction, n);
    if (status == FLC_OK) {
        status = check_two_points(form, t1_degc, nu1_mm2s, t2_degc, nu2_mm2s, n);
    }
    if (status != FLC_OK) {
        return status;
    }
    const double t_k = t_degc + FLC_D341_KELVIN;
    double total = 0.0, slopes = 0.0, missing = 1.0;
    for (size_t i = 0; i < n; i++) {
        const double t1_k = t1_degc[i] + FLC_D341_KELVIN, w1 = flc_d341_w(form, nu1_mm2s[i]);
        const double m = flc_log10((t2_degc[i] + FLC_D341_KELVIN) / t1_k) / (flc_d341_w(form, nu2_mm2s[i]) - w1);
        total += fraction[i] * (m * w1 + flc_log10(t_k / t1_k));
        slopes += fraction[i] * m;
        missing -= fraction[i];
    }
    return nu_of_w(form, (total + missing * flc_log10(t_k)) / slopes, result);
}

#include "methods/viscosity_blending.inc"
