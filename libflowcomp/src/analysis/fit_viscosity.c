/* SPDX-License-Identifier: Apache-2.0 */
/* A viscosity model through measured points. */
#include "fit_viscosity_core.h"
#include "flowcomp/viscosity_models.h"
#include "error.h"
#include "fp_guard.h"
#include "fpmath.h"
#include "memory.h"
#include "struct_size.h"
#include "viscosity_d341_core.h"
#include <errno.h>

#define POINTS_MAX 1024
#define KELVIN 273.15
#define T_SCALE 300.0 /* K: a temperature in this unit is about 1 */
#define LN_10 2.302585092994045684
#define POLE 0.02 /* nearest pole of Vogel below the coldest point, in its own temperature */

/* ---- models ---- */

static void basis_andrade(double t_k, double q, double *row)
{
    (void)q;
    row[0] = 1.0;
    row[1] = T_SCALE / t_k;
}

static void give_andrade(const double *c, double q, flc_viscosity_coefficients *out)
{
    (void)q;
    out->c1 = c[0];
    out->c2 = T_SCALE * c[1];
}

/* q = ln((T_min + C) / T_min) is put in place of C: from the pole to far away. T_min is the unit of temperature. */
static void basis_vogel(double t_k, double q, double *row)
{
    row[0] = 1.0;
    row[1] = 1.0 / (t_k - 1.0 + flc_exp(q));
}

static void give_vogel(const double *c, double q, flc_viscosity_coefficients *out)
{
    out->c1 = c[0];
    out->c2 = c[1];
    out->c3 = flc_exp(q) - 1.0;
}

static void give_dutt_prasad(const double *c, double q, flc_viscosity_coefficients *out)
{
    out->c1 = c[0] / LN_10;
    out->c2 = -c[1] / LN_10;
    out->c3 = 1.0 - flc_exp(q);
}

static void basis_dippr_short(double t_k, double q, double *row)
{
    (void)q;
    row[0] = 1.0;
    row[1] = T_SCALE / t_k;
    row[2] = flc_log(t_k / T_SCALE);
}

static void basis_dippr(double t_k, double q, double *row)
{
    basis_dippr_short(t_k, q, row);
    row[3] = flc_pow(t_k / T_SCALE, q);
}

/* ln mu = ln 1000 + C1 + C2/T + C3 ln T + C4 T^C5 */
static void give_dippr(const double *c, double q, flc_viscosity_coefficients *out)
{
    out->c1 = c[0] - 3.0 * LN_10 - c[2] * flc_log(T_SCALE);
    out->c2 = T_SCALE * c[1];
    out->c3 = c[2];
    out->c4 = c[3] / flc_pow(T_SCALE, q);
    out->c5 = q;
}

static void give_dippr_short(const double *c, double q, flc_viscosity_coefficients *out)
{
    (void)q;
    out->c1 = c[0] - 3.0 * LN_10 - c[2] * flc_log(T_SCALE);
    out->c2 = T_SCALE * c[1];
    out->c3 = c[2];
    out->c4 = out->c5 = 0.0;
}

static void basis_power(double t_k, double q, double *row)
{
    (void)q;
    row[0] = 1.0;
    row[1] = flc_log(t_k / T_SCALE);
}

static void give_power(const double *c, double q, flc_viscosity_coefficients *out)
{
    (void)q;
    out->c1 = flc_exp(c[0] - c[1] * flc_log(T_SCALE)) / 1000.0;
    out->c2 = c[1];
}

static void basis_yaws(double t_k, double q, double *row)
{
    const double x = t_k / T_SCALE;
    (void)q;
    row[0] = 1.0;
    row[1] = 1.0 / x;
    row[2] = x;
    row[3] = x * x;
}

static void give_yaws(const double *c, double q, flc_viscosity_coefficients *out)
{
    (void)q;
    out->c1 = c[0] / LN_10 - 3.0;
    out->c2 = c[1] * T_SCALE / LN_10;
    out->c3 = c[2] / T_SCALE / LN_10;
    out->c4 = c[3] / (T_SCALE * T_SCALE) / LN_10;
}

/* q is the middle, in K; it is given, not searched for. */
static void basis_polynomial(double t_k, double q, double *row)
{
    const double x = (t_k - q) / T_SCALE;
    row[0] = 1.0;
    row[1] = x;
    row[2] = x * x;
    row[3] = x * x * x;
}

