/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/viscosity_models.h"
#include "fpmath.h"
#include "method.h"

#define ZERO_DEGC 273.15

/* A viscosity that came out of an exponential: one below the smallest number has none. */
static flc_status accept(double mu, double *result)
{
    *result = mu;
    return mu > 0.0 ? FLC_OK : FLC_E_DOMAIN;
}

/* --- equations with given coefficients ---------------------------------------------------------------------------- */

static flc_status mu_andrade(double a, double b, double t_k, double *result)
{
    return accept(flc_exp(a + b / t_k), result);
}

static flc_status mu_vogel(double a, double b, double c, double t_k, double *result)
{
    const double above_pole = t_k + c;
    if (!(above_pole > 0.0)) {
        return FLC_E_DOMAIN;
    }
    return accept(flc_exp(a + b / above_pole), result);
}

static flc_status mu_dutt_prasad(double a, double b, double c, double t_k, double *result)
{
    const double below_pole = c - t_k;
    if (!(below_pole < 0.0)) {
        return FLC_E_DOMAIN;
    }
    return accept(flc_exp10(a + b / below_pole), result);
}

static flc_status mu_dippr101(double c1, double c2, double c3, double c4, double c5, double t_k, double *result)
{
    const double exponent = c1 + c2 / t_k + c3 * flc_log(t_k) + c4 * flc_pow(t_k, c5);
    return accept(1000.0 * flc_exp(exponent), result);
}

static flc_status mu_power_law(double c, double d, double t_k, double *result)
{
    return accept(1000.0 * (c * flc_pow(t_k, d)), result);
}

static flc_status mu_yaws(double a, double b, double c, double d, double t_k, double *result)
{
    return accept(1000.0 * flc_exp10(a + b / t_k + t_k * (c + t_k * d)), result);
}

/* --- Andrade by least squares ------------------------------------------------------------------------------------- */

/* ln mu - ln mu1 = y_mean + b (x - x_mean), x = 1/T - 1/T1. Point 1 is taken off, because 1/T of a liquid varies little
 * beside itself. */
typedef struct andrade_fit {
    double t1_k, mu1, x_mean, y_mean, b;
} andrade_fit;

/* 1/T - 1/T1 */
static double inverse_from_first(double t_k, double t1_k)
{
    return (t1_k - t_k) / (t_k * t1_k);
}

/* Sums in the order of the points. */
static flc_status fit_andrade(const double *t, const double *mu, size_t n, andrade_fit *fit)
{
    if (n < 2) {
        return FLC_E_COUNT;
    }
    const double t1_k = t[0] + ZERO_DEGC;
    double x_sum = 0.0, y_sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        x_sum += inverse_from_first(t[i] + ZERO_DEGC, t1_k);
        y_sum += flc_log(mu[i] / mu[0]);
    }
    const double x_mean = x_sum / (double)n, y_mean = y_sum / (double)n;
    double xx = 0.0, xy = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double x = inverse_from_first(t[i] + ZERO_DEGC, t1_k) - x_mean;
        xx += x * x;
        xy += x * (flc_log(mu[i] / mu[0]) - y_mean);
    }
    if (xx == 0.0) {
        return FLC_E_SINGULAR;
    }
    *fit = (andrade_fit){t1_k, mu[0], x_mean, y_mean, xy / xx};
    return FLC_OK;
}

/* ln(mu / mu1) at 1/T = 0, where only A is left. */
static double andrade_intercept(const andrade_fit *fit)
{
    return fit->y_mean - fit->b * (fit->x_mean + 1.0 / fit->t1_k);
}

static flc_status a_andrade_lsq(const double *t_fit_degc, const double *mu_fit_mpas, size_t n, double *result)
{
    andrade_fit fit;
    const flc_status status = fit_andrade(t_fit_degc, mu_fit_mpas, n, &fit);
    if (status == FLC_OK) {
        *result = flc_log(fit.mu1) + andrade_intercept(&fit);
    }
    return status;
}

static flc_status b_andrade_lsq(const double *t_fit_degc, const double *mu_fit_mpas, size_t n, double *result)
{
    andrade_fit fit;
    const flc_status status = fit_andrade(t_fit_degc, mu_fit_mpas, n, &fit);
    if (status == FLC_OK) {
        *result = fit.b;
    }
    return status;
}

static flc_status d_andrade_lsq(const double *t_fit_degc, const double *mu_fit_mpas, size_t n, double *result)
{
    andrade_fit fit;
    const flc_status status = fit_andrade(t_fit_degc, mu_fit_mpas, n, &fit);
    return status != FLC_OK ? status : accept(fit.mu1 * flc_exp(andrade_intercept(&fit)), result);
}

