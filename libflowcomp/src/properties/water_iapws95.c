/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/water_iapws95.h"
#include "bracketed_newton.h"
#include "double_double.h"
#include "fpmath.h"
#include "method.h"

#define GAS_CONSTANT 0.46151805 /* kJ/(kg K) */
#define RHO_CRITICAL 322.0      /* kg/m3 */
#define T_CRITICAL 647.096      /* K */
#define P_CRITICAL 22.064       /* MPa */
#define RHO_HIGH 1250.0         /* kg/m3: above every pressure of the inverse */

typedef struct power_term {
    double c, d, t; /* whole numbers, but t, which is a multiple of 1/8 from -1/2 to 50 */
    flc_dd n;
} power_term;

typedef struct gaussian_term {
    double d, t, n, alpha, beta, gamma, epsilon;
} gaussian_term;

typedef struct nonanalytic_term {
    double a, b, B, n, C, D, A, beta;
} nonanalytic_term;

#include "tables/water_iapws95_table.inc"

/* What the pressure needs of phi: delta phi_delta and delta^2 phi_delta_delta. */
typedef struct derivatives {
    double first, second;
} derivatives;

/* In the liquid the terms with the same exponential cancel 2000-fold, so their sums are carried with 106 bits, with the
 * coefficients as printed and powers by multiplication and square roots. */
#define DELTA_POWERS 16
#define TAU_POWERS 52
#define C_POWERS 7

typedef struct powers {
    flc_dd delta[DELTA_POWERS]; /* from 0 */
    flc_dd tau[TAU_POWERS];     /* from -1 */
    flc_dd eighth[8];           /* tau^(1/8) to the power 0 to 7 */
} powers;

static flc_dd root_of(flc_dd square)
{
    const double root = flc_sqrt(square.hi);
    const flc_dd rest = flc_dd_add(square, flc_dd_negative(flc_dd_product(root, root)));
    return flc_dd_sum_ordered(root, rest.hi / (2.0 * root));
}

static void powers_of(double delta, double tau, powers *p)
{
    const flc_dd one = flc_dd_of(1.0), eighth = root_of(root_of(root_of(flc_dd_of(tau))));
    p->delta[0] = one;
    for (int k = 1; k < DELTA_POWERS; k++) {
        p->delta[k] = flc_dd_multiply(p->delta[k - 1], flc_dd_of(delta));
    }
    p->tau[0] = flc_dd_divide(one, flc_dd_of(tau));
    p->tau[1] = one;
    for (int k = 2; k < TAU_POWERS; k++) {
        p->tau[k] = flc_dd_multiply(p->tau[k - 1], flc_dd_of(tau));
    }
    p->eighth[0] = one;
    for (int k = 1; k < 8; k++) {
        p->eighth[k] = flc_dd_multiply(p->eighth[k - 1], eighth);
    }
}

/* n delta^d tau^t */
static flc_dd power_product(const power_term *k, const powers *p)
{
    const int eighths = 8 + (int)(8.0 * k->t);
    flc_dd product = flc_dd_multiply(k->n, flc_dd_multiply(p->delta[(int)k->d], p->tau[eighths / 8]));
    return eighths % 8 == 0 ? product : flc_dd_multiply(product, p->eighth[eighths % 8]);
}

/* Terms n delta^d tau^t exp(-delta^c) of one c: s0, s1, s2 are the sums of n delta^d tau^t times 1, d, d (d - 1). */
typedef struct power_sums {
    flc_dd s0, s1;
    double s2;
} power_sums;

static void add_powers(double delta, double tau, derivatives *sum)
{
    powers p;
    powers_of(delta, tau, &p);
    power_sums of_c[C_POWERS] = {{{0.0, 0.0}, {0.0, 0.0}, 0.0}};
    for (size_t i = 0; i < FLC_COUNT_OF(power_terms); i++) {
        const power_term *k = &power_terms[i];
        power_sums *s = &of_c[(int)k->c];
        const flc_dd product = power_product(k, &p);
        s->s0 = flc_dd_add(s->s0, product);
        s->s1 = flc_dd_add(s->s1, flc_dd_multiply(flc_dd_of(k->d), product));
        s->s2 += k->d * (k->d - 1.0) * product.hi;
    }
    for (int c = C_POWERS - 1; c >= 0; c--) {
        const power_sums *s = &of_c[c];
        const double delta_c = p.delta[c].hi, u = c * delta_c;
        const double decay = c == 0 ? 1.0 : flc_exp(-delta_c);
        sum->first += decay * flc_dd_add(s->s1, flc_dd_multiply(flc_dd_of(-u), s->s0)).hi;
        sum->second += decay * (s->s2 - 2.0 * u * s->s1.hi + u * (u + 1.0 - c) * s->s0.hi);
    }
}

static void add_gaussians(double delta, double tau, derivatives *sum)
{
    for (size_t i = 0; i < FLC_COUNT_OF(gaussian_terms); i++) {
        const gaussian_term *k = &gaussian_terms[i];
        const double from_epsilon = delta - k->epsilon, from_gamma = tau - k->gamma;
        const double phi = k->n * flc_pow(delta, k->d) * flc_pow(tau, k->t) *
                           flc_exp(-k->alpha * from_epsilon * from_epsilon - k->beta * from_gamma * from_gamma);
        const double l = k->d - 2.0 * k->alpha * delta * from_epsilon;
        sum->first += phi * l;
        sum->second += phi * (l * l - k->d - 2.0 * k->alpha * delta * delta);
    }
}