static void give_polynomial(const double *c, double q, flc_viscosity_coefficients *out)
{
    out->c1 = c[0];
    out->c2 = c[1] / T_SCALE;
    out->c3 = c[2] / (T_SCALE * T_SCALE);
    out->c4 = c[3] / (T_SCALE * T_SCALE * T_SCALE);
    out->c5 = q - KELVIN;
}

static void basis_d341(double t_k, double q, double *row)
{
    (void)q;
    row[0] = 1.0;
    row[1] = -flc_log10(t_k / T_SCALE);
}

static void give_d341(const double *c, double q, flc_viscosity_coefficients *out)
{
    (void)q;
    out->c1 = c[0] + c[1] * flc_log10(T_SCALE);
    out->c2 = c[1];
}

static const flc_viscosity_form forms[] = {
    [FLC_MODEL_ANDRADE] = {2, 2, 0, 0.0, 0.0, basis_andrade, give_andrade},
    [FLC_MODEL_VOGEL] = {3, 2, 1, 0.0, 0.0, basis_vogel, give_vogel},
    [FLC_MODEL_DUTT_PRASAD] = {3, 2, 1, 0.0, 0.0, basis_vogel, give_dutt_prasad},
    [FLC_MODEL_DIPPR101] = {6, 4, 1, -30.0, 30.0, basis_dippr, give_dippr},
    [FLC_MODEL_POWER_LAW] = {2, 2, 0, 0.0, 0.0, basis_power, give_power},
    [FLC_MODEL_YAWS] = {4, 4, 0, 0.0, 0.0, basis_yaws, give_yaws},
    [FLC_MODEL_POLYNOMIAL] = {4, 4, 0, 0.0, 0.0, basis_polynomial, give_polynomial},
    [FLC_MODEL_D341_AB] = {2, 2, 0, 0.0, 0.0, basis_d341, give_d341},
};
static const flc_viscosity_form dippr_short = {3, 3, 0, 0.0, 0.0, basis_dippr_short, give_dippr_short};

/* Vogel works in units of the coldest temperature, given there as 1. */
static int is_vogel(flc_viscosity_model model)
{
    return model == FLC_MODEL_VOGEL || model == FLC_MODEL_DUTT_PRASAD;
}

static flc_viscosity_form form_of(flc_viscosity_model model, size_t n)
{
    flc_viscosity_form form = model == FLC_MODEL_DIPPR101 && n < 6 ? dippr_short : forms[model];
    if (is_vogel(model)) {
        form.q_low = flc_log(POLE);
        form.q_high = flc_log(3.0);
    }
    return form;
}

/* ---- judging ---- */

static flc_status check_point(const flc_viscosity_fit *fit, const double *t, const double *nu, size_t i,
                              flc_error *error)
{
    const int d341 = fit->model == FLC_MODEL_D341_AB;
    const double low = d341 ? flc_d341_nu_low(fit->form) : 0.001, high = d341 ? FLC_D341_NU_HIGH : 1e9;
    flc_status status =
        flc_check_range(error, "t_degc", (int64_t)i, t[i], d341 ? -100.0 : -200.0, d341 ? 400.0 : 600.0);
    if (status == FLC_OK) {
        status = flc_check_range(error, "viscosity", (int64_t)i, nu[i], low, high);
    }
    if (status == FLC_OK && i > 0 && t[i] < t[i - 1]) {
        status = flc_fail(error, FLC_E_ORDER, "t_degc", (int64_t)i, t[i], t[i - 1],
                          "temperatures rise, or stay for a repeat");
    }
    if (status == FLC_OK && i > 0 && t[i] > t[i - 1] && nu[i] >= nu[i - 1]) {
        status = flc_fail(error, FLC_E_ORDER, "viscosity", (int64_t)i, nu[i], nu[i - 1],
                          "viscosities fall as the temperature rises");
    }
    return status;
}

