/* SPDX-License-Identifier: Apache-2.0 */
#include "viscosity_d341_core.h"
#include "method.h"
#include "error.h"
#include "fpmath.h"

#define T_LOW_DEGC (-100.0) /* as in the contracts */
#define T_HIGH_DEGC 400.0

/* The contract lets nu down to 0.21 mm2/s; the simple form does not go there. */
static flc_status check_nu(flc_d341_form form, double nu)
{
    return nu < flc_d341_nu_low(form) ? FLC_E_BELOW : FLC_OK;
}

static flc_status check_nu_list(flc_d341_form form, const double *nu, size_t n)
{
    flc_status status = FLC_OK;
    for (size_t i = 0; i < n && status == FLC_OK; i++) {
        status = check_nu(form, nu[i]);
    }
    return status;
}

/* A viscosity that came out of an inverse. */
static flc_status accept_nu(flc_d341_form form, double nu, double *result)
{
    *result = nu;
    return flc_d341_nu_is_inside(form, nu) ? FLC_OK : FLC_E_NO_ROOT;
}

static flc_status line_through(double t1, double nu1, double t2, double nu2, flc_d341_form form, flc_d341_line *line)
{
    flc_status status = check_nu(form, nu1);
    if (status == FLC_OK) {
        status = check_nu(form, nu2);
    }
    if (status == FLC_OK && t1 + FLC_D341_KELVIN == t2 + FLC_D341_KELVIN) {
        status = FLC_E_DUPLICATE;
    }
    if (status == FLC_OK) {
        *line = flc_d341_line_of_two_points(form, t1, nu1, t2, nu2);
    }
    return status;
}

/* Least squares of W on x = log10(T / T of the first point), about the means, sums in the order of the points. */
static flc_status line_fitted(const double *t, const double *nu, size_t n, flc_d341_form form, flc_d341_line *line)
{
    flc_status status = n < 2 ? FLC_E_COUNT : check_nu_list(form, nu, n);
    if (status != FLC_OK) {
        return status;
    }
    double t1_k = t[0] + FLC_D341_KELVIN;
    double x_sum = 0.0, w_sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        x_sum += flc_log10((t[i] + FLC_D341_KELVIN) / t1_k);
        w_sum += flc_d341_w(form, nu[i]);
    }
    double x_mean = x_sum / (double)n, w_mean = w_sum / (double)n;
    double xx = 0.0, xw = 0.0;
    for (size_t i = 0; i < n; i++) {
        double x = flc_log10((t[i] + FLC_D341_KELVIN) / t1_k) - x_mean;
        xx += x * x;
        xw += x * (flc_d341_w(form, nu[i]) - w_mean);
    }
    if (xx == 0.0) {
        return FLC_E_SINGULAR;
    }
    line->form = form;
    line->t1_k = t1_k;
    line->b = -xw / xx;
    line->w1 = w_mean + line->b * x_mean;
    return FLC_OK;
}

/* Interval of a rising table that t lies in: the place of its lower end. */
static flc_status interval_of(double t, const double *table, size_t n, size_t *place)
{
    if (n < 2) {
        return FLC_E_COUNT;
    }
    for (size_t i = 1; i < n; i++) {
        if (table[i] <= table[i - 1]) {
            return table[i] < table[i - 1] ? FLC_E_ORDER : FLC_E_DUPLICATE;
        }
    }
    if (t < table[0] || t > table[n - 1]) {
        return t < table[0] ? FLC_E_BELOW : FLC_E_ABOVE;
    }
    *place = 0;
    while (*place + 2 < n && t >= table[*place + 1]) {
        (*place)++;
    }
    return FLC_OK;
}

static flc_status z_d341_simple(double nu_mm2s, double *result)
{
    *result = flc_d341_z(FLC_D341_SIMPLE, nu_mm2s);
    return FLC_OK;
}

static flc_status z_d341_body(double nu_mm2s, double *result)
{
    *result = flc_d341_z(FLC_D341_BODY, nu_mm2s);
    return FLC_OK;
}

static flc_status z_d341_full(double nu_mm2s, double *result)
{
    *result = flc_d341_z(FLC_D341_FULL, nu_mm2s);
    return FLC_OK;
}

static flc_status w_d341(double nu_mm2s, flc_d341_form form, double *result)
{
    *result = flc_d341_w(form, nu_mm2s);
    return check_nu(form, nu_mm2s);
}

static flc_status nu_d341_inverse_series(double z, double *result)
{
    double x = z - 0.7;
    *result = x - flc_exp(-0.7487 - 3.295 * x + 0.6119 * x * x - 0.3193 * x * x * x);
    return FLC_OK;
}

static flc_status nu_d341_from_z(double z, flc_d341_form form, double *result)
{
    double nu = flc_d341_nu_from_z(form, z);
    if (!flc_d341_nu_is_inside(form, nu)) {
        return nu < flc_d341_nu_low(form) ? FLC_E_BELOW : FLC_E_ABOVE;
    }
    *result = nu;
    return FLC_OK;
}