static flc_status mu_andrade_lsq(double t_degc, const double *t_fit_degc, const double *mu_fit_mpas, size_t n,
                                 double *result)
{
    andrade_fit fit;
    const flc_status status = fit_andrade(t_fit_degc, mu_fit_mpas, n, &fit);
    if (status != FLC_OK) {
        return status;
    }
    const double x = inverse_from_first(t_degc + ZERO_DEGC, fit.t1_k);
    return accept(fit.mu1 * flc_exp(fit.y_mean + fit.b * (x - fit.x_mean)), result);
}

/* --- Vogel through three points ----------------------------------------------------------------------------------- */

/* With d2 = T2 - T1, d3 = T3 - T1, e2 = y1 - y2, e3 = y1 - y3, y = ln mu, and D = e2 d3 - e3 d2, the solution reads
 *   T1 + C = d2 d3 (e3 - e2) / D,  B / (T1 + C) = e2 e3 (d3 - d2) / D:
 * differences of what was measured, where A, B and C would each be a small difference of large numbers. */
typedef struct vogel_curve {
    double t1_degc, mu1;
    double from_pole; /* T1 + C */
    double height;    /* B / (T1 + C) */
} vogel_curve;

/* Do both temperatures, counted from the first point, lie on its side of the pole? */
static int on_one_branch(double from_pole, double d2, double d3)
{
    return from_pole > 0.0 ? from_pole + d2 > 0.0 && from_pole + d3 > 0.0
                           : from_pole < 0.0 && from_pole + d2 < 0.0 && from_pole + d3 < 0.0;
}

static flc_status vogel_through(const double *t, const double *mu, size_t n, vogel_curve *curve)
{
    if (n != 3) {
        return FLC_E_COUNT;
    }
    const double d2 = t[1] - t[0], d3 = t[2] - t[0];
    if (d2 == 0.0 || d3 == 0.0 || t[2] == t[1]) {
        return FLC_E_DUPLICATE;
    }
    const double e2 = flc_log(mu[0] / mu[1]), e3 = flc_log(mu[0] / mu[2]), e3_less_e2 = flc_log(mu[1] / mu[2]);
    const double determinant = e2 * d3 - e3 * d2;
    if (determinant == 0.0) {
        return FLC_E_SINGULAR; /* ln mu is straight in T: the pole is infinitely far */
    }
    const double from_pole = d2 * d3 * e3_less_e2 / determinant;
    *curve = (vogel_curve){t[0], mu[0], from_pole, e2 * e3 * (t[2] - t[1]) / determinant};
    return on_one_branch(from_pole, d2, d3) ? FLC_OK : FLC_E_DOMAIN;
}

static flc_status a_vogel_three_point(const double *t_fit_degc, const double *mu_fit_mpas, size_t n, double *result)
{
    vogel_curve curve;
    const flc_status status = vogel_through(t_fit_degc, mu_fit_mpas, n, &curve);
    if (status == FLC_OK) {
        *result = flc_log(curve.mu1) - curve.height;
    }
    return status;
}

static flc_status b_vogel_three_point(const double *t_fit_degc, const double *mu_fit_mpas, size_t n, double *result)
{
    vogel_curve curve;
    const flc_status status = vogel_through(t_fit_degc, mu_fit_mpas, n, &curve);
    if (status == FLC_OK) {
        *result = curve.height * curve.from_pole;
    }
    return status;
}

static flc_status c_vogel_three_point(const double *t_fit_degc, const double *mu_fit_mpas, size_t n, double *result)
{
    vogel_curve curve;
    const flc_status status = vogel_through(t_fit_degc, mu_fit_mpas, n, &curve);
    if (status == FLC_OK) {
        *result = curve.from_pole - (curve.t1_degc + ZERO_DEGC);
    }
    return status;
}

/* mu = mu1 exp(B / (T + C) - B / (T1 + C)) */
static flc_status mu_vogel_three_point(double t_degc, const double *t_fit_degc, const double *mu_fit_mpas, size_t n,
                                       double *result)
{
    vogel_curve curve;
    const flc_status status = vogel_through(t_fit_degc, mu_fit_mpas, n, &curve);
    if (status != FLC_OK) {
        return status;
    }
    const double d = t_degc - curve.t1_degc;
    if (!on_one_branch(curve.from_pole, d, d)) {
        return FLC_E_DOMAIN;
    }
    return accept(curve.mu1 * flc_exp(-curve.height * d / (curve.from_pole + d)), result);
}

#include "methods/viscosity_models.inc"