/* phi = n Delta^b delta psi, Delta = theta^2 + B x^a, theta = 1 - tau + A x^(1 / (2 beta)), psi = exp(-C x - D (tau -
 * 1)^2), x = (delta - 1)^2. l and l_rise are the first and second derivative of ln(phi / delta). Delta is zero at the
 * critical point only, where the term and its first derivative are zero. */
static void add_nonanalytic(double delta, double tau, derivatives *sum)
{
    const double e = delta - 1.0, x = e * e;
    for (size_t i = 0; i < FLC_COUNT_OF(nonanalytic_terms); i++) {
        const nonanalytic_term *k = &nonanalytic_terms[i];
        const double q = 0.5 / k->beta - 1.0;
        const double ax = k->A * flc_pow(x, q), bx = k->B * flc_pow(x, k->a - 1.0);
        const double theta = (1.0 - tau) + ax * x;
        const double big = theta * theta + bx * x; /* Delta */
        if (big <= 0.0) {
            continue;
        }
        const double by_e = 2.0 * theta * ax / k->beta + 2.0 * k->a * bx; /* d Delta / d delta = e by_e */
        const double big_curve = by_e + 2.0 * ax * ax * x / (k->beta * k->beta) + 4.0 * q * theta * ax / k->beta +
                                 4.0 * k->a * (k->a - 1.0) * bx;
        const double l = e * (k->b * by_e / big - 2.0 * k->C);
        const double l_rise = k->b * (big_curve / big - x * by_e * by_e / (big * big)) - 2.0 * k->C;
        const double phi = k->n * flc_pow(big, k->b) * delta * flc_exp(-k->C * x - k->D * (tau - 1.0) * (tau - 1.0));
        sum->first += phi * (1.0 + delta * l);
        sum->second += phi * delta * (2.0 * l + delta * (l * l + l_rise));
    }
}

static derivatives derivatives_at(double delta, double tau)
{
    derivatives sum = {0.0, 0.0};
    add_powers(delta, tau, &sum);
    add_gaussians(delta, tau, &sum);
    add_nonanalytic(delta, tau, &sum);
    return sum;
}

/* Pressure in MPa, and its slope over density. */
static double pressure(double t_k, double rho, double *slope)
{
    const derivatives phi = derivatives_at(rho / RHO_CRITICAL, T_CRITICAL / t_k);
    const double rt = 1e-3 * (GAS_CONSTANT * t_k); /* MPa m3/kg */
    *slope = rt * (1.0 + 2.0 * phi.first + phi.second);
    return rho * (rt * (1.0 + phi.first));
}

/* --- saturation --------------------------------------------------------------------------------------------------- */

static double saturation_pressure(double t_k)
{
    const double th = (T_CRITICAL - t_k) / T_CRITICAL;
    const double root = flc_sqrt(th), th3 = th * th * th;
    const double sum = th * (-7.85951783 + root * 1.84408259) +
                       th3 * (-11.7866497 + root * 22.6807411 + th * -15.9618719 + th * th3 * (root * 1.80122502));
    return P_CRITICAL * flc_exp(T_CRITICAL / t_k * sum);
}

/* Density of the liquid at saturation (SR1-86, equation 2), within 0.02 %: where the inverse begins. */
static double saturated_liquid_density(double t_k)
{
    const double root = flc_cbrt((T_CRITICAL - t_k) / T_CRITICAL);
    const double sum = root * (1.99274064 + root * 1.09965342) - 0.510839303 * flc_pow(root, 5.0) -
                       1.75493479 * flc_pow(root, 16.0) - 45.5170352 * flc_pow(root, 43.0) -
                       6.74694450e5 * flc_pow(root, 110.0);
    return RHO_CRITICAL * (1.0 + sum);
}

/* --- the inverse -------------------------------------------------------------------------------------------------- */

typedef struct state {
    double t_k, p_mpa;
} state;

/* p(rho) - p: rises, and bends upwards, from the density of the liquid at saturation on. */
static double pressure_excess(const void *problem, double rho, double *slope)
{
    const state *s = problem;
    return pressure(s->t_k, rho, slope) - s->p_mpa;
}

/* --- the methods -------------------------------------------------------------------------------------------------- */

static flc_status p_water_iapws95(double t_k, double rho_kgm3, double *result)
{
    double slope;
    *result = pressure(t_k, rho_kgm3, &slope);
    return FLC_OK;
}

static flc_status p_saturation_water_sr1_86(double t_k, double *result)
{
    *result = saturation_pressure(t_k);
    return FLC_OK;
}

static flc_status rho_water_iapws95(double t_k, double p_mpa, double *result)
{
    const state at = {t_k, p_mpa};
    if (p_mpa < saturation_pressure(t_k)) {
        return FLC_E_BELOW;
    }
    const double saturated = saturated_liquid_density(t_k);
    *result = flc_bracketed_newton(pressure_excess, &at, 0.998 * saturated, RHO_HIGH, saturated);
    return FLC_OK;
}

#include "methods/water_iapws95.inc"