static flc_status a_d341_two_point(double t1_degc, double nu1_mm2s, double t2_degc, double nu2_mm2s, flc_d341_form form,
                                   double *result)
{
    flc_d341_line line = {form, 1.0, 0.0, 0.0};
    flc_status status = line_through(t1_degc, nu1_mm2s, t2_degc, nu2_mm2s, form, &line);
    *result = flc_d341_line_a(&line);
    return status;
}

static flc_status b_d341_two_point(double t1_degc, double nu1_mm2s, double t2_degc, double nu2_mm2s, flc_d341_form form,
                                   double *result)
{
    flc_d341_line line = {form, 1.0, 0.0, 0.0};
    flc_status status = line_through(t1_degc, nu1_mm2s, t2_degc, nu2_mm2s, form, &line);
    *result = line.b;
    return status;
}

static flc_status nu_d341_two_point(double t_degc, double t1_degc, double nu1_mm2s, double t2_degc, double nu2_mm2s,
                                    flc_d341_form form, double *result)
{
    flc_d341_line line;
    flc_status status = line_through(t1_degc, nu1_mm2s, t2_degc, nu2_mm2s, form, &line);
    return status != FLC_OK ? status : accept_nu(form, flc_d341_line_nu(&line, t_degc), result);
}

static flc_status t_d341_two_point(double nu_mm2s, double t1_degc, double nu1_mm2s, double t2_degc, double nu2_mm2s,
                                   flc_d341_form form, double *result)
{
    flc_d341_line line;
    flc_status status = check_nu(form, nu_mm2s);
    if (status == FLC_OK) {
        status = line_through(t1_degc, nu1_mm2s, t2_degc, nu2_mm2s, form, &line);
    }
    if (status != FLC_OK) {
        return status;
    }
    if (line.b == 0.0) {
        return FLC_E_SINGULAR;
    }
    double decades = (line.w1 - flc_d341_w(form, nu_mm2s)) / line.b;
    if (flc_fabs(decades) > 1.0) { /* no two temperatures of the range are a factor 10 apart */
        return FLC_E_NO_ROOT;
    }
    double t = line.t1_k * flc_exp10(decades) - FLC_D341_KELVIN;
    *result = t;
    return t >= T_LOW_DEGC - 1e-9 && t <= T_HIGH_DEGC + 1e-9 ? FLC_OK : FLC_E_NO_ROOT;
}

static flc_status nu_d341_ab(double t_degc, double a, double b, flc_d341_form form, double *result)
{
    flc_d341_line line = flc_d341_line_of_ab(form, a, b);
    return accept_nu(form, flc_d341_line_nu(&line, t_degc), result);
}

static flc_status a_d341_lsq(const double *t_fit_degc, const double *nu_fit_mm2s, size_t n, flc_d341_form form,
                             double *result)
{
    flc_d341_line line = {form, 1.0, 0.0, 0.0};
    flc_status status = line_fitted(t_fit_degc, nu_fit_mm2s, n, form, &line);
    *result = flc_d341_line_a(&line);
    return status;
}

static flc_status b_d341_lsq(const double *t_fit_degc, const double *nu_fit_mm2s, size_t n, flc_d341_form form,
                             double *result)
{
    flc_d341_line line = {form, 1.0, 0.0, 0.0};
    flc_status status = line_fitted(t_fit_degc, nu_fit_mm2s, n, form, &line);
    *result = line.b;
    return status;
}

static flc_status nu_d341_lsq(double t_degc, const double *t_fit_degc, const double *nu_fit_mm2s, size_t n,
                              flc_d341_form form, double *result)
{
    flc_d341_line line;
    flc_status status = line_fitted(t_fit_degc, nu_fit_mm2s, n, form, &line);
    return status != FLC_OK ? status : accept_nu(form, flc_d341_line_nu(&line, t_degc), result);
}

static flc_status nu_d341_table(double t_degc, const double *t_table_degc, const double *nu_table_mm2s, size_t n,
                                flc_d341_form form, double *result)
{
    size_t i = 0;
    flc_status status = interval_of(t_degc, t_table_degc, n, &i);
    if (status == FLC_OK) {
        status = check_nu_list(form, nu_table_mm2s, n);
    }
    return status != FLC_OK ? status
                            : nu_d341_two_point(t_degc, t_table_degc[i], nu_table_mm2s[i], t_table_degc[i + 1],
                                                nu_table_mm2s[i + 1], form, result);
}

static flc_status rho_table_linear(double t_degc, const double *t_table_degc, const double *rho_table_kgm3, size_t n,
                                   double *result)
{
    size_t i = 0;
    flc_status status = interval_of(t_degc, t_table_degc, n, &i);
    if (status != FLC_OK) {
        return status;
    }
    double part = (t_degc - t_table_degc[i]) / (t_table_degc[i + 1] - t_table_degc[i]);
    *result = rho_table_kgm3[i] + (rho_table_kgm3[i + 1] - rho_table_kgm3[i]) * part;
    return FLC_OK;
}

#include "methods/viscosity_d341.inc"
