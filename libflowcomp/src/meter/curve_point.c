/* SPDX-License-Identifier: Apache-2.0 */
/* From the three conventions of certificates to the library's own coordinates: dimensionless Ro and St with the body at
 * T0 and P0. */
#include "curve_core.h"
#include "fp_guard.h"
#include "meter_body_core.h"
#include "similarity_core.h"

/* Ro and St as the laboratory's numbers give them, formed with D0 where the body is as run. */
static void to_dimensionless(flc_curve_convention convention, double d0, double x, double y, double *ro, double *st)
{
    if (convention == FLC_CONVENTION_DIMENSIONLESS) {
        *ro = x;
        *st = y;
    } else {
        *ro = x * 1e6 * (d0 * d0); /* Hz/cSt is 1e6 Hz/(m2/s) */
        *st = flc_st(y, d0);
    }
}

flc_status flc_curve_point(flc_curve_convention convention, flc_body_treatment treatment, const flc_body_options *body,
                           double x, double y, double t_degc, double p_kpag, double *ro, double *st, flc_error *error)
{
    flc_error_clear(error);
    if (ro != NULL) {
        *ro = flc_nan();
    }
    if (st != NULL) {
        *st = flc_nan();
    }
    if (ro == NULL || st == NULL) {
        return flc_fail(error, FLC_E_NULL, ro == NULL ? "ro" : "st", -1, flc_nan(), flc_nan(), NULL);
    }
    if ((int)convention < FLC_CONVENTION_DIMENSIONLESS || convention > FLC_CONVENTION_RAW) {
        return flc_fail(error, FLC_E_CHOICE, "convention", -1, (double)convention, flc_nan(), NULL);
    }
    if ((int)treatment < FLC_BODY_AS_RUN || treatment > FLC_BODY_ALREADY_CORRECTED) {
        return flc_fail(error, FLC_E_CHOICE, "treatment", -1, (double)treatment, flc_nan(), NULL);
    }
    flc_status status = flc_body_check(body, error);
    flc_fp_state fp = flc_fp_enter();
    if (status == FLC_OK) {
        status = flc_check_range(error, "x", -1, x, 1e-12, 1e15);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "y", -1, y, 1e-12, 1e15);
    }
    if (status == FLC_OK && treatment == FLC_BODY_AS_RUN) {
        status = flc_check_range(error, "t_degc", -1, t_degc, FLC_BODY_T_LOW, FLC_BODY_T_HIGH);
        if (status == FLC_OK) {
            status = flc_check_range(error, "p_kpag", -1, p_kpag, 0.0, FLC_BODY_P_HIGH);
        }
    }
    const flc_body_model model = status == FLC_OK ? flc_body_model_of(body) : (flc_body_model){0};
    if (status == FLC_OK && treatment == FLC_BODY_AS_RUN) {
        status = flc_body_check_temperature(&model, "t_degc", t_degc, error);
    }
    if (status == FLC_OK) {
        to_dimensionless(convention, body->bore_m, x, y, ro, st);
        if (treatment == FLC_BODY_AS_RUN) {
            const flc_body_state run = flc_body_evaluate(&model, t_degc, p_kpag);
            const double growth = run.d_m / body->bore_m;
            *ro = *ro * (growth * growth);
            *st = *st / run.b_ratio;
        }
    }
    flc_fp_leave(fp);
    return status;
}