static flc_status check_choices(const flc_viscosity_fit *fit, flc_error *error)
{
    if ((int)fit->model < 0 || fit->model > FLC_MODEL_D341_AB) {
        return flc_fail(error, FLC_E_CHOICE, "model", -1, (double)fit->model, FLC_MODEL_D341_AB,
                        "a model with coefficients can be fitted");
    }
    if ((int)fit->kind < 0 || fit->kind > FLC_VISCOSITY_KINEMATIC) {
        return flc_fail(error, FLC_E_CHOICE, "kind", -1, (double)fit->kind, FLC_VISCOSITY_KINEMATIC, NULL);
    }
    if ((int)fit->form < 0 || fit->form > FLC_D341_FULL) {
        return flc_fail(error, FLC_E_CHOICE, "form", -1, (double)fit->form, FLC_D341_FULL, NULL);
    }
    return fit->model == FLC_MODEL_D341_AB && fit->kind == FLC_VISCOSITY_DYNAMIC
               ? flc_fail(error, FLC_E_CONFLICT, "kind", -1, flc_nan(), flc_nan(), "ASTM D341 is kinematic")
               : FLC_OK;
}

static flc_status check_points(const flc_viscosity_fit *fit, const double *t, const double *nu, size_t n,
                               flc_error *error)
{
    const size_t least = form_of(fit->model, n).least;
    if (n < least || n > POINTS_MAX) {
        return flc_fail(error, FLC_E_COUNT, "t_degc", -1, (double)n, n < least ? (double)least : POINTS_MAX,
                        "points for this model");
    }
    size_t different = 0;
    for (size_t i = 0; i < n; i++) {
        const flc_status status = check_point(fit, t, nu, i, error);
        if (status != FLC_OK) {
            return status;
        }
        different += i == 0 || t[i] > t[i - 1];
    }
    return different < least ? flc_fail(error, FLC_E_SINGULAR, "t_degc", -1, (double)different, (double)least,
                                        "different temperatures for this model")
                             : FLC_OK;
}

/* ---- fitting ---- */

static flc_status fit_coefficients(flc_viscosity_fit *fit, const double *t, const double *nu, size_t n, double *room)
{
    const flc_viscosity_form form = form_of(fit->model, n);
    const double unit = is_vogel(fit->model) ? t[0] + KELVIN : 1.0;
    double *t_k = room, *y = room + n, q = 0.0, sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        t_k[i] = (t[i] + KELVIN) / unit;
        y[i] = fit->model == FLC_MODEL_D341_AB ? flc_d341_w(fit->form, nu[i]) : flc_log(nu[i]);
        sum += t_k[i];
    }
    const flc_viscosity_data data = {&form, n, t_k, y, room + 2 * n};
    flc_status status = FLC_OK;
    if (form.has_q) {
        status = flc_viscosity_search(&data, &q);
    } else if (fit->model == FLC_MODEL_POLYNOMIAL) {
        q = sum / (double)n;
    }
    double c[FLC_BASIS_MAX] = {0.0}, squares;
    if (status == FLC_OK) {
        status = flc_viscosity_solve(&data, q, c, &squares);
    }
    if (status == FLC_OK) {
        form.hand_over(c, q, &fit->coefficients);
        if (is_vogel(fit->model)) {
            fit->coefficients.c2 *= unit;
            fit->coefficients.c3 *= unit;
        }
    }
    return status;
}

/* The model as the run-time library has it. */
static flc_status model_at(const flc_viscosity_fit *fit, double t_degc, double *nu)
{
    const flc_viscosity_coefficients *c = &fit->coefficients;
    const double t_k = t_degc + KELVIN;
    switch (fit->model) {
    case FLC_MODEL_ANDRADE:
        return flc_mu_andrade(c->c1, c->c2, t_k, nu);
    case FLC_MODEL_VOGEL:
        return flc_mu_vogel(c->c1, c->c2, c->c3, t_k, nu);
    case FLC_MODEL_DUTT_PRASAD:
        return flc_mu_dutt_prasad(c->c1, c->c2, c->c3, t_k, nu);
    case FLC_MODEL_DIPPR101:
        return flc_mu_dippr101(c->c1, c->c2, c->c3, c->c4, c->c5, t_k, nu);
    case FLC_MODEL_POWER_LAW:
        return flc_mu_power_law(c->c1, c->c2, t_k, nu);
    case FLC_MODEL_YAWS:
        return flc_mu_yaws(c->c1, c->c2, c->c3, c->c4, t_k, nu);
    case FLC_MODEL_D341_AB:
        return flc_nu_d341_ab(t_degc, c->c1, c->c2, fit->form, nu);
    default: { /* polynomial */
        const double x = t_degc - c->c5;
        *nu = flc_exp(c->c1 + x * (c->c2 + x * (c->c3 + x * c->c4)));
        return FLC_OK;
    }
    }
}

