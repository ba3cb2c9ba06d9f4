/* SPDX-License-Identifier: Apache-2.0 */
/* The peer: the record as plain C would have it, with the C library's functions and gsl_spline_eval with an
 * accelerator. No check of anything, no flags, one result. It is compiled with -O2 and nothing else. */
#define _XOPEN_SOURCE 700 /* M_PI */
#include "bench_case.h"
#include <gsl/gsl_spline.h>
#include <math.h>
#include <stdlib.h>

struct peer_meter {
    gsl_spline *spline;
    gsl_interp_accel *place;
    double strain_per_kpa;
    double k0, k1, k2; /* crude oil */
};

peer_meter *peer_new(void)
{
    peer_meter *m = malloc(sizeof *m);
    double x[CASE_KNOTS], st[CASE_KNOTS];
    for (int i = 0; i < CASE_KNOTS; i++) {
        x[i] = 2.0 + 5.0 * i / (CASE_KNOTS - 1);
        st[i] = 3.4 * (1.0 - 0.08 * exp(1.2 * (2.0 - x[i])) + 0.004 * sin(3.0 * x[i]));
    }
    m->spline = gsl_spline_alloc(gsl_interp_steffen, CASE_KNOTS);
    m->place = gsl_interp_accel_alloc();
    gsl_spline_init(m->spline, x, st, CASE_KNOTS);
    m->strain_per_kpa = CASE_BORE_M / (2.0 * CASE_WALL_M * CASE_MODULUS_GPA * 1e6);
    m->k0 = 341.0957;
    m->k1 = m->k2 = 0.0;
    return m;
}

void peer_free(peer_meter *m)
{
    gsl_spline_free(m->spline);
    gsl_interp_accel_free(m->place);
    free(m);
}

void peer_knots(const peer_meter *m, double x[CASE_KNOTS], double st[CASE_KNOTS], double slope[CASE_KNOTS])
{
    for (int i = 0; i < CASE_KNOTS; i++) {
        x[i] = m->spline->x[i];
        st[i] = m->spline->y[i];
        slope[i] = gsl_spline_eval_deriv(m->spline, x[i], m->place);
    }
}

double peer_viscosity(double t_degc)
{
    return pow(10.0, pow(10.0, CASE_A - CASE_B * log10(t_degc + 273.15))) - 0.7;
}

/* 90 to 68: the temperature scale of the tables, degF. */
static double on_scale_of_1968(double t_degf)
{
    static const double a[] = {-0.148759, -0.267408, 1.080760, 1.269056, -4.089591, -1.871251, 7.438081, -3.536296};
    const double t = (t_degf - 32.0) / 1.8, tau = t / 630.0;
    double shift = 0.0;
    for (int i = 7; i >= 0; i--) {
        shift = (shift + a[i]) * tau;
    }
    return 1.8 * (t - shift) + 32.0;
}

static double ctpl(const peer_meter *m, double rho60, double t_degc, double p_kpag)
{
    const double delta = 0.01374979547;
    const double t = on_scale_of_1968(1.8 * t_degc + 32.0);
    const double a = delta / 2.0 * ((m->k0 / rho60 + m->k1) / rho60 + m->k2);
    const double b = (2.0 * m->k0 + m->k1 * rho60) / (m->k0 + (m->k1 + m->k2 * rho60) * rho60);
    const double rho = rho60 * (1.0 + (exp(a * (1.0 + 0.8 * a)) - 1.0) / (1.0 + a * (1.0 + 1.6 * a) * b));
    const double alpha = (m->k0 / rho + m->k1) / rho + m->k2;
    const double dt = t - 60.0068749;
    const double ctl = exp(-alpha * dt * (1.0 + 0.8 * alpha * (dt + delta)));
    const double fp = exp(-1.9947 + 0.00013427 * t + (793920.0 + 2326.0 * t) / (rho * rho));
    return ctl / (1.0 - 1e-5 * fp * (p_kpag / 6.894757));
}

static double record(const peer_meter *m, double f, double t, double p, double rho60)
{
    const double nu = peer_viscosity(t);
    const double rotor = CASE_BORE_M * (1.0 + CASE_ALPHA_PER_K * (t - CASE_T0_DEGC));
    const double d = rotor * (1.0 + m->strain_per_kpa * p);
    const double st = gsl_spline_eval(m->spline, log10(f * d * d / (nu * 1e-6)), m->place);
    const double k = 4.0 * st / (M_PI * d * d * rotor);
    return f / k * ctpl(m, rho60, t, p);
}

void peer_records(const peer_meter *m, const case_columns *in, size_t n, double *q_base_m3s)
{
    for (size_t i = 0; i < n; i++) {
        q_base_m3s[i] = record(m, in->f_hz[i], in->t_degc[i], in->p_kpag[i], in->rho60_kgm3[i]);
    }
}