static flc_status judge(flc_viscosity_fit *fit, const double *t, const double *nu, size_t n, double *residual_pct)
{
    double sum = 0.0;
    fit->worst_pct = 0.0;
    fit->worst = 0;
    for (size_t i = 0; i < n; i++) {
        double model = flc_nan();
        const flc_status status = model_at(fit, t[i], &model);
        if (status != FLC_OK) {
            return FLC_E_DOMAIN;
        }
        const double residual = 100.0 * (model / nu[i] - 1.0);
        sum += residual * residual;
        if (flc_fabs(residual) > flc_fabs(fit->worst_pct)) {
            fit->worst_pct = residual;
            fit->worst = i;
        }
        if (residual_pct != NULL) {
            residual_pct[i] = residual;
        }
    }
    fit->rms_pct = flc_sqrt(sum / (double)n);
    return FLC_OK;
}

static flc_status fit_points(flc_viscosity_fit *fit, const double *t, const double *nu, size_t n, double *residual_pct,
                             flc_error *error)
{
    double *room = flc_allocate_array((2 + FLC_BASIS_MAX + 1) * n, sizeof *room);
    if (room == NULL) {
        return flc_fail(error, FLC_E_MEMORY, "t_degc", -1, flc_nan(), flc_nan(), NULL);
    }
    flc_status status = fit_coefficients(fit, t, nu, n, room);
    flc_release(room);
    if (status == FLC_OK) {
        status = judge(fit, t, nu, n, residual_pct);
    }
    if (status != FLC_OK) {
        return flc_fail(error, status, "viscosity", -1, flc_nan(), flc_nan(),
                        "the points do not determine this model; take one with fewer coefficients");
    }
    const size_t used = form_of(fit->model, n).coefficients + (size_t)form_of(fit->model, n).has_q;
    fit->t_low_degc = t[0];
    fit->t_high_degc = t[n - 1];
    fit->points = n;
    fit->free = n - used;
    return FLC_OK;
}

void flc_viscosity_fit_init_sized(flc_viscosity_fit *fit, size_t own_size)
{
    const double nothing = flc_nan();
    const flc_viscosity_fit fresh = {.size = sizeof fresh,
                                     .model = (flc_viscosity_model)-1,
                                     .coefficients = {nothing, nothing, nothing, nothing, nothing},
                                     .t_low_degc = nothing,
                                     .t_high_degc = nothing,
                                     .rms_pct = nothing,
                                     .worst_pct = nothing};
    flc_give_sized(fit, own_size, &fresh, sizeof fresh);
}

flc_status flc_fit_viscosity(flc_viscosity_model model, flc_viscosity_kind kind, flc_d341_form form,
                             const double *t_degc, const double *viscosity, size_t n, flc_viscosity_fit *fit,
                             double *residual_pct, flc_error *error)
{
    flc_error_clear(error);
    for (size_t i = 0; residual_pct != NULL && i < n; i++) {
        residual_pct[i] = flc_nan();
    }
    if (t_degc == NULL || viscosity == NULL || fit == NULL) {
        return flc_fail(error, FLC_E_NULL,
                        t_degc == NULL      ? "t_degc"
                        : viscosity == NULL ? "viscosity"
                                            : "fit",
                        -1, flc_nan(), flc_nan(), NULL);
    }
    if (fit->size != sizeof *fit) {
        return flc_fail(error, FLC_E_SIZE, "fit", -1, (double)fit->size, (double)sizeof *fit, NULL);
    }
    flc_viscosity_fit_init(fit);
    flc_viscosity_fit found = *fit;
    found.model = model;
    found.kind = kind;
    found.form = form;
    const int host_errno = errno;
    const flc_fp_state fp = flc_fp_enter();
    flc_status status = check_choices(&found, error);
    if (status == FLC_OK) {
        status = check_points(&found, t_degc, viscosity, n, error);
    }
    if (status == FLC_OK) {
        status = fit_points(&found, t_degc, viscosity, n, residual_pct, error);
    }
    if (status == FLC_OK) {
        *fit = found;
    }
    flc_fp_leave(fp);
    errno = host_errno;
    return status;
}
